/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which fluid, and what its correlations are held to. */
#include "fluid/fluid.h"

#include "base/memory.h"
#include "fluid/air.h"
#include "fluid/glycol.h"
#include "fluid/water.h"

#include <math.h>
#include <string.h>

static const char *const names[] = {
    [HR_WATER] = "water",
    [HR_PROPYLENE_GLYCOL] = "propylene-glycol-water",
    [HR_ETHYLENE_GLYCOL] = "ethylene-glycol-water",
    [HR_AIR] = "air",
    [HR_GIVEN] = "given",
};

/* Water: from the triple point's pressure to the end of region 1. Air: where the low powers of density do. */
static const double WATER_PRESSURE_MIN = 611.213;
static const double WATER_PRESSURE_MAX = 100e6;
static const double AIR_PRESSURE_MIN = 10e3;
static const double AIR_PRESSURE_MAX = 500e3;

const char *hr_fluid_name(enum hr_fluid_kind kind)
{
    return names[kind];
}

bool hr_fluid_find(const char *name, enum hr_fluid_kind *kind)
{
    for (size_t i = 0; i < HR_ARRAY_LEN(names); i++) {
        if (strcmp(names[i], name) == 0) {
            *kind = (enum hr_fluid_kind)i;
            return true;
        }
    }
    return false;
}

/* Moves *value into [low, high], a NaN to `low`; false where it had to be moved. */
static bool hold(double *value, double low, double high)
{
    if (*value >= low && *value <= high) {
        return true;
    }
    *value = *value > high ? high : low;
    return false;
}

double hr_fluid_freezing_c(const struct hr_fluid *fluid)
{
    double fraction = fluid->mass_fraction;
    switch (fluid->kind) {
    case HR_WATER:
        return 0;
    case HR_PROPYLENE_GLYCOL:
    case HR_ETHYLENE_GLYCOL:
        (void)hold(&fraction, 0, HR_GLYCOL_FRACTION_MAX);
        return hr_glycol_freezing_c(fluid->kind, fraction);
    case HR_AIR:
    case HR_GIVEN:
        break;
    }
    return NAN;
}

void hr_fluid_range(const struct hr_fluid *fluid, double *lowest_c, double *highest_c)
{
    switch (fluid->kind) {
    case HR_WATER:
    case HR_PROPYLENE_GLYCOL:
    case HR_ETHYLENE_GLYCOL:
        *lowest_c = hr_fluid_freezing_c(fluid);
        *highest_c = 100;
        return;
    case HR_AIR:
        *lowest_c = fluid->humidity > 0 ? 0 : HR_AIR_LOWEST_C;
        *highest_c = fluid->humidity > 0 ? 100 : HR_AIR_HIGHEST_C;
        return;
    case HR_GIVEN:
        break;
    }
    *lowest_c = -HUGE_VAL;
    *highest_c = HUGE_VAL;
}

static bool water_at(double temperature_c, double pressure_pa, struct hr_fluid_state *state)
{
    const bool inside = hold(&pressure_pa, WATER_PRESSURE_MIN, WATER_PRESSURE_MAX);
    const double kelvin = temperature_c + 273.15;
    struct hr_if97 liquid;
    hr_if97_region1(kelvin, pressure_pa, &liquid);
    state->density = 1 / liquid.v;
    state->heat_capacity = liquid.cp;
    state->viscosity = hr_water_viscosity(kelvin, state->density);
    state->conductivity = hr_water_conductivity(kelvin, state->density);
    state->vapour_pressure = hr_water_saturation_pressure(temperature_c);
    return inside;
}

static bool glycol_at(const struct hr_fluid *fluid, double temperature_c, struct hr_fluid_state *state)
{
    double fraction = fluid->mass_fraction;
    const bool inside = hold(&fraction, 0, HR_GLYCOL_FRACTION_MAX);
    hr_glycol_state(fluid->kind, fraction, temperature_c, state);
    state->vapour_pressure = hr_water_saturation_pressure(temperature_c);
    return inside;
}

static bool air_at(const struct hr_fluid *fluid, double temperature_c, double pressure_pa,
                   struct hr_fluid_state *state)
{
    double humidity = fluid->humidity;
    bool inside = hold(&humidity, 0, 1);
    inside = hold(&pressure_pa, AIR_PRESSURE_MIN, AIR_PRESSURE_MAX) && inside;
    const double vapour = hr_air_vapour_pressure(humidity, temperature_c, pressure_pa);
    hr_air_state(vapour, temperature_c, pressure_pa, state);
    state->vapour_pressure = 0;
    return inside && vapour < pressure_pa;
}

bool hr_fluid_at(const struct hr_fluid *fluid, double temperature_c, double pressure_pa,
                 struct hr_fluid_state *state)
{
    if (fluid->kind == HR_GIVEN) {
        *state = fluid->given;
        state->temperature_c = temperature_c;
        return true;
    }
    double lowest = 0;
    double highest = 0;
    hr_fluid_range(fluid, &lowest, &highest);
    double held = temperature_c;
    bool inside = hold(&held, lowest, highest);
    switch (fluid->kind) {
    case HR_WATER:
        inside = water_at(held, pressure_pa, state) && inside;
        break;
    case HR_PROPYLENE_GLYCOL:
    case HR_ETHYLENE_GLYCOL:
        inside = glycol_at(fluid, held, state) && inside;
        break;
    case HR_AIR:
        /* Only the vapour is bound to 0 to 100 degC, and hr_air_vapour_pressure holds it there. */
        held = temperature_c;
        (void)hold(&held, HR_AIR_LOWEST_C, HR_AIR_HIGHEST_C);
        inside = air_at(fluid, held, pressure_pa, state) && inside;
        break;
    case HR_GIVEN:
        break; /* answered above */
    }
    state->temperature_c = held;
    return inside;
}
