/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A filter in the coolant, clean or fouled. */
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
     .help = "pressure drop when fouled over that when clean; 5"},
    {.name = "mesh", .quantity = HR_LENGTH, .min = 1e-7, .max = 0.1, .help = "width of the mesh"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

/* "Clean or fouled up to x5" is common practice for mesh filters in small loops; no source. */
static const double FOULED_FACTOR = 5;

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status = hr_passage_make_coolant(params, arena, part, report);
    if (status == HR_OK) {
        ((struct hr_passage *)*part)->factor = hr_passage_fouling(params, FOULED_FACTOR);
    }
    return status;
}

const struct hr_part_kind hr_kind_filter = {
    .name = "filter",
    .summary = "a filter or strainer in the coolant",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = hr_passage_bind,
    .facts = hr_passage_facts,
    .volume = hr_passage_volume,
};
