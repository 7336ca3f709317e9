/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One solution as JSON. docs/results.md explains every key. */
#include "headrace/show.h"

#include "show/json.h"
#include "show/units.h"

#include <math.h>
#include <string.h>

static bool is_solved(const struct hr_result *result)
{
    return strcmp(result->status, "solved") == 0;
}

static void write_solver(struct hr_json *json, const struct hr_result *result)
{
    json_t *solver = hr_json_object(json);
    hr_json_count(json, solver, "iterations", result->iterations);
    hr_json_count(json, solver, "rounds", result->rounds);
    hr_json_real(json, solver, "mass_residual", result->mass_residual);
    hr_json_real(json, solver, "pressure_residual", result->pressure_residual);
    hr_json_real(json, solver, "valve_residual", result->valve_residual);
    hr_json_member(json, "solver", solver);
}

/* The loop's name, where the file has several. */
static const char *loop_name(const struct hr_result *result, size_t loop)
{
    return loop < result->loops ? result->loop[loop].name : NULL;
}

static void write_branch(struct hr_json *json, const struct hr_result *result,
                         const struct hr_branch_result *branch)
{
    json_t *object = hr_json_object(json);
    hr_json_text(json, object, "name", branch->name);
    hr_json_text(json, object, "fluid", "coolant");
    hr_json_text(json, object, "port", branch->port);
    hr_json_text(json, object, "kind", branch->kind);
    hr_json_text(json, object, "model", branch->model);
    hr_json_text(json, object, "loop", loop_name(result, branch->loop));
    hr_json_text(json, object, "from", branch->from);
    hr_json_text(json, object, "to", branch->to);
    hr_json_real(json, object, "flow_m3_s", branch->flow_m3_s);
    hr_json_real(json, object, "mass_flow_kg_s", branch->mass_flow_kg_s);
    hr_json_real(json, object, "dp_pa", branch->dp_pa);
    hr_json_real(json, object, "head_share", branch->head_share);
    hr_json_real(json, object, "reynolds", branch->reynolds);
    hr_json_text(json, object, "regime", hr_regime_word(branch->regime));
    hr_json_real(json, object, "velocity_m_s", branch->velocity_m_s);
    hr_json_flag(json, object, "against_arrow",
                 branch->against_arrow && branch->port == NULL); /* ports have no arrow */
    hr_json_flag(json, object, "stagnant", branch->stagnant);
    hr_json_flag(json, object, "out_of_range", branch->out_of_range);
    hr_json_item(json, object);
}

static void write_node(struct hr_json *json, const struct hr_result *result,
                       const struct hr_node_result *node)
{
    json_t *object = hr_json_object(json);
    hr_json_text(json, object, "name", node->name);
    hr_json_text(json, object, "loop", loop_name(result, node->loop));
    hr_json_real(json, object, "pressure_pa", node->pressure_pa);
    if (node->floating && is_solved(result)) {
        hr_json_flag(json, object, "floating", true);
    }
    hr_json_real(json, object, "height_m", node->height_m);
    hr_json_item(json, object);
}

static void add_pump(struct hr_json *json, json_t *object, const struct hr_pump_result *pump)
{
    hr_json_real(json, object, "speed_rpm", pump->speed_rpm);
    hr_json_real(json, object, "speed_max_rpm", pump->speed_max_rpm);
    hr_json_flag(json, object, "stopped", pump->stopped);
    hr_json_real(json, object, "head_pa", pump->head_pa);
    hr_json_real(json, object, "shut_off_pa", pump->shut_off_pa);
    hr_json_real(json, object, "free_flow_m3_s", pump->free_flow_m3_s);
    hr_json_real(json, object, "power_w", pump->power_w);
    hr_json_real(json, object, "power_to_coolant_w", pump->power_to_coolant_w);
    hr_json_real(json, object, "hydraulic_w", pump->hydraulic_w);
    hr_json_real(json, object, "npsh_m", pump->npsh_m);
}

static void add_chip(struct hr_json *json, json_t *object, const struct hr_chip_result *chip)
{
    hr_json_real(json, object, "heat_w", chip->heat_w);
    hr_json_real(json, object, "heat_to_coolant_w", chip->heat_to_coolant_w);
    hr_json_real(json, object, "resistance_k_w", chip->resistance_k_w);
    hr_json_real(json, object, "rise_k", chip->rise_k);
}

