/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Static factorisation of a weighted graph Laplacian with ground, without subtraction.
 *
 * Instead of its diagonal each point carries its excess, the conductance to ground. The pivot is the excess
 * plus the conductances to the points not yet eliminated; eliminating a point adds products of non-negative
 * numbers to the excesses and conductances of its neighbours (the star-mesh rule). Nothing cancels, so every
 * entry keeps its relative accuracy over any spread of conductances (Grassmann, Taksar & Heyman 1985 for
 * Markov chains; Demmel & Koev 2004 for M-matrices; both cited from memory). A part without ground ends in a
 * pivot that is exactly 0; that point is then its ground.
 *
 * Order, pattern and the places that each elimination adds to are found once; factorising then runs through
 * lists. */
#include "base/memory.h"
#include "solve/nodal.h"

#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX

/* Above this many multiply-adds a factorisation, CHOLMOD's is faster (tests/bench shows where they cross). */
enum { UPDATES_MAX = 400000 };

struct hr_small {
    size_t point_count, chain_count;
    size_t count;        /* unfixed points, in the order of elimination */
    uint32_t *point;     /* position -> point */
    uint32_t *position;  /* point -> position, NONE where fixed */
    uint32_t *first;     /* position -> first of its entries; one more at the end */
    uint32_t *neighbour; /* entry -> position of the later point */
    uint32_t *
        update; /* for each pair of entries of a position, in order: the entry that the elimination adds to */
    size_t update_count;
    uint32_t *chain_place; /* chain -> entry, or count-coded excess, see place_of */
    double *conductance;   /* entry */
    double *factor;        /* entry: conductance / pivot */
    double *excess;        /* position */
    double *inverse;       /* position: 1 / pivot, 0 for a floating part's last point */
    double *work;          /* position */
};

/* Rows of a growing symmetric pattern: bit j of row i marks that i and j are joined. */
struct bits {
    size_t words;
    uint64_t *word;
};

static void bit_set(struct bits *bits, size_t i, size_t j)
{
    bits->word[i * bits->words + j / 64] |= (uint64_t)1 << (j % 64);
}

/* The first set bit of row i from j on; NONE where there is none. */
static uint32_t bit_next(const struct bits *bits, size_t i, size_t j)
{
    const uint64_t *row = &bits->word[i * bits->words];
    uint64_t left = j / 64 < bits->words ? row[j / 64] >> (j % 64) << (j % 64) : 0;
    for (size_t w = j / 64; w < bits->words; left = ++w < bits->words ? row[w] : 0) {
        if (left != 0) {
            return (uint32_t)(64 * w + (size_t)__builtin_ctzll(left));
        }
    }
    return NONE;
}

void hr_small_free(struct hr_small *small)
{
    if (small == NULL) {
        return;
    }
    free(small->point);
    free(small->position);
    free(small->first);
    free(small->neighbour);
    free(small->update);
    free(small->chain_place);
    free(small->conductance);
    free(small->factor);
    free(small->excess);
    free(small->inverse);
    free(small->work);
    free(small);
}

/* Eliminates symbolically: after it, row k holds the later neighbours of position k. */
static void eliminate_pattern(const struct hr_small *small, const struct hr_nodal_pattern *pattern,
                              struct bits *bits)
{
    for (size_t k = 0; k < pattern->chain_count; k++) {
        const uint32_t i = small->position[pattern->from[k]];
        const uint32_t j = small->position[pattern->to[k]];
        if (i != NONE && j != NONE && i != j) {
            bit_set(bits, i < j ? i : j, i < j ? j : i);
        }
    }
    for (size_t k = 0; k < small->count; k++) {
        /* The first later neighbour inherits the others: the elimination tree's parent. */
        const uint32_t heir = bit_next(bits, k, k);
        if (heir == NONE) {
            continue;
        }
        for (size_t w = heir / 64; w < bits->words; w++) {
            bits->word[heir * bits->words + w] |= bits->word[k * bits->words + w];
        }
        bits->word[heir * bits->words + heir / 64] &= ~((uint64_t)1 << (heir % 64));
    }
}

