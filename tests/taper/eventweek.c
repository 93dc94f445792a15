/* eventweek: food and drink of an event, and its timeline.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "taper/eventweek.h"

#include <math.h>
#include <string.h>

static bool has_two(const EventAmount *a, double low, double high) {
    return fabs(a->low - low) < 1e-9 && fabs(a->high - high) < 1e-9;
}

/* 78 kg by hand: 10-12 and 1-4 g/kg, 30-60 g/h (Thomas, Erdman, Burke 2016,
 * M); half a fluid ounce per pound is 32.6 ml/kg (T); 2 and 4 % below (Sawka
 * et al. 2007, P; T). A US fluid ounce is 29.5735 ml, a pound .45359237 kg. */
static void test_eventweek_amounts(void) {
    EventAmount a[EVENTWEEK_AMOUNTS];
    eventweek_amounts(78, 120, true, a);
    CU_ASSERT(has_two(&a[0], 780, 936));
    CU_ASSERT(has_two(&a[1], 312, 374.4)); /* two fifths */
    CU_ASSERT(has_two(&a[2], 78, 312));
    CU_ASSERT(has_two(&a[3], 30, 60));
    ASSERT_NEAR(a[4].low / 78, 32.6, .005);
    ASSERT_NEAR(a[4].low * a[4].factor, 78 / .45359237 / 2, 1e-6);
    CU_ASSERT(has_two(&a[5], 76.44, 76.44));
    CU_ASSERT(has_two(&a[6], 74.88, 74.88));
    ASSERT_NEAR(a[6].low * a[6].factor, 165.08, .005);
    for (int i = 0; i < EVENTWEEK_AMOUNTS; i++)
        CU_ASSERT(a[i].source && strlen(a[i].source) > 10);
    eventweek_amounts(NAN, 0, false, a);
    CU_ASSERT(has_two(&a[0], 10, 12));
    CU_ASSERT_STRING_EQUAL(a[0].unit, "g/day per kg");
    ASSERT_HAS(a[0].when, "if a day's play lasts over 90 min");
    ASSERT_NEAR(a[4].low * a[4].factor, .5, 1e-9); /* fl oz per lb */
    CU_ASSERT(has_two(&a[5], .98, .98));
}

/* Nobody loads for less than 90 min of play (the same source, M). */
static void test_eventweek_short(void) {
    EventAmount a[EVENTWEEK_AMOUNTS];
    eventweek_amounts(60, 89, false, a);
    CU_ASSERT(has_two(&a[0], 420, 720)); /* 7-12 g/kg */
    CU_ASSERT(has_two(&a[1], 168, 288));
    CU_ASSERT_STRING_EQUAL(a[0].when, "on the day before");
    eventweek_amounts(60, 90, false, a);
    CU_ASSERT(has_two(&a[0], 600, 720));
}

/* Two sessions a day on two days: warm-ups end before each start, nothing of a
 * day comes before its rising, the order is that of time. */
static void test_eventweek_timeline(void) {
    static const int start[] = {9 * 60 + 30, 15 * 60};
    EventTimes times = {2, 2, start, 75};
    EventStep steps[EVENTWEEK_STEPS];
    size_t count = eventweek_timeline(&times, steps);
    int starts = 0, general = 0, specific = 0, mornings = 0;
    for (size_t i = 0; i < count; i++) {
        const EventStep *s = &steps[i];
        if (i > 0)
            CU_ASSERT(s->day > steps[i - 1].day ||
                      s->minute >= steps[i - 1].minute);
        if (s->start) {
            CU_ASSERT(s->minute == start[starts % 2] && s->day == starts / 2);
            starts++;
            CU_ASSERT_EQUAL(general, starts);
            CU_ASSERT_EQUAL(specific, starts);
        }
        general += strstr(s->what, "warm-up, general") != NULL;
        specific += strstr(s->what, "warm-up, specific") != NULL;
        mornings += strstr(s->what, "mobility, 10-15 min") != NULL;
        /* nothing of an event's day comes before its rising */
        if (s->day >= 0 && s->day < 2 && steps[i - 1].day < s->day)
            ASSERT_HAS(s->what, "get up");
    }
    CU_ASSERT_EQUAL(starts, 4);
    CU_ASSERT_EQUAL(mornings, 3); /* the week's, and each event day's */
    times = (EventTimes){30, 0, NULL, 90}; /* long, no hours: it still fits */
    count = eventweek_timeline(&times, steps);
    CU_ASSERT(count > 10 && count < EVENTWEEK_STEPS);
    for (size_t i = 0; i < count; i++)
        CU_ASSERT_FALSE(steps[i].clock);
}

/* A start just after midnight: nobody gets up at seven for it. Ten sessions a
 * day on four days all stand there. */
static void test_eventweek_night(void) {
    static const int night[] = {30};
    static const int many[] = {480, 530, 580, 630, 680,
                               730, 780, 830, 880, 930};
    EventTimes times = {1, 1, night, 60};
    EventStep steps[EVENTWEEK_STEPS];
    size_t count = eventweek_timeline(&times, steps), starts = 0;
    for (size_t i = 0; i < count; i++)
        CU_ASSERT(strstr(steps[i].what, "get up") == NULL);
    times = (EventTimes){4, 10, many, 40};
    count = eventweek_timeline(&times, steps);
    for (size_t i = 0; i < count; i++)
        starts += steps[i].start;
    CU_ASSERT_EQUAL(starts, 40);
    CU_ASSERT(count < EVENTWEEK_STEPS);
}

static const TestCase cases[] = {
    {"eventweek_amounts", test_eventweek_amounts},
    {"eventweek_short", test_eventweek_short},
    {"eventweek_night", test_eventweek_night},
    {"eventweek_timeline", test_eventweek_timeline},
    {NULL, NULL}};

const TestSuite suite_taper_eventweek = {"taper", cases};
