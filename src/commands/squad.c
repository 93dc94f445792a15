/* squad: see squad.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/squad.h"

#include "base/mem.h"
#include "commands/verdict.h"
#include "present/grid.h"
#include "present/squad_pictures.h"
#include "taper/groups.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A plan of her own must be better in at least so many of the likely models
 * before it is called worth it. */
#define SURE .95

/* The athletes on the way to one event whom a taper helps. */
typedef struct {
    const Verdict **v;
    size_t count;
    const Verdict **left; /* whom no taper helps */
    size_t left_count;
    Option *option; /* of any of them */
    size_t options;
    double *gain;  /* [count * options] -INFINITY: not within her limits */
    double *loss;  /* [count * options] share of the possible gain */
    double *kept;  /* [count * options] share of the planned load */
    size_t *own;   /* [count] her best option */
    double *slack; /* [count] a loss that cannot be told from 0 */
    Groups groups[GROUPS_MOST]; /* groups[n - 1]: at most n plans */
    size_t most;                /* plans looked at */
} Squad;

/* ---- options of all ---- */

static int compare_double(double a, double b) {
    return (a > b) - (a < b);
}

/* An order of options: no taper, then by parts. */
static int compare_options(const void *one, const void *other) {
    const Option *a = one, *b = other;
    int order = a->count - b->count;
    for (int i = 0; i < a->count && order == 0; i++) {
        const OptionPart *p = &a->part[i], *q = &b->part[i];
        order = p->days - q->days;
        if (order == 0)
            order = compare_double(p->from, q->from);
        if (order == 0)
            order = compare_double(p->to, q->to);
        if (order == 0)
            order = p->fall - q->fall;
    }
    return order;
}

/* Every option that was searched for any of the athletes, once. */
static void list_options(Squad *s) {
    size_t all = 0, kept = 0;
    for (size_t i = 0; i < s->count; i++)
        all += s->v[i]->search.count;
    s->option = mem_new(all, sizeof *s->option);
    all = 0;
    for (size_t i = 0; i < s->count; i++)
        for (size_t k = 0; k < s->v[i]->search.count; k++)
            s->option[all++] = s->v[i]->search.items[k].option;
    qsort(s->option, all, sizeof *s->option, compare_options);
    for (size_t k = 0; k < all; k++)
        if (kept == 0 ||
            compare_options(&s->option[kept - 1], &s->option[k]) != 0)
            s->option[kept++] = s->option[k];
    s->options = kept;
}

static size_t find_option(const Squad *s, const Option *option) {
    const Option *found = bsearch(option, s->option, s->options,
                                  sizeof *s->option, compare_options);
    return (size_t)(found - s->option);
}

/* Options that another athlete's search listed and this one's did not: longer
 * than her days allow, or against her week's limits. */
static void score_rest(const Squad *s, size_t i) {
    const Verdict *v = s->v[i];
    const Limits *limits = &v->c->desk->question->limits;
    for (size_t k = 0; k < s->options; k++) {
        size_t cell = i * s->options + k;
        const Option *option = &s->option[k];
        if (!isnan(s->gain[cell]))
            continue;
        s->gain[cell] = -INFINITY;
        if (search_allows(&v->c->outlook, limits, option))
            s->gain[cell] =
                score_option(&v->score, option) - v->search.items[0].readiness;
        s->kept[cell] = search_kept(&v->c->outlook, option, v->longest);
    }
}

static void score_all(Squad *s, size_t i) {
    const Search *search = &s->v[i]->search;
    size_t cells = i * s->options;
    for (size_t k = 0; k < s->options; k++)
        s->gain[cells + k] = NAN;
    for (size_t k = 0; k < search->count; k++) {
        size_t at = find_option(s, &search->items[k].option);
        s->gain[cells + at] = search->items[k].gain;
        s->kept[cells + at] = search->items[k].kept;
    }
    score_rest(s, i);
    s->own[i] = find_option(s, &search->items[search->best].option);
    for (size_t k = 0; k < s->options; k++)
        if (s->gain[cells + k] > s->gain[cells + s->own[i]])
            s->own[i] = k;
    for (size_t k = 0; k < s->options; k++)
        s->loss[cells + k] = (s->gain[cells + s->own[i]] - s->gain[cells + k]) /
                             s->v[i]->possible;
    s->slack[i] =
        (SEARCH_EQUAL + 1e-9) * s->gain[cells + s->own[i]] / s->v[i]->possible;
}

