/* picture: see picture.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/picture.h"

#include "present/grid.h"

#include <math.h>

static void send_marks(Plot *plot, const LessonPicture *p) {
    plot_number(plot, "marks_count", (double)p->points_marked);
    plot_string(plot, "mark_name", p->points_marked ? p->mark_name : "");
    plot_block(plot, "marks");
    for (size_t i = 0; i < p->points_marked && i < LESSON_MARKS; i++) {
        double row[] = {p->mark_x[i], p->mark_y[i], p->mark_error};
        plot_row(plot, row, 3);
    }
    plot_block_end(plot);
}

static void curves_words(Plot *plot, const LessonPicture *p) {
    text_add(&plot->alt, "Lines of %s by %s. ", p->y_label, p->x_label);
    for (size_t k = 0; k < p->curves; k++)
        plot_alt_line(plot, p->name[k], p->y[k], p->points, 1);
    if (p->points_marked)
        text_add(&plot->alt, "%zu points: %s. ", p->points_marked,
                 p->mark_name);
    if (isfinite(p->t_n))
        text_add(&plot->alt, "Marked: t_n at %.1f days. ", fabs(p->t_n));
    if (isfinite(p->t_g))
        text_add(&plot->alt, "Marked: t_g at %.1f days. ", fabs(p->t_g));
    if (p->shade)
        text_add(&plot->alt, "Below 0 it is hatched: training there hurts. ");
}

static void rows_words(Plot *plot, const LessonPicture *p) {
    text_add(&plot->alt, "Points with intervals, a row each: %s. ", p->y_label);
    for (size_t i = 0; i < p->points; i++)
        text_add(&plot->alt, "%s%s %.2f (%.2f to %.2f)", i ? "; " : "",
                 p->row[i], p->y[0][i], p->y[1][i], p->y[2][i]);
    text_add(&plot->alt, ". ");
}

enum { CURVE_HEIGHT = 220 /* [px] of a narrow one: a single curve */ };

StatusCode picture_lesson(const LessonPicture *p, const Gallery *gallery,
                          const char *name, Text *path, Status *status) {
    Plot plot = {.height = CURVE_HEIGHT};
    plot_start(&plot, p->title, p->subtitle);
    plot_string(&plot, "x_label", p->x_label);
    plot_string(&plot, "y_label", p->y_label);
    plot_number(&plot, "t_n", p->t_n);
    plot_number(&plot, "t_g", p->t_g);
    plot_number(&plot, "shade", p->shade);
    plot_number(&plot, "curves_count", (double)p->curves);
    plot_strings(&plot, "curve_name", p->name, p->curves);
    plot_block(&plot, "curves");
    for (size_t i = 0; i < p->points; i++) {
        double row[LESSON_CURVES + 1] = {p->x[i]};
        for (size_t k = 0; k < p->curves; k++)
            row[k + 1] = p->y[k][i];
        plot_row(&plot, row, (int)p->curves + 1);
    }
    plot_block_end(&plot);
    send_marks(&plot, p);
    if (p->forest) {
        plot_strings(&plot, "row_name", p->row, p->points);
        rows_words(&plot, p);
    } else {
        curves_words(&plot, p);
    }
    return plot_draw(&plot, gallery,
                     p->forest ? "lesson-rows.gp" : "lesson-curves.gp", name,
                     path, status);
}

StatusCode picture_approach(const ApproachPicture *p, const Gallery *gallery,
                            const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_start(&plot, p->title, p->subtitle);
    plot_number(&plot, "from", p->from);
    plot_number(&plot, "film", gallery->format == PICTURE_GIF);
    plot_block(&plot, "days");
    for (size_t i = 0; i < p->days; i++) {
        double row[] = {(double)i - (double)p->days + 1, p->load[i],
                        p->readiness[i]};
        plot_row(&plot, row, 3);
    }
    plot_block_end(&plot);
    plot_block(&plot, "influence");
    for (size_t age = 0; age < p->days; age++) {
        double row[] = {(double)age, p->influence[age]};
        plot_row(&plot, row, 2);
    }
    plot_block_end(&plot);
    text_add(&plot.alt,
             "Three charts of daily load as bars, %d and %d days before the "
             "event and on its day, each under the influence curve that ends "
             "at that day; bars that lower readiness on it are hatched. ",
             p->from, p->from / 2);
    plot_alt_line(&plot, "Readiness", p->readiness, p->days, 1);
    return plot_draw(&plot, gallery, "lesson-approach.gp", name, path, status);
}

/* ---- as CSV ---- */

/* What the points of a series have in common. */
typedef struct {
    FILE *to;
    const char *lesson, *name, *x_label, *y_label;
} Series;

static void put_point(const Series *s, double x, double y, double error,
                      const char *row) {
    Csv csv;
    csv_begin(&csv, s->to);
    csv_text(&csv, s->lesson);
    csv_text(&csv, s->name);
    csv_number(&csv, x);
    csv_number(&csv, y);
    csv_number(&csv, error);
    csv_text(&csv, s->x_label);
    csv_text(&csv, s->y_label);
    csv_text(&csv, row);
    csv_end(&csv);
}

static void put_landmark(Series s, const char *name, double day) {
    s.name = name;
    if (isfinite(day))
        put_point(&s, day, NAN, NAN, "");
}

void picture_csv_header(FILE *to) {
    csv_header(to, "lesson,series,x,y,error,x_label,y_label,row");
}

void picture_lesson_csv(const LessonPicture *p, const char *lesson, FILE *to) {
    Series s = {to, lesson, NULL, p->x_label, p->y_label};
    for (size_t k = 0; k < p->curves; k++) {
        s.name = p->name[k];
        for (size_t i = 0; i < p->points; i++)
            put_point(&s, p->x[i], p->y[k][i], NAN, p->forest ? p->row[i] : "");
    }
    s.name = p->mark_name;
    for (size_t i = 0; i < p->points_marked && i < LESSON_MARKS; i++)
        put_point(&s, p->mark_x[i], p->mark_y[i], p->mark_error, "");
    put_landmark(s, "t_n", p->t_n);
    put_landmark(s, "t_g", p->t_g);
}

void picture_approach_csv(const ApproachPicture *p, const char *lesson,
                          FILE *to) {
    Series s = {to, lesson, "load", "day (the event is 0)", "load"};
    double first = 1 - (double)p->days;
    for (size_t i = 0; i < p->days; i++)
        put_point(&s, first + (double)i, p->load[i], NAN, "");
    s.name = s.y_label = "readiness";
    for (size_t i = 0; i < p->days; i++)
        put_point(&s, first + (double)i, p->readiness[i], NAN, "");
    s.name = "influence";
    s.x_label = "age of a load [d]";
    s.y_label = "change of readiness per unit of load";
    for (size_t age = 1; age < p->days; age++)
        put_point(&s, (double)age, p->influence[age], NAN, "");
}
