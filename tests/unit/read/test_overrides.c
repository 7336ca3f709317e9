/* SPDX-License-Identifier: GPL-3.0-or-later */
/* States, `--set` and gangs: what is laid over the file. */
#include "read_test.h"

#include "base/memory.h"

static const char *const file =
    "coolant: water\n"
    "tubing: {bore: 10 mm, length: 137 mm}\n"
    "parts:\n"
    "  p: {model: pump-can-18, speed: 2400 rpm}\n"
    "  a: {model: gpu-full, heat: 110 W}\n"
    "  b: {kind: block, points: [[1 L/min, 4 kPa], [3 L/min, 30 kPa]], heat: 90 W}\n"
    "route: [p, a, b]\n"
    "runs: [{from: a.out, to: b.in, length: 220 mm}, {name: AB, from: A, to: p.in, extra: true}, "
    "{name: BA, from: A, to: b.out}]\n"
    "feeds: [{at: A, inflow: 0 L/min}]\n"
    "gangs: {blocks: [a, b]}\n"
    "limits: {coolant: {max: 45 degC}}\n"
    "states:\n"
    "  idle: {a.heat: 15 W, tubing.length: 200 mm}\n"
    "  stop: {p.speed: 0 rpm, p-a.length: 1 m}\n"
    "  short: {route: [p, b]}\n";

static struct loop loop;

static void set_up(void)
{
    char models[512];
    loop_open(&loop, file, tree_path(models, "tests/unit/read/models"));
    loop_must_be_good(&loop);
}

static void tear_down(void)
{
    loop_close(&loop);
}

static void set(const char *path, const char *value)
{
    const struct hr_override override = {path, value};
    loop_describe(&loop, &override, 1, NULL);
}

static double part_number(const char *part, const char *key)
{
    loop_must_be_good(&loop);
    return hr_param_number(loop_part(&loop, part)->params, key, -1);
}

static double run_number(const char *run, const char *key)
{
    loop_must_be_good(&loop);
    return hr_param_number(loop_run(&loop, run)->params, key, -1);
}

START_TEST(a_part_takes_a_value)
{
    set("a.heat", "0.321 kW");
    hr_assert_rel(part_number("a", "heat"), 321, 1e-14, "heat");
    hr_assert_rel(part_number("b", "heat"), 90, 1e-14, "the other part");
    set("parts.a.heat", "77 W");
    hr_assert_rel(part_number("a", "heat"), 77, 1e-14, "with the top-level key in front");
    loop_describe(&loop, NULL, 0, NULL);
    hr_assert_rel(part_number("a", "heat"), 110, 1e-14, "the file itself is unchanged");
}
END_TEST

START_TEST(a_number_inside_a_model_takes_a_value)
{
    set("p.curve.linear_share", "0.2");
    const struct hr_params *curve = hr_param_map(loop_part(&loop, "p")->params, "curve");
    hr_assert_rel(hr_param_number(curve, "linear_share", -1), 0.2, 1e-14, "set");
    hr_assert_rel(hr_param_number(curve, "speed", -1), 4800, 1e-14, "of the model");
    set("a.heat.sd", "7 W");
    loop_must_be_good(&loop);
    hr_assert_rel(hr_param(loop_part(&loop, "a")->params, "heat")->sd, 7, 1e-14, "deviation");
    hr_assert_rel(part_number("a", "heat"), 110, 1e-14, "its value stays");
}
END_TEST

START_TEST(another_form_of_the_law_displaces_that_of_the_model)
{
    set("a.points", "[[1 L/min, 3 kPa], [2 L/min, 9 kPa]]");
    loop_must_be_good(&loop);
    ck_assert_ptr_null(hr_param(loop_part(&loop, "a")->params, "law"));
    ck_assert_ptr_nonnull(hr_param(loop_part(&loop, "a")->params, "points"));
}
END_TEST

START_TEST(a_part_takes_another_model)
{
    set("a.model", "rad-280-slim");
    ck_assert_int_ne(loop.status, HR_OK); /* a radiator takes no heat */
    set("p.model", "./no-such.yaml");
    loop_must_fail(
        &loop,
        "--set:1:9: cannot read './no-such.yaml': there is no such file; check the name and the folder");
    set("b.kind", "resistance");
    char error[1024];
    static const char start[] =
        "t.yaml:6:67: part 'b' of kind resistance has no key 'heat'; its keys are points, ";
    ck_assert_msg(strncmp(loop_error(&loop, error), start, sizeof start - 1) == 0, "%s", error);
}
END_TEST

