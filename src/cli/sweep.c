/* SPDX-License-Identifier: GPL-3.0-or-later */
/* headrace sweep */
#include "cli.h"

#include <string.h>

static enum hr_status show(struct hr_cli *cli, const struct hr_sweep *sweep, char **text)
{
    const struct hr_show_settings settings = hr_cli_settings(cli);
    if ((cli->given & HR_CLI_JSON) != 0) {
        return hr_sweep_json(sweep, &cli->report, text, &cli->report);
    }
    if ((cli->given & HR_CLI_CSV) != 0) {
        return hr_sweep_csv(sweep, text, &cli->report);
    }
    return hr_sweep_text(sweep, &settings, text, &cli->report);
}

static enum hr_status sweep_one(struct hr_cli *cli, struct hr_source *source,
                                const struct hr_variant *variant, char **text)
{
    struct hr_sweep *sweep;
    const enum hr_status status = hr_sweep(source, variant, cli->argument + 1, (size_t)cli->arguments - 1,
                                           &cli->sweep, &sweep, &cli->report);
    if (sweep == NULL) {
        return status;
    }
    enum hr_status shown = show(cli, sweep, text);
    for (size_t i = 0; i < sweep->points && shown == HR_OK; i++) {
        shown = hr_cli_warn(cli, sweep->point[i]->warning, sweep->point[i]->warnings, true);
    }
    if (status == HR_NO_RESULT) {
        hr_cli_say_reason(cli, sweep->point[0]);
    }
    hr_sweep_free(sweep);
    return shown == HR_OK ? status : shown;
}

enum hr_status hr_cli_sweep(struct hr_cli *cli)
{
    if (cli->state != NULL && strcmp(cli->state, "all") == 0) {
        return hr_cli_fail(cli, HR_USAGE, "usage", "sweep takes one state; name it, or leave --state out");
    }
    return hr_cli_loop(cli, sweep_one);
}
