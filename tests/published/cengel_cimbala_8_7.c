/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Y. A. Cengel and J. M. Cimbala, "Fluid Mechanics", example 8-7: a pump of 8 kW and 70 % lifts water from 5
 * m to 13 m through two pipes in parallel. Data from a copy of the book's own worksheet; the published
 * answers recalled.
 *
 * "Exact" is the root with Colebrook's law, found by another program: 1e-6, its digits. The book rounds to
 * three digits: 0.3 %, and for the small pipe half of its last digit, 0.000005 m3/s. */
#include "pipes.h"

static const double G = 9.81;
static const struct hr_fluid_state water = {.density = 998.0, .viscosity = 1.002e-3};

START_TEST(pump_of_given_power_through_two_pipes)
{
    struct net net;
    struct test_part pump;
    const double metre = G * water.density;
    net_init(&net, 3);
    net_fix(&net, 0, 5.0 * metre);
    net_fix(&net, 2, 13.0 * metre);
    test_start(&pump);
    test_number(&pump, &hr_kind_pump, "hydraulic_power", 0.7 * 8000.0);
    test_make(&pump, &hr_kind_pump);
    add_part(&net, 0, 1, &hr_kind_pump, &pump, &water);
    add_pipe(&net, (struct pipe){1, 2, 36.0, 0.04, 0.045e-3}, "colebrook", &water);
    add_pipe(&net, (struct pipe){1, 2, 36.0, 0.08, 0.045e-3}, "colebrook", &water);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    hr_assert_rel(s.branch_flow[0], 0.03001220, 1e-6, "pump, m3/s");
    hr_assert_rel(s.branch_flow[1], 0.004151383, 1e-6, "small pipe, m3/s");
    hr_assert_rel(s.branch_flow[2], 0.02586082, 1e-6, "large pipe, m3/s");
    hr_assert_rel(s.branch_drop[1] / metre, 11.058584, 1e-6, "loss, m");
    hr_assert_rel(-s.branch_drop[0] / metre, 19.058584, 1e-6, "pump head, m");
    hr_assert_rel(s.branch_flow[0], 0.0300, 0.003, "published pump, m3/s");
    hr_assert_abs(s.branch_flow[1], 0.00415, 0.5e-5, "published small pipe, m3/s");
    hr_assert_rel(s.branch_flow[2], 0.0259, 0.003, "published large pipe, m3/s");
    hr_assert_abs(s.branch_drop[1] / metre, 11.1, 0.05, "published loss, m");
    hr_flow_free(flow);
    test_end(&pump);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("Cengel and Cimbala 8-7");
    TCase *t = tcase_create("example");
    tcase_add_test(t, pump_of_given_power_through_two_pipes);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
