/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The supernodal CHOLMOD of the distribution enters OpenMP regions for blocks so small that waking threads
 * costs several times the work; OMP_NUM_THREADS does not help. To measure it at its best, each region is run
 * by the calling thread. This definition stands before that of libgomp since it is in the program itself. */
void GOMP_parallel(void (*region)(void *), void *data, unsigned threads, unsigned flags);

void GOMP_parallel(void (*region)(void *), void *data, unsigned threads, unsigned flags)
{
    (void)threads;
    (void)flags;
    region(data);
}
