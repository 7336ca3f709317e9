/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values laid over the file. Those under top-level keys replace nodes of the tree, which is copied along the
 * path only; those of parts and runs wait until models and tubing are merged, so that a single number inside
 * a model's curve can be set. */
#include "read/describe.h"

#include "base/text.h"
#include "read/syntax.h"

#include <stdio.h>
#include <string.h>

/* A path on its way: its keys and what to put there. */
struct path {
    const char *key[HR_SEGMENTS_MAX + 1];
    size_t count;
    struct hr_origin at;
    const struct hr_yaml *value;
};

static bool split(struct hr_describer *d, const char *text, struct path *path)
{
    char shown[64];
    path->count = 0;
    while (true) {
        const size_t length = strcspn(text, ".");
        const bool last = text[length] == '\0';
        if (length == 0 || path->count == HR_ARRAY_LEN(path->key)) {
            return hr_wrong(d, "bad-path", &path->at,
                            "'%s' is not a path; write a name and its keys with dots, such as gpu.heat",
                            hr_shown(text, shown, sizeof shown));
        }
        const char *key = hr_arena_copy(d->reader.arena, text, length);
        if (key == NULL) {
            return hr_no_memory(d);
        }
        path->key[path->count++] = key;
        if (last) {
            return true;
        }
        text += length + 1;
    }
}

/* Short forms that stand for a mapping of one key. */
static const struct hr_yaml *unfold(struct hr_describer *d, const char *key, const struct hr_yaml *node,
                                    const char *next)
{
    static const char *const quantity[] = {"sd", "fit", "min", "max", "value"};
    const char *inner = NULL;
    if (strcmp(key, "coolant") == 0) {
        inner = "fluid";
    } else if (strcmp(key, "ambient") == 0) {
        inner = "temperature";
    }
    for (size_t i = 0; i < HR_ARRAY_LEN(quantity); i++) {
        inner = inner == NULL && strcmp(next, quantity[i]) == 0 ? "value" : inner;
    }
    if (inner == NULL) {
        return node;
    }
    struct hr_yaml *map = hr_yaml_map_copy(d->reader.arena, NULL, 1, &node->at);
    const struct hr_yaml *name = hr_yaml_scalar(d->reader.arena, inner, &node->at);
    if (map == NULL || name == NULL) {
        (void)hr_no_memory(d);
        return node;
    }
    hr_yaml_put(map, name, node);
    return map;
}

/* The item of a list that a path names: by its `name`, its `at`, or its number from 1. */
static size_t find_item(const struct hr_yaml *list, const char *key)
{
    size_t number = 0;
    for (size_t i = 0; i < list->count; i++) {
        if (hr_yaml_is(hr_yaml_get(list->value[i], "name"), key) ||
            hr_yaml_is(hr_yaml_get(list->value[i], "at"), key)) {
            return i;
        }
    }
    const bool digits = strlen(key) < 7 && key[strspn(key, "0123456789")] == '\0';
    for (; digits && *key != '\0'; key++) {
        number = 10 * number + (size_t)(*key - '0');
    }
    return digits && number > 0 && number <= list->count ? number - 1 : HR_NONE;
}

