/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"

static const struct hr_key keys[] = {
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .required = true,
     .help = "inner diameter of the run from a to b"},
    {.name = "side_bore",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .help = "inner diameter of the side port; that of the run"},
    {.name = "angle",
     .quantity = HR_ANGLE,
     .min = 30,
     .max = 90,
     .help = "between the side port and the run's a end; a tee 90 deg, a y 45 deg"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, NULL};
static const char *const ports[] = {"a", "b", "side", NULL};

const struct hr_part_kind hr_kind_tee = {
    .name = "tee",
    .summary = "a tee: a straight run from a to b with a side port",
    .groups = groups,
    .ports = ports,
};

const struct hr_part_kind hr_kind_y = {
    .name = "y",
    .summary = "a y: as a tee, the side port slanting; flow from a divides gently to b and side",
    .groups = groups,
    .ports = ports,
};
