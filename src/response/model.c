/* model: see model.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "response/model.h"

#include "base/mem.h"
#include "base/table.h"
#include "base/text.h"

#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What a value may be. */
typedef struct {
    double low, high;
} Range;

static const Range ranges[PARAMS] = {
    [PARAM_P0] = {-1e9, 1e9},    [PARAM_K1] = {0, 1e9},
    [PARAM_K2] = {0, 1e9},       [PARAM_TAU1] = {0.1, 1000},
    [PARAM_TAU2] = {0.1, 1000},  [PARAM_TAU_RISE] = {0.1, 1000},
    [PARAM_K3] = {0, 1e9},       [PARAM_TAU3] = {0.1, 1000},
    [PARAM_RATIO] = {0.01, 100}, [PARAM_GROWTH] = {0, 1},
};

/* The file while it is read. */
typedef struct {
    Table *table;
    Notes *notes;
    int parameter, value, spread, unit, source;
    TableRow row;
    Model *model;
    bool good, has_kind;
} File;

static char *cell(const File *f, int column) {
    size_t length;
    const char *start;
    if (column < 0)
        return mem_copy("");
    start = text_trim(f->row.cells[column], &length);
    return mem_copy_part(start, length);
}

static void trouble(File *f, const char *column, const char *text,
                    const char *wanted) {
    Place place = {table_name(f->table), f->row.line, column};
    char shown[TEXT_EXCERPT];
    notes_add(f->notes, LEVEL_ERROR, place, "%s, expected %s",
              text_excerpt(shown, text), wanted);
    f->good = false;
}

static void take_kind(File *f, const char *text) {
    Text wanted = {0};
    for (int i = 0; i < RESPONSE_KINDS; i++) {
        if (text_same(text, response_kind_names[i])) {
            f->model->params.kind = (ResponseKind)i;
            f->has_kind = true;
            free(f->model->source);
            f->model->source = cell(f, f->source);
            text_free(&wanted);
            return;
        }
        text_add(&wanted, "%s%s", i ? " or " : "", response_kind_names[i]);
    }
    trouble(f, "value", text, text_of(&wanted));
    text_free(&wanted);
}

static bool take_number(File *f, const char *column, const char *text,
                        Range range, double *value) {
    const char *wanted;
    char words[80];
    if (!number_read(text, table_style(f->table), value, &wanted)) {
        trouble(f, column, text, wanted);
        return false;
    }
    if (*value < range.low || *value > range.high) {
        snprintf(words, sizeof words, "a number from %g to %g", range.low,
                 range.high);
        trouble(f, column, text, words);
        return false;
    }
    return true;
}

static void take_param(File *f, Param param, const char *text) {
    ResponseParams *p = &f->model->params;
    char *spread = cell(f, f->spread);
    if (!response_has(p->kind, param))
        trouble(f, "parameter", param_names[param],
                "only parameters of this kind of model");
    else if (!isnan(p->value[param]))
        trouble(f, "parameter", param_names[param], "each parameter once");
    else
        take_number(f, "value", text, ranges[param], &p->value[param]);
    if (*spread && param == PARAM_P0)
        trouble(f, "spread", spread, "no spread for p0, which is a level");
    else if (*spread)
        take_number(f, "spread", spread,
                    (Range){0, param == PARAM_GROWTH ? 1 : 3},
                    &f->model->spread[param]);
    free(spread);
    if (param == PARAM_P0) {
        free(f->model->unit);
        f->model->unit = cell(f, f->unit);
    }
}

/* The file of draws lies beside the model file. */
static void take_draws(File *f, const char *name) {
    const char *path = table_name(f->table), *slash = strrchr(path, '/');
    char *unit = cell(f, f->unit);
    Text whole = {0};
    if (!*name || strchr(name, '/')) {
        trouble(f, "value", name, "the name of a file beside this one");
    } else {
        text_add(&whole, "%.*s%s", slash ? (int)(slash - path) + 1 : 0, path,
                 name);
        free(f->model->draws);
        f->model->draws = mem_copy(text_of(&whole));
        f->model->lower = text_same(unit, "lower is better");
    }
    free(unit);
    text_free(&whole);
}

static void take_row(File *f) {
    char *name = cell(f, f->parameter), *value = cell(f, f->value);
    int param = 0;
    while (param < PARAMS && !text_same(name, param_names[param]))
        param++;
    if (text_same(name, "kind") && !f->has_kind)
        take_kind(f, value);
    else if (!f->has_kind)
        trouble(f, "parameter", name, "the first row to say the kind");
    else if (param < PARAMS)
        take_param(f, (Param)param, value);
    else if (text_same(name, "draws"))
        take_draws(f, value);
    else
        trouble(f, "parameter", name,
                "kind, p0, k1, k2, tau1, tau2, tau_rise, k3, tau3, ratio, "
                "growth or "
                "draws");
    free(name);
    free(value);
}

/* tau1 is the longest of the time constants. */
static void check_order(File *f, Param param, const char *wanted) {
    const ResponseParams *p = &f->model->params;
    Place place = {table_name(f->table), 0, NULL};
    if (!f->good || !response_has(p->kind, param) ||
        p->value[PARAM_TAU1] > p->value[param])
        return;
    notes_add(f->notes, LEVEL_ERROR, place,
              "tau1 '%g' is not above %s '%g', expected %s",
              p->value[PARAM_TAU1], param_names[param], p->value[param],
              wanted);
    f->good = false;
}

