/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mixtures of glycol and water, for fluid.c alone: arguments are held in range there. */
#ifndef HR_FLUID_GLYCOL_H
#define HR_FLUID_GLYCOL_H

#include "fluid/fluid.h"

/* The mass fraction to which Melinder's coefficients hold. */
#define HR_GLYCOL_FRACTION_MAX 0.6

/* Fills density, viscosity, heat capacity and conductivity of HR_PROPYLENE_GLYCOL or HR_ETHYLENE_GLYCOL. */
void hr_glycol_state(enum hr_fluid_kind kind, double mass_fraction, double temperature_c,
                     struct hr_fluid_state *state);

double hr_glycol_freezing_c(enum hr_fluid_kind kind, double mass_fraction);

#endif
