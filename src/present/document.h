/* document: what is to be read, as values: headings, paragraphs, lists, tables,
 * cautions, pictures, notes. One document is printed as text on a terminal, or
 * as (part of) a page of HTML.
 *
 * It is built from its beginning to its end; a block that is open takes what
 * follows until it is closed. Words may be anything: they are made safe where
 * they are printed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_DOCUMENT_H
#define PRESENT_DOCUMENT_H

#include "base/status.h"
#include "base/text.h"
#include "present/grid.h"
#include "present/page.h"

#include <stdbool.h>
#include <stdio.h>

/* ---- words ---- */

typedef enum {
    WORDS_HEADING, /* inside a section */
    WORDS_LEAD,    /* what to do: first, and set off */
    WORDS_PLAIN,   /* a paragraph */
    WORDS_ITEM,    /* of a list; items that follow each other are one list */
    WORDS_CAUTION, /* must not be overlooked */
    WORDS_SMALL,   /* a remark at the foot */
} Words;

/* ---- blocks that hold others ---- */

typedef enum {
    BLOCK_SECTION, /* begins a sheet of paper */
    BLOCK_SIDE,    /* begins a side of paper */
    BLOCK_COLUMNS, /* two columns on paper */
    BLOCK_NOTES,   /* assumptions, method, sources: printed when asked for */
} Block;

/* A picture: an SVG file or, with `svg`, its text. */
typedef struct {
    const char *path, *svg;
    const char *alt;     /* says in words what is to be seen; NULL: the SVG's
                            own words do */
    const char *caption; /* a short line below */
} DocumentPicture;

typedef struct {
    char *title;
    struct DocumentPart *parts;
    size_t count, room;
} Document;

/* All zero is an empty document. */
void document_title(Document *doc, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* Nothing is added when the words are empty. */
void document_words(Document *doc, Words kind, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* `id` names a section for links, a plain word of ours; the heading may be
 * empty but for a section. */
void document_open(Document *doc, Block block, const char *id,
                   const char *heading);
void document_close(Document *doc, Block block);
/* A link to a section, as an item; on a terminal nothing. */
void document_link(Document *doc, const char *id, const char *words);
/* Takes the grid over, but copies its columns. A caption may be empty. */
void document_table(Document *doc, Grid *grid, const char *caption);
void document_picture(Document *doc, const DocumentPicture *picture);
/* Two sliders (page_try.h, for `values`); on a terminal nothing. */
void document_try(Document *doc, const char *name, const char *values);
/* Moves all of another document, which is then empty, to the end. */
void document_append(Document *doc, Document *other);
void document_free(Document *doc);

/* ---- printing ---- */

enum { DOCUMENT_WIDTH = 79 };

/* As text, at most DOCUMENT_WIDTH columns wide. Without `notes` a line at the
 * end says that there are some. Pictures stand as their paths. */
void document_print(const Document *doc, bool notes, FILE *to);

/* Into a page that is open. Fails when a picture cannot be read. */
StatusCode document_page(const Document *doc, bool notes, Page *page,
                         Status *status);
/* As a page of its own. */
StatusCode document_write(const Document *doc, bool notes, FILE *to,
                          Status *status);

#endif
