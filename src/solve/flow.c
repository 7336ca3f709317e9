/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The solver object: makes everything once, then solves; around the Newton iteration it decides which one-way
 * valves are shut and follows losses that depend on how the flow splits. */
#include "solve/flow.h"

#include "part/kind.h"
#include "solve/state.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX

struct hr_flow_settings hr_flow_defaults(void)
{
    return (struct hr_flow_settings){.iterations_max = 200,
                                     .rounds_max = 200,
                                     .tolerance = 1e-12,
                                     .acceptable = 1e-10,
                                     .factorisation = HR_NODAL_AUTO};
}

const char *hr_flow_outcome_text(enum hr_flow_outcome outcome)
{
    switch (outcome) {
    case HR_FLOW_SOLVED:
        return "solved";
    case HR_FLOW_NOT_CONVERGED:
        return "not converged";
    case HR_FLOW_NO_OUTLET:
        return "inflow without a way out";
    case HR_FLOW_AGAINST_VALVE:
        return "flow needed against a one-way valve";
    case HR_FLOW_TWO_GIVEN:
        return "two different flows given in series";
    }
    return "unknown outcome";
}

static void free_all(void *const owned[], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        free(owned[i]);
    }
}

static void free_chain_arrays(struct hr_flow *flow)
{
    void *const owned[] = {
        flow->law,       flow->other,  flow->direction, flow->shut,     flow->cut_fixed, flow->cut,
        flow->q,         flow->step,   flow->trial,     flow->drop,     flow->slope,     flow->new_drop,
        flow->new_slope, flow->weight, flow->residual,  flow->ref_flow, flow->tiny_flow, flow->floor,
    };
    free_all(owned, HR_ARRAY_LEN(owned));
}

static void free_other_arrays(struct hr_flow *flow)
{
    void *const owned[] = {
        flow->fixed,         flow->ground,         flow->potential,      flow->increment,
        flow->imbalance,     flow->right,          flow->throughput,     flow->edge_first,
        flow->edge,          flow->order,          flow->parent_chain,   flow->discovered,
        flow->low,           flow->next_edge,      flow->component,      flow->subtree,
        flow->branch_flow,   flow->branch_drop,    flow->node_potential, flow->class_potential,
        flow->node_floating, flow->class_floating, flow->split_offset,   flow->split_value,
        flow->block,         flow->sink,           flow->block_sum,      flow->join,
        flow->last_step,     flow->drives,
    };
    free_all(owned, HR_ARRAY_LEN(owned));
}

void hr_flow_free(struct hr_flow *flow)
{
    if (flow == NULL) {
        return;
    }
    hr_reduced_free(flow->reduced);
    hr_nodal_free(flow->nodal);
    free_chain_arrays(flow);
    free_other_arrays(flow);
    free(flow);
}

/* Allocates one array of `count` into *(target) and clears *complete when memory is out. */
#define TAKE(target, count) take((void **)&(target), (count), sizeof *(target), &complete)

static void take(void **target, size_t count, size_t size, bool *complete)
{
    void *array = hr_alloc(count, size);
    memcpy(target, &array, sizeof array);
    *complete = *complete && array != NULL;
}

static bool take_chain_arrays(struct hr_flow *flow)
{
    const size_t chains = flow->reduced->chain_count;
    bool complete = true;
    TAKE(flow->law, chains);
    TAKE(flow->other, flow->network->law_count);
    TAKE(flow->direction, chains);
    TAKE(flow->shut, chains);
    TAKE(flow->cut_fixed, chains);
    TAKE(flow->drives, chains);
    TAKE(flow->cut, chains);
    TAKE(flow->q, chains);
    TAKE(flow->step, chains);
    TAKE(flow->last_step, chains);
    TAKE(flow->trial, chains);
    TAKE(flow->drop, chains);
    TAKE(flow->slope, chains);
    TAKE(flow->new_drop, chains);
    TAKE(flow->new_slope, chains);
    TAKE(flow->weight, chains);
    TAKE(flow->residual, chains);
    TAKE(flow->ref_flow, chains);
    TAKE(flow->tiny_flow, chains);
    TAKE(flow->floor, chains);
    return complete;
}

static bool take_point_arrays(struct hr_flow *flow)
{
    const size_t points = flow->reduced->point_count;
    bool complete = true;
    TAKE(flow->fixed, points);
    TAKE(flow->ground, points);
    TAKE(flow->potential, points);
    TAKE(flow->increment, points);
    TAKE(flow->imbalance, points);
    TAKE(flow->right, points);
    TAKE(flow->throughput, points + 1);
    TAKE(flow->edge_first, points + 1);
    TAKE(flow->edge, 2 * flow->reduced->chain_count);
    TAKE(flow->order, points + 1);
    TAKE(flow->parent_chain, points + 1);
    TAKE(flow->discovered, points + 1);
    TAKE(flow->low, points + 1);
    TAKE(flow->next_edge, points + 1);
    TAKE(flow->component, points + 1);
    TAKE(flow->subtree, points + 1);
    TAKE(flow->block, points + 1);
    TAKE(flow->sink, points);
    TAKE(flow->block_sum, points);
    return complete;
}

