/* squad_rows: what each athlete of a season could do before an event, and what
 * is decided for those of one squad together.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_SQUAD_ROWS_H
#define ANSWERS_SQUAD_ROWS_H

#include "cases/each.h"
#include "taper/search.h"

/* Share of the variance of a test below which training explains it hardly. */
#define SQUAD_ROWS_HARDLY .15

/* One athlete's options before one event: their numbers in the list of all, and
 * their gains. */
typedef struct {
    size_t athlete, count;
    size_t place; /* of what is decided in the answer */
    const Event *event;
    size_t *option;
    bool shared; /* the numbers are those of an earlier row */
    double *gain;
    double by;    /* what the gains were multiplied by for a common unit */
    bool asked;   /* for a model */
    bool follows; /* most of what may be cut is the team's */
    bool eased;   /* off until lately, or in a graded return */
    bool idle;    /* nothing that may be cut, or off at the event */
    size_t tests, most; /* of all kinds, and of one */
    double bayes;       /* ln of the Bayes factor against no effect */
    double explained; /* share of the tests' variance that training explains */
    char *unit;       /* of the gains; NULL: the model's own scale */
    bool decided;
} SquadRow;

typedef struct {
    const Context *context;
    CaseModel **kept; /* models of own tests, the context's */
    size_t kept_bytes;
    SquadRow *row;
    size_t rows, row_room;
    Option *option; /* of anybody */
    size_t options, room;
    Names specs;            /* of the options */
    const Assigned *before; /* what was decided without the changes; or NULL */
    /* [squads] is anything known of them (squad_tapers.h), and are there tests;
       NULL: the rows tell */
    const bool *known, *tested;
} SquadRows;

/* Runs a job over everybody, not only those asked for; what there is to say is
 * said when they are. Loads are otherwise than in the files for `changed`. */
void squad_rows_search(Context *d, EachJob job, const size_t *changed,
                       size_t count);

/* Makes room for models of own tests in the context. */
void squad_rows_begin(SquadRows *rows, Context *d);

/* A row of a case on the way to an event, without options. */
SquadRow *squad_rows_add(SquadRows *rows, const Case *c, const Event *event);

/* Finding a model of own tests takes most of the time, so it is found once; of
 * a league not everybody's finds room. */
void squad_rows_keep(SquadRows *rows, EachAthlete *one);

/* The options of the last row. */
void squad_rows_options(SquadRows *rows, const Search *search);

/* Is anything known of the squad of row `first`, for their event? `some`: there
 * are tests. */
bool squad_rows_known(const SquadRows *rows, size_t first, bool *some);

/* Fills `into` at the places of the rows. */
void squad_rows_decide(SquadRows *rows, Assigned *into);

void squad_rows_free(SquadRows *rows);

#endif
