/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A tube: friction over all flows, the extra loss of the developing entrance, further losses on its own
 * velocity. The default wall is that of a plastic tube, hydraulically smooth. Fittings are parts of their
 * own, added by whoever builds the network. */
#include "part/friction.h"
#include "part/keys.h"
#include "part/kinds.h"
#include "part/loss.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

static const char *const entrances[] = {"developing", "developed", NULL};
static const char *const frictions[] = {"churchill", "colebrook", "haaland", "swamee-jain", NULL};

static const struct hr_key keys[] = {
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = 1e-5,
     .max = 20,
     .required = true,
     .help = "inner diameter"},
    {.name = "length",
     .quantity = HR_LENGTH,
     .min = 0,
     .max = 1e6,
     .required = true,
     .help = "length along the tube"},
    {.name = "roughness",
     .quantity = HR_LENGTH,
     .min = 0,
     .max = 0.1,
     .help = "height of the wall's roughness; 0 mm, a smooth plastic tube"},
    {.name = "zeta",
     .quantity = HR_NUMBER,
     .min = 0,
     .max = 1e9,
     .help = "further losses in velocity heads of the tube"},
    {.name = "fittings", .form = HR_FORM_COUNTS, .help = "fittings of the library by name: {elbow-90: 2}"},
    {.name = "entrance",
     .form = HR_FORM_CHOICE,
     .choices = entrances,
     .help = "developing, or developed: a piece of a longer tube, without loss at its ends; developing"},
    {.name = "friction",
     .form = HR_FORM_CHOICE,
     .choices = frictions,
     .instead = "friction",
     .help = "friction law; churchill holds for all flows, the others laminar below Re 2000"},
    {.name = "friction_factor",
     .quantity = HR_NUMBER,
     .min = 1e-6,
     .max = 100,
     .instead = "friction",
     .help = "a constant Darcy friction factor, as in textbook problems"},
    {.name = "curve_radius",
     .quantity = HR_LENGTH,
     .min = 1e-4,
     .max = 1e4,
     .help = "radius of the bent tube's centre line"},
    {.name = "outer", .quantity = HR_LENGTH, .min = 1e-5, .max = 20, .help = "outer diameter"},
    {.name = "material", .form = HR_FORM_TEXT, .help = "of the wall"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, NULL};

/* Ratio of bore to coil diameter below which a tube counts as straight: there the law of Mori and Nakayama
 * meets that of the straight tube within 2 %. */
static const double STRAIGHT_BELOW = 1e-3;

struct tube {
    double bore;
    double length;
    double rough; /* over bore */
    double zeta;
    double factor; /* constant friction factor; NaN: by the law */
    double ratio;  /* bore over coil diameter; 0: straight */
    enum hr_friction friction;
    bool developed;
    double series, parallel;
    double volume;
};

/* c: Re per flow, dp / (f Re^2), L/D, roughness, zeta, curvature, law, developed. Drop = c1 (L/D f Re^2 +
 * zeta Re^2 + entrance), since rho V^2/2 = Re^2 mu^2 / (2 rho D^2). */
enum { LENGTH = 2, ROUGH, ZETA, RATIO, LAW, DEVELOPED };

static void tube_law(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double *c = law->c;
    const double re = c[0] * fabs(flow);
    double value;
    double by_re;
    if (c[RATIO] > 0) {
        hr_friction_curved(re, c[RATIO], &value, &by_re);
    } else {
        hr_friction_straight((enum hr_friction)(int)c[LAW], re, c[ROUGH], &value, &by_re);
    }
    value = c[LENGTH] * value + c[ZETA] * re * re;
    by_re = c[LENGTH] * by_re + 2 * c[ZETA] * re;
    if (c[DEVELOPED] == 0) {
        double more;
        double more_slope;
        hr_friction_entrance(re, c[LENGTH], &more, &more_slope);
        value += more;
        by_re += more_slope;
    }
    *drop = c[1] * copysign(value, flow);
    *slope = c[1] * c[0] * by_re;
}

static enum hr_friction friction_law(const struct hr_params *params)
{
    for (int i = HR_CHURCHILL; i <= HR_SWAMEE_JAIN; i++) {
        if (hr_param_is(params, "friction", frictions[i])) {
            return (enum hr_friction)i;
        }
    }
    return HR_CHURCHILL;
}

