/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fans, vents, gaps and dust filters. */
#include "part_test.h"

static const double M3H = 1 / 3600.0;
static const struct hr_fluid_state standard = {.temperature_c = 20, .density = 1.2, .viscosity = 1.8206e-5};
static const struct hr_fluid_state thin = {.temperature_c = 40, .density = 1.02, .viscosity = 1.9165e-5};
static const struct hr_setting in_air = {.fluid = &standard, .speed_rpm = NAN};

static double dipped[] = {0,           32, 25 / 3600.0,  22, 40 / 3600.0,  24,
                          75 / 3600.0, 16, 100 / 3600.0, 5,  112 / 3600.0, 0};

static void fan(struct test_part *test, double share)
{
    test_start(test);
    test_map(
        test, &hr_kind_fan, "curve",
        (const struct test_pair[]){
            {"speed", 2000}, {"shut_off", 32}, {"free_flow", 112 * M3H}, {"linear_share", share}, {NULL, 0}});
}

START_TEST(fans_side_by_side_share_the_flow)
{
    struct test_part test;
    fan(&test, 0.3);
    test_number(&test, &hr_kind_fan, "count", 3);
    test_make(&test, &hr_kind_fan);
    const double x = 50.0 / 112;
    hr_assert_rel(test_drop_in(&hr_kind_fan, &test, &in_air, 150 * M3H), -32 * (1 - 0.3 * x - 0.7 * x * x),
                  1e-12, "each has a third");
    const struct hr_setting slow = {.fluid = &thin, .speed_rpm = 1000};
    hr_assert_rel(test_drop_in(&hr_kind_fan, &test, &slow, 75 * M3H),
                  -32 * (1 - 0.3 * x - 0.7 * x * x) / 4 * 1.02 / 1.2, 1e-12, "half the speed in thin air");
    struct hr_machine_facts facts;
    hr_kind_fan.machine(test.part, &in_air, 0, &facts);
    hr_assert_rel(facts.free_flow_m3_s, 336 * M3H, 1e-13, "free flow of three");
    test_end(&test);
}
END_TEST

START_TEST(air_flows_back_through_a_stopped_fan)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    fan(&test, 0.3);
    test_number(&test, &hr_kind_fan, "count", 2);
    test_number(&test, &hr_kind_fan, "stopped", 1);
    test_make(&test, &hr_kind_fan);
    hr_kind_fan.bind(test.part, &in_air, branch);
    test_properties(branch, 20.37 * M3H, TEST_NOT_ZERO);
    /* At no flow in all, what the running one lifts runs back through the other: 1 - c x - (1-c) x^2 = (1-c)
     * x^2. */
    const double x = (-0.3 + sqrt(0.09 + 4 * 1.4)) / (2 * 1.4);
    hr_assert_rel(test_drop_in(&hr_kind_fan, &test, &in_air, 0), -32 * 0.7 * x * x, 1e-12, "short circuit");
    test_end(&test);
}
END_TEST

START_TEST(all_fans_stopped_only_resist)
{
    struct test_part test;
    fan(&test, 0.3);
    test_number(&test, &hr_kind_fan, "count", 2);
    test_number(&test, &hr_kind_fan, "stopped", 2);
    test_make(&test, &hr_kind_fan);
    hr_assert_rel(test_drop_in(&hr_kind_fan, &test, &in_air, 112 * M3H), 32 * 0.7 / 4, 1e-12, "drop");
    test_end(&test);
    fan(&test, 0.3);
    test_number(&test, &hr_kind_fan, "count", 2);
    test_number(&test, &hr_kind_fan, "stopped", 3);
    test_fault(&test, &hr_kind_fan, "stopped-fans",
               "part 'x': 3 fans are stopped, but there are only 2; 'stopped' counts some of 'count'");
    test_end(&test);
}
END_TEST

