/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flow solver against closed forms, and what it says of every special branch. Tolerance 1e-12 where the
 * answer is a formula: rounding of a few operations at a residual of 1e-12 of the driving pressure. */
#include "hr_test.h"

#include "net.h"

static const double EXACT = 1e-12;

/* Pump 0 -> 1, resistance 1 -> 0, pressure given at 0. */
static void pump_loop(struct net *net, struct hr_law pump, double linear, double square)
{
    net_init(net, 2);
    net_fix(net, 0, 41800.0);
    net_add(net, 0, 1, pump);
    net_add(net, 1, 0, hr_law_quadratic(linear, square, square));
}

START_TEST(pump_and_square_law_meet_at_the_root)
{
    struct net net;
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    const double q = sqrt(17300.0 / (2.74e11 + 6.1e12));
    hr_assert_rel(s.branch_flow[0], q, EXACT, "flow");
    hr_assert_rel(s.branch_flow[1], q, EXACT, "flow");
    hr_assert_rel(s.branch_drop[1], 6.1e12 * q * q, EXACT, "drop");
    hr_assert_rel(s.node_potential[1], 41800.0 + 6.1e12 * q * q, EXACT, "potential after the pump");
    hr_assert_abs(s.node_potential[0], 41800.0, 0.0, "given potential");
    hr_assert_rel(s.quality.driving_pressure, 17300.0, EXACT, "driving pressure");
    ck_assert(s.quality.small);
    hr_flow_free(flow);
}
END_TEST

START_TEST(laminar_shares_give_the_root_of_the_parabola)
{
    struct net net;
    const double head = 17300.0, linear = 3.1e7 + 0.9e7, square = 2.74e11 + 6.1e11;
    pump_loop(&net, net_pump(head, 3.1e7, 2.74e11), 0.9e7, 6.1e11);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[0], 2.0 * head / (linear + sqrt(linear * linear + 4.0 * square * head)),
                  EXACT, "flow");
    hr_flow_free(flow);
}
END_TEST

START_TEST(parallel_branches_split_as_the_roots_of_their_resistances)
{
    struct net net;
    const double a = 6.1e11, b = 2.3e13, head = 17300.0;
    net_init(&net, 2);
    net_fix(&net, 0, 0.0);
    net_add(&net, 0, 1, net_pump(head, 0.0, 0.0));
    net_square(&net, 1, 0, a);
    net_square(&net, 0, 1, b); /* against the flow */
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[1], sqrt(head / a), EXACT, "first");
    hr_assert_rel(s.branch_flow[2], -sqrt(head / b), EXACT, "second");
    hr_assert_rel(s.branch_flow[0], sqrt(head / a) + sqrt(head / b), EXACT, "pump");
    hr_flow_free(flow);
}
END_TEST

/* Branches 2..6 carry nothing: a dead end of two branches, and a ring that hangs on it. */
START_TEST(dead_ends_and_idle_rings_carry_exactly_nothing)
{
    struct net net;
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    net.network.node_count = 6;
    net_square(&net, 1, 2, 3.3e12);
    net_square(&net, 3, 2, 1.7e12);
    net_square(&net, 3, 4, 2.9e12);
    net_square(&net, 4, 5, 4.1e11);
    net_square(&net, 3, 5, 8.3e13);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t b = 2; b < 7; b++) {
        hr_assert_abs(s.branch_flow[b], 0.0, 0.0, "idle flow");
        hr_assert_abs(s.branch_drop[b], 0.0, 0.0, "idle drop");
    }
    for (size_t i = 2; i < 6; i++) {
        hr_assert_rel(s.node_potential[i], s.node_potential[1], EXACT, "pressure of the idle part");
        ck_assert(!s.node_floating[i]);
    }
    hr_flow_free(flow);
}
END_TEST

/* Started with flows in a ring that nothing drives, whatever its laws: Newton alone would only halve them. */
START_TEST(idle_ring_comes_to_rest_from_any_start)
{
    struct net net;
    const double linear = _i == 0 ? 0.0 : 1.7e6;
    const double start[] = {3e-5, 3e-5, 1e-5, -4e-4, 7e-5, 2e-6};
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    net.network.node_count = 5;
    net_square(&net, 1, 2, 3.3e12);
    net_add(&net, 2, 3, hr_law_quadratic(linear, 2.9e12, 2.9e12));
    net_add(&net, 3, 4, hr_law_quadratic(linear, 4.1e11, 4.1e11));
    net_add(&net, 2, 4, hr_law_quadratic(linear, 8.3e13, 8.3e13));
    struct hr_flow *flow = net_flow(&net.network, NULL);
    hr_flow_start_from(flow, start);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t b = 2; b < 6; b++) {
        hr_assert_abs(s.branch_flow[b], 0.0, 0.0, "idle flow");
    }
    hr_flow_free(flow);
}
END_TEST

