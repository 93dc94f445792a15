/* book: see book.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/book.h"

#include "base/mem.h"
#include "base/number.h"

#include <stdlib.h>
#include <zip.h>

#define XML "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n"
#define OPEN_XML "http://schemas.openxmlformats.org/"
#define MAIN OPEN_XML "spreadsheetml/2006/main"
#define RELATIONS OPEN_XML "package/2006/relationships"
#define OFFICE OPEN_XML "officeDocument/2006/relationships"

static const char *instead(char c) {
    return c == '&'    ? "&amp;"
           : c == '<'  ? "&lt;"
           : c == '>'  ? "&gt;"
           : c == '"'  ? "&quot;"
           : c == '\r' ? "&#13;"
                       : NULL;
}

/* ---- cells ---- */

static void add_column(Text *xml, size_t column) {
    char name[8];
    size_t at = sizeof name;
    name[--at] = '\0';
    for (size_t n = column + 1; n; n = (n - 1) / 26)
        name[--at] = (char)('A' + (n - 1) % 26);
    text_add(xml, "%s", name + at);
}

static Text *next_cell(Book *b) {
    Text *xml = &b->sheets[b->count - 1].xml;
    if (b->column == b->width) {
        text_add(xml, b->row ? "</row><row r=\"%zu\">" : "<row r=\"%zu\">",
                 b->row + 1);
        b->row++;
        b->column = 0;
    }
    b->column++;
    return xml;
}

static Text *begin_cell(Book *b, BookLook look) {
    Text *xml = next_cell(b);
    text_add(xml, "<c r=\"");
    add_column(xml, b->column - 1);
    text_add(xml, "%zu\" s=\"%d\"", b->row, (int)look);
    return xml;
}

void book_blank(Book *b) {
    next_cell(b);
}

void book_text(Book *b, const char *text, BookLook look) {
    Text *xml = begin_cell(b, look);
    text_add(xml, " t=\"inlineStr\"><is><t xml:space=\"preserve\">");
    text_escape(xml, text, instead);
    text_add(xml, "</t></is></c>");
}

void book_number(Book *b, double number, BookLook look) {
    char figures[NUMBER_TEXT];
    Text *xml = begin_cell(b, look);
    text_add(xml, "><v>%s</v></c>", number_write(figures, number));
}

/* Day 61 of a sheet is 1 March 1900; before, it counts a 29 February that was
 * none. */
void book_date(Book *b, Date date) {
    book_number(b, date - date_of((Civil){1900, 3, 1}) + 61, BOOK_DATE);
}

/* ---- sheets ---- */

void book_sheet(Book *b, const char *name, const BookColumn *columns,
                size_t width) {
    Text *xml;
    b->sheets = mem_grow(b->sheets, &b->room, b->count + 1, sizeof *b->sheets);
    b->sheets[b->count++] = (BookSheet){.name = mem_copy(name)};
    xml = &b->sheets[b->count - 1].xml;
    b->width = b->column = width;
    b->row = 0;
    text_add(xml,
             XML "<worksheet xmlns=\"" MAIN "\"><sheetPr>"
                 "<pageSetUpPr fitToPage=\"1\"/></sheetPr><sheetViews>"
                 "<sheetView workbookViewId=\"0\"%s><pane ySplit=\"1\" "
                 "topLeftCell=\"A2\" activePane=\"bottomLeft\" "
                 "state=\"frozen\"/></sheetView></sheetViews><cols>",
             b->count == 1 ? " tabSelected=\"1\"" : "");
    for (size_t i = 0; i < width; i++)
        text_add(xml,
                 "<col min=\"%zu\" max=\"%zu\" width=\"%g\" style=\"%d\" "
                 "customWidth=\"1\"/>",
                 i + 1, i + 1, columns[i].width, (int)columns[i].look);
    text_add(xml, "</cols><sheetData>");
}

void book_sheet_end(Book *b) {
    Text *xml = &b->sheets[b->count - 1].xml;
    Text last = {0};
    add_column(&last, b->width - 1);
    text_add(xml,
             "</row></sheetData><autoFilter ref=\"A1:%s%zu\"/><pageSetup "
             "paperSize=\"9\" orientation=\"landscape\" fitToHeight=\"0\"/>"
             "</worksheet>",
             text_of(&last), b->row);
    text_free(&last);
}

/* ---- the other parts ---- */

