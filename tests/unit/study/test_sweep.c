/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sweeps and knees against loops with a closed solution.
 *
 * A pump h = h0 s^2 - (h0/q0^2) q^2 (no linear share) on a quadratic resistance r gives q = s sqrt(h0 / (r +
 * h0/q0^2)): the flow is proportional to the speed ratio s. With a film resistance A (Q1/q)^m the rise of the
 * chip is known at each speed, and so is each knee. */
#include "hr_test.h"
#include "loop_text.h"

#include <string.h>

#define LOOP                                                                                                 \
    "coolant: water\ntubing: none\nparts:\n"                                                                 \
    "  pump: {kind: pump, curve: {speed: 4000 rpm, shut_off: 40 kPa, free_flow: 10 L/min, linear_share: 0}," \
    " speed: 2000 rpm, speed_max: 4000 rpm}\n"                                                               \
    "  gpu: {kind: block, law: {linear: 0, square: 1.7e12}, heat: 300 W,"                                    \
    " resistance: {conduction: 0.02 K/W, film: 0.03 K/W, at: 4 L/min, exponent: 0.5}}\n"                     \
    "  tank: {kind: reservoir}\n"                                                                            \
    "route: [tank, pump, gpu]\n"

static const double FULL = 4000.0;

static double flow_at(double rpm)
{
    const double q0 = 10.0 / 6e4;
    return rpm / FULL * sqrt(40e3 / (1.7e12 + 40e3 / (q0 * q0)));
}

static double rise_at(double rpm)
{
    return 300.0 * (0.02 + 0.03 * sqrt(4.0 / 6e4 / flow_at(rpm)));
}

START_TEST(every_point_is_solved)
{
    struct hr_sweep *sweep = loop_sweep(LOOP, "pump.speed=500..4000:250");
    ck_assert_uint_eq(sweep->points, 15);
    ck_assert_str_eq(sweep->axis[0].unit, "rpm");
    for (size_t i = 0; i < sweep->points; i++) {
        const double rpm = 500.0 + 250.0 * (double)i;
        hr_assert_rel(sweep->axis[0].value[i], rpm, 1e-15, "speed");
        hr_assert_rel(sweep->point[i]->pump[0].flow_m3_s, flow_at(rpm), 1e-10, "flow");
        hr_assert_rel(sweep->point[i]->chip[0].rise_k, rise_at(rpm), 1e-9, "rise");
        hr_assert_rel(sweep->point[i]->pump[0].speed_rpm, rpm, 1e-15, "speed of the pump");
    }
    hr_sweep_free(sweep);
}
END_TEST

static const struct hr_knee *knee_of(const struct hr_sweep *sweep, enum hr_knee_definition definition)
{
    for (size_t i = 0; i < sweep->knees; i++) {
        if (sweep->knee[i].definition == definition) {
            return &sweep->knee[i];
        }
    }
    ck_abort_msg("no such knee");
    return NULL;
}

/* rise = a + b s^-1/2: within 1 K of the best at s = (s_best^-1/2 + 1/b)^-2. */
START_TEST(enough_is_found_between_grid_points)
{
    struct hr_sweep *sweep = loop_sweep(LOOP, "pump.speed=500..4000:250");
    const struct hr_knee *knee = knee_of(sweep, HR_KNEE_ENOUGH);
    const double b = (rise_at(FULL) - 6.0);
    const double expected = FULL * pow(1.0 + 1.0 / b, -2.0);
    ck_assert(knee->reached && !knee->at_start);
    ck_assert_str_eq(knee->binding, "gpu");
    hr_assert_abs(knee->value, expected, 0.02, "speed that is enough");
    hr_assert_rel(knee->flow_m3_s, flow_at(expected), 1e-5, "its flow");
    hr_assert_abs(knee->rise_k - knee->best_k, 1.0, 1e-4, "distance from the best");
    hr_sweep_free(sweep);
}
END_TEST

/* d(rise)/d(rpm) = -b/2 rpm^-3/2 FULL^1/2 reaches -0.2/100 at rpm = (b/2 FULL^1/2 / 0.002)^(2/3). */
START_TEST(gain_is_found_between_grid_points)
{
    struct hr_sweep *sweep = loop_sweep(LOOP, "pump.speed=500..4000:250");
    const double b = (rise_at(FULL) - 6.0);
    hr_assert_abs(knee_of(sweep, HR_KNEE_GAIN)->value, pow(0.5 * b * sqrt(FULL) / 0.002, 2.0 / 3.0), 0.5,
                  "speed where 100 rpm gain 0.2 K");
    hr_sweep_free(sweep);
}
END_TEST

/* s^-1/2 is farthest from its chord where its slope is the chord's. */
START_TEST(bend_is_found_between_grid_points)
{
    struct hr_sweep *sweep = loop_sweep(LOOP, "pump.speed=500..4000:250");
    const double chord = (pow(4000.0, -0.5) - pow(500.0, -0.5)) / 3500.0;
    hr_assert_abs(knee_of(sweep, HR_KNEE_BEND)->value, pow(-2.0 * chord, -2.0 / 3.0), 0.1, "bend");
    hr_sweep_free(sweep);
}
END_TEST

