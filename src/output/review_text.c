/* review_text: see review_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/review_text.h"

#include "output/footer.h"
#include "output/review_lead.h"
#include "output/words.h"
#include "present/document.h"

#include <math.h>

/* ---- CSV ---- */

/* `from`: where a forecast is from; else "". */
static void row(const Review *r, const char *quantity, double planned,
                double done, const char *unit, const ReviewWeek *week,
                const char *from, FILE *to) {
    Csv csv;
    char day[DATE_TEXT];
    csv_begin(&csv, to);
    csv_text(&csv, r->name);
    csv_text(&csv, quantity);
    csv_number(&csv, planned);
    csv_number(&csv, done);
    csv_text(&csv, unit ? unit : "");
    csv_text(&csv, week ? date_write(day, week->monday) : "");
    csv_number(&csv, week ? (double)week->days : NAN);
    csv_text(&csv, from);
    csv_end(&csv);
}

static void csv_weeks(const Review *r, FILE *to) {
    for (size_t i = 0; i < r->weeks; i++) {
        const ReviewWeek *w = &r->week[i];
        row(r, "sessions", w->sessions[0], w->sessions[1], "", w, "", to);
        row(r, "minutes", w->minutes[0], w->minutes[1], "min", w, "", to);
        row(r, "load", w->load[0], w->load[1], "load", w, "", to);
        row(r, "sets", w->sets, NAN, "", w, "", to);
    }
}

static const char *file_of(const Review *r) {
    return r->file ? r->file : "plan.csv";
}

static void csv_forecast(const Review *r, FILE *to) {
    const char *from = isnan(r->forecast) ? "" : r->kept ? file_of(r) : "now";
    row(r, "readiness", r->forecast, r->now, r->unit, NULL, from, to);
    row(r, "forecast", r->forecast, NAN, r->unit, NULL, from, to);
    row(r, "low", r->low, NAN, r->unit, NULL, from, to);
    row(r, "high", r->high, NAN, r->unit, NULL, from, to);
}

static void csv_outcome(const Review *r, FILE *to) {
    double outcome = r->measured ? r->outcome : NAN;
    row(r, "outcome", NAN, outcome, r->unit, NULL, "", to);
    row(r, "error", NAN, outcome - r->forecast, r->unit, NULL, "", to);
    row(r, "typical_error", NAN, r->noise.typical_error, r->unit, NULL, "", to);
    row(r, "worthwhile", NAN, r->noise.worthwhile, r->unit, NULL, "", to);
    row(r, "chance_better", NAN, r->chance_better, "", NULL, "", to);
}

void review_text_csv(const Reviews *all, const Output *o) {
    output_header(o, "athlete,quantity,planned,done,unit,week,days,"
                     "forecast_from");
    for (size_t i = 0; i < all->count; i++) {
        csv_weeks(&all->item[i], o->to);
        csv_forecast(&all->item[i], o->to);
        csv_outcome(&all->item[i], o->to);
    }
}

/* ---- text ---- */

static void figure_cell(Grid *grid, double value, double scale) {
    char text[FIGURE_TEXT];
    grid_cell(grid, "%s",
              isfinite(value) ? words_figure(text, value, scale) : "-");
}

static void range_cell(Grid *grid, const Review *r, double scale) {
    char low[FIGURE_TEXT], high[FIGURE_TEXT];
    if (isfinite(r->low) && review_foretold(r))
        grid_cell(grid, "%s to %s", words_figure(low, r->low, scale),
                  words_figure(high, r->high, scale));
    else
        grid_cell(grid, "-");
}

static void chance_cell(Grid *grid, const Review *r) {
    if (isfinite(r->chance_better))
        grid_cell(grid, "%.0f of 100", 100 * r->chance_better);
    else
        grid_cell(grid, "-");
}

/* Is anything forecast? */
static bool any_foretold(const Reviews *all) {
    for (size_t i = 0; i < all->count; i++)
        if (review_foretold(&all->item[i]))
            return true;
    return false;
}

static void add_outcomes(const Reviews *all, bool measured, Document *doc) {
    const GridColumn columns[] = {
        {"athlete", false},
        {all->item[0].planned ? "load\nplanned" : "load\nusual", true},
        {"done", true},
        {measured ? "forecast" : "forecast\nthen", true},
        {"90 %\nrange", true},
        {measured ? "measured" : "expected\nnow", true},
        {"chance of a\nworthwhile change", true}};
    Grid grid;
    grid_start(&grid, columns, measured ? 7 : any_foretold(all) ? 6 : 3);
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        bool told = review_foretold(r);
        double scale = isfinite(r->high) ? 10 * (r->high - r->low) : 1;
        grid_cell(&grid, "%s", r->name);
        for (int k = 0; k < 2; k++)
            grid_cell(&grid, r->weeks > 0 ? "%.0f" : "-", r->total[k]);
        if (!measured && !any_foretold(all))
            continue;
        figure_cell(&grid, told ? r->forecast : NAN, scale);
        range_cell(&grid, r, scale);
        if (measured) {
            grid_cell(&grid, r->measured ? "%.4g" : "-", r->outcome);
            chance_cell(&grid, r);
        } else {
            figure_cell(&grid, told ? r->now : NAN, scale);
        }
    }
    document_table(doc, &grid, "");
}

