/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pumps: by their curve, of given flow, or of given power in the water. */
#include "part/pump.h"

#include "part/keys.h"
#include "part/kinds.h"

#include <math.h>
static const struct hr_key_group *const groups[] = {&hr_keys_any, &hr_keys_coolant, &hr_keys_pump, NULL};

static const double GRAVITY = 9.80665;

/* Water at 25 degC, with which curves are taken as measured. */
static const double WATER_NU = 0.8927e-6;

/* A pump of constant power would lift without bound at small flow: beyond this pressure its law goes on
 * straight. */
static const double POWER_PRESSURE = 1e7;

/* c: flow factor, drop factor, power, flow of POWER_PRESSURE. dp = -P/q, below that flow its tangent. */
static void power_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double *c = law->c;
    const double q = c[0] * flow;
    if (q >= c[3]) {
        *drop = -c[1] * c[2] / q;
        *slope = c[1] * c[0] * c[2] / (q * q);
    } else {
        *slope = c[2] / (c[3] * c[3]);
        *drop = c[1] * (*slope * (q - c[3]) - c[2] / c[3]);
        *slope *= c[1] * c[0];
    }
}

/* c: flow factor, drop factor, speed ratio, correction of the flow, best flow. H(u) = C_H H_w(w), w = u /
 * C_Q. Beyond the free flow C_H stays what it is there: H_w is zero at that place, so that the product keeps
 * its slope. */
static void viscous_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double *c = law->c;
    const struct hr_machine_curve *curve = law->data;
    const double w = c[0] * flow / (c[2] * c[3]);
    double head;
    double head_slope;
    double correction_slope;
    hr_machine_head(curve, w, &head, &head_slope);
    const double correction = hr_viscosity_head(c[3], fmin(w, curve->free_flow) / c[4], &correction_slope);
    if (w > curve->free_flow) {
        correction_slope = 0;
    }
    *drop = -c[1] * c[2] * c[2] * correction * head;
    *slope = -c[1] * c[0] * c[2] / c[3] * (correction * head_slope + correction_slope / c[4] * head);
}

static double unit_pressure(const struct hr_pump *pump, const struct hr_fluid_state *fluid)
{
    return pump->machine.curve.metres ? fluid->density * GRAVITY : 1;
}

/* The standard's correction at a speed, over that of the water the curve was measured with. */
static double flow_correction(const struct hr_pump *pump, const struct hr_fluid_state *fluid, double ratio)
{
    double head;
    double slope;
    hr_machine_head(&pump->machine.curve, pump->best_flow, &head, &slope);
    const double metres = head * unit_pressure(pump, fluid) / (fluid->density * GRAVITY);
    const double rpm = pump->machine.curve_rpm * ratio;
    const double nu = fluid->viscosity / fluid->density;
    const double fluid_b = hr_viscosity_parameter(nu, metres * ratio * ratio, pump->best_flow * ratio, rpm);
    const double water_b = fluid_b * sqrt(WATER_NU / nu);
    return fmin(hr_viscosity_flow(fluid_b) / hr_viscosity_flow(water_b), 1);
}

static enum hr_status read_viscosity(const struct hr_params *params, struct hr_pump *pump,
                                     struct hr_report *report)
{
    const double free_flow = pump->machine.curve.free_flow;
    const struct hr_value *flag = hr_param(params, "viscosity_correction");
    const struct hr_value *best = hr_param(params, "best_flow");
    pump->viscous = flag != NULL && flag->number != 0;
    pump->best_flow = best == NULL ? 0.5 * free_flow : best->number;
    if (pump->viscous && isnan(pump->machine.curve_rpm)) {
        return hr_fail(
            report, HR_INPUT, "curve-speed", &flag->at,
            "%s: 'viscosity_correction' needs the speed of the curve; add it to 'curve', for instance speed: "
            "4800 rpm",
            params->owner);
    }
    if (best != NULL && !(best->number >= 0.45 * free_flow && best->number < free_flow)) {
        return hr_fail(report, HR_INPUT, "best-flow", &best->at,
                       "%s: a 'best_flow' of %g L/min does not suit a free flow of %g L/min; it lies between "
                       "45 %% and 100 "
                       "%% of that",
                       params->owner, best->number * 6e4, free_flow * 6e4);
    }
    return HR_OK;
}

enum hr_status hr_pump_make(const struct hr_params *params, struct hr_arena *arena, struct hr_pump *pump,
                            struct hr_report *report)
{
    const struct hr_value *flow = hr_param(params, "flow");
    const struct hr_value *power = hr_param(params, "hydraulic_power");
    hr_part_numbers(params, &pump->numbers[0], &pump->numbers[1]);
    pump->volume = hr_part_volume(params, 0);
    if (hr_param(params, "curve") != NULL) {
        pump->form = HR_PUMP_CURVE;
        const enum hr_status status = hr_machine_make(params, HR_LOSS_COOLANT, arena, &pump->machine, report);
        return status == HR_OK ? read_viscosity(params, pump, report) : status;
    }
    if (flow == NULL && power == NULL) {
        return hr_fail(report, HR_INPUT, "no-curve", &params->at,
                       "%s has no curve; give 'curve' with 'points' or with 'shut_off' and 'free_flow', or "
                       "'flow' for an "
                       "ideal pump",
                       params->owner);
    }
    const struct hr_value *speed = hr_param(params, "speed");
    if (speed != NULL) {
        return hr_fail(
            report, HR_INPUT, "speed-without-curve", &speed->at,
            "%s: 'speed' has no meaning for a pump of given %s; give its 'curve', or leave the speed out",
            params->owner, flow != NULL ? "flow" : "power");
    }
    pump->form = flow != NULL ? HR_PUMP_FLOW : HR_PUMP_POWER;
    pump->given = flow != NULL ? flow->number : power->number;
    pump->machine.power = hr_param_number(params, "power", NAN);
    pump->machine.power_to_coolant = hr_param_number(params, "power_to_coolant", 1);
    return HR_OK;
}

