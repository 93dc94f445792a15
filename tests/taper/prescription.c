/* prescription: whole sets and minutes, plans of random seasons, and the demo
 * squad's checked by hand.
 *
 * Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "hand.h"
#include "reckoned.h"
#include "test.h"
#include "world.h"

#include "season/season.h"
#include "taper/option.h"
#include "taper/outlook.h"
#include "taper/prescription.h"
#include "taper/score.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>

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

/* To 5 min: as near as can be, from 15 to the usual (all of a session that is
 * shorter), none for full rest. */
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
    CU_ASSERT(row->minutes >= fmin(15, row->usual_minutes) &&
              row->minutes <= row->usual_minutes);
    if (row->minutes == row->usual_minutes &&
        (row->minutes <= 15 || row->minutes - asked <= 2.5))
        return;
    CU_ASSERT_EQUAL(fmod(row->minutes, 5), 0);
    CU_ASSERT(row->minutes == 15 ? asked < 17.5 + 1e-9
                                 : fabs(row->minutes - asked) <= 2.5 + 1e-9);
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
        /* as its sets say */
        check_minutes(row, sum / sets);
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
 * 60, 22 and 9 give 30, 11 and 4.5: 30, the least of 15, and all 9. */
static void test_plan_build_up(void) {
    static const double minutes[] = {70, 75, 25, 15, 10, 30, 15, 9};
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
              "2026-03-18,E,9,5\nsun,off,,\n");
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

/* At a quarter: 40 min would be 10, so the least of 15; 14 min stay, since they
 * are fewer than that; 60 min of which the file wants 30 are 30, and of which
 * it wants 10 are 15 as asked; 80 min are 20. Mobility stays. */
