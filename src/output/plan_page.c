/* plan_page: see plan_page.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_page.h"

#include "output/event_sheet.h"
#include "output/output.h"
#include "output/plan_words.h"

#include <string.h>

/* Blanks as such that no line breaks. */
static void add_joined(Text *text, const char *words) {
    for (const char *at = words; *at; at++)
        text_put(text, *at == ' ' ? "\xC2\xA0" : at, *at == ' ' ? 2 : 1);
}

void plan_page_day(Grid *grid, Date date) {
    char day[DATE_TEXT];
    Text text = {0};
    add_joined(&text, date_write_short(day, date));
    grid_cell(grid, "%s", text_of(&text));
    text_free(&text);
}

/* "5 -> 2 x 5" with an arrow, and kept on one line. */
static void typeset(const char *words, Text *text) {
    static const char *const plain[] = {" -> ", " x "};
    static const char *const set[] = {"\xC2\xA0\xE2\x86\x92\xC2\xA0",
                                      "\xC2\xA0\xC3\x97\xC2\xA0"};
    while (*words) {
        int kind = strncmp(words, plain[0], 4) == 0   ? 0
                   : strncmp(words, plain[1], 3) == 0 ? 1
                                                      : -1;
        if (kind < 0) {
            text_put(text, words++, 1);
            continue;
        }
        text_add(text, "%s", set[kind]);
        words += strlen(plain[kind]);
    }
}

/* A side of paper says whose it is. */
static void named_heading(Page *page, const Case *c, const char *what) {
    Text text = {0};
    output_page_name(c, &text);
    text_add(&text, ": %s", what);
    page_heading(page, text_of(&text));
    text_free(&text);
}

/* ---- the plan ---- */

