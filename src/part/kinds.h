/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of the table of kinds, one a file. */
#ifndef HR_PART_KINDS_H
#define HR_PART_KINDS_H

#include "part/kind.h"

extern const struct hr_part_kind hr_kind_tube;
extern const struct hr_part_kind hr_kind_fitting;
extern const struct hr_part_kind hr_kind_bend;
extern const struct hr_part_kind hr_kind_tee;
extern const struct hr_part_kind hr_kind_y;
extern const struct hr_part_kind hr_kind_resistance;
extern const struct hr_part_kind hr_kind_orifice;
extern const struct hr_part_kind hr_kind_valve;
extern const struct hr_part_kind hr_kind_one_way_valve;
extern const struct hr_part_kind hr_kind_quick_disconnect;
extern const struct hr_part_kind hr_kind_filter;
extern const struct hr_part_kind hr_kind_flow_meter;
extern const struct hr_part_kind hr_kind_reservoir;
extern const struct hr_part_kind hr_kind_block;
extern const struct hr_part_kind hr_kind_radiator;
extern const struct hr_part_kind hr_kind_pump;
extern const struct hr_part_kind hr_kind_pump_block;
extern const struct hr_part_kind hr_kind_fan;
extern const struct hr_part_kind hr_kind_vent;
extern const struct hr_part_kind hr_kind_air_filter;
extern const struct hr_part_kind hr_kind_gap;

/* Ports `in` and `out`, of all kinds with two. */
extern const char *const hr_ports_two[];

#endif
