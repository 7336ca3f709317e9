/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a part of the library does at several flows, from the functions of its kind. */
#ifndef HR_SHOW_PART_TABLE_H
#define HR_SHOW_PART_TABLE_H

#include "read/description.h"
#include "show/units.h"

enum { HR_SAMPLES_MAX = 24, HR_WAYS_MAX = HR_PORTS_MAX - 1 };

struct hr_part_sample {
    double flow_m3_s;
    double dp_pa[HR_WAYS_MAX]; /* of each way through the part */
    bool outside;              /* of what its model holds for */
};

/* One side of a part against the flow. */
struct hr_part_table {
    bool air;
    bool head; /* a machine: dp_pa is what it lifts */
    struct hr_fluid_state fluid;
    double speed_rpm;             /* of a machine; NaN: none */
    size_t ways;                  /* 1; of a part with three ports, 2: from the first to each of the others */
    const char *way[HR_WAYS_MAX]; /* the port at the end of it; NULL where there is only one way */
    struct hr_range range[HR_RANGES_MAX];
    size_t ranges;
    struct hr_part_sample sample[HR_SAMPLES_MAX];
    size_t samples;
    const char *remark; /* why there are no samples; NULL */
};

/* A part made for these tables. */
struct hr_shown_part {
    struct hr_arena arena;
    struct hr_model model;
    void *part;                    /* NULL: it cannot be made as it stands … */
    char why_not[HR_MESSAGE_TEXT]; /* … for this reason */
    bool bore_assumed;             /* the bore is the run's, which is not known here: HR_BORE_ASSUMED */
    bool has_coolant, has_air;
    struct hr_part_table coolant, air;
};

extern const double HR_BORE_ASSUMED; /* m */
extern const double HR_TABLE_TEMPERATURE_C;

/* Fills it for a model of the library; steps of the coolant flow are round in `flow`. HR_INPUT where there is
 * no such model. Release with hr_shown_part_clear in any case. */
enum hr_status hr_shown_part_read(struct hr_source *library, const char *name,
                                  const struct hr_shown_unit *flow, struct hr_shown_part *part,
                                  struct hr_report *report);
void hr_shown_part_clear(struct hr_shown_part *part);

#endif
