/* case: one athlete on the way to an event, with everything that is known of
 * it, and what the cases of a question share: the season, the athletes asked
 * for, their models.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_CASE_H
#define CASES_CASE_H

#include "cases/question.h"

#include <stdbool.h>

/* A model in use, with its uncertainty. */
typedef struct {
    char *asked; /* the name or file asked for */
    Model model;
    Draws draws;
    bool own;            /* of the athlete's own tests */
    const char *settled; /* the athlete for whose mean load a graded model is
                            (response_settle()); its texts are those of the
                            model as read; NULL: for everybody */
    bool lower;          /* lower readings of its test are better */
    size_t tests;        /* of all kinds, and */
    size_t most;         /* of the kind that most are of */
    double bayes; /* ln of the Bayes factor of own tests against no effect of
                     training; 0 without */
    double explained; /* share of their variance that training explains */
} CaseModel;

/* The taper decided for an athlete together with others
 * (answers/squad_tapers.h). */
typedef struct {
    const Event *event; /* NULL: none was decided */
    Option option;
    Option team;     /* by which the team's sessions are cut, if */
    bool teamed;     /* there is any that helps */
    size_t taper;    /* which of the different ones, that of most first */
    size_t sharing;  /* athletes who have it, of */
    size_t athletes; /* those decided together */
    bool known;      /* else the gentle end of the published band */
    bool tested;     /* some of those decided together are */
    double gain;     /* [readiness] of the option, expected */
    bool trains_on;  /* the team's taper does no good: own sessions stay */
    bool gives_way;  /* to the others': most of what may be cut is the
                        team's, */
    Option own;      /* or this would be theirs, */
    double own_gain; /* [readiness] gaining this */
} Assigned;

/* What a plan handed out for several events brings them, those to come, as
 * weighed together (answers/joint_record.h). */
typedef struct {
    size_t events; /* 0: there is no such plan */
    /* [readiness] weighted sums, by the aim that is asked for: */
    double none;          /* readiness without a taper */
    double gain, renewed; /* gains of the plan handed out, and of the one that
                             would be made today */
    double was, change;   /* where days are otherwise than in the files: gain of
                             the former from the files alone, and what those
                             days change in its readiness; NAN */
    /* what the taper recommended for one event alone changes [readiness]: */
    double here;         /* at that event */
    double there;        /* at the other event that it harms most */
    const Event *harmed; /* the latter */
} WeighedPlan;

/* The taper before an event on the way to the one asked for, which is taken to
 * be carried out. */
typedef struct {
    size_t athlete;
    const Event *event;
    Option option;
} EarlierTaper;

/* See squad_prior.h. */
typedef struct SquadPrior SquadPrior;

/* What the cases of a question share. */
typedef struct {
    const Question *question;
    Notes *notes;
    Season *season;
    size_t *chosen; /* indices of the athletes asked for */
    size_t chosen_count;
    CaseModel **models;
    size_t model_count, model_room;
    size_t borrowed; /* the first so many models are another context's */
    bool own_later;  /* the command finds models of an athlete's own tests
                        itself: models_take_own() */
    Assigned
        *assigned;   /* [athletes of the season]; NULL: each for themselves */
    Assigned *joint; /* [events * athletes of the season] the same of each event
                        that is weighed with others; NULL: none are */
    struct JointKept **joint_kept; /* [athletes of the season] what was searched
                                      for that, each one block
                                      (answers/joint_peaks.h); NULL: nothing */
    Assigned *assigned_before; /* the same from the files alone, where loads are
                                  otherwise than in them; else NULL */
    WeighedPlan *weighed;      /* [athletes of the season] NULL: none has one */
    const EarlierTaper *earlier; /* see earlier.h */
    size_t earlier_count;
    SquadPrior *squad_prior; /* NULL: each athlete for themselves */
    CaseModel **kept; /* [athletes of the season] models of own tests that were
                         found before, to be taken over; NULL: none */
    const size_t *changed; /* whose loads are otherwise; NULL: everybody's */
    size_t changed_count;
} Context;

/* One athlete with everything that is known of the way to the event. */
typedef struct {
    const Context *context;
    size_t athlete;
    const char *name;
    Daily daily;
    Usual usual;
    size_t model;       /* index into context->models */
    double before;      /* [load/d] training before the log */
    const Event *event; /* NULL: none */
    Outlook outlook;
} Case;

const Model *case_model(const Case *c);

const Draws *case_draws(const Case *c);

/* Index of the model of one view (--models) for a case: its own, or one that
 * was read when the context was opened. */
size_t case_view(const Case *c, size_t view);

/* The absence over whose days the event begins, of one who has therefore
 * nothing to taper for; NULL: none. */
const Absence *case_off(const Case *c);

/* Is it an absence of this athlete that bears on the way to the event (without
 * one on the next 28 days): to come, on, just over, or with a return? */
bool case_absent(const Case *c, const Absence *absence);

/* Is the athlete to do less for another reason than a taper: off lately or
 * soon, or in a graded return? */
bool case_eased(const Case *c);

/* The limits asked for; for a minor and one who is eased without a build-up. */
Limits case_limits(const Case *c);

/* Readiness as the test shows it: lower is better in some. */
double case_shown(const Case *c, double readiness);

/* May readiness be told in figures: in a test's unit, or on the scale of a
 * model that names none? Not of one without tests of their own whose model
 * speaks in the unit of the squad's: at a level that nobody knows they would
 * look like results. */
bool case_has_figures(const Case *c);

/* Does a model speak of readiness in a test's unit, level and all? Without
 * tests of their own nobody knows an athlete's level. */
bool case_level_known(const Case *c);

/* Readiness on the last logged day when no test ties the model to a level, so
 * that draws are told as changes since then; else NAN. */
double case_anchor(const Case *c);

/* Adds a warning about one athlete, or with `c` NULL about all alike. */
void case_warn(Context *d, const Case *c, const char *text);

void case_free(Case *c);

void case_free_all(Case *cases, size_t count);

/* Keeps what a line of a squad's table needs: names, days, the model's centre;
 * neither its daily loads nor the draws of their own tests. */
void case_slim(Case *c);

#endif
