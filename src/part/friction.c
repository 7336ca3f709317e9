/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Friction laws; every derivative is that of the formula, not a difference. */
#include "part/friction.h"

#include <math.h>

static const double PI = 3.14159265358979323846;
static const double LN10 = 2.30258509299404568402;

static double power4(double x)
{
    return x * x * (x * x);
}

void hr_smooth_larger(double value_a, double slope_a, double value_b, double slope_b, double *value,
                      double *slope)
{
    const double larger = fmax(value_a, value_b);
    if (larger <= 0) {
        *value = 0;
        *slope = fmax(slope_a, slope_b);
        return;
    }
    const double a = value_a / larger;
    const double b = value_b / larger;
    const double a4 = power4(a);
    const double b4 = power4(b);
    const double a12 = a4 * a4 * a4;
    const double b12 = b4 * b4 * b4;
    const double sum = a12 + b12;
    const double root = exp(
        log(sum) / 12); /* 1 <= sum <= 2: exact to rounding, and cheaper than cube root and square roots */
    *value = larger * root;
    *slope = root / sum * ((a > 0 ? a12 / a * slope_a : 0) + (b > 0 ? b12 / b * slope_b : 0));
}

/* Churchill 1977: f = 8 ((8/Re)^12 + (A + B)^(-3/2))^(1/12) with A = [2.457 ln(1 / ((7/Re)^0.9 + 0.27 e))]^16
 * and B = (37530/Re)^16. The 0.9th power of a smooth tube leaves the logarithm as a factor. */
static void churchill_sum(double re, double rough, double *sum, double *sum_slope)
{
    const double thin_log = 0.9 * log(7 / re);
    const double thin = rough > 0 ? exp(thin_log) : 1;
    const double x = rough > 0 ? thin + 0.27 * rough : 1;
    const double root = -2.457 * (rough > 0 ? log(x) : thin_log);
    const double root15 = power4(root) * power4(root) * power4(root) * (root * root * root);
    const double b4 = power4(37530 / re);
    const double b = power4(b4);
    *sum = root15 * root + b;
    *sum_slope = 16 * (root15 * 2.457 * 0.9 * thin / x - b) / re;
}

static void churchill(double re, double rough, double *value, double *slope)
{
    double sum;
    double sum_slope;
    churchill_sum(re, rough, &sum, &sum_slope);
    const double laminar4 = power4(8 / re);
    const double laminar = laminar4 * laminar4 * laminar4;
    const double turbulent = 1 / (sum * sqrt(sum));
    const double both = laminar + turbulent;
    const double factor = 8 * re * exp(log(both) / 12);
    *value = factor * re;
    *slope = factor * (2 - (laminar + 0.125 * turbulent * re * sum_slope / sum) / both);
}

/* The turbulent part of Churchill 1977, 8 Re^2 (A + B)^(-1/8) with A = [2.457 ln(1 / ((7/Re)^0.9 + 0.27
 * e))]^16 and B = (37530/Re)^16: together with 64 Re by the 12th powers it is Churchill's law. Below Re 100
 * it is less than 1e-4 of the laminar part, which its 12th power does not feel. */
static void churchill_turbulent(double re, double rough, double *value, double *slope)
{
    if (re < 100) {
        *value = 0;
        *slope = 0;
        return;
    }
    double sum;
    double sum_slope;
    churchill_sum(re, rough, &sum, &sum_slope);
    const double eighth = 8 / sqrt(sqrt(sqrt(sum)));
    *value = re * re * eighth;
    *slope = re * eighth * (2 - re / 8 * sum_slope / sum);
}

/* 1/sqrt(f) of Colebrook 1939 and its derivative: Newton's method from Haaland's value. The function is
 * convex and the start is within 2 %, so that four steps are exact to rounding. */
static double colebrook_root(double re, double rough, double start, double *slope)
{
    double x = start;
    for (int i = 0; i < 4; i++) {
        const double inner = rough / 3.7 + 2.51 * x / re;
        const double value = x + 2 * log(inner) / LN10;
        x -= value / (1 + 2 / LN10 * 2.51 / (re * inner));
    }
    const double inner = rough / 3.7 + 2.51 * x / re;
    const double by_x = 1 + 2 / LN10 * 2.51 / (re * inner);
    *slope = 2 / LN10 * 2.51 * x / (re * re * inner) / by_x;
    return x;
}

/* f Re^2 of a turbulent law given by x = 1/sqrt(f). */
static void turbulent(enum hr_friction law, double re, double rough, double *value, double *slope)
{
    double x;
    double x_slope;
    if (law == HR_SWAMEE_JAIN) { /* Swamee and Jain 1976 */
        const double thin = 5.74 * pow(re, -0.9);
        x = -2 * log(rough / 3.7 + thin) / LN10;
        x_slope = 2 / LN10 * 0.9 * thin / (re * (rough / 3.7 + thin));
    } else { /* Haaland 1983 */
        const double inner = pow(rough / 3.7, 1.11) + 6.9 / re;
        x = -1.8 * log(inner) / LN10;
        x_slope = 1.8 / LN10 * 6.9 / (re * re * inner);
    }
    if (law == HR_COLEBROOK) {
        x = colebrook_root(re, rough, x, &x_slope);
    }
    *value = re * re / (x * x);
    *slope = 2 * re / (x * x) * (1 - re * x_slope / x);
}

