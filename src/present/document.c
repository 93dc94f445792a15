/* document: see document.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/document.h"

#include "base/mem.h"
#include "present/page_try.h"

#include <assert.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

typedef enum {
    PART_WORDS,
    PART_OPEN,
    PART_CLOSE,
    PART_LINK,
    PART_TABLE,
    PART_PICTURE,
    PART_TRY
} PartKind;

typedef struct DocumentPart {
    PartKind kind;
    Words words;         /* of PART_WORDS */
    Block block;         /* of PART_OPEN, PART_CLOSE */
    char *text;          /* words, heading, caption */
    char *id;            /* of a section; path of a picture */
    char *svg;           /* of a picture */
    char *alt;           /* of a picture; values of sliders */
    Grid grid;           /* of a table */
    GridColumn *columns; /* of a table */
    char **titles;       /* of its columns */
} DocumentPart;

/* ---- building ---- */

static void add(Document *doc, DocumentPart part) {
    doc->parts =
        mem_grow(doc->parts, &doc->room, doc->count + 1, sizeof *doc->parts);
    doc->parts[doc->count++] = part;
}

static char *printed(const char *format, va_list list) {
    va_list again;
    int length;
    char *text;
    va_copy(again, list);
    length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    text = mem_new((size_t)(length > 0 ? length : 0) + 1, 1);
    vsnprintf(text, (size_t)length + 1, format, list);
    return text;
}

void document_title(Document *doc, const char *format, ...) {
    va_list list;
    va_start(list, format);
    free(doc->title);
    doc->title = printed(format, list);
    va_end(list);
}

void document_words(Document *doc, Words kind, const char *format, ...) {
    va_list list;
    char *text, *end;
    va_start(list, format);
    text = printed(format, list);
    va_end(list);
    end = text + strlen(text);
    while (end > text && end[-1] == ' ')
        *--end = '\0';
    if (*text)
        add(doc,
            (DocumentPart){.kind = PART_WORDS, .words = kind, .text = text});
    else
        free(text);
}

void document_open(Document *doc, Block block, const char *id,
                   const char *heading) {
    add(doc, (DocumentPart){.kind = PART_OPEN,
                            .block = block,
                            .id = mem_copy(id),
                            .text = mem_copy(heading)});
}

void document_close(Document *doc, Block block) {
    add(doc, (DocumentPart){.kind = PART_CLOSE, .block = block});
}

void document_link(Document *doc, const char *id, const char *words) {
    add(doc, (DocumentPart){.kind = PART_LINK,
                            .id = mem_copy(id),
                            .text = mem_copy(words)});
}

void document_table(Document *doc, Grid *grid, const char *caption) {
    DocumentPart part = {
        .kind = PART_TABLE, .grid = *grid, .text = mem_copy(caption)};
    part.columns = mem_new((size_t)grid->count, sizeof *part.columns);
    part.titles = mem_new((size_t)grid->count, sizeof *part.titles);
    for (int i = 0; i < grid->count; i++) {
        part.titles[i] = mem_copy(grid->columns[i].title);
        part.columns[i] = (GridColumn){part.titles[i], grid->columns[i].right};
    }
    part.grid.columns = part.columns;
    add(doc, part);
    *grid = (Grid){0};
}

void document_picture(Document *doc, const DocumentPicture *picture) {
    add(doc, (DocumentPart){.kind = PART_PICTURE,
                            .id = mem_copy(picture->path),
                            .svg = mem_copy(picture->svg),
                            .alt = mem_copy(picture->alt),
                            .text = mem_copy(picture->caption)});
}

void document_try(Document *doc, const char *name, const char *values) {
    add(doc, (DocumentPart){.kind = PART_TRY,
                            .text = mem_copy(name),
                            .alt = mem_copy(values)});
}

void document_append(Document *doc, Document *other) {
    for (size_t i = 0; i < other->count; i++)
        add(doc, other->parts[i]);
    other->count = 0;
    document_free(other);
}

