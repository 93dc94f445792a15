/* cells: cells that cannot be read, with their place.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include <stdio.h>

typedef struct {
    const char *file, *content;
    const char *place; /* "line: column" */
    const char *shown; /* the offending text */
    const char *wanted;
} Bad;

static const char sessions_csv[] = "sessions.csv";

static const Bad bad_sessions[] = {
    {sessions_csv, "date,load\n2026-02-29,231\n", "2: date", "'2026-02-29'",
     "a day that exists"},
    {sessions_csv, "date,load\n2026-13-01,231\n", "2: date", "'2026-13-01'",
     "a day that exists"},
    {sessions_csv, "date,load\n2026-04-31,231\n", "2: date", "'2026-04-31'",
     "a day that exists"},
    {sessions_csv, "date,load\n0026-04-30,231\n", "2: date", "'0026-04-30'",
     "1900 to 2199"},
    {sessions_csv, "date,load\n2026-3-9,231\n", "2: date", "'2026-3-9'",
     "YYYY-MM-DD"},
    {sessions_csv, "date,load\n09/03/2026,231\n", "2: date", "'09/03/2026'",
     "--dates dmy"},
    {sessions_csv, "date,load\n09.03.2026,231\n", "2: date", "'09.03.2026'",
     "--dates mdy"},
    /* 1899-12-30 + 45306 */
    {sessions_csv, "date,load\n45306,231\n", "2: date", "'45306'",
     "2024-01-15"},
    {sessions_csv, "Date,load\nyesterday,231\n", "2: Date", "'yesterday'",
     "YYYY-MM-DD"},
    {sessions_csv, "date,load\n,231\n", "2: date", "''", "YYYY-MM-DD"},
    {sessions_csv, "date,load\n2026-03-02,hard\n", "2: load", "'hard'",
     "a number"},
    {sessions_csv, "date,LOAD\n2026-03-02,12x\n", "2: LOAD", "'12x'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,12 min\n", "2: load", "'12 min'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,nan\n", "2: load", "'nan'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,inf\n", "2: load", "'inf'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,0x1F\n", "2: load", "'0x1F'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,1e999\n", "2: load", "'1e999'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,-3.5\n", "2: load", "'-3.5'",
     "a number from 0"},
    {sessions_csv, "date,load\n2026-03-02,\"1,234\"\n", "2: load", "'1,234'",
     "thousands separators"},
    {sessions_csv, "date,load\n2026-03-02,\"1,234.5\"\n", "2: load",
     "'1,234.5'", "thousands separators"},
    {sessions_csv, "date;load\n2026-03-02;1.234\n", "2: load", "'1.234'",
     "one way only"},
    {sessions_csv, "date;load\n2026-03-02;1,234\n", "2: load", "'1,234'",
     "one way only"},
    {sessions_csv, "date;load\n2026-03-02;1.234,5\n", "2: load", "'1.234,5'",
     "thousands separators"},
    {sessions_csv, "date\tload\n2026-03-02\t1,5\n", "2: load", "'1,5'",
     "decimal point"},
    {sessions_csv, "date,minutes,rpe\n2026-03-02,60,10.5\n", "2: rpe", "'10.5'",
     "from 0 to 10"},
    {sessions_csv, "date,minutes,rpe\n2026-03-02,60,-1\n", "2: rpe", "'-1'",
     "from 0 to 10"},
    {sessions_csv, "date,minutes,rpe\n2026-03-02,1440.5,7\n", "2: minutes",
     "'1440.5'", "from 0 to 1440"},
    {sessions_csv, "date,minutes,rpe\n2026-03-02,1h30,7\n", "2: minutes",
     "'1h30'", "a number"},
    {sessions_csv, "date,minutes,hr_mean\n2026-03-02,60,261\n", "2: hr_mean",
     "'261'", "from 20 to 260"},
    {sessions_csv, "date,minutes,hr_mean\n2026-03-02,60,19\n", "2: hr_mean",
     "'19'", "a number from 20"},
    {sessions_csv,
     "date,minutes_z1,minutes_z2,minutes_z3,minutes_z4,minutes_z5\n"
     "2026-03-02,1,2,ten,4,5\n",
     "2: minutes_z3", "'ten'", "a number"},
    {sessions_csv, "date,sets,reps,kg\n2026-03-02,-3,5,20\n", "2: sets", "'-3'",
     "a number from 0"},
    {sessions_csv, "date,sets,reps,kg\n2026-03-02,3,5+,20\n", "2: reps", "'5+'",
     "a number"},
    {sessions_csv, "date,sets,reps,kg\n2026-03-02,3,5,2000.5\n", "2: kg",
     "'2000.5'", "to 2000"},
    {sessions_csv, "date,sets,reps,lb\n2026-03-02,3,5,45lb\n", "2: lb",
     "'45lb'", "a number"},
    {sessions_csv, "date,kind,load\n2026-03-02,yoga,231\n", "2: kind", "'yoga'",
     "gym, skill, conditioning, match, mobility or other"},
    {sessions_csv, "date,time,load\n2026-03-02,24:00,231\n", "2: time",
     "'24:00'", "HH:MM"},
    {sessions_csv, "date,time,load\n2026-03-02,7h30,231\n", "2: time", "'7h30'",
     "HH:MM"},
    {sessions_csv, "date,time,load\n2026-03-02,7:60,231\n", "2: time", "'7:60'",
     "HH:MM"},
    {sessions_csv, "date,athlete,load\n2026-03-02,,231\n", "2: athlete",
     "blank", "the athlete's name"},
    {sessions_csv, "date,athlete,load\n2026-03-02,Ki\x01te,231\n", "2: athlete",
     "\\x01", "control characters"},
    {sessions_csv, "date,session,load\n2026-03-02,a\x1B[31mb,231\n",
     "2: session", "\\x1B", "control characters"},
    {sessions_csv, "date,session,load\n2026-03-02,a\x7F,231\n", "2: session",
     "\\x7F", "control characters"},
    {sessions_csv, "date,session,load\n2026-03-02,a\xC2\x85z,231\n",
     "2: session", "\\xC2", "control characters"},
    {sessions_csv, "date,session,load\n2026-03-02,a\xEF\xBF\xBEz,231\n",
     "2: session", "'a", "control characters"},
    {sessions_csv, "date,load\n2026-03-02,231,7\n", "2: -", "3 cells",
     "2 as in the header"},
    {sessions_csv, "date,athlete,load\n2026-03-02,231\n", "2: -", "2 cells",
     "3 as in the header"},
    /* the line is the editor's, after quoted and blank lines */
    {sessions_csv,
     "date,session,load\n2026-03-02,\"two\nlines\",231\n2026-03-03,x,bad\n",
     "4: load", "'bad'", "a number"},
    {sessions_csv, "date,load\r\n\r\n\r\n2026-03-02,bad\r\n", "4: load",
     "'bad'", "a number"},
    {sessions_csv, "date,load\n2026-03-02,231\n2026-03-03,bad\n", "3: load",
     "'bad'", "a number"},
};

