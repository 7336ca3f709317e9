/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Newton iteration in incremental form. With the residuals
 *     r_k = drop_k(q_k) - (P_from - P_to)   of each free chain and
 *     c_i = inflow_i + flows in - flows out  of each point,
 * and D_k = max(slope_k, floor_k), one step solves
 *     (A D^-1 A') dP = c + A D^-1 r,   dq = D^-1 (A' dP - r).
 * Working on increments keeps the digits that recomputing pressures from scratch would lose in large
 * networks.
 *
 * dq is a direction of descent of the content G(q) = sum of the integrals of the drops, for any D > 0; the
 * step length is found from its derivative along the step, g(t) = sum (drop(q + t dq) - drop of the new
 * potentials) dq, which starts at g(0) = -sum D dq^2 (the plain sum of drops times dq would be rounding
 * error). The full step stands when g(1) has fallen to at most half of |g(0)|; else t is found between 0 and
 * 1, where g rises.
 *
 * The iteration ends when the residuals of pressure and mass are at the tolerance and the next step would
 * move no flow by more than STEP_SMALL of the largest (or by more than what rounding hides). That is so where
 * the last step did not; and where the last step was so small, against the one before as well as against the
 * flow itself, that the next will be below that by SHRINKING: near a solution Newton's steps shrink ever
 * faster, by the same factor where a slope vanishes there, and laws are curved over the size of the flow. All
 * tests are written so that a NaN fails them. */
#include "solve/state.h"

#include <math.h>
#include <string.h>

static const double STEP_SMALL = 1e-10;
static const double SHRINKING = 0.1;
static const double DESCENT_LEFT = 0.5;
enum { SEARCH_MAX = 40, STALLED = 12 };

static double difference(const struct hr_flow *flow, const double value[], size_t k)
{
    return value[flow->reduced->chain[k].from] - value[flow->reduced->chain[k].to];
}

static void evaluate_at(const struct hr_flow *flow, const double q[], double drop[], double slope[])
{
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        if (flow->cut[k] == HR_CHAIN_FREE) {
            hr_chain_evaluate(flow, k, q[k], &drop[k], &slope[k]);
        }
    }
}

/* imbalance = inflow + flows in - flows out; throughput = the sum of their sizes. */
static void balance(struct hr_flow *flow)
{
    const struct hr_reduced *reduced = flow->reduced;
    memset(flow->imbalance, 0, reduced->point_count * sizeof *flow->imbalance);
    memset(flow->throughput, 0, reduced->point_count * sizeof *flow->throughput);
    flow->largest_flow = 0.0;
    for (size_t i = 0; i < flow->network->node_count; i++) {
        const double inflow = flow->network->node[i].inflow;
        if (inflow != 0.0) {
            const uint32_t point = reduced->class_point[reduced->node_class[i]];
            flow->imbalance[point] += inflow;
            flow->throughput[point] += fabs(inflow);
        }
    }
    for (size_t k = 0; k < reduced->chain_count; k++) {
        const struct hr_chain *chain = &reduced->chain[k];
        flow->imbalance[chain->from] -= flow->q[k];
        flow->imbalance[chain->to] += flow->q[k];
        flow->throughput[chain->from] += fabs(flow->q[k]);
        flow->throughput[chain->to] += fabs(flow->q[k]);
        flow->largest_flow = fmax(flow->largest_flow, fabs(flow->q[k]));
    }
}

/* What stands for the driving pressure where only inflows and given flows drive: the largest drop. */
static double pushed_drop(const struct hr_flow *flow)
{
    double largest = flow->drive_least;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        if (flow->cut[k] == HR_CHAIN_FREE) {
            largest = fmax(largest, fabs(flow->drop[k]));
        } else if (flow->cut[k] == HR_CHAIN_BRIDGE) {
            double drop;
            double slope;
            hr_chain_evaluate(flow, k, flow->q[k], &drop, &slope);
            largest = fmax(largest, fabs(drop));
        }
    }
    return largest;
}

