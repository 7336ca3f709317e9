/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loops: coolant, tubing, route and runs of each; and what stands above them, title and ambient. */
#include "read/describe.h"

#include "base/text.h"
#include "read/syntax.h"

#include <math.h>
#include <string.h>

#define AMBIENT_C  20.0     /* where the file says nothing */
#define AMBIENT_PA 101325.0 /* standard atmosphere */

static const struct hr_key ambient_keys[] = {
    {.name = "temperature", .quantity = HR_TEMPERATURE, .min = -90, .max = 200, .help = "23 degC"},
    {.name = "pressure", .quantity = HR_PRESSURE, .min = 1e3, .max = 1e6, .help = "absolute: 1013 mbar"},
};
static const struct hr_key_group ambient_group = {ambient_keys, HR_ARRAY_LEN(ambient_keys)};

static const char *const fluids[] = {"water", "propylene-glycol-water", "ethylene-glycol-water", "given",
                                     NULL};
static const struct hr_key coolant_keys[] = {
    {.name = "fluid",
     .form = HR_FORM_CHOICE,
     .choices = fluids,
     .required = true,
     .help = "water, or a mixture"},
    {.name = "mass_fraction",
     .quantity = HR_SHARE,
     .min = 0,
     .max = 0.6,
     .help = "glycol in the mixture: 20 %"},
    {.name = "temperature",
     .quantity = HR_TEMPERATURE,
     .min = -60,
     .max = 300,
     .help = "fixes the properties"},
    {.name = "density", .quantity = HR_DENSITY, .min = 1e-2, .max = 3e4, .help = "of a given fluid"},
    {.name = "viscosity",
     .quantity = HR_VISCOSITY,
     .min = 1e-7,
     .max = 1e4,
     .instead = "viscosity",
     .help = "of a given fluid: 1 mPa s"},
    {.name = "kinematic_viscosity",
     .quantity = HR_KINEMATIC_VISCOSITY,
     .min = 1e-9,
     .max = 10,
     .instead = "viscosity",
     .help = "of a given fluid: 1 mm2/s"},
    {.name = "heat_capacity",
     .quantity = HR_HEAT_CAPACITY,
     .min = 10,
     .max = 1e5,
     .help = "of a given fluid"},
    {.name = "conductivity",
     .quantity = HR_CONDUCTIVITY,
     .min = 1e-3,
     .max = 1e3,
     .help = "of a given fluid"},
    {.name = "vapour_pressure",
     .quantity = HR_PRESSURE,
     .min = 0,
     .max = 1e8,
     .help = "absolute, of a given fluid"},
};
static const struct hr_key_group coolant_group = {coolant_keys, HR_ARRAY_LEN(coolant_keys)};

static const char *const loop_keys[] = {"coolant", "tubing", "route", "runs"};

struct hr_given hr_given(const struct hr_params *params, const char *key)
{
    const struct hr_value *value = hr_param(params, key);
    struct hr_given given = {.value = (double)NAN};
    if (value != NULL) {
        given = (struct hr_given){value->number, value->sd, value->meaning, value->at};
    }
    return given;
}

bool hr_map_read(struct hr_describer *d, const struct hr_yaml *map, const struct hr_key_group *group,
                 const char *owner, const struct hr_params **params)
{
    const struct hr_key_group *const groups[] = {group, NULL};
    char found[64];
    *params = NULL;
    if (map->kind != HR_YAML_MAP) {
        return hr_wrong(d, "wrong-form", &map->at, "%s: found %s; write a mapping such as {%s: %s}", owner,
                        hr_yaml_describe(map, found, sizeof found), group->keys[0].name,
                        group->keys[0].help == NULL ? "..." : group->keys[0].help);
    }
    const struct hr_values_job job = {.map = map, .groups = groups, .owner = owner, .path = ""};
    return hr_values_read(&d->reader, &job, params);
}

const struct hr_yaml *hr_map_without(struct hr_describer *d, const struct hr_yaml *map, const char *key)
{
    struct hr_yaml *copy = hr_yaml_map_copy(d->reader.arena, NULL, map->count, &map->at);
    if (copy == NULL) {
        (void)hr_no_memory(d);
        return NULL;
    }
    for (size_t i = 0; i < map->count; i++) {
        if (strcmp(map->key[i]->text, key) != 0) {
            hr_yaml_put(copy, map->key[i], map->value[i]);
        }
    }
    return copy;
}

/* A scalar stands for a mapping of one key. */
static const struct hr_yaml *widen(struct hr_describer *d, const struct hr_yaml *node, const char *key)
{
    if (node->kind != HR_YAML_SCALAR || hr_yaml_is_null(node)) {
        return node;
    }
    struct hr_yaml *map = hr_yaml_map_copy(d->reader.arena, NULL, 1, &node->at);
    const struct hr_yaml *name = hr_yaml_scalar(d->reader.arena, key, &node->at);
    if (map == NULL || name == NULL) {
        (void)hr_no_memory(d);
        return node;
    }
    hr_yaml_put(map, name, node);
    return map;
}

