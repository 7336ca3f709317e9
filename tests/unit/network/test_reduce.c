/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hr_test.h"

#include "net.h"
#include "network/reduce.h"

static struct hr_reduced *reduce(const struct net *net)
{
    struct hr_report report;
    struct hr_reduced *reduced;
    uint32_t ring;
    hr_report_init(&report);
    ck_assert_int_eq(hr_reduced_new(&net->network, &reduced, &ring, &report), HR_OK);
    ck_assert_uint_eq(ring, UINT32_MAX);
    return reduced;
}

/* Every branch with a loss is in exactly one chain; members join end to end, from the chain's first point to
 * its last. */
static void check_chains(const struct hr_reduced *reduced)
{
    size_t seen[NET_BRANCHES] = {0};
    for (size_t k = 0; k < reduced->chain_count; k++) {
        const struct hr_chain *chain = &reduced->chain[k];
        uint32_t at = reduced->point_class[chain->from];
        ck_assert_uint_gt(chain->count, 0);
        for (uint32_t m = chain->first; m < chain->first + chain->count; m++) {
            const struct hr_branch *branch = &reduced->network->branch[reduced->member[m].branch];
            const bool along = reduced->member[m].sign > 0;
            seen[reduced->member[m].branch]++;
            ck_assert_uint_eq(reduced->node_class[along ? branch->from : branch->to], at);
            at = reduced->node_class[along ? branch->to : branch->from];
            ck_assert((reduced->class_point[at] == UINT32_MAX) == (m + 1 < chain->first + chain->count));
        }
        ck_assert_uint_eq(reduced->class_point[at], chain->to);
    }
    for (size_t b = 0; b < reduced->network->branch_count; b++) {
        ck_assert_uint_eq(seen[b], hr_branch_is_lossless(&reduced->network->branch[b]) ? 0 : 1);
    }
}

START_TEST(series_branches_become_one_chain)
{
    struct net net;
    net_init(&net, 5);
    net_fix(&net, 0, 0.0);
    for (uint32_t i = 0; i < 5; i++) {
        if (i % 2 == 0) {
            net_square(&net, i, (i + 1) % 5, 1e12);
        } else {
            net_square(&net, (i + 1) % 5, i, 1e12); /* every other arrow points back */
        }
    }
    struct hr_reduced *reduced = reduce(&net);
    ck_assert_uint_eq(reduced->point_count, 1);
    ck_assert_uint_eq(reduced->chain_count, 1);
    ck_assert_uint_eq(reduced->chain[0].count, 5);
    check_chains(reduced);
    hr_reduced_free(reduced);
}
END_TEST

START_TEST(chain_ends_where_flow_enters_or_pressure_is_given)
{
    struct net net;
    net_init(&net, 4);
    for (uint32_t i = 0; i < 3; i++) {
        net_square(&net, i, i + 1, 1e12);
    }
    net_fix(&net, 1, 0.0);
    net.node[2].inflow = 1e-5;
    struct hr_reduced *reduced = reduce(&net);
    ck_assert_uint_eq(reduced->point_count, 4);
    ck_assert_uint_eq(reduced->chain_count, 3);
    check_chains(reduced);
    hr_reduced_free(reduced);
}
END_TEST

START_TEST(parallel_branches_and_rings_of_one_stay_apart)
{
    struct net net;
    net_init(&net, 2);
    net_fix(&net, 0, 0.0);
    net_square(&net, 0, 1, 1e12);
    net_square(&net, 1, 0, 1e12);
    net_square(&net, 0, 1, 1e12);
    net_square(&net, 1, 1, 1e12);
    struct hr_reduced *reduced = reduce(&net);
    ck_assert_uint_eq(reduced->point_count, 2);
    ck_assert_uint_eq(reduced->chain_count, 4);
    check_chains(reduced);
    hr_reduced_free(reduced);
}
END_TEST

START_TEST(ring_without_a_point_gets_one)
{
    struct net net;
    net_init(&net, 4);
    net_fix(&net, 3, 0.0);
    net_square(&net, 0, 1, 1e12);
    net_square(&net, 1, 2, 1e12);
    net_square(&net, 2, 0, 1e12);
    struct hr_reduced *reduced = reduce(&net);
    ck_assert_uint_eq(reduced->point_count, 2);
    ck_assert_uint_eq(reduced->chain_count, 1);
    ck_assert_uint_eq(reduced->chain[0].from, reduced->chain[0].to);
    check_chains(reduced);
    hr_reduced_free(reduced);
}
END_TEST

