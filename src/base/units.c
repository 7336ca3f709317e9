/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables of units and quantities.
 *
 * Conversion factors: inch, foot, pound-force per square inch and US gallon are exact by definition (NIST SP
 * 811, 2008, appendix B); metres of water are conventional, 1000 kg/m3 times 9.80665 m/s2. A gallon is the US
 * one, as in the trade. */
#include "base/units.h"

#include "base/memory.h"
#include "base/text.h"
#include "base/units_table.h"

#include <string.h>

#define BIT(quantity)   (1U << (unsigned)(quantity))
#define LITRES_PER_GPM  3.785411784       /* L/min */
#define PASCALS_PER_PSI 6894.757293168    /* 0.45359237 kg * 9.80665 m/s2 / (0.0254 m)2, to 13 digits */
#define ROOT_OF_BAR     316.2277660168379 /* sqrt(1e5 Pa) */
#define ROOT_OF_PSI     83.03467524575501 /* sqrt(1 psi in Pa) */

static const struct hr_unit_row units[] = {
    {"rpm", HR_SPEED, true, 1, 1, 0},
    {"RPM", HR_SPEED, false, 1, 1, 0},
    {"L/min", HR_FLOW, true, 1, 60e3, 0},
    {"l/min", HR_FLOW, false, 1, 60e3, 0},
    {"L/h", HR_FLOW, true, 1, 3.6e6, 0},
    {"l/h", HR_FLOW, false, 1, 3.6e6, 0},
    {"L/s", HR_FLOW, true, 1, 1e3, 0},
    {"l/s", HR_FLOW, false, 1, 1e3, 0},
    {"mL/min", HR_FLOW, true, 1, 60e6, 0},
    {"ml/min", HR_FLOW, false, 1, 60e6, 0},
    {"gpm", HR_FLOW, true, LITRES_PER_GPM, 60e3, 0},
    {"GPM", HR_FLOW, false, LITRES_PER_GPM, 60e3, 0},
    {"gph", HR_FLOW, false, LITRES_PER_GPM, 3.6e6, 0},
    {"m3/h", HR_FLOW, true, 1, 3600, 0},
    {"m³/h", HR_FLOW, false, 1, 3600, 0},
    {"m3/s", HR_FLOW, true, 1, 1, 0},
    {"m³/s", HR_FLOW, false, 1, 1, 0},
    {"CFM", HR_AIR_FLOW, true, 0.028316846592, 60, 0},
    {"cfm", HR_AIR_FLOW, false, 0.028316846592, 60, 0},
    {"Pa", HR_PRESSURE, true, 1, 1, 0},
    {"kPa", HR_PRESSURE, true, 1e3, 1, 0},
    {"MPa", HR_PRESSURE, true, 1e6, 1, 0},
    {"hPa", HR_PRESSURE, true, 100, 1, 0},
    {"mbar", HR_PRESSURE, true, 100, 1, 0},
    {"bar", HR_PRESSURE, true, 1e5, 1, 0},
    {"psi", HR_PRESSURE, true, PASCALS_PER_PSI, 1, 0},
    {"mH2O", HR_PRESSURE, true, 9806.65, 1, 0},
    {"mmH2O", HR_PRESSURE, true, 9.80665, 1, 0},
    {"inH2O", HR_PRESSURE, true, 249.08891, 1, 0},
    {"m", HR_LENGTH, true, 1, 1, 0},
    {"cm", HR_LENGTH, true, 1, 100, 0},
    {"mm", HR_LENGTH, true, 1, 1e3, 0},
    {"um", HR_LENGTH, true, 1, 1e6, 0},
    {"µm", HR_LENGTH, false, 1, 1e6, 0}, /* U+00B5, micro sign */
    {"μm", HR_LENGTH, false, 1, 1e6, 0}, /* U+03BC, Greek mu */
    {"in", HR_LENGTH, true, 0.0254, 1, 0},
    {"ft", HR_LENGTH, true, 0.3048, 1, 0},
    {"m2", HR_AREA, true, 1, 1, 0},
    {"m²", HR_AREA, false, 1, 1, 0},
    {"cm2", HR_AREA, true, 1, 1e4, 0},
    {"cm²", HR_AREA, false, 1, 1e4, 0},
    {"mm2", HR_AREA, true, 1, 1e6, 0},
    {"mm²", HR_AREA, false, 1, 1e6, 0},
    {"L", HR_VOLUME, true, 1, 1e3, 0},
    {"l", HR_VOLUME, false, 1, 1e3, 0},
    {"mL", HR_VOLUME, true, 1, 1e6, 0},
    {"ml", HR_VOLUME, false, 1, 1e6, 0},
    {"cm3", HR_VOLUME, true, 1, 1e6, 0},
    {"cm³", HR_VOLUME, false, 1, 1e6, 0},
    {"m3", HR_VOLUME, true, 1, 1, 0},
    {"m³", HR_VOLUME, false, 1, 1, 0},
    {"degC", HR_TEMPERATURE, true, 1, 1, 0},
    {"°C", HR_TEMPERATURE, false, 1, 1, 0},
    {"degF", HR_TEMPERATURE, true, 5, 9, -160.0 / 9.0},
    {"°F", HR_TEMPERATURE, false, 5, 9, -160.0 / 9.0},
    {"K", HR_TEMPERATURE_DIFFERENCE, true, 1, 1, 0},
    {"W", HR_POWER, true, 1, 1, 0},
    {"kW", HR_POWER, true, 1e3, 1, 0},
    {"mW", HR_POWER, true, 1, 1e3, 0},
    {"W/K", HR_CONDUCTANCE, true, 1, 1, 0},
    {"kW/K", HR_CONDUCTANCE, true, 1e3, 1, 0},
    {"K/W", HR_RESISTANCE, true, 1, 1, 0},
    {"K/kW", HR_RESISTANCE, true, 1, 1e3, 0},
    {"dBA", HR_SOUND_LEVEL, true, 1, 1, 0},
    {"dB(A)", HR_SOUND_LEVEL, false, 1, 1, 0},
    {"s", HR_TIME, true, 1, 1, 0},
    {"ms", HR_TIME, true, 1, 1e3, 0},
    {"min", HR_TIME, true, 60, 1, 0},
    {"h", HR_TIME, true, 3600, 1, 0},
    {"kg", HR_MASS, true, 1, 1, 0},
    {"g", HR_MASS, true, 1, 1e3, 0},
    {"%", HR_SHARE, true, 1, 100, 0},
    {"deg", HR_ANGLE, true, 1, 1, 0},
    {"°", HR_ANGLE, false, 1, 1, 0},
    {"kg/m3", HR_DENSITY, true, 1, 1, 0},
    {"kg/m³", HR_DENSITY, false, 1, 1, 0},
    {"kg/L", HR_DENSITY, true, 1e3, 1, 0},
    {"Pa s", HR_VISCOSITY, true, 1, 1, 0},
    {"Pa·s", HR_VISCOSITY, false, 1, 1, 0},
    {"mPa s", HR_VISCOSITY, true, 1, 1e3, 0},
    {"mPa·s", HR_VISCOSITY, false, 1, 1e3, 0},
    {"m2/s", HR_KINEMATIC_VISCOSITY, true, 1, 1, 0},
    {"m²/s", HR_KINEMATIC_VISCOSITY, false, 1, 1, 0},
    {"mm2/s", HR_KINEMATIC_VISCOSITY, true, 1, 1e6, 0},
    {"mm²/s", HR_KINEMATIC_VISCOSITY, false, 1, 1e6, 0},
    {"cSt", HR_KINEMATIC_VISCOSITY, true, 1, 1e6, 0},
    {"J/kgK", HR_HEAT_CAPACITY, true, 1, 1, 0},
    {"J/(kg K)", HR_HEAT_CAPACITY, false, 1, 1, 0},
    {"kJ/kgK", HR_HEAT_CAPACITY, true, 1e3, 1, 0},
    {"kJ/(kg K)", HR_HEAT_CAPACITY, false, 1e3, 1, 0},
    {"W/mK", HR_CONDUCTIVITY, true, 1, 1, 0},
    {"W/(m K)", HR_CONDUCTIVITY, false, 1, 1, 0},
    {"Kv", HR_FLOW_COEFFICIENT, true, 1, 3600 * ROOT_OF_BAR, 0},
    {"Cv", HR_FLOW_COEFFICIENT, true, LITRES_PER_GPM, 60e3 * ROOT_OF_PSI, 0},
};

