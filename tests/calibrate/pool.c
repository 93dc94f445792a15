/* pool: tests of what a squad's athletes tell of each other.
 *
 * The prior's density is held against SciPy's normals and numerical
 * integration; pooling against the closed form of the two-level normal model
 * (Lindley, Smith 1972, J R Stat Soc B 34:1-41; from memory) with the factor of
 * the spread integrated by quadrature, and against 50,000 plain draws of the
 * squad's centre in NumPy where no closed form holds.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/mem.h"
#include "base/text.h"
#include "calibrate/pool.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PEOPLE_MOST = 12, SHAPES = 1000, PLACES = 400 };

/* The literature's shape, and one whose components never meet. */
static const double literature[] = {3.6636, 2.4849, .7419},
                    literature_spread[] = {.4, .7, .5};
static const double apart[] = {3.6636, 1.0986, .7419},
                    apart_spread[] = {.2, .3, .25};

/* An athlete: shapes drawn from a wide normal, the likelihood of each. */
typedef struct {
    double theta[SHAPE_POOLED][SHAPES], log_ratio[MEMBERS * SHAPES];
    double found[SHAPE_POOLED], sd[SHAPE_POOLED]; /* by their tests */
    double offset[MEMBERS];                       /* ln evidence beyond that */
} Person;

typedef struct {
    const double *mean, *spread;
    int people;
    Person person[PEOPLE_MOST];
} People;

/* Tests that tell a normal about `found` with `sd`, under all members alike but
 * for an offset; shapes from a normal half-way between prior and likelihood. */
static void tell(const People *all, gsl_rng *rng, Person *p) {
    for (int i = 0; i < SHAPES; i++) {
        double log_likelihood = 0, log_density = 0;
        for (int d = 0; d < SHAPE_POOLED; d++) {
            double s = all->spread[d],
                   v = 1 / (s * s) + 1 / (p->sd[d] * p->sd[d]);
            double mean =
                (all->mean[d] / (s * s) + p->found[d] / (p->sd[d] * p->sd[d])) /
                v;
            double wide = 1.5 / sqrt(v), z = gsl_ran_ugaussian(rng);
            double x = mean + wide * z, t = (x - p->found[d]) / p->sd[d];
            p->theta[d][i] = x;
            log_likelihood -= t * t / 2;
            log_density -= z * z / 2 + log(wide);
        }
        for (int m = 0; m < MEMBERS; m++)
            p->log_ratio[m * SHAPES + i] =
                log_likelihood - log_density + p->offset[m];
    }
}

static void make_people(gsl_rng *rng, People *all) {
    double centre[SHAPE_POOLED];
    for (int d = 0; d < SHAPE_POOLED; d++)
        centre[d] = all->mean[d] + .7 * all->spread[d] * gsl_ran_ugaussian(rng);
    for (int i = 0; i < all->people; i++) {
        Person *p = &all->person[i];
        for (int d = 0; d < SHAPE_POOLED; d++) {
            p->found[d] =
                centre[d] + .8 * all->spread[d] * gsl_ran_ugaussian(rng);
            p->sd[d] = all->spread[d] * test_between(rng, .4, 1.2);
        }
        for (int m = 0; m < MEMBERS; m++)
            p->offset[m] = .2 * gsl_ran_ugaussian(rng);
        tell(all, rng, p);
    }
}

static ShapeSample sample_of(const Person *p) {
    ShapeSample s = {.count = SHAPES, .log_ratio = p->log_ratio};
    for (int d = 0; d < SHAPE_POOLED; d++)
        s.theta[d] = p->theta[d];
    return s;
}

static Pool *pool_of(const People *all, int step, unsigned long seed) {
    Pool *pool = pool_new(all->mean, all->spread, seed);
    for (int k = 0; k < all->people; k++) {
        int i = step > 0 ? k : all->people - 1 - k;
        ShapeSample s = sample_of(&all->person[i]);
        pool_add(pool, &s);
    }
    pool_settle(pool);
    return pool;
}

/* Shapes at which densities are compared. */
typedef struct {
    double theta[SHAPE_POOLED][PLACES], density[MEMBERS * PLACES];
} Probe;

