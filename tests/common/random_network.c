/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random_network.h"

#include "base/memory.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

static const double FLOW = 1e-4;    /* m3/s, where the laminar share is taken: about 6 L/min */
static const double PRESSURE = 3e4; /* Pa */

/* A falling pump curve h0 - c h0 q/q0 - (1 - c) h0 q|q|/q0^2, as a law; c[3] is not used by the quadratic law. */
static void pump_curve(const struct hr_law *law, double q, double *drop, double *slope)
{
    *drop = -law->c[0] + (law->c[1] + law->c[2] * fabs(q)) * q;
    *slope = law->c[1] + 2.0 * law->c[2] * fabs(q);
}

static struct hr_law random_pump(struct random *random, double laminar)
{
    const double head = PRESSURE * pow(10.0, random_between(random, -1.0, 0.3));
    const double free_flow = FLOW * pow(10.0, random_between(random, -0.5, 1.0));
    const double share = laminar > 0.0 ? random_between(random, 0.0, 0.5) : 0.0;
    const struct hr_law law = {
        .evaluate = pump_curve,
        .c = {head, share * head / free_flow, (1.0 - share) * head / (free_flow * free_flow)}};
    return law;
}

static struct hr_law random_resistance(struct random *random, double laminar)
{
    const double square = PRESSURE / (FLOW * FLOW) * pow(10.0, random_between(random, -4.0, 4.0));
    return hr_law_quadratic(laminar * square * FLOW, square, square);
}

static void add_branch(struct hr_network *net, struct random *random, uint32_t from, uint32_t to, double laminar,
                       double pump_share, double valve_share)
{
    struct hr_branch *branch = &net->branch[net->branch_count++];
    *branch = (struct hr_branch){.from = from, .to = to, .law_first = (uint32_t)net->law_count, .law_count = 1};
    net->law[net->law_count++] = random_resistance(random, laminar);
    if (random_unit(random) < pump_share) {
        net->law[net->law_count++] = random_pump(random, laminar);
        branch->law_count = 2;
    }
    branch->one_way = random_unit(random) < valve_share;
}

/* A spanning tree keeps it in one piece; more branches close loops, some of them dead (no pump inside) and some nodes
 * hang on a single branch (idle). */
void random_network_make(struct random_network *out, uint64_t seed, double laminar)
{
    struct random random = {.state = seed};
    const uint32_t nodes = 3 + random_below(&random, 58);
    const uint32_t extra = 1 + random_below(&random, nodes);
    const double valves = random_unit(&random) < 0.5 ? 0.15 : 0.0;
    memset(out, 0, sizeof *out);
    struct hr_network *net = &out->network;
    net->node = calloc(nodes, sizeof *net->node);
    net->branch = calloc(nodes + extra, sizeof *net->branch);
    net->law = calloc(2 * (size_t)(nodes + extra), sizeof *net->law);
    if (net->node == NULL || net->branch == NULL || net->law == NULL) {
        fputs("random network: out of memory\n", stderr);
        exit(EXIT_FAILURE);
    }
    net->node_count = nodes;
    for (uint32_t i = 1; i < nodes; i++) {
        add_branch(net, &random, random_below(&random, i), i, laminar, 0.1, 0.0);
    }
    for (uint32_t i = 0; i < extra; i++) {
        const uint32_t from = random_below(&random, nodes);
        uint32_t to = random_below(&random, nodes);
        to = to == from ? (from + 1) % nodes : to;
        add_branch(net, &random, from, to, laminar, i == 0 ? 1.0 : 0.1, valves);
    }
    net->node[random_below(&random, nodes)].fixed = true;
    const uint32_t kind = random_below(&random, 4);
    for (uint32_t i = 0; i < 3 && kind == 1; i++) {
        struct hr_node *node = &net->node[random_below(&random, nodes)];
        node->fixed = true;
        node->pressure = PRESSURE * random_between(&random, -1.0, 1.0);
    }
    for (uint32_t i = 0; i < 3 && kind == 2; i++) {
        net->node[random_below(&random, nodes)].inflow += FLOW * random_between(&random, -0.5, 0.5);
    }
    for (size_t b = 0; b < net->branch_count; b++) {
        out->has_valves = out->has_valves || net->branch[b].one_way;
    }
}

void random_network_clear(struct random_network *net)
{
    free(net->network.node);
    free(net->network.branch);
    free(net->network.law);
    memset(net, 0, sizeof *net);
}
