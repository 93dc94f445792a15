/* rounds: a squad's prior, and the sample of a pool.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/posterior.h"
#include "calibrate/rounds.h"
#include "calibrate/trail.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

/* The squad's prior narrows the shape to where the squad is. */
static void test_posterior_squad(void) {
    static Athlete a;
    static const double mean[] = {3.4, 2, .3}, spread[] = {.05, .05, .05};
    gsl_rng *rng = test_random(20803);
    Model model = family();
    TestGroup kind = {&a.data, {3.3, .66, .7, 2.2, true, false}};
    ShapePrior squad;
    PosteriorAsked asked = {
        .model = &model, .kind = &kind, .kinds = 1, .squad = &squad, .seed = 4};
    Posterior p;
    Status status = {0};
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 3, .66, &a);
    shape_prior_alone(mean, spread, &squad);
    for (int k = 0; k < MEMBERS; k++)
        squad.member[k] = k == 1 ? .6 : .1;
    CU_ASSERT_EQUAL(posterior_run(&asked, 2000, &p, &status), STATUS_OK);
    CU_ASSERT(p.ess >= POSTERIOR_LEAST);
    ASSERT_NEAR(log(quantile_of(&p, tau1_of, .5)), 3.4, .03);
    ASSERT_NEAR(log(quantile_of(&p, tau2_of, .5)), 2, .03);
    ASSERT_NEAR(log(quantile_of(&p, ratio_of, .5)), .3, .03);
    ASSERT_NEAR(p.weight[1], .6, 1e-12);
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* Four parts in five the kind's own likelihood, one part its mean over the
 * prior: .8 * 1 + .2 * 3 = 1.4, and so on by hand; far apart none is lost. */
static void test_rounds_give_way(void) {
    ASSERT_NEAR(rounds_given_way(0, log(3)), log(1.4), 1e-12);
    ASSERT_NEAR(rounds_given_way(log(3), 0), log(2.6), 1e-12);
    ASSERT_NEAR(rounds_given_way(-2, -2), -2, 1e-12);
    ASSERT_NEAR(rounds_given_way(-5000, -2000), -2000 + log(.2), 1e-9);
    ASSERT_NEAR(rounds_given_way(-2000, -5000), -2000 + log(.8), 1e-9);
}

/* The mean over a sample's shapes of their ratio times the model's own prior is
 * the evidence, up to a factor the members share. */
static void test_posterior_sample(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20804);
    Model model = family();
    TestGroup kind = {&a.data, {3.3, .66, .7, 0, false, false}};
    PosteriorAsked asked = {
        .model = &model, .kind = &kind, .kinds = 1, .seed = 4};
    static const double mean[] = {3.6635616461296463, 2.4849066497880004,
                                  .7419373447293773};
    static const double spread[] = {.4, .7, .5};
    double log_mean[MEMBERS] = {0}, *density;
    ShapePrior own;
    ShapeSample sample;
    Posterior p;
    Trail *trail;
    Status status = {0};
    random_athlete(RESPONSE_VARIABLE_DOSE, rng, 9, .3, &a);
    CU_ASSERT_EQUAL(rounds_run(&asked, &trail, &status), STATUS_OK);
    posterior_from(trail, 10, &p);
    sample = rounds_sample(trail);
    density = malloc(sample.count * MEMBERS * sizeof *density);
    shape_prior_alone(mean, spread, &own);
    shape_prior_log(&own, sample.count, sample.theta, density);
    for (size_t k = 0; k < MEMBERS; k++) {
        double sum = 0;
        for (size_t i = 0; i < sample.count; i++)
            sum += exp(sample.log_ratio[k * sample.count + i] +
                       density[k * sample.count + i]);
        log_mean[k] = log(sum / (double)sample.count);
    }
    for (size_t k = 1; k < MEMBERS; k++)
        ASSERT_NEAR(log_mean[k] - log_mean[0], p.evidence[k] - p.evidence[0],
                    .15);
    free(density);
    posterior_free(&p);
    trail_free(trail);
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"posterior_squad", test_posterior_squad},
                                 {"rounds_give_way", test_rounds_give_way},
                                 {"posterior_sample", test_posterior_sample},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_rounds = {"calibrate", cases};
