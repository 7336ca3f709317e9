/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every broken file of tests/cli/broken gives exactly its messages. NAME.expected holds the exit status, then
 * the lines of standard error; the library is asked here, the program elsewhere. */
#include "read_test.h"

#include "base/text.h"

#include <dirent.h>
#include <unistd.h>

enum { CASES_MAX = 400, NAME_ROOM = 80 };

static char names[CASES_MAX][NAME_ROOM];
static int name_count;

static int compare(const void *a, const void *b)
{
    return strcmp(a, b);
}

/* The cases are those that have an expectation: one of them has no file. */
static void list_cases(void)
{
    char path[512];
    static const char ending[] = ".expected";
    const char *models = getenv("HEADRACE_MODELS");
    (void)snprintf(path, sizeof path, "%s/../tests/cli/broken", models == NULL ? "." : models);
    DIR *folder = opendir(path);
    const struct dirent *entry;
    while (folder != NULL && (entry = readdir(folder)) != NULL) {
        const size_t length = strlen(entry->d_name);
        if (length > sizeof ending - 1 && length < NAME_ROOM && name_count < CASES_MAX &&
            strcmp(entry->d_name + length - (sizeof ending - 1), ending) == 0) {
            memcpy(names[name_count], entry->d_name, length - (sizeof ending - 1));
            name_count++;
        }
    }
    if (folder != NULL) {
        (void)closedir(folder);
    }
    qsort(names, (size_t)name_count, NAME_ROOM, compare);
}

static void read_expected(const char *name, struct hr_text *text)
{
    char path[NAME_ROOM + 16];
    char line[1024];
    (void)snprintf(path, sizeof path, "%s.expected", name);
    FILE *file = fopen(path, "r");
    ck_assert_msg(file != NULL, "no %s", path);
    while (fgets(line, sizeof line, file) != NULL) {
        hr_text_add(text, "%s", line);
    }
    (void)fclose(file);
}

static void show_report(const struct hr_report *report, struct hr_text *text)
{
    const size_t kept = report->errors < HR_ERRORS_MAX ? report->errors : HR_ERRORS_MAX;
    hr_text_add(text, "%d\n", (int)report->status);
    for (size_t i = 0; i < kept; i++) {
        const struct hr_message *error = &report->error[i];
        if (error->line == 0) {
            hr_text_add(text, "%s: %s\n", error->file, error->text);
        } else {
            hr_text_add(text, "%s:%u:%u: %s\n", error->file, error->line, error->column, error->text);
        }
    }
}

START_TEST(a_broken_file_gives_exactly_its_messages)
{
    struct loop loop;
    struct hr_text expected = {0};
    struct hr_text found = {0};
    char path[512];
    char models[512];
    char file[NAME_ROOM + 8];
    memset(&loop, 0, sizeof loop);
    hr_report_init(&loop.report);
    ck_assert_int_eq(chdir(tree_path(path, "tests/cli/broken")), 0);
    read_expected(names[_i], &expected);
    (void)snprintf(file, sizeof file, "%s.yaml", names[_i]);
    if (hr_source_open(file, tree_path(models, "models"), &loop.source, &loop.report) == HR_OK) {
        (void)hr_source_describe(loop.source, NULL, 0, NULL, &loop.d, &loop.report);
    }
    show_report(&loop.report, &found);
    ck_assert_ptr_null(loop.d);
    ck_assert_str_eq(found.bytes, expected.bytes);
    hr_text_clear(&expected);
    hr_text_clear(&found);
    loop_close(&loop);
}
END_TEST

START_TEST(there_are_many_cases)
{
    ck_assert_int_ge(name_count, 60);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("broken");
    TCase *t = tcase_create("broken");
    list_cases();
    tcase_add_test(t, there_are_many_cases);
    tcase_add_loop_test(t, a_broken_file_gives_exactly_its_messages, 0, name_count);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
