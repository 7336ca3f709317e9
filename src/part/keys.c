/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of any part, and the generic forms of a pressure drop. */
#include "part/keys.h"

static const char *const orientations[] = {"upright", "flat", "on-edge", "upside-down", NULL};
static const char *const port_sides[] = {"up", "down", "side", NULL};
static const char *const metals[] = {
    "copper", "brass", "nickel", "stainless-steel", "aluminium", "titanium", "acetal", "acrylic",
    "PETG",   "EPDM",  "PVC",    "glass",           "silicone",  NULL};
static const char *const fluids[] = {"water", "propylene-glycol-water", "ethylene-glycol-water", "air", NULL};

static const struct hr_key limit_keys[] = {
    {.name = "coolant",
     .quantity = HR_LIMIT_TEMPERATURE,
     .help = "highest coolant temperature the part stands"},
    {.name = "chip", .quantity = HR_LIMIT_TEMPERATURE, .help = "highest chip temperature"},
    {.name = "pressure", .quantity = HR_PRESSURE, .min = 0, .max = 1e8, .help = "highest gauge pressure"},
    {.name = "flow_min", .quantity = HR_FLOW, .min = 0, .max = 1e3, .help = "least flow wanted"},
    {.name = "flow_max", .quantity = HR_FLOW, .min = 0, .max = 1e3, .help = "largest flow allowed"},
    {.name = "air", .quantity = HR_LIMIT_TEMPERATURE, .help = "highest air temperature the part stands"},
};
static const struct hr_key_group limit_group = HR_KEYS(limit_keys);

static const struct hr_key any_keys[] = {
    {.name = "kind", .form = HR_FORM_TEXT, .help = "what the part is; `headrace parts` lists the kinds"},
    {.name = "model", .form = HR_FORM_TEXT, .help = "a part of the library, or a file relative to this one"},
    {.name = "summary", .form = HR_FORM_TEXT, .help = "one line about the part"},
    {.name = "source", .form = HR_FORM_TEXT, .help = "where the numbers come from"},
    {.name = "note", .form = HR_FORM_TEXT, .help = "a remark"},
    {.name = "price", .quantity = HR_NUMBER, .min = 0, .max = 1e9, .help = "in any one currency"},
    {.name = "space", .quantity = HR_VOLUME, .min = 0, .max = 1e3, .help = "room it takes"},
    {.name = "mass",
     .quantity = HR_MASS,
     .min = 0,
     .max = 1e6,
     .help = "dry mass that warms with the coolant"},
    {.name = "specific_heat",
     .quantity = HR_HEAT_CAPACITY,
     .min = 50,
     .max = 1e4,
     .help = "of the dry mass; copper 385 J/kgK"},
    {.name = "limits", .form = HR_FORM_MAP, .sub = &limit_group, .help = "what the part stands or needs"},
    {.name = "zone",
     .form = HR_FORM_NAME,
     .help = "the air zone the part stands in and gives its other heat to"},
    {.name = "orientation",
     .form = HR_FORM_CHOICE,
     .choices = orientations,
     .help = "how the part is mounted"},
};
const struct hr_key_group hr_keys_any = HR_KEYS(any_keys);

static const struct hr_key coolant_keys[] = {
    {.name = "in_series",
     .form = HR_FORM_COUNT,
     .min = 1,
     .max = 10000,
     .instead = "number",
     .help = "so many equal ones one after the other"},
    {.name = "in_parallel",
     .form = HR_FORM_COUNT,
     .min = 1,
     .max = 10000,
     .instead = "number",
     .help = "so many equal ones side by side"},
    {.name = "volume", .quantity = HR_VOLUME, .min = 0, .max = 1e3, .help = "coolant that one of them holds"},
    {.name = "wetted", .form = HR_FORM_NAMES, .choices = metals, .help = "materials the coolant touches"},
    {.name = "ports_at", .form = HR_FORM_CHOICE, .choices = port_sides, .help = "where the ports point"},
};
const struct hr_key_group hr_keys_coolant = HR_KEYS(coolant_keys);

static const struct hr_key law_keys[] = {
    {.name = "r", .quantity = HR_NUMBER, .help = "r of dp = r |q|^(n-1) q, SI"},
    {.name = "n", .quantity = HR_NUMBER, .min = 1, .max = 4, .help = "n of dp = r |q|^(n-1) q"},
    {.name = "linear", .quantity = HR_NUMBER, .help = "of dp = linear q + square |q| q, Pa s/m3"},
    {.name = "square", .quantity = HR_NUMBER, .help = "of dp = linear q + square |q| q, Pa s2/m6"},
    {.name = "dp", .quantity = HR_PRESSURE, .min = 0, .max = 1e9, .help = "pressure drop at the flow `at`"},
    {.name = "at", .quantity = HR_FLOW, .min = 1e-12, .max = 1e3, .help = "flow at which it drops `dp`"},
    {.name = "exponent",
     .quantity = HR_NUMBER,
     .min = 1,
     .max = 4,
     .help = "dp grows with this power of the flow"},
};
static const struct hr_key_group law_group = HR_KEYS(law_keys);

static const struct hr_key measured_keys[] = {
    {.name = "fluid",
     .form = HR_FORM_CHOICE,
     .choices = fluids,
     .required = true,
     .help = "fluid of the measurement"},
    {.name = "mass_fraction", .quantity = HR_SHARE, .min = 0, .max = 0.6, .help = "glycol in the mixture"},
    {.name = "temperature",
     .quantity = HR_TEMPERATURE,
     .required = true,
     .help = "temperature of the measurement"},
};
static const struct hr_key_group measured_group = HR_KEYS(measured_keys);

