/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nodes and branches from the description. What the laws are is in bind.c, where pressures are given in
 * reference.c. */
#include "network/assemble.h"

#include "network/assemble_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX

static size_t port_count(const struct hr_part_kind *kind)
{
    size_t count = 0;
    while (kind->ports[count] != NULL) {
        count++;
    }
    return count;
}

/* A part stands in the network when some port of it is connected; then all of them must be. */
static enum hr_status check_ports(const struct hr_part *part, bool *used, struct hr_report *report)
{
    const size_t ports = port_count(part->kind);
    size_t connected = 0;
    for (size_t p = 0; p < ports; p++) {
        connected += part->point[p] != HR_NONE;
    }
    *used = connected > 0;
    for (size_t p = 0; p < ports && *used; p++) {
        if (part->point[p] == HR_NONE) {
            return hr_fail(report, HR_INPUT, "unconnected-port", &part->at,
                           "port '%s.%s' is not connected; name it in a run or put the part into a route",
                           part->name, part->kind->ports[p]);
        }
    }
    return HR_OK;
}

/* How many branches and extra nodes (common points of parts with more than two ports) the parts need. */
static enum hr_status count_parts(const struct hr_description *description, size_t *branches, size_t *commons,
                                  struct hr_report *report)
{
    enum hr_status status = HR_OK;
    *branches = description->run_count;
    *commons = 0;
    for (size_t i = 0; i < description->part_count; i++) {
        bool used;
        const enum hr_status one = check_ports(&description->parts[i], &used, report);
        status = status == HR_OK ? one : status;
        const size_t ports = port_count(description->parts[i].kind);
        if (used && ports > 2) {
            *branches += ports;
            *commons += 1;
        } else if (used) {
            *branches += 1;
        }
    }
    return status;
}

static void add_branch(struct hr_assembly *assembly, size_t from, size_t to, struct hr_assembled_branch info)
{
    const size_t b = assembly->network.branch_count++;
    assembly->network.branch[b] = (struct hr_branch){.from = (uint32_t)from, .to = (uint32_t)to};
    info.speed_rpm = NAN;
    assembly->branch[b] = info;
}

/* A part with more than two ports: a branch from each port to a common point, and losses that depend on the
 * split. */
static bool add_split(struct hr_assembly *assembly, size_t i)
{
    const struct hr_part *part = &assembly->description->parts[i];
    const size_t common = assembly->network.node_count++;
    assembly->node[common] =
        (struct hr_assembled_node){.name = hr_arena_format(&assembly->names, "%s.common", part->name),
                                   .point = HR_NONE,
                                   .loop = part->loop,
                                   .height_m = assembly->description->points[part->point[0]].height_m};
    struct hr_split_loss *split = NULL;
    if (part->kind->split != NULL) {
        split = &assembly->network.split[assembly->network.split_count++];
        *split = (struct hr_split_loss){
            .kind = part->kind, .part = part->part, .fluid = &assembly->fluid[part->loop]};
    }
    for (size_t p = 0; part->kind->ports[p] != NULL; p++) {
        if (split != NULL) {
            split->leg[split->leg_count++] = (uint32_t)assembly->network.branch_count;
        }
        add_branch(assembly, part->point[p], common,
                   (struct hr_assembled_branch){.name = part->name,
                                                .port = part->kind->ports[p],
                                                .at = part->at,
                                                .part = i,
                                                .run = HR_NONE,
                                                .port_index = p,
                                                .loop = part->loop});
    }
    return assembly->node[common].name != NULL;
}

static bool add_part(struct hr_assembly *assembly, size_t i)
{
    const struct hr_part *part = &assembly->description->parts[i];
    if (port_count(part->kind) > 2) {
        return add_split(assembly, i);
    }
    add_branch(assembly, part->point[0], part->point[1],
               (struct hr_assembled_branch){
                   .name = part->name, .at = part->at, .part = i, .run = HR_NONE, .loop = part->loop});
    return true;
}

static void add_run(struct hr_assembly *assembly, size_t i)
{
    const struct hr_run *run = &assembly->description->runs[i];
    add_branch(assembly, run->from, run->to,
               (struct hr_assembled_branch){
                   .name = run->name, .at = run->at, .part = HR_NONE, .run = i, .loop = run->loop});
}

/* A part, and behind it the runs that leave it, unless they stand already. */
static bool add_with_runs(struct hr_assembly *assembly, size_t i, bool *part_done, bool *run_done)
{
    const struct hr_description *description = assembly->description;
    const struct hr_part *part = &description->parts[i];
    if (part_done[i] || part->kind->ports[0] == NULL || part->point[0] == HR_NONE) {
        return true;
    }
    part_done[i] = true;
    const bool complete = add_part(assembly, i);
    for (size_t r = 0; r < description->run_count; r++) {
        if (!run_done[r] && description->runs[r].from_part == i) {
            run_done[r] = true;
            add_run(assembly, r);
        }
    }
    return complete;
}

/* Branches stand in the order of the routes, each part followed by its runs, since that is how a builder
 * reads a loop; what no route names comes after, in the order of the file. */
static bool add_branches(struct hr_assembly *assembly)
{
    const struct hr_description *description = assembly->description;
    bool *part_done = hr_alloc(description->part_count, sizeof *part_done);
    bool *run_done = hr_alloc(description->run_count, sizeof *run_done);
    bool complete = part_done != NULL && run_done != NULL;
    for (size_t l = 0; l < description->loop_count && complete; l++) {
        for (size_t i = 0; i < description->loops[l].order_count && complete; i++) {
            complete = add_with_runs(assembly, description->loops[l].order[i], part_done, run_done);
        }
    }
    for (size_t i = 0; i < description->part_count && complete; i++) {
        complete = add_with_runs(assembly, i, part_done, run_done);
    }
    for (size_t r = 0; r < description->run_count && complete; r++) {
        if (!run_done[r]) {
            add_run(assembly, r);
        }
    }
    free(part_done);
    free(run_done);
    return complete;
}

