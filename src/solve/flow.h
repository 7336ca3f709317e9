/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flow solver. The flows of a network whose laws all rise with the flow minimise a strictly convex
 * function, the content (Millar 1951, Phil. Mag. 42:1150; Birkhoff & Diaz 1956, Quart. Appl. Math. 13:431),
 * subject to conservation of mass; a Newton iteration with a line search along that function therefore
 * converges from any start.
 *
 * One object is made for one topology and then solves as many settings as wanted: laws, pressures, inflows
 * and given flows of the network may change between solutions. After hr_flow_new small networks allocate
 * nothing; large ones only inside SuiteSparse. An object must not be used by two threads at once; several
 * objects are independent. */
#ifndef HR_SOLVE_FLOW_H
#define HR_SOLVE_FLOW_H

#include "network/network.h"
#include "solve/nodal.h"

#include <stdbool.h>
#include <stddef.h>

struct hr_flow_settings {
    size_t iterations_max; /* Newton steps of one inner solution; default 200 */
    size_t rounds_max;     /* changes of shut valves, and of losses that depend on the split; default 200 */
    double tolerance;      /* residuals aimed at; default 1e-12. Up to `acceptable` counts as solved */
    double acceptable;     /* default 1e-10 */
    enum hr_nodal_choice factorisation;
};

struct hr_flow_settings hr_flow_defaults(void);

enum hr_flow_outcome {
    HR_FLOW_SOLVED,
    HR_FLOW_NOT_CONVERGED, /* quality says how far it came; `branch` has the largest pressure residual */
    HR_FLOW_NO_OUTLET,     /* what flows into a part of the network has no way out: `node` is in that part */
    HR_FLOW_AGAINST_VALVE, /* conservation of mass needs flow through `branch` against its one-way valve */
    HR_FLOW_TWO_GIVEN      /* different flows are given in series (closed gives 0), one at `branch` */
};

/* How an answer came about and how good it is, by the solver's own account; hr_flow_certify checks
 * independently. */
struct hr_flow_quality {
    size_t iterations; /* Newton steps, all rounds together */
    size_t searches;   /* of these, steps shortened by the line search */
    size_t rounds;     /* inner solutions: 1 unless valves shut or losses depend on the split */
    double mass_residual;
    double pressure_residual;
    double driving_pressure; /* Pa, the largest in the network: pump heads at zero flow, differences of given
                                pressures */
    bool small;              /* which factorisation */
    uint32_t branch, node;   /* where, for outcomes other than solved; UINT32_MAX where it does not apply */
};

struct hr_flow;

/* Makes the object; borrows `network`, which must live longer. `settings` NULL: defaults. HR_NO_RESULT where
 * lossless joins form a ring (`*ring` names one of the branches, else UINT32_MAX), HR_SYSTEM when memory is
 * out. */
enum hr_status hr_flow_new(const struct hr_network *network, const struct hr_flow_settings *settings,
                           struct hr_flow **flow, uint32_t *ring, struct hr_report *report);
void hr_flow_free(struct hr_flow *flow);

/* To be called after laws of the network were replaced (another speed, another fluid). */
void hr_flow_rebind(struct hr_flow *flow);

/* Forgets the last solution: the next one starts cold. */
void hr_flow_forget(struct hr_flow *flow);

/* Starts the next solution from these branch flows (branch_count of them); they need not conserve mass. */
void hr_flow_start_from(struct hr_flow *flow, const double branch_flow[]);

/* Solves; starts from the last solution if there is one. */
enum hr_flow_outcome hr_flow_solve(struct hr_flow *flow);

/* The last solution; all arrays belong to the object and are overwritten by the next. Flows in m3/s along the
 * branches' arrows; drops in Pa, inlet minus outlet without the hydrostatic part; potentials in Pa: gauge
 * pressure plus weight times height. Where `floating`, potentials are known only up to a constant of that
 * part of the network. */
struct hr_flow_solution {
    const double *branch_flow; /* branch_count */
    const double *branch_drop; /* branch_count; NaN across a closed branch between parts that are not tied */
    const double *node_potential; /* node_count */
    const bool *node_floating;    /* node_count */
    struct hr_flow_quality quality;
};
struct hr_flow_solution hr_flow_solution(const struct hr_flow *flow);

/* The outcome's name for results: static storage. */
const char *hr_flow_outcome_text(enum hr_flow_outcome outcome);

/* Residuals recomputed from the network's laws and a solution alone, by code that shares nothing with the
 * solver. */
struct hr_certificate {
    double mass_residual;     /* largest over nodes: |sum of flows| over sum of |flows|, floor 1e-12 of the
                                 largest flow */
    double pressure_residual; /* largest over branches: over the larger of |drop| and the driving pressure */
    double valve_residual;    /* largest violation of one-way and closed branches, in the same measures */
    uint32_t worst_branch, worst_node;
};
struct hr_certificate hr_flow_certify(const struct hr_network *network,
                                      const struct hr_flow_solution *solution);

#endif
