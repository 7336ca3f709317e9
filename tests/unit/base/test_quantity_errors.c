/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The exact phrase of every refusal of a quantity, and that nothing is written but the phrase. */
#include "hr_test.h"

#include "base/memory.h"
#include "base/units.h"

#include <locale.h>
#include <string.h>

static const struct {
    const char *text;
    enum hr_quantity quantity;
    const char *why;
} bad[] = {
    {"1.2", HR_FLOW, "'1.2' has no unit; write for instance 1.2 L/min, 72 L/h or 0.3 gpm"},
    {"10", HR_LENGTH, "'10' has no unit; write for instance 150 mm, 15 cm or 6 in"},
    {"0.2", HR_SHARE, "'0.2' has no unit; write for instance 20 %"},
    {"320 +- 10 W", HR_POWER, "'320 +- 10 W' has no unit; write for instance 320 W or 0.32 kW"},
    {"1.2 L/mn", HR_FLOW, "'1.2 L/mn' has the unknown unit 'L/mn'; did you mean 1.2 L/min?"},
    {"1.2 L/m", HR_FLOW, "'1.2 L/m' has the unknown unit 'L/m'; did you mean 1.2 L/min?"},
    {"20 KPA", HR_PRESSURE, "'20 KPA' has the unknown unit 'KPA'; did you mean 20 kPa?"},
    {"3 PSI", HR_PRESSURE, "'3 PSI' has the unknown unit 'PSI'; did you mean 3 psi?"},
    {"5 mH20", HR_HEAD, "'5 mH20' has the unknown unit 'mH20'; did you mean 5 mH2O?"},
    {"24 C", HR_TEMPERATURE, "'24 C' has the unknown unit 'C'; did you mean 24 degC?"},
    {"0.08 °C/W", HR_RESISTANCE, "'0.08 °C/W' has the unknown unit '°C/W'; did you mean 0.08 K/W?"},
    {"5 q", HR_LENGTH,
     "'5 q' has the unknown unit 'q'; a length is needed, for instance 150 mm, 15 cm or 6 in"},
    {"5 furlong", HR_LENGTH,
     "'5 furlong' has the unknown unit 'furlong'; a length is needed, for instance 150 mm, 15 cm or 6 in"},
    {"15 K over room", HR_LIMIT_TEMPERATURE,
     "'15 K over room' has the unknown unit 'K over room'; a temperature is needed, for instance 45 degC, "
     "113 degF or 15 K "
     "over ambient"},
    {"2400 Pa", HR_FLOW, "'2400 Pa' is a pressure; a flow is needed, for instance 1.2 L/min"},
    {"35 CFM", HR_FLOW, "'35 CFM' is an air flow; a flow is needed, for instance 1.2 L/min"},
    {"1.2 L/min", HR_SPEED, "'1.2 L/min' is a flow; a speed is needed, for instance 2400 rpm"},
    {"60 %", HR_FLOW, "'60 %' is a share; a flow is needed, for instance 1.2 L/min"},
    {"5 m", HR_PRESSURE,
     "'5 m' is a length; a pressure is needed, for instance 20 kPa, or 2 mH2O for metres of water"},
    {"15 K over ambient", HR_FLOW,
     "'15 K over ambient' is a temperature over ambient; a flow is needed, for instance 1.2 L/min"},
    {"15 K over ambient", HR_TEMPERATURE,
     "'15 K over ambient' is a temperature over ambient; a temperature is needed, for instance 45 degC"},
    {"15 degC over ambient", HR_LIMIT_TEMPERATURE,
     "'15 degC over ambient' is not in K; a temperature over ambient is written 15 K over ambient"},
    {"318 K", HR_TEMPERATURE, "'318 K' is a temperature difference; write 45 degC"},
    {"45 K", HR_LIMIT_TEMPERATURE, "'45 K' is a temperature difference; write 45 degC or 15 K over ambient"},
    {"10 degC", HR_TEMPERATURE_DIFFERENCE,
     "'10 degC' is a temperature; a temperature difference takes K only, write 10 K"},
    {"10 degF", HR_TEMPERATURE_DIFFERENCE,
     "'10 degF' is a temperature; a temperature difference takes K only, write 5 K"},
    {"-300 degC", HR_TEMPERATURE,
     "'-300 degC' is below absolute zero; write a temperature above -273.15 degC"},
    {"-460 degF", HR_LIMIT_TEMPERATURE,
     "'-460 degF' is below absolute zero; write a temperature above -273.15 degC"},
    {"1,2 L/min", HR_FLOW, "'1,2 L/min' has a decimal comma; write 1.2 L/min"},
    {"-0,25 kPa", HR_PRESSURE, "'-0,25 kPa' has a decimal comma; write -0.25 kPa"},
    {"1,200 rpm", HR_SPEED,
     "'1,200 rpm' has a comma in its number; write 1.200 rpm, or 1200 rpm where thousands are meant"},
    {"1.234,5 Pa", HR_PRESSURE,
     "'1.234,5 Pa' has a comma in its number; write the digits with one decimal point and no comma, such as "
     "1200.5"},
    {"320 W ± 1,5 W", HR_POWER, "'320 W ± 1,5 W' has a decimal comma; write 1.5 W"},
    {"1 200 rpm", HR_SPEED,
     "'1 200 rpm' has more than one number in it; write one number, without spaces or marks between its "
     "digits"},
    {"1.2.3 Pa", HR_PRESSURE,
     "'1.2.3 Pa' has more than one number in it; write one number, without spaces or marks between its "
     "digits"},
    {"0x10 Pa", HR_PRESSURE, "'0x10 Pa' looks hexadecimal; write the number in decimal notation"},
    {"1e999 Pa", HR_PRESSURE, "'1e999 Pa' is too large a number; check its exponent"},
    {"1e306 kPa", HR_PRESSURE, "'1e306 kPa' is too large a number; check its exponent"},
    {"inf Pa", HR_PRESSURE,
     "'inf Pa' is not a quantity; write a number with a unit, for instance 20 kPa, 200 mbar, 2 mH2O or 3 "
     "psi"},
    {"fast", HR_SPEED, "'fast' is not a quantity; write a number with a unit, for instance 2400 rpm or 60 %"},
    {"", HR_POWER, "'' is not a quantity; write a number with a unit, for instance 320 W or 0.32 kW"},
    {"2 mm", HR_NUMBER, "'2 mm' has a unit; this takes a bare number, without unit, write 2"},
    {"no", HR_NUMBER, "'no' is not a number; this takes a bare number, without unit, such as 1.5"},
    {"320 W ±", HR_POWER, "'320 W ±' has no readable deviation; write it like 320 W +- 3 %"},
    {"320 W +- -5 W", HR_POWER, "'320 W +- -5 W' has no readable deviation; write it like 320 W +- 3 %"},
    {"320 W +- 5", HR_POWER, "'320 W +- 5' has no readable deviation; write it like 320 W +- 3 %"},
    {"320 W +- 5 Pa", HR_POWER, "'320 W +- 5 Pa' has no readable deviation; write it like 320 W +- 3 %"},
    {"24 degC +- 1 degC", HR_TEMPERATURE,
     "'24 degC +- 1 degC' has no readable deviation; write it like 24 degC +- 0.5 K"},
    {"24 degC +- 3 %", HR_TEMPERATURE,
     "'24 degC +- 3 %' has no readable deviation; write it like 24 degC +- 0.5 K"},
    {"38 dBA +- 3 %", HR_SOUND_LEVEL,
     "'38 dBA +- 3 %' has no readable deviation; write it like 24 dBA +- 1 dBA"},
    {"a\nb\033[31m", HR_MASS,
     "'a?b?[31m' is not a quantity; write a number with a unit, for instance 0.4 kg or 400 g"},
    {"a text that goes on and on, so that nobody wants to read all äöü of it", HR_MASS,
     "'a text that goes on and on, so that nobody wants to read all...' is not a quantity; write a number "
     "with a unit, for "
     "instance 0.4 kg or 400 g"},
};

