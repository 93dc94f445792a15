/* joint_text: see joint_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/joint_text.h"

#include "cases/models.h"
#include "output/footer.h"
#include "output/taper_text.h"
#include "output/taper_warnings.h"
#include "output/words.h"
#include "present/grid.h"
#include "taper/common.h"

#include <assert.h>
#include <math.h>

/* The tapers of the events up to one, "none; 3d-100". */
static void add_specs(const Option *options, size_t count, Text *text) {
    for (size_t k = 0; k < count; k++) {
        text_add(text, "%s", k ? "; " : "");
        option_write(&options[k], text);
    }
}

/* ---- CSV ---- */

static void csv_option(Csv *csv, const Option *options, size_t count) {
    Text text = {0};
    add_specs(options, count, &text);
    csv_text(csv, text_of(&text));
    text_free(&text);
}

static void csv_rows(const JointPeaks *p, FILE *to) {
    for (size_t k = 0; k < p->count; k++) {
        const JointPeak *peak = &p->peaks[k];
        char day[DATE_TEXT];
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, p->c->name);
        csv_text(&csv, peak->event->name);
        csv_text(&csv, date_write(day, peak->event->start));
        csv_number(&csv, p->weight[k]);
        csv_option(&csv, &p->joint.recommended[k], 1);
        csv_number(&csv, case_shown(p->c, peak->readiness));
        csv_number(&csv, peak->low);
        csv_number(&csv, peak->high);
        csv_number(&csv, peak->readiness - peak->none);
        csv_number(&csv, peak->gain_low);
        csv_number(&csv, peak->gain_high);
        csv_number(&csv, case_shown(p->c, peak->none));
        csv_option(&csv, &p->joint.best[k], p->silent ? 0 : 1);
        csv_number(&csv, peak->best - peak->none);
        csv_option(&csv, peak->alone, p->silent ? 0 : k + 1);
        csv_number(&csv, peak->most - peak->none);
        csv_number(&csv, p->silent ? NAN : joint_peaks_given_up(peak));
        csv_number(&csv, p->handed ? peak->handed : NAN);
        csv_text(&csv, p->silent ? "no" : "yes");
        csv_end(&csv);
    }
}

/* ---- text ---- */

static void cell_option(Grid *grid, const Option *options, size_t count) {
    Text text = {0};
    add_specs(options, count, &text);
    grid_cell(grid, "%s", text_of(&text));
    text_free(&text);
}

/* Of one event, with its first day. */
static void cell_taper(Grid *grid, const JointPeaks *p, size_t k) {
    const Option *option = &p->joint.recommended[k];
    char day[DATE_TEXT];
    cell_option(grid, option, 1);
    date_write_short(day, p->peaks[k].event->start - (Date)option_days(option));
    grid_cell(grid, "%s", option->count ? day : "-");
}

static const char below[] = "less than no taper";

/* Below what no taper brings, so that a share of what tapers gain says nothing.
 */
static bool is_below(double share) {
    return share < -.005;
}

/* A gain at an event; without figures its share of the most that this event
 * could gain alone. */
static const char *gain_words(char buffer[FIGURE_TEXT], const JointPeaks *p,
                              size_t k, double gain) {
    const JointPeak *peak = &p->peaks[k];
    double share = search_share(gain, peak->most - peak->none);
    if (case_has_figures(p->c))
        return words_figure(buffer, gain, p->scale);
    return is_below(share) ? below : words_percent(buffer, share);
}

/* The same of what an event gives up. */
static const char *price_words(char buffer[FIGURE_TEXT], const JointPeaks *p,
                               size_t k) {
    const JointPeak *peak = &p->peaks[k];
    double price = joint_peaks_given_up(peak);
    if (!case_has_figures(p->c) &&
        is_below(1 - search_share(price, peak->most - peak->none)))
        return "more than all";
    return gain_words(buffer, p, k, price);
}

