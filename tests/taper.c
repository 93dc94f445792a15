/* taper: tests of options, outlooks, scores, the search and the plan.
 *
 * Most numbers are held against this file's own ways to get them: cuts spelled
 * out day by day, readiness summed load by load, options enumerated anew, the
 * ceiling by SciPy's linear programming. Random cases are seeded;
 * PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "calibrate/draws.h"
#include "response/landmarks.h"
#include "season/season.h"
#include "season/usual.h"
#include "taper/eventweek.h"
#include "taper/option.h"
#include "taper/outlook.h"
#include "taper/prescription.h"
#include "taper/rules.h"
#include "taper/score.h"
#include "taper/search.h"

#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool chance(gsl_rng *rng, double p) {
    return gsl_rng_uniform(rng) < p;
}

/* ---- a random season in memory ---- */

enum {
    SESSIONS_MOST = 260,
    ROWS_MOST = 24,
    EXERCISES_MOST = 40,
    DAYS_MOST = 200
};

typedef struct {
    Season season;
    Athlete athlete;
    Session sessions[SESSIONS_MOST];
    Event events[2]; /* by start; the last is the one to peak for */
    WeekRow week[ROWS_MOST];
    char names[ROWS_MOST][12];
    Exercise exercises[EXERCISES_MOST];
    char exercise_names[EXERCISES_MOST][12];
    const Event *event;
    double before; /* [load/d] */
    ResponseParams params;
    Notes notes;
    Daily daily;
    Usual usual;
    Outlook outlook;
} World;

static const Date world_start = 20515; /* 2026-03-03, a Tuesday */

static void add_session(World *w, Date date, int minute, double load) {
    Season *s = &w->season;
    w->sessions[s->session_count++] =
        (Session){.date = date, .minute = minute, .load = load};
}

/* The first and the last day have a session. */
static void random_log(gsl_rng *rng, World *w, bool timed) {
    int days = test_whole(rng, 8, 90);
    for (int day = 0; day < days; day++) {
        int count = test_whole(rng, 0, 2), minute = test_whole(rng, 360, 700);
        if (count == 0 && (day == 0 || day == days - 1))
            count = 1;
        for (int i = 0; i < count; i++, minute += test_whole(rng, 60, 500))
            add_session(w, world_start + day,
                        timed && chance(rng, .8) ? minute : -1,
                        chance(rng, .1) ? 0 : test_between(rng, 20, 950));
    }
    w->season.first = world_start;
    w->season.last = world_start + days - 1;
    w->season.today =
        w->season.last + (chance(rng, .7) ? 0 : test_whole(rng, 1, 5));
}

static WeekRow *add_row(World *w, int weekday, Date date, double load) {
    size_t at = w->season.week_count++;
    snprintf(w->names[at], sizeof w->names[at], "S%zu", at);
    w->week[at] = (WeekRow){.weekday = weekday,
                            .date = date,
                            .session = w->names[at],
                            .athlete = NAMES_NONE,
                            .kind = KIND_SKILL,
                            .minutes = NAN,
                            .rpe = NAN,
                            .load = load};
    return &w->week[at];
}

/* Up to two sessions a weekday, on Wednesdays one at least; sometimes other
 * ones on one date. */
static void random_week(gsl_rng *rng, World *w) {
    Date date = w->season.today + test_whole(rng, 1, 20);
    for (int day = 0; day < 7; day++)
        for (int i = test_whole(rng, day == 2, 2); i > 0; i--)
            add_row(w, day, DATE_NONE, test_between(rng, 30, 900))->keep =
                chance(rng, .25);
    if (chance(rng, .3))
        add_row(w, -1, date, test_between(rng, 30, 900));
    if (chance(rng, .2))
        add_row(w, -1, date + 1, 0)->off = true;
}

static void add_event(gsl_rng *rng, World *w, Date start, int days,
                      bool timed) {
    static char name[] = "Cup";
    w->events[w->season.event_count++] = (Event){
        .name = name,
        .start = start,
        .days = days,
        .weight = 1,
        .athlete = NAMES_NONE,
        .load_per_day = test_between(rng, 0, 1500),
        .minute = timed && chance(rng, .7) ? test_whole(rng, 420, 1200) : -1};
}

/* The event, and sometimes another one before it. */
static void random_events(gsl_rng *rng, World *w, bool timed) {
    int ahead = test_whole(rng, 2, 40), days = test_whole(rng, 1, 3);
    if (ahead > days + 1 && chance(rng, .3))
        add_event(rng, w, w->season.today + test_whole(rng, 1, ahead - days),
                  days, timed);
    add_event(rng, w, w->season.today + ahead, test_whole(rng, 1, 4), timed);
    w->event = &w->events[w->season.event_count - 1];
}

static ResponseParams random_params(gsl_rng *rng) {
    double tau2 = test_between(rng, 4, 22), k1 = test_between(rng, .03, 1.5);
    return (ResponseParams){
        RESPONSE_TWO_COMPONENT,
        {test_between(rng, -300, 900), k1, k1 * test_between(rng, .9, 3),
         tau2 * test_between(rng, 1.4, 4), tau2, NAN, NAN, NAN}};
}

/* Two-component most often; else delayed or variable dose. Gains such that
 * fitness and fatigue are of one size. */
static ResponseParams random_kind(gsl_rng *rng) {
    ResponseParams p = random_params(rng);
    double *v = p.value;
    int kind = test_whole(rng, 0, 5);
    if (kind == 0) {
        p.kind = RESPONSE_DELAYED;
        v[PARAM_TAU_RISE] = v[PARAM_TAU1] * test_between(rng, .05, .6);
    }
    if (kind == 1 || kind == 2) {
        p.kind = RESPONSE_VARIABLE_DOSE;
        v[PARAM_K3] = v[PARAM_K1] * test_between(rng, 2e-4, 2e-3);
        v[PARAM_TAU3] = test_between(rng, 1, 6);
        v[PARAM_K2] = NAN;
    }
    return p;
}

/* Daily values, the usual week and the outlook of what stands in `w`. */
static void world_open(World *w) {
    Season *s = &w->season;
    static char folder[] = "nowhere";
    w->athlete.name = folder;
    w->athlete.sessions = w->sessions;
    w->athlete.session_count = s->session_count;
    s->folder = folder;
    s->athletes = &w->athlete;
    s->athlete_count = 1;
    s->sessions = w->sessions;
    s->events = w->events;
    s->week = w->week;
    s->exercises = w->exercises;
    s->has_week = s->week_count > 0;
    w->event = &w->events[s->event_count - 1];
    daily_build(s, 0, false, &w->daily);
    usual_build(s, 0, &w->daily, &w->usual, &w->notes);
    outlook_build(&w->usual, &w->daily, w->event, w->before, &w->outlook);
    CU_ASSERT_EQUAL(w->notes.count, 0);
}

static void world_close(World *w) {
    daily_free(&w->daily);
    usual_free(&w->usual);
    outlook_free(&w->outlook);
    notes_free(&w->notes);
}

/* A world ready to use. Large, so one at a time. */
static World *random_world(gsl_rng *rng) {
    static World w;
    bool timed = chance(rng, .5);
    w = (World){.before = chance(rng, .7) ? test_between(rng, 0, 600) : 0};
    random_log(rng, &w, timed);
    random_week(rng, &w);
    random_events(rng, &w, timed);
    w.params = random_params(rng);
    world_open(&w);
    return &w;
}

/* One with a day to cut at least. */
static World *random_window(gsl_rng *rng) {
    World *w = random_world(rng);
    while (w->outlook.window == 0) {
        world_close(w);
        w = random_world(rng);
    }
    return w;
}

/* ---- this file's own reckoning ---- */

static bool own_timed(const World *w) {
    for (size_t i = 0; i < w->season.session_count; i++)
        if (w->sessions[i].minute >= 0)
            return true;
    return false;
}

static double own_time(const World *w, Date date, int minute) {
    double day = date - world_start;
    if (!own_timed(w))
        return day;
    return day + (minute < 0 ? .5 : minute / 1440.0);
}

static const Event *own_event_on(const World *w, Date date) {
    for (size_t i = w->season.event_count; i-- > 0;)
        if (date >= w->events[i].start &&
            date < w->events[i].start + w->events[i].days)
            return &w->events[i];
    return NULL;
}

/* Rows of the usual week that hold on a date, in order. */
static size_t own_rows(const World *w, Date date, const WeekRow **rows) {
    size_t count = 0;
    bool dated = false, off = false;
    for (size_t i = 0; i < w->season.week_count; i++)
        dated = dated || w->week[i].date == date;
    for (size_t i = 0; i < w->season.week_count; i++) {
        const WeekRow *row = &w->week[i];
        if (dated
                ? row->date != date
                : row->date != DATE_NONE || row->weekday != date_weekday(date))
            continue;
        off = off || row->off;
        rows[count++] = row;
    }
    return off ? 0 : count;
}

typedef struct {
    double cuttable, fixed;
} DayLoad;

static DayLoad own_planned(const World *w, Date date) {
    const WeekRow *rows[ROWS_MOST];
    const Event *event = own_event_on(w, date);
    DayLoad load = {0, 0};
    size_t count;
    if (event)
        return (DayLoad){0, event->load_per_day};
    count = own_rows(w, date, rows);
    for (size_t i = 0; i < count; i++)
        *(rows[i]->keep ? &load.fixed : &load.cuttable) += rows[i]->load;
    return load;
}

static size_t own_window(const World *w) {
    size_t window = 0;
    for (Date date = w->event->start - 1;
         date > w->season.today && !own_event_on(w, date); date--)
        window++;
    return window;
}

/* What a unit of load does after `age` days; of a variable-dose model its
 * fitness alone. */
static double own_influence(const World *w, double age) {
    const double *v = w->params.value;
    double sum;
    if (age <= 0)
        return 0;
    sum = v[PARAM_K1] * exp(-age / v[PARAM_TAU1]);
    if (w->params.kind == RESPONSE_DELAYED)
        sum -= v[PARAM_K1] * exp(-age / v[PARAM_TAU_RISE]);
    if (w->params.kind != RESPONSE_VARIABLE_DOSE)
        sum -= v[PARAM_K2] * exp(-age / v[PARAM_TAU2]);
    return sum;
}

/* 1 a day for ever, the last `age` days ago. */
static double own_series(double age, double tau) {
    return exp(-age / tau) / (1 - exp(-1 / tau));
}

/* Days from the last load before the log to a time. */
static double own_past(const World *w, double time) {
    return time + (own_timed(w) ? .5 : 1);
}

/* What a unit a day for ever before the log still does at a time. */
static double own_before(const World *w, double time) {
    const double *v = w->params.value;
    double age = own_past(w, time);
    double sum = v[PARAM_K1] * own_series(age, v[PARAM_TAU1]);
    if (w->params.kind == RESPONSE_DELAYED)
        sum -= v[PARAM_K1] * own_series(age, v[PARAM_TAU_RISE]);
    if (w->params.kind != RESPONSE_VARIABLE_DOSE)
        sum -= v[PARAM_K2] * own_series(age, v[PARAM_TAU2]);
    return sum;
}

/* A load and when it falls. */
typedef struct {
    double time, load;
} Dose;

typedef struct {
    Dose dose[SESSIONS_MOST + DAYS_MOST];
    size_t count;
} Doses;

static int dose_order(const void *a, const void *b) {
    const Dose *x = a, *y = b;
    return (x->time > y->time) - (x->time < y->time);
}

/* Fatigue of a variable-dose model (Busso 2003): each load times the recent
 * loads, its own moment's among them. Sorts the doses. */
static double own_dose_fatigue(const World *w, Doses *d, double read) {
    const double *v = w->params.value;
    double tau2 = v[PARAM_TAU2], tau3 = v[PARAM_TAU3], recent = 0, last = 0;
    double sum = w->before * w->before * own_series(0, tau3) *
                 own_series(own_past(w, read), tau2);
    qsort(d->dose, d->count, sizeof *d->dose, dose_order);
    for (size_t i = 0, next; i < d->count; i = next) {
        double time = d->dose[i].time, load = 0;
        for (next = i; next < d->count && d->dose[next].time == time; next++)
            load += d->dose[next].load;
        recent = recent * exp(-(time - last) / tau3) + load;
        last = time;
        sum += load * exp(-(read - time) / tau2) *
               (recent + w->before * own_series(own_past(w, time), tau3));
    }
    return v[PARAM_K3] * sum;
}

/* Load of a day to come under cuts, cut[u - 1] for the day u before. */
static double own_load(const World *w, Date date, const double *cut) {
    DayLoad load = own_planned(w, date);
    Date u = w->event->start - date;
    if (u < 1 || (size_t)u > own_window(w))
        return load.cuttable + load.fixed;
    return (1 - cut[u - 1]) * load.cuttable + load.fixed;
}

static void add_dose(Doses *d, double time, double load, double read) {
    if (time < read)
        d->dose[d->count++] = (Dose){time, load};
}

/* Readiness at a time from doses before it, summed load by load. */
static double own_sum(const World *w, Doses *d, double read) {
    double sum = w->params.value[PARAM_P0] + w->before * own_before(w, read);
    for (size_t i = 0; i < d->count; i++)
        sum += d->dose[i].load * own_influence(w, read - d->dose[i].time);
    if (w->params.kind == RESPONSE_VARIABLE_DOSE)
        sum -= own_dose_fatigue(w, d, read);
    return sum;
}

static void add_log(const World *w, Doses *d, double read) {
    for (size_t i = 0; i < w->season.session_count; i++) {
        const Session *s = &w->sessions[i];
        add_dose(d, own_time(w, s->date, s->minute), s->load, read);
    }
}

/* Readiness on day `e` of the event. */
static double own_readiness(const World *w, const double *cut, int e) {
    static Doses d;
    const Event *event = w->event;
    double read = own_time(w, event->start + e, event->minute);
    d.count = 0;
    add_log(w, &d, read);
    for (Date date = w->season.last + 1; date < event->start + e; date++) {
        const Event *on = own_event_on(w, date);
        int minute = on ? on->minute : -1;
        add_dose(&d, own_time(w, date, minute), own_load(w, date, cut), read);
    }
    return own_sum(w, &d, read);
}

static double own_aim(Aim aim, const double *value, size_t days) {
    double sum = 0, lowest = value[0];
    for (size_t e = 0; e < days; e++) {
        sum += value[e];
        lowest = value[e] < lowest ? value[e] : lowest;
    }
    if (aim == AIM_FIRST)
        return value[0];
    if (aim == AIM_LAST)
        return value[days - 1];
    return aim == AIM_LOWEST ? lowest : sum / (double)days;
}

static double own_score(const World *w, Aim aim, const double *cut) {
    double value[8];
    for (int e = 0; e < w->event->days; e++)
        value[e] = own_readiness(w, cut, e);
    return own_aim(aim, value, (size_t)w->event->days);
}

/* The same by a run of the kernel over the loads as cut. */
static double kernel_score(const World *w, Aim aim, const double *cut) {
    enum { STEPS = 2 * DAYS_MOST + SESSIONS_MOST };
    static double load[STEPS], fitness[STEPS], fatigue[STEPS];
    const Outlook *o = &w->outlook;
    Timeline line = o->timeline;
    double value[8];
    outlook_apply(o, cut, load);
    line.load = load;
    kernel_run(&w->params, &line, READ_BEFORE, fitness, fatigue);
    for (size_t e = 0; e < o->event_days; e++) {
        size_t step = o->read_step[o->event_day + e];
        value[e] = w->params.value[PARAM_P0] + fitness[step] - fatigue[step];
    }
    return own_aim(aim, value, o->event_days);
}

/* Size of the terms that make up readiness, for tolerances. */
static double size_of(const World *w) {
    const double *v = w->params.value;
    double most = w->before + 2000;
    double gain = isfinite(v[PARAM_K2]) ? v[PARAM_K2] : 0;
    if (w->params.kind == RESPONSE_VARIABLE_DOSE)
        gain = v[PARAM_K3] * most * (v[PARAM_TAU3] + 1);
    return fabs(v[PARAM_P0]) +
           most * (v[PARAM_K1] * v[PARAM_TAU1] + gain * v[PARAM_TAU2]);
}

static const double no_cut[DAYS_MOST] = {0};

/* ---- options: words in, cuts out ---- */

/* Cuts of an option day by day, cut[u - 1], as the page on options says. */
static void own_cuts(const Option *option, double *cut, size_t window) {
    double day[DAYS_MOST];
    size_t count = 0;
    for (int k = 0; k < option->count; k++) {
        const OptionPart *p = &option->part[k];
        for (int i = 0; i < p->days; i++) {
            double x = p->days > 1 ? i / (double)(p->days - 1) : 1;
            double kept = (1 - x) * (100 - p->from) + x * (100 - p->to);
            if (p->fall == '~')
                kept = pow(100 - p->from, 1 - x) * pow(100 - p->to, x);
            day[count++] = 1 - kept / 100;
        }
    }
    for (size_t u = 1; u <= window; u++)
        cut[u - 1] = u <= count ? day[count - u] : 0;
}

typedef struct {
    const char *spec, *written;
    Shape shape;
    int days;
    double most;      /* [%] */
    double cut[8];    /* of the days 1 ... 8 before the event */
    const char *said; /* in words */
} Accepted;

static const Accepted accepted[] = {
    {"6x50%",
     "6x50",
     SHAPE_STEP,
     6,
     50,
     {.5, .5, .5, .5, .5, .5},
     "6 days with 50 %"},
    {"5x0%-80%",
     "5x0-80",
     SHAPE_LINEAR,
     5,
     80,
     {.8, .6, .4, .2, 0},
     "5 days with 0 to 80 %"},
    {"none", "none", SHAPE_NONE, 0, 0, {0}, "no taper"},
    {"NONE", "none", SHAPE_NONE, 0, 0, {0}, "no taper"},
    {"3x100", "3x100", SHAPE_REST, 3, 100, {1, 1, 1}, "3 days of full rest"},
    {"1x100", "1x100", SHAPE_REST, 1, 100, {1}, "1 day of full rest"},
    {"6x50",
     "6x50",
     SHAPE_STEP,
     6,
     50,
     {.5, .5, .5, .5, .5, .5},
     "6 days with 50 % less volume"},
    {"2X62.5",
     "2x62.5",
     SHAPE_STEP,
     2,
     62.5,
     {.625, .625},
     "2 days with 62.5 % less volume"},
    {"14x40",
     "14x40",
     SHAPE_STEP,
     14,
     40,
     {.4, .4, .4, .4, .4, .4, .4, .4},
     "14 days with 40 % less volume"},
    {"3x50,4x75",
     "3x50,4x75",
     SHAPE_TWO_STEP,
     7,
     75,
     {.75, .75, .75, .75, .5, .5, .5},
     "3 days with 50 % less volume, then 4 days with 75 % less volume"},
    {" 3x50 , 4x75 ",
     "3x50,4x75",
     SHAPE_TWO_STEP,
     7,
     75,
     {.75, .75, .75, .75, .5, .5, .5},
     "3 days with 50 %"},
    {"2x75,5x25",
     "2x75,5x25",
     SHAPE_TWO_STEP,
     7,
     75,
     {.25, .25, .25, .25, .25, .75, .75},
     "2 days with 75 %"},
    /* from none on the first day to 80 % on the last, 20 % more each day */
    {"5x0-80",
     "5x0-80",
     SHAPE_LINEAR,
     5,
     80,
     {.8, .6, .4, .2, 0},
     "5 days with 0 to 80 % less volume"},
    {"3x20-50",
     "3x20-50",
     SHAPE_LINEAR,
     3,
     50,
     {.5, .35, .2},
     "3 days with 20 to 50 % less volume"},
    /* a quarter on the last day: kept 1, 1/2, 1/4, half as much each day */
    {"3x0~75",
     "3x0~75",
     SHAPE_EXPONENTIAL,
     3,
     75,
     {.75, .5, 0},
     "3 days with 0 to 75 % less volume"},
    /* kept .8, .4, .2, .1 */
    {"4x20~90",
     "4x20~90",
     SHAPE_EXPONENTIAL,
     4,
     90,
     {.9, .8, .6, .2},
     "4 days with 20 to 90 % less volume"},
    {"1x0-75", "1x0-75", SHAPE_LINEAR, 1, 75, {.75}, "1 day "},
    {"1x0~75", "1x0~75", SHAPE_EXPONENTIAL, 1, 75, {.75}, "1 day "},
    {"2x0-100,1x100",
     "2x0-100,1x100",
     SHAPE_OTHER,
     3,
     100,
     {1, 1, 0},
     "then 1 day of full rest"},
    {"1x10,1x20,1x30",
     "1x10,1x20,1x30",
     SHAPE_OTHER,
     3,
     30,
     {.3, .2, .1},
     "1 day with 10 %"},
    {"120x5",
     "120x5",
     SHAPE_STEP,
     120,
     5,
     {.05, .05, .05, .05, .05, .05, .05, .05},
     "120 days with 5 %"},
    {"2x0", "2x0", SHAPE_STEP, 2, 0, {0}, "2 days with 0 %"},
};

