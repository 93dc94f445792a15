/* table: tables beside the records of csv-spectrum, what libcsv makes of the
 * same bytes, or lines and cells counted while the file was made.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/table.h"
#include "base/text.h"
#include "fuzz/reference.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- table: reading it as text ---- */

/* What a table holds: the headings, then "LINE:cell|cell" for each row. Empty
 * when it could not be opened. */
typedef struct {
    Text text;
    Notes notes;
    bool decimal_comma;
} Reading;

static void put_row(Text *text, const TableRow *row) {
    text_add(text, "%zu:", row->line);
    for (size_t i = 0; i < row->count; i++)
        text_add(text, "%s%s", i ? "|" : "", row->cells[i]);
    text_add(text, "\n");
}

static void put_table(Reading *r, Table *table) {
    TableRow row;
    if (!table)
        return;
    for (size_t i = 0; i < table_width(table); i++)
        text_add(&r->text, "%s%s", i ? "|" : "", table_heading(table, i));
    text_add(&r->text, "\n");
    while (table_next(table, &row))
        put_row(&r->text, &row);
    CU_ASSERT_FALSE(table_next(table, &row)); /* the end stays the end */
    r->decimal_comma = table_style(table).decimal_comma;
    table_close(table);
}

static Reading read_bytes(const char *bytes, size_t length, TableMaps *maps) {
    Reading r = {0};
    FILE *stream = fmemopen((void *)(uintptr_t)bytes, length, "rb");
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    put_table(&r, table_open_stream(stream, "in.csv", maps, &r.notes));
    fclose(stream);
    return r;
}

static Reading read_path(const char *path) {
    Reading r = {0};
    put_table(&r, table_open(path, NULL, &r.notes));
    return r;
}

static void reading_free(Reading *r) {
    text_free(&r->text);
    notes_free(&r->notes);
}

typedef struct {
    const char *bytes;
    size_t length;
    const char *wanted;
} Sample;

static void check_samples(const Sample *samples, size_t count) {
    for (size_t i = 0; i < count; i++) {
        Reading r = read_bytes(samples[i].bytes, samples[i].length, NULL);
        ASSERT_TEXT(text_of(&r.text), samples[i].wanted);
        check_row(r.notes.count == 0, "no note", samples[i].bytes);
        reading_free(&r);
    }
}

/* ---- table: contents ---- */

/* csv-spectrum, github max-mapper/csv-spectrum, commit d30e80f8, licence
 * BSD-2-Clause (its package.json): the files of csvs/ and, as expected rows,
 * the records of json/. Line numbers were counted by hand. The name in the
 * first is the data's own placeholder. */
static void table_csv_spectrum(void) {
    static const Sample samples[] = {
        {BYTES("first,last,address,city,zip\n"
               "John,Doe,120 any st.,\"Anytown, WW\",08123"),
         "first|last|address|city|zip\n"
         "2:John|Doe|120 any st.|Anytown, WW|08123\n"},
        {BYTES("a,b,c\n1,\"\",\"\"\n2,3,4"), "a|b|c\n2:1||\n3:2|3|4\n"},
        {BYTES("a,b,c\r\n1,\"\",\"\"\r\n2,3,4\r"), "a|b|c\n2:1||\n3:2|3|4\n"},
        {BYTES("a,b\n1,\"ha \"\"ha\"\" ha\"\n3,4\n"),
         "a|b\n2:1|ha \"ha\" ha\n3:3|4\n"},
        {BYTES("key,val\n1,\"{\"\"type\"\": \"\"Point\"\", "
               "\"\"coordinates\"\": [102.0, 0.5]}\"\n"),
         "key|val\n"
         "2:1|{\"type\": \"Point\", \"coordinates\": [102.0, 0.5]}\n"},
        {BYTES("a,b,c\n1,2,3\n\"Once upon \na time\",5,6\n7,8,9\n"),
         "a|b|c\n2:1|2|3\n3:Once upon \na time|5|6\n5:7|8|9\n"},
        {BYTES("a,b,c\r\n1,2,3\r\n\"Once upon \r\na time\",5,6\r\n7,8,9\r\n"),
         "a|b|c\n2:1|2|3\n3:Once upon \r\na time|5|6\n5:7|8|9\n"},
        {BYTES("a,b\n1,\"ha \n\"\"ha\"\" \nha\"\n3,4\n"),
         "a|b\n2:1|ha \n\"ha\" \nha\n5:3|4\n"},
        {BYTES("a,b,c\n1,2,3\n"), "a|b|c\n2:1|2|3\n"},
        {BYTES("a,b,c\r\n1,2,3\r\n"), "a|b|c\n2:1|2|3\n"},
        {BYTES("a,b,c\n1,2,3\n4,5,\xCA\xA4\n"),
         "a|b|c\n2:1|2|3\n3:4|5|\xCA\xA4\n"},
    };
    check_samples(samples, COUNT(samples));
}

