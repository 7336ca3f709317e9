/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The air side: lines from zone to zone, the heat of zones, recirculation, and where radiators get their air.
 */
#include "read/describe.h"

#include "read/syntax.h"

#include <math.h>
#include <string.h>

static const struct hr_key line_keys[] = {
    {.name = "name", .form = HR_FORM_TEXT, .help = "name of the line"},
    {.name = "from", .form = HR_FORM_TEXT, .required = true, .help = "ambient, case or another zone"},
    {.name = "through", .form = HR_FORM_LIST, .required = true, .help = "[fans, radiator]"},
    {.name = "to", .form = HR_FORM_TEXT, .required = true, .help = "ambient, case or another zone"},
};
static const struct hr_key_group line_group = {line_keys, HR_ARRAY_LEN(line_keys)};

/* The same without the list, which has a grammar of its own. */
static const struct hr_key end_keys[] = {
    {.name = "name", .form = HR_FORM_TEXT},
    {.name = "from", .form = HR_FORM_TEXT, .required = true, .help = "ambient, case or another zone"},
    {.name = "to", .form = HR_FORM_TEXT, .required = true, .help = "ambient, case or another zone"},
};
static const struct hr_key_group end_group = {end_keys, HR_ARRAY_LEN(end_keys)};

static const struct hr_key back_keys[] = {
    {.name = "from", .form = HR_FORM_TEXT, .required = true, .help = "the line that blows out"},
    {.name = "into", .form = HR_FORM_TEXT, .required = true, .help = "the line that draws it in again"},
    {.name = "share", .quantity = HR_SHARE, .min = 0, .max = 1, .required = true, .help = "15 %"},
};
static const struct hr_key_group back_group = {back_keys, HR_ARRAY_LEN(back_keys)};

static const struct hr_key zone_heat_key = {
    .name = "heat", .quantity = HR_POWER, .min = 0, .max = 1e9, .help = "60 W"};

/* Zones in the making. */
struct zones {
    struct hr_zone *zone;
    size_t room;
};

static bool add_zone(struct hr_describer *d, struct zones *zones, const char *name,
                     const struct hr_origin *at, size_t *index)
{
    struct hr_zone *larger =
        hr_arena_grow(d->reader.arena, zones->zone, d->out->zone_count, &zones->room, sizeof *larger);
    if (larger == NULL) {
        return hr_no_memory(d);
    }
    zones->zone = larger;
    *index = d->out->zone_count;
    zones->zone[d->out->zone_count++] = (struct hr_zone){.name = name, .at = *at, .heat_w = {.value = 0}};
    d->out->zones = zones->zone;
    return true;
}

static bool zone_named(struct hr_describer *d, struct zones *zones, const struct hr_yaml *node, size_t *index)
{
    const struct hr_named *named = hr_find_named(d, node->text);
    if (strcmp(node->text, "ambient") == 0) {
        *index = 0;
        return true;
    }
    if (named != NULL && named->kind == HR_NAMED_ZONE) {
        *index = named->index;
        return true;
    }
    if (named != NULL && named->kind == HR_NAMED_PART) {
        return hr_wrong(d, "wrong-name", &node->at,
                        "'%s' is a part; an air line leads from zone to zone, and its parts stand in through",
                        node->text);
    }
    return hr_claim(d, node->text, HR_NAMED_ZONE, d->out->zone_count, &node->at) &&
           add_zone(d, zones, node->text, &node->at, index);
}

static bool read_step(struct hr_describer *d, const struct hr_yaml *node, size_t line,
                      struct hr_air_step *step);

static bool read_steps(struct hr_describer *d, const struct hr_yaml *list, size_t line,
                       struct hr_air_step *step)
{
    struct hr_air_step *steps = hr_arena_alloc(d->reader.arena, list->count, sizeof *steps);
    bool good = true;
    if (steps == NULL) {
        return hr_no_memory(d);
    }
    step->step = steps;
    step->count = list->count;
    for (size_t i = 0; i < list->count; i++) {
        good = read_step(d, list->value[i], line, &steps[i]) && good;
    }
    return good;
}