static const struct hr_pump_result *find_pump(const struct hr_result *result, const char *name)
{
    for (size_t i = 0; i < result->pumps; i++) {
        if (strcmp(result->pump[i].name, name) == 0) {
            return &result->pump[i];
        }
    }
    return NULL;
}

static const struct hr_chip_result *find_chip(const struct hr_result *result, const char *name)
{
    for (size_t i = 0; i < result->chips; i++) {
        if (strcmp(result->chip[i].name, name) == 0) {
            return &result->chip[i];
        }
    }
    return NULL;
}

/* Ports of one part follow each other; only the first of them makes an entry. A run makes one where it is a
 * pump or carries a chip. */
static void write_part(struct hr_json *json, const struct hr_result *result, size_t index)
{
    const struct hr_branch_result *branch = &result->branch[index];
    const struct hr_pump_result *pump = find_pump(result, branch->name);
    const struct hr_chip_result *chip = find_chip(result, branch->name);
    const bool again =
        index > 0 && branch->port != NULL && strcmp(result->branch[index - 1].name, branch->name) == 0;
    if (again || (branch->is_run && pump == NULL && chip == NULL)) {
        return;
    }
    json_t *object = hr_json_object(json);
    hr_json_text(json, object, "name", branch->name);
    hr_json_text(json, object, "kind", branch->kind);
    hr_json_text(json, object, "model", branch->model);
    hr_json_text(json, object, "loop", loop_name(result, branch->loop));
    if (branch->port == NULL) {
        hr_json_real(json, object, "flow_m3_s", branch->flow_m3_s);
        hr_json_real(json, object, "dp_pa", branch->dp_pa);
    }
    if (pump != NULL) {
        add_pump(json, object, pump);
    }
    if (chip != NULL) {
        add_chip(json, object, chip);
    }
    hr_json_item(json, object);
}

static void write_loop(struct hr_json *json, const struct hr_result *result,
                       const struct hr_loop_result *loop)
{
    json_t *object = hr_json_object(json);
    hr_json_text(json, object, "name", loop->name);
    hr_json_text(json, object, "fluid", loop->fluid);
    if (loop->mass_fraction > 0.0) {
        hr_json_real(json, object, "mass_fraction", loop->mass_fraction);
    }
    hr_json_real(json, object, "property_temperature_c", loop->temperature_c);
    hr_json_real(json, object, "density_kg_m3", loop->density_kg_m3);
    hr_json_real(json, object, "viscosity_pa_s", loop->viscosity_pa_s);
    hr_json_real(json, object, "freezing_c", loop->freezing_c);
    hr_json_real(json, object, "volume_m3", loop->volume_m3);
    if (is_solved(result)) {
        hr_json_real(json, object, "flow_m3_s", loop->flow_m3_s);
        hr_json_real(json, object, "pump_head_pa", loop->pump_head_pa);
    }
    hr_json_text(json, object, "lowest_pressure_at",
                 loop->lowest < result->nodes ? result->node[loop->lowest].name : NULL);
    hr_json_text(json, object, "highest_pressure_at",
                 loop->highest < result->nodes ? result->node[loop->highest].name : NULL);
    hr_json_item(json, object);
}

static void write_operating_points(struct hr_json *json, const struct hr_result *result)
{
    if (result->points == 0) {
        return;
    }
    hr_json_open_member(json, "operating_points", '[');
    for (size_t i = 0; i < result->points; i++) {
        json_t *object = hr_json_object(json);
        hr_json_text(json, object, "part", result->point[i].part);
        hr_json_real(json, object, "flow_m3_s", result->point[i].flow_m3_s);
        hr_json_real(json, object, "head_pa", result->point[i].head_pa);
        hr_json_flag(json, object, "stable", result->point[i].stable);
        hr_json_flag(json, object, "chosen", result->point[i].chosen);
        hr_json_item(json, object);
    }
    hr_json_close(json, ']');
}

static bool same_message(const struct hr_message *a, const struct hr_message *b)
{
    return a->line == b->line && a->column == b->column && strcmp(a->code, b->code) == 0 &&
           strcmp(a->file, b->file) == 0 && strcmp(a->text, b->text) == 0;
}