static void find_groups(Squad *s, size_t most) {
    LossTable table = {s->count, s->options, s->loss};
    s->most = most < s->count ? most : s->count;
    for (size_t n = 0; n < s->most; n++) {
        groups_find(&table, n + 1, &s->groups[n]);
        groups_keep_most(&table, s->kept, s->slack, &s->groups[n]);
    }
}

/* ---- building ---- */

static void squad_build(const Verdict *all, size_t count, const Event *event,
                        size_t most, Squad *s) {
    *s = (Squad){0};
    s->v = mem_new(count, sizeof *s->v);
    s->left = mem_new(count, sizeof *s->left);
    for (size_t i = 0; i < count; i++) {
        if (all[i].c->event != event)
            continue;
        if (all[i].search.best > 0 && all[i].possible > 0)
            s->v[s->count++] = &all[i];
        else
            s->left[s->left_count++] = &all[i];
    }
    list_options(s);
    s->gain = mem_new(s->count * s->options, sizeof *s->gain);
    s->loss = mem_new(s->count * s->options, sizeof *s->loss);
    s->kept = mem_new(s->count * s->options, sizeof *s->kept);
    s->own = mem_new(s->count, sizeof *s->own);
    s->slack = mem_new(s->count, sizeof *s->slack);
    for (size_t i = 0; i < s->count; i++)
        score_all(s, i);
    if (s->count > 0)
        find_groups(s, most);
}

static void squad_free(Squad *s) {
    for (size_t n = 0; n < s->most; n++)
        groups_free(&s->groups[n]);
    free(s->v);
    free(s->left);
    free(s->option);
    free(s->gain);
    free(s->loss);
    free(s->kept);
    free(s->own);
    free(s->slack);
    *s = (Squad){0};
}

/* ---- one athlete under one plan ---- */

typedef enum { WORTH_NO, WORTH_UNSURE, WORTH_YES } Worth;

static const char *const worth_names[] = {"no", "unsure", "yes"};

typedef struct {
    size_t option, plan;
    double loss, low, high; /* share of the possible gain; the interval is that
                               of the likely models, NAN without draws */
    double better;          /* share of them in which her own is better */
    Worth worth;            /* a plan of her own */
} Lot;

static Lot lot_of(const Squad *s, const Groups *g, size_t i) {
    const Verdict *v = s->v[i];
    Lot lot = {.plan = g->plan[i], .option = g->option[g->plan[i]]};
    size_t n = v->draws.count;
    double *own = mem_new(n, sizeof *own), *other = mem_new(n, sizeof *other);
    draw_scores_gains(&v->draws, &s->option[s->own[i]], own);
    draw_scores_gains(&v->draws, &s->option[lot.option], other);
    for (size_t k = 0; k < n; k++)
        own[k] = (own[k] - other[k]) / v->possible;
    lot.loss = s->loss[i * s->options + lot.option];
    lot.low = draws_quantile(own, n, .05);
    lot.high = draws_quantile(own, n, .95);
    lot.better =
        verdict_beats(v, &s->option[s->own[i]], &s->option[lot.option]);
    lot.worth = lot.loss <= s->slack[i]                     ? WORTH_NO
                : isfinite(lot.better) && lot.better < SURE ? WORTH_UNSURE
                                                            : WORTH_YES;
    free(own);
    free(other);
    return lot;
}

/* How many have this answer with at most n plans. */
static size_t count_worth(const Squad *s, size_t n, Worth worth) {
    size_t count = 0;
    for (size_t i = 0; i < s->count; i++)
        count += lot_of(s, &s->groups[n - 1], i).worth == worth;
    return count;
}

/* The fewest plans with which nobody has an answer above `worth`; 0: more than
 * were looked at. */
static size_t enough(const Squad *s, Worth worth) {
    for (size_t n = 1; n <= s->most; n++) {
        size_t count = 0;
        for (Worth above = WORTH_YES; above > worth; above--)
            count += count_worth(s, n, above);
        if (count == 0)
            return n;
    }
    return 0;
}

