/* report_page: see report_page.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/report_page.h"

#include "answers/band.h"
#include "answers/event_week.h"
#include "base/mem.h"
#include "base/progress.h"
#include "cases/models.h"
#include "output/event_sheet.h"
#include "output/footer.h"
#include "output/plan_bars.h"
#include "output/plan_days.h"
#include "output/plan_text.h"
#include "output/plan_words.h"
#include "output/record_text.h"
#include "output/review_pictures.h"
#include "output/review_text.h"
#include "output/taper_pictures.h"
#include "output/taper_text.h"
#include "output/taper_warnings.h"
#include "output/what_if_page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    CAUSES_SHOWN = 12,
    ID_TEXT = 32,
    ROWS_DRAWN = 50 /* athletes a picture of them all has room for */
};

/* A name as the page shows it: at most 60 columns. */
static const char *shown_name(const Case *c, Text *text) {
    text_clear(text);
    output_page_name(c, text);
    return text_of(text);
}

/* ---- page 1: the squad ---- */

/* Without the folders above it. */
static const char *file_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* What check says: one line a cause, with an example. */
static void add_causes(const Report *r, Document *doc) {
    const Notes *n = &r->notes;
    if (n->sort_count == 0)
        return;
    document_words(doc, WORDS_HEADING, "To look at in the files");
    for (size_t i = 0; i < n->sort_count && i < CAUSES_SHOWN; i++) {
        const Note *first = &n->items[n->sorts[i].first];
        size_t more = n->sorts[i].count - 1;
        Text text = {0};
        if (more)
            text_add(&text, " (and %zu more like this)", more);
        document_words(doc, WORDS_ITEM, "%s%s%s%s",
                       first->file ? file_name(first->file) : "",
                       first->file ? ": " : "", first->text, text_of(&text));
        text_free(&text);
    }
    if (n->sort_count > CAUSES_SHOWN)
        document_words(doc, WORDS_ITEM,
                       "There is more: peakward check lists it all.");
}

static void add_contents(const Report *r, Document *doc) {
    Text name = {0};
    document_words(doc, WORDS_HEADING, "On this page");
    if (r->count > 1)
        document_link(doc, "sessions", "Who does what, by session");
    if (r->reviews)
        document_link(doc, "review", "Planned and done so far");
    for (size_t i = 0; i < r->count; i++) {
        char id[ID_TEXT];
        snprintf(id, sizeof id, "athlete-%zu", i + 1);
        document_link(doc, id, shown_name(&r->cases[i], &name));
    }
    document_link(doc, "letter", "For players and parents");
    document_link(doc, "what-if", "What if: other lengths and cuts");
    document_link(doc, "science", "For the scientist");
    text_free(&name);
}

static void add_warnings(const Report *r, Document *doc) {
    const BestTaper **each = mem_new(r->count, sizeof *each);
    for (size_t i = 0; i < r->count; i++)
        each[i] = &r->plans[i].taper;
    taper_warnings(each, r->count, doc);
    free(each);
}

static void add_squad(const Report *r, Document *doc) {
    BestTaper *v = mem_new(r->count, sizeof *v); /* they stay the plans' */
    Text text = {0};
    char day[DATE_TEXT];
    for (size_t i = 0; i < r->count; i++)
        v[i] = r->plans[i].taper;
    document_open(doc, BLOCK_SECTION, "squad",
                  r->count > 1 ? "The squad" : "At a glance");
    words_event(&r->cases[0], &text);
    document_words(doc, WORDS_PLAIN, "%s. Today is %s.%s", text_of(&text),
                   date_write_short(day, r->context->season->today),
                   r->plans[0].given ? " This page is about the taper that was "
                                       "given, not the recommended one."
                                     : "");
    if (r->count > 1)
        taper_text_squad(v, r->count, doc);
    else
        taper_text_one(v, doc);
    add_warnings(r, doc);
    footer_caution(r->context, doc);
    add_causes(r, doc);
    add_contents(r, doc);
    document_close(doc, BLOCK_SECTION);
    text_free(&text);
    free(v);
}

