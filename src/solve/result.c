/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The last solution of a rig, written out as plain data that stands alone. Warnings are in remarks.c. */
#include "headrace/result.h"

#include "solve/remarks.h"
#include "solve/rig.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX

void hr_result_free(struct hr_result *result)
{
    if (result != NULL) {
        struct hr_arena arena = *(struct hr_arena *)result->memory; /* the arena lives in itself */
        hr_arena_clear(&arena);
    }
}

/* Copies of texts, so that the result outlives the file; *complete turns false when memory is out. */
static const char *copy(struct hr_writer *to, const char *text)
{
    if (text == NULL) {
        return NULL;
    }
    const char *made = hr_arena_copy(to->arena, text, strlen(text));
    to->complete = to->complete && made != NULL;
    return made;
}

static void *array(struct hr_writer *to, size_t count, size_t size)
{
    void *made = hr_arena_alloc(to->arena, count, size);
    to->complete = to->complete && made != NULL;
    return made;
}

static enum hr_regime regime_of(double reynolds)
{
    if (isnan(reynolds)) {
        return HR_REGIME_UNKNOWN;
    }
    return reynolds < 2300.0 ? HR_LAMINAR : reynolds <= 4000.0 ? HR_TRANSITIONAL : HR_TURBULENT;
}

/* Model and end names of a branch. */
static void name_branch(struct hr_writer *to, uint32_t b, struct hr_branch_result *out)
{
    const struct hr_assembly *assembly = to->rig->assembly;
    const struct hr_assembled_branch *info = &assembly->branch[b];
    const struct hr_branch *branch = &assembly->network.branch[b];
    out->from = to->result->node[branch->from].name;
    out->to = to->result->node[branch->to].name;
    if (info->part != HR_NONE) {
        out->model = copy(to, assembly->description->parts[info->part].model);
        return;
    }
    const struct hr_description *description = assembly->description;
    const struct hr_run *run = &description->runs[info->run];
    out->is_run = true;
    out->model = copy(to, run->model);
    out->from_name =
        run->from_part == HR_NONE ? out->from : copy(to, description->parts[run->from_part].name);
    out->to_name = run->to_part == HR_NONE ? out->to : copy(to, description->parts[run->to_part].name);
}

static void write_branch(struct hr_writer *to, uint32_t b)
{
    const struct hr_assembly *assembly = to->rig->assembly;
    const struct hr_flow_solution solution = hr_flow_solution(to->rig->flow);
    const struct hr_assembled_branch *info = &assembly->branch[b];
    const void *part;
    const struct hr_part_kind *kind = hr_assembly_kind(assembly, b, &part);
    struct hr_branch_result *out = &to->result->branch[b];
    const double flow = solution.branch_flow[b];
    *out = (struct hr_branch_result){.name = copy(to, info->name),
                                     .port = copy(to, info->port),
                                     .kind = kind == NULL ? "join" : kind->name,
                                     .flow_m3_s = flow,
                                     .mass_flow_kg_s = flow * assembly->fluid[info->loop].density,
                                     .dp_pa = solution.branch_drop[b],
                                     .head_share = NAN,
                                     .reynolds = NAN,
                                     .velocity_m_s = NAN,
                                     .against_arrow = flow < 0.0,
                                     .stagnant = flow == 0.0,
                                     .loop = info->loop};
    name_branch(to, b, out);
    if (kind != NULL && kind->facts != NULL) {
        struct hr_part_facts facts = {.reynolds = NAN, .velocity_m_s = NAN};
        const struct hr_setting setting = hr_assembly_setting(assembly, b);
        kind->facts(part, &setting, flow, &facts);
        out->reynolds = facts.reynolds;
        out->velocity_m_s = facts.velocity_m_s;
        out->regime = regime_of(facts.reynolds);
        out->out_of_range = !out->stagnant && hr_remark_facts(to, b, &facts);
    }
    out->out_of_range = hr_remark_chip(to, b) || out->out_of_range;
}

