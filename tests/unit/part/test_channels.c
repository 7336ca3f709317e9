/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blocks and radiators whose drop follows from their geometry, and the air side. */
#include "part_test.h"

#include "part/friction.h"

static const double LPM = 1e-3 / 60;

static const struct test_pair fine[] = {
    {"channels", 60},      {"channel_width", 0.0003}, {"channel_height", 0.002},
    {"length", 0.025},     {"fin_thickness", 0.0001}, {"slot_width", 0.001},
    {"slot_length", 0.02}, {"port_bore", 0.008},      {NULL, 0}};

static const struct test_pair slim[] = {
    {"tubes", 16},    {"tube_height", 0.0018}, {"tube_width", 0.016}, {"tube_wall", 0.00025},
    {"length", 0.24}, {"passes", 2},           {"port_bore", 0.009},  {NULL, 0}};

/* A channel as a law of its own, flow standing for the Reynolds number. */
static void channel_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    double value;
    hr_channel_friction(law->data, fabs(flow), &value, slope);
    *drop = copysign(value, flow);
}

START_TEST(channel_runs_from_laminar_to_turbulent)
{
    static const double aspects[] = {0.05, 0.3, 1};
    static const double lengths[] = {0.5, 30, 2000};
    const struct hr_channel channel = hr_channel_make(aspects[_i / 3], lengths[_i % 3]);
    const struct hr_part_branch branch = {.law = {{.evaluate = channel_law, .data = &channel}},
                                          .law_count = 1};
    test_properties(&branch, 3000, TEST_ODD);
}
END_TEST

START_TEST(slow_channel_has_the_developed_friction_of_a_duct)
{
    /* f Re of a square duct is 56.908 (Darcy, hydraulic diameter; Shah and London 1978); the closed form
     * keeps one term of the series and is 0.7 % low there. */
    const struct hr_channel channel = hr_channel_make(1, 50);
    double value;
    double slope;
    hr_channel_friction(&channel, 1e-6, &value, &slope);
    hr_assert_rel(value / (50 * 1e-6), 56.908, 7e-3, "square duct");
}
END_TEST

START_TEST(block_by_geometry_rises_smoothly)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    const struct hr_part_kind *kind = &hr_kind_block;
    test_start(&test);
    test_map(&test, kind, "geometry", fine);
    test_make(&test, kind);
    kind->bind(test.part, &test_setting, branch);
    test_properties(branch, LPM, TEST_ODD);
    /* A fine-finned block takes 40 to 140 mbar at 1 gpm (common practice); 0.3 mm channels belong to its
     * middle. */
    const double drop = test_drop(kind, &test, 3.785 * LPM);
    ck_assert_msg(drop > 3000 && drop < 20000, "%g Pa at 1 gpm", drop);
    struct hr_part_facts facts;
    kind->facts(test.part, &test_setting, 3.785 * LPM, &facts);
    hr_assert_rel(facts.velocity_m_s, 3.785 * LPM / (60 * 0.0003 * 0.002), 1e-13, "velocity in a channel");
    hr_assert_rel(facts.reynolds,
                  facts.velocity_m_s * 2 * 0.0003 * 0.002 / 0.0023 * test_water.density /
                      test_water.viscosity,
                  1e-12, "Reynolds number in a channel");
    ck_assert(facts.note != NULL);
    hr_assert_rel(kind->volume(test.part), 60 * 0.0003 * 0.002 * 0.025, 1e-13, "volume of the channels");
    test_end(&test);
}
END_TEST

START_TEST(centre_feed_halves_path_and_flow)
{
    /* Without local losses and slow enough to be developed: a quarter of the drop. */
    const struct test_pair bare[] = {
        {"channels", 60}, {"channel_width", 0.0003}, {"channel_height", 0.002}, {"length", 0.025}, {NULL, 0}};
    double drops[2];
    for (int centre = 0; centre < 2; centre++) {
        struct test_part test;
        test_start(&test);
        struct hr_params *map = test_map(&test, &hr_kind_block, "geometry", bare);
        const struct hr_key *feed =
            test_key(test_kind_key(&hr_kind_block, "geometry", HR_FORM_MAP)->sub, "feed", HR_FORM_CHOICE);
        map->value[map->count++] = (struct hr_value){.key = feed, .text = centre ? "centre" : "end"};
        test_make(&test, &hr_kind_block);
        drops[centre] = test_drop(&hr_kind_block, &test, 1e-6 * LPM);
        test_end(&test);
    }
    hr_assert_rel(drops[1], drops[0] / 4, 1e-4, "centre");
}
END_TEST

START_TEST(local_losses_add_up)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    const double pi = 3.14159265358979323846;
    test_start(&test);
    test_map(&test, &hr_kind_block, "geometry", fine);
    test_make(&test, &hr_kind_block);
    hr_kind_block.bind(test.part, &test_setting, branch);
    ck_assert(hr_law_is_quadratic(&branch->law[1]));
    double drop;
    double slope;
    hr_law_evaluate(&branch->law[1], LPM, &drop, &slope);
    /* Channels open by three quarters: 0.42 (1 - 0.75^2) + 0.25^2; slot 1.5; ports 2.5. */
    const double channels = LPM / (60 * 0.0003 * 0.002);
    const double slot = LPM / (0.001 * 0.02);
    const double port = LPM / (pi / 4 * 0.008 * 0.008);
    const double expected =
        test_water.density / 2 * (0.24625 * channels * channels + 1.5 * slot * slot + 2.5 * port * port);
    hr_assert_rel(drop, expected, 1e-12, "block");
    test_end(&test);
    test_start(&test);
    test_map(&test, &hr_kind_radiator, "geometry", slim);
    test_make(&test, &hr_kind_radiator);
    hr_kind_radiator.bind(test.part, &test_setting, branch);
    hr_law_evaluate(&branch->law[1], LPM, &drop, &slope);
    /* Each of two passes 0.42 + 1 in eight tubes; ports 1.5. */
    const double tubes = LPM / (8 * 0.0013 * 0.0155);
    const double ports = LPM / (pi / 4 * 0.009 * 0.009);
    hr_assert_rel(drop, test_water.density / 2 * (2 * 1.42 * tubes * tubes + 1.5 * ports * ports), 1e-12,
                  "radiator");
    test_end(&test);
}
END_TEST

