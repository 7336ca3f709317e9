/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const char *const methods[] = {"ito", "crane", NULL};

static const struct hr_key keys[] = {
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .required = true,
     .help = "inner diameter"},
    {.name = "radius",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 1e3,
     .required = true,
     .help = "radius of the centre line"},
    {.name = "angle", .quantity = HR_ANGLE, .min = 1, .max = 360, .help = "how far it turns; 90 deg"},
    {.name = "method",
     .form = HR_FORM_CHOICE,
     .choices = methods,
     .help = "ito: Ito 1960 with Reynolds number; crane: Crane TP-410 r/D table; ito"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, NULL};

const struct hr_part_kind hr_kind_bend = {
    .name = "bend",
    .summary = "a smooth bend of a tube",
    .groups = groups,
    .ports = hr_ports_two,
};
