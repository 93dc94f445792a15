/* joint_peaks: see joint_peaks.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/joint_peaks.h"

#include "answers/best_taper.h"
#include "answers/joint_events.h"
#include "base/mem.h"
#include "cases/each.h"
#include "cases/event_rules.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- what is known ---- */

static const Assigned *assigned(const Case *c, const Event *event) {
    const Season *s = c->context->season;
    return &c->context->joint[(size_t)(event - s->events) * s->athlete_count +
                              c->athlete];
}

static bool is_silent(const Case *c, bool *tested) {
    const Season *s = c->context->season;
    bool silent = false;
    for (size_t i = 0; i < s->event_count; i++) {
        const Assigned *a = assigned(c, &s->events[i]);
        silent = silent || (a->event && !a->known);
        *tested = *tested || (a->event && a->tested);
    }
    return silent;
}

/* ---- searching ---- */

static void find_events(JointPeaks *p, const Event *const *event) {
    const Case *c = p->c;
    p->events = mem_new(p->count, sizeof *p->events);
    p->peaks = mem_new(p->count, sizeof *p->peaks);
    p->weight = mem_new(p->count, sizeof *p->weight);
    for (size_t k = 0; k < p->count; k++) {
        joint_event_build(&c->usual, &c->daily, event[k], c->before,
                          &p->events[k]);
        p->peaks[k].event = event[k];
        p->weight[k] = event[k]->weight;
    }
}

static void find_scores(JointPeaks *p) {
    for (size_t k = 0; k < p->count; k++) {
        JointEvent *e = &p->events[k];
        DrawScores draws;
        best_taper_score(p->c, &e->wide, &draws, &e->score);
        draw_scores_free(&draws);
    }
}

/* The best tapers if one event alone mattered. */
static StatusCode search_alone(JointPeaks *p, Status *status) {
    Joint *alone = mem_new(p->count, sizeof *alone);
    Limits limits = case_limits(p->c);
    StatusCode code =
        joint_run_alone(p->events, p->count, &limits, alone, status);
    for (size_t k = 0; k < p->count; k++) {
        p->peaks[k].alone = alone[k].best;
        free(alone[k].recommended);
    }
    free(alone);
    return code;
}

static StatusCode search(JointPeaks *p, Status *status) {
    Limits limits = case_limits(p->c);
    StatusCode code;
    if (!p->silent)
        find_scores(p);
    code = joint_floor_run(p->events, p->count, p->silent ? NULL : p->weight,
                           &limits, p->c->context->question->floor / 100,
                           &p->joint, &p->floor, status);
    if (code == STATUS_OK && !p->silent)
        code = search_alone(p, status);
    return code;
}

/* The events of one athlete, with nothing searched. */
static StatusCode begin(const Case *c, bool silent, JointPeaks *p,
                        Status *status) {
    const Event **event =
        mem_new(c->context->season->event_count, sizeof *event);
    StatusCode code;
    *p = (JointPeaks){.c = c, .silent = silent};
    code = joint_events_choose(c, event, &p->count, status);
    if (code == STATUS_OK && p->count > 0)
        find_events(p, event);
    free(event);
    return code;
}

StatusCode joint_peaks_search(const Case *c, bool silent, JointPeaks *p,
                              Status *status) {
    StatusCode code = begin(c, silent, p, status);
    if (code == STATUS_OK && p->count > 0)
        code = search(p, status);
    return code;
}

/* ---- what was searched is kept ---- */

struct JointKept {
    bool silent;
    JointFloor floor;
    size_t count;
    /* [count] the best, [count] recommended, and of each event as if it alone
       mattered those up to it */
    Option option[];
};

/* Where the options of event `k` alone begin. */
static size_t alone_at(size_t count, size_t k) {
    return 2 * count + k * (k + 1) / 2;
}

static Option *copy(const Option *from, size_t count) {
    Option *to = mem_new(count, sizeof *to);
    memcpy(to, from, count * sizeof *to);
    return to;
}

JointKept *joint_peaks_keep(const JointPeaks *p) {
    size_t n = p->count, size = n * sizeof(Option);
    JointKept *kept =
        mem_new(1, sizeof *kept + alone_at(n, n) * sizeof *kept->option);
    kept->silent = p->silent;
    kept->floor = p->floor;
    kept->count = n;
    memcpy(kept->option, p->joint.best, size);
    memcpy(kept->option + n, p->joint.recommended, size);
    for (size_t k = 0; k < n && !p->silent; k++)
        memcpy(kept->option + alone_at(n, k), p->peaks[k].alone,
               (k + 1) * sizeof(Option));
    return kept;
}

