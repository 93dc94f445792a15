/* model: model files, what is wrong with them, and those that are shipped.
 *
 * Check values stand beside their source and its status: P read in the
 * publication, M from memory, C computed from the formula by an independent
 * program (R or C). Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"
#include "tracks.h"

#include "base/text.h"
#include "calibrate/draws.h"
#include "response/model.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- model files ---- */

static const char head[] = "parameter,value,spread,unit,source\n";

/* Reads a text as a model file; the notes are the caller's. */
static bool read_text(const char *content, Model *model, Notes *notes) {
    *notes = (Notes){0};
    return model_read(test_file(0, "model.csv", content), model, notes);
}

static void test_model_read(void) {
    Model m;
    Notes notes;
    test_folder();
    CU_ASSERT(read_text("parameter,value,spread,unit,source\n"
                        "kind,two-component,,,invented for this test\n"
                        "tau2,12.25,0.4,d,\n"
                        "p0,61.5,,cm,\n"
                        "K1,0.0385,,cm per load,\n"
                        "k2,0.0731,0.25,cm per load,\n"
                        "tau1,43.5,0.3,d,\n",
                        &m, &notes));
    CU_ASSERT_EQUAL(notes.count, 0);
    CU_ASSERT_EQUAL(m.params.kind, RESPONSE_TWO_COMPONENT);
    CU_ASSERT_EQUAL(m.params.value[PARAM_P0], 61.5);
    CU_ASSERT_EQUAL(m.params.value[PARAM_K1], .0385);
    CU_ASSERT_EQUAL(m.params.value[PARAM_K2], .0731);
    CU_ASSERT_EQUAL(m.params.value[PARAM_TAU1], 43.5);
    CU_ASSERT_EQUAL(m.params.value[PARAM_TAU2], 12.25);
    CU_ASSERT(isnan(m.params.value[PARAM_TAU3]));
    CU_ASSERT_EQUAL(m.spread[PARAM_TAU2], .4);
    CU_ASSERT_EQUAL(m.spread[PARAM_K2], .25);
    CU_ASSERT(isnan(m.spread[PARAM_K1]));
    ASSERT_TEXT(m.source, "invented for this test");
    ASSERT_TEXT(m.unit, "cm");
    CU_ASSERT(m.scaled);
    CU_ASSERT(model_uncertain(&m));
    model_free(&m);
    notes_free(&notes);
    test_folder_done();
}

/* A spreadsheet's file: semicolons, decimal commas, CRLF, byte-order mark,
 * columns in another order; a level of 0 has no percentages. */
static void test_model_spreadsheet(void) {
    Model m;
    Notes notes;
    test_folder();
    CU_ASSERT_FALSE(read_text("\xEF\xBB\xBFValue;Parameter;Unit\r\n"
                              "one-component;kind;\r\n"
                              "0;p0;cm\r\n"
                              "2,385;k1;\r\n"
                              "38,75;tau1;d\r\n",
                              &m, &notes));
    /* 2,385 may be 2385: it is refused, see base/number.h */
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'2,385', expected a number that "
                                             "reads one way only"));
    model_free(&m);
    notes_free(&notes);
    CU_ASSERT(read_text("\xEF\xBB\xBFValue;Parameter;Unit\r\n"
                        "one-component;kind;\r\n"
                        "0;p0;cm\r\n"
                        "2,3850;k1;\r\n"
                        "38,75;tau1;d\r\n",
                        &m, &notes));
    CU_ASSERT_EQUAL(notes.count, 0);
    CU_ASSERT_EQUAL(m.params.kind, RESPONSE_ONE_COMPONENT);
    CU_ASSERT_EQUAL(m.params.value[PARAM_K1], 2.385);
    CU_ASSERT_EQUAL(m.params.value[PARAM_TAU1], 38.75);
    CU_ASSERT(!m.scaled);
    CU_ASSERT(!model_uncertain(&m));
    model_free(&m);
    notes_free(&notes);
    test_folder_done();
}

/* One wrong file and what must be said of it. */
typedef struct {
    const char *content; /* below the usual heading, or whole with `whole` */
    const char *said;
    size_t line;        /* 0: about the whole file */
    const char *column; /* NULL: about none */
    bool whole;
} Refusal;

#define KIND "kind,two-component,,,\n"
#define GAINS "p0,500,,,\nk1,1,,,\nk2,2,,,\n"
#define TIMES "tau1,45,,d,\ntau2,15,,d,\n"

