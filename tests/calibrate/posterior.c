/* posterior: the prior and little data by closed forms, an integration on a
 * grid by NumPy, and simulation-based calibration.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed. With PEAKWARD_QUICK set
 * (sanitizers, valgrind) the long loops are shorter and their bounds wider.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "base/text.h"
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

/* The shape is that of the prior: 2.5 % of noise is allowed. */
static void check_prior_shape(const Posterior *p) {
    static const double at[] = {.05, .25, .5, .75, .95};
    for (int i = 0; i < 5; i++) {
        double z = gsl_cdf_ugaussian_Pinv(at[i]);
        ASSERT_NEAR(quantile_of(p, tau1_of, at[i]) /
                        prior_quantile(PARAM_TAU1, at[i]),
                    1, .025);
        ASSERT_NEAR(quantile_of(p, tau2_of, at[i]) /
                        prior_quantile(PARAM_TAU2, at[i]),
                    1, .025);
        ASSERT_NEAR(quantile_of(p, rho_of, at[i]) / (1.9 * exp(.5 * z)), 1,
                    .025);
    }
    for (size_t i = 0; i < p->draws.count; i++)
        CU_ASSERT(tau1_of(p, i) > 1.3 * tau2_of(p, i));
}

static void test_posterior_no_test(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20501);
    PosteriorPrior prior = {3.3, .66, 1};
    Posterior p;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 5, .66, &a);
    a.data.count = 0;
    run_posterior(&a, &prior, DRAWS_MOST, 11, &p);
    check_prior_shape(&p);
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* The level of one test is free, so one test says nothing of shape, scale and
 * sigma: sigma^2 stays inverse gamma, the scale half-normal. */
static void test_posterior_one_test(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20502);
    PosteriorPrior prior = {3.3, .66, 2.5};
    Posterior p;
    double scale[DRAWS_MOST];
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 1, .66, &a);
    run_posterior(&a, &prior, DRAWS_MOST, 12, &p);
    CU_ASSERT(p.ess > POSTERIOR_LEAST);
    check_prior_shape(&p);
    for (int i = 1; i < 10; i += 2) {
        double wanted = .66 * sqrt(2.5 / gsl_cdf_gamma_Qinv(i / 10., 2.5, 1));
        ASSERT_NEAR(quantile_of(&p, sigma_of, i / 10.) / wanted, 1, .015);
    }
    for (size_t i = 0; i < DRAWS_MOST; i++)
        scale[i] = sd_over_log(&p.draws.set[i], &a.data.timeline);
    gsl_sort(scale, 1, DRAWS_MOST);
    for (int i = 1; i < 10; i += 2) {
        double got =
            gsl_stats_quantile_from_sorted_data(scale, 1, DRAWS_MOST, i / 10.);
        /* as a probability: 4.5 standard errors of 4096 plain draws */
        ASSERT_NEAR(2 * gsl_cdf_ugaussian_P(got / 3.3) - 1, i / 10., .035);
    }
    posterior_free(&p);
    gsl_rng_free(rng);
}

static void test_posterior_prior(void) {
    double value[] = {-12.5, 37.5}, weight[] = {1, 1};
    TestData d = {.count = 2, .value = value, .weight = weight, .error = NAN};
    PosteriorPrior p = posterior_prior(&d);
    ASSERT_NEAR(p.effect, 1.25, 1e-14);
    ASSERT_NEAR(p.sigma, .5, 1e-14);
    ASSERT_NEAR(p.sigma_shape, 1, 1e-14);
    d.error = .385;
    p = posterior_prior(&d);
    ASSERT_NEAR(p.effect, 1.25, 1e-14);
    ASSERT_NEAR(p.sigma, .385, 1e-14);
    ASSERT_NEAR(p.sigma_shape, 4, 1e-14);
    value[0] = value[1] = 0;
    p = posterior_prior(&d);
    CU_ASSERT(p.effect > 0 && p.sigma > 0);
}

static void test_posterior_seed(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20503);
    PosteriorPrior prior = {3.3, .66, 1};
    Posterior p, again, other;
    size_t same = 0, differ = 0;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 4, .66, &a);
    run_posterior(&a, &prior, 512, 7, &p);
    run_posterior(&a, &prior, 512, 7, &again);
    run_posterior(&a, &prior, 512, 8, &other);
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

