/* verdict: see verdict.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/verdict.h"

#include "base/mem.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>

/* Says whose search has failed. */
static void name_athlete(const Case *c, Status *status) {
    Status failed = *status;
    *status = (Status){0};
    status_fail(status, failed.code, "%s: %s", c->name, failed.text);
}

void verdict_score(const Case *c, const Outlook *o, DrawScores *draws,
                   Score *score) {
    Aim aim = c->desk->question->aim;
    draw_scores_build(o, case_draws(c), aim, case_anchor(c), draws);
    if (draws->count)
        draw_scores_mean(draws, score);
    else
        score_build(o, &case_model(c)->params, aim, score);
}

/* With readiness as the test shows it. */
static Spread shown(const Verdict *v, Spread spread) {
    double low = case_shown(v->c, spread.readiness_low);
    double high = case_shown(v->c, spread.readiness_high);
    spread.readiness_low = fmin(low, high);
    spread.readiness_high = fmax(low, high);
    return spread;
}

Spread verdict_spread(const Verdict *v, const Option *option) {
    return shown(v, draw_scores_option(&v->draws, option, v->work));
}

Spread verdict_spread_cuts(const Verdict *v, const double *cut) {
    return shown(v, draw_scores_cuts(&v->draws, cut, v->work));
}

StatusCode verdict_build(const Case *c, Verdict *v, Status *status) {
    const Question *q = c->desk->question;
    StatusCode code;
    *v = (Verdict){.c = c};
    v->longest = c->outlook.window < (size_t)q->limits.max_length
                     ? c->outlook.window
                     : (size_t)q->limits.max_length;
    verdict_score(c, &c->outlook, &v->draws, &v->score);
    code = search_run(&c->outlook, &v->score, &q->limits, &v->search, status);
    if (code != STATUS_OK)
        name_athlete(c, status);
    v->possible = v->search.ceiling - v->search.items[0].readiness;
    v->work = mem_new(2 * v->draws.count, sizeof *v->work);
    if (code == STATUS_OK)
        v->spread =
            verdict_spread(v, &v->search.items[v->search.recommended].option);
    return code;
}

void verdict_move(Verdict *from, const Case *c, Verdict *to) {
    *to = *from;
    to->c = c;
    to->score.outlook = &c->outlook;
    for (size_t i = 0; i < to->draws.count; i++)
        to->draws.score[i].outlook = &c->outlook;
    *from = (Verdict){0};
}

static void slim_search(Search *s, size_t also) {
    size_t kept = 0, best = 0, recommended = 0;
    Found *items = mem_new(s->count, sizeof *items);
    for (size_t i = 0; i < s->count; i++) {
        if (i && i != s->best && i != s->recommended && i != also)
            continue;
        best = i == s->best ? kept : best;
        recommended = i == s->recommended ? kept : recommended;
        items[kept++] = s->items[i];
    }
    free(s->items);
    s->items = mem_fit(items, kept, sizeof *items);
    s->count = s->room = kept;
    s->best = best;
    s->recommended = recommended;
}

void verdict_slim(Verdict *v, size_t also) {
    draw_scores_free(&v->draws);
    free(v->work);
    v->work = NULL;
    free(v->score.work);
    v->score.work = NULL;
    slim_search(&v->search, also);
}

void verdict_free(Verdict *v) {
    score_free(&v->score);
    search_free(&v->search);
    draw_scores_free(&v->draws);
    free(v->work);
    *v = (Verdict){0};
}

size_t verdict_cut_days(const Verdict *v) {
    const Score *s = &v->score;
    size_t last = 0;
    if (!s->linear) /* what a session does hangs on what else is cut */
        return 0;
    for (size_t u = 1; u <= s->window; u++) {
        double drop = score_drop(s, u);
        if (drop > 0)
            return last ? u - 1 : 0;
        if (drop < 0)
            last = u;
    }
    return last;
}

double verdict_beats(const Verdict *v, const Option *a, const Option *b) {
    double *one = v->work, *other = v->work + v->draws.count;
    draw_scores_gains(&v->draws, a, one);
    draw_scores_gains(&v->draws, b, other);
    return draw_scores_beat(one, other, v->draws.count);
}

Option verdict_option(const Search *s, const char *spec) {
    Option option = {.count = 0};
    char why[OPTION_WHY];
    if (text_same(spec, "best"))
        return s->items[s->best].option;
    if (text_same(spec, "recommended"))
        return s->items[s->recommended].option;
    option_read(spec, &option, why);
    return option;
}

double verdict_percent(const Verdict *v, double gain) {
    double level = v->search.items[0].readiness;
    if (!case_model(v->c)->scaled || level == 0)
        return NAN;
    return 100 * gain / fabs(level);
}

void event_words(const Case *c, Text *text) {
    char day[DATE_TEXT];
    text_add(text, "%s, %s %d", c->event->name,
             date_write_short(day, c->event->start),
             date_civil(c->event->start).year);
    if (c->event->days > 1)
        text_add(text, " (%d days)", c->event->days);
    text_add(text, ", in %d days", c->event->start - c->desk->season->today);
}

const char *percent_cell(char buffer[FIGURE_TEXT], double share) {
    if (!isfinite(share))
        snprintf(buffer, FIGURE_TEXT, "-");
    else if (share < -.995)
        snprintf(buffer, FIGURE_TEXT, "< -99 %%");
    else
        snprintf(buffer, FIGURE_TEXT, "%.0f %%",
                 fabs(share) < .005 ? 0 : 100 * share);
    return buffer;
}

