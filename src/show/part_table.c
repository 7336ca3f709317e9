/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables of pressure drop, or of head, against flow. */
#include "show/part_table.h"

#include "part/keys.h"

#include <math.h>
#include <string.h>

const double HR_BORE_ASSUMED = 0.01;
const double HR_TABLE_TEMPERATURE_C = 25.0;

static const double STANDARD_PRESSURE = 101325.0;
static const double COOLANT_FLOW_MAX =
    10.0 / 60e3; /* where the model names no end: the usual range of small loops */
static const double AIR_FLOW_MAX = 200.0 / 3600.0;
enum { STEPS = 10 };

/* What a table is made with. */
struct job {
    const struct hr_shown_part *part;
    struct hr_setting setting;
    struct hr_part_table *table;
    struct hr_shown_unit unit;
};

/* The smallest round step (1, 2 or 5 times a power of ten) that takes at most STEPS to reach `limit`. */
static double round_step(double limit)
{
    const double least = limit / STEPS;
    const double power = pow(10.0, floor(log10(least)));
    const double share = least / power;
    return power * (share <= 1.0 + 1e-9 ? 1.0 : share <= 2.0 + 1e-9 ? 2.0 : share <= 5.0 + 1e-9 ? 5.0 : 10.0);
}

static bool is_outside(const struct hr_range range[], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const double value = fabs(range[i].value);
        if (value < range[i].low * (1.0 - 1e-9) || value > range[i].high * (1.0 + 1e-9)) {
            return true;
        }
    }
    return false;
}

/* The fin side of a radiator tells its range by its keys. */
static size_t air_side_range(const struct hr_params *params, double flow, struct hr_range range[])
{
    const struct hr_params *side = hr_param_map(params, "air_side");
    const struct hr_params *given = side == NULL ? NULL : hr_param_map(side, "range");
    if (given == NULL) {
        return 0;
    }
    range[0] = (struct hr_range){.what = "flow",
                                 .low = hr_param_number(given, "flow_min", NAN),
                                 .high = hr_param_number(given, "flow_max", NAN),
                                 .value = flow,
                                 .unit = "m3/s"};
    return 1;
}

static size_t ranges_at(const struct job *job, double flow, struct hr_range range[])
{
    const struct hr_part_kind *kind = job->part->model.kind;
    if (job->table->air && kind->bind_air != NULL) {
        return air_side_range(job->part->model.params, flow, range);
    }
    if (kind->facts == NULL) {
        return 0;
    }
    struct hr_part_facts facts = {0};
    kind->facts(job->part->part, &job->setting, flow, &facts);
    memcpy(range, facts.range, sizeof facts.range);
    return facts.range_count;
}

static double drop_of(const struct hr_part_branch *branch, double flow)
{
    double sum = 0.0;
    for (size_t i = 0; i < branch->law_count; i++) {
        double drop;
        double slope;
        hr_law_evaluate(&branch->law[i], flow, &drop, &slope);
        sum += drop;
    }
    return sum;
}

static void bind(const struct job *job, struct hr_part_branch branch[])
{
    const struct hr_part_kind *kind = job->part->model.kind;
    memset(branch, 0, HR_PORTS_MAX * sizeof branch[0]);
    if (job->table->air && kind->bind_air != NULL) {
        kind->bind_air(job->part->part, &job->setting, branch);
    } else {
        kind->bind(job->part->part, &job->setting, branch);
    }
}

/* From the first port to another, all flow going that way. */
static double way_drop(const struct job *job, const struct hr_part_branch branch[], size_t way, double flow)
{
    const struct hr_part_kind *kind = job->part->model.kind;
    if (job->table->way[way] == NULL) {
        return drop_of(&branch[0], flow);
    }
    double flows[HR_PORTS_MAX] = {0};
    double drops[HR_PORTS_MAX] = {0};
    flows[0] = flow;
    flows[way + 1] = -flow;
    if (kind->split != NULL) {
        kind->split(job->part->part, &job->setting, flows, drops);
    }
    return drop_of(&branch[0], flow) + drops[0] - drop_of(&branch[way + 1], -flow) - drops[way + 1];
}

