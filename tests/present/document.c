/* document: what is to be read, as text of 80 columns and as HTML, the latter
 * read back by Python's own parser.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"
#include "present/document.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const nasty[] = {
    "<script>alert(1)</script>",
    "\" onmouseover='x' \"",
    "a & b < c > d %s %n",
    "line\nbreak\ttab\x01",
    "\xE2\x80\xAE\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D",
    "\xF0\x9F\x98\x80\xF0\x9F\x98\x80",
    "onewordthatislongerthanalineofeightycolumnsandsomewhatmoresothatitmustbecu"
    "t"
    "wherealineendsbecauseithasnoblanks"};

enum { NASTY = sizeof nasty / sizeof *nasty };

/* What is printed, to be freed; frees the document. */
static char *as_text(Document *doc, bool notes) {
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    document_print(doc, notes, to);
    fclose(to);
    document_free(doc);
    return text;
}

static char *as_page(Document *doc, bool notes, StatusCode wanted) {
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    Status status = {0};
    CU_ASSERT_EQUAL(document_write(doc, notes, to, &status), wanted);
    fclose(to);
    document_free(doc);
    return text;
}

/* Its columns are gone when it is printed. */
static void add_table(Document *doc) {
    char first[20] = "first\nday";
    GridColumn columns[] = {{"who", false}, {first, false}, {"kept", true}};
    Grid grid;
    grid_start(&grid, columns, 3);
    for (int i = 0; i < 2; i++) {
        grid_cell(&grid, "%s", i ? "wing-11" : "wing-07");
        grid_cell(&grid, "%s", i ? "Fri" : "Thu 16 Apr");
        grid_cell(&grid, "%d %%", 9 + i);
    }
    document_table(doc, &grid, "");
    memset(first, 0, sizeof first);
    memset(columns, 0, sizeof columns);
}

static Document an_answer(void) {
    Document doc = {0};
    document_title(&doc, "%s, Sat 25 Apr", "Cup");
    document_words(&doc, WORDS_LEAD, "From %s, 9 days with less.",
                   "Thu 16 Apr");
    document_words(&doc, WORDS_PLAIN, "%s", "");
    add_table(&doc);
    document_open(&doc, BLOCK_NOTES, NULL, "Method");
    document_words(&doc, WORDS_PLAIN, "As published.");
    document_close(&doc, BLOCK_NOTES);
    document_words(&doc, WORDS_ITEM, "first");
    document_words(&doc, WORDS_ITEM,
                   "second, which is longer than what a line of eighty columns "
                   "takes by some words ");
    document_words(&doc, WORDS_CAUTION, "Caution: none.");
    return doc;
}

static void document_as_text(void) {
    Document doc = an_answer();
    char *text = as_text(&doc, false);
    ASSERT_TEXT(
        text,
        "Cup, Sat 25 Apr\n"
        "\n"
        "From Thu 16 Apr, 9 days with less.\n"
        "\n"
        "         first\n"
        "who      day         kept\n"
        "wing-07  Thu 16 Apr   9 %\n"
        "wing-11  Fri         10 %\n"
        "\n"
        "- first\n"
        "- second, which is longer than what a line of eighty columns takes by "
        "some\n"
        "  words\n"
        "\n"
        "Caution: none.\n"
        "\n"
        "Assumptions, method, sources: --notes\n");
    free(text);
}

static void document_with_notes(void) {
    Document doc = an_answer();
    char *text = as_text(&doc, true);
    ASSERT_HAS(text, "10 %\n\nMethod\nAs published.\n\n- first\n");
    CU_ASSERT(strstr(text, "--notes") == NULL);
    free(text);
}

/* Sections head with a line below, links are of pages only, an appended
 * document is empty. */
