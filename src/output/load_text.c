/* load_text: see load_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/load_text.h"

#include "answers/week_loads.h"
#include "present/grid.h"

#include <math.h>

static void csv_daily(const Daily *d, const char *name, FILE *to) {
    char day[DATE_TEXT];
    for (size_t i = 0; i < d->days; i++) {
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, name);
        csv_text(&csv, date_write(day, d->first + (Date)i));
        csv_number(&csv, d->load[i]);
        csv_end(&csv);
    }
}

static void csv_weekly(const Daily *d, const char *name, FILE *to) {
    char day[DATE_TEXT];
    WeekLoads w;
    for (size_t i = 0; week_loads_at(d, i, &w); i++) {
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, name);
        csv_text(&csv, date_write(day, w.monday));
        csv_whole(&csv, (long)w.days);
        csv_number(&csv, w.load);
        csv_number(&csv, w.monotony);
        csv_number(&csv, w.strain);
        csv_end(&csv);
    }
}

static void cell_or_dash(Grid *grid, double value, int digits) {
    if (isfinite(value))
        grid_cell(grid, "%.*f", digits, value);
    else
        grid_cell(grid, "-");
}

/* Loads of small size (kilometres, say) need a decimal. */
static int load_digits(const Daily *d) {
    double most = 0;
    for (size_t i = 0; i < d->days; i++)
        most = fmax(most, d->load[i]);
    return most < 30;
}

static void text_daily(const Daily *d, FILE *to) {
    static const GridColumn columns[] = {
        {"week from", false}, {"Mon", true}, {"Tue", true},
        {"Wed", true},        {"Thu", true}, {"Fri", true},
        {"Sat", true},        {"Sun", true}, {"week", true}};
    Grid grid;
    WeekLoads w;
    char day[DATE_TEXT];
    int digits = load_digits(d);
    grid_start(&grid, columns, 9);
    for (size_t i = 0; week_loads_at(d, i, &w); i++) {
        grid_cell(&grid, "%s", date_write(day, w.monday));
        for (int k = 0; k < 7; k++) {
            Date date = w.monday + k;
            bool inside = date >= d->first && date < d->first + (Date)d->days;
            if (inside && isnan(w.day[k]))
                grid_cell(&grid, "?");
            else if (inside && w.day[k] <= 0)
                grid_cell(&grid, ".");
            else if (inside)
                grid_cell(&grid, "%.*f", digits, w.day[k]);
            else
                grid_cell(&grid, "%s", "");
        }
        cell_or_dash(&grid, w.load, digits);
    }
    grid_print(&grid, to, 24);
    grid_free(&grid);
}

static void text_weekly(const Daily *d, FILE *to) {
    static const GridColumn columns[] = {{"week from", false},
                                         {"days", true},
                                         {"load", true},
                                         {"monotony", true},
                                         {"strain", true}};
    Grid grid;
    WeekLoads w;
    char day[DATE_TEXT];
    grid_start(&grid, columns, 5);
    for (size_t i = 0; week_loads_at(d, i, &w); i++) {
        grid_cell(&grid, "%s", date_write(day, w.monday));
        grid_cell(&grid, "%zu", w.days);
        cell_or_dash(&grid, w.load, load_digits(d));
        cell_or_dash(&grid, w.monotony, 2);
        cell_or_dash(&grid, w.strain, load_digits(d));
    }
    grid_print(&grid, to, 24);
    grid_free(&grid);
}

static void print_legend(const Context *d, FILE *to) {
    Text text = {0};
    text_add(&text, "Load: %s. ", load_method_unit(d->season->method));
    if (d->question->weekly)
        text_add(&text,
                 "Monotony = mean/SD of the week's seven days, strain = load x "
                 "monotony (Foster 1998, Med Sci Sports Exerc 30:1164-1168). "
                 "SD: the sample's, n - 1; the abstract does not say which. "
                 "'-': not a whole week, all days equal, or a day not "
                 "recorded.");
    else
        text_add(&text, "'.': no training, '?': not recorded, which is not 0.");
    fputc('\n', to);
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

void load_text_present(const Context *d, const Daily *daily, const Output *o) {
    bool weekly = d->question->weekly;
    FILE *to = o->to;
    if (o->csv)
        output_header(o, weekly ? "athlete,week,days,load,monotony,strain"
                                : "athlete,date,load");
    for (size_t i = 0; i < d->chosen_count; i++) {
        const char *name = d->season->athletes[d->chosen[i]].name;
        if (o->csv && weekly)
            csv_weekly(&daily[i], name, to);
        else if (o->csv)
            csv_daily(&daily[i], name, to);
        if (o->csv || daily[i].days == 0)
            continue;
        fputs(i ? "\n" : "", to);
        print_shown_line(to, name);
        if (weekly)
            text_weekly(&daily[i], to);
        else
            text_daily(&daily[i], to);
    }
    if (!o->csv)
        print_legend(d, to);
}