static void table_line_ends(void) {
    static const Sample samples[] = {
        {BYTES("a,b\n1,2\n3,4\n"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\r\n1,2\r\n3,4\r\n"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\r1,2\r3,4\r"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\n1,2\n3,4"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\r\n1,2\r\n3,4"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\r1,2\r3,4"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\n1,2\r\n3,4\r5,6\n"), "a|b\n2:1|2\n3:3|4\n4:5|6\n"},
        {BYTES("a,b\r\r1,2\r"), "a|b\n3:1|2\n"},
        {BYTES("a,b\n\r1,2"), "a|b\n3:1|2\n"},
        {BYTES("a,b\n1,\"2\""), "a|b\n2:1|2\n"},
        {BYTES("a,b\n1,"), "a|b\n2:1|\n"},
        {BYTES("a,b"), "a|b\n"},
        {BYTES("a,b\r\n"), "a|b\n"},
    };
    check_samples(samples, COUNT(samples));
}

/* Line numbers are the editor's, also after line breaks in quotes. */
static void table_quoted_breaks(void) {
    static const Sample samples[] = {
        {BYTES("a,b\n\"x\n\ny\",2\n3,\"\n\"\n5,6\n"),
         "a|b\n2:x\n\ny|2\n5:3|\n\n7:5|6\n"},
        {BYTES("a,b\r\n\"x\r\n\r\ny\",2\r\n3,4\r\n"),
         "a|b\n2:x\r\n\r\ny|2\n5:3|4\n"},
        {BYTES("a,b\r\"x\ry\",2\r3,4\r"), "a|b\n2:x\ry|2\n4:3|4\n"},
        {BYTES("\"a\nb\",c\n1,2\n"), "a\nb|c\n3:1|2\n"},
        {BYTES("\"a\r\nb\";\"c\r\nd\"\r\n1;2\r\n"), "a\r\nb|c\r\nd\n4:1|2\n"},
        {BYTES("a,b\n\"x\n,\"\"\n\",2\n3,4\n"), "a|b\n2:x\n,\"\n|2\n5:3|4\n"},
        {BYTES("a,b\n\"x\n\",\"y\n\"\n3,4\n"), "a|b\n2:x\n|y\n\n5:3|4\n"},
    };
    check_samples(samples, COUNT(samples));
}

static void table_marks(void) {
    static const Sample samples[] = {
        {BYTES("\xEF\xBB\xBF"
               "a,b\n1,2\n"),
         "a|b\n2:1|2\n"},
        {BYTES("\xEF\xBB\xBF\"a\",b\n1,2\n"), "a|b\n2:1|2\n"},
        {BYTES("sep=;\na,b;c\n1;2\n"), "a,b|c\n3:1|2\n"},
        {BYTES("SEP=\t\r\na;b\tc\r\n1\t2\r\n"), "a;b|c\n3:1|2\n"},
        {BYTES("\xEF\xBB\xBFsep=,\ra;b,c\r1,2\r"), "a;b|c\n3:1|2\n"},
        {BYTES("\xEF\xBB\x80,b\n1,2\n"), /* U+FEC0, a letter */
         "\xEF\xBB\x80|b\n2:1|2\n"},
        {BYTES("sep=|\n5\n"), "sep=|\n2:5\n"},
        {BYTES("sep=;x,b\n1,2\n"), "sep=;x|b\n2:1|2\n"},
        {BYTES("a,sep=;\n1,2\n"), "a|sep=;\n2:1|2\n"},
    };
    check_samples(samples, COUNT(samples));
}

static void table_delimiters(void) {
    static const struct {
        Sample sample;
        bool comma;
    } rows[] = {
        {{BYTES("a,b\n1,2.5\n"), "a|b\n2:1|2.5\n"}, false},
        {{BYTES("a;b\n1;2,5\n"), "a|b\n2:1|2,5\n"}, true},
        {{BYTES("a\tb\tc\n\t2,5\t\n"), "a|b|c\n2:|2,5|\n"}, false},
        {{BYTES("a\n1,\n"), "a\n2:1\n"}, false},
        {{BYTES("sep=;\na\n2,5\n"), "a\n3:2,5\n"}, true},
        {{BYTES("\"x;y;z\",b\n1,2;\n"), "x;y;z|b\n2:1|2;\n"}, false},
        {{BYTES("\"p,q,r\";b\n1;2,5\n"), "p,q,r|b\n2:1|2,5\n"}, true},
        {{BYTES("\"p\n;;q\",b\n1,2\n"), "p\n;;q|b\n3:1|2\n"}, false},
        {{BYTES("\"p\"\"\t;\tq\",b\n1,2\n"), "p\"\t;\tq|b\n2:1|2\n"}, false},
        {{BYTES("\n\na;b\n1;2\n"), "a|b\n4:1|2\n"}, true},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const Sample *s = &rows[i].sample;
        Reading r = read_bytes(s->bytes, s->length, NULL);
        ASSERT_TEXT(text_of(&r.text), s->wanted);
        check_row(r.decimal_comma == rows[i].comma, "comma?", s->bytes);
        CU_ASSERT_EQUAL(r.notes.count, 0);
        reading_free(&r);
    }
}

