/* design: see design.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/design.h"

#include "base/home.h"
#include "base/mem.h"
#include "base/table.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

const char *const design_factors[] = {
    "model",    "assumed", "taper",      "load",  "weeks",
    "tests",    "noise",   "error_time", "drift", "adherence",
    "outliers", "log",     "overload",   "squad", NULL};

/* Half volume for a week, then a quarter; three days of rest; half volume for
 * two weeks; and what this program recommends. */
static const char *const defaults[] = {"literature",
                                       "literature",
                                       "7d-50,7d-75;3d-100;14d-50;recommended",
                                       "400 300 0 400 300 600 0",
                                       "12",
                                       "0",
                                       "0.5",
                                       "0",
                                       "0",
                                       "100",
                                       "0",
                                       "steady",
                                       "0",
                                       "1"};

/* What is recommended where no test tells of an athlete: the gentle end of the
 * published band (taper/common.h). */
static const char untested[] = "8d-50";

typedef struct {
    Design *design;
    const char *folder; /* of the models */
    Place place;
    Notes *notes;
} Reading;

static void refuse(const Reading *r, const char *text, const char *wanted) {
    char shown[TEXT_EXCERPT];
    notes_add(r->notes, LEVEL_ERROR, r->place, "%s, expected %s",
              text_excerpt(shown, text), wanted);
}

static void take_model(const Reading *r, DesignValue *v, bool truth) {
    size_t before = r->notes->errors;
    model_find(v->text, r->folder, &v->model, r->notes);
    if (r->notes->errors == before && truth && !model_uncertain(&v->model))
        refuse(r, v->text,
               "a model file with spreads, from which athletes are drawn");
}

static void take_taper(const Reading *r, DesignValue *v) {
    char why[OPTION_WHY];
    v->advice = text_same(v->text, "recommended")  ? ADVICE_SQUAD
                : text_same(v->text, "individual") ? ADVICE_ALONE
                                                   : ADVICE_NONE;
    if (!option_read(v->advice ? untested : v->text, &v->option, why))
        refuse(r, v->text, why);
}

static bool read_days(char *text, double day[7], int *count) {
    const char *wanted;
    char *rest = NULL;
    bool good = true;
    *count = 0;
    for (char *word = strtok_r(text, " ", &rest); word;
         word = strtok_r(NULL, " ", &rest), (*count)++)
        good = good && *count < 7 &&
               number_read(word, (NumberStyle){false}, &day[*count], &wanted) &&
               day[*count] >= 0 && day[*count] < 1e9;
    return good;
}

static void take_load(const Reading *r, DesignValue *v) {
    char *text = mem_copy(v->text);
    int count;
    bool good = read_days(text, v->day, &count) && (count == 1 || count == 7);
    double sum = 0;
    free(text);
    for (int i = 0; i < count && good; i++)
        sum += v->day[i];
    if (!good || !(sum > 0))
        refuse(r, v->text,
               "a load per week above 0, or seven loads for the days, like "
               "'400 300 0 400 300 600 0'");
    else if (count == 1)
        for (int i = 6; i >= 0; i--)
            v->day[i] = v->day[0] / 7;
}

/* What a number may be. */
typedef struct {
    double low, high;
    bool whole;
    const char *wanted;
} NumberRule;

static const NumberRule number_rules[FACTORS] = {
    [FACTOR_WEEKS] = {1, 104, true, "weeks from 1 to 104"},
    [FACTOR_NOISE] = {0, 20, false, "SDs of what training moves, from 0 to 20"},
    [FACTOR_ERROR_TIME] = {0, 365, false, "days from 0 to 365"},
    [FACTOR_DRIFT] = {0, 20, false, "SDs of what training moves, from 0 to 20"},
    [FACTOR_ADHERENCE] = {0, 100, true, "per cent from 0 to 100"},
    [FACTOR_OUTLIERS] = {0, 100, false, "per cent from 0 to 100"},
    [FACTOR_OVERLOAD] = {0, 200, false, "per cent from 0 to 200"},
    [FACTOR_SQUAD] = {1, 1000, true, "athletes a squad from 1 to 1000"}};

