/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a run is made of: the tubing of its loop under its own keys, or a part of another kind, with its
 * fittings. */
#include "read/describe.h"

#include "read/syntax.h"

#include <string.h>

enum { GROUPS_MAX = 12 };

static const char *const no_tubing[] = {"none", NULL};
static const struct hr_key run_keys[] = {
    {.name = "name", .form = HR_FORM_TEXT, .help = "name of the run"},
    {.name = "from", .form = HR_FORM_TEXT, .help = "where it begins"},
    {.name = "to", .form = HR_FORM_TEXT, .help = "where it ends"},
    {.name = "extra", .form = HR_FORM_FLAG, .help = "true: beside the run of the route"},
    {.name = "tubing",
     .form = HR_FORM_CHOICE,
     .choices = no_tubing,
     .help = "none: a join without dimensions"},
};
static const struct hr_key_group run_group = {run_keys, HR_ARRAY_LEN(run_keys)};

/* What is needed to make a run. */
struct making {
    struct hr_describer *d;
    const char *owner;
    const struct hr_part_kind *kind;
    const struct hr_yaml *base; /* model and tubing below the keys of the line */
    const struct hr_key_group *groups[GROUPS_MAX];
    struct hr_run *run;
};

static void add_groups(struct making *making)
{
    size_t count = 0;
    while (making->kind->groups[count] != NULL && count < GROUPS_MAX - 2) {
        making->groups[count] = making->kind->groups[count];
        count++;
    }
    making->groups[count] = &run_group;
    making->groups[count + 1] = NULL;
}

static const struct hr_model_file *find_model(const struct making *making, const struct hr_yaml *node)
{
    struct hr_report *report = making->d->reader.report;
    char found[64];
    if (node->kind != HR_YAML_SCALAR || hr_yaml_is_null(node)) {
        (void)hr_wrong(making->d, "wrong-form", &node->at, "model of %s: found %s; write the name of a model",
                       making->owner, hr_yaml_describe(node, found, sizeof found));
        return NULL;
    }
    const size_t errors = report->errors;
    const size_t warnings = report->warnings;
    const struct hr_model_file *file = hr_library_model(making->d->source, node->text, &node->at, report);
    hr_report_thin(report, errors, warnings);
    return file;
}

static bool lay_base(struct making *making, const struct hr_yaml *over)
{
    if (over != NULL) {
        making->base = hr_values_merge(making->d->reader.arena, making->base, over, making->groups);
        return making->base != NULL || hr_no_memory(making->d);
    }
    return true;
}

/* The tubing of the loop, with its model below it, as the base of a tube. */
static bool lay_tubing(struct making *making, const struct hr_yaml *tubing)
{
    const struct hr_yaml *model = hr_yaml_get(tubing, "model");
    if (model != NULL) {
        const struct hr_model_file *file = find_model(making, model);
        if (file == NULL) {
            return false;
        }
        if (!file->kind->library_run) {
            return hr_wrong(making->d, "no-tube", &model->at,
                            "the model '%s' of tubing is of kind %s; name a tube", file->name,
                            file->kind->name);
        }
        if (!lay_base(making, file->root)) {
            return false;
        }
    }
    return lay_base(making, tubing);
}

/* Decides the kind of a run, and lays what is below its keys. */
static bool find_kind(struct making *making, const struct hr_yaml *map, const struct hr_yaml *tubing)
{
    const struct hr_yaml *kind = hr_yaml_get(map, "kind");
    const struct hr_yaml *model = hr_yaml_get(map, "model");
    const struct hr_model_file *file = NULL;
    making->kind = hr_part_kind_find("tube");
    if (model != NULL) {
        file = find_model(making, model);
        if (file == NULL) {
            return false;
        }
        making->kind = file->kind;
        making->run->model = file->name;
    }
    if (kind != NULL) {
        const struct hr_part_kind *named = hr_kind_named(kind, making->owner, making->d->reader.report);
        if (named == NULL) {
            return false;
        }
        if (file != NULL && named != file->kind) {
            return hr_wrong(making->d, "other-kind", &kind->at,
                            "%s has kind %s, but its model '%s' is of kind %s; delete the kind",
                            making->owner, named->name, file->name, file->kind->name);
        }
        making->kind = named;
    }
    if (!hr_kind_has_coolant(making->kind) || making->kind->ports[1] == NULL ||
        making->kind->ports[2] != NULL) {
        return hr_wrong(making->d, "no-run", kind != NULL ? &kind->at : &model->at,
                        "%s cannot be of kind %s: a run has two ports for coolant", making->owner,
                        making->kind->name);
    }
    add_groups(making);
    return (!making->kind->library_run || lay_tubing(making, tubing)) &&
           (file == NULL || lay_base(making, file->root));
}