static void check_scaled(const Posterior *p, const Posterior *large,
                         double factor) {
    for (size_t i = 0; i < p->draws.count; i++) {
        const double *v = p->draws.set[i].value;
        const double *w = large->draws.set[i].value;
        ASSERT_NEAR(w[PARAM_TAU1] / v[PARAM_TAU1], 1, 1e-7);
        ASSERT_NEAR(w[PARAM_TAU2] / v[PARAM_TAU2], 1, 1e-7);
        ASSERT_NEAR(w[PARAM_K1] / v[PARAM_K1], factor, 1e-7);
        ASSERT_NEAR(w[PARAM_K2] / v[PARAM_K2], factor, 1e-7);
        ASSERT_NEAR(w[PARAM_P0] / v[PARAM_P0], factor, 1e-6);
        ASSERT_NEAR(large->sigma[i] / p->sigma[i], factor, 1e-7);
    }
}

/* The unit of a test must not matter. */
static void test_posterior_units(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20504);
    static const double factor = 7.3;
    PosteriorPrior prior = {3.3, .66, 1};
    PosteriorPrior larger = {3.3 * factor, .66 * factor, 1};
    for (size_t tests = 2; tests < 9; tests += 3) {
        Posterior p, large;
        random_athlete(RESPONSE_TWO_COMPONENT, rng, tests, .66, &a);
        run_posterior(&a, &prior, 512, 7, &p);
        for (size_t i = 0; i < tests; i++)
            a.value[i] *= factor;
        run_posterior(&a, &larger, 512, 7, &large);
        ASSERT_NEAR(large.ess / p.ess, 1, 1e-7);
        check_scaled(&p, &large, factor);
        posterior_free(&p);
        posterior_free(&large);
    }
    gsl_rng_free(rng);
}

/* Spreads about equal time constants far inside 1.3 leave nothing. */
static void test_posterior_impossible(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20505);
    PosteriorPrior prior = {3.3, .66, 1};
    Model model = literature();
    Status status = {0};
    Posterior p;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 4, .66, &a);
    model.params.value[PARAM_TAU2] = 41.5;
    model.spread[PARAM_TAU1] = model.spread[PARAM_TAU2] = .01;
    CU_ASSERT_EQUAL(posterior_run(&model, &a.data, &prior, 512, 7, &p, &status),
                    STATUS_DATA);
    ASSERT_HAS(status.text, "literature");
    ASSERT_HAS(status.text, "1.3 tau2");
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* ---- posterior: against an integration on a grid ---- */

/* Another decomposition than the program's: given the shape and the scale b,
 * the level (flat) and sigma^2 (inverse gamma) are integrated in closed form,
 * and b numerically with the shape. S(b) = yy - 2 b xy + b^2 xx is the
 * residual sum, sigma^2 | b is inverse gamma with shape A = a + (n - 1)/2 and
 * rate a s^2 + S/2. Prints mean, 5 % and 95 % point of tau1, tau2, rho, sigma,
 * and the means of k1 and p0. */
