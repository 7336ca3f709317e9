/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pumps, which a pump-block shares; and the correction of their curves for viscosity. */
#ifndef HR_PART_PUMP_H
#define HR_PART_PUMP_H

#include "part/machine.h"

enum hr_pump_form { HR_PUMP_CURVE, HR_PUMP_FLOW, HR_PUMP_POWER };

struct hr_pump {
    enum hr_pump_form form;
    struct hr_machine machine; /* of HR_PUMP_CURVE */
    double given;              /* m3/s, or W in the water */
    double numbers[2];         /* in series, in parallel */
    double volume;
    bool viscous;     /* the curve is corrected for viscosity */
    double best_flow; /* m3/s at the curve's speed */
};

enum hr_status hr_pump_make(const struct hr_params *params, struct hr_arena *arena, struct hr_pump *pump,
                            struct hr_report *report);

/* Adds the laws to a branch, or makes it one of given flow. */
void hr_pump_bind(const struct hr_pump *pump, const struct hr_setting *setting,
                  struct hr_part_branch *branch);

/* Adds range and note. */
void hr_pump_facts(const struct hr_pump *pump, const struct hr_setting *setting, double flow,
                   struct hr_part_facts *facts);

void hr_pump_machine(const struct hr_pump *pump, const struct hr_setting *setting,
                     struct hr_machine_facts *facts);

/* ISO/TR 17766:2005 and ANSI/HI 9.6.7: the parameter B from kinematic viscosity (m2/s), head (m) and flow
 * (m3/s) at best efficiency in water, and speed; the corrections of flow (and of head at best efficiency), of
 * head at another flow, and of efficiency. All 1 for B <= 1; beyond B = 40 the value there. */
double hr_viscosity_parameter(double kinematic, double head_m, double flow, double rpm);
double hr_viscosity_flow(double b);
double hr_viscosity_efficiency(double b);

/* The correction of head at `share` of the best flow, and its slope against the share, of a flow correction.
 * Below a tenth of the best flow the power 0.75 runs into a straight line, so that the slope at no flow is
 * finite (our choice). */
double hr_viscosity_head(double flow_correction, double share, double *slope);

#endif
