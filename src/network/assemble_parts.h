/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between the files that assemble a network. */
#ifndef HR_NETWORK_ASSEMBLE_PARTS_H
#define HR_NETWORK_ASSEMBLE_PARTS_H

#include "network/assemble.h"

/* bind.c: makes room for the laws and binds them for the first time. */
enum hr_status hr_assembly_make_laws(struct hr_assembly *assembly, struct hr_report *report);

/* reference.c: inflows, given pressures and the reference of each loop. */
enum hr_status hr_assembly_give_pressures(struct hr_assembly *assembly, struct hr_report *report);

#endif
