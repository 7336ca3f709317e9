/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the flow solver share: the object's inside, by chains and points of the reduced network.
 */
#ifndef HR_SOLVE_STATE_H
#define HR_SOLVE_STATE_H

#include "network/reduce.h"
#include "solve/flow.h"

/* A law of a chain that cannot be added up with others. */
struct hr_member_law {
    const struct hr_law *law;
    double sign;
};

/* The laws of a chain: quadratic ones summed, the others listed. */
struct hr_chain_law {
    double linear, square, square_reverse;
    uint32_t other_first, other_count;
};

/* A node on the tree of lossless branches, leaves first. */
struct hr_join {
    double size;       /* sum of the flows' sizes at the node, lossless branches not counted */
    uint32_t busiest;  /* of itself and the nodes behind it */
    uint32_t lossless; /* place in the reduced network's list of the branch to the node before it; UINT32_MAX:
                          none */
};

/* Why a chain's flow is not an unknown of the Newton iteration. */
enum hr_chain_cut {
    HR_CHAIN_FREE,
    HR_CHAIN_CUT,   /* closed, or its flow is given: carries no pressure from end to end */
    HR_CHAIN_BRIDGE /* conservation of mass alone decides its flow */
};

struct hr_flow {
    const struct hr_network *network;
    struct hr_flow_settings settings;
    struct hr_reduced *reduced;
    struct hr_nodal *nodal;
    bool warm;   /* `q` and `potential` hold an earlier solution */
    bool scaled; /* ref_flow and floors are right for `scale_drive` */
    bool valves; /* some chain is one-way */

    /* By chain. */
    struct hr_chain_law *law;
    struct hr_member_law *other;
    int8_t *direction;      /* of one-way valves: 1, -1, 0 none */
    bool *shut;             /* one-way and shut */
    bool *cut_fixed;        /* closed or given by the network */
    bool *drives;           /* has a drop at no flow */
    enum hr_chain_cut *cut; /* under the present shut valves */
    double *q, *step, *last_step, *trial;
    double *drop, *slope, *new_drop, *new_slope; /* at q, and at the trial flows */
    double *weight, *residual;
    double *ref_flow;  /* flow at which the chain takes about the driving pressure */
    double *tiny_flow; /* flow below which its drop is rounding error */
    double *floor;     /* least slope in the matrix, and only there */

    /* By point. */
    bool *fixed, *ground;
    double *potential, *increment, *imbalance, *right, *throughput;
    /* By point plus one for the virtual root, from the classification. */
    uint32_t *edge_first, *edge; /* chains at each point; by point + 1 */
    uint32_t *order, *parent_chain, *discovered, *low, *next_edge, *component;
    uint32_t *block; /* the first point, in the search's order, of what hangs together without bridges */
    uint32_t *sink;  /* first point of a block -> its busiest point */
    double *subtree, *block_sum;
    size_t visited;
    bool floating_blocks; /* some block has no given pressure */

    /* Expanded. */
    double *branch_flow, *branch_drop, *node_potential, *class_potential;
    bool *node_floating, *class_floating;
    struct hr_join *join; /* by node, where there are lossless branches */

    double *split_offset, *split_value; /* workspace of the split iteration: last offsets and residuals */
    double drive, scale_drive, largest_flow, largest_imbalance;
    double drive_least; /* smaller drops are lost in the digits of the given potentials */
    struct hr_flow_quality quality;
};

/* chains.c: gathers the laws, finds the scales, evaluates. */
void hr_chains_gather(struct hr_flow *flow);
void hr_chains_scale(struct hr_flow *flow);
/* Where only inflows and given flows drive, their pressure is known but roughly before the solution: true
 * when the scales were far too large for the flows at hand and are now right. */
bool hr_chains_scale_again(struct hr_flow *flow);
void hr_chain_evaluate(const struct hr_flow *flow, size_t chain, double q, double *drop, double *slope);

/* classify.c: which chains are unknowns under the present shut valves; sets the flows of the others. */
enum hr_flow_outcome hr_chains_classify(struct hr_flow *flow);

/* newton.c: one inner solution; true when it converged to `acceptable`. */
bool hr_newton_solve(struct hr_flow *flow);

/* valves.c: shuts and opens one-way valves after an inner solution; how many changed. */
size_t hr_valves_change(struct hr_flow *flow);

/* expand.c: flows and pressures of all branches and nodes. */
void hr_flow_expand(struct hr_flow *flow);

#endif