static void document_appends(void) {
    Document doc = {0}, other = an_answer();
    char *text;
    document_open(&doc, BLOCK_SECTION, "cup", "C\xC3\xBCp");
    document_link(&doc, "cup", "to the cup");
    document_append(&doc, &other);
    document_close(&doc, BLOCK_SECTION);
    CU_ASSERT_EQUAL(other.count, 0);
    CU_ASSERT_PTR_NULL(other.title);
    text = as_text(&doc, false);
    CU_ASSERT(strncmp(text, "C\xC3\xBCp\n===\nFrom Thu", 17) == 0);
    CU_ASSERT(strstr(text, "to the cup") == NULL);
    free(text);
}

/* ---- tables within a width ---- */

static void table_wraps_its_last_column(void) {
    static const GridColumn columns[] = {{"day", false}, {"what", false}};
    Document doc = {0};
    Grid grid;
    char *text;
    grid_start(&grid, columns, 2);
    grid_cell(&grid, "Mon");
    grid_cell(&grid, "Squat 5 x 5, bench press 4 x 6, row 3 x 10, Nordic curl "
                     "3 x 5, dead bug at 80 %% of the most");
    grid_group(&grid, "Week of %s", "6 Apr");
    grid_cell(&grid, "Tue");
    grid_cell(&grid, "Court");
    document_table(&doc, &grid, "");
    text = as_text(&doc, false);
    ASSERT_TEXT(text, "day  what\n"
                      "Mon  Squat 5 x 5, bench press 4 x 6, row 3 x 10, Nordic "
                      "curl 3 x 5, dead bug at\n"
                      "     80 % of the most\n"
                      "\n"
                      "Week of 6 Apr\n"
                      "Tue  Court\n");
    free(text);
}

/* "who" and seven columns of numbers. */
static char *table_of(const GridColumn *columns) {
    Document doc = {0};
    Grid grid;
    grid_start(&grid, columns, 8);
    for (int i = 0; i < 8; i++)
        grid_cell(&grid, i ? "%d" : "back-%d", i ? i : 14);
    document_table(&doc, &grid, "");
    return as_text(&doc, false);
}

/* Two columns too wide: one blank between columns is enough. */
static void table_closes_up(void) {
    static const GridColumn columns[] = {
        {"who", false},        {"column one", true}, {"column two", true},
        {"column 3", true},    {"column 4", true},   {"column five", true},
        {"column\nsix", true}, {"column 7", true}};
    char *text = table_of(columns);
    ASSERT_TEXT(text, "                                                        "
                      "    column\n"
                      "who     column one column two column 3 column 4 column "
                      "five    six column 7\n"
                      "back-14          1          2        3        4        "
                      "   5      6        7\n");
    free(text);
}

/* The columns below have a heading of as many lines as theirs take. */
static void table_goes_on_below(void) {
    static const GridColumn columns[] = {
        {"who", false},         {"column one", true},  {"column two", true},
        {"column three", true}, {"column four", true}, {"column five", true},
        {"column\nsix", true},  {"column seven", true}};
    char *text = table_of(columns);
    ASSERT_TEXT(text, "                                                        "
                      "                 column\n"
                      "who      column one  column two  column three  column "
                      "four  column five     six\n"
                      "back-14           1           2             3          "
                      "  4            5       6\n"
                      "\n"
                      "who      column seven\n"
                      "back-14             7\n");
    free(text);
}

/* No line is wider than a terminal, no control character, nothing lost of what
 * is wrapped. */
static void document_bears_any_words(void) {
    static const GridColumn columns[] = {{"who", false}, {"what", false}};
    Document doc = {0};
    Grid grid;
    char *text, *rest = NULL;
    grid_start(&grid, columns, 2);
    for (int i = 0; i < NASTY; i++) {
        document_words(&doc, WORDS_PLAIN, "%s", nasty[i]);
        document_words(&doc, WORDS_ITEM, "%s", nasty[i]);
        document_words(&doc, WORDS_CAUTION, "%s", nasty[i]);
        grid_cell(&grid, "%s", nasty[i]);
        grid_cell(&grid, "%s", nasty[NASTY - 1 - i]);
    }
    document_table(&doc, &grid, nasty[NASTY - 1]);
    text = as_text(&doc, false);
    ASSERT_HAS(text, "<script>alert(1)</script>\n");
    ASSERT_HAS(text, "- a & b < c > d %s %n\n");
    ASSERT_HAS(text, "\nealineendsbecauseithasnoblanks\n");
    for (char *s = text; *s; s++)
        CU_ASSERT((unsigned char)*s >= ' ' || *s == '\n');
    for (char *line = strtok_r(text, "\n", &rest); line;
         line = strtok_r(NULL, "\n", &rest))
        CU_ASSERT(utf8_width(line) <= DOCUMENT_WIDTH);
    free(text);
}

