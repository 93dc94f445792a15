/* numbers: what the commands print, computed here again from the same files:
 * readiness as a plain sum over all loads, the numbers of a fit from its
 * residual sums, landmarks from their closed forms.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/date.h"
#include "base/table.h"
#include "base/text.h"
#include "season/season.h"
#include "taper/option.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- a table that a command printed ---- */

enum { COLUMNS_MOST = 24, ROWS_MOST = 5000 };

typedef struct {
    size_t columns, rows;
    char *heading[COLUMNS_MOST];
    char **cell; /* [row * columns + column] */
} Sheet;

static char *copy_of(const char *text) {
    char *copy = malloc(strlen(text) + 1);
    strcpy(copy, text);
    return copy;
}

static void sheet_read(char *csv, Sheet *s) {
    FILE *file = fmemopen(csv, strlen(csv), "r");
    Notes notes = {0};
    Table *table = table_open_stream(file, "answer", NULL, &notes);
    TableRow row;
    *s = (Sheet){0};
    CU_ASSERT_PTR_NOT_NULL_FATAL(table);
    s->columns = table_width(table);
    CU_ASSERT_FATAL(s->columns <= COLUMNS_MOST);
    s->cell = malloc(ROWS_MOST * s->columns * sizeof *s->cell);
    for (size_t i = 0; i < s->columns; i++)
        s->heading[i] = copy_of(table_heading(table, i));
    while (s->rows < ROWS_MOST && table_next(table, &row))
        for (size_t i = 0; i < s->columns; i++)
            s->cell[s->rows * s->columns + i] = copy_of(row.cells[i]),
                                           s->rows += i + 1 == s->columns;
    CU_ASSERT_EQUAL(notes.count, 0);
    table_close(table);
    fclose(file);
    notes_free(&notes);
}

static void sheet_free(Sheet *s) {
    for (size_t i = 0; i < s->columns; i++)
        free(s->heading[i]);
    for (size_t i = 0; i < s->rows * s->columns; i++)
        free(s->cell[i]);
    free(s->cell);
}

static const char *cell_at(const Sheet *s, size_t row, const char *heading) {
    for (size_t i = 0; i < s->columns && row < s->rows; i++)
        if (strcmp(s->heading[i], heading) == 0)
            return s->cell[row * s->columns + i];
    CU_FAIL("no such cell");
    return "";
}

/* NAN of a blank cell. */
static double number_at(const Sheet *s, size_t row, const char *heading) {
    const char *text = cell_at(s, row, heading);
    return *text ? strtod(text, NULL) : NAN;
}

/* The row in which two columns read so; s->rows if there is none. */
static size_t find_row(const Sheet *s, const char *one, const char *is,
                       const char *other, const char *reads) {
    size_t row = 0;
    while (row < s->rows && (strcmp(cell_at(s, row, one), is) != 0 ||
                             strcmp(cell_at(s, row, other), reads) != 0))
        row++;
    CU_ASSERT(row < s->rows);
    return row;
}

/* ---- a run that must succeed ---- */

static const char *folder;

/* Standard output, to be freed. */
static char *ask(const char *arguments) {
    char *out, *err;
    int code = test_command(arguments, folder, &out, &err);
    if (code != 0) {
        fprintf(stderr, "%s: exit %d: %s", arguments, code, err);
        CU_FAIL("the run must succeed");
    }
    free(err);
    return out;
}

static Sheet ask_sheet(const char *arguments) {
    char *out = ask(arguments);
    Sheet sheet;
    sheet_read(out, &sheet);
    free(out);
    return sheet;
}

