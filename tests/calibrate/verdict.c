/* verdict: Bayes factors of one kind of test and of several.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/posterior.h"

#include <gsl/gsl_randist.h>

enum { TESTS = 10 };

static const PosteriorPrior prior = {3.3, .9, .7, 0, false, false};

/* Of a single kind both numbers are the same one, and tests of little noise
 * speak for training. */
static void test_verdict_one_kind(void) {
    static Athlete a;
    Model model = family();
    gsl_rng *rng = test_random(20810);
    TestGroup kind = {&a.data, prior};
    Posterior p;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, TESTS, .3, &a);
    run_kinds(&model, &kind, 1, 64, 4, &p);
    ASSERT_NEAR(p.kind_bayes[0], p.bayes, 1e-9);
    CU_ASSERT(p.bayes > 2);
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* Readings that training does not move say hardly anything of the shape, so
 * together with others they are nearly independent of them: logarithms of
 * likelihoods add. */
static void test_verdict_kinds_add(void) {
    static Athlete a, b;
    Model model = family();
    gsl_rng *rng = test_random(20811);
    TestGroup kind[2] = {{&a.data, prior}, {&b.data, prior}};
    for (int i = 0; i < 6; i++) {
        Posterior p;
        random_athlete(RESPONSE_TWO_COMPONENT, rng, TESTS, .5, &a);
        b = a;
        b.data.value = b.value;
        for (size_t k = 0; k < TESTS; k++)
            b.value[k] = 50 + 1.5 * gsl_ran_ugaussian(rng);
        run_kinds(&model, kind, 2, 64, 4, &p);
        ASSERT_NEAR(p.bayes, p.kind_bayes[0] + p.kind_bayes[1], 1);
        posterior_free(&p);
    }
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"verdict_one_kind", test_verdict_one_kind},
                                 {"verdict_kinds_add", test_verdict_kinds_add},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_verdict = {"calibrate", cases};