static void table_blanks(void) {
    static const Sample samples[] = {
        {BYTES("\n\na,b\n\n1,2\n , \n\"\",\"\"\n\t\n3,4\n\n\n"),
         "a|b\n5:1|2\n9:3|4\n"},
        {BYTES("a,b\r\n\r\n1,2\r\n,\r\n3,4\r\n"), "a|b\n3:1|2\n5:3|4\n"},
        {BYTES("a,b\n,,,,,\n\xC2\xA0,\n3,4\n"), "a|b\n4:3|4\n"},
        {BYTES("a\tb\n\t\n \n1\t2\n"), "a|b\n4:1|2\n"},
        /* blank columns at the end */
        {BYTES("a,b,,\n1,2,,\n3,4\n5,6,,,,,\n7,8, ,\"\"\n"),
         "a|b\n2:1|2\n3:3|4\n4:5|6\n5:7|8\n"},
        {BYTES("a;b;\xC2\xA0; \n1;2;;\n"), "a|b\n2:1|2\n"},
        {BYTES("a,,b\n1,2,3\n"), "a||b\n2:1|2|3\n"},
        {BYTES("a,b\n1,\n,2\n"), "a|b\n2:1|\n3:|2\n"},
        /* blanks around cells go, those in quotes stay */
        {BYTES(" a ,\" b \"\n 1 ,\" 2 \"\n"), "a|b\n2:1| 2 \n"},
        {BYTES("\xC2\xA0"
               "a,b\xC2\xA0\n1,2\n"),
         "a|b\n2:1|2\n"},
    };
    check_samples(samples, COUNT(samples));
}

/* A row of blank cells is passed over above the header, too. */
static void table_blank_rows_first(void) {
    static const Sample samples[] = {
        {BYTES(",,\na,b,c\n1,2,3\n"), "a|b|c\n3:1|2|3\n"},
        {BYTES("; \n;\na;b\n1;2\n"), "a|b\n4:1|2\n"},
        {BYTES("\"\",\"\"\r\na,b\r\n1,2\r\n"), "a|b\n3:1|2\n"},
    };
    check_samples(samples, COUNT(samples));
}

/* ---- table: trouble ---- */

typedef struct {
    Sample sample;
    size_t line;
    const char *part; /* of the one message */
} Trouble;

static void check_troubles(const Trouble *rows, size_t count) {
    for (size_t i = 0; i < count; i++) {
        const Sample *s = &rows[i].sample;
        Reading r = read_bytes(s->bytes, s->length, NULL);
        ASSERT_TEXT(text_of(&r.text), s->wanted);
        check_row(r.notes.count == 1 && r.notes.errors == 1, "one error",
                  rows[i].part);
        if (r.notes.count > 0) {
            CU_ASSERT_EQUAL(r.notes.items[0].level, LEVEL_ERROR);
            CU_ASSERT_EQUAL(r.notes.items[0].line, rows[i].line);
            ASSERT_TEXT(r.notes.items[0].file, "in.csv");
            ASSERT_HAS(r.notes.items[0].text, rows[i].part);
        }
        CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_DATA);
        reading_free(&r);
    }
}

static void table_ragged(void) {
    static const Trouble rows[] = {
        {{BYTES("a,b,c\n1,2,3\n4,5\n6,7,8\n"), "a|b|c\n2:1|2|3\n4:6|7|8\n"},
         3,
         "2 cells"},
        {{BYTES("a,b,c\n1,2,3\n4,5\n6,7,8\n"), "a|b|c\n2:1|2|3\n4:6|7|8\n"},
         3,
         "expected 3"},
        {{BYTES("a,b\n1,2,3\n4,5\n"), "a|b\n3:4|5\n"}, 2, "3 cells"},
        {{BYTES("a,b\nmonday,2,,7\n4,5\n"), "a|b\n3:4|5\n"}, 2, "'monday'"},
        {{BYTES("a,b\n\"x\ny\",2\n\"p\nq\"\n4,5"), "a|b\n2:x\ny|2\n6:4|5\n"},
         4,
         "1 cell"},
        {{BYTES("a;b\n1,2\n4;5\n"), "a|b\n3:4|5\n"}, 2, "expected 2"},
    };
    check_troubles(rows, COUNT(rows));
}

static void table_quotes(void) {
    static const Trouble rows[] = {
        {{BYTES("a,b\n1,2\n3,\"x\n5,6\n"), "a|b\n2:1|2\n"}, 3, "never closed"},
        {{BYTES("a,b\n1,\"2"), "a|b\n"}, 2, "never closed"},
        {{BYTES("a,b\n1,\"2\"\""), "a|b\n"}, 2, "never closed"},
        {{BYTES("a,b\r\n1,2\r\n3,4\"5\r\n6,7\r\n"), "a|b\n2:1|2\n"},
         3,
         "quotation mark"},
        {{BYTES("a,b\n1,\"x\"y\n3,4\n"), "a|b\n"}, 2, "quotation mark"},
        {{BYTES("a,b\n1,6\" wide\n"), "a|b\n"}, 2, "like \"\"this\"\""},
        {{BYTES("a,b\"\n1,2\n"), ""}, 1, "quotation mark"},
        {{BYTES("a,\"b\n1,2\n"), ""}, 1, "never closed"},
    };
    check_troubles(rows, COUNT(rows));
}

static void table_bad_bytes(void) {
    static const Trouble rows[] = {
        {{BYTES("a,b\n1,2\n3,\0\n5,6\n"), "a|b\n2:1|2\n"}, 3, "NUL"},
        {{BYTES("a\0,\0b\0\n\0"), ""}, 1, "UTF-16"},
        {{BYTES("sep=\0\na,b\n1,2\n"), ""}, 1, "NUL"},
        {{BYTES("\xFE\xFF\0a\0,\0b\0"), ""}, 1, "UTF-16 that is cut"},
        {{BYTES("\xFE\xFF\xDC\0\0,"), ""}, 1, "CSV UTF-8"},
        {{BYTES("a,caf\xE9\n1,2\n"), ""}, 1, "Latin-1"},
        {{BYTES("a,b\n1,2\n\"x\ny\",caf\xE9\n5,6\n"), "a|b\n2:1|2\n"},
         4,
         "CSV UTF-8"},
        {{BYTES("a,b\n1,\xED\xA0\x80\n"), "a|b\n"}, 2, "not UTF-8"},
        {{BYTES("a,b\r1,\xE2\x82\r"), "a|b\n"}, 2, "not UTF-8"},
    };
    check_troubles(rows, COUNT(rows));
}

