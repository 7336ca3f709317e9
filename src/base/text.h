/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text that grows, and the nearest of several names. */
#ifndef HR_BASE_TEXT_H
#define HR_BASE_TEXT_H

#include "base/report.h"

#include <stdbool.h>
#include <stddef.h>

/* A growing text, always ended by NUL once anything was added. Zero-initialise; release with hr_text_clear.
 * After memory has run out `failed` stays set and further additions do nothing, so that the writer asks once,
 * at the end. */
struct hr_text {
    char *bytes;
    size_t length;
    size_t room;
    bool failed;
};

void hr_text_clear(struct hr_text *text);
void hr_text_add(struct hr_text *text, const char *format, ...) HR_PRINTF(2, 3);
void hr_text_append(struct hr_text *text, const char *bytes, size_t length);

/* The name nearest to `word` in the number of edits (insertion, deletion, exchange of one character, swap of
 * two neighbours), or NULL when none is near enough to be meant: at most one edit for each three characters,
 * at least one. */
const char *hr_nearest(const char *word, const char *const names[], size_t count);

/* The number of such edits between two words (Damerau 1964, restricted form). Words longer than 63 bytes
 * count as infinitely far (SIZE_MAX). */
size_t hr_edit_distance(const char *a, const char *b);

#endif
