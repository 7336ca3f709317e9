/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many equal rectangular channels side by side, as in a block or a radiator, with the losses at their ends,
 * at ports and at a slot. */
#ifndef HR_PART_CHANNELS_H
#define HR_PART_CHANNELS_H

#include "part/friction.h"
#include "part/kind.h"

/* Plain data. */
struct hr_channels {
    struct hr_channel channel;
    double side_by_side;         /* channels that share the flow */
    double passes;               /* how often the flow runs through channels, one after the other */
    double area;                 /* m2 of one */
    double end_zeta;             /* losses at both ends of one pass in velocity heads of the channel */
    double port_bore, port_zeta; /* bore 0: none */
    double slot_area, slot_zeta; /* area 0: none */
    double volume;               /* m3 of all channels */
};

/* Fills channel, area and volume from the inner sides and the length of one channel; the other members are
 * given. */
void hr_channels_make(struct hr_channels *channels, double side_a, double side_b, double length);

/* Loss of narrowing into a row of channels that fill the share `open` of the space before them, and of
 * widening behind: 0.42 (1 - open^2) (White, Fluid Mechanics, for round pipes) and Borda and Carnot. The
 * growth of the velocity profile is in the channels' own law. */
double hr_channels_ends(double open);

/* Adds the laws of the channels and of the local losses, for n equal parts. */
void hr_channels_bind(const struct hr_channels *channels, const struct hr_fluid_state *fluid, double series,
                      double parallel, struct hr_part_branch *branch);

/* Reynolds number with the hydraulic diameter, and velocity, in one channel. */
void hr_channels_facts(const struct hr_channels *channels, const struct hr_fluid_state *fluid, double flow,
                       struct hr_part_facts *facts);

#endif
