/* simulate: fitness, fatigue and readiness for each day, with intervals.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

#include "base/mem.h"
#include "commands/curves.h"
#include "commands/verdict.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>

/* The taper to simulate: --option, else none. */
static StatusCode choose_option(const Case *c, Option *option, Status *status) {
    const Question *q = c->desk->question;
    bool asked;
    Verdict verdict;
    StatusCode code;
    *option = (Option){.count = 0};
    if (q->option_count == 0)
        return STATUS_OK;
    asked = text_same(q->options[0].spec, "best") ||
            text_same(q->options[0].spec, "recommended");
    if (!text_same(q->options[0].spec, "none") &&
        (!c->event || c->outlook.window == 0))
        return status_fail(status, STATUS_DATA,
                           "--option %s: %s has %s, expected an event to "
                           "come with days to taper in",
                           q->options[0].spec, c->name,
                           c->event ? "no day left before the event"
                                    : "no event to come");
    if (!asked) {
        char why[OPTION_WHY];
        option_read(q->options[0].spec, option, why);
        return STATUS_OK;
    }
    code = verdict_build(c, &verdict, status);
    if (code == STATUS_OK)
        *option = verdict_option(&verdict.search, q->options[0].spec);
    verdict_free(&verdict);
    return code;
}

static const char *phase(const Case *c, size_t day) {
    if (day < c->outlook.log_days)
        return "logged";
    if (c->event && day >= c->outlook.event_day)
        return "event";
    return "planned";
}

/* To the event's last day, or the log's. */
static size_t days_shown(const Case *c) {
    if (!c->event)
        return c->outlook.days;
    return c->outlook.event_day + c->outlook.event_days;
}

static void print_csv_header(const Output *o) {
    output_header(o, "athlete,date,load,fitness,fatigue,readiness,low,"
                     "high,phase");
}

static void print_csv(const Case *c, const Curves *v, FILE *to) {
    char day[DATE_TEXT];
    for (size_t i = 0; i < v->days; i++) {
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, c->name);
        csv_text(&csv, date_write(day, c->outlook.first + (Date)i));
        csv_number(&csv, v->load[i]);
        csv_number(&csv, v->fitness[i]);
        csv_number(&csv, v->fatigue[i]);
        csv_number(&csv, v->readiness[i]);
        csv_number(&csv, v->low ? v->low[i] : NAN);
        csv_number(&csv, v->high ? v->high[i] : NAN);
        csv_text(&csv, phase(c, i));
        csv_end(&csv);
    }
}

/* Whole weeks until two weeks before today, then every day. */
static bool row_shown(const Case *c, const Curves *v, size_t day) {
    if (day + 14 >= c->outlook.log_days || v->days <= 42)
        return true;
    return date_weekday(c->outlook.first + (Date)day) == 0;
}

static void print_text(const Case *c, const Curves *v, FILE *to) {
    static const GridColumn columns[] = {
        {"date", false},   {"", false},       {"load", true},
        {"fitness", true}, {"fatigue", true}, {"readiness", true},
        {"5 %", true},     {"95 %", true},    {"", false}};
    Grid grid;
    char day[DATE_TEXT], number[FIGURE_TEXT];
    double scale = 0;
    for (size_t i = 0; i < v->days; i++)
        scale = fmax(scale, fabs(v->fitness[i]));
    grid_start(&grid, columns, 9);
    for (size_t i = 0; i < v->days; i++) {
        Date date = c->outlook.first + (Date)i;
        if (!row_shown(c, v, i))
            continue;
        grid_cell(&grid, "%s", date_write(day, date));
        grid_cell(&grid, "%s", date_weekday_name(date_weekday(date)));
        grid_cell(&grid, "%s", figure(number, v->load[i], 25));
        grid_cell(&grid, "%s", figure(number, v->fitness[i], scale));
        grid_cell(&grid, "%s", figure(number, v->fatigue[i], scale));
        grid_cell(&grid, "%s", figure(number, v->readiness[i], scale));
        grid_cell(&grid, "%s", figure(number, v->low ? v->low[i] : NAN, scale));
        grid_cell(&grid, "%s",
                  figure(number, v->high ? v->high[i] : NAN, scale));
        grid_cell(&grid, "%s",
                  date == v->taper_from ? "taper begins" : phase(c, i));
    }
    print_shown_line(to, c->name);
    grid_print(&grid, to, 24);
    grid_free(&grid);
    fputc('\n', to);
}

static void print_foot(const Desk *d, const Case *c, FILE *to) {
    if (case_draws(c)->count == 0)
        print_wrapped(to,
                      "5 % and 95 %: '-', since this model file gives no "
                      "spread for its parameters; the curves are less sure "
                      "than they look.",
                      79, 2);
    else
        print_wrapped(to,
                      case_model(c)->scaled
                          ? "5 % and 95 %: nine in ten models drawn from the "
                            "spreads of the model file lie between them."
                          : "5 % and 95 %: nine in ten models drawn from the "
                            "spreads of the model file lie between them, all "
                            "set equal on the last logged day, since no test "
                            "tells the level: they show how sure the change "
                            "since then is.",
                      79, 2);
    if (!case_model(c)->scaled)
        print_wrapped(to,
                      "Readiness is in the model's own scale, not in the unit "
                      "of a test: compare days, not athletes.",
                      79, 2);
    print_wrapped(to, "Earlier weeks: Mondays only; --csv lists every day.", 79,
                  2);
    desk_print_basis(d, c, to);
    desk_print_cautions(d, to);
}

static StatusCode draw_one(const void *answers, size_t at,
                           const Gallery *gallery, Text *paths,
                           Status *status) {
    return curves_draw((const Curves *)answers + at, "season", gallery, paths,
                       status);
}

static StatusCode answer(const Call *call, const Desk *d, const Case *cases,
                         size_t count, Status *status) {
    Curves *v = mem_new(count, sizeof *v);
    StatusCode code = STATUS_OK;
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        Option option;
        code = choose_option(&cases[i], &option, status);
        curves_build(&cases[i], &option, call->question->when,
                     days_shown(&cases[i]), true, &v[i]);
    }
    if (code == STATUS_OK && call->output.csv)
        print_csv_header(&call->output);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        if (call->output.csv)
            print_csv(&cases[i], &v[i], call->output.to);
        else
            print_text(&cases[i], &v[i], call->output.to);
    if (code == STATUS_OK && !call->output.csv)
        print_foot(d, &cases[0], call->output.to);
    if (code == STATUS_OK && call->output.folder)
        code = output_draw(&call->output, &(Drawing){v, count, draw_one},
                           "Pictures", status);
    for (size_t i = 0; i < count; i++)
        curves_free(&v[i]);
    free(v);
    return code;
}

StatusCode command_simulate(const Call *call, Status *status) {
    return command_on_cases(call, false, answer, status);
}
