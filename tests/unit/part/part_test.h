/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts made without a file, and what every law must satisfy. */
#ifndef HR_PART_TEST_H
#define HR_PART_TEST_H

#include "hr_test.h"

#include "part/kinds.h"

#include <string.h>

enum { TEST_VALUES = 24 };

/* A part under construction. Zero-initialise, or let make_part do all. */
struct test_part {
    struct hr_arena arena;
    struct hr_report report;
    struct hr_value value[TEST_VALUES];
    struct hr_params params;
    void *part;
};

static const struct hr_fluid_state test_water = {.temperature_c = 30,
                                                 .density = 995.6515,
                                                 .viscosity = 797.222e-6,
                                                 .heat_capacity = 4180,
                                                 .conductivity = 0.61439};

static const struct hr_setting test_setting = {.fluid = &test_water, .speed_rpm = NAN};

static inline const struct hr_key *test_key(const struct hr_key_group *group, const char *name,
                                            enum hr_form form)
{
    for (size_t i = 0; i < group->count; i++) {
        if (strcmp(group->keys[i].name, name) == 0 && group->keys[i].form == form) {
            return &group->keys[i];
        }
    }
    return NULL;
}

/* The row of a kind's key of a form; the test fails where the kind has none. */
static inline const struct hr_key *test_kind_key(const struct hr_part_kind *kind, const char *name,
                                                 enum hr_form form)
{
    const struct hr_key *key = NULL;
    for (size_t i = 0; kind->groups[i] != NULL && key == NULL; i++) {
        key = test_key(kind->groups[i], name, form);
    }
    ck_assert_msg(key != NULL, "kind %s has no key '%s' of form %d", kind->name, name, (int)form);
    return key;
}

static inline void test_start(struct test_part *test)
{
    memset(test, 0, sizeof *test);
    hr_arena_init(&test->arena);
    hr_report_init(&test->report);
    test->params = (struct hr_params){
        .owner = "part 'x'", .at = {.file = "loop.yaml", .line = 7, .column = 3}, .value = test->value};
}

static inline void test_end(struct test_part *test)
{
    hr_report_clear(&test->report);
    hr_arena_clear(&test->arena);
}

static inline struct hr_value *test_add(struct test_part *test, const struct hr_key *key)
{
    ck_assert(test->params.count < TEST_VALUES);
    struct hr_value *value = &test->value[test->params.count++];
    *value = (struct hr_value){.key = key, .at = test->params.at};
    return value;
}

/* Adds numbers, a choice, or rows of two columns to a part of `kind`. */
static inline void test_number(struct test_part *test, const struct hr_part_kind *kind, const char *name,
                               double number)
{
    const struct hr_key *key = NULL;
    for (int form = HR_FORM_QUANTITY; form <= HR_FORM_FLAG && key == NULL; form++) {
        for (size_t i = 0; kind->groups[i] != NULL && key == NULL; i++) {
            key = test_key(kind->groups[i], name, (enum hr_form)form);
        }
    }
    ck_assert_msg(key != NULL, "kind %s has no number '%s'", kind->name, name);
    test_add(test, key)->number = number;
}

static inline void test_choice(struct test_part *test, const struct hr_part_kind *kind, const char *name,
                               const char *word)
{
    const struct hr_key *key = test_kind_key(kind, name, HR_FORM_CHOICE);
    bool known = false;
    for (size_t i = 0; key->choices[i] != NULL; i++) {
        known = known || strcmp(key->choices[i], word) == 0;
    }
    ck_assert_msg(known, "key %s has no choice '%s'", name, word);
    test_add(test, key)->text = word;
}

static inline struct hr_value *test_rows(struct test_part *test, const struct hr_key *key, double rows[],
                                         size_t count)
{
    struct hr_value *value = test_add(test, key);
    value->rows = rows;
    value->row_count = count;
    value->column_count = key->column_count;
    return value;
}

