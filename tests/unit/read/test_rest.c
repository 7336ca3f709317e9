/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Coolant, feeds, heights, air, sensors, limits, and the library of parts. */
#include "read_test.h"

#include "base/memory.h"

#define LOOP                                                                                                 \
    "parts:\n"                                                                                               \
    "  p: {kind: pump, flow: 3 L/min}\n"                                                                     \
    "  a: {kind: block, points: [[1 L/min, 4 kPa], [3 L/min, 30 kPa]], resistance: 0.07 K/W, heat: 110 W}\n" \
    "  r: {kind: radiator, points: [[1 L/min, 1 kPa], [3 L/min, 8 kPa]]}\n"                                  \
    "  f: {kind: fan, curve: {speed: 1800 rpm, shut_off: 25 Pa, free_flow: 120 m3/h}}\n"                     \
    "  g: {kind: fan, curve: {speed: 1500 rpm, shut_off: 21 Pa, free_flow: 110 m3/h}}\n"                     \
    "tubing: none\n"                                                                                         \
    "route: [p, a, r]\n"

static void open_with(struct loop *loop, const char *more)
{
    char text[4096];
    (void)snprintf(text, sizeof text, "%s%s", LOOP, more);
    loop_open(loop, text, NULL);
}

START_TEST(a_fluid_of_ones_own_is_read)
{
    struct loop loop;
    loop_open(&loop,
              "coolant: {fluid: given, density: 870 kg/m3, kinematic_viscosity: 31 mm2/s}\n"
              "runs: [{from: A, to: B, bore: 9 mm, length: 2 m}]\nfeeds: [{at: A, inflow: 7 L/min}, {at: B, "
              "head: 0 m}]\n",
              NULL);
    loop_must_be_good(&loop);
    ck_assert_int_eq(loop.d->loops[0].fluid.kind, HR_GIVEN);
    hr_assert_rel(loop.d->loops[0].fluid.given.viscosity, 870 * 31e-6, 1e-14, "dynamic viscosity");
    hr_assert_rel(loop.d->ambient_c.value, 20, 1e-15, "assumed ambient");
    ck_assert_ptr_null(loop.d->ambient_c.at.file);
    loop_close(&loop);
}
END_TEST

START_TEST(feeds_and_heights_find_their_points)
{
    struct loop loop;
    loop_open(
        &loop,
        "coolant: water\nambient: {temperature: 31 degC, pressure: 0.87 bar}\n"
        "runs: [{from: A, to: B, bore: 9 mm, length: 2 m}]\n"
        "feeds: [{at: A, inflow: 7 L/min, temperature: 37 degC}, {at: B, head: 13 m}]\nheights: {B: 1.7 m}\n",
        NULL);
    loop_must_be_good(&loop);
    ck_assert_uint_eq(loop.d->feed_count, 2);
    ck_assert_str_eq(loop.d->points[loop.d->feeds[0].point].name, "A");
    hr_assert_rel(loop.d->feeds[0].inflow.value, 7e-3 / 60, 1e-14, "inflow");
    hr_assert_rel(loop.d->feeds[0].temperature.value, 37, 1e-14, "temperature");
    ck_assert(isnan(loop.d->feeds[0].head.value));
    hr_assert_rel(loop.d->feeds[1].head.value, 13, 1e-14, "head");
    hr_assert_rel(loop.d->points[loop.d->feeds[1].point].height_m, 1.7, 1e-14, "height");
    hr_assert_rel(loop.d->ambient_pa.value, 87000, 1e-14, "ambient pressure");
    loop_close(&loop);
}
END_TEST

START_TEST(joined_points_of_two_heights_are_refused)
{
    struct loop loop;
    open_with(&loop, "");
    loop_close(&loop);
    loop_open(
        &loop,
        "parts: {p: {kind: pump, flow: 3 L/min}, a: {kind: resistance, zeta: 2, bore: 7 mm}}\ntubing: none\n"
        "route: [p + a]\nheights: {p.out: 1 m, a.in: 2 m}\n",
        NULL);
    loop_must_fail(
        &loop,
        "t.yaml:4:23: 'a.in' is joined to 'p.out', which lies at 1 m (line 4); give both the same height");
    loop_close(&loop);
}
END_TEST

