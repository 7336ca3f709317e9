/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A loop file as flat tables, ready for building a network: every name is resolved to an index, every default
 * is filled in, every value keeps its origin. SI inside; NaN is "not given" for numbers, HR_NONE for indices,
 * NULL for texts. */
#ifndef HR_READ_DESCRIPTION_H
#define HR_READ_DESCRIPTION_H

#include "base/memory.h"
#include "base/report.h"
#include "fluid/fluid.h"
#include "headrace/loop.h"
#include "part/kind.h"
#include "part/params.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define HR_NONE SIZE_MAX

/* A value that stands alone, outside the tables of the part kinds. */
struct hr_given {
    double value; /* NaN: not given */
    double sd;
    enum hr_meaning meaning;
    struct hr_origin at;
};

/* A place where pressure is one: a junction, a port, or ports that are screwed together. Whoever builds the
 * network makes one node of each. */
struct hr_point {
    const char *name;    /* the junction's, or "gpu.out" of the first port that was joined to it */
    struct hr_origin at; /* where it was first named */
    bool junction;
    double height_m; /* 0 by default */
    size_t loop;     /* in `loops`; HR_NONE where nothing reaches it from a route or a feed */
    size_t touched;  /* ports of parts and ends of runs that meet here */
};

/* A library part inside a run: `fittings: {elbow-90: 2}`. Made with the bore of the run where its model has
 * none. */
struct hr_fitting {
    const char *name;
    struct hr_origin at;
    unsigned count; /* >= 1 */
    const struct hr_part_kind *kind;
    const struct hr_params *params;
    void *part;
};

/* A part of the coolant side, the air side, or both. A split or join with `tee: MODEL` is a part too. */
struct hr_part {
    const char *name;
    struct hr_origin at;
    const struct hr_part_kind *kind;
    const char *model;      /* as written; NULL: the kind was given in place */
    const char *model_file; /* path of the model's file */
    const struct hr_params *params;
    void *part;                 /* made by the kind */
    size_t point[HR_PORTS_MAX]; /* of each port, in the order of kind->ports; HR_NONE: not connected */
    size_t loop;                /* in `loops`; HR_NONE: not in a coolant loop */
    bool reversed;              /* a route feeds it against its arrow */
    bool implied;               /* made from the `tee` of a route */
};

/* A part that stands between two points. The arrow of its kind points from `from` to `to`. */
struct hr_run {
    const char *name;
    struct hr_origin at;
    size_t from, to;                 /* points */
    size_t from_part, to_part;       /* the parts whose ports they are; HR_NONE: a junction */
    size_t from_port, to_port;       /* index in kind->ports of those */
    const struct hr_part_kind *kind; /* NULL where `lossless` */
    const char *model;
    const struct hr_params *params;
    void *part;
    const struct hr_fitting *fittings;
    size_t fitting_count;
    bool lossless;   /* `tubing: none`: a join without dimensions */
    bool is_default; /* made by a route and not described by a line of its own */
    bool extra;
    size_t loop;
};

/* One coolant, separate from the others. */
struct hr_loop {
    const char *name; /* NULL: the only loop, described by the top-level keys */
    struct hr_origin at;
    struct hr_fluid fluid;
    double temperature_c; /* at which properties are taken; NaN: the heat solution decides, or ambient */
    struct hr_origin fluid_at;
    bool has_route;
    bool closed;         /* the route's last part joins its first */
    const size_t *order; /* parts of the route in the order of the file */
    size_t order_count;
};

/* The two ends of a `{parallel: [...]}` in a coolant route. */
struct hr_split {
    const char *name, *join; /* "split-1", "join-1" */
    struct hr_origin at;
    size_t legs;
    size_t tee, tee_join; /* parts made from `tee: MODEL`; HR_NONE: the split is taken as lossless */
    bool rigid;           /* `legs: none`: a bridge without runs */
};

struct hr_feed {
    struct hr_origin at;
    size_t point;
    struct hr_given inflow;      /* m3/s */
    struct hr_given pressure;    /* Pa gauge */
    struct hr_given head;        /* m of the fluid: fixed pressure of head - height */
    struct hr_given temperature; /* degC of what flows in */
};

