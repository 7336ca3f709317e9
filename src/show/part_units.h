/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values of parts with their units, for people and for programs. */
#ifndef HR_SHOW_PART_UNITS_H
#define HR_SHOW_PART_UNITS_H

#include "base/text.h"
#include "base/units.h"
#include "show/units.h"

/* The unit that a value in SI has; "" for none. */
const char *hr_si_unit(enum hr_quantity quantity, enum hr_meaning meaning);

/* Adds a number in builders' units, or in those that were chosen, with its unit. */
void hr_add_quantity(struct hr_text *text, double value, enum hr_quantity quantity, enum hr_meaning meaning,
                     const struct hr_shown_units *units);

#endif
