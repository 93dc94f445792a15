/* A CSV table: rows are as wide as the header, cells are text, line numbers
 * never fall.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/table.h"
#include "fuzz.h"

#include <string.h>

static void read_rows(Table *table) {
    TableRow row;
    size_t line = 0;
    for (size_t i = 0; i < table_width(table); i++)
        HOLDS(table_heading(table, i) && table_heading_raw(table, i));
    while (table_next(table, &row)) {
        HOLDS(row.count == table_width(table));
        HOLDS(row.line >= line);
        line = row.line;
        for (size_t i = 0; i < row.count; i++)
            HOLDS(strlen(row.cells[i]) < 1u << 24);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *copy = malloc(size + 1);
    FILE *stream;
    Notes notes = {0};
    Table *table;
    if (!copy)
        return 0;
    memcpy(copy, data, size);
    stream = fmemopen(copy, size ? size : 1, "r");
    table =
        stream ? table_open_stream(stream, "input.csv", NULL, &notes) : NULL;
    HOLDS(table || notes.errors > 0 || !stream);
    if (table) {
        read_rows(table);
        table_close(table);
    }
    if (stream)
        fclose(stream);
    notes_free(&notes);
    free(copy);
    return 0;
}
