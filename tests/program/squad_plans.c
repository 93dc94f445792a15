/* squad_plans: plans for a squad, of days that went otherwise than planned,
 * and of how late a session still helps.
 *
 * The squad view is held against the gains that `taper` and `compare` print;
 * changed days against files edited by hand and against
 * the closed form of the classic model.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "answers/squad_plans.h"
#include "base/date.h"
#include "base/text.h"
#include "season/usual.h"
#include "taper/option.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- seasons ---- */

static const char *folder; /* of the test that runs */

static const char *const weekdays[] = {"mon", "tue", "wed", "thu",
                                       "fri", "sat", "sun"};
static const double week_load[7] = {400, 300, 500, 0, 350, 600, 0};

/* One day that is not like its weekday. */
typedef struct {
    const char *date;
    double load;
} Odd;

static double load_on(Date date, const Odd *odd) {
    char text[DATE_TEXT];
    date_write(text, date);
    for (; odd && odd->date; odd++)
        if (strcmp(odd->date, text) == 0)
            return odd->load;
    return week_load[date_weekday(date)];
}

/* From Monday 2026-01-05 to `last`; each athlete of the list ("a,b"). */
static void write_log(const char *athletes, const char *last, double scale,
                      const Odd *odd) {
    Date first = date_of((Civil){2026, 1, 5}), end = 0;
    char why[DATE_WHY], day[DATE_TEXT];
    Text text = {0};
    CU_ASSERT_FATAL(date_read(last, DATES_ISO, &end, why));
    text_add(&text, "date,athlete,session,load\n");
    while (*athletes) {
        int length = (int)strcspn(athletes, ",");
        for (Date date = first; date <= end; date++)
            if (load_on(date, odd) > 0)
                text_add(&text, "%s,%.*s,S,%.9g\n", date_write(day, date),
                         length, athletes, scale * load_on(date, odd));
        athletes += length + (athletes[length] == ',');
    }
    test_file(0, "sessions.csv", text_of(&text));
    text_free(&text);
}

static void write_week(double scale, const char *more) {
    Text text = {0};
    text_add(&text, "weekday,session,load,keep\n");
    for (int d = 0; d < 7; d++)
        if (week_load[d] > 0)
            text_add(&text, "%s,S,%.9g,\n", weekdays[d], scale * week_load[d]);
    text_add(&text, "%s", more);
    test_file(1, "week.csv", text_of(&text));
    text_free(&text);
}

static void write_season(const char *athletes, const char *last,
                         const Odd *odd) {
    write_log(athletes, last, 1, odd);
    write_week(1, "");
    test_file(2, "events.csv", "event,start\nCup,2026-04-20\n");
}

/* Runs the program on the test's folder, which stands for each @; blanks part
 * the words. Returns what it printed, to be freed. */
static char *answer(const char *arguments) {
    const char *words[40] = {test_program()};
    char *store[40], *out, *err;
    size_t count = 1;
    int code;
    while (*arguments) {
        size_t length = strcspn(arguments, " ");
        Text word = {0};
        for (size_t i = 0; i < length; i++)
            if (arguments[i] == '@')
                text_add(&word, "%s", folder);
            else
                text_put(&word, arguments + i, 1);
        store[count] = strdup(text_of(&word));
        words[count] = store[count];
        count++;
        text_free(&word);
        arguments += length + (arguments[length] == ' ');
    }
    words[count] = NULL;
    code = test_run(words, &out, &err);
    if (code != 0)
        fprintf(stderr, "%s", err);
    CU_ASSERT_EQUAL(code, 0);
    for (size_t i = 1; i < count; i++)
        free(store[i]);
    free(err);
    return out;
}

/* ---- changed days ---- */

static void check_same(char *one, char *other) {
    CU_ASSERT(strlen(one) > 1000);
    CU_ASSERT(strcmp(one, other) == 0);
    free(one);
    free(other);
}

/* Takes a word between two commas out of a text, wherever it stands. */
static void blank(char *text, const char *word) {
    char *at = text;
    while ((at = strstr(at, word)) != NULL) {
        size_t length = strlen(word);
        memmove(at + 1, at + length - 1, strlen(at + length - 1) + 1);
    }
}

/* Rows of taper --csv without their tags, each once. */
static void blank_tags(char *csv) {
    char *to = csv, *line = csv;
    blank(csv, ",best,");
    blank(csv, ",recommended,");
    blank(csv, ",equal,");
    while (*line) {
        char *next = strchr(line, '\n') + 1;
        size_t length = (size_t)(next - line);
        if (to - csv < (ptrdiff_t)length ||
            memcmp(to - length, line, length) != 0) {
            memmove(to, line, length);
            to += length;
        }
        line = next;
    }
    *to = '\0';
}

/* The same but for what is recommended: told of a change the program carries on
 * with what it planned where that is as good, which files do not remember. */
static void check_same_options(char *one, char *other) {
    blank_tags(one);
    blank_tags(other);
    check_same(one, other);
}

/* A logged day said to be otherwise is as if the file said so. */
static void logged_day(void) {
    static const char *const run = "taper @ --csv --model literature --quiet";
    static const Odd odd[] = {{"2026-03-25", 713}, {"2026-03-27", 0}, {0}};
    char *said, *written;
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    said = answer("taper @ --csv --model literature --quiet --did "
                  "2026-03-25=713 --missed 2026-03-27");
    write_season("wing-07", "2026-03-28", odd);
    written = answer(run);
    check_same_options(said, written);
    /* a rest day on which something was done */
    write_season("wing-07", "2026-03-28", NULL);
    said = answer("taper @ --csv --model literature --quiet --did "
                  "2026-03-26=93.5");
    write_season("wing-07", "2026-03-28",
                 (const Odd[]){{"2026-03-26", 93.5}, {0}});
    written = answer(run);
    check_same_options(said, written);
    test_folder_done();
}

