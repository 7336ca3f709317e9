/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A law gives the pressure drop of a piece of a branch and its slope against the flow. Laws are made by the
 * part kinds for one state of the fluid; evaluating one allocates nothing and reads nothing but the law. */
#ifndef HR_PART_LAW_H
#define HR_PART_LAW_H

#include <stdbool.h>
#include <stddef.h>

struct hr_law;

/* Pressure drop in Pa along the branch's arrow and its derivative in Pa s/m3 at a flow in m3/s of either
 * sign. The drop is continuous, and never falls with the flow unless the kind says so (rising pump curves).
 */
typedef void hr_law_fn(const struct hr_law *law, double flow, double *drop, double *slope);

enum { HR_LAW_COEFFICIENTS = 10 };

struct hr_law {
    hr_law_fn *evaluate;
    const void *data; /* a curve or the like, borrowed from the part; NULL where the coefficients say all */
    double c[HR_LAW_COEFFICIENTS];
};

static inline void hr_law_evaluate(const struct hr_law *law, double flow, double *drop, double *slope)
{
    law->evaluate(law, flow, drop, slope);
}

/* drop = linear q + square q|q|, with a square of its own for q < 0. All three >= 0. */
struct hr_law hr_law_quadratic(double linear, double square, double square_reverse);

/* True where `law` is such a law; these are the ones that a series chain can add up. */
bool hr_law_is_quadratic(const struct hr_law *law);

/* drop = r |q|^(n-1) q; r > 0, n >= 1 (a pure power: slope 0 at q = 0 where n > 1; n = 1 and n = 2 give the
 * quadratic law). */
struct hr_law hr_law_power(double r, double n);

/* The same drop at every flow: what it takes to open a one-way valve. */
struct hr_law hr_law_offset(double drop);

/* The law `drop` times phi(`flow` times q) of a law phi: n equal parts in series have drop n, m in parallel
 * flow 1/m. Every law but the quadratic and the power keeps its flow factor in c[0] and its drop factor in
 * c[1] for this. */
struct hr_law hr_law_rescale(const struct hr_law *law, double flow, double drop);

/* (linear_per_re / Re + zeta) velocity heads of a bore: the first term is exactly linear in the flow. */
struct hr_law hr_law_velocity_heads(double linear_per_re, double zeta, double bore_m, double density,
                                    double viscosity);

/* A sudden change of bore, the loss only (the velocity head itself is not in it): widening after Borda and
 * Carnot, narrowing after Crane TP-410. Different squares for the two directions, no linear share. */
struct hr_law hr_law_bore_change(double from_m, double to_m, double density);

#endif
