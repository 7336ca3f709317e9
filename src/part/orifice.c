/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An orifice plate by ISO 5167-2:2003. The standard is for measuring in pipes from 50 mm and Re 5000; the law
 * goes on outside, marked by its ranges. */
#include "part/orifice.h"

#include "part/friction.h"
#include "part/keys.h"
#include "part/kinds.h"
#include "part/loss.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

static const char *const taps[] = {"corner", "d-and-d/2", "flange", NULL};

static const char *const drops[] = {"lasting", "taps", NULL};

static const struct hr_key keys[] = {
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = 1e-4,
     .max = 20,
     .required = true,
     .help = "inner diameter of the pipe"},
    {.name = "hole",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .required = true,
     .help = "diameter of the orifice"},
    {.name = "taps", .form = HR_FORM_CHOICE, .choices = taps, .help = "where the pressure is taken; corner"},
    {.name = "coefficient",
     .quantity = HR_NUMBER,
     .min = 0.3,
     .max = 1.2,
     .help = "a constant discharge coefficient instead of the standard's"},
    {.name = "drop",
     .form = HR_FORM_CHOICE,
     .choices = drops,
     .help = "lasting: what is lost for good; taps: the difference a gauge shows; lasting"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, NULL};

struct orifice {
    double bore;
    double share; /* hole over bore */
    enum hr_taps taps_at;
    bool lasting;       /* permanent loss, else the difference at the taps */
    double coefficient; /* NaN: the standard's */
    double series, parallel;
};

double hr_orifice_coefficient(enum hr_taps taps_at, double pipe_m, double share, double re, double *slope)
{
    const double l1 = taps_at == HR_TAPS_CORNER ? 0 : (taps_at == HR_TAPS_D ? 1 : 0.0254 / pipe_m);
    const double l2 = taps_at == HR_TAPS_CORNER ? 0 : (taps_at == HR_TAPS_D ? 0.47 : 0.0254 / pipe_m);
    const double b2 = share * share;
    const double b4 = b2 * b2;
    const double m2 = 2 * l2 / (1 - share);
    const double a = pow(19000 * share / re, 0.8);
    const double slip = 0.000521 * pow(1e6 * share / re, 0.7);
    const double film = pow(share, 3.5) * pow(1e6 / re, 0.3);
    const double upstream = (0.043 + 0.080 * exp(-10 * l1) - 0.123 * exp(-7 * l1)) * b4 / (1 - b4);
    double c = 0.5961 + 0.0261 * b2 - 0.216 * b4 * b4 + slip + (0.0188 + 0.0063 * a) * film +
               upstream * (1 - 0.11 * a) - 0.031 * (m2 - 0.8 * pow(m2, 1.1)) * pow(share, 1.3);
    if (pipe_m < 0.07112) {
        c += 0.011 * (0.75 - share) * (2.8 - pipe_m / 0.0254);
    }
    *slope =
        -(0.7 * slip + 0.3 * (0.0188 + 0.0063 * a) * film + 0.8 * a * (0.0063 * film - 0.11 * upstream)) / re;
    return c;
}

double hr_orifice_least_re(enum hr_taps taps_at, double pipe_m, double share)
{
    if (taps_at == HR_TAPS_FLANGE) {
        return fmax(5000, 170 * share * share * pipe_m * 1000);
    }
    return share <= 0.56 ? 5000 : 16000 * share * share;
}

/* Velocity heads of a sharp-edged hole in slow flow times its Re, from a discharge coefficient of 0.2
 * sqrt(Re_d) (Merritt 1967, Hydraulic Control Systems, section 3.4; from memory). */
static const double SLOW = 25;

/* c: Re per flow, dp / (K Re^2), share, pipe, taps, constant coefficient or 0, least Re, lasting. */
enum { SHARE = 2, PIPE, TAPS, CONSTANT, LEAST, LASTING };

/* (1 - b^4)/(b^4 C^2), times the lasting share of the difference at the taps (ISO 5167-2:2003, equation 7),
 * in velocity heads of the pipe; and its derivative against C. */
static double heads(double share, double coefficient, bool lasting, double *slope)
{
    const double b2 = share * share;
    const double b4 = b2 * b2;
    const double taps_heads = (1 - b4) / (b4 * coefficient * coefficient);
    const double taps_slope = -2 * taps_heads / coefficient;
    if (!lasting) {
        *slope = taps_slope;
        return taps_heads;
    }
    const double root = sqrt(1 - b4 * (1 - coefficient * coefficient));
    const double root_slope = b4 * coefficient / root;
    const double sum = root + coefficient * b2;
    const double lost = (root - coefficient * b2) / sum;
    const double lost_slope = ((root_slope - b2) - lost * (root_slope + b2)) / sum;
    *slope = taps_slope * lost + taps_heads * lost_slope;
    return taps_heads * lost;
}

