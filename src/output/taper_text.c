/* taper_text: see taper_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/taper_text.h"

#include "base/mem.h"
#include "output/advice.h"
#include "output/event_days_text.h"
#include "output/footer.h"
#include "output/limit_costs.h"
#include "output/taper_warnings.h"
#include "output/words.h"

#include <math.h>
#include <stdlib.h>

/* ---- squad ---- */

static void published_cell(Grid *grid, const BestTaper *v) {
    size_t best = best_taper_where(&v->search, best_taper_published);
    const Found *f = &v->search.items[best];
    double share = search_share(f->gain, v->possible);
    char number[FIGURE_TEXT];
    Text spec = {0};
    option_write(&f->option, &spec);
    if (best > 0)
        grid_cell(grid, "%s %s", text_of(&spec),
                  share < -.005 ? "worse" : words_percent(number, share));
    else
        grid_cell(grid, "-");
    text_free(&spec);
}

static void first_day(const Case *c, const Option *option,
                      char text[DATE_TEXT]) {
    date_write_short(text, c->event->start - (Date)option_days(option));
}

static void print_squad(const BestTaper *v, size_t count, FILE *to) {
    static const GridColumn columns[] = {
        {"athlete", false},         {"recommended\ntaper", false},
        {"first\nday", false},      {"train.\nkept", true},
        {"of the\npossible", true}, {"beats\nnone", true},
        {"model's\nbest", false},   {"best as\npublished", false}};
    Grid grid;
    grid_start(&grid, columns, 8);
    for (size_t i = 0; i < count; i++) {
        const Search *s = &v[i].search;
        const Found *f = &s->items[s->recommended];
        Spread spread = v[i].spread;
        Text spec = {0};
        char day[DATE_TEXT], number[FIGURE_TEXT];
        option_write(&f->option, &spec);
        grid_cell(&grid, "%s", v[i].c->name);
        grid_cell(&grid, "%s", text_of(&spec));
        first_day(v[i].c, &f->option, day);
        grid_cell(&grid, "%s", f->option.count ? day : "-");
        grid_cell(&grid, "%s", words_percent(number, f->kept));
        grid_cell(&grid, "%s",
                  words_percent(number, search_share(f->gain, v[i].possible)));
        grid_cell(
            &grid, "%s",
            words_percent(number, f->option.count ? spread.beats_none : NAN));
        text_clear(&spec);
        option_write(&s->items[s->best].option, &spec);
        grid_cell(&grid, "%s", text_of(&spec));
        published_cell(&grid, &v[i]);
        text_free(&spec);
    }
    grid_print(&grid, to, 18);
    grid_free(&grid);
}

/* ---- one athlete ---- */

static void table_row(Grid *grid, const BestTaper *v, const Option *option,
                      const Found *f, const char *what) {
    Text spec = {0};
    char number[FIGURE_TEXT];
    double scale = best_taper_scale(v);
    Spread spread = best_taper_spread(v, option);
    option_write(option, &spec);
    grid_cell(grid, "%s", what);
    grid_cell(grid, "%s", text_of(&spec));
    grid_cell(grid, "%s",
              words_figure(number, case_shown(v->c, f->readiness), scale));
    grid_cell(grid, "%s%s", f->gain >= 0 ? "+" : "",
              words_figure(number, f->gain, scale));
    if (isfinite(spread.gain_low) && option->count) {
        char high[FIGURE_TEXT];
        grid_cell(grid, "%s to %s",
                  words_figure(number, spread.gain_low, scale),
                  words_figure(high, spread.gain_high, scale));
    } else {
        grid_cell(grid, "-");
    }
    grid_cell(grid, "%s",
              words_percent(number, search_share(f->gain, v->possible)));
    grid_cell(grid, "%s", words_percent(number, f->kept));
    grid_cell(grid, "%s",
              words_percent(number, option->count ? spread.beats_none : NAN));
    text_free(&spec);
}

static bool is_step(const Option *o) {
    return option_shape(o) == SHAPE_STEP;
}

static bool is_linear(const Option *o) {
    return option_shape(o) == SHAPE_LINEAR;
}

