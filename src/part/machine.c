/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/machine.h"

#include <math.h>

/* Power of small pumps and fans grows a little less than with the cube of the speed (common practice, no
 * source). */
static const double POWER_EXPONENT = 2.8;

void hr_machine_head(const struct hr_machine_curve *curve, double flow, double *head, double *slope)
{
    const struct hr_curve *points = curve->points;
    if (points == NULL) {
        const double x = flow / curve->free_flow;
        const double rest = 1 - curve->share;
        *head = curve->shut_off * (1 - curve->share * x - rest * x * fabs(x));
        *slope = -curve->shut_off / curve->free_flow * (curve->share + 2 * rest * fabs(x));
        return;
    }
    const size_t last = points->count - 1;
    if (flow >= 0 && flow <= points->x[last]) {
        hr_curve_at(points, flow, head, slope);
        return;
    }
    const size_t end = flow < 0 ? 0 : last;
    const double further = flow - points->x[end];
    *head = points->y[end] + further * (points->slope[end] - curve->square * fabs(further));
    *slope = points->slope[end] - 2 * curve->square * fabs(further);
}

/* c: flow factor, drop factor, speed ratio > 0. */
static void curve_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double ratio = law->c[2];
    double head;
    double head_slope;
    hr_machine_head(law->data, law->c[0] * flow / ratio, &head, &head_slope);
    *drop = -law->c[1] * ratio * ratio * head;
    *slope = -law->c[1] * law->c[0] * ratio * head_slope;
}

void hr_machine_bind(const struct hr_machine *machine, const struct hr_fluid_state *fluid, double ratio,
                     double unit, const double series_parallel[2], struct hr_part_branch *branch)
{
    const struct hr_machine_curve *curve = &machine->curve;
    const double flow = 1 / series_parallel[1];
    const double drop = unit * series_parallel[0];
    struct hr_law law;
    if (ratio == 0 && machine->stopped.form != HR_LOSS_NONE) {
        law = hr_loss_law(&machine->stopped, fluid, 1);
        branch->law[branch->law_count++] = hr_law_rescale(&law, flow, series_parallel[0]);
    } else if (curve->points == NULL || ratio == 0) {
        /* h = h0 s^2 - c h0 s q/q0 - (1-c) h0 q|q|/q0^2: what is left of any curve at s = 0 is its square. */
        const double q0 = curve->free_flow;
        const double square =
            curve->points == NULL ? (1 - curve->share) * curve->shut_off / (q0 * q0) : curve->square;
        const double linear = curve->points == NULL ? curve->share * curve->shut_off * ratio / q0 : 0;
        if (ratio != 0) {
            law = hr_law_offset(-curve->shut_off * ratio * ratio);
            branch->law[branch->law_count++] = hr_law_rescale(&law, flow, drop);
        }
        law = hr_law_quadratic(linear, square, square);
        branch->law[branch->law_count++] = hr_law_rescale(&law, flow, drop);
    } else {
        law = (struct hr_law){.evaluate = curve_law, .data = curve, .c = {1, 1, ratio}};
        branch->law[branch->law_count++] = hr_law_rescale(&law, flow, drop);
    }
}

double hr_machine_ratio(const struct hr_machine *machine, const struct hr_setting *setting)
{
    const bool own = isnan(setting->speed_rpm) || isnan(machine->curve_rpm);
    return own ? machine->own_ratio : setting->speed_rpm / machine->curve_rpm;
}

void hr_machine_facts(const struct hr_machine *machine, double ratio, double unit,
                      struct hr_machine_facts *facts)
{
    *facts = (struct hr_machine_facts){.speed_rpm = ratio * machine->curve_rpm,
                                       .speed_max_rpm = machine->speed_max_rpm,
                                       .speed_min_rpm = machine->speed_min_rpm,
                                       .shut_off_pa = machine->curve.shut_off * unit * ratio * ratio,
                                       .free_flow_m3_s = machine->curve.free_flow * ratio,
                                       .rises = machine->curve.rises && ratio > 0,
                                       .rise_low_m3_s = machine->curve.rise_low * ratio,
                                       .rise_high_m3_s = machine->curve.rise_high * ratio};
    /* A machine at rest is off. */
    const double varying = machine->power - machine->power_idle;
    facts->power_w = ratio == 0 && !isnan(machine->power)
                         ? 0
                         : machine->power_idle + varying * pow(ratio, machine->power_exponent);
    facts->power_to_coolant_w = facts->power_w * machine->power_to_coolant;
}

