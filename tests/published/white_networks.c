/* SPDX-License-Identifier: GPL-3.0-or-later */
/* F. M. White, "Fluid Mechanics", 4th edition: examples 6.16 (pipes in series), 6.17 (in parallel), 6.18
 * (three reservoirs), 11.6 and 11.7 (a pump and two in parallel on one pipe). Pipes and curves recalled;
 * of 6.18 two rows of the book's iteration were seen, which these pipes reproduce. Water of 1000 kg/m3
 * and 1.02e-6 m2/s, g = 9.81 m/s2.
 *
 * "Exact" is the root of the stated friction law, found by another program to 12 digits: tolerance 1e-5, the
 * digits written down. The book reads the Moody chart and rounds: 1 %, 0.3 % where it iterates further, 0.7
 * m3/h for the small flow of 6.18, which is the difference of two large ones. */
#include "pipes.h"

static const double G = 9.81;
static const struct hr_fluid_state water = {.density = 1000.0, .viscosity = 1.02e-3};
static const double HOUR = 3600.0;
static const double EXACT = 1e-5;

static const struct {
    const char *friction;
    double series, parallel[3], reservoirs[3], junction_m;
} rows[] = {
    {"colebrook", 10.22095, {62.54771, 25.91071, 11.40797}, {-52.84813, 47.00974, 5.83839}, 34.54075},
    {"haaland", 10.23346, {62.55388, 25.95606, 11.41321}, {-52.88034, 47.03879, 5.84154}, 34.55033},
};
static const double published_parallel[] = {62.5, 25.9, 11.4};
static const double published_reservoirs[] = {-52.8, 47.0, 5.8};

static struct pipe pipe_of(size_t i, uint32_t from, uint32_t to)
{
    static const double length[] = {100.0, 150.0, 80.0};
    static const double bore[] = {0.08, 0.06, 0.04};
    static const double rough[] = {0.24e-3, 0.12e-3, 0.20e-3};
    return (struct pipe){from, to, length[i], bore[i], rough[i]};
}

START_TEST(example_6_16_pipes_in_series)
{
    struct net net;
    net_init(&net, 4);
    net_fix(&net, 0, 20.2905 * G * water.density);
    net_fix(&net, 3, 0.0);
    for (uint32_t i = 0; i < 3; i++) {
        add_pipe(&net, pipe_of(i, i, i + 1), rows[_i].friction, &water);
    }
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const double q = HOUR * net_solve(flow, &net.network).branch_flow[0];
    hr_assert_rel(q, rows[_i].series, EXACT, "m3/h");
    hr_assert_rel(q, 10.2, 0.01, "published m3/h");
    hr_assert_rel(q / HOUR / (0.25 * 3.14159265358979 * 0.08 * 0.08), 0.565, 0.01,
                  "published m/s in the first");
    hr_flow_free(flow);
}
END_TEST

START_TEST(example_6_17_pipes_in_parallel)
{
    struct net net;
    double sum = 0.0;
    net_init(&net, 2);
    net_fix(&net, 0, 20.3 * G * water.density);
    net_fix(&net, 1, 0.0);
    for (uint32_t i = 0; i < 3; i++) {
        add_pipe(&net, pipe_of(i, 0, 1), rows[_i].friction, &water);
    }
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t i = 0; i < 3; i++) {
        hr_assert_rel(HOUR * s.branch_flow[i], rows[_i].parallel[i], EXACT, "m3/h");
        hr_assert_rel(HOUR * s.branch_flow[i], published_parallel[i], 0.003, "published m3/h");
        sum += HOUR * s.branch_flow[i];
    }
    hr_assert_rel(sum, 99.8, 0.003, "published m3/h together");
    hr_flow_free(flow);
}
END_TEST

START_TEST(example_6_18_three_reservoirs)
{
    static const double level[] = {20.0, 100.0, 40.0};
    struct net net;
    net_init(&net, 4);
    for (uint32_t i = 0; i < 3; i++) {
        net_fix(&net, i, level[i] * G * water.density);
        add_pipe(&net, pipe_of(i, i, 3), rows[_i].friction, &water);
    }
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t i = 0; i < 3; i++) {
        hr_assert_rel(HOUR * s.branch_flow[i], rows[_i].reservoirs[i], EXACT, "m3/h");
        hr_assert_abs(HOUR * s.branch_flow[i], published_reservoirs[i],
                      i == 2 ? 0.7 : 0.01 * fabs(published_reservoirs[i]), "published m3/h");
    }
    hr_assert_rel(s.node_potential[3] / (G * water.density), rows[_i].junction_m, EXACT,
                  "head of the junction, m");
    hr_assert_rel(s.node_potential[3] / (G * water.density), 34.53, 0.01,
                  "published head of the junction, m");
    hr_flow_free(flow);
}
END_TEST

/* H = 490 - 0.26 Q^2 ft with Q in 1000 gal/min against 120 + 1.335 Q^2. */
START_TEST(examples_11_6_and_11_7_pumps_on_a_pipe)
{
    static const double exact[] = {15230.7, 16256.9};
    static const double published[] = {15200.0, 16300.0};
    const double thousand_gpm = 1000.0 * 3.785411784e-3 / 60.0;
    const double foot = 0.3048 * G * water.density;
    const double square = 1.335 * foot / (thousand_gpm * thousand_gpm);
    struct net net;
    struct test_part pump;
    net_init(&net, 3);
    net_fix(&net, 0, 0.0);
    net_fix(&net, 2, 120.0 * foot);
    add_pump(&net, 0, 1, &pump, 490.0 * foot, sqrt(490.0 / 0.26) * thousand_gpm, _i + 1.0, &water);
    net_square(&net, 1, 2, square);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const double q = 1000.0 * net_solve(flow, &net.network).branch_flow[0] / thousand_gpm;
    hr_assert_rel(q, exact[_i], EXACT, "gal/min");
    hr_assert_rel(q, published[_i], 0.005, "published gal/min");
    hr_flow_free(flow);
    test_end(&pump);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("White's networks");
    TCase *t = tcase_create("examples");
    tcase_add_loop_test(t, example_6_16_pipes_in_series, 0, HR_ARRAY_LEN(rows));
    tcase_add_loop_test(t, example_6_17_pipes_in_parallel, 0, HR_ARRAY_LEN(rows));
    tcase_add_loop_test(t, example_6_18_three_reservoirs, 0, HR_ARRAY_LEN(rows));
    tcase_add_loop_test(t, examples_11_6_and_11_7_pumps_on_a_pipe, 0, 2);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
