/* score: see score.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/score.h"

#include "base/mem.h"
#include "taper/dose.h"

#include <math.h>
#include <stdlib.h>

const char *const aim_names[] = {"first", "mean", "lowest", "last", NULL};

/* Only the lowest of several days is no sum of them. */
static size_t rows_of(const Outlook *o, Aim aim) {
    return aim == AIM_LOWEST ? o->event_days : 1;
}

/* Weight of each event day in an aim that is a sum. */
static double weight_of(const Outlook *o, Aim aim, size_t e) {
    if (aim == AIM_FIRST)
        return e == 0;
    if (aim == AIM_LAST)
        return e + 1 == o->event_days;
    return 1 / (double)o->event_days;
}

/* Values in the arrays of one score. */
static size_t values_of(const Outlook *o, Aim aim) {
    return rows_of(o, aim) * (3 * o->window + 3);
}

/* Values in the workspace: loads, fitness, fatigue, cuts. */
static size_t work_of(const Outlook *o) {
    return 3 * o->timeline.steps + o->window;
}

/* The arrays of a score lie one behind the other in `block`. */
static void lay_out(const Outlook *o, Aim aim, double *block, double *work,
                    Score *s) {
    s->aim = aim;
    s->outlook = o;
    s->days = rows_of(o, aim);
    s->window = o->window;
    s->base = block;
    s->drop = s->base + s->days;
    s->sum = s->drop + s->days * s->window;
    s->moment = s->sum + s->days * (s->window + 1);
    s->work = work;
}

/* The state from which tapers are run, for models that are not linear. */
static void set_start(Score *s, const KernelState *start) {
    const Outlook *o = s->outlook;
    s->from = outlook_start(o);
    s->to = o->read_step[o->event_day + o->event_days - 1] + 1;
    s->start = *start;
}

/* Influence of a load on a row: on one day of the event, or on the sum that
 * the aim asks for. */
static double influence_on(const Outlook *o, const ResponseParams *params,
                           Aim aim, size_t row, double time) {
    double sum = 0;
    if (aim == AIM_LOWEST)
        return kernel_influence(params,
                                o->read_time[o->event_day + row] - time);
    for (size_t e = 0; e < o->event_days; e++)
        if (weight_of(o, aim, e) > 0)
            sum +=
                weight_of(o, aim, e) *
                kernel_influence(params, o->read_time[o->event_day + e] - time);
    return sum;
}

/* What the window's days do to each row. */
static void add_influence(const Outlook *o, const ResponseParams *params,
                          Score *s) {
    for (size_t e = 0; e < s->days; e++) {
        double sum = 0, moment = 0;
        for (size_t u = 1; u <= s->window; u++) {
            size_t day = o->event_day - u;
            double drop = o->cuttable[day] *
                          influence_on(o, params, s->aim, e, o->load_time[day]);
            sum += drop;
            moment += (double)u * drop;
            s->drop[e * s->window + u - 1] = drop;
            s->sum[e * (s->window + 1) + u] = sum;
            s->moment[e * (s->window + 1) + u] = moment;
        }
    }
}

/* Adds `share` of what cuts do to each row where fatigue grows with recent
 * load. */
static void add_dose(const Outlook *o, const ResponseParams *params,
                     double share, const KernelState *start, double *work,
                     Score *s) {
    for (size_t e = 0; e < o->event_days; e++) {
        size_t row = s->aim == AIM_LOWEST ? e : 0;
        double weight = s->aim == AIM_LOWEST ? 1 : weight_of(o, s->aim, e);
        DoseEffect effect = {.outlook = o,
                             .params = params,
                             .e = e,
                             .weight = share * weight,
                             .drop = s->drop + row * s->window,
                             .bend = s->bend + row * s->window * s->window,
                             .work = work,
                             .start = start};
        if (weight > 0)
            dose_add(&effect);
    }
}

void score_bend(const Score *s, double *drop, double *bend) {
    Score like = *s;
    like.drop = drop;
    like.bend = bend;
    add_dose(s->outlook, &s->params, 1, s->borrowed ? &s->start : NULL, s->work,
             &like);
}

/* Adds the reading of one event day to the row or the sum it belongs to. */
static void add_base(Score *s, size_t e, double readiness) {
    if (s->aim == AIM_LOWEST)
        s->base[e] = readiness;
    else
        s->base[0] += weight_of(s->outlook, s->aim, e) * readiness;
}