#define GRADED                                                                 \
    "kind,graded,,,\np0,0,,,\nk1,1,,,\n" TIMES "tau3,2.3,,d,\n"                \
    "ratio,2.1,,,\n"

static const Refusal refusals[] = {
    {"kind,three-component,,,\n",
     "'three-component', expected two-component or one-component or delayed or "
     "variable-dose or graded",
     2, "value", false},
    {"kind,,,,\n", "'', expected two-component or one-component or delayed", 2,
     "value", false},
    {"p0,500,,,\n" KIND, "'p0', expected the first row to say the kind", 2,
     "parameter", false},
    {KIND GAINS "tau1,45,,d,\n",
     "the parameter 'tau2' is missing, expected one row for it", 0, NULL,
     false},
    {KIND "k1,1,,,\nk2,2,,,\n" TIMES, "the parameter 'p0' is missing", 0, NULL,
     false},
    {KIND GAINS TIMES "tau1,44,,d,\n", "'tau1', expected each parameter once",
     8, "parameter", false},
    {KIND GAINS TIMES "tau3,2.3,,d,\n",
     "'tau3', expected only parameters of this kind of model", 8, "parameter",
     false},
    {"kind,one-component,,,\np0,500,,,\nk1,1,,,\ntau1,45,,d,\nk2,2,,,\n",
     "'k2', expected only parameters of this kind of model", 6, "parameter",
     false},
    {KIND GAINS TIMES "tau9,2.3,,d,\n",
     "'tau9', expected kind, p0, k1, k2, tau1, tau2, tau_rise, k3, tau3, "
     "ratio, growth or draws",
     8, "parameter", false},
    {KIND GAINS TIMES ",2.3,,d,\n", "'', expected kind, p0, k1", 8, "parameter",
     false},
    {KIND GAINS "tau1,15,,d,\ntau2,45,,d,\n",
     "tau1 '15' is not above tau2 '45', expected fitness to fade more slowly "
     "than fatigue",
     0, NULL, false},
    {"kind,delayed,,,\n" GAINS TIMES "tau_rise,46,,d,\n",
     "tau1 '45' is not above tau_rise '46', expected fitness to fade more "
     "slowly than it builds",
     0, NULL, false},
    {"kind,delayed,,,\n" GAINS TIMES,
     "the parameter 'tau_rise' is missing, expected one row for it", 0, NULL,
     false},
    {"kind,variable-dose,,,\n" GAINS TIMES "k3,0.00003,,,\ntau3,2,,d,\n",
     "'k2', expected only parameters of this kind of model", 5, "parameter",
     false},
    {GRADED "growth,1.25,,,\n", "'1.25', expected a number from 0 to 1", 9,
     "value", false},
    {GRADED "growth,-0.1,,,\n", "'-0.1', expected a number from 0 to 1", 9,
     "value", false},
    {GRADED "growth,0.5,1.5,,\n", "'1.5', expected a number from 0 to 1", 9,
     "spread", false},
    {GRADED "growth,half,,,\n", "'half', expected a number", 9, "value", false},
    {GRADED, "the parameter 'growth' is missing, expected one row for it", 0,
     NULL, false},
    {GRADED "growth,0.5,,,\nk2,2,,,\n",
     "'k2', expected only parameters of this kind of model", 10, "parameter",
     false},
    {"kind,graded,,,\np0,0,,,\nk1,1,,,\ntau1,39,,d,\ntau2,12,,d,\n"
     "tau3,2.3,,d,\nratio,0,,,\ngrowth,0.5,,,\n",
     "'0', expected a number from 0.01 to 100", 8, "value", false},
    {KIND GAINS TIMES "draws,../other.csv,,,\n",
     "'../other.csv', expected the name of a file beside this one", 8, "value",
     false},
    {KIND GAINS TIMES "draws,,,,\n",
     "'', expected the name of a file beside this one", 8, "value", false},
    {KIND GAINS "tau1,15,,d,\ntau2,15,,d,\n", "is not above tau2 '15'", 0, NULL,
     false},
    {KIND GAINS "tau1,forty-five,,d,\ntau2,15,,d,\n",
     "'forty-five', expected a number", 6, "value", false},
    {KIND GAINS "tau1,,,d,\ntau2,15,,d,\n", "'', expected a number", 6, "value",
     false},
    {KIND GAINS "tau1,nan,,d,\ntau2,15,,d,\n", "'nan', expected a number", 6,
     "value", false},
    {KIND GAINS "tau1,1e999,,d,\ntau2,15,,d,\n",
     "'1e999', expected a number that a computer can hold", 6, "value", false},
    {KIND GAINS "tau1,\"45,5\",,d,\ntau2,15,,d,\n",
     "'45,5', expected a number with a decimal point", 6, "value", false},
    {KIND GAINS "tau1,1000.5,,d,\ntau2,15,,d,\n",
     "'1000.5', expected a number from 0.1 to 1000", 6, "value", false},
    {KIND GAINS "tau1,45,,d,\ntau2,0.05,,d,\n",
     "'0.05', expected a number from 0.1 to 1000", 7, "value", false},
    {KIND "p0,500,,,\nk1,-0.5,,,\nk2,2,,,\n" TIMES,
     "'-0.5', expected a number from 0 to 1e+09", 4, "value", false},
    {KIND "p0,500,,,\nk1,1,,,\nk2,-2,,,\n" TIMES,
     "'-2', expected a number from 0 to 1e+09", 5, "value", false},
    {KIND "p0,-1e10,,,\nk1,1,,,\nk2,2,,,\n" TIMES,
     "'-1e10', expected a number from -1e+09 to 1e+09", 3, "value", false},
    {KIND GAINS "tau1,45,-0.3,d,\ntau2,15,,d,\n",
     "'-0.3', expected a number from 0 to 3", 6, "spread", false},
    {KIND GAINS "tau1,45,3.5,d,\ntau2,15,,d,\n",
     "'3.5', expected a number from 0 to 3", 6, "spread", false},
    {KIND GAINS "tau1,45,wide,d,\ntau2,15,,d,\n", "'wide', expected a number",
     6, "spread", false},
    {KIND "p0,500,0.2,,\nk1,1,,,\nk2,2,,,\n" TIMES,
     "'0.2', expected no spread for p0, which is a level", 3, "spread", false},
    {KIND GAINS "tau1,45\ntau2,15,,d,\n", "this row has 2 cells", 6, NULL,
     false},
    {"", "has no rows, expected a first row 'kind'", 0, NULL, false},
    {"parameter,worth\nkind,two-component\n",
     "this column is missing, expected a model file with the columns "
     "parameter,value,spread,unit,source",
     1, "value", true},
    {"name,value\nkind,two-component\n", "this column is missing", 1,
     "parameter", true},
    {"", "is empty, expected a header row with column names", 0, NULL, true},
};

