/* handout: the plan as plan.csv of the season: its rows with the day on which
 * it was issued. Rows of other athletes that stand there stay.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_HANDOUT_H
#define OUTPUT_HANDOUT_H

#include "answers/plan.h"
#include "output/output.h"

/* Writes it, whole or not at all. One that is there already is only replaced
 * when asked for (`replace`): it keeps standing beside it with the day of its
 * issue in its name. Else fails, after what would change, with STATUS_DATA. */
StatusCode handout_write(const Context *context, const Plan *plans,
                         size_t count, bool replace, const Output *o,
                         Status *status);

#endif
