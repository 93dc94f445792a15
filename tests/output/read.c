/* What people read: how long answers are, whose they are, and that a page is
 * about one taper throughout.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include <stdlib.h>
#include <string.h>

/* Standard output of a command, to be freed. */
static char *answer(const char *arguments) {
    char *out, *err;
    CU_ASSERT_EQUAL(test_command(arguments, "data/demo", &out, &err), 0);
    free(err);
    return out;
}

static int count_lines(const char *text) {
    int lines = 0;
    for (; *text; text++)
        lines += *text == '\n';
    return lines;
}

/* Within what a coach reads, and nothing wider than a terminal. */
static void lengths(void) {
    static const struct {
        const char *arguments;
        int most;
    } rows[] = {
        {"taper @ --quiet", 40},   {"taper @ --quiet --athlete wing-07", 32},
        {"compare @ --quiet", 50}, {"compare @ --quiet --athlete wing-07", 32},
        {"plan @ --quiet", 80},    {"plan @ --quiet --athlete back-03", 70}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char *out = answer(rows[i].arguments), *rest = NULL;
        int lines = count_lines(out);
        CU_ASSERT(lines > 10);
        CU_ASSERT(lines <= rows[i].most);
        for (char *line = strtok_r(out, "\n", &rest); line;
             line = strtok_r(NULL, "\n", &rest))
            CU_ASSERT(strlen(line) < 80);
        free(out);
    }
}

/* What is left out of the answer is behind --notes, which says so. */
static void notes(void) {
    static const char *const commands[] = {"taper", "compare", "plan",
                                           "simulate", "fit"};
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        char words[100], *plain, *whole;
        snprintf(words, sizeof words, "%s @ --quiet --athlete wing-07",
                 commands[i]);
        plain = answer(words);
        strcat(words, " --notes");
        whole = answer(words);
        ASSERT_WORDS(plain, "Assumptions, method, sources: --notes");
        CU_ASSERT_PTR_NULL(strstr(plain, "tau "));
        ASSERT_WORDS(whole, "Load: session-RPE");
        CU_ASSERT_PTR_NULL(strstr(whole, "--notes\n"));
        free(plain);
        free(whole);
    }
}

/* The squad's comparison closes with no one athlete's answer. */
static void compare_is_of_all(void) {
    char *out = answer("compare @ --quiet --option best --option none");
    ASSERT_WORDS(out, "best: each athlete's own.");
    CU_ASSERT_PTR_NULL(strstr(out, "recommends"));
    free(out);
}

/* Python's parser of HTML, by sections: every taper that is told of is the one
 * given, sheets for players have no words of models, the letter is short. */
static void page_of_one_taper(void) {
    static const char script[] =
        "import re, sys\n"
        "from html.parser import HTMLParser\n"
        "class P(HTMLParser):\n"
        "    text, now, svg = {}, '', 0\n"
        "    def handle_starttag(s, tag, attrs):\n"
        "        s.svg += tag == 'svg'\n"
        "        if tag == 'section': s.now = dict(attrs)['id']\n"
        "    def handle_endtag(s, tag):\n"
        "        s.svg -= tag == 'svg'\n"
        "    def handle_data(s, data):\n"
        "        if not s.svg:\n"
        "            s.text[s.now] = s.text.get(s.now, '') + ' ' + data\n"
        "p = P()\n"
        "p.feed(open(sys.argv[1], encoding='utf-8').read())\n"
        "print(set(re.findall(r'from (\\w+ \\d+ \\w+, [^.;]*)',"
        " ' '.join(p.text.values()))))\n"
        "sheets = [p.text[k] for k in p.text if k.startswith('athlete-')]\n"
        "print(len(sheets), any(re.search(r'\\b(tau|k2|posterior|models?|"
        "ceiling|likely)\\b|! \\d', t) for t in sheets))\n"
        "print(len(p.text['letter'].split()) <= 255)\n"
        "print('given' in p.text['science'].split(),"
        " 'recommended' in p.text['squad'].replace('not the recommended', "
        "''))\n";
    const char *folder = test_folder();
    char path[400], *read, *out, *err;
    snprintf(path, sizeof path, "%s/p/report.html", folder);
    CU_ASSERT_EQUAL(
        test_command("report data/demo --quiet --option 7d-50,7d-75 "
                     "--out @/p",
                     folder, &out, &err),
        0);
    free(out);
    free(err);
    read = test_python(script, (const char *[]){path, NULL});
    ASSERT_TEXT(read, "{'Sat 11 Apr, 7 days with 50 % less volume, then 7 days "
                      "with 75 % less volume'}\n8 False\nTrue\nTrue False\n");
    free(read);
    test_folder_done();
}

static const TestCase cases[] = {{"lengths", lengths},
                                 {"notes", notes},
                                 {"compare_is_of_all", compare_is_of_all},
                                 {"page_of_one_taper", page_of_one_taper},
                                 {NULL, NULL}};

const TestSuite suite_output_read = {"output", cases};
