/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking values up. Parts have few values, so a linear search is the right one. */
#include "part/params.h"

#include <string.h>

const struct hr_value *hr_param(const struct hr_params *params, const char *name)
{
    if (params == NULL) {
        return NULL;
    }
    for (size_t i = 0; i < params->count; i++) {
        if (strcmp(params->value[i].key->name, name) == 0) {
            return &params->value[i];
        }
    }
    return NULL;
}

double hr_param_number(const struct hr_params *params, const char *name, double otherwise)
{
    const struct hr_value *value = hr_param(params, name);
    return value == NULL ? otherwise : value->number;
}

const char *hr_param_text(const struct hr_params *params, const char *name, const char *otherwise)
{
    const struct hr_value *value = hr_param(params, name);
    return value == NULL || value->text == NULL ? otherwise : value->text;
}

bool hr_param_is(const struct hr_params *params, const char *name, const char *word)
{
    const char *text = hr_param_text(params, name, NULL);
    return text != NULL && strcmp(text, word) == 0;
}

const struct hr_params *hr_param_map(const struct hr_params *params, const char *name)
{
    const struct hr_value *value = hr_param(params, name);
    return value == NULL ? NULL : value->map;
}