/* Fills the residuals and the quality from q, drop and potential. */
static void take_residuals(struct hr_flow *flow)
{
    balance(flow);
    double mass = 0.0;
    flow->largest_imbalance = 0.0;
    for (size_t i = 0; i < flow->reduced->point_count; i++) {
        const double scale = fmax(flow->throughput[i], 1e-12 * flow->largest_flow);
        if (!flow->fixed[i] && !(fabs(flow->imbalance[i]) <= mass * scale)) {
            mass = fabs(flow->imbalance[i]) / scale;
        }
        if (!flow->fixed[i] && !(fabs(flow->imbalance[i]) <= flow->largest_imbalance)) {
            flow->largest_imbalance = fabs(flow->imbalance[i]);
        }
    }
    const double largest_drop = flow->drive > 0.0 ? flow->drive : pushed_drop(flow);
    double pressure = 0.0;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        if (flow->cut[k] != HR_CHAIN_FREE) {
            flow->residual[k] = 0.0;
            continue;
        }
        const double between = difference(flow, flow->potential, k);
        flow->residual[k] = flow->drop[k] - between;
        const double scale = fmax(largest_drop, fabs(between));
        if (!(fabs(flow->residual[k]) <= pressure * scale)) {
            pressure = fabs(flow->residual[k]) / scale;
            flow->quality.branch = flow->reduced->member[flow->reduced->chain[k].first].branch;
        }
    }
    flow->quality.mass_residual = mass;
    flow->quality.pressure_residual = pressure;
}

/* In a block without a given pressure the right side must add up to zero. What rounding leaves of it would
 * end in the block's ground point, where flows may be too small to hide it: it goes to the busiest point
 * instead. */
static void make_consistent(struct hr_flow *flow)
{
    const size_t points = flow->reduced->point_count;
    for (size_t i = 0; i < points; i++) {
        flow->block_sum[i] = 0.0;
        flow->sink[i] = (uint32_t)i;
    }
    for (size_t i = 0; i < points; i++) {
        const uint32_t block = flow->block[i];
        flow->block_sum[block] += flow->right[i];
        if (flow->throughput[i] > flow->throughput[flow->sink[block]]) {
            flow->sink[block] = (uint32_t)i;
        }
    }
    for (size_t i = 0; i < points; i++) {
        if (flow->block[i] == i && flow->ground[i]) {
            flow->right[flow->sink[i]] -= flow->block_sum[i];
        }
    }
}

/* Solves for the step under the present weights; false where the factorisation failed. */
static bool find_step(struct hr_flow *flow)
{
    const struct hr_reduced *reduced = flow->reduced;
    if (!hr_nodal_factor(flow->nodal, flow->weight, flow->ground)) {
        return false;
    }
    memcpy(flow->right, flow->imbalance, reduced->point_count * sizeof *flow->right);
    for (size_t k = 0; k < reduced->chain_count; k++) {
        const double push = flow->weight[k] * flow->residual[k];
        flow->right[reduced->chain[k].from] += push;
        flow->right[reduced->chain[k].to] -= push;
    }
    if (flow->floating_blocks) {
        make_consistent(flow);
    }
    hr_nodal_solve(flow->nodal, flow->right, flow->increment);
    for (size_t k = 0; k < reduced->chain_count; k++) {
        flow->step[k] = flow->weight[k] * (difference(flow, flow->increment, k) - flow->residual[k]);
    }
    return true;
}

/* g at t; leaves drops and slopes at the trial flows in new_drop and new_slope. */
static double slope_along(struct hr_flow *flow, double t)
{
    double g = 0.0;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        flow->trial[k] = flow->q[k] + t * flow->step[k];
    }
    evaluate_at(flow, flow->trial, flow->new_drop, flow->new_slope);
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        if (flow->cut[k] == HR_CHAIN_FREE) {
            const double wanted = difference(flow, flow->potential, k) + difference(flow, flow->increment, k);
            g += (flow->new_drop[k] - wanted) * flow->step[k];
        }
    }
    return g;
}

/* Finds the step length; the trial arrays then belong to it. The bracket [low, high] always has g(low) < 0 <
 * g(high); the chord through both ends gives the next guess, kept off the ends so that the bracket shrinks.
 */
static void search(struct hr_flow *flow, bool whole)
{
    double start = 0.0;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        if (flow->cut[k] == HR_CHAIN_FREE) {
            start -= flow->step[k] * flow->step[k] / flow->weight[k];
        }
    }
    const double enough = DESCENT_LEFT * fabs(start);
    double g = slope_along(flow, 1.0);
    if (whole || g <= enough) {
        return;
    }
    flow->quality.searches++;
    double low = 0.0;
    double high = 1.0;
    double g_low = start;
    double g_high = g;
    for (int i = 0; i < SEARCH_MAX && !(fabs(g) <= enough); i++) {
        const double chord = low + (high - low) * g_low / (g_low - g_high);
        const double margin = 0.1 * (high - low);
        const double t = chord >= low + margin && chord <= high - margin ? chord : 0.5 * (low + high);
        g = slope_along(flow, t);
        if (g < 0.0) {
            low = t;
            g_low = g;
        } else {
            high = t;
            g_high = g;
        }
    }
}

