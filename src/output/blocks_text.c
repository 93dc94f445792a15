/* blocks_text: see blocks_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/blocks_text.h"

#include "output/footer.h"
#include "output/words.h"

#include <math.h>
#include <string.h>

#define OWN "own weeks"

/* Without the folders above it. */
static const char *file_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* ---- CSV ---- */

static void csv_way(const BlocksCompared *b, int i, const char *name,
                    FILE *to) {
    const Case *c = b->taper.c;
    const BlocksWay *way = &b->way[i];
    Text spec = {0};
    Csv csv;
    option_write(&b->option, &spec);
    csv_begin(&csv, to);
    csv_text(&csv, c->name);
    csv_text(&csv, c->event->name);
    csv_text(&csv, name);
    csv_number(&csv, case_shown(c, way->readiness));
    csv_number(&csv, way->low);
    csv_number(&csv, way->high);
    csv_number(&csv, i ? b->change : 0);
    csv_number(&csv, NAN);
    csv_number(&csv, NAN);
    csv_number(&csv, i ? b->better : NAN);
    csv_text(&csv, text_of(&spec));
    csv_number(&csv, i ? b->low : 0);
    csv_number(&csv, i ? b->high : 0);
    csv_number(&csv, way->load);
    csv_text(&csv, words_followed(&b->taper));
    csv_end(&csv);
    text_free(&spec);
}

void blocks_text_csv(const BlocksCompared *b, size_t count, const char *path,
                     const Output *o) {
    output_header(o, "athlete,event,option,readiness,low,high,gain,"
                     "share,kept,beats_none,spec,gain_low,gain_high,load,"
                     "followed");
    for (size_t i = 0; i < count; i++) {
        csv_way(&b[i], 0, OWN, o->to);
        csv_way(&b[i], 1, file_name(path), o->to);
    }
}

/* ---- text ---- */

/* How many are ahead with the other file, behind, and beyond doubt. */
typedef struct {
    size_t ahead, behind, sure;
    double low, high; /* chances of being ahead */
} Sides;

static Sides sides_of(const BlocksCompared *b, size_t count) {
    Sides s = {.low = 1};
    for (size_t i = 0; i < count; i++) {
        double least = 1e-9 * fabs(b[i].way[0].readiness);
        s.ahead += b[i].change > least;
        s.behind += b[i].change < -least;
        s.sure += b[i].low > 0 || b[i].high < 0;
        s.low = fmin(s.low, b[i].better);
        s.high = fmax(s.high, b[i].better);
    }
    return s;
}

static void add_chance(const Sides *s, const char *other, Text *text) {
    if (lround(100 * s->low) == lround(100 * s->high))
        text_add(text, "; %s is ahead in %.0f of 100 likely models", other,
                 100 * s->high);
    else
        text_add(text, "; %s is ahead in %.0f to %.0f of 100 likely models",
                 other, 100 * s->low, 100 * s->high);
    text_add(text, s->sure ? "."
                           : ": the difference is smaller than the "
                             "uncertainty.");
}

static void add_lead(const BlocksCompared *b, size_t count, const char *other,
                     Document *doc) {
    Sides s = sides_of(b, count);
    Text text = {0};
    if (s.ahead + s.behind == 0)
        text_add(&text,
                 "%s brings the same at the event as the season's own "
                 "weeks.",
                 other);
    else if (s.behind == count)
        text_add(&text,
                 "The season's own weeks bring more at the event than "
                 "%s",
                 other);
    else
        text_add(&text,
                 "%s brings more at the event than the season's own "
                 "weeks",
                 other);
    if (s.ahead > 0 && count > 1)
        text_add(&text, " for %zu of %zu", s.ahead, count);
    if (s.ahead + s.behind > 0 && isfinite(b[0].better))
        add_chance(&s, other, &text);
    else if (s.ahead + s.behind > 0)
        text_add(&text, ".");
    document_words(doc, WORDS_LEAD, "%s", text_of(&text));
    text_free(&text);
}

static void readiness_cell(Grid *grid, const BestTaper *v, double readiness) {
    char number[FIGURE_TEXT];
    grid_cell(grid, "%s",
              words_level(number, v->c, readiness, best_taper_scale(v)));
}

