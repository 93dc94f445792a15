/* usual: the usual week, from week.csv and from the log.
 *
 * Sums and medians were made by hand from the log beside them. 2026-03-02 is a
 * Monday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "base/text.h"
#include "season/daily.h"
#include "season/names.h"
#include "season/season.h"
#include "season/usual.h"

#include <math.h>
#include <stdio.h>

/* The sessions of a day as "name load,name load". */
static void assert_day(Date date, const char *wanted) {
    PlannedSession sessions[USUAL_MOST];
    size_t count = usual_day(&usual, date, sessions);
    Text text = {0};
    for (size_t i = 0; i < count; i++)
        text_add(&text, "%s%s %.10g%s", i ? "," : "", sessions[i].session,
                 sessions[i].load, sessions[i].keep ? " kept" : "");
    ASSERT_TEXT(text_of(&text), wanted);
    text_free(&text);
}

static void read_week(const char *week) {
    start();
    file("sessions.csv", week_log);
    file("week.csv", week);
    look();
}

static const char whole_week[] =
    "weekday,session,athlete,kind,minutes,rpe,load,keep\n" /* 1 */
    "mon,squats,,gym,70,6,,\n"                             /* 420 */
    "Tue,drills,,skill,90,9,155.5,yes\n" /* the load column goes first */
    "WED,SQUATS,,gym,40,,,\n"            /* median of the session */
    "thu,benches,,gym,,,,\n"             /* median of the kind */
    "fri,squats,,gym,70,6,,\n"
    "fri,Squats,Kite,gym,20,6,,\n" /* hers in place of everyone's */
    "fri,walk,,mobility,,,12.5,yes\n"
    "sat,off,,,,,,\n"
    "2026-03-16,camp,,match,90,7,,\n"      /* Monday, everyone */
    "2026-03-18,off,Lark,,,,,\n"           /* Wednesday */
    "2026-03-20,camp,Kite,match,90,8,,\n"; /* Friday */

static void week_for_kite(void) {
    read_week(whole_week);
    build_usual("Kite");
    assert_no_errors();
    CU_ASSERT(season->week_count > 0);
    assert_day(march(9), "squats 420");
    assert_day(march(10), "drills 155.5 kept");
    assert_day(march(11), "SQUATS 340");
    assert_day(march(12), "benches 330");
    assert_day(march(13), "Squats 120,walk 12.5 kept");
    assert_day(march(14), "");
    assert_day(march(15), "");
    assert_day(march(16), "camp 630");
    assert_day(march(18), "SQUATS 340");
    assert_day(march(20), "camp 720");
    assert_day(march(23), "squats 420");
    /* 420 + 155.5 + 340 + 330 + 132.5 */
    ASSERT_NEAR(usual_week_load(&usual), 1378, 1e-12);
    usual_free(&usual);
    stop();
}

static void week_for_lark(void) {
    read_week(whole_week);
    build_usual("Lark");
    assert_no_errors();
    assert_day(march(11), "SQUATS 120");
    assert_day(march(12), "benches 120");
    assert_day(march(13), "squats 420,walk 12.5 kept");
    assert_day(march(16), "camp 630");
    assert_day(march(18), "");
    assert_day(march(20), "squats 420,walk 12.5 kept");
    /* 420 + 155.5 + 120 + 120 + 432.5 */
    ASSERT_NEAR(usual_week_load(&usual), 1248, 1e-12);
    usual_free(&usual);
    stop();
}

