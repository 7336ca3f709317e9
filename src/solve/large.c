/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CHOLMOD behind the nodal system: the only file that knows SuiteSparse. Simplicial LDL' with an AMD order:
 * on planar networks up to a million branches it beat the supernodal factorisation as packaged, whose OpenMP
 * regions cost more than they gain at these sizes. Each solve is followed by refinement, with the residual
 * taken from differences along the chains, where the assembled matrix would cancel. */
#include "base/memory.h"
#include "solve/nodal.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <suitesparse/cholmod.h>

#define NONE (-1)

struct hr_large {
    size_t point_count, chain_count;
    uint32_t *from, *to;
    bool *known;       /* fixed, or ground under the last weights */
    const bool *fixed; /* = fixed_copy */
    bool *fixed_copy;
    const double *weight; /* of the last factorisation, borrowed until the next */
    cholmod_common common;
    uint32_t *position;     /* point -> place in the order of elimination */
    cholmod_sparse *matrix; /* upper triangle in that order, so that CHOLMOD factorises it as it stands */
    cholmod_factor *factor;
    cholmod_dense *right, *solution, *workspace_y, *workspace_e;
    int *diagonal;     /* point -> place in the matrix */
    int *off_diagonal; /* chain -> place, NONE where it has none */
    double *residual, *correction;
};

