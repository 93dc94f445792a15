/* squad_text: see squad_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/squad_text.h"

#include "base/mem.h"
#include "output/footer.h"
#include "output/taper_text.h"
#include "output/taper_warnings.h"
#include "output/team_text.h"
#include "output/words.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>

/* ---- one athlete under one plan ---- */

static const char *const worth_names[] = {"no", "unsure", "yes"};

/* ---- CSV ---- */

static void csv_option(Csv *csv, const Option *option) {
    Text spec = {0};
    option_write(option, &spec);
    csv_text(csv, text_of(&spec));
    text_free(&spec);
}

static void csv_row(const SquadPlans *s, size_t plans, size_t i, FILE *to) {
    const BestTaper *v = s->v[i];
    Lot lot = squad_plans_lot(s, &s->groups[plans - 1], i);
    char letter[2] = {(char)('A' + lot.plan), '\0'};
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, v->c->name);
    csv_text(&csv, v->c->event->name);
    csv_number(&csv, (double)plans);
    csv_text(&csv, letter);
    csv_option(&csv, &s->option[lot.option]);
    csv_number(&csv, s->gain[i * s->options + lot.option]);
    csv_number(&csv, s->kept[i * s->options + lot.option]);
    csv_option(&csv, &s->option[s->own[i]]);
    csv_number(&csv, s->gain[i * s->options + s->own[i]]);
    csv_number(&csv, v->possible);
    csv_number(&csv, lot.loss);
    csv_number(&csv, lot.low);
    csv_number(&csv, lot.high);
    csv_number(&csv, lot.better);
    csv_text(&csv, worth_names[lot.worth]);
    csv_text(&csv, words_followed(v));
    csv_end(&csv);
}

static const Found *own_found(const BestTaper *v) {
    return &v->search.items[v->search.recommended];
}

/* Of one in no group: whom no taper helps, or (`known` is false) of whose
 * published taper no gain is known. */
static void csv_outside(const BestTaper *v, const Found *f, bool known,
                        FILE *to) {
    double gain = known ? 0 : NAN;
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, v->c->name);
    csv_text(&csv, v->c->event->name);
    csv_number(&csv, NAN);
    csv_text(&csv, "");
    csv_option(&csv, &f->option);
    csv_number(&csv, gain);
    csv_number(&csv, f->kept);
    if (known)
        csv_option(&csv, &f->option);
    else
        csv_text(&csv, "");
    csv_number(&csv, gain);
    csv_number(&csv, known ? v->possible : NAN);
    for (int i = 0; i < 4; i++)
        csv_number(&csv, NAN);
    csv_text(&csv, "");
    csv_text(&csv, words_followed(v));
    csv_end(&csv);
}

void squad_text_csv_header(const Output *o) {
    output_header(o, "athlete,event,plans,plan,option,gain,kept,"
                     "own_option,own_gain,possible,loss,loss_low,"
                     "loss_high,own_better,worth,followed");
}

void squad_text_csv(const SquadPlans *s, FILE *to) {
    for (size_t n = 1; n <= s->most; n++)
        for (size_t i = 0; i < s->count; i++)
            csv_row(s, n, i, to);
    for (size_t i = 0; i < s->left_count; i++)
        csv_outside(s->left[i], &s->left[i]->search.items[0], true, to);
    for (size_t i = 0; i < s->unknown_count; i++)
        csv_outside(s->unknown[i], own_found(s->unknown[i]), false, to);
}

/* ---- text ---- */

static void add_title(const BestTaper *v, size_t count, Document *doc) {
    char day[DATE_TEXT];
    Text text = {0};
    text_add(&text, "Tapers in groups for a squad of %zu: ", count);
    words_event(v->c, &text);
    text_add(&text, ". Today is %s.",
             date_write_short(day, v->c->context->season->today));
    document_title(doc, "%s", text_of(&text));
    text_free(&text);
}

static void count_cell(Grid *grid, const SquadPlans *s, size_t count) {
    if (count)
        grid_cell(grid, "%zu of %zu", count, s->count);
    else
        grid_cell(grid, "nobody");
}

static void numbers_row(const SquadPlans *s, size_t n, Grid *grid) {
    const Common *g = &s->groups[n - 1];
    double most = -1;
    size_t who = 0;
    for (size_t i = 0; i < s->count; i++) {
        double loss = s->loss[i * s->options + g->option[g->taper[i]]];
        if (loss > most) {
            most = loss;
            who = i;
        }
    }
    grid_cell(grid, "%zu", g->tapers);
    grid_cell(grid, "%.0f %%", 100 * g->lost);
    if (most > 1)
        grid_cell(grid, "over 100 %% (%s)", s->v[who]->c->name);
    else
        grid_cell(grid, "%.0f %% (%s)", 100 * most, s->v[who]->c->name);
    count_cell(grid, s, squad_plans_count(s, n, WORTH_YES));
    count_cell(grid, s, squad_plans_count(s, n, WORTH_UNSURE));
}