START_TEST(laws_of_two_directions_are_followed_against_arrows)
{
    struct net net;
    net_init(&net, 3);
    net_fix(&net, 0, 0.0);
    net_add(&net, 0, 1, net_pump(17300.0, 0.0, 2.74e11));
    net_add(&net, 1, 2, hr_law_quadratic(0.0, 6.1e11, 8.9e12));
    net_add(&net, 0, 2, hr_law_quadratic(0.0, 4.7e12, 2.3e12)); /* passed backwards */
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[0], sqrt(17300.0 / (2.74e11 + 6.1e11 + 2.3e12)), EXACT, "flow");
    hr_assert_rel(s.branch_flow[2], -s.branch_flow[0], EXACT, "against the arrow");
    hr_flow_free(flow);
}
END_TEST

START_TEST(bridge_between_two_loops_carries_exactly_nothing)
{
    struct net net;
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    net.network.node_count = 4;
    net_add(&net, 2, 3, net_pump(9100.0, 0.0, 1.1e11));
    net_square(&net, 3, 2, 7.7e11);
    const uint32_t bridge = net_square(&net, 1, 3, 1.9e12);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[bridge], 0.0, 0.0, "bridge");
    hr_assert_rel(s.branch_flow[2], sqrt(9100.0 / (1.1e11 + 7.7e11)), EXACT, "second loop");
    hr_assert_rel(s.node_potential[3], s.node_potential[1], EXACT,
                  "the bridge ties the second loop's pressure");
    hr_flow_free(flow);
}
END_TEST

START_TEST(bridge_carries_what_flows_in_behind_it)
{
    struct net net;
    net_init(&net, 3);
    net_fix(&net, 0, 1300.0);
    net.node[2].inflow = 2.9e-5;
    net_square(&net, 0, 1, 6.1e12);
    net_add(&net, 2, 1, hr_law_quadratic(4.4e7, 0.0, 0.0));
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[0], -2.9e-5, EXACT, "against the arrow");
    hr_assert_rel(s.branch_flow[1], 2.9e-5, EXACT, "along the arrow");
    hr_assert_rel(s.node_potential[2], 1300.0 + 6.1e12 * 2.9e-5 * 2.9e-5 + 4.4e7 * 2.9e-5, EXACT,
                  "pressure behind");
    hr_flow_free(flow);
}
END_TEST

START_TEST(given_flow_makes_the_pressure_it_needs)
{
    struct net net;
    net_init(&net, 2);
    net_fix(&net, 0, 0.0);
    net_given(&net, 0, 1, 4.18e-5);
    net_square(&net, 1, 0, 6.1e11);
    net_square(&net, 1, 0, 2.3e13);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    const double share = 1.0 / (1.0 + sqrt(6.1e11 / 2.3e13));
    hr_assert_rel(s.branch_flow[0], 4.18e-5, 0.0, "given");
    hr_assert_rel(s.branch_flow[1], 4.18e-5 * share, EXACT, "first");
    hr_assert_rel(s.branch_flow[2], 4.18e-5 * (1.0 - share), EXACT, "second");
    hr_assert_rel(s.branch_drop[0], -s.branch_drop[1], EXACT, "lift of the ideal pump");
    hr_flow_free(flow);
}
END_TEST

static struct hr_flow *two_given(struct net *net, double first, double second)
{
    net_init(net, 3);
    net_fix(net, 0, 0.0);
    net_given(net, 0, 1, first);
    net_given(net, 2, 1, -second); /* against the other's arrow */
    net_square(net, 2, 0, 6.1e11);
    return net_flow(&net->network, NULL);
}

START_TEST(two_different_given_flows_in_series_are_an_outcome)
{
    struct net net;
    struct hr_flow *flow = two_given(&net, 4.18e-5, 4.19e-5);
    ck_assert_int_eq(hr_flow_solve(flow), HR_FLOW_TWO_GIVEN);
    ck_assert_uint_le(hr_flow_solution(flow).quality.branch, 1);
    hr_flow_free(flow);
}
END_TEST

START_TEST(two_equal_given_flows_in_series_are_solved)
{
    struct net net;
    struct hr_flow *flow = two_given(&net, 4.18e-5, 4.18e-5);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[2], 4.18e-5, EXACT, "flow");
    ck_assert(s.node_floating[1] && !s.node_floating[2]);
    ck_assert(isnan(s.branch_drop[0]));
    hr_flow_free(flow);
}
END_TEST

