/* folder_files: see folder_files.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/folder_files.h"

#include "base/mem.h"
#include "base/text.h"
#include "options/columns.h"
#include "options/option_table.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* Rows of a file of the folder, if it is there, with these columns. */
typedef struct {
    const char *columns[3];
    Text path;
    Table *table;
    TableRow row;
    Notes notes;
} FolderFile;

static const char *cell_of(const FolderFile *f, int column) {
    int at = table_column(f->table, f->columns[column]);
    return at < 0 ? "" : f->row.cells[at];
}

/* The first thing wrong with the file itself. */
static void judge(FolderFile *f, Status *status) {
    for (size_t i = 0; i < f->notes.count; i++) {
        const Note *n = &f->notes.items[i];
        if (n->level == LEVEL_ERROR)
            status_fail(status, n->code, "%s:%zu: %s", text_of(&f->path),
                        n->line, n->text);
    }
    for (int i = 0; f->table && i < 3 && f->columns[i]; i++)
        if (table_column(f->table, f->columns[i]) < 0)
            status_fail(status, STATUS_DATA,
                        "%s:1: this column is missing, expected '%s'",
                        text_of(&f->path), f->columns[i]);
}

static bool open_file(FolderFile *f, const char *folder, const char *name,
                      Status *status) {
    struct stat about;
    text_add(&f->path, "%s/%s", folder, name);
    if (status->code == STATUS_OK && stat(text_of(&f->path), &about) == 0)
        f->table = table_open(text_of(&f->path), NULL, &f->notes);
    judge(f, status);
    return f->table && status->code == STATUS_OK;
}

static StatusCode close_file(FolderFile *f, Status *status) {
    judge(f, status);
    table_close(f->table);
    text_free(&f->path);
    notes_free(&f->notes);
    return status->code;
}

/* Of one table, or with a blank cell of any. */
static void take_heading(const FolderFile *f, TableMaps *maps, Status *status) {
    char *table = mem_copy_part(cell_of(f, 0), strcspn(cell_of(f, 0), "."));
    char shown[TEXT_EXCERPT];
    Text wanted = {0};
    if (!columns_known(cell_of(f, 1)))
        status_fail(status, STATUS_DATA, "%s:%zu: ours: %s, expected %s",
                    text_of(&f->path), f->row.line,
                    text_excerpt(shown, cell_of(f, 1)),
                    columns_expected(cell_of(f, 1), &wanted));
    table_maps_put(maps, *table ? table : NULL, cell_of(f, 1), cell_of(f, 2),
                   f->row.line);
    text_free(&wanted);
    free(table);
}

StatusCode folder_files_headings(const char *folder, TableMaps *maps,
                                 Status *status) {
    FolderFile f = {.columns = {"file", "ours", "theirs"}};
    bool open = open_file(&f, folder, "headings.csv", status);
    while (open && table_next(f.table, &f.row))
        take_heading(&f, maps, status);
    return close_file(&f, status);
}

typedef struct {
    char *option;
    size_t line;
} Row;

/* Of two rows of one option one would be lost; those that may be said again
 * say more. */
static void judge_row(const FolderFile *f, Row *rows, size_t count,
                      Status *status) {
    char shown[TEXT_EXCERPT];
    const Row *last = &rows[count - 1];
    if (option_table_repeats(last->option))
        return;
    for (size_t i = 0; i + 1 < count; i++)
        if (text_same(rows[i].option, last->option))
            status_fail(status, STATUS_DATA,
                        "%s:%zu: option: %s stands in line %zu already, "
                        "expected it once",
                        text_of(&f->path), last->line,
                        text_excerpt(shown, last->option), rows[i].line);
}

StatusCode folder_files_settings(const char *folder,
                                 void (*take)(void *with,
                                              const Setting *setting,
                                              Status *status),
                                 void *with, Status *status) {
    FolderFile f = {.columns = {"option", "value"}};
    Row *rows = NULL;
    size_t count = 0, room = 0;
    bool open = open_file(&f, folder, "settings.csv", status);
    while (open && table_next(f.table, &f.row)) {
        Setting setting = {cell_of(&f, 0), cell_of(&f, 1), text_of(&f.path),
                           f.row.line};
        rows = mem_grow(rows, &room, count + 1, sizeof *rows);
        rows[count++] = (Row){mem_copy(setting.option), f.row.line};
        judge_row(&f, rows, count, status);
        take(with, &setting, status);
    }
    while (count > 0)
        free(rows[--count].option);
    free(rows);
    return close_file(&f, status);
}
