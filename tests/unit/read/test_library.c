/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library of parts and the examples: every file is read and made without a message, says what it is,
 * where its numbers come from and where they hold; and the generic parts have the values that users rely on
 * by name. */
#include "read_test.h"

#include <dirent.h>

static const double MBAR = 100;
static const double GPM = 3.785411784 / 60e3;
static const double M3H = 1 / 3600.0;
static const double GRAVITY = 9.80665;

/* A model, read and made. */
struct made {
    struct hr_report report;
    struct hr_source *source;
    struct hr_model model;
    struct hr_arena arena;
    void *part;
};

static void open_model(struct made *made, const char *name)
{
    memset(made, 0, sizeof *made);
    hr_report_init(&made->report);
    hr_arena_init(&made->arena);
    ck_assert_int_eq(hr_library_open(getenv("HEADRACE_MODELS"), &made->source, &made->report), HR_OK);
    const enum hr_status status = hr_source_model(made->source, name, &made->model, &made->report);
    ck_assert_msg(status == HR_OK && made->report.errors == 0, "'%s' is not read: line %u: %s", name,
                  made->report.error[0].line, made->report.error[0].text);
    (void)made->model.kind->make(made->model.params, &made->arena, &made->part, &made->report);
    ck_assert_msg(made->report.errors == 0, "'%s' is not made: %s", name, made->report.error[0].text);
    ck_assert_msg(made->report.warnings == 0, "'%s' warns: %s", name,
                  made->report.warnings > 0 ? made->report.warning[0].text : "");
}

static void close_model(struct made *made)
{
    hr_arena_clear(&made->arena);
    hr_source_free(made->source);
    hr_report_clear(&made->report);
}

/* The first two lines of a file say what it is and under which licence. */
static void check_head(const char *path)
{
    char first[256] = "";
    char line[256] = "";
    bool licensed = false;
    FILE *file = fopen(path, "r");
    ck_assert_msg(file != NULL, "no file %s", path);
    ck_assert_msg(fgets(first, sizeof first, file) != NULL, "%s is empty", path);
    while (fgets(line, sizeof line, file) != NULL && line[0] == '#') {
        licensed = licensed || strcmp(line, "# SPDX-License-Identifier: GPL-3.0-or-later\n") == 0;
    }
    (void)fclose(file);
    ck_assert_msg(strncmp(first, "# ", 2) == 0 && strlen(first) > 12 && strstr(first, "SPDX") == NULL,
                  "%s: the first line must be a comment that says what the file is or shows", path);
    ck_assert_msg(licensed, "%s: the licence is missing from the comment at the top", path);
}

/* --- every model --- */

enum { NAMES_MAX = 400, NAME_ROOM = 64 };
static char model_name[NAMES_MAX][NAME_ROOM];
static int model_names;

static void list_models(void)
{
    struct hr_report report;
    struct hr_source *source = NULL;
    size_t count = 0;
    hr_report_init(&report);
    if (getenv("HEADRACE_MODELS") != NULL &&
        hr_library_open(getenv("HEADRACE_MODELS"), &source, &report) == HR_OK) {
        const char *const *names = hr_source_models(source, &count);
        for (size_t i = 0; i < count && i < NAMES_MAX; i++) {
            (void)snprintf(model_name[model_names++], NAME_ROOM, "%s", names[i]);
        }
    }
    hr_source_free(source);
    hr_report_clear(&report);
}

static bool has_key(const struct hr_part_kind *kind, const char *name)
{
    return hr_part_kind_key(kind, name) != NULL;
}

/* Where the numbers hold, in the form that the kind has for it. */
static void check_validity(const struct hr_model *model)
{
    const struct hr_params *range = hr_param_map(model->params, "range");
    if (has_key(model->kind, "range")) {
        ck_assert_msg(hr_param(range, "flow_min") != NULL && hr_param(range, "flow_max") != NULL,
                      "'%s' has no range of flow", model->name);
        ck_assert(hr_param_number(range, "flow_min", 0) < hr_param_number(range, "flow_max", 0));
    }
    if (has_key(model->kind, "range") && has_key(model->kind, "wetted")) {
        ck_assert_msg(hr_param(range, "temperature_min") != NULL &&
                          hr_param(range, "temperature_max") != NULL,
                      "'%s' has no range of temperature", model->name);
        ck_assert_msg(hr_param(model->params, "measured_with") != NULL,
                      "'%s' does not say which fluid it was measured with", model->name);
    }
    if (has_key(model->kind, "speed_min")) {
        ck_assert_msg(hr_param(model->params, "speed_min") != NULL, "'%s' has no lowest speed", model->name);
        ck_assert_msg(hr_param(hr_param_map(model->params, "curve"), "speed") != NULL,
                      "the curve of '%s' has no speed", model->name);
    }
    ck_assert_msg(has_key(model->kind, "range") || has_key(model->kind, "speed_min") || model->note != NULL,
                  "'%s' does not say where it holds", model->name);
    ck_assert_msg(!has_key(model->kind, "wetted") ||
                      hr_param(hr_param_map(model->params, "limits"), "coolant") != NULL,
                  "'%s' does not say what temperature it stands", model->name);
}

