/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Growing text, distance of words, nearest name. */
#include "hr_test.h"

#include "base/memory.h"
#include "base/text.h"

#include <stdint.h>
#include <string.h>

START_TEST(text_grows_and_stays_ended)
{
    struct hr_text text = {0};
    size_t length = 0;
    for (int i = 0; i < 400; i++) {
        hr_text_add(&text, "%d;", i);
        length += i < 10 ? 2 : i < 100 ? 3 : 4;
        ck_assert(!text.failed);
        ck_assert_uint_eq(text.length, length);
        ck_assert_uint_eq(strlen(text.bytes), length);
    }
    ck_assert_int_eq(strncmp(text.bytes, "0;1;2;3;4;5;6;7;8;9;10;", 23), 0);
    ck_assert_str_eq(text.bytes + text.length - 8, "398;399;");
    hr_text_append(&text, "abcdef", 3);
    ck_assert_str_eq(text.bytes + text.length - 7, "399;abc");
    hr_text_clear(&text);
    ck_assert_ptr_null(text.bytes);
    ck_assert_uint_eq(text.length, 0);
}
END_TEST

START_TEST(text_that_failed_stays_failed)
{
    struct hr_text text = {0};
    hr_text_add(&text, "kept");
    hr_text_append(&text, "x", SIZE_MAX); /* no room for this much: nothing may be read */
    ck_assert(text.failed);
    hr_text_add(&text, "more");
    ck_assert_str_eq(text.bytes, "kept");
    hr_text_clear(&text);
    ck_assert(!text.failed);
}
END_TEST

static const struct {
    const char *a, *b;
    size_t distance;
} pairs[] = {
    {"", "", 0},          {"", "abc", 3},     {"pump", "pump", 0}, {"pump", "pmup", 1}, /* swap */
    {"pump", "pumps", 1}, {"pump", "ump", 1}, {"pump", "lump", 1}, {"kitten", "sitting", 3},
    {"ca", "abc", 3}, /* restricted form: no edit between the swapped two */
};

START_TEST(edit_distance_counts_edits_and_is_symmetric)
{
    ck_assert_uint_eq(hr_edit_distance(pairs[_i].a, pairs[_i].b), pairs[_i].distance);
    ck_assert_uint_eq(hr_edit_distance(pairs[_i].b, pairs[_i].a), pairs[_i].distance);
}
END_TEST

START_TEST(overlong_words_are_infinitely_far)
{
    char word[65];
    memset(word, 'a', sizeof word);
    word[63] = '\0';
    ck_assert_uint_eq(hr_edit_distance(word, word), 0);
    word[63] = 'a';
    word[64] = '\0';
    ck_assert_uint_eq(hr_edit_distance(word, word), SIZE_MAX);
    ck_assert_uint_eq(hr_edit_distance("a", word), SIZE_MAX);
}
END_TEST

static const struct {
    const char *word, *nearest;
} words[] = {
    {"radiator", "radiator"},
    {"radaitor", "radiator"},
    {"raidatro", "radiator"},
    {"rdatro", NULL},
    {"bore", "bore"},
    {"bor", "bore"},
    {"bo", NULL},
    {"wide", NULL},
    {"fan", "fan"},
    {"fam", "fan"},
    {"fm", NULL},
    {"x", NULL},
};

START_TEST(nearest_name_is_offered_only_when_near)
{
    static const char *const names[] = {"bore", "radiator", "fan", "fans"};
    const char *nearest = hr_nearest(words[_i].word, names, HR_ARRAY_LEN(names));
    if (words[_i].nearest == NULL) {
        ck_assert_ptr_null(nearest);
    } else {
        ck_assert_ptr_nonnull(nearest);
        ck_assert_str_eq(nearest, words[_i].nearest);
    }
    ck_assert_ptr_null(hr_nearest(words[_i].word, names, 0));
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("text");
    TCase *text = tcase_create("text");
    tcase_add_test(text, text_grows_and_stays_ended);
    tcase_add_test(text, text_that_failed_stays_failed);
    tcase_add_loop_test(text, edit_distance_counts_edits_and_is_symmetric, 0, HR_ARRAY_LEN(pairs));
    tcase_add_test(text, overlong_words_are_infinitely_far);
    tcase_add_loop_test(text, nearest_name_is_offered_only_when_near, 0, HR_ARRAY_LEN(words));
    suite_add_tcase(s, text);
    return s;
}

HR_TEST_MAIN(suite)
