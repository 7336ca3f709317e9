/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Correction of pump curves for viscosity, ISO/TR 17766:2005 (equations from memory; the worked example of
 * the report is met). It was made for pumps of some 3 m3/h and more: for small ones it is an extrapolation.
 */
#include "part/pump.h"

#include <math.h>

double hr_viscosity_parameter(double kinematic, double head_m, double flow, double rpm)
{
    return 16.5 * sqrt(kinematic * 1e6) * pow(head_m, 0.0625) / (pow(flow * 3600, 0.375) * pow(rpm, 0.25));
}

static double within(double b)
{
    return fmin(fmax(b, 1), 40);
}

double hr_viscosity_flow(double b)
{
    return exp(-0.165 * pow(log10(within(b)), 3.15));
}

double hr_viscosity_efficiency(double b)
{
    const double held = within(b);
    return pow(held, -0.0547 * pow(held, 0.69));
}

double hr_viscosity_head(double flow_correction, double share, double *slope)
{
    /* w = share^0.75; below `low` the parabola that leaves it with the same value and slope and is 0 at 0;
     * for reversed flow a hyperbola with the same slope at 0 that stays above -1. */
    const double low = 0.1;
    const double lost = 1 - flow_correction;
    const double root = pow(low, -0.25);
    double w;
    double w_slope;
    if (share >= low) {
        w = pow(share, 0.75);
        w_slope = 0.75 * w / share;
    } else if (share >= 0) {
        w = root * share * (1.25 - 0.25 * share / low);
        w_slope = root * (1.25 - 0.5 * share / low);
    } else {
        const double a = 1.25 * root;
        w = a * share / (1 - a * share);
        w_slope = a / ((1 - a * share) * (1 - a * share));
    }
    *slope = -lost * w_slope;
    return 1 - lost * w;
}