/* Sets are told where some are planned. */
static bool has_sets(const Review *r) {
    double sets = 0;
    for (size_t i = 0; i < r->weeks; i++)
        sets += r->week[i].sets;
    return sets > 0;
}

/* "Mon 30 Nov (1 of 7 days)" */
static void week_cell(Grid *grid, const ReviewWeek *w) {
    char day[DATE_TEXT];
    date_write_short(day, w->monday);
    if (w->days < 7)
        grid_cell(grid, "%s (%d of 7 days)", day, w->days);
    else
        grid_cell(grid, "%s", day);
}

void review_text_weeks(const Review *r, Document *doc) {
    static const GridColumn planned[] = {
        {"week of", false}, {"sessions\nplanned", true},
        {"done", true},     {"min\nplanned", true},
        {"done", true},     {"load\nplanned", true},
        {"done", true},     {"sets\nplanned", true}};
    static const GridColumn usual[] = {
        {"week of", false}, {"sessions\nusual", true},
        {"done", true},     {"min\nusual", true},
        {"done", true},     {"load\nusual", true},
        {"done", true}};
    Grid grid;
    bool sets = has_sets(r);
    grid_start(&grid, r->planned ? planned : usual, sets ? 8 : 7);
    for (size_t i = 0; i < r->weeks; i++) {
        const ReviewWeek *w = &r->week[i];
        if (w->days < 7 && w->sessions[0] + w->sessions[1] == 0)
            continue; /* the plan's first days, of rest */
        week_cell(&grid, w);
        for (int k = 0; k < 2; k++)
            grid_cell(&grid, "%.0f", w->sessions[k]);
        for (int k = 0; k < 2; k++)
            grid_cell(&grid, "%.0f", w->minutes[k]);
        for (int k = 0; k < 2; k++)
            grid_cell(&grid, "%.0f", w->load[k]);
        if (sets)
            grid_cell(&grid, "%.0f", w->sets);
    }
    document_table(doc, &grid, "");
}

/* The test of an athlete before is the same. */
static bool told_before(const Reviews *all, size_t at) {
    for (size_t i = 0; i < at; i++)
        if (all->item[i].unit &&
            text_same(all->item[i].unit, all->item[at].unit))
            return true;
    return false;
}

/* Whose log ends before the others'. */
static void add_unlogged(const Reviews *all, Document *doc) {
    Text text = {0};
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        char day[DATE_TEXT];
        if (!(r->open > 0))
            continue;
        text_add(&text, "%s%s", text.length ? ", " : "", r->name);
        if (r->logged != DATE_NONE)
            text_add(&text, " (until %s)", date_write_short(day, r->logged));
    }
    if (text.length > 0)
        document_words(doc, WORDS_ITEM,
                       "The log ends before the others' for %s: what was %s "
                       "for the days since counts as not done.",
                       text_of(&text),
                       all->item[0].planned ? "planned" : "usual");
    text_free(&text);
}

static bool is_outside(const Review *r) {
    return r->outside;
}

/* A plan was handed out to them, without a forecast of this event's day. */
static bool is_anew(const Review *r) {
    return r->planned && !r->outside && !r->kept && isfinite(r->forecast);
}

/* Names of those that are so, appended; how many? */
static size_t names_of(const Reviews *all, bool (*so)(const Review *),
                       Text *text) {
    size_t count = 0;
    for (size_t i = 0; i < all->count; i++)
        if (so(&all->item[i]))
            text_add(text, "%s%s", count++ ? ", " : "", all->item[i].name);
    return count;
}

/* Some plans were made anew since. */
static void add_older(const Reviews *all, Document *doc) {
    char day[DATE_TEXT];
    size_t older = 0;
    for (size_t i = 0; i < all->count; i++)
        older += all->item[i].older;
    if (older > 0)
        document_words(doc, WORDS_ITEM,
                       "%zu of %zu plans were handed out before %s: planned "
                       "and done are compared from the day after it for all; "
                       "a forecast that %s holds is of its own day.",
                       older, all->count,
                       date_write_short(day, all->item[0].issued),
                       file_of(&all->item[0]));
}

