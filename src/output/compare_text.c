/* compare_text: see compare_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/compare_text.h"

#include "base/mem.h"
#include "output/footer.h"
#include "output/record_text.h"
#include "output/taper_text.h"
#include "output/taper_warnings.h"
#include "output/words.h"

#include <math.h>
#include <stdlib.h>

void compare_text_csv_header(const Output *o) {
    output_header(o, "athlete,event,option,readiness,low,high,gain,"
                     "share,kept,beats_none,spec,gain_low,gain_high,followed");
}

void compare_text_csv(const Comparison *k, FILE *to) {
    const BestTaper *v = &k->taper;
    for (size_t i = 0; i < k->count; i++) {
        const ComparisonRow *row = &k->rows[i];
        Text spec = {0};
        Csv csv;
        option_write(&row->option, &spec);
        csv_begin(&csv, to);
        csv_text(&csv, v->c->name);
        csv_text(&csv, v->c->event->name);
        csv_text(&csv, row->name);
        csv_number(&csv, case_shown(v->c, row->readiness));
        csv_number(&csv, row->spread.readiness_low);
        csv_number(&csv, row->spread.readiness_high);
        csv_number(&csv, row->gain);
        csv_number(&csv, search_share(row->gain, v->possible));
        csv_number(&csv, row->kept);
        csv_number(&csv, comparison_tapers(row) ? row->spread.beats_none : NAN);
        csv_text(&csv, row->handed ? "" : text_of(&spec));
        csv_number(&csv, row->spread.gain_low);
        csv_number(&csv, row->spread.gain_high);
        csv_text(&csv, words_followed(v));
        csv_end(&csv);
        text_free(&spec);
    }
}

/* ---- which is best ---- */

/* An option over all athletes. */
typedef struct {
    double share;     /* of the largest gain possible, of all together */
    double kept;      /* the mean */
    double low, high; /* helps in so many of the likely models */
} Overall;

/* Who can gain next to nothing has next to no say: in one unit it is a share of
 * the sum, else a mean of shares of which none is below -100 %. */
static double share_of_all(const Comparison *k, size_t count, size_t option) {
    double gain = 0, possible = 0, mean = 0;
    bool alike = true;
    for (size_t i = 0; i < count; i++) {
        const ComparisonRow *row = &k[i].rows[option];
        double share = search_share(row->gain, k[i].taper.possible);
        alike = alike &&
                (count == 1 || best_taper_same_unit(&k[i].taper, &k[0].taper));
        mean += (isfinite(share) ? fmax(-1, share) : 0) / (double)count;
        gain += isfinite(row->gain) ? row->gain : 0;
        possible += k[i].taper.possible;
    }
    return alike && possible > 0 ? gain / possible : mean;
}

static Overall overall(const Comparison *k, size_t count, size_t option) {
    Overall o = {.low = 1, .share = share_of_all(k, count, option)};
    for (size_t i = 0; i < count; i++) {
        const ComparisonRow *row = &k[i].rows[option];
        o.kept += isfinite(row->kept) ? row->kept / (double)count : 0;
        if (isfinite(row->spread.beats_none) && comparison_tapers(row)) {
            o.low = fmin(o.low, row->spread.beats_none);
            o.high = fmax(o.high, row->spread.beats_none);
        }
    }
    return o;
}

static bool anywhere_outside(const Comparison *k, size_t count, size_t option) {
    for (size_t i = 0; i < count; i++)
        if (k[i].rows[option].outside)
            return true;
    return false;
}

/* Is it each athlete's own, not one for all? */
static bool own_best(const Comparison *k, size_t count, size_t option) {
    Text first = {0}, other = {0};
    bool own = false;
    option_write(&k->rows[option].option, &first);
    for (size_t i = 1; i < count && !own; i++) {
        text_clear(&other);
        option_write(&k[i].rows[option].option, &other);
        own = !text_same(text_of(&first), text_of(&other));
    }
    text_free(&first);
    text_free(&other);
    return own;
}

/* Of the options that are one for all, if any is. */
static size_t best_option(const Comparison *k, size_t count,
                          const Overall *all) {
    size_t best = 0;
    for (size_t i = 1; i < k->count; i++) {
        bool own = own_best(k, count, i), beaten = own_best(k, count, best);
        if (own == beaten ? all[i].share > all[best].share + 1e-12 : beaten)
            best = i;
    }
    return best;
}

