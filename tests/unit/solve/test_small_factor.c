/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The factorisation without subtraction against the matrix-tree theorem (Kirchhoff 1847; Chaiken 1982, SIAM
 * J. Algebraic Discrete Methods 3:319): with the current 1 into s and out at the ground t, x_i = (weight of
 * the forests of two trees that part {s, i} from t) / (weight of the spanning trees), where a forest weighs
 * the product of its conductances. All terms are positive, so that the sums, in long double, are right to
 * every digit of a double over any spread of conductances. Every point serves as ground in turn, so this
 * covers the difference between every two points.
 *
 * Tolerance: 100 rounding errors of 1.1e-16, for some 60 operations on the way to an entry. */
#include "hr_test.h"

#include "random_network.h"
#include "solve/nodal.h"

#include <string.h>

enum { POINTS = 6, CHAINS = 12, SEEDS = 60 };
static const double ENTRY = 1.1e-14;

struct graph {
    size_t points, chains;
    uint32_t from[CHAINS], to[CHAINS];
    double weight[CHAINS];
};

/* A tree and further chains, double ones and a ring of one among them; conductances over `decades` decades.
 */
static struct graph random_graph(uint64_t seed, double decades)
{
    struct random random = {.state = seed};
    struct graph g = {.points = POINTS - seed % 3, .chains = CHAINS - seed % 4};
    for (uint32_t k = 0; k < g.chains; k++) {
        g.from[k] = k + 1 < g.points ? k + 1 : random_below(&random, (uint32_t)g.points);
        g.to[k] = k + 1 < g.points ? random_below(&random, k + 1) : random_below(&random, (uint32_t)g.points);
        g.weight[k] = pow(10.0, random_between(&random, -0.5 * decades, 0.5 * decades));
    }
    return g;
}

static uint32_t root_of(const uint32_t parent[], uint32_t i)
{
    while (parent[i] != i) {
        i = parent[i];
    }
    return i;
}

/* Sums over all forests of `trees` trees; with two, only those that part both s and i from t. */
static long double forests(const struct graph *g, size_t trees, uint32_t s, uint32_t i, uint32_t t)
{
    long double sum = 0.0L;
    for (unsigned long set = 0; set < 1UL << g->chains; set++) {
        uint32_t parent[POINTS];
        long double product = 1.0L;
        size_t joined = 0;
        bool forest = (size_t)__builtin_popcountl(set) == g->points - trees;
        for (uint32_t p = 0; p < g->points; p++) {
            parent[p] = p;
        }
        for (size_t k = 0; k < g->chains && forest; k++) {
            if ((set >> k & 1) != 0) {
                const uint32_t a = root_of(parent, g->from[k]);
                const uint32_t b = root_of(parent, g->to[k]);
                forest = a != b;
                parent[a] = b;
                product *= (long double)g->weight[k];
                joined++;
            }
        }
        if (forest && joined + trees == g->points &&
            (trees == 1 ||
             (root_of(parent, s) == root_of(parent, i) && root_of(parent, s) != root_of(parent, t)))) {
            sum += product;
        }
    }
    return sum;
}

static struct hr_small *make(const struct graph *g, const bool fixed[])
{
    struct hr_report report;
    struct hr_small *small;
    hr_report_init(&report);
    const struct hr_nodal_pattern pattern = {g->points, g->chains, g->from, g->to, fixed};
    ck_assert_int_eq(hr_small_new(&pattern, true, &small, &report), HR_OK);
    ck_assert_ptr_nonnull(small);
    hr_small_factor(small, g->weight);
    return small;
}

START_TEST(every_difference_keeps_its_digits)
{
    const struct graph g = random_graph((uint64_t)_i, 16.0);
    const long double trees = forests(&g, 1, 0, 0, 0);
    for (uint32_t t = 0; t < g.points; t++) {
        bool fixed[POINTS] = {false};
        fixed[t] = true;
        struct hr_small *small = make(&g, fixed);
        for (uint32_t s = 0; s < g.points; s++) {
            double b[POINTS] = {0.0};
            double x[POINTS];
            b[s] = 1.0;
            hr_small_solve(small, b, x);
            for (uint32_t i = 0; i < g.points; i++) {
                const double expected = s == t ? 0.0 : (double)(forests(&g, 2, s, i, t) / trees);
                hr_assert_rel(x[i], expected, ENTRY, "entry");
            }
        }
        hr_small_free(small);
    }
}
END_TEST

