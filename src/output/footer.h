/* footer: what stands at the end of an answer: one line of caution, and behind
 * --notes what it assumes and where that comes from.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_FOOTER_H
#define OUTPUT_FOOTER_H

#include "answers/best_taper.h"
#include "output/output.h"
#include "present/document.h"

/* Cautions that concern everybody asked for, minors named. */
void footer_caution(const Context *context, Document *doc);
/* The same for a sheet that one athlete gets: of no other it speaks. */
void footer_caution_one(const Case *c, Document *doc);

/* ---- for the notes ---- */

/* What published experience says beside the model. */
void footer_evidence(Document *doc);
/* Model, day convention, what is default and what was given. */
void footer_basis(const Context *context, const Case *c, Document *doc);

/* What the models can say of more load in the weeks to come. */
void footer_more_load(const Case *c, Words kind, Document *doc);

/* The warnings said so far of the athlete or the event, as items. */
void footer_notes(const Case *c, Document *doc);

/* Caution and notes; tapers of up to `searched` days were looked at, 0: none.
 */
void footer(const Case *c, size_t searched, Document *doc);

#endif
