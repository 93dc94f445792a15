/* properties: what must hold for every season, over many drawn ones. Each is
 * written to files in a plain form and in another that means the same (or must
 * make no difference to the first athlete), read, and carried to the advice.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed, PEAKWARD_QUICK a fifth of
 * them. What holds of worlds made without files (superposition, scaling,
 * shifting, wider limits) is in tests/response and tests/taper.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/mem.h"
#include "base/text.h"
#include "taper/hand.h"
#include "taper/search.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS_MOST = 900, WEEK_ROWS = 12, COLUMNS = 7, ATHLETES = 3 };

static int rounds(int many) {
    const char *given = getenv("PEAKWARD_QUICK");
    return given && *given ? many / 5 : many;
}

/* ---- a season, before it is written down ---- */

typedef struct {
    int athlete, day, hour; /* hour -1: none is written */
    int kind, minutes, rating;
} LogRow;

typedef struct {
    int weekday, kind, minutes, rating;
    bool keep;
} UsualRow;

typedef struct {
    LogRow row[ROWS_MOST];
    size_t rows;
    UsualRow usual[WEEK_ROWS];
    size_t usual_rows;
    int days, ahead, event_days;
    ResponseParams params;
    Aim aim;
    Limits limits;
} Plot;

static void add_row(Plot *p, LogRow row) {
    if (p->rows < ROWS_MOST)
        p->row[p->rows++] = row;
}

static void draw_log(gsl_rng *rng, Plot *p, int athlete, bool timed) {
    for (int day = 0; day < p->days; day++) {
        bool edge = day == 0 || day + 1 == p->days;
        int count = test_whole(rng, edge, 2);
        for (int i = 0; i < count; i++)
            add_row(p, (LogRow){athlete, day, timed ? 9 + 8 * i : -1,
                                test_whole(rng, 0, 4), test_whole(rng, 20, 110),
                                test_whole(rng, 2, 9)});
    }
}

static void draw_plot(gsl_rng *rng, bool timed, Plot *p) {
    double tau2 = test_between(rng, 5, 20);
    *p = (Plot){.days = test_whole(rng, 30, 70),
                .ahead = test_whole(rng, 5, 30),
                .event_days = test_whole(rng, 1, 3),
                .aim = (Aim)test_whole(rng, 0, AIMS - 1),
                .limits = limits_default()};
    p->params = (ResponseParams){
        RESPONSE_TWO_COMPONENT,
        {test_between(rng, 0, 300), 1, test_between(rng, .8, 2.5),
         tau2 * test_between(rng, 1.5, 5), tau2, NAN, NAN, NAN}};
    p->limits.max_length = test_whole(rng, 2, 9);
    p->limits.max_cut = 5 * test_whole(rng, 4, 20);
    if (test_whole(rng, 0, 2) == 0)
        p->limits.min_week_load = test_whole(rng, 20, 80);
    draw_log(rng, p, 0, timed);
    for (int day = 0; day < 7; day++)
        if (day == 0 || test_whole(rng, 0, 2))
            p->usual[p->usual_rows++] =
                (UsualRow){day, test_whole(rng, 0, 4), test_whole(rng, 30, 100),
                           test_whole(rng, 2, 9), test_whole(rng, 0, 5) == 0};
}

/* ---- how it is written ---- */

typedef struct {
    char delimiter;
    const char *line_end;
    bool mark, quotes;  /* a byte-order mark, quotes about each cell */
    int order[COLUMNS]; /* columns of sessions.csv */
    size_t step;        /* rows follow each other so, 1: as they are */
    int shift;          /* [d] */
} Form;

static const Form plain = {',', "\n", false, false, {0, 1, 2, 3, 4, 5, 6},
                           1,   0};

static void put_cell(const Form *f, bool first, const char *cell, Text *text) {
    const char *quote = f->quotes ? "\"" : "";
    if (!first)
        text_put(text, &f->delimiter, 1);
    text_add(text, "%s%s%s", quote, cell, quote);
}

static void put_cells(const Form *f, const int *order, int count,
                      char cell[COLUMNS][40], Text *text) {
    for (int i = 0; i < count; i++)
        put_cell(f, i == 0, cell[order ? order[i] : i], text);
    text_add(text, "%s", f->line_end);
}

