/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A reservoir. Its loss is a generic form; with a bore alone that of its ports; without either it is
 * lossless. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

#include <math.h>

static const struct hr_key keys[] = {
    {.name = "reference",
     .form = HR_FORM_FLAG,
     .help = "true: this one of several holds the loop's reference pressure"},
    {.name = "open", .form = HR_FORM_FLAG, .help = "true: open to the room, at its pressure; false"},
    {.name = "pressure",
     .quantity = HR_PRESSURE,
     .min = -1e5,
     .max = 1e8,
     .help = "gauge pressure at its outlet; 0 kPa"},
    {.name = "air",
     .quantity = HR_VOLUME,
     .min = 0,
     .max = 1e3,
     .help = "air cushion above the coolant when cold"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

/* The loss of entering and leaving where none is given: a jet's whole head at the inlet and a sharp entrance
 * at the outlet, on the velocity in the ports (Crane TP-410: exit 1, sharp entrance 0.5). */
static const double PORTS_ZETA = 1.5;

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status =
        hr_passage_make(params, HR_LOSS_COOLANT, false, sizeof(struct hr_passage), arena, part, report);
    if (status != HR_OK) {
        return status;
    }
    struct hr_passage *passage = *part;
    if (passage->loss.form == HR_LOSS_NONE && !isnan(passage->loss.bore)) {
        passage->loss.form = HR_LOSS_ZETA;
        passage->loss.a = PORTS_ZETA;
        passage->loss.similar = false;
    }
    return status;
}

const struct hr_part_kind hr_kind_reservoir = {
    .name = "reservoir",
    .summary = "a reservoir; one in a loop holds the reference pressure",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = hr_passage_bind,
    .facts = hr_passage_facts,
    .volume = hr_passage_volume,
};
