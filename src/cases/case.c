/* case: see case.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/case.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- models ---- */

const Model *case_model(const Case *c) {
    return &c->context->models[c->model]->model;
}

const Draws *case_draws(const Case *c) {
    return &c->context->models[c->model]->draws;
}

size_t case_view(const Case *c, size_t view) {
    const Context *d = c->context;
    const char *asked = d->question->views[view];
    size_t found = c->model;
    for (size_t i = 0; i < d->model_count; i++) {
        const CaseModel *m = d->models[i];
        if (m->own || strcmp(m->asked, asked) != 0)
            continue;
        if (m->settled && strcmp(m->settled, c->name) == 0)
            return i;
        found = m->settled ? found : i;
    }
    return found;
}

double case_shown(const Case *c, double readiness) {
    return c->context->models[c->model]->lower ? -readiness : readiness;
}

bool case_has_figures(const Case *c) {
    const CaseModel *m = c->context->models[c->model];
    return !m->own || m->tests > 0;
}

bool case_level_known(const Case *c) {
    return case_model(c)->scaled && case_has_figures(c);
}

double case_anchor(const Case *c) {
    const Model *model = case_model(c);
    return model->scaled ? NAN : score_today(&c->outlook, &model->params);
}

/* ---- athletes ---- */

void case_warn(Context *d, const Case *c, const char *text) {
    Place place = {c ? c->name : NULL, 0, NULL};
    notes_add(d->notes, LEVEL_WARNING, place, "%s", text);
    notes_about(d->notes, c ? c->name : NULL, NULL);
}

const Absence *case_off(const Case *c) {
    const Absence *a = c->event ? season_absence(c->context->season, c->athlete,
                                                 c->event->start)
                                : NULL;
    return a && c->event->start <= a->to ? a : NULL;
}

bool case_absent(const Case *c, const Absence *a) {
    Date today = c->context->season->today;
    return a->athlete == c->athlete &&
           a->from <= (c->event ? c->event->start : today + 28) &&
           season_absence_matters(a, today);
}

bool case_eased(const Case *c) {
    const Season *s = c->context->season;
    for (size_t i = 0; i < s->absence_count; i++)
        if (case_absent(c, &s->absences[i]))
            return true;
    return false;
}

Limits case_limits(const Case *c) {
    const Season *s = c->context->season;
    Limits limits = c->context->question->limits;
    if (season_minor(&s->athletes[c->athlete], s->today) || case_eased(c))
        limits.build_up = 0;
    return limits;
}

/* ---- changed days ---- */

void case_free(Case *c) {
    daily_free(&c->daily);
    usual_free(&c->usual);
    outlook_free(&c->outlook);
}

/* ---- athlete after athlete ---- */

void case_free_all(Case *cases, size_t count) {
    for (size_t i = 0; i < count; i++)
        case_free(&cases[i]);
    free(cases);
}

void case_slim(Case *c) {
    Outlook known = c->outlook;
    CaseModel *model = c->context->models[c->model];
    if (model->own || model->settled)
        draws_free(&model->draws);
    case_free(c);
    c->outlook.window = known.window;
    c->outlook.may_go = known.may_go;
    c->outlook.stays = known.stays;
    c->outlook.event = known.event;
    c->outlook.log_days = known.log_days;
    c->outlook.days = known.days;
    c->outlook.event_day = known.event_day;
    c->outlook.event_days = known.event_days;
}
