/* SPDX-License-Identifier: GPL-3.0-or-later */
/* International Association for the Properties of Water and Steam, "Revised Release on the IAPWS Industrial
 * Formulation 1997 for the Thermodynamic Properties of Water and Steam", R7-97(2012): table 5 (region 1) and
 * table 35 (saturation pressure).
 *
 * The values are the release's own, printed to nine digits for the test of programs; they were read in
 * reproductions of the tables and agree with a second, independent program. Tolerance: half of the ninth
 * digit at worst, 5e-9, with room for rounding: 1e-8. */
#include "hr_test.h"

#include "base/memory.h"
#include "fluid/fluid.h"
#include "fluid/water.h"

static const double TOLERANCE = 1e-8;

static const struct {
    double kelvin, megapascal, v, h_kj, cp_kj, w;
} table5[] = {
    {300, 3, 1.00215168e-3, 115.331273, 4.17301218, 1507.73921},
    {300, 80, 0.971180894e-3, 184.142828, 4.01008987, 1634.69054},
    {500, 3, 1.202418e-3, 975.542239, 4.65580682, 1240.71337},
};

START_TEST(region_1_has_the_values_of_table_5)
{
    struct hr_if97 state;
    hr_if97_region1(table5[_i].kelvin, 1e6 * table5[_i].megapascal, &state);
    hr_assert_rel(state.v, table5[_i].v, TOLERANCE, "v");
    hr_assert_rel(state.h, 1e3 * table5[_i].h_kj, TOLERANCE, "h");
    hr_assert_rel(state.cp, 1e3 * table5[_i].cp_kj, TOLERANCE, "cp");
    hr_assert_rel(state.w, table5[_i].w, TOLERANCE, "w");
}
END_TEST

static const struct {
    double kelvin, megapascal;
} table35[] = {{300, 0.353658941e-2}, {500, 0.263889776e1}, {600, 0.123443146e2}};

START_TEST(saturation_pressure_has_the_values_of_table_35)
{
    const double got = hr_water_saturation_pressure(table35[_i].kelvin - 273.15);
    hr_assert_rel(got, 1e6 * table35[_i].megapascal, TOLERANCE, "saturation pressure");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("IAPWS R7-97");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, region_1_has_the_values_of_table_5, 0, HR_ARRAY_LEN(table5));
    tcase_add_loop_test(tables, saturation_pressure_has_the_values_of_table_35, 0, HR_ARRAY_LEN(table35));
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
