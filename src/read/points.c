/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names, and the points where ports and junctions meet. Points are merged as a forest (union by the smaller
 * number, paths halved on the way: Tarjan and van Leeuwen 1984), so that a point keeps the name that came
 * first. */
#include "read/describe.h"

#include "base/text.h"
#include "read/syntax.h"

#include <stdio.h>
#include <string.h>

static const char *const top_keys[] = {"title",   "ambient",   "coolant", "tubing",       "parts",
                                       "route",   "runs",      "air",     "heat_to_air",  "limits",
                                       "sensors", "listening", "feeds",   "heights",      "loops",
                                       "states",  "gangs",     "groups",  "recirculation"};

const char *const *hr_top_keys(size_t *count)
{
    *count = HR_ARRAY_LEN(top_keys);
    return top_keys;
}

bool hr_is_top_key(const char *name)
{
    for (size_t i = 0; i < HR_ARRAY_LEN(top_keys); i++) {
        if (strcmp(top_keys[i], name) == 0) {
            return true;
        }
    }
    return false;
}

bool hr_no_memory(struct hr_describer *d)
{
    (void)hr_fail_memory(d->reader.report);
    return false;
}

static const char *kind_word(enum hr_named_kind kind)
{
    static const char *const words[] = {"a part", "a junction", "a run", "an air line",
                                        "a zone", "a sensor",   "a gang"};
    return words[kind];
}

const struct hr_named *hr_find_named(const struct hr_describer *d, const char *name)
{
    const struct hr_name *entry = hr_names_find(&d->names, name);
    return entry == NULL ? NULL : &d->named[entry->value];
}

const char *hr_meant(const struct hr_describer *d, const char *word, char *buffer, size_t room)
{
    return hr_did_you_mean(hr_names_nearest(&d->names, word), buffer, room);
}

bool hr_claim(struct hr_describer *d, const char *name, enum hr_named_kind kind, size_t index,
              const struct hr_origin *at)
{
    char shown[64];
    const bool zone = kind == HR_NAMED_ZONE;
    const bool room = strcmp(name, "ambient") == 0 || strcmp(name, "case") == 0;
    /* A name that cannot be is taken none the less, so that its uses are not reported too. */
    if (!hr_is_name(name)) {
        (void)hr_wrong(d, "no-name", at, "'%s' is not a name; names have letters, digits, '-' and '_' only",
                       hr_shown(name, shown, sizeof shown));
    }
    if (hr_is_top_key(name) || (room && !zone)) {
        (void)hr_wrong(d, "reserved-name", at, "the name '%s' is reserved; name %s otherwise", name,
                       kind_word(kind));
    }
    const struct hr_named *known = hr_find_named(d, name);
    if (known != NULL) {
        if (known->at.line == 0) {
            return hr_wrong(d, "duplicate-name", at, "the name '%s' is already that of %s; names must differ",
                            name, kind_word(known->kind));
        }
        return hr_wrong(d, "duplicate-name", at,
                        "the name '%s' is already that of %s in line %u; names must differ", name,
                        kind_word(known->kind), known->at.line);
    }
    struct hr_named *larger =
        hr_arena_grow(d->reader.arena, d->named, d->named_count, &d->named_room, sizeof *larger);
    if (larger == NULL || !hr_names_add(&d->names, d->reader.arena, name, d->named_count)) {
        return hr_no_memory(d);
    }
    d->named = larger;
    d->named[d->named_count++] = (struct hr_named){kind, index, *at};
    return true;
}

/* A new point; HR_NONE when memory is out. */
static size_t add_point(struct hr_describer *d, const char *name, const struct hr_origin *at)
{
    struct hr_draft_point *larger =
        hr_arena_grow(d->reader.arena, d->point, d->points, &d->point_room, sizeof *larger);
    if (larger == NULL || name == NULL) {
        (void)hr_no_memory(d);
        return HR_NONE;
    }
    d->point = larger;
    struct hr_draft_point *point = &d->point[d->points];
    memset(point, 0, sizeof *point);
    point->name = name;
    point->at = *at;
    point->parent = d->points;
    point->loop = HR_NONE;
    point->part = HR_NONE;
    point->port = HR_NONE;
    return d->points++;
}

