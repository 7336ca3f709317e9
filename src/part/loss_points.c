/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pressure drop through measured points. */
#include "part/loss.h"

#include <math.h>

/* Shares of a secant that bound a slope from below: a rigid passage has a laminar share at small flows, and a
 * strictly rising law at the end. */
static const double LEAST_START = 0.02;
static const double LEAST_END = 0.01;

/* c: flow factor, drop factor, exponent beyond the last point. */
static void points_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const struct hr_curve *curve = law->data;
    const double x = law->c[0] * fabs(flow);
    const double end = curve->x[curve->count - 1];
    double value;
    if (x <= end) {
        hr_curve_at(curve, x, &value, slope);
    } else {
        value = curve->y[curve->count - 1] * pow(x / end, law->c[2]);
        *slope = law->c[2] * value / x;
    }
    *drop = law->c[1] * copysign(value, flow);
    *slope *= law->c[0] * law->c[1];
}

struct hr_law hr_law_points(const struct hr_curve *curve)
{
    const size_t last = curve->count - 1;
    const double exponent = curve->slope[last] * curve->x[last] / curve->y[last];
    return (struct hr_law){.evaluate = points_law, .data = curve, .c = {1, 1, exponent}};
}

static enum hr_status check(const struct hr_params *params, const struct hr_value *points,
                            enum hr_loss_use use, struct hr_report *report)
{
    const double flow_unit = use == HR_LOSS_AIR ? 1 / 3600.0 : 1e-3 / 60;
    const double drop_unit = use == HR_LOSS_AIR ? 1 : 1000;
    const char *flow_name = use == HR_LOSS_AIR ? "m3/h" : "L/min";
    const char *drop_name = use == HR_LOSS_AIR ? "Pa" : "kPa";
    const double *rows = points->rows;
    const bool zero = points->row_count > 0 && rows[0] == 0;
    if (points->row_count < (zero ? 2u : 1u)) {
        return hr_fail(
            report, HR_INPUT, "few-points", &points->at,
            "%s: 'points' has no row with flow; give at least one row above zero, better three or more",
            params->owner);
    }
    for (size_t i = 0; i < points->row_count; i++) {
        const double flow = rows[2 * i];
        const double drop = rows[2 * i + 1];
        const double flow_before = i == 0 ? 0 : rows[2 * i - 2];
        const double drop_before = i == 0 ? 0 : rows[2 * i - 1];
        if (i == 0 && zero && drop == 0) {
            continue;
        }
        if (!(flow > flow_before && drop > drop_before)) {
            return hr_fail(
                report, HR_INPUT, "points-not-rising", &points->at,
                "%s: row %zu of 'points' (%g %s, %g %s) does not rise over %s (%g %s, %g %s); flow and "
                "pressure drop must both rise from row to row",
                params->owner, i + 1, flow / flow_unit, flow_name, drop / drop_unit, drop_name,
                i == 0 ? "no flow" : "the row before", flow_before / flow_unit, flow_name,
                drop_before / drop_unit, drop_name);
        }
    }
    return HR_OK;
}

/* The slopes at both ends stay positive. */
static void keep_rising(struct hr_curve *curve, bool measured_zero)
{
    const size_t last = curve->count - 1;
    const double first = curve->y[1] / curve->x[1];
    if (!measured_zero) {
        curve->slope[0] = fmin(fmax(2 * first - curve->slope[1], LEAST_START * first), 3 * first);
    }
    curve->slope[0] = fmax(curve->slope[0], LEAST_START * first);
    const double end = (curve->y[last] - curve->y[last - 1]) / (curve->x[last] - curve->x[last - 1]);
    curve->slope[last] = fmax(curve->slope[last], LEAST_END * end);
    hr_curve_steady(curve);
}

enum hr_status hr_loss_points(const struct hr_params *params, const struct hr_value *points,
                              enum hr_loss_use use, struct hr_arena *arena, const struct hr_curve **curve,
                              struct hr_report *report)
{
    const enum hr_status status = check(params, points, use, report);
    if (status != HR_OK) {
        return status;
    }
    const bool zero = points->rows[0] == 0;
    const size_t skip = zero ? 0 : 1;
    const size_t count = points->row_count + skip;
    double *x = hr_arena_alloc(arena, 2 * count, sizeof *x);
    if (x == NULL) {
        return hr_fail_memory(report);
    }
    for (size_t i = 0; i < points->row_count; i++) {
        x[i + skip] = points->rows[2 * i];
        x[count + i + skip] = points->rows[2 * i + 1];
    }
    struct hr_curve *made = hr_curve_make(arena, x, x + count, count);
    if (made == NULL) {
        return hr_fail_memory(report);
    }
    keep_rising(made, zero);
    *curve = made;
    return HR_OK;
}
