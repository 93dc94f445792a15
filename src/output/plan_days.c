/* plan_days: see plan_days.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_days.h"

#include "base/mem.h"
#include "output/plan_words.h"
#include "output/words.h"
#include "season/names.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- signs ---- */

/* "5 -> 2 x 5" with an arrow, kept on one line. */
static void typeset(PlanView view, const char *words, Text *text) {
    static const char *const plain[] = {" -> ", " x "};
    static const char *const set[] = {"\xC2\xA0\xE2\x86\x92\xC2\xA0",
                                      "\xC2\xA0\xC3\x97\xC2\xA0"};
    while (*words) {
        int kind = strncmp(words, plain[0], 4) == 0   ? 0
                   : strncmp(words, plain[1], 3) == 0 ? 1
                                                      : -1;
        if (kind < 0 || !view.paper) {
            text_put(text, words++, 1);
            continue;
        }
        text_add(text, "%s", set[kind]);
        words += strlen(plain[kind]);
    }
}

static void add_day(PlanView view, Date date, Text *text) {
    char day[DATE_TEXT];
    for (const char *at = date_write_short(day, date); *at; at++)
        if (*at == ' ' && view.paper)
            text_add(text, "\xC2\xA0");
        else
            text_put(text, at, 1);
}

static void day_cell(PlanView view, Date date, Grid *grid) {
    Text text = {0};
    add_day(view, date, &text);
    grid_cell(grid, "%s", text_of(&text));
    text_free(&text);
}

static void words_cell(PlanView view, const char *words, Grid *grid) {
    Text text = {0};
    typeset(view, words, &text);
    grid_cell(grid, "%s", text_of(&text));
    text_free(&text);
}

/* ---- sessions ---- */

/* Row behind a session and its exercises. */
static size_t behind(const Plan *p, size_t at) {
    for (at++; at < p->sheet.count && p->sheet.rows[at].exercise; at++)
        ;
    return at;
}

/* Is it the event of one who is off then? */
static bool is_off(const Plan *p, const PlanRow *row) {
    const Case *c = p->taper.c;
    return row->event && season_share(season_absence(c->context->season,
                                                     c->athlete, row->date),
                                      row->date) <= 0;
}

/* A session in words, with its exercises where their sets change. */
static void session_words(const Plan *p, size_t at, Text *words) {
    const PlanRow *row = &p->sheet.rows[at];
    size_t end = behind(p, at);
    plan_words_session(row, words);
    if (is_off(p, row))
        text_add(words, ": off");
    if (!plan_was_cut(row) || row->cut >= 1 - 1e-9)
        return;
    for (size_t i = at + 1; i < end; i++) {
        text_add(words, "; ");
        plan_words_exercise(&p->sheet.rows[i], words);
    }
}

/* The earlier session that says the same, exercises and all; `at` itself where
 * there is none. */
static size_t told_before(const Plan *p, size_t at, const char *words) {
    for (size_t i = 0; i < at; i++) {
        Text other = {0};
        bool same;
        if (p->sheet.rows[i].exercise)
            continue;
        session_words(p, i, &other);
        same = text_same(text_of(&other), words);
        text_free(&other);
        if (same)
            return i;
    }
    return at;
}

static void add_session(const Plan *p, size_t at, PlanView view, Grid *grid) {
    const PlanRow *row = &p->sheet.rows[at];
    Text words = {0};
    char day[DATE_TEXT], share[FIGURE_TEXT];
    size_t before;
    if (row->event && view.paper)
        text_add(&words, "EVENT: %s%s", row->session,
                 is_off(p, row) ? ": off" : "");
    else
        session_words(p, at, &words);
    before = told_before(p, at, text_of(&words));
    if (before < at && plan_was_cut(row) && behind(p, at) > at + 1) {
        text_clear(&words);
        plan_words_session(row, &words);
        if (row->cut < 1 - 1e-9)
            text_add(&words, "; sets as on %s",
                     date_write_short(day, p->sheet.rows[before].date));
    }
    if (view.load && 100 * p->cost[at] >= PLAN_COST_SHOWN)
        text_add(&words, "  ! %s", plan_words_cost(share, p->cost[at]));
    day_cell(view, row->date, grid);
    if (view.load)
        grid_cell(grid, "%.*f", plan_words_digits(p), row->load);
    words_cell(view, text_of(&words), grid);
    text_free(&words);
}