START_TEST(refusal_says_what_was_found_and_what_would_be_right)
{
    struct hr_number number = {.value = 27.4, .sd = 0.418, .meaning = HR_AS_FLOW};
    char why[400] = "";
    ck_assert_msg(!hr_quantity_parse(bad[_i].text, bad[_i].quantity, &number, why, sizeof why), "%s was read",
                  bad[_i].text);
    ck_assert_str_eq(why, bad[_i].why);
    ck_assert(number.value == 27.4 && number.sd == 0.418 && number.meaning == HR_AS_FLOW);
}
END_TEST

/* Cut in the middle of "ä", the quotation must end before it. */
START_TEST(long_text_is_cut_between_characters)
{
    char text[80];
    memset(text, 'x', 59);
    memcpy(text + 59, "ä and more", sizeof "ä and more");
    struct hr_number number;
    char why[400];
    ck_assert(!hr_quantity_parse(text, HR_MASS, &number, why, sizeof why));
    ck_assert_msg(strncmp(why + 1, text, 59) == 0 && strncmp(why + 60, "...'", 4) == 0, "%s", why);
}
END_TEST

START_TEST(phrase_fits_in_any_room)
{
    struct hr_number number;
    char why[] = "????????????";
    ck_assert(!hr_quantity_parse("word", HR_MASS, &number, why, 8));
    ck_assert_str_eq(why, "'word' ");
    ck_assert_str_eq(why + 8, "????");
    ck_assert(!hr_quantity_parse("word", HR_MASS, &number, NULL, 0));
}
END_TEST