static void cell_gain(Grid *grid, const JointPeaks *p, size_t k, double gain) {
    char number[FIGURE_TEXT];
    grid_cell(grid, "%s%s", gain >= 0 ? "+" : "",
              gain_words(number, p, k, gain));
}

static void add_plan(const JointPeaks *p, Document *doc) {
    static const GridColumn columns[] = {
        {"event", false},     {"weight", true},       {"taper\nbefore", false},
        {"no\ntaper", true},  {"readi-\nness", true}, {"gain", true},
        {"90 %\nrange", true}};
    Grid grid;
    grid_start(&grid, columns, 7);
    for (size_t k = 0; k < p->count; k++) {
        const JointPeak *peak = &p->peaks[k];
        const Option *option = &p->joint.recommended[k];
        char number[FIGURE_TEXT], high[FIGURE_TEXT];
        grid_cell(&grid, "%s", peak->event->name);
        grid_cell(&grid, "%.4g", p->weight[k]);
        cell_option(&grid, option, 1);
        grid_cell(&grid, "%s", words_level(number, p->c, peak->none, p->scale));
        grid_cell(&grid, "%s",
                  words_level(number, p->c, peak->readiness, p->scale));
        cell_gain(&grid, p, k, peak->readiness - peak->none);
        if (isfinite(peak->gain_low))
            grid_cell(&grid, "%s to %s",
                      gain_words(number, p, k, peak->gain_low),
                      gain_words(high, p, k, peak->gain_high));
        else
            grid_cell(&grid, "-");
    }
    document_table(doc, &grid, "");
}

static void add_price(const JointPeaks *p, Document *doc) {
    static const GridColumn columns[] = {
        {"", false},    {"all weighed:\nbest taper", false},
        {"gain", true}, {"this event alone:\nbest tapers", false},
        {"gain", true}, {"gives\nup", true}};
    Grid grid;
    grid_start(&grid, columns, 6);
    for (size_t k = 0; k < p->count; k++) {
        const JointPeak *peak = &p->peaks[k];
        char number[FIGURE_TEXT];
        grid_cell(&grid, "%s", peak->event->name);
        cell_option(&grid, &p->joint.best[k], 1);
        cell_gain(&grid, p, k, peak->best - peak->none);
        cell_option(&grid, peak->alone, k + 1);
        cell_gain(&grid, p, k, peak->most - peak->none);
        grid_cell(&grid, "%s", price_words(number, p, k));
    }
    document_table(doc, &grid, "");
}

/* Is nothing known of anybody? */
static bool all_silent(const JointPeaks *p, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (!p[i].silent)
            return false;
    return true;
}

/* Of whom nothing is known. */
static void add_unknown(const JointPeaks *p, size_t count, Document *doc) {
    bool all = all_silent(p, count), tested = false;
    Text who = {0};
    for (size_t i = 0; i < count; i++) {
        if (!p[i].silent)
            continue;
        tested = tested || p[i].tested;
        text_add(&who, "%s%s", who.length ? ", " : "", p[i].c->name);
    }
    if (all)
        taper_text_silence(true, tested, "these", doc);
    if (who.length)
        taper_text_unknown(all ? NULL : text_of(&who), tested,
                           "before each event stands", true, doc);
    text_free(&who);
}

/* What to do before one event, and what that costs it. */
static void add_words(const JointPeaks *p, size_t k, Document *doc) {
    const JointPeak *peak = &p->peaks[k];
    const Option *option = &p->joint.recommended[k];
    double share = joint_peaks_share(peak);
    char day[DATE_TEXT];
    Text text = {0};
    text_add(&text, "%s: ", peak->event->name);
    if (option->count) {
        date_write_short(day, peak->event->start - (Date)option_days(option));
        text_add(&text, "from %s, ", day);
    }
    if (p->events[k].own.window == 0)
        text_add(&text, "no day is left to cut before it.");
    else
        option_words(option, &text);
    if (p->events[k].own.window > 0 && is_below(share))
        text_add(&text, "; at this event alone that is less than no taper "
                        "would bring.");
    else if (p->events[k].own.window > 0 && isfinite(share))
        text_add(&text,
                 "; it gets %.0f %% of the most it could gain if it alone "
                 "mattered.",
                 100 * share);
    else if (p->events[k].own.window > 0)
        text_add(&text, ".");
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&text);
}

