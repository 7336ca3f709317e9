/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laws of the chains: gathered from their branches, evaluated, and scaled. */
#include "solve/state.h"

#include <math.h>

static void add_law(struct hr_flow *flow, struct hr_chain_law *sum, const struct hr_law *law, int32_t sign,
                    uint32_t *others)
{
    if (hr_law_is_quadratic(law)) {
        sum->linear += law->c[0];
        sum->square += sign > 0 ? law->c[1] : law->c[2];
        sum->square_reverse += sign > 0 ? law->c[2] : law->c[1];
        return;
    }
    flow->other[*others].law = law;
    flow->other[(*others)++].sign = sign;
    sum->other_count++;
}

/* Two valves against each other leave a chain that nothing passes; it is then cut like a closed one. */
static void add_role(struct hr_flow *flow, size_t k, const struct hr_branch *branch, int32_t sign)
{
    if (branch->role != HR_BRANCH_LAW) {
        flow->cut_fixed[k] = true;
    }
    if (branch->one_way) {
        if (flow->direction[k] == -sign) {
            flow->cut_fixed[k] = true;
        } else {
            flow->direction[k] = (int8_t)sign;
        }
    }
}

void hr_chains_gather(struct hr_flow *flow)
{
    uint32_t others = 0;
    flow->valves = false;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        const struct hr_chain *chain = &flow->reduced->chain[k];
        struct hr_chain_law sum = {.other_first = others};
        flow->direction[k] = 0;
        flow->cut_fixed[k] = false;
        for (uint32_t m = chain->first; m < chain->first + chain->count; m++) {
            const struct hr_member member = flow->reduced->member[m];
            const struct hr_branch *branch = &flow->network->branch[member.branch];
            add_role(flow, k, branch, member.sign);
            for (uint32_t i = 0; i < branch->law_count; i++) {
                add_law(flow, &sum, &flow->network->law[branch->law_first + i], member.sign, &others);
            }
        }
        flow->law[k] = sum;
        flow->valves = flow->valves || (flow->direction[k] != 0 && !flow->cut_fixed[k]);
    }
}

static void evaluate_open(const struct hr_flow *flow, size_t chain, double q, double *drop, double *slope)
{
    const struct hr_chain_law *law = &flow->law[chain];
    const double size = fabs(q);
    const double square = q < 0.0 ? law->square_reverse : law->square;
    *drop = (law->linear + square * size) * q;
    *slope = law->linear + 2.0 * square * size;
    const struct hr_member_law *other = &flow->other[law->other_first];
    for (uint32_t i = 0; i < law->other_count; i++) {
        double part_drop;
        double part_slope;
        hr_law_evaluate(other[i].law, other[i].sign * q, &part_drop, &part_slope);
        *drop += other[i].sign * part_drop;
        *slope += part_slope;
    }
}

/* Against a valve that is not yet known to be shut the chain is this much stiffer than along it. The flow
 * that is left tells that the valve shuts; it is then exactly zero. */
static const double STIFFNESS = 1e3;

void hr_chain_evaluate(const struct hr_flow *flow, size_t chain, double q, double *drop, double *slope)
{
    if (q * flow->direction[chain] >= 0.0) {
        evaluate_open(flow, chain, q, drop, slope);
        return;
    }
    evaluate_open(flow, chain, 0.0, drop, slope);
    *slope = STIFFNESS * flow->scale_drive / flow->ref_flow[chain];
    *drop += *slope * q;
}

/* A chain whose drop has not risen at this flow has no law: it is closed, or its flow is given. */
static const double LOSSLESS_FLOW = 1e12;

/* A flow q > 0 (signed by `way`) at which the law has moved by about `target` from its value at zero; within
 * a factor of `near`. */
static double flow_at_rise(const struct hr_flow *flow, size_t chain, double way, double target, double start,
                           double near)
{
    double zero;
    double slope;
    evaluate_open(flow, chain, 0.0, &zero, &slope);
    double low = 0.0;
    double high = INFINITY;
    double q = start;
    while (high > near * low && q > 1e-25 && q < LOSSLESS_FLOW) {
        double drop;
        evaluate_open(flow, chain, way * q, &drop, &slope);
        if (fabs(drop - zero) < target) {
            low = q;
            q = high == INFINITY ? 8.0 * q : sqrt(low * high);
        } else {
            high = q;
            q = low == 0.0 ? q / 8.0 : sqrt(low * high);
        }
    }
    return low > 0.0 && high < INFINITY ? sqrt(low * high) : q;
}

/* Relative size of rounding in a pressure: a drop below this share of the driving pressure means nothing. */
static const double PRESSURE_ROUNDING = 1e-16;

