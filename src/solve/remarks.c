/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solve/remarks.h"

#include "part/thermal.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NOTE_MAX = 300 };

/* Adds a note once. */
static void note(struct hr_writer *to, const char *format, ...) HR_PRINTF(2, 3);
static void note(struct hr_writer *to, const char *format, ...)
{
    char text[NOTE_MAX];
    va_list arguments;
    va_start(arguments, format);
    const int length = vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    struct hr_result *result = to->result;
    for (size_t i = 0; i < result->notes; i++) {
        if (strcmp(result->note[i], text) == 0) {
            return;
        }
    }
    if (result->notes == to->notes_room) {
        const size_t room = to->notes_room == 0 ? 8 : 2 * to->notes_room;
        const char **larger = hr_arena_alloc(to->arena, room, sizeof *larger);
        if (larger == NULL) {
            to->complete = false;
            return;
        }
        if (result->notes > 0) {
            memcpy(larger, result->note, result->notes * sizeof *larger);
        }
        result->note = larger;
        to->notes_room = room;
    }
    const char *copy = length < 0 ? NULL : hr_arena_copy(to->arena, text, strlen(text));
    to->complete = to->complete && copy != NULL;
    if (copy != NULL) {
        result->note[result->notes++] = copy;
    }
}

/* Builders' units in sentences. */
static double shown(double value, const char **unit)
{
    static const struct {
        const char *si, *builders;
        double factor;
    } units[] = {{"m3/s", "L/min", 6e4}, {"Pa", "kPa", 1e-3}, {"m", "mm", 1e3}};
    for (size_t i = 0; i < HR_ARRAY_LEN(units); i++) {
        if (strcmp(*unit, units[i].si) == 0) {
            *unit = units[i].builders;
            return value * units[i].factor;
        }
    }
    return value;
}

static double in_l_min(double flow)
{
    return flow * 6e4;
}

bool hr_remark_facts(struct hr_writer *to, uint32_t branch, const struct hr_part_facts *facts)
{
    const struct hr_assembled_branch *info = &to->rig->assembly->branch[branch];
    bool left = false;
    for (size_t i = 0; i < facts->range_count; i++) {
        const struct hr_range *range = &facts->range[i];
        const double value = fabs(range->value);
        const bool below = value < range->low;
        if (!below && !(value > range->high)) {
            continue;
        }
        left = true;
        const char *unit = range->unit;
        const double bound = shown(below ? range->low : range->high, &unit);
        unit = range->unit;
        const double at = shown(value, &unit);
        hr_warn(
            to->remarks, "out-of-range", &info->at,
            "'%s': %s %.4g%s%s is %s the %.4g%s%s that its model holds for; the result is extrapolated there",
            info->name, range->what, at, *unit ? " " : "", unit, below ? "below" : "above", bound,
            *unit ? " " : "", unit);
    }
    if (facts->note != NULL) {
        note(to, "%s", facts->note);
    }
    return left;
}

bool hr_remark_chip(struct hr_writer *to, uint32_t branch)
{
    const struct hr_assembled_branch *info = &to->rig->assembly->branch[branch];
    const struct hr_params *params = hr_assembly_params(to->rig->assembly, branch);
    const double flow = hr_flow_solution(to->rig->flow).branch_flow[branch];
    bool outside = false;
    if (params == NULL || info->port != NULL || isnan(hr_chip_resistance(params, flow, &outside)) ||
        !outside) {
        return false;
    }
    const struct hr_value *rows = hr_param(params, "resistance");
    hr_warn(to->remarks, "out-of-range", &rows->at,
            "'%s': %.4g L/min lie outside the %.4g to %.4g L/min that its resistance is known for; the "
            "nearest row is "
            "taken",
            info->name, in_l_min(fabs(flow)), in_l_min(rows->rows[0]),
            in_l_min(rows->rows[2 * rows->row_count - 2]));
    return true;
}

