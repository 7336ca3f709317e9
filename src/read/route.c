/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The series-parallel form of a loop. A walk goes along the items with a cursor, the end it came to; each
 * item connects itself to the cursor, by a default run or, where things are screwed together, by making one
 * point of two. */
#include "read/describe.h"

#include "base/text.h"
#include "read/syntax.h"

#include <stdio.h>
#include <string.h>

struct walk {
    struct hr_describer *d;
    size_t loop;
    bool rigid; /* no runs between the items */
    bool open;  /* the outermost walk of an open route: its ends may be junctions */
    bool started;
    struct hr_end first;
    struct hr_end cursor;
    size_t *order; /* parts met so far, shared with the walks inside */
    size_t *order_count;
    size_t order_room;
};

static bool item_walk(struct walk *walk, const struct hr_yaml *item, bool at_end);

static void belong(struct hr_describer *d, const struct hr_end *end, size_t loop)
{
    hr_touch(d, end->point, loop, &end->at);
    d->point[end->point].touched--; /* it lies in the loop; what touches it is counted with the runs */
}

static bool connect(struct walk *walk, const struct hr_end *from, const struct hr_end *to)
{
    struct hr_describer *d = walk->d;
    belong(d, from, walk->loop);
    belong(d, to, walk->loop);
    d->point[from->point].in_route = true;
    d->point[to->point].in_route = true;
    if (walk->rigid) {
        hr_points_join(d, from->point, to->point);
        return true;
    }
    return hr_default_run(d, walk->loop, from, to, &to->at);
}

/* Goes through something that is entered at `in` and left at `out`. */
static bool pass(struct walk *walk, const struct hr_end *in, const struct hr_end *out)
{
    const bool good = !walk->started || connect(walk, &walk->cursor, in);
    if (!walk->started) {
        walk->first = *in;
        walk->started = true;
    }
    walk->cursor = *out;
    return good;
}

/* The part that a name in a route means, or HR_NONE after a reported fault. */
static size_t find_part(struct hr_describer *d, const char *name, const struct hr_origin *at)
{
    char shown[64];
    char meant[96];
    const struct hr_named *named = hr_find_named(d, name);
    if (named == NULL || named->kind != HR_NAMED_PART) {
        (void)hr_wrong(d, "unknown-part", at, "the route names '%s', which is not among the parts%s",
                       hr_shown(name, shown, sizeof shown), hr_meant(d, name, meant, sizeof meant));
        return HR_NONE;
    }
    const struct hr_part *part = &d->out->parts[named->index];
    if (part->kind == NULL) {
        return HR_NONE; /* its own fault was reported */
    }
    if (!hr_kind_has_coolant(part->kind)) {
        (void)hr_wrong(d, "not-coolant", at,
                       "no coolant flows through '%s' of kind %s; take it out of the route", name,
                       part->kind->name);
        return HR_NONE;
    }
    return named->index;
}

static size_t find_port(struct hr_describer *d, size_t part, const char *port, const struct hr_origin *at)
{
    const struct hr_part_kind *kind = d->out->parts[part].kind;
    const size_t found = hr_port_named(kind, port);
    char list[96] = "";
    size_t used = 0;
    char shown[64];
    for (size_t i = 0; i < HR_PORTS_MAX && kind->ports[i] != NULL && used < sizeof list; i++) {
        used += (size_t)snprintf(list + used, sizeof list - used, "%s%s", i == 0 ? "" : ", ", kind->ports[i]);
    }
    if (found == HR_NONE) {
        (void)hr_wrong(
            d, "unknown-port", at,
            "part '%s' of kind %s has no port '%s'; its ports are %s: write {part: %s, in: ..., out: ...}",
            d->out->parts[part].name, kind->name, hr_shown(port, shown, sizeof shown), list,
            d->out->parts[part].name);
    }
    return found;
}

static bool add_order(struct walk *walk, size_t part)
{
    for (size_t i = 0; i < *walk->order_count; i++) {
        if (walk->order[i] == part) {
            return true; /* a second passage through other ports */
        }
    }
    walk->order[(*walk->order_count)++] = part;
    return true;
}

