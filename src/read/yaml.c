/* SPDX-License-Identifier: GPL-3.0-or-later */
/* libyaml's events become a tree. Nothing is copied for an alias, and the weight of every node counts what a
 * walk over the tree would meet, so that a few lines of nested aliases cannot keep later stages busy: the
 * limit is tested where a collection ends, before anything walks it. */
#include "read/yaml.h"

#include "read/names.h"
#include "read/syntax.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* A collection that is open: its items are the pending nodes from `first` on. */
struct frame {
    struct hr_yaml *node;
    size_t first;
    const char *anchor; /* its name, or NULL; usable for aliases once the collection has ended */
    size_t anchored;
};

struct loader {
    yaml_parser_t *parser;
    struct hr_arena *arena;
    struct hr_report *report;
    struct hr_origin start;
    struct frame frame[HR_YAML_DEPTH_MAX];
    size_t depth;
    const struct hr_yaml **pending; /* heap: nodes that wait for the end of their collection */
    size_t pending_count, pending_room;
    struct hr_names anchors; /* name -> index in `anchored`, or SIZE_MAX while its collection is open */
    const struct hr_yaml **anchored;
    size_t anchored_count, anchored_room;
    size_t nodes;
    const struct hr_yaml *root;
    enum hr_status status;
};

static struct hr_origin origin(const struct loader *loader, yaml_mark_t mark)
{
    const unsigned shift = mark.line == 0 ? loader->start.column : 1;
    const struct hr_origin at = {loader->start.file, (unsigned)mark.line + loader->start.line,
                                 (unsigned)mark.column + shift};
    return at;
}

static bool out_of_memory(struct loader *loader)
{
    loader->status = hr_fail_memory(loader->report);
    return false;
}

/* Hangs a finished node under the open collection. */
static bool attach(struct loader *loader, const struct hr_yaml *node, const struct hr_origin *at)
{
    if (loader->depth + node->height > HR_YAML_DEPTH_MAX) {
        loader->status = hr_fail(loader->report, HR_INPUT, "too-deep", at,
                                 "the nesting is deeper than %d levels; a loop file needs far fewer",
                                 (int)HR_YAML_DEPTH_MAX);
        return false;
    }
    if (loader->depth == 0) {
        loader->root = node;
        return true;
    }
    const struct hr_yaml **larger = hr_grow((void *)loader->pending, loader->pending_count,
                                            &loader->pending_room, sizeof(struct hr_yaml *));
    if (larger == NULL) {
        return out_of_memory(loader);
    }
    loader->pending = larger;
    loader->pending[loader->pending_count++] = node;
    return true;
}

static bool too_many(struct loader *loader, const struct hr_origin *at)
{
    loader->status =
        hr_fail(loader->report, HR_INPUT, "too-large", at,
                "the file has more than %d values, counting each use of an alias; describe a smaller loop",
                (int)HR_YAML_NODES_MAX);
    return false;
}

static bool remember_anchor(struct loader *loader, const char *name, size_t index)
{
    struct hr_name *known = hr_names_find(&loader->anchors, name);
    if (known != NULL) {
        known->value = index;
        return true;
    }
    const char *copy = hr_arena_copy(loader->arena, name, strlen(name));
    if (copy == NULL || !hr_names_add(&loader->anchors, loader->arena, copy, index)) {
        return out_of_memory(loader);
    }
    return true;
}

static bool add_anchor(struct loader *loader, const yaml_char_t *anchor, const struct hr_yaml *node)
{
    if (anchor == NULL) {
        return true;
    }
    const struct hr_yaml **larger =
        hr_arena_grow(loader->arena, (void *)loader->anchored, loader->anchored_count, &loader->anchored_room,
                      sizeof(struct hr_yaml *));
    if (larger == NULL) {
        return out_of_memory(loader);
    }
    loader->anchored = larger;
    loader->anchored[loader->anchored_count] = node;
    return remember_anchor(loader, (const char *)anchor, loader->anchored_count++);
}

static struct hr_yaml *new_node(struct loader *loader, enum hr_yaml_kind kind, const struct hr_origin *at)
{
    if (++loader->nodes > HR_YAML_NODES_MAX) {
        (void)too_many(loader, at);
        return NULL;
    }
    struct hr_yaml *node = hr_arena_alloc(loader->arena, 1, sizeof *node);
    if (node == NULL) {
        (void)out_of_memory(loader);
        return NULL;
    }
    node->kind = kind;
    node->at = *at;
    node->height = 1;
    node->weight = 1;
    return node;
}

static bool refuse_tag(struct loader *loader, const yaml_char_t *tag, const struct hr_origin *at)
{
    if (tag == NULL) {
        return true;
    }
    char shown[48];
    loader->status = hr_fail(
        loader->report, HR_INPUT, "yaml-tag", at,
        "the tag '%s' is not read in loop files; write the value alone, in quotes if it begins with '!'",
        hr_shown((const char *)tag, shown, sizeof shown));
    return false;
}

