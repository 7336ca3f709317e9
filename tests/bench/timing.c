/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One tool, one scenario: time and answer; and the memory of one solution. */
#include "bench.h"

#include <malloc.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static const double NUDGE = 0.98;
static const double SWEEP_FROM = 0.4;

double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

double sweep_speed(const struct problem *problem, size_t i)
{
    return problem->speed_rpm * (SWEEP_FROM + (1 - SWEEP_FROM) * (double)i / (SWEEP_COUNT - 1));
}

static void must(bool solved, const struct tool *tool, const struct problem *problem)
{
    if (!solved) {
        give_up("%s did not solve the %s", tool->name, problem->name);
    }
}

static void set_speed(const struct tool *tool, void *solver, struct problem *problem, double speed_rpm)
{
    problem_set_speed(problem, speed_rpm);
    tool->rebind(solver);
}

static void sweep(const struct tool *tool, void *solver, struct problem *problem, double answer[])
{
    for (size_t i = 0; i < SWEEP_COUNT; i++) {
        set_speed(tool, solver, problem, sweep_speed(problem, i));
        must(tool->solve(solver, i == 0), tool, problem);
        answer[i] = tool->flows(solver)[0];
    }
}

static void once(const struct tool *tool, void *solver, struct problem *problem, enum scenario scenario,
                 size_t round)
{
    if (scenario == COLD) {
        must(tool->solve(solver, true), tool, problem);
    } else if (scenario == WHOLE) {
        void *made = tool->open(tool, problem);
        must(tool->solve(made, true), tool, problem);
        tool->close(made);
    } else {
        set_speed(tool, solver, problem, problem->speed_rpm * (round % 2 == 0 ? NUDGE : 1.0));
        must(tool->solve(solver, false), tool, problem);
    }
}

double run_tool(const struct tool *tool, void *solver, struct problem *problem, enum scenario scenario,
                size_t count, double answer[])
{
    if (tool->is_script) {
        return script_run(solver, scenario, count, answer);
    }
    set_speed(tool, solver, problem, problem->speed_rpm);
    if (scenario == WARM) {
        must(tool->solve(solver, true), tool, problem);
        count += count % 2; /* ends at the problem's own speed */
    }
    const double begin = now_s();
    for (size_t round = 0; round < count; round++) {
        if (scenario == SWEEP) {
            sweep(tool, solver, problem, answer);
        } else {
            once(tool, solver, problem, scenario, round);
        }
    }
    const double seconds = (now_s() - begin) / (double)count;
    if (scenario == WHOLE) {
        must(tool->solve(solver, true), tool, problem);
    }
    if (scenario != SWEEP) {
        memcpy(answer, tool->flows(solver), problem->network.branch_count * sizeof *answer);
    }
    tool->check(solver);
    return seconds;
}

/* A field of /proc/self/status, in bytes. */
static double status_bytes(const char *field)
{
    char line[200];
    double kilobytes = -1;
    FILE *file = fopen("/proc/self/status", "r");
    while (file != NULL && fgets(line, sizeof line, file) != NULL) {
        if (strncmp(line, field, strlen(field)) == 0) {
            sscanf(line + strlen(field), ": %lf", &kilobytes);
        }
    }
    if (file != NULL) {
        fclose(file);
    }
    if (kilobytes < 0) {
        give_up("/proc/self/status does not say %s", field);
    }
    return 1024 * kilobytes;
}

static double grow(const struct tool *tool, struct problem *problem)
{
    malloc_trim(0); /* else what the problem's making has freed would hide growth */
    FILE *file = fopen("/proc/self/clear_refs", "w"); /* 5: the peak starts from what is in use now */
    if (file == NULL || fputs("5\n", file) < 0 || fclose(file) != 0) {
        give_up("/proc/self/clear_refs cannot be written");
    }
    const double before = status_bytes("VmRSS");
    void *solver = tool->open(tool, problem);
    must(tool->solve(solver, true), tool, problem);
    return status_bytes("VmHWM") - before;
}

double peak_bytes(const struct tool *tool, struct problem *problem)
{
    int ends[2];
    double bytes = 0;
    fflush(NULL);
    if (pipe(ends) != 0) {
        give_up("no pipe");
    }
    const pid_t child = fork();
    if (child == 0) {
        bytes = grow(tool, problem);
        _exit(write(ends[1], &bytes, sizeof bytes) == (ssize_t)sizeof bytes ? 0 : 1);
    }
    close(ends[1]);
    const bool complete = child > 0 && read(ends[0], &bytes, sizeof bytes) == (ssize_t)sizeof bytes;
    close(ends[0]);
    if (child > 0) {
        waitpid(child, NULL, 0);
    }
    if (!complete) {
        give_up("the memory of %s could not be measured", tool->name);
    }
    return bytes;
}
