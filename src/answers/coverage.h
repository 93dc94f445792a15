/* coverage: what the logs cover, and all that there is to say about the files.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_COVERAGE_H
#define ANSWERS_COVERAGE_H

#include "cases/case.h"

/* What the log of one athlete covers. */
typedef struct {
    const Athlete *athlete;
    Date first;
    size_t days, trained, rest, filled, unrecorded, longest_gap; /* [d] */
    double week; /* [load] median of whole calendar weeks with training;
                    NAN: there is none */
} Coverage;

/* Looks at all athletes; returns how many of those asked for have a log, whose
 * coverage comes first, in the order in which they were asked for. */
size_t coverage_look(const Context *d, Coverage *c, Notes *notes);

/* Events to come that ask too much. */
void coverage_note_events(const Season *s, Notes *notes);

#endif