START_TEST(air_lines_form_a_tree)
{
    struct loop loop;
    open_with(&loop, "air:\n  - {from: ambient, through: [{parallel: [f, [g, r]]}], to: case}\n"
                     "  - {name: out, from: case, through: [v], to: ambient}\n"
                     "heat_to_air: {case: 60 W}\nrecirculation: [{from: out, into: air-1, share: 15 %}]\n");
    loop_must_fail(&loop, "t.yaml:11:39: the air line names 'v', which is not among the parts");
    loop_close(&loop);
    open_with(&loop, "air:\n  - {from: ambient, through: [{parallel: [f, [g, r]]}], to: case}\n"
                     "  - {name: out, from: case, through: [], to: ambient}\n");
    loop_must_fail(&loop,
                   "t.yaml:11:38: through: found an empty list; write a list such as [fans, radiator]");
    loop_close(&loop);
    open_with(&loop, "air:\n  - {from: ambient, through: [{parallel: [f, [g]]}], to: case}\n"
                     "  - {name: out, from: case, through: [r], to: ambient}\n"
                     "heat_to_air: {case: 60 W}\nrecirculation: [{from: out, into: air-1, share: 15 %}]\n");
    loop_must_be_good(&loop);
    ck_assert(loop.d->has_air);
    const struct hr_air_step *through = &loop.d->air_lines[0].through;
    ck_assert_int_eq(through->kind, HR_AIR_SERIES);
    ck_assert_uint_eq(through->count, 1);
    ck_assert_int_eq(through->step[0].kind, HR_AIR_PARALLEL);
    ck_assert_uint_eq(through->step[0].step[0].part, hr_description_part(loop.d, "f"));
    ck_assert_int_eq(through->step[0].step[1].kind, HR_AIR_SERIES);
    ck_assert_str_eq(loop.d->air_lines[0].name, "air-1");
    ck_assert_uint_eq(loop.d->air_lines[0].from, 0);
    ck_assert_str_eq(loop.d->zones[loop.d->air_lines[1].from].name, "case");
    hr_assert_rel(loop.d->zones[1].heat_w.value, 60, 1e-14, "heat of the case");
    ck_assert_uint_eq(loop.d->recirculations[0].from, 1);
    hr_assert_rel(loop.d->recirculations[0].share.value, 0.15, 1e-14, "share");
    loop_close(&loop);
}
END_TEST

static const struct {
    const char *more, *message;
} air_faults[] = {
    {"", "t.yaml:4:3: part 'r' gets no air, and its loop is heated; write fans, air_flow or ua, or let an "
         "air line go "
         "through it"},
    {"air: [{from: ambient, through: [r, r], to: ambient}]\n",
     "t.yaml:9:36: 'r' stands in an air line already; a part stands in one line once"},
    {"air: [{from: ambient, through: [r], to: f}]\n",
     "t.yaml:9:41: 'f' is a part; an air line leads from zone to zone, and its parts stand in through"},
    {"air: [{from: ambient, through: [{parallel: [r]}], to: ambient}]\n",
     "t.yaml:9:44: parallel needs a list of at least two legs, such as [a, b]"},
    {"air: [{from: ambient, through: [r], to: ambient}]\nheat_to_air: {caes: 60 W}\n",
     "t.yaml:10:15: heat_to_air: no air line begins or ends at the zone 'caes'"},
    {"air: {from: ambient}\n", "t.yaml:9:6: air: found a mapping; write a list of mappings: [{...}, {...}]"},
    {"air: [{from: case, through: [r], to: case}]\n",
     "t.yaml:9:7: the air line leads from 'case' back to it; name two zones"},
    {"air: [{name: p, from: case, through: [r], to: ambient}]\n",
     "t.yaml:9:14: the name 'p' is already that of a part in line 2; names must differ"},
};

