/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Crane Co., Flow of Fluids Through Valves, Fittings and Pipe, TP-410, 2009: sudden changes of bore, tees
 * (chapter 2, with the publisher's errata), examples 7.33 and 7.35; Borda and Carnot for the widening.
 *
 * Tee values computed with an independent library (python3-fluids 1.0.22) to six decimals: 1e-5. Example 7.35
 * was read in a notebook that reworks Crane's examples and states that the printed answers match very nearly
 * exactly. */
#include "hr_test.h"

#include "part/kinds.h"

static const double PI = 3.14159265358979323846;
static const struct hr_fluid_state water = {.density = 999.1, .viscosity = 1.138e-3};
static const struct hr_setting setting = {.fluid = &water, .speed_rpm = NAN};

static const struct {
    double beta, widening, narrowing;
} changes[] = {{0.3, 0.828100, 0.455000}, {0.7, 0.260100, 0.255000}};

START_TEST(sudden_change_of_bore)
{
    const double small = 0.010 * changes[_i].beta;
    const double speed = 1e-4 / (PI / 4 * small * small);
    const double head = water.density / 2 * speed * speed;
    const struct hr_law law = hr_law_bore_change(small, 0.010, water.density);
    double drop;
    double slope;
    hr_law_evaluate(&law, 1e-4, &drop, &slope);
    hr_assert_rel(drop / head, changes[_i].widening, 1e-9, "widening");
    hr_law_evaluate(&law, -1e-4, &drop, &slope);
    hr_assert_rel(-drop / head, changes[_i].narrowing, 1e-9, "narrowing");
}
END_TEST

enum { A, B, SIDE };

/* Drops of a tee in velocity heads of the combined flow. */
static void tee_heads(const struct hr_part_kind *kind, double bore, double angle, double combined,
                      const double flow[], double k[])
{
    struct hr_value values[] = {{.key = hr_part_kind_key(kind, "bore"), .number = bore},
                                {.key = hr_part_kind_key(kind, "angle"), .number = angle}};
    const struct hr_params params = {.owner = "tee", .value = values, .count = 2};
    struct hr_arena arena;
    struct hr_report report;
    void *part;
    hr_arena_init(&arena);
    hr_report_init(&report);
    ck_assert_int_eq(kind->make(&params, &arena, &part, &report), HR_OK);
    kind->split(part, &setting, flow, k);
    const double speed = combined / (PI / 4 * bore * bore);
    for (int i = 0; i < 3; i++) {
        k[i] /= water.density / 2 * speed * speed;
    }
    hr_report_clear(&report);
    hr_arena_clear(&arena);
}

static const struct {
    double share, side_converging, run_converging, side_dividing, run_dividing;
} tees[] = {{0.1, -0.494100, 0.145000, 1.006009, -0.016000},
            {0.25, -0.042188, 0.325000, 1.037852, -0.062500},
            {0.5, 0.412500, 0.525000, 1.155625, 0.000000},
            {0.9, 0.984500, 0.585000, 1.545049, 0.194400}};

START_TEST(tee_converging_and_dividing)
{
    const double y = tees[_i].share;
    double k[3];
    for (int turned = 0; turned < 2; turned++) {
        const int from = turned ? B : A;
        double flow[3] = {0, 0, 1e-4 * y};
        flow[from] = 1e-4 * (1 - y);
        flow[A + B - from] = -1e-4;
        tee_heads(&hr_kind_tee, 0.010, 90, 1e-4, flow, k);
        hr_assert_abs(k[SIDE], tees[_i].side_converging, 1e-5, "side, converging");
        hr_assert_abs(k[from], tees[_i].run_converging, 1e-5, "run, converging");
        ck_assert(k[A + B - from] == 0);
        for (int i = 0; i < 3; i++) {
            flow[i] = -flow[i];
        }
        tee_heads(&hr_kind_tee, 0.010, 90, 1e-4, flow, k);
        hr_assert_abs(-k[SIDE], tees[_i].side_dividing, 1e-5, "side, dividing");
        hr_assert_abs(-k[from], tees[_i].run_dividing, 1e-5, "run, dividing");
    }
}
END_TEST

START_TEST(example_7_35)
{
    /* A 4 inch schedule 40 tee, 300 gpm straight and 100 gpm from the side. */
    const double gpm = 6.30901964e-5;
    double k[3];
    tee_heads(&hr_kind_tee, 0.10226, 90, 400 * gpm, (const double[]){300 * gpm, -400 * gpm, 100 * gpm}, k);
    hr_assert_abs(k[SIDE], -0.0421875, 1e-4, "side");
    hr_assert_abs(k[A], 0.325, 1e-4, "run");
    /* Heads with the velocity of 10.08 ft/s: -0.0666 ft and 0.513 ft as printed. */
    const double feet = pow(10.08, 2) / (2 * 32.174);
    hr_assert_abs(k[SIDE] * feet, -0.0666, 5e-5, "head of the side");
    hr_assert_abs(k[A] * feet, 0.513, 5e-4, "head of the run");
}
END_TEST

START_TEST(example_7_36)
{
    /* A 6 inch schedule 80 y of 45 degrees: 1515 L/min straight on, 950 L/min to the side; printed 0.4640 and
     * -0.06809, from flows rounded to four digits. */
    double k[3];
    tee_heads(&hr_kind_y, 0.146, 45, 0.02525 + 0.01583,
              (const double[]){0.02525 + 0.01583, -0.02525, -0.01583}, k);
    hr_assert_rel(-k[SIDE], 0.4640, 1e-3, "side");
    hr_assert_rel(-k[B], -0.06809, 1e-3, "run");
}
END_TEST

/* Example 7.33: 400 gpm and 126 ft at 3500 rpm become 194.286 gpm and 29.7257 ft at 1700 rpm; 17.5 hp
 * become 2.00531 hp with the cube of the speed. Exact arithmetic. */
START_TEST(example_7_33)
{
    const double gpm = 6.30901964e-5;
    const double foot = 0.3048;
    const struct hr_part_kind *kind = &hr_kind_pump;
    const struct hr_key *curve = hr_part_kind_key(kind, "curve");
    const struct hr_key *sub = curve->sub->keys;
    const struct hr_key *points = NULL;
    const struct hr_key *speed = NULL;
    for (size_t i = 0; i < curve->sub->count; i++) {
        points = sub[i].form == HR_FORM_ROWS ? &sub[i] : points;
        speed = sub[i].quantity == HR_SPEED && sub[i].form == HR_FORM_QUANTITY ? &sub[i] : speed;
    }
    ck_assert(points != NULL && speed != NULL);
    double rows[] = {0, 160 * foot, 400 * gpm, 126 * foot, 600 * gpm, 80 * foot};
    struct hr_value in_curve[] = {{.key = speed, .number = 3500},
                                  {.key = points, .rows = rows, .row_count = 3, .column_count = 2}};
    in_curve[1].column_meaning[1] = HR_METRES;
    struct hr_params map = {.owner = "pump", .value = in_curve, .count = 2};
    struct hr_value values[] = {{.key = curve, .map = &map},
                                {.key = hr_part_kind_key(kind, "power"), .number = 17.5},
                                {.key = hr_part_kind_key(kind, "power_exponent"), .number = 3}};
    const struct hr_params params = {.owner = "pump", .value = values, .count = 3};
    struct hr_arena arena;
    struct hr_report report;
    struct hr_part_branch branch;
    struct hr_machine_facts facts;
    void *part;
    double drop;
    double slope;
    hr_arena_init(&arena);
    hr_report_init(&report);
    ck_assert_int_eq(kind->make(&params, &arena, &part, &report), HR_OK);
    const struct hr_setting slow = {.fluid = &water, .speed_rpm = 1700};
    kind->bind(part, &slow, &branch);
    hr_law_evaluate(&branch.law[0], 400 * 1700.0 / 3500 * gpm, &drop, &slope);
    hr_assert_rel(400 * 1700.0 / 3500, 194.286, 2e-6, "flow");
    hr_assert_rel(-drop / (water.density * 9.80665 * foot), 29.7257, 2e-6, "head");
    kind->machine(part, &slow, 0, &facts);
    hr_assert_rel(facts.power_w, 2.00531, 2e-6, "power");
    hr_report_clear(&report);
    hr_arena_clear(&arena);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("crane-tp410");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, sudden_change_of_bore, 0, HR_ARRAY_LEN(changes));
    tcase_add_loop_test(tables, tee_converging_and_dividing, 0, HR_ARRAY_LEN(tees));
    tcase_add_test(tables, example_7_33);
    tcase_add_test(tables, example_7_35);
    tcase_add_test(tables, example_7_36);
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
