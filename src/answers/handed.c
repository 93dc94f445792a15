/* handed: see handed.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/handed.h"

#include "base/mem.h"
#include "taper/search.h"

#include <math.h>
#include <stdlib.h>

bool handed_case(const Case *c, Case *handed) {
    size_t count;
    const Season *s = c->context->season;
    const HandedRow *rows = season_handed(s, c->athlete, &count);
    *handed = *c;
    if (!rows || !c->event || c->context->question->ignore_plan ||
        rows[count - 1].date < c->event->start - 1 || rows[0].issued > s->today)
        return false;
    handed->usual.handed = true;
    handed->usual.handed_until = DATE_NONE; /* beyond events on the way too */
    outlook_build(&handed->usual, &c->daily, c->event, c->before,
                  &handed->outlook);
    return true;
}

void handed_case_free(Case *handed) {
    outlook_free(&handed->outlook);
}

Date handed_first_cut(const Case *c) {
    size_t count;
    const Season *s = c->context->season;
    const HandedRow *rows = season_handed(s, c->athlete, &count);
    Date from = c->event->start - (Date)c->outlook.window;
    for (size_t i = 0; i < count; i++)
        if (rows[i].cut > 0 && rows[i].date >= from &&
            rows[i].date < c->event->start)
            return rows[i].date;
    return c->event->start;
}

static double load_of(const Outlook *o, size_t days) {
    double sum = 0;
    for (size_t u = 1; u <= o->window && u <= days; u++)
        sum += outlook_planned(o, o->event_day - u);
    return sum;
}

/* Readiness under the plan with each draw, and its gain; either may be NULL. */
static void over_draws(const Case *own, const DrawScores *draws,
                       double *readiness, double *gain) {
    DrawScores with;
    draw_scores_build(&own->outlook, case_draws(own),
                      own->context->question->aim, case_anchor(own), &with);
    for (size_t i = 0; i < draws->count; i++) {
        if (readiness)
            readiness[i] = with.none[i];
        gain[i] = with.none[i] - draws->none[i];
    }
    draw_scores_free(&with);
}

bool handed_gains(const Case *c, const DrawScores *draws, double *gain) {
    Case own;
    if (!handed_case(c, &own))
        return false;
    over_draws(&own, draws, NULL, gain);
    handed_case_free(&own);
    return true;
}

/* The mean gain. */
static double spread_of(const Case *own, const DrawScores *draws, Spread *s) {
    size_t n = draws->count, better = 0;
    double *gain = mem_new(n, sizeof *gain);
    double *readiness = mem_new(n, sizeof *readiness), mean = 0, a, b;
    over_draws(own, draws, readiness, gain);
    for (size_t i = 0; i < n; i++) {
        mean += gain[i] / (double)n;
        better += gain[i] > 0;
    }
    a = case_shown(own, draws_quantile(readiness, n, .05));
    b = case_shown(own, draws_quantile(readiness, n, .95));
    *s = (Spread){.readiness_low = fmin(a, b),
                  .readiness_high = fmax(a, b),
                  .gain_low = draws_quantile(gain, n, .05),
                  .gain_high = draws_quantile(gain, n, .95),
                  .beats_none = (double)better / (double)n};
    free(gain);
    free(readiness);
    return mean;
}

static double without_draws(const Case *own, double none) {
    Score with;
    double gain;
    score_build(&own->outlook, &case_model(own)->params,
                own->context->question->aim, &with);
    gain = score_aim(&with, with.base) - none;
    score_free(&with);
    return gain;
}

/* What is cut of the loads that may be, day by day. */
static double *cuts_of(const Case *c, const Case *own) {
    const Outlook *o = &c->outlook, *with = &own->outlook;
    double *cut = mem_new(o->window, sizeof *cut);
    for (size_t u = 1; u <= o->window; u++) {
        size_t day = o->event_day - u;
        double gone = outlook_planned(o, day) - outlook_planned(with, day);
        if (o->cuttable[day] > 0)
            cut[u - 1] = gone / o->cuttable[day];
    }
    return cut;
}

/* Whole minutes may pass the limit of a cut by so much. */
enum { CUT_SLACK = 10 /* [%] */ };

/* Days of full rest apart. */
static bool over_cut(const Outlook *o, const Limits *limits, const double *cut,
                     Text *why) {
    double all = 0, gone = 0;
    for (size_t u = 0; u < o->window; u++) {
        double load = o->cuttable[o->event_day - u - 1];
        if (cut[u] <= 1e-9 || cut[u] >= 1 - 1e-9)
            continue;
        all += load;
        gone += cut[u] * load;
    }
    if (!limits_given(limits, LIMIT_CUT) || all <= 0 ||
        100 * gone / all <= limits->max_cut + CUT_SLACK)
        return false;
    text_add(why, "it cuts %.0f %%, which breaks ", 100 * gone / all);
    limits_option(limits, LIMIT_CUT, why);
    return true;
}

/* Does it lead to other events, or to other days, than the one asked for? */
static bool leads_elsewhere(const Case *c, Text *why) {
    size_t count;
    const Season *s = c->context->season;
    const HandedRow *rows = season_handed(s, c->athlete, &count), *to = NULL;
    for (size_t i = 0; i < count; i++) {
        if (!rows[i].event)
            continue;
        to = &rows[i];
        if (text_same(to->session, c->event->name))
            break; /* its first day */
    }
    if (!to ||
        (to->date == c->event->start && text_same(to->session, c->event->name)))
        return false;
    text_add(why, "it was made for another event, or another day of this one");
    return true;
}

/* `own`: the case with the plan. */
static bool is_outside(const Case *c, const Case *own, Text *why) {
    Limits limits = case_limits(c);
    double *cut = cuts_of(c, own);
    bool outside = leads_elsewhere(c, why) ||
                   over_cut(&c->outlook, &limits, cut, why) ||
                   search_cuts_outside(&c->outlook, &limits, cut, why);
    free(cut);
    return outside;
}

void handed_words_outside(const Case *c, Text *text) {
    Case own;
    if (!handed_case(c, &own))
        return;
    is_outside(c, &own, text);
    handed_case_free(&own);
}

void handed_find(const Case *c, const DrawScores *draws, const Score *score,
                 Handed *h) {
    Case own;
    Text why = {0};
    size_t days = (size_t)c->context->question->limits.max_length;
    double none = score_aim(score, score->base);
    *h = (Handed){.there = handed_case(c, &own),
                  .spread = {NAN, NAN, NAN, NAN, NAN}};
    if (!h->there)
        return;
    if (c->context->weighed && c->context->weighed[c->athlete].events > 0)
        h->weighed = &c->context->weighed[c->athlete];
    h->issued =
        season_handed(c->context->season, c->athlete, &(size_t){0})->issued;
    h->gain = draws->count > 0 ? spread_of(&own, draws, &h->spread)
                               : without_draws(&own, none);
    h->readiness = none + h->gain;
    h->kept = load_of(&c->outlook, days) > 0
                  ? load_of(&own.outlook, days) / load_of(&c->outlook, days)
                  : NAN;
    h->outside = is_outside(c, &own, &why);
    text_free(&why);
    handed_case_free(&own);
}
