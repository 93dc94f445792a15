/* posterior: the prior where there is no test, a dense grid in NumPy and chains
 * of JAGS beside the draws, simulation-based calibration, and what must not
 * matter.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/posterior.h"
#include "calibrate/rounds.h"

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

static void run_model(const Model *model, const Athlete *a,
                      const PosteriorPrior *prior, size_t draws,
                      unsigned long seed, Posterior *out) {
    TestGroup kind = {&a->data, *prior};
    PosteriorAsked asked = {
        .model = model, .kind = &kind, .kinds = 1, .seed = seed};
    Status status = {0};
    StatusCode code = posterior_run(&asked, draws, out, &status);
    CU_ASSERT_EQUAL_FATAL(code, STATUS_OK);
    CU_ASSERT_EQUAL(out->draws.count, draws);
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

/* ---- against an integration on a grid ---- */

/* The whole family over a grid of tau1, tau2, ratio and tau3, errors with a
 * trend and correlated in time as dense matrices, b by its normal integral from
 * SciPy. Prints mean, 5 % and 95 % point of ln tau1, ln tau2, ln ratio, ln
 * tau3, mean of ln sigma, of k1 and p0, each growth's weight and ln of the
 * likelihood over that where training moves nothing. */
static const char grid_tables[] =
    "import sys, json\n"
    "import numpy as np\n"
    "from scipy.special import log_ndtr\n"
    "d = json.loads(sys.argv[1])\n"
    "effect, s0, a, trend, cor, two = (float(x) for x in sys.argv[2:8])\n"
    "load, y, w = (np.array(d[k]) for k in ('load', 'value', 'weight'))\n"
    "at, after = np.array(d['step']).astype(int), np.array(d['after'])\n"
    "def axis(centre, sd, n):\n"
    "    edge = np.linspace(-4.2, 4.2, n + 1) * sd + np.log(centre)\n"
    "    x = (edge[1:] + edge[:-1]) / 2\n"
    "    return edge, x, -.5 * ((x - np.log(centre)) / sd)**2\n"
    "e1, x1, l1 = axis(39, .4, 30)\n"
    "e2, x2, l2 = axis(12, .7, 34)\n"
    "e3, x3, l3 = axis(2.1, .5, 18)\n"
    "e4, x4, l4 = axis(2.3, .5, 1 if two else 15)\n"
    "wbar, pre = load.mean(), d['before']\n"
    "def states(x, load, before):\n"
    "    q = np.exp(-np.exp(-x))\n"
    "    s, out = before * q / (1 - q), []\n"
    "    for v in load:\n"
    "        out.append(s)\n"
    "        s = (s + v) * q\n"
    "    return np.array(out)\n"
    "stride = max(1, len(load) // 64)\n"
    "stride -= stride % 7 == 0\n"
    "days = np.arange(0, len(load), stride)\n"
    "rows = np.concatenate([at, days])\n"
    "def pick(s, taken):\n"
    "    out = s[rows]\n"
    "    out[:len(at)] += (after * taken[at])[:, None]\n"
    "    return out\n"
    "F, G = (pick(states(x, load, pre), load) for x in (x1, x2))\n"
    "V = np.zeros((len(rows), len(x2), len(x4)))\n"
    "for k, t3 in enumerate(np.exp(x4)):\n"
    "    mbar, m, mem = wbar / (1 - np.exp(-1 / t3)), 0., []\n"
    "    m = pre * np.exp(-1 / t3) / (1 - np.exp(-1 / t3))\n"
    "    for v in load:\n"
    "        mem.append(m + v)\n"
    "        m = (m + v) * np.exp(-1 / t3)\n"
    "    taken = load * np.array(mem)\n"
    "    V[:, :, k] = pick(states(x2, taken, pre * pre /"
    " (1 - np.exp(-1 / t3))), taken) / mbar\n";

