/* SPDX-License-Identifier: GPL-3.0-or-later */
/* headrace check. Its findings are the output itself, and are not repeated on standard error. */
#include "cli.h"

static enum hr_status check_one(struct hr_cli *cli, struct hr_source *source,
                                const struct hr_variant *variant, char **text)
{
    const struct hr_show_settings settings = hr_cli_settings(cli);
    struct hr_result *result;
    const enum hr_status status = hr_check(source, variant, &result, &cli->report);
    if (result == NULL) {
        return status;
    }
    const enum hr_status shown = (cli->given & HR_CLI_JSON) != 0
                                     ? hr_solve_json(result, &cli->report, text, &cli->report)
                                     : hr_check_text(result, &cli->report, &settings, text, &cli->report);
    hr_cli_say_reason(cli, result);
    hr_result_free(result);
    return shown == HR_OK ? status : shown;
}

enum hr_status hr_cli_check(struct hr_cli *cli)
{
    return hr_cli_loop(cli, check_one);
}
