/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "show/table.h"

#include "base/memory.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

size_t hr_text_width(const char *text)
{
    size_t width = 0;
    for (; *text != '\0'; text++) {
        width +=
            ((unsigned char)*text & 0xC0U) != 0x80U; /* bytes that continue a code point take no column */
    }
    return width;
}

/* Cuts a text that vsnprintf had to shorten at a whole code point and marks the cut. */
static void fill(char cell[HR_CELL], const char *format, va_list arguments)
{
    static const char cut[] = "…";
    const int length = vsnprintf(cell, HR_CELL, format, arguments);
    if (length < HR_CELL) {
        return;
    }
    size_t end = HR_CELL - sizeof cut;
    while (end > 0 && ((unsigned char)cell[end] & 0xC0U) == 0x80U) {
        end--;
    }
    memcpy(cell + end, cut, sizeof cut);
}

void hr_table_column(struct hr_table *table, enum hr_align align, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    if (table->columns < HR_TABLE_COLUMNS) {
        fill(table->head[table->columns], format, arguments);
        table->align[table->columns++] = align;
    }
    va_end(arguments);
}

void hr_table_cell(struct hr_table *table, const char *format, ...)
{
    char(*larger)[HR_CELL] = hr_grow(table->cell, table->cells, &table->room, sizeof *table->cell);
    if (larger == NULL) {
        table->failed = true;
        return;
    }
    table->cell = larger;
    va_list arguments;
    va_start(arguments, format);
    fill(table->cell[table->cells++], format, arguments);
    va_end(arguments);
}

void hr_format_number(char *target, size_t room, double value)
{
    const double size = fabs(value);
    int decimals = 0;
    if (size > 0.0 && size < 100.0) {
        decimals = 2 - (int)floor(log10(size) + 1e-12);
        decimals = decimals > 4 ? 4 : decimals;
    }
    if (isnan(value)) {
        target[0] = '\0';
    } else if (isinf(value)) {
        (void)snprintf(target, room, "∞");
    } else if (size > 0.0 && (size < 1e-4 || size >= 1e6)) {
        (void)snprintf(target, room, "%.2e", value);
    } else {
        const double step = size >= 1000.0 ? pow(10.0, floor(log10(size)) - 2.0) : 0.0;
        (void)snprintf(target, room, "%.*f", decimals, step > 0.0 ? step * round(value / step) : value);
    }
}

void hr_table_number(struct hr_table *table, double value)
{
    char text[HR_CELL];
    hr_format_number(text, sizeof text, value);
    hr_table_cell(table, "%s", text);
}

static void write_cell(const struct hr_table *table, size_t column, const char *cell, size_t width,
                       struct hr_text *text)
{
    const int pad = (int)(width - hr_text_width(cell));
    hr_text_add(text, "  ");
    if (table->align[column] == HR_RIGHT) {
        hr_text_add(text, "%*s%s", pad, "", cell);
    } else {
        hr_text_add(text, "%s%*s", cell, pad, "");
    }
}

static void end_line(struct hr_text *text)
{
    while (text->length > 0 && text->bytes[text->length - 1] == ' ') {
        text->length--;
    }
    hr_text_add(text, "\n");
}

void hr_table_write(const struct hr_table *table, struct hr_text *text)
{
    size_t width[HR_TABLE_COLUMNS] = {0};
    text->failed = text->failed || table->failed;
    for (size_t c = 0; c < table->columns; c++) {
        width[c] = hr_text_width(table->head[c]);
    }
    for (size_t i = 0; i < table->cells; i++) {
        const size_t w = hr_text_width(table->cell[i]);
        if (w > width[i % table->columns]) {
            width[i % table->columns] = w;
        }
    }
    for (size_t c = 0; c < table->columns; c++) {
        write_cell(table, c, table->head[c], width[c], text);
    }
    end_line(text);
    for (size_t i = 0; i < table->cells; i++) {
        const size_t c = i % table->columns;
        write_cell(table, c, table->cell[i], width[c], text);
        if (c + 1 == table->columns) {
            end_line(text);
        }
    }
}

void hr_table_clear(struct hr_table *table)
{
    free(table->cell);
    memset(table, 0, sizeof *table);
}
