/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"
static const struct hr_key_group *const groups[] = {&hr_keys_any, &hr_keys_coolant, &hr_keys_pump, NULL};

const struct hr_part_kind hr_kind_pump = {
    .name = "pump",
    .summary = "a pump, by its curve; or an ideal one by its flow or power",
    .groups = groups,
    .ports = hr_ports_two,
};