/* ---- the head coach's page ---- */

static bool one_event(const Report *r) {
    for (size_t i = 1; i < r->count; i++)
        if (r->cases[i].event != r->cases[0].event)
            return false;
    return true;
}

/* Whose days are those of the plan handed out. */
static void add_handed_days(const Report *r, Document *doc) {
    size_t count = 0;
    Text who = {0};
    for (size_t i = 0; i < r->count; i++)
        if (r->plans[i].handed)
            text_add(&who, "%s%s", count++ ? ", " : "", r->cases[i].name);
    if (count > 0)
        document_words(doc, WORDS_ITEM,
                       "The plan handed out stands for %s: these are its days.",
                       count == r->count ? "everybody" : text_of(&who));
    text_free(&who);
}

static void add_sessions(const Report *r, Document *doc) {
    if (r->count < 2)
        return;
    document_open(doc, BLOCK_SECTION, "sessions", "Who does what, by session");
    if (one_event(r)) {
        plan_text_lead(r->plans, r->count, doc);
        add_handed_days(r, doc);
        plan_days_squad(r->plans, r->count, (PlanView){.paper = true}, doc);
    } else {
        document_words(doc, WORDS_PLAIN,
                       "The athletes go to different events: each one's sheet "
                       "has their own days.");
    }
    document_close(doc, BLOCK_SECTION);
}

/* ---- the plan handed out ---- */

/* Of a squad the weeks of each. */
static void add_review_weeks(const Reviews *all, Document *doc) {
    for (size_t i = 0; i < all->count && all->count > 1; i++) {
        document_words(doc, WORDS_HEADING, "%s, week by week",
                       all->item[i].name);
        review_text_weeks(&all->item[i], doc);
    }
}

static void open_review(const Report *r, Document *doc) {
    Text title = {0};
    review_text_title(r->reviews, &title);
    document_open(doc, BLOCK_SECTION, "review", text_of(&title));
    review_text_body(r->context, r->reviews, doc);
    text_free(&title);
}

static void add_review(const Report *r, Document *doc) {
    if (!r->reviews)
        return;
    open_review(r, doc);
    document_close(doc, BLOCK_SECTION);
}

static StatusCode add_review_picture(Report *r, Document *doc, Status *status) {
    Text paths = {0};
    char *path;
    DocumentPicture picture = {.caption =
                                   "Planned and done, forecast and outcome."};
    StatusCode code =
        review_pictures_draw(r->reviews, 0, &r->gallery, &paths, status);
    path = mem_copy(text_of(&paths));
    path[strcspn(path, "\n")] = '\0';
    picture.path = path;
    if (code == STATUS_OK)
        document_picture(doc, &picture);
    free(path);
    text_free(&paths);
    return code;
}

/* The page after the event. */
static StatusCode add_over(Report *r, Document *doc, Status *status) {
    StatusCode code;
    open_review(r, doc);
    code = r->reviews->count <= ROWS_DRAWN ? add_review_picture(r, doc, status)
                                           : STATUS_OK;
    footer_caution(r->context, doc);
    add_review_weeks(r->reviews, doc);
    add_causes(r, doc);
    review_text_notes(doc);
    document_close(doc, BLOCK_SECTION);
    return code;
}

/* ---- a sheet a player ---- */

static void add_why(const Plan *p, Document *doc) {
    if (p->handed ? plan_first_cut(p, 1) == p->taper.c->event->start
                  : p->option.count == 0)
        return;
    document_words(doc, WORDS_PLAIN,
                   "Training makes you fit and makes you tired. Tiredness "
                   "fades in days, fitness only in weeks. So you do less in "
                   "these days, but as hard as ever: the tiredness goes and "
                   "the fitness stays.");
}

static void add_bars(const Plan *p, Document *doc) {
    Text svg = {0};
    DocumentPicture picture = {.alt = "Bars of the days up to the event: usual "
                                      "training as outlines, planned training "
                                      "filled; the table below has each day",
                               .caption = "Filled: planned. Outline: usual."};
    plan_bars(p, &svg);
    picture.svg = text_of(&svg);
    document_picture(doc, &picture);
    text_free(&svg);
}

