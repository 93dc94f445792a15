/* review_lead: the answer of a review in a few sentences.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_REVIEW_LEAD_H
#define OUTPUT_REVIEW_LEAD_H

#include "answers/review.h"
#include "present/document.h"

/* How many were forecast and measured. */
size_t review_lead_measured(const Reviews *reviews);

/* How much was done and who is far from it; what came of it, or what can be
 * done now. */
void review_lead(const Reviews *reviews, Document *doc);

#endif