static bool on_scalar(struct loader *loader, const yaml_event_t *event)
{
    const struct hr_origin at = origin(loader, event->start_mark);
    const char *text = (const char *)event->data.scalar.value;
    const size_t length = event->data.scalar.length;
    if (!refuse_tag(loader, event->data.scalar.tag, &at)) {
        return false;
    }
    if (memchr(text, '\0', length) != NULL) {
        loader->status = hr_fail(loader->report, HR_INPUT, "yaml-syntax", &at,
                                 "the text contains a zero byte; write plain text");
        return false;
    }
    struct hr_yaml *node = new_node(loader, HR_YAML_SCALAR, &at);
    if (node == NULL) {
        return false;
    }
    node->plain = event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
    node->text = hr_arena_copy(loader->arena, text, length);
    if (node->text == NULL) {
        return out_of_memory(loader);
    }
    return add_anchor(loader, event->data.scalar.anchor, node) && attach(loader, node, &at);
}

static bool on_alias(struct loader *loader, const yaml_event_t *event)
{
    const struct hr_origin at = origin(loader, event->start_mark);
    const char *name = (const char *)event->data.alias.anchor;
    const struct hr_name *known = hr_names_find(&loader->anchors, name);
    char shown[48];
    if (known == NULL) {
        const char *nearest = hr_names_nearest(&loader->anchors, name);
        loader->status = hr_fail(
            loader->report, HR_INPUT, "yaml-alias", &at, "no '&%s' stands before the alias '*%s'%s%s%s",
            hr_shown(name, shown, sizeof shown), shown, nearest == NULL ? "" : "; did you mean '*",
            nearest == NULL ? "" : nearest, nearest == NULL ? "" : "'?");
        return false;
    }
    if (known->value == SIZE_MAX) {
        loader->status =
            hr_fail(loader->report, HR_INPUT, "yaml-alias", &at,
                    "the alias '*%s' stands inside the value that it stands for; write the value out",
                    hr_shown(name, shown, sizeof shown));
        return false;
    }
    return attach(loader, loader->anchored[known->value], &at);
}

static bool on_start(struct loader *loader, const yaml_event_t *event, enum hr_yaml_kind kind)
{
    const struct hr_origin at = origin(loader, event->start_mark);
    const bool list = kind == HR_YAML_LIST;
    const yaml_char_t *tag = list ? event->data.sequence_start.tag : event->data.mapping_start.tag;
    const yaml_char_t *anchor = list ? event->data.sequence_start.anchor : event->data.mapping_start.anchor;
    if (!refuse_tag(loader, tag, &at)) {
        return false;
    }
    struct hr_yaml *node = new_node(loader, kind, &at);
    if (node == NULL || !attach(loader, node, &at)) {
        return false;
    }
    struct frame *frame = &loader->frame[loader->depth++];
    *frame = (struct frame){.node = node, .first = loader->pending_count};
    if (anchor == NULL) {
        return true;
    }
    if (!add_anchor(loader, anchor, node) || !remember_anchor(loader, (const char *)anchor, SIZE_MAX)) {
        return false;
    }
    frame->anchor = hr_names_find(&loader->anchors, (const char *)anchor)->text;
    frame->anchored = loader->anchored_count - 1;
    return true;
}

static bool weigh(struct loader *loader, struct hr_yaml *node, const struct hr_yaml *item)
{
    if (item->height + 1 > node->height) {
        node->height = item->height + 1;
    }
    node->weight += item->weight; /* both at most HR_YAML_NODES_MAX: no overflow */
    return node->weight <= HR_YAML_NODES_MAX || too_many(loader, &node->at);
}

static int compare_keys(const void *a, const void *b)
{
    const struct hr_yaml *const *x = a;
    const struct hr_yaml *const *y = b;
    const int order = strcmp((*x)->text, (*y)->text);
    if (order != 0) {
        return order;
    }
    return (*x)->at.line < (*y)->at.line ||
                   ((*x)->at.line == (*y)->at.line && (*x)->at.column < (*y)->at.column)
               ? -1
               : 1;
}

static bool different_keys(struct loader *loader, const struct hr_yaml *map)
{
    if (map->count < 2) {
        return true;
    }
    const struct hr_yaml **sorted = hr_alloc(map->count, sizeof(struct hr_yaml *));
    if (sorted == NULL) {
        return out_of_memory(loader);
    }
    memcpy((void *)sorted, (const void *)map->key, map->count * sizeof(struct hr_yaml *));
    qsort((void *)sorted, map->count, sizeof(struct hr_yaml *), compare_keys);
    bool good = true;
    for (size_t i = 1; i < map->count; i++) {
        if (strcmp(sorted[i - 1]->text, sorted[i]->text) == 0) {
            char shown[48];
            loader->status =
                hr_fail(loader->report, HR_INPUT, "duplicate-key", &sorted[i]->at,
                        "the key '%s' stands here a second time, first in line %u; keep one of them",
                        hr_shown(sorted[i]->text, shown, sizeof shown), sorted[i - 1]->at.line);
            good = false;
        }
    }
    free((void *)sorted);
    return good;
}

