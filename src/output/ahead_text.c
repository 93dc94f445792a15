/* ahead_text: see ahead_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/ahead_text.h"

#include "present/grid.h"

#include <math.h>

static void csv_weeks(const WeeksAhead *a, const char *name, FILE *to) {
    char day[DATE_TEXT];
    for (size_t i = 0; i < a->count; i++) {
        const WeekAhead *w = &a->weeks[i];
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, name);
        csv_text(&csv, date_write(day, w->monday));
        csv_whole(&csv, w->logged);
        csv_number(&csv, w->load);
        csv_number(&csv, a->usual > 0 ? 100 * w->load / a->usual : NAN);
        csv_number(&csv, 100 * w->rise);
        csv_text(&csv, w->block ? w->block->name : "");
        csv_text(&csv, w->event ? w->event->name : "");
        csv_text(&csv, w->absence ? absence_reasons[w->absence->reason] : "");
        csv_end(&csv);
    }
}

/* "build, Regional cup, off until Sun 8 Mar (illness)", appended. */
static void say_what(const WeekAhead *w, Text *text) {
    char day[DATE_TEXT];
    if (w->block)
        text_add(text, "%s", w->block->name);
    if (w->event)
        text_add(text, "%s%s", text->length ? ", " : "", w->event->name);
    if (w->absence)
        text_add(text, "%s%s %s (%s)", text->length ? ", " : "",
                 w->absence->to >= w->monday ? "off until" : "back after",
                 date_write_short(day, w->absence->to),
                 absence_reasons[w->absence->reason]);
    if (w->logged)
        text_add(text, "%s%d day%s logged", text->length ? ", " : "", w->logged,
                 w->logged == 1 ? "" : "s");
    if (!text->length)
        text_add(text, "usual week");
}

static void week_row(const WeeksAhead *a, const WeekAhead *w, Grid *grid) {
    char day[DATE_TEXT];
    Text what = {0};
    say_what(w, &what);
    grid_cell(grid, "%s", date_write_short(day, w->monday));
    if (isfinite(w->load))
        grid_cell(grid, "%.*f", a->usual < 30, w->load);
    else
        grid_cell(grid, "?");
    if (isfinite(w->load) && a->usual > 0)
        grid_cell(grid, "%.0f", 100 * w->load / a->usual);
    else
        grid_cell(grid, "-");
    if (isfinite(w->rise))
        grid_cell(grid, "%+.0f", round(100 * w->rise) + 0.0); /* no -0 */
    else
        grid_cell(grid, "-");
    grid_cell(grid, "%s", text_of(&what));
    text_free(&what);
}

static void print_weeks(const WeeksAhead *a, FILE *to) {
    static const GridColumn columns[] = {
        {"week from", false},
        {"load", true},
        {"% of\nusual", true},
        {"% against heaviest\nof the 4 before", true},
        {"", false}};
    Grid grid;
    grid_start(&grid, columns, 5);
    for (size_t i = 0; i < a->count; i++)
        week_row(a, &a->weeks[i], &grid);
    grid_fit(&grid, to, DOCUMENT_WIDTH);
    grid_free(&grid);
}

/* The first week that rises much, and how many do. */
static void tell_rises(const WeeksAhead *a, FILE *to) {
    const WeekAhead *first = NULL;
    char day[DATE_TEXT];
    Text text = {0};
    size_t count = 0;
    for (size_t i = 0; i < a->count; i++)
        if (weeks_ahead_rises(&a->weeks[i])) {
            first = first ? first : &a->weeks[i];
            count++;
        }
    if (!first)
        return;
    text_add(&text,
             "Look at: the week from %s is %.0f %% above the heaviest of the "
             "four before",
             date_write_short(day, first->monday), 100 * first->rise);
    if (count > 1)
        text_add(&text, ", and %zu more rise%s so much", count - 1,
                 count == 2 ? "s" : "");
    text_add(&text, "; over 15 %% is a lot.");
    print_wrapped(to, text_of(&text), DOCUMENT_WIDTH, 0);
    text_free(&text);
}

static void tell_low(const WeeksAhead *a, FILE *to) {
    size_t at = weeks_ahead_low(a, 0);
    char day[DATE_TEXT];
    Text text = {0};
    if (at == a->count)
        return;
    text_add(&text,
             "Look at: from %s three of four weeks or more are under half of "
             "the usual week; so long a spell costs fitness, and no taper "
             "needs it.",
             date_write_short(day, a->weeks[at].monday));
    print_wrapped(to, text_of(&text), DOCUMENT_WIDTH, 0);
    text_free(&text);
}

static void print_legend(const Context *d, FILE *to) {
    Text text = {0};
    text_add(&text,
             "Load: %s, as planned before any taper%s. 15 %% and half of the "
             "usual week are common practice, no source. A minor, or one back "
             "from illness or injury, builds up as a physician allows.",
             load_method_unit(d->season->method),
             d->season->handed_count ? "; days of the plan handed out as it "
                                       "says"
                                     : "");
    fputc('\n', to);
    print_wrapped(to, text_of(&text), DOCUMENT_WIDTH, 0);
    text_free(&text);
}

void ahead_text_present(const Context *d, const WeeksAhead *ahead,
                        const Output *o) {
    size_t shown = 0;
    if (o->csv)
        output_header(o, "athlete,week,logged_days,load,percent_of_usual,"
                         "percent_over_4_weeks,block,event,absence");
    for (size_t i = 0; i < d->chosen_count; i++) {
        const char *name = d->season->athletes[d->chosen[i]].name;
        if (o->csv)
            csv_weeks(&ahead[i], name, o->to);
        if (o->csv || ahead[i].count == 0)
            continue;
        fputs(shown++ ? "\n" : "", o->to);
        print_shown_line(o->to, name);
        print_weeks(&ahead[i], o->to);
        tell_rises(&ahead[i], o->to);
        tell_low(&ahead[i], o->to);
    }
    if (!o->csv)
        print_legend(d, o->to);
}
