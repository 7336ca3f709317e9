/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every test shares: comparison that prints both numbers, and the runner. */
#ifndef HR_TEST_H
#define HR_TEST_H

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* |actual - expected| <= rel |expected|; NaN fails, infinity equals only itself. For an expected zero use
 * hr_assert_abs. */
#define hr_assert_rel(actual, expected, rel, what)                                                           \
    do {                                                                                                     \
        const double a_ = (actual), e_ = (expected), r_ = (rel);                                             \
        ck_assert_msg(a_ == e_ || fabs(a_ - e_) <= r_ * fabs(e_),                                            \
                      "%s: got %.12g, expected %.12g, off by %.3g relative, allowed %.3g", (what), a_, e_,   \
                      fabs(a_ - e_) / fabs(e_), r_);                                                         \
    } while (0)

/* |actual - expected| <= tol; NaN fails. */
#define hr_assert_abs(actual, expected, tol, what)                                                           \
    do {                                                                                                     \
        const double a_ = (actual), e_ = (expected), t_ = (tol);                                             \
        ck_assert_msg(fabs(a_ - e_) <= t_, "%s: got %.12g, expected %.12g, off by %.3g, allowed %.3g",       \
                      (what), a_, e_, fabs(a_ - e_), t_);                                                    \
    } while (0)

/* Defines main for a program of one suite. */
#define HR_TEST_MAIN(suite_function)                                                                         \
    int main(void)                                                                                           \
    {                                                                                                        \
        SRunner *runner = srunner_create(suite_function());                                                  \
        srunner_run_all(runner, CK_NORMAL);                                                                  \
        const int failed = srunner_ntests_failed(runner);                                                    \
        srunner_free(runner);                                                                                \
        return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;                                                    \
    }

#endif
