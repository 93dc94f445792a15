/* changed: see changed.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/changed.h"

#include "base/mem.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>

/* ---- before the change ---- */

/* The same case from the files alone; the model stays, and so does what the
 * limits take out of the usual week. */
static void unchanged_build(const Case *c, Case *before) {
    const Season *s = c->desk->season;
    Notes notes = {0};
    *before = *c;
    daily_build(s, c->athlete, c->desk->question->read.gaps_typical,
                &before->daily);
    usual_build(s, c->athlete, &before->daily, &before->usual, &notes);
    before->usual.cut_kinds = c->usual.cut_kinds;
    before->usual.gym_free = c->usual.gym_free;
    before->usual.gym_again = c->usual.gym_again;
    outlook_build(&before->usual, &before->daily, c->event, c->before,
                  &before->outlook);
    notes_free(&notes);
}

static void unchanged_free(Case *before) {
    daily_free(&before->daily);
    usual_free(&before->usual);
    outlook_free(&before->outlook);
}

/* Readiness of each draw under an option, not tied to today's: the log may
 * have changed too. */
static double *readiness_of(const Case *c, const Option *option, size_t n) {
    DrawScores scores;
    double *readiness = mem_new(n, sizeof *readiness);
    draw_scores_build(&c->outlook, case_draws(c), c->desk->question->aim, NAN,
                      &scores);
    for (size_t i = 0; i < n; i++)
        readiness[i] = score_option(&scores.score[i], option);
    draw_scores_free(&scores);
    return readiness;
}

static double model_readiness(const Case *c, const Option *option) {
    Score score;
    double readiness;
    score_build(&c->outlook, &case_model(c)->params, c->desk->question->aim,
                &score);
    readiness = score_option(&score, option);
    score_free(&score);
    return readiness;
}

static void find_change(const Case *now, const Case *before, Change *change) {
    size_t n = case_draws(now)->count;
    double *one = readiness_of(now, &change->plan, n);
    double *other = readiness_of(before, &change->plan, n);
    for (size_t i = 0; i < n; i++) {
        one[i] -= other[i];
        change->change += one[i] / (double)n;
    }
    if (n == 0)
        change->change = model_readiness(now, &change->plan) -
                         model_readiness(before, &change->plan);
    change->low = draws_quantile(one, n, .05);
    change->high = draws_quantile(one, n, .95);
    free(one);
    free(other);
}

StatusCode changed_find(const Verdict *v, Change *change, Status *status) {
    Case before;
    Verdict old;
    const Search *s = &v->search;
    StatusCode code;
    unchanged_build(v->c, &before);
    code = verdict_build(&before, &old, status);
    if (code == STATUS_OK) {
        const Found *f = &old.search.items[old.search.recommended];
        *change = (Change){.plan = f->option, .gain = f->gain};
        find_change(v->c, &before, change);
        change->replanned = s->items[s->recommended].readiness -
                            score_option(&v->score, &change->plan);
    }
    verdict_free(&old);
    unchanged_free(&before);
    return code;
}

/* ---- text ---- */

static bool asked(const Question *q) {
    return q->change_count > 0 || q->weekdays != 0;
}

static void add_share(Grid *grid, double value, double gain) {
    double percent = 100 * value / gain;
    if (gain > 0)
        grid_cell(grid, "%+.0f %%", fabs(percent) < .5 ? 0 : percent);
    else
        grid_cell(grid, "-");
}

static void table_row(Grid *grid, const Verdict *v, const Change *k) {
    const Search *s = &v->search;
    double scale = verdict_scale(v);
    double now = score_option(&v->score, &k->plan);
    char number[FIGURE_TEXT], other[FIGURE_TEXT];
    Text plan = {0};
    grid_cell(grid, "%s", v->c->name);
    option_write(&k->plan, &plan);
    grid_cell(grid, "%s", text_of(&plan));
    grid_cell(grid, "%s",
              figure(number, case_shown(v->c, now - k->change), scale));
    grid_cell(grid, "%s", figure(number, case_shown(v->c, now), scale));
    if (isfinite(k->low))
        grid_cell(grid, "%s to %s", figure(number, k->low, scale),
                  figure(other, k->high, scale));
    else
        grid_cell(grid, "-");
    add_share(grid, k->change, k->gain);
    text_clear(&plan);
    option_write(&s->items[s->recommended].option, &plan);
    grid_cell(grid, "%s", text_of(&plan));
    add_share(grid, k->replanned, k->gain);
    text_free(&plan);
}

