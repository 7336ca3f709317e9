/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The units of tables, and words that tables and programs share. */
#ifndef HR_SHOW_UNITS_H
#define HR_SHOW_UNITS_H

#include "headrace/show.h"

struct hr_shown_unit {
    char name[16];
    double factor, offset; /* SI = value * factor + offset */
};

struct hr_shown_units {
    struct hr_shown_unit flow, pressure, temperature;
};

/* The chosen units; HR_USAGE with a sentence about the first that is not known. */
enum hr_status hr_shown_units_choose(const char *units, struct hr_shown_units *chosen,
                                     struct hr_report *report);

/* "laminar", "transitional", "turbulent"; NULL where unknown. Static storage. */
const char *hr_regime_word(enum hr_regime regime);

/* A value in SI (temperatures: degC) in the chosen unit. */
double hr_in_unit(const struct hr_shown_unit *unit, double si);

#endif