/* ---- weeks ---- */

/* Totals are of the rows below; the week's earlier days are as usual. */
static void week_title(const Plan *p, size_t from, size_t to, PlanView view,
                       Grid *grid) {
    const PlanRow *rows = p->sheet.rows;
    Date monday = plan_monday(rows[from].date);
    Text words = {0}, title = {0};
    add_day(view, monday, &title);
    if (view.load) {
        if (from > 0 && rows[from - 1].date >= monday) {
            text_add(&words, ", from ");
            add_day(view, rows[from].date, &words);
        }
        text_add(&words, ": load %.*f, ", plan_words_digits(p),
                 plan_week_load(p, from, to));
        plan_words_total(p, from, to, &words);
        if (plan_words_note(p, from, to))
            text_add(&words, ". %s", plan_words_note(p, from, to));
    }
    typeset(view, text_of(&words), &title);
    grid_group(grid, "Week of %s", text_of(&title));
    text_free(&words);
    text_free(&title);
}

static void until(Date last, PlanView view, Grid *grid) {
    Text text = {0};
    text_add(&text, "until ");
    add_day(view, last, &text);
    grid_cell(grid, "%s", text_of(&text));
    if (view.load)
        grid_cell(grid, "%s", "");
    text_free(&text);
}

/* Days before the first cut. */
static void usual_days(const Plan *p, Date first, PlanView view, Grid *grid) {
    if (plan_waits(p)) {
        until(p->from - 1, view, grid);
        grid_cell(grid, "as the plan for %s says", p->before->name);
    }
    if (p->from < first) {
        Text words = {0};
        until(first - 1, view, grid);
        plan_words_usual(p, 1, first, &words);
        grid_cell(grid, "%s", text_of(&words));
        text_free(&words);
    }
}

void plan_days(const Plan *p, PlanView view, Document *doc) {
    static const GridColumn all[] = {
        {"day", false}, {"load", true}, {"what", false}};
    static const GridColumn plain[] = {{"day", false}, {"what", false}};
    Date first = plan_first_cut(p, 1);
    Grid grid;
    size_t end = 0;
    grid_start(&grid, view.load ? all : plain, view.load ? 3 : 2);
    usual_days(p, first, view, &grid);
    for (size_t i = 0; i < p->sheet.count; i = behind(p, i)) {
        if (p->sheet.rows[i].date < first)
            continue;
        if (i >= end) {
            end = plan_week_end(p, i);
            week_title(p, i, end, view, &grid);
        }
        add_session(p, i, view, &grid);
    }
    document_table(doc, &grid, "");
}

/* ---- a squad ---- */

/* What is done of one session, and by whom. */
typedef struct {
    Names words;
    Text *who;
    size_t *count;
    size_t athletes; /* who have the session at all */
} Variants;

/* The row of a session of a day, its n-th of that name; NULL: none. */
static const PlanRow *find_session(const Plan *p, const PlanRow *like, int n) {
    for (size_t i = 0; i < p->sheet.count; i++) {
        const PlanRow *row = &p->sheet.rows[i];
        if (!row->exercise && row->date == like->date &&
            text_same(row->session, like->session) && n-- == 0)
            return row;
    }
    return NULL;
}

/* The how-many-eth session of its name on its day is row `at`? */
static int number_of(const Plan *p, size_t at) {
    const PlanRow *like = &p->sheet.rows[at];
    int n = 0;
    for (size_t i = 0; i < at; i++) {
        const PlanRow *row = &p->sheet.rows[i];
        n += !row->exercise && row->date == like->date &&
             text_same(row->session, like->session);
    }
    return n;
}

static void variant_words(const Plan *p, const PlanRow *row, Text *words) {
    if (row->event)
        text_add(words, is_off(p, row) ? "off" : "event");
    else if (row->cut >= 1 - 1e-9)
        text_add(words, "off");
    else if (!plan_was_cut(row))
        text_add(words, "as usual");
    else if (isfinite(row->usual_minutes))
        text_add(words, "%.0f -> %.0f min", row->usual_minutes, row->minutes);
    else
        text_add(words, "%.0f %% of the usual", 100 * (1 - row->cut));
}

