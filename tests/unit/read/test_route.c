/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What routes and runs become: exact names and ends of all runs, in order. */
#include "read_test.h"

#include "base/text.h"

#define PARTS                                                                                                \
    "parts:\n"                                                                                               \
    "  p: {kind: pump, flow: 3 L/min}\n"                                                                     \
    "  a: {kind: resistance, law: {r: 2e9, n: 2}}\n"                                                         \
    "  b: {kind: resistance, law: {r: 3e9, n: 2}}\n"                                                         \
    "  c: {kind: resistance, law: {r: 5e9, n: 2}}\n"                                                         \
    "  d: {kind: resistance, law: {r: 7e9, n: 2}}\n"                                                         \
    "tubing: {bore: 10 mm, length: 137 mm}\n"

/* Each run as "NAME FROM>TO", parted by ", "; then the points where parts meet without a run, as "A=B". */
static void show(const struct hr_description *d, struct hr_text *text)
{
    for (size_t i = 0; i < d->run_count; i++) {
        const struct hr_run *run = &d->runs[i];
        hr_text_add(text, "%s%s %s>%s", i == 0 ? "" : ", ", run->name, d->points[run->from].name,
                    d->points[run->to].name);
    }
}

static const struct {
    const char *route, *runs;
} expansions[] = {
    {"route: [p, a]\n", "p-a p.out>a.in, a-p a.out>p.in"},
    {"route: [p]\n", "p-p p.out>p.in"},
    {"route: [p, a, b, c]\n", "p-a p.out>a.in, a-b a.out>b.in, b-c b.out>c.in, c-p c.out>p.in"},
    {"route: [p, {parallel: [a, b]}, c]\n",
     "p-split-1 p.out>split-1, split-1-a split-1>a.in, a-join-1 a.out>join-1, split-1-b split-1>b.in, "
     "b-join-1 b.out>join-1, join-1-c join-1>c.in, c-p c.out>p.in"},
    {"route: [p, {parallel: [[a, b], c]}]\n",
     "p-split-1 p.out>split-1, split-1-a split-1>a.in, a-b a.out>b.in, b-join-1 b.out>join-1, "
     "split-1-c split-1>c.in, c-join-1 c.out>join-1, join-1-p join-1>p.in"},
    {"route: [p, {parallel: [a, [b, {parallel: [c, d]}]]}]\n",
     "p-split-1 p.out>split-1, split-1-a split-1>a.in, a-join-1 a.out>join-1, split-1-b split-1>b.in, "
     "b-split-2 b.out>split-2, split-2-c split-2>c.in, c-join-2 c.out>join-2, split-2-d split-2>d.in, "
     "d-join-2 d.out>join-2, join-2-join-1 join-2>join-1, join-1-p join-1>p.in"},
    {"route: [{parallel: [a, b]}, {parallel: [c, d]}, p]\n",
     "split-1-a split-1>a.in, a-join-1 a.out>join-1, split-1-b split-1>b.in, b-join-1 b.out>join-1, "
     "join-1-split-2 join-1>split-2, split-2-c split-2>c.in, c-join-2 c.out>join-2, split-2-d split-2>d.in, "
     "d-join-2 d.out>join-2, join-2-p join-2>p.in, p-split-1 p.out>split-1"},
    {"route: [p, {parallel: [a, b], legs: none}, c]\n",
     "p-split-1 p.out>split-1, join-1-c join-1>c.in, c-p c.out>p.in"},
    {"route: [p, {parallel: [[a, b], c], legs: none}]\n", "p-split-1 p.out>split-1, join-1-p join-1>p.in"},
    {"route: [p, a + b, c]\n", "p-a p.out>a.in, b-c b.out>c.in, c-p c.out>p.in"},
    {"route: [p + a + b]\n", "b-p b.out>p.in"},
    {"route: [p, {reversed: a}, b]\n", "p-a p.out>a.out, a-b a.in>b.in, b-p b.out>p.in"},
    {"route: [p, {part: a, in: out, out: in}]\n", "p-a p.out>a.out, a-p a.in>p.in"},
    {"route: {open: [A, p, a, B]}\nfeeds: [{at: A, head: 0 m}, {at: B, head: 0 m}]\n",
     "A-p A>p.in, p-a p.out>a.in, a-B a.out>B"},
    {"route: {open: [p, a]}\nfeeds: [{at: p.in, head: 0 m}, {at: a.out, head: 0 m}]\n", "p-a p.out>a.in"},
    /* names that are taken */
    {"route: [p, a]\nruns: [{name: p-a, from: A, to: B}, {from: A, to: B}]\n",
     "p-a-2 p.out>a.in, a-p a.out>p.in, p-a A>B, run-1 A>B"},
    {"route: [p, {parallel: [a, b]}]\nruns: [{name: split-1, from: A, to: B}, {from: A, to: B}]\nsensors: "
     "{}\n",
     NULL},
    {"route: [p, a]\nruns: [{name: run-1, from: A, to: B}, {from: B, to: A}]\n",
     "p-a p.out>a.in, a-p a.out>p.in, run-1 A>B, run-2 B>A"},
    /* lines of runs */
    {"route: [p, a, b]\nruns: [{from: a.out, to: b.in, length: 1 m}]\n",
     "p-a p.out>a.in, run-1 a.out>b.in, b-p b.out>p.in"},
    {"route: [p, a, b]\nruns: [{from: b.in, to: a.out, length: 1 m}]\n",
     "p-a p.out>a.in, run-1 b.in>a.out, b-p b.out>p.in"},
    {"route: [p, a, b]\nruns: [{name: back, from: p.in, to: b.out, length: 1 m}]\n",
     "p-a p.out>a.in, a-b a.out>b.in, back p.in>b.out"},
    {"route: [p, a, b]\nruns: [{from: a.out, to: b.in, extra: true}]\n",
     "p-a p.out>a.in, a-b a.out>b.in, b-p b.out>p.in, run-1 a.out>b.in"},
    {"route: [p, a, b]\nruns: [{from: p.out, to: b.in, extra: true}]\n",
     "p-a p.out>a.in, a-b a.out>b.in, b-p b.out>p.in, run-1 p.out>b.in"},
    {"route: [p, {parallel: [a, b]}]\nruns: [{from: a.out, to: join-1, length: 1 m}]\n",
     "p-split-1 p.out>split-1, split-1-a split-1>a.in, run-1 a.out>join-1, split-1-b split-1>b.in, "
     "b-join-1 b.out>join-1, join-1-p join-1>p.in"},
    {"route: [p, a]\nruns: {p-a: {length: 1 m}, X: {from: A, to: B}, Y: {from: B, to: A}}\n",
     "p-a p.out>a.in, a-p a.out>p.in, X A>B, Y B>A"},
    /* graphs without a route */
    {"runs: [{from: p.out, to: a.in}, {from: a.out, to: N}, {from: N, to: p.in}]\n",
     "run-1 p.out>a.in, run-2 a.out>N, run-3 N>p.in"},
};

