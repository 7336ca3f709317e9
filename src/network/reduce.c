/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Contraction of lossless branches by union-find, then merging of series chains: a class of nodes with
 * exactly two branch ends, no inflow and no given pressure lies inside a chain. Both leave the solution
 * unchanged and shrink a series loop to a single equation. */
#include "network/reduce.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX

/* Scratch of one reduction: the branch ends at each class, as lists in arrays. */
struct builder {
    struct hr_reduced *out;
    uint32_t *degree;    /* class -> branch ends that are not lossless */
    uint32_t *end_first; /* class -> first of its ends in `end`; one more at the end */
    uint32_t *end;       /* branches, each once per end */
    bool *walked;        /* branch -> already in a chain */
};

bool hr_branch_is_lossless(const struct hr_branch *branch)
{
    return branch->role == HR_BRANCH_LAW && branch->law_count == 0 && !branch->one_way;
}

static uint32_t class_of(uint32_t *parent, uint32_t node)
{
    while (parent[node] != node) {
        parent[node] = parent[parent[node]];
        node = parent[node];
    }
    return node;
}

/* Joins the ends of all lossless branches; fails on the first that closes a ring, or that joins two given
 * pressures. `given` marks classes with a given pressure. */
static bool contract(struct hr_reduced *out, bool *given, uint32_t *ring)
{
    const struct hr_network *network = out->network;
    for (uint32_t i = 0; i < network->node_count; i++) {
        out->node_class[i] = i;
        given[i] = network->node[i].fixed;
    }
    for (uint32_t b = 0; b < network->branch_count; b++) {
        if (!hr_branch_is_lossless(&network->branch[b])) {
            continue;
        }
        const uint32_t from = class_of(out->node_class, network->branch[b].from);
        const uint32_t to = class_of(out->node_class, network->branch[b].to);
        if (from == to || (given[from] && given[to])) {
            *ring = b;
            return false;
        }
        out->node_class[to] = from;
        given[from] = given[from] || given[to];
    }
    for (uint32_t i = 0; i < network->node_count; i++) {
        out->node_class[i] = class_of(out->node_class, i);
    }
    return true;
}

/* Orders the forest of lossless branches by taking leaves off; a node of given pressure is no leaf, since it
 * takes up what comes. `degree` counts lossless ends per node here. */
static void order_lossless(struct hr_reduced *out, uint32_t *degree, uint32_t *trail)
{
    const struct hr_network *network = out->network;
    memset(degree, 0, network->node_count * sizeof *degree);
    memset(trail, 0, network->node_count * sizeof *trail);
    for (uint32_t b = 0; b < network->branch_count; b++) {
        const struct hr_branch *branch = &network->branch[b];
        if (hr_branch_is_lossless(branch)) {
            degree[branch->from]++;
            degree[branch->to]++;
            trail[branch->from] ^= b; /* at a leaf the exclusive or of its branches is its only branch */
            trail[branch->to] ^= b;
        }
    }
    for (uint32_t start = 0; start < network->node_count; start++) {
        uint32_t leaf = start;
        while (degree[leaf] == 1 && !network->node[leaf].fixed) {
            const uint32_t b = trail[leaf];
            const struct hr_branch *branch = &network->branch[b];
            const uint32_t other = branch->from == leaf ? branch->to : branch->from;
            out->lossless[out->lossless_count] = b;
            out->lossless_leaf[out->lossless_count++] = leaf;
            degree[leaf] = 0;
            degree[other]--;
            trail[other] ^= b;
            leaf = other;
        }
    }
}

static void list_ends(struct builder *builder)
{
    const struct hr_network *network = builder->out->network;
    const uint32_t *class = builder->out->node_class;
    memset(builder->degree, 0, network->node_count * sizeof *builder->degree);
    for (size_t b = 0; b < network->branch_count; b++) {
        if (!hr_branch_is_lossless(&network->branch[b])) {
            builder->degree[class[network->branch[b].from]]++;
            builder->degree[class[network->branch[b].to]]++;
        }
    }
    uint32_t total = 0;
    for (size_t i = 0; i < network->node_count; i++) {
        builder->end_first[i] = total;
        total += builder->degree[i];
        builder->degree[i] = 0;
    }
    builder->end_first[network->node_count] = total;
    for (uint32_t b = 0; b < network->branch_count; b++) {
        if (!hr_branch_is_lossless(&network->branch[b])) {
            const uint32_t ends[2] = {class[network->branch[b].from], class[network->branch[b].to]};
            for (size_t e = 0; e < 2; e++) {
                builder->end[builder->end_first[ends[e]] + builder->degree[ends[e]]++] = b;
            }
        }
    }
}

static void keep(struct hr_reduced *out, uint32_t class)
{
    out->class_point[class] = (uint32_t)out->point_count;
    out->point_class[out->point_count++] = class;
}

/* Keeps every class where flows meet, enter or end, or where the pressure is given. */
static void choose_points(struct builder *builder)
{
    struct hr_reduced *out = builder->out;
    const struct hr_network *network = out->network;
    bool *special = builder->walked; /* not needed for walking yet; has room for each node or branch */
    memset(special, 0, network->node_count * sizeof *special);
    for (size_t i = 0; i < network->node_count; i++) {
        if (network->node[i].fixed || network->node[i].inflow != 0.0) {
            special[out->node_class[i]] = true;
        }
    }
    for (uint32_t i = 0; i < network->node_count; i++) {
        out->class_point[i] = NONE;
        if (out->node_class[i] == i && (special[i] || builder->degree[i] != 2)) {
            keep(out, i);
        }
    }
}

