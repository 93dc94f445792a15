/* season: a folder of CSV files, read and put in order.
 *
 * Reading goes on after an error, so that the notes tell everything; a season
 * may be computed with only if its notes hold no error.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_SEASON_H
#define SEASON_SEASON_H

#include "base/date.h"
#include "base/status.h"
#include "base/text.h"
#include "season/load.h"
#include "season/names.h"
#include "season/reader.h"

#include <stdbool.h>
#include <stdint.h>

typedef enum {
    KIND_GYM,
    KIND_SKILL,
    KIND_CONDITIONING,
    KIND_MATCH,
    KIND_MOBILITY,
    KIND_OTHER,
    KINDS
} SessionKind;

/* "gym", "skill", ...; ends with NULL. */
extern const char *const session_kind_names[];

/* One row of the log. */
typedef struct {
    Date date;
    int minute;           /* [min after midnight] -1: no clock time */
    uint32_t athlete;     /* index into Season.athletes */
    uint32_t name;        /* index into Season.session_names */
    uint32_t line;        /* in sessions.csv */
    unsigned char kind;   /* SessionKind */
    unsigned char scored; /* a bit for each load method that can tell */
    bool filled;          /* the load is the median that --fill gave */
    double load;          /* NAN: not recorded, which is not 0 */
    double minutes, rpe;  /* NAN or 0: not recorded */
} Session;

/* One performance test. */
typedef struct {
    Date date;
    uint32_t test; /* index into Season.test_names */
    double value;
    double error;  /* typical error, unit of the test; NAN: not given */
    uint32_t line; /* in tests.csv */
    bool lower_better;
    bool after;     /* after that day's sessions */
    bool when_said; /* by the file */
} Test;

/* What all tests of one name share. */
typedef struct {
    uint32_t line; /* of the first in tests.csv */
    uint32_t
        said_line; /* of the first that says which way is better; 0: none */
    bool lower_better;
} TestKind;

typedef struct {
    char *name;
    bool listed;            /* has a row in athletes.csv */
    uint32_t squad;         /* index into Season.squad_names */
    double mass;            /* [kg] NAN: not given */
    double hr_rest, hr_max; /* [beat/min] NAN: not given */
    bool female, sex_given;
    bool minor;        /* said so; see season_minor() */
    Date born;         /* DATE_NONE: not given */
    char *model;       /* model file, NULL: not given */
    Session *sessions; /* in order of time; part of Season.sessions */
    size_t session_count;
    Test *tests; /* in order of date, those before sessions first */
    size_t test_count, test_room;
} Athlete;

enum {
    EVENT_SESSIONS = 10, /* most a day */
    EVENT_MINUTES = 90,  /* [min] a session lasts unless the file says */
    EVENT_APART = 6 * 60 /* [min] from start to start where only the first
                            session's time is known */
};

typedef struct {
    char *name;
    Date start;
    int days;
    double weight;
    size_t athlete;       /* NAMES_NONE: everyone */
    int sessions_per_day; /* 0: not given */
    double load_per_day;  /* [load] NAN: not given */
    int minute;           /* [min after midnight] -1: not given */
    int starts;           /* clock times given; 0 or 1: `minute` alone */
    int start_minute[EVENT_SESSIONS]; /* [min after midnight] in order */
    int session_minutes;              /* [min] 0: not given */
    size_t line;
} Event;

/* A session of the usual week to come. */
typedef struct {
    int weekday; /* 0 Monday ... 6; -1: only on `date` */
    Date date;   /* DATE_NONE: every such weekday */
    char *session;
    size_t athlete;            /* NAMES_NONE: everyone */
    int kind;                  /* SessionKind */
    double minutes, rpe, load; /* NAN: not given */
    double least_minutes;      /* [min] the session is never cut to fewer, but
                                  may be left out; NAN: not given */
    bool keep;                 /* never cut */
    bool team;                 /* everybody does it together: cut alike for all
                                  or not at all */
    bool team_said;            /* by the file; else see season/together.h */
    bool off;                  /* a day off; on a date it clears that day */
    size_t line;
} WeekRow;

typedef enum {
    ABSENCE_ILLNESS,
    ABSENCE_INJURY,
    ABSENCE_TRAVEL,
    ABSENCE_OTHER
} AbsenceReason;

