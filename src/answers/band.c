/* band: see band.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/band.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static void from_draws(const Case *c, const Outlook *o, const Timeline *line,
                       ReadWhen when, Band *v) {
    size_t n = v->draws;
    v->all = mem_new(n * v->steps, sizeof *v->all);
    draw_readiness(o, line, case_draws(c), when, case_anchor(c), v->all);
    for (size_t step = 0; step < v->steps; step++) {
        double *row = v->all + step * n, sum = 0;
        for (size_t i = 0; i < n; i++)
            sum += row[i];
        v->mean[step] = sum / (double)n;
        v->low[step] = draws_quantile(row, n, .05);
        v->high[step] = draws_quantile(row, n, .95);
    }
}

static void from_model(const Case *c, const Timeline *line, ReadWhen when,
                       Band *v) {
    const ResponseParams *p = &case_model(c)->params;
    kernel_run(p, line, when, v->low, v->high);
    for (size_t step = 0; step < v->steps; step++) {
        v->mean[step] = p->value[PARAM_P0] + v->low[step] - v->high[step];
        v->low[step] = v->high[step] = NAN;
    }
}

void band_build(const Case *c, const Outlook *o, const double *cut,
                ReadWhen when, Band *v) {
    Timeline line = o->timeline;
    double *load = mem_new(line.steps, sizeof *load);
    *v = (Band){.steps = line.steps, .draws = case_draws(c)->count};
    v->mean = mem_new(v->steps, sizeof *v->mean);
    v->low = mem_new(v->steps, sizeof *v->low);
    v->high = mem_new(v->steps, sizeof *v->high);
    outlook_apply(o, cut, load);
    line.load = load;
    if (v->draws)
        from_draws(c, o, &line, when, v);
    else
        from_model(c, &line, when, v);
    free(load);
}

void band_free(Band *v) {
    free(v->mean);
    free(v->low);
    free(v->high);
    free(v->all);
    *v = (Band){0};
}

double band_today(const Case *c) {
    const Outlook *o = &c->outlook;
    size_t step = o->read_step[o->log_days - 1], n = case_draws(c)->count;
    Timeline line = o->timeline;
    double *all, today = 0;
    if (n == 0)
        return score_today(o, &case_model(c)->params);
    line.steps = step + 1;
    all = mem_new(n * line.steps, sizeof *all);
    draw_readiness(o, &line, case_draws(c), READ_BEFORE, case_anchor(c), all);
    for (size_t i = 0; i < n; i++)
        today += all[step * n + i] / (double)n;
    free(all);
    return today;
}

enum { AT_ONCE = 64 }; /* draws run at a time */

/* Adds a share of each set's readiness at every step. */
static void add_share(const ResponseParams *set, size_t sets,
                      const Timeline *line, ReadWhen when, double share,
                      double *sum) {
    double *all = mem_new(sets * line->steps, sizeof *all);
    kernel_batch(sets, set, line, when, all);
    for (size_t step = 0; step < line->steps; step++)
        for (size_t i = 0; i < sets; i++)
            sum[step] += share * all[step * sets + i];
    free(all);
}

void band_parts(const Case *c, const Timeline *line, ReadWhen when,
                double *fitness, double *fatigue) {
    const Draws *draws = case_draws(c);
    double share = 1 / (double)draws->count;
    if (draws->count == 0) {
        kernel_run(&case_model(c)->params, line, when, fitness, fatigue);
        return;
    }
    for (size_t step = 0; step < line->steps; step++)
        fitness[step] = fatigue[step] = 0;
    for (size_t from = 0; from < draws->count; from += AT_ONCE) {
        ResponseParams fit[AT_ONCE], tired[AT_ONCE];
        size_t some = 0;
        for (; some < AT_ONCE && from + some < draws->count; some++) {
            fit[some] = tired[some] = draws->set[from + some];
            fit[some].value[PARAM_P0] = tired[some].value[PARAM_P0] = 0;
            fit[some].value[PARAM_K2] = fit[some].value[PARAM_K3] = 0;
            tired[some].value[PARAM_K1] = 0;
        }
        add_share(fit, some, line, when, share, fitness);
        add_share(tired, some, line, when, -share, fatigue);
    }
}
