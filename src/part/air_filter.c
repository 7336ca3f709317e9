/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A dust filter in the air, clean or fouled. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

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

/* Common practice for dust filters, no source. */
static const double FOULED_FACTOR = 3;

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status =
        hr_passage_make(params, HR_LOSS_AIR, true, sizeof(struct hr_passage), arena, part, report);
    if (status == HR_OK) {
        ((struct hr_passage *)*part)->factor = hr_passage_fouling(params, FOULED_FACTOR);
    }
    return status;
}

const struct hr_part_kind hr_kind_air_filter = {
    .name = "air-filter",
    .summary = "a dust filter in the air",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = hr_passage_bind,
    .facts = hr_passage_facts,
};