static bool check_key(struct loader *loader, const struct hr_yaml *map, size_t i)
{
    const struct hr_yaml *key = map->key[i];
    if (key->kind != HR_YAML_SCALAR) {
        loader->status = hr_fail(loader->report, HR_INPUT, "yaml-key", &key->at,
                                 "a key is %s; write a name before the ':'",
                                 key->kind == HR_YAML_LIST ? "a list" : "a mapping");
        return false;
    }
    if (key->plain && strcmp(key->text, "<<") == 0) {
        loader->status = hr_fail(loader->report, HR_INPUT, "yaml-merge", &key->at,
                                 "merge keys '<<' are not read in loop files; write the keys out, or give a "
                                 "part its own model file");
        return false;
    }
    if (key->plain && key->text[0] >= '0' && key->text[0] <= '9' && hr_yaml_is_null(map->value[i]) && i > 0 &&
        map->value[i - 1]->kind == HR_YAML_SCALAR) {
        char before[48];
        char after[48];
        loader->status =
            hr_fail(loader->report, HR_INPUT, "decimal-comma", &map->value[i - 1]->at,
                    "'%s,%s' has a decimal comma, which YAML takes for the end of the value; write %s.%s",
                    hr_shown(map->value[i - 1]->text, before, sizeof before),
                    hr_shown(key->text, after, sizeof after), before, after);
        return false;
    }
    return true;
}

static bool on_end(struct loader *loader)
{
    const struct frame *frame = &loader->frame[--loader->depth];
    struct hr_yaml *node = frame->node;
    const size_t first = frame->first;
    const size_t items = loader->pending_count - first;
    const bool map = node->kind == HR_YAML_MAP;
    node->count = map ? items / 2 : items;
    node->value = hr_arena_alloc(loader->arena, node->count, sizeof(struct hr_yaml *));
    node->key = map ? hr_arena_alloc(loader->arena, node->count, sizeof(struct hr_yaml *)) : NULL;
    if (node->value == NULL || (map && node->key == NULL)) {
        return out_of_memory(loader);
    }
    for (size_t i = 0; i < items; i++) {
        const struct hr_yaml *item = loader->pending[first + i];
        if (map && i % 2 == 0) {
            node->key[i / 2] = item;
        } else {
            node->value[map ? i / 2 : i] = item;
        }
        if (!weigh(loader, node, item)) {
            return false;
        }
    }
    loader->pending_count = first;
    for (size_t i = 0; map && i < node->count; i++) {
        if (!check_key(loader, node, i)) {
            return false;
        }
    }
    if (map && !different_keys(loader, node)) {
        return false;
    }
    return frame->anchor == NULL || remember_anchor(loader, frame->anchor, frame->anchored);
}

static bool on_event(struct loader *loader, const yaml_event_t *event, bool *more)
{
    switch (event->type) {
    case YAML_SCALAR_EVENT:
        return on_scalar(loader, event);
    case YAML_ALIAS_EVENT:
        return on_alias(loader, event);
    case YAML_SEQUENCE_START_EVENT:
        return on_start(loader, event, HR_YAML_LIST);
    case YAML_MAPPING_START_EVENT:
        return on_start(loader, event, HR_YAML_MAP);
    case YAML_SEQUENCE_END_EVENT:
    case YAML_MAPPING_END_EVENT:
        return on_end(loader);
    case YAML_DOCUMENT_START_EVENT:
        if (loader->root != NULL) {
            const struct hr_origin at = origin(loader, event->start_mark);
            loader->status =
                hr_fail(loader->report, HR_INPUT, "yaml-documents", &at,
                        "a second document begins here; a file holds one, without a further '---'");
            return false;
        }
        return true;
    case YAML_STREAM_END_EVENT:
        *more = false;
        return true;
    default:
        return true;
    }
}

static void load(struct loader *loader)
{
    bool more = true;
    while (more) {
        yaml_event_t event;
        if (yaml_parser_parse(loader->parser, &event) == 0) {
            loader->status = hr_syntax_fail(loader->parser, &loader->start, loader->report);
            return;
        }
        const bool good = on_event(loader, &event, &more);
        yaml_event_delete(&event);
        if (!good) {
            return;
        }
    }
}

enum hr_status hr_yaml_read(struct hr_arena *arena, const char *text, size_t length,
                            const struct hr_origin *start, const struct hr_yaml **root,
                            struct hr_report *report)
{
    *root = NULL;
    const struct hr_origin whole = {start->file, 0, 0};
    if (length > HR_YAML_BYTES_MAX) {
        return hr_fail(report, HR_INPUT, "too-large", &whole,
                       "the file is larger than %d MB; a loop file is far smaller",
                       HR_YAML_BYTES_MAX / (1024 * 1024));
    }
    const enum hr_status fine = hr_syntax_check(text, length, start, report);
    if (fine != HR_OK) {
        return fine;
    }
    yaml_parser_t parser;
    if (yaml_parser_initialize(&parser) == 0) {
        return hr_fail_memory(report);
    }
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, length);
    struct loader loader = {.parser = &parser, .arena = arena, .report = report, .start = *start};
    load(&loader);
    yaml_parser_delete(&parser);
    free((void *)loader.pending);
    if (loader.status == HR_OK) {
        *root = loader.root;
    }
    return loader.status;
}
