/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/channels.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

void hr_channels_make(struct hr_channels *channels, double side_a, double side_b, double length)
{
    const double small = fmin(side_a, side_b);
    const double large = fmax(side_a, side_b);
    channels->area = side_a * side_b;
    channels->channel = hr_channel_make(small / large, length / sqrt(channels->area));
    channels->volume = channels->area * length * channels->side_by_side * channels->passes;
}

double hr_channels_ends(double open)
{
    return 0.42 * (1 - open * open) + (1 - open) * (1 - open);
}

/* c: Re (square root of the area) per flow, dp / value, then the numbers of the channel. */
static void channels_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double *c = law->c;
    const struct hr_channel channel = {
        .developed = c[2], .developing = c[3], .perimeter = c[4], .hydraulic = c[5], .turbulent = c[6]};
    double value;
    hr_channel_friction(&channel, c[0] * fabs(flow), &value, slope);
    *drop = c[1] * copysign(value, flow);
    *slope *= c[0] * c[1];
}

/* Square coefficient of the local losses. */
static double local_square(const struct hr_channels *channels, double density)
{
    const double channel = channels->side_by_side * channels->area;
    double square = channels->passes * channels->end_zeta / (channel * channel);
    if (channels->port_bore > 0) {
        const double port = PI / 4 * channels->port_bore * channels->port_bore;
        square += channels->port_zeta / (port * port);
    }
    if (channels->slot_area > 0) {
        square += channels->slot_zeta / (channels->slot_area * channels->slot_area);
    }
    return density / 2 * square;
}

void hr_channels_bind(const struct hr_channels *channels, const struct hr_fluid_state *fluid, double series,
                      double parallel, struct hr_part_branch *branch)
{
    const double nu = fluid->viscosity / fluid->density;
    const struct hr_channel *channel = &channels->channel;
    const double square = local_square(channels, fluid->density);
    const struct hr_law local = hr_law_quadratic(0, square, square);
    const struct hr_law friction = {.evaluate = channels_law,
                                    .c = {1 / (channels->side_by_side * sqrt(channels->area) * nu),
                                          channels->passes * fluid->density * nu * nu / (2 * channels->area),
                                          channel->developed, channel->developing, channel->perimeter,
                                          channel->hydraulic, channel->turbulent}};
    branch->law[branch->law_count++] = hr_law_rescale(&friction, 1 / parallel, series);
    branch->law[branch->law_count++] = hr_law_rescale(&local, 1 / parallel, series);
}

void hr_channels_facts(const struct hr_channels *channels, const struct hr_fluid_state *fluid, double flow,
                       struct hr_part_facts *facts)
{
    const double diameter = channels->channel.hydraulic * sqrt(channels->area);
    facts->velocity_m_s = fabs(flow) / (channels->side_by_side * channels->area);
    facts->reynolds = facts->velocity_m_s * diameter * fluid->density / fluid->viscosity;
}
