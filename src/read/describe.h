/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A description in the making: what the files of this folder share while they fill it, one subject a file.
 * Functions report their faults and go on, so that one reading finds many; they return false only where going
 * on makes no sense. */
#ifndef HR_READ_DESCRIBE_H
#define HR_READ_DESCRIBE_H

#include "read/description.h"
#include "read/names.h"
#include "read/source.h"
#include "read/values.h"
#include "read/yaml.h"

enum hr_named_kind {
    HR_NAMED_PART,
    HR_NAMED_JUNCTION,
    HR_NAMED_RUN,
    HR_NAMED_AIR_LINE,
    HR_NAMED_ZONE,
    HR_NAMED_SENSOR,
    HR_NAMED_GANG
};

/* What a name of the file stands for. */
struct hr_named {
    enum hr_named_kind kind;
    size_t index;
    struct hr_origin at;
};

enum { HR_SEGMENTS_MAX = 8 };

/* A value laid over a part or a run, after its model and its tubing were merged. */
struct hr_set {
    const char *name;
    const char *key[HR_SEGMENTS_MAX]; /* at least one */
    size_t keys;
    struct hr_origin at; /* of the path */
    const struct hr_yaml *value;
    bool used;
};

/* A port or a junction, as a point that is not yet merged with others. */
struct hr_end {
    size_t point;      /* in `draft_point` */
    size_t part, port; /* HR_NONE: a junction */
    struct hr_origin at;
};

struct hr_draft_point {
    const char *name; /* "gpu.out", or the junction's */
    struct hr_origin at;
    bool junction;
    size_t part, port; /* of ports */
    size_t parent;     /* of the forest of merged points; itself: a root */
    size_t loop;
    size_t touched;
    bool taken;    /* a port that an item of a route uses */
    bool in_route; /* a route leads to it */
    bool height_given;
    double height;
    struct hr_origin height_at;
    bool fed;
};

struct hr_draft_run {
    const char *name;         /* NULL: not yet named */
    const char *default_name; /* of the default run that it is or stands for; NULL: none */
    struct hr_origin at;
    struct hr_end from, to;
    const struct hr_yaml *map; /* the keys of its line; NULL: a default run without any */
    bool is_default, extra;
    size_t replaced_by; /* of default runs: the line that describes it otherwise; HR_NONE: none */
    bool dropped;       /* a line whose ends are no longer neighbours */
    bool emitted;
    size_t loop;
};

/* A loop in the making: which trees describe it. */
struct hr_draft_loop {
    const struct hr_yaml *map; /* root of the file, or the loop's own mapping */
    const struct hr_yaml *tubing;
    bool no_tubing;    /* `tubing: none` */
    bool made_default; /* the tubing was made for the default runs */
    bool tubing_good;
    struct hr_run shared; /* kind, params and part of all default runs */
    bool told_no_tubing;  /* reported: lines without a kind of their own lack it too */
    bool route_failed;    /* reported: what it joins is not known */
};

struct hr_describer {
    struct hr_reader reader;
    struct hr_source *source;
    struct hr_description *out;
    const struct hr_yaml *root;

    struct hr_names names;
    struct hr_named *named;
    size_t named_count, named_room;

    struct hr_set *set;
    size_t sets, set_room;
    bool route_is_laid; /* from a state or an override: lines of the file's own route may be stale */

    struct hr_draft_point *point;
    size_t points, point_room;
    size_t (*port_point)[HR_PORTS_MAX]; /* by part: draft points of its ports, HR_NONE: not touched */
    bool *used;                         /* by part: something uses it */
    size_t part_room;

    struct hr_draft_run *run;
    size_t draft_runs, run_room;
    struct hr_names pairs; /* "3-7" -> default run between these draft points */
    size_t unnamed_runs;

    bool *was_routed; /* by part: the file's own route names it; NULL where that route holds */
    size_t *line_of;  /* by part: the air line it stands in, HR_NONE: none */

    struct hr_draft_loop *loop;
    struct hr_loop *loops;
    struct hr_split *split;
    size_t splits, split_room, splits_begun;
};

/* --- overlay.c: states and overrides --- */

/* Lays the chosen state and the overrides over the file's tree. */
bool hr_overlay(struct hr_describer *d, const struct hr_override overrides[], size_t count,
                const char *state);

/* Lays the sets of a part or run over its merged keys; NULL after a reported fault. */
const struct hr_yaml *hr_overlay_sets(struct hr_describer *d, const char *name, const struct hr_yaml *map,
                                      const struct hr_key_group *const *groups);

/* The keys with the kind and the model that were set for a name: these decide how the rest is read. */
const struct hr_yaml *hr_overlay_kind(struct hr_describer *d, const char *name, const struct hr_yaml *map);

/* True where a set waits for that name. */
bool hr_overlay_waits(const struct hr_describer *d, const char *name);

/* Reports sets that nothing used, and names in states that are not chosen but wrong. */
void hr_overlay_check(struct hr_describer *d);

/* --- names and points: points.c --- */

/* Takes a name for a thing; reports one that is taken, reserved or no name. `what`: "part". */
bool hr_claim(struct hr_describer *d, const char *name, enum hr_named_kind kind, size_t index,
              const struct hr_origin *at);
