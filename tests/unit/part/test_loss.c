/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The generic forms, by the kind that has nothing else, and the kinds built on them. */
#include "part_test.h"

#include "part/loss.h"

static const double LPM = 1e-3 / 60;
static const double PI = 3.14159265358979323846;

static void with_points(struct test_part *test, const struct hr_part_kind *kind, double rows[], size_t count)
{
    test_start(test);
    test_rows(test, test_kind_key(kind, "points", HR_FORM_ROWS), rows, count);
}

static void with_law(struct test_part *test, const struct hr_part_kind *kind, const struct test_pair pairs[])
{
    test_start(test);
    test_map(test, kind, "law", pairs);
}

static double measured[] = {0.5e-3 / 60, 900, 1e-3 / 60, 3100, 2e-3 / 60, 10900, 4e-3 / 60, 38000};
static double with_zero[] = {0, 0, 0.5e-3 / 60, 900, 1e-3 / 60, 3100, 2e-3 / 60, 10900};
static double late[] = {0, 0, 0.5e-3 / 60, 500, 1e-3 / 60, 3100, 2e-3 / 60, 10900};
static double single[] = {1e-3 / 60, 4000};
static double kinked[] = {1e-3 / 60, 4000, 1.01e-3 / 60, 4001, 2e-3 / 60, 40000, 2.1e-3 / 60, 40010};

static const struct {
    double *rows;
    size_t count;
} points_rows[] = {{measured, 4}, {with_zero, 4}, {single, 1}, {kinked, 4}, {late, 4}};

START_TEST(points_make_a_rising_odd_law)
{
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    with_points(&test, &hr_kind_resistance, points_rows[_i].rows, points_rows[_i].count);
    test_make(&test, &hr_kind_resistance);
    hr_kind_resistance.bind(test.part, &test_setting, branch);
    /* Beside the points: at one of them the curvature jumps, which a difference feels. */
    test_properties(branch, 1.0037 * LPM, TEST_ODD);
    for (size_t i = 0; i < points_rows[_i].count; i++) {
        const double *row = &points_rows[_i].rows[2 * i];
        hr_assert_abs(test_drop(&hr_kind_resistance, &test, row[0]), row[1], 1e-12 * row[1],
                      "through the point");
    }
    test_end(&test);
}
END_TEST

START_TEST(narrow_steps_leave_no_level_piece)
{
    /* Between two steep narrow pieces the interpolant's slopes come near three secants, where the cubic turns
     * level. */
    static double steps[] = {1e-3 / 60, 1000, 1.01e-3 / 60, 2000, 2e-3 / 60, 2100, 2.01e-3 / 60, 3100};
    struct test_part test;
    struct hr_part_branch branch[HR_PORTS_MAX];
    with_points(&test, &hr_kind_resistance, steps, 4);
    test_make(&test, &hr_kind_resistance);
    hr_kind_resistance.bind(test.part, &test_setting, branch);
    const double secant = 100 / (0.99 * LPM);
    for (double flow = 1.01 * LPM; flow < 2 * LPM; flow += 0.01 * LPM) {
        double drop;
        double slope;
        test_branch(branch, flow, &drop, &slope);
        ck_assert_msg(slope > 0.06 * secant, "%g of the secant at %g L/min", slope / secant, flow / LPM);
    }
    test_end(&test);
}
END_TEST

