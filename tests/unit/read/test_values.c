/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values by a table of keys, in every form. */
#include "hr_test.h"

#include "base/memory.h"
#include "read/values.h"

#include <string.h>

static const char *const colours[] = {"red", "green", NULL};
static const struct hr_key inner_keys[] = {
    {.name = "length", .quantity = HR_LENGTH, .required = true, .help = "how long"},
    {.name = "share", .quantity = HR_SHARE, .min = 0, .max = 1},
};
static const struct hr_key_group inner = {inner_keys, HR_ARRAY_LEN(inner_keys)};
static const struct hr_key keys[] = {
    {.name = "heat", .quantity = HR_POWER, .min = 0, .max = 1000},
    {.name = "speed", .quantity = HR_SPEED, .min = 0, .max = 1e4},
    {.name = "head", .quantity = HR_HEAD, .min = 1, .max = 1e6},
    {.name = "limit", .quantity = HR_LIMIT_TEMPERATURE},
    {.name = "ratio", .quantity = HR_NUMBER},
    {.name = "temperature", .quantity = HR_TEMPERATURE, .min = -50, .max = 150},
    {.name = "number", .form = HR_FORM_COUNT, .min = 1, .max = 12},
    {.name = "open", .form = HR_FORM_FLAG},
    {.name = "colour", .form = HR_FORM_CHOICE, .choices = colours},
    {.name = "note", .form = HR_FORM_TEXT},
    {.name = "friend", .form = HR_FORM_NAME},
    {.name = "friends", .form = HR_FORM_NAMES},
    {.name = "shades", .form = HR_FORM_NAMES, .choices = colours},
    {.name = "points",
     .form = HR_FORM_ROWS,
     .columns = {HR_FLOW, HR_HEAD},
     .column_count = 2,
     .instead = "law"},
    {.name = "zeta", .quantity = HR_NUMBER, .instead = "law"},
    {.name = "list", .form = HR_FORM_LIST, .columns = {HR_LENGTH}},
    {.name = "inner", .form = HR_FORM_MAP, .sub = &inner},
    {.name = "things", .form = HR_FORM_COUNTS},
    {.name = "either", .quantity = HR_LENGTH},
    {.name = "either", .form = HR_FORM_MAP, .sub = &inner},
};
static const struct hr_key_group group = {keys, HR_ARRAY_LEN(keys)};
static const struct hr_key_group *const groups[] = {&group, NULL};

static struct hr_arena arena;
static struct hr_report report;
static struct hr_reader reader;

static void set_up(void)
{
    hr_arena_init(&arena);
    hr_report_init(&report);
    reader = (struct hr_reader){.arena = &arena, .report = &report};
}

static void tear_down(void)
{
    hr_arena_clear(&arena);
    hr_report_clear(&report);
}

static const struct hr_yaml *tree(const char *text)
{
    const struct hr_origin start = {"t.yaml", 1, 1};
    const struct hr_yaml *root = NULL;
    ck_assert_int_eq(hr_yaml_read(&arena, text, strlen(text), &start, &root, &report), HR_OK);
    return root;
}

static const struct hr_params *read_text(const char *text)
{
    const struct hr_values_job job = {.map = tree(text), .groups = groups, .owner = "part 'x'", .path = ""};
    const struct hr_params *params = NULL;
    const bool good = hr_values_read(&reader, &job, &params);
    ck_assert(good == (report.errors == 0));
    return params;
}

static const struct hr_value *one(const char *text, const char *key)
{
    const struct hr_value *value = hr_param(read_text(text), key);
    ck_assert_msg(report.errors == 0, "%s", report.error[0].text);
    ck_assert_ptr_nonnull(value);
    return value;
}

