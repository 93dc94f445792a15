/* classroom: see classroom.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/classroom.h"

#include "base/mem.h"
#include "output/words.h"
#include "season/reader.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the file ---- */

enum { STUDENT, ANSWER };

static const Column columns[] = {
    {"student", true}, {"answer", true}, {NULL, false}};

static bool is_new(Reader *reader, const Classroom *c, const char *student) {
    char shown[TEXT_EXCERPT];
    for (size_t i = 0; i < c->count; i++)
        if (strcmp(c->items[i].student, student) == 0) {
            reader_error(reader, STUDENT,
                         "%s stands in an earlier row, expected each student "
                         "once",
                         text_excerpt(shown, student));
            return false;
        }
    return true;
}

static void take_row(Reader *reader, Classroom *c) {
    const char *student = "";
    double answer = NAN;
    bool good =
        reader_text(reader, STUDENT, &student) && is_new(reader, c, student);
    /* both cells of a row are looked at */
    good = reader_number(reader, ANSWER, -1e9, 1e9, &answer) && good;
    if (!good)
        return;
    if (!isfinite(answer)) {
        c->blank++;
        return;
    }
    c->items = mem_grow(c->items, &c->room, c->count + 1, sizeof *c->items);
    c->items[c->count++] = (ClassroomAnswer){mem_copy(student), answer};
}

static int by_answer(const void *a, const void *b) {
    const ClassroomAnswer *x = a, *y = b;
    int order = (x->answer > y->answer) - (x->answer < y->answer);
    return order ? order : strcmp(x->student, y->student);
}

void classroom_read(const char *path, Classroom *c, Notes *notes) {
    Reader reader;
    ReadOptions options = {.maps = NULL};
    size_t before = notes->errors;
    *c = (Classroom){.blank = 0};
    if (!reader_open_any(&reader, path, columns, &options, notes))
        return;
    for (int column = STUDENT; column <= ANSWER; column++)
        if (!reader_has(&reader, column))
            notes_add(notes, LEVEL_ERROR,
                      (Place){path, 1, columns[column].name},
                      "this column is missing, expected student and answer");
    if (notes->errors == before)
        while (reader_next(&reader))
            take_row(&reader, c);
    reader_close(&reader);
    if (notes->errors == before && c->count == 0)
        notes_add(notes, LEVEL_ERROR, (Place){path, 0, NULL},
                  "no answer in it, expected a row for each student");
    if (c->count > CLASSROOM_MOST)
        notes_add(notes, LEVEL_ERROR, (Place){path, 0, NULL},
                  "%zu answers, expected at most %d", c->count, CLASSROOM_MOST);
    if (c->count > 0)
        qsort(c->items, c->count, sizeof *c->items, by_answer);
}

void classroom_free(Classroom *c) {
    for (size_t i = 0; i < c->count; i++)
        free(c->items[i].student);
    free(c->items);
    *c = (Classroom){.blank = 0};
}

/* ---- against the truth ---- */

StatusCode classroom_judge(const Lesson *l, const char *name, Status *status) {
    return isfinite(l->truth)
               ? STATUS_OK
               : status_fail(status, STATUS_DATA,
                             "--answers: under this model the question of the "
                             "lesson %s has no number as its answer, expected "
                             "another --model",
                             name);
}

/* The quantile of the answers, linear between ranks. */
static double quantile(const Classroom *c, double share) {
    return gsl_stats_quantile_from_sorted_data(
        &c->items[0].answer, sizeof *c->items / sizeof(double), c->count,
        share);
}

_Static_assert(sizeof(ClassroomAnswer) % sizeof(double) == 0,
               "a stride counts in doubles");

/* A number of the lesson's question in its unit. */
static const char *figure(char shown[FIGURE_TEXT], double x) {
    snprintf(shown, FIGURE_TEXT, "%.4g", x);
    return shown;
}

