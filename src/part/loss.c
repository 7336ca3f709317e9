/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading the generic forms and making laws of them. */
#include "part/loss.h"

#include <math.h>
#include <string.h>

static const double PI = 3.14159265358979323846;

/* Water at 15 degC, to which the relative density of a flow coefficient refers (IEC 60534-1). */
static const double KV_DENSITY = 999.1;

/* Standard air, for which air-side data are stated (ISO 5801: 1.2 kg/m3); viscosity at 20 degC. */
static const struct hr_fluid_state STANDARD_AIR = {
    .temperature_c = 20, .density = 1.2, .viscosity = 1.8206e-5};

static enum hr_status read_law(const struct hr_params *params, const struct hr_value *law,
                               struct hr_loss *loss, struct hr_report *report)
{
    const struct hr_params *map = law->map;
    const bool power = hr_param(map, "r") != NULL || hr_param(map, "n") != NULL;
    const bool square = hr_param(map, "linear") != NULL || hr_param(map, "square") != NULL;
    const bool trade =
        hr_param(map, "dp") != NULL || hr_param(map, "at") != NULL || hr_param(map, "exponent") != NULL;
    const double r = hr_param_number(map, "r", NAN);
    const double n = hr_param_number(map, "n", 2);
    const double dp = hr_param_number(map, "dp", NAN);
    const double at = hr_param_number(map, "at", NAN);
    const double exponent = hr_param_number(map, "exponent", 2);
    if (power + square + trade != 1 || (power && isnan(r)) || (trade && (isnan(dp) || isnan(at)))) {
        return hr_fail(
            report, HR_INPUT, "law-form", &law->at,
            "%s: 'law' mixes or lacks numbers; write {r: 2e9, n: 2}, or {linear: 1e7, square: 2e9}, or "
            "{dp: 60 mbar, at: 1 gpm, exponent: 1.8}",
            params->owner);
    }
    if (square) {
        loss->form = HR_LOSS_QUADRATIC;
        loss->a = hr_param_number(map, "linear", 0);
        loss->b = hr_param_number(map, "square", 0);
    } else {
        loss->form = HR_LOSS_POWER;
        loss->a = power ? r : dp / pow(at, exponent);
        loss->b = power ? n : exponent;
    }
    const bool positive = square ? loss->a >= 0 && loss->b >= 0 && loss->a + loss->b > 0 : loss->a > 0;
    if (!positive || !isfinite(loss->a) || !isfinite(loss->b)) {
        return hr_fail(
            report, HR_INPUT, "law-sign", &law->at,
            "%s: 'law' gives no pressure drop that rises with the flow; its numbers must be positive",
            params->owner);
    }
    loss->similar = loss->similar && trade;
    return HR_OK;
}

static enum hr_status read_zeta(const struct hr_params *params, const struct hr_value *zeta,
                                enum hr_loss_use use, struct hr_loss *loss, struct hr_report *report)
{
    if (isnan(loss->area)) {
        return hr_fail(report, HR_INPUT, "zeta-bore", &zeta->at,
                       "%s: 'zeta' needs the %s whose velocity it counts; "
                       "add for instance %s",
                       params->owner, use == HR_LOSS_AIR ? "area" : "bore",
                       use == HR_LOSS_AIR ? "area: 60 cm2" : "bore: 8 mm");
    }
    loss->form = HR_LOSS_ZETA;
    loss->a = zeta->number;
    loss->similar = false;
    return HR_OK;
}

static enum hr_status read_form(const struct hr_params *params, enum hr_loss_use use, struct hr_arena *arena,
                                struct hr_loss *loss, struct hr_report *report)
{
    const struct hr_value *points = hr_param(params, "points");
    const struct hr_value *law = hr_param(params, "law");
    const struct hr_value *zeta = hr_param(params, "zeta");
    const struct hr_value *kv = hr_param(params, "flow_coefficient");
    enum hr_status status = HR_OK;
    if (points != NULL) {
        loss->form = HR_LOSS_POINTS;
        status = hr_loss_points(params, points, use, arena, &loss->curve, report);
        if (status == HR_OK) {
            loss->flow_min = points->rows[0];
            loss->flow_max = points->rows[2 * (points->row_count - 1)];
        }
    } else if (law != NULL) {
        status = read_law(params, law, loss, report);
    } else if (zeta != NULL) {
        status = read_zeta(params, zeta, use, loss, report);
    } else if (kv != NULL) {
        loss->form = HR_LOSS_KV;
        loss->a = kv->number;
        loss->similar = false;
    }
    return status;
}

static enum hr_status read_measured(const struct hr_params *params, struct hr_loss *loss,
                                    struct hr_report *report)
{
    const struct hr_value *with = hr_param(params, "measured_with");
    if (with == NULL) {
        return HR_OK;
    }
    struct hr_fluid fluid = {.kind = HR_WATER,
                             .mass_fraction = hr_param_number(with->map, "mass_fraction", 0)};
    const char *name = hr_param_text(with->map, "fluid", "water");
    const double temperature = hr_param_number(with->map, "temperature", 20);
    if (!hr_fluid_find(name, &fluid.kind) || !hr_fluid_at(&fluid, temperature, 101325, &loss->measured)) {
        return hr_fail(
            report, HR_INPUT, "measured-with", &with->at,
            "%s: the properties of '%s' are not known at %g degC; give the fluid and the temperature of "
            "the measurement",
            params->owner, name, temperature);
    }
    loss->similar = true;
    return HR_OK;
}