/* [1] below which 28 days are told as a long spell: common practice, no
 * source. */
#define SPELL_LOW .5

/* Is the floor more than any tapers keep? */
static bool unkept(const JointPeaks *p) {
    const JointFloor *f = &p->floor;
    return !f->holds_back && 100 * f->lowest < p->c->context->question->floor;
}

/* Does what the squad decided, not the athlete's own weighing, leave one who
 * trains mostly with the team below no taper at an event? */
static bool team_takes(const JointPeaks *p, const Event *event) {
    for (size_t k = 0; k < p->count; k++) {
        const JointPeak *peak = &p->peaks[k];
        double least = 1e-9 * p->scale;
        if (peak->event == event)
            return !p->silent && peak->readiness < peak->none - least &&
                   peak->best >= peak->none - least &&
                   best_taper_follows(p->c, &p->events[k].own);
    }
    return false;
}

/* Do the tapers, all events weighed, leave an athlete below no taper at all? */
static bool loses(const JointPeaks *p) {
    double sum = 0, best = 0;
    for (size_t k = 0; k < p->count; k++) {
        sum += p->weight[k] * (p->peaks[k].readiness - p->peaks[k].none);
        best += p->weight[k] * (p->peaks[k].best - p->peaks[k].none);
    }
    return !p->silent && sum < -1e-9 * p->scale && best > sum;
}

/* Whom what the squad does together harms by the whole. */
static void add_losers(const JointPeaks *p, size_t count, Document *doc) {
    Text who = {0};
    for (size_t i = 0; i < count; i++)
        if (loses(&p[i]))
            text_add(&who, "%s%s", who.length ? ", " : "", p[i].c->name);
    if (who.length)
        document_words(doc, WORDS_ITEM,
                       "All events weighed together, these tapers bring less "
                       "than no taper to: %s. What suits each of them better "
                       "is told by --athlete ID.",
                       text_of(&who));
    text_free(&who);
}

/* `most` has all events. */
static void add_team(const JointPeaks *p, size_t count, const JointPeaks *most,
                     Document *doc) {
    for (size_t k = 0; k < most->count; k++) {
        const Event *event = most->peaks[k].event;
        Text who = {0};
        for (size_t i = 0; i < count; i++)
            if (team_takes(&p[i], event))
                text_add(&who, "%s%s", who.length ? ", " : "", p[i].c->name);
        if (who.length)
            document_words(doc, WORDS_ITEM,
                           "%s, before %s: the team's taper takes more than it "
                           "gives; sessions of their own, if there are any, "
                           "need not be cut.",
                           text_of(&who), event->name);
        text_free(&who);
    }
}

