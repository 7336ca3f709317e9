/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rival: SUNDIALS KINSOL with KLU on the whole system, as a programmer would write it who has the equations
 * and a general solver: unknowns are the flows of all branches and the pressures of all nodes that are not
 * given; equations are drop_k(Q_k) - (p_from - p_to) = 0   for each branch and   sum of flows = 0   for each
 * node; the Jacobian is analytic, sparse, and evaluated at each iteration. Units are chosen so that unknowns
 * and residuals are about 1. Newton's full step (KIN_NONE): KINSOL's line search fails on the larger grids.
 */
#include "bench.h"

#include <kinsol/kinsol.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#define NONE SIZE_MAX

static const double FLOW_UNIT = 1e-4;    /* m3/s */
static const double PRESSURE_UNIT = 1e4; /* Pa */
static const double TOLERANCE = 1e-10;   /* of residuals in these units */
static const double START = 0.1;         /* of each flow, in these units */

struct solver {
    const struct hr_network *network;
    SUNContext context;
    void *kinsol;
    N_Vector unknown, scale;
    SUNMatrix matrix;
    SUNLinearSolver linear;
    size_t *place;      /* node -> its pressure among the unknowns, NONE where it is given */
    sunindextype *slot; /* in the matrix, of each branch: its slope, -1 where it leaves, 1 where it arrives */
    double *flow;
    size_t size;
};

static void branch_drop(const struct hr_network *network, size_t b, double flow, double *drop, double *slope)
{
    const struct hr_branch *branch = &network->branch[b];
    *drop = 0.0;
    *slope = 0.0;
    for (uint32_t i = 0; i < branch->law_count; i++) {
        double part;
        double part_slope;
        hr_law_evaluate(&network->law[branch->law_first + i], flow, &part, &part_slope);
        *drop += part;
        *slope += part_slope;
    }
}

static double pressure(const struct solver *solver, const double u[], uint32_t node)
{
    const size_t place = solver->place[node];
    return place == NONE ? solver->network->node[node].pressure / PRESSURE_UNIT : u[place];
}

static int residuals(N_Vector unknown, N_Vector residual, void *opaque)
{
    const struct solver *solver = opaque;
    const struct hr_network *network = solver->network;
    const double *u = N_VGetArrayPointer(unknown);
    double *f = N_VGetArrayPointer(residual);
    for (size_t i = 0; i < network->node_count; i++) {
        if (solver->place[i] != NONE) {
            f[solver->place[i]] = network->node[i].inflow / FLOW_UNIT;
        }
    }
    for (size_t b = 0; b < network->branch_count; b++) {
        const struct hr_branch *branch = &network->branch[b];
        double drop;
        double slope;
        branch_drop(network, b, u[b] * FLOW_UNIT, &drop, &slope);
        f[b] = drop / PRESSURE_UNIT - pressure(solver, u, branch->from) + pressure(solver, u, branch->to);
        if (solver->place[branch->from] != NONE) {
            f[solver->place[branch->from]] -= u[b];
        }
        if (solver->place[branch->to] != NONE) {
            f[solver->place[branch->to]] += u[b];
        }
    }
    return 0;
}

/* The pattern and all entries but the slopes are constant; KLU keeps none of the values. */
static int jacobian(N_Vector unknown, N_Vector residual, SUNMatrix matrix, void *opaque, N_Vector a,
                    N_Vector b)
{
    (void)residual;
    (void)a;
    (void)b;
    const struct solver *solver = opaque;
    const struct hr_network *network = solver->network;
    const double *u = N_VGetArrayPointer(unknown);
    sunindextype *first = SUNSparseMatrix_IndexPointers(matrix);
    sunindextype *row = SUNSparseMatrix_IndexValues(matrix);
    double *value = SUNSparseMatrix_Data(matrix);
    sunindextype at = 0;
    for (size_t k = 0; k < network->branch_count; k++) {
        const struct hr_branch *branch = &network->branch[k];
        double drop;
        double slope;
        branch_drop(network, k, u[k] * FLOW_UNIT, &drop, &slope);
        first[k] = at;
        row[at] = (sunindextype)k;
        value[at++] = slope * FLOW_UNIT / PRESSURE_UNIT;
        const size_t places[2] = {solver->place[branch->from], solver->place[branch->to]};
        for (size_t e = 0; e < 2; e++) {
            if (places[e] != NONE) {
                row[at] = (sunindextype)places[e];
                value[at++] = e == 0 ? -1.0 : 1.0;
            }
        }
    }
    memcpy(&first[network->branch_count], solver->slot,
           (solver->size - network->branch_count + 1) * sizeof *first);
    for (size_t i = network->branch_count; i <= solver->size; i++) {
        first[i] += at;
    }
    sunindextype *next = solver->slot + (solver->size - network->branch_count + 1);
    memcpy(next, &first[network->branch_count], (solver->size - network->branch_count) * sizeof *next);
    for (size_t k = 0; k < network->branch_count; k++) {
        const uint32_t ends[2] = {network->branch[k].from, network->branch[k].to};
        for (size_t e = 0; e < 2; e++) {
            if (solver->place[ends[e]] != NONE) {
                const sunindextype put = next[solver->place[ends[e]] - network->branch_count]++;
                row[put] = (sunindextype)k;
                value[put] = e == 0 ? -1.0 : 1.0;
            }
        }
    }
    return 0;
}

static void need(bool condition, const char *what)
{
    if (!condition) {
        give_up("KINSOL: %s failed", what);
    }
}