START_TEST(runs_take_values_by_all_their_names)
{
    set("p-a.length", "1.3 m");
    hr_assert_rel(run_number("p-a", "length"), 1.3, 1e-14, "a default run");
    hr_assert_rel(run_number("b-p", "length"), 0.137, 1e-14, "another");
    set("run-1.length", "1.3 m");
    hr_assert_rel(run_number("run-1", "length"), 1.3, 1e-14, "an unnamed line");
    set("a-b.length", "1.3 m");
    hr_assert_rel(run_number("run-1", "length"), 1.3, 1e-14, "the default run that it stands for");
    set("AB.length", "1.3 m");
    hr_assert_rel(run_number("AB", "length"), 1.3, 1e-14, "a named line");
    set("AB.tubing", "none");
    loop_must_be_good(&loop);
    ck_assert(loop_run(&loop, "AB")->lossless);
}
END_TEST

START_TEST(top_level_keys_take_values)
{
    set("tubing.bore", "8 mm");
    hr_assert_rel(run_number("p-a", "bore"), 0.008, 1e-14, "tubing");
    set("coolant", "{fluid: ethylene-glycol-water, mass_fraction: 30 %}");
    loop_must_be_good(&loop);
    ck_assert_int_eq(loop.d->loops[0].fluid.kind, HR_ETHYLENE_GLYCOL);
    set("coolant.temperature", "37 degC");
    loop_must_be_good(&loop);
    hr_assert_rel(loop.d->loops[0].temperature_c, 37, 1e-14, "a key of the short form");
    set("ambient.pressure", "0.9 bar");
    loop_must_be_good(&loop);
    hr_assert_rel(loop.d->ambient_pa.value, 9e4, 1e-14, "a key that the file lacks");
    set("limits.coolant.max", "17 K over ambient");
    loop_must_be_good(&loop);
    ck_assert_int_eq(loop.d->limits.coolant_max.meaning, HR_OVER_AMBIENT);
    set("feeds.A.inflow", "3 L/min");
    loop_must_be_good(&loop);
    hr_assert_rel(loop.d->feeds[0].inflow.value, 5e-5, 1e-14, "an item by its place");
    set("feeds.1.inflow", "6 L/min");
    loop_must_be_good(&loop);
    hr_assert_rel(loop.d->feeds[0].inflow.value, 1e-4, 1e-14, "an item by its number");
}
END_TEST

START_TEST(a_gang_moves_as_one)
{
    set("blocks.heat", "55 W");
    hr_assert_rel(part_number("a", "heat"), 55, 1e-14, "first");
    hr_assert_rel(part_number("b", "heat"), 55, 1e-14, "second");
    ck_assert_uint_eq(loop.d->gang_count, 1);
    ck_assert_str_eq(loop.d->gangs[0].members[1], "b");
}
END_TEST

START_TEST(a_state_is_laid_below_the_overrides)
{
    loop_describe(&loop, NULL, 0, "idle");
    hr_assert_rel(part_number("a", "heat"), 15, 1e-14, "state");
    hr_assert_rel(run_number("p-a", "length"), 0.2, 1e-14, "tubing of the state");
    ck_assert_str_eq(loop.d->state, "idle");
    const struct hr_override override = {"a.heat", "16 W"};
    loop_describe(&loop, &override, 1, "idle");
    hr_assert_rel(part_number("a", "heat"), 16, 1e-14, "override over state");
    loop_describe(&loop, NULL, 0, "stop");
    hr_assert_rel(run_number("p-a", "length"), 1, 1e-14, "a default run in a state");
    const struct hr_value *speed = hr_param(loop_part(&loop, "p")->params, "speed");
    ck_assert_uint_eq(speed->at.line, 14);
    ck_assert_uint_eq(speed->at.column, 19);
    size_t count = 0;
    ck_assert_str_eq(hr_source_states(loop.source, &count)[2], "short");
    ck_assert_uint_eq(count, 3);
}
END_TEST

