/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of part kinds. */
#include "part/kind.h"

#include "part/kinds.h"

#include <string.h>

const struct hr_part_kind *const hr_part_kinds[] = {
    &hr_kind_tube,
    &hr_kind_fitting,
    &hr_kind_bend,
    &hr_kind_tee,
    &hr_kind_y,
    &hr_kind_resistance,
    &hr_kind_orifice,
    &hr_kind_valve,
    &hr_kind_one_way_valve,
    &hr_kind_quick_disconnect,
    &hr_kind_filter,
    &hr_kind_flow_meter,
    &hr_kind_reservoir,
    &hr_kind_block,
    &hr_kind_radiator,
    &hr_kind_pump,
    &hr_kind_pump_block,
    &hr_kind_fan,
    &hr_kind_vent,
    &hr_kind_air_filter,
    &hr_kind_gap,
    NULL,
};

const char *const hr_ports_two[] = {"in", "out", NULL};

const struct hr_part_kind *hr_part_kind_find(const char *name)
{
    for (size_t i = 0; hr_part_kinds[i] != NULL; i++) {
        if (strcmp(hr_part_kinds[i]->name, name) == 0) {
            return hr_part_kinds[i];
        }
    }
    return NULL;
}

const struct hr_key *hr_part_kind_key(const struct hr_part_kind *kind, const char *name)
{
    for (size_t g = 0; kind->groups[g] != NULL; g++) {
        for (size_t i = 0; i < kind->groups[g]->count; i++) {
            if (strcmp(kind->groups[g]->keys[i].name, name) == 0) {
                return &kind->groups[g]->keys[i];
            }
        }
    }
    return NULL;
}
