/* page: see page.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/page.h"

#include "base/mem.h"

#include <errno.h>
#include <nettle/base64.h>
#include <nettle/sha2.h>
#include <stdlib.h>
#include <string.h>

/* Light first; dark where the reader's system asks for it; ink on paper. */
static const char style[] =
    ":root{--ink:#1c1c1c;--paper:#ffffff;--soft:#555555;--line:#c4c4c4;"
    "--tint:#f1f3f5;--warn:#7a2e00;--warn-paper:#fff3e8;--link:#0b4f8a}\n"
    "@media (prefers-color-scheme:dark){:root{--ink:#ececec;--paper:#16181b;"
    "--soft:#b4b4b4;--line:#4a4d52;--tint:#22262b;--warn:#ffc799;"
    "--warn-paper:#3a2413;--link:#8ec5ff}}\n"
    "*{box-sizing:border-box}\n"
    "body{margin:0;padding:1rem;background:var(--paper);color:var(--ink);"
    "font:1rem/1.5 system-ui,'DejaVu Sans',sans-serif;"
    "overflow-wrap:anywhere}\n"
    "main,header,nav{max-width:62rem;margin:0 auto}\n"
    "h1{font-size:1.6rem;line-height:1.25}h2{font-size:1.35rem;"
    "margin:2rem 0 .5rem;border-bottom:2px solid var(--line)}"
    "h3{font-size:1.1rem;margin:1.5rem 0 .4rem}\n"
    "p,li{max-width:44rem}a{color:var(--link)}\n"
    ".skip{position:absolute;left:-999rem}.skip:focus{position:static}\n"
    ".box{overflow-x:auto;margin:.6rem 0}\n"
    "table{border-collapse:collapse;font-variant-numeric:tabular-nums;"
    "font-size:.92rem}\n"
    "caption{text-align:left;color:var(--soft);padding:.2rem 0}\n"
    "th,td{padding:.25rem .6rem;border-bottom:1px solid var(--line);"
    "text-align:left;vertical-align:top;overflow-wrap:normal}"
    "tbody th{white-space:nowrap}\n"
    "thead th{background:var(--tint);vertical-align:bottom}\n"
    "tbody th{font-weight:600}.n{text-align:right;white-space:nowrap}"
    "thead .n{white-space:normal}"
    ".group th{background:var(--tint);padding-top:.5rem}\n"
    ".lead{font-size:1.15rem;font-weight:600}"
    ".small{font-size:.85rem;color:var(--soft)}\n"
    "@media screen and (max-width:32rem){.cards,.cards tbody,.cards caption,"
    ".cards tr,.cards th,.cards td{display:block}"
    ".cards thead{position:absolute;left:-999rem}"
    ".cards tr{border:1px solid var(--line);margin:0 0 .5rem;"
    "padding:.3rem 0}.cards .group{border:0}"
    ".cards th,.cards td{border:0;text-align:left;white-space:normal}"
    ".cards td{display:flex;justify-content:space-between;gap:1rem}"
    ".cards td::before{content:attr(data-title);color:var(--soft)}"
    ".cards td:empty{display:none}}\n"
    ".caution{border-left:.4rem solid var(--warn);background:var(--warn-paper);"
    "color:var(--warn);padding:.5rem .8rem;margin:.8rem 0;max-width:44rem}\n"
    "figure{margin:1rem 0;background:#ffffff;color:#1c1c1c;padding:.5rem;"
    "border:1px solid var(--line)}\n"
    "figure svg{width:100%;min-width:38rem;height:auto;display:block}"
    /* gnuplot counts on the widths of its letters */
    "figure svg{font-family:'DejaVu Sans',Verdana,sans-serif}"
    ".narrow svg{min-width:0;max-width:30rem}\n"
    "@media screen and (min-width:64rem){#science .narrow{display:inline-block;"
    "width:30rem;vertical-align:top;margin-right:.5rem}}\n"
    "figcaption{font-size:.9rem;color:#444444;padding:.3rem}\n"
    ".try{border:1px solid var(--line);padding:0 .8rem;max-width:36rem}"
    ".try[hidden]{display:none}.try input{width:100%}"
    ".try svg{width:100%;height:auto;background:#ffffff}"
    ".try select{font:inherit;padding:.2rem;max-width:100%}"
    "#what-if h3{break-before:auto}\n";

