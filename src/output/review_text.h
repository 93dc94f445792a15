/* review_text: a review as text and as CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_REVIEW_TEXT_H
#define OUTPUT_REVIEW_TEXT_H

#include "answers/review.h"
#include "output/output.h"

void review_text(const Context *context, const Reviews *reviews,
                 const Output *o);
void review_text_csv(const Reviews *reviews, const Output *o);

#endif
