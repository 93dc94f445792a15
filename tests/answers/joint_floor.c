/* joint_floor: an event's sessions and of several events together.
 *
 * Readiness is reckoned here anew, as a plain sum over all loads of what each
 * has left (Banister 1975, Busso 2003; the forms as published in Busso,
 * Candau, Lacour 1994), and the best tapers by trying every pair.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "answers/joint_floor.h"
#include "season/usual.h"
#include "taper/joint.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- a small season with two events, read from files ---- */

enum { LOG_DAYS = 25, FIRST_AHEAD = 6, DAYS_MOST = 60, DOSES_MOST = 160 };

typedef struct {
    double log[LOG_DAYS], week[7]; /* [load] week: from Monday */
    double cup, trial;             /* [load/d] */
    int cup_days, trial_ahead, trial_days;
    int cup_minute[2], trial_minute[2]; /* [min after midnight] */
    double weight[2];
    Aim aim;
    ResponseParams params;
} Plan;

typedef struct {
    Notes notes;
    Season *season;
    Daily daily;
    Usual usual;
    JointEvent events[2];
} Small;

static const Date log_start = 20514; /* Monday 2026-03-02 */

static void write_log(const Plan *p, double scale) {
    static const char *const days[] = {"mon", "tue", "wed", "thu",
                                       "fri", "sat", "sun"};
    char text[4000], day[DATE_TEXT], other[DATE_TEXT];
    size_t at = (size_t)snprintf(text, sizeof text, "date,load\n");
    for (int i = 0; i < LOG_DAYS; i++)
        at +=
            (size_t)snprintf(text + at, sizeof text - at, "%s,%.17g\n",
                             date_write(day, log_start + i), scale * p->log[i]);
    test_file(0, "sessions.csv", text);
    at = (size_t)snprintf(text, sizeof text, "weekday,session,load\n");
    for (int i = 0; i < 7; i++)
        at += (size_t)snprintf(text + at, sizeof text - at, "%s,S,%.17g\n",
                               days[i], scale * p->week[i]);
    test_file(1, "week.csv", text);
    date_write(day, log_start + LOG_DAYS - 1 + FIRST_AHEAD);
    date_write(other, log_start + LOG_DAYS - 1 + p->trial_ahead);
    snprintf(text, sizeof text,
             "event,start,days,weight,load_per_day,start_time\n"
             "Cup,%s,%d,%.17g,%.17g,%02d:%02d %02d:%02d\n"
             "Trial,%s,%d,%.17g,%.17g,%02d:%02d %02d:%02d\n",
             day, p->cup_days, p->weight[0], scale * p->cup,
             p->cup_minute[0] / 60, p->cup_minute[0] % 60,
             p->cup_minute[1] / 60, p->cup_minute[1] % 60, other, p->trial_days,
             p->weight[1], scale * p->trial, p->trial_minute[0] / 60,
             p->trial_minute[0] % 60, p->trial_minute[1] / 60,
             p->trial_minute[1] % 60);
    test_file(2, "events.csv", text);
}

static void small_open(const Plan *p, double scale, Small *s) {
    SeasonOptions options = {.load = LOAD_FIRST_COMPLETE, .today = DATE_NONE};
    const char *folder = test_folder();
    *s = (Small){.season = NULL};
    write_log(p, scale);
    s->season = season_read(folder, &options, &s->notes);
    CU_ASSERT_EQUAL_FATAL(s->notes.errors, 0);
    CU_ASSERT_EQUAL_FATAL(s->season->event_count, 2);
    daily_build(s->season, 0, false, &s->daily);
    usual_build(s->season, 0, &s->daily, &s->usual, &s->notes);
    for (int k = 0; k < 2; k++) {
        ResponseParams params = p->params;
        params.value[PARAM_K1] /= scale;
        params.value[PARAM_K2] /= scale;
        params.value[PARAM_K3] /= scale * scale;
        joint_event_build(&s->usual, &s->daily, &s->season->events[k], 0,
                          &s->events[k]);
        score_build(&s->events[k].wide, &params, p->aim, &s->events[k].score);
    }
}

static void small_close(Small *s) {
    joint_event_free(&s->events[0]);
    joint_event_free(&s->events[1]);
    usual_free(&s->usual);
    daily_free(&s->daily);
    season_free(s->season);
    notes_free(&s->notes);
    test_folder_done();
}

/* ---- the same, reckoned here ---- */

typedef struct {
    double time, load;
} Dose;

