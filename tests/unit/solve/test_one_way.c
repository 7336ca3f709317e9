/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One-way valves: exactly shut against their arrow, without a trace along it. */
#include "hr_test.h"

#include "net.h"

static const double EXACT = 1e-12;

/* Pump 0 -> 1; a way back without a valve, and one with a valve that lets flow pass from `from` to `to`. */
static struct hr_flow *loop_with_valve(struct net *net, uint32_t from, uint32_t to, double opening)
{
    net_init(net, 2);
    net_fix(net, 0, 0.0);
    net_add(net, 0, 1, net_pump(17300.0, 0.0, 0.0));
    net_square(net, 1, 0, 6.1e12);
    net_valve(net, from, to, hr_law_quadratic(0.0, 2.3e12, 2.3e12));
    if (opening > 0.0) {
        net_also(net, hr_law_offset(opening));
    }
    return net_flow(&net->network, NULL);
}

START_TEST(valve_against_the_flow_is_exactly_shut)
{
    struct net net;
    struct hr_flow *flow = loop_with_valve(&net, 0, 1, 0.0);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[2], 0.0, 0.0, "valve");
    ck_assert(!signbit(s.branch_flow[2]));
    hr_assert_rel(s.branch_flow[0], sqrt(17300.0 / 6.1e12), EXACT, "all through the other");
    hr_assert_rel(s.branch_drop[2], -17300.0, EXACT, "pressure that holds it shut");
    hr_flow_free(flow);
}
END_TEST

START_TEST(valve_along_the_flow_is_not_there)
{
    struct net net;
    struct hr_flow *flow = loop_with_valve(&net, 1, 0, 0.0);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[2], sqrt(17300.0 / 2.3e12), EXACT, "valve");
    hr_flow_free(flow);
}
END_TEST

START_TEST(opening_pressure_is_taken_from_the_drive)
{
    struct net net;
    struct hr_flow *flow = loop_with_valve(&net, 1, 0, 4180.0);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[2], sqrt((17300.0 - 4180.0) / 2.3e12), EXACT, "valve");
    hr_flow_free(flow);
}
END_TEST

START_TEST(valve_below_its_opening_pressure_is_exactly_shut)
{
    struct net net;
    struct hr_flow *flow = loop_with_valve(&net, 1, 0, 17301.0);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[2], 0.0, 0.0, "valve");
    hr_assert_rel(s.branch_drop[2], 17300.0, EXACT, "pressure that does not open it");
    hr_flow_free(flow);
}
END_TEST

START_TEST(valve_opens_and_shuts_as_the_drive_changes)
{
    struct net net;
    struct hr_flow *flow = loop_with_valve(&net, 1, 0, 4180.0);
    for (int i = 0; i < 6; i++) {
        const double head = i % 2 == 0 ? 17300.0 : 4100.0;
        net.law[0] = net_pump(head, 0.0, 0.0);
        hr_flow_rebind(flow);
        const struct hr_flow_solution s = net_solve(flow, &net.network);
        hr_assert_rel(s.branch_flow[2], i % 2 == 0 ? sqrt((head - 4180.0) / 2.3e12) : 0.0, EXACT, "valve");
        hr_assert_rel(s.branch_flow[1], sqrt(head / 6.1e12), EXACT, "beside it");
    }
    hr_flow_free(flow);
}
END_TEST

/* Two pumps side by side, each behind a valve: the weaker one is held shut by the stronger. */
START_TEST(weaker_of_two_pumps_is_held_shut)
{
    struct net net;
    net_init(&net, 2);
    net_fix(&net, 0, 0.0);
    net_valve(&net, 0, 1, net_pump(17300.0, 0.0, 2.74e11));
    net_valve(&net, 0, 1, net_pump(9100.0, 0.0, 1.1e11));
    net_square(&net, 1, 0, 6.1e11);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[0], sqrt(17300.0 / (2.74e11 + 6.1e11)), EXACT, "stronger");
    hr_assert_abs(s.branch_flow[1], 0.0, 0.0, "weaker");
    ck_assert(s.branch_drop[1] < -9100.0);
    hr_flow_free(flow);
}
END_TEST

/* A pump whose own valve points the other way: nothing moves, and the pump shows its shut-off head. */
START_TEST(pump_against_its_valve_gives_shut_off_head)
{
    struct net net;
    net_init(&net, 3);
    net_fix(&net, 0, 0.0);
    net_add(&net, 0, 1, net_pump(17300.0, 0.0, 2.74e11));
    net_valve(&net, 2, 1, hr_law_quadratic(0.0, 2.3e12, 2.3e12));
    net_square(&net, 2, 0, 6.1e11);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t b = 0; b < 3; b++) {
        hr_assert_abs(s.branch_flow[b], 0.0, 0.0, "nothing moves");
    }
    hr_assert_rel(s.node_potential[1], 17300.0, EXACT, "shut-off head");
    hr_assert_abs(s.node_potential[2], 0.0, 0.0, "no pressure behind");
    hr_flow_free(flow);
}
END_TEST