static const char grid_posterior[] =
    "import sys, json\n"
    "import numpy as np\n"
    "from scipy.special import gammaincc, gammaln\n"
    "from scipy.optimize import brentq\n"
    "d = json.loads(sys.argv[1])\n"
    "effect, s0, a = (float(x) for x in sys.argv[2:5])\n"
    "load, y, w = (np.array(d[k]) for k in ('load', 'value', 'weight'))\n"
    "at, after = np.array(d['step']).astype(int), np.array(d['after'])\n"
    "def axis(centre, sd, n):\n"
    "    edge = np.linspace(-4.7, 4.7, n + 1) * sd + np.log(centre)\n"
    "    x = (edge[1:] + edge[:-1]) / 2\n"
    "    return edge, x, -.5 * ((x - np.log(centre)) / sd)**2\n"
    "e1, x1, l1 = axis(42, .4, 80)\n"
    "e2, x2, l2 = axis(13, .7, 80)\n"
    "e3, x3, l3 = axis(1.9, .5, 40)\n"
    "def states(x):\n"
    "    q = np.exp(-np.exp(-x))\n"
    "    s, out = d['before'] * q / (1 - q), []\n"
    "    for v in load:\n"
    "        out.append(s)\n"
    "        s = (s + v) * q\n"
    "    return np.array(out)\n"
    "f, g = states(x1), states(x2)\n"
    "ft, gt = (s[at] + (after * load[at])[:, None] for s in (f, g))\n"
    "var_f, var_g = f.var(0), g.var(0)\n"
    "cov = (f - f.mean(0)).T @ (g - g.mean(0)) / len(load)\n"
    "fm, gm, ym = w @ ft / w.sum(), w @ gt / w.sum(), w @ y / w.sum()\n"
    "fc, gc, yc = ft - fm, gt - gm, y - ym\n"
    "ff, gg = w @ fc**2, w @ gc**2\n"
    "fg = (fc * w[:, None]).T @ gc\n"
    "fy, gy, yy = (w * yc) @ fc, (w * yc) @ gc, w @ yc**2\n"
    "A, base, rho = a + (len(y) - 1) / 2, a * s0**2, np.exp(x3)[:, None]\n"
    "K = 100\n"
    "b = ((np.arange(K) + .5) / K * 4.7 * effect)[None, :]\n"
    "lb = -.5 * (b / effect)**2\n"
    "sub = (np.arange(8) + .5) / 8 - .5\n"
    "off = (sub[:, None] * (x1[1] - x1[0]) - sub[None, :] * (x2[1] - x2[0]))\n"
    "m1, m2, m3 = np.zeros(80), np.zeros(80), np.zeros(40)\n"
    "rates, BINS = np.zeros(4000), 4000\n"
    "lo, hi = np.log(base), np.log(base + yy / 2 + 40 * effect**2 * len(y))\n"
    "k1_sum = p0_sum = 0.\n"
    "top = -np.inf\n"
    "for i in range(80):\n"
    "    for j in range(80):\n"
    "        inside = np.mean(x1[i] - x2[j] + off > np.log(1.3))\n"
    "        if inside == 0:\n"
    "            continue\n"
    "        sd = np.sqrt(var_f[i] - 2 * rho * cov[i, j] + rho**2 * var_g[j])\n"
    "        xx = (ff[i] - 2 * rho * fg[i, j] + rho**2 * gg[j]) / sd**2\n"
    "        xy = (fy[i] - rho * gy[j]) / sd\n"
    "        rate = base + (yy - 2 * b * xy + b**2 * xx) / 2\n"
    "        log_rate = np.log(rate)\n"
    "        p = inside * np.exp(l1[i] + l2[j] + l3[:, None] + lb"
    " - A * (log_rate - np.log(base)))\n"
    "        total = p.sum()\n"
    "        m1[i] += total\n"
    "        m2[j] += total\n"
    "        m3 += p.sum(1)\n"
    "        place = ((log_rate - lo) / (hi - lo) * BINS).astype(int)\n"
    "        rates += np.bincount(np.clip(place, 0, BINS - 1).ravel(),"
    " p.ravel(), BINS)\n"
    "        k1 = b / sd\n"
    "        k1_sum += (p * k1).sum()\n"
    "        p0_sum += (p * (ym - k1 * (fm[i] - rho * gm[j]))).sum()\n"
    "total = m1.sum()\n"
    "out = []\n"
    "for edge, x, m in ((e1, x1, m1), (e2, x2, m2), (e3, x3, m3)):\n"
    "    c = np.concatenate([[0], np.cumsum(m)]) / total\n"
    "    out += [(m @ np.exp(x)) / total]\n"
    "    out += [np.exp(np.interp(q, c, edge)) for q in (.05, .95)]\n"
    "rate = np.exp(lo + (np.arange(BINS) + .5) / BINS * (hi - lo))\n"
    "rates /= total\n"
    "out += [rates @ np.sqrt(rate) * np.exp(gammaln(A - .5) - gammaln(A))]\n"
    "out += [np.exp(brentq(lambda t: rates @ gammaincc(A, rate /"
    " np.exp(2 * t)) - q, np.log(s0) - 6, np.log(s0) + 6)) for q in"
    " (.05, .95)]\n"
    "print(*(float(x) for x in out + [k1_sum / total, p0_sum / total]))\n";

enum { GRID_NUMBERS = 14, GRID_SEEDS = 16 };

/* What the script prints, of one posterior. */
static void summarise(const Posterior *p, double *value) {
    static Quantity *const of[] = {tau1_of,  tau2_of, rho_of,
                                   sigma_of, k1_of,   p0_of};
    double all[DRAWS_MOST];
    size_t n = p->draws.count;
    for (int i = 0; i < 6; i++) {
        sorted_values(p, of[i], all);
        *value++ = gsl_stats_mean(all, 1, n);
        if (i > 3)
            continue;
        *value++ = gsl_stats_quantile_from_sorted_data(all, 1, n, .05);
        *value++ = gsl_stats_quantile_from_sorted_data(all, 1, n, .95);
    }
}

