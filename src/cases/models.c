/* models: see models.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/models.h"

#include "base/home.h"
#include "base/mem.h"
#include "calibrate/rounds.h"
#include "cases/squad_prior.h"
#include "season/check.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- athletes ---- */

static void free_model(CaseModel *entry) {
    if (!entry)
        return;
    free(entry->asked);
    if (!entry->settled)
        model_free(&entry->model);
    draws_free(&entry->draws);
    free(entry);
}

void models_free(Context *d) {
    for (size_t i = d->borrowed; i < d->model_count; i++)
        free_model(d->models[i]);
    free(d->models);
}

void models_free_kept(Context *d) {
    for (size_t i = 0; d->kept && i < d->season->athlete_count; i++)
        free_model(d->kept[i]);
    free(d->kept);
    d->kept = NULL;
}

/* A model that was found before; it is then this context's. */
static bool take_kept(Context *d, const Case *c, size_t *found) {
    CaseModel *entry = d->kept ? d->kept[c->athlete] : NULL;
    if (!entry)
        return false;
    d->kept[c->athlete] = NULL;
    models_add(d, entry);
    *found = d->model_count - 1;
    return true;
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

enum { KINDS_NAMED = 2 /* so that the name fits over a picture */ };

/* What the tests say, of so many kinds of which the first is shown, on top of
 * the literature. */
static void set_own(const AthleteTests *own, size_t kinds, const Season *s,
                    const Model *prior, const Posterior *posterior,
                    CaseModel *entry) {
    const char *test = s->test_names.items[own->test];
    size_t others = 0;
    Text name = {0};
    for (size_t k = 0; k < kinds && own->data.count > 0; k++) {
        if (k < KINDS_NAMED)
            text_add(&name, "%s%zu of %s", k ? ", " : "own tests (",
                     own[k].data.count, s->test_names.items[own[k].test]);
        else
            others += own[k].data.count;
        entry->tests += own[k].data.count;
        if (own[k].data.count > entry->most)
            entry->most = own[k].data.count;
    }
    if (others > 0)
        text_add(&name, ", %zu of other kinds", others);
    if (own->data.count > 0)
        text_add(&name, ") on the literature's prior");
    else
        text_add(&name, "the squad's tests (%s) on the literature's prior",
                 test);
    entry->own = true;
    entry->lower = own->lower;
    entry->bayes = posterior->bayes;
    entry->explained = posterior->explained;
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
                      size_t kinds, Posterior *posterior) {
    size_t prior = models_named(d, "literature");
    CaseModel *entry = new_model(d, c->name);
    set_own(own, kinds, d->season, &d->models[prior]->model, posterior, entry);
    entry->draws = posterior->draws;
    posterior->draws = (Draws){0};
    return d->model_count - 1;
}

static void warn_of_posterior(Context *d, const Case *c) {
    case_warn(d, c,
              "the tests and the literature's prior disagree so much that "
              "no posterior could be drawn; what the squad's others or, "
              "without them, the literature says is used instead");
}

/* Does the kind read last say what none before it does? If not it is freed. */
static bool is_new(Context *d, OwnTests *own) {
    AthleteTests *last = &own->tests[own->kinds];
    for (size_t k = 0; k < own->kinds; k++)
        if (athlete_tests_same(&own->tests[k], last)) {
            Text text = {0};
            text_add(&text,
                     "%s and %s say the same on the same days, so they count "
                     "as one kind of test",
                     d->season->test_names.items[own->tests[k].test],
                     d->season->test_names.items[last->test]);
            case_warn(d, NULL, text_of(&text));
            text_free(&text);
            athlete_tests_free(last);
            return false;
        }
    return true;
}

bool models_own_tests(Context *d, const Case *c, OwnTests *own) {
    const Season *s = d->season;
    AthleteTests *first = own->tests;
    const char *flat;
    *own = (OwnTests){.kinds = 0};
    if (!athlete_tests_read(s, c->athlete, &c->outlook, d->question->test,
                            first))
        return false;
    own->kinds = 1;
    check_tests(s, c->athlete, d->notes);
    flat = athlete_tests_flat(first);
    if (flat) {
        char text[STATUS_TEXT / 2];
        snprintf(text, sizeof text,
                 "%s, so the tests tell nothing of time constants; the "
                 "literature is used alone",
                 flat);
        case_warn(d, c, text);
        models_own_free(own);
        return false;
    }
    for (uint32_t i = 0; i < s->test_names.count && own->kinds < OWN_KINDS; i++)
        if (i != first->test && !d->question->only_test &&
            athlete_tests_read(s, c->athlete, &c->outlook,
                               s->test_names.items[i],
                               &own->tests[own->kinds]) &&
            is_new(d, own))
            own->kinds++;
    for (size_t k = 0; k < own->kinds; k++)
        own->group[k] = athlete_tests_kind(s, c->athlete, &own->tests[k]);
    return true;
}

void models_own_free(OwnTests *own) {
    for (size_t k = 0; k < own->kinds; k++)
        athlete_tests_free(&own->tests[k]);
    own->kinds = 0;
}

/* Each athlete's shapes have a shift of their own, made of the name (the hash
 * FNV-1a of Fowler, Noll and Vo; from memory), so that what a squad's
 * quadratures are off does not add up in its pool; it stays theirs as tests
 * arrive. */
static unsigned long seed_of(const char *name) {
    uint32_t hash = 2166136261;
    for (; *name; name++)
        hash = (hash ^ (unsigned char)*name) * 16777619;
    return hash;
}

StatusCode models_trail(Context *d, const Case *c, OwnTests *own,
                        const ShapePrior *squad, Trail **trail,
                        Status *status) {
    size_t found = models_named(d, "literature");
    own->asked = (PosteriorAsked){.model = &d->models[found]->model,
                                  .kind = own->group,
                                  .kinds = own->kinds,
                                  .squad = squad,
                                  .seed = seed_of(c->name)};
    return rounds_run(&own->asked, trail, status);
}

bool models_own_posterior(Context *d, const Case *c, OwnTests *own,
                          Posterior *posterior) {
    ShapePrior prior;
    bool shared = squad_prior_of(d, c->athlete, &prior);
    Trail *trail = NULL;
    Status status = {0};
    StatusCode code =
        models_trail(d, c, own, shared ? &prior : NULL, &trail, &status);
    if (code == STATUS_OK)
        posterior_from(trail, DRAWS_DEFAULT, posterior);
    trail_free(trail);
    if (code == STATUS_OK && posterior->ess >= POSTERIOR_LEAST)
        return true;
    warn_of_posterior(d, c);
    return false;
}

/* The kind of test that most of the season's tests are of (of as many the first
 * by name), or that of --test. */
static uint32_t main_kind(const Context *d) {
    const Season *s = d->season;
    size_t *count = mem_new(s->test_names.count, sizeof *count);
    uint32_t most = 0;
    for (size_t i = 0; i < s->athlete_count; i++)
        for (size_t k = 0; k < s->athletes[i].test_count; k++)
            count[s->athletes[i].tests[k].test]++;
    for (uint32_t i = 1; i < s->test_names.count; i++)
        if (count[i] > count[most] ||
            (count[i] == count[most] &&
             strcmp(s->test_names.items[i], s->test_names.items[most]) < 0))
            most = i;
    for (uint32_t i = 0; i < s->test_names.count; i++)
        if (d->question->test &&
            text_same(s->test_names.items[i], d->question->test))
            most = i;
    free(count);
    return most;
}

/* No tests, in a squad whose others have some. */
static bool newcomer(Context *d, const Case *c, OwnTests *own) {
    ShapePrior prior;
    *own = (OwnTests){.kinds = 0};
    if (!squad_prior_of(d, c->athlete, &prior))
        return false;
    athlete_tests_none(d->season, main_kind(d), &c->outlook, own->tests);
    own->group[0] = athlete_tests_kind(d->season, c->athlete, own->tests);
    own->kinds = 1;
    return true;
}

static bool draw_own(Context *d, const Case *c, OwnTests *own, size_t *found) {
    Posterior posterior = {0};
    bool drawn = models_own_posterior(d, c, own, &posterior);
    if (drawn)
        *found = add_own(d, c, own->tests, own->kinds, &posterior);
    posterior_free(&posterior);
    models_own_free(own);
    return drawn;
}

/* The model of an athlete's own tests, or for want of them, or where they and
 * the prior disagree too much, of their squad's; false when there are none. */
static bool find_own(Context *d, const Case *c, size_t *found) {
    OwnTests own;
    bool tested = models_own_tests(d, c, &own);
    if (take_kept(d, c, found)) {
        models_own_free(&own);
        return true;
    }
    if (tested && draw_own(d, c, &own, found))
        return true;
    return (tested || d->season->athletes[c->athlete].test_count == 0) &&
           newcomer(d, c, &own) && draw_own(d, c, &own, found);
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
    c->model = add_own(d, c, own, 1, &copy);
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
    size_t found = models_named(d, asked ? asked : "literature");
    return &d->models[found]->model; /* which may have moved */
}

/* ---- words ---- */

bool models_same_unit(const Model *a, const Model *b) {
    return a->scaled == b->scaled && a->lower == b->lower &&
           (!a->scaled || text_same(a->unit, b->unit));
}
