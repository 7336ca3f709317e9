/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sweep as text: the knee in one sentence, the other knees, then a row a point. */
#include "headrace/show.h"
#include "show/table.h"
#include "show/units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BAR = 20, CHIP_COLUMNS = 8 };

struct page {
    const struct hr_sweep *sweep;
    const struct hr_show_settings *settings;
    struct hr_shown_units units;
    struct hr_text text;
    bool chips;                /* some block's rise is known */
    double best[CHIP_COLUMNS]; /* lowest rise of each chip */
};

static bool solved(const struct hr_result *point)
{
    return point->reason == NULL;
}

static void add_at(struct page *page, const struct hr_knee *knee)
{
    char number[HR_CELL];
    const struct hr_axis *axis = &page->sweep->axis[0];
    hr_text_add(&page->text, "%.0f %s (", knee->value, axis->unit);
    hr_format_number(number, sizeof number, hr_in_unit(&page->units.flow, knee->flow_m3_s));
    hr_text_add(&page->text, "%s %s)", number, page->units.flow.name);
}

static void add_enough(struct page *page, const struct hr_knee *knee)
{
    const struct hr_axis *axis = &page->sweep->axis[0];
    if (knee->at_start) {
        hr_text_add(&page->text, "%s: the lowest speed of the range, ", axis->name);
        add_at(page, knee);
        hr_text_add(&page->text, ", is enough already: every chip is within the tolerance of its best.\n");
    } else if (knee->reached) {
        hr_text_add(&page->text, "%s: ", axis->name);
        add_at(page, knee);
        hr_text_add(&page->text, " is enough; %s decides: faster buys its chip at most %.2g K more.\n",
                    knee->binding, knee->rise_k - knee->best_k);
    } else {
        hr_text_add(&page->text, "%s: no speed of the range is enough for %s; try a wider range.\n",
                    axis->name, knee->binding);
    }
}

/* Enough comes first, as the answer; the other definitions follow as lines of their own. */
static void knees(struct page *page)
{
    const struct hr_sweep *sweep = page->sweep;
    for (size_t i = 0; i < sweep->knees; i++) {
        const struct hr_knee *knee = &sweep->knee[i];
        switch (knee->definition) {
        case HR_KNEE_ENOUGH:
            add_enough(page, knee);
            break;
        case HR_KNEE_BEND:
            hr_text_add(&page->text, "  bend: ");
            if (knee->reached) {
                add_at(page, knee);
                hr_text_add(&page->text, ", where the curve of %s bends most in this range\n", knee->binding);
            } else {
                hr_text_add(&page->text, "none, the curves are straight in this range\n");
            }
            break;
        case HR_KNEE_GAIN:
            hr_text_add(&page->text, "  gain per 100 rpm: ");
            add_at(page, knee);
            hr_text_add(&page->text, "%s%s\n",
                        !knee->reached ? ", still above the wanted gain at the end of the range, for "
                        : knee->at_start
                            ? ", below the wanted gain from the lowest speed on, most of all for "
                            : ", from where each further 100 rpm gain less than wanted, longest for ",
                        knee->binding);
            break;
        }
    }
    if (sweep->no_knee != NULL) {
        hr_text_add(&page->text, "%s: %zu points%s%s; no knee: %s.\n", sweep->axis[0].name, sweep->points,
                    sweep->axes > 1 ? " with " : "", sweep->axes > 1 ? sweep->axis[1].name : "",
                    sweep->no_knee);
    }
}

/* The first point that has everything tells the columns; points that lack something get empty cells. */
static const struct hr_result *model_point(const struct hr_sweep *sweep)
{
    for (size_t i = sweep->points; i-- > 0;) {
        if (solved(sweep->point[i])) {
            return sweep->point[i];
        }
    }
    return NULL;
}

static double largest_flow(const struct hr_result *point)
{
    double flow = 0.0;
    for (size_t i = 0; i < point->loops; i++) {
        flow = fmax(flow, point->loop[i].flow_m3_s);
    }
    return flow;
}

/* What the bar of a row shows: how far the chip that is farthest from its best in the range stands above it,
 * or the flow where there are no chips. */
static double bar_value(const struct page *page, const struct hr_result *point)
{
    if (!page->chips) {
        return largest_flow(point);
    }
    double value = 0.0;
    for (size_t i = 0; i < point->chips && i < CHIP_COLUMNS; i++) {
        value = fmax(value, point->chip[i].rise_k - page->best[i]);
    }
    return value;
}

static void find_best(struct page *page, const struct hr_result *model)
{
    for (size_t i = 0; i < CHIP_COLUMNS; i++) {
        page->best[i] = INFINITY;
    }
    for (size_t i = 0; i < model->chips && i < CHIP_COLUMNS; i++) {
        page->chips = page->chips || !isnan(model->chip[i].rise_k);
        for (size_t p = 0; p < page->sweep->points; p++) {
            const struct hr_result *point = page->sweep->point[p];
            if (solved(point) && i < point->chips) {
                page->best[i] = fmin(page->best[i], point->chip[i].rise_k);
            }
        }
    }
}

