/* views: see views.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/views.h"

#include "base/mem.h"
#include "commands/verdict.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>

/* One athlete under each model. The searches list the same options in the same
 * order, since limits and days are the same. */
typedef struct {
    size_t count;
    Case *cases;
    Verdict *verdicts;
    size_t both; /* index of the option with the largest smallest share; 0:
                    none helps under every model */
} Views;

static double share_under(const Verdict *v, size_t option) {
    return search_share(v->search.items[option].gain, v->possible);
}

/* The smallest share that an option reaches; -INFINITY where a model sees no
 * gain at all and this is not "no taper". */
static double least_share(const Views *w, size_t option) {
    double least = INFINITY;
    for (size_t i = 0; i < w->count; i++) {
        const Verdict *v = &w->verdicts[i];
        double share = v->search.best > 0 ? share_under(v, option)
                       : option > 0       ? -INFINITY
                                          : 0;
        least = fmin(least, share);
    }
    return least;
}

/* Shares alike: the option that keeps more training. */
static void choose_both(Views *w) {
    const Search *s = &w->verdicts[0].search;
    double best = least_share(w, 0);
    for (size_t i = 1; i < s->count; i++) {
        double least = least_share(w, i);
        bool better = least > best + 1e-9;
        bool alike = fabs(least - best) <= 1e-9;
        if (better || (alike && s->items[i].kept > s->items[w->both].kept)) {
            w->both = i;
            best = least;
        }
    }
}

static StatusCode views_build(const Case *c, Views *w, Status *status) {
    StatusCode code = STATUS_OK;
    *w = (Views){.count = c->desk->question->view_count};
    w->cases = mem_new(w->count, sizeof *w->cases);
    w->verdicts = mem_new(w->count, sizeof *w->verdicts);
    for (size_t i = 0; i < w->count && code == STATUS_OK; i++) {
        w->cases[i] = *c;
        w->cases[i].model = case_view(c, i);
        code = verdict_build(&w->cases[i], &w->verdicts[i], status);
    }
    if (code == STATUS_OK)
        choose_both(w);
    return code;
}

static void views_free(Views *w) {
    for (size_t i = 0; i < w->count; i++)
        verdict_free(&w->verdicts[i]);
    free(w->verdicts);
    free(w->cases);
}

/* ---- what is shown ---- */

/* Rows: the recommended option of each model, then the one good under all. */
static size_t row_option(const Views *w, size_t row) {
    return row < w->count ? w->verdicts[row].search.recommended : w->both;
}

static void row_name(const Views *w, size_t row, Text *name) {
    if (row < w->count)
        text_add(name, "for %s",
                 w->verdicts[row].c->desk->question->views[row]);
    else
        text_add(name, "for all");
}

static void print_csv_header(const Output *o) {
    output_header(o, "athlete,event,option,recommended_by,model,"
                     "readiness,gain,share,kept");
}

static void csv_rows(const Views *w, FILE *to) {
    const Question *q = w->verdicts[0].c->desk->question;
    for (size_t row = 0; row <= w->count; row++)
        for (size_t i = 0; i < w->count; i++) {
            const Verdict *v = &w->verdicts[i];
            const Found *f = &v->search.items[row_option(w, row)];
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
            csv_number(&csv, share_under(v, row_option(w, row)));
            csv_number(&csv, f->kept);
            csv_end(&csv);
            text_free(&spec);
        }
}

static void print_table(const Views *w, FILE *to) {
    GridColumn columns[8] = {{"recommended", false}, {"taper", false}};
    char number[FIGURE_TEXT];
    int count = 2;
    Grid grid;
    for (size_t i = 0; i < w->count; i++)
        columns[count++] =
            (GridColumn){w->verdicts[0].c->desk->question->views[i], true};
    columns[count++] = (GridColumn){"training\nkept", true};
    grid_start(&grid, columns, count);
    for (size_t row = 0; row <= w->count; row++) {
        size_t option = row_option(w, row);
        const Found *f = &w->verdicts[0].search.items[option];
        Text spec = {0}, name = {0};
        option_write(&f->option, &spec);
        row_name(w, row, &name);
        grid_cell(&grid, "%s", text_of(&name));
        grid_cell(&grid, "%s", text_of(&spec));
        for (size_t i = 0; i < w->count; i++)
            grid_cell(
                &grid, "%s",
                percent_cell(number, share_under(&w->verdicts[i], option)));
        grid_cell(&grid, "%s", percent_cell(number, f->kept));
        text_free(&spec);
        text_free(&name);
    }
    grid_print(&grid, to, 22);
    grid_free(&grid);
}

/* Does each model's recommendation reach nine tenths of every other's own? */
static bool agree(const Views *w) {
    for (size_t row = 0; row < w->count; row++)
        for (size_t i = 0; i < w->count; i++) {
            const Search *s = &w->verdicts[i].search;
            double own = s->items[s->recommended].gain;
            if (s->items[row_option(w, row)].gain < .9 * own - 1e-12)
                return false;
            if (s->best == 0 && row_option(w, row) > 0)
                return false;
        }
    return true;
}

static void print_sentence(const Views *w, FILE *to) {
    const Found *f = &w->verdicts[0].search.items[w->both];
    double least = least_share(w, w->both);
    Text text = {0};
    text_add(&text, agree(w)
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
                 ", at least %.0f %% of the possible gain whichever "
                 "of them is right.",
                 100 * least);
    }
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_one(const Views *w, FILE *to) {
    const Case *c = w->verdicts[0].c;
    Text text = {0};
    text_add(&text, "%s: ", c->name);
    event_words(c, &text);
    print_wrapped(to, text_of(&text), 79, 2);
    text_clear(&text);
    fputc('\n', to);
    print_table(w, to);
    fputc('\n', to);
    print_sentence(w, to);
    for (size_t i = 0; i < w->count; i++) {
        text_add(&text, "%s: ", c->desk->question->views[i]);
        model_words(case_model(w->verdicts[i].c), &text);
        print_wrapped(to, text_of(&text), 79, 2);
        text_clear(&text);
    }
    fputc('\n', to);
    text_free(&text);
}

static void print_text(const Desk *d, const Views *w, size_t count, FILE *to) {
    for (size_t i = 0; i < count; i++)
        print_one(&w[i], to);
    print_wrapped(to,
                  "Columns: share of the possible gain that the row's taper "
                  "reaches if that model is right. That models agree does not "
                  "make them right.",
                  79, 0);
    fputc('\n', to);
    desk_print_evidence(to);
    verdict_print_limits(&w[0].verdicts[0], to);
    desk_print_basis(d, w[0].verdicts[0].c, to);
    desk_print_cautions(d, to);
}

StatusCode views_answer(const Call *call, const Desk *d, const Case *cases,
                        size_t count, Status *status) {
    Views *w = mem_new(count, sizeof *w);
    StatusCode code = STATUS_OK;
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        code = views_build(&cases[i], &w[i], status);
    if (code == STATUS_OK && call->output.csv) {
        print_csv_header(&call->output);
        for (size_t i = 0; i < count; i++)
            csv_rows(&w[i], call->output.to);
    } else if (code == STATUS_OK) {
        print_text(d, w, count, call->output.to);
    }
    for (size_t i = 0; i < count; i++)
        views_free(&w[i]);
    free(w);
    return code;
}
