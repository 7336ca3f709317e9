/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a number with its unit, and says in one phrase what is wrong with it.
 *
 *     quantity  = number [unit ["over ambient"]] [deviation]
 *     deviation = ("±" | "+-" | "+/-") number [unit | "%"]
 *
 * The tables of units.c say which units a quantity takes. */
#include "base/units.h"

#include "base/report.h"
#include "base/text.h"
#include "base/units_table.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { UNIT_MAX = 63, QUOTE_MAX = 60 };

static const double ABSOLUTE_ZERO_C = -273.15;

/* One text on its way to a number. */
struct reading {
    enum hr_quantity quantity;
    const struct hr_quantity_row *row;
    const char
        *number; /* the number as written, for suggestions: no printing of ours, which obeys the locale */
    int number_length;
    char quoted[QUOTE_MAX + 4]; /* the text as messages show it */
    char *why;
    size_t room;
};

static bool refuse(const struct reading *r, const char *format, ...) HR_PRINTF(2, 3);

static bool refuse(const struct reading *r, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(r->why, r->room, format, arguments);
    va_end(arguments);
    return false;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool starts_with(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0;
}

/* Bytes of the white space at the start of `text`; pages and word processors put no-break spaces before
 * units. */
static size_t space_length(const char *text)
{
    static const char *const spaces[] = {" ", "\t", "\n", "\r", "\u00a0", "\u202f", "\u2009"};
    for (size_t i = 0; i < sizeof spaces / sizeof spaces[0]; i++) {
        if (starts_with(text, spaces[i])) {
            return strlen(spaces[i]);
        }
    }
    return 0;
}

static const char *skip_space(const char *text)
{
    for (size_t step = space_length(text); step > 0; step = space_length(text)) {
        text += step;
    }
    return text;
}

/* Copies `text` for a message: without control characters, and shortened between two characters. */
static void quote(char quoted[QUOTE_MAX + 4], const char *text)
{
    size_t length = strlen(text);
    const bool cut = length > QUOTE_MAX;
    if (cut) {
        length = QUOTE_MAX;
        while (length > 0 && ((unsigned char)text[length] & 0xC0U) == 0x80U) {
            length--;
        }
    }
    for (size_t i = 0; i < length; i++) {
        const unsigned char c = (unsigned char)text[i];
        quoted[i] = text[i];
        if (c < 0x20 || c == 0x7F) {
            quoted[i] = '?';
        }
    }
    memcpy(quoted + length, cut ? "..." : "", cut ? 4 : 1);
}

/* "1,2 L/min", "1,200 rpm", "1.234,5 Pa": `start` is the number, `comma` its first comma. */
static bool refuse_comma(const struct reading *r, const char *start, const char *comma)
{
    const char *end = comma + 1;
    while (is_digit(*end)) {
        end++;
    }
    const int before = (int)(comma - start < QUOTE_MAX ? comma - start : QUOTE_MAX);
    if (before == QUOTE_MAX || *end == ',' || *end == '.' || memchr(start, '.', (size_t)before) != NULL) {
        return refuse(
            r,
            "'%s' has a comma in its number; write the digits with one decimal point and no comma, such as "
            "1200.5",
            r->quoted);
    }
    char after[QUOTE_MAX + 4];
    quote(after, comma + 1);
    if (end - comma == 4) {
        return refuse(r, "'%s' has a comma in its number; write %.*s.%s, or %.*s%s where thousands are meant",
                      r->quoted, before, start, after, before, start, after);
    }
    return refuse(r, "'%s' has a decimal comma; write %.*s.%s", r->quoted, before, start, after);
}

static bool refuse_word(const struct reading *r)
{
    if (r->quantity == HR_NUMBER) {
        return refuse(r, "'%s' is not a number; this takes a bare number, without unit, such as 1.5",
                      r->quoted);
    }
    return refuse(r, "'%s' is not a quantity; write a number with a unit, for instance %s%s", r->quoted,
                  r->row->example, r->row->more);
}

/* Reads the number at *text and moves behind it, and behind the space that follows. */
static bool read_number(struct reading *r, const char **text, double *value)
{
    const char *start = *text;
    const char *end = hr_decimal_parse(start, value);
    if (end == NULL) {
        return refuse_word(r);
    }
    if (*end == ',' && is_digit(end[1])) {
        return refuse_comma(r, start, end);
    }
    if ((*end == 'x' || *end == 'X') && end[-1] == '0' && *value == 0) {
        return refuse(r, "'%s' looks hexadecimal; write the number in decimal notation", r->quoted);
    }
    if (!isfinite(*value)) {
        return refuse(r, "'%s' is too large a number; check its exponent", r->quoted);
    }
    const char *next = skip_space(end);
    if (is_digit(*next) || *next == '.') {
        return refuse(r,
                      "'%s' has more than one number in it; write one number, without spaces or marks "
                      "between its digits",
                      r->quoted);
    }
    r->number = start;
    r->number_length = (int)(end - start < QUOTE_MAX ? end - start : QUOTE_MAX);
    *text = next;
    return true;
}

/* Copies the unit in [text, end) with its inner spaces made single; an overlong one is cut, and so unknown.
 */
static void copy_unit(char unit[UNIT_MAX + 1], const char *text, const char *end)
{
    size_t length = 0;
    text = skip_space(text);
    while (text < end && length < UNIT_MAX) {
        if (space_length(text) == 0) {
            unit[length++] = *text++;
            continue;
        }
        text = skip_space(text);
        if (text < end) {
            unit[length++] = ' ';
        }
    }
    unit[length] = '\0';
}

static bool refuse_missing(const struct reading *r)
{
    return refuse(r, "'%s' has no unit; write for instance %s%s", r->quoted, r->row->example, r->row->more);
}

static bool refuse_unknown(const struct reading *r, const char *unit)
{
    const char *meant = hr_unit_meant(unit, r->quantity);
    char shown[QUOTE_MAX + 4];
    quote(shown, unit);
    if (meant != NULL) {
        return refuse(r, "'%s' has the unknown unit '%s'; did you mean %.*s %s?", r->quoted, shown,
                      r->number_length, r->number, meant);
    }
    return refuse(r, "'%s' has the unknown unit '%s'; %s is needed, for instance %s%s", r->quoted, shown,
                  r->row->name, r->row->example, r->row->more);
}

static bool is_temperature(enum hr_quantity quantity)
{
    return quantity == HR_TEMPERATURE || quantity == HR_LIMIT_TEMPERATURE;
}

/* A known unit, but of a quantity that is not asked for. */
static bool refuse_other(const struct reading *r, const struct hr_unit_row *unit)
{
    if (is_temperature(r->quantity) && unit->of == HR_TEMPERATURE_DIFFERENCE) {
        return refuse(r, "'%s' is a temperature difference; write 45 degC%s", r->quoted,
                      r->quantity == HR_LIMIT_TEMPERATURE ? " or 15 K over ambient" : "");
    }
    if (r->quantity == HR_TEMPERATURE_DIFFERENCE && unit->of == HR_TEMPERATURE) {
        const bool same_step = unit->multiply == unit->divide; /* degC: the number stays */
        return refuse(r, "'%s' is a temperature; a temperature difference takes K only, write %.*s K",
                      r->quoted, same_step ? r->number_length : 1, same_step ? r->number : "5");
    }
    if (r->quantity == HR_PRESSURE && unit->of == HR_LENGTH) {
        return refuse(
            r, "'%s' is a length; a pressure is needed, for instance 20 kPa, or 2 mH2O for metres of water",
            r->quoted);
    }
    return refuse(r, "'%s' is %s; %s is needed, for instance %s", r->quoted, hr_quantity_name(unit->of),
                  r->row->name, r->row->example);
}

/* "15 K over ambient": `unit` is what stands before " over ambient". */
static bool read_over_ambient(const struct reading *r, const char *unit, double value,
                              struct hr_number *number)
{
    if (r->quantity != HR_LIMIT_TEMPERATURE) {
        return refuse(r, "'%s' is a temperature over ambient; %s is needed, for instance %s", r->quoted,
                      r->row->name, r->row->example);
    }
    if (strcmp(unit, "K") != 0) {
        return refuse(r, "'%s' is not in K; a temperature over ambient is written 15 K over ambient",
                      r->quoted);
    }
    number->value = value;
    number->meaning = HR_OVER_AMBIENT;
    return true;
}

static enum hr_meaning meaning_of(enum hr_quantity quantity, enum hr_quantity of)
{
    if ((quantity == HR_SPEED || quantity == HR_SPEED_OR_FLOW) && of == HR_SHARE) {
        return HR_PERCENT;
    }
    if (quantity == HR_HEAD && of == HR_LENGTH) {
        return HR_METRES;
    }
    if (quantity == HR_SPEED_OR_FLOW && (of == HR_FLOW || of == HR_AIR_FLOW)) {
        return HR_AS_FLOW;
    }
    return HR_PLAIN;
}

/* Takes " over ambient" off the unit, so that what remains is the unit of a deviation too. */
static bool read_unit(const struct reading *r, char *unit, double value, struct hr_number *number)
{
    static const char over[] = " over ambient";
    const size_t length = strlen(unit);
    if (length >= sizeof over - 1 && strcmp(unit + length - (sizeof over - 1), over) == 0) {
        unit[length - (sizeof over - 1)] = '\0';
        return read_over_ambient(r, unit, value, number);
    }
    if (unit[0] == '\0') {
        return refuse_missing(r);
    }
    const struct hr_unit_row *row = hr_unit_row(unit);
    if (row == NULL) {
        return refuse_unknown(r, unit);
    }
    if (!hr_quantity_takes(r->quantity, row->of)) {
        return refuse_other(r, row);
    }
    number->value = value * row->multiply / row->divide + row->offset;
    number->meaning = meaning_of(r->quantity, row->of);
    if (!isfinite(number->value)) {
        return refuse(r, "'%s' is too large a number; check its exponent", r->quoted);
    }
    if (row->of == HR_TEMPERATURE && number->value < ABSOLUTE_ZERO_C) {
        return refuse(r, "'%s' is below absolute zero; write a temperature above -273.15 degC", r->quoted);
    }
    return true;
}

/* Where the deviation starts, with the length of its sign; NULL where there is none. */
static const char *find_deviation(const char *text, size_t *sign_length)
{
    static const char *const signs[] = {"±", "+-", "+/-"};
    for (; *text != '\0'; text++) {
        for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
            if (starts_with(text, signs[i])) {
                *sign_length = strlen(signs[i]);
                return text;
            }
        }
    }
    return NULL;
}