/* Fills in what joint_peaks_search() finds, if it is known of as many events
 * and of one as silent. */
static bool take_kept(JointPeaks *p) {
    const Case *c = p->c;
    const Context *d = c->context;
    const JointKept *kept = d->joint_kept ? d->joint_kept[c->athlete] : NULL;
    size_t n = p->count;
    if (!kept || kept->silent != p->silent || kept->count != n)
        return false;
    p->floor = kept->floor;
    p->joint = (Joint){copy(kept->option, n), copy(kept->option + n, n), n};
    for (size_t k = 0; k < n && !p->silent; k++)
        p->peaks[k].alone = copy(kept->option + alone_at(n, k), k + 1);
    return true;
}

/* ---- what the models say of the tapers found ---- */

/* One event. */
typedef struct {
    const JointPeaks *p;
    size_t k;
    DrawScores draws;
    Score score;  /* without draws */
    double *cut;  /* [window] */
    double *gain; /* [draws] of what was asked for last */
} Look;

static Look look_at(const JointPeaks *p, size_t k) {
    const Case *c = p->c;
    const Outlook *o = &p->events[k].wide;
    Aim aim = c->context->question->aim;
    Look l = {.p = p, .k = k, .cut = mem_new(o->window, sizeof *l.cut)};
    draw_scores_build(o, case_draws(c), aim, case_anchor(c), &l.draws);
    if (l.draws.count == 0)
        score_build(o, &case_model(c)->params, aim, &l.score);
    l.gain = mem_new(l.draws.count, sizeof *l.gain);
    return l;
}

static void look_away_from(Look *l) {
    draw_scores_free(&l->draws);
    score_free(&l->score);
    free(l->cut);
    free(l->gain);
}

static double mean(const double *value, size_t n) {
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += value[i];
    return sum / (double)n;
}

/* Readiness that counts, the mean of the draws. */
static double readiness(Look *l, const Option *options) {
    size_t n = l->draws.count;
    joint_cuts(l->p->events, l->k, options, l->cut);
    if (n == 0)
        return score_cuts(&l->score, l->cut);
    draw_scores_change(&l->draws, l->cut, l->gain);
    return mean(l->draws.none, n) + mean(l->gain, n);
}

/* Intervals of readiness and gain; adds the weighted gains to sum[draw]. */
static void spread(const Look *l, JointPeak *peak, double *sum) {
    size_t n = l->draws.count;
    double *at = mem_new(n, sizeof *at), low, high;
    for (size_t i = 0; i < n; i++) {
        at[i] = l->draws.none[i] + l->gain[i];
        sum[i] += l->p->weight[l->k] * l->gain[i];
    }
    low = case_shown(l->p->c, n ? draws_quantile(at, n, .05) : NAN);
    high = case_shown(l->p->c, n ? draws_quantile(at, n, .95) : NAN);
    peak->low = fmin(low, high);
    peak->high = fmax(low, high);
    peak->gain_low = n ? draws_quantile(l->gain, n, .05) : NAN;
    peak->gain_high = n ? draws_quantile(l->gain, n, .95) : NAN;
    free(at);
}

static void look(JointPeaks *p) {
    size_t n = case_draws(p->c)->count, better = 0;
    double *sum = mem_new(n, sizeof *sum);
    for (size_t k = 0; k < p->count; k++) {
        JointPeak *peak = &p->peaks[k];
        Look l = look_at(p, k);
        peak->none = n ? mean(l.draws.none, n) : l.score.base[0];
        peak->most = readiness(&l, peak->alone);
        peak->best = readiness(&l, p->joint.best);
        peak->readiness = readiness(&l, p->joint.recommended);
        spread(&l, peak, sum);
        p->scale = fmax(p->scale, peak->most - peak->none);
        p->scale = fmax(p->scale, .01 * fabs(peak->none));
        look_away_from(&l);
    }
    for (size_t i = 0; i < n; i++)
        better += sum[i] > 1e-12 * fabs(p->peaks[0].none);
    p->beats_none = n ? (double)better / (double)n : NAN;
    free(sum);
}

