/* common: tests of common tapers for a squad.
 *
 * The number of tapers is held against every set of options tried in turn and
 * against SciPy's integer programming (HiGHS); losses are counted anew from the
 * gains; what must not matter (order, unit, twins) is tried out.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/mem.h"
#include "base/text.h"
#include "taper/common.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ATHLETES = 24, MOST_OPTIONS = 60 };

typedef struct {
    CommonTask task;
    Option option[MOST_OPTIONS];
    double gain[MOST_ATHLETES * MOST_OPTIONS];
    const double *row[MOST_ATHLETES]; /* into them */
} Game;

/* The task of a game's options and gains. */
static void set_task(Game *g, size_t athletes, size_t options) {
    for (size_t i = 0; i < athletes; i++)
        g->row[i] = g->gain + i * options;
    g->task = (CommonTask){.athletes = athletes,
                           .options = options,
                           .option = g->option,
                           .gain = g->row};
}

static Option read(const char *spec) {
    Option option;
    char why[OPTION_WHY];
    CU_ASSERT_FATAL(option_read(spec, &option, why));
    return option;
}

/* No taper, and `options` - 1 others, no two alike. */
static void deal_options(gsl_rng *rng, Game *g, size_t options) {
    char spec[OPTION_WHY];
    g->option[0] = read("none");
    for (size_t o = 1; o < options; o++) {
        bool alike = true;
        while (alike) {
            int days = test_whole(rng, 3, 21), cut = test_whole(rng, 1, 20);
            snprintf(spec, sizeof spec, "%dd-%d", days, 5 * cut);
            if (gsl_rng_uniform(rng) < .3)
                snprintf(spec, sizeof spec, "%dd-50,%dd-%d", days, 7, 5 * cut);
            g->option[o] = read(spec);
            alike = false;
            for (size_t k = 0; k < o; k++)
                alike =
                    alike || common_prefer(&g->option[k], &g->option[o]) == 0;
        }
    }
}

/* Gains that scatter about a hill somewhere in the list; some options are not
 * for some athletes. */
static void deal(gsl_rng *rng, size_t athletes, size_t options, Game *g) {
    bool some_barred = gsl_rng_uniform(rng) < .3;
    deal_options(rng, g, options);
    for (size_t i = 0; i < athletes; i++) {
        double top = test_between(rng, .5, 4), at = gsl_rng_uniform(rng);
        for (size_t o = 0; o < options; o++) {
            double far = (double)o / (double)options - at;
            double *gain = &g->gain[i * options + o];
            *gain = top * (1 - 3 * far * far) + .2 * gsl_ran_ugaussian(rng);
            if (some_barred && o && gsl_rng_uniform(rng) < .2)
                *gain = NAN;
        }
        g->gain[i * options] = 0;
    }
    set_task(g, athletes, options);
}

static double possible_of(const CommonTask *t, size_t i) {
    double possible = -INFINITY;
    for (size_t o = 0; o < t->options; o++)
        possible = fmax(possible, t->gain[i][o]);
    return possible;
}

static double total_possible(const CommonTask *t) {
    double total = 0;
    for (size_t i = 0; i < t->athletes; i++)
        total += possible_of(t, i);
    return total;
}

/* What a set of options loses in all; INFINITY when somebody has none, or with
 * `own` loses over 15 % of their own. */
static double loss_of(const CommonTask *t, const size_t *at, size_t count,
                      bool own) {
    double total = 0;
    for (size_t i = 0; i < t->athletes; i++) {
        double best = possible_of(t, i), least = INFINITY;
        for (size_t k = 0; k < count; k++) {
            double loss = best - t->gain[i][at[k]];
            if (!isnan(loss) && (!own || loss <= .15 * best))
                least = fmin(least, loss);
        }
        total += least;
    }
    return total;
}