/* Loads up to a time, in order, with cut[day] of the usual week left out. */
static size_t own_doses(const Plan *p, const double *cut, double until,
                        Dose *dose) {
    int cup = LOG_DAYS - 1 + FIRST_AHEAD, trial = LOG_DAYS - 1 + p->trial_ahead;
    size_t n = 0;
    for (int day = 0; day < DAYS_MOST; day++) {
        bool at_cup = day >= cup && day < cup + p->cup_days;
        bool at_trial = day >= trial && day < trial + p->trial_days;
        const int *minute = at_cup ? p->cup_minute : p->trial_minute;
        double load = at_cup ? p->cup : p->trial;
        if (at_cup || at_trial) {
            dose[n++] = (Dose){day, load / 2};
            dose[n++] =
                (Dose){day + (minute[1] - minute[0]) / 1440.0, load / 2};
        } else if (day < LOG_DAYS) {
            dose[n++] = (Dose){day, p->log[day]};
        } else {
            dose[n++] = (Dose){day, (1 - cut[day]) * p->week[day % 7]};
        }
    }
    while (n > 0 && dose[n - 1].time >= until)
        n--;
    return n;
}

static double own_readiness(const Plan *p, const double *cut, double at) {
    static Dose dose[DOSES_MOST];
    const double *v = p->params.value;
    bool varies = p->params.kind == RESPONSE_VARIABLE_DOSE;
    size_t n = own_doses(p, cut, at, dose);
    double sum = v[PARAM_P0];
    for (size_t i = 0; i < n; i++) {
        double age = at - dose[i].time, k2 = varies ? 0 : v[PARAM_K2];
        for (size_t k = 0; k <= i && varies; k++)
            k2 += v[PARAM_K3] * dose[k].load *
                  exp(-(dose[i].time - dose[k].time) / v[PARAM_TAU3]);
        sum += dose[i].load * (v[PARAM_K1] * exp(-age / v[PARAM_TAU1]) -
                               k2 * exp(-age / v[PARAM_TAU2]));
    }
    return sum;
}

/* Readiness that counts at the cup (0) or the trial (1). */
static double own_event(const Plan *p, const double *cut, int event) {
    int start = LOG_DAYS - 1 + (event ? p->trial_ahead : FIRST_AHEAD);
    int days = event ? p->trial_days : p->cup_days;
    double sum = 0;
    if (p->aim == AIM_FIRST)
        return own_readiness(p, cut, start);
    if (p->aim == AIM_LAST)
        return own_readiness(p, cut, start + days - 1);
    for (int e = 0; e < days; e++)
        sum += own_readiness(p, cut, start + e);
    return sum / days;
}

static void own_cut(const Plan *p, const Option *options, double *cut) {
    int start[2] = {LOG_DAYS - 1 + FIRST_AHEAD, LOG_DAYS - 1 + p->trial_ahead};
    memset(cut, 0, DAYS_MOST * sizeof *cut);
    for (int k = 0; k < 2; k++)
        for (int u = 1; options[k].count && u <= options[k].part[0].days; u++)
            cut[start[k] - u] = options[k].part[0].to / 100;
}

static double own_value(const Plan *p, const Option *options) {
    double cut[DAYS_MOST];
    own_cut(p, options, cut);
    return p->weight[0] * own_event(p, cut, 0) +
           p->weight[1] * own_event(p, cut, 1);
}

/* ---- random plans ---- */

static ResponseParams random_params(gsl_rng *rng, bool varies) {
    double tau2 = test_between(rng, 3, 9), k1 = test_between(rng, .03, .9);
    ResponseParams p = {
        RESPONSE_TWO_COMPONENT,
        {test_between(rng, -50, 400), k1, k1 * test_between(rng, 1.1, 3),
         tau2 * test_between(rng, 1.6, 4), tau2, NAN, NAN, NAN}};
    if (varies) {
        p.kind = RESPONSE_VARIABLE_DOSE;
        p.value[PARAM_K2] = NAN;
        p.value[PARAM_K3] = k1 * test_between(rng, 2e-4, 1e-3);
        p.value[PARAM_TAU3] = test_between(rng, 2, 9);
    }
    return p;
}

