/* marginal: the closed form beside NumPy and SciPy, which sum the same model
 * over dense covariance matrices.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "test.h"

#include "calibrate/marginal.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Level: normal with a huge SD, less its density at 0, which is what a flat
 * prior of height 1 leaves. b by Gauss and Legendre, ln sigma by a fine sum. */
static const char dense[] =
    "import sys, json\n"
    "import numpy as np\n"
    "from scipy.special import log_ndtr\n"
    "d = json.loads(sys.argv[1])\n"
    "effect, s0, a, trend, cor = (float(v) for v in sys.argv[2:7])\n"
    "y, w, at = (np.array(d[k]) for k in ('value', 'weight', 'step'))\n"
    "x = np.array(json.loads(sys.argv[7])['x'])\n"
    "n, t, big = len(y), at / 182, 1e4 * np.abs(y - y.mean()).max()\n"
    "y, gap = y - y.mean(), np.abs(at[:, None] - at[None, :])\n"
    "grid = np.linspace(np.log(s0) - 3, np.log(s0) + 5, 1500)\n"
    "top = []\n"
    "for memory in [0, 7, 21] if cor else [0]:\n"
    "    R = np.exp(-gap / memory) if memory else np.eye(n)\n"
    "    R = R / np.sqrt(np.outer(w, w))\n"
    "    for ls in grid:\n"
    "        s = np.exp(ls)\n"
    "        tt = t - t.mean()\n"
    "        V = s * s * R + trend**2 * np.outer(tt, tt) + big**2\n"
    "        C = np.linalg.cholesky(V)\n"
    "        u, v = np.linalg.solve(C, y), np.linalg.solve(C, x)\n"
    "        lam, mu = v @ v + 1 / effect**2, v @ u\n"
    "        k = mu / np.sqrt(lam)\n"
    "        base = -.5 * u @ u - np.log(np.diag(C)).sum() + np.log(big)\n"
    "        prior = (-.5 * ((ls - np.log(s0)) / a)**2 - np.log(a)"
    " - .5 * np.log(2 * np.pi))\n"
    "        top.append([base + prior + .5 * k * k + log_ndtr(k) + np.log(2)"
    " - .5 * np.log(lam) - np.log(effect), base + prior])\n"
    "top = np.array(top)\n"
    "m = top.max(0)\n"
    "z = m + np.log(np.exp(top - m).sum(0) * (grid[1] - grid[0])"
    " / (3 if cor else 1))\n"
    "z -= .5 * (n - 1) * np.log(2 * np.pi)\n"
    "print(float(z[0]), float(z[1]))\n";

/* One athlete's readings and a response. */
typedef struct {
    Athlete a;
    double part[PARTS][TESTS_MOST], x[TESTS_MOST];
} Case;

static void make_case(gsl_rng *rng, size_t tests, Case *c) {
    random_athlete(RESPONSE_TWO_COMPONENT, rng, tests, .66, &c->a);
    for (size_t i = 0; i < tests; i++) {
        c->a.weight[i] = test_between(rng, .5, 1.5);
        for (int k = 0; k < PARTS; k++)
            c->part[k][i] = 5 + gsl_ran_ugaussian(rng);
        c->a.value[i] = 83.7 + 2.2 * (c->part[0][i] - 1.3 * c->part[1][i]) +
                        gsl_ran_ugaussian(rng);
    }
}

static double log_of(const Marginal *m, const Case *c,
                     const double share[PARTS]) {
    const double *part[] = {c->part[0], c->part[1], c->part[2]};
    Gram gram;
    marginal_gram(m, part, &gram);
    return marginal_log(m, &gram, share, NULL);
}

static const double share[PARTS] = {.8, -1.1, .3};

/* Narrow cells about where sigma is, as the second look takes them. */
static void aim(Marginal *m, const Case *c) {
    const double *part[] = {c->part[0], c->part[1], c->part[2]};
    double cell[CELLS], mean, square;
    Gram gram;
    marginal_gram(m, part, &gram);
    for (int i = 0; i < 4; i++) {
        marginal_log(m, &gram, share, cell);
        marginal_sigma(m, cell, &mean, &square);
        marginal_aim(m, mean, sqrt(square - mean * mean));
    }
}

