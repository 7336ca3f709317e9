/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop_text.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void require(bool good, const struct hr_report *report, const char *what)
{
    for (size_t i = 0; i < report->errors && i < HR_ERRORS_MAX && !good; i++) {
        fprintf(stderr, "%s:%u:%u: %s\n", report->error[i].file, report->error[i].line,
                report->error[i].column, report->error[i].text);
    }
    ck_assert_msg(good, "%s", what);
}

struct hr_source *loop_open(const char *text)
{
    struct hr_report report;
    struct hr_source *source;
    hr_report_init(&report);
    const enum hr_status status =
        hr_source_open_text(text, strlen(text), "test.yaml", getenv("HEADRACE_MODELS"), &source, &report);
    require(status == HR_OK, &report, "the loop cannot be read");
    hr_report_clear(&report);
    return source;
}

struct hr_result *loop_solve(const char *text, enum hr_status expected)
{
    struct hr_source *source = loop_open(text);
    struct hr_report report;
    struct hr_result *result;
    hr_report_init(&report);
    const enum hr_status status = hr_solve(source, NULL, &result, &report);
    require(status == expected, &report, "the loop ends with another status than expected");
    hr_report_clear(&report);
    hr_source_free(source);
    return result;
}

struct hr_sweep *loop_sweep(const char *text, const char *axis)
{
    struct hr_source *source = loop_open(text);
    struct hr_report report;
    struct hr_sweep *sweep;
    hr_report_init(&report);
    const enum hr_status status = hr_sweep(source, NULL, &axis, 1, NULL, &sweep, &report);
    require(status == HR_OK, &report, "the sweep fails");
    hr_report_clear(&report);
    hr_source_free(source);
    return sweep;
}

const struct hr_branch_result *loop_branch(const struct hr_result *result, const char *name)
{
    for (size_t b = 0; b < result->branches; b++) {
        if (strcmp(result->branch[b].name, name) == 0) {
            return &result->branch[b];
        }
    }
    ck_abort_msg("no branch '%s'", name);
    return NULL;
}

const struct hr_node_result *loop_node(const struct hr_result *result, const char *name)
{
    for (size_t i = 0; i < result->nodes; i++) {
        if (strcmp(result->node[i].name, name) == 0) {
            return &result->node[i];
        }
    }
    ck_abort_msg("no node '%s'", name);
    return NULL;
}

const struct hr_message *loop_warning(const struct hr_result *result, const char *code)
{
    for (size_t i = 0; i < result->warnings; i++) {
        if (strcmp(result->warning[i].code, code) == 0) {
            return &result->warning[i];
        }
    }
    return NULL;
}
