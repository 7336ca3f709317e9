/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filling the report of include/headrace/message.h. */
#ifndef HR_BASE_REPORT_H
#define HR_BASE_REPORT_H

#include "headrace/message.h"

#if defined(__GNUC__)
#define HR_PRINTF(text, first) __attribute__((format(printf, text, first)))
#else
#define HR_PRINTF(text, first)
#endif

/* Adds an error and returns `status`, so that failing is one statement: return hr_fail(report, HR_INPUT,
 * "no-unit", &where, "…"). `where` may be NULL. The report's status keeps the first failure. */
enum hr_status hr_fail(struct hr_report *report, enum hr_status status, const char *code,
                       const struct hr_origin *where, const char *format, ...) HR_PRINTF(5, 6);

/* The error of a failed allocation: returns HR_SYSTEM. */
enum hr_status hr_fail_memory(struct hr_report *report);

/* Adds a warning. A warning with the same place, code and text is added once. If memory runs out the warning
 * becomes an error of status HR_SYSTEM. */
void hr_warn(struct hr_report *report, const char *code, const struct hr_origin *where, const char *format,
             ...) HR_PRINTF(4, 5);

#endif
