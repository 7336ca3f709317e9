/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What holds of every fluid: names, ranges, no NaN, and relations between properties that need no table. */
#include "hr_test.h"

#include "base/memory.h"
#include "fluid/air.h"
#include "fluid/fluid.h"
#include "fluid/water.h"

static const struct hr_fluid fluids[] = {
    {.kind = HR_WATER},
    {.kind = HR_PROPYLENE_GLYCOL, .mass_fraction = 0.27},
    {.kind = HR_PROPYLENE_GLYCOL, .mass_fraction = 0.6},
    {.kind = HR_ETHYLENE_GLYCOL, .mass_fraction = 0},
    {.kind = HR_ETHYLENE_GLYCOL, .mass_fraction = 0.418},
    {.kind = HR_AIR},
    {.kind = HR_AIR, .humidity = 0.45},
    {.kind = HR_GIVEN,
     .given = {.density = 870,
               .viscosity = 3e-3,
               .heat_capacity = 1900,
               .conductivity = 0.13,
               .vapour_pressure = 7}},
};

static bool sound(const struct hr_fluid_state *s)
{
    return isfinite(s->temperature_c) && s->density > 0 && isfinite(s->density) && s->viscosity > 0 &&
           isfinite(s->viscosity) && s->heat_capacity > 0 && isfinite(s->heat_capacity) &&
           s->conductivity > 0 && isfinite(s->conductivity) && s->vapour_pressure >= 0 &&
           isfinite(s->vapour_pressure);
}

START_TEST(name_finds_its_kind)
{
    static const char *const names[] = {"water", "propylene-glycol-water", "ethylene-glycol-water", "air",
                                        "given"};
    for (int k = HR_WATER; k <= HR_GIVEN; k++) {
        enum hr_fluid_kind kind = HR_GIVEN;
        ck_assert_str_eq(hr_fluid_name((enum hr_fluid_kind)k), names[k]);
        ck_assert(hr_fluid_find(names[k], &kind));
        ck_assert_int_eq(kind, k);
    }
    enum hr_fluid_kind kind = HR_AIR;
    ck_assert(!hr_fluid_find("mercury", &kind));
    ck_assert_int_eq(kind, HR_AIR);
}
END_TEST

START_TEST(state_is_sound_whatever_is_asked)
{
    static const double temperatures[] = {-1e300, -273.15, -40, -3.2, 0, 24.7, 100, 100.1, 860.85, 1e300};
    static const double pressures[] = {-1e300, 0, 1e-3, 10e3, 101325, 117.363e6, 1e300};
    for (size_t i = 0; i < HR_ARRAY_LEN(temperatures); i++) {
        for (size_t k = 0; k < HR_ARRAY_LEN(pressures); k++) {
            struct hr_fluid_state s;
            (void)hr_fluid_at(&fluids[_i], temperatures[i], pressures[k], &s);
            ck_assert_msg(sound(&s), "at %g degC and %g Pa", temperatures[i], pressures[k]);
        }
    }
    if (fluids[_i].kind != HR_GIVEN) {
        struct hr_fluid_state s;
        ck_assert(!hr_fluid_at(&fluids[_i], NAN, 101325, &s));
        ck_assert(sound(&s));
        ck_assert(!hr_fluid_at(&fluids[_i], HUGE_VAL, 101325, &s));
        ck_assert(sound(&s));
    }
}
END_TEST

START_TEST(correlation_is_held_at_the_ends_of_its_range)
{
    double lowest = 0;
    double highest = 0;
    hr_fluid_range(&fluids[_i], &lowest, &highest);
    struct hr_fluid_state end;
    struct hr_fluid_state beyond;
    if (fluids[_i].kind == HR_GIVEN) {
        ck_assert(lowest == -HUGE_VAL && highest == HUGE_VAL);
        return;
    }
    ck_assert(lowest < highest);
    /* Moist air: only its water is held, the air around it goes on; and at 100 degC it may be all steam. */
    if (fluids[_i].humidity > 0) {
        ck_assert(hr_fluid_at(&fluids[_i], 0, 101325, &end) &&
                  !hr_fluid_at(&fluids[_i], -7.3, 101325, &beyond));
        ck_assert(beyond.density > end.density);
        return;
    }
    ck_assert(hr_fluid_at(&fluids[_i], lowest, 101325, &end));
    ck_assert(!hr_fluid_at(&fluids[_i], lowest - 7.3, 101325, &beyond));
    hr_assert_abs(beyond.temperature_c, lowest, 0, "temperature held");
    hr_assert_abs(beyond.viscosity, end.viscosity, 0, "viscosity held");
    ck_assert(hr_fluid_at(&fluids[_i], highest, 101325, &end));
    ck_assert(!hr_fluid_at(&fluids[_i], highest + 7.3, 101325, &beyond));
    hr_assert_abs(beyond.temperature_c, highest, 0, "temperature held");
    hr_assert_abs(beyond.density, end.density, 0, "density held");
}
END_TEST

