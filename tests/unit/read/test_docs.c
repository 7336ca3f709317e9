/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each whole loop file in docs/loop-file.md is read without a fault: a fenced yaml block under the line <!--
 * loop -->. */
#include "read_test.h"

#include "base/text.h"

enum { EXAMPLES_MAX = 100 };

static struct {
    struct hr_text text;
    int line;
} examples[EXAMPLES_MAX];
static int example_count;

static void collect(void)
{
    char path[512];
    char line[1024];
    const char *models = getenv("HEADRACE_MODELS");
    bool marked = false;
    bool inside = false;
    int number = 0;
    (void)snprintf(path, sizeof path, "%s/../docs/loop-file.md", models == NULL ? "." : models);
    FILE *file = fopen(path, "r");
    while (file != NULL && fgets(line, sizeof line, file) != NULL && example_count < EXAMPLES_MAX) {
        number++;
        if (inside && strncmp(line, "```", 3) == 0) {
            inside = false;
            example_count++;
        } else if (inside) {
            hr_text_add(&examples[example_count].text, "%s", line);
        } else if (marked && strncmp(line, "```yaml", 7) == 0) {
            inside = true;
            examples[example_count].line = number;
        }
        marked = strncmp(line, "<!-- loop -->", 13) == 0;
    }
    if (file != NULL) {
        (void)fclose(file);
    }
}

START_TEST(an_example_is_read_without_a_fault)
{
    struct loop loop;
    char models[512];
    char error[1024];
    loop_open(&loop, examples[_i].text.bytes, tree_path(models, "models"));
    ck_assert_msg(loop.status == HR_OK, "docs/loop-file.md, example in line %d: %s", examples[_i].line,
                  loop_error(&loop, error));
    ck_assert_msg(loop.report.warnings == 0, "docs/loop-file.md, example in line %d: warning: %s",
                  examples[_i].line, loop.report.warnings > 0 ? loop.report.warning[0].text : "");
    size_t count = 0;
    const char *const *states = hr_source_states(loop.source, &count);
    for (size_t i = 0; i < count; i++) {
        loop_describe(&loop, NULL, 0, states[i]);
        ck_assert_msg(loop.status == HR_OK, "state %s: %s", states[i], loop_error(&loop, error));
    }
    loop_close(&loop);
}
END_TEST

START_TEST(there_are_examples)
{
    ck_assert_int_ge(example_count, 8);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("docs");
    TCase *t = tcase_create("docs");
    collect();
    tcase_add_test(t, there_are_examples);
    tcase_add_loop_test(t, an_example_is_read_without_a_fault, 0, example_count);
    suite_add_tcase(s, t);
    return s;
}

HR_TEST_MAIN(suite)
