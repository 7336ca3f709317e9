/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef HR_PART_DROP_H
#define HR_PART_DROP_H

#include "part/kind.h"

/* Makes a part of one law from its values and evaluates it: the drop in Pa at a flow. Fails the running test
 * where the part cannot be made. */
double part_drop(const struct hr_part_kind *kind, const struct hr_params *params,
                 const struct hr_fluid_state *fluid, double flow);

#endif