/* What the floor held back, or a long spell of low load. */
static void add_floor(const JointPeaks *p, Document *doc) {
    const JointFloor *f = &p->floor;
    char a[FIGURE_TEXT], b[FIGURE_TEXT], day[DATE_TEXT];
    Text text = {0};
    if (f->holds_back && f->max_length > 0)
        text_add(&text, "Tapers are held to %d days", f->max_length);
    else if (f->holds_back)
        text_add(&text, "Cuts are held to %.0f %%", f->max_cut);
    if (f->holds_back)
        text_add(&text,
                 ", so that any 28 days keep %.0f %% or more of the training "
                 "planned between events. ",
                 p->c->context->question->floor);
    if (f->holds_back && !p->silent && f->lifted <= f->gain + 1e-9 * p->scale)
        text_add(&text, "That costs nothing here.");
    else if (f->holds_back && !p->silent && !case_has_figures(p->c))
        text_add(&text,
                 "Without that (--floor 0) the best tapers' gains, weighed, "
                 "would be %.0f %% more.",
                 100 * (f->lifted / f->gain - 1));
    else if (f->holds_back && !p->silent)
        text_add(&text,
                 "Without that (--floor 0) the best tapers' gains, weighed, "
                 "would add up to %s in place of %s.",
                 words_figure(a, f->lifted, p->scale),
                 words_figure(b, f->gain, p->scale));
    else if (unkept(p))
        text_add(&text,
                 "No taper keeps --floor %.4g, so it holds nothing back: a "
                 "lower one would.",
                 p->c->context->question->floor);
    else if (!f->holds_back && f->lowest < SPELL_LOW)
        text_add(&text,
                 "The 28 days from %s keep only %.0f %% of the "
                 "training planned between events. So long a spell of low load "
                 "is no taper; fewer events to taper for (--event) or a higher "
                 "--floor leave more.",
                 date_write_short(day, p->events[p->count - 1].wide.first +
                                           (Date)f->from),
                 100 * f->lowest);
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&text);
}

/* The gains, and what they cost. */
static void add_gains(const JointPeaks *p, Document *doc) {
    if (isfinite(p->beats_none))
        document_words(doc, WORDS_PLAIN,
                       "All tapers together, weighed, help in %.0f of 100 "
                       "likely models.",
                       100 * p->beats_none);
    add_plan(p, doc);
    document_words(doc, WORDS_HEADING,
                   "What each event gives up for the others:");
    add_price(p, doc);
}

/* ---- the plan handed out ---- */

/* Share of what these tapers bring, weighed, that it brings; NAN where they
 * bring nothing. */
static double share_of_handed(const JointPeaks *p) {
    double handed = 0, these = 0;
    for (size_t k = 0; k < p->count; k++) {
        const JointPeak *peak = &p->peaks[k];
        handed += p->weight[k] * peak->handed;
        these += p->weight[k] * (peak->readiness - peak->none);
    }
    return these > 0 ? handed / these : NAN;
}

/* "Regional cup +0.98, Selection weekend +0.40", appended. */
static void gains_of_handed(const JointPeaks *p, Text *text) {
    char number[FIGURE_TEXT];
    for (size_t k = 0; k < p->count; k++) {
        double gain = p->peaks[k].handed;
        text_add(text, "%s%s %s%s", k ? ", " : "", p->peaks[k].event->name,
                 gain >= 0 ? "+" : "", gain_words(number, p, k, gain));
    }
}

/* In these terms. */
static void add_handed(const JointPeaks *all, size_t count, Document *doc) {
    const JointPeaks *first = NULL;
    double low = INFINITY, high = -INFINITY;
    size_t with = 0;
    char day[DATE_TEXT];
    Text text = {0};
    for (size_t i = 0; i < count; i++) {
        double share = all[i].handed ? share_of_handed(&all[i]) : NAN;
        with += all[i].handed;
        first = !first && all[i].handed ? &all[i] : first;
        low = fmin(low, share);
        high = fmax(high, share);
    }
    if (!first)
        return;
    text_add(&text, "A plan was handed out on %s",
             date_write_short(day, first->issued));
    if (with < count)
        text_add(&text, " to %zu of %zu", with, count);
    if (count == 1 && !first->silent) {
        text_add(&text, " and gains ");
        gains_of_handed(first, &text);
    }
    if (low <= high && is_below(high))
        text_add(&text, " and brings, weighed, %s", below);
    else if (low <= high && is_below(low))
        text_add(&text,
                 " and brings, weighed, %s to some, to others up to %.0f %% of "
                 "what these tapers gain",
                 below, 100 * fmax(0, high));
    else if (low <= high && low > high - .005)
        text_add(&text, "%s weighed, %.0f %% of what these tapers gain",
                 count == 1 ? ":" : " and gains,", 100 * low);
    else if (low <= high)
        text_add(&text,
                 " and gains, weighed, %.0f to %.0f %% of what these "
                 "tapers gain",
                 100 * low, 100 * high);
    else if (all_silent(all, count))
        text_add(&text, "; what it brings nothing here can tell");
    document_words(doc, WORDS_ITEM, "%s. taper says whether it stands.",
                   text_of(&text));
    text_free(&text);
}

