/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library of parts for people. */
#include "headrace/show.h"

#include "show/part_table.h"
#include "show/part_units.h"
#include "show/part_values.h"
#include "show/table.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double MH2O = 9806.65; /* conventional metre of water, Pa */

enum { PLACE_ROOM = 64 };

/* One page in the making. */
struct page {
    struct hr_text text;
    struct hr_shown_units units;
    size_t width; /* of the first column */
};

static enum hr_status finish(struct page *page, char **text, struct hr_report *report)
{
    if (page->text.failed) {
        hr_text_clear(&page->text);
        return hr_fail_memory(report);
    }
    *text = page->text.bytes;
    return HR_OK;
}

static void add_padded(struct hr_text *text, const char *word, size_t width)
{
    const size_t used = hr_text_width(word);
    hr_text_add(text, "%s%*s", word, used < width ? (int)(width - used) : 0, "");
}

static void add_kind(struct page *page, const struct hr_part_kind *kind, const struct hr_model model[],
                     size_t count)
{
    bool first = true;
    for (size_t i = 0; i < count; i++) {
        if (model[i].kind != kind) {
            continue;
        }
        if (first) {
            hr_text_add(&page->text, "%s%s: %s\n", page->text.length > 0 ? "\n" : "", kind->name,
                        kind->summary);
        }
        first = false;
        hr_text_add(&page->text, "  ");
        add_padded(&page->text, model[i].name, page->width);
        hr_text_add(&page->text, "  %s\n", model[i].summary != NULL ? model[i].summary : "");
    }
}

/* Reads every model of the library; all faults are reported. The caller frees *model. */
static enum hr_status read_models(struct hr_source *library, struct hr_model **model, size_t *count,
                                  struct hr_report *report)
{
    const char *const *name = hr_source_models(library, count);
    *model = hr_alloc(*count, sizeof **model);
    if (*model == NULL) {
        return hr_fail_memory(report);
    }
    for (size_t i = 0; i < *count; i++) {
        (void)hr_source_model(library, name[i], &(*model)[i], report);
    }
    return report->status;
}

enum hr_status hr_parts_text(struct hr_source *library, const struct hr_show_settings *settings, char **text,
                             struct hr_report *report)
{
    (void)settings; /* a list of names has no units */
    struct page page = {0};
    struct hr_model *model;
    size_t count;
    *text = NULL;
    const enum hr_status status = read_models(library, &model, &count, report);
    if (status == HR_OK) {
        for (size_t i = 0; i < count; i++) {
            const size_t width = hr_text_width(model[i].name);
            page.width = width > page.width ? width : page.width;
        }
        for (size_t k = 0; hr_part_kinds[k] != NULL; k++) {
            add_kind(&page, hr_part_kinds[k], model, count);
        }
        hr_text_add(&page.text, "%s'headrace parts NAME' explains one of them.\n",
                    page.text.length > 0 ? "\n" : "");
    }
    free(model);
    return status == HR_OK ? finish(&page, text, report) : status;
}

static void measure_path(void *context, const char *path, const struct hr_value *value)
{
    (void)value;
    struct page *page = context;
    const size_t width = hr_text_width(path);
    page->width = width > page->width ? width : page->width;
}

static void add_one_value(void *context, const char *path, const struct hr_value *value)
{
    struct page *page = context;
    char indent[PLACE_ROOM + 8];
    struct hr_text shown = {0};
    const size_t spaces = page->width + 4 < sizeof indent - 2 ? page->width + 4 : sizeof indent - 2;
    indent[0] = '\n';
    memset(indent + 1, ' ', spaces);
    indent[spaces + 1] = '\0';
    hr_add_value(&shown, value, &page->units, indent);
    hr_text_add(&page->text, "  ");
    add_padded(&page->text, path, page->width);
    hr_text_add(&page->text, "  ");
    add_padded(&page->text, shown.bytes != NULL ? shown.bytes : "",
               value->key->form == HR_FORM_ROWS ? 0 : 16);
    if (value->key->help != NULL) {
        hr_text_add(&page->text, "%s%s", value->key->form == HR_FORM_ROWS ? indent : "  ", value->key->help);
    }
    hr_text_add(&page->text, "\n");
    page->text.failed = page->text.failed || shown.failed;
    hr_text_clear(&shown);
}

/* "flow 0.3 to 8 L/min": a bound in builders' units. */
static void add_range(struct page *page, const struct hr_range *range, bool air)
{
    static const struct {
        const char *si;
        enum hr_quantity quantity;
    } known[] = {{"m3/s", HR_FLOW},
                 {"degC", HR_TEMPERATURE},
                 {"rpm", HR_SPEED},
                 {"m", HR_LENGTH},
                 {"Pa", HR_PRESSURE}};
    enum hr_quantity quantity = HR_NUMBER;
    for (size_t i = 0; i < HR_ARRAY_LEN(known); i++) {
        quantity = strcmp(range->unit, known[i].si) == 0 ? known[i].quantity : quantity;
    }
    quantity = quantity == HR_FLOW && air ? HR_AIR_FLOW : quantity;
    hr_text_add(&page->text, "%s ", range->what);
    if (!isnan(range->low)) {
        hr_text_add(&page->text, "%s", isnan(range->high) ? "from " : "");
        hr_add_quantity(&page->text, range->low, quantity, HR_PLAIN, &page->units);
    }
    if (!isnan(range->high)) {
        hr_text_add(&page->text, "%s", isnan(range->low) ? "up to " : " to ");
        hr_add_quantity(&page->text, range->high, quantity, HR_PLAIN, &page->units);
    }
}