static const char on_paper[] =
    "@media "
    "print{.try{display:none}body{padding:0;font-size:9.5pt;line-height:1.3}"
    "nav,.skip{display:none}section,.side{break-before:page}"
    "section[id^=athlete-]{break-before:right}"
    "section:first-of-type{break-before:auto}"
    "h1{font-size:16pt;margin:0}h2{font-size:14pt;margin:0 0 4pt}"
    "h3{font-size:11pt;margin:6pt 0 2pt}p,ul{margin:3pt 0}"
    "p,li,.caution{max-width:none}ul{padding-left:12pt}"
    ".box{overflow:visible;margin:3pt 0}.caution{padding:2pt 5pt;margin:3pt 0}"
    "tr,.caution,li{break-inside:avoid}figure{break-inside:avoid;"
    "width:12cm;border:0;padding:0;margin:2pt 0}figure svg{min-width:0}"
    "figcaption{padding:0;font-size:9.5pt}"
    "h2,h3,caption,thead,.group{break-after:avoid}"
    "#science{font-size:9.5pt}#science h3{break-before:page}"
    "#science figure{width:156mm}#science .narrow{display:inline-block;"
    "width:91mm;vertical-align:top}.narrow svg{max-width:none}"
    "#letter{font-size:11.5pt;line-height:1.45}"
    ".lead{font-size:12pt}.small,.side{font-size:9.5pt}"
    ".side li{line-height:1.2}"
    "table{font-size:9.5pt;line-height:1.2}th,td{padding:1pt 4pt}}\n"
    "@page{margin:10mm 12mm}\n"
    /* worksheets of a class: a sheet of paper each, front and back */
    ".write div{height:7mm;border-bottom:1px dotted var(--soft)}"
    ".beside{display:flex;flex-wrap:wrap;gap:0 6mm;align-items:flex-start}"
    ".beside>.write{flex:1 1 60mm}\n"
    "@media print{section[id^=sheet-] .box{break-inside:avoid}"
    "section[id^=sheet-],section[id^=sheet-] .side{font-size:10pt}"
    "section[id^=sheet-] figure{width:112mm}section[id^=sheet-] h3{margin-top:"
    "9pt}"
    "section[id^=sheet-] table{font-size:9.5pt}}\n";

static const char *entity(char c) {
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return ((unsigned char)c < ' ' || c == 0x7f) ? " " : NULL;
    }
}

void page_escape(FILE *to, const char *text) {
    Text escaped = {0};
    text_escape(&escaped, text, entity);
    fputs(text_of(&escaped), to);
    text_free(&escaped);
}

/* An element that holds text alone. */
static void element(Page *page, const char *tag, const char *attributes,
                    const char *text) {
    fprintf(page->to, "<%s%s dir=\"auto\">", tag, attributes);
    page_escape(page->to, text);
    fprintf(page->to, "</%s>\n", tag);
}

void page_hash(const char *text, size_t length, Text *policy) {
    struct sha256_ctx sum;
    uint8_t digest[SHA256_DIGEST_SIZE];
    char coded[BASE64_ENCODE_RAW_LENGTH(SHA256_DIGEST_SIZE) + 1] = "";
    sha256_init(&sum);
    sha256_update(&sum, length, (const uint8_t *)text);
    sha256_digest(&sum, sizeof digest, digest);
    base64_encode_raw(coded, sizeof digest, digest);
    text_add(policy, "'sha256-%s'", coded);
}

void page_begin(Page *page, FILE *to, const char *title, const char *script) {
    page_begin_styled(page, to, title, script, "");
}

