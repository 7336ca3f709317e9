/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water by the formulations of the International Association for the Properties of Water and Steam:
 * R7-97(2012) region 1, its saturation line and its ideal-gas vapour; R12-08 viscosity; R15-11 conductivity.
 * Symbols are those of the releases.
 *
 * Properties are asked for once a node and iteration of a coupled solution, so powers are built up by
 * multiplication, and a derivative of a power is the power itself times its exponent over its base. */
#include "fluid/water.h"

#include "base/memory.h"
#include "fluid/fluid.h"

#include <math.h>

/* R7-97, section 2: specific gas constant of ordinary water, J/(kg K). */
static const double R = 461.526;

/* R7-97, table 2: gamma = sum of n (7.1 - pi)^I (tau - 1.222)^J. */
enum { I_MAX = 32, J_MIN = -41, J_MAX = 17 };

static const struct {
    signed char i;
    signed char j;
    double n;
} region1[] = {
    {0, -2, 0.14632971213167},        {0, -1, -0.84548187169114},       {0, 0, -0.37563603672040e1},
    {0, 1, 0.33855169168385e1},       {0, 2, -0.95791963387872},        {0, 3, 0.15772038513228},
    {0, 4, -0.16616417199501e-1},     {0, 5, 0.81214629983568e-3},      {1, -9, 0.28319080123804e-3},
    {1, -7, -0.60706301565874e-3},    {1, -1, -0.18990068218419e-1},    {1, 0, -0.32529748770505e-1},
    {1, 1, -0.21841717175414e-1},     {1, 3, -0.52838357969930e-4},     {2, -3, -0.47184321073267e-3},
    {2, 0, -0.30001780793026e-3},     {2, 1, 0.47661393906987e-4},      {2, 3, -0.44141845330846e-5},
    {2, 17, -0.72694996297594e-15},   {3, -4, -0.31679644845054e-4},    {3, 0, -0.28270797985312e-5},
    {3, 6, -0.85205128120103e-9},     {4, -5, -0.22425281908000e-5},    {4, -2, -0.65171222895601e-6},
    {4, 10, -0.14341729937924e-12},   {5, -8, -0.40516996860117e-6},    {8, -11, -0.12734301741641e-8},
    {8, -6, -0.17424871230634e-9},    {21, -29, -0.68762131295531e-18}, {23, -31, 0.14478307828521e-19},
    {29, -38, 0.26335781662795e-22},  {30, -39, -0.11947622640071e-22}, {31, -40, 0.18228094581404e-23},
    {32, -41, -0.93537087292458e-25},
};

/* R12-08, table 2: H(i, j) of (1/T - 1)^i (rho - 1)^j. */
static const double viscosity_terms[6][7] = {
    {0.520094, 0.222531, -0.281378, 0.161913, -0.325372e-1, 0, 0},
    {0.850895e-1, 0.999115, -0.906851, 0.257399, 0, 0, 0},
    {-0.108374e1, 0.188797e1, -0.772479, 0, 0, 0, 0},
    {-0.289555, 0.126613e1, -0.489837, 0, 0.698452e-1, 0, -0.435673e-2},
    {0, 0, -0.257040, 0, 0, 0.872102e-2, 0},
    {0, 0.120573, 0, 0, 0, 0, -0.593264e-3},
};

/* R15-11, table 2: L(i, j) of (1/T - 1)^i (rho - 1)^j. */
static const double conductivity_terms[5][6] = {
    {1.60397357, -0.646013523, 0.111443906, 0.102997357, -0.0504123634, 0.00609859258},
    {2.33771842, -2.78843778, 1.53616167, -0.463045512, 0.0832827019, -0.00719201245},
    {2.19650529, -4.54580785, 3.55777244, -1.40944978, 0.275418278, -0.0205938816},
    {-1.21051378, 1.60812989, -0.621178141, 0.0716373224, 0, 0},
    {-2.7203370, 4.57586331, -3.18369245, 1.1168348, -0.19268305, 0.012913842},
};

