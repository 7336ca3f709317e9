/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All operating points of a pump whose curve rises somewhere. Its flow is given, Q, and the rest of the
 * network solved; what the pump lacks or has too much at Q is F(Q) = drop of the pump's branch - pressure
 * difference that the rest leaves it. The rest answers with a difference that falls as Q grows, so that F
 * rises wherever the branch's own drop does: outside the rising part of the curve there is at most one zero
 * on either side, and inside they are found on a grid. A zero where F rises is stable: a little more flow
 * meets too little head, and falls back. */
#include "solve/rig.h"

#include <math.h>
#include <string.h>

enum { GRID = 96, HALVINGS = 60, DOUBLINGS = 40 };

/* What is done for one pump: its branch is a given flow meanwhile. */
struct probe {
    struct hr_rig *rig;
    uint32_t branch;
};

static double surplus(const struct probe *probe, double flow)
{
    probe->rig->assembly->network.branch[probe->branch].given_flow = flow;
    hr_flow_rebind(probe->rig->flow);
    if (hr_flow_solve(probe->rig->flow) != HR_FLOW_SOLVED) {
        return NAN;
    }
    return hr_branch_drop(&probe->rig->assembly->network, probe->branch, flow) -
           hr_flow_solution(probe->rig->flow).branch_drop[probe->branch];
}

static double bisect(const struct probe *probe, double low, double high)
{
    const bool rising = surplus(probe, high) > 0.0;
    for (int i = 0; i < HALVINGS; i++) {
        const double middle = 0.5 * (low + high);
        if ((surplus(probe, middle) > 0.0) == rising) {
            high = middle;
        } else {
            low = middle;
        }
    }
    return 0.5 * (low + high);
}

static void keep(struct probe *probe, double flow, bool stable)
{
    struct hr_rig *rig = probe->rig;
    if (rig->points < HR_POINTS_MAX) {
        rig->point[rig->points++] =
            (struct hr_rig_point){.branch = probe->branch, .flow = flow, .stable = stable};
    }
}

/* The zero beyond one end of the rising part, where F rises all the way; `way` is -1 or 1. */
static void search_outside(struct probe *probe, double end, double way, double span)
{
    double near = end;
    double far = end + way * span;
    for (int i = 0; i < DOUBLINGS; i++) {
        const double value = surplus(probe, far);
        if (isnan(value)) {
            return;
        }
        if (value * way >= 0.0) {
            keep(probe, way > 0.0 ? bisect(probe, near, far) : bisect(probe, far, near), true);
            return;
        }
        near = far;
        far = end + 2.0 * (far - end);
    }
}

static void search_inside(struct probe *probe, double low, double high, double *at_low, double *at_high)
{
    double last = surplus(probe, low);
    *at_low = last;
    for (int i = 1; i <= GRID; i++) {
        const double flow = low + (high - low) * i / GRID;
        const double before = low + (high - low) * (i - 1) / GRID;
        const double value = surplus(probe, flow);
        if ((last < 0.0) != (value < 0.0) && !isnan(last) && !isnan(value)) {
            keep(probe, bisect(probe, before, flow), value > last);
        }
        last = value;
    }
    *at_high = last;
}

static void sort_points(struct hr_rig *rig)
{
    for (size_t i = 1; i < rig->points; i++) {
        for (size_t j = i; j > 0 && rig->point[j].flow < rig->point[j - 1].flow; j--) {
            const struct hr_rig_point held = rig->point[j];
            rig->point[j] = rig->point[j - 1];
            rig->point[j - 1] = held;
        }
    }
}

/* A start from rest follows the surplus: where the pump gives less than the rest asks for at no flow, it is
 * pushed backwards to the nearest stable point there, else forwards to the first one. */
static void choose(struct probe *probe)
{
    struct hr_rig *rig = probe->rig;
    const bool backwards = surplus(probe, 0.0) > 0.0;
    struct hr_rig_point *chosen = NULL;
    for (size_t i = 0; i < rig->points; i++) {
        struct hr_rig_point *point = &rig->point[i];
        const bool wanted = point->stable && (backwards ? point->flow < 0.0 : point->flow >= 0.0);
        if (wanted && (chosen == NULL || backwards)) {
            chosen = point; /* points stand by rising flow */
        }
    }
    if (chosen != NULL) {
        chosen->chosen = true;
        (void)surplus(probe, chosen->flow);
    }
}

static void search_pump(struct hr_rig *rig, uint32_t branch, const struct hr_machine_facts *facts)
{
    struct hr_branch *b = &rig->assembly->network.branch[branch];
    const enum hr_branch_role role = b->role;
    struct probe probe = {rig, branch};
    const double low = facts->rise_low_m3_s;
    const double high = facts->rise_high_m3_s;
    double at_low;
    double at_high;
    b->role = HR_BRANCH_FLOW;
    search_inside(&probe, low, high, &at_low, &at_high);
    if (at_low > 0.0) {
        search_outside(&probe, low, -1.0, high - low);
    }
    if (at_high < 0.0) {
        search_outside(&probe, high, 1.0, high - low);
    }
    sort_points(rig);
    choose(&probe);
    b->role = role;
    b->given_flow = 0.0;
    hr_flow_rebind(rig->flow);
}

bool hr_rig_find_points(struct hr_rig *rig)
{
    const struct hr_network *network = &rig->assembly->network;
    rig->points = 0;
    for (uint32_t b = 0; b < network->branch_count; b++) {
        const void *part;
        const struct hr_part_kind *kind = hr_assembly_kind(rig->assembly, b, &part);
        if (kind == NULL || kind->machine == NULL || network->branch[b].role != HR_BRANCH_LAW) {
            continue;
        }
        const struct hr_setting setting = hr_assembly_setting(rig->assembly, b);
        struct hr_machine_facts facts;
        kind->machine(part, &setting, 0.0, &facts);
        if (facts.rises && facts.rise_high_m3_s > facts.rise_low_m3_s) {
            /* With several such pumps the first decides; the others follow it. */
            search_pump(rig, b, &facts);
            return rig->points > 0;
        }
    }
    return false;
}