static void check_refusal(const Refusal *r) {
    Text content = {0};
    Model model;
    Notes notes;
    const Note *note;
    text_add(&content, "%s%s", r->whole ? "" : head, r->content);
    CU_ASSERT_FALSE(read_text(text_of(&content), &model, &notes));
    note = test_note(&notes, r->said);
    if (!note)
        ASSERT_HAS(notes.count ? notes.items[0].text : "", r->said);
    if (note) {
        CU_ASSERT_EQUAL(note->level, LEVEL_ERROR);
        CU_ASSERT_EQUAL(note->line, r->line);
        CU_ASSERT(r->column ? note->column != NULL : note->column == NULL);
        if (r->column && note->column)
            ASSERT_TEXT(note->column, r->column);
        ASSERT_HAS(note->file, "model.csv");
    }
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_DATA);
    model_free(&model);
    notes_free(&notes);
    text_free(&content);
}

static void test_model_errors(void) {
    test_folder();
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++)
        check_refusal(&refusals[i]);
    test_folder_done();
}

/* One run shows every problem. */
static void test_model_all_errors(void) {
    Model m;
    Notes notes;
    test_folder();
    CU_ASSERT_FALSE(read_text("parameter,value,spread,unit,source\n" KIND
                              "p0,high,,,\nk1,-1,,,\ntau1,45,-1,d,\n",
                              &m, &notes));
    CU_ASSERT_EQUAL(notes.errors, 3);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'high'"));
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'-1', expected a number from 0 "
                                             "to 1e+09"));
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'-1', expected a number from 0 "
                                             "to 3"));
    model_free(&m);
    notes_free(&notes);
    test_folder_done();
}

static void test_model_missing_file(void) {
    Model m;
    Notes notes = {0};
    Text path = {0};
    text_add(&path, "%s/nowhere.csv", test_folder());
    CU_ASSERT_FALSE(model_read(text_of(&path), &m, &notes));
    CU_ASSERT_PTR_NOT_NULL(
        test_note(&notes, "cannot be opened: No such file or directory"));
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    model_free(&m);
    notes_free(&notes);
    text_free(&path);
    test_folder_done();
}

/* ---- models at hand ---- */

