/* joint: see joint.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/joint.h"

#include "base/mem.h"
#include "commands/course.h"
#include "commands/curves.h"
#include "commands/event_rules.h"
#include "commands/verdict.h"
#include "present/event_pictures.h"
#include "present/grid.h"
#include "taper/joint.h"

#include <math.h>
#include <stdlib.h>

/* One event in the plan of all. */
typedef struct {
    const Event *event;
    DrawScores draws;
    Joint alone;      /* the tapers if this event alone mattered */
    double none;      /* [readiness] without any taper */
    double readiness; /* [readiness] under the recommended tapers */
    double best;      /* [readiness] under the best ones of all together */
    double most;      /* [readiness] if this event alone mattered */
    double low, high, gain_low, gain_high; /* NAN without draws */
} Peak;

/* One athlete. */
typedef struct {
    const Case *c;
    size_t count;
    JointEvent *events;
    Peak *peaks;
    double *weight;
    Joint joint;
    double scale;      /* [readiness] of gains, for figure() */
    double beats_none; /* share of draws in which the weighted sum gains */
} Peaks;

/* ---- which events ---- */

static bool is_named(const Question *q, const char *name) {
    for (size_t i = 0; i < q->event_count; i++)
        if (text_same(q->events[i], name))
            return true;
    return q->event_count == 0;
}

static StatusCode refuse(const Season *s, size_t line, const char *what,
                         Status *status) {
    char where[32] = "";
    if (line)
        snprintf(where, sizeof where, ":%zu", line);
    return status_fail(status, STATUS_DATA, "%s/events.csv%s: %s: %s",
                       s->folder, where, line ? "start" : "event", what);
}

/* An event that was named must be one that can be planned for. */
static StatusCode judge(const Season *s, const Event *event, Status *status) {
    char what[STATUS_TEXT / 2], shown[TEXT_EXCERPT];
    char day[DATE_TEXT], today[DATE_TEXT];
    int away = event->start - s->today;
    if (away > 0 && away <= OUTLOOK_LONGEST)
        return STATUS_OK;
    snprintf(what, sizeof what, "%s starts on %s, %s %s, expected %s",
             text_excerpt(shown, event->name), date_write(day, event->start),
             away > 0 ? "more than 366 days after today" : "not after today",
             date_write(today, s->today),
             away > 0 ? "an event at most 366 days ahead"
                      : "an event to come, or an earlier --today");
    return refuse(s, event->line, what, status);
}

/* Two events that share days cannot both be planned for. */
static StatusCode judge_pair(const Season *s, const Event *a, const Event *b,
                             Status *status) {
    char what[STATUS_TEXT / 2], one[TEXT_EXCERPT], other[TEXT_EXCERPT];
    if (b->start >= a->start + a->days)
        return STATUS_OK;
    snprintf(what, sizeof what,
             "%s and %s share days, expected events one after the other; "
             "--event names those to weigh",
             text_excerpt(one, a->name), text_excerpt(other, b->name));
    return refuse(s, b->line, what, status);
}

/* The events of one athlete, in order; `event` has room for all. */
static StatusCode choose(const Case *c, const Event **event, size_t *count,
                         Status *status) {
    const Season *s = c->desk->season;
    const Question *q = c->desk->question;
    *count = 0;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        int away = e->start - s->today;
        StatusCode code = STATUS_OK;
        if (!event_concerns(e, c->athlete) || !is_named(q, e->name))
            continue;
        if (q->event_count)
            code = judge(s, e, status);
        else if (away <= 0 || away > OUTLOOK_LONGEST)
            continue;
        if (code == STATUS_OK && *count > 0)
            code = judge_pair(s, event[*count - 1], e, status);
        if (code != STATUS_OK)
            return code;
        event[(*count)++] = e;
    }
    return STATUS_OK;
}

