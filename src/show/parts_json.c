/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library of parts for programs. */
#include "headrace/show.h"

#include "show/json_write.h"
#include "show/part_table.h"
#include "show/part_values.h"

#include <math.h>
#include <stdlib.h>

static void put_model(struct hr_json *json, json_t *object, const struct hr_model *model)
{
    hr_json_text(json, object, "name", model->name);
    hr_json_text(json, object, "kind", model->kind->name);
    hr_json_text(json, object, "summary", model->summary);
    hr_json_text(json, object, "source", model->source);
    hr_json_text(json, object, "note", model->note);
    hr_json_text(json, object, "file", model->file);
}

enum hr_status hr_parts_json(struct hr_source *library, char **text, struct hr_report *report)
{
    size_t count;
    const char *const *name = hr_source_models(library, &count);
    struct hr_json json = {0};
    char *made = NULL;
    *text = NULL;
    hr_json_open(&json, '{');
    hr_json_open_member(&json, "parts", '[');
    for (size_t i = 0; i < count; i++) {
        struct hr_model model;
        if (hr_source_model(library, name[i], &model, report) == HR_OK) {
            json_t *object = hr_json_object(&json);
            put_model(&json, object, &model);
            hr_json_item(&json, object);
        }
    }
    hr_json_close(&json, ']');
    hr_json_close(&json, '}');
    const enum hr_status status = hr_json_finish(&json, &made, report);
    if (status != HR_OK || report->status != HR_OK) {
        free(made);
        return report->status;
    }
    *text = made;
    return HR_OK;
}

static void write_value(void *context, const char *path, const struct hr_value *value)
{
    struct hr_json *json = context;
    hr_json_item(json, hr_value_json(json, path, value));
}

static void write_ranges(struct hr_json *json, json_t *object, const struct hr_part_table *table)
{
    json_t *list = hr_json_array(json);
    for (size_t i = 0; i < table->ranges; i++) {
        const struct hr_range *range = &table->range[i];
        if (isnan(range->low) && isnan(range->high)) {
            continue;
        }
        json_t *bound = hr_json_object(json);
        hr_json_text(json, bound, "what", range->what);
        hr_json_text(json, bound, "unit", range->unit);
        hr_json_real(json, bound, "low", range->low);
        hr_json_real(json, bound, "high", range->high);
        hr_json_append(json, list, bound);
    }
    hr_json_put(json, object, "range", list);
}

static void write_samples(struct hr_json *json, json_t *object, const struct hr_part_table *table, size_t way)
{
    json_t *list = hr_json_array(json);
    for (size_t i = 0; i < table->samples; i++) {
        json_t *sample = hr_json_object(json);
        hr_json_real(json, sample, "flow_m3_s", table->sample[i].flow_m3_s);
        hr_json_real(json, sample, table->head ? "head_pa" : "dp_pa", table->sample[i].dp_pa[way]);
        hr_json_flag(json, sample, "out_of_range", table->sample[i].outside);
        hr_json_append(json, list, sample);
    }
    hr_json_put(json, object, "points", list);
}

static void write_table(struct hr_json *json, const struct hr_shown_part *part,
                        const struct hr_part_table *table)
{
    for (size_t way = 0; way < table->ways; way++) {
        json_t *object = hr_json_object(json);
        hr_json_text(json, object, "fluid", table->air ? "air" : "coolant");
        hr_json_real(json, object, "temperature_c", table->fluid.temperature_c);
        hr_json_real(json, object, "density_kg_m3", table->fluid.density);
        hr_json_real(json, object, "speed_rpm", table->speed_rpm);
        if (table->way[way] != NULL) {
            hr_json_text(json, object, "from", part->model.kind->ports[0]);
            hr_json_text(json, object, "to", table->way[way]);
        }
        if (part->bore_assumed && !table->air) {
            hr_json_real(json, object, "bore_assumed_m", HR_BORE_ASSUMED);
        }
        hr_json_text(json, object, "remark", table->remark);
        write_ranges(json, object, table);
        write_samples(json, object, table, way);
        hr_json_item(json, object);
    }
}

static void write_part(struct hr_json *json, const struct hr_shown_part *part)
{
    const struct hr_model *model = &part->model;
    hr_json_open(json, '{');
    hr_json_member_text(json, "name", model->name);
    hr_json_member_text(json, "kind", model->kind->name);
    hr_json_member_text(json, "summary", model->summary);
    hr_json_member_text(json, "source", model->source);
    hr_json_member_text(json, "note", model->note);
    hr_json_member_text(json, "file", model->file);
    hr_json_open_member(json, "values", '[');
    hr_values_walk(model->params, write_value, json);
    hr_json_close(json, ']');
    hr_json_open_member(json, "curves", '[');
    if (part->part != NULL && part->has_coolant) {
        write_table(json, part, &part->coolant);
    }
    if (part->part != NULL && part->has_air) {
        write_table(json, part, &part->air);
    }
    hr_json_close(json, ']');
    hr_json_member_text(json, "reason", part->part == NULL ? part->why_not : NULL);
    hr_json_close(json, '}');
}

enum hr_status hr_part_json(struct hr_source *library, const char *name, char **text,
                            struct hr_report *report)
{
    const struct hr_shown_unit litres_per_minute = {"L/min", 1.0 / 60e3, 0.0};
    struct hr_shown_part part;
    struct hr_json json = {0};
    *text = NULL;
    enum hr_status status = hr_shown_part_read(library, name, &litres_per_minute, &part, report);
    if (status == HR_OK) {
        write_part(&json, &part);
        status = hr_json_finish(&json, text, report);
    }
    hr_shown_part_clear(&part);
    return status;
}