static const char grid_sums[] =
    "n, t = len(y), at / 182.\n"
    "t = t - t[-1]\n"
    "grid = np.linspace(np.log(s0) - 3, np.log(s0) + 3.2, 32)\n"
    "cells = []\n"
    "gap = np.abs(at[:, None] - at[None, :])\n"
    "for memory in [0, 7, 21] if cor else [0]:\n"
    "    R = np.exp(-gap / memory) if memory else np.eye(n)\n"
    "    R = R / np.sqrt(np.outer(w, w))\n"
    "    for ls in grid:\n"
    "        iV = np.linalg.inv(np.exp(2 * ls) * R"
    " + trend**2 * np.outer(t, t))\n"
    "        o = iV.sum(1)\n"
    "        P = iV - np.outer(o, o) / o.sum()\n"
    "        base = (.5 * np.linalg.slogdet(iV)[1] - .5 * np.log(o.sum())"
    " - .5 * y @ P @ y - .5 * ((ls - np.log(s0)) / a)**2 - np.log(a)"
    " - .5 * np.log(2 * np.pi))\n"
    "        cells.append((base, P, o / o.sum(), ls))\n"
    "none = np.array([c[0] for c in cells])\n"
    "none = none.max() + np.log(np.exp(none - none.max()).sum())\n"
    "growth = [0.] if two else [0, .25, .5, .75, 1]\n"
    "m1, m2, m3, m4 = (np.zeros(len(x)) for x in (x1, x2, x3, x4))\n"
    "mass, means = np.zeros(len(growth)), np.zeros(3)\n"
    "sub = (np.arange(6) + .5) / 6 - .5\n"
    "off = sub[:, None] * (x1[1] - x1[0]) - sub[None, :] * (x2[1] - x2[0])\n"
    "prior = 0.\n"
    "for i in range(len(x1)):\n"
    "    inside = np.array([np.mean(x1[i] - v + off > np.log(1.3))"
    " for v in x2])\n"
    "    js = np.nonzero(inside)[0]\n"
    "    lp = (l1[i] + np.log(inside[js])[:, None, None]"
    " + l2[js][:, None, None] + l3[None, :, None] + l4)\n"
    "    prior += np.exp(lp).sum()\n"
    "    for gi, g in enumerate(growth):\n"
    "        Z = (F[:, i][:, None, None, None] - np.exp(x3)[None, None, :, "
    "None]"
    " * ((1 - g) * G[:, js][:, :, None, None] + g * V[:, js][:, :, None, :]))\n"
    "        shape = Z.shape[1:]\n"
    "        Z = Z.reshape(len(rows), -1)\n"
    "        sd = Z[n:].std(0)\n"
    "        X = Z[:n] / sd\n"
    "        for base, P, o, ls in cells:\n"
    "            PX = P @ X\n"
    "            lam = (PX * X).sum(0) + 1 / effect**2\n"
    "            mu = (y @ PX) / lam\n"
    "            k = mu * np.sqrt(lam)\n"
    "            cut = log_ndtr(k)\n"
    "            p = np.exp(base - none + .5 * k * k + cut + np.log(2)"
    " - .5 * np.log(lam) - np.log(effect) + lp.ravel())\n"
    "            b = mu + np.exp(-.5 * k * k - .5 * np.log(2 * np.pi) - cut)"
    " / np.sqrt(lam)\n"
    "            q = p.reshape(shape)\n"
    "            m1[i] += p.sum()\n"
    "            m2[js] += q.sum((1, 2))\n"
    "            m3 += q.sum((0, 2))\n"
    "            m4 += q.sum((0, 1))\n"
    "            mass[gi] += p.sum()\n"
    "            means += [ls * p.sum(), (p * b / sd).sum(),"
    " (p * (o @ y - b * (o @ X))).sum()]\n"
    "total, out = mass.sum(), []\n"
    "for edge, x, m in ((e1, x1, m1), (e2, x2, m2), (e3, x3, m3),"
    " (e4, x4, m4)):\n"
    "    c = np.concatenate([[0], np.cumsum(m)]) / total\n"
    "    out += [(m @ x) / total] + [np.interp(v, c, edge) for v in (.05,"
    " .95)]\n"
    "out += list(means / total) + list(mass / total) + [0] * (5 - len(mass))\n"
    "out += [np.log(total / prior / len(growth))]\n"
    "print(*(float(x) for x in out))\n";

enum { GRID_NUMBERS = 21, GRID_SEEDS = 12, GRID_BAYES = 20 };

