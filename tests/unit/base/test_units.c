/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What quantities mean: numbers, units, deviations. What is refused stands in test_quantity_errors.c. */
#include "hr_test.h"

#include "base/memory.h"
#include "base/units.h"

#include <string.h>

static const struct {
    const char *text;
    enum hr_quantity quantity;
    double value;
    enum hr_meaning meaning;
    double sd;
} good[] = {
    {"0.35", HR_NUMBER, 0.35, HR_PLAIN, 0},
    {"2e9", HR_NUMBER, 2e9, HR_PLAIN, 0},
    {"010", HR_NUMBER, 10, HR_PLAIN, 0},
    {" -1.7e-3 ", HR_NUMBER, -0.0017, HR_PLAIN, 0},
    {"1.5 +- 0.1", HR_NUMBER, 1.5, HR_PLAIN, 0.1},
    {"2400 rpm", HR_SPEED, 2400, HR_PLAIN, 0},
    {"2400RPM", HR_SPEED, 2400, HR_PLAIN, 0},
    {"60 %", HR_SPEED, 0.6, HR_PERCENT, 0},
    {"1.2 L/min", HR_FLOW, 1.2e-3 / 60, HR_PLAIN, 0},
    {"1.2l/min", HR_FLOW, 1.2e-3 / 60, HR_PLAIN, 0},
    {"72 L/h", HR_FLOW, 2e-5, HR_PLAIN, 0},
    {"72 l/h", HR_FLOW, 2e-5, HR_PLAIN, 0},
    {"0.3 gpm", HR_FLOW, 1.8927058920e-5, HR_PLAIN, 0}, /* 231 cubic inches a minute */
    {"18 GPM", HR_FLOW, 18 * 231 * 1.6387064e-5 / 60, HR_PLAIN, 0},
    {"0.7 m3/h", HR_FLOW, 0.7 / 3600, HR_PLAIN, 0},
    {"0.7 m³/h", HR_FLOW, 0.7 / 3600, HR_PLAIN, 0},
    {"3e-5 m3/s", HR_FLOW, 3e-5, HR_PLAIN, 0},
    {"35 CFM", HR_AIR_FLOW, 35 * 0.028316846592 / 60, HR_PLAIN, 0},
    {"35 cfm", HR_AIR_FLOW, 35 * 0.028316846592 / 60, HR_PLAIN, 0},
    {"61 m3/h", HR_AIR_FLOW, 61.0 / 3600, HR_PLAIN, 0},
    {"1300 rpm", HR_SPEED_OR_FLOW, 1300, HR_PLAIN, 0},
    {"61 m3/h", HR_SPEED_OR_FLOW, 61.0 / 3600, HR_AS_FLOW, 0},
    {"35 CFM", HR_SPEED_OR_FLOW, 35 * 0.028316846592 / 60, HR_AS_FLOW, 0},
    {"40 %", HR_SPEED_OR_FLOW, 0.4, HR_PERCENT, 0},
    {"2417 Pa", HR_PRESSURE, 2417, HR_PLAIN, 0},
    {"24.17 kPa", HR_PRESSURE, 24170, HR_PLAIN, 0},
    {"0.3 MPa", HR_PRESSURE, 3e5, HR_PLAIN, 0},
    {"1013 mbar", HR_PRESSURE, 101300, HR_PLAIN, 0},
    {"1.7 bar", HR_PRESSURE, 1.7e5, HR_PLAIN, 0},
    {"3 psi", HR_PRESSURE, 3 * 6894.757293168, HR_PLAIN, 0},
    {"5.2 mH2O", HR_PRESSURE, 5.2 * 9806.65, HR_PLAIN, 0},
    {"8 mmH2O", HR_PRESSURE, 8 * 9.80665, HR_PLAIN, 0},
    {"0.11 inH2O", HR_PRESSURE, 0.11 * 25.4 * 9.80665, HR_PLAIN, 0},
    {"-20 kPa", HR_PRESSURE, -20e3, HR_PLAIN, 0},
    {"5.2 m", HR_HEAD, 5.2, HR_METRES, 0},
    {"52 cm", HR_HEAD, 0.52, HR_METRES, 0},
    {"5.2 mH2O", HR_HEAD, 5.2 * 9806.65, HR_PLAIN, 0},
    {"60 mbar", HR_HEAD, 6000, HR_PLAIN, 0},
    {"1.3 m", HR_LENGTH, 1.3, HR_PLAIN, 0},
    {"15 cm", HR_LENGTH, 0.15, HR_PLAIN, 0},
    {"7 mm", HR_LENGTH, 0.007, HR_PLAIN, 0},
    {"1.5 um", HR_LENGTH, 1.5e-6, HR_PLAIN, 0},
    {"1.5 µm", HR_LENGTH, 1.5e-6, HR_PLAIN, 0},
    {"0.375 in", HR_LENGTH, 0.009525, HR_PLAIN, 0},
    {"6 ft", HR_LENGTH, 1.8288, HR_PLAIN, 0},
    {"1.1 m2", HR_AREA, 1.1, HR_PLAIN, 0},
    {"60 cm2", HR_AREA, 0.006, HR_PLAIN, 0},
    {"78 mm2", HR_AREA, 78e-6, HR_PLAIN, 0},
    {"78 mm²", HR_AREA, 78e-6, HR_PLAIN, 0},
    {"250 mL", HR_VOLUME, 0.25e-3, HR_PLAIN, 0},
    {"250 ml", HR_VOLUME, 0.25e-3, HR_PLAIN, 0},
    {"0.7 l", HR_VOLUME, 0.7e-3, HR_PLAIN, 0},
    {"23 degC", HR_TEMPERATURE, 23, HR_PLAIN, 0},
    {"23 °C", HR_TEMPERATURE, 23, HR_PLAIN, 0},
    {"23\u00a0°C", HR_TEMPERATURE, 23, HR_PLAIN, 0},
    {"113 degF", HR_TEMPERATURE, 45, HR_PLAIN, 0},
    {"-40 °F", HR_TEMPERATURE, -40, HR_PLAIN, 0},
    {"24 degC ± 0.5 K", HR_TEMPERATURE, 24, HR_PLAIN, 0.5},
    {"113 degF +- 0.5 K", HR_TEMPERATURE, 45, HR_PLAIN, 0.5},
    {"45 degC", HR_LIMIT_TEMPERATURE, 45, HR_PLAIN, 0},
    {"15 K over ambient", HR_LIMIT_TEMPERATURE, 15, HR_OVER_AMBIENT, 0},
    {"15K  over  ambient", HR_LIMIT_TEMPERATURE, 15, HR_OVER_AMBIENT, 0},
    {"15 K over ambient ± 0.7 K", HR_LIMIT_TEMPERATURE, 15, HR_OVER_AMBIENT, 0.7},
    {"2 K", HR_TEMPERATURE_DIFFERENCE, 2, HR_PLAIN, 0},
    {"320 W", HR_POWER, 320, HR_PLAIN, 0},
    {"1.7 kW", HR_POWER, 1700, HR_PLAIN, 0},
    {"320 W ± 10 W", HR_POWER, 320, HR_PLAIN, 10},
    {"320 W±10W", HR_POWER, 320, HR_PLAIN, 10},
    {"320 W +- 3 %", HR_POWER, 320, HR_PLAIN, 9.6},
    {"1.7 kW +/- 40 W", HR_POWER, 1700, HR_PLAIN, 40},
    {"-20 kPa +- 3 %", HR_PRESSURE, -20e3, HR_PLAIN, 600},
    {"60 % +- 3 %", HR_SPEED, 0.6, HR_PERCENT, 0.03},
    {"2400 rpm +- 3 %", HR_SPEED, 2400, HR_PLAIN, 72},
    {"21 W/K", HR_CONDUCTANCE, 21, HR_PLAIN, 0},
    {"0.083 K/W", HR_RESISTANCE, 0.083, HR_PLAIN, 0},
    {"38 dBA", HR_SOUND_LEVEL, 38, HR_PLAIN, 0},
    {"38 dBA +- 1.5 dBA", HR_SOUND_LEVEL, 38, HR_PLAIN, 1.5},
    {"90 s", HR_TIME, 90, HR_PLAIN, 0},
    {"1.5 min", HR_TIME, 90, HR_PLAIN, 0},
    {"0.5 h", HR_TIME, 1800, HR_PLAIN, 0},
    {"0.41 kg", HR_MASS, 0.41, HR_PLAIN, 0},
    {"410 g", HR_MASS, 0.41, HR_PLAIN, 0},
    {"20 %", HR_SHARE, 0.2, HR_PLAIN, 0},
    {"90 deg", HR_ANGLE, 90, HR_PLAIN, 0},
    {"45°", HR_ANGLE, 45, HR_PLAIN, 0},
    {"998.2 kg/m3", HR_DENSITY, 998.2, HR_PLAIN, 0},
    {"1.07 mPa s", HR_VISCOSITY, 1.07e-3, HR_PLAIN, 0},
    {"1.07 mPa·s", HR_VISCOSITY, 1.07e-3, HR_PLAIN, 0},
    {"0.00107 Pa s", HR_VISCOSITY, 1.07e-3, HR_PLAIN, 0},
    {"1.004 mm2/s", HR_KINEMATIC_VISCOSITY, 1.004e-6, HR_PLAIN, 0},
    {"1.004 cSt", HR_KINEMATIC_VISCOSITY, 1.004e-6, HR_PLAIN, 0},
    {"1.004e-6 m2/s", HR_KINEMATIC_VISCOSITY, 1.004e-6, HR_PLAIN, 0},
    {"4181 J/kgK", HR_HEAT_CAPACITY, 4181, HR_PLAIN, 0},
    {"4.181 kJ/kgK", HR_HEAT_CAPACITY, 4181, HR_PLAIN, 0},
    {"0.61 W/mK", HR_CONDUCTIVITY, 0.61, HR_PLAIN, 0},
    {"1.3 Kv", HR_FLOW_COEFFICIENT, 1.3 / 3600 / 316.2277660168379, HR_PLAIN, 0},
    /* A Cv of 1 is a Kv of 0.865 (common practice; 0.86498 by the definitions). */
    {"1.2 Cv", HR_FLOW_COEFFICIENT, 1.2 * 0.864977 / 3600 / 316.2277660168379, HR_PLAIN, 0},
};

