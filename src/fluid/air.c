/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dry and moist air near room pressure.
 *
 * Dry air: the equation of state of E. W. Lemmon, R. T Jacobsen, S. G. Penoncello and D. G. Friend (J. Phys.
 * Chem. Ref. Data 29:331, 2000), kept to the second virial coefficient, and the transport equations of E. W.
 * Lemmon and R. T Jacobsen (Int. J. Thermophys. 25:21, 2004), kept to the first power of density. From -40 to
 * 150 degC what is left out is below 0.01 % at room pressure and below 0.1 % at 500 kPa.
 *
 * Moist air: an ideal mixture. Vapour by IAPWS (water.c) as a dilute gas; viscosity after C. R. Wilke (J.
 * Chem. Phys. 18:517, 1950), conductivity after E. A. Mason and S. C. Saxena (Phys. Fluids 1:361, 1958) with
 * Wilke's coefficients. */
#include "fluid/air.h"

#include "base/memory.h"
#include "fluid/water.h"

#include <math.h>

static const double GAS_CONSTANT = 8.314462618;     /* J/(mol K), exact since 2019 to these digits */
static const double REDUCING_K = 132.6312;          /* Lemmon et al. 2000: tau = 132.6312 K / T */
static const double REDUCING_DENSITY = 10.4477e3;   /* mol/m3 */
static const double DILUTE_MOLAR_MASS = 28.9586e-3; /* the one Lemmon & Jacobsen 2004 fitted with, kg/mol */

struct dry_air {
    double density;       /* mol/m3 */
    double heat_capacity; /* J/(mol K) */
    double viscosity;
    double conductivity;
};

/* Isobaric heat capacity of the ideal gas over the gas constant: 1 - tau^2 of the second derivative of Lemmon
 * et al. 2000, equation 24. Its last term, with exp(87.3 tau), is below 1e-9 under 450 K. */
static double ideal_heat_capacity(double tau)
{
    const double t_inverse = 1 / tau;
    double sum = 1 + 2.490888032 - 0.75 * -0.19536342e-3 * tau * sqrt(tau);
    sum -=
        t_inverse * (2 * -0.158860716e-3 + t_inverse * (6 * -0.210274769e-4 + t_inverse * 12 * 0.6057194e-7));
    static const double weight[2] = {0.791309509, 0.212236768};
    static const double theta[2] = {25.36365, 16.90741};
    for (int i = 0; i < 2; i++) {
        const double u = theta[i] * tau;
        const double e = exp(-u);
        sum += weight[i] * u * u * e / ((1 - e) * (1 - e));
    }
    return sum;
}

/* Density and heat capacity: the terms of the residual part that are linear in density make the second virial
 * coefficient B; cp = cp_ideal - T B'' p to the same order. */
static void dry_state(double kelvin, double pascal, double log_tau, struct dry_air *air)
{
    static const struct {
        double n, t;
    } linear[] = {{0.118160747229, 0},
                  {0.713116392079, 0.33},
                  {-1.61824192067, 1.01},
                  {-0.101365037912, 1.6},
                  {-0.146629609713, 3.6}};
    double b = 0;
    double t2_b2 = 0; /* T^2 times the second derivative by T */
    for (size_t i = 0; i < HR_ARRAY_LEN(linear); i++) {
        const double t = linear[i].t;
        const double term = linear[i].n * exp(t * log_tau) / REDUCING_DENSITY;
        b += term;
        t2_b2 += t * (t + 1) * term;
    }
    air->density = pascal / (GAS_CONSTANT * kelvin + b * pascal);
    air->heat_capacity = GAS_CONSTANT * ideal_heat_capacity(REDUCING_K / kelvin) - t2_b2 * pascal / kelvin;
}

