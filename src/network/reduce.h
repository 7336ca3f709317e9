/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The network as the Newton solver sees it: lossless branches contracted, series chains merged. */
#ifndef HR_NETWORK_REDUCE_H
#define HR_NETWORK_REDUCE_H

#include "network/network.h"

/* A member of a chain: a branch, walked along its arrow (sign 1) or against it (sign -1). */
struct hr_member {
    uint32_t branch;
    int32_t sign;
};

/* Branches in series between two kept points; a loop without a kept point starts and ends at one of its own.
 */
struct hr_chain {
    uint32_t from, to;     /* points */
    uint32_t first, count; /* members */
};

/* Points are the kept ones of the classes of nodes that lossless branches join. Immutable after
 * hr_reduced_new; borrows the network, whose topology must not change (laws, pressures, inflows and given
 * flows may). */
struct hr_reduced {
    const struct hr_network *network;
    size_t point_count, chain_count;
    struct hr_chain *chain;
    struct hr_member *member;
    uint32_t *node_class;  /* node -> a node that stands for its class */
    uint32_t *class_point; /* class -> point, UINT32_MAX where the class is inside a chain */
    uint32_t *point_class; /* point -> class */
    /* The lossless branches, leaves first, so that mass conservation gives their flows one after the other:
     * branch lossless[i] takes up what is missing at the node lossless_leaf[i]. */
    uint32_t *lossless, *lossless_leaf;
    size_t lossless_count;
};

/* Fails with HR_NO_RESULT when lossless branches form a ring or join two given pressures (their flows would
 * be undetermined); `*ring` is then one of these branches, for the message, else UINT32_MAX. */
enum hr_status hr_reduced_new(const struct hr_network *network, struct hr_reduced **reduced, uint32_t *ring,
                              struct hr_report *report);
void hr_reduced_free(struct hr_reduced *reduced);

/* True for a branch that joins its ends without loss. */
bool hr_branch_is_lossless(const struct hr_branch *branch);

#endif
