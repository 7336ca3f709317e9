/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pressure drop per metre of smooth soft tube with water and with 30 % propylene glycol at 30 degC.
 *
 * Not a printed source: computed from Churchill 1977 (smooth) with an independent library
 * (python3-fluids 1.0.22) and the fluid properties below. Tolerance 1e-4 relative, from the digits kept. */
#include "hr_test.h"

#include "part/kinds.h"

static const struct hr_fluid_state water = {.density = 995.6515, .viscosity = 797.222e-6};
static const struct hr_fluid_state glycol = {.density = 1018.89, .viscosity = 2.1041e-3};

static const struct {
    double bore_mm, flow_l_min, re_water, water_pa_m, re_glycol, glycol_pa_m;
} table[] = {
    {8, 0.5, 1656.41, 66.084, 642.24, 174.416},     {8, 1, 3312.81, 293.128, 1284.49, 348.831},
    {8, 2, 6625.63, 953.378, 2568.97, 1030.557},    {8, 4, 13251.25, 3145.092, 5137.95, 4209.094},
    {8, 6, 19876.88, 6373.160, 7706.92, 8405.710},  {8, 10, 33128.13, 15630.410, 12844.87, 20282.715},
    {10, 0.5, 1325.13, 27.068, 513.79, 71.441},     {10, 1, 2650.25, 86.596, 1027.59, 142.881},
    {10, 2, 5300.50, 333.786, 2055.18, 286.779},    {10, 4, 10601.00, 1094.350, 4110.36, 1477.302},
    {10, 6, 15901.50, 2210.696, 6165.54, 2938.649}, {10, 10, 26502.51, 5402.961, 10275.90, 7059.249},
    {12.7, 0.5, 1043.41, 10.405, 404.56, 27.462},   {12.7, 1, 2086.81, 20.936, 809.13, 54.924},
    {12.7, 2, 4173.62, 108.719, 1618.25, 109.848},  {12.7, 4, 8347.25, 353.966, 3236.50, 478.049},
    {12.7, 6, 12520.87, 712.521, 4854.76, 955.644}, {12.7, 10, 20868.12, 1734.538, 8091.26, 2283.962},
};

START_TEST(drop_per_metre)
{
    const struct hr_key *bore = hr_part_kind_key(&hr_kind_tube, "bore");
    const struct hr_key *length = hr_part_kind_key(&hr_kind_tube, "length");
    const struct hr_key *entrance = hr_part_kind_key(&hr_kind_tube, "entrance");
    struct hr_value values[] = {{.key = bore, .number = table[_i].bore_mm * 1e-3},
                                {.key = length, .number = 1},
                                {.key = entrance, .text = "developed"}};
    const struct hr_params params = {.owner = "tube", .value = values, .count = 3};
    struct hr_arena arena;
    struct hr_report report;
    void *part;
    hr_arena_init(&arena);
    hr_report_init(&report);
    ck_assert_int_eq(hr_kind_tube.make(&params, &arena, &part, &report), HR_OK);
    for (int i = 0; i < 2; i++) {
        const struct hr_setting setting = {.fluid = i == 0 ? &water : &glycol, .speed_rpm = NAN};
        struct hr_part_branch branch;
        struct hr_part_facts facts;
        double drop;
        double slope;
        hr_kind_tube.bind(part, &setting, &branch);
        hr_law_evaluate(&branch.law[0], table[_i].flow_l_min / 6e4, &drop, &slope);
        hr_kind_tube.facts(part, &setting, table[_i].flow_l_min / 6e4, &facts);
        hr_assert_rel(drop, i == 0 ? table[_i].water_pa_m : table[_i].glycol_pa_m, 1e-4, "drop of a metre");
        hr_assert_rel(facts.reynolds, i == 0 ? table[_i].re_water : table[_i].re_glycol, 1e-4,
                      "Reynolds number");
    }
    hr_report_clear(&report);
    hr_arena_clear(&arena);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("smooth-tube");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, drop_per_metre, 0, HR_ARRAY_LEN(table));
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
