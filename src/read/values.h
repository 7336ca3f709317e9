/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A mapping and a table of keys become parameters. */
#ifndef HR_READ_VALUES_H
#define HR_READ_VALUES_H

#include "part/params.h"
#include "read/yaml.h"

/* A name inside a value that is known only when the whole file has been read. */
struct hr_mention {
    const char *name;
    const char *key;   /* as in messages */
    const char *owner; /* as in messages */
    struct hr_origin at;
    bool sensor; /* must be a sensor; else a part, a run or a zone */
};

/* What all stages of reading share: where memory comes from, where faults go. */
struct hr_reader {
    struct hr_arena *arena;
    struct hr_report *report;
    struct hr_mention *mention;
    size_t mentions, mention_room;
};

/* One mapping to be read. */
struct hr_values_job {
    const struct hr_yaml *map;
    const struct hr_key_group *const *groups; /* ended by NULL */
    const char *owner;                        /* "part 'gpu'" */
    const char *kind;                         /* its kind's name for messages; NULL: none */
    const struct hr_params *parent;           /* of a mapping in a mapping; NULL: none */
    const char *path;                         /* "curve." in front of the keys of that mapping; "" else */
};

/* Reads all keys of the mapping. Returns true when every value is good; else the faults are in the report and
 * the parameters lack the wrong ones. *params is NULL only when memory is out. */
bool hr_values_read(struct hr_reader *reader, const struct hr_values_job *job,
                    const struct hr_params **params);

/* The row of a key whose shape fits the node, or its first row, or NULL where no group has the key. */
const struct hr_key *hr_values_key(const struct hr_key_group *const *groups, const char *name,
                                   const struct hr_yaml *node);

/* The nearest name among the keys, or NULL. */
const char *hr_values_nearest(const struct hr_key_group *const *groups, const char *name);

/* Lays `over` on `base`: keys replace each other as a whole, and one of a set of keys that exclude each other
 * (`instead`) removes the others of `base`. NULL when memory is out. Either may be NULL. */
const struct hr_yaml *hr_values_merge(struct hr_arena *arena, const struct hr_yaml *base,
                                      const struct hr_yaml *over, const struct hr_key_group *const *groups);

/* Adds an error unless one stands at the same place already; a value that serves several uses is wrong once.
 * Returns false. */
bool hr_fault(struct hr_reader *reader, const char *code, const struct hr_origin *at, const char *format, ...)
    HR_PRINTF(4, 5);

/* Removes errors and warnings from `first_error` and `first_warning` on that repeat an earlier one's place
 * and code. */
void hr_report_thin(struct hr_report *report, size_t first_error, size_t first_warning);

/* True where the text is a name: letters, digits, '_' and '-'. */
bool hr_is_name(const char *text);

/* "; did you mean 'x'?" or "", in `buffer`, which is returned. */
const char *hr_did_you_mean(const char *nearest, char *buffer, size_t room);

#endif
