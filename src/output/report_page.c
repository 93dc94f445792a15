/* report_page: see report_page.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/report_page.h"

#include "answers/band.h"
#include "base/mem.h"
#include "base/progress.h"
#include "base/stream.h"
#include "cases/models.h"
#include "output/footer.h"
#include "output/plan_page.h"
#include "output/plan_words.h"
#include "output/taper_pictures.h"
#include "output/taper_text.h"
#include "output/taper_warnings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { NOTES_SHOWN = 20 };

/* Puts a document without pictures, which cannot fail; it is then empty. */
static void put(Report *r, Document *doc) {
    Status status = {0};
    document_page(doc, true, &r->page, &status);
    document_free(doc);
}

/* ---- the squad ---- */

/* A name as the page shows it: at most 60 columns. */
static const char *shown_name(const Case *c, Text *text) {
    text_clear(text);
    output_page_name(c, text);
    return text_of(text);
}

static void add_spec(const Option *option, Grid *grid) {
    Text spec = {0};
    option_write(option, &spec);
    grid_cell(grid, "%s", text_of(&spec));
    text_free(&spec);
}

static void add_advice(const Plan *p, Grid *grid) {
    Spread spread = best_taper_spread(&p->taper, &p->option);
    char share[FIGURE_TEXT];
    add_spec(&p->option, grid);
    if (p->option.count)
        plan_page_day(grid,
                      p->taper.c->event->start - (Date)option_days(&p->option));
    else
        grid_cell(grid, "-");
    grid_cell(grid, "%s",
              words_percent(share, p->option.count ? spread.beats_none : NAN));
}

/* Digits by the width of what is likely: tenths of it. */
static double shown_scale(const BestTaper *v, const Spread *spread) {
    double width = spread->readiness_high - spread->readiness_low;
    return isfinite(width) && width > 0 ? 10 * width : best_taper_scale(v);
}

static void add_figures(const Plan *p, Grid *grid) {
    const BestTaper *v = &p->taper;
    const Case *c = v->c;
    double none = v->search.items[0].readiness;
    double today = band_today(c);
    Spread spread = best_taper_spread(v, &p->option);
    double scale = shown_scale(v, &spread);
    char a[FIGURE_TEXT], b[FIGURE_TEXT];
    grid_cell(grid, "%s", words_figure(a, case_shown(c, today), scale));
    grid_cell(grid, "%s", words_figure(a, case_shown(c, none), scale));
    grid_cell(grid, "%s", words_figure(a, case_shown(c, p->ideal), scale));
    if (isfinite(spread.readiness_low))
        grid_cell(grid, "%s to %s",
                  words_figure(a, spread.readiness_low, scale),
                  words_figure(b, spread.readiness_high, scale));
    else
        grid_cell(grid, "-");
}

/* What an athlete's readiness is measured in. */
static void add_measure(const Case *c, Text *text) {
    const Model *m = case_model(c);
    text_add(text, "%s%s", m->scaled ? m->unit : "model's own scale",
             m->lower ? ", lower is better" : "");
}

/* The same for all athletes? */
static bool one_measure(const Report *r) {
    const Model *first = case_model(&r->cases[0]);
    for (size_t i = 1; i < r->count; i++)
        if (!models_same_unit(case_model(&r->cases[i]), first))
            return false;
    return true;
}

/* Does a note speak of the athlete alone? Of the event they all speak above. */
static bool note_names(const Note *n, const Case *c) {
    Case nameless = *c;
    nameless.event = NULL;
    return footer_note_is_about(n, &nameless);
}

static size_t count_notes(const Report *r, const Case *c) {
    size_t count = 0;
    for (size_t i = 0; i < r->notes.count; i++)
        count += note_names(&r->notes.items[i], c);
    return count;
}

static void put_summary(Report *r) {
    static const GridColumn columns[] = {
        {"athlete", false},        {"plan", false},
        {"first day", false},      {"beats no taper", true},
        {"readiness today", true}, {"at the event, as usual", true},
        {"with the plan", true},   {"5-95 %", true},
        {"tests", true},           {"warnings", true},
        {"measured as", false}};
    bool one = one_measure(r);
    Grid grid;
    Text text = {0};
    grid_start(&grid, columns, one ? 10 : 11);
    for (size_t i = 0; i < r->count; i++) {
        const Case *c = &r->cases[i];
        grid_cell(&grid, "%s", shown_name(c, &text));
        add_advice(&r->plans[i], &grid);
        add_figures(&r->plans[i], &grid);
        grid_cell(&grid, "%zu", c->context->models[c->model]->tests);
        grid_cell(&grid, "%zu", count_notes(r, c));
        text_clear(&text);
        add_measure(c, &text);
        if (!one)
            grid_cell(&grid, "%s", text_of(&text));
    }
    text_clear(&text);
    text_add(&text, "Who is where, and what is recommended");
    if (one) {
        text_add(&text, "; readiness: ");
        add_measure(&r->cases[0], &text);
    }
    page_table(&r->page, &grid, text_of(&text));
    grid_free(&grid);
    text_free(&text);
}

