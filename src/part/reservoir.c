/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const struct hr_key keys[] = {
    {.name = "reference",
     .form = HR_FORM_FLAG,
     .help = "true: this one of several holds the loop's reference pressure"},
    {.name = "open", .form = HR_FORM_FLAG, .help = "true: open to the room, at its pressure; false"},
    {.name = "pressure",
     .quantity = HR_PRESSURE,
     .min = -1e5,
     .max = 1e8,
     .help = "gauge pressure at its outlet; 0 kPa"},
    {.name = "air",
     .quantity = HR_VOLUME,
     .min = 0,
     .max = 1e3,
     .help = "air cushion above the coolant when cold"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

const struct hr_part_kind hr_kind_reservoir = {
    .name = "reservoir",
    .summary = "a reservoir; one in a loop holds the reference pressure",
    .groups = groups,
    .ports = hr_ports_two,
};
