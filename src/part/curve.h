/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A smooth curve through measured points that keeps their monotony. */
#ifndef HR_PART_CURVE_H
#define HR_PART_CURVE_H

#include "base/memory.h"

#include <stddef.h>

/* Piecewise cubic with given values and slopes at rising places x; continuous with its slope. */
struct hr_curve {
    size_t count;
    double *x;
    double *y;
    double *slope;
};

/* Slopes of Fritsch and Butland 1984 (SIAM J. Sci. Stat. Comput. 5:300) inside (weighted harmonic means of
 * the two secants, 0 at a turning point) and of the three-point rule limited after Fritsch and Carlson 1980
 * (SIAM J. Numer. Anal. 17:238) at the ends: between two points the curve rises or falls with them. count >=
 * 2; copies x and y. Returns NULL when memory is out. */
struct hr_curve *hr_curve_make(struct hr_arena *arena, const double x[], const double y[], size_t count);

/* Value and slope at a place between the first and the last x; outside, the cubic of the nearest end goes on.
 */
void hr_curve_at(const struct hr_curve *curve, double x, double *value, double *slope);

/* Makes the two slopes of each piece smaller where they are so steep that the cubic between them turns level:
 * it does where both are three secants (Fritsch and Carlson 1980). */
void hr_curve_steady(struct hr_curve *curve);

#endif