static void write_nodes(struct hr_writer *to)
{
    const struct hr_assembly *assembly = to->rig->assembly;
    const struct hr_flow_solution solution = hr_flow_solution(to->rig->flow);
    for (size_t i = 0; i < assembly->network.node_count; i++) {
        const struct hr_assembled_node *node = &assembly->node[i];
        const bool known = to->rig->outcome == HR_FLOW_SOLVED && !solution.node_floating[i];
        to->result->node[i] = (struct hr_node_result){
            .name = copy(to, node->name),
            .pressure_pa = known ? solution.node_potential[i] - assembly->network.node[i].lift : NAN,
            .floating = !known,
            .height_m = node->height_m,
            .loop = node->loop};
    }
}

/* A pump's head at its inlet above that of boiling: NPSH = (p + p_room - p_vapour) / (rho g). The height of
 * the inlet is in its pressure already. */
static double npsh(const struct hr_writer *to, uint32_t b, double flow)
{
    const struct hr_assembly *assembly = to->rig->assembly;
    const struct hr_branch *branch = &assembly->network.branch[b];
    const double inlet = to->result->node[flow < 0.0 ? branch->to : branch->from].pressure_pa;
    const struct hr_fluid_state *fluid = &assembly->fluid[assembly->branch[b].loop];
    return (inlet + to->result->ambient_pa - fluid->vapour_pressure) / (fluid->density * HR_GRAVITY);
}

static void write_pump(struct hr_writer *to, uint32_t b, const struct hr_part_kind *kind, const void *part)
{
    const struct hr_setting setting = hr_assembly_setting(to->rig->assembly, b);
    const struct hr_branch_result *branch = &to->result->branch[b];
    struct hr_machine_facts facts;
    kind->machine(part, &setting, branch->flow_m3_s, &facts);
    to->result->pump[to->result->pumps++] =
        (struct hr_pump_result){.name = branch->name,
                                .model = branch->model,
                                .speed_rpm = facts.speed_rpm,
                                .speed_max_rpm = facts.speed_max_rpm,
                                .flow_m3_s = branch->flow_m3_s,
                                .head_pa = -branch->dp_pa,
                                .shut_off_pa = facts.shut_off_pa,
                                .free_flow_m3_s = facts.free_flow_m3_s,
                                .power_w = facts.power_w,
                                .power_to_coolant_w = facts.power_to_coolant_w,
                                .hydraulic_w = -branch->dp_pa * branch->flow_m3_s,
                                .npsh_m = npsh(to, b, branch->flow_m3_s),
                                .stopped = facts.speed_rpm == 0.0};
}

static void write_pumps_and_chips(struct hr_writer *to)
{
    const struct hr_assembly *assembly = to->rig->assembly;
    for (uint32_t b = 0; b < assembly->network.branch_count; b++) {
        const void *part;
        const struct hr_part_kind *kind = hr_assembly_kind(assembly, b, &part);
        if (kind != NULL && kind->machine != NULL) {
            write_pump(to, b, kind, part);
            const double power = to->result->pump[to->result->pumps - 1].power_w;
            to->result->power_w += isnan(power) ? 0.0 : power;
        }
        struct hr_chip_result chip;
        if (assembly->branch[b].port == NULL && hr_rig_chip(to->rig, b, &chip)) {
            chip.name = to->result->branch[b].name;
            chip.model = to->result->branch[b].model;
            to->result->chip[to->result->chips++] = chip;
            to->result->heat_w += chip.heat_w;
        }
    }
}