static enum hr_status read_formula(const struct hr_params *params, const struct hr_value *curve,
                                   struct hr_machine_curve *made, struct hr_report *report)
{
    const struct hr_value *shut_off = hr_param(curve->map, "shut_off");
    const struct hr_value *free_flow = hr_param(curve->map, "free_flow");
    if (shut_off == NULL || free_flow == NULL) {
        return hr_fail(report, HR_INPUT, "curve-form", &curve->at,
                       "%s: 'curve' needs 'points', or both 'shut_off' and 'free_flow'", params->owner);
    }
    made->shut_off = shut_off->number;
    made->free_flow = free_flow->number;
    made->share = hr_param_number(curve->map, "linear_share", 0);
    made->metres = shut_off->meaning == HR_METRES;
    made->range_low = NAN;
    made->range_high = NAN;
    return HR_OK;
}

static enum hr_status read_speed(const struct hr_params *params, const struct hr_value *curve,
                                 struct hr_machine *machine, struct hr_report *report)
{
    const struct hr_value *speed = hr_param(params, "speed");
    const struct hr_value *fixed[] = {hr_param(curve->map, "speed"), hr_param(params, "speed_max")};
    for (size_t i = 0; i < HR_ARRAY_LEN(fixed); i++) {
        if (fixed[i] != NULL && fixed[i]->meaning == HR_PERCENT) {
            return hr_fail(report, HR_INPUT, "speed-percent", &fixed[i]->at,
                           "%s: the %s cannot be a percentage of itself; write it in rpm", params->owner,
                           i == 0 ? "speed of the curve" : "highest speed");
        }
    }
    machine->curve_rpm = hr_param_number(curve->map, "speed", hr_param_number(params, "speed_max", NAN));
    machine->speed_max_rpm = hr_param_number(params, "speed_max", machine->curve_rpm);
    const struct hr_value *least = hr_param(params, "speed_min");
    machine->speed_min_rpm = hr_param_number(params, "speed_min", NAN) *
                             (least != NULL && least->meaning == HR_PERCENT ? machine->speed_max_rpm : 1);
    const double highest = isnan(machine->curve_rpm) ? 1 : machine->speed_max_rpm / machine->curve_rpm;
    machine->own_ratio = highest;
    if (speed != NULL && speed->meaning == HR_PERCENT) {
        machine->own_ratio = speed->number * highest;
    } else if (speed != NULL && isnan(machine->curve_rpm)) {
        return hr_fail(report, HR_INPUT, "curve-speed", &speed->at,
                       "%s: a speed of %g rpm says nothing while the speed of the curve is not known; add it "
                       "to 'curve', "
                       "for instance speed: 4800 rpm, or write the speed in %%",
                       params->owner, speed->number);
    } else if (speed != NULL) {
        machine->own_ratio = speed->number / machine->curve_rpm;
    }
    return HR_OK;
}

enum hr_status hr_machine_make(const struct hr_params *params, enum hr_loss_use use, struct hr_arena *arena,
                               struct hr_machine *machine, struct hr_report *report)
{
    const struct hr_value *curve = hr_param(params, "curve");
    const struct hr_value *points = hr_param(curve->map, "points");
    const struct hr_value *stopped = hr_param(params, "stopped");
    enum hr_status status;
    if (points != NULL) {
        machine->curve.metres = points->column_meaning[1] == HR_METRES;
        status = hr_machine_points(params, points, arena, &machine->curve, report);
    } else {
        status = read_formula(params, curve, &machine->curve, report);
    }
    const enum hr_status speed = read_speed(params, curve, machine, report);
    status = status == HR_OK ? speed : status;
    machine->power = hr_param_number(params, "power", NAN);
    machine->power_idle =
        fmin(hr_param_number(params, "power_idle", 0), isnan(machine->power) ? 0 : machine->power);
    machine->power_exponent = hr_param_number(params, "power_exponent", POWER_EXPONENT);
    machine->power_to_coolant = hr_param_number(params, "power_to_coolant", use == HR_LOSS_AIR ? 0 : 1);
    if (status == HR_OK && stopped != NULL && stopped->map != NULL) {
        struct hr_params map = *stopped->map;
        map.owner = params->owner;
        map.at = stopped->at;
        status = hr_loss_make(&map, use, true, arena, &machine->stopped, report);
    }
    return status;
}