static const char athletes_csv[] = "athletes.csv";

static const Bad bad_athletes[] = {
    {athletes_csv, "athlete,mass_kg\nKite,71.3\nKite,72.8\n", "3: athlete",
     "'Kite'", "one row an athlete"},
    {athletes_csv, "athlete,sex\n,f\n", "2: athlete", "''", "some text"},
    {athletes_csv, "athlete\nKi\x02te\n", "2: athlete", "\\x02",
     "control characters"},
    {athletes_csv, "athlete,mass_kg\nKite,19.5\n", "2: mass_kg", "'19.5'",
     "from 20 to 250"},
    {athletes_csv, "athlete,mass_kg\nKite,\"71,3\"\n", "2: mass_kg", "'71,3'",
     "decimal point"},
    {athletes_csv, "athlete,mass_lb\nKite,550.5\n", "2: mass_lb", "'550.5'",
     "to 550"},
    {athletes_csv, "athlete,sex\nKite,woman\n", "2: sex", "'woman'", "f or m"},
    {athletes_csv, "athlete,hr_rest\nKite,19\n", "2: hr_rest", "'19'",
     "from 20 to 120"},
    {athletes_csv, "athlete,hr_rest\nKite,121\n", "2: hr_rest", "'121'",
     "from 20 to 120"},
    {athletes_csv, "athlete,hr_max\nKite,251\n", "2: hr_max", "'251'",
     "from 100 to 250"},
    {athletes_csv, "athlete,hr_max\nKite,99\n", "2: hr_max", "'99'",
     "from 100 to 250"},
    {athletes_csv, "athlete,hr_rest,hr_max\nKite,118,117\n", "2: hr_max",
     "'117'", "more than hr_rest '118'"},
    {athletes_csv, "athlete,hr_rest,hr_max\nKite,117,117\n", "2: hr_max",
     "'117'", "more than hr_rest '117'"},
    {athletes_csv, "athlete,minor\nKite,perhaps\n", "2: minor", "'perhaps'",
     "no or yes"},
    {athletes_csv, "athlete,squad\nKite,a\x03\n", "2: squad", "\\x03",
     "control characters"},
    {athletes_csv, "athlete,model\nKite,a\x03.csv\n", "2: model", "\\x03",
     "control characters"},
};