/* "illness", "injury", ...; ends with NULL. */
extern const char *const absence_reasons[];

/* A session that most of a squad have together (together.h). */
typedef struct {
    uint32_t squad; /* index into Season.squad_names */
    int weekday;    /* 0 Monday ... 6 */
    uint32_t name;  /* index into Season.session_names: one spelling of it */
    int start;      /* [min after midnight] */
    double minutes; /* [min] median of what was logged; NAN: nothing */
} TeamSession;

/* Days known to be without training. */
typedef struct {
    size_t athlete;
    Date from, to;   /* first and last day off */
    int reason;      /* AbsenceReason */
    int return_days; /* [d] of a graded return after it */
    size_t line;
} Absence;

/* Weeks to come that are a share of the usual one. */
typedef struct {
    Date start; /* a Monday */
    int weeks;
    char *name;
    double volume;  /* [%] of the usual week, in the first week */
    double rise;    /* [%] from one week to the next */
    size_t athlete; /* NAMES_NONE: everyone */
    size_t line;
} WeekBlock;

typedef struct {
    char *session, *exercise;
    double sets, reps;
    double kg, percent; /* [kg], [% of 1RM] NAN: not given */
    bool keep;
    size_t line;
} Exercise;

/* A row of the plan handed out: a session, or an exercise of it. */
typedef struct {
    size_t athlete;
    Date date, issued;
    char *session, *exercise; /* exercise NULL: the session's own row */
    int kind;                 /* SessionKind; of an event KINDS */
    bool event, keep;
    bool joint; /* the plan weighs several events together */
    double sets, reps, kg, percent, minutes, rpe; /* NAN: not given */
    double cut;                                   /* [%] */
    double load; /* [load] NAN on an exercise's row */
    double usual_sets, usual_minutes, usual_load;
    /* on the row of an event's first day: */
    char *version; /* of the program that forecast, on the day of issue; NULL:
                      the plan says nothing of that */
    double forecast, low, high; /* what a test then is to show, and the 90 %
                                   range [unit of the test]; NAN: no such
                                   forecast could be made */
    char *test;                 /* its name; NULL: none */
    const char *file; /* the kept plan that it is from (plan_kept.h), of the
                         season; NULL: plan.csv */
    size_t line;
} HandedRow;

typedef struct {
    ReadOptions read;
    LoadMethod load; /* LOAD_FIRST_COMPLETE: choose */
    bool fill;
    bool gaps_typical;
    Date today; /* DATE_NONE: the last logged day */
} SeasonOptions;

typedef struct {
    char *path;     /* as given */
    char *folder;   /* where its files are */
    char *log_path; /* the file of sessions */
    bool single;    /* one file of sessions, no folder */
    bool wide;      /* a wide table of daily loads */
    LoadMethod method;
    bool method_given; /* by --load */
    Names session_names, test_names, athlete_names;
    TestKind *test_kinds; /* of each of test_names */
    size_t test_kind_room;
    Names squad_names; /* "" is the squad of those whom no file puts in one */
    Athlete *athletes; /* those of athletes.csv, then the others by name */
    size_t athlete_count, athlete_room;
    Session *sessions;
    size_t session_count, session_room;
    /* while the log is read: of each method the loads of the sessions that it
       scores, at their place, and how many it scores */
    double *score[LOAD_METHODS];
    size_t score_room[LOAD_METHODS], scored[LOAD_METHODS];
    Event *events; /* by start */
    size_t event_count, event_room;
    WeekRow *week;
    size_t week_count, week_room;
    TeamSession *team;
    size_t team_count;
    Exercise *exercises;
    size_t exercise_count, exercise_room;
    Absence *absences;
    size_t absence_count, absence_room;
    WeekBlock *blocks;
    size_t block_count, block_room;
    HandedRow *handed; /* by athlete, then by date */
    size_t handed_count, handed_room;
    Names plan_names; /* files of kept plans that rows are from */
    bool unnamed;     /* the log has no column of athletes: it is one's */
    bool log_read;    /* sessions.csv has been read: names after it are known */
    Date first, last; /* first and last logged day of anyone */
    Date today;
    size_t filled; /* sessions whose load --fill gave */
} Season;

