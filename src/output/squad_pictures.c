/* squad_pictures: see squad_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/squad_pictures.h"

#include "base/mem.h"
#include "present/squad_pictures.h"

#include <stdlib.h>

enum { COLUMNS_MOST = 14 /* more cannot be read */ };

/* The columns of the picture: the common tapers, then each athlete's own best
 * that is none of them, as far as there is room. */
static size_t choose_columns(const SquadPlans *s, const Common *g,
                             size_t columns[COLUMNS_MOST]) {
    size_t count = 0;
    for (size_t p = 0; p < g->tapers; p++)
        columns[count++] = g->option[p];
    for (size_t i = 0; i < s->count && count < COLUMNS_MOST; i++) {
        bool known = false;
        for (size_t k = 0; k < count; k++)
            known = known || columns[k] == s->own[i];
        if (!known)
            columns[count++] = s->own[i];
    }
    return count;
}

static char *column_name(const SquadPlans *s, const Common *g, size_t column,
                         size_t option) {
    Text text = {0};
    char *name;
    if (column < g->tapers)
        text_add(&text, "%c: ", (char)('A' + (int)column));
    option_write(&s->option[option], &text);
    name = mem_copy(text_of(&text));
    text_free(&text);
    return name;
}

/* Fills loss and gained, [athletes * count] each. */
static void fill_cells(const SquadPlans *s, const size_t *columns, size_t count,
                       double *loss, double *gained) {
    for (size_t i = 0; i < s->count; i++)
        for (size_t k = 0; k < count; k++) {
            size_t cell = i * s->options + columns[k];
            loss[i * count + k] = s->loss[cell];
            gained[i * count + k] = s->gain[cell] / s->v[i]->possible;
        }
}

StatusCode squad_pictures_draw(const SquadPlans *s, const Gallery *gallery,
                               size_t number, Text *paths, Status *status) {
    const Common *g = &s->groups[s->most - 1];
    size_t columns[COLUMNS_MOST], count = choose_columns(s, g, columns);
    char *plans[COLUMNS_MOST];
    const char **names = mem_new(s->count, sizeof *names);
    double *loss = mem_new(s->count * count, sizeof *loss);
    double *gained = mem_new(s->count * count, sizeof *gained);
    Text title = {0}, name = {0};
    StatusCode code;
    LossesPicture picture = {.subtitle =
                                 "each row an athlete, each column a taper",
                             .athletes = names,
                             .rows = s->count,
                             .plans = (const char *const *)plans,
                             .columns = count,
                             .common = g->tapers,
                             .loss = loss,
                             .possible = gained,
                             .given = g->taper};
    for (size_t i = 0; i < s->count; i++)
        names[i] = s->v[i]->c->name;
    for (size_t k = 0; k < count; k++)
        plans[k] = column_name(s, g, k, columns[k]);
    fill_cells(s, columns, count, loss, gained);
    text_add(&title, "%s: what a common taper costs", s->v[0]->c->event->name);
    picture.title = text_of(&title);
    text_add(&name, "squad");
    if (number > 1)
        text_add(&name, "-%zu", number);
    text_add(&name, "-losses");
    code = picture_losses(&picture, gallery, text_of(&name), paths, status);
    for (size_t k = 0; k < count; k++)
        free(plans[k]);
    free(names);
    free(loss);
    free(gained);
    text_free(&title);
    text_free(&name);
    return code;
}
