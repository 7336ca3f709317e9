/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stands between a test program and the heap of the GNU C library: counts, and lets allocations fail. Not
 * together with the address sanitizer, which stands in the same place. One thread. */
#ifndef HR_TEST_HEAP_H
#define HR_TEST_HEAP_H

#include <stddef.h>

/* From now on count; let allocation `fail_at` (from 0) and all later ones fail. SIZE_MAX: none. */
void heap_watch(size_t fail_at);

/* Stops; allocations asked for since heap_watch, those that failed included. */
size_t heap_stop(void);

/* Blocks allocated since heap_watch and not freed, minus blocks freed that are older. */
long heap_live(void);

#endif