static void test_option_accepted(void) {
    for (size_t i = 0; i < sizeof accepted / sizeof accepted[0]; i++) {
        const Accepted *row = &accepted[i];
        char why[OPTION_WHY];
        Option option;
        Text text = {0};
        double cut[8];
        CU_ASSERT(option_read(row->spec, &option, why));
        option_write(&option, &text);
        ASSERT_TEXT(text_of(&text), row->written);
        text_clear(&text);
        option_words(&option, &text);
        ASSERT_HAS(text_of(&text), row->said);
        CU_ASSERT_EQUAL(option_shape(&option), row->shape);
        CU_ASSERT_EQUAL(option_days(&option), row->days);
        CU_ASSERT_EQUAL(option_cut(&option), row->most);
        option_cuts(&option, 8, cut);
        for (int u = 0; u < 8; u++)
            ASSERT_NEAR(cut[u], row->cut[u], 1e-14);
        text_free(&text);
    }
}

static void test_shape_names(void) {
    static const char *const names[] = {
        "none", "step", "linear", "exponential", "two-step", "rest", "other"};
    CU_ASSERT_EQUAL(SHAPES, 7);
    for (int i = 0; i < SHAPES; i++)
        ASSERT_TEXT(shape_names[i], names[i]);
    CU_ASSERT_PTR_NULL(shape_names[SHAPES]);
}

static const struct {
    const char *spec, *said;
} refused[] = {
    {"", "parts like 14x50 (DAYSxCUT)"},
    {"best", "parts like 14x50"},
    {"14", "parts like 14x50"},
    {"x50", "parts like 14x50"},
    {"-7x50", "parts like 14x50"},
    {"7*50", "parts like 14x50"},
    {"7x50,", "parts like 14x50"},
    {",7x50", "parts like 14x50"},
    {"7x50,none", "parts like 14x50"},
    {"0x50", "a whole number of days from 1 to 120"},
    {"7.5x50", "a whole number of days from 1 to 120"},
    {"121x50", "a whole number of days from 1 to 120"},
    {"99999999999999999999x50", "a whole number of days from 1 to 120"},
    {"7x", "a cut in per cent behind the x"},
    {"7x-50", "a cut in per cent behind the x"},
    {"7x5.5.5", "a cut in per cent behind the x"},
    {"7xhalf", "a cut in per cent behind the x"},
    {"7x0-", "the last day's cut behind the sign"},
    {"7x0~", "the last day's cut behind the sign"},
    {"7x0--50", "the last day's cut behind the sign"},
    {"7x100.5", "cuts from 0 to 100 per cent"},
    {"7x0-101", "cuts from 0 to 100 per cent"},
    {"7x101-0", "cuts from 0 to 100 per cent"},
    {"7x0~100", "cuts below 100 per cent in an exponential fall"},
    {"7x100~50", "cuts below 100 per cent in an exponential fall"},
    {"7x50;7x75", "a comma between parts"},
    {"7x50 7x75", "a comma between parts"},
    {"7x50%%", "a comma between parts"},
    {"7%x50", "parts like 14x50"},
    {"7x0-50-75", "a comma between parts"},
    {"100x50,21x75", "at most 120 days in all"},
    {"60x50,60x60,1x70", "at most 120 days in all"},
};

static void test_option_refused(void) {
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        char why[OPTION_WHY] = "";
        Option option;
        CU_ASSERT_FALSE(option_read(refused[i].spec, &option, why));
        ASSERT_HAS(why, refused[i].said);
    }
}

/* As many parts as there is room for, and one more. */
static void test_option_parts(void) {
    Text spec = {0}, wanted = {0};
    char why[OPTION_WHY] = "";
    Option option;
    for (int i = 0; i < OPTION_PARTS; i++)
        text_add(&spec, "%s1x%d", i ? "," : "", i + 1);
    CU_ASSERT(option_read(text_of(&spec), &option, why));
    CU_ASSERT_EQUAL(option.count, OPTION_PARTS);
    text_add(&spec, ",1x50");
    CU_ASSERT_FALSE(option_read(text_of(&spec), &option, why));
    text_add(&wanted, "at most %d parts", OPTION_PARTS);
    ASSERT_HAS(why, text_of(&wanted));
    text_free(&spec);
    text_free(&wanted);
}

/* Cuts in hundredths of a per cent, which six digits hold. */
static double random_cut(gsl_rng *rng, int most) {
    if (most == 10000 && chance(rng, .1))
        return 100;
    return chance(rng, .5) ? 5 * test_whole(rng, 0, most / 500)
                           : test_whole(rng, 0, most) / 100.0;
}

static Option random_option(gsl_rng *rng, int longest) {
    Option option = {.count = test_whole(rng, 0, 4)};
    for (int k = 0; k < option.count; k++) {
        OptionPart *p = &option.part[k];
        p->days = test_whole(rng, 1, longest);
        p->fall = "x-~"[test_whole(rng, 0, 2)];
        p->from = random_cut(rng, p->fall == '~' ? 9500 : 10000);
        p->to = p->fall == 'x' ? p->from
                               : random_cut(rng, p->fall == '~' ? 9500 : 10000);
    }
    return option;
}

static bool same_option(const Option *a, const Option *b) {
    bool same = a->count == b->count;
    for (int k = 0; k < a->count && same; k++) {
        const OptionPart *p = &a->part[k], *q = &b->part[k];
        same = p->days == q->days && p->from == q->from && p->to == q->to &&
               p->fall == q->fall;
    }
    return same;
}

static void test_option_round_trip(void) {
    gsl_rng *rng = test_random(7050);
    Text text = {0};
    for (int round = 0; round < 5000; round++) {
        Option option = random_option(rng, 30), back;
        char why[OPTION_WHY];
        text_clear(&text);
        option_write(&option, &text);
        CU_ASSERT(option_read(text_of(&text), &back, why));
        CU_ASSERT(same_option(&option, &back));
    }
    text_free(&text);
    gsl_rng_free(rng);
}

/* Any window: days beyond it are left out, days beyond the option uncut. */
static void test_option_cuts(void) {
    gsl_rng *rng = test_random(7051);
    for (int round = 0; round < 5000; round++) {
        Option option = random_option(rng, 25);
        size_t window = (size_t)test_whole(rng, 0, 110);
        double cut[DAYS_MOST], wanted[DAYS_MOST];
        bool good;
        cut[window] = 2.385; /* must stay */
        option_cuts(&option, window, cut);
        own_cuts(&option, wanted, window);
        good = true;
        for (size_t u = 0; u < window; u++)
            good = good && test_near(cut[u], wanted[u], 1e-12);
        CU_ASSERT(good);
        CU_ASSERT_EQUAL(cut[window], 2.385);
        /* exactly: no cut is no cut and rest is rest */
        if (window > 0 && option.count > 0)
            CU_ASSERT_EQUAL(cut[0], option.part[option.count - 1].to / 100);
    }
    gsl_rng_free(rng);
}

/* Less cut from day to day is a rise of volume, not a fall. */
static void test_option_rising(void) {
    static const char *const specs[] = {"14x75-25", "14x75~25"};
    for (int i = 0; i < 2; i++) {
        Option option;
        Text text = {0};
        char why[OPTION_WHY];
        CU_ASSERT(option_read(specs[i], &option, why));
        option_words(&option, &text);
        ASSERT_HAS(text_of(&text), "75 to 25 %");
        CU_ASSERT_PTR_NULL(strstr(text_of(&text), "falling"));
        text_free(&text);
    }
}

/* 10x0-90 seen from four days before: .6 .7 .8 .9. */
static void test_option_short_window(void) {
    Option option;
    char why[OPTION_WHY];
    double cut[5] = {0, 0, 0, 0, 2.385};
    CU_ASSERT(option_read("5x30,10x0-90", &option, why));
    option_cuts(&option, 4, cut);
    for (int u = 0; u < 4; u++)
        ASSERT_NEAR(cut[u], .9 - .1 * u, 1e-14);
    CU_ASSERT_EQUAL(cut[4], 2.385);
}

/* An exponential fall keeps an equal share of the day before. */
static void test_option_equal_share(void) {
    Option option;
    char why[OPTION_WHY];
    double cut[14];
    CU_ASSERT(option_read("14x0~75", &option, why));
    option_cuts(&option, 14, cut);
    CU_ASSERT_EQUAL(cut[13], 0);
    ASSERT_NEAR(cut[0], .75, 1e-14);
    for (int u = 1; u < 14; u++)
        ASSERT_NEAR((1 - cut[u - 1]) / (1 - cut[u]), pow(.25, 1 / 13.0), 1e-13);
}

/* Two days a fifth above the usual, then three at half, and back to words. */
static void test_option_build_up(void) {
    Option option;
    char why[OPTION_WHY];
    double cut[6];
    Text text = {0};
    CU_ASSERT(option_read("2x+20, 3x50", &option, why));
    option_cuts(&option, 6, cut);
    CU_ASSERT_EQUAL(cut[5], 0);
    CU_ASSERT_EQUAL(cut[4], -.2);
    CU_ASSERT_EQUAL(cut[3], -.2);
    for (int u = 0; u < 3; u++)
        CU_ASSERT_EQUAL(cut[u], .5);
    CU_ASSERT_EQUAL(option_build_days(&option), 2);
    CU_ASSERT_EQUAL(option_more(&option), 20);
    CU_ASSERT_EQUAL(option_shape(&option), SHAPE_STEP);
    option_write(&option, &text);
    CU_ASSERT_STRING_EQUAL(text_of(&text), "2x+20,3x50");
    text_clear(&text);
    option_words(&option, &text);
    ASSERT_HAS(text_of(&text), "2 days with 20 % more volume");
    text_free(&text);
}

/* ---- the event week ---- */

static bool has_two(const EventAmount *a, double low, double high) {
    return fabs(a->low - low) < 1e-9 && fabs(a->high - high) < 1e-9;
}

/* 78 kg by hand: 10-12 and 1-4 g/kg, 30-60 g/h (Thomas, Erdman, Burke 2016,
 * M); half a fluid ounce per pound is 32.6 ml/kg (T); 2 and 4 % below (Sawka
 * et al. 2007, P; T). A US fluid ounce is 29.5735 ml, a pound .45359237 kg. */
static void test_eventweek_amounts(void) {
    EventAmount a[EVENTWEEK_AMOUNTS];
    eventweek_amounts(78, 120, true, a);
    CU_ASSERT(has_two(&a[0], 780, 936));
    CU_ASSERT(has_two(&a[1], 312, 374.4)); /* two fifths */
    CU_ASSERT(has_two(&a[2], 78, 312));
    CU_ASSERT(has_two(&a[3], 30, 60));
    ASSERT_NEAR(a[4].low / 78, 32.6, .005);
    ASSERT_NEAR(a[4].low * a[4].factor, 78 / .45359237 / 2, 1e-6);
    CU_ASSERT(has_two(&a[5], 76.44, 76.44));
    CU_ASSERT(has_two(&a[6], 74.88, 74.88));
    ASSERT_NEAR(a[6].low * a[6].factor, 165.08, .005);
    for (int i = 0; i < EVENTWEEK_AMOUNTS; i++)
        CU_ASSERT(a[i].source && strlen(a[i].source) > 10);
    eventweek_amounts(NAN, 0, false, a);
    CU_ASSERT(has_two(&a[0], 10, 12));
    CU_ASSERT_STRING_EQUAL(a[0].unit, "g/day per kg");
    ASSERT_HAS(a[0].when, "if a day's play lasts over 90 min");
    ASSERT_NEAR(a[4].low * a[4].factor, .5, 1e-9); /* fl oz per lb */
    CU_ASSERT(has_two(&a[5], .98, .98));
}

/* Nobody loads for less than 90 min of play (the same source, M). */
static void test_eventweek_short(void) {
    EventAmount a[EVENTWEEK_AMOUNTS];
    eventweek_amounts(60, 89, false, a);
    CU_ASSERT(has_two(&a[0], 420, 720)); /* 7-12 g/kg */
    CU_ASSERT(has_two(&a[1], 168, 288));
    CU_ASSERT_STRING_EQUAL(a[0].when, "on the day before");
    eventweek_amounts(60, 90, false, a);
    CU_ASSERT(has_two(&a[0], 600, 720));
}

/* Two sessions a day on two days: warm-ups end before each start, nothing of a
 * day comes before its rising, the order is that of time. */
static void test_eventweek_timeline(void) {
    static const int start[] = {9 * 60 + 30, 15 * 60};
    EventTimes times = {2, 2, start, 75};
    EventStep steps[EVENTWEEK_STEPS];
    size_t count = eventweek_timeline(&times, steps);
    int starts = 0, general = 0, specific = 0, mornings = 0;
    for (size_t i = 0; i < count; i++) {
        const EventStep *s = &steps[i];
        if (i > 0)
            CU_ASSERT(s->day > steps[i - 1].day ||
                      s->minute >= steps[i - 1].minute);
        if (s->start) {
            CU_ASSERT(s->minute == start[starts % 2] && s->day == starts / 2);
            starts++;
            CU_ASSERT_EQUAL(general, starts);
            CU_ASSERT_EQUAL(specific, starts);
        }
        general += strstr(s->what, "warm-up, general") != NULL;
        specific += strstr(s->what, "warm-up, specific") != NULL;
        mornings += strstr(s->what, "mobility, 10-15 min") != NULL;
        /* nothing of an event's day comes before its rising */
        if (s->day >= 0 && s->day < 2 && steps[i - 1].day < s->day)
            ASSERT_HAS(s->what, "get up");
    }
    CU_ASSERT_EQUAL(starts, 4);
    CU_ASSERT_EQUAL(mornings, 3); /* the week's, and each event day's */
    times = (EventTimes){30, 0, NULL, 90}; /* long, no hours: it still fits */
    count = eventweek_timeline(&times, steps);
    CU_ASSERT(count > 10 && count < EVENTWEEK_STEPS);
    for (size_t i = 0; i < count; i++)
        CU_ASSERT_FALSE(steps[i].clock);
}

/* A start just after midnight: nobody gets up at seven for it. Ten sessions a
 * day on four days all stand there. */
static void test_eventweek_night(void) {
    static const int night[] = {30};
    static const int many[] = {480, 530, 580, 630, 680,
                               730, 780, 830, 880, 930};
    EventTimes times = {1, 1, night, 60};
    EventStep steps[EVENTWEEK_STEPS];
    size_t count = eventweek_timeline(&times, steps), starts = 0;
    for (size_t i = 0; i < count; i++)
        CU_ASSERT(strstr(steps[i].what, "get up") == NULL);
    times = (EventTimes){4, 10, many, 40};
    count = eventweek_timeline(&times, steps);
    for (size_t i = 0; i < count; i++)
        starts += steps[i].start;
    CU_ASSERT_EQUAL(starts, 40);
    CU_ASSERT(count < EVENTWEEK_STEPS);
}

/* ---- outlooks of small seasons, by hand ---- */

typedef struct {
    Notes notes;
    Season *season;
    Daily daily;
    Usual usual;
    Outlook outlook;
} Hand;

/* Reads the test's folder; `event` NULL is the next one. */
static void hand_open(Hand *h, const char *folder, const char *event,
                      Date today) {
    SeasonOptions options = {.load = LOAD_FIRST_COMPLETE, .today = today};
    *h = (Hand){.season = NULL};
    h->season = season_read(folder, &options, &h->notes);
    daily_build(h->season, 0, false, &h->daily);
    usual_build(h->season, 0, &h->daily, &h->usual, &h->notes);
    CU_ASSERT_EQUAL_FATAL(h->notes.errors, 0);
    outlook_build(&h->usual, &h->daily, season_event(h->season, 0, event), 0,
                  &h->outlook);
}

static void hand_close(Hand *h) {
    outlook_free(&h->outlook);
    usual_free(&h->usual);
    daily_free(&h->daily);
    season_free(h->season);
    notes_free(&h->notes);
}

static Date day_of(int year, int month, int day) {
    return date_of((Civil){year, month, day});
}

/* Monday 2 to Sunday 8 March 2026. */
static const char plain_log[] = "date,load\n2026-03-02,300\n2026-03-04,120\n"
                                "2026-03-08,410.5\n";

static const char plain_week[] = "weekday,session,load,keep\nmon,Gym,310,\n"
                                 "mon,Mobility,25,yes\nwed,Court,420,\n"
                                 "sat,Game,505,\n";

static void check_day(const Outlook *o, Date date, double cuttable,
                      double fixed) {
    size_t day = (size_t)(date - o->first);
    CU_ASSERT_FATAL(day < o->days);
    ASSERT_NEAR(o->cuttable[day], cuttable, 1e-12);
    ASSERT_NEAR(o->fixed[day], fixed, 1e-12);
    ASSERT_NEAR(outlook_planned(o, day), cuttable + fixed, 1e-12);
}

