/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is given at single places: feeds, heights, sensors, limits; and what stands beside the loop:
 * listening, gangs. */
#include "read/describe.h"

#include "base/text.h"
#include "read/syntax.h"

#include <math.h>
#include <string.h>

static const struct hr_key feed_keys[] = {
    {.name = "at", .form = HR_FORM_TEXT, .required = true, .help = "a junction or a port such as gpu.in"},
    {.name = "inflow", .quantity = HR_FLOW, .min = -1e3, .max = 1e3, .instead = "feed", .help = "100 L/min"},
    {.name = "pressure",
     .quantity = HR_PRESSURE,
     .min = -1e9,
     .max = 1e9,
     .instead = "feed",
     .help = "0 kPa"},
    {.name = "head", .quantity = HR_LENGTH, .min = -1e5, .max = 1e5, .instead = "feed", .help = "20 m"},
    {.name = "temperature", .quantity = HR_TEMPERATURE, .min = -60, .max = 300, .help = "of what flows in"},
};
static const struct hr_key_group feed_group = {feed_keys, HR_ARRAY_LEN(feed_keys)};

static const struct hr_key height_key = {
    .name = "height", .quantity = HR_LENGTH, .min = -1e4, .max = 1e4, .help = "0.12 m"};

static const char *const measures[] = {"temperature", "pressure", "flow", NULL};
static const struct hr_key sensor_keys[] = {
    {.name = "at", .form = HR_FORM_TEXT, .required = true, .help = "gpu.out"},
    {.name = "measures",
     .form = HR_FORM_CHOICE,
     .choices = measures,
     .help = "temperature, pressure or flow"},
};
static const struct hr_key_group sensor_group = {sensor_keys, HR_ARRAY_LEN(sensor_keys)};

static const struct hr_key noise_keys[] = {{.name = "max", .quantity = HR_SOUND_LEVEL, .help = "38 dBA"}};
static const struct hr_key_group noise_group = {noise_keys, HR_ARRAY_LEN(noise_keys)};
static const struct hr_key coolant_keys[] = {
    {.name = "max", .quantity = HR_LIMIT_TEMPERATURE, .help = "45 degC"}};
static const struct hr_key_group coolant_group = {coolant_keys, HR_ARRAY_LEN(coolant_keys)};
static const struct hr_key limit_keys[] = {
    {.name = "noise", .form = HR_FORM_MAP, .sub = &noise_group, .help = "{max: 38 dBA}"},
    {.name = "coolant", .form = HR_FORM_MAP, .sub = &coolant_group, .help = "{max: 45 degC}"},
    {.name = "parts", .form = HR_FORM_MAP, .sub = NULL, .help = "{gpu: {chip: 75 degC}}"},
};
static const struct hr_key_group limit_group = {limit_keys, HR_ARRAY_LEN(limit_keys)};

static const struct hr_key listening_keys[] = {
    {.name = "distance", .quantity = HR_LENGTH, .min = 0.01, .max = 1e3, .help = "0.5 m"},
    {.name = "background", .quantity = HR_SOUND_LEVEL, .min = -20, .max = 150, .help = "25 dBA"},
};
static const struct hr_key_group listening_group = {listening_keys, HR_ARRAY_LEN(listening_keys)};

bool hr_next_item(struct hr_describer *d, const char *key, size_t *next, const struct hr_yaml **item)
{
    const struct hr_yaml *list = hr_yaml_get(d->root, key);
    char found[64];
    if (list == NULL) {
        return false;
    }
    if (list->kind != HR_YAML_LIST) {
        return hr_wrong(d, "wrong-form", &list->at, "%s: found %s; write a list of mappings: [{...}, {...}]",
                        key, hr_yaml_describe(list, found, sizeof found));
    }
    while (*next < list->count) {
        *item = list->value[(*next)++];
        if ((*item)->kind == HR_YAML_MAP) {
            return true;
        }
        (void)hr_wrong(d, "wrong-form", &(*item)->at, "%s: found %s; write a mapping", key,
                       hr_yaml_describe(*item, found, sizeof found));
    }
    return false;
}

