/* joint_peaks: see joint_peaks.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/joint_peaks.h"

#include "answers/best_taper.h"
#include "base/mem.h"
#include "cases/event_rules.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* ---- which events ---- */

bool joint_peaks_named(const Question *q, const char *name) {
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
    const Season *s = c->context->season;
    const Question *q = c->context->question;
    *count = 0;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        int away = e->start - s->today;
        StatusCode code = STATUS_OK;
        if (!event_concerns(e, c->athlete) || !joint_peaks_named(q, e->name))
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

StatusCode joint_peaks_judge_names(const Context *d, Status *status) {
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

/* ---- computing ---- */

static void build_event(JointPeaks *p, size_t k, const Event *event) {
    const Case *c = p->c;
    JointEvent *e = &p->events[k];
    JointPeak *peak = &p->peaks[k];
    peak->event = event;
    p->weight[k] = event->weight;
    joint_event_build(&c->usual, &c->daily, event, c->before, e);
    best_taper_score(c, &e->wide, &peak->draws, &e->score);
    peak->none = score_aim(&e->score, e->score.base);
}

/* The best tapers if one event alone mattered. */
static StatusCode run_alone(JointPeaks *p, Status *status) {
    Joint *alone = mem_new(p->count, sizeof *alone);
    StatusCode code = joint_run_alone(
        p->events, p->count, &p->c->context->question->limits, alone, status);
    for (size_t k = 0; k < p->count && code == STATUS_OK; k++) {
        p->peaks[k].alone = alone[k];
        p->peaks[k].most = joint_readiness(p->events, k, alone[k].best);
    }
    free(alone);
    return code;
}

/* Intervals of one event's readiness and gain under the recommended tapers;
 * adds the weighted gains to sum[draw]. */
static void spread(JointPeaks *p, size_t k, double *sum) {
    JointPeak *peak = &p->peaks[k];
    size_t n = peak->draws.count;
    double *cut = mem_new(p->events[k].wide.window, sizeof *cut);
    double *readiness = mem_new(n, sizeof *readiness);
    double *gain = mem_new(n, sizeof *gain), low, high;
    joint_cuts(p->events, k, p->joint.recommended, cut);
    draw_scores_change(&peak->draws, cut, gain);
    for (size_t i = 0; i < n; i++) {
        readiness[i] = peak->draws.none[i] + gain[i];
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

static void spread_all(JointPeaks *p) {
    size_t n = p->peaks[0].draws.count, better = 0;
    double *sum = mem_new(n, sizeof *sum);
    for (size_t k = 0; k < p->count; k++)
        spread(p, k, sum);
    for (size_t i = 0; i < n; i++)
        better += sum[i] > 1e-12 * fabs(p->peaks[0].none);
    p->beats_none = n ? (double)better / (double)n : NAN;
    free(sum);
}

/* What the models say of the tapers found. */
static StatusCode look(JointPeaks *p, Status *status) {
    StatusCode code = run_alone(p, status);
    for (size_t k = 0; k < p->count && code == STATUS_OK; k++) {
        JointPeak *peak = &p->peaks[k];
        peak->best = joint_readiness(p->events, k, p->joint.best);
        peak->readiness = joint_readiness(p->events, k, p->joint.recommended);
        p->scale = fmax(p->scale, peak->most - peak->none);
        p->scale = fmax(p->scale, .01 * fabs(peak->none));
    }
    if (code == STATUS_OK)
        spread_all(p);
    return code;
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

StatusCode joint_peaks_search(const Case *c, bool silent, JointPeaks *p,
                              Status *status) {
    const Question *q = c->context->question;
    const Event **event =
        mem_new(c->context->season->event_count, sizeof *event);
    StatusCode code;
    *p = (JointPeaks){.c = c, .silent = silent};
    code = choose(c, event, &p->count, status);
    if (code == STATUS_OK && p->count > 0) {
        p->events = mem_new(p->count, sizeof *p->events);
        p->peaks = mem_new(p->count, sizeof *p->peaks);
        p->weight = mem_new(p->count, sizeof *p->weight);
        for (size_t k = 0; k < p->count; k++)
            build_event(p, k, event[k]);
        code = joint_floor_run(p->events, p->count, silent ? NULL : p->weight,
                               &q->limits, q->floor / 100, &p->joint, &p->floor,
                               status);
    }
    free(event);
    return code;
}

StatusCode joint_peaks_build(const Case *c, JointPeaks *p, Status *status) {
    bool tested = false, silent = is_silent(c, &tested);
    StatusCode code = joint_peaks_search(c, silent, p, status);
    p->tested = tested;
    if (code == STATUS_OK && p->count > 0) {
        take_assigned(p);
        if (silent)
            look_away(p);
        else
            code = look(p, status);
    }
    for (size_t k = 0; k < p->count && p->peaks; k++) {
        draw_scores_free(&p->peaks[k].draws);
        score_free(&p->events[k].score);
    }
    return code;
}

void joint_peaks_free(JointPeaks *p) {
    for (size_t k = 0; k < p->count && p->peaks; k++) {
        joint_free(&p->peaks[k].alone);
        draw_scores_free(&p->peaks[k].draws);
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
