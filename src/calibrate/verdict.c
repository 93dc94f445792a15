/* verdict: see verdict.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/verdict.h"

#include "base/mem.h"
#include "calibrate/rounds.h"
#include "calibrate/trail.h"

#include <math.h>
#include <stdlib.h>

enum { VERDICT = 256 /* shapes on which it rests */ };

/* Shapes that are asked, and the prior of each member over the share in which
 * they were chosen. They tell by what factor the likelihood changes when errors
 * are taken as normal: what it is as errors were learned is known of all shapes
 * (a ratio estimator: Cochran 1977, Sampling Techniques, ch. 6; from memory).
 */
typedef struct {
    size_t count, at[VERDICT];
    double prior[MEMBERS][VERDICT];
    /* [(kind * members + member) * VERDICT + shape] ln */
    double *plain, *learned;
} Jury;

static void choose_jury(const Trail *t, Jury *jury) {
    double *even = trail_half_evenly(t);
    Walk walk = {.5, 0, 0, NULL};
    jury->count = VERDICT;
    for (size_t i = 0; i < jury->count; i++) {
        size_t at = jury->at[i] = trail_walk(
            even, t->count, ((double)i + walk.offset) / VERDICT, &walk);
        for (size_t k = 0; k < t->members; k++)
            jury->prior[k][i] = exp(t->density[k * TRAIL_MOST + at]) /
                                t->share[at] / even[at] / VERDICT;
    }
    free(even);
}

/* Moves the cells to where sigma is under the shape of most weight. */
static void aim_at_best(Trail *t, const Jury *jury) {
    size_t best = jury->at[0];
    for (size_t i = 1; i < jury->count; i++)
        best = t->total[jury->at[i]] > t->total[best] ? jury->at[i] : best;
    for (size_t j = 0; j < t->a.kinds; j++)
        for (int again = 0; again < 3 && t->a.kind[j].data->count > 0;
             again++) {
            size_t k = trail_member(t, best, .5);
            double mean, square;
            Picked p;
            trail_pick(t, t->plain[j], best, j, &p);
            trail_pick_member(t, t->plain[j], k, &p);
            marginal_sigma(t->plain[j], p.cell[k], &mean, &square);
            marginal_aim(t->plain[j], mean,
                         1.6 * sqrt(fmax(0, square - mean * mean)));
        }
}

/* ln of the sum over the prior of the likelihood of some kinds together. */
static double ask(const Trail *t, const Jury *jury, const double *likes,
                  size_t from, size_t to, const double *mean_like) {
    double sum = 0, top = -INFINITY, value[MEMBERS][VERDICT];
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < jury->count; i++) {
            const double *like = likes + k * VERDICT + i;
            size_t next = t->members * VERDICT; /* kind */
            value[k][i] = like[from * next];
            for (size_t j = from + 1; j < to; j++)
                value[k][i] += rounds_given_way(like[j * next], mean_like[j]);
            top = fmax(top, value[k][i]);
        }
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < jury->count; i++)
            sum += jury->prior[k][i] * exp(value[k][i] - top);
    return top + log(sum);
}

/* Those of a shape that was asked before are known. */
static void ask_each(Trail *t, Jury *jury) {
    size_t rows = t->a.kinds * t->members;
    jury->plain = mem_new(2 * rows * VERDICT, sizeof(double));
    jury->learned = jury->plain + rows * VERDICT;
    for (size_t i = 0; i < jury->count; i++) {
        double *plain = jury->plain + i;
        if (i == 0 || jury->at[i] != jury->at[i - 1])
            trail_likes(t, t->plain, jury->at[i], plain, VERDICT);
        else
            for (size_t k = 0; k < rows; k++)
                plain[k * VERDICT] = (plain - 1)[k * VERDICT];
        for (size_t k = 0; k < rows; k++)
            jury->learned[k * VERDICT + i] =
                t->like[k * TRAIL_MOST + jury->at[i]];
    }
}

double verdict_bayes(Trail *t, double *kind_bayes) {
    Jury *jury = mem_new(1, sizeof *jury);
    double bayes = rounds_log_mean(t);
    double *plain = mem_new(2 * t->a.kinds, sizeof *plain);
    double *learned = plain + t->a.kinds; /* means over the prior */
    choose_jury(t, jury);
    aim_at_best(t, jury);
    ask_each(t, jury);
    for (size_t j = 0; j < t->a.kinds; j++) {
        learned[j] = rounds_log_mean_like(t, j);
        plain[j] = learned[j] + ask(t, jury, jury->plain, j, j + 1, NULL) -
                   ask(t, jury, jury->learned, j, j + 1, NULL);
        kind_bayes[j] = plain[j] - t->none[j];
        bayes -= t->none[j];
    }
    bayes += ask(t, jury, jury->plain, 0, t->a.kinds, plain) -
             ask(t, jury, jury->learned, 0, t->a.kinds, learned);
    free(plain);
    free(jury->plain);
    free(jury);
    return bayes;
}