static const struct hr_quantity_row quantities[HR_QUANTITIES] = {
    [HR_NUMBER] = {"a bare number", "1.5", "", 0},
    [HR_SPEED] = {"a speed", "2400 rpm", " or 60 %", BIT(HR_SPEED) | BIT(HR_SHARE)},
    [HR_FLOW] = {"a flow", "1.2 L/min", ", 72 L/h or 0.3 gpm", BIT(HR_FLOW)},
    [HR_AIR_FLOW] = {"an air flow", "60 m3/h", ", 17 L/s or 35 CFM", BIT(HR_FLOW) | BIT(HR_AIR_FLOW)},
    [HR_SPEED_OR_FLOW] = {"a speed or a flow", "2400 rpm", ", 1.2 L/min or 60 m3/h",
                          BIT(HR_SPEED) | BIT(HR_SHARE) | BIT(HR_FLOW) | BIT(HR_AIR_FLOW)},
    [HR_PRESSURE] = {"a pressure", "20 kPa", ", 200 mbar, 2 mH2O or 3 psi", BIT(HR_PRESSURE)},
    [HR_HEAD] = {"a pressure or a head", "2 m", ", 20 kPa or 2 mH2O", BIT(HR_PRESSURE) | BIT(HR_LENGTH)},
    [HR_LENGTH] = {"a length", "150 mm", ", 15 cm or 6 in", BIT(HR_LENGTH)},
    [HR_AREA] = {"an area", "60 cm2", " or 6000 mm2", BIT(HR_AREA)},
    [HR_VOLUME] = {"a volume", "250 mL", " or 0.25 L", BIT(HR_VOLUME)},
    [HR_TEMPERATURE] = {"a temperature", "45 degC", " or 113 degF", BIT(HR_TEMPERATURE)},
    [HR_LIMIT_TEMPERATURE] = {"a temperature", "45 degC", ", 113 degF or 15 K over ambient",
                              BIT(HR_TEMPERATURE)},
    [HR_TEMPERATURE_DIFFERENCE] = {"a temperature difference", "5 K", "", BIT(HR_TEMPERATURE_DIFFERENCE)},
    [HR_POWER] = {"a power", "320 W", " or 0.32 kW", BIT(HR_POWER)},
    [HR_CONDUCTANCE] = {"a thermal conductance", "20 W/K", "", BIT(HR_CONDUCTANCE)},
    [HR_RESISTANCE] = {"a thermal resistance", "0.08 K/W", "", BIT(HR_RESISTANCE)},
    [HR_SOUND_LEVEL] = {"a sound level", "38 dBA", "", BIT(HR_SOUND_LEVEL)},
    [HR_TIME] = {"a time", "90 s", ", 1.5 min or 0.5 h", BIT(HR_TIME)},
    [HR_MASS] = {"a mass", "0.4 kg", " or 400 g", BIT(HR_MASS)},
    [HR_SHARE] = {"a share", "20 %", "", BIT(HR_SHARE)},
    [HR_ANGLE] = {"an angle", "90 deg", "", BIT(HR_ANGLE)},
    [HR_DENSITY] = {"a density", "998 kg/m3", "", BIT(HR_DENSITY)},
    [HR_VISCOSITY] = {"a dynamic viscosity", "1 mPa s", " or 0.001 Pa s", BIT(HR_VISCOSITY)},
    [HR_KINEMATIC_VISCOSITY] = {"a kinematic viscosity", "1 mm2/s", ", 1 cSt or 1e-6 m2/s",
                                BIT(HR_KINEMATIC_VISCOSITY)},
    [HR_HEAT_CAPACITY] = {"a heat capacity", "4180 J/kgK", " or 4.18 kJ/kgK", BIT(HR_HEAT_CAPACITY)},
    [HR_CONDUCTIVITY] = {"a thermal conductivity", "0.6 W/mK", "", BIT(HR_CONDUCTIVITY)},
    [HR_FLOW_COEFFICIENT] = {"a flow coefficient", "1.0 Kv", " or 1.2 Cv", BIT(HR_FLOW_COEFFICIENT)},
};

