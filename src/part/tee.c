/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tees and ys: the loss depends on how the flow splits. All losses count in velocity heads of the leg that
 * carries the combined flow; that leg's own drop is zero. Some are negative: the faster stream drags the
 * slower one along. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/loss.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

static const struct hr_key keys[] = {
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .required = true,
     .help = "inner diameter of the run from a to b"},
    {.name = "side_bore",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .help = "inner diameter of the side port; that of the run"},
    {.name = "angle",
     .quantity = HR_ANGLE,
     .min = 30,
     .max = 90,
     .help = "by which flow from a to side turns off the way to b; a tee 90 deg, a y 45 deg"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, NULL};
static const char *const ports[] = {"a", "b", "side", NULL};

enum { A, B, SIDE, PORTS };

struct tee {
    double bore[PORTS];
    double angle;
    double volume;
};

/* Losses of the two legs that do not carry the combined flow, in velocity heads of the leg that does. */
struct pair {
    double straight;
    double side;
};

/* A step from `low` to `high` at a place, spread linearly over 0.02 on either side: Crane's constants jump at
 * some shares of flow, and a loss that jumps can keep an iteration from settling. */
static double step(double at, double place, double low, double high)
{
    const double t = fmin(fmax((at - place) / 0.04 + 0.5, 0), 1);
    return low + t * (high - low);
}

/* Crane TP-410 (2009), chapter 2, flow dividing; `y` is the side's share, `area` side over run, angle between
 * the side and the flow's direction. */
static struct pair dividing(double y, double area, double angle)
{
    const bool slanting = angle < 60 || sqrt(area) <= 2.0 / 3;
    const double h = slanting ? 1 : 0.3;
    const double j = slanting ? 2 : 0;
    const double v = y / area;
    double g;
    if (angle < 75) {
        g = area <= 0.35 ? step(y, 0.4, 1.1 - 0.7 * y, 0.85) : step(y, 0.6, 1 - 0.6 * y, 0.6);
    } else {
        g = area <= 2.0 / 3 ? 1 : 1 + 0.3 * y * y;
    }
    const double m = area <= 0.4 ? 0.4 : (y <= 0.5 ? 2 : 0.3) * (2 * y - 1);
    return (struct pair){.straight = m * y * y, .side = g * (1 + h * v * v - j * v * cos(angle * PI / 180))};
}

/* The same, flow converging. F of both legs against the angle; a right-angled tee has a run law of its own.
 */
static struct pair converging(double y, double area, double angle)
{
    static const double angles[] = {30, 45, 60, 90};
    static const double factors[] = {1.74, 1.41, 1, 0};
    size_t i = 1;
    while (i < 3 && angle > angles[i]) {
        i++;
    }
    const double f = factors[i - 1] +
                     (factors[i] - factors[i - 1]) * (angle - angles[i - 1]) / (angles[i] - angles[i - 1]);
    const double c = area <= 0.35 ? 1 : step(y, 0.4, 0.9 * (1 - y), 0.55);
    const double v = y / area;
    const double rest = (1 - y) * (1 - y);
    return (struct pair){.straight = angle < 75 ? 1 - rest - f / area * y * y : 1.55 * y - y * y,
                         .side = c * (1 + v * v - 2 * rest - f / area * y * y)};
}

/* The side carries all, the run's two ends share it. Idelchik 1986, diagram 7-29 (symmetrical tee; from
 * memory): merging 1 + r^2 + 3 r^2 (y^2 - y), dividing 1 + 0.3 (r y)^2, on the side's velocity, with r the
 * ratio of the side's area to the run's and y that end's share. The angle of a y is not in it. */
static double side_merging(double y, double ratio)
{
    return 1 + ratio * ratio * (1 + 3 * (y * y - y));
}

static double side_dividing(double y, double ratio)
{
    return 1 + 0.3 * (ratio * y) * (ratio * y);
}

/* Deflection between the side and the flow in the run: a y slants towards b. Crane has nothing beyond 90
 * degrees, which is taken for a sharper turn. */
static double deflection(const struct tee *tee, int combined, bool divides)
{
    const bool along = divides ? combined == A : combined == B;
    return along ? tee->angle : 90;
}

