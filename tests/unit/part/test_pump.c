/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pumps and pump-blocks. */
#include "part_test.h"

#include "part/pump.h"

static const double LPM = 1e-3 / 60;
static const double GRAVITY = 9.80665;

static double falling[] = {0, 5.2, 3e-3 / 60, 4.9, 6e-3 / 60, 4.1, 9e-3 / 60, 2.9, 12e-3 / 60, 1.4};
static double started_late[] = {2e-3 / 60, 5.0, 6e-3 / 60, 4.1, 12e-3 / 60, 1.4};
static double rising[] = {0, 4.6, 2e-3 / 60, 4.9, 4e-3 / 60, 5.0, 8e-3 / 60, 3.9, 12e-3 / 60, 1.4};
static double two_rows[] = {0, 5.2, 12e-3 / 60, 1.4};

static struct hr_params *pump_by_points(struct test_part *test, double rows[], size_t count)
{
    test_start(test);
    struct hr_params *map =
        test_map(test, &hr_kind_pump, "curve", (const struct test_pair[]){{"speed", 4800}, {NULL, 0}});
    struct hr_value *value = test_map_rows(&hr_kind_pump, "curve", map, "points", rows, count);
    value->column_meaning[1] = HR_METRES;
    return map;
}

static struct hr_params *pump_by_formula(struct test_part *test, double share)
{
    test_start(test);
    struct hr_params *map = test_map(test, &hr_kind_pump, "curve",
                                     (const struct test_pair[]){{"speed", 4800},
                                                                {"shut_off", 35000},
                                                                {"free_flow", 14 * LPM},
                                                                {"linear_share", share},
                                                                {NULL, 0}});
    return map;
}

static struct hr_setting at_speed(double rpm)
{
    return (struct hr_setting){.fluid = &test_water, .speed_rpm = rpm};
}

START_TEST(formula_is_what_the_file_says)
{
    static const double shares[] = {0, 0.35, 1};
    for (size_t i = 0; i < 3; i++) {
        struct test_part test;
        pump_by_formula(&test, shares[i]);
        test_make(&test, &hr_kind_pump);
        const double c = shares[i];
        const double q0 = 14 * LPM;
        for (double s = 0; s < 1.2; s += 0.37) {
            const struct hr_setting setting = at_speed(4800 * s);
            for (double q = -5 * LPM; q < 20 * LPM; q += 3.1 * LPM) {
                const double h = 35000 * (s * s - c * s * q / q0 - (1 - c) * q * fabs(q) / (q0 * q0));
                hr_assert_abs(test_drop_in(&hr_kind_pump, &test, &setting, q), -h, 1e-10, "minus the head");
            }
        }
        test_end(&test);
    }
}
END_TEST

static const struct {
    double *rows;
    size_t count;
} curves[] = {{falling, 5}, {started_late, 3}, {two_rows, 2}};

START_TEST(curve_through_points_falls_everywhere)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    pump_by_points(&test, curves[_i].rows, curves[_i].count);
    test_make(&test, &hr_kind_pump);
    for (double s = 0.2; s < 1.3; s += 0.27) {
        const struct hr_setting setting = at_speed(4800 * s);
        hr_kind_pump.bind(test.part, &setting, branch);
        /* Beside the rows, where the curvature jumps. */
        test_properties(branch, 1.0037 * s * LPM, TEST_NOT_ZERO);
        const double unit = test_water.density * GRAVITY;
        for (size_t i = 0; i < curves[_i].count; i++) {
            const double *row = &curves[_i].rows[2 * i];
            hr_assert_rel(test_drop_in(&hr_kind_pump, &test, &setting, row[0] * s), -row[1] * unit * s * s,
                          1e-12, "through the points, carried by the affinity laws");
        }
    }
    test_end(&test);
}
END_TEST

