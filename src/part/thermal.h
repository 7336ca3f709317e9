/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The resistance between a chip and the coolant at its block's inlet, against the flow. */
#ifndef HR_PART_THERMAL_H
#define HR_PART_THERMAL_H

#include "part/params.h"

#include <stdbool.h>

/* Chip-to-coolant resistance in K/W at a flow in m3/s (of either sign), from the part's `resistance` key: a
 * constant, rows of flow and resistance, or R = conduction + film (Q1/Q)^m (common practice: a conduction
 * share and a film that falls with a power of the flow). NaN where the part does not say, infinity where
 * nothing flows and there is a film. Rows are interpolated by straight lines in ln R against ln Q and held at
 * both ends; `*outside` tells when they were left. */
double hr_chip_resistance(const struct hr_params *params, double flow, bool *outside);

#endif