static void week_fields(void) {
    PlannedSession sessions[USUAL_MOST];
    read_week("weekday,session,athlete,kind,minutes,rpe,load,keep\n"
              "mon,squats,,gym,70,6.5,,\nmon,walk,Lark,mobility,,,12.5,yes\n"
              "2026-03-17,OFF,,,,,,\n");
    CU_ASSERT_EQUAL_FATAL(season->week_count, 3);
    CU_ASSERT_EQUAL(season->week[0].weekday, 0);
    CU_ASSERT_EQUAL(season->week[0].date, DATE_NONE);
    CU_ASSERT_EQUAL(season->week[0].athlete, NAMES_NONE);
    CU_ASSERT_FALSE(season->week[0].keep || season->week[0].off);
    CU_ASSERT_EQUAL(season->week[1].athlete, index_of("Lark"));
    CU_ASSERT_TRUE(season->week[1].keep);
    CU_ASSERT_EQUAL(season->week[2].weekday, -1);
    CU_ASSERT_EQUAL(season->week[2].date, march(17));
    CU_ASSERT_TRUE(season->week[2].off);
    CU_ASSERT_EQUAL(season->week[2].line, 4);
    build_usual("Kite");
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(9), sessions), 1);
    CU_ASSERT_EQUAL(sessions[0].kind, KIND_GYM);
    ASSERT_NEAR(sessions[0].minutes, 70, 0);
    ASSERT_NEAR(sessions[0].rpe, 6.5, 0);
    ASSERT_NEAR(sessions[0].load, 455, 0);
    usual_free(&usual);
    stop();
}

/* Neither a session nor a kind of the log; for Lark also the skill session. */
static void week_of_a_team(void) {
    PlannedSession sessions[USUAL_MOST];
    read_week("weekday,session,kind,minutes,least_minutes,rpe,team\n"
              "mon,drills,skill,70,45,6.5,yes\nmon,squats,gym,50,,5,no\n");
    build_usual("Kite");
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(9), sessions), 2);
    ASSERT_NEAR(sessions[0].least_minutes, 45, 0);
    CU_ASSERT_TRUE(sessions[0].team);
    CU_ASSERT_TRUE(isnan(sessions[1].least_minutes));
    CU_ASSERT_FALSE(sessions[1].team);
    usual_free(&usual);
    stop();
}

static void week_without_a_load(void) {
    const Note *note;
    read_week("weekday,session,kind,load\nmon,scrum,match,\n"
              "tue,drills,skill,\nwed,squats,gym,\nthu,dance,other,5.5\n");
    assert_no_errors();
    build_usual("Kite");
    CU_ASSERT_EQUAL(notes.errors, 1);
    note = test_note(&notes, "'scrum'");
    assert_place(note, "error week.csv:2: load");
    ASSERT_HAS(note ? note->text : NULL, "Kite");
    ASSERT_HAS(note ? note->text : NULL, "expected a load, minutes and rpe");
    usual_free(&usual);
    build_usual("Lark");
    CU_ASSERT_EQUAL(notes.errors, 3);
    assert_place(test_note(&notes, "'drills'"), "error week.csv:3: load");
    usual_free(&usual);
    stop();
}

/* 4 x 6 x 82.5 kg + 3 x 10 x 45 lb (x 0.45359237) = 1980 + 612.3496995; a
 * percentage alone adds nothing. The log's own volume is 2 x 5 x 61 = 610. */
static void week_by_volume(void) {
    start();
    file("sessions.csv", "date,session,sets,reps,kg\n2026-03-02,legs,2,5,61\n"
                         "2026-03-02,arms,2,5,17.5\n");
    file("week.csv", "weekday,session\nmon,legs\ntue,arms\n");
    file("exercises.csv", "session,exercise,sets,reps,kg,lb,percent_1rm,keep\n"
                          "Legs,squat,4,6,82.5,,,\nlegs,lunge,3,10,,45,,yes\n"
                          "legs,press,5,5,,,72.5,no\n");
    look();
    build_usual("athlete");
    assert_no_errors();
    assert_day(march(9), "legs 2592.3497"); /* 2592.3496995 */
    assert_day(march(10), "arms 175");
    ASSERT_NEAR(usual_week_load(&usual), 2767.3496995, 1e-12);
    usual_free(&usual);
    stop();
}