START_TEST(overlong_units_and_numbers_are_refused)
{
    struct hr_number number;
    char why[400];
    char text[500];
    text[0] = '1';
    memset(text + 1, 'm', sizeof text - 2);
    text[sizeof text - 1] = '\0';
    ck_assert(!hr_quantity_parse(text, HR_LENGTH, &number, why, sizeof why));
    memset(text, '7', sizeof text - 1);
    ck_assert(!hr_quantity_parse(text, HR_LENGTH, &number, why, sizeof why));
    ck_assert_ptr_nonnull(strstr(why, "too large a number"));
}
END_TEST

/* Sets the first locale with a decimal comma that is installed; false where there is none. */
static bool set_comma_locale(void)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "fr_FR.utf8",
                                        "nl_NL.UTF-8"};
    for (size_t i = 0; i < HR_ARRAY_LEN(names); i++) {
        if (setlocale(LC_ALL, names[i]) != NULL && *localeconv()->decimal_point == ',') {
            return true;
        }
    }
    return false;
}

START_TEST(locale_changes_nothing)
{
    ck_assert(set_comma_locale());
    struct hr_number number;
    char why[400];
    ck_assert(hr_quantity_parse("1.25 L/min", HR_FLOW, &number, why, sizeof why));
    hr_assert_rel(number.value, 1.25e-3 / 60, 4e-16, "flow");
    ck_assert(!hr_quantity_parse("1.25 L/mn", HR_FLOW, &number, why, sizeof why));
    ck_assert_str_eq(why, "'1.25 L/mn' has the unknown unit 'L/mn'; did you mean 1.25 L/min?");
    (void)setlocale(LC_ALL, "C");
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("quantity errors");
    TCase *phrases = tcase_create("phrases");
    tcase_add_loop_test(phrases, refusal_says_what_was_found_and_what_would_be_right, 0, HR_ARRAY_LEN(bad));
    tcase_add_test(phrases, long_text_is_cut_between_characters);
    tcase_add_test(phrases, phrase_fits_in_any_room);
    tcase_add_test(phrases, overlong_units_and_numbers_are_refused);
    /* Without such a locale the test could not fail: it is then left out. */
    if (set_comma_locale()) {
        (void)setlocale(LC_ALL, "C");
        tcase_add_test(phrases, locale_changes_nothing);
    }
    suite_add_tcase(s, phrases);
    return s;
}

HR_TEST_MAIN(suite)
