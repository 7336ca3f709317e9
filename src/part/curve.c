/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/curve.h"

#include <math.h>
#include <string.h>

static double secant(const struct hr_curve *curve, size_t i)
{
    return (curve->y[i + 1] - curve->y[i]) / (curve->x[i + 1] - curve->x[i]);
}

/* Three-point end slope, limited so that the end piece keeps the direction of its secant. */
static double end_slope(double h0, double h1, double d0, double d1)
{
    const double slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
    if (slope * d0 <= 0) {
        return 0;
    }
    if (d0 * d1 <= 0 && fabs(slope) > 3 * fabs(d0)) {
        return 3 * d0;
    }
    return slope;
}

static void fill_slopes(struct hr_curve *curve)
{
    const size_t last = curve->count - 1;
    const double *x = curve->x;
    if (last == 1) {
        curve->slope[0] = curve->slope[1] = secant(curve, 0);
        return;
    }
    for (size_t i = 1; i < last; i++) {
        const double before = secant(curve, i - 1);
        const double after = secant(curve, i);
        const double w1 = 2 * (x[i + 1] - x[i]) + (x[i] - x[i - 1]);
        const double w2 = (x[i + 1] - x[i]) + 2 * (x[i] - x[i - 1]);
        curve->slope[i] = before * after > 0 ? (w1 + w2) / (w1 / before + w2 / after) : 0;
    }
    curve->slope[0] = end_slope(x[1] - x[0], x[2] - x[1], secant(curve, 0), secant(curve, 1));
    curve->slope[last] = end_slope(x[last] - x[last - 1], x[last - 1] - x[last - 2], secant(curve, last - 1),
                                   secant(curve, last - 2));
}

struct hr_curve *hr_curve_make(struct hr_arena *arena, const double x[], const double y[], size_t count)
{
    struct hr_curve *curve = hr_arena_alloc(arena, 1, sizeof *curve);
    double *numbers = hr_arena_alloc(arena, 3 * count, sizeof *numbers);
    if (curve == NULL || numbers == NULL) {
        return NULL;
    }
    *curve =
        (struct hr_curve){.count = count, .x = numbers, .y = numbers + count, .slope = numbers + 2 * count};
    memcpy(curve->x, x, count * sizeof *x);
    memcpy(curve->y, y, count * sizeof *y);
    fill_slopes(curve);
    return curve;
}

void hr_curve_at(const struct hr_curve *curve, double x, double *value, double *slope)
{
    size_t low = 0;
    size_t high = curve->count - 1;
    while (high - low > 1) {
        const size_t middle = (low + high) / 2;
        if (x < curve->x[middle]) {
            high = middle;
        } else {
            low = middle;
        }
    }
    const double width = curve->x[high] - curve->x[low];
    const double t = (x - curve->x[low]) / width;
    const double rise = curve->y[high] - curve->y[low];
    const double m0 = curve->slope[low] * width;
    const double m1 = curve->slope[high] * width;
    const double c2 = 3 * rise - 2 * m0 - m1;
    const double c3 = m0 + m1 - 2 * rise;
    *value = curve->y[low] + t * (m0 + t * (c2 + t * c3));
    *slope = (m0 + t * (2 * c2 + 3 * t * c3)) / width;
}

void hr_curve_steady(struct hr_curve *curve)
{
    const double most = 5.7; /* secants, of both slopes together; 6 turns level */
    for (size_t i = 0; i + 1 < curve->count; i++) {
        const double sum = fabs(curve->slope[i]) + fabs(curve->slope[i + 1]);
        const double allowed = most * fabs(secant(curve, i));
        if (sum > allowed) {
            curve->slope[i] *= allowed / sum;
            curve->slope[i + 1] *= allowed / sum;
        }
    }
}
