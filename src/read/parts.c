/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts: the model of the library under the keys of the file, read by the table of the kind, then made. */
#include "read/describe.h"

#include "read/syntax.h"

#include <string.h>

bool hr_kind_has_coolant(const struct hr_part_kind *kind)
{
    return hr_part_kind_key(kind, "in_series") != NULL; /* a key of everything that holds coolant */
}

bool hr_kind_has_air(const struct hr_part_kind *kind)
{
    /* Air elements hold no coolant, radiators have an air side, and a plain resistance does for either. */
    return !hr_kind_has_coolant(kind) || hr_part_kind_key(kind, "air_side") != NULL ||
           strcmp(kind->name, "resistance") == 0;
}

bool hr_make(struct hr_describer *d, const struct hr_part_kind *kind, const struct hr_params *params,
             void **part)
{
    struct hr_report *report = d->reader.report;
    const size_t errors = report->errors;
    const size_t warnings = report->warnings;
    *part = NULL;
    if (kind->make != NULL) {
        (void)kind->make(params, d->reader.arena, part, report);
    }
    const bool good = report->errors == errors;
    hr_report_thin(report, errors, warnings);
    return good;
}

void hr_use(struct hr_describer *d, size_t part)
{
    d->used[part] = true;
}

/* Room for one more part and what goes with it. */
static bool grow_parts(struct hr_describer *d)
{
    const size_t count = d->out->part_count;
    if (count < d->part_room) {
        return true;
    }
    const size_t room = d->part_room == 0 ? 16 : 2 * d->part_room;
    struct hr_part *parts = hr_arena_alloc(d->reader.arena, room, sizeof *parts);
    size_t(*ports)[HR_PORTS_MAX] = hr_arena_alloc(d->reader.arena, room, sizeof *ports);
    bool *used = hr_arena_alloc(d->reader.arena, room, sizeof *used);
    if (parts == NULL || ports == NULL || used == NULL) {
        return hr_no_memory(d);
    }
    if (count > 0) {
        memcpy(parts, d->out->parts, count * sizeof *parts);
        memcpy(ports, d->port_point, count * sizeof *ports);
        memcpy(used, d->used, count * sizeof *used);
    }
    d->out->parts = parts;
    d->port_point = ports;
    d->used = used;
    d->part_room = room;
    return true;
}

static struct hr_part *add_part(struct hr_describer *d, const char *name, const struct hr_origin *at)
{
    if (!grow_parts(d)) {
        return NULL;
    }
    struct hr_part *part = &d->out->parts[d->out->part_count];
    memset(part, 0, sizeof *part);
    part->name = name;
    part->at = *at;
    part->loop = HR_NONE;
    for (size_t i = 0; i < HR_PORTS_MAX; i++) {
        part->point[i] = HR_NONE;
        d->port_point[d->out->part_count][i] = HR_NONE;
    }
    d->used[d->out->part_count++] = false;
    return part;
}

/* The model that `model:` of a map names; *good is false after a reported fault. */
static const struct hr_model_file *model_of(struct hr_describer *d, const struct hr_yaml *map,
                                            const char *owner, bool *good)
{
    const struct hr_yaml *model = hr_yaml_get(map, "model");
    char found[64];
    if (model == NULL) {
        return NULL;
    }
    if (model->kind != HR_YAML_SCALAR || hr_yaml_is_null(model)) {
        *good = hr_wrong(d, "wrong-form", &model->at, "model of %s: found %s; write the name of a model",
                         owner, hr_yaml_describe(model, found, sizeof found));
        return NULL;
    }
    struct hr_report *report = d->reader.report;
    const size_t errors = report->errors;
    const size_t warnings = report->warnings;
    const struct hr_model_file *file = hr_library_model(d->source, model->text, &model->at, report);
    hr_report_thin(report, errors, warnings);
    *good = file != NULL;
    return file;
}