/* What a part of the kind is expected to say. */
static void check_facts(const struct hr_model *model)
{
    static const char *const expected[][2] = {
        {"air_side", "rating"}, {"air_side", "air_side"},      {"air_side", "volume"},
        {"air_side", "mass"},   {"resistance", "volume"},      {"resistance", "mass"},
        {"speed_min", "noise"}, {"speed_min", "power"},        {"resistance", "resistance"},
        {"connected", "bore"},  {"reading_min", "uncertainty"}};
    for (size_t i = 0; i < HR_ARRAY_LEN(expected); i++) {
        ck_assert_msg(!has_key(model->kind, expected[i][0]) ||
                          hr_param(model->params, expected[i][1]) != NULL,
                      "'%s' of kind %s does not say its %s", model->name, model->kind->name, expected[i][1]);
    }
    const char *fan = hr_param_text(hr_param_map(model->params, "rating"), "fan", NULL);
    if (has_key(model->kind, "air_side")) {
        struct made made;
        ck_assert_msg(fan != NULL, "the rating of '%s' names no fan", model->name);
        open_model(&made, fan);
        ck_assert_str_eq(made.model.kind->name, "fan");
        close_model(&made);
    }
}

START_TEST(a_model_is_complete)
{
    const char *name = model_name[_i];
    char ending[NAME_ROOM + 8];
    struct made made;
    open_model(&made, name);
    const struct hr_model *model = &made.model;
    (void)snprintf(ending, sizeof ending, "/%s.yaml", name);
    ck_assert_str_eq(model->name, name);
    ck_assert_msg(strlen(model->file) > strlen(ending) &&
                      strcmp(model->file + strlen(model->file) - strlen(ending), ending) == 0,
                  "'%s' stands in %s", name, model->file);
    ck_assert_msg(model->summary != NULL && strlen(model->summary) > 3, "'%s' has no summary", name);
    ck_assert_msg(model->source != NULL && strlen(model->source) > 10, "'%s' has no source", name);
    ck_assert_msg(hr_param(model->params, "price") == NULL, "'%s' has a price, which ages", name);
    check_head(model->file);
    check_validity(model);
    check_facts(model);
    close_model(&made);
}
END_TEST

/* --- parts that users name --- */

/* Pressure drop in mbar at 1 gpm of water at the temperature of the measurement, and its exponent. */
static const struct {
    const char *name;
    double mbar, exponent;
} drops[] = {
    {"rad-120-slim", 12, 1.7}, {"rad-240-slim", 25, 1.7}, {"rad-240-thick", 16, 1.8},
    {"rad-280-slim", 20, 1.7}, {"rad-360-slim", 30, 1.7}, {"cpu-fine", 60, 1.8},
    {"cpu-open", 25, 1.9},     {"gpu-full", 50, 1.75},    {"gpu-thin", 110, 1.8},
    {"qd-dn3", 200, 1.95},     {"qd-dn5", 60, 1.95},      {"elbow-90", 5, 1.95},
    {"elbow-45", 2.5, 1.95},   {"straight", 1.3, 1.95},   {"meter-imp", 35, 1.9},
    {"res-small", 8, 1.9},
};

static double drop_of(const struct made *made, const struct hr_fluid_state *fluid, double flow)
{
    const struct hr_setting setting = {.fluid = fluid, .speed_rpm = (double)NAN};
    struct hr_part_branch branch[HR_PORTS_MAX];
    double sum = 0;
    made->model.kind->bind(made->part, &setting, branch);
    for (size_t i = 0; i < branch[0].law_count; i++) {
        double drop;
        double slope;
        hr_law_evaluate(&branch[0].law[i], flow, &drop, &slope);
        sum += drop;
    }
    return sum;
}

static void water_at(double temperature_c, struct hr_fluid_state *state)
{
    const struct hr_fluid water = {.kind = HR_WATER};
    ck_assert(hr_fluid_at(&water, temperature_c, 101325, state));
}

START_TEST(a_generic_part_drops_what_it_says)
{
    struct made made;
    struct hr_fluid_state water;
    water_at(27, &water);
    open_model(&made, drops[_i].name);
    const double at_one = drop_of(&made, &water, GPM);
    hr_assert_rel(at_one, drops[_i].mbar * MBAR, 1e-9, drops[_i].name);
    hr_assert_rel(log(drop_of(&made, &water, 1.7 * GPM) / at_one) / log(1.7), drops[_i].exponent, 1e-9,
                  "exponent");
    close_model(&made);
}
END_TEST

