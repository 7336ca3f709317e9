/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pump and a block in one: the pump's curve and the passive path in series. */
#include "part/block.h"
#include "part/keys.h"
#include "part/kinds.h"
#include "part/pump.h"
static const struct hr_key_group *const groups[] = {&hr_keys_any,
                                                    &hr_keys_coolant,
                                                    &hr_keys_hydraulic,
                                                    &hr_keys_heated,
                                                    &hr_keys_block_geometry,
                                                    &hr_keys_pump,
                                                    NULL};

struct pump_block {
    struct hr_block block;
    struct hr_pump pump;
};

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status =
        hr_block_make(params, false, sizeof(struct pump_block), arena, part, report);
    return status == HR_OK ? hr_pump_make(params, arena, &((struct pump_block *)*part)->pump, report)
                           : status;
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    hr_block_bind(part, setting, branch);
    hr_pump_bind(&((const struct pump_block *)part)->pump, setting, branch);
}

static void facts_of(const void *part, const struct hr_setting *setting, double flow,
                     struct hr_part_facts *facts)
{
    hr_block_facts(part, setting, flow, facts);
    hr_pump_facts(&((const struct pump_block *)part)->pump, setting, flow, facts);
}

static void machine_of(const void *part, const struct hr_setting *setting, double flow,
                       struct hr_machine_facts *facts)
{
    (void)flow;
    hr_pump_machine(&((const struct pump_block *)part)->pump, setting, facts);
}

const struct hr_part_kind hr_kind_pump_block = {
    .name = "pump-block",
    .summary = "a pump and a block in one",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .facts = facts_of,
    .machine = machine_of,
    .volume = hr_passage_volume,
};
