/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Friction in curved tubes: C. M. White, Proc. R. Soc. A 123 (1929) 645 (laminar); Y. Mori and W. Nakayama,
 * Int. J. Heat Mass Transfer 10 (1967) 37, part II (turbulent); bends: H. Ito, J. Basic Eng. 82 (1960) 131.
 *
 * Values computed with an independent library (python3-fluids 1.0.22) and printed to six digits; tolerance
 * 1e-4. Our law is the smooth maximum of both formulas; far from the transition it is one of them. */
#include "hr_test.h"

#include "part/friction.h"
#include "part/kinds.h"

static const double PI = 3.14159265358979323846;

static const struct {
    double re, bore, coil, white, turbulent;
} table[] = {
    {1000, 0.01, 0.1, 0.147469, 0.064088},
    {1000, 0.01, 0.04, 0.176160, 0.068815},
    {5000, 0.01, 0.1, 0.056335, 0.045606},
    {15000, 0.01, 0.1, 0.029960, 0.036258},
};

START_TEST(smooth_maximum_of_both_formulas)
{
    double value;
    double slope;
    hr_friction_curved(table[_i].re, table[_i].bore / table[_i].coil, &value, &slope);
    const double expected = pow(pow(table[_i].white, 12) + pow(table[_i].turbulent, 12), 1.0 / 12);
    hr_assert_rel(value / (table[_i].re * table[_i].re), expected, 1e-4, "friction factor");
}
END_TEST

START_TEST(laminar_flow_has_whites_factor)
{
    double value;
    double slope;
    hr_friction_curved(1000, 0.1, &value, &slope);
    hr_assert_rel(value / 1e6, 0.147469, 1e-4, "Re 1000, D/Dc 0.1");
    hr_friction_curved(1000, 0.25, &value, &slope);
    hr_assert_rel(value / 1e6, 0.176160, 1e-4, "Re 1000, D/Dc 0.25");
    /* Dean number 11.6 and below: a straight tube. */
    hr_friction_curved(30, 0.1, &value, &slope);
    hr_assert_rel(value, 64 * 30, 1e-6, "De 9.5");
}
END_TEST

static const struct {
    double ratio, re, k;
} bends[] = {
    {1.5, 1e4, 0.33570}, {1.5, 2e4, 0.29839}, {1.5, 1e5, 0.22696}, {3, 1e4, 0.29840}, {3, 2e4, 0.26523},
    {3, 1e5, 0.20174},   {5, 1e4, 0.35662},   {5, 2e4, 0.31698},   {5, 1e5, 0.24111},
};

/* Velocity heads of a bend of 10 mm bore. */
static double bend_k(double ratio, double re, double bore, double angle, const char *method)
{
    const struct hr_fluid_state fluid = {.density = 995.65, .viscosity = 797.2e-6};
    const struct hr_setting setting = {.fluid = &fluid, .speed_rpm = NAN};
    struct hr_value values[] = {{.key = hr_part_kind_key(&hr_kind_bend, "bore"), .number = bore},
                                {.key = hr_part_kind_key(&hr_kind_bend, "radius"), .number = ratio * bore},
                                {.key = hr_part_kind_key(&hr_kind_bend, "angle"), .number = angle},
                                {.key = hr_part_kind_key(&hr_kind_bend, "method"), .text = method}};
    const struct hr_params params = {.owner = "bend", .value = values, .count = 4};
    struct hr_arena arena;
    struct hr_report report;
    struct hr_part_branch branch;
    void *part;
    double drop;
    double slope;
    hr_arena_init(&arena);
    hr_report_init(&report);
    ck_assert_int_eq(hr_kind_bend.make(&params, &arena, &part, &report), HR_OK);
    const double speed = re * fluid.viscosity / (fluid.density * bore);
    hr_kind_bend.bind(part, &setting, &branch);
    hr_law_evaluate(&branch.law[0], speed * PI / 4 * bore * bore, &drop, &slope);
    hr_report_clear(&report);
    hr_arena_clear(&arena);
    return drop / (fluid.density / 2 * speed * speed);
}

START_TEST(bend_after_ito)
{
    hr_assert_rel(bend_k(bends[_i].ratio, bends[_i].re, 0.010, 90, "ito"), bends[_i].k, 1e-4, "K");
}
END_TEST

/* Crane TP-410 (2009), A-29: K/f_T of 90 degree bends is a table of whole numbers; f_T of 12.7 mm is 0.027141
 * by the fit that python3-fluids has for the table of f_T (0.027 in Crane). Tolerance 2e-5, the digits of
 * f_T. The library smooths the table with a polynomial: its values 0.54282, 0.38162, 0.32257, 0.32898,
 * 0.37825 are within 1.1 % of the table. */
static const struct {
    double ratio, k_over_ft, smoothed;
} crane[] = {{1, 20, 0.54282}, {1.5, 14, 0.38162}, {2, 12, 0.32257}, {3, 12, 0.32898}, {4, 14, 0.37825}};

START_TEST(bend_after_crane)
{
    const double k = bend_k(crane[_i].ratio, 1e6, 0.0127, 90, "crane");
    hr_assert_rel(k, crane[_i].k_over_ft * 0.027141, 2e-5, "K of the table");
    /* Every further 90 degrees add 0.25 pi f_T r/D + K/2. */
    const double further = 0.25 * PI * 0.027141 * crane[_i].ratio + 0.5 * k;
    hr_assert_rel(bend_k(crane[_i].ratio, 1e6, 0.0127, 180, "crane"), k + further, 2e-5, "a return bend");
    hr_assert_rel(k, crane[_i].smoothed, 0.011, "K of the smoothed table");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("curved-tube");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, smooth_maximum_of_both_formulas, 0, HR_ARRAY_LEN(table));
    tcase_add_test(tables, laminar_flow_has_whites_factor);
    tcase_add_loop_test(tables, bend_after_ito, 0, HR_ARRAY_LEN(bends));
    tcase_add_loop_test(tables, bend_after_crane, 0, HR_ARRAY_LEN(crane));
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
