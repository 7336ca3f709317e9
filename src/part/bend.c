/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A smooth bend: Ito 1960 (J. Basic Eng. 82:131) with its dependence on the Reynolds number, or the table of
 * Crane TP-410. Both contain the friction along the bend. */
#include "part/friction.h"
#include "part/keys.h"
#include "part/kinds.h"
#include "part/loss.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

static const char *const methods[] = {"ito", "crane", NULL};

static const struct hr_key keys[] = {
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .required = true,
     .help = "inner diameter"},
    {.name = "radius",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 1e3,
     .required = true,
     .help = "radius of the centre line"},
    {.name = "angle", .quantity = HR_ANGLE, .min = 1, .max = 360, .help = "how far it turns; 90 deg"},
    {.name = "method",
     .form = HR_FORM_CHOICE,
     .choices = methods,
     .help = "ito: Ito 1960 with Reynolds number; crane: Crane TP-410 r/D table; ito"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, NULL};

/* Crane TP-410 (2009): K of a 90 degree bend over the friction factor of full turbulence, against r/D. */
static const double crane_ratio[] = {1, 1.5, 2, 3, 4, 6, 8, 10, 12, 14, 16, 20};
static const double crane_k[] = {20, 14, 12, 12, 14, 17, 24, 30, 34, 38, 42, 50};

/* K1/Re of an elbow at small flows, Hooper 1981: the Crane table has no laminar share of its own. */
static const double LAMINAR = 800;

/* Ito's laws for Re (D/R)^2 below and above this (Ito 1960, as quoted by Blevins 1984: 91 with the radii). */
static const double ITO_LIMIT = 360;
static const double ITO_LEAST_RE = 6000;

struct bend {
    double bore;
    double angle; /* degrees */
    double ratio; /* radius over bore */
    bool crane;
    double series, parallel;
    double volume;
};

static double table(const double x[], const double y[], size_t count, double at)
{
    if (at <= x[0]) {
        return y[0];
    }
    for (size_t i = 1; i < count; i++) {
        if (at <= x[i]) {
            return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
        }
    }
    return y[count - 1];
}

/* Ito's factor alpha, for 45, 90 and 180 degrees, between them linear. */
static double ito_alpha(double ratio, double angle)
{
    static const double angles[] = {45, 90, 180};
    if (ratio > 50) {
        return 1;
    }
    const double alpha[] = {1 + 5.13 * pow(ratio, -1.47), ratio < 9.85 ? 0.95 + 4.42 * pow(ratio, -1.96) : 1,
                            1 + 5.06 * pow(ratio, -4.52)};
    return table(angles, alpha, HR_ARRAY_LEN(angles), angle);
}

/* c: Re per flow, dp / (K Re^2), R/D, alpha angle. */
static void ito_turbulent(const double c[], double re, double *value, double *slope)
{
    const double k = 0.00431 * c[3] * pow(c[2], 0.84) * pow(re, -0.17);
    *value = k * re * re;
    *slope = 1.83 * k * re;
}

static void ito_curved(const double c[], double re, double *value, double *slope)
{
    const double factor = 0.0175 * c[3] * c[2];
    hr_friction_curved(re, 1 / (2 * c[2]), value, slope);
    *value *= factor;
    *slope *= factor;
}

/* Below the limit friction as in a curved tube times alpha, above it Ito's power of Re (1.83); Ito measured
 * from Re 2e4 on, so the limit is not taken below Re 6000. Both are joined over the half of Re below it, with
 * continuous slope (our choice). */
static void ito_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double *c = law->c;
    const double re = c[0] * fabs(flow);
    const double end = fmax(ITO_LIMIT * c[2] * c[2], ITO_LEAST_RE);
    double value;
    double by_re;
    if (re >= end) {
        ito_turbulent(c, re, &value, &by_re);
    } else if (re <= end / 2) {
        ito_curved(c, re, &value, &by_re);
    } else {
        double from[3] = {end / 2, 0, 0};
        double to[3] = {end, 0, 0};
        ito_curved(c, from[0], &from[1], &from[2]);
        ito_turbulent(c, end, &to[1], &to[2]);
        hr_join(from, to, re, &value, &by_re);
    }
    *drop = c[1] * copysign(value, flow);
    *slope = c[1] * c[0] * by_re;
}

