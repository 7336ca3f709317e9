/* SPDX-License-Identifier: GPL-3.0-or-later */
/* headrace: computes liquid-cooling loops. One run: read the command line, run the command, write everything.
 */
#include "cli.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static enum hr_status fail_command(struct hr_cli *cli)
{
    const char *names[32];
    size_t count = 0;
    if (cli->word == NULL) {
        return hr_cli_fail(cli, HR_USAGE, "usage",
                           "name a command, such as headrace solve FILE; 'headrace --help' lists them");
    }
    while (hr_cli_commands[count].name != NULL && count < sizeof names / sizeof names[0]) {
        names[count] = hr_cli_commands[count].name;
        count++;
    }
    const char *nearest = hr_cli_nearest(cli->word, names, count);
    return hr_cli_fail(cli, HR_USAGE, "usage", "there is no command '%s'%s%s%s", cli->word,
                       nearest != NULL ? "; did you mean '" : "; 'headrace --help' lists them",
                       nearest != NULL ? nearest : "", nearest != NULL ? "'?" : "");
}

/* Options that the command does not take. */
static enum hr_status check_options(struct hr_cli *cli)
{
    const unsigned wrong = cli->given & ~(cli->command->options | HR_CLI_HELP | HR_CLI_VERSION);
    for (unsigned bit = 1; bit <= HR_CLI_VERSION; bit <<= 1U) {
        if ((wrong & bit) != 0) {
            return hr_cli_fail(cli, HR_USAGE, "usage",
                               "%s takes no --%s; 'headrace %s --help' lists its options", cli->command->name,
                               hr_cli_option_name(bit), cli->command->name);
        }
    }
    return HR_OK;
}

static enum hr_status check_arguments(struct hr_cli *cli)
{
    const struct hr_cli_command *command = cli->command;
    if (cli->arguments < command->least) {
        return hr_cli_fail(cli, HR_USAGE, "usage", "%s needs %s: headrace %s %s", command->name,
                           command->argument, command->name, command->arguments);
    }
    if (cli->arguments > command->most) {
        return hr_cli_fail(cli, HR_USAGE, "usage", "%s takes no further argument '%s': headrace %s %s",
                           command->name, cli->argument[command->most], command->name, command->arguments);
    }
    return HR_OK;
}

/* Help and version, which need nothing else to be right. True where one was asked for. */
static bool answer(const struct hr_cli *cli)
{
    if ((cli->given & HR_CLI_VERSION) != 0) {
        (void)printf("headrace %s\n", HR_VERSION);
        return true;
    }
    const bool word = cli->word != NULL && strcmp(cli->word, "help") == 0;
    if ((cli->given & HR_CLI_HELP) == 0 && !word) {
        return false;
    }
    const char *about = word ? (cli->arguments > 0 ? cli->argument[0] : NULL) : cli->word;
    hr_cli_help(about != NULL ? hr_cli_command(about) : NULL);
    return true;
}

static enum hr_status run(struct hr_cli *cli, int argc, char *argv[])
{
    enum hr_status status = hr_cli_options(cli, argc, argv);
    cli->command = cli->word != NULL ? hr_cli_command(cli->word) : NULL;
    if (status == HR_SYSTEM) {
        return status;
    }
    if (status == HR_OK && answer(cli)) {
        return fflush(stdout) == 0 && ferror(stdout) == 0
                   ? HR_OK
                   : hr_cli_fail(cli, HR_SYSTEM, "cannot-write", "cannot write to standard output: %s",
                                 strerror(errno));
    }
    if (cli->command != NULL && cli->command->run == NULL) {
        cli->report.errors = 0; /* which options it will take is not known yet */
        cli->report.status = HR_OK;
        return hr_cli_fail(cli, HR_USAGE, "not-yet",
                           "the command %s is not there yet; 'headrace --help' shows which are",
                           cli->command->name);
    }
    if (status == HR_OK && (cli->given & HR_CLI_DISTANCE) != 0) {
        status = hr_cli_fail(cli, HR_USAGE, "not-yet",
                             "--distance is not there yet: noise is not computed; leave it out");
    }
    if (status == HR_OK && cli->command == NULL) {
        status = fail_command(cli);
    }
    if (status == HR_OK) {
        status = check_options(cli);
    }
    if (status == HR_OK) {
        status = check_arguments(cli);
    }
    if (status == HR_OK) {
        status = hr_show_check_units(cli->units, &cli->report);
    }
    return status == HR_OK ? cli->command->run(cli) : status;
}

static void clear(struct hr_cli *cli)
{
    for (size_t i = 0; i < cli->pieces; i++) {
        free(cli->piece[i]);
    }
    free(cli->piece);
    free(cli->warning);
    free(cli->argument);
    free(cli->set);
    hr_report_clear(&cli->report);
}

int main(int argc, char *argv[])
{
    struct hr_cli cli = {0};
    (void)signal(SIGPIPE, SIG_IGN); /* a closed pipe is then an error of writing like any other */
    hr_report_init(&cli.report);
    enum hr_status status = run(&cli, argc, argv);
    if ((status == HR_OK || status == HR_NO_RESULT) && cli.pieces > 0) {
        const enum hr_status written = hr_cli_write(&cli);
        status = written == HR_OK ? status : written;
    }
    if (status != HR_USAGE && cli.report.warnings > 0 && cli.command != NULL &&
        cli.command->run != hr_cli_check &&
        hr_cli_warn(&cli, cli.report.warning, cli.report.warnings, false) != HR_OK) {
        status = HR_SYSTEM;
    }
    hr_cli_write_messages(&cli);
    clear(&cli);
    return (int)status;
}