static double tau3_of(const Posterior *p, size_t i) {
    return p->draws.set[i].value[PARAM_TAU3];
}

static double ratio_of(const Posterior *p, size_t i) {
    return p->draws.set[i].kind == RESPONSE_GRADED
               ? p->draws.set[i].value[PARAM_RATIO]
               : rho_of(p, i);
}

/* What the script prints, of one posterior; of two-component no tau3. */
static void summarise(const Posterior *p, double *value) {
    static Quantity *const of[] = {tau1_of,  tau2_of, ratio_of, tau3_of,
                                   sigma_of, k1_of,   p0_of};
    static double all[DRAWS_MOST];
    size_t n = p->draws.count;
    bool graded = p->draws.set->kind == RESPONSE_GRADED;
    memset(value, 0, GRID_NUMBERS * sizeof *value);
    for (int i = 0; i < 7; i++) {
        double *to = i < 4 ? value + 3 * i : value + 8 + i;
        if (i == 3 && !graded)
            continue;
        sorted_values(p, of[i], all);
        for (size_t k = 0; k < n && i < 5; k++)
            all[k] = log(all[k]);
        to[0] = gsl_stats_mean(all, 1, n);
        if (i > 3)
            continue;
        to[1] = gsl_stats_quantile_from_sorted_data(all, 1, n, .05);
        to[2] = gsl_stats_quantile_from_sorted_data(all, 1, n, .95);
    }
    for (size_t k = 0; k < p->members; k++)
        value[15 + k] = p->weight[k];
    value[GRID_BAYES] = p->bayes;
}

/* In which a distance counts. */
static double width_of(const double *wanted, int i) {
    if (i < 12)
        return wanted[i / 3 * 3 + 2] - wanted[i / 3 * 3 + 1];
    return i == 13 || i == 14 ? .5 * fabs(wanted[i]) : 1;
}

/* Mean over several seeds within five of its standard errors, and 1 % of the
 * width for the grid. */
static void compare_with_grid(const double value[GRID_SEEDS][GRID_NUMBERS],
                              int seeds, const double *wanted, bool graded) {
    for (int i = 0; i < GRID_NUMBERS; i++) {
        const double *from = &value[0][i];
        double mean = gsl_stats_mean(from, GRID_NUMBERS, (size_t)seeds);
        double error =
            gsl_stats_sd(from, GRID_NUMBERS, (size_t)seeds) / sqrt(seeds);
        double width = width_of(wanted, i);
        if (!graded && i / 3 == 3)
            continue;
        if (getenv("SHOW"))
            printf("%d %g %g +- %g\n", i, mean, wanted[i], error);
        test_evidence_reached(fabs(mean - wanted[i]) / width, .05);
        CU_ASSERT(test_near(mean, wanted[i], 5 * error + .01 * width));
        CU_ASSERT(fabs(mean - wanted[i]) <= .05 * width);
    }
}

static void check_grid(const Model *model, const Athlete *a,
                       const PosteriorPrior *prior) {
    double value[GRID_SEEDS][GRID_NUMBERS], wanted[GRID_NUMBERS];
    int seeds = quick() ? 5 : GRID_SEEDS;
    bool graded = model->params.kind == RESPONSE_GRADED;
    const double number[] = {prior->effect,       prior->sigma,
                             prior->sigma_spread, prior->trend,
                             prior->correlated,   !graded};
    char word[6][40], *printed;
    Text text = {0}, script = {0};
    for (int i = 0; i < seeds; i++) {
        Posterior p;
        run_model(model, a, prior, DRAWS_MOST, 300 + (unsigned long)i, &p);
        CU_ASSERT(p.ess > POSTERIOR_LEAST);
        summarise(&p, value[i]);
        posterior_free(&p);
    }
    put_athlete(&text, a);
    for (int i = 0; i < 6; i++)
        snprintf(word[i], sizeof word[i], "%.17g", number[i]);
    text_add(&script, "%s%s", grid_tables, grid_sums);
    printed =
        test_python(text_of(&script),
                    (const char *[]){text_of(&text), word[0], word[1], word[2],
                                     word[3], word[4], word[5], NULL});
    if (take_numbers(printed, wanted, GRID_NUMBERS))
        compare_with_grid((const double(*)[GRID_NUMBERS])value, seeds, wanted,
                          graded);
    free(printed);
    text_free(&script);
    text_free(&text);
}

