/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part_drop.h"

#include <check.h>
#include <math.h>

double part_drop(const struct hr_part_kind *kind, const struct hr_params *params,
                 const struct hr_fluid_state *fluid, double flow)
{
    const struct hr_setting setting = {.fluid = fluid, .speed_rpm = NAN};
    struct hr_part_branch branch = {.law_count = 0};
    struct hr_arena arena;
    struct hr_report report;
    void *part;
    double drop;
    double slope;
    hr_arena_init(&arena);
    hr_report_init(&report);
    ck_assert_int_eq(kind->make(params, &arena, &part, &report), HR_OK);
    kind->bind(part, &setting, &branch);
    ck_assert_uint_eq(branch.law_count, 1);
    hr_law_evaluate(&branch.law[0], flow, &drop, &slope);
    hr_report_clear(&report);
    hr_arena_clear(&arena);
    return drop;
}