static bool is_exponential(const Option *o) {
    return option_shape(o) == SHAPE_EXPONENTIAL;
}

static bool is_two_step(const Option *o) {
    return option_shape(o) == SHAPE_TWO_STEP;
}

static bool is_rest(const Option *o) {
    return option_shape(o) == SHAPE_REST;
}

static void table_best_of(Grid *grid, const BestTaper *v,
                          bool (*fits)(const Option *), const char *what) {
    const Search *s = &v->search;
    size_t best = best_taper_where(s, fits);
    if (best > 0 && best != s->best && best != s->recommended)
        table_row(grid, v, &v->search.items[best].option,
                  &v->search.items[best], what);
}

void taper_text_table(const BestTaper *v, Grid *grid) {
    static const GridColumn columns[] = {{"", false},
                                         {"taper", false},
                                         {"readi-\nness", true},
                                         {"gain", true},
                                         {"gain,\n5-95 %", true},
                                         {"of the\npossible", true},
                                         {"training\nkept", true},
                                         {"beats\nnone", true}};
    const Search *s = &v->search;
    const Found *items = s->items;
    Option none = {.count = 0};
    Found ceiling = {.readiness = s->ceiling, .gain = v->possible};
    grid_start(grid, columns, 8);
    table_row(grid, v, &none, &items[0], "no taper");
    if (s->best > 0) {
        table_row(grid, v, &items[s->recommended].option,
                  &items[s->recommended], "recommended");
        table_row(grid, v, &items[s->best].option, &items[s->best], "best");
    }
    table_best_of(grid, v, best_taper_published, "published");
    if (s->best > 0) {
        table_best_of(grid, v, is_step, "step");
        table_best_of(grid, v, is_two_step, "two-step");
        table_best_of(grid, v, is_linear, "linear");
        table_best_of(grid, v, is_exponential, "expon.");
    }
    table_best_of(grid, v, is_rest, "rest");
    ceiling.kept = search_kept_cuts(&v->c->outlook, s->ceiling_cut, v->longest);
    table_row(grid, v, &none, &ceiling, "ceiling");
    free(grid->cells[grid->cell_count - 7]);
    grid->cells[grid->cell_count - 7] = mem_copy("any loads");
}

static void print_table(const BestTaper *v, FILE *to) {
    Grid grid;
    taper_text_table(v, &grid);
    grid_print(&grid, to, 20);
    grid_free(&grid);
}

void taper_text_recommended(const BestTaper *v, Text *text) {
    const Search *s = &v->search;
    const Found *f = &s->items[s->recommended];
    char day[DATE_TEXT];
    if (s->best == 0)
        return;
    first_day(v->c, &f->option, day);
    text_add(text, "Do this: from %s, ", day);
    option_words(&f->option, text);
    text_add(text, "; %s. ",
             option_shape(&f->option) == SHAPE_REST
                 ? "train as usual until then, and easy mobility is fine"
                 : "weights, speed and number of sessions as usual");
    if (s->equal > 1)
        text_add(text,
                 "It keeps the most training among the %zu options within 5 %% "
                 "of the best gain, which cannot be told apart.",
                 s->equal);
    else
        text_add(text, "No other option comes within 5 %% of its gain.");
}