START_TEST(inflow_without_a_way_out_is_an_outcome)
{
    struct net net;
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    net.network.node_count = 5;
    net_square(&net, 2, 3, 1e12);
    net_square(&net, 3, 4, 1e12);
    net_square(&net, 2, 4, 1e12);
    net.node[3].inflow = 1.73e-5;
    struct hr_flow *flow = net_flow(&net.network, NULL);
    ck_assert_int_eq(hr_flow_solve(flow), HR_FLOW_NO_OUTLET);
    const uint32_t node = hr_flow_solution(flow).quality.node;
    ck_assert_msg(node >= 2 && node <= 4, "node %u is not in the part without an outlet", node);
    hr_flow_free(flow);
}
END_TEST

START_TEST(part_without_a_given_pressure_floats_and_is_solved)
{
    struct net net;
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    net.network.node_count = 4;
    net_square(&net, 2, 3, 1.3e12);
    net_square(&net, 3, 2, 1.3e12);
    net.node[2].inflow = 1.73e-5;
    net.node[3].inflow = -1.73e-5;
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[2], 0.5 * 1.73e-5, EXACT, "half each way");
    hr_assert_rel(s.branch_flow[3], -0.5 * 1.73e-5, EXACT, "half each way");
    ck_assert(s.node_floating[2] && s.node_floating[3]);
    ck_assert(!s.node_floating[0] && !s.node_floating[1]);
    hr_flow_free(flow);
}
END_TEST

START_TEST(closed_branch_carries_nothing_and_ties_nothing)
{
    struct net net;
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    net.network.node_count = 3;
    const uint32_t across = net_closed(&net, 1, 0);
    const uint32_t end = net_closed(&net, 1, 2);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[across], 0.0, 0.0, "closed");
    hr_assert_abs(s.branch_flow[end], 0.0, 0.0, "closed");
    hr_assert_rel(s.branch_drop[across], s.branch_drop[1], EXACT, "pressure across the closed branch");
    ck_assert(isnan(s.branch_drop[end]));
    ck_assert(s.node_floating[2]);
    hr_flow_free(flow);
}
END_TEST

START_TEST(closing_a_branch_stops_a_running_loop)
{
    struct net net;
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    net_solve(flow, &net.network);
    net.branch[1].role = HR_BRANCH_CLOSED;
    hr_flow_rebind(flow);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[0], 0.0, 0.0, "pump against a closed branch");
    hr_assert_rel(s.node_potential[1], 41800.0 + 17300.0, EXACT, "shut-off head");
    hr_flow_free(flow);
}
END_TEST

START_TEST(pump_that_stops_leaves_everything_at_rest)
{
    struct net net;
    const double linear = _i == 0 ? 0.0 : 1.7e7;
    pump_loop(&net, net_pump(17300.0, linear, 2.74e11), linear, 6.1e12);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    net_solve(flow, &net.network);
    net.law[0] = net_pump(0.0, linear, 2.74e11);
    hr_flow_rebind(flow);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[0], 0.0, 0.0, "at rest");
    hr_assert_abs(s.node_potential[1], 41800.0, 0.0, "no pressure");
    hr_flow_free(flow);
}
END_TEST

START_TEST(feeds_of_two_pressures_drive_by_their_difference)
{
    struct net net;
    net_init(&net, 3);
    net_fix(&net, 0, 31000.0);
    net_fix(&net, 2, 12700.0);
    net.node[2].lift = 4900.0;
    net_square(&net, 0, 1, 6.1e11);
    net_square(&net, 1, 2, 2.3e12);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    const double drive = 31000.0 - (12700.0 + 4900.0);
    const double q = sqrt(drive / (6.1e11 + 2.3e12));
    hr_assert_rel(s.branch_flow[0], q, EXACT, "flow");
    hr_assert_rel(s.node_potential[1], 31000.0 - 6.1e11 * q * q, EXACT, "between");
    hr_assert_rel(s.quality.driving_pressure, drive, EXACT, "driving pressure");
    hr_flow_free(flow);
}
END_TEST

