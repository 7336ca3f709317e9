/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "show/part_units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The unit in SI, and the one that builders use for parts of this size; both as the reader spells them. */
struct pair {
    const char *si, *builders;
};

static const struct pair pairs[HR_QUANTITIES] = {
    [HR_NUMBER] = {"", ""},
    [HR_SPEED] = {"rpm", "rpm"},
    [HR_FLOW] = {"m3/s", "L/min"},
    [HR_AIR_FLOW] = {"m3/s", "m3/h"},
    [HR_SPEED_OR_FLOW] = {"rpm", "rpm"},
    [HR_PRESSURE] = {"Pa", "kPa"},
    [HR_HEAD] = {"Pa", "kPa"},
    [HR_LENGTH] = {"m", "mm"},
    [HR_AREA] = {"m2", "cm2"},
    [HR_VOLUME] = {"m3", "mL"},
    [HR_TEMPERATURE] = {"degC", "degC"},
    [HR_LIMIT_TEMPERATURE] = {"degC", "degC"},
    [HR_TEMPERATURE_DIFFERENCE] = {"K", "K"},
    [HR_POWER] = {"W", "W"},
    [HR_CONDUCTANCE] = {"W/K", "W/K"},
    [HR_RESISTANCE] = {"K/W", "K/W"},
    [HR_SOUND_LEVEL] = {"dBA", "dBA"},
    [HR_TIME] = {"s", "s"},
    [HR_MASS] = {"kg", "kg"},
    [HR_SHARE] = {"", "%"},
    [HR_ANGLE] = {"deg", "deg"},
    [HR_DENSITY] = {"kg/m3", "kg/m3"},
    [HR_VISCOSITY] = {"Pa s", "mPa s"},
    [HR_KINEMATIC_VISCOSITY] = {"m2/s", "mm2/s"},
    [HR_HEAT_CAPACITY] = {"J/kgK", "J/kgK"},
    [HR_CONDUCTIVITY] = {"W/mK", "W/mK"},
    [HR_FLOW_COEFFICIENT] = {"m3/s/sqrt(Pa)", "Kv"},
};

const char *hr_si_unit(enum hr_quantity quantity, enum hr_meaning meaning)
{
    switch (meaning) {
    case HR_PLAIN:
        break;
    case HR_PERCENT:
        return "of the highest speed";
    case HR_METRES:
        return "m";
    case HR_OVER_AMBIENT:
        return "K over ambient";
    case HR_AS_FLOW:
        return "m3/s";
    }
    return pairs[quantity].si;
}

/* Five significant digits at most: what files say, without the noise of the conversion there and back. */
static void add_number(struct hr_text *text, double value, const char *unit)
{
    const bool large = fabs(value) >= 1e5 && fabs(value) < 1e9;
    hr_text_add(text, large ? "%.0f%s%s" : "%.5g%s%s", value, unit[0] != '\0' ? " " : "", unit);
}

/* The unit of a plain value: a chosen one, or the builders'. Small pressures, as of air, are in Pa. */
static struct hr_shown_unit plain_unit(double value, enum hr_quantity quantity,
                                       const struct hr_shown_units *units)
{
    if (quantity == HR_FLOW) {
        return units->flow;
    }
    if (quantity == HR_TEMPERATURE || quantity == HR_LIMIT_TEMPERATURE) {
        return units->temperature;
    }
    if (quantity == HR_PRESSURE || quantity == HR_HEAD) {
        if (strcmp(units->pressure.name, "kPa") != 0 || fabs(value) >= 1e3) {
            return units->pressure;
        }
        return (struct hr_shown_unit){.name = "Pa", .factor = 1.0};
    }
    struct hr_shown_unit unit = {.factor = 1.0};
    (void)snprintf(unit.name, sizeof unit.name, "%s", pairs[quantity].builders);
    (void)hr_unit_find(unit.name, quantity, &unit.factor,
                       &unit.offset); /* a bare number has none and stays */
    return unit;
}

void hr_add_quantity(struct hr_text *text, double value, enum hr_quantity quantity, enum hr_meaning meaning,
                     const struct hr_shown_units *units)
{
    if (meaning == HR_PERCENT) {
        add_number(text, 100.0 * value, "%");
    } else if (meaning == HR_METRES) {
        add_number(text, value, "m");
    } else if (meaning == HR_OVER_AMBIENT) {
        add_number(text, value, "K over ambient");
    } else {
        const enum hr_quantity plain = meaning == HR_AS_FLOW ? HR_AIR_FLOW : quantity;
        const struct hr_shown_unit unit = plain_unit(value, plain, units);
        add_number(text, hr_in_unit(&unit, value), unit.name);
    }
}
