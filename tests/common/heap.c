/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "heap.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);
void __libc_free(void *block);

static bool watching;
static size_t asked, failing_at;
static long live;

void heap_watch(size_t fail_at)
{
    asked = 0;
    live = 0;
    failing_at = fail_at;
    watching = true;
}

size_t heap_stop(void)
{
    watching = false;
    return asked;
}

long heap_live(void)
{
    return live;
}

static bool refused(void)
{
    return watching && asked++ >= failing_at;
}

static void *counted(void *block)
{
    live += watching && block != NULL;
    return block;
}

void *malloc(size_t size)
{
    return refused() ? NULL : counted(__libc_malloc(size));
}

void *calloc(size_t count, size_t size)
{
    return refused() ? NULL : counted(__libc_calloc(count, size));
}

void *realloc(void *block, size_t size)
{
    if (refused()) {
        return NULL;
    }
    void *moved = __libc_realloc(block, size);
    live += watching && block == NULL && moved != NULL;
    return moved;
}

void free(void *block)
{
    live -= watching && block != NULL;
    __libc_free(block);
}