/* The same of a squad, counted. */
static void add_floors(const JointPeaks *p, size_t count, Document *doc) {
    size_t held = 0, low = 0, vain = 0;
    Text text = {0}, whom = {0};
    for (size_t i = 0; i < count; i++) {
        held += p[i].floor.holds_back;
        vain += unkept(&p[i]);
        low += p[i].floor.lowest < SPELL_LOW;
    }
    if (held == count)
        text_add(&whom, "everybody");
    else
        text_add(&whom, "%zu of %zu athletes", held, count);
    if (held > 0)
        text_add(&text,
                 "For %s longer tapers or deeper cuts are left out, so that "
                 "any 28 days keep %.0f %% or more of the training planned "
                 "between events (--floor%s). ",
                 text_of(&whom), p->c->context->question->floor,
                 all_silent(p, count) ? ""
                                      : "; --athlete ID tells what it costs");
    if (vain > 0)
        text_add(&text,
                 "No tapers of %zu of %zu athletes keep --floor %.4g, so it "
                 "holds nothing back there: a lower one would. ",
                 vain, count, p->c->context->question->floor);
    if (low > 0)
        text_add(&text,
                 "%zu of %zu keep less than half of it in some 28 "
                 "days; so long a spell of low load is no taper.",
                 low, count);
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&whom);
    text_free(&text);
}

/* ---- a squad's tapers ---- */

/* Of an athlete before an event; NULL: they do not take part. */
static const Option *option_of(const JointPeaks *p, const Event *event) {
    for (size_t k = 0; k < p->count; k++)
        if (p->peaks[k].event == event)
            return &p->joint.recommended[k];
    return NULL;
}

/* Has one of those before the athlete at `i` the same taper? */
static bool told_before(const JointPeaks *p, size_t i, const Event *event) {
    for (size_t j = 0; j < i; j++) {
        const Option *other = option_of(&p[j], event);
        if (other && common_same(other, option_of(&p[i], event)))
            return true;
    }
    return false;
}

static size_t count_tapers(const JointPeaks *p, size_t count,
                           const Event *event) {
    size_t tapers = 0;
    for (size_t i = 0; i < count; i++)
        tapers += option_of(&p[i], event) && !told_before(p, i, event);
    return tapers;
}

/* The taper of the athlete at `i`, and whose it is too. */
static void add_group(const JointPeaks *p, size_t count, size_t i,
                      const Event *event, Document *doc) {
    const Option *option = option_of(&p[i], event);
    char day[DATE_TEXT];
    Text text = {0}, who = {0};
    size_t share = 0;
    assert(option);
    for (size_t j = i; j < count; j++) {
        const Option *other = option_of(&p[j], event);
        if (other && common_same(option, other))
            text_add(&who, "%s%s", share++ ? ", " : "", p[j].c->name);
    }
    date_write_short(day, event->start - (Date)option_days(option));
    if (option->count)
        text_add(&text, "from %s, ", day);
    option_words(option, &text);
    document_words(doc, WORDS_ITEM, "%s: %s: %s.", event->name, text_of(&text),
                   share == count ? "everybody" : text_of(&who));
    text_free(&text);
    text_free(&who);
}

enum { GROUPS_TOLD = 4 /* more are left to the table */ };

