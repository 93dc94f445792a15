/* option: words in, cuts out.
 *
 * Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reckoned.h"
#include "test.h"
#include "world.h"

#include "taper/option.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

typedef struct {
    const char *spec, *written;
    Shape shape;
    int days;
    double most;      /* [%] */
    double cut[8];    /* of the days 1 ... 8 before the event */
    const char *said; /* in words */
} Accepted;

static const Accepted accepted[] = {
    {"6d-50%",
     "6d-50",
     SHAPE_STEP,
     6,
     50,
     {.5, .5, .5, .5, .5, .5},
     "6 days with 50 %"},
    {"5d-0%..80%",
     "5d-0..80",
     SHAPE_LINEAR,
     5,
     80,
     {.8, .6, .4, .2, 0},
     "5 days with 0 to 80 %"},
    {"none", "none", SHAPE_NONE, 0, 0, {0}, "no taper"},
    {"NONE", "none", SHAPE_NONE, 0, 0, {0}, "no taper"},
    {"3d-100", "3d-100", SHAPE_REST, 3, 100, {1, 1, 1}, "3 days of full rest"},
    {"1d-100", "1d-100", SHAPE_REST, 1, 100, {1}, "1 day of full rest"},
    {"6d-50",
     "6d-50",
     SHAPE_STEP,
     6,
     50,
     {.5, .5, .5, .5, .5, .5},
     "6 days with 50 % less volume"},
    {"2d-62.5",
     "2d-62.5",
     SHAPE_STEP,
     2,
     62.5,
     {.625, .625},
     "2 days with 62.5 % less volume"},
    {"14d-40",
     "14d-40",
     SHAPE_STEP,
     14,
     40,
     {.4, .4, .4, .4, .4, .4, .4, .4},
     "14 days with 40 % less volume"},
    {"3d-50,4d-75",
     "3d-50,4d-75",
     SHAPE_TWO_STEP,
     7,
     75,
     {.75, .75, .75, .75, .5, .5, .5},
     "3 days with 50 % less volume, then 4 days with 75 % less volume"},
    {" 3d-50 , 4d-75 ",
     "3d-50,4d-75",
     SHAPE_TWO_STEP,
     7,
     75,
     {.75, .75, .75, .75, .5, .5, .5},
     "3 days with 50 %"},
    {"2d-75,5d-25",
     "2d-75,5d-25",
     SHAPE_TWO_STEP,
     7,
     75,
     {.25, .25, .25, .25, .25, .75, .75},
     "2 days with 75 %"},
    /* from none on the first day to 80 % on the last, 20 % more each day */
    {"5d-0..80",
     "5d-0..80",
     SHAPE_LINEAR,
     5,
     80,
     {.8, .6, .4, .2, 0},
     "5 days with 0 to 80 % less volume"},
    {"3d-20..50",
     "3d-20..50",
     SHAPE_LINEAR,
     3,
     50,
     {.5, .35, .2},
     "3 days with 20 to 50 % less volume"},
    /* a quarter on the last day: kept 1, 1/2, 1/4, half as much each day */
    {"3d-0~75",
     "3d-0~75",
     SHAPE_EXPONENTIAL,
     3,
     75,
     {.75, .5, 0},
     "3 days with 0 to 75 % less volume"},
    /* kept .8, .4, .2, .1 */
    {"4d-20~90",
     "4d-20~90",
     SHAPE_EXPONENTIAL,
     4,
     90,
     {.9, .8, .6, .2},
     "4 days with 20 to 90 % less volume"},
    {"1d-0..75", "1d-0..75", SHAPE_LINEAR, 1, 75, {.75}, "1 day "},
    {"1d-0~75", "1d-0~75", SHAPE_EXPONENTIAL, 1, 75, {.75}, "1 day "},
    {"2d-0..100,1d-100",
     "2d-0..100,1d-100",
     SHAPE_OTHER,
     3,
     100,
     {1, 1, 0},
     "then 1 day of full rest"},
    {"1d-10,1d-20,1d-30",
     "1d-10,1d-20,1d-30",
     SHAPE_OTHER,
     3,
     30,
     {.3, .2, .1},
     "1 day with 10 %"},
    {"120d-5",
     "120d-5",
     SHAPE_STEP,
     120,
     5,
     {.05, .05, .05, .05, .05, .05, .05, .05},
     "120 days with 5 %"},
    {"2d-0", "2d-0", SHAPE_STEP, 2, 0, {0}, "2 days with 0 %"},
};

static void test_option_accepted(void) {
    for (size_t i = 0; i < sizeof accepted / sizeof accepted[0]; i++) {
        const Accepted *row = &accepted[i];
        char why[OPTION_WHY];
        Option option;
        Text text = {0};
        double cut[8];
        CU_ASSERT(option_read(row->spec, &option, why));
        option_write(&option, &text);
        ASSERT_TEXT(text_of(&text), row->written);
        text_clear(&text);
        option_words(&option, &text);
        ASSERT_HAS(text_of(&text), row->said);
        CU_ASSERT_EQUAL(option_shape(&option), row->shape);
        CU_ASSERT_EQUAL(option_days(&option), row->days);
        CU_ASSERT_EQUAL(option_cut(&option), row->most);
        option_cuts(&option, 8, cut);
        for (int u = 0; u < 8; u++)
            ASSERT_NEAR(cut[u], row->cut[u], 1e-14);
        text_free(&text);
    }
}

