/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The benchmark: every repeat runs every tool once, one after the other, so that what disturbs the machine
 * disturbs all alike; what counts is the median of the ratios of such pairs. Before a time is printed the
 * answers must agree.
 *
 * Usage: bench BUILD-FOLDER SOURCE-FOLDER [--short] */
#include "bench.h"

#include <limits.h>
#include <malloc.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *bench_build;
const char *bench_source;

enum { TOOLS_MAX = 6, REPEATS_MAX = 31 };
static const double AGREEMENT = 1e-8; /* of flows, relative to the largest */
static const char *const scenario_names[] = {[COLD] = "cold, object reused",
                                             [WHOLE] = "cold, with making the object",
                                             [WARM] = "warm, speed moved by 2 %",
                                             [SWEEP] = "100 speeds"};

void give_up(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fflush(stdout);
    fputs("bench: ", stderr);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
    exit(EXIT_FAILURE);
}

/* One comparison of tools on one problem; the first tool is ours. */
struct race {
    struct problem *problem;
    enum scenario scenario;
    const struct tool *const *tool;
    size_t tool_count, repeats;
    size_t least;  /* times a run */
    double span_s; /* … or as many as fill this time */
};

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(const double values[], size_t count)
{
    double sorted[REPEATS_MAX];
    memcpy(sorted, values, count * sizeof *sorted);
    qsort(sorted, count, sizeof *sorted, by_size);
    return count % 2 == 1 ? sorted[count / 2] : 0.5 * (sorted[count / 2 - 1] + sorted[count / 2]);
}

static void print_time(double seconds)
{
    if (seconds < 1e-3) {
        printf("%.2f us", 1e6 * seconds);
    } else if (seconds < 1) {
        printf("%.3g ms", 1e3 * seconds);
    } else {
        printf("%.3g s", seconds);
    }
}

static void compare(const struct race *race, const double ours[], const double theirs[],
                    const struct tool *tool)
{
    const size_t count = race->scenario == SWEEP ? SWEEP_COUNT : race->problem->network.branch_count;
    double largest = 0;
    double off = 0;
    for (size_t i = 0; i < count; i++) {
        largest = fmax(largest, fabs(ours[i]));
        if (!(fabs(ours[i] - theirs[i]) <= off)) {
            off = fabs(ours[i] - theirs[i]);
        }
    }
    if (!(off <= AGREEMENT * largest)) {
        give_up("%s, %s: %s and %s differ by %.1e of the largest flow", race->problem->name,
                scenario_names[race->scenario], race->tool[0]->name, tool->name, off / largest);
    }
}

static void print_race(const struct race *race, double times[TOOLS_MAX][REPEATS_MAX],
                       const size_t iterations[])
{
    const double ours = median(times[0], race->repeats);
    printf("%s, %s: %s ", race->problem->name, scenario_names[race->scenario], race->tool[0]->name);
    print_time(ours);
    if (race->scenario == COLD || race->scenario == WHOLE) {
        printf(", %zu iterations", iterations[0]);
    }
    puts("; medians of paired runs");
    for (size_t t = 1; t < race->tool_count; t++) {
        double ratio[REPEATS_MAX];
        for (size_t r = 0; r < race->repeats; r++) {
            ratio[r] = times[0][r] / times[t][r];
        }
        const double middle = median(ratio, race->repeats);
        qsort(ratio, race->repeats, sizeof *ratio, by_size);
        printf("    ours / %-18s %6.3f (%.3g times as fast), median of %zu from %.3f to %.3f; it took ",
               race->tool[t]->name, middle, 1 / middle, race->repeats, ratio[0], ratio[race->repeats - 1]);
        print_time(median(times[t], race->repeats));
        if (iterations[t] > 0) {
            printf(", %zu iterations", iterations[t]);
        }
        putchar('\n');
    }
    fflush(stdout);
}

