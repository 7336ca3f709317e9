/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part_test.h"

#include "part/friction.h"

static const double PI = 3.14159265358979323846;

/* Tubes over which all properties must hold. */
static const struct tube_row {
    double bore, length, roughness, zeta, curve_radius;
    const char *friction;
    const char *entrance;
} tube_rows[] = {
    {0.010, 0.15, 0, 0, 0, "churchill", "developed"},
    {0.010, 0.15, 0, 0, 0, "churchill", "developing"},
    {0.010, 0.01, 0, 0, 0, "churchill", "developing"},
    {0.0127, 0.0005, 0, 0, 0, "churchill", "developing"},
    {0.008, 3, 0, 15, 0, "churchill", "developing"},
    {0.008, 90, 0, 0.3, 0, "churchill", "developing"},
    {0.05, 89, 2.6e-4, 2.36, 0, "churchill", "developed"},
    {0.010, 1, 5e-4, 0, 0, "churchill", "developed"},
    {0.010, 1, 0.99e-3, 0, 0, "churchill", "developed"},
    {0.05, 89, 2.6e-4, 0, 0, "colebrook", "developed"},
    {0.05, 89, 2e-3, 0, 0, "colebrook", "developing"},
    {0.05, 89, 0, 0, 0, "haaland", "developed"},
    {0.05, 89, 2e-3, 0, 0, "haaland", "developed"},
    {0.05, 89, 0, 0, 0, "swamee-jain", "developed"},
    {0.05, 89, 2e-3, 0, 0, "swamee-jain", "developed"},
    {0.010, 0.5, 0, 0, 0.020, "churchill", "developed"},
    {0.010, 0.5, 0, 0, 0.050, "churchill", "developing"},
    {0.010, 0.5, 0, 0, 4.9, "churchill", "developed"},
    {0.010, 0.5, 0, 0, 50, "churchill", "developed"},
};

static void tube_of_row(struct test_part *test, const struct tube_row *row)
{
    const struct hr_part_kind *kind = &hr_kind_tube;
    test_start(test);
    test_number(test, kind, "bore", row->bore);
    test_number(test, kind, "length", row->length);
    test_number(test, kind, "roughness", row->roughness);
    test_number(test, kind, "zeta", row->zeta);
    if (row->curve_radius > 0) {
        test_number(test, kind, "curve_radius", row->curve_radius);
    }
    test_choice(test, kind, "friction", row->friction);
    test_choice(test, kind, "entrance", row->entrance);
    test_make(test, kind);
}

START_TEST(tube_law_rises_smoothly)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    tube_of_row(&test, &tube_rows[_i]);
    hr_kind_tube.bind(test.part, &test_setting, branch);
    ck_assert_uint_eq(branch->law_count, 1);
    /* Flow at Re 3000: 9 decades around the transition. */
    const double flow = 3000 * PI / 4 * tube_rows[_i].bore * test_water.viscosity / test_water.density;
    test_properties(branch, flow, TEST_ODD);
    double drop;
    double slope;
    test_branch(branch, 0, &drop, &slope);
    const double hagen =
        128 * test_water.viscosity * tube_rows[_i].length / (PI * pow(tube_rows[_i].bore, 4));
    hr_assert_rel(slope, hagen, 1e-12, "slope at no flow is that of Hagen and Poiseuille");
    test_end(&test);
}
END_TEST

START_TEST(developed_tube_is_churchill_alone)
{
    struct test_part test;
    tube_of_row(&test, &tube_rows[0]);
    for (double re = 3; re < 1e6; re *= 1.7) {
        double friction;
        double slope;
        hr_friction_straight(HR_CHURCHILL, re, 0, &friction, &slope);
        const double flow = re * PI / 4 * 0.010 * test_water.viscosity / test_water.density;
        const double unit = test_water.viscosity * test_water.viscosity / (2 * test_water.density * 1e-4);
        hr_assert_rel(test_drop(&hr_kind_tube, &test, flow), unit * 15 * friction, 1e-13, "drop");
    }
    test_end(&test);
}
END_TEST

