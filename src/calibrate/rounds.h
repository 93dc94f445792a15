/* rounds: tries shapes until enough of them count (posterior.h says how).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_ROUNDS_H
#define CALIBRATE_ROUNDS_H

#include "base/status.h"
#include "calibrate/asked.h"

/* Fails with STATUS_DATA when nearly all weight falls on nothing. *trail is to
 * be freed (trail_free()) whatever is returned; all that is asked must outlive
 * it. */
StatusCode rounds_run(const PosteriorAsked *asked, Trail **trail,
                      Status *status);

/* What a pool needs of an athlete; as long as the trail. */
ShapeSample rounds_sample(Trail *trail);

/* ln of the mean over the prior's shapes of the likelihood of one kind of test,
 * and of all together. */
double rounds_log_mean_like(const Trail *trail, size_t kind);
double rounds_log_mean(const Trail *trail);

/* ln likelihood of one kind of test beside others, of which it may not be: it
 * is mixed with its mean over the prior's shapes. */
double rounds_given_way(double like, double mean_like);

#endif