START_TEST(two_passes_double_path_and_velocity)
{
    double drops[2];
    for (int passes = 1; passes <= 2; passes++) {
        struct test_part test;
        test_start(&test);
        struct hr_params *map = test_map(&test, &hr_kind_radiator, "geometry", slim);
        map->value[5].number = passes;
        test_make(&test, &hr_kind_radiator);
        drops[passes - 1] = test_drop(&hr_kind_radiator, &test, 1e-6 * LPM);
        test_end(&test);
    }
    hr_assert_rel(drops[1], 4 * drops[0], 1e-4, "slow laminar flow: four times");
}
END_TEST

START_TEST(measured_points_win_over_geometry)
{
    struct test_part test;
    double rows[] = {1e-3 / 60, 4000, 2e-3 / 60, 15000};
    test_start(&test);
    test_map(&test, &hr_kind_block, "geometry", fine);
    test_rows(&test, test_kind_key(&hr_kind_block, "points", HR_FORM_ROWS), rows, 2);
    test_make(&test, &hr_kind_block);
    hr_assert_rel(test_drop(&hr_kind_block, &test, LPM), 4000, 1e-13, "measured");
    test_end(&test);
}
END_TEST

START_TEST(radiator_by_geometry_rises_smoothly)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    const struct hr_part_kind *kind = &hr_kind_radiator;
    test_start(&test);
    test_map(&test, kind, "geometry", slim);
    test_make(&test, kind);
    kind->bind(test.part, &test_setting, branch);
    test_properties(branch, LPM, TEST_ODD);
    /* Common practice for a slim two-fan radiator with two passes: 14 to 35 mbar at 1 gpm. */
    const double drop = test_drop(kind, &test, 3.785 * LPM);
    ck_assert_msg(drop > 1000 && drop < 5000, "%g Pa at 1 gpm", drop);
    hr_assert_rel(kind->volume(test.part), 16 * 0.0013 * 0.0155 * 0.24, 1e-12, "volume of the tubes");
    test_end(&test);
}
END_TEST

START_TEST(fin_side_of_a_radiator_is_air)
{
    struct test_part test;
    struct hr_part_branch branch = {0};
    const struct hr_part_kind *kind = &hr_kind_radiator;
    const struct hr_fluid_state air = {.temperature_c = 20, .density = 1.2, .viscosity = 1.8206e-5};
    const struct hr_setting setting = {.fluid = &air, .speed_rpm = NAN};
    double rows[] = {60 / 3600.0, 8, 120 / 3600.0, 21};
    test_start(&test);
    test_map(&test, kind, "geometry", slim);
    struct hr_params *map = test_map(&test, kind, "air_side", (const struct test_pair[]){{NULL, 0}});
    test_map_rows(kind, "air_side", map, "points", rows, 2);
    test_make(&test, kind);
    kind->bind_air(test.part, &setting, &branch);
    double drop;
    double slope;
    test_branch(&branch, 60 / 3600.0, &drop, &slope);
    hr_assert_rel(drop, 8, 1e-13, "in standard air");
    test_properties(&branch, 63.7 / 3600.0, TEST_ODD);
    test_end(&test);
}
END_TEST

START_TEST(geometry_faults_are_sentences)
{
    struct test_part test;
    test_start(&test);
    struct hr_params *map = test_map(&test, &hr_kind_radiator, "geometry", slim);
    map->value[5].number = 3;
    test_fault(&test, &hr_kind_radiator, "passes", "part 'x': 16 tubes cannot be shared evenly by 3 passes");
    test_end(&test);
    test_start(&test);
    map = test_map(&test, &hr_kind_radiator, "geometry", slim);
    map->value[3].number = 0.001;
    test_fault(&test, &hr_kind_radiator, "tube-wall",
               "part 'x': walls of 1 mm leave no room inside the tubes; 'tube_height' and 'tube_width' are "
               "outer sizes");
    test_end(&test);
    test_start(&test);
    map = test_map(&test, &hr_kind_block, "geometry", fine);
    map->value[6].number = 0;
    test_fault(&test, &hr_kind_block, "slot",
               "part 'x': a jet slot needs both 'slot_width' and 'slot_length'");
    test_end(&test);
}
END_TEST

static Suite *channel_suite(void)
{
    Suite *suite = suite_create("part-channels");
    TCase *all = tcase_create("channels");
    tcase_add_loop_test(all, channel_runs_from_laminar_to_turbulent, 0, 9);
    tcase_add_test(all, slow_channel_has_the_developed_friction_of_a_duct);
    tcase_add_test(all, block_by_geometry_rises_smoothly);
    tcase_add_test(all, centre_feed_halves_path_and_flow);
    tcase_add_test(all, local_losses_add_up);
    tcase_add_test(all, two_passes_double_path_and_velocity);
    tcase_add_test(all, measured_points_win_over_geometry);
    tcase_add_test(all, radiator_by_geometry_rises_smoothly);
    tcase_add_test(all, fin_side_of_a_radiator_is_air);
    tcase_add_test(all, geometry_faults_are_sentences);
    suite_add_tcase(suite, all);
    return suite;
}

HR_TEST_MAIN(channel_suite)
