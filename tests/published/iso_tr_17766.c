/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Centrifugal pumps with viscous liquids: ISO/TR 17766:2005 (and ANSI/HI 9.6.7); affinity laws of fans: AMCA
 * 210, ISO 5801.
 *
 * Equations from memory; the worked example of the report (110 m3/h, 77 m, 2950 rpm, 120 cSt: printed B 5.5,
 * C_Q 0.938, C_eta 0.738) is met, and the formula's own digits to 1e-5. */
#include "hr_test.h"

#include "part/kinds.h"
#include "part/pump.h"

#include <string.h>

START_TEST(worked_example)
{
    const double b = hr_viscosity_parameter(120e-6, 77, 110 / 3600.0, 2950);
    hr_assert_rel(b, 5.52081, 1e-5, "B");
    hr_assert_rel(b, 5.5, 1e-2, "printed B");
    const double flow = hr_viscosity_flow(b);
    hr_assert_rel(flow, 0.937578, 1e-5, "C_Q");
    hr_assert_abs(flow, 0.938, 5e-4, "printed C_Q");
    hr_assert_rel(hr_viscosity_efficiency(b), 0.738007, 1e-5, "C_eta");
    double slope;
    hr_assert_rel(hr_viscosity_head(flow, 0.6, &slope), 0.957445, 1e-5, "C_H at 0.6");
    hr_assert_rel(hr_viscosity_head(flow, 0.8, &slope), 0.947197, 1e-5, "C_H at 0.8");
    hr_assert_rel(hr_viscosity_head(flow, 1.2, &slope), 0.928431, 1e-5, "C_H at 1.2");
    hr_assert_rel(hr_viscosity_head(flow, 1, &slope), flow, 1e-14, "C_H at best efficiency is C_Q");
}
END_TEST

START_TEST(thin_liquids_are_not_corrected)
{
    ck_assert(hr_viscosity_flow(0.7) == 1);
    ck_assert(hr_viscosity_efficiency(1) == 1);
}
END_TEST

START_TEST(head_correction_is_smooth)
{
    double last = INFINITY;
    for (double share = -3; share < 3; share += 1e-3) {
        double slope;
        double unused;
        const double c = hr_viscosity_head(0.8, share, &slope);
        const double after = hr_viscosity_head(0.8, share + 1e-7, &unused);
        const double before = hr_viscosity_head(0.8, share - 1e-7, &unused);
        ck_assert(c < last && c < 1.2 && slope < 0);
        hr_assert_rel(slope, (after - before) / 2e-7, 1e-4, "slope");
        last = c;
    }
}
END_TEST

/* Fan laws: pressure with the square of the speed and with density, flow with the speed: 1200 to 1800 rpm
 * gives 1.5 and 2.25, air of 1.1 instead of 1.2 kg/m3 0.916667. Exact arithmetic. */
START_TEST(fan_laws)
{
    const struct hr_part_kind *kind = &hr_kind_fan;
    const struct hr_key *curve = hr_part_kind_key(kind, "curve");
    struct hr_value in_curve[3];
    size_t found = 0;
    for (size_t i = 0; i < curve->sub->count; i++) {
        static const char *const names[] = {"speed", "shut_off", "free_flow"};
        static const double numbers[] = {1200, 30, 0.03};
        for (size_t j = 0; j < 3; j++) {
            if (strcmp(curve->sub->keys[i].name, names[j]) == 0) {
                in_curve[found++] = (struct hr_value){.key = &curve->sub->keys[i], .number = numbers[j]};
            }
        }
    }
    ck_assert_uint_eq(found, 3);
    struct hr_params map = {.owner = "fan", .value = in_curve, .count = 3};
    struct hr_value values[] = {{.key = curve, .map = &map}};
    const struct hr_params params = {.owner = "fan", .value = values, .count = 1};
    struct hr_arena arena;
    struct hr_report report;
    struct hr_machine_facts facts[3];
    void *part;
    hr_arena_init(&arena);
    hr_report_init(&report);
    ck_assert_int_eq(kind->make(&params, &arena, &part, &report), HR_OK);
    const struct hr_fluid_state air[] = {{.density = 1.2, .viscosity = 1.8e-5},
                                         {.density = 1.1, .viscosity = 1.8e-5}};
    const struct hr_setting settings[] = {{&air[0], 1200}, {&air[0], 1800}, {&air[1], 1200}};
    for (int i = 0; i < 3; i++) {
        kind->machine(part, &settings[i], 0, &facts[i]);
    }
    hr_assert_rel(facts[1].free_flow_m3_s / facts[0].free_flow_m3_s, 1.5, 1e-12, "flow");
    hr_assert_rel(facts[1].shut_off_pa / facts[0].shut_off_pa, 2.25, 1e-12, "pressure");
    hr_assert_rel(facts[2].shut_off_pa / facts[0].shut_off_pa, 0.916667, 1e-6, "density");
    hr_assert_rel(facts[2].free_flow_m3_s / facts[0].free_flow_m3_s, 1, 1e-12, "flow in thin air");
    hr_report_clear(&report);
    hr_arena_clear(&arena);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("iso-tr-17766");
    TCase *all = tcase_create("all");
    tcase_add_test(all, worked_example);
    tcase_add_test(all, thin_liquids_are_not_corrected);
    tcase_add_test(all, head_correction_is_smooth);
    tcase_add_test(all, fan_laws);
    suite_add_tcase(s, all);
    return s;
}

HR_TEST_MAIN(suite)
