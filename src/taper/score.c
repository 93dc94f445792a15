/* score: see score.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/score.h"

#include "base/mem.h"
#include "calibrate/lanes.h"
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

/* Room for a score whose shape is known. */
void score_room(Score *s) {
    size_t w = s->window;
    s->base = mem_new(s->days * (3 * w + 3), sizeof *s->base);
    s->drop = s->base + s->days;
    s->sum = s->drop + s->days * w;
    s->moment = s->sum + s->days * (w + 1);
    s->work = mem_new(w, sizeof *s->work);
    if (!s->linear)
        s->bend = mem_new(s->days * w * w, sizeof *s->bend);
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

void score_build(const Outlook *o, const ResponseParams *params, Aim aim,
                 Score *s) {
    ResponseParams one = *params;
    Draws draws = {1, &one};
    DrawScores scores;
    draw_scores_build(o, &draws, aim, NAN, &scores);
    draw_scores_mean(&scores, s);
    draw_scores_free(&scores);
}

void score_free(Score *s) {
    free(s->base);
    free(s->work);
    free(s->bend);
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

double score_near(const Score *s, const double *cut, size_t days) {
    Tally tally = {0};
    for (size_t e = 0; e < s->days; e++)
        tally_add(&tally,
                  s->base[e] + dose_change(s->window, s->drop + e * s->window,
                                           s->bend + e * s->window * s->window,
                                           cut, days));
    return tally_aim(&tally, s->aim);
}

/* dose_change() of some sequences of cuts side by side; `cut` is workspace of
 * LANES numbers a day. */
WIDE static void change_lanes(const Score *s, const double *cuts, size_t days,
                              size_t lanes, double *cut, double *change) {
    Lane all = {0};
    for (size_t u = 0; u < days; u++)
        for (size_t k = 0; k < lanes; k++)
            cut[u * LANES + k] = cuts[k * days + u];
    for (size_t u = 0; u < days; u++) {
        const double *bend = s->bend + u * s->window;
        Lane sum = {0}, one;
        sum += s->drop[u];
        for (size_t v = u; v < days; v++) {
            lane_load(cut + v * LANES, LANES, &one);
            sum += one * bend[v];
        }
        lane_load(cut + u * LANES, LANES, &one);
        all -= one * sum;
    }
    lane_store(&all, lanes, change);
}

void score_near_all(const Score *s, const double *cuts, size_t days,
                    size_t count, double *readiness) {
    double *cut = mem_new(days * LANES, sizeof *cut), change[LANES];
    for (size_t i = 0; i < count; i += LANES) {
        size_t lanes = count - i < LANES ? count - i : LANES;
        if (s->days == 1)
            change_lanes(s, cuts + i * days, days, lanes, cut, change);
        for (size_t k = 0; k < lanes; k++)
            readiness[i + k] = s->days == 1
                                   ? s->base[0] + change[k]
                                   : score_near(s, cuts + (i + k) * days, days);
    }
    free(cut);
}

double score_cuts(const Score *s, const double *cut) {
    Tally tally = {0};
    size_t days = s->window;
    if (s->bend) {
        while (days > 0 && cut[days - 1] == 0)
            days--;
        return score_near(s, cut, days);
    }
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
    if (s->bend) {
        size_t days = (size_t)option_days(option);
        option_cuts(option, s->window, s->work);
        return score_near(s, s->work, days < s->window ? days : s->window);
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

/* Moves the readiness of each draw to what is known of today; from step `from`
 * to before step `to`. */
static void drop_anchor(const Outlook *o, size_t from, size_t to, size_t n,
                        double anchor, double *readiness) {
    const double *today;
    double *shift;
    if (!isfinite(anchor))
        return;
    today = readiness + o->read_step[o->log_days - 1] * n;
    shift = mem_new(n, sizeof *shift);
    for (size_t i = 0; i < n; i++)
        shift[i] = anchor - today[i];
    for (size_t step = from; step < to; step++)
        for (size_t i = 0; i < n; i++)
            readiness[step * n + i] += shift[i];
    free(shift);
}

void draw_readiness(const Outlook *o, const Timeline *timeline,
                    const Draws *draws, ReadWhen when, double anchor,
                    double *readiness) {
    kernel_batch(draws->count, draws->set, timeline, when, readiness);
    drop_anchor(o, 0, timeline->steps, draws->count, anchor, readiness);
}

enum { TOGETHER = 4 }; /* lanes of draws looked at together */

enum { AT_ONCE = 64 }; /* draws whose readiness is kept at a time */

/* Adds the readings without a taper of one draw to the rows they belong to. */
static void set_base(DrawScores *s, size_t i, const double *readiness,
                     size_t stride) {
    const Outlook *o = s->outlook;
    for (size_t e = 0; e < o->event_days; e++) {
        double read = readiness[o->read_step[o->event_day + e] * stride];
        if (s->aim == AIM_LOWEST)
            s->base[e * s->count + i] = read;
        else
            s->base[i] += weight_of(o, s->aim, e) * read;
    }
}

/* What the window's days do to each row. */
static void set_influence(DrawScores *s, size_t i,
                          const ResponseParams *params) {
    const Outlook *o = s->outlook;
    for (size_t row = 0; row < s->days; row++)
        for (size_t u = 1; u <= s->window; u++) {
            size_t day = o->event_day - u;
            s->drop[(row * s->window + u - 1) * s->count + i] =
                o->cuttable[day] *
                influence_on(o, params, s->aim, row, o->load_time[day]);
        }
}

/* The same where fatigue grows with recent load. */
static void set_dose(DrawScores *s, size_t i, const ResponseParams *params,
                     const KernelState *start, double *work) {
    const Outlook *o = s->outlook;
    for (size_t e = 0; e < o->event_days; e++) {
        size_t row = s->aim == AIM_LOWEST ? e : 0;
        size_t from = row * s->window * s->count + i;
        DoseEffect effect = {
            .outlook = o,
            .params = params,
            .e = e,
            .weight = s->aim == AIM_LOWEST ? 1 : weight_of(o, s->aim, e),
            .drop = s->drop + from,
            .turn = s->turn + from,
            .kept = s->kept + i,
            .stride = s->count,
            .work = work,
            .start = start};
        if (effect.weight > 0)
            dose_add(&effect);
    }
}

static void make_room(const Outlook *o, Aim aim, bool linear, size_t n,
                      DrawScores *s) {
    size_t rows = rows_of(o, aim), cells = rows * o->window * n;
    *s = (DrawScores){.count = n,
                      .aim = aim,
                      .days = rows,
                      .window = o->window,
                      .outlook = o,
                      .linear = linear,
                      .base = mem_new(rows * n, sizeof *s->base),
                      .none = mem_new(n, sizeof *s->none),
                      .drop = mem_new(cells, sizeof *s->drop),
                      .work = mem_new(o->window + n, sizeof *s->work)};
    if (linear)
        return;
    s->turn = mem_new(cells, sizeof *s->turn);
    s->kept = mem_new(o->window * n, sizeof *s->kept);
}

/* Of the draw, all its rows' values in `values`, `count` apart. */
static double aim_of(const DrawScores *s, const double *values, size_t i) {
    Tally tally = {0};
    for (size_t row = 0; row < s->days; row++)
        tally_add(&tally, values[row * s->count + i]);
    return tally_aim(&tally, s->aim);
}

static void set_draw(DrawScores *s, size_t i, const ResponseParams *params,
                     const KernelState *start, const double *readiness,
                     size_t stride, double *work) {
    set_base(s, i, readiness, stride);
    s->none[i] = aim_of(s, s->base, i);
    if (s->linear)
        set_influence(s, i, params);
    else
        set_dose(s, i, params, start, work);
}

void draw_scores_build(const Outlook *o, const Draws *draws, Aim aim,
                       double anchor, DrawScores *scores) {
    size_t n = draws->count;
    double *readiness, *work;
    KernelState start[AT_ONCE] = {{.memory = 0}};
    *scores = (DrawScores){.count = n};
    if (n == 0)
        return;
    make_room(o, aim, response_linear(draws->set[0].kind), n, scores);
    readiness = mem_new(AT_ONCE * o->timeline.steps, sizeof *readiness);
    work = mem_new(dose_work(o), sizeof *work);
    for (size_t from = 0; from < n; from += AT_ONCE) {
        Draws some = {n - from < AT_ONCE ? n - from : AT_ONCE,
                      draws->set + from};
        kernel_batch_at(some.count, some.set, &o->timeline, READ_BEFORE,
                        readiness, outlook_start(o), start);
        drop_anchor(o, o->read_step[o->event_day],
                    o->read_step[o->event_day + o->event_days - 1] + 1,
                    some.count, anchor, readiness);
        for (size_t i = 0; i < some.count; i++)
            set_draw(scores, from + i, &some.set[i], &start[i], readiness + i,
                     some.count, work);
    }
    free(work);
    free(readiness);
}

void draw_scores_free(DrawScores *s) {
    free(s->base);
    free(s->none);
    free(s->drop);
    free(s->turn);
    free(s->kept);
    free(s->work);
    *s = (DrawScores){0};
}

double draw_scores_drop(const DrawScores *s, size_t i, size_t u) {
    double drop = 0;
    for (size_t row = 0; row < s->days; row++)
        drop += s->drop[(row * s->window + u - 1) * s->count + i];
    return drop;
}

static double mean_of(const double *value, size_t n) {
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += value[i];
    return sum / (double)n;
}

/* Prefix sums over the days nearest the event. */
void score_sums(Score *s) {
    for (size_t e = 0; e < s->days; e++)
        for (size_t u = 1; u <= s->window; u++) {
            double drop = s->drop[e * s->window + u - 1];
            double *sum = s->sum + e * (s->window + 1);
            double *moment = s->moment + e * (s->window + 1);
            sum[u] = sum[u - 1] + drop;
            moment[u] = moment[u - 1] + (double)u * drop;
        }
}

/* Days whose bends are told side by side, so that none waits for another. */
typedef struct {
    const DrawScores *scores;
    size_t row, day[TOGETHER]; /* [d] before the event; in order */
    int count;
    double *left; /* [TOGETHER][stride], in whole lanes */
    size_t stride;
} Bends;

/* Adds up what is left of all draws' turns, and leaves what is kept of it. */
INSIDE void carry(const double *kept, size_t n, double *left, size_t stride,
                  Lane *sum) {
    Lane sums[TOGETHER] = {{0}}, some, share;
    for (size_t i = 0; i < n; i += LANES) {
        lane_load(kept + i, n - i, &share);
#pragma GCC unroll 4
        for (size_t k = 0; k < TOGETHER; k++) {
            lane_load(left + k * stride + i, LANES, &some);
            sums[k] += some;
            some *= share;
            lane_store(&some, LANES, left + k * stride + i);
        }
    }
    memcpy(sum, sums, sizeof sums);
}

/* What the cuts of these days and of the days before each take away together,
 * the mean over the draws: dose.h's bend is a product. */
WIDE static void set_bends(const Bends *b, double *bend) {
    const DrawScores *s = b->scores;
    const double *cuttable = s->outlook->cuttable + s->outlook->event_day;
    size_t n = s->count, w = s->window;
    memset(b->left, 0, TOGETHER * b->stride * sizeof *b->left);
    for (size_t v = b->day[0]; v <= w; v++) {
        Lane sum[TOGETHER];
        for (int k = 0; k < b->count; k++)
            if (b->day[k] == v)
                memcpy(b->left + (size_t)k * b->stride,
                       s->turn + (b->row * w + v - 1) * n, n * sizeof *s->turn);
        carry(s->kept + (v - 1) * n, n, b->left, b->stride, sum);
        for (int k = 0; k < b->count; k++)
            bend[(b->day[k] - 1) * w + v - 1] =
                *(cuttable - v) * lane_sum(&sum[k]) / (double)n;
    }
}

/* Of one row, of the days that have something to cut. */
static void set_bend(const DrawScores *s, size_t row, double *bend) {
    const double *cuttable = s->outlook->cuttable + s->outlook->event_day;
    size_t stride = s->count + LANES;
    Bends b = {.scores = s,
               .row = row,
               .left = mem_new(TOGETHER * stride, sizeof *b.left),
               .stride = stride};
    for (size_t u = 1; u <= s->window; u++) {
        if (*(cuttable - u) != 0)
            b.day[b.count++] = u;
        if (b.count == TOGETHER || (b.count > 0 && u == s->window)) {
            set_bends(&b, bend);
            b.count = 0;
        }
    }
    free(b.left);
}

void draw_scores_mean(const DrawScores *scores, Score *mean) {
    size_t rows = scores->days, w = scores->window, n = scores->count;
    *mean = (Score){.aim = scores->aim,
                    .outlook = scores->outlook,
                    .days = rows,
                    .window = w,
                    .linear = scores->linear};
    score_room(mean);
    for (size_t row = 0; row < rows; row++)
        mean->base[row] = mean_of(scores->base + row * n, n);
    for (size_t cell = 0; cell < rows * w; cell++)
        mean->drop[cell] = mean_of(scores->drop + cell * n, n);
    if (mean->linear) {
        score_sums(mean);
        return;
    }
    for (size_t row = 0; row < rows; row++)
        set_bend(scores, row, mean->bend + row * w * w);
}

/* What cuts of the `days` nearest the event do to a row of the draws from `i`
 * on, some lanes together so that none waits for another: from the farthest day
 * on, with what of the loads left out is remembered. */
INSIDE void add_cuts(const DrawScores *s, size_t row, const double *cut,
                     size_t days, size_t i, size_t lanes, Lane *value) {
    const double *cuttable = s->outlook->cuttable + s->outlook->event_day;
    size_t n = s->count;
    Lane left[TOGETHER] = {{0}};
    for (size_t k = 0; k < lanes; k++)
        value[k] = left[k];
    for (size_t u = days; u >= 1; u--) {
        size_t at = (row * s->window + u - 1) * n + i;
        double c = cut[u - 1], load = c * *(cuttable - u);
        for (size_t k = 0; k < lanes; k++, at += LANES) {
            Lane drop, turn, kept;
            lane_load(s->drop + at, n - i, &drop);
            if (!s->linear) {
                lane_load(s->turn + at, n - i, &turn);
                lane_load(s->kept + at - row * s->window * n, n - i, &kept);
                left[k] = load + kept * left[k];
                drop += turn * left[k];
            }
            value[k] -= c * drop;
        }
    }
}

/* The lowest gain of the rows so far. */
static void take_lowest(const DrawScores *s, size_t row, const double *change,
                        double *gain) {
    for (size_t i = 0; i < s->count; i++) {
        double own = s->base[row * s->count + i] - s->none[i] + change[i];
        if (row == 0 || own < gain[i])
            gain[i] = own;
    }
}

/* What the cuts do to one row, into change[count]. */
WIDE static void row_change(const DrawScores *s, size_t row, const double *cut,
                            size_t days, double *change) {
    size_t n = s->count, i = 0;
    Lane value[TOGETHER];
    for (; n - i >= TOGETHER * LANES; i += TOGETHER * LANES) {
        add_cuts(s, row, cut, days, i, TOGETHER, value);
        memcpy(change + i, value, sizeof value);
    }
    for (; i < n; i += LANES) {
        add_cuts(s, row, cut, days, i, 1, value);
        lane_store(value, n - i, change + i);
    }
}

void draw_scores_change(const DrawScores *s, const double *cut, double *gain) {
    size_t days = s->window;
    double *change;
    if (s->count == 0)
        return;
    change = s->work + s->window;
    while (days > 0 && cut[days - 1] == 0)
        days--;
    if (s->aim != AIM_LOWEST)
        row_change(s, 0, cut, days, gain);
    for (size_t row = 0; row < s->days && s->aim == AIM_LOWEST; row++) {
        row_change(s, row, cut, days, change);
        take_lowest(s, row, change, gain);
    }
}

void draw_scores_gains(const DrawScores *s, const Option *option,
                       double *gain) {
    option_cuts(option, s->window, s->work);
    draw_scores_change(s, s->work, gain);
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

/* Share of the gains above 0, not by rounding; NAN without any. */
static double helps(const DrawScores *s, const double *gain) {
    size_t n = s->count, better = 0;
    for (size_t i = 0; i < n; i++)
        better += gain[i] > 1e-12 * fabs(s->none[i] + gain[i]);
    return n ? (double)better / (double)n : NAN;
}

/* The spread of the gains in gain[count]. */
static Spread spread_of(const DrawScores *s, double *gain) {
    Spread spread = {NAN, NAN, NAN, NAN, helps(s, gain)};
    spread.gain_low = draws_quantile(gain, s->count, .05);
    spread.gain_high = draws_quantile(gain, s->count, .95);
    return spread;
}

double draw_scores_helps(const DrawScores *scores, const Option *option,
                         double *work) {
    draw_scores_gains(scores, option, work);
    return helps(scores, work);
}

Spread draw_scores_gain(const DrawScores *scores, const Option *option,
                        double *work) {
    draw_scores_gains(scores, option, work);
    return spread_of(scores, work);
}

/* The spread of the gains in work[count], and of readiness with them. */
static Spread whole_spread(const DrawScores *s, double *work) {
    size_t n = s->count;
    double *readiness = n ? work + n : work;
    Spread spread;
    for (size_t i = 0; i < n; i++)
        readiness[i] = s->none[i] + work[i];
    spread = spread_of(s, work);
    spread.readiness_low = draws_quantile(readiness, n, .05);
    spread.readiness_high = draws_quantile(readiness, n, .95);
    return spread;
}

Spread draw_scores_option(const DrawScores *scores, const Option *option,
                          double *work) {
    draw_scores_gains(scores, option, work);
    return whole_spread(scores, work);
}

Spread draw_scores_cuts(const DrawScores *scores, const double *cut,
                        double *work) {
    draw_scores_change(scores, cut, work);
    return whole_spread(scores, work);
}