/* Head in metres and flow in L/min, or pressure in Pa and flow in m3/h, of the ends of the curve; then half
 * way. */
static const struct {
    const char *name;
    bool pump;
    double rpm, shut_off, free_flow, share;
    double passive; /* mbar at 1 gpm, exponent 1.8 */
} machines[] = {
    {"pump-can-18", true, 4800, 5.2, 15, 0.35, 0}, {"pump-can-10", true, 3600, 4.2, 9, 0.35, 0},
    {"pump-big-23", true, 4800, 4.0, 21, 0.50, 0}, {"pumpblock-mini", true, 3400, 2.0, 4.5, 0.40, 80},
    {"fan-120-25", false, 2000, 32, 112, 0.3, 0},  {"fan-120-15", false, 1800, 16, 70, 0.3, 0},
    {"fan-140-25", false, 1500, 20, 130, 0.3, 0},
};

START_TEST(a_generic_machine_lifts_what_it_says)
{
    struct made made;
    struct hr_fluid_state fluid = {.temperature_c = 20, .density = 1.2, .viscosity = 1.82e-5};
    const bool pump = machines[_i].pump;
    if (pump) {
        water_at(27, &fluid);
    }
    const double unit = pump ? fluid.density * GRAVITY : 1;
    const double flow = machines[_i].free_flow * (pump ? 1 / 60e3 : M3H);
    const double share = machines[_i].share;
    const double half = 1 - 0.5 * share - 0.25 * (1 - share);
    open_model(&made, machines[_i].name);
    hr_assert_rel(drop_of(&made, &fluid, 0), -machines[_i].shut_off * unit, 1e-12, "shut-off");
    hr_assert_rel(drop_of(&made, &fluid, flow / 2),
                  machines[_i].passive * MBAR * pow(flow / 2 / GPM, 1.8) -
                      machines[_i].shut_off * half * unit,
                  1e-9, "half the free flow");
    struct hr_machine_facts facts;
    const struct hr_setting setting = {.fluid = &fluid, .speed_rpm = (double)NAN};
    made.model.kind->machine(made.part, &setting, 0, &facts);
    hr_assert_rel(facts.speed_rpm, machines[_i].rpm, 1e-12, "the speed unless another is set");
    hr_assert_rel(facts.free_flow_m3_s, flow, 1e-12, "free flow");
    close_model(&made);
}
END_TEST

/* K/W at 1 gpm, coolant inlet basis. */
static const struct {
    const char *name;
    double conduction, film;
} chips[] = {{"cpu-fine", 0.20, 0.045},
             {"cpu-open", 0.20, 0.060},
             {"gpu-full", 0.022, 0.012},
             {"gpu-thin", 0.034, 0.018}};

START_TEST(a_generic_block_resists_what_it_says)
{
    struct made made;
    open_model(&made, chips[_i].name);
    const struct hr_params *resistance = hr_param_map(made.model.params, "resistance");
    hr_assert_rel(hr_param_number(resistance, "conduction", 0), chips[_i].conduction, 1e-12, "conduction");
    hr_assert_rel(hr_param_number(resistance, "film", 0), chips[_i].film, 1e-12, "film");
    hr_assert_rel(hr_param_number(resistance, "at", 0), GPM, 1e-12, "at 1 gpm");
    hr_assert_rel(hr_param_number(resistance, "exponent", 0), 0.45, 1e-12, "exponent");
    close_model(&made);
}
END_TEST

/* W for 10 K at 1 gpm and 750, 1300 and 1850 rpm. */
static const struct {
    const char *name;
    double watt[3];
} ratings[] = {{"rad-120-slim", {50, 85, 113}},
               {"rad-240-slim", {100, 166, 222}},
               {"rad-240-thick", {115, 210, 310}},
               {"rad-280-slim", {125, 210, 280}},
               {"rad-360-slim", {150, 255, 340}}};

START_TEST(a_generic_radiator_gives_what_it_says)
{
    static const double rpm[] = {750, 1300, 1850};
    struct made made;
    size_t found = 0;
    open_model(&made, ratings[_i].name);
    const struct hr_params *rating = hr_param_map(made.model.params, "rating");
    const struct hr_value *rows = hr_param(rating, "rows");
    ck_assert(hr_param_is(rating, "basis", "inlet"));
    hr_assert_rel(hr_param_number(rating, "per", 0), 10, 1e-12, "per 10 K");
    for (size_t i = 0; i < rows->row_count; i++) {
        const double *row = &rows->rows[3 * i];
        for (size_t k = 0; k < HR_ARRAY_LEN(rpm); k++) {
            if (row[0] == rpm[k] && fabs(row[1] - GPM) < 1e-12) {
                hr_assert_rel(row[2], ratings[_i].watt[k], 1e-12, ratings[_i].name);
                found++;
            }
        }
    }
    ck_assert_uint_eq(found, 3);
    close_model(&made);
}
END_TEST

