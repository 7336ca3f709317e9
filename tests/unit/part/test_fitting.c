/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fittings, bends, tees and orifices. */
#include "part_test.h"

#include "part/orifice.h"

static const double PI = 3.14159265358979323846;

/* Velocity heads at a Reynolds number in a bore. */
static double heads(const struct hr_part_kind *kind, const struct test_part *test, double bore, double re)
{
    const double flow = re * PI / 4 * bore * test_water.viscosity / test_water.density;
    const double speed = flow / (PI / 4 * bore * bore);
    return test_drop(kind, test, flow) / (test_water.density / 2 * speed * speed);
}

START_TEST(fitting_has_a_linear_and_a_square_term)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    const struct hr_part_kind *kind = &hr_kind_fitting;
    test_start(&test);
    test_number(&test, kind, "k1", 640);
    test_number(&test, kind, "k_inf", 0.31);
    test_number(&test, kind, "bore", 0.009);
    test_make(&test, kind);
    kind->bind(test.part, &test_setting, branch);
    ck_assert(hr_law_is_quadratic(&branch->law[0]));
    test_properties(branch, 3e-5, TEST_ODD);
    hr_assert_rel(heads(kind, &test, 0.009, 700), 640.0 / 700 + 0.31 * (1 + 25.4 / 9), 1e-13, "K at Re 700");
    hr_assert_rel(kind->bore(test.part, 0), 0.009, 0, "bore");
    test_end(&test);
}
END_TEST

START_TEST(every_fitting_type_has_its_constants)
{
    const struct hr_part_kind *kind = &hr_kind_fitting;
    const struct hr_key *types = test_kind_key(kind, "type", HR_FORM_CHOICE);
    static const double at_1000[][2] = {
        /* k1/Re + K_inf (1 + 25.4/10); k1/Re + ki (1 + kd/(10/25.4)^0.3) by hand from the tables */
        {0.8 + 0.4 * 3.54, 0.8 + 0.14 * (1 + 4.0 / 0.756048899)},
        {0.8 + 0.2 * 3.54, 0.8 + 0.071 * (1 + 4.2 / 0.756048899)},
        {1 + 1.15 * 3.54, 1 + 0.27 * (1 + 4.0 / 0.756048899)},
        {0.5 + 0.2 * 3.54, 0.5 + 0.071 * (1 + 4.2 / 0.756048899)},
        {0.5 + 0.15 * 3.54, 0.5 + 0.052 * (1 + 4.0 / 0.756048899)},
        {1 + 0.7 * 3.54, 1 + 0.23 * (1 + 4.0 / 0.756048899)},
        {0.2 + 0.1 * 3.54, 0.2 + 0.091 * (1 + 4.0 / 0.756048899)},
        {0.5 + 0.7 * 3.54, 0.5 + 0.274 * (1 + 4.0 / 0.756048899)},
        {0.3 + 0.1 * 3.54, 0.3 + 0.037 * (1 + 3.9 / 0.756048899)},
        {0.3 + 0.1 * 3.54, 0.3 + 0.017 * (1 + 3.5 / 0.756048899)},
        {1.5 + 4.0 * 3.54, 1.5 + 1.7 * (1 + 3.6 / 0.756048899)},
        {1 + 2.0 * 3.54, 1 + 0.69 * (1 + 4.0 / 0.756048899)},
        {1.5 + 1.5 * 3.54, 1.5 + 0.46 * (1 + 4.0 / 0.756048899)},
        {2 + 10.0 * 3.54, 2 + 2.85 * (1 + 3.8 / 0.756048899)},
    };
    for (size_t i = 0; types->choices[i] != NULL; i++) {
        ck_assert_uint_lt(i, HR_ARRAY_LEN(at_1000));
        for (int three = 0; three < 2; three++) {
            struct test_part test;
            test_start(&test);
            test_choice(&test, kind, "type", types->choices[i]);
            test_choice(&test, kind, "method", three ? "3-k" : "2-k");
            test_number(&test, kind, "bore", 0.010);
            test_make(&test, kind);
            hr_assert_rel(heads(kind, &test, 0.010, 1000), at_1000[i][three], 1e-5, types->choices[i]);
            test_end(&test);
        }
    }
}
END_TEST

