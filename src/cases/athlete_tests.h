/* athlete_tests: an athlete's own tests, laid out for fitting.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_ATHLETE_TESTS_H
#define CASES_ATHLETE_TESTS_H

#include "calibrate/posterior.h"
#include "response/model.h"
#include "taper/outlook.h"

typedef struct {
    TestData data; /* lower-better tests negated */
    uint32_t test; /* index into Season.test_names */
    bool lower;    /* lower is better */
    Date *date;
} AthleteTests;

/* The tests named `name` (letter case apart), or with NULL those of the kind
 * with most tests, from the log's first day to its last. False when there are
 * none. The outlook must outlive them. */
bool athlete_tests_read(const Season *season, size_t athlete,
                        const Outlook *outlook, const char *name,
                        AthleteTests *own);
/* No tests of a kind. */
void athlete_tests_none(const Season *season, uint32_t test,
                        const Outlook *outlook, AthleteTests *own);
/* With the prior of its scale, from the readings of that test until today in
 * the athlete's squad, or without any in the season. */
TestGroup athlete_tests_kind(const Season *season, size_t athlete,
                             const AthleteTests *own);
/* Why tests tell nothing of time constants: the training hardly varies, the SD
 * of a response with tau 42 d over the log being under 1 % of its mean; or
 * until the last test it is under 1 % of that mean, as where there is no load
 * at all. NULL: they may tell. */
const char *athlete_tests_flat(const AthleteTests *own);
/* Do two kinds say the same: five or more readings of the same days, the one a
 * straight line of the other? A second column of one test is no second test. */
bool athlete_tests_same(const AthleteTests *a, const AthleteTests *b);
/* The steady training before the log, from none to three times `usual`, with
 * which the two-component model fits the tests best [load/d] (its starting
 * state, as Ludwig et al. 2019, Int J Comput Sci Sport 18(1), advise to
 * estimate). */
double athlete_tests_before(const AthleteTests *own, double usual);
/* The prior of a fit: a model file without spreads gets the literature's. The
 * copy shares the model's texts. */
void athlete_tests_prior(const Model *model, Model *prior);
void athlete_tests_free(AthleteTests *own);

#endif
