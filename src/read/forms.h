/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The forms a single value can have in a file. */
#ifndef HR_READ_FORMS_H
#define HR_READ_FORMS_H

#include "read/values.h"

/* A value on its way from the tree to the parameters. */
struct hr_spot {
    struct hr_reader *reader;
    const struct hr_values_job *job;
    const struct hr_key *key;
    const struct hr_yaml *node;
    struct hr_value *value;
};

/* Fills the value by the key's form; false after a reported fault. */
bool hr_form_read(const struct hr_spot *spot);

/* Numbers: one quantity, as a text or as a mapping. */
bool hr_form_quantity(const struct hr_spot *spot);

/* {from: SENSOR, points: [...], hysteresis: …}. */
bool hr_form_control(const struct hr_spot *spot);

/* A list of rows. */
bool hr_form_rows(const struct hr_spot *spot);

/* Reads a scalar as a quantity into `number`. `what` is put before the key in the message: "point 3 of " or
 * "". */
bool hr_form_number(const struct hr_spot *spot, const struct hr_yaml *node, enum hr_quantity quantity,
                    const char *what, struct hr_number *number);

/* "KEY of OWNER: " and the message, at a place. Returns false. */
bool hr_form_wrong(const struct hr_spot *spot, const char *code, const struct hr_origin *at,
                   const char *format, ...) HR_PRINTF(4, 5);

#endif
