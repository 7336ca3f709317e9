/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of commands, and help. */
#include "cli.h"

#include <stdio.h>
#include <string.h>

enum { COMMON = HR_CLI_JSON | HR_CLI_OUTPUT | HR_CLI_UNITS | HR_CLI_DETAIL | HR_CLI_MODELS };

const struct hr_cli_command hr_cli_commands[] = {
    {"solve", "FILE [options]", "flow, direction and pressure of every branch; operating points of pumps",
     "Prints the result in one sentence, what is assumed, the worst restrictions, the pumps, then all "
     "branches.",
     COMMON | HR_CLI_SET | HR_CLI_STATE | HR_CLI_CSV, 1, 1, "a loop file", hr_cli_solve},
    {"sweep", "FILE PATH=LOW..HIGH:STEP [PATH=LOW..HIGH:STEP] [options]",
     "the same over speeds or any value; the speed beyond which more buys little",
     "Takes one range or two, such as pump.speed=800..4800:200 or gpu.heat=\"100..400:50 W\". Over one range "
     "of pump\n"
     "speeds it finds where more speed stops paying, by three definitions.",
     COMMON | HR_CLI_SET | HR_CLI_STATE | HR_CLI_CSV | HR_CLI_TOLERANCE | HR_CLI_GAIN, 2, 1 + HR_AXES_MAX,
     "a loop file and one range or two, such as pump.speed=800..4800:200", hr_cli_sweep},
    {"check", "FILE [options]",
     "the loop file itself: direction, dead ends, limits of parts, models out of range",
     "Findings are warnings; the exit status is 0 as long as the file can be read and solved.",
     COMMON | HR_CLI_SET | HR_CLI_STATE, 1, 1, "a loop file", hr_cli_check},
    {"parts", "[NAME] [options]", "the library of parts, or one part with its values and its pressure drop",
     "NAME is a part of the library, or the path of a model file such as ./my-block.yaml.", COMMON, 0, 1,
     "a part", hr_cli_parts},
    {.name = "compare", .summary = "two files or variants: what changes and whether it matters"},
    {.name = "routes", .summary = "all series and parallel arrangements of the parts, ranked"},
    {.name = "worth", .summary = "what each change buys in kelvin, flow and noise"},
    {.name = "tune", .summary = "the quietest speeds that keep the limits"},
    {.name = "soak", .summary = "temperatures against time"},
    {.name = "logs", .summary = "measured data: steady or not, mean and uncertainty"},
    {.name = "fit", .summary = "parameters of parts from measurements"},
    {.name = "draw", .summary = "the loop as a diagram"},
    {.name = "report", .summary = "everything in one page"},
    {.name = "live", .summary = "a page in the browser that follows the file"},
    {0},
};

const struct hr_cli_command *hr_cli_command(const char *name)
{
    for (const struct hr_cli_command *command = hr_cli_commands; command->name != NULL; command++) {
        if (strcmp(command->name, name) == 0) {
            return command;
        }
    }
    return NULL;
}

static void help_all(void)
{
    (void)printf("usage: headrace COMMAND [FILE] [options]\n\n"
                 "Computes liquid-cooling loops from a description in YAML.\n\ncommands:\n");
    for (const struct hr_cli_command *command = hr_cli_commands; command->name != NULL; command++) {
        (void)printf("  %-8s  %s%s\n", command->name, command->summary,
                     command->run == NULL ? " (not yet)" : "");
    }
    (void)printf(
        "\n'headrace COMMAND --help' shows the options of a command, 'headrace --version' the version.\n\n"
        "exit status: 0 done; 1 the input is wrong; 2 wrong usage; 3 no result exists; 4 cannot write, or "
        "out of\n"
        "memory\n");
}

void hr_cli_help(const struct hr_cli_command *command)
{
    if (command == NULL) {
        help_all();
    } else if (command->run == NULL) {
        (void)printf("headrace %s: %s.\nThis command is not there yet.\n", command->name, command->summary);
    } else {
        (void)printf("usage: headrace %s %s\n\n%s.\n%s\n\noptions, which may stand anywhere:\n",
                     command->name, command->arguments, command->summary, command->help);
        hr_cli_option_help(command->options | HR_CLI_HELP);
    }
}