/* A parabola through its points is known beyond them: 5 m (1 - (q/14)^2), backwards 5 m (1 + (q/14)^2). */
START_TEST(curve_goes_on_as_the_parabola)
{
    double rows[10];
    for (int i = 0; i < 5; i++) {
        rows[2 * i] = 2.5 * i * LPM;
        rows[2 * i + 1] = 5 * (1 - pow(2.5 * i / 14, 2));
    }
    struct test_part test;
    pump_by_points(&test, rows, 5);
    test_make(&test, &hr_kind_pump);
    const double unit = test_water.density * GRAVITY;
    hr_assert_rel(test_drop(&hr_kind_pump, &test, 21 * LPM), -unit * 5 * (1 - 2.25), 1e-12, "beyond");
    const struct hr_setting stopped = at_speed(0);
    hr_assert_rel(test_drop_in(&hr_kind_pump, &test, &stopped, 7 * LPM), unit * 5 * 0.25, 1e-12, "at rest");
    /* The slope at no flow has a floor of 1 % of the first secant. */
    hr_assert_rel(test_drop(&hr_kind_pump, &test, -7 * LPM), -unit * 5 * 1.25, 2e-3, "backwards");
    struct hr_machine_facts facts;
    hr_kind_pump.machine(test.part, &test_setting, 0, &facts);
    hr_assert_rel(facts.free_flow_m3_s, 14 * LPM, 1e-12, "free flow");
    test_end(&test);
}
END_TEST

/* Where no row at zero flow was measured the curve goes there as a parabola whose slope falls to a fifth. */
START_TEST(missing_shut_off_is_a_parabola)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    pump_by_points(&test, started_late, 3);
    test_make(&test, &hr_kind_pump);
    hr_kind_pump.bind(test.part, &test_setting, branch);
    double drop[3];
    double slope[3];
    for (int i = 0; i < 3; i++) {
        test_branch(branch, i * LPM, &drop[i], &slope[i]);
    }
    hr_assert_rel(slope[0], 0.2 * slope[2], 1e-12, "slope at no flow");
    hr_assert_rel(slope[1], 0.6 * slope[2], 1e-12, "half way");
    hr_assert_rel(drop[2] - drop[0], 0.6 * slope[2] * 2 * LPM, 1e-12, "rise");
    test_end(&test);
}
END_TEST

START_TEST(narrow_steps_leave_no_level_piece)
{
    static double steps[] = {0, 5.2, 0.01e-3 / 60, 4.2, 1e-3 / 60, 4.1, 1.01e-3 / 60, 3.1};
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    pump_by_points(&test, steps, 4);
    test_make(&test, &hr_kind_pump);
    hr_kind_pump.bind(test.part, &test_setting, branch);
    const double secant = 0.1 * test_water.density * GRAVITY / (0.99 * LPM);
    for (double flow = 0.01 * LPM; flow < LPM; flow += 0.01 * LPM) {
        double drop;
        double slope;
        test_branch(branch, flow, &drop, &slope);
        ck_assert_msg(slope > 0.06 * secant, "%g of the secant at %g L/min", slope / secant, flow / LPM);
    }
    test_end(&test);
}
END_TEST

START_TEST(stopped_pump_is_the_limit_of_a_slow_one)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    const struct hr_setting stopped = at_speed(0);
    const struct hr_setting slow = at_speed(4800 * 1e-7);
    for (size_t i = 0; i < HR_ARRAY_LEN(curves); i++) {
        pump_by_points(&test, curves[i].rows, curves[i].count);
        test_make(&test, &hr_kind_pump);
        hr_kind_pump.bind(test.part, &stopped, branch);
        test_properties(branch, LPM, TEST_ODD | TEST_ZERO_SLOPE);
        for (int sign = -1; sign < 2; sign += 2) {
            const double still = test_drop_in(&hr_kind_pump, &test, &stopped, sign * 3 * LPM);
            hr_assert_rel(test_drop_in(&hr_kind_pump, &test, &slow, sign * 3 * LPM), still, 1e-5, "slow");
        }
        test_end(&test);
    }
}
END_TEST