static void exercises_file(void) {
    const Exercise *x;
    read_with("exercises.csv",
              "reps,sets,exercise,session,kg,lb,percent_1rm,keep\n"
              "6,4,squat,legs,82.5,,,\n10,3,lunge,legs,,45,,yes\n"
              "5,5,press,arms,,,72.5,no\n");
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(season->exercise_count, 3);
    x = season->exercises;
    ASSERT_TEXT(x[0].session, "legs");
    ASSERT_TEXT(x[0].exercise, "squat");
    ASSERT_NEAR(x[0].sets, 4, 0);
    ASSERT_NEAR(x[0].reps, 6, 0);
    ASSERT_NEAR(x[0].kg, 82.5, 0);
    CU_ASSERT_TRUE(isnan(x[0].percent) && !x[0].keep);
    ASSERT_NEAR(x[1].kg, 20.41165665, 1e-12); /* 45 lb */
    CU_ASSERT_TRUE(x[1].keep);
    CU_ASSERT_TRUE(isnan(x[2].kg) && !x[2].keep);
    ASSERT_NEAR(x[2].percent, 72.5, 0);
    CU_ASSERT_EQUAL(x[2].line, 4);
    stop();
}

/* 35 days from Monday 2 February; the first week is not among the last 28.
 * Monday (310 + 290 + 331 + 0)/4, Wednesday (120 + 0 + 180 + 60)/4, Friday
 * 77/4, Sunday (55 + 45.5)/4. */
/* Full weeks of 2715, 485, 367, 511 and 105.5: their median is 485, so the last
 * one is far below. Ten sessions in the four others make 2.5 a week, three in
 * whole numbers: the four Mondays, the three Wednesdays, then the two Fridays.
 * Median of 903, 310, 290, 331; of 905, 120, 180; of 907, 77. */
static void usual_week_from_the_log(void) {
    read_log("date,load\n2026-02-02,903\n2026-02-04,905\n2026-02-06,907\n"
             "2026-02-09,310\n2026-02-11,120\n2026-02-15,55\n"
             "2026-02-16,290\n2026-02-20,77\n2026-02-23,331\n"
             "2026-02-25,180\n2026-03-04,60\n2026-03-08,45.5\n");
    build_usual("athlete");
    assert_no_errors();
    CU_ASSERT_FALSE(usual.written);
    CU_ASSERT_EQUAL(usual.draft.days, 28);
    ASSERT_NEAR(usual.draft.week_load, 498, 1e-12);
    assert_day(march(9), "usual training 320.5");
    assert_day(march(10), "");
    assert_day(march(11), "usual training 180");
    assert_day(march(13), "usual training 492");
    assert_day(march(15), "");
    ASSERT_NEAR(usual_week_load(&usual), 992.5, 1e-12);
    usual_free(&usual);
    stop();
}

/* Four days only, of which one is not recorded. */
static void usual_week_from_a_short_log(void) {
    read_log("date,load\n2026-03-02,310.5\n2026-03-03,\n2026-03-05,88\n");
    build_usual("athlete");
    assert_no_errors();
    CU_ASSERT_EQUAL(usual.draft.days, 3);
    assert_day(march(9), "usual training 310.5");
    assert_day(march(10), "");
    assert_day(march(12), "usual training 88");
    usual_free(&usual);
    stop();
}

/* Sessions as they are called, with their kind, minutes and rating; two of one
 * name on a day; every other week's second session falls out behind what comes
 * back each week. 75 x 6 = 450; 20 x 3 = 60; 45 x 5 = 225, and again. */