/* A table that the program wrote into the folder. */
static Sheet file_sheet(const char *name) {
    char path[400], *csv;
    Sheet sheet;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    csv = test_read(path, NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(csv);
    sheet_read(csv, &sheet);
    free(csv);
    return sheet;
}

/* The answer with one blank for each stretch of blanks and line ends. */
static char *ask_words(const char *arguments) {
    char *out = ask(arguments), *to = out;
    for (const char *at = out; *at; at++)
        if (*at != ' ' && *at != '\n')
            *to++ = *at;
        else if (to > out && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
    return out;
}

/* Does the answer hold these words? */
static void ask_has(const char *arguments, const char *part) {
    char *out = ask_words(arguments);
    ASSERT_HAS(out, part);
    free(out);
}

/* Exit code 1 or 2 with a message and no answer. */
static void ask_refused(const char *arguments, int code, const char *message) {
    char *out, *err;
    CU_ASSERT_EQUAL(test_command(arguments, folder, &out, &err), code);
    ASSERT_HAS(err, message);
    ASSERT_TEXT(out, "");
    free(out);
    free(err);
}

/* ---- the season: 84 days from Monday 2026-01-05, an event on day 103 ---- */

enum { LOGGED = 84, EVENT = 103 };

static const double week_load[7] = {300, 0, 450, 250, 0, 120, 0};

static Date first_day(void) {
    return date_of((Civil){2026, 1, 5});
}

static double log_load(int day) {
    int weekday = day % 7;
    if (weekday == 1 || weekday == 6)
        return 0;
    return 180 + 30 * (day * day % 11) + (day / 14 % 2 ? 150 : 0);
}

static double own_load(int day) {
    return day < LOGGED ? log_load(day) : day < EVENT ? week_load[day % 7] : 0;
}

static void write_log(const char *athletes[2]) {
    Text text = {0};
    char day[DATE_TEXT];
    text_add(&text, "date,athlete,load\n");
    for (int a = 0; a < 2 && athletes[a]; a++)
        for (int d = 0; d < LOGGED; d++)
            text_add(&text, "%s,%s,%g\n",
                     date_write(day, first_day() + (Date)d), athletes[a],
                     log_load(d));
    test_file(0, "sessions.csv", text_of(&text));
    text_free(&text);
}

/* tau1 41 d and tau2 12 d, which tests made from it can tell. */
static const double level = 60, k1 = .021, k2 = .043, tau1 = 41, tau2 = 12;

static void open_season(bool two) {
    const char *athletes[2] = {"wing-07", two ? "back-03" : NULL};
    folder = test_folder();
    write_log(athletes);
    test_file(1, "events.csv", "event,start\nCup,2026-04-18\n");
    test_file(2, "week.csv",
              "weekday,session,load\nmon,A,300\nwed,B,450\nthu,C,250\n"
              "sat,D,120\n");
    test_file(3, "own.csv",
              "parameter,value,spread,unit,source\n"
              "kind,two-component,,,invented\np0,60,,cm,\nk1,0.021,,,\n"
              "k2,0.043,,,\ntau1,41,,d,\ntau2,12,,d,\n");
}

/* What one exponential has kept of all loads before a day (or with that day's
 * own), each added up alone; `before` a day for ever ahead of the log. */
static double kept_of(int day, double tau, double before, bool own, int from,
                      double share) {
    double sum = before * exp(-(day + 1) / tau) / (1 - exp(-1 / tau));
    for (int d = 0; d < day + own; d++)
        sum += (d >= from && d < EVENT ? share : 1) * own_load(d) *
               exp(-(day - d) / tau);
    return sum;
}

static double first_mean(void) {
    double sum = 0;
    for (int d = 0; d < 28; d++)
        sum += log_load(d);
    return sum / 28;
}

/* ---- simulate ---- */

static void check_curve(const char *arguments, double before, bool after,
                        int from, double share) {
    Sheet s = ask_sheet(arguments);
    char day[DATE_TEXT];
    CU_ASSERT_EQUAL_FATAL(s.rows, EVENT + 1);
    for (int d = 0; d <= EVENT; d++) {
        size_t row = (size_t)d;
        double fitness = k1 * kept_of(d, tau1, before, after, from, share);
        double fatigue = k2 * kept_of(d, tau2, before, after, from, share);
        ASSERT_TEXT(cell_at(&s, row, "date"),
                    date_write(day, first_day() + (Date)d));
        ASSERT_NEAR(number_at(&s, row, "load"),
                    own_load(d) * (d >= from && d < EVENT ? share : 1), 1e-5);
        ASSERT_NEAR(number_at(&s, row, "fitness"), fitness, 1e-5);
        ASSERT_NEAR(number_at(&s, row, "fatigue"), fatigue, 1e-5);
        ASSERT_NEAR(number_at(&s, row, "readiness"), level + fitness - fatigue,
                    1e-5);
        ASSERT_TEXT(cell_at(&s, row, "phase"), d < LOGGED  ? "logged"
                                               : d < EVENT ? "planned"
                                                           : "event");
    }
    sheet_free(&s);
}

static void simulate_days(void) {
    open_season(false);
    check_curve("simulate @ --model @/own.csv --csv", first_mean(), false, 0,
                1);
    check_curve("simulate @ --model @/own.csv --csv --when after", first_mean(),
                true, 0, 1);
    check_curve("simulate @ --model @/own.csv --csv --before nothing", 0, false,
                0, 1);
    check_curve("simulate @ --model @/own.csv --csv --option none",
                first_mean(), false, 0, 1);
    check_curve("simulate @ --model @/own.csv --csv --option 7d-60",
                first_mean(), false, EVENT - 7, .4);
    test_folder_done();
}

/* The lines of an answer that begin with a date. */
static size_t count_dates(const char *text) {
    size_t count = 0;
    for (const char *at = text; at; at = strchr(at, '\n')) {
        at += *at == '\n';
        count += strncmp(at, "2026-", 5) == 0 || strncmp(at, "  2026-", 7) == 0;
    }
    return count;
}

/* Mondays until 14 days before the log's end, then every day: of days 0 to 69
 * ten are Mondays, and 70 to 103 are 34 days. */
static void simulate_text(void) {
    char *out;
    open_season(false);
    out = ask("simulate @ --model @/own.csv --option 7d-60");
    CU_ASSERT_EQUAL(count_dates(out), 44);
    ASSERT_HAS(out, "taper begins");
    free(out);
    ask_has("simulate @ --model @/own.csv",
            "gives no spread for its parameters");
    ask_has("simulate @", "all set equal on the last logged day");
    ask_has("simulate @ --option best", "taper begins");
    ask_has("simulate @ --model @/own.csv --out @/p --format text",
            "/p/wing-07-season.txt");
    ask_has("taper @ --model @/own.csv --out @/p --format text",
            "/p/wing-07-taper.txt"); /* not in the other's place */
    test_file(1, "events.csv", "event,start\nCup,2025-04-18\n");
    ask_refused("simulate @ --option 7d-60", 1,
                "event: no event after today, 2026-03-29; expected");
    test_file(1, "events.csv", "event,start\nCup,2026-03-30\n");
    ask_refused("simulate @ --option best", 1,
                "wing-07: no day is left to taper in before 'Cup'");
    test_folder_done();
}

/* ---- load ---- */

/* A week of 100, 200, 300, 400, 500, 600, 0: mean 300, squares of the
 * deviations 280,000, SD sqrt(280,000/6) = 216.0247, monotony 1.388730, strain
 * 2100 x 1.388730 = 2916.333, by hand. The second week has a day not recorded,
 * the third two days. */
static void load_weeks(void) {
    Sheet s;
    folder = test_folder();
    test_file(0, "sessions.csv",
              "date,athlete,load\n2026-01-05,wing-07,100\n"
              "2026-01-06,wing-07,200\n2026-01-07,wing-07,300\n"
              "2026-01-08,wing-07,400\n2026-01-09,wing-07,500\n"
              "2026-01-10,wing-07,600\n2026-01-12,wing-07,70\n"
              "2026-01-14,wing-07,\n2026-01-19,wing-07,90\n"
              "2026-01-20,wing-07,45\n");
    s = ask_sheet("load @ --weekly --csv");
    CU_ASSERT_EQUAL(s.rows, 3);
    ASSERT_TEXT(cell_at(&s, 0, "week"), "2026-01-05");
    ASSERT_NEAR(number_at(&s, 0, "load"), 2100, 1e-9);
    ASSERT_NEAR(number_at(&s, 0, "monotony"), 1.388730, 1e-6);
    ASSERT_NEAR(number_at(&s, 0, "strain"), 2916.333, 1e-6);
    ASSERT_TEXT(cell_at(&s, 1, "load"), "");
    ASSERT_TEXT(cell_at(&s, 1, "monotony"), "");
    ASSERT_TEXT(cell_at(&s, 2, "days"), "2");
    ASSERT_NEAR(number_at(&s, 2, "load"), 135, 1e-9);
    ASSERT_TEXT(cell_at(&s, 2, "strain"), "");
    sheet_free(&s);
    s = ask_sheet("load @ --csv");
    CU_ASSERT_EQUAL(s.rows, 16);
    ASSERT_NEAR(number_at(&s, 3, "load"), 400, 1e-9);
    ASSERT_NEAR(number_at(&s, 6, "load"), 0, 0);
    ASSERT_TEXT(cell_at(&s, 9, "load"), "");
    sheet_free(&s);
    ask_has("load @ --weekly", "2026-01-05 7 2100 1.39 2916");
    ask_has("load @", "2026-01-12 70 . ? . . . . -");
    test_folder_done();
}

/* Small loads keep a decimal; an athlete without sessions is named. */
static void load_kilometres(void) {
    char *out, *err;
    folder = test_folder();
    test_file(0, "sessions.csv",
              "date,athlete,load\n2026-01-05,wing-07,8.5\n"
              "2026-01-07,wing-07,12.25\n");
    test_file(1, "athletes.csv", "athlete\nwing-07\nkeeper-01\n");
    CU_ASSERT_EQUAL(test_command("load @", folder, &out, &err), 0);
    ASSERT_HAS(err, "'keeper-01' has no sessions and is left out");
    ASSERT_HAS(out, "2026-01-05  8.5    .  12.2");
    free(out);
    free(err);
    test_folder_done();
}

/* ---- models ---- */

/* Half-lives tau ln 2 and, for two components, t_n and t_g by their closed
 * forms, from the parameters in the same row. */
static void models_table(void) {
    Sheet s;
    size_t two = 0;
    folder = test_folder();
    s = ask_sheet("models --csv");
    CU_ASSERT(s.rows >= 7);
    for (size_t i = 0; i < s.rows; i++) {
        double a = number_at(&s, i, "tau1"), b = number_at(&s, i, "tau2");
        double ratio = number_at(&s, i, "k2") / number_at(&s, i, "k1");
        double scale = a * b / (a - b);
        ASSERT_NEAR(number_at(&s, i, "half_life_fitness"), a * log(2), 1e-6);
        if (isfinite(b))
            ASSERT_NEAR(number_at(&s, i, "half_life_fatigue"), b * log(2),
                        1e-6);
        CU_ASSERT(*cell_at(&s, i, "source"));
        if (strcmp(cell_at(&s, i, "kind"), "two-component") != 0)
            continue;
        two++;
        ASSERT_NEAR(number_at(&s, i, "t_n"), scale * log(ratio), 1e-6);
        ASSERT_NEAR(number_at(&s, i, "t_g"), scale * log(a / b * ratio), 1e-6);
    }
    CU_ASSERT_EQUAL(two, 3); /* classic, runners, hammer-thrower */
    sheet_free(&s);
    /* the classic set: 45 ln 2, 15 ln 2, 22.5 ln 2, 22.5 ln 6 */
    ask_has("models --model classic",
            "classic two-component 45.0 15.0 2 31.2 10.4 15.6 40.3");
    ask_has("models", "Millet et al. 2002");
    test_folder_done();
}

static void models_drawn(void) {
    char path[400], *picture;
    folder = test_folder();
    ask_has("models --model classic --out @/p --format text",
            "/p/classic-influence.txt");
    snprintf(path, sizeof path, "%s/p/classic-influence.txt", folder);
    picture = test_read(path, NULL);
    ASSERT_HAS(picture, "What a session does to readiness at the event");
    free(picture);
    test_folder_done();
}

/* ---- fit ---- */

enum { TESTS = 16 };

static int test_day(int i) {
    return 4 + 5 * i;
}

/* A reading of the season's own model, with a wobble that has no pattern. */
static double reading(int i, double wobble) {
    static const double noise[TESTS] = {.3,  -.5, .2, .6,  -.4, -.1, .5, -.6,
                                        -.2, .4,  .1, -.3, .6,  -.5, .2, -.3};
    int day = test_day(i);
    return level + k1 * kept_of(day, tau1, first_mean(), false, 0, 1) -
           k2 * kept_of(day, tau2, first_mean(), false, 0, 1) +
           wobble * noise[i];
}

static double mean_reading(double wobble) {
    double sum = 0;
    for (int i = 0; i < TESTS; i++)
        sum += reading(i, wobble);
    return sum / TESTS;
}

/* Tests as they read, or turned round about their mean so that lower is
 * better: the size of a test, on which its prior rests, stays. */
static void write_tests(double wobble, bool lower) {
    double turn = 2 * mean_reading(wobble);
    Text text = {0};
    char day[DATE_TEXT];
    text_add(&text, "date,athlete,test,value,better\n");
    for (int i = 0; i < TESTS; i++) {
        double value = reading(i, wobble);
        text_add(&text, "%s,wing-07,%s,%.6f,%s\n",
                 date_write(day, first_day() + (Date)test_day(i)),
                 lower ? "Sprint" : "Jump", lower ? turn - value : value,
                 lower ? "lower" : "higher");
    }
    test_file(4, "tests.csv", text_of(&text));
    text_free(&text);
}

static double fitted(const Sheet *s, const char *model, const char *quantity) {
    return number_at(s, find_row(s, "model", model, "quantity", quantity),
                     "estimate");
}

static double own_aicc(double rss, double free_ones) {
    double k = free_ones + 1, n = TESTS; /* the variance is one more */
    return n * log(rss / n) + 2 * k + 2 * k * (k + 1) / (n - k - 1);
}

/* The residual sum is no larger than that of the truth; the rest follows from
 * it: R2, AICc (Hurvich, Tsai 1989) and the F test. */
static void fit_numbers(void) {
    Sheet s;
    double mean, all = 0, truth = 0, rss, one;
    open_season(false);
    write_tests(1, false);
    mean = mean_reading(1);
    for (int i = 0; i < TESTS; i++) {
        all += pow(reading(i, 1) - mean, 2);
        truth += pow(reading(i, 1) - reading(i, 0), 2);
    }
    s = ask_sheet("fit @ --model literature --csv --quiet");
    rss = fitted(&s, "two-component", "rss");
    one = fitted(&s, "one-component", "rss");
    CU_ASSERT(rss <= truth + 1e-5);
    CU_ASSERT(one >= rss);
    ASSERT_NEAR(fitted(&s, "constant", "rss"), all, 1e-5);
    ASSERT_NEAR(fitted(&s, "two-component", "r2"), 1 - rss / all, 1e-5);
    ASSERT_NEAR(fitted(&s, "two-component", "tests"), TESTS, 0);
    ASSERT_NEAR(fitted(&s, "two-component", "sigma"), sqrt(rss / (TESTS - 5)),
                1e-5);
    ASSERT_NEAR(fitted(&s, "two-component", "aicc"), own_aicc(rss, 5), 1e-4);
    ASSERT_NEAR(fitted(&s, "one-component", "aicc"), own_aicc(one, 3), 1e-4);
    ASSERT_NEAR(fitted(&s, "constant", "aicc"), own_aicc(all, 1), 1e-4);
    ASSERT_NEAR(fitted(&s, "two-component", "p_training"),
                gsl_cdf_fdist_Q((all - rss) / 4 / (rss / 11), 4, 11), 1e-4);
    ASSERT_NEAR(fitted(&s, "two-component", "p_fatigue"),
                gsl_cdf_fdist_Q((one - rss) / 2 / (rss / 11), 2, 11), 1e-4);
    sheet_free(&s);
    test_folder_done();
}

/* Readings without noise give the truth back. */
static void fit_truth(void) {
    Sheet s;
    open_season(false);
    write_tests(0, false);
    s = ask_sheet("fit @ --model literature --csv --quiet");
    ASSERT_NEAR(fitted(&s, "two-component", "p0"), level, 1e-3);
    ASSERT_NEAR(fitted(&s, "two-component", "k1"), k1, 1e-3);
    ASSERT_NEAR(fitted(&s, "two-component", "k2"), k2, 1e-3);
    ASSERT_NEAR(fitted(&s, "two-component", "tau1"), tau1, 1e-3);
    ASSERT_NEAR(fitted(&s, "two-component", "tau2"), tau2, 1e-3);
    ASSERT_NEAR(fitted(&s, "two-component", "t_n"),
                tau1 * tau2 / (tau1 - tau2) * log(k2 / k1), 1e-3);
    sheet_free(&s);
    test_folder_done();
}

/* The level is turned round, all else stays, intervals too. */
static void fit_lower(void) {
    static const char *const same[] = {"k1",    "k2", "tau1", "tau2",
                                       "sigma", "r2", "t_n",  "p_training"};
    Sheet higher, lower;
    double turn;
    size_t a, b;
    open_season(false);
    write_tests(1, false);
    higher = ask_sheet("fit @ --csv --quiet");
    turn = 2 * mean_reading(1);
    write_tests(1, true);
    lower = ask_sheet("fit @ --csv --quiet");
    CU_ASSERT_EQUAL(higher.rows, lower.rows);
    for (int i = 0; i < 8; i++) {
        a = find_row(&higher, "model", "two-component", "quantity", same[i]);
        b = find_row(&lower, "model", "two-component", "quantity", same[i]);
        ASSERT_NEAR(number_at(&lower, b, "estimate"),
                    number_at(&higher, a, "estimate"), 1e-3);
    }
    a = find_row(&higher, "model", "two-component", "quantity", "p0");
    b = find_row(&lower, "model", "two-component", "quantity", "p0");
    ASSERT_NEAR(number_at(&lower, b, "estimate"),
                turn - number_at(&higher, a, "estimate"), 1e-3);
    ASSERT_NEAR(number_at(&lower, b, "low"),
                turn - number_at(&higher, a, "high"), 1e-2);
    ASSERT_NEAR(number_at(&lower, b, "high"),
                turn - number_at(&higher, a, "low"), 1e-2);
    sheet_free(&higher);
    sheet_free(&lower);
    ask_has("fit @ --out @/p --quiet --format text", "(lower is better)");
    test_folder_done();
}

/* What is said of clear tests, of the next one and of the state before. */
/* Estimates that go together are told with --notes: those whose correlation is
 * beyond .95 in --csv, and where there is none nothing. Returns how many. */
static size_t told_together(void) {
    Sheet csv = ask_sheet("fit @ --csv --quiet");
    char *words = ask_words("fit @ --notes"), pair[80], one[20], other[20];
    size_t told = 0;
    for (size_t i = 0; i < csv.rows; i++) {
        double r = number_at(&csv, i, "estimate");
        if (sscanf(cell_at(&csv, i, "quantity"), "correlation %19s %19s", one,
                   other) != 2)
            continue;
        snprintf(pair, sizeof pair, "%s and %s %.3f", one, other, r);
        CU_ASSERT_EQUAL(strstr(words, pair) != NULL, fabs(r) > .95);
        told += fabs(r) > .95;
    }
    CU_ASSERT_EQUAL(strstr(words, "go together") != NULL, told > 0);
    free(words);
    sheet_free(&csv);
    return told;
}

/* To how much of what the literature says a taper's gain is narrowed. */
static void check_narrowed(void) {
    Sheet csv = ask_sheet("fit @ --csv --quiet");
    char told[60];
    double share =
        number_at(&csv, find_row(&csv, "quantity", "narrowed", "test", "Jump"),
                  "estimate");
    CU_ASSERT(share > 0 && share <= .9);
    snprintf(told, sizeof told, "is narrowed to %.0f %% of what", 100 * share);
    ask_has("fit @ --notes", told);
    sheet_free(&csv);
}

/* A test that adds less than a twentieth of the tests' scatter is told as next
 * to nothing: surely so below its range, surely not above. */
static void check_next(const char *out) {
    Sheet csv = ask_sheet("fit @ --csv --quiet");
    size_t row = find_row(&csv, "quantity", "sigma", "test", "Jump");
    const char *told = strstr(out, "it should add ");
    double worth = told ? atof(told + strlen("it should add ")) : NAN;
    bool nothing = strstr(out, "which is next to nothing") != NULL;
    CU_ASSERT(isfinite(worth));
    CU_ASSERT(nothing || 20 * worth > number_at(&csv, row, "low"));
    CU_ASSERT(!nothing || 20 * worth < number_at(&csv, row, "high"));
    sheet_free(&csv);
}

static void fit_words(void) {
    char *out;
    open_season(false);
    write_tests(1, false);
    out = ask_words("fit @ --next-test");
    ASSERT_HAS(out, "They show clearly that training moves them (Bayes factor");
    ASSERT_HAS(out, "The next test is worth most on ");
    check_next(out);
    free(out);
    out = ask_words("fit @ --before fit --notes");
    ASSERT_HAS(out, "Recommended by the training before the log: steady ");
    ASSERT_HAS(out, "nothing 0 a day: ");
    ASSERT_HAS(out, "fitted ");
    ASSERT_HAS(out, "which fits wing-07's tests best");
    free(out);
    out = ask_words("fit @ --notes --model triathlete-swim");
    ASSERT_HAS(out, "AICc: one-component ");
    free(out);
    write_tests(.02, false);
    out = ask_words("fit @ --notes");
    ASSERT_HAS(out, "and a fatigue effect (p =");
    ASSERT_HAS(out, "The model predicts later tests better than the last test, "
                    "the mean of the earlier ones or of the last five does.");
    free(out);
    CU_ASSERT(told_together() > 0);
    check_narrowed();
    test_folder_done();
}

/* ---- one readiness everywhere ---- */

/* Means over the draws that `fit` wrote, each added up load by load. */
static void mean_of_draws(const Sheet *draws, int day, int from, double share,
                          double mean[3]) {
    double before = first_mean(), each = 1 / (double)draws->rows;
    mean[0] = mean[1] = mean[2] = 0;
    for (size_t i = 0; i < draws->rows; i++) {
        double fitness = number_at(draws, i, "k1") *
                         kept_of(day, number_at(draws, i, "tau1"), before,
                                 false, from, share);
        double fatigue = number_at(draws, i, "k2") *
                         kept_of(day, number_at(draws, i, "tau2"), before,
                                 false, from, share);
        mean[0] += each * fitness;
        mean[1] += each * fatigue;
        mean[2] += each * (number_at(draws, i, "p0") + fitness - fatigue);
    }
}

static void check_means(const Sheet *simulated, const Sheet *draws, int from,
                        double share) {
    static const int days[] = {3, LOGGED - 1, 91, EVENT};
    for (int i = 0; i < 4; i++) {
        size_t row = (size_t)days[i];
        double mean[3];
        mean_of_draws(draws, days[i], from, share, mean);
        ASSERT_NEAR(number_at(simulated, row, "fitness"), mean[0], 1e-7);
        ASSERT_NEAR(number_at(simulated, row, "fatigue"), mean[1], 1e-7);
        ASSERT_NEAR(number_at(simulated, row, "readiness"), mean[2], 1e-7);
    }
}

/* The event's readiness in a table of tapers. */
static double told(const char *arguments, const char *option) {
    Sheet s = ask_sheet(arguments);
    double readiness = number_at(
        &s, find_row(&s, "option", option, "athlete", "wing-07"), "readiness");
    sheet_free(&s);
    return readiness;
}

/* "Readiness today" of the report's table, and half of its last digit. */
static double told_today(const char *arguments, double *half) {
    char *page = ask(arguments), *end;
    char *at = strstr(page, "data-title=\"readiness today\"");
    double today;
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    at = strchr(at, '>') + 1;
    today = strtod(at, &end);
    CU_ASSERT(end > at);
    for (*half = .5; at < end && *at != '.'; at++)
        ;
    for (at++; at < end; at++)
        *half /= 10;
    free(page);
    return today;
}

/* What is shown of a day is the mean over the draws, not a model of means or
 * medians: in every command, for tests that tell little. */
static void one_readiness(void) {
    Sheet draws, none, taper;
    double mean[3], today, half;
    open_season(false);
    write_tests(6, false);
    test_file(5, "wide.csv",
              "parameter,value,spread,unit,source\n"
              "kind,two-component,,,invented\np0,0,,,\nk1,1,,,\nk2,2,.5,,\n"
              "tau1,41,.4,d,\ntau2,12,.7,d,\n");
    free(ask("fit @ --model @/wide.csv --out @/p --format text --quiet"));
    draws = file_sheet("p/wing-07-model-draws.csv");
    CU_ASSERT(draws.rows > 1000);
    none = ask_sheet("simulate @ --model @/p/wing-07-model.csv --csv");
    taper = ask_sheet(
        "simulate @ --model @/p/wing-07-model.csv --csv --option 7d-60");
    check_means(&none, &draws, 0, 1);
    check_means(&taper, &draws, EVENT - 7, .4);
    mean_of_draws(&draws, EVENT, 0, 1, mean);
    ASSERT_NEAR(told("taper @ --model @/p/wing-07-model.csv --csv", "none"),
                mean[2], 1e-7);
    mean_of_draws(&draws, EVENT, EVENT - 7, .4, mean);
    ASSERT_NEAR(told("compare @ --model @/p/wing-07-model.csv --csv "
                     "--option none --option 7d-60",
                     "7d-60"),
                mean[2], 1e-7);
    mean_of_draws(&draws, LOGGED - 1, 0, 1, mean);
    today = told_today("report @ --model @/p/wing-07-model.csv --quiet", &half);
    CU_ASSERT(fabs(today - mean[2]) <= half + 1e-9);
    CU_ASSERT(half < 1);
    sheet_free(&draws);
    sheet_free(&none);
    sheet_free(&taper);
    test_folder_done();
}

/* ---- graded models ---- */

/* Half of the gain of fatigue grows with recent load: Busso 2003 in part. */
static const char graded[] = "parameter,value,spread,unit,source\n"
                             "kind,graded,,,invented\np0,60,,cm,\n"
                             "k1,0.021,,,\ntau1,41,,d,\ntau2,12,,d,\n"
                             "tau3,2.3,,d,\nratio,2.1,,,\ngrowth,.5,,,\n";

static double log_mean(void) {
    double sum = 0;
    for (int d = 0; d < LOGGED; d++)
        sum += log_load(d);
    return sum / LOGGED;
}

/* Fatigue before a day's session with nothing before the log: each session with
 * the gain that the loads up to it give, at the log's mean load k1 ratio. */
static double graded_fatigue(int day) {
    double mean = log_mean() / (1 - exp(-1 / 2.3)), sum = 0;
    for (int i = 0; i < day; i++) {
        double memory = 0;
        for (int j = 0; j <= i; j++)
            memory += own_load(j) * exp(-(i - j) / 2.3);
        sum += own_load(i) * k1 * 2.1 * (.5 + .5 * memory / mean) *
               exp(-(day - i) / tau2);
    }
    return sum;
}

static void graded_days(void) {
    Sheet s;
    open_season(false);
    test_file(5, "graded.csv", graded);
    s = ask_sheet("simulate @ --model @/graded.csv --csv --before nothing");
    for (int d = 0; d <= EVENT; d += 9) {
        double fitness = k1 * kept_of(d, tau1, 0, false, 0, 1);
        ASSERT_NEAR(number_at(&s, (size_t)d, "fitness"), fitness, 1e-9);
        ASSERT_NEAR(number_at(&s, (size_t)d, "fatigue"), graded_fatigue(d),
                    1e-9);
    }
    sheet_free(&s);
    test_folder_done();
}

/* The same log in another unit, in the same squad: the same advice, to each by
 * their own mean load, in every command that searches. */
static void graded_unit(void) {
    Text text = {0};
    char day[DATE_TEXT];
    Sheet s;
    open_season(false);
    test_file(5, "graded.csv", graded);
    text_add(&text, "date,athlete,load\n");
    for (int a = 0; a < 2; a++)
        for (int d = 0; d < LOGGED; d++)
            text_add(&text, "%s,%s,%g\n",
                     date_write(day, first_day() + (Date)d),
                     a ? "wing-07" : "back-03", (a ? 1 : 64) * log_load(d));
    test_file(0, "sessions.csv", text_of(&text));
    text_free(&text);
    test_file(2, "week.csv",
              "weekday,session,load,athlete\nmon,A,300,wing-07\n"
              "wed,B,450,wing-07\nmon,C,19200,back-03\nwed,D,28800,back-03\n");
    s = ask_sheet("taper @ --individual --model @/graded.csv --csv --quiet");
    CU_ASSERT_FATAL(s.rows > 1000 && s.rows % 2 == 0);
    for (size_t i = 0; i < s.rows / 2; i++) {
        size_t j = i + s.rows / 2;
        ASSERT_TEXT(cell_at(&s, i, "athlete"), "back-03");
        ASSERT_TEXT(cell_at(&s, j, "option"), cell_at(&s, i, "option"));
        ASSERT_TEXT(cell_at(&s, j, "tag"), cell_at(&s, i, "tag"));
        if (*cell_at(&s, i, "share"))
            ASSERT_NEAR(number_at(&s, j, "share"), number_at(&s, i, "share"),
                        1e-8);
        ASSERT_NEAR(number_at(&s, j, "gain"), number_at(&s, i, "gain") / 64,
                    1e-8);
    }
    sheet_free(&s);
    test_folder_done();
}

/* ---- training kept ---- */

/* Of the loads on the days from..EVENT-1 that of the last `cut` days is left at
 * `share`: what is kept of all. */
static double own_kept(int from, int cut, double share) {
    double all = 0, kept = 0;
    for (int d = from; d < EVENT; d++) {
        all += own_load(d);
        kept += own_load(d) * (d >= EVENT - cut ? share : 1);
    }
    return kept / all;
}

static double kept_told(const char *arguments, const char *option) {
    Sheet s = ask_sheet(arguments);
    double kept = number_at(
        &s, find_row(&s, "option", option, "athlete", "wing-07"), "kept");
    sheet_free(&s);
    return kept;
}

/* Of the days searched, which a build-up makes more, in both commands and
 * whatever else is compared; of its own days where an option has more. */
static void kept_alike(void) {
    open_season(false);
    ASSERT_NEAR(kept_told("taper @ --model @/own.csv --csv --max-length 7 "
                          "--max-cut 60 --shapes step",
                          "7d-60"),
                own_kept(EVENT - 7, 7, .4), 1e-9);
    ASSERT_NEAR(kept_told("compare @ --model @/own.csv --csv --max-length 7 "
                          "--option 7d-60 --option 12d-50",
                          "7d-60"),
                own_kept(EVENT - 7, 7, .4), 1e-9);
    ASSERT_NEAR(kept_told("compare @ --model @/own.csv --csv --max-length 7 "
                          "--option 7d-60 --option 12d-50",
                          "12d-50"),
                own_kept(EVENT - 12, 12, .5), 1e-9);
    ASSERT_NEAR(kept_told("taper @ --model @/own.csv --csv --max-length 7 "
                          "--max-cut 60 --shapes step --build-up 10",
                          "7d-60"),
                own_kept(LOGGED, 7, .4), 1e-9);
    ASSERT_NEAR(kept_told("compare @ --model @/own.csv --csv --max-length 7 "
                          "--option 7d-60 --option 12d-50 --build-up 10",
                          "7d-60"),
                own_kept(LOGGED, 7, .4), 1e-9);
    test_folder_done();
}

/* ---- manual pages ---- */

/* What is marked in a topic's text is bold in its page, all of it; words with
 * signs that a page writes otherwise are left to the eye. */
static void marked_words(const char *topic) {
    char path[60], words[60], wanted[80], *text, *page;
    size_t seen = 0;
    snprintf(path, sizeof path, "data/help/%s.md", topic);
    snprintf(words, sizeof words, "help --man-topic %s", topic);
    text = test_read(path, NULL);
    page = ask(words);
    CU_ASSERT_PTR_NOT_NULL_FATAL(text);
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n"))
        for (char *at = line; *line != ' ' && (at = strchr(at, '`')); at++) {
            int length = (int)strspn(at + 1, "abcdefghijklmnopqrstuvwxyz_");
            if (length == 0 || at[1 + length] != '`')
                continue;
            snprintf(wanted, sizeof wanted, "\\fB%.*s\\fR", length, at + 1);
            ASSERT_HAS(page, wanted);
            at += 1 + length;
            seen++;
        }
    CU_ASSERT(seen > 3);
    free(text);
    free(page);
}

/* Lines set in by four blanks keep their ends on a page: roff fills no lines
 * between .nf and .fi. */
static void kept_lines(const char *topic) {
    char path[60], words[60], *text, *page;
    int lines = 0, kept = 0;
    snprintf(path, sizeof path, "data/help/%s.md", topic);
    snprintf(words, sizeof words, "help --man-topic %s", topic);
    text = test_read(path, NULL);
    page = ask(words);
    CU_ASSERT_PTR_NOT_NULL_FATAL(text);
    for (char *at = text; (at = strstr(at, "\n    ")) != NULL; at++)
        lines++;
    for (char *at = page; (at = strstr(at, "\n.nf\n")) != NULL; at++) {
        char *end = strchr(at + 5, '\n');
        kept += strncmp(at + 5, "\\&    ", 6) == 0 &&
                strncmp(end, "\n.fi\n", 5) == 0;
    }
    CU_ASSERT_EQUAL(kept, lines);
    CU_ASSERT(lines > 2);
    free(text);
    free(page);
}

/* Each option that `help` lists of a command stands on its page. */
static void manual_pages(void) {
    static const char *const commands[] = {"check", "taper",  "plan",
                                           "fit",   "lesson", "start"};
    folder = test_folder();
    for (int i = 0; i < 6; i++) {
        char words[40], *help, *page, *at;
        size_t options = 0;
        snprintf(words, sizeof words, "help %s", commands[i]);
        help = ask(words);
        snprintf(words, sizeof words, "help --man %s", commands[i]);
        page = ask(words);
        ASSERT_HAS(page, ".TH \"PEAKWARD-");
        ASSERT_HAS(page, ".SH CAUTION");
        CU_ASSERT_PTR_NULL(strstr(page, "(null)"));
        for (at = strstr(help, "\n  --"); at; at = strstr(at + 1, "\n  --")) {
            char name[40], wanted[90];
            size_t n = 0;
            sscanf(at, "\n  --%39[a-z-]", name);
            n = (size_t)snprintf(wanted, sizeof wanted, ".B \\-\\-");
            for (const char *c = name; *c && n < 80; c++)
                n += (size_t)snprintf(wanted + n, sizeof wanted - n,
                                      *c == '-' ? "\\%c" : "%c", *c);
            ASSERT_HAS(page, wanted);
            options++;
        }
        CU_ASSERT(options > 0 || i == 5);
        free(help);
        free(page);
    }
    marked_words("files");
    marked_words("models");
    kept_lines("files");
    kept_lines("models");
    kept_lines("notes");
    ask_has("help --man", ".SH COMMANDS");
    ask_has("help --completion", "complete -o filenames -F _peakward peakward");
    test_folder_done();
}

/* ---- other answers ---- */

/* Two athletes: a row for each event of each. */
static void joint_squad(void) {
    char *out;
    open_season(true);
    test_file(1, "events.csv",
              "event,start,weight\nCup,2026-04-18,1\nTrial,2026-05-02,2\n");
    out = ask_words("taper @ --joint --model @/own.csv");
    ASSERT_HAS(out, "back-03 Cup");
    ASSERT_HAS(out, "wing-07 Cup");
    ASSERT_HAS(out, "the share it gets");
    free(out);
    test_folder_done();
}

/* Under a model without fatigue nobody has a taper: no plan, gain 0. */
static void plans_of_nobody(void) {
    Sheet s;
    open_season(true);
    s = ask_sheet("taper @ --groups 2 --csv --model triathlete-swim");
    CU_ASSERT_EQUAL(s.rows, 2);
    for (size_t i = 0; i < s.rows; i++) {
        ASSERT_TEXT(cell_at(&s, i, "plans"), "");
        ASSERT_TEXT(cell_at(&s, i, "option"), "none");
        ASSERT_NEAR(number_at(&s, i, "gain"), 0, 0);
        ASSERT_NEAR(number_at(&s, i, "kept"), 1, 0);
        ASSERT_TEXT(cell_at(&s, i, "worth"), "");
    }
    sheet_free(&s);
    ask_has("taper @ --groups 2 --model triathlete-swim",
            "no taper raises readiness in the model, so have no part here");
    ask_has("taper @ --model triathlete-swim",
            "Its fatigue gain is not above its fitness gain");
    test_folder_done();
}

/* Each model's advice under each model; its own reads the same as when that
 * model is asked alone. */
static void models_side_by_side(void) {
    Sheet s, alone;
    size_t row, best;
    open_season(false);
    s = ask_sheet("taper @ --models @/own.csv,classic --csv");
    CU_ASSERT_EQUAL(s.rows, 6);
    alone = ask_sheet("taper @ --model classic --csv");
    row = find_row(&s, "recommended_by", "classic", "model", "classic");
    best = 0;
    while (best + 1 < alone.rows &&
           strcmp(cell_at(&alone, best, "tag"), "recommended") != 0)
        best++;
    ASSERT_TEXT(cell_at(&s, row, "option"), cell_at(&alone, best, "option"));
    ASSERT_NEAR(number_at(&s, row, "gain"), number_at(&alone, best, "gain"),
                1e-9);
    ASSERT_NEAR(number_at(&s, row, "kept"), number_at(&alone, best, "kept"),
                1e-9);
    sheet_free(&s);
    sheet_free(&alone);
    test_folder_done();
}

/* Share of the largest gain possible that an option reaches under a model, from
 * the list of all its options; where nothing helps none does. */
static double share_of(const Sheet *all, size_t row) {
    double share = number_at(all, row, "share");
    bool none = strcmp(cell_at(all, row, "option"), "none") == 0;
    return isfinite(share) ? share : none ? 0 : -INFINITY;
}

/* The largest smaller share, and of those who have it what keeps most training;
 * the lists have the same options in one order, some twice for their tags. */
static double most_under_both(const Sheet all[2], double *kept) {
    double most = -INFINITY, less;
    size_t k = 0;
    for (size_t i = 0; i < all[0].rows; i++) {
        const char *option = cell_at(&all[0], i, "option");
        if (strcmp(option, "ceiling") == 0)
            continue;
        while (k < all[1].rows &&
               strcmp(option, cell_at(&all[1], k, "option")) != 0)
            k++;
        CU_ASSERT_FATAL(k < all[1].rows);
        less = fmin(share_of(&all[0], i), share_of(&all[1], k));
        if (less > most + 1e-9)
            *kept = 0;
        if (less > most - 1e-9)
            *kept = fmax(*kept, number_at(&all[0], i, "kept"));
        most = fmax(most, less);
    }
    return most;
}

/* Of all options the one whose smaller share is largest is good under both; the
 * models agree where each one's advice is under the other worth nine tenths of
 * its own. */
static void check_both(const char *one, const char *other, size_t *agree) {
    char words[120];
    const char *models[] = {one, other};
    Sheet s, all[2];
    double most, kept = NAN;
    bool alike = true;
    snprintf(words, sizeof words, "taper @ --models %s,%s --csv", one, other);
    s = ask_sheet(words);
    CU_ASSERT_EQUAL(s.rows, 6);
    for (int m = 0; m < 2; m++) {
        snprintf(words, sizeof words, "taper @ --model %s --csv", models[m]);
        all[m] = ask_sheet(words);
    }
    most = most_under_both(all, &kept);
    for (size_t i = 0; i < s.rows; i += 2) {
        const char *option = cell_at(&s, i, "option");
        double share[2], own[2];
        for (int m = 0; m < 2; m++) {
            share[m] = share_of(&all[m], find_row(&all[m], "option", option,
                                                  "athlete", "wing-07"));
            own[m] = share_of(&all[m], find_row(&all[m], "tag", "recommended",
                                                "athlete", "wing-07"));
            alike = alike && (i == 4 || share[m] >= .9 * own[m]);
        }
        if (i < 4)
            continue;
        ASSERT_TEXT(cell_at(&s, i, "recommended_by"), "all");
        ASSERT_NEAR(fmin(share[0], share[1]), most, 1e-8);
        ASSERT_NEAR(number_at(&s, i, "kept"), kept, 1e-9);
    }
    snprintf(words, sizeof words, "taper @ --models %s,%s", one, other);
    ask_has(words, alike ? "The models agree" : "The models disagree");
    *agree += alike;
    for (int m = 0; m < 2; m++)
        sheet_free(&all[m]);
    sheet_free(&s);
}

static void good_under_both(void) {
    static const char *const pairs[][2] = {
        {"@/own.csv", "classic"},      {"classic", "runners"},
        {"hammer-thrower", "runners"}, {"classic", "busso-2003"},
        {"literature", "classic"},     {"classic", "calvert"}};
    size_t agree = 0;
    open_season(false);
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
        check_both(pairs[i][0], pairs[i][1], &agree);
    CU_ASSERT(agree > 0 && agree < sizeof pairs / sizeof *pairs);
    ask_has("taper @ --models classic,triathlete-swim",
            "No taper helps under all of them");
    test_folder_done();
}

/* What a taper gains under 41 and 12 days and a ratio of gains, by the closed
 * form: each load left out, at its age on the event's day. */
static double left_out(const Option *option, double ratio) {
    double cut[60], sum = 0;
    option_cuts(option, 60, cut);
    for (int u = 1; u <= EVENT - LOGGED; u++)
        sum -= cut[u - 1] * own_load(EVENT - u) *
               (exp(-u / 41.) - ratio * exp(-u / 12.));
    return sum;
}

/* "If you deviate", beside the same option with its longest part longer and
 * its cuts deeper by so much; told where it is a taper, `allowed` and not
 * alike.
 */
static void check_deviation(const char *words, const Option *option, int days,
                            double points, const char *name, bool allowed) {
    Option other = *option;
    char wanted[60];
    double change;
    int longest = 0;
    for (int i = 0; i < other.count; i++) {
        longest = other.part[i].days > other.part[longest].days ? i : longest;
        other.part[i].to = fmin(100, fmax(0, other.part[i].to + points));
        if (other.part[i].fall == 'x')
            other.part[i].from = other.part[i].to;
    }
    other.part[longest].days += days;
    change = left_out(&other, 43. / 21) / left_out(option, 43. / 21) - 1;
    snprintf(wanted, sizeof wanted, "%s %s %.0f %%", name,
             change < 0 ? "loses" : "adds", 100 * fabs(change));
    if (allowed && other.part[longest].days > 0 && fabs(change) >= .005)
        ASSERT_HAS(words, wanted);
    else
        CU_ASSERT_PTR_NULL(strstr(words, name));
}

static void deviations(void) {
    static const struct {
        const char *limits;
        bool longer, deeper; /* do they allow 3 days, 20 points more? */
    } asked[] = {
        {"", true, false},
        {"--shapes two-step", true, false},
        {"--shapes two-step --max-cut 100", true, true},
        {"--shapes linear", true, false},
        {"--shapes exponential", true, false},
        {"--shapes step --max-cut 95", true, false},
        {"--max-cut 50", false, false}, /* three days of rest */
        {"--shapes step --max-cut 50", true, false},
        {"--shapes step --max-length 8", false, false},
        {"--shapes two-step --max-length 12", false, false},
        {"--shapes step --max-cut 90 --min-week-load 40", true, false}};
    open_season(false);
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++) {
        char words[160], spec[40], why[OPTION_WHY], *out, *at;
        Option option;
        snprintf(words, sizeof words, "taper @ --model @/own.csv %s",
                 asked[i].limits);
        out = ask_words(words);
        at = strstr(out, " recommended ");
        CU_ASSERT_FATAL(at && sscanf(at, " recommended %39s", spec) == 1);
        CU_ASSERT_FATAL(option_read(spec, &option, why));
        check_deviation(out, &option, -3, 0, "3 days shorter", true);
        check_deviation(out, &option, 3, 0, "3 days longer", asked[i].longer);
        check_deviation(out, &option, 0, -20, "20 points less cut", true);
        check_deviation(out, &option, 0, 20, "20 points more cut",
                        asked[i].deeper);
        free(out);
    }
    test_folder_done();
}

/* In how many of the likely models a taper helps, in words of a squad: alike
 * for two who did the same, from the least to the most of others. */
static void check_helps(const char *season, const char *more) {
    char words[120], wanted[120];
    double low = 1, high = 0;
    Sheet s;
    snprintf(words, sizeof words, "taper %s %s --csv", season, more);
    s = ask_sheet(words);
    for (size_t i = 0; i < s.rows; i++)
        if (strstr(cell_at(&s, i, "tag"), "recommended")) {
            low = fmin(low, number_at(&s, i, "beats_none"));
            high = fmax(high, number_at(&s, i, "beats_none"));
        }
    sheet_free(&s);
    CU_ASSERT_FATAL(low <= high && high > .5);
    if (low == high)
        snprintf(wanted, sizeof wanted,
                 "It helps in %.0f of 100 likely models.", 100 * low);
    else
        snprintf(wanted, sizeof wanted,
                 "It helps in %.0f to %.0f of 100 likely models, depending",
                 100 * low, 100 * high);
    snprintf(words, sizeof words, "taper %s %s", season, more);
    ask_has(words, wanted);
}

/* The same of one athlete, and what is expected to be gained. */
static void check_expected(void) {
    char wanted[120];
    Sheet s = ask_sheet("taper data/demo --athlete wing-07 --csv");
    size_t row = find_row(&s, "tag", "recommended", "athlete", "wing-07");
    size_t none = find_row(&s, "option", "none", "athlete", "wing-07");
    snprintf(
        wanted, sizeof wanted,
        "It helps in %.0f of 100 likely models; expected gain %+.1f %% (90",
        100 * number_at(&s, row, "beats_none"),
        100 * number_at(&s, row, "gain") / number_at(&s, none, "readiness"));
    ask_has("taper data/demo --athlete wing-07", wanted);
    sheet_free(&s);
}

static void helps_in_words(void) {
    open_season(true);
    check_expected();
    check_helps("@", "--model literature");
    check_helps("data/demo", "--individual --shapes step,rest");
    test_folder_done();
}

/* What each loses by the taper of a group: the cells say what the rows do. */
static void groups_in_words(void) {
    Sheet s;
    char *out, wanted[200];
    size_t of_others = 0;
    folder = test_folder();
    s = ask_sheet("taper data/demo --groups 2 --csv");
    out = ask_words("taper data/demo --groups 2");
    for (size_t i = 0; i < s.rows; i++) {
        double possible = number_at(&s, i, "possible");
        const char *worth = cell_at(&s, i, "worth");
        if (number_at(&s, i, "plans") != 2 ||
            strcmp(cell_at(&s, i, "option"), cell_at(&s, i, "own_option")) == 0)
            continue;
        snprintf(wanted, sizeof wanted, " %.2f %.2f to %.2f %.0f %% %s",
                 possible * number_at(&s, i, "loss"),
                 possible * number_at(&s, i, "loss_low"),
                 possible * number_at(&s, i, "loss_high"),
                 100 * number_at(&s, i, "own_better"),
                 strcmp(worth, "unsure") == 0 ? "perhaps" : worth);
        ASSERT_HAS(out, wanted);
        of_others++;
    }
    CU_ASSERT(of_others > 0);
    sheet_free(&s);
    free(out);
    test_folder_done();
}

/* Without --out the page goes to standard output, the same bytes. */
static void report_printed(void) {
    char path[400], *page, *file;
    open_season(false);
    page = ask("report @ --model @/own.csv");
    free(ask("report @ --model @/own.csv --out @/p"));
    snprintf(path, sizeof path, "%s/p/report.html", folder);
    file = test_read(path, NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    CU_ASSERT_EQUAL(strcmp(page, file), 0);
    ASSERT_HAS(page, "</html>");
    free(page);
    free(file);
    test_folder_done();
}

static const TestCase cases[] = {{"simulate_days", simulate_days},
                                 {"one_readiness", one_readiness},
                                 {"graded_days", graded_days},
                                 {"graded_unit", graded_unit},
                                 {"kept_alike", kept_alike},
                                 {"simulate_text", simulate_text},
                                 {"load_weeks", load_weeks},
                                 {"load_kilometres", load_kilometres},
                                 {"models_table", models_table},
                                 {"models_drawn", models_drawn},
                                 {"fit_numbers", fit_numbers},
                                 {"fit_truth", fit_truth},
                                 {"fit_lower", fit_lower},
                                 {"fit_words", fit_words},
                                 {"manual_pages", manual_pages},
                                 {"joint_squad", joint_squad},
                                 {"plans_of_nobody", plans_of_nobody},
                                 {"models_side_by_side", models_side_by_side},
                                 {"good_under_both", good_under_both},
                                 {"deviations", deviations},
                                 {"helps_in_words", helps_in_words},
                                 {"groups_in_words", groups_in_words},
                                 {"report_printed", report_printed},
                                 {NULL, NULL}};

const TestSuite suite_program_numbers = {"program", cases};