static void say(FILE *to, const Text *text) {
    if (text->length)
        print_wrapped(to, text_of(text), 79, 2);
}

static void say_no_gain(const Verdict *v, FILE *to) {
    Landmarks marks = landmarks_of(&case_model(v->c)->params);
    Text text = {0};
    if (v->search.best > 0)
        return;
    text_add(&text,
             "%s: no taper raises readiness at the event in this model. ",
             v->c->name);
    if (!isfinite(marks.t_n))
        text_add(&text,
                 "Its fatigue gain is not above its fitness gain (or it has "
                 "no fatigue), so each session helps from the day after and "
                 "rest only loses fitness. That is an ordinary outcome of "
                 "such models, not advice to train through: decide by the "
                 "published evidence.");
    else if (marks.t_n < 1)
        text_add(&text,
                 "In it a session tires for less than a day, so there is "
                 "nothing to taper for.");
    else if (v->score.linear && v->draws.count && verdict_cut_days(v) == 0)
        text_add(&text,
                 "Over all likely models together a session gives more by "
                 "then than it takes, though in some of them rest would "
                 "help: the data cannot tell. Decide by the published "
                 "evidence.");
    else
        text_add(&text, "There may be nothing to cut in the days left.");
    say(to, &text);
    text_free(&text);
}

static void say_percent(const Verdict *v, FILE *to) {
    double percent = verdict_percent(v, v->search.items[v->search.best].gain);
    Text text = {0};
    if (isfinite(percent) && percent > 6)
        text_add(&text,
                 "%s: the model promises +%.1f %%. That is beyond published "
                 "experience (0.5-6 %%): do not expect it.",
                 v->c->name, percent);
    else if (isfinite(percent) && percent > 0 && percent < .495 &&
             v->c->outlook.window >= 5)
        text_add(&text,
                 "%s: the model promises no more than +%.2g %%, less than "
                 "published tapers brought (0.5-6 %%): a taper hardly matters "
                 "here.",
                 v->c->name, percent);
    say(to, &text);
    text_free(&text);
}

static void say_time(const Verdict *v, FILE *to) {
    size_t cut_days = verdict_cut_days(v);
    Text text = {0};
    if (v->c->outlook.window < 5)
        text_add(&text,
                 "%s: only %zu day%s can be cut, too few for a taper to "
                 "change much; keep calm and rest well.",
                 v->c->name, v->c->outlook.window,
                 v->c->outlook.window == 1 ? "" : "s");
    else if (v->c->outlook.window == cut_days)
        text_add(&text,
                 "%s: %zu days are left, and in all of them this model would "
                 "cut; it would have begun earlier.",
                 v->c->name, v->c->outlook.window);
    say(to, &text);
    text_free(&text);
}

void verdict_print_warnings(const Verdict *v, FILE *to) {
    say_no_gain(v, to);
    say_percent(v, to);
    say_time(v, to);
}

static bool limits_usual(const Limits *limits) {
    for (LimitName name = 0; name < LIMIT_NAMES; name++)
        if (limits_given(limits, name))
            return false;
    return true;
}

/* The caution that a build-up deserves. */
static void print_build_up(const Verdict *v, FILE *to) {
    const Limits *l = &v->c->desk->question->limits;
    if (l->build_up <= 0)
        return;
    print_wrapped(
        to,
        "Build-up: more load than usual is searched because it was asked for. "
        "It is for healthy, full-grown athletes who are used to such loads; "
        "never for minors, after illness or injury, or in heat. Stop it at "
        "pain, poor sleep or lasting fatigue, and ask a physician. Its worth "
        "rests on a simulation (28 days at +20 %: Thomas, Busso 2005, Med Sci "
        "Sports Exerc 37:1615-1621).",
        79, 2);
    if (v->score.linear)
        print_wrapped(to,
                      "This model is linear: to it more load weeks before "
                      "always looks better, so it cannot judge a build-up. "
                      "--model busso-2003, whose fatigue grows with the dose, "
                      "can.",
                      79, 2);
}

void verdict_print_limits(const Verdict *v, FILE *to) {
    const Limits *l = &v->c->desk->question->limits;
    Text text = {0};
    text_add(&text, "Searched%s:",
             limits_usual(l) ? " within the default limits" : "");
    for (int shape = SHAPE_STEP; shape <= SHAPE_REST; shape++)
        if (l->shapes & 1u << shape)
            text_add(&text, " %s,", shape_names[shape]);
    text_add(&text, " up to %zu days, cuts up to %.4g %%", v->longest,
             l->max_cut);
    if (l->shapes & 1u << SHAPE_REST)
        text_add(&text, ", full rest on at most the last %d days",
                 l->rest_days);
    for (LimitName name = LIMIT_SESSIONS; name <= LIMIT_CUT_KINDS; name++)
        if (limits_given(l, name)) {
            text_add(&text, "; ");
            limits_words(l, name, &text);
        }
    text_add(&text, ".");
    print_wrapped(to, text_of(&text), 79, 2);
    text_free(&text);
    print_build_up(v, to);
}

double verdict_scale(const Verdict *v) {
    return fmax(v->possible, .01 * fabs(v->search.items[0].readiness));
}
