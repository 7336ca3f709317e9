/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Errors and warnings: collecting them, and writing them as FILE:LINE:COLUMN: TEXT or as JSON. */
#include "cli.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Adds a message to the report's errors and gives its text to the caller to fill; NULL where there is no
 * room. */
static char *new_error(struct hr_cli *cli, enum hr_status status, const char *code)
{
    struct hr_report *report = &cli->report;
    if (report->status == HR_OK) {
        report->status = status;
    }
    const size_t index = report->errors++;
    if (index >= HR_ERRORS_MAX) {
        return NULL;
    }
    memset(&report->error[index], 0, sizeof report->error[index]);
    report->error[index].code = code;
    return report->error[index].text;
}

enum hr_status hr_cli_fail(struct hr_cli *cli, enum hr_status status, const char *code, const char *format,
                           ...)
{
    char *text = new_error(cli, status, code);
    if (text != NULL) {
        va_list arguments;
        va_start(arguments, format);
        (void)vsnprintf(text, HR_MESSAGE_TEXT, format, arguments);
        va_end(arguments);
    }
    return status;
}

enum hr_status hr_cli_fail_memory(struct hr_cli *cli)
{
    return hr_cli_fail(cli, HR_SYSTEM, "no-memory",
                       "memory is out; close other programs, or ask for fewer points");
}

static bool is_same(const struct hr_message *a, const struct hr_message *b, bool by_place)
{
    return a->line == b->line && a->column == b->column && strcmp(a->code, b->code) == 0 &&
           strcmp(a->file, b->file) == 0 && (by_place || strcmp(a->text, b->text) == 0);
}

enum hr_status hr_cli_warn(struct hr_cli *cli, const struct hr_message warning[], size_t count, bool by_place)
{
    for (size_t i = 0; i < count; i++) {
        size_t known = 0;
        while (known < cli->warnings && !is_same(&cli->warning[known].message, &warning[i], by_place)) {
            known++;
        }
        if (known < cli->warnings) {
            cli->warning[known].times++;
            continue;
        }
        struct hr_cli_warning *larger =
            hr_cli_grow(cli->warning, cli->warnings, &cli->warnings_room, sizeof *larger);
        if (larger == NULL) {
            return hr_cli_fail_memory(cli);
        }
        cli->warning = larger;
        cli->warning[cli->warnings++] = (struct hr_cli_warning){.message = warning[i], .times = 1};
    }
    return HR_OK;
}

/* FILE:LINE:COLUMN: of a message, or the program's name. The file as a whole is its first place, so that
 * every message has the same form. */
static void write_place(const struct hr_message *message)
{
    if (message->file[0] == '\0') {
        (void)fprintf(stderr, "headrace: ");
        return;
    }
    (void)fprintf(stderr, "%s:%u:%u: ", message->file, message->line > 0 ? message->line : 1,
                  message->column > 0 ? message->column : 1);
}

static void write_errors(const struct hr_cli *cli)
{
    const struct hr_report *report = &cli->report;
    const size_t kept = report->errors < HR_ERRORS_MAX ? report->errors : HR_ERRORS_MAX;
    for (size_t i = 0; i < kept; i++) {
        write_place(&report->error[i]);
        (void)fprintf(stderr, "%s\n", report->error[i].text);
    }
    if (report->errors > kept) {
        (void)fprintf(stderr, "headrace: %zu more errors are not shown\n", report->errors - kept);
    }
}

static void write_warnings(const struct hr_cli *cli)
{
    for (size_t i = 0; i < cli->warnings; i++) {
        const struct hr_cli_warning *warning = &cli->warning[i];
        write_place(&warning->message);
        (void)fprintf(stderr, "warning: %s", warning->message.text);
        if (warning->times > 1) {
            (void)fprintf(stderr, " (and at %zu more)", warning->times - 1);
        }
        (void)fprintf(stderr, "\n");
    }
}

static bool write_errors_json(struct hr_cli *cli)
{
    struct hr_report spare;
    hr_report_init(&spare);
    char *text = NULL;
    bool written = hr_errors_json(&cli->report, &text, &spare) == HR_OK;
    if (written) {
        written = fputs(text, stdout) >= 0 && fflush(stdout) == 0;
    }
    free(text);
    hr_report_clear(&spare);
    return written;
}

void hr_cli_write_messages(struct hr_cli *cli)
{
    const bool json = (cli->given & HR_CLI_JSON) != 0;
    if (cli->report.errors > 0 && (!json || !write_errors_json(cli))) {
        write_errors(cli);
    }
    /* With --json they stand in the result; beside a fault of the file they mostly follow from it. */
    if (!json && cli->report.status != HR_INPUT && cli->report.status != HR_USAGE) {
        write_warnings(cli);
    }
}

void hr_cli_say_reason(const struct hr_cli *cli, const struct hr_result *result)
{
    if (result->reason != NULL && (cli->given & HR_CLI_JSON) == 0) {
        (void)fprintf(stderr, "%s: no solution exists%s%s: %s\n", cli->argument[0],
                      result->state != NULL ? " in state " : "", result->state != NULL ? result->state : "",
                      result->reason);
    }
}
