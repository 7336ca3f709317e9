/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Orifice plates: ISO 5167-2:2003; M. J. Reader-Harris and J. A. Sattary, "The orifice plate discharge
 * coefficient equation", and the 1998 form of Reader-Harris and Gallagher.
 *
 * C computed with an independent library (python3-fluids 1.0.22), six decimals: 1e-5. Two worked examples:
 * Crane TP-410 (2009) example 7.29 (printed 478 L/min, 0.5 %) and Cengel and Cimbala, Fluid Mechanics,
 * example 8-10 (printed 3.09 L/s; 0.1 %, three digits), both also against their exact arithmetic. */
#include "hr_test.h"

#include "part/kinds.h"
#include "part/orifice.h"
#include "part_drop.h"

static const double PI = 3.14159265358979323846;

static const struct {
    enum hr_taps taps;
    double pipe, share, at_1e4, at_1e5, at_1e6;
} table[] = {
    {HR_TAPS_CORNER, 0.05, 0.2, 0.606725, 0.603158, 0.602410},
    {HR_TAPS_CORNER, 0.05, 0.5, 0.620867, 0.609160, 0.606064},
    {HR_TAPS_CORNER, 0.05, 0.75, 0.639366, 0.605963, 0.596528},
    {HR_TAPS_CORNER, 0.1, 0.2, 0.601694, 0.598127, 0.597380},
    {HR_TAPS_CORNER, 0.1, 0.5, 0.618580, 0.606873, 0.603777},
    {HR_TAPS_CORNER, 0.1, 0.75, 0.639366, 0.605963, 0.596528},
    {HR_TAPS_D, 0.05, 0.2, 0.605950, 0.602385, 0.601638},
    {HR_TAPS_D, 0.05, 0.5, 0.619924, 0.608471, 0.605416},
    {HR_TAPS_D, 0.05, 0.75, 0.649366, 0.618403, 0.609355},
    {HR_TAPS_D, 0.1, 0.2, 0.600919, 0.597355, 0.596608},
    {HR_TAPS_D, 0.1, 0.5, 0.617638, 0.606185, 0.603129},
    {HR_TAPS_D, 0.1, 0.75, 0.649366, 0.618403, 0.609355},
    {HR_TAPS_FLANGE, 0.05, 0.2, 0.605908, 0.602344, 0.601597},
    {HR_TAPS_FLANGE, 0.05, 0.5, 0.619638, 0.608168, 0.605110},
    {HR_TAPS_FLANGE, 0.05, 0.75, 0.648273, 0.617144, 0.608070},
    {HR_TAPS_FLANGE, 0.1, 0.2, 0.601166, 0.597601, 0.596853},
    {HR_TAPS_FLANGE, 0.1, 0.5, 0.617739, 0.606201, 0.603132},
    {HR_TAPS_FLANGE, 0.1, 0.75, 0.644521, 0.612740, 0.603563},
};

START_TEST(discharge_coefficient)
{
    const double expected[] = {table[_i].at_1e4, table[_i].at_1e5, table[_i].at_1e6};
    for (int i = 0; i < 3; i++) {
        const double re = pow(10, 4 + i);
        double slope;
        double unused;
        const double c = hr_orifice_coefficient(table[_i].taps, table[_i].pipe, table[_i].share, re, &slope);
        hr_assert_rel(c, expected[i], 1e-5, "C");
        const double after =
            hr_orifice_coefficient(table[_i].taps, table[_i].pipe, table[_i].share, re * 1.0001, &unused);
        const double before =
            hr_orifice_coefficient(table[_i].taps, table[_i].pipe, table[_i].share, re / 1.0001, &unused);
        hr_assert_rel(slope, (after - before) / (re * (1.0001 - 1 / 1.0001)), 1e-5, "its slope");
    }
}
END_TEST

/* Difference at the taps in Pa. */
static double taps_drop(const struct hr_fluid_state *fluid, double pipe, double hole, const char *taps,
                        double coefficient, double flow)
{
    const struct hr_part_kind *kind = &hr_kind_orifice;
    struct hr_value values[] = {{.key = hr_part_kind_key(kind, "bore"), .number = pipe},
                                {.key = hr_part_kind_key(kind, "hole"), .number = hole},
                                {.key = hr_part_kind_key(kind, "taps"), .text = taps},
                                {.key = hr_part_kind_key(kind, "drop"), .text = "taps"},
                                {.key = hr_part_kind_key(kind, "coefficient"), .number = coefficient}};
    const struct hr_params params = {.owner = "orifice", .value = values, .count = coefficient > 0 ? 5u : 4u};
    return part_drop(kind, &params, fluid, flow);
}

