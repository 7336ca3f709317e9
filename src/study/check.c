/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The loop file itself: what a careful builder would look for before cutting tube. Findings of the solution
 * (direction, dead ends, boiling, ranges) are its warnings already; the limits of parts are added here. */
#include "study/study.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static double in_l_min(double flow)
{
    return flow * 6e4;
}

/* A finding at a branch's place. */
static void check_flow(const struct hr_branch_result *branch, const struct hr_value *least,
                       const struct hr_value *most, struct hr_report *found)
{
    const double flow = fabs(branch->flow_m3_s);
    if (least != NULL && flow < least->number) {
        hr_warn(found, "flow-below-limit", &least->at,
                "'%s' gets %.3g L/min; its limit asks for at least %.3g L/min: raise the pump speed or "
                "lessen the "
                "restrictions of its branch",
                branch->name, in_l_min(flow), in_l_min(least->number));
    }
    if (most != NULL && flow > most->number) {
        hr_warn(
            found, "flow-above-limit", &most->at,
            "'%s' gets %.3g L/min; its limit allows %.3g L/min: lower the pump speed or lead some past it",
            branch->name, in_l_min(flow), in_l_min(most->number));
    }
}

static void check_pressure(const struct hr_rig *rig, const struct hr_result *result, uint32_t b,
                           const struct hr_value *most, struct hr_report *found)
{
    const struct hr_branch *branch = &rig->assembly->network.branch[b];
    const double at[2] = {result->node[branch->from].pressure_pa, result->node[branch->to].pressure_pa};
    const double highest = fmax(at[0], at[1]);
    if (most != NULL && highest > most->number) {
        hr_warn(found, "pressure-above-limit", &most->at,
                "'%s' stands under %.3g kPa; its limit is %.3g kPa: lower the pump speed, or put it nearer "
                "to the pump's "
                "inlet; the maker's limit holds for a stopped flow too",
                result->branch[b].name, 1e-3 * highest, 1e-3 * most->number);
    }
}

/* The limits of one branch, from its model or from the file. */
static void check_limits(const struct hr_rig *rig, const struct hr_result *result, uint32_t b,
                         const struct hr_params *limits, struct hr_report *found)
{
    if (result->branch[b].port == NULL) {
        check_flow(&result->branch[b], hr_param(limits, "flow_min"), hr_param(limits, "flow_max"), found);
    }
    check_pressure(rig, result, b, hr_param(limits, "pressure"), found);
}

static void check_branch(const struct hr_rig *rig, const struct hr_result *result, uint32_t b,
                         struct hr_report *found)
{
    const struct hr_params *params = hr_assembly_params(rig->assembly, b);
    const struct hr_value *own = params == NULL ? NULL : hr_param(params, "limits");
    const struct hr_limits *file = &rig->description->limits;
    if (own != NULL && own->map != NULL) {
        check_limits(rig, result, b, own->map, found);
    }
    for (size_t i = 0; i < file->part_count; i++) {
        if (file->parts[i].part == rig->assembly->branch[b].part) {
            check_limits(rig, result, b, file->parts[i].params, found);
        }
    }
}

/* Flows outside what loops of this size have (common practice, no source): more often a unit mistaken than a
 * design. */
static void check_magnitudes(const struct hr_result *result, struct hr_report *found)
{
    for (size_t i = 0; i < result->pumps; i++) {
        const struct hr_pump_result *pump = &result->pump[i];
        if (!pump->stopped && pump->head_pa > 8.0 * 9806.65) {
            hr_warn(
                found, "unusual-head", NULL,
                "pump '%s' lifts %.3g m; pumps of this trade lift up to 8 m: is the unit of its curve right?",
                pump->name, pump->head_pa / 9806.65);
        }
    }
}

/* Joins the findings to the result's warnings. */
static enum hr_status append(struct hr_result *result, const struct hr_report *found,
                             struct hr_report *report)
{
    if (found->status != HR_OK) {
        return hr_fail_memory(report);
    }
    if (found->warnings == 0) {
        return HR_OK;
    }
    const size_t count = result->warnings + found->warnings;
    struct hr_arena *arena = result->memory;
    struct hr_message *all = hr_arena_alloc(arena, count, sizeof *all);
    if (all == NULL) {
        return hr_fail_memory(report);
    }
    memcpy(all, found->warning, found->warnings * sizeof *all);
    if (result->warnings > 0) {
        memcpy(all + found->warnings, result->warning, result->warnings * sizeof *all);
    }
    result->warning = all;
    result->warnings = count;
    return HR_OK;
}

enum hr_status hr_check(struct hr_source *source, const struct hr_variant *variant, struct hr_result **result,
                        struct hr_report *report)
{
    struct hr_rig *rig;
    *result = NULL;
    enum hr_status status = hr_rig_open(source, variant, &rig, report);
    if (status != HR_OK) {
        return status;
    }
    status = hr_rig_run(rig, result, report);
    if (status == HR_OK) {
        struct hr_report found;
        hr_report_init(&found);
        for (uint32_t b = 0; b < (*result)->branches; b++) {
            check_branch(rig, *result, b, &found);
        }
        check_magnitudes(*result, &found);
        status = append(*result, &found, report);
        hr_report_clear(&found);
        if (status != HR_OK) {
            hr_result_free(*result);
            *result = NULL;
        }
    }
    hr_rig_free(rig);
    return status;
}
