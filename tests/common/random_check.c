/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random_check.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double RESIDUAL = 1e-10; /* of mass and pressure */
static const double PUSH = 1e-9;      /* by which a shut valve may be pushed open, of the pressures at hand */
static const double FLOW_SAME = 1e-9; /* of the largest flow */
static const double ROUNDING = 2.220446e-16; /* of the largest pressure */

void random_tally_add(struct random_tally *tally, const struct random_tally *more)
{
    tally->networks += more->networks;
    tally->unconverged += more->unconverged;
    tally->bad += more->bad;
    tally->wrongly_shut += more->wrongly_shut;
    tally->different += more->different;
    tally->moving_dead_loops += more->moving_dead_loops;
    tally->idle_branches += more->idle_branches;
    tally->shut_valves += more->shut_valves;
    tally->open_valves += more->open_valves;
    tally->iterations += more->iterations;
    tally->iterations_max =
        more->iterations_max > tally->iterations_max ? more->iterations_max : tally->iterations_max;
    tally->mass_residual = fmax(tally->mass_residual, more->mass_residual);
    tally->pressure_residual = fmax(tally->pressure_residual, more->pressure_residual);
    tally->valve_residual = fmax(tally->valve_residual, more->valve_residual);
    for (size_t i = 0; i < RANDOM_FEATURES; i++) {
        tally->has[i] += more->has[i];
    }
}

size_t random_tally_failures(const struct random_tally *tally)
{
    return tally->unconverged + tally->bad + tally->wrongly_shut + tally->different +
           tally->moving_dead_loops;
}

static double drop_at(const struct hr_network *network, const struct hr_branch *branch, double flow)
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

