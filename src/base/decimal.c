/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decimal numbers whatever the locale.
 *
 * strtod obeys the locale only in the point: a number brought to digits and a power of ten has none, and
 * strtod then reads it alike everywhere, correctly rounded. */
#include "base/units.h"

#include <stdio.h>
#include <stdlib.h>

enum {
    DIGITS_KEPT = 40, /* further ones change no double, but for exact halves */
    EXPONENT_MAX = 100000
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* The digits of a number without its point, and the power of ten that belongs to them. */
struct decimal {
    char digits[DIGITS_KEPT + 1];
    size_t count;
    long exponent;
    bool any; /* at least one digit was there, be it a leading zero */
};

static const char *scan_digits(const char *text, struct decimal *decimal, bool after_point)
{
    for (; is_digit(*text); text++) {
        decimal->any = true;
        const bool leading_zero = decimal->count == 0 && *text == '0';
        const bool kept = !leading_zero && decimal->count < DIGITS_KEPT;
        if (kept) {
            decimal->digits[decimal->count++] = *text;
        }
        if (after_point && (kept || leading_zero)) {
            decimal->exponent--;
        } else if (!after_point && !kept && !leading_zero) {
            decimal->exponent++;
        }
    }
    return text;
}

/* An 'e' without digits behind it belongs to what follows the number. */
static const char *scan_exponent(const char *text, long *exponent)
{
    if (*text != 'e' && *text != 'E') {
        return text;
    }
    const char *digit = text + 1;
    const bool negative = *digit == '-';
    if (negative || *digit == '+') {
        digit++;
    }
    if (!is_digit(*digit)) {
        return text;
    }
    long value = 0;
    for (; is_digit(*digit); digit++) {
        value = value < EXPONENT_MAX ? 10 * value + (*digit - '0') : value;
    }
    *exponent += negative ? -value : value;
    return digit;
}

const char *hr_decimal_parse(const char *text, double *value)
{
    struct decimal decimal = {.count = 0};
    const bool negative = *text == '-';
    if (negative || *text == '+') {
        text++;
    }
    text = scan_digits(text, &decimal, false);
    if (*text == '.') {
        text = scan_digits(text + 1, &decimal, true);
    }
    if (!decimal.any) {
        return NULL;
    }
    text = scan_exponent(text, &decimal.exponent);
    char plain[DIGITS_KEPT + 32];
    (void)snprintf(plain, sizeof plain, "%s%se%ld", negative ? "-" : "",
                   decimal.count > 0 ? decimal.digits : "0", decimal.exponent);
    *value = strtod(plain, NULL);
    return text;
}
