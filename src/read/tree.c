/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Questions to a tree, and maps laid over it. */
#include "read/syntax.h"
#include "read/yaml.h"

#include <stdio.h>
#include <string.h>

bool hr_yaml_is_null(const struct hr_yaml *node)
{
    return node->kind == HR_YAML_SCALAR && node->plain &&
           (node->text[0] == '\0' || strcmp(node->text, "~") == 0 || strcmp(node->text, "null") == 0);
}

bool hr_yaml_is(const struct hr_yaml *node, const char *text)
{
    return node != NULL && node->kind == HR_YAML_SCALAR && strcmp(node->text, text) == 0;
}

static size_t find(const struct hr_yaml *map, const char *key)
{
    for (size_t i = 0; i < map->count; i++) {
        if (strcmp(map->key[i]->text, key) == 0) {
            return i;
        }
    }
    return map->count;
}

const struct hr_yaml *hr_yaml_get(const struct hr_yaml *map, const char *key)
{
    if (map == NULL || map->kind != HR_YAML_MAP) {
        return NULL;
    }
    const size_t i = find(map, key);
    return i == map->count ? NULL : map->value[i];
}

struct hr_origin hr_yaml_key_at(const struct hr_yaml *map, const char *key)
{
    const size_t i = find(map, key);
    return i == map->count ? map->at : map->key[i]->at;
}

const char *hr_yaml_describe(const struct hr_yaml *node, char *buffer, size_t room)
{
    if (hr_yaml_is_null(node)) {
        (void)snprintf(buffer, room, "nothing");
    } else if (node->kind == HR_YAML_SCALAR) {
        char shown[48];
        (void)snprintf(buffer, room, "'%s'", hr_shown(node->text, shown, sizeof shown));
    } else {
        (void)snprintf(buffer, room, "%s", node->kind == HR_YAML_LIST ? "a list" : "a mapping");
    }
    return buffer;
}

struct hr_yaml *hr_yaml_map_copy(struct hr_arena *arena, const struct hr_yaml *map, size_t more,
                                 const struct hr_origin *at)
{
    const size_t count = map == NULL ? 0 : map->count;
    struct hr_yaml *copy = hr_arena_alloc(arena, 1, sizeof *copy);
    if (copy == NULL) {
        return NULL;
    }
    copy->kind = HR_YAML_MAP;
    copy->at = *at;
    copy->count = count;
    copy->key = hr_arena_alloc(arena, count + more, sizeof(struct hr_yaml *));
    copy->value = hr_arena_alloc(arena, count + more, sizeof(struct hr_yaml *));
    if (copy->key == NULL || copy->value == NULL) {
        return NULL;
    }
    if (count > 0) {
        memcpy((void *)copy->key, (const void *)map->key, count * sizeof(struct hr_yaml *));
        memcpy((void *)copy->value, (const void *)map->value, count * sizeof(struct hr_yaml *));
    }
    return copy;
}

void hr_yaml_put(struct hr_yaml *map, const struct hr_yaml *key, const struct hr_yaml *value)
{
    const size_t i = find(map, key->text);
    map->key[i] = key;
    map->value[i] = value;
    if (i == map->count) {
        map->count++;
    }
}

struct hr_yaml *hr_yaml_scalar(struct hr_arena *arena, const char *text, const struct hr_origin *at)
{
    struct hr_yaml *node = hr_arena_alloc(arena, 1, sizeof *node);
    if (node == NULL) {
        return NULL;
    }
    node->kind = HR_YAML_SCALAR;
    node->plain = true;
    node->height = 1;
    node->weight = 1;
    node->at = *at;
    node->text = hr_arena_copy(arena, text, strlen(text));
    return node->text == NULL ? NULL : node;
}
