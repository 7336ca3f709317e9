/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A valve: the generic form holds for the valve fully open. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

#include <math.h>

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

/* Share of the full flow coefficient at an opening: inherent characteristics after IEC 60534-2-4, the quick
 * one as the square root (common practice). The drop goes with the inverse square. */
static double coefficient_share(const struct hr_params *params, double opening)
{
    if (hr_param_is(params, "characteristic", "equal-percentage")) {
        return pow(hr_param_number(params, "rangeability", 50), opening - 1);
    }
    return hr_param_is(params, "characteristic", "quick") ? sqrt(opening) : opening;
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status = hr_passage_make_coolant(params, arena, part, report);
    if (status != HR_OK) {
        return status;
    }
    struct hr_passage *passage = *part;
    const double opening = hr_param_number(params, "opening", 1);
    passage->closed = opening <= 0;
    if (!passage->closed) {
        const double share = coefficient_share(params, opening);
        passage->factor = 1 / (share * share);
    }
    return status;
}

const struct hr_part_kind hr_kind_valve = {
    .name = "valve",
    .summary = "a valve with an opening",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = hr_passage_bind,
    .facts = hr_passage_facts,
    .volume = hr_passage_volume,
};