static void add_validity(struct page *page, const struct hr_part_table *table, const char *what)
{
    bool begun = false;
    for (size_t i = 0; i < table->ranges; i++) {
        if (!isnan(table->range[i].low) || !isnan(table->range[i].high)) {
            hr_text_add(&page->text, "%s%s%s", begun ? ", " : "  ", begun ? "" : what,
                        begun ? "" : " holds for: ");
            add_range(page, &table->range[i], table->air);
            begun = true;
        }
    }
    hr_text_add(&page->text, "%s", begun ? "\n" : "");
}

/* Metres of water stand beside the other unit, unless they are the chosen one. */
static bool shows_metres(const struct page *page, const struct hr_part_table *table)
{
    return table->air || strcmp(page->units.pressure.name, "mH2O") != 0;
}

static void add_columns(const struct page *page, const struct hr_part_table *table, struct hr_table *out)
{
    hr_table_column(out, HR_RIGHT, "%s", table->air ? "m3/h" : page->units.flow.name);
    for (size_t way = 0; way < table->ways; way++) {
        const char *to = table->way[way] != NULL ? table->way[way] : "";
        const char *space = to[0] != '\0' ? " to " : "";
        hr_table_column(out, HR_RIGHT, "%s%s%s", table->air ? "Pa" : page->units.pressure.name, space, to);
        if (shows_metres(page, table)) {
            hr_table_column(out, HR_RIGHT, "%s", table->air ? "mmH2O" : "mH2O");
        }
    }
    hr_table_column(out, HR_LEFT, " ");
}

static bool add_rows(struct page *page, const struct hr_part_table *table)
{
    struct hr_table out = {0};
    bool outside = false;
    add_columns(page, table, &out);
    for (size_t i = 0; i < table->samples; i++) {
        const struct hr_part_sample *sample = &table->sample[i];
        hr_table_number(&out, table->air ? 3600.0 * sample->flow_m3_s
                                         : hr_in_unit(&page->units.flow, sample->flow_m3_s));
        for (size_t way = 0; way < table->ways; way++) {
            const double drop = fabs(sample->dp_pa[way]) < 1e-9 ? 0.0 : sample->dp_pa[way];
            hr_table_number(&out, table->air ? drop : hr_in_unit(&page->units.pressure, drop));
            if (shows_metres(page, table)) {
                hr_table_number(&out, table->air ? 1e3 * drop / MH2O : drop / MH2O);
            }
        }
        hr_table_cell(&out, "%s", sample->outside ? "*" : "");
        outside = outside || sample->outside;
    }
    hr_table_write(&out, &page->text);
    page->text.failed = page->text.failed || out.failed;
    hr_table_clear(&out);
    return outside;
}

static void add_table(struct page *page, const struct hr_shown_part *part, const struct hr_part_table *table)
{
    hr_text_add(&page->text, "\n%s against flow, %s at %g degC",
                table->head ? (table->air ? "pressure" : "head") : "pressure drop",
                table->air ? "air" : "water", table->fluid.temperature_c);
    if (!isnan(table->speed_rpm)) {
        hr_text_add(&page->text, ", %.4g rpm", table->speed_rpm);
    }
    if (table->ways > 1) {
        hr_text_add(&page->text, ", all flow from port %s to one other", part->model.kind->ports[0]);
    }
    if (part->bore_assumed && !table->air) {
        hr_text_add(&page->text, ", in a bore of %g mm", 1e3 * HR_BORE_ASSUMED);
    }
    if (table->remark != NULL) {
        hr_text_add(&page->text, ": %s.\n", table->remark);
        return;
    }
    hr_text_add(&page->text, "\n");
    if (add_rows(page, table)) {
        hr_text_add(&page->text, "  * outside what the model holds for: extrapolated\n");
    }
}

static void add_head(struct page *page, const struct hr_shown_part *part)
{
    const struct hr_model *model = &part->model;
    hr_text_add(&page->text, "%s (%s): %s\n", model->name, model->kind->name,
                model->summary != NULL ? model->summary : model->kind->summary);
    hr_text_add(&page->text, "  source: %s\n", model->source != NULL ? model->source : "none is given");
    if (model->note != NULL) {
        hr_text_add(&page->text, "  note: %s\n", model->note);
    }
    hr_text_add(&page->text, "  file: %s\n", model->file);
    add_validity(page, &part->coolant, "it");
    add_validity(page, &part->air, part->has_coolant ? "its air side" : "it");
}

enum hr_status hr_part_text(struct hr_source *library, const char *name,
                            const struct hr_show_settings *settings, char **text, struct hr_report *report)
{
    struct page page = {0};
    struct hr_shown_part part;
    *text = NULL;
    enum hr_status status =
        hr_shown_units_choose(settings != NULL ? settings->units : NULL, &page.units, report);
    if (status != HR_OK) {
        return status;
    }
    status = hr_shown_part_read(library, name, &page.units.flow, &part, report);
    if (status == HR_OK) {
        add_head(&page, &part);
        hr_values_walk(part.model.params, measure_path, &page);
        page.width = page.width < PLACE_ROOM ? page.width : PLACE_ROOM;
        hr_text_add(&page.text, "\nvalues\n");
        hr_values_walk(part.model.params, add_one_value, &page);
        if (part.part == NULL) {
            hr_text_add(&page.text, "\nit cannot be computed as it stands: %s\n", part.why_not);
        }
        if (part.part != NULL && part.has_coolant) {
            add_table(&page, &part, &part.coolant);
        }
        if (part.part != NULL && part.has_air) {
            add_table(&page, &part, &part.air);
        }
    }
    hr_shown_part_clear(&part);
    return status == HR_OK ? finish(&page, text, report) : status;
}