static void count_work(const struct hr_small *small, const struct bits *bits, size_t *entries,
                       size_t *updates)
{
    *entries = 0;
    *updates = 0;
    for (size_t k = 0; k < small->count; k++) {
        size_t row = 0;
        for (size_t w = 0; w < bits->words; w++) {
            row += (size_t)__builtin_popcountll(bits->word[k * bits->words + w]);
        }
        *entries += row;
        *updates += row * (row - 1) / 2 * (row > 0);
    }
}

static uint32_t entry_of(const struct hr_small *small, uint32_t early, uint32_t late)
{
    for (uint32_t e = small->first[early]; e < small->first[early + 1]; e++) {
        if (small->neighbour[e] == late) {
            return e;
        }
    }
    return NONE;
}

static void list_entries(struct hr_small *small, const struct bits *bits)
{
    uint32_t entries = 0;
    for (uint32_t k = 0; k < small->count; k++) {
        small->first[k] = entries;
        for (uint32_t j = bit_next(bits, k, k); j != NONE; j = bit_next(bits, k, j + 1)) {
            small->neighbour[entries++] = j;
        }
    }
    small->first[small->count] = entries;
}

static void list_updates(struct hr_small *small)
{
    size_t u = 0;
    for (size_t k = 0; k < small->count; k++) {
        for (uint32_t a = small->first[k]; a < small->first[k + 1]; a++) {
            uint32_t place = small->first[small->neighbour[a]]; /* neighbours of both are in the same order */
            for (uint32_t b = a + 1; b < small->first[k + 1]; b++) {
                while (small->neighbour[place] != small->neighbour[b]) {
                    place++;
                }
                small->update[u++] = place;
            }
        }
    }
    small->update_count = u;
}

/* Where a chain's conductance goes: an entry; or, coded behind the entries, the excess of a position; or
 * nowhere. */
static uint32_t place_of(const struct hr_small *small, uint32_t from, uint32_t to)
{
    const uint32_t entries = small->first[small->count];
    const uint32_t i = small->position[from];
    const uint32_t j = small->position[to];
    if (i == j) {
        return NONE; /* both ground, or a chain that returns to its point */
    }
    if (i == NONE || j == NONE) {
        return entries + (i == NONE ? j : i);
    }
    return entry_of(small, i < j ? i : j, i < j ? j : i);
}

static bool allocate_entries(struct hr_small *small, size_t entries, size_t updates)
{
    small->neighbour = hr_alloc(entries, sizeof *small->neighbour);
    small->update = hr_alloc(updates, sizeof *small->update);
    small->conductance = hr_alloc(entries, sizeof *small->conductance);
    small->factor = hr_alloc(entries, sizeof *small->factor);
    return small->neighbour != NULL && small->update != NULL && small->conductance != NULL &&
           small->factor != NULL;
}

static bool allocate_points(struct hr_small *small)
{
    small->point = hr_alloc(small->point_count, sizeof *small->point);
    small->position = hr_alloc(small->point_count, sizeof *small->position);
    small->first = hr_alloc(small->point_count + 1, sizeof *small->first);
    small->chain_place = hr_alloc(small->chain_count, sizeof *small->chain_place);
    small->excess = hr_alloc(small->point_count, sizeof *small->excess);
    small->inverse = hr_alloc(small->point_count, sizeof *small->inverse);
    small->work = hr_alloc(small->point_count, sizeof *small->work);
    return small->point != NULL && small->position != NULL && small->first != NULL &&
           small->chain_place != NULL && small->excess != NULL && small->inverse != NULL &&
           small->work != NULL;
}

/* Sets the order, then the pattern in `bits`. */
static enum hr_status analyse(struct hr_small *small, const struct hr_nodal_pattern *pattern,
                              struct bits *bits, struct hr_report *report)
{
    const enum hr_status status = hr_large_order(pattern, small->point, &small->count, report);
    if (status != HR_OK) {
        return status;
    }
    for (size_t i = 0; i < small->point_count; i++) {
        small->position[i] = NONE;
    }
    for (uint32_t k = 0; k < small->count; k++) {
        small->position[small->point[k]] = k;
    }
    bits->words = (small->count + 63) / 64;
    bits->word = hr_alloc(small->count * bits->words, sizeof *bits->word);
    if (bits->word == NULL) {
        return hr_fail_memory(report);
    }
    eliminate_pattern(small, pattern, bits);
    return HR_OK;
}