/* Two-component: five tests of unequal weight, read before and after, and nine
 * with a typical error, a trend and correlation. */
static void test_posterior_grid_two(void) {
    static const PosteriorPrior prior[] = {{4.1, .9, .6, 0, false, false},
                                           {2.9, .75, .3, 2.4, true, false}};
    static const size_t tests[] = {5, 9};
    gsl_rng *rng = test_random(20601);
    Model model = literature();
    static Athlete a;
    test_evidence("SciPy, posterior summed over a grid",
                  "points of the posterior, in widths of its interval");
    model.params.value[PARAM_TAU1] = 39;
    model.params.value[PARAM_TAU2] = 12;
    model.params.value[PARAM_K2] = 2.1;
    for (int i = 0; i < 2; i++) {
        random_athlete(RESPONSE_TWO_COMPONENT, rng, tests[i], .85, &a);
        for (size_t k = 0; k < tests[i] && i == 0; k++) {
            a.weight[k] = test_between(rng, .4, 1.6);
            a.when[k] = k % 2 ? READ_AFTER : READ_BEFORE;
            a.value[k] = read_truth(&a, k) + .85 * gsl_ran_ugaussian(rng);
        }
        check_grid(&model, &a, &prior[i]);
    }
    gsl_rng_free(rng);
}

/* The family, tests of a linear athlete and of one whose fatigue grows. */
static void test_posterior_grid_family(void) {
    static const PosteriorPrior prior[] = {{2.9, .75, .7, 0, false, false},
                                           {2.9, .75, .3, 2.4, true, false}};
    gsl_rng *rng = test_random(20602);
    Model model = family();
    static Athlete a;
    test_evidence("SciPy, posterior of the family summed over a grid",
                  "points, members' weights and evidence");
    for (int i = 0; i < (quick() ? 1 : 2); i++) {
        random_athlete(i == 0 ? RESPONSE_VARIABLE_DOSE : RESPONSE_TWO_COMPONENT,
                       rng, i == 0 ? 6 : 9, .85, &a);
        check_grid(&model, &a, &prior[i]);
    }
    gsl_rng_free(rng);
}

/* ---- against chains of JAGS ---- */

enum { JAGS_QUANTITIES = 7, JAGS_SEEDS = 4 };

/* ln tau1, ln tau2, ln ratio, ln tau3, ln sigma, b, growth. */
static void means_of(const Posterior *p, const Athlete *a, double *mean) {
    double n = (double)p->draws.count;
    for (size_t i = 0; i < p->draws.count; i++) {
        const double *v = p->draws.set[i].value;
        mean[0] += log(v[PARAM_TAU1]) / n;
        mean[1] += log(v[PARAM_TAU2]) / n;
        mean[2] += log(v[PARAM_RATIO]) / n;
        mean[3] += log(v[PARAM_TAU3]) / n;
        mean[4] += log(p->sigma[i]) / n;
        mean[6] += v[PARAM_GROWTH] / n;
    }
    (void)a;
}

static void check_jags(const Athlete *a, const PosteriorPrior *prior) {
    Model model = family();
    double mean[JAGS_QUANTITIES] = {0}, wanted[3 * JAGS_QUANTITIES];
    const double number[] = {prior->effect, prior->sigma, prior->sigma_spread,
                             prior->trend};
    char word[4][40], *printed;
    Text text = {0};
    for (unsigned long seed = 1; seed <= JAGS_SEEDS; seed++) {
        Posterior p;
        double own[JAGS_QUANTITIES] = {0};
        run_model(&model, a, prior, DRAWS_MOST, seed, &p);
        means_of(&p, a, own);
        for (int i = 0; i < JAGS_QUANTITIES; i++)
            mean[i] += own[i] / JAGS_SEEDS;
        posterior_free(&p);
    }
    put_athlete(&text, a);
    for (int i = 0; i < 4; i++)
        snprintf(word[i], sizeof word[i], "%.17g", number[i]);
    printed = test_python(
        "exec(open('tests/calibrate/family_jags.py').read())",
        (const char *[]){text_of(&text), word[0], word[1], word[2], word[3],
                         quick() ? "4000" : "20000", "3000", "5", NULL});
    if (take_numbers(printed, wanted, 3 * JAGS_QUANTITIES))
        for (int i = 0; i < JAGS_QUANTITIES; i++) {
            double sd = wanted[3 * i + 1], error = wanted[3 * i + 2];
            if (i == 5) /* b is no parameter of a draw */
                continue;
            if (getenv("SHOW"))
                printf("jags %d %g %g (%g) +- %g\n", i, mean[i], wanted[3 * i],
                       sd, error);
            test_evidence_reached(fabs(mean[i] - wanted[3 * i]) / sd, .2);
            CU_ASSERT(fabs(mean[i] - wanted[3 * i]) < 4 * error + .05 * sd);
        }
    free(printed);
    text_free(&text);
}

