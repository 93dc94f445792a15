/* posterior: the prior where there is no test, errors, several kinds of test,
 * and what must not matter.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/posterior.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the prior, and little data ---- */

/* Quantile of a coordinate of the prior. x1 = ln tau1 is normal, times the
 * probability that x2 = ln tau2 leaves tau1 > 1.3 tau2, and the other way
 * round for tau2. By the trapezoid rule. */
static double prior_quantile(Param param, double p) {
    enum { POINTS = 6000 };
    bool first = param == PARAM_TAU1;
    double mean = log(first ? 42 : 13), sd = first ? .4 : .7;
    double low = mean - 7 * sd, h = 14 * sd / POINTS, total = 0, sum = 0;
    static double density[POINTS];
    for (int i = 0; i < POINTS; i++) {
        double x = low + (i + .5) * h;
        double other = first ? (x - log(1.3) - log(13)) / .7
                             : (log(42) - log(1.3) - x) / .4;
        density[i] =
            gsl_ran_gaussian_pdf(x - mean, sd) * gsl_cdf_ugaussian_P(other);
        total += density[i];
    }
    for (int i = 0; i < POINTS; i++) {
        if (sum + density[i] >= p * total)
            return exp(low + (i + (p * total - sum) / density[i]) * h);
        sum += density[i];
    }
    return NAN;
}

/* Errors as of old: independent, normal, no trend. */
static PosteriorPrior plain(double effect, double sigma, double spread) {
    return (PosteriorPrior){effect, sigma, spread, 0, false, false};
}

/* The shape is that of the prior: 3.5 % of noise is allowed. */
static void check_prior_shape(const Posterior *p) {
    static const double at[] = {.05, .25, .5, .75, .95};
    for (int i = 0; i < 5; i++) {
        double z = gsl_cdf_ugaussian_Pinv(at[i]);
        ASSERT_NEAR(quantile_of(p, tau1_of, at[i]) /
                        prior_quantile(PARAM_TAU1, at[i]),
                    1, .05);
        ASSERT_NEAR(quantile_of(p, tau2_of, at[i]) /
                        prior_quantile(PARAM_TAU2, at[i]),
                    1, .05);
        ASSERT_NEAR(quantile_of(p, rho_of, at[i]) / (1.9 * exp(.5 * z)), 1,
                    .05);
    }
    for (size_t i = 0; i < p->draws.count; i++)
        CU_ASSERT(tau1_of(p, i) > 1.3 * tau2_of(p, i));
}

/* Without tests the log moves readiness by the same SD under each draw: the
 * mean of the half-normal prior. The SD over all days, that of the model over
 * every so-manieth. */
static void test_posterior_no_test(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20501);
    PosteriorPrior prior = plain(3.3, .66, .7);
    Posterior p;
    double wanted = 3.3 * sqrt(2 / M_PI), sum = 0;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 5, .66, &a);
    a.data.count = 0;
    run_posterior(&a, &prior, DRAWS_MOST, 11, &p);
    check_prior_shape(&p);
    for (size_t i = 0; i < DRAWS_MOST; i++) {
        double sd = sd_over_log(&p.draws.set[i], &a.data.timeline);
        CU_ASSERT(sd > .8 * wanted && sd < 1.25 * wanted);
        sum += sd / DRAWS_MOST;
    }
    ASSERT_NEAR(sum / wanted, 1, .03);
    ASSERT_NEAR(p.bayes, 0, .02);
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* Drawn, the scale is half-normal; and the spread over the log its own. */
static void check_scales(const Posterior *p, const Athlete *a, double effect) {
    double scale[DRAWS_MOST];
    for (size_t i = 0; i < DRAWS_MOST; i++)
        scale[i] = sd_over_log(&p->draws.set[i], &a->data.timeline);
    gsl_sort(scale, 1, DRAWS_MOST);
    for (int i = 1; i < 10; i += 2) {
        double got =
            gsl_stats_quantile_from_sorted_data(scale, 1, DRAWS_MOST, i / 10.);
        /* as a probability: 4.5 standard errors of 4096 plain draws */
        ASSERT_NEAR(2 * gsl_cdf_ugaussian_P(got / effect) - 1, i / 10., .035);
    }
}