static void run_race(const struct race *race)
{
    static double times[TOOLS_MAX][REPEATS_MAX];
    void *solver[TOOLS_MAX];
    size_t count[TOOLS_MAX];
    size_t iterations[TOOLS_MAX] = {0};
    const size_t branches = race->problem->network.branch_count;
    const size_t length = branches > SWEEP_COUNT ? branches : SWEEP_COUNT;
    double *answer = hr_alloc(TOOLS_MAX * length, sizeof *answer);
    if (answer == NULL || race->tool_count > TOOLS_MAX || race->repeats > REPEATS_MAX) {
        give_up("out of memory");
    }
    for (size_t t = 0; t < race->tool_count; t++) {
        solver[t] = race->tool[t]->open(race->tool[t], race->problem);
        const double first =
            run_tool(race->tool[t], solver[t], race->problem, race->scenario, race->least, answer);
        count[t] = (size_t)fmin(1e6, fmax((double)race->least, ceil(race->span_s / first)));
    }
    for (size_t r = 0; r < race->repeats; r++) {
        for (size_t t = 0; t < race->tool_count; t++) {
            const struct tool *tool = race->tool[t];
            times[t][r] =
                run_tool(tool, solver[t], race->problem, race->scenario, count[t], &answer[t * length]);
            iterations[t] =
                tool->iterations != NULL && race->scenario <= WHOLE ? tool->iterations(solver[t]) : 0;
            compare(race, answer, &answer[t * length], tool);
        }
    }
    print_race(race, times, iterations);
    for (size_t t = 0; t < race->tool_count; t++) {
        race->tool[t]->close(solver[t]);
    }
    free(answer);
}

static void small_loop(bool brief)
{
    static const struct tool *const tools[] = {&tool_headrace, &tool_kinsol, &tool_script};
    struct problem problem;
    problem_small_loop(&problem);
    for (int scenario = COLD; scenario < SCENARIOS; scenario++) {
        const struct race race = {.problem = &problem,
                                  .scenario = (enum scenario)scenario,
                                  .tool = tools,
                                  .tool_count = scenario == WHOLE ? 2 : 3,
                                  .repeats = brief ? 3 : 15,
                                  .least = 2,
                                  .span_s = brief ? 5e-3 : 50e-3};
        run_race(&race);
    }
    problem_clear(&problem);
}

static void grid(size_t side, size_t repeats, bool with_kinsol)
{
    static const struct tool *const tools[] = {&tool_headrace, &tool_simplicial, &tool_supernodal, &tool_klu,
                                               &tool_kinsol};
    struct problem problem;
    problem_grid(&problem, side);
    struct race race = {.problem = &problem,
                        .scenario = WHOLE,
                        .tool = tools,
                        .tool_count = with_kinsol ? 5 : 4,
                        .repeats = repeats,
                        .least = 1,
                        .span_s = 20e-3};
    run_race(&race);
    race.scenario = WARM;
    race.least = 2;
    race.tool_count = side > 200 ? 4 : race.tool_count;
    run_race(&race);
    problem_clear(&problem);
}

static void memory(size_t side)
{
    static const struct tool *const tools[] = {&tool_headrace, &tool_simplicial, &tool_klu, &tool_kinsol};
    struct problem problem;
    problem_grid(&problem, side);
    printf("%s, peak memory of one solution in bytes per branch:", problem.name);
    for (size_t t = 0; t < HR_ARRAY_LEN(tools); t++) {
        const double bytes = peak_bytes(tools[t], &problem);
        printf("%s %s %.0f", t == 0 ? "" : ",", tools[t]->name, bytes / (double)problem.network.branch_count);
        fflush(stdout);
    }
    putchar('\n');
    problem_clear(&problem);
}

int main(int argc, char **argv)
{
    const bool brief = argc == 4 && strcmp(argv[3], "--short") == 0;
    if (argc != 3 && !brief) {
        give_up("called with %d arguments; it is meant to be started by tests/bench/run", argc - 1);
    }
    /* What one run has freed the next one uses: otherwise the kernel's clearing of fresh pages, which depends
     * on who ran before, would be part of the figures. */
    mallopt(M_MMAP_THRESHOLD, INT_MAX);
    mallopt(M_TRIM_THRESHOLD, INT_MAX);
    bench_build = argv[1];
    bench_source = argv[2];
    small_loop(brief);
    grid(32, brief ? 3 : 15, true);
    grid(100, brief ? 3 : 9, true);
    if (!brief) {
        grid(316, 5, true);
        memory(100);
        memory(316);
    }
    return EXIT_SUCCESS;
}
