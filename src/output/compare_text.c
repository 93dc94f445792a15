/* compare_text: see compare_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/compare_text.h"

#include "output/footer.h"
#include "output/taper_warnings.h"
#include "output/words.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>

void compare_text_csv_header(const Output *o) {
    output_header(o, "athlete,event,option,readiness,low,high,gain,"
                     "share,kept,beats_none,spec,gain_low,gain_high");
}

void compare_text_csv(const Comparison *k, FILE *to) {
    const BestTaper *v = &k->taper;
    for (size_t i = 0; i < k->count; i++) {
        const ComparisonRow *row = &k->rows[i];
        Text spec = {0};
        Csv csv;
        option_write(&row->option, &spec);
        csv_begin(&csv, to);
        csv_text(&csv, v->c->name);
        csv_text(&csv, v->c->event->name);
        csv_text(&csv, row->name);
        csv_number(&csv, case_shown(v->c, row->readiness));
        csv_number(&csv, row->spread.readiness_low);
        csv_number(&csv, row->spread.readiness_high);
        csv_number(&csv, row->gain);
        csv_number(&csv, search_share(row->gain, v->possible));
        csv_number(&csv, row->kept);
        csv_number(&csv, row->option.count ? row->spread.beats_none : NAN);
        csv_text(&csv, text_of(&spec));
        csv_number(&csv, row->spread.gain_low);
        csv_number(&csv, row->spread.gain_high);
        csv_end(&csv);
        text_free(&spec);
    }
}

static void name_cell(Grid *grid, const ComparisonRow *row) {
    Text spec = {0};
    option_write(&row->option, &spec);
    if (text_same(row->name, text_of(&spec)))
        grid_cell(grid, "%s%s", row->name, row->outside ? " *" : "");
    else
        grid_cell(grid, "%s: %s%s", row->name, text_of(&spec),
                  row->outside ? " *" : "");
    text_free(&spec);
}

static void print_table(const Comparison *k, FILE *to) {
    static const GridColumn columns[] = {{"option", false},
                                         {"readiness", true},
                                         {"gain", true},
                                         {"gain,\n5-95 %", true},
                                         {"of the\npossible", true},
                                         {"training\nkept", true},
                                         {"beats no\ntaper", true}};
    const BestTaper *v = &k->taper;
    char number[FIGURE_TEXT], high[FIGURE_TEXT];
    double scale = best_taper_scale(v);
    Grid grid;
    grid_start(&grid, columns, 7);
    for (size_t i = 0; i < k->count; i++) {
        const ComparisonRow *row = &k->rows[i];
        bool taper = row->option.count > 0;
        name_cell(&grid, row);
        grid_cell(
            &grid, "%s",
            words_figure(number, case_shown(v->c, row->readiness), scale));
        grid_cell(&grid, "%s%s", row->gain >= 0 ? "+" : "",
                  words_figure(number, row->gain, scale));
        if (taper && isfinite(row->spread.gain_low))
            grid_cell(&grid, "%s to %s",
                      words_figure(number, row->spread.gain_low, scale),
                      words_figure(high, row->spread.gain_high, scale));
        else
            grid_cell(&grid, "-");
        grid_cell(&grid, "%s",
                  words_percent(number, search_share(row->gain, v->possible)));
        grid_cell(&grid, "%s", words_percent(number, row->kept));
        grid_cell(&grid, "%s",
                  words_percent(number, taper ? row->spread.beats_none : NAN));
    }
    grid_print(&grid, to, 30);
    grid_free(&grid);
}

static void print_words(const Comparison *k, FILE *to) {
    for (size_t i = 0; i < k->count; i++) {
        Text text = {0};
        if (k->rows[i].option.count == 0)
            continue;
        text_add(&text, "%s: ", k->rows[i].name);
        option_words(&k->rows[i].option, &text);
        if ((size_t)option_days(&k->rows[i].option) >
            k->taper.c->outlook.window)
            text_add(&text,
                     " (only the last %zu days can be cut: before them lies "
                     "what is done, or another event)",
                     k->taper.c->outlook.window);
        print_wrapped(to, text_of(&text), 79, 2);
        text_free(&text);
    }
}

/* What the star means, and what `taper` would say. */
static void print_remarks(const Comparison *k, FILE *to) {
    const Search *s = &k->taper.search;
    Text text = {0};
    if (comparison_outside(k))
        text_add(&text, "*: outside the limits searched, so it may pass "
                        "100 %%");
    for (size_t i = 0, shown = 0; i < k->count; i++)
        if (k->rows[i].outside) {
            text_add(&text, "%s%s: ", shown++ ? "; " : " (", k->rows[i].name);
            search_outside(&k->taper.c->outlook,
                           &k->taper.c->context->question->limits,
                           &k->rows[i].option, &text);
        }
    if (comparison_outside(k))
        text_add(&text, "). ");
    if (s->best > 0) {
        text_add(&text, "`peakward taper` recommends ");
        option_write(&s->items[s->recommended].option, &text);
        text_add(&text, ", which keeps the most training among those within "
                        "5 %% of the best gain.");
    }
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

/* Share of the likely models in which the row gains more than the column. */
static void print_pairs(const Comparison *k, FILE *to) {
    GridColumn columns[9] = {{"beats ...", false}};
    size_t draws = k->taper.draws.count;
    char number[FIGURE_TEXT];
    double *gain;
    Grid grid;
    if (!comparison_has_pairs(k))
        return;
    gain = comparison_gains(k);
    for (size_t i = 0; i < k->count; i++)
        columns[i + 1] = (GridColumn){k->rows[i].name, true};
    grid_start(&grid, columns, (int)k->count + 1);
    for (size_t i = 0; i < k->count; i++) {
        grid_cell(&grid, "%s", k->rows[i].name);
        for (size_t j = 0; j < k->count; j++)
            grid_cell(&grid, "%s",
                      words_percent(number,
                                    i == j ? NAN
                                           : draw_scores_beat(gain + i * draws,
                                                              gain + j * draws,
                                                              draws)));
    }
    fputc('\n', to);
    grid_print(&grid, to, 20);
    grid_free(&grid);
    free(gain);
}

static void print_one(const Comparison *k, FILE *to) {
    Text text = {0};
    text_add(&text, "%s: ", k->taper.c->name);
    words_event(k->taper.c, &text);
    print_wrapped(to, text_of(&text), 79, 2);
    text_free(&text);
    print_table(k, to);
    print_pairs(k, to);
    fputc('\n', to);
}

void compare_text_print(const Context *d, const Comparison *k, size_t count,
                        FILE *to) {
    for (size_t i = 0; i < count; i++)
        print_one(&k[i], to);
    print_words(&k[0], to);
    print_remarks(&k[0], to);
    {
        Text text = {0};
        text_add(&text,
                 "'of the possible': share of the most that any daily loads "
                 "within the limits could gain. 'training kept': of the load "
                 "planned for the last %zu days. 'beats': share of the likely "
                 "models in which the row gains more.%s",
                 k[0].kept_days < k[0].taper.c->outlook.window
                     ? k[0].kept_days
                     : k[0].taper.c->outlook.window,
                 case_model(k[0].taper.c)->scaled
                     ? ""
                     : " Readiness is in the model's own scale: read the "
                       "shares, not the numbers.");
        print_wrapped(to, text_of(&text), 79, 0);
        text_free(&text);
    }
    for (size_t i = 0; i < count; i++)
        taper_warnings_print(&k[i].taper, to);
    fputc('\n', to);
    footer_evidence(to);
    taper_warnings_limits(k[0].taper.c, k[0].taper.longest, to);
    footer_basis(d, k[0].taper.c, to);
    footer_cautions(d, to);
}
