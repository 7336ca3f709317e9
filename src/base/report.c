/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Errors and warnings: fixed buffers for errors, a growing list for warnings. */
#include "base/report.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void hr_report_init(struct hr_report *report)
{
    memset(report, 0, sizeof *report);
}

void hr_report_clear(struct hr_report *report)
{
    free(report->warning);
    hr_report_init(report);
}

const char *hr_status_text(enum hr_status status)
{
    switch (status) {
#define HR_STATUS_TEXT(name, value, text)                                                                    \
    case name:                                                                                               \
        return text;
        HR_STATUS_LIST(HR_STATUS_TEXT)
#undef HR_STATUS_TEXT
    }
    return "unknown status";
}

/* The end of a path says more than its beginning, so a long one loses its front. */
static void copy_tail(char *target, size_t room, const char *source)
{
    const size_t length = strlen(source);
    const char *start = length < room ? source : source + (length - room + 1);
    memcpy(target, start, strlen(start) + 1);
}

static void fill(struct hr_message *message, const char *code, const struct hr_origin *where,
                 const char *format, va_list arguments)
{
    memset(message, 0, sizeof *message);
    message->code = code;
    if (where != NULL && where->file != NULL) {
        copy_tail(message->file, sizeof message->file, where->file);
        message->line = where->line;
        message->column = where->column;
    }
    /* A sentence that does not fit is cut: vsnprintf always ends it. */
    if (vsnprintf(message->text, sizeof message->text, format, arguments) < 0) {
        copy_tail(message->text, sizeof message->text, "a message could not be formatted");
    }
}

enum hr_status hr_fail(struct hr_report *report, enum hr_status status, const char *code,
                       const struct hr_origin *where, const char *format, ...)
{
    if (report->status == HR_OK) {
        report->status = status;
    }
    if (report->errors < HR_ERRORS_MAX) {
        va_list arguments;
        va_start(arguments, format);
        fill(&report->error[report->errors], code, where, format, arguments);
        va_end(arguments);
    }
    report->errors++;
    return status;
}

enum hr_status hr_fail_memory(struct hr_report *report)
{
    return hr_fail(report, HR_SYSTEM, "out-of-memory", NULL, "out of memory");
}

static bool same(const struct hr_message *a, const struct hr_message *b)
{
    return a->line == b->line && a->column == b->column && strcmp(a->code, b->code) == 0 &&
           strcmp(a->text, b->text) == 0 && strcmp(a->file, b->file) == 0;
}

static bool make_room(struct hr_report *report)
{
    if (report->warnings < report->warnings_room) {
        return true;
    }
    const size_t room = report->warnings_room == 0 ? 8 : 2 * report->warnings_room;
    struct hr_message *larger = realloc(report->warning, room * sizeof *larger);
    if (larger == NULL) {
        return false;
    }
    report->warning = larger;
    report->warnings_room = room;
    return true;
}

void hr_warn(struct hr_report *report, const char *code, const struct hr_origin *where, const char *format,
             ...)
{
    struct hr_message message;
    va_list arguments;
    va_start(arguments, format);
    fill(&message, code, where, format, arguments);
    va_end(arguments);
    for (size_t i = 0; i < report->warnings; i++) {
        if (same(&report->warning[i], &message)) {
            return;
        }
    }
    if (!make_room(report)) {
        (void)hr_fail_memory(report);
        return;
    }
    report->warning[report->warnings++] = message;
}