/* Without ground the last point of the order becomes it: exactly 0. The balance of currents holds at every
 * point, to the rounding of the current and of the potentials. */
START_TEST(floating_part_grounds_itself)
{
    const struct graph g = random_graph((uint64_t)_i, 8.0);
    const bool fixed[POINTS] = {false};
    struct hr_small *small = make(&g, fixed);
    double b[POINTS] = {0.0};
    double x[POINTS];
    b[0] = 0.418;
    b[g.points - 1] -= 0.418;
    hr_small_solve(small, b, x);
    size_t zeros = 0;
    for (size_t i = 0; i < g.points; i++) {
        double sum = b[i];
        double size = 0.418;
        for (size_t k = 0; k < g.chains; k++) {
            const double current = g.weight[k] * (x[g.from[k]] - x[g.to[k]]);
            sum -= (g.from[k] == i) * current - (g.to[k] == i) * current;
            size += (g.from[k] == i || g.to[k] == i) * g.weight[k] * (fabs(x[g.from[k]]) + fabs(x[g.to[k]]));
        }
        hr_assert_abs(sum, 0.0, ENTRY * size, "balance");
        zeros += x[i] == 0.0;
    }
    ck_assert_uint_ge(zeros, 1);
    hr_small_free(small);
}
END_TEST

START_TEST(chains_without_conductance_part_the_network)
{
    const uint32_t from[] = {0, 1, 2, 3};
    const uint32_t to[] = {1, 2, 3, 4};
    const bool fixed[] = {true, false, false, false, false};
    const double weight[] = {2.7e-9, 0.0, 4.1e7, 1.9e3};
    struct graph g = {.points = 5, .chains = 4};
    memcpy(g.from, from, sizeof from);
    memcpy(g.to, to, sizeof to);
    memcpy(g.weight, weight, sizeof weight);
    struct hr_small *small = make(&g, fixed);
    const double b[] = {0.0, 1.73, 0.0, 0.29, -0.29};
    double x[5];
    hr_small_solve(small, b, x);
    hr_assert_rel(x[1], 1.73 / 2.7e-9, ENTRY, "grounded part");
    hr_assert_rel(x[3] - x[4], 0.29 / 1.9e3, ENTRY, "floating part");
    hr_assert_abs(x[2] - x[3], 0.0, 1e-18, "no current, no difference");
    hr_small_free(small);
}
END_TEST

START_TEST(network_of_fixed_points_alone_solves_to_nothing)
{
    const struct graph g = {.points = 2, .chains = 1, .from = {0}, .to = {1}, .weight = {3.0}};
    const bool fixed[] = {true, true};
    struct hr_small *small = make(&g, fixed);
    const double b[] = {1.3, -2.9};
    double x[] = {NAN, NAN};
    hr_small_solve(small, b, x);
    hr_assert_abs(x[0], 0.0, 0.0, "ground");
    hr_assert_abs(x[1], 0.0, 0.0, "ground");
    hr_small_free(small);
}
END_TEST

/* A complete graph eliminates n^3/6 pairs: beyond the limit the static factorisation declines, unless it
 * must. */
START_TEST(too_much_work_is_declined)
{
    enum { N = 160, M = N * (N - 1) / 2 };
    static uint32_t from[M], to[M];
    static bool fixed[N];
    size_t count = 0;
    for (uint32_t i = 0; i < N; i++) {
        for (uint32_t k = 0; k < i; k++) {
            from[count] = i;
            to[count++] = k;
        }
    }
    struct hr_report report;
    struct hr_small *small;
    hr_report_init(&report);
    const struct hr_nodal_pattern pattern = {N, M, from, to, fixed};
    ck_assert_int_eq(hr_small_new(&pattern, false, &small, &report), HR_OK);
    ck_assert_ptr_null(small);
    ck_assert_int_eq(hr_small_new(&pattern, true, &small, &report), HR_OK);
    ck_assert_ptr_nonnull(small);
    hr_small_free(small);
    hr_small_free(NULL);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("small factorisation");
    TCase *t = tcase_create("factorisation without subtraction");
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, every_difference_keeps_its_digits, 0, SEEDS);
    tcase_add_loop_test(t, floating_part_grounds_itself, 0, SEEDS);
    tcase_add_test(t, chains_without_conductance_part_the_network);
    tcase_add_test(t, network_of_fixed_points_alone_solves_to_nothing);
    tcase_add_test(t, too_much_work_is_declined);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