START_TEST(points_go_on_with_the_last_exponent)
{
    struct test_part test;
    with_points(&test, &hr_kind_resistance, measured, 4);
    test_make(&test, &hr_kind_resistance);
    struct hr_part_branch branch[HR_PORTS_MAX];
    hr_kind_resistance.bind(test.part, &test_setting, branch);
    double drop;
    double slope;
    test_branch(branch, 4 * LPM, &drop, &slope);
    const double exponent = slope * 4 * LPM / drop;
    ck_assert(exponent > 1.5 && exponent < 2.1);
    hr_assert_rel(test_drop(&hr_kind_resistance, &test, 12 * LPM), 38000 * pow(3, exponent), 1e-12, "beyond");
    struct hr_part_facts facts;
    hr_kind_resistance.facts(test.part, &test_setting, -5 * LPM, &facts);
    ck_assert_uint_eq(facts.range_count, 1);
    ck_assert_str_eq(facts.range[0].what, "flow");
    hr_assert_rel(facts.range[0].low, 0.5 * LPM, 1e-15, "least measured flow");
    hr_assert_rel(facts.range[0].high, 4 * LPM, 1e-15, "largest measured flow");
    hr_assert_rel(facts.range[0].value, 5 * LPM, 1e-15, "flow asked about");
    test_end(&test);
}
END_TEST

START_TEST(law_forms)
{
    static const struct {
        struct test_pair pairs[4];
        double flow, drop;
    } rows[] = {
        {{{"r", 2e9}, {"n", 2}, {NULL, 0}}, 3e-5, 2e9 * 9e-10},
        {{{"r", 4e7}, {"n", 1.75}, {NULL, 0}}, 3e-5, 0.4864320557},
        {{{"linear", 1.3e7}, {"square", 2e9}, {NULL, 0}}, -3e-5, -1.3e7 * 3e-5 - 2e9 * 9e-10},
        {{{"linear", 1.3e7}, {NULL, 0}}, 3e-5, 1.3e7 * 3e-5},
        {{{"dp", 6000}, {"at", 6.309e-5}, {"exponent", 1.8}, {NULL, 0}}, 2 * 6.309e-5, 6000 * 3.48220},
        {{{"dp", 6000}, {"at", 6.309e-5}, {NULL, 0}}, 2 * 6.309e-5, 24000},
    };
    for (size_t i = 0; i < HR_ARRAY_LEN(rows); i++) {
        struct test_part test;
        with_law(&test, &hr_kind_resistance, rows[i].pairs);
        test_make(&test, &hr_kind_resistance);
        hr_assert_rel(test_drop(&hr_kind_resistance, &test, rows[i].flow), rows[i].drop, 1e-5, "drop");
        test_end(&test);
    }
}
END_TEST

START_TEST(zeta_and_flow_coefficient)
{
    struct test_part test;
    test_start(&test);
    test_number(&test, &hr_kind_resistance, "zeta", 1.5);
    test_number(&test, &hr_kind_resistance, "bore", 0.008);
    test_make(&test, &hr_kind_resistance);
    const double speed = 5e-5 / (PI / 4 * 0.008 * 0.008);
    hr_assert_rel(test_drop(&hr_kind_resistance, &test, 5e-5), 1.5 * test_water.density / 2 * speed * speed,
                  1e-13, "velocity heads");
    struct hr_part_facts facts;
    hr_kind_resistance.facts(test.part, &test_setting, 5e-5, &facts);
    hr_assert_rel(facts.velocity_m_s, speed, 1e-14, "velocity");
    test_end(&test);
    /* 1 m3/h at 1 bar of water at 15 degC is a Kv of 1. */
    test_start(&test);
    test_number(&test, &hr_kind_resistance, "flow_coefficient", 1 / 3600.0 / sqrt(1e5));
    test_make(&test, &hr_kind_resistance);
    hr_assert_rel(test_drop(&hr_kind_resistance, &test, 1 / 3600.0), 1e5 * test_water.density / 999.1, 1e-13,
                  "Kv 1");
    test_end(&test);
}
END_TEST

