/* together: which sessions of the usual week are the team's.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "base/text.h"

#include <gsl/gsl_randist.h>
#include <stdlib.h>

/* The log of two or three athletes; Friday 20 March is its end. */
static void is_together(const char *log, const char *week, bool wanted) {
    PlannedSession sessions[USUAL_MOST];
    start();
    file("sessions.csv", log);
    if (week)
        file("week.csv", week);
    look();
    build_usual("Kite");
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(23), sessions), 1);
    CU_ASSERT_EQUAL(sessions[0].team, wanted);
    CU_ASSERT_EQUAL(sessions[0].told, wanted);
    usual_free(&usual);
    stop();
}

/* The squad logged 60, 70 and 90 minutes of one session: it takes 70, and the
 * load is that times Kite's own rating. Of a match each keeps their own. */
static void one_length_for_all(void) {
    PlannedSession sessions[USUAL_MOST];
    start();
    file("sessions.csv", "date,athlete,session,kind,time,minutes,rpe\n"
                         "2026-03-16,Kite,Court,skill,18:00,60,6\n"
                         "2026-03-16,Lark,Court,skill,18:00,70,5\n"
                         "2026-03-16,Mew,Court,skill,18:00,90,4\n"
                         "2026-03-17,Kite,Cup,match,10:00,20,8\n"
                         "2026-03-17,Lark,Cup,match,10:00,60,8\n"
                         "2026-03-17,Mew,Cup,match,10:00,60,8\n");
    look();
    build_usual("Kite");
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(23), sessions), 1);
    ASSERT_NEAR(sessions[0].minutes, 70, 0);
    ASSERT_NEAR(sessions[0].load, 420, 0);
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(24), sessions), 1);
    ASSERT_NEAR(sessions[0].minutes, 20, 0);
    ASSERT_NEAR(sessions[0].load, 160, 0);
    usual_free(&usual);
    stop();
}

/* A session of the team by weekday, name and clock time. */
static void together_by_time(void) {
#define HEAD "date,athlete,session,time,load\n"
#define ALIKE                                                                  \
    HEAD "2026-03-09,Kite,Court,18:00,300\n2026-03-16,Kite,Court,18:00,300\n"  \
         "2026-03-16,Lark,court,18:00,280\n2026-03-20,Kite,Gym,07:00,200\n"    \
         "2026-03-20,Lark,Gym,07:00,200\n"
#define MEW "2026-03-17,Mew,Gym,07:00,200\n"
    static const char week[] = "weekday,session,load\nmon,Court,300\n";
    is_together(ALIKE, NULL, true);
    is_together(ALIKE, week, true);
    is_together(ALIKE, "weekday,session,load,team\nmon,Court,300,no\n", false);
    /* a name, a time or a weekday of their own, or no time */
    is_together(ALIKE, "weekday,session,load\nmon,Drill,300\n", false);
    is_together(HEAD "2026-03-16,Kite,Court,18:00,300\n"
                     "2026-03-16,Lark,Court,18:15,280\n",
                week, false);
    is_together(HEAD "2026-03-16,Kite,Court,18:00,300\n"
                     "2026-03-17,Lark,Court,18:00,280\n",
                week, false);
    is_together("date,athlete,session,load\n2026-03-16,Kite,Court,300\n"
                "2026-03-16,Lark,Court,280\n",
                week, false);
    /* not always at one time; alone in the log */
    is_together(HEAD "2026-03-09,Kite,Court,17:00,300\n"
                     "2026-03-16,Kite,Court,18:00,300\n"
                     "2026-03-16,Lark,Court,18:00,280\n",
                week, false);
    is_together(HEAD "2026-03-16,Kite,Court,18:00,300\n", week, false);
    /* Mew and Owl have it not: half of the squad, unless Owl did not train for
     * four weeks or rested */
    is_together(ALIKE "2026-03-17,Mew,Gym,07:00,200\n", week, true);
    is_together(ALIKE MEW "2026-03-17,Owl,Gym,07:00,200\n", week, false);
    is_together(ALIKE MEW "2026-02-16,Owl,Gym,07:00,200\n", week, true);
    is_together(ALIKE MEW "2026-03-17,Owl,Gym,07:00,0\n", week, true);
    /* two of three rows at the time of the others; one at none */
    is_together(ALIKE "2026-03-02,Kite,Court,17:00,300\n", week, true);
    is_together(ALIKE "2026-03-02,Kite,Court,,300\n", week, true);
    /* a week of Lark's own without it */
    is_together(ALIKE,
                "weekday,session,athlete,load\nmon,Court,Kite,300\n"
                "tue,Court,Lark,300\n",
                false);
#undef MEW
#undef HEAD
#undef ALIKE
}

