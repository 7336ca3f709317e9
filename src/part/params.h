/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parameters of a part: which keys a kind knows, and the values a file gave them. The reader fills values
 * by the tables of the kinds; the kinds never see the file. */
#ifndef HR_PART_PARAMS_H
#define HR_PART_PARAMS_H

#include "base/memory.h"
#include "base/report.h"
#include "base/units.h"

#include <stdbool.h>
#include <stddef.h>

enum hr_form {
    HR_FORM_QUANTITY, /* number with a unit; HR_NUMBER: bare */
    HR_FORM_COUNT,    /* whole number >= 0 */
    HR_FORM_FLAG,     /* true / false (also yes / no, on / off) */
    HR_FORM_CHOICE,   /* one of `choices` */
    HR_FORM_TEXT,
    HR_FORM_NAME,   /* the name of another part or zone */
    HR_FORM_ROWS,   /* list of rows, each as long as `columns` */
    HR_FORM_LIST,   /* list of quantities of `columns[0]` */
    HR_FORM_MAP,    /* mapping with the keys of `sub` */
    HR_FORM_COUNTS, /* mapping of names to whole numbers (fittings) */
    HR_FORM_NAMES   /* list of names; a single name counts as a list of one */
};

enum { HR_COLUMNS_MAX = 4 };

struct hr_key_group;

/* One key that a file may write. Ranges are inclusive and in SI; both 0: none. They hold for the number as a
 * quantity of the plain meaning; a percentage of the highest speed is checked by the kind.
 *
 * A key that may be written in several shapes has several rows of the same name, next to each other, at most
 * one of each shape: a scalar (quantity, count, flag, choice, text, name), a list (rows, list, names), a
 * mapping (map, counts). The row whose shape the file shows is the one that holds. */
struct hr_key {
    const char *name;
    enum hr_form form;
    enum hr_quantity quantity;
    double min, max;
    bool required;
    const char *instead; /* keys with the same word here exclude each other: one form of the part's law */
    const char *const *choices; /* ended by NULL */
    enum hr_quantity columns[HR_COLUMNS_MAX];
    size_t column_count;
    const struct hr_key_group *sub; /* of HR_FORM_MAP */
    const char *help;               /* one line for `headrace parts` and docs */
};

struct hr_key_group {
    const struct hr_key *keys;
    size_t count;
};

/* A speed under control: {from: t1, points: [[30 degC, 600 rpm], …], hysteresis: 2 K}. */
struct hr_control {
    const char *sensor;
    size_t count;
    double *temperature_c;
    double *speed; /* rpm, or 0..1 where `percent` */
    bool percent;
    double hysteresis_k;
};

struct hr_params;

/* A value with its place. `number` also carries counts and flags (0 or 1); `text` choices, names and texts.
 */
struct hr_value {
    const struct hr_key *key;
    struct hr_origin at;
    double number;
    double sd;
    enum hr_meaning meaning;
    const char *text;
    double *rows; /* row by row, row_count * column_count, SI */
    size_t row_count;
    size_t column_count;
    enum hr_meaning column_meaning[HR_COLUMNS_MAX]; /* the same in every row */
    struct hr_params *map;
    const char *
        *names; /* of HR_FORM_COUNTS and HR_FORM_NAMES, `row_count` of them; the counts are in `rows` */
    struct hr_control *control;
    bool fit;
    double fit_min, fit_max; /* NaN where not given */
};

/* Values in the order of the file, at most one per key. Borrowed from the arena of whoever read them. */
struct hr_params {
    const char *owner; /* "part 'gpu'", for messages */
    struct hr_origin at;
    struct hr_value *value;
    size_t count;
};

/* The value of a key, or NULL where the file gave none. */
const struct hr_value *hr_param(const struct hr_params *params, const char *name);

/* The number of a key, or `otherwise`. */
double hr_param_number(const struct hr_params *params, const char *name, double otherwise);

/* The text of a key, or `otherwise`. */
const char *hr_param_text(const struct hr_params *params, const char *name, const char *otherwise);

/* True where the key is a choice, name or text equal to `word`. */
bool hr_param_is(const struct hr_params *params, const char *name, const char *word);

/* The values of a mapping, or NULL where the file gave none. */
const struct hr_params *hr_param_map(const struct hr_params *params, const char *name);

#endif
