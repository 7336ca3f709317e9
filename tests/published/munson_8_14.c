/* SPDX-License-Identifier: GPL-3.0-or-later */
/* B. R. Munson, D. F. Young and T. H. Okiishi, "Fundamentals of Fluid Mechanics", example 8.14: three
 * reservoirs at 100, 20 and 0 ft, pipes of 1 ft bore, friction factor 0.02, g = 32.2 ft/s2. Statement read on
 * a problem page, answers recalled.
 *
 * "Exact": root found by another program, 1e-5. Published: rounded hand algebra, the smallest flow 1.2 %
 * high: 1.5 %. */
#include "pipes.h"

static const double FOOT = 0.3048;
static const struct hr_fluid_state water = {.density = 1000.0, .viscosity = 1e-3};

START_TEST(three_reservoirs_with_one_friction_factor)
{
    static const double level_ft[] = {100.0, 20.0, 0.0};
    static const double length_ft[] = {1000.0, 500.0, 400.0};
    static const double exact[] = {12.50631, -2.23282, -10.27350}; /* towards the junction, ft3/s */
    static const double published[] = {12.5, -2.26, -10.2};
    const double foot_head = 32.2 * FOOT * FOOT * water.density;
    struct net net;
    net_init(&net, 4);
    for (uint32_t i = 0; i < 3; i++) {
        struct test_part part;
        test_start(&part);
        test_number(&part, &hr_kind_tube, "length", length_ft[i] * FOOT);
        test_number(&part, &hr_kind_tube, "bore", FOOT);
        test_number(&part, &hr_kind_tube, "friction_factor", 0.02);
        test_make(&part, &hr_kind_tube);
        net_fix(&net, i, level_ft[i] * foot_head);
        add_part(&net, i, 3, &hr_kind_tube, &part, &water);
        test_end(&part);
    }
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t i = 0; i < 3; i++) {
        const double q = s.branch_flow[i] / (FOOT * FOOT * FOOT);
        hr_assert_rel(q, exact[i], 1e-5, "ft3/s");
        hr_assert_rel(q, published[i], 0.015, "published ft3/s");
    }
    hr_assert_rel(s.node_potential[3] / foot_head, 21.25499, 1e-5, "head of the junction, ft");
    hr_flow_free(flow);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("Munson 8.14");
    TCase *t = tcase_create("example");
    tcase_add_test(t, three_reservoirs_with_one_friction_factor);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
