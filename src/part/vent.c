/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Openings in a case: a punched grille or vent, and a gap. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

#include <math.h>

static const struct hr_key keys[] = {
    {.name = "open",
     .quantity = HR_SHARE,
     .min = 1e-3,
     .max = 1,
     .instead = "pressure drop",
     .help = "open share of the area"},
    {.name = "hole", .quantity = HR_LENGTH, .min = 1e-5, .max = 1, .help = "size of the holes; 5 mm"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_air_hydraulic, NULL};

/* Loss of a sharp-edged opening in a thin wall in its own velocity heads at small Reynolds numbers times Re
 * (Idelchik 1986, section 4; from memory). */
static const double SLOW = 33;
static const double HOLE = 5e-3;

/* Openings between two rooms: sharp entrance 0.5 and exit 1 of a free opening. */
static const double FREE_OPENING = 1.5;

struct vent {
    struct hr_passage passage;
    double open; /* 0: by a generic form */
    double hole;
};

/* Idelchik 1986, entrance through a grid of sharp-edged holes: (1.707 - f)^2 / f^2 of the velocity head of
 * the whole area; and that head itself, lost behind it (from memory). With f = 1 that is the free opening. */
static double grid_zeta(double open)
{
    return (1.707 - open) * (1.707 - open) / (open * open) + 1;
}

static enum hr_status make_opening(const struct hr_params *params, double open, struct hr_arena *arena,
                                   void **part, struct hr_report *report)
{
    const bool given = !isnan(open);
    const enum hr_status status =
        hr_passage_make(params, HR_LOSS_AIR, !given, sizeof(struct vent), arena, part, report);
    if (status != HR_OK) {
        return status;
    }
    struct vent *vent = *part;
    if (vent->passage.loss.form != HR_LOSS_NONE) {
        return HR_OK;
    }
    if (isnan(vent->passage.loss.area)) {
        return hr_fail(report, HR_INPUT, "no-area", &params->at,
                       "%s needs an 'area'; add for instance area: 60 cm2, or give 'points' or 'law'",
                       params->owner);
    }
    vent->open = open;
    vent->hole = hr_param_number(params, "hole", open < 1 ? HOLE : sqrt(vent->passage.loss.area));
    return HR_OK;
}

static enum hr_status make_vent(const struct hr_params *params, struct hr_arena *arena, void **part,
                                struct hr_report *report)
{
    return make_opening(params, hr_param_number(params, "open", NAN), arena, part, report);
}

static enum hr_status make_gap(const struct hr_params *params, struct hr_arena *arena, void **part,
                               struct hr_report *report)
{
    return make_opening(params, 1, arena, part, report);
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct vent *vent = part;
    const struct hr_fluid_state *air = setting->fluid;
    hr_passage_bind(part, setting, branch);
    if (vent->open > 0) {
        const double area = vent->passage.loss.area;
        const double zeta = vent->open < 1 ? grid_zeta(vent->open) : FREE_OPENING;
        const double square = zeta * air->density / (2 * area * area);
        const double linear = SLOW * air->viscosity / (2 * vent->hole * area * vent->open);
        branch->law[branch->law_count++] = hr_law_quadratic(linear, square, square);
    }
}

const struct hr_part_kind hr_kind_vent = {
    .name = "vent",
    .summary = "a grille or vent in a panel",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make_vent,
    .bind = bind,
    .facts = hr_passage_facts,
};
static const struct hr_key_group *const gap_groups[] = {&hr_keys_any, &hr_keys_air_hydraulic, NULL};

const struct hr_part_kind hr_kind_gap = {
    .name = "gap",
    .summary = "a gap or free opening in a case",
    .groups = gap_groups,
    .ports = hr_ports_two,
    .make = make_gap,
    .bind = bind,
    .facts = hr_passage_facts,
};
