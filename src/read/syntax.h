/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What libyaml could not read, in words for people who write loop files. */
#ifndef HR_READ_SYNTAX_H
#define HR_READ_SYNTAX_H

#include "base/report.h"

#include <stddef.h>
#include <yaml.h>

/* Looks for what is no text at all before the parser sees it. */
enum hr_status hr_syntax_check(const char *text, size_t length, const struct hr_origin *start,
                               struct hr_report *report);

/* Reports the parser's error. */
enum hr_status hr_syntax_fail(const yaml_parser_t *parser, const struct hr_origin *start,
                              struct hr_report *report);

/* The user's text for a message: shortened with "..." to fit `room` bytes, control characters as '?'. Returns
 * `buffer`. */
const char *hr_shown(const char *text, char *buffer, size_t room);

#endif