void page_begin_styled(Page *page, FILE *to, const char *title,
                       const char *script, const char *rules) {
    *page = (Page){.to = to};
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n"
          "<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
          "content=\"width=device-width, initial-scale=1\">\n"
          "<meta name=\"color-scheme\" content=\"light dark\">\n"
          "<meta http-equiv=\"Content-Security-Policy\" content=\""
          "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; "
          "form-action 'none'",
          to);
    fprintf(to, "%s%s\">\n", script[0] ? "; script-src " : "", script);
    element(page, "title", "", title);
    fprintf(to, "<style>\n%s%s%s</style>\n</head>\n<body>\n", style, on_paper,
            rules);
    fputs("<a class=\"skip\" href=\"#content\">Skip to the content</a>\n"
          "<header>\n",
          to);
    element(page, "h1", "", title);
    fputs("</header>\n<main id=\"content\">\n", to);
}

void page_end(Page *page) {
    fputs("</main>\n</body>\n</html>\n", page->to);
}

void page_section(Page *page, const char *id, const char *heading) {
    fprintf(page->to, "<section id=\"%s\" aria-labelledby=\"%s-heading\">\n",
            id, id);
    fprintf(page->to, "<h2 id=\"%s-heading\" dir=\"auto\">", id);
    page_escape(page->to, heading);
    fputs("</h2>\n", page->to);
}

void page_section_end(Page *page) {
    fputs("</section>\n", page->to);
}

void page_heading(Page *page, const char *text) {
    element(page, "h3", "", text);
}

void page_paragraph(Page *page, const char *text) {
    element(page, "p", "", text);
}

void page_lead(Page *page, const char *text) {
    element(page, "p", " class=\"lead\"", text);
}

void page_small(Page *page, const char *text) {
    element(page, "p", " class=\"small\"", text);
}

void page_caution(Page *page, const char *text) {
    element(page, "p", " class=\"caution\" role=\"note\"", text);
}

void page_list(Page *page) {
    fputs("<ul>\n", page->to);
}

void page_list_end(Page *page) {
    fputs("</ul>\n", page->to);
}

void page_item(Page *page, const char *text) {
    element(page, "li", "", text);
}

void page_item_link(Page *page, const char *id, const char *text) {
    fprintf(page->to, "<li><a href=\"#%s\" dir=\"auto\">", id);
    page_escape(page->to, text);
    fputs("</a></li>\n", page->to);
}

void page_side(Page *page) {
    fputs("<div class=\"side\">\n", page->to);
}

void page_side_end(Page *page) {
    fputs("</div>\n", page->to);
}

void page_write(Page *page, int lines) {
    fputs("<div class=\"write\" aria-hidden=\"true\">", page->to);
    for (int i = 0; i < lines; i++)
        fputs("<div>&nbsp;</div>", page->to);
    fputs("</div>\n", page->to);
}

void page_beside(Page *page) {
    fputs("<div class=\"beside\">\n", page->to);
}

void page_beside_end(Page *page) {
    fputs("</div>\n", page->to);
}

void page_columns(Page *page) {
    fputs("<div class=\"columns\">\n", page->to);
}

void page_columns_end(Page *page) {
    fputs("</div>\n", page->to);
}

/* ---- tables ---- */

enum { CARDS = 4 /* columns from which a row becomes a card on a phone */ };

/* Opens a tag; what becomes a card says what it was in the table. */
static void open_tag(Page *page, const Grid *grid, const char *tag,
                     const char *role) {
    fprintf(page->to, "<%s", tag);
    if (grid->count >= CARDS)
        fprintf(page->to, " role=\"%s\"", role);
}

/* The lines of a column's title as one; a hyphen at a line's end joins its
 * halves again. */
static void add_title(Text *to, const GridColumn *column) {
    for (const char *at = column->title; *at;) {
        size_t length = strcspn(at, "\n");
        bool joins = at[length] == '\n' && length > 0 && at[length - 1] == '-';
        text_put(to, at, length - joins);
        at += length;
        if (*at == '\n') {
            text_add(to, "%s", joins ? "" : " ");
            at++;
        }
    }
}

