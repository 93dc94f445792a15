/* simulate_text: see simulate_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/simulate_text.h"

#include "output/footer.h"
#include "output/words.h"
#include "present/grid.h"

#include <math.h>

static const char *phase(const Case *c, size_t day) {
    if (day < c->outlook.log_days)
        return "logged";
    if (c->event && day >= c->outlook.event_day)
        return "event";
    return "planned";
}

void simulate_text_csv_header(const Output *o) {
    output_header(o, "athlete,date,load,fitness,fatigue,readiness,low,"
                     "high,phase");
}

void simulate_text_csv(const Case *c, const Curves *v, FILE *to) {
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

void simulate_text(const Case *c, const Curves *v, Document *doc) {
    static const GridColumn columns[] = {
        {"date", false},      {"", false},         {"load", true},
        {"fitness", true},    {"fatigue", true},   {"readiness", true},
        {"90 %\nfrom", true}, {"range\nto", true}, {"", false}};
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
        grid_cell(&grid, "%s", words_figure(number, v->load[i], 25));
        grid_cell(&grid, "%s", words_figure(number, v->fitness[i], scale));
        grid_cell(&grid, "%s", words_figure(number, v->fatigue[i], scale));
        grid_cell(&grid, "%s", words_figure(number, v->readiness[i], scale));
        grid_cell(&grid, "%s",
                  words_figure(number, v->low ? v->low[i] : NAN, scale));
        grid_cell(&grid, "%s",
                  words_figure(number, v->high ? v->high[i] : NAN, scale));
        grid_cell(&grid, "%s",
                  date == v->taper_from ? "taper begins" : phase(c, i));
    }
    document_title(doc, "%s", c->name);
    document_table(doc, &grid, "");
}

void simulate_text_foot(const Case *c, Document *doc) {
    bool scaled = case_model(c)->scaled;
    if (case_draws(c)->count == 0)
        document_words(doc, WORDS_SMALL,
                       "90 %% range: '-', since this model file gives no "
                       "spread for its parameters; the curves are less sure "
                       "than they look.");
    else
        document_words(doc, WORDS_SMALL,
                       "Fitness, fatigue and readiness: means over the likely "
                       "models; 90 of 100 of these lie within the 90 %% "
                       "range%s.",
                       scaled ? ""
                              : ", all set equal on the last logged day, since "
                                "no test tells the level: they show how sure "
                                "the change since then is");
    if (!scaled)
        document_words(doc, WORDS_SMALL,
                       "Readiness is in the model's own scale, not in the unit "
                       "of a test: compare days, not athletes.");
    else if (!case_level_known(c))
        document_words(doc, WORDS_SMALL,
                       "No test of their own tells the level of readiness: "
                       "compare days, not athletes.");
    document_words(doc, WORDS_SMALL,
                   "Earlier weeks: Mondays only; --csv lists every day.");
    footer(c, 0, doc);
}