/* A session and its exercises in words; returns the row behind them. */
static size_t session_words(const Plan *p, size_t at, Text *words) {
    const PlanRow *row = &p->sheet.rows[at];
    plan_words_session(row, words);
    for (at++; at < p->sheet.count && p->sheet.rows[at].exercise; at++)
        if (row->cut < 1 - 1e-9) {
            text_add(words, "; ");
            plan_words_exercise(&p->sheet.rows[at], words);
        }
    return at;
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

/* A session with its exercises, which are listed once; returns the row behind
 * them. */
static size_t session_row(const Plan *p, size_t at, Grid *grid) {
    const PlanRow *row = &p->sheet.rows[at];
    double cost = p->cost[at];
    int digits = plan_words_digits(p);
    Text words = {0}, what = {0};
    char day[DATE_TEXT], share[FIGURE_TEXT];
    size_t next = session_words(p, at, &words);
    size_t before = told_before(p, at, text_of(&words));
    if (next > at + 1 && before < at) {
        text_clear(&words);
        plan_words_session(row, &words);
        if (row->cut < 1 - 1e-9)
            text_add(&words, "; exercises as on %s",
                     date_write_short(day, p->sheet.rows[before].date));
    }
    if (100 * cost >= PLAN_COST_SHOWN)
        text_add(&words, " ! %s", plan_words_cost(share, cost));
    typeset(text_of(&words), &what);
    plan_page_day(grid, row->date);
    grid_cell(grid, "%s", text_of(&what));
    grid_cell(grid, "%.*f", digits, row->load);
    text_free(&words);
    text_free(&what);
    return next;
}

static void put_week(Page *page, const Plan *p, size_t from, size_t to) {
    static const GridColumn columns[] = {
        {"day", false}, {"what", false}, {"load", true}};
    Text words = {0}, caption = {0};
    char day[DATE_TEXT];
    Date monday = p->sheet.rows[from].date;
    Grid grid;
    monday -= date_weekday(monday);
    text_add(&words, "Week of %s: load %.*f, ", date_write_short(day, monday),
             plan_words_digits(p), plan_week_load(p, from, to));
    plan_words_total(p, from, to, &words);
    if (plan_words_note(p, from, to))
        text_add(&words, ". %s", plan_words_note(p, from, to));
    typeset(text_of(&words), &caption);
    grid_start(&grid, columns, 3);
    for (size_t i = from; i < to;)
        i = session_row(p, i, &grid);
    page_table(page, &grid, text_of(&caption));
    grid_free(&grid);
    text_free(&words);
    text_free(&caption);
}

/* Of signs that stand in the plan. */
static void legend(Page *page, const Plan *p) {
    Text text = {0};
    text_add(&text, "'60 \xE2\x86\x92 25': usually 60, now 25. Days not listed "
                    "are rest days. Kilograms, repetitions and ratings are as "
                    "usual: cut the volume, not the intensity. A session "
                    "missed is missed: nothing is added back. ");
    plan_words_marks(p, 1, &text);
    if (plan_lists(p))
        text_add(&text, "kg in a week's total: sets \xC3\x97 repetitions "
                        "\xC3\x97 kg, where kilograms are given.");
    page_paragraph(page, text_of(&text));
    text_free(&text);
}

static void put_plan(Page *page, const Plan *p) {
    Text before = {0};
    size_t next;
    named_heading(page, p->taper.c,
                  p->taper.c->context->season->has_week
                      ? "day by day, in whole sets and steps of 5 min"
                      : "day by day");
    plan_words_before(p, &before);
    if (before.length)
        page_paragraph(page, text_of(&before));
    text_free(&before);
    page_columns(page);
    for (size_t i = 0; i < p->sheet.count; i = next) {
        next = plan_week_end(p, i);
        put_week(page, p, i, next);
    }
    page_columns_end(page);
    if (!p->taper.c->context->season->has_week)
        page_paragraph(page, "There is no week.csv, so sets and minutes cannot "
                             "be told.");
    legend(page, p);
}

/* ---- the event week ---- */

static void put_amounts(Page *page, const EventWeek *sheet) {
    page_list(page);
    for (size_t i = 0; i < sheet->amount_count; i++) {
        Text text = {0};
        event_sheet_amount(sheet, &sheet->amounts[i], "Caution", &text);
        page_item(page, text_of(&text));
        text_free(&text);
    }
    page_list_end(page);
}

/* "Sat 13:15" in the event's own days, "Fri 24 Apr" before them. */
static void step_time(const EventWeek *sheet, const EventStep *step,
                      Text *text) {
    Text when = {0};
    event_sheet_time(sheet, step, &when);
    while (when.length > 0 && when.data[when.length - 1] == ' ')
        when.data[--when.length] = '\0';
    if (step->clock) {
        text_put(text, text_of(&when), 3);
        add_joined(text, strrchr(text_of(&when), ' '));
    } else {
        add_joined(text, text_of(&when));
    }
    text_free(&when);
}

static void put_steps(Page *page, const EventWeek *sheet) {
    static const GridColumn columns[] = {{"when", false}, {"what", false}};
    Grid grid;
    grid_start(&grid, columns, 2);
    for (size_t i = 0; i < sheet->step_count; i++) {
        Text when = {0};
        step_time(sheet, &sheet->steps[i], &when);
        grid_cell(&grid, "%s", text_of(&when));
        grid_cell(&grid, "%s", sheet->steps[i].what);
        text_free(&when);
    }
    page_table(page, &grid, "Hours and habits (common practice, no source)");
    grid_free(&grid);
}

static void put_event_week(Page *page, const Case *c) {
    EventWeek sheet;
    Text cautions = {0};
    event_week_build(c, &sheet);
    named_heading(page, c, "the event week");
    page_caution(page, eventweek_cautions[0]);
    page_columns(page);
    put_amounts(page, &sheet);
    if (event_minutes_taken(c->event))
        page_paragraph(page, event_sheet_taken);
    put_steps(page, &sheet);
    for (int i = 1; eventweek_cautions[i]; i++)
        text_add(&cautions, "%s%s", i > 1 ? " " : "", eventweek_cautions[i]);
    page_columns_end(page);
    page_caution(page, text_of(&cautions));
    text_free(&cautions);
}

void plan_page_put(Page *page, const Plan *p) {
    page_side(page);
    put_plan(page, p);
    put_event_week(page, p->taper.c);
    page_side_end(page);
}
