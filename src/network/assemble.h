/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a description to a network: one node a point, one branch a part or run (a part with more than two
 * ports: one branch a port), with the laws bound to the fluid of the loop and to the speeds. */
#ifndef HR_NETWORK_ASSEMBLE_H
#define HR_NETWORK_ASSEMBLE_H

#include "network/network.h"
#include "read/description.h"

/* Where a branch of the network came from. */
struct hr_assembled_branch {
    const char *name; /* the part's or run's */
    const char *port; /* of a part with more than two ports, else NULL */
    struct hr_origin at;
    size_t part, run; /* in the description; one is HR_NONE */
    size_t port_index;
    size_t loop;
    double speed_rpm; /* set from outside; NaN: the part's own */
    uint32_t law_room;
};

struct hr_assembled_node {
    const char *name;
    size_t point; /* in the description; HR_NONE: the common point of a tee or y */
    size_t loop;
    double height_m;
};

/* Owns its arrays; borrows the description, which must live longer. */
struct hr_assembly {
    const struct hr_description *description;
    struct hr_network network;
    struct hr_assembled_branch *branch; /* as many as the network has */
    struct hr_assembled_node *node;
    struct hr_fluid_state *fluid; /* by loop */
    bool *fluid_in_range;         /* by loop: false where a correlation was left */
    uint32_t (*meets)[2];         /* by node: the first two branches that end there */
    uint32_t *degree;             /* by node: how many do */
    uint32_t *reference;          /* by loop: the node that holds the reference pressure, UINT32_MAX: none */
    struct hr_arena names;
};

/* Builds the network at the loops' property temperatures (ambient where none is given). Reports unconnected
 * ports, feeds that contradict each other, missing references. */
enum hr_status hr_assemble(const struct hr_description *description, struct hr_assembly **assembly,
                           struct hr_report *report);
void hr_assembly_free(struct hr_assembly *assembly);

/* Takes a loop's properties at another temperature; hr_assembly_bind makes it effective. */
void hr_assembly_set_temperature(struct hr_assembly *assembly, size_t loop, double temperature_c);

/* Sets a pump's speed and binds its branch anew; the solver must be told with hr_flow_rebind. */
void hr_assembly_set_speed(struct hr_assembly *assembly, uint32_t branch, double speed_rpm);

/* Binds all laws anew. */
void hr_assembly_bind(struct hr_assembly *assembly);

/* The kind and the made part behind a branch; NULL kind for lossless runs. */
const struct hr_part_kind *hr_assembly_kind(const struct hr_assembly *assembly, uint32_t branch,
                                            const void **part);

/* The setting of a branch, for asking its kind about facts. */
struct hr_setting hr_assembly_setting(const struct hr_assembly *assembly, uint32_t branch);

/* The parameters behind a branch; NULL for lossless runs. */
const struct hr_params *hr_assembly_params(const struct hr_assembly *assembly, uint32_t branch);

/* Standard gravity, m/s2 (3rd CGPM 1901). */
#define HR_GRAVITY 9.80665

#endif
