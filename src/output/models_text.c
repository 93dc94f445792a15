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

static void add_table(const ModelsCompared *w, Document *doc) {
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
    document_table(doc, &grid, "");
}

static void add_lead(const ModelsCompared *w, Document *doc) {
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
    document_words(doc, WORDS_LEAD, "%s", text_of(&text));
    text_free(&text);
}

void models_text(const ModelsCompared *w, Document *doc) {
    const Case *c = w->tapers[0].c;
    Text text = {0};
    words_event(c, &text);
    document_title(doc, "%s: %s", c->name, text_of(&text));
    add_lead(w, doc);
    add_table(w, doc);
    for (size_t i = 0; i < w->count; i++) {
        text_clear(&text);
        words_model(case_model(w->tapers[i].c), &text);
        document_words(doc, WORDS_ITEM, "%s: %s",
                       c->context->question->views[i], text_of(&text));
    }
    text_free(&text);
}

void models_text_foot(const ModelsCompared *w, Document *doc) {
    document_words(doc, WORDS_SMALL,
                   "Columns: share of the largest gain possible that the row's "
                   "taper reaches if that model is right. That models agree "
                   "does not make them right.");
    footer(w->tapers[0].c, w->tapers[0].longest, doc);
}