static void probe_draw(const People *all, gsl_rng *rng, Probe *probe) {
    for (int d = 0; d < SHAPE_POOLED; d++)
        for (int i = 0; i < PLACES; i++)
            probe->theta[d][i] =
                all->mean[d] + all->spread[d] * gsl_ran_ugaussian(rng);
}

static void probe_read(const ShapePrior *prior, Probe *probe) {
    const double *theta[SHAPE_POOLED];
    for (int d = 0; d < SHAPE_POOLED; d++)
        theta[d] = probe->theta[d];
    shape_prior_log(prior, PLACES, theta, probe->density);
}

static void put(Text *text, const double *x, size_t count) {
    for (size_t i = 0; i < count; i++)
        text_add(text, "%.17g\n", x[i]);
}

static const char *put_file(int slot, const char *name, Text *text) {
    const char *path = test_file(slot, name, text_of(text));
    text_free(text);
    return path;
}

/* The next number of a script's answer. */
static double next_number(char **at) {
    return strtod(*at, at);
}

/* ---- the density ---- */

static const char density_script[] =
    "import sys, numpy as np\n"
    "from scipy.stats import norm\n"
    "from scipy.integrate import quad\n"
    "v = np.array([float(x) for x in open(sys.argv[1])])\n"
    "mean, sd, t = v[:3], v[3:6], v[6:].reshape(3, -1)\n"
    "f = lambda b: norm.pdf(b, mean[1], sd[1]) * norm.sf(b + np.log(1.3),\n"
    "                                                    mean[0], sd[0])\n"
    "left = quad(f, mean[1] - 9 * sd[1], mean[1] + 9 * sd[1], epsabs=1e-13,\n"
    "            epsrel=1e-12)[0]\n"
    "for i in range(t.shape[1]):\n"
    "    d = norm.logpdf(t[:, i], mean, sd).sum() - np.log(left)\n"
    "    print(d if t[0, i] > t[1, i] + np.log(1.3) else 'inf')\n";

/* The literature's log-normal, cut and scaled back to 1. */
static void alone(void) {
    gsl_rng *rng = test_random(71);
    People all = {.mean = literature, .spread = literature_spread};
    static Probe probe;
    Text text = {0};
    ShapePrior prior;
    const char *words[2] = {NULL};
    char *out, *at;
    test_evidence("SciPy, normal densities and quadrature",
                  "prior of a shape from the literature alone, 400 shapes");
    test_folder();
    probe_draw(&all, rng, &probe);
    shape_prior_alone(all.mean, all.spread, &prior);
    probe_read(&prior, &probe);
    put(&text, all.mean, 3);
    put(&text, all.spread, 3);
    put(&text, probe.theta[0], 3 * PLACES);
    words[0] = put_file(0, "places", &text);
    at = out = test_python(density_script, words);
    for (int i = 0; i < PLACES; i++) {
        double wanted = next_number(&at);
        for (int m = 0; m < MEMBERS; m++) {
            double density = probe.density[m * PLACES + i];
            if (isinf(wanted))
                CU_ASSERT(density == -INFINITY)
            else
                ASSERT_NEAR(density, wanted, 1e-9);
        }
    }
    for (int m = 0; m < MEMBERS; m++)
        ASSERT_NEAR(prior.member[m], .2, 1e-15);
    free(out);
    test_folder_done();
    gsl_rng_free(rng);
}

/* A spread that is not given is no part of the density. */
static void no_spread(void) {
    const double spread[] = {.4, NAN, 0}, ratio_alone[] = {0, NAN, .4};
    const double a = 3.9, b = 1.2, far = 99;
    double r = -4;
    const double *near[] = {&a, &b, &r}, *there[] = {&a, &b, &far};
    double one[MEMBERS], other[MEMBERS];
    ShapePrior prior;
    shape_prior_alone(literature, spread, &prior);
    shape_prior_log(&prior, 1, near, one);
    shape_prior_log(&prior, 1, there, other);
    ASSERT_NEAR(one[0], other[0], 0);
    /* the normal's density, and by SciPy -ln Phi(2.2908393388) */
    ASSERT_NEAR(one[0], -.5 * .591 * .591 - log(.4) - .9189385332 + .0110471494,
                1e-6);
    /* of neither time: the ratio's normal is whole, one SD from its mean */
    r = literature[2] + .4;
    shape_prior_alone(literature, ratio_alone, &prior);
    shape_prior_log(&prior, 1, near, one);
    ASSERT_NEAR(one[0], -.5 - log(.4) - .9189385332, 1e-6);
}

