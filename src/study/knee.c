/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pump speed beyond which more buys little, by three definitions, each found by solving between the
 * grid's points. What counts is the rise of each chip over the coolant at its block's inlet. */
#include "study/study.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Knees are found to this share of the range. */
static const double PRECISION = 1e-6;
/* Step for the slope of a rise against speed, as a share of the range: the error of the central difference
 * and that of the solver (1e-12 of the rise) are then both far below the gain that is looked for. */
static const double SLOPE_STEP = 1e-4;

struct search {
    const struct hr_swept *swept;
    struct hr_rig *rig;
    const struct hr_sweep_settings *settings;
    const double *speed; /* of the grid */
    size_t count;
    uint32_t *branch; /* of each chip */
    size_t chips;
    double *rise;         /* count rows of chips */
    double *best;         /* by chip: lowest rise on the grid */
    double *now, *before; /* by chip: scratch */
    size_t asked;         /* the chip whose curve is looked at */
};

static double rise_of(const struct search *search, size_t chip)
{
    struct hr_chip_result result;
    return hr_rig_chip(search->rig, search->branch[chip], &result) ? result.rise_k : NAN;
}

/* Solves at a speed; false where nothing results. */
static bool solve_at(struct search *search, double speed)
{
    hr_swept_apply(search->swept, search->rig, speed);
    return hr_rig_solve(search->rig) == HR_FLOW_SOLVED;
}

static double rise_at(void *context, double speed)
{
    struct search *search = context;
    return solve_at(search, speed) ? rise_of(search, search->asked) : NAN;
}

/* The chip that is farthest above what "enough" allows it; its excess is <= 0 where all are within. */
static size_t worst_excess(const struct search *search, const double rise[], double *excess)
{
    size_t worst = 0;
    *excess = -INFINITY;
    for (size_t i = 0; i < search->chips; i++) {
        const double over = rise[i] - search->best[i] - search->settings->tolerance_k;
        if (!(over <= *excess)) {
            *excess = over;
            worst = i;
        }
    }
    return worst;
}

static const double *rises_at(struct search *search, double speed)
{
    const bool solved = solve_at(search, speed);
    for (size_t i = 0; i < search->chips; i++) {
        search->now[i] = solved ? rise_of(search, i) : NAN;
    }
    return search->now;
}

static bool is_enough(void *context, double speed)
{
    struct search *search = context;
    double excess;
    (void)worst_excess(search, rises_at(search, speed), &excess);
    return excess <= 0.0;
}

/* The largest gain of any chip in K per 100 rpm of the first pump, and which. */
static double largest_gain(struct search *search, double speed, size_t *chip)
{
    const double low = search->speed[0];
    const double high = search->speed[search->count - 1];
    const double step = SLOPE_STEP * (high - low);
    const double below = fmax(speed - step, low);
    const double above = fmin(speed + step, high);
    const double rpm = search->swept->percent ? 0.01 * search->swept->pump_max_rpm[0] : 1.0;
    double largest = -INFINITY;
    memcpy(search->before, rises_at(search, below), search->chips * sizeof *search->before);
    const double *after = rises_at(search, above);
    *chip = 0;
    for (size_t i = 0; i < search->chips; i++) {
        const double gain = 100.0 * (search->before[i] - after[i]) / ((above - below) * rpm);
        if (!(gain <= largest)) {
            largest = gain;
            *chip = i;
        }
    }
    return largest;
}

static bool gain_is_small(void *context, double speed)
{
    size_t chip;
    return largest_gain(context, speed, &chip) < ((struct search *)context)->settings->gain_k;
}

/* Completes a knee whose speed and chip are known. */
static void describe(struct search *search, struct hr_knee *knee, size_t chip, const struct hr_sweep *sweep)
{
    knee->rise_k = rises_at(search, knee->value)[chip];
    knee->best_k = search->best[chip];
    knee->flow_m3_s = 0.0;
    const double *flow = hr_flow_solution(search->rig->flow).branch_flow;
    for (size_t b = 0; b < search->rig->assembly->network.branch_count; b++) {
        knee->flow_m3_s = fmax(knee->flow_m3_s, fabs(flow[b]));
    }
    /* The result's own copy of the name outlives the rig. */
    const char *name = search->rig->assembly->branch[search->branch[chip]].name;
    for (size_t i = 0; i < sweep->point[0]->chips; i++) {
        if (strcmp(sweep->point[0]->chip[i].name, name) == 0) {
            knee->binding = sweep->point[0]->chip[i].name;
        }
    }
}

/* The lowest place from which a condition holds up to the end of the range: found on the grid, then between
 * its points. */
static struct hr_knee first_place(struct search *search, hr_condition_fn *holds,
                                  enum hr_knee_definition definition)
{
    const double span = search->speed[search->count - 1] - search->speed[0];
    struct hr_knee knee = {.definition = definition, .reached = true};
    size_t first = search->count;
    while (first > 0 && holds(search, search->speed[first - 1])) {
        first--;
    }
    if (first == search->count) {
        knee.reached = false;
        knee.value = search->speed[search->count - 1];
    } else if (first == 0) {
        knee.at_start = true;
        knee.value = search->speed[0];
    } else {
        knee.value =
            hr_first_true(search->speed[first - 1], search->speed[first], holds, search, PRECISION * span);
    }
    return knee;
}