/* The least that `count` options lose. */
static double least_loss(const CommonTask *t, size_t *at, size_t done,
                         size_t count, bool own) {
    double least = INFINITY;
    if (done == count)
        return loss_of(t, at, count, own);
    for (size_t o = done ? at[done - 1] : 0; o < t->options; o++) {
        at[done] = o;
        least = fmin(least, least_loss(t, at, done + 1, count, own));
    }
    return least;
}

/* What an answer says of itself, counted anew. */
static void check_answer(const CommonTask *t, const Common *c) {
    double lost = 0, worst = 0;
    size_t members[MOST_ATHLETES] = {0};
    CU_ASSERT_FATAL(c->tapers >= 1 && c->tapers <= t->athletes);
    for (size_t i = 0; i < t->athletes; i++) {
        double best = possible_of(t, i), gain;
        CU_ASSERT_FATAL(c->taper[i] < c->tapers);
        members[c->taper[i]]++;
        gain = t->gain[i][c->option[c->taper[i]]];
        CU_ASSERT_FATAL(!isnan(gain));
        lost += best > gain ? (best - gain) / total_possible(t) : 0;
        worst = fmax(worst, best > 0 ? (best - gain) / best : 0);
    }
    ASSERT_NEAR(c->lost, lost, 1e-9);
    ASSERT_NEAR(c->worst, worst, 1e-9);
    for (size_t k = 0; k < c->tapers; k++) {
        CU_ASSERT(members[k] > 0);
        CU_ASSERT(k == 0 || members[k] <= members[k - 1]);
    }
}

/* ---- how few ---- */

/* As few as any set, and no more lost than agreed: 5 % for being common, 5 %
 * for being preferred, and the grain of the losses. */
static void every_set(void) {
    gsl_rng *rng = test_random(81);
    static Game g;
    int above = 0;
    for (int trial = 0; trial < 300; trial++) {
        size_t athletes = 1 + gsl_rng_uniform_int(rng, 7), at[8], fewest = 1;
        Common c;
        deal(rng, athletes, 2 + gsl_rng_uniform_int(rng, 11), &g);
        common_find(&g.task, &c);
        check_answer(&g.task, &c);
        CU_ASSERT(c.lost <= .05 + .05 + .01);
        CU_ASSERT(c.worst <= .15 + 1e-9);
        while (least_loss(&g.task, at, 0, fewest, true) >
               .05 * total_possible(&g.task))
            fewest++;
        CU_ASSERT(c.tapers <= fewest + 1);
        above += c.tapers > fewest;
        common_free(&c);
    }
    CU_ASSERT(above <= 6); /* of 300: losses are told apart by their grain */
    gsl_rng_free(rng);
}

static const char fewest_script[] =
    "import sys, numpy as np\n"
    "from scipy.optimize import milp, LinearConstraint, Bounds\n"
    "v = [float(x) for x in open(sys.argv[1]).read().split()]\n"
    "at = 0\n"
    "while at < len(v):\n"
    "    n, m = (int(x) for x in v[at:at + 2])\n"
    "    g = np.array(v[at + 2:at + 2 + n * m]).reshape(n, m); at += 2 + n * "
    "m\n"
    "    best = np.nanmax(g, 1); d = best[:, None] - g\n"
    "    ok = d <= .15 * best[:, None]; d = np.where(ok, d, 0)\n"
    "    one = np.zeros((n, m + n * m)); use = np.zeros((n * m, m + n * m))\n"
    "    for i in range(n):\n"
    "        one[i, m + i * m:m + (i + 1) * m] = 1\n"
    "        for o in range(m):\n"
    "            use[i * m + o, m + i * m + o] = 1\n"
    "            use[i * m + o, o] = -1\n"
    "    lose = np.concatenate([np.zeros(m), d.ravel()])\n"
    "    r = milp(np.concatenate([np.ones(m), np.zeros(n * m)]),\n"
    "             integrality=np.ones(m + n * m),\n"
    "             bounds=Bounds(0, np.concatenate([np.ones(m), ok.ravel()])),\n"
    "             constraints=[LinearConstraint(one, 1, 1),\n"
    "                          LinearConstraint(use, -1, 0),\n"
    "                          LinearConstraint(lose[None, :], 0,\n"
    "                                           .05 * best.sum())])\n"
    "    assert r.success, r.message\n"
    "    print(int(round(r.fun)))\n";