static void ask(const Case *c, const PosteriorPrior *p, double wanted[2]) {
    char word[5][40], *printed;
    Text athlete = {0}, x = {0};
    const double value[] = {p->effect, p->sigma, p->sigma_spread, p->trend,
                            p->correlated};
    double response[TESTS_MOST];
    for (int i = 0; i < 5; i++)
        snprintf(word[i], sizeof word[i], "%.17g", value[i]);
    for (size_t i = 0; i < c->a.data.count; i++)
        response[i] = share[0] * c->part[0][i] + share[1] * c->part[1][i] +
                      share[2] * c->part[2][i];
    put_athlete(&athlete, &c->a);
    text_add(&x, "{");
    put_numbers(&x, "x", response, c->a.data.count);
    text_add(&x, "}");
    printed = test_python(dense, (const char *[]){text_of(&athlete), word[0],
                                                  word[1], word[2], word[3],
                                                  word[4], text_of(&x), NULL});
    wanted[0] = wanted[1] = NAN;
    take_numbers(printed, wanted, 2);
    free(printed);
    text_free(&athlete);
    text_free(&x);
}

/* What the weights add to every likelihood alike, and the program leaves out.
 */
static double of_weights(const Case *c) {
    double sum = 0;
    for (size_t i = 0; i < c->a.data.count; i++)
        sum += .5 * log(c->a.weight[i]);
    return sum;
}

/* .02: what the tails of sigma beyond the cells hold. */
static void test_marginal_dense(void) {
    static const PosteriorPrior prior[] = {
        {3.3, .66, .3, 0, false, false},
        {3.3, .66, .3, 0, true, false},
        {3.3, .9, .3, 2.1, false, false},
        {2.2, .66, .3, 2.1, true, false},
    };
    gsl_rng *rng = test_random(20906);
    static Case c;
    test_evidence("NumPy, dense covariance matrices",
                  "ln likelihood, everything but shape integrated out");
    for (int i = 0; i < 4; i++) {
        double wanted[2];
        Marginal *m;
        make_case(rng, i < 2 ? 5 : 9, &c);
        m = marginal_new(&c.a.data, &prior[i]);
        aim(m, &c);
        ask(&c, &prior[i], wanted);
        ASSERT_NEAR(log_of(m, &c, share) + of_weights(&c) - wanted[0], 0, .02);
        ASSERT_NEAR(marginal_log_none(m) + of_weights(&c) - wanted[1], 0, .01);
        marginal_free(m);
    }
    gsl_rng_free(rng);
}

/* Neither the zero of a test nor the order of its parts matters. */
static void test_marginal_zero(void) {
    static const PosteriorPrior prior = {3.3, .66, .7, 2.1, true, true};
    gsl_rng *rng = test_random(20907);
    static Case c;
    Marginal *m;
    double here, there;
    make_case(rng, 8, &c);
    m = marginal_new(&c.a.data, &prior);
    here = log_of(m, &c, share);
    marginal_free(m);
    for (size_t i = 0; i < 8; i++) {
        c.a.value[i] += 1234.5;
        for (int k = 0; k < PARTS; k++)
            c.part[k][i] += 77;
    }
    m = marginal_new(&c.a.data, &prior);
    there = log_of(m, &c, share);
    marginal_free(m);
    ASSERT_NEAR(there - here, 0, 1e-9);
    gsl_rng_free(rng);
}

/* Answers 0 and 1 by a hand that hardly trembles: what rounding adds, 1/12, is
 * all the noise there is. The likelihood of normal readings whose level has a
 * flat prior, in closed form. */
