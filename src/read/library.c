/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library of parts: NAME.yaml in the models folder, and single model files beside the loop file. A model
 * is read when first asked for and kept. */
#include "read/source.h"

#include "base/text.h"
#include "read/syntax.h"
#include "read/values.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { MODELS_MAX = 20000, PATH_ROOM = 4096 };

static enum hr_status fail_open(const char *path, const struct hr_origin *at, struct hr_report *report)
{
    char shown[160];
    return hr_fail(report, HR_INPUT, "no-file", at, "cannot read '%s': %s; check the name and the folder",
                   hr_shown(path, shown, sizeof shown),
                   errno == ENOENT ? "there is no such file" : strerror(errno));
}

/* Reads `room` bytes at most; more than that is refused by whoever parses. */
static enum hr_status read_all(int descriptor, char *text, size_t room, size_t *length,
                               struct hr_report *report, const struct hr_origin *at)
{
    *length = 0;
    while (*length < room) {
        const ssize_t got = read(descriptor, text + *length, room - *length);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got < 0) {
            return hr_fail(report, HR_INPUT, "no-file", at, "cannot read the file: %s", strerror(errno));
        }
        if (got == 0) {
            return HR_OK;
        }
        *length += (size_t)got;
    }
    return HR_OK;
}

enum hr_status hr_file_read(const char *path, const struct hr_origin *at, char **text, size_t *length,
                            struct hr_report *report)
{
    *text = NULL;
    /* Not blocking, so that a pipe without a writer does not hang the program. */
    const int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0) {
        return fail_open(path, at, report);
    }
    struct stat facts;
    enum hr_status status = HR_OK;
    char shown[160];
    if (fstat(descriptor, &facts) != 0 || S_ISDIR(facts.st_mode)) {
        status = hr_fail(report, HR_INPUT, "no-file", at, "'%s' is a folder; name a file",
                         hr_shown(path, shown, sizeof shown));
    } else if (!S_ISREG(facts.st_mode) && !S_ISFIFO(facts.st_mode)) {
        status = hr_fail(report, HR_INPUT, "no-file", at, "'%s' is not a regular file; name a YAML file",
                         hr_shown(path, shown, sizeof shown));
    }
    /* A pipe has no size, and a file may grow: one byte over the limit shows that it is too large. */
    const size_t limit = HR_YAML_BYTES_MAX + 1;
    const bool sized = S_ISREG(facts.st_mode) && facts.st_size >= 0 && (size_t)facts.st_size < limit;
    const size_t room = sized ? (size_t)facts.st_size : limit;
    char *bytes = status == HR_OK ? hr_alloc(room, 1) : NULL;
    if (status == HR_OK && bytes == NULL) {
        status = hr_fail_memory(report);
    }
    if (status == HR_OK && S_ISFIFO(facts.st_mode)) {
        (void)fcntl(descriptor, F_SETFL, 0);
    }
    if (status == HR_OK) {
        status = read_all(descriptor, bytes, room, length, report, at);
    }
    (void)close(descriptor);
    if (status != HR_OK) {
        free(bytes);
        return status;
    }
    *text = bytes;
    return HR_OK;
}

static int compare_names(const void *a, const void *b)
{
    const char *const *x = a;
    const char *const *y = b;
    return strcmp(*x, *y);
}

/* The length of the name before ".yaml", or 0. */
static size_t stem_length(const char *file)
{
    static const char ending[] = ".yaml";
    const size_t length = strlen(file);
    const size_t tail = sizeof ending - 1;
    return length > tail && file[0] != '.' && strcmp(file + length - tail, ending) == 0 ? length - tail : 0;
}

enum hr_status hr_library_list(struct hr_source *source, struct hr_report *report)
{
    errno = 0;
    DIR *folder = source->models_dir == NULL ? NULL : opendir(source->models_dir);
    if (folder == NULL && source->models_dir != NULL && errno == ENOMEM) {
        return hr_fail_memory(report);
    }
    if (folder == NULL) {
        return HR_OK; /* a loop without models needs no library; a model that is asked for says what is
                         missing */
    }
    enum hr_status status = HR_OK;
    size_t room = 0;
    const struct dirent *entry;
    while (status == HR_OK && source->model_names < MODELS_MAX && (entry = readdir(folder)) != NULL) {
        const size_t length = stem_length(entry->d_name);
        if (length == 0) {
            continue;
        }
        const char **larger = hr_arena_grow(&source->arena, (void *)source->model_name, source->model_names,
                                            &room, sizeof(char *));
        const char *name = hr_arena_copy(&source->arena, entry->d_name, length);
        if (larger == NULL || name == NULL) {
            status = hr_fail_memory(report);
            break;
        }
        source->model_name = larger;
        source->model_name[source->model_names++] = name;
    }
    (void)closedir(folder);
    if (source->model_names > 1) {
        qsort((void *)source->model_name, source->model_names, sizeof(char *), compare_names);
    }
    return status;
}

static bool is_path(const char *name)
{
    return strchr(name, '/') != NULL || stem_length(name) > 0;
}

static bool listed(const struct hr_source *source, const char *name)
{
    return source->model_names > 0 && bsearch(&name, (const void *)source->model_name, source->model_names,
                                              sizeof(char *), compare_names) != NULL;
}