static void test_shape_names(void) {
    static const char *const names[] = {
        "none", "step", "linear", "exponential", "two-step", "rest", "other"};
    CU_ASSERT_EQUAL(SHAPES, 7);
    for (int i = 0; i < SHAPES; i++)
        ASSERT_TEXT(shape_names[i], names[i]);
    CU_ASSERT_PTR_NULL(shape_names[SHAPES]);
}

static const struct {
    const char *spec, *said;
} refused[] = {
    {"", "parts like 14d-50 (DAYSd-CUT)"},
    {"best", "parts like 14d-50"},
    {"14", "parts like 14d-50"},
    {"x50", "parts like 14d-50"},
    {"-7d-50", "parts like 14d-50"},
    {"7*50", "parts like 14d-50"},
    {"7d-50,", "parts like 14d-50"},
    {",7d-50", "parts like 14d-50"},
    {"7d-50,none", "parts like 14d-50"},
    {"d-50", "parts like 14d-50"},
    {"14d", "a cut in per cent behind d-"},
    {"14d50", "a cut in per cent behind d-"},
    {"14x50", "14d-50, as it is written now"},
    {"7d-50,7X75", "7d-75, as it is written now"},
    {"14x0-75", "14d-0..75, as it is written now"},
    {"14x0~62.5%", "14d-0~62.5, as it is written now"},
    {"21x+20", "21d+20, as it is written now"},
    {"7x", "DAYSd-CUT, like 14d-50"},
    {"0d-50", "a whole number of days from 1 to 120"},
    {"7.5d-50", "a whole number of days from 1 to 120"},
    {"121d-50", "a whole number of days from 1 to 120"},
    {"99999999999999999999d-50", "a whole number of days from 1 to 120"},
    {"7d-", "a cut in per cent behind d-"},
    {"7d--50", "a cut in per cent behind d-"},
    {"7d-5.5.5", "a comma between parts"},
    {"7d-half", "a cut in per cent behind d-"},
    {"7d-0..", "the last day's cut behind .. or ~"},
    {"7d-0~", "the last day's cut behind .. or ~"},
    {"7d-0..-50", "the last day's cut behind .. or ~"},
    {"7d-0-50", "a comma between parts"},
    {"7d-100.5", "cuts from 0 to 100 per cent"},
    {"7d-0..101", "cuts from 0 to 100 per cent"},
    {"7d-101..0", "cuts from 0 to 100 per cent"},
    {"7d-0~100", "cuts below 100 per cent in an exponential fall"},
    {"7d-100~50", "cuts below 100 per cent in an exponential fall"},
    {"7d-50;7d-75", "a comma between parts"},
    {"7d-50 7d-75", "a comma between parts"},
    {"7d-50%%", "a comma between parts"},
    {"7%d-50", "parts like 14d-50"},
    {"7d-0..50-75", "a comma between parts"},
    {"100d-50,21d-75", "at most 120 days in all"},
    {"60d-50,60d-60,1d-70", "at most 120 days in all"},
};

static void test_option_refused(void) {
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        char why[OPTION_WHY] = "";
        Option option;
        CU_ASSERT_FALSE(option_read(refused[i].spec, &option, why));
        ASSERT_HAS(why, refused[i].said);
    }
}

/* As many parts as there is room for, and one more. */
static void test_option_parts(void) {
    Text spec = {0}, wanted = {0};
    char why[OPTION_WHY] = "";
    Option option;
    for (int i = 0; i < OPTION_PARTS; i++)
        text_add(&spec, "%s1d-%d", i ? "," : "", i + 1);
    CU_ASSERT(option_read(text_of(&spec), &option, why));
    CU_ASSERT_EQUAL(option.count, OPTION_PARTS);
    text_add(&spec, ",1d-50");
    CU_ASSERT_FALSE(option_read(text_of(&spec), &option, why));
    text_add(&wanted, "at most %d parts", OPTION_PARTS);
    ASSERT_HAS(why, text_of(&wanted));
    text_free(&spec);
    text_free(&wanted);
}

static void test_option_round_trip(void) {
    gsl_rng *rng = test_random(7050);
    Text text = {0};
    for (int round = 0; round < 5000; round++) {
        Option option = random_option(rng, 30), back;
        char why[OPTION_WHY];
        text_clear(&text);
        option_write(&option, &text);
        CU_ASSERT(option_read(text_of(&text), &back, why));
        CU_ASSERT(same_option(&option, &back));
    }
    text_free(&text);
    gsl_rng_free(rng);
}