START_TEST(series_and_parallel)
{
    struct test_part test;
    with_points(&test, &hr_kind_resistance, measured, 4);
    test_number(&test, &hr_kind_resistance, "in_series", 3);
    test_make(&test, &hr_kind_resistance);
    hr_assert_rel(test_drop(&hr_kind_resistance, &test, LPM), 3 * 3100, 1e-13, "in series");
    test_end(&test);
    with_points(&test, &hr_kind_resistance, measured, 4);
    test_number(&test, &hr_kind_resistance, "in_parallel", 4);
    test_make(&test, &hr_kind_resistance);
    hr_assert_rel(test_drop(&hr_kind_resistance, &test, 4 * LPM), 3100, 1e-13, "in parallel");
    struct hr_part_facts facts;
    hr_kind_resistance.facts(test.part, &test_setting, 4 * LPM, &facts);
    hr_assert_rel(facts.range[0].value, LPM, 1e-14, "each has a quarter");
    test_end(&test);
}
END_TEST

START_TEST(measured_with_another_fluid_is_similar)
{
    /* dp / (rho nu^2) is one function of q / nu. */
    struct test_part test;
    const struct hr_part_kind *kind = &hr_kind_resistance;
    with_points(&test, kind, measured, 4);
    struct hr_params *map =
        test_map(&test, kind, "measured_with", (const struct test_pair[]){{"temperature", 25}, {NULL, 0}});
    const struct hr_key *fluid_key =
        test_key(test_kind_key(kind, "measured_with", HR_FORM_MAP)->sub, "fluid", HR_FORM_CHOICE);
    map->value[map->count++] = (struct hr_value){.key = fluid_key, .text = "water"};
    test_make(&test, kind);
    struct hr_fluid_state at_25;
    ck_assert(hr_fluid_at(&(struct hr_fluid){.kind = HR_WATER}, 25, 101325, &at_25));
    const struct hr_setting same = {.fluid = &at_25, .speed_rpm = NAN};
    hr_assert_rel(test_drop_in(kind, &test, &same, LPM), 3100, 1e-13, "the fluid of the measurement");
    const struct hr_fluid_state thick = {.temperature_c = 20, .density = 1024, .viscosity = 2.965e-3};
    const struct hr_setting other = {.fluid = &thick, .speed_rpm = NAN};
    const double nu = (thick.viscosity / thick.density) / (at_25.viscosity / at_25.density);
    hr_assert_rel(test_drop_in(kind, &test, &other, LPM * nu), 3100 * thick.density / at_25.density * nu * nu,
                  1e-12, "the same Reynolds number");
    struct hr_part_branch branch[HR_PORTS_MAX];
    kind->bind(test.part, &other, branch);
    test_properties(branch, LPM, TEST_ODD);
    test_end(&test);
}
END_TEST

START_TEST(faults_are_sentences)
{
    struct test_part test;
    const struct hr_part_kind *kind = &hr_kind_resistance;
    test_start(&test);
    test_fault(
        &test, kind, "no-pressure-drop",
        "part 'x' has no pressure drop; give 'points', 'law', 'flow_coefficient', or 'zeta' with 'bore'");
    test_end(&test);
    test_start(&test);
    test_number(&test, kind, "zeta", 2);
    test_fault(&test, kind, "zeta-bore",
               "part 'x': 'zeta' needs the bore whose velocity it counts; add for instance bore: 8 mm");
    test_end(&test);
    double falling[] = {0.5e-3 / 60, 900, 1e-3 / 60, 3100, 2e-3 / 60, 3000};
    with_points(&test, kind, falling, 3);
    test_fault(&test, kind, "points-not-rising",
               "part 'x': row 3 of 'points' (2 L/min, 3 kPa) does not rise over the row before (1 L/min, 3.1 "
               "kPa); flow "
               "and pressure drop must both rise from row to row");
    test_end(&test);
    double lifted[] = {0, 500, 1e-3 / 60, 3100};
    with_points(&test, kind, lifted, 2);
    test_fault(&test, kind, "points-not-rising",
               "part 'x': row 1 of 'points' (0 L/min, 0.5 kPa) does not rise over no flow (0 L/min, 0 kPa); "
               "flow and "
               "pressure drop must both rise from row to row");
    test_end(&test);
    double nothing[] = {0, 0};
    with_points(&test, kind, nothing, 1);
    test_fault(
        &test, kind, "few-points",
        "part 'x': 'points' has no row with flow; give at least one row above zero, better three or more");
    test_end(&test);
    with_law(&test, kind, (const struct test_pair[]){{"r", 2e9}, {"dp", 100}, {NULL, 0}});
    test_fault(&test, kind, "law-form",
               "part 'x': 'law' mixes or lacks numbers; write {r: 2e9, n: 2}, or {linear: 1e7, square: 2e9}, "
               "or {dp: 60 "
               "mbar, at: 1 gpm, exponent: 1.8}");
    test_end(&test);
    with_law(&test, kind, (const struct test_pair[]){{"linear", -2}, {"square", 3}, {NULL, 0}});
    test_fault(
        &test, kind, "law-sign",
        "part 'x': 'law' gives no pressure drop that rises with the flow; its numbers must be positive");
    test_end(&test);
}
END_TEST