/* A mapping under a key, filled by a list of names and numbers that ends with NULL. */
struct test_pair {
    const char *name;
    double number;
};

static inline struct hr_params *test_map(struct test_part *test, const struct hr_part_kind *kind,
                                         const char *name, const struct test_pair pairs[])
{
    const struct hr_key *key = test_kind_key(kind, name, HR_FORM_MAP);
    struct hr_params *map = hr_arena_alloc(&test->arena, 1, sizeof *map);
    struct hr_value *values = hr_arena_alloc(&test->arena, TEST_VALUES, sizeof *values);
    ck_assert(map != NULL && values != NULL);
    *map = (struct hr_params){.owner = test->params.owner, .at = test->params.at, .value = values};
    for (size_t i = 0; pairs[i].name != NULL; i++) {
        const struct hr_key *sub = NULL;
        for (int form = HR_FORM_QUANTITY; form <= HR_FORM_FLAG && sub == NULL; form++) {
            sub = test_key(key->sub, pairs[i].name, (enum hr_form)form);
        }
        ck_assert_msg(sub != NULL, "mapping %s has no number '%s'", name, pairs[i].name);
        values[map->count++] = (struct hr_value){.key = sub, .at = map->at, .number = pairs[i].number};
    }
    test_add(test, key)->map = map;
    return map;
}

/* A list of rows in such a mapping. */
static inline struct hr_value *test_map_rows(const struct hr_part_kind *kind, const char *name,
                                             struct hr_params *map, const char *sub, double rows[],
                                             size_t count)
{
    const struct hr_key *key = test_key(test_kind_key(kind, name, HR_FORM_MAP)->sub, sub, HR_FORM_ROWS);
    ck_assert(key != NULL);
    struct hr_value *value = &map->value[map->count++];
    *value = (struct hr_value){
        .key = key, .at = map->at, .rows = rows, .row_count = count, .column_count = key->column_count};
    return value;
}

static inline void test_make(struct test_part *test, const struct hr_part_kind *kind)
{
    const enum hr_status status = kind->make(&test->params, &test->arena, &test->part, &test->report);
    ck_assert_msg(status == HR_OK, "%s", test->report.error[0].text);
    ck_assert_uint_eq(test->report.errors, 0);
}

/* The make of a faulty part: code and text of its one error. */
static inline void test_fault(struct test_part *test, const struct hr_part_kind *kind, const char *code,
                              const char *text)
{
    const enum hr_status status = kind->make(&test->params, &test->arena, &test->part, &test->report);
    ck_assert_int_eq(status, HR_INPUT);
    ck_assert_uint_eq(test->report.errors, 1);
    ck_assert_str_eq(test->report.error[0].code, code);
    ck_assert_str_eq(test->report.error[0].text, text);
    ck_assert_str_eq(test->report.error[0].file, "loop.yaml");
    ck_assert_uint_eq(test->report.error[0].line, 7);
}

/* Drop and slope of a branch: the sum of its laws. */
static inline void test_branch(const struct hr_part_branch *branch, double flow, double *drop, double *slope)
{
    *drop = 0;
    *slope = 0;
    for (size_t i = 0; i < branch->law_count; i++) {
        double one;
        double one_slope;
        hr_law_evaluate(&branch->law[i], flow, &one, &one_slope);
        *drop += one;
        *slope += one_slope;
    }
}

static inline double test_drop_in(const struct hr_part_kind *kind, const struct test_part *test,
                                  const struct hr_setting *setting, double flow)
{
    struct hr_part_branch branch[HR_PORTS_MAX];
    double drop;
    double slope;
    kind->bind(test->part, setting, branch);
    test_branch(branch, flow, &drop, &slope);
    return drop;
}

static inline double test_drop(const struct hr_part_kind *kind, const struct test_part *test, double flow)
{
    return test_drop_in(kind, test, &test_setting, flow);
}