const struct hr_named *hr_find_named(const struct hr_describer *d, const char *name);
bool hr_is_top_key(const char *name);
const char *const *hr_top_keys(size_t *count);

/* The end that a text such as "gpu.out" or "A" names; makes a junction where `create`. */
bool hr_end_named(struct hr_describer *d, const struct hr_yaml *node, bool create, struct hr_end *end);

/* The port of a part as an end; SIZE_MAX of memory out is reported. */
bool hr_end_port(struct hr_describer *d, size_t part, size_t port, const struct hr_origin *at,
                 struct hr_end *end);
bool hr_end_junction(struct hr_describer *d, const char *name, const struct hr_origin *at,
                     struct hr_end *end);

/* The index of a port of a kind by its name, or HR_NONE. */
size_t hr_port_named(const struct hr_part_kind *kind, const char *name);

/* Makes one point of two. */
void hr_points_join(struct hr_describer *d, size_t a, size_t b);
size_t hr_root_point(const struct hr_describer *d, size_t point);

/* Says that a loop reaches a point; reports a point of two loops. */
void hr_touch(struct hr_describer *d, size_t point, size_t loop, const struct hr_origin *at);

/* Makes the final points; sets the points of parts. */
bool hr_points_finish(struct hr_describer *d);
void hr_points_check(struct hr_describer *d);

/* --- parts.c --- */

bool hr_parts_read(struct hr_describer *d);

/* Adds a part made from a model alone, such as the tee of a split; HR_NONE after a reported fault. */
size_t hr_part_implied(struct hr_describer *d, const char *name, const struct hr_yaml *model);
/* True for kinds that coolant flows through, and for kinds that air flows through; radiators are both. */
bool hr_kind_has_coolant(const struct hr_part_kind *kind);
bool hr_kind_has_air(const struct hr_part_kind *kind);

/* Makes a part of its kind; keeps each fault and warning of one place once. */
bool hr_make(struct hr_describer *d, const struct hr_part_kind *kind, const struct hr_params *params,
             void **part);

/* --- route.c, runs.c, tubes.c --- */

bool hr_route_read(struct hr_describer *d, size_t loop, const struct hr_yaml *route);
bool hr_default_run(struct hr_describer *d, size_t loop, const struct hr_end *from, const struct hr_end *to,
                    const struct hr_origin *at);
/* The lines of `runs` become drafts with ends; then the default runs take their names; then each line finds
 * the default run that it describes, or is one of its own; then all are made. */
void hr_runs_read(struct hr_describer *d, size_t loop, const struct hr_yaml *runs);
bool hr_runs_name(struct hr_describer *d);
void hr_runs_match(struct hr_describer *d);
bool hr_runs_finish(struct hr_describer *d);

/* Marks the parts of the file's own route, where another one is laid over it. */
bool hr_route_mark(struct hr_describer *d);

/* Makes the run of a draft: its kind, values, part and fittings. */
bool hr_run_make(struct hr_describer *d, const struct hr_draft_run *draft, struct hr_run *run);
/* Texts of an end: "gpu.out" and "gpu". */
const char *hr_end_text(const struct hr_describer *d, const struct hr_end *end);
const char *hr_end_owner(const struct hr_describer *d, const struct hr_end *end);

/* --- loops.c: loops with coolant and tubing; title and ambient --- */

void hr_head_read(struct hr_describer *d);
bool hr_loops_read(struct hr_describer *d);
struct hr_given hr_given(const struct hr_params *params, const char *key);

/* Reads a mapping of its own keys. */
bool hr_map_read(struct hr_describer *d, const struct hr_yaml *map, const struct hr_key_group *group,
                 const char *owner, const struct hr_params **params);

/* A copy of a map without one key; NULL when memory is out (reported). */
const struct hr_yaml *hr_map_without(struct hr_describer *d, const struct hr_yaml *map, const char *key);

/* --- ends.c: feeds, heights, sensors, limits, listening, gangs, mentions --- */

void hr_feeds_read(struct hr_describer *d);
void hr_heights_read(struct hr_describer *d);
void hr_sensors_read(struct hr_describer *d);
void hr_limits_read(struct hr_describer *d);
void hr_listening_read(struct hr_describer *d);
void hr_gangs_read(struct hr_describer *d);
void hr_mentions_check(struct hr_describer *d);

/* --- air.c --- */

void hr_air_read(struct hr_describer *d);
void hr_air_check(struct hr_describer *d);

/* Reports every item of the file's `key` that is no mapping; the others come one by one. `next` starts at 0;
 * false at the end. */
bool hr_next_item(struct hr_describer *d, const char *key, size_t *next, const struct hr_yaml **item);

/* Marks a part as used. */
void hr_use(struct hr_describer *d, size_t part);

/* Adds an error at a place; returns false. */
#define hr_wrong(d, code, at, ...) hr_fault(&(d)->reader, (code), (at), __VA_ARGS__)

/* Reports that memory is out; returns false. */
bool hr_no_memory(struct hr_describer *d);

/* The nearest of the file's names of parts, junctions, runs and the like, as "; did you mean 'x'?" or "". */
const char *hr_meant(const struct hr_describer *d, const char *word, char *buffer, size_t room);

#endif
