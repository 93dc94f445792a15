/* plan: what each athlete does each day until the event: the plan, the
 * event-week sheet, a calendar file.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/plan.h"

#include "commands/commands.h"

#include "base/clock.h"
#include "base/mem.h"
#include "base/outfile.h"
#include "commands/event_sheet.h"
#include "commands/verdict.h"
#include "present/calendar.h"
#include "present/grid.h"
#include "present/plot.h"
#include "present/progress.h"
#include "season/check.h"
#include "taper/prescription.h"

#include <math.h>
#include <stdlib.h>

/* To the nearest weight that the bar allows. */
static void round_weights(Prescription *s, double plate) {
    for (size_t i = 0; i < s->count; i++)
        if (isfinite(s->rows[i].kg))
            s->rows[i].kg =
                fmax(plate, plate * floor(s->rows[i].kg / plate + .5));
}

/* What missing a session takes from readiness at the event: only of sessions
 * that could be cut in the days before it. */
static double cost_of(const Plan *p, const PlanRow *row) {
    const Outlook *o = &p->verdict.c->outlook;
    size_t day = (size_t)(row->date - o->first);
    size_t before = o->event_day > day ? o->event_day - day : 0;
    double *cut, cost;
    if (row->exercise || row->event || row->keep || before < 1 ||
        before > o->window || !(row->load > 0) || o->cuttable[day] <= 0)
        return 0;
    cut = mem_new(o->window, sizeof *cut);
    for (size_t u = 0; u < o->window; u++)
        cut[u] = p->sheet.cut[u];
    cut[before - 1] += row->load / o->cuttable[day];
    cost = p->rounded - score_cuts(&p->verdict.score, cut);
    free(cut);
    return cost;
}

static void set_costs(Plan *p) {
    p->cost = mem_new(p->sheet.count, sizeof *p->cost);
    for (size_t i = 0; i < p->sheet.count && p->verdict.possible > 0; i++)
        p->cost[i] =
            fmax(0, cost_of(p, &p->sheet.rows[i])) / p->verdict.possible;
}

StatusCode plan_make(const Case *c, Plan *p, Status *status) {
    const Question *q = c->desk->question;
    StatusCode code = verdict_build(c, &p->verdict, status);
    const Search *s = &p->verdict.search;
    if (code != STATUS_OK)
        return code;
    p->option = s->items[s->recommended].option;
    p->given = q->option_count > 0;
    if (p->given)
        p->option = verdict_option(s, q->options[0].spec);
    prescription_build(&c->outlook, &c->usual, &p->option, &p->sheet);
    p->ideal = score_option(&p->verdict.score, &p->option);
    p->rounded = score_cuts(&p->verdict.score, p->sheet.cut);
    if (q->plate > 0)
        round_weights(&p->sheet, q->plate);
    set_costs(p);
    return STATUS_OK;
}

void plan_free(Plan *p) {
    verdict_free(&p->verdict);
    prescription_free(&p->sheet);
    free(p->cost);
}

/* ---- CSV ---- */

static void csv_row(const Case *c, const PlanRow *row, double cost, FILE *to) {
    char day[DATE_TEXT];
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, c->name);
    csv_text(&csv, date_write(day, row->date));
    csv_text(&csv, date_weekday_name(date_weekday(row->date)));
    csv_text(&csv, row->session);
    csv_text(&csv, row->event ? "event" : session_kind_names[row->kind]);
    csv_text(&csv, row->exercise ? row->exercise : "");
    csv_number(&csv, row->exercise ? row->sets : NAN);
    csv_number(&csv, row->reps);
    csv_number(&csv, row->kg);
    csv_number(&csv, row->minutes);
    csv_number(&csv, row->rpe);
    csv_number(&csv, 100 * row->cut);
    csv_number(&csv, row->load);
    csv_number(&csv, row->percent);
    csv_number(&csv, row->exercise ? row->usual_sets : NAN);
    csv_number(&csv, row->usual_minutes);
    csv_number(&csv, row->usual_load);
    csv_text(&csv, row->keep ? "yes" : "");
    csv_number(&csv, cost > 0 ? cost : NAN);
    csv_end(&csv);
}

static void print_csv_header(const Output *o) {
    output_header(o,
                  "athlete,date,weekday,session,kind,exercise,sets,reps,kg,"
                  "minutes,rpe,cut,load,percent_1rm,usual_sets,usual_minutes,"
                  "usual_load,keep,cost_if_missed");
}

