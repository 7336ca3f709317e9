/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random networks for the proofs of the solver: resistances over eight decades, quadratic and of other
 * powers, with and without a laminar share; pumps, one-way valves with and without an opening pressure,
 * closed branches, given flows, lossless joins, given pressures, inflows, dead loops and idle branches; some
 * float. Every one of them has a solution. */
#ifndef HR_RANDOM_NETWORK_H
#define HR_RANDOM_NETWORK_H

#include "network/network.h"

#include <stdint.h>

/* splitmix64 (Steele, Lea & Flood 2014): small, and every seed gives an independent stream. */
struct random {
    uint64_t state;
};
uint64_t random_next(struct random *random);
double random_unit(struct random *random); /* [0, 1) */
double random_between(struct random *random, double low, double high);
uint32_t random_below(struct random *random, uint32_t count);

enum random_feature {
    RANDOM_VALVE,
    RANDOM_OPENING_PRESSURE,
    RANDOM_PUMP,
    RANDOM_CLOSED,
    RANDOM_GIVEN_FLOW,
    RANDOM_LOSSLESS,
    RANDOM_POWER_LAW,
    RANDOM_PRESSURES, /* more than one given */
    RANDOM_INFLOW,
    RANDOM_DEAD_LOOP,
    RANDOM_FLOATING,
    RANDOM_FEATURES
};
extern const char *const random_feature_names[RANDOM_FEATURES];

struct random_network {
    struct hr_network network;
    uint32_t dead_loop; /* first of three branches in a ring that hangs on one node; UINT32_MAX: none */
    size_t has[RANDOM_FEATURES]; /* how many of each */
};

/* Of 3 to 60 nodes. laminar: share of the linear term at the reference flow, 0 for none. Owned by the caller:
 * _clear. */
void random_network_make(struct random_network *out, uint64_t seed, double laminar);
/* Of nodes_min to nodes_max nodes; 3 or more. */
void random_network_make_sized(struct random_network *out, uint64_t seed, double laminar, uint32_t nodes_min,
                               uint32_t nodes_max);
void random_network_clear(struct random_network *net);

#endif