static const struct {
    const char *text, *key;
    double number, sd;
    enum hr_meaning meaning;
} quantities[] = {
    {"heat: 0.273 kW", "heat", 273, 0, HR_PLAIN},
    {"heat: 320 W ± 7 W", "heat", 320, 7, HR_PLAIN},
    {"heat: 320 W +- 3 %", "heat", 320, 9.6, HR_PLAIN},
    {"heat: {value: 320 W, sd: 7 W}", "heat", 320, 7, HR_PLAIN},
    {"heat: {value: 320 W, sd: 3 %}", "heat", 320, 9.6, HR_PLAIN},
    {"temperature: {value: 24 degC, sd: 0.4 K}", "temperature", 24, 0.4, HR_PLAIN},
    {"speed: 2417 rpm", "speed", 2417, 0, HR_PLAIN},
    {"speed: 61 %", "speed", 0.61, 0, HR_PERCENT},
    {"head: 5.2 m", "head", 5.2, 0, HR_METRES},
    {"head: 37 kPa", "head", 37000, 0, HR_PLAIN},
    {"limit: 15 K over ambient", "limit", 15, 0, HR_OVER_AMBIENT},
    {"limit: 113 degF", "limit", 45, 0, HR_PLAIN},
    {"ratio: 2e9", "ratio", 2e9, 0, HR_PLAIN},
    {"number: 010", "number", 10, 0, HR_PLAIN}, /* not octal */
    {"open: no", "open", 0, 0, HR_PLAIN},
    {"open: on", "open", 1, 0, HR_PLAIN},
    {"either: 6 mm", "either", 0.006, 0, HR_PLAIN},
};

START_TEST(a_number_is_read)
{
    const struct hr_value *value = one(quantities[_i].text, quantities[_i].key);
    hr_assert_rel(value->number, quantities[_i].number, 1e-14, quantities[_i].text);
    hr_assert_rel(value->sd, quantities[_i].sd, 1e-14, "deviation");
    ck_assert_int_eq(value->meaning, quantities[_i].meaning);
}
END_TEST

START_TEST(a_mapping_carries_fit_and_bounds)
{
    const struct hr_value *value = one("heat: {value: 320 W, fit: true, min: 0.25 kW, max: 400 W}", "heat");
    ck_assert(value->fit);
    hr_assert_rel(value->fit_min, 250, 1e-14, "min");
    hr_assert_rel(value->fit_max, 400, 1e-14, "max");
    ck_assert(isnan(one("heat: 3 W", "heat")->fit_min));
}
END_TEST

START_TEST(a_speed_may_be_under_control)
{
    const struct hr_value *value =
        one("speed: {from: t1, points: [[30 degC, 611 rpm], [45 degC, 1507 rpm]], hysteresis: 2 K}", "speed");
    ck_assert_ptr_nonnull(value->control);
    ck_assert(isnan(value->number));
    ck_assert_str_eq(value->control->sensor, "t1");
    ck_assert_uint_eq(value->control->count, 2);
    hr_assert_rel(value->control->temperature_c[1], 45, 1e-14, "temperature");
    hr_assert_rel(value->control->speed[0], 611, 1e-14, "speed");
    hr_assert_rel(value->control->hysteresis_k, 2, 1e-14, "hysteresis");
    ck_assert_uint_eq(reader.mentions, 1);
    ck_assert(reader.mention[0].sensor);
}
END_TEST

START_TEST(rows_are_read_column_by_column)
{
    const struct hr_value *value =
        one("points: [[0 L/min, 5.2 m], [6 L/min, 3.1 m], [9 L/min, 1 m]]", "points");
    ck_assert_uint_eq(value->row_count, 3);
    ck_assert_uint_eq(value->column_count, 2);
    hr_assert_rel(value->rows[2], 1e-4, 1e-14, "flow of row 2");
    hr_assert_rel(value->rows[5], 1, 1e-14, "head of row 3");
    ck_assert_int_eq(value->column_meaning[1], HR_METRES);
}
END_TEST

