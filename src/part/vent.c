/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const struct hr_key keys[] = {
    {.name = "open",
     .quantity = HR_SHARE,
     .min = 1e-3,
     .max = 1,
     .instead = "pressure drop",
     .help = "open share of the area"},
    {.name = "hole", .quantity = HR_LENGTH, .min = 1e-5, .max = 1, .help = "size of the holes; 5 mm"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_air_hydraulic, NULL};

const struct hr_part_kind hr_kind_vent = {
    .name = "vent",
    .summary = "a grille or vent in a panel",
    .groups = groups,
    .ports = hr_ports_two,
};
static const struct hr_key_group *const gap_groups[] = {&hr_keys_any, &hr_keys_air_hydraulic, NULL};

const struct hr_part_kind hr_kind_gap = {
    .name = "gap",
    .summary = "a gap or free opening in a case",
    .groups = gap_groups,
    .ports = hr_ports_two,
};