START_TEST(flow_that_must_pass_a_valve_backwards_is_an_outcome)
{
    struct net net;
    net_init(&net, 2);
    net_fix(&net, 0, 0.0);
    if (_i == 0) {
        net.node[1].inflow = 1.73e-5;
    } else {
        net_given(&net, 0, 1, 1.73e-5);
    }
    const uint32_t valve = net_valve(&net, 0, 1, hr_law_quadratic(0.0, 2.3e12, 2.3e12));
    struct hr_flow *flow = net_flow(&net.network, NULL);
    ck_assert_int_eq(hr_flow_solve(flow), HR_FLOW_AGAINST_VALVE);
    ck_assert_uint_eq(hr_flow_solution(flow).quality.branch, valve);
    hr_flow_free(flow);
}
END_TEST

/* A pump between two valves that meet: its part floats, with the pump's head inside. */
START_TEST(part_between_shut_valves_floats_and_keeps_its_differences)
{
    struct net net;
    net_init(&net, 4);
    net_fix(&net, 0, 41800.0);
    net_valve(&net, 0, 1, hr_law_quadratic(0.0, 2.3e12, 2.3e12));
    net_add(&net, 1, 2, net_pump(17300.0, 0.0, 2.74e11));
    net_square(&net, 2, 3, 2.3e12);
    net_valve(&net, 0, 3, hr_law_quadratic(0.0, 2.3e12, 2.3e12));
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[1], 0.0, 0.0, "nothing moves");
    hr_assert_rel(s.node_potential[2] - s.node_potential[1], 17300.0, EXACT, "head between floating nodes");
    hr_assert_rel(s.node_potential[3], s.node_potential[2], EXACT, "no drop without flow");
    ck_assert(s.node_floating[1] && s.node_floating[2] && s.node_floating[3] && !s.node_floating[0]);
    hr_flow_free(flow);
}
END_TEST

/* Three valves in a row with two dead ends between them, so that they are no chain. Shut against the first
 * drive, they must open for the second, though the parts between them float. Tolerance: the residual may be
 * 1e-12 of the driving pressure, which is 419 times what is left after opening. */
START_TEST(valves_around_floating_parts_open_when_driven)
{
    struct net net;
    net_init(&net, 5);
    net_fix(&net, 0, 0.0);
    net_add(&net, 0, 1, net_pump(-9100.0, 0.0, 0.0));
    net_valve(&net, 1, 2, hr_law_quadratic(0.0, 2.3e12, 2.3e12));
    net_valve(&net, 2, 3, hr_law_quadratic(0.0, 6.1e11, 6.1e11));
    net_also(&net, hr_law_offset(418.0));
    net_valve(&net, 3, 0, hr_law_quadratic(0.0, 1.9e12, 1.9e12));
    net_square(&net, 2, 4, 1e12);
    net_square(&net, 3, 4, 1e15);
    net.branch[5].role = HR_BRANCH_CLOSED;
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution against = net_solve(flow, &net.network);
    hr_assert_abs(against.branch_flow[2], 0.0, 0.0, "shut");
    const double heads[] = {417.0, 419.0, 17300.0};
    for (size_t i = 0; i < HR_ARRAY_LEN(heads); i++) {
        net.law[0] = net_pump(heads[i], 0.0, 0.0);
        hr_flow_rebind(flow);
        const struct hr_flow_solution s = net_solve(flow, &net.network);
        const double drive = fmax(heads[i] - 418.0, 0.0);
        hr_assert_rel(s.branch_flow[2], sqrt(drive / (2.3e12 + 6.1e11 + 1.9e12)), 1e-9, "flow in the row");
    }
    hr_flow_free(flow);
}
END_TEST

/* Branches without a law scale nothing: valves behind a closed branch in the list are as stiff as before it.
 */
START_TEST(valves_behind_a_closed_branch_in_the_list_work)
{
    struct net net;
    net_init(&net, 2);
    net_fix(&net, 0, 0.0);
    net_closed(&net, 0, 1);
    net_add(&net, 0, 1, net_pump(17300.0, 1.1e7, 0.0));
    net_add(&net, 1, 0, hr_law_quadratic(2.2e6, 6.1e12, 6.1e12));
    net_valve(&net, 0, 1, hr_law_quadratic(2.2e3, 6.1e9, 6.1e9));
    net_also(&net, hr_law_offset(4180.0));
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[3], 0.0, 0.0, "valve");
    ck_assert_uint_le(s.quality.iterations, 20);
    hr_flow_free(flow);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("one-way valves");
    TCase *t = tcase_create("valves");
    tcase_add_test(t, valve_against_the_flow_is_exactly_shut);
    tcase_add_test(t, valve_along_the_flow_is_not_there);
    tcase_add_test(t, opening_pressure_is_taken_from_the_drive);
    tcase_add_test(t, valve_below_its_opening_pressure_is_exactly_shut);
    tcase_add_test(t, valve_opens_and_shuts_as_the_drive_changes);
    tcase_add_test(t, weaker_of_two_pumps_is_held_shut);
    tcase_add_test(t, pump_against_its_valve_gives_shut_off_head);
    tcase_add_loop_test(t, flow_that_must_pass_a_valve_backwards_is_an_outcome, 0, 2);
    tcase_add_test(t, part_between_shut_valves_floats_and_keeps_its_differences);
    tcase_add_test(t, valves_around_floating_parts_open_when_driven);
    tcase_add_test(t, valves_behind_a_closed_branch_in_the_list_work);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
