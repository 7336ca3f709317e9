/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Searches along curves, against closed forms and one published example.
 *
 * V. Satopaa, J. Albrecht, D. Irwin, B. Raghavan, "Finding a 'Kneedle' in a Haystack", ICDCS Workshops 2011,
 * figure 2: y = -1/(x + 0.1) + 5 at ten points of [0, 1]; published knee 0.22. The differences of the
 * normalised curve from the chord and the knee between the points (0.231662) were computed from that formula:
 * x = sqrt(0.1 1.1) - 0.1. */
#include "hr_test.h"
#include "study/study.h"

enum { FIGURE_POINTS = 10 };

static double figure_curve(void *context, double x)
{
    (void)context;
    return -1.0 / (x + 0.1) + 5.0;
}

static void fill_figure(double x[FIGURE_POINTS], double y[FIGURE_POINTS])
{
    for (int i = 0; i < FIGURE_POINTS; i++) {
        x[i] = i / 9.0;
        y[i] = figure_curve(NULL, x[i]);
    }
}

START_TEST(published_knee_on_the_grid)
{
    double x[FIGURE_POINTS];
    double y[FIGURE_POINTS];
    fill_figure(x, y);
    const size_t at = hr_bend_on_grid(x, y, FIGURE_POINTS);
    ck_assert_uint_eq(at, 2);
    hr_assert_abs(x[at], 0.22, 0.005, "knee as printed");
}
END_TEST

START_TEST(published_knee_between_the_points)
{
    double x[FIGURE_POINTS];
    double y[FIGURE_POINTS];
    fill_figure(x, y);
    const double knee = hr_bend_between(x, y, FIGURE_POINTS, figure_curve, NULL, 1e-9);
    hr_assert_abs(knee, sqrt(0.1 * 1.1) - 0.1, 1e-7, "continuous knee");
    hr_assert_abs(knee, 0.231662, 1e-6, "continuous knee, digits");
}
END_TEST

/* Falling and convex, as a rise against speed is: the chord of 1/x from 1 to 4 has slope -1/4, the farthest
 * point is 2. */
static double reciprocal(void *context, double x)
{
    return *(const double *)context / x;
}

START_TEST(falling_curves_bend_too)
{
    const double x[] = {1.0, 1.7, 2.9, 4.0};
    double y[4];
    double scale = 7.3;
    for (int i = 0; i < 4; i++) {
        y[i] = reciprocal(&scale, x[i]);
    }
    hr_assert_abs(hr_bend_between(x, y, 4, reciprocal, &scale, 1e-9), 2.0, 1e-6, "bend of a reciprocal");
}
END_TEST

START_TEST(straight_and_broken_curves_have_no_bend)
{
    const double x[] = {1.0, 2.0, 3.5, 4.25};
    const double line[] = {2.0, 4.0, 7.0, 8.5};
    const double flat[] = {3.0, 3.0, 3.0, 3.0};
    const double broken[] = {1.0, NAN, 3.0, 9.0};
    ck_assert_uint_eq(hr_bend_on_grid(x, line, 4), SIZE_MAX);
    ck_assert_uint_eq(hr_bend_on_grid(x, flat, 4), SIZE_MAX);
    ck_assert_uint_eq(hr_bend_on_grid(x, broken, 4), SIZE_MAX);
    ck_assert_uint_eq(hr_bend_on_grid(x, broken, 2), SIZE_MAX);
}
END_TEST

static bool is_past(void *context, double x)
{
    return x >= *(const double *)context;
}

START_TEST(first_true_finds_the_change)
{
    double change = 2.718281828;
    const double found = hr_first_true(0.3, 17.1, is_past, &change, 1e-10);
    ck_assert(found >= change);
    hr_assert_abs(found, change, 1e-9, "place of the change");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("bend");
    TCase *c = tcase_create("searches");
    tcase_add_test(c, published_knee_on_the_grid);
    tcase_add_test(c, published_knee_between_the_points);
    tcase_add_test(c, falling_curves_bend_too);
    tcase_add_test(c, straight_and_broken_curves_have_no_bend);
    tcase_add_test(c, first_true_finds_the_change);
    suite_add_tcase(s, c);
    return s;
}

HR_TEST_MAIN(suite)
