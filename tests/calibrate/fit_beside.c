/* fit_beside: the same fits by SciPy and by R's nls.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "test.h"

#include "base/text.h"
#include "calibrate/fit.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* ---- against SciPy ---- */

/* Least squares in all five parameters from 20 starts, gains non-negative;
 * s in [0, 1] puts tau2 between its bounds. Prints the best residual sum, the
 * parameters, and standard errors from the Jacobian in the parameters. */
static const char scipy_fit[] =
    "import sys, json\n"
    "import numpy as np\n"
    "from scipy.optimize import least_squares\n"
    "rng = np.random.default_rng(20301)\n"
    "for d in json.loads(sys.argv[1]):\n"
    "    load, y = np.array(d['load']), np.array(d['value'])\n"
    "    w = np.sqrt(np.array(d['weight']))\n"
    "    at = np.array(d['step'])\n"
    "    age = at[:, None] - np.arange(len(load))[None, :]\n"
    "    seen = (age > 0) | ((age == 0) & (np.array(d['after']) > 0)[:, "
    "None])\n"
    "    age = np.where(seen, age, 0)\n"
    "    dose = np.where(seen, load[None, :], 0)\n"
    "    def column(tau):\n"
    "        part, up = dose * np.exp(-age / tau), np.exp(1 / tau)\n"
    "        past = d['before'] * np.exp(-at / tau) / (up - 1)\n"
    "        return (part.sum(1) + past, ((part * age).sum(1)"
    " + past * (at + up / (up - 1))) / tau**2)\n"
    "    def natural(v):\n"
    "        t1 = np.exp(v[3])\n"
    "        return t1, np.exp(v[4] * (v[3] - np.log(1.1)))\n"
    "    def residual(v):\n"
    "        t1, t2 = natural(v)\n"
    "        return w * (v[0] + v[1] * column(t1)[0] - v[2] * column(t2)[0]"
    " - y)\n"
    "    def natural_jac(v):\n"
    "        t1, t2 = natural(v)\n"
    "        f, df = column(t1)\n"
    "        g, dg = column(t2)\n"
    "        return w[:, None] * np.column_stack([np.ones_like(f), f, -g,"
    " v[1] * df, -v[2] * dg])\n"
    "    def jac(v):\n"
    "        t1, t2 = natural(v)\n"
    "        j = natural_jac(v)\n"
    "        a, b = j[:, 3] * t1, j[:, 4] * t2\n"
    "        j[:, 3] = a + b * v[4]\n"
    "        j[:, 4] = b * (v[3] - np.log(1.1))\n"
    "        return j\n"
    "    low = [-np.inf, 0, 0, np.log(1.1 * 1.0001), 0]\n"
    "    high = [np.inf, np.inf, np.inf, np.log(200), 1]\n"
    "    best = None\n"
    "    for start in range(20):\n"
    "        v = np.array([y.mean(), 0, 0, np.log(rng.uniform(5, 150)),"
    " rng.uniform(.05, .95)])\n"
    "        scale = np.ptp(y) / np.ptp(column(natural(v)[0])[0])\n"
    "        v[1], v[2] = scale * rng.uniform(.1, 3), scale * rng.uniform(.1,"
    " 3)\n"
    "        r = least_squares(residual, v, jac, (low, high), x_scale='jac',"
    " ftol=1e-15, xtol=1e-15, gtol=1e-15, max_nfev=120)\n"
    "        if best is None or r.cost < best.cost:\n"
    "            best = r\n"
    "    v, rss = best.x, 2 * best.cost\n"
    "    j = natural_jac(v)\n"
    "    scale = np.linalg.norm(j, axis=0)\n"
    "    inverse = np.linalg.pinv((j / scale).T @ (j / scale))\n"
    "    se = np.sqrt(np.diag(inverse) * rss / (len(y) - 5)) / scale\n"
    "    print(*(float(x) for x in [rss, *v[:3], *natural(v), *se]))\n";

