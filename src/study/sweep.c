/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A loop over one or two ranges. Speeds of pumps are set in the network and solved from the last solution;
 * any other value is put over the file, which is then described anew. */
#include "headrace/sweep.h"

#include "study/study.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { VALUE_ROOM = 80 };

struct hr_sweep_settings hr_sweep_defaults(void)
{
    return (struct hr_sweep_settings){.tolerance_k = 1.0, .gain_k = 0.2};
}

const char *hr_knee_name(enum hr_knee_definition definition)
{
    switch (definition) {
    case HR_KNEE_ENOUGH:
        return "enough";
    case HR_KNEE_BEND:
        return "bend";
    case HR_KNEE_GAIN:
        return "per-100-rpm";
    }
    return "unknown";
}

void hr_sweep_free(struct hr_sweep *sweep)
{
    if (sweep == NULL) {
        return;
    }
    for (size_t i = 0; i < sweep->points; i++) {
        hr_result_free(sweep->point[i]);
    }
    for (size_t a = 0; a < HR_AXES_MAX; a++) {
        struct hr_swept rest = {.axis = sweep->axis[a]};
        hr_swept_clear(&rest);
    }
    free(sweep->point);
    free(sweep);
}

/* What one sweep works on. `rig` stands at the last point; it is made anew where a value is put over the
 * file. */
struct sweeper {
    struct hr_source *source;
    const struct hr_variant *variant;
    struct hr_swept swept[HR_AXES_MAX];
    size_t axes;
    struct hr_rig *rig;
    struct hr_override *override; /* the variant's, then one for each ordinary axis */
    char value[HR_AXES_MAX][VALUE_ROOM];
};

/* Describes the loop with the axes' values put over the file; the speeds are set afterwards. */
static enum hr_status describe_point(struct sweeper *sweeper, const double at[], struct hr_report *report)
{
    size_t overrides = sweeper->variant->overrides;
    for (size_t a = 0; a < sweeper->axes; a++) {
        const struct hr_axis *axis = &sweeper->swept[a].axis;
        if (axis->pump_speed) {
            continue;
        }
        const int length =
            snprintf(sweeper->value[a], VALUE_ROOM, "%.15g%s%s", at[a], axis->unit[0] ? " " : "", axis->unit);
        if (length < 0 || length >= VALUE_ROOM) {
            return hr_fail(report, HR_USAGE, "bad-range", NULL, "the unit '%s' of '%s' is too long",
                           axis->unit, axis->name);
        }
        sweeper->override[overrides++] = (struct hr_override){axis->name, sweeper->value[a]};
    }
    const struct hr_variant variant = {sweeper->variant->state, sweeper->override, overrides};
    hr_rig_free(sweeper->rig);
    return hr_rig_open(sweeper->source, &variant, &sweeper->rig, report);
}

static bool needs_describing(const struct sweeper *sweeper)
{
    for (size_t a = 0; a < sweeper->axes; a++) {
        if (!sweeper->swept[a].axis.pump_speed) {
            return true;
        }
    }
    return false;
}

static enum hr_status run_point(struct sweeper *sweeper, const double at[], struct hr_result **result,
                                struct hr_report *report)
{
    if (needs_describing(sweeper)) {
        const enum hr_status status = describe_point(sweeper, at, report);
        if (status != HR_OK) {
            return status;
        }
    }
    for (size_t a = 0; a < sweeper->axes; a++) {
        if (sweeper->swept[a].axis.pump_speed) {
            hr_swept_apply(&sweeper->swept[a], sweeper->rig, at[a]);
        }
    }
    return hr_rig_run(sweeper->rig, result, report);
}

