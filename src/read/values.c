/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mappings against tables of keys: which keys are known, which are missing, which exclude each other. */
#include "read/values.h"

#include "base/text.h"
#include "part/keys.h"
#include "read/forms.h"
#include "read/syntax.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { KEYS_SHOWN = 200, NAMES_MAX = 160 };

static bool same_place(const struct hr_message *message, const struct hr_origin *at)
{
    return message->line == at->line && message->column == at->column && at->file != NULL &&
           strlen(at->file) < HR_MESSAGE_FILE && strcmp(message->file, at->file) == 0;
}

bool hr_fault(struct hr_reader *reader, const char *code, const struct hr_origin *at, const char *format, ...)
{
    struct hr_report *report = reader->report;
    const size_t kept = report->errors < HR_ERRORS_MAX ? report->errors : HR_ERRORS_MAX;
    for (size_t i = 0; i < kept; i++) {
        if (at->line > 0 && same_place(&report->error[i], at)) {
            return false;
        }
    }
    char text[HR_MESSAGE_TEXT];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    (void)hr_fail(report, HR_INPUT, code, at, "%s", text);
    return false;
}

static bool repeats(const struct hr_message *a, const struct hr_message *b)
{
    return a->line == b->line && a->column == b->column && a->line > 0 && strcmp(a->code, b->code) == 0 &&
           strcmp(a->file, b->file) == 0;
}

static size_t thin(struct hr_message message[], size_t first, size_t count)
{
    size_t kept = first;
    for (size_t i = first; i < count; i++) {
        bool known = false;
        for (size_t j = 0; j < kept && !known; j++) {
            known = repeats(&message[i], &message[j]);
        }
        if (!known && kept != i) {
            message[kept] = message[i];
        }
        kept += known ? 0 : 1;
    }
    return count - kept;
}

void hr_report_thin(struct hr_report *report, size_t first_error, size_t first_warning)
{
    const size_t errors = report->errors < HR_ERRORS_MAX ? report->errors : HR_ERRORS_MAX;
    if (first_error < errors) {
        report->errors -= thin(report->error, first_error, errors);
    }
    if (first_warning < report->warnings) {
        report->warnings -= thin(report->warning, first_warning, report->warnings);
    }
}

bool hr_is_name(const char *text)
{
    static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";
    return text[0] != '\0' && text[strspn(text, letters)] == '\0';
}

const char *hr_did_you_mean(const char *nearest, char *buffer, size_t room)
{
    buffer[0] = '\0';
    if (nearest != NULL) {
        char shown[64];
        (void)snprintf(buffer, room, "; did you mean '%s'?", hr_shown(nearest, shown, sizeof shown));
    }
    return buffer;
}

enum shape { SHAPE_SCALAR, SHAPE_LIST, SHAPE_MAP };

static enum shape shape_of(enum hr_form form)
{
    switch (form) {
    case HR_FORM_ROWS:
    case HR_FORM_LIST:
    case HR_FORM_NAMES:
        return SHAPE_LIST;
    case HR_FORM_MAP:
    case HR_FORM_COUNTS:
        return SHAPE_MAP;
    default:
        return SHAPE_SCALAR;
    }
}

static bool fits(const struct hr_key *key, const struct hr_yaml *node)
{
    const enum shape shape = shape_of(key->form);
    return node != NULL && ((node->kind == HR_YAML_SCALAR && shape == SHAPE_SCALAR) ||
                            (node->kind == HR_YAML_LIST && shape == SHAPE_LIST) ||
                            (node->kind == HR_YAML_MAP && shape == SHAPE_MAP));
}

const struct hr_key *hr_values_key(const struct hr_key_group *const *groups, const char *name,
                                   const struct hr_yaml *node)
{
    const struct hr_key *first = NULL;
    for (size_t g = 0; groups[g] != NULL; g++) {
        for (size_t i = 0; i < groups[g]->count; i++) {
            const struct hr_key *key = &groups[g]->keys[i];
            if (strcmp(key->name, name) != 0) {
                continue;
            }
            if (fits(key, node)) {
                return key;
            }
            first = first == NULL ? key : first;
        }
    }
    return first;
}

