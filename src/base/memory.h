/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One owner for many small pieces: an arena is released as a whole. */
#ifndef HR_BASE_MEMORY_H
#define HR_BASE_MEMORY_H

#include "base/report.h"

#include <stddef.h>

#define HR_ARRAY_LEN(array) (sizeof(array) / sizeof((array)[0]))

struct hr_chunk;

/* Zero-initialise, or use hr_arena_init; release with hr_arena_clear. */
struct hr_arena {
    struct hr_chunk *chunk; /* newest first */
    size_t used;            /* bytes taken of the newest */
};

void hr_arena_init(struct hr_arena *arena);
void hr_arena_clear(struct hr_arena *arena);

/* Room for `count` zeroed objects of `size` bytes, aligned for any type; NULL when memory is out or the
 * product overflows. count 0 gives a valid pointer. */
void *hr_arena_alloc(struct hr_arena *arena, size_t count, size_t size);

/* A copy of the first `length` bytes of `text`, ended by NUL; NULL when memory is out. */
char *hr_arena_copy(struct hr_arena *arena, const char *text, size_t length);

/* A formatted text; NULL when memory is out. */
char *hr_arena_format(struct hr_arena *arena, const char *format, ...) HR_PRINTF(2, 3);

/* Grows a heap array so that it holds at least `count` + 1 objects of `size` bytes: doubles. Returns the
 * array, perhaps moved, or NULL when memory is out (the old one is then still valid). `room` is in objects.
 */
void *hr_grow(void *array, size_t count, size_t *room, size_t size);

/* calloc with `count` 0 allowed (a valid pointer); NULL when memory is out. */
void *hr_alloc(size_t count, size_t size);

#endif
