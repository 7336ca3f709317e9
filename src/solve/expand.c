/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From chains and points back to branches and nodes. */
#include "solve/state.h"

#include <math.h>
#include <string.h>

#define NONE UINT32_MAX

/* Potentials from the Newton iteration hold up to a constant in each part that hangs on a bridge: walking the
 * points in the order of the search, each part is tied to the one that it hangs on. `increment` serves as the
 * part's constant. */
static void tie_parts(struct hr_flow *flow)
{
    double *shift = flow->increment;
    for (size_t v = 0; v < flow->visited; v++) {
        const uint32_t point = flow->order[v];
        const uint32_t chain = flow->parent_chain[point];
        if (point == flow->reduced->point_count) {
            continue;
        }
        if (chain == NONE) {
            shift[point] = 0.0;
            continue;
        }
        const struct hr_chain *c = &flow->reduced->chain[chain];
        const uint32_t parent = c->from == point ? c->to : c->from;
        if (flow->cut[chain] != HR_CHAIN_BRIDGE) {
            shift[point] = shift[parent];
            continue;
        }
        double drop;
        double slope;
        hr_chain_evaluate(flow, chain, flow->q[chain], &drop, &slope);
        const double parent_potential = flow->potential[parent] + shift[parent];
        const double wanted = c->from == parent ? parent_potential - drop : parent_potential + drop;
        shift[point] = wanted - flow->potential[point];
    }
    for (size_t i = 0; i < flow->reduced->point_count; i++) {
        flow->potential[i] += flow->fixed[i] ? 0.0 : shift[i];
    }
}

static double member_drop(const struct hr_flow *flow, struct hr_member member, double q)
{
    return member.sign * hr_branch_drop(flow->network, member.branch, member.sign * q);
}

/* The drop along the walk of a member that is not cut; keeps it along the branch's arrow. */
static double walk_member(struct hr_flow *flow, struct hr_member member, double q)
{
    const double drop = member_drop(flow, member, q);
    flow->branch_drop[member.branch] = member.sign * drop + 0.0; /* never -0 */
    return drop;
}

/* The class that `member` leads to (end 1) or comes from (end 0) on the walk along its chain. */
static uint32_t member_class(const struct hr_flow *flow, struct hr_member member, int end)
{
    const struct hr_branch *branch = &flow->network->branch[member.branch];
    const bool to = (member.sign > 0) == (end == 1);
    return flow->reduced->node_class[to ? branch->to : branch->from];
}

/* True where the pressure does not follow from the flow. */
static bool is_cut(const struct hr_flow *flow, size_t k, struct hr_member member)
{
    const struct hr_branch *branch = &flow->network->branch[member.branch];
    return branch->role != HR_BRANCH_LAW || (branch->one_way && (flow->shut[k] || flow->cut_fixed[k]));
}

static void set_flow(struct hr_flow *flow, size_t k, struct hr_member member)
{
    const struct hr_branch *branch = &flow->network->branch[member.branch];
    double value = member.sign * flow->q[k];
    if (branch->role == HR_BRANCH_CLOSED || value == 0.0 || (branch->one_way && value < 0.0)) {
        value = 0.0; /* never -0 */
    }
    flow->branch_flow[member.branch] = value;
}

/* Walks inwards from both ends: pressures follow from the laws up to the first cut, from either side. What
 * lies between two cuts floats. */
static void expand_chain(struct hr_flow *flow, size_t k)
{
    const struct hr_chain *chain = &flow->reduced->chain[k];
    const struct hr_member *member = &flow->reduced->member[chain->first];
    const bool floats = flow->node_floating[flow->reduced->point_class[chain->from]];
    size_t ahead = 0;
    double potential = flow->potential[chain->from];
    for (; ahead < chain->count && !is_cut(flow, k, member[ahead]); ahead++) {
        potential -= walk_member(flow, member[ahead], flow->q[k]);
        const uint32_t class = member_class(flow, member[ahead], 1);
        if (flow->reduced->class_point[class] == NONE) {
            flow->class_potential[class] = potential;
            flow->class_floating[class] = floats;
        }
    }
    size_t back = chain->count;
    potential = flow->potential[chain->to];
    const bool end_floats = flow->node_floating[flow->reduced->point_class[chain->to]];
    for (; back > ahead && !is_cut(flow, k, member[back - 1]); back--) {
        potential += walk_member(flow, member[back - 1], flow->q[k]);
        const uint32_t class = member_class(flow, member[back - 1], 0);
        flow->class_potential[class] = potential;
        flow->class_floating[class] = end_floats;
    }
    potential = 0.0;
    for (size_t m = ahead + 1; m < back; m++) {
        const uint32_t class = member_class(flow, member[m], 0);
        flow->class_potential[class] = potential;
        flow->class_floating[class] = true;
        potential -= is_cut(flow, k, member[m]) ? potential : walk_member(flow, member[m], flow->q[k]);
    }
    for (size_t m = 0; m < chain->count; m++) {
        set_flow(flow, k, member[m]);
    }
}

