/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A block: a generic form, or micro-channels with their ports and the slot of a jet plate. */
#include "part/block.h"

#include "part/keys.h"
#include "part/kinds.h"

#include <math.h>
static const struct hr_key_group *const groups[] = {
    &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic, &hr_keys_heated, &hr_keys_block_geometry, NULL};

/* Sharp entrance and full exit of the slot of a jet plate; of ports: the inlet's jet and turn (1.5), the
 * outlet's entrance and turn (1.0). Common practice, no source: measure where it matters. */
static const double SLOT_ZETA = 1.5;
static const double PORT_ZETA = 2.5;

/* Share of the fin row that is open where the fins' thickness is not given. */
static const double OPEN_SHARE = 0.5;

static enum hr_status read_geometry(const struct hr_params *params, struct hr_block *block,
                                    struct hr_report *report)
{
    const struct hr_value *geometry = hr_param(params, "geometry");
    const struct hr_params *map = geometry->map;
    struct hr_channels *channels = &block->channels;
    const double width = hr_param_number(map, "channel_width", NAN);
    const double fin = hr_param_number(map, "fin_thickness", NAN);
    const double open = isnan(fin) ? OPEN_SHARE : width / (width + fin);
    const double halves = hr_param_is(map, "feed", "centre") ? 2 : 1;
    const double slot_width = hr_param_number(map, "slot_width", 0);
    const double slot_length = hr_param_number(map, "slot_length", 0);
    if ((slot_width > 0) != (slot_length > 0)) {
        return hr_fail(report, HR_INPUT, "slot", &geometry->at,
                       "%s: a jet slot needs both 'slot_width' and 'slot_length'", params->owner);
    }
    channels->side_by_side = halves * hr_param_number(map, "channels", NAN);
    channels->passes = 1;
    channels->end_zeta = hr_channels_ends(open);
    channels->port_bore = hr_param_number(map, "port_bore", 0);
    channels->port_zeta = hr_param_number(map, "port_zeta", PORT_ZETA);
    channels->slot_area = slot_width * slot_length;
    channels->slot_zeta = hr_param_number(map, "slot_zeta", SLOT_ZETA);
    hr_channels_make(channels, width, hr_param_number(map, "channel_height", NAN),
                     hr_param_number(map, "length", NAN) / halves);
    block->by_geometry = true;
    if (hr_param(params, "volume") == NULL) {
        block->passage.volume = channels->volume * block->passage.loss.series * block->passage.loss.parallel;
    }
    return HR_OK;
}

enum hr_status hr_block_make(const struct hr_params *params, bool needed, size_t size, struct hr_arena *arena,
                             void **part, struct hr_report *report)
{
    const bool geometry = hr_param(params, "geometry") != NULL;
    const enum hr_status status =
        hr_passage_make(params, HR_LOSS_COOLANT, needed && !geometry, size, arena, part, report);
    if (status != HR_OK) {
        return status;
    }
    struct hr_block *block = *part;
    return geometry && block->passage.loss.form == HR_LOSS_NONE ? read_geometry(params, block, report)
                                                                : HR_OK;
}

void hr_block_bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct hr_block *block = part;
    hr_passage_bind(part, setting, branch);
    if (block->by_geometry) {
        hr_channels_bind(&block->channels, setting->fluid, block->passage.loss.series,
                         block->passage.loss.parallel, branch);
    }
}

void hr_block_facts(const void *part, const struct hr_setting *setting, double flow,
                    struct hr_part_facts *facts)
{
    const struct hr_block *block = part;
    hr_passage_facts(part, setting, flow, facts);
    if (block->by_geometry) {
        hr_channels_facts(&block->channels, setting->fluid, flow / block->passage.loss.parallel, facts);
        facts->note = "the pressure drop of a block follows from its geometry, without measured points";
    }
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    return hr_block_make(params, true, sizeof(struct hr_block), arena, part, report);
}

const struct hr_part_kind hr_kind_block = {
    .name = "block",
    .summary = "a water block or cold plate on a chip",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = hr_block_bind,
    .facts = hr_block_facts,
    .volume = hr_passage_volume,
};