static const char *reason_of(struct hr_writer *to)
{
    const struct hr_flow_quality quality = hr_flow_solution(to->rig->flow).quality;
    const struct hr_assembly *assembly = to->rig->assembly;
    const char *branch =
        quality.branch < assembly->network.branch_count ? assembly->branch[quality.branch].name : "";
    const char *node = quality.node < assembly->network.node_count ? assembly->node[quality.node].name : "";
    switch (to->rig->outcome) {
    case HR_FLOW_SOLVED:
        return NULL;
    case HR_FLOW_NOT_CONVERGED:
        return hr_arena_format(to->arena,
                               "no solution was found in %zu steps; the pressures do not settle at '%s'",
                               quality.iterations, branch);
    case HR_FLOW_NO_OUTLET:
        return hr_arena_format(
            to->arena,
            "what flows in around '%s' has no way out; let an outflow or a given pressure take it up", node);
    case HR_FLOW_AGAINST_VALVE:
        return hr_arena_format(to->arena, "flow is needed through '%s' against its one-way valve", branch);
    case HR_FLOW_TWO_GIVEN:
        return hr_arena_format(
            to->arena,
            "'%s' gives a flow, but stands in series with a pump of another given flow or with "
            "something closed",
            branch);
    }
    return NULL;
}

/* Parts that work in one direction only: machines, and blocks with a chip. */
static bool is_directed(const struct hr_part_kind *kind)
{
    return kind != NULL && (kind->machine != NULL || hr_part_kind_key(kind, "heat") != NULL);
}

static void remark_direction(struct hr_writer *to, uint32_t b)
{
    const struct hr_assembled_branch *info = &to->rig->assembly->branch[b];
    const struct hr_branch_result *branch = &to->result->branch[b];
    const void *part;
    const struct hr_part_kind *kind = hr_assembly_kind(to->rig->assembly, b, &part);
    if (!branch->against_arrow || !is_directed(kind)) {
        return;
    }
    if (kind->machine != NULL) {
        hr_warn(to->remarks, "pump-overrun", &info->at,
                "pump '%s' is pushed backwards at %.3g L/min by another pump; turn it round or stop the "
                "stronger one",
                info->name, in_l_min(-branch->flow_m3_s));
    } else {
        hr_warn(to->remarks, "against-arrow", &info->at,
                "%s '%s' is fed against its arrow: %.3g L/min flow from 'out' to 'in'; its pressure drop and "
                "resistance hold for the right way round",
                kind->name, info->name, in_l_min(-branch->flow_m3_s));
    }
}

/* What stands still, and why: of blocks with heat always, of the rest where something else flows. */
static void remark_stillness(struct hr_writer *to, uint32_t b)
{
    const struct hr_assembled_branch *info = &to->rig->assembly->branch[b];
    const struct hr_branch *branch = &to->rig->assembly->network.branch[b];
    const struct hr_branch_result *out = &to->result->branch[b];
    const struct hr_params *params = hr_assembly_params(to->rig->assembly, b);
    const bool heated = params != NULL && hr_param_number(params, "heat", 0.0) > 0.0;
    const bool flows = to->result->loop[out->loop].flow_m3_s > 0.0;
    if (!out->stagnant || info->port != NULL || (!flows && !heated)) {
        return;
    }
    if (branch->role == HR_BRANCH_CLOSED) {
        note(to, "'%s' is closed", info->name);
    } else if (branch->one_way) {
        note(to, "one-way valve '%s' is shut", info->name);
    } else {
        hr_warn(to->remarks, heated ? "heat-without-flow" : "stagnant", &info->at,
                "nothing flows through %s '%s'%s; it is a dead end, no pump drives it, or the pressures on "
                "both sides are "
                "equal",
                out->kind, info->name, heated ? ", and its chip would boil the coolant in it" : "");
    }
}

