/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which chains are unknowns? Closed chains, shut valves and given flows are cut out; of the rest, every chain
 * that is a bridge of the graph (its removal separates points) carries exactly what conservation of mass
 * says, so that dead ends and idle branches get an exact zero. Bridges are found by depth-first search with
 * low points (Tarjan 1974, Inf. Proc. Letters 2:160), iteratively and in preallocated memory. A virtual root
 * is joined to each point of given pressure, since mass enters and leaves there. */
#include "solve/state.h"

#include <math.h>
#include <string.h>

#define NONE UINT32_MAX

/* The first branch of a chain that is one-way. */
static uint32_t valve_of(const struct hr_flow *flow, size_t k)
{
    const struct hr_chain *chain = &flow->reduced->chain[k];
    uint32_t m = chain->first;
    while (m + 1 < chain->first + chain->count &&
           !flow->network->branch[flow->reduced->member[m].branch].one_way) {
        m++;
    }
    return flow->reduced->member[m].branch;
}

/* Sets the flows of what is cut by itself. */
static enum hr_flow_outcome cut_chain(struct hr_flow *flow, size_t k)
{
    const struct hr_chain *chain = &flow->reduced->chain[k];
    flow->cut[k] = HR_CHAIN_CUT;
    double given = 0.0;
    uint32_t pusher = NONE;
    bool closed = false;
    bool any = false;
    for (uint32_t m = chain->first; m < chain->first + chain->count; m++) {
        const struct hr_member member = flow->reduced->member[m];
        const struct hr_branch *branch = &flow->network->branch[member.branch];
        if (branch->role == HR_BRANCH_CLOSED) {
            closed = true;
        } else if (branch->role == HR_BRANCH_FLOW) {
            const double value = member.sign * branch->given_flow;
            if (any && value != given) {
                flow->quality.branch = member.branch;
                return HR_FLOW_TWO_GIVEN;
            }
            given = value;
            pusher = member.branch;
            any = true;
        }
    }
    if (closed && given != 0.0) {
        flow->quality.branch = pusher;
        return HR_FLOW_TWO_GIVEN;
    }
    flow->q[k] = flow->shut[k] ? 0.0 : given;
    if (flow->q[k] * flow->direction[k] < 0.0) {
        flow->quality.branch = valve_of(flow, k);
        return HR_FLOW_AGAINST_VALVE;
    }
    return HR_FLOW_SOLVED;
}

static enum hr_flow_outcome cut_chains(struct hr_flow *flow)
{
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        flow->cut[k] = HR_CHAIN_FREE;
        if (flow->cut_fixed[k] || flow->shut[k]) {
            const enum hr_flow_outcome outcome = cut_chain(flow, k);
            if (outcome != HR_FLOW_SOLVED) {
                return outcome;
            }
        }
    }
    return HR_FLOW_SOLVED;
}

/* What enters at each point from outside and through cut chains. */
static void collect_inflows(struct hr_flow *flow)
{
    const struct hr_reduced *reduced = flow->reduced;
    memset(flow->subtree, 0, (reduced->point_count + 1) * sizeof *flow->subtree);
    memset(flow->throughput, 0, reduced->point_count * sizeof *flow->throughput);
    for (size_t i = 0; i < flow->network->node_count; i++) {
        const double inflow = flow->network->node[i].inflow;
        if (inflow != 0.0) {
            const uint32_t point = reduced->class_point[reduced->node_class[i]];
            flow->subtree[point] += inflow;
            flow->throughput[point] += fabs(inflow);
        }
    }
    for (size_t k = 0; k < reduced->chain_count; k++) {
        if (flow->cut[k] == HR_CHAIN_CUT && flow->q[k] != 0.0) {
            flow->subtree[reduced->chain[k].from] -= flow->q[k];
            flow->subtree[reduced->chain[k].to] += flow->q[k];
            flow->throughput[reduced->chain[k].from] += fabs(flow->q[k]);
            flow->throughput[reduced->chain[k].to] += fabs(flow->q[k]);
        }
    }
}

static void discover(struct hr_flow *flow, uint32_t point, uint32_t parent_chain, uint32_t component)
{
    flow->discovered[point] = (uint32_t)flow->visited;
    flow->low[point] = (uint32_t)flow->visited;
    flow->order[flow->visited++] = point;
    flow->parent_chain[point] = parent_chain;
    flow->next_edge[point] = point < flow->reduced->point_count ? flow->edge_first[point] : 0;
    flow->component[point] = component;
}

