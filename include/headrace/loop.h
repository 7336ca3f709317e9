/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A loop file, opened once and solved with as many variations as wanted. */
#ifndef HR_LOOP_H
#define HR_LOOP_H

#include "headrace/message.h"
#include "headrace/result.h"

#ifdef __cplusplus
extern "C" {
#endif

/* An opened loop file with the library of parts. Not for use by two threads at once: models are read when
 * first asked for. */
struct hr_source;

/* Opens a loop file. `models_dir`: folder of the library of parts, or NULL for none. HR_INPUT with up to
 * HR_ERRORS_MAX faults in `report`, HR_SYSTEM when the file cannot be read or memory is out; *source is then
 * NULL. */
enum hr_status hr_source_open(const char *path, const char *models_dir, struct hr_source **source,
                              struct hr_report *report);

/* The same from memory; `name` stands for the file's name in messages, and model paths are relative to its
 * folder. */
enum hr_status hr_source_open_text(const char *text, size_t length, const char *name, const char *models_dir,
                                   struct hr_source **source, struct hr_report *report);

/* Opens the library of parts without a loop file. */
enum hr_status hr_library_open(const char *models_dir, struct hr_source **source, struct hr_report *report);

/* Releases it; NULL is allowed. */
void hr_source_free(struct hr_source *source);

/* The names of the file's states, as many as *count says; valid as long as the source. */
const char *const *hr_source_states(const struct hr_source *source, size_t *count);

/* The library's model names, sorted, as many as *count says; valid as long as the source. */
const char *const *hr_source_models(const struct hr_source *source, size_t *count);

/* One value put over the file's: path "gpu.heat", value "320 W". The texts are only read during the call. */
struct hr_override {
    const char *path;
    const char *value;
};

/* What is put over the file: first a state, then single values. */
struct hr_variant {
    const char *state; /* NULL: none */
    const struct hr_override *override;
    size_t overrides;
};

/* Solves the loop for its flows. `variant` NULL: the file as it stands. HR_NO_RESULT where no solution
 * exists: *result is then a result with status and reason. HR_INPUT: the faults are in `report`, *result is
 * NULL. Warnings of the file are in `report`, those of the solution in the result. The caller frees the
 * result with hr_result_free. */
enum hr_status hr_solve(struct hr_source *source, const struct hr_variant *variant, struct hr_result **result,
                        struct hr_report *report);

/* Solves, and looks for what a careful builder would: limits of parts, boiling, direction, dead ends, flows
 * outside a model's range. Findings are warnings: those of the file in `report`, all others in the result. */
enum hr_status hr_check(struct hr_source *source, const struct hr_variant *variant, struct hr_result **result,
                        struct hr_report *report);

#ifdef __cplusplus
}
#endif

#endif