void score_build(const Outlook *o, const ResponseParams *params, Aim aim,
                 Score *s) {
    double *fitness = mem_new(o->timeline.steps, sizeof *fitness);
    double *fatigue = mem_new(o->timeline.steps, sizeof *fatigue);
    *s = (Score){.params = *params, .linear = response_linear(params->kind)};
    lay_out(o, aim, mem_new(values_of(o, aim), sizeof(double)),
            mem_new(work_of(o), sizeof(double)), s);
    kernel_run(params, &o->timeline, READ_BEFORE, fitness, fatigue);
    for (size_t e = 0; e < o->event_days; e++) {
        size_t step = o->read_step[o->event_day + e];
        add_base(s, e, params->value[PARAM_P0] + fitness[step] - fatigue[step]);
    }
    if (s->linear) {
        add_influence(o, params, s);
    } else {
        s->bend = mem_new(s->days * s->window * s->window, sizeof *s->bend);
        add_dose(o, params, 1, NULL, s->work, s);
    }
    free(fitness);
    free(fatigue);
}

void score_free(Score *s) {
    if (!s->borrowed) {
        free(s->base);
        free(s->work);
        free(s->bend);
    }
    *s = (Score){0};
}

/* Readiness that counts over the days of the event, told one at a time. */
typedef struct {
    double first, last, sum, lowest;
    size_t days;
} Tally;

static void tally_add(Tally *t, double readiness) {
    if (t->days == 0)
        t->first = t->lowest = readiness;
    t->last = readiness;
    t->sum += readiness;
    t->lowest = fmin(t->lowest, readiness);
    t->days++;
}

static double tally_aim(const Tally *t, Aim aim) {
    switch (aim) {
    case AIM_FIRST:
        return t->first;
    case AIM_LOWEST:
        return t->lowest;
    case AIM_LAST:
        return t->last;
    default:
        return t->sum / (double)t->days;
    }
}

double score_drop(const Score *s, size_t u) {
    double drop = 0;
    for (size_t e = 0; e < s->days; e++)
        drop += s->drop[e * s->window + u - 1];
    return drop;
}

double score_aim(const Score *s, const double *readiness) {
    Tally tally = {0};
    for (size_t e = 0; e < s->days; e++)
        tally_add(&tally, readiness[e]);
    return tally_aim(&tally, s->aim);
}

/* Runs the model from the first day that may be cut. */
static double run_cuts(const Score *s, const double *cut) {
    const Outlook *o = s->outlook;
    double *load = s->work, *fitness = load + o->timeline.steps;
    double *fatigue = fitness + o->timeline.steps;
    KernelState state = s->start;
    Timeline timeline = o->timeline;
    Tally tally = {0};
    outlook_apply(o, cut, load);
    timeline.load = load;
    kernel_go(&s->params, &timeline, s->from, s->to, READ_BEFORE, &state,
              fitness, fatigue);
    for (size_t e = 0; e < o->event_days; e++) {
        size_t step = o->read_step[o->event_day + e] - s->from;
        tally_add(&tally, s->params.value[PARAM_P0] + s->shift + fitness[step] -
                              fatigue[step]);
    }
    return tally_aim(&tally, s->aim);
}

/* Readiness by the quadratic form; cuts beyond `days` are 0. */
static double bent_cuts(const Score *s, const double *cut, size_t days) {
    Tally tally = {0};
    for (size_t e = 0; e < s->days; e++)
        tally_add(&tally,
                  s->base[e] + dose_change(s->window, s->drop + e * s->window,
                                           s->bend + e * s->window * s->window,
                                           cut, days));
    return tally_aim(&tally, s->aim);
}

double score_cuts(const Score *s, const double *cut) {
    Tally tally = {0};
    size_t days = s->window;
    if (s->bend) {
        while (days > 0 && cut[days - 1] == 0)
            days--;
        return bent_cuts(s, cut, days);
    }
    if (!s->linear)
        return run_cuts(s, cut);
    for (size_t e = 0; e < s->days; e++) {
        double readiness = s->base[e];
        for (size_t u = 0; u < s->window; u++)
            readiness -= cut[u] * s->drop[e * s->window + u];
        tally_add(&tally, readiness);
    }
    return tally_aim(&tally, s->aim);
}

/* Sum of cut x drop over one part that covers the days from `near` (last day)
 * to `far` (first day) before the event; days beyond the window have no say. */
