/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables of text for a terminal: columns as wide as their widest cell, numbers to the right. */
#ifndef HR_SHOW_TABLE_H
#define HR_SHOW_TABLE_H

#include "base/text.h"

enum { HR_TABLE_COLUMNS = 32, HR_CELL = 64 };

enum hr_align { HR_LEFT, HR_RIGHT };

/* Zero-initialise; release with hr_table_clear. */
struct hr_table {
    size_t columns;
    char head[HR_TABLE_COLUMNS][HR_CELL];
    enum hr_align align[HR_TABLE_COLUMNS];
    char (*cell)[HR_CELL]; /* row by row */
    size_t cells, room;
    bool failed; /* memory ran out */
};

/* Adds a column. */
void hr_table_column(struct hr_table *table, enum hr_align align, const char *format, ...) HR_PRINTF(3, 4);

/* Adds the next cell; rows fill from the left. A text that is too long ends in "…". */
void hr_table_cell(struct hr_table *table, const char *format, ...) HR_PRINTF(2, 3);

/* A number with three significant digits; NaN gives an empty cell. */
void hr_table_number(struct hr_table *table, double value);

/* Writes head and rows, indented by two spaces. */
void hr_table_write(const struct hr_table *table, struct hr_text *text);
void hr_table_clear(struct hr_table *table);

/* Three significant digits without an exponent where that is readable: "0.0123", "12.3", "1230". */
void hr_format_number(char *target, size_t room, double value);

/* Columns that a UTF-8 text takes on a terminal, counting each code point as one. */
size_t hr_text_width(const char *text);

#endif