static void print_csv(const Plan *p, FILE *to) {
    for (size_t i = 0; i < p->sheet.count; i++)
        csv_row(p->verdict.c, &p->sheet.rows[i], p->cost[i], to);
}

/* ---- text ---- */

static bool was_cut(const PlanRow *row) {
    return fabs(row->cut) > 1e-9;
}

static void whole(Text *text, double now, double usual, const char *unit) {
    if (now != usual)
        text_add(text, "%.0f -> %.0f %s", usual, now, unit);
    else
        text_add(text, "%.0f %s", now, unit);
}

/* "Court  90 -> 45 min at 5". */
void plan_session_words(const PlanRow *row, Text *text) {
    if (row->event) {
        text_add(text, "*** %s ***", row->session);
        return;
    }
    text_add(text, "%s", row->session);
    if (row->cut >= 1 - 1e-9) {
        text_add(text, ": off");
        return;
    }
    if (isfinite(row->usual_minutes)) {
        text_add(text, ": ");
        whole(text, row->minutes, row->usual_minutes, "min");
    } else if (was_cut(row)) {
        text_add(text, ": %.0f %% of the usual volume", 100 * (1 - row->cut));
    }
    if (isfinite(row->rpe))
        text_add(text, ", rating %g", row->rpe);
    if (row->keep)
        text_add(text, " (stays)");
}

/* "Back squat  5 -> 2 x 5 at 80 % of 1RM". */
void plan_exercise_words(const PlanRow *row, Text *text) {
    text_add(text, "%s: ", row->exercise);
    if (row->sets != row->usual_sets)
        text_add(text, "%.0f -> %.0f x %g", row->usual_sets, row->sets,
                 row->reps);
    else
        text_add(text, "%.0f x %g", row->sets, row->reps);
    if (isfinite(row->kg))
        text_add(text, " at %.4g kg", row->kg);
    else if (isfinite(row->percent))
        text_add(text, " at %g %% of 1RM", row->percent);
    if (row->keep)
        text_add(text, " (stays)");
}

/* Loads of small size (kilometres, say) need a decimal. */
int plan_load_digits(const Plan *p) {
    double most = 0;
    for (size_t i = 0; i < p->sheet.count; i++)
        if (!p->sheet.rows[i].exercise)
            most = fmax(most, p->sheet.rows[i].usual_load);
    return most < 30;
}

static void print_row(const PlanRow *row, double cost, bool new_day, int digits,
                      FILE *to) {
    Text text = {0};
    char day[DATE_TEXT], share[FIGURE_TEXT];
    if (row->exercise) {
        plan_exercise_words(row, &text);
        fprintf(to, "%19s", "");
        print_wrapped(to, text_of(&text), 60, 20);
        text_free(&text);
        return;
    }
    plan_session_words(row, &text);
    if (100 * cost >= PLAN_COST_SHOWN)
        text_add(&text, "  ! %s", plan_cost_text(share, cost));
    fprintf(to, "%-11s", new_day ? date_write_short(day, row->date) : "");
    fprintf(to, " %5.*f ", digits, row->load);
    print_wrapped(to, text_of(&text), 61, 20);
    text_free(&text);
}

/* What a week's rows add up to. */
typedef struct {
    double load, usual_load;
    double minutes, usual_minutes; /* [min] */
    double sets, usual_sets;
    double moved, usual_moved; /* [kg] sets x repetitions x kg */
} Totals;

static void add_row(Totals *t, const PlanRow *row) {
    if (!row->exercise) {
        t->load += row->load;
        t->usual_load += row->usual_load;
        if (isfinite(row->usual_minutes)) {
            t->minutes += row->minutes;
            t->usual_minutes += row->usual_minutes;
        }
        return;
    }
    t->sets += row->sets;
    t->usual_sets += row->usual_sets;
    if (isfinite(row->kg)) {
        t->moved += row->sets * row->reps * row->kg;
        t->usual_moved += row->usual_sets * row->reps * row->kg;
    }
}

static Totals totals_of(const Plan *p, size_t from, size_t to) {
    Totals t = {0};
    for (size_t i = from; i < to; i++)
        add_row(&t, &p->sheet.rows[i]);
    return t;
}