static void add_event_week(const Plan *p, Document *doc) {
    document_open(doc, BLOCK_SIDE, NULL, NULL);
    event_sheet(p, doc);
    document_close(doc, BLOCK_SIDE);
}

/* A sheet made anew takes no plan's place by itself. */
static void add_stands(const Plan *p, Document *doc) {
    const Case *c = p->taper.c;
    char day[DATE_TEXT];
    Text events = {0};
    if (!p->taper.handed.there || p->handed)
        return;
    record_text_events(c->context, c->athlete, &events);
    document_words(doc, WORDS_PLAIN,
                   "The plan handed out on %s%s%s%s stands. This is what would "
                   "be planned today%s.",
                   date_write_short(day, p->taper.handed.issued),
                   events.length ? " for " : "", text_of(&events),
                   events.length ? " together" : "",
                   events.length ? " for this event alone" : "");
    text_free(&events);
}

static void add_sheet(const Report *r, size_t at, Document *doc) {
    const Plan *p = &r->plans[at];
    char id[ID_TEXT];
    Text text = {0};
    snprintf(id, sizeof id, "athlete-%zu", at + 1);
    document_open(doc, BLOCK_SECTION, id, shown_name(&r->cases[at], &text));
    text_clear(&text);
    words_event(p->taper.c, &text);
    document_words(doc, WORDS_PLAIN, "%s.", text_of(&text));
    text_clear(&text);
    plan_words_lead(p, &text);
    add_stands(p, doc);
    document_words(doc, WORDS_LEAD, "Your plan: %s", text_of(&text));
    text_clear(&text);
    plan_words_before(p, &text);
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_clear(&text);
    plan_words_team(p, 1, false, &text);
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_clear(&text);
    taper_warnings_absences(p->taper.c, &text);
    if (text.length)
        document_words(doc, WORDS_CAUTION, "%s", text_of(&text));
    add_why(p, doc);
    add_bars(p, doc);
    plan_days(p, (PlanView){.paper = true}, doc);
    document_words(doc, WORDS_SMALL,
                   "60 \xE2\x86\x92 25: usually 60, now 25. Days not listed "
                   "are rest days. Weights and effort stay as usual. A session "
                   "missed is missed: nothing is added back.");
    footer_caution_one(p->taper.c, doc);
    add_event_week(p, doc);
    document_close(doc, BLOCK_SECTION);
    text_free(&text);
}

/* ---- a letter ---- */

static void add_letter(Document *doc) {
    static const char *const words[] = {
        "In the days before the event training gets shorter. That is planned, "
        "and it is called a taper. Training makes you fit and makes you tired; "
        "tiredness fades in days, fitness in weeks. Less training, as hard as "
        "ever, lets the tiredness go.",
        "You may feel flat, heavy or restless in the first days. That is "
        "common "
        "and no sign of lost fitness. Do not train on your own to make up for "
        "it. Nothing that was missed is added back.",
        "Eat as you usually do, with bread, rice, pasta or potatoes at every "
        "meal, and only foods tried in training. Nobody needs to lose weight "
        "for this event. Drink when you are thirsty, and a little more around "
        "training; do not drink more than you lose: too much water is "
        "dangerous.",
        "Go to bed and get up at the same hours, those of the event if you "
        "can. "
        "Eight hours or more, less screen in the evening.",
        "Do not train with fever, illness or new pain. Tell the coach the same "
        "day. Whether and when somebody comes back after illness or injury, a "
        "physician decides. In growing athletes pain or lasting fatigue is a "
        "reason to stop. With diabetes, heart, kidney or eating disorders, or "
        "any medicine: ask your physician or dietitian before you change food "
        "or drink.",
        "The plan is a calculation from training diaries, with much that is "
        "not "
        "known. How you feel counts: say so."};
    document_open(doc, BLOCK_SECTION, "letter", "For players and parents");
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        document_words(doc, WORDS_PLAIN, "%s", words[i]);
    document_close(doc, BLOCK_SECTION);
}

