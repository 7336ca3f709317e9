/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The values of a part one by one, those inside mappings too. */
#ifndef HR_SHOW_PART_VALUES_H
#define HR_SHOW_PART_VALUES_H

#include "part/params.h"
#include "show/json_write.h"
#include "show/units.h"

/* Called for each value that is no mapping; `path` is its key with those above it, "curve.speed". */
typedef void hr_value_visit(void *context, const char *path, const struct hr_value *value);

/* Walks over all values but the kind and the texts about the part. */
void hr_values_walk(const struct hr_params *params, hr_value_visit *visit, void *context);

/* Adds a value in builders' units; rows of numbers each on a line of its own that begins with `indent`. */
void hr_add_value(struct hr_text *text, const struct hr_value *value, const struct hr_shown_units *units,
                  const char *indent);

/* A value as JSON in SI: {"key", "value", "unit", "help"}; rows are lists with "units". */
json_t *hr_value_json(struct hr_json *json, const char *path, const struct hr_value *value);

#endif
