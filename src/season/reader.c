/* reader: see reader.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/reader.h"

#include "base/mem.h"
#include "base/near.h"
#include "base/number.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

bool reader_open_any(Reader *r, const char *path, const Column *columns,
                     const ReadOptions *options, Notes *notes) {
    *r = (Reader){.notes = notes,
                  .dates = options->dates,
                  .columns = columns,
                  .leave_out = options->leave_out};
    r->table = table_open(path, options->maps, notes);
    if (!r->table)
        return false;
    r->style = table_style(r->table);
    for (int i = 0; columns[i].name; i++)
        r->at[i] = table_column(r->table, columns[i].name);
    return true;
}

static bool known(const Reader *r, size_t place) {
    for (int i = 0; r->columns[i].name; i++)
        if (r->at[i] == (int)place)
            return true;
    return false;
}

static void list_headings(const Reader *r, Text *list) {
    char shown[TEXT_EXCERPT];
    for (size_t i = 0; i < table_width(r->table) && i < 12; i++)
        text_add(list, "%s%s", i ? ", " : "",
                 text_excerpt(shown, table_heading_raw(r->table, i)));
    if (table_width(r->table) > 12)
        text_add(list, ", ...");
}

/* ---- what other headings may mean ---- */

/* The column of ours, not yet there, that a heading comes nearest to, or -1. */
static int nearest_column(const Reader *r, const char *heading) {
    double nearest = INFINITY;
    int found = -1;
    for (int i = 0; r->columns[i].name; i++) {
        double share = near_share(heading, r->columns[i].name);
        if (r->at[i] < 0 && share < nearest) {
            nearest = share;
            found = i;
        }
    }
    return found;
}

/* A heading of the file that may be meant by a column, or NULL. */
static const char *nearest_heading(const Reader *r, int column) {
    const char *found = NULL;
    double nearest = INFINITY;
    for (size_t i = 0; i < table_width(r->table); i++) {
        const char *heading = table_heading_raw(r->table, i);
        double share = near_share(heading, r->columns[column].name);
        if (!known(r, i) && share < nearest &&
            nearest_column(r, heading) == column) {
            nearest = share;
            found = heading;
        }
    }
    return found;
}

/* What to write so that a heading is taken for a column; without a heading for
 * one to be filled in. */
static void add_map(const Reader *r, const char *ours, const char *theirs,
                    Text *text) {
    static const char *const others[] = {"athletes", "tests",     "events",
                                         "week",     "exercises", "absences",
                                         "blocks",   "plan",      NULL};
    const char *slash = strrchr(table_name(r->table), '/');
    const char *base = slash ? slash + 1 : table_name(r->table);
    const char *table = "";
    bool quotes = theirs && strpbrk(theirs, " ()&;'*?<>|#$`!");
    for (int i = 0; others[i]; i++)
        if (strncmp(base, others[i], strlen(others[i])) == 0 &&
            base[strlen(others[i])] == '.')
            table = others[i];
    text_add(text, "--map %s%s%s%s=", quotes ? "\"" : "", table,
             *table ? "." : "", ours);
    for (const char *c = theirs ? theirs : "HEADING"; *c; c++) {
        if (strchr(",\\", *c))
            text_put(text, "\\", 1);
        text_put(text, c, 1);
    }
    text_add(text, "%s", quotes ? "\"" : "");
}

static void note_unused(Reader *r) {
    Place place = {table_name(r->table), 0, NULL};
    char shown[TEXT_EXCERPT];
    Text list = {0}, maps = {0};
    size_t unused = 0;
    const char *one = NULL;
    for (size_t i = 0; i < table_width(r->table); i++) {
        const char *heading = table_heading_raw(r->table, i);
        int near = nearest_column(r, heading);
        if (known(r, i) || text_same(table_heading(r->table, i), "ignore"))
            continue;
        one = heading;
        if (unused++ < 8)
            text_add(&list, "%s%s", unused > 1 ? ", " : "",
                     text_excerpt(shown, heading));
        if (near >= 0 && nearest_heading(r, near) == heading) {
            text_add(&maps, "%s", maps.length ? ", " : "; if it is meant: ");
            add_map(r, r->columns[near].name, heading, &maps);
        }
    }
    if (unused > 8)
        text_add(&list, " and %zu more", unused - 8);
    if (maps.length == 0)
        text_add(&maps, " (--map OURS=THEIRS names a column)");
    text_add(&maps, "; to leave %s out without a notice: ",
             unused == 1 ? "it" : "one");
    add_map(r, "ignore", unused == 1 && *one ? one : NULL, &maps);
    if (unused > 0)
        notes_add(r->notes, LEVEL_NOTICE, place, "%s not used: %s%s",
                  unused == 1 ? "one column is" : "some columns are",
                  text_of(&list), text_of(&maps));
    text_free(&list);
    text_free(&maps);
}

