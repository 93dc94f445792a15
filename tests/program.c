/* program: the whole program, run as a user runs it. Every message is a row.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

/* One run. `@` in the arguments stands for the test's folder. Files are
 * NAME|CONTENT; `sessions` is the content of sessions.csv, NULL: a good log. */
typedef struct {
    const char *arguments;
    const char *sessions;
    const char *file; /* NAME|CONTENT or NULL */
    int code;
    const char *err; /* stands in standard error; NULL: standard error empty */
    const char *out; /* stands in standard output; NULL: output empty */
} Row;

/* 42 days from Monday 2026-01-05, 60 min at 5 on weekdays. */
static char good_log[4000];

static void make_good_log(void) {
    size_t at = 0;
    at += (size_t)snprintf(good_log, sizeof good_log,
                           "date,athlete,session,kind,minutes,rpe\n");
    for (int day = 0; day < 42; day++) {
        int date = 5 + day, month = 1;
        if (day % 7 > 4)
            continue;
        if (date > 31) {
            date -= 31;
            month = 2;
        }
        at += (size_t)snprintf(good_log + at, sizeof good_log - at,
                               "2026-%02d-%02d,wing-07,Court,skill,60,5\n",
                               month, date);
    }
}

static void write_files(const Row *row) {
    const char *bar;
    char name[100];
    test_file(0, "sessions.csv", row->sessions ? row->sessions : good_log);
    if (!row->file || strncmp(row->file, "events.csv", 10) != 0)
        test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    if (!row->file)
        return;
    bar = strchr(row->file, '|');
    snprintf(name, sizeof name, "%.*s", (int)(bar - row->file), row->file);
    test_file(2, name, bar + 1);
}

/* Splits at blanks and puts the folder in the place of each @; `~` inside a
 * word is a blank. */
static size_t split(const char *arguments, const char *folder, char **words) {
    size_t count = 0;
    words[count++] = strdup(test_program());
    while (*arguments) {
        size_t length = strcspn(arguments, " ");
        Text word = {0};
        for (size_t i = 0; i < length; i++)
            if (arguments[i] == '@')
                text_add(&word, "%s", folder);
            else
                text_put(&word, arguments[i] == '~' ? " " : arguments + i, 1);
        words[count++] = strdup(text_of(&word));
        text_free(&word);
        arguments += length + (arguments[length] == ' ');
    }
    words[count] = NULL;
    return count;
}

static int run(const char *arguments, const char *folder, char **out,
               char **err) {
    char *words[40];
    size_t count = split(arguments, folder, words);
    int code = test_run((const char *const *)words, out, err);
    for (size_t i = 0; i < count; i++)
        free(words[i]);
    return code;
}

static void check_stream(const char *arguments, const char *stream,
                         const char *wanted) {
    if (wanted)
        ASSERT_HAS(stream, wanted);
    if (!wanted && *stream) {
        char message[600];
        snprintf(message, sizeof message,
                 "%.200s printed <%.300s>, wanted "
                 "nothing",
                 arguments, stream);
        CU_assertImplementation(CU_FALSE, __LINE__, message, __FILE__, "",
                                CU_FALSE);
    }
}

static void run_row(const Row *row) {
    const char *folder = test_folder();
    char *out, *err;
    int code;
    write_files(row);
    code = run(row->arguments, folder, &out, &err);
    if (code != row->code) {
        char message[900];
        snprintf(message, sizeof message, "%.200s: exit %d, wanted %d; %.500s",
                 row->arguments, code, row->code, err);
        CU_assertImplementation(CU_FALSE, __LINE__, message, __FILE__, "",
                                CU_FALSE);
    }
    check_stream(row->arguments, err, row->err);
    check_stream(row->arguments, out, row->out);
    free(out);
    free(err);
    test_folder_done();
}

static void run_rows(const Row *rows) {
    make_good_log();
    for (; rows->arguments; rows++)
        run_row(rows);
}

/* ---- usage: exit 2 ---- */

