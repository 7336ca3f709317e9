/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A radiator: the coolant side by a generic form or by its flat tubes, the fin side by a generic form. */
#include "part/channels.h"
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

#include <math.h>
static const struct hr_key_group *const groups[] = {&hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    &hr_keys_radiator, NULL};

/* Loss of entering and leaving the tubes from and to wide tanks, each pass; of both ports. Crane TP-410:
 * sharp entrance 0.5, exit 1. */
static const double TANKS_OPEN = 0;
static const double PORT_ZETA = 1.5;

struct radiator {
    struct hr_passage passage;
    bool by_geometry;
    struct hr_channels channels;
    struct hr_loss air;
};

static enum hr_status read_geometry(const struct hr_params *params, struct radiator *radiator,
                                    struct hr_report *report)
{
    const struct hr_value *geometry = hr_param(params, "geometry");
    const struct hr_params *map = geometry->map;
    struct hr_channels *channels = &radiator->channels;
    const double tubes = hr_param_number(map, "tubes", NAN);
    const double passes = hr_param_number(map, "passes", 1);
    const double wall = hr_param_number(map, "tube_wall", NAN);
    const double height = hr_param_number(map, "tube_height", NAN) - 2 * wall;
    const double width = hr_param_number(map, "tube_width", NAN) - 2 * wall;
    if (fmod(tubes, passes) != 0) {
        return hr_fail(report, HR_INPUT, "passes", &geometry->at,
                       "%s: %g tubes cannot be shared evenly by %g passes", params->owner, tubes, passes);
    }
    if (!(height > 0 && width > 0)) {
        return hr_fail(
            report, HR_INPUT, "tube-wall", &geometry->at,
            "%s: walls of %g mm leave no room inside the tubes; 'tube_height' and 'tube_width' are outer "
            "sizes",
            params->owner, wall * 1e3);
    }
    channels->side_by_side = tubes / passes;
    channels->passes = passes;
    channels->end_zeta = hr_channels_ends(TANKS_OPEN);
    channels->port_bore = hr_param_number(map, "port_bore", 0);
    channels->port_zeta = hr_param_number(map, "port_zeta", PORT_ZETA);
    hr_channels_make(channels, height, width, hr_param_number(map, "length", NAN));
    radiator->by_geometry = true;
    if (hr_param(params, "volume") == NULL) {
        radiator->passage.volume =
            channels->volume * radiator->passage.loss.series * radiator->passage.loss.parallel;
    }
    return HR_OK;
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const bool geometry = hr_param(params, "geometry") != NULL;
    const struct hr_value *air = hr_param(params, "air_side");
    enum hr_status status =
        hr_passage_make(params, HR_LOSS_COOLANT, !geometry, sizeof(struct radiator), arena, part, report);
    if (status != HR_OK) {
        return status;
    }
    struct radiator *radiator = *part;
    if (geometry && radiator->passage.loss.form == HR_LOSS_NONE) {
        status = read_geometry(params, radiator, report);
    }
    if (status == HR_OK && air != NULL) {
        struct hr_params map = *air->map;
        map.owner = params->owner;
        map.at = air->at;
        status = hr_loss_make(&map, HR_LOSS_AIR, true, arena, &radiator->air, report);
    }
    return status;
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct radiator *radiator = part;
    hr_passage_bind(part, setting, branch);
    if (radiator->by_geometry) {
        hr_channels_bind(&radiator->channels, setting->fluid, radiator->passage.loss.series,
                         radiator->passage.loss.parallel, branch);
    }
}

static void bind_air(const void *part, const struct hr_setting *setting, struct hr_part_branch *branch)
{
    const struct radiator *radiator = part;
    *branch = (struct hr_part_branch){0};
    hr_loss_bind(&radiator->air, setting->fluid, 1, branch);
}

static void facts_of(const void *part, const struct hr_setting *setting, double flow,
                     struct hr_part_facts *facts)
{
    const struct radiator *radiator = part;
    hr_passage_facts(part, setting, flow, facts);
    if (radiator->by_geometry) {
        hr_channels_facts(&radiator->channels, setting->fluid, flow / radiator->passage.loss.parallel, facts);
        facts->note = "the pressure drop of a radiator follows from its geometry, without measured points";
    }
}

const struct hr_part_kind hr_kind_radiator = {
    .name = "radiator",
    .summary = "a radiator: coolant in tubes, air through the fins",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .bind_air = bind_air,
    .facts = facts_of,
    .volume = hr_passage_volume,
};
