/* plan_text: see plan_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_text.h"

#include "output/event_sheet.h"
#include "output/footer.h"
#include "output/plan_words.h"
#include "output/taper_warnings.h"
#include "present/grid.h"

#include <math.h>

/* ---- text ---- */

static void print_row(const PlanRow *row, double cost, bool new_day, int digits,
                      FILE *to) {
    Text text = {0};
    char day[DATE_TEXT], share[FIGURE_TEXT];
    if (row->exercise) {
        plan_words_exercise(row, &text);
        fprintf(to, "%19s", "");
        print_wrapped(to, text_of(&text), 60, 20);
        text_free(&text);
        return;
    }
    plan_words_session(row, &text);
    if (100 * cost >= PLAN_COST_SHOWN)
        text_add(&text, "  ! %s", plan_words_cost(share, cost));
    fprintf(to, "%-11s", new_day ? date_write_short(day, row->date) : "");
    fprintf(to, " %5.*f ", digits, row->load);
    print_wrapped(to, text_of(&text), 61, 20);
    text_free(&text);
}

/* Of the calendar week that ends before row `to`. */
static void print_week_total(const Plan *p, size_t from, size_t to, FILE *out) {
    const char *note = plan_words_note(p, from, to);
    Text text = {0};
    fprintf(out, "%-11s %5.*f ", "of the week", plan_words_digits(p),
            plan_week_load(p, from, to));
    plan_words_total(p, from, to, &text);
    print_wrapped(out, text_of(&text), 61, 20);
    if (note)
        fprintf(out, "%19s%s\n", "", note);
    fputc('\n', out);
    text_free(&text);
}

/* Days without a row are rest days. */
static void print_rest(Date from, Date to, FILE *out) {
    char day[DATE_TEXT];
    for (Date date = from; date < to; date++)
        fprintf(out, "%-11s %5s  rest day\n", date_write_short(day, date), ".");
}

static void print_days(const Plan *p, FILE *to) {
    const Prescription *s = &p->sheet;
    const Outlook *o = &p->taper.c->outlook;
    Date next = o->first + (Date)o->log_days;
    size_t week = 0;
    int digits = plan_words_digits(p);
    for (size_t i = 0; i < s->count; i++) {
        const PlanRow *row = &s->rows[i];
        bool new_day = i == 0 || s->rows[i - 1].date != row->date;
        if (i > 0 &&
            plan_monday(row->date) != plan_monday(s->rows[i - 1].date)) {
            print_rest(next, plan_monday(row->date), to);
            if (next < plan_monday(row->date))
                next = plan_monday(row->date);
            print_week_total(p, week, i, to);
            week = i;
        }
        if (new_day)
            print_rest(next, row->date, to);
        print_row(row, p->cost[i], new_day, digits, to);
        next = row->date + 1;
    }
    print_week_total(p, week, s->count, to);
}

/* Rounding may break a limit that the taper keeps. */
static void print_broken(const Plan *p, FILE *to) {
    const Case *c = p->taper.c;
    Text text = {0};
    text_add(&text, "As rounded, ");
    if (!p->given &&
        search_cuts_outside(&c->outlook, &c->context->question->limits,
                            p->sheet.cut, &text)) {
        text_add(&text, ": mend it by hand where that matters.");
        print_wrapped(to, text_of(&text), 79, 0);
    }
    text_free(&text);
}

static void print_outcome(const Plan *p, FILE *to) {
    Text text = {0};
    plan_words_outcome(p, &text);
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

void plan_text_one(const Plan *p, FILE *to) {
    Text text = {0};
    text_add(&text, "%s: plan for ", p->taper.c->name);
    words_event(p->taper.c, &text);
    print_wrapped(to, text_of(&text), 79, 2);
    text_clear(&text);
    text_add(&text, "%s taper: ", p->given ? "Given" : "Recommended");
    option_words(&p->option, &text);
    text_add(&text, ".");
    print_wrapped(to, text_of(&text), 79, 2);
    text_free(&text);
    fputs("\nday          load  what\n", to);
    print_days(p, to);
    print_outcome(p, to);
    print_broken(p, to);
    fputc('\n', to);
}

void plan_text_legend(const Plan *p, size_t count, FILE *to) {
    bool lists = false;
    Text text = {0};
    for (size_t i = 0; i < count; i++)
        lists = lists || plan_lists(&p[i]);
    if (!p->taper.c->context->season->has_week)
        text_add(&text, "There is no week.csv, so sets and minutes cannot be "
                        "told: write the usual week into week.csv and the "
                        "exercises into exercises.csv. ");
    else
        text_add(&text, "'60 -> 25': usually 60, now 25; a session without "
                        "such a sign is as usual. ");
    text_add(&text, "Kilograms, per cent of 1RM, repetitions and ratings are "
                    "as usual: cut the volume, not the intensity. A session "
                    "missed is missed: nothing is added back. ");
    plan_words_marks(p, count, &text);
    if (lists)
        text_add(&text, "In a week's total kg is what is moved, sets x "
                        "repetitions x kg, where kilograms are given. ");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_foot(const Plan *p, size_t count, const Output *o) {
    FILE *to = o->to;
    plan_text_legend(p, count, to);
    if (count > 1)
        print_wrapped(to,
                      "The event-week sheet (food, fluid, warm-up) is printed "
                      "with --athlete ID, and written for everyone with --out "
                      "DIR.",
                      79, 0);
    footer_print(p->taper.c, p->given ? 0 : p->taper.longest, o);
}

/* ---- the squad at a glance ---- */

enum { SQUAD_COLUMNS = 6 };

static void print_squad_part(const Plan *p, size_t count, Date from, FILE *to) {
    GridColumn columns[SQUAD_COLUMNS + 1] = {{"day", false}};
    Grid grid;
    for (size_t k = 0; k < count; k++)
        columns[k + 1] = (GridColumn){p[k].taper.c->name, true};
    grid_start(&grid, columns, (int)count + 1);
    for (Date date = from; date < p[0].taper.c->event->start; date++) {
        char day[DATE_TEXT];
        grid_cell(&grid, "%s", date_write_short(day, date));
        for (size_t k = 0; k < count; k++) {
            double share = plan_share_of_day(&p[k], date);
            if (isnan(share))
                grid_cell(&grid, ".");
            else
                grid_cell(&grid, "%.0f %%", share);
        }
    }
    grid_print(&grid, to, 10);
    grid_free(&grid);
    fputc('\n', to);
}

static void print_squad(const Plan *p, size_t count, FILE *to) {
    Date from = plan_first_cut(p, count);
    for (size_t k = 1; k < count; k++)
        if (p[k].taper.c->event != p[0].taper.c->event)
            return;
    fputs("The squad at a glance: load of each day as per cent of the usual; "
          ". is a day off\n\n",
          to);
    for (size_t k = 0; k < count; k += SQUAD_COLUMNS)
        print_squad_part(p + k,
                         count - k < SQUAD_COLUMNS ? count - k : SQUAD_COLUMNS,
                         from, to);
}

/* ---- files ---- */

void plan_text_print(const Plan *p, size_t count, const Output *o) {
    FILE *to = o->to;
    if (count > 1)
        print_squad(p, count, to);
    for (size_t i = 0; i < count; i++)
        plan_text_one(&p[i], to);
    if (count == 1) {
        EventWeek sheet;
        event_week_build(p->taper.c, &sheet);
        event_sheet_print(&sheet, to);
        fputc('\n', to);
    }
    print_foot(p, count, o);
}