void hr_pump_bind(const struct hr_pump *pump, const struct hr_setting *setting, struct hr_part_branch *branch)
{
    const double ratio = hr_machine_ratio(&pump->machine, setting);
    const double unit = unit_pressure(pump, setting->fluid);
    struct hr_law law;
    if (pump->form == HR_PUMP_FLOW) {
        branch->fixed_flow = true;
        branch->flow = pump->given * pump->numbers[1];
        return;
    }
    if (pump->form == HR_PUMP_POWER) {
        law = (struct hr_law){.evaluate = power_law, .c = {1, 1, pump->given, pump->given / POWER_PRESSURE}};
    } else if (pump->viscous && ratio > 0) {
        law = (struct hr_law){
            .evaluate = viscous_law,
            .data = &pump->machine.curve,
            .c = {1, unit, ratio, flow_correction(pump, setting->fluid, ratio), pump->best_flow}};
    } else {
        hr_machine_bind(&pump->machine, setting->fluid, ratio, unit, pump->numbers, branch);
        return;
    }
    branch->law[branch->law_count++] = hr_law_rescale(&law, 1 / pump->numbers[1], pump->numbers[0]);
}

void hr_pump_facts(const struct hr_pump *pump, const struct hr_setting *setting, double flow,
                   struct hr_part_facts *facts)
{
    if (pump->form != HR_PUMP_CURVE) {
        return;
    }
    const struct hr_machine *machine = &pump->machine;
    const double ratio = hr_machine_ratio(machine, setting);
    const double own = flow / pump->numbers[1];
    if (ratio > 0) {
        hr_facts_range(facts, "flow", machine->curve.range_low * ratio, machine->curve.range_high * ratio,
                       own, "m3/s");
        hr_facts_range(facts, "speed", machine->speed_min_rpm, machine->speed_max_rpm,
                       ratio * machine->curve_rpm, "rpm");
    }
    if (pump->viscous) {
        facts->note =
            "pump curves are corrected for viscosity after ANSI/HI 9.6.7, which was made for larger pumps";
    } else if (setting->fluid->viscosity / setting->fluid->density > 1.5 * WATER_NU) {
        facts->note =
            "pump curves hold for water; a thicker coolant lowers them a little (viscosity_correction: true)";
    }
}

void hr_pump_machine(const struct hr_pump *pump, const struct hr_setting *setting,
                     struct hr_machine_facts *facts)
{
    const double ratio = hr_machine_ratio(&pump->machine, setting);
    const double all = pump->numbers[0] * pump->numbers[1];
    if (pump->form == HR_PUMP_CURVE) {
        hr_machine_facts(&pump->machine, ratio, unit_pressure(pump, setting->fluid), facts);
    } else {
        *facts = (struct hr_machine_facts){.speed_rpm = NAN,
                                           .speed_max_rpm = NAN,
                                           .speed_min_rpm = NAN,
                                           .shut_off_pa = NAN,
                                           .free_flow_m3_s = NAN,
                                           .power_w = pump->machine.power,
                                           .power_to_coolant_w =
                                               pump->machine.power * pump->machine.power_to_coolant};
    }
    facts->shut_off_pa *= pump->numbers[0];
    facts->free_flow_m3_s *= pump->numbers[1];
    facts->rise_low_m3_s *= pump->numbers[1];
    facts->rise_high_m3_s *= pump->numbers[1];
    facts->power_w *= all;
    facts->power_to_coolant_w *= all;
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    struct hr_pump *pump = hr_arena_alloc(arena, 1, sizeof *pump);
    if (pump == NULL) {
        return hr_fail_memory(report);
    }
    *part = pump;
    return hr_pump_make(params, arena, pump, report);
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    *branch = (struct hr_part_branch){0};
    hr_pump_bind(part, setting, branch);
}

static void facts_of(const void *part, const struct hr_setting *setting, double flow,
                     struct hr_part_facts *facts)
{
    hr_facts_clear(facts);
    hr_pump_facts(part, setting, flow, facts);
}

static void machine_of(const void *part, const struct hr_setting *setting, double flow,
                       struct hr_machine_facts *facts)
{
    (void)flow;
    hr_pump_machine(part, setting, facts);
}

static double volume_of(const void *part)
{
    return ((const struct hr_pump *)part)->volume;
}

const struct hr_part_kind hr_kind_pump = {
    .name = "pump",
    .summary = "a pump, by its curve; or an ideal one by its flow or power",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .facts = facts_of,
    .machine = machine_of,
    .volume = volume_of,
};
