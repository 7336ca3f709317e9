/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The problems: invented parts, laws by the program's own kinds. */
#include "bench.h"

#include "fluid/fluid.h"
#include "part/kinds.h"
#include "random_network.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PUMP_LAWS = 2 };

struct pump {
    void *part;
    uint32_t law_first;
};

static const double SPEED_RPM = 3600;

/* The parts of the small loop. Tubes: bore and length, m. Quadratic: linear, square. Power: r, n. */
enum element_kind { PUMP, TUBE, QUADRATIC, POWER };
static const char *const kind_names[] = {"pump", "tube", "quadratic", "power"};

struct element {
    enum element_kind kind;
    double a, b;
};

static const struct element common[] = {
    {PUMP, 0, 0},          {TUBE, 10.1e-3, 0.31}, {QUADRATIC, 0, 4.1e10},
    {TUBE, 10.1e-3, 0.22}, {POWER, 2.9e10, 1.83}, {TUBE, 10.1e-3, 0.47},
    {POWER, 2.2e10, 1.83}, {TUBE, 10.1e-3, 0.18}, {QUADRATIC, 1.7e6, 9.3e10},
    {TUBE, 10.1e-3, 0.26}, {TUBE, 12.7e-3, 0.41}, {QUADRATIC, 0, 2.7e10},
    {TUBE, 12.7e-3, 0.13},
};
static const struct element leg_a[] = {
    {TUBE, 8.1e-3, 0.37},  {QUADRATIC, 9.1e6, 8.7e11}, {TUBE, 8.1e-3, 0.12},
    {POWER, 6.1e10, 1.77}, {QUADRATIC, 0, 1.9e11},     {TUBE, 8.1e-3, 0.33},
};
static const struct element leg_b[] = {
    {TUBE, 6.3e-3, 0.52},   {QUADRATIC, 2.3e7, 6.1e11}, {TUBE, 6.3e-3, 0.21},
    {QUADRATIC, 0, 2.3e11}, {POWER, 4.7e10, 1.75},      {TUBE, 8.1e-3, 0.19},
};
static const struct element leg_c[] = {
    {TUBE, 8.1e-3, 0.61}, {QUADRATIC, 3.3e6, 3.9e11}, {TUBE, 8.1e-3, 0.27},
    {TUBE, 6.3e-3, 0.14}, {QUADRATIC, 0, 1.1e11},     {TUBE, 6.3e-3, 0.43},
};
static const struct element *const sections[] = {common, leg_a, leg_b, leg_c};
static const size_t section_counts[] = {HR_ARRAY_LEN(common), HR_ARRAY_LEN(leg_a), HR_ARRAY_LEN(leg_b),
                                        HR_ARRAY_LEN(leg_c)};
static const double SHUT_OFF = 4.1e4;
static const double FREE_FLOW = 3.1e-4;

static void need(bool condition)
{
    if (!condition) {
        give_up("out of memory");
    }
}

/* Makes a part from values given as name, number. */
struct named {
    const char *name, *text;
    double number;
    const struct named *map;
    size_t map_count;
};

static struct hr_params *params_of(struct hr_arena *arena, const struct named named[], size_t count)
{
    struct hr_params *params = hr_arena_alloc(arena, 1, sizeof *params);
    need(params != NULL);
    params->owner = "part 'bench'";
    params->count = count;
    params->value = hr_arena_alloc(arena, count, sizeof *params->value);
    struct hr_key *keys = hr_arena_alloc(arena, count, sizeof *keys);
    need(params->value != NULL && keys != NULL);
    for (size_t i = 0; i < count; i++) {
        keys[i].name = named[i].name;
        params->value[i].key = &keys[i];
        params->value[i].number = named[i].number;
        params->value[i].text = named[i].text;
        if (named[i].map != NULL) {
            params->value[i].map = params_of(arena, named[i].map, named[i].map_count);
        }
    }
    return params;
}

static void *make_part(struct hr_arena *arena, const struct hr_part_kind *kind, const struct named named[],
                       size_t count)
{
    struct hr_arena scratch;
    struct hr_report report;
    void *part = NULL;
    hr_arena_init(&scratch);
    hr_report_init(&report);
    if (kind->make(params_of(&scratch, named, count), arena, &part, &report) != HR_OK) {
        give_up("a %s could not be made", kind->name);
    }
    hr_report_clear(&report);
    hr_arena_clear(&scratch);
    return part;
}