bool hr_end_port(struct hr_describer *d, size_t part, size_t port, const struct hr_origin *at,
                 struct hr_end *end)
{
    const struct hr_part *owner = &d->out->parts[part];
    size_t *point = &d->port_point[part][port];
    if (*point == HR_NONE) {
        const char *name = hr_arena_format(d->reader.arena, "%s.%s", owner->name, owner->kind->ports[port]);
        *point = add_point(d, name, at);
        if (*point == HR_NONE) {
            return false;
        }
        d->point[*point].part = part;
        d->point[*point].port = port;
        d->point[*point].touched = 1; /* the part itself */
    }
    *end = (struct hr_end){*point, part, port, *at};
    return true;
}

bool hr_end_junction(struct hr_describer *d, const char *name, const struct hr_origin *at, struct hr_end *end)
{
    const struct hr_named *known = hr_find_named(d, name);
    if (known != NULL && known->kind == HR_NAMED_JUNCTION) {
        *end = (struct hr_end){known->index, HR_NONE, HR_NONE, *at};
        return true;
    }
    if (!hr_claim(d, name, HR_NAMED_JUNCTION, d->points, at)) {
        return false;
    }
    const size_t point = add_point(d, name, at);
    if (point == HR_NONE) {
        return false;
    }
    d->point[point].junction = true;
    *end = (struct hr_end){point, HR_NONE, HR_NONE, *at};
    return true;
}

size_t hr_port_named(const struct hr_part_kind *kind, const char *name)
{
    for (size_t i = 0; i < HR_PORTS_MAX && kind->ports[i] != NULL; i++) {
        if (strcmp(kind->ports[i], name) == 0) {
            return i;
        }
    }
    return HR_NONE;
}

static void list_ports(const struct hr_part *part, char *list, size_t room)
{
    size_t used = 0;
    list[0] = '\0';
    for (size_t i = 0; i < HR_PORTS_MAX && part->kind->ports[i] != NULL && used < room; i++) {
        used += (size_t)snprintf(list + used, room - used, "%s%s.%s", i == 0 ? "" : " or ", part->name,
                                 part->kind->ports[i]);
    }
}

/* "part.port" */
static bool end_of_part(struct hr_describer *d, const struct hr_yaml *node, const char *dot,
                        struct hr_end *end)
{
    char shown[64];
    char list[160];
    const char *name = hr_arena_copy(d->reader.arena, node->text, (size_t)(dot - node->text));
    if (name == NULL) {
        return hr_no_memory(d);
    }
    const struct hr_named *named = hr_find_named(d, name);
    if (named == NULL || named->kind != HR_NAMED_PART) {
        return hr_wrong(d, "unknown-part", &node->at, "'%s': there is no part '%s'%s",
                        hr_shown(node->text, shown, sizeof shown), name,
                        hr_meant(d, name, list, sizeof list));
    }
    const struct hr_part *part = &d->out->parts[named->index];
    if (part->kind == NULL) {
        return false; /* its own fault was reported */
    }
    const size_t port = hr_port_named(part->kind, dot + 1);
    list_ports(part, list, sizeof list);
    if (!hr_kind_has_coolant(part->kind)) {
        return hr_wrong(d, "not-coolant", &node->at,
                        "no coolant flows through '%s' of kind %s; name a part of the loop", name,
                        part->kind->name);
    }
    if (port == HR_NONE) {
        return hr_wrong(d, "unknown-port", &node->at, "'%s': part '%s' of kind %s has no port '%s'; write %s",
                        hr_shown(node->text, shown, sizeof shown), name, part->kind->name, dot + 1, list);
    }
    return hr_end_port(d, named->index, port, &node->at, end);
}