START_TEST(stalling_fan_says_where_it_rises)
{
    struct test_part test;
    struct hr_machine_facts facts;
    test_start(&test);
    struct hr_params *map =
        test_map(&test, &hr_kind_fan, "curve", (const struct test_pair[]){{"speed", 2000}, {NULL, 0}});
    test_map_rows(&hr_kind_fan, "curve", map, "points", dipped, 6);
    test_make(&test, &hr_kind_fan);
    hr_kind_fan.machine(test.part, &in_air, 0, &facts);
    ck_assert(facts.rises);
    hr_assert_rel(facts.rise_low_m3_s, 25 * M3H, 1e-14, "from");
    hr_assert_rel(facts.rise_high_m3_s, 40 * M3H, 1e-14, "to");
    hr_assert_rel(facts.free_flow_m3_s, 112 * M3H, 1e-9, "free flow");
    test_end(&test);
}
END_TEST

START_TEST(vent_by_its_open_share)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    test_start(&test);
    test_number(&test, &hr_kind_vent, "area", 60e-4);
    test_number(&test, &hr_kind_vent, "open", 0.6);
    test_make(&test, &hr_kind_vent);
    hr_kind_vent.bind(test.part, &in_air, branch);
    test_properties(branch, 20.37 * M3H, TEST_ODD);
    const double speed = 50 * M3H / 60e-4;
    const double zeta = 1.107 * 1.107 / 0.36 + 1;
    hr_assert_rel(test_drop_in(&hr_kind_vent, &test, &in_air, 50 * M3H), zeta * 0.6 * speed * speed, 0.05,
                  "drop");
    test_end(&test);
}
END_TEST

START_TEST(gap_is_a_free_opening)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    test_start(&test);
    test_number(&test, &hr_kind_gap, "area", 20e-4);
    test_make(&test, &hr_kind_gap);
    hr_kind_gap.bind(test.part, &in_air, branch);
    test_properties(branch, 20.37 * M3H, TEST_ODD);
    const double speed = 50 * M3H / 20e-4;
    hr_assert_rel(test_drop_in(&hr_kind_gap, &test, &in_air, 50 * M3H), 1.5 * 0.6 * speed * speed, 0.01,
                  "drop");
    test_end(&test);
    test_start(&test);
    test_fault(&test, &hr_kind_gap, "no-area",
               "part 'x' needs an 'area'; add for instance area: 60 cm2, or give 'points' or 'law'");
    test_end(&test);
}
END_TEST

START_TEST(air_data_are_of_standard_air)
{
    struct test_part test;
    double rows[] = {30 / 3600.0, 6, 60 / 3600.0, 17};
    const struct hr_setting other = {.fluid = &thin, .speed_rpm = NAN};
    test_start(&test);
    test_rows(&test, test_kind_key(&hr_kind_air_filter, "points", HR_FORM_ROWS), rows, 2);
    test_choice(&test, &hr_kind_air_filter, "state", "fouled");
    test_make(&test, &hr_kind_air_filter);
    hr_assert_rel(test_drop_in(&hr_kind_air_filter, &test, &in_air, 30 * M3H), 3 * 6, 1e-13, "standard air");
    const double nu = (1.9165e-5 / 1.02) / (1.8206e-5 / 1.2);
    hr_assert_rel(test_drop_in(&hr_kind_air_filter, &test, &other, 30 * M3H * nu),
                  3 * 6 * 1.02 / 1.2 * nu * nu, 1e-12, "the same Reynolds number");
    test_end(&test);
    test_start(&test);
    test_fault(&test, &hr_kind_air_filter, "no-pressure-drop",
               "part 'x' has no pressure drop; give 'points', 'law', or 'zeta' with 'area'");
    test_end(&test);
}
END_TEST

static Suite *air_suite(void)
{
    Suite *suite = suite_create("part-air");
    TCase *all = tcase_create("air");
    tcase_add_test(all, fans_side_by_side_share_the_flow);
    tcase_add_test(all, air_flows_back_through_a_stopped_fan);
    tcase_add_test(all, all_fans_stopped_only_resist);
    tcase_add_test(all, stalling_fan_says_where_it_rises);
    tcase_add_test(all, vent_by_its_open_share);
    tcase_add_test(all, gap_is_a_free_opening);
    tcase_add_test(all, air_data_are_of_standard_air);
    suite_add_tcase(suite, all);
    return suite;
}

HR_TEST_MAIN(air_suite)
