/* joint_text: see joint_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/joint_text.h"

#include "cases/models.h"
#include "output/footer.h"
#include "output/taper_warnings.h"
#include "output/words.h"
#include "present/grid.h"

#include <math.h>

/* ---- computing ---- */

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

static void print_csv(const JointPeaks *p, FILE *to) {
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
        csv_option(&csv, &p->joint.best[k], 1);
        csv_number(&csv, peak->best - peak->none);
        csv_option(&csv, peak->alone.best, k + 1);
        csv_number(&csv, peak->most - peak->none);
        csv_number(&csv, joint_peaks_given_up(peak));
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

static void cell_gain(Grid *grid, const JointPeaks *p, double gain) {
    char number[FIGURE_TEXT];
    grid_cell(grid, "%s%s", gain >= 0 ? "+" : "",
              words_figure(number, gain, p->scale));
}

static void print_plan(const JointPeaks *p, FILE *to) {
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
        grid_cell(&grid, "%s",
                  words_figure(number, case_shown(p->c, peak->none), p->scale));
        grid_cell(
            &grid, "%s",
            words_figure(number, case_shown(p->c, peak->readiness), p->scale));
        cell_gain(&grid, p, peak->readiness - peak->none);
        if (isfinite(peak->gain_low))
            grid_cell(&grid, "%s to %s",
                      words_figure(number, peak->gain_low, p->scale),
                      words_figure(high, peak->gain_high, p->scale));
        else
            grid_cell(&grid, "-");
    }
    grid_print(&grid, to, 18);
    grid_free(&grid);
}

static void print_price(const JointPeaks *p, FILE *to) {
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
        cell_gain(&grid, p, peak->best - peak->none);
        cell_option(&grid, peak->alone.best, k + 1);
        cell_gain(&grid, p, peak->most - peak->none);
        grid_cell(&grid, "%s",
                  words_figure(number, joint_peaks_given_up(peak), p->scale));
    }
    grid_print(&grid, to, 24);
    grid_free(&grid);
}

/* What to do before one event, and what that costs it. */
static void print_words(const JointPeaks *p, size_t k, FILE *to) {
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
    if (p->events[k].own.window > 0 && isfinite(share))
        text_add(&text,
                 "; it gets %.0f %% of the most it could gain if it alone "
                 "mattered.",
                 100 * share);
    else if (p->events[k].own.window > 0)
        text_add(&text, ".");
    print_wrapped(to, text_of(&text), 79, 2);
    text_free(&text);
}

/* [1] below which 28 days are told as a long spell: common practice, no
 * source. */
#define SPELL_LOW .5