static void add_sample(const struct job *job, const struct hr_part_branch branch[], double flow)
{
    struct hr_part_table *table = job->table;
    if (table->samples == HR_SAMPLES_MAX) {
        return;
    }
    struct hr_part_sample *sample = &table->sample[table->samples++];
    struct hr_range range[HR_RANGES_MAX];
    sample->flow_m3_s = flow;
    for (size_t way = 0; way < table->ways; way++) {
        const double drop = way_drop(job, branch, way, flow);
        sample->dp_pa[way] = table->head ? 0.0 - drop : drop;
    }
    sample->outside = is_outside(range, ranges_at(job, flow, range));
}

/* The flow at which the table ends. */
static double limit_of(const struct job *job, double free_flow)
{
    for (size_t i = 0; i < job->table->ranges; i++) {
        const struct hr_range *range = &job->table->range[i];
        if (!job->table->head && strcmp(range->what, "flow") == 0 && isfinite(range->high) &&
            range->high > 0.0) {
            return range->high;
        }
    }
    if (isfinite(free_flow) && free_flow > 0.0) {
        return free_flow;
    }
    return job->table->air ? AIR_FLOW_MAX : COOLANT_FLOW_MAX;
}

static void fill_samples(const struct job *job, const struct hr_part_branch branch[], double free_flow)
{
    const double limit = limit_of(job, free_flow);
    const double step =
        round_step(hr_in_unit(&job->unit, limit) - hr_in_unit(&job->unit, 0.0)) * job->unit.factor;
    for (size_t i = job->table->head ? 0 : 1; i < HR_SAMPLES_MAX && (double)i * step <= limit * (1.0 + 1e-9);
         i++) {
        add_sample(job, branch, (double)i * step);
    }
    const double last = job->table->samples > 0 ? job->table->sample[job->table->samples - 1].flow_m3_s : 0.0;
    if (last < limit * (1.0 - 1e-9)) {
        add_sample(job, branch, limit);
    }
    if (!job->table->head) {
        add_sample(job, branch, ceil(limit / step * (1.0 + 1e-9)) * step); /* one beyond */
    }
}

static void name_ways(const struct hr_part_kind *kind, struct hr_part_table *table)
{
    size_t ports = 0;
    while (kind->ports[ports] != NULL) {
        ports++;
    }
    table->ways = 1;
    if (ports > 2 && !table->air) {
        table->ways = ports - 1;
        for (size_t way = 0; way < table->ways; way++) {
            table->way[way] = kind->ports[way + 1];
        }
    }
}

static const char *remark_on(const struct hr_part_kind *kind, const struct hr_part_branch *branch,
                             bool has_ways)
{
    if (branch->closed) {
        return "it is closed: nothing flows";
    }
    if (branch->fixed_flow) {
        return "it is an ideal pump: the flow is given, the pressure follows";
    }
    if (branch->law_count == 0 && !(has_ways && kind->split != NULL)) {
        return "it has no pressure drop";
    }
    return NULL;
}

static void fill_table(struct job *job)
{
    const struct hr_part_kind *kind = job->part->model.kind;
    struct hr_part_table *table = job->table;
    struct hr_part_branch branch[HR_PORTS_MAX];
    double free_flow = NAN;
    const struct hr_fluid fluid = {.kind = table->air ? HR_AIR : HR_WATER};
    (void)hr_fluid_at(&fluid, HR_TABLE_TEMPERATURE_C, STANDARD_PRESSURE, &table->fluid);
    job->setting = (struct hr_setting){.fluid = &table->fluid, .speed_rpm = NAN};
    table->speed_rpm = NAN;
    name_ways(kind, table);
    if (kind->machine != NULL) {
        struct hr_machine_facts facts;
        kind->machine(job->part->part, &job->setting, 0.0, &facts);
        table->head = true;
        table->speed_rpm = facts.speed_rpm;
        free_flow = facts.free_flow_m3_s;
    }
    bind(job, branch);
    table->ranges = ranges_at(job, 0.0, table->range);
    table->remark = remark_on(kind, branch, table->ways > 1);
    if (table->remark == NULL) {
        fill_samples(job, branch, free_flow);
    }
}