static void take_number(const Reading *r, DesignValue *v, Factor factor) {
    const NumberRule *rule = &number_rules[factor];
    const char *wanted;
    if (!number_read(v->text, (NumberStyle){false}, &v->number, &wanted) ||
        v->number < rule->low || v->number > rule->high ||
        (rule->whole && floor(v->number) != v->number))
        refuse(r, v->text, rule->wanted);
}

/* 8, or a range like 6-10. */
static void take_tests(const Reading *r, DesignValue *v) {
    size_t first = strcspn(v->text, "-");
    char *low = mem_copy_part(v->text, first);
    const char *high = v->text[first] ? v->text + first + 1 : low;
    long least = 0, most = 0;
    if (!number_read_whole(low, 0, 400, &least) ||
        !number_read_whole(high, 0, 400, &most) || least > most)
        refuse(r, v->text, "tests from 0 to 400, or a range like 6-10");
    v->number = (double)least;
    v->most = (double)most;
    free(low);
}

static void take_log(const Reading *r, DesignValue *v) {
    v->number = text_same(v->text, "blocks");
    if (v->number == 0 && !text_same(v->text, "steady"))
        refuse(r, v->text, "steady or blocks");
}

static void take_value(const Reading *r, Factor factor, char *text) {
    Design *d = r->design;
    DesignValue *v;
    d->value[factor] = mem_grow(d->value[factor], &d->room[factor],
                                d->count[factor] + 1, sizeof *v);
    v = &d->value[factor][d->count[factor]++];
    *v = (DesignValue){.text = text};
    if (!*text)
        notes_add(r->notes, LEVEL_ERROR, r->place,
                  "an empty value, expected values separated by ; and none "
                  "empty");
    else if (factor == FACTOR_MODEL || factor == FACTOR_ASSUMED)
        take_model(r, v, factor == FACTOR_MODEL);
    else if (factor == FACTOR_TAPER)
        take_taper(r, v);
    else if (factor == FACTOR_LOAD)
        take_load(r, v);
    else if (factor == FACTOR_TESTS)
        take_tests(r, v);
    else if (factor == FACTOR_LOG)
        take_log(r, v);
    else
        take_number(r, v, factor);
}

static void take_values(const Reading *r, Factor factor, const char *values) {
    for (;;) {
        size_t length = strcspn(values, ";"), trimmed;
        char *part = mem_copy_part(values, length);
        const char *start = text_trim(part, &trimmed);
        take_value(r, factor, mem_copy_part(start, trimmed));
        free(part);
        if (values[length] == '\0')
            return;
        values += length + 1;
    }
}

static void refuse_factor(const Reading *r, const char *name) {
    Text wanted = {0};
    text_add(&wanted, "a factor: ");
    for (int f = 0; f < FACTORS; f++)
        text_add(&wanted, "%s%s", design_factors[f],
                 f + 2 < FACTORS   ? ", "
                 : f + 1 < FACTORS ? " or "
                                   : "");
    refuse(r, name, text_of(&wanted));
    text_free(&wanted);
}

static void take_row(const Reading *r, const char *name, const char *values) {
    Reading at = *r;
    int factor = 0;
    while (design_factors[factor] && !text_same(design_factors[factor], name))
        factor++;
    at.place.column = "factor";
    if (!design_factors[factor])
        refuse_factor(&at, name);
    else if (r->design->count[factor])
        refuse(&at, name, "each factor once");
    else {
        at.place.column = "values";
        take_values(&at, (Factor)factor, values);
    }
}

static void read_rows(Reading *r, Table *table) {
    int name = table_column(table, "factor");
    int values = table_column(table, "values");
    TableRow row;
    if (name < 0 || values < 0) {
        notes_add(r->notes, LEVEL_ERROR, (Place){table_name(table), 1, NULL},
                  "no column '%s', expected factor,values",
                  name < 0 ? "factor" : "values");
        return;
    }
    while (table_next(table, &row)) {
        r->place = (Place){table_name(table), row.line, NULL};
        take_row(r, row.cells[name], row.cells[values]);
    }
}

