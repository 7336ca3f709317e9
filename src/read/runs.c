/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs: the default ones of a route, and the lines of `runs` that describe, add to or stand instead of them.
 */
#include "read/describe.h"

#include "read/syntax.h"

#include <stdio.h>
#include <string.h>

const char *hr_end_text(const struct hr_describer *d, const struct hr_end *end)
{
    return d->point[end->point].name;
}

const char *hr_end_owner(const struct hr_describer *d, const struct hr_end *end)
{
    return end->part == HR_NONE ? d->point[end->point].name : d->out->parts[end->part].name;
}

/* The name of a pair of points in either order, for the table of default runs. */
static void pair_name(char name[48], size_t a, size_t b)
{
    (void)snprintf(name, 48, "%zu-%zu", a < b ? a : b, a < b ? b : a);
}

static struct hr_draft_run *add_run(struct hr_describer *d)
{
    struct hr_draft_run *larger =
        hr_arena_grow(d->reader.arena, d->run, d->draft_runs, &d->run_room, sizeof *larger);
    if (larger == NULL) {
        (void)hr_no_memory(d);
        return NULL;
    }
    d->run = larger;
    struct hr_draft_run *run = &d->run[d->draft_runs++];
    memset(run, 0, sizeof *run);
    run->replaced_by = HR_NONE;
    return run;
}

bool hr_default_run(struct hr_describer *d, size_t loop, const struct hr_end *from, const struct hr_end *to,
                    const struct hr_origin *at)
{
    struct hr_draft_run *run = add_run(d);
    char pair[48];
    if (run == NULL) {
        return false;
    }
    run->from = *from;
    run->to = *to;
    run->at = *at;
    run->loop = loop;
    run->is_default = true;
    pair_name(pair, from->point, to->point);
    if (hr_names_find(&d->pairs, pair) != NULL) {
        return true; /* two equal legs: a line for them describes the first */
    }
    const char *copy = hr_arena_copy(d->reader.arena, pair, strlen(pair));
    return (copy != NULL && hr_names_add(&d->pairs, d->reader.arena, copy, d->draft_runs - 1)) ||
           hr_no_memory(d);
}

/* `extra: true` of a line. */
static bool is_extra(const struct hr_yaml *map)
{
    const struct hr_yaml *extra = hr_yaml_get(map, "extra");
    return hr_yaml_is(extra, "true") || hr_yaml_is(extra, "yes") || hr_yaml_is(extra, "on");
}

static bool claim_run(struct hr_describer *d, struct hr_draft_run *run, const char *name,
                      const struct hr_origin *at)
{
    run->name = name;
    return hr_claim(d, name, HR_NAMED_RUN, (size_t)(run - d->run), at);
}

/* A line with `from` and `to`. `name`: its key in a mapping of runs, or NULL. */
static void read_line(struct hr_describer *d, size_t loop, const struct hr_yaml *map,
                      const struct hr_yaml *name)
{
    const struct hr_yaml *from = hr_yaml_get(map, "from");
    const struct hr_yaml *to = hr_yaml_get(map, "to");
    char found[64];
    if (from == NULL || to == NULL) {
        (void)hr_wrong(d, "no-ends", &map->at,
                       "a run needs from and to; write for instance {from: gpu.out, to: top.in}");
        return;
    }
    struct hr_draft_run *run = add_run(d);
    if (run == NULL) {
        return;
    }
    run->at = map->at;
    run->map = map;
    run->loop = loop;
    run->extra = is_extra(map);
    name = name == NULL ? hr_yaml_get(map, "name") : name;
    if (name != NULL && (name->kind != HR_YAML_SCALAR || hr_yaml_is_null(name))) {
        (void)hr_wrong(d, "wrong-form", &name->at, "name: found %s; write a name",
                       hr_yaml_describe(name, found, sizeof found));
    } else if (name != NULL) {
        (void)claim_run(d, run, name->text, &name->at);
    }
    const bool began = hr_end_named(d, from, true, &run->from);
    const bool ended = hr_end_named(d, to, true, &run->to);
    if (!began || !ended) {
        d->draft_runs--; /* the last one: nothing refers to it but its name */
    } else if (run->from.point == run->to.point) {
        run->extra = true; /* nothing more about it */
        (void)hr_wrong(d, "same-port", &to->at,
                       "the run ends where it begins, at '%s'; name two different points", to->text);
    }
}

static bool is_line(const struct hr_yaml *map)
{
    return hr_yaml_get(map, "from") != NULL || hr_yaml_get(map, "to") != NULL;
}

