/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys that do not apply are absent, texts are valid UTF-8, numbers come back, and running out of memory is
 * reported. */
#include "hr_test.h"

#include "headrace/show.h"

#include <jansson.h>
#include <string.h>

/* A result with one of everything; NaN and NULL where a value does not apply. */
struct sample {
    struct hr_branch_result branch[3];
    struct hr_node_result node[2];
    struct hr_pump_result pump;
    struct hr_chip_result chip;
    struct hr_operating_point point;
    struct hr_loop_result loop;
    const char *note[1];
    struct hr_message warning;
    struct hr_result result;
};

static void fill_branches(struct sample *sample)
{
    sample->branch[0] = (struct hr_branch_result){.name = "pump",
                                                  .kind = "pump",
                                                  .model = "pump-can",
                                                  .from = "J",
                                                  .to = "K",
                                                  .flow_m3_s = 3.8776475817702401e-05,
                                                  .mass_flow_kg_s = 0.0387,
                                                  .dp_pa = -10711.7,
                                                  .head_share = NAN,
                                                  .reynolds = NAN,
                                                  .velocity_m_s = NAN};
    sample->branch[1] = (struct hr_branch_result){.name = "tee",
                                                  .kind = "tee",
                                                  .port = "side",
                                                  .from = "K",
                                                  .to = "J",
                                                  .flow_m3_s = -1e-5,
                                                  .head_share = NAN,
                                                  .reynolds = 2708.8,
                                                  .velocity_m_s = 0.49,
                                                  .regime = HR_TRANSITIONAL,
                                                  .against_arrow = true};
    sample->branch[2] = (struct hr_branch_result){.name = "run-1",
                                                  .kind = "tube",
                                                  .is_run = true,
                                                  .from = "K",
                                                  .to = "J",
                                                  .flow_m3_s = -1e-5,
                                                  .head_share = 0.25,
                                                  .reynolds = NAN,
                                                  .velocity_m_s = NAN,
                                                  .against_arrow = true};
}

static void fill(struct sample *sample)
{
    memset(sample, 0, sizeof *sample);
    fill_branches(sample);
    sample->node[0] = (struct hr_node_result){.name = "J", .pressure_pa = NAN, .floating = true};
    sample->node[1] = (struct hr_node_result){.name = "K", .pressure_pa = -179.5, .height_m = 0.12};
    sample->pump = (struct hr_pump_result){.name = "pump",
                                           .speed_rpm = 2400.0,
                                           .speed_max_rpm = NAN,
                                           .head_pa = 10711.7,
                                           .shut_off_pa = NAN,
                                           .free_flow_m3_s = NAN,
                                           .power_w = NAN,
                                           .power_to_coolant_w = NAN,
                                           .hydraulic_w = 0.4,
                                           .npsh_m = 9.9};
    sample->point =
        (struct hr_operating_point){.part = "pump", .flow_m3_s = 1e-5, .head_pa = 900.0, .stable = true};
    sample->loop = (struct hr_loop_result){.fluid = "water",
                                           .temperature_c = 23.0,
                                           .density_kg_m3 = 997.5,
                                           .viscosity_pa_s = 9.3e-4,
                                           .pump_head_pa = NAN,
                                           .freezing_c = NAN,
                                           .lowest = 1,
                                           .highest = SIZE_MAX};
    sample->note[0] = "an assumption";
    sample->warning = (struct hr_message){
        .code = "no-reference", .file = "a\xff.yaml", .text = "cut in the middle: \xe2\x80"};
    sample->result = (struct hr_result){.status = "solved",
                                        .ambient_c = 23.0,
                                        .ambient_pa = 101325.0,
                                        .branch = sample->branch,
                                        .branches = 3,
                                        .node = sample->node,
                                        .nodes = 2,
                                        .pump = &sample->pump,
                                        .pumps = 1,
                                        .point = &sample->point,
                                        .points = 1,
                                        .loop = &sample->loop,
                                        .loops = 1,
                                        .note = sample->note,
                                        .notes = 1,
                                        .warning = &sample->warning,
                                        .warnings = 1,
                                        .power_w = 7.25};
}

static json_t *show(const struct hr_result *result, const struct hr_report *found)
{
    struct hr_report report;
    json_error_t fault;
    char *text;
    hr_report_init(&report);
    ck_assert_int_eq(hr_solve_json(result, found, &text, &report), HR_OK);
    json_t *json = json_loads(text, JSON_REJECT_DUPLICATES, &fault);
    ck_assert_msg(json != NULL, "%s at %d:%d of %s", fault.text, fault.line, fault.column, text);
    free(text);
    hr_report_clear(&report);
    return json;
}