static void put_types(const Book *b, Text *xml) {
    static const char *const head =
        "application/vnd.openxmlformats-officedocument.spreadsheetml.";
    text_add(xml, XML "<Types xmlns=\"" OPEN_XML "package/2006/content-types\">"
                      "<Default Extension=\"rels\" ContentType=\"application/"
                      "vnd.openxmlformats-package.relationships+xml\"/>"
                      "<Override PartName=\"/docProps/core.xml\" ContentType="
                      "\"application/vnd.openxmlformats-package."
                      "core-properties+xml\"/>");
    text_add(xml,
             "<Override PartName=\"/xl/workbook.xml\" "
             "ContentType=\"%ssheet.main+xml\"/><Override "
             "PartName=\"/xl/styles.xml\" ContentType=\"%sstyles+xml\"/>",
             head, head);
    for (size_t i = 1; i <= b->count; i++)
        text_add(xml,
                 "<Override PartName=\"/xl/worksheets/sheet%zu.xml\" "
                 "ContentType=\"%sworksheet+xml\"/>",
                 i, head);
    text_add(xml, "</Types>");
}

static void put_relations(Text *xml) {
    text_add(xml, XML "<Relationships xmlns=\"" RELATIONS "\">"
                      "<Relationship Id=\"rId1\" Type=\"" OFFICE
                      "/officeDocument\" Target=\"xl/workbook.xml\"/>"
                      "<Relationship Id=\"rId2\" Type=\"" RELATIONS
                      "/metadata/core-properties\" "
                      "Target=\"docProps/core.xml\"/></Relationships>");
}

static void put_core(time_t made, Text *xml) {
    char stamp[32] = "";
    struct tm utc;
    if (gmtime_r(&made, &utc))
        strftime(stamp, sizeof stamp, "%Y-%m-%dT%H:%M:%SZ", &utc);
    text_add(xml,
             XML "<cp:coreProperties xmlns:cp=\"" OPEN_XML
                 "package/2006/metadata/core-properties\" "
                 "xmlns:dcterms=\"http://purl.org/dc/terms/\" xmlns:xsi=\""
                 "http://www.w3.org/2001/XMLSchema-instance\">"
                 "<dcterms:created xsi:type=\"dcterms:W3CDTF\">%s"
                 "</dcterms:created></cp:coreProperties>",
             stamp);
}

static void put_book(const Book *b, Text *xml) {
    text_add(xml, XML "<workbook xmlns=\"" MAIN "\" xmlns:r=\"" OFFICE
                      "\"><sheets>");
    for (size_t i = 0; i < b->count; i++) {
        text_add(xml, "<sheet name=\"");
        text_escape(xml, b->sheets[i].name, instead);
        text_add(xml, "\" sheetId=\"%zu\" r:id=\"rId%zu\"/>", i + 1, i + 1);
    }
    text_add(xml, "</sheets><definedNames>");
    for (size_t i = 0; i < b->count; i++) {
        text_add(xml,
                 "<definedName name=\"_xlnm.Print_Titles\" "
                 "localSheetId=\"%zu\">'",
                 i);
        text_escape(xml, b->sheets[i].name, instead);
        text_add(xml, "'!$1:$1</definedName>");
    }
    text_add(xml, "</definedNames></workbook>");
}

static void put_book_relations(const Book *b, Text *xml) {
    text_add(xml, XML "<Relationships xmlns=\"" RELATIONS "\">");
    for (size_t i = 1; i <= b->count; i++)
        text_add(xml,
                 "<Relationship Id=\"rId%zu\" Type=\"" OFFICE "/worksheet\" "
                 "Target=\"worksheets/sheet%zu.xml\"/>",
                 i, i);
    text_add(xml,
             "<Relationship Id=\"rId%zu\" Type=\"" OFFICE "/styles\" "
             "Target=\"styles.xml\"/></Relationships>",
             b->count + 1);
}

/* In the order of BookLook; 49 is text, 1 whole, 9 per cent in all programs
 * (ECMA-376, part 1, 18.8.30), those from 164 are ours. */
