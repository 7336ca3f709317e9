/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading the command line. Options may stand anywhere; "--" ends them. */
#include "cli.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct option {
    const char *name;  /* without the dashes */
    const char *value; /* what follows it; NULL: nothing */
    const char *help;
    unsigned bit;
    char letter; /* 0: none */
};

static const struct option options[] = {
    {"set", "PATH=VALUE", "put a value over the file's, such as pump.speed=\"2400 rpm\"; may be repeated",
     HR_CLI_SET, 0},
    {"state", "NAME", "take a state of the file; 'all': one after the other", HR_CLI_STATE, 0},
    {"json", NULL, "write JSON: SI units, full precision; errors too", HR_CLI_JSON, 0},
    {"csv", NULL, "write comma-separated values: SI units, full precision", HR_CLI_CSV, 0},
    {"output", "FILE", "write to a file, which appears as a whole or not at all", HR_CLI_OUTPUT, 'o'},
    {"units", "LIST", "units of tables, such as gpm,psi,degF", HR_CLI_UNITS, 0},
    {"detail", NULL, "show all columns and the solver's account", HR_CLI_DETAIL, 0},
    {"models", "DIR", "folder of the library of parts", HR_CLI_MODELS, 0},
    {"tolerance", "K", "'enough' is within so many kelvin of the best; 1 K", HR_CLI_TOLERANCE, 0},
    {"gain", "K", "a gain below so many kelvin for 100 rpm is small; 0.2 K", HR_CLI_GAIN, 0},
    {"distance", "LENGTH", "where one listens", HR_CLI_DISTANCE, 0},
    {"help", NULL, "show this help", HR_CLI_HELP, 'h'},
    {"version", NULL, "show the version", HR_CLI_VERSION, 0},
};

enum { OPTIONS = sizeof options / sizeof options[0] };

const char *hr_cli_option_name(unsigned bit)
{
    for (size_t i = 0; i < OPTIONS; i++) {
        if (options[i].bit == bit) {
            return options[i].name;
        }
    }
    return "";
}

void hr_cli_option_help(unsigned taken)
{
    for (size_t i = 0; i < OPTIONS; i++) {
        const struct option *option = &options[i];
        if ((taken & option->bit) != 0) {
            char shown[48];
            char letter[8] = "";
            if (option->letter != 0) {
                (void)snprintf(letter, sizeof letter, "-%c, ", option->letter);
            }
            (void)snprintf(shown, sizeof shown, "%s--%s%s%s", letter, option->name,
                           option->value != NULL ? " " : "", option->value != NULL ? option->value : "");
            (void)printf("  %-20s  %s\n", shown, option->help);
        }
    }
}

/* "1 K" or "1" as a number of kelvin above zero. */
static bool read_kelvin(const char *text, double *value)
{
    const size_t length = strspn(text, "0123456789.");
    char *end;
    if (length == 0) {
        return false;
    }
    const double number = strtod(text, &end); /* the locale is "C": nobody sets another */
    if (end != text + length) {
        return false;
    }
    end += strspn(end, " ");
    end += *end == 'K' ? 1 : 0;
    if (*end != '\0' || !isfinite(number) || number <= 0.0) {
        return false;
    }
    *value = number;
    return true;
}

static enum hr_status take_kelvin(struct hr_cli *cli, const struct option *option, const char *value,
                                  double *target)
{
    return read_kelvin(value, target)
               ? HR_OK
               : hr_cli_fail(cli, HR_USAGE, "usage",
                             "--%s takes a temperature difference above zero, such as 0.5 K; found '%s'",
                             option->name, value);
}

static enum hr_status take_set(struct hr_cli *cli, char *value)
{
    char *equals = strchr(value, '=');
    if (equals == NULL || equals == value) {
        return hr_cli_fail(cli, HR_USAGE, "usage",
                           "--set takes PATH=VALUE, such as pump.speed=\"2400 rpm\"; found '%s'", value);
    }
    *equals = '\0';
    cli->set[cli->sets++] = (struct hr_override){value, equals + 1};
    return HR_OK;
}

