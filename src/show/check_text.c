/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What check found, the most pressing first as the study ordered it. */
#include "headrace/show.h"

#include "base/text.h"

#include <stdlib.h>

static void add_findings(const struct hr_message *warning, size_t count, size_t *number, struct hr_text *text)
{
    for (size_t i = 0; i < count; i++) {
        hr_text_add(text, "  %zu. %s\n", ++*number, warning[i].text);
        if (warning[i].file[0] != '\0') {
            hr_text_add(text, "     %s, line %u\n", warning[i].file, warning[i].line);
        }
    }
}

enum hr_status hr_check_text(const struct hr_result *result, const struct hr_report *found,
                             const struct hr_show_settings *settings, char **text, struct hr_report *report)
{
    struct hr_text out = {0};
    size_t number = 0;
    const size_t count = result->warnings + found->warnings;
    *text = NULL;
    (void)settings; /* sentences carry builders' units of their own */
    hr_text_add(&out, "%s: ", result->title != NULL ? result->title : "Loop");
    if (result->reason != NULL) {
        hr_text_add(&out, "no solution exists: %s.\n", result->reason);
    } else if (count == 0) {
        hr_text_add(&out, "nothing found to object to.\n");
    } else {
        hr_text_add(&out, "%zu finding%s.\n", count, count == 1 ? "" : "s");
    }
    add_findings(result->warning, result->warnings, &number, &out);
    add_findings(found->warning, found->warnings, &number, &out);
    hr_text_add(&out,
                "\nLooked at: limits of parts, boiling at pump inlets, direction, what stands still, ranges "
                "of models,\n"
                "references of pressure. Coolant to fill in: %.0f mL.\n"
                "Leak-test with the machine switched off before you trust any of it; the makers' "
                "instructions come first.\n",
                result->volume_m3 * 1e6);
    if (out.failed) {
        hr_text_clear(&out);
        return hr_fail_memory(report);
    }
    *text = out.bytes;
    return HR_OK;
}
