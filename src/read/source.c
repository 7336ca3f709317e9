/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opening a loop file, and asking the library for one model. */
#include "read/source.h"

#include "read/values.h"

#include <stdlib.h>
#include <string.h>

/* The names of the states, so that a caller can walk over them. */
static enum hr_status list_states(struct hr_source *source, struct hr_report *report)
{
    const struct hr_yaml *states = hr_yaml_get(source->root, "states");
    if (states == NULL) {
        return HR_OK;
    }
    if (states->kind != HR_YAML_MAP) {
        char found[64];
        return hr_fail(report, HR_INPUT, "wrong-form", &states->at,
                       "states: found %s; write a mapping such as {idle: {gpu.heat: 15 W}}",
                       hr_yaml_describe(states, found, sizeof found));
    }
    source->state = hr_arena_alloc(&source->arena, states->count, sizeof(char *));
    if (source->state == NULL) {
        return hr_fail_memory(report);
    }
    for (size_t i = 0; i < states->count; i++) {
        source->state[source->states++] = states->key[i]->text;
    }
    return HR_OK;
}

static enum hr_status parse(struct hr_source *source, const char *text, size_t length,
                            struct hr_report *report)
{
    const struct hr_origin start = {source->file, 1, 1};
    const struct hr_origin whole = {source->file, 0, 0};
    const enum hr_status status = hr_yaml_read(&source->arena, text, length, &start, &source->root, report);
    if (status != HR_OK) {
        return status;
    }
    if (source->root == NULL || hr_yaml_is_null(source->root)) {
        return hr_fail(report, HR_INPUT, "empty-file", &whole,
                       "the file is empty; write at least parts and a route");
    }
    if (source->root->kind != HR_YAML_MAP) {
        char found[64];
        return hr_fail(report, HR_INPUT, "wrong-form", &source->root->at,
                       "a loop file is a mapping of keys such as parts and route, found %s",
                       hr_yaml_describe(source->root, found, sizeof found));
    }
    return list_states(source, report);
}

/* A source without a tree yet; NULL when memory is out (reported). */
static struct hr_source *new_source(const char *name, const char *models_dir, struct hr_report *report)
{
    struct hr_source *source = hr_alloc(1, sizeof *source);
    if (source == NULL) {
        (void)hr_fail_memory(report);
        return NULL;
    }
    hr_arena_init(&source->arena);
    if (name != NULL) {
        const char *slash = strrchr(name, '/');
        const size_t folder = slash == NULL ? 0 : (size_t)(slash - name) + (slash == name ? 1 : 0);
        source->file = hr_arena_copy(&source->arena, name, strlen(name));
        source->folder = hr_arena_copy(&source->arena, name, folder);
    }
    if (models_dir != NULL) {
        source->models_dir = hr_arena_copy(&source->arena, models_dir, strlen(models_dir));
    }
    const bool lacks = (name != NULL && (source->file == NULL || source->folder == NULL)) ||
                       (models_dir != NULL && source->models_dir == NULL);
    if (lacks || hr_library_list(source, report) != HR_OK) {
        if (lacks) {
            (void)hr_fail_memory(report);
        }
        hr_source_free(source);
        return NULL;
    }
    return source;
}

enum hr_status hr_source_open_text(const char *text, size_t length, const char *name, const char *models_dir,
                                   struct hr_source **source, struct hr_report *report)
{
    *source = NULL;
    struct hr_source *opened = new_source(name, models_dir, report);
    if (opened == NULL) {
        return HR_SYSTEM;
    }
    const enum hr_status status = parse(opened, text, length, report);
    if (status != HR_OK) {
        hr_source_free(opened);
        return status;
    }
    *source = opened;
    return HR_OK;
}

enum hr_status hr_source_open(const char *path, const char *models_dir, struct hr_source **source,
                              struct hr_report *report)
{
    *source = NULL;
    char *text = NULL;
    size_t length = 0;
    const struct hr_origin whole = {path, 0, 0};
    enum hr_status status = hr_file_read(path, &whole, &text, &length, report);
    if (status == HR_OK) {
        status = hr_source_open_text(text, length, path, models_dir, source, report);
    }
    free(text);
    return status;
}

enum hr_status hr_library_open(const char *models_dir, struct hr_source **source, struct hr_report *report)
{
    *source = new_source(NULL, models_dir, report);
    return *source == NULL ? HR_SYSTEM : HR_OK;
}

void hr_source_free(struct hr_source *source)
{
    if (source != NULL) {
        hr_arena_clear(&source->arena);
        free(source);
    }
}

const char *const *hr_source_states(const struct hr_source *source, size_t *count)
{
    *count = source->states;
    return source->state;
}

const char *const *hr_source_models(const struct hr_source *source, size_t *count)
{
    *count = source->model_names;
    return source->model_name;
}

enum hr_status hr_source_model(struct hr_source *source, const char *name, struct hr_model *model,
                               struct hr_report *report)
{
    const struct hr_origin nowhere = {0};
    memset(model, 0, sizeof *model);
    const struct hr_model_file *file = hr_library_model(source, name, &nowhere, report);
    if (file == NULL) {
        return report->status;
    }
    struct hr_reader reader = {.arena = &source->arena, .report = report};
    const char *owner = hr_arena_format(&source->arena, "model '%s'", file->name);
    if (owner == NULL) {
        return hr_fail_memory(report);
    }
    const struct hr_values_job job = {.map = file->root,
                                      .groups = file->kind->groups,
                                      .owner = owner,
                                      .kind = file->kind->name,
                                      .path = ""};
    const struct hr_params *params = NULL;
    if (!hr_values_read(&reader, &job, &params)) {
        return report->status;
    }
    *model = (struct hr_model){.name = file->name,
                               .file = file->path,
                               .summary = hr_param_text(params, "summary", NULL),
                               .source = hr_param_text(params, "source", NULL),
                               .note = hr_param_text(params, "note", NULL),
                               .kind = file->kind,
                               .params = params};
    return HR_OK;
}