bool hr_end_named(struct hr_describer *d, const struct hr_yaml *node, bool create, struct hr_end *end)
{
    char shown[64];
    char list[160];
    if (node->kind != HR_YAML_SCALAR || hr_yaml_is_null(node)) {
        return hr_wrong(d, "wrong-form", &node->at,
                        "found %s; write a port such as gpu.out, or the name of a junction",
                        hr_yaml_describe(node, shown, sizeof shown));
    }
    const char *dot = strchr(node->text, '.');
    if (dot != NULL) {
        return end_of_part(d, node, dot, end);
    }
    const struct hr_named *named = hr_find_named(d, node->text);
    if (named != NULL && named->kind == HR_NAMED_PART) {
        const struct hr_part *part = &d->out->parts[named->index];
        if (part->kind == NULL) {
            return false;
        }
        list_ports(part, list, sizeof list);
        return hr_wrong(d, "no-port", &node->at, "'%s' is a part, and a port is needed here; write %s",
                        part->name, list);
    }
    if (named != NULL && named->kind != HR_NAMED_JUNCTION) {
        return hr_wrong(d, "wrong-name", &node->at, "'%s' is %s; write a port such as gpu.out, or a junction",
                        node->text, kind_word(named->kind));
    }
    if (named == NULL && !create) {
        return hr_wrong(d, "unknown-junction", &node->at, "there is no junction '%s'%s",
                        hr_shown(node->text, shown, sizeof shown),
                        hr_meant(d, node->text, list, sizeof list));
    }
    return hr_end_junction(d, node->text, &node->at, end);
}

size_t hr_root_point(const struct hr_describer *d, size_t point)
{
    while (d->point[point].parent != point) {
        d->point[point].parent = d->point[d->point[point].parent].parent;
        point = d->point[point].parent;
    }
    return point;
}

void hr_points_join(struct hr_describer *d, size_t a, size_t b)
{
    const size_t x = hr_root_point(d, a);
    const size_t y = hr_root_point(d, b);
    if (x < y) {
        d->point[y].parent = x;
    } else {
        d->point[x].parent = y;
    }
}

void hr_touch(struct hr_describer *d, size_t point, size_t loop, const struct hr_origin *at)
{
    struct hr_draft_point *touched = &d->point[point];
    touched->touched++;
    if (touched->loop != HR_NONE && touched->loop != loop) {
        (void)hr_wrong(
            d, "two-loops", at, "'%s' is already in the loop '%s'; a loop has its own coolant and parts",
            touched->name, d->loops[touched->loop].name == NULL ? "" : d->loops[touched->loop].name);
    }
    touched->loop = loop;
}

/* Adds what is known of a point to the one it was merged with. */
static void gather(struct hr_describer *d, size_t from, size_t to)
{
    struct hr_draft_point *a = &d->point[to];
    const struct hr_draft_point *b = &d->point[from];
    a->touched += b->touched;
    a->loop = a->loop == HR_NONE ? b->loop : a->loop;
    a->fed = a->fed || b->fed;
    if (!b->height_given) {
        return;
    }
    if (a->height_given && a->height != b->height) {
        (void)hr_wrong(d, "two-heights", &b->height_at,
                       "'%s' is joined to '%s', which lies at %g m (line %u); give both the same height",
                       b->name, a->name, a->height, a->height_at.line);
    }
    a->height_given = true;
    a->height = b->height;
    a->height_at = b->height_at;
}

static void place_parts(struct hr_describer *d, const size_t final[], struct hr_point points[])
{
    for (size_t i = 0; i < d->out->part_count; i++) {
        struct hr_part *part = &d->out->parts[i];
        for (size_t p = 0; p < HR_PORTS_MAX; p++) {
            const size_t point = d->port_point[i][p];
            part->point[p] = point == HR_NONE ? HR_NONE : final[hr_root_point(d, point)];
            if (point != HR_NONE && part->loop == HR_NONE) {
                part->loop = points[part->point[p]].loop;
            }
        }
        for (size_t p = 0; p < HR_PORTS_MAX; p++) {
            if (part->point[p] != HR_NONE && points[part->point[p]].loop == HR_NONE) {
                points[part->point[p]].loop = part->loop; /* a port where a feed alone is */
            }
        }
    }
}