static void say(const Classroom *c, const Lesson *l, FILE *to) {
    size_t near = 0, below = 0;
    double reach = .1 * fabs(l->truth);
    char shown[4][FIGURE_TEXT];
    Text words = {0};
    for (size_t i = 0; i < c->count; i++) {
        double off = c->items[i].answer - l->truth;
        near += fabs(off) <= reach;
        below += off < -reach;
    }
    text_add(&words,
             "The model says %s %s. The middle answer of %zu is %s; half of "
             "the class lies between %s and %s. ",
             figure(shown[0], l->truth), l->truth_unit, c->count,
             figure(shown[1], quantile(c, .5)),
             figure(shown[2], quantile(c, .25)),
             figure(shown[3], quantile(c, .75)));
    text_add(&words,
             "Within a tenth of the model's: %zu of %zu; lower: %zu; higher: "
             "%zu.",
             near, c->count, below, c->count - near - below);
    if (c->blank > 0)
        text_add(&words, " %zu %s no answer.", c->blank,
                 c->blank == 1 ? "row has" : "rows have");
    print_wrapped(to, text_of(&words), 79, 0);
    text_free(&words);
}

void classroom_print(const Classroom *c, const Lesson *l, FILE *to) {
    static const GridColumn titles[] = {
        {"student", false}, {"answer", true}, {"over the\nmodel's", true}};
    Grid grid;
    print_shown_line(to, l->picture.title);
    fputc('\n', to);
    print_wrapped(to, l->frame.question, 79, 0);
    fputc('\n', to);
    say(c, l, to);
    fputc('\n', to);
    grid_start(&grid, titles, 3);
    for (size_t i = 0; i < c->count; i++) {
        const ClassroomAnswer *a = &c->items[i];
        char shown[FIGURE_TEXT];
        grid_cell(&grid, "%s", a->student);
        grid_cell(&grid, "%.6g", a->answer);
        grid_cell(&grid, "%s", figure(shown, a->answer - l->truth));
    }
    grid_print(&grid, to, 40);
    grid_free(&grid);
    fputs(l->modelless ? "\n" : "\nModel: ", to);
    print_shown(to, l->picture.subtitle);
    fputs(". A model's answer is not the truth about an athlete.\n", to);
}

void classroom_csv(const Classroom *c, const Lesson *l, FILE *to) {
    csv_header(to, "student,answer,truth,error,unit");
    for (size_t i = 0; i < c->count; i++) {
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, c->items[i].student);
        csv_number(&csv, c->items[i].answer);
        csv_number(&csv, l->truth);
        csv_number(&csv, c->items[i].answer - l->truth);
        csv_text(&csv, l->truth_unit);
        csv_end(&csv);
    }
}

StatusCode classroom_picture(const Classroom *c, const Lesson *l,
                             const Gallery *gallery, const char *name,
                             Text *path, Status *status) {
    Plot plot = {0};
    Text title = {0};
    char shown[3][FIGURE_TEXT];
    text_add(&title, "%s: %zu answers", l->picture.title, c->count);
    plot_start(&plot, text_of(&title), l->picture.subtitle);
    plot_string(&plot, "x_label", l->truth_unit);
    plot_number(&plot, "truth", l->truth);
    plot_number(&plot, "middle", quantile(c, .5));
    plot_block(&plot, "answers");
    for (size_t i = 0; i < c->count; i++)
        plot_row(&plot, (double[]){(double)i + 1, c->items[i].answer}, 2);
    plot_block_end(&plot);
    for (size_t i = 0; i < c->count; i++)
        plot_nth_string(&plot, "student", i, c->items[i].student);
    text_add(&plot.alt,
             "%zu answers as points, a row a student by rising answer, from %s "
             "to %s; a line at the model's answer, %s %s. ",
             c->count, figure(shown[0], c->items[0].answer),
             figure(shown[1], c->items[c->count - 1].answer),
             figure(shown[2], l->truth), l->truth_unit);
    text_free(&title);
    return plot_draw(&plot, gallery, "lesson-class.gp", name, path, status);
}