/* ---- what if ---- */

/* Draws with `taper`'s own functions; the files are read when the page is
 * printed. */
static StatusCode draw(Report *r, size_t at, Status *status) {
    const BestTaper *v = &r->plans[at].taper;
    StatusCode code =
        taper_pictures_season(v, &r->gallery, &r->drawn[at], status);
    if (code == STATUS_OK)
        code = taper_pictures_map(v, &r->gallery, &r->drawn[at], status);
    return code;
}

/* Is the model of somebody not followed? */
static bool some_silent(const Report *r) {
    for (size_t i = 0; i < r->count; i++)
        if (best_taper_silent(&r->plans[i].taper))
            return true;
    return false;
}

/* The appendix's pictures are begun here: gnuplot draws them while the program
 * goes on. */
static StatusCode add_what_if(Report *r, Document *doc, Status *status) {
    Text name = {0};
    StatusCode code = STATUS_OK;
    Progress progress =
        progress_begin("athletes drawn", r->count, r->output->quiet);
    document_open(doc, BLOCK_SECTION, "what-if",
                  "What if: other lengths and cuts");
    what_if_page_words(some_silent(r), doc);
    for (size_t i = 0; i < r->count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = draw(r, i, status);
        what_if_page(&r->plans[i], shown_name(&r->cases[i], &name), doc);
    }
    progress_end(&progress);
    document_close(doc, BLOCK_SECTION);
    text_free(&name);
    return code;
}

/* ---- the appendix ---- */

/* Digits by the width of what is likely: tenths of it. */
static double shown_scale(const BestTaper *v, const Spread *spread) {
    double width = spread->readiness_high - spread->readiness_low;
    return isfinite(width) && width > 0 ? 10 * width : best_taper_scale(v);
}

static void figure_cell(Grid *grid, const Case *c, double readiness,
                        double scale) {
    char figure[FIGURE_TEXT];
    grid_cell(grid, "%s", words_level(figure, c, readiness, scale));
}

static void figures_row(const Plan *p, Grid *grid) {
    const BestTaper *v = &p->taper;
    const Case *c = v->c;
    const Model *m = case_model(c);
    Spread spread = p->handed ? v->handed.spread : v->spread;
    double scale = shown_scale(v, &spread);
    char a[FIGURE_TEXT], b[FIGURE_TEXT];
    Text name = {0};
    grid_cell(grid, "%s", shown_name(c, &name));
    figure_cell(grid, c, band_today(c), scale);
    figure_cell(grid, c, v->search.items[0].readiness, scale);
    figure_cell(grid, c, p->handed ? v->handed.readiness : p->ideal, scale);
    if (isfinite(spread.readiness_low) && case_has_figures(c))
        grid_cell(grid, "%s to %s",
                  words_figure(a, spread.readiness_low, scale),
                  words_figure(b, spread.readiness_high, scale));
    else
        grid_cell(grid, "-");
    grid_cell(grid, "%zu", c->context->models[c->model]->tests);
    grid_cell(grid, "%s%s",
              case_level_known(c) ? m->unit
              : m->scaled         ? "no test tells the level"
                                  : "model's own scale",
              m->lower ? ", lower is better" : "");
    text_free(&name);
}

static void add_figures(const Report *r, Document *doc) {
    static const GridColumn columns[] = {{"athlete", false},
                                         {"readiness today", true},
                                         {"at the event, no taper", true},
                                         {"with the taper", true},
                                         {"90 % range", true},
                                         {"tests", true},
                                         {"readiness is", false}};
    Grid grid;
    grid_start(&grid, columns, 7);
    for (size_t i = 0; i < r->count; i++)
        figures_row(&r->plans[i], &grid);
    document_table(doc, &grid, "Readiness: the predicted test result");
}

