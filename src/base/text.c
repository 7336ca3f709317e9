/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void hr_text_clear(struct hr_text *text)
{
    free(text->bytes);
    memset(text, 0, sizeof *text);
}

static bool reserve(struct hr_text *text, size_t more)
{
    if (text->failed || more > SIZE_MAX / 2 - text->length - 1) {
        text->failed = true;
        return false;
    }
    const size_t need = text->length + more + 1;
    if (need <= text->room) {
        return true;
    }
    const size_t room = need < 256 ? 256 : 2 * need;
    char *larger = realloc(text->bytes, room);
    if (larger == NULL) {
        text->failed = true;
        return false;
    }
    text->bytes = larger;
    text->room = room;
    return true;
}

void hr_text_append(struct hr_text *text, const char *bytes, size_t length)
{
    if (!reserve(text, length)) {
        return;
    }
    memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

void hr_text_add(struct hr_text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    va_list again;
    va_copy(again, arguments);
    const int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (length < 0) {
        text->failed = true;
    } else if (reserve(text, (size_t)length)) {
        (void)vsnprintf(text->bytes + text->length, (size_t)length + 1, format, again);
        text->length += (size_t)length;
    }
    va_end(again);
}

enum { WORD_MAX = 63 };

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

size_t hr_edit_distance(const char *a, const char *b)
{
    const size_t m = strlen(a);
    const size_t n = strlen(b);
    if (m > WORD_MAX || n > WORD_MAX) {
        return SIZE_MAX;
    }
    size_t row[3][WORD_MAX + 1]; /* the rows i - 2, i - 1 and i of the table, by i modulo 3 */
    for (size_t j = 0; j <= n; j++) {
        row[0][j] = j;
    }
    for (size_t i = 1; i <= m; i++) {
        size_t *now = row[i % 3];
        const size_t *last = row[(i + 2) % 3];
        const size_t *before = row[(i + 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= n; j++) {
            const size_t exchange = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            now[j] = least(exchange, least(last[j], now[j - 1]) + 1);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                now[j] = least(now[j], before[j - 2] + 1);
            }
        }
    }
    return row[m % 3][n];
}

const char *hr_nearest(const char *word, const char *const names[], size_t count)
{
    const size_t length = strlen(word);
    size_t limit = length / 3;
    if (limit == 0) {
        limit = 1;
    }
    const char *best = NULL;
    for (size_t i = 0; i < count; i++) {
        const size_t distance = hr_edit_distance(word, names[i]);
        if (distance <= limit) {
            best = names[i];
            limit = distance;
            if (distance == 0) {
                break;
            }
            limit--; /* a later one must be nearer */
        }
    }
    return best;
}