static void start_problem(struct problem *problem, size_t nodes, size_t branches, size_t pumps)
{
    memset(problem, 0, sizeof *problem);
    hr_arena_init(&problem->arena);
    struct hr_network *network = &problem->network;
    network->node = hr_alloc(nodes, sizeof *network->node);
    network->branch = hr_alloc(branches, sizeof *network->branch);
    network->law = hr_alloc(branches + pumps * PUMP_LAWS, sizeof *network->law);
    problem->pump = hr_alloc(pumps, sizeof *problem->pump);
    problem->fluid = hr_arena_alloc(&problem->arena, 1, sizeof *problem->fluid);
    need(network->node != NULL && network->branch != NULL && network->law != NULL && problem->pump != NULL &&
         problem->fluid != NULL);
    network->node_count = nodes;
    problem->speed_rpm = SPEED_RPM;
    const struct hr_fluid water = {.kind = HR_WATER};
    hr_fluid_at(&water, 30, 101325, problem->fluid);
}

static void add_branch(struct problem *problem, size_t from, size_t to, const struct hr_law law[],
                       size_t count)
{
    struct hr_network *network = &problem->network;
    network->branch[network->branch_count++] = (struct hr_branch){.from = (uint32_t)from,
                                                                  .to = (uint32_t)to,
                                                                  .law_first = (uint32_t)network->law_count,
                                                                  .law_count = (uint32_t)count};
    memcpy(&network->law[network->law_count], law, count * sizeof *law);
    network->law_count += count;
}

static void add_tube(struct problem *problem, size_t from, size_t to, double bore, double length)
{
    struct hr_arena arena;
    hr_arena_init(&arena);
    const struct named named[] = {{.name = "bore", .number = bore},
                                  {.name = "length", .number = length},
                                  {.name = "entrance", .text = "developed"}};
    const struct hr_setting setting = {.fluid = problem->fluid, .speed_rpm = NAN};
    struct hr_part_branch branch;
    hr_kind_tube.bind(make_part(&arena, &hr_kind_tube, named, HR_ARRAY_LEN(named)), &setting, &branch);
    add_branch(problem, from, to, branch.law, branch.law_count);
    hr_arena_clear(&arena);
}

/* A quadratic curve, H = shut_off (1 - 0.3 x - 0.7 x|x|). */
static void add_pump(struct problem *problem, size_t from, size_t to, double shut_off, double free_flow)
{
    const struct named curve[] = {{.name = "shut_off", .number = shut_off},
                                  {.name = "free_flow", .number = free_flow},
                                  {.name = "linear_share", .number = 0.3},
                                  {.name = "speed", .number = SPEED_RPM}};
    const struct named named[] = {{.name = "curve", .map = curve, .map_count = HR_ARRAY_LEN(curve)}};
    struct pump *pump = &problem->pump[problem->pump_count++];
    pump->part = make_part(&problem->arena, &hr_kind_pump, named, HR_ARRAY_LEN(named));
    pump->law_first = (uint32_t)problem->network.law_count;
    const struct hr_setting setting = {.fluid = problem->fluid, .speed_rpm = SPEED_RPM};
    struct hr_part_branch branch;
    hr_kind_pump.bind(pump->part, &setting, &branch);
    if (branch.law_count != PUMP_LAWS) {
        give_up("a pump has %zu laws instead of %d", branch.law_count, PUMP_LAWS);
    }
    add_branch(problem, from, to, branch.law, branch.law_count);
}

void problem_set_speed(struct problem *problem, double speed_rpm)
{
    const struct hr_setting setting = {.fluid = problem->fluid, .speed_rpm = speed_rpm};
    for (size_t i = 0; i < problem->pump_count; i++) {
        struct hr_part_branch branch;
        hr_kind_pump.bind(problem->pump[i].part, &setting, &branch);
        memcpy(&problem->network.law[problem->pump[i].law_first], branch.law, PUMP_LAWS * sizeof *branch.law);
    }
}

