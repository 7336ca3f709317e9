/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the tree to the description, in the order in which things need each other: names of the file before
 * names made for it, ends before runs, runs before what stands at their ends. */
#include "read/describe.h"

#include "base/text.h"
#include "read/syntax.h"

#include <stdlib.h>
#include <string.h>

/* False where a key is misspelt: what it was to say would then be missing everywhere. */
static bool check_top_keys(struct hr_describer *d)
{
    bool good = true;
    size_t count = 0;
    const char *const *keys = hr_top_keys(&count);
    char shown[64];
    char meant[96];
    for (size_t i = 0; i < d->root->count; i++) {
        const struct hr_yaml *key = d->root->key[i];
        if (strcmp(key->text, "groups") == 0) {
            (void)hr_wrong(d, "not-yet", &key->at, "groups are kept for later and cannot be used yet");
        } else if (!hr_is_top_key(key->text)) {
            const char *nearest = hr_nearest(key->text, keys, count);
            good = good && nearest == NULL;
            (void)hr_wrong(d, "unknown-key", &key->at, "a loop file has no key '%s'%s",
                           hr_shown(key->text, shown, sizeof shown),
                           nearest == NULL
                               ? "; among its keys are parts, route, runs, tubing, coolant, air and limits"
                               : hr_did_you_mean(nearest, meant, sizeof meant));
        }
    }
    return good;
}

static void check_any_loop(struct hr_describer *d)
{
    const struct hr_origin whole = {d->source->file, 0, 0};
    for (size_t i = 0; i < d->out->loop_count; i++) {
        if (d->out->loops[i].has_route || hr_yaml_get(d->loop[i].map, "route") != NULL ||
            hr_yaml_get(d->loop[i].map, "runs") != NULL) {
            return;
        }
    }
    if (hr_yaml_get(d->root, "air") != NULL) {
        return;
    }
    (void)hr_fail(d->reader.report, HR_INPUT, "no-loop", &whole,
                  hr_yaml_get(d->root, "parts") == NULL
                      ? "the file describes no loop; write parts and a route, or runs"
                      : "the file has parts but nothing that joins them; write a route, such as route: "
                        "[pump, gpu, radiator]");
}

/* The sensors of runs know drafts; the runs are numbered otherwise. */
static void resolve_sensors(struct hr_describer *d)
{
    for (size_t i = 0; i < d->out->sensor_count; i++) {
        struct hr_sensor *sensor = (struct hr_sensor *)&d->out->sensors[i];
        if (sensor->run != HR_NONE) {
            sensor->run = hr_description_run(d->out, d->run[sensor->run].name);
        }
    }
}

static bool fill(struct hr_describer *d, const struct hr_override overrides[], size_t count,
                 const char *state)
{
    if (!hr_overlay(d, overrides, count, state) || !check_top_keys(d)) {
        return false;
    }
    hr_head_read(d);
    if (!hr_parts_read(d) || !hr_loops_read(d)) {
        return false;
    }
    check_any_loop(d);
    hr_air_read(d);
    if (d->line_of == NULL || !hr_runs_name(d)) {
        return false;
    }
    if (d->route_is_laid && !hr_route_mark(d)) {
        return false;
    }
    hr_runs_match(d);
    if (!hr_runs_finish(d)) {
        return false;
    }
    hr_feeds_read(d);
    hr_heights_read(d);
    hr_sensors_read(d);
    hr_gangs_read(d);
    if (!hr_points_finish(d)) {
        return false;
    }
    resolve_sensors(d);
    hr_limits_read(d);
    hr_listening_read(d);
    hr_air_check(d);
    hr_mentions_check(d);
    hr_overlay_check(d);
    d->out->splits = d->split;
    d->out->split_count = d->splits;
    if (d->reader.report->errors == 0) {
        hr_points_check(d); /* what is missing can only be told when all else is right */
    }
    return d->reader.report->errors == 0;
}

enum hr_status hr_source_describe(struct hr_source *source, const struct hr_override overrides[],
                                  size_t count, const char *state, struct hr_description **description,
                                  struct hr_report *report)
{
    *description = NULL;
    struct hr_report own;
    hr_report_init(&own);
    struct hr_description *out = hr_alloc(1, sizeof *out);
    if (out == NULL) {
        return hr_fail_memory(report);
    }
    hr_arena_init(&out->arena);
    out->file = source->file;
    out->states = source->state;
    out->state_count = source->states;
    struct hr_describer d = {.reader = {.arena = &out->arena, .report = &own}, .source = source, .out = out};
    d.root = source->root;
    const bool good = fill(&d, overrides, count, state);
    for (size_t i = 0; i < own.warnings; i++) {
        const struct hr_message *warning = &own.warning[i];
        const struct hr_origin at = {warning->file[0] == '\0' ? NULL : warning->file, warning->line,
                                     warning->column};
        hr_warn(report, warning->code, &at, "%s", warning->text);
    }
    const size_t kept = own.errors < HR_ERRORS_MAX ? own.errors : HR_ERRORS_MAX;
    for (size_t i = 0; i < kept; i++) {
        const struct hr_message *error = &own.error[i];
        const struct hr_origin at = {error->file[0] == '\0' ? NULL : error->file, error->line, error->column};
        (void)hr_fail(report, own.status, error->code, &at, "%s", error->text);
    }
    report->errors += own.errors - kept;
    const enum hr_status status = own.status;
    hr_report_clear(&own);
    if (!good) {
        hr_description_free(out);
        return status == HR_OK ? hr_fail_memory(report) : status;
    }
    *description = out;
    return HR_OK;
}

void hr_description_free(struct hr_description *description)
{
    if (description != NULL) {
        hr_arena_clear(&description->arena);
        free(description);
    }
}

size_t hr_description_part(const struct hr_description *description, const char *name)
{
    for (size_t i = 0; i < description->part_count; i++) {
        if (strcmp(description->parts[i].name, name) == 0) {
            return i;
        }
    }
    return HR_NONE;
}

size_t hr_description_run(const struct hr_description *description, const char *name)
{
    for (size_t i = 0; i < description->run_count; i++) {
        if (strcmp(description->runs[i].name, name) == 0) {
            return i;
        }
    }
    return HR_NONE;
}

size_t hr_description_point(const struct hr_description *description, const char *name)
{
    for (size_t i = 0; i < description->point_count; i++) {
        if (strcmp(description->points[i].name, name) == 0) {
            return i;
        }
    }
    return HR_NONE;
}