/* One point is the rule and needs no list. */
static void write_points(struct hr_writer *to)
{
    const struct hr_rig *rig = to->rig;
    to->result->point = array(to, rig->points, sizeof *to->result->point);
    for (size_t i = 0; i < rig->points && to->complete && rig->points > 1; i++) {
        const uint32_t b = rig->point[i].branch;
        to->result->point[to->result->points++] = (struct hr_operating_point){
            .part = to->result->branch[b].name,
            .flow_m3_s = rig->point[i].flow,
            .head_pa = -hr_branch_drop(&rig->assembly->network, b, rig->point[i].flow),
            .stable = rig->point[i].stable,
            .chosen = rig->point[i].chosen};
    }
}

/* Coolant in a loop: its parts, runs and fittings. */
static double loop_volume(const struct hr_description *description, size_t loop)
{
    double volume = 0.0;
    for (size_t i = 0; i < description->part_count; i++) {
        const struct hr_part *part = &description->parts[i];
        if (part->loop == loop && part->kind->volume != NULL && part->part != NULL) {
            volume += part->kind->volume(part->part);
        }
    }
    for (size_t i = 0; i < description->run_count; i++) {
        const struct hr_run *run = &description->runs[i];
        if (run->loop != loop || run->lossless) {
            continue;
        }
        volume += run->kind->volume != NULL ? run->kind->volume(run->part) : 0.0;
        for (size_t f = 0; f < run->fitting_count; f++) {
            const struct hr_fitting *fitting = &run->fittings[f];
            volume +=
                fitting->kind->volume != NULL ? fitting->count * fitting->kind->volume(fitting->part) : 0.0;
        }
    }
    return volume;
}

/* What the pumps of a loop give together: their hydraulic power over the largest flow; for pumps in series
 * that is the sum of their heads, for pumps side by side their common one. */
static void sum_pumps(struct hr_writer *to, struct hr_loop_result *loop, size_t index)
{
    double power = 0.0;
    for (uint32_t b = 0; b < to->rig->assembly->network.branch_count; b++) {
        const struct hr_branch_result *branch = &to->result->branch[b];
        const void *part;
        const struct hr_part_kind *kind = hr_assembly_kind(to->rig->assembly, b, &part);
        if (branch->loop != index) {
            continue;
        }
        if (kind != NULL && kind->machine != NULL) {
            power += -branch->dp_pa * branch->flow_m3_s;
        }
        loop->flow_m3_s = fmax(loop->flow_m3_s, fabs(branch->flow_m3_s));
    }
    loop->pump_head_pa = power > 0.0 ? power / loop->flow_m3_s : NAN;
    for (uint32_t b = 0; b < to->rig->assembly->network.branch_count && power > 0.0; b++) {
        struct hr_branch_result *branch = &to->result->branch[b];
        const void *part;
        const struct hr_part_kind *kind = hr_assembly_kind(to->rig->assembly, b, &part);
        if (branch->loop == index && (kind == NULL || kind->machine == NULL)) {
            branch->head_share = fabs(branch->dp_pa) / loop->pump_head_pa;
        }
    }
}

static void find_extremes(struct hr_writer *to, struct hr_loop_result *loop, size_t index)
{
    loop->lowest = SIZE_MAX;
    loop->highest = SIZE_MAX;
    for (size_t i = 0; i < to->result->nodes; i++) {
        const struct hr_node_result *node = &to->result->node[i];
        if (node->loop != index || isnan(node->pressure_pa)) {
            continue;
        }
        if (loop->lowest == SIZE_MAX || node->pressure_pa < to->result->node[loop->lowest].pressure_pa) {
            loop->lowest = i;
        }
        if (loop->highest == SIZE_MAX || node->pressure_pa > to->result->node[loop->highest].pressure_pa) {
            loop->highest = i;
        }
    }
}

