/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bridge of four pipes and one across, h = r Q^2: the kind of network that H. Cross, "Analysis of Flow in
 * Networks of Conduits or Conductors" (University of Illinois Bulletin 286, 1936), solves by hand.
 * Resistances chosen here so that the answer is a closed form: with r = 1, 5, 5, 1 and 1 across and 10
 * through, AB = CD = 20/3 and AC = BD = BC = 10/3, since 1 (20/3)^2 + 1 (10/3)^2 = 5 (10/3)^2. Tolerance
 * 1e-10. */
#include "pipes.h"

START_TEST(bridge_splits_in_thirds)
{
    enum { A, B, C, D };
    static const double expected[] = {20.0 / 3.0, 10.0 / 3.0, 10.0 / 3.0, 20.0 / 3.0, 10.0 / 3.0};
    /* Pure numbers first, then at the size of a loop: 10 units of 1e-5 m3/s, 1 unit of resistance 3e12 Pa
     * s2/m6. */
    const double unit = _i == 0 ? 1.0 : 1e-5;
    const double r = _i == 0 ? 1.0 : 3e12;
    struct net net;
    net_init(&net, 4);
    net.node[A].inflow = 10.0 * unit;
    net_fix(&net, D, 0.0); /* takes what comes: 10 */
    net_square(&net, A, B, r);
    net_square(&net, B, D, 5.0 * r);
    net_square(&net, A, C, 5.0 * r);
    net_square(&net, C, D, r);
    net_square(&net, B, C, r);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t i = 0; i < HR_ARRAY_LEN(expected); i++) {
        hr_assert_rel(s.branch_flow[i], unit * expected[i], 1e-10, "flow");
    }
    hr_assert_rel(s.node_potential[A], r * unit * unit * (400.0 + 500.0) / 9.0, 1e-10, "head");
    hr_flow_free(flow);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("bridge");
    TCase *t = tcase_create("closed form");
    tcase_add_loop_test(t, bridge_splits_in_thirds, 0, 2);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
