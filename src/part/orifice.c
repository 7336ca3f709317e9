/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const char *const taps[] = {"corner", "d-and-d/2", "flange", NULL};

static const struct hr_key keys[] = {
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = 1e-4,
     .max = 20,
     .required = true,
     .help = "inner diameter of the pipe"},
    {.name = "hole",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .required = true,
     .help = "diameter of the orifice"},
    {.name = "taps", .form = HR_FORM_CHOICE, .choices = taps, .help = "where the pressure is taken; corner"},
    {.name = "coefficient",
     .quantity = HR_NUMBER,
     .min = 0.3,
     .max = 1.2,
     .help = "a constant discharge coefficient instead of the standard's"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, NULL};

const struct hr_part_kind hr_kind_orifice = {
    .name = "orifice",
    .summary = "a measuring orifice after ISO 5167-2",
    .groups = groups,
    .ports = hr_ports_two,
};
