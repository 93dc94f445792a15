/* draft: the usual week as the log tells it: for each weekday the sessions of
 * the last four full weeks that are neither broken nor far below the others.
 *
 * A full week runs from Monday to Sunday with all its days logged. One whose
 * load is under 60 % of the athlete's median week (a deload, a week of illness)
 * is left out (common practice, no source). There are as many sessions as such
 * a week has on average, those that come back most often first; their minutes,
 * rating and load are the medians. A log without such a week lends its days.
 * A session that the squad has together is of one length for all, but a match,
 * of which each has their own minutes.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_DRAFT_H
#define SEASON_DRAFT_H

#include "season/daily.h"

enum { DRAFT_WEEKS = 4 };

typedef struct {
    int weekday;         /* 0 Monday ... 6 */
    uint32_t name;       /* index into Season.session_names */
    int kind;            /* SessionKind */
    double minutes, rpe; /* NAN: not recorded */
    double load;         /* [load] */
    bool together;       /* with the squad (season/together.h) */
} DraftRow;

typedef struct {
    DraftRow *rows; /* by weekday, each in the order of the day */
    size_t count;
    size_t days;      /* [d] of the log they rest on */
    double week_load; /* [load] median of these weeks; of days, seven of their
                         mean */
} Draft;

/* `daily` is the athlete's; days that --gaps filled tell nothing. */
void draft_build(const Season *season, size_t athlete, const Daily *daily,
                 Draft *draft);
/* Marks the sessions that the squad has together, and gives them the squad's
 * minutes; their load follows where it is minutes times rating. */
void draft_share(const Season *season, size_t athlete, Draft *draft);
void draft_free(Draft *draft);

/* Notes, of a file for which all athletes' weeks were drafted, who lacks what
 * more than half of the others of the squad have on a weekday. */
void draft_note_lacks(const Season *season, const Draft *drafts,
                      const char *path, Notes *notes);

#endif
