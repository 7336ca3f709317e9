/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const struct hr_key keys[] = {
    {.name = "connected", .form = HR_FORM_FLAG, .help = "false: parted, no flow; true"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

const struct hr_part_kind hr_kind_quick_disconnect = {
    .name = "quick-disconnect",
    .summary = "a coupling that shuts when parted; the loss is that of the mated pair",
    .groups = groups,
    .ports = hr_ports_two,
};
