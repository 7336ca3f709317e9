/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the kinds share that are a generic pressure drop and little else. Such a kind's structure begins with
 * a struct hr_passage, so that these functions can stand in its row. */
#ifndef HR_PART_PASSAGE_H
#define HR_PART_PASSAGE_H

#include "part/loss.h"

struct hr_passage {
    struct hr_loss loss;
    double factor; /* times the drop of the data */
    double volume; /* of all together, m3 */
    bool closed;
    bool one_way;
};

/* Allocates `size` bytes (at least a struct hr_passage) and reads the shared keys, factor 1. */
enum hr_status hr_passage_make(const struct hr_params *params, enum hr_loss_use use, bool needed, size_t size,
                               struct hr_arena *arena, void **part, struct hr_report *report);

/* Coolant and air elements with no keys beyond the shared ones. */
enum hr_status hr_passage_make_coolant(const struct hr_params *params, struct hr_arena *arena, void **part,
                                       struct hr_report *report);

/* The drop of a fouled part over that of the clean one, from the keys fouling, state and fouled_factor. */
double hr_passage_fouling(const struct hr_params *params, double fouled_factor);

void hr_passage_bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[]);
void hr_passage_facts(const void *part, const struct hr_setting *setting, double flow,
                      struct hr_part_facts *facts);
double hr_passage_volume(const void *part);

#endif
