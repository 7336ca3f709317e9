/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fuzz target of the reader: any bytes must be described or refused with a message, within bounded time. A
 * first line
 * "#set PATH=VALUE" is an override.
 *
 * Built with -fsanitize=fuzzer (and HR_LIBFUZZER defined) it is a libFuzzer target. Otherwise main() replays
 * the files that it is given, or those of tests/fuzz/corpus/read and tests/cli/broken, and then reads
 * mutations of them from a fixed seed. */
#include "base/memory.h"
#include "read/description.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A folder that does not exist: models beside the loop file are never found. */
static const char *const file_name = "/nonexistent/fuzz.yaml";

enum { LINE_MAX_BYTES = 256 };

/* The override of the first line, split in place; 0 or 1. */
static size_t take_override(const char *text, size_t size, char line[LINE_MAX_BYTES],
                            struct hr_override *override)
{
    static const char mark[] = "#set ";
    const size_t skip = sizeof mark - 1;
    const char *end = memchr(text, '\n', size);
    const size_t length = end == NULL ? 0 : (size_t)(end - text);
    if (length <= skip || length >= LINE_MAX_BYTES || memcmp(text, mark, skip) != 0 ||
        memchr(text, '\0', length) != NULL) {
        return 0;
    }
    memcpy(line, text + skip, length - skip);
    line[length - skip] = '\0';
    char *value = strchr(line, '=');
    if (value == NULL) {
        return 0;
    }
    *value = '\0';
    override->path = line;
    override->value = value + 1;
    return 1;
}

/* A failure must have a message, a success none. */
static void check(const struct hr_report *report, enum hr_status status, const void *result)
{
    const int told = report->errors > 0 && report->error[0].text[0] != '\0';
    if ((status == HR_OK) != (result != NULL) || (status != HR_OK && !told) ||
        (status == HR_OK && report->errors > 0)) {
        (void)fprintf(stderr, "status %d with %zu errors\n", (int)status, report->errors);
        abort();
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct hr_report report;
    struct hr_source *source = NULL;
    struct hr_override override;
    char line[LINE_MAX_BYTES];
    char empty[1] = {0};
    const char *text = size == 0 ? empty : (const char *)data;
    const size_t overrides = take_override(text, size, line, &override);
    hr_report_init(&report);
    enum hr_status status = hr_source_open_text(text, size, file_name, NULL, &source, &report);
    check(&report, status, source);
    size_t states = 0;
    const char *const *state = source == NULL ? NULL : hr_source_states(source, &states);
    for (size_t i = 0; source != NULL && i <= states && i < 4; i++) {
        struct hr_description *description = NULL;
        hr_report_clear(&report);
        status = hr_source_describe(source, &override, overrides, i == 0 ? NULL : state[i - 1], &description,
                                    &report);
        check(&report, status, description);
        hr_description_free(description);
    }
    hr_source_free(source);
    hr_report_clear(&report);
    return 0;
}

#ifndef HR_LIBFUZZER

#include <dirent.h>

enum { SEEDS_MAX = 400, SEED_BYTES = 64 * 1024, MUTATIONS = 20000 };

struct seed {
    uint8_t *bytes;
    size_t size;
};

/* xorshift64* (Vigna 2016), so that a run repeats everywhere. */
static uint64_t next_random(uint64_t *state)
{
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * 2685821657736338717U;
}

static size_t below(uint64_t *state, size_t limit)
{
    return limit == 0 ? 0 : (size_t)(next_random(state) >> 11) % limit;
}

static size_t load(const char *path, struct seed seeds[], size_t count)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL || count >= SEEDS_MAX) {
        if (file != NULL) {
            (void)fclose(file);
        }
        return count;
    }
    seeds[count].bytes = malloc(SEED_BYTES);
    if (seeds[count].bytes != NULL) {
        seeds[count].size = fread(seeds[count].bytes, 1, SEED_BYTES, file);
        count++;
    }
    (void)fclose(file);
    return count;
}

