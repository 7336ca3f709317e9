/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Errors are kept up to a number and counted beyond; warnings grow and are said once. */
#include "hr_test.h"

#include "base/memory.h"
#include "base/report.h"

#include <string.h>

static struct hr_report report;

static void set_up(void)
{
    hr_report_init(&report);
}

static void tear_down(void)
{
    hr_report_clear(&report);
}

START_TEST(failure_keeps_place_code_and_sentence)
{
    const struct hr_origin where = {.file = "loop.yaml", .line = 14, .column = 9};
    ck_assert_int_eq(hr_fail(&report, HR_INPUT, "no-unit", &where, "'%s' has %d faults", "x", 2), HR_INPUT);
    ck_assert_int_eq(report.status, HR_INPUT);
    ck_assert_uint_eq(report.errors, 1);
    ck_assert_str_eq(report.error[0].code, "no-unit");
    ck_assert_str_eq(report.error[0].file, "loop.yaml");
    ck_assert_uint_eq(report.error[0].line, 14);
    ck_assert_uint_eq(report.error[0].column, 9);
    ck_assert_str_eq(report.error[0].text, "'x' has 2 faults");
}
END_TEST

START_TEST(first_failure_decides_the_status)
{
    ck_assert_int_eq(hr_fail(&report, HR_NO_RESULT, "a", NULL, "one"), HR_NO_RESULT);
    ck_assert_int_eq(hr_fail_memory(&report), HR_SYSTEM);
    ck_assert_int_eq(report.status, HR_NO_RESULT);
    ck_assert_uint_eq(report.errors, 2);
    ck_assert_str_eq(report.error[0].file, "");
    ck_assert_uint_eq(report.error[0].line, 0);
    ck_assert_str_eq(report.error[1].text, "out of memory");
}
END_TEST

START_TEST(further_errors_are_only_counted)
{
    for (int i = 0; i < HR_ERRORS_MAX + 7; i++) {
        (void)hr_fail(&report, HR_INPUT, "e", NULL, "fault %d", i);
    }
    ck_assert_uint_eq(report.errors, HR_ERRORS_MAX + 7);
    ck_assert_str_eq(report.error[HR_ERRORS_MAX - 1].text, "fault 19");
    ck_assert_uint_eq(report.warnings, 0);
}
END_TEST

START_TEST(overlong_sentence_is_cut_and_overlong_path_loses_its_front)
{
    char sentence[2 * HR_MESSAGE_TEXT];
    memset(sentence, 's', sizeof sentence - 1);
    sentence[sizeof sentence - 1] = '\0';
    char path[HR_MESSAGE_FILE + 100];
    memset(path, 'd', sizeof path);
    memcpy(path + sizeof path - sizeof "/loop.yaml", "/loop.yaml", sizeof "/loop.yaml");
    const struct hr_origin where = {.file = path, .line = 3, .column = 1};
    (void)hr_fail(&report, HR_INPUT, "long", &where, "%s", sentence);
    ck_assert_uint_eq(strlen(report.error[0].text), HR_MESSAGE_TEXT - 1);
    ck_assert_uint_eq(strlen(report.error[0].file), HR_MESSAGE_FILE - 1);
    ck_assert_str_eq(report.error[0].file + HR_MESSAGE_FILE - 1 - 11, "d/loop.yaml");
}
END_TEST

START_TEST(warning_is_said_once_a_place)
{
    const struct hr_origin first = {.file = "a.yaml", .line = 3, .column = 5};
    const struct hr_origin second = {.file = "a.yaml", .line = 4, .column = 5};
    hr_warn(&report, "range", &first, "flow %d", 1);
    hr_warn(&report, "range", &first, "flow %d", 1);
    ck_assert_uint_eq(report.warnings, 1);
    hr_warn(&report, "range", &first, "flow %d", 2);
    hr_warn(&report, "other", &first, "flow %d", 1);
    hr_warn(&report, "range", &second, "flow %d", 1);
    hr_warn(&report, "range", NULL, "flow %d", 1);
    ck_assert_uint_eq(report.warnings, 5);
    ck_assert_int_eq(report.status, HR_OK);
    ck_assert_uint_eq(report.errors, 0);
}
END_TEST

START_TEST(warnings_grow)
{
    for (int i = 0; i < 100; i++) {
        hr_warn(&report, "w", NULL, "warning %d", i);
    }
    ck_assert_uint_eq(report.warnings, 100);
    ck_assert_str_eq(report.warning[0].text, "warning 0");
    ck_assert_str_eq(report.warning[99].text, "warning 99");
    hr_report_clear(&report);
    ck_assert_uint_eq(report.warnings, 0);
    ck_assert_ptr_null(report.warning);
}
END_TEST

START_TEST(every_status_has_a_meaning)
{
    ck_assert_str_eq(hr_status_text(HR_OK), "done");
    ck_assert_str_eq(hr_status_text(HR_NO_RESULT), "no result exists");
    ck_assert_str_eq(hr_status_text((enum hr_status)99), "unknown status");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("report");
    TCase *c = tcase_create("report");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, failure_keeps_place_code_and_sentence);
    tcase_add_test(c, first_failure_decides_the_status);
    tcase_add_test(c, further_errors_are_only_counted);
    tcase_add_test(c, overlong_sentence_is_cut_and_overlong_path_loses_its_front);
    tcase_add_test(c, warning_is_said_once_a_place);
    tcase_add_test(c, warnings_grow);
    tcase_add_test(c, every_status_has_a_meaning);
    suite_add_tcase(s, c);
    return s;
}

HR_TEST_MAIN(suite)