static void print_recommended(const BestTaper *v, FILE *to) {
    Text text = {0};
    taper_text_recommended(v, &text);
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

/* ---- limits ---- */

static void add_cut_limit(const BestTaper *v, const Limits *limits,
                          Text *text) {
    Limits moved = *limits;
    char words[96];
    moved.max_cut = fmin(100, limits->max_cut + 5);
    snprintf(words, sizeof words, "One step more (%.4g %%)", moved.max_cut);
    text_add(text, "The best lies on the limit of the cut (%.4g %%).",
             limits->max_cut);
    limit_costs_moved(v, moved, words, text);
    moved.max_cut = 100;
    if (limits->max_cut + 5 < 100)
        limit_costs_moved(v, moved, "Full rest for as long", text);
}

static void add_length_limit(const BestTaper *v, const Limits *limits,
                             Text *text) {
    Limits moved = *limits;
    moved.max_length++;
    text_add(text, "%sThe best lies on the limit of the length (%d days).",
             text->length ? " " : "", limits->max_length);
    if (v->c->outlook.window < (size_t)moved.max_length)
        text_add(text, " There is no day more before the event.");
    else
        limit_costs_moved(v, moved, "One day more", text);
}

static void add_why(const BestTaper *v, Text *text) {
    size_t days = best_taper_cut_days(v);
    if (days == 0)
        return;
    text_add(text,
             " Why: in this model a session in the last %zu day%s before the "
             "event takes more freshness than it gives fitness by then, so it "
             "always asks for the largest cut allowed in those days and for "
             "none before. It knows nothing of skill, sharpness and morale, "
             "which is why there is a limit.",
             days, days == 1 ? "" : "s");
}

static void print_limits(const BestTaper *v, bool named, FILE *to) {
    const Limits *limits = &v->c->context->question->limits;
    const Search *s = &v->search;
    const Option *best = &s->items[s->best].option;
    Text text = {0}, who = {0};
    if (s->best == 0)
        return;
    if (option_cut(best) >= limits->max_cut && limits->max_cut < 100 &&
        option_shape(best) != SHAPE_REST)
        add_cut_limit(v, limits, &text);
    if (option_days(best) >= limits->max_length)
        add_length_limit(v, limits, &text);
    if (text.length)
        add_why(v, &text);
    limit_costs_given(v, &text);
    if (text.length && named)
        text_add(&who, "%s: ", v->c->name);
    text_add(&who, "%s", text_of(&text));
    if (text.length)
        print_wrapped(to, text_of(&who), 79, 0);
    text_free(&text);
    text_free(&who);
}

/* ---- what it costs to be wrong ---- */

/* An option with its longest part longer or shorter, or its cuts moved; false
 * when there is no such option. */
static bool move_option(Option *o, int days, double points) {
    int longest = 0;
    for (int i = 1; i < o->count; i++)
        if (o->part[i].days > o->part[longest].days)
            longest = i;
    o->part[longest].days += days;
    for (int i = 0; i < o->count; i++) {
        OptionPart *p = &o->part[i];
        p->to = fmin(100, fmax(0, p->to + points));
        p->from = p->fall == 'x' ? p->to : p->from;
    }
    return o->part[longest].days > 0;
}

static void add_wrong(const BestTaper *v, int days, double points,
                      const char *words, Text *text) {
    const Found *f = &v->search.items[v->search.recommended];
    Option moved = f->option;
    double gain;
    if (!move_option(&moved, days, points) ||
        option_days(&moved) > (int)v->longest)
        return;
    gain = score_option(&v->score, &moved) - v->search.items[0].readiness;
    text_add(text, "%s %s %+.0f %%", text->length ? "," : "", words,
             100 * (gain / f->gain - 1) + 0.0);
}

/* Expected over the draws. */
static void print_wrong(const BestTaper *v, FILE *to) {
    Text text = {0}, whole = {0};
    if (v->search.best == 0)
        return;
    add_wrong(v, -3, 0, "3 days shorter", &text);
    add_wrong(v, 3, 0, "3 days longer", &text);
    add_wrong(v, 0, -20, "20 points less cut", &text);
    add_wrong(v, 0, 20, "20 points more cut", &text);
    text_add(&whole, "Not quite as planned? Its expected gain changes:%s.",
             text_of(&text));
    print_wrapped(to, text_of(&whole), 79, 0);
    text_free(&text);
    text_free(&whole);
}

static void print_scale(const BestTaper *v, FILE *to) {
    double percent =
        best_taper_percent(v, v->search.items[v->search.recommended].gain);
    Text text = {0};
    if (v->search.best == 0)
        return;
    if (isfinite(percent))
        text_add(&text,
                 "The recommended taper's gain is %.1f %% of readiness "
                 "without a taper, in the unit of %s%s.",
                 percent, case_model(v->c)->unit,
                 case_model(v->c)->lower ? " (lower is better)" : "");
    else
        text_add(&text,
                 "Readiness and gain are in the model's own scale: no test "
                 "ties them to a unit, so read the shares, not the numbers.");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_one(const BestTaper *v, FILE *to) {
    print_shown_line(to, v->c->name);
    fputc('\n', to);
    print_table(v, to);
    fputc('\n', to);
    print_recommended(v, to);
    print_wrong(v, to);
    print_limits(v, false, to);
    print_scale(v, to);
    event_days_text_print(v, to);
}

/* ---- the answer ---- */

static void print_head(const BestTaper *v, FILE *to) {
    Text text = {0};
    char day[DATE_TEXT];
    const Question *q = v->c->context->question;
    words_event(v->c, &text);
    text_add(&text, ". Today %s. Aim: readiness %s.",
             date_write_short(day, v->c->context->season->today),
             v->c->event->days == 1 ? "on the day"
             : q->aim == AIM_MEAN   ? "as the mean of its days"
             : q->aim == AIM_LOWEST ? "on its worst day"
             : q->aim == AIM_FIRST  ? "on its first day"
                                    : "on its last day");
    fputs("Taper for ", to);
    print_wrapped(to, text_of(&text), 69, 0);
    fputc('\n', to);
    text_free(&text);
}

/* Words for each different recommendation, with who it is for. */
static void print_who(const BestTaper *v, size_t count, FILE *to) {
    Names specs = {0};
    Text *who = mem_new(count, sizeof *who), spec = {0};
    const Option **option = mem_new(count, sizeof *option);
    for (size_t i = 0; i < count; i++) {
        const Search *s = &v[i].search;
        size_t at;
        text_clear(&spec);
        option_write(&s->items[s->recommended].option, &spec);
        at = names_add(&specs, text_of(&spec), spec.length);
        option[at] = &s->items[s->recommended].option;
        text_add(&who[at], "%s%s", who[at].length ? ", " : "", v[i].c->name);
    }
    for (size_t i = 0; i < specs.count; i++) {
        text_add(&who[i], ": ");
        option_words(option[i], &who[i]);
        print_wrapped(to, text_of(&who[i]), 79, 2);
        text_free(&who[i]);
    }
    names_free(&specs);
    text_free(&spec);
    free(who);
    free(option);
}

/* Why one model for all gives one advice for all. */
static void print_alike(const BestTaper *v, size_t count, FILE *to) {
    for (size_t i = 1; i < count; i++) {
        const Search *a = &v[0].search, *b = &v[i].search;
        Text one = {0}, other = {0};
        bool same;
        option_write(&a->items[a->recommended].option, &one);
        option_write(&b->items[b->recommended].option, &other);
        same = text_same(text_of(&one), text_of(&other));
        text_free(&one);
        text_free(&other);
        if (!same)
            return;
    }
    print_wrapped(
        to,
        "The same for all: with one model and one usual week the log "
        "moves the curves, not this choice. Tests (tests.csv), a model of "
        "her own (athletes.csv, column model) or a week of her own "
        "(week.csv, column athlete) tell an athlete apart.",
        79, 0);
}

void taper_text_print(const Context *d, const BestTaper *v, size_t count,
                      FILE *to) {
    print_head(&v[0], to);
    if (count == 1) {
        print_one(&v[0], to);
    } else {
        print_squad(v, count, to);
        fputc('\n', to);
        print_who(v, count, to);
        print_wrapped(to,
                      "Weights, speed and number of sessions stay as usual. "
                      "'of the possible': share of the most that any daily "
                      "loads within the limits could gain. 'train. kept': "
                      "of the load planned in the days searched. 'beats "
                      "none': share of the likely models in "
                      "which it helps. 'best as published': best within the "
                      "published band, 8-14 days at 41-60 % less ('worse': "
                      "than no taper). --athlete ID tells more.",
                      79, 0);
        print_alike(v, count, to);
        print_limits(&v[0], d->model_count > 1, to);
    }
    advice_print_last(v, count, to);
    for (size_t i = 0; i < count; i++)
        taper_warnings_print(&v[i], to);
    fputc('\n', to);
    footer_evidence(to);
    taper_warnings_limits(v[0].c, v[0].longest, to);
    footer_basis(d, v[0].c, to);
    footer_cautions(d, to);
}