/* What to do before each event: the same tapers together. */
static void add_squad_lead(const JointPeaks *all, size_t count,
                           const JointPeaks *most, Document *doc) {
    for (size_t k = 0; k < most->count; k++) {
        const Event *event = most->peaks[k].event;
        size_t tapers = count_tapers(all, count, event);
        if (tapers > GROUPS_TOLD)
            document_words(doc, WORDS_ITEM,
                           "%s: %zu different tapers, in the table below.",
                           event->name, tapers);
        for (size_t i = 0; i < count && tapers <= GROUPS_TOLD; i++)
            if (option_of(&all[i], event) && !told_before(all, i, event))
                add_group(all, count, i, event, doc);
    }
}

/* In how many of the likely models they help. */
static void add_sureness(const JointPeaks *all, size_t count, Document *doc) {
    double low = 1, high = 0;
    for (size_t i = 0; i < count; i++)
        if (isfinite(all[i].beats_none)) {
            low = fmin(low, all[i].beats_none);
            high = fmax(high, all[i].beats_none);
        }
    if (low <= high)
        document_words(doc, WORDS_PLAIN,
                       "Intensity as usual. All tapers of an athlete together, "
                       "weighed, help in %.0f to %.0f of 100 likely models, "
                       "depending on the athlete.",
                       100 * low, 100 * high);
}

/* What to do before each event; of a silent athlete no more is told. */
static void add_tapers(const JointPeaks *p, Document *doc) {
    static const GridColumn columns[] = {
        {"event", false}, {"taper", false}, {"first\nday", false}};
    Grid grid;
    grid_start(&grid, columns, 3);
    for (size_t k = 0; k < p->count; k++) {
        grid_cell(&grid, "%s", p->peaks[k].event->name);
        cell_taper(&grid, p, k);
    }
    document_table(doc, &grid, "");
}

static void add_one(const JointPeaks *p, Document *doc) {
    document_words(doc, WORDS_HEADING,
                   "What to do%s:", p->silent ? "" : ", intensity as usual");
    for (size_t k = 0; k < p->count; k++)
        add_words(p, k, doc);
    add_unknown(p, 1, doc);
    if (p->silent)
        add_tapers(p, doc);
    else
        add_gains(p, doc);
    add_team(p, 1, p, doc);
    add_floor(p, doc);
}

static void add_squad(const JointPeaks *p, size_t count, Document *doc) {
    static const GridColumn columns[] = {
        {"athlete", false},    {"event", false}, {"taper", false},
        {"first\nday", false}, {"gain", true},   {"alone", true},
        {"of\nthat", true}};
    bool silent = all_silent(p, count);
    Grid grid;
    grid_start(&grid, columns, silent ? 4 : 7);
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < p[i].count; k++) {
            const JointPeak *peak = &p[i].peaks[k];
            char number[FIGURE_TEXT];
            grid_cell(&grid, "%s", k ? "" : p[i].c->name);
            grid_cell(&grid, "%s", peak->event->name);
            cell_taper(&grid, &p[i], k);
            if (silent)
                continue;
            cell_gain(&grid, &p[i], k, peak->readiness - peak->none);
            cell_gain(&grid, &p[i], k, peak->most - peak->none);
            grid_cell(&grid, "%s",
                      is_below(joint_peaks_share(peak))
                          ? below
                          : words_percent(number, joint_peaks_share(peak)));
        }
    document_table(
        doc, &grid,
        silent ? ""
               : "'gain': over no taper at all. 'alone': the most it could "
                 "gain if this event alone mattered; 'of that': the share "
                 "it gets. --athlete ID tells what each gives up.");
    add_floors(p, count, doc);
}

