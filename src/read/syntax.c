/* SPDX-License-Identifier: GPL-3.0-or-later */
/* libyaml names tokens and contexts; people know tabs, colons and brackets. Each of its problems that a loop
 * file is likely to meet has a sentence here, with the place where the cause is rather than where the parser
 * gave up. */
#include "read/syntax.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* Bytes of the UTF-8 character at `s`, or 0 where it is malformed (RFC 3629: no overlong forms, no
 * surrogates). */
static size_t utf8_length(const unsigned char *s, size_t left)
{
    static const struct {
        unsigned char first, last, low, high; /* of the first byte; of the second */
        size_t length;
    } form[] = {
        {0x00, 0x7f, 0x00, 0x00, 1}, {0xc2, 0xdf, 0x80, 0xbf, 2}, {0xe0, 0xe0, 0xa0, 0xbf, 3},
        {0xe1, 0xec, 0x80, 0xbf, 3}, {0xed, 0xed, 0x80, 0x9f, 3}, {0xee, 0xef, 0x80, 0xbf, 3},
        {0xf0, 0xf0, 0x90, 0xbf, 4}, {0xf1, 0xf3, 0x80, 0xbf, 4}, {0xf4, 0xf4, 0x80, 0x8f, 4},
    };
    for (size_t i = 0; i < sizeof form / sizeof form[0]; i++) {
        if (s[0] < form[i].first || s[0] > form[i].last) {
            continue;
        }
        if (form[i].length > left || (form[i].length > 1 && (s[1] < form[i].low || s[1] > form[i].high))) {
            return 0;
        }
        for (size_t j = 2; j < form[i].length; j++) {
            if ((s[j] & 0xc0) != 0x80) {
                return 0;
            }
        }
        return form[i].length;
    }
    return 0;
}

enum hr_status hr_syntax_check(const char *text, size_t length, const struct hr_origin *start,
                               struct hr_report *report)
{
    struct hr_origin at = *start;
    for (size_t i = 0; i < length;) {
        const unsigned char byte = (unsigned char)text[i];
        const size_t step = utf8_length((const unsigned char *)text + i, length - i);
        if (step == 0) {
            return hr_fail(report, HR_INPUT, "not-text", &at,
                           "the byte 0x%02X is not UTF-8 text; save the file as UTF-8", (unsigned)byte);
        }
        if ((byte < 0x20 && byte != '\t' && byte != '\n' && byte != '\r') || byte == 0x7f) {
            return hr_fail(report, HR_INPUT, "not-text", &at,
                           "the byte 0x%02X is not text; a loop file is plain text in YAML", (unsigned)byte);
        }
        i += step;
        at.column++;
        if (byte == '\n') {
            at.line++;
            at.column = 1;
        }
    }
    return HR_OK;
}

const char *hr_shown(const char *text, char *buffer, size_t room)
{
    const size_t length = strlen(text);
    size_t keep = length < room ? length : room - 4;
    if (keep < length) {
        while (keep > 0 && ((unsigned char)text[keep] & 0xc0) == 0x80) {
            keep--; /* not in the middle of a character */
        }
    }
    for (size_t i = 0; i < keep; i++) {
        const unsigned char byte = (unsigned char)text[i];
        buffer[i] = text[i];
        if (byte < 0x20 || byte == 0x7f) {
            buffer[i] = '?';
        }
    }
    const bool cut = keep < length;
    memcpy(buffer + keep, cut ? "..." : "", cut ? 4 : 1);
    return buffer;
}

/* A problem of libyaml by a piece of its text, and by a piece of its context where that decides. */
struct phrase {
    const char *problem;
    const char *context; /* NULL: any */
    bool at_context;     /* the cause is where the context began */
    const char *sentence;
};