/* Freezing points: the terms of Melinder's coefficients added up in decimal arithmetic, without Horner's
 * rule. */
START_TEST(ranges_are_those_of_the_sources)
{
    static const double ends[HR_ARRAY_LEN(fluids)][2] = {
        {0, 100},         {-10.93355, 100}, {-50.00265, 100}, {0.00029, 100},
        {-25.78247, 100}, {-40, 150},       {0, 100},         {-HUGE_VAL, HUGE_VAL},
    };
    double lowest = NAN;
    double highest = NAN;
    hr_fluid_range(&fluids[_i], &lowest, &highest);
    ck_assert_msg(lowest == ends[_i][0] || fabs(lowest - ends[_i][0]) <= 1e-5, "from %g degC", lowest);
    ck_assert_msg(highest == ends[_i][1], "to %g degC", highest);
}
END_TEST

/* Liquids thin and conduct better as they warm up to 100 degC, gases thicken; nothing jumps. */
START_TEST(properties_run_smoothly_in_temperature)
{
    const struct hr_fluid *fluid = &fluids[_i];
    if (fluid->kind == HR_GIVEN || fluid->humidity > 0) {
        return;
    }
    double lowest = 0;
    double highest = 0;
    hr_fluid_range(fluid, &lowest, &highest);
    struct hr_fluid_state last;
    ck_assert(hr_fluid_at(fluid, lowest, 101325, &last));
    for (double t = lowest + 0.5; t <= highest; t += 0.5) {
        struct hr_fluid_state s;
        ck_assert(hr_fluid_at(fluid, t, 101325, &s));
        ck_assert_msg(fluid->kind == HR_AIR ? s.viscosity > last.viscosity : s.viscosity < last.viscosity,
                      "viscosity at %g degC", t);
        ck_assert_msg(s.density < last.density || (fluid->kind != HR_AIR && t <= 5), "density at %g degC", t);
        hr_assert_rel(s.density, last.density, 4e-3, "density");
        hr_assert_rel(s.viscosity, last.viscosity, 0.1, "viscosity");
        hr_assert_rel(s.heat_capacity, last.heat_capacity, 2e-3, "heat capacity");
        hr_assert_rel(s.conductivity, last.conductivity, 4e-3, "conductivity");
        last = s;
    }
}
END_TEST

/* cp = (dh/dT)_p and (dh/dp)_T = v - T (dv/dT)_p, which are no part of the code: central differences, whose
 * error is below 1e-6 with these steps. */
START_TEST(region_1_obeys_thermodynamics)
{
    static const double kelvin[] = {274.3, 298.1, 341.7, 372.4};
    const double T = kelvin[_i];
    const double p = 0.37e6;
    struct hr_if97 here, warm, cold, high, low;
    hr_if97_region1(T, p, &here);
    hr_if97_region1(T + 0.05, p, &warm);
    hr_if97_region1(T - 0.05, p, &cold);
    hr_if97_region1(T, p + 1e5, &high);
    hr_if97_region1(T, p - 1e5, &low);
    hr_assert_rel((warm.h - cold.h) / 0.1, here.cp, 2e-6, "heat capacity");
    hr_assert_rel((high.h - low.h) / 2e5, here.v - T * (warm.v - cold.v) / 0.1, 2e-6,
                  "enthalpy against pressure");
}
END_TEST