/* Mean over several seeds within five of its standard errors, and .4 % of the
 * grid's width for the grid. */
static void compare_with_grid(const double value[GRID_SEEDS][GRID_NUMBERS],
                              int seeds, const double *wanted) {
    for (int i = 0; i < GRID_NUMBERS; i++) {
        const double *from = &value[0][i];
        double mean = gsl_stats_mean(from, GRID_NUMBERS, (size_t)seeds);
        double error =
            gsl_stats_sd(from, GRID_NUMBERS, (size_t)seeds) / sqrt(seeds);
        double width = i < 12 ? wanted[i / 3 * 3 + 2] - wanted[i / 3 * 3 + 1]
                              : fabs(wanted[i]);
        test_evidence_reached(fabs(mean - wanted[i]) / width, .05);
        CU_ASSERT(test_near(mean, wanted[i], 5 * error + .004 * width));
        CU_ASSERT(fabs(mean - wanted[i]) <= .05 * width);
    }
}

static void check_grid(const Athlete *a, const PosteriorPrior *prior) {
    double value[GRID_SEEDS][GRID_NUMBERS], wanted[GRID_NUMBERS];
    int seeds = quick() ? 5 : GRID_SEEDS;
    char word[3][40], *printed;
    Text text = {0};
    for (int i = 0; i < seeds; i++) {
        Posterior p;
        run_posterior(a, prior, DRAWS_MOST, 300 + (unsigned long)i, &p);
        CU_ASSERT(p.ess > POSTERIOR_LEAST);
        summarise(&p, value[i]);
        posterior_free(&p);
    }
    put_athlete(&text, a);
    snprintf(word[0], sizeof word[0], "%.17g", prior->effect);
    snprintf(word[1], sizeof word[1], "%.17g", prior->sigma);
    snprintf(word[2], sizeof word[2], "%.17g", prior->sigma_shape);
    printed =
        test_python(grid_posterior, (const char *[]){text_of(&text), word[0],
                                                     word[1], word[2], NULL});
    if (take_numbers(printed, wanted, GRID_NUMBERS))
        compare_with_grid((const double(*)[GRID_NUMBERS])value, seeds, wanted);
    free(printed);
    text_free(&text);
}

/* Two tests, weak prior; five tests of unequal weight, read before and after;
 * nine with a typical error. */
static void test_posterior_grid(void) {
    test_evidence("SciPy, posterior summed over a grid",
                  "points of the posterior, in widths of its interval");
    static const PosteriorPrior prior[] = {
        {3.3, .66, 1}, {4.1, .9, 1.5}, {2.9, .75, 4}};
    static const size_t tests[] = {2, 5, 9};
    gsl_rng *rng = test_random(20601);
    static Athlete a;
    for (int i = 0; i < 3; i++) {
        random_athlete(RESPONSE_TWO_COMPONENT, rng, tests[i], .85, &a);
        for (size_t k = 0; k < tests[i] && i == 1; k++) {
            a.weight[k] = test_between(rng, .4, 1.6);
            a.when[k] = k % 2 ? READ_AFTER : READ_BEFORE;
            a.value[k] = read_truth(&a, k) + .85 * gsl_ran_ugaussian(rng);
        }
        check_grid(&a, &prior[i]);
    }
    gsl_rng_free(rng);
}

/* ---- posterior: simulation-based calibration ---- */

/* Talts, Betancourt, Simpson, Vehtari, Gelman 2018, arXiv 1804.06788 (M):
 * with athletes drawn from the prior, the truth's rank among the draws is
 * uniform. */
enum { SBC_DRAWS = 999, SBC_QUANTITIES = 5, SBC_BINS = 10 };

/* An athlete of the prior, level apart: it is flat. Returns sigma. */
static void sbc_athlete(gsl_rng *rng, size_t tests, Athlete *a) {
    double a0 = sbc_prior.sigma_shape, sigma;
    athlete_start(a, 120, tests);
    random_loads(rng, a);
    a->data.timeline.before = 301.5;
    place_tests(rng, READ_BEFORE, a);
    a->truth = random_truth(RESPONSE_TWO_COMPONENT, rng);
    sigma = sbc_prior.sigma * sqrt(a0 / gsl_ran_gamma(rng, a0, 1));
    simulate_tests(rng, fabs(gsl_ran_gaussian(rng, sbc_prior.effect)), sigma,
                   a);
}

