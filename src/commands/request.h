/* request: the command line, read.
 *
 * One table of options says for each its name, its value, what it does and
 * which commands take it; help and reading are both made from it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_REQUEST_H
#define COMMANDS_REQUEST_H

#include "present/plot.h"
#include "season/season.h"
#include "season/usual.h"
#include "taper/search.h"

#include <stdio.h>

/* Commands as bits, for the option table. */
enum {
    FOR_CHECK = 1,
    FOR_LOAD = 2,
    FOR_SIMULATE = 4,
    FOR_TAPER = 8,
    FOR_COMPARE = 16,
    FOR_PLAN = 32,
    FOR_MODELS = 64,
    FOR_FIT = 128,
    FOR_REPORT = 256,
    FOR_LESSON = 512,
    FOR_START = 1024,
    FOR_MODEL_USE =
        FOR_SIMULATE | FOR_TAPER | FOR_COMPARE | FOR_PLAN | FOR_REPORT,
    FOR_ROWS = FOR_LOAD | FOR_SIMULATE | FOR_FIT | FOR_TAPER | FOR_COMPARE |
               FOR_PLAN, /* tables that can be put together again */
    FOR_SEASON = FOR_CHECK | FOR_LOAD | FOR_FIT | FOR_MODEL_USE,
    FOR_ALL = FOR_SEASON | FOR_MODELS | FOR_LESSON | FOR_START
};

/* Training before the log. */
typedef enum { BEFORE_STEADY, BEFORE_NOTHING, BEFORE_FIT } Before;

typedef struct {
    char *name, *spec; /* the same unless NAME=SPEC was given */
} NamedOption;

typedef struct {
    char *season;    /* "." if not given */
    char **athletes; /* as given */
    size_t athlete_count, athlete_room;
    char *model, *event, *out, *test; /* NULL: not given */
    char **events;                    /* --event: all that were named */
    size_t event_count, event_room;
    bool joint, heat;
    char **views; /* --models: searched under each */
    size_t view_count, view_room;
    SeasonOptions read;
    TableMaps maps;
    Before before;
    Aim aim;
    bool csv, no_header, quiet, weekly;
    size_t part, parts; /* --part; 0 of 0: all */
    PictureFormat format;
    unsigned long seed;
    int threads;
    ReadWhen when;
    NamedOption *options;
    size_t option_count, option_room;
    Limits limits;
    double plate;       /* [kg] step of weights on the bar; 0: as given */
    size_t plans;       /* of a squad at most; 0: not asked for */
    DayChange *changes; /* --missed and --did */
    size_t change_count, change_room;
    unsigned weekdays; /* bit 1 << weekday trained on; 0: as usual */
    bool next_test;
    char *lesson; /* its name; NULL: not given */
    int sheets;   /* worksheets, one a student; 0: not given */
    bool list;    /* --list: the lessons */
    bool play;    /* --play: try the model in the terminal */
    bool help;
} Request;

/* Reads the words after the command. Fails with STATUS_USAGE. */
StatusCode request_read(int command, int count, char *const *words,
                        Request *request, Status *status);
void request_free(Request *request);

/* An option, for those who tell of it elsewhere. */
typedef struct {
    const char *name, *value; /* value: NULL if it takes none */
    const char *help;
} RequestOption;

/* Gives each option of the commands (bits) to `take`. */
void request_options(int commands,
                     void (*take)(const RequestOption *option, void *into),
                     void *into);

/* Prints the options that a command takes. */
void request_help(int command, FILE *to);

#endif
