/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const char *const entrances[] = {"developing", "developed", NULL};
static const char *const frictions[] = {"churchill", "colebrook", "haaland", "swamee-jain", NULL};

static const struct hr_key keys[] = {
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .required = true,
     .help = "inner diameter"},
    {.name = "length",
     .quantity = HR_LENGTH,
     .min = 0,
     .max = 1e6,
     .required = true,
     .help = "length along the tube"},
    {.name = "roughness",
     .quantity = HR_LENGTH,
     .min = 0,
     .max = 0.1,
     .help = "height of the wall's roughness; 0 mm, a smooth plastic tube"},
    {.name = "zeta",
     .quantity = HR_NUMBER,
     .min = 0,
     .max = 1e9,
     .help = "further losses in velocity heads of the tube"},
    {.name = "fittings", .form = HR_FORM_COUNTS, .help = "fittings of the library by name: {elbow-90: 2}"},
    {.name = "entrance",
     .form = HR_FORM_CHOICE,
     .choices = entrances,
     .help = "developing: the flow starts flat at the inlet; developed: no entrance loss; developing"},
    {.name = "friction",
     .form = HR_FORM_CHOICE,
     .choices = frictions,
     .instead = "friction",
     .help = "friction law; churchill holds for all flows, the others laminar below Re 2000"},
    {.name = "friction_factor",
     .quantity = HR_NUMBER,
     .min = 1e-6,
     .max = 100,
     .instead = "friction",
     .help = "a constant Darcy friction factor, as in textbook problems"},
    {.name = "curve_radius",
     .quantity = HR_LENGTH,
     .min = 1e-4,
     .max = 1e4,
     .help = "radius of the bent tube's centre line"},
    {.name = "outer", .quantity = HR_LENGTH, .min = 1e-5, .max = 20, .help = "outer diameter"},
    {.name = "material", .form = HR_FORM_TEXT, .help = "of the wall"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, NULL};

const struct hr_part_kind hr_kind_tube = {
    .name = "tube",
    .summary = "a tube or hose with its fittings",
    .groups = groups,
    .ports = hr_ports_two,
    .library_run = true,
};
