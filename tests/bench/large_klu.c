/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rival: KLU for the nodal matrix, analysed once, with AMD and without pivoting by size (the diagonal of an
 * M-matrix serves). Stands in the place of src/solve/large.c. */
#include "base/memory.h"
#include "solve/nodal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <suitesparse/klu.h>

struct hr_large {
    struct hr_nodal_pattern pattern;
    uint32_t *ends;
    bool *known, *fixed;
    klu_common common;
    klu_symbolic *symbolic;
    klu_numeric *numeric;
    int *first, *row;
    double *value;
    int *diagonal;
    int *off_diagonal; /* two for each chain: column `from`, column `to`; -1 none */
};

static bool joins(const struct hr_nodal_pattern *p, size_t k)
{
    return p->from[k] != p->to[k] && !p->fixed[p->from[k]] && !p->fixed[p->to[k]];
}

static void build(struct hr_large *large)
{
    const struct hr_nodal_pattern *p = &large->pattern;
    for (size_t i = 0; i < p->point_count; i++) {
        large->first[i + 1] = 1;
    }
    for (size_t k = 0; k < p->chain_count; k++) {
        if (joins(p, k)) {
            large->first[p->from[k] + 1]++;
            large->first[p->to[k] + 1]++;
        }
    }
    for (size_t i = 0; i < p->point_count; i++) {
        large->first[i + 1] += large->first[i];
        large->diagonal[i] = large->first[i];
        large->row[large->first[i]] = (int)i;
    }
    int *next = hr_alloc(p->point_count, sizeof *next);
    for (size_t k = 0; k < p->chain_count && next != NULL; k++) {
        large->off_diagonal[2 * k] = large->off_diagonal[2 * k + 1] = -1;
        if (joins(p, k)) {
            const uint32_t end[2] = {p->from[k], p->to[k]};
            for (size_t e = 0; e < 2; e++) {
                const int place = large->first[end[e]] + 1 + next[end[e]]++;
                large->off_diagonal[2 * k + e] = place;
                large->row[place] = (int)end[1 - e];
            }
        }
    }
    free(next);
}

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
    klu_defaults(&large->common);
    large->common.tol = 0.0; /* the diagonal is always the pivot */
    large->common.ordering = 0;
    large->ends = hr_alloc(2 * chains, sizeof *large->ends);
    large->known = hr_alloc(points, sizeof *large->known);
    large->fixed = hr_alloc(points, sizeof *large->fixed);
    large->first = hr_alloc(points + 1, sizeof *large->first);
    large->row = hr_alloc(points + 2 * chains, sizeof *large->row);
    large->value = hr_alloc(points + 2 * chains, sizeof *large->value);
    large->diagonal = hr_alloc(points, sizeof *large->diagonal);
    large->off_diagonal = hr_alloc(2 * chains, sizeof *large->off_diagonal);
    if (large->ends == NULL || large->known == NULL || large->fixed == NULL || large->first == NULL ||
        large->row == NULL || large->value == NULL || large->diagonal == NULL ||
        large->off_diagonal == NULL) {
        hr_large_free(large);
        return hr_fail_memory(report);
    }
    memcpy(large->ends, pattern->from, chains * sizeof *large->ends);
    memcpy(large->ends + chains, pattern->to, chains * sizeof *large->ends);
    memcpy(large->fixed, pattern->fixed, points * sizeof *large->fixed);
    large->pattern =
        (struct hr_nodal_pattern){points, chains, large->ends, large->ends + chains, large->fixed};
    build(large);
    large->symbolic = klu_analyze((int)points, large->first, large->row, &large->common);
    if (large->symbolic == NULL) {
        hr_large_free(large);
        return hr_fail_memory(report);
    }
    *made = large;
    return HR_OK;
}

void hr_large_free(struct hr_large *large)
{
    if (large == NULL) {
        return;
    }
    klu_free_numeric(&large->numeric, &large->common);
    klu_free_symbolic(&large->symbolic, &large->common);
    free(large->ends);
    free(large->known);
    free(large->fixed);
    free(large->first);
    free(large->row);
    free(large->value);
    free(large->diagonal);
    free(large->off_diagonal);
    free(large);
}

static void assemble(struct hr_large *large, const double weight[])
{
    const struct hr_nodal_pattern *p = &large->pattern;
    memset(large->value, 0, (size_t)large->first[p->point_count] * sizeof *large->value);
    for (size_t i = 0; i < p->point_count; i++) {
        large->value[large->diagonal[i]] = large->known[i] ? 1.0 : 0.0;
    }
    for (size_t k = 0; k < p->chain_count; k++) {
        const uint32_t i = p->from[k];
        const uint32_t j = p->to[k];
        if (i == j) {
            continue;
        }
        large->value[large->diagonal[i]] += large->known[i] ? 0.0 : weight[k];
        large->value[large->diagonal[j]] += large->known[j] ? 0.0 : weight[k];
        if (!large->known[i] && !large->known[j]) {
            large->value[large->off_diagonal[2 * k]] -= weight[k];
            large->value[large->off_diagonal[2 * k + 1]] -= weight[k];
        }
    }
}

/* The first time with the search for pivots, then along the same pattern. */
bool hr_large_factor(struct hr_large *large, const double weight[], const bool ground[])
{
    for (size_t i = 0; i < large->pattern.point_count; i++) {
        large->known[i] = large->fixed[i] || ground[i];
    }
    assemble(large, weight);
    if (large->numeric == NULL) {
        large->numeric = klu_factor(large->first, large->row, large->value, large->symbolic, &large->common);
        return large->numeric != NULL;
    }
    return klu_refactor(large->first, large->row, large->value, large->symbolic, large->numeric,
                        &large->common) != 0;
}

void hr_large_solve(struct hr_large *large, const double b[], double x[])
{
    for (size_t i = 0; i < large->pattern.point_count; i++) {
        x[i] = large->known[i] ? 0.0 : b[i];
    }
    if (!klu_solve(large->symbolic, large->numeric, (int)large->pattern.point_count, 1, x, &large->common)) {
        x[0] = NAN;
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
