/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loops written in a test: solved from text, with every message printed when something is wrong. */
#ifndef HR_LOOP_TEXT_H
#define HR_LOOP_TEXT_H

#include "headrace/loop.h"
#include "headrace/sweep.h"

/* Opens `text` with the library of parts; fails the running test on any error. */
struct hr_source *loop_open(const char *text);

/* Solves `text`; fails the test unless the status is `expected`. The caller frees the result. */
struct hr_result *loop_solve(const char *text, enum hr_status expected);

/* Sweeps `text` over one axis with the default settings; fails the test on any error. */
struct hr_sweep *loop_sweep(const char *text, const char *axis);

/* A branch or node of a result by name (of a node also a part of it such as "gpu.out"); fails the test where
 * there is none. */
const struct hr_branch_result *loop_branch(const struct hr_result *result, const char *name);
const struct hr_node_result *loop_node(const struct hr_result *result, const char *name);

/* The first warning of a result with that code, or NULL. */
const struct hr_message *loop_warning(const struct hr_result *result, const char *code);

#endif