START_TEST(wrong_air_has_this_message)
{
    struct loop loop;
    open_with(&loop, air_faults[_i].more);
    loop_must_fail(&loop, air_faults[_i].message);
    loop_close(&loop);
}
END_TEST

START_TEST(a_zone_touched_once_is_warned_of)
{
    struct loop loop;
    open_with(&loop,
              "air: [{from: ambient, through: [f, r], to: caes}, {from: case, through: [g], to: ambient}]\n");
    loop_must_be_good(&loop);
    ck_assert_uint_eq(loop.report.warnings, 2);
    ck_assert_str_eq(loop.report.warning[0].text,
                     "only one air line touches the zone 'caes', so that no air flows there; "
                     "did you mean 'case'?");
    loop_close(&loop);
}
END_TEST

START_TEST(radiators_may_name_their_fans)
{
    struct loop loop;
    loop_open(&loop,
              "parts:\n  p: {kind: pump, flow: 3 L/min}\n"
              "  a: {kind: block, points: [[1 L/min, 4 kPa], [3 L/min, 30 kPa]], resistance: 0.07 K/W, heat: "
              "110 W}\n"
              "  r: {kind: radiator, points: [[1 L/min, 1 kPa], [3 L/min, 8 kPa]], ua: 20 W/K, fans: {push: "
              "f, pull: g}}\n"
              "  f: {kind: fan, curve: {speed: 1800 rpm, shut_off: 25 Pa, free_flow: 120 m3/h}}\n"
              "  g: {kind: fan, curve: {speed: 1500 rpm, shut_off: 21 Pa, free_flow: 110 m3/h}}\n"
              "tubing: none\nroute: [p, a, r]\n",
              NULL);
    loop_must_be_good(&loop);
    ck_assert_uint_eq(loop.report.warnings, 0);
    ck_assert(!loop.d->has_air);
    loop_close(&loop);
}
END_TEST

START_TEST(sensors_and_limits_find_their_places)
{
    struct loop loop;
    open_with(
        &loop,
        "air: [{from: ambient, through: [f, r], to: ambient}]\n"
        "sensors: {t1: {at: a.out}, t2: {at: ambient}, q1: {at: p, measures: flow}, q2: {at: a-r, measures: "
        "flow}, p1: {at: p.in, measures: pressure}}\n"
        "limits: {noise: {max: 37 dBA}, coolant: {max: 14 K over ambient}, parts: {a: {chip: 71 degC, "
        "flow_min: 0.5 L/min}}}\nlistening: {distance: 0.6 m, background: 24 dBA}\n");
    loop_must_be_good(&loop);
    const struct hr_description *d = loop.d;
    ck_assert_uint_eq(d->sensor_count, 5);
    ck_assert_uint_eq(d->sensors[0].point, loop_part(&loop, "a")->point[1]);
    ck_assert_int_eq(d->sensors[0].measures, HR_MEASURE_TEMPERATURE);
    ck_assert_uint_eq(d->sensors[1].zone, 0);
    ck_assert_uint_eq(d->sensors[2].part, hr_description_part(d, "p"));
    ck_assert_uint_eq(d->sensors[3].run, hr_description_run(d, "a-r"));
    ck_assert_int_eq(d->sensors[4].measures, HR_MEASURE_PRESSURE);
    hr_assert_rel(d->limits.noise_max.value, 37, 1e-14, "noise");
    ck_assert_int_eq(d->limits.coolant_max.meaning, HR_OVER_AMBIENT);
    ck_assert_uint_eq(d->limits.part_count, 1);
    hr_assert_rel(hr_param_number(d->limits.parts[0].params, "chip", 0), 71, 1e-14, "chip");
    hr_assert_rel(d->listening_distance.value, 0.6, 1e-14, "distance");
    ck_assert_uint_eq(d->limits.coolant_max.at.line, 11);
    loop_close(&loop);
}
END_TEST