static const struct phrase phrases[] = {
    {"mapping values are not allowed", NULL, false,
     "a ':' stands where no key can be; check the indentation, and put text that contains ': ' in quotes"},
    {"expected ',' or '}'", NULL, true,
     "the '{' that stands here is not closed, or a comma is missing before its next key"},
    {"expected ',' or ']'", NULL, true,
     "the '[' that stands here is not closed, or a comma is missing before its next item"},
    {"found unexpected ':'", NULL, false, "a space and a value are missing after this ':'"},
    {"could not find expected ':'", NULL, true, "a ':' is missing after the key that begins here"},
    {"expected key", NULL, false,
     "this line does not fit to the lines above; check the indentation, and whether brackets and quotes are "
     "closed"},
    {"expected '-' indicator", NULL, false,
     "this line does not fit to the list above; begin an item with '- ', or check the indentation"},
    {"block sequence entries are not allowed", NULL, false,
     "a '-' stands where no list can begin; begin the list on a line of its own"},
    {"unexpected end of stream", NULL, true, "the quote that opens here is never closed"},
    {"unknown escape character", NULL, false,
     "a backslash in double quotes begins a character that does not exist; use single quotes"},
    {"alphabetic or numeric character", "an alias", true,
     "a value cannot begin with '*' unless it is an alias; put it in quotes"},
    {"alphabetic or numeric character", "an anchor", true,
     "a value cannot begin with '&' unless a name follows; put it in quotes"},
    {"undefined tag handle", NULL, true,
     "a tag '!' is not read in loop files; put text that begins with '!' in quotes"},
    {"tag", NULL, true, "a tag '!' is not read in loop files; put text that begins with '!' in quotes"},
    {"tab character", NULL, false, "a tab stands in the indentation; indent with spaces"},
    {"multiple '---'", NULL, false, "a second document begins here; a file holds one"},
    {"expected <document start>", NULL, false,
     "this text does not belong to the mapping above; check the indentation and the brackets"},
    {"expected comment or line break", NULL, false,
     "the text after the '|' or '>' must begin on the next line"},
};

/* The character that libyaml stopped at, from its buffer; 0 at the end. */
static char stopped_at(const yaml_parser_t *parser)
{
    const unsigned char *here = parser->buffer.pointer;
    return here == NULL || here >= parser->buffer.last ? '\0' : (char)*here;
}

static struct hr_origin place(const struct hr_origin *start, yaml_mark_t mark)
{
    const struct hr_origin at = {start->file, (unsigned)mark.line + start->line,
                                 (unsigned)mark.column + (mark.line == 0 ? start->column : 1)};
    return at;
}

static enum hr_status fail_token(const yaml_parser_t *parser, const struct hr_origin *at,
                                 struct hr_report *report)
{
    const char here = stopped_at(parser);
    if (here == '\t') {
        return hr_fail(report, HR_INPUT, "yaml-tab", at,
                       "a tab stands in the indentation; indent with spaces");
    }
    return hr_fail(report, HR_INPUT, "yaml-syntax", at, "a value cannot begin with '%c'; put it in quotes",
                   here >= ' ' && here < 0x7f ? here : '?');
}

enum hr_status hr_syntax_fail(const yaml_parser_t *parser, const struct hr_origin *start,
                              struct hr_report *report)
{
    if (parser->error == YAML_MEMORY_ERROR) {
        return hr_fail_memory(report);
    }
    const char *problem = parser->problem == NULL ? "" : parser->problem;
    const char *context = parser->context == NULL ? "" : parser->context;
    struct hr_origin at = place(start, parser->problem_mark);
    if (strstr(problem, "cannot start any token") != NULL) {
        return fail_token(parser, &at, report);
    }
    for (size_t i = 0; i < sizeof phrases / sizeof phrases[0]; i++) {
        const struct phrase *phrase = &phrases[i];
        if (strstr(problem, phrase->problem) == NULL ||
            (phrase->context != NULL && strstr(context, phrase->context) == NULL)) {
            continue;
        }
        if (phrase->at_context && context[0] != '\0') {
            at = place(start, parser->context_mark);
        }
        const bool tab = strcmp(phrase->problem, "tab character") == 0;
        return hr_fail(report, HR_INPUT, tab ? "yaml-tab" : "yaml-syntax", &at, "%s", phrase->sentence);
    }
    return hr_fail(report, HR_INPUT, "yaml-syntax", &at, "this is not valid YAML: %s%s%s", context,
                   context[0] == '\0' ? "" : ", ", problem);
}