/* ---- two levels ---- */

/* What is left of others' tests is y_j ~ N(centre, sd_j^2 + (f W)^2) in each
 * dimension, centre ~ N(mean, B^2), ln f ~ N(0, .25^2). */
static const char closed_script[] =
    "import sys, numpy as np\n"
    "v = np.array([float(x) for x in open(sys.argv[1])])\n"
    "mean, spread, n = v[:3], v[3:6], (len(v) - 6) // 11\n"
    "q = v[6:].reshape(n, 11); y, sd, off = q[:, :3], q[:, 3:6], q[:, 6:]\n"
    "B = spread * np.array([.75, 5 / 7, .7]); W = np.sqrt(spread**2 - B**2)\n"
    "x = np.linspace(-1.6, 1.6, 4001); f = np.exp(x)\n"
    "lp = -.5 * (x / .25)**2\n"
    "def centre(who):\n"
    "    # of each f: ln evidence, the centre's mean and variance\n"
    "    l = lp.copy(); M = []; V = []\n"
    "    for d in range(3):\n"
    "        s2 = sd[who, d]**2 + (f[:, None] * W[d])**2\n"
    "        p = (1 / s2).sum(1) + 1 / B[d]**2\n"
    "        m = ((y[who, d] / s2).sum(1) + mean[d] / B[d]**2) / p\n"
    "        r = y[who, d] - mean[d]\n"
    "        rm = (r / s2).sum(1)\n"
    "        l += -.5 * np.log(s2).sum(1) - .5 * np.log(p * B[d]**2)\n"
    "        l += -.5 * ((r * r / s2).sum(1) - rm**2 / p)\n"
    "        M.append(m); V.append(1 / p)\n"
    "    w = np.exp(l - l.max())\n"
    "    return w / w.sum(), M, V\n"
    "for i in list(range(n)) + [n]:\n"
    "    w, M, V = centre([j for j in range(n) if j != i])\n"
    "    for d in range(3):\n"
    "        m = (w * M[d]).sum()\n"
    "        v = (w * (V[d] + (f * W[d])**2 + (M[d] - m)**2)).sum()\n"
    "        print(m, np.sqrt(v))\n"
    "e = off.sum(0); e = np.exp(e - e.max()); e /= e.sum()\n"
    "for m in e: print(.8 * m + .04)\n";

/* Mean and SD of a dimension under a member, the cut aside. */
static void moments(const ShapePrior *p, int d, int member, double *mean,
                    double *sd) {
    const double *row = p->of[member].root[d];
    *mean = p->of[member].mean[d];
    *sd = sqrt(row[0] * row[0] + row[1] * row[1] + row[2] * row[2]);
}

static void compare_moments(const ShapePrior *prior, const double *spread,
                            char **at) {
    for (int d = 0; d < SHAPE_POOLED; d++) {
        double mean = next_number(at), sd = next_number(at);
        for (int m = 0; m < MEMBERS; m++) {
            double got, got_sd;
            moments(prior, d, m, &got, &got_sd);
            ASSERT_NEAR((got - mean) / spread[d], 0, .12);
            ASSERT_NEAR(got_sd / sd, 1, .12);
        }
    }
}

static void closed_form_of(People *all, gsl_rng *rng) {
    Text text = {0};
    const char *words[2] = {NULL};
    char *out, *at;
    Pool *pool;
    ShapePrior prior;
    make_people(rng, all);
    put(&text, all->mean, 3);
    put(&text, all->spread, 3);
    for (int i = 0; i < all->people; i++) {
        put(&text, all->person[i].found, 3);
        put(&text, all->person[i].sd, 3);
        put(&text, all->person[i].offset, MEMBERS);
    }
    words[0] = put_file(0, "people", &text);
    at = out = test_python(closed_script, words);
    pool = pool_of(all, 1, 5);
    for (int i = 0; i <= all->people; i++) {
        pool_prior(pool, i < all->people ? (size_t)i : POOL_STRANGER, &prior);
        compare_moments(&prior, all->spread, &at);
    }
    for (int m = 0; m < MEMBERS; m++)
        ASSERT_NEAR(prior.member[m], next_number(&at), 1e-3);
    pool_free(pool);
    free(out);
}