START_TEST(heights_change_pressures_and_no_flow_of_a_closed_loop)
{
    struct net flat, high;
    pump_loop(&flat, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    pump_loop(&high, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    high.node[1].lift = 3130.0;
    struct hr_flow *a = net_flow(&flat.network, NULL);
    struct hr_flow *b = net_flow(&high.network, NULL);
    const struct hr_flow_solution low = net_solve(a, &flat.network);
    const struct hr_flow_solution up = net_solve(b, &high.network);
    hr_assert_rel(up.branch_flow[0], low.branch_flow[0], 0.0, "flow");
    hr_assert_rel(up.node_potential[1], low.node_potential[1], 0.0, "potential, of which the lift is a part");
    hr_flow_free(a);
    hr_flow_free(b);
}
END_TEST

START_TEST(lossless_joins_carry_what_meets_them)
{
    struct net net;
    net_init(&net, 5);
    net_fix(&net, 0, 0.0);
    net_add(&net, 0, 1, net_pump(17300.0, 0.0, 2.74e11));
    const uint32_t first = net_join(&net, 1, 2);
    const uint32_t second = net_join(&net, 3, 2); /* against the flow */
    const uint32_t end = net_join(&net, 3, 4);
    net_square(&net, 2, 0, 6.1e11);
    net_square(&net, 3, 0, 2.3e12);
    net_square(&net, 4, 0, 8.7e12);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[first], s.branch_flow[0], EXACT, "all of it");
    hr_assert_rel(s.branch_flow[second], -(s.branch_flow[5] + s.branch_flow[6]), EXACT, "what goes on");
    hr_assert_rel(s.branch_flow[end], s.branch_flow[6], EXACT, "the last");
    hr_assert_abs(s.branch_drop[first], 0.0, 0.0, "no drop");
    hr_flow_free(flow);
}
END_TEST

START_TEST(changed_laws_are_followed_from_the_last_solution)
{
    struct net net;
    pump_loop(&net, net_pump(17300.0, 0.0, 2.74e11), 0.0, 6.1e12);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const size_t cold = net_solve(flow, &net.network).quality.iterations;
    net.law[0] = net_pump(18100.0, 0.0, 2.74e11);
    hr_flow_rebind(flow);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[0], sqrt(18100.0 / (2.74e11 + 6.1e12)), EXACT, "after a small change");
    ck_assert_uint_lt(s.quality.iterations, cold);
    net.law[1] = hr_law_quadratic(0.0, 6.1e4, 6.1e4);
    hr_flow_rebind(flow);
    hr_assert_rel(net_solve(flow, &net.network).branch_flow[0], sqrt(18100.0 / (2.74e11 + 6.1e4)), EXACT,
                  "after a change by eight decades");
    hr_flow_free(flow);
}
END_TEST

START_TEST(every_outcome_has_a_name)
{
    for (int i = HR_FLOW_SOLVED; i <= HR_FLOW_TWO_GIVEN; i++) {
        const char *text = hr_flow_outcome_text((enum hr_flow_outcome)i);
        ck_assert_str_ne(text, "unknown outcome");
        for (int k = HR_FLOW_SOLVED; k < i; k++) {
            ck_assert_str_ne(text, hr_flow_outcome_text((enum hr_flow_outcome)k));
        }
    }
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("flow");
    TCase *closed = tcase_create("closed forms");
    tcase_add_test(closed, pump_and_square_law_meet_at_the_root);
    tcase_add_test(closed, laminar_shares_give_the_root_of_the_parabola);
    tcase_add_test(closed, parallel_branches_split_as_the_roots_of_their_resistances);
    tcase_add_test(closed, feeds_of_two_pressures_drive_by_their_difference);
    tcase_add_test(closed, heights_change_pressures_and_no_flow_of_a_closed_loop);
    tcase_add_test(closed, lossless_joins_carry_what_meets_them);
    tcase_add_test(closed, changed_laws_are_followed_from_the_last_solution);
    tcase_add_test(closed, laws_of_two_directions_are_followed_against_arrows);
    suite_add_tcase(s, closed);
    TCase *still = tcase_create("what carries nothing");
    tcase_add_test(still, dead_ends_and_idle_rings_carry_exactly_nothing);
    tcase_add_loop_test(still, idle_ring_comes_to_rest_from_any_start, 0, 2);
    tcase_add_test(still, bridge_between_two_loops_carries_exactly_nothing);
    tcase_add_test(still, bridge_carries_what_flows_in_behind_it);
    tcase_add_test(still, closed_branch_carries_nothing_and_ties_nothing);
    tcase_add_test(still, closing_a_branch_stops_a_running_loop);
    tcase_add_loop_test(still, pump_that_stops_leaves_everything_at_rest, 0, 2);
    suite_add_tcase(s, still);
    TCase *given = tcase_create("given flows");
    tcase_add_test(given, given_flow_makes_the_pressure_it_needs);
    tcase_add_test(given, two_different_given_flows_in_series_are_an_outcome);
    tcase_add_test(given, two_equal_given_flows_in_series_are_solved);
    tcase_add_test(given, inflow_without_a_way_out_is_an_outcome);
    tcase_add_test(given, part_without_a_given_pressure_floats_and_is_solved);
    tcase_add_test(given, every_outcome_has_a_name);
    suite_add_tcase(s, given);
    return s;
}

HR_TEST_MAIN(suite)