/* Drops with the combined flow given: `combined` is the port that carries it, in or out. */
static void pattern(const struct tee *tee, int combined, const double flow[], double density, double drop[])
{
    const bool divides = flow[combined] > 0;
    const double area = PI / 4 * tee->bore[combined] * tee->bore[combined];
    const double head = density / 2 * (flow[combined] / area) * (flow[combined] / area);
    const double signed_head = divides ? -head : head;
    const double share = tee->bore[SIDE] / tee->bore[A] * (tee->bore[SIDE] / tee->bore[A]);
    drop[combined] = 0;
    if (combined == SIDE) {
        for (int port = A; port <= B; port++) {
            const double y = fmin(fmax(-flow[port] / flow[SIDE], 0), 1);
            drop[port] = signed_head * (divides ? side_dividing(y, share) : side_merging(y, share));
        }
        return;
    }
    const double y = fmin(fmax(-flow[SIDE] / flow[combined], 0), 1);
    const double angle = deflection(tee, combined, divides);
    const struct pair k = divides ? dividing(y, share, angle) : converging(y, share, angle);
    drop[SIDE] = signed_head * k.side;
    drop[combined == A ? B : A] = signed_head * k.straight;
}

/* Where the smallest flow is below this share of the largest its direction hardly matters: both patterns are
 * mixed, so that the drops stay continuous when it turns round. */
static const double MIXED_BELOW = 0.02;

static void split(const void *part, const struct hr_setting *setting, const double flow[], double drop[])
{
    const struct tee *tee = part;
    const double density = setting->fluid->density;
    int order[PORTS] = {A, B, SIDE}; /* by size of flow, largest first */
    for (int i = 1; i < PORTS; i++) {
        for (int j = i; j > 0 && fabs(flow[order[j]]) > fabs(flow[order[j - 1]]); j--) {
            const int swap = order[j];
            order[j] = order[j - 1];
            order[j - 1] = swap;
        }
    }
    const double largest = fabs(flow[order[0]]);
    drop[A] = drop[B] = drop[SIDE] = 0;
    if (!(largest > 0)) {
        return;
    }
    pattern(tee, order[0], flow, density, drop);
    const double ratio = fabs(flow[order[2]]) / largest;
    if (ratio < MIXED_BELOW) {
        /* With the smallest flow the other way round the second largest leg would carry the combined flow. */
        double other[PORTS];
        const double weight = 0.5 * (1 - ratio / MIXED_BELOW);
        pattern(tee, order[1], flow, density, other);
        for (int port = 0; port < PORTS; port++) {
            drop[port] = (1 - weight) * drop[port] + weight * other[port];
        }
    }
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report, double angle)
{
    struct tee *tee = hr_arena_alloc(arena, 1, sizeof *tee);
    if (tee == NULL) {
        return hr_fail_memory(report);
    }
    tee->bore[A] = tee->bore[B] = hr_param_number(params, "bore", NAN);
    tee->bore[SIDE] = hr_param_number(params, "side_bore", tee->bore[A]);
    tee->angle = hr_param_number(params, "angle", angle);
    tee->volume = hr_part_volume(params, 0);
    *part = tee;
    const struct hr_value *several = hr_param(params, "in_series");
    several = several != NULL ? several : hr_param(params, "in_parallel");
    if (several != NULL) {
        return hr_fail(report, HR_INPUT, "tee-number", &several->at,
                       "%s has three ports, so that '%s' has no meaning; give every %s a name of its own",
                       params->owner, several->key->name, angle < 90 ? "y" : "tee");
    }
    if (tee->bore[SIDE] > tee->bore[A]) {
        const struct hr_value *side = hr_param(params, "side_bore");
        return hr_fail(
            report, HR_INPUT, "tee-bore", &side->at,
            "%s: a side bore of %g mm is wider than the run's %g mm; the laws of tees hold up to equal bores",
            params->owner, tee->bore[SIDE] * 1e3, tee->bore[A] * 1e3);
    }
    return HR_OK;
}

static enum hr_status make_tee(const struct hr_params *params, struct hr_arena *arena, void **part,
                               struct hr_report *report)
{
    return make(params, arena, part, report, 90);
}

static enum hr_status make_y(const struct hr_params *params, struct hr_arena *arena, void **part,
                             struct hr_report *report)
{
    return make(params, arena, part, report, 45);
}

/* All of a tee's loss depends on how the flow splits: no law of its own. */
static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    (void)part;
    (void)setting;
    branch[A] = branch[B] = branch[SIDE] = (struct hr_part_branch){0};
}

static double volume_of(const void *part)
{
    return ((const struct tee *)part)->volume;
}

static double bore_of(const void *part, size_t port)
{
    return ((const struct tee *)part)->bore[port];
}

const struct hr_part_kind hr_kind_tee = {
    .name = "tee",
    .summary = "a tee: a straight run from a to b with a side port",
    .groups = groups,
    .ports = ports,
    .make = make_tee,
    .bind = bind,
    .split = split,
    .volume = volume_of,
    .bore = bore_of,
};

const struct hr_part_kind hr_kind_y = {
    .name = "y",
    .summary = "a y: as a tee, the side port slanting; flow from a divides gently to b and side",
    .groups = groups,
    .ports = ports,
    .make = make_y,
    .bind = bind,
    .split = split,
    .volume = volume_of,
    .bore = bore_of,
};