START_TEST(water_is_densest_at_four_degrees)
{
    struct hr_fluid_state below, at, above;
    const struct hr_fluid water = {.kind = HR_WATER};
    ck_assert(hr_fluid_at(&water, 3.0, 101325, &below));
    ck_assert(hr_fluid_at(&water, 3.98, 101325, &at));
    ck_assert(hr_fluid_at(&water, 5.0, 101325, &above));
    ck_assert(at.density > below.density && at.density > above.density);
    hr_assert_abs(at.density, 999.975, 2e-3, "highest density of water");
}
END_TEST

/* Each mixture is fitted on its own; with no glycol in it, it must still be near water: 1 % as fits go. */
START_TEST(mixture_without_glycol_is_nearly_water)
{
    const struct hr_fluid water = {.kind = HR_WATER};
    const struct hr_fluid mixture = {.kind = _i == 0 ? HR_PROPYLENE_GLYCOL : HR_ETHYLENE_GLYCOL};
    for (double t = 5; t < 80; t += 5) {
        struct hr_fluid_state w, m;
        ck_assert(hr_fluid_at(&water, t, 101325, &w) && hr_fluid_at(&mixture, t, 101325, &m));
        hr_assert_rel(m.density, w.density, 1e-3, "density");
        hr_assert_rel(m.heat_capacity, w.heat_capacity, 0.01, "heat capacity");
        hr_assert_rel(m.conductivity, w.conductivity, 0.01, "conductivity");
        hr_assert_rel(m.viscosity, w.viscosity, 0.03, "viscosity");
    }
    hr_assert_abs(hr_fluid_freezing_c(&mixture), 0, 0.05, "freezing point");
}
END_TEST

START_TEST(too_much_glycol_or_humidity_is_held)
{
    struct hr_fluid mixture = {.kind = HR_PROPYLENE_GLYCOL, .mass_fraction = 0.6};
    struct hr_fluid_state most, more;
    ck_assert(hr_fluid_at(&mixture, 20, 101325, &most));
    mixture.mass_fraction = 0.73;
    ck_assert(!hr_fluid_at(&mixture, 20, 101325, &more));
    hr_assert_abs(more.viscosity, most.viscosity, 0, "viscosity");
    hr_assert_abs(hr_fluid_freezing_c(&mixture), -50.00265, 1e-5, "freezing point at 60 %");
    struct hr_fluid air = {.kind = HR_AIR, .humidity = 1};
    ck_assert(hr_fluid_at(&air, 20, 101325, &most));
    air.humidity = 1.4;
    ck_assert(!hr_fluid_at(&air, 20, 101325, &more));
    hr_assert_abs(more.density, most.density, 0, "density");
}
END_TEST

START_TEST(given_fluid_is_what_was_given)
{
    const struct hr_fluid *given = &fluids[HR_ARRAY_LEN(fluids) - 1];
    struct hr_fluid_state s;
    ck_assert(hr_fluid_at(given, 37.3, 101325, &s));
    hr_assert_abs(s.temperature_c, 37.3, 0, "temperature");
    hr_assert_abs(s.density, 870, 0, "density");
    hr_assert_abs(s.viscosity, 3e-3, 0, "viscosity");
    hr_assert_abs(s.vapour_pressure, 7, 0, "vapour pressure");
    ck_assert(isnan(hr_fluid_freezing_c(given)));
}
END_TEST

/* A little vapour changes a little: the dry limit; and steam alone is the other one. */
START_TEST(moist_air_goes_over_into_dry_air_and_into_steam)
{
    struct hr_fluid_state dry, nearly, steam;
    hr_air_state(0, 60, 101325, &dry);
    hr_air_state(1e-3, 60, 101325, &nearly);
    hr_assert_rel(nearly.density, dry.density, 1e-7, "density");
    hr_assert_rel(nearly.viscosity, dry.viscosity, 1e-7, "viscosity");
    hr_assert_rel(nearly.conductivity, dry.conductivity, 1e-7, "conductivity");
    hr_assert_rel(nearly.heat_capacity, dry.heat_capacity, 1e-7, "heat capacity");
    hr_air_state(19e3, 60, 19e3, &steam);
    hr_assert_rel(steam.viscosity, hr_water_viscosity(333.15, 0), 1e-12, "viscosity of steam");
    hr_assert_rel(steam.conductivity, hr_water_conductivity(333.15, 0), 1e-12, "conductivity of steam");
    hr_assert_rel(steam.heat_capacity, hr_if97_vapour_heat_capacity(333.15), 1e-12, "heat capacity of steam");
    hr_assert_rel(steam.density, 19e3 / (461.526 * 333.15), 1e-4, "density of steam");
}
END_TEST