START_TEST(lossless_joins_disappear_into_classes)
{
    struct net net;
    net_init(&net, 7);
    net_fix(&net, 0, 0.0);
    net_square(&net, 0, 1, 1e12);
    net_join(&net, 1, 2);
    net_join(&net, 3, 2);
    net_join(&net, 3, 4);
    net_square(&net, 4, 5, 1e12);
    net_join(&net, 5, 6);
    net_square(&net, 6, 0, 1e12);
    struct hr_reduced *reduced = reduce(&net);
    ck_assert_uint_eq(reduced->chain_count, 1);
    ck_assert_uint_eq(reduced->chain[0].count, 3);
    ck_assert_uint_eq(reduced->lossless_count, 4);
    for (uint32_t i = 2; i <= 4; i++) {
        ck_assert_uint_eq(reduced->node_class[i], reduced->node_class[1]);
    }
    ck_assert_uint_ne(reduced->node_class[5], reduced->node_class[1]);
    check_chains(reduced);
    hr_reduced_free(reduced);
}
END_TEST

/* Leaves first: when a branch's turn comes, its leaf has no other lossless branch left, and is no given
 * pressure. */
START_TEST(lossless_branches_are_listed_leaves_first)
{
    struct net net;
    net_init(&net, 8);
    net_fix(&net, 2, 0.0);
    static const uint32_t ends[][2] = {{0, 1}, {2, 1}, {3, 1}, {3, 4}, {5, 3}, {6, 5}, {5, 7}};
    for (size_t b = 0; b < HR_ARRAY_LEN(ends); b++) {
        net_join(&net, ends[b][0], ends[b][1]);
    }
    struct hr_reduced *reduced = reduce(&net);
    size_t degree[8] = {0};
    ck_assert_uint_eq(reduced->lossless_count, HR_ARRAY_LEN(ends));
    for (size_t b = 0; b < HR_ARRAY_LEN(ends); b++) {
        degree[ends[b][0]]++;
        degree[ends[b][1]]++;
    }
    for (size_t i = 0; i < reduced->lossless_count; i++) {
        const struct hr_branch *branch = &net.branch[reduced->lossless[i]];
        const uint32_t leaf = reduced->lossless_leaf[i];
        ck_assert(leaf == branch->from || leaf == branch->to);
        ck_assert_uint_ne(leaf, 2);
        ck_assert_uint_eq(degree[leaf], 1);
        degree[branch->from]--;
        degree[branch->to]--;
    }
    hr_reduced_free(reduced);
}
END_TEST

static void check_refused(const struct net *net, uint32_t branch)
{
    struct hr_report report;
    struct hr_reduced *reduced;
    uint32_t ring;
    hr_report_init(&report);
    ck_assert_int_eq(hr_reduced_new(&net->network, &reduced, &ring, &report), HR_NO_RESULT);
    ck_assert_ptr_null(reduced);
    ck_assert_uint_eq(ring, branch);
    ck_assert_uint_eq(report.errors, 1);
    ck_assert_str_eq(report.error[0].code, "lossless-ring");
    ck_assert_str_eq(
        report.error[0].text,
        "lossless joins form a ring or join two given pressures, so that their flow is undetermined");
}

START_TEST(ring_of_lossless_joins_is_refused)
{
    struct net net;
    net_init(&net, 3);
    net_join(&net, 0, 1);
    net_join(&net, 1, 2);
    net_square(&net, 0, 2, 1e12);
    check_refused(&net, net_join(&net, 0, 2));
    net_init(&net, 1);
    check_refused(&net, net_join(&net, 0, 0));
}
END_TEST

START_TEST(lossless_join_of_two_given_pressures_is_refused)
{
    struct net net;
    net_init(&net, 3);
    net_fix(&net, 0, 0.0);
    net_fix(&net, 2, 0.0);
    net_join(&net, 0, 1);
    check_refused(&net, net_join(&net, 1, 2));
}
END_TEST

START_TEST(valves_closed_and_given_branches_are_not_lossless)
{
    struct net net;
    net_init(&net, 2);
    const uint32_t valve = net_join(&net, 0, 1);
    net.branch[valve].one_way = true;
    ck_assert(!hr_branch_is_lossless(&net.branch[valve]));
    ck_assert(!hr_branch_is_lossless(&net.branch[net_closed(&net, 0, 1)]));
    ck_assert(!hr_branch_is_lossless(&net.branch[net_given(&net, 0, 1, 1e-5)]));
    ck_assert(!hr_branch_is_lossless(&net.branch[net_square(&net, 0, 1, 1e12)]));
    ck_assert(hr_branch_is_lossless(&net.branch[net_join(&net, 0, 1)]));
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("reduce");
    TCase *t = tcase_create("chains and joins");
    tcase_add_test(t, series_branches_become_one_chain);
    tcase_add_test(t, chain_ends_where_flow_enters_or_pressure_is_given);
    tcase_add_test(t, parallel_branches_and_rings_of_one_stay_apart);
    tcase_add_test(t, ring_without_a_point_gets_one);
    tcase_add_test(t, lossless_joins_disappear_into_classes);
    tcase_add_test(t, lossless_branches_are_listed_leaves_first);
    tcase_add_test(t, ring_of_lossless_joins_is_refused);
    tcase_add_test(t, lossless_join_of_two_given_pressures_is_refused);
    tcase_add_test(t, valves_closed_and_given_branches_are_not_lossless);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
