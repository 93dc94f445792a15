/* event_days_text: see event_days_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/event_days_text.h"

#include "answers/recovery.h"
#include "output/words.h"
#include "present/grid.h"

#include <math.h>

static void session_words(const Outlook *o, size_t at, Text *text) {
    const OutlookSession *s = &o->session[at];
    char day[DATE_TEXT];
    text_add(text, "%s", date_write_short(day, o->first + (Date)s->day));
    if (s->minute >= 0)
        text_add(text, " %02d:%02d", s->minute / 60, s->minute % 60);
}

static void cell_band(Grid *grid, const Case *c, const Band *v, size_t step,
                      double scale) {
    double low = case_shown(c, v->low[step]),
           high = case_shown(c, v->high[step]);
    char one[FIGURE_TEXT], other[FIGURE_TEXT];
    grid_cell(grid, "%s",
              words_figure(one, case_shown(c, v->mean[step]), scale));
    if (isfinite(low))
        grid_cell(grid, "%s to %s", words_figure(one, fmin(low, high), scale),
                  words_figure(other, fmax(low, high), scale));
    else
        grid_cell(grid, "-");
}

static void print_table(const BestTaper *v, const Recovery *w, FILE *to) {
    static const GridColumn columns[] = {{"before the\nsession of", false},
                                         {"no\ntaper", true},
                                         {"\n5-95 %", true},
                                         {"recom-\nmended", true},
                                         {"\n5-95 %", true},
                                         {"gain", true}};
    const Outlook *o = &v->c->outlook;
    double scale = best_taper_scale(v);
    Grid grid;
    grid_start(&grid, columns, 6);
    for (size_t i = 0; i < o->session_count; i++) {
        size_t step = o->session[i].step;
        double gain = w->taper.mean[step] - w->none.mean[step];
        char number[FIGURE_TEXT];
        Text text = {0};
        session_words(o, i, &text);
        grid_cell(&grid, "%s", text_of(&text));
        cell_band(&grid, v->c, &w->none, step, scale);
        cell_band(&grid, v->c, &w->taper, step, scale);
        grid_cell(&grid, "%s%s", gain >= 0 ? "+" : "",
                  words_figure(number, gain, scale));
        text_free(&text);
    }
    grid_print(&grid, to, 20);
    grid_free(&grid);
}

/* What of the table is assumed. */
static void print_assumed(const BestTaper *v, FILE *to) {
    const Event *event = v->c->event;
    Text text = {0};
    if (event_minutes_taken(event))
        text_add(&text,
                 "Only the first start_time is given; the next session is "
                 "taken %d h later (\"09:00 15:30\" names each). ",
                 EVENT_APART / 60);
    else if (event->minute < 0 && event->sessions_per_day > 1)
        text_add(&text,
                 "%d sessions a day without a start_time: all fall at one "
                 "moment, so only the first is shown (\"09:00 15:30\" names "
                 "each). ",
                 event->sessions_per_day);
    if (event->sessions_per_day > 1 && v->c->outlook.event_load > 0)
        text_add(&text, "The day's load is shared out evenly among its "
                        "sessions.");
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

/* The session at which readiness is lowest under the recommended taper. */
static void print_lowest(const BestTaper *v, const Recovery *w, FILE *to) {
    const Outlook *o = &v->c->outlook;
    size_t lowest = 0;
    Text text = {0};
    char fall[FIGURE_TEXT];
    for (size_t i = 1; i < o->session_count; i++)
        if (w->taper.mean[o->session[i].step] <
            w->taper.mean[o->session[lowest].step])
            lowest = i;
    if (lowest == 0) {
        text_add(&text, "The first session is the one with the least "
                        "readiness.");
    } else {
        text_add(&text, "Readiness is least before the session of ");
        session_words(o, lowest, &text);
        text_add(&text, ", %s below the first.",
                 words_figure(fall,
                              w->taper.mean[o->session[0].step] -
                                  w->taper.mean[o->session[lowest].step],
                              best_taper_scale(v)));
    }
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void add_days(Text *text, int days, int last) {
    if (days == RECOVERY_NEVER)
        text_add(text, "more than %d days", last);
    else
        text_add(text, "%d day%s", days, days == 1 ? "" : "s");
}

static void add_range(const BestTaper *v, int last, Text *text) {
    int low, high;
    if (!recovery_range(v, last, &low, &high))
        return;
    text_add(text, " (5-95 %% of the likely models: ");
    add_days(text, low, last);
    if (low != high) {
        text_add(text, " to ");
        add_days(text, high, last);
    }
    text_add(text, ")");
}

static void print_back(const BestTaper *v, const Recovery *w, FILE *to) {
    const Case *c = v->c;
    int last = recovery_free_days(v);
    int days = recovery_day(v, w->taper.mean, 1, w->level, last);
    Text text = {0};
    char day[DATE_TEXT];
    if (last == 0)
        return;
    text_add(&text, "After the event, on the usual week, readiness is back at "
                    "the level of normal training ");
    if (days == RECOVERY_NEVER) {
        text_add(&text, "after more than %d days", last);
    } else {
        text_add(&text, "after ");
        add_days(&text, days, last);
        text_add(
            &text, ", on %s",
            date_write_short(day, c->event->start + c->event->days - 1 + days));
    }
    add_range(v, last, &text);
    if (last < OUTLOOK_TAIL)
        text_add(&text, "; the next event begins %d day%s after this one", last,
                 last == 1 ? "" : "s");
    text_add(&text, ". That level is readiness on the event's first morning "
                    "without a taper; the model knows no soreness or injury.");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

void event_days_text_print(const BestTaper *v, FILE *to) {
    const Outlook *o = &v->c->outlook;
    Recovery w;
    recovery_build(v, &w);
    if (o->session_count > 1) {
        fputs("\nReadiness before each session of the event:\n\n", to);
        print_table(v, &w, to);
        fputc('\n', to);
        print_lowest(v, &w, to);
    }
    print_assumed(v, to);
    print_back(v, &w, to);
    recovery_free(&w);
}