static void usual_week_of_sessions(void) {
    PlannedSession sessions[USUAL_MOST];
    read_log("date,time,session,kind,minutes,rpe\n"
             "2026-03-02,18:00,Drills,skill,80,6\n"
             "2026-03-02,17:00,Stretching,mobility,20,3\n"
             "2026-03-05,09:00,Gym,gym,45,5\n2026-03-05,17:00,Gym,gym,45,5\n"
             "2026-03-08,,Match,match,,\n"
             "2026-03-09,18:00,Drills,skill,70,6\n"
             "2026-03-09,17:00,Stretching,mobility,20,3\n"
             "2026-03-12,09:00,Gym,gym,45,5\n2026-03-12,17:00,Gym,gym,45,5\n"
             "2026-03-14,,Swim,other,30,2\n2026-03-15,,Swim,other,31,2\n"
             "2026-03-16,17:00,Stretching,mobility,20,3\n"
             "2026-03-16,18:00,Drills,skill,75,6\n"
             "2026-03-19,09:00,Gym,gym,45,5\n2026-03-19,17:00,Gym,gym,45,5\n"
             "2026-03-22,,Rest,other,0,0\n");
    build_usual("athlete");
    CU_ASSERT_EQUAL(usual.draft.days, 14);
    assert_day(march(23), "Stretching 60 kept,Drills 435");
    assert_day(march(26), "Gym 225,Gym 225");
    assert_day(march(28), "");
    assert_day(march(29), "Swim 62");
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(23), sessions), 2);
    CU_ASSERT_EQUAL(sessions[1].kind, KIND_SKILL);
    ASSERT_NEAR(sessions[1].minutes, 72.5, 0);
    ASSERT_NEAR(sessions[1].rpe, 6, 0);
    usual_free(&usual);
    stop();
}

/* Twelve weeks at 300 four times a week, the last two of them ill: the weeks
 * before those tell what is usual. */
static void usual_week_without_illness(void) {
    Text log = {0};
    char day[DATE_TEXT];
    text_add(&log, "date,load\n");
    for (int week = 0; week < 12; week++)
        for (int k = 0; k < 7; k += 2)
            text_add(&log, "%s,%d\n", date_write(day, march(2) + 7 * week + k),
                     week < 10 ? 300 : 40);
    read_log(text_of(&log));
    build_usual("athlete");
    ASSERT_NEAR(usual_week_load(&usual), 1200, 1e-12);
    ASSERT_NEAR(usual.draft.week_load, 1200, 1e-12);
    usual_free(&usual);
    stop();
    text_free(&log);
}

static const char usual_log[] =
    "date,athlete,session,load\n2026-03-02,Ada,Gym,310\n2026-03-04,Ada,Run,"
    "205\n"
    "2026-03-08,Ada,Match,415\n2026-03-02,Bea,Gym,330\n2026-03-06,Bea,Run,110\n"
    "2026-03-08,Bea,Match,425\n";

static void read_usual(const char *week) {
    start();
    file("sessions.csv", usual_log);
    file("week.csv", week);
    look();
    assert_no_errors();
}

/* Rows of dates alone change those days. */
static void week_of_dates_alone(void) {
    read_usual("weekday,session,athlete,load\n2026-03-11,off,,\n"
               "2026-03-16,Camp,,510\n2026-03-18,off,Bea,\n");
    build_usual("Ada");
    CU_ASSERT_FALSE(usual.written);
    assert_day(march(9), "Gym 310");
    assert_day(march(11), "");
    assert_day(march(15), "Match 415");
    assert_day(march(16), "Camp 510");
    assert_day(march(18), "Run 205");
    ASSERT_NEAR(usual_week_load(&usual), 930, 1e-12);
    usual_free(&usual);
    build_usual("Bea");
    assert_day(march(13), "Run 110");
    assert_day(march(16), "Camp 510");
    assert_day(march(18), "");
    usual_free(&usual);
    CU_ASSERT_EQUAL(notes.count, 0);
    stop();
}

/* Rows of one athlete leave the others' weeks as they are. */
static void week_of_one_athlete(void) {
    read_usual("weekday,session,athlete,load\ntue,Swim,Bea,95\n");
    build_usual("Ada");
    assert_day(march(9), "Gym 310");
    assert_day(march(10), "");
    usual_free(&usual);
    build_usual("Bea");
    CU_ASSERT_TRUE(usual.written);
    assert_day(march(9), "");
    assert_day(march(10), "Swim 95");
    usual_free(&usual);
    stop();
}

/* A weekday off clears it and no other day. */
static void week_with_a_day_off(void) {
    read_usual("weekday,session,athlete,load\nsun,off,,\n");
    build_usual("Ada");
    assert_day(march(9), "Gym 310");
    assert_day(march(15), "");
    usual_free(&usual);
    stop();
}