static void write_loop(struct hr_writer *to, size_t index)
{
    const struct hr_loop *loop = &to->rig->description->loops[index];
    const struct hr_fluid_state *fluid = &to->rig->assembly->fluid[index];
    struct hr_loop_result *out = &to->result->loop[index];
    *out = (struct hr_loop_result){.name = copy(to, loop->name),
                                   .fluid = hr_fluid_name(loop->fluid.kind),
                                   .mass_fraction = loop->fluid.mass_fraction,
                                   .temperature_c = fluid->temperature_c,
                                   .density_kg_m3 = fluid->density,
                                   .viscosity_pa_s = fluid->viscosity,
                                   .volume_m3 = loop_volume(to->rig->description, index),
                                   .pump_head_pa = NAN,
                                   .lowest = SIZE_MAX,
                                   .highest = SIZE_MAX,
                                   .freezing_c = hr_fluid_freezing_c(&loop->fluid)};
    to->result->volume_m3 += out->volume_m3;
    if (to->rig->outcome == HR_FLOW_SOLVED) {
        sum_pumps(to, out, index);
        find_extremes(to, out, index);
    }
}

static void allocate(struct hr_writer *to)
{
    const struct hr_assembly *assembly = to->rig->assembly;
    struct hr_result *result = to->result;
    result->branches = assembly->network.branch_count;
    result->nodes = assembly->network.node_count;
    result->loops = assembly->description->loop_count;
    result->branch = array(to, result->branches, sizeof *result->branch);
    result->node = array(to, result->nodes, sizeof *result->node);
    result->pump = array(to, result->branches, sizeof *result->pump);
    result->chip = array(to, result->branches, sizeof *result->chip);
    result->loop = array(to, result->loops, sizeof *result->loop);
}

static void write_all(struct hr_writer *to)
{
    const struct hr_description *description = to->rig->description;
    struct hr_result *result = to->result;
    allocate(to);
    if (!to->complete) {
        return;
    }
    result->title = copy(to, description->title);
    result->state = copy(to, description->state);
    result->status = to->rig->outcome == HR_FLOW_SOLVED ? "solved" : "no_solution";
    result->ambient_c = description->ambient_c.value;
    result->ambient_pa = description->ambient_pa.value;
    write_nodes(to);
    if (to->rig->outcome == HR_FLOW_SOLVED) {
        const struct hr_flow_solution solution = hr_flow_solution(to->rig->flow);
        const struct hr_certificate certificate = hr_flow_certify(&to->rig->assembly->network, &solution);
        result->iterations = solution.quality.iterations;
        result->rounds = solution.quality.rounds;
        result->mass_residual = certificate.mass_residual;
        result->pressure_residual = certificate.pressure_residual;
        result->valve_residual = certificate.valve_residual;
        for (uint32_t b = 0; b < result->branches; b++) {
            write_branch(to, b);
        }
        write_pumps_and_chips(to);
        write_points(to);
    } else {
        result->branches = 0;
    }
    for (size_t i = 0; i < result->loops; i++) {
        write_loop(to, i);
    }
    hr_remark_all(to);
}

enum hr_status hr_rig_result(struct hr_rig *rig, struct hr_result **result, struct hr_report *report)
{
    *result = NULL;
    struct hr_arena arena;
    struct hr_report remarks;
    hr_arena_init(&arena);
    hr_report_init(&remarks);
    struct hr_writer to = {.rig = rig, .arena = &arena, .remarks = &remarks, .complete = true};
    to.result = array(&to, 1, sizeof *to.result);
    if (to.result != NULL) {
        write_all(&to);
    }
    if (to.complete && remarks.status == HR_OK) {
        to.result->warnings = remarks.warnings;
        to.result->warning = array(&to, remarks.warnings, sizeof *to.result->warning);
        to.result->memory = array(&to, 1, sizeof arena);
    }
    if (!to.complete || remarks.status != HR_OK) {
        hr_report_clear(&remarks);
        hr_arena_clear(&arena);
        return hr_fail_memory(report);
    }
    if (remarks.warnings > 0) {
        memcpy(to.result->warning, remarks.warning, remarks.warnings * sizeof *remarks.warning);
    }
    hr_report_clear(&remarks);
    memcpy(to.result->memory, &arena, sizeof arena);
    *result = to.result;
    return HR_OK;
}
