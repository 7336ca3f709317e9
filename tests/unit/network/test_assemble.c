/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a loop file to numbers: references, fittings, steps of bore, heights, tees, loops, remarks; against
 * closed forms. */
#include "hr_test.h"
#include "loop_text.h"
#include "study/study.h"

#include <string.h>

#define IDEAL "  pump: {kind: pump, flow: 3 L/min}\n"
#define GIVEN                                                                                                \
    "coolant: {fluid: given, density: 987 kg/m3, viscosity: 0.7 mPa s, heat_capacity: 4.18 kJ/kgK, "         \
    "conductivity: 0.6 W/mK}\n"

static const double DENSITY = 987.0;
static const double FLOW = 3.0 / 6e4;
static const double PI = 3.14159265358979323846;

static double velocity_head(double bore)
{
    const double v = FLOW / (0.25 * PI * bore * bore);
    return 0.5 * DENSITY * v * v;
}

START_TEST(a_given_flow_goes_through_every_part)
{
    struct hr_result *r =
        loop_solve(GIVEN "tubing: none\nparts:\n" IDEAL
                         "  a: {kind: resistance, zeta: 2.3, bore: 7 mm}\n  tank: {kind: reservoir}\n"
                         "route: [tank, pump, a]\n",
                   HR_OK);
    hr_assert_rel(loop_branch(r, "a")->flow_m3_s, FLOW, 1e-12, "flow");
    hr_assert_rel(loop_branch(r, "a")->dp_pa, 2.3 * velocity_head(7e-3), 1e-12, "drop");
    hr_assert_rel(loop_branch(r, "pump")->dp_pa, -2.3 * velocity_head(7e-3), 1e-12, "lift");
    hr_assert_rel(loop_branch(r, "a")->mass_flow_kg_s, FLOW * DENSITY, 1e-12, "mass flow");
    hr_result_free(r);
}
END_TEST

START_TEST(the_reservoir_holds_the_reference_at_its_outlet)
{
    struct hr_result *r = loop_solve(
        GIVEN
        "tubing: none\nparts:\n" IDEAL "  a: {kind: resistance, law: {linear: 1e8, square: 0}}\n"
        "  tank: {kind: reservoir, pressure: 4 kPa, law: {linear: 2e7, square: 0}}\nroute: [tank, pump, a]\n",
        HR_OK);
    hr_assert_abs(loop_node(r, "tank.out")->pressure_pa, 4000.0, 1e-9, "reference");
    hr_assert_rel(loop_node(r, "tank.in")->pressure_pa, 4000.0 + 2e7 * FLOW, 1e-12, "before the reservoir");
    hr_assert_rel(loop_node(r, "pump.out")->pressure_pa, 4000.0 + 1.2e8 * FLOW, 1e-12, "behind the pump");
    hr_result_free(r);
}
END_TEST

START_TEST(without_a_reservoir_the_pump_inlet_is_zero)
{
    struct hr_result *r =
        loop_solve(GIVEN "tubing: none\nparts:\n" IDEAL
                         "  a: {kind: resistance, law: {linear: 1e8, square: 0}}\nroute: [pump, a]\n",
                   HR_OK);
    hr_assert_abs(loop_node(r, "pump.in")->pressure_pa, 0.0, 1e-9, "pump inlet");
    hr_result_free(r);
}
END_TEST

/* Fittings of a run add up; the tube itself is made short and wide so that only they count. */
START_TEST(fittings_of_a_run_add_up)
{
    const char *text = GIVEN "tubing: none\nparts:\n" IDEAL "  tank: {kind: reservoir}\nroute: [tank, pump]\n"
                             "runs:\n  - {from: pump.out, to: tank.in, bore: 10 mm, length: 0 mm, zeta: 1.5,"
                             " entrance: developed%s}\n";
    char with[1000];
    char without[1000];
    (void)snprintf(with, sizeof with, text, ", fittings: {elbow-90: 3}");
    (void)snprintf(without, sizeof without, text, "");
    struct hr_result *a = loop_solve(with, HR_OK);
    struct hr_result *b = loop_solve(without, HR_OK);
    hr_assert_rel(loop_branch(b, "run-1")->dp_pa, 1.5 * velocity_head(10e-3), 1e-12, "zeta alone");
    const double elbows = loop_branch(a, "run-1")->dp_pa - loop_branch(b, "run-1")->dp_pa;
    ck_assert_msg(elbows > 3.0 * 100.0 && elbows < 3.0 * 800.0, "three elbows take %g Pa", elbows);
    hr_result_free(a);
    hr_result_free(b);
}
END_TEST

