/* review_text: see review_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/review_text.h"

#include "output/footer.h"
#include "output/words.h"
#include "present/document.h"

#include <math.h>

/* ---- CSV ---- */

static void row(const Review *r, const char *quantity, double planned,
                double done, const char *unit, const char *week, FILE *to) {
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, r->name);
    csv_text(&csv, quantity);
    csv_number(&csv, planned);
    csv_number(&csv, done);
    csv_text(&csv, unit ? unit : "");
    csv_text(&csv, week);
    csv_end(&csv);
}

static void csv_weeks(const Review *r, FILE *to) {
    for (size_t i = 0; i < r->weeks; i++) {
        const ReviewWeek *w = &r->week[i];
        char day[DATE_TEXT];
        date_write(day, w->monday);
        row(r, "sessions", w->sessions[0], w->sessions[1], "", day, to);
        row(r, "minutes", w->minutes[0], w->minutes[1], "min", day, to);
        row(r, "load", w->load[0], w->load[1], "load", day, to);
        row(r, "sets", w->sets, NAN, "", day, to);
    }
}

void review_text_csv(const Reviews *all, const Output *o) {
    output_header(o, "athlete,quantity,planned,done,unit,week");
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        csv_weeks(r, o->to);
        row(r, "readiness", r->forecast, r->now, r->unit, "", o->to);
        row(r, "forecast", r->forecast, NAN, r->unit, "", o->to);
        row(r, "low", r->low, NAN, r->unit, "", o->to);
        row(r, "high", r->high, NAN, r->unit, "", o->to);
        row(r, "outcome", NAN, r->measured ? r->outcome : NAN, r->unit, "",
            o->to);
        row(r, "error", NAN, r->measured ? r->outcome - r->forecast : NAN,
            r->unit, "", o->to);
        row(r, "typical_error", NAN, r->typical_error, r->unit, "", o->to);
        row(r, "worthwhile", NAN, r->worthwhile, r->unit, "", o->to);
        row(r, "chance_better", NAN, r->chance_better, "", "", o->to);
    }
}

/* ---- text ---- */

/* What the squad's outcomes add up to. */
typedef struct {
    size_t measured, inside;
    size_t judged, likely, unlikely; /* better by more than is worthwhile */
    double error;                    /* mean, as higher is better */
    double noise;                    /* the test's typical error */
    double planned, done;
} Sum;

#define LIKELY .75

static Sum sum_of(const Reviews *all) {
    Sum s = {0};
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        s.planned += r->total[0];
        s.done += r->total[1];
        if (!r->measured || isnan(r->forecast))
            continue;
        s.measured++;
        s.inside += review_inside(r);
        s.noise = r->typical_error;
        s.judged += isfinite(r->chance_better);
        s.likely += r->chance_better > LIKELY;
        s.unlikely += r->chance_better < 1 - LIKELY;
        s.error +=
            r->lower ? r->forecast - r->outcome : r->outcome - r->forecast;
    }
    s.error = s.measured && all->one_unit ? s.error / (double)s.measured : NAN;
    return s;
}

static void add_changed(const Sum *s, Text *text) {
    if (s->judged == 0)
        text_add(text, "Whether anybody changed by more than the test's own "
                       "noise cannot be told from so few tests. ");
    else if (s->measured == 1)
        text_add(text,
                 "That the change for the better is real and worthwhile is "
                 "%s. ",
                 s->likely     ? "likely (a chance of over 75 %)"
                 : s->unlikely ? "unlikely (a chance of under 25 %)"
                               : "open (a chance of 25 to 75 %)");
    else
        text_add(text,
                 "A change for the better that is real and worthwhile is "
                 "likely (a chance of over 75 %%) for %zu, unlikely (under "
                 "25 %%) for %zu, open for %zu. ",
                 s->likely, s->unlikely, s->judged - s->likely - s->unlikely);
    text_add(text, "There was no control group, so whether the plan brought it "
                   "cannot be told.");
}

