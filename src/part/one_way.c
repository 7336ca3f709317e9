/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A one-way valve: shut against its arrow and below its opening pressure, the generic form beyond that. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

static const struct hr_key keys[] = {
    {.name = "opening_pressure",
     .quantity = HR_PRESSURE,
     .min = 0,
     .max = 1e8,
     .help = "pressure difference that opens it; 0 kPa"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

struct one_way {
    struct hr_passage passage;
    double opening_pressure; /* of all in series */
};

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status =
        hr_passage_make(params, HR_LOSS_COOLANT, true, sizeof(struct one_way), arena, part, report);
    if (status == HR_OK) {
        struct one_way *valve = *part;
        valve->passage.one_way = true;
        valve->opening_pressure = hr_param_number(params, "opening_pressure", 0) * valve->passage.loss.series;
    }
    return status;
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct one_way *valve = part;
    hr_passage_bind(part, setting, branch);
    if (valve->opening_pressure > 0) {
        branch->law[branch->law_count++] = hr_law_offset(valve->opening_pressure);
    }
}

const struct hr_part_kind hr_kind_one_way_valve = {
    .name = "one-way-valve",
    .summary = "a valve that lets flow pass only along its arrow",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .facts = hr_passage_facts,
    .volume = hr_passage_volume,
};