void hr_runs_read(struct hr_describer *d, size_t loop, const struct hr_yaml *runs)
{
    char found[64];
    if (runs->kind == HR_YAML_SCALAR) {
        (void)hr_wrong(
            d, "wrong-form", &runs->at,
            "runs: found %s; write a list of {from: gpu.out, to: top.in}, or a mapping of default names",
            hr_yaml_describe(runs, found, sizeof found));
        return;
    }
    for (size_t i = 0; i < runs->count; i++) {
        const struct hr_yaml *line = runs->value[i];
        if (line->kind == HR_YAML_MAP && (runs->kind == HR_YAML_LIST || is_line(line))) {
            read_line(d, loop, line, runs->kind == HR_YAML_LIST ? NULL : runs->key[i]);
        } else if (line->kind != HR_YAML_MAP && (runs->kind == HR_YAML_LIST || !hr_yaml_is(line, "none"))) {
            (void)hr_wrong(d, "wrong-form", &line->at, "a run is %s; write %s",
                           hr_yaml_describe(line, found, sizeof found),
                           runs->kind == HR_YAML_LIST ? "{from: gpu.out, to: top.in}" : "{length: 220 mm}");
        }
    }
}

/* Default runs are called after their ends; -2, -3, … where that is taken. */
static bool name_default(struct hr_describer *d, struct hr_draft_run *run)
{
    const char *from = hr_end_owner(d, &run->from);
    const char *to = hr_end_owner(d, &run->to);
    const char *name = hr_arena_format(d->reader.arena, "%s-%s", from, to);
    for (size_t n = 2; name != NULL && hr_find_named(d, name) != NULL; n++) {
        name = hr_arena_format(d->reader.arena, "%s-%s-%zu", from, to, n);
    }
    if (name == NULL) {
        return hr_no_memory(d);
    }
    run->default_name = name;
    if (!hr_is_name(name)) {
        run->name = name; /* a part at its ends has no proper name, which was reported */
        return true;
    }
    return claim_run(d, run, name, &run->at);
}

bool hr_runs_name(struct hr_describer *d)
{
    for (size_t i = 0; i < d->draft_runs; i++) {
        if (d->run[i].is_default && !name_default(d, &d->run[i])) {
            return false;
        }
    }
    return true;
}

/* Where the route leads from or to the point of a line that it does not join. */
static const char *neighbour(const struct hr_describer *d, const struct hr_end *end)
{
    for (size_t i = 0; i < d->draft_runs; i++) {
        const struct hr_draft_run *run = &d->run[i];
        if (run->is_default && (run->from.point == end->point || run->to.point == end->point)) {
            return hr_end_text(d, run->from.point == end->point ? &run->to : &run->from);
        }
    }
    return NULL;
}

static void drop(struct hr_describer *d, struct hr_draft_run *run)
{
    run->dropped = true;
    hr_warn(d->reader.report, "stale-run", &run->at,
            "the run from %s to %s is left out: the route set here does not join them",
            hr_end_text(d, &run->from), hr_end_text(d, &run->to));
}

/* True where a line leads to a part that the file's own route has and the one laid over it has not. */
static bool left_behind(const struct hr_describer *d, const struct hr_end *end)
{
    return d->was_routed != NULL && end->part != HR_NONE && d->was_routed[end->part] &&
           !d->point[end->point].in_route;
}

/* A line between two ports of the route that the route does not join: it would be a silent bypass. */
static void stale(struct hr_describer *d, struct hr_draft_run *run)
{
    const char *next = neighbour(d, &run->from);
    if (d->loop[run->loop].route_failed) {
        return;
    }
    if (d->route_is_laid) {
        drop(d, run);
        return;
    }
    (void)hr_wrong(d, "stale-run", &run->at,
                   "the route does not join %s to %s%s%s; correct the line, or write extra: true for a path "
                   "beside the route",
                   hr_end_text(d, &run->from), hr_end_text(d, &run->to), next == NULL ? "" : " but to ",
                   next == NULL ? "" : next);
}

/* A line of a list finds its default run, or is one of its own. */
static void match_line(struct hr_describer *d, struct hr_draft_run *run)
{
    char pair[48];
    pair_name(pair, run->from.point, run->to.point);
    const struct hr_name *known = hr_names_find(&d->pairs, pair);
    if (left_behind(d, &run->from) || left_behind(d, &run->to)) {
        drop(d, run);
        return;
    }
    if (run->extra) {
        return;
    }
    if (known == NULL) {
        if (d->point[run->from.point].in_route && d->point[run->to.point].in_route) {
            stale(d, run);
        }
        return;
    }
    struct hr_draft_run *base = &d->run[known->value];
    if (base->replaced_by != HR_NONE) {
        (void)hr_wrong(d, "duplicate-run", &run->at,
                       "the run between %s and %s stands already in line %u; write extra: true for a second "
                       "one beside it",
                       hr_end_text(d, &run->from), hr_end_text(d, &run->to),
                       d->run[base->replaced_by].at.line);
        return;
    }
    base->replaced_by = (size_t)(run - d->run);
    run->default_name = base->name;
    d->named[hr_names_find(&d->names, base->name)->value].index = base->replaced_by;
}