/* More plans than leave everybody within what can be told apart are of no
 * use. */
static void settle(Squad *s) {
    size_t n = enough(s, WORTH_NO);
    for (; n > 0 && s->most > n; s->most--)
        groups_free(&s->groups[s->most - 1]);
}

/* ---- CSV ---- */

static void csv_option(Csv *csv, const Option *option) {
    Text spec = {0};
    option_write(option, &spec);
    csv_text(csv, text_of(&spec));
    text_free(&spec);
}

static void csv_row(const Squad *s, size_t plans, size_t i, FILE *to) {
    const Verdict *v = s->v[i];
    Lot lot = lot_of(s, &s->groups[plans - 1], i);
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
    csv_end(&csv);
}

static void csv_left(const Verdict *v, FILE *to) {
    Option none = {.count = 0};
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, v->c->name);
    csv_text(&csv, v->c->event->name);
    csv_number(&csv, NAN);
    csv_text(&csv, "");
    csv_option(&csv, &none);
    csv_number(&csv, 0);
    csv_number(&csv, 1);
    csv_option(&csv, &none);
    csv_number(&csv, 0);
    csv_number(&csv, v->possible);
    for (int i = 0; i < 4; i++)
        csv_number(&csv, NAN);
    csv_text(&csv, "");
    csv_end(&csv);
}

static void print_csv_header(const Output *o) {
    output_header(o, "athlete,event,plans,plan,option,gain,kept,"
                     "own_option,own_gain,possible,loss,loss_low,"
                     "loss_high,own_better,worth");
}

static void print_csv(const Squad *s, FILE *to) {
    for (size_t n = 1; n <= s->most; n++)
        for (size_t i = 0; i < s->count; i++)
            csv_row(s, n, i, to);
    for (size_t i = 0; i < s->left_count; i++)
        csv_left(s->left[i], to);
}

/* ---- text ---- */

static void print_head(const Verdict *v, size_t count, FILE *to) {
    char day[DATE_TEXT];
    Text text = {0};
    text_add(&text, "Plans for a squad of %zu: ", count);
    event_words(v->c, &text);
    text_add(&text, ". Today %s.",
             date_write_short(day, v->c->desk->season->today));
    print_wrapped(to, text_of(&text), 79, 0);
    fputc('\n', to);
    text_free(&text);
}

static void count_cell(Grid *grid, const Squad *s, size_t count) {
    if (count)
        grid_cell(grid, "%zu of %zu", count, s->count);
    else
        grid_cell(grid, "nobody");
}

static void numbers_row(const Squad *s, size_t n, Grid *grid) {
    const Groups *g = &s->groups[n - 1];
    double most = -1;
    size_t who = 0;
    for (size_t i = 0; i < s->count; i++) {
        double loss = s->loss[i * s->options + g->option[g->plan[i]]];
        if (loss > most) {
            most = loss;
            who = i;
        }
    }
    grid_cell(grid, "%zu", g->plans);
    grid_cell(grid, "%.0f %%", 100 * g->total / (double)s->count);
    grid_cell(grid, "%.0f %% (%s)", 100 * most, s->v[who]->c->name);
    count_cell(grid, s, count_worth(s, n, WORTH_YES));
    count_cell(grid, s, count_worth(s, n, WORTH_UNSURE));
}

/* What each number of plans costs. */
static void print_numbers(const Squad *s, FILE *to) {
    static const GridColumn columns[] = {{"plans", true},
                                         {"lost on\naverage", true},
                                         {"lost at most", true},
                                         {"own plan\nworth it", false},
                                         {"perhaps\nworth it", false}};
    Grid grid;
    grid_start(&grid, columns, 5);
    for (size_t n = 1; n <= s->most; n++)
        if (n == 1 || s->groups[n - 1].plans > s->groups[n - 2].plans)
            numbers_row(s, n, &grid);
    grid_print(&grid, to, 30);
    grid_free(&grid);
}