/* Another squad does not count. */
static void together_by_squad(void) {
    PlannedSession sessions[USUAL_MOST];
    for (int same = 0; same < 2; same++) {
        start();
        file("sessions.csv", "date,athlete,session,time,load\n"
                             "2026-03-16,Kite,Court,18:00,300\n"
                             "2026-03-16,Lark,Court,18:00,280\n");
        file("athletes.csv", same ? "athlete,squad\nKite,one\nLark,one\n"
                                  : "athlete,squad\nKite,one\nLark,two\n");
        file("week.csv", "weekday,session,load\nmon,Court,300\n");
        look();
        build_usual("Kite");
        CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(23), sessions), 1);
        CU_ASSERT_EQUAL(sessions[0].team, same == 1);
        usual_free(&usual);
        stop();
    }
}

/* ---- squads drawn ---- */

enum { SQUAD = 7, WEEKDAYS = 5, WEEKS = 5 };

/* When athlete, weekday and session meet [h]; 0: never. */
typedef struct {
    int people;
    int hour[SQUAD][WEEKDAYS][2];
} Club;

static const char *const clubs_sessions[] = {"Court", "Gym"};

/* The log of some weeks, its rows in any order; everybody walks on Mondays and
 * Sundays at a time of their own. */
static void write_club(const Club *c, gsl_rng *rng) {
    char row[SQUAD * WEEKS * (2 * WEEKDAYS + 2)][60];
    size_t count = 0;
    Text text = {0};
    for (int a = 0; a < c->people; a++)
        for (int day = 0; day < 7 * WEEKS; day++) {
            char date[DATE_TEXT];
            date_write(date, march(2) + day);
            for (int k = 0; k < 2 && day % 7 < WEEKDAYS; k++)
                if (c->hour[a][day % 7][k])
                    snprintf(row[count++], sizeof *row, "%s,P%d,%s,%d:00,300\n",
                             date, a, clubs_sessions[k],
                             c->hour[a][day % 7][k]);
            if (day % 7 == 0 || day % 7 == 6)
                snprintf(row[count++], sizeof *row, "%s,P%d,Walk,07:%02d,200\n",
                         date, a, a);
        }
    if (rng)
        gsl_ran_shuffle(rng, row, count, sizeof *row);
    text_add(&text, "date,athlete,session,time,load\n");
    for (size_t i = 0; i < count; i++)
        text_add(&text, "%s", row[i]);
    start();
    file("sessions.csv", text_of(&text));
    look();
    assert_no_errors();
    text_free(&text);
}

/* Counted from the hours: more than half of the squad. */
static bool is_most(const Club *c, int who, int day, int k) {
    int same = 0;
    for (int a = 0; a < c->people; a++)
        same += c->hour[a][day][k] == c->hour[who][day][k];
    return c->hour[who][day][k] && 2 * same > c->people;
}

