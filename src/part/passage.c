/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/passage.h"

enum hr_status hr_passage_make(const struct hr_params *params, enum hr_loss_use use, bool needed, size_t size,
                               struct hr_arena *arena, void **part, struct hr_report *report)
{
    struct hr_passage *passage = hr_arena_alloc(arena, 1, size);
    if (passage == NULL) {
        return hr_fail_memory(report);
    }
    passage->factor = 1;
    passage->volume = hr_part_volume(params, 0);
    *part = passage;
    return hr_loss_make(params, use, needed, arena, &passage->loss, report);
}

enum hr_status hr_passage_make_coolant(const struct hr_params *params, struct hr_arena *arena, void **part,
                                       struct hr_report *report)
{
    return hr_passage_make(params, HR_LOSS_COOLANT, true, sizeof(struct hr_passage), arena, part, report);
}

double hr_passage_fouling(const struct hr_params *params, double fouled_factor)
{
    const double share = hr_param_is(params, "state", "fouled") ? 1 : hr_param_number(params, "fouling", 0);
    return 1 + share * (hr_param_number(params, "fouled_factor", fouled_factor) - 1);
}

void hr_passage_bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct hr_passage *passage = part;
    *branch = (struct hr_part_branch){.closed = passage->closed, .one_way = passage->one_way};
    if (!passage->closed) {
        hr_loss_bind(&passage->loss, setting->fluid, passage->factor, branch);
    }
}

void hr_passage_facts(const void *part, const struct hr_setting *setting, double flow,
                      struct hr_part_facts *facts)
{
    const struct hr_passage *passage = part;
    hr_facts_clear(facts);
    hr_loss_facts(&passage->loss, setting, flow, facts);
}

double hr_passage_volume(const void *part)
{
    return ((const struct hr_passage *)part)->volume;
}