/* What is written elsewhere for units of ours, and would be guessed wrong by the number of edits alone. */
static const struct {
    const char *written;
    const char *meant;
} mistakes[] = {
    {"L/m", "L/min"},   {"l/m", "L/min"}, {"lpm", "L/min"}, {"LPM", "L/min"}, {"C", "degC"},
    {"F", "degF"},      {"degK", "K"},    {"C/W", "K/W"},   {"°C/W", "K/W"},  {"degC/W", "K/W"},
    {"gal/min", "gpm"}, {"mWC", "mH2O"},  {"percent", "%"}, {"cP", "mPa s"},  {"mPas", "mPa s"},
    {"Pas", "Pa s"},    {"dB", "dBA"},    {"sec", "s"},     {"hours", "h"},
};

const struct hr_unit_row *hr_unit_row(const char *spelling)
{
    for (size_t i = 0; i < HR_ARRAY_LEN(units); i++) {
        if (strcmp(units[i].spelling, spelling) == 0) {
            return &units[i];
        }
    }
    return NULL;
}

const struct hr_quantity_row *hr_quantity_row(enum hr_quantity quantity)
{
    return &quantities[quantity];
}

bool hr_quantity_takes(enum hr_quantity quantity, enum hr_quantity other)
{
    return (quantities[quantity].takes & BIT(other)) != 0;
}