static void test_plan_least_minutes(void) {
    static const struct {
        double usual, minutes;
        bool at_least;
    } days[] = {{40, 15, true},  {14, 14, true},  {60, 30, true},
                {60, 15, false}, {80, 20, false}, {20, 20, false}};
    Hand h;
    Prescription plan;
    Option option = {.count = 1, .part = {{6, 75, 75, 'x'}}};
    const char *folder = test_folder();
    test_file(0, "sessions.csv",
              "date,minutes,rpe\n2026-03-02,60,5\n2026-03-08,60,5\n");
    test_file(0, "week.csv",
              "weekday,session,kind,minutes,rpe,least_minutes\n"
              "mon,A,skill,40,5,\ntue,B,skill,14,5,\nwed,C,skill,60,5,30\n"
              "thu,D,skill,60,5,10\nfri,E,skill,80,5,\n"
              "sat,M,mobility,20,2,\n");
    test_file(0, "events.csv",
              "event,start,load_per_day\nCup,2026-03-15,640\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    prescription_build(&h.outlook, &h.usual, &option, &plan);
    CU_ASSERT_EQUAL_FATAL(plan.count, 7);
    for (size_t i = 0; i < 6; i++) {
        CU_ASSERT_EQUAL(plan.rows[i].usual_minutes, days[i].usual);
        CU_ASSERT_EQUAL(plan.rows[i].minutes, days[i].minutes);
        CU_ASSERT_EQUAL(plan.rows[i].at_least, days[i].at_least);
        CU_ASSERT_EQUAL(plan.rows[i].keep, i == 5);
        ASSERT_NEAR(plan.rows[i].cut, 1 - days[i].minutes / days[i].usual,
                    1e-14);
    }
    prescription_free(&plan);
    hand_close(&h);
    test_folder_done();
}

/* 60 min of which the athlete's own taper of 50 % leaves 30: of the team's
 * session the common taper of 75 % leaves 15, and on the days before its 3 all.
 * A kept session of the team stays. A row without minutes or load has nothing
 * to cut. */
static void test_plan_team(void) {
    static const double minutes[] = {60, 30, 60, 15, 30};
    static const double cut[] = {0, .5, 0, .75, .5, 0};
    Hand h;
    Prescription plan;
    Option own = {.count = 1, .part = {{6, 50, 50, 'x'}}};
    Option common = {.count = 1, .part = {{3, 75, 75, 'x'}}};
    const char *folder = test_folder();
    test_file(0, "sessions.csv",
              "date,minutes,rpe\n2026-03-02,60,5\n2026-03-08,60,5\n");
    test_file(0, "week.csv",
              "weekday,session,kind,minutes,rpe,keep,team\n"
              "mon,Court,skill,60,5,,yes\ntue,Gym,gym,60,5,,\n"
              "wed,Match,skill,60,5,yes,yes\nthu,Court,skill,60,5,,yes\n"
              "fri,Gym,gym,60,5,,no\nsat,Rest,other,0,0,,\n");
    test_file(0, "events.csv",
              "event,start,load_per_day\nCup,2026-03-15,640\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    prescription_build_team(&h.outlook, &h.usual, &own, &common, &plan);
    CU_ASSERT_EQUAL_FATAL(plan.count, 7);
    for (size_t i = 0; i < 6; i++) {
        CU_ASSERT_EQUAL(plan.rows[i].team, i == 0 || i == 2 || i == 3);
        if (i < 5)
            CU_ASSERT_EQUAL(plan.rows[i].minutes, minutes[i]);
        ASSERT_NEAR(plan.rows[i].cut, cut[i], 1e-14);
    }
    ASSERT_NEAR(plan.cut[6 - 1], 0, 1e-14); /* Monday */
    ASSERT_NEAR(plan.cut[3 - 1], .75, 1e-14);
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
    CU_ASSERT(option_read("4d-33", &option, why)); /* 10 to 13 March */
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
 * 20, 33 min and so 35, 198 of a load of 360. A quarter is 4.5, one set each: 5
 * and 2. */
static const DemoRow demo_rows[] = {
    {6, "Gym A", NULL, 60, 20, NAN, 360},
    {6, "Gym A", "Back squat", NAN, 5, NAN, NAN},
    {13, "Gym A", NULL, 35, 11, NAN, 198},
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
    {20, "Gym A", NULL, 20, 7, NAN, 126},
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
    demo_open(&h, &plan, "7d-50,7d-75");
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
    demo_open(&h, &plan, "5d-100");
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

/* The demo's cup on Saturday 25 April: no gym on the last five days takes away
 * Gym A on Monday 20 and Gym B on Wednesday 22, and nothing before. */
static void test_no_gym(void) {
    Hand h;
    Outlook o;
    Prescription plan;
    Option option;
    char why[OPTION_WHY];
    size_t gym = 0, off = 0, before = 0;
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
            bool late = plan.rows[i].date >= day_of(2026, 4, 20);
            gym += late && (plan.rows[i].load > 0 || plan.rows[i].minutes > 0);
            off +=
                late && plan.rows[i].cut == 1 && plan.rows[i].usual_load == 360;
            before += plan.rows[i].date < day_of(2026, 4, 20);
        }
    CU_ASSERT_EQUAL(gym, 0);
    CU_ASSERT_EQUAL(off, 2);
    CU_ASSERT_EQUAL(before, 6); /* three weeks from 30 March */
    prescription_free(&plan);
    outlook_free(&o);
    hand_close(&h);
}

/* Only gym is cut: half of its sets, and Court and Intervals stay. */
static void test_cut_kinds(void) {
    static const DemoRow rows[] = {
        {13, "Gym A", NULL, 35, 11, NAN, 198},
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
    CU_ASSERT(option_read("14d-50", &option, why));
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

static const TestCase cases[] = {
    {"sets_by_hand", test_sets_by_hand},
    {"sets_small_exercises", test_sets_small_exercises},
    {"sets_sum", test_sets_sum},
    {"sets_remainders", test_sets_remainders},
    {"plan_random", test_plan_random},
    {"plan_build_up", test_plan_build_up},
    {"plan_least_minutes", test_plan_least_minutes},
    {"plan_team", test_plan_team},
    {"plan_without_week", test_plan_without_week},
    {"plan_demo", test_plan_demo},
    {"plan_demo_rest", test_plan_demo_rest},
    {"no_gym", test_no_gym},
    {"cut_kinds", test_cut_kinds},
    {NULL, NULL}};

const TestSuite suite_taper_prescription = {"taper", cases};
