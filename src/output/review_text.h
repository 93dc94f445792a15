/* review_text: a review as text, for the page and as CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_REVIEW_TEXT_H
#define OUTPUT_REVIEW_TEXT_H

#include "answers/review.h"
#include "output/output.h"
#include "present/document.h"

void review_text(const Context *context, const Reviews *reviews,
                 const Output *o);

/* Its parts: a title without a full stop; what came of it, for one athlete with
 * their weeks; the weeks of one; the notes. */
void review_text_title(const Reviews *reviews, Text *title);
void review_text_body(const Context *context, const Reviews *reviews,
                      Document *doc);
void review_text_weeks(const Review *review, Document *doc);
void review_text_notes(Document *doc);

void review_text_csv(const Reviews *reviews, const Output *o);

#endif
