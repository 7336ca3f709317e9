/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part/thermal.h"

#include <math.h>

static const double FILM_EXPONENT = 0.45; /* common practice, no source: 0.3 to 0.6 are seen */

static double interpolate(const struct hr_value *rows, double flow, bool *outside)
{
    const double *row = rows->rows;
    const size_t last = rows->row_count - 1;
    *outside = !(flow >= row[0] && flow <= row[2 * last]);
    if (!(flow > row[0])) {
        return row[1];
    }
    for (size_t i = 0; i < last; i++) {
        const double q0 = row[2 * i];
        const double q1 = row[2 * i + 2];
        if (flow <= q1) {
            const double share = q0 > 0.0 ? log(flow / q0) / log(q1 / q0) : flow / q1;
            return row[2 * i + 1] * pow(row[2 * i + 3] / row[2 * i + 1], share);
        }
    }
    return row[2 * last + 1];
}

double hr_chip_resistance(const struct hr_params *params, double flow, bool *outside)
{
    const struct hr_value *value = hr_param(params, "resistance");
    const double size = fabs(flow);
    *outside = false;
    if (value == NULL) {
        return NAN;
    }
    if (value->map != NULL) {
        const double conduction = hr_param_number(value->map, "conduction", 0.0);
        const double film = hr_param_number(value->map, "film", 0.0);
        const double at = hr_param_number(value->map, "at", NAN);
        return conduction + film * pow(at / size, hr_param_number(value->map, "exponent", FILM_EXPONENT));
    }
    if (value->row_count > 0) {
        return interpolate(value, size, outside);
    }
    return value->number;
}