static void remark_pumps(struct hr_writer *to)
{
    for (size_t i = 0; i < to->result->pumps; i++) {
        const struct hr_pump_result *pump = &to->result->pump[i];
        const uint32_t b = hr_rig_pump(to->rig, pump->name);
        const struct hr_origin *at = b == UINT32_MAX ? NULL : &to->rig->assembly->branch[b].at;
        if (pump->npsh_m <= 0.0) {
            hr_warn(
                to->remarks, "boiling", at,
                "the coolant boils at the inlet of pump '%s': its pressure there is %.3g m below the vapour "
                "pressure; raise the reservoir or lessen the losses before the pump",
                pump->name, -pump->npsh_m);
        } else if (pump->npsh_m < 1.0) {
            hr_warn(to->remarks, "low-npsh", at,
                    "only %.3g m of head keep the coolant from boiling at the inlet of pump '%s'; pumps want "
                    "1 m and "
                    "more (see the maker's NPSH)",
                    pump->npsh_m, pump->name);
        }
    }
}

static void remark_points(struct hr_writer *to)
{
    if (to->result->points > 1) {
        hr_warn(to->remarks, "several-operating-points",
                &to->rig->assembly->branch[to->rig->point[0].branch].at,
                "the curve of pump '%s' rises with the flow, so that it meets the loop at %zu flows; the one "
                "where a start from rest ends, is shown; choose a speed or a pump that keeps clear of the "
                "rising part",
                to->result->point[0].part, to->result->points);
    }
}

static void remark_fluids(struct hr_writer *to)
{
    for (size_t i = 0; i < to->result->loops; i++) {
        const struct hr_loop *loop = &to->rig->description->loops[i];
        double low;
        double high;
        hr_fluid_range(&loop->fluid, &low, &high);
        if (!to->rig->assembly->fluid_in_range[i]) {
            hr_warn(to->remarks, "fluid-range", &loop->fluid_at,
                    "coolant at %.3g degC is outside the %.3g to %.3g degC that its properties are known "
                    "for; the "
                    "nearest end is taken",
                    isnan(loop->temperature_c) ? to->result->ambient_c : loop->temperature_c, low, high);
        }
        const char *name = to->result->loop[i].name;
        note(to, "coolant%s%s%s: %s%s at %.3g degC%s", name ? " of '" : "", name ? name : "", name ? "'" : "",
             to->result->loop[i].fluid, to->result->loop[i].mass_fraction > 0.0 ? " mixture" : "",
             to->result->loop[i].temperature_c,
             isnan(loop->temperature_c) ? ", the temperature of the room (heat is not computed yet)" : "");
    }
}

static void remark_splits(struct hr_writer *to)
{
    const struct hr_description *description = to->rig->description;
    for (size_t i = 0; i < description->split_count; i++) {
        const struct hr_split *split = &description->splits[i];
        if (split->tee == HR_NONE && split->tee_join == HR_NONE) {
            note(to, "'%s' and '%s' are taken as lossless; 'tee: MODEL' in the route gives them a loss",
                 split->name, split->join);
        }
    }
    if (to->rig->assembly->network.split_count > 0) {
        note(to,
             "losses of tees depend on how the flow splits and were iterated around the solver (%zu rounds)",
             to->result->rounds);
    }
}

static void remark_floating(struct hr_writer *to)
{
    size_t floating = 0;
    const char *first = NULL;
    for (size_t i = 0; i < to->result->nodes; i++) {
        if (to->result->node[i].floating && to->result->node[i].loop != HR_NONE) {
            first = floating++ == 0 ? to->result->node[i].name : first;
        }
    }
    if (floating > 0 && to->rig->outcome == HR_FLOW_SOLVED) {
        note(to, "the pressure at %zu places, such as '%s', is tied to no reference and is left out",
             floating, first);
    }
}

void hr_remark_all(struct hr_writer *to)
{
    const char *reason = reason_of(to);
    to->complete = to->complete && (reason != NULL || to->rig->outcome == HR_FLOW_SOLVED);
    to->result->reason = reason;
    remark_fluids(to);
    remark_splits(to);
    for (uint32_t b = 0; b < to->result->branches; b++) {
        remark_direction(to, b);
        remark_stillness(to, b);
    }
    remark_pumps(to);
    remark_points(to);
    remark_floating(to);
}
