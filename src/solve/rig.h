/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A described loop made ready for solving: description, network and solver as one object, which solves as
 * many settings as wanted. Not for use by two threads at once. */
#ifndef HR_SOLVE_RIG_H
#define HR_SOLVE_RIG_H

#include "headrace/result.h"
#include "network/assemble.h"
#include "solve/flow.h"

/* A place where a pump's rising curve meets the rest. */
struct hr_rig_point {
    uint32_t branch;
    double flow; /* m3/s along the branch's arrow */
    bool stable, chosen;
};

enum { HR_POINTS_MAX = 16 };

struct hr_rig {
    struct hr_description *description; /* owned */
    struct hr_assembly *assembly;
    struct hr_flow *flow;
    enum hr_flow_outcome outcome; /* of the last solution */
    struct hr_rig_point point[HR_POINTS_MAX];
    size_t points; /* 0 unless a pump's curve rises; by rising flow */
};

/* Takes over `description`, also on failure. */
enum hr_status hr_rig_new(struct hr_description *description, struct hr_rig **rig, struct hr_report *report);
void hr_rig_free(struct hr_rig *rig);

/* The branch of the part or run called `name` that is a pump; UINT32_MAX where there is none. */
uint32_t hr_rig_pump(const struct hr_rig *rig, const char *name);

/* Sets the speed of a pump, in rpm. */
void hr_rig_set_speed(struct hr_rig *rig, uint32_t branch, double speed_rpm);

/* Solves the present setting, starting from the last one. */
enum hr_flow_outcome hr_rig_solve(struct hr_rig *rig);

/* points.c: finds all operating points of the first pump whose curve rises somewhere, and leaves the solver
 * at the first stable one; false where no curve rises. */
bool hr_rig_find_points(struct hr_rig *rig);

/* The last solution as a result of its own; a setting without a solution gives one too, with status and
 * reason. HR_SYSTEM when memory is out. */
enum hr_status hr_rig_result(struct hr_rig *rig, struct hr_result **result, struct hr_report *report);

/* A chip of the last solution, without making a result: false where branch `b` carries none. */
bool hr_rig_chip(const struct hr_rig *rig, uint32_t b, struct hr_chip_result *chip);

#endif
