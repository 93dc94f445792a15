/* models: see models.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/models.h"

#include "base/home.h"
#include "base/mem.h"
#include "season/check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- athletes ---- */

void models_free(Context *d) {
    for (size_t i = d->borrowed; i < d->model_count; i++) {
        free(d->models[i]->asked);
        if (!d->models[i]->settled)
            model_free(&d->models[i]->model);
        draws_free(&d->models[i]->draws);
        free(d->models[i]);
    }
    free(d->models);
}

/* ---- models ---- */

static void load_model(Context *d, CaseModel *entry) {
    Status status = {0};
    Place place = {0};
    char *folder = home_folder("models");
    bool found = model_find(entry->asked, folder, &entry->model, d->notes);
    free(folder);
    if (!found)
        return;
    entry->lower = entry->model.lower;
    if (entry->model.draws)
        draws_read(entry->model.draws, entry->model.params.kind, &entry->draws,
                   d->notes);
    else if (draws_from_spreads(&entry->model, DRAWS_DEFAULT, d->question->seed,
                                &entry->draws, &status) != STATUS_OK)
        notes_add(d->notes, LEVEL_ERROR, place, "%s", status.text);
}

void models_add(Context *d, CaseModel *entry) {
    d->models = mem_grow(d->models, &d->model_room, d->model_count + 1,
                         sizeof *d->models);
    d->models[d->model_count++] = entry;
}

static CaseModel *new_model(Context *d, const char *asked) {
    CaseModel *entry = mem_new(1, sizeof *entry);
    entry->asked = mem_copy(asked);
    models_add(d, entry);
    return entry;
}

size_t models_named(Context *d, const char *asked) {
    for (size_t i = 0; i < d->model_count; i++)
        if (!d->models[i]->own && !d->models[i]->settled &&
            strcmp(d->models[i]->asked, asked) == 0)
            return i;
    load_model(d, new_model(d, asked));
    return d->model_count - 1;
}

/* What the tests say, on top of the literature. */
static void set_own(const AthleteTests *own, const Season *s,
                    const Model *prior, const Posterior *posterior,
                    CaseModel *entry) {
    const char *test = s->test_names.items[own->test];
    Text name = {0};
    text_add(&name, "own tests (%zu of %s) on the literature's prior",
             own->data.count, test);
    entry->own = true;
    entry->lower = own->lower;
    entry->tests = own->data.count;
    entry->model = (Model){.name = mem_copy(text_of(&name)),
                           .source = mem_copy(prior->source),
                           .unit = mem_copy(test),
                           .params = posterior->centre,
                           .lower = own->lower,
                           .scaled = true};
    for (int i = 0; i < PARAMS; i++)
        entry->model.spread[i] = NAN;
    text_free(&name);
}

/* What a posterior of own tests becomes; its draws are taken over. */
static size_t add_own(Context *d, const Case *c, const AthleteTests *own,
                      Posterior *posterior) {
    size_t prior = models_named(d, "literature");
    CaseModel *entry = new_model(d, c->name);
    set_own(own, d->season, &d->models[prior]->model, posterior, entry);
    entry->draws = posterior->draws;
    posterior->draws = (Draws){0};
    return d->model_count - 1;
}

static void warn_of_posterior(Context *d, const Case *c) {
    case_warn(d, c,
              "the tests and the literature's prior disagree so much that "
              "no posterior could be drawn; the literature is used alone");
}

/* Draws from the posterior; false with a warning. */
static bool draw_own(Context *d, const Case *c, const AthleteTests *own,
                     Posterior *posterior) {
    const Model *model = &d->models[models_named(d, "literature")]->model;
    PosteriorPrior scale = posterior_prior(&own->data);
    Status status = {0};
    if (posterior_run(model, &own->data, &scale, DRAWS_DEFAULT,
                      d->question->seed, posterior, &status) == STATUS_OK &&
        posterior->ess >= POSTERIOR_LEAST)
        return true;
    warn_of_posterior(d, c);
    return false;
}

/* The model of an athlete's own tests; false when there are none. */
static bool find_own(Context *d, const Case *c, size_t *found) {
    AthleteTests own;
    Posterior posterior = {0};
    bool drawn = false;
    if (!athlete_tests_read(d->season, c->athlete, &c->outlook,
                            d->question->test, &own))
        return false;
    check_tests(d->season, c->athlete, d->notes);
    if (athlete_tests_flat(&own))
        case_warn(d, c,
                  "the load hardly varies over the log, so the tests tell "
                  "nothing of time constants; the literature is used alone");
    else
        drawn = draw_own(d, c, &own, &posterior);
    if (drawn)
        *found = add_own(d, c, &own, &posterior);
    posterior_free(&posterior);
    athlete_tests_free(&own);
    return drawn;
}

const char *models_asked(const Context *d, size_t athlete) {
    return d->question->model ? d->question->model
                              : d->season->athletes[athlete].model;
}

void models_take_own(Context *d, Case *c, const AthleteTests *own,
                     const Posterior *posterior) {
    Posterior copy = *posterior;
    size_t bytes = copy.draws.count * sizeof *copy.draws.set;
    if (models_asked(d, c->athlete))
        return;
    check_tests(d->season, c->athlete, d->notes);
    if (copy.ess < POSTERIOR_LEAST) {
        warn_of_posterior(d, c);
        return;
    }
    copy.draws.set = mem_new(copy.draws.count, sizeof *copy.draws.set);
    memcpy(copy.draws.set, posterior->draws.set, bytes);
    c->model = add_own(d, c, own, &copy);
}

static double mean_load(const Daily *daily) {
    double sum = 0;
    for (size_t i = 0; i < daily->days; i++)
        sum += daily->load[i];
    return daily->days ? sum / (double)daily->days : 0;
}

size_t models_settled(Context *d, const Case *c, size_t named) {
    const CaseModel *from = d->models[named];
    CaseModel *entry;
    size_t bytes = from->draws.count * sizeof *from->draws.set;
    double mean = mean_load(&c->daily);
    if (from->model.params.kind != RESPONSE_GRADED || from->own ||
        from->settled)
        return named;
    entry = new_model(d, from->asked);
    entry->model = from->model;
    entry->lower = from->lower;
    entry->settled = c->name;
    response_settle(&entry->model.params, mean);
    entry->draws.count = from->draws.count;
    entry->draws.set = mem_new(from->draws.count, sizeof *entry->draws.set);
    if (bytes)
        memcpy(entry->draws.set, from->draws.set, bytes);
    draws_settle(&entry->draws, mean);
    return d->model_count - 1;
}

size_t models_of(Context *d, const Case *c) {
    const char *asked = models_asked(d, c->athlete);
    size_t own;
    if (!asked && !d->own_later && find_own(d, c, &own))
        return own;
    return models_settled(d, c, models_named(d, asked ? asked : "literature"));
}

const Model *models_prior(Context *d, const Case *c) {
    const char *asked = models_asked(d, c->athlete);
    return &d->models[models_named(d, asked ? asked : "literature")]->model;
}

/* ---- words ---- */

bool models_same_unit(const Model *a, const Model *b) {
    return a->scaled == b->scaled && a->lower == b->lower &&
           (!a->scaled || text_same(a->unit, b->unit));
}
