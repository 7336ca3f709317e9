/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Thousands of random networks for each laminar share, each from rest and from two other starts, each answer
 * put through every check that the laws alone allow. tests/fuzz/campaign does the same with fresh seeds. */
#include "hr_test.h"

#include "random_check.h"

enum { BATCHES = 10, BATCH = 250, LARGER = 40 };
static const double laminar[] = {1e-2, 1e-4, 1e-6, 0.0};

static struct random_tally run(const struct random_trial *trial, uint64_t seed, size_t count)
{
    struct random_tally tally = {0};
    for (size_t i = 0; i < count; i++) {
        random_check(trial, seed + i, &tally, stdout);
    }
    ck_assert_uint_eq(tally.networks, count);
    ck_assert_msg(random_tally_failures(&tally) == 0,
                  "of %zu networks %zu do not converge, %zu have a bad certificate, %zu a valve wrongly "
                  "shut, %zu depend on "
                  "the start, %zu move in a dead loop",
                  tally.networks, tally.unconverged, tally.bad, tally.wrongly_shut, tally.different,
                  tally.moving_dead_loops);
    ck_assert_uint_lt(tally.iterations, (trial->nodes_max > 60 ? 25 : 15) * count);
    return tally;
}

/* Every feature comes up in every batch, so that none goes untested unseen. */
START_TEST(random_networks_are_solved_from_every_start)
{
    const struct random_trial trial = {
        .laminar = laminar[_i % 4], .nodes_min = 3, .nodes_max = 60, .starts = 2};
    const struct random_tally tally = run(&trial, 1000000U * (uint64_t)(_i + 1), BATCH);
    for (size_t i = 0; i < RANDOM_FEATURES; i++) {
        ck_assert_msg(tally.has[i] > 0, "no network with %s", random_feature_names[i]);
    }
    ck_assert_uint_gt(tally.shut_valves, 50);
    ck_assert_uint_gt(tally.open_valves, 50);
    ck_assert_uint_gt(tally.idle_branches, 500);
}
END_TEST

START_TEST(larger_networks_are_solved_from_every_start)
{
    const struct random_trial trial = {
        .laminar = laminar[_i % 4], .nodes_min = 61, .nodes_max = 400, .starts = 1};
    run(&trial, 77000000U * (uint64_t)(_i + 1), LARGER);
}
END_TEST

/* CHOLMOD, with the shares of laminar flow that it is meant for. */
START_TEST(networks_are_solved_with_the_large_factorisation)
{
    const struct random_trial trial = {
        .laminar = 1e-2, .nodes_min = 3, .nodes_max = 60, .starts = 1, .factorisation = HR_NODAL_LARGE};
    run(&trial, 55000000, BATCH);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("random networks");
    TCase *t = tcase_create("random networks");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, random_networks_are_solved_from_every_start, 0, 4 * BATCHES);
    tcase_add_loop_test(t, larger_networks_are_solved_from_every_start, 0, 4);
    tcase_add_test(t, networks_are_solved_with_the_large_factorisation);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