/* Sums at each node what comes in, lossless branches not counted, and how much passes. */
static void collect_missing(struct hr_flow *flow, double missing[])
{
    const struct hr_network *network = flow->network;
    for (uint32_t i = 0; i < network->node_count; i++) {
        missing[i] = network->node[i].inflow;
        flow->join[i] = (struct hr_join){.size = fabs(missing[i]), .busiest = i, .lossless = NONE};
    }
    for (size_t b = 0; b < network->branch_count; b++) {
        const struct hr_branch *branch = &network->branch[b];
        if (!hr_branch_is_lossless(branch)) {
            missing[branch->from] -= flow->branch_flow[b];
            missing[branch->to] += flow->branch_flow[b];
            flow->join[branch->from].size += fabs(flow->branch_flow[b]);
            flow->join[branch->to].size += fabs(flow->branch_flow[b]);
        }
    }
}

/* What rounding leaves over at `node` would spoil its balance where little passes it: it goes along the
 * lossless branches to the busiest node behind. */
static void send_to_busiest(struct hr_flow *flow, uint32_t node, double rest)
{
    uint32_t at = flow->join[node].busiest;
    while (at != node) {
        const uint32_t b = flow->reduced->lossless[flow->join[at].lossless];
        const struct hr_branch *branch = &flow->network->branch[b];
        flow->branch_flow[b] += branch->to == at ? rest : -rest;
        at = branch->to == at ? branch->from : branch->to;
    }
}

/* Mass conservation gives what lossless branches carry, leaves first. node_potential serves as the sum at
 * each node. */
static void expand_lossless(struct hr_flow *flow)
{
    const struct hr_network *network = flow->network;
    double *missing = flow->node_potential;
    if (flow->reduced->lossless_count == 0) {
        return;
    }
    collect_missing(flow, missing);
    for (uint32_t i = 0; i < flow->reduced->lossless_count; i++) {
        const uint32_t b = flow->reduced->lossless[i];
        const uint32_t leaf = flow->reduced->lossless_leaf[i];
        const struct hr_branch *branch = &network->branch[b];
        struct hr_join *here = &flow->join[leaf];
        struct hr_join *before = &flow->join[branch->from == leaf ? branch->to : branch->from];
        const double out = missing[leaf];
        here->lossless = i;
        flow->branch_flow[b] = branch->from == leaf ? out : -out;
        missing[branch->from == leaf ? branch->to : branch->from] += out;
        missing[leaf] = 0.0;
        if (flow->join[here->busiest].size > flow->join[before->busiest].size) {
            before->busiest = here->busiest;
        }
    }
    for (uint32_t i = 0; i < network->node_count; i++) {
        if (missing[i] != 0.0 && !network->node[i].fixed) {
            send_to_busiest(flow, i, missing[i]);
        }
    }
}

static void expand_nodes(struct hr_flow *flow)
{
    const struct hr_network *network = flow->network;
    for (size_t i = 0; i < network->node_count; i++) {
        const uint32_t class = flow->reduced->node_class[i];
        flow->node_potential[i] = flow->class_potential[class];
        flow->node_floating[i] = flow->class_floating[class];
    }
    for (size_t b = 0; b < network->branch_count; b++) {
        const struct hr_branch *branch = &network->branch[b];
        const bool apart = flow->node_floating[branch->from] || flow->node_floating[branch->to];
        if (branch->role == HR_BRANCH_LAW && branch->law_count > 0 && !branch->one_way) {
            continue; /* kept on the walk along its chain */
        }
        const double drop = flow->node_potential[branch->from] - flow->node_potential[branch->to];
        flow->branch_drop[b] = branch->role != HR_BRANCH_LAW && apart ? NAN : drop;
    }
}

void hr_flow_expand(struct hr_flow *flow)
{
    const struct hr_reduced *reduced = flow->reduced;
    tie_parts(flow);
    for (size_t i = 0; i < reduced->point_count; i++) {
        const uint32_t class = reduced->point_class[i];
        flow->class_potential[class] = flow->potential[i];
        flow->class_floating[class] = flow->component[i] != reduced->point_count;
        flow->node_floating[class] = flow->class_floating[class];
    }
    for (size_t k = 0; k < reduced->chain_count; k++) {
        expand_chain(flow, k);
    }
    expand_lossless(flow);
    expand_nodes(flow);
}
