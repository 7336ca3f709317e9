/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"
static const struct hr_key_group *const groups[] = {&hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic, NULL};

const struct hr_part_kind hr_kind_resistance = {
    .name = "resistance",
    .summary = "any pressure drop, by a law or measured points",
    .groups = groups,
    .ports = hr_ports_two,
    .make = hr_passage_make_coolant,
    .bind = hr_passage_bind,
    .facts = hr_passage_facts,
    .volume = hr_passage_volume,
};