/* What each number of plans costs. */
static void add_numbers(const SquadPlans *s, Document *doc) {
    static const GridColumn columns[] = {{"groups", true},
                                         {"lost\ntogether", true},
                                         {"lost at most", true},
                                         {"own taper\nworth it", false},
                                         {"perhaps\nworth it", false}};
    Grid grid;
    grid_start(&grid, columns, 5);
    for (size_t n = 1; n <= s->most; n++)
        if (n == 1 || s->groups[n - 1].tapers > s->groups[n - 2].tapers)
            numbers_row(s, n, &grid);
    document_table(doc, &grid, "");
}

static void add_plan(const SquadPlans *s, const Common *g, size_t p,
                     Document *doc) {
    const Option *option = &s->option[g->option[p]];
    Text text = {0};
    char day[DATE_TEXT];
    size_t members = 0;
    double kept = 0;
    text_add(&text, "%c: ", (char)('A' + (int)p));
    option_write(option, &text);
    text_add(&text, " for ");
    for (size_t i = 0; i < s->count; i++)
        if (g->taper[i] == p) {
            text_add(&text, "%s%s", members++ ? ", " : "", s->v[i]->c->name);
            kept += s->kept[i * s->options + g->option[p]];
        }
    text_add(&text, ": ");
    option_words(option, &text);
    date_write_short(day, s->v[0]->c->event->start - (Date)option_days(option));
    text_add(&text, ", from %s; keeps %.0f %% of the training.", day,
             100 * kept / (double)members);
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&text);
}

/* What is lost under a plan; * where it is theirs. */
static void loss_cell(const SquadPlans *s, size_t i, size_t option, bool theirs,
                      Grid *grid) {
    size_t cell = i * s->options + option;
    const char *star = theirs ? "*" : " ";
    if (!isfinite(s->loss[cell]))
        grid_cell(grid, "-%s", star);
    else if (s->gain[cell] < 0)
        grid_cell(grid, "worse%s", star);
    else
        grid_cell(grid, "%.0f %%%s", 100 * s->loss[cell], star);
}

static void athlete_row(const SquadPlans *s, const Common *g, size_t i,
                        Grid *grid) {
    Lot lot = squad_plans_lot(s, g, i);
    const BestTaper *v = s->v[i];
    Text spec = {0};
    char number[FIGURE_TEXT], high[FIGURE_TEXT];
    double scale = best_taper_scale(v);
    bool figures = case_has_figures(v->c);
    option_write(&s->option[s->own[i]], &spec);
    grid_cell(grid, "%s", v->c->name);
    grid_cell(grid, "%s", text_of(&spec));
    for (size_t p = 0; p < g->tapers; p++)
        loss_cell(s, i, g->option[p], p == lot.plan, grid);
    grid_cell(
        grid, "%s",
        words_figure(number, figures ? lot.loss * v->possible : NAN, scale));
    if (isfinite(lot.low) && lot.option != s->own[i] && figures)
        grid_cell(grid, "%s to %s",
                  words_figure(number, lot.low * v->possible, scale),
                  words_figure(high, lot.high * v->possible, scale));
    else
        grid_cell(grid, "-");
    grid_cell(
        grid, "%s",
        words_percent(number, lot.option == s->own[i] ? NAN : lot.better));
    grid_cell(grid, "%s",
              lot.worth == WORTH_NO       ? "no"
              : lot.worth == WORTH_UNSURE ? "perhaps"
                                          : "yes");
    text_free(&spec);
}

static void add_athletes(const SquadPlans *s, const Common *g, Document *doc) {
    static const char *const letters[] = {
        "lost\nby A", "lost\nby B", "lost\nby C", "lost\nby D",
        "lost\nby E", "lost\nby F", "lost\nby G", "lost\nby H"};
    GridColumn columns[SQUAD_PLANS_MOST + 6] = {{"athlete", false},
                                                {"own\nbest", false}};
    size_t k = 2;
    Grid grid;
    for (size_t p = 0; p < g->tapers; p++)
        columns[k++] = (GridColumn){letters[p], true};
    columns[k++] = (GridColumn){"amount\nlost", true};
    columns[k++] = (GridColumn){"90 %\nrange", true};
    columns[k++] = (GridColumn){"own is\nbetter", true};
    columns[k++] = (GridColumn){"own\ntaper?", false};
    grid_start(&grid, columns, (int)k);
    for (size_t i = 0; i < s->count; i++)
        athlete_row(s, g, i, &grid);
    document_table(doc, &grid, "");
}

static void add_left(const SquadPlans *s, Document *doc) {
    Text text = {0};
    for (size_t i = 0; i < s->left_count; i++)
        text_add(&text, "%s%s", i ? ", " : "", s->left[i]->c->name);
    if (s->left_count)
        text_add(&text,
                 ": no taper raises readiness in the model, so %s no part "
                 "here; decide by the published evidence.",
                 s->left_count == 1 ? "has" : "have");
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_free(&text);
}

