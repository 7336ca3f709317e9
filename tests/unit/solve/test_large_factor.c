/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CHOLMOD behind the nodal interface against the static factorisation, and the properties of the matrix
 * itself. */
#include "hr_test.h"

#include "base/memory.h"
#include "random_network.h"
#include "solve/nodal.h"

enum { SIDE = 15, POINTS = SIDE * SIDE, CHAINS = 2 * SIDE * (SIDE - 1), SEEDS = 20 };

static const double RESTORED = 1e-12;

struct grid {
    uint32_t from[CHAINS], to[CHAINS];
    bool fixed[POINTS], ground[POINTS];
    double weight[CHAINS], b[POINTS], small[POINTS], large[POINTS];
    struct hr_nodal *nodal;
};

static void make_grid(struct grid *g, uint64_t seed, double decades)
{
    struct random random = {.state = seed};
    size_t k = 0;
    *g = (struct grid){.nodal = NULL};
    for (uint32_t i = 0; i < POINTS; i++) {
        if (i % SIDE + 1 < SIDE) {
            g->from[k] = i;
            g->to[k++] = i + 1;
        }
        if (i + SIDE < POINTS) {
            g->from[k] = i + SIDE;
            g->to[k++] = i;
        }
    }
    ck_assert_uint_eq(k, CHAINS);
    for (k = 0; k < CHAINS; k++) {
        g->weight[k] = pow(10.0, random_between(&random, -0.5 * decades, 0.5 * decades));
    }
    for (size_t i = 0; i < POINTS; i++) {
        g->b[i] = random_between(&random, -1.0, 1.0);
    }
}

static bool solve(struct grid *g, enum hr_nodal_choice choice, double x[])
{
    struct hr_report report;
    hr_report_init(&report);
    const struct hr_nodal_pattern pattern = {POINTS, CHAINS, g->from, g->to, g->fixed};
    ck_assert_int_eq(hr_nodal_new(&pattern, choice, &g->nodal, &report), HR_OK);
    ck_assert(hr_nodal_is_small(g->nodal) == (choice != HR_NODAL_LARGE));
    const bool definite = hr_nodal_factor(g->nodal, g->weight, g->ground);
    if (definite) {
        hr_nodal_solve(g->nodal, g->b, x);
    }
    hr_nodal_free(g->nodal);
    return definite;
}

/* Four decades of conductance and 225 points: condition about 1e7, refined to a residual of 1e-14. */
START_TEST(both_factorisations_agree)
{
    static struct grid g;
    double largest = 0.0;
    make_grid(&g, (uint64_t)_i, 4.0);
    g.fixed[(size_t)_i * 7 % POINTS] = true;
    ck_assert(solve(&g, HR_NODAL_SMALL, g.small) && solve(&g, HR_NODAL_LARGE, g.large));
    for (size_t i = 0; i < POINTS; i++) {
        largest = fmax(largest, fabs(g.small[i]));
    }
    for (size_t i = 0; i < POINTS; i++) {
        hr_assert_abs(g.large[i], g.small[i], 1e-10 * largest, "solution");
    }
}
END_TEST

/* Over twelve decades the assembled matrix has lost digits that refinement, from differences along the
 * chains, finds again. */
START_TEST(refinement_restores_digits)
{
    static struct grid g;
    double largest = 0.0;
    double off = 0.0;
    make_grid(&g, (uint64_t)_i, 12.0);
    g.fixed[3] = true;
    ck_assert(solve(&g, HR_NODAL_SMALL, g.small) && solve(&g, HR_NODAL_LARGE, g.large));
    for (size_t i = 0; i < POINTS; i++) {
        largest = fmax(largest, fabs(g.small[i]));
        off = fmax(off, fabs(g.large[i] - g.small[i]));
    }
    hr_assert_abs(off / largest, 0.0, RESTORED, "difference of the two factorisations");
}
END_TEST

