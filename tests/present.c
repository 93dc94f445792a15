/* present: tables, CSV, pictures.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"
#include "present/calendar.h"
#include "present/grid.h"
#include "present/page.h"
#include "present/pictures.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- tables ---- */

/* What a function prints into a stream, to be freed. */
static char *printed(void (*print)(FILE *)) {
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    print(to);
    fclose(to);
    return text;
}

static void print_grid(FILE *to) {
    static const GridColumn columns[] = {
        {"who", false}, {"two\nlines", true}, {"what", false}};
    Grid grid;
    grid_start(&grid, columns, 3);
    grid_cell(&grid, "wing-07");
    grid_cell(&grid, "%d", 5);
    grid_cell(&grid, "a\nb");
    grid_cell(&grid, "\xC5\x81"
                     "ada"); /* two bytes, one column */
    grid_cell(&grid, "%d", 12345);
    grid_cell(&grid, "end");
    grid_print(&grid, to, 20);
    grid_free(&grid);
}

static void grid_aligns(void) {
    char *text = printed(print_grid);
    ASSERT_TEXT(text, "           two\n"
                      "who      lines  what\n"
                      "wing-07      5  a b\n"
                      "\xC5\x81"
                      "ada     12345  end\n");
    free(text);
}

static void print_narrow(FILE *to) {
    /* e with an acute accent: two bytes, one column */
    static const GridColumn columns[] = {
        {"\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9", false}, {"n", true}};
    Grid grid;
    grid_start(&grid, columns, 2);
    grid_cell(&grid, "a");
    grid_cell(&grid, "%d", 1);
    grid_print(&grid, to, 3);
    grid_free(&grid);
}

/* A title too wide is cut between characters, and counts in columns. */
static void grid_cuts_titles(void) {
    char *text = printed(print_narrow);
    ASSERT_TEXT(text, "\xC3\xA9\xC3\xA9\xC3\xA9  n\na    1\n");
    free(text);
}

static void print_odd(FILE *to) {
    static const GridColumn columns[] = {{"a\x1B[1m\nb\r", false},
                                         {"\xC2\x9B", false}};
    Grid grid;
    Csv csv;
    grid_start(&grid, columns, 2);
    grid_cell(&grid, "c\x07%s", "d\n");
    grid_cell(&grid, "%s", "");
    grid_print(&grid, to, 20);
    grid_free(&grid);
    print_shown(to, "e\x1B\tf\n");
    print_shown_line(to, "g\xFF");
    print_lines(to, "h\x1B\ni\r\n\nj");
    print_wrapped(to, "k\x1B l\rm\xE2\x80\xAEn", 7, 2);
    csv_begin(&csv, to);
    csv_text(&csv, "o\x1B\xE2\x80\xAE");
    csv_text(&csv, "p\r\nq\x7F");
    csv_end(&csv);
}

/* What a terminal would obey, or what is cut inside a character. */
static void nothing_is_obeyed(void) {
    char *text = printed(print_odd);
    ASSERT_TEXT(text, "a\\x1B[1m\nb         \\xC2\\x9B\nc\\x07d\n"
                      "e\\x1B f g\\xFF\n"
                      "h\\x1B\ni \n\nj\n"
                      "k\\x1B l\n  mn\n"
                      "o\\x1B\xE2\x80\xAE,\"p\r\nq\\x7F\"\n");
    free(text);
}

static void print_csv(FILE *to) {
    static const char *const cells[] = {
        "plain", "a,b",   "say \"so\"", "two\nlines", "=1+1",         "+49",
        "-x",    "@home", "\ttab",      " blank",     "\xE2\x98\x83", "x;=1"};
    Csv csv;
    csv_begin(&csv, to);
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
        csv_text(&csv, cells[i]);
    csv_number(&csv, -2.385);
    csv_number(&csv, NAN);
    csv_number(&csv, INFINITY);
    csv_number(&csv, 1.0 / 3);
    csv_whole(&csv, -7);
    csv_end(&csv);
}

/* RFC 4180 quoting; formulas of spreadsheets defused, numbers not. */
static void csv_is_safe(void) {
    char *text = printed(print_csv);
    ASSERT_TEXT(
        text, "plain,\"a,b\",\"say \"\"so\"\"\",\"two\nlines\","
              "\"'=1+1\",\"'+49\",\"'-x\",\"'@home\",\"'\ttab\","
              "\" blank\",\xE2\x98\x83,\"x;=1\",-2.385,,,0.333333333333,-7\n");
    free(text);
}