START_TEST(curve_radius_is_that_of_the_centre_line)
{
    struct test_part test;
    test_start(&test);
    test_number(&test, &hr_kind_tube, "bore", 0.010);
    test_number(&test, &hr_kind_tube, "length", 0.5);
    test_number(&test, &hr_kind_tube, "curve_radius", 0.05);
    test_choice(&test, &hr_kind_tube, "entrance", "developed");
    test_make(&test, &hr_kind_tube);
    double friction;
    double slope;
    hr_friction_curved(1000, 0.1, &friction, &slope);
    const double flow = 1000 * PI / 4 * 0.010 * test_water.viscosity / test_water.density;
    const double unit = test_water.viscosity * test_water.viscosity / (2 * test_water.density * 1e-4);
    hr_assert_rel(test_drop(&hr_kind_tube, &test, flow), unit * 50 * friction, 1e-13,
                  "bore over coil diameter 0.1");
    test_end(&test);
}
END_TEST

START_TEST(entrance_adds_shahs_excess_and_then_stops_growing)
{
    for (int i = 0; i < 4; i++) {
        const double length = (const double[]){0.05, 3, 15, 400}[i];
        double at_2300;
        double at_4000;
        double later;
        double slope;
        hr_friction_entrance(2300, length, &at_2300, &slope);
        hr_friction_entrance(4000, length, &at_4000, &slope);
        hr_friction_entrance(1e5, length, &later, &slope);
        ck_assert(slope == 0);
        ck_assert(later == at_4000);
        ck_assert(at_4000 > at_2300);
        /* At Re 1e5 it is the small loss of a turbulent entrance. */
        ck_assert(later / 1e10 < 0.005);
        /* A slender tube loses Hagenbach's 1.25 velocity heads. */
        double slow;
        hr_friction_entrance(0.01 * length, length, &slow, &slope);
        hr_assert_rel(slow, 1.25 * pow(0.01 * length, 2), 1e-3, "Hagenbach");
    }
}
END_TEST

START_TEST(turbulent_laws_are_laminar_below_2000)
{
    for (int law = HR_COLEBROOK; law <= HR_SWAMEE_JAIN; law++) {
        double value;
        double slope;
        hr_friction_straight((enum hr_friction)law, 2000, 0.001, &value, &slope);
        hr_assert_rel(value, 128000, 1e-15, "64 Re");
    }
}
END_TEST

START_TEST(tube_numbers_and_facts)
{
    struct test_part test;
    const struct hr_part_kind *kind = &hr_kind_tube;
    test_start(&test);
    test_number(&test, kind, "bore", 0.010);
    test_number(&test, kind, "length", 0.8);
    test_make(&test, kind);
    const double one = test_drop(kind, &test, 2e-5);
    hr_assert_rel(kind->volume(test.part), PI / 4 * 1e-4 * 0.8, 1e-14, "volume");
    hr_assert_rel(kind->bore(test.part, 1), 0.010, 0, "bore");
    struct hr_part_facts facts;
    kind->facts(test.part, &test_setting, -4 / 6e4, &facts);
    hr_assert_rel(facts.reynolds, 10601.0, 1e-5, "Reynolds number of 4 L/min in 10 mm");
    hr_assert_rel(facts.velocity_m_s, 0.848826, 1e-5, "velocity");
    test_number(&test, kind, "in_series", 3);
    test_make(&test, kind);
    hr_assert_rel(test_drop(kind, &test, 2e-5), 3 * one, 1e-14, "three in series");
    hr_assert_rel(kind->volume(test.part), 3 * PI / 4 * 1e-4 * 0.8, 1e-14, "volume of three");
    test.params.count--;
    test_number(&test, kind, "in_parallel", 3);
    test_make(&test, kind);
    hr_assert_rel(test_drop(kind, &test, 6e-5), one, 1e-14, "three side by side");
    test_end(&test);
}
END_TEST

