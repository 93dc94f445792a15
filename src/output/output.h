/* output: where an answer goes and in which form.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_OUTPUT_H
#define OUTPUT_OUTPUT_H

#include "cases/case.h"
#include "present/document.h"
#include "present/plot.h"

#include <stdio.h>

typedef struct {
    FILE *to;
    FILE *squad; /* of a workbook: a row an athlete as CSV, where the rows
                    themselves are of days; NULL: not wanted */
    bool csv, no_header;
    bool notes;         /* assumptions, method, sources as well */
    bool sessions;      /* a plan by day and session */
    bool event_week;    /* a plan with its event week */
    bool quiet;         /* no progress line */
    const char *folder; /* for pictures and files; NULL: none */
    PictureFormat format;
} Output;

/* The header row of the answer's table, unless it is not wanted. */
void output_header(const Output *output, const char *names);

/* Prints a document as text, with its notes where they are asked for; it is
 * then empty. */
void output_document(const Output *output, Document *doc);
/* The same where another document follows. */
void output_part(const Output *output, Document *doc);

/* Lists the files written, a path a line. */
void output_list(const Output *output, const char *heading, const Text *paths);

/* Gallery for pictures: makes the folder. `scripts` is freed by the caller. */
StatusCode output_gallery(const Output *output, Gallery *gallery,
                          char **scripts, Status *status);

/* Draws the pictures of the at-th answer; their paths are appended. */
typedef StatusCode (*DrawAnswer)(const void *answers, size_t at,
                                 const Gallery *gallery, Text *paths,
                                 Status *status);

/* Many answers of one kind to draw. */
typedef struct {
    const void *answers;
    size_t count;
    DrawAnswer draw;
} Drawing;

/* Draws them into the folder, with a bar where it takes long, and lists the
 * files under `heading`. */
StatusCode output_draw(const Output *output, const Drawing *drawing,
                       const char *heading, Status *status);

/* The name as a page shows it, at most 60 columns; appended. */
void output_page_name(const Case *c, Text *text);

/* A file's name without its ending: the athlete's name made safe, with a number
 * where two of the season come out the same, and what the file is. Appended. */
void output_file_name(const Case *c, const char *what, Text *name);

#endif