static bool take_port(struct hr_describer *d, const struct hr_end *end)
{
    struct hr_draft_point *point = &d->point[end->point];
    if (point->taken) {
        return hr_wrong(
            d, "part-twice", &end->at,
            "the route comes to '%s' a second time; a part stands in a route once, further ones need names "
            "of their own",
            d->out->parts[end->part].name);
    }
    point->taken = true;
    return true;
}

static bool pass_part(struct walk *walk, size_t part, const char *in, const char *out,
                      const struct hr_origin *at)
{
    struct hr_describer *d = walk->d;
    struct hr_end from;
    struct hr_end to;
    const size_t in_port = find_port(d, part, in, at);
    const size_t out_port = in_port == HR_NONE ? HR_NONE : find_port(d, part, out, at);
    if (out_port == HR_NONE || !hr_end_port(d, part, in_port, at, &from) ||
        !hr_end_port(d, part, out_port, at, &to)) {
        return false;
    }
    if (in_port == out_port) {
        return hr_wrong(d, "same-port", at, "'%s' would be entered and left by the same port '%s'; name two",
                        d->out->parts[part].name, in);
    }
    if (!take_port(d, &from) || !take_port(d, &to) || !add_order(walk, part)) {
        return false;
    }
    belong(d, &from, walk->loop);
    belong(d, &to, walk->loop);
    return pass(walk, &from, &to);
}

/* "gpu", or "gpu + qd-b": screwed together, no run between. */
static bool text_walk(struct walk *walk, const struct hr_yaml *item, bool at_end)
{
    struct hr_describer *d = walk->d;
    const bool rigid = walk->rigid;
    const char *text = item->text;
    if (walk->open && at_end && strchr(text, '+') == NULL && hr_is_name(text)) {
        const struct hr_named *named = hr_find_named(d, text);
        struct hr_end end;
        if (named == NULL || named->kind == HR_NAMED_JUNCTION) {
            return hr_end_junction(d, text, &item->at, &end) && pass(walk, &end, &end);
        }
    }
    bool good = true;
    struct hr_origin at = item->at;
    while (good) {
        const size_t skip = strspn(text, " \t\n");
        const size_t length = strcspn(text + skip, "+");
        size_t end = length;
        while (end > 0 && strchr(" \t\n", text[skip + end - 1]) != NULL) {
            end--;
        }
        const char *name = hr_arena_copy(d->reader.arena, text + skip, end);
        if (name == NULL) {
            good = hr_no_memory(d);
            break;
        }
        at.column += item->plain ? (unsigned)skip : 0;
        const size_t part = find_part(d, name, &at);
        good = part != HR_NONE && pass_part(walk, part, "in", "out", &at);
        walk->rigid = true; /* from the second one on */
        text += skip + length;
        at.column += item->plain ? (unsigned)length + 1 : 0;
        if (*text++ == '\0') {
            break;
        }
    }
    walk->rigid = rigid;
    return good;
}

/* A key's text inside a route item, or NULL; *good is false after a fault. */
static const char *item_text(struct hr_describer *d, const struct hr_yaml *item, const char *key, bool *good)
{
    const struct hr_yaml *node = hr_yaml_get(item, key);
    char found[64];
    if (node == NULL) {
        return NULL;
    }
    if (node->kind != HR_YAML_SCALAR || hr_yaml_is_null(node)) {
        *good = hr_wrong(d, "wrong-form", &node->at, "%s: found %s; write a name", key,
                         hr_yaml_describe(node, found, sizeof found));
        return NULL;
    }
    return node->text;
}

static bool check_keys(struct hr_describer *d, const struct hr_yaml *item, const char *const known[])
{
    bool good = true;
    char shown[64];
    for (size_t i = 0; i < item->count; i++) {
        bool found = false;
        for (size_t k = 0; known[k] != NULL; k++) {
            found = found || strcmp(item->key[i]->text, known[k]) == 0;
        }
        if (!found) {
            good = hr_wrong(d, "unknown-key", &item->key[i]->at, "a {%s: ...} in a route has no key '%s'",
                            known[0], hr_shown(item->key[i]->text, shown, sizeof shown));
        }
    }
    return good;
}