static bool make_fitting(const struct making *making, const struct hr_yaml *name, double count,
                         const struct hr_yaml *bore, struct hr_fitting *fitting)
{
    struct hr_describer *d = making->d;
    const struct hr_model_file *file = find_model(making, name);
    if (file == NULL) {
        return false;
    }
    const struct hr_part_kind *kind = file->kind;
    if (!hr_kind_has_coolant(kind) || kind->library_run || kind->ports[1] == NULL || kind->ports[2] != NULL) {
        return hr_wrong(d, "no-fitting", &name->at,
                        "'%s' is of kind %s and cannot stand in fittings; name a fitting", file->name,
                        kind->name);
    }
    const struct hr_yaml *map = file->root;
    if (bore != NULL && hr_yaml_get(map, "bore") == NULL && hr_part_kind_key(kind, "bore") != NULL) {
        struct hr_yaml *copy = hr_yaml_map_copy(d->reader.arena, map, 1, &map->at);
        const struct hr_yaml *key = hr_yaml_scalar(d->reader.arena, "bore", &bore->at);
        if (copy == NULL || key == NULL) {
            return hr_no_memory(d);
        }
        hr_yaml_put(copy, key, bore);
        map = copy;
    }
    const char *owner = hr_arena_format(d->reader.arena, "fitting '%s' of %s", file->name, making->owner);
    if (owner == NULL) {
        return hr_no_memory(d);
    }
    const struct hr_values_job job = {
        .map = map, .groups = kind->groups, .owner = owner, .kind = kind->name, .path = ""};
    *fitting =
        (struct hr_fitting){.name = file->name, .at = name->at, .count = (unsigned)count, .kind = kind};
    return hr_values_read(&d->reader, &job, &fitting->params) &&
           hr_make(d, kind, fitting->params, &fitting->part);
}

static bool make_fittings(const struct making *making, const struct hr_yaml *merged)
{
    const struct hr_value *value = hr_param(making->run->params, "fittings");
    const struct hr_yaml *map = hr_yaml_get(merged, "fittings");
    if (value == NULL) {
        return true;
    }
    struct hr_fitting *fittings = hr_arena_alloc(making->d->reader.arena, value->row_count, sizeof *fittings);
    if (fittings == NULL) {
        return hr_no_memory(making->d);
    }
    bool good = true;
    for (size_t i = 0; i < value->row_count; i++) {
        if (value->rows[i] > 0) {
            const bool made = make_fitting(making, map->key[i], value->rows[i], hr_yaml_get(merged, "bore"),
                                           &fittings[making->run->fitting_count]);
            making->run->fitting_count += made ? 1 : 0;
            good = made && good;
        }
    }
    making->run->fittings = fittings;
    return good;
}

/* Makes the run of the keys of its line, which may be empty. */
static bool make_run(struct making *making, const char *name, const char *other_name,
                     const struct hr_yaml *map, const struct hr_yaml *tubing)
{
    struct hr_describer *d = making->d;
    map = hr_overlay_kind(d, name, map);
    if (map != NULL && other_name != NULL && strcmp(name, other_name) != 0) {
        map = hr_overlay_kind(d, other_name, map);
    }
    if (map == NULL || !find_kind(making, map, tubing)) {
        return false;
    }
    const struct hr_yaml *merged = hr_values_merge(d->reader.arena, making->base, map, making->groups);
    if (merged == NULL) {
        return hr_no_memory(d);
    }
    if (other_name != NULL && strcmp(name, other_name) != 0) {
        merged = hr_overlay_sets(d, other_name, merged, making->groups);
    }
    merged = merged == NULL ? NULL : hr_overlay_sets(d, name, merged, making->groups);
    if (merged == NULL) {
        return false;
    }
    const struct hr_values_job job = {.map = merged,
                                      .groups = making->groups,
                                      .owner = making->owner,
                                      .kind = making->kind->name,
                                      .path = ""};
    if (!hr_values_read(&d->reader, &job, &making->run->params)) {
        return false;
    }
    if (hr_param_is(making->run->params, "tubing", "none")) { /* set from outside, over the keys of a tube */
        making->run->lossless = true;
        making->run->params = NULL;
        return true;
    }
    making->run->kind = making->kind;
    return make_fittings(making, merged) && hr_make(d, making->kind, making->run->params, &making->run->part);
}