static const struct {
    const char *method;
    double bore, radius, angle;
} bends[] = {{"ito", 0.010, 0.010, 90},   {"ito", 0.010, 0.015, 90},   {"ito", 0.010, 0.030, 45},
             {"ito", 0.0127, 0.05, 180},  {"ito", 0.010, 0.12, 60},    {"ito", 0.010, 0.6, 90},
             {"crane", 0.010, 0.015, 90}, {"crane", 0.0127, 0.05, 180}};

START_TEST(bend_law_rises_smoothly)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    const struct hr_part_kind *kind = &hr_kind_bend;
    test_start(&test);
    test_number(&test, kind, "bore", bends[_i].bore);
    test_number(&test, kind, "radius", bends[_i].radius);
    test_number(&test, kind, "angle", bends[_i].angle);
    test_choice(&test, kind, "method", bends[_i].method);
    test_make(&test, kind);
    kind->bind(test.part, &test_setting, branch);
    test_properties(branch, 3e-5, TEST_ODD);
    test_end(&test);
}
END_TEST

START_TEST(sharp_bend_is_refused)
{
    struct test_part test;
    test_start(&test);
    test_number(&test, &hr_kind_bend, "bore", 0.010);
    test_number(&test, &hr_kind_bend, "radius", 0.006);
    test_fault(&test, &hr_kind_bend, "bend-radius",
               "part 'x': a radius of 6 mm is below the bore of 10 mm; a sharp turn is a fitting (kind: "
               "fitting, type: "
               "elbow-90-mitre)");
    test_end(&test);
}
END_TEST

START_TEST(fitting_faults_are_sentences)
{
    struct test_part test;
    test_start(&test);
    test_number(&test, &hr_kind_fitting, "k1", 640);
    test_number(&test, &hr_kind_fitting, "bore", 0.010);
    test_fault(&test, &hr_kind_fitting, "no-pressure-drop",
               "part 'x' has no pressure drop; give 'type', or 'k1' with 'k_inf' (or with 'ki' and 'kd'), or "
               "'points', "
               "'law', 'flow_coefficient', or 'zeta' with 'bore'");
    test_end(&test);
    test_start(&test);
    test_choice(&test, &hr_kind_fitting, "type", "elbow-90");
    test_fault(&test, &hr_kind_fitting, "fitting-bore",
               "part 'x' needs the 'bore' that its velocity counts in; add for instance bore: 8 mm");
    test_end(&test);
}
END_TEST

enum { A, B, SIDE };

static void tee(struct test_part *test, const struct hr_part_kind *kind, double side_bore)
{
    test_start(test);
    test_number(test, kind, "bore", 0.010);
    test_number(test, kind, "side_bore", side_bore);
    test_make(test, kind);
}

START_TEST(tee_drops_are_continuous_over_all_splits)
{
    /* Around the circle of all splits of a flow: a = cos, b = cos(+120), side = cos(+240) sum to zero, and
     * every pattern of signs occurs. Fine steps must give small changes of the differences between the legs.
     */
    static const double side_bores[] = {0.010, 0.008, 0.0055};
    const struct hr_part_kind *kinds[] = {&hr_kind_tee, &hr_kind_y};
    const int steps = 20000;
    for (size_t k = 0; k < 6; k++) {
        struct test_part test;
        const struct hr_part_kind *kind = kinds[k % 2];
        tee(&test, kind, side_bores[k / 2]);
        double last[2] = {0, 0};
        double largest = 0;
        double jump = 0;
        for (int i = 0; i <= steps; i++) {
            const double angle = 2 * PI * i / steps;
            const double flow[3] = {1e-4 * cos(angle), 1e-4 * cos(angle + 2 * PI / 3),
                                    1e-4 * cos(angle + 4 * PI / 3)};
            double drop[3];
            kind->split(test.part, &test_setting, flow, drop);
            const double now[2] = {drop[A] - drop[B], drop[A] - drop[SIDE]};
            for (int j = 0; j < 2; j++) {
                largest = fmax(largest, fabs(now[j]));
                jump = i > 0 ? fmax(jump, fabs(now[j] - last[j])) : jump;
                last[j] = now[j];
            }
        }
        ck_assert_msg(jump < 0.01 * largest, "%s with a side of %g mm jumps by %g of %g Pa", kind->name,
                      side_bores[k / 2] * 1e3, jump, largest);
        test_end(&test);
    }
}
END_TEST

