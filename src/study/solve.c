/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One setting of a loop, from the file to the result. */
#include "study/study.h"

enum hr_status hr_rig_open(struct hr_source *source, const struct hr_variant *variant, struct hr_rig **rig,
                           struct hr_report *report)
{
    static const struct hr_variant as_written;
    const struct hr_variant *v = variant != NULL ? variant : &as_written;
    struct hr_description *description;
    *rig = NULL;
    const enum hr_status status =
        hr_source_describe(source, v->override, v->overrides, v->state, &description, report);
    return status == HR_OK ? hr_rig_new(description, rig, report) : status;
}

enum hr_status hr_rig_run(struct hr_rig *rig, struct hr_result **result, struct hr_report *report)
{
    (void)hr_rig_solve(rig); /* the outcome stands in the result */
    const enum hr_status status = hr_rig_result(rig, result, report);
    if (status != HR_OK) {
        return status;
    }
    return rig->outcome == HR_FLOW_SOLVED ? HR_OK : HR_NO_RESULT;
}

enum hr_status hr_solve(struct hr_source *source, const struct hr_variant *variant, struct hr_result **result,
                        struct hr_report *report)
{
    struct hr_rig *rig;
    *result = NULL;
    enum hr_status status = hr_rig_open(source, variant, &rig, report);
    if (status == HR_OK) {
        status = hr_rig_run(rig, result, report);
        hr_rig_free(rig);
    }
    return status;
}