static void add_points(struct hr_assembly *assembly)
{
    for (size_t i = 0; i < assembly->description->point_count; i++) {
        const struct hr_point *point = &assembly->description->points[i];
        assembly->node[i] = (struct hr_assembled_node){
            .name = point->name, .point = i, .loop = point->loop, .height_m = point->height_m};
    }
    assembly->network.node_count = assembly->description->point_count;
}

static void list_meetings(struct hr_assembly *assembly)
{
    for (uint32_t b = 0; b < assembly->network.branch_count; b++) {
        const uint32_t ends[2] = {assembly->network.branch[b].from, assembly->network.branch[b].to};
        for (int e = 0; e < 2; e++) {
            const uint32_t seen = assembly->degree[ends[e]]++;
            if (seen < 2) {
                assembly->meets[ends[e]][seen] = b;
            }
        }
    }
}

static bool allocate(struct hr_assembly *assembly, size_t branches, size_t commons)
{
    const size_t nodes = assembly->description->point_count + commons;
    const size_t loops = assembly->description->loop_count;
    assembly->network.branch = hr_alloc(branches, sizeof *assembly->network.branch);
    assembly->network.node = hr_alloc(nodes, sizeof *assembly->network.node);
    assembly->network.split = hr_alloc(commons, sizeof *assembly->network.split);
    assembly->branch = hr_alloc(branches, sizeof *assembly->branch);
    assembly->node = hr_alloc(nodes, sizeof *assembly->node);
    assembly->fluid = hr_alloc(loops, sizeof *assembly->fluid);
    assembly->fluid_in_range = hr_alloc(loops, sizeof *assembly->fluid_in_range);
    assembly->reference = hr_alloc(loops, sizeof *assembly->reference);
    assembly->meets = hr_alloc(nodes, sizeof *assembly->meets);
    assembly->degree = hr_alloc(nodes, sizeof *assembly->degree);
    return assembly->network.branch != NULL && assembly->network.node != NULL &&
           assembly->network.split != NULL && assembly->branch != NULL && assembly->node != NULL &&
           assembly->fluid != NULL && assembly->fluid_in_range != NULL && assembly->reference != NULL &&
           assembly->meets != NULL && assembly->degree != NULL;
}

void hr_assembly_free(struct hr_assembly *assembly)
{
    if (assembly == NULL) {
        return;
    }
    free(assembly->network.branch);
    free(assembly->network.node);
    free(assembly->network.law);
    free(assembly->network.split);
    free(assembly->branch);
    free(assembly->node);
    free(assembly->fluid);
    free(assembly->fluid_in_range);
    free(assembly->reference);
    free(assembly->meets);
    free(assembly->degree);
    hr_arena_clear(&assembly->names);
    free(assembly);
}

void hr_assembly_set_temperature(struct hr_assembly *assembly, size_t loop, double temperature_c)
{
    const struct hr_given pressure = assembly->description->ambient_pa;
    assembly->fluid_in_range[loop] = hr_fluid_at(&assembly->description->loops[loop].fluid, temperature_c,
                                                 pressure.value, &assembly->fluid[loop]);
}

static void set_temperatures(struct hr_assembly *assembly)
{
    for (size_t i = 0; i < assembly->description->loop_count; i++) {
        const double own = assembly->description->loops[i].temperature_c;
        hr_assembly_set_temperature(assembly, i, isnan(own) ? assembly->description->ambient_c.value : own);
    }
}

/* A pump whose speed follows a sensor needs temperatures, which the flow alone does not give. */
static enum hr_status check_speeds(const struct hr_assembly *assembly, struct hr_report *report)
{
    for (uint32_t b = 0; b < assembly->network.branch_count; b++) {
        const void *part;
        const struct hr_part_kind *kind = hr_assembly_kind(assembly, b, &part);
        const bool machine = kind != NULL && kind->machine != NULL;
        const struct hr_value *speed = machine ? hr_param(hr_assembly_params(assembly, b), "speed") : NULL;
        if (speed != NULL && speed->control != NULL) {
            return hr_fail(
                report, HR_INPUT, "not-yet", &speed->at,
                "a speed under control is not yet computed; give '%s' a fixed speed, such as 2400 rpm",
                assembly->branch[b].name);
        }
    }
    return HR_OK;
}

static enum hr_status assemble(struct hr_assembly *assembly, struct hr_report *report)
{
    size_t branches;
    size_t commons;
    enum hr_status status = count_parts(assembly->description, &branches, &commons, report);
    if (status != HR_OK) {
        return status;
    }
    if (!allocate(assembly, branches, commons)) {
        return hr_fail_memory(report);
    }
    set_temperatures(assembly);
    add_points(assembly);
    if (!add_branches(assembly)) {
        return hr_fail_memory(report);
    }
    list_meetings(assembly);
    status = check_speeds(assembly, report);
    if (status != HR_OK) {
        return status;
    }
    status = hr_assembly_make_laws(assembly, report);
    return status == HR_OK ? hr_assembly_give_pressures(assembly, report) : status;
}

enum hr_status hr_assemble(const struct hr_description *description, struct hr_assembly **assembly,
                           struct hr_report *report)
{
    *assembly = NULL;
    struct hr_assembly *made = hr_alloc(1, sizeof *made);
    if (made == NULL) {
        return hr_fail_memory(report);
    }
    made->description = description;
    const enum hr_status status = assemble(made, report);
    if (status != HR_OK) {
        hr_assembly_free(made);
        return status;
    }
    *assembly = made;
    return HR_OK;
}