/* What check says, of one athlete or (with NULL) of everybody. */
static void put_notes(Report *r, const Case *c) {
    size_t shown = 0, count = c ? count_notes(r, c) : r->notes.count;
    if (count == 0)
        return;
    page_heading(&r->page, "To look at in the files");
    page_list(&r->page);
    for (size_t i = 0; i < r->notes.count && shown < NOTES_SHOWN; i++) {
        const Note *n = &r->notes.items[i];
        Text text = {0};
        if (c && !note_names(n, c))
            continue;
        if (n->file)
            text_add(&text, "%s: ", n->file);
        text_add(&text, "%s", n->text);
        page_item(&r->page, text_of(&text));
        text_free(&text);
        shown++;
    }
    page_list_end(&r->page);
    if (count > shown)
        page_paragraph(&r->page, "There is more: peakward check lists it all.");
}

static void put_contents(Report *r) {
    Text name = {0};
    fputs("<nav aria-label=\"Athletes\">\n", r->page.to);
    page_heading(&r->page, "On this page");
    page_list(&r->page);
    for (size_t i = 0; i < r->count; i++) {
        char id[32];
        snprintf(id, sizeof id, "athlete-%zu", i + 1);
        page_item_link(&r->page, id, shown_name(&r->cases[i], &name));
    }
    text_free(&name);
    page_item_link(&r->page, "model", "The model and its limits");
    page_list_end(&r->page);
    fputs("</nav>\n", r->page.to);
}

static void put_squad(Report *r) {
    Document doc = {0};
    char day[DATE_TEXT];
    Text text = {0};
    page_section(&r->page, "squad", "At a glance");
    words_event(&r->cases[0], &text);
    text_add(&text, ". Today is %s.",
             date_write_short(day, r->context->season->today));
    page_paragraph(&r->page, text_of(&text));
    text_free(&text);
    footer_caution(r->context, &doc);
    put(r, &doc);
    put_summary(r);
    page_paragraph(
        &r->page,
        "Readiness is in the unit of the athlete's test; without tests it is "
        "in the model's own scale, where only differences mean something. "
        "'5-95 %': where it lies in nine of ten likely models. 'Beats no "
        "taper': share of the likely models in which the plan helps. "
        "'Warnings': what peakward check says of the athlete's files, listed "
        "below. A plan like 9x75 is nine days with 75 % of the volume cut, "
        "weights and speed kept.");
    put_notes(r, NULL);
    put_contents(r);
    page_section_end(&r->page);
    if (r->count > 1)
        page_empty_side(&r->page);
}

/* ---- one athlete ---- */

/* Draws with one of the other commands' functions, and takes the file in. */
static StatusCode put_picture(Report *r, size_t at, bool map, Status *status) {
    const Plan *p = &r->plans[at];
    Text paths = {0}, alt = {0}, spec = {0}, name = {0};
    StatusCode code =
        map ? taper_pictures_map(&p->taper, &r->gallery, &paths, status)
            : taper_pictures_season(&p->taper, &r->gallery, &paths, status);
    char *path = mem_copy(text_of(&paths));
    path[strcspn(path, "\n")] = '\0';
    option_write(&p->option, &spec);
    if (map)
        text_add(&alt,
                 "Map of step tapers for %s: share of the possible gain by "
                 "length and cut; the table below has the best of each shape",
                 shown_name(&r->cases[at], &name));
    else
        text_add(&alt,
                 "Daily load, fitness, fatigue and readiness of %s from the "
                 "log's first day to the event under the taper %s; the "
                 "summary's table has the values at the event",
                 shown_name(&r->cases[at], &name), text_of(&spec));
    if (code == STATUS_OK)
        code = page_figure(&r->page, path, text_of(&alt),
                           map ? "What each step taper gains."
                               : "The season and the way to the event.",
                           status);
    free(path);
    text_free(&paths);
    text_free(&alt);
    text_free(&spec);
    text_free(&name);
    return code;
}