static void read_feed(struct hr_describer *d, const struct hr_yaml *map, struct hr_feed *feed)
{
    const struct hr_params *params = NULL;
    struct hr_end end;
    if (!hr_map_read(d, map, &feed_group, "feed", &params)) {
        return;
    }
    *feed = (struct hr_feed){.at = map->at,
                             .inflow = hr_given(params, "inflow"),
                             .pressure = hr_given(params, "pressure"),
                             .head = hr_given(params, "head"),
                             .temperature = hr_given(params, "temperature")};
    if (isnan(feed->inflow.value) && isnan(feed->pressure.value) && isnan(feed->head.value)) {
        (void)hr_wrong(d, "no-feed", &map->at,
                       "the feed at '%s' gives nothing; write inflow, pressure or head",
                       hr_param_text(params, "at", ""));
        return;
    }
    if (!hr_end_named(d, hr_yaml_get(map, "at"), false, &end)) {
        return;
    }
    struct hr_draft_point *point = &d->point[hr_root_point(d, end.point)];
    if (point->fed) {
        (void)hr_wrong(d, "duplicate-feed", &hr_yaml_get(map, "at")->at,
                       "'%s' has a feed already; give one feed a point", point->name);
        return;
    }
    point->fed = true;
    feed->point = end.point;
    d->out->feed_count++;
}

void hr_feeds_read(struct hr_describer *d)
{
    const struct hr_yaml *list = hr_yaml_get(d->root, "feeds");
    struct hr_feed *feeds = list == NULL ? NULL : hr_arena_alloc(d->reader.arena, list->count, sizeof *feeds);
    if (list != NULL && feeds == NULL) {
        (void)hr_no_memory(d);
        return;
    }
    d->out->feeds = feeds;
    const struct hr_yaml *item;
    for (size_t next = 0; hr_next_item(d, "feeds", &next, &item);) {
        read_feed(d, item, &feeds[d->out->feed_count]);
    }
}

/* A top-level mapping by its key; NULL where there is none, or after a fault. */
static const struct hr_yaml *top_map(struct hr_describer *d, const char *key, const char *example)
{
    const struct hr_yaml *map = hr_yaml_get(d->root, key);
    char found[64];
    if (map != NULL && map->kind != HR_YAML_MAP) {
        (void)hr_wrong(d, "wrong-form", &map->at, "%s: found %s; write a mapping such as %s", key,
                       hr_yaml_describe(map, found, sizeof found), example);
        return NULL;
    }
    return map;
}

/* Reads one quantity by a key of its own. */
static bool read_single(struct hr_describer *d, const struct hr_key *key, const struct hr_yaml *node,
                        const char *owner, struct hr_given *given)
{
    const struct hr_key_group group = {key, 1};
    struct hr_yaml *map = hr_yaml_map_copy(d->reader.arena, NULL, 1, &node->at);
    const struct hr_yaml *name = hr_yaml_scalar(d->reader.arena, key->name, &node->at);
    const struct hr_params *params = NULL;
    if (map == NULL || name == NULL) {
        return hr_no_memory(d);
    }
    hr_yaml_put(map, name, node);
    const bool good = hr_map_read(d, map, &group, owner, &params);
    *given = hr_given(params, key->name);
    return good;
}

void hr_heights_read(struct hr_describer *d)
{
    const struct hr_yaml *map = top_map(d, "heights", "{gpu.in: 0.12 m}");
    for (size_t i = 0; map != NULL && i < map->count; i++) {
        struct hr_given height;
        struct hr_end end;
        const char *owner = hr_arena_format(d->reader.arena, "'%.60s'", map->key[i]->text);
        if (owner == NULL) {
            (void)hr_no_memory(d);
            return;
        }
        if (read_single(d, &height_key, map->value[i], owner, &height) &&
            hr_end_named(d, map->key[i], false, &end)) {
            struct hr_draft_point *point = &d->point[end.point];
            point->height_given = true;
            point->height = height.value;
            point->height_at = map->key[i]->at;
        }
    }
}

