/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a range such as pump.speed=800..4800:200 and finding the pumps it moves. */
#include "base/units.h"
#include "study/study.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX

enum { DEFAULT_STEPS = 20, NUMBER_ROOM = 40 };

void hr_swept_clear(struct hr_swept *swept)
{
    free((char *)(uintptr_t)swept->axis.name);
    free((char *)(uintptr_t)swept->axis.unit);
    free(swept->axis.value);
    free(swept->pump);
    free(swept->pump_max_rpm);
    memset(swept, 0, sizeof *swept);
}

static enum hr_status fail_form(const char *text, const char *what, struct hr_report *report)
{
    return hr_fail(report, HR_USAGE, "bad-range", NULL,
                   "range '%s' %s; write it as PATH=LOW..HIGH:STEP, for instance pump.speed=800..4800:200 or "
                   "gpu.heat=\"100..400:50 W\"",
                   text, what);
}

static char *duplicate(const char *text, size_t length)
{
    char *copy = hr_alloc(length + 1, 1);
    if (copy != NULL) {
        memcpy(copy, text, length);
    }
    return copy;
}

/* A number in ordinary notation that ends at one of `ends`, read without the locale. */
static bool read_number(const char **text, const char *ends, double *number)
{
    const size_t length = strcspn(*text, ends);
    char digits[NUMBER_ROOM];
    char why[HR_MESSAGE_TEXT];
    struct hr_number value;
    if (length == 0 || length >= sizeof digits) {
        return false;
    }
    memcpy(digits, *text, length);
    digits[length] = '\0';
    if (!hr_quantity_parse(digits, HR_NUMBER, &value, why, sizeof why)) {
        return false;
    }
    *number = value.value;
    *text += length;
    return true;
}

