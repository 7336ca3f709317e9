/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solve/rig.h"

#include "part/thermal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX

void hr_rig_free(struct hr_rig *rig)
{
    if (rig != NULL) {
        hr_flow_free(rig->flow);
        hr_assembly_free(rig->assembly);
        hr_description_free(rig->description);
        free(rig);
    }
}

/* A ring of lossless joins was found: says where. */
static enum hr_status fail_ring(const struct hr_assembly *assembly, uint32_t ring, struct hr_report *report)
{
    const struct hr_assembled_branch *branch = &assembly->branch[ring];
    return hr_fail(
        report, HR_NO_RESULT, "lossless-ring", &branch->at,
        "'%s' closes a ring of joins without loss, or joins two given pressures, so that its flow is "
        "undetermined; give one of them a length and a bore",
        branch->name);
}

static enum hr_status make(struct hr_rig *rig, struct hr_report *report)
{
    enum hr_status status = hr_assemble(rig->description, &rig->assembly, report);
    if (status != HR_OK) {
        return status;
    }
    uint32_t ring;
    struct hr_report own;
    hr_report_init(&own);
    status = hr_flow_new(&rig->assembly->network, NULL, &rig->flow, &ring, &own);
    hr_report_clear(&own);
    if (status == HR_OK) {
        return HR_OK;
    }
    return ring != NONE ? fail_ring(rig->assembly, ring, report) : hr_fail_memory(report);
}

enum hr_status hr_rig_new(struct hr_description *description, struct hr_rig **rig, struct hr_report *report)
{
    *rig = NULL;
    struct hr_rig *made = hr_alloc(1, sizeof *made);
    if (made == NULL) {
        hr_description_free(description);
        return hr_fail_memory(report);
    }
    made->description = description;
    const enum hr_status status = make(made, report);
    if (status != HR_OK) {
        hr_rig_free(made);
        return status;
    }
    *rig = made;
    return HR_OK;
}

uint32_t hr_rig_pump(const struct hr_rig *rig, const char *name)
{
    for (uint32_t b = 0; b < rig->assembly->network.branch_count; b++) {
        const void *part;
        const struct hr_part_kind *kind = hr_assembly_kind(rig->assembly, b, &part);
        if (kind != NULL && kind->machine != NULL && strcmp(rig->assembly->branch[b].name, name) == 0) {
            return b;
        }
    }
    return NONE;
}

void hr_rig_set_speed(struct hr_rig *rig, uint32_t branch, double speed_rpm)
{
    hr_assembly_set_speed(rig->assembly, branch, speed_rpm);
    hr_flow_rebind(rig->flow);
}

enum hr_flow_outcome hr_rig_solve(struct hr_rig *rig)
{
    /* With a rising curve the content is not convex: which point a descent ends in would be chance. */
    (void)hr_rig_find_points(rig);
    rig->outcome = hr_flow_solve(rig->flow);
    return rig->outcome;
}

bool hr_rig_chip(const struct hr_rig *rig, uint32_t b, struct hr_chip_result *chip)
{
    const struct hr_params *params = hr_assembly_params(rig->assembly, b);
    const double heat = params == NULL ? NAN : hr_param_number(params, "heat", NAN);
    if (!(heat >= 0.0)) {
        return false;
    }
    bool outside;
    const double flow = hr_flow_solution(rig->flow).branch_flow[b];
    const double share = hr_param_number(params, "heat_to_coolant", 1.0);
    *chip = (struct hr_chip_result){.name = rig->assembly->branch[b].name,
                                    .flow_m3_s = flow,
                                    .heat_w = heat,
                                    .heat_to_coolant_w = heat * share,
                                    .resistance_k_w = hr_chip_resistance(params, flow, &outside)};
    chip->rise_k = chip->heat_to_coolant_w * chip->resistance_k_w;
    return true;
}