START_TEST(tee_loses_power_or_little)
{
    /* Sum of flow in times its drop: the power lost, never negative over the whole tee but for the small gain
     * that the momentum formulas allow. */
    struct test_part test;
    tee(&test, &hr_kind_tee, 0.010);
    for (int i = 0; i < 360; i++) {
        const double angle = 2 * PI * i / 360;
        const double flow[3] = {1e-4 * cos(angle), 1e-4 * cos(angle + 2 * PI / 3),
                                1e-4 * cos(angle + 4 * PI / 3)};
        double drop[3];
        hr_kind_tee.split(test.part, &test_setting, flow, drop);
        const double power = flow[0] * drop[0] + flow[1] * drop[1] + flow[2] * drop[2];
        const double speed = 1e-4 / (PI / 4 * 1e-4);
        ck_assert_msg(power > -0.05 * 1e-4 * test_water.density / 2 * speed * speed, "at %d degrees %g W", i,
                      power);
    }
    test_end(&test);
}
END_TEST

START_TEST(tee_is_at_rest_without_flow_and_has_no_own_law)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    tee(&test, &hr_kind_tee, 0.010);
    const double flow[3] = {0, 0, 0};
    double drop[3] = {1, 1, 1};
    hr_kind_tee.split(test.part, &test_setting, flow, drop);
    ck_assert(drop[0] == 0 && drop[1] == 0 && drop[2] == 0);
    hr_kind_tee.bind(test.part, &test_setting, branch);
    ck_assert(branch[0].law_count == 0 && branch[1].law_count == 0 && branch[2].law_count == 0);
    ck_assert_str_eq(hr_kind_tee.ports[2], "side");
    test_end(&test);
}
END_TEST

START_TEST(side_carries_all)
{
    /* Idelchik's symmetrical tee: dividing evenly 1 + 0.3/4, merging evenly 1 + 1 - 3/4, on the side's
     * velocity. */
    struct test_part test;
    tee(&test, &hr_kind_tee, 0.010);
    const double head = test_water.density / 2 * pow(1e-4 / (PI / 4 * 1e-4), 2);
    double drop[3];
    hr_kind_tee.split(test.part, &test_setting, (const double[]){-5e-5, -5e-5, 1e-4}, drop);
    hr_assert_rel(drop[A], -1.075 * head, 1e-13, "dividing");
    hr_assert_rel(drop[B], -1.075 * head, 1e-13, "dividing");
    ck_assert(drop[SIDE] == 0);
    hr_kind_tee.split(test.part, &test_setting, (const double[]){5e-5, 5e-5, -1e-4}, drop);
    hr_assert_rel(drop[A], 1.25 * head, 1e-13, "merging");
    test_end(&test);
}
END_TEST

START_TEST(tee_faults_are_sentences)
{
    struct test_part test;
    test_start(&test);
    test_number(&test, &hr_kind_tee, "bore", 0.010);
    test_number(&test, &hr_kind_tee, "side_bore", 0.012);
    test_fault(&test, &hr_kind_tee, "tee-bore",
               "part 'x': a side bore of 12 mm is wider than the run's 10 mm; the laws of tees hold up to "
               "equal bores");
    test_end(&test);
    test_start(&test);
    test_number(&test, &hr_kind_y, "bore", 0.010);
    test_number(&test, &hr_kind_y, "in_parallel", 2);
    test_fault(
        &test, &hr_kind_y, "tee-number",
        "part 'x' has three ports, so that 'in_parallel' has no meaning; give every y a name of its own");
    test_end(&test);
}
END_TEST