static void add_picture(const Report *r, size_t at, bool map, Document *doc) {
    const char *paths = text_of(&r->drawn[at]);
    Text path = {0};
    DocumentPicture picture = {
        .caption = map ? "What each taper with the same cut on all days "
                         "gains."
                       : "The last weeks and the way to the event; fitness "
                         "and fatigue in units of readiness."};
    if (map)
        paths += strcspn(paths, "\n") + 1;
    text_put(&path, paths, strcspn(paths, "\n"));
    picture.path = text_of(&path);
    document_picture(doc, &picture);
    text_free(&path);
}

static void add_athlete(const Report *r, size_t at, Document *doc) {
    const Plan *p = &r->plans[at];
    Text text = {0};
    document_words(doc, WORDS_HEADING, "%s: curves, map, options",
                   shown_name(p->taper.c, &text));
    add_picture(r, at, false, doc);
    add_picture(r, at, true, doc);
    taper_text_options(&p->taper, doc);
    text_clear(&text);
    words_model(case_model(p->taper.c), &text);
    text_add(&text, ". ");
    plan_words_outcome(p, &text);
    document_words(doc, WORDS_PLAIN, "Model: %s", text_of(&text));
    text_free(&text);
}

static void add_method(const Report *r, Document *doc) {
    const BestTaper *v = &r->plans[0].taper;
    document_words(
        doc, WORDS_PLAIN,
        "Each session leaves two traces: fitness, which fades slowly, and "
        "fatigue, which is larger at first and fades fast. Readiness is a "
        "level plus fitness minus fatigue. A taper lets fatigue go while most "
        "fitness stays; how long and how deep depends on the athlete's own "
        "time constants, which tests tell only in part.");
    document_words(doc, WORDS_ITEM,
                   "A linear model always asks for the largest cut allowed in "
                   "the last days and for none before: the limits are what "
                   "keeps skill, sharpness and morale.");
    document_words(doc, WORDS_ITEM,
                   "It knows loads only, not sleep, travel, pain or illness.");
    document_words(doc, WORDS_ITEM,
                   "Gains beyond 6 %% are outside published experience; 2-3 %% "
                   "is usual.");
    taper_text_legend(v, doc);
    footer_evidence(doc);
    taper_warnings_searched(v->c, v->longest, doc);
    footer_basis(r->context, v->c, doc);
}

static void add_appendix(const Report *r, Document *doc) {
    document_open(doc, BLOCK_SECTION, "science", "For the scientist");
    add_figures(r, doc);
    add_method(r, doc);
    for (size_t i = 0; i < r->count; i++)
        add_athlete(r, i, doc);
    document_close(doc, BLOCK_SECTION);
}

/* ---- the page ---- */

/* The event is over. */
static StatusCode write_over(Report *r, FILE *to, Status *status) {
    Document doc = {0};
    StatusCode code;
    document_title(&doc, "After %s", review_over(r->context)->name);
    code = add_over(r, &doc, status);
    if (code == STATUS_OK)
        code = document_write(&doc, true, to, status);
    document_free(&doc);
    return code;
}

StatusCode report_page_write(Report *r, FILE *to, Status *status) {
    Document doc = {0};
    StatusCode code;
    if (r->count == 0)
        return write_over(r, to, status);
    document_title(&doc, "The way to %s", r->cases[0].event->name);
    add_squad(r, &doc);
    add_sessions(r, &doc);
    add_review(r, &doc);
    for (size_t i = 0; i < r->count; i++)
        add_sheet(r, i, &doc);
    add_letter(&doc);
    r->drawn = mem_new(r->count, sizeof *r->drawn);
    r->gallery.series = plot_series();
    code = add_what_if(r, &doc, status);
    if (code == STATUS_OK)
        add_appendix(r, &doc);
    code = plot_series_end(r->gallery.series, code, status);
    if (code == STATUS_OK)
        code = document_write(&doc, true, to, status);
    document_free(&doc);
    for (size_t i = 0; i < r->count; i++)
        text_free(&r->drawn[i]);
    free(r->drawn);
    return code;
}