/* The run that all default ones of a loop share, made with the first of them. */
static bool make_shared(struct hr_describer *d, struct hr_draft_loop *loop)
{
    if (!loop->made_default) {
        loop->made_default = true;
        const struct hr_yaml *empty = hr_yaml_map_copy(d->reader.arena, NULL, 0, &loop->tubing->at);
        struct making making = {.d = d, .owner = "tubing", .run = &loop->shared};
        loop->tubing_good =
            empty != NULL ? make_run(&making, "", NULL, empty, loop->tubing) : hr_no_memory(d);
    }
    return loop->tubing_good;
}

static void share(const struct hr_run *shared, struct hr_run *run)
{
    run->kind = shared->kind;
    run->model = shared->model;
    run->params = shared->params;
    run->part = shared->part;
    run->fittings = shared->fittings;
    run->fitting_count = shared->fitting_count;
}

/* True where a line says something about what the run is, rather than where. */
static bool has_dimensions(const struct hr_yaml *map)
{
    for (size_t i = 0; map != NULL && i < map->count; i++) {
        bool place = false;
        for (size_t k = 0; k < HR_ARRAY_LEN(run_keys); k++) {
            place = place || strcmp(map->key[i]->text, run_keys[k].name) == 0;
        }
        if (!place) {
            return true;
        }
    }
    return false;
}

static bool lacks_tubing(struct hr_describer *d, const struct hr_draft_run *draft)
{
    struct hr_draft_loop *loop = &d->loop[draft->loop];
    if (!loop->told_no_tubing) {
        loop->told_no_tubing = true;
        const struct hr_origin at = hr_yaml_key_at(loop->map, "route");
        (void)hr_wrong(
            d, "no-tubing", &at,
            "the runs of this route, such as '%s', have no dimensions; write tubing: {bore: 10 mm, length: "
            "150 mm}, or tubing: none for joins without loss",
            draft->name);
    }
    return false;
}

bool hr_run_make(struct hr_describer *d, const struct hr_draft_run *draft, struct hr_run *run)
{
    struct hr_draft_loop *loop = &d->loop[draft->loop];
    const bool other = draft->default_name != NULL && hr_overlay_waits(d, draft->default_name);
    const bool set = other || hr_overlay_waits(d, draft->name);
    const bool dimensions = set || has_dimensions(draft->map);
    const struct hr_yaml *none = hr_yaml_get(draft->map, "tubing");
    if (hr_yaml_is(none, "none") && dimensions) {
        return hr_wrong(d, "none-with-keys", &none->at,
                        "run '%s' has tubing: none and other keys; a join without loss takes no dimensions",
                        draft->name);
    }
    if (hr_yaml_is(none, "none") || (loop->no_tubing && !dimensions)) {
        run->lossless = true;
        return true;
    }
    if (loop->told_no_tubing && hr_yaml_get(draft->map, "kind") == NULL &&
        hr_yaml_get(draft->map, "model") == NULL) {
        return false;
    }
    if (loop->tubing == NULL && draft->is_default && !dimensions) {
        return lacks_tubing(d, draft);
    }
    if (draft->is_default && draft->map == NULL && !set) {
        const bool good = make_shared(d, loop);
        share(&loop->shared, run);
        return good;
    }
    const struct hr_yaml *map = draft->map;
    if (map == NULL) {
        map = hr_yaml_map_copy(d->reader.arena, NULL, 0, &draft->at);
    }
    const char *owner = hr_arena_format(d->reader.arena, "run '%s'", draft->name);
    if (map == NULL || owner == NULL) {
        return hr_no_memory(d);
    }
    struct making making = {.d = d, .owner = owner, .run = run};
    return make_run(&making, draft->name, draft->default_name, map, loop->tubing);
}