/* The file of a model in the source's arena; NULL after a reported fault. */
static const char *model_path(struct hr_source *source, const char *name, const struct hr_origin *at,
                              struct hr_report *report)
{
    char shown[64];
    char meant[96];
    const char *path = NULL;
    (void)hr_shown(name, shown, sizeof shown);
    if (is_path(name)) {
        const bool rooted = name[0] == '/' || source->folder == NULL || source->folder[0] == '\0';
        path =
            hr_arena_format(&source->arena, "%s%s%s", rooted ? "" : source->folder, rooted ? "" : "/", name);
    } else if (listed(source, name)) {
        path = hr_arena_format(&source->arena, "%s/%s.yaml", source->models_dir, name);
    } else if (source->model_names == 0) {
        (void)hr_fail(
            report, HR_INPUT, "unknown-model", at,
            "no model '%s': the library of parts was not found%s%s; write a path such as ./%s.yaml, or give "
            "the part a kind",
            shown, source->models_dir == NULL ? "" : " in ",
            source->models_dir == NULL ? "" : source->models_dir, shown);
        return NULL;
    } else {
        const char *nearest = hr_nearest(name, source->model_name, source->model_names);
        (void)hr_fail(report, HR_INPUT, "unknown-model", at, "the library has no model '%s'%s", shown,
                      nearest == NULL ? "; 'headrace parts' lists it"
                                      : hr_did_you_mean(nearest, meant, sizeof meant));
        return NULL;
    }
    if (path == NULL) {
        (void)hr_fail_memory(report);
    }
    return path;
}

const struct hr_part_kind *hr_kind_named(const struct hr_yaml *node, const char *owner,
                                         struct hr_report *report)
{
    char shown[64];
    char meant[96];
    if (node->kind != HR_YAML_SCALAR || hr_yaml_is_null(node)) {
        (void)hr_fail(report, HR_INPUT, "wrong-form", &node->at,
                      "kind of %s: found %s; write the name of a kind", owner,
                      hr_yaml_describe(node, shown, sizeof shown));
        return NULL;
    }
    const struct hr_part_kind *kind = hr_part_kind_find(node->text);
    if (kind != NULL) {
        return kind;
    }
    if (strcmp(node->text, "exchanger") == 0) {
        (void)hr_fail(report, HR_INPUT, "not-yet", &node->at,
                      "kind of %s: the kind exchanger is kept for later and cannot be used yet", owner);
        return NULL;
    }
    const char *names[64];
    size_t count = 0;
    while (hr_part_kinds[count] != NULL && count < HR_ARRAY_LEN(names)) {
        names[count] = hr_part_kinds[count]->name;
        count++;
    }
    const char *nearest = hr_nearest(node->text, names, count);
    (void)hr_fail(report, HR_INPUT, "unknown-kind", &node->at, "kind of %s: there is no kind '%s'%s", owner,
                  hr_shown(node->text, shown, sizeof shown),
                  nearest == NULL ? "; 'headrace parts' lists them"
                                  : hr_did_you_mean(nearest, meant, sizeof meant));
    return NULL;
}

/* Reads the model's file; false after a reported fault. */
static bool load(struct hr_source *source, struct hr_model_file *model, const struct hr_origin *at,
                 struct hr_report *report)
{
    char *text = NULL;
    size_t length = 0;
    if (hr_file_read(model->path, at, &text, &length, report) != HR_OK) {
        return false;
    }
    const struct hr_origin start = {model->path, 1, 1};
    const struct hr_yaml *root = NULL;
    const enum hr_status status = hr_yaml_read(&source->arena, text, length, &start, &root, report);
    free(text);
    if (status != HR_OK) {
        return false;
    }
    const struct hr_origin whole = {model->path, 0, 0};
    const struct hr_yaml *kind = hr_yaml_get(root, "kind");
    if (root == NULL || root->kind != HR_YAML_MAP || kind == NULL) {
        (void)hr_fail(report, HR_INPUT, "no-model", &whole,
                      "this is no model of a part: it has no key 'kind'; write for instance kind: block");
        return false;
    }
    if (hr_yaml_get(root, "model") != NULL) {
        const struct hr_origin key = hr_yaml_key_at(root, "model");
        (void)hr_fail(report, HR_INPUT, "no-model", &key,
                      "a model cannot be made from another model; write its values here");
        return false;
    }
    const char *owner = hr_arena_format(&source->arena, "model '%s'", model->name);
    model->kind = owner == NULL ? NULL : hr_kind_named(kind, owner, report);
    model->root = model->kind == NULL ? NULL : root;
    return model->kind != NULL;
}

const struct hr_model_file *hr_library_model(struct hr_source *source, const char *name,
                                             const struct hr_origin *at, struct hr_report *report)
{
    const struct hr_name *known = hr_names_find(&source->by_name, name);
    if (known != NULL) {
        return &source->model[known->value];
    }
    struct hr_model_file model = {.name = hr_arena_copy(&source->arena, name, strlen(name))};
    if (model.name == NULL) {
        (void)hr_fail_memory(report);
        return NULL;
    }
    model.path = model_path(source, model.name, at, report);
    if (model.path == NULL || !load(source, &model, at, report)) {
        return NULL;
    }
    struct hr_model_file *larger =
        hr_arena_grow(&source->arena, source->model, source->models, &source->model_room, sizeof *larger);
    if (larger == NULL || !hr_names_add(&source->by_name, &source->arena, model.name, source->models)) {
        (void)hr_fail_memory(report);
        return NULL;
    }
    source->model = larger;
    source->model[source->models] = model;
    return &source->model[source->models++];
}
