/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A flow meter: a pressure drop, and the flows between which it reads. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

#include <math.h>

static const struct hr_key keys[] = {
    {.name = "reading_min",
     .quantity = HR_FLOW,
     .min = 0,
     .max = 1e3,
     .help = "below this flow it reads nothing"},
    {.name = "reading_max",
     .quantity = HR_FLOW,
     .min = 0,
     .max = 1e3,
     .help = "above this flow its reading is not stated"},
    {.name = "uncertainty", .quantity = HR_SHARE, .min = 0, .max = 1, .help = "of a reading"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

struct meter {
    struct hr_passage passage;
    double reading_min;
    double reading_max;
};

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status =
        hr_passage_make(params, HR_LOSS_COOLANT, true, sizeof(struct meter), arena, part, report);
    if (status == HR_OK) {
        struct meter *meter = *part;
        meter->reading_min = hr_param_number(params, "reading_min", NAN);
        meter->reading_max = hr_param_number(params, "reading_max", NAN);
    }
    return status;
}

static void facts_of(const void *part, const struct hr_setting *setting, double flow,
                     struct hr_part_facts *facts)
{
    const struct meter *meter = part;
    hr_passage_facts(part, setting, flow, facts);
    hr_facts_range(facts, "reading", meter->reading_min, meter->reading_max,
                   flow / meter->passage.loss.parallel, "m3/s");
}

const struct hr_part_kind hr_kind_flow_meter = {
    .name = "flow-meter",
    .summary = "a flow meter",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = hr_passage_bind,
    .facts = facts_of,
    .volume = hr_passage_volume,
};
