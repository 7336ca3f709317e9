/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random networks for the proofs of the solver: 3 to 60 nodes, resistances over eight decades, pumps, one-way valves, dead
 * loops and idle branches; some with given pressures or inflows instead of pumps. */
#ifndef HR_RANDOM_NETWORK_H
#define HR_RANDOM_NETWORK_H

#include "network/network.h"

#include <stdint.h>

/* splitmix64 (Steele, Lea & Flood 2014): small, and every seed gives an independent stream. */
struct random {
    uint64_t state;
};
uint64_t random_next(struct random *random);
double random_unit(struct random *random);                            /* [0, 1) */
double random_between(struct random *random, double low, double high);
uint32_t random_below(struct random *random, uint32_t count);

struct random_network {
    struct hr_network network;
    bool has_valves;
};

/* laminar: share of the linear term at the reference flow, 0 for pure quadratics. Owned by the caller: _clear. */
void random_network_make(struct random_network *out, uint64_t seed, double laminar);
void random_network_clear(struct random_network *net);

#endif
