/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sweep as JSON: axes, every point with the keys of a solution, knees. */
#include "headrace/show.h"

#include "show/json.h"

#include <string.h>

static void write_axes(struct hr_json *json, const struct hr_sweep *sweep)
{
    hr_json_open_member(json, "axes", '[');
    for (size_t a = 0; a < sweep->axes; a++) {
        const struct hr_axis *axis = &sweep->axis[a];
        json_t *object = hr_json_object(json);
        json_t *values = hr_json_array(json);
        for (size_t i = 0; i < axis->count; i++) {
            hr_json_append_real(json, values, axis->value[i]);
        }
        hr_json_text(json, object, "name", axis->name);
        hr_json_text(json, object, "unit", axis->unit);
        hr_json_put(json, object, "values", values);
        hr_json_item(json, object);
    }
    hr_json_close(json, ']');
}

static void write_points(struct hr_json *json, const struct hr_sweep *sweep)
{
    const size_t inner = sweep->axes > 1 ? sweep->axis[1].count : 1;
    hr_json_open_member(json, "points", '[');
    for (size_t i = 0; i < sweep->points; i++) {
        json_t *at = hr_json_array(json);
        hr_json_append_real(json, at, sweep->axis[0].value[i / inner]);
        if (sweep->axes > 1) {
            hr_json_append_real(json, at, sweep->axis[1].value[i % inner]);
        }
        hr_json_open(json, '{');
        hr_json_member(json, "at", at);
        hr_json_result(json, sweep->point[i], NULL);
        hr_json_close(json, '}');
    }
    hr_json_close(json, ']');
}

static void write_knees(struct hr_json *json, const struct hr_sweep *sweep)
{
    hr_json_open_member(json, "knees", '[');
    for (size_t i = 0; i < sweep->knees; i++) {
        const struct hr_knee *knee = &sweep->knee[i];
        json_t *object = hr_json_object(json);
        hr_json_text(json, object, "definition", hr_knee_name(knee->definition));
        hr_json_text(json, object, "axis", sweep->axis[0].name);
        hr_json_text(json, object, "unit", sweep->axis[0].unit);
        hr_json_real(json, object, "value", knee->value);
        hr_json_text(json, object, "binding", knee->binding);
        hr_json_flag(json, object, "reached", knee->reached);
        hr_json_flag(json, object, "at_start", knee->at_start);
        hr_json_real(json, object, "flow_m3_s", knee->flow_m3_s);
        hr_json_real(json, object, "rise_k", knee->rise_k);
        hr_json_real(json, object, "best_rise_k", knee->best_k);
        hr_json_item(json, object);
    }
    hr_json_close(json, ']');
    hr_json_member_text(json, "no_knee", sweep->no_knee);
}

/* "solved" where any point is. */
static const char *status_of(const struct hr_sweep *sweep)
{
    for (size_t i = 0; i < sweep->points; i++) {
        if (strcmp(sweep->point[i]->status, "solved") == 0) {
            return "solved";
        }
    }
    return "no_solution";
}

enum hr_status hr_sweep_json(const struct hr_sweep *sweep, const struct hr_report *found, char **text,
                             struct hr_report *report)
{
    struct hr_json json = {0};
    hr_json_open(&json, '{');
    if (sweep->points > 0) {
        hr_json_member_text(&json, "title", sweep->point[0]->title);
        hr_json_member_text(&json, "state", sweep->point[0]->state);
    }
    hr_json_member_text(&json, "status", status_of(sweep));
    write_axes(&json, sweep);
    write_points(&json, sweep);
    write_knees(&json, sweep);
    hr_json_open_member(&json, "warnings", '[');
    for (size_t i = 0; found != NULL && i < found->warnings; i++) {
        hr_json_item(&json, hr_json_message(&json, &found->warning[i]));
    }
    hr_json_close(&json, ']');
    hr_json_close(&json, '}');
    return hr_json_finish(&json, text, report);
}