/* Squads of 2, 5 and 12 whose shapes never come near the cut. */
static void closed_form(void) {
    static const int sizes[] = {2, 5, 12};
    gsl_rng *rng = test_random(72);
    static People all;
    test_evidence("closed form of two-level normals, NumPy",
                  "pooled prior: mean and SD [spreads], members' weights");
    test_folder();
    for (int k = 0; k < 3; k++) {
        all.mean = apart;
        all.spread = apart_spread;
        all.people = sizes[k];
        closed_form_of(&all, rng);
    }
    test_folder_done();
    gsl_rng_free(rng);
}

/* For each athlete: mean and SD before the cut, and shapes drawn from what the
 * others say, each with its ln density. */
static const char plain_script[] =
    "import sys, numpy as np\n"
    "from scipy.special import log_ndtr\n"
    "v = np.array([float(x) for x in open(sys.argv[1])])\n"
    "mean, spread, n, J, P = v[:3], v[3:6], int(v[6]), int(v[7]), int(v[8])\n"
    "B = spread * np.array([.75, 5 / 7, .7]); W = np.sqrt(spread**2 - B**2)\n"
    "rng = np.random.default_rng(3); H = 50000\n"
    "mu = mean + B * rng.standard_normal((H, 3))\n"
    "mu = mu[mu[:, 0] > mu[:, 1] + np.log(1.3)]; H = len(mu)\n"
    "w = W * np.exp(.25 * rng.standard_normal((H, 1)))\n"
    "z = (mu[:, 0] - mu[:, 1] - np.log(1.3)) / np.hypot(w[:, 0], w[:, 1])\n"
    "k = -np.log(w).sum(1) - 1.5 * np.log(2 * np.pi) - log_ndtr(z)\n"
    "def density(t):\n"
    "    # theta (J, 3): (H, J)\n"
    "    a = (1 / w)**2; b = mu * a\n"
    "    e = k[:, None] - .5 * (a @ (t.T)**2 - 2 * b @ t.T\n"
    "                           + (mu * b).sum(1)[:, None])\n"
    "    return np.exp(e)\n"
    "L = np.zeros((H, 5, n))\n"
    "for i in range(n):\n"
    "    q = v[9 + i * 8 * J:9 + (i + 1) * 8 * J].reshape(8, J)\n"
    "    keep = np.arange(256) * J // 256\n"
    "    e = np.exp(q[3:] - q[3:].max())[:, keep]\n"
    "    L[:, :, i] = np.log(density(q[:3, keep].T) @ e.T + 1e-300)\n"
    "for i in range(n):\n"
    "    l = L[:, 2, [j for j in range(n) if j != i]].sum(1)\n"
    "    x = np.exp(l - l.max()); x /= x.sum()\n"
    "    m = x @ mu; s = np.sqrt(x @ ((mu - m)**2 + w**2))\n"
    "    for d in range(3): print(m[d], s[d])\n"
    "    h = rng.choice(H, 5 * P, p=x)\n"
    "    t = mu[h] + w[h] * rng.standard_normal((5 * P, 3))\n"
    "    t = t[t[:, 0] > t[:, 1] + np.log(1.3)][:P]\n"
    "    for y in t.T.ravel(): print(y)\n"
    "    for y in np.log(x @ density(t)): print(y)\n"
    "l = L.sum(2); e = np.exp(l - l.max()).sum(0); e /= e.sum()\n"
    "for m in e: print(.8 * m + .04)\n";

/* How far a prior is from the one that the shapes were drawn from:
 * Kullback, Leibler 1951, Ann Math Stat 22:79-86 (from memory). */
static double divergence(const ShapePrior *prior, char **at) {
    static double theta[SHAPE_POOLED * PLACES], density[MEMBERS * PLACES];
    const double *parts[] = {theta, theta + PLACES, theta + 2 * PLACES};
    double sum = 0;
    for (int i = 0; i < SHAPE_POOLED * PLACES; i++)
        theta[i] = next_number(at);
    shape_prior_log(prior, PLACES, parts, density);
    for (int i = 0; i < PLACES; i++)
        sum += next_number(at) - density[2 * PLACES + i];
    return sum / PLACES;
}

