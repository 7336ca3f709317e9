/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const char *const states[] = {"clean", "fouled", NULL};

static const struct hr_key keys[] = {
    {.name = "state",
     .form = HR_FORM_CHOICE,
     .choices = states,
     .instead = "fouling",
     .help = "clean or fouled; clean"},
    {.name = "fouling",
     .quantity = HR_SHARE,
     .min = 0,
     .max = 1,
     .instead = "fouling",
     .help = "between clean (0 %) and fouled (100 %); 0 %"},
    {.name = "fouled_factor",
     .quantity = HR_NUMBER,
     .min = 1,
     .max = 1e4,
     .help = "pressure drop when fouled over that when clean; 3"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_air_hydraulic, NULL};

const struct hr_part_kind hr_kind_air_filter = {
    .name = "air-filter",
    .summary = "a dust filter in the air",
    .groups = groups,
    .ports = hr_ports_two,
};
