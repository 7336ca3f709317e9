/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What holds of any network whose laws rise, whatever its answer is: it does not depend on arrows, numbering,
 * the start or the factorisation; pure squares scale with the root of the drive; the answer is the least of
 * the content. Random networks; flows are the same within 1e-9 of the largest and what rounding of the
 * pressures can hide. */
#include "hr_test.h"

#include "net.h"
#include "random_check.h"

#include <string.h>

enum { SEEDS = 60 };
static const double laminar_of[] = {1e-2, 1e-4, 1e-6, 0.0};

struct pair {
    struct random_network one, other; /* equal at first */
    struct hr_flow *flow_one, *flow_other;
    struct hr_flow_solution s_one, s_other;
};

static void make_pair(struct pair *pair, int seed)
{
    const double laminar = laminar_of[seed % 4];
    random_network_make(&pair->one, (uint64_t)seed, laminar);
    random_network_make(&pair->other, (uint64_t)seed, laminar);
    pair->flow_one = NULL;
    pair->flow_other = NULL;
}

static void solve_pair(struct pair *pair, const struct hr_flow_settings *other_settings)
{
    pair->flow_one = net_flow(&pair->one.network, NULL);
    pair->flow_other = net_flow(&pair->other.network, other_settings);
    pair->s_one = net_solve(pair->flow_one, &pair->one.network);
    pair->s_other = net_solve(pair->flow_other, &pair->other.network);
}

static void free_pair(struct pair *pair)
{
    hr_flow_free(pair->flow_one);
    hr_flow_free(pair->flow_other);
    random_network_clear(&pair->one);
    random_network_clear(&pair->other);
}

static double largest(const double value[], size_t count)
{
    double most = 0.0;
    for (size_t i = 0; i < count; i++) {
        most = fmax(most, fabs(value[i]));
    }
    return most;
}

/* `factor` times the flow of branch b in one is that of branch other_b in the other. */
static void check_same(const struct pair *pair, size_t b, size_t other_b, double factor)
{
    const struct hr_network *net = &pair->one.network;
    const double flow = largest(pair->s_one.branch_flow, net->branch_count);
    const double pressure =
        largest(pair->s_one.node_potential, net->node_count) + pair->s_one.quality.driving_pressure;
    const double hidden = random_hidden_flow(net, &net->branch[b], 2.2e-16 * pressure);
    hr_assert_abs(pair->s_other.branch_flow[other_b], factor * pair->s_one.branch_flow[b],
                  fabs(factor) * (1e-9 * flow + 2.0 * hidden), "flow");
}

START_TEST(turning_an_arrow_turns_the_sign_alone)
{
    struct pair p;
    make_pair(&p, _i);
    struct hr_network *net = &p.other.network;
    for (size_t b = (size_t)_i % 3; b < net->branch_count; b += 3) {
        struct hr_branch *branch = &net->branch[b];
        bool odd = !branch->one_way;
        for (uint32_t i = 0; i < branch->law_count; i++) {
            double ahead, back, slope;
            hr_law_evaluate(&net->law[branch->law_first + i], 1e-4, &ahead, &slope);
            hr_law_evaluate(&net->law[branch->law_first + i], -1e-4, &back, &slope);
            odd = odd && ahead == -back;
        }
        if (odd) {
            const uint32_t from = branch->from;
            branch->from = branch->to;
            branch->to = from;
            branch->given_flow = -branch->given_flow;
        }
    }
    solve_pair(&p, NULL);
    for (size_t b = 0; b < net->branch_count; b++) {
        const bool turned = p.one.network.branch[b].from != net->branch[b].from;
        check_same(&p, b, b, turned ? -1.0 : 1.0);
    }
    free_pair(&p);
}
END_TEST

/* Fisher and Yates. */
static void shuffle(uint32_t order[], uint32_t count, struct random *random)
{
    for (uint32_t i = 0; i < count; i++) {
        order[i] = i;
    }
    for (uint32_t i = count; i > 1; i--) {
        const uint32_t k = random_below(random, i);
        const uint32_t keep = order[i - 1];
        order[i - 1] = order[k];
        order[k] = keep;
    }
}