static void put_head(const Form *f, const int *order, int count,
                     const char *const names[], Text *text) {
    char cell[COLUMNS][40];
    if (f->mark)
        text_add(text, "\xEF\xBB\xBF");
    for (int i = 0; i < count; i++)
        snprintf(cell[i], sizeof cell[i], "%s", names[i]);
    put_cells(f, order, count, cell, text);
}

static Date day_zero(const Form *f) {
    return date_of((Civil){2026, 1, 5}) + (Date)f->shift;
}

static void put_log_row(const Form *f, const LogRow *r, Text *text) {
    static const char *const athletes[ATHLETES] = {"wing-07", "back-03",
                                                   "aa-01"};
    char cell[COLUMNS][40], day[DATE_TEXT];
    snprintf(cell[0], 40, "%s", date_write(day, day_zero(f) + (Date)r->day));
    snprintf(cell[1], 40, "%s", athletes[r->athlete]);
    if (r->hour < 0)
        cell[2][0] = '\0';
    else
        snprintf(cell[2], 40, "%02d:30", r->hour);
    snprintf(cell[3], 40, "Session %d", r->kind);
    snprintf(cell[4], 40, "%s", session_kind_names[r->kind]);
    snprintf(cell[5], 40, "%d", r->minutes);
    snprintf(cell[6], 40, "%d", r->rating);
    put_cells(f, f->order, COLUMNS, cell, text);
}

static void write_log(const Plot *p, const Form *f) {
    static const char *const names[COLUMNS] = {
        "date", "athlete", "time", "session", "kind", "minutes", "rpe"};
    Text text = {0};
    put_head(f, f->order, COLUMNS, names, &text);
    for (size_t from = 0; from < f->step; from++)
        for (size_t i = from; i < p->rows; i += f->step)
            put_log_row(f, &p->row[i], &text);
    test_file(0, "sessions.csv", text_of(&text));
    text_free(&text);
}

static void write_week(const Plot *p, const Form *f) {
    static const char *const names[6] = {"weekday", "session", "kind",
                                         "minutes", "rpe",     "keep"};
    Text text = {0};
    put_head(f, NULL, 6, names, &text);
    for (size_t i = 0; i < p->usual_rows; i++) {
        const UsualRow *u = &p->usual[i];
        char cell[COLUMNS][40];
        snprintf(cell[0], 40, "%s", date_weekday_name(u->weekday));
        snprintf(cell[1], 40, "Plan %zu", i);
        snprintf(cell[2], 40, "%s", session_kind_names[u->kind]);
        snprintf(cell[3], 40, "%d", u->minutes);
        snprintf(cell[4], 40, "%d", u->rating);
        snprintf(cell[5], 40, "%s", u->keep ? "yes" : "");
        put_cells(f, NULL, 6, cell, &text);
    }
    test_file(1, "week.csv", text_of(&text));
    text_free(&text);
}

static void write_event(const Plot *p, const Form *f) {
    static const char *const names[4] = {"event", "start", "days",
                                         "load_per_day"};
    Text text = {0};
    char cell[COLUMNS][40], day[DATE_TEXT];
    put_head(f, NULL, 4, names, &text);
    snprintf(cell[0], 40, "Cup");
    snprintf(cell[1], 40, "%s",
             date_write(day, day_zero(f) + (Date)(p->days - 1 + p->ahead)));
    snprintf(cell[2], 40, "%d", p->event_days);
    snprintf(cell[3], 40, "700");
    put_cells(f, NULL, 4, cell, &text);
    test_file(2, "events.csv", text_of(&text));
    text_free(&text);
}

/* ---- and what comes of it ---- */

typedef struct {
    Hand hand;
    Score score;
    Search search;
    bool found;
} Answer;

static const char *folder;

static void answer_open(const Plot *p, const Form *f, Answer *a) {
    Status status = {0};
    *a = (Answer){.found = false};
    write_log(p, f);
    write_week(p, f);
    write_event(p, f);
    hand_open_athlete(&a->hand, folder, "wing-07");
    CU_ASSERT_FATAL(a->hand.outlook.window > 0);
    score_build(&a->hand.outlook, &p->params, p->aim, &a->score);
    a->found = search_run(&a->hand.outlook, &a->score, &p->limits, &a->search,
                          &status) == STATUS_OK;
}

static void answer_close(Answer *a) {
    search_free(&a->search);
    score_free(&a->score);
    hand_close(&a->hand);
}

static bool same_values(const double *a, const double *b, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (!(a[i] == b[i]))
            return false;
    return true;
}

