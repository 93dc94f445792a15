/* plan: what each athlete does each day until the event.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

#include "base/mem.h"
#include "commands/verdict.h"
#include "present/grid.h"
#include "taper/prescription.h"

#include <math.h>
#include <stdlib.h>

typedef struct {
    Verdict verdict;
    Option option;
    bool given; /* by --option */
    Prescription sheet;
    double ideal, rounded; /* [readiness] */
} Plan;

static StatusCode make_plan(const Case *c, Plan *p, Status *status) {
    const Request *r = c->desk->request;
    StatusCode code = verdict_build(c, &p->verdict, status);
    const Search *s = &p->verdict.search;
    if (code != STATUS_OK)
        return code;
    p->option = s->items[s->recommended].option;
    p->given = r->option_count > 0;
    if (p->given)
        p->option = verdict_option(s, r->options[0].spec);
    prescription_build(&c->outlook, &c->usual, &p->option, &p->sheet);
    p->ideal = score_option(&p->verdict.score, &p->option);
    p->rounded = score_cuts(&p->verdict.score, p->sheet.cut);
    return STATUS_OK;
}

static void plan_free(Plan *p) {
    verdict_free(&p->verdict);
    prescription_free(&p->sheet);
}

/* ---- CSV ---- */

static void csv_row(const Case *c, const PlanRow *row, FILE *to) {
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
    csv_end(&csv);
}

static void print_csv(const Plan *p, FILE *to) {
    for (size_t i = 0; i < p->sheet.count; i++)
        csv_row(p->verdict.c, &p->sheet.rows[i], to);
}

/* ---- text ---- */

static bool was_cut(const PlanRow *row) {
    return row->cut > 1e-9;
}

static void whole(Text *text, double now, double usual, const char *unit) {
    if (now < usual)
        text_add(text, "%.0f -> %.0f %s", usual, now, unit);
    else
        text_add(text, "%.0f %s", now, unit);
}

/* "Court  90 -> 45 min at 5". */
static void session_words(const PlanRow *row, Text *text) {
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
static void exercise_words(const PlanRow *row, Text *text) {
    text_add(text, "%s: ", row->exercise);
    if (row->sets < row->usual_sets)
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
static int load_digits(const Prescription *s) {
    double most = 0;
    for (size_t i = 0; i < s->count; i++)
        if (!s->rows[i].exercise)
            most = fmax(most, s->rows[i].usual_load);
    return most < 30;
}

static void print_row(const PlanRow *row, bool new_day, int digits, FILE *to) {
    Text text = {0};
    char day[DATE_TEXT];
    if (row->exercise) {
        exercise_words(row, &text);
        fprintf(to, "%19s", "");
        print_wrapped(to, text_of(&text), 60, 20);
        text_free(&text);
        return;
    }
    session_words(row, &text);
    fprintf(to, "%-11s", new_day ? date_write_short(day, row->date) : "");
    fprintf(to, " %5.*f ", digits, row->load);
    {
        char *line = mem_copy(text_of(&text));
        text_one_line(line);
        print_wrapped(to, line, 61, 20);
        free(line);
    }
    text_free(&text);
}

/* Load of the calendar week that ends before row `to`. */
static void print_week_total(const Prescription *s, size_t from, size_t to,
                             FILE *out) {
    double load = 0, usual = 0;
    for (size_t i = from; i < to; i++)
        if (!s->rows[i].exercise) {
            load += s->rows[i].load;
            usual += s->rows[i].usual_load;
        }
    fprintf(out, "%-11s %5.*f  total of the week", "", load_digits(s), load);
    if (usual - load > .005 * usual)
        fprintf(out, " (as usual: %.*f)", load_digits(s), usual);
    fputs("\n\n", out);
}

static Date monday_of(Date date) {
    return date - date_weekday(date);
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
    int digits = load_digits(s);
    bool listed = false; /* exercises of this session: only where some is cut */
    for (size_t i = 0; i < s->count; i++) {
        const PlanRow *row = &s->rows[i];
        bool new_day = i == 0 || s->rows[i - 1].date != row->date;
        if (i > 0 && monday_of(row->date) != monday_of(s->rows[i - 1].date)) {
            print_rest(next, monday_of(row->date), to);
            if (next < monday_of(row->date))
                next = monday_of(row->date);
            print_week_total(s, week, i, to);
            week = i;
        }
        if (new_day)
            print_rest(next, row->date, to);
        if (!row->exercise)
            listed = was_cut(row);
        if (!row->exercise || listed)
            print_row(row, new_day, digits, to);
        next = row->date + 1;
    }
    print_week_total(s, week, s->count, to);
}

static void print_outcome(const Plan *p, FILE *to) {
    const Verdict *v = &p->verdict;
    double none = v->search.items[0].readiness;
    Text text = {0};
    char number[FIGURE_TEXT];
    double share = search_share(p->rounded - none, v->possible);
    if (!isfinite(share))
        return;
    text_add(&text,
             "In whole sets and steps of 5 min this plan brings %s of "
             "the possible gain; ",
             percent_cell(number, share));
    text_add(&text, "the taper it is rounded from brings %s.",
             percent_cell(number, search_share(p->ideal - none, v->possible)));
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
    fputc('\n', to);
}

static void print_foot(const Desk *d, const Plan *p, FILE *to) {
    print_wrapped(to,
                  "'5 -> 2': usually 5, now 2; a session without such a sign "
                  "is as usual. Kilograms, per cent of 1RM, "
                  "repetitions and ratings are as usual: cut the volume, not "
                  "the intensity. A session missed is missed: nothing is added "
                  "back.",
                  79, 0);
    if (!d->season->has_week)
        print_wrapped(to,
                      "There is no week.csv, so sets and minutes cannot be "
                      "told: write the usual week into week.csv and the "
                      "exercises into exercises.csv.",
                      79, 0);
    verdict_print_warnings(&p->verdict, to);
    desk_print_evidence(to);
    if (!p->given)
        verdict_print_limits(&p->verdict, to);
    desk_print_basis(d, p->verdict.c, to);
    desk_print_cautions(d, to);
}

static StatusCode answer(const Call *call, const Desk *d, const Case *cases,
                         size_t count, Status *status) {
    Plan *p = mem_new(count, sizeof *p);
    StatusCode code = STATUS_OK;
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        code = make_plan(&cases[i], &p[i], status);
    if (code == STATUS_OK && call->request->csv)
        csv_header(call->to,
                   "athlete,date,weekday,session,kind,exercise,sets,reps,kg,"
                   "minutes,rpe,cut,load,percent_1rm,usual_sets,usual_minutes,"
                   "usual_load,keep");
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        if (call->request->csv)
            print_csv(&p[i], call->to);
        else
            print_one(&p[i], call->to);
    if (code == STATUS_OK && !call->request->csv)
        print_foot(d, &p[0], call->to);
    for (size_t i = 0; i < count; i++)
        plan_free(&p[i]);
    free(p);
    return code;
}

StatusCode command_plan(const Call *call, Status *status) {
    return command_on_cases(call, true, answer, status);
}