/* Wilke 1950, equations 13 and 14, written out for two components at 50 degC and x = 0.1. */
START_TEST(transport_of_the_mixture_follows_wilke)
{
    struct hr_fluid_state dry, moist;
    hr_air_state(0, 50, 0.9 * 101325, &dry);
    hr_air_state(0.1 * 101325, 50, 101325, &moist);
    const double M[2] = {HR_AIR_MOLAR_MASS, HR_WATER_MOLAR_MASS};
    const double x[2] = {0.9, 0.1};
    const double mu[2] = {dry.viscosity, hr_water_viscosity(323.15, 0)};
    double sum = 0;
    for (int i = 0; i < 2; i++) {
        double below = 0;
        for (int j = 0; j < 2; j++) {
            const double root = 1 + pow(mu[i] / mu[j], 0.5) * pow(M[j] / M[i], 0.25);
            below += x[j] * root * root / (sqrt(8) * sqrt(1 + M[i] / M[j]));
        }
        sum += x[i] * mu[i] / below;
    }
    hr_assert_rel(moist.viscosity, sum, 1e-12, "viscosity");
    ck_assert(moist.viscosity < dry.viscosity && moist.viscosity > mu[1]);
}
END_TEST

START_TEST(warmed_air_keeps_its_water)
{
    const double warm = hr_air_humidity(0.55, 23, 38);
    hr_assert_rel(hr_air_humidity_ratio(warm, 38, 101325), hr_air_humidity_ratio(0.55, 23, 101325), 1e-12,
                  "water kept");
    hr_assert_abs(hr_air_humidity(0.55, 23, 23), 0.55, 1e-15, "same temperature");
    hr_assert_abs(hr_air_humidity(0.9, 30, 10), 1, 0, "dew falls");
}
END_TEST

START_TEST(saturation_pressure_is_held_at_its_ends)
{
    hr_assert_rel(hr_water_saturation_pressure(-20), 611.213, 1e-6, "below freezing");
    hr_assert_rel(hr_water_saturation_pressure(900), 22.064e6, 1e-6, "above the critical point");
    hr_assert_rel(hr_water_saturation_pressure(NAN), 611.213, 1e-6, "not a number");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("fluid");
    TCase *every = tcase_create("every fluid");
    tcase_add_test(every, name_finds_its_kind);
    tcase_add_loop_test(every, state_is_sound_whatever_is_asked, 0, HR_ARRAY_LEN(fluids));
    tcase_add_loop_test(every, correlation_is_held_at_the_ends_of_its_range, 0, HR_ARRAY_LEN(fluids));
    tcase_add_loop_test(every, ranges_are_those_of_the_sources, 0, HR_ARRAY_LEN(fluids));
    tcase_add_loop_test(every, properties_run_smoothly_in_temperature, 0, HR_ARRAY_LEN(fluids));
    suite_add_tcase(s, every);
    TCase *each = tcase_create("one fluid");
    tcase_add_loop_test(each, region_1_obeys_thermodynamics, 0, 4);
    tcase_add_test(each, water_is_densest_at_four_degrees);
    tcase_add_loop_test(each, mixture_without_glycol_is_nearly_water, 0, 2);
    tcase_add_test(each, too_much_glycol_or_humidity_is_held);
    tcase_add_test(each, given_fluid_is_what_was_given);
    tcase_add_test(each, moist_air_goes_over_into_dry_air_and_into_steam);
    tcase_add_test(each, transport_of_the_mixture_follows_wilke);
    tcase_add_test(each, warmed_air_keeps_its_water);
    tcase_add_test(each, saturation_pressure_is_held_at_its_ends);
    suite_add_tcase(s, each);
    return s;
}

HR_TEST_MAIN(suite)
