/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints properties for oracle_water.py: reads lines "water|air degC Pa", answers each by density, viscosity,
 * heat capacity, conductivity and vapour pressure in SI, or by "outside". */
#include "fluid/fluid.h"

#include <stdio.h>
#include <stdlib.h>

int main(void)
{
    char name[16];
    double t = 0;
    double p = 0;
    while (scanf("%15s %lf %lf", name, &t, &p) == 3) {
        struct hr_fluid fluid = {.kind = HR_WATER};
        struct hr_fluid_state s;
        if (!hr_fluid_find(name, &fluid.kind)) {
            return EXIT_FAILURE;
        }
        if (!hr_fluid_at(&fluid, t, p, &s)) {
            printf("outside\n");
            continue;
        }
        printf("%.17g %.17g %.17g %.17g %.17g\n", s.density, s.viscosity, s.heat_capacity, s.conductivity,
               s.vapour_pressure);
    }
    return EXIT_SUCCESS;
}