static const char tests_csv[] = "tests.csv";

static const Bad bad_tests[] = {
    {tests_csv, "date,athlete,test,value\n2026-02-30,Kite,jump,31.7\n",
     "2: date", "'2026-02-30'", "a day that exists"},
    {tests_csv, "date,athlete,test,value\n,Kite,jump,31.7\n", "2: date", "''",
     "YYYY-MM-DD"},
    {tests_csv, "date,athlete,test,value\n2026-03-02,Kite,jump,\n", "2: value",
     "blank", "the result of the test"},
    {tests_csv, "date,athlete,test,value\n2026-03-02,Kite,jump,31.7cm\n",
     "2: value", "'31.7cm'", "a number"},
    {tests_csv, "date,athlete,test,value\n2026-03-02,Kite,,31.7\n", "2: test",
     "''", "some text"},
    {tests_csv, "date,athlete,test,value\n2026-03-02,Ki\x04te,jump,31.7\n",
     "2: athlete", "\\x04", "control characters"},
    {tests_csv, "date,test,value,error\n2026-03-02,jump,31.7,0\n", "2: error",
     "'0'", "a number from"},
    {tests_csv, "date,test,value,error\n2026-03-02,jump,31.7,-.5\n", "2: error",
     "'-.5'", "a number from"},
    {tests_csv, "date,test,value,better\n2026-03-02,jump,31.7,more\n",
     "2: better", "'more'", "higher or lower"},
    {tests_csv, "date,test,value\n2026-03-02,Sprint 30 m,4.13\n", "2: better",
     "'Sprint 30 m'", "'lower' if fewer seconds are better"},
    {tests_csv, "date,test,value,better\n2026-03-02,Shuttle (s),13.1,\n",
     "2: better", "'Shuttle (s)'", "'lower' if fewer seconds are better"},
    {tests_csv, "date,test,value\n2026-03-02,5 km [min],21.5\n", "2: better",
     "'5 km [min]'", "expected 'lower'"},
    {tests_csv, "date,test,value\n2026-03-02,RUN_2400,10.1\n", "2: better",
     "'RUN_2400'", "expected 'lower'"},
    {tests_csv,
     "date,test,value,better\n2026-03-02,bar,4.1,lower\n"
     "2026-03-03,bar,4.2,higher\n",
     "3: better", "'higher'", "expected lower as for 'bar' on line 2"},
    {tests_csv, "date,test,value,when\n2026-03-02,jump,31.7,noon\n", "2: when",
     "'noon'", "before or after"},
};

static const char events_csv[] = "events.csv";

static const Bad bad_events[] = {
    {events_csv, "event,start\nCup,2026-06-31\n", "2: start", "'2026-06-31'",
     "a day that exists"},
    {events_csv, "event,start\nCup,\n", "2: start", "''", "YYYY-MM-DD"},
    {events_csv, "event,start\n,2026-04-25\n", "2: event", "''", "some text"},
    {events_csv, "event,start\nC\x05,2026-04-25\n", "2: event", "\\x05",
     "control characters"},
    {events_csv, "event,start,days\nCup,2026-04-25,0\n", "2: days", "'0'",
     "from 1 to 60"},
    {events_csv, "event,start,days\nCup,2026-04-25,61\n", "2: days", "'61'",
     "from 1 to 60"},
    {events_csv, "event,start,days\nCup,2026-04-25,2.5\n", "2: days", "'2.5'",
     "a whole number"},
    {events_csv, "event,start,weight\nCup,2026-04-25,0\n", "2: weight", "'0'",
     "a number from"},
    {events_csv, "event,start,sessions_per_day\nCup,2026-04-25,11\n",
     "2: sessions_per_day", "'11'", "from 1 to 10"},
    {events_csv, "event,start,load_per_day\nCup,2026-04-25,-5.5\n",
     "2: load_per_day", "'-5.5'", "a number from 0"},
    {events_csv, "event,start,start_time\nCup,2026-04-25,9\n", "2: start_time",
     "'9'", "HH:MM"},
    {events_csv, "event,start\nCup,2026-04-25\nCup,2026-05-30\n", "3: event",
     "'Cup'", "a name of its own"},
    {events_csv,
     "event,start,athlete\nCup,2026-04-25,Kite\nCup,2026-05-30,Kite\n",
     "3: event", "'Cup'", "also on line 2"},
};

