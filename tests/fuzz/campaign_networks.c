/* SPDX-License-Identifier: GPL-3.0-or-later */
/* campaign-networks COUNT SEED [NODES_MIN NODES_MAX [small|large|auto [LAMINAR]]]
 *
 * Solves COUNT random networks, their laminar shares 1e-2, 1e-4, 1e-6 and none in turn (or LAMINAR), each
 * from rest and from two random starts, and checks every answer. Prints each failure with the seed that makes
 * its network, then the counts. Exit status 1 when anything failed. */
#include "base/memory.h"
#include "random_check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double laminar[] = {1e-2, 1e-4, 1e-6, 0.0};

static int usage(void)
{
    fputs("usage: campaign-networks COUNT SEED [NODES_MIN NODES_MAX [small|large|auto [LAMINAR]]]\n", stderr);
    return 2;
}

static void print(const char *name, const struct random_tally *tally)
{
    printf("%s: %zu networks, %zu unconverged, %zu bad certificates, %zu wrongly shut, %zu not the same, %zu "
           "moving dead "
           "loops; %.2f iterations, at most %zu; worst mass %.1e, pressure %.1e, valve %.1e\n",
           name, tally->networks, tally->unconverged, tally->bad, tally->wrongly_shut, tally->different,
           tally->moving_dead_loops,
           (double)tally->iterations / (double)(tally->networks > 0 ? tally->networks : 1),
           tally->iterations_max, tally->mass_residual, tally->pressure_residual, tally->valve_residual);
}

static bool read_factorisation(const char *word, enum hr_nodal_choice *choice)
{
    *choice = strcmp(word, "small") == 0   ? HR_NODAL_SMALL
              : strcmp(word, "large") == 0 ? HR_NODAL_LARGE
                                           : HR_NODAL_AUTO;
    return *choice != HR_NODAL_AUTO || strcmp(word, "auto") == 0;
}

int main(int argc, char **argv)
{
    struct random_trial trial = {.nodes_min = 3, .nodes_max = 60, .starts = 2};
    if (argc < 3 || argc == 4 || argc > 7) {
        return usage();
    }
    const unsigned long long count = strtoull(argv[1], NULL, 10);
    const unsigned long long seed = strtoull(argv[2], NULL, 10);
    if (argc > 4) {
        trial.nodes_min = (uint32_t)strtoul(argv[3], NULL, 10);
        trial.nodes_max = (uint32_t)strtoul(argv[4], NULL, 10);
    }
    if (count == 0 || trial.nodes_min < 3 || trial.nodes_max < trial.nodes_min ||
        (argc > 5 && !read_factorisation(argv[5], &trial.factorisation))) {
        return usage();
    }
    struct random_tally tally[HR_ARRAY_LEN(laminar)] = {0};
    for (unsigned long long i = 0; i < count; i++) {
        const size_t share = i % HR_ARRAY_LEN(laminar);
        trial.laminar = argc > 6 ? strtod(argv[6], NULL) : laminar[share];
        random_check(&trial, seed + i, &tally[share], stdout);
    }
    struct random_tally all = {0};
    for (size_t share = 0; share < HR_ARRAY_LEN(laminar); share++) {
        char name[40];
        snprintf(name, sizeof name, "laminar share %g", argc > 6 ? strtod(argv[6], NULL) : laminar[share]);
        print(name, &tally[share]);
        random_tally_add(&all, &tally[share]);
    }
    print("all", &all);
    for (size_t i = 0; i < RANDOM_FEATURES; i++) {
        printf("%s%zu with %s", i == 0 ? "" : ", ", all.has[i], random_feature_names[i]);
    }
    printf("; %zu valves shut and %zu open, %zu idle branches\n", all.shut_valves, all.open_valves,
           all.idle_branches);
    return random_tally_failures(&all) == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
