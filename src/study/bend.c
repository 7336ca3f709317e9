/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Searches along a curve: where it bends most, and where a condition begins to hold. */
#include "study/study.h"

#include <math.h>

/* Distance of a point from the chord, both axes scaled to the box of the curve. */
struct chord {
    double x0, x1, y0, y1, scale;
};

static double distance(const struct chord *chord, double x, double y)
{
    const double share = (x - chord->x0) / (chord->x1 - chord->x0);
    return fabs(y - chord->y0 - share * (chord->y1 - chord->y0)) / chord->scale;
}

static bool chord_of(const double x[], const double y[], size_t count, struct chord *chord)
{
    double low = INFINITY;
    double high = -INFINITY;
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(y[i])) {
            return false;
        }
        low = fmin(low, y[i]);
        high = fmax(high, y[i]);
    }
    *chord = (struct chord){x[0], x[count - 1], y[0], y[count - 1], high - low};
    return count > 2 && high > low && x[count - 1] != x[0];
}

/* A curve is straight when its farthest point is this near the chord: rounding of a computed curve, not a
 * knee. */
static const double STRAIGHT = 1e-9;

size_t hr_bend_on_grid(const double x[], const double y[], size_t count)
{
    struct chord chord;
    if (count < 3 || !chord_of(x, y, count, &chord)) {
        return SIZE_MAX;
    }
    size_t best = SIZE_MAX;
    double farthest = STRAIGHT;
    for (size_t i = 1; i + 1 < count; i++) {
        const double d = distance(&chord, x[i], y[i]);
        if (d > farthest) {
            farthest = d;
            best = i;
        }
    }
    return best;
}

static const double GOLDEN = 0.6180339887498949; /* (sqrt 5 - 1) / 2 */

double hr_bend_between(const double x[], const double y[], size_t count, hr_curve_fn *curve, void *context,
                       double precision)
{
    struct chord chord;
    const size_t at = hr_bend_on_grid(x, y, count);
    if (at == SIZE_MAX || !chord_of(x, y, count, &chord)) {
        return NAN;
    }
    double low = x[at - 1];
    double high = x[at + 1];
    double a = high - GOLDEN * (high - low);
    double b = low + GOLDEN * (high - low);
    double at_a = distance(&chord, a, curve(context, a));
    double at_b = distance(&chord, b, curve(context, b));
    while (fabs(high - low) > precision) {
        if (at_a > at_b) {
            high = b;
            b = a;
            at_b = at_a;
            a = high - GOLDEN * (high - low);
            at_a = distance(&chord, a, curve(context, a));
        } else {
            low = a;
            a = b;
            at_a = at_b;
            b = low + GOLDEN * (high - low);
            at_b = distance(&chord, b, curve(context, b));
        }
    }
    return 0.5 * (low + high);
}

double hr_first_true(double low, double high, hr_condition_fn *holds, void *context, double precision)
{
    while (fabs(high - low) > precision) {
        const double middle = 0.5 * (low + high);
        if (holds(context, middle)) {
            high = middle;
        } else {
            low = middle;
        }
    }
    return high;
}
