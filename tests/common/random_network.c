/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A spanning tree keeps a network in one piece; more branches close loops. Valves, given flows and closed
 * branches that could leave an inflow without a way out stand outside the tree only, so that every network
 * has a solution. */
#include "random_network.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const random_feature_names[RANDOM_FEATURES] = {
    "one-way valves", "opening pressures", "pumps",   "closed branches", "given flows", "lossless joins",
    "power laws",     "given pressures",   "inflows", "dead loops",      "floating",
};

uint64_t random_next(struct random *random)
{
    uint64_t z = (random->state += 0x9e3779b97f4a7c15U);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31);
}

double random_unit(struct random *random)
{
    return (double)(random_next(random) >> 11) * 0x1p-53;
}

double random_between(struct random *random, double low, double high)
{
    return low + (high - low) * random_unit(random);
}

uint32_t random_below(struct random *random, uint32_t count)
{
    return (uint32_t)(random_next(random) % count);
}

static const double FLOW = 1e-4;    /* m3/s, where the laminar share is taken: 6 L/min */
static const double PRESSURE = 3e4; /* Pa */

/* What the branches of one network may be, drawn once for each. */
struct recipe {
    struct random *random;
    double laminar, pumps, valves, tree_valves, closed, given, lossless, powers;
};

/* c: head, linear, square of the falling pump curve -head + linear q + square q|q|. */
static void pump_curve(const struct hr_law *law, double q, double *drop, double *slope)
{
    *drop = -law->c[0] + (law->c[1] + law->c[2] * fabs(q)) * q;
    *slope = law->c[1] + 2.0 * law->c[2] * fabs(q);
}

/* c: head, flow at which half of it is left. Its slope falls with the flow, as that of a pump of given power.
 */
static void flattening_curve(const struct hr_law *law, double q, double *drop, double *slope)
{
    const double share = q < 0.0 ? 1.0 : law->c[1] / (law->c[1] + q);
    *drop = q < 0.0 ? -law->c[0] * (1.0 - q / law->c[1]) : -law->c[0] * share;
    *slope = law->c[0] / law->c[1] * share * share;
}

static struct hr_law random_pump(const struct recipe *recipe)
{
    const double head = PRESSURE * pow(10.0, random_between(recipe->random, -1.0, 0.3));
    const double free_flow = FLOW * pow(10.0, random_between(recipe->random, -0.5, 1.0));
    const double share = recipe->laminar > 0.0 ? random_between(recipe->random, 0.0, 0.5) : 0.0;
    if (random_unit(recipe->random) < 0.1) {
        const double half = free_flow * pow(10.0, random_between(recipe->random, -3.0, 0.0));
        return (struct hr_law){.evaluate = flattening_curve, .c = {100.0 * head, half}};
    }
    return (struct hr_law){
        .evaluate = pump_curve,
        .c = {head, share * head / free_flow, (1.0 - share) * head / (free_flow * free_flow)}};
}

static void add_law(struct random_network *out, struct hr_branch *branch, struct hr_law law)
{
    out->network.law[out->network.law_count++] = law;
    branch->law_count++;
}

static void add_resistance(struct random_network *out, struct hr_branch *branch, const struct recipe *recipe)
{
    const double drop = PRESSURE * pow(10.0, random_between(recipe->random, -4.0, 4.0)); /* at FLOW */
    if (random_unit(recipe->random) < recipe->powers) {
        const double n = random_between(recipe->random, 1.5, 2.0);
        add_law(out, branch, hr_law_power(drop / pow(FLOW, n), n));
        if (recipe->laminar > 0.0) {
            add_law(out, branch, hr_law_quadratic(recipe->laminar * drop / FLOW, 0.0, 0.0));
        }
        out->has[RANDOM_POWER_LAW]++;
        return;
    }
    const double square = drop / (FLOW * FLOW);
    add_law(out, branch, hr_law_quadratic(recipe->laminar * drop / FLOW, square, square));
}