/* The nearest name of a default run. */
static const char *nearest_default(const struct hr_describer *d, const char *word, char *buffer, size_t room)
{
    struct hr_names names = {0};
    struct hr_arena arena;
    hr_arena_init(&arena);
    const char *nearest = NULL;
    for (size_t i = 0; i < d->draft_runs; i++) {
        if (d->run[i].is_default && !hr_names_add(&names, &arena, d->run[i].name, i)) {
            break;
        }
    }
    nearest = hr_names_nearest(&names, word);
    (void)hr_did_you_mean(nearest, buffer, room);
    hr_arena_clear(&arena);
    return buffer;
}

/* An entry of a mapping of runs: {gpu-top: {length: 220 mm}}. */
static void match_name(struct hr_describer *d, size_t loop, const struct hr_yaml *key,
                       const struct hr_yaml *map)
{
    const struct hr_named *named = hr_find_named(d, key->text);
    char shown[64];
    char meant[96];
    if (named != NULL && named->kind == HR_NAMED_RUN && d->run[named->index].is_default) {
        struct hr_draft_run *run = &d->run[named->index];
        run->map = map;
        run->at = key->at;
        return;
    }
    (void)hr_shown(key->text, shown, sizeof shown);
    if (d->route_is_laid) {
        hr_warn(d->reader.report, "stale-run", &key->at,
                "the run '%s' is left out: the route set here has no such run", shown);
        return;
    }
    if (d->loop[loop].route_failed) {
        return;
    }
    (void)hr_wrong(d, "unknown-run", &key->at, "the route has no run '%s'%s", shown,
                   nearest_default(d, key->text, meant, sizeof meant));
}

static const struct hr_yaml *lossless_line(struct hr_describer *d, const struct hr_yaml *word)
{
    struct hr_yaml *map = hr_yaml_map_copy(d->reader.arena, NULL, 1, &word->at);
    const struct hr_yaml *key = hr_yaml_scalar(d->reader.arena, "tubing", &word->at);
    if (map == NULL || key == NULL) {
        (void)hr_no_memory(d);
        return NULL;
    }
    hr_yaml_put(map, key, word);
    return map;
}

static bool name_unnamed(struct hr_describer *d, struct hr_draft_run *run)
{
    const char *name = NULL;
    do {
        d->unnamed_runs++;
        name = hr_arena_format(d->reader.arena, "run-%zu", d->unnamed_runs);
    } while (name != NULL && hr_find_named(d, name) != NULL);
    return name == NULL ? hr_no_memory(d) : claim_run(d, run, name, &run->at);
}

void hr_runs_match(struct hr_describer *d)
{
    for (size_t loop = 0; loop < d->out->loop_count; loop++) {
        const struct hr_yaml *runs = hr_yaml_get(d->loop[loop].map, "runs");
        for (size_t i = 0; runs != NULL && runs->kind == HR_YAML_MAP && i < runs->count; i++) {
            const struct hr_yaml *map = runs->value[i];
            map = hr_yaml_is(map, "none") ? lossless_line(d, map) : map;
            if (map != NULL && map->kind == HR_YAML_MAP && !is_line(map)) {
                match_name(d, loop, runs->key[i], map);
            }
        }
    }
    for (size_t i = 0; i < d->draft_runs; i++) {
        struct hr_draft_run *run = &d->run[i];
        if (run->is_default) {
            continue;
        }
        match_line(d, run);
        if (run->name == NULL && !name_unnamed(d, run)) {
            return;
        }
    }
}

static bool emit(struct hr_describer *d, struct hr_draft_run *draft, struct hr_run *runs)
{
    struct hr_run *run = &runs[d->out->run_count];
    draft->emitted = true;
    if (draft->dropped) {
        return true;
    }
    hr_touch(d, draft->from.point, draft->loop, &draft->from.at);
    hr_touch(d, draft->to.point, draft->loop, &draft->to.at);
    *run = (struct hr_run){.name = draft->name,
                           .at = draft->at,
                           .from = draft->from.point,
                           .to = draft->to.point,
                           .from_part = draft->from.part,
                           .to_part = draft->to.part,
                           .from_port = draft->from.port,
                           .to_port = draft->to.port,
                           .is_default = draft->is_default && draft->map == NULL,
                           .extra = draft->extra,
                           .loop = draft->loop};
    d->out->run_count++;
    return hr_run_make(d, draft, run);
}

bool hr_runs_finish(struct hr_describer *d)
{
    struct hr_run *runs = hr_arena_alloc(d->reader.arena, d->draft_runs, sizeof *runs);
    if (runs == NULL) {
        return hr_no_memory(d);
    }
    d->out->runs = runs;
    for (size_t i = 0; i < d->draft_runs; i++) {
        const size_t by = d->run[i].replaced_by;
        struct hr_draft_run *draft = by == HR_NONE ? &d->run[i] : &d->run[by];
        if (!draft->emitted) {
            (void)emit(d, draft, runs);
        }
    }
    return true;
}