START_TEST(texts_names_lists_and_counts_are_read)
{
    ck_assert_str_eq(one("colour: green", "colour")->text, "green");
    ck_assert_str_eq(one("note: 'a: b'", "note")->text, "a: b");
    ck_assert_str_eq(one("friend: fan-1", "friend")->text, "fan-1");
    ck_assert_str_eq(one("friends: [a, b]", "friends")->names[1], "b");
    ck_assert_uint_eq(one("friends: a", "friends")->row_count, 1);
    ck_assert_str_eq(one("shades: [green, red]", "shades")->names[0], "green");
    hr_assert_rel(one("list: [3 mm, 7 cm]", "list")->rows[1], 0.07, 1e-14, "second length");
    const struct hr_value *things = one("things: {elbow-90: 2, qd: 3}", "things");
    ck_assert_str_eq(things->names[1], "qd");
    hr_assert_rel(things->rows[1], 3, 0, "count");
    hr_assert_rel(hr_param_number(one("inner: {length: 3 mm}", "inner")->map, "length", 0), 0.003, 1e-14,
                  "inner");
    ck_assert_ptr_nonnull(one("either: {length: 3 mm}", "either")->map);
    ck_assert_uint_eq(reader.mentions, 4); /* names that must exist; not choices */
}
END_TEST

static const struct {
    const char *text, *message;
    unsigned column;
} faults[] = {
    {"heat: 3", "heat of part 'x': '3' has no unit; write for instance 320 W or 0.32 kW", 7},
    {"heat: -3 W", "heat of part 'x': '-3 W' is too small; write at least 0 W", 7},
    {"heat: 1.5 kW", "heat of part 'x': '1.5 kW' is too large; write at most 1 kW", 7},
    {"temperature: 311 degF", "temperature of part 'x': '311 degF' is too large; write at most 302 degF", 14},
    {"head: -2 m", "head of part 'x': '-2 m' is too small; write at least 0 m", 7},
    {"heat: {value: 3 W, sd: -1 W}", "heat of part 'x': sd is negative; write one standard deviation", 24},
    {"head: {value: 3 m, sd: 1 kPa}", "head of part 'x': sd and value are not of one sort; use the same unit",
     24},
    {"heat: {value: 3 W, fit: maybe}",
     "heat of part 'x': fit is neither true nor false; write one of the two", 25},
    {"number: 13", "number of part 'x': 13 is out of range; write a whole number from 1 to 12", 9},
    {"number: -1", "number of part 'x': '-1' is not a whole number; write for instance 2", 9},
    {"number: 12345678901", "number of part 'x': '12345678901' is too large a number", 9},
    {"open: ja", "open of part 'x': 'ja' is neither true nor false; write one of the two", 7},
    {"colour: gren", "colour of part 'x': 'gren' is unknown; did you mean 'green'?", 9},
    {"colour: blue", "colour of part 'x': 'blue' is unknown; write one of red, green", 9},
    {"friend: a b", "friend of part 'x': 'a b' is not a name; names have letters, digits, '-' and '_' only",
     9},
    {"note: [a]", "note of part 'x': found a list; write a text", 7},
    {"note:", "note of part 'x': there is no value; write one or delete the key", 1},
    {"points: []", "points of part 'x': found an empty list; write a list", 9},
    {"points: [[1 L/min, 2 m], [2 L/min, 3 kPa]]",
     "points of part 'x': row 2 is not of the same sort as row 1; use the same unit in each row", 36},
    {"points: [[1,2 L/min, 2 m]]",
     "points of part 'x': row 1 has 3 values in place of 2; a decimal comma parts them, write 1.2 L/min", 11},
    {"points: [[1 L/min, 2 m], [2 L/min, 3]]",
     "points of part 'x': row 2: '3' has no unit; write for instance 2 m, 20 kPa or 2 mH2O", 36},
    {"{points: [[1 L/min, 2 m]], zeta: 2}",
     "part 'x' has both points (line 1) and zeta; each of them alone says it all, keep one", 34},
    {"inner: {share: 101 %, length: 1 m}",
     "inner.share of part 'x': '101 %' is too large; write at most 100 %", 16},
    {"inner: {}", "part 'x' needs the key inner.length: how long", 8},
    {"inner: {lenght: 1 m}", "part 'x' has no key 'inner.lenght'; did you mean 'inner.length'?", 9},
    {"things: [a]", "things of part 'x': found a list; write a mapping such as {elbow-90: 2}", 9},
    {"things: {a: x}", "things of part 'x': 'x' is not a whole number; write for instance 2", 13},
    {"heat: {from: t1, points: [[1 degC, 1 rpm]]}",
     "heat of part 'x': only a speed can be under control; write a power", 7},
    {"speed: {from: t1}", "part 'x' needs the key speed.points: [[30 degC, 600 rpm], [45 degC, 1500 rpm]]",
     8},
};

