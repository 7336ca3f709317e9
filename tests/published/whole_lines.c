/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole lines from textbooks: Y. A. Cengel and J. M. Cimbala, Fluid Mechanics, 1st ed., example 8-8; Crane
 * TP-410M example 7.1; two series lines of a sheet of board examination problems. Data and printed answers
 * from companion notebooks and sheets; "exact" is the root of the stated law, found independently.
 * Tolerances: exact 1e-5, from the digits kept; printed as noted. */
#include "hr_test.h"

#include "part/kinds.h"
#include "part_drop.h"

static const double PI = 3.14159265358979323846;

struct tube {
    double bore, length, roughness, zeta, factor;
};

/* Loss of a tube in Pa; a friction factor of 0 means Colebrook. */
static double loss(const struct tube *tube, const struct hr_fluid_state *fluid, double flow)
{
    const struct hr_part_kind *kind = &hr_kind_tube;
    struct hr_value values[] = {{.key = hr_part_kind_key(kind, "bore"), .number = tube->bore},
                                {.key = hr_part_kind_key(kind, "length"), .number = tube->length},
                                {.key = hr_part_kind_key(kind, "roughness"), .number = tube->roughness},
                                {.key = hr_part_kind_key(kind, "zeta"), .number = tube->zeta},
                                {.key = hr_part_kind_key(kind, "entrance"), .text = "developed"},
                                {.key = hr_part_kind_key(kind, "friction"), .text = "colebrook"}};
    if (tube->factor > 0) {
        values[5] =
            (struct hr_value){.key = hr_part_kind_key(kind, "friction_factor"), .number = tube->factor};
    }
    const struct hr_params params = {.owner = "tube", .value = values, .count = 6};
    return part_drop(kind, &params, fluid, flow);
}

START_TEST(cengel_8_8_gravity_line)
{
    const struct hr_fluid_state water = {.density = 999.7, .viscosity = 1.307e-3};
    const struct tube tube = {0.05, 89, 2.6e-4, 0.5 + 2 * 0.3 + 0.2 + 1.06, 0};
    const double height = 4 + loss(&tube, &water, 6e-3) / (water.density * 9.81);
    hr_assert_rel(height, 31.8246, 1e-5, "exact");
    hr_assert_rel(height, 31.9, 3e-3, "printed");
}
END_TEST

START_TEST(crane_7_1_smooth_pipe)
{
    /* Water of 30 degC at 200 L/min in 52.48 mm, Re 101 023; printed f 0.0179, read from a chart: 1.5 %. */
    const struct tube tube = {0.05248, 1, 0, 0, 0};
    const double flow = 200 / 6e4;
    const double speed = flow / (PI / 4 * 0.05248 * 0.05248);
    const struct hr_fluid_state water = {.density = 995.65, .viscosity = 995.65 * speed * 0.05248 / 101023};
    hr_assert_rel(loss(&tube, &water, flow) / (water.density / 2 * speed * speed / 0.05248), 0.0179, 1.5e-2,
                  "f");
}
END_TEST

START_TEST(two_pipes_in_series)
{
    const struct hr_fluid_state water = {.density = 1000, .viscosity = 1e-3};
    const struct tube tubes[] = {{0.2, 200, 0, 0, 0.02}, {0.15, 150, 0, 0, 0.02}};
    const double head = (loss(&tubes[0], &water, 0.05) + loss(&tubes[1], &water, 0.05)) / 9810;
    hr_assert_rel(head, 10.7428, 1e-5, "exact");
    hr_assert_rel(head, 10.70, 5e-3, "printed");
}
END_TEST

START_TEST(three_pipes_in_series)
{
    const struct hr_fluid_state water = {.density = 1000, .viscosity = 1e-3};
    const struct tube tubes[] = {
        {0.30, 500, 0, 0, 0.020}, {0.25, 400, 0, 0, 0.022}, {0.20, 300, 0, 0, 0.018}};
    double head = 0;
    for (int i = 0; i < 3; i++) {
        head += loss(&tubes[i], &water, 0.1) / 9810;
    }
    const double flow = 0.1 * sqrt(25 / head);
    hr_assert_rel(flow, 0.100424, 1e-5, "exact");
    hr_assert_rel(flow, 0.100, 5e-3, "printed");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("whole-lines");
    TCase *lines = tcase_create("lines");
    tcase_add_test(lines, cengel_8_8_gravity_line);
    tcase_add_test(lines, crane_7_1_smooth_pipe);
    tcase_add_test(lines, two_pipes_in_series);
    tcase_add_test(lines, three_pipes_in_series);
    suite_add_tcase(s, lines);
    return s;
}

HR_TEST_MAIN(suite)
