/* taper_csv: see taper_csv.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/taper_csv.h"

#include "output/words.h"
#include "present/grid.h"

#include <math.h>

/* A to Z, then A1 ... of the taper that the squad's answer gives them; blank
 * for one whom no taper helps. */
static void csv_group(Csv *csv, const BestTaper *v) {
    const Assigned *a = best_taper_assigned(v->c);
    Text group = {0};
    if (a && a->option.count > 0)
        text_add(&group, "%c", (char)('A' + (int)(a->taper % 26)));
    if (a && a->option.count > 0 && a->taper >= 26)
        text_add(&group, "%zu", a->taper / 26);
    csv_text(csv, text_of(&group));
    text_free(&group);
}

static void csv_row(const BestTaper *v, const Found *f, const char *spec,
                    const char *shape, FILE *to) {
    Spread spread = best_taper_spread(v, &f->option);
    bool ceiling = f->tag == TAG_CEILING, none = f->tag == TAG_NONE;
    Csv csv;
    if (ceiling)
        spread = (Spread){NAN, NAN, NAN, NAN, NAN};
    csv_begin(&csv, to);
    csv_text(&csv, v->c->name);
    csv_text(&csv, v->c->event->name);
    csv_text(&csv, spec);
    csv_number(&csv, ceiling ? (double)v->longest : option_days(&f->option));
    csv_number(&csv, ceiling ? NAN : option_cut(&f->option));
    csv_text(&csv, shape);
    csv_number(&csv, case_shown(v->c, f->readiness));
    csv_number(&csv, spread.readiness_low);
    csv_number(&csv, spread.readiness_high);
    csv_number(&csv, f->gain);
    csv_number(&csv, search_share(f->gain, v->possible));
    csv_number(&csv, f->kept);
    csv_number(&csv, none ? NAN : spread.beats_none);
    csv_text(&csv, tag_names[f->tag]);
    csv_number(&csv, spread.gain_low);
    csv_number(&csv, spread.gain_high);
    csv_group(&csv, v);
    csv_text(&csv, words_followed(v));
    csv_end(&csv);
}

/* The plan handed out, as it stands today. */
static void csv_handed(const BestTaper *v, FILE *to) {
    const Handed *h = &v->handed;
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, v->c->name);
    csv_text(&csv, v->c->event->name);
    csv_text(&csv, "handed out");
    csv_number(&csv, NAN);
    csv_number(&csv, NAN);
    csv_text(&csv, "");
    csv_number(&csv, case_shown(v->c, h->readiness));
    csv_number(&csv, h->spread.readiness_low);
    csv_number(&csv, h->spread.readiness_high);
    csv_number(&csv, h->gain);
    csv_number(&csv, search_share(h->gain, v->possible));
    csv_number(&csv, h->kept);
    csv_number(&csv, h->spread.beats_none);
    csv_text(&csv, "");
    csv_number(&csv, h->spread.gain_low);
    csv_number(&csv, h->spread.gain_high);
    csv_text(&csv, "");
    csv_text(&csv, words_followed(v));
    csv_end(&csv);
}

void taper_csv_header(const Output *o) {
    output_header(o, "athlete,event,option,length,cut,shape,readiness,low,high,"
                     "gain,share,kept,beats_none,tag,gain_low,gain_high,"
                     "group,followed");
}

void taper_csv_print(const BestTaper *v, FILE *to) {
    const Search *s = &v->search;
    Found ceiling = {
        .readiness = s->ceiling, .gain = v->possible, .tag = TAG_CEILING};
    ceiling.kept = search_kept_cuts(&v->c->outlook, s->ceiling_cut, s->days);
    for (size_t i = 0; i < s->count; i++) {
        Found found = s->items[i];
        Text spec = {0};
        const char *shape = shape_names[option_shape(&found.option)];
        option_write(&found.option, &spec);
        if (i == s->recommended && (i == s->best ? i > 0 : i == 0 && s->best)) {
            found.tag = i == 0 ? TAG_NONE : TAG_BEST;
            csv_row(v, &found, text_of(&spec), shape, to);
            found.tag = TAG_RECOMMENDED;
        }
        csv_row(v, &found, text_of(&spec), shape, to);
        text_free(&spec);
    }
    if (v->handed.there)
        csv_handed(v, to);
    csv_row(v, &ceiling, "ceiling", "", to);
}
