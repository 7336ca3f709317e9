/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quoting after RFC 4180, full precision, and empty cells for what does not apply. */
#include "hr_test.h"

#include "headrace/show.h"
#include "show/csv_write.h"

#include <string.h>

static void assert_text(struct hr_csv *csv, const char *wanted)
{
    struct hr_report report;
    char *text;
    hr_report_init(&report);
    ck_assert_int_eq(hr_csv_finish(csv, &text, &report), HR_OK);
    ck_assert_str_eq(text, wanted);
    free(text);
    hr_report_clear(&report);
}

static const struct {
    const char *value, *cell;
} quoted[] = {
    {"plain", "plain"},
    {"two words", "two words"},
    {"", ""},
    {"a,b", "\"a,b\""},
    {"say \"so\"", "\"say \"\"so\"\"\""},
    {"\"", "\"\"\"\""},
    {"two\nlines", "\"two\nlines\""},
    {"return\r", "\"return\r\""},
    {"K/W; °C", "K/W; °C"},
};

START_TEST(cells_are_quoted_where_they_must_be)
{
    struct hr_csv csv = {0};
    char wanted[64];
    hr_csv_cell(&csv, quoted[_i].value);
    hr_csv_cell(&csv, "next");
    hr_csv_end_row(&csv);
    (void)snprintf(wanted, sizeof wanted, "%s,next\n", quoted[_i].cell);
    assert_text(&csv, wanted);
}
END_TEST

START_TEST(numbers_give_back_the_same_double)
{
    static const double values[] = {0.1, 3.8776475817702401e-05, -10711.757883507824, 1e300, 4.9e-324, 0.0};
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        struct hr_csv csv = {0};
        struct hr_report report;
        char *text;
        hr_report_init(&report);
        hr_csv_number(&csv, values[i]);
        ck_assert_int_eq(hr_csv_finish(&csv, &text, &report), HR_OK);
        ck_assert(strtod(text, NULL) == values[i]);
        free(text);
        hr_report_clear(&report);
    }
}
END_TEST

START_TEST(what_does_not_apply_is_an_empty_cell)
{
    struct hr_csv csv = {0};
    hr_csv_number(&csv, NAN);
    hr_csv_number(&csv, INFINITY);
    hr_csv_cell(&csv, NULL);
    hr_csv_flag(&csv, true);
    hr_csv_end_row(&csv);
    hr_csv_head(&csv, "tee", "side", "dp_pa", '.');
    hr_csv_head(&csv, "gpu", NULL, "dp_pa", '.');
    hr_csv_end_row(&csv);
    assert_text(&csv, ",,,true\ntee.side.dp_pa,gpu.dp_pa\n");
}
END_TEST

START_TEST(a_sweep_has_a_row_a_point_also_without_a_solution)
{
    struct hr_branch_result branch = {.name = "gpu", .flow_m3_s = 2.5e-5, .dp_pa = 4000.0};
    struct hr_result solved = {.status = "solved", .branch = &branch, .branches = 1, .power_w = 7.5};
    struct hr_result none = {.status = "no_solution", .reason = "no way out"};
    struct hr_result *points[] = {&none, &solved};
    double values[] = {0.0, 27.5};
    struct hr_sweep sweep = {.axes = 1, .point = points, .points = 2};
    sweep.axis[0] = (struct hr_axis){.name = "gpu.heat", .unit = "W", .value = values, .count = 2};
    struct hr_report report;
    char *text;
    hr_report_init(&report);
    ck_assert_int_eq(hr_sweep_csv(&sweep, &text, &report), HR_OK);
    ck_assert_str_eq(text, "gpu.heat_W,status,power_w,gpu.flow_m3_s,gpu.dp_pa\n"
                           "0,no_solution,,,\n"
                           "27.5,solved,7.5,2.5000000000000001e-05,4000\n");
    free(text);
    hr_report_clear(&report);
}
END_TEST

static Suite *suite(void)
{
    Suite *made = suite_create("csv");
    TCase *cells = tcase_create("cells");
    tcase_add_loop_test(cells, cells_are_quoted_where_they_must_be, 0,
                        (int)(sizeof quoted / sizeof quoted[0]));
    tcase_add_test(cells, numbers_give_back_the_same_double);
    tcase_add_test(cells, what_does_not_apply_is_an_empty_cell);
    suite_add_tcase(made, cells);
    TCase *tables = tcase_create("tables");
    tcase_add_test(tables, a_sweep_has_a_row_a_point_also_without_a_solution);
    suite_add_tcase(made, tables);
    return made;
}

HR_TEST_MAIN(suite)
