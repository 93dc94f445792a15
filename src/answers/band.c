/* band: see band.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/band.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static void from_draws(const Case *c, const Outlook *o, const Timeline *line,
                       Band *v) {
    size_t n = v->draws;
    v->all = mem_new(n * v->steps, sizeof *v->all);
    draw_readiness(o, line, case_draws(c), READ_BEFORE, case_anchor(c), v->all);
    for (size_t step = 0; step < v->steps; step++) {
        double *row = v->all + step * n, sum = 0;
        for (size_t i = 0; i < n; i++)
            sum += row[i];
        v->mean[step] = sum / (double)n;
        v->low[step] = draws_quantile(row, n, .05);
        v->high[step] = draws_quantile(row, n, .95);
    }
}

static void from_model(const Case *c, const Timeline *line, Band *v) {
    const ResponseParams *p = &case_model(c)->params;
    kernel_run(p, line, READ_BEFORE, v->low, v->high);
    for (size_t step = 0; step < v->steps; step++) {
        v->mean[step] = p->value[PARAM_P0] + v->low[step] - v->high[step];
        v->low[step] = v->high[step] = NAN;
    }
}

void band_build(const Case *c, const Outlook *o, const double *cut, Band *v) {
    Timeline line = o->timeline;
    double *load = mem_new(line.steps, sizeof *load);
    *v = (Band){.steps = line.steps, .draws = case_draws(c)->count};
    v->mean = mem_new(v->steps, sizeof *v->mean);
    v->low = mem_new(v->steps, sizeof *v->low);
    v->high = mem_new(v->steps, sizeof *v->high);
    outlook_apply(o, cut, load);
    line.load = load;
    if (v->draws)
        from_draws(c, o, &line, v);
    else
        from_model(c, &line, v);
    free(load);
}

void band_free(Band *v) {
    free(v->mean);
    free(v->low);
    free(v->high);
    free(v->all);
    *v = (Band){0};
}