/* The different names of the keys, as many as fit; those that every part has come last. */
static size_t key_names(const struct hr_key_group *const *groups, const char *names[NAMES_MAX])
{
    size_t count = 0;
    for (int last = 0; last < 2; last++) {
        for (size_t g = 0; groups[g] != NULL; g++) {
            const bool of_all = groups[g] == &hr_keys_any || groups[g] == &hr_keys_coolant;
            for (size_t i = 0; of_all == (last == 1) && i < groups[g]->count && count < NAMES_MAX; i++) {
                const char *name = groups[g]->keys[i].name;
                if (i == 0 || strcmp(groups[g]->keys[i - 1].name, name) != 0) {
                    names[count++] = name;
                }
            }
        }
    }
    return count;
}

const char *hr_values_nearest(const struct hr_key_group *const *groups, const char *name)
{
    const char *names[NAMES_MAX];
    return hr_nearest(name, names, key_names(groups, names));
}

static void list_keys(const char *const names[], size_t count, char shown[KEYS_SHOWN])
{
    size_t used = 0;
    shown[0] = '\0';
    for (size_t i = 0; i < count; i++) {
        const size_t length = strlen(names[i]);
        if (used + length + 8 > KEYS_SHOWN) {
            (void)snprintf(shown + used, KEYS_SHOWN - used, ", ...");
            return;
        }
        used += (size_t)snprintf(shown + used, KEYS_SHOWN - used, "%s%s", i == 0 ? "" : ", ", names[i]);
    }
}

static bool unknown_key(struct hr_reader *reader, const struct hr_values_job *job, const struct hr_yaml *key)
{
    const char *names[NAMES_MAX];
    const size_t count = key_names(job->groups, names);
    char shown[64];
    char kind[64] = "";
    (void)hr_shown(key->text, shown, sizeof shown);
    if (job->kind != NULL) {
        (void)snprintf(kind, sizeof kind, " of kind %s", job->kind);
    }
    if (strcmp(key->text, "count") == 0 && hr_values_key(job->groups, "in_series", NULL) != NULL) {
        return hr_fault(
            reader, "unknown-key", &key->at,
            "'count' is for fans; of %s%s write in_series or in_parallel, as the parts are connected",
            job->owner, kind);
    }
    const char *nearest = hr_nearest(key->text, names, count);
    if (nearest != NULL) {
        return hr_fault(reader, "unknown-key", &key->at, "%s%s has no key '%s%s'; did you mean '%s%s'?",
                        job->owner, kind, job->path, shown, job->path, nearest);
    }
    char list[KEYS_SHOWN];
    list_keys(names, count, list);
    return hr_fault(reader, "unknown-key", &key->at, "%s%s has no key '%s%s'; its keys are %s", job->owner,
                    kind, job->path, shown, list);
}

/* True when no two values are of the same set of excluding keys. */
static bool check_excluding(struct hr_reader *reader, const struct hr_values_job *job,
                            const struct hr_params *params)
{
    bool good = true;
    for (size_t i = 0; i < params->count; i++) {
        const struct hr_key *one = params->value[i].key;
        for (size_t j = 0; j < i && one->instead != NULL; j++) {
            const struct hr_key *other = params->value[j].key;
            if (other->instead != NULL && strcmp(one->instead, other->instead) == 0) {
                const struct hr_value *first = &params->value[j];
                good =
                    hr_fault(reader, "excluding-keys", &params->value[i].at,
                             "%s has both %s%s (line %u) and %s%s; each of them alone says it all, keep one",
                             job->owner, job->path, first->key->name, first->at.line, job->path, one->name);
            }
        }
    }
    return good;
}