/* A copy of `node` with the value at path->key[level...]; NULL after a reported fault. */
static const struct hr_yaml *put(struct hr_describer *d, const struct hr_yaml *node, const struct path *path,
                                 size_t level)
{
    if (level == path->count) {
        return path->value;
    }
    const char *key = path->key[level];
    if (node != NULL && node->kind == HR_YAML_SCALAR) {
        node = hr_yaml_is_null(node) || level == 0 ? NULL : unfold(d, path->key[level - 1], node, key);
    }
    if (node != NULL && node->kind == HR_YAML_SCALAR) {
        char shown[64];
        (void)hr_wrong(d, "bad-path", &path->at, "'%s' is %s and has no key '%s'; set it as a whole",
                       path->key[level - 1], hr_yaml_describe(node, shown, sizeof shown), key);
        return NULL;
    }
    if (node != NULL && node->kind == HR_YAML_LIST) {
        const size_t i = find_item(node, key);
        if (i == HR_NONE) {
            (void)hr_wrong(d, "bad-path", &path->at,
                           "the list '%s' has no item '%s'; name one, or give its number from 1",
                           level == 0 ? "" : path->key[level - 1], key);
            return NULL;
        }
        struct hr_yaml *list = hr_arena_alloc(d->reader.arena, 1, sizeof *list);
        const struct hr_yaml **items = hr_arena_alloc(d->reader.arena, node->count, sizeof(struct hr_yaml *));
        const struct hr_yaml *item = put(d, node->value[i], path, level + 1);
        if (item == NULL) {
            return NULL; /* said already */
        }
        if (list == NULL || items == NULL) {
            (void)hr_no_memory(d);
            return NULL;
        }
        memcpy((void *)items, (const void *)node->value, node->count * sizeof(struct hr_yaml *));
        items[i] = item;
        *list = *node;
        list->value = items;
        return list;
    }
    struct hr_yaml *map = hr_yaml_map_copy(d->reader.arena, node, 1, node == NULL ? &path->at : &node->at);
    const struct hr_yaml *name = hr_yaml_scalar(d->reader.arena, key, &path->at);
    const struct hr_yaml *inner = put(d, hr_yaml_get(node, key), path, level + 1);
    if (map == NULL || name == NULL) {
        (void)hr_no_memory(d);
        return NULL;
    }
    if (inner == NULL) {
        return NULL;
    }
    hr_yaml_put(map, name, inner);
    return map;
}

static bool put_root(struct hr_describer *d, const struct path *path)
{
    const struct hr_yaml *root = put(d, d->root, path, 0);
    if (root == NULL) {
        return false;
    }
    d->root = root;
    const bool in_loop =
        path->count == 3 && strcmp(path->key[0], "loops") == 0 && strcmp(path->key[2], "route") == 0;
    if (in_loop || (path->count == 1 && strcmp(path->key[0], "route") == 0)) {
        d->route_is_laid = true;
    }
    return true;
}

static bool add_set(struct hr_describer *d, const char *name, const struct path *path)
{
    struct hr_set *larger = hr_arena_grow(d->reader.arena, d->set, d->sets, &d->set_room, sizeof *larger);
    if (larger == NULL) {
        return hr_no_memory(d);
    }
    d->set = larger;
    struct hr_set *set = &d->set[d->sets++];
    memset(set, 0, sizeof *set);
    set->name = name;
    set->at = path->at;
    set->value = path->value;
    set->keys = path->count - 1;
    for (size_t i = 1; i < path->count; i++) {
        set->key[i - 1] = path->key[i];
    }
    return true;
}

/* A value of one part or run. Its kind and model decide how the rest is read and so go into the tree at once.
 */
static bool lay_on_name(struct hr_describer *d, const char *name, const struct path *path)
{
    const struct hr_yaml *part = hr_yaml_get(hr_yaml_get(d->root, "parts"), name);
    if (path->count == 1) {
        return hr_wrong(d, "bad-path", &path->at, "'%s' is a name; write a key behind it, such as %s.%s",
                        name, name, part == NULL ? "length" : "speed");
    }
    const bool decides = strcmp(path->key[1], "model") == 0 || strcmp(path->key[1], "kind") == 0;
    if (part == NULL || !decides || path->count > 2) {
        return add_set(d, name, path);
    }
    struct path whole = {.count = 3, .at = path->at, .value = path->value};
    whole.key[0] = "parts";
    whole.key[1] = name;
    whole.key[2] = path->key[1];
    return put_root(d, &whole);
}

static bool lay(struct hr_describer *d, struct path *path)
{
    const bool prefixed =
        path->count > 1 && (strcmp(path->key[0], "parts") == 0 || strcmp(path->key[0], "runs") == 0);
    if (prefixed) {
        path->count--;
        memmove((void *)path->key, (const void *)(path->key + 1), path->count * sizeof path->key[0]);
    } else if (hr_is_top_key(path->key[0])) {
        return put_root(d, path);
    }
    const struct hr_yaml *gang = hr_yaml_get(hr_yaml_get(d->root, "gangs"), path->key[0]);
    if (gang == NULL || gang->kind != HR_YAML_LIST) {
        return lay_on_name(d, path->key[0], path);
    }
    bool good = true;
    for (size_t i = 0; i < gang->count; i++) {
        if (gang->value[i]->kind == HR_YAML_SCALAR) {
            good = lay_on_name(d, gang->value[i]->text, path) && good;
        }
    }
    return good;
}