static bool same_found(const Found *a, const Found *b) {
    Text one = {0}, other = {0};
    bool same;
    option_write(&a->option, &one);
    option_write(&b->option, &other);
    same = strcmp(text_of(&one), text_of(&other)) == 0 && a->gain == b->gain &&
           a->readiness == b->readiness && a->kept == b->kept;
    text_free(&one);
    text_free(&other);
    return same;
}

/* Not a bit may differ: loads are whole numbers, added in order of time. */
static bool same_answer(const Answer *a, const Answer *b) {
    const Search *s = &a->search, *t = &b->search;
    return a->hand.daily.days == b->hand.daily.days &&
           same_values(a->hand.daily.load, b->hand.daily.load,
                       a->hand.daily.days) &&
           a->hand.outlook.days == b->hand.outlook.days &&
           same_values(a->hand.outlook.cuttable, b->hand.outlook.cuttable,
                       a->hand.outlook.days) &&
           same_values(a->hand.outlook.fixed, b->hand.outlook.fixed,
                       a->hand.outlook.days) &&
           a->found == b->found && s->count == t->count && s->best == t->best &&
           s->recommended == t->recommended &&
           same_found(&s->items[s->best], &t->items[t->best]) &&
           (!a->found || s->ceiling == t->ceiling);
}

/* Another form, or another season, must give the same answer. */
static bool agree(const Plot *p, const Form *f, const Plot *q, const Form *g) {
    Answer a, b;
    bool same;
    answer_open(p, f, &a);
    answer_open(q, g, &b);
    same = same_answer(&a, &b);
    answer_close(&a);
    answer_close(&b);
    return same;
}

static void draw_form(gsl_rng *rng, Form *f) {
    static const char delimiters[] = {',', ';', '\t'};
    static const char *const ends[] = {"\n", "\r\n", "\r"};
    *f = plain;
    f->delimiter = delimiters[test_whole(rng, 0, 2)];
    f->line_end = ends[test_whole(rng, 0, 2)];
    f->mark = test_whole(rng, 0, 1);
    f->quotes = test_whole(rng, 0, 1);
    gsl_ran_shuffle(rng, f->order, COLUMNS, sizeof f->order[0]);
}

/* ---- the properties ---- */

/* One round with a season drawn: does it show what is counted? */
typedef bool (*Round)(gsl_rng *rng, int round, Plot *p);

/* How many of so many rounds say yes. */
static size_t count_rounds(unsigned long seed, int many, Round says) {
    gsl_rng *rng = test_random(seed);
    size_t count = 0;
    folder = test_folder();
    for (int round = 0; round < rounds(many); round++) {
        Plot p;
        draw_plot(rng, round % 2, &p);
        count += says(rng, round, &p);
    }
    test_folder_done();
    gsl_rng_free(rng);
    return count;
}

static bool differs_by_form(gsl_rng *rng, int round, Plot *p) {
    Form f;
    (void)round;
    draw_form(rng, &f);
    return !agree(p, &plain, p, &f);
}

/* Delimiter, line ends, byte-order mark, quotes and order of columns. */
static void form_of_files(void) {
    CU_ASSERT_EQUAL(count_rounds(7001, 1500, differs_by_form), 0);
}

static bool differs_by_minute(gsl_rng *rng, int round, Plot *p) {
    Plot q = *p;
    (void)round;
    q.row[test_whole(rng, 0, (int)p->rows - 1)].minutes++;
    return !agree(p, &plain, &q, &plain);
}

/* The comparison sees a minute more in one session. */
static void one_minute(void) {
    CU_ASSERT_EQUAL((int)count_rounds(7008, 200, differs_by_minute),
                    rounds(200));
}

static bool differs_by_order(gsl_rng *rng, int round, Plot *p) {
    Form f = plain;
    (void)round;
    f.step = (size_t)test_whole(rng, 2, (int)p->rows);
    return !agree(p, &plain, p, &f);
}

static void order_of_rows(void) {
    CU_ASSERT_EQUAL(count_rounds(7002, 800, differs_by_order), 0);
}

static size_t split_rows; /* so far */

static void split_some(gsl_rng *rng, const Plot *p, Plot *q) {
    *q = *p;
    q->rows = 0;
    for (size_t i = 0; i < p->rows; i++) {
        LogRow one = p->row[i], other = one;
        if (test_whole(rng, 0, 1)) {
            other.minutes = test_whole(rng, 1, one.minutes - 1);
            one.minutes -= other.minutes;
            add_row(q, other);
            split_rows++;
        }
        add_row(q, one);
    }
}