static struct hr_branch *new_branch(struct random_network *out, uint32_t from, uint32_t to)
{
    struct hr_network *net = &out->network;
    struct hr_branch *branch = &net->branch[net->branch_count++];
    *branch = (struct hr_branch){.from = from, .to = to, .law_first = (uint32_t)net->law_count};
    return branch;
}

/* A resistance, perhaps with a pump or a valve. */
static void add_branch(struct random_network *out, uint32_t from, uint32_t to, const struct recipe *recipe,
                       double pumps, double valves)
{
    struct hr_branch *branch = new_branch(out, from, to);
    add_resistance(out, branch, recipe);
    if (random_unit(recipe->random) < pumps) {
        add_law(out, branch, random_pump(recipe));
        out->has[RANDOM_PUMP]++;
    }
    if (random_unit(recipe->random) < valves) {
        branch->one_way = true;
        out->has[RANDOM_VALVE]++;
        if (random_unit(recipe->random) < 0.3) {
            add_law(out, branch,
                    hr_law_offset(PRESSURE * pow(10.0, random_between(recipe->random, -2.0, 0.0))));
            out->has[RANDOM_OPENING_PRESSURE]++;
        }
    }
}

/* `joined[i]` is the first node of those that lossless joins tie to i. */
static void add_tree(struct random_network *out, uint32_t nodes, uint32_t joined[],
                     const struct recipe *recipe)
{
    joined[0] = 0;
    for (uint32_t i = 1; i < nodes; i++) {
        const uint32_t from = random_below(recipe->random, i);
        joined[i] = i;
        if (random_unit(recipe->random) < recipe->lossless) {
            new_branch(out, from, i);
            joined[i] = joined[from];
            out->has[RANDOM_LOSSLESS]++;
            continue;
        }
        add_branch(out, from, i, recipe, recipe->pumps, recipe->tree_valves);
    }
}

static void add_loops(struct random_network *out, uint32_t nodes, uint32_t count, bool pumpless,
                      const struct recipe *recipe)
{
    for (uint32_t i = 0; i < count; i++) {
        const uint32_t from = random_below(recipe->random, nodes);
        uint32_t to = random_below(recipe->random, nodes);
        to = to == from ? (from + 1) % nodes : to;
        const double draw = random_unit(recipe->random);
        if (draw < recipe->closed) {
            new_branch(out, from, to)->role = HR_BRANCH_CLOSED;
            out->has[RANDOM_CLOSED]++;
        } else if (draw < recipe->closed + recipe->given) {
            struct hr_branch *branch = new_branch(out, from, to);
            branch->role = HR_BRANCH_FLOW;
            branch->given_flow = FLOW * random_between(recipe->random, -0.5, 0.5);
            out->has[RANDOM_GIVEN_FLOW]++;
        } else {
            add_branch(out, from, to, recipe, i == 0 && !pumpless ? 1.0 : recipe->pumps, recipe->valves);
        }
    }
}

/* Gives the pressures: at one node, or at up to four that no lossless joins tie. */
static void fix_nodes(struct random_network *out, uint32_t nodes, const uint32_t joined[], uint32_t count,
                      struct random *random)
{
    uint32_t fixed = 0;
    for (uint32_t k = 0; k < count; k++) {
        const uint32_t node = random_below(random, nodes);
        bool tied = false;
        for (uint32_t i = 0; i < nodes; i++) {
            tied = tied || (out->network.node[i].fixed && joined[i] == joined[node]);
        }
        if (!tied) {
            out->network.node[node].fixed = true;
            out->network.node[node].pressure = k == 0 ? 0.0 : PRESSURE * random_between(random, -1.0, 1.0);
            out->network.node[node].lift = random_between(random, 0.0, 3e3);
            fixed++;
        }
    }
    out->has[RANDOM_PRESSURES] += fixed > 1;
    out->has[RANDOM_FLOATING] += fixed == 0;
}