/* What gains most of the options within the limits. */
static void add_within(const Comparison *k, size_t count, const Overall *all,
                       Text *text) {
    size_t best = k->count;
    for (size_t i = 0; i < k->count; i++)
        if (!anywhere_outside(k, count, i) && all[i].share > 0 &&
            (best == k->count || all[i].share > all[best].share + 1e-12))
            best = i;
    text_add(text, " It lies outside the limits searched");
    if (best < k->count)
        text_add(text, "; within them %s gains most, %.0f %%",
                 k->rows[best].name, 100 * all[best].share);
    text_add(text, ".");
}

/* Differs by less than 5 % from the best and keeps more training: the one that
 * keeps most; the best itself if there is none. */
static size_t gentlest(const Overall *all, size_t options, size_t best) {
    size_t found = best;
    for (size_t i = 0; i < options; i++)
        if (all[i].share >= (1 - SEARCH_EQUAL) * all[best].share &&
            all[i].kept > all[found].kept + .005)
            found = i;
    return found;
}

static void add_helps(const Overall *o, Text *text) {
    int low = (int)lround(100 * o->low), high = (int)lround(100 * o->high);
    if (o->high <= 0)
        return;
    if (low == high)
        text_add(text, "; it helps in %d of 100 likely models", low);
    else
        text_add(text, "; it helps in %d to %d of 100 likely models", low,
                 high);
}

/* What each athlete's own would bring. */
static void add_own(const Comparison *k, size_t count, const Overall *all,
                    size_t best, Text *text) {
    for (size_t i = 0; i < k->count; i++)
        if (own_best(k, count, i) && all[i].share > all[best].share + .005) {
            text_add(text, " '%s', each athlete's own, gains %.0f %%.",
                     k->rows[i].name, 100 * all[i].share);
            return;
        }
}

static bool any_own(const Comparison *k, size_t count) {
    for (size_t i = 0; i < k->count; i++)
        if (own_best(k, count, i))
            return true;
    return false;
}

static void add_lead(const Comparison *k, size_t count, Document *doc) {
    size_t options = k->count, best, gentle;
    Overall *all = mem_new(options, sizeof *all);
    Text text = {0};
    for (size_t i = 0; i < options; i++)
        all[i] = overall(k, count, i);
    best = best_option(k, count, all);
    gentle = gentlest(all, options, best);
    if (all[best].share <= 0) {
        text_add(&text, "%s gains over no taper",
                 any_own(k, count) ? "No taper that is one for all"
                                   : "None of these");
    } else {
        text_add(&text, "%s gains most%s: %.0f %% of the largest gain possible",
                 k->rows[best].name, count > 1 ? " on average" : "",
                 100 * all[best].share);
        add_helps(&all[best], &text);
    }
    text_add(&text, ".");
    if (all[best].share > 0 && anywhere_outside(k, count, best))
        add_within(k, count, all, &text);
    if (gentle != best && all[best].share > 0)
        text_add(&text,
                 " %s differs from it by less than 5 %% and keeps more "
                 "training.",
                 k->rows[gentle].name);
    add_own(k, count, all, best, &text);
    document_words(doc, WORDS_LEAD, "%s", text_of(&text));
    text_free(&text);
    free(all);
}

/* ---- one athlete: a row an option ---- */

/* Without a scale of a test only shares mean something. */
static void options_start(Grid *grid, bool scaled) {
    static const GridColumn all[] = {{"option", false},
                                     {"readiness", true},
                                     {"gain", true},
                                     {"90 %\nrange", true},
                                     {"of the\nlargest", true},
                                     {"training\nkept", true},
                                     {"helps in", true}};
    static const GridColumn shares[] = {{"option", false},
                                        {"of the largest\ngain possible", true},
                                        {"training\nkept", true},
                                        {"helps in", true}};
    grid_start(grid, scaled ? all : shares, scaled ? 7 : 4);
}

static void add_options(const Comparison *k, Document *doc) {
    const BestTaper *v = &k->taper;
    bool scaled = isfinite(best_taper_percent(v, 0));
    char number[FIGURE_TEXT];
    Grid grid;
    options_start(&grid, scaled);
    for (size_t i = 0; i < k->count; i++) {
        const ComparisonRow *row = &k->rows[i];
        bool taper = comparison_tapers(row);
        grid_cell(&grid, "%s%s", row->name, row->outside ? " *" : "");
        if (scaled) {
            grid_cell(&grid, "%s",
                      words_figure(number, case_shown(v->c, row->readiness),
                                   best_taper_scale(v)));
            grid_cell(&grid, "%s",
                      words_gain(number, v, taper ? row->gain : NAN));
            words_gain_cell(&grid, v, taper ? &row->spread : NULL);
        }
        grid_cell(&grid, "%s",
                  words_percent(number, search_share(row->gain, v->possible)));
        grid_cell(&grid, "%s", words_percent(number, row->kept));
        words_helps_cell(&grid, taper ? row->spread.beats_none : NAN);
    }
    document_table(doc, &grid, "");
}