/* Whose plan or forecast is none of the day of issue. */
static void add_unrecorded(const Reviews *all, Document *doc) {
    Text outside = {0}, anew = {0};
    char day[DATE_TEXT];
    date_write_short(day, all->item[0].issued);
    if (names_of(all, is_outside, &outside) > 0)
        document_words(doc, WORDS_ITEM,
                       "The plan handed out has no days of %s: their usual "
                       "weeks stand as planned.",
                       text_of(&outside));
    if (names_of(all, is_anew, &anew) > 0)
        document_words(doc, WORDS_ITEM,
                       "%s holds no forecast of this event for %s: it is "
                       "computed now, so what was typed in since for days "
                       "until %s has moved it.",
                       file_of(&all->item[0]), text_of(&anew), day);
    text_free(&outside);
    text_free(&anew);
}

static bool is_alone(const Review *r) {
    return r->measured && !review_foretold(r);
}

static bool is_vague(const Review *r) {
    return r->vague;
}

static bool is_other(const Review *r) {
    return !r->measured && r->other;
}

static bool is_from_older(const Review *r) {
    return r->file;
}

/* The plan of some is an older one. */
static void add_kept(const Reviews *all, Document *doc) {
    Text who = {0};
    size_t i = 0, count = names_of(all, is_from_older, &who);
    while (i < all->count && !all->item[i].file)
        i++;
    if (count > 0)
        document_words(doc, WORDS_ITEM,
                       "plan.csv is for another event%s%s: the plan for %s and "
                       "its forecast are those of %s. On days that a later "
                       "plan told of, that one stands as planned.",
                       count < all->count ? " for " : "",
                       count < all->count ? text_of(&who) : "",
                       all->item[i].event->name, all->item[i].file);
    text_free(&who);
}

/* A plan handed out for one event is looked at before another. */
static void add_meant(const Context *d, const Reviews *all, Document *doc) {
    const Review *first = &all->item[0];
    char day[DATE_TEXT];
    if (first->meant)
        document_words(doc, WORDS_ITEM,
                       "The plan handed out is for %s, not for %s: from %s on "
                       "the usual week is taken.%s",
                       first->meant, first->event->name,
                       date_write_short(day, first->meant_until + 1),
                       d->question->event
                           ? " No plan-DATE.csv in the season's folder, as "
                             "--hand-out --replace keeps older plans, is for "
                             "it either."
                           : "");
}

/* Whose forecast says nothing. */
static void add_vague(const Reviews *all, Document *doc) {
    Text who = {0};
    if (names_of(all, is_vague, &who) > 0)
        document_words(doc, WORDS_ITEM,
                       "Too few tests for a forecast: %s. The 90 %% range "
                       "would be wider than half of the result itself.",
                       text_of(&who));
    text_free(&who);
}

/* Whose tests have nothing beside them. */
static void add_tested(const Reviews *all, Document *doc) {
    Text alone = {0}, other = {0};
    size_t i = 0;
    if (names_of(all, is_alone, &alone) > 0)
        document_words(doc, WORDS_ITEM,
                       "Tested, but without a forecast to set beside it: %s.",
                       text_of(&alone));
    while (i < all->count && !is_other(&all->item[i]))
        i++;
    if (names_of(all, is_other, &other) > 0)
        document_words(doc, WORDS_ITEM,
                       "Tested in another kind: %s; --test '%s' shows it.",
                       text_of(&other), all->item[i].other);
    text_free(&alone);
    text_free(&other);
}

/* Who was not there yet. */
static void add_joined(const Context *d, const Reviews *all, Document *doc) {
    Text text = {0};
    char day[DATE_TEXT];
    for (size_t i = 0; i < all->joined_count; i++)
        text_add(&text, "%s%s", i ? ", " : "",
                 d->season->athletes[all->joined[i]].name);
    if (all->joined_count > 0)
        document_words(doc, WORDS_ITEM,
                       "Not in this review: %s. Nothing is logged of them "
                       "until %s, %s.",
                       text_of(&text),
                       date_write_short(day, all->item[0].issued),
                       all->item[0].planned ? "when the plan was handed out"
                                            : "the day before its first");
    text_free(&text);
}

/* Tests too long after the event. */
static void add_late(const Reviews *all, Document *doc) {
    size_t count = 0;
    const Review *first = NULL;
    char day[DATE_TEXT];
    for (size_t i = 0; i < all->count; i++) {
        if (!all->item[i].late)
            continue;
        first = count++ ? first : &all->item[i];
    }
    if (count > 0)
        document_words(doc, WORDS_ITEM,
                       "%zu of %zu were tested too late to tell what the plan "
                       "did: %s on %s, %d days after the event began.",
                       count, all->count, first->name,
                       date_write_short(day, first->measured_on),
                       (int)(first->measured_on - first->event->start));
}

