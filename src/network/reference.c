/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is given at nodes: inflows and pressures of feeds, and one reference pressure in each loop. */
#include "network/assemble.h"
#include "network/assemble_parts.h"

#include <math.h>
#include <string.h>

#define NONE UINT32_MAX

static enum hr_status fix(struct hr_assembly *assembly, size_t node, double pressure,
                          const struct hr_origin *at, struct hr_report *report)
{
    struct hr_node *n = &assembly->network.node[node];
    if (n->fixed) {
        return hr_fail(report, HR_INPUT, "pressure-twice", at,
                       "the pressure at '%s' is given twice; give it once, by one feed or one reservoir",
                       assembly->node[node].name);
    }
    n->fixed = true;
    n->pressure = pressure;
    return HR_OK;
}

static enum hr_status give_feed(struct hr_assembly *assembly, const struct hr_feed *feed,
                                struct hr_report *report)
{
    const size_t loop = assembly->node[feed->point].loop;
    const double density = assembly->fluid[loop].density;
    if (!isnan(feed->inflow.value)) {
        assembly->network.node[feed->point].inflow += feed->inflow.value;
    }
    if (!isnan(feed->pressure.value)) {
        return fix(assembly, feed->point, feed->pressure.value, &feed->at, report);
    }
    if (!isnan(feed->head.value)) {
        /* A head counts from height 0, so that it says the potential. */
        const double metres = feed->head.value - assembly->node[feed->point].height_m;
        return fix(assembly, feed->point, density * HR_GRAVITY * metres, &feed->at, report);
    }
    return HR_OK;
}

static bool is_true(const struct hr_params *params, const char *key)
{
    const struct hr_value *value = hr_param(params, key);
    return value != NULL && value->number != 0.0;
}

/* The reservoir that holds a loop's reference: the one marked so, else one that is open to the room, else the
 * first. */
static size_t reference_reservoir(const struct hr_assembly *assembly, size_t loop, struct hr_report *report)
{
    const struct hr_description *description = assembly->description;
    size_t chosen = HR_NONE;
    size_t marked = 0;
    size_t reservoirs = 0;
    for (size_t i = 0; i < description->part_count; i++) {
        const struct hr_part *part = &description->parts[i];
        if (part->loop != loop || strcmp(part->kind->name, "reservoir") != 0) {
            continue;
        }
        reservoirs++;
        const bool mark = is_true(part->params, "reference");
        marked += mark;
        const bool first_open = is_true(part->params, "open") && marked == 0 &&
                                (chosen == HR_NONE || !is_true(description->parts[chosen].params, "open"));
        if (chosen == HR_NONE || (mark && marked == 1) || first_open) {
            chosen = i;
        }
    }
    if (reservoirs > 1 && marked != 1) {
        const struct hr_part *part = &description->parts[chosen];
        hr_warn(report, "several-reservoirs", &part->at,
                "%s of several reservoirs hold the reference pressure; '%s' is taken; mark one with "
                "'reference: true'",
                marked == 0 ? "none" : "more than one", part->name);
    }
    return chosen;
}

static size_t port_of_outlet(const struct hr_part *part)
{
    for (size_t p = 0; part->kind->ports[p] != NULL; p++) {
        if (strcmp(part->kind->ports[p], "out") == 0) {
            return p;
        }
    }
    return 0;
}

static bool has_given_pressure(const struct hr_assembly *assembly, size_t loop)
{
    for (size_t i = 0; i < assembly->network.node_count; i++) {
        if (assembly->network.node[i].fixed && assembly->node[i].loop == loop) {
            return true;
        }
    }
    return false;
}

/* Without a reservoir the inlet of the first pump is taken as 0. */
static enum hr_status refer_to_pump(struct hr_assembly *assembly, size_t loop, struct hr_report *report)
{
    for (uint32_t b = 0; b < assembly->network.branch_count; b++) {
        const void *part;
        const struct hr_part_kind *kind = hr_assembly_kind(assembly, b, &part);
        if (assembly->branch[b].loop == loop && kind != NULL && kind->machine != NULL) {
            const uint32_t node = assembly->network.branch[b].from;
            hr_warn(report, "no-reference", &assembly->branch[b].at,
                    "nothing holds the reference pressure; the inlet of '%s' is taken as 0 kPa; add a "
                    "reservoir or a "
                    "feed with a pressure",
                    assembly->branch[b].name);
            assembly->reference[loop] = node;
            return fix(assembly, node, 0.0, &assembly->branch[b].at, report);
        }
    }
    return HR_OK;
}

static enum hr_status refer(struct hr_assembly *assembly, size_t loop, struct hr_report *report)
{
    assembly->reference[loop] = NONE;
    if (has_given_pressure(assembly, loop)) {
        return HR_OK;
    }
    const size_t reservoir = reference_reservoir(assembly, loop, report);
    if (reservoir == HR_NONE) {
        return refer_to_pump(assembly, loop, report);
    }
    const struct hr_part *part = &assembly->description->parts[reservoir];
    const size_t node = part->point[port_of_outlet(part)];
    assembly->reference[loop] = (uint32_t)node;
    const struct hr_value *pressure = hr_param(part->params, "pressure");
    if (pressure != NULL && pressure->number != 0.0 && is_true(part->params, "open")) {
        return hr_fail(
            report, HR_INPUT, "open-under-pressure", &pressure->at,
            "reservoir '%s' is open to the room, where the pressure is 0 kPa; leave 'pressure' or 'open' out",
            part->name);
    }
    return fix(assembly, node, pressure == NULL ? 0.0 : pressure->number, &part->at, report);
}

enum hr_status hr_assembly_give_pressures(struct hr_assembly *assembly, struct hr_report *report)
{
    for (size_t i = 0; i < assembly->description->feed_count; i++) {
        const enum hr_status status = give_feed(assembly, &assembly->description->feeds[i], report);
        if (status != HR_OK) {
            return status;
        }
    }
    for (size_t i = 0; i < assembly->description->loop_count; i++) {
        const enum hr_status status = refer(assembly, i, report);
        if (status != HR_OK) {
            return status;
        }
    }
    return HR_OK;
}