/* Zone 0 is ambient; the others are of mixed air. */
struct hr_zone {
    const char *name;
    struct hr_origin at;
    struct hr_given heat_w; /* `heat_to_air`, or 0 */
    size_t lines;           /* air lines that begin or end here */
};

enum hr_air_step_kind { HR_AIR_PART, HR_AIR_SERIES, HR_AIR_PARALLEL };

/* What an air line goes through: a part, or steps in series or side by side. */
struct hr_air_step {
    enum hr_air_step_kind kind;
    struct hr_origin at;
    size_t part; /* of HR_AIR_PART */
    const struct hr_air_step *step;
    size_t count;
};

struct hr_air_line {
    const char *name;
    struct hr_origin at;
    size_t from, to; /* zones */
    struct hr_air_step through;
};

struct hr_recirculation {
    struct hr_origin at;
    size_t from, into; /* air lines */
    struct hr_given share;
};

enum hr_measure { HR_MEASURE_TEMPERATURE, HR_MEASURE_PRESSURE, HR_MEASURE_FLOW };

/* At exactly one of a point, a zone, a part or a run; the others are HR_NONE. */
struct hr_sensor {
    const char *name;
    struct hr_origin at;
    enum hr_measure measures;
    size_t point, zone, part, run;
};

/* Limits of the file for one part; what its model stands is under `limits` of its own parameters. */
struct hr_part_limit {
    size_t part;
    const struct hr_params *params; /* chip, coolant, flow_min, … as in the table of the kind */
};

struct hr_limits {
    struct hr_given noise_max; /* dBA */
    struct hr_given coolant_max;
    const struct hr_part_limit *parts;
    size_t part_count;
};

/* Parts, or runs that are pumps, moved as one. */
struct hr_gang {
    const char *name;
    struct hr_origin at;
    const char *const *members;
    size_t count;
};

/* Owned by its arena; texts and origins are borrowed from the source it was read from, which must outlive it.
 */
struct hr_description {
    struct hr_arena arena;
    const char *file;
    const char *title; /* NULL: none */
    struct hr_given ambient_c, ambient_pa;
    const struct hr_point *points;
    size_t point_count;
    struct hr_part *parts; /* in the order of the file, then implied ones */
    size_t part_count;
    struct hr_run *runs;
    size_t run_count;
    const struct hr_loop *loops;
    size_t loop_count;
    const struct hr_split *splits;
    size_t split_count;
    const struct hr_feed *feeds;
    size_t feed_count;
    const struct hr_zone *zones; /* at least ambient */
    size_t zone_count;
    bool has_air; /* the file has `air:`; without it radiators draw from ambient */
    const struct hr_air_line *air_lines;
    size_t air_line_count;
    const struct hr_recirculation *recirculations;
    size_t recirculation_count;
    const struct hr_sensor *sensors;
    size_t sensor_count;
    struct hr_limits limits;
    struct hr_given listening_distance; /* m */
    struct hr_given background;         /* dBA */
    const struct hr_gang *gangs;
    size_t gang_count;
    const char *const *states; /* names, in the order of the file */
    size_t state_count;
    const char *state; /* the chosen one; NULL: none */
};

/* Describes the loop with a state (NULL: none) and then the overrides put over the file. On failure
 * *description is NULL and up to HR_ERRORS_MAX faults are in `report`. */
enum hr_status hr_source_describe(struct hr_source *source, const struct hr_override overrides[],
                                  size_t count, const char *state, struct hr_description **description,
                                  struct hr_report *report);

/* Releases it; NULL is allowed. */
void hr_description_free(struct hr_description *description);

/* Finders by name; HR_NONE where there is none. */
size_t hr_description_part(const struct hr_description *description, const char *name);
size_t hr_description_run(const struct hr_description *description, const char *name);
size_t hr_description_point(const struct hr_description *description, const char *name);

/* One model of the library, for `headrace parts`: its kind, its values and its texts. */
struct hr_model {
    const char *name, *file, *summary, *source, *note;
    const struct hr_part_kind *kind;
    const struct hr_params *params;
};

/* A model by its name; HR_INPUT with the nearest name where there is none. Borrowed from the source. */
enum hr_status hr_source_model(struct hr_source *source, const char *name, struct hr_model *model,
                               struct hr_report *report);

#endif