static void add_bar(struct hr_table *table, double value, double high)
{
    char bar[HR_CELL] = "";
    const double share = high > 0.0 ? fmin(value / high, 1.0) : 0.0;
    const size_t length = isfinite(value) ? (size_t)lround(BAR * share) : BAR;
    for (size_t i = 0; i < length; i++) {
        memcpy(bar + 3 * i, "█", 4);
    }
    hr_table_cell(table, "%s", bar);
}

static void head(struct page *page, struct hr_table *table, const struct hr_result *model)
{
    for (size_t a = 0; a < page->sweep->axes; a++) {
        hr_table_column(table, HR_RIGHT, "%s %s", page->sweep->axis[a].name, page->sweep->axis[a].unit);
    }
    hr_table_column(table, HR_RIGHT, "%s", page->units.flow.name);
    hr_table_column(table, HR_RIGHT, "head %s", page->units.pressure.name);
    hr_table_column(table, HR_RIGHT, "pumps W");
    for (size_t i = 0; i < model->chips && i < CHIP_COLUMNS; i++) {
        if (!isnan(model->chip[i].rise_k)) {
            hr_table_column(table, HR_RIGHT, "%s K", model->chip[i].name);
        }
    }
    if (page->chips) {
        hr_table_column(table, HR_RIGHT, "over best K");
    }
    hr_table_column(table, HR_LEFT, " ");
}

static void row(struct page *page, struct hr_table *table, const struct hr_result *model, size_t index,
                double high)
{
    const struct hr_sweep *sweep = page->sweep;
    const struct hr_result *point = sweep->point[index];
    const size_t inner = sweep->axes > 1 ? sweep->axis[1].count : 1;
    const size_t at[HR_AXES_MAX] = {index / inner, index % inner};
    for (size_t a = 0; a < sweep->axes; a++) {
        hr_table_cell(table, "%.6g", sweep->axis[a].value[at[a]]);
    }
    const bool any = solved(point);
    hr_table_number(table, any ? hr_in_unit(&page->units.flow, largest_flow(point)) : NAN);
    hr_table_number(table, any && point->loops == 1
                               ? hr_in_unit(&page->units.pressure, point->loop[0].pump_head_pa)
                               : NAN);
    hr_table_number(table, any && point->power_w > 0.0 ? point->power_w : NAN);
    for (size_t i = 0; i < model->chips && i < CHIP_COLUMNS; i++) {
        if (!isnan(model->chip[i].rise_k)) {
            hr_table_number(table, any && i < point->chips ? point->chip[i].rise_k : NAN);
        }
    }
    if (page->chips) {
        hr_table_number(table, any ? bar_value(page, point) : NAN);
    }
    if (any) {
        add_bar(table, bar_value(page, point), high);
    } else {
        hr_table_cell(table, "no solution");
    }
}

static void table_of_points(struct page *page)
{
    const struct hr_sweep *sweep = page->sweep;
    const struct hr_result *model = model_point(sweep);
    if (model == NULL) {
        hr_text_add(&page->text, "no point has a solution; the first: %s\n", sweep->point[0]->reason);
        return;
    }
    double high = 0.0;
    find_best(page, model);
    for (size_t i = 0; i < sweep->points; i++) {
        const double value = solved(sweep->point[i]) ? bar_value(page, sweep->point[i]) : NAN;
        high = isfinite(value) ? fmax(high, value) : high;
    }
    struct hr_table table = {0};
    hr_text_add(&page->text, "\n");
    head(page, &table, model);
    for (size_t i = 0; i < sweep->points; i++) {
        row(page, &table, model, i, high);
    }
    hr_table_write(&table, &page->text);
    hr_table_clear(&table);
}

/* What was assumed holds for all points, as far as it is the same. */
static void notes(struct page *page)
{
    const struct hr_result *model = model_point(page->sweep);
    for (size_t i = 0; model != NULL && i < model->notes; i++) {
        hr_text_add(&page->text, "%s  - %s\n", i == 0 ? "\nAssumed\n" : "", model->note[i]);
    }
}

enum hr_status hr_sweep_text(const struct hr_sweep *sweep, const struct hr_show_settings *settings,
                             char **text, struct hr_report *report)
{
    struct page page = {.sweep = sweep, .settings = settings};
    *text = NULL;
    const enum hr_status status = hr_shown_units_choose(settings->units, &page.units, report);
    if (status != HR_OK) {
        return status;
    }
    knees(&page);
    table_of_points(&page);
    notes(&page);
    if (page.text.failed) {
        hr_text_clear(&page.text);
        return hr_fail_memory(report);
    }
    *text = page.text.bytes;
    return HR_OK;
}