static const char week_csv[] = "week.csv";

static const Bad bad_week[] = {
    {week_csv, "weekday,session,load\nsomeday,squats,231\n", "2: weekday",
     "'someday'", "mon, tue, wed, thu, fri, sat, sun"},
    {week_csv, "weekday,session,load\n,squats,231\n", "2: weekday", "''",
     "mon, tue"},
    {week_csv, "weekday,session,load\n2026-02-30,squats,231\n", "2: weekday",
     "'2026-02-30'", "a day that exists"},
    {week_csv, "weekday,session,load\n1/4/2026,squats,231\n", "2: weekday",
     "'1/4/2026'", "--dates dmy"},
    {week_csv, "weekday,session,load\nmon,,231\n", "2: session", "''",
     "some text"},
    {week_csv, "weekday,session,kind,load\nmon,squats,lifting,231\n", "2: kind",
     "'lifting'", "gym, skill"},
    {week_csv, "weekday,session,minutes,rpe\nmon,squats,1441,5\n", "2: minutes",
     "'1441'", "to 1440"},
    {week_csv, "weekday,session,minutes,rpe\nmon,squats,60,10.1\n", "2: rpe",
     "'10.1'", "from 0 to 10"},
    {week_csv, "weekday,session,load\nmon,squats,-2.5\n", "2: load", "'-2.5'",
     "a number from 0"},
    {week_csv, "weekday,session,load,keep\nmon,squats,231,always\n", "2: keep",
     "'always'", "no or yes"},
    {week_csv, "weekday,session,load,team\nmon,squats,231,all\n", "2: team",
     "'all'", "no or yes"},
    {week_csv, "weekday,session,load,least_minutes\nmon,squats,231,-1\n",
     "2: least_minutes", "'-1'", "from 0 to 1440"},
    {week_csv,
     "weekday,session,minutes,rpe,least_minutes\nmon,drills,40,5,45\n",
     "2: least_minutes", "'45'", "no more than the 40 of minutes"},
};

static const char exercises_csv[] = "exercises.csv";

static const Bad bad_exercises[] = {
    {exercises_csv, "session,exercise,sets,reps,kg\n,squat,3,5,20\n",
     "2: session", "''", "some text"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,,3,5,20\n",
     "2: exercise", "''", "some text"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,,5,20\n",
     "2: sets", "blank", "a number"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,3,,20\n",
     "2: reps", "blank", "a number"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,0,5,20\n",
     "2: sets", "'0'", "from 1 to 100"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,2.5,5,20\n",
     "2: sets", "'2.5'", "a whole number"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,3,0,20\n",
     "2: reps", "'0'", "a number from 1"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,3,8-12,20\n",
     "2: reps", "'8-12'", "a number"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,3,5,-20\n",
     "2: kg", "'-20'", "a number from 0"},
    {exercises_csv, "session,exercise,sets,reps,lb\nlegs,squat,3,5,heavy\n",
     "2: lb", "'heavy'", "a number"},
    {exercises_csv,
     "session,exercise,sets,reps,percent_1rm\nlegs,squat,3,5,121\n",
     "2: percent_1rm", "'121'", "from 1 to 120"},
    {exercises_csv, "session,exercise,sets,reps,keep\nlegs,squat,3,5,ja\n",
     "2: keep", "'ja'", "no or yes"},
};

static void check_bad(const Bad *bad) {
    const Note *error = NULL;
    char place[200];
    read_with(bad->file, bad->content);
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_DATA);
    for (size_t i = 0; i < notes.count && !error; i++)
        if (notes.items[i].level == LEVEL_ERROR)
            error = &notes.items[i];
    snprintf(place, sizeof place, "error %s:%s", bad->file, bad->place);
    assert_place(error, place);
    ASSERT_HAS(error ? error->text : NULL, bad->shown);
    ASSERT_HAS(error ? error->text : NULL, "expected");
    ASSERT_HAS(error ? error->text : NULL, bad->wanted);
    stop();
}