static void add_table(const BlocksCompared *b, size_t count, const char *other,
                      Document *doc) {
    Text load = {0}, readiness = {0};
    GridColumn columns[] = {{"athlete", false},   {"load,\n" OWN, true},
                            {"", true},           {"readiness,\n" OWN, true},
                            {"", true},           {"change", true},
                            {"90 %\nrange", true}};
    Grid grid;
    text_add(&load, "load,\n%s", other);
    text_add(&readiness, "readiness,\n%s", other);
    columns[2].title = text_of(&load);
    columns[4].title = text_of(&readiness);
    grid_start(&grid, columns, 7);
    for (size_t k = 0; k < count; k++) {
        const BestTaper *v = &b[k].taper;
        Spread change = {NAN, NAN, b[k].low, b[k].high, b[k].better};
        char gain[FIGURE_TEXT];
        grid_cell(&grid, "%s", v->c->name);
        for (int i = 0; i < 2; i++)
            grid_cell(&grid, "%.0f", b[k].way[i].load);
        for (int i = 0; i < 2; i++)
            readiness_cell(&grid, v, b[k].way[i].readiness);
        grid_cell(&grid, "%s", words_gain(gain, v, b[k].change));
        words_gain_cell(&grid, v, &change);
    }
    document_table(doc, &grid,
                   "Load from today to the event, with the taper; readiness at "
                   "the event.");
    text_free(&load);
    text_free(&readiness);
}

/* The first athlete's week that rises most, of those that rise much. */
static void add_rises(const BlocksCompared *b, size_t count, int i,
                      const char *name, Document *doc) {
    const WeekAhead *most = NULL;
    const Case *whose = NULL;
    char day[DATE_TEXT];
    for (size_t k = 0; k < count; k++)
        for (size_t w = 0; w < b[k].way[i].weeks.count; w++) {
            const WeekAhead *week = &b[k].way[i].weeks.weeks[w];
            if (!weeks_ahead_rises(week) || (most && week->rise <= most->rise))
                continue;
            most = week;
            whose = b[k].taper.c;
        }
    if (most)
        document_words(doc, WORDS_ITEM,
                       "%s: the week from %s is %.0f %% above the heaviest of "
                       "the four before%s%s; over 15 %% is a lot.",
                       name, date_write_short(day, most->monday),
                       100 * most->rise, count > 1 ? " for " : "",
                       count > 1 ? whose->name : "");
}

static void add_low(const BlocksCompared *b, size_t count, int i,
                    const char *name, Document *doc) {
    char day[DATE_TEXT];
    for (size_t k = 0; k < count; k++) {
        const WeeksAhead *a = &b[k].way[i].weeks;
        size_t at = weeks_ahead_low(a, 0);
        if (at == a->count)
            continue;
        document_words(doc, WORDS_ITEM,
                       "%s: from %s three of four weeks or more are under half "
                       "of the usual week; so long a spell costs fitness.",
                       name, date_write_short(day, a->weeks[at].monday));
        return;
    }
}

void blocks_text(const Context *d, const BlocksCompared *b, size_t count,
                 const char *path, Document *doc) {
    const char *other = file_name(path);
    const Case *c = b[0].taper.c;
    Text text = {0};
    words_event(c, &text);
    document_title(doc, "%s%s%s beside the season's own weeks, to %s.",
                   count == 1 ? c->name : "", count == 1 ? ": " : "", other,
                   text_of(&text));
    add_lead(b, count, other, doc);
    add_table(b, count, other, doc);
    for (int i = 0; i < 2; i++) {
        add_rises(b, count, i, i ? other : OWN, doc);
        add_low(b, count, i, i ? other : OWN, doc);
    }
    footer_more_load(c, WORDS_ITEM, doc);
    footer_caution(d, doc);
    document_open(doc, BLOCK_NOTES, NULL, "Assumptions, method, sources");
    document_words(doc, WORDS_PLAIN,
                   "Both ways have the same taper: %s. Matches, rows to keep "
                   "and absences stay in both. Rises of 15 %% and weeks under "
                   "half of the usual: common practice, no source. Own weeks: "
                   "blocks.csv of the season, else the usual weeks.",
                   d->question->option_count ? "that asked for"
                                             : "the one recommended for the "
                                               "season's own weeks");
    footer_basis(d, c, doc);
    document_close(doc, BLOCK_NOTES);
    text_free(&text);
}
