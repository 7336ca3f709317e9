/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of part kinds. A kind is one file in this folder with one constant row: its keys, its ports and
 * its functions. Nobody outside switches on a kind. */
#ifndef HR_PART_KIND_H
#define HR_PART_KIND_H

#include "base/memory.h"
#include "base/report.h"
#include "fluid/fluid.h"
#include "part/law.h"
#include "part/params.h"

#include <stdbool.h>
#include <stddef.h>

enum { HR_LAWS_MAX = 6, HR_PORTS_MAX = 4, HR_RANGES_MAX = 3 };

/* What a part's laws depend on besides the part itself. */
struct hr_setting {
    const struct hr_fluid_state *fluid;
    double speed_rpm; /* pumps and fans; NaN: the part's own */
};

/* One branch of a part: the laws in series, and what is special about it. */
struct hr_part_branch {
    struct hr_law law[HR_LAWS_MAX];
    size_t law_count;
    bool one_way;    /* flow against the arrow is exactly zero */
    bool closed;     /* no flow at all: an uncoupled coupling, a shut valve */
    bool fixed_flow; /* an ideal pump: the flow is given, the pressure follows */
    double flow;     /* of fixed_flow, m3/s */
};

/* A bound within which a model was measured or derived. */
struct hr_range {
    const char *what; /* "flow", "Reynolds number", … */
    double low, high; /* of |value|; NaN: no bound */
    double value;     /* at the flow asked about */
    const char *unit; /* SI unit for messages; "" for none */
};

/* What a part says about itself at a flow. NaN where it does not apply. */
struct hr_part_facts {
    double reynolds;
    double velocity_m_s;
    struct hr_range range[HR_RANGES_MAX];
    size_t range_count;
    const char
        *note; /* an assumption the output repeats once, such as an extrapolated correction; NULL: none */
};

/* A pump or fan at an operating point. */
struct hr_machine_facts {
    double speed_rpm, speed_max_rpm, speed_min_rpm;
    double shut_off_pa, free_flow_m3_s; /* at this speed */
    double power_w;                     /* electric */
    double power_to_coolant_w;
    bool rises; /* the head rises with the flow between these two flows: several operating points are possible
                 */
    double rise_low_m3_s, rise_high_m3_s;
};

struct hr_part_kind {
    const char *name;
    const char *summary;
    const struct hr_key_group *const *groups; /* key tables, ended by NULL */
    const char *const *ports;                 /* names, ended by NULL; the first is the inlet of the arrow */
    bool library_run; /* may stand as a run with `fittings`, `length` and the like (tube) */

    /* Checks the values against each other and condenses them into the kind's own structure in the arena.
     * Returns HR_OK or the status of the first of the faults it reported. */
    enum hr_status (*make)(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report);

    /* The laws at a setting. Two-port kinds fill branch[0] (from `in` to `out`); kinds with more ports fill
     * one branch a port, from the port to the common point. Pure: may be called at any time, allocates
     * nothing. */
    void (*bind)(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[]);

    /* The fin side of a radiator as an air branch, from where the air meets it; no laws where the part does
     * not say. NULL for others. */
    void (*bind_air)(const void *part, const struct hr_setting *setting, struct hr_part_branch *branch);

    /* Split-dependent losses of kinds with three ports and more (NULL for others): given the flows into the
     * part, the drop from each port to the common point in Pa. */
    void (*split)(const void *part, const struct hr_setting *setting, const double flow[], double drop[]);

    /* Facts at a flow. NULL: none. */
    void (*facts)(const void *part, const struct hr_setting *setting, double flow,
                  struct hr_part_facts *facts);

    /* Pumps and fans only: the operating point's other numbers. */
    void (*machine)(const void *part, const struct hr_setting *setting, double flow,
                    struct hr_machine_facts *facts);

    /* Coolant volume in m3. NULL: 0. */
    double (*volume)(const void *part);

    /* Inner diameter at a port in m where the part's own loss does not yet count the step to a tube of
     * another bore, else NaN. NULL: NaN. */
    double (*bore)(const void *part, size_t port);
};

/* All kinds, ended by NULL. */
extern const struct hr_part_kind *const hr_part_kinds[];

/* A kind by name, or NULL. */
const struct hr_part_kind *hr_part_kind_find(const char *name);

/* A key of a kind by name, or NULL. */
const struct hr_key *hr_part_kind_key(const struct hr_part_kind *kind, const char *name);

#endif