START_TEST(a_route_expands_to_these_runs)
{
    char file[2048];
    struct loop loop;
    struct hr_text text = {0};
    (void)snprintf(file, sizeof file, "%s%s", PARTS, expansions[_i].route);
    loop_open(&loop, file, NULL);
    if (expansions[_i].runs == NULL) {
        ck_assert_int_eq(loop.status, HR_INPUT);
        loop_close(&loop);
        return;
    }
    loop_must_be_good(&loop);
    show(loop.d, &text);
    ck_assert_str_eq(text.bytes, expansions[_i].runs);
    hr_text_clear(&text);
    loop_close(&loop);
}
END_TEST

static size_t port(const struct loop *loop, const char *name, size_t i)
{
    return loop_part(loop, name)->point[i];
}

START_TEST(rigid_joins_make_one_point)
{
    struct loop loop;
    loop_open(&loop, PARTS "route: [p, a + b, {parallel: [c, d], legs: none}]\n", NULL);
    loop_must_be_good(&loop);
    ck_assert_uint_eq(port(&loop, "a", 1), port(&loop, "b", 0));
    ck_assert_uint_eq(port(&loop, "c", 0), port(&loop, "d", 0));
    ck_assert_uint_eq(port(&loop, "c", 1), port(&loop, "d", 1));
    ck_assert_uint_ne(port(&loop, "c", 0), port(&loop, "c", 1));
    ck_assert_str_eq(loop.d->points[port(&loop, "d", 0)].name, "split-1");
    ck_assert_uint_eq(loop.d->points[port(&loop, "c", 0)].touched, 3);
    ck_assert_uint_eq(loop.d->split_count, 1);
    ck_assert(loop.d->splits[0].rigid);
    ck_assert_uint_eq(loop.d->splits[0].tee, HR_NONE);
    loop_close(&loop);
}
END_TEST