/* Friction factor of full turbulence in commercial pipe, the f_T of Crane TP-410: Colebrook with a roughness
 * and Re that stand for its table (a fit; 0.027 at half an inch). */
static double crane_friction(double bore)
{
    const double re = 7.5e6 * bore;
    double value;
    double slope;
    hr_friction_straight(HR_COLEBROOK, re, 3.4126825352925e-5 * pow(bore, -1.0112), &value, &slope);
    return value / (re * re);
}

/* c: Re per flow, dp / (K Re^2), K. */
static void crane_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double *c = law->c;
    const double re = c[0] * fabs(flow);
    double value;
    double by_re;
    hr_smooth_larger(c[3] * re, c[3], c[2] * re * re, 2 * c[2] * re, &value, &by_re);
    *drop = c[1] * copysign(value, flow);
    *slope = c[1] * c[0] * by_re;
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    struct bend *bend = hr_arena_alloc(arena, 1, sizeof *bend);
    if (bend == NULL) {
        return hr_fail_memory(report);
    }
    bend->bore = hr_param_number(params, "bore", NAN);
    bend->angle = hr_param_number(params, "angle", 90);
    bend->ratio = hr_param_number(params, "radius", NAN) / bend->bore;
    bend->crane = hr_param_is(params, "method", "crane");
    hr_part_numbers(params, &bend->series, &bend->parallel);
    bend->volume = hr_part_volume(params, PI / 4 * bend->bore * bend->bore * bend->ratio * bend->bore *
                                              bend->angle * PI / 180);
    *part = bend;
    if (bend->ratio < 1) {
        const struct hr_value *radius = hr_param(params, "radius");
        return hr_fail(
            report, HR_INPUT, "bend-radius", &radius->at,
            "%s: a radius of %g mm is below the bore of %g mm; a sharp turn is a fitting (kind: fitting, "
            "type: elbow-90-mitre)",
            params->owner, radius->number * 1e3, bend->bore * 1e3);
    }
    return HR_OK;
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct bend *bend = part;
    const struct hr_fluid_state *fluid = setting->fluid;
    struct hr_law law = {.evaluate = bend->crane ? crane_law : ito_law};
    law.c[0] = 4 * fluid->density / (PI * bend->bore * fluid->viscosity);
    law.c[1] = fluid->viscosity * fluid->viscosity / (2 * fluid->density * bend->bore * bend->bore);
    if (bend->crane) {
        /* Further 90 degree pieces add (0.25 pi f_T r/D + K/2) each, less for a part of one. */
        const double friction = crane_friction(bend->bore);
        const double k = friction * table(crane_ratio, crane_k, HR_ARRAY_LEN(crane_k), bend->ratio);
        law.c[2] = k + (bend->angle / 90 - 1) * (0.25 * PI * friction * bend->ratio + 0.5 * k);
        law.c[3] = LAMINAR * bend->angle / 90;
    } else {
        law.c[2] = bend->ratio;
        law.c[3] = ito_alpha(bend->ratio, bend->angle) * bend->angle;
    }
    *branch = (struct hr_part_branch){.law_count = 1};
    branch->law[0] = hr_law_rescale(&law, 1 / bend->parallel, bend->series);
}

static void facts_of(const void *part, const struct hr_setting *setting, double flow,
                     struct hr_part_facts *facts)
{
    const struct bend *bend = part;
    hr_facts_clear(facts);
    hr_facts_bore(facts, setting->fluid, bend->bore, flow / bend->parallel);
}

static double volume_of(const void *part)
{
    return ((const struct bend *)part)->volume;
}

static double bore_of(const void *part, size_t port)
{
    (void)port;
    return ((const struct bend *)part)->bore;
}

const struct hr_part_kind hr_kind_bend = {
    .name = "bend",
    .summary = "a smooth bend of a tube",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .facts = facts_of,
    .volume = volume_of,
    .bore = bore_of,
};
