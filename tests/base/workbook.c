/* workbook: sheets written by openpyxl, an independent program, and archives
 * made by Python's zipfile that are no workbooks.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/table.h"
#include "base/text.h"
#include "base/workbook.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Writes workbooks into the folder of its argument. */
static const char write_script[] =
    "import datetime as d, sys, zipfile, openpyxl\n"
    "f = sys.argv[1] + '/'\n"
    "b = openpyxl.Workbook()\n"
    "s = b.active\n"
    "s.title = 'Log'\n"
    "s.append(['date', 'time', 'load', 'note'])\n"
    "s.append([d.date(2026, 1, 5), d.time(17, 30), 330.5, 'a, \"b\"'])\n"
    "s.append([])\n"
    "s.append([d.datetime(2024, 2, 29), d.time(6, 5), 1e-7, 'x\\ny'])\n"
    "s.append([None, None, True, '\\u017b 1'])\n"
    "t = b.create_sheet('Second')\n"
    "t.append(['a']); t.append([7])\n"
    "b.save(f + 'good.xlsx')\n"
    "s.merge_cells('A1:B1'); b.save(f + 'merged.xlsx')\n"
    "b = openpyxl.Workbook(); b.active.append(['a']);\n"
    "b.active.append(['=1+1']); b.save(f + 'formula.xlsx')\n"
    "b = openpyxl.Workbook(); b.epoch = openpyxl.utils.datetime.CALENDAR_MAC_"
    "1904\n"
    "b.active.append(['date']); b.active.append([d.date(2026, 1, 5)])\n"
    "b.save(f + 'mac.xlsx')\n"
    "open(f + 'old.xlsx', 'wb').write(bytes.fromhex('D0CF11E0A1B11AE1') * 99)\n"
    "open(f + 'text.xlsx', 'w').write('date,load\\n')\n"
    "z = zipfile.ZipFile(f + 'other.xlsx', 'w'); z.writestr('a', 'b'); "
    "z.close()\n"
    "old = zipfile.ZipFile(f + 'good.xlsx')\n"
    "def change(name, part, how):\n"
    "    z = zipfile.ZipFile(f + name, 'w', zipfile.ZIP_DEFLATED)\n"
    "    for n in old.namelist():\n"
    "        if n != part: z.writestr(n, old.read(n))\n"
    "    with z.open(part, 'w', force_zip64=True) as to: how(to)\n"
    "    z.close()\n"
    "sheet = 'xl/worksheets/sheet1.xml'\n"
    "def bomb(to):\n"
    "    to.write(b'<worksheet><sheetData>')\n"
    "    for i in range(300): to.write(b' ' * (1 << 20))\n"
    "change('bomb.xlsx', sheet, bomb)\n"
    "change('entity.xlsx', sheet, lambda to: to.write(\n"
    "    b'<!DOCTYPE w [<!ENTITY e \"x\">]><w>&e;</w>'))\n"
    "change('cut.xlsx', sheet, lambda to: to.write(old.read(sheet)[:300]))\n"
    "strings = 'xl/sharedStrings.xml'\n"
    "ns = "
    "'xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"'\n"
    "z = zipfile.ZipFile(f + 'shared.xlsx', 'w')\n"
    "for n in old.namelist():\n"
    "    if n not in (sheet, strings): z.writestr(n, old.read(n))\n"
    "z.writestr(strings, f'<sst {ns}><si><t>name</t></si><si><t/></si>'\n"
    "    '<si><r><rPr><b/></rPr><t>two</t></r><r><t> runs</t></r></si>'\n"
    "    '<si><t>\\u6771</t><rPh sb=\"0\" "
    "eb=\"1\"><t>x</t></rPh></si><si><t>b</t></si></sst>')\n"
    "rows = [[0, 4], [2, 3], [3]]\n"
    "z.writestr(sheet, f'<worksheet {ns}><sheetData><row r=\"1\"><c r=\"A1\" "
    "s=\"0\"/></row>' + ''.join(\n"
    "    f'<row r=\"{i + 2}\">' + ''.join(\n"
    "        f'<c r=\"{\"AB\"[k]}{i + 2}\" t=\"s\"><v>{v}</v></c>'\n"
    "        for k, v in enumerate(row)) + '</row>'\n"
    "    for i, row in enumerate(rows)) + '</sheetData></worksheet>')\n"
    "z.close()\n";

