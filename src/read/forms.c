/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counts, flags, choices, texts, names, lists of names, mappings. */
#include "read/forms.h"

#include "base/text.h"
#include "read/names.h"
#include "read/syntax.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

bool hr_form_wrong(const struct hr_spot *spot, const char *code, const struct hr_origin *at,
                   const char *format, ...)
{
    char text[HR_MESSAGE_TEXT];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    return hr_fault(spot->reader, code, at, "%s%s of %s: %s", spot->job->path, spot->key->name,
                    spot->job->owner, text);
}

static bool wrong_memory(const struct hr_spot *spot)
{
    (void)hr_fail_memory(spot->reader->report);
    return false;
}

static bool want_scalar(const struct hr_spot *spot, const struct hr_yaml *node, const char *wanted)
{
    char found[64];
    if (node->kind == HR_YAML_SCALAR && !hr_yaml_is_null(node)) {
        return true;
    }
    return hr_form_wrong(spot, "wrong-form", &node->at, "found %s; write %s",
                         hr_yaml_describe(node, found, sizeof found), wanted);
}

/* A whole number of at most nine digits. */
static bool parse_count(const struct hr_spot *spot, const struct hr_yaml *node, double *count)
{
    char shown[64];
    if (!want_scalar(spot, node, "a whole number")) {
        return false;
    }
    const size_t digits = strspn(node->text, "0123456789");
    if (digits == 0 || node->text[digits] != '\0') {
        return hr_form_wrong(spot, "no-count", &node->at, "'%s' is not a whole number; write for instance 2",
                             hr_shown(node->text, shown, sizeof shown));
    }
    if (digits > 9) {
        return hr_form_wrong(spot, "out-of-range", &node->at, "'%s' is too large a number",
                             hr_shown(node->text, shown, sizeof shown));
    }
    *count = 0;
    for (size_t i = 0; i < digits; i++) {
        *count = 10 * *count + (node->text[i] - '0');
    }
    return true;
}

static bool read_count(const struct hr_spot *spot)
{
    const struct hr_key *key = spot->key;
    if (!parse_count(spot, spot->node, &spot->value->number)) {
        return false;
    }
    const bool bounded = key->min != 0 || key->max != 0;
    if (bounded && (spot->value->number < key->min || spot->value->number > key->max)) {
        return hr_form_wrong(spot, "out-of-range", &spot->node->at,
                             "%.0f is out of range; write a whole number from %.0f to %.0f",
                             spot->value->number, key->min, key->max);
    }
    return true;
}

static bool read_flag(const struct hr_spot *spot)
{
    static const char *const words[] = {"true", "yes", "on", "false", "no", "off"};
    char shown[64];
    if (!want_scalar(spot, spot->node, "true or false")) {
        return false;
    }
    for (size_t i = 0; i < HR_ARRAY_LEN(words); i++) {
        if (strcmp(spot->node->text, words[i]) == 0) {
            spot->value->number = i < 3 ? 1 : 0;
            return true;
        }
    }
    return hr_form_wrong(spot, "no-flag", &spot->node->at,
                         "'%s' is neither true nor false; write one of the two",
                         hr_shown(spot->node->text, shown, sizeof shown));
}

/* The index of a text among the choices, or a fault with the nearest or all of them. */
static bool find_choice(const struct hr_spot *spot, const struct hr_yaml *node, const char **found)
{
    size_t count = 0;
    struct hr_text list = {0};
    const char *const *choices = spot->key->choices;
    for (; choices[count] != NULL; count++) {
        if (strcmp(choices[count], node->text) == 0) {
            hr_text_clear(&list);
            *found = choices[count];
            return true;
        }
        hr_text_add(&list, "%s%s", count == 0 ? "" : ", ", choices[count]);
    }
    const char *nearest = hr_nearest(node->text, choices, count);
    char shown[64];
    char meant[96];
    (void)hr_shown(node->text, shown, sizeof shown);
    if (nearest != NULL) {
        (void)hr_form_wrong(spot, "unknown-choice", &node->at, "'%s' is unknown%s", shown,
                            hr_did_you_mean(nearest, meant, sizeof meant));
    } else {
        (void)hr_form_wrong(spot, "unknown-choice", &node->at, "'%s' is unknown; write one of %.300s", shown,
                            list.failed ? "the choices" : list.bytes);
    }
    hr_text_clear(&list);
    return false;
}

static bool read_choice(const struct hr_spot *spot)
{
    return want_scalar(spot, spot->node, "one of its words") &&
           find_choice(spot, spot->node, &spot->value->text);
}

static bool read_text(const struct hr_spot *spot)
{
    if (!want_scalar(spot, spot->node, "a text")) {
        return false;
    }
    spot->value->text = spot->node->text;
    return true;
}

static bool check_name(const struct hr_spot *spot, const struct hr_yaml *node)
{
    char shown[64];
    if (!want_scalar(spot, node, "a name")) {
        return false;
    }
    if (!hr_is_name(node->text)) {
        return hr_form_wrong(spot, "no-name", &node->at,
                             "'%s' is not a name; names have letters, digits, '-' and '_' only",
                             hr_shown(node->text, shown, sizeof shown));
    }
    return true;
}

