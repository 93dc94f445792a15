/* squad_tapers: the recommended taper of everybody on the way to one event,
 * decided together.
 *
 * All athletes of the season are searched, whoever was asked for, since each
 * one's answer hangs on the others': those of one squad on the way to one event
 * get as few common tapers as lose little (taper/common.h). Where nothing is
 * known of a squad (the Bayes factor of all tests together against no effect of
 * training is under 1/3, or in half of the athletes training explains less than
 * SQUAD_ROWS_HARDLY of the variance of the test that it moves most, or there
 * are none, and no model was asked for), the gentle end of the published band
 * is for all.
 *
 * Those who train mostly with the team have but one taper, the best for them
 * together; where groups or each one's own are asked for, it is that of the
 * team's sessions alone. Where days are told
 * otherwise than in the files, what was decided without them is carried on
 * where another taper adds less than what cannot be told apart.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_SQUAD_TAPERS_H
#define ANSWERS_SQUAD_TAPERS_H

#include "base/status.h"
#include "cases/case.h"

/* Fills context->assigned, by which best_taper_build() recommends. Athletes who
 * cannot be searched are left out without a word: whoever asks for them is told
 * later. */
void squad_tapers_decide(Context *context);

#endif
