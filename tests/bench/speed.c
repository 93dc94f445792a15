/* bench/speed: the program's inner loops beside plain ones that do no more than
 * they must, in turn in the same run; one line a pair on standard output, for
 * speed.py: what, own time, the other's time [ms], and what the two are.
 *
 *     speed FOLDER        (a season made by league.py)
 *
 * Times are processor time of one core, medians of RUNS runs.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "base/wide.h"
#include "taper/search.h"

#include <csv.h>
#include <gsl/gsl_errno.h>
#include <malloc.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
    RUNS = 7,
    DRAWS = 4096,
    STEPS = 730,
    LONGEST = 60, /* [d] tapers up to so long are some 5,000 options */
    DAYS_LEFT = 75
};

typedef void (*Job)(void *with);

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static double time_of(Job job, void *with) {
    double start = now();
    job(with);
    return now() - start;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Both in turn, once unmeasured. The other does one of `times` parts. */
static void compare(const char *what, Job own, Job other, double times,
                    void *with, const char *who) {
    double a[RUNS], b[RUNS];
    own(with);
    if (other)
        other(with);
    for (int i = 0; i < RUNS; i++) {
        a[i] = time_of(own, with);
        b[i] = other ? times * time_of(other, with) : NAN;
    }
    qsort(a, RUNS, sizeof *a, by_size);
    if (other)
        qsort(b, RUNS, sizeof *b, by_size);
    printf("%s\t%.6f\t%.6f\t%s\n", what, a[RUNS / 2], b[RUNS / 2], who);
    fflush(stdout);
}

/* ---- the kernel ---- */

typedef struct {
    ResponseParams set[DRAWS];
    double load[STEPS];
    Timeline timeline;
    double *readiness, *copy;
} KernelBench;

static void kernel_own(void *with) {
    KernelBench *b = with;
    kernel_batch(DRAWS, b->set, &b->timeline, READ_BEFORE, b->readiness);
}

/* As many fused operations as the recursion needs, two to age and take up and
 * two to read, for as many lanes and steps, and as many readings written. */
#define FUSED(to, x, y, z)                                                     \
    for (int j = 0; j < 8; j++)                                                \
    (to)[j] = __builtin_fma((x)[j], (y)[j], (z)[j])

typedef double Eight __attribute__((vector_size(64)));

WIDE static void plain_fma(size_t sets, size_t steps, double *to) {
    for (size_t from = 0; from + 16 <= sets; from += 16) {
        Eight one[2] = {{1, 2, 3, 4, 5, 6, 7, 8}, {2, 3, 4, 5, 6, 7, 8, 9}};
        Eight other[2] = {one[1], one[0]}, a = one[0] * .01, c = one[1] * .01;
        for (size_t i = 0; i < steps; i++) {
            Eight out[2];
#pragma GCC unroll 2
            for (int p = 0; p < 2; p++) {
                FUSED(one[p], one[p], a, c);
                FUSED(other[p], other[p], c, a);
                FUSED(out[p], one[p], a, c);
                FUSED(out[p], other[p], c, out[p]);
            }
            memcpy(to + i * sets + from, out, sizeof out);
        }
    }
}

static void kernel_fma(void *with) {
    KernelBench *b = with;
    plain_fma(DRAWS, STEPS, b->readiness);
}

/* The memory that the readings take up, written once from elsewhere. */
static void kernel_memory(void *with) {
    KernelBench *b = with;
    memcpy(b->readiness, b->copy, (size_t)DRAWS * STEPS * sizeof(double));
}

static void bench_kernel(void) {
    static KernelBench b;
    for (size_t i = 0; i < DRAWS; i++)
        b.set[i] = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                    {0, 1, 1.9, 30 + .01 * (double)i,
                                     7 + .002 * (double)i, NAN, NAN, NAN}};
    for (size_t i = 0; i < STEPS; i++)
        b.load[i] = i % 7 == 6 ? 0 : 300 + (double)(i * 37 % 211);
    b.timeline = (Timeline){
        .steps = STEPS, .load = b.load, .before = 253.5, .before_age = 1};
    b.readiness = mem_new((size_t)DRAWS * STEPS, sizeof(double));
    b.copy = mem_new((size_t)DRAWS * STEPS, sizeof(double));
    compare("batch kernel, 4,096 x 730 steps", kernel_own, kernel_fma, 1, &b,
            "plain loop of as many fused operations and readings");
    compare("batch kernel, 4,096 x 730 steps", kernel_own, kernel_memory, 1, &b,
            "copying as much memory as it fills");
    free(b.readiness);
    free(b.copy);
}

/* ---- reading ---- */

typedef struct {
    const char *path;
    char *bytes;
    size_t length;
} ReadBench;

static Season *read_season(const char *path) {
    SeasonOptions options = {.load = LOAD_FIRST_COMPLETE, .today = DATE_NONE};
    Notes notes = {0};
    Season *season = season_read(path, &options, &notes);
    if (notes.errors)
        exit(1);
    notes_free(&notes);
    return season;
}

static void read_own(void *with) {
    const ReadBench *b = with;
    season_free(read_season(b->path));
}

