/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The IAPWS formulations behind water and water vapour, in kelvin and pascal, without range checks: the
 * caller holds the arguments in range. Shared between the files of this folder, and reached by the tests of
 * the published values. */
#ifndef HR_FLUID_WATER_H
#define HR_FLUID_WATER_H

/* Critical point of water, the reducing constants of R12-08 and R15-11. */
#define HR_WATER_CRITICAL_K       647.096
#define HR_WATER_CRITICAL_DENSITY 322.0

struct hr_if97 {
    double v;  /* specific volume, m3/kg */
    double h;  /* specific enthalpy, J/kg */
    double cp; /* isobaric heat capacity, J/(kg K) */
    double w;  /* speed of sound, m/s */
};

/* Liquid water, IAPWS R7-97(2012) region 1, equation 7: 273.15 K to 623.15 K, from the saturation pressure to
 * 100 MPa. */
void hr_if97_region1(double kelvin, double pascal, struct hr_if97 *state);

/* Isobaric heat capacity of water vapour as an ideal gas, J/(kg K): IAPWS R7-97(2012) equation 16, to 1073.15
 * K. */
double hr_if97_vapour_heat_capacity(double kelvin);

/* Viscosity, Pa s, at a temperature and a density in kg/m3: IAPWS R12-08 equations 10 to 12, without the
 * critical enhancement, as the release allows for industrial use. Density 0 gives the dilute vapour. */
double hr_water_viscosity(double kelvin, double density);

/* Thermal conductivity, W/(m K): IAPWS R15-11 equations 15 to 17, without the critical enhancement. Density 0
 * gives the dilute vapour. */
double hr_water_conductivity(double kelvin, double density);

#endif
