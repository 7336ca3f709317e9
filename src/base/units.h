/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities with units: what the user writes becomes SI (temperatures: degC, speeds: rpm). */
#ifndef HR_BASE_UNITS_H
#define HR_BASE_UNITS_H

#include <stdbool.h>
#include <stddef.h>

/* What a number means. HEAD takes a pressure or metres of the fluid at hand; SPEED takes rpm or a percentage
 * of the highest speed; SPEED_OR_FLOW takes either; LIMIT_TEMPERATURE takes degC, degF or "15 K over
 * ambient". */
enum hr_quantity {
    HR_NUMBER, /* bare, no unit */
    HR_SPEED,
    HR_FLOW,
    HR_AIR_FLOW, /* as HR_FLOW, with CFM */
    HR_SPEED_OR_FLOW,
    HR_PRESSURE,
    HR_HEAD,
    HR_LENGTH,
    HR_AREA,
    HR_VOLUME,
    HR_TEMPERATURE,
    HR_LIMIT_TEMPERATURE,
    HR_TEMPERATURE_DIFFERENCE,
    HR_POWER,
    HR_CONDUCTANCE, /* W/K */
    HR_RESISTANCE,  /* K/W */
    HR_SOUND_LEVEL, /* dBA */
    HR_TIME,
    HR_MASS,
    HR_SHARE,               /* % becomes 0..1 */
    HR_ANGLE,               /* deg, kept in degrees */
    HR_DENSITY,             /* kg/m3 */
    HR_VISCOSITY,           /* dynamic, Pa s, mPa s */
    HR_KINEMATIC_VISCOSITY, /* m2/s, mm2/s, cSt */
    HR_HEAT_CAPACITY,       /* J/kgK, kJ/kgK */
    HR_CONDUCTIVITY,        /* W/mK */
    HR_FLOW_COEFFICIENT,    /* Kv in m3/h at 1 bar, or Cv in gpm at 1 psi: kept as Kv in m3/s per sqrt(Pa) of
                               water */
    HR_QUANTITIES
};

/* Which of a quantity's alternative meanings a number has. */
enum hr_meaning {
    HR_PLAIN,        /* the quantity itself, in SI */
    HR_PERCENT,      /* of the highest speed: 0..1 */
    HR_METRES,       /* metres of the fluid at hand, of an HR_HEAD */
    HR_OVER_AMBIENT, /* kelvin over ambient, of an HR_LIMIT_TEMPERATURE */
    HR_AS_FLOW       /* m3/s, of an HR_SPEED_OR_FLOW */
};

struct hr_number {
    double value;
    double sd; /* one standard deviation, same unit; 0 where none was written */
    enum hr_meaning meaning;
};

/* Reads "2400 rpm", "1.2 L/min", "60 %", "24 degC", "320 W +- 3 %", "15 K over ambient" and the like. `text`
 * ends by NUL. A deviation in % is of the value, except that one of a value itself in % is in percentage
 * points; that of a temperature is in K. Returns true, or false with one phrase in `why` (room bytes) that
 * says what was found and what would be right, such as "'1.2' has no unit; write for instance 1.2 L/min, 72
 * L/h or 0.3 gpm"; `number` is then left as it was. Whether a value is sensible for its key (sign, range) is
 * not asked here. */
bool hr_quantity_parse(const char *text, enum hr_quantity quantity, struct hr_number *number, char *why,
                       size_t room);

/* The quantity's name in messages, such as "a flow"; static storage. */
const char *hr_quantity_name(enum hr_quantity quantity);

/* Looks a unit up by its spelling (as in files and in --units) among those of a quantity: SI = value * factor
 * + offset. Returns false where the quantity has no such unit. A quantity of two meanings takes the units of
 * both (metres of an HR_HEAD are then in m). */
bool hr_unit_find(const char *unit, enum hr_quantity quantity, double *factor, double *offset);

/* Reads the decimal number at the start of `text` (sign, digits with at most one point, exponent; no
 * hexadecimal, no infinity, no leading space) whatever the locale, correctly rounded from 40 digits. Returns
 * the place after it, or NULL where no number starts; a number too large for a double gives an infinite
 * value. */
const char *hr_decimal_parse(const char *text, double *value);

#endif
