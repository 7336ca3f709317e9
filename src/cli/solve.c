/* SPDX-License-Identifier: GPL-3.0-or-later */
/* headrace solve */
#include "cli.h"

#include <stdlib.h>

static enum hr_status show(struct hr_cli *cli, const struct hr_result *result, char **text)
{
    const struct hr_show_settings settings = hr_cli_settings(cli);
    if ((cli->given & HR_CLI_JSON) != 0) {
        return hr_solve_json(result, &cli->report, text, &cli->report);
    }
    if ((cli->given & HR_CLI_CSV) != 0) {
        return hr_solve_csv(result, text, &cli->report);
    }
    return hr_solve_text(result, &settings, text, &cli->report);
}

static enum hr_status solve_one(struct hr_cli *cli, struct hr_source *source,
                                const struct hr_variant *variant, char **text)
{
    struct hr_result *result;
    const enum hr_status status = hr_solve(source, variant, &result, &cli->report);
    if (result == NULL) {
        return status;
    }
    enum hr_status shown = show(cli, result, text);
    if (shown == HR_OK) {
        shown = hr_cli_warn(cli, result->warning, result->warnings, false);
    }
    hr_cli_say_reason(cli, result);
    hr_result_free(result);
    return shown == HR_OK ? status : shown;
}

enum hr_status hr_cli_solve(struct hr_cli *cli)
{
    return hr_cli_loop(cli, solve_one);
}