static void add_outcome(const Sum *s, Text *text) {
    char error[FIGURE_TEXT];
    if (s->measured == 1)
        text_add(text, "The outcome lies %s the range that was forecast",
                 s->inside ? "inside" : "outside");
    else
        text_add(text,
                 "%zu of %zu outcomes lie inside the range that was forecast",
                 s->inside, s->measured);
    if (isfinite(s->error))
        text_add(text, ", %s%s than forecast by %s",
                 s->measured > 1 ? "on average " : "",
                 s->error >= 0 ? "better" : "worse",
                 words_figure(error, fabs(s->error),
                              isfinite(s->noise) ? s->noise : s->error));
    text_add(text, ". ");
    add_changed(s, text);
}

/* `of`: what the share is of. */
static void add_advice(double share, const char *of, Text *text) {
    if (isnan(share))
        text_add(text, "No day of it is logged yet.");
    else if (share > 115)
        text_add(text,
                 "That is more than %s: taper says what it costs, and "
                 "whether to plan anew.",
                 of);
    else if (share < 85)
        text_add(text,
                 "That is less than %s. What was missed is not added "
                 "back; taper says whether to plan anew.",
                 of);
    else
        text_add(text, "Carry on.");
}

static void add_lead(const Reviews *all, const Sum *s, Document *doc) {
    double share = s->planned > 0 ? 100 * s->done / s->planned : NAN;
    const char *of = all->item[0].planned ? "planned" : "usual";
    Text text = {0};
    if (isfinite(share))
        text_add(&text, "%.0f %% of the %s load was done. ", share, of);
    if (s->measured > 0)
        add_outcome(s, &text);
    else if (all->over && all->item[0].event)
        text_add(&text, "No test was made at the event or in the two weeks "
                        "after it, so whether it worked cannot be told.");
    else
        add_advice(share, of, &text);
    document_words(doc, WORDS_LEAD, "%s", text_of(&text));
    text_free(&text);
}

static void figure_cell(Grid *grid, double value, double scale) {
    char text[FIGURE_TEXT];
    grid_cell(grid, "%s",
              isfinite(value) ? words_figure(text, value, scale) : "-");
}