START_TEST(stopped_pump_may_have_its_own_drop)
{
    struct test_part test;
    pump_by_formula(&test, 0.3);
    struct hr_params *map = test_map(&test, &hr_kind_pump, "stopped", (const struct test_pair[]){{NULL, 0}});
    double rows[] = {1e-3 / 60, 4000, 2e-3 / 60, 15000};
    test_map_rows(&hr_kind_pump, "stopped", map, "points", rows, 2);
    test_make(&test, &hr_kind_pump);
    const struct hr_setting stopped = at_speed(0);
    hr_assert_rel(test_drop_in(&hr_kind_pump, &test, &stopped, LPM), 4000, 1e-13, "at rest");
    hr_assert_rel(test_drop(&hr_kind_pump, &test, 0), -35000, 1e-13, "running");
    test_end(&test);
}
END_TEST

START_TEST(rising_curve_says_where)
{
    struct test_part test;
    struct hr_machine_facts facts;
    pump_by_points(&test, rising, 5);
    test_make(&test, &hr_kind_pump);
    const struct hr_setting half = at_speed(2400);
    hr_kind_pump.machine(test.part, &half, 0, &facts);
    ck_assert(facts.rises);
    /* It begins to rise before zero flow, where the continuation turns. */
    ck_assert(facts.rise_low_m3_s < 0 && facts.rise_low_m3_s > -2 * LPM);
    ck_assert(test_drop_in(&hr_kind_pump, &test, &half, facts.rise_low_m3_s - 0.1 * LPM) <
              test_drop_in(&hr_kind_pump, &test, &half, facts.rise_low_m3_s));
    hr_assert_rel(facts.rise_high_m3_s, 2 * LPM, 1e-12, "half of 4 L/min at half speed");
    double drop = INFINITY;
    for (double q = facts.rise_low_m3_s; q <= facts.rise_high_m3_s; q += 0.01 * LPM) {
        const double now = test_drop_in(&hr_kind_pump, &test, &half, q);
        ck_assert_msg(now < drop, "the head rises up to %g", q);
        drop = now;
    }
    for (double q = facts.rise_high_m3_s * 1.0001; q < 30 * LPM; q += 0.01 * LPM) {
        const double now = test_drop_in(&hr_kind_pump, &test, &half, q);
        ck_assert_msg(now > drop, "the head falls after %g", q);
        drop = now;
    }
    test_end(&test);
    pump_by_points(&test, falling, 5);
    test_make(&test, &hr_kind_pump);
    hr_kind_pump.machine(test.part, &half, 0, &facts);
    ck_assert(!facts.rises);
    test_end(&test);
}
END_TEST

START_TEST(speeds_are_read_in_rpm_or_as_a_share)
{
    struct test_part test;
    struct hr_machine_facts facts;
    pump_by_formula(&test, 0);
    test_number(&test, &hr_kind_pump, "speed_max", 6000);
    test_number(&test, &hr_kind_pump, "speed_min", 1200);
    test_number(&test, &hr_kind_pump, "speed", 0.6);
    test.value[test.params.count - 1].meaning = HR_PERCENT;
    test_make(&test, &hr_kind_pump);
    hr_kind_pump.machine(test.part, &test_setting, 0, &facts);
    hr_assert_rel(facts.speed_rpm, 3600, 1e-14, "60 % of 6000 rpm");
    hr_assert_rel(facts.shut_off_pa, 35000 * 0.75 * 0.75, 1e-14, "3600 of 4800 rpm");
    hr_assert_rel(facts.free_flow_m3_s, 14 * LPM * 0.75, 1e-14, "free flow");
    struct hr_part_facts part;
    const struct hr_setting slow = at_speed(900);
    hr_kind_pump.facts(test.part, &slow, LPM, &part);
    ck_assert_uint_eq(part.range_count, 1);
    ck_assert_str_eq(part.range[0].what, "speed");
    ck_assert(part.range[0].value < part.range[0].low);
    test_end(&test);
}
END_TEST

