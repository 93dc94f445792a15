/* next: see next.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/next.h"

#include "base/mem.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

enum { OUTCOMES = 256 };

/* Largest weighted mean gain; `weight` NULL: all alike. */
static double best_gain(const Choice *c, size_t draws, const double *weight) {
    double best = -INFINITY, all = 0;
    for (size_t i = 0; i < draws; i++)
        all += weight ? weight[i] : 1;
    for (size_t k = 0; k < c->options; k++) {
        const double *gain = c->gain + k * draws;
        double sum = 0;
        for (size_t i = 0; i < draws; i++)
            sum += (weight ? weight[i] : 1) * gain[i];
        best = fmax(best, sum / all);
    }
    return best;
}

/* What a reading says of each draw, up to a factor. */
static void weigh(const Posterior *p, const double *reading, double outcome,
                  double *weight) {
    double nearest = INFINITY;
    for (size_t i = 0; i < p->draws.count; i++) {
        double x = (outcome - reading[i]) / p->sigma[i];
        weight[i] = .5 * x * x + log(p->sigma[i]);
        nearest = fmin(nearest, weight[i]);
    }
    for (size_t i = 0; i < p->draws.count; i++)
        weight[i] = exp(nearest - weight[i]);
}

double next_worth(const Posterior *p, const double *reading,
                  const Choice *choice) {
    size_t n = p->draws.count;
    double *weight = mem_new(n, sizeof *weight), sum = 0;
    double now = best_gain(choice, n, NULL);
    for (size_t k = 0; k < OUTCOMES; k++) {
        /* draws are in order of their shapes, so a stride takes all kinds;
           noise at even quantiles in a scattered order */
        size_t from = (k * 2 + 1) * n / (2 * OUTCOMES);
        double u = ((double)(k * 101 % OUTCOMES) + .5) / OUTCOMES;
        weigh(p, reading,
              reading[from] + p->sigma[from] * gsl_cdf_ugaussian_Pinv(u),
              weight);
        sum += best_gain(choice, n, weight);
    }
    free(weight);
    return fmax(0, sum / OUTCOMES - now);
}