/* Twelve athletes and 40 options: the fewest by an integer programme. */
static void by_programme(void) {
    enum { CASES = 12 };
    gsl_rng *rng = test_random(82);
    static Game g;
    Text text = {0};
    size_t tapers[CASES];
    int above = 0;
    const char *words[2] = {NULL, NULL};
    char *out, *at;
    test_evidence("SciPy, optimize.milp (HiGHS)",
                  "fewest common tapers: how many more than need be");
    test_folder();
    for (int k = 0; k < CASES; k++) {
        Common c;
        deal(rng, 12, 40, &g);
        common_find(&g.task, &c);
        check_answer(&g.task, &c);
        tapers[k] = c.tapers;
        text_add(&text, "12 40\n");
        for (size_t cell = 0; cell < 12 * 40; cell++)
            text_add(&text, "%.17g\n", g.gain[cell]);
        common_free(&c);
    }
    words[0] = test_file(0, "gains", text_of(&text));
    at = out = test_python(fewest_script, words);
    for (int k = 0; k < CASES; k++) {
        size_t fewest = strtoul(at, &at, 10);
        CU_ASSERT_FATAL(fewest > 0);
        CU_ASSERT(tapers[k] <= fewest + 1);
        above += tapers[k] > fewest;
    }
    CU_ASSERT(above <= 2);
    test_evidence_reached(above / (double)CASES, 2. / CASES);
    free(out);
    text_free(&text);
    test_folder_done();
    gsl_rng_free(rng);
}

/* At most N, and then as little lost as N can, but for preferring. */
static void bounded(void) {
    gsl_rng *rng = test_random(83);
    static Game g;
    for (int trial = 0; trial < 300; trial++) {
        size_t athletes = 1 + gsl_rng_uniform_int(rng, 7), at[8];
        Common c;
        double least;
        deal(rng, athletes, 2 + gsl_rng_uniform_int(rng, 11), &g);
        g.task.rule = COMMON_BOUNDED;
        g.task.most = 1 + gsl_rng_uniform_int(rng, 3);
        common_find(&g.task, &c);
        check_answer(&g.task, &c);
        CU_ASSERT(c.tapers <= g.task.most);
        least = least_loss(&g.task, at, 0, g.task.most, false) /
                total_possible(&g.task);
        CU_ASSERT(c.lost <= fmax(least, .05) + .05 + .02);
        common_free(&c);
    }
    gsl_rng_free(rng);
}

/* ---- what must not matter ---- */

static const Option *taper_of(const CommonTask *t, const Common *c, size_t i) {
    return &t->option[c->option[c->taper[i]]];
}

/* The same game with athletes and options turned round, gains in another unit,
 * every athlete twice. */
static void turn(const Game *g, double unit, Game *other) {
    size_t n = g->task.athletes, m = g->task.options;
    set_task(other, 2 * n, m);
    other->task.rule = g->task.rule;
    other->task.most = g->task.most;
    for (size_t o = 0; o < m; o++)
        other->option[o] = g->option[m - 1 - o];
    for (size_t i = 0; i < 2 * n; i++)
        for (size_t o = 0; o < m; o++)
            other->gain[i * m + o] =
                unit * g->gain[(n - 1 - i % n) * m + m - 1 - o];
}