START_TEST(marked_point_grounds_a_floating_network)
{
    static struct grid g;
    double sum = 0.0;
    make_grid(&g, (uint64_t)_i, 2.0);
    for (size_t i = 1; i < POINTS; i++) {
        sum += g.b[i];
    }
    g.b[0] = -sum;
    g.ground[137] = true;
    ck_assert(solve(&g, HR_NODAL_LARGE, g.large) && solve(&g, HR_NODAL_SMALL, g.small));
    hr_assert_abs(g.large[137], 0.0, 0.0, "ground");
    for (size_t k = 0; k < CHAINS; k++) {
        hr_assert_abs(g.large[g.from[k]] - g.large[g.to[k]], g.small[g.from[k]] - g.small[g.to[k]], 1e-10,
                      "difference");
    }
}
END_TEST

START_TEST(matrix_without_ground_is_not_positive_definite)
{
    static struct grid g;
    make_grid(&g, 3, 0.0); /* equal conductances: the last pivot is exactly 0 */
    for (size_t k = 0; k < CHAINS; k++) {
        if (g.from[k] == POINTS - 1 || g.to[k] == POINTS - 1) {
            g.weight[k] = 0.0;
        }
    }
    g.fixed[0] = true;
    ck_assert(!solve(&g, HR_NODAL_LARGE, g.large));
    g.ground[POINTS - 1] = true;
    ck_assert(solve(&g, HR_NODAL_LARGE, g.large));
}
END_TEST

/* The inverse, column by column, is symmetric, has no negative entry (the matrix is an M-matrix) and positive
 * pivots in a Cholesky factorisation done here: so has the matrix. */
START_TEST(matrix_is_symmetric_with_positive_pivots)
{
    enum { N = 12, M = 20 };
    struct random random = {.state = (uint64_t)_i};
    uint32_t from[M], to[M];
    bool fixed[N] = {true};
    const bool ground[N] = {false};
    double weight[M], inverse[N][N];
    for (uint32_t k = 0; k < M; k++) {
        from[k] = k + 1 < N ? k + 1 : random_below(&random, N);
        to[k] = k + 1 < N ? random_below(&random, k + 1) : random_below(&random, N);
        weight[k] = pow(10.0, random_between(&random, -1.0, 1.0));
    }
    struct hr_report report;
    struct hr_nodal *nodal;
    hr_report_init(&report);
    const struct hr_nodal_pattern pattern = {N, M, from, to, fixed};
    const enum hr_nodal_choice choice = _i % 2 == 0 ? HR_NODAL_SMALL : HR_NODAL_LARGE;
    ck_assert_int_eq(hr_nodal_new(&pattern, choice, &nodal, &report), HR_OK);
    ck_assert(hr_nodal_factor(nodal, weight, ground));
    for (size_t k = 0; k < N; k++) {
        double b[N] = {0.0};
        b[k] = 1.0;
        hr_nodal_solve(nodal, b, inverse[k]);
    }
    hr_nodal_free(nodal);
    for (size_t i = 1; i < N; i++) {
        for (size_t k = 1; k < N; k++) {
            ck_assert(inverse[i][k] >= 0.0);
            hr_assert_rel(inverse[i][k], inverse[k][i], 1e-12, "symmetry");
        }
    }
    for (size_t k = 1; k < N; k++) {
        ck_assert_msg(inverse[k][k] > 1e-12, "pivot %zu is %g", k, inverse[k][k]);
        for (size_t i = k + 1; i < N; i++) {
            const double factor = inverse[i][k] / inverse[k][k];
            for (size_t j = k + 1; j < N; j++) {
                inverse[i][j] -= factor * inverse[k][j];
            }
        }
    }
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("large factorisation");
    TCase *t = tcase_create("CHOLMOD");
    tcase_add_loop_test(t, both_factorisations_agree, 0, SEEDS);
    tcase_add_loop_test(t, refinement_restores_digits, 0, SEEDS);
    tcase_add_loop_test(t, marked_point_grounds_a_floating_network, 0, SEEDS);
    tcase_add_test(t, matrix_without_ground_is_not_positive_definite);
    tcase_add_loop_test(t, matrix_is_symmetric_with_positive_pivots, 0, SEEDS);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