static void lay_state(struct hr_describer *d, const char *state)
{
    const struct hr_yaml *states = hr_yaml_get(d->source->root, "states");
    const struct hr_yaml *map = hr_yaml_get(states, state);
    const struct hr_origin at = {"--state", 1, 1};
    char shown[64];
    char meant[96];
    if (map == NULL) {
        const char *nearest = hr_nearest(state, d->source->state, d->source->states);
        (void)hr_wrong(d, "unknown-state", &at, "the file has no state '%s'%s",
                       hr_shown(state, shown, sizeof shown),
                       d->source->states == 0 ? "; it has no states at all"
                                              : hr_did_you_mean(nearest, meant, sizeof meant));
        return;
    }
    d->out->state = state;
    for (size_t i = 0; map->kind == HR_YAML_MAP && i < map->count; i++) {
        struct path path = {.at = map->key[i]->at, .value = map->value[i]};
        if (split(d, map->key[i]->text, &path)) {
            (void)lay(d, &path);
        }
    }
}

static void lay_override(struct hr_describer *d, const struct hr_override *override, size_t number)
{
    struct path path = {.at = {"--set", (unsigned)number, 1}};
    const struct hr_origin start = {"--set", (unsigned)number, (unsigned)strlen(override->path) + 2};
    if (!split(d, override->path, &path)) {
        return;
    }
    const char *value = hr_arena_copy(d->reader.arena, override->value, strlen(override->value));
    if (value == NULL) {
        (void)hr_no_memory(d);
        return;
    }
    if (hr_yaml_read(d->reader.arena, value, strlen(value), &start, &path.value, d->reader.report) != HR_OK) {
        return;
    }
    if (path.value == NULL || hr_yaml_is_null(path.value)) {
        (void)hr_wrong(d, "no-value", &start, "there is no value for %s; write %s=VALUE", override->path,
                       override->path);
        return;
    }
    (void)lay(d, &path);
}

bool hr_overlay(struct hr_describer *d, const struct hr_override overrides[], size_t count, const char *state)
{
    const size_t before = d->reader.report->errors;
    if (state != NULL) {
        lay_state(d, state);
    }
    for (size_t i = 0; i < count; i++) {
        lay_override(d, &overrides[i], i + 1);
    }
    return d->reader.report->errors == before;
}

/* The map with one key of a set. */
static const struct hr_yaml *put_one(struct hr_describer *d, const struct hr_set *set,
                                     const struct hr_yaml *map)
{
    struct path path = {.count = set->keys, .at = set->at, .value = set->value};
    memcpy((void *)path.key, (const void *)set->key, set->keys * sizeof set->key[0]);
    return put(d, map, &path, 0);
}

const struct hr_yaml *hr_overlay_kind(struct hr_describer *d, const char *name, const struct hr_yaml *map)
{
    for (size_t i = 0; map != NULL && i < d->sets; i++) {
        struct hr_set *set = &d->set[i];
        if (set->keys == 1 && strcmp(set->name, name) == 0 &&
            (strcmp(set->key[0], "model") == 0 || strcmp(set->key[0], "kind") == 0)) {
            set->used = true;
            map = put_one(d, set, map);
        }
    }
    return map;
}

bool hr_overlay_waits(const struct hr_describer *d, const char *name)
{
    for (size_t i = 0; i < d->sets; i++) {
        if (strcmp(d->set[i].name, name) == 0) {
            return true;
        }
    }
    return false;
}

