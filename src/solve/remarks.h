/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What deserves attention in a solution, and what was assumed. */
#ifndef HR_SOLVE_REMARKS_H
#define HR_SOLVE_REMARKS_H

#include "solve/rig.h"

/* A result while it is written. `remarks` collects its warnings. */
struct hr_writer {
    struct hr_rig *rig;
    struct hr_result *result;
    struct hr_arena *arena;
    struct hr_report *remarks;
    bool complete; /* false: memory ran out */
    size_t notes_room;
};

/* Warns of each range that a branch's model left and notes its assumption; true where a range was left. */
bool hr_remark_facts(struct hr_writer *to, uint32_t branch, const struct hr_part_facts *facts);

/* Warns where a chip's resistance was read outside its rows; true then. */
bool hr_remark_chip(struct hr_writer *to, uint32_t branch);

/* Everything else: reason of a missing solution, flow against arrows, what stands still and why, pumps
 * against each other, boiling, several operating points, splits without loss, floating pressures. */
void hr_remark_all(struct hr_writer *to);

#endif
