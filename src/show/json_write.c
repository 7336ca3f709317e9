/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing JSON. Numbers carry 17 significant digits, which give back the same double (IEEE 754-2008, 5.12.2).
 */
#include "show/json_write.h"

#include <math.h>

enum { REAL_DIGITS = 17 };

static const char REPLACEMENT[] = "\xEF\xBF\xBD"; /* U+FFFD */

/* Bytes of the well-formed UTF-8 sequence at `text` (RFC 3629, section 4), or 0. The final NUL ends any
 * sequence. */
static size_t sequence_length(const unsigned char *text)
{
    if (text[0] < 0x80) {
        return 1;
    }
    const size_t length = text[0] >= 0xF0 ? 4 : text[0] >= 0xE0 ? 3 : 2;
    if (text[0] < 0xC2 || text[0] > 0xF4) {
        return 0;
    }
    for (size_t i = 1; i < length; i++) {
        if ((text[i] & 0xC0U) != 0x80) {
            return 0;
        }
    }
    const bool overlong = (text[0] == 0xE0 && text[1] < 0xA0) || (text[0] == 0xF0 && text[1] < 0x90);
    const bool surrogate = text[0] == 0xED && text[1] > 0x9F;
    const bool beyond = text[0] == 0xF4 && text[1] > 0x8F;
    return overlong || surrogate || beyond ? 0 : length;
}

/* A JSON string with wrong bytes replaced; NULL when memory is out. */
static json_t *make_string(const char *value)
{
    struct hr_text clean = {0};
    hr_text_append(&clean, "", 0);
    for (size_t i = 0; value[i] != '\0';) {
        const size_t length = sequence_length((const unsigned char *)value + i);
        hr_text_append(&clean, length > 0 ? value + i : REPLACEMENT,
                       length > 0 ? length : sizeof REPLACEMENT - 1);
        i += length > 0 ? length : 1;
    }
    json_t *string = clean.failed ? NULL : json_string(clean.bytes);
    hr_text_clear(&clean);
    return string;
}

json_t *hr_json_object(struct hr_json *json)
{
    json_t *object = json->failed ? NULL : json_object();
    json->failed = json->failed || object == NULL;
    return object;
}

json_t *hr_json_array(struct hr_json *json)
{
    json_t *array = json->failed ? NULL : json_array();
    json->failed = json->failed || array == NULL;
    return array;
}

void hr_json_put(struct hr_json *json, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) != 0) { /* uses `value` up in any case */
        json->failed = true;
    }
}

void hr_json_real(struct hr_json *json, json_t *object, const char *key, double value)
{
    if (isfinite(value)) {
        hr_json_put(json, object, key, json_real(value));
    }
}

void hr_json_count(struct hr_json *json, json_t *object, const char *key, size_t value)
{
    hr_json_put(json, object, key, json_integer((json_int_t)value));
}

void hr_json_flag(struct hr_json *json, json_t *object, const char *key, bool value)
{
    hr_json_put(json, object, key, json_boolean(value));
}

void hr_json_text(struct hr_json *json, json_t *object, const char *key, const char *value)
{
    if (value != NULL) {
        hr_json_put(json, object, key, make_string(value));
    }
}

void hr_json_append(struct hr_json *json, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) != 0) {
        json->failed = true;
    }
}

void hr_json_append_real(struct hr_json *json, json_t *array, double value)
{
    hr_json_append(json, array, isfinite(value) ? json_real(value) : json_null());
}

void hr_json_append_text(struct hr_json *json, json_t *array, const char *value)
{
    hr_json_append(json, array, make_string(value));
}

static void separate(struct hr_json *json)
{
    if (json->comma) {
        hr_text_append(&json->text, ",\n", 2);
    }
    json->comma = false;
}

void hr_json_open(struct hr_json *json, char bracket)
{
    separate(json);
    hr_text_append(&json->text, &bracket, 1);
}

void hr_json_open_member(struct hr_json *json, const char *key, char bracket)
{
    separate(json);
    hr_text_add(&json->text, "\"%s\": %c", key, bracket);
}

void hr_json_close(struct hr_json *json, char bracket)
{
    hr_text_append(&json->text, &bracket, 1);
    json->comma = true;
}

static int add_piece(const char *bytes, size_t length, void *context)
{
    struct hr_text *text = context;
    hr_text_append(text, bytes, length);
    return text->failed ? -1 : 0;
}

static void write_value(struct hr_json *json, json_t *value)
{
    const size_t flags = JSON_ENCODE_ANY | JSON_REAL_PRECISION(REAL_DIGITS);
    if (json->failed || json_dump_callback(value, add_piece, &json->text, flags) != 0) {
        json->failed = true;
    }
    json_decref(value);
    json->comma = true;
}

void hr_json_member(struct hr_json *json, const char *key, json_t *value)
{
    separate(json);
    hr_text_add(&json->text, "\"%s\": ", key);
    write_value(json, value);
}

void hr_json_member_text(struct hr_json *json, const char *key, const char *value)
{
    if (value != NULL) {
        hr_json_member(json, key, make_string(value));
    }
}

void hr_json_item(struct hr_json *json, json_t *value)
{
    separate(json);
    write_value(json, value);
}

enum hr_status hr_json_finish(struct hr_json *json, char **text, struct hr_report *report)
{
    hr_text_append(&json->text, "\n", 1);
    *text = NULL;
    if (json->failed || json->text.failed) {
        hr_text_clear(&json->text);
        return hr_fail_memory(report);
    }
    *text = json->text.bytes;
    json->text = (struct hr_text){0};
    return HR_OK;
}

json_t *hr_json_message(struct hr_json *json, const struct hr_message *message)
{
    json_t *object = hr_json_object(json);
    hr_json_text(json, object, "code", message->code);
    if (message->file[0] != '\0') {
        /* The file as a whole is its first place, so that editors can jump to every message. */
        hr_json_text(json, object, "file", message->file);
        hr_json_count(json, object, "line", message->line > 0 ? message->line : 1);
        hr_json_count(json, object, "column", message->column > 0 ? message->column : 1);
    }
    hr_json_text(json, object, "text", message->text);
    return object;
}
