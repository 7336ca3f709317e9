/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities: as a text, as a mapping with its uncertainty, under control, and in rows. */
#include "read/forms.h"

#include "read/names.h"
#include "read/syntax.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The unit at the end of a quantity that was read well, with its conversion; false for bare numbers. */
static bool unit_of(const char *text, enum hr_quantity quantity, char unit[32], double *factor,
                    double *offset)
{
    size_t end = strlen(text);
    const char *deviation = strstr(text, "±");
    const char *other = strstr(text, "+-");
    if (deviation != NULL || other != NULL) {
        end = (size_t)((deviation != NULL ? deviation : other) - text);
    }
    while (end > 0 && text[end - 1] == ' ') {
        end--;
    }
    for (size_t i = end > 31 ? end - 31 : 0; i < end; i++) {
        memcpy(unit, text + i, end - i);
        unit[end - i] = '\0';
        if (hr_unit_find(unit, quantity, factor, offset)) {
            return true;
        }
    }
    return false;
}

/* A bound of the key in the unit that the user wrote. */
static void show_bound(const char *text, enum hr_quantity quantity, double bound, char shown[64])
{
    char unit[32];
    double factor = 1;
    double offset = 0;
    if (unit_of(text, quantity, unit, &factor, &offset)) {
        (void)snprintf(shown, 64, "%.6g %s", (bound - offset) / factor, unit);
    } else {
        (void)snprintf(shown, 64, "%.6g", bound);
    }
}

/* Bounds are those of the plain meaning; of metres and flows only the sign is known to be wrong. */
static bool in_range(const struct hr_spot *spot, const struct hr_yaml *node, const struct hr_number *number)
{
    const struct hr_key *key = spot->key;
    if ((key->min == 0 && key->max == 0) || number->meaning == HR_PERCENT ||
        number->meaning == HR_OVER_AMBIENT) {
        return true;
    }
    const bool plain = number->meaning == HR_PLAIN;
    const double low = plain ? key->min : fmin(key->min, 0);
    const double high = plain ? key->max : (double)INFINITY;
    if (number->value >= low && number->value <= high) {
        return true;
    }
    char shown[64];
    char bound[64];
    const bool below = number->value < low;
    show_bound(node->text, key->quantity, below ? low : high, bound);
    return hr_form_wrong(spot, "out-of-range", &node->at, "'%s' is too %s; write %s %s",
                         hr_shown(node->text, shown, sizeof shown), below ? "small" : "large",
                         below ? "at least" : "at most", bound);
}

/* What to write for a quantity, from the words of whoever reads it. */
static void show_example(enum hr_quantity quantity, char example[HR_MESSAGE_TEXT])
{
    struct hr_number number = {0};
    (void)hr_quantity_parse("?", quantity, &number, example, HR_MESSAGE_TEXT);
    const char *advice = strstr(example, "; ");
    if (advice != NULL) {
        memmove(example, advice + 2, strlen(advice + 2) + 1);
    }
}

bool hr_form_number(const struct hr_spot *spot, const struct hr_yaml *node, enum hr_quantity quantity,
                    const char *what, struct hr_number *number)
{
    char why[HR_MESSAGE_TEXT];
    if (node->kind != HR_YAML_SCALAR || hr_yaml_is_null(node)) {
        char found[64];
        show_example(quantity, why);
        return hr_form_wrong(spot, "wrong-form", &node->at, "%sfound %s; %s", what,
                             hr_yaml_describe(node, found, sizeof found), why);
    }
    if (!hr_quantity_parse(node->text, quantity, number, why, sizeof why)) {
        return hr_form_wrong(spot, "no-quantity", &node->at, "%s%s", what, why);
    }
    return true;
}

static bool store(const struct hr_spot *spot, const struct hr_yaml *node)
{
    struct hr_number number = {0};
    if (!hr_form_number(spot, node, spot->key->quantity, "", &number) || !in_range(spot, node, &number)) {
        return false;
    }
    spot->value->number = number.value;
    spot->value->sd = number.sd;
    spot->value->meaning = number.meaning;
    return true;
}

