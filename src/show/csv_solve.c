/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One solution as a table of its branches, a row each, with what a pump or a chip adds in the same row. */
#include "headrace/show.h"

#include "show/csv_write.h"

#include <math.h>
#include <string.h>

static const char *const heads[] = {"state",
                                    "name",
                                    "fluid",
                                    "port",
                                    "kind",
                                    "model",
                                    "from",
                                    "to",
                                    "flow_m3_s",
                                    "mass_flow_kg_s",
                                    "dp_pa",
                                    "head_share",
                                    "reynolds",
                                    "velocity_m_s",
                                    "against_arrow",
                                    "stagnant",
                                    "out_of_range",
                                    "inlet_pressure_pa",
                                    "outlet_pressure_pa",
                                    "speed_rpm",
                                    "head_pa",
                                    "power_w",
                                    "npsh_m",
                                    "heat_w",
                                    "resistance_k_w",
                                    "rise_k"};

static double pressure_at(const struct hr_result *result, const char *node)
{
    for (size_t i = 0; i < result->nodes; i++) {
        if (strcmp(result->node[i].name, node) == 0) {
            return result->node[i].pressure_pa;
        }
    }
    return NAN;
}

static void write_pump(struct hr_csv *csv, const struct hr_result *result, const char *name)
{
    struct hr_pump_result pump = {.speed_rpm = NAN, .head_pa = NAN, .power_w = NAN, .npsh_m = NAN};
    for (size_t i = 0; i < result->pumps; i++) {
        if (strcmp(result->pump[i].name, name) == 0) {
            pump = result->pump[i];
        }
    }
    hr_csv_number(csv, pump.speed_rpm);
    hr_csv_number(csv, pump.head_pa);
    hr_csv_number(csv, pump.power_w);
    hr_csv_number(csv, pump.npsh_m);
}

static void write_chip(struct hr_csv *csv, const struct hr_result *result, const char *name)
{
    struct hr_chip_result chip = {.heat_w = NAN, .resistance_k_w = NAN, .rise_k = NAN};
    for (size_t i = 0; i < result->chips; i++) {
        if (strcmp(result->chip[i].name, name) == 0) {
            chip = result->chip[i];
        }
    }
    hr_csv_number(csv, chip.heat_w);
    hr_csv_number(csv, chip.resistance_k_w);
    hr_csv_number(csv, chip.rise_k);
}

static void write_row(struct hr_csv *csv, const struct hr_result *result,
                      const struct hr_branch_result *branch)
{
    hr_csv_cell(csv, result->state);
    hr_csv_cell(csv, branch->name);
    hr_csv_cell(csv, "coolant");
    hr_csv_cell(csv, branch->port);
    hr_csv_cell(csv, branch->kind);
    hr_csv_cell(csv, branch->model);
    hr_csv_cell(csv, branch->from);
    hr_csv_cell(csv, branch->to);
    hr_csv_number(csv, branch->flow_m3_s);
    hr_csv_number(csv, branch->mass_flow_kg_s);
    hr_csv_number(csv, branch->dp_pa);
    hr_csv_number(csv, branch->head_share);
    hr_csv_number(csv, branch->reynolds);
    hr_csv_number(csv, branch->velocity_m_s);
    hr_csv_flag(csv, branch->against_arrow && branch->port == NULL); /* ports have no arrow */
    hr_csv_flag(csv, branch->stagnant);
    hr_csv_flag(csv, branch->out_of_range);
    hr_csv_number(csv, pressure_at(result, branch->from));
    hr_csv_number(csv, pressure_at(result, branch->to));
    write_pump(csv, result, branch->name);
    write_chip(csv, result, branch->name);
    hr_csv_end_row(csv);
}

enum hr_status hr_solve_csv(const struct hr_result *result, char **text, struct hr_report *report)
{
    struct hr_csv csv = {0};
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        hr_csv_cell(&csv, heads[i]);
    }
    hr_csv_end_row(&csv);
    for (size_t i = 0; i < result->branches; i++) {
        write_row(&csv, result, &result->branch[i]);
    }
    return hr_csv_finish(&csv, text, report);
}
