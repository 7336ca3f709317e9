/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The curve of a pump or fan through measured points. */
#include "part/machine.h"

#include <math.h>

/* Least slope at both ends, in secants of the end piece. */
static const double LEAST_SLOPE = 0.01;

static enum hr_status check(const struct hr_params *params, const struct hr_value *points,
                            struct hr_report *report)
{
    const double *rows = points->rows;
    const size_t count = points->row_count;
    if (count < 2) {
        return hr_fail(report, HR_INPUT, "few-points", &points->at,
                       "%s: a curve needs two rows of 'points' at least, better five or more", params->owner);
    }
    for (size_t i = 0; i < count; i++) {
        if (!(i == 0 ? rows[0] >= 0 : rows[2 * i] > rows[2 * i - 2])) {
            return hr_fail(
                report, HR_INPUT, "points-not-rising", &points->at,
                "%s: row %zu of the curve's 'points' has a flow of %g L/min after %g L/min; flows must start "
                "at zero or above and rise from row to row",
                params->owner, i + 1, rows[2 * i] * 6e4, i == 0 ? 0 : rows[2 * i - 2] * 6e4);
        }
    }
    if (!(rows[1] > 0 && rows[2 * count - 1] < rows[2 * count - 3])) {
        return hr_fail(
            report, HR_INPUT, "curve-end", &points->at,
            "%s: the curve must start with a head above zero and fall between its last two rows, found %g, "
            "…, %g, %g; without a falling end it never meets a loop",
            params->owner, rows[1], rows[2 * count - 3], rows[2 * count - 1]);
    }
    return HR_OK;
}

/* A row at no flow where none was measured: the slope goes back to a fifth on the way there, as it does about
 * on the parabola of common pumps; a rising beginning goes on straight. */
static void complete(const struct hr_curve *measured, double x[], double y[], double *slope)
{
    const double first = measured->x[0];
    const double steep = measured->slope[0];
    const double level = steep < 0 ? 0.2 * steep : steep;
    x[0] = 0;
    y[0] = measured->y[0] - first * (steep + level) / 2;
    *slope = level;
    for (size_t i = 0; i < measured->count; i++) {
        x[i + 1] = measured->x[i];
        y[i + 1] = measured->y[i];
    }
}

static struct hr_curve *build(const struct hr_value *points, struct hr_arena *arena)
{
    const size_t count = points->row_count;
    double *x = hr_arena_alloc(arena, 2 * (count + 1), sizeof *x);
    if (x == NULL) {
        return NULL;
    }
    double *y = x + count + 1;
    for (size_t i = 0; i < count; i++) {
        x[i] = points->rows[2 * i];
        y[i] = points->rows[2 * i + 1];
    }
    struct hr_curve *curve = hr_curve_make(arena, x, y, count);
    if (curve != NULL && x[0] > 0) {
        const struct hr_curve *measured = curve;
        double slope;
        complete(measured, x, y, &slope);
        curve = hr_curve_make(arena, x, y, count + 1);
        if (curve != NULL) {
            curve->slope[0] = slope;
            for (size_t i = 0; i < count; i++) {
                curve->slope[i + 1] = measured->slope[i];
            }
        }
    }
    return curve;
}

/* Where the head rises with the flow. The turning points of such an interpolant are at rows, but for a rising
 * beginning, which the continuation below zero flow turns. */
static void find_rise(struct hr_machine_curve *curve)
{
    const struct hr_curve *points = curve->points;
    for (size_t i = 0; i + 1 < points->count; i++) {
        if (points->y[i + 1] > points->y[i]) {
            curve->rise_low = curve->rises ? curve->rise_low : points->x[i];
            curve->rise_high = points->x[i + 1];
            curve->rises = true;
        }
    }
    if (points->slope[0] > 0) {
        curve->rise_low = -points->slope[0] / (2 * curve->square);
    }
}

static double free_flow(const struct hr_machine_curve *curve)
{
    const struct hr_curve *points = curve->points;
    double low = 0;
    double high = points->x[points->count - 1];
    double head;
    double slope;
    for (hr_machine_head(curve, high, &head, &slope); head > 0; hr_machine_head(curve, high, &head, &slope)) {
        low = high;
        high *= 2;
    }
    for (int i = 0; i < 200 && high - low > 1e-15 * high; i++) {
        const double middle = 0.5 * (low + high);
        hr_machine_head(curve, middle, &head, &slope);
        if (head > 0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return high;
}

enum hr_status hr_machine_points(const struct hr_params *params, const struct hr_value *points,
                                 struct hr_arena *arena, struct hr_machine_curve *curve,
                                 struct hr_report *report)
{
    const enum hr_status status = check(params, points, report);
    if (status != HR_OK) {
        return status;
    }
    struct hr_curve *made = build(points, arena);
    if (made == NULL) {
        return hr_fail_memory(report);
    }
    const size_t last = made->count - 1;
    const double start = (made->y[1] - made->y[0]) / made->x[1];
    const double end = (made->y[last] - made->y[last - 1]) / (made->x[last] - made->x[last - 1]);
    if (start < 0) {
        made->slope[0] = fmin(made->slope[0], LEAST_SLOPE * start);
    }
    made->slope[last] = fmin(made->slope[last], LEAST_SLOPE * end);
    hr_curve_steady(made);
    curve->points = made;
    /* On a parabola h0 - k q^2 the end slope is -2 k q: the same k carries the curve on, forwards and
     * backwards. */
    curve->square = -made->slope[last] / (2 * made->x[last]);
    curve->range_low = points->rows[0];
    curve->range_high = made->x[last];
    curve->shut_off = made->y[0];
    curve->free_flow = free_flow(curve);
    find_rise(curve);
    return HR_OK;
}
