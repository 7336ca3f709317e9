/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Solves a random network and puts the answer through every check that its laws alone allow. */
#ifndef HR_RANDOM_CHECK_H
#define HR_RANDOM_CHECK_H

#include "random_network.h"
#include "solve/flow.h"

#include <stdio.h>

/* Counts over many networks. The first four after `networks` must stay zero. */
struct random_tally {
    size_t networks;
    size_t unconverged;  /* any outcome but solved, from rest or from another start */
    size_t bad;          /* the certificate: mass or pressure above 1e-10, a valve not exact */
    size_t wrongly_shut; /* a valve between parts that nothing ties must open whatever their pressures */
    size_t different;    /* another start gave other flows */
    size_t moving_dead_loops;
    size_t idle_branches; /* flow exactly zero, and neither closed nor shut */
    size_t shut_valves, open_valves;
    size_t iterations, iterations_max;
    double mass_residual, pressure_residual, valve_residual; /* the largest */
    size_t has[RANDOM_FEATURES];                             /* networks with each feature */
};

/* The nodes and starts of a check. */
struct random_trial {
    double laminar;
    uint32_t nodes_min, nodes_max;
    size_t starts; /* solutions from random flows besides the one from rest */
    enum hr_nodal_choice factorisation;
};

/* Adds the outcome for one seed to the tally; a line to `trace` for each failure where not NULL. */
void random_check(const struct random_trial *trial, uint64_t seed, struct random_tally *tally, FILE *trace);

/* Adds `more` to `tally`. */
void random_tally_add(struct random_tally *tally, const struct random_tally *more);

/* Failures of any sort. */
size_t random_tally_failures(const struct random_tally *tally);

/* The flow up to which a branch takes less than `pressure` more than at rest: rounding of that pressure can
 * hide it. */
double random_hidden_flow(const struct hr_network *network, const struct hr_branch *branch, double pressure);

#endif
