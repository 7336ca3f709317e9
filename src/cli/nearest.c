/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The word that was probably meant. */
#include "cli.h"

#include <string.h>

enum { WORD_MAX = 31 };

static size_t smaller(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Edits between two words: insertion, deletion, exchange, swap of neighbours (Damerau 1964, restricted form).
 */
static size_t distance(const char *a, const char *b)
{
    size_t row[3][WORD_MAX + 1];
    const size_t n = strlen(a);
    const size_t m = strlen(b);
    if (n > WORD_MAX || m > WORD_MAX) {
        return SIZE_MAX;
    }
    for (size_t j = 0; j <= m; j++) {
        row[0][j] = j;
    }
    for (size_t i = 1; i <= n; i++) {
        size_t *now = row[i % 3];
        const size_t *above = row[(i + 2) % 3];
        const size_t *before = row[(i + 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= m; j++) {
            const size_t exchange = above[j - 1] + (a[i - 1] != b[j - 1]);
            now[j] = smaller(exchange, 1 + smaller(above[j], now[j - 1]));
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                now[j] = smaller(now[j], before[j - 2] + 1);
            }
        }
    }
    return row[n % 3][m];
}

const char *hr_cli_nearest(const char *word, const char *const names[], size_t count)
{
    const size_t length = strlen(word);
    size_t least = 1 + (length < 3 ? 1 : length / 3); /* one edit for three letters, at least one */
    const char *nearest = NULL;
    for (size_t i = 0; i < count; i++) {
        const size_t edits = distance(word, names[i]);
        if (edits < least && edits < strlen(names[i])) {
            least = edits;
            nearest = names[i];
        }
    }
    return nearest;
}