static StatusCode judge_names(const Desk *d, Status *status) {
    const Question *q = d->question;
    for (size_t i = 0; i < q->event_count; i++) {
        bool found = false;
        char what[STATUS_TEXT / 2], shown[TEXT_EXCERPT];
        for (size_t k = 0; k < d->season->event_count; k++)
            found = found || text_same(d->season->events[k].name, q->events[i]);
        if (found)
            continue;
        snprintf(what, sizeof what,
                 "--event %s is not an event of this season, expected the name "
                 "of one",
                 text_excerpt(shown, q->events[i]));
        return refuse(d->season, 0, what, status);
    }
    return STATUS_OK;
}

/* ---- computing ---- */

static void build_event(Peaks *p, size_t k, const Event *event) {
    const Case *c = p->c;
    JointEvent *e = &p->events[k];
    Peak *peak = &p->peaks[k];
    peak->event = event;
    p->weight[k] = event->weight;
    joint_event_build(&c->usual, &c->daily, event, c->before, e);
    verdict_score(c, &e->wide, &peak->draws, &e->score);
    peak->none = score_aim(&e->score, e->score.base);
}

/* The best tapers if event `k` alone mattered. */
static StatusCode run_alone(Peaks *p, size_t k, Status *status) {
    double *weight = mem_new(p->count, sizeof *weight);
    StatusCode code;
    weight[k] = 1;
    code = joint_run(p->events, k + 1, weight, &p->c->desk->question->limits,
                     &p->peaks[k].alone, status);
    free(weight);
    if (code == STATUS_OK)
        p->peaks[k].most =
            joint_readiness(p->events, k, p->peaks[k].alone.best);
    return code;
}

/* Intervals of one event's readiness and gain under the recommended tapers;
 * adds the weighted gains to sum[draw]. */
static void spread(Peaks *p, size_t k, double *sum) {
    Peak *peak = &p->peaks[k];
    size_t n = peak->draws.count;
    double *cut = mem_new(p->events[k].wide.window, sizeof *cut);
    double *readiness = mem_new(n, sizeof *readiness);
    double *gain = mem_new(n, sizeof *gain), low, high;
    joint_cuts(p->events, k, p->joint.recommended, cut);
    for (size_t i = 0; i < n; i++) {
        const Score *s = &peak->draws.score[i];
        readiness[i] = score_cuts(s, cut);
        gain[i] = readiness[i] - score_aim(s, s->base);
        sum[i] += p->weight[k] * gain[i];
    }
    low = case_shown(p->c, n ? draws_quantile(readiness, n, .05) : NAN);
    high = case_shown(p->c, n ? draws_quantile(readiness, n, .95) : NAN);
    peak->low = fmin(low, high);
    peak->high = fmax(low, high);
    peak->gain_low = n ? draws_quantile(gain, n, .05) : NAN;
    peak->gain_high = n ? draws_quantile(gain, n, .95) : NAN;
    free(cut);
    free(readiness);
    free(gain);
}

static void spread_all(Peaks *p) {
    size_t n = p->peaks[0].draws.count, better = 0;
    double *sum = mem_new(n, sizeof *sum);
    for (size_t k = 0; k < p->count; k++)
        spread(p, k, sum);
    for (size_t i = 0; i < n; i++)
        better += sum[i] > 1e-12 * fabs(p->peaks[0].none);
    p->beats_none = n ? (double)better / (double)n : NAN;
    free(sum);
}

