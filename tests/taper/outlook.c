/* outlook: windows and planned loads, by hand and of random seasons.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "hand.h"
#include "reckoned.h"
#include "test.h"
#include "world.h"

#include "taper/outlook.h"

#include <gsl/gsl_rng.h>
#include <math.h>

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

/* No week.csv: two sessions a week, as in the log, the Monday that comes back
 * and of the others the later; no event: it ends with the log. */
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
    check_day(&h.outlook, day_of(2026, 3, 18), 0, 0);
    check_day(&h.outlook, day_of(2026, 3, 22), 0, 70.5); /* after the event */
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

static const TestCase cases[] = {
    {"outlook", test_outlook},
    {"outlook_today", test_outlook_today},
    {"outlook_other_event", test_outlook_other_event},
    {"outlook_event_load", test_outlook_event_load},
    {"outlook_from_log", test_outlook_from_log},
    {"outlook_clock", test_outlook_clock},
    {"outlook_no_clock", test_outlook_no_clock},
    {"outlook_random", test_outlook_random},
    {NULL, NULL}};

const TestSuite suite_taper_outlook = {"taper", cases};
