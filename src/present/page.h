/* page: one self-contained HTML file: text, tables and pictures, escaped
 * throughout; nothing from outside the file, and no script but that of
 * page_try.h where it is asked for.
 *
 * Readable on a phone, in light and dark, and on paper, where each section
 * begins a new sheet. Colours keep a contrast of 4.5 to 1 or more (WCAG 2.1
 * AA; tests/page_contrast.py reckons it from the style sheet in page.c).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_PAGE_H
#define PRESENT_PAGE_H

#include "base/status.h"
#include "present/grid.h"

#include <stdio.h>

typedef struct {
    FILE *to;
    int figures; /* so far, to keep the identifiers of their parts apart */
    int tries;   /* sliders so far */
} Page;

/* Everything before the first section: head, style sheet, a link that skips the
 * contents, the title as the one first-order heading. */
/* `script` is what the policy allows to run, page_hash(); empty: nothing. */
void page_begin(Page *page, FILE *to, const char *title, const char *script);
/* The same with rules behind those of all pages. */
void page_begin_styled(Page *page, FILE *to, const char *title,
                       const char *script, const char *rules);
void page_end(Page *page);
/* 'sha256-...' of a script or a style sheet, as a policy names it (W3C, Content
 * Security Policy Level 3); appended. */
void page_hash(const char *text, size_t length, Text *policy);

/* A section on a sheet of its own. `id` is a plain word of ours. */
void page_section(Page *page, const char *id, const char *heading);
void page_section_end(Page *page);
void page_heading(Page *page, const char *text); /* inside a section */

void page_paragraph(Page *page, const char *text);
/* What to do: larger. */
void page_lead(Page *page, const char *text);
/* A remark at the foot. */
void page_small(Page *page, const char *text);
/* Set off, for cautions and what must not be overlooked. */
void page_caution(Page *page, const char *text);
/* A list: open, items, close. */
void page_list(Page *page);
void page_item(Page *page, const char *text);
void page_list_end(Page *page);
/* A link to a section of this page, as a list item. */
void page_item_link(Page *page, const char *id, const char *text);

/* What stands between begins a new side of paper. */
void page_side(Page *page);
void page_side_end(Page *page);
/* Lines to write on. */
void page_write(Page *page, int lines);
/* What stands between is side by side where there is room. */
void page_beside(Page *page);
void page_beside_end(Page *page);
/* What stands between is set in two columns on paper. */
void page_columns(Page *page);
void page_columns_end(Page *page);

/* The first column heads its rows; an empty caption is left out. On a phone a
 * row of many columns becomes a card: each cell beside its column's title. */
void page_table(Page *page, const Grid *grid, const char *caption);

/* Puts the SVG file `path`, as gnuplot writes it, into the page. `alt` says in
 * words what is to be seen; NULL: the SVG's own words do (plot.h). */
StatusCode page_figure(Page *page, const char *path, const char *alt,
                       const char *caption, Status *status);
/* The same with the file's text; `svg` is left as it is. */
StatusCode page_svg(Page *page, const char *svg, const char *alt,
                    const char *caption, Status *status);

/* Text with & < > " ' as entities; control characters become blanks. */
void page_escape(FILE *to, const char *text);

#endif