/* What the floor held back, or a long spell of low load. */
static void print_floor(const JointPeaks *p, FILE *to) {
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
    if (f->holds_back && f->lifted <= f->gain + 1e-9 * p->scale)
        text_add(&text, "That costs nothing here.");
    else if (f->holds_back)
        text_add(&text,
                 "Without that (--floor 0) the best tapers' gains, weighed, "
                 "would add up to %s in place of %s.",
                 words_figure(a, f->lifted, p->scale),
                 words_figure(b, f->gain, p->scale));
    else if (f->lowest < SPELL_LOW)
        text_add(&text,
                 "Look at: the 28 days from %s keep only %.0f %% of the "
                 "training planned between events. So long a spell of low load "
                 "is no taper; fewer events to taper for (--event) or a higher "
                 "--floor leave more.",
                 date_write_short(day, p->events[p->count - 1].wide.first +
                                           (Date)f->from),
                 100 * f->lowest);
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_one(const JointPeaks *p, FILE *to) {
    Text text = {0};
    print_shown_line(to, p->c->name);
    fputc('\n', to);
    print_plan(p, to);
    fputc('\n', to);
    fputs("What to do, weights and effort as usual:\n", to);
    for (size_t k = 0; k < p->count; k++)
        print_words(p, k, to);
    if (isfinite(p->beats_none)) {
        text_add(&text,
                 "All tapers together, weighed, help in %.0f of 100 likely "
                 "models.",
                 100 * p->beats_none);
        print_wrapped(to, text_of(&text), 79, 0);
    }
    print_floor(p, to);
    fputs("\nWhat each event gives up for the others:\n\n", to);
    print_price(p, to);
    fputc('\n', to);
    text_free(&text);
}

/* The same of a squad, counted. */
static void print_floors(const JointPeaks *p, size_t count, FILE *to) {
    size_t held = 0, low = 0;
    Text text = {0};
    for (size_t i = 0; i < count; i++) {
        held += p[i].floor.holds_back;
        low += p[i].floor.lowest < SPELL_LOW;
    }
    if (held > 0)
        text_add(&text,
                 "Tapers of %zu of %zu athletes are held back, so that any 28 "
                 "days keep %.0f %% or more of the training planned between "
                 "events (--floor; --athlete ID tells what it costs). ",
                 held, count, p->c->context->question->floor);
    if (low > 0)
        text_add(&text,
                 "Look at: %zu of %zu keep less than half of it in some 28 "
                 "days; so long a spell of low load is no taper.",
                 low, count);
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_squad(const JointPeaks *p, size_t count, FILE *to) {
    static const GridColumn columns[] = {
        {"athlete", false},    {"event", false}, {"taper", false},
        {"first\nday", false}, {"gain", true},   {"alone", true},
        {"of\nthat", true}};
    Grid grid;
    grid_start(&grid, columns, 7);
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < p[i].count; k++) {
            const JointPeak *peak = &p[i].peaks[k];
            const Option *option = &p[i].joint.recommended[k];
            char day[DATE_TEXT], number[FIGURE_TEXT];
            grid_cell(&grid, "%s", k ? "" : p[i].c->name);
            grid_cell(&grid, "%s", peak->event->name);
            cell_option(&grid, option, 1);
            date_write_short(day,
                             peak->event->start - (Date)option_days(option));
            grid_cell(&grid, "%s", option->count ? day : "-");
            cell_gain(&grid, &p[i], peak->readiness - peak->none);
            cell_gain(&grid, &p[i], peak->most - peak->none);
            grid_cell(&grid, "%s",
                      words_percent(number, joint_peaks_share(peak)));
        }
    grid_print(&grid, to, 18);
    grid_free(&grid);
    fputc('\n', to);
    print_floors(p, count, to);
    print_wrapped(to,
                  "'gain': over no taper at all. 'alone': the most it could "
                  "gain if this event alone mattered; 'of that': the share "
                  "it gets. --athlete ID tells what each gives up.",
                  79, 0);
}

static void print_scale(const JointPeaks *p, size_t count, FILE *to) {
    const Model *model = case_model(p->c);
    bool same = true;
    Text text = {0};
    for (size_t i = 1; i < count; i++)
        same = same && models_same_unit(model, case_model(p[i].c));
    if (!same)
        text_add(&text, "Readiness and gains are each in the unit of the "
                        "athlete's own tests, or in the model's own scale: "
                        "never compare them across athletes.");
    else if (model->scaled)
        text_add(&text, "Readiness and gains are in the unit of %s%s.",
                 model->unit, model->lower ? " (lower is better)" : "");
    else
        text_add(&text, "Readiness and gains are in the model's own scale: no "
                        "test ties them to a unit, so read what is large and "
                        "what is small, not the numbers.");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_head(const JointPeaks *p, FILE *to) {
    Text text = {0};
    char day[DATE_TEXT];
    Aim aim = p->c->context->question->aim;
    text_add(&text, "Tapers for ");
    for (size_t k = 0; k < p->count; k++)
        text_add(&text, "%s%s, %s (weight %.4g)",
                 k == 0              ? ""
                 : k + 1 == p->count ? " and "
                                     : ", ",
                 p->peaks[k].event->name,
                 date_write_short(day, p->peaks[k].event->start), p->weight[k]);
    text_add(&text,
             ", weighed together. Today %s. Aim: the largest weighted sum of "
             "readiness %s.",
             date_write_short(day, p->c->context->season->today),
             aim == AIM_FIRST  ? "on each event's first day"
             : aim == AIM_LAST ? "on each event's last day"
                               : "as the mean of each event's days");
    print_wrapped(to, text_of(&text), 79, 0);
    fputc('\n', to);
    text_free(&text);
}

static void print_text(const Context *d, const JointPeaks *all, size_t count,
                       const Output *o) {
    FILE *to = o->to;
    const JointPeaks *p = all; /* one with as many events as any */
    size_t longest = 0;
    for (size_t i = 1; i < count; i++)
        p = all[i].count > p->count ? &all[i] : p;
    print_head(p, to);
    if (count == 1)
        print_one(p, to);
    else
        print_squad(all, count, to);
    print_scale(all, count, to);
    for (size_t k = 0; k < p->count; k++)
        if (p->events[k].own.window > longest)
            longest = p->events[k].own.window;
    if (longest > (size_t)d->question->limits.max_length)
        longest = (size_t)d->question->limits.max_length;
    print_wrapped(to,
                  "Each taper ends on the day before its event and begins "
                  "behind the event before; between them the usual week goes "
                  "on. 'plan --event NAME --option SPEC' writes the plan of "
                  "each.",
                  79, 0);
    fputc('\n', to);
    footer_print(p->c, longest, o);
}

/* ---- the answer ---- */

void joint_text_present(const Output *o, const Context *d, const JointPeaks *p,
                        size_t count) {
    if (!o->csv) {
        print_text(d, p, count, o);
        return;
    }
    output_header(o,
                  "athlete,event,start,weight,option,readiness,low,high,gain,"
                  "gain_low,gain_high,no_taper,best,best_gain,alone,alone_gain,"
                  "gives_up");
    for (size_t i = 0; i < count; i++)
        print_csv(&p[i], o->to);
}
