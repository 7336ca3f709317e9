/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The linear system of one Newton step: a weighted graph Laplacian with ground, M x = b, where each chain
 * between the points i and j adds its conductance w to M_ii and M_jj and -w to M_ij. Points with a given
 * pressure are the ground.
 *
 * Two factorisations stand behind it. Small networks use a static one without subtraction (small.c): every
 * pivot keeps its relative accuracy over any spread of conductances, and a floating part of the network shows
 * up as a pivot that is exactly zero. Large ones use CHOLMOD (large.c), the only file that knows SuiteSparse.
 */
#ifndef HR_SOLVE_NODAL_H
#define HR_SOLVE_NODAL_H

#include "base/report.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The pattern: `fixed[i]` marks ground; chain k joins from[k] and to[k], which may be equal (it then adds
 * nothing). */
struct hr_nodal_pattern {
    size_t point_count, chain_count;
    const uint32_t *from, *to;
    const bool *fixed;
};

enum hr_nodal_choice {
    HR_NODAL_AUTO,  /* by the cost of the static factorisation */
    HR_NODAL_SMALL, /* static, without subtraction; fails where it would be too large */
    HR_NODAL_LARGE  /* CHOLMOD, simplicial */
};

struct hr_nodal;

/* Analyses the pattern once; borrows nothing afterwards. HR_SYSTEM when memory is out. */
enum hr_status hr_nodal_new(const struct hr_nodal_pattern *pattern, enum hr_nodal_choice choice,
                            struct hr_nodal **nodal, struct hr_report *report);
void hr_nodal_free(struct hr_nodal *nodal);
bool hr_nodal_is_small(const struct hr_nodal *nodal);

/* Factorises for the conductances weight[k] >= 0. `ground[i]` marks one point of each part of the network
 * that floats under these weights; it gets x = 0 (the static factorisation finds such a point itself). False
 * when the matrix is not positive definite in floating-point arithmetic. */
bool hr_nodal_factor(struct hr_nodal *nodal, const double weight[], const bool ground[]);

/* Solves with the last factorisation; x is 0 at ground. b and x have point_count entries, and may not be the
 * same. */
void hr_nodal_solve(struct hr_nodal *nodal, const double b[], double x[]);

/* The two factorisations; used by nodal.c only. */
struct hr_small;
struct hr_large;
/* NULL in *small with HR_OK: more work than the static factorisation is meant for, and `any_size` is false.
 */
enum hr_status hr_small_new(const struct hr_nodal_pattern *pattern, bool any_size, struct hr_small **small,
                            struct hr_report *report);
void hr_small_free(struct hr_small *small);
void hr_small_factor(struct hr_small *small, const double weight[]);
void hr_small_solve(struct hr_small *small, const double b[], double x[]);
enum hr_status hr_large_new(const struct hr_nodal_pattern *pattern, struct hr_large **large,
                            struct hr_report *report);
void hr_large_free(struct hr_large *large);
bool hr_large_factor(struct hr_large *large, const double weight[], const bool ground[]);
void hr_large_solve(struct hr_large *large, const double b[], double x[]);

/* A fill-reducing order of the unfixed points (AMD): order[k] is the k-th point to eliminate. `count` of
 * them. */
enum hr_status hr_large_order(const struct hr_nodal_pattern *pattern, uint32_t order[], size_t *count,
                              struct hr_report *report);

#endif