static bool air_part(struct hr_describer *d, const struct hr_yaml *node, size_t line,
                     struct hr_air_step *step)
{
    const struct hr_named *named = hr_find_named(d, node->text);
    char shown[64];
    char meant[96];
    if (named == NULL || named->kind != HR_NAMED_PART) {
        return hr_wrong(
            d, "unknown-part", &node->at, "the air line names '%s', which is not among the parts%s",
            hr_shown(node->text, shown, sizeof shown), hr_meant(d, node->text, meant, sizeof meant));
    }
    const struct hr_part *part = &d->out->parts[named->index];
    if (part->kind == NULL) {
        return false;
    }
    if (!hr_kind_has_air(part->kind)) {
        return hr_wrong(d, "no-air", &node->at,
                        "no air flows through '%s' of kind %s; name fans, radiators, vents and the like",
                        part->name, part->kind->name);
    }
    if (d->line_of[named->index] != HR_NONE) {
        return hr_wrong(d, "part-twice", &node->at,
                        "'%s' stands in an air line already; a part stands in one line once", part->name);
    }
    d->line_of[named->index] = line;
    hr_use(d, named->index);
    step->part = named->index;
    return true;
}

static bool read_step(struct hr_describer *d, const struct hr_yaml *node, size_t line,
                      struct hr_air_step *step)
{
    const struct hr_yaml *parallel = hr_yaml_get(node, "parallel");
    char found[64];
    *step = (struct hr_air_step){.kind = HR_AIR_PART, .at = node->at, .part = HR_NONE};
    if (node->kind == HR_YAML_SCALAR && !hr_yaml_is_null(node)) {
        return air_part(d, node, line, step);
    }
    if (node->kind == HR_YAML_LIST) {
        step->kind = HR_AIR_SERIES;
        return read_steps(d, node, line, step);
    }
    if (parallel == NULL || node->count != 1) {
        return hr_wrong(d, "wrong-form", &node->at,
                        "through takes names of parts and {parallel: [...]}, found %s",
                        hr_yaml_describe(node, found, sizeof found));
    }
    if (parallel->kind != HR_YAML_LIST || parallel->count < 2) {
        return hr_wrong(d, "one-leg", &parallel->at,
                        "parallel needs a list of at least two legs, such as [a, b]");
    }
    step->kind = HR_AIR_PARALLEL;
    return read_steps(d, parallel, line, step);
}

static bool name_line(struct hr_describer *d, const struct hr_yaml *map, struct hr_air_line *line,
                      size_t *unnamed)
{
    const struct hr_yaml *name = hr_yaml_get(map, "name");
    if (name != NULL) {
        line->name = name->text;
        return hr_claim(d, name->text, HR_NAMED_AIR_LINE, d->out->air_line_count, &name->at);
    }
    do {
        ++*unnamed;
        line->name = hr_arena_format(d->reader.arena, "air-%zu", *unnamed);
    } while (line->name != NULL && hr_find_named(d, line->name) != NULL);
    return line->name == NULL ? hr_no_memory(d)
                              : hr_claim(d, line->name, HR_NAMED_AIR_LINE, d->out->air_line_count, &line->at);
}

static void read_line(struct hr_describer *d, struct zones *zones, const struct hr_yaml *map,
                      struct hr_air_line *line, size_t *unnamed)
{
    const struct hr_yaml *through = hr_yaml_get(map, "through");
    const struct hr_yaml *rest = hr_map_without(d, map, "through");
    const struct hr_params *params = NULL;
    *line = (struct hr_air_line){.at = map->at};
    if (rest == NULL ||
        !hr_map_read(d, rest, through == NULL ? &line_group : &end_group, "air line", &params) ||
        !name_line(d, map, line, unnamed)) {
        return;
    }
    const size_t index = d->out->air_line_count++;
    bool good = zone_named(d, zones, hr_yaml_get(map, "from"), &line->from);
    good = zone_named(d, zones, hr_yaml_get(map, "to"), &line->to) && good;
    if (through->kind != HR_YAML_LIST || through->count == 0) {
        char found[64];
        (void)hr_wrong(
            d, "wrong-form", &through->at, "through: found %s; write a list such as [fans, radiator]",
            through->kind == HR_YAML_LIST ? "an empty list" : hr_yaml_describe(through, found, sizeof found));
        return;
    }
    good = read_step(d, through, index, &line->through) && good;
    if (!good) {
        return;
    }
    if (line->from == line->to && line->from != 0) {
        (void)hr_wrong(d, "same-zone", &map->at, "the air line leads from '%s' back to it; name two zones",
                       zones->zone[line->from].name);
        return;
    }
    zones->zone[line->from].lines++;
    zones->zone[line->to].lines++;
}

