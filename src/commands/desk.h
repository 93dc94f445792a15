/* desk: what every command lays out before it computes: the season, the
 * athletes asked for, their models, the event and the way to it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_DESK_H
#define COMMANDS_DESK_H

#include "calibrate/draws.h"
#include "commands/own.h"
#include "commands/question.h"
#include "response/landmarks.h"
#include "season/usual.h"
#include "taper/score.h"

/* A model in use, with its uncertainty. */
typedef struct {
    char *asked; /* the name or file asked for */
    Model model;
    Draws draws;
    bool own;   /* of the athlete's own tests */
    bool lower; /* lower readings of its test are better */
    size_t tests;
} DeskModel;

typedef struct {
    const Question *question;
    Notes *notes;
    Season *season;
    size_t *chosen; /* indices of the athletes asked for */
    size_t chosen_count;
    DeskModel **models;
    size_t model_count, model_room;
    size_t borrowed; /* the first so many models are another desk's */
    bool own_later;  /* the command finds models of an athlete's own tests
                        itself: case_take_own() */
} Desk;

/* One athlete with everything that is known of the way to the event. */
typedef struct {
    const Desk *desk;
    size_t athlete;
    const char *name;
    Daily daily;
    Usual usual;
    size_t model;       /* index into desk->models */
    double before;      /* [load/d] training before the log */
    const Event *event; /* NULL: none */
    Outlook outlook;
} Case;

/* Called by commands when all is read, so that main can print the notes
 * before the answer. */
typedef void (*Say)(const Notes *notes);

/* Reads the season and chooses the athletes. Failures are error notes; returns
 * the exit code they call for. */
StatusCode desk_open(const Question *question, Notes *notes, Desk *desk);
/* The same for commands that look at the sessions of one athlete at a time, by
 * desk_stream() or season_fetch(): a long log need not be held. What is long
 * [byte] PEAKWARD_HELD says in the environment, else 32 MB. */
StatusCode desk_open_each(const Question *question, Notes *notes, Desk *desk);
void desk_close(Desk *desk);

/* Builds the cases of all chosen athletes; those without sessions are left out
 * with a warning, unless none remains. `need_event`: an athlete without an
 * event is an error. */
StatusCode desk_cases(Desk *desk, bool need_event, Case **cases, size_t *count);
void desk_free_cases(Case *cases, size_t count);
void case_free(Case *c);

/* Keeps what a line of a squad's table needs: names, days, the model's centre;
 * neither its daily loads nor the draws of her own tests. */
void case_slim(Case *c);

/* One athlete at a desk of her own, which shares all with the common one but
 * the notes and the models of her own tests. */
typedef struct {
    Desk desk;
    Notes notes;
    Case c;
    bool built;    /* the case can be computed with */
    bool no_event; /* left out for want of one */
} Seat;

/* Athlete after athlete on several threads: `work` on any of them, once her
 * case is built (desk_cases()); `take` in order, one at a time, her notes being
 * those of the common desk by then. A slot begins with a Seat; what it holds
 * of the case is freed after `take`, which may move it elsewhere
 * (desk_keep()). False from `take`: enough. */
typedef struct {
    const char *doing; /* for the progress line */
    bool need_event;
    size_t slot; /* bytes */
    void (*work)(void *with, Seat *seat);
    bool (*take)(void *with, Seat *seat);
    void *with;
} Stream;

StatusCode desk_stream(Desk *desk, const Stream *stream);

/* Moves a case and its model to the common desk. */
void desk_keep(Desk *desk, Seat *seat, Case *c);

/* The model of the case becomes that of its own tests, of which this is the
 * posterior, unless another was asked for. */
void case_take_own(Desk *desk, Case *c, const OwnTests *own,
                   const Posterior *posterior);

const Model *case_model(const Case *c);
const Draws *case_draws(const Case *c);
/* Index of the model of one view (--models) for a case: its own, or one that
 * was read when the desk was opened. */
size_t case_view(const Case *c, size_t view);
/* The model that is the prior of an athlete's tests: --model, hers, or the
 * literature. */
const Model *desk_prior(Desk *desk, const Case *c);
/* Readiness as the test shows it: lower is better in some. */
double case_shown(const Case *c, double readiness);

/* Readiness on the last logged day when no test ties the model to a level, so
 * that draws are told as changes since then; else NAN. */
double case_anchor(const Case *c);

/* ---- words shared by the commands ---- */

/* A readiness or gain with as many digits as its size calls for, relative to
 * `scale`. Returns `buffer`. */
enum { FIGURE_TEXT = 32 };
const char *figure(char buffer[FIGURE_TEXT], double value, double scale);

/* "literature, two-component, tau 42/13 d, k2/k1 1.9", appended. */
void model_words(const Model *model, Text *text);

/* "literature (tau 42/13 d, k2/k1 1.9)", for a picture's subtitle, appended. */
void model_short(const Model *model, Text *text);

/* The lines under every answer: model, day convention, what is default and
 * what was given. */
void desk_print_basis(const Desk *desk, const Case *c, FILE *to);

/* What published experience says beside the model, and the cautions. */
void desk_print_evidence(FILE *to);
void desk_print_cautions(const Desk *desk, FILE *to);
/* The same for a sheet that one athlete gets: of no other it speaks. */
void case_print_cautions(const Case *c, FILE *to);

/* Prints the warnings said so far about one case: those that name the athlete
 * or the event. note_is_about() tells which. */
void desk_print_notes(const Case *c, FILE *to);
bool note_is_about(const Note *note, const Case *c);

/* Do readings of both mean the same: one unit, the same way better? */
bool model_same_unit(const Model *a, const Model *b);

#endif