/* Every row of a shipped model says where it comes from. */
static void check_sources(const char *path) {
    char *content = test_read(path, NULL);
    size_t rows = 0;
    CU_ASSERT_PTR_NOT_NULL_FATAL(content);
    for (char *line = strtok(content, "\n"); line; line = strtok(NULL, "\n")) {
        size_t commas = 0;
        const char *at = line;
        for (; *at && commas < 4; at++)
            commas += *at == ',';
        CU_ASSERT_EQUAL(commas, 4);
        CU_ASSERT(strlen(at) >= 5);
        rows++;
    }
    CU_ASSERT(rows >= 5);
    free(content);
}

static void check_shipped(const char *name) {
    Model m;
    Notes notes = {0};
    Text path = {0};
    text_add(&path, "models/%s.csv", name);
    CU_ASSERT(model_find(name, "models", &m, &notes));
    CU_ASSERT_EQUAL(notes.count, 0);
    ASSERT_TEXT(m.name, name);
    CU_ASSERT(strlen(m.source) > 20);
    CU_ASSERT(m.params.value[PARAM_TAU1] > 0);
    check_sources(text_of(&path));
    model_free(&m);
    notes_free(&notes);
    text_free(&path);
}

static void test_shipped_models(void) {
    char **names = model_names("models");
    size_t count = 0;
    CU_ASSERT_PTR_NOT_NULL_FATAL(names);
    for (; names[count]; count++) {
        check_shipped(names[count]);
        if (count)
            CU_ASSERT(strcmp(names[count - 1], names[count]) < 0);
    }
    CU_ASSERT(count >= 5);
    model_names_free(names);
    CU_ASSERT_PTR_NULL(model_names("models/no-such-folder"));
}

/* Figures of the publications, with their status. */
static void test_shipped_values(void) {
    static const struct {
        const char *name;
        double ratio, tau1, tau2; /* k2/k1, [d], [d]; 0: no fatigue */
    } rows[] = {
        {"classic", 2, 45, 15},      /* Morton et al. 1990, M */
        {"runners", 1.8, 50, 11},    /* Morton et al. 1990, P, secondary */
        {"literature", 2.1, 39, 12}, /* published points, see the file */
        {"hammer-thrower", .27 / .07, 60, 13}, /* Busso 1994, P, secondary */
        {"calvert", 2, 50, 15},                /* Calvert et al. 1976, M */
        {"triathlete-swim", 0, 31, 0},         /* Millet et al. 2002, P */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Model m;
        Notes notes = {0};
        const double *v = m.params.value;
        CU_ASSERT_FATAL(model_find(rows[i].name, "models", &m, &notes));
        ASSERT_NEAR(v[PARAM_TAU1], rows[i].tau1, 1e-12);
        CU_ASSERT_EQUAL(m.params.kind == RESPONSE_ONE_COMPONENT,
                        rows[i].tau2 == 0);
        if (rows[i].tau2 > 0) {
            ASSERT_NEAR(v[PARAM_TAU2], rows[i].tau2, 1e-12);
            ASSERT_NEAR(m.params.kind == RESPONSE_GRADED
                            ? v[PARAM_RATIO]
                            : v[PARAM_K2] / v[PARAM_K1],
                        rows[i].ratio, 1e-12);
        }
        model_free(&m);
        notes_free(&notes);
    }
}

/* Busso 2003's means (M); Calvert's time of rise (M). */
static void test_shipped_kinds(void) {
    ResponseParams wanted = busso(260);
    Model m;
    Notes notes = {0};
    CU_ASSERT_FATAL(model_find("busso-2003", "models", &m, &notes));
    CU_ASSERT_EQUAL(m.params.kind, RESPONSE_VARIABLE_DOSE);
    for (int i = 0; i <= PARAM_TAU3; i++)
        CU_ASSERT(m.params.value[i] == wanted.value[i] ||
                  (isnan(m.params.value[i]) && isnan(wanted.value[i])));
    model_free(&m);
    CU_ASSERT_FATAL(model_find("calvert", "models", &m, &notes));
    CU_ASSERT_EQUAL(m.params.kind, RESPONSE_DELAYED);
    CU_ASSERT_EQUAL(m.params.value[PARAM_TAU_RISE], 5);
    model_free(&m);
    notes_free(&notes);
}

