/* SPDX-License-Identifier: GPL-3.0-or-later */
/* International Association for the Properties of Water and Steam, "Release on the IAPWS Formulation 2008 for
 * the Viscosity of Ordinary Water Substance", R12-08, table 4, and "Release on the IAPWS Formulation 2011 for
 * the Thermal Conductivity of Ordinary Water Substance", R15-11, table 4: both without the critical
 * enhancement.
 *
 * The values are the releases' own for the test of programs (three of them read in a reproduction, the others
 * recalled), and all agree with a second, independent program to every digit. Tolerance: the last printed
 * digit, at worst 3.5e-8 for 14.538324 and 1e-8 from 100 up. */
#include "hr_test.h"

#include "base/memory.h"
#include "fluid/water.h"

static const struct {
    double kelvin, density, micropascal_second;
} viscosity[] = {
    {298.15, 998, 889.735100}, {298.15, 1200, 1437.649467}, {373.15, 1000, 307.883622},
    {433.15, 1, 14.538324},    {433.15, 1000, 217.685358},  {873.15, 1, 32.619287},
    {873.15, 100, 35.802262},  {873.15, 600, 77.430195},    {1173.15, 1, 44.217245},
    {1173.15, 100, 47.640433}, {1173.15, 400, 64.154608},
};

START_TEST(viscosity_has_the_values_of_table_4)
{
    const double expected = viscosity[_i].micropascal_second;
    const double got = 1e6 * hr_water_viscosity(viscosity[_i].kelvin, viscosity[_i].density);
    hr_assert_rel(got, expected, expected < 100 ? 3.5e-8 : 1e-8, "viscosity");
}
END_TEST

static const struct {
    double kelvin, density, milliwatt;
} conductivity[] = {
    {298.15, 0, 18.4341883}, {298.15, 998, 607.712868}, {298.15, 1200, 799.038144}, {873.15, 0, 79.1034659}};

START_TEST(conductivity_has_the_values_of_table_4)
{
    const double got = 1e3 * hr_water_conductivity(conductivity[_i].kelvin, conductivity[_i].density);
    hr_assert_rel(got, conductivity[_i].milliwatt, 1e-8, "conductivity");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("IAPWS R12-08 and R15-11");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, viscosity_has_the_values_of_table_4, 0, HR_ARRAY_LEN(viscosity));
    tcase_add_loop_test(tables, conductivity_has_the_values_of_table_4, 0, HR_ARRAY_LEN(conductivity));
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
