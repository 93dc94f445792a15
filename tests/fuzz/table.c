/* A CSV table: rows are as wide as the header, cells are text, line numbers
 * never fall; and with each delimiter the rows are those of libcsv.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/table.h"
#include "fuzz.h"
#include "reference.h"

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

/* With a delimiter, in a first line `sep=`, or 0 to have it found. */
static void read_text(const char *text, size_t length, char delimiter) {
    FILE *stream = fmemopen((char *)(uintptr_t)text, length, "r");
    Notes notes = {0};
    Table *table;
    HOLDS(stream);
    table = table_open_stream(stream, "input.csv", NULL, &notes);
    HOLDS(table || notes.errors > 0);
    if (table && delimiter)
        HOLDS(!reference_compare(table, &notes, delimiter, 2, text + 6,
                                 length - 6));
    else if (table)
        read_rows(table);
    table_close(table);
    fclose(stream);
    notes_free(&notes);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const char delimiters[] = ",;\t";
    char *text = malloc(size + 7);
    HOLDS(text);
    memcpy(text, "sep=,\n", 6);
    memcpy(text + 6, data, size);
    text[6 + size] = '\0';
    read_text(text + 6, size ? size : 1, 0);
    for (const char *d = delimiters; *d; d++) {
        text[4] = *d;
        read_text(text, size + 6, *d);
    }
    free(text);
    return 0;
}