static double part_drop(const Score *s, size_t e, const OptionPart *p,
                        size_t near) {
    size_t far = near + (size_t)p->days - 1;
    size_t end = far < s->window ? far : s->window;
    const double *sum = s->sum + e * (s->window + 1);
    const double *moment = s->moment + e * (s->window + 1);
    const double *drop = s->drop + e * s->window;
    double from = p->from / 100, to = p->to / 100;
    if (near > s->window)
        return 0;
    if (p->fall == 'x' || p->days == 1)
        return to * (sum[end] - sum[near - 1]);
    if (p->fall == '-') {
        double slope = (to - from) / (double)(p->days - 1);
        return (from + slope * (double)far) * (sum[end] - sum[near - 1]) -
               slope * (moment[end] - moment[near - 1]);
    }
    {
        double ratio = pow((1 - to) / (1 - from), 1.0 / (p->days - 1));
        double kept = 1 - to, total = 0;
        for (size_t u = near; u <= end; u++, kept /= ratio)
            total += (1 - kept) * drop[u - 1];
        return total;
    }
}

double score_option(const Score *s, const Option *option) {
    Tally tally = {0};
    if (!s->linear) {
        double *cut = s->work + 3 * s->outlook->timeline.steps;
        size_t days = (size_t)option_days(option);
        option_cuts(option, s->window, cut);
        if (s->bend)
            return bent_cuts(s, cut, days < s->window ? days : s->window);
        return run_cuts(s, cut);
    }
    for (size_t e = 0; e < s->days; e++) {
        double readiness = s->base[e];
        size_t near = 1;
        for (int k = option->count - 1; k >= 0; k--) {
            readiness -= part_drop(s, e, &option->part[k], near);
            near += (size_t)option->part[k].days;
        }
        tally_add(&tally, readiness);
    }
    return tally_aim(&tally, s->aim);
}

/* ---- draws ---- */

double score_today(const Outlook *o, const ResponseParams *params) {
    size_t steps = o->timeline.steps, step = o->read_step[o->log_days - 1];
    double *fitness = mem_new(steps, sizeof *fitness);
    double *fatigue = mem_new(steps, sizeof *fatigue), readiness;
    kernel_run(params, &o->timeline, READ_BEFORE, fitness, fatigue);
    readiness = params->value[PARAM_P0] + fitness[step] - fatigue[step];
    free(fitness);
    free(fatigue);
    return readiness;
}

/* Moves the readiness of each draw to what is known of today. */
static void drop_anchor(const Outlook *o, size_t steps, size_t n, double anchor,
                        double *readiness) {
    const double *today = readiness + o->read_step[o->log_days - 1] * n;
    double *shift = mem_new(n, sizeof *shift);
    for (size_t i = 0; i < n && isfinite(anchor); i++)
        shift[i] = anchor - today[i];
    for (size_t step = 0; step < steps; step++)
        for (size_t i = 0; i < n; i++)
            readiness[step * n + i] += shift[i];
    free(shift);
}

void draw_readiness(const Outlook *o, const Timeline *timeline,
                    const Draws *draws, ReadWhen when, double anchor,
                    double *readiness) {
    kernel_batch(draws->count, draws->set, timeline, when, readiness);
    drop_anchor(o, timeline->steps, draws->count, anchor, readiness);
}

enum { AT_ONCE = 64 }; /* draws whose readiness is kept at a time */

/* Scores of some draws, from their readiness over the timeline. */
static void score_some(const Outlook *o, const Draws *some, Aim aim,
                       const double *readiness, const KernelState *start,
                       DrawScores *scores, size_t from) {
    double *cut = scores->work + 3 * o->timeline.steps;
    for (size_t u = 0; u < o->window; u++)
        cut[u] = 0;
    for (size_t i = 0; i < some->count; i++) {
        Score *s = &scores->score[from + i];
        *s = (Score){.borrowed = true,
                     .params = some->set[i],
                     .linear = response_linear(some->set[i].kind)};
        lay_out(o, aim, scores->block + (from + i) * values_of(o, aim),
                scores->work, s);
        for (size_t e = 0; e < o->event_days; e++)
            add_base(
                s, e,
                readiness[o->read_step[o->event_day + e] * some->count + i]);
        if (s->linear) {
            add_influence(o, &some->set[i], s);
            continue;
        }
        /* `readiness` may be anchored: the shift is what the model lacks */
        set_start(s, &start[i]);
        s->shift = score_aim(s, s->base) - run_cuts(s, cut);
    }
}