void hr_head_read(struct hr_describer *d)
{
    const struct hr_yaml *title = hr_yaml_get(d->root, "title");
    const struct hr_yaml *ambient = hr_yaml_get(d->root, "ambient");
    const struct hr_params *params = NULL;
    char found[64];
    if (title != NULL && title->kind != HR_YAML_SCALAR) {
        (void)hr_wrong(d, "wrong-form", &title->at, "title: found %s; write one line of text",
                       hr_yaml_describe(title, found, sizeof found));
    } else if (title != NULL && !hr_yaml_is_null(title)) {
        d->out->title = title->text;
    }
    if (ambient != NULL) {
        (void)hr_map_read(d, widen(d, ambient, "temperature"), &ambient_group, "ambient", &params);
    }
    d->out->ambient_c = hr_given(params, "temperature");
    d->out->ambient_pa = hr_given(params, "pressure");
    if (isnan(d->out->ambient_c.value)) {
        d->out->ambient_c.value = AMBIENT_C;
    }
    if (isnan(d->out->ambient_pa.value)) {
        d->out->ambient_pa.value = AMBIENT_PA;
    }
}

static bool check_key(struct hr_describer *d, const struct hr_params *params, const char *key, bool wanted)
{
    const struct hr_value *fluid = hr_param(params, "fluid");
    const struct hr_value *value = hr_param(params, key);
    if (wanted && value == NULL) {
        return hr_wrong(d, "missing-key", &fluid->at, "coolant: the fluid '%s' needs the key %s", fluid->text,
                        key);
    }
    if (!wanted && value != NULL) {
        return hr_wrong(d, "superfluous-key", &value->at,
                        "coolant: the fluid '%s' takes no %s; delete it, or choose another fluid",
                        fluid->text, key);
    }
    return true;
}

/* A fluid of the user's own constants; what a purely hydraulic problem leaves out is that of water at 20
 * degC. */
static void fill_given(const struct hr_params *params, double temperature, struct hr_fluid *fluid)
{
    const double density = hr_param_number(params, "density", 0);
    fluid->given.temperature_c = isnan(temperature) ? AMBIENT_C : temperature;
    fluid->given.density = density;
    fluid->given.viscosity =
        hr_param_number(params, "viscosity", density * hr_param_number(params, "kinematic_viscosity", 0));
    fluid->given.heat_capacity = hr_param_number(params, "heat_capacity", 4184);
    fluid->given.conductivity = hr_param_number(params, "conductivity", 0.598);
    fluid->given.vapour_pressure = hr_param_number(params, "vapour_pressure", 0);
}

static void read_coolant(struct hr_describer *d, const struct hr_yaml *node, struct hr_loop *loop)
{
    static const char *const own[] = {"density",       "viscosity",    "kinematic_viscosity",
                                      "heat_capacity", "conductivity", "vapour_pressure"};
    const struct hr_params *params = NULL;
    loop->temperature_c = (double)NAN;
    loop->fluid.kind = HR_WATER;
    if (node == NULL) {
        return;
    }
    loop->fluid_at = node->at;
    if (!hr_map_read(d, widen(d, node, "fluid"), &coolant_group, "coolant", &params)) {
        return;
    }
    (void)hr_fluid_find(hr_param_text(params, "fluid", "water"), &loop->fluid.kind);
    const bool mixture = loop->fluid.kind == HR_PROPYLENE_GLYCOL || loop->fluid.kind == HR_ETHYLENE_GLYCOL;
    const bool given = loop->fluid.kind == HR_GIVEN;
    bool good = check_key(d, params, "mass_fraction", mixture);
    for (size_t i = 0; !given && i < HR_ARRAY_LEN(own); i++) {
        good = check_key(d, params, own[i], false) && good;
    }
    if (given) {
        good = check_key(d, params, "density", true) && good;
        good = (hr_param(params, "kinematic_viscosity") != NULL || check_key(d, params, "viscosity", true)) &&
               good;
    }
    loop->fluid.mass_fraction = hr_param_number(params, "mass_fraction", 0);
    loop->temperature_c = hr_param_number(params, "temperature", (double)NAN);
    if (good && given) {
        fill_given(params, loop->temperature_c, &loop->fluid);
    }
}

static void read_tubing(struct hr_describer *d, const struct hr_yaml *tubing, struct hr_draft_loop *loop)
{
    char found[64];
    if (tubing == NULL) {
        return;
    }
    loop->no_tubing = hr_yaml_is(tubing, "none");
    if (tubing->kind == HR_YAML_MAP) {
        loop->tubing = tubing;
    } else if (!loop->no_tubing) {
        loop->told_no_tubing = true;
        (void)hr_wrong(d, "wrong-form", &tubing->at,
                       "tubing: found %s; write {bore: 10 mm, length: 150 mm}, or none",
                       hr_yaml_describe(tubing, found, sizeof found));
    }
}