/* Off for everyone clears what is everyone's; with a name, all of that day. */
static void week_off_and_names(void) {
    read_usual("weekday,session,athlete,load\nmon,Gym,,300\nmon,Swim,Ada,90\n"
               "wed,Run,,200\n2026-03-16,off,,\n2026-03-16,Swim,Ada,95\n"
               "2026-03-18,Camp,,400\n2026-03-18,off,Ada,\n"
               "2026-03-23,off,Ada,\n");
    build_usual("Ada");
    assert_day(march(9), "Gym 300,Swim 90");
    assert_day(march(16), "Swim 95");
    assert_day(march(18), "");
    assert_day(march(23), "");
    usual_free(&usual);
    build_usual("Bea");
    assert_day(march(16), "");
    assert_day(march(18), "Camp 400");
    assert_day(march(23), "Gym 300");
    usual_free(&usual);
    CU_ASSERT_EQUAL(notes.count, 0);
    stop();
}

/* A session of no minutes is none that could be cut. */
static void week_with_no_minutes(void) {
    PlannedSession sessions[USUAL_MOST];
    read_week("weekday,session,kind,minutes,rpe\nmon,squats,gym,70,6\n"
              "wed,Rest,other,0,0\n");
    build_usual("Kite");
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(11), sessions), 1);
    ASSERT_NEAR(sessions[0].load, 0, 0);
    CU_ASSERT_TRUE(isnan(sessions[0].minutes));
    usual_free(&usual);
    stop();
}