static StatusCode build(const Case *c, Peaks *p, Status *status) {
    const Event **event = mem_new(c->desk->season->event_count, sizeof *event);
    StatusCode code;
    *p = (Peaks){.c = c};
    code = choose(c, event, &p->count, status);
    if (code == STATUS_OK && p->count > 0) {
        p->events = mem_new(p->count, sizeof *p->events);
        p->peaks = mem_new(p->count, sizeof *p->peaks);
        p->weight = mem_new(p->count, sizeof *p->weight);
        for (size_t k = 0; k < p->count; k++)
            build_event(p, k, event[k]);
        code = joint_run(p->events, p->count, p->weight,
                         &c->desk->question->limits, &p->joint, status);
        for (size_t k = 0; k < p->count && code == STATUS_OK; k++) {
            Peak *peak = &p->peaks[k];
            peak->best = joint_readiness(p->events, k, p->joint.best);
            peak->readiness =
                joint_readiness(p->events, k, p->joint.recommended);
            code = run_alone(p, k, status);
            p->scale = fmax(p->scale, peak->most - peak->none);
            p->scale = fmax(p->scale, .01 * fabs(peak->none));
        }
        if (code == STATUS_OK)
            spread_all(p);
    }
    free(event);
    return code;
}

static void peaks_close(Peaks *p) {
    for (size_t k = 0; k < p->count && p->peaks; k++) {
        draw_scores_free(&p->peaks[k].draws);
        joint_free(&p->peaks[k].alone);
        joint_event_free(&p->events[k]);
    }
    joint_free(&p->joint);
    free(p->events);
    free(p->peaks);
    free(p->weight);
}

/* What this event gives up for the others, at the best of each. Never below
 * 0 but for rounding and, in a variable-dose model, a search in turns. */
static double given_up(const Peak *peak) {
    return fmax(0, peak->most - peak->best);
}

/* Share of what the event could gain alone that the recommended tapers bring;
 * NAN where there is nothing to gain. */
static double share_of_most(const Peak *peak) {
    return search_share(peak->readiness - peak->none, peak->most - peak->none);
}

/* The tapers of the events up to one, "none; 3x100". */
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