/* Fewer sets that move as much as before are no cut. */
static bool not_cut(const Totals *t) {
    double sets = 1 - t->sets / t->usual_sets;
    double moved = 1 - t->moved / t->usual_moved;
    return t->usual_moved > 0 && sets > .1 && moved < sets / 2;
}

static void add_total(double now, double usual, const char *unit, Text *text) {
    text_add(text, "; ");
    if (fabs(now - usual) > .005 * usual)
        text_add(text, "%.0f -> ", usual);
    text_add(text, "%.0f %s", now, unit);
}

void plan_total_words(const Plan *p, size_t from, size_t to, Text *text) {
    Totals t = totals_of(p, from, to);
    int digits = plan_load_digits(p);
    if (t.usual_load - t.load > .005 * t.usual_load)
        text_add(text, "usual %.*f", digits, t.usual_load);
    else
        text_add(text, "as usual");
    if (t.usual_minutes > 0)
        add_total(t.minutes, t.usual_minutes, "min", text);
    if (t.usual_sets > 0)
        add_total(t.sets, t.usual_sets, "sets", text);
    if (t.usual_moved > 0)
        add_total(t.moved, t.usual_moved, "kg", text);
}

const char *plan_note(const Plan *p, size_t from, size_t to) {
    Totals t = totals_of(p, from, to);
    return not_cut(&t) ? "NOTE: fewer sets, but nearly as much weight moved"
                       : NULL;
}

double plan_week_load(const Plan *p, size_t from, size_t to) {
    return totals_of(p, from, to).load;
}

/* Of the calendar week that ends before row `to`. */
static void print_week_total(const Plan *p, size_t from, size_t to, FILE *out) {
    const char *note = plan_note(p, from, to);
    Text text = {0};
    fprintf(out, "%-11s %5.*f ", "of the week", plan_load_digits(p),
            plan_week_load(p, from, to));
    plan_total_words(p, from, to, &text);
    print_wrapped(out, text_of(&text), 61, 20);
    if (note)
        fprintf(out, "%19s%s\n", "", note);
    fputc('\n', out);
    text_free(&text);
}

static Date monday_of(Date date) {
    return date - date_weekday(date);
}

size_t plan_week_end(const Plan *p, size_t from) {
    const PlanRow *rows = p->sheet.rows;
    size_t to = from;
    while (to < p->sheet.count &&
           monday_of(rows[to].date) == monday_of(rows[from].date))
        to++;
    return to;
}

/* Days without a row are rest days. */
static void print_rest(Date from, Date to, FILE *out) {
    char day[DATE_TEXT];
    for (Date date = from; date < to; date++)
        fprintf(out, "%-11s %5s  rest day\n", date_write_short(day, date), ".");
}