static void add_days(const Question *q, Text *text) {
    const char *between = q->change_count ? "; " : "";
    char day[DATE_TEXT];
    for (size_t i = 0; i < q->change_count; i++) {
        const DayChange *change = &q->changes[i];
        text_add(text, "%s%s ", i ? ", " : "",
                 date_write_short(day, change->date));
        if (change->load > 0)
            text_add(text, "a load of %g", change->load);
        else
            text_add(text, "nothing");
    }
    for (int d = 0; d < 7; d++)
        if (q->weekdays & 1u << d) {
            text_add(text, "%s%s", between, date_weekday_name(d));
            between = " and ";
        }
    if (q->weekdays)
        text_add(text, " only, from now on");
}

/* The plan carried on is as good where the new one brings less than what
 * cannot be told apart. */
static bool carries_on(const Change *k) {
    return k->replanned <= SEARCH_EQUAL * fmax(k->gain, 0) + 1e-9;
}

static void print_words(const Verdict *v, const Change *k, size_t count,
                        FILE *to) {
    Text keep = {0}, change = {0}, text = {0};
    for (size_t i = 0; i < count; i++) {
        Text *list = carries_on(&k[i]) ? &keep : &change;
        text_add(list, "%s%s", list->length ? ", " : "", v[i].c->name);
    }
    text_add(&text, "A missed load is missed: it is never added back. ");
    if (keep.length)
        text_add(&text,
                 "Carry on with the plan as it was: %s; a new one would bring "
                 "less than 5 %% of the taper's gain. ",
                 text_of(&keep));
    if (change.length)
        text_add(&text, "Change to the plan for the days left: %s. ",
                 text_of(&change));
    text_add(&text, "'change', 'new plan brings': as a share of what the plan "
                    "as it was gained over no taper; 'carried on': with the "
                    "loads changed, the plan not. Where the interval holds 0 "
                    "the likely models do not agree whether it helps or "
                    "harms.");
    if (count > 1)
        text_add(&text, " The change is made for all of them; --athlete ID "
                        "makes it for one.");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&keep);
    text_free(&change);
    text_free(&text);
}

static void print_table(const Verdict *v, const Change *k, size_t count,
                        FILE *to) {
    static const GridColumn columns[] = {{"athlete", false},
                                         {"plan as\nit was", false},
                                         {"readiness\nbefore", true},
                                         {"carried\non", true},
                                         {"change,\n5-95 %", true},
                                         {"change", true},
                                         {"plan for\ndays left", false},
                                         {"new plan\nbrings", true}};
    Grid grid;
    grid_start(&grid, columns, 8);
    for (size_t i = 0; i < count; i++)
        table_row(&grid, &v[i], &k[i]);
    grid_print(&grid, to, 18);
    grid_free(&grid);
}

StatusCode changed_print(const Verdict *v, size_t count, FILE *to,
                         Status *status) {
    const Question *q = v->c->desk->question;
    Change *k;
    Text text = {0};
    StatusCode code = STATUS_OK;
    if (!asked(q))
        return STATUS_OK;
    k = mem_new(count, sizeof *k);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        code = changed_find(&v[i], &k[i], status);
    if (code == STATUS_OK) {
        text_add(&text, "What changes for %s: ", v->c->event->name);
        add_days(q, &text);
        text_add(&text, ".");
        print_wrapped(to, text_of(&text), 79, 2);
        print_table(v, k, count, to);
        fputc('\n', to);
        print_words(v, k, count, to);
        fputc('\n', to);
    }
    text_free(&text);
    free(k);
    return code;
}