static enum hr_status check(const struct hr_params *params, const struct tube *tube, struct hr_report *report)
{
    const struct hr_value *roughness = hr_param(params, "roughness");
    const struct hr_value *radius = hr_param(params, "curve_radius");
    if (tube->rough > 0.1) {
        return hr_fail(
            report, HR_INPUT, "roughness", &roughness->at,
            "%s: a roughness of %g mm in a bore of %g mm is beyond the friction laws; it must be below a "
            "tenth of the bore",
            params->owner, roughness->number * 1e3, tube->bore * 1e3);
    }
    if (radius == NULL) {
        return HR_OK;
    }
    if (tube->ratio > 0.5) {
        return hr_fail(
            report, HR_INPUT, "curve-radius", &radius->at,
            "%s: a curve radius of %g mm is tighter than the bore of %g mm allows; it must be the bore at "
            "least",
            params->owner, radius->number * 1e3, tube->bore * 1e3);
    }
    if (tube->ratio >= STRAIGHT_BELOW &&
        (tube->rough > 0 || !isnan(tube->factor) || tube->friction != HR_CHURCHILL)) {
        return hr_fail(report, HR_INPUT, "curve-friction", &radius->at,
                       "%s: 'curve_radius' has friction laws of its own, for smooth tubes; leave 'friction', "
                       "'friction_factor' and 'roughness' out",
                       params->owner);
    }
    return HR_OK;
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    struct tube *tube = hr_arena_alloc(arena, 1, sizeof *tube);
    if (tube == NULL) {
        return hr_fail_memory(report);
    }
    tube->bore = hr_param_number(params, "bore", NAN);
    tube->length = hr_param_number(params, "length", 0);
    tube->rough = hr_param_number(params, "roughness", 0) / tube->bore;
    tube->zeta = hr_param_number(params, "zeta", 0);
    tube->factor = hr_param_number(params, "friction_factor", NAN);
    tube->ratio = tube->bore / (2 * hr_param_number(params, "curve_radius", INFINITY));
    tube->friction = friction_law(params);
    tube->developed = hr_param_is(params, "entrance", "developed") || !isnan(tube->factor);
    hr_part_numbers(params, &tube->series, &tube->parallel);
    tube->volume = hr_part_volume(params, PI / 4 * tube->bore * tube->bore * tube->length);
    *part = tube;
    return check(params, tube, report);
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct tube *tube = part;
    const struct hr_fluid_state *fluid = setting->fluid;
    const double slenderness = tube->length / tube->bore;
    struct hr_law law;
    *branch = (struct hr_part_branch){0};
    if (slenderness == 0 || !isnan(tube->factor)) {
        const double zeta = tube->zeta + (slenderness == 0 ? 0 : tube->factor * slenderness);
        if (zeta == 0) {
            return; /* a joint: lossless */
        }
        law = hr_law_velocity_heads(0, zeta, tube->bore, fluid->density, fluid->viscosity);
    } else {
        law = (struct hr_law){.evaluate = tube_law};
        law.c[0] = 4 * fluid->density / (PI * tube->bore * fluid->viscosity);
        law.c[1] = fluid->viscosity * fluid->viscosity / (2 * fluid->density * tube->bore * tube->bore);
        law.c[LENGTH] = slenderness;
        law.c[ROUGH] = tube->rough;
        law.c[ZETA] = tube->zeta;
        law.c[RATIO] = tube->ratio >= STRAIGHT_BELOW ? tube->ratio : 0;
        law.c[LAW] = tube->friction;
        law.c[DEVELOPED] = tube->developed;
    }
    branch->law[branch->law_count++] = hr_law_rescale(&law, 1 / tube->parallel, tube->series);
}

static void tube_facts(const void *part, const struct hr_setting *setting, double flow,
                       struct hr_part_facts *facts)
{
    const struct tube *tube = part;
    hr_facts_clear(facts);
    hr_facts_bore(facts, setting->fluid, tube->bore, flow / tube->parallel);
    if (tube->ratio > 0.1) {
        facts->note =
            "the friction laws of curved tubes are used for a tighter curve than they were checked for";
    }
}

static double tube_volume(const void *part)
{
    return ((const struct tube *)part)->volume;
}

/* A developed tube is a piece cut out of a longer one, as in textbook problems: its ends lose nothing,
 * neither by an entrance nor by a step to the next bore. */
static double tube_bore(const void *part, size_t port)
{
    const struct tube *tube = part;
    (void)port;
    return tube->developed ? NAN : tube->bore;
}

const struct hr_part_kind hr_kind_tube = {
    .name = "tube",
    .summary = "a tube or hose with its fittings",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .facts = tube_facts,
    .volume = tube_volume,
    .bore = tube_bore,
    .library_run = true,
};