/* Kind and model of a part; false after a reported fault. */
static bool find_kind(struct hr_describer *d, const struct hr_yaml *map, const char *owner,
                      struct hr_part *part, const struct hr_model_file **model)
{
    bool good = true;
    const struct hr_yaml *kind = hr_yaml_get(map, "kind");
    *model = model_of(d, map, owner, &good);
    if (!good) {
        return false;
    }
    if (*model != NULL) {
        part->kind = (*model)->kind;
        part->model = (*model)->name;
        part->model_file = (*model)->path;
    }
    if (kind == NULL && *model == NULL) {
        return hr_wrong(d, "no-kind", &part->at,
                        "%s has neither model nor kind; write for instance model: NAME", owner);
    }
    if (kind == NULL) {
        return true;
    }
    const struct hr_part_kind *named = hr_kind_named(kind, owner, d->reader.report);
    if (named == NULL) {
        return false;
    }
    if (*model != NULL && named != part->kind) {
        return hr_wrong(d, "other-kind", &kind->at,
                        "%s has kind %s, but its model '%s' is of kind %s; delete the kind", owner,
                        named->name, part->model, part->kind->name);
    }
    part->kind = named;
    return true;
}

/* Fills a part from a map; the part's kind stays NULL after a fault that leaves it unknown. */
static bool read_part(struct hr_describer *d, size_t index, const struct hr_yaml *map, const char *owner)
{
    struct hr_part *part = &d->out->parts[index];
    const struct hr_model_file *model = NULL;
    if (!find_kind(d, map, owner, part, &model)) {
        return false;
    }
    const struct hr_part_kind *kind = part->kind;
    const struct hr_yaml *merged =
        hr_values_merge(d->reader.arena, model == NULL ? NULL : model->root, map, kind->groups);
    if (merged == NULL) {
        return hr_no_memory(d);
    }
    merged = hr_overlay_sets(d, part->name, merged, kind->groups);
    if (merged == NULL) {
        return false;
    }
    const struct hr_values_job job = {
        .map = merged, .groups = kind->groups, .owner = owner, .kind = kind->name, .path = ""};
    const struct hr_params *params = NULL;
    if (!hr_values_read(&d->reader, &job, &params)) {
        return false;
    }
    part->params = params;
    return hr_make(d, kind, params, &part->part);
}

static void read_entry(struct hr_describer *d, const struct hr_yaml *key, const struct hr_yaml *map)
{
    char found[64];
    const char *owner = hr_arena_format(d->reader.arena, "part '%.60s'", key->text);
    if (owner == NULL) {
        (void)hr_no_memory(d);
        return;
    }
    if (!hr_claim(d, key->text, HR_NAMED_PART, d->out->part_count, &key->at) ||
        add_part(d, key->text, &key->at) == NULL) {
        return;
    }
    if (map->kind != HR_YAML_MAP) {
        (void)hr_yaml_describe(map, found, sizeof found);
        (void)hr_wrong(d, "wrong-form", hr_yaml_is_null(map) ? &key->at : &map->at,
                       "%s: found %s; write a mapping such as {model: NAME} or {kind: NAME, ...}", owner,
                       found);
        return;
    }
    (void)read_part(d, d->out->part_count - 1, map, owner);
}

bool hr_parts_read(struct hr_describer *d)
{
    const struct hr_yaml *parts = hr_yaml_get(d->root, "parts");
    char found[64];
    if (!grow_parts(d)) {
        return false;
    }
    if (parts == NULL) {
        return true;
    }
    if (parts->kind != HR_YAML_MAP) {
        const struct hr_origin key = hr_yaml_key_at(d->root, "parts");
        (void)hr_wrong(d, "wrong-form", hr_yaml_is_null(parts) ? &key : &parts->at,
                       "parts: found %s; write a mapping of names, such as pump: {model: NAME}",
                       hr_yaml_describe(parts, found, sizeof found));
        return true;
    }
    for (size_t i = 0; i < parts->count; i++) {
        read_entry(d, parts->key[i], parts->value[i]);
    }
    return true;
}

size_t hr_part_implied(struct hr_describer *d, const char *name, const struct hr_yaml *model)
{
    const size_t index = d->out->part_count;
    const char *owner = hr_arena_format(d->reader.arena, "the tee of '%s'", name);
    struct hr_yaml *map = hr_yaml_map_copy(d->reader.arena, NULL, 1, &model->at);
    const struct hr_yaml *key = hr_yaml_scalar(d->reader.arena, "model", &model->at);
    if (owner == NULL || map == NULL || key == NULL) {
        (void)hr_no_memory(d);
        return HR_NONE;
    }
    if (!hr_claim(d, name, HR_NAMED_PART, index, &model->at) || add_part(d, name, &model->at) == NULL) {
        return HR_NONE;
    }
    hr_yaml_put(map, key, model);
    d->out->parts[index].implied = true;
    return read_part(d, index, map, owner) ? index : HR_NONE;
}
