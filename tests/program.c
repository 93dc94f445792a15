/* program: the whole program, run as a user runs it. Every message is a row.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
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

static int run(const char *arguments, const char *folder, char **out,
               char **err) {
    return test_command(arguments, folder, out, err);
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
         "'--speed' is not an option of this command; 'peakward help COMMAND' "
         "lists them",
         NULL},
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
        {"plan @ --plate 0", NULL, NULL, 2,
         "--plate: '0', expected kilograms from 0.1 to 50, like 2.5", NULL},
        {"plan @ --plate two", NULL, NULL, 2, "--plate: 'two', expected", NULL},
        /* t_n = 42 x 7 / 35 x ln 1.14 = 1.1 days: a taper can gain hardly
         * anything, and a session weeks before weighs far more than that */
        {"plan @ --model @/own.csv --quiet", NULL,
         "own.csv|parameter,value\nkind,two-component\np0,3\nk1,1\nk2,1.14\n"
         "tau1,42\ntau2,7\n",
         0, NULL, "usual training ! > 99 %\n"},
        /* the same level in cm: a day of rest before the event is worth
         * 300 x (1.14 e^(-1/7) - e^(-1/42)) = 3.53 of 7357, .048 % (Python) */
        {"taper @ --model @/own.csv --quiet", NULL,
         "own.csv|parameter,value,unit\nkind,two-component,\np0,3,cm\nk1,1,\n"
         "k2,1.14,\ntau1,42,\ntau2,7,\n",
         0, NULL,
         "wing-07: the model promises no more than +0.048 %, less than"},
        {"plan @", NULL, "athletes.csv|athlete,mass_kg\nwing-07,172\n", 0,
         "'wing-07' weighs 172 kg; if that is in pounds, the column is mass_lb",
         "the mass in athletes.csv (172 kg)"},
        {"plan @", NULL,
         "athletes.csv|athlete,mass_kg,mass_lb\nwing-07,80,150\n", 1,
         "athletes.csv:2: mass_lb: '150' is 68.0 kg, expected the 80 of "
         "mass_kg",
         NULL},
        {"check @", NULL, "athletes.csv|athlete,mass_lb\nwing-07,82.5\n", 0,
         NULL, "weighs 37 kg; was that in"},
        {"check @", NULL, "athletes.csv|athlete,mass_lb\nwing-07,70\n", 0, NULL,
         "weighs 32 kg; was that in"},
        {"plan @", NULL, "athletes.csv|athlete,mass_kg\nwing-07,0\n", 1,
         "athletes.csv:2: mass_kg: '0', expected", NULL},
        {"plan @", NULL, "athletes.csv|athlete,mass_kg\nwing-07,9999\n", 1,
         "athletes.csv:2: mass_kg: '9999', expected", NULL},
        {"plan @", NULL, "athletes.csv|athlete,born\nwing-07,2008-13-01\n", 1,
         "athletes.csv:2: born: '2008-13-01', expected", NULL},
        {"plan @ --quiet", NULL,
         "athletes.csv|athlete,mass_kg,born\nwing-07,66,2008-03-08\n", 0, NULL,
         "lasts over 90\n  min: ask your dietitian or physician"},
        {"plan @ --quiet", NULL,
         "athletes.csv|athlete,mass_kg,born\nwing-07,66,2008-03-07\n", 0, NULL,
         "lasts over 90\n  min: 660-790 g/day"},
        {"plan @ --quiet", NULL, "athletes.csv|athlete\nwing-07\n", 0, NULL,
         "10-12 g/day per kg"},
        {"taper @ --build-up 31", NULL, NULL, 2,
         "--build-up: '31', expected per cent from 0 to 30, like 20 for a "
         "fifth "
         "more",
         NULL},
        {"taper @ --build-up 20 --quiet", NULL, NULL, 0, NULL,
         "This model is linear"},
        {"compare @ --option 7x+60", NULL, NULL, 2,
         "expected at most 50 per cent more behind the +, like 21x+20", NULL},
        {"taper @ --models own", NULL, NULL, 2,
         "--models: 'own', expected two to five models, like own,literature",
         NULL},
        {"taper @ --models own,,classic", NULL, NULL, 2,
         "expected two or more models, like own,literature", NULL},
        {"taper @ --model nope --min-week-load 60 --aim lowest", NULL, NULL, 1,
         "'nope', expected a model file or one of the names that", NULL},
        {"taper @ --model nope --csv", NULL, NULL, 1,
         "'nope', expected a model file or one of the names that", NULL},
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
        {"taper @ --min-sessions 2.5", NULL, NULL, 2,
         "--min-sessions: '2.5', expected a whole number from 0 to 50", NULL},
        {"taper @ --no-gym 61", NULL, NULL, 2,
         "--no-gym: '61', expected a whole number from 0 to 60", NULL},
        {"taper @ --max-day-rise -1", NULL, NULL, 2,
         "--max-day-rise: '-1', expected a load of 0 or more", NULL},
        {"taper @ --max-day-rise much", NULL, NULL, 2,
         "--max-day-rise: 'much', expected a load of 0 or more", NULL},
        {"taper @ --max-week-rise 0.5", NULL, NULL, 2,
         "--max-week-rise: '0.5', expected per cent from 0 to 1000", NULL},
        {"taper @ --max-week-rise 1001%", NULL, NULL, 2,
         "--max-week-rise: '1001%', expected per cent from 0 to 1000", NULL},
        {"taper @ --cut-kinds gym,yoga", NULL, NULL, 2,
         "--cut-kinds: 'yoga', expected gym, skill, conditioning, match, "
         "mobility or other",
         NULL},
        {"load @ --no-gym 3", NULL, NULL, 2,
         "'--no-gym' is not an option of this command", NULL},
        {"taper @ --shapes step,wave", NULL, NULL, 2,
         "--shapes: 'wave', expected step, linear, exponential, two-step or "
         "rest",
         NULL},
        {"taper @ --seed -1", NULL, NULL, 2, "--seed: '-1'", NULL},
        {"taper @ --threads 0", NULL, NULL, 2, "--threads: '0'", NULL},
        {"taper @ --out=", NULL, NULL, 2, "--out: '', expected a folder", NULL},
        {"taper @ --csv --part 3/2", NULL, NULL, 2,
         "--part: '3/2', expected a part and the number of parts, like 1/8 ... "
         "8/8",
         NULL},
        {"taper @ --csv --part 1", NULL, NULL, 2, "--part: '1', expected",
         NULL},
        {"taper @ --part 1/1", NULL, NULL, 2,
         "--part: expected --csv with it, whose rows can be put together",
         NULL},
        {"fit @ --no-header", NULL, NULL, 2,
         "--no-header: expected --csv with it", NULL},
        {"taper @ --csv --plans 2 --part 1/1", NULL, NULL, 2,
         "--part: cannot go with --plans, which weighs all athletes", NULL},
        {"check @ --csv --part 1/1", NULL, NULL, 2,
         "'--part' is not an option of this command", NULL},
        {"load @ --csv --part 1/99999", NULL, NULL, 1,
         "--part: 99999 parts of ", NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* Two limits that contradict each other whatever the season. */
static void contradictions(void) {
    static const Row rows[] = {
        {"taper @ --min-week-load 100", NULL, NULL, 2,
         "--min-week-load 100 and --max-cut 75 contradict each other: a week "
         "that keeps all its load leaves nothing to cut; expected less than "
         "100",
         NULL},
        {"taper @ --shapes rest --rest-days 0", NULL, NULL, 2,
         "--shapes rest and --rest-days 0 contradict each other: only rest is "
         "searched and no day may rest; expected another shape, or a day of "
         "rest",
         NULL},
        {"taper @ --max-cut 0 --rest-days 0", NULL, NULL, 2,
         "--max-cut 0 and --rest-days 0 contradict each other: no day may be "
         "cut and none may rest; expected a larger cut",
         NULL},
        {"plan @ --max-cut 0 --shapes step,two-step", NULL, NULL, 2,
         "--max-cut 0 and --shapes step,two-step contradict each other", NULL},
        {"compare @ --max-length 1 --shapes linear", NULL, NULL, 2,
         "--max-length 1 and --shapes linear contradict each other: these "
         "shapes take two days at least; expected a longer taper",
         NULL},
        {"taper @ --cut-kinds gym --no-gym 28", NULL, NULL, 2,
         "--cut-kinds gym and --no-gym 28 contradict each other: there is no "
         "gym left to cut on the days searched; expected fewer days without "
         "gym, or more kinds",
         NULL},
        {"taper @ --cut-kinds gym --no-gym 28 --help", NULL, NULL, 0, NULL,
         "--cut-kinds LIST"},
        {"taper @ --max-cut 0 --quiet", NULL, NULL, 0, NULL, "3x100"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

#define WEEK "week.csv|weekday,session,kind,minutes,rpe,keep\n"

/* Limits against the season: exit 1 with the reason. */
static void limits(void) {
    static const Row rows[] = {
        {"taper @ --min-sessions 6", NULL, NULL, 1,
         "wing-07: --min-sessions 6 leaves no taper to try (in the usual week "
         "the seven days from Sat 28 Feb have 5 sessions); expected a wider "
         "limit",
         NULL},
        {"taper @ --min-sessions 5 --shapes rest", NULL, NULL, 1,
         "--min-sessions 5 and --shapes rest leave no taper to try; expected a "
         "wider limit, one of these two",
         NULL},
        {"taper @ --min-sessions 5 --quiet", NULL, NULL, 0, NULL,
         "keeps at least 5 sessions"},
        /* Monday's 300 after Sunday's rest can be cut to 75 */
        {"taper @ --max-day-rise 74", NULL, NULL, 1,
         "--max-day-rise 74 and --max-cut 75 leave no taper to try (in the "
         "usual week Mon 2 Mar has a load 300 above the day before); expected "
         "a wider limit, one of these two",
         NULL},
        {"taper @ --max-day-rise 300 --quiet", NULL, NULL, 0, NULL,
         "That costs no gain."},
        {"taper @ --max-day-rise 299 --quiet", NULL, NULL, 0, NULL,
         "Training as usual lies outside"},
        /* three sessions of the week before the last are kept */
        {"taper @ --max-week-rise 10 --quiet", NULL,
         WEEK "2026-02-16,Court,skill,10,5,\n2026-02-17,Court,skill,10,5,\n"
              "mon,Court,skill,60,5,yes\ntue,Court,skill,60,5,yes\n"
              "wed,Court,skill,60,5,yes\n",
         1,
         "--max-week-rise 10 leaves no taper to try (in the usual week the "
         "seven days from Sat 21 Feb have",
         NULL},
        {"taper @ --min-sessions 3 --no-gym 7", NULL,
         WEEK "mon,Gym,gym,60,6,\ntue,Court,skill,60,5,\nwed,Gym,gym,60,6,\n"
              "fri,Court,skill,60,5,\n",
         1,
         "--min-sessions 3 leaves no taper to try beside --no-gym 7 (in the "
         "usual week the seven days from Sat 28 Feb have 2 sessions)",
         NULL},
        {"taper @ --no-gym 7", NULL,
         WEEK "mon,Gym,gym,60,6,yes\ntue,Court,skill,60,5,\n", 1,
         "week.csv:2: keep: 'Gym' is marked to stay, but --no-gym 7 takes it "
         "off Mon 2 Mar; expected one of the two",
         NULL},
        {"taper @ --no-gym 7", NULL, NULL, 1,
         "wing-07: --no-gym 7: sessions to come have no kind, since there is "
         "no week.csv; expected one with the column kind",
         NULL},
        {"taper @ --cut-kinds gym", NULL, NULL, 1,
         "wing-07: --cut-kinds gym: sessions to come have no kind, since "
         "there is no week.csv; expected one with the column kind",
         NULL},
        {"taper @ --cut-kinds gym,match", NULL,
         WEEK "mon,Gym,gym,60,6,yes\ntue,Court,skill,60,5,\n"
              "wed,Run,conditioning,20,5,\n",
         1,
         "wing-07: --cut-kinds gym,match: the days searched before the event "
         "have no such session that may be cut; expected one of skill, "
         "conditioning",
         NULL},
        {"taper @ --cut-kinds gym", NULL, WEEK "mon,Gym,gym,60,6,yes\n", 1,
         "may be cut; expected one of a week with sessions that are not kept",
         NULL},
        /* 20 min less 40 % are 12, in steps of 5 min 10 */
        {"plan @ --min-week-load 60 --shapes step --max-cut 40 --quiet", NULL,
         WEEK "mon,Court,skill,20,5,\ntue,Court,skill,20,5,\n"
              "thu,Court,skill,20,5,\nfri,Court,skill,20,5,\n",
         0, NULL,
         "As rounded, the seven days from Sat 28 Feb keep 50 % of their load,"},
        {"compare @ --quiet --option 5x100 --min-sessions 3 --rest-days 7",
         NULL, NULL, 0, NULL, "*: outside the limits searched"},
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
        {"compare @ --missed 2026-02-18 --did 2026-02-12=450", NULL, NULL, 0,
         NULL,
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

/* ---- what a terminal would obey ---- */

/* Red, a line gone back over, U+009B and its byte alone, text turned round, a
 * line break, DEL: in a name, as it stands and as it is shown. */
#define ODD_NAME                                                               \
    "a\x1B[31mb\rc\xC2\x9B"                                                    \
    "1m\x9B"                                                                   \
    "d\xE2\x80\xAE"                                                            \
    "e\nf\x7F"
#define ODD_SHOWN "a\\x1B[31mb c\\xC2\\x9B1m\\x9Bde f\\x7F"

/* Whole characters, and of the control characters line breaks and tabs only;
 * in data a carriage return that a cell holds. */
static bool obeyed(const char *text, bool data) {
    bool found = utf8_check(text, strlen(text)) < strlen(text);
    for (const char *s = text; *s; s++) {
        unsigned char c = (unsigned char)*s;
        found = found || c == 0x7F ||
                (c < 0x20 && c != '\n' && c != '\t' && !(data && c == '\r')) ||
                (c == 0xC2 && (unsigned char)s[1] < 0xA0);
    }
    return found || (!data && strstr(text, "\xE2\x80\xAE"));
}

static void assert_harmless(const char *arguments, const char *folder,
                            int code) {
    char *out, *err, message[2200];
    int got = run(arguments, folder, &out, &err);
    bool data = strstr(arguments, "--csv") != NULL;
    snprintf(message, sizeof message, "%.100s: exit %d: <%.900s> <%.900s>",
             arguments, got, err, out);
    CU_assertImplementation(got == code && !obeyed(out, data) &&
                                !obeyed(err, false),
                            __LINE__, message, __FILE__, "", CU_FALSE);
    free(out);
    free(err);
}

/* Wherever the command line takes words. */
static void odd_words(void) {
    static const struct {
        int code;
        const char *arguments;
    } rows[] = {
        {0, "start @/" ODD_NAME " --today 2026-11-25"},
        {1, "start @/" ODD_NAME},
        {3, "start /dev/null/" ODD_NAME},
        {0, "check @/" ODD_NAME},
        {0, "check @/" ODD_NAME "/sessions.csv"},
        {3, "check @/" ODD_NAME "/nope.csv"},
        {1, "check @/" ODD_NAME "/week.csv"},
        {1, "check @/" ODD_NAME "/week.csv --csv"},
        {0, "load @/" ODD_NAME},
        {0, "simulate @/" ODD_NAME},
        {0, "fit @/" ODD_NAME},
        {0, "taper @/" ODD_NAME},
        {0, "compare @/" ODD_NAME},
        {0, "plan @/" ODD_NAME},
        {0, "report @/" ODD_NAME},
        {1, "taper @/" ODD_NAME " --athlete " ODD_NAME},
        {1, "taper @/" ODD_NAME " --event " ODD_NAME},
        {1, "fit @/" ODD_NAME " --test " ODD_NAME},
        {2, "compare @/" ODD_NAME " --option " ODD_NAME "=14x50"},
        {0, "compare @/" ODD_NAME " --option a\xE2\x80\xAE\r\n=14x50"},
        {2, "compare @/" ODD_NAME " --option " ODD_NAME},
        {1, "check @/" ODD_NAME " --map session=" ODD_NAME},
        {2, "check @/" ODD_NAME " --map " ODD_NAME "=x"},
        {2, "check @/" ODD_NAME " --today " ODD_NAME},
        {2, "check @/" ODD_NAME " --load " ODD_NAME},
        {2, "check @/" ODD_NAME " --" ODD_NAME},
        {2, "check @/" ODD_NAME " -" ODD_NAME},
        {2, "check @/" ODD_NAME " " ODD_NAME},
        {2, "plan @/" ODD_NAME " --out @/" ODD_NAME},
        {2, "plan @/" ODD_NAME " --out @/\xC2\x9B"},
        {0, "plan @/" ODD_NAME " --out @/\x9Bout\xE2\x80\xAE"},
        {0, "fit @/" ODD_NAME " --out @/\x9Bout --format text"},
        {0, "report @/" ODD_NAME " --out @/\x9Bout"},
        {0, "lesson session --out @/\x9Bout"},
        {0, "taper @/" ODD_NAME " --models literature,@/" ODD_NAME ".csv"},
        {1, "models --model " ODD_NAME},
        {3, "models --model @/" ODD_NAME "/model.csv"},
        {1, "models --model @/" ODD_NAME "/week.csv"},
        {1, "taper @/" ODD_NAME " --model @/" ODD_NAME "/week.csv"},
        {2, "lesson " ODD_NAME},
        {2, "help " ODD_NAME},
        {2, ODD_NAME}};
    const char *folder = test_folder();
    char *out, *err, *model = test_read("models/literature.csv", NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(model);
    test_file(0, ODD_NAME ".csv", model);
    free(model);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_harmless(rows[i].arguments, folder, rows[i].code);
    CU_ASSERT_EQUAL(run("start @/" ODD_NAME "2", folder, &out, &err), 0);
    ASSERT_HAS(out, "/" ODD_SHOWN "2/sessions.csv\n");
    ASSERT_HAS(out, ", peakward taper ");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("check @/" ODD_NAME, folder, &out, &err), 0);
    ASSERT_HAS(out, "/" ODD_SHOWN ": 2 athletes");
    free(out);
    free(err);
    setenv("PEAKWARD_HOME", "/" ODD_NAME, 1);
    assert_harmless("models", folder, 3);
    assert_harmless("lesson session --model none", folder, 1);
    unsetenv("PEAKWARD_HOME");
    test_folder_done();
}

/* What files hold: cells may have line breaks and tabs, and nothing else that
 * is obeyed. */
static void odd_cells(void) {
    static const char *const wrong[] = {
        "date,athlete,load\n2026-01-05," ODD_NAME ",5\n",
        "date,athlete,load\n" ODD_NAME ",wing-07,5\n",
        "date,athlete,load,session\n2026-01-05,wing-07,5,\x1B[31m\n",
        "date,athlete,load,kind\n2026-01-05,wing-07,5,\xC2\x9B\n",
        "date,load,\"a\x1B[31m\xC2\x9B\"\n2026-01-05,5,1,2\n",
        "date,load,\"a\x1B[31m\xC2\x9B\"\n2026-01-05,-5,1\n",
        "date,load,\"a\x1B[31m\",\"a\x1B[31m\"\n2026-01-05,5,1,1\n"};
    static const char model[] =
        "parameter,value,spread,unit,source\nkind,two-component,,,\x1B[31m\n"
        "p0,500,,\xC2\x9B,\nk1,1,,,\nk2,2,,,\ntau1,45,,,\ntau2,15,,,\n";
    const char *folder = test_folder();
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        test_file(0, "sessions.csv", wrong[i]);
        assert_harmless("check @", folder, 1);
        assert_harmless("check @ --csv", folder, 1);
        assert_harmless("load @", folder, 1);
    }
    test_file(0, "model.csv", model);
    assert_harmless("models --model @/model.csv", folder, 0);
    assert_harmless("models --model @/model.csv --csv", folder, 0);
    assert_harmless("lesson session --model @/model.csv", folder, 0);
    test_folder_done();
}

/* Cells of more than one line, as a spreadsheet may hold. */
static void odd_lines(void) {
    static const char *const commands[] = {
        "check",         "load",           "simulate",
        "fit",           "taper",          "compare",
        "plan",          "report",         "plan --out @/out",
        "taper --joint", "taper --plans 2"};
    const char *folder = test_folder();
    Text log = {0};
    text_add(&log, "date,athlete,session,minutes,rpe\n");
    for (int day = 1; day <= 28; day++)
        for (int who = 0; who < 2; who++)
            text_add(&log,
                     "2026-02-%02d,\"w\ting\r\n%d\",\"Gym\r\n\tA\",%d,5\n", day,
                     who, 20 + day / 7 * 40);
    test_file(0, "sessions.csv", text_of(&log));
    test_file(1, "events.csv",
              "event,start,days\n\"Cup\r\n1\",2026-03-20,2\n"
              "\"Cup\r\n2\",2026-03-28,1\n");
    test_file(2, "week.csv",
              "weekday,session,kind,minutes,rpe,\"no\r\nte\"\n"
              "mon,\"Gym\r\n\tA\",gym,60,6,x\nthu,\"B\rC\",skill,60,6,x\n");
    test_file(3, "exercises.csv",
              "session,exercise,sets,reps,kg\n"
              "\"Gym\r\n\tA\",\"Bench\r\tpress\",5,5,50\n");
    test_file(4, "tests.csv",
              "date,athlete,test,value\n"
              "2026-02-03,\"w\ting\r\n0\",\"Jump\r\n(cm)\",33\n"
              "2026-02-17,\"w\ting\r\n0\",\"Jump\r\n(cm)\",34\n");
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        char arguments[80];
        size_t word = strcspn(commands[i], " ");
        snprintf(arguments, sizeof arguments, "%.*s @%s", (int)word,
                 commands[i], commands[i] + word);
        assert_harmless(arguments, folder, 0);
    }
    assert_harmless("plan @ --csv", folder, 0);
    text_free(&log);
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
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
         "2026-01-12,wing-07,Jump,31.6\n",
         0, NULL, "2 tests of Jump"},
        {"fit @ --quiet", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-07,wing-07,Jump,31\n"
         "2026-01-12,wing-07,Jump,31\n2026-01-16,wing-07,Jump,31\n"
         "2026-01-20,wing-07,Jump,31\n2026-01-24,wing-07,Jump,31\n"
         "2026-01-30,wing-07,Jump,31\n",
         0, NULL, "These 6 tests all read the same"},
        {"fit @", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
         "2026-01-16,wing-07,Jump,32\n2026-01-20,wing-07,Jump,.32\n",
         0,
         "'Jump' of 'wing-07' on 2026-01-20 is 0.32 where the median is 31.2; "
         "is it in another unit?",
         "3 tests of Jump"},
        {"fit @ --model classic", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
         "2026-05-16,wing-07,Jump,32\n",
         0, "1 test outside the days of the log (2026-05-16) left out",
         "1 test of Jump"},
        {"fit @",
         "date,athlete,load\n2026-01-05,wing-07,0\n"
         "2026-02-05,wing-07,0\n",
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n", 1,
         "the load hardly varies over the log, so the tests tell nothing of "
         "time constants",
         NULL},
        {"taper @ --gaps typical",
         "date,athlete,load\n2026-02-02,wing-07,300\n"
         "2026-02-03,wing-07,300\n2026-02-04,wing-07,300\n"
         "2026-02-05,wing-07,300\n",
         "tests.csv|date,athlete,test,value\n2026-02-03,wing-07,Jump,31.2\n", 0,
         "the load hardly varies over the log, so the tests tell nothing of "
         "time constants; the literature is used alone",
         "Model (default): literature"},
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

/* Of the pictures of a fit: no sign's name falls off the picture. */
static void fit_legends(void) {
    static const char *const names[][2] = {
        {"forecast", "<text>test</text>"},
        {"forecast", "<text>predicted by the model, with its 5-95 % range<"},
        {"forecast", "<text>the test before<"},
        {"residuals", "<text>a test<"},
        {"residuals", "<text>from test to test<"},
        {"residuals", "<text>within 2 sigma"}};
    char *out, *err;
    const char *folder = test_folder();
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "tests.csv",
              "date,test,value\n2026-01-06,Jump height (cm),31.2\n"
              "2026-01-12,Jump height (cm),31.9\n"
              "2026-01-19,Jump height (cm),30.5\n"
              "2026-01-26,Jump height (cm),31.6\n"
              "2026-02-02,Jump height (cm),31.1\n"
              "2026-02-09,Jump height (cm),32.4\n");
    CU_ASSERT_EQUAL(run("fit @ --out @/out --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "-fitted.svg");
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char path[400];
        char *drawn;
        snprintf(path, sizeof path, "%s/out/wing-07-%s.svg", folder,
                 names[i][0]);
        drawn = test_read(path, NULL);
        ASSERT_HAS(drawn, names[i][1]);
        free(drawn);
    }
    free(out);
    free(err);
    test_folder_done();
}

/* ---- several events, their sessions and their rules ---- */

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
        {"taper @", NULL,
         "events.csv|event,start,load_per_day,sessions_per_day,start_time\n"
         "Cup,2026-03-07,600,2,09:00\n",
         0, NULL, "Only the first start_time is given"},
        {"taper @", NULL,
         "events.csv|event,start,load_per_day,sessions_per_day\n"
         "Cup,2026-03-07,600,2\n",
         0, NULL, "2 sessions a day without a start_time"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* A new folder is whole, passes the check, and answers; nothing in it is
 * overwritten. */
static void start(void) {
    static const Row rows[] = {
        {"start", NULL, NULL, 2, "start: no folder given, expected the name",
         NULL},
        {"help --man nope", NULL, NULL, 2, "help: 'nope' is not a command",
         NULL},
        {"start @/a @/b", NULL, NULL, 2,
         "one word too many; expected one folder", NULL},
        {"start @/a --csv", NULL, NULL, 2,
         "'--csv' is not an option of this command", NULL},
        {"start /dev/null/x", NULL, NULL, 3, "/dev/null/x", NULL},
        {"start @ --today 2026-11-25", NULL, NULL, 0,
         "sessions.csv: warning: is there already and stays as it is",
         "week.csv"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    const char *folder;
    char *out, *err, *check;
    run_rows(rows);
    folder = test_folder();
    CU_ASSERT_EQUAL(run("start @/new --today 2026-11-25", folder, &out, &err),
                    0);
    CU_ASSERT_STRING_EQUAL(err, "");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("check @/new --csv", folder, &check, &err), 0);
    CU_ASSERT(strstr(check, "warning") == NULL &&
              strstr(check, "error") == NULL);
    free(check);
    free(err);
    CU_ASSERT_EQUAL(run("taper @/new --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "Example tournament, Wed 23 Dec 2026 (2 days)");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(
        run("plan @/new --option 14x50 --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "Squat: 5 ->");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("start @/new", folder, &out, &err), 1);
    ASSERT_HAS(err, "nothing written, since every file is there");
    free(out);
    free(err);
    test_folder_done();
}

/* A time of builds that is no time is refused before anything is written; a
 * link that leads nowhere is not written through. */
static void start_clock(void) {
    static const char *const bad[] = {"soon", "-5", "1e9", " 7",
                                      "99999999999999999999"};
    const char *folder = test_folder();
    char path[600], *out, *err;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct stat found;
        setenv("SOURCE_DATE_EPOCH", bad[i], 1);
        CU_ASSERT_EQUAL(run("start @/new", folder, &out, &err), 2);
        ASSERT_HAS(err, "SOURCE_DATE_EPOCH: '");
        ASSERT_HAS(err, "expected whole seconds since 1970");
        ASSERT_HAS(err, bad[i]);
        snprintf(path, sizeof path, "%s/new", folder);
        CU_ASSERT_EQUAL(stat(path, &found), -1);
        free(out);
        free(err);
        CU_ASSERT_EQUAL(
            run("plan data/demo --quiet --out @/new", folder, &out, &err), 2);
        CU_ASSERT_EQUAL(stat(path, &found), -1);
        free(out);
        free(err);
    }
    setenv("SOURCE_DATE_EPOCH", "1767225600", 1); /* 2026-01-01 */
    snprintf(path, sizeof path, "%s/week.csv", folder);
    CU_ASSERT_EQUAL_FATAL(symlink("/nowhere/week.csv", path), 0);
    CU_ASSERT_EQUAL(run("start @", folder, &out, &err), 0);
    ASSERT_HAS(err, "week.csv: warning: is there already");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("check @", folder, &out, &err), 3);
    ASSERT_HAS(out, "week.csv");
    unsetenv("SOURCE_DATE_EPOCH");
    free(out);
    free(err);
    test_folder_done();
}

/* Runs the squad's page, with a gnuplot that takes its time, with standard
 * error on a terminal (a pty), and on a pipe. */
static const char watch_progress[] =
    "import os, pty, subprocess, sys\n"
    "program, out = sys.argv[1:3]\n"
    "slow = os.path.join(out, 'gnuplot')\n"
    "with open(slow, 'w') as f:\n"
    "    f.write('#!/bin/sh\\nsleep .3\\nexec /usr/bin/gnuplot \"$@\"\\n')\n"
    "os.chmod(slow, 0o755)\n"
    "os.environ['PATH'] = out + ':' + os.environ['PATH']\n"
    "command = [program, 'report', 'data/demo', '--out', out]\n"
    "piped = subprocess.run(command, capture_output=True)\n"
    "ours, theirs = pty.openpty()\n"
    "child = subprocess.Popen(command, stdout=subprocess.DEVNULL,"
    " stderr=theirs)\n"
    "os.close(theirs)\n"
    "seen = b''\n"
    "while True:\n"
    "    try:\n"
    "        got = os.read(ours, 4096)\n"
    "    except OSError:\n"
    "        break\n"
    "    if not got:\n"
    "        break\n"
    "    seen += got\n"
    "print(child.wait(), piped.returncode)\n"
    "print(b' of 8 athletes drawn' in seen, b's left' in seen)\n"
    "print(seen.endswith(b'\\r\\x1b[K'))\n"
    "print(b'\\r' in piped.stderr or b'athletes drawn' in piped.stderr)\n";

static void progress(void) {
    const char *folder = test_folder();
    const char *program = getenv("PEAKWARD");
    char *seen = test_python(
        watch_progress,
        (const char *[]){program ? program : "build/peakward", folder, NULL});
    ASSERT_TEXT(seen, "0 0\nTrue True\nTrue\nFalse\n");
    free(seen);
    test_folder_done();
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

/* Days without gym are without gym before a change as well: where the change is
 * none, neither readiness nor the plan differs. */
static void changed_within_limits(void) {
    const char *folder = test_folder();
    char *out, *err, was[20] = "", now[20] = "";
    double before = 0, after = 1;
    const char *row;
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    test_file(2, "week.csv",
              "weekday,session,kind,minutes,rpe\n"
              "mon,Court,skill,60,5\nwed,Court,skill,60,5\n"
              "thu,Gym,gym,60,6\nfri,Gym,gym,60,6\n");
    CU_ASSERT_EQUAL(run("taper @ --model classic --no-gym 3 --missed "
                        "2026-03-01 --quiet",
                        folder, &out, &err),
                    0);
    row = strstr(out, "\nwing-07");
    CU_ASSERT_FATAL(row != NULL);
    CU_ASSERT_EQUAL(sscanf(row, " wing-07 %19s %lf %lf %*s %*s %*s %19s", was,
                           &before, &after, now),
                    4);
    CU_ASSERT_STRING_EQUAL(was, now);
    CU_ASSERT_EQUAL(before, after);
    free(out);
    free(err);
    test_folder_done();
}

/* Without a start_time the event week knows no hours. */
static void no_start_time(void) {
    static const Row rows[] = {
        {"plan @ --quiet", NULL, NULL, 0, NULL, "\nSat 7 Mar START\n"},
        {"plan @ --quiet", NULL,
         "events.csv|event,start,start_time\nCup,2026-03-07,10:00\n", 0, NULL,
         "\nSat 7 Mar 10:00 START\n"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* The README's first hour, from the spreadsheet to what is printed. */
static void first_hour(void) {
    static const char heads[] =
        "date=Datum,athlete=Spielerin,session=Einheit,minutes=Dauer (min),"
        "rpe=RPE,ignore=Notiz";
    static const char script[] =
        "import os, shutil, subprocess, sys\n"
        "program, heads, folder = sys.argv[1:4]\n"
        "club, out = folder + '/club', folder + '/printed'\n"
        "os.mkdir(club)\n"
        "shutil.copy('data/first-hour/training.csv', club +"
        " '/sessions.csv')\n"
        "with open(club + '/events.csv', 'w') as f:\n"
        "    f.write('event,start,days,sessions_per_day,load_per_day,"
        "start_time\\nSpring cup,2026-04-18,2,2,700,10:00 16:00\\n')\n"
        "for words in (['check', 'data/first-hour/training.csv'],\n"
        "              ['taper', club],\n"
        "              ['compare', club, '--option', '14x50', '--option',"
        " '3x100'],\n"
        "              ['plan', club, '--out', out],"
        " ['report', club, '--out', out]):\n"
        "    done = subprocess.run([program, *words, '--dates', 'dmy',"
        " '--map', heads], capture_output=True)\n"
        "    print(words[0], done.returncode)\n"
        "print(sorted(os.listdir(out)))\n";
    const char *program = getenv("PEAKWARD");
    const char *folder = test_folder();
    char *seen = test_python(
        script, (const char *[]){program ? program : "build/peakward", heads,
                                 folder, NULL});
    ASSERT_TEXT(seen, "check 0\ntaper 0\ncompare 0\nplan 0\nreport 0\n"
                      "['fl_gel-02-plan-event-week.txt', "
                      "'fl_gel-02-plan.ics', 'fl_gel-02-plan.txt', "
                      "'kreis-06-plan-event-week.txt', 'kreis-06-plan.ics', "
                      "'kreis-06-plan.txt', 'report.html']\n");
    free(seen);
    test_folder_done();
}

/* What athletes carry home (tests/handouts.py). */
static void handouts(void) {
    const char *folder = test_folder();
    char *script = test_read("tests/handouts.py", NULL), *out;
    CU_ASSERT_PTR_NOT_NULL_FATAL(script);
    out = test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(
        out, "cup [('2026-03-28T15:00:00', 60)]\n"
             "trial [('2026-04-10T09:30:00', 75), ('2026-04-10T15:30:00', 75), "
             "('2026-04-11T09:30:00', 75), ('2026-04-11T15:30:00', 75)]\n"
             "unique True\nassumed True\nstable True\n"
             "minors True False True\nstranger True\ninside True\n"
             "legend False\n");
    free(script);
    free(out);
    test_folder_done();
}

/* What missing a session costs, by hand: under the classic set (Morton et al.
 * 1990, from memory) a load a days before the event adds load x (e^(-a/45) - 2
 * e^(-a/15)); the share is that of the ceiling's gain. Weights are rounded to
 * what the bar allows, and a week whose sets fall more than its kilograms is
 * pointed out. */
static const char cost_by_hand[] =
    "import csv, io, math, subprocess, sys\n"
    "from datetime import date\n"
    "program, folder = sys.argv[1:3]\n"
    "def run(*words):\n"
    "    text = subprocess.run([program, *words, '--quiet', '--csv'],"
    " capture_output=True, text=True, check=True).stdout\n"
    "    return list(csv.DictReader(io.StringIO(text)))\n"
    "taper = run('taper', folder, '--model', 'classic')\n"
    "possible = [float(r['gain']) for r in taper if r['tag'] =="
    " 'ceiling'][0]\n"
    "plan = run('plan', folder, '--model', 'classic', '--option', '7x50',"
    " '--plate', '2.5')\n"
    "shown = 0\n"
    "for r in plan:\n"
    "    age = (date(2026, 3, 7) - date.fromisoformat(r['date'])).days\n"
    "    if r['exercise'] or r['keep'] or age < 1:\n"
    "        continue\n"
    "    worth = float(r['load']) * (math.exp(-age / 45) - 2 * math.exp(-age"
    " / 15))\n"
    "    cost = float(r['cost_if_missed'] or 0)\n"
    "    assert abs(cost - max(0, worth) / possible) < 1e-9, r\n"
    "    shown += cost > 0\n"
    "print(shown == 2)  # Monday and Tuesday, 19 and 18 days before\n"
    "print(sorted({float(r['kg']) for r in plan if r['kg']}))\n";

static void plan(void) {
    const char *program = getenv("PEAKWARD");
    const char *folder = test_folder();
    char *seen, *out, *err;
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    test_file(2, "week.csv",
              "weekday,session,kind,minutes,rpe\n"
              "mon,Gym,gym,60,6\ntue,Court,skill,60,5\n"
              "fri,Gym,gym,60,6\n");
    test_file(3, "exercises.csv",
              "session,exercise,sets,reps,kg,keep\nGym,Squat,5,5,101,yes\n"
              "Gym,Curl,6,10,6.1,\n");
    seen = test_python(
        cost_by_hand,
        (const char *[]){program ? program : "build/peakward", folder, NULL});
    ASSERT_TEXT(seen, "True\n[5.0, 100.0]\n");
    free(seen);
    CU_ASSERT_EQUAL(run("plan @ --option 7x75 --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "Curl: 6 -> ");
    ASSERT_HAS(out, "NOTE: fewer sets, but nearly as much weight moved");
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
        {"lesson --play", NULL, NULL, 2,
         "lesson --play: standard input is no terminal, expected one to read "
         "keys from and draw on",
         NULL},
        {"lesson steady --play", NULL, NULL, 2,
         "--play: stands alone or with --model; give no lesson, --out or",
         NULL},
        {"lesson optimiser", NULL, NULL, 0, NULL, "variable-dose twin (tau3"},
        {"lesson optimiser --model triathlete-swim", NULL, NULL, 0, NULL,
         "no fatigue to shed"},
        {"lesson bundle --model triathlete-swim", NULL, NULL, 0, NULL,
         "this kind is too"},
        {"lesson approach --format text --out @/out", NULL, NULL, 0, NULL,
         "/out/lesson-approach.gif"},
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

/* Tests that tell little or nothing, and what is said of them. */
static void poor_tests(void) {
    static const char *const loads[2] = {"0", "300"};
    static char flat[2][2000];
    const Row rows[] = {
        {"fit @ --quiet", NULL,
         "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n"
         "2026-01-12,Jump,31.9\n2026-02-02,Jump,30.5\n",
         0, NULL, "wing-07: 3 tests of Jump"},
        {"fit @ --quiet", NULL,
         "tests.csv|date,test,value\n2026-01-07,Jump,31.2\n"
         "2026-01-12,Jump,31.2\n2026-01-16,Jump,31.2\n"
         "2026-01-21,Jump,31.2\n2026-01-26,Jump,31.2\n"
         "2026-02-02,Jump,31.2\n2026-02-09,Jump,31.2\n",
         0, NULL, "These 7 tests all read the same, so they show no effect of"},
        {"fit @", flat[0], "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n",
         1,
         "the load hardly varies over the log, so the tests tell nothing of "
         "time constants, and this athlete is left out",
         NULL},
        {"fit @", flat[1], "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n",
         1,
         "the load hardly varies over the log, so the tests tell nothing of "
         "time constants, and this athlete is left out",
         NULL},
        {"fit @", NULL,
         "tests.csv|date,test,value,error\n2026-01-12,Jump,31.2,0\n", 1,
         "tests.csv:2: error: '0', expected a number from 1e-09 to 1e+09",
         NULL},
        {"fit @ --quiet", NULL,
         "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n"
         "2026-02-02,Jump,30.5\n",
         0, NULL, "2 tests cannot tell 5 parameters apart, so there is no"},
        {"fit @", NULL, "tests.csv|date,test,value\n2025-12-31,Jump,31.2\n", 1,
         "wing-07: warning: has no tests in the days of the log and is left "
         "out",
         NULL},
        {"fit @ --test Sprint", NULL,
         "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n"
         "2025-12-31,Sprint,3.1\n",
         1,
         "wing-07: warning: has no tests of Sprint in the days of the log and "
         "is left out",
         NULL},
        {"fit @", NULL,
         "tests.csv|date,test,value\n2025-12-31,Jump,31.2\n"
         "2026-01-12,Jump,31.9\n2026-04-02,Jump,30.5\n",
         0,
         "wing-07: warning: 2 tests outside the days of the log (2025-12-31 "
         "the "
         "first) left out",
         "wing-07: 1 test of Jump"},
        {"check @ --csv", NULL,
         "tests.csv|date,test,value\n2026-01-07,Jump,.38\n"
         "2026-01-12,Jump,38\n2026-01-16,Jump,.39\n2026-01-21,Jump,.385\n",
         0, NULL, "is 38 where the median is"},
        {"fit @ --quiet", NULL,
         "tests.csv|date,test,value,error\n2026-01-07,Jump,38,.1\n"
         "2026-01-12,Jump,39,.1\n2026-01-16,Jump,380,.1\n"
         "2026-01-21,Jump,37,.1\n2026-01-26,Jump,38.5,.1\n",
         0, NULL, "look for a slip among the tests"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    for (int i = 0; i < 2; i++) {
        size_t at =
            (size_t)snprintf(flat[i], sizeof flat[i], "date,athlete,load\n");
        for (int day = 5; day < 31; day++)
            at += (size_t)snprintf(flat[i] + at, sizeof flat[i] - at,
                                   "2026-01-%02d,wing-07,%s\n", day, loads[i]);
    }
    run_rows(rows);
}

static const TestCase cases[] = {
    {"usage", usage},
    {"contradictions", contradictions},
    {"limits", limits},
    {"help", help},
    {"logs", logs},
    {"mixed_methods", mixed_methods},
    {"other_files", other_files},
    {"events", events},
    {"event_times", event_times},
    {"event_rules", event_rules},
    {"joint", joint},
    {"after_event", after_event},
    {"strangers", strangers},
    {"squads_and_changes", squads_and_changes},
    {"system_says_no", system_says_no},
    {"odd_bytes", odd_bytes},
    {"odd_words", odd_words},
    {"odd_cells", odd_cells},
    {"odd_lines", odd_lines},
    {"output_lost", output_lost},
    {"models", models},
    {"slips", slips},
    {"fit", fit},
    {"poor_tests", poor_tests},
    {"fit_legends", fit_legends},
    {"lesson", lesson},
    {"first_hour", first_hour},
    {"changed_within_limits", changed_within_limits},
    {"no_start_time", no_start_time},
    {"file_names", file_names},
    {"plan", plan},
    {"progress", progress},
    {"start", start},
    {"start_clock", start_clock},
    {"handouts", handouts},
    {NULL, NULL}};

const TestSuite suite_program = {"program", cases};