static void add_element(struct problem *problem, size_t from, size_t to, const struct element *element)
{
    struct hr_law law;
    switch (element->kind) {
    case PUMP:
        add_pump(problem, from, to, SHUT_OFF, FREE_FLOW);
        return;
    case TUBE:
        add_tube(problem, from, to, element->a, element->b);
        return;
    case QUADRATIC:
        law = hr_law_quadratic(element->a, element->b, element->b);
        break;
    case POWER:
        law = hr_law_power(element->a, element->b);
        break;
    }
    add_branch(problem, from, to, &law, 1);
}

/* Node 0 is where the branches meet, and has the reference pressure; node 1 is where they part. */
void problem_small_loop(struct problem *problem)
{
    start_problem(problem, 29, 31, 1);
    snprintf(problem->name, sizeof problem->name, "small loop");
    problem->has_script = true;
    problem->network.node[0].fixed = true;
    size_t next = 2;
    for (size_t s = 0; s < HR_ARRAY_LEN(sections); s++) {
        size_t at = s == 0 ? 0 : 1;
        for (size_t i = 0; i < section_counts[s]; i++) {
            const size_t end = s == 0 ? 1 : 0;
            const size_t to = i + 1 < section_counts[s] ? next++ : end;
            add_element(problem, at, to, &sections[s][i]);
            at = to;
        }
    }
    if (next != 29 || problem->network.branch_count != 31) {
        give_up("the small loop has %zu nodes and %zu elements", next, problem->network.branch_count);
    }
}

void problem_grid(struct problem *problem, size_t side)
{
    struct random random = {.state = 20260807};
    const size_t nodes = side * side;
    start_problem(problem, nodes, 2 * side * (side - 1) + 4, 4);
    snprintf(problem->name, sizeof problem->name, "grid 1e%.0f", log10((double)nodes));
    problem->network.node[nodes / 2].fixed = true;
    for (size_t row = 0; row < side; row++) {
        for (size_t column = 0; column < side; column++) {
            const size_t node = row * side + column;
            const double bore[2] = {random_between(&random, 5e-3, 13e-3),
                                    random_between(&random, 5e-3, 13e-3)};
            const double length[2] = {0.05 * pow(10, random_between(&random, 0, 2)),
                                      0.05 * pow(10, random_between(&random, 0, 2))};
            if (column + 1 < side) {
                add_tube(problem, node, node + 1, bore[0], length[0]);
            }
            if (row + 1 < side) {
                add_tube(problem, node, node + side, bore[1], length[1]);
            }
        }
    }
    const size_t last = nodes - 1;
    const size_t ends[4][2] = {{0, last},
                               {side - 1, nodes - side},
                               {side / 2, last - side / 2},
                               {side * (side / 3), side * (side / 2) + side - 1}};
    for (size_t i = 0; i < 4; i++) {
        add_pump(problem, ends[i][1], ends[i][0], 1.3e5 * (1 + 0.21 * (double)i), 1.1e-3);
    }
}

size_t problem_section(size_t branch)
{
    size_t section = 0;
    while (branch >= section_counts[section]) {
        branch -= section_counts[section++];
    }
    return section;
}

void problem_clear(struct problem *problem)
{
    free(problem->network.node);
    free(problem->network.branch);
    free(problem->network.law);
    free(problem->pump);
    hr_arena_clear(&problem->arena);
}

bool problem_write_small_loop(const char *path)
{
    FILE *file = fopen(path, "w");
    if (file == NULL) {
        return false;
    }
    struct hr_fluid_state state;
    const struct hr_fluid water = {.kind = HR_WATER};
    hr_fluid_at(&water, 30, 101325, &state);
    fprintf(file, "{\"density\": %.17g, \"viscosity\": %.17g, \"speed\": %.17g,\n", state.density,
            state.viscosity, SPEED_RPM);
    fprintf(file, " \"pump\": [%.17g, %.17g, 0.3],\n \"sections\": [", SHUT_OFF, FREE_FLOW);
    for (size_t s = 0; s < HR_ARRAY_LEN(sections); s++) {
        fprintf(file, "%s\n  [", s == 0 ? "" : ",");
        for (size_t i = 0; i < section_counts[s]; i++) {
            const struct element *element = &sections[s][i];
            fprintf(file, "%s[\"%s\", %.17g, %.17g]", i == 0 ? "" : ", ", kind_names[element->kind],
                    element->a, element->b);
        }
        fputs("]", file);
    }
    fputs("]}\n", file);
    return fclose(file) == 0;
}