static void add_errors(const Review *r, Document *doc) {
    char number[FIGURE_TEXT];
    double scale = 10 * r->noise.typical_error;
    Text text = {0};
    text_add(&text, "%s: typical error %s", r->unit,
             words_figure(number, r->noise.typical_error, scale));
    if (isfinite(r->noise.worthwhile))
        text_add(&text, ", smallest worthwhile change %s",
                 words_figure(number, r->noise.worthwhile, scale));
    if (isfinite(r->high))
        text_add(&text, ". The range told here is wider than the plan's, since "
                        "it counts the error of one test too");
    document_words(doc, WORDS_ITEM, "%s.", text_of(&text));
    text_free(&text);
}

static void add_noise(const Reviews *all, bool measured, Document *doc) {
    for (size_t i = 0; i < all->count; i++)
        if (isfinite(all->item[i].noise.typical_error) && !told_before(all, i))
            add_errors(&all->item[i], doc);
    if (measured)
        document_words(doc, WORDS_ITEM,
                       "What cannot be known: what had come without the "
                       "taper. Who tested badly before tends to test better "
                       "anyway (regression to the mean), and so does who is "
                       "tested again (practice).");
    if (measured)
        document_words(doc, WORDS_ITEM,
                       "Next time: these tests count from now on; fit says "
                       "how the models moved, taper what it would be now.");
}

void review_text_notes(Document *doc) {
    document_open(doc, BLOCK_NOTES, NULL, "Assumptions, method, sources");
    document_words(
        doc, WORDS_PLAIN,
        "Planned and done: the days that are logged, of both the same; a "
        "week of which fewer count says how many. The forecast is the one that "
        "the plan has held since it was handed out (plan.csv, or the older one "
        "kept for the event); where it holds none, "
        "it is computed now from what the files say of the days until then. An "
        "absence that began later changes neither it nor what was planned. Its "
        "range holds the test's noise. Measured: the first test at "
        "the event or in the 14 days after it. Typical error: SD of "
        "the differences of successive tests over the root of 2 "
        "(Hopkins 2000, Sports Med 30:1-15), or the one given. "
        "Smallest worthwhile change: .2 of the SD between athletes "
        "(Hopkins 2004, Sportscience 8:1-7). The chance is that of a true "
        "change above it, counted from the mean of the last three tests "
        "before the plan, each test having the typical error; where fewer "
        "than three athletes are tested it is not told.");
    document_close(doc, BLOCK_NOTES);
}

void review_text_title(const Reviews *all, Text *title) {
    const Review *first = &all->item[0];
    char day[DATE_TEXT];
    if (first->planned)
        text_add(title, "Review of the plan handed out on %s%s%s",
                 date_write_short(day, first->issued),
                 first->meant   ? ", on the way to "
                 : first->event ? " for "
                                : "",
                 first->event ? first->event->name : "");
    else
        text_add(title, "%s: %s%s beside the usual ones",
                 all->ignored ? "The plan handed out left aside"
                              : "No plan was handed out",
                 all->over && first->event ? "the four weeks before "
                                           : "the last four weeks",
                 all->over && first->event ? first->event->name : "");
}

void review_text_body(const Context *d, const Reviews *all, Document *doc) {
    const Review *first = &all->item[0];
    bool measured = review_lead_measured(all) > 0;
    review_lead(all, doc);
    add_outcomes(all, measured, doc);
    if (all->count == 1 && first->weeks > 0)
        review_text_weeks(first, doc);
    if (first->planned && !first->event)
        document_words(doc, WORDS_ITEM,
                       "The event that the plan leads to is in events.csv no "
                       "more: cancelled, or under another name. What was "
                       "trained is told, no outcome.");
    add_joined(d, all, doc);
    add_older(all, doc);
    add_meant(d, all, doc);
    add_kept(all, doc);
    add_unrecorded(all, doc);
    add_vague(all, doc);
    add_tested(all, doc);
    add_late(all, doc);
    add_unlogged(all, doc);
    add_noise(all, measured, doc);
}

void review_text(const Context *d, const Reviews *all, const Output *o) {
    Document doc = {0};
    Text title = {0};
    review_text_title(all, &title);
    document_title(&doc, "%s.", text_of(&title));
    review_text_body(d, all, &doc);
    if (all->count > 1)
        document_words(&doc, WORDS_ITEM, "Week by week: --athlete ID.");
    footer_caution(d, &doc);
    review_text_notes(&doc);
    output_document(o, &doc);
    text_free(&title);
}
