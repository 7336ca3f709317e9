/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const struct hr_key keys[] = {
    {.name = "reading_min",
     .quantity = HR_FLOW,
     .min = 0,
     .max = 1e3,
     .help = "below this flow it reads nothing"},
    {.name = "reading_max",
     .quantity = HR_FLOW,
     .min = 0,
     .max = 1e3,
     .help = "above this flow its reading is not stated"},
    {.name = "uncertainty", .quantity = HR_SHARE, .min = 0, .max = 1, .help = "of a reading"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

const struct hr_part_kind hr_kind_flow_meter = {
    .name = "flow-meter",
    .summary = "a flow meter",
    .groups = groups,
    .ports = hr_ports_two,
};