static void print_plan(const Squad *s, const Groups *g, size_t p, FILE *to) {
    const Option *option = &s->option[g->option[p]];
    Text text = {0};
    char day[DATE_TEXT];
    size_t members = 0;
    double kept = 0;
    text_add(&text, "%c  ", (char)('A' + (int)p));
    option_write(option, &text);
    text_add(&text, " for ");
    for (size_t i = 0; i < s->count; i++)
        if (g->plan[i] == p) {
            text_add(&text, "%s%s", members++ ? ", " : "", s->v[i]->c->name);
            kept += s->kept[i * s->options + g->option[p]];
        }
    text_add(&text, ": ");
    option_words(option, &text);
    date_write_short(day, s->v[0]->c->event->start - (Date)option_days(option));
    text_add(&text, ", from %s; keeps %.0f %% of the training.", day,
             100 * kept / (double)members);
    print_wrapped(to, text_of(&text), 79, 3);
    text_free(&text);
}

/* What is lost under a plan; * where it is hers. */
static void loss_cell(const Squad *s, size_t i, size_t option, bool hers,
                      Grid *grid) {
    size_t cell = i * s->options + option;
    const char *star = hers ? "*" : " ";
    if (!isfinite(s->loss[cell]))
        grid_cell(grid, "-%s", star);
    else if (s->gain[cell] < 0)
        grid_cell(grid, "worse%s", star);
    else
        grid_cell(grid, "%.0f %%%s", 100 * s->loss[cell], star);
}

static void athlete_row(const Squad *s, const Groups *g, size_t i, Grid *grid) {
    Lot lot = lot_of(s, g, i);
    const Verdict *v = s->v[i];
    Text spec = {0};
    char number[FIGURE_TEXT], high[FIGURE_TEXT];
    double scale = verdict_scale(v);
    option_write(&s->option[s->own[i]], &spec);
    grid_cell(grid, "%s", v->c->name);
    grid_cell(grid, "%s", text_of(&spec));
    for (size_t p = 0; p < g->plans; p++)
        loss_cell(s, i, g->option[p], p == lot.plan, grid);
    grid_cell(grid, "%s", figure(number, lot.loss * v->possible, scale));
    if (isfinite(lot.low) && lot.option != s->own[i])
        grid_cell(grid, "%s to %s",
                  figure(number, lot.low * v->possible, scale),
                  figure(high, lot.high * v->possible, scale));
    else
        grid_cell(grid, "-");
    grid_cell(grid, "%s",
              percent_cell(number, lot.option == s->own[i] ? NAN : lot.better));
    grid_cell(grid, "%s",
              lot.worth == WORTH_NO       ? "no"
              : lot.worth == WORTH_UNSURE ? "perhaps"
                                          : "yes");
    text_free(&spec);
}

static void print_athletes(const Squad *s, const Groups *g, FILE *to) {
    static const char *const letters[] = {
        "lost\nby A", "lost\nby B", "lost\nby C", "lost\nby D",
        "lost\nby E", "lost\nby F", "lost\nby G", "lost\nby H"};
    GridColumn columns[GROUPS_MOST + 6] = {{"athlete", false},
                                           {"her own\nbest", false}};
    size_t k = 2;
    Grid grid;
    for (size_t p = 0; p < g->plans; p++)
        columns[k++] = (GridColumn){letters[p], true};
    columns[k++] = (GridColumn){"amount\nlost", true};
    columns[k++] = (GridColumn){"amount,\n5-95 %", true};
    columns[k++] = (GridColumn){"own is\nbetter", true};
    columns[k++] = (GridColumn){"own\nplan?", false};
    grid_start(&grid, columns, (int)k);
    for (size_t i = 0; i < s->count; i++)
        athlete_row(s, g, i, &grid);
    grid_print(&grid, to, 18);
    grid_free(&grid);
}

static void print_left(const Squad *s, FILE *to) {
    Text text = {0};
    for (size_t i = 0; i < s->left_count; i++)
        text_add(&text, "%s%s", i ? ", " : "", s->left[i]->c->name);
    if (s->left_count)
        text_add(&text,
                 ": no taper raises readiness in the model, so %s no part "
                 "here; decide by the published evidence.",
                 s->left_count == 1 ? "has" : "have");
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 2);
    text_free(&text);
}