static void write_warnings(struct hr_json *json, const struct hr_result *result,
                           const struct hr_report *found)
{
    const size_t before = found == NULL ? 0 : found->warnings;
    hr_json_open_member(json, "warnings", '[');
    for (size_t i = 0; i < before; i++) {
        hr_json_item(json, hr_json_message(json, &found->warning[i]));
    }
    for (size_t i = 0; i < result->warnings; i++) {
        bool said = false;
        for (size_t f = 0; f < before; f++) {
            said = said || same_message(&found->warning[f], &result->warning[i]);
        }
        if (!said) {
            hr_json_item(json, hr_json_message(json, &result->warning[i]));
        }
    }
    hr_json_close(json, ']');
}

static void write_head(struct hr_json *json, const struct hr_result *result)
{
    hr_json_member_text(json, "title", result->title);
    hr_json_member_text(json, "state", result->state);
    hr_json_member_text(json, "status", result->status);
    hr_json_member_text(json, "reason", result->reason);
    json_t *ambient = hr_json_object(json);
    hr_json_real(json, ambient, "temperature_c", result->ambient_c);
    hr_json_real(json, ambient, "pressure_pa", result->ambient_pa);
    hr_json_member(json, "ambient", ambient);
}

static void write_totals(struct hr_json *json, const struct hr_result *result)
{
    json_t *totals = hr_json_object(json);
    hr_json_real(json, totals, "volume_m3", result->volume_m3);
    if (is_solved(result)) {
        hr_json_real(json, totals, "heat_w", result->heat_w);
        hr_json_real(json, totals, "power_w", result->power_w);
    }
    hr_json_member(json, "totals", totals);
}

void hr_json_result(struct hr_json *json, const struct hr_result *result, const struct hr_report *found)
{
    write_head(json, result);
    if (is_solved(result)) {
        write_solver(json, result);
    }
    hr_json_open_member(json, "branches", '[');
    for (size_t i = 0; i < result->branches; i++) {
        write_branch(json, result, &result->branch[i]);
    }
    hr_json_close(json, ']');
    hr_json_open_member(json, "nodes", '[');
    for (size_t i = 0; i < result->nodes; i++) {
        write_node(json, result, &result->node[i]);
    }
    hr_json_close(json, ']');
    hr_json_open_member(json, "parts", '[');
    for (size_t i = 0; i < result->branches; i++) {
        write_part(json, result, i);
    }
    hr_json_close(json, ']');
    write_operating_points(json, result);
    hr_json_open_member(json, "loops", '[');
    for (size_t i = 0; i < result->loops; i++) {
        write_loop(json, result, &result->loop[i]);
    }
    hr_json_close(json, ']');
    write_totals(json, result);
    json_t *notes = hr_json_array(json);
    for (size_t i = 0; i < result->notes; i++) {
        hr_json_append_text(json, notes, result->note[i]);
    }
    hr_json_member(json, "assumptions", notes);
    write_warnings(json, result, found);
}

enum hr_status hr_solve_json(const struct hr_result *result, const struct hr_report *found, char **text,
                             struct hr_report *report)
{
    struct hr_json json = {0};
    hr_json_open(&json, '{');
    hr_json_result(&json, result, found);
    hr_json_close(&json, '}');
    return hr_json_finish(&json, text, report);
}

enum hr_status hr_errors_json(const struct hr_report *found, char **text, struct hr_report *report)
{
    struct hr_json json = {0};
    const size_t kept = found->errors < HR_ERRORS_MAX ? found->errors : HR_ERRORS_MAX;
    hr_json_open(&json, '{');
    /* Without a network there is no result, and yet nothing is wrong with the file. */
    const bool no_solution = found->status == HR_NO_RESULT;
    hr_json_member_text(&json, "status", no_solution ? "no_solution" : "error");
    hr_json_member_text(&json, "reason", no_solution && kept > 0 ? found->error[0].text : NULL);
    hr_json_open_member(&json, "errors", '[');
    for (size_t i = 0; i < kept; i++) {
        hr_json_item(&json, hr_json_message(&json, &found->error[i]));
    }
    hr_json_close(&json, ']');
    hr_json_close(&json, '}');
    return hr_json_finish(&json, text, report);
}