static void test_marginal_rounded(void) {
    enum { ANSWERS = 24 };
    static const PosteriorPrior prior = {3.3, .01, .1, 0, false, false};
    gsl_rng *rng = test_random(20909);
    static Case c;
    double square = 1. / 12 + .01 * .01, mean = 0, sum = 0;
    Marginal *m;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, ANSWERS, .66, &c.a);
    for (size_t i = 0; i < ANSWERS; i++) {
        c.a.weight[i] = 1;
        c.a.value[i] = i % 3 == 0;
        mean += c.a.value[i] / ANSWERS;
    }
    for (size_t i = 0; i < ANSWERS; i++)
        sum += pow(c.a.value[i] - mean, 2);
    m = marginal_new(&c.a.data, &prior);
    ASSERT_NEAR(marginal_log_none(m),
                -.5 * (ANSWERS - 1) * log(2 * M_PI * square) -
                    .5 * log(ANSWERS) - .5 * sum / square,
                .02);
    marginal_free(m);
    gsl_rng_free(rng);
}

/* Draws of one cell's b, level and trend beside their normal posterior: with
 * one correlation time and sigma given nearly exactly, all of them are known in
 * closed form, b far from 0. */
static void test_marginal_rest(void) {
    enum { DRAWS = 20000 };
    static const PosteriorPrior prior = {9.9, 1, 5e-4, 2.1, false, false};
    gsl_rng *rng = test_random(20908);
    static Case c;
    double sum[3] = {0}, x[9], wanted[3] = {0}, normal[3][4] = {{0}};
    const double *part[] = {c.part[0], c.part[1], c.part[2]};
    static const double own[PARTS] = {1, -1.3, 0};
    double cell[CELLS];
    Gram gram;
    Marginal *m;
    make_case(rng, 9, &c);
    m = marginal_new(&c.a.data, &prior);
    marginal_aim(m, 0, 5e-4);
    marginal_gram(m, part, &gram);
    marginal_log(m, &gram, own, cell);
    for (size_t i = 0; i < 9; i++)
        x[i] = own[0] * (c.part[0][i] - c.part[0][0]) +
               own[1] * (c.part[1][i] - c.part[1][0]);
    for (int i = 0; i < DRAWS; i++) {
        double dice[REST_DICE] = {gsl_rng_uniform(rng), gsl_rng_uniform(rng),
                                  gsl_rng_uniform(rng), gsl_rng_uniform(rng),
                                  gsl_rng_uniform(rng)};
        Rest r = marginal_rest(m, &gram, own, x, cell, dice);
        sum[0] += r.b / DRAWS;
        sum[1] += r.level / DRAWS;
        sum[2] += r.trend / DRAWS;
        ASSERT_NEAR(r.sigma, 1, .01);
    }
    /* normal equations of b, level and trend, by Gauss and Jordan */
    for (size_t i = 0; i < 9; i++) {
        double row[] = {x[i], 1, marginal_time(m, i),
                        c.a.value[i] - c.a.value[0]};
        for (int k = 0; k < 3; k++)
            for (int j = 0; j < 4; j++)
                normal[k][j] += c.a.weight[i] * row[k] * row[j];
    }
    normal[0][0] += 1 / (9.9 * 9.9);
    normal[2][2] += 1 / (2.1 * 2.1);
    for (int k = 0; k < 3; k++) {
        double top = normal[k][k];
        for (int j = 0; j < 4; j++)
            normal[k][j] /= top;
        for (int o = 0; o < 3; o++) {
            double by = normal[o][k];
            for (int j = 0; j < 4 && o != k; j++)
                normal[o][j] -= by * normal[k][j];
        }
    }
    for (int k = 0; k < 3; k++)
        wanted[k] = normal[k][3];
    ASSERT_NEAR(sum[0], wanted[0], .02);
    ASSERT_NEAR(sum[1], wanted[1], .05);
    ASSERT_NEAR(sum[2], wanted[2], .08);
    marginal_free(m);
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"marginal_dense", test_marginal_dense},
                                 {"marginal_zero", test_marginal_zero},
                                 {"marginal_rounded", test_marginal_rounded},
                                 {"marginal_rest", test_marginal_rest},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_marginal = {"calibrate", cases};