static void test_posterior_jags(void) {
    static const PosteriorPrior prior = {2.9, .75, .3, 2.4, true, false};
    gsl_rng *rng = test_random(20603);
    static Athlete a;
    test_evidence("JAGS, posterior of the family",
                  "means, in SDs of the posterior");
    for (int i = 0; i < (quick() ? 1 : 3); i++) {
        athlete_start(&a, 84, 4 + 2 * (size_t)i);
        random_loads(rng, &a);
        place_tests(rng, READ_BEFORE, &a);
        a.truth = random_truth(
            i == 1 ? RESPONSE_VARIABLE_DOSE : RESPONSE_TWO_COMPONENT, rng);
        simulate_tests(rng, 2.3, .7, &a);
        check_jags(&a, &prior);
    }
    gsl_rng_free(rng);
}

/* ---- simulation-based calibration ---- */

/* Talts, Betancourt, Simpson, Vehtari, Gelman 2018, arXiv 1804.06788 (M):
 * with athletes drawn from the prior, the truth's rank among the draws is
 * uniform. Here from the family's prior, with trend and correlated errors. */
enum { SBC_DRAWS = 999, SBC_QUANTITIES = 5, SBC_BINS = 10 };

static const PosteriorPrior family_prior = {3.3, .66, .7, 2.2, true, false};

typedef struct {
    double value[SBC_QUANTITIES]; /* ln tau1, ln tau2, ln ratio, k1, sigma */
    size_t member;
} Truth;

/* A readiness of the family at each step, level 0, k1 1, by the kernels of
 * two-component and variable-dose. */
static void family_readiness(const Athlete *a, const double *v, double growth,
                             double *all) {
    const Timeline *line = &a->data.timeline;
    double mean = gsl_stats_mean(a->load, 1, line->steps), f[STEPS_MOST];
    double memory = mean / -expm1(-1 / v[PARAM_TAU3]), g[STEPS_MOST];
    double value[PARAMS] = {[PARAM_K1] = 1,
                            [PARAM_TAU1] = v[PARAM_TAU1],
                            [PARAM_TAU2] = v[PARAM_TAU2],
                            [PARAM_TAU3] = v[PARAM_TAU3],
                            [PARAM_K2] = v[PARAM_RATIO] * (1 - growth),
                            [PARAM_K3] = v[PARAM_RATIO] * growth / memory};
    ResponseParams two = params_of(RESPONSE_TWO_COMPONENT, value);
    ResponseParams dose = params_of(RESPONSE_VARIABLE_DOSE, value);
    readiness_along(&two, line, READ_BEFORE, all);
    kernel_run(&dose, line, READ_BEFORE, f, g);
    for (size_t i = 0; i < line->steps; i++)
        all[i] -= g[i];
}

/* SD over those days of the log that the posterior takes. */
static double sd_of_days(const double *all, size_t steps) {
    size_t stride = steps / 64 > 0 ? steps / 64 : 1, n = 0;
    double some[STEPS_MOST], mean;
    if (stride % 7 == 0)
        stride--;
    for (size_t i = 0; i < steps; i += stride)
        some[n++] = all[i];
    mean = gsl_stats_mean(some, 1, n);
    return gsl_stats_sd_with_fixed_mean(some, 1, n, mean);
}