static int place_of(const cholmod_sparse *matrix, uint32_t row, uint32_t column)
{
    const int *first = matrix->p;
    const int *rows = matrix->i;
    int low = first[column];
    int high = first[column + 1] - 1;
    while (low < high) {
        const int middle = low + (high - low) / 2;
        if (rows[middle] < (int)row) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/* The upper triangle of the pattern, diagonal included, through CHOLMOD's triplets, with the points at their
 * `position` (NULL: their own numbers); columns sorted; NULL when memory is out. */
static cholmod_sparse *pattern_matrix(const struct hr_nodal_pattern *pattern, const uint32_t position[],
                                      cholmod_common *common)
{
    const size_t most = pattern->point_count + pattern->chain_count;
    cholmod_triplet *triplet =
        cholmod_allocate_triplet(pattern->point_count, pattern->point_count, most, 1, CHOLMOD_REAL, common);
    if (triplet == NULL) {
        return NULL;
    }
    int *rows = triplet->i;
    int *columns = triplet->j;
    double *values = triplet->x;
    for (size_t i = 0; i < pattern->point_count; i++) {
        rows[i] = columns[i] = (int)i;
        values[i] = 1.0;
    }
    size_t count = pattern->point_count;
    for (size_t k = 0; k < pattern->chain_count; k++) {
        const uint32_t i = pattern->from[k];
        const uint32_t j = pattern->to[k];
        if (i != j && !pattern->fixed[i] && !pattern->fixed[j]) {
            const uint32_t a = position != NULL ? position[i] : i;
            const uint32_t b = position != NULL ? position[j] : j;
            rows[count] = (int)(a < b ? a : b);
            columns[count] = (int)(a < b ? b : a);
            values[count++] = 0.0;
        }
    }
    triplet->nnz = count;
    cholmod_sparse *matrix = cholmod_triplet_to_sparse(triplet, count, common);
    cholmod_free_triplet(&triplet, common);
    return matrix;
}

static void start_common(cholmod_common *common)
{
    cholmod_start(common);
    common->print = 0;
    common->supernodal = CHOLMOD_SIMPLICIAL;
    common->final_ll = 0;
    common->nmethods = 1;
    common->method[0].ordering = CHOLMOD_AMD;
    common->postorder = 1;
}

enum hr_status hr_large_order(const struct hr_nodal_pattern *pattern, uint32_t order[], size_t *count,
                              struct hr_report *report)
{
    cholmod_common common;
    start_common(&common);
    cholmod_sparse *matrix = pattern_matrix(pattern, NULL, &common);
    int *permutation = hr_alloc(pattern->point_count, sizeof *permutation);
    const bool ordered = matrix != NULL && permutation != NULL &&
                         (pattern->point_count == 0 || cholmod_amd(matrix, NULL, 0, permutation, &common));
    *count = 0;
    if (ordered) {
        for (size_t k = 0; k < pattern->point_count; k++) {
            if (!pattern->fixed[permutation[k]]) {
                order[(*count)++] = (uint32_t)permutation[k];
            }
        }
    }
    free(permutation);
    cholmod_free_sparse(&matrix, &common);
    cholmod_finish(&common);
    return ordered ? HR_OK : hr_fail_memory(report);
}

void hr_large_free(struct hr_large *large)
{
    if (large == NULL) {
        return;
    }
    cholmod_free_dense(&large->right, &large->common);
    cholmod_free_dense(&large->solution, &large->common);
    cholmod_free_dense(&large->workspace_y, &large->common);
    cholmod_free_dense(&large->workspace_e, &large->common);
    cholmod_free_factor(&large->factor, &large->common);
    cholmod_free_sparse(&large->matrix, &large->common);
    cholmod_finish(&large->common);
    free(large->from);
    free(large->to);
    free(large->known);
    free(large->position);
    free(large->fixed_copy);
    free(large->diagonal);
    free(large->off_diagonal);
    free(large->residual);
    free(large->correction);
    free(large);
}

static bool copy_pattern(struct hr_large *large, const struct hr_nodal_pattern *pattern)
{
    const size_t points = pattern->point_count;
    const size_t chains = pattern->chain_count;
    large->point_count = points;
    large->chain_count = chains;
    large->from = hr_alloc(chains, sizeof *large->from);
    large->to = hr_alloc(chains, sizeof *large->to);
    large->known = hr_alloc(points, sizeof *large->known);
    large->position = hr_alloc(points, sizeof *large->position);
    large->fixed_copy = hr_alloc(points, sizeof *large->fixed_copy);
    large->diagonal = hr_alloc(points, sizeof *large->diagonal);
    large->off_diagonal = hr_alloc(chains, sizeof *large->off_diagonal);
    large->residual = hr_alloc(points, sizeof *large->residual);
    large->correction = hr_alloc(points, sizeof *large->correction);
    if (large->from == NULL || large->to == NULL || large->known == NULL || large->position == NULL ||
        large->fixed_copy == NULL || large->diagonal == NULL || large->off_diagonal == NULL ||
        large->residual == NULL || large->correction == NULL) {
        return false;
    }
    memcpy(large->from, pattern->from, chains * sizeof *large->from);
    memcpy(large->to, pattern->to, chains * sizeof *large->to);
    memcpy(large->fixed_copy, pattern->fixed, points * sizeof *large->fixed_copy);
    large->fixed = large->fixed_copy;
    return true;
}

static void find_places(struct hr_large *large)
{
    for (size_t i = 0; i < large->point_count; i++) {
        large->diagonal[i] = place_of(large->matrix, large->position[i], large->position[i]);
    }
    for (size_t k = 0; k < large->chain_count; k++) {
        const uint32_t i = large->from[k];
        const uint32_t j = large->to[k];
        const bool joins = i != j && !large->fixed[i] && !large->fixed[j];
        const uint32_t a = large->position[i];
        const uint32_t b = large->position[j];
        large->off_diagonal[k] = joins ? place_of(large->matrix, a < b ? a : b, a < b ? b : a) : NONE;
    }
}

/* Orders and analyses; then numbers the points in the order found, and tells the factor that they are. */
static bool analyse(struct hr_large *large, const struct hr_nodal_pattern *pattern)
{
    cholmod_common *common = &large->common;
    cholmod_sparse *unordered = pattern_matrix(pattern, NULL, common);
    if (unordered != NULL) {
        large->factor = cholmod_analyze(unordered, common);
    }
    cholmod_free_sparse(&unordered, common);
    if (large->factor == NULL) {
        return false;
    }
    int *permutation = large->factor->Perm;
    for (size_t i = 0; i < pattern->point_count; i++) {
        large->position[permutation[i]] = (uint32_t)i;
    }
    for (size_t i = 0; i < pattern->point_count; i++) {
        permutation[i] = (int)i;
    }
    large->factor->ordering = CHOLMOD_NATURAL;
    large->matrix = pattern_matrix(pattern, large->position, common);
    if (large->matrix == NULL || !cholmod_sort(large->matrix, common)) {
        return false;
    }
    find_places(large);
    return true;
}

enum hr_status hr_large_new(const struct hr_nodal_pattern *pattern, struct hr_large **large,
                            struct hr_report *report)
{
    *large = NULL;
    if (pattern->point_count + pattern->chain_count > INT_MAX / 4) {
        return hr_fail(report, HR_SYSTEM, "too-large", NULL,
                       "the network has more than 500 million branches");
    }
    struct hr_large *made = hr_alloc(1, sizeof *made);
    if (made == NULL) {
        return hr_fail_memory(report);
    }
    start_common(&made->common);
    bool complete = copy_pattern(made, pattern);
    if (complete) {
        complete = analyse(made, pattern);
        made->right = cholmod_zeros(pattern->point_count, 1, CHOLMOD_REAL, &made->common);
        complete = complete && made->right != NULL && made->common.status >= CHOLMOD_OK;
    }
    if (!complete) {
        hr_large_free(made);
        return hr_fail_memory(report);
    }
    *large = made;
    return HR_OK;
}

static void assemble(struct hr_large *large, const double weight[])
{
    double *value = large->matrix->x;
    memset(value, 0, large->matrix->nzmax * sizeof *value);
    for (size_t k = 0; k < large->chain_count; k++) {
        const uint32_t i = large->from[k];
        const uint32_t j = large->to[k];
        if (i == j) {
            continue;
        }
        if (!large->known[i]) {
            value[large->diagonal[i]] += weight[k];
        }
        if (!large->known[j]) {
            value[large->diagonal[j]] += weight[k];
        }
        if (!large->known[i] && !large->known[j]) {
            value[large->off_diagonal[k]] -= weight[k];
        }
    }
    for (size_t i = 0; i < large->point_count; i++) {
        if (large->known[i]) {
            value[large->diagonal[i]] = 1.0;
        }
    }
}

bool hr_large_factor(struct hr_large *large, const double weight[], const bool ground[])
{
    for (size_t i = 0; i < large->point_count; i++) {
        large->known[i] = large->fixed[i] || ground[i];
    }
    large->weight = weight;
    assemble(large, weight);
    return cholmod_factorize(large->matrix, large->factor, &large->common) &&
           large->common.status == CHOLMOD_OK;
}

static void back_substitute(struct hr_large *large, const double b[], double x[])
{
    double *right = large->right->x;
    for (size_t i = 0; i < large->point_count; i++) {
        right[large->position[i]] = large->known[i] ? 0.0 : b[i];
    }
    if (cholmod_solve2(CHOLMOD_A, large->factor, large->right, NULL, &large->solution, NULL,
                       &large->workspace_y, &large->workspace_e, &large->common)) {
        const double *solution = large->solution->x;
        for (size_t i = 0; i < large->point_count; i++) {
            x[i] = solution[large->position[i]];
        }
    } else {
        /* Out of memory: not a number, so that no test can pass. */
        for (size_t i = 0; i < large->point_count; i++) {
            x[i] = NAN;
        }
    }
}

/* residual = b - M x from differences along the chains; returns its largest entry relative to b's. */
static double take_residual(struct hr_large *large, const double b[], const double x[])
{
    double largest = 0.0;
    double scale = 0.0;
    for (size_t i = 0; i < large->point_count; i++) {
        large->residual[i] = large->known[i] ? 0.0 : b[i];
        scale = fmax(scale, fabs(large->residual[i]));
    }
    for (size_t k = 0; k < large->chain_count; k++) {
        const double flow = large->weight[k] * (x[large->from[k]] - x[large->to[k]]);
        large->residual[large->from[k]] -= flow;
        large->residual[large->to[k]] += flow;
    }
    for (size_t i = 0; i < large->point_count; i++) {
        if (!large->known[i]) {
            largest = fmax(largest, fabs(large->residual[i]));
        }
    }
    return scale > 0.0 ? largest / scale : 0.0;
}

enum { REFINEMENTS_MAX = 3 };
static const double REFINED = 1e-12;

void hr_large_solve(struct hr_large *large, const double b[], double x[])
{
    back_substitute(large, b, x);
    double last = INFINITY;
    for (int round = 0; round < REFINEMENTS_MAX; round++) {
        const double residual = take_residual(large, b, x);
        if (!(residual > REFINED) || !(residual < 0.5 * last)) {
            break;
        }
        last = residual;
        back_substitute(large, large->residual, large->correction);
        for (size_t i = 0; i < large->point_count; i++) {
            x[i] += large->correction[i];
        }
    }
}