static void invariant(void) {
    gsl_rng *rng = test_random(84);
    static Game g, other;
    for (int trial = 0; trial < 200; trial++) {
        static const CommonRule rules[] = {COMMON_FEWEST, COMMON_BOUNDED,
                                           COMMON_INDIVIDUAL, COMMON_UNKNOWN};
        size_t n = 1 + gsl_rng_uniform_int(rng, 12);
        Common c, d;
        deal(rng, n, 2 + gsl_rng_uniform_int(rng, 40), &g);
        g.task.rule = rules[trial % 4];
        g.task.most = 2;
        turn(&g, trial % 3 ? 1 : 1024, &other);
        common_find(&g.task, &c);
        common_find(&other.task, &d);
        CU_ASSERT(c.tapers == d.tapers);
        for (size_t i = 0; i < 2 * n; i++)
            CU_ASSERT(common_prefer(taper_of(&g.task, &c, n - 1 - i % n),
                                    taper_of(&other.task, &d, i)) == 0);
        common_free(&c);
        common_free(&d);
    }
    gsl_rng_free(rng);
}

/* Each for themselves is each in a squad of one, and the most preferred within
 * 5 % of their best. */
static void individual(void) {
    gsl_rng *rng = test_random(85);
    static Game g;
    for (int trial = 0; trial < 100; trial++) {
        Common c;
        deal(rng, 8, 50, &g);
        g.task.rule = COMMON_INDIVIDUAL;
        common_find(&g.task, &c);
        for (size_t i = 0; i < 8; i++) {
            CommonTask one = g.task;
            Common alone;
            const Option *has = taper_of(&g.task, &c, i);
            one.athletes = 1;
            one.gain = g.row + i;
            one.rule = COMMON_FEWEST;
            common_find(&one, &alone);
            CU_ASSERT(common_prefer(taper_of(&one, &alone, 0), has) == 0);
            CU_ASSERT(alone.lost <= .05 + 1e-9);
            for (size_t o = 0; o < 50; o++)
                CU_ASSERT(!(one.gain[0][o] >= .95 * possible_of(&one, 0)) ||
                          common_prefer(has, &g.option[o]) <= 0);
            common_free(&alone);
        }
        common_free(&c);
    }
    gsl_rng_free(rng);
}

/* ---- preference ---- */

static void prefers(void) {
    static const char *const rows[][2] = {
        /* the band first */
        {"10d-50", "none"},
        {"10d-50", "7d-50"},
        {"14d-60", "15d-50"},
        {"8d-45", "14d-40"},
        {"14d-60", "3d-100"},
        {"10d-50", "10d-40..60"},
        /* then fewer parts */
        {"none", "7d-50"},
        {"21d-75", "7d-50,7d-75"},
        {"7d-50,7d-75", "7d-25,7d-50,7d-75"},
        /* then a coarse scale */
        {"10d-50", "9d-50"},
        {"14d-60", "8d-45"},
        {"7d-75", "7d-35"},
        {"7d-50,7d-75", "6d-50,9d-65"},
        /* then what cuts least */
        {"8d-50", "10d-50"},
        {"8d-50", "8d-60"},
        {"7d-40", "3d-100"},
        {"5d-0..50", "5d-50"},
        {"7d-25,7d-50", "7d-50,7d-75"},
        {"14d-0..80", "14d-0~80"}, /* means 40 %, about 1 - .8/ln 5 */
    };
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        Option a = read(rows[k][0]), b = read(rows[k][1]);
        CU_ASSERT(common_prefer(&a, &b) < 0);
        CU_ASSERT(common_prefer(&b, &a) > 0);
        CU_ASSERT(common_prefer(&a, &a) == 0);
    }
}

/* An order: what is before a second that is before a third is before it. */
static void is_order(void) {
    gsl_rng *rng = test_random(86);
    static Game g;
    deal_options(rng, &g, MOST_OPTIONS);
    for (size_t a = 0; a < MOST_OPTIONS; a++)
        for (size_t b = 0; b < MOST_OPTIONS; b++)
            for (size_t c = 0; c < MOST_OPTIONS; c++)
                CU_ASSERT(!(common_prefer(&g.option[a], &g.option[b]) < 0 &&
                            common_prefer(&g.option[b], &g.option[c]) < 0) ||
                          common_prefer(&g.option[a], &g.option[c]) < 0);
    gsl_rng_free(rng);
}