/* ---- a squad: a row an athlete, a column an option ---- */

enum { MOST_OPTIONS = GRID_COLUMNS - 1 };

/* "+3.3 % (91)"; of the largest gain possible where the scale means nothing. */
static void squad_cell(Grid *grid, const BestTaper *v,
                       const ComparisonRow *row) {
    char gain[FIGURE_TEXT];
    if (isfinite(best_taper_percent(v, row->gain)))
        words_gain(gain, v, row->gain);
    else
        words_percent(gain, search_share(row->gain, v->possible));
    if (!comparison_tapers(row))
        grid_cell(grid, "-");
    else if (isfinite(row->spread.beats_none))
        grid_cell(grid, "%s (%.0f)", gain, 100 * row->spread.beats_none);
    else
        grid_cell(grid, "%s", gain);
}

static bool all_scaled(const Comparison *k, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (!isfinite(best_taper_percent(&k[i].taper, 0)))
            return false;
    return true;
}

/* No taper gains nothing over no taper. */
static bool says_something(const ComparisonRow *row) {
    return row->handed || row->option.count || !text_same(row->name, "none");
}

static void add_squad(const Comparison *k, size_t count, Document *doc) {
    GridColumn columns[GRID_COLUMNS] = {{"athlete", false}};
    char *titles[MOST_OPTIONS];
    size_t shown[MOST_OPTIONS], options = 0;
    Grid grid;
    for (size_t o = 0; o < k->count && options < MOST_OPTIONS; o++) {
        Text title = {0};
        if (!says_something(&k->rows[o]))
            continue;
        text_add(&title, "%s%s", k->rows[o].name,
                 anywhere_outside(k, count, o) ? " *" : "");
        titles[options] = title.data;
        shown[options] = o;
        columns[++options] = (GridColumn){title.data, true};
    }
    grid_start(&grid, columns, (int)options + 1);
    for (size_t i = 0; i < count; i++) {
        grid_cell(&grid, "%s", k[i].taper.c->name);
        for (size_t o = 0; o < options; o++)
            squad_cell(&grid, &k[i].taper, &k[i].rows[shown[o]]);
    }
    document_table(doc, &grid,
                   all_scaled(k, count)
                       ? "Gain over no taper, and in how many of 100 likely "
                         "models it helps."
                       : "Share of the largest gain possible (or the gain), "
                         "and in how many of 100 likely models it helps.");
    for (size_t o = 0; o < options; o++)
        free(titles[o]);
}

/* ---- what to watch ---- */

/* Is the option the same taper for all? */
static bool same_for_all(const Comparison *k, size_t count, size_t option) {
    Text one = {0}, other = {0};
    bool same = true;
    option_write(&k[0].rows[option].option, &one);
    for (size_t i = 1; i < count && same; i++) {
        text_clear(&other);
        option_write(&k[i].rows[option].option, &other);
        same = text_same(text_of(&one), text_of(&other));
    }
    text_free(&one);
    text_free(&other);
    return same;
}

static void handed_words(const Comparison *k, size_t count, Text *text) {
    const Case *c = k->taper.c;
    Text events = {0};
    for (size_t i = 0; i < count && !events.length; i++)
        record_text_events(c->context, k[i].taper.c->athlete, &events);
    text_add(text, "the plan in plan.csv, as it would go on from today");
    if (events.length)
        text_add(text,
                 "; it is for %s together, and what stands here is for %s "
                 "alone (taper --joint: for all)",
                 text_of(&events), c->event->name);
    text_free(&events);
}

static void add_names(const Comparison *k, size_t count, Document *doc) {
    for (size_t o = 0; o < k->count; o++) {
        const Option *option = &k->rows[o].option;
        size_t window = k->taper.c->outlook.window;
        Text text = {0};
        if (k->rows[o].handed)
            handed_words(k, count, &text);
        else if (!same_for_all(k, count, o))
            text_add(&text, "each athlete's own");
        else if (option->count)
            option_words(option, &text);
        if ((size_t)option_days(option) > window)
            text_add(&text,
                     " (only the last %zu days can be cut: before them lies "
                     "what is done, or another event)",
                     window);
        if (text.length)
            document_words(doc, WORDS_ITEM, "%s: %s.", k->rows[o].name,
                           text_of(&text));
        text_free(&text);
    }
}

