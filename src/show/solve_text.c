/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A solution as text: the answer first, then what it rests on, then the tables that prove it. */
#include "headrace/show.h"
#include "show/table.h"
#include "show/units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double METRE_OF_WATER = 9806.65; /* Pa, conventional (ISO 80000-4) */

struct page {
    const struct hr_result *result;
    const struct hr_show_settings *settings;
    struct hr_shown_units units;
    struct hr_text text;
};

/* A value with its unit in running text. */
static void add_quantity(struct page *page, double si, const struct hr_shown_unit *unit)
{
    char number[HR_CELL];
    hr_format_number(number, sizeof number, hr_in_unit(unit, si));
    hr_text_add(&page->text, "%s %s", number, unit->name);
}

static void add_number(struct page *page, double value)
{
    char number[HR_CELL];
    hr_format_number(number, sizeof number, value);
    hr_text_add(&page->text, "%s", number);
}

static void heading(struct page *page, const char *text)
{
    const bool colour = page->settings->colour;
    hr_text_add(&page->text, "\n%s%s%s\n", colour ? "\033[1m" : "", text, colour ? "\033[0m" : "");
}

static void answer_loop(struct page *page, const struct hr_loop_result *loop)
{
    if (loop->name != NULL) {
        hr_text_add(&page->text, "loop %s: ", loop->name);
    }
    add_quantity(page, loop->flow_m3_s, &page->units.flow);
    hr_text_add(&page->text, " of %s", loop->fluid);
    if (!isnan(loop->pump_head_pa)) {
        hr_text_add(&page->text, " against ");
        add_quantity(page, loop->pump_head_pa, &page->units.pressure);
    }
}

/* The one sentence: flow and pressure of each loop, the warmest chip over its coolant, the power of the
 * pumps. */
static void answer(struct page *page)
{
    const struct hr_result *result = page->result;
    hr_text_add(&page->text, "%s%s%s%s: ", result->title != NULL ? result->title : "Loop",
                result->state != NULL ? " (" : "", result->state != NULL ? result->state : "",
                result->state != NULL ? ")" : "");
    if (result->reason != NULL) {
        hr_text_add(&page->text, "no solution exists: %s.\n", result->reason);
        return;
    }
    for (size_t i = 0; i < result->loops; i++) {
        hr_text_add(&page->text, "%s", i > 0 ? "; " : "");
        answer_loop(page, &result->loop[i]);
    }
    const struct hr_chip_result *warmest = NULL;
    for (size_t i = 0; i < result->chips; i++) {
        const struct hr_chip_result *chip = &result->chip[i];
        if (!isnan(chip->rise_k) && (warmest == NULL || chip->rise_k > warmest->rise_k)) {
            warmest = chip;
        }
    }
    if (warmest != NULL) {
        hr_text_add(&page->text, "; %s's chip stands ", warmest->name);
        add_number(page, warmest->rise_k);
        hr_text_add(&page->text, " K over the coolant at its inlet");
    }
    hr_text_add(&page->text, ".\n");
}

static void assumptions(struct page *page)
{
    if (page->result->notes > 0) {
        heading(page, "Assumed");
    }
    for (size_t i = 0; i < page->result->notes; i++) {
        hr_text_add(&page->text, "  - %s\n", page->result->note[i]);
    }
}

static void chips(struct page *page)
{
    if (page->result->chips == 0) {
        return;
    }
    struct hr_table table = {0};
    heading(page, "Chips over the coolant at their block's inlet");
    hr_table_column(&table, HR_LEFT, "block");
    hr_table_column(&table, HR_RIGHT, "%s", page->units.flow.name);
    hr_table_column(&table, HR_RIGHT, "chip W");
    hr_table_column(&table, HR_RIGHT, "to coolant W");
    hr_table_column(&table, HR_RIGHT, "K/W");
    hr_table_column(&table, HR_RIGHT, "rise K");
    for (size_t i = 0; i < page->result->chips; i++) {
        const struct hr_chip_result *chip = &page->result->chip[i];
        hr_table_cell(&table, "%s", chip->name);
        hr_table_number(&table, hr_in_unit(&page->units.flow, chip->flow_m3_s));
        hr_table_number(&table, chip->heat_w);
        hr_table_number(&table, chip->heat_to_coolant_w);
        hr_table_number(&table, chip->resistance_k_w);
        hr_table_number(&table, chip->rise_k);
    }
    hr_table_write(&table, &page->text);
    hr_table_clear(&table);
}

