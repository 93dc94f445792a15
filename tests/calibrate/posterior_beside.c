/* posterior_beside: a dense grid in NumPy and chains of JAGS beside the draws.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/posterior.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

static const TestCase cases[] = {
    {"posterior_grid_two", test_posterior_grid_two},
    {"posterior_grid_family", test_posterior_grid_family},
    {"posterior_jags", test_posterior_jags},
    {NULL, NULL}};

const TestSuite suite_calibrate_posterior_beside = {"calibrate", cases};
