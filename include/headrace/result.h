/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a loop does at one setting: plain data, in SI with the unit in the name; temperatures in degC, speeds
 * in rpm. NaN and NULL mean "does not apply". A result owns all its texts and outlives whatever it was
 * computed from. */
#ifndef HR_RESULT_H
#define HR_RESULT_H

#include "headrace/message.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* How the flow in a round or flat passage moves: by Reynolds number, laminar below 2300, turbulent above
 * 4000. */
enum hr_regime { HR_REGIME_UNKNOWN, HR_LAMINAR, HR_TRANSITIONAL, HR_TURBULENT };

/* One two-port part, one run, or one port of a part with more ports. */
struct hr_branch_result {
    const char *name;
    const char *port; /* of a part with more than two ports */
    const char *kind; /* "join" for a lossless run */
    const char *model;
    const char *from, *to;           /* names of nodes */
    const char *from_name, *to_name; /* parts or junctions that a run stands between; NULL for parts */
    bool is_run;
    double flow_m3_s; /* along the arrow; with `port`: into the part */
    double mass_flow_kg_s;
    double dp_pa;      /* inlet minus outlet, without the hydrostatic part; negative for a pump that lifts */
    double head_share; /* of what the pumps of the loop give, 0..1; NaN for pumps and without pumps */
    double reynolds;
    double velocity_m_s;
    enum hr_regime regime;
    bool against_arrow; /* it flows backwards through the branch */
    bool stagnant;      /* nothing flows */
    bool out_of_range;  /* some model was left; a warning says which and where */
    size_t loop;
};

struct hr_node_result {
    const char *name;
    double pressure_pa; /* gauge, static; NaN where `floating` */
    bool floating;      /* tied to no reference */
    double height_m;
    size_t loop;
};

/* A pump at its operating point. */
struct hr_pump_result {
    const char *name, *model;
    double speed_rpm, speed_max_rpm;
    double flow_m3_s;
    double head_pa;                     /* lift at this flow */
    double shut_off_pa, free_flow_m3_s; /* ends of its curve at this speed */
    double power_w, power_to_coolant_w, hydraulic_w;
    double npsh_m; /* absolute head at its inlet over the vapour pressure */
    bool stopped;
};

/* A chip on its block. */
struct hr_chip_result {
    const char *name, *model; /* of the block */
    double flow_m3_s;
    double heat_w; /* what the chip gives off */
    double heat_to_coolant_w;
    double resistance_k_w; /* chip to coolant at the block's inlet */
    double rise_k;         /* chip over that coolant */
};

/* A point where a pump's rising curve meets the system. */
struct hr_operating_point {
    const char *part;
    double flow_m3_s, head_pa;
    bool stable, chosen;
};

/* One coolant circuit. */
struct hr_loop_result {
    const char *name; /* NULL: the only one */
    const char *fluid;
    double mass_fraction;
    double temperature_c; /* at which the properties are taken */
    double density_kg_m3, viscosity_pa_s;
    double volume_m3;
    double pump_head_pa;    /* of all running pumps together, along the main way */
    double flow_m3_s;       /* through the pumps, or the largest in a branch */
    size_t lowest, highest; /* nodes; SIZE_MAX where no pressure is known */
    double freezing_c;
};

struct hr_result {
    const char *title;
    const char *state;  /* NULL: none */
    const char *status; /* "solved" or "no_solution" */
    const char *reason; /* of no_solution, one sentence */
    double ambient_c, ambient_pa;
    /* The solver's certificate: residuals recomputed from the laws. */
    size_t iterations, rounds;
    double mass_residual, pressure_residual, valve_residual;
    struct hr_branch_result *branch;
    size_t branches;
    struct hr_node_result *node;
    size_t nodes;
    struct hr_pump_result *pump;
    size_t pumps;
    struct hr_chip_result *chip;
    size_t chips;
    struct hr_operating_point *point;
    size_t points;
    struct hr_loop_result *loop;
    size_t loops;
    double volume_m3, heat_w, power_w;
    const char **note; /* what is assumed */
    size_t notes;
    struct hr_message *warning;
    size_t warnings;
    void *memory; /* where all of it lives */
};

/* Releases a result; NULL is allowed. */
void hr_result_free(struct hr_result *result);

#ifdef __cplusplus
}
#endif

#endif
