/* event_days_text: see event_days_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/event_days_text.h"

#include "answers/recovery.h"
#include "output/words.h"
#include "present/grid.h"

#include <math.h>

enum { DAYS_SHOWN = 3 }; /* in the answer; longer events in the notes alone */

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
    grid_cell(grid, "%s", words_level(one, c, v->mean[step], scale));
    if (isfinite(low) && case_has_figures(c))
        grid_cell(grid, "%s to %s", words_figure(one, fmin(low, high), scale),
                  words_figure(other, fmax(low, high), scale));
    else
        grid_cell(grid, "-");
}

/* A gain; without figures its share of the largest possible. */
static void cell_gain(Grid *grid, const BestTaper *v, double gain) {
    char number[FIGURE_TEXT];
    grid_cell(grid, "%s%s", gain >= 0 ? "+" : "",
              case_has_figures(v->c)
                  ? words_figure(number, gain, best_taper_scale(v))
                  : words_percent(number, search_share(gain, v->possible)));
}

static void add_sessions(const BestTaper *v, Grid *grid, Document *doc) {
    document_table(doc, grid,
                   case_has_figures(v->c)
                       ? ""
                       : "No test of their own tells the level of readiness; "
                         "gain: share of the largest gain possible at the "
                         "event as a whole.");
}

static const char *with_what(const BestTaper *v) {
    return best_taper_stands(v) ? "with the plan\nhanded out"
                                : "with the\ntaper";
}

static void add_table(const BestTaper *v, const Recovery *w, Document *doc) {
    const GridColumn columns[] = {{"readiness before\nthe session of", false},
                                  {"no\ntaper", true},
                                  {"90 %\nrange", true},
                                  {with_what(v), true},
                                  {"90 %\nrange", true},
                                  {"gain", true}};
    const Outlook *o = &v->c->outlook;
    double scale = best_taper_scale(v);
    Grid grid;
    grid_start(&grid, columns, 6);
    for (size_t i = 0; i < o->session_count; i++) {
        size_t step = o->session[i].step;
        Text text = {0};
        session_words(o, i, &text);
        grid_cell(&grid, "%s", text_of(&text));
        cell_band(&grid, v->c, &w->none, step, scale);
        cell_band(&grid, v->c, &w->taper, step, scale);
        cell_gain(&grid, v, w->taper.mean[step] - w->none.mean[step]);
        text_free(&text);
    }
    add_sessions(v, &grid, doc);
}

/* The day's session with the least readiness with the taper. */
static size_t least_of_day(const Outlook *o, const Recovery *w, size_t from) {
    size_t least = from;
    for (size_t i = from; i < o->session_count; i++)
        if (o->session[i].day == o->session[from].day &&
            w->taper.mean[o->session[i].step] <
                w->taper.mean[o->session[least].step])
            least = i;
    return least;
}

/* One row a day. */
static void add_days_table(const BestTaper *v, const Recovery *w,
                           Document *doc) {
    const GridColumn columns[] = {{"least readiness\nof the day", false},
                                  {"no\ntaper", true},
                                  {with_what(v), true},
                                  {"90 %\nrange", true},
                                  {"gain", true}};
    const Outlook *o = &v->c->outlook;
    double scale = best_taper_scale(v);
    Grid grid;
    grid_start(&grid, columns, 5);
    for (size_t i = 0; i < o->session_count; i++) {
        size_t step = o->session[least_of_day(o, w, i)].step;
        double none = w->none.mean[step];
        char day[DATE_TEXT], number[FIGURE_TEXT];
        if (i > 0 && o->session[i].day == o->session[i - 1].day)
            continue;
        grid_cell(&grid, "%s",
                  date_write_short(day, o->first + (Date)o->session[i].day));
        grid_cell(&grid, "%s", words_level(number, v->c, none, scale));
        cell_band(&grid, v->c, &w->taper, step, scale);
        cell_gain(&grid, v, w->taper.mean[step] - none);
    }
    add_sessions(v, &grid, doc);
}

/* What of the table is assumed. */
static void add_assumed(const BestTaper *v, Document *doc) {
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
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_free(&text);
}

/* The session at which readiness is lowest under the recommended taper. */
static void add_lowest(const BestTaper *v, const Recovery *w, Document *doc) {
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
        if (case_has_figures(v->c)) {
            text_add(&text, ", %s below the first ",
                     words_figure(fall,
                                  w->taper.mean[o->session[0].step] -
                                      w->taper.mean[o->session[lowest].step],
                                  best_taper_scale(v)));
            words_unit(v->c, &text);
        }
        text_add(&text, ".");
    }
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&text);
}

/* ---- after the event ---- */

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
    text_add(text, " (90 %% range ");
    if (low == high)
        add_days(text, high, last);
    else if (high == RECOVERY_NEVER)
        text_add(text, "%d to more than %d days", low, last);
    else
        text_add(text, "%d to %d", low, high);
    text_add(text, ")");
}

static void add_back(const BestTaper *v, const Recovery *w, Document *doc) {
    const Case *c = v->c;
    int last = recovery_free_days(v);
    int days = recovery_day(v, w->taper.mean, 1, w->level, last);
    Text text = {0};
    char day[DATE_TEXT];
    if (last == 0)
        return;
    text_add(&text, "Readiness is back to usual ");
    if (days == RECOVERY_NEVER) {
        text_add(&text, "after more than %d days", last);
    } else {
        text_add(&text, "after ");
        add_days(&text, days, last);
        text_add(
            &text, ", %s",
            date_write_short(day, c->event->start + c->event->days - 1 + days));
    }
    add_range(v, last, &text);
    document_words(doc, WORDS_ITEM, "%s.", text_of(&text));
    text_free(&text);
}

static void add_level(const BestTaper *v, Document *doc) {
    int last = recovery_free_days(v);
    if (last < OUTLOOK_TAIL)
        document_words(doc, WORDS_PLAIN,
                       "The next event begins %d day%s after this one.", last,
                       last == 1 ? "" : "s");
    document_words(doc, WORDS_PLAIN,
                   "The usual level after the event is readiness on its first "
                   "morning without a taper, on the usual week; the model "
                   "knows no soreness or injury.");
}

void event_days_text_add(const BestTaper *v, Document *doc) {
    const Outlook *o = &v->c->outlook;
    Recovery w;
    recovery_build(v, &w);
    if (o->event_days > 1 && o->event_days <= DAYS_SHOWN &&
        o->session_count > 1)
        add_days_table(v, &w, doc);
    else if (o->session_count > 1)
        add_lowest(v, &w, doc);
    add_back(v, &w, doc);
    recovery_free(&w);
}

void event_days_text_notes(const BestTaper *v, Document *doc) {
    const Outlook *o = &v->c->outlook;
    Recovery w;
    recovery_build(v, &w);
    if (o->session_count > 1)
        add_table(v, &w, doc);
    add_assumed(v, doc);
    add_level(v, doc);
    recovery_free(&w);
}