/* Walks from the point at `class` along `branch` to the next point. */
static void walk(struct builder *builder, uint32_t class, uint32_t branch, size_t *members)
{
    struct hr_reduced *out = builder->out;
    const struct hr_network *network = out->network;
    struct hr_chain *chain = &out->chain[out->chain_count++];
    chain->from = out->class_point[class];
    chain->first = (uint32_t)*members;
    for (;;) {
        const struct hr_branch *now = &network->branch[branch];
        const uint32_t from = out->node_class[now->from];
        const uint32_t to = out->node_class[now->to];
        builder->walked[branch] = true;
        out->member[*members].branch = branch;
        out->member[(*members)++].sign = from == class ? 1 : -1;
        class = from == class ? to : from;
        if (out->class_point[class] != NONE) {
            break;
        }
        assert(builder->degree[class] == 2);
        const uint32_t *ends = &builder->end[builder->end_first[class]];
        branch = ends[0] == branch ? ends[1] : ends[0];
    }
    chain->to = out->class_point[class];
    chain->count = (uint32_t)(*members - chain->first);
}

static void merge_chains(struct builder *builder)
{
    struct hr_reduced *out = builder->out;
    const struct hr_network *network = out->network;
    memset(builder->walked, 0, network->branch_count * sizeof *builder->walked);
    size_t members = 0;
    for (size_t p = 0; p < out->point_count; p++) {
        const uint32_t class = out->point_class[p];
        for (uint32_t e = builder->end_first[class]; e < builder->end_first[class + 1]; e++) {
            if (!builder->walked[builder->end[e]]) {
                walk(builder, class, builder->end[e], &members);
            }
        }
    }
    /* What is left are rings without a point of their own: one of their classes becomes one. */
    for (uint32_t b = 0; b < network->branch_count; b++) {
        if (!hr_branch_is_lossless(&network->branch[b]) && !builder->walked[b]) {
            const uint32_t class = out->node_class[network->branch[b].from];
            keep(out, class);
            walk(builder, class, b, &members);
        }
    }
}

static bool allocate(struct hr_reduced *out, struct builder *builder)
{
    const size_t nodes = out->network->node_count;
    const size_t branches = out->network->branch_count;
    const size_t larger = nodes > branches ? nodes : branches;
    out->chain = hr_alloc(branches, sizeof *out->chain);
    out->member = hr_alloc(branches, sizeof *out->member);
    out->node_class = hr_alloc(nodes, sizeof *out->node_class);
    out->class_point = hr_alloc(nodes, sizeof *out->class_point);
    out->point_class = hr_alloc(nodes, sizeof *out->point_class);
    out->lossless = hr_alloc(branches, sizeof *out->lossless);
    out->lossless_leaf = hr_alloc(branches, sizeof *out->lossless_leaf);
    builder->degree = hr_alloc(nodes, sizeof *builder->degree);
    builder->end_first = hr_alloc(nodes + 1, sizeof *builder->end_first);
    builder->end = hr_alloc(2 * branches, sizeof *builder->end);
    builder->walked = hr_alloc(larger, sizeof *builder->walked);
    return out->chain != NULL && out->member != NULL && out->node_class != NULL && out->class_point != NULL &&
           out->point_class != NULL && out->lossless != NULL && out->lossless_leaf != NULL &&
           builder->degree != NULL && builder->end_first != NULL && builder->end != NULL &&
           builder->walked != NULL;
}

void hr_reduced_free(struct hr_reduced *reduced)
{
    if (reduced == NULL) {
        return;
    }
    free(reduced->chain);
    free(reduced->member);
    free(reduced->node_class);
    free(reduced->class_point);
    free(reduced->point_class);
    free(reduced->lossless);
    free(reduced->lossless_leaf);
    free(reduced);
}

static enum hr_status reduce(struct builder *builder, uint32_t *ring, struct hr_report *report)
{
    struct hr_reduced *out = builder->out;
    if (!allocate(out, builder)) {
        return hr_fail_memory(report);
    }
    if (!contract(out, builder->walked, ring)) {
        return hr_fail(
            report, HR_NO_RESULT, "lossless-ring", NULL,
            "lossless joins form a ring or join two given pressures, so that their flow is undetermined");
    }
    order_lossless(out, builder->degree, builder->end_first);
    list_ends(builder);
    choose_points(builder);
    merge_chains(builder);
    return HR_OK;
}

enum hr_status hr_reduced_new(const struct hr_network *network, struct hr_reduced **reduced, uint32_t *ring,
                              struct hr_report *report)
{
    *reduced = NULL;
    *ring = NONE;
    struct builder builder = {.out = hr_alloc(1, sizeof(struct hr_reduced))};
    if (builder.out == NULL) {
        return hr_fail_memory(report);
    }
    builder.out->network = network;
    const enum hr_status status = reduce(&builder, ring, report);
    free(builder.degree);
    free(builder.end_first);
    free(builder.end);
    free(builder.walked);
    if (status != HR_OK) {
        hr_reduced_free(builder.out);
        return status;
    }
    *reduced = builder.out;
    return HR_OK;
}