/* The slope is the derivative: against central differences, whose own error is the second term (rounding of
 * the drop) and the step where the curvature jumps. */
static inline void test_derivative(const struct hr_part_branch *branch, double flow)
{
    const double step = 1e-5 * fabs(flow);
    double drop;
    double slope;
    double after;
    double before;
    double unused;
    test_branch(branch, flow, &drop, &slope);
    test_branch(branch, flow + step, &after, &unused);
    test_branch(branch, flow - step, &before, &unused);
    const double difference = (after - before) / (2 * step);
    const double allowed = 3e-5 * fabs(slope) + 1e-14 * fabs(drop) / step;
    ck_assert_msg(fabs(difference - slope) <= allowed,
                  "at a flow of %.9g m3/s the slope is %.9g, but the drop rises by %.9g", flow, slope,
                  difference);
}

/* The slope between two flows is continuous: where it changes most, halving the step 30 times leaves no jump.
 */
static inline void test_continuous_slope(const struct hr_part_branch *branch, double from, double to)
{
    double drop;
    double slope[3];
    test_branch(branch, from, &drop, &slope[0]);
    test_branch(branch, to, &drop, &slope[2]);
    for (int i = 0; i < 30; i++) {
        const double middle = 0.5 * (from + to);
        test_branch(branch, middle, &drop, &slope[1]);
        if (fabs(slope[1] - slope[0]) > fabs(slope[2] - slope[1])) {
            to = middle;
            slope[2] = slope[1];
        } else {
            from = middle;
            slope[0] = slope[1];
        }
    }
    ck_assert_msg(fabs(slope[2] - slope[0]) <= 1e-6 * fabs(slope[0]),
                  "the slope jumps at %.9g m3/s from %.9g to %.9g", from, slope[0], slope[2]);
}

enum { TEST_ODD = 1, TEST_ZERO_SLOPE = 2, TEST_NOT_ZERO = 4 };

/* All properties over nine decades of flow around `typical` in both directions. */
static inline void test_properties(const struct hr_part_branch *branch, double typical, int flags)
{
    double drop;
    double slope;
    test_branch(branch, 0, &drop, &slope);
    if (!(flags & TEST_NOT_ZERO)) {
        ck_assert_msg(drop == 0, "the drop at no flow is %g", drop);
    }
    const double at_zero = drop;
    ck_assert_msg(flags & TEST_ZERO_SLOPE ? slope >= 0 : slope > 0, "the slope at no flow is %g", slope);
    const double first_slope = slope;
    double last[2] = {at_zero, at_zero};
    double last_slope[2] = {first_slope, first_slope};
    for (int i = -1400; i <= 400; i++) {
        const double flow = typical * pow(10, i / 200.0);
        for (int side = 0; side < 2; side++) {
            const double sign = side == 0 ? 1 : -1;
            test_branch(branch, sign * flow, &drop, &slope);
            ck_assert_msg(isfinite(drop) && isfinite(slope), "not finite at %g", flow);
            ck_assert_msg(
                flags & TEST_NOT_ZERO ? sign * (drop - last[side]) >= 0 : sign * (drop - last[side]) > 0,
                "the drop does not rise at %.9g m3/s: %.17g after %.17g", sign * flow, drop, last[side]);
            ck_assert_msg(slope > 0, "the slope at %g is %g", sign * flow, slope);
            if (i > -1400 && fabs(slope - last_slope[side]) > 0.02 * slope) {
                test_continuous_slope(branch, sign * flow * pow(10, -1 / 200.0), sign * flow);
            }
            test_derivative(branch, sign * flow);
            last[side] = drop;
            last_slope[side] = slope;
        }
        if (flags & TEST_ODD) {
            double back;
            test_branch(branch, flow, &drop, &slope);
            test_branch(branch, -flow, &back, &slope);
            ck_assert_msg(back == -drop, "at %g the drop is %.17g, backwards %.17g", flow, drop, back);
        }
    }
}

#endif
