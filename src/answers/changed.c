/* changed: see changed.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/changed.h"

#include "base/mem.h"
#include "taper/common.h"

#include <math.h>
#include <stdlib.h>

void changed_before(const Case *c, Case *before) {
    const Season *s = c->context->season;
    Notes notes = {0};
    *before = *c;
    daily_build(s, c->athlete, c->context->question->read.gaps_typical,
                &before->daily);
    usual_build(s, c->athlete, &before->daily, &before->usual, &notes);
    before->usual.cut_kinds = c->usual.cut_kinds;
    before->usual.gym_free = c->usual.gym_free;
    before->usual.gym_again = c->usual.gym_again;
    outlook_build(&before->usual, &before->daily, c->event, c->before,
                  &before->outlook);
    notes_free(&notes);
}

void changed_before_free(Case *before) {
    daily_free(&before->daily);
    usual_free(&before->usual);
    outlook_free(&before->outlook);
}

/* Readiness of each draw under an option, not tied to today's: the log may
 * have changed too. */
static double *readiness_of(const Case *c, const Option *option, size_t n) {
    DrawScores scores;
    double *readiness = mem_new(n, sizeof *readiness);
    draw_scores_build(&c->outlook, case_draws(c), c->context->question->aim,
                      NAN, &scores);
    draw_scores_gains(&scores, option, readiness);
    for (size_t i = 0; i < n; i++)
        readiness[i] += scores.none[i];
    draw_scores_free(&scores);
    return readiness;
}

static double model_readiness(const Case *c, const Option *option) {
    Score score;
    double readiness;
    score_build(&c->outlook, &case_model(c)->params, c->context->question->aim,
                &score);
    readiness = score_option(&score, option);
    score_free(&score);
    return readiness;
}

static void find_change(const Case *now, const Case *before, Change *change) {
    size_t n = case_draws(now)->count;
    double *one = readiness_of(now, &change->plan, n);
    double *other = readiness_of(before, &change->plan, n);
    for (size_t i = 0; i < n; i++) {
        one[i] -= other[i];
        change->change += one[i] / (double)n;
    }
    if (n == 0)
        change->change = model_readiness(now, &change->plan) -
                         model_readiness(before, &change->plan);
    change->low = draws_quantile(one, n, .05);
    change->high = draws_quantile(one, n, .95);
    free(one);
    free(other);
}

/* The plan handed out, carried on with the change, beside itself as it was. */
static void carry_handed(const BestTaper *v, const Case *before,
                         Change *change) {
    Case now, was;
    Handed old;
    DrawScores draws;
    Score score;
    change->handed = true;
    change->plan = (Option){.count = 0};
    best_taper_score(before, &before->outlook, &draws, &score);
    handed_find(before, &draws, &score, &old);
    change->gain = old.gain;
    score_free(&score);
    draw_scores_free(&draws);
    if (handed_case(v->c, &now)) {
        if (handed_case(before, &was)) {
            find_change(&now, &was, change);
            handed_case_free(&was);
        }
        handed_case_free(&now);
    }
}

static void count_all(const WeighedPlan *w, Change *change) {
    change->counted = w->change;
    change->gain = w->was;
    change->replanned = w->renewed - w->gain;
}

StatusCode changed_find(const BestTaper *v, Change *change, Status *status) {
    Context was = *v->c->context;
    Case before;
    BestTaper old;
    const Search *s = &v->search;
    StatusCode code;
    changed_before(v->c, &before);
    was.assigned = was.assigned_before;
    before.context = &was;
    code = best_taper_build(&before, &old, status);
    if (code == STATUS_OK) {
        const Found *f = &old.search.items[old.search.recommended];
        *change = (Change){.plan = f->option, .gain = f->gain};
        if (v->handed.there) {
            carry_handed(v, &before, change);
            change->counted = change->change;
            change->replanned = v->handed.renewed - v->handed.gain;
            if (v->handed.weighed)
                count_all(v->handed.weighed, change);
            change->carry_on = !best_taper_replan(v);
        } else {
            find_change(v->c, &before, change);
            change->counted = change->change;
            change->replanned = s->items[s->recommended].readiness -
                                score_option(&v->score, &change->plan);
            change->carry_on =
                common_same(&s->items[s->recommended].option, &change->plan);
        }
    }
    best_taper_free(&old);
    changed_before_free(&before);
    return code;
}

bool changed_asked(const Question *q) {
    return q->change_count > 0 || q->weekdays != 0;
}