/* ---- as HTML ---- */

/* Checks that every tag is closed in its order and prints what was read: tags
 * with their classes and roles, and all words. */
static const char read_page[] =
    "import sys\n"
    "from html.parser import HTMLParser\n"
    "class P(HTMLParser):\n"
    "    open, lines, on = [], [], False\n"
    "    def handle_starttag(s, tag, attrs):\n"
    "        a = dict(attrs)\n"
    "        assert not any(k.startswith('on') for k in a), a\n"
    "        assert tag != 'script'\n"
    "        s.on = s.on or tag == 'main'\n"
    "        if tag != 'meta':\n"
    "            s.open.append(tag)\n"
    "        if s.on:\n"
    "            keep = [a[k] for k in ('id', 'class', 'scope', 'data-title',"
    " 'href', 'colspan') if k in a]\n"
    "            s.lines.append(' '.join([tag] + keep))\n"
    "    def handle_endtag(s, tag):\n"
    "        assert s.open.pop() == tag, tag\n"
    "    def handle_data(s, data):\n"
    "        if s.on and data.strip():\n"
    "            s.lines.append('|' + data)\n"
    "p = P()\n"
    "p.feed(sys.argv[1])\n"
    "assert p.open == [], p.open\n"
    "print('\\n'.join(p.lines))\n";

static char *parsed(Document *doc, bool notes) {
    char *page = as_page(doc, notes, STATUS_OK);
    char *read = test_python(read_page, (const char *[]){page, NULL});
    free(page);
    return read;
}

static void document_as_page(void) {
    Document doc = {0}, answer = an_answer();
    char *read;
    document_title(&doc, "Cup");
    document_open(&doc, BLOCK_SECTION, "squad", "Squad");
    document_link(&doc, "squad", "up");
    document_append(&doc, &answer);
    document_open(&doc, BLOCK_COLUMNS, NULL, NULL);
    document_words(&doc, WORDS_SMALL, "last");
    document_close(&doc, BLOCK_COLUMNS);
    document_close(&doc, BLOCK_SECTION);
    read = parsed(&doc, false);
    ASSERT_TEXT(
        read,
        "main content\nsection squad\nh2 squad-heading\n|Squad\nul\nli\n"
        "a #squad\n|up\np lead\n|From Thu 16 Apr, 9 days with less.\n"
        "div box\ntable\nthead\ntr\nth col\n|who\nth col\n|first day\n"
        "th n col\n|kept\ntbody\ntr\nth row\n|wing-07\ntd\n"
        "|Thu 16 Apr\ntd n\n|9 %\ntr\nth row\n|wing-11\ntd\n"
        "|Fri\ntd n\n|10 %\nul\nli\n|first\nli\n"
        "|second, which is longer than what a line of eighty columns takes by "
        "some words\np caution\n|Caution: none.\ndiv columns\np small\n"
        "|last\n");
    free(read);
}

static void document_as_page_with_notes(void) {
    Document doc = an_answer();
    char *read = parsed(&doc, true);
    ASSERT_HAS(read, "h3\n|Method\np\n|As published.\nul\n");
    free(read);
}

/* On a phone a row of a wide table is a card: its cells say their column, and
 * it stays a table for those who hear it. */