const struct hr_yaml *hr_overlay_sets(struct hr_describer *d, const char *name, const struct hr_yaml *map,
                                      const struct hr_key_group *const *groups)
{
    for (size_t i = 0; map != NULL && i < d->sets; i++) {
        struct hr_set *set = &d->set[i];
        if (strcmp(set->name, name) != 0) {
            continue;
        }
        set->used = true;
        struct path path = {.count = set->keys, .at = set->at, .value = set->value};
        memcpy((void *)path.key, (const void *)set->key, set->keys * sizeof set->key[0]);
        const struct hr_yaml *inner = put(d, hr_yaml_get(map, set->key[0]), &path, 1);
        struct hr_yaml *over = hr_yaml_map_copy(d->reader.arena, NULL, 1, &map->at);
        const struct hr_yaml *key = hr_yaml_scalar(d->reader.arena, set->key[0], &set->at);
        if (inner == NULL) {
            return NULL;
        }
        if (over == NULL || key == NULL) {
            (void)hr_no_memory(d);
            return NULL;
        }
        hr_yaml_put(over, key, inner);
        map = hr_values_merge(d->reader.arena, map, over, groups);
        if (map == NULL) {
            (void)hr_no_memory(d);
        }
    }
    return map;
}

static void wrong_first(struct hr_describer *d, const char *name, const struct hr_origin *at)
{
    size_t count = 0;
    const char *const *keys = hr_top_keys(&count);
    const char *nearest = hr_names_nearest(&d->names, name);
    char shown[64];
    char meant[96];
    if (nearest == NULL) {
        nearest = hr_nearest(name, keys, count);
    }
    if (nearest != NULL && strcmp(nearest, name) == 0) {
        (void)hr_wrong(d, "bad-path", at, "'%s' cannot be set: it is declared, but has faults of its own",
                       hr_shown(name, shown, sizeof shown));
        return;
    }
    (void)hr_wrong(d, "bad-path", at, "'%s' is no part, run, gang or top-level key of this file%s",
                   hr_shown(name, shown, sizeof shown), hr_did_you_mean(nearest, meant, sizeof meant));
}

/* A path of a state that was not chosen: its first name must exist, and the key of a part must be one of its
 * kind. With another route the runs have other names. */
static void check_path(struct hr_describer *d, const struct hr_yaml *key, bool other_route)
{
    struct path path = {.at = key->at};
    if (!split(d, key->text, &path) || hr_is_top_key(path.key[0])) {
        return;
    }
    const struct hr_named *named = hr_find_named(d, path.key[0]);
    for (size_t i = 0; named == NULL && i < d->draft_runs; i++) {
        if (d->run[i].default_name != NULL && strcmp(d->run[i].default_name, path.key[0]) == 0) {
            return;
        }
    }
    if (named == NULL) {
        if (!other_route) {
            wrong_first(d, path.key[0], &key->at);
        }
        return;
    }
    if (named->kind != HR_NAMED_PART || path.count < 2) {
        return;
    }
    const struct hr_part_kind *kind = d->out->parts[named->index].kind;
    if (kind != NULL && hr_part_kind_key(kind, path.key[1]) == NULL) {
        char meant[96];
        (void)hr_wrong(d, "unknown-key", &key->at, "part '%s' of kind %s has no key '%s'%s", path.key[0],
                       kind->name, path.key[1],
                       hr_did_you_mean(hr_values_nearest(kind->groups, path.key[1]), meant, sizeof meant));
    }
}

void hr_overlay_check(struct hr_describer *d)
{
    for (size_t i = 0; i < d->sets; i++) {
        if (!d->set[i].used) {
            wrong_first(d, d->set[i].name, &d->set[i].at);
        }
    }
    const struct hr_yaml *states = hr_yaml_get(d->root, "states");
    for (size_t i = 0; states != NULL && states->kind == HR_YAML_MAP && i < states->count; i++) {
        const struct hr_yaml *state = states->value[i];
        if (state->kind != HR_YAML_MAP) {
            char shown[64];
            (void)hr_wrong(d, "wrong-form", &state->at,
                           "state '%s': found %s; write a mapping such as {gpu.heat: 15 W}",
                           states->key[i]->text, hr_yaml_describe(state, shown, sizeof shown));
            continue;
        }
        const bool other_route = d->route_is_laid || hr_yaml_get(state, "route") != NULL;
        const bool chosen = d->out->state != NULL && strcmp(d->out->state, states->key[i]->text) == 0;
        for (size_t j = 0; !chosen && j < state->count; j++) {
            check_path(d, state->key[j], other_route);
        }
    }
}