static void add_scale(const JointPeaks *p, size_t count, Document *doc) {
    const Model *model = case_model(p->c);
    bool same = true, known = false;
    Text text = {0}, who = {0};
    for (size_t i = 0; i < count; i++) {
        same = same && models_same_unit(model, case_model(p[i].c));
        known = known || case_level_known(p[i].c);
        if (!case_has_figures(p[i].c) && !p[i].silent)
            text_add(&who, "%s%s", who.length ? ", " : "", p[i].c->name);
    }
    if (!same)
        text_add(&text, "Readiness and gains are each in the unit of the "
                        "athlete's own tests, or in the model's own scale: "
                        "never compare them across athletes.");
    else if (known)
        text_add(&text, "Readiness and gains are in the unit of %s%s.",
                 model->unit, model->lower ? " (lower is better)" : "");
    else if (!model->scaled)
        text_add(&text, "Readiness and gains are in the model's own scale: no "
                        "test ties them to a unit, so read what is large and "
                        "what is small, not the numbers.");
    if (who.length)
        text_add(&text,
                 "%sNo test of their own tells the level of %s: gains are "
                 "shares of the most that an event could gain if it alone "
                 "mattered.",
                 text.length ? " " : "", text_of(&who));
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&text);
    text_free(&who);
}

/* Weights mean nothing where nobody's readiness is weighed. */
static void add_title(const JointPeaks *p, bool alone, bool weighed,
                      Document *doc) {
    Text text = {0};
    char day[DATE_TEXT];
    Aim aim = p->c->context->question->aim;
    text_add(&text, "%s%sapers for ", alone ? p->c->name : "",
             alone ? ": t" : "T");
    for (size_t k = 0; k < p->count; k++) {
        text_add(&text, "%s%s, %s",
                 k == 0              ? ""
                 : k + 1 == p->count ? " and "
                                     : ", ",
                 p->peaks[k].event->name,
                 date_write_short(day, p->peaks[k].event->start));
        if (weighed)
            text_add(&text, " (weight %.4g)", p->weight[k]);
    }
    text_add(&text, "%s. Today is %s.", weighed ? ", weighed together" : "",
             date_write_short(day, p->c->context->season->today));
    if (weighed)
        text_add(&text, " Aim: the largest weighted sum of readiness %s.",
                 aim == AIM_FIRST  ? "on each event's first day"
                 : aim == AIM_LAST ? "on each event's last day"
                                   : "as the mean of each event's days");
    document_title(doc, "%s", text_of(&text));
    text_free(&text);
}

/* The longest taper looked at before any event [d]. */
static size_t longest_searched(const Context *d, const JointPeaks *p) {
    size_t longest = 0, most = (size_t)d->question->limits.max_length;
    for (size_t k = 0; k < p->count; k++)
        if (p->events[k].own.window > longest)
            longest = p->events[k].own.window;
    return longest < most ? longest : most;
}

void joint_text(const Context *d, const JointPeaks *all, size_t count,
                Document *doc) {
    const JointPeaks *p = all; /* one with as many events as any */
    bool silent = all_silent(all, count);
    for (size_t i = 1; i < count; i++)
        p = all[i].count > p->count ? &all[i] : p;
    add_title(p, count == 1, !silent, doc);
    if (count == 1)
        add_one(p, doc);
    else {
        add_squad_lead(all, count, p, doc);
        add_sureness(all, count, doc);
        add_unknown(all, count, doc);
        add_squad(all, count, doc);
        add_team(all, count, p, doc);
        add_losers(all, count, doc);
    }
    add_handed(all, count, doc);
    if (!silent)
        add_scale(all, count, doc);
    document_words(doc, WORDS_ITEM,
                   "Each taper ends on the day before its event and begins "
                   "after the event before; between them the usual week goes "
                   "on. plan --joint writes the plan of all, in which sessions "
                   "of the team are cut alike.");
    footer(p->c, longest_searched(d, p), doc);
}

void joint_text_csv(const Output *o, const JointPeaks *p, size_t count) {
    output_header(o,
                  "athlete,event,start,weight,option,readiness,low,high,gain,"
                  "gain_low,gain_high,no_taper,best,best_gain,alone,alone_gain,"
                  "gives_up,handed_gain,followed");
    for (size_t i = 0; i < count; i++)
        csv_rows(&p[i], o->to);
}