/* The bytes by hand from the Unicode standard, 3.9 and 23.8: U+00E9 and, as a
 * pair of surrogates, U+1F3C3. */
static void table_utf16(void) {
    static const Sample samples[] = {
        {BYTES("\xFF\xFE"
               "a\0,\0\xE9\0\n\0"
               "1\0,\0\x3C\xD8\xC3\xDF\n\0"),
         "a|\xC3\xA9\n2:1|\xF0\x9F\x8F\x83\n"},
        {BYTES("\xFE\xFF\0a\0,\0\xE9\0\n\0"
               "1\0,\0"
               "2"),
         "a|\xC3\xA9\n2:1|2\n"},
    };
    check_samples(samples, COUNT(samples));
}

static void table_empty(void) {
    static const Trouble rows[] = {
        {{BYTES("\n\r\n\r"), ""}, 0, "header"},
        {{BYTES(" \t\n"), ""}, 0, "header"},
        {{BYTES("\xEF\xBB\xBF"), ""}, 0, "header"},
        {{BYTES("sep=;\n"), ""}, 0, "header"},
        {{BYTES("sep=;"), ""}, 0, "header"},
    };
    Reading r;
    check_troubles(rows, COUNT(rows));
    test_folder();
    r = read_path(test_file(0, "empty.csv", ""));
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_PTR_NOT_NULL(test_note(&r.notes, "empty"));
    CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_DATA);
    reading_free(&r);
    test_folder_done();
}

static void table_heading_twice(void) {
    static const Trouble rows[] = {
        {{BYTES("load,date,LOAD\n1,2,3\n"), ""}, 1, "twice"},
        {{BYTES("load,date,LOAD\n1,2,3\n"), ""}, 1, "columns 1 and 3"},
        {{BYTES("\n\nload;date; load \n1;2;3\n"), ""}, 3, "'load'"},
    };
    static const Sample blank = {BYTES("a,,,b\n1,2,3,4\n"),
                                 "a|||b\n2:1|2|3|4\n"};
    check_troubles(rows, COUNT(rows));
    check_samples(&blank, 1); /* columns without a heading may be many */
}

static void check_system(const char *path, const char *part) {
    Reading r = read_path(path);
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_EQUAL(r.notes.count, 1);
    if (r.notes.count > 0) {
        ASSERT_TEXT(r.notes.items[0].file, path);
        ASSERT_HAS(r.notes.items[0].text, part);
    }
    CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_SYSTEM);
    reading_free(&r);
}

static void table_cannot_read(void) {
    char path[400];
    const char *folder = test_folder();
    Notes notes = {0};
    FILE *stream;
    check_system(folder, "folder");
    snprintf(path, sizeof path, "%s/none.csv", folder);
    check_system(path, "No such file");
    stream = fopen(path, "wb"); /* cannot be read from */
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    CU_ASSERT_PTR_NULL(table_open_stream(stream, path, NULL, &notes));
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "cannot be read"));
    fclose(stream);
    notes_free(&notes);
    test_folder_done();
}

/* Waiting for a pipe that nobody writes to would be for ever: the alarm then
 * ends the tests. */
static void table_named_pipe(void) {
    char path[400];
    snprintf(path, sizeof path, "%s/pipe.csv", test_folder());
    CU_ASSERT_EQUAL_FATAL(mkfifo(path, 0600), 0);
    alarm(60);
    check_system(path, "named pipe");
    alarm(0);
    test_folder_done();
}

/* ---- table: sizes ---- */

/* In large pieces, or valgrind would take minutes over it. */
static void put_many(Text *text, const char *piece, size_t count) {
    char chunk[4096];
    size_t length = strlen(piece), most = sizeof chunk / length;
    for (size_t i = 0; i < most * length; i++)
        chunk[i] = piece[i % length];
    for (; count > most; count -= most)
        text_put(text, chunk, most * length);
    text_put(text, chunk, count * length);
}

/* A cell may have 64 kB and no more; reading goes on after it. */
static void table_long_cell(void) {
    Text text = {0}, wanted = {0};
    Reading r;
    text_add(&text, "a,b\n1,");
    put_many(&text, "x", 65536);
    text_add(&text, "\n3,\"");
    put_many(&text, "y", 65537);
    text_add(&text, "\"\n5,6\n");
    text_add(&wanted, "a|b\n2:1|");
    put_many(&wanted, "x", 65536);
    text_add(&wanted, "\n4:5|6\n");
    r = read_bytes(text.data, text.length, NULL);
    CU_ASSERT(strcmp(text_of(&r.text), wanted.data) == 0);
    CU_ASSERT_EQUAL_FATAL(r.notes.count, 1);
    CU_ASSERT_EQUAL(r.notes.items[0].line, 3);
    ASSERT_HAS(r.notes.items[0].text, "64 kB");
    ASSERT_HAS(r.notes.items[0].text, "'yyyyyyyyyy");
    reading_free(&r);
    text_free(&text);
    text_free(&wanted);
}