/* Where a sensor is: a port or a junction, a zone of air, or the part or run whose flow it takes. */
static bool place_sensor(struct hr_describer *d, const struct hr_yaml *at, struct hr_sensor *sensor)
{
    const struct hr_named *named = hr_find_named(d, at->text);
    struct hr_end end;
    sensor->point = sensor->zone = sensor->part = sensor->run = HR_NONE;
    const bool flow = sensor->measures == HR_MEASURE_FLOW;
    if (strcmp(at->text, "ambient") == 0 || (named != NULL && named->kind == HR_NAMED_ZONE)) {
        sensor->zone = named == NULL ? 0 : named->index;
        return sensor->measures == HR_MEASURE_TEMPERATURE ||
               hr_wrong(d, "wrong-place", &at->at, "sensor '%s' at '%s' can measure temperature only",
                        sensor->name, at->text);
    }
    if (named != NULL && named->kind == HR_NAMED_PART && flow) {
        sensor->part = named->index;
        return true;
    }
    if (named != NULL && named->kind == HR_NAMED_RUN && flow) {
        sensor->run = named->index; /* of the drafts; resolved with the runs */
        return true;
    }
    if (!hr_end_named(d, at, false, &end)) {
        return false;
    }
    if (flow && end.part == HR_NONE) {
        return hr_wrong(d, "wrong-place", &at->at,
                        "sensor '%s': a flow is that of a part or a run, not of the junction '%s'",
                        sensor->name, at->text);
    }
    sensor->point = flow ? HR_NONE : end.point;
    sensor->part = flow ? end.part : HR_NONE;
    return true;
}

void hr_sensors_read(struct hr_describer *d)
{
    const struct hr_yaml *map = top_map(d, "sensors", "{t1: {at: gpu.out, measures: temperature}}");
    struct hr_sensor *sensors =
        map == NULL ? NULL : hr_arena_alloc(d->reader.arena, map->count, sizeof *sensors);
    if (map != NULL && sensors == NULL) {
        (void)hr_no_memory(d);
        return;
    }
    d->out->sensors = sensors;
    for (size_t i = 0; map != NULL && i < map->count; i++) {
        const struct hr_params *params = NULL;
        struct hr_sensor *sensor = &sensors[d->out->sensor_count];
        const char *owner = hr_arena_format(d->reader.arena, "sensor '%.60s'", map->key[i]->text);
        if (owner == NULL) {
            (void)hr_no_memory(d);
            return;
        }
        *sensor = (struct hr_sensor){.name = map->key[i]->text, .at = map->key[i]->at};
        if (!hr_claim(d, sensor->name, HR_NAMED_SENSOR, d->out->sensor_count, &sensor->at) ||
            !hr_map_read(d, map->value[i], &sensor_group, owner, &params)) {
            continue;
        }
        for (size_t m = 0; measures[m] != NULL; m++) {
            if (hr_param_is(params, "measures", measures[m])) {
                sensor->measures = (enum hr_measure)m;
            }
        }
        if (place_sensor(d, hr_yaml_get(map->value[i], "at"), sensor)) {
            d->out->sensor_count++;
        }
    }
}

static void read_part_limit(struct hr_describer *d, const struct hr_yaml *key, const struct hr_yaml *map,
                            struct hr_part_limit *limits)
{
    const struct hr_named *named = hr_find_named(d, key->text);
    char shown[64];
    char meant[96];
    if (named == NULL || named->kind != HR_NAMED_PART) {
        (void)hr_wrong(d, "unknown-part", &key->at, "limits: there is no part '%s'%s",
                       hr_shown(key->text, shown, sizeof shown), hr_meant(d, key->text, meant, sizeof meant));
        return;
    }
    const struct hr_part_kind *kind = d->out->parts[named->index].kind;
    const struct hr_key *limit = kind == NULL ? NULL : hr_part_kind_key(kind, "limits");
    const char *owner = hr_arena_format(d->reader.arena, "limits of part '%.60s'", key->text);
    if (owner == NULL) {
        (void)hr_no_memory(d);
        return;
    }
    struct hr_part_limit *out = &limits[d->out->limits.part_count];
    out->part = named->index;
    if (limit != NULL && hr_map_read(d, map, limit->sub, owner, &out->params)) {
        d->out->limits.part_count++;
    }
}

void hr_limits_read(struct hr_describer *d)
{
    const struct hr_yaml *map = top_map(d, "limits", "{coolant: {max: 45 degC}}");
    const struct hr_yaml *parts = hr_yaml_get(map, "parts");
    const struct hr_params *params = NULL;
    char found[64];
    if (map != NULL) {
        const struct hr_yaml *rest = hr_map_without(d, map, "parts");
        if (rest == NULL) {
            return;
        }
        (void)hr_map_read(d, rest, &limit_group, "limits", &params);
    }
    d->out->limits.noise_max = hr_given(hr_param_map(params, "noise"), "max");
    d->out->limits.coolant_max = hr_given(hr_param_map(params, "coolant"), "max");
    if (parts == NULL) {
        return;
    }
    if (parts->kind != HR_YAML_MAP) {
        (void)hr_wrong(d, "wrong-form", &parts->at,
                       "limits.parts: found %s; write a mapping such as {gpu: {chip: 75 degC}}",
                       hr_yaml_describe(parts, found, sizeof found));
        return;
    }
    struct hr_part_limit *limits = hr_arena_alloc(d->reader.arena, parts->count, sizeof *limits);
    if (limits == NULL) {
        (void)hr_no_memory(d);
        return;
    }
    d->out->limits.parts = limits;
    for (size_t i = 0; i < parts->count; i++) {
        read_part_limit(d, parts->key[i], parts->value[i], limits);
    }
}

