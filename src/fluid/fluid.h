/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Properties of coolants and of air, each with its source and its range. */
#ifndef HR_FLUID_FLUID_H
#define HR_FLUID_FLUID_H

#include "base/report.h"

#include <stdbool.h>

enum hr_fluid_kind {
    HR_WATER,            /* IAPWS R7-97 region 1, R12-08, R15-11 */
    HR_PROPYLENE_GLYCOL, /* mixture with water, Melinder 2010 */
    HR_ETHYLENE_GLYCOL,  /* mixture with water, Melinder 2010 */
    HR_AIR,              /* dry or moist */
    HR_GIVEN             /* constants stated by the user */
};

/* Properties at one temperature and pressure, SI. */
struct hr_fluid_state {
    double temperature_c;
    double density;         /* kg/m3 */
    double viscosity;       /* dynamic, Pa s */
    double heat_capacity;   /* J/(kg K) */
    double conductivity;    /* W/(m K) */
    double vapour_pressure; /* Pa absolute; of water's saturation for water and mixtures (conservative); 0 for
                               air */
};

/* Which fluid; plain data, no ownership. */
struct hr_fluid {
    enum hr_fluid_kind kind;
    double mass_fraction;        /* glycol, 0..0.6 */
    double humidity;             /* air: relative, 0..1 */
    struct hr_fluid_state given; /* HR_GIVEN */
};

/* The fluid's name as files write it: "water", "propylene-glycol-water", "ethylene-glycol-water", "air",
 * "given". */
const char *hr_fluid_name(enum hr_fluid_kind kind);

/* Finds a kind by that name; false where there is none. */
bool hr_fluid_find(const char *name, enum hr_fluid_kind *kind);

/* The properties at a temperature in degC and an absolute pressure in Pa (liquids use it for nothing but
 * IAPWS region 1; 101325 suits them). Outside the range the correlation is held at its nearest end, whose
 * temperature is then the one in `state`; returns false then, as it does for a pressure, mass fraction or
 * humidity out of range. Never NaN for finite arguments. Relative humidity is at the temperature asked for:
 * air that warms up keeps its water, so a caller who follows it lowers the humidity by hr_air_humidity.
 * HR_GIVEN is the same at every temperature. */
bool hr_fluid_at(const struct hr_fluid *fluid, double temperature_c, double pressure_pa,
                 struct hr_fluid_state *state);

/* Relative humidity at `temperature_c` of air that has `humidity` at `from_c`, at the same pressure, its
 * water kept; at most 1 (dew falls beyond). Between 0 and 100 degC. */
double hr_air_humidity(double humidity, double from_c, double temperature_c);

/* Mass of water over mass of dry air at a relative humidity. */
double hr_air_humidity_ratio(double humidity, double temperature_c, double pressure_pa);

/* The range of temperature (degC) in which the correlations hold: water 0 to 100, mixtures from the freezing
 * point to 100, dry air -40 to 150, moist air 0 to 100, HR_GIVEN unbounded (infinite ends). */
void hr_fluid_range(const struct hr_fluid *fluid, double *lowest_c, double *highest_c);

/* Freezing point, degC: 0 for water; for mixtures Melinder 2010. NaN for air and HR_GIVEN. */
double hr_fluid_freezing_c(const struct hr_fluid *fluid);

/* Saturation pressure of water, Pa, IAPWS R7-97 equation 30; 273.15 K to 647.096 K, clamped outside. */
double hr_water_saturation_pressure(double temperature_c);

#endif