static void test_posterior_scale_drawn(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20507);
    Model model = literature();
    TestGroup kind = {&a.data, plain(3.3, .66, .7)};
    PosteriorAsked asked = {.model = &model,
                            .kind = &kind,
                            .kinds = 1,
                            .scale_drawn = true,
                            .seed = 3};
    Posterior p;
    Status status = {0};
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 5, .66, &a);
    a.data.count = 0;
    CU_ASSERT_EQUAL(posterior_run(&asked, DRAWS_MOST, &p, &status), STATUS_OK);
    check_scales(&p, &a, 3.3);
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* The level of one test is free, so one test says nothing of shape, scale and
 * sigma: sigma stays log-normal, the scale half-normal. */
static void test_posterior_one_test(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20502);
    PosteriorPrior prior = plain(3.3, .66, .4);
    Posterior p;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 1, .66, &a);
    run_posterior(&a, &prior, DRAWS_MOST, 12, &p);
    CU_ASSERT(p.ess > POSTERIOR_LEAST);
    check_prior_shape(&p);
    for (int i = 1; i < 10; i += 2) {
        double wanted = .66 * exp(.4 * gsl_cdf_ugaussian_Pinv(i / 10.));
        ASSERT_NEAR(quantile_of(&p, sigma_of, i / 10.) / wanted, 1, .05);
    }
    check_scales(&p, &a, 3.3);
    ASSERT_NEAR(p.bayes, 0, .02);
    posterior_free(&p);
    gsl_rng_free(rng);
}

static void test_posterior_prior(void) {
    double value[] = {-12.5, 37.5}, weight[] = {1, 1};
    TestData d = {.count = 2, .value = value, .weight = weight, .error = NAN};
    PosteriorPrior p = posterior_prior(&d, 2.5);
    ASSERT_NEAR(p.effect, 3, 1e-14);
    ASSERT_NEAR(p.sigma, 1.5, 1e-14);
    ASSERT_NEAR(p.sigma_spread, .7, 1e-14);
    ASSERT_NEAR(p.trend, 2.5, 1e-14);
    d.error = .385;
    p = posterior_prior(&d, 2.5);
    ASSERT_NEAR(p.effect, 3, 1e-14);
    ASSERT_NEAR(p.sigma, .385, 1e-14);
    ASSERT_NEAR(p.sigma_spread, .3, 1e-14);
}

/* ---- what must not matter ---- */

static void test_posterior_seed(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20503);
    PosteriorPrior prior = {3.3, .66, .7, 2.2, true, true};
    Model model = family();
    Posterior p, again, other;
    size_t same = 0, differ = 0;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 4, .66, &a);
    run_model(&model, &a, &prior, 512, 7, &p);
    run_model(&model, &a, &prior, 512, 7, &again);
    run_model(&model, &a, &prior, 512, 8, &other);
    for (size_t i = 0; i < 512; i++) {
        same += same_bits(&p.draws.set[i], &again.draws.set[i]) &&
                memcmp(&p.sigma[i], &again.sigma[i], sizeof(double)) == 0;
        differ += !same_bits(&p.draws.set[i], &other.draws.set[i]);
    }
    CU_ASSERT_EQUAL(same, 512);
    CU_ASSERT(differ > 500);
    CU_ASSERT(same_bits(&p.centre, &again.centre));
    posterior_free(&p);
    posterior_free(&again);
    posterior_free(&other);
    gsl_rng_free(rng);
}

/* How a change of the files should change the draws. */
typedef struct {
    double k1, sigma; /* factors */
    double p0;        /* added */
} Changed;

static void check_changed(const Posterior *p, const Posterior *q,
                          const Changed *by) {
    static const Param shape[] = {PARAM_TAU1, PARAM_TAU2, PARAM_TAU3,
                                  PARAM_RATIO, PARAM_GROWTH};
    ASSERT_NEAR(q->ess / p->ess, 1, 1e-7);
    ASSERT_NEAR(q->bayes - p->bayes, 0, 1e-7);
    for (size_t k = 0; k < p->members; k++)
        ASSERT_NEAR(q->weight[k] - p->weight[k], 0, 1e-9);
    for (size_t i = 0; i < p->draws.count; i++) {
        const double *v = p->draws.set[i].value, *w = q->draws.set[i].value;
        for (int k = 0; k < 5; k++)
            ASSERT_NEAR(w[shape[k]] - v[shape[k]], 0, 1e-7);
        ASSERT_NEAR(w[PARAM_K1] / v[PARAM_K1], by->k1, 1e-6);
        ASSERT_NEAR(q->sigma[i] / p->sigma[i], by->sigma, 1e-7);
        ASSERT_NEAR(w[PARAM_P0], v[PARAM_P0] * by->sigma + by->p0, 1e-6);
    }
}