/* A tube of 12 mm between two of 8 mm: the steps lose (1 - b^2)^2 and 0.5 (1 - b^2) velocity heads of 8 mm.
 */
START_TEST(steps_of_the_bore_are_counted)
{
    const char *text =
        GIVEN "tubing: none\nparts:\n" IDEAL "  tank: {kind: reservoir}\nroute: {open: [Z, tank, pump, A]}\n"
              "runs:\n"
              "  - {name: one, from: A, to: B, bore: 8 mm, length: 0 mm}\n"
              "  - {name: two, from: B, to: C, bore: 12 mm, length: 0 mm%s}\n"
              "  - {name: three, from: C, to: Z, bore: 8 mm, length: 0 mm}\n";
    char wide[1000];
    (void)snprintf(wide, sizeof wide, text, "");
    struct hr_result *r = loop_solve(wide, HR_OK);
    const double b2 = 64.0 / 144.0;
    const double expected = ((1.0 - b2) * (1.0 - b2) + 0.5 * (1.0 - b2)) * velocity_head(8e-3);
    hr_assert_rel(-loop_branch(r, "pump")->dp_pa, expected, 1e-9, "both steps");
    hr_result_free(r);
    /* A developed tube is a piece of a longer one and has no ends of its own. */
    (void)snprintf(wide, sizeof wide, text, ", entrance: developed");
    r = loop_solve(wide, HR_OK);
    hr_assert_abs(loop_branch(r, "pump")->dp_pa, 0.0, 1e-9, "no steps beside a developed tube");
    hr_result_free(r);
}
END_TEST

START_TEST(heights_move_pressures_and_not_flows)
{
    const char *text =
        GIVEN "tubing: none\nparts:\n" IDEAL "  a: {kind: resistance, law: {linear: 1e8, square: 0}}\n"
              "  tank: {kind: reservoir}\nroute: [tank, pump, a]\n%s";
    char high[1000];
    char level[1000];
    (void)snprintf(high, sizeof high, text, "heights: {a.in: 0.31 m}\n");
    (void)snprintf(level, sizeof level, text, "");
    struct hr_result *h = loop_solve(high, HR_OK);
    struct hr_result *l = loop_solve(level, HR_OK);
    const char *node = loop_branch(h, "a")->from;
    hr_assert_rel(loop_branch(h, "a")->dp_pa, loop_branch(l, "a")->dp_pa, 1e-12, "the law's drop");
    hr_assert_abs(loop_node(h, node)->pressure_pa, loop_node(l, node)->pressure_pa - DENSITY * 9.80665 * 0.31,
                  1e-6, "gauge pressure at the height");
    hr_result_free(h);
    hr_result_free(l);
}
END_TEST

/* Open network: a head of 2 m against a linear resistance. */
START_TEST(feeds_give_pressures_and_flows)
{
    struct hr_result *r = loop_solve(
        GIVEN "runs:\n  - {name: AB, from: A, to: B, kind: resistance, law: {linear: 3e8, square: 0}}\n"
              "feeds: [{at: A, head: 2 m}, {at: B, pressure: 1.5 kPa}]\n",
        HR_OK);
    hr_assert_rel(loop_branch(r, "AB")->flow_m3_s, (2.0 * DENSITY * 9.80665 - 1500.0) / 3e8, 1e-12, "flow");
    hr_result_free(r);
}
END_TEST

START_TEST(inflow_without_outlet_has_no_solution)
{
    struct hr_result *r = loop_solve(
        GIVEN "runs:\n  - {name: AB, from: A, to: B, kind: resistance, law: {linear: 3e8, square: 0}}\n"
              "feeds: [{at: A, inflow: 2 L/min}]\n",
        HR_NO_RESULT);
    ck_assert_str_eq(r->status, "no_solution");
    ck_assert_ptr_nonnull(strstr(r->reason, "has no way out"));
    hr_result_free(r);
}
END_TEST

/* The reservoir stands 0.2 m above the pump inlet, the suction line takes 0.1 m: NPSH = (p_room - p_v)/(rho
 * g) + 0.1 m (the worked values of docs/physics.md at 20 and 60 degC; vapour pressures of IAPWS R7-97). */
static const struct {
    const char *temperature;
    double npsh_m;
} suction[] = {{"20 degC", 10.21189}, {"60 degC", 8.54008}};

