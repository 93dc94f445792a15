/* what_if_page: tapers of other lengths and cuts on the page of report: sliders
 * for each athlete, and a table for paper and for browsers without script.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_WHAT_IF_PAGE_H
#define OUTPUT_WHAT_IF_PAGE_H

#include "answers/plan.h"
#include "present/document.h"

/* How the sliders and tables are read. `silent`: the models of some are not
 * followed. */
void what_if_page_words(bool silent, Document *doc);

/* One athlete's, with a mark at the plan's taper. */
void what_if_page(const Plan *plan, const char *name, Document *doc);

#endif