enum { CHANGES = 3 };

static void change(int which, Athlete *a, PosteriorPrior *prior) {
    if (which == 2) {
        a->data.timeline.before *= 10;
        for (size_t i = 0; i < a->data.timeline.steps; i++)
            a->load[i] *= 10;
        return;
    }
    for (size_t i = 0; i < a->data.count; i++)
        a->value[i] = which == 0 ? a->value[i] + 512 : a->value[i] * 7.3;
    if (which == 0)
        return;
    prior->effect *= 7.3;
    prior->sigma *= 7.3;
    prior->trend *= 7.3;
}

/* Neither the zero of a test nor its unit nor the unit of load. */
static void test_posterior_units(void) {
    static const Changed by[CHANGES] = {{1, 1, 512}, {7.3, 7.3, 0}, {.1, 1, 0}};
    static Athlete a, other;
    gsl_rng *rng = test_random(20504);
    Model model = family();
    for (size_t tests = 2; tests < 9; tests += 3) {
        PosteriorPrior prior = {3.3, .66, .7, 2.2, true, true};
        Posterior p;
        random_athlete(RESPONSE_TWO_COMPONENT, rng, tests, .66, &a);
        run_model(&model, &a, &prior, 512, 7, &p);
        for (int which = 0; which < CHANGES; which++) {
            PosteriorPrior changed = prior;
            Posterior q;
            other = a;
            other.data.timeline.load = other.load;
            other.data.step = other.step;
            other.data.when = other.when;
            other.data.value = other.value;
            other.data.weight = other.weight;
            change(which, &other, &changed);
            run_model(&model, &other, &changed, 512, 7, &q);
            check_changed(&p, &q, &by[which]);
            posterior_free(&q);
        }
        posterior_free(&p);
    }
    gsl_rng_free(rng);
}

/* Spreads about equal time constants far inside 1.3 leave nothing. */
static void test_posterior_impossible(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20505);
    Model model = literature();
    TestGroup kind = {&a.data, plain(3.3, .66, .7)};
    PosteriorAsked asked = {.model = &model, .kind = &kind, .kinds = 1};
    Status status = {0};
    Posterior p;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 4, .66, &a);
    model.params.value[PARAM_TAU2] = 41.5;
    model.spread[PARAM_TAU1] = model.spread[PARAM_TAU2] = .01;
    CU_ASSERT_EQUAL(posterior_run(&asked, 512, &p, &status), STATUS_DATA);
    ASSERT_HAS(status.text, "literature");
    ASSERT_HAS(status.text, "1.3 tau2");
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* Graded with growth 0 or 1 alone is two-component or variable-dose with the
 * same prior: but for Monte-Carlo noise the same evidence. */
static void test_posterior_members(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20506);
    PosteriorPrior prior = {3.3, .66, .7, 2.2, true, false};
    Model graded = family(), two = literature(), dose = family();
    Posterior p, q, r;
    double mean;
    random_athlete(RESPONSE_VARIABLE_DOSE, rng, 9, .4, &a);
    two.params.value[PARAM_TAU1] = 39;
    two.params.value[PARAM_TAU2] = 12;
    two.params.value[PARAM_K2] = 2.1;
    dose.params.kind = RESPONSE_VARIABLE_DOSE;
    mean = gsl_stats_mean(a.load, 1, a.data.timeline.steps);
    dose.params.value[PARAM_K3] = 2.1 / (mean / -expm1(-1 / 2.3));
    dose.spread[PARAM_K3] = .5;
    run_model(&graded, &a, &prior, 1000, 5, &p);
    run_model(&two, &a, &prior, 1000, 6, &q);
    run_model(&dose, &a, &prior, 1000, 6, &r);
    CU_ASSERT_EQUAL(p.members, 5);
    CU_ASSERT_EQUAL(q.members, 1);
    ASSERT_NEAR(p.evidence[0] - q.evidence[0], 0, .2);
    ASSERT_NEAR(p.evidence[4] - r.evidence[0], 0, .2);
    posterior_free(&p);
    posterior_free(&q);
    posterior_free(&r);
    gsl_rng_free(rng);
}

