/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fittings: W. B. Hooper, "The two-K method", Chem. Eng., 24 August 1981, p. 96; R. Darby, Chemical
 * Engineering Fluid Mechanics, 2nd ed. 2001 (3-K; Chem. Eng., July 1999).
 *
 * Constants as tabulated in an independent library (python3-fluids 1.0.22); values computed from the
 * formulas. Tolerance 1e-4, the digits printed. */
#include "hr_test.h"

#include "part/kinds.h"

static const double PI = 3.14159265358979323846;

static const struct {
    const char *type;
    const char *method;
    double bore, re, k;
} table[] = {
    {"elbow-90", "2-k", 0.010, 1000, 2.2160},      {"elbow-90", "2-k", 0.010, 5000, 1.5760},
    {"elbow-90", "2-k", 0.0127, 10000, 1.2800},    {"elbow-90-long", "2-k", 0.010, 1000, 1.5080},
    {"elbow-90-long", "2-k", 0.010, 5000, 0.8680}, {"elbow-90-long", "2-k", 0.0127, 10000, 0.6800},
    {"tee-run", "2-k", 0.010, 1000, 0.5540},       {"tee-run", "2-k", 0.010, 5000, 0.3940},
    {"tee-run", "2-k", 0.0127, 10000, 0.3200},     {"elbow-90", "3-k", 0.009525, 1000, 1.6916},
    {"elbow-90", "3-k", 0.0127, 10000, 0.9094},    {"tee-branch", "3-k", 0.009525, 1000, 2.2450},
    {"tee-branch", "3-k", 0.0127, 10000, 1.6733},  {"tee-run", "3-k", 0.009525, 1000, 0.7795},
    {"tee-run", "3-k", 0.0127, 10000, 0.5591},
};

START_TEST(loss_of_a_fitting)
{
    const struct hr_fluid_state fluid = {.density = 995.65, .viscosity = 797.2e-6};
    const struct hr_setting setting = {.fluid = &fluid, .speed_rpm = NAN};
    const double bore = table[_i].bore;
    struct hr_value values[] = {
        {.key = hr_part_kind_key(&hr_kind_fitting, "type"), .text = table[_i].type},
        {.key = hr_part_kind_key(&hr_kind_fitting, "method"), .text = table[_i].method},
        {.key = hr_part_kind_key(&hr_kind_fitting, "bore"), .number = bore}};
    const struct hr_params params = {.owner = "fitting", .value = values, .count = 3};
    struct hr_arena arena;
    struct hr_report report;
    struct hr_part_branch branch;
    void *part;
    double drop;
    double slope;
    hr_arena_init(&arena);
    hr_report_init(&report);
    ck_assert_int_eq(hr_kind_fitting.make(&params, &arena, &part, &report), HR_OK);
    hr_kind_fitting.bind(part, &setting, &branch);
    const double speed = table[_i].re * fluid.viscosity / (fluid.density * bore);
    hr_law_evaluate(&branch.law[0], speed * PI / 4 * bore * bore, &drop, &slope);
    hr_assert_rel(drop / (fluid.density / 2 * speed * speed), table[_i].k, 1e-4, table[_i].type);
    hr_report_clear(&report);
    hr_arena_clear(&arena);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("hooper-darby");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, loss_of_a_fitting, 0, HR_ARRAY_LEN(table));
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
