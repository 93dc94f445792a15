/* A page with any words everywhere that it takes words: every tag is closed in
 * its order, and what stands between the tags, with the entities read back, is
 * the words, but for characters that are left out (text.h) and blanks in the
 * place of control characters. Words that are not UTF-8, which no file gets
 * past the readers, must not break the page.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/page.h"

#include "base/text.h"
#include "fuzz.h"

#include <stdbool.h>
#include <string.h>

enum { DEEPEST = 40 };

/* The character that an entity or a byte stands for; moves on. */
static char next_character(const char **at) {
    static const struct {
        const char *entity;
        char means;
    } entities[] = {{"&amp;", '&'},
                    {"&lt;", '<'},
                    {"&gt;", '>'},
                    {"&quot;", '"'},
                    {"&#39;", '\''}};
    if (**at != '&')
        return *(*at)++;
    for (size_t i = 0; i < sizeof entities / sizeof *entities; i++)
        if (strncmp(*at, entities[i].entity, strlen(entities[i].entity)) == 0) {
            *at += strlen(entities[i].entity);
            return entities[i].means;
        }
    HOLDS(!"an entity");
    return '\0';
}

/* From `at` to the next tag, or the quotation mark that ends an attribute,
 * stands this text. */
static const char *check_text(const char *at, const char *text, char end) {
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        size_t out = left_out(text);
        if (out > 0) {
            text += out - 1;
            continue;
        }
        HOLDS(*at != '<' && *at != '>' && *at != '"' && *at != '\'');
        HOLDS(next_character(&at) == (c < ' ' || c == 0x7f ? ' ' : (char)c));
    }
    HOLDS(*at == end);
    return at;
}

/* All tags are closed in the order in which they were opened. Returns how many
 * there are. */
static int check_tags(const char *at) {
    static const char *const alone[] = {"!DOCTYPE", "meta", NULL};
    char open[DEEPEST][16];
    int depth = 0, count = 0;
    while ((at = strchr(at, '<')) != NULL) {
        char name[16] = "";
        bool closes = at[1] == '/', single = false;
        const char *begin = at + 1 + closes, *end = strchr(at, '>');
        size_t length = strcspn(begin, " >\n");
        HOLDS(end != NULL && length > 0 && length < sizeof name);
        memcpy(name, begin, length);
        for (int i = 0; alone[i]; i++)
            single = single || strcmp(name, alone[i]) == 0;
        if (closes) {
            HOLDS(depth > 0);
            depth--;
            HOLDS(strcmp(open[depth], name) == 0);
        } else if (!single) {
            HOLDS(depth < DEEPEST);
            memcpy(open[depth++], name, sizeof name);
        }
        count++;
        at = end + 1;
    }
    HOLDS(depth == 0);
    return count;
}

/* All tables, lists and paragraphs with the same words. */
static void write_page(FILE *to, const char *words) {
    static const GridColumn columns[] = {{"athlete", false}, {"gain", true}};
    Page page;
    Grid grid;
    page_begin(&page, to, words, "");
    page_section(&page, "squad", words);
    page_heading(&page, words);
    page_paragraph(&page, words);
    page_caution(&page, words);
    page_list(&page);
    page_item(&page, words);
    page_item_link(&page, "squad", words);
    page_list_end(&page);
    grid_start(&grid, columns, 2);
    grid_cell(&grid, "%s", words);
    grid_cell(&grid, "%s", words);
    page_table(&page, &grid, words);
    grid_free(&grid);
    page_section_end(&page);
    page_end(&page);
}

static void check_after(const char *page, const char *mark, const char *words,
                        char end) {
    const char *at = strstr(page, mark);
    HOLDS(at != NULL);
    check_text(at + strlen(mark), words, end);
}

static char *written(const char *words) {
    char *bytes = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&bytes, &length);
    write_page(to, words);
    fclose(to);
    HOLDS(strlen(bytes) == length);
    return bytes;
}

static void check_words(const char *page, const char *words) {
    check_after(page, "<title dir=\"auto\">", words, '<');
    check_after(page, "<h1 dir=\"auto\">", words, '<');
    check_after(page, "<h2 id=\"squad-heading\" dir=\"auto\">", words, '<');
    check_after(page, "<h3 dir=\"auto\">", words, '<');
    check_after(page, "<p dir=\"auto\">", words, '<');
    check_after(page, "<p class=\"caution\" role=\"note\" dir=\"auto\">", words,
                '<');
    check_after(page, "<li dir=\"auto\">", words, '<');
    check_after(page, "<a href=\"#squad\" dir=\"auto\">", words, '<');
    check_after(page, "role=\"group\" aria-label=\"", words, '"');
    check_after(page, "<caption dir=\"auto\">", words, '<');
    HOLDS(utf8_check(page, strlen(page)) == strlen(page));
}

enum { CAPTION = 2 /* tags, which a table without words for it has not */ };

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static int tags; /* of a page whose words are plain */
    char *words = malloc(size + 1), *page;
    memcpy(words, data, size);
    words[size] = '\0';
    if (!tags) {
        page = written("plain");
        tags = check_tags(page);
        free(page);
    }
    page = written(words);
    HOLDS(check_tags(page) == tags - (*words ? 0 : CAPTION));
    if (*words && utf8_check(words, strlen(words)) == strlen(words))
        check_words(page, words);
    free(page);
    free(words);
    return 0;
}