/* Without clock times to the last bit. */
static bool differs_by_split(gsl_rng *rng, int round, Plot *p) {
    Plot q;
    Answer a, b;
    bool differ;
    split_some(rng, p, &q);
    if (round % 2 == 0)
        return !agree(p, &plain, &q, &plain);
    answer_open(p, &plain, &a);
    answer_open(&q, &plain, &b);
    differ =
        !same_values(a.hand.daily.load, b.hand.daily.load, a.hand.daily.days) ||
        a.search.count != b.search.count ||
        !test_near(b.search.items[b.search.best].readiness,
                   a.search.items[a.search.best].readiness, 1e-11);
    answer_close(&a);
    answer_close(&b);
    return differ;
}

/* One session written as two of the same rating is the same day. */
static void split_sessions(void) {
    split_rows = 0;
    CU_ASSERT_EQUAL(count_rounds(7003, 800, differs_by_split), 0);
    CU_ASSERT(split_rows > 1000);
}

static bool differs_by_others(gsl_rng *rng, int round, Plot *p) {
    Plot q = *p;
    (void)round;
    draw_log(rng, &q, 1, test_whole(rng, 0, 1));
    draw_log(rng, &q, 2, test_whole(rng, 0, 1));
    gsl_ran_shuffle(rng, q.row, q.rows, sizeof q.row[0]);
    return !agree(p, &plain, &q, &plain);
}

/* Others in the same log, before and behind her by name, are no matter. */
static void other_athletes(void) {
    CU_ASSERT_EQUAL(count_rounds(7004, 800, differs_by_others), 0);
}

static bool differs_by_shift(gsl_rng *rng, int round, Plot *p) {
    Form f = plain;
    (void)round;
    f.shift = 7 * test_whole(rng, -2000, 5000);
    return !agree(p, &plain, p, &f);
}

/* With athletes before and behind them, in any form. */
static void among_others(void) {
    gsl_rng *rng = test_random(7009);
    size_t differ = 0;
    folder = test_folder();
    for (int round = 0; round < rounds(800); round++) {
        Plot p, q;
        Form f;
        size_t from;
        draw_plot(rng, round % 2, &p);
        draw_form(rng, &f);
        q = p;
        q.rows = 0;
        draw_log(rng, &q, 1, test_whole(rng, 0, 1));
        from = q.rows;
        for (size_t i = 0; i < p.rows; i++)
            add_row(&q, p.row[i]);
        if (round % 3 == 0) /* their days in any order */
            gsl_ran_shuffle(rng, q.row + from, p.rows, sizeof q.row[0]);
        draw_log(rng, &q, 2, test_whole(rng, 0, 1));
        differ += !agree(&p, &plain, &q, &f);
    }
    CU_ASSERT_EQUAL(differ, 0);
    test_folder_done();
    gsl_rng_free(rng);
}

/* Whole weeks earlier or later, over leap days and turns of the year. */
static void time_shift(void) {
    CU_ASSERT_EQUAL(count_rounds(7005, 800, differs_by_shift), 0);
}

/* What holds of every taper found. */
static size_t broken_tapers(const Answer *a) {
    const Outlook *o = &a->hand.outlook;
    const Search *s = &a->search;
    double *cut = mem_new(o->window, sizeof *cut);
    double *load = mem_new(o->timeline.steps, sizeof *load);
    double none = s->items[0].readiness, possible = s->ceiling - none;
    size_t broken = 0;
    for (size_t i = 0; i < s->count; i++) {
        const Found *f = &s->items[i];
        bool good = f->kept >= 0 && f->kept <= 1 &&
                    (s->none_outside ||
                     f->readiness <= s->ceiling + 1e-9 * fabs(s->ceiling));
        option_cuts(&f->option, o->window, cut);
        outlook_apply(o, cut, load);
        for (size_t k = 0; k < o->timeline.steps; k++)
            good = good && load[k] >= 0 && load[k] <= o->timeline.load[k];
        broken += !good;
    }
    if (possible > 0)
        broken += search_share(s->items[0].gain, possible) != 0;
    free(cut);
    free(load);
    return broken;
}

static size_t tapers_found; /* so far */