static Plan random_plan(gsl_rng *rng, bool varies) {
    static const Aim aims[] = {AIM_FIRST, AIM_MEAN, AIM_LAST};
    Plan p = {.cup = test_between(rng, 100, 1500),
              .trial = test_between(rng, 100, 1500),
              .cup_days = test_whole(rng, 1, 3),
              .trial_days = test_whole(rng, 1, 3),
              .aim = aims[test_whole(rng, 0, 2)],
              .weight = {test_between(rng, .2, 3), test_between(rng, .2, 3)},
              .params = random_params(rng, varies)};
    p.trial_ahead =
        FIRST_AHEAD + p.cup_days + test_whole(rng, 0, varies ? 4 : 9);
    for (int i = 0; i < LOG_DAYS; i++)
        p.log[i] = test_between(rng, 1, 900);
    for (int i = 0; i < 7; i++)
        p.week[i] = test_between(rng, 1, 900);
    for (int i = 0; i < 2; i++) {
        p.cup_minute[i] = i * 500 + test_whole(rng, 300, 700);
        p.trial_minute[i] = i * 500 + test_whole(rng, 300, 700);
    }
    return p;
}

/* ---- joint tapers ---- */

enum { LONGEST = 3, CUTS = 15 };

static Limits step_limits(void) {
    Limits limits = limits_default();
    limits.shapes = 1u << SHAPE_STEP;
    limits.max_length = LONGEST;
    limits.rest_days = 0;
    return limits;
}

/* The best of all pairs of steps: 1 to LONGEST days, 5 to 75 %. */
static double best_pair(const Plan *p) {
    int gap = p->trial_ahead - FIRST_AHEAD - p->cup_days;
    int most[2] = {LONGEST, gap < LONGEST ? gap : LONGEST};
    double best = -INFINITY;
    for (int i = 0; i <= most[0] * CUTS; i++)
        for (int k = 0; k <= most[1] * CUTS; k++) {
            double one = 5 * (i % CUTS + 1), other = 5 * (k % CUTS + 1);
            Option pair[2] = {{.count = i < most[0] * CUTS,
                               .part = {{i / CUTS + 1, one, one, 'x'}}},
                              {.count = k < most[1] * CUTS,
                               .part = {{k / CUTS + 1, other, other, 'x'}}}};
            best = fmax(best, own_value(p, pair));
        }
    return best;
}

static void check_joint(const Plan *p) {
    Small s;
    Joint joint;
    Status status = {0};
    Limits limits = step_limits();
    double wanted = best_pair(p), none, gain;
    Option nothing[2] = {{.count = 0}, {.count = 0}};
    small_open(p, 1, &s);
    CU_ASSERT_EQUAL(joint_run(s.events, 2, p->weight, &limits, &joint, &status),
                    STATUS_OK);
    none = own_value(p, nothing);
    gain = wanted - none;
    for (size_t k = 0; k < 2; k++) {
        double cut[DAYS_MOST];
        own_cut(p, joint.best, cut);
        ASSERT_NEAR(joint_readiness(s.events, k, joint.best),
                    own_event(p, cut, (int)k), 1e-10);
    }
    ASSERT_NEAR(own_value(p, joint.best) - none, gain,
                1e-9 + 1e-10 * fabs(none));
    /* each recommendation costs at most 5 % of what its window gains */
    CU_ASSERT(own_value(p, joint.recommended) - none >=
              .95 * gain - .02 * gain - 1e-9 * fabs(none));
    joint_free(&joint);
    small_close(&s);
}

static void joint_of_pairs(bool varies, unsigned long seed, int rounds) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, seed);
    if (getenv("PEAKWARD_QUICK"))
        rounds /= 5;
    for (int round = 0; round < rounds; round++) {
        Plan p = random_plan(rng, varies);
        check_joint(&p);
    }
    gsl_rng_free(rng);
}

/* The joint optimum against all pairs, linear and variable dose. */
static void joint_exhaustive(void) {
    joint_of_pairs(false, 811, 60);
}

static void joint_exhaustive_dose(void) {
    joint_of_pairs(true, 812, 80);
}

/* 100 a day but on the days of two events, 24 days apart. */
static Plan even_plan(void) {
    Plan p = {.cup = 900,
              .trial = 900,
              .cup_days = 1,
              .trial_days = 1,
              .trial_ahead = FIRST_AHEAD + 24,
              .cup_minute = {540, 600},
              .trial_minute = {540, 600},
              .weight = {1, 1}};
    p.params = (ResponseParams){.kind = RESPONSE_TWO_COMPONENT};
    p.params.value[PARAM_P0] = 500;
    p.params.value[PARAM_K1] = 1;
    p.params.value[PARAM_K2] = 2;
    p.params.value[PARAM_TAU1] = 45;
    p.params.value[PARAM_TAU2] = 15;
    for (int i = 0; i < LOG_DAYS; i++)
        p.log[i] = 100;
    for (int i = 0; i < 7; i++)
        p.week[i] = 100;
    return p;
}