/* A slope below this share of the chord to the reference flow counts as none. */
static const double LEVEL = 1e-6;
/* Where a law with a laminar slope runs level further on, the matrix counts at least this share of that
 * chord. */
static const double LEAST_SLOPE = 1e-12;

static void scale_chain(struct hr_flow *flow, size_t k, double start)
{
    const double way = flow->direction[k] < 0 ? -1.0 : 1.0;
    const double least = PRESSURE_ROUNDING * flow->scale_drive;
    double zero;
    double slope;
    flow->ref_flow[k] = flow_at_rise(flow, k, way, flow->scale_drive, start, 16.0);
    evaluate_open(flow, k, 0.0, &zero, &slope);
    /* A law with a laminar slope needs a floor only where it runs level further on: its slope may fall, as a
     * pump's. One without gets the slope of the chord where the drop vanishes in rounding. */
    if (slope * flow->ref_flow[k] > LEVEL * flow->scale_drive) {
        flow->tiny_flow[k] = least / slope;
        flow->floor[k] = LEAST_SLOPE * flow->scale_drive / flow->ref_flow[k];
    } else {
        flow->tiny_flow[k] = flow_at_rise(flow, k, way, least, 1e-8 * flow->ref_flow[k], 2.0);
        flow->floor[k] = least / flow->tiny_flow[k];
    }
}

/* A thousandth of a potential has 13 digits. */
static const double POTENTIAL_DIGITS = 1e-3;

/* The driving pressure: pump heads at zero flow and differences between given pressures. */
static double driving_pressure(struct hr_flow *flow)
{
    double drive = 0.0;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        double zero;
        double slope;
        evaluate_open(flow, k, 0.0, &zero, &slope);
        flow->drives[k] = zero != 0.0;
        drive = fmax(drive, fabs(zero));
    }
    double low = INFINITY;
    double high = -INFINITY;
    for (size_t i = 0; i < flow->reduced->point_count; i++) {
        if (flow->fixed[i]) {
            low = fmin(low, flow->potential[i]);
            high = fmax(high, flow->potential[i]);
        }
    }
    flow->drive_least = high >= low ? POTENTIAL_DIGITS * fmax(fabs(low), fabs(high)) : 0.0;
    return high > low ? fmax(drive, high - low) : drive;
}

/* Without pumps and pressures, what is pushed in drives: the drop of the stiffest chain at the whole inflow.
 */
static double pushed_pressure(const struct hr_flow *flow)
{
    double total = 0.0;
    for (size_t i = 0; i < flow->network->node_count; i++) {
        total += fabs(flow->network->node[i].inflow);
    }
    for (size_t b = 0; b < flow->network->branch_count; b++) {
        if (flow->network->branch[b].role == HR_BRANCH_FLOW) {
            total += fabs(flow->network->branch[b].given_flow);
        }
    }
    double pressure = 0.0;
    for (size_t k = 0; k < flow->reduced->chain_count && total > 0.0; k++) {
        double drop;
        double slope;
        evaluate_open(flow, k, flow->direction[k] < 0 ? -total : total, &drop, &slope);
        pressure = fmax(pressure, fabs(drop));
    }
    return pressure;
}

/* Scales need to be right within an order of magnitude or two only: they are kept while the drive stays near.
 */
static const double NEAR = 30.0;

static void scale_all(struct hr_flow *flow, double scale)
{
    flow->scaled = true;
    flow->scale_drive = scale > 0.0 ? scale : 1.0; /* nothing moves: any scale serves */
    double start = 1e-4;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        scale_chain(flow, k, start);
        if (flow->ref_flow[k] < LOSSLESS_FLOW) {
            start = flow->ref_flow[k];
        }
    }
}

void hr_chains_scale(struct hr_flow *flow)
{
    flow->drive = driving_pressure(flow);
    const double scale = flow->drive > 0.0 ? flow->drive : pushed_pressure(flow);
    if (!flow->scaled || scale >= NEAR * flow->scale_drive || flow->scale_drive >= NEAR * scale) {
        scale_all(flow, scale);
    }
}

/* Scales that only a solution can give are taken more closely: it is at hand. */
static const double NEAR_ENOUGH = 2.0;

bool hr_chains_scale_again(struct hr_flow *flow)
{
    double largest = flow->drive_least;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        if (flow->cut[k] != HR_CHAIN_CUT) {
            double drop;
            double slope;
            evaluate_open(flow, k, flow->q[k], &drop, &slope);
            largest = fmax(largest, fabs(drop));
        }
    }
    if (flow->drive > 0.0 || !(largest > 0.0) || flow->scale_drive < NEAR_ENOUGH * largest) {
        return false;
    }
    scale_all(flow, largest);
    return true;
}
