/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laws of each branch: those of its part, the fittings of a run, steps of the bore at its ends, and what
 * a tee's legs need so that the solver can move their drop. Quadratic laws of a branch are added up to one.
 */
#include "network/assemble.h"
#include "network/assemble_parts.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { GATHERED_MAX = 64 };
static const double PI = 3.14159265358979323846;

/* The laws of one branch while they are collected. */
struct gathered {
    struct hr_law law[GATHERED_MAX];
    size_t count;
    struct hr_law sum; /* of the quadratic ones */
    bool any_sum;
    bool closed, one_way, fixed_flow;
    double flow;
};

static void gather_law(struct gathered *all, const struct hr_law *law)
{
    if (!hr_law_is_quadratic(law)) {
        assert(all->count < GATHERED_MAX);
        all->law[all->count++] = *law;
        return;
    }
    if (!all->any_sum) {
        all->sum = hr_law_quadratic(0.0, 0.0, 0.0);
        all->any_sum = true;
    }
    for (size_t i = 0; i < 3; i++) {
        all->sum.c[i] += law->c[i];
    }
}

/* `times` equal ones in series. */
static void gather_part(struct gathered *all, const struct hr_part_branch *branch, double times)
{
    for (size_t i = 0; i < branch->law_count; i++) {
        const struct hr_law law = times == 1.0 ? branch->law[i] : hr_law_rescale(&branch->law[i], 1.0, times);
        gather_law(all, &law);
    }
    all->closed = all->closed || branch->closed;
    all->one_way = all->one_way || branch->one_way;
    if (branch->fixed_flow) {
        all->fixed_flow = true;
        all->flow = branch->flow;
    }
}

const struct hr_part_kind *hr_assembly_kind(const struct hr_assembly *assembly, uint32_t branch,
                                            const void **part)
{
    const struct hr_assembled_branch *info = &assembly->branch[branch];
    if (info->part != HR_NONE) {
        *part = assembly->description->parts[info->part].part;
        return assembly->description->parts[info->part].kind;
    }
    const struct hr_run *run = &assembly->description->runs[info->run];
    *part = run->part;
    return run->lossless ? NULL : run->kind;
}

const struct hr_params *hr_assembly_params(const struct hr_assembly *assembly, uint32_t branch)
{
    const struct hr_assembled_branch *info = &assembly->branch[branch];
    if (info->part != HR_NONE) {
        return assembly->description->parts[info->part].params;
    }
    const struct hr_run *run = &assembly->description->runs[info->run];
    return run->lossless ? NULL : run->params;
}

struct hr_setting hr_assembly_setting(const struct hr_assembly *assembly, uint32_t branch)
{
    const struct hr_assembled_branch *info = &assembly->branch[branch];
    return (struct hr_setting){.fluid = &assembly->fluid[info->loop], .speed_rpm = info->speed_rpm};
}

static void gather_fittings(const struct hr_assembly *assembly, uint32_t b, struct gathered *all)
{
    const struct hr_assembled_branch *info = &assembly->branch[b];
    if (info->run == HR_NONE) {
        return;
    }
    const struct hr_setting setting = hr_assembly_setting(assembly, b);
    const struct hr_run *run = &assembly->description->runs[info->run];
    for (size_t i = 0; i < run->fitting_count; i++) {
        struct hr_part_branch laws[HR_PORTS_MAX];
        memset(laws, 0, sizeof laws);
        run->fittings[i].kind->bind(run->fittings[i].part, &setting, laws);
        gather_part(all, &laws[0], run->fittings[i].count);
    }
}

/* The bore that a branch shows at one of its nodes, or NaN. */
static double bore_at(const struct hr_assembly *assembly, uint32_t b, uint32_t node)
{
    const void *part;
    const struct hr_part_kind *kind = hr_assembly_kind(assembly, b, &part);
    if (kind == NULL || kind->bore == NULL) {
        return NAN;
    }
    const struct hr_assembled_branch *info = &assembly->branch[b];
    const size_t end = assembly->network.branch[b].from == node ? 0 : 1;
    return kind->bore(part, info->port != NULL ? info->port_index : end);
}

/* The other branch at a node where exactly two meet; UINT32_MAX elsewhere. */
static uint32_t neighbour(const struct hr_assembly *assembly, uint32_t b, uint32_t node)
{
    const uint32_t *meets = assembly->meets[node];
    if (assembly->degree[node] != 2 || meets[0] == meets[1]) {
        return UINT32_MAX;
    }
    return meets[0] == b ? meets[1] : meets[0];
}

/* Where two neighbours differ in bore, the later run of the file carries the loss of the step; a run beside a
 * part always does. */
