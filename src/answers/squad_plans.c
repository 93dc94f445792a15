/* squad_plans: see squad_plans.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/squad_plans.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* A plan of their own must be better in at least so many of the likely models
 * before it is called worth it. */
#define SURE .95

/* ---- options of all ---- */

static ListedOption *find_listed(const SquadPlans *s, const Option *option) {
    return bsearch(option, s->listed, s->options, sizeof *s->listed,
                   option_order);
}

/* Adds the options of one search that are not there yet: of athletes who train
 * together most are. */
static void list_search(SquadPlans *s, const Search *search, size_t *room) {
    size_t all = s->options;
    for (size_t k = 0; k < search->count; k++) {
        const Option *option = &search->items[k].option;
        if (s->options > 0 && find_listed(s, option))
            continue;
        s->listed = mem_grow(s->listed, room, all + 1, sizeof *s->listed);
        s->listed[all++].option = *option;
    }
    if (all == s->options)
        return;
    qsort(s->listed, all, sizeof *s->listed, option_order);
    s->options = 1;
    for (size_t k = 1; k < all; k++)
        if (option_order(&s->listed[s->options - 1], &s->listed[k]) != 0)
            s->listed[s->options++] = s->listed[k];
}

/* Every option that was searched for any of the athletes, once. */
static void list_options(SquadPlans *s) {
    size_t room = 0;
    for (size_t i = 0; i < s->count; i++)
        list_search(s, &s->v[i]->search, &room);
    s->option = mem_new(s->options, sizeof *s->option);
    for (size_t k = 0; k < s->options; k++)
        s->option[k] = s->listed[k].option;
    qsort(s->option, s->options, sizeof *s->option, common_prefer);
    for (size_t k = 0; k < s->options; k++)
        find_listed(s, &s->option[k])->at = k;
}

static size_t find_option(const SquadPlans *s, const Option *option) {
    return find_listed(s, option)->at;
}

/* Options that another athlete's search listed and this one's did not: longer
 * than their days allow, or against their week's limits. */
static void score_rest(const SquadPlans *s, size_t i) {
    const BestTaper *v = s->v[i];
    const Limits *limits = &v->c->context->question->limits;
    for (size_t k = 0; k < s->options; k++) {
        size_t cell = i * s->options + k;
        const Option *option = &s->option[k];
        if (!isnan(s->gain[cell]))
            continue;
        s->gain[cell] = -INFINITY;
        if (search_allows(&v->c->outlook, limits, option))
            s->gain[cell] =
                score_option(&v->score, option) - v->search.items[0].readiness;
        s->kept[cell] = search_kept(&v->c->outlook, option, v->search.days);
    }
}

static void score_all(SquadPlans *s, size_t i) {
    const Search *search = &s->v[i]->search;
    size_t cells = i * s->options;
    for (size_t k = 0; k < s->options; k++)
        s->gain[cells + k] = NAN;
    for (size_t k = 0; k < search->count; k++) {
        size_t at = find_option(s, &search->items[k].option);
        s->gain[cells + at] = search->items[k].gain;
        s->kept[cells + at] = search->items[k].kept;
    }
    score_rest(s, i);
    s->own[i] = find_option(s, &search->items[search->best].option);
    for (size_t k = 0; k < s->options; k++)
        if (s->gain[cells + k] > s->gain[cells + s->own[i]])
            s->own[i] = k;
    for (size_t k = 0; k < s->options; k++)
        s->loss[cells + k] = (s->gain[cells + s->own[i]] - s->gain[cells + k]) /
                             s->v[i]->possible;
    s->slack[i] =
        (COMMON_OWN + 1e-9) * s->gain[cells + s->own[i]] / s->v[i]->possible;
}

/* Gains in one unit (common.h): those of a test, or shares of each athlete's
 * own best where there is none for all. */
static double *gains_of(const SquadPlans *s) {
    double *gain = mem_new(s->count * s->options, sizeof *gain);
    bool alike = true;
    for (size_t i = 1; i < s->count; i++)
        alike = alike && best_taper_same_unit(s->v[0], s->v[i]);
    for (size_t i = 0; i < s->count; i++) {
        double by = alike ? 1 : 1 / s->gain[i * s->options + s->own[i]];
        for (size_t k = 0; k < s->options; k++) {
            double one = s->gain[i * s->options + k];
            gain[i * s->options + k] = isfinite(one) ? by * one : NAN;
        }
    }
    return gain;
}