/* ---- little to go by ---- */

static void ask(const char *const *specs, const double *gain, size_t athletes,
                CommonRule rule, Common *c, Game *g) {
    size_t m = 0;
    for (; specs[m]; m++)
        g->option[m] = read(specs[m]);
    memcpy(g->gain, gain, athletes * m * sizeof *gain);
    set_task(g, athletes, m);
    g->task.rule = rule;
    g->task.most = 1;
    common_find(&g->task, c);
}

static void has_taper(const Game *g, const Common *c, size_t i,
                      const char *spec) {
    Text text = {0};
    option_write(taper_of(&g->task, c, i), &text);
    ASSERT_TEXT(text_of(&text), spec);
    text_free(&text);
}

/* 8 days at half volume whatever the model says; for whom that is barred, what
 * is nearest. */
static void unknown(void) {
    static const char *const specs[] = {"none",        "8d-45",  "14d-60",
                                        "8d-50",       "3d-100", "5d-50",
                                        "4d-50,4d-50", NULL};
    const double gain[] = {0, 1,   9,   -1,  2,   3,   9,   /* */
                           0, 1,   9,   NAN, 2,   3,   9,   /* */
                           0, 1,   9,   2,   99,  3,   9,   /* */
                           0, NAN, NAN, NAN, 2,   3,   NAN, /* */
                           0, NAN, NAN, NAN, NAN, NAN, NAN};
    static Game g;
    Common c;
    ask(specs, gain, 5, COMMON_UNKNOWN, &c, &g);
    has_taper(&g, &c, 0, "8d-50");
    has_taper(&g, &c, 1, "8d-45");
    has_taper(&g, &c, 2, "8d-50");
    has_taper(&g, &c, 3, "5d-50");
    has_taper(&g, &c, 4, "none");
    CU_ASSERT(c.tapers == 4 && c.option[0] == 3);
    common_free(&c);
}

/* Nobody gains: no taper. Somebody who only loses has none, though the others
 * taper. Two who have no option in common have one each, whatever the bound. */
static void edges(void) {
    static const char *const specs[] = {"none", "8d-50", "14d-50", NULL};
    const double nobody[] = {0, -1, -2, 0, -.1, -.2};
    const double one[] = {0, 1, 2, 0, -1, -1, 0, 1, 2};
    const double apart[] = {NAN, 2, NAN, NAN, NAN, 1};
    const double worse[] = {NAN, -2, -1};
    static Game g;
    Common c;
    ask(specs, nobody, 2, COMMON_FEWEST, &c, &g);
    CU_ASSERT(c.tapers == 1 && c.lost == 0 && c.worst == 0);
    has_taper(&g, &c, 0, "none");
    common_free(&c);
    ask(specs, one, 3, COMMON_FEWEST, &c, &g);
    CU_ASSERT(c.tapers == 2);
    has_taper(&g, &c, 0, "14d-50");
    has_taper(&g, &c, 1, "none");
    common_free(&c);
    ask(specs, apart, 2, COMMON_BOUNDED, &c, &g);
    CU_ASSERT(c.tapers == 2);
    common_free(&c);
    ask(specs, worse, 1, COMMON_FEWEST, &c, &g);
    has_taper(&g, &c, 0, "14d-50");
    common_free(&c);
}

static const TestCase cases[] = {
    {"common_every_set", every_set},   {"common_by_programme", by_programme},
    {"common_bounded", bounded},       {"common_invariant", invariant},
    {"common_individual", individual}, {"common_prefers", prefers},
    {"common_is_order", is_order},     {"common_unknown", unknown},
    {"common_edges", edges},           {NULL, NULL},
};

const TestSuite suite_taper_common = {"taper", cases};
