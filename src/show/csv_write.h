/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Comma-separated values: quoting after RFC 4180, section 2; lines end in a line feed alone, which every
 * reader takes. */
#ifndef HR_SHOW_CSV_WRITE_H
#define HR_SHOW_CSV_WRITE_H

#include "base/text.h"

/* Zero-initialise; the text is released or handed over by hr_csv_finish. */
struct hr_csv {
    struct hr_text text;
    bool begun; /* the row has a cell */
};

/* The next cell of the row. NULL gives an empty cell, as do NaN and infinity. */
void hr_csv_cell(struct hr_csv *csv, const char *value);
void hr_csv_number(struct hr_csv *csv, double value);
void hr_csv_flag(struct hr_csv *csv, bool value);

/* A cell of a header, made of up to three parts with `between` before the second and the third that are
 * there. */
void hr_csv_head(struct hr_csv *csv, const char *first, const char *second, const char *third, char between);

void hr_csv_end_row(struct hr_csv *csv);

/* Hands the text over, or reports that memory ran out. */
enum hr_status hr_csv_finish(struct hr_csv *csv, char **text, struct hr_report *report);

#endif