/* A copy of the parameters with a bore. */
static const struct hr_params *with_bore(const struct hr_params *params, const struct hr_key *key,
                                         struct hr_arena *arena)
{
    struct hr_params *copy = hr_arena_alloc(arena, 1, sizeof *copy);
    struct hr_value *values = hr_arena_alloc(arena, params->count + 1, sizeof *values);
    if (copy == NULL || values == NULL) {
        return NULL;
    }
    if (params->count > 0) {
        memcpy(values, params->value, params->count * sizeof *values);
    }
    values[params->count] = (struct hr_value){
        .key = key, .at = params->at, .number = HR_BORE_ASSUMED, .fit_min = NAN, .fit_max = NAN};
    *copy = *params;
    copy->value = values;
    copy->count = params->count + 1;
    return copy;
}

/* Makes the part. What it lacks is kept as a remark: values of the loop file may complete it. */
static enum hr_status make(struct hr_shown_part *part, struct hr_report *report)
{
    const struct hr_part_kind *kind = part->model.kind;
    const struct hr_key *bore = hr_part_kind_key(kind, "bore");
    struct hr_report faults;
    hr_report_init(&faults);
    enum hr_status status = kind->make(part->model.params, &part->arena, &part->part, &faults);
    if (status == HR_INPUT && bore != NULL && hr_param(part->model.params, "bore") == NULL) {
        const struct hr_params *params = with_bore(part->model.params, bore, &part->arena);
        struct hr_report again;
        hr_report_init(&again);
        if (params == NULL) {
            status = hr_fail_memory(report);
        } else if (kind->make(params, &part->arena, &part->part, &again) == HR_OK) {
            part->bore_assumed = true;
            status = HR_OK;
        }
        hr_report_clear(&again);
    }
    if (status != HR_OK) {
        part->part = NULL;
        memcpy(part->why_not, faults.error[0].text, sizeof part->why_not);
    }
    if (status == HR_SYSTEM && report->status == HR_OK) {
        (void)hr_fail_memory(report);
    }
    hr_report_clear(&faults);
    return status == HR_SYSTEM ? status : HR_OK;
}

static bool holds_coolant(const struct hr_part_kind *kind)
{
    for (size_t i = 0; kind->groups[i] != NULL; i++) {
        if (kind->groups[i] == &hr_keys_coolant) {
            return true;
        }
    }
    return false;
}

enum hr_status hr_shown_part_read(struct hr_source *library, const char *name,
                                  const struct hr_shown_unit *flow, struct hr_shown_part *part,
                                  struct hr_report *report)
{
    memset(part, 0, sizeof *part);
    hr_arena_init(&part->arena);
    enum hr_status status = hr_source_model(library, name, &part->model, report);
    if (status == HR_OK) {
        status = make(part, report);
    }
    if (status != HR_OK) {
        return status;
    }
    const struct hr_part_kind *kind = part->model.kind;
    part->has_coolant = holds_coolant(kind);
    part->has_air = !part->has_coolant || kind->bind_air != NULL;
    part->air.air = true;
    if (part->part == NULL) {
        return HR_OK;
    }
    if (part->has_coolant) {
        struct job job = {.part = part, .table = &part->coolant, .unit = *flow};
        fill_table(&job);
    }
    if (part->has_air) {
        struct job job = {.part = part, .table = &part->air, .unit = {"m3/h", 1.0 / 3600.0, 0.0}};
        fill_table(&job);
    }
    return HR_OK;
}

void hr_shown_part_clear(struct hr_shown_part *part)
{
    hr_arena_clear(&part->arena);
}
