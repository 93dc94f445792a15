/* read_events: events, and the next one.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "season/names.h"
#include "season/season.h"

#include <math.h>

static void events_file(void) {
    const Event *e;
    read_with("events.csv",
              "event,start,days,weight,athlete,sessions_per_day,load_per_day,"
              "start_time\nFinal,2026-05-30,,,,,,\n"
              "Cup,2026-04-25,3,2.5,Kite,2,410.5,09:15\n"
              "Away,2026-05-30,,,Lark,,,\n");
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(season->event_count, 3);
    e = &season->events[0];
    ASSERT_TEXT(e->name, "Cup");
    CU_ASSERT_EQUAL(e->start, date_of((Civil){2026, 4, 25}));
    CU_ASSERT_EQUAL(e->days, 3);
    ASSERT_NEAR(e->weight, 2.5, 0);
    CU_ASSERT_EQUAL(e->athlete, index_of("Kite"));
    CU_ASSERT_EQUAL(e->sessions_per_day, 2);
    ASSERT_NEAR(e->load_per_day, 410.5, 0);
    CU_ASSERT_EQUAL(e->minute, 555);
    CU_ASSERT_EQUAL(e->line, 3);
    ASSERT_TEXT(season->events[1].name, "Away");
    e = &season->events[2];
    ASSERT_TEXT(e->name, "Final");
    CU_ASSERT_EQUAL(e->days, 1);
    ASSERT_NEAR(e->weight, 1, 0);
    CU_ASSERT_EQUAL(e->athlete, NAMES_NONE);
    CU_ASSERT_EQUAL(e->sessions_per_day, 0);
    CU_ASSERT_TRUE(isnan(e->load_per_day));
    CU_ASSERT_EQUAL(e->minute, -1);
    stop();
}

/* The athletes of events are found again after they have been put in order. */
static void events_keep_their_athlete(void) {
    start();
    file("sessions.csv", four_athletes);
    file("athletes.csv", "athlete\nZebu\n");
    file("events.csv", "event,start,athlete\nCup,2026-04-25,Wren\n"
                       "Cup,2026-04-25,Ant\n");
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(season->event_count, 2);
    for (size_t i = 0; i < 2; i++) {
        const Event *e = &season->events[i];
        CU_ASSERT_EQUAL(e->athlete, index_of(e->line == 2 ? "Wren" : "Ant"));
    }
    stop();
}

static void assert_event(const char *who, const char *asked,
                         const char *wanted) {
    const Event *e = season_event(season, index_of(who), asked);
    ASSERT_TEXT(e ? e->name : "none", wanted);
}

/* An event that starts today is no longer the next one. */
static void next_event(void) {
    start();
    file("sessions.csv", four_athletes);
    file("events.csv",
         "event,start,athlete\nLast,2026-05-30,\nToday,2026-03-02,\n"
         "Past,2026-02-01,\nHers,2026-03-20,Lark\nCup,2026-04-25,\n");
    look();
    assert_no_errors();
    assert_event("Kite", NULL, "Cup");
    assert_event("Lark", NULL, "Hers");
    assert_event("Kite", "Last", "Last");
    assert_event("Kite", "lAST", "Last");
    assert_event("Kite", "Past", "Past");
    assert_event("Lark", "Hers", "Hers");
    assert_event("Kite", "Hers", "none");
    assert_event("Kite", "Cu", "none");
    stop();
    start();
    options.today = date_of((Civil){2026, 5, 30});
    file("sessions.csv", four_athletes);
    file("events.csv", "event,start\nCup,2026-04-25\nLast,2026-05-30\n");
    look();
    assert_event("Kite", NULL, "none");
    assert_event("Kite", "Cup", "Cup");
    stop();
}

/* Of rows that cannot be read nothing more is said than why. */
static void events_refused(void) {
    start();
    file("sessions.csv", four_athletes);
    file("events.csv", "event,start\nCup,soon\nCup,later\n");
    look();
    CU_ASSERT_EQUAL(notes.count, 2);
    CU_ASSERT_EQUAL(count_notes(LEVEL_ERROR, "expected a date"), 2);
    stop();
}

static const TestCase cases[] = {
    {"events_file", events_file},
    {"events_keep_their_athlete", events_keep_their_athlete},
    {"next_event", next_event},
    {"events_refused", events_refused},
    {NULL, NULL}};

const TestSuite suite_season_read_events = {"season", cases};
