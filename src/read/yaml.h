/* SPDX-License-Identifier: GPL-3.0-or-later */
/* YAML as a tree of nodes that know where they were written. Scalars stay text. */
#ifndef HR_READ_YAML_H
#define HR_READ_YAML_H

#include "base/memory.h"
#include "base/report.h"

#include <stdbool.h>
#include <stddef.h>

enum {
    HR_YAML_BYTES_MAX = 8 * 1024 * 1024, /* of one file */
    HR_YAML_NODES_MAX = 1000000,         /* of one file, aliases counted as often as they are used */
    HR_YAML_DEPTH_MAX = 48               /* of nesting, through aliases too */
};

enum hr_yaml_kind { HR_YAML_SCALAR, HR_YAML_LIST, HR_YAML_MAP };

/* A node; one that is used through aliases is shared, never copied, and never changed after reading. */
struct hr_yaml {
    enum hr_yaml_kind kind;
    bool plain;      /* a scalar without quotes */
    unsigned height; /* 1 for scalars and empty collections */
    size_t weight;   /* nodes of the whole tree below, aliases counted at each use */
    struct hr_origin at;
    const char *text;             /* of scalars, ended by NUL and free of others */
    size_t count;                 /* of items */
    const struct hr_yaml **key;   /* of maps: scalars, all different */
    const struct hr_yaml **value; /* of lists and maps */
};

/* Reads a text into `arena`. `start` is the place of its first character; its file name is
 * borrowed by the origins. An empty text gives *root NULL and HR_OK. The
 * first fault ends the reading, as nothing after it can be trusted. */
enum hr_status hr_yaml_read(struct hr_arena *arena, const char *text, size_t length,
                            const struct hr_origin *start, const struct hr_yaml **root,
                            struct hr_report *report);

/* A scalar that stands for nothing: plain and empty, `~` or `null`. */
bool hr_yaml_is_null(const struct hr_yaml *node);

/* True for a scalar with this text. */
bool hr_yaml_is(const struct hr_yaml *node, const char *text);

/* The value of a key, or NULL; NULL too where `map` is NULL or no map. */
const struct hr_yaml *hr_yaml_get(const struct hr_yaml *map, const char *key);

/* The place of a key of `map`; the map's own where it is missing. */
struct hr_origin hr_yaml_key_at(const struct hr_yaml *map, const char *key);

/* "a list", "a mapping", "text 'abc'", in `room` bytes of `buffer`, which is returned. */
const char *hr_yaml_describe(const struct hr_yaml *node, char *buffer, size_t room);

/* New nodes for values laid over the file; NULL when memory is out. The map copies start with the entries of
 * `map`, which may be NULL, with room for `more`; entries are then put by hr_yaml_put, which replaces a key
 * or appends it. */
struct hr_yaml *hr_yaml_map_copy(struct hr_arena *arena, const struct hr_yaml *map, size_t more,
                                 const struct hr_origin *at);
void hr_yaml_put(struct hr_yaml *map, const struct hr_yaml *key, const struct hr_yaml *value);
struct hr_yaml *hr_yaml_scalar(struct hr_arena *arena, const char *text, const struct hr_origin *at);

#endif