static bool mention(const struct hr_spot *spot, const struct hr_yaml *node, bool sensor)
{
    struct hr_reader *reader = spot->reader;
    struct hr_mention *larger = hr_arena_grow(reader->arena, reader->mention, reader->mentions,
                                              &reader->mention_room, sizeof *larger);
    const char *key = hr_arena_format(reader->arena, "%s%s", spot->job->path, spot->key->name);
    if (larger == NULL || key == NULL) {
        return wrong_memory(spot);
    }
    reader->mention = larger;
    reader->mention[reader->mentions++] =
        (struct hr_mention){node->text, key, spot->job->owner, node->at, sensor};
    return true;
}

static bool read_name(const struct hr_spot *spot)
{
    if (!check_name(spot, spot->node)) {
        return false;
    }
    spot->value->text = spot->node->text;
    return mention(spot, spot->node, false);
}

static bool read_names(const struct hr_spot *spot)
{
    const struct hr_yaml *node = spot->node;
    const bool list = node->kind == HR_YAML_LIST;
    const size_t count = list ? node->count : 1;
    bool good = true;
    spot->value->names = hr_arena_alloc(spot->reader->arena, count, sizeof(char *));
    if (spot->value->names == NULL) {
        return wrong_memory(spot);
    }
    for (size_t i = 0; i < count; i++) {
        const struct hr_yaml *item = list ? node->value[i] : node;
        const bool found = spot->key->choices == NULL ? check_name(spot, item) && mention(spot, item, false)
                                                      : want_scalar(spot, item, "one of its words") &&
                                                            find_choice(spot, item, &spot->value->names[i]);
        if (found && spot->key->choices == NULL) {
            spot->value->names[i] = item->text;
        }
        good = found && good;
    }
    spot->value->row_count = count;
    return good;
}

static bool read_counts(const struct hr_spot *spot)
{
    const struct hr_yaml *node = spot->node;
    char found[64];
    if (node->kind != HR_YAML_MAP) {
        return hr_form_wrong(spot, "wrong-form", &node->at, "found %s; write a mapping such as {elbow-90: 2}",
                             hr_yaml_describe(node, found, sizeof found));
    }
    struct hr_value *value = spot->value;
    value->names = hr_arena_alloc(spot->reader->arena, node->count, sizeof(char *));
    value->rows = hr_arena_alloc(spot->reader->arena, node->count, sizeof(double));
    if (value->names == NULL || value->rows == NULL) {
        return wrong_memory(spot);
    }
    bool good = true;
    value->column_count = 1;
    for (size_t i = 0; i < node->count; i++) {
        if (hr_yaml_is_null(node->value[i])) {
            good = hr_form_wrong(spot, "no-value", &node->key[i]->at, "'%s' has no number; write %s: 1",
                                 hr_shown(node->key[i]->text, found, sizeof found), found);
            continue;
        }
        value->names[value->row_count] = node->key[i]->text;
        const bool counted = parse_count(spot, node->value[i], &value->rows[value->row_count]);
        good = counted && good;
        value->row_count += counted ? 1 : 0;
    }
    return good;
}

static bool read_map(const struct hr_spot *spot)
{
    const struct hr_yaml *node = spot->node;
    char found[64];
    if (node->kind != HR_YAML_MAP) {
        return hr_form_wrong(spot, "wrong-form", &node->at, "found %s; write a mapping%s%s",
                             hr_yaml_describe(node, found, sizeof found), spot->key->help == NULL ? "" : ": ",
                             spot->key->help == NULL ? "" : spot->key->help);
    }
    const struct hr_key_group *const groups[] = {spot->key->sub, NULL};
    struct hr_values_job job = {.map = node, .groups = groups, .owner = spot->job->owner};
    job.path = hr_arena_format(spot->reader->arena, "%s%s.", spot->job->path, spot->key->name);
    if (job.path == NULL) {
        return wrong_memory(spot);
    }
    const struct hr_params *map = NULL;
    const bool good = hr_values_read(spot->reader, &job, &map);
    spot->value->map = (struct hr_params *)map;
    return good;
}

bool hr_form_read(const struct hr_spot *spot)
{
    switch (spot->key->form) {
    case HR_FORM_QUANTITY:
        return hr_form_quantity(spot);
    case HR_FORM_COUNT:
        return read_count(spot);
    case HR_FORM_FLAG:
        return read_flag(spot);
    case HR_FORM_CHOICE:
        return read_choice(spot);
    case HR_FORM_TEXT:
        return read_text(spot);
    case HR_FORM_NAME:
        return read_name(spot);
    case HR_FORM_NAMES:
        return read_names(spot);
    case HR_FORM_ROWS:
    case HR_FORM_LIST:
        return hr_form_rows(spot);
    case HR_FORM_MAP:
        return read_map(spot);
    case HR_FORM_COUNTS:
        return read_counts(spot);
    }
    return false;
}