/* With clock times the sessions of the day keep their share and time. */
static void logged_day_timed(void) {
    static const char log[] = "date,time,load\n2026-03-02,18:00,240\n"
                              "2026-03-20,09:00,%d\n2026-03-20,17:30,%d\n"
                              "2026-03-28,08:00,300\n";
    char text[300];
    char *said, *written;
    folder = test_folder();
    write_week(1, "");
    test_file(2, "events.csv", "event,start\nCup,2026-04-20\n");
    snprintf(text, sizeof text, log, 200, 600);
    test_file(0, "sessions.csv", text);
    said = answer("simulate @ --csv --model literature --quiet --before "
                  "nothing --did 2026-03-20=200");
    snprintf(text, sizeof text, log, 50, 150);
    test_file(0, "sessions.csv", text);
    written =
        answer("simulate @ --csv --model literature --quiet --before nothing");
    check_same(said, written);
    test_folder_done();
}

/* A day to come said to be otherwise is as if week.csv had a row of its own
 * for it, a missed one as one that is `off`; so an illness or travel block is
 * respected, and nothing of it is added back. */
static void day_to_come(void) {
    char *said, *written;
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    said = answer("taper @ --csv --model literature --quiet --missed "
                  "2026-04-06 --missed 2026-04-07 --missed 2026-04-08 --did "
                  "2026-04-11=55");
    write_week(1, "2026-04-06,off,,\n2026-04-07,off,,\n2026-04-08,off,,\n"
                  "2026-04-11,Test match,55,yes\n");
    written = answer("taper @ --csv --model literature --quiet");
    check_same_options(said, written);
    written = answer("plan @ --csv --model literature --quiet");
    CU_ASSERT(strstr(written, "2026-04-05") == NULL); /* Sunday */
    CU_ASSERT(strstr(written, "2026-04-06") == NULL);
    CU_ASSERT(strstr(written, "2026-04-07") == NULL);
    CU_ASSERT(strstr(written, "2026-04-08") == NULL);
    ASSERT_HAS(written, "wing-07,2026-04-04,Sat,S");
    ASSERT_HAS(written, "2026-04-11,Sat,Test match");
    free(written);
    write_week(1, "");
    said = answer("plan @ --model literature --quiet --option 7d-50 "
                  "--missed 2026-04-07");
    ASSERT_HAS(said, "until Mon 6 Apr");
    CU_ASSERT_PTR_NULL(strstr(said, "Tue 7 Apr"));
    ASSERT_HAS(said, "Days not listed are rest");
    free(said);
    test_folder_done();
}

/* No plan asks for more than the usual load of a day. */
static void never_added_back(void) {
    char *out, *line;
    int rows = 0;
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    out = answer("plan @ --csv --model literature --quiet --missed 2026-03-27 "
                 "--missed 2026-04-01 --missed 2026-04-04");
    line = strchr(out, '\n') + 1;
    while (*line) {
        char day[DATE_TEXT], why[DATE_WHY];
        Date date;
        double load;
        char *at = strchr(line, ',') + 1, *next = strchr(line, '\n') + 1;
        snprintf(day, sizeof day, "%.10s", at);
        CU_ASSERT_FATAL(date_read(day, DATES_ISO, &date, why));
        for (int cell = 0; cell < 11; cell++)
            at = strchr(at, ',') + 1;
        load = strtod(at, NULL);
        CU_ASSERT(load <= week_load[date_weekday(date)] + 1e-9);
        rows++;
        line = next;
    }
    CU_ASSERT(rows > 10);
    free(out);
    test_folder_done();
}

static void only_some_days(void) {
    char *said, *written;
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    said = answer("taper @ --csv --model literature --quiet --only Tue,fri");
    test_file(1, "week.csv",
              "weekday,session,load,keep\ntue,S,300,\nfri,S,350,\n");
    written = answer("taper @ --csv --model literature --quiet");
    check_same_options(said, written);
    test_folder_done();
}

/* Readiness without a taper, from the CSV of taper. */
static double readiness_without(const char *csv) {
    const char *at = strstr(csv, ",none,0,0,none,");
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    return strtod(at + strlen(",none,0,0,none,"), NULL);
}

/* As the taper goes on, what was done takes the place of what was planned:
 * sessions done as usual change nothing, others are what counts. */
static void days_go_on(void) {
    static const Odd half[] = {
        {"2026-03-30", 200}, {"2026-03-31", 150}, {"2026-04-01", 250}, {0}};
    char *early, *later;
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    early = answer("taper @ --csv --model classic --quiet");
    write_season("wing-07", "2026-04-01", NULL);
    later = answer("taper @ --csv --model classic --quiet");
    ASSERT_NEAR(readiness_without(later), readiness_without(early), 1e-9);
    CU_ASSERT(strlen(later) < strlen(early)); /* fewer days, fewer options */
    free(later);
    free(early);
    /* a log that goes on is the same on an earlier day */
    write_season("wing-07", "2026-04-01", half);
    early = answer("taper @ --csv --model classic --quiet --today 2026-03-28");
    later = answer("taper @ --csv --model classic --quiet");
    write_season("wing-07", "2026-03-28", NULL);
    {
        char *plain = answer("taper @ --csv --model classic --quiet");
        CU_ASSERT(strcmp(early, plain) == 0);
        free(plain);
    }
    free(early);
    early = answer("taper @ --csv --model classic --quiet --did 2026-03-30=200 "
                   "--did 2026-03-31=150 --did 2026-04-01=250");
    ASSERT_NEAR(readiness_without(later), readiness_without(early), 1e-9);
    free(later);
    free(early);
    test_folder_done();
}

