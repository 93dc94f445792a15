/* models_compared: see models_compared.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/models_compared.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

double models_compared_share(const BestTaper *v, size_t option) {
    return search_share(v->search.items[option].gain, v->possible);
}

double models_compared_least(const ModelsCompared *w, size_t option) {
    double least = INFINITY;
    for (size_t i = 0; i < w->count; i++) {
        const BestTaper *v = &w->tapers[i];
        double share = v->search.best > 0 ? models_compared_share(v, option)
                       : option > 0       ? -INFINITY
                                          : 0;
        least = fmin(least, share);
    }
    return least;
}

/* Shares alike: the option that keeps more training. */
static void choose_both(ModelsCompared *w) {
    const Search *s = &w->tapers[0].search;
    double best = models_compared_least(w, 0);
    for (size_t i = 1; i < s->count; i++) {
        double least = models_compared_least(w, i);
        bool better = least > best + 1e-9;
        bool alike = fabs(least - best) <= 1e-9;
        if (better || (alike && s->items[i].kept > s->items[w->both].kept)) {
            w->both = i;
            best = least;
        }
    }
}

StatusCode models_compared_build(const Case *c, ModelsCompared *w,
                                 Status *status) {
    StatusCode code = STATUS_OK;
    *w = (ModelsCompared){.count = c->context->question->view_count};
    w->cases = mem_new(w->count, sizeof *w->cases);
    w->tapers = mem_new(w->count, sizeof *w->tapers);
    for (size_t i = 0; i < w->count && code == STATUS_OK; i++) {
        w->cases[i] = *c;
        w->cases[i].model = case_view(c, i);
        code = best_taper_build(&w->cases[i], &w->tapers[i], status);
    }
    if (code == STATUS_OK)
        choose_both(w);
    return code;
}

void models_compared_free(ModelsCompared *w) {
    for (size_t i = 0; i < w->count; i++)
        best_taper_free(&w->tapers[i]);
    free(w->tapers);
    free(w->cases);
}

size_t models_compared_option(const ModelsCompared *w, size_t row) {
    return row < w->count ? w->tapers[row].search.recommended : w->both;
}

bool models_compared_agree(const ModelsCompared *w) {
    for (size_t row = 0; row < w->count; row++)
        for (size_t i = 0; i < w->count; i++) {
            const Search *s = &w->tapers[i].search;
            double own = s->items[s->recommended].gain;
            if (s->items[models_compared_option(w, row)].gain <
                .9 * own - 1e-12)
                return false;
            if (s->best == 0 && models_compared_option(w, row) > 0)
                return false;
        }
    return true;
}