const char *hr_quantity_name(enum hr_quantity quantity)
{
    return quantities[quantity].name;
}

bool hr_unit_find(const char *unit, enum hr_quantity quantity, double *factor, double *offset)
{
    const struct hr_unit_row *row = hr_unit_row(unit);
    if (row == NULL || !hr_quantity_takes(quantity, row->of)) {
        return false;
    }
    *factor = row->multiply / row->divide;
    *offset = row->offset;
    return true;
}

/* tolower depends on the locale; units have Latin letters only. */
static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool same_but_for_case(const char *a, const char *b)
{
    while (*a != '\0' && lower(*a) == lower(*b)) {
        a++;
        b++;
    }
    return lower(*a) == lower(*b);
}

const char *hr_unit_meant(const char *unit, enum hr_quantity quantity)
{
    const char *names[HR_ARRAY_LEN(units)];
    size_t count = 0;
    for (size_t i = 0; i < HR_ARRAY_LEN(mistakes); i++) {
        if (strcmp(mistakes[i].written, unit) == 0 &&
            hr_quantity_takes(quantity, hr_unit_row(mistakes[i].meant)->of)) {
            return mistakes[i].meant;
        }
    }
    for (size_t i = 0; i < HR_ARRAY_LEN(units); i++) {
        if (units[i].shown && hr_quantity_takes(quantity, units[i].of)) {
            if (same_but_for_case(unit, units[i].spelling)) {
                return units[i].spelling;
            }
            names[count++] = units[i].spelling;
        }
    }
    /* One edit turns any single letter into any other: no guess. */
    return strlen(unit) < 2 ? NULL : hr_nearest(unit, names, count);
}
