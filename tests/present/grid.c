/* grid: tables, wrapped words, CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "printed.h"
#include "test.h"

#include "present/grid.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

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

static const TestCase cases[] = {{"grid_cuts_titles", grid_cuts_titles},
                                 {"long_words_break", long_words_break},
                                 {"grid_aligns", grid_aligns},
                                 {"nothing_is_obeyed", nothing_is_obeyed},
                                 {"csv_is_safe", csv_is_safe},
                                 {"words_wrap", words_wrap},
                                 {"percents_stay", percents_stay},
                                 {NULL, NULL}};

const TestSuite suite_present_grid = {"present", cases};