static void swap(double **a, double **b)
{
    double *keep = *a;
    *a = *b;
    *b = keep;
}

/* Takes the step whose trial flows are evaluated, with the whole of the increments of the potentials, as the
 * search assumed; returns whether the whole step was small against the largest flow, or the next one will be.
 */
static bool take_step(struct hr_flow *flow)
{
    bool still = true;
    const double small = STEP_SMALL * flow->largest_flow;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        const double size = fabs(flow->step[k]);
        const double against = fmin(fabs(flow->last_step[k]), fabs(flow->trial[k]));
        still = still && (size <= small + flow->tiny_flow[k] || size * size <= SHRINKING * small * against);
    }
    swap(&flow->step, &flow->last_step);
    swap(&flow->q, &flow->trial);
    swap(&flow->drop, &flow->new_drop);
    swap(&flow->slope, &flow->new_slope);
    for (size_t i = 0; i < flow->reduced->point_count; i++) {
        flow->potential[i] += flow->increment[i];
    }
    return still;
}

static void weigh(struct hr_flow *flow, bool first)
{
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        flow->weight[k] = 0.0;
        if (flow->cut[k] == HR_CHAIN_FREE) {
            /* From rest, slopes are those of the chords to the reference flows: the right order of magnitude.
             */
            const double slope = first ? flow->scale_drive / flow->ref_flow[k] : flow->slope[k];
            flow->weight[k] = 1.0 / fmax(slope, flow->floor[k]);
        }
    }
}

static uint32_t parent_of(const struct hr_flow *flow, uint32_t point)
{
    const struct hr_chain *chain = &flow->reduced->chain[flow->parent_chain[point]];
    return chain->from == point ? chain->to : chain->from;
}

/* Every part rests at the pressure given in it, so that nothing moves where nothing drives. */
static void level_potentials(struct hr_flow *flow)
{
    for (size_t v = 0; v < flow->visited; v++) {
        const uint32_t point = flow->order[v];
        if (point < flow->reduced->point_count && !flow->fixed[point]) {
            const bool alone = flow->parent_chain[point] == UINT32_MAX;
            flow->potential[point] = alone ? 0.0 : flow->potential[parent_of(flow, point)];
        }
    }
}

static void start(struct hr_flow *flow)
{
    for (size_t k = 0; k < flow->reduced->chain_count && !flow->warm; k++) {
        if (flow->cut[k] == HR_CHAIN_FREE) {
            flow->q[k] = 0.0;
        }
    }
    if (!flow->warm) {
        level_potentials(flow);
    }
    memset(flow->last_step, 0, flow->reduced->chain_count * sizeof *flow->last_step);
    evaluate_at(flow, flow->q, flow->drop, flow->slope);
    take_residuals(flow);
}

static bool within(const struct hr_flow *flow, double tolerance)
{
    return flow->quality.pressure_residual <= tolerance && flow->quality.mass_residual <= tolerance;
}

/* Adds `amount` to the flow from `point` to its parent in the search's tree. */
static void push_up(struct hr_flow *flow, uint32_t point, double amount)
{
    const uint32_t chain = flow->parent_chain[point];
    flow->q[chain] += flow->reduced->chain[chain].from == point ? amount : -amount;
}

/* Where resistances span many decades, the differences of the increments leave imbalances that are rounding
 * against the large flows but not against the flows at a quiet point. A step for these alone, under the same
 * weights, rounds against them: it takes what matters away and spreads the rest over the chains that hardly
 * resist. */
static void correct_mass(struct hr_flow *flow)
{
    memcpy(flow->right, flow->imbalance, flow->reduced->point_count * sizeof *flow->right);
    if (flow->floating_blocks) {
        make_consistent(flow);
    }
    hr_nodal_solve(flow->nodal, flow->right, flow->increment);
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        flow->q[k] += flow->weight[k] * difference(flow, flow->increment, k);
    }
    evaluate_at(flow, flow->q, flow->drop, flow->slope);
    take_residuals(flow);
}

