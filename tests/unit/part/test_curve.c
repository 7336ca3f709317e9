/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The interpolant against scipy 1.10.1, scipy.interpolate.PchipInterpolator (its values and derivatives, 17
 * digits). */
#include "part_test.h"

#include "part/curve.h"

static const double rising_x[] = {0, 0.5, 1.1, 2.3, 2.9, 4.7};
static const double rising_y[] = {0, 0.37, 1.62, 5.9, 6.1, 14.3};
static const double hump_x[] = {0, 1, 3, 4, 8};
static const double hump_y[] = {5.2, 5.3, 4.1, 4.0, 0.2};

static const struct {
    bool hump;
    double x, value, slope;
} rows[] = {
    {false, 0, 0.0, 0.12939393939393948},
    {false, 0.13, 0.044313944944286636, 0.5338340652230138},
    {false, 0.5, 0.37, 1.0765676800451436},
    {false, 0.8, 0.8840626396976532, 2.2169249589696047},
    {false, 1.9, 4.918300214365571, 3.9036447275300805},
    {false, 2.31, 5.905473888014419, 0.5366374668074329},
    {false, 2.75, 6.0386315505326795, 0.3023646703138485},
    {false, 3.3, 6.7323640294697435, 2.577003788188481},
    {false, 4.69, 14.222906973514478, 7.696356968631622},
    {false, 4.7, 14.299999999999999, 7.722222222222225},
    {true, 0, 5.2, 0.29999999999999893},
    {true, 0.4, 5.2783999999999995, 0.10799999999999962},
    {true, 1, 5.3, 0.0},
    {true, 1.7, 4.987192647058824, -0.7661911764705885},
    {true, 3.5, 4.0496142719382835, -0.07135969141755034},
    {true, 6.1, 2.737438903688525, -1.0152078893442622},
    {true, 7.9, 0.36157851434426197, -1.6014988729508197},
    {true, 8, 0.20000000000000018, -1.63},
};

START_TEST(curve_is_that_of_scipy)
{
    struct hr_arena arena;
    hr_arena_init(&arena);
    const struct hr_curve *curve = rows[_i].hump ? hr_curve_make(&arena, hump_x, hump_y, 5)
                                                 : hr_curve_make(&arena, rising_x, rising_y, 6);
    ck_assert(curve != NULL);
    double value;
    double slope;
    hr_curve_at(curve, rows[_i].x, &value, &slope);
    hr_assert_rel(value, rows[_i].value, 1e-14, "value");
    hr_assert_abs(slope, rows[_i].slope, 1e-13, "slope");
    hr_arena_clear(&arena);
}
END_TEST

START_TEST(two_points_are_a_straight_line)
{
    struct hr_arena arena;
    hr_arena_init(&arena);
    const struct hr_curve *curve = hr_curve_make(&arena, (double[]){1, 3}, (double[]){7, 4}, 2);
    double value;
    double slope;
    hr_curve_at(curve, 1.7, &value, &slope);
    hr_assert_rel(value, 5.95, 1e-15, "value");
    hr_assert_rel(slope, -1.5, 1e-15, "slope");
    hr_arena_clear(&arena);
}
END_TEST

START_TEST(steady_curve_is_never_level)
{
    struct hr_arena arena;
    hr_arena_init(&arena);
    struct hr_curve *curve = hr_curve_make(&arena, (double[]){0, 1, 2}, (double[]){0, 1, 2}, 3);
    curve->slope[0] = 3;
    curve->slope[1] = 3;
    double value;
    double slope;
    hr_curve_at(curve, 0.5, &value, &slope);
    ck_assert(slope == 0);
    hr_curve_steady(curve);
    hr_curve_at(curve, 0.5, &value, &slope);
    ck_assert(slope > 0.05);
    hr_arena_clear(&arena);
}
END_TEST

static Suite *curve_suite(void)
{
    Suite *suite = suite_create("part-curve");
    TCase *curves = tcase_create("curves");
    tcase_add_loop_test(curves, curve_is_that_of_scipy, 0, HR_ARRAY_LEN(rows));
    tcase_add_test(curves, two_points_are_a_straight_line);
    tcase_add_test(curves, steady_curve_is_never_level);
    suite_add_tcase(suite, curves);
    return suite;
}

HR_TEST_MAIN(curve_suite)