struct range {
    double low, high, step;
    const char *unit;
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* The length of a number at the start of `text`: digits, a point that is not the first of two, sign,
 * exponent. */
static size_t number_length(const char *text)
{
    size_t i = 0;
    while (is_digit(text[i]) || (text[i] == '.' && text[i + 1] != '.' && (i == 0 || text[i - 1] != '.')) ||
           (i == 0 && (text[i] == '-' || text[i] == '+')) ||
           ((text[i] == 'e' || text[i] == 'E') && (is_digit(text[i + 1]) || text[i + 1] == '-')) ||
           (text[i] == '-' && i > 0 && (text[i - 1] == 'e' || text[i - 1] == 'E'))) {
        i++;
    }
    return i;
}

static bool read_counted(const char **text, double *number)
{
    char digits[NUMBER_ROOM];
    const size_t length = number_length(*text);
    if (length == 0 || length >= sizeof digits) {
        return false;
    }
    memcpy(digits, *text, length);
    digits[length] = '\0';
    const char *start = digits;
    *text += length;
    return read_number(&start, "", number);
}

static const char *skip_spaces(const char *text)
{
    return text + strspn(text, " ");
}

/* LOW..HIGH[:STEP][ UNIT]; the unit may also stand behind LOW or HIGH, as long as it is the same. */
static bool read_range(const char *text, struct range *range)
{
    text = skip_spaces(text);
    if (!read_counted(&text, &range->low) || strncmp(text, "..", 2) != 0) {
        return false;
    }
    text += 2;
    if (!read_counted(&text, &range->high)) {
        return false;
    }
    range->step = NAN;
    if (*text == ':') {
        text++;
        if (!read_counted(&text, &range->step)) {
            return false;
        }
    }
    range->unit = skip_spaces(text);
    return true;
}

static enum hr_status fill_values(const char *text, const struct range *range, struct hr_axis *axis,
                                  struct hr_report *report)
{
    const double span = range->high - range->low;
    const double step = isnan(range->step) ? span / DEFAULT_STEPS : range->step;
    if (!(span > 0.0)) {
        return fail_form(text, "does not rise from its first to its second number", report);
    }
    if (!(step > 0.0)) {
        return fail_form(text, "has a step that is not above zero", report);
    }
    /* A last step that rounding makes a hair too long still counts; one that does not fit is cut at the end.
     */
    const double steps = floor(span / step + 1e-9);
    const bool rest = span - steps * step > 1e-9 * span;
    if (steps + 2.0 > HR_SWEEP_POINTS_MAX) {
        return fail_form(text, "has more than 100000 points", report);
    }
    axis->count = (size_t)steps + 1 + (rest ? 1 : 0);
    axis->value = hr_alloc(axis->count, sizeof *axis->value);
    if (axis->value == NULL) {
        return hr_fail_memory(report);
    }
    for (size_t i = 0; i < axis->count; i++) {
        axis->value[i] = fmin(range->low + (double)i * step, range->high);
    }
    return HR_OK;
}

/* The members of a gang, or the one name itself. */
static size_t member_count(const struct hr_description *description, const char *name,
                           const struct hr_gang **gang)
{
    *gang = NULL;
    for (size_t i = 0; i < description->gang_count; i++) {
        if (strcmp(description->gangs[i].name, name) == 0) {
            *gang = &description->gangs[i];
            return description->gangs[i].count;
        }
    }
    return 1;
}

static bool machine_of(const struct hr_rig *rig, uint32_t branch, struct hr_machine_facts *facts)
{
    const void *part;
    const struct hr_part_kind *kind = hr_assembly_kind(rig->assembly, branch, &part);
    const struct hr_setting setting = hr_assembly_setting(rig->assembly, branch);
    kind->machine(part, &setting, 0.0, facts);
    return !isnan(facts->speed_rpm);
}

/* Finds the pumps behind "name.speed"; leaves the axis an ordinary one where it moves anything else. */
static enum hr_status find_pumps(const struct hr_rig *rig, struct hr_swept *swept, struct hr_report *report)
{
    char name[HR_MESSAGE_TEXT];
    const size_t length = (size_t)(swept->key - swept->axis.name) - 1;
    if (strcmp(swept->key, "speed") != 0 || length >= sizeof name) {
        return HR_OK;
    }
    memcpy(name, swept->axis.name, length);
    name[length] = '\0';
    const struct hr_gang *gang;
    const size_t count = member_count(rig->description, name, &gang);
    swept->pump = hr_alloc(count, sizeof *swept->pump);
    swept->pump_max_rpm = hr_alloc(count, sizeof *swept->pump_max_rpm);
    if (swept->pump == NULL || swept->pump_max_rpm == NULL) {
        return hr_fail_memory(report);
    }
    for (size_t i = 0; i < count; i++) {
        struct hr_machine_facts facts;
        const uint32_t branch = hr_rig_pump(rig, gang != NULL ? gang->members[i] : name);
        if (branch == NONE || !machine_of(rig, branch, &facts)) {
            return HR_OK;
        }
        swept->pump[i] = branch;
        swept->pump_max_rpm[i] = facts.speed_max_rpm;
    }
    swept->pumps = count;
    return HR_OK;
}

static enum hr_status name_axis(const char *text, const char *unit, size_t path, const struct hr_rig *rig,
                                struct hr_swept *swept, struct hr_report *report)
{
    swept->axis.name = duplicate(text, path);
    if (swept->axis.name == NULL) {
        return hr_fail_memory(report);
    }
    const char *dot = strchr(swept->axis.name, '.');
    swept->key = dot == NULL ? NULL : dot + 1;
    const enum hr_status status = swept->key == NULL ? HR_OK : find_pumps(rig, swept, report);
    if (status != HR_OK) {
        return status;
    }
    const bool speed = swept->key != NULL && strcmp(swept->key, "speed") == 0;
    const char *shown = speed && unit[0] == '\0' ? "rpm" : unit;
    swept->axis.unit = duplicate(shown, strlen(shown));
    swept->percent = strcmp(shown, "%") == 0;
    if (swept->axis.unit == NULL) {
        return hr_fail_memory(report);
    }
    /* Any other unit of a speed is left to the reader, which knows what to say about it. */
    swept->axis.pump_speed = swept->pumps > 0 && (swept->percent || strcmp(shown, "rpm") == 0);
    return HR_OK;
}

enum hr_status hr_swept_read(const char *text, const struct hr_rig *rig, struct hr_swept *swept,
                             struct hr_report *report)
{
    memset(swept, 0, sizeof *swept);
    const char *equals = strchr(text, '=');
    struct range range;
    if (equals == NULL || equals == text) {
        return fail_form(text, "has no '='", report);
    }
    if (!read_range(equals + 1, &range)) {
        return fail_form(text, "cannot be read", report);
    }
    enum hr_status status = fill_values(text, &range, &swept->axis, report);
    if (status == HR_OK) {
        status = name_axis(text, range.unit, (size_t)(equals - text), rig, swept, report);
    }
    if (status == HR_OK && swept->axis.pump_speed && swept->axis.value[0] < 0.0) {
        status = fail_form(text, "begins below zero", report);
    }
    if (status != HR_OK) {
        hr_swept_clear(swept);
    }
    return status;
}

void hr_swept_apply(const struct hr_swept *swept, struct hr_rig *rig, double value)
{
    for (size_t i = 0; i < swept->pumps; i++) {
        const double rpm = swept->percent ? 0.01 * value * swept->pump_max_rpm[i] : value;
        hr_rig_set_speed(rig, swept->pump[i], rpm);
    }
}