/* About the literature, where the cut matters. */
static void plain_draws(void) {
    gsl_rng *rng = test_random(73);
    static People all;
    const double sizes[] = {4, SHAPES, PLACES};
    Text text = {0};
    const char *words[2] = {NULL};
    char *out, *at;
    Pool *pool;
    ShapePrior prior;
    test_evidence("NumPy, 50,000 plain draws of a squad's centre",
                  "pooled prior: mean and SD [spreads], distance [nats], "
                  "members' weights");
    test_folder();
    all.mean = literature;
    all.spread = literature_spread;
    all.people = 4;
    make_people(rng, &all);
    put(&text, all.mean, 3);
    put(&text, all.spread, 3);
    put(&text, sizes, 3);
    for (int i = 0; i < all.people; i++) {
        put(&text, all.person[i].theta[0], 3 * SHAPES);
        put(&text, all.person[i].log_ratio, MEMBERS * SHAPES);
    }
    words[0] = put_file(0, "people", &text);
    at = out = test_python(plain_script, words);
    pool = pool_of(&all, 1, 5);
    for (int i = 0; i < all.people; i++) {
        pool_prior(pool, (size_t)i, &prior);
        for (int d = 0; d < SHAPE_POOLED; d++) {
            double mean, sd, wanted = next_number(&at);
            moments(&prior, d, 2, &mean, &sd);
            ASSERT_NEAR((mean - wanted) / all.spread[d], 0, .16);
            ASSERT_NEAR(sd / next_number(&at), 1, .16);
        }
        ASSERT_NEAR(divergence(&prior, &at), 0, .12);
    }
    for (int m = 0; m < MEMBERS; m++)
        ASSERT_NEAR(prior.member[m], next_number(&at), .03);
    pool_free(pool);
    free(out);
    test_folder_done();
    gsl_rng_free(rng);
}

/* ---- what must not matter ---- */

/* To the last byte. */
static void order(void) {
    gsl_rng *rng = test_random(74);
    static People all;
    Pool *one, *other;
    all.mean = literature;
    all.spread = literature_spread;
    all.people = PEOPLE_MOST;
    make_people(rng, &all);
    one = pool_of(&all, 1, 5);
    other = pool_of(&all, -1, 5);
    for (size_t i = 0; i < PEOPLE_MOST; i++) {
        ShapePrior a, b;
        pool_prior(one, i, &a);
        pool_prior(other, PEOPLE_MOST - 1 - i, &b);
        CU_ASSERT(memcmp(&a, &b, sizeof a) == 0);
    }
    pool_free(one);
    pool_free(other);
    gsl_rng_free(rng);
}

/* A factor that all members of an athlete share says nothing. */
static void constants(void) {
    gsl_rng *rng = test_random(75);
    static People all;
    ShapePrior a, b;
    Pool *pool;
    all.mean = literature;
    all.spread = literature_spread;
    all.people = 3;
    make_people(rng, &all);
    pool = pool_of(&all, 1, 5);
    pool_prior(pool, 1, &a);
    pool_free(pool);
    for (int k = 0; k < MEMBERS * SHAPES; k++)
        all.person[2].log_ratio[k] += 1e3;
    pool = pool_of(&all, 1, 5);
    pool_prior(pool, 1, &b);
    pool_free(pool);
    for (int m = 0; m < MEMBERS; m++) {
        ASSERT_NEAR(a.member[m], b.member[m], 1e-6);
        for (int d = 0; d < SHAPE_POOLED; d++) {
            double mean, sd, other, other_sd;
            moments(&a, d, m, &mean, &sd);
            moments(&b, d, m, &other, &other_sd);
            ASSERT_NEAR(mean, other, 1e-5);
            ASSERT_NEAR(sd, other_sd, 1e-5);
        }
    }
    gsl_rng_free(rng);
}

/* Another seed moves a prior by little of its width, on average of ten pairs
 * and three numbers. */