static void check_whole(File *f) {
    ResponseParams *p = &f->model->params;
    Place place = {table_name(f->table), 0, NULL};
    for (int i = 0; i < PARAMS && f->has_kind; i++) {
        if (!response_has(p->kind, (Param)i) || !isnan(p->value[i]))
            continue;
        notes_add(f->notes, LEVEL_ERROR, place,
                  "the parameter '%s' is missing, expected one row for it",
                  param_names[i]);
        f->good = false;
    }
    if (f->good && !f->has_kind) {
        notes_add(f->notes, LEVEL_ERROR, place,
                  "has no rows, expected a first row 'kind'");
        f->good = false;
    }
    check_order(f, PARAM_TAU2, "fitness to fade more slowly than fatigue");
    check_order(f, PARAM_TAU_RISE,
                "fitness to fade more slowly than it builds");
}

static bool find_columns(File *f) {
    Place place = {table_name(f->table), 1, NULL};
    f->parameter = table_column(f->table, "parameter");
    f->value = table_column(f->table, "value");
    f->spread = table_column(f->table, "spread");
    f->unit = table_column(f->table, "unit");
    f->source = table_column(f->table, "source");
    if (f->parameter >= 0 && f->value >= 0)
        return true;
    place.column = f->parameter < 0 ? "parameter" : "value";
    notes_add(f->notes, LEVEL_ERROR, place,
              "this column is missing, expected a model file with the columns "
              "parameter,value,spread,unit,source");
    return false;
}

static void model_start(Model *m, const char *name) {
    *m = (Model){
        .name = mem_copy(name), .source = mem_copy(""), .unit = mem_copy("")};
    for (int i = 0; i < PARAMS; i++)
        m->params.value[i] = m->spread[i] = NAN;
}

bool model_read(const char *path, Model *model, Notes *notes) {
    File f = {.notes = notes, .model = model, .good = true};
    size_t errors = notes->errors;
    model_start(model, path);
    f.table = table_open(path, NULL, notes);
    if (!f.table)
        return false;
    if (find_columns(&f)) {
        while (table_next(f.table, &f.row))
            take_row(&f);
        if (notes->errors == errors)
            check_whole(&f);
    }
    table_close(f.table);
    model->scaled = *model->unit && !strstr(model->unit, "arbitrary") &&
                    (model->params.value[PARAM_P0] > 0 || model->draws);
    return notes->errors == errors;
}

static bool is_file(const char *name) {
    size_t length = strlen(name);
    return strchr(name, '/') ||
           (length > 4 && text_same(name + length - 4, ".csv"));
}

bool model_find(const char *name, const char *folder, Model *model,
                Notes *notes) {
    Text path = {0};
    bool good = false;
    FILE *there;
    if (is_file(name))
        return model_read(name, model, notes);
    text_add(&path, "%s/%s.csv", folder, name);
    there = fopen(text_of(&path), "rb");
    if (there) {
        fclose(there);
        good = model_read(text_of(&path), model, notes);
        free(model->name);
        model->name = mem_copy(name);
    } else if (errno != ENOENT && errno != ENAMETOOLONG) {
        Place place = {text_of(&path), 0, NULL};
        notes_add_system(notes, place, "cannot be opened: %s", strerror(errno));
        model_start(model, name);
    } else {
        Place place = {"--model", 0, NULL};
        char shown[TEXT_EXCERPT];
        model_start(model, name);
        notes_add(notes, LEVEL_ERROR, place,
                  "%s, expected a model file or one of the names that "
                  "'peakward models' lists (looked in %s)",
                  text_excerpt(shown, name), folder);
    }
    text_free(&path);
    return good;
}

void model_free(Model *m) {
    free(m->name);
    free(m->source);
    free(m->unit);
    free(m->draws);
    *m = (Model){0};
}

bool model_uncertain(const Model *m) {
    for (int i = 0; i < PARAMS; i++)
        if (isfinite(m->spread[i]) && m->spread[i] > 0)
            return true;
    return false;
}

static int by_text(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

char **model_names(const char *folder) {
    DIR *dir = opendir(folder);
    struct dirent *entry;
    char **names = NULL;
    size_t count = 0, room = 0;
    if (!dir)
        return NULL;
    while ((entry = readdir(dir)) != NULL) {
        size_t length = strlen(entry->d_name);
        if (length <= 4 || strcmp(entry->d_name + length - 4, ".csv") != 0 ||
            entry->d_name[0] == '.')
            continue;
        names = mem_grow(names, &room, count + 2, sizeof *names);
        names[count++] = mem_copy_part(entry->d_name, length - 4);
    }
    closedir(dir);
    names = mem_grow(names, &room, count + 1, sizeof *names);
    names[count] = NULL;
    qsort(names, count, sizeof *names, by_text);
    return names;
}

void model_names_free(char **names) {
    for (size_t i = 0; names && names[i]; i++)
        free(names[i]);
    free(names);
}
