/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the commands share: what was asked for, what was found, what is to be written. */
#ifndef HR_CLI_CLI_H
#define HR_CLI_CLI_H

#include "headrace/loop.h"
#include "headrace/show.h"

#include <stdbool.h>
#include <stddef.h>

#if defined(__GNUC__)
#define HR_CLI_PRINTF(text, first) __attribute__((format(printf, text, first)))
#else
#define HR_CLI_PRINTF(text, first)
#endif

/* Options as bits, so that a command can say which it takes. */
enum hr_cli_option {
    HR_CLI_SET = 1 << 0,
    HR_CLI_STATE = 1 << 1,
    HR_CLI_JSON = 1 << 2,
    HR_CLI_CSV = 1 << 3,
    HR_CLI_OUTPUT = 1 << 4,
    HR_CLI_UNITS = 1 << 5,
    HR_CLI_DETAIL = 1 << 6,
    HR_CLI_MODELS = 1 << 7,
    HR_CLI_TOLERANCE = 1 << 8,
    HR_CLI_GAIN = 1 << 9,
    HR_CLI_DISTANCE = 1 << 10,
    HR_CLI_HELP = 1 << 11,
    HR_CLI_VERSION = 1 << 12
};

struct hr_cli;

struct hr_cli_command {
    const char *name;
    const char *arguments; /* "FILE [options]" */
    const char *summary;
    const char *help;                          /* further sentences; NULL: none */
    unsigned options;                          /* those it takes, besides --help and --version */
    int least, most;                           /* arguments */
    const char *argument;                      /* what the first of them is, for messages */
    enum hr_status (*run)(struct hr_cli *cli); /* NULL: not there yet */
};

/* A warning for standard error, and how often it came. */
struct hr_cli_warning {
    struct hr_message message;
    size_t times;
};

/* One run of the program. Borrows the arguments of main; owns its lists. */
struct hr_cli {
    const struct hr_cli_command *command; /* NULL: none was named */
    const char *word;                     /* the command as written; NULL: none */
    const char **argument;                /* those that are no options, after the command */
    int arguments;
    unsigned given; /* bits of the options */
    struct hr_override *set;
    size_t sets;
    const char *state, *output, *units, *models;
    struct hr_sweep_settings sweep;
    struct hr_report report; /* errors of the whole run, warnings of the file */
    struct hr_cli_warning *warning;
    size_t warnings, warnings_room;
    char **piece; /* of the output, in order; on the heap */
    size_t pieces, pieces_room;
    char models_found[4096];
};

/* All commands, ended by one without a name; and one by its name or NULL. */
extern const struct hr_cli_command hr_cli_commands[];
const struct hr_cli_command *hr_cli_command(const char *name);

enum hr_status hr_cli_solve(struct hr_cli *cli);
enum hr_status hr_cli_sweep(struct hr_cli *cli);
enum hr_status hr_cli_check(struct hr_cli *cli);
enum hr_status hr_cli_parts(struct hr_cli *cli);

/* Adds an error without a place and returns `status`. */
enum hr_status hr_cli_fail(struct hr_cli *cli, enum hr_status status, const char *code, const char *format,
                           ...) HR_CLI_PRINTF(4, 5);
enum hr_status hr_cli_fail_memory(struct hr_cli *cli);

/* Reads the arguments of main; HR_USAGE with a sentence. */
enum hr_status hr_cli_options(struct hr_cli *cli, int argc, char *argv[]);

/* The option's spelling in messages; and the lines of --help for a command's options. */
const char *hr_cli_option_name(unsigned bit);
void hr_cli_option_help(unsigned taken);

/* The help of the program (`command` NULL) or of a command, on standard output. */
void hr_cli_help(const struct hr_cli_command *command);

/* The folder of the library of parts. HR_INPUT where --models names none. */
enum hr_status hr_cli_models(struct hr_cli *cli, const char **folder);

/* How tables are to look. */
struct hr_show_settings hr_cli_settings(const struct hr_cli *cli);

/* Calls `one` with the chosen state, or with every state of the file for --state all, and puts the outputs
 * together. HR_NO_RESULT where one has no solution; other failures end it. */
typedef enum hr_status hr_cli_one(struct hr_cli *cli, struct hr_source *source,
                                  const struct hr_variant *variant, char **text);
enum hr_status hr_cli_loop(struct hr_cli *cli, hr_cli_one *one);

/* Notes a result's sentence on standard error: why there is none. */
void hr_cli_say_reason(const struct hr_cli *cli, const struct hr_result *result);

/* Adds warnings to those for standard error. `by_place`: one for each code and place, whatever the text. */
enum hr_status hr_cli_warn(struct hr_cli *cli, const struct hr_message warning[], size_t count,
                           bool by_place);

/* Adds to the output: takes over a text of the heap (NULL: memory ran out), or copies one. */
enum hr_status hr_cli_add(struct hr_cli *cli, char *text);
enum hr_status hr_cli_add_copy(struct hr_cli *cli, const char *text);

/* Writes the output to its file or to standard output, all or nothing. */
enum hr_status hr_cli_write(struct hr_cli *cli);

/* Writes errors and warnings where they belong: standard error, or errors as JSON to standard output. */
void hr_cli_write_messages(struct hr_cli *cli);

/* Makes room for one more element: returns the list, perhaps moved, or NULL when memory is out (it is then
 * still valid). */
void *hr_cli_grow(void *list, size_t count, size_t *room, size_t size);

/* The nearest of several words, or NULL where none is near. */
const char *hr_cli_nearest(const char *word, const char *const names[], size_t count);

#endif
