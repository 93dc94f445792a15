/* score: readiness under options, by sums over all loads and by runs of the
 * kernel; of one model and of many draws.
 *
 * Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reckoned.h"
#include "test.h"
#include "world.h"

#include "calibrate/draws.h"
#include "taper/option.h"
#include "taper/score.h"

#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

/* Options of every shape, also longer than the window, and every aim. */
static void test_score_option(void) {
    gsl_rng *rng = test_random(9);
    size_t seen[SHAPES] = {0}, timed = 0, camps = 0;
    for (int round = 0; round < 400; round++) {
        World *w = random_world(rng);
        Score score;
        double cut[DAYS_MOST];
        w->params = random_kind(rng);
        score_build(&w->outlook, &w->params, (Aim)test_whole(rng, 0, AIMS - 1),
                    &score);
        timed += w->daily.timed;
        camps += w->event->days > 1;
        for (int i = 0; i < 8; i++) {
            Option option = random_option(rng, 25);
            seen[option_shape(&option)]++;
            own_cuts(&option, cut, w->outlook.window);
            check_score(w, &score, score_option(&score, &option), cut);
        }
        score_free(&score);
        world_close(w);
    }
    for (int shape = 0; shape < SHAPES; shape++)
        CU_ASSERT(seen[shape] > 0);
    CU_ASSERT(timed > 50 && camps > 50);
    gsl_rng_free(rng);
}

static void test_score_cuts(void) {
    gsl_rng *rng = test_random(10);
    for (int round = 0; round < 500; round++) {
        World *w = random_world(rng);
        Score score;
        double cut[DAYS_MOST];
        w->params = random_kind(rng);
        score_build(&w->outlook, &w->params, (Aim)test_whole(rng, 0, AIMS - 1),
                    &score);
        for (int i = 0; i < 4; i++) {
            for (size_t u = 0; u < w->outlook.window; u++)
                cut[u] = chance(rng, .2) ? 0 : test_between(rng, -.3, 1);
            check_score(w, &score, score_cuts(&score, cut), cut);
        }
        check_score(w, &score, score_aim(&score, score.base), no_cut);
        score_free(&score);
        world_close(w);
    }
    gsl_rng_free(rng);
}

static void test_score_aim(void) {
    static const double value[] = {3.25, -2.385, 11.5, 4};
    static const double wanted[AIMS] = {3.25, 16.365 / 4, -2.385, 4};
    static const char *const names[] = {"first", "mean", "lowest", "last"};
    for (int aim = 0; aim < AIMS; aim++) {
        Score score = {.aim = (Aim)aim, .days = 4};
        ASSERT_NEAR(score_aim(&score, value), wanted[aim], 1e-14);
        ASSERT_TEXT(aim_names[aim], names[aim]);
        score.days = 1;
        CU_ASSERT_EQUAL(score_aim(&score, value), 3.25);
    }
    CU_ASSERT_PTR_NULL(aim_names[AIMS]);
}

/* Reading of the last logged day, summed by hand in daily seasons. */
static double own_today(const World *w) {
    static Doses d;
    double read = w->outlook.read_time[w->outlook.log_days - 1];
    d.count = 0;
    add_log(w, &d, read);
    return own_sum(w, &d, read);
}

static void test_score_today(void) {
    gsl_rng *rng = test_random(11);
    for (int round = 0; round < 300; round++) {
        World *w = random_world(rng);
        w->params = random_kind(rng);
        CU_ASSERT(fabs(score_today(&w->outlook, &w->params) - own_today(w)) <=
                  1e-10 * size_of(w));
        world_close(w);
    }
    gsl_rng_free(rng);
}

/* Quantile at place p (n - 1) of the sorted values. */
static double own_quantile(const double *values, size_t n, double p) {
    double sorted[DAYS_MOST];
    memcpy(sorted, values, n * sizeof *values);
    gsl_sort(sorted, 1, n);
    return gsl_stats_quantile_from_sorted_data(sorted, 1, n, p);
}

/* One option under each draw by a full run. With an anchor a draw is shifted
 * so that its last logged day reads as that. */