enum { POINTS_MAX = 4000 }; /* bounds the bit table of the analysis to 2 MB */

enum hr_status hr_small_new(const struct hr_nodal_pattern *pattern, bool any_size, struct hr_small **small,
                            struct hr_report *report)
{
    *small = NULL;
    if (pattern->point_count > POINTS_MAX && !any_size) {
        return HR_OK;
    }
    struct hr_small *made = hr_alloc(1, sizeof *made);
    if (made == NULL) {
        return hr_fail_memory(report);
    }
    made->point_count = pattern->point_count;
    made->chain_count = pattern->chain_count;
    struct bits bits = {0, NULL};
    enum hr_status status =
        allocate_points(made) ? analyse(made, pattern, &bits, report) : hr_fail_memory(report);
    if (status == HR_OK) {
        size_t entries;
        size_t updates;
        count_work(made, &bits, &entries, &updates);
        if (updates > UPDATES_MAX && !any_size) {
            free(bits.word);
            hr_small_free(made);
            return HR_OK;
        }
        if (allocate_entries(made, entries, updates)) {
            list_entries(made, &bits);
            list_updates(made);
            for (size_t k = 0; k < made->chain_count; k++) {
                made->chain_place[k] = place_of(made, pattern->from[k], pattern->to[k]);
            }
        } else {
            status = hr_fail_memory(report);
        }
    }
    free(bits.word);
    if (status != HR_OK) {
        hr_small_free(made);
        return status;
    }
    *small = made;
    return HR_OK;
}

static void gather(struct hr_small *small, const double weight[])
{
    const uint32_t entries = small->first[small->count];
    memset(small->conductance, 0, entries * sizeof *small->conductance);
    memset(small->excess, 0, small->count * sizeof *small->excess);
    for (size_t k = 0; k < small->chain_count; k++) {
        const uint32_t place = small->chain_place[k];
        if (place < entries) {
            small->conductance[place] += weight[k];
        } else if (place != NONE) {
            small->excess[place - entries] += weight[k];
        }
    }
}

void hr_small_factor(struct hr_small *small, const double weight[])
{
    gather(small, weight);
    const uint32_t *update = small->update;
    for (size_t k = 0; k < small->count; k++) {
        const uint32_t begin = small->first[k];
        const uint32_t end = small->first[k + 1];
        double pivot = small->excess[k];
        for (uint32_t e = begin; e < end; e++) {
            pivot += small->conductance[e];
        }
        const double inverse = pivot > 0.0 ? 1.0 / pivot : 0.0;
        small->inverse[k] = inverse;
        for (uint32_t a = begin; a < end; a++) {
            const double factor = small->conductance[a] * inverse;
            small->factor[a] = factor;
            small->excess[small->neighbour[a]] += factor * small->excess[k];
            for (uint32_t b = a + 1; b < end; b++) {
                small->conductance[*update++] += factor * small->conductance[b];
            }
        }
    }
}

void hr_small_solve(struct hr_small *small, const double b[], double x[])
{
    double *y = small->work;
    for (size_t k = 0; k < small->count; k++) {
        y[k] = b[small->point[k]];
    }
    for (size_t k = 0; k < small->count; k++) {
        for (uint32_t e = small->first[k]; e < small->first[k + 1]; e++) {
            y[small->neighbour[e]] += small->factor[e] * y[k];
        }
    }
    for (size_t k = small->count; k-- > 0;) {
        double sum = y[k] * small->inverse[k];
        for (uint32_t e = small->first[k]; e < small->first[k + 1]; e++) {
            sum += small->factor[e] * y[small->neighbour[e]];
        }
        y[k] = sum;
    }
    for (size_t i = 0; i < small->point_count; i++) {
        x[i] = small->position[i] == NONE ? 0.0 : y[small->position[i]];
    }
}