static void add_outside(const Comparison *k, size_t count, Document *doc) {
    Text text = {0};
    for (size_t o = 0; o < k->count; o++)
        for (size_t i = 0; i < count; i++)
            if (k[i].rows[o].outside) {
                text_add(&text, "%s%s ", text.length ? "; " : "",
                         k->rows[o].name);
                search_outside(&k[i].taper.c->outlook,
                               &k[i].taper.c->context->question->limits,
                               &k[i].rows[o].option, &text);
                break;
            }
    if (text.length)
        document_words(doc, WORDS_ITEM,
                       "*: outside the limits searched, so it may pass 100 %% "
                       "of the largest gain possible: %s.",
                       text_of(&text));
    text_free(&text);
}

static void add_recommended(const Comparison *k, Document *doc) {
    const Search *s = &k->taper.search;
    Text spec = {0};
    if (s->best == 0)
        return;
    option_write(&s->items[s->recommended].option, &spec);
    document_words(doc, WORDS_ITEM, "peakward taper recommends %s.",
                   text_of(&spec));
    text_free(&spec);
}

/* Whose taper is no choice of the model, whatever it says here. */
static void add_unfollowed(const Comparison *k, size_t count, Document *doc) {
    bool tested = false;
    Text who = {0};
    for (size_t i = 0; i < count; i++) {
        if (!best_taper_unknown(&k[i].taper))
            continue;
        tested = tested || best_taper_silent(&k[i].taper);
        text_add(&who, "%s%s", who.length ? ", " : "", k[i].taper.c->name);
    }
    if (who.length)
        document_words(doc, WORDS_ITEM,
                       "%s: taper does not follow the model here, since "
                       "nothing tells more than the published evidence%s, and "
                       "recommends the published taper whatever is said of it "
                       "above: no gain or loss there is known well enough to "
                       "count on.",
                       text_of(&who), taper_text_why(tested));
    text_free(&who);
}

/* ---- notes ---- */

/* Share of the likely models in which the row gains more than the column. */
static void add_pairs(const Comparison *k, Document *doc) {
    GridColumn columns[9] = {{"", false}};
    size_t draws = k->taper.draws.count;
    double *gain;
    Grid grid;
    if (!comparison_has_pairs(k))
        return;
    gain = comparison_gains(k);
    for (size_t i = 0; i < k->count; i++)
        columns[i + 1] = (GridColumn){k->rows[i].name, true};
    grid_start(&grid, columns, (int)k->count + 1);
    for (size_t i = 0; i < k->count; i++) {
        grid_cell(&grid, "%s", k->rows[i].name);
        for (size_t j = 0; j < k->count; j++)
            if (i == j)
                grid_cell(&grid, "-");
            else
                grid_cell(&grid, "%.0f",
                          100 * draw_scores_beat(gain + i * draws,
                                                 gain + j * draws, draws));
    }
    document_table(doc, &grid,
                   "In how many of 100 likely models the row gains more than "
                   "the column.");
    free(gain);
}

static void add_notes(const Context *d, const Comparison *k, size_t count,
                      Document *doc) {
    const BestTaper *v = &k->taper;
    document_open(doc, BLOCK_NOTES, NULL, "Assumptions, method, sources");
    if (count == 1)
        add_pairs(k, doc);
    document_words(
        doc, WORDS_PLAIN,
        "Gain: over no taper, in per cent of readiness; 90 %% range: where it "
        "lies in 90 of 100 likely models; of the largest: share of "
        "the largest gain possible within the limits by any daily loads; "
        "training kept: of the load planned for the last %zu days, or for "
        "those of a longer option. Every probability holds if these models "
        "hold.%s",
        v->search.days,
        case_level_known(v->c)
            ? ""
            : " Readiness is in the model's own scale: read the shares, not "
              "the numbers.");
    footer_evidence(doc);
    taper_warnings_searched(v->c, v->longest, doc);
    footer_basis(d, v->c, doc);
    document_close(doc, BLOCK_NOTES);
}

void compare_text(const Context *d, const Comparison *k, size_t count,
                  Document *doc) {
    const BestTaper **each = mem_new(count, sizeof *each);
    Text text = {0};
    for (size_t i = 0; i < count; i++)
        each[i] = &k[i].taper;
    words_event(k->taper.c, &text);
    document_title(doc, "%s%s%s.", count == 1 ? k->taper.c->name : "",
                   count == 1 ? ": options for " : "Options for ",
                   text_of(&text));
    add_lead(k, count, doc);
    if (count == 1)
        add_options(k, doc);
    else
        add_squad(k, count, doc);
    add_names(k, count, doc);
    add_outside(k, count, doc);
    if (count == 1)
        add_recommended(k, doc);
    add_unfollowed(k, count, doc);
    taper_warnings(each, count, doc);
    footer_caution(d, doc);
    add_notes(d, k, count, doc);
    text_free(&text);
    free(each);
}