static enum hr_status run_points(struct sweeper *sweeper, struct hr_sweep *sweep, struct hr_report *report)
{
    const size_t inner = sweeper->axes > 1 ? sweeper->swept[1].axis.count : 1;
    const size_t outer = sweeper->swept[0].axis.count;
    if (outer > HR_SWEEP_POINTS_MAX / inner) {
        return hr_fail(report, HR_USAGE, "too-many-points", NULL, "the sweep has %zu points; %d are the most",
                       outer * inner, HR_SWEEP_POINTS_MAX);
    }
    sweep->point = hr_alloc(outer * inner, sizeof(struct hr_result *));
    if (sweep->point == NULL) {
        return hr_fail_memory(report);
    }
    bool any = false;
    for (size_t i = 0; i < outer * inner; i++) {
        const double at[HR_AXES_MAX] = {sweeper->swept[0].axis.value[i / inner],
                                        sweeper->axes > 1 ? sweeper->swept[1].axis.value[i % inner] : NAN};
        const enum hr_status status = run_point(sweeper, at, &sweep->point[i], report);
        if (sweep->point[i] != NULL) {
            sweep->points++;
        }
        if (status != HR_OK && status != HR_NO_RESULT) {
            return status;
        }
        if (sweep->point[i] == NULL) {
            return status; /* no network at all: said in the report */
        }
        any = any || status == HR_OK;
    }
    return any ? HR_OK : HR_NO_RESULT;
}

static enum hr_status find_knees(struct sweeper *sweeper, struct hr_sweep *sweep,
                                 const struct hr_sweep_settings *settings, struct hr_report *report)
{
    if (sweep->axes != 1 || !sweeper->swept[0].axis.pump_speed) {
        sweep->no_knee = "knees are looked for over one range of pump speeds";
        return HR_OK;
    }
    return hr_sweep_find_knees(sweep, &sweeper->swept[0], sweeper->rig, settings, report);
}

static enum hr_status prepare(struct sweeper *sweeper, const char *const axis[], size_t axes,
                              struct hr_report *report)
{
    const size_t overrides = sweeper->variant->overrides;
    sweeper->override = hr_alloc(overrides + HR_AXES_MAX, sizeof *sweeper->override);
    if (sweeper->override == NULL) {
        return hr_fail_memory(report);
    }
    if (overrides > 0) {
        memcpy(sweeper->override, sweeper->variant->override, overrides * sizeof *sweeper->override);
    }
    enum hr_status status = hr_rig_open(sweeper->source, sweeper->variant, &sweeper->rig, report);
    for (size_t a = 0; a < axes && status == HR_OK; a++) {
        status = hr_swept_read(axis[a], sweeper->rig, &sweeper->swept[a], report);
        sweeper->axes += status == HR_OK;
    }
    return status;
}

/* Hands the axes over to the sweep; the pumps behind them stay. */
static void give_axes(struct sweeper *sweeper, struct hr_sweep *sweep)
{
    sweep->axes = sweeper->axes;
    for (size_t a = 0; a < sweeper->axes; a++) {
        sweep->axis[a] = sweeper->swept[a].axis;
    }
}

static void clear(struct sweeper *sweeper, bool axes_given)
{
    hr_rig_free(sweeper->rig);
    free(sweeper->override);
    for (size_t a = 0; a < sweeper->axes; a++) {
        if (axes_given) {
            sweeper->swept[a].axis = (struct hr_axis){0};
        }
        hr_swept_clear(&sweeper->swept[a]);
    }
}

enum hr_status hr_sweep(struct hr_source *source, const struct hr_variant *variant, const char *const axis[],
                        size_t axes, const struct hr_sweep_settings *settings, struct hr_sweep **sweep,
                        struct hr_report *report)
{
    static const struct hr_variant as_written;
    const struct hr_sweep_settings defaults = hr_sweep_defaults();
    *sweep = NULL;
    if (axes < 1 || axes > HR_AXES_MAX) {
        return hr_fail(report, HR_USAGE, "axes", NULL,
                       "a sweep takes one range or two, such as pump.speed=800..4800:200");
    }
    struct sweeper sweeper = {.source = source, .variant = variant != NULL ? variant : &as_written};
    struct hr_sweep *made = hr_alloc(1, sizeof *made);
    enum hr_status status = made == NULL ? hr_fail_memory(report) : prepare(&sweeper, axis, axes, report);
    const bool prepared = status == HR_OK;
    if (prepared) {
        give_axes(&sweeper, made);
        status = run_points(&sweeper, made, report);
    }
    if (status == HR_OK) {
        status = find_knees(&sweeper, made, settings != NULL ? settings : &defaults, report);
    }
    clear(&sweeper, prepared);
    if (status != HR_OK && (status != HR_NO_RESULT || made == NULL || made->points == 0)) {
        hr_sweep_free(made);
        return status;
    }
    *sweep = made;
    return status;
}