START_TEST(crane_example_7_29)
{
    const struct hr_fluid_state water = {.density = 999.1, .viscosity = 1.138e-3};
    const double exact = taps_drop(&water, 0.07366, 0.05, "d-and-d/2", 0, 7.9318 / 999.1);
    hr_assert_rel(exact, 17000, 5e-5, "difference at 7.9318 kg/s");
    /* The flow goes with the root of the difference: 0.5 % of flow is 1 % of difference. */
    hr_assert_rel(taps_drop(&water, 0.07366, 0.05, "d-and-d/2", 0, 478 / 6e4), 17000, 1e-2, "printed flow");
}
END_TEST

START_TEST(cengel_example_8_10)
{
    const struct hr_fluid_state methanol = {.density = 788.4, .viscosity = 5.857e-4};
    hr_assert_rel(taps_drop(&methanol, 0.04, 0.03, "corner", 0.61, 3.0884e-3), 13825, 1e-4, "exact");
    hr_assert_rel(taps_drop(&methanol, 0.04, 0.03, "corner", 0.61, 3.09e-3), 13825, 2e-3, "printed");
}
END_TEST

/* ISO 5167-2:2003, 5.4: the lasting loss, from the tap difference. A second way to write it, the loss
 * coefficient K = (sqrt(1 - b^4 (1 - C^2)) / (C b^2) - 1)^2 in velocity heads of the pipe, must agree within
 * the rounding of neither: both stand in the standard, and differ by a few per cent. */
START_TEST(lasting_loss_is_below_the_difference)
{
    const struct hr_part_kind *kind = &hr_kind_orifice;
    const struct hr_fluid_state water = {.density = 999.1, .viscosity = 1.138e-3};
    const struct hr_setting setting = {.fluid = &water, .speed_rpm = NAN};
    struct hr_value values[] = {{.key = hr_part_kind_key(kind, "bore"), .number = 0.1},
                                {.key = hr_part_kind_key(kind, "hole"), .number = 0.05},
                                {.key = hr_part_kind_key(kind, "coefficient"), .number = 0.605}};
    const struct hr_params params = {.owner = "orifice", .value = values, .count = 3};
    struct hr_arena arena;
    struct hr_report report;
    struct hr_part_branch branch;
    void *part;
    double drop;
    double slope;
    hr_arena_init(&arena);
    hr_report_init(&report);
    ck_assert_int_eq(kind->make(&params, &arena, &part, &report), HR_OK);
    kind->bind(part, &setting, &branch);
    hr_law_evaluate(&branch.law[0], 0.01, &drop, &slope);
    const double speed = 0.01 / (PI / 4 * 0.01);
    const double root = sqrt(1 - 0.0625 * (1 - 0.605 * 0.605));
    const double k = pow(root / (0.605 * 0.25) - 1, 2);
    hr_assert_rel(drop / (water.density / 2 * speed * speed), k, 0.03, "loss coefficient");
    ck_assert(drop < 0.76 * taps_drop(&water, 0.1, 0.05, "corner", 0.605, 0.01));
    hr_report_clear(&report);
    hr_arena_clear(&arena);
}
END_TEST

START_TEST(least_reynolds_number)
{
    hr_assert_rel(hr_orifice_least_re(HR_TAPS_CORNER, 0.1, 0.5), 5000, 0, "small share");
    hr_assert_rel(hr_orifice_least_re(HR_TAPS_D, 0.1, 0.7), 16000 * 0.49, 1e-14, "large share");
    hr_assert_rel(hr_orifice_least_re(HR_TAPS_FLANGE, 0.2, 0.7), 170 * 0.49 * 200, 1e-14, "flange");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("iso-5167-2");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, discharge_coefficient, 0, HR_ARRAY_LEN(table));
    tcase_add_test(tables, crane_example_7_29);
    tcase_add_test(tables, cengel_example_8_10);
    tcase_add_test(tables, lasting_loss_is_below_the_difference);
    tcase_add_test(tables, least_reynolds_number);
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