START_TEST(power_grows_with_speed)
{
    struct test_part test;
    struct hr_machine_facts facts;
    pump_by_formula(&test, 0);
    test_number(&test, &hr_kind_pump, "power", 16);
    test_number(&test, &hr_kind_pump, "power_idle", 0.7);
    test_number(&test, &hr_kind_pump, "power_to_coolant", 0.7);
    test_number(&test, &hr_kind_pump, "in_series", 2);
    test_make(&test, &hr_kind_pump);
    const struct hr_setting setting = at_speed(2400);
    hr_kind_pump.machine(test.part, &setting, 0, &facts);
    hr_assert_rel(facts.power_w, 2 * (0.7 + 15.3 * pow(0.5, 2.8)), 1e-13, "both at half speed");
    hr_assert_rel(facts.power_to_coolant_w, 0.7 * facts.power_w, 1e-13, "share");
    hr_assert_rel(facts.shut_off_pa, 2 * 35000 * 0.25, 1e-13, "both in series");
    const struct hr_setting stopped = at_speed(0);
    hr_kind_pump.machine(test.part, &stopped, 0, &facts);
    ck_assert(facts.power_w == 0);
    test_end(&test);
}
END_TEST

START_TEST(two_in_series_and_two_in_parallel)
{
    for (int parallel = 0; parallel < 2; parallel++) {
        struct test_part test;
        pump_by_points(&test, falling, 5);
        test_make(&test, &hr_kind_pump);
        const double one = test_drop(&hr_kind_pump, &test, 4 * LPM);
        test_number(&test, &hr_kind_pump, parallel ? "in_parallel" : "in_series", 2);
        test_make(&test, &hr_kind_pump);
        const double two = test_drop(&hr_kind_pump, &test, parallel ? 8 * LPM : 4 * LPM);
        hr_assert_rel(two, parallel ? one : 2 * one, 1e-13, "two pumps");
        struct hr_machine_facts facts;
        test_number(&test, &hr_kind_pump, "power", 16);
        test_make(&test, &hr_kind_pump);
        hr_kind_pump.machine(test.part, &test_setting, 0, &facts);
        hr_assert_rel(facts.power_w, 32, 1e-13, "power of both");
        hr_assert_rel(facts.shut_off_pa, (parallel ? 1 : 2) * 5.2 * test_water.density * GRAVITY, 1e-13,
                      "shut off");
        ck_assert((facts.free_flow_m3_s > 20 * LPM) == (parallel == 1));
        test_end(&test);
    }
}
END_TEST

START_TEST(ideal_pump_delivers_its_flow)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    test_start(&test);
    test_number(&test, &hr_kind_pump, "flow", 3 * LPM);
    test_number(&test, &hr_kind_pump, "in_parallel", 2);
    test_make(&test, &hr_kind_pump);
    hr_kind_pump.bind(test.part, &test_setting, branch);
    ck_assert(branch->fixed_flow);
    hr_assert_rel(branch->flow, 6 * LPM, 1e-15, "flow");
    test_end(&test);
}
END_TEST

START_TEST(pump_of_constant_power)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    test_start(&test);
    test_number(&test, &hr_kind_pump, "hydraulic_power", 5600);
    test_make(&test, &hr_kind_pump);
    hr_assert_rel(test_drop(&hr_kind_pump, &test, 0.03), -5600 / 0.03, 1e-14, "power over flow");
    hr_kind_pump.bind(test.part, &test_setting, branch);
    /* Rises from twice 100 bar below nothing; the slope falls with the square of the flow, so no steps of 2
     * %. */
    double last = -INFINITY;
    for (double q = -0.01; q < 1; q += 1e-4) {
        double drop;
        double slope;
        test_branch(branch, q, &drop, &slope);
        ck_assert(drop > last && slope > 0);
        last = drop;
    }
    test_derivative(branch, 4e-4);
    test_derivative(branch, 7e-4);
    test_continuous_slope(branch, 5e-4, 6e-4);
    hr_assert_rel(test_drop(&hr_kind_pump, &test, 0), -2e7, 1e-12, "shut off");
    test_end(&test);
}
END_TEST

