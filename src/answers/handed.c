/* handed: see handed.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/handed.h"

#include "base/mem.h"

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
    outlook_build(&handed->usual, &c->daily, c->event, c->before,
                  &handed->outlook);
    return true;
}

void handed_case_free(Case *handed) {
    outlook_free(&handed->outlook);
}

static double load_of(const Outlook *o) {
    double sum = 0;
    for (size_t u = 1; u <= o->window; u++)
        sum += outlook_planned(o, o->event_day - u);
    return sum;
}

/* Gains of the plan under each draw. */
static void over_draws(const Case *own, const DrawScores *draws, Handed *h) {
    size_t n = draws->count, better = 0;
    double *gain = mem_new(n, sizeof *gain);
    DrawScores with;
    draw_scores_build(&own->outlook, case_draws(own),
                      own->context->question->aim, case_anchor(own), &with);
    for (size_t i = 0; i < n; i++) {
        gain[i] = score_aim(&with.score[i], with.score[i].base) -
                  score_aim(&draws->score[i], draws->score[i].base);
        h->gain += gain[i] / (double)n;
        better += gain[i] > 0;
    }
    h->low = draws_quantile(gain, n, .05);
    h->high = draws_quantile(gain, n, .95);
    h->beats_none = (double)better / (double)n;
    draw_scores_free(&with);
    free(gain);
}

void handed_find(const Case *c, const DrawScores *draws, const Score *score,
                 Handed *h) {
    Case own;
    double none = score_aim(score, score->base);
    *h = (Handed){.there = handed_case(c, &own),
                  .low = NAN,
                  .high = NAN,
                  .beats_none = NAN};
    if (!h->there)
        return;
    h->issued =
        season_handed(c->context->season, c->athlete, &(size_t){0})->issued;
    if (draws->count > 0) {
        over_draws(&own, draws, h);
    } else {
        Score with;
        score_build(&own.outlook, &case_model(c)->params,
                    c->context->question->aim, &with);
        h->gain = score_aim(&with, with.base) - none;
        score_free(&with);
    }
    h->readiness = none + h->gain;
    h->kept = load_of(&c->outlook) > 0
                  ? load_of(&own.outlook) / load_of(&c->outlook)
                  : NAN;
    handed_case_free(&own);
}