enum { SEASONS = 10, SCIPY_NUMBERS = 11 };

static void scipy_athlete(gsl_rng *rng, int round, Athlete *a) {
    random_athlete(RESPONSE_TWO_COMPONENT, rng,
                   12 + gsl_rng_uniform_int(rng, 9),
                   3.85 * (round % 2 ? .04 : .15), a);
    for (size_t i = 0; i < a->data.count; i++)
        a->weight[i] = test_between(rng, .4, 1.6);
}

/* Parameters and standard errors, when both found the same minimum. */
static bool same_as_scipy(const Fit *fit, const double *wanted) {
    static const Param order[] = {PARAM_P0, PARAM_K1, PARAM_K2, PARAM_TAU1,
                                  PARAM_TAU2};
    if (!test_near(fit->rss / wanted[0], 1, 1e-9))
        return false;
    for (int i = 0; i < 5; i++)
        if (fit->on_bound[order[i]])
            return false; /* SciPy stops just inside a bound */
    for (int i = 0; i < 5; i++) {
        ASSERT_NEAR(fit->params.value[order[i]] / wanted[1 + i], 1, 1e-4);
        ASSERT_NEAR(fit->se[order[i]] / wanted[6 + i], 1, 1e-3);
    }
    return true;
}

static void test_fit_against_scipy(void) {
    test_evidence("SciPy, optimize.least_squares",
                  "fits of drawn athletes: estimates, standard errors");
    gsl_rng *rng = test_random(20302);
    static Athlete a[SEASONS];
    double wanted[SEASONS * SCIPY_NUMBERS];
    Text text = {0};
    int seasons = quick() ? 2 : SEASONS, same = 0;
    char *printed;
    for (int i = 0; i < seasons; i++) {
        scipy_athlete(rng, i, &a[i]);
        text_add(&text, i ? ", " : "[");
        put_athlete(&text, &a[i]);
    }
    text_add(&text, "]");
    printed = test_python(scipy_fit, (const char *[]){text_of(&text), NULL});
    if (take_numbers(printed, wanted, (size_t)(seasons * SCIPY_NUMBERS)))
        for (int i = 0; i < seasons; i++) {
            Fit fit;
            fit_best(RESPONSE_TWO_COMPONENT, &a[i].data, &fit);
            CU_ASSERT(fit.rss <= wanted[i * SCIPY_NUMBERS] * (1 + 1e-9));
            same += same_as_scipy(&fit, wanted + i * SCIPY_NUMBERS);
        }
    printf("(%d of %d inside the bounds and at SciPy's minimum) ", same,
           seasons);
    /* else little was compared; two quick seasons may both lie at bounds */
    CU_ASSERT(quick() || 5 * same >= 2 * seasons);
    free(printed);
    text_free(&text);
    gsl_rng_free(rng);
}

/* ---- against R's nls, algorithm "port" ---- */

/* The same seasons as data frames of numbers; R's own recursion and its own
 * optimiser with bounds (no bound between tau1 and tau2, which it cannot do).
 */
