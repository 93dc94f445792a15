/* check_text: see check_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/check_text.h"

#include "present/grid.h"

#include <math.h>
#include <string.h>

/* The name of a file inside the season. */
static const char *inside(const Season *s, const char *file) {
    size_t length = s && s->folder ? strlen(s->folder) : 0;
    if (file && length && strncmp(file, s->folder, length) == 0 &&
        file[length] == '/')
        return file + length + 1;
    return file ? file : "";
}

static void coverage_csv(const Context *d, const Coverage *c, FILE *to) {
    char first[DATE_TEXT], last[DATE_TEXT], name[TEXT_EXCERPT];
    Text text = {0};
    Csv csv;
    text_add(&text,
             "%s: %zu days from %s to %s: %zu with training, %zu rest, %zu "
             "filled, %zu not recorded; %zu sessions, %zu tests, longest gap "
             "%zu days",
             text_excerpt(name, c->athlete->name), c->days,
             date_write(first, c->first), date_write(last, d->season->last),
             c->trained, c->rest, c->filled, c->unrecorded,
             c->athlete->session_count, c->athlete->test_count, c->longest_gap);
    csv_begin(&csv, to);
    csv_text(&csv, inside(d->season, d->season->log_path));
    csv_text(&csv, "");
    csv_text(&csv, "");
    csv_text(&csv, "notice");
    csv_text(&csv, text_of(&text));
    csv_end(&csv);
    text_free(&text);
}

void check_text_csv(const Context *d, const Coverage *c, size_t count,
                    FILE *to) {
    csv_header(to, "file,line,column,level,message");
    for (size_t i = 0; i < d->notes->count; i++) {
        const Note *note = &d->notes->items[i];
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, inside(d->season, note->file));
        if (note->line)
            csv_whole(&csv, (long)note->line);
        else
            csv_text(&csv, "");
        csv_text(&csv, note->column ? note->column : "");
        csv_text(&csv, level_name(note->level));
        csv_text(&csv, note->text);
        csv_end(&csv);
    }
    for (size_t i = 0; i < count; i++)
        coverage_csv(d, &c[i], to);
}

static void print_head(const Context *d, FILE *to) {
    const Season *s = d->season;
    char first[DATE_TEXT], last[DATE_TEXT];
    fputs("Season ", to);
    print_shown(to, s->path);
    fprintf(to, ": %zu athlete%s, %zu session%s", s->athlete_count,
            s->athlete_count == 1 ? "" : "s", s->session_count,
            s->session_count == 1 ? "" : "s");
    if (s->last != DATE_NONE)
        fprintf(to, ", %s to %s", date_write(first, s->first),
                date_write(last, s->last));
    fprintf(to, "\nLoad: %s%s\n", load_method_unit(s->method),
            s->method_given ? " (--load)" : "");
}

static void print_coverage(const Coverage *c, size_t count, FILE *to) {
    static const GridColumn columns[] = {
        {"athlete", false},    {"from", false},       {"days", true},
        {"train-\ning", true}, {"rest", true},        {"un-\nknown", true},
        {"gap\nd", true},      {"ses-\nsions", true}, {"tests", true},
        {"median\nweek", true}};
    Grid grid;
    char day[DATE_TEXT];
    grid_start(&grid, columns, 10);
    for (size_t i = 0; i < count; i++) {
        grid_cell(&grid, "%s", c[i].athlete->name);
        grid_cell(&grid, "%s", date_write(day, c[i].first));
        grid_cell(&grid, "%zu", c[i].days);
        grid_cell(&grid, "%zu", c[i].trained);
        grid_cell(&grid, "%zu", c[i].rest);
        grid_cell(&grid, "%zu", c[i].unrecorded);
        grid_cell(&grid, "%zu", c[i].longest_gap);
        grid_cell(&grid, "%zu", c[i].athlete->session_count);
        grid_cell(&grid, "%zu", c[i].athlete->test_count);
        if (isfinite(c[i].week))
            grid_cell(&grid, "%.0f", c[i].week);
        else
            grid_cell(&grid, "-");
    }
    fputc('\n', to);
    grid_print(&grid, to, 18);
    grid_free(&grid);
}

static void print_note(const Context *d, const Note *note, FILE *to) {
    Text text = {0};
    text_add(&text, "%s", inside(d->season, note->file));
    if (note->line)
        text_add(&text, ":%zu", note->line);
    if (text.length)
        text_add(&text, ": ");
    if (note->column)
        text_add(&text, "%s: ", note->column);
    text_add(&text, "%s", note->text);
    fputs("  - ", to);
    print_wrapped(to, text_of(&text), 76, 4);
    text_free(&text);
}

enum {
    SHOWN_ALIKE = 3
}; /* of more notes of one sort one is shown; --csv has
      all */

/* The notes of one sort; returns how many. */
static size_t print_sort(const Context *d, size_t sort, FILE *to) {
    const Notes *notes = d->notes;
    size_t count = notes->sorts[sort].count;
    size_t shown = count > SHOWN_ALIKE ? 1 : count;
    for (size_t i = notes->sorts[sort].first; i < notes->count; i++)
        if (notes->items[i].sort == sort && notes->items[i].alike < shown)
            print_note(d, &notes->items[i], to);
    if (count > shown)
        fprintf(to, "    and %zu more of this sort (--csv lists all)\n",
                count - shown);
    return count;
}

static size_t print_level(const Context *d, Level level, const char *title,
                          FILE *to) {
    const Notes *notes = d->notes;
    size_t count = 0;
    for (size_t sort = 0; sort < notes->sort_count; sort++) {
        if (notes->items[notes->sorts[sort].first].level != level)
            continue;
        if (count == 0)
            fprintf(to, "\n%s\n", title);
        count += print_sort(d, sort, to);
    }
    return count;
}

void check_text_print(const Context *d, const Coverage *c, size_t count,
                      FILE *to) {
    size_t warnings;
    if (d->season->folder)
        print_head(d, to);
    if (d->season->folder == NULL) {
        fputs("Season ", to);
        print_shown_line(to, d->season->path);
    }
    if (count > 0)
        print_coverage(c, count, to);
    print_level(d, LEVEL_ERROR, "To mend before anything can be computed:", to);
    warnings = print_level(d, LEVEL_WARNING, "To look at:", to);
    print_level(d, LEVEL_NOTICE, "Notices:", to);
    if (d->notes->dropped)
        fprintf(to, "\n... and %zu more like these.\n", d->notes->dropped);
    if (d->notes->errors)
        fprintf(to, "\n%zu error%s: these files cannot be used yet.\n",
                d->notes->errors, d->notes->errors == 1 ? "" : "s");
    else if (warnings)
        fprintf(to,
                "\nThese files can be used; look at the %s above "
                "first.\n",
                warnings == 1 ? "point" : "points");
    else
        fprintf(to, "\nThese files can be used; nothing looks wrong.\n");
}