static void put_sureness(Report *r, const Plan *p) {
    const BestTaper *v = &p->taper;
    const CaseModel *m = r->context->models[v->c->model];
    Spread spread = best_taper_spread(v, &p->option);
    Document doc = {0};
    Text text = {0};
    char low[FIGURE_TEXT], high[FIGURE_TEXT];
    double scale = best_taper_scale(v);
    page_heading(&r->page, "How sure is this, and why");
    text_add(&text, "Model: ");
    words_model(case_model(v->c), &text);
    text_add(&text, ". ");
    if (isfinite(spread.beats_none) && p->option.count)
        text_add(&text,
                 "In %.0f %% of the likely models the plan beats no taper; its "
                 "gain lies between %s and %s in nine of ten of them. ",
                 100 * spread.beats_none,
                 words_figure(low, spread.gain_low, scale),
                 words_figure(high, spread.gain_high, scale));
    text_add(&text,
             m->tests == 0 ? "No tests of this athlete went into it: it rests "
                             "on the model file alone. "
             : m->tests < 8
                 ? "So few tests leave most of it to the literature: test more "
                   "often, and ask peakward fit which day would tell most. "
                 : "peakward fit says what the tests show by themselves, and "
                   "whether they predict later ones. ");
    plan_words_outcome(p, &text);
    page_paragraph(&r->page, text_of(&text));
    text_free(&text);
    taper_warnings(&v, 1, &doc);
    put(r, &doc);
}

static StatusCode put_athlete(Report *r, size_t at, Status *status) {
    const Plan *p = &r->plans[at];
    char id[32];
    Document options = {0};
    Text text = {0};
    StatusCode code;
    snprintf(id, sizeof id, "athlete-%zu", at + 1);
    page_section(&r->page, id, shown_name(&r->cases[at], &text));
    text_clear(&text);
    words_event(&r->cases[at], &text);
    text_add(&text, ". ");
    taper_text_lead(p->taper.c, &p->option, &text);
    page_paragraph(&r->page, text_of(&text));
    text_free(&text);
    code = put_picture(r, at, false, status);
    if (code == STATUS_OK)
        code = put_picture(r, at, true, status);
    page_heading(&r->page, "Options side by side");
    taper_text_options(&p->taper, &options);
    put(r, &options);
    put_sureness(r, p);
    if (r->count > 1)
        put_notes(r, &r->cases[at]);
    plan_page_put(&r->page, p);
    page_section_end(&r->page);
    return code;
}

/* ---- the model ---- */

static void put_model(Report *r) {
    Document doc = {0};
    page_section(&r->page, "model", "The model and its limits");
    page_paragraph(
        &r->page,
        "Each session leaves two traces: fitness, which fades slowly, and "
        "fatigue, which is larger at first and fades fast. Readiness is a "
        "level plus fitness minus fatigue. A taper lets fatigue go while most "
        "fitness stays; how long and how deep depends on the athlete's own "
        "time constants, which tests tell only in part.");
    page_list(&r->page);
    page_item(&r->page, "The linear model always asks for the largest cut "
                        "allowed in the last days and for none before: the "
                        "limits are what keeps skill, sharpness and morale.");
    page_item(&r->page, "It knows loads only, not sleep, travel, pain or "
                        "illness.");
    page_item(&r->page, "Gains beyond 6 % are outside published experience; "
                        "2-3 % is usual.");
    page_item(&r->page, "Options within 5 % of the best gain cannot be told "
                        "apart; among them the one that keeps most training "
                        "is recommended.");
    page_list_end(&r->page);
    footer_evidence(&doc);
    taper_warnings_searched(r->plans[0].taper.c, r->plans[0].taper.longest,
                            &doc);
    footer_basis(r->context, &r->cases[0], &doc);
    put(r, &doc);
    page_section_end(&r->page);
}

/* ---- the page ---- */

StatusCode report_page_write(Report *r, FILE *to, Status *status) {
    StatusCode code = STATUS_OK;
    Progress progress =
        progress_begin("athletes drawn", r->count, r->output->quiet);
    Text title = {0};
    text_add(&title, "The way to %s", r->cases[0].event->name);
    page_begin(&r->page, to, text_of(&title));
    text_free(&title);
    put_squad(r);
    for (size_t i = 0; i < r->count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = put_athlete(r, i, status);
    }
    progress_end(&progress);
    put_model(r);
    page_end(&r->page);
    return code;
}