void hr_listening_read(struct hr_describer *d)
{
    const struct hr_yaml *map = hr_yaml_get(d->root, "listening");
    const struct hr_params *params = NULL;
    if (map != NULL) {
        (void)hr_map_read(d, map, &listening_group, "listening", &params);
    }
    d->out->listening_distance = hr_given(params, "distance");
    d->out->background = hr_given(params, "background");
}

static bool read_members(struct hr_describer *d, const struct hr_yaml *list, struct hr_gang *gang)
{
    char found[64];
    char meant[96];
    if (list->kind != HR_YAML_LIST || list->count == 0) {
        return hr_wrong(d, "wrong-form", &list->at, "gang '%s': found %s; write a list of parts", gang->name,
                        list->kind == HR_YAML_LIST ? "an empty list"
                                                   : hr_yaml_describe(list, found, sizeof found));
    }
    const char **members = hr_arena_alloc(d->reader.arena, list->count, sizeof(char *));
    if (members == NULL) {
        return hr_no_memory(d);
    }
    bool good = true;
    for (size_t i = 0; i < list->count; i++) {
        const struct hr_yaml *item = list->value[i];
        const struct hr_named *named = item->kind == HR_YAML_SCALAR ? hr_find_named(d, item->text) : NULL;
        if (named == NULL || (named->kind != HR_NAMED_PART && named->kind != HR_NAMED_RUN)) {
            const char *word = item->kind == HR_YAML_SCALAR ? item->text : "";
            (void)hr_yaml_describe(item, found, sizeof found);
            good = hr_wrong(d, "unknown-part", &item->at, "gang '%s' names %s, which is no part or run%s",
                            gang->name, found, hr_meant(d, word, meant, sizeof meant));
            continue;
        }
        members[gang->count++] = item->text;
    }
    gang->members = members;
    return good;
}

void hr_gangs_read(struct hr_describer *d)
{
    const struct hr_yaml *map = top_map(d, "gangs", "{fans: [top-fans, base-fans]}");
    struct hr_gang *gangs = map == NULL ? NULL : hr_arena_alloc(d->reader.arena, map->count, sizeof *gangs);
    if (map != NULL && gangs == NULL) {
        (void)hr_no_memory(d);
        return;
    }
    d->out->gangs = gangs;
    for (size_t i = 0; map != NULL && i < map->count; i++) {
        struct hr_gang *gang = &gangs[d->out->gang_count];
        *gang = (struct hr_gang){.name = map->key[i]->text, .at = map->key[i]->at};
        if (hr_claim(d, gang->name, HR_NAMED_GANG, d->out->gang_count, &gang->at) &&
            read_members(d, map->value[i], gang)) {
            d->out->gang_count++;
        }
    }
}

static bool names_place(const struct hr_named *named, const char *name)
{
    if (named == NULL) {
        return strcmp(name, "ambient") == 0 || strcmp(name, "case") == 0;
    }
    return named->kind == HR_NAMED_PART || named->kind == HR_NAMED_RUN || named->kind == HR_NAMED_ZONE;
}

void hr_mentions_check(struct hr_describer *d)
{
    char meant[96];
    for (size_t i = 0; i < d->reader.mentions; i++) {
        const struct hr_mention *mention = &d->reader.mention[i];
        const struct hr_named *named = hr_find_named(d, mention->name);
        if (mention->sensor ? named != NULL && named->kind == HR_NAMED_SENSOR
                            : names_place(named, mention->name)) {
            continue;
        }
        (void)hr_wrong(d, "unknown-name", &mention->at, "%s of %s: there is no %s '%.60s'%s", mention->key,
                       mention->owner, mention->sensor ? "sensor" : "part or zone", mention->name,
                       hr_meant(d, mention->name, meant, sizeof meant));
    }
}