START_TEST(fouling_multiplies_the_drop)
{
    const struct hr_part_kind *kind = &hr_kind_filter;
    static const double shares[] = {0, 0.25, 1};
    static const double factors[] = {1, 1.5, 3};
    for (size_t i = 0; i < 3; i++) {
        struct test_part test;
        with_points(&test, kind, measured, 4);
        test_number(&test, kind, "fouling", shares[i]);
        test_number(&test, kind, "fouled_factor", 3);
        test_make(&test, kind);
        hr_assert_rel(test_drop(kind, &test, LPM), factors[i] * 3100, 1e-13, "fouled");
        test_end(&test);
    }
    struct test_part test;
    with_points(&test, kind, measured, 4);
    test_choice(&test, kind, "state", "fouled");
    test_make(&test, kind);
    hr_assert_rel(test_drop(kind, &test, LPM), 5 * 3100, 1e-13, "fouled by default");
    test_end(&test);
}
END_TEST

START_TEST(valve_follows_its_characteristic)
{
    static const struct {
        const char *characteristic;
        double opening, share;
    } rows[] = {{"linear", 1, 1},
                {"linear", 0.4, 0.4},
                {"quick", 0.36, 0.6},
                {"equal-percentage", 1, 1},
                {"equal-percentage", 0.5, 0.1414213562373095}};
    const struct hr_part_kind *kind = &hr_kind_valve;
    for (size_t i = 0; i < HR_ARRAY_LEN(rows); i++) {
        struct test_part test;
        with_points(&test, kind, measured, 4);
        test_choice(&test, kind, "characteristic", rows[i].characteristic);
        test_number(&test, kind, "opening", rows[i].opening);
        test_make(&test, kind);
        hr_assert_rel(test_drop(kind, &test, LPM), 3100 / (rows[i].share * rows[i].share), 1e-12, "drop");
        test_end(&test);
    }
}
END_TEST

START_TEST(shut_valve_and_parted_coupling_are_closed)
{
    struct hr_part_branch branch[HR_PORTS_MAX];
    struct test_part test;
    with_points(&test, &hr_kind_valve, measured, 4);
    test_number(&test, &hr_kind_valve, "opening", 0);
    test_make(&test, &hr_kind_valve);
    hr_kind_valve.bind(test.part, &test_setting, branch);
    ck_assert(branch->closed);
    test_end(&test);
    for (int connected = 0; connected < 2; connected++) {
        with_points(&test, &hr_kind_quick_disconnect, measured, 4);
        test_number(&test, &hr_kind_quick_disconnect, "connected", connected);
        test_make(&test, &hr_kind_quick_disconnect);
        hr_kind_quick_disconnect.bind(test.part, &test_setting, branch);
        ck_assert(branch->closed == (connected == 0));
        ck_assert_uint_eq(branch->law_count, connected == 0 ? 0 : 1);
        test_end(&test);
    }
}
END_TEST