static void gather(const Plan *p, size_t count, const PlanRow *like, int n,
                   Variants *v) {
    for (size_t k = 0; k < count; k++) {
        const PlanRow *row = find_session(&p[k], like, n);
        Text words = {0};
        size_t at;
        if (!row)
            continue;
        v->athletes++;
        variant_words(&p[k], row, &words);
        at = names_add(&v->words, text_of(&words), words.length);
        text_add(&v->who[at], "%s%s", v->count[at]++ ? ", " : "",
                 p[k].taper.c->name);
        text_free(&words);
    }
}

/* "everybody", "the others", or their names. */
static const char *variant_who(const Variants *v, size_t at, size_t count) {
    if (v->count[at] == count)
        return "everybody";
    if (at > 0 && v->athletes == count && v->count[at] > 1 &&
        strcmp(v->words.items[at], "as usual") == 0)
        return "the others";
    return text_of(&v->who[at]);
}

/* Those who train as usual come last; the words are not looked up any more. */
static void usual_last(Variants *v) {
    for (size_t i = 0; i + 1 < v->words.count; i++)
        if (strcmp(v->words.items[i], "as usual") == 0) {
            char *words = v->words.items[i];
            Text who = v->who[i];
            size_t count = v->count[i];
            v->words.items[i] = v->words.items[i + 1];
            v->who[i] = v->who[i + 1];
            v->count[i] = v->count[i + 1];
            v->words.items[i + 1] = words;
            v->who[i + 1] = who;
            v->count[i + 1] = count;
        }
}

static void add_variants(const Plan *p, size_t count, const PlanRow *like,
                         int n, PlanView view, Grid *grid) {
    Variants v = {.who = mem_new(count, sizeof *v.who),
                  .count = mem_new(count, sizeof *v.count)};
    gather(p, count, like, n, &v);
    usual_last(&v);
    for (size_t i = 0; i < v.words.count; i++) {
        if (i == 0 || view.paper) {
            day_cell(view, like->date, grid);
            grid_cell(grid, "%s", like->session);
        } else {
            grid_cell(grid, "%s", "");
            grid_cell(grid, "%s", "");
        }
        words_cell(view, v.words.items[i], grid);
        grid_cell(grid, "%s", variant_who(&v, i, count));
        text_free(&v.who[i]);
    }
    names_free(&v.words);
    free(v.who);
    free(v.count);
}

/* Is the session in the plan of one of those before `k`? */
static bool listed_before(const Plan *p, size_t k, const PlanRow *row, int n) {
    for (size_t i = 0; i < k; i++)
        if (find_session(&p[i], row, n))
            return true;
    return false;
}

static void add_squad_day(const Plan *p, size_t count, Date date, PlanView view,
                          Grid *grid) {
    for (size_t k = 0; k < count; k++)
        for (size_t i = 0; i < p[k].sheet.count; i++) {
            const PlanRow *row = &p[k].sheet.rows[i];
            int n;
            if (row->date != date || row->exercise)
                continue;
            n = number_of(&p[k], i);
            if (!listed_before(p, k, row, n))
                add_variants(p, count, row, n, view, grid);
        }
}

void plan_days_squad(const Plan *p, size_t count, PlanView view,
                     Document *doc) {
    static const GridColumn columns[] = {
        {"day", false}, {"session", false}, {"what", false}, {"who", false}};
    Date first = plan_first_cut(p, count), last = first;
    Grid grid;
    for (size_t k = 0; k < count; k++)
        if (p[k].sheet.count > 0) {
            Date end = p[k].sheet.rows[p[k].sheet.count - 1].date;
            last = end > last ? end : last;
        }
    grid_start(&grid, columns, 4);
    for (Date date = first; date <= last; date++) {
        if (date == first || date == plan_monday(date)) {
            Text title = {0};
            add_day(view, plan_monday(date), &title);
            grid_group(&grid, "Week of %s", text_of(&title));
            text_free(&title);
        }
        add_squad_day(p, count, date, view, &grid);
    }
    document_table(doc, &grid, "");
}