/* Those of whom nothing is known with the same taper as one, who is the first
 * of them; else nothing. */
static void add_same(const SquadPlans *s, size_t first, Document *doc) {
    const Option *option = &own_found(s->unknown[first])->option;
    Text text = {0};
    for (size_t i = 0; i < s->unknown_count; i++) {
        if (!common_same(&own_found(s->unknown[i])->option, option))
            continue;
        if (i < first)
            break;
        text_add(&text, "%s%s", i > first ? ", " : "", s->unknown[i]->c->name);
    }
    if (text.length) {
        text_add(&text, ": ");
        taper_text_lead(s->unknown[first]->c, option, &text);
        document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    }
    text_free(&text);
}

static void add_unknown(const SquadPlans *s, Document *doc) {
    bool alone = s->count + s->left_count == 0, tested = false;
    Text who = {0};
    for (size_t i = 0; i < s->unknown_count; i++) {
        tested = tested || best_taper_silent(s->unknown[i]);
        text_add(&who, "%s%s", i ? ", " : "", s->unknown[i]->c->name);
        add_same(s, i, doc);
    }
    if (s->unknown_count > 0) {
        taper_text_silence(true, tested, "this one", doc);
        taper_text_unknown(alone ? NULL : text_of(&who), tested,
                           "instead of groups there is", true, doc);
    }
    text_free(&who);
}

/* "With one taper for all", "With 3 groups". */
static void add_groups_words(size_t groups, Text *text) {
    if (groups == 1)
        text_add(text, "With one taper for all");
    else
        text_add(text, "With %zu groups", groups);
}

/* How sure it is that a common taper is enough. */
static void add_sureness(const SquadPlans *s, Document *doc) {
    size_t sure = squad_plans_enough(s, WORTH_UNSURE),
           all = squad_plans_enough(s, WORTH_NO);
    Text text = {0};
    if (sure) {
        add_groups_words(sure, &text);
        text_add(&text, " no taper of one's own is sure to be worth it%s",
                 all == sure ? ", and " : ". ");
    } else {
        text_add(&text,
                 "More than %zu group%s needed: for those marked 'yes' a taper "
                 "of their own is worth it. ",
                 s->most, s->most == 1 ? " is" : "s are");
    }
    if (all && all == sure) {
        text_add(&text, "nobody loses over 15 %% of their own best.");
    } else if (all) {
        add_groups_words(all, &text);
        text_add(&text, " nobody loses over 15 %% of their own best; whether "
                        "that is worth the trouble is yours to say.");
    } else if (sure) {
        text_add(&text, "For those marked 'perhaps' a further taper may bring "
                        "more: the table says how much.");
    }
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_free(&text);
}

/* What the sessions of the team let be carried out. */
static void add_team(const SquadPlans *s, Document *doc) {
    const BestTaper **all =
        mem_new(s->count + s->left_count + s->unknown_count, sizeof *all);
    size_t count = 0;
    for (size_t i = 0; i < s->count; i++)
        all[count++] = s->v[i];
    for (size_t i = 0; i < s->left_count; i++)
        all[count++] = s->left[i];
    for (size_t i = 0; i < s->unknown_count; i++)
        all[count++] = s->unknown[i];
    team_text_groups(all, count, s->count > 1, doc);
    free(all);
}

void squad_text(const SquadPlans *s, Document *doc) {
    const Common *g = &s->groups[s->count > 1 ? s->most - 1 : 0];
    add_title(s->count        ? s->v[0]
              : s->left_count ? s->left[0]
                              : s->unknown[0],
              s->count + s->left_count + s->unknown_count, doc);
    for (size_t p = 0; s->count > 0 && p < g->tapers; p++)
        add_plan(s, g, p, doc);
    if (s->count > 1) {
        add_sureness(s, doc);
        add_numbers(s, doc);
        add_athletes(s, g, doc);
    }
    add_left(s, doc);
    add_unknown(s, doc);
    add_team(s, doc);
}

void squad_text_foot(const BestTaper *v, bool groups, Document *doc) {
    if (!groups) {
        footer(v->c, v->longest, doc);
        return;
    }
    document_words(doc, WORDS_ITEM,
                   "lost: share of the largest gain possible within the "
                   "limits; amount: the same in readiness; worse: than no "
                   "taper; *: assigned taper.");
    document_words(doc, WORDS_ITEM,
                   "own taper?: 'yes' where it is worth its trouble; 'perhaps' "
                   "where it would gain more, but in fewer than 95 of 100 "
                   "likely models; 'no' where less than 15 %% of their own "
                   "best is lost, as much as a common taper may cost.");
    document_words(doc, WORDS_ITEM,
                   "Intensity and number of sessions stay as usual. One taper "
                   "for several is easier to carry out.");
    footer(v->c, v->longest, doc);
}
