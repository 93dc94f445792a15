/* desk: what every command lays out before it computes: the season, the
 * athletes asked for, their models, the event and the way to it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_DESK_H
#define COMMANDS_DESK_H

#include "calibrate/draws.h"
#include "commands/request.h"
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
    const Request *request;
    Notes *notes;
    Season *season;
    size_t *chosen; /* indices of the athletes asked for */
    size_t chosen_count;
    DeskModel *models;
    size_t model_count, model_room;
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
StatusCode desk_open(const Request *request, Notes *notes, Desk *desk);
void desk_close(Desk *desk);

/* Builds the cases of all chosen athletes; those without sessions are left out
 * with a warning, unless none remains. `need_event`: an athlete without an
 * event is an error. */
StatusCode desk_cases(Desk *desk, bool need_event, Case **cases, size_t *count);
void desk_free_cases(Case *cases, size_t count);

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

/* Gallery for --out: makes the folder. `scripts` is freed by the caller. */
StatusCode desk_gallery(const Request *request, Gallery *gallery,
                        char **scripts, Status *status);

/* Index of a part of a picture's name for the n-th case: the athlete's name
 * made safe, with a number where two come out the same. Appended. */
void desk_file_name(const Case *cases, size_t at, const char *what, Text *name);

#endif