void design_read(Design *design, const char *path, Notes *notes) {
    char *folder = home_folder("models");
    Reading r = {design, folder, {NULL, 0, NULL}, notes};
    Table *table = path ? table_open(path, NULL, notes) : NULL;
    *design = (Design){0};
    if (table)
        read_rows(&r, table);
    if (table)
        table_close(table);
    r.place = (Place){NULL, 0, NULL};
    for (int f = 0; f < FACTORS; f++)
        if (!design->count[f])
            take_values(&r, (Factor)f, defaults[f]);
    free(folder);
}

static void judge_load(const DesignValue *model, const DesignValue *load,
                       Notes *notes) {
    const double *v = model->model.params.value;
    double mean = 0, ratio;
    if (model->model.params.kind != RESPONSE_VARIABLE_DOSE)
        return;
    for (int i = 0; i < 7; i++)
        mean += load->day[i] / 7;
    ratio = v[PARAM_K3] * mean / -expm1(-1 / v[PARAM_TAU3]) / v[PARAM_K1];
    if (ratio < .1 || ratio > 20)
        notes_add(notes, LEVEL_WARNING, (Place){NULL, 0, NULL},
                  "load '%s' is far from the scale of the model %s: fatigue "
                  "would have %.2g times the gain of fitness, expected loads "
                  "in the unit of that model",
                  load->text, model->text, ratio);
}

/* Tests of training that never varies. */
static void judge_tests(const Design *design, Notes *notes) {
    bool tested = false, steady = false;
    for (size_t i = 0; i < design->count[FACTOR_TESTS]; i++)
        tested = tested || design->value[FACTOR_TESTS][i].most > 0;
    for (size_t i = 0; i < design->count[FACTOR_LOG]; i++)
        steady = steady || design->value[FACTOR_LOG][i].number == 0;
    if (tested && steady)
        notes_add(notes, LEVEL_WARNING, (Place){NULL, 0, NULL},
                  "tests of training that is the same each week tell little "
                  "of an athlete, expected log 'blocks' beside tests");
}

void design_judge(const Design *design, Notes *notes) {
    static const Factor models[] = {FACTOR_MODEL, FACTOR_ASSUMED};
    for (int m = 0; m < 2; m++)
        for (size_t i = 0; i < design->count[models[m]]; i++)
            for (size_t j = 0; j < design->count[FACTOR_LOAD]; j++)
                judge_load(&design->value[models[m]][i],
                           &design->value[FACTOR_LOAD][j], notes);
    judge_tests(design, notes);
}

bool design_advised(const DesignValue *const at[FACTORS]) {
    return at[FACTOR_TESTS]->most > 0 ||
           (at[FACTOR_TAPER]->advice &&
            !text_same(at[FACTOR_ASSUMED]->text, defaults[FACTOR_ASSUMED]));
}

void design_free(Design *design) {
    for (int f = 0; f < FACTORS; f++) {
        for (size_t i = 0; i < design->count[f]; i++) {
            model_free(&design->value[f][i].model);
            free(design->value[f][i].text);
        }
        free(design->value[f]);
    }
    *design = (Design){0};
}

size_t design_combinations(const Design *design) {
    size_t product = 1;
    for (int f = 0; f < FACTORS; f++) {
        if (product > SIZE_MAX / design->count[f])
            return SIZE_MAX;
        product *= design->count[f];
    }
    return product;
}

void design_at(const Design *design, size_t combination,
               const DesignValue *at[FACTORS]) {
    static const Factor order[FACTORS] = {
        FACTOR_TAPER,   FACTOR_ADHERENCE, FACTOR_WEEKS, FACTOR_LOAD,
        FACTOR_ASSUMED, FACTOR_OUTLIERS,  FACTOR_DRIFT, FACTOR_ERROR_TIME,
        FACTOR_NOISE,   FACTOR_TESTS,     FACTOR_LOG,   FACTOR_OVERLOAD,
        FACTOR_SQUAD,   FACTOR_MODEL};
    for (int i = 0; i < FACTORS; i++) {
        Factor f = order[i];
        at[f] = &design->value[f][combination % design->count[f]];
        combination /= design->count[f];
    }
}