static void put_styles(Text *xml) {
    enum { OURS = 164 };
    static const int formats[] = {0, 0, 49, OURS, 9, 1};
    text_add(xml, XML "<styleSheet xmlns=\"" MAIN "\"><numFmts count=\"%d\">",
             1 + BOOK_PLACES);
    text_add(xml, "<numFmt numFmtId=\"%d\" formatCode=\"yyyy\\-mm\\-dd\"/>",
             OURS);
    for (int i = 1; i <= BOOK_PLACES; i++)
        text_add(xml, "<numFmt numFmtId=\"%d\" formatCode=\"0.%0*d\"/>",
                 OURS + i, i, 0);
    text_add(xml, "</numFmts><fonts count=\"2\"><font><sz val=\"11\"/><name "
                  "val=\"Calibri\"/></font><font><b/><sz val=\"11\"/><name "
                  "val=\"Calibri\"/></font></fonts><fills count=\"2\"><fill>"
                  "<patternFill patternType=\"none\"/></fill><fill>"
                  "<patternFill patternType=\"gray125\"/></fill></fills>"
                  "<borders count=\"1\"><border><left/><right/><top/><bottom/>"
                  "<diagonal/></border></borders><cellStyleXfs count=\"1\">"
                  "<xf/></cellStyleXfs>");
    text_add(xml, "<cellXfs count=\"%d\">", BOOK_NUMBER + 1 + BOOK_PLACES);
    for (int i = 0; i <= BOOK_NUMBER + BOOK_PLACES; i++)
        text_add(xml,
                 "<xf numFmtId=\"%d\" fontId=\"%d\" applyNumberFormat=\"1\" "
                 "applyFont=\"1\"/>",
                 i <= BOOK_NUMBER ? formats[i] : OURS + i - BOOK_NUMBER,
                 i == BOOK_HEAD);
    text_add(xml, "</cellXfs><cellStyles count=\"1\"><cellStyle "
                  "name=\"Normal\" xfId=\"0\" builtinId=\"0\"/></cellStyles>"
                  "</styleSheet>");
}

/* ---- the archive ---- */

static StatusCode refuse(zip_error_t *error, Status *status) {
    if (zip_error_code_zip(error) == ZIP_ER_MEMORY)
        mem_out();
    return status_fail(status, STATUS_SYSTEM, "a workbook cannot be packed: %s",
                       zip_error_strerror(error));
}

/* The part's bytes must stay until the archive is closed. */
static void add_part(zip_t *zip, const char *name, const Text *xml) {
    enum { FIRST_OF_1980 = 1 << 5 | 1 }; /* of January, as archives count */
    zip_source_t *source = zip_source_buffer(zip, xml->data, xml->length, 0);
    zip_int64_t at =
        source ? zip_file_add(zip, name, source, ZIP_FL_ENC_UTF_8) : -1;
    if (at < 0 ||
        zip_file_set_dostime(zip, (zip_uint64_t)at, 0, FIRST_OF_1980, 0) != 0)
        mem_out();
}

enum { PARTS = 6 };

static void add_parts(zip_t *zip, const Book *b, const Text part[PARTS]) {
    static const char *const names[PARTS] = {
        "[Content_Types].xml", "_rels/.rels",   "docProps/core.xml",
        "xl/workbook.xml",     "xl/styles.xml", "xl/_rels/workbook.xml.rels"};
    for (int i = 0; i < PARTS; i++)
        add_part(zip, names[i], &part[i]);
    for (size_t i = 0; i < b->count; i++) {
        Text name = {0};
        text_add(&name, "xl/worksheets/sheet%zu.xml", i + 1);
        add_part(zip, text_of(&name), &b->sheets[i].xml);
        text_free(&name);
    }
}

static StatusCode copy_out(zip_source_t *from, FILE *to, Status *status) {
    char block[1 << 16];
    zip_int64_t bytes = 0;
    if (zip_source_open(from) != 0)
        return refuse(zip_source_error(from), status);
    while ((bytes = zip_source_read(from, block, sizeof block)) > 0)
        fwrite(block, 1, (size_t)bytes, to);
    if (bytes < 0)
        refuse(zip_source_error(from), status);
    zip_source_close(from);
    return status->code;
}

StatusCode book_write(Book *b, time_t made, FILE *to, Status *status) {
    zip_error_t error;
    zip_source_t *packed = zip_source_buffer_create(NULL, 0, 0, &error);
    zip_t *zip =
        packed ? zip_open_from_source(packed, ZIP_TRUNCATE, &error) : NULL;
    Text part[PARTS] = {{0}};
    if (!zip)
        mem_out();
    zip_source_keep(packed);
    put_types(b, &part[0]);
    put_relations(&part[1]);
    put_core(made, &part[2]);
    put_book(b, &part[3]);
    put_styles(&part[4]);
    put_book_relations(b, &part[5]);
    add_parts(zip, b, part);
    if (zip_close(zip) == 0)
        copy_out(packed, to, status);
    else {
        refuse(zip_get_error(zip), status);
        zip_discard(zip);
    }
    zip_source_free(packed);
    for (int i = 0; i < PARTS; i++)
        text_free(&part[i]);
    return status->code;
}

void book_free(Book *b) {
    for (size_t i = 0; i < b->count; i++) {
        free(b->sheets[i].name);
        text_free(&b->sheets[i].xml);
    }
    free(b->sheets);
    *b = (Book){0};
}
