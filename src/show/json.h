/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keys of a solution, which stand alone and in every point of a sweep. */
#ifndef HR_SHOW_JSON_H
#define HR_SHOW_JSON_H

#include "headrace/result.h"
#include "show/json_write.h"

/* Writes the members of one result into the object that is open. `found`: warnings of the file, before those
 * of the result; NULL: none. */
void hr_json_result(struct hr_json *json, const struct hr_result *result, const struct hr_report *found);

#endif