/* More speed and more flow never give less heat. */
START_TEST(ratings_rise)
{
    struct made made;
    open_model(&made, model_name[_i]);
    const struct hr_value *rows = hr_param(hr_param_map(made.model.params, "rating"), "rows");
    for (size_t i = 0; rows != NULL && i < rows->row_count; i++) {
        for (size_t k = 0; k < rows->row_count; k++) {
            const double *a = &rows->rows[3 * i];
            const double *b = &rows->rows[3 * k];
            ck_assert_msg(i == k || !(a[0] <= b[0] && a[1] <= b[1]) || a[2] < b[2],
                          "'%s': row %zu should give more than row %zu", model_name[_i], k + 1, i + 1);
        }
    }
    close_model(&made);
}
END_TEST

/* --- every example --- */

static char example[NAMES_MAX][NAME_ROOM];
static int examples;

static void list_examples(const char *below)
{
    char path[512];
    static const char ending[] = ".yaml";
    const char *models = getenv("HEADRACE_MODELS");
    /* Not by tree_path: before the tests run no assertion may be passed. */
    (void)snprintf(path, sizeof path, "%s/../%s", models == NULL ? "models" : models, below);
    DIR *folder = opendir(path);
    const struct dirent *entry;
    while (folder != NULL && (entry = readdir(folder)) != NULL) {
        const size_t length = strlen(entry->d_name);
        if (length > sizeof ending - 1 && strcmp(entry->d_name + length - (sizeof ending - 1), ending) == 0 &&
            examples < NAMES_MAX) {
            const int used = snprintf(example[examples], NAME_ROOM, "%s/%s", below, entry->d_name);
            examples += used > 0 && used < NAME_ROOM ? 1 : 0;
        }
    }
    if (folder != NULL) {
        (void)closedir(folder);
    }
}

static void must_be_silent(const struct loop *loop, const char *file, const char *state)
{
    char buffer[1024];
    ck_assert_msg(loop->status == HR_OK, "%s: %s", file, loop_error(loop, buffer));
    ck_assert_msg(loop->report.warnings == 0, "%s, state %s: %s", file, state == NULL ? "none" : state,
                  loop->report.warnings > 0 ? loop->report.warning[0].text : "");
}

START_TEST(an_example_is_described_in_every_state)
{
    char path[512];
    struct loop loop;
    size_t states = 0;
    memset(&loop, 0, sizeof loop);
    hr_report_init(&loop.report);
    check_head(tree_path(path, example[_i]));
    loop.status = hr_source_open(path, getenv("HEADRACE_MODELS"), &loop.source, &loop.report);
    must_be_silent(&loop, example[_i], NULL);
    loop_describe(&loop, NULL, 0, NULL);
    must_be_silent(&loop, example[_i], NULL);
    ck_assert_msg(loop.d->title != NULL, "%s has no title", example[_i]);
    const char *const *state = hr_source_states(loop.source, &states);
    for (size_t i = 0; i < states; i++) {
        loop_describe(&loop, NULL, 0, state[i]);
        must_be_silent(&loop, example[_i], state[i]);
    }
    loop_close(&loop);
}
END_TEST

START_TEST(library_and_examples_are_there)
{
    ck_assert_int_ge(model_names, 60);
    ck_assert_int_ge(examples, 14);
}
END_TEST

static Suite *suite_of_library(void)
{
    Suite *suite = suite_create("library");
    TCase *models = tcase_create("models");
    TCase *named = tcase_create("named");
    TCase *files = tcase_create("examples");
    list_models();
    list_examples("examples");
    list_examples("examples/textbook");
    tcase_add_test(models, library_and_examples_are_there);
    tcase_add_loop_test(models, a_model_is_complete, 0, model_names);
    tcase_add_loop_test(models, ratings_rise, 0, model_names);
    tcase_add_loop_test(named, a_generic_part_drops_what_it_says, 0, (int)HR_ARRAY_LEN(drops));
    tcase_add_loop_test(named, a_generic_machine_lifts_what_it_says, 0, (int)HR_ARRAY_LEN(machines));
    tcase_add_loop_test(named, a_generic_block_resists_what_it_says, 0, (int)HR_ARRAY_LEN(chips));
    tcase_add_loop_test(named, a_generic_radiator_gives_what_it_says, 0, (int)HR_ARRAY_LEN(ratings));
    tcase_add_loop_test(files, an_example_is_described_in_every_state, 0, examples);
    suite_add_tcase(suite, models);
    suite_add_tcase(suite, named);
    suite_add_tcase(suite, files);
    return suite;
}

HR_TEST_MAIN(suite_of_library)