static void find_groups(SquadPlans *s, size_t most) {
    double *gain = gains_of(s);
    const double **row = mem_new(s->count, sizeof *row);
    CommonTask task = {.athletes = s->count,
                       .options = s->options,
                       .option = s->option,
                       .gain = row,
                       .rule = COMMON_BOUNDED};
    for (size_t i = 0; i < s->count; i++)
        row[i] = gain + i * s->options;
    s->most = most < s->count ? most : s->count;
    for (size_t n = 0; n < s->most; n++) {
        task.most = n + 1;
        common_find(&task, &s->groups[n]);
    }
    free(row);
    free(gain);
}

/* ---- building ---- */

void squad_plans_build(const BestTaper *all, size_t count, const Event *event,
                       size_t most, SquadPlans *s) {
    *s = (SquadPlans){0};
    s->v = mem_new(count, sizeof *s->v);
    s->left = mem_new(count, sizeof *s->left);
    s->unknown = mem_new(count, sizeof *s->unknown);
    for (size_t i = 0; i < count; i++) {
        if (all[i].c->event != event)
            continue;
        if (best_taper_unknown(&all[i]))
            s->unknown[s->unknown_count++] = &all[i];
        else if (all[i].search.best > 0 && all[i].possible > 0)
            s->v[s->count++] = &all[i];
        else
            s->left[s->left_count++] = &all[i];
    }
    list_options(s);
    s->gain = mem_new(s->count * s->options, sizeof *s->gain);
    s->loss = mem_new(s->count * s->options, sizeof *s->loss);
    s->kept = mem_new(s->count * s->options, sizeof *s->kept);
    s->own = mem_new(s->count, sizeof *s->own);
    s->slack = mem_new(s->count, sizeof *s->slack);
    for (size_t i = 0; i < s->count; i++)
        score_all(s, i);
    if (s->count > 0)
        find_groups(s, most);
}

void squad_plans_free(SquadPlans *s) {
    for (size_t n = 0; n < s->most; n++)
        common_free(&s->groups[n]);
    free(s->v);
    free(s->left);
    free(s->unknown);
    free(s->option);
    free(s->listed);
    free(s->gain);
    free(s->loss);
    free(s->kept);
    free(s->own);
    free(s->slack);
    *s = (SquadPlans){0};
}

/* ---- one athlete under one plan ---- */

/* Of a loss beyond the slack. */
static Worth worth_of(double better) {
    return isfinite(better) && better < SURE ? WORTH_UNSURE : WORTH_YES;
}

Lot squad_plans_lot(const SquadPlans *s, const Common *g, size_t i) {
    const BestTaper *v = s->v[i];
    Lot lot = {.plan = g->taper[i], .option = g->option[g->taper[i]]};
    size_t n = v->draws.count;
    double *own = mem_new(n, sizeof *own), *other = mem_new(n, sizeof *other);
    draw_scores_gains(&v->draws, &s->option[s->own[i]], own);
    draw_scores_gains(&v->draws, &s->option[lot.option], other);
    lot.better = draw_scores_beat(own, other, n);
    for (size_t k = 0; k < n; k++)
        own[k] = (own[k] - other[k]) / v->possible;
    lot.loss = s->loss[i * s->options + lot.option];
    lot.low = draws_quantile(own, n, .05);
    lot.high = draws_quantile(own, n, .95);
    lot.worth = lot.loss <= s->slack[i] ? WORTH_NO : worth_of(lot.better);
    free(own);
    free(other);
    return lot;
}

/* The draws are asked only about those who lose much. */
static Worth find_worth(const SquadPlans *s, const Common *g, size_t i) {
    size_t option = g->option[g->taper[i]];
    double loss = s->loss[i * s->options + option];
    return loss <= s->slack[i]
               ? WORTH_NO
               : worth_of(best_taper_beats(s->v[i], &s->option[s->own[i]],
                                           &s->option[option]));
}

size_t squad_plans_count(const SquadPlans *s, size_t n, Worth worth) {
    size_t count = 0;
    for (size_t i = 0; i < s->count; i++)
        count += find_worth(s, &s->groups[n - 1], i) == worth;
    return count;
}

size_t squad_plans_enough(const SquadPlans *s, Worth worth) {
    for (size_t n = 1; n <= s->most; n++) {
        size_t count = 0;
        for (Worth above = WORTH_YES; above > worth; above--)
            count += squad_plans_count(s, n, above);
        if (count == 0)
            return n;
    }
    return 0;
}

void squad_plans_settle(SquadPlans *s) {
    size_t n = squad_plans_enough(s, WORTH_NO);
    for (; n > 0 && s->most > n; s->most--)
        common_free(&s->groups[s->most - 1]);
}
