/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"
static const struct hr_key_group *const groups[] = {&hr_keys_any, &hr_keys_fan, NULL};

const struct hr_part_kind hr_kind_fan = {
    .name = "fan",
    .summary = "fans side by side",
    .groups = groups,
    .ports = hr_ports_two,
};