static const struct hr_fluid_state thick = {.temperature_c = 20, .density = 1033, .viscosity = 4.4e-3};

START_TEST(viscosity_lowers_the_curve_and_water_does_not)
{
    const struct hr_fluid_state water_25 = {.temperature_c = 25, .density = 997.047, .viscosity = 890.02e-6};
    const struct hr_setting in_water = {.fluid = &water_25, .speed_rpm = NAN};
    const struct hr_setting in_thick = {.fluid = &thick, .speed_rpm = NAN};
    for (int formula = 0; formula < 2; formula++) {
        struct test_part test;
        if (formula) {
            pump_by_formula(&test, 0.35);
        } else {
            pump_by_points(&test, falling, 5);
        }
        test_make(&test, &hr_kind_pump);
        const double plain_water = test_drop_in(&hr_kind_pump, &test, &in_water, 5 * LPM);
        const double plain = test_drop_in(&hr_kind_pump, &test, &in_thick, 5 * LPM);
        test_number(&test, &hr_kind_pump, "viscosity_correction", 1);
        test_make(&test, &hr_kind_pump);
        hr_assert_rel(test_drop_in(&hr_kind_pump, &test, &in_water, 5 * LPM), plain_water, 1e-3, "in water");
        const double corrected = test_drop_in(&hr_kind_pump, &test, &in_thick, 5 * LPM);
        ck_assert(corrected > plain && corrected < 0.8 * plain);
        struct hr_part_branch branch[HR_PORTS_MAX];
        hr_kind_pump.bind(test.part, &in_thick, branch);
        test_properties(branch, 1.0037 * LPM, TEST_NOT_ZERO);
        struct hr_part_facts facts;
        hr_kind_pump.facts(test.part, &in_thick, 5 * LPM, &facts);
        ck_assert(facts.note != NULL);
        test_end(&test);
    }
}
END_TEST

START_TEST(pump_faults_are_sentences)
{
    struct test_part test;
    const struct hr_part_kind *kind = &hr_kind_pump;
    test_start(&test);
    test_fault(&test, kind, "no-curve",
               "part 'x' has no curve; give 'curve' with 'points' or with 'shut_off' and 'free_flow', or "
               "'flow' for an "
               "ideal pump");
    test_end(&test);
    test_start(&test);
    test_map(&test, kind, "curve",
             (const struct test_pair[]){{"speed", 4800}, {"shut_off", 35000}, {NULL, 0}});
    test_fault(&test, kind, "curve-form",
               "part 'x': 'curve' needs 'points', or both 'shut_off' and 'free_flow'");
    test_end(&test);
    test_start(&test);
    test_map(&test, kind, "curve",
             (const struct test_pair[]){{"shut_off", 35000}, {"free_flow", 1e-4}, {NULL, 0}});
    test_number(&test, kind, "speed", 2400);
    test_fault(&test, kind, "curve-speed",
               "part 'x': a speed of 2400 rpm says nothing while the speed of the curve is not known; add it "
               "to 'curve', "
               "for instance speed: 4800 rpm, or write the speed in %");
    test_end(&test);
    pump_by_formula(&test, 0);
    test_number(&test, kind, "speed_max", 0.8);
    test.value[test.params.count - 1].meaning = HR_PERCENT;
    test_fault(&test, kind, "speed-percent",
               "part 'x': the highest speed cannot be a percentage of itself; write it in rpm");
    test_end(&test);
    double back[] = {0, 5, 3e-3 / 60, 4, 2e-3 / 60, 1};
    pump_by_points(&test, back, 3);
    test_fault(&test, kind, "points-not-rising",
               "part 'x': row 3 of the curve's 'points' has a flow of 2 L/min after 3 L/min; flows must "
               "start at zero or "
               "above and rise from row to row");
    test_end(&test);
    double up[] = {0, 4, 3e-3 / 60, 4.5};
    pump_by_points(&test, up, 2);
    test_fault(&test, kind, "curve-end",
               "part 'x': the curve must start with a head above zero and fall between its last two rows, "
               "found 4, …, 4, "
               "4.5; without a falling end it never meets a loop");
    test_end(&test);
    test_start(&test);
    test_number(&test, kind, "flow", 1e-4);
    test_number(&test, kind, "speed", 2400);
    test_fault(&test, kind, "speed-without-curve",
               "part 'x': 'speed' has no meaning for a pump of given flow; give its 'curve', or leave the "
               "speed out");
    test_end(&test);
    pump_by_formula(&test, 0);
    test_number(&test, kind, "best_flow", 2 * LPM);
    test_fault(&test, kind, "best-flow",
               "part 'x': a 'best_flow' of 2 L/min does not suit a free flow of 14 L/min; it lies between 45 "
               "% and 100 % "
               "of that");
    test_end(&test);
}
END_TEST

