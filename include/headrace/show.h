/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results for people and for programs. Every function gives a text that the caller frees with free(), ended
 * by NUL; on failure *text is NULL and the report says why. Nothing is printed. */
#ifndef HR_SHOW_H
#define HR_SHOW_H

#include "headrace/loop.h"
#include "headrace/sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

/* How tables look; all fields may be zero. */
struct hr_show_settings {
    const char *units; /* "gpm,psi,degF": one unit of flow, pressure or temperature each, others as by default
                          (L/min, kPa, degC); NULL: all by default */
    bool detail;       /* all columns and the solver's account */
    bool colour;       /* escape sequences for a terminal; never the only carrier of a meaning */
};

/* Checks `units` before any work is done: HR_USAGE with a sentence about the first that is not known. */
enum hr_status hr_show_check_units(const char *units, struct hr_report *report);

/* Tables. */
enum hr_status hr_solve_text(const struct hr_result *result, const struct hr_show_settings *settings,
                             char **text, struct hr_report *report);
enum hr_status hr_check_text(const struct hr_result *result, const struct hr_report *found,
                             const struct hr_show_settings *settings, char **text, struct hr_report *report);
enum hr_status hr_sweep_text(const struct hr_sweep *sweep, const struct hr_show_settings *settings,
                             char **text, struct hr_report *report);

/* JSON: SI units with the unit in the key, full precision; keys that do not apply are absent. `found` carries
 * the warnings of the file, those of the result follow. */
enum hr_status hr_solve_json(const struct hr_result *result, const struct hr_report *found, char **text,
                             struct hr_report *report);
enum hr_status hr_sweep_json(const struct hr_sweep *sweep, const struct hr_report *found, char **text,
                             struct hr_report *report);
enum hr_status hr_errors_json(const struct hr_report *found, char **text, struct hr_report *report);

/* CSV with a header row, comma, point as decimal mark, SI units in the names, full precision: a row a branch
 * for solve, a row a point for sweep. */
enum hr_status hr_solve_csv(const struct hr_result *result, char **text, struct hr_report *report);
enum hr_status hr_sweep_csv(const struct hr_sweep *sweep, char **text, struct hr_report *report);

/* The library: all parts, a line each, by kind; or one part with its values and its pressure drop against
 * flow (of a pump its head). HR_INPUT with the nearest name where there is no such part. */
enum hr_status hr_parts_text(struct hr_source *library, const struct hr_show_settings *settings, char **text,
                             struct hr_report *report);
enum hr_status hr_part_text(struct hr_source *library, const char *name,
                            const struct hr_show_settings *settings, char **text, struct hr_report *report);
enum hr_status hr_parts_json(struct hr_source *library, char **text, struct hr_report *report);
enum hr_status hr_part_json(struct hr_source *library, const char *name, char **text,
                            struct hr_report *report);

#ifdef __cplusplus
}
#endif

#endif
