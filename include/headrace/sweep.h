/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A loop over a range of one value or two, and the speed beyond which more buys little. */
#ifndef HR_SWEEP_H
#define HR_SWEEP_H

#include "headrace/loop.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { HR_AXES_MAX = 2, HR_SWEEP_POINTS_MAX = 100000 };

/* One swept value. `value` in the unit that the range was written in ("rpm" where a speed has none). */
struct hr_axis {
    const char *name; /* "pump.speed" */
    const char *unit;
    double *value;
    size_t count;
    bool pump_speed; /* speeds of pumps only: the knee can be found on it */
};

/* How much is enough? */
enum hr_knee_definition {
    HR_KNEE_ENOUGH, /* lowest speed at which every chip is within a tolerance of its best in the range */
    HR_KNEE_BEND,   /* farthest from the chord of the normalised curve (Satopaa et al. 2011) */
    HR_KNEE_GAIN    /* where the gain falls below so many kelvin per 100 rpm */
};

struct hr_knee {
    enum hr_knee_definition definition;
    double value;        /* in the axis' unit, found by solving between the grid points */
    const char *binding; /* the chip that decides */
    bool reached;        /* false: the range ends before; `value` is its upper end */
    bool at_start;       /* holds from the lowest speed of the range on */
    double flow_m3_s;    /* the largest flow in the loop there */
    double rise_k;       /* of the binding chip there, over the coolant at its inlet */
    double best_k;       /* its lowest rise in the range */
};

struct hr_sweep_settings {
    double tolerance_k; /* of "enough"; default 1, the usual scatter from run to run (common practice, no
                           source) */
    double gain_k;      /* of "gain", per 100 rpm; default 0.2 */
};

struct hr_sweep_settings hr_sweep_defaults(void);

/* Owns everything in it. Point i has the values axis[0].value[i / n1] and axis[1].value[i % n1], n1 the
 * second axis' count. */
struct hr_sweep {
    struct hr_axis axis[HR_AXES_MAX];
    size_t axes;
    struct hr_result **point;
    size_t points;
    struct hr_knee knee[3];
    size_t knees;
    const char *no_knee; /* why there are none, NULL where there are */
};

/* Solves over the ranges `axis` ("pump.speed=800..4800:200", "gpu.heat=100..400:50 W", 1 or 2 of them).
 * Single points without a solution are results with that status; HR_NO_RESULT only where none has one.
 * `settings` NULL: defaults. */
enum hr_status hr_sweep(struct hr_source *source, const struct hr_variant *variant, const char *const axis[],
                        size_t axes, const struct hr_sweep_settings *settings, struct hr_sweep **sweep,
                        struct hr_report *report);

/* Releases a sweep; NULL is allowed. */
void hr_sweep_free(struct hr_sweep *sweep);

/* The definition's name in results: "enough", "bend", "per-100-rpm"; static storage. */
const char *hr_knee_name(enum hr_knee_definition definition);

#ifdef __cplusplus
}
#endif

#endif