double random_hidden_flow(const struct hr_network *network, const struct hr_branch *branch, double pressure)
{
    const double rest = drop_at(network, branch, 0.0);
    double low = 1e-30;
    double high = 1e6;
    while (high > 1.01 * low) {
        const double middle = sqrt(low * high);
        if (fabs(drop_at(network, branch, middle) - rest) < pressure) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return high;
}

/* The largest pressure that rounding is relative to. */
static double pressure_scale(const struct hr_network *network, const struct hr_flow_solution *solution)
{
    double scale = 0.0;
    for (size_t b = 0; b < network->branch_count; b++) {
        scale = fmax(scale, fabs(drop_at(network, &network->branch[b], 0.0)));
        scale = fmax(scale, fabs(drop_at(network, &network->branch[b], solution->branch_flow[b])));
    }
    for (size_t i = 0; i < network->node_count; i++) {
        scale = fmax(scale, fabs(solution->node_potential[i]));
    }
    return scale;
}

static bool is_shut(const struct hr_branch *branch, double flow)
{
    return branch->role == HR_BRANCH_LAW && branch->one_way && flow == 0.0;
}

/* Parts that nothing but shut valves, closed branches and given flows joins have pressures known up to a
 * constant each. Constants must exist for which no shut valve is pushed open: a system of differences x_from
 * - x_to <= slack, which has a solution unless it has a ring of negative length (Bellman 1958, Quart. Appl.
 * Math. 16:87). */
static bool shut_valves_can_be(const struct hr_network *network, const struct hr_flow_solution *solution)
{
    const size_t nodes = network->node_count;
    uint32_t *part = hr_alloc(nodes, sizeof *part);
    double *shift = hr_alloc(nodes + 1, sizeof *shift); /* the last is the part of given pressures */
    const double tolerance = PUSH * pressure_scale(network, solution);
    bool changed = true;
    for (uint32_t i = 0; i < nodes && part != NULL; i++) {
        part[i] = network->node[i].fixed ? (uint32_t)nodes : i; /* all given pressures are one part */
    }
    while (changed && part != NULL) {
        changed = false;
        for (size_t b = 0; b < network->branch_count; b++) {
            const struct hr_branch *branch = &network->branch[b];
            const uint32_t from = part[branch->from];
            const uint32_t to = part[branch->to];
            if (branch->role == HR_BRANCH_LAW && !is_shut(branch, solution->branch_flow[b]) && from != to) {
                part[branch->from] = part[branch->to] = from > to ? from : to;
                changed = true;
            }
        }
    }
    changed = true;
    for (size_t round = 0; changed && round <= nodes && part != NULL && shift != NULL; round++) {
        changed = false;
        for (size_t b = 0; b < network->branch_count; b++) {
            const struct hr_branch *branch = &network->branch[b];
            if (!is_shut(branch, solution->branch_flow[b])) {
                continue;
            }
            const double slack = drop_at(network, branch, 0.0) - (solution->node_potential[branch->from] -
                                                                  solution->node_potential[branch->to]);
            double *from = &shift[part[branch->from]];
            const double *to = &shift[part[branch->to]];
            if (*from > *to + slack + tolerance) {
                *from = *to + slack;
                changed = true;
            }
        }
    }
    free(part);
    free(shift);
    return !changed;
}

static void check_dead_loop(const struct random_network *net, const struct hr_flow_solution *solution,
                            uint64_t seed, struct random_tally *tally, FILE *trace)
{
    for (uint32_t b = net->dead_loop; b != UINT32_MAX && b < net->dead_loop + 3; b++) {
        if (solution->branch_flow[b] != 0.0) {
            tally->moving_dead_loops++;
            if (trace != NULL) {
                fprintf(trace, "seed %llu: flow %.3e in a dead loop\n", (unsigned long long)seed,
                        solution->branch_flow[b]);
            }
            break;
        }
    }
}

static void check_answer(const struct random_network *net, const struct hr_flow_solution *solution,
                         uint64_t seed, struct random_tally *tally, FILE *trace)
{
    const struct hr_network *network = &net->network;
    const struct hr_certificate c = hr_flow_certify(network, solution);
    tally->mass_residual = fmax(tally->mass_residual, c.mass_residual);
    tally->pressure_residual = fmax(tally->pressure_residual, c.pressure_residual);
    tally->valve_residual = fmax(tally->valve_residual, c.valve_residual);
    if (!(c.mass_residual <= RESIDUAL && c.pressure_residual <= RESIDUAL && c.valve_residual <= PUSH)) {
        tally->bad++;
        if (trace != NULL) {
            fprintf(trace, "seed %llu: certificate mass %.2e pressure %.2e valve %.2e, branch %u, node %u\n",
                    (unsigned long long)seed, c.mass_residual, c.pressure_residual, c.valve_residual,
                    c.worst_branch, c.worst_node);
        }
    }
    if (net->has[RANDOM_VALVE] > 0 && !shut_valves_can_be(network, solution)) {
        tally->wrongly_shut++;
        if (trace != NULL) {
            fprintf(trace, "seed %llu: a valve is shut that must open\n", (unsigned long long)seed);
        }
    }
    check_dead_loop(net, solution, seed, tally, trace);
    for (size_t b = 0; b < network->branch_count; b++) {
        const struct hr_branch *branch = &network->branch[b];
        const bool zero = solution->branch_flow[b] == 0.0;
        tally->shut_valves += branch->one_way && zero;
        tally->open_valves += branch->one_way && !zero;
        tally->idle_branches += zero && branch->role == HR_BRANCH_LAW && !branch->one_way;
    }
}

/* The first branch whose flow differs, or the number of branches. */
static size_t first_different(const struct hr_network *network, const struct hr_flow_solution *solution,
                              const double flow[])
{
    double largest = 0.0;
    for (size_t b = 0; b < network->branch_count; b++) {
        largest = fmax(largest, fabs(flow[b]));
    }
    for (size_t b = 0; b < network->branch_count; b++) {
        const double off = fabs(solution->branch_flow[b] - flow[b]);
        if (off <= FLOW_SAME * largest) {
            continue;
        }
        const double pressure = ROUNDING * pressure_scale(network, solution);
        /* Twice: both answers may be off by it, to either side. */
        if (!(off <=
              FLOW_SAME * largest + 2.0 * random_hidden_flow(network, &network->branch[b], pressure))) {
            return b;
        }
    }
    return network->branch_count;
}

static void check_starts(const struct random_network *net, struct hr_flow *flow,
                         const struct random_trial *trial, uint64_t seed, struct random_tally *tally,
                         FILE *trace)
{
    const struct hr_network *network = &net->network;
    const size_t branches = network->branch_count;
    struct random random = {.state = ~seed};
    double *first = hr_alloc(branches, sizeof *first);
    double *start = hr_alloc(branches, sizeof *start);
    if (first == NULL || start == NULL) {
        tally->unconverged++;
        free(first);
        free(start);
        return;
    }
    memcpy(first, hr_flow_solution(flow).branch_flow, branches * sizeof *first);
    for (size_t k = 0; k < trial->starts; k++) {
        for (size_t b = 0; b < branches; b++) {
            const double size = 1e-4 * pow(10.0, random_between(&random, -3.0, 2.0));
            start[b] = random_unit(&random) < 0.5 ? -size : size;
        }
        hr_flow_start_from(flow, start);
        const enum hr_flow_outcome outcome = hr_flow_solve(flow);
        const struct hr_flow_solution solution = hr_flow_solution(flow);
        const size_t b = outcome == HR_FLOW_SOLVED ? first_different(network, &solution, first) : branches;
        tally->unconverged += outcome != HR_FLOW_SOLVED;
        tally->different += b < branches;
        if (outcome == HR_FLOW_SOLVED) {
            check_dead_loop(net, &solution, seed, tally, trace);
        }
        if (trace != NULL && (outcome != HR_FLOW_SOLVED || b < branches)) {
            fprintf(trace, "seed %llu, start %zu: %s", (unsigned long long)seed, k,
                    hr_flow_outcome_text(outcome));
            if (b < branches) {
                fprintf(trace, ", branch %zu: %.12e, from rest %.12e", b, solution.branch_flow[b], first[b]);
            }
            fputc('\n', trace);
        }
    }
    free(first);
    free(start);
}

void random_check(const struct random_trial *trial, uint64_t seed, struct random_tally *tally, FILE *trace)
{
    struct random_network net;
    struct hr_report report;
    struct hr_flow *flow;
    uint32_t ring;
    struct hr_flow_settings settings = hr_flow_defaults();
    settings.factorisation = trial->factorisation;
    random_network_make_sized(&net, seed, trial->laminar, trial->nodes_min, trial->nodes_max);
    hr_report_init(&report);
    tally->networks++;
    for (size_t i = 0; i < RANDOM_FEATURES; i++) {
        tally->has[i] += net.has[i] > 0;
    }
    const bool made = hr_flow_new(&net.network, &settings, &flow, &ring, &report) == HR_OK;
    const enum hr_flow_outcome outcome = made ? hr_flow_solve(flow) : HR_FLOW_NOT_CONVERGED;
    if (outcome != HR_FLOW_SOLVED) {
        tally->unconverged++;
        if (trace != NULL) {
            fprintf(trace, "seed %llu: %s\n", (unsigned long long)seed,
                    made ? hr_flow_outcome_text(outcome) : report.error[0].text);
        }
    } else {
        const struct hr_flow_solution solution = hr_flow_solution(flow);
        const size_t iterations = solution.quality.iterations;
        tally->iterations += iterations;
        tally->iterations_max = iterations > tally->iterations_max ? iterations : tally->iterations_max;
        check_answer(&net, &solution, seed, tally, trace);
        check_starts(&net, flow, trial, seed, tally, trace);
    }
    hr_flow_free(flow);
    random_network_clear(&net);
    hr_report_clear(&report);
}