static void draw_readings(gsl_rng *rng, const double *all, double k1,
                          double sigma, Athlete *a) {
    static const double memory[] = {0, 7, 21};
    double at = memory[gsl_rng_uniform_int(rng, 3)], e = 0;
    double trend = gsl_ran_gaussian(rng, family_prior.trend);
    for (size_t i = 0; i < a->data.count; i++) {
        double gap = i > 0 ? (double)(a->step[i] - a->step[i - 1]) : INFINITY;
        double kept = at > 0 && i > 0 ? exp(-fmax(.5, gap) / at) : 0;
        e = kept * e + sqrt(1 - kept * kept) * gsl_ran_gaussian(rng, sigma);
        a->value[i] =
            83.7 + k1 * all[a->step[i]] + trend * (double)a->step[i] / 182 + e;
    }
}

static void sbc_athlete(gsl_rng *rng, size_t tests, Athlete *a, Truth *truth) {
    double v[PARAMS] = {0}, all[STEPS_MOST];
    athlete_start(a, 120, tests);
    random_loads(rng, a);
    a->data.timeline.before = 301.5;
    place_tests(rng, READ_BEFORE, a);
    do {
        v[PARAM_TAU1] = 39 * exp(.4 * gsl_ran_ugaussian(rng));
        v[PARAM_TAU2] = 12 * exp(.7 * gsl_ran_ugaussian(rng));
    } while (v[PARAM_TAU1] <= 1.3 * v[PARAM_TAU2]);
    v[PARAM_RATIO] = 2.1 * exp(.5 * gsl_ran_ugaussian(rng));
    v[PARAM_TAU3] = 2.3 * exp(.5 * gsl_ran_ugaussian(rng));
    truth->member = gsl_rng_uniform_int(rng, MEMBERS);
    family_readiness(a, v, member_growth[truth->member], all);
    truth->value[0] = log(v[PARAM_TAU1]);
    truth->value[1] = log(v[PARAM_TAU2]);
    truth->value[2] = log(v[PARAM_RATIO]);
    truth->value[3] =
        fabs(gsl_ran_gaussian(rng, family_prior.effect)) / sd_of_days(all, 120);
    truth->value[4] = family_prior.sigma *
                      exp(family_prior.sigma_spread * gsl_ran_ugaussian(rng));
    draw_readings(rng, all, truth->value[3], truth->value[4], a);
}

typedef struct {
    int bin[SBC_QUANTITIES][SBC_BINS];
    int covered[SBC_QUANTITIES];
    int low;                /* athletes with too few effective draws */
    double given, expected; /* weight of the true member; of any */
} Tally;

static double sbc_value(const Posterior *p, int q, size_t i) {
    const double *v = p->draws.set[i].value;
    const double value[SBC_QUANTITIES] = {
        log(v[PARAM_TAU1]), log(v[PARAM_TAU2]), log(v[PARAM_RATIO]),
        v[PARAM_K1], p->sigma[i]};
    return value[q];
}

static void tally_one(const Truth *truth, const Posterior *p, int bins,
                      Tally *tally) {
    for (int q = 0; q < SBC_QUANTITIES; q++) {
        double value[SBC_DRAWS];
        int below = 0;
        for (size_t i = 0; i < SBC_DRAWS; i++) {
            value[i] = sbc_value(p, q, i);
            below += value[i] < truth->value[q];
        }
        tally->bin[q][below * bins / (SBC_DRAWS + 1)]++;
        tally->covered[q] +=
            truth->value[q] >= draws_quantile(value, SBC_DRAWS, .05) &&
            truth->value[q] <= draws_quantile(value, SBC_DRAWS, .95);
    }
    tally->low += p->ess < POSTERIOR_LEAST;
    tally->given += p->weight[truth->member];
    for (int k = 0; k < MEMBERS; k++)
        tally->expected += p->weight[k] * p->weight[k];
}

/* Ranks uniform at p > .001. Coverage within 3.3 binomial standard deviations
 * of 90 %. The weight of the true member is on average the mean of the squared
 * weights, if weights are probabilities: within .06 of it. */
