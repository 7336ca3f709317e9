/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solve/nodal.h"

#include "base/memory.h"

#include <stdlib.h>

struct hr_nodal {
    struct hr_small *small; /* one of the two */
    struct hr_large *large;
};

enum hr_status hr_nodal_new(const struct hr_nodal_pattern *pattern, enum hr_nodal_choice choice,
                            struct hr_nodal **nodal, struct hr_report *report)
{
    *nodal = NULL;
    struct hr_nodal *made = hr_alloc(1, sizeof *made);
    if (made == NULL) {
        return hr_fail_memory(report);
    }
    enum hr_status status = HR_OK;
    if (choice != HR_NODAL_LARGE) {
        status = hr_small_new(pattern, choice == HR_NODAL_SMALL, &made->small, report);
    }
    if (status == HR_OK && made->small == NULL) {
        status = hr_large_new(pattern, &made->large, report);
    }
    if (status != HR_OK) {
        hr_nodal_free(made);
        return status;
    }
    *nodal = made;
    return HR_OK;
}

void hr_nodal_free(struct hr_nodal *nodal)
{
    if (nodal != NULL) {
        hr_small_free(nodal->small);
        hr_large_free(nodal->large);
        free(nodal);
    }
}

bool hr_nodal_is_small(const struct hr_nodal *nodal)
{
    return nodal->small != NULL;
}

bool hr_nodal_factor(struct hr_nodal *nodal, const double weight[], const bool ground[])
{
    if (nodal->small != NULL) {
        hr_small_factor(nodal->small, weight);
        return true;
    }
    return hr_large_factor(nodal->large, weight, ground);
}

void hr_nodal_solve(struct hr_nodal *nodal, const double b[], double x[])
{
    if (nodal->small != NULL) {
        hr_small_solve(nodal->small, b, x);
    } else {
        hr_large_solve(nodal->large, b, x);
    }
}