/* Influence of the classic set (Fitz-Clarke, Morton, Banister 1991). */
static double classic(double age) {
    return exp(-age / 45) - 2 * exp(-age / 15);
}

typedef struct {
    char plan[40], before[40], carried[40], now[40];
    double share, more; /* [%] of the plan's gain */
} ChangedRow;

static ChangedRow changed_row(const char *arguments) {
    ChangedRow row = {.plan = ""};
    char *out = answer(arguments), *at = strstr(out, "\nwing-07 ");
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    CU_ASSERT_EQUAL(sscanf(at + 9, "%39s %39s %39s - %lf %% %39s %lf %%",
                           row.plan, row.before, row.carried, &row.share,
                           row.now, &row.more),
                    6);
    ASSERT_HAS(out, "it is never added back");
    free(out);
    return row;
}

/* The usual week, by days before 20 April. */
static double usual_load(int before_event) {
    return week_load[date_weekday(date_of((Civil){2026, 4, 20}) -
                                  before_event)];
}

/* What cuts add to others, but on one day. */
static double cuts_add(const double *other, const double *cut, int but) {
    double sum = 0;
    for (int u = 1; u <= 22; u++)
        if (u != but)
            sum -= (cut[u - 1] - other[u - 1]) * usual_load(u) * classic(u);
    return sum;
}

/* What a change does, by the closed form. */
static void effect_of_change(void) {
    static const struct {
        const char *arguments;
        int before_event; /* [d] */
        double planned, done;
        bool fixed; /* done whatever the plan cuts */
    } rows[] = {
        /* logged, Wednesday 25 March */
        {"--missed 2026-03-25", 26, 500, 0, true},
        {"--did 2026-03-25=820", 26, 500, 820, true},
        /* to come, Wednesday 15 and Monday 6 April */
        {"--missed 2026-04-15", 5, 500, 0, false},
        {"--did 2026-04-06=640", 14, 400, 640, false},
    };
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char arguments[200], why[OPTION_WHY];
        ChangedRow row;
        Option plan, left;
        double cut[60], other[60], none[60] = {0}, change, gain;
        snprintf(arguments, sizeof arguments,
                 "taper @ --model classic --quiet %s", rows[i].arguments);
        row = changed_row(arguments);
        CU_ASSERT_FATAL(option_read(row.plan, &plan, why));
        CU_ASSERT_FATAL(option_read(row.now, &left, why));
        option_cuts(&plan, 60, cut);
        option_cuts(&left, 60, other);
        gain = cuts_add(none, cut, 0);
        change = rows[i].done -
                 rows[i].planned *
                     (rows[i].fixed ? 1 : 1 - cut[rows[i].before_event - 1]);
        change *= classic(rows[i].before_event);
        CU_ASSERT(fabs(change) > 5);
        /* both are printed to a whole or a tenth */
        ASSERT_NEAR(atof(row.carried) - atof(row.before), change, 1.01);
        ASSERT_NEAR(row.share, 100 * change / gain, .51);
        ASSERT_NEAR(row.more,
                    100 * cuts_add(cut, other, rows[i].before_event) / gain,
                    .51);
    }
    test_folder_done();
}

/* A plan handed out: half of it from the 14th day before 20 April on. */
static double handed_load(int before_event) {
    return usual_load(before_event) / (before_event > 14 ? 1 : 2);
}

static void write_handed(void) {
    char day[DATE_TEXT];
    Text text = {0};
    text_add(&text, "athlete,date,session,load,issued\n");
    for (int u = 22; u > 0; u--)
        if (handed_load(u) > 0)
            text_add(&text, "wing-07,%s,S,%g,2026-03-28\n",
                     date_write(day, date_of((Civil){2026, 4, 20}) - u),
                     handed_load(u));
    text_add(&text, "wing-07,2026-04-20,Cup,500,2026-03-28\n");
    test_file(3, "plan.csv", text_of(&text));
    text_free(&text);
}

/* Of a load, on readiness `age` days later. */
typedef double Influence(double age);

/* By the closed form: what that plan gains over the usual week. */
static double handed_gain(Influence *influence) {
    double sum = 0;
    for (int u = 1; u <= 22; u++)
        sum += (handed_load(u) - usual_load(u)) * influence(u);
    return sum;
}

/* What a taper adds to it where the load of one day is what it is. */
static double taper_adds(Influence *influence, const Option *option,
                         int changed) {
    double sum = 0, cut[60];
    option_cuts(option, 60, cut);
    for (int u = 1; u <= 22; u++)
        if (u != changed)
            sum += (usual_load(u) * (1 - cut[u - 1]) - handed_load(u)) *
                   influence(u);
    return sum;
}

/* A model of two sorts of draws: three quarters are the classic set, as the one
 * of the file, a quarter is another. */
static double odd(double age) {
    return 1.2 * exp(-age / 40) - 2.1 * exp(-age / 12);
}

static double mixed(double age) {
    return .75 * classic(age) + .25 * odd(age);
}

