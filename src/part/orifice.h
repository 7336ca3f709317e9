/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Discharge coefficient of orifice plates. */
#ifndef HR_PART_ORIFICE_H
#define HR_PART_ORIFICE_H

#include <stdbool.h>

enum hr_taps { HR_TAPS_CORNER, HR_TAPS_D, HR_TAPS_FLANGE };

/* C of Reader-Harris and Gallagher 1998 as in ISO 5167-2:2003, equation 4, and its derivative against the
 * Reynolds number of the pipe. `share`: orifice over pipe diameter; pipe diameter in m. */
double hr_orifice_coefficient(enum hr_taps taps, double pipe_m, double share, double re, double *slope);

/* Least Reynolds number of the pipe for that equation: ISO 5167-2:2003, 5.3.1. */
double hr_orifice_least_re(enum hr_taps taps, double pipe_m, double share);

#endif