START_TEST(numbering_changes_nothing)
{
    struct pair p;
    struct random random = {.state = (uint64_t)_i};
    uint32_t node_to[256], branch_to[256];
    make_pair(&p, _i);
    const struct hr_network *one = &p.one.network;
    struct hr_network *other = &p.other.network;
    ck_assert(one->node_count <= 256 && one->branch_count <= 256);
    shuffle(node_to, (uint32_t)one->node_count, &random);
    shuffle(branch_to, (uint32_t)one->branch_count, &random);
    for (size_t i = 0; i < one->node_count; i++) {
        other->node[node_to[i]] = one->node[i];
    }
    for (size_t b = 0; b < one->branch_count; b++) {
        struct hr_branch *branch = &other->branch[branch_to[b]];
        *branch = one->branch[b];
        branch->from = node_to[branch->from];
        branch->to = node_to[branch->to];
    }
    solve_pair(&p, NULL);
    for (size_t b = 0; b < one->branch_count; b++) {
        check_same(&p, b, branch_to[b], 1.0);
    }
    free_pair(&p);
}
END_TEST

START_TEST(both_factorisations_give_the_same_flows)
{
    struct pair p;
    struct hr_flow_settings settings = hr_flow_defaults();
    settings.factorisation = HR_NODAL_LARGE;
    make_pair(&p, 4 * _i); /* laminar share 1e-2: the spread that CHOLMOD is meant for */
    solve_pair(&p, &settings);
    ck_assert(p.s_one.quality.small && !p.s_other.quality.small);
    for (size_t b = 0; b < p.one.network.branch_count; b++) {
        check_same(&p, b, b, 1.0);
    }
    free_pair(&p);
}
END_TEST

/* Laws of squares alone: all pressures times k make all flows times the root of k. */
START_TEST(squares_scale_with_the_root_of_the_drive)
{
    struct net one, other;
    struct random random = {.state = (uint64_t)_i};
    const double k = pow(10.0, random_between(&random, -3.0, 3.0));
    net_init(&one, 12);
    net_init(&other, 12);
    for (uint32_t b = 0; b < 24; b++) {
        const uint32_t from = b < 11 ? random_below(&random, b + 1) : random_below(&random, 12);
        const uint32_t to = b < 11 ? b + 1 : random_below(&random, 12);
        const double square = 3e12 * pow(10.0, random_between(&random, -2.0, 2.0));
        const double head = b % 4 == 0 ? random_between(&random, 1e3, 4e4) : 0.0;
        net_add(&one, from, to, net_pump(head, 0.0, square));
        net_add(&other, from, to, net_pump(k * head, 0.0, square));
    }
    net_fix(&one, 3, 7100.0);
    net_fix(&other, 3, k * 7100.0);
    struct hr_flow *a = net_flow(&one.network, NULL);
    struct hr_flow *b = net_flow(&other.network, NULL);
    const struct hr_flow_solution s = net_solve(a, &one.network);
    const struct hr_flow_solution scaled = net_solve(b, &other.network);
    const double flow = largest(s.branch_flow, 24);
    for (size_t i = 0; i < 24; i++) {
        const double hidden = random_hidden_flow(&one.network, &one.branch[i], 2.2e-16 * 2e5);
        hr_assert_abs(scaled.branch_flow[i], sqrt(k) * s.branch_flow[i],
                      sqrt(k) * (1e-9 * flow + 2.0 * hidden), "flow");
    }
    for (size_t i = 0; i < 12; i++) {
        hr_assert_abs(scaled.node_potential[i], k * s.node_potential[i], k * 1e-9 * 2e5, "potential");
    }
    hr_flow_free(a);
    hr_flow_free(b);
}
END_TEST

/* The integral of a branch's drop from q to q + d: Simpson's rule is exact for these laws on each side of 0.
 */
static double content(const struct hr_network *net, const struct hr_branch *branch, double q, double d)
{
    const double cut = q * (q + d) < 0.0 ? -q / d : 1.0;
    double sum = 0.0;
    for (uint32_t i = 0; i < branch->law_count; i++) {
        const struct hr_law *law = &net->law[branch->law_first + i];
        for (int half = 0; half < 2; half++) {
            const double from = q + (half == 0 ? 0.0 : cut * d);
            const double to = half == 0 ? q + cut * d : q + d;
            double a, middle, b, slope;
            hr_law_evaluate(law, from, &a, &slope);
            hr_law_evaluate(law, 0.5 * (from + to), &middle, &slope);
            hr_law_evaluate(law, to, &b, &slope);
            sum += (to - from) / 6.0 * (a + 4.0 * middle + b);
        }
    }
    return sum;
}