static void assert_club(const Club *c, gsl_rng *rng) {
    write_club(c, rng);
    for (int a = 0; a < c->people; a++) {
        char name[16];
        snprintf(name, sizeof name, "P%d", a);
        build_usual(name);
        for (int day = 0; day < WEEKDAYS; day++) {
            PlannedSession s[USUAL_MOST];
            size_t count = usual_day(&usual, march(2) + 7 * WEEKS + day, s);
            bool had[2] = {false, false};
            for (size_t i = 0; i < count; i++) {
                int k = *s[i].session == 'G';
                if (*s[i].session == 'W') {
                    CU_ASSERT_FALSE(s[i].team);
                    continue;
                }
                had[k] = true;
                CU_ASSERT_EQUAL(s[i].team, is_most(c, a, day, k));
            }
            for (int k = 0; k < 2; k++)
                CU_ASSERT_EQUAL(had[k], c->hour[a][day][k] > 0);
        }
        usual_free(&usual);
    }
    stop();
}

/* Whatever hours a squad has, and in whatever order they are logged. */
static void counted_from_the_hours(void) {
    gsl_rng *rng = test_random(7311);
    int rounds = getenv("PEAKWARD_QUICK") ? 40 : 400;
    for (int i = 0; i < rounds; i++) {
        Club c = {.people = 2 + (int)gsl_rng_uniform_int(rng, SQUAD - 1)};
        for (int a = 0; a < c.people; a++)
            for (int day = 0; day < WEEKDAYS; day++)
                for (int k = 0; k < 2; k++)
                    c.hour[a][day][k] = gsl_rng_uniform(rng) < .15  ? 0
                                        : gsl_rng_uniform(rng) < .8 ? 18
                                                                    : 16;
        assert_club(&c, rng);
    }
    gsl_rng_free(rng);
}

/* Of a session that all of three or more have, one may lack it: the others'
 * are the team's as before. */
static void dropped_by_one(void) {
    for (int people = 3; people <= SQUAD; people++)
        for (int who = 0; who < people; who += people - 1) {
            Club c = {.people = people};
            for (int a = 0; a < people; a++)
                for (int day = 0; day < WEEKDAYS; day++)
                    c.hour[a][day][day % 2] = 18;
            c.hour[who][1][1] = 0;
            for (int a = 0; a < people; a++)
                for (int day = 0; day < WEEKDAYS; day++)
                    CU_ASSERT_EQUAL(is_most(&c, a, day, day % 2),
                                    a != who || day != 1);
            assert_club(&c, NULL);
        }
}

/* Week.csv gives it to all, Mew has not logged it, Owl at an hour of their own:
 * Mew has it with the team, Owl has it alone. One's own week drops it. */
static void by_the_week(void) {
    static const char *const who[] = {"Kite", "Mew", "Owl", "Ruff"};
    static const bool team[] = {true, true, false, false};
    start();
    file("sessions.csv", "date,athlete,session,time,load\n"
                         "2026-03-16,Kite,Court,18:00,300\n"
                         "2026-03-16,Lark,court,18:00,280\n"
                         "2026-03-16,Rook,Court,18:00,280\n"
                         "2026-03-16,Teal,Court,18:00,280\n"
                         "2026-03-17,Mew,Gym,08:00,200\n"
                         "2026-03-16,Owl,Court,08:00,200\n"
                         "2026-03-16,Ruff,Court,18:00,200\n");
    file("week.csv", "weekday,session,athlete,load\nmon,Court,,300\n"
                     "mon,off,Ruff,\n");
    look();
    for (int i = 0; i < 4; i++) {
        PlannedSession sessions[USUAL_MOST];
        build_usual(who[i]);
        assert_no_errors();
        CU_ASSERT_EQUAL(usual_day(&usual, march(23), sessions), i < 3);
        CU_ASSERT(i == 3 || sessions[0].team == team[i]);
        usual_free(&usual);
    }
    stop();
}

static const TestCase cases[] = {
    {"one_length_for_all", one_length_for_all},
    {"together_by_time", together_by_time},
    {"together_by_squad", together_by_squad},
    {"counted_from_the_hours", counted_from_the_hours},
    {"dropped_by_one", dropped_by_one},
    {"by_the_week", by_the_week},
    {NULL, NULL}};

const TestSuite suite_season_together = {"season", cases};