void hr_join(const double from[3], const double to[3], double re, double *value, double *slope)
{
    const double width = to[0] - from[0];
    const double t = (re - from[0]) / width;
    const double rise = to[1] - from[1];
    const double m0 = from[2] * width;
    const double m1 = to[2] * width;
    const double c2 = 3 * rise - 2 * m0 - m1;
    const double c3 = m0 + m1 - 2 * rise;
    *value = from[1] + t * (m0 + t * (c2 + t * c3));
    *slope = (m0 + t * (2 * c2 + 3 * t * c3)) / width;
}

void hr_friction_straight(enum hr_friction law, double re, double rough, double *value, double *slope)
{
    enum { LAMINAR_END = 2000, TURBULENT_START = 4000, LAMINAR_SURELY = 500 };
    if (re < LAMINAR_SURELY || (law != HR_CHURCHILL && re <= LAMINAR_END)) {
        /* Below Re 500 Churchill's turbulent part is less than a unit in the last place. */
        *value = 64 * re;
        *slope = 64;
    } else if (law == HR_CHURCHILL) {
        churchill(re, rough, value, slope);
    } else if (re >= TURBULENT_START) {
        turbulent(law, re, rough, value, slope);
    } else {
        const double from[3] = {LAMINAR_END, 64 * LAMINAR_END, 64};
        double to[3] = {TURBULENT_START, 0, 0};
        turbulent(law, TURBULENT_START, rough, &to[1], &to[2]);
        hr_join(from, to, re, value, slope);
    }
}

void hr_friction_curved(double re, double ratio, double *value, double *slope)
{
    if (re <= 0) {
        *value = 0;
        *slope = 64;
        return;
    }
    /* White 1929: f = f_straight / (1 - (1 - (11.6/De)^0.45)^(1/0.45)), De = Re sqrt(D/Dc) > 11.6. The
     * bracket leaves 1 with slope 0, so that the joint at De = 11.6 is smooth. */
    double laminar = 64 * re;
    double laminar_slope = 64;
    const double dean = re * sqrt(ratio);
    if (dean > 11.6) {
        const double y = pow(11.6 / dean, 0.45);
        const double bracket = 1 - pow(1 - y, 1 / 0.45);
        const double bracket_slope = -pow(1 - y, 1 / 0.45 - 1) * y / re;
        laminar /= bracket;
        laminar_slope = 64 / bracket * (1 - re * bracket_slope / bracket);
    }
    /* Mori and Nakayama 1967: f = 0.3 sqrt(D/Dc) t (1 + 0.112 t), t = (Re (D/Dc)^2)^-0.2. */
    const double t = pow(re * ratio * ratio, -0.2);
    const double factor = 0.3 * sqrt(ratio) * t * re;
    hr_smooth_larger(laminar, laminar_slope, factor * re * (1 + 0.112 * t), factor * (1.8 + 0.112 * 1.6 * t),
                     value, slope);
}

/* F(u) of the excess 4 (L/D)^2 F with u = 1/x+ = Re D/L, from f_app Re = 3.44/sqrt(x+) + (16 + K/(4 x+) -
 * 3.44/sqrt(x+)) / (1 + C/x+^2), K = 1.25, C = 2.12e-4 (Shah 1978, circle; Fanning). */
static void shah(double u, double *value, double *slope)
{
    const double k = 1.25;
    const double c = 2.12e-4;
    const double root = sqrt(u);
    const double n = (3.44 * root - 16) * c * u * u + k * u / 4;
    const double n_slope = 8.6 * c * u * root - 32 * c * u + k / 4;
    const double below = 1 + c * u * u;
    *value = u * n / below;
    *slope = (n + u * n_slope - 2 * c * u * u * n / below) / below;
}

void hr_friction_entrance(double re, double length, double *value, double *slope)
{
    const double start = 2300;
    const double width = 1700;
    if (length <= 0) {
        *value = 0;
        *slope = 0;
        return;
    }
    const double at = fmin(re, start);
    shah(at / length, value, slope);
    *value *= 4 * length * length;
    *slope *= 4 * length;
    if (re > start) {
        const double t = fmin((re - start) / width, 1);
        *value += *slope * width * (t - t * t / 2);
        *slope *= 1 - t;
    }
}

struct hr_channel hr_channel_make(double aspect, double length)
{
    const double root = sqrt(aspect);
    const double developed =
        12 / (root * (1 + aspect) * (1 - 192 * aspect / pow(PI, 5) * tanh(PI / (2 * aspect))));
    const double perimeter = 2 * (1 + aspect) / root; /* over the square root of the area */
    const double hydraulic = 4 / perimeter;
    return (struct hr_channel){.developed = developed,
                               .developing = 3.44 * 3.44 / length,
                               .perimeter = perimeter * length,
                               .hydraulic = hydraulic,
                               .turbulent = length / (hydraulic * hydraulic * hydraulic)};
}

void hr_channel_friction(const struct hr_channel *channel, double re, double *value, double *slope)
{
    const double root = sqrt(channel->developing * re + channel->developed * channel->developed);
    const double laminar = channel->perimeter * re * root;
    const double laminar_slope = channel->perimeter * (root + re * channel->developing / (2 * root));
    double part;
    double part_slope;
    churchill_turbulent(re * channel->hydraulic, 0, &part, &part_slope);
    hr_smooth_larger(laminar, laminar_slope, channel->turbulent * part,
                     channel->turbulent * channel->hydraulic * part_slope, value, slope);
}
