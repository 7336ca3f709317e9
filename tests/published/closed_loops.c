/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Closed loops of a cooling loop's size, computed, not published: a pump 35 kPa (1 - (Q/14)^2), 3 m of smooth
 * tube of 10 mm with 15 velocity heads of fittings, a block 0.8 Q + 0.6 Q^2 and a radiator 0.2 Q + 0.15 Q^2
 * (kPa, Q in L/min); Churchill's law. The roots were found by another program to eight digits: tolerance
 * 1e-6. Water and 30 % propylene glycol at 30 degC; block and radiator stay as they are. */
#include "pipes.h"

static const double L_MIN = 1e-3 / 60.0;
static const double EXACT = 1e-6;

static const struct {
    const char *what;
    struct hr_fluid_state fluid;
    double pumps;                                                             /* in series */
    double flow_l_min, pump_kpa, tube_kpa, block_kpa, radiator_kpa, reynolds; /* NaN: not given */
} rows[] = {
    {"water",
     {.density = 995.6515, .viscosity = 797.222e-6},
     1,
     4.5615216,
     31.284379,
     11.117247,
     16.133705,
     4.033426,
     12089.18},
    {"glycol",
     {.density = 1018.89, .viscosity = 2.1041e-3},
     1,
     4.4528444,
     31.459317,
     12.135606,
     NAN,
     NAN,
     4575.70},
    {"two pumps",
     {.density = 995.6515, .viscosity = 797.222e-6},
     2,
     6.2616833,
     55.996901,
     NAN,
     NAN,
     NAN,
     NAN},
};

static void check(double actual, double expected, const char *what)
{
    if (!isnan(expected)) {
        hr_assert_rel(actual, expected, EXACT, what);
    }
}

static uint32_t add_law(struct net *net, uint32_t from, uint32_t to, const struct hr_part_kind *kind,
                        double linear, double square, const struct hr_fluid_state *fluid)
{
    struct test_part part;
    const struct test_pair law[] = {
        {"linear", linear * 1e3 / L_MIN}, {"square", square * 1e3 / (L_MIN * L_MIN)}, {NULL, 0.0}};
    test_start(&part);
    test_map(&part, kind, "law", law);
    test_make(&part, kind);
    const uint32_t branch = add_part(net, from, to, kind, &part, fluid);
    test_end(&part);
    return branch;
}

START_TEST(loop_runs_at_the_root)
{
    const struct hr_fluid_state *fluid = &rows[_i].fluid;
    struct net net;
    struct test_part pump, tube;
    struct hr_part_facts facts;
    const double pump_count = rows[_i].pumps;
    const struct test_pair curve[] = {{"shut_off", 35e3}, {"free_flow", 14.0 * L_MIN}, {NULL, 0.0}};
    net_init(&net, 4);
    net_fix(&net, 0, 0.0);
    test_start(&pump);
    test_map(&pump, &hr_kind_pump, "curve", curve);
    test_number(&pump, &hr_kind_pump, "in_series", pump_count);
    test_make(&pump, &hr_kind_pump);
    add_part(&net, 0, 1, &hr_kind_pump, &pump, fluid);
    test_start(&tube);
    test_number(&tube, &hr_kind_tube, "length", 3.0);
    test_number(&tube, &hr_kind_tube, "bore", 0.010);
    test_number(&tube, &hr_kind_tube, "zeta", 15.0);
    test_choice(&tube, &hr_kind_tube, "entrance", "developed");
    test_make(&tube, &hr_kind_tube);
    add_part(&net, 1, 2, &hr_kind_tube, &tube, fluid);
    add_law(&net, 2, 3, &hr_kind_block, 0.8, 0.6, fluid);
    add_law(&net, 3, 0, &hr_kind_radiator, 0.2, 0.15, fluid);
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    check(s.branch_flow[0] / L_MIN, rows[_i].flow_l_min, "flow, L/min");
    check(-1e-3 * s.branch_drop[0], rows[_i].pump_kpa, "pump, kPa");
    check(1e-3 * s.branch_drop[1], rows[_i].tube_kpa, "tube, kPa");
    check(1e-3 * s.branch_drop[2], rows[_i].block_kpa, "block, kPa");
    check(1e-3 * s.branch_drop[3], rows[_i].radiator_kpa, "radiator, kPa");
    const struct hr_setting setting = {.fluid = fluid, .speed_rpm = NAN};
    hr_kind_tube.facts(tube.part, &setting, s.branch_flow[1], &facts);
    check(facts.reynolds, rows[_i].reynolds, "Reynolds number");
    hr_flow_free(flow);
    test_end(&pump);
    test_end(&tube);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("closed loops");
    TCase *t = tcase_create("loops");
    tcase_add_loop_test(t, loop_runs_at_the_root, 0, HR_ARRAY_LEN(rows));
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
