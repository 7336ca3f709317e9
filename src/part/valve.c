/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const char *const characteristics[] = {"linear", "equal-percentage", "quick", NULL};

static const struct hr_key keys[] = {
    {.name = "opening", .quantity = HR_SHARE, .min = 0, .max = 1, .help = "0 % is shut; 100 %"},
    {.name = "characteristic",
     .form = HR_FORM_CHOICE,
     .choices = characteristics,
     .help = "flow coefficient against opening; linear"},
    {.name = "rangeability", .quantity = HR_NUMBER, .min = 2, .max = 1e4, .help = "of equal-percentage; 50"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

const struct hr_part_kind hr_kind_valve = {
    .name = "valve",
    .summary = "a valve with an opening",
    .groups = groups,
    .ports = hr_ports_two,
};
