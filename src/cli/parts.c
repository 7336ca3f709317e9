/* SPDX-License-Identifier: GPL-3.0-or-later */
/* headrace parts */
#include "cli.h"

static enum hr_status show(struct hr_cli *cli, struct hr_source *library, char **text)
{
    const struct hr_show_settings settings = hr_cli_settings(cli);
    const bool json = (cli->given & HR_CLI_JSON) != 0;
    if (cli->arguments > 0) {
        return json ? hr_part_json(library, cli->argument[0], text, &cli->report)
                    : hr_part_text(library, cli->argument[0], &settings, text, &cli->report);
    }
    return json ? hr_parts_json(library, text, &cli->report)
                : hr_parts_text(library, &settings, text, &cli->report);
}

enum hr_status hr_cli_parts(struct hr_cli *cli)
{
    struct hr_source *library = NULL;
    const char *models;
    char *text = NULL;
    size_t count;
    enum hr_status status = hr_cli_models(cli, &models);
    if (status == HR_OK) {
        status = hr_library_open(models, &library, &cli->report);
    }
    if (status == HR_OK && cli->arguments == 0) {
        (void)hr_source_models(library, &count);
        if (count == 0) {
            status =
                hr_cli_fail(cli, HR_INPUT, "no-models",
                            "there are no parts in '%s'; name the library's folder with --models DIR or the "
                            "environment variable HEADRACE_MODELS",
                            models);
        }
    }
    if (status == HR_OK) {
        status = show(cli, library, &text);
    }
    hr_source_free(library);
    return status == HR_OK ? hr_cli_add(cli, text) : status;
}