/* The message shows the beginning of that cell, not of another. */
static void table_long_cell_shown(void) {
    Text text = {0};
    Reading r;
    text_add(&text, "a,b,c\n");
    put_many(&text, "z", 50);
    text_add(&text, ",");
    put_many(&text, "y", 70000);
    text_add(&text, ",3\n");
    r = read_bytes(text.data, text.length, NULL);
    CU_ASSERT_EQUAL_FATAL(r.notes.count, 1);
    ASSERT_HAS(r.notes.items[0].text, "'yyyyyyyyyy");
    reading_free(&r);
    text_free(&text);
}

static void check_too_big(const Text *text, size_t line, const char *part) {
    Reading r = read_bytes(text->data, text->length, NULL);
    ASSERT_TEXT(text_of(&r.text), "a|b\n2:1|2\n");
    CU_ASSERT_EQUAL(r.notes.count, 1);
    if (r.notes.count > 0) {
        CU_ASSERT_EQUAL(r.notes.items[0].line, line);
        ASSERT_HAS(r.notes.items[0].text, part);
    }
    CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_DATA);
    reading_free(&r);
}

static void table_long_heading(void) {
    Text text = {0};
    Reading r;
    text_add(&text, "a,");
    put_many(&text, "h", 65537);
    text_add(&text, "\n1,2\n");
    r = read_bytes(text.data, text.length, NULL);
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_PTR_NOT_NULL(test_note(&r.notes, "a heading over 64 kB"));
    reading_free(&r);
    text_free(&text);
}

/* A line or a row over 1 MB, e.g. after a quotation mark left open. */
static void table_long_rows(void) {
    Text text = {0};
    text_add(&text, "a,b\n1,2\n3,");
    put_many(&text, "x", 1500000);
    text_add(&text, "\n5,6\n");
    check_too_big(&text, 3, "1 MB");
    text_clear(&text);
    text_add(&text, "a,b\n1,2\n3,\"");
    put_many(&text, "some,thing\n", 120000);
    check_too_big(&text, 3, "1 MB");
    text_free(&text);
}

/* The same when the first megabyte ends within a character. */
static void table_long_line_not_latin(void) {
    for (size_t shift = 0; shift < 2; shift++) {
        Text text = {0};
        text_add(&text, "a,b\n1,2\n%s", shift ? "x" : "");
        put_many(&text, "\xC3\xA9", 750000);
        text_add(&text, "\n");
        check_too_big(&text, 3, "1 MB");
        text_free(&text);
    }
}

static void table_widest(void) {
    Text text = {0};
    Reading r;
    for (int i = 1; i <= 4096; i++)
        text_add(&text, "%sc%d", i > 1 ? "," : "", i);
    text_add(&text, "\n");
    r = read_bytes(text.data, text.length, NULL);
    CU_ASSERT_EQUAL(r.notes.count, 0);
    ASSERT_HAS(text_of(&r.text), "c1|c2|c3|");
    ASSERT_HAS(text_of(&r.text), "|c4096\n");
    reading_free(&r);
    text_clear(&text);
    for (int i = 1; i <= 4097; i++)
        text_add(&text, "%sc%d", i > 1 ? "," : "", i);
    r = read_bytes(text.data, text.length, NULL);
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_PTR_NOT_NULL(test_note(&r.notes, "4096"));
    reading_free(&r);
    text_free(&text);
}

/* ---- table: blocks ---- */

/* Row `i` of a made-up file, as it stands there and as it is to be read. Some
 * have a line break, a doubled quotation mark or letters of several bytes.
 * Returns the lines it takes. */
static size_t make_row(Text *file, Text *wanted, size_t i, const char *end) {
    static const char dots[] = "....................................";
    int filler = (int)(i * 7 % 36);
    bool broken = i % 3 == 1;
    text_add(wanted, "%zu|%s\"\xC3\xA9%s%zu|%.*s\n", i, broken ? "x" : "",
             broken ? end : "", i * 31, filler, dots);
    text_add(file, "%zu,\"%s\"\"\xC3\xA9%s%zu\",%.*s%s", i, broken ? "x" : "",
             broken ? end : "", i * 31, filler, dots, end);
    return broken ? 2 : 1;
}

/* `pad` shifts the file against the blocks of 64 KiB. */
static void check_blocks(const char *name, const char *end, int pad) {
    Text file = {0}, wanted = {0};
    size_t line = 2;
    Reading r;
    text_add(&file, "n,%*stext,filler%s", pad, "", end);
    text_add(&wanted, "n|text|filler\n");
    for (size_t i = 0; i < 6000; i++) {
        text_add(&wanted, "%zu:", line);
        line += make_row(&file, &wanted, i, end);
    }
    CU_ASSERT(file.length > 3 * 65536);
    r = read_path(test_file_bytes(0, name, file.data, file.length));
    CU_ASSERT_EQUAL(r.text.length, wanted.length);
    CU_ASSERT(strcmp(text_of(&r.text), text_of(&wanted)) == 0);
    CU_ASSERT_EQUAL(r.notes.count, 0);
    reading_free(&r);
    text_free(&file);
    text_free(&wanted);
}

