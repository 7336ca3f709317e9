/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fittings by the 2-K and 3-K forms, or by a generic one. The term k1/Re is exactly linear in the flow. */
#include "part/keys.h"
#include "part/kinds.h"
#include "part/passage.h"

#include <math.h>

static const char *const types[] = {
    "elbow-90",    "elbow-90-long", "elbow-90-mitre", "elbow-45",   "elbow-45-long",
    "return-180",  "tee-run",       "tee-branch",     "gate-valve", "ball-valve",
    "globe-valve", "angle-valve",   "swing-check",    "lift-check", NULL};
static const char *const methods[] = {"2-k", "3-k", NULL};

static const struct hr_key keys[] = {
    {.name = "type",
     .form = HR_FORM_CHOICE,
     .choices = types,
     .instead = "pressure drop",
     .help = "a common fitting whose constants are built in"},
    {.name = "method",
     .form = HR_FORM_CHOICE,
     .choices = methods,
     .help = "2-k (Hooper 1981) or 3-k (Darby 2001) constants of `type`; 2-k"},
    {.name = "k1",
     .quantity = HR_NUMBER,
     .min = 0,
     .max = 1e6,
     .instead = "pressure drop",
     .help = "K1 of K = K1/Re + K_inf (1 + 1 in/bore), or of the 3-K form"},
    {.name = "k_inf", .quantity = HR_NUMBER, .min = 0, .max = 1e4, .help = "K_inf of the 2-K form"},
    {.name = "ki",
     .quantity = HR_NUMBER,
     .min = 0,
     .max = 1e4,
     .help = "Ki of K = K1/Re + Ki (1 + Kd / (nominal in inches)^0.3)"},
    {.name = "kd", .quantity = HR_NUMBER, .min = 0, .max = 1e3, .help = "Kd of the 3-K form"},
    {.name = "nominal",
     .quantity = HR_LENGTH,
     .min = 1e-4,
     .max = 20,
     .help = "nominal bore of the 3-K form; the bore"},
};
static const struct hr_key_group own = HR_KEYS(keys);
static const struct hr_key_group *const groups[] = {&own, &hr_keys_any, &hr_keys_coolant, &hr_keys_hydraulic,
                                                    NULL};

/* Constants of common fittings. Hooper 1981 (Chem. Eng., 24 August, p. 96): K = k1/Re + k_inf (1 + 1 in/D).
 * Darby 2001 (Chemical Engineering Fluid Mechanics, 2nd ed.): K = k1/Re + ki (1 + kd/(Dn/in)^0.3). Screwed or
 * threaded forms where the tables tell them apart. Both are stated from half an inch upwards: expect 30 % in
 * smaller bores. In the order of `types`; NaN: not in that table. */
static const struct constants {
    double hooper[2];
    double darby[3];
} constants[] = {
    {{800, 0.4}, {800, 0.14, 4.0}},    /* elbow-90 */
    {{800, 0.2}, {800, 0.071, 4.2}},   /* elbow-90-long */
    {{1000, 1.15}, {1000, 0.27, 4.0}}, /* elbow-90-mitre */
    {{500, 0.2}, {500, 0.071, 4.2}},   /* elbow-45 */
    {{500, 0.15}, {500, 0.052, 4.0}},  /* elbow-45-long */
    {{1000, 0.7}, {1000, 0.23, 4.0}},  /* return-180 */
    {{200, 0.1}, {200, 0.091, 4.0}},   /* tee-run */
    {{500, 0.7}, {500, 0.274, 4.0}},   /* tee-branch */
    {{300, 0.1}, {300, 0.037, 3.9}},   /* gate-valve */
    {{300, 0.1}, {300, 0.017, 3.5}},   /* ball-valve, full bore */
    {{1500, 4.0}, {1500, 1.7, 3.6}},   /* globe-valve */
    {{1000, 2.0}, {1000, 0.69, 4.0}},  /* angle-valve */
    {{1500, 1.5}, {1500, 0.46, 4.0}},  /* swing-check */
    {{2000, 10.0}, {2000, 2.85, 3.8}}, /* lift-check */
};