static void find_enough(struct search *search, struct hr_sweep *sweep)
{
    struct hr_knee knee = first_place(search, is_enough, HR_KNEE_ENOUGH);
    double excess;
    const size_t chip = worst_excess(search, rises_at(search, knee.value), &excess);
    describe(search, &knee, chip, sweep);
    sweep->knee[sweep->knees++] = knee;
}

static void find_gain(struct search *search, struct hr_sweep *sweep)
{
    struct hr_knee knee = first_place(search, gain_is_small, HR_KNEE_GAIN);
    size_t chip;
    (void)largest_gain(search, knee.value, &chip);
    describe(search, &knee, chip, sweep);
    sweep->knee[sweep->knees++] = knee;
}

/* The bend of each chip's curve; the one at the highest speed decides. */
static void find_bend(struct search *search, struct hr_sweep *sweep, double *curve)
{
    const double span = search->speed[search->count - 1] - search->speed[0];
    struct hr_knee knee = {.definition = HR_KNEE_BEND, .value = search->speed[search->count - 1]};
    size_t chip = 0;
    for (size_t i = 0; i < search->chips; i++) {
        for (size_t s = 0; s < search->count; s++) {
            curve[s] = search->rise[s * search->chips + i];
        }
        search->asked = i;
        const double bend =
            hr_bend_between(search->speed, curve, search->count, rise_at, search, PRECISION * span);
        if (!isnan(bend) && (!knee.reached || bend > knee.value)) {
            knee.reached = true;
            knee.value = bend;
            chip = i;
        }
    }
    describe(search, &knee, chip, sweep);
    sweep->knee[sweep->knees++] = knee;
}

/* The part of the range that has solutions and rises of all chips, counted from its upper end: at zero speed
 * nothing flows, and a chip's rise is infinite. */
static size_t first_usable(const struct search *search, const struct hr_sweep *sweep)
{
    size_t first = sweep->points;
    while (first > 0) {
        const struct hr_result *point = sweep->point[first - 1];
        bool usable = strcmp(point->status, "solved") == 0 && point->chips >= search->chips;
        for (size_t i = 0; i < point->chips && usable; i++) {
            usable = isnan(point->chip[i].resistance_k_w) || isfinite(point->chip[i].rise_k);
        }
        if (!usable) {
            break;
        }
        first--;
    }
    return first;
}

/* Branches of the chips whose resistance is known. */
static void list_chips(struct search *search)
{
    const struct hr_network *network = &search->rig->assembly->network;
    for (uint32_t b = 0; b < network->branch_count; b++) {
        struct hr_chip_result chip;
        if (search->rig->assembly->branch[b].port == NULL && hr_rig_chip(search->rig, b, &chip) &&
            !isnan(chip.resistance_k_w) && chip.heat_to_coolant_w > 0.0) {
            search->branch[search->chips++] = b;
        }
    }
}

static void fill_grid(struct search *search)
{
    for (size_t i = 0; i < search->chips; i++) {
        search->best[i] = INFINITY;
    }
    for (size_t s = 0; s < search->count; s++) {
        const double *rise = rises_at(search, search->speed[s]);
        for (size_t i = 0; i < search->chips; i++) {
            search->rise[s * search->chips + i] = rise[i];
            search->best[i] = fmin(search->best[i], rise[i]);
        }
    }
}

static enum hr_status search_all(struct search *search, struct hr_sweep *sweep, struct hr_report *report)
{
    const size_t chips = search->chips > 0 ? search->chips : 1;
    search->rise = hr_alloc(search->count * chips, sizeof *search->rise);
    search->best = hr_alloc(chips, sizeof *search->best);
    search->now = hr_alloc(chips, sizeof *search->now);
    search->before = hr_alloc(chips, sizeof *search->before);
    double *curve = hr_alloc(search->count, sizeof *curve);
    const bool complete = search->rise != NULL && search->best != NULL && search->now != NULL &&
                          search->before != NULL && curve != NULL;
    if (complete) {
        fill_grid(search);
        find_enough(search, sweep);
        find_bend(search, sweep, curve);
        find_gain(search, sweep);
    }
    free(search->rise);
    free(search->best);
    free(search->now);
    free(search->before);
    free(curve);
    return complete ? HR_OK : hr_fail_memory(report);
}

enum hr_status hr_sweep_find_knees(struct hr_sweep *sweep, const struct hr_swept *swept, struct hr_rig *rig,
                                   const struct hr_sweep_settings *settings, struct hr_report *report)
{
    struct search search = {.swept = swept, .rig = rig, .settings = settings};
    search.branch = hr_alloc(rig->assembly->network.branch_count, sizeof *search.branch);
    if (search.branch == NULL) {
        return hr_fail_memory(report);
    }
    enum hr_status status = HR_OK;
    list_chips(&search);
    const size_t first = first_usable(&search, sweep);
    search.speed = sweep->axis[0].value + first;
    search.count = sweep->points - first;
    if (search.chips == 0) {
        sweep->no_knee = "no block has both heat and a resistance";
    } else if (search.count < 3) {
        sweep->no_knee = "fewer than three speeds give a flow";
    } else {
        status = search_all(&search, sweep, report);
    }
    free(search.branch);
    return status;
}
