/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef HR_MESSAGE_H
#define HR_MESSAGE_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Every outcome a function of the library can report. The values are also the exit statuses of the program.
 */
#define HR_STATUS_LIST(X)                                                                                    \
    X(HR_OK, 0, "done")                                                                                      \
    X(HR_INPUT, 1, "the input is wrong")                                                                     \
    X(HR_USAGE, 2, "wrong usage")                                                                            \
    X(HR_NO_RESULT, 3, "no result exists")                                                                   \
    X(HR_SYSTEM, 4, "cannot read, cannot write or out of memory")

enum hr_status {
#define HR_STATUS_VALUE(name, value, text) name = value,
    HR_STATUS_LIST(HR_STATUS_VALUE)
#undef HR_STATUS_VALUE
};

/* Where a value was written. `file` is borrowed from whatever was read and outlives it; NULL: nowhere. Lines
 * and columns count from 1; 0: the file as a whole. */
struct hr_origin {
    const char *file;
    unsigned line;
    unsigned column;
};

enum {
    HR_MESSAGE_TEXT = 480, /* bytes of one message, the final NUL included */
    HR_MESSAGE_FILE = 240, /* bytes of a file name; a longer one loses its front */
    HR_ERRORS_MAX = 20     /* errors kept; further ones are only counted */
};

/* One sentence for the user. `code` is a stable lower-case word (static storage), for programs. The texts are
 * copies, so that a message outlives everything that was read. */
struct hr_message {
    const char *code;
    unsigned line;
    unsigned column;
    char file[HR_MESSAGE_FILE];
    char text[HR_MESSAGE_TEXT];
};

/* What went wrong and what deserves attention. Errors live in a fixed buffer, so that running out of memory
 * can be reported too; warnings are on the heap. Owned by the caller: hr_report_init, then hr_report_clear.
 * Not for use by two threads at once. */
struct hr_report {
    enum hr_status status; /* the status of the first error; HR_OK while there is none */
    size_t errors;         /* errors reported; the first HR_ERRORS_MAX are in `error` */
    struct hr_message error[HR_ERRORS_MAX];
    size_t warnings;
    size_t warnings_room;
    struct hr_message *warning;
};

/* An empty report. */
void hr_report_init(struct hr_report *report);

/* Releases the warnings and empties the report. */
void hr_report_clear(struct hr_report *report);

/* The meaning of a status, static storage. */
const char *hr_status_text(enum hr_status status);

#ifdef __cplusplus
}
#endif

#endif