static const double INCH = 0.0254;

/* K = k1/Re + rest, where the form is not a generic one. */
struct fitting {
    struct hr_passage passage;
    double k1;
    double rest;
};

static double two_k(double k_inf, double bore)
{
    return k_inf * (1 + INCH / bore);
}

static double three_k(double ki, double kd, double nominal)
{
    return ki * (1 + kd / pow(nominal / INCH, 0.3));
}

static void use_type(const struct hr_params *params, double bore, double nominal, struct fitting *fitting)
{
    for (size_t i = 0; types[i] != NULL; i++) {
        if (hr_param_is(params, "type", types[i])) {
            const struct constants *row = &constants[i];
            const bool three = hr_param_is(params, "method", "3-k");
            fitting->k1 = three ? row->darby[0] : row->hooper[0];
            fitting->rest =
                three ? three_k(row->darby[1], row->darby[2], nominal) : two_k(row->hooper[1], bore);
        }
    }
}

static enum hr_status make(const struct hr_params *params, struct hr_arena *arena, void **part,
                           struct hr_report *report)
{
    const enum hr_status status =
        hr_passage_make(params, HR_LOSS_COOLANT, false, sizeof(struct fitting), arena, part, report);
    if (status != HR_OK) {
        return status;
    }
    struct fitting *fitting = *part;
    const double bore = fitting->passage.loss.bore;
    const double nominal = hr_param_number(params, "nominal", bore);
    const struct hr_value *k_inf = hr_param(params, "k_inf");
    const struct hr_value *ki = hr_param(params, "ki");
    const struct hr_value *k1 = hr_param(params, "k1");
    const struct hr_value *type = hr_param(params, "type");
    if (fitting->passage.loss.form != HR_LOSS_NONE) {
        return HR_OK;
    }
    if (type == NULL && (k1 == NULL || (k_inf == NULL) == (ki == NULL))) {
        return hr_fail(
            report, HR_INPUT, "no-pressure-drop", &params->at,
            "%s has no pressure drop; give 'type', or 'k1' with 'k_inf' (or with 'ki' and 'kd'), or "
            "'points', 'law', 'flow_coefficient', or 'zeta' with 'bore'",
            params->owner);
    }
    if (isnan(bore)) {
        return hr_fail(report, HR_INPUT, "fitting-bore", type != NULL ? &type->at : &k1->at,
                       "%s needs the 'bore' that its velocity counts in; add for instance bore: 8 mm",
                       params->owner);
    }
    if (type != NULL) {
        use_type(params, bore, nominal, fitting);
    } else {
        fitting->k1 = k1->number;
        fitting->rest = k_inf != NULL ? two_k(k_inf->number, bore)
                                      : three_k(ki->number, hr_param_number(params, "kd", 0), nominal);
    }
    return HR_OK;
}

static void bind(const void *part, const struct hr_setting *setting, struct hr_part_branch branch[])
{
    const struct fitting *fitting = part;
    const struct hr_loss *loss = &fitting->passage.loss;
    hr_passage_bind(part, setting, branch);
    if (branch->law_count == 0) {
        const struct hr_law law = hr_law_velocity_heads(fitting->k1, fitting->rest, loss->bore,
                                                        setting->fluid->density, setting->fluid->viscosity);
        branch->law[branch->law_count++] = hr_law_rescale(&law, 1 / loss->parallel, loss->series);
    }
}

static double bore_of(const void *part, size_t port)
{
    (void)port;
    const struct fitting *fitting = part;
    return fitting->passage.loss.form == HR_LOSS_NONE ? fitting->passage.loss.bore : NAN;
}

const struct hr_part_kind hr_kind_fitting = {
    .name = "fitting",
    .summary = "an elbow, union or other fitting with losses of the 2-K or 3-K form",
    .groups = groups,
    .ports = hr_ports_two,
    .make = make,
    .bind = bind,
    .facts = hr_passage_facts,
    .volume = hr_passage_volume,
    .bore = bore_of,
};
