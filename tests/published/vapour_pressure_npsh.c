/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saturation pressure of water from 20 to 80 degC, IAPWS R7-97(2012), equation 30, and the net positive
 * suction head that an open tank leaves (definition as in ISO 9906:2012): NPSH = (p_surface - p_v) / (rho g)
 * + z - h.
 *
 * Computed with an independent open-source program of the release (python3-iapws 1.5.2), g = 9.80665 m/s2,
 * the density that of water at 0.1 MPa. Tolerances: 1e-5 for the pressure and the head of it, 1e-4 for the
 * suction head, as printed. */
#include "hr_test.h"

#include "base/memory.h"
#include "fluid/fluid.h"

static const double GRAVITY = 9.80665;

static const struct {
    double t_c, saturation_kpa, head_m;
} table[] = {
    {20, 2.33921, 0.23896},  {25, 3.16975, 0.32418},  {30, 4.24669, 0.43493},  {40, 7.38443, 0.75890},
    {50, 12.35127, 1.27472}, {60, 19.94580, 2.06864}, {80, 47.41472, 4.97525},
};

START_TEST(water_has_the_saturation_pressure_of_the_table)
{
    const struct hr_fluid water = {.kind = HR_WATER};
    struct hr_fluid_state s;
    ck_assert(hr_fluid_at(&water, table[_i].t_c, 1e5, &s));
    hr_assert_rel(hr_water_saturation_pressure(table[_i].t_c), 1e3 * table[_i].saturation_kpa, 1e-5,
                  "pressure");
    hr_assert_rel(s.vapour_pressure, 1e3 * table[_i].saturation_kpa, 1e-5, "pressure in the state");
    /* The printed head has five decimals: 2.1e-5 of the smallest. */
    hr_assert_abs(s.vapour_pressure / (s.density * GRAVITY), table[_i].head_m,
                  0.6e-5 + 1e-5 * table[_i].head_m, "head");
}
END_TEST

static const struct {
    double t_c, npsh_m;
} suction[] = {{20, 10.21189}, {60, 8.54008}};

START_TEST(open_tank_leaves_the_suction_head_of_the_table)
{
    const struct hr_fluid water = {.kind = HR_WATER};
    struct hr_fluid_state s;
    ck_assert(hr_fluid_at(&water, suction[_i].t_c, 1e5, &s));
    const double npsh = (101325 - s.vapour_pressure) / (s.density * GRAVITY) + 0.2 - 0.1;
    hr_assert_rel(npsh, suction[_i].npsh_m, 1e-4, "net positive suction head");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("vapour pressure and suction head");
    TCase *rows = tcase_create("tables");
    tcase_add_loop_test(rows, water_has_the_saturation_pressure_of_the_table, 0, HR_ARRAY_LEN(table));
    tcase_add_loop_test(rows, open_tank_leaves_the_suction_head_of_the_table, 0, HR_ARRAY_LEN(suction));
    suite_add_tcase(s, rows);
    return s;
}

HR_TEST_MAIN(suite)