typedef struct {
    int bin[SBC_QUANTITIES][SBC_BINS];
    int covered[SBC_QUANTITIES];
    int low; /* athletes with too few effective draws */
} Tally;

static Quantity *const sbc_quantity[SBC_QUANTITIES] = {tau1_of, tau2_of, rho_of,
                                                       k1_of, gain_of};

static const char *const sbc_name[SBC_QUANTITIES] = {"tau1", "tau2", "rho",
                                                     "k1", "gain"};

static void tally_one(const Athlete *a, const Posterior *p, int bins,
                      Tally *tally) {
    Posterior truth = {.draws = {1, (ResponseParams[]){a->truth}}};
    for (int q = 0; q < SBC_QUANTITIES; q++) {
        double value[SBC_DRAWS], true_one = sbc_quantity[q](&truth, 0);
        int below = 0;
        for (size_t i = 0; i < SBC_DRAWS; i++) {
            value[i] = sbc_quantity[q](p, i);
            below += value[i] < true_one;
        }
        tally->bin[q][below * bins / (SBC_DRAWS + 1)]++;
        tally->covered[q] +=
            true_one >= draws_quantile(value, SBC_DRAWS, .05) &&
            true_one <= draws_quantile(value, SBC_DRAWS, .95);
    }
    tally->low += p->ess < POSTERIOR_LEAST;
}

/* Ranks uniform at p > .001. Coverage 87 to 93 % of 1000 athletes; of fewer
 * that, or 3.3 binomial standard deviations about 90 %. */
static void check_tally(const Tally *t, size_t tests, int athletes, int bins) {
    double wide = fmax(.03, 3.3 * sqrt(.9 * .1 / athletes));
    printf("\n    %2zu tests, %d athletes:", tests, athletes);
    for (int q = 0; q < SBC_QUANTITIES; q++) {
        double wanted = (double)athletes / bins, chi = 0;
        double share = (double)t->covered[q] / athletes;
        for (int i = 0; i < bins; i++)
            chi += pow(t->bin[q][i] - wanted, 2) / wanted;
        printf(" %s %.1f %.1f%%", sbc_name[q], chi, 100 * share);
        CU_ASSERT(gsl_cdf_chisq_Q(chi, bins - 1) > .001);
        CU_ASSERT(fabs(share - .9) <= wide);
    }
    printf(", low %d", t->low);
    CU_ASSERT(t->low <= athletes / 50);
}

static void calibration(size_t tests, int athletes, unsigned long seed) {
    gsl_rng *rng = test_random(seed);
    int bins = athletes < 100 ? 4 : SBC_BINS;
    static Athlete a;
    Tally tally = {0};
    for (int i = 0; i < athletes; i++) {
        Posterior p;
        sbc_athlete(rng, tests, &a);
        run_posterior(&a, &sbc_prior, SBC_DRAWS, (unsigned long)i + 1, &p);
        tally_one(&a, &p, bins, &tally);
        posterior_free(&p);
    }
    check_tally(&tally, tests, athletes, bins);
    printf("\n    ");
    gsl_rng_free(rng);
}

/* In quick mode a few athletes only, with binomial bounds. */
static void test_posterior_calibrated_3(void) {
    calibration(3, quick() ? 20 : 1000, 20701);
}

static void test_posterior_calibrated_5(void) {
    calibration(5, quick() ? 20 : 1000, 20702);
}

static void test_posterior_calibrated_8(void) {
    calibration(8, quick() ? 20 : 1000, 20703);
}

static void test_posterior_calibrated_16(void) {
    calibration(16, quick() ? 20 : 1000, 20704);
}

static const TestCase cases[] = {
    {"posterior_no_test", test_posterior_no_test},
    {"posterior_one_test", test_posterior_one_test},
    {"posterior_prior", test_posterior_prior},
    {"posterior_seed", test_posterior_seed},
    {"posterior_units", test_posterior_units},
    {"posterior_impossible", test_posterior_impossible},
    {"posterior_grid", test_posterior_grid},
    {"posterior_calibrated_3", test_posterior_calibrated_3},
    {"posterior_calibrated_5", test_posterior_calibrated_5},
    {"posterior_calibrated_8", test_posterior_calibrated_8},
    {"posterior_calibrated_16", test_posterior_calibrated_16},
    {NULL, NULL}};

const TestSuite suite_calibrate_posterior = {"calibrate", cases};