static void check_all(const Bad *bad, size_t count) {
    for (size_t i = 0; i < count; i++)
        check_bad(&bad[i]);
}

#define CHECK_ALL(table) check_all(table, sizeof(table) / sizeof(table)[0])

static void bad_cells_of_sessions(void) {
    CHECK_ALL(bad_sessions);
}

static void bad_cells_of_athletes(void) {
    CHECK_ALL(bad_athletes);
}

static void bad_cells_of_tests(void) {
    CHECK_ALL(bad_tests);
}

static void bad_cells_of_events(void) {
    CHECK_ALL(bad_events);
}

static void bad_cells_of_week(void) {
    CHECK_ALL(bad_week);
}

static void bad_cells_of_exercises(void) {
    CHECK_ALL(bad_exercises);
}

/* check: "every problem with file, line, column". */
static void every_problem_of_a_row(void) {
    read_log("date,athlete,load,kind,sets\n2026-02-30,Kite,heavy,yoga,-1\n");
    CU_ASSERT_EQUAL(notes.errors, 4);
    assert_place(test_note(&notes, "'2026-02-30'"),
                 "error sessions.csv:2: date");
    assert_place(test_note(&notes, "'yoga'"), "error sessions.csv:2: kind");
    assert_place(test_note(&notes, "'heavy'"), "error sessions.csv:2: load");
    assert_place(test_note(&notes, "'-1'"), "error sessions.csv:2: sets");
    stop();
}

static void every_bad_row_is_told(void) {
    read_log("date,load\nmonday,1\n2026-03-02,231.5\n2026-03-03,x\n"
             "2026-03-04,88\n2026-03-05,-4\n");
    CU_ASSERT_EQUAL(notes.errors, 3);
    assert_place(test_note(&notes, "'monday'"), "error sessions.csv:2: date");
    assert_place(test_note(&notes, "'x'"), "error sessions.csv:4: load");
    assert_place(test_note(&notes, "'-4'"), "error sessions.csv:6: load");
    LOADS("athlete", 231.5, 88);
    stop();
}

