/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Liquid water at 0.1 MPa, 10 to 60 degC: IAPWS R7-97(2012) region 1, R12-08 and R15-11 together.
 *
 * The table was computed with an independent open-source program of the same releases (python3-iapws 1.5.2)
 * and printed to five or six digits; the IAPWS formulas made for this pressure (SR6-08(2011)) agree with it
 * to 0.002 % in density, 0.05 % in heat capacity and 0.004 % in viscosity and conductivity. Tolerance: one
 * unit of the last printed digit. */
#include "hr_test.h"

#include "base/memory.h"
#include "fluid/fluid.h"

static const struct {
    double t_c, density, viscosity_upa_s, heat_capacity, conductivity, prandtl, kinematic_mm2_s;
} table[] = {
    {10, 999.701, 1305.90, 4195.5, 0.57878, 9.4663, 1.30629},
    {20, 998.205, 1001.60, 4184.8, 0.59801, 7.0090, 1.00340},
    {25, 997.047, 890.02, 4181.9, 0.60652, 6.1367, 0.89266},
    {30, 995.651, 797.22, 4180.0, 0.61439, 5.4239, 0.80070},
    {40, 992.224, 652.73, 4178.6, 0.62849, 4.3397, 0.65785},
    {50, 988.047, 546.52, 4179.6, 0.64064, 3.5656, 0.55313},
    {60, 983.210, 466.04, 4182.8, 0.65102, 2.9943, 0.47400},
};

START_TEST(water_at_a_tenth_of_a_megapascal)
{
    const struct hr_fluid water = {.kind = HR_WATER};
    struct hr_fluid_state s;
    ck_assert(hr_fluid_at(&water, table[_i].t_c, 1e5, &s));
    hr_assert_abs(s.density, table[_i].density, 1e-3, "density");
    hr_assert_abs(1e6 * s.viscosity, table[_i].viscosity_upa_s, 1e-2, "viscosity");
    hr_assert_abs(s.heat_capacity, table[_i].heat_capacity, 0.1, "heat capacity");
    hr_assert_abs(s.conductivity, table[_i].conductivity, 1e-5, "conductivity");
    hr_assert_abs(s.viscosity * s.heat_capacity / s.conductivity, table[_i].prandtl, 1e-4, "Prandtl number");
    hr_assert_abs(1e6 * s.viscosity / s.density, table[_i].kinematic_mm2_s, 1e-5, "kinematic viscosity");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("water at 0.1 MPa");
    TCase *rows = tcase_create("table");
    tcase_add_loop_test(rows, water_at_a_tenth_of_a_megapascal, 0, HR_ARRAY_LEN(table));
    suite_add_tcase(s, rows);
    return s;
}

HR_TEST_MAIN(suite)
