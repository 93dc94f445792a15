/* taper: which length, cut and shape is best for the event, and which are as
 * good.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/taper.h"

#include "commands/commands.h"

#include "base/mem.h"
#include "base/spool.h"
#include "commands/advice.h"
#include "commands/changed.h"
#include "commands/costs.h"
#include "commands/curves.h"
#include "commands/joint.h"
#include "commands/sessions.h"
#include "commands/squad.h"
#include "commands/verdict.h"
#include "commands/views.h"
#include "present/grid.h"
#include "present/progress.h"

#include <math.h>
#include <stdlib.h>

/* ---- CSV ---- */

static void csv_row(const Verdict *v, const Found *f, const char *spec,
                    const char *shape, FILE *to) {
    Spread spread = verdict_spread(v, &f->option);
    bool ceiling = f->tag == TAG_CEILING, none = f->tag == TAG_NONE;
    Csv csv;
    if (ceiling)
        spread = (Spread){NAN, NAN, NAN, NAN, NAN};
    csv_begin(&csv, to);
    csv_text(&csv, v->c->name);
    csv_text(&csv, v->c->event->name);
    csv_text(&csv, spec);
    csv_number(&csv, ceiling ? (double)v->longest : option_days(&f->option));
    csv_number(&csv, ceiling ? NAN : option_cut(&f->option));
    csv_text(&csv, shape);
    csv_number(&csv, case_shown(v->c, f->readiness));
    csv_number(&csv, spread.readiness_low);
    csv_number(&csv, spread.readiness_high);
    csv_number(&csv, f->gain);
    csv_number(&csv, search_share(f->gain, v->possible));
    csv_number(&csv, f->kept);
    csv_number(&csv, none ? NAN : spread.beats_none);
    csv_text(&csv, tag_names[f->tag]);
    csv_number(&csv, spread.gain_low);
    csv_number(&csv, spread.gain_high);
    csv_end(&csv);
}

/* An option that is the best and the recommended one has two rows. */
static void print_csv(const Verdict *v, FILE *to) {
    const Search *s = &v->search;
    Found ceiling = {
        .readiness = s->ceiling, .gain = v->possible, .tag = TAG_CEILING};
    ceiling.kept = search_kept_cuts(&v->c->outlook, s->ceiling_cut, v->longest);
    for (size_t i = 0; i < s->count; i++) {
        Found found = s->items[i];
        Text spec = {0};
        const char *shape = shape_names[option_shape(&found.option)];
        option_write(&found.option, &spec);
        if (i == s->best && i == s->recommended && i > 0) {
            found.tag = TAG_BEST;
            csv_row(v, &found, text_of(&spec), shape, to);
            found.tag = TAG_RECOMMENDED;
        }
        csv_row(v, &found, text_of(&spec), shape, to);
        text_free(&spec);
    }
    csv_row(v, &ceiling, "ceiling", "", to);
}

/* ---- squad ---- */

/* The best option for which `fits` says yes; 0 if none. */
static size_t best_where(const Search *s, bool (*fits)(const Option *)) {
    size_t best = 0;
    for (size_t i = 1; i < s->count; i++)
        if (fits(&s->items[i].option) &&
            (best == 0 || s->items[i].gain > s->items[best].gain))
            best = i;
    return best;
}

/* Within the published band: 8-14 days, 41-60 % (Bosquet et al. 2007, Med Sci
 * Sports Exerc 39:1358-1365). */
static bool in_band(const Option *o) {
    return option_shape(o) == SHAPE_STEP && option_more(o) == 0 &&
           option_days(o) >= 8 && option_days(o) <= 14 && option_cut(o) >= 41 &&
           option_cut(o) <= 60;
}

static void published_cell(Grid *grid, const Verdict *v) {
    size_t best = best_where(&v->search, in_band);
    const Found *f = &v->search.items[best];
    double share = search_share(f->gain, v->possible);
    char number[FIGURE_TEXT];
    Text spec = {0};
    option_write(&f->option, &spec);
    if (best > 0)
        grid_cell(grid, "%s %s", text_of(&spec),
                  share < -.005 ? "worse" : percent_cell(number, share));
    else
        grid_cell(grid, "-");
    text_free(&spec);
}

