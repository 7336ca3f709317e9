/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables behind base/units.h, shared by units.c, which holds them, and quantity.c, which reads by them.
 */
#ifndef HR_BASE_UNITS_TABLE_H
#define HR_BASE_UNITS_TABLE_H

#include "base/units.h"

/* One spelling of a unit: SI = value * multiply / divide + offset. Two factors, so that 7 mm is the double
 * nearest to 0.007 and not 7 * 0.001, which is another. `of` is the quantity the unit measures in its plain
 * sense. */
struct hr_unit_row {
    const char *spelling;
    enum hr_quantity of;
    bool shown; /* the usual spelling, offered in messages; the others are only read */
    double multiply;
    double divide;
    double offset;
};

/* What a quantity is called, how it may be written, and which units' quantities it takes (bits, 1 <<
 * hr_quantity). */
struct hr_quantity_row {
    const char *name;
    const char *example; /* one */
    const char *more;    /* what follows it where several are shown; may be "" */
    unsigned takes;
};

/* The row of a spelling, or NULL. */
const struct hr_unit_row *hr_unit_row(const char *spelling);

const struct hr_quantity_row *hr_quantity_row(enum hr_quantity quantity);

bool hr_quantity_takes(enum hr_quantity quantity, enum hr_quantity other);

/* The spelling probably meant by an unknown unit where `quantity` is needed, or NULL. */
const char *hr_unit_meant(const char *unit, enum hr_quantity quantity);

#endif