/* Any window: days beyond it are left out, days beyond the option uncut. */
static void test_option_cuts(void) {
    gsl_rng *rng = test_random(7051);
    for (int round = 0; round < 5000; round++) {
        Option option = random_option(rng, 25);
        size_t window = (size_t)test_whole(rng, 0, 110);
        double cut[DAYS_MOST], wanted[DAYS_MOST];
        bool good;
        cut[window] = 2.385; /* must stay */
        option_cuts(&option, window, cut);
        own_cuts(&option, wanted, window);
        good = true;
        for (size_t u = 0; u < window; u++)
            good = good && test_near(cut[u], wanted[u], 1e-12);
        CU_ASSERT(good);
        CU_ASSERT_EQUAL(cut[window], 2.385);
        /* exactly: no cut is no cut and rest is rest */
        if (window > 0 && option.count > 0)
            CU_ASSERT_EQUAL(cut[0], option.part[option.count - 1].to / 100);
    }
    gsl_rng_free(rng);
}

/* Less cut from day to day is a rise of volume, not a fall. */
static void test_option_rising(void) {
    static const char *const specs[] = {"14d-75..25", "14d-75~25"};
    for (int i = 0; i < 2; i++) {
        Option option;
        Text text = {0};
        char why[OPTION_WHY];
        CU_ASSERT(option_read(specs[i], &option, why));
        option_words(&option, &text);
        ASSERT_HAS(text_of(&text), "75 to 25 %");
        CU_ASSERT_PTR_NULL(strstr(text_of(&text), "falling"));
        text_free(&text);
    }
}

/* 10d-0..90 seen from four days before: .6 .7 .8 .9. */
static void test_option_short_window(void) {
    Option option;
    char why[OPTION_WHY];
    double cut[5] = {0, 0, 0, 0, 2.385};
    CU_ASSERT(option_read("5d-30,10d-0..90", &option, why));
    option_cuts(&option, 4, cut);
    for (int u = 0; u < 4; u++)
        ASSERT_NEAR(cut[u], .9 - .1 * u, 1e-14);
    CU_ASSERT_EQUAL(cut[4], 2.385);
}

/* An exponential fall keeps an equal share of the day before. */
static void test_option_equal_share(void) {
    Option option;
    char why[OPTION_WHY];
    double cut[14];
    CU_ASSERT(option_read("14d-0~75", &option, why));
    option_cuts(&option, 14, cut);
    CU_ASSERT_EQUAL(cut[13], 0);
    ASSERT_NEAR(cut[0], .75, 1e-14);
    for (int u = 1; u < 14; u++)
        ASSERT_NEAR((1 - cut[u - 1]) / (1 - cut[u]), pow(.25, 1 / 13.0), 1e-13);
}

/* Two days a fifth above the usual, then three at half, and back to words. */
static void test_option_build_up(void) {
    Option option;
    char why[OPTION_WHY];
    double cut[6];
    Text text = {0};
    CU_ASSERT(option_read("2d+20, 3d-50", &option, why));
    option_cuts(&option, 6, cut);
    CU_ASSERT_EQUAL(cut[5], 0);
    CU_ASSERT_EQUAL(cut[4], -.2);
    CU_ASSERT_EQUAL(cut[3], -.2);
    for (int u = 0; u < 3; u++)
        CU_ASSERT_EQUAL(cut[u], .5);
    CU_ASSERT_EQUAL(option_build_days(&option), 2);
    CU_ASSERT_EQUAL(option_more(&option), 20);
    CU_ASSERT_EQUAL(option_shape(&option), SHAPE_STEP);
    option_write(&option, &text);
    CU_ASSERT_STRING_EQUAL(text_of(&text), "2d+20,3d-50");
    text_clear(&text);
    option_words(&option, &text);
    ASSERT_HAS(text_of(&text), "2 days with 20 % more volume");
    text_free(&text);
}

/* Options that read differently have an order of their own, which turns round
 * with them; the same one has none. */
static void test_option_order(void) {
    static const char *const specs[] = {
        "none",     "8d-50",   "9d-50",       "8d-55",       "8d-0..50",
        "8d-0..75", "8d-0~75", "3d-50,5d-75", "3d-50,5d-70", "8d-10..75"};
    enum { COUNT = sizeof specs / sizeof *specs };
    Option option[COUNT];
    char why[OPTION_WHY];
    for (size_t i = 0; i < COUNT; i++)
        CU_ASSERT_FATAL(option_read(specs[i], &option[i], why));
    for (size_t i = 0; i < COUNT; i++)
        for (size_t k = 0; k < COUNT; k++) {
            int one = option_order(&option[i], &option[k]);
            int other = option_order(&option[k], &option[i]);
            CU_ASSERT_EQUAL(one == 0, i == k);
            CU_ASSERT_EQUAL(one<0, other> 0);
        }
}

static const TestCase cases[] = {
    {"option_order", test_option_order},
    {"option_accepted", test_option_accepted},
    {"shape_names", test_shape_names},
    {"option_refused", test_option_refused},
    {"option_parts", test_option_parts},
    {"option_round_trip", test_option_round_trip},
    {"option_cuts", test_option_cuts},
    {"option_rising", test_option_rising},
    {"option_short_window", test_option_short_window},
    {"option_equal_share", test_option_equal_share},
    {"option_build_up", test_option_build_up},
    {NULL, NULL}};

const TestSuite suite_taper_option = {"taper", cases};
