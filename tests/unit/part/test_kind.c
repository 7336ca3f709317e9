/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of kinds: what readers and users may rely on. */
#include "part_test.h"

/* Words of forms that exclude each other, keys as users write them, a help line each. */
static void check_group(const char *owner, const struct hr_key_group *group, int depth)
{
    ck_assert_int_lt(depth, 4);
    ck_assert_uint_gt(group->count, 0);
    for (size_t i = 0; i < group->count; i++) {
        const struct hr_key *key = &group->keys[i];
        ck_assert_msg(key->name != NULL && key->help != NULL, "a key of %s lacks name or help", owner);
        ck_assert_msg(strspn(key->name, "abcdefghijklmnopqrstuvwxyz0123456789_") == strlen(key->name),
                      "key '%s' of %s is not in lower case", key->name, owner);
        ck_assert_msg(strlen(key->help) > 4 && strlen(key->help) < 110, "help of '%s' of %s", key->name,
                      owner);
        ck_assert_msg(key->min <= key->max, "range of '%s' of %s", key->name, owner);
        ck_assert_msg((key->form == HR_FORM_CHOICE) <= (key->choices != NULL), "'%s' has no choices",
                      key->name);
        ck_assert_msg((key->form == HR_FORM_MAP) == (key->sub != NULL), "'%s' is a mapping without keys",
                      key->name);
        const bool columns = key->form == HR_FORM_ROWS || key->form == HR_FORM_LIST;
        ck_assert_msg(columns == (key->column_count > 0), "'%s' of %s: columns", key->name, owner);
        if (key->sub != NULL) {
            check_group(key->name, key->sub, depth + 1);
        }
    }
}

START_TEST(keys_are_well_formed)
{
    const struct hr_part_kind *kind = hr_part_kinds[_i];
    for (size_t g = 0; kind->groups[g] != NULL; g++) {
        check_group(kind->name, kind->groups[g], 0);
    }
}
END_TEST

static int shape(const struct hr_key *key)
{
    switch (key->form) {
    case HR_FORM_ROWS:
    case HR_FORM_LIST:
    case HR_FORM_NAMES:
        return 1;
    case HR_FORM_MAP:
    case HR_FORM_COUNTS:
        return 2;
    default:
        return 0;
    }
}

START_TEST(a_key_has_one_row_for_each_shape)
{
    const struct hr_part_kind *kind = hr_part_kinds[_i];
    const struct hr_key *seen[200];
    size_t count = 0;
    for (size_t g = 0; kind->groups[g] != NULL; g++) {
        for (size_t i = 0; i < kind->groups[g]->count; i++) {
            const struct hr_key *key = &kind->groups[g]->keys[i];
            for (size_t j = 0; j < count; j++) {
                ck_assert_msg(strcmp(seen[j]->name, key->name) != 0 || shape(seen[j]) != shape(key),
                              "kind %s has '%s' twice", kind->name, key->name);
            }
            ck_assert_uint_lt(count, HR_ARRAY_LEN(seen));
            seen[count++] = key;
        }
    }
}
END_TEST

START_TEST(kinds_are_complete)
{
    const struct hr_part_kind *kind = hr_part_kinds[_i];
    ck_assert(kind->name != NULL && kind->summary != NULL && kind->make != NULL && kind->bind != NULL);
    size_t ports = 0;
    while (kind->ports[ports] != NULL) {
        ports++;
    }
    ck_assert(ports == 2 || ports == 3);
    ck_assert((ports == 3) == (kind->split != NULL));
    ck_assert_ptr_eq(hr_part_kind_find(kind->name), kind);
    ck_assert(hr_part_kind_key(kind, "model") != NULL);
    ck_assert(hr_part_kind_key(kind, "price") != NULL);
    ck_assert(hr_part_kind_key(kind, "nothing") == NULL);
}
END_TEST

START_TEST(names_of_the_loop_file_are_known)
{
    static const struct {
        const char *kind;
        const char *keys[16];
    } rows[] = {
        {"tube", {"bore", "length", "roughness", "fittings", "zeta", "entrance", "in_series", "in_parallel"}},
        {"resistance", {"points", "law", "zeta", "bore", "flow_coefficient"}},
        {"pump",
         {"curve", "speed", "flow", "power", "power_to_coolant", "stopped", "noise", "price", "space"}},
        {"block", {"heat", "resistance", "heat_to_coolant", "zone", "geometry", "points", "volume"}},
        {"pump-block", {"heat", "resistance", "curve", "power", "power_to_coolant", "points"}},
        {"radiator", {"ua", "rating", "fans", "air_flow", "air_side", "geometry", "points"}},
        {"fan", {"curve", "speed", "count", "stopped", "panel", "noise"}},
        {"reservoir", {"reference", "open", "volume"}},
        {"quick-disconnect", {"connected", "flow_coefficient"}},
        {"valve", {"opening"}},
        {"vent", {"area", "open", "points"}},
    };
    for (size_t i = 0; i < HR_ARRAY_LEN(rows); i++) {
        const struct hr_part_kind *kind = hr_part_kind_find(rows[i].kind);
        ck_assert_msg(kind != NULL, "no kind %s", rows[i].kind);
        for (size_t j = 0; rows[i].keys[j] != NULL; j++) {
            ck_assert_msg(hr_part_kind_key(kind, rows[i].keys[j]) != NULL, "%s has no %s", rows[i].kind,
                          rows[i].keys[j]);
        }
    }
    ck_assert(hr_part_kind_find("exchanger") == NULL);
    /* `count` is for fans alone. */
    ck_assert(hr_part_kind_key(&hr_kind_pump, "count") == NULL);
}
END_TEST

START_TEST(params_find_what_was_given)
{
    struct test_part test;
    test_start(&test);
    test_number(&test, &hr_kind_tube, "bore", 0.013);
    test_choice(&test, &hr_kind_tube, "entrance", "developed");
    hr_assert_rel(hr_param_number(&test.params, "bore", 7), 0.013, 0, "given");
    hr_assert_rel(hr_param_number(&test.params, "length", 7), 7, 0, "not given");
    ck_assert(hr_param_is(&test.params, "entrance", "developed"));
    ck_assert(!hr_param_is(&test.params, "entrance", "developing"));
    ck_assert(!hr_param_is(&test.params, "bore", "developed"));
    ck_assert(hr_param(NULL, "bore") == NULL);
    ck_assert(hr_param_map(&test.params, "law") == NULL);
    ck_assert_str_eq(hr_param_text(&test.params, "friction", "churchill"), "churchill");
    test_end(&test);
}
END_TEST

static Suite *kind_suite(void)
{
    int count = 0;
    while (hr_part_kinds[count] != NULL) {
        count++;
    }
    Suite *suite = suite_create("part-kind");
    TCase *all = tcase_create("kinds");
    tcase_add_loop_test(all, keys_are_well_formed, 0, count);
    tcase_add_loop_test(all, a_key_has_one_row_for_each_shape, 0, count);
    tcase_add_loop_test(all, kinds_are_complete, 0, count);
    tcase_add_test(all, names_of_the_loop_file_are_known);
    tcase_add_test(all, params_find_what_was_given);
    suite_add_tcase(suite, all);
    return suite;
}

HR_TEST_MAIN(kind_suite)