static bool check_required(struct hr_reader *reader, const struct hr_values_job *job)
{
    bool good = true;
    for (size_t g = 0; job->groups[g] != NULL; g++) {
        for (size_t i = 0; i < job->groups[g]->count; i++) {
            const struct hr_key *key = &job->groups[g]->keys[i];
            if (!key->required || hr_yaml_get(job->map, key->name) != NULL) {
                continue;
            }
            good = false;
            (void)hr_fail(reader->report, HR_INPUT, "missing-key", &job->map->at, "%s needs the key %s%s%s%s",
                          job->owner, job->path, key->name, key->help == NULL ? "" : ": ",
                          key->help == NULL ? "" : key->help);
        }
    }
    return good;
}

static bool read_entry(struct hr_reader *reader, const struct hr_values_job *job, size_t i,
                       struct hr_params *params)
{
    const struct hr_yaml *name = job->map->key[i];
    const struct hr_yaml *node = job->map->value[i];
    const struct hr_key *key = hr_values_key(job->groups, name->text, node);
    if (key == NULL) {
        return unknown_key(reader, job, name);
    }
    struct hr_value *value = &params->value[params->count];
    memset(value, 0, sizeof *value);
    value->key = key;
    value->at = node->at;
    value->fit_min = value->fit_max = (double)NAN;
    const struct hr_spot spot = {reader, job, key, node, value};
    if (hr_yaml_is_null(node)) {
        return hr_form_wrong(&spot, "no-value", &name->at, "there is no value; write one or delete the key");
    }
    if (!hr_form_read(&spot)) {
        return false;
    }
    params->count++;
    return true;
}

bool hr_values_read(struct hr_reader *reader, const struct hr_values_job *job,
                    const struct hr_params **params)
{
    *params = NULL;
    struct hr_params *read = hr_arena_alloc(reader->arena, 1, sizeof *read);
    if (read == NULL) {
        (void)hr_fail_memory(reader->report);
        return false;
    }
    read->owner = job->owner;
    read->at = job->map->at;
    read->value = hr_arena_alloc(reader->arena, job->map->count, sizeof *read->value);
    if (read->value == NULL) {
        (void)hr_fail_memory(reader->report);
        return false;
    }
    bool good = true;
    bool known = true; /* a misspelt key is not missing too */
    for (size_t i = 0; i < job->map->count; i++) {
        known = known && hr_values_key(job->groups, job->map->key[i]->text, NULL) != NULL;
        good = read_entry(reader, job, i, read) && good;
    }
    good = check_excluding(reader, job, read) && good;
    good = (!known || check_required(reader, job)) && good;
    *params = read;
    return good;
}

/* True where `over` has a key that stands instead of `key`. */
static bool displaced(const struct hr_key *key, const struct hr_yaml *over,
                      const struct hr_key_group *const *groups)
{
    for (size_t i = 0; key != NULL && key->instead != NULL && i < over->count; i++) {
        const struct hr_key *other = hr_values_key(groups, over->key[i]->text, over->value[i]);
        if (other != NULL && other->instead != NULL && strcmp(other->instead, key->instead) == 0) {
            return true;
        }
    }
    return false;
}

const struct hr_yaml *hr_values_merge(struct hr_arena *arena, const struct hr_yaml *base,
                                      const struct hr_yaml *over, const struct hr_key_group *const *groups)
{
    if (base == NULL || over == NULL) {
        return base == NULL ? over : base;
    }
    struct hr_yaml *merged = hr_yaml_map_copy(arena, NULL, base->count + over->count, &over->at);
    if (merged == NULL) {
        return NULL;
    }
    for (size_t i = 0; i < base->count; i++) {
        if (!displaced(hr_values_key(groups, base->key[i]->text, base->value[i]), over, groups)) {
            hr_yaml_put(merged, base->key[i], base->value[i]);
        }
    }
    for (size_t i = 0; i < over->count; i++) {
        hr_yaml_put(merged, over->key[i], over->value[i]);
    }
    return merged;
}