static void gather_steps(const struct hr_assembly *assembly, uint32_t b, struct gathered *all)
{
    if (assembly->branch[b].run == HR_NONE) {
        return;
    }
    const struct hr_branch *branch = &assembly->network.branch[b];
    const double density = assembly->fluid[assembly->branch[b].loop].density;
    for (int end = 0; end < 2; end++) {
        const uint32_t node = end == 0 ? branch->from : branch->to;
        const uint32_t other = neighbour(assembly, b, node);
        if (other == UINT32_MAX || (assembly->branch[other].run != HR_NONE && other > b)) {
            continue;
        }
        const double own = bore_at(assembly, b, node);
        const double next = bore_at(assembly, other, node);
        if (own > 0.0 && next > 0.0 && own != next) {
            const struct hr_law law =
                end == 0 ? hr_law_bore_change(next, own, density) : hr_law_bore_change(own, next, density);
            gather_law(all, &law);
        }
    }
}

/* A tee's leg: the solver keeps the offset equal to the part's drop less this core, which makes the iteration
 * contract: half a velocity head, and a laminar share that meets it at Re 200. */
static void gather_leg(const struct hr_assembly *assembly, uint32_t b, struct gathered *all)
{
    const void *part;
    const struct hr_part_kind *kind = hr_assembly_kind(assembly, b, &part);
    if (kind == NULL || kind->split == NULL) {
        return;
    }
    const struct hr_fluid_state *fluid = &assembly->fluid[assembly->branch[b].loop];
    const double bore = kind->bore(part, assembly->branch[b].port_index);
    const double area = 0.25 * PI * bore * bore;
    const double square = 0.25 * fluid->density / (area * area);
    const double flow_at_200 = 200.0 * fluid->viscosity / (fluid->density * bore) * area;
    const struct hr_law law = hr_law_split(0.0, square * flow_at_200, square);
    gather_law(all, &law);
}

static void gather(const struct hr_assembly *assembly, uint32_t b, struct gathered *all)
{
    memset(all, 0, sizeof *all);
    const void *part;
    const struct hr_part_kind *kind = hr_assembly_kind(assembly, b, &part);
    if (kind != NULL) {
        const struct hr_setting setting = hr_assembly_setting(assembly, b);
        struct hr_part_branch laws[HR_PORTS_MAX];
        memset(laws, 0, sizeof laws);
        kind->bind(part, &setting, laws);
        gather_part(all, &laws[assembly->branch[b].port != NULL ? assembly->branch[b].port_index : 0], 1.0);
    }
    gather_fittings(assembly, b, all);
    gather_steps(assembly, b, all);
    if (all->any_sum) {
        all->law[all->count++] = all->sum;
    }
    gather_leg(assembly, b, all);
}

static void put(struct hr_assembly *assembly, uint32_t b, const struct gathered *all)
{
    struct hr_branch *branch = &assembly->network.branch[b];
    assert(all->count <= assembly->branch[b].law_room);
    memcpy(&assembly->network.law[branch->law_first], all->law, all->count * sizeof *all->law);
    branch->law_count = (uint32_t)all->count;
    branch->one_way = all->one_way;
    branch->role = all->closed ? HR_BRANCH_CLOSED : all->fixed_flow ? HR_BRANCH_FLOW : HR_BRANCH_LAW;
    branch->given_flow = all->flow;
}

void hr_assembly_set_speed(struct hr_assembly *assembly, uint32_t branch, double speed_rpm)
{
    struct gathered all;
    assembly->branch[branch].speed_rpm = speed_rpm;
    gather(assembly, branch, &all);
    put(assembly, branch, &all);
}

static void set_lifts(struct hr_assembly *assembly)
{
    for (size_t i = 0; i < assembly->network.node_count; i++) {
        const struct hr_assembled_node *node = &assembly->node[i];
        const double density = node->loop == HR_NONE ? 0.0 : assembly->fluid[node->loop].density;
        assembly->network.node[i].lift = density * HR_GRAVITY * node->height_m;
    }
}

void hr_assembly_bind(struct hr_assembly *assembly)
{
    set_lifts(assembly);
    for (uint32_t b = 0; b < assembly->network.branch_count; b++) {
        struct gathered all;
        gather(assembly, b, &all);
        put(assembly, b, &all);
    }
}

/* A machine may need other laws at another speed (stopped, or running). */
enum { MACHINE_ROOM = 2 };

enum hr_status hr_assembly_make_laws(struct hr_assembly *assembly, struct hr_report *report)
{
    struct hr_network *network = &assembly->network;
    network->law_count = 0;
    for (uint32_t b = 0; b < network->branch_count; b++) {
        struct gathered all;
        const void *part;
        const struct hr_part_kind *kind = hr_assembly_kind(assembly, b, &part);
        gather(assembly, b, &all);
        const bool machine = kind != NULL && kind->machine != NULL;
        assembly->branch[b].law_room = (uint32_t)all.count + (machine ? MACHINE_ROOM : 0);
        network->branch[b].law_first = (uint32_t)network->law_count;
        network->law_count += assembly->branch[b].law_room;
    }
    network->law = hr_alloc(network->law_count, sizeof *network->law);
    if (network->law == NULL) {
        return hr_fail_memory(report);
    }
    hr_assembly_bind(assembly);
    return HR_OK;
}
