/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints values of laws for oracle_fluids.py: reads lines "LAW numbers…" and answers each with one number. */
#include "part/friction.h"
#include "part/kinds.h"
#include "part/orifice.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static double friction(enum hr_friction law, const double x[])
{
    double value;
    double slope;
    hr_friction_straight(law, x[0], x[1], &value, &slope);
    return value / (x[0] * x[0]);
}

static double curved(const double x[])
{
    double value;
    double slope;
    hr_friction_curved(x[0], x[1], &value, &slope);
    return value / (x[0] * x[0]);
}

static double orifice(enum hr_taps taps, const double x[])
{
    double slope;
    return hr_orifice_coefficient(taps, x[1], x[2], x[0], &slope);
}

/* K of a part of one branch in velocity heads of its bore, in water-like fluid. */
static double heads(const struct hr_part_kind *kind, struct hr_value values[], size_t count, double bore,
                    double re)
{
    const double pi = 3.14159265358979323846;
    const struct hr_fluid_state fluid = {.density = 1000, .viscosity = 1e-3};
    const struct hr_setting setting = {.fluid = &fluid, .speed_rpm = NAN};
    const struct hr_params params = {.owner = "part", .value = values, .count = count};
    const double speed = re * fluid.viscosity / (fluid.density * bore);
    struct hr_arena arena;
    struct hr_report report;
    void *part;
    double drop = NAN;
    double slope;
    hr_arena_init(&arena);
    hr_report_init(&report);
    if (kind->make(&params, &arena, &part, &report) == HR_OK) {
        struct hr_part_branch branch;
        kind->bind(part, &setting, &branch);
        hr_law_evaluate(&branch.law[0], speed * pi / 4 * bore * bore, &drop, &slope);
    }
    hr_report_clear(&report);
    hr_arena_clear(&arena);
    return drop / (fluid.density / 2 * speed * speed);
}

/* re, bore, radius over bore, angle. */
static double bend(const double x[])
{
    struct hr_value values[] = {{.key = hr_part_kind_key(&hr_kind_bend, "bore"), .number = x[1]},
                                {.key = hr_part_kind_key(&hr_kind_bend, "radius"), .number = x[1] * x[2]},
                                {.key = hr_part_kind_key(&hr_kind_bend, "angle"), .number = x[3]}};
    return heads(&hr_kind_bend, values, 3, x[1], x[0]);
}

/* Side's share, side bore over run bore, angle; then the leg: 0 side, 1 run. Negative share: dividing. */
static double tee(const double x[])
{
    const struct hr_fluid_state fluid = {.density = 2, .viscosity = 1};
    const struct hr_setting setting = {.fluid = &fluid, .speed_rpm = NAN};
    const double bore = sqrt(4 / 3.14159265358979323846); /* area 1: the drop is K for a flow of 1 */
    struct hr_value values[] = {{.key = hr_part_kind_key(&hr_kind_tee, "bore"), .number = bore},
                                {.key = hr_part_kind_key(&hr_kind_tee, "side_bore"), .number = bore * x[1]},
                                {.key = hr_part_kind_key(&hr_kind_tee, "angle"), .number = x[2]}};
    const struct hr_params params = {.owner = "tee", .value = values, .count = 3};
    const double y = fabs(x[0]);
    const double flow[2][3] = {{1 - y, -1, y}, {1, y - 1, -y}};
    const int dividing = x[0] < 0;
    struct hr_arena arena;
    struct hr_report report;
    void *part;
    double drop[3] = {NAN, NAN, NAN};
    hr_arena_init(&arena);
    hr_report_init(&report);
    if (hr_kind_tee.make(&params, &arena, &part, &report) == HR_OK) {
        hr_kind_tee.split(part, &setting, flow[dividing], drop);
    }
    hr_report_clear(&report);
    hr_arena_clear(&arena);
    return dividing ? -drop[x[3] < 1 ? 2 : 1] : drop[x[3] < 1 ? 2 : 0];
}

static double answer(const char *law, const double x[])
{
    static const char *const straight[] = {"churchill", "colebrook", "haaland", "swamee-jain"};
    static const char *const taps[] = {"corner", "d", "flange"};
    for (int i = 0; i < 4; i++) {
        if (strcmp(law, straight[i]) == 0) {
            return friction((enum hr_friction)i, x);
        }
    }
    for (int i = 0; i < 3; i++) {
        if (strcmp(law, taps[i]) == 0) {
            return orifice((enum hr_taps)i, x);
        }
    }
    if (strcmp(law, "curved") == 0) {
        return curved(x);
    }
    if (strcmp(law, "bend") == 0) {
        return bend(x);
    }
    return strcmp(law, "tee") == 0 ? tee(x) : NAN;
}

int main(void)
{
    char law[32];
    double x[4];
    while (scanf("%31s %lf %lf %lf %lf", law, &x[0], &x[1], &x[2], &x[3]) == 5) {
        printf("%.17g\n", answer(law, x));
    }
    return 0;
}
