/* taper_text: the answer of `taper` as it is read: what to do, how sure, the
 * options, what to watch.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_TAPER_TEXT_H
#define OUTPUT_TAPER_TEXT_H

#include "answers/best_taper.h"
#include "present/document.h"

/* Of one athlete, or of a squad whose verdicts after the first may be slim. */
void taper_text(const Context *context, const BestTaper *v, size_t count,
                Document *doc);

/* "From Thu 16 Apr, 9 days with 60 % less volume. ...", appended. */
void taper_text_lead(const Case *c, const Option *option, Text *text);
/* The same of what is carried out: where the sessions of the team follow the
 * common taper, both, appended. */
void taper_text_carried(const BestTaper *v, Text *text);
/* The best option of each shape beside no taper. */
void taper_text_options(const BestTaper *v, Document *doc);

/* What tests, if there are any, have to do with it, in brackets. */
const char *taper_text_why(bool tested);
/* Why a published taper stands where nothing tells more, not the model's; `who`
 * are those of whom that holds, NULL: all; `so` begins its clause, "this is";
 * `within`: what is recommended lies in that band. */
void taper_text_unknown(const char *who, bool tested, const char *so,
                        bool within, Document *doc);
/* Why there are neither odds nor gains of `which` taper, "this one"; `usual`:
 * what stays as usual has not been said. */
void taper_text_silence(bool usual, bool tested, const char *which,
                        Document *doc);

/* Parts of the answer: of one athlete, of a squad, what its figures mean. */
void taper_text_one(const BestTaper *v, Document *doc);
void taper_text_squad(const BestTaper *v, size_t count, Document *doc);
void taper_text_legend(const BestTaper *v, Document *doc);

#endif