static void print_words(FILE *to) {
    print_wrapped(to, "one two three four", 9, 2);
}

static void words_wrap(void) {
    char *text = printed(print_words);
    ASSERT_TEXT(text, "one two\n  three\n  four\n");
    free(text);
}

static void print_percents(FILE *to) {
    print_wrapped(to, "nearly all 5 % of it (1-20 %), a % alone", 12, 2);
}

/* A number and its per cent sign stay together; a sign alone is a word. */
static void percents_stay(void) {
    char *text = printed(print_percents);
    ASSERT_TEXT(text, "nearly all\n  5 % of it\n  (1-20 %),\n  a % alone\n");
    free(text);
}

static void print_long_word(FILE *to) {
    print_wrapped(to, "of abcdefghijkl\xC3\xA9\xC3\xA9 x", 8, 2);
}

/* No word is wider than a line. */
static void long_words_break(void) {
    char *text = printed(print_long_word);
    ASSERT_TEXT(text, "of\n  abcdef\n  ghijkl\n  \xC3\xA9\xC3\xA9 x\n");
    free(text);
}

static void file_names(void) {
    static const struct {
        const char *text, *name;
    } rows[] = {{"wing-07", "wing-07"}, {"../../x", "_._.._x"},
                {"a b", "a_b"},         {"/etc/passwd", "_etc_passwd"},
                {".hidden", "_hidden"}, {"\xC3\xA9", "_"},
                {"`rm`", "_rm_"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Text name = {0};
        plot_file_name(&name, rows[i].text);
        CU_ASSERT_PTR_NULL(strchr(text_of(&name), '/'));
        CU_ASSERT(text_of(&name)[0] != '.');
        ASSERT_TEXT(text_of(&name), rows[i].name);
        text_free(&name);
    }
}

/* ---- pictures ---- */

static const char *const hostile =
    "a`touch HERE`b $(touch HERE) 'q' \"d\" @_^{x} \\n %s\n"
    "END_OF_ROWS\nsystem('touch HERE')\n<b>&amp; \xE2\x98\x83 \xD7\xA9";

static Gallery gallery(const char *folder, PictureFormat format) {
    return (Gallery){folder, "plots", format};
}

static StatusCode draw_season(const char *words, const Gallery *g,
                              const char *name, Status *status) {
    static const double load[] = {300, 0, 450, 240, 0};
    static const double fitness[] = {10, 12, 11, 14, 15};
    static const double fatigue[] = {8, 9, 7, 9, 6};
    static const double readiness[] = {2, 3, 4, 5, 9};
    static const Date tests[] = {20501};
    static const double values[] = {33.5};
    PictureEvent event = {20504, 1, words};
    SeasonPicture p = {.title = words,
                       .subtitle = words,
                       .load_label = words,
                       .readiness_label = words,
                       .test_label = words,
                       .first = 20500,
                       .days = 5,
                       .log_days = 3,
                       .load = load,
                       .fitness = fitness,
                       .fatigue = fatigue,
                       .readiness = readiness,
                       .test_date = tests,
                       .test_value = values,
                       .tests = 1,
                       .event = &event,
                       .events = 1,
                       .taper_from = 20503,
                       .taper_to = 20503,
                       .today = 20502};
    return picture_season(&p, g, name, NULL, status);
}

static StatusCode draw_comparison(const char *words, const Gallery *g,
                                  const char *name, Status *status) {
    static const double readiness[] = {1, 2, 3, 2, 3, 4};
    const char *names[] = {words, "none"};
    ComparisonPicture p = {.title = words,
                           .subtitle = words,
                           .readiness_label = words,
                           .names = names,
                           .options = 2,
                           .readiness = readiness,
                           .days = 3,
                           .first_offset = -2,
                           .event_days = 1};
    return picture_comparison(&p, g, name, NULL, status);
}

static const ResponseParams classic = {RESPONSE_TWO_COMPONENT,
                                       {500, 1, 2, 45, 15, NAN, NAN, NAN}};

static char *picture_path(const char *folder, const char *name,
                          PictureFormat format) {
    static char path[500];
    static const char *const ends[] = {"svg", "png", "pdf", "txt"};
    snprintf(path, sizeof path, "%s/%s.%s", folder, name, ends[format]);
    return path;
}

/* Every format begins as its standard says. */
static void check_format(const char *path, PictureFormat format) {
    static const char *const begins[] = {"<?xml", "\x89PNG", "%PDF", ""};
    size_t length = 0;
    char *bytes = test_read(path, &length);
    CU_ASSERT_PTR_NOT_NULL_FATAL(bytes);
    CU_ASSERT(length > 500);
    CU_ASSERT_EQUAL(memcmp(bytes, begins[format], strlen(begins[format])), 0);
    free(bytes);
}

static void formats(void) {
    const char *folder = test_folder();
    for (int f = 0; f < PICTURE_FORMATS; f++) {
        Gallery g = gallery(folder, (PictureFormat)f);
        Status status = {0};
        CU_ASSERT_EQUAL(draw_season("plain", &g, "season", &status), 0);
        CU_ASSERT_EQUAL(draw_comparison("plain", &g, "comparison", &status), 0);
        CU_ASSERT_EQUAL(picture_influence(&classic, "t", "s", &g, "influence",
                                          NULL, &status),
                        0);
        ASSERT_TEXT(status.text, "");
        check_format(picture_path(folder, "season", g.format), g.format);
        check_format(picture_path(folder, "comparison", g.format), g.format);
        check_format(picture_path(folder, "influence", g.format), g.format);
    }
    test_folder_done();
}

static size_t count_files(const char *folder) {
    const char *words[] = {"/bin/ls", "-A", folder, NULL};
    char *out = NULL;
    size_t lines = 0;
    CU_ASSERT_EQUAL(test_run(words, &out, NULL), 0);
    for (const char *s = out; *s; s++)
        lines += *s == '\n';
    free(out);
    return lines;
}

/* Nothing in a name is run or taken for markup; the XML stays well formed (an
 * independent parser, Python's expat, reads it and finds the name again). */
static void hostile_names(void) {
    static const char *const script =
        "import sys, xml.etree.ElementTree as E\n"
        "text = ''.join(E.parse(sys.argv[1]).getroot().itertext())\n"
        "print('touch HERE' in text, '@_^{x}' in text, '%s' in text,\n"
        "      '&amp;' in text, '<b>' in text)\n";
    const char *folder = test_folder();
    Gallery g = gallery(folder, PICTURE_SVG);
    Status status = {0};
    char here[1200], *out;
    const char *arguments[] = {NULL, NULL};
    CU_ASSERT_EQUAL(draw_season(hostile, &g, "season", &status), 0);
    CU_ASSERT_EQUAL(draw_comparison(hostile, &g, "comparison", &status), 0);
    CU_ASSERT_EQUAL(picture_influence(&classic, hostile, hostile, &g,
                                      "influence", NULL, &status),
                    0);
    ASSERT_TEXT(status.text, "");
    CU_ASSERT_EQUAL(count_files(folder), 3);
    CU_ASSERT(access("HERE", F_OK) != 0);
    snprintf(here, sizeof here, "%s/influence.svg", folder);
    arguments[0] = here;
    out = test_python(script, arguments);
    ASSERT_TEXT(out, "True True True True True\n");
    free(out);
    test_folder_done();
}

static void missing_gnuplot(void) {
    const char *folder = test_folder();
    Gallery g = gallery(folder, PICTURE_SVG);
    Status status = {0};
    char *path = strdup(getenv("PATH"));
    setenv("PATH", "/nowhere", 1);
    CU_ASSERT_EQUAL(draw_season("x", &g, "season", &status), STATUS_SYSTEM);
    setenv("PATH", path, 1);
    ASSERT_HAS(status.text, "is not installed: Debian package gnuplot-nox");
    CU_ASSERT_EQUAL(count_files(folder), 0);
    free(path);
    test_folder_done();
}

/* A stand-in for gnuplot, first in PATH, that does `body`. */
static StatusCode draw_with(const char *folder, const char *body,
                            Status *status) {
    Gallery g = gallery(folder, PICTURE_SVG);
    char *path = strdup(getenv("PATH"));
    char program[600];
    Text all = {0};
    StatusCode code;
    mkdir(strcat(strcpy(program, folder), "/bin"), 0777);
    text_add(&all, "#!/bin/sh\n%s\n", body);
    strcpy(program, test_file(0, "bin/gnuplot", text_of(&all)));
    chmod(program, 0755);
    text_clear(&all);
    text_add(&all, "%s/bin:%s", folder, path);
    setenv("PATH", text_of(&all), 1);
    code = draw_season("x", &g, "season", status);
    setenv("PATH", path, 1);
    free(path);
    text_free(&all);
    return code;
}

/* What gnuplot says is passed on; a picture is there whole or not at all. */
static void failing_gnuplot(void) {
    static const struct {
        const char *body, *said;
    } rows[] = {
        {"cat >/dev/null; echo 'no such thing' >&2; exit 1",
         "gnuplot failed (exit 1): no such thing"},
        {"exit 0", "gnuplot left no whole picture"},
        {"cat >/dev/null; kill -9 $$", "gnuplot was ended by signal 9"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *folder = test_folder();
        Status status = {0};
        CU_ASSERT_EQUAL(draw_with(folder, rows[i].body, &status),
                        STATUS_SYSTEM);
        ASSERT_HAS(status.text, rows[i].said);
        CU_ASSERT_EQUAL(count_files(folder), 1); /* bin */
        test_folder_done();
    }
}

/* A script that is wrong: gnuplot's own words reach the user. */
static void wrong_script(void) {
    const char *folder = test_folder();
    Gallery g = {folder, folder, PICTURE_SVG};
    Status status = {0};
    test_file(0, "season.gp", "plot nonsense(\n");
    CU_ASSERT_EQUAL(draw_season("x", &g, "season", &status), STATUS_SYSTEM);
    ASSERT_HAS(status.text, "gnuplot failed (exit 1)");
    ASSERT_HAS(status.text, "season.gp");
    CU_ASSERT_EQUAL(count_files(folder), 1);
    test_folder_done();
}

/* The same picture twice is the same bytes. */
static void same_bytes(void) {
    const char *folder = test_folder();
    for (int f = 0; f < PICTURE_FORMATS; f++) {
        Gallery g = gallery(folder, (PictureFormat)f);
        Status status = {0};
        size_t length[2];
        char *bytes[2];
        if (f == PICTURE_PDF)
            continue; /* carries the date */
        for (int k = 0; k < 2; k++) {
            CU_ASSERT_EQUAL(draw_season("x", &g, k ? "two" : "one", &status),
                            0);
            bytes[k] = test_read(
                picture_path(folder, k ? "two" : "one", g.format), &length[k]);
        }
        CU_ASSERT_EQUAL(length[0], length[1]);
        CU_ASSERT_EQUAL(memcmp(bytes[0], bytes[1], length[0]), 0);
        free(bytes[0]);
        free(bytes[1]);
    }
    test_folder_done();
}

/* ---- page ---- */

static const char *const nasty[] = {
    "<script>alert(1)</script>",
    "\" onmouseover='x' \"",
    "a & b < c > d",
    "../../x",
    "line\nbreak\ttab\x01",
    "\xE2\x80\xAE\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D",
    "\xF0\x9F\x98\x80"};

static void print_page(FILE *to) {
    static const GridColumn columns[] = {{"who", false}, {"a-\nb", true}};
    Page page;
    Grid grid;
    grid_start(&grid, columns, 2);
    for (int i = 0; i < 7; i++) {
        grid_cell(&grid, "%s", nasty[i]);
        grid_cell(&grid, "%d", i);
    }
    page_begin(&page, to, nasty[0]);
    page_section(&page, "one", nasty[1]);
    for (int i = 0; i < 7; i++) {
        page_paragraph(&page, nasty[i]);
        page_caution(&page, nasty[i]);
    }
    page_list(&page);
    page_item(&page, nasty[2]);
    page_item_link(&page, "one", nasty[0]);
    page_list_end(&page);
    page_table(&page, &grid, nasty[1]);
    page_section_end(&page);
    page_end(&page);
    grid_free(&grid);
}

/* What Python's parser of HTML reads: each text comes back whole (control
 * characters as blanks, in a table as text_show() has them), there is no
 * script, every start tag is closed, rows and columns have their headings. */
static const char read_page[] =
    "import sys\n"
    "from html.parser import HTMLParser\n"
    "class P(HTMLParser):\n"
    "    def __init__(s):\n"
    "        super().__init__()\n"
    "        s.open, s.texts, s.tags = [], [], []\n"
    "    def handle_starttag(s, tag, attrs):\n"
    "        s.tags.append((tag, dict(attrs)))\n"
    "        if tag not in ('meta', 'br'):\n"
    "            s.open.append(tag)\n"
    "    def handle_endtag(s, tag):\n"
    "        assert s.open and s.open.pop() == tag, tag\n"
    "    def handle_data(s, data):\n"
    "        s.texts.append(data)\n"
    "p = P()\n"
    "p.feed(sys.argv[1])\n"
    "names = [t for t, a in p.tags]\n"
    "print(p.open, 'script' in names, names.count('h1'))\n"
    "print([a for t, a in p.tags if any(k.startswith('on') for k in a)])\n"
    "print([a.get('lang') for t, a in p.tags if t == 'html'])\n"
    "print(sum(a.get('scope') == 'row' for t, a in p.tags),"
    " sum(a.get('scope') == 'col' for t, a in p.tags))\n"
    "print([a['aria-label'] for t, a in p.tags if a.get('role') == 'region'])\n"
    "for i in range(2, 10):\n"
    "    print(p.texts.count(sys.argv[i]))\n"
    "print('ab' in p.texts)\n";

static void page_escapes(void) {
    char *text = printed(print_page), *read;
    read = test_python(read_page,
                       (const char *[]){text, nasty[0], nasty[1], nasty[2],
                                        nasty[3], "line break tab ",
                                        "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D",
                                        nasty[6], "line break tab\\x01", NULL});
    ASSERT_TEXT(read, "[] False 1\n[]\n['en']\n7 2\n"
                      "['\" onmouseover=\\'x\\' \"']\n"
                      "6\n5\n4\n3\n2\n3\n3\n1\nTrue\n");
    free(text);
    free(read);
}

/* Identifiers of two pictures do not meet; what points to them follows. */
static void page_takes_pictures(void) {
    static const char svg[] =
        "<?xml version=\"1.0\"?>\n<svg viewBox=\"0 0 9 5\" width=\"9\">\n"
        "<title>T</title><desc>D</desc><defs><circle id='dot' r='1'/></defs>"
        "<use xlink:href='#dot'/><g id=\"g\" fill=\"url(#dot)\"/><text>id='q' "
        "url(#w)</text></svg>\n";
    const char *folder = test_folder();
    const char *path = test_file(0, "x.svg", svg);
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    Page page = {.to = to};
    Status status = {0};
    (void)folder;
    CU_ASSERT_EQUAL(page_figure(&page, path, "a \"b\"", "<c>", &status), 0);
    CU_ASSERT_EQUAL(page_figure(&page, path, "a", "c", &status), 0);
    CU_ASSERT_EQUAL(page_figure(&page, "/nowhere/x.svg", "a", "c", &status),
                    STATUS_SYSTEM);
    ASSERT_HAS(status.text, "/nowhere/x.svg: cannot be opened");
    fclose(to);
    ASSERT_HAS(text, "aria-label=\"a &quot;b&quot;\" viewBox=\"0 0 9 5\"");
    ASSERT_HAS(text, "id='f1-dot'");
    ASSERT_HAS(text, "href='#f1-dot'");
    ASSERT_HAS(text, "id=\"f2-g\" fill=\"url(#f2-dot)\"");
    ASSERT_HAS(text, "<text>id='q' url(#w)</text>");
    ASSERT_HAS(text, ">&lt;c&gt;</figcaption>");
    CU_ASSERT(strstr(text, "<title>") == NULL);
    free(text);
    test_folder_done();
}

/* ---- calendar ---- */

static const char odd_text[] =
    "Gym; A, \\ back\nslash \"q\" \xF0\x9F\x98\x80 \xD7\xA9\xD7\x9C "
    "BEGIN:VEVENT\r\nand so on and on and on, \xC5\x81\xC5\x81\xC5\x81\xC5\x81"
    "\xC5\x81\xC5\x81\xC5\x81\xC5\x81\xC5\x81\xC5\x81\xC5\x81\xC5\x81 to the "
    "end";

static void print_calendar(FILE *to) {
    CalendarEntry day = {.date = date_of((Civil){2026, 12, 31}),
                         .minute = -1,
                         .days = 2,
                         .title = odd_text,
                         .text = odd_text,
                         .id = "one@peakward"};
    CalendarEntry hour = {.date = date_of((Civil){2026, 3, 9}),
                          .minute = 23 * 60 + 30,
                          .minutes = 75,
                          /* a next-line (U+0085) and an override of
                             direction (U+202E) are left out */
                          .title = "la\xC2\x85\xE2\x80\xAEte",
                          .text = "",
                          .id = "two@peakward"};
    calendar_begin(to, "wing-07: cup, \x01"
                       "1");
    calendar_entry(to, &day);
    calendar_entry(to, &hour);
    hour.minutes = 0; /* not known: no end is told */
    hour.id = "three@peakward";
    calendar_entry(to, &hour);
    calendar_end(to);
}

/* Lines end with CRLF, hold at most 75 octets and only whole characters. */
static void check_lines(const char *text) {
    while (*text) {
        size_t length = strcspn(text, "\r\n");
        CU_ASSERT(length <= 75);
        CU_ASSERT_FATAL(text[length] == '\r' && text[length + 1] == '\n');
        CU_ASSERT(utf8_check(text, length) == length);
        text += length + 2;
    }
}

/* What Debian's icalendar, a parser of RFC 5545, reads. */
static const char read_calendar[] =
    "import sys, icalendar\n"
    "c = icalendar.Calendar.from_ical(sys.argv[1])\n"
    "print(ascii(str(c['NAME'])))\n"
    "for e in c.walk('VEVENT'):\n"
    "    print(e['UID'], e.decoded('DTSTAMP').isoformat(),\n"
    "          e.decoded('DTSTART').isoformat(),"
    " e.decoded('DTEND').isoformat() if 'DTEND' in e else 'open')\n"
    "    print(ascii(str(e['SUMMARY'])))\n"
    "    print(str(e.get('DESCRIPTION', '')) == str(e['SUMMARY']))\n";

static void calendar_file(void) {
    char *text, *read;
    setenv("SOURCE_DATE_EPOCH", "1767225600", 1); /* 2026-01-01 */
    text = printed(print_calendar);
    unsetenv("SOURCE_DATE_EPOCH");
    check_lines(text);
    read = test_python(read_calendar, (const char *[]){text, NULL});
    ASSERT_TEXT(
        read,
        "'wing-07: cup, 1'\n"
        "one@peakward 2026-01-01T00:00:00+00:00 2026-12-31 2027-01-02\n"
        "'Gym; A, \\\\ back\\nslash \"q\" \\U0001f600 \\u05e9\\u05dc "
        "BEGIN:VEVENT\\nand so on and on and on, "
        "\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141"
        "\\u0141\\u0141 to the end'\nTrue\n"
        "two@peakward 2026-01-01T00:00:00+00:00 2026-03-09T23:30:00 "
        "2026-03-10T00:45:00\n'late'\nFalse\n"
        "three@peakward 2026-01-01T00:00:00+00:00 2026-03-09T23:30:00 open\n"
        "'late'\nFalse\n");
    free(text);
    free(read);
}

static const TestCase cases[] = {{"page_escapes", page_escapes},
                                 {"page_takes_pictures", page_takes_pictures},
                                 {"grid_cuts_titles", grid_cuts_titles},
                                 {"long_words_break", long_words_break},
                                 {"calendar_file", calendar_file},
                                 {"grid_aligns", grid_aligns},
                                 {"nothing_is_obeyed", nothing_is_obeyed},
                                 {"csv_is_safe", csv_is_safe},
                                 {"words_wrap", words_wrap},
                                 {"percents_stay", percents_stay},
                                 {"file_names", file_names},
                                 {"formats", formats},
                                 {"hostile_names", hostile_names},
                                 {"missing_gnuplot", missing_gnuplot},
                                 {"failing_gnuplot", failing_gnuplot},
                                 {"wrong_script", wrong_script},
                                 {"same_bytes", same_bytes},
                                 {NULL, NULL}};

const TestSuite suite_present = {"present", cases};
