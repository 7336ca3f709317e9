/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arena of chunks that double in size, and the two heap helpers. */
#include "base/memory.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_CHUNK = 4096, LARGEST_STEP = 1 << 20, ALIGNMENT = 16 };

struct hr_chunk {
    struct hr_chunk *older;
    size_t size; /* bytes after the header */
    _Alignas(ALIGNMENT) unsigned char bytes[];
};

void hr_arena_init(struct hr_arena *arena)
{
    memset(arena, 0, sizeof *arena);
}

void hr_arena_clear(struct hr_arena *arena)
{
    struct hr_chunk *chunk = arena->chunk;
    while (chunk != NULL) {
        struct hr_chunk *older = chunk->older;
        free(chunk);
        chunk = older;
    }
    hr_arena_init(arena);
}

static struct hr_chunk *chunk_new(struct hr_chunk *older, size_t least)
{
    size_t size = older == NULL ? FIRST_CHUNK : 2 * older->size;
    if (size > LARGEST_STEP) {
        size = LARGEST_STEP;
    }
    if (size < least) {
        size = least;
    }
    if (size > SIZE_MAX - sizeof(struct hr_chunk)) {
        return NULL;
    }
    struct hr_chunk *chunk = calloc(1, sizeof *chunk + size);
    if (chunk != NULL) {
        chunk->older = older;
        chunk->size = size;
    }
    return chunk;
}

void *hr_arena_alloc(struct hr_arena *arena, size_t count, size_t size)
{
    if (size != 0 && count > (SIZE_MAX - ALIGNMENT) / size) {
        return NULL;
    }
    const size_t bytes = (count * size + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
    if (arena->chunk == NULL || arena->chunk->size - arena->used < bytes) {
        struct hr_chunk *chunk = chunk_new(arena->chunk, bytes);
        if (chunk == NULL) {
            return NULL;
        }
        arena->chunk = chunk;
        arena->used = 0;
    }
    void *start = arena->chunk->bytes + arena->used;
    arena->used += bytes;
    return start;
}

char *hr_arena_copy(struct hr_arena *arena, const char *text, size_t length)
{
    char *copy = length == SIZE_MAX ? NULL : hr_arena_alloc(arena, length + 1, 1);
    if (copy != NULL) {
        memcpy(copy, text, length);
    }
    return copy;
}

char *hr_arena_format(struct hr_arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    va_list again;
    va_copy(again, arguments);
    const int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *text = length < 0 ? NULL : hr_arena_alloc(arena, (size_t)length + 1, 1);
    if (text != NULL && vsnprintf(text, (size_t)length + 1, format, again) != length) {
        text = NULL;
    }
    va_end(again);
    return text;
}

void *hr_grow(void *array, size_t count, size_t *room, size_t size)
{
    if (count < *room) {
        return array;
    }
    const size_t larger = *room == 0 ? 8 : 2 * *room;
    if (larger <= count || larger > SIZE_MAX / size) {
        return NULL;
    }
    void *moved = realloc(array, larger * size);
    if (moved != NULL) {
        *room = larger;
    }
    return moved;
}

void *hr_alloc(size_t count, size_t size)
{
    return calloc(count == 0 ? 1 : count, size == 0 ? 1 : size);
}