START_TEST(quantity_is_read)
{
    struct hr_number number = {.value = NAN};
    char why[400] = "";
    ck_assert_msg(hr_quantity_parse(good[_i].text, good[_i].quantity, &number, why, sizeof why), "%s: %s",
                  good[_i].text, why);
    hr_assert_rel(number.value, good[_i].value, strstr(good[_i].text, "Cv") != NULL ? 1e-6 : 4e-16,
                  good[_i].text);
    hr_assert_rel(number.sd, good[_i].sd, 4e-16, good[_i].text);
    ck_assert_msg(number.meaning == good[_i].meaning, "%s means %d", good[_i].text, (int)number.meaning);
}
END_TEST

static const struct {
    const char *text;
    double value;
    const char *rest; /* NULL: refused */
} decimals[] = {
    {"1.5x", 1.5, "x"},
    {"5.", 5, ""},
    {".25 m", 0.25, " m"},
    {"+3", 3, ""},
    {"-0.0e5", 0, ""},
    {"7e", 7, "e"},
    {"7e+ ", 7, "e+ "},
    {"1E-3", 1e-3, ""},
    {"0x10", 0, "x10"},
    {"9007199254740993", 9007199254740992, ""}, /* half way between two doubles: to the even one */
    {"0.1000000000000000055511151231257827021181583404541015625", 0.1, ""},
    {"123456789012345678901234567890123456789012345678901234567890e-50", 1234567890.1234568, ""},
    {"0.000000000000000000000000000000000000000000000000000000000000123e60", 0.123, ""},
    {"4.9e-324", 4.9406564584124654e-324, ""},
    {"1e-999999999999999999999", 0, ""},
    {"1e309", HUGE_VAL, ""},
    {"-1e999999999999999999999", -HUGE_VAL, ""},
    {"inf", 0, NULL},
    {"nan", 0, NULL},
    {".", 0, NULL},
    {"-", 0, NULL},
    {"e5", 0, NULL},
    {" 1", 0, NULL},
    {"", 0, NULL},
};

