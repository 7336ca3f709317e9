/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the commands on a loop file have in common. */
#include "cli.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* True where --output would replace the loop file itself. */
static bool overwrites(const char *file, const char *output)
{
    struct stat a;
    struct stat b;
    return output != NULL && stat(file, &a) == 0 && stat(output, &b) == 0 && a.st_dev == b.st_dev &&
           a.st_ino == b.st_ino;
}

static enum hr_status open_loop(struct hr_cli *cli, struct hr_source **source)
{
    const char *models;
    *source = NULL;
    if (overwrites(cli->argument[0], cli->output)) {
        return hr_cli_fail(cli, HR_USAGE, "usage",
                           "--output names the loop file '%s' itself; name another file", cli->argument[0]);
    }
    const enum hr_status status = hr_cli_models(cli, &models);
    return status == HR_OK ? hr_source_open(cli->argument[0], models, source, &cli->report) : status;
}

struct hr_show_settings hr_cli_settings(const struct hr_cli *cli)
{
    const char *no_colour = getenv("NO_COLOR");
    const char *terminal = getenv("TERM");
    const bool plain =
        (no_colour != NULL && no_colour[0] != '\0') || terminal == NULL || strcmp(terminal, "dumb") == 0;
    return (struct hr_show_settings){.units = cli->units,
                                     .detail = (cli->given & HR_CLI_DETAIL) != 0,
                                     .colour = !plain && cli->output == NULL && isatty(STDOUT_FILENO) == 1};
}

/* Puts the output of one state of several behind those before it. `text` is taken over. */
static enum hr_status add_state(struct hr_cli *cli, char *text, bool first)
{
    enum hr_status status = HR_OK;
    if ((cli->given & HR_CLI_CSV) != 0 && !first) {
        const char *rows = strchr(text, '\n'); /* the header stands above the first state's rows already */
        status = hr_cli_add_copy(cli, rows != NULL ? rows + 1 : "");
        free(text);
        return status;
    }
    if (!first && (cli->given & HR_CLI_CSV) == 0) {
        status = hr_cli_add_copy(cli, (cli->given & HR_CLI_JSON) != 0 ? ",\n" : "\n");
    }
    if (status != HR_OK) {
        free(text);
        return status;
    }
    return hr_cli_add(cli, text);
}

static enum hr_status run_all(struct hr_cli *cli, struct hr_source *source, hr_cli_one *one)
{
    size_t states;
    const char *const *state = hr_source_states(source, &states);
    const bool json = (cli->given & HR_CLI_JSON) != 0;
    if (states == 0) {
        return hr_cli_fail(cli, HR_INPUT, "unknown-state",
                           "--state all: the file has no states; leave the option out");
    }
    enum hr_status status = json ? hr_cli_add_copy(cli, "{\"states\": [\n") : HR_OK;
    bool any_without = false;
    for (size_t i = 0; i < states && status == HR_OK; i++) {
        const struct hr_variant variant = {state[i], cli->set, cli->sets};
        char *text = NULL;
        status = one(cli, source, &variant, &text);
        if (status == HR_NO_RESULT && text != NULL) {
            any_without = true;
            status = HR_OK;
        }
        if (status == HR_OK) {
            status = add_state(cli, text, i == 0);
        } else {
            free(text);
        }
    }
    if (status == HR_OK && json) {
        status = hr_cli_add_copy(cli, "]}\n");
    }
    return status == HR_OK && any_without ? HR_NO_RESULT : status;
}

static enum hr_status each_state(struct hr_cli *cli, struct hr_source *source, hr_cli_one *one)
{
    if (cli->state != NULL && strcmp(cli->state, "all") == 0) {
        return run_all(cli, source, one);
    }
    const struct hr_variant variant = {cli->state, cli->set, cli->sets};
    char *text = NULL;
    const enum hr_status status = one(cli, source, &variant, &text);
    if (text == NULL) {
        return status;
    }
    const enum hr_status added = hr_cli_add(cli, text);
    return added == HR_OK ? status : added;
}

enum hr_status hr_cli_loop(struct hr_cli *cli, hr_cli_one *one)
{
    struct hr_source *source;
    enum hr_status status = open_loop(cli, &source);
    if (status == HR_OK) {
        status = each_state(cli, source, one);
    }
    hr_source_free(source);
    return status;
}