static void head_cell(Page *page, const Grid *grid, int column) {
    Text title = {0};
    add_title(&title, &grid->columns[column]);
    if (title.length == 0) { /* heads nothing */
        open_tag(page, grid, "td", "cell");
        fputs("></td>", page->to);
        return;
    }
    open_tag(page, grid, "th", "columnheader");
    fprintf(page->to, " scope=\"col\"%s>",
            grid->columns[column].right ? " class=\"n\"" : "");
    page_escape(page->to, text_of(&title));
    fputs("</th>", page->to);
    text_free(&title);
}

static void body_cell(Page *page, const Grid *grid, size_t at) {
    int column = (int)(at % (size_t)grid->count);
    const char *tag = column == 0 ? "th" : "td";
    open_tag(page, grid, tag, column == 0 ? "rowheader" : "cell");
    if (column > 0 && grid->count >= CARDS) {
        Text title = {0};
        add_title(&title, &grid->columns[column]);
        fputs(" data-title=\"", page->to);
        page_escape(page->to, text_of(&title));
        fputc('"', page->to);
        text_free(&title);
    }
    fprintf(page->to, "%s%s dir=\"auto\">", column == 0 ? " scope=\"row\"" : "",
            grid->columns[column].right ? " class=\"n\"" : "");
    page_escape(page->to, grid->cells[at]);
    fprintf(page->to, "</%s>", tag);
}

static void group_row(Page *page, const Grid *grid, const char *title) {
    open_tag(page, grid, "tr", "row");
    fputs(" class=\"group\">", page->to);
    open_tag(page, grid, "th", "rowheader");
    fprintf(page->to, " scope=\"rowgroup\" colspan=\"%d\" dir=\"auto\">",
            grid->count);
    page_escape(page->to, title);
    fputs("</th></tr>\n", page->to);
}

static void table_rows(Page *page, const Grid *grid) {
    size_t count = (size_t)grid->count, group = 0;
    open_tag(page, grid, "tbody", "rowgroup");
    fputs(">\n", page->to);
    for (size_t row = 0; row < grid->cell_count / count; row++) {
        for (; group < grid->group_count && grid->groups[group].row == row;
             group++)
            group_row(page, grid, grid->groups[group].title);
        open_tag(page, grid, "tr", "row");
        fputc('>', page->to);
        for (size_t i = 0; i < count; i++)
            body_cell(page, grid, row * count + i);
        fputs("</tr>\n", page->to);
    }
    fputs("</tbody>\n", page->to);
}

static void table_head(Page *page, const Grid *grid) {
    if (!grid_titled(grid))
        return;
    open_tag(page, grid, "thead", "rowgroup");
    fputc('>', page->to);
    open_tag(page, grid, "tr", "row");
    fputc('>', page->to);
    for (int i = 0; i < grid->count; i++)
        head_cell(page, grid, i);
    fputs("</tr></thead>\n", page->to);
}

void page_table(Page *page, const Grid *grid, const char *caption) {
    fputs("<div class=\"box\" tabindex=\"0\" role=\"group\" aria-label=\"",
          page->to);
    page_escape(page->to, caption[0] ? caption : "Table");
    fputs("\">\n", page->to);
    open_tag(page, grid, "table", "table");
    fputs(grid->count >= CARDS ? " class=\"cards\">\n" : ">\n", page->to);
    if (caption[0])
        element(page, "caption", "", caption);
    table_head(page, grid);
    table_rows(page, grid);
    fputs("</table>\n</div>\n", page->to);
}

/* ---- pictures ---- */

static char *read_file(const char *path, Status *status) {
    FILE *file = fopen(path, "rb");
    Text text = {0};
    char block[4096];
    size_t got;
    if (!file) {
        status_fail(status, STATUS_SYSTEM, "%s: cannot be opened: %s", path,
                    strerror(errno));
        return NULL;
    }
    while ((got = fread(block, 1, sizeof block, file)) > 0)
        text_put(&text, block, got);
    if (ferror(file))
        status_fail(status, STATUS_SYSTEM, "%s: cannot be read: %s", path,
                    strerror(errno));
    fclose(file);
    text_put(&text, "", 0);
    return text.data ? text.data : mem_copy("");
}