static const json_t *item(const json_t *json, const char *list, size_t index)
{
    return json_array_get(json_object_get(json, list), index);
}

START_TEST(what_does_not_apply_is_absent)
{
    static const char *const absent[][2] = {{"branches", "head_share"},   {"branches", "reynolds"},
                                            {"branches", "velocity_m_s"}, {"branches", "regime"},
                                            {"branches", "port"},         {"branches", "loop"},
                                            {"nodes", "pressure_pa"},     {"parts", "speed_max_rpm"},
                                            {"parts", "shut_off_pa"},     {"parts", "power_w"},
                                            {"parts", "heat_w"},          {"loops", "name"},
                                            {"loops", "pump_head_pa"},    {"loops", "mass_fraction"},
                                            {"loops", "freezing_c"},      {"loops", "highest_pressure_at"}};
    struct sample sample;
    fill(&sample);
    json_t *json = show(&sample.result, NULL);
    for (size_t i = 0; i < sizeof absent / sizeof absent[0]; i++) {
        const json_t *first = item(json, absent[i][0], 0);
        ck_assert_ptr_nonnull(first);
        ck_assert_msg(json_object_get(first, absent[i][1]) == NULL, "%s has %s", absent[i][0], absent[i][1]);
    }
    ck_assert_ptr_null(json_object_get(json, "title"));
    ck_assert_ptr_null(json_object_get(json, "state"));
    ck_assert_ptr_null(json_object_get(json, "reason"));
    ck_assert(json_is_true(json_object_get(item(json, "nodes", 0), "floating")));
    ck_assert_ptr_null(json_object_get(item(json, "nodes", 1), "floating"));
    json_decref(json);
}
END_TEST

START_TEST(what_applies_comes_back_unchanged)
{
    struct sample sample;
    fill(&sample);
    json_t *json = show(&sample.result, NULL);
    const json_t *pump = item(json, "branches", 0);
    ck_assert(json_real_value(json_object_get(pump, "flow_m3_s")) == 3.8776475817702401e-05);
    ck_assert_str_eq(json_string_value(json_object_get(pump, "fluid")), "coolant");
    ck_assert_str_eq(json_string_value(json_object_get(item(json, "branches", 1), "regime")), "transitional");
    ck_assert(json_real_value(json_object_get(item(json, "nodes", 1), "pressure_pa")) == -179.5);
    ck_assert(json_is_true(json_object_get(item(json, "operating_points", 0), "stable")));
    ck_assert(json_is_false(json_object_get(item(json, "operating_points", 0), "chosen")));
    ck_assert_str_eq(json_string_value(json_object_get(item(json, "loops", 0), "lowest_pressure_at")), "K");
    json_decref(json);
}
END_TEST

START_TEST(ports_have_no_arrow_and_runs_are_no_parts)
{
    struct sample sample;
    fill(&sample);
    json_t *json = show(&sample.result, NULL);
    ck_assert(json_is_false(json_object_get(item(json, "branches", 1), "against_arrow")));
    ck_assert(json_is_true(json_object_get(item(json, "branches", 2), "against_arrow")));
    ck_assert_uint_eq(json_array_size(json_object_get(json, "parts")), 2);
    json_decref(json);
}
END_TEST

START_TEST(a_run_that_is_a_pump_is_a_part)
{
    struct sample sample;
    fill(&sample);
    sample.pump.name = "run-1";
    json_t *json = show(&sample.result, NULL);
    ck_assert_uint_eq(json_array_size(json_object_get(json, "parts")), 3);
    ck_assert(json_real_value(json_object_get(item(json, "parts", 2), "speed_rpm")) == 2400.0);
    json_decref(json);
}
END_TEST

START_TEST(texts_are_valid_and_places_start_at_one)
{
    struct sample sample;
    fill(&sample);
    json_t *json = show(&sample.result, NULL);
    const json_t *warning = item(json, "warnings", 0);
    ck_assert_str_eq(json_string_value(json_object_get(warning, "file")), "a\xEF\xBF\xBD.yaml");
    ck_assert_str_eq(json_string_value(json_object_get(warning, "text")),
                     "cut in the middle: \xEF\xBF\xBD\xEF\xBF\xBD");
    ck_assert_int_eq(json_integer_value(json_object_get(warning, "line")), 1);
    ck_assert_int_eq(json_integer_value(json_object_get(warning, "column")), 1);
    json_decref(json);
}
END_TEST

