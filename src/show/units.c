/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "show/units.h"

#include "base/report.h"
#include "base/units.h"

#include <math.h>
#include <string.h>

/* Tries `name` as a unit of one quantity. */
static bool choose(const char *name, enum hr_quantity quantity, struct hr_shown_unit *unit)
{
    double factor;
    double offset;
    if (!hr_unit_find(name, quantity, &factor, &offset)) {
        return false;
    }
    memcpy(unit->name, name, strlen(name) + 1);
    unit->factor = factor;
    unit->offset = offset;
    return true;
}

static enum hr_status choose_all(const char *units, struct hr_shown_units *chosen, struct hr_report *report)
{
    while (*units != '\0') {
        const size_t length = strcspn(units, ",");
        char name[sizeof chosen->flow.name];
        if (length == 0 || length >= sizeof name) {
            return hr_fail(report, HR_USAGE, "bad-units", NULL,
                           "the units '%s' cannot be read; write them with commas, for instance gpm,psi,degF",
                           units);
        }
        memcpy(name, units, length);
        name[length] = '\0';
        if (!choose(name, HR_FLOW, &chosen->flow) && !choose(name, HR_PRESSURE, &chosen->pressure) &&
            !choose(name, HR_TEMPERATURE, &chosen->temperature)) {
            return hr_fail(
                report, HR_USAGE, "bad-units", NULL,
                "'%s' is no unit of flow, pressure or temperature; take for instance L/min, L/h, gpm, m3/h, "
                "kPa, mbar, psi, mH2O, degC or degF",
                name);
        }
        units += length + (units[length] == ',');
    }
    return HR_OK;
}

enum hr_status hr_shown_units_choose(const char *units, struct hr_shown_units *chosen,
                                     struct hr_report *report)
{
    memset(chosen, 0, sizeof *chosen);
    enum hr_status status = choose_all("L/min,kPa,degC", chosen, report);
    if (status == HR_OK && units != NULL) {
        status = choose_all(units, chosen, report);
    }
    return status;
}

enum hr_status hr_show_check_units(const char *units, struct hr_report *report)
{
    struct hr_shown_units chosen;
    return hr_shown_units_choose(units, &chosen, report);
}

double hr_in_unit(const struct hr_shown_unit *unit, double si)
{
    return (si - unit->offset) / unit->factor;
}

const char *hr_regime_word(enum hr_regime regime)
{
    switch (regime) {
    case HR_LAMINAR:
        return "laminar";
    case HR_TRANSITIONAL:
        return "transitional";
    case HR_TURBULENT:
        return "turbulent";
    case HR_REGIME_UNKNOWN:
        break;
    }
    return NULL;
}
