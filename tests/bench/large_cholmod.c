/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rival: CHOLMOD used plainly for the nodal matrix, without refinement. BENCH_SUPERNODAL: CHOLMOD_SIMPLICIAL
 * or CHOLMOD_SUPERNODAL. Stands in the place of src/solve/large.c. */
#include "base/memory.h"
#include "solve/nodal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <suitesparse/cholmod.h>

struct hr_large {
    struct hr_nodal_pattern pattern;
    uint32_t *ends;
    bool *known, *fixed;
    cholmod_common common;
    cholmod_sparse *matrix;
    cholmod_factor *factor;
    cholmod_dense *right, *solution, *y, *e;
    int *diagonal, *off_diagonal;
};

/* Lower triangle: the diagonal first in each column, then the entries of chains, repeated ones side by side.
 */
static bool build(struct hr_large *large)
{
    const struct hr_nodal_pattern *p = &large->pattern;
    large->matrix = cholmod_allocate_sparse(p->point_count, p->point_count, p->point_count + p->chain_count,
                                            0, 1, -1, CHOLMOD_REAL, &large->common);
    int *slot = hr_alloc(p->point_count + 1, sizeof *slot);
    if (large->matrix == NULL || slot == NULL) {
        return false;
    }
    int *first = large->matrix->p;
    int *row = large->matrix->i;
    for (size_t i = 0; i <= p->point_count; i++) {
        slot[i] = i < p->point_count;
    }
    for (size_t k = 0; k < p->chain_count; k++) {
        const uint32_t i = p->from[k];
        const uint32_t j = p->to[k];
        if (i != j && !p->fixed[i] && !p->fixed[j]) {
            slot[i < j ? i : j]++;
        }
    }
    int total = 0;
    for (size_t i = 0; i <= p->point_count; i++) {
        first[i] = total;
        total += slot[i];
        slot[i] = first[i];
    }
    for (size_t i = 0; i < p->point_count; i++) {
        large->diagonal[i] = slot[i];
        row[slot[i]++] = (int)i;
    }
    for (size_t k = 0; k < p->chain_count; k++) {
        const uint32_t i = p->from[k];
        const uint32_t j = p->to[k];
        large->off_diagonal[k] = -1;
        if (i != j && !p->fixed[i] && !p->fixed[j]) {
            large->off_diagonal[k] = slot[i < j ? i : j];
            row[slot[i < j ? i : j]++] = (int)(i < j ? j : i);
        }
    }
    large->matrix->sorted = 0;
    free(slot);
    return true;
}

/* CHOLMOD refuses repeated entries; grids and loops of the benchmark have none. */
enum hr_status hr_large_new(const struct hr_nodal_pattern *pattern, struct hr_large **made,
                            struct hr_report *report)
{
    struct hr_large *large = hr_alloc(1, sizeof *large);
    const size_t points = pattern->point_count;
    const size_t chains = pattern->chain_count;
    *made = NULL;
    if (large == NULL) {
        return hr_fail_memory(report);
    }
    cholmod_start(&large->common);
    large->common.supernodal = BENCH_SUPERNODAL;
    large->common.nmethods = 1;
    large->common.method[0].ordering = CHOLMOD_AMD;
    large->ends = hr_alloc(2 * chains, sizeof *large->ends);
    large->known = hr_alloc(points, sizeof *large->known);
    large->fixed = hr_alloc(points, sizeof *large->fixed);
    large->diagonal = hr_alloc(points, sizeof *large->diagonal);
    large->off_diagonal = hr_alloc(chains, sizeof *large->off_diagonal);
    if (large->ends == NULL || large->known == NULL || large->fixed == NULL || large->diagonal == NULL ||
        large->off_diagonal == NULL) {
        hr_large_free(large);
        return hr_fail_memory(report);
    }
    memcpy(large->ends, pattern->from, chains * sizeof *large->ends);
    memcpy(large->ends + chains, pattern->to, chains * sizeof *large->ends);
    memcpy(large->fixed, pattern->fixed, points * sizeof *large->fixed);
    large->pattern =
        (struct hr_nodal_pattern){points, chains, large->ends, large->ends + chains, large->fixed};
    if (!build(large) || !cholmod_check_sparse(large->matrix, &large->common)) {
        hr_large_free(large);
        return hr_fail_memory(report);
    }
    large->factor = cholmod_analyze(large->matrix, &large->common);
    large->right = cholmod_zeros(points, 1, CHOLMOD_REAL, &large->common);
    *made = large;
    return HR_OK;
}

void hr_large_free(struct hr_large *large)
{
    if (large == NULL) {
        return;
    }
    cholmod_free_dense(&large->right, &large->common);
    cholmod_free_dense(&large->solution, &large->common);
    cholmod_free_dense(&large->y, &large->common);
    cholmod_free_dense(&large->e, &large->common);
    cholmod_free_factor(&large->factor, &large->common);
    cholmod_free_sparse(&large->matrix, &large->common);
    cholmod_finish(&large->common);
    free(large->ends);
    free(large->known);
    free(large->fixed);
    free(large->diagonal);
    free(large->off_diagonal);
    free(large);
}

bool hr_large_factor(struct hr_large *large, const double weight[], const bool ground[])
{
    const struct hr_nodal_pattern *p = &large->pattern;
    double *value = large->matrix->x;
    memset(value, 0, large->matrix->nzmax * sizeof *value);
    for (size_t i = 0; i < p->point_count; i++) {
        large->known[i] = p->fixed[i] || ground[i];
        value[large->diagonal[i]] = large->known[i] ? 1.0 : 0.0;
    }
    for (size_t k = 0; k < p->chain_count; k++) {
        const uint32_t i = p->from[k];
        const uint32_t j = p->to[k];
        if (i == j) {
            continue;
        }
        value[large->diagonal[i]] += large->known[i] ? 0.0 : weight[k];
        value[large->diagonal[j]] += large->known[j] ? 0.0 : weight[k];
        if (!large->known[i] && !large->known[j]) {
            value[large->off_diagonal[k]] -= weight[k];
        }
    }
    return cholmod_factorize(large->matrix, large->factor, &large->common) &&
           large->common.status == CHOLMOD_OK;
}

void hr_large_solve(struct hr_large *large, const double b[], double x[])
{
    double *right = large->right->x;
    for (size_t i = 0; i < large->pattern.point_count; i++) {
        right[i] = large->known[i] ? 0.0 : b[i];
        x[i] = NAN;
    }
    if (cholmod_solve2(CHOLMOD_A, large->factor, large->right, NULL, &large->solution, NULL, &large->y,
                       &large->e, &large->common)) {
        memcpy(x, large->solution->x, large->pattern.point_count * sizeof *x);
    }
}

enum hr_status hr_large_order(const struct hr_nodal_pattern *pattern, uint32_t order[], size_t *count,
                              struct hr_report *report)
{
    (void)pattern;
    (void)order;
    *count = 0;
    return hr_fail(report, HR_SYSTEM, "bench", NULL, "the rival linear solvers are for large networks only");
}