static void write_draws(void) {
    Text text = {0};
    test_file(4, "two.csv",
              "parameter,value\nkind,two-component\np0,500\nk1,1\nk2,2\n"
              "tau1,45\ntau2,15\ndraws,two-draws.csv\n");
    text_add(&text, "p0,k1,k2,tau1,tau2,tau_rise,k3,tau3,ratio,growth,sigma\n");
    for (int i = 0; i < 40; i++)
        text_add(&text, "%s,,,,,,1\n",
                 i % 4 ? "500,1,2,45,15" : "480,1.2,2.1,40,12");
    test_file(5, "two-draws.csv", text_of(&text));
    text_free(&text);
}

/* What a change did to the plan handed out, as printed. */
typedef struct {
    double was, now, share, more; /* [readiness], [%] of the plan's gain */
    double low, high;             /* [readiness] 90 % range of the draws */
    Option plan;                  /* for the days left */
} HandedEffect;

static HandedEffect handed_row(const char *model, const char *change) {
    HandedEffect row = {.low = NAN};
    char arguments[200], why[OPTION_WHY], plan[40] = "", *out, *at;
    int cells;
    bool draws = strcmp(model, "classic") != 0;
    snprintf(arguments, sizeof arguments, "taper @ --model %s --quiet %s",
             model, change);
    out = answer(arguments);
    ASSERT_HAS(out, "wing-07: change to the plan for the days left.");
    at = strstr(out, "\nwing-07  handed out");
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    at += strlen("\nwing-07  handed out");
    if (draws)
        cells =
            sscanf(at, "%lf %lf %lf to %lf %lf %% %39s %lf", &row.was, &row.now,
                   &row.low, &row.high, &row.share, plan, &row.more);
    else
        cells = sscanf(at, "%lf %lf - %lf %% %39s %lf", &row.was, &row.now,
                       &row.share, plan, &row.more);
    CU_ASSERT_EQUAL(cells, draws ? 7 : 5);
    CU_ASSERT_FATAL(option_read(plan, &row.plan, why));
    free(out);
    return row;
}

/* What a change does to a plan handed out, and what a new one would bring. */
static void effect_on_handed(void) {
    static const struct {
        const char *change;
        int before_event; /* [d] */
        double done;
    } rows[] = {{"--missed 2026-03-25", 26, 0}, /* logged: 500 */
                {"--missed 2026-04-01", 19, 0},
                {"--missed 2026-04-08", 12, 0},
                {"--did 2026-04-08=900", 12, 900},
                {"--did 2026-04-09=200", 11, 200}}; /* a day of rest */
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    write_handed();
    write_draws();
    for (size_t i = 0; i < 2 * sizeof rows / sizeof rows[0]; i++) {
        Influence *influence = i % 2 ? mixed : classic;
        int u = rows[i / 2].before_event;
        double more = rows[i / 2].done - handed_load(u);
        double gain = handed_gain(influence), change = more * influence(u);
        HandedEffect row =
            handed_row(i % 2 ? "@/two.csv" : "classic", rows[i / 2].change);
        ASSERT_NEAR(row.now - row.was, change, 1.01);
        ASSERT_NEAR(row.share, 100 * change / gain, .51);
        /* the new plan's sessions are whole steps of a volume */
        ASSERT_NEAR(row.more, 100 * taper_adds(influence, &row.plan, u) / gain,
                    1.5);
        if (i % 2 == 0)
            continue;
        ASSERT_NEAR(row.low, fmin(more * classic(u), more * odd(u)), .51);
        ASSERT_NEAR(row.high, fmax(more * classic(u), more * odd(u)), .51);
    }
    test_folder_done();
}

/* Without tests a gain is told as a share of the largest. */
static void handed_told(void) {
    char *out, *at;
    double gains = NAN, adds = NAN, recommended = NAN;
    Option option;
    char why[OPTION_WHY], plan[40];
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    write_handed();
    out = answer("taper @ --model classic --quiet");
    at = strstr(out, "wing-07: the plan");
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    sscanf(
        at,
        "wing-07: the plan handed out on Sat 28 Mar gains %lf %% of the "
        "largest gain possible. Replanning is worth it: a new plan would add "
        "%lf %% of the largest gain possible.",
        &gains, &adds);
    at = strstr(out, "\nrecommended");
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    CU_ASSERT_EQUAL_FATAL(
        sscanf(at, " recommended %39s %lf %%", plan, &recommended), 2);
    CU_ASSERT_FATAL(option_read(plan, &option, why));
    ASSERT_NEAR(gains + adds, recommended, 1.5); /* each to a whole per cent */
    ASSERT_NEAR(adds / gains,
                taper_adds(classic, &option, 0) / handed_gain(classic), .03);
    free(out);
    test_folder_done();
}

/* A new plan is worth it that adds over 15 % of what it gains, and something
 * that the digits show: as one may lose for few tapers. */
static void replan_worth(void) {
    static const char script[] =
        "import re, shutil, subprocess, sys\n"
        "program, folder = sys.argv[1:]\n"
        "season = folder + '/season'\n"
        "shutil.copytree('data/demo', season)\n"
        "def run(*words):\n"
        "    return ' '.join(subprocess.run([program, *words, '--quiet'],\n"
        "        check=True, capture_output=True, text=True).stdout.split())\n"
        "seen = {True: 0, False: 0}\n"
        "for option in ('10d-50', '8d-75', '4d-75', '14d-60', '3d-100'):\n"
        "    run('plan', season, '--option', option, '--hand-out', "
        "'--replace')\n"
        "    for who in ('back-03', 'back-09', 'keeper-01', 'pivot-05'):\n"
        "        said = run('taper', season, '--athlete', who)\n"
        "        gains = float(re.search(r'gains (\\S+) %', said)[1])\n"
        "        worth, adds = re.search(r'(Replanning is worth it|Carry it "
        "on): a '\n"
        "            r'new plan would add (\\S+)', said).groups()\n"
        "        adds = 0 if adds == 'nothing.' else float(adds)\n"
        "        near = abs(adds - .15 * (gains + adds)) < .1\n"
        "        want = adds > .15 * (gains + adds)\n"
        "        seen[want] += not near\n"
        "        if not near and want != worth.startswith('Re'):\n"
        "            print(option, who, said[:300])\n"
        "print(min(seen.values()) > 3)\n";
    folder = test_folder();
    char *told =
        test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(told, "True\n");
    free(told);
    test_folder_done();
}