/* The cup of two days from Saturday 21 March. */
static void test_outlook(void) {
    Hand h;
    const char *folder = test_folder();
    test_file(0, "sessions.csv", plain_log);
    test_file(0, "week.csv", plain_week);
    test_file(0, "events.csv",
              "event,start,days,load_per_day\nCup,2026-03-21,2,640\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    CU_ASSERT_EQUAL(h.outlook.first, day_of(2026, 3, 2));
    CU_ASSERT_EQUAL(h.outlook.log_days, 7);
    CU_ASSERT_EQUAL(h.outlook.event_day, 19);
    CU_ASSERT_EQUAL(h.outlook.event_days, 2);
    CU_ASSERT_EQUAL(h.outlook.event_load, 640);
    CU_ASSERT_FALSE(h.outlook.event_load_guessed);
    CU_ASSERT_EQUAL(h.outlook.window, 12); /* 9 to 20 March */
    CU_ASSERT_EQUAL(h.outlook.days, 19 + 2 + OUTLOOK_TAIL);
    check_day(&h.outlook, day_of(2026, 3, 4), 0, 120);  /* logged */
    check_day(&h.outlook, day_of(2026, 3, 3), 0, 0);    /* rest */
    check_day(&h.outlook, day_of(2026, 3, 9), 310, 25); /* Monday */
    check_day(&h.outlook, day_of(2026, 3, 14), 505, 0); /* Saturday */
    check_day(&h.outlook, day_of(2026, 3, 18), 420, 0); /* Wednesday */
    check_day(&h.outlook, day_of(2026, 3, 20), 0, 0);   /* Friday */
    check_day(&h.outlook, day_of(2026, 3, 21), 0, 640); /* no game */
    check_day(&h.outlook, day_of(2026, 3, 22), 0, 640); /* second day */
    check_day(&h.outlook, day_of(2026, 3, 23), 0, 335); /* after it */
    check_day(&h.outlook, day_of(2026, 4, 4), 0, 505);  /* its tail */
    hand_close(&h);
    test_folder_done();
}

/* The days from today on only, when today is after the log. */
static void test_outlook_today(void) {
    Hand h;
    const char *folder = test_folder();
    test_file(0, "sessions.csv", plain_log);
    test_file(0, "week.csv", plain_week);
    test_file(0, "events.csv",
              "event,start,days,load_per_day\nCup,2026-03-21,2,640\n");
    hand_open(&h, folder, NULL, day_of(2026, 3, 17));
    CU_ASSERT_EQUAL(h.outlook.window, 3); /* 18 to 20 March */
    CU_ASSERT_EQUAL(h.outlook.log_days, 7);
    check_day(&h.outlook, day_of(2026, 3, 9), 310, 25);
    hand_close(&h);
    hand_open(&h, folder, NULL, day_of(2026, 3, 20));
    CU_ASSERT_EQUAL(h.outlook.window, 0);
    hand_close(&h);
    test_folder_done();
}

/* A trial in between ends the window and keeps its load. */
static void test_outlook_other_event(void) {
    Hand h;
    const char *folder = test_folder();
    test_file(0, "sessions.csv", plain_log);
    test_file(0, "week.csv", plain_week);
    test_file(0, "events.csv",
              "event,start,days,load_per_day,athlete\n"
              "Cup,2026-03-21,2,640,\nTrial,2026-03-13,2,222,\n"
              "Elsewhere,2026-03-18,1,99,someone\n");
    hand_open(&h, folder, "Cup", DATE_NONE);
    CU_ASSERT_EQUAL(h.outlook.window, 6); /* 15 to 20 March */
    check_day(&h.outlook, day_of(2026, 3, 9), 310, 25);
    check_day(&h.outlook, day_of(2026, 3, 13), 0, 222);
    check_day(&h.outlook, day_of(2026, 3, 14), 0, 222); /* a Saturday */
    check_day(&h.outlook, day_of(2026, 3, 18), 420, 0); /* another's event */
    hand_close(&h);
    hand_open(&h, folder, NULL, DATE_NONE); /* the next one is the trial */
    ASSERT_TEXT(h.outlook.event->name, "Trial");
    CU_ASSERT_EQUAL(h.outlook.window, 4);               /* 9 to 12 March */
    check_day(&h.outlook, day_of(2026, 3, 21), 0, 640); /* in the tail */
    hand_close(&h);
    test_folder_done();
}

static void check_event_load(const char *log, const char *event, double load,
                             bool guessed) {
    Hand h;
    const char *folder = test_folder();
    test_file(0, "sessions.csv", log);
    test_file(0, "events.csv", event);
    hand_open(&h, folder, NULL, DATE_NONE);
    ASSERT_NEAR(h.outlook.event_load, load, 1e-12);
    CU_ASSERT_EQUAL(h.outlook.event_load_guessed, guessed);
    hand_close(&h);
    test_folder_done();
}

/* Given; else sessions x the median match; else nothing. */
static void test_outlook_event_load(void) {
    static const char matches[] =
        "date,load,kind\n2026-03-02,500,match\n2026-03-03,80,gym\n"
        "2026-03-04,700,match\n2026-03-05,651,match\n";
    static const char gym[] = "date,load,kind\n2026-03-02,500,gym\n";
    static const char other[] =
        "date,load,kind\n2026-03-02,500,gym\n2026-03-03,331,other\n";
    check_event_load(matches,
                     "event,start,sessions_per_day,load_per_day\n"
                     "Cup,2026-03-21,2,640.5\n",
                     640.5, false);
    check_event_load(matches,
                     "event,start,sessions_per_day,load_per_day\n"
                     "Cup,2026-03-21,2,0\n",
                     0, false);
    check_event_load(matches,
                     "event,start,sessions_per_day\nCup,2026-03-21,2\n", 1302,
                     true);
    check_event_load(other, "event,start,sessions_per_day\nCup,2026-03-21,3\n",
                     993, true);
    check_event_load(gym, "event,start,sessions_per_day\nCup,2026-03-21,2\n", 0,
                     false);
    check_event_load(matches, "event,start\nCup,2026-03-21\n", 0, false);
}

/* No week.csv: weekday means of the log; no event: it ends with the log. */
static void test_outlook_from_log(void) {
    Hand h;
    const char *folder = test_folder();
    test_file(0, "sessions.csv",
              "date,load\n2026-03-02,300\n2026-03-04,120\n2026-03-09,400\n"
              "2026-03-15,70.5\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    CU_ASSERT_PTR_NULL(h.outlook.event);
    CU_ASSERT_EQUAL(h.outlook.days, 14);
    CU_ASSERT_EQUAL(h.outlook.window, 0);
    hand_close(&h);
    test_file(0, "events.csv", "event,start\nCup,2026-03-21\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    CU_ASSERT_EQUAL(h.outlook.window, 5);
    check_day(&h.outlook, day_of(2026, 3, 16), 350, 0); /* 300 and 400 */
    check_day(&h.outlook, day_of(2026, 3, 18), 60, 0);  /* 120 and none */
    check_day(&h.outlook, day_of(2026, 3, 17), 0, 0);
    hand_close(&h);
    test_folder_done();
}

/* Sessions at 18:00 and 06:30, one without a time at noon; the event starts
 * at 09:30; planned days fall at noon. */
static void test_outlook_clock(void) {
    Hand h;
    const Outlook *o = &h.outlook;
    const char *folder = test_folder();
    test_file(0, "sessions.csv",
              "date,time,load\n2026-03-02,18:00,300\n2026-03-03,06:30,120\n"
              "2026-03-03,17:15,210\n2026-03-04,,95\n");
    test_file(0, "week.csv", plain_week);
    test_file(0, "events.csv",
              "event,start,days,load_per_day,start_time\n"
              "Cup,2026-03-07,2,640,09:30\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    CU_ASSERT_EQUAL(o->window, 2);
    ASSERT_NEAR(o->read_time[0], .75, 1e-14);
    ASSERT_NEAR(o->read_time[1], 1 + 6.5 / 24, 1e-14);
    ASSERT_NEAR(o->read_time[2], 2.5, 1e-14);
    ASSERT_NEAR(o->read_time[4], 4.5, 1e-14);
    ASSERT_NEAR(o->load_time[4], 4.5, 1e-14);
    ASSERT_NEAR(o->read_time[5], 5 + 9.5 / 24, 1e-14);
    ASSERT_NEAR(o->load_time[6], 6 + 9.5 / 24, 1e-14);
    /* steady training before falls at noon: 30 h before 18:00 */
    ASSERT_NEAR(o->timeline.before_age, 30.0 / 24, 1e-14);
    /* 18:00, 06:30, 17:15, noon: four steps, then one a day */
    CU_ASSERT_EQUAL(o->timeline.steps, 4 + o->days - 3);
    CU_ASSERT_EQUAL(o->read_step[1], 1);
    CU_ASSERT_EQUAL(o->after_step[1], 2);
    CU_ASSERT_EQUAL(o->read_step[2], 3);
    ASSERT_NEAR(o->load[2], 210, 1e-12);
    ASSERT_NEAR(o->gap[2], 10.75 / 24, 1e-14);
    ASSERT_NEAR(o->load[o->load_step[5]], 640, 1e-12);
    hand_close(&h);
    test_folder_done();
}

/* Without clock times in the log the event's start changes nothing. */
static void test_outlook_no_clock(void) {
    Hand h;
    const char *folder = test_folder();
    test_file(0, "sessions.csv", plain_log);
    test_file(
        0, "events.csv",
        "event,start,load_per_day,start_time\nCup,2026-03-21,640,09:30\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    CU_ASSERT_EQUAL(h.outlook.read_time[19], 19);
    CU_ASSERT_EQUAL(h.outlook.load_time[19], 19);
    CU_ASSERT_EQUAL(h.outlook.timeline.before_age, 1);
    hand_close(&h);
    test_folder_done();
}

/* Random seasons: windows, planned loads, and loads with cuts. */
static void test_outlook_random(void) {
    gsl_rng *rng = test_random(420);
    for (int round = 0; round < 1000; round++) {
        World *w = random_world(rng);
        const Outlook *o = &w->outlook;
        double cut[DAYS_MOST], load[2 * DAYS_MOST + SESSIONS_MOST];
        CU_ASSERT_EQUAL(o->window, own_window(w));
        for (size_t u = 0; u < o->window; u++)
            cut[u] = gsl_rng_uniform(rng);
        outlook_apply(o, cut, load);
        for (size_t day = o->log_days; day < o->event_day + o->event_days;
             day++) {
            Date date = o->first + (Date)day;
            DayLoad wanted = own_planned(w, date);
            check_day(o, date, wanted.cuttable, wanted.fixed);
            ASSERT_NEAR(load[o->load_step[day]], own_load(w, date, cut), 1e-11);
        }
        world_close(w);
    }
    gsl_rng_free(rng);
}

/* ---- scores ---- */

static void check_score(const World *w, const Score *score, double value,
                        const double *cut) {
    double size = size_of(w);
    CU_ASSERT(fabs(value - kernel_score(w, score->aim, cut)) <= 1e-9 * size);
    ASSERT_NEAR(value, kernel_score(w, score->aim, cut), 1e-9);
    CU_ASSERT(fabs(value - own_score(w, score->aim, cut)) <= 1e-9 * size);
    ASSERT_NEAR(value, own_score(w, score->aim, cut), 1e-9);
}

/* Options of every shape, also longer than the window, and every aim. */
static void test_score_option(void) {
    gsl_rng *rng = test_random(9);
    size_t seen[SHAPES] = {0}, timed = 0, camps = 0;
    for (int round = 0; round < 400; round++) {
        World *w = random_world(rng);
        Score score;
        double cut[DAYS_MOST];
        w->params = random_kind(rng);
        score_build(&w->outlook, &w->params, (Aim)test_whole(rng, 0, AIMS - 1),
                    &score);
        timed += w->daily.timed;
        camps += w->event->days > 1;
        for (int i = 0; i < 8; i++) {
            Option option = random_option(rng, 25);
            seen[option_shape(&option)]++;
            own_cuts(&option, cut, w->outlook.window);
            check_score(w, &score, score_option(&score, &option), cut);
        }
        score_free(&score);
        world_close(w);
    }
    for (int shape = 0; shape < SHAPES; shape++)
        CU_ASSERT(seen[shape] > 0);
    CU_ASSERT(timed > 50 && camps > 50);
    gsl_rng_free(rng);
}

static void test_score_cuts(void) {
    gsl_rng *rng = test_random(10);
    for (int round = 0; round < 500; round++) {
        World *w = random_world(rng);
        Score score;
        double cut[DAYS_MOST];
        w->params = random_kind(rng);
        score_build(&w->outlook, &w->params, (Aim)test_whole(rng, 0, AIMS - 1),
                    &score);
        for (int i = 0; i < 4; i++) {
            for (size_t u = 0; u < w->outlook.window; u++)
                cut[u] = chance(rng, .2) ? 0 : test_between(rng, -.3, 1);
            check_score(w, &score, score_cuts(&score, cut), cut);
        }
        check_score(w, &score, score_aim(&score, score.base), no_cut);
        score_free(&score);
        world_close(w);
    }
    gsl_rng_free(rng);
}

static void test_score_aim(void) {
    static const double value[] = {3.25, -2.385, 11.5, 4};
    static const double wanted[AIMS] = {3.25, 16.365 / 4, -2.385, 4};
    static const char *const names[] = {"first", "mean", "lowest", "last"};
    for (int aim = 0; aim < AIMS; aim++) {
        Score score = {.aim = (Aim)aim, .days = 4};
        ASSERT_NEAR(score_aim(&score, value), wanted[aim], 1e-14);
        ASSERT_TEXT(aim_names[aim], names[aim]);
        score.days = 1;
        CU_ASSERT_EQUAL(score_aim(&score, value), 3.25);
    }
    CU_ASSERT_PTR_NULL(aim_names[AIMS]);
}

/* Reading of the last logged day, summed by hand in daily seasons. */
static double own_today(const World *w) {
    static Doses d;
    double read = w->outlook.read_time[w->outlook.log_days - 1];
    d.count = 0;
    add_log(w, &d, read);
    return own_sum(w, &d, read);
}

static void test_score_today(void) {
    gsl_rng *rng = test_random(11);
    for (int round = 0; round < 300; round++) {
        World *w = random_world(rng);
        w->params = random_kind(rng);
        CU_ASSERT(fabs(score_today(&w->outlook, &w->params) - own_today(w)) <=
                  1e-10 * size_of(w));
        world_close(w);
    }
    gsl_rng_free(rng);
}

/* Quantile at place p (n - 1) of the sorted values. */
static double own_quantile(const double *values, size_t n, double p) {
    double sorted[DAYS_MOST];
    memcpy(sorted, values, n * sizeof *values);
    gsl_sort(sorted, 1, n);
    return gsl_stats_quantile_from_sorted_data(sorted, 1, n, p);
}

/* One option under each draw by a full run. With an anchor a draw is shifted
 * so that its last logged day reads as that. */
static void check_spread(World *w, const Draws *draws, Aim aim, double anchor,
                         const Option *option, Spread spread) {
    double readiness[DAYS_MOST], gain[DAYS_MOST], cut[DAYS_MOST];
    size_t n = draws->count, better = 0, perhaps = 0;
    double size = 0;
    own_cuts(option, cut, w->outlook.window);
    for (size_t i = 0; i < n; i++) {
        w->params = draws->set[i];
        readiness[i] = kernel_score(w, aim, cut);
        gain[i] = readiness[i] - kernel_score(w, aim, no_cut);
        if (isfinite(anchor))
            readiness[i] += anchor - own_today(w);
        size = fmax(size, size_of(w));
        better += gain[i] > 1e-12 * size;
        perhaps += gain[i] > -1e-12 * size;
    }
    CU_ASSERT(fabs(spread.readiness_low - own_quantile(readiness, n, .05)) <=
              1e-10 * size);
    CU_ASSERT(fabs(spread.readiness_high - own_quantile(readiness, n, .95)) <=
              1e-10 * size);
    CU_ASSERT(fabs(spread.gain_low - own_quantile(gain, n, .05)) <=
              1e-10 * size);
    CU_ASSERT(fabs(spread.gain_high - own_quantile(gain, n, .95)) <=
              1e-10 * size);
    /* a gain of 0 may come out on either side of it */
    CU_ASSERT(spread.beats_none * (double)n >= (double)better - 1e-9);
    CU_ASSERT(spread.beats_none * (double)n <= (double)perhaps + 1e-9);
}

static void test_draw_scores(void) {
    gsl_rng *rng = test_random(12);
    for (int round = 0; round < 60; round++) {
        World *w = random_window(rng);
        ResponseParams set[150];
        Draws draws = {(size_t)test_whole(rng, 1, 150), set};
        DrawScores scores;
        Aim aim = (Aim)test_whole(rng, 0, AIMS - 1);
        double anchor = round % 2 ? NAN : 238.5, work[300];
        set[0] = random_kind(rng);
        for (size_t i = 1; i < draws.count; i++) /* all of one kind */
            do
                set[i] = random_kind(rng);
            while (set[i].kind != set[0].kind);
        draw_scores_build(&w->outlook, &draws, aim, anchor, &scores);
        CU_ASSERT_EQUAL(scores.count, draws.count);
        for (int i = 0; i < 5; i++) {
            Option option = random_option(rng, 15);
            check_spread(w, &draws, aim, anchor, &option,
                         draw_scores_option(&scores, &option, work));
        }
        { /* no taper never beats itself */
            Option none = {.count = 0};
            Spread spread = draw_scores_option(&scores, &none, work);
            CU_ASSERT_EQUAL(spread.beats_none, 0);
            CU_ASSERT(fabs(spread.gain_low) <= 1e-12 * size_of(w));
            CU_ASSERT(fabs(spread.gain_high) <= 1e-12 * size_of(w));
        }
        draw_scores_free(&scores);
        world_close(w);
    }
    gsl_rng_free(rng);
}

/* One win, one defeat and two ties of four; none of none. */
static void test_draw_scores_beat(void) {
    static const double one[] = {1.5, 2, 3.25, -4};
    static const double other[] = {1.5, 1, 3.5, -4};
    ASSERT_NEAR(draw_scores_beat(one, other, 4), .5, 1e-15);
    ASSERT_NEAR(draw_scores_beat(one, other, 2), .75, 1e-15);
    ASSERT_NEAR(draw_scores_beat(other, one, 3), .5, 1e-15);
    ASSERT_NEAR(draw_scores_beat(other, one, 2), .25, 1e-15);
    CU_ASSERT(isnan(draw_scores_beat(one, other, 0)));
}

/* Mean over the draws, each by the kernel. */
static double own_mean(World *w, const Draws *draws, Aim aim, double anchor,
                       const double *cut) {
    double sum = 0;
    for (size_t i = 0; i < draws->count; i++) {
        w->params = draws->set[i];
        sum += kernel_score(w, aim, cut);
        if (isfinite(anchor))
            sum += anchor - own_today(w);
    }
    return sum / (double)draws->count;
}

/* The lowest of expected readings is not below the expected lowest one, nor
 * above the expected first (Jensen 1906, Acta Math 30:175-193; from memory). */
static void check_mean(World *w, const Draws *draws, Aim aim, double anchor,
                       const Score *mean, const Option *option) {
    double cut[DAYS_MOST] = {0}, size = 0, wanted, found;
    option_cuts(option, w->outlook.window, cut);
    found = score_option(mean, option);
    CU_ASSERT(fabs(found - score_cuts(mean, cut)) <= 1e-9 * fabs(found));
    for (size_t i = 0; i < draws->count; i++) {
        w->params = draws->set[i];
        size = fmax(size, size_of(w));
    }
    wanted = own_mean(w, draws, aim, anchor, cut);
    if (aim == AIM_LOWEST) {
        CU_ASSERT(found >= wanted - 1e-10 * size);
        wanted = own_mean(w, draws, AIM_FIRST, anchor, cut);
        CU_ASSERT(found <= wanted + 1e-10 * size);
    } else {
        CU_ASSERT(fabs(found - wanted) <= 1e-10 * size);
    }
}

static void test_draw_scores_mean(void) {
    gsl_rng *rng = test_random(14);
    for (int round = 0; round < 60; round++) {
        World *w = random_window(rng);
        ResponseParams set[40];
        Draws draws = {(size_t)test_whole(rng, 1, 40), set};
        DrawScores scores;
        Score mean;
        Aim aim = (Aim)test_whole(rng, 0, AIMS - 1);
        double anchor = round % 2 ? NAN : 238.5;
        set[0] = random_kind(rng);
        for (size_t i = 1; i < draws.count; i++) /* all of one kind */
            do
                set[i] = random_kind(rng);
            while (set[i].kind != set[0].kind);
        draw_scores_build(&w->outlook, &draws, aim, anchor, &scores);
        draw_scores_mean(&scores, &mean);
        for (int i = 0; i < 5; i++) {
            Option option = random_option(rng, 15);
            check_mean(w, &draws, aim, anchor, &mean, &option);
        }
        score_free(&mean);
        draw_scores_free(&scores);
        world_close(w);
    }
    gsl_rng_free(rng);
}

static void test_draw_scores_none(void) {
    gsl_rng *rng = test_random(13);
    World *w = random_window(rng);
    Draws draws = {0, NULL};
    Option option = random_option(rng, 15);
    DrawScores scores;
    Spread spread;
    draw_scores_build(&w->outlook, &draws, AIM_MEAN, NAN, &scores);
    spread = draw_scores_option(&scores, &option, NULL);
    CU_ASSERT(isnan(spread.readiness_low) && isnan(spread.readiness_high));
    CU_ASSERT(isnan(spread.gain_low) && isnan(spread.gain_high));
    CU_ASSERT(isnan(spread.beats_none));
    draw_scores_free(&scores);
    world_close(w);
    gsl_rng_free(rng);
}

/* ---- the search ---- */

static Limits random_limits(gsl_rng *rng) {
    static const double cuts[] = {25, 40, 60, 75, 80, 100};
    Limits limits = limits_default();
    limits.max_length = test_whole(rng, 1, 22);
    limits.max_cut = cuts[test_whole(rng, 0, 5)];
    limits.shapes = (unsigned)test_whole(rng, 1, 31) << SHAPE_STEP;
    limits.rest_days = test_whole(rng, 0, 6);
    if (chance(rng, .3))
        limits.max_cut = test_whole(rng, 300, 10000) / 100.0;
    if (chance(rng, .4))
        limits.min_week_load = test_whole(rng, 10, 100);
    if (chance(rng, .25))
        limits.min_sessions = test_whole(rng, 1, 9);
    return limits;
}

/* Rises may forbid even the usual week. */
static void random_rises(gsl_rng *rng, Limits *limits) {
    if (chance(rng, .4))
        limits->max_day_rise = test_between(rng, 100, 1500);
    if (chance(rng, .4))
        limits->max_week_rise = test_whole(rng, 1, 80);
}

/* World, limits, score and what the search found. */
typedef struct {
    World *w;
    Limits limits;
    Score score;
    Search search;
    size_t length; /* [d] longest taper */
} Hunt;

static void hunt_free(Hunt *h) {
    search_free(&h->search);
    score_free(&h->score);
}

/* False when no option keeps the limits, which is what the search must say. */
static bool hunt_try(Hunt *h, Aim aim) {
    Status status = {0};
    size_t most = (size_t)h->limits.max_length;
    bool found;
    h->length = most < h->w->outlook.window ? most : h->w->outlook.window;
    score_build(&h->w->outlook, &h->w->params, aim, &h->score);
    found = search_run(&h->w->outlook, &h->score, &h->limits, &h->search,
                       &status) == STATUS_OK;
    CU_ASSERT_EQUAL(h->search.count > 1, found);
    if (!found) {
        ASSERT_HAS(status.text, "no taper to try");
        hunt_free(h);
    }
    return found;
}

static void hunt_run(Hunt *h, Aim aim) {
    CU_ASSERT_FATAL(hunt_try(h, aim));
}

static void hunt_open(gsl_rng *rng, Hunt *h) {
    for (;;) {
        h->w = random_window(rng);
        h->w->params = random_kind(rng);
        h->limits = random_limits(rng);
        random_rises(rng, &h->limits);
        if (hunt_try(h, (Aim)test_whole(rng, 0, AIMS - 1)))
            return;
        world_close(h->w);
    }
}

static void hunt_close(Hunt *h) {
    hunt_free(h);
    world_close(h->w);
}

/* Load of any day under cuts: assumed, logged or planned. */
static double own_any_load(const World *w, Date date, const double *cut) {
    double sum = 0;
    if (date < world_start)
        return w->before;
    if (date > w->season.last)
        return own_load(w, date, cut);
    for (size_t i = 0; i < w->season.session_count; i++)
        sum += w->sessions[i].date == date ? w->sessions[i].load : 0;
    return sum;
}

/* Sessions of a day, all or only those that full rest takes away. */
static int own_sessions(const World *w, Date date, bool going) {
    const WeekRow *rows[ROWS_MOST];
    int sum = 0;
    size_t count;
    if (date <= w->season.last) {
        for (size_t i = 0; i < w->season.session_count; i++)
            sum += w->sessions[i].date == date && w->sessions[i].load > 0;
        return going ? 0 : sum;
    }
    if (own_event_on(w, date))
        return going ? 0 : 1;
    count = own_rows(w, date, rows);
    for (size_t i = 0; i < count; i++)
        sum += !going || !rows[i]->keep;
    return sum;
}

static double own_session_cut(const Hunt *h) {
    return h->limits.max_cut < 95 ? h->limits.max_cut / 100 : .95;
}

/* How many sessions a block may lose; a block that is not all to come need not
 * keep more than it has. */
static int own_spare(const Hunt *h, size_t from) {
    int held = -h->limits.min_sessions;
    for (size_t u = from; u < from + 7; u++)
        held += own_sessions(h->w, h->w->event->start - (Date)u, false);
    return from + 6 > own_window(h->w) && held < 0 ? 0 : held;
}

static bool own_sessions_hold(const Hunt *h, const double *cut) {
    for (size_t from = 1; from <= h->length; from += 7) {
        int gone = 0;
        for (size_t u = from; u < from + 7 && u <= h->length; u++)
            if (cut[u - 1] > own_session_cut(h) + 1e-9)
                gone += own_sessions(h->w, h->w->event->start - (Date)u, true);
        if (h->limits.min_sessions > 0 && gone > own_spare(h, from))
            return false;
    }
    return true;
}

static double own_week(const Hunt *h, const double *cut, size_t from) {
    double sum = 0;
    for (size_t u = from; u < from + 7; u++)
        sum += own_any_load(h->w, h->w->event->start - (Date)u, cut);
    return sum;
}

/* Are the rises of days and of blocks of seven days small enough? */
static bool own_rises_hold(const Hunt *h, const double *cut) {
    Date start = h->w->event->start;
    for (size_t u = 1; u <= h->length; u++)
        if (own_any_load(h->w, start - (Date)u, cut) >
            own_any_load(h->w, start - (Date)u - 1, cut) +
                h->limits.max_day_rise + 1e-6)
            return false;
    for (size_t u = 1; u <= h->length && isfinite(h->limits.max_week_rise);
         u += 7)
        if (own_week(h, cut, u) >
            own_week(h, cut, u + 7) * (1 + h->limits.max_week_rise / 100) +
                1e-6)
            return false;
    return true;
}

/* Does each block of seven days before the event keep its share? */
static bool own_weeks_hold(const Hunt *h, const double *cut) {
    size_t window = own_window(h->w);
    for (size_t from = 1; from <= window; from += 7) {
        double kept = 0, planned = 0;
        for (size_t u = from; u < from + 7 && u <= window; u++) {
            Date date = h->w->event->start - (Date)u;
            DayLoad load = own_planned(h->w, date);
            kept += own_load(h->w, date, cut);
            planned += load.cuttable + load.fixed;
        }
        if (kept < h->limits.min_week_load / 100 * planned - 1e-9 * planned)
            return false;
    }
    return true;
}

static bool own_holds(const Hunt *h, const double *cut) {
    return own_weeks_hold(h, cut) && own_sessions_hold(h, cut) &&
           own_rises_hold(h, cut);
}

/* Every option anew, each simulated by a run of the kernel. */
typedef struct {
    const Hunt *h;
    double none, best; /* readiness without, best gain */
    size_t count;
    double cuts; /* sum of what cuts_of() tells of each */
} Brute;

/* Another number for other days or cuts, so that sums of it tell lists of
 * options apart. */
static double cuts_of(const Option *option) {
    double sum = 0;
    for (int i = 0; i < option->count; i++)
        sum += (2 * i + 3) * option->part[i].days *
               (option->part[i].from + 7 * option->part[i].to);
    return sum;
}

static bool brute_allows(const Brute *b, const Option *option) {
    double cut[DAYS_MOST];
    own_cuts(option, cut, b->h->w->outlook.window);
    return own_holds(b->h, cut);
}

static void brute_try(Brute *b, const Option *option) {
    double cut[DAYS_MOST], gain;
    if (!brute_allows(b, option))
        return;
    own_cuts(option, cut, b->h->w->outlook.window);
    gain = kernel_score(b->h->w, b->h->score.aim, cut) - b->none;
    b->best = fmax(b->best, gain);
    b->count++;
    b->cuts += cuts_of(option);
}

static Option brute_last(Option option, double cut) {
    OptionPart *last = &option.part[option.count - 1];
    last->to = cut;
    if (last->fall == 'x')
        last->from = cut;
    return option;
}

/* Last cuts from one to the next: where just one of the two is allowed, the
 * outermost allowed hundredth between them too. */
static void brute_between(Brute *b, Option option, double low, double high) {
    Option one = brute_last(option, low), other = brute_last(option, high);
    bool up = brute_allows(b, &one), down = brute_allows(b, &other);
    long first = lround(floor(100 * low + 1e-6)) + 1;
    long last = lround(ceil(100 * high - 1e-6)) - 1, found = -1;
    for (long at = first; at <= last && up != down; at++) {
        Option between = brute_last(option, (double)at / 100);
        if (brute_allows(b, &between) && (up || found < 0))
            found = at;
    }
    if (found >= 0) {
        double whole_cut =
            up ? floor((double)found / 100) : ceil((double)found / 100);
        Option between = brute_last(option, (double)found / 100);
        brute_try(b, &between);
        between = brute_last(option, whole_cut);
        if (lround(100 * whole_cut) != found && whole_cut > low + 1e-9 &&
            whole_cut < high - 1e-9)
            brute_try(b, &between);
    }
    brute_try(b, &other);
}

static void brute_one(Brute *b, int days, double from, char fall, double to) {
    Option option = {.count = 1, .part = {{days, from, to, fall}}};
    brute_try(b, &option);
}

static bool brute_wants(const Brute *b, Shape shape) {
    return b->h->limits.shapes >> shape & 1;
}

static void brute_falls(Brute *b, int days) {
    double most = b->h->limits.max_cut;
    for (int i = 1; 5 * (i - 1) < most; i++) {
        double low = 5 * (i - 1), cut = fmin(5 * i, most);
        Option step = {.count = 1, .part = {{days, 0, 0, 'x'}}};
        Option line = {.count = 1, .part = {{days, 0, 0, '-'}}};
        Option curve = {.count = 1, .part = {{days, 0, 0, '~'}}};
        if (brute_wants(b, SHAPE_STEP) && cut < 100)
            brute_between(b, step, low, cut);
        if (brute_wants(b, SHAPE_LINEAR) && days > 1)
            brute_between(b, line, low, cut);
        if (brute_wants(b, SHAPE_EXPONENTIAL) && days > 1 && cut < 100)
            brute_between(b, curve, low, cut);
    }
}

static void brute_two_steps(Brute *b, int days) {
    double levels[5], most = b->h->limits.max_cut;
    int count = 0;
    for (int cut = 25; cut < most; cut += 25)
        levels[count++] = cut;
    levels[count++] = most;
    for (int first = 0; first < count; first++)
        for (int second = first + 1; second < count; second++)
            for (int last = 1; last < days; last++) {
                Option option = {
                    .count = 2,
                    .part = {{days - last, levels[first], levels[first], 'x'},
                             {last, levels[first], levels[first], 'x'}}};
                brute_between(b, option, levels[second - 1], levels[second]);
            }
}

static void brute_all(Brute *b) {
    const Limits *limits = &b->h->limits;
    for (int days = 1; days <= (int)b->h->length; days++) {
        bool rest = brute_wants(b, SHAPE_REST) && days <= limits->rest_days;
        bool step = brute_wants(b, SHAPE_STEP) && limits->max_cut >= 100;
        brute_falls(b, days);
        if (brute_wants(b, SHAPE_TWO_STEP))
            brute_two_steps(b, days);
        if (rest || step)
            brute_one(b, days, 100, 'x', 100);
    }
}

static void test_search_brute_force(void) {
    gsl_rng *rng = test_random(2300);
    size_t helped = 0, outside = 0;
    for (int round = 0; round < 120; round++) {
        Hunt h;
        Brute b = {.h = &h};
        double cuts = 0;
        hunt_open(rng, &h);
        b.none = kernel_score(h.w, h.score.aim, no_cut);
        b.best = own_holds(&h, no_cut) ? 0 : -INFINITY;
        CU_ASSERT_EQUAL(h.search.none_outside, !own_holds(&h, no_cut));
        outside += h.search.none_outside;
        brute_all(&b);
        CU_ASSERT_EQUAL(h.search.count, b.count + 1);
        for (size_t i = 1; i < h.search.count; i++)
            cuts += cuts_of(&h.search.items[i].option);
        ASSERT_NEAR(cuts, b.cuts, 1e-11);
        CU_ASSERT(fabs(h.search.items[h.search.best].gain - b.best) <=
                  1e-10 * size_of(h.w));
        CU_ASSERT(fabs(search_best_gain(&h.w->outlook, &h.score, &h.limits) -
                       b.best) <= 1e-10 * size_of(h.w));
        CU_ASSERT_EQUAL(h.search.best > 0,
                        h.search.none_outside || b.best > 1e-6);
        helped += h.search.best > 0;
        hunt_close(&h);
    }
    CU_ASSERT(helped > 30 && helped < 120);
    CU_ASSERT(outside > 5);
    gsl_rng_free(rng);
}

/* Share of the planned load that an option keeps. */
static double own_kept(const Hunt *h, const Option *option, size_t days) {
    double cut[DAYS_MOST], kept = 0, planned = 0;
    own_cuts(option, cut, h->w->outlook.window);
    for (size_t u = 1; u <= days && u <= h->w->outlook.window; u++) {
        Date date = h->w->event->start - (Date)u;
        kept += own_load(h->w, date, cut);
        planned += own_load(h->w, date, no_cut);
    }
    return planned > 0 ? kept / planned : 1;
}

/* Every item is what it says, keeps the limits and stands once. */
static void check_item(const Hunt *h, const Found *f) {
    double cut[DAYS_MOST], size = size_of(h->w), wanted;
    Shape shape = option_shape(&f->option);
    own_cuts(&f->option, cut, h->w->outlook.window);
    wanted = own_score(h->w, h->score.aim, cut);
    CU_ASSERT(fabs(f->readiness - wanted) <= 1e-10 * size);
    CU_ASSERT(fabs(f->gain + own_score(h->w, h->score.aim, no_cut) - wanted) <=
              1e-10 * size);
    ASSERT_NEAR(f->kept, own_kept(h, &f->option, h->length), 1e-11);
    CU_ASSERT_EQUAL(own_holds(h, cut),
                    f->option.count > 0 || !h->search.none_outside);
    CU_ASSERT_EQUAL(search_allows(&h->w->outlook, &h->limits, &f->option),
                    own_holds(h, cut));
    CU_ASSERT(option_days(&f->option) <= (int)h->length);
    if (option_cut(&f->option) > h->limits.max_cut)
        CU_ASSERT(shape == SHAPE_REST && h->limits.shapes >> SHAPE_REST & 1 &&
                  option_days(&f->option) <= h->limits.rest_days);
    if (shape != SHAPE_REST && shape != SHAPE_NONE)
        CU_ASSERT(h->limits.shapes >> shape & 1);
}

static void test_search_items(void) {
    gsl_rng *rng = test_random(2301);
    for (int round = 0; round < 150; round++) {
        Hunt h;
        hunt_open(rng, &h);
        CU_ASSERT_EQUAL(h.search.items[0].option.count, 0);
        CU_ASSERT_EQUAL(h.search.items[0].gain, 0);
        CU_ASSERT_EQUAL(h.search.items[0].kept, 1);
        for (size_t i = 0; i < h.search.count;
             i += (size_t)test_whole(rng, 1, 40))
            check_item(&h, &h.search.items[i]);
        hunt_close(&h);
    }
    gsl_rng_free(rng);
}

/* Length, cut, rest and week of any option. */
static bool own_allows(const Hunt *h, const Option *option) {
    const Limits *limits = &h->limits;
    double cut[DAYS_MOST];
    bool rest = option_shape(option) == SHAPE_REST &&
                (limits->shapes >> SHAPE_REST & 1) &&
                option_days(option) <= limits->rest_days;
    own_cuts(option, cut, h->w->outlook.window);
    return option_days(option) <= limits->max_length &&
           (rest || option_cut(option) <= limits->max_cut) && own_holds(h, cut);
}

static void test_search_allows(void) {
    gsl_rng *rng = test_random(2309);
    size_t allowed = 0, asked = 0;
    for (int round = 0; round < 600; round++) {
        Hunt h = {.w = random_window(rng), .limits = random_limits(rng)};
        if (chance(rng, .2))
            random_rises(rng, &h.limits);
        h.length = h.w->outlook.window;
        if (h.length > (size_t)h.limits.max_length)
            h.length = (size_t)h.limits.max_length;
        for (int i = 0; i < 10; i++, asked++) {
            Option option = random_option(rng, 9);
            bool wanted = own_allows(&h, &option);
            CU_ASSERT_EQUAL(search_allows(&h.w->outlook, &h.limits, &option),
                            wanted);
            allowed += wanted;
        }
        world_close(h.w);
    }
    CU_ASSERT(allowed > asked / 10 && allowed < asked - asked / 10);
    gsl_rng_free(rng);
}

static void test_search_no_doubles(void) {
    gsl_rng *rng = test_random(2302);
    for (int round = 0; round < 12; round++) {
        Hunt h;
        hunt_open(rng, &h);
        for (size_t i = 0; i < h.search.count; i++)
            for (size_t k = 0; k < i; k++)
                if (same_option(&h.search.items[i].option,
                                &h.search.items[k].option))
                    CU_FAIL("the same option twice");
        hunt_close(&h);
    }
    gsl_rng_free(rng);
}

/* Is a gain within 5 % of the best, give or take a rounding error? */
static bool is_near(const Hunt *h, const Found *f, double leeway) {
    const Search *s = &h->search;
    double best = s->items[s->best].gain;
    return s->best > 0 && f->gain >= best - (.05 - leeway) * fabs(best);
}

/* `equal`: gain within 5 % of the best; `recommended`: keeps the most of
 * those. */
static void check_definitions(const Hunt *h) {
    const Search *s = &h->search;
    double best = s->items[s->best].gain, most = 0;
    size_t surely = 0, perhaps = 0;
    bool good = true;
    for (size_t i = 1; i < s->count; i++) {
        const Found *f = &s->items[i];
        bool sure = is_near(h, f, 1e-9), maybe = is_near(h, f, -1e-9);
        good = good && f->gain <= best + 1e-9 * size_of(h->w) &&
               (f->tag == TAG_BLANK ? !sure : maybe);
        surely += sure;
        perhaps += maybe;
        if (sure && f->kept > most)
            most = f->kept;
    }
    CU_ASSERT(good);
    CU_ASSERT(s->equal >= surely && s->equal <= perhaps);
    CU_ASSERT_EQUAL(s->recommended > 0, s->best > 0);
    if (s->best == 0)
        return;
    CU_ASSERT(is_near(h, &s->items[s->recommended], -1e-9));
    CU_ASSERT(s->items[s->recommended].kept >= most - 1e-9);
    CU_ASSERT_EQUAL(s->items[s->recommended].tag, TAG_RECOMMENDED);
    CU_ASSERT(s->best == s->recommended || s->items[s->best].tag == TAG_BEST);
}

static void test_search_definitions(void) {
    gsl_rng *rng = test_random(2303);
    for (int round = 0; round < 400; round++) {
        Hunt h;
        hunt_open(rng, &h);
        check_definitions(&h);
        CU_ASSERT_EQUAL(h.search.items[0].tag, TAG_NONE);
        hunt_close(&h);
    }
    ASSERT_NEAR(SEARCH_EQUAL, .05, 1e-15);
    gsl_rng_free(rng);
}

/* No option beats the ceiling, whose cuts lie within the limits. Shares: 0 for
 * none, 1 for the ceiling. */
static void check_ceiling(const Hunt *h) {
    const Search *s = &h->search;
    double none = s->items[0].readiness, size = size_of(h->w);
    bool resting = h->limits.shapes >> SHAPE_REST & 1;
    double possible = s->ceiling - none;
    bool beaten = false;
    for (size_t i = s->none_outside; i < s->count; i++)
        beaten = beaten || !(s->items[i].readiness <= s->ceiling + 1e-9 * size);
    CU_ASSERT_FALSE(beaten);
    for (size_t u = 1; u <= h->w->outlook.window; u++) {
        double most = h->limits.max_cut / 100;
        if (resting && u <= (size_t)h->limits.rest_days)
            most = 1;
        if (u > h->length)
            most = 0;
        CU_ASSERT(s->ceiling_cut[u - 1] >= -1e-9);
        CU_ASSERT(s->ceiling_cut[u - 1] <= most + 1e-9);
    }
    CU_ASSERT(own_holds(h, s->ceiling_cut));
    CU_ASSERT(fabs(own_score(h->w, h->score.aim, s->ceiling_cut) -
                   s->ceiling) <= 1e-10 * size);
    if (s->best > 0 && possible > 0) {
        CU_ASSERT_EQUAL(search_share(s->items[0].gain, possible), 0);
        CU_ASSERT_EQUAL(search_share(possible, possible), 1);
    }
}

static void test_search_ceiling(void) {
    gsl_rng *rng = test_random(2304);
    for (int round = 0; round < 600; round++) {
        Hunt h;
        hunt_open(rng, &h);
        check_ceiling(&h);
        hunt_close(&h);
    }
    gsl_rng_free(rng);
}

static void test_search_share(void) {
    ASSERT_NEAR(search_share(2.385, 9.54), .25, 1e-15);
    ASSERT_NEAR(search_share(-2.385, 9.54), -.25, 1e-15);
    CU_ASSERT(isnan(search_share(0, 0)));
    CU_ASSERT(isnan(search_share(-1, 0)));
}

/* More of everything. */
static Limits widen(gsl_rng *rng, Limits limits) {
    limits.max_length += test_whole(rng, 0, 9);
    limits.shapes |= (unsigned)test_whole(rng, 0, 31) << SHAPE_STEP;
    limits.min_week_load *= gsl_rng_uniform(rng);
    limits.rest_days += test_whole(rng, 0, 3);
    limits.max_cut += chance(rng, .5) ? 0 : test_between(rng, 0, 100);
    limits.max_cut = fmin(100, limits.max_cut);
    limits.min_sessions /= test_whole(rng, 1, 2);
    return limits;
}

/* What a hundredth of a per cent of every day's cut can do. */
static double hundredth(const Hunt *h) {
    double sum = 0;
    for (size_t u = 0; u < h->score.window; u++)
        sum += fabs(h->score.drop[u]);
    return 1e-4 * sum + 1e-9 * size_of(h->w);
}

/* Wider limits never look worse, by more than the hundredth of a per cent to
 * which a cut on a limit is found. Between the steps of 5 % an exponential fall
 * or the lowest of several days may have a summit; those are left out. */
static void test_search_widening(void) {
    gsl_rng *rng = test_random(2305);
    size_t done = 0;
    for (int round = 0; round < 400; round++) {
        Hunt narrow, wide;
        Aim aim = round % 2 ? AIM_MEAN : round % 4 ? AIM_FIRST : AIM_LAST;
        narrow.w = wide.w = random_window(rng);
        narrow.limits = random_limits(rng);
        narrow.limits.shapes &= ~(1u << SHAPE_EXPONENTIAL);
        narrow.limits.shapes |= 1u << SHAPE_STEP;
        wide.limits = widen(rng, narrow.limits);
        if (!hunt_try(&narrow, aim)) {
            world_close(narrow.w);
            continue;
        }
        hunt_run(&wide, aim);
        CU_ASSERT(wide.search.items[wide.search.best].gain >=
                  narrow.search.items[narrow.search.best].gain -
                      hundredth(&wide));
        CU_ASSERT(wide.search.ceiling >=
                  narrow.search.ceiling - 1e-9 * size_of(wide.w));
        done++;
        hunt_free(&wide);
        hunt_close(&narrow);
    }
    CU_ASSERT(done > 300);
    gsl_rng_free(rng);
}

/* Wider rises: the ceiling never falls. */
static void test_search_widening_rises(void) {
    gsl_rng *rng = test_random(2311);
    for (int round = 0; round < 150; round++) {
        Hunt narrow, wide;
        hunt_open(rng, &narrow);
        wide = narrow;
        wide.limits.max_day_rise *= test_between(rng, 1, 2);
        wide.limits.max_week_rise *= test_between(rng, 1, 2);
        hunt_run(&wide, narrow.score.aim);
        CU_ASSERT(!narrow.score.linear ||
                  wide.search.ceiling >=
                      narrow.search.ceiling - 1e-9 * size_of(wide.w));
        hunt_free(&wide);
        hunt_close(&narrow);
    }
    gsl_rng_free(rng);
}

static void world_scale(World *w, double factor) {
    world_close(w);
    for (size_t i = 0; i < w->season.session_count; i++)
        w->sessions[i].load *= factor;
    for (size_t i = 0; i < w->season.week_count; i++)
        w->week[i].load *= factor;
    for (size_t i = 0; i < w->season.event_count; i++)
        w->events[i].load_per_day *= factor;
    w->before *= factor;
    world_open(w);
}

/* What was advised: the numbers of the options, which come in one order. */
static void check_same_advice(const Hunt *h, const Search *before) {
    const Search *s = &h->search;
    CU_ASSERT_EQUAL(s->count, before->count);
    CU_ASSERT_EQUAL(s->best, before->best);
    CU_ASSERT_EQUAL(s->recommended, before->recommended);
    CU_ASSERT_EQUAL(s->equal, before->equal);
}

/* Loads in another unit with gains to match; readiness in another unit and
 * from another level. */
static void check_scaling(gsl_rng *rng, double load, double unit) {
    Hunt h, other;
    hunt_open(rng, &h);
    other = h;
    world_scale(h.w, load);
    other.limits.max_day_rise *= load;
    h.w->params.value[PARAM_P0] *= unit;
    h.w->params.value[PARAM_K1] *= unit / load;
    h.w->params.value[PARAM_K2] *= unit / load;
    h.w->params.value[PARAM_K3] *= unit / load / load;
    hunt_run(&other, h.score.aim);
    check_same_advice(&other, &h.search);
    CU_ASSERT(fabs(other.search.ceiling - unit * h.search.ceiling) <=
              1e-9 * size_of(h.w));
    ASSERT_NEAR(other.search.items[other.search.best].gain,
                unit * h.search.items[h.search.best].gain, 1e-9);
    hunt_free(&other);
    hunt_close(&h);
}

static void test_search_scaling(void) {
    gsl_rng *rng = test_random(2306);
    for (int round = 0; round < 150; round++) {
        check_scaling(rng, 3.7, 1);
        check_scaling(rng, .0133, 1);
        check_scaling(rng, 1, 238.5);
        check_scaling(rng, 1, .00385);
        check_scaling(rng, .0271, .00385);
    }
    gsl_rng_free(rng);
}

static void world_shift(World *w, int days) {
    world_close(w);
    for (size_t i = 0; i < w->season.session_count; i++)
        w->sessions[i].date += days;
    for (size_t i = 0; i < w->season.week_count; i++)
        if (w->week[i].date != DATE_NONE)
            w->week[i].date += days;
    for (size_t i = 0; i < w->season.event_count; i++)
        w->events[i].start += days;
    w->season.first += days;
    w->season.last += days;
    w->season.today += days;
    world_open(w);
}

/* The same some weeks later, over a change of the year. */
static void test_search_shifting(void) {
    gsl_rng *rng = test_random(2310);
    for (int round = 0; round < 100; round++) {
        Hunt h, other;
        hunt_open(rng, &h);
        other = h;
        world_shift(h.w, 7 * test_whole(rng, 30, 60));
        hunt_run(&other, h.score.aim);
        check_same_advice(&other, &h.search);
        CU_ASSERT(fabs(other.search.ceiling - h.search.ceiling) <=
                  1e-10 * size_of(h.w));
        hunt_free(&other);
        hunt_close(&h);
    }
    gsl_rng_free(rng);
}

/* k2 <= k1: each load helps from the next day on, so nothing is to be cut. */
static void test_search_no_fatigue(void) {
    gsl_rng *rng = test_random(2307);
    size_t done = 0;
    for (int round = 0; round < 150; round++) {
        Hunt h;
        double *v;
        bool good;
        h.w = random_window(rng);
        h.limits = random_limits(rng);
        h.limits.min_sessions = 0;
        v = h.w->params.value;
        v[PARAM_K2] = v[PARAM_K1] * (round % 3 ? test_between(rng, 0, 1) : 1);
        if (!hunt_try(&h, (Aim)test_whole(rng, 0, AIMS - 1))) {
            world_close(h.w);
            continue;
        }
        done++;
        CU_ASSERT_EQUAL(h.search.best, 0);
        CU_ASSERT_EQUAL(h.search.recommended, 0);
        CU_ASSERT_EQUAL(h.search.equal, 0);
        CU_ASSERT(fabs(h.search.ceiling - h.search.items[0].readiness) <=
                  1e-9 * size_of(h.w));
        CU_ASSERT_EQUAL(search_best_gain(&h.w->outlook, &h.score, &h.limits),
                        0);
        good = true;
        for (size_t i = 1; i < h.search.count; i++)
            good = good && h.search.items[i].gain <= 1e-12 * size_of(h.w);
        CU_ASSERT(good);
        hunt_close(&h);
    }
    CU_ASSERT(done > 100);
    gsl_rng_free(rng);
}

/* The same load every day, logged and planned; the event `ahead` days after
 * the log. */
static void steady_world(World *w, double load, int ahead) {
    *w = (World){.before = load};
    for (int day = 0; day < 30; day++)
        add_session(w, world_start + day, -1, load);
    for (int day = 0; day < 7; day++)
        add_row(w, day, DATE_NONE, load);
    w->season.first = world_start;
    w->season.last = w->season.today = world_start + 29;
    w->events[0] = (Event){.name = w->names[0],
                           .start = w->season.today + ahead,
                           .days = 1,
                           .athlete = NAMES_NONE,
                           .load_per_day = 0,
                           .minute = -1};
    w->season.event_count = 1;
    world_open(w);
}

/* Under steady loads the best is the largest cut on the last floor(t_n) days
 * (design; Fitz-Clarke et al. 1991, M). */
static void test_search_steady(void) {
    gsl_rng *rng = test_random(2308);
    World w;
    Hunt h = {.w = &w};
    steady_world(&w, 238.5, 40);
    for (int round = 0; round < 300; round++) {
        double cut = test_whole(rng, 1, 20) * 5, t_n;
        const Option *best;
        w.params = random_params(rng);
        t_n = landmarks_of(&w.params).t_n;
        if (!(t_n > 1) || t_n > 28.9 || t_n - floor(t_n) < 1e-6)
            continue;
        h.limits = limits_default();
        h.limits.max_cut = cut;
        h.limits.rest_days = 0;
        hunt_run(&h, AIM_MEAN);
        best = &h.search.items[h.search.best].option;
        CU_ASSERT_EQUAL(option_days(best), (int)floor(t_n));
        CU_ASSERT_EQUAL(best->count, 1);
        CU_ASSERT_EQUAL(best->part[0].fall, 'x');
        CU_ASSERT_EQUAL(best->part[0].from, cut);
        ASSERT_NEAR(h.search.items[h.search.best].readiness, h.search.ceiling,
                    1e-9);
        hunt_free(&h);
    }
    world_close(&w);
    gsl_rng_free(rng);
}

/* The classic set: t_n 15.6 d, so 15 days at the largest cut; the gain is the
 * sum of 75 % of the load times the influence of the days 1 to 15. */
static void test_search_classic(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    Option best = {.count = 1, .part = {{15, 75, 75, 'x'}}};
    double gain = 0;
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    CU_ASSERT_EQUAL(h.limits.max_length, 28);
    CU_ASSERT_EQUAL(h.limits.max_cut, 75);
    CU_ASSERT_EQUAL(h.limits.rest_days, 3);
    CU_ASSERT_EQUAL(h.limits.min_week_load, 0);
    hunt_run(&h, AIM_MEAN);
    CU_ASSERT(same_option(&h.search.items[h.search.best].option, &best));
    for (int u = 1; u <= 15; u++)
        gain -= .75 * 238.5 * (exp(-u / 45.0) - 2 * exp(-u / 15.0));
    ASSERT_NEAR(h.search.items[h.search.best].gain, gain, 1e-11);
    /* the ceiling rests on the last three days besides */
    for (int u = 1; u <= 3; u++)
        gain -= .25 * 238.5 * (exp(-u / 45.0) - 2 * exp(-u / 15.0));
    ASSERT_NEAR(h.search.ceiling - h.search.items[0].readiness, gain, 1e-10);
    hunt_free(&h);
    world_close(&w);
}

/* A least load of the week of 60 % under steady loads: no week of a step may
 * lose more than 40 %, though a cut of 75 % is allowed. */
static void test_search_week_floor(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    size_t steps = 0;
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    h.limits.min_week_load = 60;
    hunt_run(&h, AIM_MEAN);
    for (size_t i = 1; i < h.search.count; i++) {
        const Option *option = &h.search.items[i].option;
        bool step = option_shape(option) == SHAPE_STEP;
        if (step && option_days(option) >= 7)
            CU_ASSERT(option_cut(option) <= 40);
        if (step && option_days(option) == 3) /* 3 x 75 % of 7 days is 32 % */
            steps += option_cut(option) == 75;
        if (step && option_days(option) == 4) /* 4 x 75 % is 43 % */
            CU_ASSERT(option_cut(option) <= 70);
    }
    CU_ASSERT_EQUAL(steps, 1);
    /* 2.8 days of load a week, on the days of the greatest harm, which lie
     * nearest the event: three rest days at most, 2.8 of them rested */
    ASSERT_NEAR(h.search.ceiling_cut[0], 1, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[1], 1, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[2], .8, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[3], 0, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[7], .75, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[10], .55, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[14], .75, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[15], 0, 1e-9);
    hunt_free(&h);
    world_close(&w);
}

/* Rest days: so many at most, none when the shape is not wanted. */
/* A floor of 94.985 % leaves 5.015 % of steady weeks to cut: a week at 5 % and
 * one on the limit, 5.01 %, and no other. */
static void test_search_on_limit(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    size_t five = 0, limit = 0, weeks = 0;
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    h.limits.min_week_load = 94.985;
    h.limits.shapes = 1u << SHAPE_STEP;
    hunt_run(&h, AIM_MEAN);
    for (size_t i = 1; i < h.search.count; i++) {
        const Option *option = &h.search.items[i].option;
        if (option_days(option) != 7)
            continue;
        weeks++;
        five += option_cut(option) == 5;
        limit += option_cut(option) == 5.01;
    }
    CU_ASSERT_EQUAL(weeks, 2);
    CU_ASSERT_EQUAL(five, 1);
    CU_ASSERT_EQUAL(limit, 1);
    hunt_free(&h);
    world_close(&w);
}

static void test_search_rest_days(void) {
    World w;
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    for (int days = 0; days <= 9; days++)
        for (int wanted = 0; wanted < 2; wanted++) {
            Hunt h = {.w = &w, .limits = limits_default()};
            int longest = 0;
            h.limits.rest_days = days;
            h.limits.shapes =
                1u << SHAPE_STEP | (wanted ? 1u << SHAPE_REST : 0);
            hunt_run(&h, AIM_MEAN);
            for (size_t i = 1; i < h.search.count; i++)
                if (option_shape(&h.search.items[i].option) == SHAPE_REST)
                    longest++;
            CU_ASSERT_EQUAL(longest, wanted ? days : 0);
            for (int u = 1; u <= 15; u++)
                ASSERT_NEAR(h.search.ceiling_cut[u - 1],
                            wanted && u <= days ? 1 : .75, 1e-12);
            hunt_free(&h);
        }
    world_close(&w);
}

/* By hand, with kept mobility on Mondays. */
static void test_search_kept(void) {
    Hand h;
    const char *folder = test_folder();
    Option option;
    char why[OPTION_WHY];
    test_file(0, "sessions.csv", plain_log);
    test_file(0, "week.csv", plain_week);
    test_file(0, "events.csv",
              "event,start,days,load_per_day\nCup,2026-03-21,2,640\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    CU_ASSERT(option_read("5x50,4x75", &option, why)); /* 12 to 20 March */
    /* 12 days: Mondays 9 and 16, Wednesdays 11 and 18, Saturday 14; cut are
     * Saturday 252.5, Monday 155 of the gym, Wednesday 315 */
    ASSERT_NEAR(search_kept(&h.outlook, &option, 28),
                1 - 722.5 / (2 * 335 + 2 * 420 + 505), 1e-14);
    ASSERT_NEAR(search_kept(&h.outlook, &option, 12),
                1 - 722.5 / (2 * 335 + 2 * 420 + 505), 1e-14);
    ASSERT_NEAR(search_kept(&h.outlook, &option, 3), .25, 1e-14);
    ASSERT_NEAR(search_kept(&h.outlook, &option, 5), 1 - 470.0 / 755, 1e-14);
    CU_ASSERT_EQUAL(search_kept(&h.outlook, &option, 2), 1); /* no load */
    CU_ASSERT_EQUAL(search_kept(&h.outlook, &option, 0), 1);
    hand_close(&h);
    test_folder_done();
}

/* ---- the ceiling against SciPy ---- */

/* (Presolve stays off: HiGHS in Debian 12 calls some cases infeasible that a
 * cut of nothing solves.) Reads cases of numbers: days, event days, lowest?,
 * rows, blocks whose sessions count; base of each event day; its weight;
 * largest cut of each day; harm of each event day and day; coefficients of each
 * row and its room; cut beyond which a day's sessions are gone; those of each
 * day; how many may go of each block of seven. Prints the best aim of each. */
static const char linprog_script[] =
    "import sys, numpy as np\n"
    "from scipy.optimize import milp, LinearConstraint, Bounds\n"
    "it = iter(open(sys.argv[1]).read().split())\n"
    "def take(*shape):\n"
    "    n = int(np.prod(shape))\n"
    "    return np.array([float(next(it)) for _ in range(n)]).reshape(shape)\n"
    "for _ in range(int(next(it))):\n"
    "    L, E, lowest, W, S = [int(next(it)) for _ in range(5)]\n"
    "    base, weight, most = take(E), take(E), take(L)\n"
    "    drop, row, room = take(E, L), take(W, L), take(W)\n"
    "    gone, sessions, spare = take(1)[0], take(L), take(S)\n"
    "    size = np.abs(drop).max() or 1\n"
    "    n = 2 * L + 1\n" /* cuts, lowest, rest */
    "    c, A, b = np.zeros(n), [], []\n"
    "    low, high = np.zeros(n), np.append(np.append(most, 0), np.ones(L))\n"
    "    c[:L] = 0 if lowest else weight @ drop / size\n"
    "    def add(days, lowest, rest, most):\n"
    "        A.append(np.concatenate([days, [lowest], rest]))\n"
    "        b.append(most)\n"
    "    for r, m in zip(row, room):\n"
    "        k = max(np.abs(r).max(), 1e-3)\n"
    "        add(r / k, 0, np.zeros(L), m / k)\n"
    "    if lowest:\n"
    "        c[L], low[L], high[L] = -1, -np.inf, np.inf\n"
    "        for e in range(E):\n"
    "            add(drop[e] / size, 1, np.zeros(L),\n"
    "                (base[e] - base[0]) / size)\n"
    "    for w in range(S):\n"
    "        block = (np.arange(L) // 7 == w)\n"
    "        add(np.zeros(L), 0, sessions * block, spare[w])\n"
    "        for u in np.nonzero(block & (most > gone) & (sessions > 0))[0]:\n"
    "            one = np.eye(L)[u]\n"
    "            add(one, 0, (gone - most[u]) * one, gone)\n"
    "    limits = [LinearConstraint(np.array(A), -np.inf, b)] if A else []\n"
    "    r = milp(c, constraints=limits, bounds=Bounds(low, high),\n"
    "             integrality=np.arange(n) > L if S else np.zeros(n),\n"
    "             options={'mip_rel_gap': 0, 'presolve': False})\n"
    "    assert r.status == 0, r.message\n"
    "    print('%.17g' % (base[0] - r.fun * size if lowest else\n"
    "                     weight @ base - r.fun * size))\n";

static void lp_days(const Hunt *h, Text *text) {
    const World *w = h->w;
    bool resting = h->limits.shapes >> SHAPE_REST & 1;
    for (int e = 0; e < w->event->days; e++)
        text_add(text, "%.17g ", own_readiness(w, no_cut, e));
    for (int e = 0; e < w->event->days; e++)
        text_add(text, "%.17g ",
                 h->score.aim == AIM_FIRST  ? e == 0
                 : h->score.aim == AIM_LAST ? e == w->event->days - 1
                                            : 1.0 / w->event->days);
    for (size_t u = 1; u <= h->length; u++)
        text_add(text, "%.17g ",
                 resting && u <= (size_t)h->limits.rest_days
                     ? 1
                     : h->limits.max_cut / 100);
}

static void lp_harm(const Hunt *h, Text *text) {
    const World *w = h->w;
    for (int e = 0; e < w->event->days; e++)
        for (size_t u = 1; u <= h->length; u++) {
            Date date = w->event->start - (Date)u;
            double age = own_time(w, w->event->start + e, w->event->minute) -
                         own_time(w, date, -1);
            text_add(text, "%.17g ",
                     own_planned(w, date).cuttable * own_influence(w, age));
        }
}

static double own_cuttable(const Hunt *h, size_t u) {
    return u <= h->length
               ? own_planned(h->w, h->w->event->start - (Date)u).cuttable
               : 0;
}

static void lp_row(const double *row, size_t days, double room, Text *rows,
                   Text *rooms) {
    for (size_t u = 1; u <= days; u++)
        text_add(rows, "%.17g ", row[u]);
    text_add(rooms, "%.17g ", room);
}

/* The least load of a block. */
static void lp_week_load(const Hunt *h, size_t from, Text *rows, Text *rooms) {
    double row[DAYS_MOST + 14] = {0}, room = 0;
    for (size_t u = from; u < from + 7; u++) {
        row[u] = own_cuttable(h, u);
        if (u <= own_window(h->w))
            room += own_any_load(h->w, h->w->event->start - (Date)u, no_cut);
    }
    lp_row(row, h->length, room * (1 - h->limits.min_week_load / 100), rows,
           rooms);
}

/* `days` from `from` against so many before, times a factor, plus a load. */
static void lp_rise(const Hunt *h, const size_t span[2], const double by[2],
                    Text *rows, Text *rooms) {
    double row[DAYS_MOST + 14] = {0}, room = by[1];
    for (size_t u = span[0]; u < span[0] + span[1]; u++) {
        Date date = h->w->event->start - (Date)u;
        row[u] -= own_cuttable(h, u);
        row[u + span[1]] += by[0] * own_cuttable(h, u + span[1]);
        room += by[0] * own_any_load(h->w, date - (Date)span[1], no_cut) -
                own_any_load(h->w, date, no_cut);
    }
    lp_row(row, h->length, room, rows, rooms);
}

/* All rows, then their rooms; returns how many. */
static size_t lp_rows(const Hunt *h, Text *text) {
    Text rooms = {0};
    const double day[2] = {1, h->limits.max_day_rise};
    const double week[2] = {1 + h->limits.max_week_rise / 100, 0};
    size_t count = 0;
    for (size_t from = 1; from <= h->length; from += 7, count++)
        lp_week_load(h, from, text, &rooms);
    for (size_t u = 1; u <= h->length && isfinite(day[1]); u++, count++)
        lp_rise(h, (size_t[2]){u, 1}, day, text, &rooms);
    for (size_t u = 1; u <= h->length && isfinite(week[0]); u += 7, count++)
        lp_rise(h, (size_t[2]){u, 7}, week, text, &rooms);
    text_add(text, "%s", text_of(&rooms));
    text_free(&rooms);
    return count;
}

static void lp_sessions(const Hunt *h, Text *text) {
    text_add(text, "%.17g ", own_session_cut(h));
    for (size_t u = 1; u <= h->length; u++)
        text_add(text, "%d ",
                 own_sessions(h->w, h->w->event->start - (Date)u, true));
    for (size_t u = 1; u <= h->length && h->limits.min_sessions; u += 7)
        text_add(text, "%d ", own_spare(h, u));
}

static void lp_case(const Hunt *h, Text *text) {
    Text rows = {0};
    size_t count = lp_rows(h, &rows);
    text_add(text, "%zu %d %d %zu %zu ", h->length, h->w->event->days,
             h->score.aim == AIM_LOWEST, count,
             h->limits.min_sessions ? (h->length + 6) / 7 : 0);
    lp_days(h, text);
    lp_harm(h, text);
    text_add(text, "%s", text_of(&rows));
    lp_sessions(h, text);
    text_add(text, "\n");
    text_free(&rows);
}

enum { LP_CASES = 150 };

static void lp_hunt(gsl_rng *rng, int round, Hunt *h) {
    for (;;) {
        h->w = random_window(rng);
        h->limits = random_limits(rng);
        h->limits.max_length = test_whole(rng, 1, 40);
        h->limits.min_week_load = round % 3 ? test_whole(rng, 5, 99) : 0;
        h->limits.min_sessions = round % 4 > 1 ? test_whole(rng, 3, 9) : 0;
        if (round % 4 == 3)
            h->limits.shapes |= 1u << SHAPE_REST;
        if (round % 5 == 0)
            random_rises(rng, &h->limits);
        if (hunt_try(h, round % 2 ? AIM_LOWEST
                                  : (Aim)test_whole(rng, 0, AIMS - 1)))
            return;
        world_close(h->w);
    }
}

static void lp_compare(const char *out, const double *ceiling,
                       const double *size) {
    for (int i = 0; i < LP_CASES; i++) {
        char *end;
        double wanted = strtod(out, &end);
        CU_ASSERT_FATAL(end > out);
        test_evidence_reached(fabs(ceiling[i] - wanted) / size[i], 1e-9);
        CU_ASSERT(fabs(ceiling[i] - wanted) <= 1e-9 * size[i]);
        out = end;
    }
}

static void test_ceiling_linprog(void) {
    test_evidence("SciPy, optimize.linprog (HiGHS)",
                  "the ceiling within limits, share of readiness");
    gsl_rng *rng = test_random(1947);
    double ceiling[LP_CASES], size[LP_CASES];
    Text text = {0};
    const char *words[] = {NULL, NULL};
    char *out;
    test_folder();
    text_add(&text, "%d\n", LP_CASES);
    for (int round = 0; round < LP_CASES; round++) {
        Hunt h;
        lp_hunt(rng, round, &h);
        lp_case(&h, &text);
        ceiling[round] = h.search.ceiling;
        size[round] = size_of(h.w);
        hunt_close(&h);
    }
    words[0] = test_file(0, "cases.txt", text_of(&text));
    out = test_python(linprog_script, words);
    lp_compare(out, ceiling, size);
    free(out);
    text_free(&text);
    test_folder_done();
    gsl_rng_free(rng);
}

/* ---- a variable-dose model ---- */

/* Best step taper of whole days and whole per cent, ending the day before an
 * event `days` after the log. */
typedef struct {
    int days;
    double cut, readiness;
} BestStep;

/* Busso 2003's means (M), p0 260; `logged` a day for 28 days after steady
 * training at `load`, then a step down from `logged` until the event. */
static BestStep best_fall(double load, double logged, double first, char fall) {
    static World w;
    BestStep best = {0, 0, -INFINITY};
    for (int days = 1; days <= 40; days++) {
        Score score;
        steady_world(&w, load, days + 1);
        world_close(&w);
        for (size_t i = 2; i < w.season.session_count; i++)
            w.sessions[i].load = logged; /* 28 of its 30 days */
        for (size_t i = 0; i < w.season.week_count; i++)
            w.week[i].load = logged;
        world_open(&w);
        w.params =
            (ResponseParams){RESPONSE_VARIABLE_DOSE,
                             {260, .031, NAN, 30.8, 16.8, NAN, .000035, 2.3}};
        score_build(&w.outlook, &w.params, AIM_MEAN, &score);
        for (int cut = 0; cut <= 100; cut++) {
            double from = fall == 'x' ? cut : first;
            Option option = {.count = 1, .part = {{days, from, cut, fall}}};
            double readiness = score_option(&score, &option);
            if (readiness > best.readiness)
                best = (BestStep){days, cut, readiness};
        }
        score_free(&score);
        world_close(&w);
    }
    return best;
}

static BestStep best_step(double load, double logged) {
    return best_fall(load, logged, 0, 'x');
}

/* The best load to train at for ever: k1 A1/(2 k3 B3 A2) (C). */
static void test_variable_dose_steady(void) {
    double best = 0, highest = -INFINITY;
    ResponseParams p = {RESPONSE_VARIABLE_DOSE,
                        {260, .031, NAN, 30.8, 16.8, NAN, .000035, 2.3}};
    for (double load = 250; load < 330; load += .01) {
        Timeline t = {
            .steps = 1, .load = &load, .before = load, .before_age = 1};
        double fitness, fatigue;
        kernel_run(&p, &t, READ_BEFORE, &fitness, &fatigue);
        if (fitness - fatigue > highest) {
            highest = fitness - fatigue;
            best = load;
        }
    }
    ASSERT_NEAR(best, 290.2024, .006);
}

/* A progressive taper beats a step only after the overload (Thomas, Busso
 * 2005, P: 102.2 against 101.8 % there). From the overload's load, falls begin
 * at the usual one (a cut of a sixth) or at the overload itself. */
static void test_variable_dose_progressive(void) {
    double usual = 290.2024, more = 1.2 * usual;
    double step = best_step(usual, usual).readiness;
    double after = best_step(usual, more).readiness;
    double fall = fmax(best_fall(usual, usual, 0, '-').readiness,
                       best_fall(usual, usual, 0, '~').readiness);
    double fall_after = fmax(best_fall(usual, more, 100.0 / 6, '-').readiness,
                             best_fall(usual, more, 0, '~').readiness);
    CU_ASSERT(fall < step);
    CU_ASSERT(fall_after > after);
    CU_ASSERT(after > step);
}

/* Every build-up of the documented grid before every taper of one part, each
 * run by the kernel. */
static double best_built_up(const World *w, const Limits *l, Option *best) {
    static const char falls[] = "x-~";
    double highest = kernel_score(w, AIM_MEAN, no_cut), cut[DAYS_MOST];
    for (int days = 0; days <= 28; days += 7)
        for (int more = days ? 5 : 0; more <= (days ? l->build_up : 0);
             more += 5)
            for (int taper = 1; taper <= l->max_length; taper++)
                for (int deep = 5; deep <= l->max_cut; deep += 5)
                    for (int fall = 0; fall < 3; fall++) {
                        bool step = falls[fall] == 'x';
                        Option o = {.count = 1};
                        double value;
                        if (days)
                            o = (Option){.count = 2,
                                         .part = {{days, -more, -more, 'x'}}};
                        o.part[o.count - 1] = (OptionPart){
                            taper, step ? deep : 0, deep, falls[fall]};
                        if ((size_t)option_days(&o) > w->outlook.window ||
                            (!step && taper < 2))
                            continue;
                        option_cuts(&o, w->outlook.window, cut);
                        value = kernel_score(w, AIM_MEAN, cut);
                        if (value > highest) {
                            highest = value;
                            *best = o;
                        }
                    }
    return highest;
}

/* Someone who has trained at two thirds of the best load gains by a build-up,
 * under a model that can judge one; the search finds the best of the grid, the
 * ceiling lies above, and limits of a build-up are kept. */
static void test_variable_dose_build_up(void) {
    static World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    Option best = {.count = 0};
    Text why = {0};
    double highest;
    steady_world(&w, 193.5, 45);
    w.params =
        (ResponseParams){RESPONSE_VARIABLE_DOSE,
                         {260, .031, NAN, 30.8, 16.8, NAN, .000035, 2.3}};
    h.limits.max_length = 9;
    h.limits.shapes =
        1u << SHAPE_STEP | 1u << SHAPE_LINEAR | 1u << SHAPE_EXPONENTIAL;
    h.limits.build_up = 20;
    highest = best_built_up(&w, &h.limits, &best);
    hunt_run(&h, AIM_MEAN);
    CU_ASSERT(option_build_days(&best) > 0);
    ASSERT_NEAR(h.search.items[h.search.best].readiness, highest, 1e-9);
    CU_ASSERT(h.search.ceiling >= highest - 1e-9);
    for (size_t u = 0; u < w.outlook.window; u++)
        CU_ASSERT(h.search.ceiling_cut[u] >= -.2 - 1e-9 &&
                  h.search.ceiling_cut[u] <= (u < 9 ? .75 : 0) + 1e-9);
    CU_ASSERT(search_allows(&w.outlook, &h.limits, &best));
    h.limits.build_up = 0;
    CU_ASSERT(search_outside(&w.outlook, &h.limits, &best, &why));
    ASSERT_HAS(text_of(&why), "--build-up 0");
    text_free(&why);
    hunt_free(&h);
    world_close(&w);
}

/* From the best steady load 31 % for 18 d, after 28 days at 20 % more 39 % for
 * 26 d (C; Thomas, Busso 2005 found 30.8 and 39.3 %, 19.3 and 28.0 d, P). */
static void test_variable_dose_step(void) {
    BestStep steady = best_step(290.2024, 290.2024);
    BestStep overload = best_step(290.2024, 1.2 * 290.2024);
    CU_ASSERT_EQUAL(steady.days, 18);
    CU_ASSERT_EQUAL(steady.cut, 31);
    CU_ASSERT_EQUAL(overload.days, 26);
    CU_ASSERT_EQUAL(overload.cut, 39);
}

/* Reads cases: days; largest cut of each; blocks; load and room of each block;
 * gradient and Hessian of readiness by the cuts. Prints the highest rise that
 * SciPy finds from several starts. */
static const char climb_script[] =
    "import sys, numpy as np\n"
    "from scipy.optimize import minimize\n"
    "it = iter(open(sys.argv[1]).read().split())\n"
    "def take(*shape):\n"
    "    n = int(np.prod(shape))\n"
    "    return np.array([float(next(it)) for _ in range(n)]).reshape(shape)\n"
    "rng = np.random.default_rng(1)\n"
    "for _ in range(int(next(it))):\n"
    "    L, W = int(next(it)), int(next(it))\n"
    "    most, block, room = take(L), take(W, L), take(W)\n"
    "    g, H = take(L), take(L, L)\n"
    "    size = np.abs(g).max() or 1\n"
    "    f = lambda c: -(g @ c + c @ H @ c / 2) / size\n"
    "    df = lambda c: -(g + H @ c) / size\n"
    "    keep = {'type': 'ineq', 'fun': lambda c: room - block @ c,\n"
    "            'jac': lambda c: -block}\n"
    "    best = -np.inf\n"
    "    for k in range(6):\n"
    "        r = minimize(f, most * rng.random(L) * (k > 0), jac=df,\n"
    "                     method='SLSQP', bounds=[(0, m) for m in most],\n"
    "                     constraints=[keep], options={'maxiter': 500,\n"
    "                                                  'ftol': 1e-14})\n"
    "        c = np.clip(r.x, 0, most)\n"
    "        if (room - block @ c >= -1e-9 * (1 + abs(room))).all():\n"
    "            best = max(best, -f(c) * size)\n"
    "    print('%.17g' % best)\n";

/* Readiness with some days cut whole; u = 0: none. */
static double cut_two(const Hunt *h, size_t u, double a, size_t v, double b) {
    double cut[DAYS_MOST] = {0};
    if (u > 0)
        cut[u - 1] += a;
    if (v > 0)
        cut[v - 1] += b;
    return own_score(h->w, h->score.aim, cut);
}

/* Readiness is quadratic in the cuts, so differences give it exactly. */
static void climb_quadratic(const Hunt *h, Text *text) {
    double none = cut_two(h, 0, 0, 0, 0), one[DAYS_MOST];
    for (size_t u = 1; u <= h->length; u++) {
        one[u] = cut_two(h, u, 1, 0, 0) - none;
        text_add(text, "%.17g ",
                 (one[u] - (cut_two(h, u, -1, 0, 0) - none)) / 2);
    }
    for (size_t u = 1; u <= h->length; u++)
        for (size_t v = 1; v <= h->length; v++)
            text_add(text, "%.17g ",
                     u == v ? one[u] + cut_two(h, u, -1, 0, 0) - none
                            : cut_two(h, u, 1, v, 1) - none - one[u] - one[v]);
}

/* `rest`: bits of the days that may be cut beyond what leaves their sessions,
 * where sessions count. */
static void climb_case(const Hunt *h, unsigned rest, Text *text) {
    bool resting = h->limits.shapes >> SHAPE_REST & 1;
    Text rows = {0};
    text_add(text, "%zu %zu ", h->length, lp_rows(h, &rows));
    for (size_t u = 1; u <= h->length; u++) {
        double most = resting && u <= (size_t)h->limits.rest_days
                          ? 1
                          : h->limits.max_cut / 100;
        if (h->limits.min_sessions && (u > 3 || !(rest >> (u - 1) & 1)))
            most = fmin(most, own_session_cut(h));
        text_add(text, "%.17g ", most);
    }
    text_add(text, "%s", text_of(&rows));
    text_free(&rows);
    climb_quadratic(h, text);
}

/* May just these of the last three days rest? */
static bool climb_may_rest(const Hunt *h, unsigned rest) {
    int gone = 0;
    for (size_t u = 1; u <= 3; u++)
        if (u <= h->length && (rest >> (u - 1) & 1))
            gone += own_sessions(h->w, h->w->event->start - (Date)u, true);
    return !h->limits.min_sessions ? rest == 0 : gone <= own_spare(h, 1);
}

enum { CLIMBS = 24, CHOICES = 8 };

static void climb_limits(gsl_rng *rng, int round, Hunt *h) {
    h->limits = random_limits(rng);
    h->limits.max_length = test_whole(rng, 3, 16);
    h->limits.min_week_load = round % 2 ? test_whole(rng, 5, 90) : 0;
    h->limits.min_sessions = 0;
    if (round % 3 == 0)
        random_rises(rng, &h->limits);
    if (round % 4 > 1) {
        h->limits.min_sessions = test_whole(rng, 3, 8);
        h->limits.rest_days = 3;
        h->limits.shapes |= 1u << SHAPE_REST;
        h->limits.max_cut = fmin(80, h->limits.max_cut);
    }
}

static void climb_hunt(gsl_rng *rng, int round, Hunt *h) {
    for (;;) {
        h->w = random_window(rng);
        do
            h->w->params = random_kind(rng);
        while (h->w->params.kind != RESPONSE_VARIABLE_DOSE);
        climb_limits(rng, round, h);
        if (hunt_try(h, round % 3 ? AIM_MEAN : AIM_FIRST))
            return;
        world_close(h->w);
    }
}

/* SciPy finds nothing better than the ceiling (which may beat it where there
 * are several summits), whichever days rest; that the ceiling is no dream,
 * search_ceiling checks. */
static void test_ceiling_variable_dose(void) {
    test_evidence(
        "SciPy, optimize.minimize (SLSQP), many starts",
        "the ceiling of variable-dose models: how far SciPy gets above");
    gsl_rng *rng = test_random(2003);
    double rise[CLIMBS * CHOICES], size[CLIMBS * CHOICES];
    Text text = {0}, all = {0};
    const char *words[] = {NULL, NULL};
    char *out, *at, *end;
    int count = 0;
    test_folder();
    for (int round = 0; round < CLIMBS; round++) {
        Hunt h;
        climb_hunt(rng, round, &h);
        check_ceiling(&h);
        for (unsigned rest = 0; rest < CHOICES; rest++) {
            if (!climb_may_rest(&h, rest))
                continue;
            climb_case(&h, rest, &text);
            rise[count] = h.search.ceiling - h.search.items[0].readiness;
            size[count++] = size_of(h.w);
        }
        hunt_close(&h);
    }
    text_add(&all, "%d\n%s", count, text_of(&text));
    words[0] = test_file(0, "cases.txt", text_of(&all));
    at = out = test_python(climb_script, words);
    CU_ASSERT(count > 2 * CLIMBS);
    for (int i = 0; i < count; i++, at = end) {
        double found = strtod(at, &end);
        CU_ASSERT_FATAL(end > at);
        test_evidence_reached(fmax(0, found - rise[i]) / size[i], 1e-9);
        CU_ASSERT(rise[i] >= found - 1e-9 * size[i]);
    }
    free(out);
    text_free(&text);
    text_free(&all);
    test_folder_done();
    gsl_rng_free(rng);
}

/* ---- whole sets ---- */

static const struct {
    size_t count;
    double usual[5], cut, given[5];
} sets_by_hand[] = {
    /* quotas 2.5 2 1.5 1.5 1.5, 9 in all: 2 2 1 1 1 and two of the halves,
     * the earlier ones */
    {5, {5, 4, 3, 3, 3}, .5, {3, 2, 2, 1, 1}},
    /* quotas 1.25 1 .75 .75 .75, 4.5 in all: one each */
    {5, {5, 4, 3, 3, 3}, .75, {1, 1, 1, 1, 1}},
    /* quotas 3 3 .5 .5 .5, 7.5 in all, so 8; one each of the small makes 9:
     * one less of the last of those that lie on their quota */
    {5, {6, 6, 1, 1, 1}, .5, {3, 2, 1, 1, 1}},
    /* quotas 3.5 2.8 2.1, 8.4 in all: 3 2 2 and one for .8 */
    {3, {5, 4, 3}, .3, {3, 3, 2}},
    /* quotas 5.4 4.5 2.7, 12.6 in all: 5 4 2 and two, for .7 and .5 */
    {3, {6, 5, 3}, .1, {5, 5, 3}},
    {3, {6, 5, 3}, 0, {6, 5, 3}},
    {3, {6, 5, 3}, 1, {0, 0, 0}},
    {3, {6, 5, 3}, .99, {1, 1, 1}},
    {1, {10}, .5, {5}},
    {1, {4}, .75, {1}},
    {1, {1}, .75, {1}},
    /* halves: 3.5 in all is 4; the earlier ones get the odd sets */
    {1, {7}, .5, {4}},
    {3, {3, 3, 3}, .5, {2, 2, 1}},
    {4, {1, 1, 1, 1}, .5, {1, 1, 1, 1}},
    {0, {0}, .5, {0}},
};

static void test_sets_by_hand(void) {
    for (size_t i = 0; i < sizeof sets_by_hand / sizeof sets_by_hand[0]; i++) {
        double given[5] = {0};
        prescription_sets(sets_by_hand[i].count, sets_by_hand[i].usual,
                          sets_by_hand[i].cut, given);
        for (size_t k = 0; k < sets_by_hand[i].count; k++)
            CU_ASSERT_EQUAL(given[k], sets_by_hand[i].given[k]);
    }
}

/* Nearest whole sum to what is asked for that leaves one set of each; a half
 * either way. */
static void check_sum(const double *usual, size_t count, double cut,
                      double sum) {
    double asked = 0, nearest;
    for (size_t i = 0; i < count; i++)
        asked += usual[i] * (1 - cut);
    nearest = fmax((double)count, floor(asked + .5));
    CU_ASSERT(fabs(sum - asked) <= fabs(nearest - asked) + 1e-9);
}

/* One set of each is more than its quota: the others make up for it, so that
 * half of eight sets is four, not five. */
static void test_sets_small_exercises(void) {
    static const double usual[3] = {6, 1, 1};
    double given[3];
    prescription_sets(3, usual, .5, given);
    CU_ASSERT_EQUAL(given[0] + given[1] + given[2], 4);
    CU_ASSERT(given[1] == 1 && given[2] == 1);
}

static void test_sets_sum(void) {
    gsl_rng *rng = test_random(808);
    for (int round = 0; round < 5000; round++) {
        size_t count = (size_t)test_whole(rng, 1, 9);
        double usual[9], given[9], sum = 0,
                                   cut = test_whole(rng, 0, 99) / 100.0;
        for (size_t i = 0; i < count; i++)
            usual[i] = test_whole(rng, 1, 10);
        prescription_sets(count, usual, cut, given);
        for (size_t i = 0; i < count; i++) {
            CU_ASSERT(given[i] >= 1 && given[i] <= usual[i]);
            CU_ASSERT_EQUAL(given[i], floor(given[i]));
            sum += given[i];
        }
        check_sum(usual, count, cut, sum);
    }
    gsl_rng_free(rng);
}

/* Where no quota is under one set, each exercise gets its quota rounded up or
 * down, and none that is rounded up has a smaller remainder than one that is
 * rounded down. */
static void test_sets_remainders(void) {
    gsl_rng *rng = test_random(809);
    for (int round = 0; round < 5000; round++) {
        size_t count = (size_t)test_whole(rng, 1, 9);
        double usual[9], given[9], least_up = 2, most_down = -1;
        double cut = test_whole(rng, 0, 74) / 100.0;
        for (size_t i = 0; i < count; i++)
            usual[i] = test_whole(rng, 4, 12);
        prescription_sets(count, usual, cut, given);
        for (size_t i = 0; i < count; i++) {
            double quota = usual[i] * (1 - cut);
            double rest = quota + 1e-9 - floor(quota + 1e-9);
            CU_ASSERT(fabs(given[i] - quota) < 1);
            if (given[i] > quota + 1e-8)
                least_up = fmin(least_up, rest);
            else if (rest > 1e-8)
                most_down = fmax(most_down, rest);
        }
        CU_ASSERT(least_up >= most_down - 1e-8);
    }
    gsl_rng_free(rng);
}

/* ---- the plan ---- */

/* Gives some sessions minutes and exercises. */
static void add_contents(gsl_rng *rng, World *w) {
    for (size_t i = 0; i < w->season.week_count; i++) {
        WeekRow *row = &w->week[i];
        int count = chance(rng, .4) ? test_whole(rng, 1, 5) : 0;
        if (chance(rng, .7))
            row->minutes = test_whole(rng, 8, 240) / 2.0;
        if (chance(rng, .7))
            row->rpe = test_whole(rng, 4, 19) / 2.0;
        for (; count > 0 && w->season.exercise_count < EXERCISES_MOST;
             count--) {
            size_t at = w->season.exercise_count++;
            snprintf(w->exercise_names[at], sizeof w->exercise_names[at],
                     "X%zu", at);
            w->exercises[at] = (Exercise){
                .session = row->session,
                .exercise = w->exercise_names[at],
                .sets = test_whole(rng, 1, 7),
                .reps = test_whole(rng, 1, 15),
                .kg = chance(rng, .5) ? test_whole(rng, 5, 400) / 2.0 : NAN,
                .percent =
                    chance(rng, .5) ? (double)test_whole(rng, 40, 95) : NAN,
                .keep = chance(rng, .2)};
        }
    }
}

static bool same_number(double a, double b) {
    return a == b || (isnan(a) && isnan(b));
}

/* To 5 min: as near as can be, from 5 to the usual, none for full rest. */
static void check_minutes(const PlanRow *row, double share) {
    double asked = row->usual_minutes * share;
    if (isnan(row->usual_minutes)) {
        CU_ASSERT(isnan(row->minutes));
        return;
    }
    if (share >= 1) {
        CU_ASSERT_EQUAL(row->minutes, row->usual_minutes);
        return;
    }
    if (share <= 0) {
        CU_ASSERT_EQUAL(row->minutes, 0);
        return;
    }
    CU_ASSERT(row->minutes > 0 && row->minutes <= row->usual_minutes);
    if (row->minutes == row->usual_minutes &&
        (row->minutes < 5 || row->minutes - asked <= 2.5))
        return;
    CU_ASSERT_EQUAL(fmod(row->minutes, 5), 0);
    CU_ASSERT(row->minutes == 5 ? asked < 7.5 + 1e-9
                                : fabs(row->minutes - asked) <= 2.5 + 1e-9);
}

/* A session with exercises lasts as its sets say, to whole minutes. */
static void check_minutes_of_sets(const PlanRow *row, double share) {
    double asked = row->usual_minutes * share;
    if (isnan(asked) || share >= 1) {
        CU_ASSERT(same_number(row->minutes, row->usual_minutes));
        return;
    }
    CU_ASSERT_EQUAL(row->minutes, floor(row->minutes));
    CU_ASSERT(fabs(row->minutes - asked) <= .5 + 1e-9);
    CU_ASSERT(row->minutes <= row->usual_minutes);
}

/* A walk through the rows of a plan. */
typedef struct {
    const World *w;
    const PlanRow *row, *end;
    double cut;             /* asked for on the day */
    double usual;           /* [load] cuttable of the day, as planned */
    double gone;            /* [load] of it, as carried out */
    double kept[DAYS_MOST]; /* [load] of each day by the rows */
} Walk;

static double exercise_sum(const Walk *k, const WeekRow *planned, bool all) {
    double sum = 0;
    for (size_t i = 0; i < k->w->season.exercise_count; i++)
        if (k->w->exercises[i].session == planned->session &&
            (all || !k->w->exercises[i].keep))
            sum += k->w->exercises[i].sets;
    return sum;
}

static void check_exercise(const PlanRow *row, const Exercise *x,
                           const WeekRow *planned) {
    ASSERT_TEXT(row->exercise, x->exercise);
    ASSERT_TEXT(row->session, planned->session);
    CU_ASSERT_EQUAL(row->reps, x->reps);
    CU_ASSERT(same_number(row->kg, x->kg));
    CU_ASSERT(same_number(row->percent, x->percent));
    CU_ASSERT(same_number(row->rpe, planned->rpe));
    CU_ASSERT_EQUAL(row->usual_sets, x->sets);
    CU_ASSERT_EQUAL(row->keep, x->keep || planned->keep);
    CU_ASSERT(row->sets >= 1 && row->sets <= x->sets);
    if (row->keep)
        CU_ASSERT_EQUAL(row->sets, x->sets);
    ASSERT_NEAR(row->cut, 1 - row->sets / x->sets, 1e-14);
    CU_ASSERT(isnan(row->load) && isnan(row->usual_load));
}

/* The exercises below a session's row; returns the sum of their sets. */
static double walk_exercises(Walk *k, const WeekRow *planned, double *cut_sum) {
    double sum = 0;
    *cut_sum = 0;
    for (size_t i = 0; i < k->w->season.exercise_count; i++) {
        const Exercise *x = &k->w->exercises[i];
        if (x->session != planned->session)
            continue;
        CU_ASSERT_FATAL(k->row < k->end && k->row->exercise != NULL);
        check_exercise(k->row, x, planned);
        sum += k->row->sets;
        if (!x->keep)
            *cut_sum += k->row->sets;
        k->row++;
    }
    return sum;
}

/* The sets of those that may be cut come to what is asked for, as far as one
 * set each allows. */
static void check_sets(const Walk *k, const WeekRow *planned, double cut,
                       double sum) {
    double usual[8];
    size_t count = 0;
    for (size_t i = 0; i < k->w->season.exercise_count; i++)
        if (k->w->exercises[i].session == planned->session &&
            !k->w->exercises[i].keep)
            usual[count++] = k->w->exercises[i].sets;
    check_sum(usual, count, cut, sum);
}

static void check_session(const PlanRow *row, const WeekRow *planned) {
    ASSERT_TEXT(row->session, planned->session);
    CU_ASSERT_PTR_NULL(row->exercise);
    CU_ASSERT_EQUAL(row->kind, planned->kind);
    CU_ASSERT_EQUAL(row->keep, planned->keep);
    CU_ASSERT_FALSE(row->event);
    CU_ASSERT(same_number(row->rpe, planned->rpe));
    CU_ASSERT(same_number(row->usual_minutes, planned->minutes));
    ASSERT_NEAR(row->usual_load, planned->load, 1e-12);
    ASSERT_NEAR(row->load, row->usual_load * (1 - row->cut), 1e-11);
    if (planned->keep)
        CU_ASSERT_EQUAL(row->cut, 0);
}

static void walk_session(Walk *k, const WeekRow *planned) {
    const PlanRow *row = k->row++;
    double cut = planned->keep ? 0 : k->cut, cut_sum;
    double sets = exercise_sum(k, planned, true);
    CU_ASSERT_FATAL(row < k->end);
    check_session(row, planned);
    if (sets > 0 && cut < 1) {
        double sum = walk_exercises(k, planned, &cut_sum);
        check_sets(k, planned, cut, cut_sum);
        CU_ASSERT_EQUAL(row->sets, sum);
        CU_ASSERT_EQUAL(row->usual_sets, sets);
        ASSERT_NEAR(row->cut, 1 - sum / sets, 1e-14);
        check_minutes_of_sets(row, sum / sets);
    } else if (isfinite(row->minutes)) {
        ASSERT_NEAR(row->cut, 1 - row->minutes / row->usual_minutes, 1e-14);
    } else {
        ASSERT_NEAR(row->cut, cut, 1e-14);
    }
    if (isnan(row->sets))
        check_minutes(row, 1 - cut);
    k->kept[row->date - world_start] += row->load;
    k->gone += planned->keep ? 0 : row->usual_load - row->load;
    k->usual += planned->keep ? 0 : row->usual_load;
}

static void walk_event(Walk *k, Date date, const Event *event) {
    CU_ASSERT_FATAL(k->row < k->end);
    CU_ASSERT(k->row->event != NULL);
    CU_ASSERT_EQUAL(k->row->date, date);
    CU_ASSERT_EQUAL(k->row->load, event->load_per_day);
    CU_ASSERT_EQUAL(k->row->usual_load, event->load_per_day);
    CU_ASSERT_EQUAL(k->row->cut, 0);
    k->kept[date - world_start] += k->row->load;
    k->row++;
}

static void walk_day(Walk *k, Date date, const double *cut,
                     const Prescription *plan) {
    const WeekRow *rows[ROWS_MOST];
    const Event *event = own_event_on(k->w, date);
    Date u = k->w->event->start - date;
    bool in_window = u >= 1 && (size_t)u <= own_window(k->w);
    size_t count = event ? 0 : own_rows(k->w, date, rows);
    k->cut = in_window ? cut[u - 1] : 0;
    k->usual = k->gone = 0;
    if (event)
        walk_event(k, date, event);
    for (size_t i = 0; i < count; i++) {
        CU_ASSERT_FATAL(k->row < k->end);
        CU_ASSERT_EQUAL(k->row->date, date);
        walk_session(k, rows[i]);
    }
    if (in_window)
        ASSERT_NEAR(plan->cut[u - 1], k->usual > 0 ? k->gone / k->usual : 0,
                    1e-12);
}

/* Every day from the log to the event's last, in order and nothing else; the
 * cuts as rounded are those of the rows, and so is readiness under them. */
static void check_plan(World *w, const Option *option) {
    Prescription plan;
    Score score;
    double cut[DAYS_MOST];
    Walk k = {.w = w};
    Date last = w->event->start + w->event->days - 1;
    own_cuts(option, cut, w->outlook.window);
    prescription_build(&w->outlook, &w->usual, option, &plan);
    k.row = plan.rows;
    k.end = plan.rows + plan.count;
    for (Date date = w->season.last + 1; date <= last; date++)
        walk_day(&k, date, cut, &plan);
    CU_ASSERT_PTR_EQUAL(k.row, k.end);
    for (Date date = w->season.last + 1; date <= last; date++)
        ASSERT_NEAR(own_load(w, date, plan.cut), k.kept[date - world_start],
                    1e-9);
    score_build(&w->outlook, &w->params, AIM_MEAN, &score);
    check_score(w, &score, score_cuts(&score, plan.cut), plan.cut);
    score_free(&score);
    prescription_free(&plan);
}

static void test_plan_random(void) {
    gsl_rng *rng = test_random(555);
    for (int round = 0; round < 400; round++) {
        World *w = random_window(rng);
        world_close(w);
        add_contents(rng, w);
        world_open(w);
        for (int i = 0; i < 3; i++) {
            Option option = random_option(rng, 20);
            check_plan(w, &option);
        }
        world_close(w);
    }
    gsl_rng_free(rng);
}

/* Without a week.csv the weekday's mean is cut as it is. */
/* A week at 20 % more, then three days at half. Minutes to come in steps of 5,
 * no fewer than usual while building up: 60 gives 72, so 70; 61 gives 73.2, so
 * 75; 22 gives 26.4, so 25; 11 gives 13.2, so 15; 9 gives 10.8, so 10. At half
 * 60, 22 and 9 give 30, 11 and 4.5: 30, 10 and 5. */
static void test_plan_build_up(void) {
    static const double minutes[] = {70, 75, 25, 15, 10, 30, 10, 5};
    static const double usual[] = {60, 61, 22, 11, 9, 60, 22, 9};
    Hand h;
    Prescription plan;
    Option option = {.count = 2,
                     .part = {{7, -20, -20, 'x'}, {3, 50, 50, 'x'}}};
    const char *folder = test_folder();
    test_file(0, "sessions.csv",
              "date,minutes,rpe\n2026-03-02,60,5\n2026-03-08,60,5\n");
    test_file(0, "week.csv",
              "weekday,session,minutes,rpe\n2026-03-09,A,60,5\n"
              "2026-03-10,B,61,5\n2026-03-11,C,22,5\n2026-03-12,D,11,5\n"
              "2026-03-13,E,9,5\n2026-03-16,A,60,5\n2026-03-17,C,22,5\n"
              "2026-03-18,E,9,5\n");
    test_file(0, "events.csv",
              "event,start,load_per_day\nCup,2026-03-19,640\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    prescription_build(&h.outlook, &h.usual, &option, &plan);
    CU_ASSERT_EQUAL_FATAL(plan.count, 9);
    for (size_t i = 0; i < 8; i++) {
        ASSERT_NEAR(plan.rows[i].usual_minutes, usual[i], 0);
        ASSERT_NEAR(plan.rows[i].minutes, minutes[i], 0);
        ASSERT_NEAR(plan.rows[i].load, 5 * minutes[i], 1e-12);
    }
    ASSERT_NEAR(plan.cut[9], 1 - 70. / 60, 1e-14);
    prescription_free(&plan);
    hand_close(&h);
    test_folder_done();
}

static void test_plan_without_week(void) {
    Hand h;
    Prescription plan;
    Option option;
    char why[OPTION_WHY];
    const char *folder = test_folder();
    test_file(0, "sessions.csv",
              "date,load\n2026-03-02,300\n2026-03-04,120\n2026-03-08,70\n");
    test_file(0, "events.csv",
              "event,start,load_per_day\nCup,2026-03-14,640\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    CU_ASSERT(option_read("4x33", &option, why)); /* 10 to 13 March */
    prescription_build(&h.outlook, &h.usual, &option, &plan);
    CU_ASSERT_EQUAL_FATAL(plan.count, 3); /* 9, 11 and 14 March */
    ASSERT_NEAR(plan.rows[0].load, 300, 1e-12);
    ASSERT_NEAR(plan.rows[1].load, 120 * .67, 1e-12);
    CU_ASSERT(isnan(plan.rows[1].minutes));
    CU_ASSERT_EQUAL(plan.rows[1].date, day_of(2026, 3, 11));
    CU_ASSERT(plan.rows[2].event != NULL);
    ASSERT_TEXT(plan.rows[2].session, "Cup");
    ASSERT_NEAR(plan.cut[2], .33, 1e-14);
    prescription_free(&plan);
    hand_close(&h);
    test_folder_done();
}

/* ---- the demo season: a squad's plan checked by hand ---- */

static const PlanRow *find_row(const Prescription *plan, Date date,
                               const char *session, const char *exercise) {
    for (size_t i = 0; i < plan->count; i++) {
        const PlanRow *row = &plan->rows[i];
        bool own = exercise
                       ? row->exercise && text_same(row->exercise, exercise)
                       : row->exercise == NULL;
        if (row->date == date && text_same(row->session, session) && own)
            return row;
    }
    return NULL;
}

typedef struct {
    int day; /* of April 2026 */
    const char *session, *exercise;
    double minutes, sets, kg, load; /* NAN: none */
} DemoRow;

/* A week at half volume from Saturday 11 April, then a week at a quarter,
 * before the cup on Saturday 25. Half of 18 sets is 9, the kept 2 stay: 11 of
 * 20, 33 min, 198 of a load of 360. A quarter is 4.5, one set each: 5 and 2. */
static const DemoRow demo_rows[] = {
    {6, "Gym A", NULL, 60, 20, NAN, 360},
    {6, "Gym A", "Back squat", NAN, 5, NAN, NAN},
    {13, "Gym A", NULL, 33, 11, NAN, 198},
    {13, "Gym A", "Back squat", NAN, 3, NAN, NAN},
    {13, "Gym A", "Bench press", NAN, 2, NAN, NAN},
    {13, "Gym A", "Dumbbell row", NAN, 2, 22.5, NAN},
    {13, "Gym A", "Nordic curl", NAN, 1, NAN, NAN},
    {13, "Gym A", "Dead bug", NAN, 1, NAN, NAN},
    {13, "Gym A", "Copenhagen adduction", NAN, 2, NAN, NAN},
    {13, "Mobility", NULL, 20, NAN, NAN, 40},
    {14, "Court", NULL, 45, NAN, NAN, 225},
    {16, "Intervals", NULL, 20, NAN, NAN, 150}, /* 17.5 min */
    {11, "Friendly", NULL, 60, NAN, NAN, 450},  /* kept */
    {20, "Gym A", NULL, 21, 7, NAN, 126},
    {20, "Gym A", "Back squat", NAN, 1, NAN, NAN},
    {20, "Gym A", "Copenhagen adduction", NAN, 2, NAN, NAN},
    {20, "Mobility", NULL, 20, NAN, NAN, 40},
    {22, "Gym B", "Romanian deadlift", NAN, 1, 60, NAN},
    {24, "Court", NULL, 15, NAN, NAN, 60}, /* 12.5 min */
    {25, "Regional cup", NULL, NAN, NAN, NAN, 700},
};

static void check_demo_row(const Prescription *plan, const DemoRow *wanted) {
    const PlanRow *row = find_row(plan, day_of(2026, 4, wanted->day),
                                  wanted->session, wanted->exercise);
    CU_ASSERT_PTR_NOT_NULL_FATAL(row);
    CU_ASSERT(same_number(row->minutes, wanted->minutes));
    CU_ASSERT(same_number(row->sets, wanted->sets));
    CU_ASSERT(same_number(row->kg, wanted->kg));
    CU_ASSERT_EQUAL(isnan(row->load), isnan(wanted->load));
    if (isfinite(wanted->load))
        ASSERT_NEAR(row->load, wanted->load, 1e-12);
}

static void demo_open(Hand *h, Prescription *plan, const char *spec) {
    Option option;
    char why[OPTION_WHY];
    hand_open(h, "data/demo", "Regional cup", DATE_NONE);
    CU_ASSERT(option_read(spec, &option, why));
    prescription_build(&h->outlook, &h->usual, &option, plan);
}

static void test_plan_demo(void) {
    Hand h;
    Prescription plan;
    demo_open(&h, &plan, "7x50,7x75");
    for (size_t i = 0; i < sizeof demo_rows / sizeof demo_rows[0]; i++)
        check_demo_row(&plan, &demo_rows[i]);
    CU_ASSERT_EQUAL(plan.rows[0].date, day_of(2026, 3, 30));
    CU_ASSERT_EQUAL(plan.rows[plan.count - 1].date, day_of(2026, 4, 25));
    for (size_t i = 1; i < plan.count; i++)
        CU_ASSERT(plan.rows[i].date - plan.rows[i - 1].date >= 0 &&
                  plan.rows[i].date - plan.rows[i - 1].date <= 2);
    /* Monday 13: 162 of the 360 that may be cut; Thursday 16: 45 of 90 min at
     * 5 and 15 of 35 min at 7.5 */
    ASSERT_NEAR(plan.cut[11], 162.0 / 360, 1e-14);
    ASSERT_NEAR(plan.cut[8], (225 + 112.5) / (450 + 262.5), 1e-14);
    prescription_free(&plan);
    hand_close(&h);
}

/* Full rest is rest: no set, no minute, and no kept exercise alone; the kept
 * session stays. */
static void test_plan_demo_rest(void) {
    static const DemoRow rows[] = {
        {20, "Gym A", NULL, 0, NAN, NAN, 0},
        {20, "Mobility", NULL, 20, NAN, NAN, 40},
        {22, "Gym B", NULL, 0, NAN, NAN, 0},
        {24, "Court", NULL, 0, NAN, NAN, 0},
        {18, "Friendly", NULL, 60, NAN, NAN, 450},
    };
    Hand h;
    Prescription plan;
    demo_open(&h, &plan, "5x100");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        check_demo_row(&plan, &rows[i]);
    CU_ASSERT_PTR_NULL(
        find_row(&plan, day_of(2026, 4, 20), "Gym A", "Copenhagen adduction"));
    for (int u = 1; u <= 5; u++) /* a rest day has no load to cut */
        CU_ASSERT_EQUAL(plan.cut[u - 1],
                        h.outlook.cuttable[h.outlook.event_day - (size_t)u] >
                            0);
    prescription_free(&plan);
    hand_close(&h);
}

/* ---- limits on the usual week ---- */

/* The demo's cup on Saturday 25 April: no gym on the last five days takes away
 * Gym A on Monday 20 and Gym B on Wednesday 22, and nothing before. */
static void test_no_gym(void) {
    Hand h;
    Outlook o;
    Prescription plan;
    Option option;
    char why[OPTION_WHY];
    size_t gym = 0, before = 0;
    hand_open(&h, "data/demo", "Regional cup", DATE_NONE);
    h.usual.gym_free = day_of(2026, 4, 20);
    h.usual.gym_again = day_of(2026, 4, 25);
    outlook_build(&h.usual, &h.daily, h.outlook.event, 0, &o);
    ASSERT_NEAR(outlook_planned(&o, o.event_day - 5), 40, 1e-12); /* mobility */
    ASSERT_NEAR(outlook_planned(&o, o.event_day - 3), 0, 1e-12);
    ASSERT_NEAR(outlook_planned(&o, o.event_day - 12), 400, 1e-12);
    ASSERT_NEAR(outlook_planned(&o, o.event_day - 10), 360, 1e-12);
    CU_ASSERT_EQUAL(o.sessions[o.event_day - 5], 1);
    CU_ASSERT_EQUAL(o.kept[o.event_day - 5], 1);
    CU_ASSERT_EQUAL(o.sessions[o.event_day - 12], 2);
    CU_ASSERT_EQUAL(o.kept[o.event_day - 12], 1);
    CU_ASSERT_EQUAL(o.sessions[o.event_day - 9], 2);
    CU_ASSERT_EQUAL(o.kept[o.event_day - 9], 0);
    CU_ASSERT(option_read("none", &option, why));
    prescription_build(&o, &h.usual, &option, &plan);
    for (size_t i = 0; i < plan.count; i++)
        if (plan.rows[i].kind == KIND_GYM && !plan.rows[i].exercise) {
            gym += plan.rows[i].date >= day_of(2026, 4, 20);
            before += plan.rows[i].date < day_of(2026, 4, 20);
        }
    CU_ASSERT_EQUAL(gym, 0);
    CU_ASSERT_EQUAL(before, 6); /* three weeks from 30 March */
    prescription_free(&plan);
    outlook_free(&o);
    hand_close(&h);
}

/* Only gym is cut: half of its sets, and Court and Intervals stay. */
static void test_cut_kinds(void) {
    static const DemoRow rows[] = {
        {13, "Gym A", NULL, 33, 11, NAN, 198},
        {13, "Gym A", "Back squat", NAN, 3, NAN, NAN},
        {14, "Court", NULL, 90, NAN, NAN, 450},
        {16, "Intervals", NULL, 35, NAN, NAN, 262.5},
        {11, "Friendly", NULL, 60, NAN, NAN, 450},
    };
    Hand h;
    Outlook o;
    Prescription plan;
    Option option;
    char why[OPTION_WHY];
    hand_open(&h, "data/demo", "Regional cup", DATE_NONE);
    h.usual.cut_kinds = 1u << KIND_GYM | 1u << KIND_MOBILITY;
    outlook_build(&h.usual, &h.daily, h.outlook.event, 0, &o);
    CU_ASSERT(option_read("14x50", &option, why));
    prescription_build(&o, &h.usual, &option, &plan);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        check_demo_row(&plan, &rows[i]);
    for (size_t u = 1; u <= o.window; u++) {
        int day = date_weekday(h.outlook.event->start - (Date)u);
        bool gym = day == 0 || day == 2; /* Monday, Wednesday */
        ASSERT_NEAR(o.cuttable[o.event_day - u], gym ? 360 : 0, 1e-12);
    }
    prescription_free(&plan);
    outlook_free(&o);
    hand_close(&h);
}

/* By hand, steady loads of one session a day: of seven sessions five stay, so
 * two of the three days that might rest do, those nearest the event; the third
 * is cut by 75 %. */
static void test_sessions_by_hand(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    Option rest = {.count = 1, .part = {{3, 100, 100, 'x'}}};
    Text why = {0};
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    h.limits.min_sessions = 5;
    hunt_run(&h, AIM_MEAN);
    ASSERT_NEAR(h.search.ceiling_cut[0], 1, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[1], 1, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[2], .75, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[14], .75, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[15], 0, 1e-9);
    CU_ASSERT(search_outside(&w.outlook, &h.limits, &rest, &why));
    ASSERT_HAS(text_of(&why), "have 4 sessions, which breaks --min-sessions 5");
    rest.part[0].days = 2;
    CU_ASSERT(search_allows(&w.outlook, &h.limits, &rest));
    text_free(&why);
    hunt_free(&h);
    world_close(&w);
}

/* By hand: days of 238.5 that may be cut to a quarter; a rise of at most 100 a
 * day. Without cuts nothing rises; a cut of the last day but one of 50 % needs
 * one of 100 - (119.25 + 100) / 2.385 % on the last. */
static void test_rises_by_hand(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    double cut[DAYS_MOST] = {0};
    Rules rules;
    steady_world(&w, 238.5, 40);
    h.limits.max_day_rise = 100;
    rules_build(&w.outlook, &h.limits, &rules);
    CU_ASSERT(rules_hold(&rules, cut));
    cut[1] = .5;
    CU_ASSERT_FALSE(rules_hold(&rules, cut));
    cut[0] = 1 - (119.25 + 100) / 238.5 + 1e-6;
    CU_ASSERT(rules_hold(&rules, cut));
    cut[0] -= 2e-6;
    CU_ASSERT_FALSE(rules_hold(&rules, cut));
    rules_free(&rules);
    h.limits.max_day_rise = INFINITY;
    h.limits.max_week_rise = 10;
    rules_build(&w.outlook, &h.limits, &rules);
    for (int u = 0; u < 14; u++)
        cut[u] = u < 7 ? .45 : .5; /* .55 is a tenth above .5 */
    CU_ASSERT(rules_hold(&rules, cut));
    cut[3] -= .0001;
    CU_ASSERT_FALSE(rules_hold(&rules, cut));
    rules_free(&rules);
    world_close(&w);
}

static const TestCase cases[] = {
    {"option_accepted", test_option_accepted},
    {"shape_names", test_shape_names},
    {"option_refused", test_option_refused},
    {"option_parts", test_option_parts},
    {"option_round_trip", test_option_round_trip},
    {"option_cuts", test_option_cuts},
    {"option_rising", test_option_rising},
    {"option_short_window", test_option_short_window},
    {"option_equal_share", test_option_equal_share},
    {"outlook", test_outlook},
    {"outlook_today", test_outlook_today},
    {"outlook_other_event", test_outlook_other_event},
    {"outlook_event_load", test_outlook_event_load},
    {"outlook_from_log", test_outlook_from_log},
    {"outlook_clock", test_outlook_clock},
    {"outlook_no_clock", test_outlook_no_clock},
    {"outlook_random", test_outlook_random},
    {"score_option", test_score_option},
    {"score_cuts", test_score_cuts},
    {"score_aim", test_score_aim},
    {"score_today", test_score_today},
    {"eventweek_amounts", test_eventweek_amounts},
    {"eventweek_short", test_eventweek_short},
    {"eventweek_night", test_eventweek_night},
    {"eventweek_timeline", test_eventweek_timeline},
    {"option_build_up", test_option_build_up},
    {"draw_scores", test_draw_scores},
    {"draw_scores_beat", test_draw_scores_beat},
    {"draw_scores_mean", test_draw_scores_mean},
    {"draw_scores_none", test_draw_scores_none},
    {"search_brute_force", test_search_brute_force},
    {"search_items", test_search_items},
    {"search_allows", test_search_allows},
    {"search_no_doubles", test_search_no_doubles},
    {"search_definitions", test_search_definitions},
    {"search_ceiling", test_search_ceiling},
    {"search_share", test_search_share},
    {"search_widening", test_search_widening},
    {"search_widening_rises", test_search_widening_rises},
    {"search_scaling", test_search_scaling},
    {"search_shifting", test_search_shifting},
    {"search_no_fatigue", test_search_no_fatigue},
    {"search_steady", test_search_steady},
    {"search_classic", test_search_classic},
    {"search_week_floor", test_search_week_floor},
    {"search_on_limit", test_search_on_limit},
    {"search_rest_days", test_search_rest_days},
    {"search_kept", test_search_kept},
    {"ceiling_linprog", test_ceiling_linprog},
    {"variable_dose_step", test_variable_dose_step},
    {"variable_dose_build_up", test_variable_dose_build_up},
    {"variable_dose_steady", test_variable_dose_steady},
    {"variable_dose_progressive", test_variable_dose_progressive},
    {"ceiling_variable_dose", test_ceiling_variable_dose},
    {"sets_by_hand", test_sets_by_hand},
    {"sets_small_exercises", test_sets_small_exercises},
    {"sets_sum", test_sets_sum},
    {"sets_remainders", test_sets_remainders},
    {"plan_random", test_plan_random},
    {"plan_build_up", test_plan_build_up},
    {"plan_without_week", test_plan_without_week},
    {"plan_demo", test_plan_demo},
    {"plan_demo_rest", test_plan_demo_rest},
    {"no_gym", test_no_gym},
    {"cut_kinds", test_cut_kinds},
    {"sessions_by_hand", test_sessions_by_hand},
    {"rises_by_hand", test_rises_by_hand},
    {NULL, NULL}};

const TestSuite suite_taper = {"taper", cases};