/* Is it a column of one of the files that are read? */
bool season_has_column(const char *name);
/* The one that a word comes nearest to; NULL: none is near. */
const char *season_nearest_column(const char *name);

/* Reads a folder, or a single CSV file as its log. Always returns a season;
 * look at notes->errors. */
Season *season_read(const char *path, const SeasonOptions *options,
                    Notes *notes);
void season_free(Season *season);

/* The season with the blocks of another file in the place of its own; all else
 * it borrows. NULL, after noting why, if it cannot be read. */
Season *season_with_blocks(const Season *season, const char *path,
                           const SeasonOptions *options, Notes *notes);
void season_with_blocks_free(Season *season);

/* Adds the path of a table of the folder, "events" say: its .xlsx file where
 * that is there, else its .csv file. */
void season_file(const Season *season, const char *table, Text *path);

void handed_row_free(HandedRow *row);
/* An athlete's rows of those of a plan, by athlete; NULL: none. */
const HandedRow *season_rows_of(const HandedRow *rows, size_t count,
                                size_t athlete, size_t *own);
/* The same of the plan handed out. */
const HandedRow *season_handed(const Season *season, size_t athlete,
                               size_t *count);

/* The absence that a day lies in, or whose graded return; NULL: none. */
const Absence *season_absence(const Season *season, size_t athlete, Date date);
/* Share of the usual training on a day: 0 while absent; in a graded return a
 * half, three quarters and the whole, each for a third of its days (common
 * practice, no source: a physician decides); else 1. */
double season_share(const Absence *absence, Date date);

/* Is it still to come, or so short a time over that it bears on what is planned
 * today? Two weeks after its last day, and a week after its graded return, it
 * does not (common practice, no source). */
bool season_absence_matters(const Absence *absence, Date today);

/* The first day after a block. */
static inline Date block_end(const WeekBlock *block) {
    return block->start + 7 * block->weeks;
}
/* The block that a day lies in; one that names the athlete goes before one for
 * everyone. NULL: none, the usual week. */
const WeekBlock *season_block(const Season *season, size_t athlete, Date date);
/* Share of the usual training on a day of a block: in its week w, from 1,
 * volume (1 + rise)^(w - 1); without a block 1. */
double block_factor(const WeekBlock *block, Date date);

/* Sessions are always in memory. */
static inline bool season_fetch(Season *season, size_t athlete, Notes *notes) {
    (void)season;
    (void)athlete;
    (void)notes;
    return true;
}
static inline void season_release(Season *season, size_t athlete) {
    (void)season;
    (void)athlete;
}

/* Index of an athlete by name, letter case apart where that leaves one;
 * NAMES_NONE if there is none. */
size_t season_athlete(const Season *season, const char *name);

/* The event with this name for this athlete; with `name` NULL the next one,
 * that is the first that starts after today. NULL if there is none. */
const Event *season_event(const Season *season, size_t athlete,
                          const char *name);

/* Is the body mass one that few athletes have, so that its unit is in doubt? */
bool season_mass_doubtful(const Athlete *athlete);

/* Are they under 18 on that day, by their row's word or date of birth? */
bool season_minor(const Athlete *athlete, Date on);

/* Clock times at which the sessions of an event's day start
 * [min after midnight], in order; returns how many. Those not given are taken
 * as EVENT_APART later than the one before, closer where the day is too short.
 * With no time at all: one session, at -1. */
int event_minutes(const Event *event, int minute[EVENT_SESSIONS]);
/* Are some of those times taken, not given? */
bool event_minutes_taken(const Event *event);
/* How long a session lasts [min]. */
int event_session_minutes(const Event *event);

/* Does an event concern an athlete? */
bool event_concerns(const Event *event, size_t athlete);

/* Adds to `notes` an error for each session of an athlete without a load. */
void season_require_loads(const Season *season, size_t athlete, Notes *notes);

/* ---- for the readers ---- */

/* Index of an athlete, added if new; in no squad yet. */
size_t season_add_athlete(Season *season, const char *name, size_t length);
#define SQUAD_NONE UINT32_MAX /* until all files are read */

#endif