/* ---- how late a session helps ---- */

static void last_session(void) {
    char *out;
    folder = test_folder();
    write_log("wing-07", "2026-03-28", 1, NULL);
    test_file(2, "events.csv", "event,start\nCup,2026-04-20\n");
    test_file(1, "week.csv",
              "weekday,session,load\nmon,S,300\ntue,S,300\nwed,S,300\n"
              "thu,S,300\nfri,S,300\nsat,S,300\nsun,S,300\n");
    /* t_n of the classic set is 15.6 d, the first whole day with a gain 16 */
    out = answer("taper @ --model classic --quiet");
    ASSERT_WORDS(out, "The last session that still helps lies 16 days before "
                      "the event, on Sat 4 Apr.");
    free(out);
    /* 1, 1.8, 50 and 11 d: t_n 8.29 d */
    out = answer("taper @ --model runners --quiet");
    ASSERT_WORDS(out, "The last session that still helps lies 9 days before");
    free(out);
    /* of several it is told in one line, and of a kind that has none not */
    write_log("back-03,wing-07", "2026-03-28", 1, NULL);
    out = answer("taper @ --model classic --quiet --notes");
    ASSERT_WORDS(out, "The last session that still helps, in days before the "
                      "event: back-03 16, wing-07 16.");
    free(out);
    out = answer("taper @ --model busso-2003 --quiet --notes");
    CU_ASSERT_PTR_NULL(strstr(out, "last session that"));
    free(out);
    write_log("wing-07", "2026-03-28", 1, NULL);
    test_file(2, "events.csv", "event,start\nCup,2026-04-08\n");
    out = answer("taper @ --model classic --quiet");
    ASSERT_WORDS(out, "None of the sessions left before the event still helps");
    free(out);
    test_folder_done();
}

/* ---- the squad view ---- */

enum { CELLS = 20 };

/* Cells of a row of CSV; quotes are taken off. Returns the next row. */
static char *csv_cells(char *line, char *cell[CELLS]) {
    char *end = strchr(line, '\n');
    size_t count = 0;
    CU_ASSERT_PTR_NOT_NULL_FATAL(end);
    *end = '\0';
    while (count < CELLS) {
        bool quoted = *line == '"';
        size_t length;
        line += quoted;
        length = strcspn(line, quoted ? "\"" : ",");
        cell[count++] = line;
        line += length;
        if (quoted)
            *line++ = '\0';
        if (!*line)
            break;
        *line++ = '\0';
    }
    while (count < CELLS)
        cell[count++] = end;
    return end + 1;
}

typedef struct {
    char athlete[20], plan[4], option[40], own[40], worth[10];
    double plans, gain, kept, own_gain, possible, loss, better;
} SquadRow;

enum { SQUAD_ROWS = 60 };

static size_t squad_rows(const char *arguments, SquadRow rows[SQUAD_ROWS]) {
    char *out = answer(arguments), *cell[CELLS];
    char *line = csv_cells(out, cell);
    size_t count = 0;
    ASSERT_TEXT(cell[10], "loss");
    ASSERT_TEXT(cell[14], "worth");
    while (*line && count < SQUAD_ROWS) {
        SquadRow *r = &rows[count++];
        line = csv_cells(line, cell);
        snprintf(r->athlete, sizeof r->athlete, "%s", cell[0]);
        snprintf(r->plan, sizeof r->plan, "%s", cell[3]);
        snprintf(r->option, sizeof r->option, "%s", cell[4]);
        snprintf(r->own, sizeof r->own, "%s", cell[7]);
        snprintf(r->worth, sizeof r->worth, "%s", cell[14]);
        r->plans = atof(cell[2]);
        r->gain = atof(cell[5]);
        r->kept = atof(cell[6]);
        r->own_gain = atof(cell[8]);
        r->possible = atof(cell[9]);
        r->loss = atof(cell[10]);
        r->better = *cell[13] ? atof(cell[13]) : NAN;
    }
    free(out);
    return count;
}

static void write_squad(double scale) {
    write_log("back-01,back-02,wing-07", "2026-03-28", scale, NULL);
    write_week(scale, "");
    test_file(2, "events.csv", "event,start\nCup,2026-04-20\n");
    test_file(3, "athletes.csv",
              "athlete,model\nback-01,classic\nback-02,runners\nwing-07,"
              "hammer-thrower\n");
}

/* Gain and share kept of each option of `taper --csv` for one athlete. */
typedef struct {
    char option[40];
    double gain, kept;
} Searched;

