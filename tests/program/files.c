/* files: what is wrong with the files of a season: exit 1, with the place.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/text.h"

#include <stdlib.h>
#include <sys/stat.h>

#define LOG "date,load\n"

static void logs(void) {
    static const Row rows[] = {
        {"taper @/nowhere", NULL, NULL, 3,
         "nowhere: cannot be opened: No such file or directory; expected a "
         "season folder or a CSV file",
         NULL},
        {"load @", "", NULL, 1,
         "sessions.csv: is empty, expected a header row with column names",
         NULL},
        {"load @", "date,load\n", NULL, 1,
         "sessions.csv: has a header but no rows, expected one row a session",
         NULL},
        {"load @", "day,load\n2026-01-05,10\n", NULL, 1,
         "sessions.csv:1: date: this column is missing; the header reads "
         "'day', 'load'; expected a column 'date' (or --map date=HEADING)",
         NULL},
        {"load @", "date,minutes\n2026-01-05,10\n", NULL, 1,
         "sessions.csv: no row has a load; expected one of: load; minutes and "
         "rpe",
         NULL},
        {"load @ --load zones", NULL, NULL, 1,
         "no row has a load by --load zones, expected minutes_z1 to "
         "minutes_z5",
         NULL},
        {"load @", LOG "2026-01-05,ten\n", NULL, 1,
         "sessions.csv:2: load: 'ten', expected a number", NULL},
        {"load @", LOG "2026-01-05,-3\n", NULL, 1,
         "sessions.csv:2: load: '-3', expected a number from 0 to 1e+06", NULL},
        {"load @", LOG "2026-01-05,1e999\n", NULL, 1,
         "sessions.csv:2: load: '1e999', expected a number that a computer "
         "can hold",
         NULL},
        {"load @", LOG "2026-01-05,\"1,234\"\n", NULL, 1,
         "load: '1,234', expected a number with a decimal point", NULL},
        {"load @", LOG "2026-01-05,\"1.234,5\"\n", NULL, 1,
         "load: '1.234,5', expected a number without thousands separators",
         NULL},
        {"load @", "date;load\n2026-01-05;1,234\n", NULL, 1,
         "load: '1,234', expected a number that reads one way only", NULL},
        {"load @", LOG "2026-02-30,10\n", NULL, 1,
         "sessions.csv:2: date: '2026-02-30', expected a day that exists",
         NULL},
        {"load @", LOG "05/01/2026,10\n", NULL, 1,
         "date: '05/01/2026', expected a date as YYYY-MM-DD; for other orders "
         "say --dates dmy (day first) or --dates mdy (month first)",
         NULL},
        {"load @ --dates dmy", LOG "5/1/26,10\n", NULL, 1,
         "'5/1/26', expected a date with the year in four digits", NULL},
        {"load @ --dates dmy", LOG "5/13/2026,10\n", NULL, 1,
         "this looks like month first: --dates mdy", NULL},
        {"load @ --dates mdy", LOG "13/5/2026,10\n", NULL, 1,
         "this looks like day first: --dates dmy", NULL},
        {"load @", LOG "45306,10\n", NULL, 1,
         "'45306', expected a date like 2026-03-09; this looks like a "
         "spreadsheet's day number (2024-01-15)",
         NULL},
        {"load @", LOG "monday,10\n", NULL, 1,
         "'monday', expected a date as YYYY-MM-DD", NULL},
        {"load @", LOG ",10\n", NULL, 1, "sessions.csv:2: date: '', expected",
         NULL},
        {"load @", LOG "2026/01/05,10\n", NULL, 1,
         "'2026/01/05', expected a date as YYYY-MM-DD", NULL},
        {"load @", "date,load,time\n2026-01-05,10,25:00\n", NULL, 1,
         "time: '25:00', expected a clock time as HH:MM", NULL},
        {"load @", "date,load,kind\n2026-01-05,10,yoga\n", NULL, 1,
         "kind: 'yoga', expected gym, skill, conditioning, match, mobility or "
         "other",
         NULL},
        {"load @", "date,load,athlete\n2026-01-05,10,\n", NULL, 1,
         "sessions.csv:2: athlete: blank, expected the athlete's name", NULL},
        {"load @", "date,load,athlete\n2026-01-05,10,a\001b\n", NULL, 1,
         "athlete: 'a\\x01b', expected text without control characters", NULL},
        {"load @", "date,minutes,rpe\n2026-01-05,60,11\n", NULL, 1,
         "rpe: '11', expected a number from 0 to 10", NULL},
        {"load @", LOG "2026-01-05,10\n2026-01-06\n", NULL, 1,
         "sessions.csv:3: this row has 1 cells (the first reads '2026-01-06'),"
         " expected 2 as in the header",
         NULL},
        {"load @", LOG "2026-01-05,10,7\n", NULL, 1,
         "this row has 3 cells (the first reads '2026-01-05'), expected 2",
         NULL},
        {"load @", "date,load,Load\n2026-01-05,10,11\n", NULL, 1,
         "sessions.csv:1: load: the heading 'load' stands twice (columns 2 "
         "and 3), expected once",
         NULL},
        {"load @", LOG "2026-01-05,\"10\n2026-01-06,11\n", NULL, 1,
         "sessions.csv:2: a quotation mark opened in this row is never closed",
         NULL},
        {"load @", LOG "2026-01-05,1\"0\n", NULL, 1,
         "sessions.csv:2: a quotation mark where none may stand", NULL},
        {"load @", LOG "2026-01-05,10\xE9\n", NULL, 1,
         "sessions.csv:2: holds bytes that are not UTF-8", NULL},
        {"load @",
         "\xFF\xFE"
         "d",
         NULL, 1,
         "sessions.csv:1: is UTF-16 (\"Unicode text\"), expected UTF-8", NULL},
        {"load @ --map load=Last", NULL, NULL, 1,
         "--map: load: no file here has a column headed 'Last', expected the "
         "heading as it stands in the file",
         NULL},
        {"load @ --today 2025-12-01", NULL, NULL, 1,
         "30 sessions after --today 2025-12-01 are left out; nothing remains, "
         "expected a "
         "later day",
         NULL},
        {"load @ --athlete wing-99", NULL, NULL, 1,
         "--athlete: 'wing-99' is not in this season, expected one of "
         "'wing-07'",
         NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static void mixed_methods(void) {
    static const Row rows[] = {
        {"load @",
         "date,minutes,rpe,sets,reps,kg\n2026-01-05,60,5,,,\n"
         "2026-01-06,,,5,5,80\n2026-01-07,60,6,,,\n",
         NULL, 1,
         "sessions.csv:3: 'athlete' on 2026-01-06 has no load by method "
         "'session-rpe' but would by another, and methods are not mixed; "
         "expected minutes and rpe",
         NULL},
        {"load @ --fill --csv",
         "date,minutes,rpe,sets,reps,kg\n2026-01-05,60,5,,,\n"
         "2026-01-06,,,5,5,80\n2026-01-07,60,6,,,\n",
         NULL, 0, "--fill gave 1 session without a load the athlete's median",
         "athlete,2026-01-06,330\n"},
        {"load @ --csv", LOG "2026-01-05,10\n2026-01-06,\n2026-01-07,12\n",
         NULL, 0,
         "sessions.csv:3: warning: the load of 'athlete' on 2026-01-06 is not "
         "recorded, which is not the same as 0",
         "athlete,2026-01-06,\n"},
        {"simulate @", LOG "2026-01-05,10\n2026-01-06,\n2026-01-07,12\n", NULL,
         1,
         "sessions.csv:3: the load of 'athlete' on 2026-01-06 is not recorded, "
         "which is not the same as 0; expected a number (or --fill",
         NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static void other_files(void) {
    static const Row rows[] = {
        {"load @", NULL, "athletes.csv|athlete\nwing-07\nwing-07\n", 1,
         "athletes.csv:3: athlete: 'wing-07' stands here twice, expected one "
         "row an athlete",
         NULL},
        {"load @", NULL, "athletes.csv|athlete,mass_kg\nwing-07,7\n", 1,
         "mass_kg: '7', expected a number from 20 to 250", NULL},
        {"load @", NULL, "athletes.csv|athlete,hr_rest,hr_max\nx,110,105\n", 1,
         "hr_max: '105', expected more than hr_rest '110'", NULL},
        {"load @", NULL, "athletes.csv|athlete,sex\nx,female\n", 1,
         "sex: 'female', expected f or m", NULL},
        {"load @", NULL, "athletes.csv|athlete,minor\nx,maybe\n", 1,
         "minor: 'maybe', expected no or yes", NULL},
        {"load @", NULL, "athletes.csv|name\nx\n", 1,
         "athletes.csv:1: athlete: this column is missing", NULL},
        {"load @", "date,athlete,minutes,hr_mean\n2026-01-05,x,30,220\n",
         "athletes.csv|athlete,sex,hr_rest,hr_max\nx,f,50,190\n", 1,
         "hr_mean: '220', expected a mean heart rate between the athlete's "
         "hr_rest 50 and hr_max 190",
         NULL},
        {"load @", NULL, "tests.csv|date,test,value\n2026-01-05,Jump,\n", 1,
         "tests.csv:2: value: blank, expected the result of the test", NULL},
        {"load @", NULL,
         "tests.csv|date,test,value,better\n2026-01-05,Jump,30,more\n", 1,
         "better: 'more', expected higher or lower", NULL},
        {"load @", NULL, "tests.csv|date,test,value\n2026-01-05,,30\n", 1,
         "tests.csv:2: test: '', expected some text", NULL},
        {"load @", NULL, "events.csv|event,start,days\nCup,2026-03-07,0\n", 1,
         "events.csv:2: days: '0', expected a number from 1 to 60", NULL},
        {"load @", NULL, "events.csv|event,start,days\nCup,2026-03-07,1.5\n", 1,
         "days: '1.5', expected a whole number from 1 to 60", NULL},
        {"load @", NULL,
         "events.csv|event,start\nCup,2026-03-07\nCup,2026-03-08\n", 1,
         "events.csv:3: event: 'Cup' stands here twice (also on line 2), "
         "expected a name of its own for each event",
         NULL},
        {"load @", NULL, "week.csv|weekday,session\nmonday,Gym\n", 1,
         "weekday: 'monday', expected mon, tue, wed, thu, fri, sat, sun or a "
         "date",
         NULL},
        {"load @", NULL, "week.csv|weekday,session\n2026-02-31,Gym\n", 1,
         "weekday: '2026-02-31', expected a day that exists", NULL},
        {"taper @", LOG "2026-01-05,10\n2026-01-06,12\n",
         "week.csv|weekday,session,kind\nmon,Gym,gym\n", 1,
         "week.csv:2: load: 'Gym' has no load for 'athlete'; expected a load",
         NULL},
        {"load @", NULL,
         "exercises.csv|session,exercise,sets,reps\nGym,Squat,,5\n", 1,
         "exercises.csv:2: sets: blank, expected a number", NULL},
        {"load @", NULL,
         "exercises.csv|session,exercise,sets,reps\nGym,Squat,2.5,5\n", 1,
         "sets: '2.5', expected a whole number from 1 to 100", NULL},
        {"load @", NULL, "exercises.csv|session,exercise,sets\nGym,x,1\n", 1,
         "exercises.csv:1: reps: this column is missing", NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static void events(void) {
    static const Row rows[] = {
        {"taper @", NULL, "events.csv|event,start\nCup,2026-02-01\n", 1,
         "events.csv: event: no event after today, 2026-02-13; expected a "
         "season folder (not a single file) whose events.csv has an event to "
         "come; events there are: 'Cup' (2026-02-01)",
         NULL},
        {"taper @ --event Cup", NULL,
         "events.csv|event,start\nCup,2026-02-01\n", 1,
         "'Cup' starts on 2026-02-01, not after today 2026-02-13; expected an "
         "event to come, or an earlier --today",
         NULL},
        {"taper @", NULL, "events.csv|event,start\nCup,2031-02-01\n", 1,
         "'Cup' starts on 2031-02-01, 1814 days after today 2026-02-13; "
         "expected an event at most 366 days ahead",
         NULL},
        {"taper @ --event League", NULL, NULL, 1,
         "--event 'League' is not an event of this season; expected the name "
         "of an event; events there are: 'Cup' (2026-03-07)",
         NULL},
        {"taper @ --today 2026-03-06", NULL, NULL, 1,
         "wing-07: no day is left to taper in before 'Cup' on 2026-03-07; "
         "expected an event at least two days after today",
         NULL},
        {"taper @ --quiet", NULL, "athletes.csv|athlete\nwing-07\nwing-11\n", 0,
         NULL, "12x75"},
        {"taper @ --athlete wing-11", NULL,
         "athletes.csv|athlete\nwing-07\nwing-11\n", 1,
         "'wing-11' has no sessions, expected an athlete with a log", NULL},
        {"taper @", NULL, "athletes.csv|athlete\nwing-07\nwing-11\n", 0,
         "'wing-11' has no sessions and is left out", "12x75"},
        {"taper @ --max-length 60", NULL, NULL, 0,
         "the log has 40 days, fewer than the longest taper searched (60 "
         "days)",
         "12x75"},
        {"taper @", NULL, "events.csv|event,start,days\nCamp,2026-03-07,3\n", 0,
         "'Camp' lasts 3 days but events.csv gives no load_per_day, so its "
         "own load is taken as 0",
         "Camp"},
        {"simulate @ --option best", NULL, "events.csv|event,start\n", 1,
         "--option best: wing-07 has no event to come, expected an event to "
         "come",
         NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* A log of one session, and one of six days in the last 28. */