static uint32_t other_end(const struct hr_flow *flow, uint32_t chain, uint32_t point)
{
    const struct hr_chain *c = &flow->reduced->chain[chain];
    return c->from == point ? c->to : c->from;
}

/* One step of the search at `point`: follows its next chain. Returns the point to go on with, or NONE when
 * all chains are done. */
static uint32_t advance(struct hr_flow *flow, uint32_t point)
{
    const uint32_t root = (uint32_t)flow->reduced->point_count;
    while (flow->next_edge[point] < flow->edge_first[point + 1]) {
        const uint32_t chain = flow->edge[flow->next_edge[point]++];
        if (flow->cut[chain] == HR_CHAIN_CUT || chain == flow->parent_chain[point]) {
            continue;
        }
        const uint32_t other = other_end(flow, chain, point);
        if (flow->discovered[other] == NONE) {
            discover(flow, other, chain, flow->component[point]);
            return other;
        }
        if (flow->discovered[other] < flow->low[point]) {
            flow->low[point] = flow->discovered[other];
        }
    }
    /* The virtual chain to the root closes a ring unless it is how the search came here. */
    if (flow->fixed[point] && flow->parent_chain[point] != NONE) {
        flow->low[point] = flow->discovered[root];
    }
    return NONE;
}

/* A sum of inflows below this share of the sum of their sizes is the rounding of a zero. */
static const double SUM_ROUNDING = 1e-14;

/* `point` is done: hands its subtree to its parent, and sets the chain between them if it is a bridge. */
static void retreat(struct hr_flow *flow, uint32_t point, uint32_t parent)
{
    const uint32_t chain = flow->parent_chain[point];
    if (fabs(flow->subtree[point]) <= SUM_ROUNDING * flow->throughput[point]) {
        flow->subtree[point] = 0.0;
    }
    flow->subtree[parent] += flow->subtree[point];
    if (flow->low[point] >= flow->discovered[parent]) {
        flow->block_sum[parent] += flow->subtree[point];
    }
    flow->throughput[parent] += flow->throughput[point];
    if (flow->low[point] < flow->low[parent]) {
        flow->low[parent] = flow->low[point];
    }
    if (flow->low[point] > flow->discovered[parent]) {
        flow->cut[chain] = HR_CHAIN_BRIDGE;
        flow->q[chain] =
            flow->reduced->chain[chain].from == point ? flow->subtree[point] : -flow->subtree[point];
        flow->ground[point] = !flow->fixed[point];
    }
}

static void search_from(struct hr_flow *flow, uint32_t start, uint32_t component)
{
    discover(flow, start, NONE, component);
    uint32_t point = start;
    for (;;) {
        const uint32_t next = advance(flow, point);
        if (next != NONE) {
            point = next;
            continue;
        }
        if (point == start) {
            return;
        }
        const uint32_t parent = other_end(flow, flow->parent_chain[point], point);
        retreat(flow, point, parent);
        point = parent;
    }
}

/* Inflows that should cancel may differ by the rounding of their units. */
static const double INFLOW_ROUNDING = 1e-9;

static enum hr_flow_outcome search_all(struct hr_flow *flow)
{
    const uint32_t points = (uint32_t)flow->reduced->point_count;
    memcpy(flow->block_sum, flow->subtree, points * sizeof *flow->block_sum);
    flow->visited = 0;
    for (uint32_t i = 0; i <= points; i++) {
        flow->discovered[i] = NONE;
    }
    discover(flow, points, NONE, points); /* the virtual root comes first */
    for (uint32_t i = 0; i < points; i++) {
        if (flow->fixed[i] && flow->discovered[i] == NONE) {
            search_from(flow, i, points);
        }
    }
    for (uint32_t i = 0; i < points; i++) {
        if (flow->discovered[i] != NONE) {
            continue;
        }
        search_from(flow, i, i);
        flow->ground[i] = true;
        if (fabs(flow->subtree[i]) > INFLOW_ROUNDING * flow->throughput[i]) {
            flow->quality.node = flow->reduced->point_class[i];
            return HR_FLOW_NO_OUTLET;
        }
    }
    return HR_FLOW_SOLVED;
}