static void dry_transport(double kelvin, double log_tau, struct dry_air *air)
{
    const double delta = air->density / REDUCING_DENSITY;
    /* Lemmon & Jacobsen 2004, equations 1 to 3, tables 1 to 3; micropascal seconds. */
    const double s = log(kelvin / 103.3);
    const double omega = exp(0.431 + s * (-0.4623 + s * (0.08406 + s * (0.005341 + s * -0.00331))));
    const double dilute = 0.0266958 * sqrt(1e3 * DILUTE_MOLAR_MASS * kelvin) / (0.36 * 0.36 * omega);
    const double dense = delta * (10.72 * exp(0.2 * log_tau) - 8.876 * exp(0.6 * log_tau));
    air->viscosity = 1e-6 * (dilute + dense);
    /* Equations 4 to 6, table 4; milliwatts per metre and kelvin. */
    const double dilute_k = 1.308 * dilute + 1.405 * exp(-1.1 * log_tau) - 1.036 * exp(-0.3 * log_tau);
    air->conductivity = 1e-3 * (dilute_k + 8.743 * delta * exp(0.1 * log_tau));
}

/* Wilke 1950, equation 14: the weight of component j in the term of component i. */
static double wilke(double viscosity_ratio, double molar_mass_ratio)
{
    const double root = 1 + sqrt(viscosity_ratio) / sqrt(sqrt(molar_mass_ratio));
    return root * root / sqrt(8 * (1 + molar_mass_ratio));
}

/* Replaces the transport properties of dry air by those of the mixture with the mole fraction x of vapour. */
static void mix_transport(double kelvin, double x, struct hr_fluid_state *state)
{
    const double mu_a = state->viscosity;
    const double mu_v = hr_water_viscosity(kelvin, 0);
    const double mass_ratio = HR_AIR_MOLAR_MASS / HR_WATER_MOLAR_MASS;
    const double air = (1 - x) / ((1 - x) + x * wilke(mu_a / mu_v, mass_ratio));
    const double vapour = x / (x + (1 - x) * wilke(mu_v / mu_a, 1 / mass_ratio));
    state->viscosity = air * mu_a + vapour * mu_v;
    state->conductivity = air * state->conductivity + vapour * hr_water_conductivity(kelvin, 0);
}

double hr_air_vapour_pressure(double humidity, double temperature_c, double pressure_pa)
{
    const double held = fmin(fmax(temperature_c, 0), 100);
    return fmin(humidity * hr_water_saturation_pressure(held), pressure_pa);
}

double hr_air_humidity(double humidity, double from_c, double temperature_c)
{
    const double vapour = hr_air_vapour_pressure(humidity, from_c, HUGE_VAL);
    return fmin(vapour / hr_air_vapour_pressure(1, temperature_c, HUGE_VAL), 1);
}

double hr_air_humidity_ratio(double humidity, double temperature_c, double pressure_pa)
{
    const double vapour = hr_air_vapour_pressure(humidity, temperature_c, pressure_pa);
    return HR_WATER_MOLAR_MASS / HR_AIR_MOLAR_MASS * vapour / (pressure_pa - vapour);
}

void hr_air_state(double vapour_pa, double temperature_c, double pressure_pa, struct hr_fluid_state *state)
{
    const double kelvin = temperature_c + 273.15;
    const double log_tau = log(REDUCING_K / kelvin);
    struct dry_air dry;
    dry_state(kelvin, pressure_pa - vapour_pa, log_tau, &dry);
    dry_transport(kelvin, log_tau, &dry);
    const double dry_density = dry.density * HR_AIR_MOLAR_MASS;
    const double vapour_density = vapour_pa * HR_WATER_MOLAR_MASS / (GAS_CONSTANT * kelvin);
    const double dry_share = dry_density / (dry_density + vapour_density);
    state->density = dry_density + vapour_density;
    state->heat_capacity = dry.heat_capacity / HR_AIR_MOLAR_MASS;
    state->viscosity = dry.viscosity;
    state->conductivity = dry.conductivity;
    if (vapour_pa > 0) {
        state->heat_capacity =
            dry_share * state->heat_capacity + (1 - dry_share) * hr_if97_vapour_heat_capacity(kelvin);
        mix_transport(kelvin, vapour_pa / pressure_pa, state);
    }
}