#define TWO_LOGS                                                               \
    "date,athlete,load\n2026-02-12,wing-07,300\n2026-02-13,wing-11,300\n"
#define THIN_LOG                                                               \
    "date,athlete,load\n2026-01-05,wing-07,300\n2026-01-20,wing-07,300\n"      \
    "2026-01-24,wing-07,300\n2026-01-28,wing-07,300\n2026-02-02,wing-07,300\n" \
    "2026-02-08,wing-07,300\n2026-02-13,wing-07,300\n"

/* Who stands beside the log but not in it is said by every command that uses
 * what stands there. */
static void strangers(void) {
    static const char listed[] =
        "athletes.csv|athlete,minor\nWing-07,yes\nwing-11,no\n";
    static const char tested[] =
        "tests.csv|date,athlete,test,value\n2026-01-09,wing-07,Jump,30\n"
        "2026-01-23,wing-07,Jump,31\n2026-02-06,wing-07,Jump,31.5\n"
        "2026-02-06,wing-11,Jump,31.5\n";
    static const char alike[] =
        "athletes.csv: athlete: warning: 'Wing-07' has no sessions, but "
        "'wing-07' has; what stands here of 'Wing-07' (minor, mass) is not "
        "used";
    static const char none[] =
        "tests.csv: athlete: warning: 'wing-11' has no sessions\n";
    static const Row rows[] = {
        {"fit @", NULL, listed, 1, alike, NULL},
        {"fit @", NULL, tested, 0, none, "wing-07: 3 tests"},
        {"fit @ --out @/out", NULL, tested, 0, none, "wing-07: 3 tests"},
        {"taper @", NULL, listed, 0, alike, "wing-07"},
        {"taper @", NULL, tested, 0, none, "wing-07"},
        {"taper @ --plans 1", NULL, listed, 1, alike, NULL},
        {"compare @", NULL, listed, 0, alike, "wing-07"},
        {"plan @", NULL, listed, 0, alike, "wing-07"},
        {"simulate @", NULL, tested, 0, none, "wing-07"},
        {"check @", NULL, listed, 0, NULL, "'wing-11' has no sessions"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static void squads_and_changes(void) {
    static const Row rows[] = {
        {"taper @ --plans 0", NULL, NULL, 2,
         "--plans: '0', expected a whole number from 1 to 8", NULL},
        {"taper @ --plans 9", NULL, NULL, 2,
         "--plans: '9', expected a whole number from 1 to 8", NULL},
        {"taper @ --plans two", NULL, NULL, 2,
         "--plans: 'two', expected a whole number from 1 to 8", NULL},
        {"plan @ --plans 2", NULL, NULL, 2, "--plans", NULL},
        {"taper @ --plans 2 --models classic,runners", NULL, NULL, 2,
         "--plans: cannot go with --models, expected one of them", NULL},
        {"taper @ --plans 2", NULL, NULL, 1,
         "--plans: only wing-07 has a log and days before an event, expected "
         "two athletes or more",
         NULL},
        {"taper @ --plans 2", TWO_LOGS, "athletes.csv|athlete\nback-03\n", 0,
         "sessions.csv: athlete: warning: 'back-03' has no sessions and is "
         "left out",
         "Plans for a squad of 2: Cup"},
        {"taper @ --plans 2 --athlete back-03 --athlete wing-07", TWO_LOGS,
         "athletes.csv|athlete\nback-03\n", 1,
         "sessions.csv: athlete: 'back-03' has no sessions, expected an "
         "athlete with a log",
         NULL},
        {"taper @ --plans 2 --quiet --model runners", TWO_LOGS, NULL, 0, NULL,
         "With 1 plan no separate plan is sure to be worth it: everybody"},
        {"taper @ --plans 2 --quiet --model triathlete-swim", TWO_LOGS, NULL, 0,
         NULL,
         "wing-07, wing-11: no taper raises readiness in the model, so have "
         "no part"},
        {"taper @ --missed 14.02.2026", NULL, NULL, 2,
         "--missed: '14.02.2026', expected a date as YYYY-MM-DD, like "
         "2026-03-09",
         NULL},
        {"taper @ --did 2026-02-14", NULL, NULL, 2,
         "--did: '2026-02-14', expected DATE=LOAD, the day's load of 0 or "
         "more in the unit of the log, like 2026-03-09=450",
         NULL},
        {"taper @ --did 2026-02-14=-3", NULL, NULL, 2,
         "--did: '2026-02-14=-3', expected DATE=LOAD", NULL},
        {"taper @ --did 2026-02-14=1e999", NULL, NULL, 2,
         "--did: '2026-02-14=1e999', expected DATE=LOAD", NULL},
        {"taper @ --did 2026-02-30=100", NULL, NULL, 2,
         "--did: '2026-02-30=100', expected DATE=LOAD", NULL},
        {"taper @ --did 2026-02-16=100 --missed 2026-02-16", NULL, NULL, 2,
         "--missed: 2026-02-16 is given twice by --missed or --did, expected "
         "each date once",
         NULL},
        {"taper @ --missed 2026-03-07", NULL, NULL, 1,
         "--missed/--did: 2026-03-07 is no day of the log or of the way to "
         "the event for wing-07, expected a date from 2026-01-05 to "
         "2026-03-06",
         NULL},
        {"plan @ --did 2026-01-04=5", NULL, NULL, 1,
         "--missed/--did: 2026-01-04 is no day of the log or of the way to "
         "the event for wing-07, expected a date from 2026-01-05 to "
         "2026-03-06",
         NULL},
        {"compare @ --event Cup --missed 2026-02-21", NULL,
         "events.csv|event,start,load_per_day\nTrial,2026-02-21,100\n"
         "Cup,2026-03-07,100\n",
         1,
         "--missed/--did: 2026-02-21 is a day of 'Trial', expected its "
         "load_per_day in events.csv to be changed instead",
         NULL},
        {"simulate @ --missed 2026-02-20", NULL, "events.csv|event,start\n", 1,
         "--missed/--did: 2026-02-20 is no day of the log for wing-07, "
         "expected a date from 2026-01-05 to 2026-02-13",
         NULL},
        {"taper @ --missed 2026-02-22", NULL, NULL, 0,
         "wing-07: warning: --missed 2026-02-22 changes nothing: no training "
         "was planned that day",
         "What changes for Cup: Sun 22 Feb nothing."},
        {"taper @ --missed 2026-02-08", NULL, NULL, 0,
         "wing-07: warning: --missed 2026-02-08 changes nothing: no training "
         "was logged that day",
         "never added back"},
        {"compare @ --missed 2026-02-18 --did 2026-02-12=450 --notes", NULL,
         NULL, 0, NULL,
         "Loads as given, not as in the files: 2026-02-12 450, 2026-02-18 0."},
        {"taper @ --only tue,thursday", NULL, NULL, 2,
         "--only: 'tue,thursday', expected days of the week like tue,thu",
         NULL},
        {"taper @ --only ,", NULL, NULL, 2,
         "--only: ',', expected days of the week like tue,thu", NULL},
        {"taper @ --only tue,thu", NULL, NULL, 0, NULL,
         "What changes for Cup: Tue and Thu only, from now on."},
        {"taper @", NULL,
         "week.csv|weekday,session,load\nmon,Court,2000\ntue,Court,1800\n", 0,
         "wing-07: warning: week.csv asks for a load of 3800 a week, 153 % "
         "more than the last four weeks' 1500: that is a change of training, "
         "not a usual week; with so little base a taper changes little",
         "Cup"},
        {"taper @", THIN_LOG, NULL, 0,
         "wing-07: warning: trained on 6 of the last 28 days: with so little "
         "base there is little fatigue to shed, and a taper changes little",
         "Cup"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* What a new user stumbled over: said in words, with the place. */
static void slips(void) {
    static const Row rows[] = {
        {"check @ --csv",
         LOG "2026-01-05,10\n2026-01-06,12\n2026-01-07,11\n2026-01-08,9\n"
             "2026-01-09,10\n2026-01-12,8\n2062-01-13,12\n",
         NULL, 1, NULL,
         "sessions.csv,8,date,error,\"'2062-01-13' lies more than a year from"},
        {"check @ --csv", NULL, "event.csv|event,start\nCup,2026-03-07\n", 0,
         NULL, "not read: 'event.csv' (a season's files are athletes.csv"},
        {"check @ --csv", NULL,
         "events.csv|event,start,athlete\nCup,2026-03-07,wnig-07\n", 0, NULL,
         "events.csv,2,athlete,warning,\"'wnig-07' has neither sessions nor "
         "a row"},
        {"plan @ --option 14x50 --option 7x50", NULL, NULL, 2,
         "--option: '7x50' is one too many; this command takes one, compare "
         "takes several",
         NULL},
        {"taper @ --max-cut 0.5", NULL, NULL, 2,
         "--max-cut: '0.5', expected per cent from 0 to 100, like 50 for half",
         NULL},
        {"taper @ --max-cut 50% --quiet", NULL, NULL, 0, NULL, "x50"},
        {"compare @ --quiet --option 10x100 --option recommended", NULL, NULL,
         0, NULL, "*: outside the limits searched"},
        {"load @ --quiet --athlete WING-07", NULL, NULL, 0, NULL, "wing-07"},
        {"check @ --csv",
         "date,load,athlete\n2026-01-05,10,Ada\n2026-01-06,9,ada\n", NULL, 0,
         NULL, "differ only in letter case; are they one person?"},
        {"load @", "date,load,athlete\n2026-01-05,10,Ada\n2026-01-06,9,Bea\n",
         "tests.csv|date,test,value\n2026-01-05,Jump,30\n", 1,
         "tests.csv:2: athlete: blank, expected the athlete's name, since the "
         "season has 2 athletes",
         NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* Names that are made safe to the same, and one that looks like what tells them
 * apart: each athlete has files of her own. */
static void file_names(void) {
    const char *folder = test_folder();
    char *out, *err;
    struct stat about;
    static const char *const names[] = {"a_-plan.ics", "a_~2-plan.ics",
                                        "a_-2-plan.ics"};
    test_file(0, "sessions.csv",
              "date,athlete,load\n2026-02-02,a?,300\n2026-02-02,a!,300\n"
              "2026-02-02,a_-2,300\n2026-02-04,a?,300\n2026-02-05,a!,200\n"
              "2026-02-06,a_-2,300\n");
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    CU_ASSERT_EQUAL(run("plan @ --quiet --out @/out", folder, &out, &err), 0);
    for (int i = 0; i < 3; i++) {
        Text path = {0};
        text_add(&path, "%s/out/%s", folder, names[i]);
        CU_ASSERT_EQUAL(stat(text_of(&path), &about), 0);
        text_free(&path);
    }
    free(out);
    free(err);
    test_folder_done();
}

static const TestCase cases[] = {{"logs", logs},
                                 {"mixed_methods", mixed_methods},
                                 {"other_files", other_files},
                                 {"events", events},
                                 {"strangers", strangers},
                                 {"squads_and_changes", squads_and_changes},
                                 {"slips", slips},
                                 {"file_names", file_names},
                                 {NULL, NULL}};

const TestSuite suite_program_files = {"program", cases};
