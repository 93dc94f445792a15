/* each: athlete after athlete, on several threads, in order.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_EACH_H
#define CASES_EACH_H

#include "cases/case.h"

#include <stdbool.h>

/* One athlete in a context of their own, which shares all with the common one
 * but the notes and the models of their own tests. */
typedef struct {
    Context context;
    Notes notes;
    Case c;
    bool built;    /* the case can be computed with */
    bool no_event; /* left out for want of one */
    bool no_days;  /* left out, since none is left before it */
} EachAthlete;

/* Athlete after athlete on several threads: `work` on any of them, once
 * their case is built (each_cases()); `take` in order, one at a time, their
 * notes being those of the common context by then. A slot begins with an
 * EachAthlete; what it holds of the case is freed after `take`, which may move
 * it elsewhere (each_keep()). False from `take`: enough. */
typedef struct {
    const char *doing; /* for the progress line */
    bool need_event;
    size_t slot; /* bytes */
    void (*work)(void *with, EachAthlete *one);
    bool (*take)(void *with, EachAthlete *one);
    void *with;
} EachJob;

/* The model that was found or settled for the athlete alone, which is then the
 * caller's; NULL: theirs is a common one. */
CaseModel *each_model(EachAthlete *one);

/* Moves a case and its model to the common context. */
void each_keep(Context *context, EachAthlete *one, Case *c);

StatusCode each_run(Context *context, const EachJob *each);

/* The same for what is looked at before the answer: `aside` is a copy of the
 * context with athletes chosen anew, and borrows its models. What there is to
 * say is said with the answer; only a failure of the system goes to the
 * context's notes, since the answer would be another without it. */
void each_aside(Context *context, Context *aside, const EachJob *each);

/* Builds the cases of all chosen athletes; those without sessions are left out
 * with a warning, unless none remains. `need_event`: an athlete without an
 * event is an error. */
StatusCode each_cases(Context *context, bool need_event, Case **cases,
                      size_t *count);

/* Several threads at the cases that there are: `work` on any of them, which
 * writes to what is the case's own, and says nothing. Returns the first that
 * failed, after which no further one is begun. */
typedef StatusCode (*EachBuild)(void *with, const Case *c, size_t at,
                                Status *status);
StatusCode each_built(const Case *cases, size_t count, EachBuild work,
                      void *with, Status *status);

#endif
