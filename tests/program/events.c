/* events: several events, their sessions and their rules.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define TWO                                                                    \
    "events.csv|event,start,weight\nCup,2026-03-07,1\nTrial,2026-03-17,2\n"

static void event_times(void) {
    static const Row rows[] = {
        {"taper @", NULL,
         "events.csv|event,start,start_time\nCup,2026-03-07,09:00 9h\n", 1,
         "events.csv:2: start_time: '09:00 9h', expected clock times as HH:MM, "
         "up to 10, in order of the day and with blanks between them, like "
         "09:00 15:30",
         NULL},
        {"taper @", NULL,
         "events.csv|event,start,start_time\nCup,2026-03-07,15:30 09:00\n", 1,
         "events.csv:2: start_time: '15:30 09:00', expected clock times", NULL},
        {"taper @", NULL,
         "events.csv|event,start,sessions_per_day,start_time\n"
         "Cup,2026-03-07,3,09:00 15:30\n",
         1,
         "events.csv:2: start_time: '09:00 15:30' names 2 sessions a day, "
         "expected 3 as in sessions_per_day, or the first one's time only",
         NULL},
        {"taper @", NULL,
         "events.csv|event,start,session_minutes\nCup,2026-03-07,0\n", 1,
         "events.csv:2: session_minutes: '0', expected a number from 1 to "
         "600",
         NULL},
        {"taper @", NULL,
         "events.csv|event,start,load_per_day,start_time\n"
         "Cup,2026-03-07,600,09:00 15:30\n",
         0, NULL, "Sat 7 Mar 15:30"},
        {"taper @ --notes", NULL,
         "events.csv|event,start,load_per_day,sessions_per_day,start_time\n"
         "Cup,2026-03-07,600,2,09:00\n",
         0, NULL, "Only the first start_time is given"},
        {"taper @ --notes", NULL,
         "events.csv|event,start,load_per_day,sessions_per_day\n"
         "Cup,2026-03-07,600,2\n",
         0, NULL, "2 sessions a day without a start_time"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static void event_rules(void) {
    static const Row rows[] = {
        {"taper @", NULL,
         "events.csv|event,start,load_per_day,start_time,session_minutes\n"
         "Cup,2026-03-07,600,08:00 12:30 17:00,30\n",
         0,
         "events.csv:2: event: warning: 'Cup': 3 sessions a day, more than the "
         "two a day commonly held to be the most (common practice, no source)",
         "17:00"},
        {"taper @", NULL,
         "events.csv|event,start,load_per_day,start_time,session_minutes\n"
         "Cup,2026-03-07,600,09:00 13:45,60\n",
         0,
         "'Cup': 3 h 45 min of rest between the sessions at 09:00 and 13:45, "
         "under the four hours commonly held to be the least (common "
         "practice, no source)",
         "13:45"},
        {"taper @", NULL,
         "events.csv|event,start,load_per_day,start_time,session_minutes\n"
         "Cup,2026-03-07,600,09:00 14:00,60\n",
         0, NULL, "14:00"},
        {"taper @", NULL,
         "events.csv|event,start,load_per_day,start_time,session_minutes\n"
         "Cup,2026-03-07,600,09:00 14:00,301\n",
         0,
         "'Cup': the session at 09:00 has not ended when the next begins at "
         "14:00",
         "14:00"},
        {"taper @", NULL,
         "events.csv|event,start,days,load_per_day,start_time\n"
         "Cup,2026-03-07,2,600,09:00 20:00\n",
         0,
         "'Cup': 11 h 30 min from the end of one day's last session to 09:00 "
         "the next day if a session lasts 90 min (no session_minutes is "
         "given), under the twelve hours overnight",
         "20:00"},
        {"taper @", NULL,
         "events.csv|event,start,days,load_per_day,start_time\n"
         "Cup,2026-03-07,2,600,09:00 19:30\n",
         0, NULL, "19:30"},
        {"taper @ --heat", NULL,
         "events.csv|event,start,days,load_per_day,start_time\n"
         "Cup,2026-03-07,2,600,09:00 19:30\n",
         0,
         "'Cup': 2 sessions a day in heat: on the first five days of "
         "hot-weather training one session a day, so do this only with "
         "athletes who have had those days; and a day with one session has to "
         "follow one with two, which 2 such days in a row do not allow (common "
         "practice, no source)",
         "19:30"},
        {"check @", NULL,
         "events.csv|event,start,load_per_day,start_time\n"
         "Cup,2026-03-07,600,08:00 12:30 17:00\n",
         0, NULL, "'Cup': 3 sessions a day, more than"},
        {"taper @ --heat", NULL, NULL, 0, NULL, "12x75"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static void joint(void) {
    static const Row rows[] = {
        {"taper @ --event Cup --event Trial", NULL, TWO, 2,
         "--event: 'Trial' is one too many; expected one event, or taper "
         "--joint, which weighs several",
         NULL},
        {"taper @ --joint --event Cup", NULL, TWO, 2,
         "--event: 'Cup' alone, expected two events or more for --joint", NULL},
        {"taper @ --joint --aim lowest", NULL, TWO, 2,
         "--aim: 'lowest' is no sum of days, which --joint needs to weigh "
         "events; expected first, mean or last",
         NULL},
        {"taper @ --joint --models own,literature", NULL, TWO, 2,
         "--models: cannot go with --joint, expected --model", NULL},
        {"taper @ --joint --plans 2", NULL, TWO, 2,
         "--plans: cannot go with --joint, expected one of them", NULL},
        {"plan @ --joint", NULL, TWO, 2,
         "'--joint' is not an option of this command", NULL},
        {"taper @ --joint", NULL, NULL, 1,
         "events.csv: event: one event to come, expected two or more for "
         "--joint",
         NULL},
        {"taper @ --joint --event Cup --event League", NULL, TWO, 1,
         "events.csv: event: --event 'League' is not an event of this season, "
         "expected the name of one",
         NULL},
        {"taper @ --joint", NULL,
         "events.csv|event,start,days\nCup,2026-03-07,3\nTrial,2026-03-09,1\n",
         1,
         "events.csv:3: start: 'Cup' and 'Trial' share days, expected events "
         "one after the other",
         NULL},
        {"taper @ --joint --event Cup --event Old", NULL,
         "events.csv|event,start\nOld,2026-02-01\nCup,2026-03-07\n", 1,
         "events.csv:2: start: 'Old' starts on 2026-02-01, not after today "
         "2026-02-13, expected an event to come, or an earlier --today",
         NULL},
        {"taper @ --joint --event Cup --event Far", NULL,
         "events.csv|event,start\nCup,2026-03-07\nFar,2031-02-01\n", 1,
         "events.csv:3: start: 'Far' starts on 2031-02-01, more than 366 days "
         "after today 2026-02-13, expected an event at most 366 days ahead",
         NULL},
        {"taper @ --joint", NULL,
         "events.csv|event,start\nCup,2026-03-07\nTrial,2026-03-17\n"
         "Far,2031-02-01\n",
         0,
         "events.csv:4: start: warning: 'Far' starts on 2031-02-01, more than "
         "366 days after today, and is left out",
         "Cup, Sat 7 Mar (weight 1) and Trial, Tue 17 Mar (weight 1)"},
        {"taper @ --joint --today 2026-03-06", NULL,
         "events.csv|event,start\nCup,2026-03-07\nTrial,2026-03-08\n", 1,
         "events.csv: event: no day is left to cut before any of the events, "
         "expected one at least two days after today",
         NULL},
        {"taper @ --joint --today 2026-03-06 --quiet", NULL, TWO, 0, NULL,
         "Cup: no day is left to cut before it.\nTrial: from"},
        {"taper @ --joint --csv --quiet", NULL, TWO, 0, NULL,
         "athlete,event,start,weight,option,readiness,low,high,gain,gain_low,"
         "gain_high,no_taper,best,best_gain,alone,alone_gain,gives_up\n"
         "wing-07,Cup,2026-03-07,1,"},
        {"taper @ --event Trial", NULL, TWO, 0,
         "'Cup' lies inside the 28 days before 'Trial', so only 9 days can be "
         "cut; taper --joint weighs both",
         "Trial"},
        {"taper @", NULL, TWO, 0,
         "'Trial' follows 9 days after 'Cup', and this plan does not look at "
         "it; taper --joint weighs both",
         "Cup"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* Readiness on day `at` from 5 January 2026, without training before, by the
 * classic set of Morton, Fitz-Clarke, Banister 1990 (from memory): 300 on
 * weekdays, 6 March cut to a share, 5000 on 7 March. */