/* Numbers the unknowns; `slot` begins with how many entries stand in the columns of pressures before each. */
static size_t number_unknowns(struct solver *solver)
{
    const struct hr_network *network = solver->network;
    solver->place = hr_alloc(network->node_count, sizeof *solver->place);
    need(solver->place != NULL, "memory");
    solver->size = network->branch_count;
    for (size_t i = 0; i < network->node_count; i++) {
        solver->place[i] = network->node[i].fixed ? NONE : solver->size++;
    }
    const size_t pressures = solver->size - network->branch_count;
    solver->slot = hr_alloc(2 * pressures + 1, sizeof *solver->slot);
    need(solver->slot != NULL, "memory");
    size_t entries = network->branch_count;
    for (size_t b = 0; b < network->branch_count; b++) {
        const uint32_t ends[2] = {network->branch[b].from, network->branch[b].to};
        for (size_t e = 0; e < 2; e++) {
            if (solver->place[ends[e]] != NONE) {
                solver->slot[solver->place[ends[e]] - network->branch_count + 1]++;
                entries += 2;
            }
        }
    }
    for (size_t i = 0; i < pressures; i++) {
        solver->slot[i + 1] += solver->slot[i];
    }
    return entries;
}

static void start(struct solver *solver)
{
    double *u = N_VGetArrayPointer(solver->unknown);
    for (size_t i = 0; i < solver->size; i++) {
        u[i] = i < solver->network->branch_count ? START : 0.0;
    }
}

static void *open_solver(const struct tool *tool, struct problem *problem)
{
    (void)tool;
    struct solver *solver = hr_alloc(1, sizeof *solver);
    need(solver != NULL, "memory");
    solver->network = &problem->network;
    const size_t entries = number_unknowns(solver);
    const sunindextype size = (sunindextype)solver->size;
    solver->flow = hr_alloc(problem->network.branch_count, sizeof *solver->flow);
    need(solver->flow != NULL && SUNContext_Create(NULL, &solver->context) == 0, "SUNContext_Create");
    solver->unknown = N_VNew_Serial(size, solver->context);
    solver->scale = N_VNew_Serial(size, solver->context);
    solver->matrix = SUNSparseMatrix(size, size, (sunindextype)entries, CSC_MAT, solver->context);
    solver->kinsol = KINCreate(solver->context);
    need(solver->unknown != NULL && solver->scale != NULL && solver->matrix != NULL && solver->kinsol != NULL,
         "memory");
    N_VConst(1.0, solver->scale);
    start(solver);
    solver->linear = SUNLinSol_KLU(solver->unknown, solver->matrix, solver->context);
    need(solver->linear != NULL, "SUNLinSol_KLU");
    need(KINInit(solver->kinsol, residuals, solver->unknown) == KIN_SUCCESS, "KINInit");
    need(KINSetLinearSolver(solver->kinsol, solver->linear, solver->matrix) == KIN_SUCCESS,
         "KINSetLinearSolver");
    need(KINSetJacFn(solver->kinsol, jacobian) == KIN_SUCCESS, "KINSetJacFn");
    need(KINSetUserData(solver->kinsol, solver) == KIN_SUCCESS, "KINSetUserData");
    need(KINSetFuncNormTol(solver->kinsol, TOLERANCE) == KIN_SUCCESS, "KINSetFuncNormTol");
    need(KINSetScaledStepTol(solver->kinsol, 1e-15) == KIN_SUCCESS, "KINSetScaledStepTol");
    need(KINSetMaxSetupCalls(solver->kinsol, 1) == KIN_SUCCESS, "KINSetMaxSetupCalls");
    need(KINSetMaxNewtonStep(solver->kinsol, 1e12) == KIN_SUCCESS, "KINSetMaxNewtonStep");
    need(KINSetNumMaxIters(solver->kinsol, 200) == KIN_SUCCESS, "KINSetNumMaxIters");
    return solver;
}

static bool solve(void *opaque, bool cold)
{
    struct solver *solver = opaque;
    if (cold) {
        start(solver);
    }
    return KINSol(solver->kinsol, solver->unknown, KIN_NONE, solver->scale, solver->scale) >= 0;
}

/* The laws are read from the network at each evaluation. */
static void rebind(void *opaque)
{
    (void)opaque;
}

static const double *flows(void *opaque)
{
    struct solver *solver = opaque;
    const double *u = N_VGetArrayPointer(solver->unknown);
    for (size_t b = 0; b < solver->network->branch_count; b++) {
        solver->flow[b] = u[b] * FLOW_UNIT;
    }
    return solver->flow;
}

static size_t iterations(void *opaque)
{
    struct solver *solver = opaque;
    long count = 0;
    KINGetNumNonlinSolvIters(solver->kinsol, &count);
    return (size_t)count;
}

/* KINSOL has tested the residuals itself; the comparison of flows does the rest. */
static void check(void *opaque)
{
    struct solver *solver = opaque;
    double norm = NAN;
    KINGetFuncNorm(solver->kinsol, &norm);
    if (!(norm <= 1e-9)) {
        give_up("KINSOL stopped at a residual of %.1e", norm);
    }
}

static void close_solver(void *opaque)
{
    struct solver *solver = opaque;
    KINFree(&solver->kinsol);
    SUNLinSolFree(solver->linear);
    SUNMatDestroy(solver->matrix);
    N_VDestroy(solver->unknown);
    N_VDestroy(solver->scale);
    SUNContext_Free(&solver->context);
    free(solver->place);
    free(solver->slot);
    free(solver->flow);
    free(solver);
}

const struct tool tool_kinsol = {.name = "KINSOL+KLU",
                                 .open = open_solver,
                                 .solve = solve,
                                 .rebind = rebind,
                                 .flows = flows,
                                 .iterations = iterations,
                                 .check = check,
                                 .close = close_solver};