START_TEST(the_order_and_the_reversal_of_parts_are_kept)
{
    struct loop loop;
    loop_open(&loop, PARTS "route: [p, {parallel: [d, {reversed: a}]}, b]\n", NULL);
    loop_must_be_good(&loop);
    static const char *const order[] = {"p", "d", "a", "b"};
    ck_assert_uint_eq(loop.d->loops[0].order_count, HR_ARRAY_LEN(order));
    for (size_t i = 0; i < HR_ARRAY_LEN(order); i++) {
        ck_assert_str_eq(loop.d->parts[loop.d->loops[0].order[i]].name, order[i]);
    }
    ck_assert(loop_part(&loop, "a")->reversed);
    ck_assert(!loop_part(&loop, "d")->reversed);
    ck_assert(loop.d->loops[0].closed);
    loop_close(&loop);
}
END_TEST

START_TEST(a_tee_becomes_a_part_at_both_ends)
{
    struct loop loop;
    char models[512];
    loop_open(&loop, PARTS "route: [p, {parallel: [a, b], tee: tee-10}]\n",
              tree_path(models, "tests/unit/read/models"));
    loop_must_be_good(&loop);
    const struct hr_part *split = loop_part(&loop, "split-1");
    ck_assert(split->implied);
    ck_assert_str_eq(split->kind->name, "tee");
    ck_assert_uint_eq(split->point[0], loop_run(&loop, "p-split-1")->to);
    ck_assert_uint_eq(split->point[1], loop_run(&loop, "split-1-a")->from);
    ck_assert_uint_eq(split->point[2], loop_run(&loop, "split-1-b")->from);
    const struct hr_part *join = loop_part(&loop, "join-1");
    ck_assert_uint_eq(join->point[0], loop_run(&loop, "join-1-p")->from);
    ck_assert_uint_eq(join->point[2], loop_run(&loop, "b-join-1")->to);
    ck_assert_uint_eq(loop.d->splits[0].tee, hr_description_part(loop.d, "split-1"));
    loop_close(&loop);
}
END_TEST

START_TEST(keys_of_a_run_override_tubing_one_by_one)
{
    struct loop loop;
    char models[512];
    loop_open(&loop,
              "parts:\n  p: {kind: pump, flow: 3 L/min}\n  a: {kind: resistance, law: {r: 2e9, n: 2}}\n"
              "tubing: {bore: 9 mm, length: 137 mm, roughness: 3 um, fittings: {elbow-90: 1}}\n"
              "route: [p, a]\nruns: [{from: p.out, to: a.in, length: 223 mm, fittings: {qd-dn5: 3}}]\n",
              tree_path(models, "tests/unit/read/models"));
    loop_must_be_good(&loop);
    const struct hr_run *run = loop_run(&loop, "run-1");
    hr_assert_rel(hr_param_number(run->params, "length", 0), 0.223, 1e-15, "its own length");
    hr_assert_rel(hr_param_number(run->params, "bore", 0), 0.009, 1e-15, "bore of the tubing");
    hr_assert_rel(hr_param_number(run->params, "roughness", 0), 3e-6, 1e-15, "roughness of the tubing");
    ck_assert_uint_eq(run->fitting_count, 1); /* fittings are replaced as a whole */
    ck_assert_str_eq(run->fittings[0].name, "qd-dn5");
    ck_assert_uint_eq(run->fittings[0].count, 3);
    ck_assert(!run->is_default);
    const struct hr_run *other = loop_run(&loop, "a-p");
    ck_assert(other->is_default);
    ck_assert_str_eq(other->fittings[0].name, "elbow-90");
    hr_assert_rel(hr_param_number(other->fittings[0].params, "bore", 0), 0.009, 1e-15,
                  "a fitting has the run's bore");
    loop_close(&loop);
}
END_TEST

START_TEST(joins_without_dimensions_are_lossless)
{
    struct loop loop;
    loop_open(&loop, PARTS "route: [p, a, b]\nruns: [{from: p.out, to: a.in, tubing: none}]\n", NULL);
    loop_must_be_good(&loop);
    ck_assert(loop_run(&loop, "run-1")->lossless);
    ck_assert_ptr_null(loop_run(&loop, "run-1")->kind);
    ck_assert(!loop_run(&loop, "a-b")->lossless);
    loop_close(&loop);
    loop_open(
        &loop,
        "tubing: none\nparts: {p: {kind: pump, flow: 3 L/min}, a: {kind: resistance, zeta: 2, bore: 7 mm}}\n"
        "route: [p, a]\nruns: [{from: p.out, to: a.in, bore: 8 mm, length: 1 m}]\n",
        NULL);
    loop_must_be_good(&loop);
    ck_assert(!loop_run(&loop, "run-1")->lossless);
    ck_assert(loop_run(&loop, "a-p")->lossless);
    loop_close(&loop);
}
END_TEST

