/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Friction in tubes and channels as a function of the Reynolds number Re >= 0. All functions give f Re^2 (f:
 * Darcy factor) and its derivative against Re: this is the pressure drop in units that stay finite and rising
 * at Re = 0. */
#ifndef HR_PART_FRICTION_H
#define HR_PART_FRICTION_H

enum hr_friction { HR_CHURCHILL, HR_COLEBROOK, HR_HAALAND, HR_SWAMEE_JAIN };

/* f Re^2 in a straight round tube; `rough`: roughness over bore. Churchill 1977 (Chem. Eng. 84(24):91) holds
 * for all Re. The others are turbulent laws: 64/Re below Re 2000, the law above Re 4000, between them the
 * cubic in Re that joins both with continuous slope (our choice; the transition has no law of its own). */
void hr_friction_straight(enum hr_friction law, double re, double rough, double *value, double *slope);

/* f Re^2 in a smooth tube bent with a ratio of bore to coil diameter of 0.001 to 0.3: the larger, smoothly,
 * of White 1929 (laminar; checked for 0.0004 to 0.066) and Mori and Nakayama 1967, part II (turbulent). */
void hr_friction_curved(double re, double ratio, double *value, double *slope);

/* The further drop in an entrance with a flat profile, times (D/L-free units): (f_app - f) Re^2 L/D by Shah
 * 1978 (J. Fluids Eng. 100:177) for the circle up to Re 2300. Above, turbulent entrances are short and cost a
 * small fraction of a velocity head: the term runs into a constant between Re 2300 and 4000 with continuous
 * slope (our choice). `length`: L/D. */
void hr_friction_entrance(double re, double length, double *value, double *slope);

/* A rectangular channel. Re here counts with the square root of the area as length; `aspect` <= 1, `length`
 * over the square root of the area. The value is dp / (rho nu^2 / (2 A)): laminar developing flow by Muzychka
 * and Yovanovich 2009 (J. Fluids Eng. 131:061105), turbulent flow by Churchill's turbulent term with the
 * hydraulic diameter, joined as Churchill joins them. */
struct hr_channel {
    double developed;  /* (f Re)_sqrtA, Fanning, of developed flow */
    double developing; /* 3.44^2 / length */
    double perimeter;  /* P L / A */
    double hydraulic;  /* hydraulic diameter over the square root of the area */
    double turbulent;  /* factor of f Re_h^2 */
};

struct hr_channel hr_channel_make(double aspect, double length);
void hr_channel_friction(const struct hr_channel *channel, double re, double *value, double *slope);

/* The 12th root of the sum of the 12th powers of two positive rising functions, with its derivative. */
void hr_smooth_larger(double value_a, double slope_a, double value_b, double slope_b, double *value,
                      double *slope);

/* The cubic through two points {place, value, slope}. */
void hr_join(const double from[3], const double to[3], double re, double *value, double *slope);

#endif
