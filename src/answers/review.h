/* review: what was planned beside what was done, and the forecast of the day on
 * which the plan was issued beside what came of it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_REVIEW_H
#define ANSWERS_REVIEW_H

#include "answers/foretold.h"

/* One calendar week of one athlete, as far as the log goes. */
typedef struct {
    Date monday;
    int days; /* of it that are compared, 7 or less */
    double sessions[2], minutes[2], load[2]; /* planned, done */
    double sets;                             /* planned; what was done is not
                                                logged */
} ReviewWeek;

typedef struct {
    size_t athlete;
    const char *name;
    const Event *event; /* NULL: none, or cancelled since */
    bool planned;       /* a plan was handed out; else the usual weeks count */
    bool outside;       /* but not to them, so theirs count all the same */
    bool older;         /* theirs was handed out before the others' latest, */
    const char *meant;  /* the event that theirs leads to, where it is another;
                           NULL: it is this one */
    Date meant_until;   /* the last day of it that the plan has */
    const char *file;   /* the kept plan that leads to the event, since plan.csv
                           is for another one; NULL: plan.csv is it */
    Date issued;        /* from which day on all are compared */
    Date until;         /* the last day compared; before issued + 1: none is */
    Date logged; /* the last day with a row of their own; DATE_NONE: none */
    double open; /* [load] planned after it */
    ReviewWeek *week;
    size_t weeks;
    double total[2]; /* [load] planned, done, over the weeks */
    /* readiness at the event in the unit of the test: as forecast on the day of
       the issue, and as it is expected now; NAN without a model that tells it
     */
    double forecast, low, high, now;
    bool kept;  /* the forecast is the one that the plan handed out holds; else
                   computed now, from what the files say of the days until then
                 */
    bool vague; /* the range, but for the test's noise, is so wide that the
                   forecast says nothing: tests were too few */
    const char *unit; /* the test's name; NULL: the model's own scale */
    /* what was measured at the event or nearest after it */
    bool measured, lower;   /* lower readings are better */
    double outcome, before; /* before: mean of the last three tests until the
                               issue */
    Date measured_on;
    const char *other; /* without such a test: another kind that was tested at
                          the event or soon after it; NULL: none */
    Date last_test;    /* the last day whose test is still one of the event: two
                          weeks after it, or the day before the next one */
    bool late; /* the first test after the event came too long after it to tell
                  of it; `measured` is false */
    /* the chance that the change from `before` is better than the smallest
       worthwhile one */
    double chance_better;
    TestNoise noise; /* of the tests until the issue */
} Review;

/* Of the squad. */
typedef struct {
    Review *item;
    size_t count;
    Date today;
    bool ignored;   /* a plan there may be, but nobody wants it looked at */
    bool begun;     /* has every reviewed event begun? */
    bool over;      /* is it over? */
    bool one_unit;  /* all that are forecast are so in one test's unit */
    size_t *joined; /* athletes asked for of whom nothing is logged until the
                       first day: there is no review of them */
    size_t joined_count;
} Reviews;

/* The event that is over where nobody asked for has one to come (the one asked
 * for, else the last); NULL: there is one to come, or none at all. */
const Event *review_over(const Context *context);

/* The day on which the plan of the athletes asked for was issued; without one,
 * or where it is to be ignored, four weeks before the event that is over, else
 * before today. */
Date review_issued(const Context *context, bool *planned);

/* The event that the plan handed out leads to, if it is the same for all
 * athletes asked for and stands in the season; without a plan the one that is
 * over; else NULL. */
const Event *review_event(const Context *context);

/* `then`: cases as of the day of issue, which carry the plan; `now`: the season
 * as it is, and the cases of those whose event is still to come. */
void review_make(const Context *now, const Case *cases_now, size_t count_now,
                 const Case *then, size_t count, bool planned,
                 Reviews *reviews);
void review_free(Reviews *reviews);

/* Leaves out what was measured after a day, and the absences that began after
 * it: those known on that day have shaped the plan, whose rows tell of them. */
void review_forget(Season *season, Date after);

/* Share of the load planned that was done; NAN: none was planned. */
double review_share(const Review *r);

/* Is there a forecast that says anything? */
bool review_foretold(const Review *r);

/* Did the outcome fall into the forecast's range? */
bool review_inside(const Review *r);

#endif
