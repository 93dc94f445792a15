/* models_text: see models_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/models_text.h"

#include "output/footer.h"
#include "output/taper_warnings.h"
#include "output/words.h"
#include "present/grid.h"

static void row_name(const ModelsCompared *w, size_t row, Text *name) {
    if (row < w->count)
        text_add(name, "for %s",
                 w->tapers[row].c->context->question->views[row]);
    else
        text_add(name, "for all");
}

void models_text_csv_header(const Output *o) {
    output_header(o, "athlete,event,option,recommended_by,model,"
                     "readiness,gain,share,kept");
}

void models_text_csv(const ModelsCompared *w, FILE *to) {
    const Question *q = w->tapers[0].c->context->question;
    for (size_t row = 0; row <= w->count; row++)
        for (size_t i = 0; i < w->count; i++) {
            const BestTaper *v = &w->tapers[i];
            const Found *f = &v->search.items[models_compared_option(w, row)];
            Text spec = {0};
            Csv csv;
            option_write(&f->option, &spec);
            csv_begin(&csv, to);
            csv_text(&csv, v->c->name);
            csv_text(&csv, v->c->event->name);
            csv_text(&csv, text_of(&spec));
            csv_text(&csv, row < w->count ? q->views[row] : "all");
            csv_text(&csv, q->views[i]);
            csv_number(&csv, case_shown(v->c, f->readiness));
            csv_number(&csv, f->gain);
            csv_number(
                &csv, models_compared_share(v, models_compared_option(w, row)));
            csv_number(&csv, f->kept);
            csv_end(&csv);
            text_free(&spec);
        }
}

static void print_table(const ModelsCompared *w, FILE *to) {
    GridColumn columns[8] = {{"recommended", false}, {"taper", false}};
    char number[FIGURE_TEXT];
    int count = 2;
    Grid grid;
    for (size_t i = 0; i < w->count; i++)
        columns[count++] =
            (GridColumn){w->tapers[0].c->context->question->views[i], true};
    columns[count++] = (GridColumn){"training\nkept", true};
    grid_start(&grid, columns, count);
    for (size_t row = 0; row <= w->count; row++) {
        size_t option = models_compared_option(w, row);
        const Found *f = &w->tapers[0].search.items[option];
        Text spec = {0}, name = {0};
        option_write(&f->option, &spec);
        row_name(w, row, &name);
        grid_cell(&grid, "%s", text_of(&name));
        grid_cell(&grid, "%s", text_of(&spec));
        for (size_t i = 0; i < w->count; i++)
            grid_cell(&grid, "%s",
                      words_percent(number, models_compared_share(&w->tapers[i],
                                                                  option)));
        grid_cell(&grid, "%s", words_percent(number, f->kept));
        text_free(&spec);
        text_free(&name);
    }
    grid_print(&grid, to, 22);
    grid_free(&grid);
}

static void print_sentence(const ModelsCompared *w, FILE *to) {
    const Found *f = &w->tapers[0].search.items[w->both];
    double least = models_compared_least(w, w->both);
    Text text = {0};
    text_add(&text, models_compared_agree(w)
                        ? "The models agree: each one's advice loses less than "
                          "a tenth of the gain under the others. "
                        : "The models disagree: advice taken from one loses "
                          "much under another. ");
    if (w->both == 0) {
        text_add(&text, "No taper helps under all of them.");
    } else {
        text_add(&text, "Good under all: ");
        option_words(&f->option, &text);
        text_add(&text,
                 ", at least %.0f %% of the largest gain possible, whichever "
                 "of them is right.",
                 100 * least);
    }
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_one(const ModelsCompared *w, FILE *to) {
    const Case *c = w->tapers[0].c;
    Text text = {0};
    text_add(&text, "%s: ", c->name);
    words_event(c, &text);
    print_wrapped(to, text_of(&text), 79, 2);
    text_clear(&text);
    fputc('\n', to);
    print_table(w, to);
    fputc('\n', to);
    print_sentence(w, to);
    for (size_t i = 0; i < w->count; i++) {
        text_add(&text, "%s: ", c->context->question->views[i]);
        words_model(case_model(w->tapers[i].c), &text);
        print_wrapped(to, text_of(&text), 79, 2);
        text_clear(&text);
    }
    fputc('\n', to);
    text_free(&text);
}

void models_text_print(const ModelsCompared *w, size_t count, const Output *o) {
    FILE *to = o->to;
    for (size_t i = 0; i < count; i++)
        print_one(&w[i], to);
    print_wrapped(
        to,
        "Columns: share of the largest gain possible that the row's taper "
        "reaches if that model is right. That models agree does not "
        "make them right.",
        79, 0);
    fputc('\n', to);
    footer_print(w[0].tapers[0].c, w[0].tapers[0].longest, o);
}