/* An air line by the name that a key of `recirculation` gives. */
static bool line_named(struct hr_describer *d, const struct hr_yaml *node, size_t *index)
{
    const struct hr_named *named = hr_find_named(d, node->text);
    char shown[64];
    char meant[96];
    if (named == NULL || named->kind != HR_NAMED_AIR_LINE) {
        return hr_wrong(d, "unknown-line", &node->at, "recirculation: there is no air line '%s'%s",
                        hr_shown(node->text, shown, sizeof shown),
                        hr_meant(d, node->text, meant, sizeof meant));
    }
    *index = named->index;
    return true;
}

static void read_recirculation(struct hr_describer *d)
{
    const struct hr_yaml *list = hr_yaml_get(d->root, "recirculation");
    struct hr_recirculation *backs =
        list == NULL ? NULL : hr_arena_alloc(d->reader.arena, list->count, sizeof *backs);
    if (list != NULL && backs == NULL) {
        (void)hr_no_memory(d);
        return;
    }
    d->out->recirculations = backs;
    const struct hr_yaml *item;
    for (size_t next = 0; hr_next_item(d, "recirculation", &next, &item);) {
        struct hr_recirculation *back = &backs[d->out->recirculation_count];
        const struct hr_params *params = NULL;
        *back = (struct hr_recirculation){.at = item->at};
        if (!hr_map_read(d, item, &back_group, "recirculation", &params)) {
            continue;
        }
        back->share = hr_given(params, "share");
        const bool from = line_named(d, hr_yaml_get(item, "from"), &back->from);
        const bool into = line_named(d, hr_yaml_get(item, "into"), &back->into);
        d->out->recirculation_count += from && into ? 1 : 0;
    }
}

static void read_zone_heat(struct hr_describer *d, struct zones *zones)
{
    const struct hr_yaml *map = hr_yaml_get(d->root, "heat_to_air");
    char found[64];
    if (map != NULL && map->kind != HR_YAML_MAP) {
        (void)hr_wrong(d, "wrong-form", &map->at,
                       "heat_to_air: found %s; write a mapping such as {case: 60 W}",
                       hr_yaml_describe(map, found, sizeof found));
        return;
    }
    for (size_t i = 0; map != NULL && i < map->count; i++) {
        const struct hr_key_group group = {&zone_heat_key, 1};
        const struct hr_named *named = hr_find_named(d, map->key[i]->text);
        const struct hr_params *params = NULL;
        struct hr_yaml *single = hr_yaml_map_copy(d->reader.arena, NULL, 1, &map->value[i]->at);
        const struct hr_yaml *name = hr_yaml_scalar(d->reader.arena, "heat", &map->value[i]->at);
        const char *owner = hr_arena_format(d->reader.arena, "zone '%.60s'", map->key[i]->text);
        if (single == NULL || name == NULL || owner == NULL) {
            (void)hr_no_memory(d);
            return;
        }
        hr_yaml_put(single, name, map->value[i]);
        if (!hr_map_read(d, single, &group, owner, &params)) {
            continue;
        }
        if (named != NULL && named->kind == HR_NAMED_ZONE) {
            zones->zone[named->index].heat_w = hr_given(params, "heat");
        } else if (d->out->has_air) {
            (void)hr_wrong(d, "unknown-zone", &map->key[i]->at,
                           "heat_to_air: no air line begins or ends at the zone '%s'%s",
                           hr_shown(map->key[i]->text, found, sizeof found),
                           hr_meant(d, map->key[i]->text, (char[96]){0}, 96));
        } else {
            hr_warn(d->reader.report, "unknown-zone", &map->key[i]->at,
                    "heat_to_air: without air lines the heat of '%s' goes to the room and warms nothing",
                    hr_shown(map->key[i]->text, found, sizeof found));
        }
    }
}

