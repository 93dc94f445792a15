/* review_pictures: see review_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/review_pictures.h"

#include <math.h>

static void add_row(const Reviews *all, size_t i, Plot *plot) {
    const Review *r = &all->item[i];
    bool shown = all->one_unit && r->unit;
    bool told = shown && review_foretold(r);
    const double row[] = {(double)i + 1,
                          r->total[0],
                          r->total[1],
                          told ? r->forecast : NAN,
                          told ? r->low : NAN,
                          told ? r->high : NAN,
                          shown && r->measured ? r->outcome : NAN};
    plot_row(plot, row, 7);
}

static void add_words(const Reviews *all, Plot *plot) {
    Text *alt = &plot->alt;
    text_add(alt, "Load planned and done by athlete as bars, forecast with its "
                  "90 %% range and what was measured as points. ");
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        bool shown = all->one_unit && r->unit;
        text_add(alt, "%s: planned %.0f, done %.0f", r->name, r->total[0],
                 r->total[1]);
        if (shown && review_foretold(r))
            text_add(alt, ", forecast %.4g (%.4g to %.4g)", r->forecast, r->low,
                     r->high);
        if (shown && r->measured)
            text_add(alt, ", measured %.4g", r->outcome);
        text_add(alt, ". ");
    }
}

static const char *unit_of(const Reviews *all) {
    for (size_t i = 0; i < all->count; i++)
        if (all->item[i].unit)
            return all->item[i].unit;
    return "";
}

static bool measured(const Reviews *all) {
    for (size_t i = 0; i < all->count; i++)
        if (all->one_unit && all->item[i].unit && all->item[i].measured)
            return true;
    return false;
}

StatusCode review_pictures_draw(const void *reviews, size_t at,
                                const Gallery *gallery, Text *paths,
                                Status *status) {
    const Reviews *all = (const Reviews *)reviews + at;
    const Event *event = all->item[0].event;
    Plot plot = {0};
    Text title = {0};
    plot.height = 132 + 16 * (int)all->count;
    text_add(&title, "%s%splanned and done%s", event ? event->name : "",
             event ? ": " : "",
             unit_of(all)[0] ? ", forecast and outcome" : "");
    plot_start(&plot, text_of(&title),
               measured(all) ? "dot: forecast on the day of issue, with its "
                               "90 % range; diamond below it: measured"
                             : "dot: forecast on the day of issue, with its "
                               "90 % range");
    plot_string(&plot, "unit", unit_of(all));
    plot_string(&plot, "beside", all->item[0].planned ? "planned" : "usual");
    plot_number(&plot, "rows_count", (double)all->count);
    for (size_t i = 0; i < all->count; i++)
        plot_nth_string(&plot, "row_name", i, all->item[i].name);
    plot_block(&plot, "review");
    for (size_t i = 0; i < all->count; i++)
        add_row(all, i, &plot);
    plot_block_end(&plot);
    text_free(&title);
    add_words(all, &plot);
    return plot_draw(&plot, gallery, "review.gp", "review", paths, status);
}