START_TEST(constant_friction_factor_is_quadratic)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    const struct hr_part_kind *kind = &hr_kind_tube;
    test_start(&test);
    test_number(&test, kind, "bore", 0.2);
    test_number(&test, kind, "length", 130);
    test_number(&test, kind, "friction_factor", 0.02);
    test_number(&test, kind, "zeta", 1.5);
    test_make(&test, kind);
    kind->bind(test.part, &test_setting, branch);
    ck_assert(hr_law_is_quadratic(&branch->law[0]));
    /* A textbook tube: no steps to its neighbours' bores. */
    ck_assert(isnan(kind->bore(test.part, 0)));
    const double head = test_water.density / 2 * pow(0.05 / (PI / 4 * 0.04), 2);
    hr_assert_rel(test_drop(kind, &test, 0.05), (0.02 * 130 / 0.2 + 1.5) * head, 1e-13, "drop");
    test_end(&test);
}
END_TEST

START_TEST(developed_tube_has_no_ends)
{
    struct test_part test;
    tube_of_row(&test, &tube_rows[0]);
    ck_assert(isnan(hr_kind_tube.bore(test.part, 0)));
    test_end(&test);
    tube_of_row(&test, &tube_rows[1]);
    hr_assert_rel(hr_kind_tube.bore(test.part, 0), 0.010, 0, "developing");
    test_end(&test);
}
END_TEST

START_TEST(tube_without_length_is_lossless)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    test_start(&test);
    test_number(&test, &hr_kind_tube, "bore", 0.01);
    test_number(&test, &hr_kind_tube, "length", 0);
    test_make(&test, &hr_kind_tube);
    hr_kind_tube.bind(test.part, &test_setting, branch);
    ck_assert_uint_eq(branch->law_count, 0);
    test_end(&test);
}
END_TEST

START_TEST(tube_faults_are_sentences)
{
    struct test_part test;
    test_start(&test);
    test_number(&test, &hr_kind_tube, "bore", 0.01);
    test_number(&test, &hr_kind_tube, "length", 1);
    test_number(&test, &hr_kind_tube, "roughness", 0.002);
    test_fault(&test, &hr_kind_tube, "roughness",
               "part 'x': a roughness of 2 mm in a bore of 10 mm is beyond the friction laws; it must be "
               "below a tenth "
               "of the bore");
    test_end(&test);
    test_start(&test);
    test_number(&test, &hr_kind_tube, "bore", 0.01);
    test_number(&test, &hr_kind_tube, "length", 1);
    test_number(&test, &hr_kind_tube, "curve_radius", 0.004);
    test_fault(&test, &hr_kind_tube, "curve-radius",
               "part 'x': a curve radius of 4 mm is tighter than the bore of 10 mm allows; it must be the "
               "bore at least");
    test_end(&test);
    test_start(&test);
    test_number(&test, &hr_kind_tube, "bore", 0.01);
    test_number(&test, &hr_kind_tube, "length", 1);
    test_number(&test, &hr_kind_tube, "curve_radius", 0.04);
    test_choice(&test, &hr_kind_tube, "friction", "haaland");
    test_fault(&test, &hr_kind_tube, "curve-friction",
               "part 'x': 'curve_radius' has friction laws of its own, for smooth tubes; leave 'friction', "
               "'friction_factor' and 'roughness' out");
    test_end(&test);
}
END_TEST

static Suite *tube_suite(void)
{
    Suite *suite = suite_create("part-tube");
    TCase *laws = tcase_create("laws");
    tcase_add_loop_test(laws, tube_law_rises_smoothly, 0, HR_ARRAY_LEN(tube_rows));
    tcase_add_test(laws, developed_tube_is_churchill_alone);
    tcase_add_test(laws, curve_radius_is_that_of_the_centre_line);
    tcase_add_test(laws, entrance_adds_shahs_excess_and_then_stops_growing);
    tcase_add_test(laws, turbulent_laws_are_laminar_below_2000);
    tcase_add_test(laws, constant_friction_factor_is_quadratic);
    tcase_add_test(laws, developed_tube_has_no_ends);
    tcase_add_test(laws, tube_without_length_is_lossless);
    tcase_add_test(laws, tube_numbers_and_facts);
    tcase_add_test(laws, tube_faults_are_sentences);
    suite_add_tcase(suite, laws);
    return suite;
}

HR_TEST_MAIN(tube_suite)
