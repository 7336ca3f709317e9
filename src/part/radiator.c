/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"
static const struct hr_key_group *const groups[] = {&hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    &hr_keys_radiator, NULL};

const struct hr_part_kind hr_kind_radiator = {
    .name = "radiator",
    .summary = "a radiator: coolant in tubes, air through the fins",
    .groups = groups,
    .ports = hr_ports_two,
};