static void check_spread(World *w, const Draws *draws, Aim aim, double anchor,
                         const Option *option, Spread spread) {
    double readiness[DAYS_MOST], gain[DAYS_MOST], cut[DAYS_MOST];
    size_t n = draws->count, better = 0, perhaps = 0;
    double size = 0;
    own_cuts(option, cut, w->outlook.window);
    for (size_t i = 0; i < n; i++) {
        w->params = draws->set[i];
        readiness[i] = kernel_score(w, aim, cut);
        gain[i] = readiness[i] - kernel_score(w, aim, no_cut);
        if (isfinite(anchor))
            readiness[i] += anchor - own_today(w);
        size = fmax(size, size_of(w));
        better += gain[i] > 1e-12 * size;
        perhaps += gain[i] > -1e-12 * size;
    }
    CU_ASSERT(fabs(spread.readiness_low - own_quantile(readiness, n, .05)) <=
              1e-10 * size);
    CU_ASSERT(fabs(spread.readiness_high - own_quantile(readiness, n, .95)) <=
              1e-10 * size);
    CU_ASSERT(fabs(spread.gain_low - own_quantile(gain, n, .05)) <=
              1e-10 * size);
    CU_ASSERT(fabs(spread.gain_high - own_quantile(gain, n, .95)) <=
              1e-10 * size);
    /* a gain of 0 may come out on either side of it */
    CU_ASSERT(spread.beats_none * (double)n >= (double)better - 1e-9);
    CU_ASSERT(spread.beats_none * (double)n <= (double)perhaps + 1e-9);
}

static void test_draw_scores(void) {
    gsl_rng *rng = test_random(12);
    for (int round = 0; round < 60; round++) {
        World *w = random_window(rng);
        ResponseParams set[150];
        Draws draws = {(size_t)test_whole(rng, 1, 150), set};
        DrawScores scores;
        Aim aim = (Aim)test_whole(rng, 0, AIMS - 1);
        double anchor = round % 2 ? NAN : 238.5, work[300];
        set[0] = random_kind(rng);
        for (size_t i = 1; i < draws.count; i++) /* all of one kind */
            do
                set[i] = random_kind(rng);
            while (set[i].kind != set[0].kind);
        draw_scores_build(&w->outlook, &draws, aim, anchor, &scores);
        CU_ASSERT_EQUAL(scores.count, draws.count);
        for (int i = 0; i < 5; i++) {
            Option option = random_option(rng, 15);
            check_spread(w, &draws, aim, anchor, &option,
                         draw_scores_option(&scores, &option, work));
        }
        { /* the gain alone */
            Option option = random_option(rng, 15);
            Spread spread = draw_scores_option(&scores, &option, work);
            Spread gain = draw_scores_gain(&scores, &option, work);
            CU_ASSERT(isnan(gain.readiness_low) && isnan(gain.readiness_high));
            CU_ASSERT_EQUAL(gain.gain_low, spread.gain_low);
            CU_ASSERT_EQUAL(gain.gain_high, spread.gain_high);
            CU_ASSERT_EQUAL(gain.beats_none, spread.beats_none);
            CU_ASSERT_EQUAL(draw_scores_helps(&scores, &option, work),
                            spread.beats_none);
        }
        { /* no taper never beats itself */
            Option none = {.count = 0};
            Spread spread = draw_scores_option(&scores, &none, work);
            CU_ASSERT_EQUAL(spread.beats_none, 0);
            CU_ASSERT_EQUAL(spread.gain_low, 0);
            CU_ASSERT_EQUAL(spread.gain_high, 0);
        }
        draw_scores_free(&scores);
        world_close(w);
    }
    gsl_rng_free(rng);
}

/* One win, one defeat and two ties of four; none of none. */
static void test_draw_scores_beat(void) {
    static const double one[] = {1.5, 2, 3.25, -4};
    static const double other[] = {1.5, 1, 3.5, -4};
    ASSERT_NEAR(draw_scores_beat(one, other, 4), .5, 1e-15);
    ASSERT_NEAR(draw_scores_beat(one, other, 2), .75, 1e-15);
    ASSERT_NEAR(draw_scores_beat(other, one, 3), .5, 1e-15);
    ASSERT_NEAR(draw_scores_beat(other, one, 2), .25, 1e-15);
    CU_ASSERT(isnan(draw_scores_beat(one, other, 0)));
}