/* The end of a chain that the search found last: the chain lies in the same ring as the chain by which it was
 * found. */
static uint32_t later_end(const struct hr_flow *flow, size_t k)
{
    const struct hr_chain *chain = &flow->reduced->chain[k];
    return flow->discovered[chain->from] > flow->discovered[chain->to] ? chain->from : chain->to;
}

/* Two chains belong together when a ring passes both (biconnected components: Hopcroft & Tarjan 1973, Comm.
 * ACM 16:372). `ring[point]` names what the chain by which the search found the point belongs to; `busy`
 * marks by that name what may carry a flow: where a chain drives, where two pressures are given, or where
 * something enters, directly or out of what hangs on (`block_sum`), elsewhere than at its first point. The
 * arrays of the Newton iteration are free at this time. */
static void mark_busy_rings(struct hr_flow *flow, uint32_t ring[], double busy[])
{
    memset(busy, 0, flow->reduced->point_count * sizeof *busy);
    for (size_t v = 1; v < flow->visited; v++) { /* behind the virtual root */
        const uint32_t point = flow->order[v];
        const uint32_t chain = flow->parent_chain[point];
        ring[point] = point;
        if (chain == NONE) {
            continue;
        }
        const uint32_t parent = other_end(flow, chain, point);
        if (flow->low[point] < flow->discovered[parent]) {
            ring[point] = ring[parent];
        }
        if (flow->fixed[point] || fabs(flow->block_sum[point]) > SUM_ROUNDING * flow->throughput[point]) {
            busy[ring[point]] = 1.0;
        }
    }
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        if (flow->cut[k] == HR_CHAIN_FREE && flow->drives[k]) {
            busy[ring[later_end(flow, k)]] = 1.0;
        }
    }
}

/* Conservation of mass and the laws give chains in rings that are not busy exactly nothing: they are treated
 * as bridges. */
static void still_idle_rings(struct hr_flow *flow)
{
    uint32_t *ring = flow->sink;
    double *busy = flow->increment;
    mark_busy_rings(flow, ring, busy);
    for (uint32_t k = 0; k < flow->reduced->chain_count; k++) {
        const bool returns = flow->reduced->chain[k].from == flow->reduced->chain[k].to;
        const uint32_t point = later_end(flow, k);
        if (flow->cut[k] != HR_CHAIN_FREE || (returns ? flow->drives[k] : busy[ring[point]] != 0.0)) {
            continue;
        }
        flow->cut[k] = HR_CHAIN_BRIDGE;
        flow->q[k] = 0.0;
        if (flow->parent_chain[point] == k) {
            flow->ground[point] = !flow->fixed[point];
        }
    }
}

/* Blocks are what is left together when the bridges are taken away. */
static void find_blocks(struct hr_flow *flow)
{
    flow->floating_blocks = false;
    for (size_t v = 0; v < flow->visited; v++) {
        const uint32_t point = flow->order[v];
        const uint32_t chain = flow->parent_chain[point];
        const bool opens = chain == NONE || flow->cut[chain] == HR_CHAIN_BRIDGE;
        flow->block[point] = opens ? point : flow->block[other_end(flow, chain, point)];
        flow->floating_blocks =
            flow->floating_blocks || (point < flow->reduced->point_count && flow->ground[point]);
    }
}

static enum hr_flow_outcome check_valves(struct hr_flow *flow)
{
    for (size_t k = 0; k < flow->reduced->chain_count && flow->valves; k++) {
        if (flow->cut[k] == HR_CHAIN_BRIDGE && flow->q[k] * flow->direction[k] < 0.0) {
            flow->quality.branch = valve_of(flow, k);
            return HR_FLOW_AGAINST_VALVE;
        }
    }
    return HR_FLOW_SOLVED;
}

enum hr_flow_outcome hr_chains_classify(struct hr_flow *flow)
{
    memset(flow->ground, 0, flow->reduced->point_count * sizeof *flow->ground);
    enum hr_flow_outcome outcome = cut_chains(flow);
    if (outcome == HR_FLOW_SOLVED) {
        collect_inflows(flow);
        outcome = search_all(flow);
        if (outcome == HR_FLOW_SOLVED) {
            still_idle_rings(flow);
        }
        find_blocks(flow);
    }
    return outcome == HR_FLOW_SOLVED ? check_valves(flow) : outcome;
}
