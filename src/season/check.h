/* check: what looks wrong although it can be read.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_CHECK_H
#define SEASON_CHECK_H

#include "season/daily.h"

/* Adds warnings, what matters most first: athletes without sessions, names that
 * look alike, events that overlap, tests that look wrong, rows that stand
 * twice, sessions of over four hours, loads far beyond an athlete's usual ones,
 * ratings that are all ends of the scale, weeks far beyond the usual, gaps,
 * exercises of a session that the usual week does not have, body masses. */
void check_season(const Season *season, Notes *notes);

/* Athletes without sessions: rows of athletes.csv whose name the log does not
 * have, so that a minor may not be known as one. */
void check_strangers(const Season *season, Notes *notes);

/* Names that look alike (alike.h), and athletes with one session only. */
void check_names(const Season *season, Notes *notes);

/* Warns of athletes of the log whose names look alike, since a slip of the pen
 * makes an athlete of its own, who changes a squad's answer; two that
 * athletes.csv lists are two. */
void check_alike(const Season *season, Notes *notes);

/* All there is about tests: that of each athlete, units that differ in the
 * squad, tests on match days. */
void check_all_tests(const Season *season, Notes *notes);

/* The part of it about one athlete's tests: those outside the log, values that
 * look like another unit, and values far from the athlete's own. */
void check_tests(const Season *season, size_t athlete, Notes *notes);

/* Kinds of test that an athlete's files have in another unit than the squad's,
 * by their size. */
void check_squad_tests(const Season *season, Notes *notes);

/* An athlete's body mass: one that looks like pounds under kilograms, or the
 * other way round. */
void check_mass(const Season *season, size_t athlete, Notes *notes);

#endif