static void no_field(void *bytes, size_t length, void *data) {
    (void)bytes;
    (void)length;
    (void)data;
}

static void no_end(int terminator, void *data) {
    (void)terminator;
    (void)data;
}

static void read_libcsv(void *with) {
    const ReadBench *b = with;
    struct csv_parser parser;
    csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_EMPTY_IS_NULL);
    csv_parse(&parser, b->bytes, b->length, no_field, no_end, NULL);
    csv_fini(&parser, no_field, no_end, NULL);
    csv_free(&parser);
}

static void bench_reading(const char *folder) {
    Text path = {0};
    ReadBench b;
    FILE *file;
    text_add(&path, "%s/sessions.csv", folder);
    file = fopen(text_of(&path), "rb");
    if (!file || fseek(file, 0, SEEK_END) != 0)
        exit(1);
    b.path = text_of(&path);
    b.length = (size_t)ftell(file);
    rewind(file);
    b.bytes = mem_new(b.length, 1);
    b.length = fread(b.bytes, 1, b.length, file);
    fclose(file);
    compare("reading sessions", read_own, read_libcsv, 1, &b,
            "libcsv on the same bytes, empty callbacks");
    free(b.bytes);
    text_free(&path);
}

/* ---- the search ---- */

typedef struct {
    Outlook outlook;
    Draws draws;
    Limits limits;
    Search search; /* of the last run */
    double sink;
    size_t step; /* the plain loop tries every so-manyth option */
} SearchBench;

static void search_own(void *with) {
    SearchBench *b = with;
    DrawScores scores;
    Score mean;
    Status status = {0};
    draw_scores_build(&b->outlook, &b->draws, AIM_MEAN, NAN, &scores);
    draw_scores_mean(&scores, &mean);
    search_free(&b->search);
    if (search_run(&b->outlook, &mean, &b->limits, &b->search, &status) !=
        STATUS_OK)
        exit(1);
    score_free(&mean);
    draw_scores_free(&scores);
}

/* Every option under every draw. */
static void search_plain(void *with) {
    SearchBench *b = with;
    double *gain = mem_new(b->draws.count, sizeof *gain);
    DrawScores scores;
    draw_scores_build(&b->outlook, &b->draws, AIM_MEAN, NAN, &scores);
    for (size_t i = 0; i < b->search.count; i += b->step) {
        double sum = 0;
        draw_scores_gains(&scores, &b->search.items[i].option, gain);
        for (size_t k = 0; k < scores.count; k++)
            sum += scores.none[k] + gain[k];
        b->sink = fmax(b->sink, sum / (double)scores.count);
    }
    draw_scores_free(&scores);
    free(gain);
}

static void bench_search(const Season *season, const Model *model,
                         const char *kind, size_t step) {
    Event event = season->events[0];
    SearchBench b = {.limits = limits_default(), .step = step};
    Daily daily;
    Usual usual;
    Notes notes = {0};
    Status status = {0};
    char what[96], who[96];
    event.start = season->today + DAYS_LEFT;
    b.limits.max_length = LONGEST;
    daily_build(season, 0, false, &daily);
    usual_build(season, 0, &daily, &usual, &notes);
    outlook_build(&usual, &daily, &event, daily_first_mean(&daily), &b.outlook);
    if (draws_from_spreads(model, DRAWS, 1, &b.draws, &status) != STATUS_OK)
        exit(1);
    search_own(&b);
    snprintf(what, sizeof what, "search, %s, %zu options x 4,096", kind,
             b.search.count);
    snprintf(who, sizeof who, "plain loop over options and draws%s",
             step > 1 ? ", by 1 option in 100" : "");
    compare(what, search_own, search_plain, (double)step, &b, who);
    search_free(&b.search);
    draws_free(&b.draws);
    outlook_free(&b.outlook);
    usual_free(&usual);
    daily_free(&daily);
    notes_free(&notes);
}

int main(int count, char **words) {
    static char name[] = "bench";
    Model linear = {
        .name = name,
        .params = {RESPONSE_TWO_COMPONENT, {0, 1, 1.9, 42, 13, NAN, NAN, NAN}},
        .spread = {[PARAM_K2] = .5, [PARAM_TAU1] = .4, [PARAM_TAU2] = .7}};
    Model dose = {
        .name = name,
        .params = {RESPONSE_VARIABLE_DOSE, {0, 1, NAN, 42, 9, NAN, .0012, 6}},
        .spread = {[PARAM_K3] = .3,
                   [PARAM_TAU1] = .3,
                   [PARAM_TAU2] = .4,
                   [PARAM_TAU3] = .4}};
    Season *season;
    if (count < 2)
        return 2;
    gsl_set_error_handler_off();
    mallopt(M_MMAP_THRESHOLD, 64 << 20); /* as main.c does */
    mallopt(M_TRIM_THRESHOLD, 256 << 20);
    bench_kernel();
    bench_reading(words[1]);
    season = read_season(words[1]);
    bench_search(season, &linear, "linear", 1);
    bench_search(season, &dose, "variable dose", 100);
    season_free(season);
    return 0;
}