static size_t searched(const char *athlete, Searched *items, size_t most,
                       double *possible) {
    char arguments[100], *out, *line, *cell[CELLS];
    size_t count = 0;
    snprintf(arguments, sizeof arguments, "taper @ --csv --quiet --athlete %s",
             athlete);
    out = answer(arguments);
    line = csv_cells(out, cell);
    while (*line && count < most) {
        line = csv_cells(line, cell);
        if (strcmp(cell[13], "ceiling") == 0)
            *possible = atof(cell[9]);
        else if (count == 0 || strcmp(items[count - 1].option, cell[2]) != 0) {
            snprintf(items[count].option, sizeof items[count].option, "%s",
                     cell[2]);
            items[count].gain = atof(cell[9]);
            items[count++].kept = atof(cell[11]);
        }
    }
    free(out);
    return count;
}

/* What `taper --csv` recommends to an athlete under a change, the gain of that
 * and of another option. */
static void recommended_under(const char *athlete, const char *change,
                              const char *other, char option[40], double *gain,
                              double *other_gain) {
    char arguments[160], *out, *line, *cell[CELLS];
    snprintf(arguments, sizeof arguments,
             "taper @ --csv --quiet --athlete %s%s%s", athlete,
             *change ? " --missed " : "", change);
    out = answer(arguments);
    line = csv_cells(out, cell);
    *gain = *other_gain = NAN;
    while (*line) {
        line = csv_cells(line, cell);
        if (strcmp(cell[2], other) == 0)
            *other_gain = atof(cell[9]);
        if (strcmp(cell[13], "recommended") != 0)
            continue;
        snprintf(option, 40, "%s", cell[2]);
        *gain = atof(cell[9]);
    }
    free(out);
    CU_ASSERT(isfinite(*gain));
}

/* Who is told to carry on is recommended what they had, all others something
 * that gains over 5 % of what their plan gained: by the options' own gains. */
static void carry_on(void) {
    static const char *const names[] = {"back-01", "back-02", "wing-07"};
    static const char *const missed[] = {
        "2026-03-30", "2026-04-01", "2026-04-06", "2026-04-08", "2026-04-15"};
    folder = test_folder();
    write_squad(1);
    for (size_t i = 0; i < 15; i++) {
        const char *who = names[i % 3], *day = missed[i / 3];
        char arguments[100], says[60], was[40], now[40], *out;
        double gain_was, gain_now, carried, unused;
        recommended_under(who, "", "", was, &gain_was, &unused);
        recommended_under(who, day, was, now, &gain_now, &carried);
        snprintf(arguments, sizeof arguments,
                 "taper @ --quiet --athlete %s --missed %s", who, day);
        out = answer(arguments);
        snprintf(says, sizeof says, "%s: carry on with the plan as it was",
                 who);
        if (strstr(out, says))
            ASSERT_TEXT(now, was);
        else
            CU_ASSERT(gain_now - carried > .05 * gain_was);
        free(out);
    }
    test_folder_done();
}

/* One plan for three, against every option that `taper` lists. */
static void one_plan(void) {
    enum { MOST = 4000 };
    static Searched items[3][MOST];
    static const char *const names[] = {"back-01", "back-02", "wing-07"};
    SquadRow rows[SQUAD_ROWS];
    double possible[3] = {0}, own[3] = {0}, least = INFINITY, lost = 0;
    size_t count = 0, given = MOST;
    folder = test_folder();
    write_squad(1);
    CU_ASSERT_EQUAL_FATAL(squad_rows("taper @ --csv --quiet --groups 1", rows),
                          3);
    for (int a = 0; a < 3; a++) {
        count = searched(names[a], items[a], MOST, &possible[a]);
        CU_ASSERT_FATAL(count > 100);
        for (size_t k = 0; k < count; k++)
            own[a] = fmax(own[a], items[a][k].gain);
    }
    for (size_t k = 0; k < count; k++) {
        double total = 0;
        for (int a = 0; a < 3; a++) {
            ASSERT_TEXT(items[a][k].option, items[0][k].option);
            total += 1 - items[a][k].gain / own[a];
        }
        least = fmin(least, total);
        if (strcmp(items[0][k].option, rows[0].option) == 0)
            given = k;
    }
    CU_ASSERT_FATAL(given < MOST);
    for (int a = 0; a < 3; a++) {
        double loss = own[a] - items[a][given].gain;
        ASSERT_TEXT(rows[a].option, rows[0].option);
        ASSERT_NEAR(rows[a].own_gain, own[a], 1e-7);
        ASSERT_NEAR(rows[a].gain, items[a][given].gain, 1e-7);
        ASSERT_NEAR(rows[a].possible, possible[a], 1e-7);
        ASSERT_NEAR(rows[a].loss, loss / possible[a], 1e-7);
        ASSERT_TEXT(rows[a].worth, loss <= .15 * own[a] ? "no" : "yes");
        lost += loss / own[a];
    }
    /* within 5 % of the best for all, and what losses are rounded by */
    CU_ASSERT(3 - lost >= .95 * (3 - least) - 3 * .01);
    test_folder_done();
}

/* As many plans as leave nobody with a loss over 15 % of their own, and no
 * more; fewer lose more. */
static void more_plans(void) {
    SquadRow rows[SQUAD_ROWS];
    double lost[SQUAD_PLANS_MOST + 1] = {0};
    size_t count, last;
    folder = test_folder();
    write_squad(1);
    count = squad_rows("taper @ --csv --quiet --groups 8", rows);
    CU_ASSERT_EQUAL_FATAL(count % 3, 0);
    last = count / 3;
    CU_ASSERT_FATAL(last >= 2);
    for (size_t i = 0; i < count; i++) {
        size_t plans = i / 3 + 1;
        double most = .15 * rows[i].own_gain;
        bool within = rows[i].own_gain - rows[i].gain <= 1.000001 * most;
        CU_ASSERT_EQUAL(rows[i].plans, (double)plans);
        lost[plans] = fmax(lost[plans], within ? 0 : rows[i].loss);
        ASSERT_TEXT(rows[i].worth, within ? "no" : "yes");
    }
    for (size_t n = 1; n < last; n++)
        CU_ASSERT(lost[n] > 0);
    CU_ASSERT_EQUAL(lost[last], 0);
    test_folder_done();
}