/* The three largest losses, each with its share of what the pumps give. */
static void restrictions(struct page *page)
{
    const struct hr_branch_result *worst[3] = {NULL, NULL, NULL};
    for (size_t b = 0; b < page->result->branches; b++) {
        const struct hr_branch_result *branch = &page->result->branch[b];
        if (isnan(branch->head_share) || !(branch->head_share > 0.0)) {
            continue;
        }
        for (size_t i = 0; i < 3; i++) {
            if (worst[i] == NULL || branch->head_share > worst[i]->head_share) {
                memmove(&worst[i + 1], &worst[i], (2 - i) * sizeof(struct hr_branch_result *));
                worst[i] = branch;
                break;
            }
        }
    }
    if (worst[0] == NULL) {
        return;
    }
    heading(page, "Largest restrictions");
    for (size_t i = 0; i < 3 && worst[i] != NULL; i++) {
        hr_text_add(&page->text, "  %s%s%s  ", worst[i]->name, worst[i]->port != NULL ? "." : "",
                    worst[i]->port != NULL ? worst[i]->port : "");
        add_quantity(page, fabs(worst[i]->dp_pa), &page->units.pressure);
        hr_text_add(&page->text, ", %.0f %% of the pump head\n", 100.0 * worst[i]->head_share);
    }
}

static void pumps(struct page *page)
{
    if (page->result->pumps == 0) {
        return;
    }
    struct hr_table table = {0};
    heading(page, "Pumps");
    hr_table_column(&table, HR_LEFT, "pump");
    hr_table_column(&table, HR_RIGHT, "rpm");
    hr_table_column(&table, HR_RIGHT, "%s", page->units.flow.name);
    hr_table_column(&table, HR_RIGHT, "head %s", page->units.pressure.name);
    hr_table_column(&table, HR_RIGHT, "mH2O");
    hr_table_column(&table, HR_RIGHT, "of free flow");
    hr_table_column(&table, HR_RIGHT, "of shut-off");
    hr_table_column(&table, HR_RIGHT, "W");
    hr_table_column(&table, HR_RIGHT, "NPSH m");
    for (size_t i = 0; i < page->result->pumps; i++) {
        const struct hr_pump_result *pump = &page->result->pump[i];
        hr_table_cell(&table, "%s%s", pump->name, pump->stopped ? " (stopped)" : "");
        hr_table_number(&table, pump->speed_rpm);
        hr_table_number(&table, hr_in_unit(&page->units.flow, pump->flow_m3_s));
        hr_table_number(&table, hr_in_unit(&page->units.pressure, pump->head_pa));
        hr_table_number(&table, pump->head_pa / METRE_OF_WATER);
        const bool curve = pump->free_flow_m3_s > 0.0 && pump->shut_off_pa > 0.0;
        hr_table_cell(&table, curve ? "%.0f %%" : "", 100.0 * pump->flow_m3_s / pump->free_flow_m3_s);
        hr_table_cell(&table, curve ? "%.0f %%" : "", 100.0 * pump->head_pa / pump->shut_off_pa);
        hr_table_number(&table, pump->power_w);
        hr_table_number(&table, pump->npsh_m);
    }
    hr_table_write(&table, &page->text);
    hr_table_clear(&table);
}

static void operating_points(struct page *page)
{
    if (page->result->points == 0) {
        return;
    }
    heading(page, "The pump's curve meets the loop more than once");
    for (size_t i = 0; i < page->result->points; i++) {
        const struct hr_operating_point *point = &page->result->point[i];
        hr_text_add(&page->text, "  %s  ", point->part);
        add_quantity(page, point->flow_m3_s, &page->units.flow);
        hr_text_add(&page->text, " at ");
        add_quantity(page, point->head_pa, &page->units.pressure);
        hr_text_add(&page->text, ", %s%s\n", point->stable ? "stable" : "unstable",
                    point->chosen ? ", shown here" : "");
    }
}

static void pressures(struct page *page)
{
    heading(page, "Pressures and volume");
    for (size_t i = 0; i < page->result->loops; i++) {
        const struct hr_loop_result *loop = &page->result->loop[i];
        hr_text_add(&page->text, "  ");
        if (loop->name != NULL) {
            hr_text_add(&page->text, "%s: ", loop->name);
        }
        if (loop->lowest != SIZE_MAX) {
            const struct hr_node_result *low = &page->result->node[loop->lowest];
            const struct hr_node_result *high = &page->result->node[loop->highest];
            hr_text_add(&page->text, "lowest ");
            add_quantity(page, low->pressure_pa, &page->units.pressure);
            hr_text_add(&page->text, " at %s, highest ", low->name);
            add_quantity(page, high->pressure_pa, &page->units.pressure);
            hr_text_add(&page->text, " at %s (over the room's); ", high->name);
        }
        hr_text_add(&page->text, "coolant volume ");
        add_number(page, loop->volume_m3 * 1e6);
        hr_text_add(&page->text, " mL\n");
    }
}

/* What is remarkable about a branch, in one word or two. */
static const char *mark_of(const struct hr_branch_result *branch)
{
    if (branch->stagnant) {
        return "still";
    }
    if (branch->against_arrow) {
        return branch->out_of_range ? "backwards, out of range" : "backwards";
    }
    return branch->out_of_range ? "out of range" : "";
}