/* {part: tank, in: in2, out: out} or {reversed: gpu}. */
static bool part_walk(struct walk *walk, const struct hr_yaml *item, bool reversed)
{
    static const char *const part_keys[] = {"part", "in", "out", NULL};
    static const char *const reversed_keys[] = {"reversed", NULL};
    struct hr_describer *d = walk->d;
    const char *const word = reversed ? "reversed" : "part";
    bool good = check_keys(d, item, reversed ? reversed_keys : part_keys);
    const char *name = item_text(d, item, word, &good);
    const char *in = item_text(d, item, "in", &good);
    const char *out = item_text(d, item, "out", &good);
    if (!good || name == NULL) {
        return false;
    }
    const struct hr_yaml *node = hr_yaml_get(item, word);
    const size_t part = find_part(d, name, &node->at);
    if (part == HR_NONE) {
        return false;
    }
    if (reversed) {
        d->out->parts[part].reversed = true;
        return pass_part(walk, part, "out", "in", &node->at);
    }
    return pass_part(walk, part, in == NULL ? "in" : in, out == NULL ? "out" : out, &node->at);
}

static bool sequence_walk(struct walk *walk, const struct hr_yaml *list)
{
    bool good = true;
    for (size_t i = 0; i < list->count; i++) {
        good = item_walk(walk, list->value[i], i == 0 || i + 1 == list->count) && good;
    }
    return good;
}

/* Free numbers for a split: both names unused. */
static bool name_split(struct hr_describer *d, struct hr_split *split)
{
    for (size_t n = d->splits_begun + 1; n < SIZE_MAX; n++) {
        split->name = hr_arena_format(d->reader.arena, "split-%zu", n);
        split->join = hr_arena_format(d->reader.arena, "join-%zu", n);
        if (split->name == NULL || split->join == NULL) {
            return hr_no_memory(d);
        }
        if (hr_find_named(d, split->name) == NULL && hr_find_named(d, split->join) == NULL) {
            d->splits_begun = n;
            return true;
        }
    }
    return false;
}

/* The ends of a split or join: the common one, then one for each of two legs; all the same without a tee. */
static bool tee_ends(struct hr_describer *d, const char *name, const struct hr_yaml *tee,
                     const struct hr_origin *at, size_t *part, struct hr_end ends[3])
{
    *part = HR_NONE;
    if (tee == NULL) {
        const bool good = hr_end_junction(d, name, at, &ends[0]);
        ends[1] = ends[2] = ends[0];
        return good;
    }
    const struct hr_model_file *model = hr_library_model(d->source, tee->text, &tee->at, d->reader.report);
    if (model == NULL) {
        return false;
    }
    const struct hr_part_kind *kind = model->kind;
    if (kind->ports[0] == NULL || kind->ports[1] == NULL || kind->ports[2] == NULL || kind->split == NULL) {
        return hr_wrong(d, "no-tee", &tee->at, "the model '%s' is of kind %s; a split takes a tee or a y",
                        tee->text, kind->name);
    }
    *part = hr_part_implied(d, name, tee);
    if (*part == HR_NONE) {
        return false;
    }
    /* Ports of tees: the straight run from the first to the second, then the side. */
    return hr_end_port(d, *part, 0, at, &ends[0]) && hr_end_port(d, *part, 1, at, &ends[1]) &&
           hr_end_port(d, *part, 2, at, &ends[2]);
}

static bool leg_walk(const struct walk *outer, const struct hr_yaml *leg, bool rigid,
                     const struct hr_end *from, const struct hr_end *to)
{
    struct hr_describer *d = outer->d;
    struct walk walk = *outer;
    walk.rigid = rigid;
    walk.open = false;
    walk.started = true;
    walk.cursor = *from;
    if (leg->kind == HR_YAML_LIST && leg->count == 0) {
        return hr_wrong(d, "empty-leg", &leg->at, "a leg of the parallel is empty; name its parts");
    }
    const bool good = leg->kind == HR_YAML_LIST ? sequence_walk(&walk, leg) : item_walk(&walk, leg, false);
    return good && connect(&walk, &walk.cursor, to);
}

