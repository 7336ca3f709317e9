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

double hr_branch_drop(const struct hr_network *network, uint32_t branch, double flow)
{
    const struct hr_branch *b = &network->branch[branch];
    double sum = 0.0;
    for (uint32_t i = 0; i < b->law_count; i++) {
        double drop;
        double slope;
        hr_law_evaluate(&network->law[b->law_first + i], flow, &drop, &slope);
        sum += drop;
    }
    return sum;
}
