/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const struct hr_key keys[] = {
    {.name = "opening_pressure",
     .quantity = HR_PRESSURE,
     .min = 0,
     .max = 1e8,
     .help = "pressure difference that opens it; 0 kPa"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

const struct hr_part_kind hr_kind_one_way_valve = {
    .name = "one-way-valve",
    .summary = "a valve that lets flow pass only along its arrow",
    .groups = groups,
    .ports = hr_ports_two,
};