static void branch_row(struct page *page, struct hr_table *table, const struct hr_branch_result *branch)
{
    const bool backwards = branch->flow_m3_s < 0.0;
    hr_table_cell(table, "%s%s%s", branch->name, branch->port != NULL ? "." : "",
                  branch->port != NULL ? branch->port : "");
    hr_table_cell(table, "%s", branch->model != NULL ? branch->model : branch->kind);
    if (branch->is_run) {
        hr_table_cell(table, "%s → %s", backwards ? branch->to_name : branch->from_name,
                      backwards ? branch->from_name : branch->to_name);
    } else if (branch->port != NULL) {
        hr_table_cell(table, "%s", backwards ? "out" : "in");
    } else {
        hr_table_cell(table, "%s", backwards ? "out → in" : "in → out");
    }
    hr_table_number(table, fabs(hr_in_unit(&page->units.flow, branch->flow_m3_s)));
    hr_table_number(table, hr_in_unit(&page->units.pressure, branch->dp_pa) * (backwards ? -1.0 : 1.0));
    hr_table_cell(table, isnan(branch->head_share) ? "" : "%.0f %%", 100.0 * branch->head_share);
    if (page->settings->detail) {
        hr_table_number(table, fabs(branch->velocity_m_s));
    }
    hr_table_number(table, branch->reynolds);
    const char *word = hr_regime_word(branch->regime);
    hr_table_cell(table, "%s", word != NULL ? word : "");
    hr_table_cell(table, "%s", mark_of(branch));
}

static void branches(struct page *page)
{
    struct hr_table table = {0};
    heading(page, "Parts and runs");
    hr_table_column(&table, HR_LEFT, "name");
    hr_table_column(&table, HR_LEFT, "what");
    hr_table_column(&table, HR_LEFT, "direction");
    hr_table_column(&table, HR_RIGHT, "%s", page->units.flow.name);
    hr_table_column(&table, HR_RIGHT, "drop %s", page->units.pressure.name);
    hr_table_column(&table, HR_RIGHT, "of head");
    if (page->settings->detail) {
        hr_table_column(&table, HR_RIGHT, "m/s");
    }
    hr_table_column(&table, HR_RIGHT, "Re");
    hr_table_column(&table, HR_LEFT, "regime");
    hr_table_column(&table, HR_LEFT, "mark");
    for (size_t b = 0; b < page->result->branches; b++) {
        branch_row(page, &table, &page->result->branch[b]);
    }
    hr_table_write(&table, &page->text);
    hr_table_clear(&table);
}

static void node_table(struct page *page)
{
    struct hr_table table = {0};
    heading(page, "Pressures over the room's");
    hr_table_column(&table, HR_LEFT, "place");
    hr_table_column(&table, HR_RIGHT, "%s", page->units.pressure.name);
    hr_table_column(&table, HR_RIGHT, "height m");
    for (size_t i = 0; i < page->result->nodes; i++) {
        const struct hr_node_result *node = &page->result->node[i];
        hr_table_cell(&table, "%s", node->name);
        hr_table_number(&table, hr_in_unit(&page->units.pressure, node->pressure_pa));
        hr_table_number(&table, node->height_m);
    }
    hr_table_write(&table, &page->text);
    hr_table_clear(&table);
}

static void account(struct page *page)
{
    const struct hr_result *result = page->result;
    hr_text_add(&page->text,
                "\nChecked against the laws: mass within %.1e, pressure within %.1e, valves within %.1e; %zu "
                "steps%s\n",
                result->mass_residual, result->pressure_residual, result->valve_residual, result->iterations,
                result->rounds > 1 ? ", several rounds" : "");
}

static void cautions(struct page *page)
{
    hr_text_add(&page->text, "\nBefore power is on: leak-test the loop, keep water away from live parts, "
                             "keep within the makers' limits\n"
                             "of pressure and temperature; their instructions and local rules come first.\n");
}

static enum hr_status finish(struct page *page, char **text, struct hr_report *report)
{
    if (page->text.failed) {
        hr_text_clear(&page->text);
        return hr_fail_memory(report);
    }
    *text = page->text.bytes;
    return HR_OK;
}

enum hr_status hr_solve_text(const struct hr_result *result, const struct hr_show_settings *settings,
                             char **text, struct hr_report *report)
{
    struct page page = {.result = result, .settings = settings};
    *text = NULL;
    const enum hr_status status = hr_shown_units_choose(settings->units, &page.units, report);
    if (status != HR_OK) {
        return status;
    }
    answer(&page);
    assumptions(&page);
    if (result->reason == NULL) {
        chips(&page);
        restrictions(&page);
        pumps(&page);
        operating_points(&page);
        pressures(&page);
        branches(&page);
        if (settings->detail) {
            node_table(&page);
        }
        account(&page);
        cautions(&page);
    }
    return finish(&page, text, report);
}