static bool starts(const char *at, const char *with) {
    return strncmp(at, with, strlen(with)) == 0;
}

/* Copies the picture; all pictures of gnuplot use the same identifiers, so each
 * gets the figure's number before its own. */
static void put_svg(Page *page, const char *at) {
    static const char *const marks[] = {"id='", "id=\"", "href='#", "href=\"#",
                                        "url(#"};
    bool tag = false;
    for (; *at; at++) {
        tag = *at == '<' || (tag && *at != '>');
        fputc(*at, page->to);
        for (int i = 0; i < 5 && tag; i++) {
            size_t length = strlen(marks[i]);
            if (*at != marks[i][0] || !starts(at, marks[i]))
                continue;
            fwrite(at + 1, 1, length - 1, page->to);
            fprintf(page->to, "f%d-", page->figures);
            at += length - 1;
            break;
        }
    }
}

/* From behind the SVG's own title and words: the page has them as labels. */
static const char *behind_title(const char *svg) {
    const char *title = strstr(svg, "<title>");
    const char *end = strstr(svg, "</desc>");
    return title && end ? end + 7 : svg;
}

/* The SVG's own words, escaped as they stand there. */
static void put_own_words(FILE *to, const char *svg) {
    const char *from = strstr(svg, "<desc>");
    if (from)
        fprintf(to, "%.*s", (int)strcspn(from + 6, "<\""), from + 6);
}

enum { NARROW = 400 /* units of a view box that a phone shows whole */ };

static bool is_narrow(const char *svg) {
    const char *view = strstr(svg, "viewBox=\"");
    double wide = NARROW + 1;
    if (view)
        sscanf(view, "viewBox=\"%*f %*f %lf", &wide);
    return wide <= NARROW;
}

/* Up to the SVG element's first child. */
static void figure_head(Page *page, const char *svg, const char *alt,
                        const char *caption) {
    const char *view = strstr(svg, "viewBox=\""), *open = strchr(svg, '>');
    page->figures++;
    fprintf(page->to, "<figure%s>\n",
            is_narrow(svg) ? " class=\"narrow\"" : "");
    fputs("<div class=\"box\" tabindex=\"0\" role=\"group\" "
          "aria-label=\"",
          page->to);
    page_escape(page->to, caption);
    fputs("\">\n<svg role=\"img\" aria-label=\"", page->to);
    if (alt)
        page_escape(page->to, alt);
    else
        put_own_words(page->to, svg);
    fputs("\" ", page->to);
    if (view && view < open)
        fprintf(page->to, "viewBox=\"%.*s\" ", (int)strcspn(view + 9, "\""),
                view + 9);
    fputs("xmlns=\"http://www.w3.org/2000/svg\" "
          "xmlns:xlink=\"http://www.w3.org/1999/xlink\">",
          page->to);
}

StatusCode page_svg(Page *page, const char *svg, const char *alt,
                    const char *caption, Status *status) {
    const char *start = strstr(svg, "<svg");
    const char *open = start ? strchr(start, '>') : NULL;
    if (!open)
        return status_fail(status, STATUS_SYSTEM,
                           "no picture that can be put into a page: it has no "
                           "<svg> element");
    figure_head(page, start, alt, caption);
    put_svg(page, behind_title(open + 1));
    fputs("</div>\n", page->to);
    element(page, "figcaption", "", caption);
    fputs("</figure>\n", page->to);
    return STATUS_OK;
}

StatusCode page_figure(Page *page, const char *path, const char *alt,
                       const char *caption, Status *status) {
    char *file = read_file(path, status);
    Status inside = {0};
    if (file && page_svg(page, file, alt, caption, &inside) != STATUS_OK)
        status_fail(status, inside.code, "%s: %s", path, inside.text);
    free(file);
    return status->code;
}
