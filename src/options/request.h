/* request: what the words of the command line ask for, as values.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_REQUEST_H
#define OPTIONS_REQUEST_H

#include "output/blocks_file.h"
#include "output/output.h"

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
    FOR_EXPERIMENT = 2048,
    FOR_REVIEW = 4096,
    FOR_MODEL_USE = FOR_SIMULATE | FOR_TAPER | FOR_COMPARE | FOR_PLAN |
                    FOR_REPORT | FOR_REVIEW,
    FOR_ROWS = FOR_LOAD | FOR_SIMULATE | FOR_FIT | FOR_TAPER | FOR_COMPARE |
               FOR_PLAN |
               FOR_EXPERIMENT, /* tables that can be put together again */
    FOR_SEASON = FOR_CHECK | FOR_LOAD | FOR_FIT | FOR_MODEL_USE,
    FOR_WORKBOOK = FOR_LOAD | FOR_SIMULATE | FOR_FIT | FOR_TAPER | FOR_COMPARE |
                   FOR_PLAN | FOR_REPORT | FOR_REVIEW, /* --format xlsx */
    FOR_PICTURES = FOR_FIT | FOR_SIMULATE | FOR_TAPER | FOR_COMPARE |
                   FOR_MODELS | FOR_LESSON | FOR_EXPERIMENT | FOR_REVIEW,
    FOR_NOTES = FOR_REVIEW | FOR_SIMULATE | FOR_FIT | FOR_TAPER | FOR_COMPARE |
                FOR_PLAN | FOR_EXPERIMENT,
    FOR_ALL = FOR_SEASON | FOR_MODELS | FOR_LESSON | FOR_START | FOR_EXPERIMENT
};

typedef struct {
    Question question;
    TableMaps maps;
    char *out;  /* NULL: not given */
    char *from; /* start: somebody's log; NULL: not given */
    PictureFormat format;
    bool workbook; /* --format xlsx: in the place of pictures */
    bool csv, no_header;
    bool decimal_comma;        /* of the CSV */
    bool sessions, event_week; /* of a plan */
    bool hand_out, replace;    /* the plan, and that handed out before */
    bool notes;                /* assumptions, method, sources as well */
    char *lesson;              /* its name; NULL: not given */
    char *design;              /* of an experiment; NULL: not given */
    size_t virtual_athletes;   /* of each of its combinations */
    int sheets;                /* worksheets, one a student; 0: not given */
    bool list;                 /* --list: the lessons */
    char *page;                /* with sliders; NULL: not given */
    char *answers;             /* of a class; NULL: not given */
    BlockPlan blocks;          /* of a new folder */
    bool floor_given;          /* by --floor */
    bool help;
} Request;

void request_free(Request *request);

/* Where the answer goes, and how. */
Output request_output(const Request *request, FILE *to);

#endif