static void usage(void) {
    static const Row rows[] = {
        {"", NULL, NULL, 2, "no command; 'peakward help' lists them", NULL},
        {"dance", NULL, NULL, 2, "'dance' is not a command", NULL},
        {"help dance", NULL, NULL, 2, "help: 'dance' is not a command", NULL},
        {"taper @ --speed", NULL, NULL, 2,
         "'--speed' is not an option of this command", NULL},
        {"load @ --aim mean", NULL, NULL, 2,
         "'--aim' is not an option of this command", NULL},
        {"taper @ -x", NULL, NULL, 2, "'-x' is not an option", NULL},
        {"taper @ more", NULL, NULL, 2,
         "'more' is one word too many; expected one season folder", NULL},
        {"models extra", NULL, NULL, 2, "'extra' is one word too many", NULL},
        {"taper @ --csv=1", NULL, NULL, 2, "--csv takes no value", NULL},
        {"taper @ --model", NULL, NULL, 2, "--model needs a value", NULL},
        {"taper @ --today 7/3/2026", NULL, NULL, 2,
         "--today: '7/3/2026', expected a date as YYYY-MM-DD", NULL},
        {"taper @ --today 2026-02-30", NULL, NULL, 2,
         "--today: '2026-02-30', expected a date", NULL},
        {"taper @ --aim highest", NULL, NULL, 2,
         "--aim: 'highest', expected first, mean, lowest or last", NULL},
        {"taper @ --format gif", NULL, NULL, 2,
         "--format: 'gif', expected svg, png, pdf or text", NULL},
        {"check @ --dates ymd", NULL, NULL, 2,
         "--dates: 'ymd', expected iso, dmy or mdy", NULL},
        {"check @ --load watts", NULL, NULL, 2,
         "--load: 'watts', expected load, session-rpe, trimp, zones or volume",
         NULL},
        {"check @ --gaps fill", NULL, NULL, 2,
         "--gaps: 'fill', expected rest or typical", NULL},
        {"simulate @ --before now", NULL, NULL, 2,
         "--before: 'now', expected steady, nothing or fit", NULL},
        {"simulate @ --when noon", NULL, NULL, 2,
         "--when: 'noon', expected before or after", NULL},
        {"check @ --map Datum", NULL, NULL, 2,
         "--map: 'Datum', expected OURS=THEIRS", NULL},
        {"check @ --map day=Datum", NULL, NULL, 2,
         "--map: 'day', expected a column of ours before the =", NULL},
        {"compare @ --option 14y50", NULL, NULL, 2,
         "--option: '14y50', expected parts like 14x50", NULL},
        {"compare @ --option 0x50", NULL, NULL, 2,
         "expected a whole number of days from 1 to 120", NULL},
        {"compare @ --option 14x", NULL, NULL, 2,
         "expected a cut in per cent behind the x", NULL},
        {"compare @ --option 14x0-", NULL, NULL, 2,
         "expected the last day's cut behind the sign", NULL},
        {"compare @ --option 14x101", NULL, NULL, 2,
         "expected cuts from 0 to 100 per cent", NULL},
        {"compare @ --option 14x0~~100", NULL, NULL, 2, "expected", NULL},
        {"compare @ --option 7x50;7x75", NULL, NULL, 2,
         "expected a comma between parts", NULL},
        {"compare @ --option =14x50", NULL, NULL, 2,
         "expected a name before the =", NULL},
        {"compare @ --option 1x1,1x1,1x1,1x1,1x1,1x1,1x1,1x1,1x1", NULL, NULL,
         2, "expected at most 8 parts", NULL},
        {"compare @ --option 100x5,100x5", NULL, NULL, 2,
         "expected at most 120 days in all", NULL},
        {"compare @ --option 7x+60", NULL, NULL, 2,
         "expected at most 50 per cent more behind the +, like 21x+20", NULL},
        {"taper @ --models own", NULL, NULL, 2,
         "--models: 'own', expected two to five models, like own,literature",
         NULL},
        {"taper @ --models own,,classic", NULL, NULL, 2,
         "expected two or more models, like own,literature", NULL},
        {"taper @ --models own,nope", NULL, NULL, 1,
         "'nope', expected a model file or one of the names that 'peakward "
         "models' lists",
         NULL},
        {"taper @ --models classic,busso-2003 --quiet", NULL, NULL, 0, NULL,
         "The models disagree"},
        {"taper @ --models own,own --quiet", NULL, NULL, 0, NULL,
         "The models agree"},
        {"taper @ --max-length 0", NULL, NULL, 2,
         "--max-length: '0', expected a whole number from 1 to 60", NULL},
        {"taper @ --max-length 7.5", NULL, NULL, 2, "--max-length: '7.5'",
         NULL},
        {"taper @ --max-cut 120", NULL, NULL, 2,
         "--max-cut: '120', expected per cent from 0 to 100", NULL},
        {"taper @ --min-week-load x", NULL, NULL, 2, "--min-week-load: 'x'",
         NULL},
        {"taper @ --rest-days 15", NULL, NULL, 2,
         "--rest-days: '15', expected a whole number from 0 to 14", NULL},
        {"taper @ --shapes step,wave", NULL, NULL, 2,
         "--shapes: 'wave', expected step, linear, exponential, two-step or "
         "rest",
         NULL},
        {"taper @ --seed -1", NULL, NULL, 2, "--seed: '-1'", NULL},
        {"taper @ --threads 0", NULL, NULL, 2, "--threads: '0'", NULL},
        {"taper @ --out=", NULL, NULL, 2, "--out: '', expected a folder", NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static void help(void) {
    static const Row rows[] = {
        {"help", NULL, NULL, 0, NULL, "peakward COMMAND [SEASON]"},
        {"--help", NULL, NULL, 0, NULL, "peakward COMMAND [SEASON]"},
        {"--version", NULL, NULL, 0, NULL, "peakward "},
        {"help taper", NULL, NULL, 0, NULL, "--max-length DAYS"},
        {"taper --help", NULL, NULL, 0, NULL, "--max-length DAYS"},
        {"taper no-such-folder --help", NULL, NULL, 0, NULL, "--max-cut"},
        {"help load", NULL, NULL, 0, NULL, "--weekly"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* ---- the files: exit 1, or 3 where the system says no ---- */

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
         "season folder whose events.csv has a row with event and start; "
         "events there are: 'Cup' (2026-02-01)",
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

/* A folder where a file is wanted, and what cannot be written. */
static void system_says_no(void) {
    const char *folder = test_folder();
    char *out, *err;
    char path[400];
    make_good_log();
    snprintf(path, sizeof path, "%s/sessions.csv", folder);
    CU_ASSERT_EQUAL(mkdir(path, 0777), 0);
    CU_ASSERT_EQUAL(run("load @", folder, &out, &err), 3);
    ASSERT_HAS(err, "sessions.csv: is a folder, expected a CSV file");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(rmdir(path), 0);
    CU_ASSERT_EQUAL(run("load @", folder, &out, &err), 3);
    ASSERT_HAS(err, "sessions.csv: cannot be opened: No such file");
    free(out);
    free(err);
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    CU_ASSERT_EQUAL(
        run("taper @ --out @/sessions.csv/pictures", folder, &out, &err), 3);
    ASSERT_HAS(err, "cannot make this folder: Not a directory");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("taper @ --out @/sessions.csv", folder, &out, &err), 3);
    ASSERT_HAS(err, "is not a folder, expected a folder to write into");
    free(out);
    free(err);
    test_folder_done();
}

/* One megabyte in a cell, and NUL bytes. */
static void odd_bytes(void) {
    const char *folder = test_folder();
    size_t length = 1000000;
    char *big = malloc(length + 100), *out, *err;
    size_t at = (size_t)sprintf(big, "date,load,session\n2026-01-05,10,");
    memset(big + at, 'x', length);
    memcpy(big + at + length, "\n2026-01-06,7,a\n", 17);
    test_file(0, "sessions.csv", big);
    CU_ASSERT_EQUAL(run("load @", folder, &out, &err), 1);
    ASSERT_HAS(err, "sessions.csv:2: a cell of more than 64 kB that begins "
                    "'xxxxxxxxxx");
    free(out);
    free(err);
    test_file_bytes(0, "sessions.csv", "date,load\n2026-01-05,1\0\n", 23);
    CU_ASSERT_EQUAL(run("load @", folder, &out, &err), 1);
    ASSERT_HAS(err, "sessions.csv:2: holds a NUL byte");
    free(out);
    free(err);
    free(big);
    test_folder_done();
}

/* Runs the program with a standard output that cannot be written. */
static int run_into(const char *folder, const char *device, char **err) {
    char *words[] = {(char *)(uintptr_t)test_program(), (char *)"load",
                     (char *)(uintptr_t)folder, NULL};
    posix_spawn_file_actions_t actions;
    FILE *errors = tmpfile();
    pid_t child;
    int outcome = 0;
    size_t length;
    posix_spawn_file_actions_init(&actions);
    if (device)
        posix_spawn_file_actions_addopen(&actions, 1, device, O_WRONLY, 0);
    else
        posix_spawn_file_actions_addclose(&actions, 1);
    posix_spawn_file_actions_adddup2(&actions, fileno(errors), 2);
    CU_ASSERT_EQUAL_FATAL(
        posix_spawn(&child, words[0], &actions, NULL, words, environ), 0);
    posix_spawn_file_actions_destroy(&actions);
    while (waitpid(child, &outcome, 0) < 0 && errno == EINTR)
        ;
    rewind(errors);
    *err = calloc(1, 4096);
    length = fread(*err, 1, 4095, errors);
    (*err)[length] = '\0';
    fclose(errors);
    return WIFEXITED(outcome) ? WEXITSTATUS(outcome) : -1;
}

static void output_lost(void) {
    const char *folder = test_folder();
    char *err;
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    CU_ASSERT_EQUAL(run_into(folder, "/dev/full", &err), 3);
    ASSERT_HAS(err, "standard output cannot be written: No space left");
    free(err);
    CU_ASSERT_EQUAL(run_into(folder, NULL, &err), 3);
    ASSERT_HAS(err, "standard output cannot be written: Bad file descriptor");
    free(err);
    test_folder_done();
}

static void models(void) {
    static const Row rows[] = {
        {"models --csv", NULL, NULL, 0, NULL,
         "model,kind,p0,k1,k2,tau1,tau2,tau_rise,k3,tau3,half_life_fitness,"
         "half_life_fatigue,t_n,t_g,source\n"},
        {"models --model nothing-like-it", NULL, NULL, 1,
         "--model: 'nothing-like-it', expected a model file or one of the "
         "names that 'peakward models' lists",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,three-component\n", 1,
         "own.csv:2: value: 'three-component', expected two-component or "
         "one-component or delayed or variable-dose",
         NULL},
        {"taper @ --model @/own.csv", NULL, "own.csv|parameter,value\np0,3\n",
         1,
         "own.csv:2: parameter: 'p0', expected the first row to say the kind",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\np0,3\nk1,1\n", 1,
         "own.csv: the parameter 'tau1' is missing, expected one row for it",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\nspeed,3\n", 1,
         "parameter: 'speed', expected kind, p0, k1, k2", NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\ntau2,3\n", 1,
         "parameter: 'tau2', expected only parameters of this kind of model",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,two-component\np0,1\nk1,1\nk2,2\n"
         "tau1,12.5\ntau2,15\n",
         1,
         "tau1 '12.5' is not above tau2 '15', expected fitness to fade more "
         "slowly than fatigue",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\nk1,-1\n", 1,
         "own.csv:3: value: '-1', expected a number from 0 to 1e+09", NULL},
        {"taper @ --model @/own.csv", NULL, "own.csv|name,value\np0,1\n", 1,
         "own.csv:1: parameter: this column is missing, expected a model file",
         NULL},
        {"taper @ --model @/own.csv", NULL, "own.csv|parameter,value\n", 1,
         "own.csv: has no rows, expected a first row 'kind'", NULL},
        {"taper @ --model @/none.csv", NULL, NULL, 3,
         "none.csv: cannot be opened: No such file or directory", NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* The same cells, numbers to nine digits (a file of draws keeps twelve). */
static void test_same_table(const char *a, const char *b) {
    size_t differ = 0;
    while (*a && *b) {
        char *end_a, *end_b;
        double x = strtod(a, &end_a), y = strtod(b, &end_b);
        if (end_a > a && end_b > b) {
            differ += !test_near(x, y, 1e-9);
            a = end_a;
            b = end_b;
        } else {
            differ += *a != *b;
            a++;
            b++;
        }
    }
    CU_ASSERT_EQUAL(differ, 0);
    CU_ASSERT_EQUAL(*a, *b);
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
         "events.csv,2,athlete,warning,'wnig-07' has neither sessions nor a "
         "row"},
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

static void fit(void) {
    static const char *const tests =
        "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
        "2026-01-26,wing-07,Jump,31.9\n2026-02-09,wing-07,Jump,32.3\n";
    static const Row rows[] = {
        {"fit @", NULL, NULL, 1,
         "no athlete has tests to fit; expected rows in tests.csv on days of a "
         "log whose load varies",
         NULL},
        {"fit @ --test Sprint", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n", 1,
         "no athlete has tests named Sprint to fit", NULL},
        {"fit @ --quiet", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n", 0,
         NULL, "1 test cannot tell 5 parameters apart"},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\np0,3\nk1,1\ntau1,9\n"
         "draws,../x.csv\n",
         1, "own.csv:6: value: '../x.csv', expected the name of a file beside",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\np0,3\nk1,1\ntau1,9\n"
         "draws,none.csv\n",
         3, "none.csv: cannot be opened: No such file", NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,delayed\np0,3\nk1,1\nk2,2\ntau1,9\n"
         "tau2,3\ntau_rise,10\n",
         1, "tau1 '9' is not above tau_rise '10', expected fitness to fade",
         NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    const char *folder;
    char *out, *err;
    run_rows(rows);
    /* a model written by fit gives another command the same answer as the
     * tests themselves */
    folder = test_folder();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    test_file(2, "tests.csv", strchr(tests, '|') + 1);
    CU_ASSERT_EQUAL(run("fit @ --out @/out --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "/out/wing-07-model.csv");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("taper @ --csv --quiet", folder, &out, &err), 0);
    {
        char *again;
        free(err);
        CU_ASSERT_EQUAL(
            run("taper @ --csv --quiet --model @/out/wing-07-model.csv", folder,
                &again, &err),
            0);
        test_same_table(out, again);
        free(again);
    }
    free(out);
    free(err);
    test_folder_done();
}

static void lesson(void) {
    static const Row rows[] = {
        {"lesson", NULL, NULL, 2, "lesson: no name given, expected one", NULL},
        {"lesson nonsense", NULL, NULL, 2,
         "lesson: 'nonsense', expected a name that", NULL},
        {"lesson steady deload", NULL, NULL, 2,
         "'deload' is one word too many; expected one lesson", NULL},
        {"lesson steady --model nobody", NULL, NULL, 1,
         "--model: 'nobody', expected a model file or one of the names", NULL},
        {"lesson all --sheets 0", NULL, NULL, 2,
         "--sheets: '0', expected a whole number from 1 to 200", NULL},
        {"lesson all --sheets 3 --out @/out", NULL, NULL, 0, NULL,
         "/out/answers.html"},
        {"lesson steady --sheets 3", NULL, NULL, 2,
         "--sheets: worksheets go with 'lesson all --out DIR'", NULL},
        {"lesson --list", NULL, NULL, 0, NULL, "optimiser"},
        /* classic values: Morton et al. 1990, t_n 15.6 d, t_g 40.3 d */
        {"lesson influence --model classic", NULL, NULL, 0, NULL,
         "training 40 days before (t_g)"},
        {"lesson all --model triathlete-swim", NULL, NULL, 0, NULL,
         "has no fatigue, so there is no"},
        {"lesson all --model calvert", NULL, NULL, 0, NULL, "(t_n) lowers"},
        {"lesson all --model busso-2003", NULL, NULL, 0, NULL,
         "The lines bend"},
        {"lesson tapers --out @/out --format png", NULL, NULL, 0, NULL,
         "/out/lesson-tapers.png"},
        {"lesson all --out @/out", NULL, NULL, 0, NULL, "/out/lecture.html"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static const TestCase cases[] = {{"usage", usage},
                                 {"help", help},
                                 {"logs", logs},
                                 {"mixed_methods", mixed_methods},
                                 {"other_files", other_files},
                                 {"events", events},
                                 {"system_says_no", system_says_no},
                                 {"odd_bytes", odd_bytes},
                                 {"output_lost", output_lost},
                                 {"models", models},
                                 {"slips", slips},
                                 {"fit", fit},
                                 {"lesson", lesson},
                                 {NULL, NULL}};

const TestSuite suite_program = {"program", cases};
