/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory of the solver: after it is made, small networks ask the heap for nothing, whatever they are put
 * through; and where memory ends while it is made, it says so and gives everything back. */
#include "hr_test.h"

#include "heap.h"
#include "net.h"
#include "random_network.h"

enum { SEEDS = 40 };

START_TEST(heap_counter_counts)
{
    heap_watch(SIZE_MAX);
    void *volatile block = malloc(27);
    const long held = heap_live();
    free(block);
    const long left = heap_live();
    const size_t asked = heap_stop();
    ck_assert_int_eq(held, 1);
    ck_assert_int_eq(left, 0);
    ck_assert_uint_eq(asked, 1);
    heap_watch(1);
    void *volatile first = calloc(3, 9);
    void *volatile second = malloc(9);
    heap_stop();
    ck_assert_ptr_nonnull(first);
    ck_assert_ptr_null(second);
    free(first);
}
END_TEST

/* Cold and warm solutions, other laws, another start, valves and lossless joins: the seeds hold them all. */
START_TEST(small_network_allocates_nothing_after_creation)
{
    struct random_network net;
    double start[256];
    random_network_make(&net, (uint64_t)_i, _i % 2 == 0 ? 1e-3 : 0.0);
    ck_assert_uint_le(net.network.branch_count, HR_ARRAY_LEN(start));
    struct hr_flow *flow = net_flow(&net.network, NULL);
    enum hr_flow_outcome outcome[4];
    ck_assert(hr_flow_solution(flow).quality.small);
    heap_watch(SIZE_MAX);
    outcome[0] = hr_flow_solve(flow);
    outcome[1] = hr_flow_solve(flow);
    for (size_t b = 0; b < net.network.branch_count; b++) {
        start[b] = b % 2 == 0 ? 3e-4 : -1.7e-3;
    }
    hr_flow_start_from(flow, start);
    outcome[2] = hr_flow_solve(flow);
    for (size_t i = 0; i < net.network.law_count; i++) {
        net.network.law[i] = hr_law_rescale(&net.network.law[i], 1.0, 1.3);
    }
    hr_flow_rebind(flow);
    hr_flow_forget(flow);
    outcome[3] = hr_flow_solve(flow);
    const size_t asked = heap_stop();
    ck_assert_uint_eq(asked, 0);
    for (size_t i = 0; i < HR_ARRAY_LEN(outcome); i++) {
        ck_assert_int_eq(outcome[i], HR_FLOW_SOLVED);
    }
    hr_flow_free(flow);
    random_network_clear(&net);
}
END_TEST

static void check_failures(const struct hr_network *network, enum hr_nodal_choice choice)
{
    struct hr_flow_settings settings = hr_flow_defaults();
    settings.factorisation = choice;
    enum hr_status status = HR_SYSTEM;
    size_t n = 0;
    for (; status != HR_OK && n < 1000; n++) {
        struct hr_report report;
        struct hr_flow *flow;
        uint32_t ring;
        hr_report_init(&report);
        heap_watch(n);
        status = hr_flow_new(network, &settings, &flow, &ring, &report);
        heap_stop();
        if (status == HR_OK) {
            ck_assert_int_eq(hr_flow_solve(flow), HR_FLOW_SOLVED);
            hr_flow_free(flow);
        } else {
            ck_assert_int_eq(status, HR_SYSTEM);
            ck_assert_ptr_null(flow);
            ck_assert_int_eq(report.status, HR_SYSTEM);
            ck_assert_uint_eq(report.errors, 1);
            ck_assert_str_ne(report.error[0].text, "");
            ck_assert_msg(heap_live() == 0, "allocation %zu fails: %ld blocks left", n, heap_live());
        }
        hr_report_clear(&report);
    }
    ck_assert_int_eq(status, HR_OK);
    ck_assert_uint_gt(n, 50);
}

START_TEST(every_failing_allocation_is_reported_and_leaks_nothing)
{
    struct random_network net;
    random_network_make(&net, 3 + (uint64_t)_i, 1e-2);
    check_failures(&net.network, _i % 2 == 0 ? HR_NODAL_SMALL : HR_NODAL_LARGE);
    random_network_clear(&net);
}
END_TEST

START_TEST(solver_gives_everything_back)
{
    struct random_network net;
    random_network_make(&net, 3 + (uint64_t)_i, 1e-2);
    struct hr_flow_settings settings = hr_flow_defaults();
    settings.factorisation = _i % 2 == 0 ? HR_NODAL_SMALL : HR_NODAL_LARGE;
    struct hr_report report;
    struct hr_flow *flow;
    uint32_t ring;
    hr_report_init(&report);
    heap_watch(SIZE_MAX);
    const enum hr_status status = hr_flow_new(&net.network, &settings, &flow, &ring, &report);
    const enum hr_flow_outcome outcome = hr_flow_solve(flow);
    hr_flow_free(flow);
    hr_flow_free(NULL);
    heap_stop();
    ck_assert_int_eq(status, HR_OK);
    ck_assert_int_eq(outcome, HR_FLOW_SOLVED);
    ck_assert_int_eq(heap_live(), 0);
    random_network_clear(&net);
}
END_TEST

/* Memory that ends in the midst of a solution, where only CHOLMOD may ask for some: an outcome, no answer. */
START_TEST(memory_that_ends_while_solving_is_no_answer)
{
    struct random_network net;
    struct hr_flow_settings settings = hr_flow_defaults();
    settings.factorisation = HR_NODAL_LARGE;
    random_network_make(&net, 4, 1e-2);
    enum hr_flow_outcome outcome = HR_FLOW_NOT_CONVERGED;
    size_t n = 0;
    for (; outcome != HR_FLOW_SOLVED && n < 1000; n++) {
        struct hr_flow *flow = net_flow(&net.network, &settings);
        heap_watch(n);
        outcome = hr_flow_solve(flow);
        heap_stop();
        ck_assert(outcome == HR_FLOW_SOLVED || outcome == HR_FLOW_NOT_CONVERGED);
        hr_flow_free(flow);
    }
    ck_assert_uint_gt(n, 1);
    ck_assert_int_eq(outcome, HR_FLOW_SOLVED);
    random_network_clear(&net);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("solver memory");
    TCase *t = tcase_create("heap");
    tcase_add_test(t, heap_counter_counts);
    tcase_add_loop_test(t, small_network_allocates_nothing_after_creation, 0, SEEDS);
    tcase_add_loop_test(t, every_failing_allocation_is_reported_and_leaks_nothing, 0, 8);
    tcase_add_loop_test(t, solver_gives_everything_back, 0, 8);
    tcase_add_test(t, memory_that_ends_while_solving_is_no_answer);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