static const struct hr_key range_keys[] = {
    {.name = "flow_min", .quantity = HR_FLOW, .min = 0, .max = 1e3, .help = "least flow the data hold for"},
    {.name = "flow_max", .quantity = HR_FLOW, .min = 0, .max = 1e3, .help = "largest flow the data hold for"},
    {.name = "temperature_min", .quantity = HR_TEMPERATURE, .help = "lowest temperature the data hold for"},
    {.name = "temperature_max", .quantity = HR_TEMPERATURE, .help = "highest temperature the data hold for"},
};
static const struct hr_key_group range_group = HR_KEYS(range_keys);

#define BORE_MIN 1e-5
#define BORE_MAX 20

static const struct hr_key hydraulic_keys[] = {
    {.name = "points",
     .form = HR_FORM_ROWS,
     .columns = {HR_FLOW, HR_PRESSURE},
     .column_count = 2,
     .instead = "pressure drop",
     .help = "measured: [[1 L/min, 4 kPa], …]"},
    {.name = "law",
     .form = HR_FORM_MAP,
     .sub = &law_group,
     .instead = "pressure drop",
     .help = "{r, n}, {linear, square} in SI, or {dp: 60 mbar, at: 1 gpm, exponent: 1.8}"},
    {.name = "zeta",
     .quantity = HR_NUMBER,
     .min = 0,
     .max = 1e9,
     .instead = "pressure drop",
     .help = "loss in velocity heads of the bore"},
    {.name = "flow_coefficient",
     .quantity = HR_FLOW_COEFFICIENT,
     .min = 1e-15,
     .max = 1e3,
     .instead = "pressure drop",
     .help = "1.2 Cv or 1 Kv"},
    {.name = "bore",
     .quantity = HR_LENGTH,
     .min = BORE_MIN,
     .max = BORE_MAX,
     .help = "inner diameter at the ports"},
    {.name = "measured_with",
     .form = HR_FORM_MAP,
     .sub = &measured_group,
     .help = "fluid of the measurement; without it the data hold for the fluid at hand"},
    {.name = "range", .form = HR_FORM_MAP, .sub = &range_group, .help = "where the data hold"},
};
const struct hr_key_group hr_keys_hydraulic = HR_KEYS(hydraulic_keys);

static const struct hr_key air_law_keys[] = {
    {.name = "r", .quantity = HR_NUMBER, .help = "r of dp = r |q|^(n-1) q, SI"},
    {.name = "n", .quantity = HR_NUMBER, .min = 1, .max = 4, .help = "n of dp = r |q|^(n-1) q"},
    {.name = "linear", .quantity = HR_NUMBER, .help = "of dp = linear q + square |q| q, Pa s/m3"},
    {.name = "square", .quantity = HR_NUMBER, .help = "of dp = linear q + square |q| q, Pa s2/m6"},
    {.name = "dp", .quantity = HR_PRESSURE, .min = 0, .max = 1e9, .help = "pressure drop at the flow `at`"},
    {.name = "at", .quantity = HR_AIR_FLOW, .min = 1e-12, .max = 1e3, .help = "flow at which it drops `dp`"},
    {.name = "exponent",
     .quantity = HR_NUMBER,
     .min = 1,
     .max = 4,
     .help = "dp grows with this power of the flow"},
};
static const struct hr_key_group air_law_group = HR_KEYS(air_law_keys);

static const struct hr_key air_range_keys[] = {
    {.name = "flow_min",
     .quantity = HR_AIR_FLOW,
     .min = 0,
     .max = 1e3,
     .help = "least flow the data hold for"},
    {.name = "flow_max",
     .quantity = HR_AIR_FLOW,
     .min = 0,
     .max = 1e3,
     .help = "largest flow the data hold for"},
};
static const struct hr_key_group air_range_group = HR_KEYS(air_range_keys);

static const struct hr_key air_hydraulic_keys[] = {
    {.name = "points",
     .form = HR_FORM_ROWS,
     .columns = {HR_AIR_FLOW, HR_PRESSURE},
     .column_count = 2,
     .instead = "pressure drop",
     .help = "measured: [[60 m3/h, 8 Pa], …]"},
    {.name = "law",
     .form = HR_FORM_MAP,
     .sub = &air_law_group,
     .instead = "pressure drop",
     .help = "{r, n}, {linear, square} in SI, or {dp: 8 Pa, at: 60 m3/h, exponent: 1.6}"},
    {.name = "zeta",
     .quantity = HR_NUMBER,
     .min = 0,
     .max = 1e9,
     .instead = "pressure drop",
     .help = "loss in velocity heads of the whole area"},
    {.name = "area",
     .quantity = HR_AREA,
     .min = 1e-9,
     .max = 1e4,
     .help = "area of the passage, its bars included"},
    {.name = "measured_with",
     .form = HR_FORM_MAP,
     .sub = &measured_group,
     .help = "air of the measurement; without it standard air of 1.2 kg/m3"},
    {.name = "range", .form = HR_FORM_MAP, .sub = &air_range_group, .help = "where the data hold"},
};
const struct hr_key_group hr_keys_air_hydraulic = HR_KEYS(air_hydraulic_keys);