static void table_many_rows(void) {
    static const char *const ends[] = {"\n", "\r\n", "\r"};
    test_folder();
    for (size_t i = 0; i < COUNT(ends); i++)
        for (int pad = 0; pad < 3; pad++)
            check_blocks("rows.csv", ends[i], pad);
    test_folder_done();
}

/* A file in which `piece` begins `before` bytes ahead of the second block, in a
 * cell within quotation marks if it has such a mark. */
static void check_edge(const char *piece, const char *read, size_t before) {
    Text file = {0}, wanted = {0};
    Reading r;
    text_add(&file, "a,b\n1,2\n");
    text_add(&wanted, "a|b\n2:1|2\n3:%s", strchr(piece, '"') ? "" : "x");
    put_many(&wanted, "x", 65536 - 9 - before);
    text_add(&wanted, "%s\n", read);
    text_add(&file, "%s", strchr(piece, '"') ? "\"" : "x");
    put_many(&file, "x", 65536 - 9 - before);
    CU_ASSERT_EQUAL(file.length + before, 65536);
    text_add(&file, "%s", piece);
    r = read_bytes(file.data, file.length, NULL);
    check_row(r.notes.count == 0 &&
                  strcmp(text_of(&r.text), text_of(&wanted)) == 0,
              "at the edge of a block", read);
    reading_free(&r);
    text_free(&file);
    text_free(&wanted);
}

