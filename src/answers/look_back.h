/* look_back: the season as it was on the day on which the plan was issued,
 * beside the season as it is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_LOOK_BACK_H
#define ANSWERS_LOOK_BACK_H

#include "answers/review.h"

typedef struct {
    Question then, now;
    Context past, present; /* the present borrows the season */
    Case *was, *is;
    size_t was_count, is_count;
    Notes unsaid; /* of the past, which has been said in its time */
    Reviews reviews;
} LookBack;

/* Reviews the athletes asked for; what there is to say of the season as it is
 * goes to `notes`. Fails when the season as it was cannot be read; then
 * `unsaid` says why. To be freed either way. */
StatusCode look_back_make(const Context *context, Notes *notes, LookBack *back,
                          Status *status);
void look_back_free(LookBack *back);

#endif
