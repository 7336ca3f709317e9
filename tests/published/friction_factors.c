/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Darcy friction factors: C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939) 133; S. W. Churchill, Chem. Eng.
 * 84(24) (1977) 91; S. E. Haaland, J. Fluids Eng. 105 (1983) 89; P. K. Swamee and A. K. Jain, J. Hydraul.
 * Div. 102 (1976) 657.
 *
 * The tables were computed with an independent open-source library of these formulas (python3-fluids 1.0.22,
 * MIT licence) and printed to six decimals. Tolerance: 2e-6 absolute and 5e-5 relative, the last digit
 * printed. The transition table has seven decimals: 1e-6. */
#include "hr_test.h"

#include "base/memory.h"
#include "part/friction.h"

/* NAN: the turbulent laws are not stated below Re 4000. */
static const struct {
    double re, rough, churchill, colebrook, haaland, swamee_jain;
} table[] = {
    {500, 0, 0.128000, NAN, NAN, NAN},
    {1000, 0, 0.064000, NAN, NAN, NAN},
    {2000, 0, 0.032043, NAN, NAN, NAN},
    {2300, 0, 0.030840, NAN, NAN, NAN},
    {2300, 0.0001, 0.030841, NAN, NAN, NAN},
    {2300, 0.001, 0.030848, NAN, NAN, NAN},
    {2300, 0.01, 0.030881, NAN, NAN, NAN},
    {3000, 0, 0.042975, NAN, NAN, NAN},
    {3000, 0.0001, 0.043049, NAN, NAN, NAN},
    {3000, 0.001, 0.043692, NAN, NAN, NAN},
    {3000, 0.01, 0.047949, NAN, NAN, NAN},
    {4000, 0, 0.040590, 0.039907, 0.040423, 0.040551},
    {4000, 0.0001, 0.040706, 0.040008, 0.040485, 0.040668},
    {4000, 0.001, 0.041728, 0.040910, 0.041216, 0.041695},
    {4000, 0.01, 0.050578, 0.049082, 0.049236, 0.050614},
    {5000, 0, 0.037887, 0.037393, 0.037730, 0.037846},
    {5000, 0.0001, 0.038015, 0.037505, 0.037800, 0.037974},
    {5000, 0.001, 0.039138, 0.038495, 0.038620, 0.039101},
    {5000, 0.01, 0.048611, 0.047259, 0.047303, 0.048595},
    {10000, 0, 0.031002, 0.030883, 0.030886, 0.030972},
    {10000, 0.0001, 0.031178, 0.031037, 0.030990, 0.031149},
    {10000, 0.001, 0.032690, 0.032382, 0.032175, 0.032665},
    {10000, 0.01, 0.044044, 0.043127, 0.043045, 0.044042},
    {30000, 0, 0.023392, 0.023483, 0.023317, 0.023373},
    {30000, 0.0001, 0.023699, 0.023753, 0.023520, 0.023681},
    {30000, 0.001, 0.026138, 0.025970, 0.025645, 0.026127},
    {30000, 0.01, 0.040325, 0.039822, 0.039790, 0.040336},
    {100000, 0, 0.017875, 0.017990, 0.017825, 0.017863},
    {100000, 0.0001, 0.018463, 0.018514, 0.018265, 0.018452},
    {100000, 0.001, 0.022343, 0.022175, 0.021966, 0.022342},
    {100000, 0.01, 0.038734, 0.038504, 0.038539, 0.038751},
};

static const struct {
    double re, smooth, rough_1e4;
} transition[] = {
    {2000, 0.0320433, 0.0320433}, {2200, 0.0300910, 0.0300912}, {2300, 0.0308401, 0.0308409},
    {2400, 0.0327701, 0.0327727}, {2600, 0.0375193, 0.0375326}, {3000, 0.0429747, 0.0430490},
    {3200, 0.0430940, 0.0431889}, {4000, 0.0405897, 0.0407055},
};

static double factor(enum hr_friction law, double re, double rough)
{
    double value;
    double slope;
    hr_friction_straight(law, re, rough, &value, &slope);
    return value / (re * re);
}

START_TEST(friction_table)
{
    const double re = table[_i].re;
    const double rough = table[_i].rough;
    const double expected[] = {table[_i].churchill, table[_i].colebrook, table[_i].haaland,
                               table[_i].swamee_jain};
    static const char *const names[] = {"Churchill", "Colebrook", "Haaland", "Swamee and Jain"};
    for (int law = HR_CHURCHILL; law <= HR_SWAMEE_JAIN; law++) {
        if (!isnan(expected[law])) {
            hr_assert_abs(factor((enum hr_friction)law, re, rough), expected[law],
                          fmax(2e-6, 5e-5 * expected[law]), names[law]);
        }
    }
}
END_TEST

START_TEST(churchill_in_the_transition)
{
    hr_assert_abs(factor(HR_CHURCHILL, transition[_i].re, 0), transition[_i].smooth, 1e-6, "smooth");
    hr_assert_abs(factor(HR_CHURCHILL, transition[_i].re, 1e-4), transition[_i].rough_1e4, 1e-6, "e/D 1e-4");
}
END_TEST

/* Churchill's largest deviation from Colebrook over this range is 3.05 %, at Re 4000 and e/D 1e-2. */
START_TEST(churchill_stays_near_colebrook)
{
    double largest = 0;
    for (int i = 0; i <= 40; i++) {
        const double rough = i == 0 ? 0 : pow(10, -6 + i / 10.0);
        for (double re = 4000; re <= 1e5; re *= 1.03) {
            largest =
                fmax(largest, fabs(factor(HR_CHURCHILL, re, rough) / factor(HR_COLEBROOK, re, rough) - 1));
        }
    }
    ck_assert_msg(largest < 0.031 && largest > 0.030, "largest deviation %g", largest);
}
END_TEST

START_TEST(laminar_limit)
{
    for (double re = 1e-6; re < 1000; re *= 7) {
        hr_assert_rel(factor(HR_CHURCHILL, re, 0.01), 64 / re, 1e-6, "64/Re");
    }
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("friction-factors");
    TCase *tables = tcase_create("tables");
    tcase_add_loop_test(tables, friction_table, 0, HR_ARRAY_LEN(table));
    tcase_add_loop_test(tables, churchill_in_the_transition, 0, HR_ARRAY_LEN(transition));
    tcase_add_test(tables, churchill_stays_near_colebrook);
    tcase_add_test(tables, laminar_limit);
    suite_add_tcase(s, tables);
    return s;
}

HR_TEST_MAIN(suite)
