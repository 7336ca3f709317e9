/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table from texts to numbers, for names of which there may be many thousands. */
#ifndef HR_READ_NAMES_H
#define HR_READ_NAMES_H

#include "base/memory.h"

#include <stdbool.h>
#include <stddef.h>

struct hr_name {
    const char *text; /* borrowed */
    size_t value;
};

/* Zero-initialise; the entries stay in the order in which they came. Memory is the arena's. */
struct hr_names {
    struct hr_name *entry;
    size_t count, room;
    size_t *slot; /* open addressing: index + 1 of an entry; a power of two of them */
    size_t slots;
};

/* The entry of a text, or NULL; valid until the next addition. */
struct hr_name *hr_names_find(const struct hr_names *names, const char *text);

/* Adds a text that is not in the table yet; false when memory is out. */
bool hr_names_add(struct hr_names *names, struct hr_arena *arena, const char *text, size_t value);

/* The nearest text as in hr_nearest, or NULL. Tables of more than some thousand entries are not searched. */
const char *hr_names_nearest(const struct hr_names *names, const char *word);

/* Grows an array in an arena so that it holds at least `count` + 1 objects of `size` bytes; NULL when memory
 * is out. */
void *hr_arena_grow(struct hr_arena *arena, void *array, size_t count, size_t *room, size_t size);

#endif
