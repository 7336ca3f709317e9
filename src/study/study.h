/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the studies share. */
#ifndef HR_STUDY_STUDY_H
#define HR_STUDY_STUDY_H

#include "headrace/loop.h"
#include "headrace/sweep.h"
#include "solve/rig.h"

/* Describes the loop with a variant (NULL: as written) and makes it ready for solving. */
enum hr_status hr_rig_open(struct hr_source *source, const struct hr_variant *variant, struct hr_rig **rig,
                           struct hr_report *report);

/* Solves a rig and writes its result; HR_NO_RESULT, with a result that says why, where there is no solution.
 */
enum hr_status hr_rig_run(struct hr_rig *rig, struct hr_result **result, struct hr_report *report);

/* A curve asked for at places between the points of a grid. Returns NaN where it has no value. */
typedef double hr_curve_fn(void *context, double x);

/* Where a curve bends most: the largest distance between the normalised curve and the chord through its first
 * and last point (the idea of Satopaa, Albrecht, Irwin & Raghavan 2011, ICDCS Workshops, 166-171, without
 * smoothing: the values are computed, not measured). On the grid: the index of that point, or SIZE_MAX for a
 * straight or broken curve. */
size_t hr_bend_on_grid(const double x[], const double y[], size_t count);

/* The same between the grid points: a golden-section search on both sides of the grid's point, to `precision`
 * in x. */
double hr_bend_between(const double x[], const double y[], size_t count, hr_curve_fn *curve, void *context,
                       double precision);

/* Where `holds` changes between low (false) and high (true): bisection to `precision`; returns a place where
 * it holds. */
typedef bool hr_condition_fn(void *context, double x);
double hr_first_true(double low, double high, hr_condition_fn *holds, void *context, double precision);

/* axis.c: one range of a sweep, PATH=LOW..HIGH[:STEP][ UNIT], with what it moves. */
struct hr_swept {
    struct hr_axis axis; /* name, unit and values are owned */
    const char *key;     /* what follows the first dot, in name; NULL: none */
    uint32_t *pump;      /* branches of the pumps whose speed it is; owned */
    size_t pumps;
    double *pump_max_rpm; /* by pump; owned */
    bool percent;         /* of the highest speed */
};

/* Reads a range and finds what it moves in `rig`; HR_USAGE with a sentence where it cannot be read. */
enum hr_status hr_swept_read(const char *text, const struct hr_rig *rig, struct hr_swept *swept,
                             struct hr_report *report);
void hr_swept_clear(struct hr_swept *swept);

/* Sets the pumps of an axis to a value in its unit. */
void hr_swept_apply(const struct hr_swept *swept, struct hr_rig *rig, double value);

/* knee.c: the three knees of a sweep over pump speeds; leaves the rig at some speed of the range. */
enum hr_status hr_sweep_find_knees(struct hr_sweep *sweep, const struct hr_swept *swept, struct hr_rig *rig,
                                   const struct hr_sweep_settings *settings, struct hr_report *report);

#endif