void hr_if97_region1(double kelvin, double pascal, struct hr_if97 *state)
{
    const double tau = 1386 / kelvin;
    const double pi = pascal / 16.53e6;
    const double a = 7.1 - pi;
    const double b = tau - 1.222;
    double a_power[I_MAX + 1];
    double b_power[J_MAX - J_MIN + 1];
    a_power[0] = 1;
    for (int i = 1; i <= I_MAX; i++) {
        a_power[i] = a_power[i - 1] * a;
    }
    b_power[-J_MIN] = 1;
    for (int j = 1; j <= J_MAX; j++) {
        b_power[j - J_MIN] = b_power[j - 1 - J_MIN] * b;
    }
    const double b_inverse = 1 / b;
    for (int j = -1; j >= J_MIN; j--) {
        b_power[j - J_MIN] = b_power[j + 1 - J_MIN] * b_inverse;
    }
    double g_p = 0, g_pp = 0, g_t = 0, g_tt = 0, g_pt = 0;
    for (size_t k = 0; k < HR_ARRAY_LEN(region1); k++) {
        const int i = region1[k].i;
        const int j = region1[k].j;
        const double term = region1[k].n * a_power[i] * b_power[j - J_MIN];
        g_p -= i * term;
        g_pp += i * (i - 1) * term;
        g_t += j * term;
        g_tt += j * (j - 1) * term;
        g_pt -= i * j * term;
    }
    g_p /= a;
    g_pp /= a * a;
    g_t /= b;
    g_tt /= b * b;
    g_pt /= a * b;
    /* R7-97, table 3. */
    const double mixed = g_p - tau * g_pt;
    state->v = R * kelvin / 16.53e6 * g_p;
    state->h = R * kelvin * tau * g_t;
    state->cp = -R * tau * tau * g_tt;
    state->w = sqrt(R * kelvin * g_p * g_p / (mixed * mixed / (tau * tau * g_tt) - g_pp));
}

double hr_if97_vapour_heat_capacity(double kelvin)
{
    /* R7-97, table 10; the terms with J = 0 and 1 have no second derivative. */
    static const double n_negative[5] = {-0.43839511319450e1, 0.14240819171444e1, -0.40710498223928,
                                         0.71452738081455e-1, -0.56087911283020e-2}; /* J = -1 to -5 */
    static const double n_2 = -0.28408632460772;
    static const double n_3 = 0.21268463753307e-1;
    const double tau = 540 / kelvin;
    double sum = 2 * n_2 * tau * tau + 6 * n_3 * tau * tau * tau; /* tau^2 gamma_tt */
    double power = 1;
    for (int j = 1; j <= 5; j++) {
        power /= tau;
        sum += j * (j + 1) * n_negative[j - 1] * power;
    }
    return -R * sum;
}

/* The sum of c[i][j] x^i y^j by Horner's rule. */
static double double_polynomial(const double *c, size_t rows, size_t columns, double x, double y)
{
    double sum = 0;
    for (size_t i = rows; i-- > 0;) {
        double row = 0;
        for (size_t j = columns; j-- > 0;) {
            row = row * y + c[i * columns + j];
        }
        sum = sum * x + row;
    }
    return sum;
}

double hr_water_viscosity(double kelvin, double density)
{
    const double T = kelvin / HR_WATER_CRITICAL_K;
    const double rho = density / HR_WATER_CRITICAL_DENSITY;
    /* Equation 11 and table 1. */
    const double s = 1 / T;
    const double mu_0 = 100 * sqrt(T) / (1.67752 + s * (2.20462 + s * (0.6366564 - s * 0.241605)));
    /* Equation 12. */
    const double sum = double_polynomial(&viscosity_terms[0][0], 6, 7, s - 1, rho - 1);
    return 1e-6 * mu_0 * exp(rho * sum);
}

double hr_water_conductivity(double kelvin, double density)
{
    const double T = kelvin / HR_WATER_CRITICAL_K;
    const double rho = density / HR_WATER_CRITICAL_DENSITY;
    const double s = 1 / T;
    /* Equation 16 and table 1. */
    const double lambda_0 =
        sqrt(T) /
        (2.443221e-3 + s * (1.323095e-2 + s * (6.770357e-3 + s * (-3.454586e-3 + s * 4.096266e-4))));
    /* Equation 17. */
    const double sum = double_polynomial(&conductivity_terms[0][0], 5, 6, s - 1, rho - 1);
    return 1e-3 * lambda_0 * exp(rho * sum);
}

double hr_water_saturation_pressure(double temperature_c)
{
    const double asked = temperature_c + 273.15;
    const double T = fmin(fmax(asked, 273.15), HR_WATER_CRITICAL_K);
    /* R7-97, equations 29 and 30, table 34. */
    const double theta = T - 0.23855557567849 / (T - 650.17534844798);
    const double A = theta * theta + 1167.0521452767 * theta - 724213.16703206;
    const double B = -17.073846940092 * theta * theta + 12020.824702470 * theta - 3232555.0322333;
    const double C = 14.915108613530 * theta * theta - 4823.2657361591 * theta + 405113.40542057;
    const double root = 2 * C / (-B + sqrt(B * B - 4 * A * C));
    const double square = root * root;
    return 1e6 * square * square;
}