/* The branches of a ring through branch `first`, as signs: a search from its head back to its tail. False:
 * none. */
static bool find_ring(const struct hr_network *net, size_t first, int sign[])
{
    int via[NET_NODES]; /* 1 + branch by which the search came */
    uint32_t queue[NET_NODES];
    size_t head = 0, tail = 0;
    memset(via, 0, sizeof via);
    memset(sign, 0, net->branch_count * sizeof *sign);
    queue[tail++] = net->branch[first].to;
    while (head < tail && via[net->branch[first].from] == 0) {
        const uint32_t at = queue[head++];
        for (size_t b = 0; b < net->branch_count; b++) {
            const struct hr_branch *branch = &net->branch[b];
            const uint32_t next = branch->from == at ? branch->to : branch->from;
            if (b != first && (branch->from == at || branch->to == at) && via[next] == 0 &&
                next != queue[0]) {
                via[next] = (int)b + 1;
                queue[tail++] = next;
            }
        }
    }
    uint32_t at = net->branch[first].from;
    if (via[at] == 0) {
        return false;
    }
    sign[first] = 1;
    while (at != queue[0]) {
        const size_t b = (size_t)via[at] - 1;
        sign[b] = net->branch[b].to == at ? 1 : -1;
        at = net->branch[b].to == at ? net->branch[b].from : net->branch[b].to;
    }
    return true;
}

START_TEST(answer_has_the_least_content_of_all_flows_that_conserve_mass)
{
    struct net net;
    struct random random = {.state = (uint64_t)_i};
    size_t rings = 0;
    net_init(&net, 14);
    net_fix(&net, 0, 0.0);
    net.node[5].inflow = 3.1e-5;
    for (uint32_t b = 0; b < 30; b++) {
        const uint32_t from = b < 13 ? random_below(&random, b + 1) : random_below(&random, 14);
        const uint32_t to = b < 13 ? b + 1 : random_below(&random, 14);
        const double size = pow(10.0, random_between(&random, -2.0, 2.0));
        const double head = b % 5 == 0 ? random_between(&random, 1e3, 4e4) : 0.0;
        net_add(&net, from, to == from ? (to + 1) % 14 : to, net_pump(head, 1e6 * size, 3e12 * size));
    }
    struct hr_flow *flow = net_flow(&net.network, NULL);
    const struct hr_flow_solution s = net_solve(flow, &net.network);
    for (size_t first = 0; first < 30; first++) {
        int sign[30];
        if (!find_ring(&net.network, first, sign)) {
            continue;
        }
        rings++;
        for (double size = 1e-8; size < 2e-3; size *= 10.0) {
            for (double d = -size; d <= size; d += 2.0 * size) {
                double change = 0.0;
                double terms = 0.0;
                for (size_t b = 0; b < 30; b++) {
                    const double part = content(&net.network, &net.branch[b], s.branch_flow[b], sign[b] * d);
                    change += part;
                    terms += fabs(part);
                }
                ck_assert_msg(change > -1e-12 * terms && (size < 1e-6 || change > 0.0),
                              "%g more around branch %zu changes the content by %g of %g", d, first, change,
                              terms);
            }
        }
    }
    ck_assert_uint_gt(rings, 10);
    hr_flow_free(flow);
}
END_TEST

START_TEST(twenty_starts_reach_one_answer)
{
    const struct random_trial trial = {
        .laminar = laminar_of[_i % 4], .nodes_min = 3, .nodes_max = 60, .starts = 20};
    struct random_tally tally = {0};
    random_check(&trial, (uint64_t)_i, &tally, stdout);
    ck_assert_uint_eq(random_tally_failures(&tally), 0);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("flow properties");
    TCase *t = tcase_create("random networks");
    tcase_add_loop_test(t, turning_an_arrow_turns_the_sign_alone, 0, SEEDS);
    tcase_add_loop_test(t, numbering_changes_nothing, 0, SEEDS);
    tcase_add_loop_test(t, both_factorisations_give_the_same_flows, 0, SEEDS);
    tcase_add_loop_test(t, squares_scale_with_the_root_of_the_drive, 0, SEEDS);
    tcase_add_loop_test(t, answer_has_the_least_content_of_all_flows_that_conserve_mass, 0, SEEDS);
    tcase_add_loop_test(t, twenty_starts_reach_one_answer, 0, SEEDS);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