static enum hr_status take(struct hr_cli *cli, const struct option *option, char *value)
{
    const bool twice = (cli->given & option->bit) != 0 && option->bit != HR_CLI_SET && option->value != NULL;
    if (twice) {
        return hr_cli_fail(cli, HR_USAGE, "usage", "--%s is given twice; give it once", option->name);
    }
    cli->given |= option->bit;
    switch (option->bit) {
    case HR_CLI_SET:
        return take_set(cli, value);
    case HR_CLI_STATE:
        cli->state = value;
        break;
    case HR_CLI_OUTPUT:
        cli->output = value;
        break;
    case HR_CLI_UNITS:
        cli->units = value;
        break;
    case HR_CLI_MODELS:
        cli->models = value;
        break;
    case HR_CLI_TOLERANCE:
        return take_kelvin(cli, option, value, &cli->sweep.tolerance_k);
    case HR_CLI_GAIN:
        return take_kelvin(cli, option, value, &cli->sweep.gain_k);
    default:
        break;
    }
    return HR_OK;
}

static enum hr_status fail_unknown(struct hr_cli *cli, const char *text)
{
    const char *names[OPTIONS];
    char word[40];
    for (size_t i = 0; i < OPTIONS; i++) {
        names[i] = options[i].name;
    }
    const char *bare = text + strspn(text, "-");
    (void)snprintf(word, sizeof word, "%.*s", (int)strcspn(bare, "="), bare);
    const char *nearest = hr_cli_nearest(word, names, OPTIONS);
    return hr_cli_fail(cli, HR_USAGE, "usage", "there is no option '%s'%s%s%s", text,
                       nearest != NULL ? "; did you mean '--"
                                       : "; 'headrace --help' lists the commands and their options",
                       nearest != NULL ? nearest : "", nearest != NULL ? "'?" : "");
}

/* The option that an argument names, and where its value begins in it (NULL: not there). */
static const struct option *find(char *text, char **value)
{
    *value = NULL;
    const bool is_long = text[1] == '-';
    const size_t length = strcspn(text + 2, "=");
    for (size_t i = 0; i < OPTIONS; i++) {
        const struct option *option = &options[i];
        if (is_long && strncmp(text + 2, option->name, length) == 0 && option->name[length] == '\0') {
            *value = text[2 + length] == '=' ? text + 3 + length : NULL;
            return option;
        }
        if (!is_long && option->letter == text[1] && (text[2] == '\0' || option->value != NULL)) {
            *value = text[2] != '\0' ? text + 2 : NULL;
            return option;
        }
    }
    return NULL;
}

/* Reads the option argv[*at], with a value that may be in the next argument. */
static enum hr_status read_option(struct hr_cli *cli, int argc, char *argv[], int *at)
{
    char *text = argv[*at];
    char *value;
    const struct option *option = find(text, &value);
    if (option == NULL) {
        return fail_unknown(cli, text);
    }
    if (option->value == NULL && value != NULL) {
        return hr_cli_fail(cli, HR_USAGE, "usage", "--%s takes no value; found '%s'", option->name, value);
    }
    if (option->value != NULL && value == NULL) {
        if (*at + 1 >= argc) {
            return hr_cli_fail(cli, HR_USAGE, "usage", "--%s needs a value: --%s %s", option->name,
                               option->name, option->value);
        }
        value = argv[++*at];
    }
    return take(cli, option, value != NULL ? value : text + strlen(text));
}

static enum hr_status check_together(struct hr_cli *cli)
{
    if ((cli->given & HR_CLI_JSON) != 0 && (cli->given & HR_CLI_CSV) != 0) {
        return hr_cli_fail(cli, HR_USAGE, "usage", "--json and --csv exclude each other; give one of them");
    }
    if (cli->output != NULL && cli->output[0] == '\0') {
        return hr_cli_fail(cli, HR_USAGE, "usage", "--output needs the name of a file");
    }
    return HR_OK;
}

enum hr_status hr_cli_options(struct hr_cli *cli, int argc, char *argv[])
{
    const size_t room = argc > 0 ? (size_t)argc : 1;
    cli->sweep = hr_sweep_defaults();
    cli->argument = calloc(room, sizeof *cli->argument);
    cli->set = calloc(room, sizeof *cli->set);
    if (cli->argument == NULL || cli->set == NULL) {
        return hr_cli_fail_memory(cli);
    }
    bool options_ended = false;
    for (int i = 1; i < argc; i++) {
        if (!options_ended && strcmp(argv[i], "--") == 0) {
            options_ended = true;
        } else if (!options_ended && argv[i][0] == '-' && argv[i][1] != '\0') {
            (void)read_option(cli, argc, argv, &i); /* goes on, so that a --json further on is seen too */
        } else if (cli->word == NULL) {
            cli->word = argv[i];
        } else {
            cli->argument[cli->arguments++] = argv[i];
        }
    }
    return cli->report.status != HR_OK ? cli->report.status : check_together(cli);
}
