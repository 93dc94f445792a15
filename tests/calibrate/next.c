/* next: what a further test would tell, beside closed forms.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/forecast.h"
#include "calibrate/next.h"
#include "calibrate/posterior.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>

enum { NEXT_DRAWS = 2000 };

/* Quantity and reading are standard normal, the reading's error is `sigma`:
 * what is left has SD sigma/sqrt(1 + sigma^2), whatever is read. */
static void check_normal(gsl_rng *rng, double sigma) {
    static double quantity[NEXT_DRAWS], error[NEXT_DRAWS];
    static ResponseParams set[NEXT_DRAWS];
    Posterior p = {.draws = {NEXT_DRAWS, set}, .sigma = error};
    for (size_t i = 0; i < NEXT_DRAWS; i++) {
        quantity[i] = gsl_cdf_ugaussian_Pinv(((double)i + .5) / NEXT_DRAWS);
        error[i] = sigma;
    }
    gsl_ran_shuffle(rng, quantity, NEXT_DRAWS, sizeof *quantity);
    ASSERT_NEAR(next_narrowing(&p, quantity, quantity),
                sigma / sqrt(1 + sigma * sigma), .03);
}

static void test_next_normal(void) {
    gsl_rng *rng = test_random(21001);
    check_normal(rng, .2385);
    check_normal(rng, .7);
    check_normal(rng, 2.1);
    gsl_rng_free(rng);
}

static void test_next_posterior(void) {
    static Athlete a;
    static double reading[NEXT_DRAWS], gain[NEXT_DRAWS];
    gsl_rng *rng = test_random(21002);
    Posterior p;
    double share, wide;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 3, .66, &a);
    run_posterior(&a, &sbc_prior, NEXT_DRAWS, 5, &p);
    for (size_t i = 0; i < NEXT_DRAWS; i++)
        gain[i] = gain_of(&p, i);
    for (size_t day = 5; day < a.data.timeline.steps; day += 20) {
        forecast_at(&p.draws, &a.data.timeline, day, READ_BEFORE, reading);
        share = next_narrowing(&p, reading, gain);
        CU_ASSERT(share > 0 && share <= 1);
    }
    for (size_t i = 0; i < NEXT_DRAWS; i++)
        reading[i] = 37.5; /* such a test tells of sigma at most */
    share = next_narrowing(&p, reading, gain);
    CU_ASSERT(share > .85 && share < 1.1);
    wide = quantile_of(&p, gain_of, .95) - quantile_of(&p, gain_of, .05);
    for (size_t i = 0; i < NEXT_DRAWS; i++)
        p.sigma[i] = .385;
    /* weights alike up to rounding: the next order statistic at most */
    ASSERT_NEAR(next_narrowing(&p, reading, gain), 1, .01);
    for (size_t i = 0; i < NEXT_DRAWS; i++) {
        reading[i] = 12.5 + 3.1 * gain[i];
        p.sigma[i] = 3.1 * wide / 200;
    }
    share = next_narrowing(&p, reading, gain);
    CU_ASSERT(share > 0 && share < .05); /* 3.29/200 = .016 where dense */
    posterior_free(&p);
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"next_normal", test_next_normal},
                                 {"next_posterior", test_next_posterior},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_next = {"calibrate", cases};
