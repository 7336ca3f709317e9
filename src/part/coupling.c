/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A coupling that shuts when parted. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

static const struct hr_key keys[] = {
    {.name = "connected", .form = HR_FORM_FLAG, .help = "false: parted, no flow; true"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status = hr_passage_make_coolant(params, arena, part, report);
    if (status == HR_OK) {
        ((struct hr_passage *)*part)->closed = hr_param_number(params, "connected", 1) == 0;
    }
    return status;
}

const struct hr_part_kind hr_kind_quick_disconnect = {
    .name = "quick-disconnect",
    .summary = "a coupling that shuts when parted; the loss is that of the mated pair",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = hr_passage_bind,
    .facts = hr_passage_facts,
    .volume = hr_passage_volume,
};