/* What lies on a limit is still inside. */
static void cells_on_the_limits(void) {
    static const char *const rows[][2] = {
        {"athletes.csv", "athlete,mass_kg,hr_rest,hr_max,minor\n"
                         "Kite,20,20,100,YES\nLark,250,120,250,No\n"},
        {"athletes.csv", "athlete,mass_lb\nKite,45\nLark,550\n"},
        {"tests.csv", "date,test,value,error\n2026-03-02,jump,-3.5,.01\n"},
        {"events.csv", "event,start,days,sessions_per_day,load_per_day\n"
                       "Cup,2026-04-25,60,10,0\nFinal,2028-02-29,1,1,\n"},
        {"week.csv", "weekday,session,minutes,rpe,load,keep\n"
                     "SUN,squats,1440,10,0,yes\n2028-02-29,x,0,0,3.5,no\n"},
        {"exercises.csv",
         "session,exercise,sets,reps,kg,percent_1rm\n"
         "legs,squat,100,1,0,1\nlegs,lunge,1,10000,2000,120\n"},
        {"sessions.csv", "date,load\n1900-01-01,0\n2024-02-29,1000000\n"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        read_with(rows[i][0], rows[i][1]);
        assert_no_errors();
        stop();
    }
}

static void missing_columns(void) {
    static const struct {
        const char *file, *header, *missing;
    } cases[] = {{"sessions.csv", "day,load", "date"},
                 {"athletes.csv", "name,sex", "athlete"},
                 {"tests.csv", "athlete,test,value", "date"},
                 {"tests.csv", "date,value", "test"},
                 {"tests.csv", "date,test", "value"},
                 {"events.csv", "start,days", "event"},
                 {"events.csv", "event,days", "start"},
                 {"week.csv", "session,load", "weekday"},
                 {"week.csv", "weekday,load", "session"},
                 {"exercises.csv", "exercise,sets,reps", "session"},
                 {"exercises.csv", "session,sets,reps", "exercise"},
                 {"exercises.csv", "session,exercise,reps", "sets"},
                 {"exercises.csv", "session,exercise,sets", "reps"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[200], place[200];
        const Note *note;
        snprintf(text, sizeof text, "%s\n1,1,1\n", cases[i].header);
        read_with(cases[i].file, text);
        CU_ASSERT_EQUAL(notes.errors, 1);
        snprintf(place, sizeof place, "error %s:1: %s", cases[i].file,
                 cases[i].missing);
        note = test_note(&notes, "this column is missing");
        assert_place(note, place);
        snprintf(text, sizeof text,
                 "expected a column '%s' (or --map %.*s%s=", cases[i].missing,
                 cases[i].file[0] == 's' /* sessions need no name */
                     ? 0
                     : (int)strcspn(cases[i].file, ".") + 1,
                 cases[i].file, cases[i].missing);
        ASSERT_HAS(note ? note->text : NULL, text);
        stop();
    }
}

static void header_only(void) {
    static const char *const files[][3] = {
        {"sessions.csv", "date,load\n", "error sessions.csv:0: -"},
        {"sessions.csv", "date,Kite,Lark\n", "error sessions.csv:0: -"},
        {"events.csv", "event,start\n", "warning events.csv:0: -"},
        {"week.csv", "weekday,session\n", "warning week.csv:0: -"}};
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        read_with(files[i][0], files[i][1]);
        assert_place(test_note(&notes, "has a header but no rows"),
                     files[i][2]);
        CU_ASSERT_EQUAL(season->week_count, 0);
        CU_ASSERT_EQUAL(season->event_count, 0);
        stop();
    }
    read_with("athletes.csv", "athlete,sex\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(season->athlete_count, 1);
    stop();
}

static void not_a_text_file(void) {
    static const char zero[] = "date,load\n2026-03-02,2\0001\n";
    read_log("");
    assert_place(test_note(&notes, "is empty, expected a header"),
                 "error sessions.csv:0: -");
    stop();
    read_log("date,athlete,load\n2026-03-02,Kite,1\n2026-03-03,L\xE4rk,2\n");
    assert_place(test_note(&notes, "UTF-8"), "error sessions.csv:3: -");
    CU_ASSERT_EQUAL(notes.errors, 1);
    stop();
    start();
    test_file_bytes(0, "sessions.csv", zero, sizeof zero - 1);
    look();
    assert_place(test_note(&notes, "NUL"), "error sessions.csv:2: -");
    CU_ASSERT_EQUAL(notes.errors, 1);
    stop();
}

/* Outside rest ... max for the athlete named, whatever method is used. */
static void heart_rate_outside(void) {
    const Note *note;
    start();
    file("athletes.csv", "athlete,sex,hr_rest,hr_max\nKite,m,41,197\n"
                         "Lark,f,52,188\n");
    file("sessions.csv", "date,athlete,minutes,hr_mean\n"
                         "2026-03-02,Kite,30,197\n2026-03-02,Lark,30,189\n"
                         "2026-03-03,Kite,30,40.5\n2026-03-03,Lark,30,52\n");
    look();
    CU_ASSERT_EQUAL(notes.errors, 2);
    note = test_note(&notes, "'189'");
    assert_place(note, "error sessions.csv:3: hr_mean");
    ASSERT_HAS(note ? note->text : NULL, "expected a mean heart rate");
    ASSERT_HAS(note ? note->text : NULL, "hr_rest 52 and hr_max 188");
    assert_place(test_note(&notes, "'40.5'"), "error sessions.csv:4: hr_mean");
    stop();
}

static const TestCase cases[] = {
    {"bad_cells_of_sessions", bad_cells_of_sessions},
    {"bad_cells_of_athletes", bad_cells_of_athletes},
    {"bad_cells_of_tests", bad_cells_of_tests},
    {"bad_cells_of_events", bad_cells_of_events},
    {"bad_cells_of_week", bad_cells_of_week},
    {"bad_cells_of_exercises", bad_cells_of_exercises},
    {"every_problem_of_a_row", every_problem_of_a_row},
    {"every_bad_row_is_told", every_bad_row_is_told},
    {"cells_on_the_limits", cells_on_the_limits},
    {"missing_columns", missing_columns},
    {"header_only", header_only},
    {"not_a_text_file", not_a_text_file},
    {"heart_rate_outside", heart_rate_outside},
    {NULL, NULL}};

const TestSuite suite_season_cells = {"season", cases};