START_TEST(a_value_of_a_model_has_its_origin_there)
{
    struct loop loop;
    char models[512];
    loop_open(&loop, "parts:\n  p: {model: pump-can-18}\ntubing: none\nroute: [p]\n",
              tree_path(models, "tests/unit/read/models"));
    loop_must_be_good(&loop);
    const struct hr_value *curve = hr_param(loop_part(&loop, "p")->params, "curve");
    const char *end = strstr(curve->at.file, "pump-can-18.yaml");
    ck_assert_ptr_nonnull(end);
    ck_assert_uint_gt(curve->at.line, 1);
    ck_assert_str_eq(loop_part(&loop, "p")->model, "pump-can-18");
    loop_close(&loop);
}
END_TEST

START_TEST(the_library_lists_and_explains)
{
    struct hr_source *library = NULL;
    struct hr_report report;
    struct hr_model model;
    char models[512];
    size_t count = 0;
    hr_report_init(&report);
    ck_assert_int_eq(hr_library_open(tree_path(models, "tests/unit/read/models"), &library, &report), HR_OK);
    const char *const *names = hr_source_models(library, &count);
    ck_assert_uint_gt(count, 5);
    for (size_t i = 1; i < count; i++) {
        ck_assert_int_lt(strcmp(names[i - 1], names[i]), 0);
    }
    ck_assert_int_eq(hr_source_model(library, "pump-can-18", &model, &report), HR_OK);
    ck_assert_str_eq(model.kind->name, "pump");
    ck_assert_str_eq(model.source, "invented");
    ck_assert_int_eq(hr_source_model(library, "pump-cam-18", &model, &report), HR_INPUT);
    ck_assert_str_eq(report.error[0].text,
                     "the library has no model 'pump-cam-18'; did you mean 'pump-can-18'?");
    hr_source_free(library);
    hr_report_clear(&report);
}
END_TEST

START_TEST(every_model_of_the_library_is_read)
{
    struct hr_source *library = NULL;
    struct hr_report report;
    char models[512];
    size_t count = 0;
    hr_report_init(&report);
    ck_assert_int_eq(hr_library_open(tree_path(models, "models"), &library, &report), HR_OK);
    const char *const *names = hr_source_models(library, &count);
    ck_assert_uint_gt(count, 0);
    for (size_t i = 0; i < count; i++) {
        struct hr_model model;
        (void)hr_source_model(library, names[i], &model, &report);
        const struct hr_message *error = &report.error[0];
        ck_assert_msg(report.errors == 0, "%s:%u:%u: %s", error->file, error->line, error->column,
                      error->text);
        ck_assert_msg(model.source != NULL, "model '%s' has no source", names[i]);
    }
    hr_source_free(library);
    hr_report_clear(&report);
}
END_TEST

START_TEST(a_library_that_is_missing_is_said_so)
{
    struct loop loop;
    loop_open(&loop, "parts:\n  p: {model: pump-can-18}\nroute: [p]\ntubing: none\n", "/no/such/folder");
    loop_must_fail(
        &loop, "t.yaml:2:14: no model 'pump-can-18': the library of parts was not found in /no/such/folder; "
               "write a path such as ./pump-can-18.yaml, or give the part a kind");
    loop_close(&loop);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("rest");
    TCase *t = tcase_create("rest");
    tcase_add_test(t, a_fluid_of_ones_own_is_read);
    tcase_add_test(t, feeds_and_heights_find_their_points);
    tcase_add_test(t, joined_points_of_two_heights_are_refused);
    tcase_add_test(t, air_lines_form_a_tree);
    tcase_add_loop_test(t, wrong_air_has_this_message, 0, (int)HR_ARRAY_LEN(air_faults));
    tcase_add_test(t, a_zone_touched_once_is_warned_of);
    tcase_add_test(t, radiators_may_name_their_fans);
    tcase_add_test(t, sensors_and_limits_find_their_places);
    tcase_add_test(t, a_value_of_a_model_has_its_origin_there);
    tcase_add_test(t, the_library_lists_and_explains);
    tcase_add_test(t, every_model_of_the_library_is_read);
    tcase_add_test(t, a_library_that_is_missing_is_said_so);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