START_TEST(decimal_is_read_to_the_nearest_double)
{
    double value = 0;
    const char *rest = hr_decimal_parse(decimals[_i].text, &value);
    if (decimals[_i].rest == NULL) {
        ck_assert_ptr_null(rest);
        return;
    }
    ck_assert_ptr_nonnull(rest);
    ck_assert_str_eq(rest, decimals[_i].rest);
    ck_assert_msg(value == decimals[_i].value, "%s: got %.17g", decimals[_i].text, value);
}
END_TEST

START_TEST(unit_is_found_by_its_spelling)
{
    double factor = 0;
    double offset = 1;
    ck_assert(hr_unit_find("gpm", HR_FLOW, &factor, &offset));
    hr_assert_rel(factor, 6.30901964e-5, 1e-9, "gpm");
    hr_assert_abs(offset, 0, 0, "gpm");
    ck_assert(hr_unit_find("degF", HR_TEMPERATURE, &factor, &offset));
    hr_assert_rel(212 * factor + offset, 100, 1e-15, "degF");
    ck_assert(hr_unit_find("CFM", HR_AIR_FLOW, &factor, &offset));
    ck_assert(!hr_unit_find("CFM", HR_FLOW, &factor, &offset));
    ck_assert(!hr_unit_find("psi", HR_FLOW, &factor, &offset));
    ck_assert(!hr_unit_find("furlong", HR_LENGTH, &factor, &offset));
    ck_assert(!hr_unit_find("", HR_NUMBER, &factor, &offset));
}
END_TEST