static void print_advice(const Squad *s, FILE *to) {
    size_t sure = enough(s, WORTH_UNSURE), all = enough(s, WORTH_NO);
    Text text = {0};
    if (sure)
        text_add(&text,
                 "With %zu plan%s no separate plan is sure to be worth it%s",
                 sure, sure == 1 ? "" : "s", all == sure ? ": " : ". ");
    else
        text_add(&text,
                 "More than %zu plan%s needed: for those marked 'yes' the "
                 "difference is worth a separate plan. ",
                 s->most, s->most == 1 ? " is" : "s are");
    if (all && all == sure)
        text_add(&text, "everybody is within 5 %% of her own best. ");
    else if (all)
        text_add(&text,
                 "With %zu everybody is within 5 %% of her own best; whether "
                 "that is worth the trouble is yours to say. ",
                 all);
    else if (sure)
        text_add(&text,
                 "For those marked 'perhaps' a further plan may bring more; "
                 "look above at how much. ");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_squad(const Squad *s, FILE *to) {
    const Groups *g;
    print_head(s->count ? s->v[0] : s->left[0], s->count + s->left_count, to);
    if (s->count == 1) {
        print_plan(s, &s->groups[0], 0, to);
    } else if (s->count > 0) {
        g = &s->groups[s->most - 1];
        print_numbers(s, to);
        fputc('\n', to);
        for (size_t p = 0; p < g->plans; p++)
            print_plan(s, g, p, to);
        fputc('\n', to);
        print_athletes(s, g, to);
        fputc('\n', to);
        print_advice(s, to);
    }
    print_left(s, to);
    fputc('\n', to);
}

/* ---- picture ---- */

enum { COLUMNS_MOST = 14 /* more cannot be read */ };

/* The columns of the picture: the squad's plans, then each athlete's own best,
 * as far as there is room. */
static size_t choose_columns(const Squad *s, const Groups *g,
                             size_t columns[COLUMNS_MOST]) {
    size_t count = 0;
    for (size_t p = 0; p < g->plans; p++)
        columns[count++] = g->option[p];
    for (size_t i = 0; i < s->count && count < COLUMNS_MOST; i++) {
        bool known = false;
        for (size_t k = g->plans; k < count; k++)
            known = known || columns[k] == s->own[i];
        if (!known)
            columns[count++] = s->own[i];
    }
    return count;
}

static char *column_name(const Squad *s, const Groups *g, size_t column,
                         size_t option) {
    Text text = {0};
    char *name;
    if (column < g->plans)
        text_add(&text, "%c: ", (char)('A' + (int)column));
    option_write(&s->option[option], &text);
    name = mem_copy(text_of(&text));
    text_free(&text);
    return name;
}

/* Fills loss and gained, [athletes * count] each. */
static void fill_cells(const Squad *s, const size_t *columns, size_t count,
                       double *loss, double *gained) {
    for (size_t i = 0; i < s->count; i++)
        for (size_t k = 0; k < count; k++) {
            size_t cell = i * s->options + columns[k];
            loss[i * count + k] = s->loss[cell];
            gained[i * count + k] = s->gain[cell] / s->v[i]->possible;
        }
}

static StatusCode draw(const Squad *s, const Gallery *gallery, size_t number,
                       Text *paths, Status *status) {
    const Groups *g = &s->groups[s->most - 1];
    size_t columns[COLUMNS_MOST], count = choose_columns(s, g, columns);
    char *plans[COLUMNS_MOST];
    const char **names = mem_new(s->count, sizeof *names);
    double *loss = mem_new(s->count * count, sizeof *loss);
    double *gained = mem_new(s->count * count, sizeof *gained);
    Text title = {0}, name = {0};
    StatusCode code;
    LossesPicture picture = {.subtitle =
                                 "each row an athlete, each column a plan",
                             .athletes = names,
                             .rows = s->count,
                             .plans = (const char *const *)plans,
                             .columns = count,
                             .common = g->plans,
                             .loss = loss,
                             .possible = gained,
                             .given = g->plan};
    for (size_t i = 0; i < s->count; i++)
        names[i] = s->v[i]->c->name;
    for (size_t k = 0; k < count; k++)
        plans[k] = column_name(s, g, k, columns[k]);
    fill_cells(s, columns, count, loss, gained);
    text_add(&title, "%s: what a common plan costs", s->v[0]->c->event->name);
    picture.title = text_of(&title);
    text_add(&name, "squad");
    if (number > 1)
        text_add(&name, "-%zu", number);
    text_add(&name, "-losses");
    code = picture_losses(&picture, gallery, text_of(&name), paths, status);
    for (size_t k = 0; k < count; k++)
        free(plans[k]);
    free(names);
    free(loss);
    free(gained);
    text_free(&title);
    text_free(&name);
    return code;
}

/* ---- the answer ---- */

static void print_legend(FILE *to) {
    print_wrapped(
        to,
        "'own plan?': 'no' where her own best would gain less than 5 % more, "
        "which cannot be told apart; 'perhaps' where it would gain more but in "
        "fewer than 95 % of the likely models ('own is better'), so the "
        "difference is smaller than what is not known of her; 'yes' where it "
        "is worth a separate plan. 'lost': share of the most that any daily "
        "loads within the limits could gain her; 'amount': the same in "
        "readiness; 'worse': than no taper; *: "
        "the plan she gets. One plan for several is easier to carry out, and "
        "what it costs here holds only if the models do. Weights, speed and "
        "number of sessions stay as usual.",
        79, 0);
}

static void print_foot(const Desk *d, const Verdict *v, FILE *to) {
    print_legend(to);
    fputc('\n', to);
    desk_print_evidence(to);
    verdict_print_limits(v, to);
    desk_print_basis(d, v->c, to);
    desk_print_cautions(d, to);
}

/* One way through the squads: printing them, or drawing them. */
typedef struct {
    const Call *call;
    const Gallery *gallery; /* NULL: print */
    Text paths;
    size_t number; /* of the squad */
} Pass;

static StatusCode answer_event(Pass *pass, const Squad *s, Status *status) {
    pass->number++;
    if (pass->gallery && s->count > 1)
        return draw(s, pass->gallery, pass->number, &pass->paths, status);
    if (pass->gallery)
        return STATUS_OK;
    if (pass->call->output.csv)
        print_csv(s, pass->call->output.to);
    else
        print_squad(s, pass->call->output.to);
    return STATUS_OK;
}

static StatusCode answer_events(Pass *pass, const Verdict *v, size_t count,
                                Status *status) {
    StatusCode code = STATUS_OK;
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        Squad s;
        bool seen = false;
        for (size_t k = 0; k < i; k++)
            seen = seen || v[k].c->event == v[i].c->event;
        if (seen)
            continue;
        squad_build(v, count, v[i].c->event, pass->call->question->plans, &s);
        settle(&s);
        code = answer_event(pass, &s, status);
        squad_free(&s);
    }
    return code;
}