static void range_cell(Grid *grid, const Review *r, double scale) {
    char low[FIGURE_TEXT], high[FIGURE_TEXT];
    if (isfinite(r->low))
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
static bool foretold(const Reviews *all) {
    for (size_t i = 0; i < all->count; i++)
        if (isfinite(all->item[i].forecast) || isfinite(all->item[i].now))
            return true;
    return false;
}

static void outcomes_start(Grid *grid, const Reviews *all, bool measured) {
    static const GridColumn usual[] = {
        {"athlete", false},    {"load\nusual", true},
        {"done", true},        {"forecast\nthen", true},
        {"90 %\nrange", true}, {"expected\nnow", true}};
    static const GridColumn before[] = {
        {"athlete", false},    {"load\nplanned", true},
        {"done", true},        {"forecast\nthen", true},
        {"90 %\nrange", true}, {"expected\nnow", true}};
    static const GridColumn after[] = {
        {"athlete", false},
        {"load\nplanned", true},
        {"done", true},
        {"forecast", true},
        {"90 %\nrange", true},
        {"measured", true},
        {"chance of a\nworthwhile change", true}};
    if (measured)
        grid_start(grid, after, 7);
    else
        grid_start(grid, all->item[0].planned ? before : usual,
                   foretold(all) ? 6 : 3);
}

static void add_outcomes(const Reviews *all, bool measured, Document *doc) {
    Grid grid;
    outcomes_start(&grid, all, measured);
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        double scale = isfinite(r->high) ? r->high - r->low : 1;
        grid_cell(&grid, "%s", r->name);
        grid_cell(&grid, "%.0f", r->total[0]);
        grid_cell(&grid, "%.0f", r->total[1]);
        if (!measured && !foretold(all))
            continue;
        figure_cell(&grid, r->forecast, scale);
        range_cell(&grid, r, scale);
        if (measured) {
            figure_cell(&grid, r->measured ? r->outcome : NAN, scale);
            chance_cell(&grid, r);
        } else {
            figure_cell(&grid, r->now, scale);
        }
    }
    document_table(doc, &grid, "");
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
        {"done", true},     {"sets\nusual", true}};
    Grid grid;
    grid_start(&grid, r->planned ? planned : usual, 8);
    for (size_t i = 0; i < r->weeks; i++) {
        const ReviewWeek *w = &r->week[i];
        char day[DATE_TEXT];
        grid_cell(&grid, "%s", date_write_short(day, w->monday));
        for (int k = 0; k < 2; k++)
            grid_cell(&grid, "%.0f", w->sessions[k]);
        for (int k = 0; k < 2; k++)
            grid_cell(&grid, "%.0f", w->minutes[k]);
        for (int k = 0; k < 2; k++)
            grid_cell(&grid, "%.0f", w->load[k]);
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

static void add_noise(const Reviews *all, const Sum *s, Document *doc) {
    char error[FIGURE_TEXT], worth[FIGURE_TEXT];
    for (size_t i = 0; i < all->count; i++)
        if (isfinite(all->item[i].typical_error) && !told_before(all, i))
            document_words(doc, WORDS_ITEM,
                           "%s: typical error %s, smallest worthwhile change "
                           "%s.",
                           all->item[i].unit,
                           words_figure(error, all->item[i].typical_error,
                                        10 * all->item[i].typical_error),
                           words_figure(worth, all->item[i].worthwhile,
                                        10 * all->item[i].typical_error));
    if (s->measured > 0)
        document_words(doc, WORDS_ITEM,
                       "What cannot be known: what had come without the "
                       "taper. Who tested badly before tends to test better "
                       "anyway (regression to the mean), and so does who is "
                       "tested again (practice).");
    if (s->measured > 0)
        document_words(doc, WORDS_ITEM,
                       "Next time: these tests count from now on; fit says "
                       "how the models moved, taper what it would be now.");
}

void review_text_notes(Document *doc) {
    document_open(doc, BLOCK_NOTES, NULL, "Assumptions, method, sources");
    document_words(
        doc, WORDS_PLAIN,
        "Planned and done: the days that are logged. The forecast is that of "
        "the day on which the plan was "
        "issued, from what was logged and tested until then; an absence that "
        "began later changes neither it nor what was planned. Its "
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
                 first->event ? " for " : "",
                 first->event ? first->event->name : "");
    else
        text_add(title, "No plan was handed out: %s%s beside the usual ones",
                 all->over && first->event ? "the four weeks before "
                                           : "the last four weeks",
                 all->over && first->event ? first->event->name : "");
}

void review_text_body(const Reviews *all, Document *doc) {
    const Review *first = &all->item[0];
    Sum sum = sum_of(all);
    add_lead(all, &sum, doc);
    add_outcomes(all, sum.measured > 0, doc);
    if (all->count == 1)
        review_text_weeks(first, doc);
    if (first->planned && !first->event)
        document_words(doc, WORDS_ITEM,
                       "The event that the plan leads to is in events.csv no "
                       "more: cancelled, or under another name. What was "
                       "trained is told, no outcome.");
    add_late(all, doc);
    add_noise(all, &sum, doc);
}

void review_text(const Context *d, const Reviews *all, const Output *o) {
    Document doc = {0};
    Text title = {0};
    review_text_title(all, &title);
    document_title(&doc, "%s.", text_of(&title));
    review_text_body(all, &doc);
    if (all->count > 1)
        document_words(&doc, WORDS_ITEM, "Week by week: --athlete ID.");
    footer_caution(d, &doc);
    review_text_notes(&doc);
    output_document(o, &doc);
    text_free(&title);
}