/* A key of a loop, or of the file for all loops. */
static const struct hr_yaml *own_or_common(const struct hr_describer *d, const struct hr_yaml *map,
                                           const char *key)
{
    const struct hr_yaml *own = hr_yaml_get(map, key);
    return own != NULL ? own : hr_yaml_get(d->root, key);
}

static void read_loop(struct hr_describer *d, size_t index, const struct hr_yaml *map)
{
    const struct hr_yaml *route = hr_yaml_get(map, "route");
    struct hr_draft_loop *loop = &d->loop[index];
    loop->map = map;
    read_coolant(d, own_or_common(d, map, "coolant"), &d->loops[index]);
    read_tubing(d, own_or_common(d, map, "tubing"), loop);
    if (route != NULL) {
        loop->route_failed = !hr_route_read(d, index, route);
    }
}

static void check_loop_keys(struct hr_describer *d, const struct hr_yaml *name, const struct hr_yaml *map)
{
    char shown[64];
    char meant[96];
    for (size_t i = 0; i < map->count; i++) {
        const char *nearest = hr_nearest(map->key[i]->text, loop_keys, HR_ARRAY_LEN(loop_keys));
        if (nearest == NULL || strcmp(nearest, map->key[i]->text) != 0) {
            (void)hr_wrong(d, "unknown-key", &map->key[i]->at, "loop '%s' has no key '%s'%s", name->text,
                           hr_shown(map->key[i]->text, shown, sizeof shown),
                           nearest == NULL ? "; its keys are coolant, tubing, route and runs"
                                           : hr_did_you_mean(nearest, meant, sizeof meant));
        }
    }
}

/* `loops:` with names, instead of the top-level keys. */
static void read_named_loops(struct hr_describer *d, const struct hr_yaml *loops)
{
    static const char *const single[] = {"route", "runs"};
    char found[64];
    for (size_t i = 0; i < HR_ARRAY_LEN(single); i++) {
        if (hr_yaml_get(d->root, single[i]) != NULL) {
            const struct hr_origin at = hr_yaml_key_at(d->root, single[i]);
            (void)hr_wrong(d, "two-forms", &at,
                           "with loops, %s belongs into one of them: loops: {NAME: {%s: ...}}", single[i],
                           single[i]);
        }
    }
    for (size_t i = 0; i < loops->count; i++) {
        const struct hr_yaml *map = loops->value[i];
        d->loops[i].name = loops->key[i]->text;
        d->loops[i].at = loops->key[i]->at;
        if (!hr_is_name(loops->key[i]->text)) {
            (void)hr_wrong(d, "no-name", &loops->key[i]->at,
                           "'%s' is not a name; names have letters, digits, '-' and '_' only",
                           hr_shown(loops->key[i]->text, found, sizeof found));
        }
        if (map->kind != HR_YAML_MAP) {
            (void)hr_wrong(d, "wrong-form", hr_yaml_is_null(map) ? &loops->key[i]->at : &map->at,
                           "loop '%s': found %s; write {coolant: ..., tubing: ..., route: [...]}",
                           loops->key[i]->text, hr_yaml_describe(map, found, sizeof found));
            d->loop[i].map = hr_yaml_map_copy(d->reader.arena, NULL, 0, &loops->at);
            continue;
        }
        check_loop_keys(d, loops->key[i], map);
        read_loop(d, i, map);
    }
}

bool hr_loops_read(struct hr_describer *d)
{
    const struct hr_yaml *loops = hr_yaml_get(d->root, "loops");
    char found[64];
    if (loops != NULL && (loops->kind != HR_YAML_MAP || loops->count == 0)) {
        (void)hr_wrong(
            d, "wrong-form", &loops->at, "loops: found %s; write a mapping such as {cpu: {route: [...]}}",
            loops->kind == HR_YAML_MAP ? "an empty mapping" : hr_yaml_describe(loops, found, sizeof found));
        loops = NULL;
    }
    const size_t count = loops == NULL ? 1 : loops->count;
    d->loop = hr_arena_alloc(d->reader.arena, count, sizeof *d->loop);
    d->loops = hr_arena_alloc(d->reader.arena, count, sizeof *d->loops);
    if (d->loop == NULL || d->loops == NULL) {
        return hr_no_memory(d);
    }
    d->out->loops = d->loops;
    d->out->loop_count = count;
    if (loops != NULL) {
        read_named_loops(d, loops);
    } else {
        d->loops[0].at = d->root->at;
        read_loop(d, 0, d->root);
    }
    for (size_t i = 0; i < count; i++) {
        const struct hr_yaml *runs = hr_yaml_get(d->loop[i].map, "runs");
        if (runs != NULL) {
            hr_runs_read(d, i, runs);
        }
    }
    return true;
}
