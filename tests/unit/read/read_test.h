/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the reader share: a loop file as text, described, with its report. */
#ifndef READ_TEST_H
#define READ_TEST_H

#include "hr_test.h"

#include "read/description.h"

#include <stdlib.h>
#include <string.h>

struct loop {
    struct hr_report report;
    struct hr_source *source;
    struct hr_description *d;
    enum hr_status status;
};

/* A path below the source tree, in a static buffer of its own for each caller. */
static inline const char *tree_path(char buffer[512], const char *below)
{
    const char *models = getenv("HEADRACE_MODELS");
    ck_assert_msg(models != NULL, "HEADRACE_MODELS must name the models folder");
    (void)snprintf(buffer, 512, "%s/../%s", models, below);
    return buffer;
}

static inline void loop_describe(struct loop *loop, const struct hr_override overrides[], size_t count,
                                 const char *state)
{
    hr_description_free(loop->d);
    hr_report_clear(&loop->report);
    loop->status = hr_source_describe(loop->source, overrides, count, state, &loop->d, &loop->report);
}

/* Opens and describes; `models` may be NULL. */
static inline void loop_open(struct loop *loop, const char *text, const char *models)
{
    memset(loop, 0, sizeof *loop);
    hr_report_init(&loop->report);
    loop->status = hr_source_open_text(text, strlen(text), "t.yaml", models, &loop->source, &loop->report);
    if (loop->status == HR_OK) {
        loop_describe(loop, NULL, 0, NULL);
    }
}

static inline void loop_close(struct loop *loop)
{
    hr_description_free(loop->d);
    hr_source_free(loop->source);
    hr_report_clear(&loop->report);
}

/* The first error as the program prints it. */
static inline const char *loop_error(const struct loop *loop, char buffer[1024])
{
    const struct hr_message *error = &loop->report.error[0];
    buffer[0] = '\0';
    if (loop->report.errors > 0) {
        (void)snprintf(buffer, 1024, "%s:%u:%u: %s", error->file, error->line, error->column, error->text);
    }
    return buffer;
}

static inline void loop_must_be_good(const struct loop *loop)
{
    char buffer[1024];
    ck_assert_msg(loop->status == HR_OK, "not read: %s", loop_error(loop, buffer));
}

static inline void loop_must_fail(const struct loop *loop, const char *message)
{
    char buffer[1024];
    ck_assert_int_ne(loop->status, HR_OK);
    ck_assert_str_eq(loop_error(loop, buffer), message);
}

static inline const struct hr_part *loop_part(const struct loop *loop, const char *name)
{
    const size_t i = hr_description_part(loop->d, name);
    ck_assert_msg(i != HR_NONE, "no part '%s'", name);
    return &loop->d->parts[i];
}

static inline const struct hr_run *loop_run(const struct loop *loop, const char *name)
{
    const size_t i = hr_description_run(loop->d, name);
    ck_assert_msg(i != HR_NONE, "no run '%s'", name);
    return &loop->d->runs[i];
}

#endif
