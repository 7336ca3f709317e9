/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Networks written down by hand, for tests: a few lines each, nothing to release but the solver. */
#ifndef HR_TEST_NET_H
#define HR_TEST_NET_H

#include "solve/flow.h"

enum { NET_NODES = 64, NET_BRANCHES = 128, NET_LAWS = 256 };

struct net {
    struct hr_network network; /* points into the arrays below: net_init before use, do not copy */
    struct hr_node node[NET_NODES];
    struct hr_branch branch[NET_BRANCHES];
    struct hr_law law[NET_LAWS];
};

void net_init(struct net *net, size_t nodes);
void net_fix(struct net *net, uint32_t node, double pressure);

/* Branches; each returns its index. */
uint32_t net_add(struct net *net, uint32_t from, uint32_t to, struct hr_law law);
uint32_t net_square(struct net *net, uint32_t from, uint32_t to, double square);
uint32_t net_join(struct net *net, uint32_t from, uint32_t to);
uint32_t net_valve(struct net *net, uint32_t from, uint32_t to, struct hr_law law);
uint32_t net_given(struct net *net, uint32_t from, uint32_t to, double flow);
uint32_t net_closed(struct net *net, uint32_t from, uint32_t to);
/* One more law for the last branch. */
void net_also(struct net *net, struct hr_law law);

/* -head + linear q + square q|q|. */
struct hr_law net_pump(double head, double linear, double square);

/* Makes the solver; fails the test where that fails. `settings` NULL: defaults. */
struct hr_flow *net_flow(const struct hr_network *network, const struct hr_flow_settings *settings);

/* Solves, and fails the test unless it is solved and the certificate holds to 1e-10. */
struct hr_flow_solution net_solve(struct hr_flow *flow, const struct hr_network *network);

#endif