static bool take_expanded_arrays(struct hr_flow *flow)
{
    const size_t nodes = flow->network->node_count;
    const size_t branches = flow->network->branch_count;
    bool complete = true;
    TAKE(flow->branch_flow, branches);
    TAKE(flow->branch_drop, branches);
    TAKE(flow->node_potential, nodes);
    TAKE(flow->class_potential, nodes);
    TAKE(flow->node_floating, nodes);
    TAKE(flow->class_floating, nodes);
    TAKE(flow->join, flow->reduced->lossless_count > 0 ? nodes : 0);
    TAKE(flow->split_offset, (size_t)2 * HR_SPLIT_LEGS * flow->network->split_count);
    TAKE(flow->split_value, (size_t)2 * HR_SPLIT_LEGS * flow->network->split_count);
    return complete;
}

static void list_edges(struct hr_flow *flow)
{
    const struct hr_reduced *reduced = flow->reduced;
    for (size_t k = 0; k < reduced->chain_count; k++) {
        flow->edge_first[reduced->chain[k].from]++;
        flow->edge_first[reduced->chain[k].to]++;
    }
    uint32_t total = 0;
    for (size_t i = 0; i <= reduced->point_count; i++) {
        const uint32_t count = i < reduced->point_count ? flow->edge_first[i] : 0;
        flow->edge_first[i] = total;
        if (i < reduced->point_count) {
            flow->next_edge[i] = total;
        }
        total += count;
    }
    for (uint32_t k = 0; k < reduced->chain_count; k++) {
        flow->edge[flow->next_edge[reduced->chain[k].from]++] = k;
        flow->edge[flow->next_edge[reduced->chain[k].to]++] = k;
    }
}

/* Pressures given at nodes become potentials of their points. */
static void fix_points(struct hr_flow *flow)
{
    for (size_t i = 0; i < flow->network->node_count; i++) {
        const struct hr_node *node = &flow->network->node[i];
        if (node->fixed) {
            const uint32_t point = flow->reduced->class_point[flow->reduced->node_class[i]];
            flow->fixed[point] = true;
            flow->potential[point] = node->pressure + node->lift;
        }
    }
}

static enum hr_status make_nodal(struct hr_flow *flow, struct hr_report *report)
{
    const size_t chains = flow->reduced->chain_count;
    uint32_t *from = hr_alloc(chains, sizeof *from);
    uint32_t *to = hr_alloc(chains, sizeof *to);
    enum hr_status status = HR_SYSTEM;
    if (from == NULL || to == NULL) {
        status = hr_fail_memory(report);
    } else {
        for (size_t k = 0; k < chains; k++) {
            from[k] = flow->reduced->chain[k].from;
            to[k] = flow->reduced->chain[k].to;
        }
        const struct hr_nodal_pattern pattern = {flow->reduced->point_count, chains, from, to, flow->fixed};
        status = hr_nodal_new(&pattern, flow->settings.factorisation, &flow->nodal, report);
    }
    free(from);
    free(to);
    return status;
}

static enum hr_status make(struct hr_flow *flow, uint32_t *ring, struct hr_report *report)
{
    enum hr_status status = hr_reduced_new(flow->network, &flow->reduced, ring, report);
    if (status != HR_OK) {
        return status;
    }
    if (!take_chain_arrays(flow) || !take_point_arrays(flow) || !take_expanded_arrays(flow)) {
        return hr_fail_memory(report);
    }
    list_edges(flow);
    fix_points(flow);
    status = make_nodal(flow, report);
    if (status == HR_OK) {
        flow->quality.small = hr_nodal_is_small(flow->nodal);
        hr_chains_gather(flow);
    }
    return status;
}

enum hr_status hr_flow_new(const struct hr_network *network, const struct hr_flow_settings *settings,
                           struct hr_flow **flow, uint32_t *ring, struct hr_report *report)
{
    *flow = NULL;
    *ring = NONE;
    struct hr_flow *made = hr_alloc(1, sizeof *made);
    if (made == NULL) {
        return hr_fail_memory(report);
    }
    made->network = network;
    made->settings = settings != NULL ? *settings : hr_flow_defaults();
    const enum hr_status status = make(made, ring, report);
    if (status != HR_OK) {
        hr_flow_free(made);
        return status;
    }
    *flow = made;
    return HR_OK;
}

void hr_flow_rebind(struct hr_flow *flow)
{
    hr_chains_gather(flow);
}

void hr_flow_forget(struct hr_flow *flow)
{
    flow->warm = false;
    memset(flow->shut, 0, flow->reduced->chain_count * sizeof *flow->shut);
}