/* A row a line, "LINE:cell|cell". */
static void read_sheet(const char *path, Text *text, Notes *notes) {
    Table *table = table_open(path, NULL, notes);
    TableRow row;
    text_clear(text);
    while (table && table_next(table, &row)) {
        text_add(text, "%zu:", row.line);
        for (size_t i = 0; i < row.count; i++)
            text_add(text, "%s%s", i ? "|" : "", row.cells[i]);
        text_add(text, "\n");
    }
    table_close(table);
}

static const char *write_all(void) {
    const char *folder = test_folder();
    free(test_python(write_script, (const char *[]){folder, NULL}));
    return folder;
}

static void check_sheet(const char *folder, const char *name,
                        const char *wanted) {
    Text path = {0}, text = {0};
    Notes notes = {0};
    text_add(&path, "%s/%s", folder, name);
    read_sheet(text_of(&path), &text, &notes);
    ASSERT_TEXT(text_of(&text), wanted);
    CU_ASSERT_EQUAL(notes.count, 0);
    notes_free(&notes);
    text_free(&path);
    text_free(&text);
}

static void workbook_values(void) {
    static const char log[] = "2:2026-01-05|17:30|330.5|a, \"b\"\n"
                              "4:2024-02-29|06:05|1e-07|x y\n"
                              "5:||TRUE|\xC5\xBB 1\n";
    const char *folder = write_all();
    check_sheet(folder, "good.xlsx", log);
    check_sheet(folder, "good.xlsx#log", log);
    check_sheet(folder, "good.xlsx#Second", "2:7\n");
    check_sheet(folder, "mac.xlsx", "2:2026-01-05\n");
    test_folder_done();
}

/* Texts that cells share, as spreadsheet programs write them (openpyxl leaves
 * each in its cell): ECMA-376-1, 18.4: in runs of their own fonts, and with how
 * they are read aloud beside them, which is no part of the text. Above them
 * stands a row that has a format and no values, and is narrower than the
 * heading, which says how many cells a row has. */
static void workbook_shared(void) {
    check_sheet(write_all(), "shared.xlsx",
                "3:two runs|\xE6\x9D\xB1\n4:\xE6\x9D\xB1|\n");
    test_folder_done();
}

static void workbook_refused(void) {
    static const struct {
        const char *name;
        size_t line;
        const char *part;
    } rows[] = {
        {"good.xlsx#Third", 0, "has no sheet 'Third', expected 'Log', 'Second"},
        {"merged.xlsx", 1, "merged cells 'A1:B1', expected one row"},
        {"formula.xlsx", 2, "cell A2 has a formula without a stored value"},
        {"old.xlsx", 0, "is an old .xls file or has a password"},
        {"text.xlsx", 0, "is no .xlsx file"},
        {"other.xlsx", 0, "is no workbook"},
        {"bomb.xlsx", 0, "unpacks to more than 256 MB"},
        {"entity.xlsx", 0, "a part that is no proper XML"},
        {"cut.xlsx", 0, "a part that is no proper XML"},
        {"none.xlsx", 0, "cannot be opened"},
    };
    const char *folder = write_all();
    for (size_t i = 0; i < COUNT(rows); i++) {
        Text path = {0}, text = {0};
        Notes notes = {0};
        text_add(&path, "%s/%s", folder, rows[i].name);
        read_sheet(text_of(&path), &text, &notes);
        check_row(notes.errors == 1 && notes.count == 1, "one error",
                  rows[i].name);
        check_row(text.length == 0, "no rows", rows[i].name);
        if (notes.count) {
            CU_ASSERT_EQUAL(notes.items[0].line, rows[i].line);
            ASSERT_HAS(notes.items[0].text, rows[i].part);
        }
        notes_free(&notes);
        text_free(&path);
        text_free(&text);
    }
    test_folder_done();
}

static const TestCase cases[] = {{"workbook_values", workbook_values},
                                 {"workbook_shared", workbook_shared},
                                 {"workbook_refused", workbook_refused},
                                 {NULL, NULL}};

const TestSuite suite_base_workbook = {"base", cases};
