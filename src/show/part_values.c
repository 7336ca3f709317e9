/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "show/part_values.h"

#include "base/memory.h"
#include "show/part_units.h"

#include <stdio.h>
#include <string.h>

enum { PATH_ROOM = 160, DEPTH_MAX = 8 }; /* the key tables nest three deep */

/* Texts about the part, which stand above its values. */
static bool is_told(const struct hr_key *key)
{
    static const char *const told[] = {"kind", "model", "summary", "source", "note"};
    for (size_t i = 0; i < HR_ARRAY_LEN(told); i++) {
        if (strcmp(key->name, told[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* A mapping that is being walked through. */
struct level {
    const struct hr_params *params;
    size_t next;
    size_t path_length; /* of the keys above it, with their dots */
};

void hr_values_walk(const struct hr_params *params, hr_value_visit *visit, void *context)
{
    struct level level[DEPTH_MAX] = {{.params = params}};
    size_t depth = 1;
    char path[PATH_ROOM];
    while (depth > 0) {
        struct level *here = &level[depth - 1];
        if (here->next == here->params->count) {
            depth--;
            continue;
        }
        const struct hr_value *value = &here->params->value[here->next++];
        if (depth == 1 && is_told(value->key)) {
            continue;
        }
        const size_t room = sizeof path - here->path_length;
        const int length = snprintf(path + here->path_length, room, "%s", value->key->name);
        if (value->map == NULL) {
            visit(context, path, value);
        } else if (depth < DEPTH_MAX && length > 0 && (size_t)length + 1 < room) {
            const size_t end = here->path_length + (size_t)length;
            path[end] = '.';
            level[depth++] = (struct level){.params = value->map, .path_length = end + 1};
        }
    }
}

static void add_rows(struct hr_text *text, const struct hr_value *value, const struct hr_shown_units *units,
                     const char *indent)
{
    for (size_t r = 0; r < value->row_count; r++) {
        hr_text_add(text, "%s", r == 0 ? "" : indent);
        for (size_t c = 0; c < value->column_count; c++) {
            hr_text_add(text, "%s", c == 0 ? "" : ", ");
            hr_add_quantity(text, value->rows[r * value->column_count + c], value->key->columns[c],
                            value->column_meaning[c], units);
        }
    }
}

static void add_list(struct hr_text *text, const struct hr_value *value, const struct hr_shown_units *units)
{
    for (size_t i = 0; i < value->row_count; i++) {
        hr_text_add(text, "%s", i == 0 ? "" : ", ");
        if (value->key->form == HR_FORM_LIST) {
            hr_add_quantity(text, value->rows[i], value->key->columns[0], value->column_meaning[0], units);
        } else if (value->key->form == HR_FORM_COUNTS) {
            hr_text_add(text, "%s: %g", value->names[i], value->rows[i]);
        } else {
            hr_text_add(text, "%s", value->names[i]);
        }
    }
}

void hr_add_value(struct hr_text *text, const struct hr_value *value, const struct hr_shown_units *units,
                  const char *indent)
{
    if (value->control != NULL) {
        hr_text_add(text, "follows the sensor %s", value->control->sensor);
        return;
    }
    switch (value->key->form) {
    case HR_FORM_QUANTITY:
        hr_add_quantity(text, value->number, value->key->quantity, value->meaning, units);
        break;
    case HR_FORM_COUNT:
        hr_text_add(text, "%g", value->number);
        break;
    case HR_FORM_FLAG:
        hr_text_add(text, "%s", value->number > 0.0 ? "true" : "false");
        break;
    case HR_FORM_CHOICE:
    case HR_FORM_TEXT:
    case HR_FORM_NAME:
        hr_text_add(text, "%s", value->text);
        break;
    case HR_FORM_ROWS:
        add_rows(text, value, units, indent);
        break;
    case HR_FORM_LIST:
    case HR_FORM_COUNTS:
    case HR_FORM_NAMES:
        add_list(text, value, units);
        break;
    case HR_FORM_MAP:
        break;
    }
}

static const char *unit_or_null(const char *unit)
{
    return unit[0] != '\0' ? unit : NULL;
}

static void put_rows(struct hr_json *json, json_t *object, const struct hr_value *value)
{
    const size_t columns = value->key->form == HR_FORM_ROWS ? value->column_count : 1;
    json_t *rows = hr_json_array(json);
    json_t *names = hr_json_array(json);
    for (size_t r = 0; r < value->row_count; r++) {
        json_t *row = hr_json_array(json);
        for (size_t c = 0; c < columns; c++) {
            hr_json_append_real(json, row, value->rows[r * columns + c]);
        }
        hr_json_append(json, rows, row);
    }
    for (size_t c = 0; c < columns; c++) {
        hr_json_append_text(json, names, hr_si_unit(value->key->columns[c], value->column_meaning[c]));
    }
    hr_json_put(json, object, "value", rows);
    hr_json_put(json, object, "units", names);
}

static void put_names(struct hr_json *json, json_t *object, const struct hr_value *value)
{
    const bool counted = value->key->form == HR_FORM_COUNTS;
    json_t *list = counted ? hr_json_object(json) : hr_json_array(json);
    for (size_t i = 0; i < value->row_count; i++) {
        if (counted) {
            hr_json_real(json, list, value->names[i], value->rows[i]);
        } else {
            hr_json_append_text(json, list, value->names[i]);
        }
    }
    hr_json_put(json, object, "value", list);
}

json_t *hr_value_json(struct hr_json *json, const char *path, const struct hr_value *value)
{
    json_t *object = hr_json_object(json);
    hr_json_text(json, object, "key", path);
    switch (value->key->form) {
    case HR_FORM_QUANTITY:
        hr_json_real(json, object, "value", value->number);
        hr_json_text(json, object, "unit", unit_or_null(hr_si_unit(value->key->quantity, value->meaning)));
        break;
    case HR_FORM_COUNT:
        hr_json_real(json, object, "value", value->number);
        break;
    case HR_FORM_FLAG:
        hr_json_flag(json, object, "value", value->number > 0.0);
        break;
    case HR_FORM_CHOICE:
    case HR_FORM_TEXT:
    case HR_FORM_NAME:
        hr_json_text(json, object, "value", value->text);
        break;
    case HR_FORM_ROWS:
    case HR_FORM_LIST:
        put_rows(json, object, value);
        break;
    case HR_FORM_COUNTS:
    case HR_FORM_NAMES:
        put_names(json, object, value);
        break;
    case HR_FORM_MAP:
        break;
    }
    hr_json_text(json, object, "help", value->key->help);
    return object;
}