void reader_refuse_absent(Reader *r, int column, const char *reason) {
    const char *name = r->columns[column].name;
    const char *near = nearest_heading(r, column);
    Place place = {table_name(r->table), 1, name};
    Text list = {0}, map = {0};
    char shown[TEXT_EXCERPT];
    list_headings(r, &list);
    add_map(r, name, near, &map);
    if (near)
        notes_add(r->notes, LEVEL_ERROR, place,
                  "this column is missing; the header reads %s; expected a "
                  "column '%s'%s; if %s is it: %s",
                  text_of(&list), name, reason, text_excerpt(shown, near),
                  text_of(&map));
    else
        notes_add(r->notes, LEVEL_ERROR, place,
                  "this column is missing; the header reads %s; expected a "
                  "column '%s'%s (or %s)",
                  text_of(&list), name, reason, text_of(&map));
    text_free(&list);
    text_free(&map);
}

bool reader_judge_columns(Reader *r) {
    bool good = true;
    for (int i = 0; r->columns[i].name; i++) {
        if (!r->columns[i].required || r->at[i] >= 0)
            continue;
        reader_refuse_absent(r, i, "");
        good = false;
    }
    if (good)
        note_unused(r);
    return good;
}

bool reader_open(Reader *r, const char *path, const Column *columns,
                 const ReadOptions *options, Notes *notes) {
    if (!reader_open_any(r, path, columns, options, notes))
        return false;
    if (reader_judge_columns(r))
        return true;
    reader_close(r);
    return false;
}

bool reader_next(Reader *r) {
    return table_next(r->table, &r->row);
}

/* What programs write where a number was not recorded. */
static bool is_missing(const char *cell) {
    static const char *const words[] = {"NA", "N/A",          "#N/A",
                                        "-",  "\xE2\x80\x93", NULL};
    size_t length;
    const char *start = text_trim(cell, &length);
    for (int i = 0; words[i]; i++)
        if (strlen(words[i]) == length &&
            strncasecmp(start, words[i], length) == 0)
            return true;
    return false;
}

static void count_missing(Reader *r, size_t place) {
    if (!r->missing)
        r->missing = mem_new(table_width(r->table), sizeof *r->missing);
    r->missing[place]++;
}

static void note_missing(Reader *r) {
    for (size_t i = 0; r->missing && i < table_width(r->table); i++) {
        Place where = {table_name(r->table), 0, table_heading_raw(r->table, i)};
        if (r->missing[i])
            notes_add(r->notes, LEVEL_NOTICE, where,
                      "%zu cell%s that read%s NA, N/A, #N/A or - %s taken as "
                      "not recorded, like a blank one",
                      r->missing[i], r->missing[i] == 1 ? "" : "s",
                      r->missing[i] == 1 ? "s" : "",
                      r->missing[i] == 1 ? "is" : "are");
    }
    free(r->missing);
    r->missing = NULL;
}

static void note_left_out(const Reader *r) {
    Place place = {table_name(r->table), 0, NULL};
    if (r->left > 0)
        notes_add(r->notes, LEVEL_WARNING, place,
                  "%zu row%s left out (--leave-out)", r->left,
                  r->left == 1 ? " that cannot be read is"
                               : "s that cannot be read are");
}

void reader_close(Reader *r) {
    if (r->table)
        note_missing(r);
    if (r->table)
        note_left_out(r);
    table_close(r->table);
    text_free(&r->scratch);
    r->table = NULL;
}

const char *reader_cell(Reader *r, int column) {
    size_t length;
    const char *start = text_trim(reader_raw(r, column), &length);
    if (start[length] == '\0')
        return start;
    text_clear(&r->scratch);
    text_put(&r->scratch, start, length);
    return text_of(&r->scratch);
}

static void note(Reader *r, Level level, int column, const char *format,
                 va_list list) {
    char text[STATUS_TEXT];
    const char *name = NULL;
    Place place;
    if (column >= 0)
        name = r->at[column] >= 0
                   ? table_heading_raw(r->table, (size_t)r->at[column])
                   : r->columns[column].name;
    place = (Place){table_name(r->table), r->row.line, name};
    vsnprintf(text, sizeof text, format, list);
    notes_add(r->notes, level, place, "%s", text);
}