static void check_tally(const Tally *t, size_t tests, int athletes, int bins) {
    static const char *const name[] = {"tau1", "tau2", "ratio", "k1", "sigma"};
    double wide = fmax(.03, 3.3 * sqrt(.9 * .1 / athletes));
    printf("\n    %2zu tests, %d athletes:", tests, athletes);
    for (int q = 0; q < SBC_QUANTITIES; q++) {
        double wanted = (double)athletes / bins, chi = 0;
        double share = (double)t->covered[q] / athletes;
        for (int i = 0; i < bins; i++)
            chi += pow(t->bin[q][i] - wanted, 2) / wanted;
        printf(" %s %.1f %.1f%%", name[q], chi, 100 * share);
        CU_ASSERT(gsl_cdf_chisq_Q(chi, bins - 1) > .001);
        CU_ASSERT(fabs(share - .9) <= wide);
    }
    printf(", member %.3f %.3f, low %d", t->given / athletes,
           t->expected / athletes, t->low);
    CU_ASSERT(fabs(t->given - t->expected) / athletes <
              fmax(.03, .6 / sqrt(athletes)));
    CU_ASSERT(t->low <= athletes / 50);
}

static void calibration(size_t tests, int athletes, unsigned long seed) {
    gsl_rng *rng = test_random(seed);
    int bins = athletes < 100 ? 4 : SBC_BINS;
    Model model = family();
    static Athlete a;
    Tally tally = {0};
    for (int i = 0; i < athletes; i++) {
        Posterior p;
        Truth truth;
        sbc_athlete(rng, tests, &a, &truth);
        run_model(&model, &a, &family_prior, SBC_DRAWS, (unsigned long)i + 1,
                  &p);
        tally_one(&truth, &p, bins, &tally);
        posterior_free(&p);
    }
    check_tally(&tally, tests, athletes, bins);
    printf("\n    ");
    gsl_rng_free(rng);
}

/* In quick mode a few athletes only, with binomial bounds. */
static void test_posterior_calibrated_4(void) {
    calibration(4, quick() ? 30 : 600, 20702);
}

static void test_posterior_calibrated_12(void) {
    calibration(12, quick() ? 30 : 600, 20704);
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

static void run_kinds(const TestGroup *kind, size_t kinds, Posterior *p) {
    Model model = literature();
    PosteriorAsked asked = {
        .model = &model, .kind = kind, .kinds = kinds, .seed = 4};
    Status status = {0};
    CU_ASSERT_EQUAL_FATAL(posterior_run(&asked, 1000, p, &status), STATUS_OK);
}

static void test_posterior_kinds(void) {
    enum { ATHLETES = 24 };
    static Athlete a, b, c;
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
        run_kinds(kind, 1, &p);
        one += log_tau_error(&p, &a);
        posterior_free(&p);
        run_kinds(kind, 3, &p);
        three += log_tau_error(&p, &a);
        CU_ASSERT(isfinite(p.kind_bayes[2]));
        posterior_free(&p);
        for (size_t k = 0; k < 10; k++) /* training moves these not at all */
            b.value[k] = c.value[k] = 50 + 1.5 * gsl_ran_ugaussian(rng);
        run_kinds(kind, 3, &p);
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

static const TestCase cases[] = {
    {"posterior_no_test", test_posterior_no_test},
    {"posterior_scale_drawn", test_posterior_scale_drawn},
    {"posterior_one_test", test_posterior_one_test},
    {"posterior_prior", test_posterior_prior},
    {"posterior_seed", test_posterior_seed},
    {"posterior_units", test_posterior_units},
    {"posterior_impossible", test_posterior_impossible},
    {"posterior_members", test_posterior_members},
    {"posterior_grid_two", test_posterior_grid_two},
    {"posterior_grid_family", test_posterior_grid_family},
    {"posterior_jags", test_posterior_jags},
    {"posterior_calibrated_4", test_posterior_calibrated_4},
    {"posterior_calibrated_12", test_posterior_calibrated_12},
    {"posterior_outlier", test_posterior_outlier},
    {"posterior_kinds", test_posterior_kinds},
    {"posterior_squad", test_posterior_squad},
    {"posterior_sample", test_posterior_sample},
    {NULL, NULL}};

const TestSuite suite_calibrate_posterior = {"calibrate", cases};