START_TEST(head_over_boiling_at_the_pump_inlet)
{
    char text[1000];
    (void)snprintf(text, sizeof text,
                   "ambient: {temperature: 20 degC, pressure: 101325 Pa}\n"
                   "coolant: {fluid: water, temperature: %s}\ntubing: none\nparts:\n" IDEAL
                   "  line: {kind: resistance, law: {linear: %.17g, square: 0}}\n  tank: {kind: reservoir}\n"
                   "route: [tank, line, pump]\nheights: {tank.out: 0.2 m}\n",
                   suction[_i].temperature, (_i == 0 ? 998.205 : 983.210) * 9.80665 * 0.1 / FLOW);
    struct hr_result *r = loop_solve(text, HR_OK);
    hr_assert_rel(r->pump[0].npsh_m, suction[_i].npsh_m, 1e-4, "NPSH");
    hr_result_free(r);
}
END_TEST

START_TEST(a_block_fed_backwards_is_told)
{
    struct hr_result *r =
        loop_solve(GIVEN "tubing: none\nparts:\n" IDEAL
                         "  gpu: {kind: block, law: {linear: 1e8, square: 0}, heat: 100 W}\n"
                         "  tank: {kind: reservoir}\nroute: [tank, pump, {reversed: gpu}]\n",
                   HR_OK);
    ck_assert(loop_branch(r, "gpu")->against_arrow);
    hr_assert_rel(loop_branch(r, "gpu")->flow_m3_s, -FLOW, 1e-12, "flow against the arrow");
    const struct hr_message *warning = loop_warning(r, "against-arrow");
    ck_assert_ptr_nonnull(warning);
    ck_assert_uint_eq(warning->line, 5);
    hr_result_free(r);
}
END_TEST

/* Two loops with their own coolants stand side by side. */
START_TEST(two_loops_have_their_own_fluids)
{
    struct hr_result *r = loop_solve(
        "tubing: none\nparts:\n  p1: {kind: pump, flow: 1 L/min}\n  p2: {kind: pump, flow: 2 L/min}\n"
        "  a: {kind: resistance, zeta: 1, bore: 8 mm}\n  b: {kind: resistance, zeta: 1, bore: 8 mm}\n"
        "loops:\n  cpu: {coolant: water, tubing: none, route: [p1, a]}\n"
        "  gpu: {coolant: {fluid: ethylene-glycol-water, mass_fraction: 40 %}, tubing: none, route: [p2, "
        "b]}\n",
        HR_OK);
    ck_assert_uint_eq(r->loops, 2);
    const double ratio = loop_branch(r, "b")->dp_pa / loop_branch(r, "a")->dp_pa;
    hr_assert_rel(ratio, 4.0 * r->loop[1].density_kg_m3 / r->loop[0].density_kg_m3, 1e-12,
                  "square law and density");
    ck_assert(r->loop[1].density_kg_m3 > 1.04 * r->loop[0].density_kg_m3);
    hr_result_free(r);
}
END_TEST

START_TEST(lossless_rings_are_told)
{
    struct hr_source *source = loop_open(
        GIVEN
        "tubing: none\nparts:\n" IDEAL "  tank: {kind: reservoir}\nroute: [tank, pump]\n"
        "runs:\n  - {from: A, to: B, tubing: none}\n  - {name: second, from: B, to: A, tubing: none}\n");
    struct hr_report report;
    struct hr_result *result;
    hr_report_init(&report);
    ck_assert_int_eq(hr_solve(source, NULL, &result, &report), HR_NO_RESULT);
    ck_assert_ptr_nonnull(strstr(report.error[0].text, "ring of joins without loss"));
    hr_report_clear(&report);
    hr_source_free(source);
}
END_TEST

START_TEST(a_speed_under_control_is_not_yet_computed)
{
    struct hr_source *source =
        loop_open(GIVEN "tubing: none\nparts:\n  pump: {kind: pump, curve: {speed: 3000 rpm, shut_off: 3 m, "
                        "free_flow: 9 L/min},"
                        " speed: {from: t1, points: [[30 degC, 1000 rpm], [40 degC, 3000 rpm]]}}\n"
                        "  a: {kind: resistance, zeta: 2, bore: 8 mm}\nroute: [pump, a]\n"
                        "sensors: {t1: {at: a.out, measures: temperature}}\n");
    struct hr_report report;
    struct hr_result *result;
    hr_report_init(&report);
    ck_assert_int_eq(hr_solve(source, NULL, &result, &report), HR_INPUT);
    ck_assert_str_eq(report.error[0].text,
                     "a speed under control is not yet computed; give 'pump' a fixed speed, such as "
                     "2400 rpm");
    ck_assert_uint_eq(report.error[0].line, 4);
    hr_report_clear(&report);
    hr_source_free(source);
}
END_TEST

