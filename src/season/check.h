/* check: what looks wrong although it can be read.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_CHECK_H
#define SEASON_CHECK_H

#include "season/daily.h"

/* Adds warnings: rows that stand twice, loads far beyond an athlete's usual
 * ones, gaps, athletes without sessions or with names that differ only in
 * letter case, tests outside the log, events that overlap, exercises of a
 * session that the usual week does not have. */
void check_season(const Season *season, Notes *notes);

/* Its two parts: each athlete's own, then what concerns them all. */
void check_athlete(const Season *season, size_t athlete, Notes *notes);
void check_common(const Season *season, Notes *notes);

/* The part of it about one athlete's tests: those outside the log, and values
 * that look like another unit. */
void check_tests(const Season *season, size_t athlete, Notes *notes);

/* The part of it about athletes without sessions: rows of athletes.csv whose
 * name the log does not have, so that a minor may not be known as one. */
void check_strangers(const Season *season, Notes *notes);

/* The part of it about an athlete's body mass: one that looks like pounds under
 * kilograms, or the other way round. */
void check_mass(const Season *season, size_t athlete, Notes *notes);

#endif
