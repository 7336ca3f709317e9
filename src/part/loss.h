/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The generic forms of a pressure drop that most kinds share: measured points, a law, velocity heads, a flow
 * coefficient. */
#ifndef HR_PART_LOSS_H
#define HR_PART_LOSS_H

#include "fluid/fluid.h"
#include "part/curve.h"
#include "part/kind.h"

enum hr_loss_form {
    HR_LOSS_NONE,
    HR_LOSS_POINTS,
    HR_LOSS_POWER,     /* r, n */
    HR_LOSS_QUADRATIC, /* linear, square */
    HR_LOSS_ZETA,      /* velocity heads of an area */
    HR_LOSS_KV         /* m3/s per sqrt(Pa) of water */
};

/* The loss of one element, how many there are, and where the data hold. Plain data; the curve is in the
 * arena. */
struct hr_loss {
    enum hr_loss_form form;
    double a, b; /* the form's numbers in the order above */
    const struct hr_curve *curve;
    double bore;  /* m; NaN where not known */
    double area;  /* m2; NaN where not known */
    bool similar; /* the data hold for `measured`: another fluid goes by similarity */
    struct hr_fluid_state measured;
    double series, parallel;
    double flow_min, flow_max; /* of one element; NaN: no bound */
    double lowest_c, highest_c;
};

enum hr_loss_use { HR_LOSS_COOLANT, HR_LOSS_AIR };

/* Reads the shared keys. With `needed` a part without any form is an error. Reports every fault; returns the
 * status of the first. */
enum hr_status hr_loss_make(const struct hr_params *params, enum hr_loss_use use, bool needed,
                            struct hr_arena *arena, struct hr_loss *loss, struct hr_report *report);

/* The law of all elements together in a fluid, `factor` times the drop of the data. Not for HR_LOSS_NONE. */
struct hr_law hr_loss_law(const struct hr_loss *loss, const struct hr_fluid_state *fluid, double factor);

/* Adds that law to the branch; nothing for HR_LOSS_NONE. */
void hr_loss_bind(const struct hr_loss *loss, const struct hr_fluid_state *fluid, double factor,
                  struct hr_part_branch *branch);

/* Ranges, and Reynolds number and velocity where a bore is known, at the flow through all elements. */
void hr_loss_facts(const struct hr_loss *loss, const struct hr_setting *setting, double flow,
                   struct hr_part_facts *facts);

/* Facts that say nothing. */
void hr_facts_clear(struct hr_part_facts *facts);

/* Adds a range unless there is no room. */
void hr_facts_range(struct hr_part_facts *facts, const char *what, double low, double high, double value,
                    const char *unit);

/* Reynolds number and velocity in a round bore at the flow through it. */
void hr_facts_bore(struct hr_part_facts *facts, const struct hr_fluid_state *fluid, double bore, double flow);

/* The numbers of in_series and in_parallel (1 where not given) and the volume key of one (`otherwise` where
 * not given), times their number. */
void hr_part_numbers(const struct hr_params *params, double *series, double *parallel);
double hr_part_volume(const struct hr_params *params, double otherwise);

/* Builds the curve of measured points: starts at (0, 0), strictly rising. Reports rows that do not rise. */
enum hr_status hr_loss_points(const struct hr_params *params, const struct hr_value *points,
                              enum hr_loss_use use, struct hr_arena *arena, const struct hr_curve **curve,
                              struct hr_report *report);

/* The law of such a curve: odd, beyond the last point the power law with the exponent there. */
struct hr_law hr_law_points(const struct hr_curve *curve);

#endif