/* Rising curve against a static lift: three crossings, the outer two stable. */
START_TEST(all_operating_points_of_a_rising_curve)
{
    struct hr_result *r = loop_solve(
        GIVEN
        "tubing: none\nparts:\n  pump: {kind: pump, speed: 3000 rpm, curve: {speed: 3000 rpm, points: "
        "[[0 L/min, 20 kPa], [2 L/min, 25 kPa], [4 L/min, 30 kPa], [8 L/min, 25 kPa], [12 L/min, 0 kPa]]}}\n"
        "route: {open: [A, pump, B]}\n"
        "runs: [{from: B, to: C, kind: resistance, law: {r: 1e12, n: 2}}]\n"
        "feeds: [{at: A, pressure: 0 kPa}, {at: C, pressure: 22 kPa}]\n",
        HR_OK);
    ck_assert_uint_eq(r->points, 3);
    ck_assert(r->point[0].stable && !r->point[1].stable && r->point[2].stable);
    /* Shut off at 20 kPa, the pump is pushed backwards by 22 kPa when it starts from rest. */
    ck_assert(r->point[0].chosen && !r->point[1].chosen && !r->point[2].chosen);
    ck_assert(r->point[0].flow_m3_s < 0.0);
    for (size_t i = 0; i < 3; i++) {
        const double q = r->point[i].flow_m3_s;
        hr_assert_rel(r->point[i].head_pa, 22e3 + 1e12 * q * fabs(q), 1e-9, "head meets the system");
    }
    hr_assert_rel(r->pump[0].flow_m3_s, r->point[0].flow_m3_s, 1e-9, "the chosen point is the result");
    ck_assert_ptr_nonnull(loop_warning(r, "several-operating-points"));
    ck_assert_ptr_nonnull(loop_warning(r, "pump-overrun"));
    hr_result_free(r);
}
END_TEST

/* The dip of this curve leaves two stable points at positive flow; a start from rest ends in the first. */
START_TEST(a_start_from_rest_ends_in_the_first_stable_point)
{
    struct hr_result *r = loop_solve(
        GIVEN "tubing: none\nparts:\n  pump: {kind: pump, speed: 3000 rpm, curve: {speed: 3000 rpm, points: "
              "[[0 L/min, 30 kPa], [3 L/min, 20 kPa], [6 L/min, 27 kPa], [12 L/min, 0 kPa]]}}\n"
              "route: {open: [A, pump, B]}\n"
              "runs: [{from: B, to: C, kind: resistance, law: {r: 1e10, n: 2}}]\n"
              "feeds: [{at: A, pressure: 0 kPa}, {at: C, pressure: 23 kPa}]\n",
        HR_OK);
    ck_assert_uint_eq(r->points, 3);
    ck_assert(r->point[0].flow_m3_s > 0.0 && r->point[0].stable && r->point[0].chosen);
    ck_assert(!r->point[1].stable && r->point[2].stable && !r->point[2].chosen);
    hr_assert_rel(r->pump[0].flow_m3_s, r->point[0].flow_m3_s, 1e-9, "the chosen point is the result");
    hr_result_free(r);
}
END_TEST

START_TEST(a_given_flow_cannot_pass_what_is_closed)
{
    struct hr_result *r = loop_solve(
        GIVEN
        "tubing: none\nparts:\n" IDEAL "  tank: {kind: reservoir}\n"
        "  qd: {kind: quick-disconnect, zeta: 2, bore: 5 mm, connected: false}\nroute: [tank, pump, qd]\n",
        HR_NO_RESULT);
    ck_assert_ptr_nonnull(strstr(r->reason, "'pump' gives a flow, but stands in series"));
    hr_result_free(r);
}
END_TEST

START_TEST(a_resistance_read_outside_its_rows_is_marked)
{
    struct hr_result *r = loop_solve(
        GIVEN "tubing: none\nparts:\n" IDEAL "  tank: {kind: reservoir}\n"
              "  gpu: {kind: block, law: {linear: 1e8, square: 0}, heat: 100 W,\n"
              "        resistance: [[1 L/min, 0.05 K/W], [2 L/min, 0.04 K/W]]}\nroute: [tank, pump, gpu]\n",
        HR_OK);
    ck_assert(loop_branch(r, "gpu")->out_of_range);
    ck_assert_uint_eq(loop_warning(r, "out-of-range")->line, 7);
    hr_assert_rel(r->chip[0].rise_k, 4.0, 1e-12, "the nearest row is taken");
    hr_result_free(r);
}
END_TEST