static void page_makes_cards(void) {
    static const GridColumn columns[] = {
        {"who", false}, {"tra-\nining\nkept", true}, {"b", true}, {"c", false}};
    Document doc = {0};
    Grid grid;
    char *page;
    grid_start(&grid, columns, 4);
    for (int i = 0; i < 4; i++)
        grid_cell(&grid, "%d", i);
    document_table(&doc, &grid, "All");
    page = as_page(&doc, false, STATUS_OK);
    ASSERT_HAS(page, "<table role=\"table\" class=\"cards\">");
    ASSERT_HAS(page, "<tr role=\"row\"><th role=\"rowheader\" scope=\"row\" "
                     "dir=\"auto\">0</th><td role=\"cell\" "
                     "data-title=\"training kept\" class=\"n\" dir=\"auto\">"
                     "1</td>");
    free(page);
}

/* Each text comes back whole wherever it stands. */
static void page_bears_any_words(void) {
    static const GridColumn columns[] = {{"who", false}, {"a-\nb", true}};
    static const char count[] =
        "import sys\n"
        "lines = sys.argv[1].split('\\n')\n"
        "print([lines.count('|' + t) for t in sys.argv[2:]])\n";
    Document doc = {0};
    Grid grid;
    char *read, *counted;
    grid_start(&grid, columns, 2);
    document_open(&doc, BLOCK_SECTION, "one", nasty[0]);
    for (int i = 0; i < NASTY; i++) {
        for (Words kind = WORDS_HEADING; kind <= WORDS_SMALL; kind++)
            document_words(&doc, kind, "%s", nasty[i]);
        grid_group(&grid, "%s", nasty[i]);
        grid_cell(&grid, "%s", nasty[i]);
        grid_cell(&grid, "%d", i);
    }
    document_table(&doc, &grid, nasty[1]);
    document_close(&doc, BLOCK_SECTION);
    read = parsed(&doc, false);
    ASSERT_HAS(read, "tr group\nth rowgroup 2\n|a & b < c > d %s %n\n");
    ASSERT_HAS(read, "td n\n|6\n");
    counted =
        test_python(count, (const char *[]){read, nasty[0], nasty[1], nasty[2],
                                            "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D",
                                            nasty[5], nasty[6], NULL});
    ASSERT_TEXT(counted, "[9, 9, 8, 8, 8, 8]\n");
    free(counted);
    free(read);
}

static void document_takes_pictures(void) {
    static const char svg[] = "<svg viewBox=\"0 0 9 5\"><g id=\"a\"/></svg>";
    DocumentPicture inside = {.svg = svg, .alt = "a \"b\"", .caption = "<c>"};
    DocumentPicture file = {.path = "no/such.svg", .alt = "a", .caption = "c"};
    Document doc = {0};
    char *text;
    document_picture(&doc, &inside);
    text = as_page(&doc, false, STATUS_OK);
    ASSERT_HAS(text, "aria-label=\"a &quot;b&quot;\" viewBox=\"0 0 9 5\"");
    ASSERT_HAS(text, "<g id=\"f1-a\"/>");
    ASSERT_HAS(text, ">&lt;c&gt;</figcaption>");
    free(text);
    document_picture(&doc, &file);
    document_picture(&doc, &file);
    text = as_text(&doc, false);
    ASSERT_TEXT(text, "no/such.svg\nno/such.svg\n");
    free(text);
    document_picture(&doc, &file);
    free(as_page(&doc, false, STATUS_SYSTEM));
    inside.svg = "no picture";
    document_picture(&doc, &inside);
    free(as_page(&doc, false, STATUS_SYSTEM));
}

static const TestCase cases[] = {
    {"as_text", document_as_text},
    {"with_notes", document_with_notes},
    {"appends", document_appends},
    {"table_wraps_its_last_column", table_wraps_its_last_column},
    {"table_closes_up", table_closes_up},
    {"table_goes_on_below", table_goes_on_below},
    {"bears_any_words", document_bears_any_words},
    {"as_page", document_as_page},
    {"as_page_with_notes", document_as_page_with_notes},
    {"page_makes_cards", page_makes_cards},
    {"page_bears_any_words", page_bears_any_words},
    {"takes_pictures", document_takes_pictures},
    {NULL, NULL},
};

const TestSuite suite_present_document = {"present", cases};
