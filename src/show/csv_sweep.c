/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sweep as a table of its points, a row each: the axes, then what every branch, pump and chip does there.
 */
#include "headrace/show.h"

#include "show/csv_write.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The point that tells which columns there are; all solved points of a sweep have the same branches. NULL:
 * none. */
static const struct hr_result *find_solved(const struct hr_sweep *sweep)
{
    for (size_t i = 0; i < sweep->points; i++) {
        if (strcmp(sweep->point[i]->status, "solved") == 0) {
            return sweep->point[i];
        }
    }
    return NULL;
}

/* "pump.speed" in rpm is already an axis and would give two columns of one name. */
static bool is_speed_axis(const struct hr_sweep *sweep, const char *pump)
{
    for (size_t a = 0; a < sweep->axes; a++) {
        const char *name = sweep->axis[a].name;
        const size_t length = strlen(pump);
        if (strncmp(name, pump, length) == 0 && strcmp(name + length, ".speed") == 0 &&
            strcmp(sweep->axis[a].unit, "rpm") == 0) {
            return true;
        }
    }
    return false;
}

static void write_heads(struct hr_csv *csv, const struct hr_sweep *sweep, const struct hr_result *model)
{
    for (size_t a = 0; a < sweep->axes; a++) {
        const char *unit = sweep->axis[a].unit;
        hr_csv_head(csv, sweep->axis[a].name, unit[0] != '\0' ? unit : NULL, NULL, '_');
    }
    hr_csv_cell(csv, "status");
    if (model == NULL) {
        hr_csv_end_row(csv);
        return;
    }
    hr_csv_cell(csv, "power_w");
    for (size_t i = 0; i < model->branches; i++) {
        const struct hr_branch_result *branch = &model->branch[i];
        hr_csv_head(csv, branch->name, branch->port, "flow_m3_s", '.');
        hr_csv_head(csv, branch->name, branch->port, "dp_pa", '.');
    }
    for (size_t i = 0; i < model->pumps; i++) {
        const char *name = model->pump[i].name;
        if (!is_speed_axis(sweep, name)) {
            hr_csv_head(csv, name, "speed_rpm", NULL, '.');
        }
        hr_csv_head(csv, name, "head_pa", NULL, '.');
        hr_csv_head(csv, name, "power_w", NULL, '.');
        hr_csv_head(csv, name, "npsh_m", NULL, '.');
    }
    for (size_t i = 0; i < model->chips; i++) {
        hr_csv_head(csv, model->chip[i].name, "resistance_k_w", NULL, '.');
        hr_csv_head(csv, model->chip[i].name, "rise_k", NULL, '.');
    }
    hr_csv_end_row(csv);
}

static const struct hr_branch_result *same_branch(const struct hr_result *point,
                                                  const struct hr_branch_result *as, size_t index)
{
    for (size_t i = 0; i < point->branches; i++) {
        const struct hr_branch_result *branch = &point->branch[(index + i) % point->branches];
        if (strcmp(branch->name, as->name) == 0 &&
            (as->port == NULL ? branch->port == NULL
                              : branch->port != NULL && strcmp(branch->port, as->port) == 0)) {
            return branch;
        }
    }
    return NULL;
}

static void write_pump(struct hr_csv *csv, const struct hr_sweep *sweep, const struct hr_result *point,
                       const char *name)
{
    struct hr_pump_result pump = {.speed_rpm = NAN, .head_pa = NAN, .power_w = NAN, .npsh_m = NAN};
    for (size_t i = 0; i < point->pumps; i++) {
        if (strcmp(point->pump[i].name, name) == 0) {
            pump = point->pump[i];
        }
    }
    if (!is_speed_axis(sweep, name)) {
        hr_csv_number(csv, pump.speed_rpm);
    }
    hr_csv_number(csv, pump.head_pa);
    hr_csv_number(csv, pump.power_w);
    hr_csv_number(csv, pump.npsh_m);
}

static void write_chip(struct hr_csv *csv, const struct hr_result *point, const char *name)
{
    struct hr_chip_result chip = {.resistance_k_w = NAN, .rise_k = NAN};
    for (size_t i = 0; i < point->chips; i++) {
        if (strcmp(point->chip[i].name, name) == 0) {
            chip = point->chip[i];
        }
    }
    hr_csv_number(csv, chip.resistance_k_w);
    hr_csv_number(csv, chip.rise_k);
}

static void write_row(struct hr_csv *csv, const struct hr_sweep *sweep, size_t index,
                      const struct hr_result *model)
{
    const struct hr_result *point = sweep->point[index];
    const size_t inner = sweep->axes > 1 ? sweep->axis[1].count : 1;
    hr_csv_number(csv, sweep->axis[0].value[index / inner]);
    if (sweep->axes > 1) {
        hr_csv_number(csv, sweep->axis[1].value[index % inner]);
    }
    hr_csv_cell(csv, point->status);
    if (model != NULL) {
        const bool solved = strcmp(point->status, "solved") == 0;
        hr_csv_number(csv, solved ? point->power_w : NAN);
        for (size_t i = 0; i < model->branches; i++) {
            const struct hr_branch_result *branch = same_branch(point, &model->branch[i], i);
            hr_csv_number(csv, branch != NULL ? branch->flow_m3_s : NAN);
            hr_csv_number(csv, branch != NULL ? branch->dp_pa : NAN);
        }
        for (size_t i = 0; i < model->pumps; i++) {
            write_pump(csv, sweep, point, model->pump[i].name);
        }
        for (size_t i = 0; i < model->chips; i++) {
            write_chip(csv, point, model->chip[i].name);
        }
    }
    hr_csv_end_row(csv);
}

enum hr_status hr_sweep_csv(const struct hr_sweep *sweep, char **text, struct hr_report *report)
{
    struct hr_csv csv = {0};
    const struct hr_result *model = find_solved(sweep);
    write_heads(&csv, sweep, model);
    for (size_t i = 0; i < sweep->points; i++) {
        write_row(&csv, sweep, i, model);
    }
    return hr_csv_finish(&csv, text, report);
}
