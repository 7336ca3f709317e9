/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A speed under control: {from: t1, points: [[30 degC, 600 rpm], …], hysteresis: 2 K}. */
#include "read/forms.h"

#include "read/names.h"

#include <math.h>
#include <string.h>

static const struct hr_key control_keys[] = {
    {.name = "from", .form = HR_FORM_TEXT, .required = true, .help = "the sensor"},
    {.name = "points",
     .form = HR_FORM_ROWS,
     .columns = {HR_TEMPERATURE, HR_SPEED},
     .column_count = 2,
     .required = true,
     .help = "[[30 degC, 600 rpm], [45 degC, 1500 rpm]]"},
    {.name = "hysteresis", .quantity = HR_TEMPERATURE_DIFFERENCE, .min = 0, .max = 100, .help = "2 K"},
};
static const struct hr_key_group control_group = {control_keys, HR_ARRAY_LEN(control_keys)};
static const struct hr_key_group *const control_groups[] = {&control_group, NULL};

static bool mention_sensor(const struct hr_spot *spot, const struct hr_value *from)
{
    struct hr_reader *reader = spot->reader;
    struct hr_mention *larger = hr_arena_grow(reader->arena, reader->mention, reader->mentions,
                                              &reader->mention_room, sizeof *larger);
    const char *key = hr_arena_format(reader->arena, "%s%s.from", spot->job->path, spot->key->name);
    if (larger == NULL || key == NULL) {
        (void)hr_fail_memory(reader->report);
        return false;
    }
    reader->mention = larger;
    reader->mention[reader->mentions++] =
        (struct hr_mention){from->text, key, spot->job->owner, from->at, true};
    return true;
}

static bool fill(const struct hr_spot *spot, const struct hr_params *params, struct hr_control *control)
{
    const struct hr_value *points = hr_param(params, "points");
    control->sensor = hr_param_text(params, "from", NULL);
    control->hysteresis_k = hr_param_number(params, "hysteresis", 0);
    control->count = points->row_count;
    control->percent = points->column_meaning[1] == HR_PERCENT;
    control->temperature_c = hr_arena_alloc(spot->reader->arena, control->count, sizeof(double));
    control->speed = hr_arena_alloc(spot->reader->arena, control->count, sizeof(double));
    if (control->temperature_c == NULL || control->speed == NULL) {
        (void)hr_fail_memory(spot->reader->report);
        return false;
    }
    for (size_t i = 0; i < control->count; i++) {
        control->temperature_c[i] = points->rows[2 * i];
        control->speed[i] = points->rows[2 * i + 1];
        if (control->speed[i] < 0) {
            return hr_form_wrong(spot, "out-of-range", &points->at, "row %zu: the speed is negative", i + 1);
        }
        if (i > 0 && control->temperature_c[i] <= control->temperature_c[i - 1]) {
            return hr_form_wrong(
                spot, "not-increasing", &points->at,
                "row %zu: the temperature %g degC is not above the %g degC before it; put the rows "
                "in order of temperature",
                i + 1, control->temperature_c[i], control->temperature_c[i - 1]);
        }
    }
    return true;
}

bool hr_form_control(const struct hr_spot *spot)
{
    if (spot->key->quantity != HR_SPEED && spot->key->quantity != HR_SPEED_OR_FLOW) {
        return hr_form_wrong(spot, "not-controlled", &spot->node->at,
                             "only a speed can be under control; write %s",
                             hr_quantity_name(spot->key->quantity));
    }
    struct hr_values_job job = {.map = spot->node, .groups = control_groups, .owner = spot->job->owner};
    job.path = hr_arena_format(spot->reader->arena, "%s%s.", spot->job->path, spot->key->name);
    struct hr_control *control = hr_arena_alloc(spot->reader->arena, 1, sizeof *control);
    if (job.path == NULL || control == NULL) {
        (void)hr_fail_memory(spot->reader->report);
        return false;
    }
    const struct hr_params *params = NULL;
    if (!hr_values_read(spot->reader, &job, &params) || !fill(spot, params, control)) {
        return false;
    }
    spot->value->control = control;
    spot->value->number = (double)NAN;
    spot->value->meaning = control->percent ? HR_PERCENT : HR_PLAIN;
    return mention_sensor(spot, hr_param(params, "from"));
}
