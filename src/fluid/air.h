/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Air, for fluid.c and the tests: arguments are held in range by the caller. */
#ifndef HR_FLUID_AIR_H
#define HR_FLUID_AIR_H

#include "fluid/fluid.h"

/* Molar masses, kg/mol: dry air (Picard et al. 2008, of today's composition), water. */
#define HR_AIR_MOLAR_MASS   28.96546e-3
#define HR_WATER_MOLAR_MASS 18.01527e-3

/* Where the equations of dry air are good as this file keeps them. */
#define HR_AIR_LOWEST_C  (-40.0)
#define HR_AIR_HIGHEST_C 150.0

/* Partial pressure of water vapour, Pa, at a relative humidity (0..1) of air at a temperature, from 0 to 100
 * degC (held there outside) and at most the whole pressure. */
double hr_air_vapour_pressure(double humidity, double temperature_c, double pressure_pa);

/* Fills density, viscosity, heat capacity and conductivity of air with that partial pressure of water vapour.
 */
void hr_air_state(double vapour_pa, double temperature_c, double pressure_pa, struct hr_fluid_state *state);

#endif