/* A file of draws beside the model; its test counts downwards. */
static void test_model_draws(void) {
    Model m;
    Notes notes;
    Draws draws;
    test_folder();
    test_file(1, "own draws.csv",
              "p0,k1,k2,tau1,tau2\n61.5,.04,.07,43.5,12.25\n"
              "60.25,.05,.06,40,11.5\n");
    CU_ASSERT(read_text("parameter,value,unit\nkind,two-component,\n"
                        "p0,61.5,s\nk1,.04,\nk2,.07,\ntau1,43.5,d\n"
                        "tau2,12.25,d\ndraws,own draws.csv,lower is better\n",
                        &m, &notes));
    CU_ASSERT(m.lower);
    CU_ASSERT_PTR_NOT_NULL_FATAL(m.draws);
    CU_ASSERT(draws_read(m.draws, m.params.kind, &draws, &notes));
    CU_ASSERT_EQUAL(notes.count, 0);
    CU_ASSERT_EQUAL_FATAL(draws.count, 2);
    CU_ASSERT_EQUAL(draws.set[1].kind, RESPONSE_TWO_COMPONENT);
    CU_ASSERT_EQUAL(draws.set[1].value[PARAM_P0], 60.25);
    CU_ASSERT_EQUAL(draws.set[0].value[PARAM_TAU2], 12.25);
    CU_ASSERT(isnan(draws.set[0].value[PARAM_K3]));
    draws_free(&draws);
    model_free(&m);
    notes_free(&notes);
    test_folder_done();
}

static void check_draws_refused(const char *content, const char *said,
                                size_t line, const char *column) {
    Notes notes = {0};
    Draws draws;
    CU_ASSERT_FALSE(draws_read(test_file(0, "draws.csv", content),
                               RESPONSE_ONE_COMPONENT, &draws, &notes));
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_EQUAL(draws.count, 0);
    CU_ASSERT_PTR_NOT_NULL_FATAL(test_note(&notes, said));
    CU_ASSERT_EQUAL(test_note(&notes, said)->line, line);
    ASSERT_TEXT(test_note(&notes, said)->column, column);
    notes_free(&notes);
}

static void test_draws_refused(void) {
    test_folder();
    check_draws_refused("p0,k1\n3,.5\n", "this column is missing", 1, "tau1");
    check_draws_refused("p0,k1,tau1\n3,.5,31\n4,half,32\n",
                        "'half', expected a number", 3, "k1");
    check_draws_refused("p0,k1,tau1\n3,.5,\n", "'', expected a number", 2,
                        "tau1");
    test_folder_done();
}

static void test_model_find(void) {
    Model m;
    Notes notes = {0};
    Text path = {0};
    CU_ASSERT_FALSE(model_find("no-such-model", "models", &m, &notes));
    CU_ASSERT_PTR_NOT_NULL(
        test_note(&notes, "'no-such-model', expected a model file or one of"));
    CU_ASSERT_EQUAL(notes.errors, 1);
    model_free(&m);
    notes_free(&notes);
    text_add(&path, "%s/", test_folder());
    test_file(0, "own.csv",
              "parameter,value\nkind,one-component\np0,3\nk1,.5\ntau1,31\n");
    text_add(&path, "own.csv");
    CU_ASSERT(model_find(text_of(&path), "models", &m, &notes));
    ASSERT_TEXT(m.name, text_of(&path));
    model_free(&m);
    CU_ASSERT_EQUAL(notes.count, 0);
    notes_free(&notes);
    text_free(&path);
    test_folder_done();
}

/* Only files that end in .csv, not hidden ones, in order of name. */
static void test_model_names(void) {
    const char *folder = test_folder();
    char **names;
    test_file(0, "zebra.csv", "");
    test_file(0, "ape.csv", "");
    test_file(0, ".hidden.csv", "");
    test_file(0, "notes.txt", "");
    test_file(0, ".csv", "");
    names = model_names(folder);
    CU_ASSERT_PTR_NOT_NULL_FATAL(names);
    ASSERT_TEXT(names[0], "ape");
    ASSERT_TEXT(names[1], "zebra");
    CU_ASSERT_PTR_NULL(names[2]);
    model_names_free(names);
    test_folder_done();
}

static const TestCase cases[] = {
    {"model_read", test_model_read},
    {"model_spreadsheet", test_model_spreadsheet},
    {"model_errors", test_model_errors},
    {"model_all_errors", test_model_all_errors},
    {"model_missing_file", test_model_missing_file},
    {"shipped_models", test_shipped_models},
    {"shipped_values", test_shipped_values},
    {"shipped_kinds", test_shipped_kinds},
    {"model_draws", test_model_draws},
    {"model_find", test_model_find},
    {"model_names", test_model_names},
    {"draws_refused", test_draws_refused},
    {NULL, NULL}};

const TestSuite suite_response_model = {"response", cases};
