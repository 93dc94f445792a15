/* taper_pictures: see taper_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/taper_pictures.h"

#include "base/mem.h"
#include "output/curves_picture.h"
#include "output/event_days_picture.h"
#include "output/output.h"
#include "output/words.h"
#include "present/pictures.h"

#include <stdlib.h>

StatusCode taper_pictures_map(const BestTaper *v, const Gallery *gallery,
                              Text *paths, Status *status) {
    Text name = {0}, title = {0}, words = {0};
    StatusCode code;
    MapPicture picture = {.search = &v->search,
                          .score = &v->score,
                          .limits = &v->c->context->question->limits,
                          .longest = v->longest,
                          .draws = &v->draws};
    text_add(&title, "%s: taper for %s", v->c->name, v->c->event->name);
    words_model_short(case_model(v->c), &words);
    text_add(&words, "; each cell a step taper");
    picture.title = text_of(&title);
    picture.subtitle = text_of(&words);
    output_file_name(v->c, "map", &name);
    code = picture_map(&picture, gallery, text_of(&name), paths, status);
    text_free(&name);
    text_free(&title);
    text_free(&words);
    return code;
}

StatusCode taper_pictures_season(const BestTaper *v, const Gallery *gallery,
                                 Text *paths, Status *status) {
    const Outlook *o = &v->c->outlook;
    size_t days = o->event_day + o->event_days;
    double *cut = mem_new(o->window, sizeof *cut);
    bool handed = best_taper_stands(v);
    Curves curves;
    Case own;
    StatusCode code;
    best_taper_cuts(v, cut);
    if (handed && handed_case(v->c, &own))
        curves_build_handed(&own, v->handed.issued, days, &curves);
    else
        curves_build_cuts(v->c, cut, READ_BEFORE, days, &curves);
    code = curves_picture_draw(&curves, "taper", gallery, paths, status);
    curves_free(&curves);
    if (handed)
        handed_case_free(&own);
    free(cut);
    return code;
}

StatusCode taper_pictures_draw(const void *answers, size_t at,
                               const Gallery *gallery, Text *paths,
                               Status *status) {
    const BestTaper *v = (const BestTaper *)answers + at;
    StatusCode code = taper_pictures_map(v, gallery, paths, status);
    if (code == STATUS_OK)
        code = event_days_picture_draw(v, gallery, paths, status);
    if (code == STATUS_OK)
        code = taper_pictures_season(v, gallery, paths, status);
    return code;
}
