/* usual: the usual week to come, day by day, for one athlete.
 *
 * Rows of a weekday in week.csv that concern the athlete are their usual week;
 * without any it is drafted from the log (draft.h). Rows of a date replace that
 * day. A row that names the athlete replaces the one for everyone with the same
 * session on that day. `off` clears what it names and no more: for everyone,
 * what is written for everyone or drafted on that day; with a name, all of that
 * athlete's day. In a block of blocks.csv the sessions of weekdays have a share
 * of their minutes and load; matches, rows to keep and rows of a date stay as
 * they are. The plan handed out replaces all that. On days of absences.csv
 * there is nothing, in the graded return after them a share of the sessions and
 * no match; a plan handed out that has no session over the days of an absence
 * was made with it in mind, so what it says of the return stays. Of what is
 * written or drafted, tapers before events on the way leave out their share.
 * What is said of a day apart from the files comes first: its one load, which
 * no taper cuts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_USUAL_H
#define SEASON_USUAL_H

#include "season/draft.h"

typedef struct {
    const char *session;  /* valid as long as the season */
    int kind;             /* SessionKind */
    double minutes, rpe;  /* NAN: not known */
    double least_minutes; /* [min] WeekRow.least_minutes */
    double load;          /* [load] */
    double more;          /* share of volume above the usual, below 0: under it;
                             of a block or a graded return */
    bool keep;            /* never cut */
    bool team;            /* everybody does it together */
    bool told;            /* that is not said but told from clock times */
} PlannedSession;

/* What was or will be done on one day, whatever the log and the usual week
 * say. */
typedef struct {
    Date date;
    double load; /* [load] 0: missed */
} DayChange;

typedef struct {
    const Season *season;
    size_t athlete;
    const DayChange *changes; /* of days to come; not owned */
    size_t change_count;
    unsigned weekdays; /* bit 1 << weekday: trains on these only; 0: on all */
    double *row_load;  /* [load] of each row of week.csv for this athlete */
    bool *row_told;    /* each is a session of the team by its clock time */
    bool written;      /* the usual week is week.csv's, not drafted */
    bool handed;       /* days of the plan handed out are as it says */
    bool as_issued;    /* absences change nothing in them */
    Date handed_until; /* and those from this one on are not; DATE_NONE: all */
    Date other_from, other_until; /* nor those of [other_from, other_until); the
                                     same: none */
    /* What is left out before and after events on the way, of what may be cut:
       shares of the days from cut_from on. */
    double *cut;
    Date cut_from;
    size_t cut_days;
    Draft draft;
    unsigned cut_kinds; /* bit 1 << SessionKind: sessions of other kinds count
                           as kept; 0: all may be cut but
                           mobility */
    Date gym_free, gym_again; /* gym sessions on the days [gym_free, gym_again)
                                 leave the plan; the same: none do */
} Usual;

/* Prepares; a row of week.csv whose load cannot be told is an error note, a log
 * that ends before the others' a warning. */
void usual_build(const Season *season, size_t athlete, const Daily *daily,
                 Usual *usual, Notes *notes);
void usual_free(Usual *usual);

enum { USUAL_MOST = 32 }; /* sessions a day */

/* The sessions of a day; returns how many. */
size_t usual_day(const Usual *usual, Date date,
                 PlannedSession sessions[USUAL_MOST]);

/* Does a session of this kind leave the plan on a day, as gym does? */
bool usual_gym_free(const Usual *usual, int kind, Date date);

/* Are the kinds of the sessions to come known, or their minutes? */
bool usual_has_kinds(const Usual *usual);
bool usual_has_minutes(const Usual *usual);

/* Load of a usual calendar week without dated rows, outside blocks [load]. */
double usual_week_load(const Usual *usual);

/* Median load of the athlete's sessions with this name, or with `name` NULL of
 * this kind; NAN when there is none [load]. */
double usual_median(const Season *season, size_t athlete, const char *name,
                    int kind);

#endif
