/* page: what Python's parser of HTML reads of it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "printed.h"
#include "test.h"

#include "present/grid.h"
#include "present/page.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

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
    page_begin(&page, to, nasty[0], "");
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
    "print([a['aria-label'] for t, a in p.tags if a.get('role') == 'group'])\n"
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
        "<title>T</title><desc>D &lt;e&gt;</desc><defs><circle id='dot' "
        "r='1'/></defs>"
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
    CU_ASSERT_EQUAL(page_figure(&page, path, NULL, "c", &status), 0);
    CU_ASSERT_EQUAL(page_figure(&page, "/nowhere/x.svg", "a", "c", &status),
                    STATUS_SYSTEM);
    ASSERT_HAS(status.text, "/nowhere/x.svg: cannot be opened");
    fclose(to);
    ASSERT_HAS(text, "aria-label=\"a &quot;b&quot;\" viewBox=\"0 0 9 5\"");
    ASSERT_HAS(text, "aria-label=\"D &lt;e&gt;\" viewBox");
    ASSERT_HAS(text, "id='f1-dot'");
    ASSERT_HAS(text, "href='#f1-dot'");
    ASSERT_HAS(text, "id=\"f2-g\" fill=\"url(#f2-dot)\"");
    ASSERT_HAS(text, "<text>id='q' url(#w)</text>");
    ASSERT_HAS(text, ">&lt;c&gt;</figcaption>");
    CU_ASSERT(strstr(text, "<title>") == NULL);
    free(text);
    test_folder_done();
}

static const TestCase cases[] = {{"page_escapes", page_escapes},
                                 {"page_takes_pictures", page_takes_pictures},
                                 {NULL, NULL}};

const TestSuite suite_present_page = {"present", cases};