/* One of them has another event on the way, so fewer days: gains are those
 * that `compare` tells of the same taper. */
static void unequal_windows(void) {
    SquadRow rows[SQUAD_ROWS];
    size_t count;
    folder = test_folder();
    write_squad(1);
    test_file(2, "events.csv",
              "event,start,athlete,load_per_day\nCup,2026-04-20,,500\n"
              "Trial,2026-04-09,wing-07,300\n");
    count = squad_rows("taper @ --csv --quiet --event Cup --groups 2", rows);
    CU_ASSERT_FATAL(count > 0 && count % 3 == 0);
    for (size_t i = 0; i < count; i++) {
        char arguments[400], *out, *cell[CELLS], *line;
        snprintf(arguments, sizeof arguments,
                 "compare @ --csv --quiet --event Cup --athlete %.20s --option "
                 "%.40s --option %.40s",
                 rows[i].athlete, rows[i].option, rows[i].own);
        out = answer(arguments);
        line = csv_cells(out, cell);
        line = csv_cells(line, cell);
        ASSERT_NEAR(atof(cell[6]), rows[i].gain, 1e-7);
        csv_cells(line, cell);
        ASSERT_NEAR(atof(cell[6]), rows[i].own_gain, 1e-7);
        CU_ASSERT(rows[i].loss >= -1e-12);
        free(out);
    }
    test_folder_done();
}

/* Loads in another unit change no advice. */
static void other_unit(void) {
    SquadRow rows[SQUAD_ROWS], other[SQUAD_ROWS];
    size_t count;
    folder = test_folder();
    write_squad(1);
    count = squad_rows("taper @ --csv --quiet --groups 2", rows);
    write_squad(7);
    CU_ASSERT_EQUAL_FATAL(squad_rows("taper @ --csv --quiet --groups 2", other),
                          count);
    for (size_t i = 0; i < count; i++) {
        ASSERT_TEXT(other[i].option, rows[i].option);
        ASSERT_TEXT(other[i].plan, rows[i].plan);
        ASSERT_TEXT(other[i].worth, rows[i].worth);
        ASSERT_NEAR(other[i].loss, rows[i].loss, 1e-7);
    }
    test_folder_done();
}

/* With draws the difference must be likely, not only there. */
static void likely_worth(void) {
    SquadRow rows[SQUAD_ROWS];
    size_t count, unsure = 0;
    folder = test_folder();
    write_squad(1);
    test_file(3, "athletes.csv",
              "athlete,model\nback-01,fast.csv\nback-02,slow.csv\n"
              "wing-07,slow.csv\n");
    test_file(4, "fast.csv",
              "parameter,value,spread\nkind,two-component,\np0,0,\nk1,1,\n"
              "k2,1.6,.6\ntau1,35,.4\ntau2,6,.8\n");
    test_file(5, "slow.csv",
              "parameter,value,spread\nkind,two-component,\np0,0,\nk1,1,\n"
              "k2,3,.5\ntau1,50,.2\ntau2,12,.4\n");
    count = squad_rows("taper @ --csv --quiet --groups 1", rows);
    CU_ASSERT_EQUAL_FATAL(count, 3);
    for (size_t i = 0; i < count; i++) {
        bool small = rows[i].own_gain - rows[i].gain <= .15 * rows[i].own_gain;
        if (small)
            ASSERT_TEXT(rows[i].worth, "no");
        else if (isnan(rows[i].better))
            ASSERT_TEXT(rows[i].worth, "yes");
        else
            ASSERT_TEXT(rows[i].worth, rows[i].better < .95 ? "unsure" : "yes");
        unsure += strcmp(rows[i].worth, "unsure") == 0;
    }
    CU_ASSERT(unsure > 0);
    test_folder_done();
}

/* ---- options beside each other ---- */

#define COMPARED                                                               \
    "compare @ --model literature --option none --option 8d-50 --option "      \
    "14d-60"
#define IN_HOW_MANY "the row gains more than the column"

/* In how many of 100 models a row of the table gains more than each column. */
static void read_pairs(const char *table, const char *name, double of[3]) {
    char line[20], cell[3][8];
    const char *at;
    snprintf(line, sizeof line, "\n%s ", name);
    at = strstr(table, line);
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    CU_ASSERT_EQUAL_FATAL(
        sscanf(at + strlen(line), "%7s %7s %7s", cell[0], cell[1], cell[2]), 3);
    for (int i = 0; i < 3; i++)
        of[i] = strcmp(cell[i], "-") == 0 ? NAN : atof(cell[i]);
}

/* Where one gains more, the other does not; beside none it is what --csv says.
 * With nine options the table would be too wide, with one there is no pair. */