/* What is left then is pushed along the search's tree to the first point of each block, and from there to its
 * busiest one. */
static void conserve(struct hr_flow *flow)
{
    memcpy(flow->right, flow->imbalance, flow->reduced->point_count * sizeof *flow->right);
    for (size_t v = flow->visited; v-- > 0;) {
        const uint32_t point = flow->order[v];
        if (point < flow->reduced->point_count && flow->block[point] != point && !flow->fixed[point]) {
            push_up(flow, point, flow->right[point]);
            flow->right[parent_of(flow, point)] += flow->right[point];
        }
    }
    if (flow->floating_blocks) {
        for (size_t i = 0; i < flow->reduced->point_count; i++) {
            for (uint32_t point = flow->sink[i]; flow->ground[i] && flow->block[i] == i && point != i;
                 point = parent_of(flow, point)) {
                push_up(flow, point, -flow->right[i]);
            }
        }
    }
    evaluate_at(flow, flow->q, flow->drop, flow->slope);
    take_residuals(flow);
}

/* A chain that keeps its block from counting as idle: it carries more than rounding, or pushes against a
 * valve. */
static bool is_moving(const struct hr_flow *flow, size_t k)
{
    if (flow->cut[k] != HR_CHAIN_FREE) {
        return flow->q[k] != 0.0;
    }
    return fabs(flow->q[k]) > flow->tiny_flow[k] || flow->q[k] * flow->direction[k] < 0.0;
}

/* Flows in a block that nothing drives are rounding: they are set to exactly zero. `increment` marks blocks
 * with flow. */
static void still_idle_blocks(struct hr_flow *flow)
{
    const struct hr_reduced *reduced = flow->reduced;
    memset(flow->increment, 0, reduced->point_count * sizeof *flow->increment);
    for (size_t i = 0; i < flow->network->node_count; i++) {
        if (flow->network->node[i].inflow != 0.0) {
            flow->increment[flow->block[reduced->class_point[reduced->node_class[i]]]] = 1.0;
        }
    }
    for (size_t k = 0; k < reduced->chain_count; k++) {
        if (is_moving(flow, k)) {
            flow->increment[flow->block[reduced->chain[k].from]] = 1.0;
            flow->increment[flow->block[reduced->chain[k].to]] = 1.0;
        }
    }
    for (size_t k = 0; k < reduced->chain_count; k++) {
        const uint32_t block = flow->block[reduced->chain[k].from];
        if (flow->cut[k] == HR_CHAIN_FREE && flow->increment[block] == 0.0) {
            flow->q[k] = 0.0;
        }
    }
}

static bool is_conserved(const struct hr_flow *flow)
{
    return flow->largest_imbalance <= flow->settings.acceptable * flow->largest_flow;
}

static bool iterate(struct hr_flow *flow)
{
    start(flow);
    double best = INFINITY;
    size_t since_best = 0;
    for (size_t i = 0; i < flow->settings.iterations_max; i++) {
        weigh(flow, i == 0 && !flow->warm);
        if (!find_step(flow)) {
            return false;
        }
        flow->quality.iterations++;
        /* Until mass is conserved the content is not what the step descends; the first full step sees to
         * that. */
        search(flow, !is_conserved(flow));
        const bool still = take_step(flow);
        take_residuals(flow);
        const bool quiet = still && flow->quality.pressure_residual <= flow->settings.acceptable;
        if (!is_conserved(flow) || (quiet && !(flow->quality.mass_residual <= flow->settings.tolerance))) {
            correct_mass(flow);
        }
        if (quiet && !(flow->quality.mass_residual <= flow->settings.tolerance)) {
            conserve(flow);
        }
        if (still && within(flow, flow->settings.tolerance)) {
            return true;
        }
        const double worst = fmax(flow->quality.pressure_residual, flow->quality.mass_residual);
        since_best = worst < best ? 0 : since_best + 1;
        best = fmin(best, worst);
        if (still && since_best >= STALLED && within(flow, flow->settings.acceptable)) {
            return true;
        }
    }
    return within(flow, flow->settings.acceptable);
}

bool hr_newton_solve(struct hr_flow *flow)
{
    if (!iterate(flow)) {
        return false;
    }
    still_idle_blocks(flow);
    return true;
}