/* What an error is where rows are left out. */
static Level refusal(Reader *r) {
    if (!r->leave_out)
        return LEVEL_ERROR;
    if (r->latest != r->row.line)
        r->left++;
    r->latest = r->row.line;
    return LEVEL_WARNING;
}

void reader_error(Reader *r, int column, const char *format, ...) {
    va_list list;
    va_start(list, format);
    note(r, refusal(r), column, format, list);
    va_end(list);
}

void reader_warning(Reader *r, int column, const char *format, ...) {
    va_list list;
    va_start(list, format);
    note(r, LEVEL_WARNING, column, format, list);
    va_end(list);
}

static void bad_at(Reader *r, size_t place, const char *wanted) {
    char shown[TEXT_EXCERPT];
    Place where = {table_name(r->table), r->row.line,
                   table_heading_raw(r->table, place)};
    notes_add(r->notes, refusal(r), where, "%s, expected %s",
              text_excerpt(shown, r->row.cells[place]), wanted);
}

static void bad(Reader *r, int column, const char *wanted) {
    bad_at(r, (size_t)r->at[column], wanted);
}

static bool read_number(Reader *r, size_t place, double low, double high,
                        bool required, double *value) {
    const char *wanted;
    char range[96];
    double read;
    if (!number_read(r->row.cells[place], r->style, &read, &wanted)) {
        if (!required && is_missing(r->row.cells[place])) {
            count_missing(r, place);
            return true;
        }
        bad_at(r, place, wanted);
        return false;
    }
    if (read < low || read > high) {
        snprintf(range, sizeof range, "a number from %g to %g", low, high);
        bad_at(r, place, range);
        return false;
    }
    *value = read;
    return true;
}

bool reader_number(Reader *r, int column, double low, double high,
                   double *value) {
    if (reader_blank(r, column))
        return true;
    return read_number(r, (size_t)r->at[column], low, high,
                       r->columns[column].required, value);
}

bool reader_number_at(Reader *r, size_t place, double low, double high,
                      double *value) {
    return read_number(r, place, low, high, false, value);
}

bool reader_whole(Reader *r, int column, int low, int high, int *value) {
    double number = NAN;
    char wanted[64];
    if (reader_blank(r, column))
        return true;
    if (!reader_number(r, column, low, high, &number))
        return false;
    if (isnan(number))
        return true;
    if (number != (double)(int)number) {
        snprintf(wanted, sizeof wanted, "a whole number from %d to %d", low,
                 high);
        bad(r, column, wanted);
        return false;
    }
    *value = (int)number;
    return true;
}

bool reader_date(Reader *r, int column, Date *value) {
    char why[DATE_WHY];
    if (reader_blank(r, column) && !r->columns[column].required)
        return true;
    if (date_read(reader_raw(r, column), r->dates, value, why))
        return true;
    bad(r, column, why);
    return false;
}

bool reader_time(Reader *r, int column, int *minute) {
    if (reader_blank(r, column))
        return true;
    if (time_read(reader_raw(r, column), minute))
        return true;
    bad(r, column,
        "a clock time as HH:MM, like 17:30 (--map "
        "ignore=HEADING leaves a column out)");
    return false;
}

bool reader_word(Reader *r, int column, const char *const *words, int *value) {
    const char *cell = reader_cell(r, column);
    Text wanted = {0};
    if (!*cell)
        return true;
    for (int i = 0; words[i]; i++)
        if (text_same(cell, words[i])) {
            *value = i;
            return true;
        }
    for (int i = 0; words[i]; i++)
        text_add(&wanted, "%s%s", i ? (words[i + 1] ? ", " : " or ") : "",
                 words[i]);
    bad(r, column, text_of(&wanted));
    text_free(&wanted);
    return false;
}

bool reader_yes(Reader *r, int column, bool *value) {
    static const char *const words[] = {"no", "yes", NULL};
    int choice = *value;
    bool good = reader_word(r, column, words, &choice);
    *value = choice == 1;
    return good;
}

bool reader_text(Reader *r, int column, const char **value) {
    const char *cell = reader_cell(r, column);
    if (!*cell) {
        bad(r, column, "some text");
        return false;
    }
    if (text_has_control(cell)) {
        bad(r, column, "text without control characters");
        return false;
    }
    *value = cell;
    return true;
}

bool reader_plain_heading(Reader *r, size_t place) {
    const char *heading = table_heading(r->table, place);
    char shown[TEXT_EXCERPT];
    Place where = {table_name(r->table), 1, NULL};
    if (!text_has_control(heading))
        return true;
    notes_add(r->notes, LEVEL_ERROR, where,
              "the heading %s, expected text without control characters",
              text_excerpt(shown, heading));
    return false;
}