/* 100 a day; the cup lies on the 24th day before the trial. Of the 28 days
 * before the trial it takes one; the trial's 20 days at 25 % and the cup's last
 * four at 50 % leave 27 - 15 - 2 = 10 of 27. */
static void joint_lowest_by_hand(void) {
    Plan p = even_plan();
    Option cuts[2] = {{.count = 1, .part = {{4, 50, 50, 'x'}}},
                      {.count = 1, .part = {{20, 75, 75, 'x'}}}};
    Option none[2] = {{.count = 0}, {.count = 0}};
    size_t from;
    Small s;
    small_open(&p, 1, &s);
    ASSERT_NEAR(joint_lowest(s.events, 2, cuts, &from), 10 / 27., 1e-12);
    CU_ASSERT_EQUAL(from, LOG_DAYS - 1 + FIRST_AHEAD + 24 - 28);
    ASSERT_NEAR(joint_lowest(s.events, 2, none, &from), 1, 0);
    small_close(&s);
}

static void check_option(const Option *option, int days, double cut) {
    CU_ASSERT_EQUAL(option->count, 1);
    CU_ASSERT_EQUAL(option_days(option), days);
    ASSERT_NEAR(option->part[0].from, cut, 1e-12);
    ASSERT_NEAR(option->part[0].to, cut, 1e-12);
}

/* Without weights each taper is the option nearest to 8 days at half volume, in
 * days and in tenths of the volume: of the cup's five days that is half. The 28
 * days that end two days before the trial then lose 5 x .5 + 7 x .5 of 27. A
 * floor of 79 % leaves them 5.67 to lose, so cuts of at most 47 %: the next
 * step is 45 %. */
static void joint_without_weights(void) {
    Plan p = even_plan();
    Limits limits = limits_default();
    Status status = {0};
    JointFloor floor;
    Joint joint;
    Small s;
    small_open(&p, 1, &s);
    CU_ASSERT_EQUAL(joint_floor_run(s.events, 2, NULL, &limits, .7, &joint,
                                    &floor, &status),
                    STATUS_OK);
    check_option(&joint.recommended[0], 5, 50);
    check_option(&joint.recommended[1], 8, 50);
    ASSERT_NEAR(floor.lowest, 1 - (5 * .5 + 7 * .5) / 27, 1e-12);
    CU_ASSERT_FALSE(floor.holds_back);
    joint_free(&joint);
    CU_ASSERT_EQUAL(joint_floor_run(s.events, 2, NULL, &limits, .79, &joint,
                                    &floor, &status),
                    STATUS_OK);
    check_option(&joint.recommended[0], 5, 45); /* keeps 1 - 12 * .45 / 27 */
    check_option(&joint.recommended[1], 8, 45);
    CU_ASSERT_TRUE(floor.holds_back);
    ASSERT_NEAR(floor.max_cut, 45, 1e-12);
    joint_free(&joint);
    small_close(&s);
}

/* The floor is kept, and costs something only where it holds back; without one
 * the tapers are those of the plain search. Gains are over no taper, as
 * reckoned here. */
static void check_floor(const Plan *p, double share, size_t *held) {
    Small s;
    Joint plain, joint;
    JointFloor floor;
    Status status = {0};
    Limits limits = limits_default();
    size_t from;
    Option nothing[2] = {{.count = 0}, {.count = 0}};
    double free_gain = 0, gain = 0;
    small_open(p, 1, &s);
    CU_ASSERT_EQUAL(joint_run(s.events, 2, p->weight, &limits, &plain, &status),
                    STATUS_OK);
    CU_ASSERT_EQUAL(joint_floor_run(s.events, 2, p->weight, &limits, share,
                                    &joint, &floor, &status),
                    STATUS_OK);
    for (size_t k = 0; k < 2; k++) {
        free_gain += p->weight[k] * joint_readiness(s.events, k, plain.best);
        gain += p->weight[k] * joint_readiness(s.events, k, joint.best);
    }
    CU_ASSERT(joint_lowest(s.events, 2, joint.best, &from) >= share);
    CU_ASSERT(joint_lowest(s.events, 2, joint.recommended, &from) >= share);
    ASSERT_NEAR(floor.lifted - floor.gain, free_gain - gain,
                1e-9 * fabs(free_gain));
    ASSERT_NEAR(floor.lifted, free_gain - own_value(p, nothing),
                1e-9 * fabs(free_gain));
    CU_ASSERT(gain <= free_gain + 1e-9 * fabs(free_gain));
    if (!floor.holds_back)
        ASSERT_NEAR(gain, free_gain, 0);
    *held += floor.holds_back;
    joint_free(&plain);
    joint_free(&joint);
    small_close(&s);
}