/* A deviation is a difference: in kelvin for temperatures, a share of the value where written in percent. */
static bool read_sd(const struct hr_spot *spot, const struct hr_yaml *node)
{
    const enum hr_quantity own = spot->key->quantity;
    const bool temperature = own == HR_TEMPERATURE || own == HR_LIMIT_TEMPERATURE;
    struct hr_number number = {0};
    const bool percent = node->kind == HR_YAML_SCALAR && strchr(node->text, '%') != NULL;
    const enum hr_quantity quantity = temperature ? HR_TEMPERATURE_DIFFERENCE : (percent ? HR_SHARE : own);
    if (!hr_form_number(spot, node, quantity, "sd: ", &number)) {
        return false;
    }
    const bool share = percent && own != HR_SHARE && spot->value->meaning != HR_PERCENT;
    if (number.value < 0) {
        return hr_form_wrong(spot, "out-of-range", &node->at, "sd is negative; write one standard deviation");
    }
    if (!share && !temperature && number.meaning != spot->value->meaning && !percent) {
        return hr_form_wrong(spot, "mixed-units", &node->at,
                             "sd and value are not of one sort; use the same unit");
    }
    spot->value->sd = share ? number.value * fabs(spot->value->number) : number.value;
    return true;
}

static bool read_bound(const struct hr_spot *spot, const struct hr_yaml *node, const char *name,
                       double *bound)
{
    char what[16];
    struct hr_number number = {0};
    (void)snprintf(what, sizeof what, "%s: ", name);
    if (!hr_form_number(spot, node, spot->key->quantity, what, &number)) {
        return false;
    }
    if (number.meaning != spot->value->meaning) {
        return hr_form_wrong(spot, "mixed-units", &node->at,
                             "%s and value are not of one sort; use the same unit", name);
    }
    *bound = number.value;
    return true;
}

static bool read_fit(const struct hr_spot *spot, const struct hr_yaml *node)
{
    if (hr_yaml_is(node, "true") || hr_yaml_is(node, "yes")) {
        spot->value->fit = true;
        return true;
    }
    if (hr_yaml_is(node, "false") || hr_yaml_is(node, "no")) {
        return true;
    }
    return hr_form_wrong(spot, "no-flag", &node->at, "fit is neither true nor false; write one of the two");
}

/* {value: 320 W, sd: 10 W, fit: true, min: 250 W, max: 400 W} */
static bool read_mapping(const struct hr_spot *spot)
{
    const struct hr_yaml *map = spot->node;
    const struct hr_yaml *value = hr_yaml_get(map, "value");
    if (value == NULL) {
        return hr_form_wrong(spot, "no-value", &map->at,
                             "the mapping has no 'value'; write {value: ..., sd: ...} or "
                             "the quantity alone");
    }
    bool good = store(spot, value);
    for (size_t i = 0; good && i < map->count; i++) {
        const char *key = map->key[i]->text;
        const struct hr_yaml *node = map->value[i];
        char shown[64];
        if (strcmp(key, "sd") == 0) {
            good = read_sd(spot, node);
        } else if (strcmp(key, "fit") == 0) {
            good = read_fit(spot, node);
        } else if (strcmp(key, "min") == 0) {
            good = read_bound(spot, node, "min", &spot->value->fit_min);
        } else if (strcmp(key, "max") == 0) {
            good = read_bound(spot, node, "max", &spot->value->fit_max);
        } else if (strcmp(key, "value") != 0) {
            good = hr_form_wrong(spot, "unknown-key", &map->key[i]->at,
                                 "unknown key '%s'; a quantity takes value, sd, fit, min and max",
                                 hr_shown(key, shown, sizeof shown));
        }
    }
    if (good && (spot->value->number < spot->value->fit_min || spot->value->number > spot->value->fit_max)) {
        return hr_form_wrong(spot, "out-of-range", &value->at, "the value is outside its own min and max");
    }
    return good;
}

bool hr_form_quantity(const struct hr_spot *spot)
{
    if (spot->node->kind != HR_YAML_MAP) {
        return store(spot, spot->node);
    }
    if (hr_yaml_get(spot->node, "from") != NULL || hr_yaml_get(spot->node, "points") != NULL) {
        return hr_form_control(spot);
    }
    return read_mapping(spot);
}

