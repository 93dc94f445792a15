/* hand: see hand.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "hand.h"
#include "test.h"

#include "season/season.h"
#include "season/usual.h"
#include "taper/outlook.h"

static size_t read_days(Hand *h, const char *folder, const char *athlete,
                        Date today) {
    SeasonOptions options = {.load = LOAD_FIRST_COMPLETE, .today = today};
    size_t who;
    *h = (Hand){.season = NULL};
    h->season = season_read(folder, &options, &h->notes);
    CU_ASSERT_EQUAL_FATAL(h->notes.errors, 0);
    who = athlete ? season_athlete(h->season, athlete) : 0;
    daily_build(h->season, who, false, &h->daily);
    usual_build(h->season, who, &h->daily, &h->usual, &h->notes);
    CU_ASSERT_EQUAL_FATAL(h->notes.errors, 0);
    return who;
}

void hand_open(Hand *h, const char *folder, const char *event, Date today) {
    size_t who = read_days(h, folder, NULL, today);
    outlook_build(&h->usual, &h->daily, season_event(h->season, who, event), 0,
                  &h->outlook);
}

void hand_open_athlete(Hand *h, const char *folder, const char *athlete) {
    size_t who = read_days(h, folder, athlete, DATE_NONE);
    outlook_build(&h->usual, &h->daily, season_event(h->season, who, NULL),
                  daily_first_mean(&h->daily), &h->outlook);
}

void hand_close(Hand *h) {
    outlook_free(&h->outlook);
    usual_free(&h->usual);
    daily_free(&h->daily);
    season_free(h->season);
    notes_free(&h->notes);
}

Date day_of(int year, int month, int day) {
    return date_of((Civil){year, month, day});
}

const char plain_log[] = "date,load\n2026-03-02,300\n2026-03-04,120\n"
                         "2026-03-08,410.5\n";

const char plain_week[] = "weekday,session,load,keep\nmon,Gym,310,\n"
                          "mon,Mobility,25,yes\nwed,Court,420,\n"
                          "sat,Game,505,\n";
