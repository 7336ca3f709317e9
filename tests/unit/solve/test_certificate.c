/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A certificate is worth what it catches: a good solution is spoilt in one way at a time. */
#include "hr_test.h"

#include "net.h"

#include <string.h>

enum { PUMP, RETURN, SIDE, VALVE, CLOSED, GIVEN, BRANCHES, NODES = 3 };
static const double GOOD = 1e-10;

struct copy {
    double flow[BRANCHES], drop[BRANCHES], potential[NODES];
    bool floating[NODES];
    struct hr_flow_solution solution;
};

static void build(struct net *net)
{
    net_init(net, NODES);
    net_fix(net, 0, 0.0);
    net_add(net, 0, 1, net_pump(17300.0, 0.0, 2.74e11));
    net_square(net, 1, 0, 6.1e12);
    net_square(net, 1, 2, 2.3e12);
    net_valve(net, 0, 2, hr_law_quadratic(0.0, 1.9e12, 1.9e12)); /* shut: node 2 has pressure */
    net_closed(net, 1, 2);
    net_given(net, 2, 0, 4.18e-5);
}

static void take(struct copy *copy, const struct hr_flow_solution *s)
{
    memcpy(copy->flow, s->branch_flow, sizeof copy->flow);
    memcpy(copy->drop, s->branch_drop, sizeof copy->drop);
    memcpy(copy->potential, s->node_potential, sizeof copy->potential);
    memcpy(copy->floating, s->node_floating, sizeof copy->floating);
    copy->solution = (struct hr_flow_solution){
        .branch_flow = copy->flow,
        .branch_drop = copy->drop,
        .node_potential = copy->potential,
        .node_floating = copy->floating,
    };
}

static struct net net;
static struct hr_flow *flow;
static struct copy copy;

static void set_up(void)
{
    build(&net);
    flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_abs(s.branch_flow[VALVE], 0.0, 0.0, "the valve is shut");
    take(&copy, &s);
}

static void tear_down(void)
{
    hr_flow_free(flow);
}

START_TEST(good_solution_passes)
{
    const struct hr_certificate c = hr_flow_certify(&net.network, &copy.solution);
    ck_assert(c.mass_residual <= GOOD && c.pressure_residual <= GOOD && c.valve_residual <= GOOD);
}
END_TEST

/* A ring of flow keeps mass and breaks pressure; the size shows by how much. */
START_TEST(flow_around_a_ring_breaks_pressure_alone)
{
    const double extra = 1e-3 * copy.flow[PUMP];
    copy.flow[PUMP] += extra;
    copy.flow[RETURN] += extra;
    const struct hr_certificate c = hr_flow_certify(&net.network, &copy.solution);
    ck_assert(c.mass_residual <= GOOD && c.valve_residual <= GOOD);
    ck_assert_msg(c.pressure_residual > 1e-4 && c.pressure_residual < 1e-2, "%g", c.pressure_residual);
    ck_assert(c.worst_branch == PUMP || c.worst_branch == RETURN);
}
END_TEST

START_TEST(flow_that_ends_in_a_node_breaks_mass)
{
    copy.flow[SIDE] *= 1.0 + 2e-6;
    const struct hr_certificate c = hr_flow_certify(&net.network, &copy.solution);
    hr_assert_rel(c.mass_residual, 1e-6, 1e-3, "half of what passes node 2 is off by 2e-6");
    ck_assert_uint_eq(c.worst_node, 2);
}
END_TEST

START_TEST(shifted_pressure_breaks_the_branches_around)
{
    copy.potential[1] += 1e-6 * 17300.0;
    const struct hr_certificate c = hr_flow_certify(&net.network, &copy.solution);
    ck_assert(c.mass_residual <= GOOD);
    hr_assert_rel(c.pressure_residual, 1e-6, 1e-3, "pressure residual");
}
END_TEST

START_TEST(flow_back_through_a_valve_is_never_small)
{
    copy.flow[VALVE] = -1e-300;
    const struct hr_certificate c = hr_flow_certify(&net.network, &copy.solution);
    ck_assert(isinf(c.valve_residual));
    ck_assert_uint_eq(c.worst_branch, VALVE);
}
END_TEST

START_TEST(shut_valve_with_pressure_to_open_it_is_wrong)
{
    copy.potential[2] = -865.0;
    const struct hr_certificate c = hr_flow_certify(&net.network, &copy.solution);
    hr_assert_rel(c.valve_residual, 865.0 / 17300.0, 1e-12, "push on the valve");
}
END_TEST

START_TEST(flow_through_a_closed_branch_is_wrong)
{
    copy.flow[CLOSED] = 1e-9;
    ck_assert(hr_flow_certify(&net.network, &copy.solution).valve_residual > 0.0);
}
END_TEST

START_TEST(given_flow_that_is_not_kept_is_wrong)
{
    copy.flow[GIVEN] *= 1.0 - 1e-7;
    hr_assert_rel(hr_flow_certify(&net.network, &copy.solution).valve_residual, 1e-7, 1e-3, "given flow");
}
END_TEST

START_TEST(what_is_not_a_number_never_passes)
{
    if (_i < BRANCHES) {
        copy.flow[_i] = NAN;
    } else {
        copy.potential[_i - BRANCHES] = NAN;
    }
    const struct hr_certificate c = hr_flow_certify(&net.network, &copy.solution);
    ck_assert(!(c.mass_residual <= GOOD && c.pressure_residual <= GOOD && c.valve_residual <= GOOD));
}
END_TEST

START_TEST(changed_network_does_not_pass_with_the_old_solution)
{
    net.law[1] = hr_law_quadratic(0.0, 6.1e12 * 1.001, 6.1e12);
    ck_assert(hr_flow_certify(&net.network, &copy.solution).pressure_residual > 1e-4);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("certificate");
    TCase *t = tcase_create("spoilt solutions");
    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_test(t, good_solution_passes);
    tcase_add_test(t, flow_around_a_ring_breaks_pressure_alone);
    tcase_add_test(t, flow_that_ends_in_a_node_breaks_mass);
    tcase_add_test(t, shifted_pressure_breaks_the_branches_around);
    tcase_add_test(t, flow_back_through_a_valve_is_never_small);
    tcase_add_test(t, shut_valve_with_pressure_to_open_it_is_wrong);
    tcase_add_test(t, flow_through_a_closed_branch_is_wrong);
    tcase_add_test(t, given_flow_that_is_not_kept_is_wrong);
    tcase_add_loop_test(t, what_is_not_a_number_never_passes, 0, BRANCHES + NODES);
    tcase_add_test(t, changed_network_does_not_pass_with_the_old_solution);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