START_TEST(a_wrong_value_has_this_message)
{
    (void)read_text(faults[_i].text);
    ck_assert_uint_eq(report.errors, 1);
    ck_assert_str_eq(report.error[0].text, faults[_i].message);
    ck_assert_uint_eq(report.error[0].line, 1);
    ck_assert_uint_eq(report.error[0].column, faults[_i].column);
}
END_TEST

START_TEST(a_late_value_keeps_its_origin)
{
    const struct hr_params *params = read_text("note: a\ninner:\n  share: 3 %\n  length: 7 mm\n");
    const struct hr_value *length = hr_param(hr_param_map(params, "inner"), "length");
    ck_assert_uint_eq(length->at.line, 4);
    ck_assert_uint_eq(length->at.column, 11);
    ck_assert_str_eq(length->at.file, "t.yaml");
}
END_TEST

START_TEST(one_key_replaces_the_others_of_its_set)
{
    const struct hr_yaml *base =
        tree("{points: [[1 L/min, 2 m]], heat: 3 W, inner: {length: 1 m, share: 2 %}}");
    const struct hr_yaml *over = tree("{zeta: 7, inner: {length: 2 m}}");
    const struct hr_yaml *merged = hr_values_merge(&arena, base, over, groups);
    ck_assert_ptr_null(hr_yaml_get(merged, "points"));
    ck_assert(hr_yaml_is(hr_yaml_get(merged, "zeta"), "7"));
    ck_assert(hr_yaml_is(hr_yaml_get(merged, "heat"), "3 W"));
    ck_assert_ptr_null(hr_yaml_get(hr_yaml_get(merged, "inner"), "share")); /* keys are replaced as a whole */
}
END_TEST

START_TEST(the_same_place_is_reported_once)
{
    const struct hr_yaml *map = tree("heat: 3");
    const struct hr_values_job job = {.map = map, .groups = groups, .owner = "part 'x'", .path = ""};
    const struct hr_params *params = NULL;
    ck_assert(!hr_values_read(&reader, &job, &params));
    ck_assert(!hr_values_read(&reader, &job, &params));
    ck_assert_uint_eq(report.errors, 1);
}
END_TEST

START_TEST(twenty_faults_are_kept_and_the_others_counted)
{
    char text[1024] = "";
    for (int i = 0; i < 30; i++) {
        char line[32];
        (void)snprintf(line, sizeof line, "qqqqqq%d: 1\n", i);
        strcat(text, line);
    }
    (void)read_text(text);
    ck_assert_uint_eq(report.errors, 30);
    ck_assert_uint_eq(report.error[HR_ERRORS_MAX - 1].line, HR_ERRORS_MAX);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("values");
    TCase *t = tcase_create("values");
    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_loop_test(t, a_number_is_read, 0, (int)HR_ARRAY_LEN(quantities));
    tcase_add_test(t, a_mapping_carries_fit_and_bounds);
    tcase_add_test(t, a_speed_may_be_under_control);
    tcase_add_test(t, rows_are_read_column_by_column);
    tcase_add_test(t, texts_names_lists_and_counts_are_read);
    tcase_add_loop_test(t, a_wrong_value_has_this_message, 0, (int)HR_ARRAY_LEN(faults));
    tcase_add_test(t, a_late_value_keeps_its_origin);
    tcase_add_test(t, one_key_replaces_the_others_of_its_set);
    tcase_add_test(t, the_same_place_is_reported_once);
    tcase_add_test(t, twenty_faults_are_kept_and_the_others_counted);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