START_TEST(pump_block_is_pump_and_passage)
{
    const struct hr_part_kind *kind = &hr_kind_pump_block;
    struct test_part test;
    double passage[] = {1e-3 / 60, 4000, 2e-3 / 60, 15000};
    for (int with_passage = 0; with_passage < 2; with_passage++) {
        test_start(&test);
        test_map(&test, kind, "curve",
                 (const struct test_pair[]){
                     {"speed", 3400}, {"shut_off", 20000}, {"free_flow", 4.5 * LPM}, {NULL, 0}});
        if (with_passage) {
            test_rows(&test, test_kind_key(kind, "points", HR_FORM_ROWS), passage, 2);
        }
        test_make(&test, kind);
        const double head = 20000 * (1 - 1 / (4.5 * 4.5));
        hr_assert_rel(test_drop(kind, &test, LPM), (with_passage ? 4000 : 0) - head, 1e-12,
                      "passage less head");
        const struct hr_setting stopped = at_speed(0);
        hr_assert_rel(test_drop_in(kind, &test, &stopped, LPM),
                      (with_passage ? 4000 : 0) + 20000 / (4.5 * 4.5), 1e-12, "at rest");
        test_end(&test);
    }
}
END_TEST

static Suite *pump_suite(void)
{
    Suite *suite = suite_create("part-pump");
    TCase *pumps = tcase_create("pumps");
    tcase_add_test(pumps, formula_is_what_the_file_says);
    tcase_add_loop_test(pumps, curve_through_points_falls_everywhere, 0, HR_ARRAY_LEN(curves));
    tcase_add_test(pumps, curve_goes_on_as_the_parabola);
    tcase_add_test(pumps, missing_shut_off_is_a_parabola);
    tcase_add_test(pumps, narrow_steps_leave_no_level_piece);
    tcase_add_test(pumps, stopped_pump_is_the_limit_of_a_slow_one);
    tcase_add_test(pumps, stopped_pump_may_have_its_own_drop);
    tcase_add_test(pumps, rising_curve_says_where);
    tcase_add_test(pumps, speeds_are_read_in_rpm_or_as_a_share);
    tcase_add_test(pumps, power_grows_with_speed);
    tcase_add_test(pumps, two_in_series_and_two_in_parallel);
    tcase_add_test(pumps, ideal_pump_delivers_its_flow);
    tcase_add_test(pumps, pump_of_constant_power);
    tcase_add_test(pumps, viscosity_lowers_the_curve_and_water_does_not);
    tcase_add_test(pumps, pump_faults_are_sentences);
    tcase_add_test(pumps, pump_block_is_pump_and_passage);
    suite_add_tcase(suite, pumps);
    return suite;
}

HR_TEST_MAIN(pump_suite)