static void joint_floor_is_kept(void) {
    static const double shares[] = {0, .5, .7, .85};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    size_t held[4] = {0};
    gsl_rng_set(rng, 813);
    for (int round = 0; round < (getenv("PEAKWARD_QUICK") ? 6 : 30); round++) {
        Plan p = random_plan(rng, false);
        p.cup_days = 1;
        p.trial_ahead = FIRST_AHEAD + 24;
        for (int i = 0; i < 4; i++)
            check_floor(&p, shares[i], &held[i]);
    }
    CU_ASSERT_EQUAL(held[0], 0);
    CU_ASSERT(held[3] > 0);
    gsl_rng_free(rng);
}

/* One event that alone matters leaves the other's window to its own good: the
 * best of the cup alone is that of the plain search. */
static void joint_alone(void) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    Limits limits = limits_default();
    gsl_rng_set(rng, 813);
    for (int round = 0; round < 20; round++) {
        Plan p = random_plan(rng, round % 2);
        double weight[2] = {1, 0};
        Status status = {0};
        Small s;
        Joint joint;
        Score score;
        Search search;
        small_open(&p, 1, &s);
        score_build(&s.events[0].own, &p.params, p.aim, &score);
        search_run(&s.events[0].own, &score, &limits, &search, &status);
        joint_run(s.events, 2, weight, &limits, &joint, &status);
        ASSERT_NEAR(joint_readiness(s.events, 0, joint.best),
                    search.items[search.best].readiness, 1e-10);
        CU_ASSERT_EQUAL(joint.best[1].count, 0);
        search_free(&search);
        score_free(&score);
        joint_free(&joint);
        small_close(&s);
    }
    gsl_rng_free(rng);
}

static void same_advice(const Joint *a, const Joint *b) {
    for (size_t k = 0; k < 2; k++) {
        Text one = {0}, other = {0};
        option_write(&a->best[k], &one);
        option_write(&b->best[k], &other);
        ASSERT_TEXT(text_of(&one), text_of(&other));
        text_clear(&one);
        text_clear(&other);
        option_write(&a->recommended[k], &one);
        option_write(&b->recommended[k], &other);
        ASSERT_TEXT(text_of(&one), text_of(&other));
        text_free(&one);
        text_free(&other);
    }
}

/* Loads in another unit, and weights all doubled, change no advice. */
static void joint_scales(void) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    Limits limits = limits_default();
    gsl_rng_set(rng, 814);
    for (int round = 0; round < 10; round++) {
        Plan p = random_plan(rng, round % 2);
        double twice[2] = {2 * p.weight[0], 2 * p.weight[1]};
        Status status = {0};
        Small s;
        Joint one, other;
        small_open(&p, 1, &s);
        joint_run(s.events, 2, p.weight, &limits, &one, &status);
        joint_run(s.events, 2, twice, &limits, &other, &status);
        same_advice(&one, &other);
        joint_free(&other);
        small_close(&s);
        small_open(&p, 7.25, &s);
        joint_run(s.events, 2, p.weight, &limits, &other, &status);
        same_advice(&one, &other);
        joint_free(&one);
        joint_free(&other);
        small_close(&s);
    }
    gsl_rng_free(rng);
}

/* ---- sessions ---- */