static const char r_fit[] =
    "a <- commandArgs(TRUE)\n"
    "n <- function(i) scan(text = a[i], quiet = TRUE)\n"
    "load <- n(1); step <- n(2); after <- n(3) > 0; y <- n(4)\n"
    "before <- n(5)\n"
    "state <- function(tau) {\n"
    "  s <- before / (exp(1 / tau) - 1); out <- numeric(length(y))\n"
    "  for (i in seq_along(load)) {\n"
    "    if (i > 1) s <- s * exp(-1 / tau)\n"
    "    out[step == i - 1 & !after] <- s\n"
    "    s <- s + load[i]\n"
    "    out[step == i - 1 & after] <- s\n"
    "  }\n"
    "  out\n"
    "}\n"
    "best <- Inf; at <- c(0, 0)\n"
    "for (t1 in c(15, 40, 90)) for (t2 in c(3, 10)) {\n"
    "  if (t1 <= t2) next\n"
    "  g <- lm.fit(cbind(1, state(t1), -state(t2)), y)$coefficients\n"
    "  g[is.na(g)] <- 0\n"
    "  m <- try(nls(y ~ p0 + k1 * state(tau1) - k2 * state(tau2),\n"
    "    start = list(p0 = g[[1]], k1 = max(g[[2]], 1e-6),\n"
    "      k2 = max(g[[3]], 1e-6), tau1 = t1, tau2 = t2),\n"
    "    algorithm = 'port', lower = c(-Inf, 0, 0, 1.1, 1),\n"
    "    upper = c(Inf, Inf, Inf, 200, 180),\n"
    "    control = list(maxiter = 400, warnOnly = TRUE)), silent = TRUE)\n"
    "  if (inherits(m, 'try-error')) next\n"
    "  rss <- sum(residuals(m)^2)\n"
    "  if (rss < best) { best <- rss; at <- coef(m)[c('tau1', 'tau2')] }\n"
    "}\n"
    "cat(sprintf('%.17g %.17g %.17g\\n', best, at[1], at[2]))\n";

static void put_row(Text *text, const double *values, size_t count) {
    text_clear(text);
    for (size_t i = 0; i < count; i++)
        text_add(text, "%.17g ", values[i]);
}

/* R's smallest residual sum and its time constants. */
static bool ask_r(const Athlete *a, double found[3]) {
    Text text[4] = {{0}, {0}, {0}, {0}};
    char before[40], *out = NULL;
    double step[TESTS_MOST], after[TESTS_MOST];
    const char *words[] = {"Rscript", "--vanilla", "-e", r_fit, NULL,
                           NULL,      NULL,        NULL, NULL,  NULL};
    bool good;
    for (size_t i = 0; i < a->data.count; i++) {
        step[i] = (double)a->step[i];
        after[i] = a->when[i] == READ_AFTER;
    }
    put_row(&text[0], a->load, a->data.timeline.steps);
    put_row(&text[1], step, a->data.count);
    put_row(&text[2], after, a->data.count);
    put_row(&text[3], a->value, a->data.count);
    snprintf(before, sizeof before, "%.17g", a->data.timeline.before);
    for (int i = 0; i < 4; i++)
        words[4 + i] = text_of(&text[i]);
    words[8] = before;
    good = test_run(words, &out, NULL) == 0 &&
           sscanf(out, "%lf %lf %lf", &found[0], &found[1], &found[2]) == 3;
    CU_ASSERT(good); /* package r-base-core */
    for (int i = 0; i < 4; i++)
        text_free(&text[i]);
    free(out);
    return good;
}

/* Wherever R's best lies inside our bounds, ours is no worse; and R, from six
 * starts, is seldom better than a local minimum of it. */
static void test_fit_against_r(void) {
    test_evidence("R, nls from nine starts",
                  "residual sum of fits: how far above R's");
    gsl_rng *rng = test_random(20302);
    int seasons = quick() ? 3 : SEASONS, compared = 0, same = 0;
    for (int i = 0; i < seasons; i++) {
        static Athlete a;
        double found[3];
        Fit fit;
        scipy_athlete(rng, i, &a);
        for (size_t k = 0; k < a.data.count; k++)
            a.weight[k] = 1;
        if (!ask_r(&a, found))
            break;
        fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
        if (!(found[1] >= 1.1 * found[2]))
            continue;
        compared++;
        CU_ASSERT(fit.rss <= found[0] * (1 + 1e-9));
        test_evidence_reached(fmax(0, fit.rss / found[0] - 1), 1e-9);
        same += test_near(fit.rss, found[0], 1e-6);
    }
    printf("(%d of %d inside the bounds, %d at R's minimum) ", compared,
           seasons, same);
    CU_ASSERT(2 * compared >= seasons);
    CU_ASSERT(3 * same >= seasons);
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"fit_against_scipy", test_fit_against_scipy},
                                 {"fit_against_r", test_fit_against_r},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_fit_beside = {"calibrate", cases};
