/* SPDX-License-Identifier: GPL-3.0-or-later */
/* "Pipe Network Analysis", a chemical engineer's guide sheet of 2015: ten pipes, three loops, supply 300 L/s
 * at A, demands 50, 100 and 150 L/s at D, C and G. Data and the first two iterations read; which pipe joins
 * which nodes was deduced and is confirmed by all three published loop residuals. 1e-6 m2/s, g = 9.81 m/s2;
 * Swamee and Jain's law gives every published digit.
 *
 * Published: losses and slopes of the first iteration to two decimals (half of the last: 0.0051), the matrix
 * and the corrections of the first Newton step. The final flows were not visible; "exact" is the root found
 * by another program, with three decimals of L/s: 0.00051 L/s. */
#include "pipes.h"

enum { A, B, C, D, E, F, G, H, NODES, PIPES = 10, LOOPS = 3 };
static const double GRAVITY = 9.81;
static const struct hr_fluid_state water = {.density = 1000.0, .viscosity = 1e-3};

static const struct {
    struct pipe pipe;
    double rough_share;                     /* roughness over bore */
    double start_l_s, loss_m, twice_loss_q; /* published, first iteration */
    double swamee_jain_l_s, colebrook_l_s;  /* exact */
} rows[PIPES] = {
    {{A, B, 300, 0.30, 0}, 0.00087, 200, 7.95, 79.49, 204.968, 204.952},
    {{A, H, 250, 0.25, 0}, 0.00104, 100, 4.34, 86.79, 95.032, 95.048},
    {{B, C, 125, 0.20, 0}, 0.0013, 120, 9.94, 165.60, 125.252, 125.227},
    {{H, E, 300, 0.20, 0}, 0.0013, 100, 16.62, 332.34, 95.032, 95.048},
    {{B, D, 350, 0.20, 0}, 0.0013, 80, 12.47, 311.74, 79.716, 79.725},
    {{C, F, 350, 0.20, 0}, 0.0013, 70, 9.58, 273.72, 33.102, 33.093},
    {{D, F, 125, 0.20, 0}, 0.0013, 30, 0.65, 43.29, 29.716, 29.725},
    {{E, C, 125, 0.15, 0}, 0.00173, 50, 7.87, 314.81, 7.849, 7.866},
    {{E, G, 350, 0.20, 0}, 0.0013, 50, 4.94, 197.58, 87.183, 87.182},
    {{F, G, 125, 0.15, 0}, 0.00173, 100, 31.11, 622.13, 62.817, 62.818},
};

static const int loops[LOOPS][PIPES] = {
    {1, -1, 1, -1, 0, 0, 0, -1, 0, 0},
    {0, 0, -1, 0, 1, -1, 1, 0, 0, 0},
    {0, 0, 0, 0, 0, 1, 0, 1, -1, 1},
};

static void build(struct net *net, const char *friction)
{
    net_init(net, NODES);
    for (size_t i = 0; i < PIPES; i++) {
        struct pipe pipe = rows[i].pipe;
        pipe.rough = rows[i].rough_share * pipe.bore;
        add_pipe(net, pipe, friction, &water);
    }
    net_fix(net, A, 0.0);
    net->node[D].inflow = -0.050;
    net->node[C].inflow = -0.100;
    net->node[G].inflow = -0.150;
}

/* Loss of pipe i in m at the flow the sheet starts from. */
static double first_loss(const struct net *net, size_t i)
{
    double drop, slope;
    hr_law_evaluate(&net->law[net->branch[i].law_first], 1e-3 * rows[i].start_l_s, &drop, &slope);
    return drop / (GRAVITY * water.density);
}

START_TEST(first_losses_are_the_published_ones)
{
    struct net net;
    build(&net, "swamee-jain");
    const double loss = first_loss(&net, (size_t)_i);
    hr_assert_abs(loss, rows[_i].loss_m, 0.0051, "loss, m");
    hr_assert_abs(2.0 * loss / (1e-3 * rows[_i].start_l_s), rows[_i].twice_loss_q, 0.0051, "2 h/Q, s/m2");
}
END_TEST

/* Cramer's rule for the three corrections. */
static double determinant(double m[3][3])
{
    return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
           m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
           m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
}

START_TEST(first_newton_step_is_the_published_one)
{
    static const double matrix[LOOPS][LOOPS] = {
        {979.03, -165.60, -314.81}, {-165.60, 794.35, -273.72}, {-314.81, -273.72, 1408.23}};
    static const double residual[LOOPS] = {10.94, 6.40, -43.62};
    static const double correction[LOOPS] = {0.00066, -0.00261, -0.03133};
    struct net net;
    double mine[LOOPS][LOOPS] = {{0.0}};
    double right[LOOPS] = {0.0};
    build(&net, "swamee-jain");
    for (size_t p = 0; p < PIPES; p++) {
        const double loss = first_loss(&net, p);
        for (size_t i = 0; i < LOOPS; i++) {
            right[i] -= loops[i][p] * loss;
            for (size_t k = 0; k < LOOPS; k++) {
                mine[i][k] += loops[i][p] * loops[k][p] * 2.0 * loss / (1e-3 * rows[p].start_l_s);
            }
        }
    }
    for (size_t i = 0; i < LOOPS; i++) {
        double replaced[LOOPS][LOOPS];
        hr_assert_abs(right[i], residual[i], 0.011, "loop residual, m");
        memcpy(replaced, mine, sizeof mine);
        for (size_t k = 0; k < LOOPS; k++) {
            hr_assert_abs(mine[i][k], matrix[i][k], 0.011, "matrix");
            replaced[k][i] = right[k];
        }
        hr_assert_abs(determinant(replaced) / determinant(mine), correction[i], 0.51e-5, "correction, m3/s");
    }
}
END_TEST

START_TEST(final_flows_are_the_roots)
{
    struct net net;
    const bool colebrook = _i == 1;
    build(&net, colebrook ? "colebrook" : "swamee-jain");
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t i = 0; i < PIPES; i++) {
        hr_assert_abs(1e3 * s.branch_flow[i], colebrook ? rows[i].colebrook_l_s : rows[i].swamee_jain_l_s,
                      0.00051, "L/s");
    }
    hr_flow_free(flow);
}
END_TEST

/* The sheet's Newton corrects loops, ours pressures; from the sheet's first flows ours must reach the same
 * end. */
START_TEST(start_of_the_sheet_leads_to_the_same_end)
{
    struct net net;
    double start[PIPES];
    build(&net, "swamee-jain");
    struct hr_flow *flow = net_flow(&net.network, NULL);
    for (size_t i = 0; i < PIPES; i++) {
        start[i] = 1e-3 * rows[i].start_l_s;
    }
    hr_flow_start_from(flow, start);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t i = 0; i < PIPES; i++) {
        hr_assert_abs(1e3 * s.branch_flow[i], rows[i].swamee_jain_l_s, 0.00051, "L/s");
    }
    hr_flow_free(flow);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("ten-pipe network");
    TCase *t = tcase_create("sheet");
    tcase_add_loop_test(t, first_losses_are_the_published_ones, 0, PIPES);
    tcase_add_test(t, first_newton_step_is_the_published_one);
    tcase_add_loop_test(t, final_flows_are_the_roots, 0, 2);
    tcase_add_test(t, start_of_the_sheet_leads_to_the_same_end);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