static bool breaks_taper(gsl_rng *rng, int round, Plot *p) {
    Answer a;
    size_t broken = 0;
    (void)rng, (void)round;
    answer_open(p, &plain, &a);
    tapers_found += a.found;
    if (a.found)
        broken = broken_tapers(&a);
    answer_close(&a);
    return broken > 0;
}

/* No taper adds load to any day, keeps more than is planned or beats the
 * ceiling; doing nothing has no share of what is possible. */
static void drawn_tapers(void) {
    tapers_found = 0;
    CU_ASSERT_EQUAL(count_rounds(7006, 800, breaks_taper), 0);
    CU_ASSERT(tapers_found > (size_t)rounds(600));
}

static size_t wider_higher; /* so far */

static bool is_lower(gsl_rng *rng, int round, Plot *p) {
    Answer narrow, wide;
    double least, most;
    bool lower = false;
    (void)round;
    p->limits.min_week_load = 0;
    answer_open(p, &plain, &narrow);
    least = narrow.search.items[narrow.search.best].gain;
    p->limits.build_up = 5 * test_whole(rng, 1, 6);
    answer_open(p, &plain, &wide);
    most = wide.search.items[wide.search.best].gain;
    if (narrow.found) {
        lower = most < least - 1e-9 * fabs(least) ||
                wide.search.ceiling <
                    narrow.search.ceiling - 1e-9 * fabs(narrow.search.ceiling);
        wider_higher += most > least + 1e-9 * fabs(least);
    }
    answer_close(&narrow);
    answer_close(&wide);
    return lower;
}

/* With a build-up allowed too the best and the ceiling are no lower. */
static void wider_limits(void) {
    wider_higher = 0;
    CU_ASSERT_EQUAL(count_rounds(7007, 400, is_lower), 0);
    CU_ASSERT(wider_higher > 0);
}

/* ---- one readiness everywhere ---- */

/* The rows of a table that a command printed, cut at its commas. */
typedef struct {
    char *text, *row[ROWS_MOST];
    size_t rows; /* row[0] is the heading */
} Printed;

static Printed print_table(const char *arguments) {
    Printed p = {.rows = 0};
    char *err;
    int code = test_command(arguments, folder, &p.text, &err);
    if (code != 0)
        fprintf(stderr, "%s: exit %d: %s", arguments, code, err);
    CU_ASSERT_EQUAL_FATAL(code, 0);
    for (char *at = strtok(p.text, "\n"); at; at = strtok(NULL, "\n"))
        if (p.rows < ROWS_MOST)
            p.row[p.rows++] = at;
    free(err);
    return p;
}

/* A cell, valid until the next call. */
static const char *printed_cell(const Printed *p, size_t row,
                                const char *heading) {
    static char cell[60];
    size_t column = 0, length = strlen(heading);
    const char *at = p->row[0];
    while (strncmp(at, heading, length) != 0 ||
           (at[length] && at[length] != ',')) {
        at = strchr(at, ',');
        CU_ASSERT_PTR_NOT_NULL_FATAL(at);
        at++, column++;
    }
    for (at = p->row[row]; column > 0; column--)
        at = strchr(at, ',') + 1;
    snprintf(cell, sizeof cell, "%.*s", (int)strcspn(at, ","), at);
    return cell;
}

/* NAN of a blank cell. */
static double printed_number(const Printed *p, size_t row,
                             const char *heading) {
    const char *cell = printed_cell(p, row, heading);
    return *cell ? strtod(cell, NULL) : NAN;
}

/* The row in which a column reads so; p->rows if there is none. */
static size_t printed_row(const Printed *p, const char *heading,
                          const char *reads) {
    size_t row = 1;
    while (row < p->rows && strcmp(printed_cell(p, row, heading), reads) != 0)
        row++;
    return row;
}

/* What an aim makes of the event's days, which end a curve. */
static double aimed(const Printed *curve, Aim aim) {
    size_t first = printed_row(curve, "phase", "event"), last = curve->rows - 1;
    double sum = 0, lowest = INFINITY;
    CU_ASSERT_FATAL(first <= last);
    for (size_t row = first; row <= last; row++) {
        double readiness = printed_number(curve, row, "readiness");
        sum += readiness;
        lowest = fmin(lowest, readiness);
    }
    return aim == AIM_FIRST    ? printed_number(curve, first, "readiness")
           : aim == AIM_LAST   ? printed_number(curve, last, "readiness")
           : aim == AIM_LOWEST ? lowest
                               : sum / (double)(last - first + 1);
}