START_TEST(one_way_valve_opens_at_its_pressure)
{
    const struct hr_part_kind *kind = &hr_kind_one_way_valve;
    struct hr_part_branch branch[HR_PORTS_MAX];
    struct test_part test;
    with_points(&test, kind, measured, 4);
    test_number(&test, kind, "opening_pressure", 1700);
    test_number(&test, kind, "in_series", 2);
    test_make(&test, kind);
    kind->bind(test.part, &test_setting, branch);
    ck_assert(branch->one_way);
    hr_assert_rel(test_drop(kind, &test, 0), 3400, 1e-15, "at no flow");
    hr_assert_rel(test_drop(kind, &test, LPM), 2 * (1700 + 3100), 1e-13, "open");
    test_end(&test);
}
END_TEST

START_TEST(meter_says_below_which_flow_it_reads_nothing)
{
    const struct hr_part_kind *kind = &hr_kind_flow_meter;
    struct hr_part_facts facts;
    struct test_part test;
    with_points(&test, kind, measured, 4);
    test_number(&test, kind, "reading_min", 0.7 * LPM);
    test_make(&test, kind);
    kind->facts(test.part, &test_setting, 0.6 * LPM, &facts);
    ck_assert_uint_eq(facts.range_count, 2);
    ck_assert_str_eq(facts.range[1].what, "reading");
    hr_assert_rel(facts.range[1].low, 0.7 * LPM, 1e-15, "least reading");
    test_end(&test);
}
END_TEST

START_TEST(reservoir_without_form_has_the_loss_of_its_ports)
{
    const struct hr_part_kind *kind = &hr_kind_reservoir;
    struct hr_part_branch branch[HR_PORTS_MAX];
    struct test_part test;
    test_start(&test);
    test_number(&test, kind, "volume", 2e-4);
    test_make(&test, kind);
    kind->bind(test.part, &test_setting, branch);
    ck_assert_uint_eq(branch->law_count, 0);
    hr_assert_rel(kind->volume(test.part), 2e-4, 0, "volume");
    test_number(&test, kind, "bore", 0.008);
    test_make(&test, kind);
    const double speed = 5e-5 / (PI / 4 * 0.008 * 0.008);
    hr_assert_rel(test_drop(kind, &test, 5e-5), 1.5 * test_water.density / 2 * speed * speed, 1e-13, "ports");
    test_end(&test);
}
END_TEST

static Suite *loss_suite(void)
{
    Suite *suite = suite_create("part-loss");
    TCase *forms = tcase_create("forms");
    tcase_add_loop_test(forms, points_make_a_rising_odd_law, 0, HR_ARRAY_LEN(points_rows));
    tcase_add_test(forms, narrow_steps_leave_no_level_piece);
    tcase_add_test(forms, points_go_on_with_the_last_exponent);
    tcase_add_test(forms, law_forms);
    tcase_add_test(forms, zeta_and_flow_coefficient);
    tcase_add_test(forms, series_and_parallel);
    tcase_add_test(forms, measured_with_another_fluid_is_similar);
    tcase_add_test(forms, faults_are_sentences);
    suite_add_tcase(suite, forms);
    TCase *kinds = tcase_create("kinds");
    tcase_add_test(kinds, fouling_multiplies_the_drop);
    tcase_add_test(kinds, valve_follows_its_characteristic);
    tcase_add_test(kinds, shut_valve_and_parted_coupling_are_closed);
    tcase_add_test(kinds, one_way_valve_opens_at_its_pressure);
    tcase_add_test(kinds, meter_says_below_which_flow_it_reads_nothing);
    tcase_add_test(kinds, reservoir_without_form_has_the_loss_of_its_ports);
    suite_add_tcase(suite, kinds);
    return suite;
}

HR_TEST_MAIN(loss_suite)
