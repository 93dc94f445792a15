/* lesson: see lesson.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/lesson.h"

#include "output/words.h"

#include <math.h>
#include <stdlib.h>

static const GridColumn figures[] = {
    {"", false}, {"value", true}, {"unit", false}};

bool lesson_tires(const Lesson *l) {
    return response_has(l->params->kind, PARAM_TAU2);
}

const char *lesson_unit(const Lesson *l) {
    return l->model->scaled ? l->model->unit : "units";
}

double *lesson_curve(Lesson *l, const char *name, double number) {
    LessonPicture *p = &l->picture;
    size_t k = p->curves++;
    if (isfinite(number))
        snprintf(l->name[k], sizeof l->name[k], "%s %.3g", name, number);
    else
        snprintf(l->name[k], sizeof l->name[k], "%s", name);
    p->name[k] = l->name[k];
    p->y[k] = l->y[k];
    return l->y[k];
}

void lesson_days(Lesson *l, int from, size_t points, const char *label) {
    l->picture.points = points;
    l->picture.x_label = label;
    for (size_t i = 0; i < points; i++)
        l->x[i] = from + (double)i;
}

void lesson_truth(Lesson *l, double value, const char *unit) {
    l->truth = value;
    l->truth_unit = unit;
}

static const char *last_cell(const Lesson *l) {
    return l->table.cells[l->table.cell_count - 1];
}

/* The last cell but one: a unit stands behind it. */
static const char *end_row(Lesson *l, const char *unit) {
    const char *shown = last_cell(l);
    grid_cell(&l->table, "%s", unit);
    return shown;
}

static void begin_row(Lesson *l, const char *what) {
    if (l->table.count == 0)
        grid_start(&l->table, figures, 3);
    grid_cell(&l->table, "%s", what);
}

const char *lesson_row(Lesson *l, const char *what, double value, int digits,
                       const char *unit) {
    begin_row(l, what);
    if (isfinite(value))
        grid_cell(&l->table, "%.*f", digits, value);
    else
        grid_cell(&l->table, "none");
    return end_row(l, unit);
}

const char *lesson_amount(Lesson *l, const char *what, double value) {
    begin_row(l, what);
    lesson_cell(l, value);
    return end_row(l, lesson_unit(l));
}

const char *lesson_cell(Lesson *l, double value) {
    char shown[FIGURE_TEXT];
    grid_cell(&l->table, "%s",
              value != 0 ? words_figure(shown, value, value) : "0");
    return last_cell(l);
}

void lesson_free(Lesson *l) {
    grid_free(&l->table);
    free(l->columns);
    text_free(&l->caption);
    text_free(&l->words);
    text_free(&l->title);
    text_free(&l->label);
    text_free(&l->subtitle);
    free(l->load);
    free(l->readiness);
    free(l->influence);
}
