/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A. Melinder, "Properties of Secondary Working Fluids for Indirect Systems", 2nd edition, International
 * Institute of Refrigeration, 2010: mixtures of water with propylene and with ethylene glycol, by mass.
 *
 * The table was computed from the book's coefficients, as reproduced in a general open-source property
 * library, by another program than ours. Tolerance: 1e-4 relative, which covers the four or five digits
 * printed. The freezing points are those of the propylene glycol coefficients to one digit; an industrial
 * table for inhibited glycol lists -7.1, -12.7 and -21.1 degC, within 0.7 K of them. */
#include "hr_test.h"

#include "base/memory.h"
#include "fluid/fluid.h"

static const struct {
    enum hr_fluid_kind kind;
    double percent, t_c, density, viscosity_mpa_s, heat_capacity, conductivity;
} table[] = {
    {HR_PROPYLENE_GLYCOL, 10, 10, 1008.27, 1.9355, 4066.6, 0.5301},
    {HR_PROPYLENE_GLYCOL, 10, 20, 1006.20, 1.4323, 4076.3, 0.5438},
    {HR_PROPYLENE_GLYCOL, 10, 40, 999.42, 0.8838, 4101.1, 0.5688},
    {HR_PROPYLENE_GLYCOL, 10, 60, 989.81, 0.6137, 4130.3, 0.5902},
    {HR_PROPYLENE_GLYCOL, 20, 10, 1017.86, 2.8747, 3956.1, 0.4818},
    {HR_PROPYLENE_GLYCOL, 20, 20, 1014.78, 2.0301, 3976.8, 0.4922},
    {HR_PROPYLENE_GLYCOL, 20, 40, 1006.37, 1.1693, 4019.0, 0.5123},
    {HR_PROPYLENE_GLYCOL, 20, 60, 995.59, 0.7778, 4061.2, 0.5310},
    {HR_PROPYLENE_GLYCOL, 30, 10, 1028.04, 4.4384, 3829.9, 0.4364},
    {HR_PROPYLENE_GLYCOL, 30, 20, 1023.78, 2.9650, 3857.0, 0.4444},
    {HR_PROPYLENE_GLYCOL, 30, 40, 1013.43, 1.5731, 3910.4, 0.4606},
    {HR_PROPYLENE_GLYCOL, 30, 60, 1001.15, 0.9946, 3962.3, 0.4766},
    {HR_PROPYLENE_GLYCOL, 40, 10, 1037.62, 6.9352, 3674.3, 0.3940},
    {HR_PROPYLENE_GLYCOL, 40, 20, 1032.27, 4.3838, 3706.7, 0.4003},
    {HR_PROPYLENE_GLYCOL, 40, 40, 1020.06, 2.1408, 3770.8, 0.4132},
    {HR_PROPYLENE_GLYCOL, 40, 60, 1006.31, 1.2827, 3833.9, 0.4265},
    {HR_ETHYLENE_GLYCOL, 10, 10, 1012.52, 1.6940, 4040.5, 0.5386},
    {HR_ETHYLENE_GLYCOL, 10, 20, 1010.58, 1.2745, 4045.9, 0.5529},
    {HR_ETHYLENE_GLYCOL, 10, 40, 1004.35, 0.8014, 4061.9, 0.5783},
    {HR_ETHYLENE_GLYCOL, 10, 60, 995.23, 0.5634, 4083.1, 0.5996},
    {HR_ETHYLENE_GLYCOL, 20, 10, 1026.94, 2.2504, 3878.3, 0.4962},
    {HR_ETHYLENE_GLYCOL, 20, 20, 1024.10, 1.6624, 3896.2, 0.5077},
    {HR_ETHYLENE_GLYCOL, 20, 40, 1016.40, 1.0133, 3932.8, 0.5291},
    {HR_ETHYLENE_GLYCOL, 20, 60, 1006.21, 0.6969, 3969.3, 0.5483},
    {HR_ETHYLENE_GLYCOL, 30, 10, 1041.81, 2.9830, 3688.5, 0.4555},
    {HR_ETHYLENE_GLYCOL, 30, 20, 1038.05, 2.1664, 3718.3, 0.4649},
    {HR_ETHYLENE_GLYCOL, 30, 40, 1028.80, 1.2856, 3775.4, 0.4830},
    {HR_ETHYLENE_GLYCOL, 30, 60, 1017.46, 0.8660, 3828.7, 0.5002},
    {HR_ETHYLENE_GLYCOL, 40, 10, 1056.39, 3.9465, 3477.3, 0.4176},
    {HR_ETHYLENE_GLYCOL, 40, 20, 1051.86, 2.8191, 3519.0, 0.4253},
    {HR_ETHYLENE_GLYCOL, 40, 40, 1041.35, 1.6351, 3597.8, 0.4405},
    {HR_ETHYLENE_GLYCOL, 40, 60, 1029.11, 1.0821, 3669.7, 0.4553},
};

START_TEST(mixture_has_the_properties_of_the_table)
{
    const struct hr_fluid mixture = {.kind = table[_i].kind, .mass_fraction = table[_i].percent / 100};
    struct hr_fluid_state s;
    ck_assert(hr_fluid_at(&mixture, table[_i].t_c, 101325, &s));
    hr_assert_rel(s.density, table[_i].density, 1e-4, "density");
    hr_assert_rel(1e3 * s.viscosity, table[_i].viscosity_mpa_s, 1e-4, "viscosity");
    hr_assert_rel(s.heat_capacity, table[_i].heat_capacity, 1e-4, "heat capacity");
    hr_assert_abs(s.conductivity, table[_i].conductivity, 0.6e-4, "conductivity");
}
END_TEST

static const struct {
    double percent, coefficients_c, industrial_c;
} freezing[] = {{20, -7.2, -7.1}, {30, -12.8, -12.7}, {40, -20.6, -21.1}};

START_TEST(propylene_glycol_freezes_at_the_temperatures_of_the_table)
{
    const struct hr_fluid mixture = {.kind = HR_PROPYLENE_GLYCOL,
                                     .mass_fraction = freezing[_i].percent / 100};
    const double got = hr_fluid_freezing_c(&mixture);
    hr_assert_abs(got, freezing[_i].coefficients_c, 0.05, "freezing point by the coefficients");
    hr_assert_abs(got, freezing[_i].industrial_c, 0.7, "freezing point by the industrial table");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("Melinder 2010");
    TCase *rows = tcase_create("tables");
    tcase_add_loop_test(rows, mixture_has_the_properties_of_the_table, 0, HR_ARRAY_LEN(table));
    tcase_add_loop_test(rows, propylene_glycol_freezes_at_the_temperatures_of_the_table, 0,
                        HR_ARRAY_LEN(freezing));
    suite_add_tcase(s, rows);
    return s;
}

HR_TEST_MAIN(suite)