static void free_part(DocumentPart *part) {
    if (part->kind == PART_TABLE) {
        for (int i = 0; i < part->grid.count; i++)
            free(part->titles[i]);
        grid_free(&part->grid);
    }
    free(part->columns);
    free(part->titles);
    free(part->text);
    free(part->id);
    free(part->svg);
    free(part->alt);
}

void document_free(Document *doc) {
    for (size_t i = 0; i < doc->count; i++)
        free_part(&doc->parts[i]);
    free(doc->parts);
    free(doc->title);
    *doc = (Document){0};
}

/* The part behind the block that opens at `at`. */
static size_t behind(const Document *doc, size_t at) {
    int depth = 0;
    for (; at < doc->count; at++) {
        depth += doc->parts[at].kind == PART_OPEN;
        depth -= doc->parts[at].kind == PART_CLOSE;
        if (depth == 0)
            return at + 1;
    }
    assert(false && "a block that is not closed");
    return at;
}

static bool is_notes(const DocumentPart *part) {
    return part->kind == PART_OPEN && part->block == BLOCK_NOTES;
}

/* ---- as text ---- */

/* What was printed last decides whether a blank line follows. */
typedef struct {
    FILE *to;
    const DocumentPart *last;
} Terminal;

static bool same_run(const DocumentPart *a, const DocumentPart *b) {
    return a->kind == b->kind &&
           (a->kind == PART_PICTURE ||
            (a->kind == PART_WORDS && a->words == b->words &&
             (a->words == WORDS_ITEM || a->words == WORDS_SMALL)));
}

/* A heading stands on what it heads. */
static bool heads(const DocumentPart *part) {
    return part->kind == PART_OPEN ||
           (part->kind == PART_WORDS && part->words == WORDS_HEADING);
}

static void gap(Terminal *t, const DocumentPart *part) {
    if (t->last && !same_run(t->last, part) && !heads(t->last))
        fputc('\n', t->to);
    t->last = part;
}

static void print_underlined(FILE *to, const char *heading) {
    Text shown = {0};
    text_show(&shown, heading);
    fprintf(to, "%s\n", text_of(&shown));
    for (size_t i = utf8_width(text_of(&shown)); i > 0; i--)
        fputc('=', to);
    fputc('\n', to);
    text_free(&shown);
}

static void print_part(Terminal *t, const DocumentPart *part) {
    bool item = part->kind == PART_WORDS && part->words == WORDS_ITEM;
    gap(t, part);
    if (part->kind == PART_TABLE) {
        grid_fit(&part->grid, t->to, DOCUMENT_WIDTH);
        if (part->text[0])
            print_wrapped(t->to, part->text, DOCUMENT_WIDTH, 0);
    } else if (part->kind == PART_PICTURE) {
        print_shown_line(t->to, part->id ? part->id : part->alt);
    } else if (part->kind == PART_OPEN && part->block == BLOCK_SECTION) {
        print_underlined(t->to, part->text);
    } else {
        fputs(item ? "- " : "", t->to);
        print_wrapped(t->to, part->text, DOCUMENT_WIDTH - (item ? 2 : 0),
                      item ? 2 : 0);
    }
}

/* Does the part show anything on a terminal? */
static bool is_shown(const DocumentPart *part) {
    if (part->kind == PART_OPEN)
        return part->text && part->text[0];
    return part->kind != PART_CLOSE && part->kind != PART_LINK &&
           part->kind != PART_TRY;
}

void document_print(const Document *doc, bool notes, FILE *to) {
    Terminal t = {.to = to};
    bool hidden = false;
    if (doc->title) {
        print_wrapped(to, doc->title, DOCUMENT_WIDTH, 0);
        fputs(doc->count > 0 ? "\n" : "", to);
    }
    for (size_t i = 0; i < doc->count;) {
        const DocumentPart *part = &doc->parts[i];
        if (is_notes(part) && !notes) {
            hidden = true;
            i = behind(doc, i);
            continue;
        }
        if (is_shown(part))
            print_part(&t, part);
        i++;
    }
    if (hidden)
        fprintf(to, "%sAssumptions, method, sources: --notes\n",
                t.last ? "\n" : "");
}

