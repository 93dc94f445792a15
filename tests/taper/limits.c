/* limits: their words, what contradicts what, and what lifting one leaves.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"
#include "season/season.h"
#include "taper/limits.h"
#include "taper/option.h"

#include <math.h>

/* Each limit in words. */
static void limits_in_words(void) {
    static const struct {
        LimitName name;
        const char *words;
    } rows[] = {
        {LIMIT_SESSIONS, "each week keeps at least 1 session"},
        {LIMIT_DAY_RISE,
         "no day's load is more than 77 above that of the day before"},
        {LIMIT_WEEK_RISE,
         "no week's load is more than 12.5 % above that of the week before"},
        {LIMIT_WEEK_LOAD, "each week keeps at least 55 % of its load"},
        {LIMIT_NO_GYM, "no gym on the last day"},
        {LIMIT_CUT_KINDS, "only these kinds are cut: gym, conditioning"},
        {LIMIT_CUT, ""}};
    Limits limits = limits_default();
    limits.min_sessions = 1;
    limits.max_day_rise = 77;
    limits.max_week_rise = 12.5;
    limits.min_week_load = 55;
    limits.no_gym = 1;
    limits.cut_kinds = 1u << 0 | 1u << 2;
    for (int i = 0; i < 7; i++) {
        Text text = {0};
        limits_words(&limits, rows[i].name, &text);
        ASSERT_TEXT(text_of(&text), rows[i].words);
        text_free(&text);
    }
}

/* On either side of each contradiction; NULL: none. */
static void limits_contradict_at(void) {
    enum {
        STEP = 1 << SHAPE_STEP,
        LINE = 1 << SHAPE_LINEAR,
        REST = 1 << SHAPE_REST,
        GYM = 1 << KIND_GYM
    };
    static const struct {
        unsigned shapes, kinds;
        double cut, week_load;
        int length, rest, no_gym;
        const char *why;
    } rows[] = {
        {STEP | REST, 0, 75, 99.9, 28, 3, 0, NULL},
        {STEP | REST, 0, 75, 100, 28, 3, 0,
         "--min-week-load 100 and --max-cut 75 contradict each other: a week"},
        {REST, 0, 75, 0, 28, 1, 0, NULL},
        {REST, 0, 75, 0, 28, 0, 0,
         "--shapes rest and --rest-days 0 contradict each other: only rest"},
        {STEP | REST, 0, .5, 0, 28, 0, 0, NULL},
        {STEP | REST, 0, 0, 0, 28, 1, 0, NULL},
        {STEP | REST, 0, 0, 0, 28, 0, 0,
         "--max-cut 0 and --rest-days 0 contradict each other: no day may be"},
        {STEP, 0, 0, 0, 28, 3, 0,
         "--max-cut 0 and --shapes step contradict each other: no day may be"},
        {LINE, 0, 75, 0, 2, 3, 0, NULL},
        {LINE, 0, 75, 0, 1, 3, 0,
         "--max-length 1 and --shapes linear contradict each other: these"},
        {LINE | STEP, 0, 75, 0, 1, 3, 0, NULL},
        {STEP, GYM, 75, 0, 9, 3, 8, NULL},
        {STEP, GYM, 75, 0, 9, 3, 9,
         "--cut-kinds gym and --no-gym 9 contradict each other: there is"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Limits limits = limits_default();
        Text why = {0};
        limits.shapes = rows[i].shapes;
        limits.cut_kinds = rows[i].kinds;
        limits.max_cut = rows[i].cut;
        limits.min_week_load = rows[i].week_load;
        limits.max_length = rows[i].length;
        limits.rest_days = rows[i].rest;
        limits.no_gym = rows[i].no_gym;
        CU_ASSERT_EQUAL(limits_contradict(&limits, &why), rows[i].why != NULL);
        ASSERT_HAS(text_of(&why), rows[i].why ? rows[i].why : "");
        text_free(&why);
    }
}

/* Limits are as README says; lifted they leave room. */
static void limits_lifted(void) {
    Limits limits = limits_default();
    CU_ASSERT_EQUAL(limits.max_length, 28);
    CU_ASSERT_EQUAL(limits.max_cut, 75);
    CU_ASSERT_EQUAL(limits.rest_days, 3);
    for (LimitName name = 0; name < LIMIT_NAMES; name++)
        CU_ASSERT_FALSE(limits_given(&limits, name));
    limits.min_week_load = limits.min_sessions = limits.no_gym = 5;
    limits.max_day_rise = limits.max_week_rise = 5;
    limits.max_length = limits.rest_days = 0;
    limits.max_cut = limits.shapes = limits.cut_kinds = 1;
    for (LimitName name = 0; name < LIMIT_NAMES; name++) {
        CU_ASSERT_EQUAL(limits_given(&limits, name), name != LIMIT_BUILD_UP);
        limits_lift(&limits, name);
    }
    CU_ASSERT(limits.min_week_load == 0 && limits.min_sessions == 0 &&
              limits.no_gym == 0 && limits.cut_kinds == 0);
    CU_ASSERT(isinf(limits.max_day_rise) && isinf(limits.max_week_rise));
    CU_ASSERT(limits.max_length == 60 && limits.rest_days == 14 &&
              limits.max_cut == 100);
    CU_ASSERT_EQUAL(limits.shapes, limits_default().shapes);
}

static const TestCase cases[] = {{"limits_in_words", limits_in_words},
                                 {"limits_contradict", limits_contradict_at},
                                 {"limits_lifted", limits_lifted},
                                 {NULL, NULL}};

const TestSuite suite_taper_limits = {"taper", cases};
