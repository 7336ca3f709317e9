/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Moist air at 101 325 Pa as an ideal mixture of dry air (28.96546 g/mol) and water vapour (18.01527 g/mol),
 * with the saturation pressure of IAPWS R7-97(2012), equation 30, and R = 8.314462618 J/(mol K): humidity
 * ratio and density.
 *
 * Computed from that law by another program. The densities follow the molar masses above; the humidity ratios
 * of the table do not: all ten are those of the rounded ratio of masses 0.621945, where the masses give
 * 0.621957 (1.9e-5 more), which shows at 15, 40 and 50 degC. We keep the masses. Tolerances: 0.1 % for both
 * as they are; and half of the last digit for the humidity ratio once it is brought to the table's ratio of
 * masses. The density has 0.1 % since our dry air is not perfect (0.04 % at room temperature).
 *
 * Heat capacity of the vapour as an ideal gas: M. W. Chase, "NIST-JANAF Thermochemical Tables", 4th edition,
 * 1998, H2O (g), 298.15 K and 400 K, recalled and recomputed; tolerance 0.1 %, the difference of the two
 * sources. */
#include "hr_test.h"

#include "base/memory.h"
#include "fluid/air.h"
#include "fluid/fluid.h"
#include "fluid/water.h"

static const struct {
    double t_c, ratio_half, density_half, ratio_full, density_full;
} table[] = {
    {15, 0.005279, 1.22112, 0.010649, 1.21723}, {20, 0.007263, 1.19887, 0.014698, 1.19362},
    {25, 0.009883, 1.17693, 0.020085, 1.16993}, {40, 0.023520, 1.11170, 0.048890, 1.09617},
    {50, 0.040367, 1.06717, 0.086338, 1.04200},
};

static const double TABLE_MASS_RATIO = 0.621945;

static void check(double humidity, double t_c, double ratio, double density)
{
    const struct hr_fluid air = {.kind = HR_AIR, .humidity = humidity};
    struct hr_fluid_state s;
    ck_assert(hr_fluid_at(&air, t_c, 101325, &s));
    const double got = hr_air_humidity_ratio(humidity, t_c, 101325);
    const double to_table = TABLE_MASS_RATIO / (HR_WATER_MOLAR_MASS / HR_AIR_MOLAR_MASS);
    hr_assert_rel(got, ratio, 1e-3, "humidity ratio");
    hr_assert_abs(got * to_table, ratio, 0.501e-6, "humidity ratio with the table's ratio of masses");
    hr_assert_rel(s.density, density, 1e-3, "density");
}

START_TEST(moist_air_has_the_density_of_the_ideal_mixture)
{
    check(0.5, table[_i].t_c, table[_i].ratio_half, table[_i].density_half);
    check(1, table[_i].t_c, table[_i].ratio_full, table[_i].density_full);
}
END_TEST

static const struct {
    double kelvin, joule_per_mol;
} vapour[] = {{298.15, 33.590}, {400, 34.262}};

START_TEST(vapour_has_the_heat_capacity_of_the_janaf_table)
{
    const double got = HR_WATER_MOLAR_MASS * hr_if97_vapour_heat_capacity(vapour[_i].kelvin);
    hr_assert_rel(got, vapour[_i].joule_per_mol, 1e-3, "molar heat capacity");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("moist air");
    TCase *rows = tcase_create("tables");
    tcase_add_loop_test(rows, moist_air_has_the_density_of_the_ideal_mixture, 0, HR_ARRAY_LEN(table));
    tcase_add_loop_test(rows, vapour_has_the_heat_capacity_of_the_janaf_table, 0, HR_ARRAY_LEN(vapour));
    suite_add_tcase(s, rows);
    return s;
}

HR_TEST_MAIN(suite)