static void print_days(const Plan *p, FILE *to) {
    const Prescription *s = &p->sheet;
    const Outlook *o = &p->verdict.c->outlook;
    Date next = o->first + (Date)o->log_days;
    size_t week = 0;
    int digits = plan_load_digits(p);
    for (size_t i = 0; i < s->count; i++) {
        const PlanRow *row = &s->rows[i];
        bool new_day = i == 0 || s->rows[i - 1].date != row->date;
        if (i > 0 && monday_of(row->date) != monday_of(s->rows[i - 1].date)) {
            print_rest(next, monday_of(row->date), to);
            if (next < monday_of(row->date))
                next = monday_of(row->date);
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
    const Case *c = p->verdict.c;
    Text text = {0};
    text_add(&text, "As rounded, ");
    if (!p->given &&
        search_cuts_outside(&c->outlook, &c->desk->question->limits,
                            p->sheet.cut, &text)) {
        text_add(&text, ": mend it by hand where that matters.");
        print_wrapped(to, text_of(&text), 79, 0);
    }
    text_free(&text);
}

/* In the test's unit where there is one. */
static void add_readiness(const Plan *p, Text *text) {
    const Verdict *v = &p->verdict;
    Spread spread = verdict_spread_cuts(v, p->sheet.cut);
    double scale = verdict_scale(v);
    char now[FIGURE_TEXT], other[FIGURE_TEXT];
    text_add(text, " Readiness at the event (%s): %s", case_model(v->c)->unit,
             figure(now, case_shown(v->c, p->rounded), scale));
    if (isfinite(spread.readiness_low))
        text_add(text, ", 5-95 %% %s to %s",
                 figure(now, spread.readiness_low, scale),
                 figure(other, spread.readiness_high, scale));
    text_add(text, "; by the unrounded taper %s",
             figure(now, case_shown(v->c, p->ideal), scale));
    text_add(
        text, ", without a taper %s.",
        figure(now, case_shown(v->c, v->search.items[0].readiness), scale));
}

void plan_outcome_words(const Plan *p, Text *text) {
    const Verdict *v = &p->verdict;
    double none = v->search.items[0].readiness;
    char number[FIGURE_TEXT];
    double share = search_share(p->rounded - none, v->possible);
    if (!isfinite(share))
        return;
    text_add(text, "%s brings %s of the possible gain",
             v->c->desk->season->has_week
                 ? "In whole sets and steps of 5 min this plan"
                 : "This plan",
             percent_cell(number, share));
    if (v->c->desk->season->has_week)
        text_add(
            text, "; the taper it is rounded from brings %s",
            percent_cell(number, search_share(p->ideal - none, v->possible)));
    text_add(text, ".");
    if (case_model(v->c)->scaled)
        add_readiness(p, text);
}

static void print_outcome(const Plan *p, FILE *to) {
    Text text = {0};
    plan_outcome_words(p, &text);
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_one(const Plan *p, FILE *to) {
    Text text = {0};
    text_add(&text, "%s: plan for ", p->verdict.c->name);
    event_words(p->verdict.c, &text);
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

const char *plan_cost_text(char buffer[FIGURE_TEXT], double cost) {
    if (cost > .995)
        snprintf(buffer, FIGURE_TEXT, "> 99 %%");
    else
        snprintf(buffer, FIGURE_TEXT, "%.0f %%", 100 * cost);
    return buffer;
}

void plan_mark_words(const Plan *p, size_t count, Text *text) {
    double most = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t row = 0; row < p[i].sheet.count; row++)
            most = fmax(most, p[i].cost[row]);
    if (100 * most < PLAN_COST_SHOWN)
        return;
    text_add(text, "'! 8 %%': missing it costs 8 %% of what a taper can gain, "
                   "so look after that one. ");
    if (most > .995)
        text_add(text, "'! > 99 %%': it costs more than a taper can gain here, "
                       "which is little. ");
}

bool plan_lists(const Plan *p) {
    for (size_t i = 0; i < p->sheet.count; i++)
        if (p->sheet.rows[i].exercise)
            return true;
    return false;
}

/* Only of signs that stand in one of the plans. */
static void print_legend(const Plan *p, size_t count, FILE *to) {
    bool lists = false;
    Text text = {0};
    for (size_t i = 0; i < count; i++)
        lists = lists || plan_lists(&p[i]);
    if (!p->verdict.c->desk->season->has_week)
        text_add(&text, "There is no week.csv, so sets and minutes cannot be "
                        "told: write the usual week into week.csv and the "
                        "exercises into exercises.csv. ");
    else
        text_add(&text, "'60 -> 25': usually 60, now 25; a session without "
                        "such a sign is as usual. ");
    text_add(&text, "Kilograms, per cent of 1RM, repetitions and ratings are "
                    "as usual: cut the volume, not the intensity. A session "
                    "missed is missed: nothing is added back. ");
    plan_mark_words(p, count, &text);
    if (lists)
        text_add(&text, "In a week's total kg is what is moved, sets x "
                        "repetitions x kg, where kilograms are given. ");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_foot(const Desk *d, const Plan *p, size_t count, FILE *to) {
    print_legend(p, count, to);
    if (count > 1)
        print_wrapped(to,
                      "The event-week sheet (food, fluid, warm-up) is printed "
                      "with --athlete ID, and written for everyone with --out "
                      "DIR.",
                      79, 0);
    for (size_t i = 0; i < count; i++)
        verdict_print_warnings(&p[i].verdict, to);
    desk_print_evidence(to);
    if (!p->given)
        verdict_print_limits(&p->verdict, to);
    desk_print_basis(d, p->verdict.c, to);
    desk_print_cautions(d, to);
}

/* ---- the squad at a glance ---- */

enum { SQUAD_COLUMNS = 6 };

/* Share of the usual load of a day [%]; NAN: no training planned. */
static double share_of_day(const Plan *p, Date date) {
    double load = 0, usual = 0;
    for (size_t i = 0; i < p->sheet.count; i++) {
        const PlanRow *row = &p->sheet.rows[i];
        if (row->date != date || row->exercise)
            continue;
        load += row->load;
        usual += row->usual_load;
    }
    return usual > 0 ? 100 * load / usual : NAN;
}

static Date first_cut(const Plan *p, size_t count) {
    Date first = p[0].verdict.c->event->start;
    for (size_t k = 0; k < count; k++)
        for (size_t i = 0; i < p[k].sheet.count; i++)
            if (was_cut(&p[k].sheet.rows[i]) && p[k].sheet.rows[i].date < first)
                first = p[k].sheet.rows[i].date;
    return first;
}

static void print_squad_part(const Plan *p, size_t count, Date from, FILE *to) {
    GridColumn columns[SQUAD_COLUMNS + 1] = {{"day", false}};
    Grid grid;
    for (size_t k = 0; k < count; k++)
        columns[k + 1] = (GridColumn){p[k].verdict.c->name, true};
    grid_start(&grid, columns, (int)count + 1);
    for (Date date = from; date < p[0].verdict.c->event->start; date++) {
        char day[DATE_TEXT];
        grid_cell(&grid, "%s", date_write_short(day, date));
        for (size_t k = 0; k < count; k++) {
            double share = share_of_day(&p[k], date);
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
    Date from = first_cut(p, count);
    for (size_t k = 1; k < count; k++)
        if (p[k].verdict.c->event != p[0].verdict.c->event)
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

typedef struct {
    const Plan *plan;
    const char *who; /* the athlete, for identifiers */
} Sheet;

static void fill_plan(const void *from, FILE *to) {
    const Sheet *s = from;
    print_one(s->plan, to);
    verdict_print_warnings(&s->plan->verdict, to);
    desk_print_notes(s->plan->verdict.c, to);
    print_legend(s->plan, 1, to);
    case_print_cautions(s->plan->verdict.c, to);
}

static void fill_event_week(const void *from, FILE *to) {
    const Sheet *s = from;
    EventSheet sheet;
    event_sheet_build(s->plan->verdict.c, &sheet);
    event_sheet_print(&sheet, to);
}

/* One entry a session of an event's day. */
static void calendar_event(const Sheet *s, const PlanRow *row, FILE *to) {
    int minute[EVENT_SESSIONS];
    int count = event_minutes(row->event, minute);
    for (int i = 0; i < count; i++) {
        Text id = {0}, text = {0};
        char day[DATE_TEXT];
        CalendarEntry entry = {.date = row->date,
                               .minute = minute[i],
                               .minutes = event_session_minutes(row->event),
                               .days = 1,
                               .title = row->session};
        if (i > 0 && event_minutes_taken(row->event))
            text_add(&text, "%s", event_sheet_taken);
        text_add(&id, "%s-%d-%s@peakward", date_write(day, row->date), i + 1,
                 s->who);
        entry.id = text_of(&id);
        entry.text = text_of(&text);
        calendar_entry(to, &entry);
        text_free(&id);
        text_free(&text);
    }
}

/* One entry a session: its words, its exercises below. */
static void calendar_session(const Sheet *s, size_t at, FILE *to) {
    const Plan *p = s->plan;
    const PlanRow *row = &p->sheet.rows[at];
    Text title = {0}, text = {0}, id = {0};
    char day[DATE_TEXT], share[FIGURE_TEXT];
    int of_day = 1; /* the n-th session of its day */
    CalendarEntry entry = {.date = row->date, .minute = -1, .days = 1};
    plan_session_words(row, &title);
    for (size_t i = at + 1; i < p->sheet.count && p->sheet.rows[i].exercise;
         i++) {
        plan_exercise_words(&p->sheet.rows[i], &text);
        text_add(&text, "\n");
    }
    if (100 * p->cost[at] >= PLAN_COST_SHOWN)
        text_add(&text, "Do not miss it: that costs %s of the gain.\n",
                 plan_cost_text(share, p->cost[at]));
    for (size_t i = at; i-- > 0 && p->sheet.rows[i].date == row->date;)
        of_day += !p->sheet.rows[i].exercise;
    text_add(&id, "%s-%d-%s@peakward", date_write(day, row->date), of_day,
             s->who);
    entry.title = text_of(&title);
    entry.text = text_of(&text);
    entry.id = text_of(&id);
    calendar_entry(to, &entry);
    text_free(&title);
    text_free(&text);
    text_free(&id);
}

/* Hours of the event week that are known. */
static void calendar_steps(const Sheet *s, FILE *to) {
    EventSheet sheet;
    event_sheet_build(s->plan->verdict.c, &sheet);
    for (size_t i = 0; i < sheet.step_count; i++) {
        const EventStep *step = &sheet.steps[i];
        char day[DATE_TEXT];
        Text id = {0};
        CalendarEntry entry = {.date =
                                   s->plan->verdict.c->event->start + step->day,
                               .minute = step->minute,
                               .minutes = 15,
                               .title = step->what};
        if (!step->clock || step->minute < 0 || step->start)
            continue;
        text_add(&id, "%s-event-%zu-%s@peakward",
                 date_write(day, s->plan->verdict.c->event->start), i, s->who);
        entry.id = text_of(&id);
        calendar_entry(to, &entry);
        text_free(&id);
    }
}

static void fill_calendar(const void *from, FILE *to) {
    const Sheet *s = from;
    const Plan *p = s->plan;
    Text name = {0};
    text_add(&name, "%s: %s", p->verdict.c->name, p->verdict.c->event->name);
    calendar_begin(to, text_of(&name));
    for (size_t i = 0; i < p->sheet.count; i++)
        if (p->sheet.rows[i].event)
            calendar_event(s, &p->sheet.rows[i], to);
        else if (!p->sheet.rows[i].exercise)
            calendar_session(s, i, to);
    calendar_steps(s, to);
    calendar_end(to);
    text_free(&name);
}

static StatusCode write_files(const Output *o, const Plan *p, size_t count,
                              Status *status) {
    static const struct {
        const char *ending;
        void (*fill)(const void *, FILE *);
    } kinds[] = {{".txt", fill_plan},
                 {"-event-week.txt", fill_event_week},
                 {".ics", fill_calendar}};
    const char *folder = o->folder;
    Text paths = {0};
    StatusCode code = outfile_make_folder(folder, status);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        Text name = {0}, who = {0};
        Sheet sheet = {&p[i], NULL};
        output_file_name(p[i].verdict.c, "plan", &name);
        output_file_name(p[i].verdict.c, "plan", &who);
        if (p[i].verdict.c->desk->question->event_count >
            0) { /* one of several plans */
            text_add(&name, "-");
            plot_file_name(&name, p[i].verdict.c->event->name);
        }
        sheet.who = text_of(&who);
        for (int k = 0; k < 3 && code == STATUS_OK; k++) {
            Text path = {0};
            text_add(&path, "%s/%s%s", folder, text_of(&name), kinds[k].ending);
            code = outfile_write(text_of(&path), kinds[k].fill, &sheet, status);
            text_add(&paths, "%s\n", text_of(&path));
            text_free(&path);
        }
        text_free(&name);
        text_free(&who);
    }
    if (code == STATUS_OK && !o->csv)
        output_list(o, "Files", &paths);
    text_free(&paths);
    return code;
}

static void print_text(const Desk *d, const Plan *p, size_t count, FILE *to) {
    if (count > 1)
        print_squad(p, count, to);
    for (size_t i = 0; i < count; i++)
        print_one(&p[i], to);
    if (count == 1) {
        EventSheet sheet;
        event_sheet_build(p->verdict.c, &sheet);
        event_sheet_print(&sheet, to);
        fputc('\n', to);
    }
    print_foot(d, p, count, to);
}

static StatusCode answer(const Call *call, const Desk *d, const Case *cases,
                         size_t count, Status *status) {
    Plan *p = mem_new(count, sizeof *p);
    time_t now; /* of the calendars: can it be told? */
    StatusCode code = call->output.folder ? clock_now(&now, status) : STATUS_OK;
    Progress progress = progress_begin("plans made", count, call->output.quiet);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = plan_make(&cases[i], &p[i], status);
    }
    progress_end(&progress);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        check_mass(d->season, cases[i].athlete, call->notes);
    if (code == STATUS_OK && call->output.csv)
        print_csv_header(&call->output);
    for (size_t i = 0; i < count && code == STATUS_OK && call->output.csv; i++)
        print_csv(&p[i], call->output.to);
    if (code == STATUS_OK && !call->output.csv)
        print_text(d, p, count, call->output.to);
    if (code == STATUS_OK && call->output.folder)
        code = write_files(&call->output, p, count, status);
    for (size_t i = 0; i < count; i++)
        plan_free(&p[i]);
    free(p);
    return code;
}

StatusCode command_plan(const Call *call, Status *status) {
    return command_on_cases(call, true, answer, status);
}
