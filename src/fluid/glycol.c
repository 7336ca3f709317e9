/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Propylene and ethylene glycol with water.
 *
 * A. Melinder, Properties of Secondary Working Fluids for Indirect Systems, 2nd edition, International
 * Institute of Refrigeration, 2010: property = sum of C(i, j) (x - x_m)^i (t - t_m)^j over 18 terms, x in
 * percent by mass, t in degC; for the viscosity the sum is ln(mu / mPa s); the freezing point uses the terms
 * with j = 0. Valid from 0 to 60 % by mass and from the freezing point to 100 degC, for glycol without
 * inhibitors: those add up to about half a percent of density. */
#include "fluid/glycol.h"

#include <math.h>

enum { TERMS = 18, POWERS_X = 6 };

/* Terms with i = 0 to 5 have j = 0 to one less than this. */
static const int powers_t[POWERS_X] = {4, 4, 4, 3, 2, 1};

struct melinder {
    double x_mean; /* percent */
    double t_mean; /* degC */
    double freezing[POWERS_X];
    double density[TERMS];
    double heat_capacity[TERMS];
    double conductivity[TERMS];
    double log_viscosity[TERMS];
};

static const struct melinder propylene = {
    .x_mean = 30.7031,
    .t_mean = 32.7083,
    .freezing = {-13.25, -0.6631, -0.01094, -0.0002283, -3.409e-06, 1.465e-08},
    .density = {1018, -0.5406, -0.002666, 1.347e-05, 0.7604, -0.00945, 5.541e-05, -1.343e-07, -0.002498,
                2.7e-05, -4.018e-07, 3.376e-09, -0.000155, 2.829e-06, -7.175e-09, -1.131e-06, -2.221e-08,
                2.342e-08},
    .heat_capacity = {3882, 2.699, -0.001659, -1.032e-05, -13.04, 0.0507, -4.752e-05, 1.522e-06, -0.1598,
                      9.534e-05, 1.167e-05, -4.87e-08, 0.0003539, 3.102e-05, -2.95e-07, 5e-05, -7.135e-07,
                      -4.959e-07},
    .conductivity = {0.4513, 0.0007955, 3.482e-08, -5.966e-09, -0.004795, -1.678e-05, 8.941e-08, 1.493e-10,
                     2.076e-05, 1.563e-07, -4.615e-09, 9.897e-12, -9.083e-08, -2.518e-09, 6.543e-11,
                     -5.952e-10, -3.605e-11, 2.104e-11},
    .log_viscosity = {0.6837, -0.03045, 0.0002525, -1.399e-06, 0.03328, -0.0003984, 4.332e-06, -1.86e-08,
                      5.453e-05, -8.6e-08, -1.593e-08, -4.465e-11, -3.9e-06, 1.054e-07, -1.589e-09,
                      -1.587e-08, 4.475e-10, 3.564e-09},
};

static const struct melinder ethylene = {
    .x_mean = 30.8462,
    .t_mean = 31.728,
    .freezing = {-15.25, -0.808, -0.01334, -7.293e-05, 1.006e-06, 1.14e-09},
    .density = {1034, -0.4781, -0.002692, 4.725e-06, 1.311, -0.006876, 4.805e-05, 1.69e-08, 7.49e-05,
                7.855e-05, -3.995e-07, 4.982e-09, -0.0001062, 1.229e-06, -1.153e-08, -9.623e-07, -7.211e-08,
                4.891e-08},
    .heat_capacity = {3737, 2.93, -0.004675, -1.389e-05, -17.99, 0.1046, -0.0004147, 1.847e-07, -0.09933,
                      0.0003516, 5.109e-06, -7.138e-08, 0.00261, -1.189e-06, -1.643e-07, 1.537e-05,
                      -4.272e-07, -1.618e-06},
    .conductivity = {0.472, 0.0008903, -1.058e-06, -2.789e-09, -0.004286, -1.473e-05, 1.059e-07, -1.142e-10,
                     1.747e-05, 6.814e-08, -3.612e-09, 2.365e-12, 3.017e-08, -2.412e-09, 4.004e-11,
                     -1.322e-09, 2.555e-11, 2.678e-11},
    .log_viscosity = {0.4705, -0.0255, 0.0001782, -7.669e-07, 0.02471, -0.0001171, 1.052e-06, -1.634e-08,
                      3.328e-06, 1.086e-06, 1.051e-08, -6.475e-10, 1.659e-06, 3.157e-09, 4.063e-10, 3.089e-08,
                      1.831e-10, -1.865e-09},
};

static const struct melinder *coefficients(enum hr_fluid_kind kind)
{
    return kind == HR_ETHYLENE_GLYCOL ? &ethylene : &propylene;
}

/* The sum over the terms by Horner's rule, from the highest power of x down. */
static double polynomial(const double c[TERMS], double x, double t)
{
    double sum = 0;
    int end = TERMS;
    for (int i = POWERS_X - 1; i >= 0; i--) {
        const int start = end - powers_t[i];
        double row = 0;
        for (int k = end - 1; k >= start; k--) {
            row = row * t + c[k];
        }
        sum = sum * x + row;
        end = start;
    }
    return sum;
}

void hr_glycol_state(enum hr_fluid_kind kind, double mass_fraction, double temperature_c,
                     struct hr_fluid_state *state)
{
    const struct melinder *m = coefficients(kind);
    const double x = 100 * mass_fraction - m->x_mean;
    const double t = temperature_c - m->t_mean;
    state->density = polynomial(m->density, x, t);
    state->heat_capacity = polynomial(m->heat_capacity, x, t);
    state->conductivity = polynomial(m->conductivity, x, t);
    state->viscosity = 1e-3 * exp(polynomial(m->log_viscosity, x, t));
}

double hr_glycol_freezing_c(enum hr_fluid_kind kind, double mass_fraction)
{
    const struct melinder *m = coefficients(kind);
    const double x = 100 * mass_fraction - m->x_mean;
    double sum = 0;
    for (int i = POWERS_X - 1; i >= 0; i--) {
        sum = sum * x + m->freezing[i];
    }
    return sum;
}