static const struct {
    double bore, hole, coefficient;
    const char *taps;
    const char *drop;
} orifices[] = {{0.05, 0.01, 0, "corner", "lasting"},
                {0.05, 0.025, 0, "flange", "taps"},
                {0.1, 0.075, 0, "d-and-d/2", "lasting"},
                {0.010, 0.005, 0, "corner", "lasting"},
                {0.04, 0.03, 0.61, "corner", "taps"}};

START_TEST(orifice_law_rises_smoothly)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    const struct hr_part_kind *kind = &hr_kind_orifice;
    test_start(&test);
    test_number(&test, kind, "bore", orifices[_i].bore);
    test_number(&test, kind, "hole", orifices[_i].hole);
    if (orifices[_i].coefficient > 0) {
        test_number(&test, kind, "coefficient", orifices[_i].coefficient);
    }
    test_choice(&test, kind, "taps", orifices[_i].taps);
    test_choice(&test, kind, "drop", orifices[_i].drop);
    test_make(&test, kind);
    kind->bind(test.part, &test_setting, branch);
    test_properties(branch, 5000 * PI / 4 * orifices[_i].bore * test_water.viscosity / test_water.density,
                    TEST_ODD);
    test_end(&test);
}
END_TEST

START_TEST(orifice_marks_what_the_standard_does_not_cover)
{
    struct test_part test;
    struct hr_part_facts facts;
    const struct hr_part_kind *kind = &hr_kind_orifice;
    test_start(&test);
    test_number(&test, kind, "bore", 0.010);
    test_number(&test, kind, "hole", 0.008);
    test_make(&test, kind);
    kind->facts(test.part, &test_setting, 2e-5, &facts);
    ck_assert_uint_eq(facts.range_count, 3);
    ck_assert(facts.range[0].value < facts.range[0].low);
    ck_assert(facts.range[1].value > facts.range[1].high);
    hr_assert_rel(facts.range[2].low, 16000 * 0.64, 1e-14, "least Reynolds number");
    ck_assert(facts.range[2].value < facts.range[2].low);
    test_end(&test);
    test_start(&test);
    test_number(&test, kind, "bore", 0.010);
    test_number(&test, kind, "hole", 0.0095);
    test_fault(&test, kind, "orifice-hole",
               "part 'x': a hole of 9.5 mm in a bore of 10 mm is no orifice plate; the standard holds from a "
               "tenth to "
               "three quarters of the bore");
    test_end(&test);
}
END_TEST

static Suite *fitting_suite(void)
{
    Suite *suite = suite_create("part-fitting");
    TCase *all = tcase_create("fittings");
    tcase_add_test(all, fitting_has_a_linear_and_a_square_term);
    tcase_add_test(all, every_fitting_type_has_its_constants);
    tcase_add_test(all, fitting_faults_are_sentences);
    tcase_add_loop_test(all, bend_law_rises_smoothly, 0, HR_ARRAY_LEN(bends));
    tcase_add_test(all, sharp_bend_is_refused);
    tcase_add_test(all, tee_drops_are_continuous_over_all_splits);
    tcase_add_test(all, tee_loses_power_or_little);
    tcase_add_test(all, tee_is_at_rest_without_flow_and_has_no_own_law);
    tcase_add_test(all, side_carries_all);
    tcase_add_test(all, tee_faults_are_sentences);
    tcase_add_loop_test(all, orifice_law_rises_smoothly, 0, HR_ARRAY_LEN(orifices));
    tcase_add_test(all, orifice_marks_what_the_standard_does_not_cover);
    suite_add_tcase(suite, all);
    return suite;
}

HR_TEST_MAIN(fitting_suite)
