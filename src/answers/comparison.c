/* comparison: see comparison.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/comparison.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* Compared when no --option is given. */
static const char *const usual_options[] = {"none", "7d-50,7d-75", "3d-100",
                                            "14d-50", "best"};

enum { USUAL_OPTIONS = 5 };

/* Has any of the athletes asked for a plan for days to come? */
static bool anybody_handed(const Context *d) {
    for (size_t i = 0; i < d->chosen_count && !d->question->ignore_plan; i++) {
        size_t count;
        const HandedRow *rows = season_handed(d->season, d->chosen[i], &count);
        if (rows && rows[count - 1].date > d->season->today)
            return true;
    }
    return false;
}

static void add_handed(Comparison *k) {
    const Handed *h = &k->taper.handed;
    double none = k->taper.search.items[0].readiness;
    k->rows[k->count++] =
        (ComparisonRow){.name = "handed out",
                        .handed = true,
                        .readiness = h->there ? none + h->gain : NAN,
                        .gain = h->there ? h->gain : NAN,
                        .kept = h->there ? h->kept : NAN,
                        .spread = h->spread};
}

static void name_rows(const BestTaper *v, Comparison *k) {
    const Question *q = v->c->context->question;
    k->count = q->option_count ? q->option_count : USUAL_OPTIONS;
    k->rows = mem_new(k->count + 1, sizeof *k->rows); /* one handed out */
    for (size_t i = 0; i < k->count; i++) {
        ComparisonRow *row = &k->rows[i];
        const char *spec =
            q->option_count ? q->options[i].spec : usual_options[i];
        row->name = q->option_count ? q->options[i].name : usual_options[i];
        row->option = best_taper_option(&v->search, spec);
    }
}

StatusCode comparison_build(const Case *c, Comparison *k, Status *status) {
    StatusCode code = best_taper_build(c, &k->taper, status);
    BestTaper *v = &k->taper;
    Limits limits = case_limits(c);
    if (code != STATUS_OK)
        return code;
    name_rows(v, k);
    for (size_t i = 0; i < k->count; i++) {
        ComparisonRow *row = &k->rows[i];
        size_t days = (size_t)option_days(&row->option);
        row->readiness = score_option(&v->score, &row->option);
        row->gain = row->readiness - v->search.items[0].readiness;
        row->kept = search_kept(&c->outlook, &row->option,
                                days > v->search.days ? days : v->search.days);
        row->spread = best_taper_spread(v, &row->option);
        row->outside = !search_allows(&c->outlook, &limits, &row->option);
    }
    if (anybody_handed(c->context))
        add_handed(k);
    return STATUS_OK;
}

void comparison_free(Comparison *k) {
    best_taper_free(&k->taper);
    free(k->rows);
}

bool comparison_tapers(const ComparisonRow *row) {
    return row->handed ? isfinite(row->gain) : row->option.count > 0;
}

bool comparison_has_pairs(const Comparison *k) {
    return k->taper.draws.count > 0 && k->count > 1 && k->count <= 8;
}

double *comparison_gains(const Comparison *k) {
    size_t draws = k->taper.draws.count;
    double *gain = mem_new(k->count * draws, sizeof *gain);
    for (size_t i = 0; i < k->count; i++)
        if (!k->rows[i].handed ||
            !handed_gains(k->taper.c, &k->taper.draws, gain + i * draws))
            draw_scores_gains(&k->taper.draws, &k->rows[i].option,
                              gain + i * draws);
    return gain;
}