void draw_scores_build(const Outlook *o, const Draws *draws, Aim aim,
                       double anchor, DrawScores *scores) {
    size_t n = draws->count;
    double *readiness;
    KernelState start[AT_ONCE] = {{.memory = 0}};
    *scores = (DrawScores){.count = n};
    if (n == 0)
        return;
    scores->score = mem_new(n, sizeof *scores->score);
    scores->block = mem_new(n * values_of(o, aim), sizeof *scores->block);
    scores->work = mem_new(work_of(o), sizeof *scores->work);
    readiness = mem_new(AT_ONCE * o->timeline.steps, sizeof *readiness);
    for (size_t from = 0; from < n; from += AT_ONCE) {
        Draws some = {n - from < AT_ONCE ? n - from : AT_ONCE,
                      draws->set + from};
        kernel_batch_at(some.count, some.set, &o->timeline, READ_BEFORE,
                        readiness, outlook_start(o), start);
        drop_anchor(o, o->timeline.steps, some.count, anchor, readiness);
        score_some(o, &some, aim, readiness, start, scores, from);
    }
    free(readiness);
}

void draw_scores_free(DrawScores *scores) {
    free(scores->score);
    free(scores->block);
    free(scores->work);
    *scores = (DrawScores){0};
}

/* Means of the rows and of what each day takes away. */
static void add_linear(const DrawScores *scores, Score *mean) {
    double share = 1 / (double)scores->count;
    size_t cells = mean->days * mean->window;
    for (size_t i = 0; i < scores->count; i++)
        for (size_t k = 0; k < cells; k++)
            mean->drop[k] += share * scores->score[i].drop[k];
    for (size_t e = 0; e < mean->days; e++)
        for (size_t u = 1; u <= mean->window; u++) {
            double drop = mean->drop[e * mean->window + u - 1];
            double *sum = mean->sum + e * (mean->window + 1);
            double *moment = mean->moment + e * (mean->window + 1);
            sum[u] = sum[u - 1] + drop;
            moment[u] = moment[u - 1] + (double)u * drop;
        }
}

void draw_scores_mean(const DrawScores *scores, Score *mean) {
    const Score *first = &scores->score[0];
    const Outlook *o = first->outlook;
    double share = 1 / (double)scores->count;
    *mean = (Score){.params = first->params, .linear = first->linear};
    lay_out(o, first->aim, mem_new(values_of(o, first->aim), sizeof(double)),
            mem_new(work_of(o), sizeof(double)), mean);
    for (size_t i = 0; i < scores->count; i++)
        for (size_t e = 0; e < mean->days; e++)
            mean->base[e] += share * scores->score[i].base[e];
    if (mean->linear) {
        add_linear(scores, mean);
        return;
    }
    mean->bend =
        mem_new(mean->days * mean->window * mean->window, sizeof *mean->bend);
    for (size_t i = 0; i < scores->count; i++)
        add_dose(o, &scores->score[i].params, share, &scores->score[i].start,
                 mean->work, mean);
}

void draw_scores_gains(const DrawScores *scores, const Option *option,
                       double *gain) {
    for (size_t i = 0; i < scores->count; i++) {
        const Score *s = &scores->score[i];
        gain[i] = score_option(s, option) - score_aim(s, s->base);
    }
}

double draw_scores_beat(const double *one, const double *other, size_t draws) {
    double count = 0;
    for (size_t i = 0; i < draws; i++) {
        double margin = 1e-12 * (fabs(one[i]) + fabs(other[i]));
        count += one[i] > other[i] + margin   ? 1
                 : one[i] < other[i] - margin ? 0
                                              : .5;
    }
    return draws ? count / (double)draws : NAN;
}

/* The spread of work[count], readiness under each draw. */
static Spread spread_of(const DrawScores *scores, double *work) {
    Spread spread = {NAN, NAN, NAN, NAN, NAN};
    double *gain = work + scores->count;
    size_t n = scores->count, better = 0;
    if (n == 0)
        return spread;
    for (size_t i = 0; i < n; i++) {
        const Score *s = &scores->score[i];
        gain[i] = work[i] - score_aim(s, s->base);
        better += gain[i] > 1e-12 * fabs(work[i]); /* not rounding */
    }
    spread.readiness_low = draws_quantile(work, n, .05);
    spread.readiness_high = draws_quantile(work, n, .95);
    spread.gain_low = draws_quantile(gain, n, .05);
    spread.gain_high = draws_quantile(gain, n, .95);
    spread.beats_none = (double)better / (double)n;
    return spread;
}

Spread draw_scores_option(const DrawScores *scores, const Option *option,
                          double *work) {
    for (size_t i = 0; i < scores->count; i++)
        work[i] = score_option(&scores->score[i], option);
    return spread_of(scores, work);
}

Spread draw_scores_cuts(const DrawScores *scores, const double *cut,
                        double *work) {
    for (size_t i = 0; i < scores->count; i++)
        work[i] = score_cuts(&scores->score[i], cut);
    return spread_of(scores, work);
}
