/* rules: limits that were worked out by hand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "hunt.h"
#include "test.h"
#include "world.h"

#include "taper/option.h"
#include "taper/rules.h"
#include "taper/score.h"
#include "taper/search.h"

#include <math.h>

/* By hand, steady loads of one session a day: of seven sessions five stay, so
 * two of the three days that might rest do, those nearest the event; the third
 * is cut by 75 %. */
static void test_sessions_by_hand(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    Option rest = {.count = 1, .part = {{3, 100, 100, 'x'}}};
    Text why = {0};
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    h.limits.min_sessions = 5;
    hunt_run(&h, AIM_MEAN);
    ASSERT_NEAR(h.search.ceiling_cut[0], 1, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[1], 1, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[2], .75, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[14], .75, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[15], 0, 1e-9);
    CU_ASSERT(search_outside(&w.outlook, &h.limits, &rest, &why));
    ASSERT_HAS(text_of(&why), "have 4 sessions, which breaks --min-sessions 5");
    rest.part[0].days = 2;
    CU_ASSERT(search_allows(&w.outlook, &h.limits, &rest));
    text_free(&why);
    hunt_free(&h);
    world_close(&w);
}

/* By hand: days of 238.5 that may be cut to a quarter; a rise of at most 100 a
 * day. Without cuts nothing rises; a cut of the last day but one of 50 % needs
 * one of 100 - (119.25 + 100) / 2.385 % on the last. */
static void test_rises_by_hand(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    double cut[DAYS_MOST] = {0};
    Rules rules;
    steady_world(&w, 238.5, 40);
    h.limits.max_day_rise = 100;
    rules_build(&w.outlook, &h.limits, &rules);
    CU_ASSERT(rules_hold(&rules, cut));
    cut[1] = .5;
    CU_ASSERT_FALSE(rules_hold(&rules, cut));
    cut[0] = 1 - (119.25 + 100) / 238.5 + 1e-6;
    CU_ASSERT(rules_hold(&rules, cut));
    cut[0] -= 2e-6;
    CU_ASSERT_FALSE(rules_hold(&rules, cut));
    rules_free(&rules);
    h.limits.max_day_rise = INFINITY;
    h.limits.max_week_rise = 10;
    rules_build(&w.outlook, &h.limits, &rules);
    for (int u = 0; u < 14; u++)
        cut[u] = u < 7 ? .45 : .5; /* .55 is a tenth above .5 */
    CU_ASSERT(rules_hold(&rules, cut));
    cut[3] -= .0001;
    CU_ASSERT_FALSE(rules_hold(&rules, cut));
    rules_free(&rules);
    world_close(&w);
}

static const TestCase cases[] = {{"sessions_by_hand", test_sessions_by_hand},
                                 {"rises_by_hand", test_rises_by_hand},
                                 {NULL, NULL}};

const TestSuite suite_taper_rules = {"taper", cases};
