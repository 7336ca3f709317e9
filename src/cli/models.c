/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the library of parts is: --models, else the environment variable HEADRACE_MODELS, else beside the
 * installed program, else the tree that the program was built from, else where the build was going to install
 * it. */
#include "cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool is_folder(const char *path)
{
    struct stat facts;
    return stat(path, &facts) == 0 && S_ISDIR(facts.st_mode);
}

/* BINDIR/../share/headrace/models of the running program, in cli->models_found. */
static bool find_beside(struct hr_cli *cli)
{
    char program[sizeof cli->models_found];
    const ssize_t length = readlink("/proc/self/exe", program, sizeof program - 1);
    if (length <= 0) {
        return false;
    }
    program[length] = '\0';
    char *slash = strrchr(program, '/');
    if (slash == NULL) {
        return false;
    }
    *slash = '\0';
    const int written =
        snprintf(cli->models_found, sizeof cli->models_found, "%s/../share/headrace/models", program);
    return written > 0 && (size_t)written < sizeof cli->models_found && is_folder(cli->models_found);
}

enum hr_status hr_cli_models(struct hr_cli *cli, const char **folder)
{
    const char *environment = getenv("HEADRACE_MODELS");
    if (cli->models != NULL) {
        *folder = cli->models;
        return is_folder(cli->models) ? HR_OK
                                      : hr_cli_fail(cli, HR_INPUT, "no-folder",
                                                    "--models names '%s', which is no folder", cli->models);
    }
    if (environment != NULL && environment[0] != '\0') {
        *folder = environment;
        return is_folder(environment)
                   ? HR_OK
                   : hr_cli_fail(cli, HR_INPUT, "no-folder", "HEADRACE_MODELS names '%s', which is no folder",
                                 environment);
    }
    if (find_beside(cli)) {
        *folder = cli->models_found;
    } else {
        *folder = is_folder(HR_SOURCE_MODELS) ? HR_SOURCE_MODELS : HR_INSTALL_MODELS;
    }
    return HR_OK;
}