static double classic(int at, double share) {
    double sum = 0;
    for (int day = 0; day < at; day++) {
        double age = at - day;
        double load = day == 61 ? 5000 : day % 7 > 4 ? 0 : 300;
        sum += (day == 60 ? share : 1) * load *
               (exp(-age / 45) - 2 * exp(-age / 15));
    }
    return sum;
}

/* Days until readiness is back after an event, reckoned by hand. */
static void after_event(void) {
    char wanted[80], *out, *err;
    const char *folder = test_folder();
    int back = 1;
    while (classic(61 + back, .5) < classic(61, 1))
        back++;
    CU_ASSERT(back > 2 && back < 14);
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv",
              "event,start,load_per_day\nCup,2026-03-07,5000\n");
    test_file(2, "own.csv",
              "parameter,value\nkind,two-component\np0,0\nk1,1\nk2,2\n"
              "tau1,45\ntau2,15\n");
    CU_ASSERT_EQUAL(run("taper @ --model @/own.csv --before nothing "
                        "--max-length 1 --shapes step --max-cut 50 --quiet",
                        folder, &out, &err),
                    0);
    ASSERT_HAS(out, "1x50");
    snprintf(wanted, sizeof wanted, "after %d days,", back);
    ASSERT_HAS(out, wanted);
    free(out);
    free(err);
    test_folder_done();
}

static const TestCase cases[] = {{"event_times", event_times},
                                 {"event_rules", event_rules},
                                 {"joint", joint},
                                 {"after_event", after_event},
                                 {NULL, NULL}};

const TestSuite suite_program_events = {"program", cases};