static void pairs(void) {
    static const char *const name[] = {"none", "8d-50", "14d-60"};
    double of[3][3];
    char *text, *csv, *line, *table, *cell[CELLS];
    folder = test_folder();
    write_season("wing-07", "2026-03-28", NULL);
    csv = answer(COMPARED " --csv --quiet");
    text = answer(COMPARED " --notes");
    ASSERT_HAS(text, IN_HOW_MANY);
    table = strstr(text, "Assumptions");
    CU_ASSERT_PTR_NOT_NULL_FATAL(table);
    line = csv_cells(csv, cell);
    for (int i = 0; i < 3; i++) {
        read_pairs(table, name[i], of[i]);
        CU_ASSERT(isnan(of[i][i]));
        line = csv_cells(line, cell);
        ASSERT_TEXT(cell[10], name[i]);
        if (i > 0)
            ASSERT_NEAR(of[i][0], 100 * atof(cell[9]), .5);
        for (int k = 0; k < i; k++)
            ASSERT_NEAR(of[i][k] + of[k][i], 100, 1);
    }
    free(text);
    free(csv);
    text =
        answer(COMPARED " --notes --option 3d-50 --option 4d-50 --option "
                        "5d-50 --option 6d-50 --option 7d-50 --option 9d-50");
    CU_ASSERT_PTR_NULL(strstr(text, IN_HOW_MANY));
    free(text);
    text = answer("compare @ --model literature --option 8d-50 --notes");
    CU_ASSERT_PTR_NULL(strstr(text, IN_HOW_MANY));
    free(text);
    test_folder_done();
}

/* ---- pictures ---- */

static void check_picture(const char *name, const char *const *parts) {
    char path[400];
    size_t length;
    char *svg;
    snprintf(path, sizeof path, "%s/p/%s", folder, name);
    svg = test_read(path, &length);
    CU_ASSERT_PTR_NOT_NULL_FATAL(svg);
    for (; *parts; parts++)
        ASSERT_HAS(svg, *parts);
    ASSERT_HAS(svg, "</svg>");
    free(svg);
}

static void squad_pictures(void) {
    folder = test_folder();
    write_squad(1);
    free(answer("taper @ --quiet --groups 2 --out @/p"));
    check_picture("squad-losses.svg",
                  (const char *const[]){"back-01", "wing-07",
                                        "A: ", "B: ", "assigned taper", NULL});
    free(answer("compare @ --quiet --athlete back-01 --model literature "
                "--option none --option "
                "rest=3d-100 --option 14d-50 --out @/p"));
    check_picture(
        "back-01-fan.svg",
        (const char *const[]){"none", "rest", "14d-50", "90 % range", NULL});
    free(answer("taper @ --quiet --groups 2 --out @/p --format text"));
    free(answer("compare @ --quiet --out @/p --format text"));
    test_folder_done();
}

/* ---- README ---- */

/* Commands of the section on questions, a line each, continued lines joined;
 * to be freed. */
static char *question_commands(void) {
    char *readme = test_read("README.md", NULL), *line, *end;
    Text text = {0};
    bool more = false;
    CU_ASSERT_PTR_NOT_NULL_FATAL(readme);
    line = strstr(readme, "## Questions people ask");
    end = line ? strstr(line, "\n## Commands") : NULL;
    CU_ASSERT_PTR_NOT_NULL_FATAL(end);
    *end = '\0';
    for (line = strtok(line, "\n"); line; line = strtok(NULL, "\n")) {
        size_t length = strlen(line);
        if (!more && strncmp(line, "    peakward ", 13) != 0)
            continue;
        more = line[length - 1] == '\\';
        text_put(&text, line + 4, length - 4 - more);
        text_put(&text, more ? " " : "\n", 1);
    }
    free(readme);
    return text.data;
}

/* Each question's command works on the demo season and gives the answer that
 * the text says. */
static void questions(void) {
    static const char *const said[] = {
        "long rest *",
        "of the",
        "Tue and Thu only, from now on",
        "own taper",
        "Mon 13 Apr no training",
        "Mon 13 Apr a load of 700",
    };
    char *commands = question_commands(), *command = commands;
    size_t count = 0;
    folder = test_folder();
    while (*command && count < sizeof said / sizeof said[0]) {
        const char *words[] = {"/bin/sh", "-c", NULL, NULL};
        char *end = strchr(command, '\n'), *into, *out, *err;
        Text text = {0};
        *end = '\0';
        into = strstr(command, "--out pictures");
        if (into)
            *into = '\0';
        text_add(&text, "peakward() { '%s' \"$@\"; }; %s", test_program(),
                 command);
        if (into)
            text_add(&text, "--out '%s/p'", folder);
        words[2] = text_of(&text);
        CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
        ASSERT_HAS(out, said[count]);
        count++;
        free(out);
        free(err);
        text_free(&text);
        command = end + 1;
    }
    CU_ASSERT_EQUAL(count, sizeof said / sizeof said[0]);
    CU_ASSERT_EQUAL(*command, '\0');
    free(commands);
    test_folder_done();
}

static const TestCase cases[] = {{"logged_day", logged_day},
                                 {"logged_day_timed", logged_day_timed},
                                 {"day_to_come", day_to_come},
                                 {"never_added_back", never_added_back},
                                 {"only_some_days", only_some_days},
                                 {"days_go_on", days_go_on},
                                 {"effect_of_change", effect_of_change},
                                 {"effect_on_handed", effect_on_handed},
                                 {"handed_told", handed_told},
                                 {"replan_worth", replan_worth},
                                 {"carry_on", carry_on},
                                 {"last_session", last_session},
                                 {"one_plan", one_plan},
                                 {"more_plans", more_plans},
                                 {"unequal_windows", unequal_windows},
                                 {"pairs", pairs},
                                 {"other_unit", other_unit},
                                 {"likely_worth", likely_worth},
                                 {"squad_pictures", squad_pictures},
                                 {"questions", questions},
                                 {NULL, NULL}};

const TestSuite suite_program_squad_plans = {"program", cases};