START_TEST(another_route_leaves_out_stale_lines_and_says_so)
{
    loop_describe(&loop, NULL, 0, "short");
    loop_must_be_good(&loop);
    ck_assert_uint_eq(hr_description_run(loop.d, "a-b"), HR_NONE);
    ck_assert_uint_ne(hr_description_run(loop.d, "p-b"), HR_NONE);
    ck_assert_uint_eq(hr_description_run(loop.d, "run-1"), HR_NONE); /* it leads to a part that is left out */
    set("route", "[p, b, a]");
    loop_must_be_good(&loop);
    bool said = false;
    for (size_t i = 0; i < loop.report.warnings; i++) {
        said = said || strcmp(loop.report.warning[i].text,
                              "the run from a.out to b.in is left out: the route set here "
                              "does not join them") == 0;
    }
    ck_assert(said);
    ck_assert_uint_eq(hr_description_run(loop.d, "run-1"), HR_NONE);
}
END_TEST

START_TEST(an_override_keeps_its_origin)
{
    const struct hr_override overrides[] = {{"a.heat", "16 W"}, {"b.heat", "17 W"}};
    loop_describe(&loop, overrides, 2, NULL);
    loop_must_be_good(&loop);
    const struct hr_value *heat = hr_param(loop_part(&loop, "b")->params, "heat");
    ck_assert_str_eq(heat->at.file, "--set");
    ck_assert_uint_eq(heat->at.line, 2);
    ck_assert_uint_eq(heat->at.column, 8);
}
END_TEST

static const struct {
    const char *path, *value, *message;
} faults[] = {
    {"a.heat", "320", "--set:1:8: heat of part 'a': '320' has no unit; write for instance 320 W or 0.32 kW"},
    {"a.heet", "320 W", "--set:1:1: part 'a' of kind block has no key 'heet'; did you mean 'heat'?"},
    {"p-b.length", "1 m",
     "--set:1:1: 'p-b' is no part, run, gang or top-level key of this file; did you mean 'p-a'?"},
    {"tubin.bore", "1 m",
     "--set:1:1: 'tubin' is no part, run, gang or top-level key of this file; did you mean 'tubing'?"},
    {"a", "320 W", "--set:1:1: 'a' is a name; write a key behind it, such as a.speed"},
    {"a..heat", "320 W",
     "--set:1:1: '.heat' is not a path; write a name and its keys with dots, such as gpu.heat"},
    {"a.heat", "", "--set:1:8: there is no value for a.heat; write a.heat=VALUE"},
    {"a.heat", "{value: 3 W",
     "--set:1:8: the '{' that stands here is not closed, or a comma is missing before its next key"},
    {"a.law.at.x", "1", "--set:1:1: 'at' is '1 gpm' and has no key 'x'; set it as a whole"},
    {"feeds.Q.inflow", "1 L/min",
     "--set:1:1: the list 'feeds' has no item 'Q'; name one, or give its number from 1"},
    {"tubing.bor", "1 mm", "--set:1:1: tubing of kind tube has no key 'bor'; did you mean 'bore'?"},
    {"groups.x", "1", "--set:1:1: groups are kept for later and cannot be used yet"},
};

START_TEST(a_wrong_override_has_this_message)
{
    set(faults[_i].path, faults[_i].value);
    loop_must_fail(&loop, faults[_i].message);
    ck_assert_ptr_null(loop.d);
}
END_TEST

START_TEST(an_unknown_state_offers_the_nearest)
{
    loop_describe(&loop, NULL, 0, "idel");
    loop_must_fail(&loop, "--state:1:1: the file has no state 'idel'; did you mean 'idle'?");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("overrides");
    TCase *t = tcase_create("overrides");
    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_test(t, a_part_takes_a_value);
    tcase_add_test(t, a_number_inside_a_model_takes_a_value);
    tcase_add_test(t, another_form_of_the_law_displaces_that_of_the_model);
    tcase_add_test(t, a_part_takes_another_model);
    tcase_add_test(t, runs_take_values_by_all_their_names);
    tcase_add_test(t, top_level_keys_take_values);
    tcase_add_test(t, a_gang_moves_as_one);
    tcase_add_test(t, a_state_is_laid_below_the_overrides);
    tcase_add_test(t, another_route_leaves_out_stale_lines_and_says_so);
    tcase_add_test(t, an_override_keeps_its_origin);
    tcase_add_loop_test(t, a_wrong_override_has_this_message, 0, (int)HR_ARRAY_LEN(faults));
    tcase_add_test(t, an_unknown_state_offers_the_nearest);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