/* ---- as a page ---- */

static void page_words(Page *page, const DocumentPart *part) {
    switch (part->words) {
    case WORDS_HEADING:
        page_heading(page, part->text);
        break;
    case WORDS_LEAD:
        page_lead(page, part->text);
        break;
    case WORDS_PLAIN:
        page_paragraph(page, part->text);
        break;
    case WORDS_ITEM:
        page_item(page, part->text);
        break;
    case WORDS_CAUTION:
        page_caution(page, part->text);
        break;
    case WORDS_SMALL:
        page_small(page, part->text);
        break;
    }
}

static void page_open(Page *page, const DocumentPart *part) {
    if (part->block == BLOCK_SECTION) {
        page_section(page, part->id, part->text);
        return;
    }
    if (part->block == BLOCK_SIDE)
        page_side(page);
    if (part->block == BLOCK_COLUMNS)
        page_columns(page);
    if (part->text && part->text[0])
        page_heading(page, part->text);
}

static void page_close(Page *page, const DocumentPart *part) {
    if (part->block == BLOCK_SECTION)
        page_section_end(page);
    if (part->block == BLOCK_SIDE)
        page_side_end(page);
    if (part->block == BLOCK_COLUMNS)
        page_columns_end(page);
}

static StatusCode put_part(Page *page, const DocumentPart *part,
                           Status *status) {
    switch (part->kind) {
    case PART_WORDS:
        page_words(page, part);
        break;
    case PART_OPEN:
        page_open(page, part);
        break;
    case PART_CLOSE:
        page_close(page, part);
        break;
    case PART_LINK:
        page_item_link(page, part->id, part->text);
        break;
    case PART_TABLE:
        page_table(page, &part->grid, part->text);
        break;
    case PART_TRY:
        page_try(page->to, ++page->tries, part->text, part->alt);
        break;
    case PART_PICTURE:
        if (part->svg)
            return page_svg(page, part->svg, part->alt, part->text, status);
        return page_figure(page, part->id, part->alt, part->text, status);
    }
    return STATUS_OK;
}

static bool is_item(const DocumentPart *part) {
    return part->kind == PART_LINK ||
           (part->kind == PART_WORDS && part->words == WORDS_ITEM);
}

StatusCode document_page(const Document *doc, bool notes, Page *page,
                         Status *status) {
    StatusCode code = STATUS_OK;
    bool list = false;
    for (size_t i = 0; i < doc->count && code == STATUS_OK; i++) {
        const DocumentPart *part = &doc->parts[i];
        if (is_notes(part) && !notes) {
            i = behind(doc, i) - 1;
            continue;
        }
        if (list && !is_item(part))
            page_list_end(page);
        if (!list && is_item(part))
            page_list(page);
        list = is_item(part);
        code = put_part(page, part, status);
    }
    if (list)
        page_list_end(page);
    return code;
}

static bool has_tries(const Document *doc) {
    for (size_t i = 0; i < doc->count; i++)
        if (doc->parts[i].kind == PART_TRY)
            return true;
    return false;
}

StatusCode document_write(const Document *doc, bool notes, FILE *to,
                          Status *status) {
    Page page;
    Text policy = {0};
    StatusCode code;
    bool tries = has_tries(doc);
    if (tries)
        page_try_policy(&policy);
    page_begin(&page, to, doc->title ? doc->title : "", text_of(&policy));
    code = document_page(doc, notes, &page, status);
    if (tries)
        page_try_script(to);
    page_end(&page);
    text_free(&policy);
    return code;
}
