/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An opened loop file and the library of parts, inside. */
#ifndef HR_READ_SOURCE_H
#define HR_READ_SOURCE_H

#include "read/description.h"
#include "read/names.h"
#include "read/yaml.h"

/* A model file that was read. */
struct hr_model_file {
    const char *name; /* as asked for */
    const char *path;
    const struct hr_yaml *root; /* NULL: it could not be read; the faults were reported with the first use */
    const struct hr_part_kind *kind;
};

struct hr_source {
    struct hr_arena arena;
    const char *file;       /* name of the loop file in messages; NULL: library alone */
    const char *folder;     /* of the loop file; NULL: none */
    const char *models_dir; /* NULL: none */
    const struct hr_yaml *root;
    const char **model_name; /* names of the library, sorted */
    size_t model_names;
    struct hr_model_file *model; /* those that were asked for */
    size_t models, model_room;
    struct hr_names by_name; /* as asked for -> index in `model` */
    const char **state;
    size_t states;
};

/* The model of a name or of a path relative to the loop file. Returns NULL after a reported fault at `at`. */
const struct hr_model_file *hr_library_model(struct hr_source *source, const char *name,
                                             const struct hr_origin *at, struct hr_report *report);

/* Reads the names of the library's files. */
enum hr_status hr_library_list(struct hr_source *source, struct hr_report *report);

/* Reads a whole regular file of at most HR_YAML_BYTES_MAX bytes into the heap. */
enum hr_status hr_file_read(const char *path, const struct hr_origin *at, char **text, size_t *length,
                            struct hr_report *report);

/* The kind that a node names, or NULL after a fault with the nearest name; "not yet" for kinds that are kept
 * for later. */
const struct hr_part_kind *hr_kind_named(const struct hr_yaml *node, const char *owner,
                                         struct hr_report *report);

#endif
