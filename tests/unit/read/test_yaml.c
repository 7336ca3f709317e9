/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tree of a YAML text: places, bounds, and what loop files do not have. */
#include "hr_test.h"

#include "base/memory.h"
#include "read/syntax.h"
#include "read/yaml.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

static struct hr_arena arena;
static struct hr_report report;

static void set_up(void)
{
    hr_arena_init(&arena);
    hr_report_init(&report);
}

static void tear_down(void)
{
    hr_arena_clear(&arena);
    hr_report_clear(&report);
}

static const struct hr_yaml *read_bytes(const char *text, size_t length)
{
    const struct hr_origin start = {"t.yaml", 1, 1};
    const struct hr_yaml *root = NULL;
    (void)hr_yaml_read(&arena, text, length, &start, &root, &report);
    return root;
}

static const struct hr_yaml *read_text(const char *text)
{
    return read_bytes(text, strlen(text));
}

static void must_fail(const char *text, const char *code, unsigned line, unsigned column)
{
    ck_assert_ptr_null(read_text(text));
    ck_assert_uint_eq(report.errors, 1);
    ck_assert_int_eq(report.status, HR_INPUT);
    ck_assert_msg(strcmp(report.error[0].code, code) == 0, "code %s, expected %s: %s", report.error[0].code,
                  code, report.error[0].text);
    ck_assert_uint_eq(report.error[0].line, line);
    ck_assert_uint_eq(report.error[0].column, column);
}

START_TEST(every_node_knows_its_place)
{
    const struct hr_yaml *root = read_text("a: 1\nb:\n  - x\n  - {c: 'y z', d: \xc3\xbc, e: w}\n");
    ck_assert_ptr_nonnull(root);
    const struct hr_yaml *list = hr_yaml_get(root, "b");
    ck_assert_uint_eq(list->count, 2);
    ck_assert_uint_eq(list->value[0]->at.line, 3);
    ck_assert_uint_eq(list->value[0]->at.column, 5);
    const struct hr_yaml *map = list->value[1];
    ck_assert_uint_eq(hr_yaml_get(map, "c")->at.column, 9);
    ck_assert(!hr_yaml_get(map, "c")->plain);
    ck_assert_uint_eq(hr_yaml_key_at(map, "e").column, 22); /* columns count characters, not bytes */
    ck_assert_str_eq(hr_yaml_get(map, "e")->at.file, "t.yaml");
}
END_TEST

START_TEST(scalars_stay_text)
{
    const struct hr_yaml *root = read_text("a: no\nb: 010\nc: 2e9\nd: ~\ne: '~'\nf:\n");
    ck_assert(hr_yaml_is(hr_yaml_get(root, "a"), "no"));
    ck_assert(hr_yaml_is(hr_yaml_get(root, "b"), "010"));
    ck_assert(hr_yaml_is(hr_yaml_get(root, "c"), "2e9"));
    ck_assert(hr_yaml_is_null(hr_yaml_get(root, "d")));
    ck_assert(!hr_yaml_is_null(hr_yaml_get(root, "e")));
    ck_assert(hr_yaml_is_null(hr_yaml_get(root, "f")));
}
END_TEST

START_TEST(an_alias_shares_its_node)
{
    const struct hr_yaml *root = read_text("a: &x {k: v}\nb: *x\nc: &x 5\nd: *x\n");
    ck_assert_ptr_eq(hr_yaml_get(root, "a"), hr_yaml_get(root, "b"));
    ck_assert(hr_yaml_is(hr_yaml_get(root, "d"), "5"));
}
END_TEST

START_TEST(an_alias_inside_its_own_value_is_refused)
{
    must_fail("a: &x [1, *x]\n", "yaml-alias", 1, 11);
}
END_TEST

/* Each level uses the one before as often as it fits into a megabyte: 10^18 values and more when written out.
 */
START_TEST(a_megabyte_of_nested_aliases_is_refused_in_a_blink)
{
    const size_t room = 1024 * 1024;
    char *text = malloc(room + 64);
    ck_assert_ptr_nonnull(text);
    size_t used = (size_t)sprintf(text, "a0: &a0 [x]\n");
    for (int level = 1; used < room - 24 * 1024; level++) {
        used += (size_t)sprintf(text + used, "a%d: &a%d [", level, level);
        for (int i = 0; i < 1000; i++) {
            used += (size_t)sprintf(text + used, "*a%d, ", level - 1);
        }
        used += (size_t)sprintf(text + used, "]\n");
    }
    const clock_t before = clock();
    const struct hr_yaml *root = read_bytes(text, used);
    const double seconds = (double)(clock() - before) / CLOCKS_PER_SEC;
    free(text);
    ck_assert_ptr_null(root);
    ck_assert_str_eq(report.error[0].code, "too-large");
    ck_assert_msg(seconds < 0.1, "took %g s", seconds);
}
END_TEST

/* The worst that passes the limits: a megabyte that is nothing but uses of one alias. */
START_TEST(a_megabyte_of_flat_aliases_is_read_in_linear_time)
{
    const size_t room = 1024 * 1024;
    char *text = malloc(room + 64);
    ck_assert_ptr_nonnull(text);
    size_t used = (size_t)sprintf(text, "a: &a x\nb: [");
    while (used < room) {
        used += (size_t)sprintf(text + used, "*a, ");
    }
    used += (size_t)sprintf(text + used, "]\n");
    const struct hr_yaml *root = read_bytes(text, used);
    free(text);
    ck_assert_ptr_nonnull(root);
    ck_assert_uint_gt(hr_yaml_get(root, "b")->count, 200000);
}
END_TEST

