/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two laws that need no part: the quadratic and the power; and the laws of a sudden change of bore. */
#include "part/law.h"

#include <math.h>

/* c: linear, square for q >= 0, square for q < 0. */
static void quadratic(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double size = fabs(flow);
    const double square = flow < 0 ? law->c[2] : law->c[1];
    *drop = (law->c[0] + square * size) * flow;
    *slope = law->c[0] + 2 * square * size;
}

struct hr_law hr_law_quadratic(double linear, double square, double square_reverse)
{
    return (struct hr_law){.evaluate = quadratic, .c = {linear, square, square_reverse}};
}

bool hr_law_is_quadratic(const struct hr_law *law)
{
    return law->evaluate == quadratic;
}

/* c: r, n. Below the smallest normal number the power of the flow is 0 anyway. */
static void power(const struct hr_law *law, double flow, double *drop, double *slope)
{
    const double root = law->c[0] * pow(fabs(flow), law->c[1] - 1);
    *drop = root * flow;
    *slope = law->c[1] * root;
}

struct hr_law hr_law_power(double r, double n)
{
    if (n == 1) {
        return hr_law_quadratic(r, 0, 0);
    }
    if (n == 2) {
        return hr_law_quadratic(0, r, r);
    }
    return (struct hr_law){.evaluate = power, .c = {r, n}};
}

/* c: flow factor, drop factor, drop. */
static void offset(const struct hr_law *law, double flow, double *drop, double *slope)
{
    (void)flow;
    *drop = law->c[1] * law->c[2];
    *slope = 0;
}

struct hr_law hr_law_offset(double drop)
{
    return (struct hr_law){.evaluate = offset, .c = {1, 1, drop}};
}

struct hr_law hr_law_rescale(const struct hr_law *law, double flow, double drop)
{
    struct hr_law scaled = *law;
    if (law->evaluate == quadratic) {
        scaled.c[0] *= drop * flow;
        scaled.c[1] *= drop * flow * flow;
        scaled.c[2] *= drop * flow * flow;
    } else if (law->evaluate == power) {
        scaled.c[0] *= drop * pow(flow, law->c[1]);
    } else {
        scaled.c[0] *= flow;
        scaled.c[1] *= drop;
    }
    return scaled;
}

struct hr_law hr_law_velocity_heads(double linear_per_re, double zeta, double bore_m, double density,
                                    double viscosity)
{
    const double pi = 3.14159265358979323846;
    const double area = pi / 4 * bore_m * bore_m;
    const double linear = linear_per_re * viscosity / (2 * bore_m * area);
    const double square = zeta * density / (2 * area * area);
    return hr_law_quadratic(linear, square, square);
}

/* Borda-Carnot: (1 - b^2)^2 of the upstream velocity head; Crane TP-410 (2009): 0.5 (1 - b^2) of the velocity
 * head in the small bore; b = small bore / large bore. */
struct hr_law hr_law_bore_change(double from_m, double to_m, double density)
{
    const double small = fmin(from_m, to_m);
    const double share = small / fmax(from_m, to_m) * (small / fmax(from_m, to_m));
    const double widening = (1 - share) * (1 - share);
    const double narrowing = 0.5 * (1 - share);
    const struct hr_law head = hr_law_velocity_heads(0, 1, small, density, 0);
    const bool widens = from_m < to_m;
    return hr_law_quadratic(0, (widens ? widening : narrowing) * head.c[1],
                            (widens ? narrowing : widening) * head.c[1]);
}
