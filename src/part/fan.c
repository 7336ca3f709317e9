/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fans side by side, running or standing. The pressure goes with the density of the air. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/machine.h"

#include <math.h>
static const struct hr_key_group *const groups[] = {&hr_keys_any, &hr_keys_fan, NULL};

/* Air for which fan curves are stated: ISO 5801. */
static const double STANDARD_DENSITY = 1.2;

struct fan {
    struct hr_machine machine;
    double density; /* of the curve */
    double running;
    double standing;
};

/* The fans side by side as laws of their own: what runs and what stands. */
struct pair {
    struct hr_part_branch running;
    struct hr_part_branch standing;
};

static void sum(const struct hr_part_branch *branch, double flow, double *drop, double *slope)
{
    *drop = 0;
    *slope = 0;
    for (size_t i = 0; i < branch->law_count; i++) {
        double one;
        double one_slope;
        hr_law_evaluate(&branch->law[i], flow, &one, &one_slope);
        *drop += one;
        *slope += one_slope;
    }
}

static void bind_group(const struct fan *fan, const struct hr_fluid_state *air, double ratio, double count,
                       struct hr_part_branch *branch)
{
    const double numbers[2] = {1, count};
    *branch = (struct hr_part_branch){0};
    hr_machine_bind(&fan->machine, air, ratio, air->density / fan->density, numbers, branch);
}

/* c: flow factor, drop factor, density, viscosity, speed ratio. Air flows back through standing fans: the
 * flow that they take is where both groups have the same drop. Both drops rise with their flows, so that the
 * difference has one zero, which bisection with Newton steps finds; a curve that rises near shut-off may have
 * several, of which one is found. */
static void parallel_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const struct fan *fan = law->data;
    const struct hr_fluid_state air = {.density = law->c[2], .viscosity = law->c[3]};
    const double total = law->c[0] * flow;
    struct pair pair;
    bind_group(fan, &air, law->c[4], fan->running, &pair.running);
    bind_group(fan, &air, 0, fan->standing, &pair.standing);
    /* Between these flows through the standing ones the difference changes its sign. */
    const double reach = fabs(total) + fan->running * fan->machine.curve.free_flow * law->c[4];
    double low = -reach;
    double high = reach;
    double standing = 0;
    double run;
    double run_slope;
    double stand;
    double stand_slope;
    for (int i = 0; i < 200; i++) {
        sum(&pair.running, total - standing, &run, &run_slope);
        sum(&pair.standing, standing, &stand, &stand_slope);
        const double difference = stand - run;
        if (difference > 0) {
            high = standing;
        } else {
            low = standing;
        }
        const double both = run_slope + stand_slope;
        double next = both > 0 ? standing - difference / both : low;
        if (!(next > low && next < high)) {
            next = 0.5 * (low + high);
        }
        if (difference == 0 || fabs(next - standing) <= 1e-15 * reach) {
            break;
        }
        standing = next;
    }
    *drop = law->c[1] * run;
    *slope = run_slope + stand_slope != 0
                 ? law->c[0] * law->c[1] * run_slope * stand_slope / (run_slope + stand_slope)
                 : 0;
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    struct fan *fan = hr_arena_alloc(arena, 1, sizeof *fan);
    if (fan == NULL) {
        return hr_fail_memory(report);
    }
    *part = fan;
    const struct hr_value *curve = hr_param(params, "curve");
    if (curve == NULL) {
        return hr_fail(report, HR_INPUT, "no-curve", &params->at,
                       "%s has no curve; give 'curve' with 'points' or with 'shut_off' and 'free_flow'",
                       params->owner);
    }
    const enum hr_status status = hr_machine_make(params, HR_LOSS_AIR, arena, &fan->machine, report);
    const struct hr_value *stopped = hr_param(params, "stopped");
    const double count = hr_param_number(params, "count", 1);
    fan->density = hr_param_number(curve->map, "density", STANDARD_DENSITY);
    fan->standing = stopped != NULL && stopped->map == NULL ? stopped->number : 0;
    fan->running = count - fan->standing;
    if (status == HR_OK && fan->running < 0) {
        return hr_fail(report, HR_INPUT, "stopped-fans", &stopped->at,
                       "%s: %g fans are stopped, but there are only %g; 'stopped' counts some of 'count'",
                       params->owner, fan->standing, count);
    }
    return status;
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct fan *fan = part;
    const double ratio = hr_machine_ratio(&fan->machine, setting);
    const struct hr_fluid_state *air = setting->fluid;
    if (fan->standing == 0 || ratio == 0) {
        bind_group(fan, air, ratio, fan->running + fan->standing, branch);
    } else if (fan->running == 0) {
        bind_group(fan, air, 0, fan->standing, branch);
    } else {
        *branch = (struct hr_part_branch){.law_count = 1};
        branch->law[0] = (struct hr_law){
            .evaluate = parallel_law, .data = fan, .c = {1, 1, air->density, air->viscosity, ratio}};
    }
}

static void facts_of(const void *part, const struct hr_setting *setting, double flow,
                     struct hr_part_facts *facts)
{
    const struct fan *fan = part;
    const struct hr_machine *machine = &fan->machine;
    const double ratio = hr_machine_ratio(machine, setting);
    hr_facts_clear(facts);
    if (ratio > 0 && fan->standing == 0) {
        hr_facts_range(facts, "flow", machine->curve.range_low * ratio, machine->curve.range_high * ratio,
                       flow / fan->running, "m3/s");
    }
    if (ratio > 0) {
        hr_facts_range(facts, "speed", machine->speed_min_rpm, machine->speed_max_rpm,
                       ratio * machine->curve_rpm, "rpm");
    }
}

static void machine_of(const void *part, const struct hr_setting *setting, double flow,
                       struct hr_machine_facts *facts)
{
    const struct fan *fan = part;
    (void)flow;
    hr_machine_facts(&fan->machine, hr_machine_ratio(&fan->machine, setting),
                     setting->fluid->density / fan->density, facts);
    facts->free_flow_m3_s *= fan->running;
    facts->rise_low_m3_s *= fan->running;
    facts->rise_high_m3_s *= fan->running;
    facts->power_w *= fan->running;
    facts->power_to_coolant_w = 0;
}

const struct hr_part_kind hr_kind_fan = {
    .name = "fan",
    .summary = "fans side by side",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .facts = facts_of,
    .machine = machine_of,
};