/* Tests that tell little, or none. */
static void write_tests(gsl_rng *rng, const Plot *p) {
    Text text = {0};
    char day[DATE_TEXT];
    int count = test_whole(rng, 0, 1) ? test_whole(rng, 2, 9) : 0;
    text_add(&text, "date,athlete,test,value\n");
    for (int i = 0; i < count; i++)
        text_add(&text, "%s,wing-07,Jump,%.2f\n",
                 date_write(day, day_zero(&plain) +
                                     (Date)(i * (p->days - 1) / count)),
                 test_between(rng, 30, 40));
    test_file(3, "tests.csv", text_of(&text));
    text_free(&text);
}

static const char graded[] = "parameter,value,spread,unit,source\n"
                             "kind,graded,,,invented\np0,30,,cm,\nk1,.002,,,\n"
                             "tau1,39,.4,d,\ntau2,12,.7,d,\ntau3,2.3,.5,d,\n"
                             "ratio,2.1,.5,,\ngrowth,.5,.5,,\n";

/* Each of them in a quarter of the rounds: their own tests, or what is
 * published where there are none; a kind that is not linear; models of a file's
 * spreads that are tied to a test's unit. */
static const char *const asked[] = {
    "", " --model busso-2003", " --model @/wide.csv", " --model @/graded.csv"};

static const char wide[] = "parameter,value,spread,unit,source\n"
                           "kind,two-component,,,invented\np0,30,,cm,\n"
                           "k1,.002,.5,,\nk2,.004,.6,,\ntau1,40,.4,d,\n"
                           "tau2,12,.7,d,\n";

#define TAPER "4d-60"

static Printed print_round(const char *command, int round, const Plot *p) {
    char words[300];
    bool curve = strncmp(command, "simulate", 8) == 0;
    snprintf(words, sizeof words, "%s @ --quiet --csv%s%s%s", command,
             asked[round / 2 % 4], curve ? "" : " --aim ",
             curve ? "" : aim_names[p->aim]);
    return print_table(words);
}

static size_t readings; /* so far */

static bool same_reading(const Printed *p, size_t row, double readiness) {
    readings++;
    return row < p->rows &&
           test_near(printed_number(p, row, "readiness"), readiness, 1e-7);
}

static bool readiness_differs(gsl_rng *rng, int round, Plot *p) {
    Printed none, cut, tapers, options;
    double without, with;
    bool same;
    write_log(p, &plain);
    write_week(p, &plain);
    write_event(p, &plain);
    write_tests(rng, p);
    test_file(4, "wide.csv", wide);
    test_file(5, "graded.csv", graded);
    none = print_round("simulate", round, p);
    cut = print_round("simulate --option " TAPER, round, p);
    tapers = print_round("taper", round, p);
    options = print_round("compare --option none --option " TAPER, round, p);
    without = aimed(&none, p->aim);
    with = aimed(&cut, p->aim);
    same =
        same_reading(&tapers, printed_row(&tapers, "tag", "none"), without) &&
        same_reading(&options, 1, without) &&
        same_reading(&options, printed_row(&options, "option", TAPER), with);
    for (size_t row = 1; same && row < none.rows; row++)
        if (strcmp(printed_cell(&none, row, "phase"), "logged") == 0)
            same = same_reading(&cut, row,
                                printed_number(&none, row, "readiness"));
    free(none.text);
    free(cut.text);
    free(tapers.text);
    free(options.text);
    return !same;
}

/* A day's readiness is the same in the curve of `simulate`, among the tapers
 * and among the options compared, under every aim. */
static void drawn_readiness(void) {
    readings = 0;
    CU_ASSERT_EQUAL(count_rounds(7010, 60, readiness_differs), 0);
    CU_ASSERT(readings > (size_t)rounds(1500));
}

static const TestCase cases[] = {{"form_of_files", form_of_files},
                                 {"one_minute", one_minute},
                                 {"order_of_rows", order_of_rows},
                                 {"split_sessions", split_sessions},
                                 {"other_athletes", other_athletes},
                                 {"among_others", among_others},
                                 {"time_shift", time_shift},
                                 {"drawn_tapers", drawn_tapers},
                                 {"wider_limits", wider_limits},
                                 {"drawn_readiness", drawn_readiness},
                                 {NULL, NULL}};

const TestSuite suite_program_properties = {"program", cases};