/* Readiness before each session, from the steps of the outlook. */
static void sessions_random(void) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 815);
    for (int round = 0; round < 50; round++) {
        Plan p = random_plan(rng, round % 2);
        double none[DAYS_MOST] = {0};
        Small s;
        small_open(&p, 1, &s);
        for (int k = 0; k < 2; k++) {
            const Outlook *o = &s.events[k].own;
            const int *minute = k ? p.trial_minute : p.cup_minute;
            int days = k ? p.trial_days : p.cup_days;
            double fitness[DOSES_MOST], fatigue[DOSES_MOST];
            CU_ASSERT_FATAL(o->timeline.steps <= DOSES_MOST);
            CU_ASSERT_EQUAL(o->session_count, 2 * (size_t)days);
            kernel_run(&p.params, &o->timeline, READ_BEFORE, fitness, fatigue);
            for (size_t i = 0; i < o->session_count; i++) {
                const OutlookSession *at = &o->session[i];
                double later = (minute[i % 2] - minute[0]) / 1440.0;
                CU_ASSERT_EQUAL(at->day, o->event_day + i / 2);
                CU_ASSERT_EQUAL(at->minute, minute[i % 2]);
                ASSERT_NEAR(p.params.value[PARAM_P0] + fitness[at->step] -
                                fatigue[at->step],
                            own_readiness(&p, none, (double)at->day + later),
                            1e-10);
            }
        }
        small_close(&s);
    }
    gsl_rng_free(rng);
}

/* In a log with clock times sessions fall at theirs. */
static void sessions_clock(void) {
    SeasonOptions options = {.load = LOAD_FIRST_COMPLETE, .today = DATE_NONE};
    const char *folder = test_folder();
    Notes notes = {0};
    Season *season;
    Daily daily;
    Usual usual;
    Outlook o;
    double at = 0;
    test_file(0, "sessions.csv", "date,time,load\n2026-03-02,18:00,300\n");
    test_file(1, "events.csv",
              "event,start,days,load_per_day,start_time\n"
              "Cup,2026-03-05,2,660,09:00 12:15 17:30\n");
    season = season_read(folder, &options, &notes);
    CU_ASSERT_EQUAL_FATAL(notes.errors, 0);
    CU_ASSERT_EQUAL(season->events[0].sessions_per_day, 3);
    daily_build(season, 0, false, &daily);
    usual_build(season, 0, &daily, &usual, &notes);
    outlook_build(&usual, &daily, &season->events[0], 0, &o);
    CU_ASSERT_EQUAL_FATAL(o.session_count, 6);
    for (size_t step = 0; step <= o.session[4].step; step++)
        at += step ? o.gap[step] : .75;
    ASSERT_NEAR(at, 4 + 12.25 / 24, 1e-12); /* 6 March 12:15 */
    for (size_t i = 0; i < 6; i++)
        ASSERT_NEAR(o.load[o.session[i].step], 220, 1e-12);
    CU_ASSERT_EQUAL(o.session[0].step, o.read_step[3]);
    CU_ASSERT_EQUAL(o.session[3].step, o.read_step[4]);
    outlook_free(&o);
    usual_free(&usual);
    daily_free(&daily);
    season_free(season);
    notes_free(&notes);
    test_folder_done();
}

/* Times that are not given. */
static void sessions_taken(void) {
    Event event = {.minute = 9 * 60, .sessions_per_day = 2};
    int minute[EVENT_SESSIONS];
    CU_ASSERT_EQUAL(event_minutes(&event, minute), 2);
    CU_ASSERT_EQUAL(minute[1], 15 * 60);
    CU_ASSERT_TRUE(event_minutes_taken(&event));
    event.minute = 20 * 60; /* 02:00 is another day */
    CU_ASSERT_EQUAL(event_minutes(&event, minute), 2);
    CU_ASSERT_EQUAL(minute[1], 23 * 60 + 59);
    event.minute = -1;
    CU_ASSERT_EQUAL(event_minutes(&event, minute), 1);
    CU_ASSERT_EQUAL(minute[0], -1);
    CU_ASSERT_FALSE(event_minutes_taken(&event));
    event = (Event){.minute = 600, .sessions_per_day = 1};
    CU_ASSERT_EQUAL(event_minutes(&event, minute), 1);
    CU_ASSERT_EQUAL(minute[0], 600);
    CU_ASSERT_EQUAL(event_session_minutes(&event), 90);
}

static const TestCase cases[] = {
    {"joint_exhaustive", joint_exhaustive},
    {"joint_exhaustive_dose", joint_exhaustive_dose},
    {"joint_lowest_by_hand", joint_lowest_by_hand},
    {"joint_without_weights", joint_without_weights},
    {"joint_floor_is_kept", joint_floor_is_kept},
    {"joint_alone", joint_alone},
    {"joint_scales", joint_scales},
    {"sessions_random", sessions_random},
    {"sessions_clock", sessions_clock},
    {"sessions_taken", sessions_taken},
    {NULL, NULL}};

const TestSuite suite_answers_joint_floor = {"answers", cases};