static bool legs_key(struct hr_describer *d, const struct hr_yaml *item, bool *rigid)
{
    const struct hr_yaml *legs = hr_yaml_get(item, "legs");
    char found[64];
    *rigid = hr_yaml_is(legs, "none");
    return legs == NULL || *rigid ||
           hr_wrong(d, "unknown-choice", &legs->at, "legs: found %s; write legs: none, or delete the key",
                    hr_yaml_describe(legs, found, sizeof found));
}

static bool check_parallel(struct hr_describer *d, const struct hr_yaml *item, const struct hr_yaml *legs,
                           const struct hr_yaml *tee)
{
    static const char *const keys[] = {"parallel", "legs", "tee", NULL};
    char found[64];
    if (!check_keys(d, item, keys)) {
        return false;
    }
    if (legs->kind != HR_YAML_LIST) {
        return hr_wrong(d, "wrong-form", &legs->at,
                        "parallel: found %s; write a list of legs such as [gpu, cpu]",
                        hr_yaml_describe(legs, found, sizeof found));
    }
    if (legs->count < 2) {
        return hr_wrong(d, "one-leg", &legs->at,
                        "parallel needs at least two legs, found %zu; write [gpu, cpu]", legs->count);
    }
    if (tee != NULL && (tee->kind != HR_YAML_SCALAR || hr_yaml_is_null(tee))) {
        return hr_wrong(d, "wrong-form", &tee->at, "tee: found %s; write the name of a model",
                        hr_yaml_describe(tee, found, sizeof found));
    }
    if (tee != NULL && legs->count > 2) {
        return hr_wrong(d, "tee-legs", &tee->at,
                        "a tee splits in two, and this parallel has %zu legs; put one parallel into another",
                        legs->count);
    }
    return true;
}

static bool parallel_walk(struct walk *walk, const struct hr_yaml *item)
{
    struct hr_describer *d = walk->d;
    const struct hr_yaml *legs = hr_yaml_get(item, "parallel");
    const struct hr_yaml *tee = hr_yaml_get(item, "tee");
    struct hr_split split = {.at = item->at, .legs = legs->count};
    struct hr_end in[3];
    struct hr_end out[3];
    if (!check_parallel(d, item, legs, tee) || !legs_key(d, item, &split.rigid) || !name_split(d, &split) ||
        !tee_ends(d, split.name, tee, &item->at, &split.tee, in) ||
        !tee_ends(d, split.join, tee, &item->at, &split.tee_join, out)) {
        return false;
    }
    struct hr_split *larger =
        hr_arena_grow(d->reader.arena, d->split, d->splits, &d->split_room, sizeof *larger);
    if (larger == NULL) {
        return hr_no_memory(d);
    }
    d->split = larger;
    d->split[d->splits++] = split;
    bool good = pass(walk, &in[0], &out[0]);
    for (size_t i = 0; i < legs->count; i++) {
        const size_t port = i == 0 ? 1 : 2;
        good = leg_walk(walk, legs->value[i], split.rigid, &in[port], &out[port]) && good;
    }
    return good;
}

static bool item_walk(struct walk *walk, const struct hr_yaml *item, bool at_end)
{
    struct hr_describer *d = walk->d;
    if (item->kind == HR_YAML_SCALAR && !hr_yaml_is_null(item)) {
        return text_walk(walk, item, at_end);
    }
    if (item->kind == HR_YAML_LIST) {
        return hr_wrong(d, "wrong-form", &item->at,
                        "a list inside a series changes nothing; write its parts one after the other, or "
                        "{parallel: [...]}");
    }
    if (hr_yaml_get(item, "parallel") != NULL) {
        return parallel_walk(walk, item);
    }
    if (hr_yaml_get(item, "reversed") != NULL || hr_yaml_get(item, "part") != NULL) {
        return part_walk(walk, item, hr_yaml_get(item, "reversed") != NULL);
    }
    if (hr_yaml_get(item, "group") != NULL) {
        return hr_wrong(d, "not-yet", &item->at, "groups are kept for later and cannot be used yet");
    }
    static const char *const forms[] = {"parallel", "reversed", "part"};
    char found[96];
    char shown[64];
    const char *nearest = NULL;
    (void)hr_yaml_describe(item, found, sizeof found);
    if (item->kind == HR_YAML_MAP && item->count > 0) {
        (void)snprintf(found, sizeof found, "{%s: ...}", hr_shown(item->key[0]->text, shown, sizeof shown));
        nearest = hr_nearest(item->key[0]->text, forms, HR_ARRAY_LEN(forms));
    }
    if (nearest != NULL) {
        return hr_wrong(d, "wrong-form", &item->at, "found %s in the route; did you mean {%s: ...}?", found,
                        nearest);
    }
    return hr_wrong(d, "wrong-form", &item->at,
                    "found %s in the route; write names of parts, {parallel: [...]}, {reversed: NAME} or "
                    "{part: NAME, in: "
                    "..., out: ...}",
                    found);
}

