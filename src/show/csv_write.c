/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "show/csv_write.h"

#include <math.h>
#include <string.h>

static void separate(struct hr_csv *csv)
{
    if (csv->begun) {
        hr_text_append(&csv->text, ",", 1);
    }
    csv->begun = true;
}

void hr_csv_cell(struct hr_csv *csv, const char *value)
{
    separate(csv);
    if (value == NULL) {
        return;
    }
    if (strpbrk(value, ",\"\r\n") == NULL) {
        hr_text_append(&csv->text, value, strlen(value));
        return;
    }
    hr_text_append(&csv->text, "\"", 1);
    for (const char *rest = value; *rest != '\0';) {
        const size_t length = strcspn(rest, "\"");
        hr_text_append(&csv->text, rest, length);
        rest += length;
        if (*rest == '"') {
            hr_text_append(&csv->text, "\"\"", 2);
            rest++;
        }
    }
    hr_text_append(&csv->text, "\"", 1);
}

void hr_csv_number(struct hr_csv *csv, double value)
{
    separate(csv);
    if (isfinite(value)) {
        hr_text_add(&csv->text, "%.17g", value);
    }
}

void hr_csv_flag(struct hr_csv *csv, bool value)
{
    hr_csv_cell(csv, value ? "true" : "false");
}

void hr_csv_head(struct hr_csv *csv, const char *first, const char *second, const char *third, char between)
{
    struct hr_text head = {0};
    hr_text_add(&head, "%s", first);
    if (second != NULL) {
        hr_text_add(&head, "%c%s", between, second);
    }
    if (third != NULL) {
        hr_text_add(&head, "%c%s", between, third);
    }
    csv->text.failed = csv->text.failed || head.failed;
    hr_csv_cell(csv, head.bytes);
    hr_text_clear(&head);
}

void hr_csv_end_row(struct hr_csv *csv)
{
    hr_text_append(&csv->text, "\n", 1);
    csv->begun = false;
}

enum hr_status hr_csv_finish(struct hr_csv *csv, char **text, struct hr_report *report)
{
    *text = NULL;
    if (csv->text.failed) {
        hr_text_clear(&csv->text);
        return hr_fail_memory(report);
    }
    *text = csv->text.bytes;
    csv->text = (struct hr_text){0};
    return HR_OK;
}
