/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the benchmark share: problems, tools that solve them, and how a tool is timed. */
#ifndef HR_BENCH_H
#define HR_BENCH_H

#include "network/network.h"

#include <stdbool.h>
#include <stddef.h>

/* A network whose pumps can change their speed. */
struct problem {
    char name[40];
    struct hr_network network;
    struct hr_arena arena;
    struct hr_fluid_state *fluid;
    struct pump *pump;
    size_t pump_count;
    double speed_rpm; /* where every cold solution starts */
    bool has_script;  /* the script knows how to write its equations down */
};

/* 31 elements between 29 nodes: a pump and 12 parts in series, then three branches of six; 17 of them are
 * tubes. */
void problem_small_loop(struct problem *problem);

/* A planar grid of side * side nodes, each neighbours' pair joined by a tube of random bore and length, with
 * four pumps across it. */
void problem_grid(struct problem *problem, size_t side);

void problem_clear(struct problem *problem);

/* Replaces the laws of all pumps. */
void problem_set_speed(struct problem *problem, double speed_rpm);

/* Which section of the small loop a branch belongs to: 0 with the pump, then 1 to 3. */
size_t problem_section(size_t branch);

/* Writes the elements of the small loop as JSON for the script; false where that failed. */
bool problem_write_small_loop(const char *path);

/* A solver, opened for one problem. Everything may be called many times. */
struct tool {
    const char *name;
    void *(*open)(const struct tool *tool, struct problem *problem); /* ends the program where it cannot */
    bool (*solve)(void *solver, bool cold); /* with the laws as they stand; cold: nothing known from before */
    void (*rebind)(void *solver);           /* the laws have changed */
    const double *(*flows)(void *solver);   /* by branch */
    size_t (*iterations)(void *solver);
    void (*check)(void *solver); /* of the last answer, by its own means; ends the program if it is wrong */
    void (*close)(void *solver);
    const char *library; /* of the tools that share our Newton iteration: the file to load */
    bool large;          /* … and whether to force the factorisation for large networks */
    bool is_script;
};

extern const struct tool tool_headrace, tool_simplicial, tool_supernodal, tool_klu, tool_kinsol, tool_script;

enum scenario {
    COLD,  /* the object exists; nothing is known of the flows */
    WHOLE, /* the object is made, solves once from nothing and goes */
    WARM,  /* the pumps' speed moves by 2 %, from the last solution */
    SWEEP, /* SWEEP_COUNT speeds from 40 % to 100 %, the first cold */
    SCENARIOS
};
enum { SWEEP_COUNT = 100 };
double sweep_speed(const struct problem *problem, size_t i);

/* Runs a scenario `count` times and returns the seconds of one. `answer` gets the flows of all branches at
 * the problem's own speed; in a sweep, the flow of the first branch at each speed. Ends the program where a
 * solution fails. */
double run_tool(const struct tool *tool, void *solver, struct problem *problem, enum scenario scenario,
                size_t count, double answer[]);

/* The script runs its scenarios itself. */
double script_run(void *solver, enum scenario scenario, size_t count, double answer[]);

/* Bytes by which a fresh process grows while the tool is opened and solves once. */
double peak_bytes(const struct tool *tool, struct problem *problem);

/* Processor time of this process: all tools run on one thread, and waiting for other programs does not count.
 */
double now_s(void);

/* Prints a sentence and ends the program with status 1. */
_Noreturn void give_up(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* Where the script, its data and the solvers' libraries are. */
extern const char *bench_build, *bench_source;

#endif
