/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "part_test.h"

static struct hr_part_branch single(struct hr_law law)
{
    return (struct hr_part_branch){.law = {law}, .law_count = 1};
}

START_TEST(quadratic_law_has_its_own_square_backwards)
{
    const struct hr_part_branch branch = single(hr_law_quadratic(3.7e6, 4.1e9, 1.3e9));
    double drop;
    double slope;
    test_properties(&branch, 5e-5, 0);
    test_branch(&branch, 2e-3, &drop, &slope);
    hr_assert_rel(drop, 3.7e6 * 2e-3 + 4.1e9 * 4e-6, 1e-15, "forwards");
    test_branch(&branch, -2e-3, &drop, &slope);
    hr_assert_rel(drop, -3.7e6 * 2e-3 - 1.3e9 * 4e-6, 1e-15, "backwards");
    hr_assert_rel(slope, 3.7e6 + 2 * 1.3e9 * 2e-3, 1e-15, "slope backwards");
}
END_TEST

START_TEST(power_law_is_odd_and_level_at_no_flow)
{
    const struct hr_part_branch branch = single(hr_law_power(7.3e8, 1.83));
    test_properties(&branch, 5e-5, TEST_ODD | TEST_ZERO_SLOPE);
    double drop;
    double slope;
    test_branch(&branch, 0.037, &drop, &slope);
    hr_assert_rel(drop, 7.3e8 * pow(0.037, 1.83), 1e-14, "drop");
}
END_TEST

START_TEST(power_laws_of_one_and_two_are_quadratic)
{
    const struct hr_law one = hr_law_power(5.1, 1);
    const struct hr_law two = hr_law_power(5.1, 2);
    const struct hr_law other = hr_law_power(5.1, 1.5);
    ck_assert(hr_law_is_quadratic(&one));
    ck_assert(hr_law_is_quadratic(&two));
    ck_assert(!hr_law_is_quadratic(&other));
    double drop;
    double slope;
    hr_law_evaluate(&one, -0.3, &drop, &slope);
    hr_assert_rel(drop, -5.1 * 0.3, 1e-15, "linear");
    hr_law_evaluate(&two, -0.3, &drop, &slope);
    hr_assert_rel(drop, -5.1 * 0.09, 1e-15, "square");
}
END_TEST

START_TEST(rescaled_laws_stretch_flow_and_drop)
{
    const struct hr_law laws[] = {hr_law_quadratic(3, 5, 7), hr_law_power(3, 1.7), hr_law_offset(11)};
    for (size_t i = 0; i < HR_ARRAY_LEN(laws); i++) {
        const struct hr_law scaled = hr_law_rescale(&laws[i], 0.4, 2.6);
        for (double flow = -1.7; flow < 2; flow += 0.83) {
            double drop;
            double slope;
            double expected;
            double expected_slope;
            hr_law_evaluate(&scaled, flow, &drop, &slope);
            hr_law_evaluate(&laws[i], 0.4 * flow, &expected, &expected_slope);
            hr_assert_rel(drop, 2.6 * expected, 1e-14, "drop");
            hr_assert_rel(slope, 0.4 * 2.6 * expected_slope, 1e-14, "slope");
        }
    }
}
END_TEST

START_TEST(bore_change_widens_one_way_and_narrows_the_other)
{
    const double pi = 3.14159265358979323846;
    const double small = 0.007;
    const double large = 0.010;
    const double flow = 6e-5;
    const double head = 1000.0 / 2 * pow(flow / (pi / 4 * small * small), 2);
    const struct hr_law widening = hr_law_bore_change(small, large, 1000);
    const struct hr_law narrowing = hr_law_bore_change(large, small, 1000);
    double drop;
    double slope;
    hr_law_evaluate(&widening, flow, &drop, &slope);
    hr_assert_rel(drop, 0.2601 * head, 1e-12, "widening, beta 0.7");
    hr_law_evaluate(&widening, -flow, &drop, &slope);
    hr_assert_rel(drop, -0.255 * head, 1e-12, "backwards it narrows");
    hr_law_evaluate(&narrowing, flow, &drop, &slope);
    hr_assert_rel(drop, 0.255 * head, 1e-12, "narrowing, beta 0.7");
    hr_law_evaluate(&narrowing, -flow, &drop, &slope);
    hr_assert_rel(drop, -0.2601 * head, 1e-12, "backwards it widens");
    const struct hr_law equal = hr_law_bore_change(small, small, 1000);
    hr_law_evaluate(&equal, flow, &drop, &slope);
    ck_assert(drop == 0);
}
END_TEST

static Suite *law_suite(void)
{
    Suite *suite = suite_create("part-law");
    TCase *laws = tcase_create("laws");
    tcase_add_test(laws, quadratic_law_has_its_own_square_backwards);
    tcase_add_test(laws, power_law_is_odd_and_level_at_no_flow);
    tcase_add_test(laws, power_laws_of_one_and_two_are_quadratic);
    tcase_add_test(laws, rescaled_laws_stretch_flow_and_drop);
    tcase_add_test(laws, bore_change_widens_one_way_and_narrows_the_other);
    suite_add_tcase(suite, laws);
    return suite;
}

HR_TEST_MAIN(law_suite)