START_TEST(a_run_may_be_of_any_kind_with_two_ports)
{
    struct loop loop;
    char models[512];
    loop_open(&loop,
              "runs:\n  - {name: AB, from: A, to: B, kind: resistance, law: {r: 2e9, n: 2}}\n"
              "  - {name: BC, from: B, to: C, model: qd-dn5}\n  - {name: CA, from: C, to: A, kind: pump, "
              "flow: 3 L/min}\n",
              tree_path(models, "tests/unit/read/models"));
    loop_must_be_good(&loop);
    ck_assert_str_eq(loop_run(&loop, "AB")->kind->name, "resistance");
    ck_assert_str_eq(loop_run(&loop, "BC")->kind->name, "quick-disconnect");
    ck_assert_str_eq(loop_run(&loop, "CA")->kind->name, "pump");
    ck_assert_uint_eq(loop.d->point_count, 3);
    loop_close(&loop);
}
END_TEST

START_TEST(several_loops_have_their_own_coolant_and_tubing)
{
    struct loop loop;
    loop_open(
        &loop,
        "coolant: water\nparts:\n  p: {kind: pump, flow: 3 L/min}\n  a: {kind: resistance, zeta: 2, bore: 7 "
        "mm}\n"
        "  q: {kind: pump, flow: 2 L/min}\n  b: {kind: resistance, zeta: 2, bore: 7 mm}\n"
        "loops:\n  one: {tubing: none, route: [p, a]}\n"
        "  two: {coolant: {fluid: ethylene-glycol-water, mass_fraction: 31 %, temperature: 37 degC}, tubing: "
        "{bore: 8 mm, length: 1 m}, route: [q, b]}\n",
        NULL);
    loop_must_be_good(&loop);
    ck_assert_uint_eq(loop.d->loop_count, 2);
    ck_assert_int_eq(loop.d->loops[0].fluid.kind, HR_WATER);
    ck_assert_int_eq(loop.d->loops[1].fluid.kind, HR_ETHYLENE_GLYCOL);
    hr_assert_rel(loop.d->loops[1].fluid.mass_fraction, 0.31, 1e-15, "mass fraction");
    hr_assert_rel(loop.d->loops[1].temperature_c, 37, 1e-15, "temperature");
    ck_assert(isnan(loop.d->loops[0].temperature_c));
    ck_assert_uint_eq(loop_part(&loop, "q")->loop, 1);
    ck_assert_uint_eq(loop_run(&loop, "b-q")->loop, 1);
    ck_assert(loop_run(&loop, "a-p")->lossless);
    loop_close(&loop);
}
END_TEST

START_TEST(a_part_of_two_loops_is_refused)
{
    struct loop loop;
    loop_open(
        &loop,
        "parts: {p: {kind: pump, flow: 3 L/min}, a: {kind: resistance, zeta: 2, bore: 7 mm}}\n"
        "loops:\n  one: {tubing: none, route: [p, a]}\n  two: {tubing: none, runs: [{from: p.out, to: X}]}\n",
        NULL);
    loop_must_fail(&loop,
                   "t.yaml:4:37: 'p.out' is already in the loop 'one'; a loop has its own coolant and parts");
    loop_close(&loop);
}
END_TEST

START_TEST(dead_ends_and_unused_parts_are_warned_of)
{
    struct loop loop;
    loop_open(&loop,
              PARTS
              "route: [p, a]\nruns: [{from: a.out, to: AB}, {from: p.out, to: AC}, {from: AC, to: p.in}]\n",
              NULL);
    loop_must_be_good(&loop);
    ck_assert_uint_eq(loop.report.warnings, 4);
    ck_assert_str_eq(loop.report.warning[0].text,
                     "only one run ends at the junction 'AB'; nothing flows there; did you mean 'AC'?");
    ck_assert_str_eq(loop.report.warning[1].text,
                     "nothing uses the part 'b'; put it into the route, a run or an air "
                     "line, or delete it");
    loop_close(&loop);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("route");
    TCase *t = tcase_create("route");
    tcase_add_loop_test(t, a_route_expands_to_these_runs, 0, (int)HR_ARRAY_LEN(expansions));
    tcase_add_test(t, rigid_joins_make_one_point);
    tcase_add_test(t, the_order_and_the_reversal_of_parts_are_kept);
    tcase_add_test(t, a_tee_becomes_a_part_at_both_ends);
    tcase_add_test(t, keys_of_a_run_override_tubing_one_by_one);
    tcase_add_test(t, joins_without_dimensions_are_lossless);
    tcase_add_test(t, a_run_may_be_of_any_kind_with_two_ports);
    tcase_add_test(t, several_loops_have_their_own_coolant_and_tubing);
    tcase_add_test(t, a_part_of_two_loops_is_refused);
    tcase_add_test(t, dead_ends_and_unused_parts_are_warned_of);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