START_TEST(nesting_is_bounded_through_aliases_too)
{
    char text[1024] = "a: &a ";
    for (int i = 0; i < 30; i++) {
        strcat(text, "[");
    }
    for (int i = 0; i < 30; i++) {
        strcat(text, "]");
    }
    strcat(text, "\nb: ");
    for (int i = 0; i < 20; i++) {
        strcat(text, "[");
    }
    const size_t length = strlen(text);
    strcat(text, "*a]]]]]]]]]]]]]]]]]]]]\n");
    must_fail(text, "too-deep", 2, (unsigned)(length - (size_t)(strchr(text, '\n') + 1 - text)) + 1);
}
END_TEST

START_TEST(a_file_over_the_limit_is_refused)
{
    const size_t length = HR_YAML_BYTES_MAX + 1;
    char *text = malloc(length);
    ck_assert_ptr_nonnull(text);
    memset(text, '\n', length);
    ck_assert_ptr_null(read_bytes(text, length));
    free(text);
    ck_assert_str_eq(report.error[0].code, "too-large");
    ck_assert_uint_eq(report.error[0].line, 0);
}
END_TEST

static const struct {
    const char *text, *code;
    unsigned line, column;
} refused[] = {
    {"a: {<<: {b: 1}}\n", "yaml-merge", 1, 5},
    {"a: !!int 5\n", "yaml-tag", 1, 4},
    {"a: !x [1]\n", "yaml-tag", 1, 4},
    {"a: 1\n---\nb: 2\n", "yaml-documents", 2, 1},
    {"a: 1\nb: 2\na: 3\n", "duplicate-key", 3, 1},
    {"a: {length: 1,5 m}\n", "decimal-comma", 1, 13},
    {"a: 1\n\tb: 2\n", "yaml-tab", 2, 1},
    {"? [a]\n: b\n", "yaml-key", 1, 3},
    {"a: \"x\\0y\"\n", "yaml-syntax", 1, 4},
    {"a: \"x\\qy\"\n", "yaml-syntax", 1, 6},
    {"a: *\n", "yaml-syntax", 1, 4},
    {"a: [1, 2\nb: 3\n", "yaml-syntax", 1, 4},
    {"a: 1\n b: 2\n", "yaml-syntax", 2, 3},
    {"a: \x01\n", "not-text", 1, 4},
    {"a: \xff\n", "not-text", 1, 4},
    {"a: \xc3\x28\n", "not-text", 1, 4},
    {"a: \xed\xa0\x80\n", "not-text", 1, 4},
};

START_TEST(what_loop_files_do_not_have_is_refused)
{
    must_fail(refused[_i].text, refused[_i].code, refused[_i].line, refused[_i].column);
}
END_TEST

START_TEST(a_quoted_merge_key_is_a_key)
{
    ck_assert_ptr_nonnull(hr_yaml_get(read_text("'<<': 1\n"), "<<"));
}
END_TEST

START_TEST(a_snippet_begins_where_it_is_told)
{
    const struct hr_origin start = {"--set", 3, 10};
    const struct hr_yaml *root = NULL;
    ck_assert_int_eq(hr_yaml_read(&arena, "[a,\n b]", 7, &start, &root, &report), HR_OK);
    ck_assert_uint_eq(root->value[0]->at.line, 3);
    ck_assert_uint_eq(root->value[0]->at.column, 11);
    ck_assert_uint_eq(root->value[1]->at.line, 4);
    ck_assert_uint_eq(root->value[1]->at.column, 2);
}
END_TEST

/* A text is shown whole where it just fits, else cut between characters; nothing is written behind the
 * buffer. */
START_TEST(a_shown_text_keeps_to_its_buffer)
{
    char text[32];
    for (size_t length = 0; length < 20; length++) {
        char buffer[17];
        memset(text, 'x', length);
        text[length] = '\0';
        memset(buffer, '#', sizeof buffer);
        (void)hr_shown(text, buffer, 16);
        ck_assert_int_eq(buffer[16], '#');
        ck_assert_str_eq(buffer, length < 16 ? text : "xxxxxxxxxxxx...");
    }
    char buffer[8];
    ck_assert_str_eq(hr_shown("abc\xc3\xa4\xc3\xa4\xc3\xa4", buffer, sizeof buffer), "abc...");
    ck_assert_str_eq(hr_shown("a\tb", buffer, sizeof buffer), "a?b");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("yaml");
    TCase *t = tcase_create("yaml");
    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_test(t, every_node_knows_its_place);
    tcase_add_test(t, scalars_stay_text);
    tcase_add_test(t, an_alias_shares_its_node);
    tcase_add_test(t, an_alias_inside_its_own_value_is_refused);
    tcase_add_test(t, a_megabyte_of_nested_aliases_is_refused_in_a_blink);
    tcase_add_test(t, a_megabyte_of_flat_aliases_is_read_in_linear_time);
    tcase_add_test(t, nesting_is_bounded_through_aliases_too);
    tcase_add_test(t, a_file_over_the_limit_is_refused);
    tcase_add_loop_test(t, what_loop_files_do_not_have_is_refused, 0, (int)HR_ARRAY_LEN(refused));
    tcase_add_test(t, a_shown_text_keeps_to_its_buffer);
    tcase_add_test(t, a_quoted_merge_key_is_a_key);
    tcase_add_test(t, a_snippet_begins_where_it_is_told);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