/* Mean over the draws, each by the kernel. */
static double own_mean(World *w, const Draws *draws, Aim aim, double anchor,
                       const double *cut) {
    double sum = 0;
    for (size_t i = 0; i < draws->count; i++) {
        w->params = draws->set[i];
        sum += kernel_score(w, aim, cut);
        if (isfinite(anchor))
            sum += anchor - own_today(w);
    }
    return sum / (double)draws->count;
}

/* The lowest of expected readings is not below the expected lowest one, nor
 * above the expected first (Jensen 1906, Acta Math 30:175-193; from memory). */
static void check_mean(World *w, const Draws *draws, Aim aim, double anchor,
                       const Score *mean, const Option *option) {
    double cut[DAYS_MOST] = {0}, size = 0, wanted, found;
    option_cuts(option, w->outlook.window, cut);
    found = score_option(mean, option);
    CU_ASSERT(fabs(found - score_cuts(mean, cut)) <= 1e-9 * fabs(found));
    for (size_t i = 0; i < draws->count; i++) {
        w->params = draws->set[i];
        size = fmax(size, size_of(w));
    }
    wanted = own_mean(w, draws, aim, anchor, cut);
    if (aim == AIM_LOWEST) {
        CU_ASSERT(found >= wanted - 1e-10 * size);
        wanted = own_mean(w, draws, AIM_FIRST, anchor, cut);
        CU_ASSERT(found <= wanted + 1e-10 * size);
    } else {
        CU_ASSERT(fabs(found - wanted) <= 1e-10 * size);
    }
}

static void test_draw_scores_mean(void) {
    gsl_rng *rng = test_random(14);
    for (int round = 0; round < 60; round++) {
        World *w = random_window(rng);
        ResponseParams set[40];
        Draws draws = {(size_t)test_whole(rng, 1, 40), set};
        DrawScores scores;
        Score mean;
        Aim aim = (Aim)test_whole(rng, 0, AIMS - 1);
        double anchor = round % 2 ? NAN : 238.5;
        set[0] = random_kind(rng);
        for (size_t i = 1; i < draws.count; i++) /* all of one kind */
            do
                set[i] = random_kind(rng);
            while (set[i].kind != set[0].kind);
        draw_scores_build(&w->outlook, &draws, aim, anchor, &scores);
        draw_scores_mean(&scores, &mean);
        for (int i = 0; i < 5; i++) {
            Option option = random_option(rng, 15);
            check_mean(w, &draws, aim, anchor, &mean, &option);
        }
        score_free(&mean);
        draw_scores_free(&scores);
        world_close(w);
    }
    gsl_rng_free(rng);
}

static void test_draw_scores_none(void) {
    gsl_rng *rng = test_random(13);
    World *w = random_window(rng);
    Draws draws = {0, NULL};
    Option option = random_option(rng, 15);
    DrawScores scores;
    Spread spread;
    draw_scores_build(&w->outlook, &draws, AIM_MEAN, NAN, &scores);
    spread = draw_scores_option(&scores, &option, NULL);
    CU_ASSERT(isnan(spread.readiness_low) && isnan(spread.readiness_high));
    CU_ASSERT(isnan(spread.gain_low) && isnan(spread.gain_high));
    CU_ASSERT(isnan(spread.beats_none));
    draw_scores_free(&scores);
    world_close(w);
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"score_option", test_score_option},
                                 {"score_cuts", test_score_cuts},
                                 {"score_aim", test_score_aim},
                                 {"score_today", test_score_today},
                                 {"draw_scores", test_draw_scores},
                                 {"draw_scores_beat", test_draw_scores_beat},
                                 {"draw_scores_mean", test_draw_scores_mean},
                                 {"draw_scores_none", test_draw_scores_none},
                                 {NULL, NULL}};

const TestSuite suite_taper_score = {"taper", cases};