static void mark_names(struct hr_describer *d, const struct hr_yaml *node)
{
    for (size_t i = 0; i < node->count; i++) {
        mark_names(d, node->value[i]);
    }
    const char *text = node->kind == HR_YAML_SCALAR ? node->text : "";
    while (*text != '\0') {
        const size_t skip = strspn(text, " +");
        const size_t length = strcspn(text + skip, " +");
        char name[64] = "";
        if (length < sizeof name) {
            memcpy(name, text + skip, length);
        }
        const struct hr_named *named = hr_find_named(d, name);
        if (named != NULL && named->kind == HR_NAMED_PART) {
            d->was_routed[named->index] = true;
        }
        text += skip + length;
    }
}

bool hr_route_mark(struct hr_describer *d)
{
    const struct hr_yaml *route = hr_yaml_get(d->source->root, "route");
    const struct hr_yaml *loops = hr_yaml_get(d->source->root, "loops");
    d->was_routed = hr_arena_alloc(d->reader.arena, d->out->part_count, sizeof *d->was_routed);
    if (d->was_routed == NULL) {
        return hr_no_memory(d);
    }
    if (route != NULL) {
        mark_names(d, route);
    }
    for (size_t i = 0; loops != NULL && loops->kind == HR_YAML_MAP && i < loops->count; i++) {
        route = hr_yaml_get(loops->value[i], "route");
        if (route != NULL) {
            mark_names(d, route);
        }
    }
    return true;
}

/* The list of a route, and whether it is open; NULL after a reported fault. */
static const struct hr_yaml *route_list(struct hr_describer *d, const struct hr_yaml *route, bool *open)
{
    static const char *const keys[] = {"open", NULL};
    const struct hr_yaml *list = route;
    char found[64];
    *open = hr_yaml_get(route, "open") != NULL;
    if (*open) {
        list = hr_yaml_get(route, "open");
        if (!check_keys(d, route, keys)) {
            return NULL;
        }
    }
    if (list->kind != HR_YAML_LIST) {
        (void)hr_wrong(d, "wrong-form", &list->at,
                       "route: found %s; write a list such as [pump, gpu, radiator]",
                       hr_yaml_describe(list, found, sizeof found));
        return NULL;
    }
    if (list->count == 0) {
        (void)hr_wrong(d, "empty-route", &list->at,
                       "the route is empty; write a list such as [pump, gpu, radiator]");
        return NULL;
    }
    return list;
}

bool hr_route_read(struct hr_describer *d, size_t loop, const struct hr_yaml *route)
{
    bool open = false;
    const struct hr_yaml *list = route_list(d, route, &open);
    if (list == NULL) {
        return false;
    }
    size_t count = 0;
    struct walk walk = {.d = d, .loop = loop, .open = open, .order_count = &count};
    walk.order = hr_arena_alloc(d->reader.arena, d->out->part_count, sizeof(size_t));
    if (walk.order == NULL) {
        return hr_no_memory(d);
    }
    bool good = sequence_walk(&walk, list);
    if (good && !open) {
        good = connect(&walk, &walk.cursor, &walk.first);
    }
    struct hr_loop *out = &d->loops[loop];
    out->has_route = true;
    out->closed = !open;
    out->order = walk.order;
    out->order_count = count;
    return good;
}
