/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The arena gives aligned, zeroed, separate pieces, and survives impossible sizes. */
#include "hr_test.h"

#include "base/memory.h"

#include <stdint.h>
#include <string.h>

START_TEST(arena_pieces_are_aligned_zeroed_and_separate)
{
    enum { PIECES = 700 };
    struct hr_arena arena;
    hr_arena_init(&arena);
    unsigned char *piece[PIECES];
    for (size_t i = 0; i < PIECES; i++) {
        const size_t size = 1 + i * 37 % 211;
        piece[i] = hr_arena_alloc(&arena, size, 1);
        ck_assert_ptr_nonnull(piece[i]);
        ck_assert_uint_eq((uintptr_t)piece[i] % _Alignof(max_align_t), 0);
        for (size_t k = 0; k < size; k++) {
            ck_assert_uint_eq(piece[i][k], 0);
        }
        memset(piece[i], (int)(i % 251) + 1, size);
    }
    for (size_t i = 0; i < PIECES; i++) {
        for (size_t k = 0; k < 1 + i * 37 % 211; k++) {
            ck_assert_uint_eq(piece[i][k], i % 251 + 1);
        }
    }
    hr_arena_clear(&arena);
    ck_assert_ptr_null(arena.chunk);
}
END_TEST

START_TEST(arena_gives_large_and_empty_pieces)
{
    struct hr_arena arena = {0};
    double *large = hr_arena_alloc(&arena, 500000, sizeof *large);
    ck_assert_ptr_nonnull(large);
    large[499999] = 27.4;
    ck_assert_ptr_nonnull(hr_arena_alloc(&arena, 0, 8));
    ck_assert_ptr_nonnull(hr_arena_alloc(&arena, 8, 0));
    ck_assert(large[499999] == 27.4);
    hr_arena_clear(&arena);
}
END_TEST

START_TEST(impossible_sizes_are_refused)
{
    struct hr_arena arena = {0};
    ck_assert_ptr_null(hr_arena_alloc(&arena, SIZE_MAX, 2));
    ck_assert_ptr_null(hr_arena_alloc(&arena, SIZE_MAX / 2 + 1, 2));
    ck_assert_ptr_null(hr_arena_alloc(&arena, SIZE_MAX, 1));
    ck_assert_ptr_null(hr_arena_copy(&arena, "", SIZE_MAX));
    ck_assert_ptr_nonnull(hr_arena_alloc(&arena, 1, 1)); /* still usable */
    hr_arena_clear(&arena);
}
END_TEST

START_TEST(arena_copies_and_formats_text)
{
    struct hr_arena arena = {0};
    char *copy = hr_arena_copy(&arena, "split-1 and more", 7);
    char *text = hr_arena_format(&arena, "%s-%d", "run", 12);
    ck_assert_str_eq(copy, "split-1");
    ck_assert_str_eq(text, "run-12");
    char *empty = hr_arena_copy(&arena, "x", 0);
    ck_assert_str_eq(empty, "");
    hr_arena_clear(&arena);
}
END_TEST

START_TEST(array_grows_and_keeps_its_content)
{
    int *array = NULL;
    size_t room = 0;
    for (size_t i = 0; i < 1000; i++) {
        int *larger = hr_grow(array, i, &room, sizeof *array);
        ck_assert_ptr_nonnull(larger);
        array = larger;
        ck_assert_uint_gt(room, i);
        array[i] = (int)(3 * i + 1);
    }
    for (size_t i = 0; i < 1000; i++) {
        ck_assert_int_eq(array[i], (int)(3 * i + 1));
    }
    size_t full = SIZE_MAX / 2;
    ck_assert_ptr_null(hr_grow(array, full, &full, sizeof *array));
    free(array);
}
END_TEST

START_TEST(alloc_zeroes_and_takes_nothing)
{
    int *some = hr_alloc(50, sizeof *some);
    void *none = hr_alloc(0, sizeof *some);
    ck_assert_ptr_nonnull(some);
    ck_assert_ptr_nonnull(none);
    for (int i = 0; i < 50; i++) {
        ck_assert_int_eq(some[i], 0);
    }
    free(some);
    free(none);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("memory");
    TCase *c = tcase_create("memory");
    tcase_add_test(c, arena_pieces_are_aligned_zeroed_and_separate);
    tcase_add_test(c, arena_gives_large_and_empty_pieces);
    tcase_add_test(c, impossible_sizes_are_refused);
    tcase_add_test(c, arena_copies_and_formats_text);
    tcase_add_test(c, array_grows_and_keeps_its_content);
    tcase_add_test(c, alloc_zeroes_and_takes_nothing);
    suite_add_tcase(s, c);
    return s;
}

HR_TEST_MAIN(suite)