static void seeds(void) {
    gsl_rng *rng = test_random(76);
    static People all;
    double squares = 0;
    ShapePrior a, b;
    all.mean = literature;
    all.spread = literature_spread;
    all.people = PEOPLE_MOST;
    make_people(rng, &all);
    for (unsigned long seed = 1; seed <= 10; seed++) {
        Pool *one = pool_of(&all, 1, seed),
             *other = pool_of(&all, 1, seed + 10);
        pool_prior(one, 3, &a);
        pool_prior(other, 3, &b);
        for (int d = 0; d < SHAPE_POOLED; d++) {
            double mean, sd, second, second_sd;
            moments(&a, d, 2, &mean, &sd);
            moments(&b, d, 2, &second, &second_sd);
            squares += (mean - second) * (mean - second) / (sd * sd) / 30;
        }
        for (int m = 0; m < MEMBERS; m++)
            CU_ASSERT(fabs(a.member[m] - b.member[m]) < .1);
        pool_free(one);
        pool_free(other);
    }
    CU_ASSERT(sqrt(squares) < .15);
    gsl_rng_free(rng);
}

/* ---- few and many ---- */

/* One athlete, or none: the literature's prior; the members' weights by the one
 * athlete's tests. */
static void one_or_none(void) {
    gsl_rng *rng = test_random(77);
    static People all;
    ShapePrior prior, wanted;
    Pool *pool;
    all.mean = literature;
    all.spread = literature_spread;
    all.people = 1;
    make_people(rng, &all);
    for (int m = 0; m < MEMBERS; m++)
        for (int i = 0; i < SHAPES; i++)
            all.person[0].log_ratio[m * SHAPES + i] += m == 2 ? 3 : 0;
    shape_prior_alone(literature, literature_spread, &wanted);
    pool = pool_of(&all, 1, 5);
    pool_prior(pool, 0, &prior);
    CU_ASSERT(memcmp(prior.of, wanted.of, sizeof prior.of) == 0);
    CU_ASSERT(prior.member[2] > .6);
    pool_free(pool);
    all.people = 0;
    pool = pool_of(&all, 1, 5);
    pool_prior(pool, POOL_STRANGER, &prior);
    CU_ASSERT(memcmp(prior.of, wanted.of, sizeof prior.of) == 0);
    for (int m = 0; m < MEMBERS; m++)
        ASSERT_NEAR(prior.member[m], .2, 1e-12);
    pool_free(pool);
    gsl_rng_free(rng);
}

/* Tests that no shape explains leave a prior that can be used. */
static void impossible(void) {
    gsl_rng *rng = test_random(78);
    static People all;
    ShapePrior prior;
    Pool *pool;
    all.mean = literature;
    all.spread = literature_spread;
    all.people = 3;
    make_people(rng, &all);
    for (int d = 0; d < SHAPE_POOLED; d++)
        for (int i = 0; i < SHAPES; i++)
            all.person[1].theta[d][i] += d == 1 ? 60 : -60;
    pool = pool_of(&all, 1, 5);
    pool_prior(pool, 0, &prior);
    for (int m = 0; m < MEMBERS; m++)
        for (int d = 0; d < SHAPE_POOLED; d++) {
            double mean, sd;
            moments(&prior, d, m, &mean, &sd);
            CU_ASSERT(isfinite(mean) && sd > 0);
        }
    pool_free(pool);
    gsl_rng_free(rng);
}

static void league(void) {
    static const size_t sizes[] = {1, 12, 200, 201, 399, 1000, 100000};
    for (int k = 0; k < 7; k++) {
        size_t n = sizes[k], heard = 0, last = 0, gap = 0;
        for (size_t i = 0; i < n; i++)
            if (pool_hears(i, n)) {
                if (heard > 0 && i - last > gap)
                    gap = i - last;
                last = i;
                heard++;
            }
        CU_ASSERT(heard == (n < POOL_MOST ? n : POOL_MOST));
        CU_ASSERT(gap <= n / POOL_MOST + 1);
    }
}

static const TestCase cases[] = {
    {"pool_alone", alone},
    {"pool_no_spread", no_spread},
    {"pool_closed_form", closed_form},
    {"pool_plain_draws", plain_draws},
    {"pool_order", order},
    {"pool_constants", constants},
    {"pool_seeds", seeds},
    {"pool_one_or_none", one_or_none},
    {"pool_impossible", impossible},
    {"pool_league", league},
    {NULL, NULL},
};

const TestSuite suite_calibrate_pool = {"calibrate", cases};