static void print_csv(const Peaks *p, FILE *to) {
    for (size_t k = 0; k < p->count; k++) {
        const Peak *peak = &p->peaks[k];
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
        csv_number(&csv, given_up(peak));
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

static void cell_gain(Grid *grid, const Peaks *p, double gain) {
    char number[FIGURE_TEXT];
    grid_cell(grid, "%s%s", gain >= 0 ? "+" : "",
              figure(number, gain, p->scale));
}

static void print_plan(const Peaks *p, FILE *to) {
    static const GridColumn columns[] = {
        {"event", false},         {"weight", true},
        {"taper\nbefore", false}, {"no\ntaper", true},
        {"readi-\nness", true},   {"gain", true},
        {"gain,\n5-95 %", true}};
    Grid grid;
    grid_start(&grid, columns, 7);
    for (size_t k = 0; k < p->count; k++) {
        const Peak *peak = &p->peaks[k];
        const Option *option = &p->joint.recommended[k];
        char number[FIGURE_TEXT], high[FIGURE_TEXT];
        grid_cell(&grid, "%s", peak->event->name);
        grid_cell(&grid, "%.4g", p->weight[k]);
        cell_option(&grid, option, 1);
        grid_cell(&grid, "%s",
                  figure(number, case_shown(p->c, peak->none), p->scale));
        grid_cell(&grid, "%s",
                  figure(number, case_shown(p->c, peak->readiness), p->scale));
        cell_gain(&grid, p, peak->readiness - peak->none);
        if (isfinite(peak->gain_low))
            grid_cell(&grid, "%s to %s",
                      figure(number, peak->gain_low, p->scale),
                      figure(high, peak->gain_high, p->scale));
        else
            grid_cell(&grid, "-");
    }
    grid_print(&grid, to, 18);
    grid_free(&grid);
}

static void print_price(const Peaks *p, FILE *to) {
    static const GridColumn columns[] = {
        {"", false},    {"all weighed:\nbest taper", false},
        {"gain", true}, {"this event alone:\nbest tapers", false},
        {"gain", true}, {"gives\nup", true}};
    Grid grid;
    grid_start(&grid, columns, 6);
    for (size_t k = 0; k < p->count; k++) {
        const Peak *peak = &p->peaks[k];
        char number[FIGURE_TEXT];
        grid_cell(&grid, "%s", peak->event->name);
        cell_option(&grid, &p->joint.best[k], 1);
        cell_gain(&grid, p, peak->best - peak->none);
        cell_option(&grid, peak->alone.best, k + 1);
        cell_gain(&grid, p, peak->most - peak->none);
        grid_cell(&grid, "%s", figure(number, given_up(peak), p->scale));
    }
    grid_print(&grid, to, 24);
    grid_free(&grid);
}

/* What to do before one event, and what that costs it. */
static void print_words(const Peaks *p, size_t k, FILE *to) {
    const Peak *peak = &p->peaks[k];
    const Option *option = &p->joint.recommended[k];
    double share = share_of_most(peak);
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

static void print_one(const Peaks *p, FILE *to) {
    char number[FIGURE_TEXT];
    Text text = {0};
    print_shown_line(to, p->c->name);
    fputc('\n', to);
    print_plan(p, to);
    fputc('\n', to);
    fputs("Do this, with weights and speed as usual:\n", to);
    for (size_t k = 0; k < p->count; k++)
        print_words(p, k, to);
    if (isfinite(p->beats_none)) {
        text_add(&text,
                 "All tapers together beat none, weighed, in %s of the likely "
                 "models.",
                 percent_cell(number, p->beats_none));
        print_wrapped(to, text_of(&text), 79, 0);
    }
    fputs("\nWhat each event gives up for the others:\n\n", to);
    print_price(p, to);
    fputc('\n', to);
    text_free(&text);
}

static void print_squad(const Peaks *p, size_t count, FILE *to) {
    static const GridColumn columns[] = {
        {"athlete", false},    {"event", false}, {"taper", false},
        {"first\nday", false}, {"gain", true},   {"alone", true},
        {"of\nthat", true}};
    Grid grid;
    grid_start(&grid, columns, 7);
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < p[i].count; k++) {
            const Peak *peak = &p[i].peaks[k];
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
            grid_cell(&grid, "%s", percent_cell(number, share_of_most(peak)));
        }
    grid_print(&grid, to, 18);
    grid_free(&grid);
    fputc('\n', to);
    print_wrapped(to,
                  "'gain': over no taper at all. 'alone': the most it could "
                  "gain if this event alone mattered; 'of that': the share "
                  "it gets. --athlete ID tells what each gives up.",
                  79, 0);
}

static void print_scale(const Peaks *p, size_t count, FILE *to) {
    const Model *model = case_model(p->c);
    bool same = true;
    Text text = {0};
    for (size_t i = 1; i < count; i++)
        same = same && model_same_unit(model, case_model(p[i].c));
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

static void print_head(const Peaks *p, FILE *to) {
    Text text = {0};
    char day[DATE_TEXT];
    Aim aim = p->c->desk->question->aim;
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
             date_write_short(day, p->c->desk->season->today),
             aim == AIM_FIRST  ? "on each event's first day"
             : aim == AIM_LAST ? "on each event's last day"
                               : "as the mean of each event's days");
    print_wrapped(to, text_of(&text), 79, 0);
    fputc('\n', to);
    text_free(&text);
}

static void print_text(const Desk *d, const Peaks *all, size_t count,
                       FILE *to) {
    const Peaks *p = all; /* one with as many events as any */
    Verdict limits;
    for (size_t i = 1; i < count; i++)
        p = all[i].count > p->count ? &all[i] : p;
    limits = (Verdict){.c = p->c};
    print_head(p, to);
    if (count == 1)
        print_one(p, to);
    else
        print_squad(all, count, to);
    print_scale(all, count, to);
    for (size_t k = 0; k < p->count; k++)
        if (p->events[k].own.window > limits.longest)
            limits.longest = p->events[k].own.window;
    if (limits.longest > (size_t)d->question->limits.max_length)
        limits.longest = (size_t)d->question->limits.max_length;
    print_wrapped(to,
                  "Each taper ends on the day before its event and begins "
                  "behind the event before; between them the usual week goes "
                  "on. 'plan --event NAME --option SPEC' writes the plan of "
                  "each.",
                  79, 0);
    fputc('\n', to);
    desk_print_evidence(to);
    verdict_print_limits(&limits, to);
    desk_print_basis(d, p->c, to);
    desk_print_cautions(d, to);
}

/* ---- picture ---- */

enum { DAYS_BEFORE = 14 }; /* [d] shown before today */

/* What the picture shows of each day. */
typedef struct {
    size_t from, days;
    double *planned, *load, *none, *readiness, *low, *high;
} View;

static double *column(size_t days, const double *from) {
    double *to = mem_new(days, sizeof *to);
    for (size_t i = 0; i < days && from; i++)
        to[i] = from[i];
    return to;
}

static void view_build(const Peaks *p, View *v) {
    const JointEvent *last = &p->events[p->count - 1];
    const Outlook *o = &last->wide;
    double *cut = mem_new(o->window, sizeof *cut);
    Course none, taper;
    course_build(p->c, o, cut, &none);
    joint_cuts(p->events, p->count - 1, p->joint.recommended, cut);
    course_build(p->c, o, cut, &taper);
    v->from = o->log_days > DAYS_BEFORE ? o->log_days - DAYS_BEFORE : 0;
    v->days = o->event_day + o->event_days - v->from;
    v->planned = column(v->days, NULL);
    v->load = column(v->days, NULL);
    v->none = column(v->days, NULL);
    v->readiness = column(v->days, NULL);
    v->low = column(v->days, NULL);
    v->high = column(v->days, NULL);
    for (size_t i = 0; i < v->days; i++) {
        size_t day = v->from + i, step = o->read_step[day];
        size_t u = day < o->event_day ? o->event_day - day : 0;
        double low = case_shown(p->c, taper.low[step]);
        double high = case_shown(p->c, taper.high[step]);
        v->planned[i] = v->load[i] = outlook_planned(o, day);
        if (u >= 1 && u <= o->window)
            v->load[i] -= cut[u - 1] * o->cuttable[day];
        v->none[i] = case_shown(p->c, none.mean[step]);
        v->readiness[i] = case_shown(p->c, taper.mean[step]);
        v->low[i] = fmin(low, high);
        v->high[i] = fmax(low, high);
    }
    course_free(&none);
    course_free(&taper);
    free(cut);
}

static void view_free(View *v) {
    free(v->planned);
    free(v->load);
    free(v->none);
    free(v->readiness);
    free(v->low);
    free(v->high);
}

static StatusCode draw_peaks(const Peaks *p, const Gallery *gallery,
                             Text *paths, Status *status) {
    PictureEvent *event = mem_new(p->count, sizeof *event);
    Date *from = mem_new(p->count, sizeof *from);
    Text title = {0}, words = {0}, label = {0}, name = {0};
    View v;
    StatusCode code;
    view_build(p, &v);
    for (size_t k = 0; k < p->count; k++) {
        const Event *e = p->peaks[k].event;
        const Option *option = &p->joint.recommended[k];
        event[k] = (PictureEvent){e->start, e->days, e->name};
        from[k] =
            option->count ? e->start - (Date)option_days(option) : DATE_NONE;
    }
    text_add(&title, "%s: %zu peaks, weighed together", p->c->name, p->count);
    model_short(case_model(p->c), &words);
    text_add(&words, "; tapers");
    for (size_t k = 0; k < p->count; k++) {
        text_add(&words, "%s", k ? ", then " : " ");
        option_write(&p->joint.recommended[k], &words);
    }
    readiness_label(case_model(p->c), &label);
    output_file_name(p->c, "peaks", &name);
    {
        const PeaksPicture picture = {
            .title = text_of(&title),
            .subtitle = text_of(&words),
            .load_label = load_method_unit(p->c->desk->season->method),
            .readiness_label = text_of(&label),
            .first = p->c->outlook.first + (Date)v.from,
            .days = v.days,
            .planned = v.planned,
            .load = v.load,
            .none = v.none,
            .readiness = v.readiness,
            .low = v.low,
            .high = v.high,
            .event = event,
            .taper_from = from,
            .events = p->count,
            .today = p->c->desk->season->today};
        code = picture_peaks(&picture, gallery, text_of(&name), paths, status);
    }
    view_free(&v);
    text_free(&title);
    text_free(&words);
    text_free(&label);
    text_free(&name);
    free(event);
    free(from);
    return code;
}

/* Of athletes with an event ahead. */
static StatusCode draw_with_peaks(const void *answers, size_t at,
                                  const Gallery *gallery, Text *paths,
                                  Status *status) {
    const Peaks *p = (const Peaks *)answers + at;
    return p->count > 0 ? draw_peaks(p, gallery, paths, status) : STATUS_OK;
}

/* ---- the answer ---- */

static StatusCode judge_all(const Desk *d, const Peaks *p, size_t count,
                            Status *status) {
    size_t most = 0;
    bool room = false;
    for (size_t i = 0; i < count; i++) {
        most = p[i].count > most ? p[i].count : most;
        for (size_t k = 0; k < p[i].count; k++)
            room = room || p[i].events[k].own.window > 0;
    }
    if (most < 2)
        return refuse(d->season, 0,
                      most ? "one event to come, expected two or more for "
                             "--joint"
                           : "no event to come, expected two or more for "
                             "--joint",
                      status);
    if (!room)
        return refuse(d->season, 0,
                      "no day is left to cut before any of the events, "
                      "expected one at least two days after today",
                      status);
    return STATUS_OK;
}

/* Rules of the other events, which the desk has not looked at, and events too
 * far ahead to plan for. */
static void warn(const Desk *d, const Peaks *p) {
    const Season *s = d->season;
    for (size_t k = 0; k < p->count; k++)
        if (p->peaks[k].event != p->c->event)
            event_rules_warn(s, p->peaks[k].event, d->question->heat, d->notes);
    for (size_t i = 0; i < s->event_count && !d->question->event_count; i++) {
        const Event *e = &s->events[i];
        Text path = {0};
        Place place = {NULL, e->line, "start"};
        char shown[TEXT_EXCERPT], day[DATE_TEXT];
        text_add(&path, "%s/events.csv", s->folder);
        place.file = text_of(&path);
        if (e->start - s->today > OUTLOOK_LONGEST)
            notes_add(d->notes, LEVEL_WARNING, place,
                      "%s starts on %s, more than 366 days after today, and is "
                      "left out",
                      text_excerpt(shown, e->name), date_write(day, e->start));
        text_free(&path);
    }
}

static void present(const Output *o, const Desk *d, const Peaks *p,
                    size_t count) {
    if (!o->csv) {
        print_text(d, p, count, o->to);
        return;
    }
    output_header(o,
                  "athlete,event,start,weight,option,readiness,low,high,gain,"
                  "gain_low,gain_high,no_taper,best,best_gain,alone,alone_gain,"
                  "gives_up");
    for (size_t i = 0; i < count; i++)
        print_csv(&p[i], o->to);
}

StatusCode joint_answer(const Call *call, const Desk *d, const Case *cases,
                        size_t count, Status *status) {
    Peaks *p = mem_new(count, sizeof *p);
    StatusCode code = judge_names(d, status);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        code = build(&cases[i], &p[i], status);
    if (code == STATUS_OK)
        code = judge_all(d, p, count, status);
    if (code == STATUS_OK) {
        warn(d, &p[0]);
        call->say(d->notes);
        present(&call->output, d, p, count);
    }
    if (code == STATUS_OK && call->output.folder)
        code = output_draw(&call->output, &(Drawing){p, count, draw_with_peaks},
                           "Pictures", status);
    for (size_t i = 0; i < count; i++)
        peaks_close(&p[i]);
    free(p);
    return code;
}
