/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Laminar flow in entrances and in rectangular channels: R. K. Shah, J. Fluids Eng. 100 (1978) 177 (constants
 * of the circle from memory); Y. S. Muzychka and M. M. Yovanovich, J. Fluids Eng. 131 (2009) 061105;
 * developed flow: R. K. Shah and A. L. London, Laminar Flow Forced Convection in Ducts, 1978.
 *
 * Values of the two formulas computed independently, tolerance 1e-4 (digits printed). Developed f Re from a
 * spectral solution of the momentum equation (converged to 1e-6; square 14.22708, Fanning, as in Shah and
 * London); the closed form keeps one term of the series: measured here, up to 0.7 % low for the square and
 * within 0.1 % below an aspect of 0.5. */
#include "hr_test.h"

#include "base/memory.h"
#include "part/friction.h"

static const struct {
    double length, circle, square, narrow;
} entrances[] = {
    {0.001, 109.8139, 109.6965, 114.8405}, {0.005, 51.7978, 50.6600, 61.0038},
    {0.01, 38.5186, 37.1897, 50.3796},     {0.05, 21.7133, 20.8898, 39.8926},
    {0.1, 18.9538, 17.8339, 38.3808},      {1.0, 16.3098, 14.5446, 36.9673},
};

/* Apparent friction, Fanning: what the tube adds to 16 in excess over developed flow. */
START_TEST(shah_circle)
{
    const double re = 1000;
    const double length = entrances[_i].length * re;
    double value;
    double slope;
    hr_friction_entrance(re, length, &value, &slope);
    hr_assert_rel(16 + value / (4 * length * re), entrances[_i].circle, 1e-4, "f_app Re");
}
END_TEST

START_TEST(muzychka_and_yovanovich)
{
    const double re = 40;
    for (int narrow = 0; narrow < 2; narrow++) {
        const struct hr_channel channel = hr_channel_make(narrow ? 0.1 : 1, entrances[_i].length * re);
        double value;
        double slope;
        hr_channel_friction(&channel, re, &value, &slope);
        hr_assert_rel(value / (channel.perimeter * re), narrow ? entrances[_i].narrow : entrances[_i].square,
                      1e-4, "f Re of the square root of the area");
    }
}
END_TEST

static const struct {
    double aspect, darcy;
} developed[] = {{1.0000, 56.90831}, {0.9000, 57.04392}, {0.8000, 57.51119}, {0.6667, 58.84736},
                 {0.5000, 62.19222}, {0.4000, 65.47240}, {0.3000, 70.04836}, {0.2500, 72.93111},
                 {0.2000, 76.28199}, {0.1667, 78.80881}, {0.1250, 82.33858}, {0.1000, 84.67551}};

START_TEST(developed_flow_in_rectangular_ducts)
{
    const struct hr_channel channel = hr_channel_make(developed[_i].aspect, 1);
    /* (f Re)_sqrtA, Fanning, to Darcy with the hydraulic diameter. */
    hr_assert_rel(4 * channel.developed * channel.hydraulic, developed[_i].darcy,
                  developed[_i].aspect > 0.5 ? 7e-3 : 2.1e-3, "f Re");
}
END_TEST

START_TEST(thin_channel_is_that_of_parallel_plates)
{
    const struct hr_channel channel = hr_channel_make(1e-5, 1);
    hr_assert_rel(4 * channel.developed * channel.hydraulic, 96, 1e-4, "f Re");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("laminar-ducts");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, shah_circle, 0, HR_ARRAY_LEN(entrances));
    tcase_add_loop_test(tables, muzychka_and_yovanovich, 0, HR_ARRAY_LEN(entrances));
    tcase_add_loop_test(tables, developed_flow_in_rectangular_ducts, 0, HR_ARRAY_LEN(developed));
    tcase_add_test(tables, thin_channel_is_that_of_parallel_plates);
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