/* Rows that do nothing, or twice what they seem to. */
static void week_rows_are_judged(void) {
    static const struct {
        const char *rows, *place, *said;
    } cases[] = {
        {"mon,Gym,,300\nmon,Gym,,300\n", "3",
         "the same as on line 2, and both"},
        {"sun,off,,\nsun,Off,,\n", "3", "on line 2, and once would do"},
        {"mon,Gym,,300\nmon,off,,\n", "2", "since line 3 says 'off'"},
        {"2026-03-11,Run,Ada,95\n2026-03-11,off,Ada,\n", "2",
         "'Run' does not count, since line 3"},
        {"2025-03-12,off,,\n", "2",
         "'2025-03-12' is not after the log, which ends on 2026-03-08"},
        {"2026-03-08,off,Bea,\n", "2", "'2026-03-08' is not after the log"},
        {"2026-04-11,Gym,,300\n", "2",
         "'2026-04-11' is a day of the event 'Cup', whose own load"},
        {"2026-04-12,off,Bea,\n", "2", "'2026-04-12' is a day of the event"},
        {"2026-04-13,Gym,,300\n", "2",
         "'2026-04-13' is after the last event, 'Cup'"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char place[100];
        Text week = {0};
        start();
        file("sessions.csv", usual_log);
        file("events.csv", "event,start,days\nCup,2026-04-11,2\n");
        text_add(&week, "weekday,session,athlete,load\n%s", cases[i].rows);
        file("week.csv", text_of(&week));
        look();
        assert_no_errors();
        CU_ASSERT_EQUAL(notes.count, 1);
        snprintf(place, sizeof place, "warning week.csv:%s: weekday",
                 cases[i].place);
        assert_place(test_note(&notes, cases[i].said), place);
        text_free(&week);
        stop();
    }
}

/* What others log says nothing of an athlete's own days. */
static void log_that_ends_early(void) {
    static const char *const mates[] = {"", "2026-03-15,Bea,Gym,330\n"};
    for (int i = 0; i < 2; i++) {
        Text log = {0};
        Daily d;
        text_add(&log, "%s2026-03-10,Ada,Gym,305\n%s", usual_log, mates[i]);
        start();
        file("sessions.csv", text_of(&log));
        look();
        daily_build(season, index_of("Ada"), false, &d);
        CU_ASSERT_EQUAL(d.days, 9);
        daily_free(&d);
        build_usual("Ada");
        usual_free(&usual);
        CU_ASSERT_EQUAL(
            count_notes(LEVEL_WARNING,
                        "the log of 'Ada' ends on 2026-03-10, 5 days before"),
            (size_t)i);
        text_free(&log);
        stop();
    }
}

/* Off Mon 16 to Sun 22 March, a return over six days: two at a half, two at
 * three quarters, two whole, no match in it. */
static void week_with_an_absence(void) {
    PlannedSession some[USUAL_MOST];
    Date day = date_of((Civil){2026, 3, 14});
    start();
    file("sessions.csv", usual_log);
    file("absences.csv", "athlete,from,to,reason,return_days\n"
                         "Ada,2026-03-16,2026-03-22,illness,6\n");
    file("week.csv", "weekday,session,kind,minutes,rpe,load\n"
                     "mon,Gym,gym,60,5,300\ntue,Cup,match,60,8,480\n"
                     "wed,Gym,gym,60,5,300\nthu,Gym,gym,60,5,300\n"
                     "fri,Gym,gym,60,5,300\nsat,Gym,gym,60,5,300\n");
    look();
    assert_no_errors();
    build_usual("Ada");
    /* Sat 14: whole; Mon 16, Sat 21: off; Mon 23: half; Tue 24: no match;
       Wed 25, Thu 26: three quarters; Fri 27, Sat 28: whole; Tue 31: the match
       again */
    CU_ASSERT_EQUAL(usual_day(&usual, day, some), 1);
    ASSERT_NEAR(some[0].load, 300, 0);
    CU_ASSERT_EQUAL(usual_day(&usual, day + 2, some), 0);
    CU_ASSERT_EQUAL(usual_day(&usual, day + 7, some), 0);
    CU_ASSERT_EQUAL(usual_day(&usual, day + 9, some), 1);
    ASSERT_NEAR(some[0].load, 150, 0);
    ASSERT_NEAR(some[0].minutes, 30, 0);
    CU_ASSERT_EQUAL(usual_day(&usual, day + 10, some), 0);
    for (int k = 11; k <= 13; k++) {
        CU_ASSERT_EQUAL(usual_day(&usual, day + k, some), 1);
        ASSERT_NEAR(some[0].load, k < 13 ? 225 : 300, 0);
    }
    CU_ASSERT_EQUAL(usual_day(&usual, day + 14, some), 1);
    ASSERT_NEAR(some[0].load, 300, 0);
    CU_ASSERT_EQUAL(usual_day(&usual, day + 17, some), 1);
    ASSERT_NEAR(some[0].load, 480, 0);
    usual_free(&usual);
    stop();
}

/* Load and minutes of a day's first session; 0: none. */
static PlannedSession first_of(Date date) {
    PlannedSession some[USUAL_MOST];
    some[0] = (PlannedSession){0};
    usual_day(&usual, date, some);
    return some[0];
}

#define BLOCK_WEEK                                                             \
    "weekday,session,kind,minutes,least_minutes,rpe,load,keep\n"               \
    "mon,Gym,gym,60,,5,300,\ntue,Cup,match,60,,8,480,\n"                       \
    "wed,Skill,skill,60,45,5,300,\nthu,Care,gym,30,,2,60,yes\n"                \
    "2026-03-20,Test,other,60,,5,300,\n"

/* A build that rises by a tenth a week, then a deload of Ada's own. */
static void week_with_blocks(void) {
    Date day = date_of((Civil){2026, 3, 16}); /* a Monday */
    start();
    file("sessions.csv", usual_log);
    file("blocks.csv", "start,weeks,block,volume,rise,athlete\n"
                       "2026-03-16,3,build,80,10,\n"
                       "2026-03-30,1,deload,50,,Ada\n");
    file("week.csv", BLOCK_WEEK);
    look();
    assert_no_errors();
    build_usual("Ada");
    /* 80, 88 %, then Ada's 50 in place of the 96.8 for everyone */
    ASSERT_NEAR(first_of(day).load, 240, 1e-9);
    ASSERT_NEAR(first_of(day).minutes, 48, 1e-9);
    ASSERT_NEAR(first_of(day + 7).load, 264, 1e-9);
    ASSERT_NEAR(first_of(day + 14).load, 150, 1e-9);
    ASSERT_NEAR(first_of(day + 21).load, 300, 0);
    /* matches, rows to keep and of a date stay; none below its least */
    ASSERT_NEAR(first_of(day + 1).load, 480, 0);
    ASSERT_NEAR(first_of(day + 3).load, 60, 0);
    ASSERT_NEAR(first_of(day + 4).load, 300, 0);
    ASSERT_NEAR(first_of(day + 16).minutes, 45, 1e-9);
    ASSERT_NEAR(first_of(day + 16).load, 225, 1e-9);
    ASSERT_NEAR(usual_week_load(&usual), 300 + 480 + 300 + 60, 0);
    usual_free(&usual);
    stop();
}

/* A block of 100 % is none, with a written week and with a drafted one. */
static void block_that_changes_nothing(void) {
    static const char *const weeks[] = {BLOCK_WEEK, NULL};
    for (int w = 0; w < 2; w++) {
        PlannedSession some[2][60][USUAL_MOST];
        size_t count[2][60], sessions = 0;
        for (int with = 0; with < 2; with++) {
            start();
            file("sessions.csv", usual_log);
            if (weeks[w])
                file("week.csv", weeks[w]);
            if (with)
                file("blocks.csv", "start,weeks,block,volume\n"
                                   "2026-03-16,6,build,100\n");
            look();
            assert_no_errors();
            build_usual("Ada");
            for (int i = 0; i < 60; i++)
                count[with][i] = usual_day(
                    &usual, date_of((Civil){2026, 3, 14}) + i, some[with][i]);
            usual_free(&usual);
            stop();
        }
        for (int i = 0; i < 60; i++) {
            CU_ASSERT_EQUAL(count[0][i], count[1][i]);
            for (size_t k = 0; k < count[0][i]; k++, sessions++)
                CU_ASSERT_EQUAL(some[0][i][k].load, some[1][i][k].load);
        }
        CU_ASSERT(sessions > 0);
    }
}

static void median_of_sessions(void) {
    read_log(week_log);
    ASSERT_NEAR(usual_median(season, index_of("Kite"), "Squats", 0), 340, 0);
    ASSERT_NEAR(usual_median(season, index_of("Kite"), NULL, KIND_GYM), 330, 0);
    ASSERT_NEAR(usual_median(season, index_of("Lark"), "squats", 0), 120, 0);
    CU_ASSERT_TRUE(isnan(usual_median(season, index_of("Lark"), "drills", 0)));
    CU_ASSERT_TRUE(
        isnan(usual_median(season, index_of("Kite"), NULL, KIND_MATCH)));
    stop();
}

static const TestCase cases[] = {
    {"week_for_kite", week_for_kite},
    {"week_for_lark", week_for_lark},
    {"week_fields", week_fields},
    {"week_of_a_team", week_of_a_team},
    {"week_without_a_load", week_without_a_load},
    {"week_by_volume", week_by_volume},
    {"exercises_file", exercises_file},
    {"usual_week_from_the_log", usual_week_from_the_log},
    {"usual_week_from_a_short_log", usual_week_from_a_short_log},
    {"usual_week_of_sessions", usual_week_of_sessions},
    {"usual_week_without_illness", usual_week_without_illness},
    {"week_of_dates_alone", week_of_dates_alone},
    {"week_of_one_athlete", week_of_one_athlete},
    {"week_with_a_day_off", week_with_a_day_off},
    {"week_off_and_names", week_off_and_names},
    {"week_with_no_minutes", week_with_no_minutes},
    {"week_rows_are_judged", week_rows_are_judged},
    {"week_with_an_absence", week_with_an_absence},
    {"week_with_blocks", week_with_blocks},
    {"block_that_changes_nothing", block_that_changes_nothing},
    {"log_that_ends_early", log_that_ends_early},
    {"median_of_sessions", median_of_sessions},
    {NULL, NULL}};

const TestSuite suite_season_usual = {"season", cases};