void hr_air_read(struct hr_describer *d)
{
    const struct hr_yaml *list = hr_yaml_get(d->root, "air");
    const struct hr_origin nowhere = {0};
    struct zones zones = {0};
    size_t ambient = 0;
    size_t unnamed = 0;
    d->line_of = hr_arena_alloc(d->reader.arena, d->out->part_count, sizeof *d->line_of);
    struct hr_air_line *lines =
        hr_arena_alloc(d->reader.arena, list == NULL ? 0 : list->count, sizeof *lines);
    if (d->line_of == NULL || lines == NULL || !add_zone(d, &zones, "ambient", &nowhere, &ambient)) {
        (void)hr_no_memory(d);
        return;
    }
    for (size_t i = 0; i < d->out->part_count; i++) {
        d->line_of[i] = HR_NONE;
    }
    d->out->air_lines = lines;
    d->out->has_air = list != NULL;
    const struct hr_yaml *item;
    for (size_t next = 0; hr_next_item(d, "air", &next, &item);) {
        read_line(d, &zones, item, &lines[d->out->air_line_count], &unnamed);
    }
    read_recirculation(d);
    read_zone_heat(d, &zones);
    for (size_t i = 1; i < d->out->zone_count; i++) {
        if (zones.zone[i].lines == 1) {
            char meant[96];
            const char *other = strcmp(zones.zone[i].name, "case") == 0 ? NULL : "case";
            hr_warn(d->reader.report, "dead-end", &zones.zone[i].at,
                    "only one air line touches the zone '%s', so that no air flows there%s",
                    zones.zone[i].name,
                    hr_did_you_mean(other != NULL && zones.zone[i].name[0] == 'c' ? other : NULL, meant,
                                    sizeof meant));
        }
    }
}

/* A name under `fans`: it must be that of fans. */
static void use_fan(struct hr_describer *d, const struct hr_part *radiator, const char *name,
                    const struct hr_origin *at)
{
    const struct hr_named *named = hr_find_named(d, name);
    if (named == NULL) {
        return; /* reported with the other names of the file */
    }
    const struct hr_part_kind *kind = named->kind == HR_NAMED_PART ? d->out->parts[named->index].kind : NULL;
    if (kind == NULL || hr_part_kind_key(kind, "count") == NULL) {
        (void)hr_wrong(d, "no-fan", at, "fans of part '%s': '%s' is no fan; name parts of kind fan",
                       radiator->name, name);
        return;
    }
    if (d->line_of[named->index] != HR_NONE) {
        (void)hr_wrong(d, "two-airs", at,
                       "fans of part '%s': '%s' stands in the air line '%s' already; keep one of both",
                       radiator->name, name, d->out->air_lines[d->line_of[named->index]].name);
    }
    hr_use(d, named->index);
}

static void use_fans(struct hr_describer *d, const struct hr_part *radiator)
{
    static const char *const sides[] = {"push", "pull"};
    const struct hr_value *fans = hr_param(radiator->params, "fans");
    for (size_t i = 0; fans != NULL && fans->map == NULL && i < fans->row_count; i++) {
        use_fan(d, radiator, fans->names[i], &fans->at);
    }
    for (size_t i = 0; fans != NULL && i < HR_ARRAY_LEN(sides); i++) {
        const struct hr_value *side = hr_param(fans->map, sides[i]);
        if (side != NULL && side->text != NULL) {
            use_fan(d, radiator, side->text, &side->at);
        }
    }
}

/* True where a part of the loop is heated. */
static bool heated(const struct hr_describer *d, size_t loop)
{
    for (size_t i = 0; i < d->out->part_count; i++) {
        const struct hr_part *part = &d->out->parts[i];
        if (part->loop == loop && loop != HR_NONE && hr_param_number(part->params, "heat", 0) > 0) {
            return true;
        }
    }
    return false;
}

void hr_air_check(struct hr_describer *d)
{
    for (size_t i = 0; i < d->out->part_count; i++) {
        const struct hr_part *part = &d->out->parts[i];
        if (part->kind == NULL || part->params == NULL || hr_part_kind_key(part->kind, "air_flow") == NULL) {
            continue;
        }
        const struct hr_value *fans = hr_param(part->params, "fans");
        const bool in_line = d->line_of[i] != HR_NONE;
        use_fans(d, part);
        if (in_line && fans != NULL) {
            (void)hr_wrong(d, "two-airs", &fans->at,
                           "part '%s' has fans and stands in the air line '%s'; keep one of both", part->name,
                           d->out->air_lines[d->line_of[i]].name);
        }
        const bool served = in_line || fans != NULL || hr_param(part->params, "air_flow") != NULL ||
                            hr_param(part->params, "ua") != NULL;
        if (!served && heated(d, part->loop)) {
            (void)hr_wrong(d, "no-air", &part->at,
                           "part '%s' gets no air, and its loop is heated; write fans, air_flow or ua, or "
                           "let an air line "
                           "go through it",
                           part->name);
        }
    }
}
