/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The script in Python, as a process that waits for scenarios between the runs of the others. */
#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

struct script {
    pid_t process;
    FILE *to, *from;
    size_t branch_count;
};

static void *open_script(const struct tool *tool, struct problem *problem)
{
    (void)tool;
    struct script *script = hr_alloc(1, sizeof *script);
    int to[2];
    int from[2];
    char data[1000];
    char source[1000];
    snprintf(data, sizeof data, "%s/small-loop.json", bench_build);
    snprintf(source, sizeof source, "%s/script_scipy.py", bench_source);
    if (script == NULL || !problem_write_small_loop(data) || pipe(to) != 0 || pipe(from) != 0) {
        give_up("the script cannot be started");
    }
    fflush(NULL);
    script->branch_count = problem->network.branch_count;
    script->process = fork();
    if (script->process == 0) {
        dup2(to[0], STDIN_FILENO);
        dup2(from[1], STDOUT_FILENO);
        close(to[1]);
        close(from[0]);
        execl("/usr/bin/python3", "python3", source, data, (char *)NULL);
        _exit(127);
    }
    close(to[0]);
    close(from[1]);
    script->to = fdopen(to[1], "w");
    script->from = fdopen(from[0], "r");
    char word[20];
    if (script->process < 0 || script->to == NULL || script->from == NULL ||
        fscanf(script->from, "%19s", word) != 1 || strcmp(word, "ready") != 0) {
        give_up("/usr/bin/python3 with scipy does not run");
    }
    return script;
}

/* The script knows the flows of the pump and of the three branches only; they stand for those of all elements
 * in series with them. */
double script_run(void *opaque, enum scenario scenario, size_t count, double answer[])
{
    static const char *const names[] = {[COLD] = "cold", [WARM] = "warm", [SWEEP] = "sweep"};
    struct script *script = opaque;
    double seconds;
    fprintf(script->to, "%s %zu\n", names[scenario], scenario == WARM ? count + count % 2 : count);
    fflush(script->to);
    bool complete = fscanf(script->from, "%lf", &seconds) == 1;
    if (scenario == SWEEP) {
        for (size_t i = 0; i < SWEEP_COUNT && complete; i++) {
            complete = fscanf(script->from, "%lf", &answer[i]) == 1;
        }
    } else {
        double section[4];
        for (size_t i = 0; i < 4 && complete; i++) {
            complete = fscanf(script->from, "%lf", &section[i]) == 1;
        }
        for (size_t b = 0; b < script->branch_count && complete; b++) {
            answer[b] = section[problem_section(b)];
        }
    }
    if (!complete) {
        give_up("the script did not answer");
    }
    return seconds;
}

static void close_script(void *opaque)
{
    struct script *script = opaque;
    fclose(script->to);
    fclose(script->from);
    waitpid(script->process, NULL, 0);
    free(script);
}

const struct tool tool_script = {
    .name = "scipy script", .open = open_script, .close = close_script, .is_script = true};