START_TEST(every_quantity_has_a_name_and_reads_its_own_example)
{
    const enum hr_quantity quantity = (enum hr_quantity)_i;
    ck_assert_ptr_nonnull(hr_quantity_name(quantity));
    /* The refusal of a word shows how to write it: what it shows must be readable. */
    struct hr_number number;
    char why[400];
    ck_assert(!hr_quantity_parse("word", quantity, &number, why, sizeof why));
    const char *example = strstr(why, quantity == HR_NUMBER ? "such as " : "for instance ");
    ck_assert_ptr_nonnull(example);
    char list[400];
    (void)snprintf(list, sizeof list, "%s", example + (quantity == HR_NUMBER ? 8 : 13));
    for (char *one = list; one != NULL;) {
        char *end = strstr(one, ", ");
        char *next = end != NULL ? end + 2 : NULL;
        char *last = strstr(one, " or ");
        if (last != NULL && (end == NULL || last < end)) {
            end = last;
            next = last + 4;
        }
        if (end != NULL) {
            *end = '\0';
        }
        ck_assert_msg(hr_quantity_parse(one, quantity, &number, why, sizeof why), "%s: %s", one, why);
        one = next;
    }
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("units");
    TCase *reading = tcase_create("reading");
    tcase_add_loop_test(reading, quantity_is_read, 0, HR_ARRAY_LEN(good));
    tcase_add_loop_test(reading, decimal_is_read_to_the_nearest_double, 0, HR_ARRAY_LEN(decimals));
    tcase_add_test(reading, unit_is_found_by_its_spelling);
    tcase_add_loop_test(reading, every_quantity_has_a_name_and_reads_its_own_example, 0, HR_QUANTITIES);
    suite_add_tcase(s, reading);
    return s;
}

HR_TEST_MAIN(suite)
