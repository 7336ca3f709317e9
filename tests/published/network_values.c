/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Solves one network from standard input, for comparison with other programs. A line each, all numbers SI:
 *
 *     nodes COUNT
 *     fixed NODE PRESSURE
 *     inflow NODE FLOW
 *     law FROM TO HEAD LINEAR SQUARE      drop = -HEAD + LINEAR q + SQUARE q|q|
 *     valve FROM TO HEAD LINEAR SQUARE    the same, one-way
 *     given FROM TO FLOW
 *
 * Prints the flow of each branch, a line each. Exit status 1 where the input is wrong or the network is not
 * solved. */
#include "base/memory.h"
#include "solve/flow.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NODES = 512, BRANCHES = 1024 };

static struct hr_node node[NODES];
static struct hr_branch branch[BRANCHES];
static struct hr_law law[BRANCHES];
static struct hr_network net = {.node = node, .branch = branch, .law = law};

/* c: head, linear, square. */
static void evaluate(const struct hr_law *own, double q, double *drop, double *slope)
{
    *drop = -own->c[0] + (own->c[1] + own->c[2] * fabs(q)) * q;
    *slope = own->c[1] + 2.0 * own->c[2] * fabs(q);
}

static bool add_branch(const char *word, const char *line)
{
    unsigned from, to;
    double c[3];
    struct hr_branch *made = &branch[net.branch_count];
    const bool given = strcmp(word, "given") == 0;
    const int wanted = given ? 3 : 5;
    if (net.branch_count == BRANCHES ||
        sscanf(line, "%*s %u %u %lf %lf %lf", &from, &to, &c[0], &c[1], &c[2]) < wanted ||
        from >= net.node_count || to >= net.node_count) {
        return false;
    }
    *made = (struct hr_branch){.from = from, .to = to, .law_first = (uint32_t)net.law_count};
    if (given) {
        made->role = HR_BRANCH_FLOW;
        made->given_flow = c[0];
    } else {
        made->law_count = 1;
        made->one_way = strcmp(word, "valve") == 0;
        law[net.law_count++] = hr_law_quadratic(c[1], c[2], c[2]);
        if (c[0] != 0.0) {
            law[net.law_count - 1] = (struct hr_law){.evaluate = evaluate, .c = {c[0], c[1], c[2]}};
        }
    }
    net.branch_count++;
    return true;
}

static bool read_line(const char *line)
{
    char word[16];
    unsigned index;
    double value;
    if (sscanf(line, "%15s", word) != 1) {
        return true;
    }
    if (strcmp(word, "nodes") == 0) {
        const bool good = sscanf(line, "%*s %u", &index) == 1 && index <= NODES;
        net.node_count = good ? index : 0;
        return good;
    }
    if (strcmp(word, "fixed") == 0 || strcmp(word, "inflow") == 0) {
        if (sscanf(line, "%*s %u %lf", &index, &value) != 2 || index >= net.node_count) {
            return false;
        }
        node[index].fixed = node[index].fixed || word[0] == 'f';
        *(word[0] == 'f' ? &node[index].pressure : &node[index].inflow) = value;
        return true;
    }
    return (strcmp(word, "law") == 0 || strcmp(word, "valve") == 0 || strcmp(word, "given") == 0) &&
           add_branch(word, line);
}

int main(void)
{
    char line[256];
    while (fgets(line, sizeof line, stdin) != NULL) {
        if (!read_line(line)) {
            fprintf(stderr, "network-values: cannot use: %s", line);
            return EXIT_FAILURE;
        }
    }
    struct hr_report report;
    struct hr_flow *flow;
    uint32_t ring;
    hr_report_init(&report);
    if (hr_flow_new(&net, NULL, &flow, &ring, &report) != HR_OK) {
        fprintf(stderr, "network-values: %s\n", report.error[0].text);
        hr_report_clear(&report);
        return EXIT_FAILURE;
    }
    const enum hr_flow_outcome outcome = hr_flow_solve(flow);
    const struct hr_flow_solution solution = hr_flow_solution(flow);
    for (size_t b = 0; b < net.branch_count && outcome == HR_FLOW_SOLVED; b++) {
        printf("%.17g\n", solution.branch_flow[b]);
    }
    if (outcome != HR_FLOW_SOLVED) {
        fprintf(stderr, "network-values: %s\n", hr_flow_outcome_text(outcome));
    }
    hr_flow_free(flow);
    hr_report_clear(&report);
    return outcome == HR_FLOW_SOLVED ? EXIT_SUCCESS : EXIT_FAILURE;
}