/* ---- errors, kinds of test ---- */

/* One reading far off moves the posterior less with heavy tails. */
static void test_posterior_outlier(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20801);
    Model model = literature();
    double off[2] = {0};
    for (int i = 0; i < 6; i++) {
        random_athlete(RESPONSE_TWO_COMPONENT, rng, 12, .4, &a);
        for (int heavy = 0; heavy < 2; heavy++) {
            PosteriorPrior prior = {3.3, .66, .7, 0, false, heavy};
            Posterior clean, bad;
            run_model(&model, &a, &prior, 1000, 3, &clean);
            a.value[5] += 9;
            run_model(&model, &a, &prior, 1000, 3, &bad);
            a.value[5] -= 9;
            off[heavy] += fabs(quantile_of(&bad, sigma_of, .5) -
                               quantile_of(&clean, sigma_of, .5));
            posterior_free(&clean);
            posterior_free(&bad);
        }
    }
    CU_ASSERT(off[1] < .5 * off[0]);
    gsl_rng_free(rng);
}

/* Three kinds of test of one shape narrow it more than one; and a kind that
 * goes with nothing hardly moves it. */
static double log_tau_error(const Posterior *p, const Athlete *a) {
    double square = 0, truth = a->truth.value[PARAM_TAU2];
    for (size_t i = 0; i < p->draws.count; i++)
        square += pow(log(p->draws.set[i].value[PARAM_TAU2] / truth), 2) /
                  (double)p->draws.count;
    return square;
}

static void test_posterior_kinds(void) {
    enum { ATHLETES = 24 };
    static Athlete a, b, c;
    Model model = literature();
    gsl_rng *rng = test_random(20802);
    double one = 0, three = 0, quiet = 0;
    for (int i = 0; i < ATHLETES; i++) {
        PosteriorPrior prior = {3.3, .9, .7, 0, false, false};
        TestGroup kind[3] = {
            {&a.data, prior}, {&b.data, prior}, {&c.data, prior}};
        Posterior p;
        random_athlete(RESPONSE_TWO_COMPONENT, rng, 10, 1.5, &a);
        b = c = a;
        b.data = c.data = a.data;
        b.data.value = b.value;
        c.data.value = c.value;
        for (size_t k = 0; k < 10; k++) {
            b.value[k] = read_truth(&a, k) + 1.5 * gsl_ran_ugaussian(rng);
            c.value[k] = read_truth(&a, k) + 1.5 * gsl_ran_ugaussian(rng);
        }
        run_kinds(&model, kind, 1, 1000, 4, &p);
        one += log_tau_error(&p, &a);
        posterior_free(&p);
        run_kinds(&model, kind, 3, 1000, 4, &p);
        three += log_tau_error(&p, &a);
        CU_ASSERT(isfinite(p.kind_bayes[2]));
        posterior_free(&p);
        for (size_t k = 0; k < 10; k++) /* training moves these not at all */
            b.value[k] = c.value[k] = 50 + 1.5 * gsl_ran_ugaussian(rng);
        run_kinds(&model, kind, 3, 1000, 4, &p);
        quiet += log_tau_error(&p, &a);
        posterior_free(&p);
    }
    printf("\n    squared error of ln tau2: one kind %.3f, three %.3f, two of "
           "them noise %.3f\n    ",
           one / ATHLETES, three / ATHLETES, quiet / ATHLETES);
    CU_ASSERT(three < .8 * one);
    CU_ASSERT(quiet < 1.1 * one);
    gsl_rng_free(rng);
}

static const TestCase cases[] = {
    {"posterior_no_test", test_posterior_no_test},
    {"posterior_scale_drawn", test_posterior_scale_drawn},
    {"posterior_one_test", test_posterior_one_test},
    {"posterior_prior", test_posterior_prior},
    {"posterior_seed", test_posterior_seed},
    {"posterior_units", test_posterior_units},
    {"posterior_impossible", test_posterior_impossible},
    {"posterior_members", test_posterior_members},
    {"posterior_outlier", test_posterior_outlier},
    {"posterior_kinds", test_posterior_kinds},
    {NULL, NULL}};

const TestSuite suite_calibrate_posterior = {"calibrate", cases};