/* Nothing, where they are not followed. */
static void look_away(JointPeaks *p) {
    p->beats_none = NAN;
    for (size_t k = 0; k < p->count; k++) {
        JointPeak *peak = &p->peaks[k];
        peak->none = peak->readiness = peak->best = peak->most = NAN;
        peak->low = peak->high = peak->gain_low = peak->gain_high = NAN;
    }
}

/* What was decided with the others, unless that leaves too little training
 * where the athlete's own tapers leave enough. */
static void take_assigned(JointPeaks *p) {
    double share = p->c->context->question->floor / 100, lowest;
    const JointEvent *events = p->events;
    Option *own = p->joint.recommended;
    Option *taken = mem_new(p->count, sizeof *taken);
    size_t from;
    for (size_t k = 0; k < p->count; k++) {
        const Assigned *a = assigned(p->c, p->peaks[k].event);
        taken[k] = a->event ? a->option : own[k];
    }
    lowest = joint_lowest(events, p->count, taken, &from);
    if (lowest < share && p->floor.lowest >= share) {
        free(taken);
        return;
    }
    p->floor.lowest = lowest;
    p->floor.from = from;
    p->joint.recommended = taken;
    free(own);
}

static StatusCode build(const Case *c, JointPeaks *p, Status *status) {
    bool tested = false, silent = is_silent(c, &tested);
    StatusCode code = begin(c, silent, p, status);
    p->tested = tested;
    if (code != STATUS_OK || p->count == 0)
        return code;
    if (!take_kept(p))
        code = search(p, status);
    if (code == STATUS_OK) {
        take_assigned(p);
        if (silent)
            look_away(p);
        else
            look(p);
    }
    for (size_t k = 0; k < p->count; k++)
        score_free(&p->events[k].score);
    return code;
}

static StatusCode build_one(void *with, const Case *c, size_t at,
                            Status *status) {
    return build(c, (JointPeaks *)with + at, status);
}

StatusCode joint_peaks_build(const Case *cases, size_t count, JointPeaks *p,
                             Status *status) {
    return each_built(cases, count, build_one, p, status);
}

void joint_peaks_free(JointPeaks *p) {
    for (size_t k = 0; k < p->count && p->peaks; k++) {
        free(p->peaks[k].alone);
        joint_event_free(&p->events[k]);
    }
    joint_free(&p->joint);
    free(p->events);
    free(p->peaks);
    free(p->weight);
}

double joint_peaks_given_up(const JointPeak *peak) {
    return fmax(0, peak->most - peak->best);
}

double joint_peaks_share(const JointPeak *peak) {
    return search_share(peak->readiness - peak->none, peak->most - peak->none);
}

/* ---- the answer ---- */

StatusCode joint_peaks_judge_all(const Context *d, const JointPeaks *p,
                                 size_t count, Status *status) {
    size_t most = 0;
    bool room = false;
    for (size_t i = 0; i < count; i++) {
        most = p[i].count > most ? p[i].count : most;
        for (size_t k = 0; k < p[i].count; k++)
            room = room || p[i].events[k].own.window > 0;
    }
    if (most < 2)
        return joint_events_refuse(
            d->season, 0,
            most ? "one event to come, expected two or more for "
                   "--joint"
                 : "no event to come, expected two or more for "
                   "--joint",
            status);
    if (!room)
        return joint_events_refuse(
            d->season, 0,
            "no day is left to cut before any of the events, "
            "expected one at least two days after today",
            status);
    return STATUS_OK;
}

void joint_peaks_warn(const Context *d, const JointPeaks *p) {
    const Season *s = d->season;
    for (size_t k = 0; k < p->count; k++)
        if (p->peaks[k].event != p->c->event)
            event_rules_warn(s, p->peaks[k].event, d->question->heat, d->notes);
    for (size_t i = 0; i < s->event_count && !d->question->event_count; i++) {
        const Event *e = &s->events[i];
        Text path = {0};
        Place place = {NULL, e->line, "start"};
        char shown[TEXT_EXCERPT], day[DATE_TEXT];
        season_file(s, "events", &path);
        place.file = text_of(&path);
        if (e->start - s->today > OUTLOOK_LONGEST) {
            notes_add(d->notes, LEVEL_WARNING, place,
                      "%s starts on %s, more than 366 days after today, and is "
                      "left out",
                      text_excerpt(shown, e->name), date_write(day, e->start));
            notes_about(d->notes, e->name, NULL);
        }
        text_free(&path);
    }
}
