/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON text written piece by piece: small objects are built with jansson and laid out one a line, so that a
 * sweep of many points never stands in memory as a tree. */
#ifndef HR_SHOW_JSON_WRITE_H
#define HR_SHOW_JSON_WRITE_H

#include "base/text.h"
#include "headrace/message.h"

#include <jansson.h>

/* Zero-initialise; hr_json_finish releases it. Once memory has run out nothing more is added. */
struct hr_json {
    struct hr_text text;
    bool failed;
    bool comma; /* the next piece needs one before it */
};

/* A new object or array, NULL when memory is out; all functions below take that. */
json_t *hr_json_object(struct hr_json *json);
json_t *hr_json_array(struct hr_json *json);

/* Values of an object. What does not apply is left out: NaN, infinity and NULL. Text that is no UTF-8 (a file
 * name, a message cut at its end) has U+FFFD in place of its wrong bytes. */
void hr_json_real(struct hr_json *json, json_t *object, const char *key, double value);
void hr_json_count(struct hr_json *json, json_t *object, const char *key, size_t value);
void hr_json_flag(struct hr_json *json, json_t *object, const char *key, bool value);
void hr_json_text(struct hr_json *json, json_t *object, const char *key, const char *value);
void hr_json_put(struct hr_json *json, json_t *object, const char *key, json_t *value);

/* Elements of an array; NaN and infinity become null there, so that the others keep their places. */
void hr_json_append_real(struct hr_json *json, json_t *array, double value);
void hr_json_append_text(struct hr_json *json, json_t *array, const char *value);
void hr_json_append(struct hr_json *json, json_t *array, json_t *value);

/* The layout. `value` is used up. */
void hr_json_open(struct hr_json *json, char bracket);
void hr_json_open_member(struct hr_json *json, const char *key, char bracket);
void hr_json_close(struct hr_json *json, char bracket);
void hr_json_member(struct hr_json *json, const char *key, json_t *value);
void hr_json_member_text(struct hr_json *json, const char *key, const char *value);
void hr_json_item(struct hr_json *json, json_t *value);

/* Hands the text over, or reports that memory ran out. */
enum hr_status hr_json_finish(struct hr_json *json, char **text, struct hr_report *report);

/* A message with code, file, line, column and text; without a place where it has none. */
json_t *hr_json_message(struct hr_json *json, const struct hr_message *message);

#endif
