/* next: see next.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/next.h"

#include "base/mem.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

/* A quantity and its weight, sorted together. */
typedef struct {
    double value, weight;
} Weighted;

static int by_value(const void *a, const void *b) {
    const Weighted *x = a, *y = b;
    return (x->value > y->value) - (x->value < y->value);
}

/* Width between the 5 % and the 95 % point of sorted weighted values. */
static double width(const double *weight, const size_t *order,
                    const double *quantity, size_t n) {
    double total = 0, sum = 0, low = NAN, high = NAN;
    for (size_t i = 0; i < n; i++)
        total += weight[order[i]];
    for (size_t i = 0; i < n; i++) {
        sum += weight[order[i]];
        if (isnan(low) && sum >= .05 * total)
            low = quantity[order[i]];
        if (isnan(high) && sum >= .95 * total)
            high = quantity[order[i]];
    }
    return high - low;
}

static size_t *sorted(const double *quantity, size_t n) {
    Weighted *pair = mem_new(n, sizeof *pair);
    size_t *order = mem_new(n, sizeof *order);
    for (size_t i = 0; i < n; i++)
        pair[i] = (Weighted){quantity[i], (double)i};
    qsort(pair, n, sizeof *pair, by_value);
    for (size_t i = 0; i < n; i++)
        order[i] = (size_t)pair[i].weight;
    free(pair);
    return order;
}

enum { OUTCOMES = 48 };

double next_narrowing(const Posterior *p, const double *reading,
                      const double *quantity) {
    size_t n = p->draws.count, *order = sorted(quantity, n);
    double *weight = mem_new(n, sizeof *weight), now, sum = 0;
    for (size_t i = 0; i < n; i++)
        weight[i] = 1;
    now = width(weight, order, quantity, n);
    for (size_t k = 0; k < OUTCOMES; k++) {
        /* draws are in order of weight, so a stride takes all kinds; noise at
           even quantiles in a scattered order */
        size_t from = (k * 2 + 1) * n / (2 * OUTCOMES);
        double u = ((double)(k * 29 % OUTCOMES) + .5) / OUTCOMES;
        double outcome =
            reading[from] + p->sigma[from] * gsl_cdf_ugaussian_Pinv(u);
        for (size_t i = 0; i < n; i++) {
            double x = (outcome - reading[i]) / p->sigma[i];
            weight[i] = exp(-.5 * x * x) / p->sigma[i];
        }
        sum += width(weight, order, quantity, n);
    }
    free(order);
    free(weight);
    return now > 0 ? sum / OUTCOMES / now : NAN;
}
