/* foretold: see foretold.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/foretold.h"

#include <math.h>

size_t foretold_kind(const Season *s, const char *test) {
    for (size_t i = 0; i < s->test_names.count; i++)
        if (text_same(s->test_names.items[i], test))
            return i;
    return NAMES_NONE;
}

/* ---- the test's own noise ---- */

/* Sums of one athlete's tests of a kind until a day. */
typedef struct {
    double step, square; /* from one test to the next */
    double given;        /* errors in the file */
    double mean, means;  /* of athletes' means, and of their squares */
    size_t pairs, errors, athletes;
} Noise;

static void add_noise(const Athlete *a, size_t kind, Date until, Noise *n) {
    const Test *before = NULL;
    double own = 0;
    size_t count = 0;
    for (size_t k = 0; k < a->test_count; k++) {
        const Test *test = &a->tests[k];
        double step = before ? test->value - before->value : 0;
        if (test->test != kind || test->date > until)
            continue;
        own += test->value;
        count++;
        n->step += step;
        n->square += step * step;
        n->pairs += before != NULL;
        n->given += isfinite(test->error) ? test->error : 0;
        n->errors += isfinite(test->error) ? 1 : 0;
        before = test;
    }
    if (count == 0)
        return;
    own /= (double)count;
    n->mean += own;
    n->means += own * own;
    n->athletes++;
}

static double sd(double sum, double square, size_t count) {
    return sqrt(fmax(0, square - sum * sum / (double)count) /
                (double)(count - 1));
}

TestNoise foretold_noise(const Season *s, size_t kind, Date until) {
    Noise n = {0};
    TestNoise noise = {NAN, NAN};
    for (size_t i = 0; i < s->athlete_count; i++)
        add_noise(&s->athletes[i], kind, until, &n);
    if (n.errors > 0)
        noise.typical_error = n.given / (double)n.errors;
    else if (n.pairs > 2)
        noise.typical_error = sd(n.step, n.square, n.pairs) / sqrt(2);
    if (n.athletes > 2)
        noise.worthwhile = .2 * sd(n.mean, n.means, n.athletes);
    return noise;
}

/* ---- the forecast ---- */

/* A measured outcome has the test's noise on top; `low` and `high` are NAN
 * where the model has no spread. */
static Foretold widened(const Case *c, double readiness, double low,
                        double high) {
    const Season *s = c->context->season;
    const char *test = case_model(c)->unit;
    TestNoise noise = foretold_noise(s, foretold_kind(s, test), s->today);
    double value = case_shown(c, readiness);
    double more =
        isfinite(noise.typical_error) ? FORETOLD_Z90 * noise.typical_error : 0;
    double below = isnan(low) ? 0 : value - low;
    double above = isnan(high) ? 0 : high - value;
    return (Foretold){.value = value,
                      .low = value - hypot(below, more),
                      .high = value + hypot(above, more),
                      .test = test};
}

static const Foretold untold = {NAN, NAN, NAN, NULL};

Foretold foretold_as_usual(const Case *c) {
    DrawScores draws;
    Score score;
    Foretold told;
    double a, b;
    if (!case_level_known(c))
        return untold;
    best_taper_score(c, &c->outlook, &draws, &score);
    a = case_shown(c, draws_quantile(draws.none, draws.count, .05));
    b = case_shown(c, draws_quantile(draws.none, draws.count, .95));
    told = widened(c, score_aim(&score, score.base), fmin(a, b), fmax(a, b));
    draw_scores_free(&draws);
    score_free(&score);
    return told;
}

Foretold foretold_cuts(const BestTaper *v, double readiness,
                       const double *cut) {
    Spread spread;
    if (!case_level_known(v->c))
        return untold;
    spread = best_taper_spread_cuts(v, cut);
    return widened(v->c, readiness, spread.readiness_low,
                   spread.readiness_high);
}
