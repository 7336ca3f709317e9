/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "net.h"

#include "hr_test.h"

#include <string.h>

void net_init(struct net *net, size_t nodes)
{
    ck_assert_uint_le(nodes, NET_NODES);
    memset(net, 0, sizeof *net);
    net->network.node = net->node;
    net->network.branch = net->branch;
    net->network.law = net->law;
    net->network.node_count = nodes;
}

void net_fix(struct net *net, uint32_t node, double pressure)
{
    net->node[node].fixed = true;
    net->node[node].pressure = pressure;
}

void net_also(struct net *net, struct hr_law law)
{
    ck_assert_uint_lt(net->network.law_count, NET_LAWS);
    net->law[net->network.law_count++] = law;
    net->branch[net->network.branch_count - 1].law_count++;
}

uint32_t net_join(struct net *net, uint32_t from, uint32_t to)
{
    const uint32_t b = (uint32_t)net->network.branch_count;
    ck_assert_uint_lt(b, NET_BRANCHES);
    net->branch[b] =
        (struct hr_branch){.from = from, .to = to, .law_first = (uint32_t)net->network.law_count};
    net->network.branch_count++;
    return b;
}

uint32_t net_add(struct net *net, uint32_t from, uint32_t to, struct hr_law law)
{
    const uint32_t b = net_join(net, from, to);
    net_also(net, law);
    return b;
}

uint32_t net_square(struct net *net, uint32_t from, uint32_t to, double square)
{
    return net_add(net, from, to, hr_law_quadratic(0.0, square, square));
}

uint32_t net_valve(struct net *net, uint32_t from, uint32_t to, struct hr_law law)
{
    const uint32_t b = net_add(net, from, to, law);
    net->branch[b].one_way = true;
    return b;
}

uint32_t net_given(struct net *net, uint32_t from, uint32_t to, double flow)
{
    const uint32_t b = net_join(net, from, to);
    net->branch[b].role = HR_BRANCH_FLOW;
    net->branch[b].given_flow = flow;
    return b;
}

uint32_t net_closed(struct net *net, uint32_t from, uint32_t to)
{
    const uint32_t b = net_join(net, from, to);
    net->branch[b].role = HR_BRANCH_CLOSED;
    return b;
}

static void pump_law(const struct hr_law *law, double q, double *drop, double *slope)
{
    *drop = -law->c[0] + (law->c[1] + law->c[2] * fabs(q)) * q;
    *slope = law->c[1] + 2.0 * law->c[2] * fabs(q);
}

struct hr_law net_pump(double head, double linear, double square)
{
    return (struct hr_law){.evaluate = pump_law, .c = {head, linear, square}};
}

struct hr_flow *net_flow(const struct hr_network *network, const struct hr_flow_settings *settings)
{
    struct hr_flow *flow;
    struct hr_report report;
    uint32_t ring;
    hr_report_init(&report);
    const enum hr_status status = hr_flow_new(network, settings, &flow, &ring, &report);
    ck_assert_msg(status == HR_OK, "solver not made: %s", report.error[0].text);
    hr_report_clear(&report);
    return flow;
}

struct hr_flow_solution net_solve(struct hr_flow *flow, const struct hr_network *network)
{
    const enum hr_flow_outcome outcome = hr_flow_solve(flow);
    const struct hr_flow_solution solution = hr_flow_solution(flow);
    ck_assert_msg(outcome == HR_FLOW_SOLVED, "outcome: %s, pressure residual %g",
                  hr_flow_outcome_text(outcome), solution.quality.pressure_residual);
    const struct hr_certificate certificate = hr_flow_certify(network, &solution);
    hr_assert_abs(certificate.mass_residual, 0.0, 1e-10, "mass residual");
    hr_assert_abs(certificate.pressure_residual, 0.0, 1e-10, "pressure residual");
    hr_assert_abs(certificate.valve_residual, 0.0, 1e-10, "valve residual");
    return solution;
}
