/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What pumps and fans share: a curve at one speed, carried to other speeds by the affinity laws (flow with
 * the speed, head with its square), and their speeds and power. */
#ifndef HR_PART_MACHINE_H
#define HR_PART_MACHINE_H

#include "part/loss.h"

/* A curve H(q) at its own speed. Plain data; the points are in the arena. */
struct hr_machine_curve {
    const struct hr_curve *points;     /* NULL: the formula */
    double shut_off, free_flow, share; /* H = shut_off (1 - share x - (1 - share) x|x|), x = q/free_flow; the
                                          first two also of points */
    bool metres;                       /* H in metres of the fluid, else Pa */
    double square; /* beyond both ends H goes on with the square of the further flow times this */
    double range_low, range_high; /* measured flows; NaN for the formula */
    bool rises;                   /* somewhere the head rises with the flow … */
    double rise_low, rise_high;   /* … between these flows */
};

struct hr_machine {
    struct hr_machine_curve curve;
    double curve_rpm;                    /* NaN: not given */
    double own_ratio;                    /* the part's own speed over the curve's */
    double speed_max_rpm, speed_min_rpm; /* NaN: not given */
    double power, power_idle, power_exponent,
        power_to_coolant;   /* of one, at the curve's speed; power NaN: not given */
    struct hr_loss stopped; /* form NONE: as the curve says */
};

/* Reads curve, speeds, power and `stopped`. */
enum hr_status hr_machine_make(const struct hr_params *params, enum hr_loss_use use, struct hr_arena *arena,
                               struct hr_machine *machine, struct hr_report *report);

/* Speed over the curve's speed at a setting. */
double hr_machine_ratio(const struct hr_machine *machine, const struct hr_setting *setting);

/* H and its slope at the curve's speed. */
void hr_machine_head(const struct hr_machine_curve *curve, double flow, double *head, double *slope);

/* Adds the laws at a speed ratio, `unit` Pa for one unit of H, for `series` times `parallel` machines. */
void hr_machine_bind(const struct hr_machine *machine, const struct hr_fluid_state *fluid, double ratio,
                     double unit, const double series_parallel[2], struct hr_part_branch *branch);

/* The numbers of one machine at a speed ratio. */
void hr_machine_facts(const struct hr_machine *machine, double ratio, double unit,
                      struct hr_machine_facts *facts);

/* Reads the points of a curve. */
enum hr_status hr_machine_points(const struct hr_params *params, const struct hr_value *points,
                                 struct hr_arena *arena, struct hr_machine_curve *curve,
                                 struct hr_report *report);

#endif