static void first_day(const Case *c, const Option *option,
                      char text[DATE_TEXT]) {
    date_write_short(text, c->event->start - (Date)option_days(option));
}

static void print_squad(const Verdict *v, size_t count, FILE *to) {
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
        grid_cell(&grid, "%s", percent_cell(number, f->kept));
        grid_cell(&grid, "%s",
                  percent_cell(number, search_share(f->gain, v[i].possible)));
        grid_cell(
            &grid, "%s",
            percent_cell(number, f->option.count ? spread.beats_none : NAN));
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

static void table_row(Grid *grid, const Verdict *v, const Option *option,
                      const Found *f, const char *what) {
    Text spec = {0};
    char number[FIGURE_TEXT];
    double scale = verdict_scale(v);
    Spread spread = verdict_spread(v, option);
    option_write(option, &spec);
    grid_cell(grid, "%s", what);
    grid_cell(grid, "%s", text_of(&spec));
    grid_cell(grid, "%s",
              figure(number, case_shown(v->c, f->readiness), scale));
    grid_cell(grid, "%s%s", f->gain >= 0 ? "+" : "",
              figure(number, f->gain, scale));
    if (isfinite(spread.gain_low) && option->count) {
        char high[FIGURE_TEXT];
        grid_cell(grid, "%s to %s", figure(number, spread.gain_low, scale),
                  figure(high, spread.gain_high, scale));
    } else {
        grid_cell(grid, "-");
    }
    grid_cell(grid, "%s",
              percent_cell(number, search_share(f->gain, v->possible)));
    grid_cell(grid, "%s", percent_cell(number, f->kept));
    grid_cell(grid, "%s",
              percent_cell(number, option->count ? spread.beats_none : NAN));
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

static void table_best_of(Grid *grid, const Verdict *v,
                          bool (*fits)(const Option *), const char *what) {
    const Search *s = &v->search;
    size_t best = best_where(s, fits);
    if (best > 0 && best != s->best && best != s->recommended)
        table_row(grid, v, &v->search.items[best].option,
                  &v->search.items[best], what);
}

void taper_table(const Verdict *v, Grid *grid) {
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
    table_best_of(grid, v, in_band, "published");
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

static void print_table(const Verdict *v, FILE *to) {
    Grid grid;
    taper_table(v, &grid);
    grid_print(&grid, to, 20);
    grid_free(&grid);
}

void taper_recommended_words(const Verdict *v, Text *text) {
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

static void print_recommended(const Verdict *v, FILE *to) {
    Text text = {0};
    taper_recommended_words(v, &text);
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

/* ---- limits ---- */

static void add_cut_limit(const Verdict *v, const Limits *limits, Text *text) {
    Limits moved = *limits;
    char words[96];
    moved.max_cut = fmin(100, limits->max_cut + 5);
    snprintf(words, sizeof words, "One step more (%.4g %%)", moved.max_cut);
    text_add(text, "The best lies on the limit of the cut (%.4g %%).",
             limits->max_cut);
    costs_moved(v, moved, words, text);
    moved.max_cut = 100;
    if (limits->max_cut + 5 < 100)
        costs_moved(v, moved, "Full rest for as long", text);
}

static void add_length_limit(const Verdict *v, const Limits *limits,
                             Text *text) {
    Limits moved = *limits;
    moved.max_length++;
    text_add(text, "%sThe best lies on the limit of the length (%d days).",
             text->length ? " " : "", limits->max_length);
    if (v->c->outlook.window < (size_t)moved.max_length)
        text_add(text, " There is no day more before the event.");
    else
        costs_moved(v, moved, "One day more", text);
}

static void add_why(const Verdict *v, Text *text) {
    size_t days = verdict_cut_days(v);
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

static void print_limits(const Verdict *v, bool named, FILE *to) {
    const Limits *limits = &v->c->desk->question->limits;
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
    costs_given(v, &text);
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

static void add_wrong(const Verdict *v, int days, double points,
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
static void print_wrong(const Verdict *v, FILE *to) {
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

static void print_scale(const Verdict *v, FILE *to) {
    double percent =
        verdict_percent(v, v->search.items[v->search.recommended].gain);
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

static void print_one(const Verdict *v, FILE *to) {
    print_shown_line(to, v->c->name);
    fputc('\n', to);
    print_table(v, to);
    fputc('\n', to);
    print_recommended(v, to);
    print_wrong(v, to);
    print_limits(v, false, to);
    print_scale(v, to);
    sessions_print(v, to);
}

/* ---- the answer ---- */

static void print_head(const Verdict *v, FILE *to) {
    Text text = {0};
    char day[DATE_TEXT];
    const Question *q = v->c->desk->question;
    event_words(v->c, &text);
    text_add(&text, ". Today %s. Aim: readiness %s.",
             date_write_short(day, v->c->desk->season->today),
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
static void print_who(const Verdict *v, size_t count, FILE *to) {
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
static void print_alike(const Verdict *v, size_t count, FILE *to) {
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

static void print_text(const Desk *d, const Verdict *v, size_t count,
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
        verdict_print_warnings(&v[i], to);
    fputc('\n', to);
    desk_print_evidence(to);
    verdict_print_limits(&v[0], to);
    desk_print_basis(d, v[0].c, to);
    desk_print_cautions(d, to);
}

StatusCode taper_draw_map(const Verdict *v, const Gallery *gallery, Text *paths,
                          Status *status) {
    Text name = {0}, title = {0}, words = {0};
    StatusCode code;
    MapPicture picture = {.search = &v->search,
                          .score = &v->score,
                          .limits = &v->c->desk->question->limits,
                          .longest = v->longest,
                          .draws = &v->draws};
    text_add(&title, "%s: taper for %s", v->c->name, v->c->event->name);
    model_short(case_model(v->c), &words);
    text_add(&words, "; each cell a step taper");
    picture.title = text_of(&title);
    picture.subtitle = text_of(&words);
    output_file_name(v->c, "map", &name);
    code = picture_map(&picture, gallery, text_of(&name), paths, status);
    text_free(&name);
    text_free(&title);
    text_free(&words);
    return code;
}

StatusCode taper_draw_season(const Verdict *v, const Gallery *gallery,
                             Text *paths, Status *status) {
    const Search *s = &v->search;
    const Outlook *o = &v->c->outlook;
    Curves curves;
    StatusCode code;
    curves_build(v->c, &s->items[s->recommended].option, READ_BEFORE,
                 o->event_day + o->event_days, true, &curves);
    code = curves_draw(&curves, "taper", gallery, paths, status);
    curves_free(&curves);
    return code;
}

static StatusCode draw_one(const void *answers, size_t at,
                           const Gallery *gallery, Text *paths,
                           Status *status) {
    const Verdict *v = (const Verdict *)answers + at;
    StatusCode code = taper_draw_map(v, gallery, paths, status);
    if (code == STATUS_OK)
        code = sessions_draw(v, gallery, paths, status);
    if (code == STATUS_OK)
        code = taper_draw_season(v, gallery, paths, status);
    return code;
}

static void print_csv_header(const Output *o) {
    output_header(o, "athlete,event,option,length,cut,shape,readiness,low,high,"
                     "gain,share,kept,beats_none,tag,gain_low,gain_high");
}

/* ---- with pictures or changed days: all athletes are kept for them ---- */

static StatusCode answer(const Call *call, const Desk *d, const Case *cases,
                         size_t count, Status *status) {
    Verdict *v = mem_new(count, sizeof *v);
    StatusCode code = STATUS_OK;
    Progress progress =
        progress_begin("athletes searched", count, call->output.quiet);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = verdict_build(&cases[i], &v[i], status);
    }
    progress_end(&progress);
    if (code == STATUS_OK && call->output.csv)
        print_csv_header(&call->output);
    for (size_t i = 0; i < count && code == STATUS_OK && call->output.csv; i++)
        print_csv(&v[i], call->output.to);
    if (code == STATUS_OK && !call->output.csv)
        code = changed_print(v, count, call->output.to, status);
    if (code == STATUS_OK && !call->output.csv)
        print_text(d, v, count, call->output.to);
    if (code == STATUS_OK && call->output.folder)
        code = output_draw(&call->output, &(Drawing){v, count, draw_one},
                           "Pictures", status);
    for (size_t i = 0; i < count; i++)
        verdict_free(&v[i]);
    free(v);
    return code;
}

/* ---- without: athlete after athlete ---- */

typedef struct {
    Seat seat;
    Status status;
    Verdict verdict;
    Spool text;
} TaperSlot;

typedef struct {
    const Call *call;
    Desk *desk;
    Spool spool; /* of --csv */
    Case *cases; /* of a table: those after the first slim */
    Verdict *v;
    size_t count;
    Status *status;
} TaperJob;

static void taper_work(void *with, Seat *seat) {
    const TaperJob *job = with;
    TaperSlot *slot = (TaperSlot *)seat;
    Verdict *v = &slot->verdict;
    if (verdict_build(&seat->c, v, &slot->status) == STATUS_OK &&
        !job->call->output.csv)
        return;
    if (slot->status.code == STATUS_OK)
        print_csv(v, spool_open(&slot->text));
    verdict_free(v);
}

static void keep_verdict(TaperJob *job, TaperSlot *slot) {
    Case *c = &job->cases[job->count];
    Verdict *v = &job->v[job->count++];
    desk_keep(job->desk, &slot->seat, c);
    verdict_move(&slot->verdict, c, v);
    if (job->count == 1)
        return;
    verdict_slim(v, best_where(&v->search, in_band));
    case_slim(c);
}

static bool taper_take(void *with, Seat *seat) {
    TaperJob *job = with;
    TaperSlot *slot = (TaperSlot *)seat;
    if (slot->status.code != STATUS_OK && job->status->code == STATUS_OK)
        *job->status = slot->status;
    if (slot->status.code == STATUS_OK && !job->call->output.csv)
        keep_verdict(job, slot);
    spool_move(&slot->text, &job->spool);
    return job->status->code == STATUS_OK;
}

static StatusCode print_job(TaperJob *job, Status *status) {
    const Call *call = job->call;
    if (!call->output.csv) {
        print_text(job->desk, job->v, job->count, call->output.to);
        return STATUS_OK;
    }
    if (spool_end(&job->spool, status) != STATUS_OK)
        return status->code;
    print_csv_header(&call->output);
    return spool_print(&job->spool, call->output.to, status);
}

static StatusCode answer_each(const Call *call, Desk *d, Status *status) {
    TaperJob job = {.call = call, .desk = d, .status = status};
    Stream stream = {.doing = "athletes searched",
                     .need_event = true,
                     .slot = sizeof(TaperSlot),
                     .work = taper_work,
                     .take = taper_take,
                     .with = &job};
    StatusCode code;
    job.cases = mem_new(d->chosen_count, sizeof *job.cases);
    job.v = mem_new(d->chosen_count, sizeof *job.v);
    spool_file(&job.spool);
    code = desk_stream(d, &stream);
    if (status->code != STATUS_OK && code == STATUS_OK)
        code = status->code;
    call->say(call->notes);
    if (code == STATUS_OK)
        code = print_job(&job, status);
    for (size_t i = 0; i < job.count; i++)
        verdict_free(&job.v[i]);
    free(job.v);
    spool_free(&job.spool);
    desk_free_cases(job.cases, job.count);
    return code;
}

StatusCode command_taper(const Call *call, Status *status) {
    const Question *q = call->question;
    Answer other = q->joint        ? joint_answer
                   : q->view_count ? views_answer
                   : q->plans      ? squad_answer
                                   : answer;
    bool plain = other == answer && !call->output.folder && !q->change_count &&
                 !q->weekdays;
    StatusCode code;
    Desk d;
    if (!plain)
        return command_on_cases(call, true, other, status);
    code = desk_open_each(q, call->notes, &d);
    if (code == STATUS_OK)
        code = answer_each(call, &d, status);
    else
        call->say(call->notes);
    desk_close(&d);
    return code;
}
