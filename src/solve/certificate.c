/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An independent check of a solution: laws, conservation of mass and valves, recomputed branch by branch and
 * node by node from the network alone. Nothing here is shared with the solver. */
#include "solve/flow.h"

#include "part/kind.h"

#include <math.h>
#include <stdlib.h>

static double law_drop(const struct hr_network *network, const struct hr_branch *branch, double flow)
{
    double sum = 0.0;
    for (uint32_t i = 0; i < branch->law_count; i++) {
        double drop;
        double slope;
        hr_law_evaluate(&network->law[branch->law_first + i], flow, &drop, &slope);
        sum += drop;
    }
    return sum;
}

/* NaN replaces everything and stays: a residual that is not a number must not pass. */
static void raise_to(double *largest, double value, uint32_t *where, uint32_t index)
{
    if (!(value <= *largest) && !isnan(*largest)) {
        *largest = value;
        *where = index;
    }
}

static bool is_pushed(const struct hr_network *network)
{
    bool pushed = false;
    for (size_t i = 0; i < network->node_count; i++) {
        pushed = pushed || network->node[i].inflow != 0.0;
    }
    for (size_t b = 0; b < network->branch_count; b++) {
        pushed = pushed || network->branch[b].role == HR_BRANCH_FLOW;
    }
    return pushed;
}

static double driving_pressure(const struct hr_network *network, const struct hr_flow_solution *solution)
{
    double low = INFINITY;
    double high = -INFINITY;
    double drive = 0.0;
    for (size_t i = 0; i < network->node_count; i++) {
        if (network->node[i].fixed) {
            low = fmin(low, solution->node_potential[i]);
            high = fmax(high, solution->node_potential[i]);
        }
    }
    double largest_drop = 0.0;
    for (size_t b = 0; b < network->branch_count; b++) {
        drive = fmax(drive, fabs(law_drop(network, &network->branch[b], 0.0)));
        largest_drop =
            fmax(largest_drop, fabs(law_drop(network, &network->branch[b], solution->branch_flow[b])));
    }
    drive = high > low ? fmax(drive, high - low) : drive;
    /* What pushes a flow through drives too: its pressure shows in the largest drop. Without any drive, drops
     * far below the given potentials are lost in the digits of these. */
    const double least = high >= low ? 1e-3 * fmax(fabs(low), fabs(high)) : 0.0;
    if (drive == 0.0) {
        return fmax(largest_drop, least);
    }
    return is_pushed(network) ? fmax(drive, largest_drop) : drive;
}

/* Flows enter a node's balance with its inflow; a node of given pressure takes up what is left. */
static void check_mass(const struct hr_network *network, const struct hr_flow_solution *solution, double *sum,
                       double *size, struct hr_certificate *certificate)
{
    double largest = 0.0;
    for (size_t i = 0; i < network->node_count; i++) {
        sum[i] = network->node[i].inflow;
        size[i] = fabs(sum[i]);
    }
    for (size_t b = 0; b < network->branch_count; b++) {
        const double flow = solution->branch_flow[b];
        sum[network->branch[b].from] -= flow;
        sum[network->branch[b].to] += flow;
        size[network->branch[b].from] += fabs(flow);
        size[network->branch[b].to] += fabs(flow);
        largest = fmax(largest, fabs(flow));
    }
    for (size_t i = 0; i < network->node_count; i++) {
        if (!network->node[i].fixed && sum[i] != 0.0) {
            raise_to(&certificate->mass_residual, fabs(sum[i]) / fmax(size[i], 1e-12 * largest),
                     &certificate->worst_node, (uint32_t)i);
        }
    }
}

static void check_branch(const struct hr_network *network, const struct hr_flow_solution *solution,
                         uint32_t b, double drive, struct hr_certificate *certificate)
{
    const struct hr_branch *branch = &network->branch[b];
    const double flow = solution->branch_flow[b];
    const double between = solution->node_potential[branch->from] - solution->node_potential[branch->to];
    const double scale = fmax(drive, fabs(between));
    if (branch->role == HR_BRANCH_CLOSED) {
        raise_to(&certificate->valve_residual, fabs(flow), &certificate->worst_branch, b);
    } else if (branch->role == HR_BRANCH_FLOW) {
        const double off = fabs(flow - branch->given_flow);
        raise_to(&certificate->valve_residual, off == 0.0 ? 0.0 : off / fabs(branch->given_flow),
                 &certificate->worst_branch, b);
    } else if (branch->one_way && flow <= 0.0) {
        /* Exactly shut, and not pushed open by more than its opening drop. */
        const bool tied = !solution->node_floating[branch->from] && !solution->node_floating[branch->to];
        const double push = between - law_drop(network, branch, 0.0);
        raise_to(&certificate->valve_residual, flow < 0.0 ? INFINITY : 0.0, &certificate->worst_branch, b);
        raise_to(&certificate->valve_residual, tied && push > 0.0 && drive > 0.0 ? push / scale : 0.0,
                 &certificate->worst_branch, b);
    } else {
        const double off = fabs(law_drop(network, branch, flow) - between);
        raise_to(&certificate->pressure_residual, off == 0.0 ? 0.0 : off / scale, &certificate->worst_branch,
                 b);
    }
}

/* A tee's legs: what the part says for these flows, not what the solver put in its place. */
static void check_split(const struct hr_network *network, const struct hr_flow_solution *solution,
                        const struct hr_split_loss *split, double drive, struct hr_certificate *certificate)
{
    const struct hr_setting setting = {.fluid = split->fluid, .speed_rpm = NAN};
    double in[HR_SPLIT_LEGS];
    double drop[HR_SPLIT_LEGS];
    for (size_t i = 0; i < split->leg_count; i++) {
        in[i] = solution->branch_flow[split->leg[i]];
    }
    split->kind->split(split->part, &setting, in, drop);
    for (size_t i = 0; i < split->leg_count; i++) {
        const struct hr_branch *branch = &network->branch[split->leg[i]];
        const double between = solution->node_potential[branch->from] - solution->node_potential[branch->to];
        const double off = fabs(drop[i] - between);
        raise_to(&certificate->pressure_residual, off == 0.0 ? 0.0 : off / fmax(drive, fabs(between)),
                 &certificate->worst_branch, split->leg[i]);
    }
}

struct hr_certificate hr_flow_certify(const struct hr_network *network,
                                      const struct hr_flow_solution *solution)
{
    struct hr_certificate certificate = {.worst_branch = UINT32_MAX, .worst_node = UINT32_MAX};
    double *sum = hr_alloc(2 * network->node_count, sizeof *sum);
    if (sum == NULL) {
        certificate.mass_residual = NAN; /* nothing was checked, so nothing may pass */
        return certificate;
    }
    check_mass(network, solution, sum, sum + network->node_count, &certificate);
    const double drive = driving_pressure(network, solution);
    for (uint32_t b = 0; b < network->branch_count; b++) {
        check_branch(network, solution, b, drive, &certificate);
    }
    for (size_t i = 0; i < network->split_count; i++) {
        check_split(network, solution, &network->split[i], drive, &certificate);
    }
    free(sum);
    return certificate;
}
