/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/network.h"

#include <math.h>

static void evaluate_offset(const struct hr_law *law, double flow, double *drop, double *slope)
{
    *drop = law->c[0] + (law->c[1] + law->c[2] * fabs(flow)) * flow;
    *slope = law->c[1] + 2.0 * law->c[2] * fabs(flow);
}

struct hr_law hr_law_split(double offset, double linear, double square)
{
    struct hr_law law = {.evaluate = evaluate_offset, .c = {offset, linear, square}};
    return law;
}