static void read_range(const struct hr_params *params, struct hr_loss *loss)
{
    const struct hr_params *range = hr_param_map(params, "range");
    loss->flow_min = hr_param_number(range, "flow_min", loss->flow_min);
    loss->flow_max = hr_param_number(range, "flow_max", loss->flow_max);
    loss->lowest_c = hr_param_number(range, "temperature_min", NAN);
    loss->highest_c = hr_param_number(range, "temperature_max", NAN);
}

void hr_part_numbers(const struct hr_params *params, double *series, double *parallel)
{
    *series = hr_param_number(params, "in_series", 1);
    *parallel = hr_param_number(params, "in_parallel", 1);
}

double hr_part_volume(const struct hr_params *params, double otherwise)
{
    double series;
    double parallel;
    hr_part_numbers(params, &series, &parallel);
    return hr_param_number(params, "volume", otherwise) * series * parallel;
}

enum hr_status hr_loss_make(const struct hr_params *params, enum hr_loss_use use, bool needed,
                            struct hr_arena *arena, struct hr_loss *loss, struct hr_report *report)
{
    *loss = (struct hr_loss){.bore = hr_param_number(params, "bore", NAN),
                             .area = hr_param_number(params, "area", NAN),
                             .flow_min = NAN,
                             .flow_max = NAN,
                             .lowest_c = NAN,
                             .highest_c = NAN,
                             .similar = use == HR_LOSS_AIR,
                             .measured = STANDARD_AIR};
    hr_part_numbers(params, &loss->series, &loss->parallel);
    if (!isnan(loss->bore)) {
        loss->area = PI / 4 * loss->bore * loss->bore;
    }
    enum hr_status status = read_measured(params, loss, report);
    const enum hr_status form = read_form(params, use, arena, loss, report);
    status = status == HR_OK ? form : status;
    if (status == HR_OK && needed && loss->form == HR_LOSS_NONE) {
        return hr_fail(report, HR_INPUT, "no-pressure-drop", &params->at, "%s has no pressure drop; give %s",
                       params->owner,
                       use == HR_LOSS_AIR ? "'points', 'law', or 'zeta' with 'area'"
                                          : "'points', 'law', 'flow_coefficient', or 'zeta' with 'bore'");
    }
    read_range(params, loss);
    return status;
}

static struct hr_law own_law(const struct hr_loss *loss, const struct hr_fluid_state *fluid)
{
    switch (loss->form) {
    case HR_LOSS_POINTS:
        return hr_law_points(loss->curve);
    case HR_LOSS_POWER:
        return hr_law_power(loss->a, loss->b);
    case HR_LOSS_QUADRATIC:
        return hr_law_quadratic(loss->a, loss->b, loss->b);
    case HR_LOSS_KV: {
        const double square = fluid->density / KV_DENSITY / (loss->a * loss->a);
        return hr_law_quadratic(0, square, square);
    }
    case HR_LOSS_ZETA: {
        const double square = loss->a * fluid->density / (2 * loss->area * loss->area);
        return hr_law_quadratic(0, square, square);
    }
    case HR_LOSS_NONE:
        break;
    }
    return hr_law_quadratic(0, 0, 0);
}

struct hr_law hr_loss_law(const struct hr_loss *loss, const struct hr_fluid_state *fluid, double factor)
{
    const struct hr_law own = own_law(loss, fluid);
    double flow = 1 / loss->parallel;
    double drop = factor * loss->series;
    if (loss->similar) {
        /* Two flows in the same rigid passage with the same Reynolds number are similar, so that
         * dp / (rho nu^2) is the same function of q / nu in any fluid. */
        const double nu = fluid->viscosity / fluid->density;
        const double nu_measured = loss->measured.viscosity / loss->measured.density;
        flow *= nu_measured / nu;
        drop *= fluid->density / loss->measured.density * (nu / nu_measured) * (nu / nu_measured);
    }
    return hr_law_rescale(&own, flow, drop);
}

void hr_loss_bind(const struct hr_loss *loss, const struct hr_fluid_state *fluid, double factor,
                  struct hr_part_branch *branch)
{
    if (loss->form != HR_LOSS_NONE) {
        branch->law[branch->law_count++] = hr_loss_law(loss, fluid, factor);
    }
}

void hr_facts_clear(struct hr_part_facts *facts)
{
    memset(facts, 0, sizeof *facts);
    facts->reynolds = NAN;
    facts->velocity_m_s = NAN;
}

void hr_facts_range(struct hr_part_facts *facts, const char *what, double low, double high, double value,
                    const char *unit)
{
    if (facts->range_count < HR_RANGES_MAX && !(isnan(low) && isnan(high))) {
        facts->range[facts->range_count++] =
            (struct hr_range){.what = what, .low = low, .high = high, .value = value, .unit = unit};
    }
}

void hr_facts_bore(struct hr_part_facts *facts, const struct hr_fluid_state *fluid, double bore, double flow)
{
    facts->velocity_m_s = fabs(flow) / (PI / 4 * bore * bore);
    facts->reynolds = facts->velocity_m_s * bore * fluid->density / fluid->viscosity;
}

void hr_loss_facts(const struct hr_loss *loss, const struct hr_setting *setting, double flow,
                   struct hr_part_facts *facts)
{
    const double own = fabs(flow) / loss->parallel;
    if (!isnan(loss->bore)) {
        hr_facts_bore(facts, setting->fluid, loss->bore, own);
    } else if (!isnan(loss->area)) {
        facts->velocity_m_s = own / loss->area;
    }
    hr_facts_range(facts, "flow", loss->flow_min, loss->flow_max, own, "m3/s");
    hr_facts_range(facts, "temperature", loss->lowest_c, loss->highest_c, setting->fluid->temperature_c,
                   "degC");
}