static void add_dead_loop(struct random_network *out, uint32_t nodes, const struct recipe *recipe)
{
    const uint32_t from = random_below(recipe->random, nodes);
    out->dead_loop = (uint32_t)out->network.branch_count;
    add_branch(out, from, nodes, recipe, 0.0, 0.0);
    add_branch(out, nodes, nodes + 1, recipe, 0.0, 0.0);
    add_branch(out, nodes + 1, from, recipe, 0.0, 0.0);
    out->network.node_count += 2;
    out->has[RANDOM_DEAD_LOOP]++;
}

static void allocate(struct random_network *out, uint32_t nodes, uint32_t extra, uint32_t **joined)
{
    const size_t branches = (size_t)nodes + extra + 3;
    memset(out, 0, sizeof *out);
    out->network.node = calloc((size_t)nodes + 2, sizeof *out->network.node);
    out->network.branch = calloc(branches, sizeof *out->network.branch);
    out->network.law = calloc(4 * branches, sizeof *out->network.law);
    *joined = calloc(nodes, sizeof **joined);
    if (out->network.node == NULL || out->network.branch == NULL || out->network.law == NULL ||
        *joined == NULL) {
        fputs("random network: out of memory\n", stderr);
        exit(EXIT_FAILURE);
    }
    out->network.node_count = nodes;
    out->dead_loop = UINT32_MAX;
}

enum drive { BY_PUMPS, BY_PRESSURES, BY_INFLOWS, BY_GIVEN_FLOWS, DRIVES };

void random_network_make_sized(struct random_network *out, uint64_t seed, double laminar, uint32_t nodes_min,
                               uint32_t nodes_max)
{
    struct random random = {.state = seed};
    const uint32_t nodes = nodes_min + random_below(&random, nodes_max - nodes_min + 1);
    const uint32_t extra = 1 + random_below(&random, nodes);
    const uint32_t drive = random_below(&random, DRIVES);
    const bool pumpless = drive >= BY_INFLOWS && random_unit(&random) < 0.5;
    struct recipe recipe = {.random = &random, .laminar = laminar, .pumps = pumpless ? 0.0 : 0.1};
    recipe.valves = random_unit(&random) < 0.5 ? random_between(&random, 0.05, 0.4) : 0.0;
    recipe.tree_valves = drive <= BY_PRESSURES && random_unit(&random) < 0.5 ? recipe.valves : 0.0;
    recipe.closed = random_unit(&random) < 0.3 ? 0.1 : 0.0;
    recipe.given = drive == BY_GIVEN_FLOWS ? 0.2 : 0.0;
    recipe.lossless = random_unit(&random) < 0.3 ? 0.15 : 0.0;
    recipe.powers = random_unit(&random) < 0.3 ? 0.5 : 0.0;
    const bool floats = (drive == BY_PUMPS || drive == BY_GIVEN_FLOWS) && random_unit(&random) < 0.1;

    uint32_t *joined;
    allocate(out, nodes, extra, &joined);
    add_tree(out, nodes, joined, &recipe);
    add_loops(out, nodes, extra, pumpless, &recipe);
    fix_nodes(out, nodes, joined, floats ? 0 : drive == BY_PRESSURES ? 4 : 1, &random);
    for (uint32_t i = 0; i < 3 && drive == BY_INFLOWS; i++) {
        out->network.node[random_below(&random, nodes)].inflow += FLOW * random_between(&random, -0.5, 0.5);
        out->has[RANDOM_INFLOW]++;
    }
    if (random_unit(&random) < 0.3) {
        add_dead_loop(out, nodes, &recipe);
    }
    free(joined);
}

void random_network_make(struct random_network *out, uint64_t seed, double laminar)
{
    random_network_make_sized(out, seed, laminar, 3, 60);
}

void random_network_clear(struct random_network *net)
{
    free(net->network.node);
    free(net->network.branch);
    free(net->network.law);
    memset(net, 0, sizeof *net);
}
