/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The graph that the solver works on: nodes, branches with laws in series, and what is given at the nodes. */
#ifndef HR_NETWORK_NETWORK_H
#define HR_NETWORK_NETWORK_H

#include "base/memory.h"
#include "base/report.h"
#include "part/law.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum hr_branch_role {
    HR_BRANCH_LAW,   /* pressure drop by its laws; no laws at all: lossless */
    HR_BRANCH_FLOW,  /* the flow is given (ideal pump); the pressure difference follows */
    HR_BRANCH_CLOSED /* no flow */
};

/* A branch from node `from` to node `to`; flow is positive along that arrow. */
struct hr_branch {
    uint32_t from, to;
    uint32_t law_first, law_count; /* in the network's laws */
    enum hr_branch_role role;
    bool one_way;      /* shut against the arrow: exactly zero */
    double given_flow; /* m3/s, of HR_BRANCH_FLOW */
};

struct hr_node {
    double lift;     /* Pa: weight of the fluid times height; pressure + lift is the potential */
    double inflow;   /* m3/s into the network from outside */
    bool fixed;      /* pressure given: boundary or reference */
    double pressure; /* Pa gauge, where fixed */
};

struct hr_part_kind;
struct hr_fluid_state;

enum { HR_SPLIT_LEGS = 4 };

/* A part whose losses depend on how the flow splits: a tee or Y. Its legs are branches from a port to the
 * common point; each has, as its last law, an hr_law_split that the solver keeps equal to the part's true
 * drop. */
struct hr_split_loss {
    const struct hr_part_kind *kind;
    const void *part;
    const struct hr_fluid_state *fluid;
    size_t leg_count;
    uint32_t leg[HR_SPLIT_LEGS];
};

/* drop = offset + linear q + square q|q|. The solver moves the offset, c[0]. */
struct hr_law hr_law_split(double offset, double linear, double square);

struct hr_network;

/* Sum of the laws of a branch at a flow along its arrow, Pa. */
double hr_branch_drop(const struct hr_network *network, uint32_t branch, double flow);

/* Plain arrays owned by whoever builds the network. Several loops, each with its own fluid, may
 * stand in one network as parts that nothing joins. */
struct hr_network {
    size_t node_count, branch_count, law_count;
    struct hr_node *node;
    struct hr_branch *branch;
    struct hr_law *law;
    struct hr_split_loss *split;
    size_t split_count;
};

#endif
