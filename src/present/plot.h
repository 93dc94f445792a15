/* plot: pictures by gnuplot through a pipe; the only user of one.
 *
 * The C code sends numbers, strings and data blocks, then loads a script from
 * plots/, which owns the look. Strings travel in double quotes with every
 * control character made a blank and all that might mean something as octal
 * escapes, and the terminals are set `noenhanced`, so
 * that nothing in them is run or taken for markup. Data blocks hold numbers
 * only.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_PLOT_H
#define PRESENT_PLOT_H

#include "base/date.h"
#include "base/status.h"
#include "base/text.h"

typedef enum {
    PICTURE_SVG,
    PICTURE_PNG,
    PICTURE_PDF,
    PICTURE_TEXT,
    PICTURE_FORMATS,
    PICTURE_GIF = PICTURE_FORMATS, /* an animation: some scripts only */
    PICTURE_NARROW /* an SVG for a page, as wide as a phone: season, map,
                      review, a lesson's one curve; no title in it, letters of
                      12 of its 320 units at least, which is 9.5 pt on half a
                      sheet of paper */
} PictureFormat;

/* "svg", "png", "pdf", "text"; ends with NULL. */
extern const char *const picture_format_names[];

/* A picture while it is put together; all zero is an empty one. */
typedef struct {
    Text script;
    Text title; /* as plot_start() got it */
    Text alt;   /* what is to be seen, in words, with the figures that tell it:
                   for those who cannot see the SVG. Every picture has some. */
    int height; /* [px] of a narrow one; 0: as usual */
} Plot;

/* A figure for these words, four digits. Returns `buffer`. */
enum { PLOT_FIGURE = 32 };
const char *plot_figure(char buffer[PLOT_FIGURE], double value);
/* Adds the course of a line to the words, every `stride`th value: "NAME begins
 * at A, ends at B, lies between C and D. " */
void plot_alt_line(Plot *plot, const char *name, const double *value,
                   size_t count, size_t stride);

/* What every picture begins with. */
void plot_start(Plot *plot, const char *title, const char *subtitle);
void plot_number(Plot *plot, const char *variable, double value);
void plot_string(Plot *plot, const char *variable, const char *text);
/* The text of a list at place `nth`, 0 for the first, as WHAT_1, WHAT_2 ... */
void plot_nth_string(Plot *plot, const char *what, size_t nth,
                     const char *text);
/* All of a list. */
void plot_strings(Plot *plot, const char *what, const char *const *texts,
                  size_t count);
/* A date as gnuplot counts time [s]; NAN for DATE_NONE. */
double plot_seconds(Date date);
/* Begins the data block $NAME; rows follow until plot_block_end(). */
void plot_block(Plot *plot, const char *name);
/* One row; not finite becomes `NaN`, which gnuplot takes for missing. */
void plot_row(Plot *plot, const double *values, int count);
void plot_block_end(Plot *plot);

/* Pictures that one gnuplot draws one after the other while the program goes
 * on. */
typedef struct PlotSeries PlotSeries;

/* Where pictures go and how. */
typedef struct {
    const char *folder;  /* must exist */
    const char *scripts; /* the folder plots/ */
    PictureFormat format;
    PlotSeries *series; /* NULL: each picture is there once it is drawn */
} Gallery;

/* Draws with plots/SCRIPT into FOLDER/NAME.EXTENSION, whole or not at all.
 * `path`, if not NULL, gets the file's path appended. The plot is emptied. In a
 * series the file is there, and what went wrong is told, at its end. */
StatusCode plot_draw(Plot *plot, const Gallery *gallery, const char *script,
                     const char *name, Text *path, Status *status);
void plot_free(Plot *plot);
/* An empty series; meanwhile nothing else is drawn. */
PlotSeries *plot_series(void);
/* Waits for its pictures and frees it; with a code that is not STATUS_OK
 * nothing is kept, and that code is returned. */
StatusCode plot_series_end(PlotSeries *series, StatusCode code, Status *status);
/* Ends gnuplot if it is at work, so that it writes no more; for leaving in a
 * hurry, also from within a signal's handler. */
void plot_abandon(void);

/* A part of a file name made of any text: letters, digits, dot, dash and
 * underline stay, everything else becomes an underline; at most 60 bytes;
 * never begins with a dot. Appended. */
void plot_file_name(Text *name, const char *text);

#endif