START_TEST(a_warning_of_file_and_result_comes_once)
{
    struct sample sample;
    struct hr_report found;
    struct hr_message both[2];
    fill(&sample);
    hr_report_init(&found);
    both[0] = sample.warning;
    both[1] = sample.warning;
    both[1].line = 14;
    found.warning = both;
    found.warnings = 2;
    json_t *json = show(&sample.result, &found);
    ck_assert_uint_eq(json_array_size(json_object_get(json, "warnings")), 2);
    json_decref(json);
}
END_TEST

START_TEST(no_solution_has_a_reason_and_no_residuals)
{
    struct hr_node_result node = {.name = "A", .pressure_pa = NAN, .floating = true};
    struct hr_result none = {.status = "no_solution",
                             .reason = "no way out",
                             .node = &node,
                             .nodes = 1,
                             .ambient_c = NAN,
                             .ambient_pa = NAN};
    json_t *json = show(&none, NULL);
    ck_assert_str_eq(json_string_value(json_object_get(json, "reason")), "no way out");
    ck_assert_ptr_null(json_object_get(json, "solver"));
    ck_assert_ptr_null(json_object_get(json_object_get(json, "totals"), "power_w"));
    ck_assert_ptr_null(json_object_get(item(json, "nodes", 0), "floating"));
    json_decref(json);
}
END_TEST

START_TEST(errors_beyond_the_kept_ones_are_left_out)
{
    struct hr_report found;
    struct hr_report report;
    char *text;
    hr_report_init(&found);
    hr_report_init(&report);
    for (size_t i = 0; i < HR_ERRORS_MAX; i++) {
        found.error[i] = (struct hr_message){
            .code = "no-unit", .line = 7, .column = 3, .file = "loop.yaml", .text = "a fault"};
    }
    found.errors = HR_ERRORS_MAX + 5;
    found.status = HR_INPUT;
    ck_assert_int_eq(hr_errors_json(&found, &text, &report), HR_OK);
    json_t *json = json_loads(text, 0, NULL);
    ck_assert_str_eq(json_string_value(json_object_get(json, "status")), "error");
    ck_assert_uint_eq(json_array_size(json_object_get(json, "errors")), HR_ERRORS_MAX);
    json_decref(json);
    free(text);
}
END_TEST

/* Allocations of jansson: which one fails, and how many stand. One test runs in a process of its own. */
static size_t allowed, standing;

static void *scarce_malloc(size_t size)
{
    if (allowed == 0) {
        return NULL;
    }
    allowed--;
    standing++;
    return malloc(size);
}

static void counted_free(void *memory)
{
    standing -= memory != NULL;
    free(memory);
}

START_TEST(running_out_of_memory_is_reported_and_leaks_nothing)
{
    struct sample sample;
    fill(&sample);
    json_set_alloc_funcs(scarce_malloc, counted_free);
    enum hr_status status = HR_SYSTEM;
    size_t n = 0;
    for (; status == HR_SYSTEM && n < 100000; n++) {
        struct hr_report report;
        char *text;
        hr_report_init(&report);
        allowed = n;
        standing = 0;
        status = hr_solve_json(&sample.result, NULL, &text, &report);
        if (status != HR_OK) {
            ck_assert_int_eq(status, HR_SYSTEM);
            ck_assert_ptr_null(text);
            ck_assert_uint_eq(standing, 0);
            ck_assert_uint_eq(report.errors, 1);
        } else {
            ck_assert_uint_eq(standing, 0);
            free(text);
        }
        hr_report_clear(&report);
    }
    ck_assert_int_eq(status, HR_OK);
    ck_assert_uint_gt(n, 100);
}
END_TEST

static Suite *suite(void)
{
    Suite *made = suite_create("json");
    TCase *keys = tcase_create("keys");
    tcase_add_test(keys, what_does_not_apply_is_absent);
    tcase_add_test(keys, what_applies_comes_back_unchanged);
    tcase_add_test(keys, ports_have_no_arrow_and_runs_are_no_parts);
    tcase_add_test(keys, a_run_that_is_a_pump_is_a_part);
    tcase_add_test(keys, no_solution_has_a_reason_and_no_residuals);
    suite_add_tcase(made, keys);
    TCase *messages = tcase_create("messages");
    tcase_add_test(messages, texts_are_valid_and_places_start_at_one);
    tcase_add_test(messages, a_warning_of_file_and_result_comes_once);
    tcase_add_test(messages, errors_beyond_the_kept_ones_are_left_out);
    suite_add_tcase(made, messages);
    TCase *memory = tcase_create("memory");
    tcase_add_test(memory, running_out_of_memory_is_reported_and_leaks_nothing);
    suite_add_tcase(made, memory);
    return made;
}

HR_TEST_MAIN(suite)
