/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Key tables that several kinds share. The names are the user's language; each has one line of help. */
#ifndef HR_PART_KEYS_H
#define HR_PART_KEYS_H

#include "part/params.h"

/* What every part may say about itself: kind, model, summary, source, price, limits, … */
extern const struct hr_key_group hr_keys_any;

/* What every part that holds coolant may say: in_series, in_parallel, volume, wetted, ports_at, … */
extern const struct hr_key_group hr_keys_coolant;

/* The generic forms of a coolant part's pressure drop, their conditions and their range. */
extern const struct hr_key_group hr_keys_hydraulic;

/* The same for an element of the air side. */
extern const struct hr_key_group hr_keys_air_hydraulic;

/* What a chip gives off and how it reaches the coolant. */
extern const struct hr_key_group hr_keys_heated;

/* Channels, fins, jet and base of a block. */
extern const struct hr_key_group hr_keys_block_geometry;

/* The heat side, the fin side and the geometry of a radiator. */
extern const struct hr_key_group hr_keys_radiator;

/* Curve, speed, power and noise of a pump. */
extern const struct hr_key_group hr_keys_pump;

/* Curve, speed, power and noise of fans. */
extern const struct hr_key_group hr_keys_fan;

/* Noise of a machine: {level: 31 dBA, speed: 2000 rpm, …}. */
extern const struct hr_key_group hr_keys_noise;

#define HR_KEYS(table)                                                                                       \
    {                                                                                                        \
        .keys = (table), .count = HR_ARRAY_LEN(table)                                                        \
    }

#endif
