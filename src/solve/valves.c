/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which one-way valves are shut? After each inner solution those that flow passes backwards are shut, and
 * shut ones that the pressure would open are opened.
 *
 * Shut valves can leave a part of the network that nothing else ties: its pressures then hold up to a
 * constant, and no pressure across a single valve says anything. The valves may stay shut if constants exist
 * that push none of them open, x_from - x_to <= slack = drop at no flow - (P_from - P_to): a system of
 * differences, which has a solution unless its graph has a ring of negative length (Bellman 1958, Quart.
 * Appl. Math. 16:87). Around such a ring the valves have to open. */
#include "solve/state.h"

#include <math.h>

#define NONE UINT32_MAX

/* By how much the pressure pushes a shut valve beyond what it takes to open it. */
static double push_on(const struct hr_flow *flow, size_t k)
{
    const struct hr_chain *chain = &flow->reduced->chain[k];
    double zero;
    double slope;
    hr_chain_evaluate(flow, k, 0.0, &zero, &slope);
    return flow->direction[k] * (flow->potential[chain->from] - flow->potential[chain->to] - zero);
}

/* The part at the upstream end of a valve (0) or at its downstream end (1). */
static uint32_t part_of(const struct hr_flow *flow, size_t k, int end)
{
    const struct hr_chain *chain = &flow->reduced->chain[k];
    return flow->component[(flow->direction[k] > 0) == (end == 0) ? chain->from : chain->to];
}

static bool is_between_parts(const struct hr_flow *flow, size_t k)
{
    return flow->shut[k] && !flow->cut_fixed[k] && part_of(flow, k, 0) != part_of(flow, k, 1);
}

/* Looks for a ring of negative length among `valves` valves; returns a part from which the valves in `low`
 * lead back into one, or NONE. The arrays of the search through the network are free at this time: `subtree`
 * holds the constants, `low` the valve that last lowered each. */
static uint32_t find_negative_ring(struct hr_flow *flow, size_t valves, double tolerance)
{
    const size_t parts = flow->reduced->point_count + 1;
    for (size_t i = 0; i < parts; i++) {
        flow->subtree[i] = 0.0;
        flow->low[i] = NONE;
    }
    uint32_t changed = 0;
    for (size_t round = 0; round <= valves && changed != NONE; round++) {
        changed = NONE;
        for (uint32_t k = 0; k < flow->reduced->chain_count; k++) {
            if (!is_between_parts(flow, k)) {
                continue;
            }
            const uint32_t from = part_of(flow, k, 0);
            const double most = flow->subtree[part_of(flow, k, 1)] - push_on(flow, k);
            if (flow->subtree[from] > most + tolerance) {
                flow->subtree[from] = most;
                flow->low[from] = k;
                changed = from;
            }
        }
    }
    return changed;
}

/* Opens the valves of the ring that `part` leads into. */
static size_t open_ring(struct hr_flow *flow, size_t valves, uint32_t part)
{
    size_t opened = 0;
    /* After so many steps it is in the ring. */
    for (size_t i = 0; i < valves && flow->low[part] != NONE; i++) {
        part = part_of(flow, flow->low[part], 1);
    }
    while (flow->low[part] != NONE && flow->shut[flow->low[part]]) {
        flow->shut[flow->low[part]] = false;
        opened++;
        part = part_of(flow, flow->low[part], 1);
    }
    return opened;
}

/* A pressure that the residuals may have made opens no valve; any larger one does, for in networks without
 * laminar shares it may already let a flow pass that counts. Should valves go on opening and shutting all the
 * same, it takes more and more, up to what counts as solved. */
static const double PUSH_ROUNDING = 1e-15;
static const size_t ROUNDS_PATIENT = 20;

static double opening_tolerance(const struct hr_flow *flow)
{
    const size_t rounds = flow->quality.rounds;
    const int doublings = rounds > ROUNDS_PATIENT ? (int)(rounds - ROUNDS_PATIENT) : 0;
    const double share = fmin(ldexp(PUSH_ROUNDING, doublings), flow->settings.acceptable);
    return fmax(share, 10.0 * flow->quality.pressure_residual) * flow->scale_drive;
}

size_t hr_valves_change(struct hr_flow *flow)
{
    const double tolerance = opening_tolerance(flow);
    size_t changes = 0;
    size_t between = 0;
    for (size_t k = 0; k < flow->reduced->chain_count; k++) {
        if (flow->direction[k] == 0 || flow->cut_fixed[k]) {
            continue;
        }
        if (!flow->shut[k]) {
            if (flow->q[k] * flow->direction[k] < 0.0) {
                flow->shut[k] = true;
                changes++;
            }
        } else if (is_between_parts(flow, k)) {
            between++;
        } else if (push_on(flow, k) > tolerance) {
            flow->shut[k] = false;
            changes++;
        }
    }
    if (changes > 0 || between == 0) {
        return changes;
    }
    const uint32_t part = find_negative_ring(flow, between, tolerance);
    return part == NONE ? 0 : open_ring(flow, between, part);
}