START_TEST(percent_of_the_highest_speed)
{
    struct hr_sweep *sweep = loop_sweep(LOOP, "pump.speed=20..100:10%");
    ck_assert_uint_eq(sweep->points, 9);
    hr_assert_rel(sweep->point[3]->pump[0].speed_rpm, 2000.0, 1e-14, "half speed");
    const double b = (rise_at(FULL) - 6.0);
    hr_assert_abs(knee_of(sweep, HR_KNEE_ENOUGH)->value, 100.0 * pow(1.0 + 1.0 / b, -2.0), 1e-3,
                  "enough in percent");
    hr_assert_abs(knee_of(sweep, HR_KNEE_GAIN)->value, pow(0.5 * b * sqrt(FULL) / 0.002, 2.0 / 3.0) / 40.0,
                  0.05, "gain in percent, still per 100 rpm");
    hr_sweep_free(sweep);
}
END_TEST

START_TEST(at_rest_nothing_flows_and_knees_start_above)
{
    struct hr_sweep *sweep = loop_sweep(LOOP, "pump.speed=0..4000:500");
    ck_assert(sweep->point[0]->branch[0].flow_m3_s == 0.0);
    ck_assert_ptr_nonnull(loop_warning(sweep->point[0], "heat-without-flow"));
    ck_assert(knee_of(sweep, HR_KNEE_ENOUGH)->reached);
    hr_sweep_free(sweep);
}
END_TEST

START_TEST(other_values_are_put_over_the_file)
{
    struct hr_sweep *sweep = loop_sweep(LOOP, "gpu.heat=100..300:50 W");
    ck_assert_uint_eq(sweep->points, 5);
    for (size_t i = 0; i < 5; i++) {
        const double heat = 100.0 + 50.0 * (double)i;
        hr_assert_rel(sweep->point[i]->chip[0].rise_k, rise_at(2000.0) * heat / 300.0, 1e-9,
                      "rise follows the heat");
    }
    ck_assert_uint_eq(sweep->knees, 0);
    ck_assert_ptr_nonnull(sweep->no_knee);
    hr_sweep_free(sweep);
}
END_TEST

START_TEST(two_axes_make_a_grid)
{
    struct hr_source *source = loop_open(LOOP);
    struct hr_report report;
    struct hr_sweep *sweep;
    const char *const axes[] = {"pump.speed=1000..3000:1000", "gpu.heat=100..400:100 W"};
    hr_report_init(&report);
    ck_assert_int_eq(hr_sweep(source, NULL, axes, 2, NULL, &sweep, &report), HR_OK);
    ck_assert_uint_eq(sweep->points, 12);
    for (size_t i = 0; i < 12; i++) {
        const double rpm = 1000.0 * (double)(1 + i / 4);
        const double heat = 100.0 * (double)(1 + i % 4);
        hr_assert_rel(sweep->point[i]->chip[0].rise_k, rise_at(rpm) * heat / 300.0, 1e-9, "rise on the grid");
    }
    hr_sweep_free(sweep);
    hr_report_clear(&report);
    hr_source_free(source);
}
END_TEST

static const struct {
    const char *range, *text;
} bad_ranges[] = {
    {"pump.speed", "range 'pump.speed' has no '='"},
    {"pump.speed=fast", "range 'pump.speed=fast' cannot be read"},
    {"pump.speed=800..", "range 'pump.speed=800..' cannot be read"},
    {"pump.speed=4800..800:200",
     "range 'pump.speed=4800..800:200' does not rise from its first to its second number"},
    {"pump.speed=800..4800:0", "range 'pump.speed=800..4800:0' has a step that is not above zero"},
    {"pump.speed=0..4800:0.001", "range 'pump.speed=0..4800:0.001' has more than 100000 points"},
    {"pump.speed=-100..4800:100", "range 'pump.speed=-100..4800:100' begins below zero"},
};

START_TEST(bad_ranges_are_told)
{
    struct hr_source *source = loop_open(LOOP);
    struct hr_report report;
    struct hr_sweep *sweep;
    hr_report_init(&report);
    ck_assert_int_eq(hr_sweep(source, NULL, &bad_ranges[_i].range, 1, NULL, &sweep, &report), HR_USAGE);
    ck_assert_ptr_null(sweep);
    const size_t length = strlen(bad_ranges[_i].text);
    ck_assert_msg(strncmp(report.error[0].text, bad_ranges[_i].text, length) == 0, "got: %s",
                  report.error[0].text);
    ck_assert_ptr_nonnull(strstr(report.error[0].text + length, "for instance pump.speed=800..4800:200"));
    hr_report_clear(&report);
    hr_source_free(source);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("sweep");
    TCase *c = tcase_create("sweep");
    tcase_add_test(c, every_point_is_solved);
    tcase_add_test(c, enough_is_found_between_grid_points);
    tcase_add_test(c, gain_is_found_between_grid_points);
    tcase_add_test(c, bend_is_found_between_grid_points);
    tcase_add_test(c, percent_of_the_highest_speed);
    tcase_add_test(c, at_rest_nothing_flows_and_knees_start_above);
    tcase_add_test(c, other_values_are_put_over_the_file);
    tcase_add_test(c, two_axes_make_a_grid);
    tcase_add_loop_test(c, bad_ranges_are_told, 0, sizeof bad_ranges / sizeof bad_ranges[0]);
    suite_add_tcase(s, c);
    return s;
}

HR_TEST_MAIN(suite)