START_TEST(an_open_reservoir_is_at_room_pressure_and_holds_the_reference)
{
    struct hr_result *r = loop_solve(
        GIVEN "tubing: none\nparts:\n" IDEAL "  a: {kind: reservoir, law: {linear: 1e7, square: 0}}\n"
              "  b: {kind: reservoir, open: true, law: {linear: 1e7, square: 0}}\nroute: [a, pump, b]\n",
        HR_OK);
    hr_assert_abs(loop_node(r, loop_branch(r, "b")->to)->pressure_pa, 0.0, 1e-9, "outlet of the open one");
    hr_result_free(r);
    struct hr_source *source =
        loop_open(GIVEN "tubing: none\nparts:\n" IDEAL
                        "  b: {kind: reservoir, open: true, pressure: 3 kPa}\nroute: [pump, b]\n");
    struct hr_report report;
    hr_report_init(&report);
    ck_assert_int_eq(hr_solve(source, NULL, &r, &report), HR_INPUT);
    ck_assert_str_eq(report.error[0].code, "open-under-pressure");
    hr_report_clear(&report);
    hr_source_free(source);
}
END_TEST

/* A common pressure that is off by 500 Pa, with the legs' offsets moved along, satisfies every law as the
 * solver has it; the certificate asks the tee itself. */
START_TEST(the_certificate_asks_the_tee)
{
    struct hr_source *source =
        loop_open(GIVEN "tubing: {bore: 9 mm, length: 200 mm}\nparts:\n" IDEAL "  tank: {kind: reservoir}\n"
                        "  a: {kind: resistance, law: {linear: 1e8, square: 0}}\n"
                        "  b: {kind: resistance, law: {linear: 2e8, square: 0}}\n"
                        "route: [tank, pump, {parallel: [a, b], tee: tee}]\n");
    struct hr_report report;
    struct hr_rig *rig;
    hr_report_init(&report);
    ck_assert_int_eq(hr_rig_open(source, NULL, &rig, &report), HR_OK);
    ck_assert_int_eq(hr_rig_solve(rig), HR_FLOW_SOLVED);
    const struct hr_network *network = &rig->assembly->network;
    struct hr_flow_solution solution = hr_flow_solution(rig->flow);
    ck_assert_uint_eq(network->split_count, 2);
    ck_assert(hr_flow_certify(network, &solution).pressure_residual <= 1e-10);
    double *potential = calloc(network->node_count, sizeof *potential);
    ck_assert_ptr_nonnull(potential);
    memcpy(potential, solution.node_potential, network->node_count * sizeof *potential);
    const struct hr_split_loss *split = &network->split[0];
    potential[network->branch[split->leg[0]].to] += 500.0;
    for (size_t i = 0; i < split->leg_count; i++) {
        const struct hr_branch *leg = &network->branch[split->leg[i]];
        network->law[leg->law_first + leg->law_count - 1].c[0] -= 500.0;
    }
    solution.node_potential = potential;
    ck_assert(hr_flow_certify(network, &solution).pressure_residual > 1e-3);
    free(potential);
    hr_rig_free(rig);
    hr_report_clear(&report);
    hr_source_free(source);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("assemble");
    TCase *c = tcase_create("assemble");
    tcase_add_test(c, a_given_flow_goes_through_every_part);
    tcase_add_test(c, the_reservoir_holds_the_reference_at_its_outlet);
    tcase_add_test(c, without_a_reservoir_the_pump_inlet_is_zero);
    tcase_add_test(c, fittings_of_a_run_add_up);
    tcase_add_test(c, steps_of_the_bore_are_counted);
    tcase_add_test(c, heights_move_pressures_and_not_flows);
    tcase_add_test(c, feeds_give_pressures_and_flows);
    tcase_add_test(c, inflow_without_outlet_has_no_solution);
    tcase_add_loop_test(c, head_over_boiling_at_the_pump_inlet, 0, 2);
    tcase_add_test(c, a_block_fed_backwards_is_told);
    tcase_add_test(c, two_loops_have_their_own_fluids);
    tcase_add_test(c, lossless_rings_are_told);
    tcase_add_test(c, a_speed_under_control_is_not_yet_computed);
    tcase_add_test(c, all_operating_points_of_a_rising_curve);
    tcase_add_test(c, a_start_from_rest_ends_in_the_first_stable_point);
    tcase_add_test(c, the_certificate_asks_the_tee);
    tcase_add_test(c, a_given_flow_cannot_pass_what_is_closed);
    tcase_add_test(c, a_resistance_read_outside_its_rows_is_marked);
    tcase_add_test(c, an_open_reservoir_is_at_room_pressure_and_holds_the_reference);
    suite_add_tcase(s, c);
    return s;
}

HR_TEST_MAIN(suite)
