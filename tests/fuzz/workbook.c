/* A workbook: parts of an archive ("== NAME", a line break, its bytes), packed
 * here so that the XML is reached, or where nothing is so marked, the archive's
 * own bytes. It is refused with an error, or its rows are as wide as its
 * header.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/table.h"
#include "fuzz.h"

#include <unistd.h>
#include <zip.h>

static char path[64];

static void remove_file(void) {
    unlink(path);
}

static void name_file(void) {
    if (path[0])
        return;
    snprintf(path, sizeof path, "%s/peakward-fuzz-%ld.xlsx",
             access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp",
             (long)getpid());
    HOLDS(atexit(remove_file) == 0);
}

static void add_part(zip_t *zip, const char *mark, const char *next) {
    const char *name = mark + 3,
               *line = memchr(name, '\n', (size_t)(next - name));
    zip_source_t *source;
    char word[64] = "";
    if (!line || line == name || (size_t)(line - name) >= sizeof word)
        return;
    memcpy(word, name, (size_t)(line - name));
    source = zip_source_buffer(zip, line + 1, (size_t)(next - line - 1), 0);
    HOLDS(source);
    if (zip_file_add(zip, word, source, ZIP_FL_OVERWRITE) < 0)
        zip_source_free(source);
}

/* Stored, not compressed: that is zlib's. */
static void pack(const char *at, const char *end) {
    int error;
    zip_t *zip = zip_open(path, ZIP_CREATE | ZIP_TRUNCATE, &error);
    HOLDS(zip);
    while (at < end) {
        const char *next = next_mark(at + 3, end);
        add_part(zip, at, next);
        at = next;
    }
    for (zip_int64_t i = 0; i < zip_get_num_entries(zip, 0); i++)
        zip_set_file_compression(zip, (zip_uint64_t)i, ZIP_CM_STORE, 0);
    if (zip_close(zip) != 0)
        zip_discard(zip);
}

static void read_rows(Table *table, Notes *notes) {
    TableRow row;
    size_t line = 0;
    while (table_next(table, &row)) {
        HOLDS(row.count == table_width(table));
        HOLDS(row.line >= line);
        line = row.line;
    }
    HOLDS(table_width(table) > 0 || notes->errors > 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *text = (const char *)data, *end = text + size;
    const char *mark = next_mark(text, end);
    Notes notes = {0};
    Table *table;
    FILE *file;
    name_file();
    unlink(path);
    if (mark == text && size > 0) {
        pack(text, end);
    } else {
        file = fopen(path, "wb");
        HOLDS(file && fwrite(data, 1, size, file) == size && fclose(file) == 0);
    }
    table = table_open(path, NULL, &notes);
    HOLDS(table || notes.errors > 0);
    if (table)
        read_rows(table, &notes);
    table_close(table);
    notes_free(&notes);
    return 0;
}
