/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const char *const types[] = {
    "elbow-90",    "elbow-90-long", "elbow-90-mitre", "elbow-45",   "elbow-45-long",
    "return-180",  "tee-run",       "tee-branch",     "gate-valve", "ball-valve",
    "globe-valve", "angle-valve",   "swing-check",    "lift-check", NULL};
static const char *const methods[] = {"2-k", "3-k", NULL};

static const struct hr_key keys[] = {
    {.name = "type",
     .form = HR_FORM_CHOICE,
     .choices = types,
     .instead = "pressure drop",
     .help = "a common fitting whose constants are built in"},
    {.name = "method",
     .form = HR_FORM_CHOICE,
     .choices = methods,
     .help = "2-k (Hooper 1981) or 3-k (Darby 2001) constants of `type`; 2-k"},
    {.name = "k1",
     .quantity = HR_NUMBER,
     .min = 0,
     .max = 1e6,
     .instead = "pressure drop",
     .help = "K1 of K = K1/Re + K_inf (1 + 1 in/bore), or of the 3-K form"},
    {.name = "k_inf", .quantity = HR_NUMBER, .min = 0, .max = 1e4, .help = "K_inf of the 2-K form"},
    {.name = "ki",
     .quantity = HR_NUMBER,
     .min = 0,
     .max = 1e4,
     .help = "Ki of K = K1/Re + Ki (1 + Kd / (nominal in inches)^0.3)"},
    {.name = "kd", .quantity = HR_NUMBER, .min = 0, .max = 1e3, .help = "Kd of the 3-K form"},
    {.name = "nominal",
     .quantity = HR_LENGTH,
     .min = 1e-4,
     .max = 20,
     .help = "nominal bore of the 3-K form; the bore"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

const struct hr_part_kind hr_kind_fitting = {
    .name = "fitting",
    .summary = "an elbow, union or other fitting with losses of the 2-K or 3-K form",
    .groups = groups,
    .ports = hr_ports_two,
};