/* The deviation in the unit of the number: a share of it (not of a level or a temperature, where a share
 * means nothing), or a quantity of its kind. `main` is the unit of the value, NULL for a bare number. */
static bool scale_deviation(const char *unit, double deviation, const struct hr_unit_row *main,
                            struct hr_number *number)
{
    if (main == NULL && unit[0] == '\0') {
        number->sd = deviation;
        return true;
    }
    const enum hr_quantity of = main == NULL ? HR_NUMBER : main->of;
    const struct hr_unit_row *row = hr_unit_row(unit);
    if (row == NULL) {
        return false;
    }
    if (of == HR_TEMPERATURE || of == HR_SOUND_LEVEL) {
        number->sd = deviation;
        return row->of == (of == HR_TEMPERATURE ? HR_TEMPERATURE_DIFFERENCE : HR_SOUND_LEVEL);
    }
    if (row->of == of) {
        number->sd = deviation * row->multiply / row->divide;
        return true;
    }
    number->sd = fabs(number->value) * (deviation / 100);
    return row->of == HR_SHARE;
}

static bool read_deviation(const struct reading *r, const char *text, const char *main_unit,
                           struct hr_number *number)
{
    double deviation = 0;
    text = skip_space(text);
    const char *next = hr_decimal_parse(text, &deviation);
    if (next != NULL && *next == ',' && is_digit(next[1])) {
        return refuse_comma(r, text, next);
    }
    char unit[UNIT_MAX + 1] = "";
    if (next != NULL) {
        copy_unit(unit, next, next + strlen(next));
    }
    const struct hr_unit_row *main = hr_unit_row(main_unit);
    if (next != NULL && deviation >= 0 && scale_deviation(unit, deviation, main, number) &&
        isfinite(number->sd)) {
        return true;
    }
    if (main != NULL && (main->of == HR_TEMPERATURE || main->of == HR_SOUND_LEVEL)) {
        return refuse(r, "'%s' has no readable deviation; write it like 24 %s", r->quoted,
                      main->of == HR_TEMPERATURE ? "degC +- 0.5 K" : "dBA +- 1 dBA");
    }
    return refuse(r, "'%s' has no readable deviation; write it like %s +- 3 %%", r->quoted, r->row->example);
}

bool hr_quantity_parse(const char *text, enum hr_quantity quantity, struct hr_number *number, char *why,
                       size_t room)
{
    struct reading r = {.quantity = quantity, .row = hr_quantity_row(quantity), .why = why, .room = room};
    quote(r.quoted, text);
    const char *next = skip_space(text);
    struct hr_number result = {.meaning = HR_PLAIN};
    double value = 0;
    if (!read_number(&r, &next, &value)) {
        return false;
    }
    size_t sign_length = 0;
    const char *sign = find_deviation(next, &sign_length);
    char unit[UNIT_MAX + 1];
    copy_unit(unit, next, sign != NULL ? sign : next + strlen(next));
    if (quantity == HR_NUMBER && unit[0] != '\0') {
        return refuse(&r, "'%s' has a unit; this takes a bare number, without unit, write %.*s", r.quoted,
                      r.number_length, r.number);
    }
    if (quantity == HR_NUMBER) {
        result.value = value;
    } else if (!read_unit(&r, unit, value, &result)) {
        return false;
    }
    if (sign != NULL && !read_deviation(&r, sign + sign_length, unit, &result)) {
        return false;
    }
    *number = result;
    return true;
}