void hr_flow_start_from(struct hr_flow *flow, const double branch_flow[])
{
    hr_flow_forget(flow);
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        const struct hr_member member = flow->reduced->member[flow->reduced->chain[k].first];
        flow->q[k] = member.sign * branch_flow[member.branch];
    }
    for (size_t i = 0; i < flow->reduced->point_count; i++) {
        flow->potential[i] = flow->fixed[i] ? flow->potential[i] : 0.0;
    }
    flow->warm = true;
}

/* The flows with all split-dependent losses as they stand. */
static enum hr_flow_outcome solve_valves(struct hr_flow *flow)
{
    for (size_t round = 0; round < flow->settings.rounds_max; round++) {
        flow->quality.rounds++;
        const enum hr_flow_outcome outcome = hr_chains_classify(flow);
        if (outcome != HR_FLOW_SOLVED) {
            return outcome;
        }
        if (!hr_newton_solve(flow)) {
            return HR_FLOW_NOT_CONVERGED;
        }
        flow->warm = true;
        hr_flow_expand(flow);
        if (!flow->valves || hr_valves_change(flow) == 0) {
            return HR_FLOW_SOLVED;
        }
    }
    return HR_FLOW_NOT_CONVERGED;
}

/* Sets new offsets for all legs; returns the largest difference between a leg's true drop and what the
 * solution used. One step of Anderson's acceleration (1965, J. ACM 12:547) with a single remembered iterate.
 */
static double move_splits(struct hr_flow *flow, bool first)
{
    const struct hr_network *network = flow->network;
    const size_t legs = HR_SPLIT_LEGS * network->split_count;
    double *offset = flow->split_offset;
    double *old_offset = offset + legs;
    double *value = flow->split_value;
    double *old_value = value + legs;
    double worst = 0.0;
    double along = 0.0;
    double square = 0.0;
    for (size_t s = 0; s < network->split_count; s++) {
        const struct hr_split_loss *split = &network->split[s];
        const struct hr_setting setting = {.fluid = split->fluid, .speed_rpm = NAN};
        double in[HR_SPLIT_LEGS];
        double drop[HR_SPLIT_LEGS];
        for (size_t i = 0; i < split->leg_count; i++) {
            in[i] = flow->branch_flow[split->leg[i]];
        }
        split->kind->split(split->part, &setting, in, drop);
        for (size_t i = 0; i < split->leg_count; i++) {
            const size_t at = s * HR_SPLIT_LEGS + i;
            old_value[at] = value[at];
            value[at] = drop[i] - flow->branch_drop[split->leg[i]];
            const double change = value[at] - old_value[at];
            along += change * value[at];
            square += change * change;
            worst = fmax(worst, fabs(value[at]));
        }
    }
    const double beta = first || square == 0.0 ? 0.0 : fmin(fmax(along / square, -1.0), 1.0);
    for (size_t s = 0; s < network->split_count; s++) {
        for (size_t i = 0; i < network->split[s].leg_count; i++) {
            const size_t at = s * HR_SPLIT_LEGS + i;
            const struct hr_branch *branch = &network->branch[network->split[s].leg[i]];
            struct hr_law *law = &network->law[branch->law_first + branch->law_count - 1];
            const double now = law->c[0];
            law->c[0] = now + value[at] - beta * ((now - old_offset[at]) + (value[at] - old_value[at]));
            old_offset[at] = now;
            offset[at] = law->c[0];
        }
    }
    return worst;
}

enum hr_flow_outcome hr_flow_solve(struct hr_flow *flow)
{
    const bool small = flow->quality.small;
    flow->quality = (struct hr_flow_quality){.small = small, .branch = NONE, .node = NONE};
    fix_points(flow);
    hr_chains_scale(flow);
    flow->quality.driving_pressure = flow->drive;
    const bool started_warm = flow->warm;
    enum hr_flow_outcome outcome = solve_valves(flow);
    if (outcome == HR_FLOW_SOLVED && hr_chains_scale_again(flow)) {
        outcome = solve_valves(flow);
    }
    for (size_t round = 0; outcome == HR_FLOW_SOLVED && flow->network->split_count > 0; round++) {
        const double worst = move_splits(flow, round == 0);
        if (worst <= flow->settings.tolerance * flow->scale_drive) {
            break;
        }
        outcome = round < flow->settings.rounds_max ? solve_valves(flow) : HR_FLOW_NOT_CONVERGED;
    }
    if (outcome == HR_FLOW_NOT_CONVERGED && started_warm) {
        hr_flow_forget(flow);
        return hr_flow_solve(flow);
    }
    if (outcome != HR_FLOW_SOLVED) {
        hr_flow_forget(flow);
    }
    return outcome;
}

struct hr_flow_solution hr_flow_solution(const struct hr_flow *flow)
{
    return (struct hr_flow_solution){.branch_flow = flow->branch_flow,
                                     .branch_drop = flow->branch_drop,
                                     .node_potential = flow->node_potential,
                                     .node_floating = flow->node_floating,
                                     .quality = flow->quality};
}