static void table_block_edges(void) {
    static const struct {
        const char *piece, *read;
    } rows[] = {
        {"\",7\r\n8,9\r\n", "|7\n4:8|9"},
        {"\",7\r\r\n8,9\r\n", "|7\n5:8|9"},
        {"\",7\r8,9\r", "|7\n4:8|9"},
        {"\",7\n8,9", "|7\n4:8|9"},
        {"\r\n\",7\n8,9\n", "\r\n|7\n5:8|9"},
        {"\r\",7\n8,9\n", "\r|7\n5:8|9"},
        {"\"\"y\",7\n8,9\n", "\"y|7\n4:8|9"},
        {"\xE6\x97\xA5\",7\n8,9\n", "\xE6\x97\xA5|7\n4:8|9"},
        {"\xF0\xA3\x8E\xB4\",7\r8,9\n", "\xF0\xA3\x8E\xB4|7\n4:8|9"},
        {"\",7\r", "|7"},
        {"\",7", "|7"},
        {",7\r\n8,9\r\n", "|7\n4:8|9"},
        {",7\r\r\n8,9\r\n", "|7\n5:8|9"},
        {",7\r8,9\r", "|7\n4:8|9"},
        {" , 7 \n\t8,9", "|7\n4:8|9"},
        {",\xE6\x97\xA5\n8,9\n", "|\xE6\x97\xA5\n4:8|9"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        for (size_t before = 0; before < 9; before++)
            check_edge(rows[i].piece, rows[i].read, before);
}

/* ---- table: beside libcsv ---- */

/* How a text is made. */
typedef struct {
    uint64_t *state;
    char delimiter;
    double quotes, trouble; /* how often: cells in quotation marks, no CSV */
} Hard;

static size_t below(const Hard *h, size_t count) {
    return (size_t)(next_random(h->state) * (double)count);
}

static const char *one_of(const Hard *h, const char *const *pieces) {
    size_t count = 0;
    while (pieces[count])
        count++;
    return pieces[below(h, count)];
}

static const char *const hard_ends[] = {
    "\n", "\n", "\r\n", "\r", "\n\n", "\r\r\n", "\n \n", "\r\n\t\r\n", NULL};

static void put_hard_cell(const Hard *h, Text *text) {
    static const char *const pieces[] = {
        "",         "7",        "5.5",    "word",
        " ",        "\t",       "  two ", ",",
        ";",        "\xC3\xA9", "''",     "\xE6\x97\xA5",
        "\xC2\xA0", "\x01",     "\x7F",   "\xF0\xA3\x8E\xB4",
        NULL};
    static const char *const quoted[] = {"",     "a",  " ",        ",",
                                         ";",    "\t", "\"\"",     "\n",
                                         "\r\n", "\r", "\xC3\xA9", NULL};
    static const char *const bad[] = {"\"", "x\"", "\xC3", "\xE9t\xE9", NULL};
    if (next_random(h->state) < h->trouble) {
        text_add(text, "%s", one_of(h, bad));
        if (below(h, 4) == 0)
            text_put(text, "", 1);
    } else if (next_random(h->state) < h->quotes) {
        text_add(text, "%s\"", below(h, 5) ? "" : " ");
        for (size_t i = below(h, 4); i > 0; i--)
            text_add(text, "%s", one_of(h, quoted));
        text_add(text, "\"%s", below(h, 5) ? "" : " \t ");
    } else {
        for (size_t i = below(h, 4); i > 0; i--)
            text_add(text, "%s", one_of(h, pieces));
    }
}

static void put_hard_rows(const Hard *h, Text *text, size_t rows,
                          size_t width) {
    for (size_t i = 0; i < rows; i++) {
        size_t cells = below(h, 8) ? width : 1 + below(h, width + 2);
        for (size_t k = 0; k < cells; k++) {
            if (k > 0)
                text_put(text, &h->delimiter, 1);
            put_hard_cell(h, text);
        }
        if (i + 1 < rows || below(h, 2))
            text_add(text, "%s", one_of(h, hard_ends));
    }
}

/* A cell that ends a few bytes before the end of the first block of
 * 64 KiB or of the second, so that all that follows lies across it. */
static void put_filler(const Hard *h, Text *text) {
    size_t blocks = 1 + below(h, 2);
    for (size_t i = 1; i <= blocks; i++) {
        put_many(text, "x", 65536 * i - text->length - 2 - below(h, 60));
        text_add(text, "%s", one_of(h, hard_ends));
    }
}

static bool same_as_libcsv(const char *bytes, size_t length, char delimiter) {
    Notes notes = {0};
    FILE *stream = fmemopen((void *)(uintptr_t)bytes, length, "rb");
    Table *table = table_open_stream(stream, "in.csv", NULL, &notes);
    const char *differs = NULL;
    if (table)
        differs = reference_compare(table, &notes, delimiter, 2, bytes + 6,
                                    length - 6);
    table_close(table);
    fclose(stream);
    notes_free(&notes);
    check_row(!differs, differs ? differs : "", bytes);
    return !differs;
}

/* Lines that are cut where they stand and lines that libcsv reads, in turn, and
 * at the edges of blocks: the same rows, cells and line numbers as libcsv's. */
static void table_beside_libcsv(void) {
    static const double often[] = {0, 0, .02, .5};
    const char *quick = getenv("PEAKWARD_QUICK");
    uint64_t state = 99;
    bool same = true;
    for (size_t i = quick && *quick ? 4000 : 0; i < 5000 && same; i++) {
        Hard h = {&state, ",;\t"[i % 3], 0, 0};
        Text text = {0};
        size_t width;
        h.quotes = often[below(&h, COUNT(often))];
        h.trouble = below(&h, 4) ? 0 : .02;
        text_add(&text, "sep=%c\n", h.delimiter);
        width = 1 + below(&h, 5);
        put_hard_rows(&h, &text, 1, width);
        text_add(&text, "\n");
        if (i % 16 == 0)
            put_filler(&h, &text);
        put_hard_rows(&h, &text, below(&h, 40), width);
        same = same_as_libcsv(text.data, text.length, h.delimiter);
        text_free(&text);
    }
}

/* ---- table: headings and maps ---- */

static void table_columns(void) {
    char text[] = "Date, Load ,\"two\nlines\",,note\n1,2,3,4,5\n";
    FILE *stream = fmemopen(text, sizeof text - 1, "rb");
    Notes notes = {0};
    Table *table = table_open_stream(stream, "in.csv", NULL, &notes);
    CU_ASSERT_PTR_NOT_NULL_FATAL(table);
    CU_ASSERT_EQUAL(table_width(table), 5);
    CU_ASSERT_EQUAL(table_column(table, "date"), 0);
    CU_ASSERT_EQUAL(table_column(table, "LOAD"), 1);
    CU_ASSERT_EQUAL(table_column(table, "two\nlines"), 2);
    CU_ASSERT_EQUAL(table_column(table, "note"), 4);
    CU_ASSERT_EQUAL(table_column(table, "not"), -1);
    ASSERT_TEXT(table_heading(table, 0), "Date");
    ASSERT_TEXT(table_heading_raw(table, 1), "Load");
    ASSERT_TEXT(table_name(table), "in.csv");
    table_close(table);
    table_close(NULL);
    fclose(stream);
    notes_free(&notes);
}

/* Notes after a header of several lines name the right line. */
static void table_header_lines(void) {
    static const Trouble rows[] = {
        {{BYTES("\"a\r\nb\",c\r\n1\r\n"), "a\r\nb|c\n"}, 3, "1 cell"},
        {{BYTES("\n\"a\nb\",\"a\nb\"\n"), ""}, 2, "twice"},
    };
    check_troubles(rows, COUNT(rows));
}

static void maps_parse(void) {
    static const struct {
        const char *text, *ours, *theirs; /* of the last pair */
        size_t count;
    } rows[] = {
        {"date=Datum", "date", "Datum", 1},
        {"date=Datum,load=Belastung", "load", "Belastung", 2},
        {"load=Load\\, total", "load", "Load, total", 1},
        {"load=a\\\\b", "load", "a\\b", 1},
        {"load=a=b", "load", "a=b", 1},
        {"load=Trainings\xC3\xA4quivalent", "load",
         "Trainings\xC3\xA4quivalent", 1},
        {"ignore=x,ignore=y,date=z", "date", "z", 3},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        TableMaps maps = {0};
        CU_ASSERT(table_maps_add(&maps, rows[i].text));
        CU_ASSERT_EQUAL_FATAL(maps.count, rows[i].count);
        ASSERT_TEXT(maps.items[maps.count - 1].ours, rows[i].ours);
        ASSERT_TEXT(maps.items[maps.count - 1].theirs, rows[i].theirs);
        CU_ASSERT_FALSE(maps.items[maps.count - 1].used);
        table_maps_free(&maps);
        CU_ASSERT_EQUAL(maps.count, 0);
    }
}

static void maps_malformed(void) {
    static const char *const rows[] = {
        "",         "date",  "=",      "=Datum", "date=",    "a=b,", ",a=b",
        "a=b,,c=d", "a=b,c", "a=b,=d", "a=b,c=", "load,a=b", "a\\=b"};
    for (size_t i = 0; i < COUNT(rows); i++) {
        TableMaps maps = {0};
        check_row(!table_maps_add(&maps, rows[i]), "malformed", rows[i]);
        table_maps_free(&maps);
    }
}

typedef struct {
    const char *map;
    Sample sample;
    const char *used; /* for each pair: y or n */
} MapRow;

static void check_map(const MapRow *row) {
    TableMaps maps = {0};
    Reading r;
    CU_ASSERT_FATAL(table_maps_add(&maps, row->map));
    r = read_bytes(row->sample.bytes, row->sample.length, &maps);
    ASSERT_TEXT(text_of(&r.text), row->sample.wanted);
    check_row(r.notes.count == 0, "no note", row->map);
    CU_ASSERT_EQUAL(maps.count, strlen(row->used));
    for (size_t i = 0; i < maps.count; i++)
        CU_ASSERT_EQUAL(maps.items[i].used, row->used[i] == 'y');
    reading_free(&r);
    table_maps_free(&maps);
}

static void table_maps(void) {
    static const MapRow rows[] = {
        {"date=Datum,load=Belastung",
         {BYTES("Datum;Belastung\n1;2\n"), "date|load\n2:1|2\n"},
         "yy"},
        {"date=DATUM,load=score",
         {BYTES("datum,load\n1,2\n"), "date|load\n2:1|2\n"},
         "yn"},
        {"load=Load\\, total",
         {BYTES("date,\"load, TOTAL\"\n1,2\n"), "date|load\n2:1|2\n"},
         "y"},
        {"load=two\nlines",
         {BYTES("date,\"two\nlines\"\n1,2\n"), "date|load\n3:1|2\n"},
         "y"},
        {"ignore=note,ignore=spare",
         {BYTES("date,note,Spare\n1,2,3\n"), "date|ignore|ignore\n2:1|2|3\n"},
         "yy"},
        /* the mapped column takes over from the file's own */
        {"load=effort",
         {BYTES("date,load,effort\n1,2,3\n"), "date|ignore|load\n2:1|2|3\n"},
         "y"},
        {"load=effort",
         {BYTES("effort,LOAD,date\n1,2,3\n"), "load|ignore|date\n2:1|2|3\n"},
         "y"},
        /* two columns change places */
        {"a=b,b=a", {BYTES("a,b\n1,2\n"), "b|a\n2:1|2\n"}, "yy"},
        {"load=nothing",
         {BYTES("date,load\n1,2\n"), "date|load\n2:1|2\n"},
         "n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_map(&rows[i]);
}

/* Two columns of a file for one of ours is not for us to settle. */
static void table_maps_twice(void) {
    static const char text[] = "kilo,pound,date\n1,2,3\n";
    TableMaps maps = {0};
    Reading r;
    CU_ASSERT_FATAL(table_maps_add(&maps, "load=kilo,load=pound"));
    r = read_bytes(text, sizeof text - 1, &maps);
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_PTR_NOT_NULL(test_note(&r.notes, "twice"));
    CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_DATA);
    reading_free(&r);
    table_maps_free(&maps);
}

/* The raw heading stays what the file says. */
static void table_maps_raw(void) {
    char text[] = "Datum,b\n1,2\n";
    FILE *stream = fmemopen(text, sizeof text - 1, "rb");
    TableMaps maps = {0};
    Notes notes = {0};
    Table *table;
    CU_ASSERT_FATAL(table_maps_add(&maps, "date=datum"));
    table = table_open_stream(stream, "in.csv", &maps, &notes);
    CU_ASSERT_PTR_NOT_NULL_FATAL(table);
    ASSERT_TEXT(table_heading(table, 0), "date");
    ASSERT_TEXT(table_heading_raw(table, 0), "Datum");
    CU_ASSERT_EQUAL(table_column(table, "Datum"), -1);
    table_close(table);
    fclose(stream);
    notes_free(&notes);
    table_maps_free(&maps);
}

static const TestCase cases[] = {
    {"table_csv_spectrum", table_csv_spectrum},
    {"table_beside_libcsv", table_beside_libcsv},
    {"table_line_ends", table_line_ends},
    {"table_quoted_breaks", table_quoted_breaks},
    {"table_marks", table_marks},
    {"table_delimiters", table_delimiters},
    {"table_blanks", table_blanks},
    {"table_blank_rows_first", table_blank_rows_first},
    {"table_ragged", table_ragged},
    {"table_quotes", table_quotes},
    {"table_utf16", table_utf16},
    {"table_bad_bytes", table_bad_bytes},
    {"table_empty", table_empty},
    {"table_heading_twice", table_heading_twice},
    {"table_cannot_read", table_cannot_read},
    {"table_named_pipe", table_named_pipe},
    {"table_long_cell", table_long_cell},
    {"table_long_cell_shown", table_long_cell_shown},
    {"table_long_heading", table_long_heading},
    {"table_long_rows", table_long_rows},
    {"table_long_line_not_latin", table_long_line_not_latin},
    {"table_widest", table_widest},
    {"table_many_rows", table_many_rows},
    {"table_block_edges", table_block_edges},
    {"table_columns", table_columns},
    {"table_header_lines", table_header_lines},
    {"maps_parse", maps_parse},
    {"maps_malformed", maps_malformed},
    {"table_maps", table_maps},
    {"table_maps_twice", table_maps_twice},
    {"table_maps_raw", table_maps_raw},
    {NULL, NULL}};

const TestSuite suite_base_table = {"base", cases};