static StatusCode draw_all(const Call *call, const Verdict *v, size_t count,
                           Status *status) {
    Gallery gallery;
    Pass pass = {.call = call, .gallery = &gallery};
    char *scripts;
    StatusCode code = output_gallery(&call->output, &gallery, &scripts, status);
    if (code == STATUS_OK)
        code = answer_events(&pass, v, count, status);
    if (code == STATUS_OK && !call->output.csv && pass.paths.length)
        output_list(&call->output, "Pictures", &pass.paths);
    text_free(&pass.paths);
    free(scripts);
    return code;
}

StatusCode squad_answer(const Call *call, const Desk *d, const Case *cases,
                        size_t count, Status *status) {
    Verdict *v = mem_new(count, sizeof *v);
    Pass pass = {.call = call};
    StatusCode code = STATUS_OK;
    if (count < 2)
        code = status_fail(status, STATUS_DATA,
                           "--plans: only %s has a log and days before an "
                           "event, expected two athletes or more",
                           cases[0].name);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        code = verdict_build(&cases[i], &v[i], status);
    if (code == STATUS_OK && call->output.csv)
        print_csv_header(&call->output);
    if (code == STATUS_OK)
        code = answer_events(&pass, v, count, status);
    if (code == STATUS_OK && !call->output.csv)
        print_foot(d, &v[0], call->output.to);
    if (code == STATUS_OK && call->output.folder)
        code = draw_all(call, v, count, status);
    for (size_t i = 0; i < count; i++)
        verdict_free(&v[i]);
    free(v);
    return code;
}
