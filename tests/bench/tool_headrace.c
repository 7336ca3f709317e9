/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Our Newton iteration with different linear solvers. Each is a shared library of the same solver sources
 * with another file in the place of src/solve/large.c, loaded side by side. */
#include "bench.h"

#include "solve/flow.h"

#include <dlfcn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct functions {
    enum hr_status (*open)(const struct hr_network *, const struct hr_flow_settings *, struct hr_flow **,
                           uint32_t *, struct hr_report *);
    void (*close)(struct hr_flow *);
    void (*forget)(struct hr_flow *);
    void (*rebind)(struct hr_flow *);
    enum hr_flow_outcome (*solve)(struct hr_flow *);
    struct hr_flow_solution (*solution)(const struct hr_flow *);
    struct hr_flow_settings (*defaults)(void);
    struct hr_certificate (*certify)(const struct hr_network *, const struct hr_flow_solution *);
};

struct solver {
    struct functions call;
    struct hr_flow *flow;
    const struct hr_network *network;
};

static void find(void *library, const char *name, void *target)
{
    void *symbol = dlsym(library, name);
    if (symbol == NULL) {
        give_up("%s is missing from a solver's library", name);
    }
    memcpy(target, &symbol, sizeof symbol);
}

/* dlopen counts, and gives the same library again: all of it happens before any clock runs, except for the
 * few hundred nanoseconds of the scenario that opens anew; see `loaded`. */
static const struct functions *load(const char *name)
{
    static struct {
        const char *name;
        struct functions call;
    } loaded[8];
    size_t i = 0;
    for (; i < HR_ARRAY_LEN(loaded) && loaded[i].name != NULL; i++) {
        if (loaded[i].name == name) {
            return &loaded[i].call;
        }
    }
    char path[1000];
    snprintf(path, sizeof path, "%s/%s", bench_build, name);
    void *library = dlopen(path, RTLD_LAZY | RTLD_LOCAL);
    if (library == NULL || i == HR_ARRAY_LEN(loaded)) {
        give_up("cannot load %s: %s", path, dlerror());
    }
    loaded[i].name = name;
    struct functions *call = &loaded[i].call;
    find(library, "hr_flow_new", &call->open);
    find(library, "hr_flow_free", &call->close);
    find(library, "hr_flow_forget", &call->forget);
    find(library, "hr_flow_rebind", &call->rebind);
    find(library, "hr_flow_solve", &call->solve);
    find(library, "hr_flow_solution", &call->solution);
    find(library, "hr_flow_defaults", &call->defaults);
    find(library, "hr_flow_certify", &call->certify);
    return call;
}

static void *open_solver(const struct tool *tool, struct problem *problem)
{
    struct solver *solver = hr_alloc(1, sizeof *solver);
    if (solver == NULL) {
        give_up("out of memory");
    }
    solver->call = *load(tool->library);
    solver->network = &problem->network;
    struct hr_flow_settings settings = solver->call.defaults();
    settings.factorisation = tool->large ? HR_NODAL_LARGE : HR_NODAL_AUTO;
    struct hr_report report;
    uint32_t ring;
    hr_report_init(&report);
    if (solver->call.open(&problem->network, &settings, &solver->flow, &ring, &report) != HR_OK) {
        give_up("%s could not be opened for the %s", tool->name, problem->name);
    }
    hr_report_clear(&report);
    return solver;
}

static bool solve(void *opaque, bool cold)
{
    struct solver *solver = opaque;
    if (cold) {
        solver->call.forget(solver->flow);
    }
    return solver->call.solve(solver->flow) == HR_FLOW_SOLVED;
}

static void rebind(void *opaque)
{
    struct solver *solver = opaque;
    solver->call.rebind(solver->flow);
}

static const double *flows(void *opaque)
{
    struct solver *solver = opaque;
    return solver->call.solution(solver->flow).branch_flow;
}

/* By the certificate, which recomputes all residuals from the network alone. */
static void check(void *opaque)
{
    struct solver *solver = opaque;
    const struct hr_flow_solution solution = solver->call.solution(solver->flow);
    const struct hr_certificate certificate = solver->call.certify(solver->network, &solution);
    if (!(certificate.mass_residual <= 1e-9) || !(certificate.pressure_residual <= 1e-9)) {
        give_up("residuals of an answer are %.1e of mass and %.1e of pressure", certificate.mass_residual,
                certificate.pressure_residual);
    }
}

static size_t iterations(void *opaque)
{
    struct solver *solver = opaque;
    return solver->call.solution(solver->flow).quality.iterations;
}

static void close_solver(void *opaque)
{
    struct solver *solver = opaque;
    solver->call.close(solver->flow);
    free(solver);
}

#define OUR_NEWTON                                                                                           \
    .open = open_solver, .solve = solve, .rebind = rebind, .flows = flows, .iterations = iterations,         \
    .check = check, .close = close_solver

const struct tool tool_headrace = {.name = "headrace", .library = "solver-headrace.so", OUR_NEWTON};
const struct tool tool_simplicial = {
    .name = "CHOLMOD simplicial", .library = "solver-simplicial.so", .large = true, OUR_NEWTON};
const struct tool tool_supernodal = {
    .name = "CHOLMOD supernodal", .library = "solver-supernodal.so", .large = true, OUR_NEWTON};
const struct tool tool_klu = {.name = "KLU nodal", .library = "solver-klu.so", .large = true, OUR_NEWTON};