bool hr_points_finish(struct hr_describer *d)
{
    struct hr_point *points = hr_arena_alloc(d->reader.arena, d->points, sizeof *points);
    size_t *final = hr_arena_alloc(d->reader.arena, d->points, sizeof *final);
    if (points == NULL || final == NULL) {
        return hr_no_memory(d);
    }
    size_t count = 0;
    for (size_t i = 0; i < d->points; i++) {
        const size_t root = hr_root_point(d, i);
        if (root != i) {
            gather(
                d, i,
                root); /* roots have the smaller number and so are complete when the loop below reads them */
        }
    }
    for (size_t i = 0; i < d->points; i++) {
        const struct hr_draft_point *draft = &d->point[i];
        if (draft->parent != i) {
            continue;
        }
        final[i] = count;
        points[count++] = (struct hr_point){draft->name,   draft->at,   draft->junction,
                                            draft->height, draft->loop, draft->touched};
    }
    d->out->points = points;
    d->out->point_count = count;
    place_parts(d, final, points);
    for (size_t i = 0; i < d->out->run_count; i++) {
        struct hr_run *run = &d->out->runs[i];
        run->from = final[hr_root_point(d, run->from)];
        run->to = final[hr_root_point(d, run->to)];
    }
    for (size_t i = 0; i < d->out->feed_count; i++) {
        struct hr_feed *feed = (struct hr_feed *)&d->out->feeds[i];
        feed->point = final[hr_root_point(d, feed->point)];
    }
    for (size_t i = 0; i < d->out->sensor_count; i++) {
        struct hr_sensor *sensor = (struct hr_sensor *)&d->out->sensors[i];
        if (sensor->point != HR_NONE) {
            sensor->point = final[hr_root_point(d, sensor->point)];
        }
    }
    return true;
}

/* True where something leads to a port. */
static bool connected(const struct hr_describer *d, size_t part, size_t port)
{
    const size_t point = d->out->parts[part].point[port];
    return point != HR_NONE &&
           (d->out->points[point].touched > 1 || d->point[hr_root_point(d, d->port_point[part][port])].fed);
}

/* Both ports of most kinds must be connected; kinds with more may have plugged ones. */
static void check_ports(struct hr_describer *d, size_t index)
{
    const struct hr_part *part = &d->out->parts[index];
    size_t ports = 0;
    size_t open = 0;
    size_t first = HR_NONE;
    for (; ports < HR_PORTS_MAX && part->kind->ports[ports] != NULL; ports++) {
        if (!connected(d, index, ports)) {
            first = first == HR_NONE ? ports : first;
            open++;
        }
    }
    if (open == ports) {
        if (!d->used[index]) {
            hr_warn(d->reader.report, "unused-part", &part->at,
                    "nothing uses the part '%s'; put it into the route, a run or an air line, or delete it",
                    part->name);
        }
    } else if (open > 0 && (ports == 2 || ports - open < 2)) {
        (void)hr_wrong(d, "open-port", &part->at,
                       "the port '%s.%s' is connected to nothing; lead a run or a feed to it", part->name,
                       part->kind->ports[first]);
    }
}

void hr_points_check(struct hr_describer *d)
{
    for (size_t i = 0; i < d->points; i++) {
        const struct hr_draft_point *point = &d->point[i];
        if (!point->junction || point->parent != i || point->fed || point->touched != 1) {
            continue;
        }
        const char *nearest = NULL;
        for (size_t j = 0; j < d->names.count; j++) {
            const char *other = d->names.entry[j].text;
            if (strcmp(other, point->name) != 0 && hr_nearest(point->name, &other, 1) != NULL) {
                nearest = other;
                break;
            }
        }
        char meant[96];
        hr_warn(d->reader.report, "dead-end", &point->at,
                "only one run ends at the junction '%s'; nothing flows there%s", point->name,
                hr_did_you_mean(nearest, meant, sizeof meant));
    }
    for (size_t i = 0; i < d->out->part_count; i++) {
        check_ports(d, i);
    }
}