static size_t load_folder(const char *below_root, struct seed seeds[], size_t count)
{
    char path[1024];
    const char *models = getenv("HEADRACE_MODELS");
    (void)snprintf(path, sizeof path, "%s/../%s", models == NULL ? "models" : models, below_root);
    DIR *folder = opendir(path);
    const struct dirent *entry;
    while (folder != NULL && (entry = readdir(folder)) != NULL) {
        const char *end = strrchr(entry->d_name, '.');
        if (end != NULL && strcmp(end, ".yaml") == 0) {
            char name[2048];
            (void)snprintf(name, sizeof name, "%s/%s", path, entry->d_name);
            count = load(name, seeds, count);
        }
    }
    if (folder != NULL) {
        (void)closedir(folder);
    }
    return count;
}

/* Pieces that mean something to the reader. */
static const char *const words[] = {
    "{",          "}",          "[",
    "]",          ": ",         ", ",
    "\n  ",       "- ",         "&a ",
    "*a",         "<<: ",       "!x ",
    "---\n",      "parallel: ", "+ ",
    "none",       "route",      "gpu",
    "pump",       "rad",        "gpu.out",
    "run-1",      "kind",       "model",
    "1 mm",       "%",          "\t",
    "split-1",    "~",          "1e999",
    "-1 W",       "\"",         "open: ",
    "#",          "loops: ",    "states: {a: {route: [pump]}}\n",
    "legs: none", "±",          "tubing: none",
};

/* Changes, removes, repeats or inserts a few pieces. Returns the new size. */
static size_t mutate(uint64_t *state, uint8_t *bytes, size_t size, const struct seed *other)
{
    for (size_t n = 1 + below(state, 4); n > 0; n--) {
        const size_t at = below(state, size + 1);
        const size_t left = size - at;
        const size_t choice = below(state, 5);
        const char *word = words[below(state, HR_ARRAY_LEN(words))];
        const size_t from = below(state, other->size + 1);
        const uint8_t *piece = choice == 3 ? other->bytes + from : (const uint8_t *)word;
        size_t length = choice == 3 ? below(state, other->size - from + 1) : strlen(word);
        if (choice == 0 && left > 0) {
            bytes[at] = (uint8_t)next_random(state);
        } else if (choice == 1) {
            const size_t cut = below(state, left + 1) / (1 + below(state, 8));
            memmove(bytes + at, bytes + at + cut, left - cut);
            size -= cut;
        } else if (size + length <= SEED_BYTES) {
            memmove(bytes + at + length, bytes + at, left);
            memcpy(bytes + at, piece, length);
            size += length;
        }
    }
    return size;
}

int main(int count, char **arguments)
{
    static struct seed seeds[SEEDS_MAX];
    size_t seed_count = 0;
    for (int i = 1; i < count; i++) {
        seed_count = load(arguments[i], seeds, seed_count);
    }
    if (count == 1) {
        seed_count = load_folder("tests/fuzz/corpus/read", seeds, seed_count);
        seed_count = load_folder("tests/cli/broken", seeds, seed_count);
    }
    if (seed_count == 0) {
        (void)fprintf(stderr, "no files to begin with\n");
        return EXIT_FAILURE;
    }
    for (size_t i = 0; i < seed_count; i++) {
        (void)LLVMFuzzerTestOneInput(seeds[i].bytes, seeds[i].size);
    }
    const char *runs = getenv("HR_FUZZ_RUNS");
    const long mutations = runs == NULL ? MUTATIONS : strtol(runs, NULL, 10);
    uint64_t state = 0x9e3779b97f4a7c15U;
    uint8_t *bytes = malloc(SEED_BYTES);
    for (long i = 0; bytes != NULL && i < mutations; i++) {
        const struct seed *seed = &seeds[below(&state, seed_count)];
        memcpy(bytes, seed->bytes, seed->size);
        const size_t size = mutate(&state, bytes, seed->size, &seeds[below(&state, seed_count)]);
        (void)LLVMFuzzerTestOneInput(bytes, size);
    }
    const int status = bytes == NULL ? EXIT_FAILURE : EXIT_SUCCESS;
    free(bytes);
    for (size_t i = 0; i < seed_count; i++) {
        free(seeds[i].bytes);
    }
    return status;
}

#endif
