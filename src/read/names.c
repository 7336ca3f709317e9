/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Open addressing with linear probing and the FNV-1a hash (Fowler, Noll and Vo 1991), at most half full. */
#include "read/names.h"

#include "base/text.h"

#include <stdint.h>
#include <string.h>

enum { FIRST_SLOTS = 64, NEAREST_MAX = 4096 };

static size_t hash(const char *text)
{
    uint64_t sum = 14695981039346656037U;
    for (; *text != '\0'; text++) {
        sum = (sum ^ (unsigned char)*text) * 1099511628211U;
    }
    return (size_t)(sum ^ (sum >> 32));
}

/* The slot where a text is or would be. */
static size_t *probe(const struct hr_names *names, const char *text)
{
    size_t i = hash(text) & (names->slots - 1);
    while (names->slot[i] != 0 && strcmp(names->entry[names->slot[i] - 1].text, text) != 0) {
        i = (i + 1) & (names->slots - 1);
    }
    return &names->slot[i];
}

struct hr_name *hr_names_find(const struct hr_names *names, const char *text)
{
    if (names->slots == 0) {
        return NULL;
    }
    const size_t *slot = probe(names, text);
    return *slot == 0 ? NULL : &names->entry[*slot - 1];
}

void *hr_arena_grow(struct hr_arena *arena, void *array, size_t count, size_t *room, size_t size)
{
    if (count < *room) {
        return array;
    }
    const size_t larger = *room == 0 ? 8 : 2 * *room;
    void *moved = hr_arena_alloc(arena, larger, size);
    if (moved == NULL) {
        return NULL;
    }
    if (count > 0) {
        memcpy(moved, array, count * size);
    }
    *room = larger;
    return moved;
}

static bool rehash(struct hr_names *names, struct hr_arena *arena)
{
    const size_t slots = names->slots == 0 ? FIRST_SLOTS : 2 * names->slots;
    size_t *slot = hr_arena_alloc(arena, slots, sizeof *slot);
    if (slot == NULL) {
        return false;
    }
    names->slot = slot;
    names->slots = slots;
    for (size_t i = 0; i < names->count; i++) {
        *probe(names, names->entry[i].text) = i + 1;
    }
    return true;
}

bool hr_names_add(struct hr_names *names, struct hr_arena *arena, const char *text, size_t value)
{
    if (2 * (names->count + 1) > names->slots && !rehash(names, arena)) {
        return false;
    }
    struct hr_name *entry = hr_arena_grow(arena, names->entry, names->count, &names->room, sizeof *entry);
    if (entry == NULL) {
        return false;
    }
    names->entry = entry;
    entry[names->count] = (struct hr_name){text, value};
    names->count++;
    *probe(names, text) = names->count;
    return true;
}

const char *hr_names_nearest(const struct hr_names *names, const char *word)
{
    const char *best = NULL;
    /* One edit turns any single letter into any other: no guess. */
    const size_t count = names->count < NEAREST_MAX && strlen(word) > 1 ? names->count : 0;
    for (size_t i = 0; i < count; i++) {
        const char *pair[2] = {best, names->entry[i].text};
        const char *const *from = best == NULL ? pair + 1 : pair;
        const char *nearest = hr_nearest(word, from, best == NULL ? 1 : 2);
        if (nearest != NULL) {
            best = nearest;
        }
    }
    return best;
}