/* Below its least Re the coefficient runs into a constant, smoothly; at very small flows the drop becomes
 * linear. */
static void orifice_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double *c = law->c;
    const double re = c[0] * fabs(flow);
    double held;
    double held_slope;
    hr_smooth_larger(re, 1, c[LEAST], 0, &held, &held_slope);
    double coefficient = c[CONSTANT];
    double by_re = 0;
    if (coefficient == 0) {
        coefficient = hr_orifice_coefficient((enum hr_taps)(int)c[TAPS], c[PIPE], c[SHARE], held, &by_re);
    }
    double by_coefficient;
    const double k = heads(c[SHARE], coefficient, c[LASTING] != 0, &by_coefficient);
    const double k_slope = by_coefficient * by_re * held_slope;
    const double slow = SLOW / (c[SHARE] * c[SHARE] * c[SHARE]);
    double value;
    double value_slope;
    hr_smooth_larger(slow * re, slow, k * re * re, 2 * k * re + k_slope * re * re, &value, &value_slope);
    *drop = c[1] * copysign(value, flow);
    *slope = c[1] * c[0] * value_slope;
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    struct orifice *orifice = hr_arena_alloc(arena, 1, sizeof *orifice);
    if (orifice == NULL) {
        return hr_fail_memory(report);
    }
    orifice->bore = hr_param_number(params, "bore", NAN);
    orifice->share = hr_param_number(params, "hole", NAN) / orifice->bore;
    orifice->coefficient = hr_param_number(params, "coefficient", NAN);
    orifice->lasting = !hr_param_is(params, "drop", "taps");
    orifice->taps_at = hr_param_is(params, "taps", "flange")      ? HR_TAPS_FLANGE
                       : hr_param_is(params, "taps", "d-and-d/2") ? HR_TAPS_D
                                                                  : HR_TAPS_CORNER;
    hr_part_numbers(params, &orifice->series, &orifice->parallel);
    *part = orifice;
    if (orifice->share < 0.05 || orifice->share > 0.9) {
        const struct hr_value *hole = hr_param(params, "hole");
        return hr_fail(
            report, HR_INPUT, "orifice-hole", &hole->at,
            "%s: a hole of %g mm in a bore of %g mm is no orifice plate; the standard holds from a tenth to "
            "three quarters of the bore",
            params->owner, hole->number * 1e3, orifice->bore * 1e3);
    }
    return HR_OK;
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct orifice *orifice = part;
    const struct hr_fluid_state *fluid = setting->fluid;
    struct hr_law law = {.evaluate = orifice_law};
    law.c[0] = 4 * fluid->density / (PI * orifice->bore * fluid->viscosity);
    law.c[1] = fluid->viscosity * fluid->viscosity / (2 * fluid->density * orifice->bore * orifice->bore);
    law.c[SHARE] = orifice->share;
    law.c[PIPE] = orifice->bore;
    law.c[TAPS] = orifice->taps_at;
    law.c[CONSTANT] = isnan(orifice->coefficient) ? 0 : orifice->coefficient;
    law.c[LEAST] = hr_orifice_least_re(orifice->taps_at, orifice->bore, orifice->share);
    law.c[LASTING] = orifice->lasting;
    *branch = (struct hr_part_branch){.law_count = 1};
    branch->law[0] = hr_law_rescale(&law, 1 / orifice->parallel, orifice->series);
}

static void facts_of(const void *part, const struct hr_setting *setting, double flow,
                     struct hr_part_facts *facts)
{
    const struct orifice *orifice = part;
    hr_facts_clear(facts);
    hr_facts_bore(facts, setting->fluid, orifice->bore, flow / orifice->parallel);
    if (isnan(orifice->coefficient)) {
        hr_facts_range(facts, "bore", 0.05, 1, orifice->bore, "m");
        hr_facts_range(facts, "hole over bore", 0.1, 0.75, orifice->share, "");
        hr_facts_range(facts, "Reynolds number",
                       hr_orifice_least_re(orifice->taps_at, orifice->bore, orifice->share), NAN,
                       facts->reynolds, "");
    }
}

static double bore_of(const void *part, size_t port)
{
    (void)port;
    return ((const struct orifice *)part)->bore;
}

const struct hr_part_kind hr_kind_orifice = {
    .name = "orifice",
    .summary = "a measuring orifice after ISO 5167-2",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .facts = facts_of,
    .bore = bore_of,
};