/* "row 3: ", or nothing for the only one. */
static void name_row(char what[32], size_t row)
{
    (void)snprintf(what, 32, "row %zu: ", row + 1);
}

static bool row_length(const struct hr_spot *spot, const struct hr_yaml *row, size_t number)
{
    const struct hr_key *key = spot->key;
    char found[64];
    if (row->kind != HR_YAML_LIST) {
        return hr_form_wrong(spot, "wrong-form", &row->at,
                             "row %zu is %s; write a list of %zu values: [..., ...]", number + 1,
                             hr_yaml_describe(row, found, sizeof found), key->column_count);
    }
    if (row->count == key->column_count) {
        return true;
    }
    for (size_t i = 0; row->count > key->column_count && i + 1 < row->count; i++) {
        const struct hr_yaml *whole = row->value[i];
        const struct hr_yaml *rest = row->value[i + 1];
        if (whole->kind == HR_YAML_SCALAR && rest->kind == HR_YAML_SCALAR && whole->text[0] != '\0' &&
            whole->text[strspn(whole->text, "0123456789-")] == '\0' && rest->text[0] >= '0' &&
            rest->text[0] <= '9') {
            char after[64];
            return hr_form_wrong(
                spot, "decimal-comma", &whole->at,
                "row %zu has %zu values in place of %zu; a decimal comma parts them, write %s.%s", number + 1,
                row->count, key->column_count, hr_shown(whole->text, found, sizeof found),
                hr_shown(rest->text, after, sizeof after));
        }
    }
    return hr_form_wrong(spot, "row-length", &row->at, "row %zu has %zu value%s; it takes %zu", number + 1,
                         row->count, row->count == 1 ? "" : "s", key->column_count);
}

static bool read_cell(const struct hr_spot *spot, const struct hr_yaml *cell, size_t row, size_t column)
{
    struct hr_value *value = spot->value;
    char what[32];
    struct hr_number number = {0};
    name_row(what, row);
    if (!hr_form_number(spot, cell, spot->key->columns[column], what, &number)) {
        return false;
    }
    if (row == 0) {
        value->column_meaning[column] = number.meaning;
    } else if (value->column_meaning[column] != number.meaning) {
        return hr_form_wrong(spot, "mixed-units", &cell->at,
                             "row %zu is not of the same sort as row 1; use the same unit in each row",
                             row + 1);
    }
    value->rows[row * value->column_count + column] = number.value;
    return true;
}

bool hr_form_rows(const struct hr_spot *spot)
{
    const struct hr_key *key = spot->key;
    const struct hr_yaml *node = spot->node;
    const bool list = key->form == HR_FORM_LIST;
    struct hr_value *value = spot->value;
    if (node->kind != HR_YAML_LIST || node->count == 0) {
        char found[64];
        return hr_form_wrong(spot, "wrong-form", &node->at, "found %s; write a list%s%s",
                             node->kind == HR_YAML_LIST ? "an empty list"
                                                        : hr_yaml_describe(node, found, sizeof found),
                             key->help == NULL ? "" : ": ", key->help == NULL ? "" : key->help);
    }
    if (!list && node->value[0]->kind == HR_YAML_SCALAR && node->count == key->column_count) {
        return hr_form_wrong(spot, "wrong-form", &node->at,
                             "found a single row; write a list of rows: [[%s, ...], [...]]",
                             node->value[0]->text);
    }
    value->column_count = list ? 1 : key->column_count;
    value->row_count = node->count;
    value->rows = hr_arena_alloc(spot->reader->arena, node->count * value->column_count, sizeof(double));
    if (value->rows == NULL) {
        (void)hr_fail_memory(spot->reader->report);
        return false;
    }
    bool good = true;
    for (size_t i = 0; i < node->count; i++) {
        if (list) {
            good = read_cell(spot, node->value[i], i, 0) && good;
            continue;
        }
        bool row = row_length(spot, node->value[i], i);
        for (size_t j = 0; row && j < value->column_count; j++) {
            row = read_cell(spot, node->value[i]->value[j], i, j);
        }
        good = row && good;
    }
    return good;
}
