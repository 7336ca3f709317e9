/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The coolant side of a block, which a pump-block shares. */
#ifndef HR_PART_BLOCK_H
#define HR_PART_BLOCK_H

#include "part/channels.h"
#include "part/passage.h"

struct hr_block {
    struct hr_passage passage;
    bool by_geometry; /* the drop follows from the channels */
    struct hr_channels channels;
};

/* Reads both ways to give the drop; `needed`: one of them must be there. `size` as hr_passage_make. */
enum hr_status hr_block_make(const struct hr_params *params, bool needed, size_t size, struct hr_arena *arena,
                             void **part, struct hr_report *report);

void hr_block_bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[]);
void hr_block_facts(const void *part, const struct hr_setting *setting, double flow,
                    struct hr_part_facts *facts);

#endif
