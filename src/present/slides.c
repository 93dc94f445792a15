/* slides: see slides.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/slides.h"

static void put_escaped(Text *page, const char *text) {
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        if (c == '&')
            text_add(page, "&amp;");
        else if (c == '<')
            text_add(page, "&lt;");
        else if (c == '>')
            text_add(page, "&gt;");
        else if (c == '"')
            text_add(page, "&quot;");
        else if (c == '\'')
            text_add(page, "&#39;");
        else
            text_put(page, c < 0x20 || c == 0x7F ? " " : text, 1);
    }
}

static void put_element(Text *page, const char *name, const char *text) {
    text_add(page, "<%s>", name);
    put_escaped(page, text);
    text_add(page, "</%s>\n", name);
}

/* RFC 4648, section 4. */
static void put_base64(Text *page, const char *bytes, size_t length) {
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                 "abcdefghijklmnopqrstuvwxyz0123456789+/";
    const unsigned char *s = (const unsigned char *)bytes;
    for (size_t i = 0; i < length; i += 3) {
        unsigned long three = (unsigned long)s[i] << 16;
        char four[4];
        if (i + 1 < length)
            three |= (unsigned long)s[i + 1] << 8;
        if (i + 2 < length)
            three |= s[i + 2];
        four[0] = digits[three >> 18];
        four[1] = digits[three >> 12 & 63];
        four[2] = i + 1 < length ? digits[three >> 6 & 63] : '=';
        four[3] = i + 2 < length ? digits[three & 63] : '=';
        text_put(page, four, 4);
    }
}

void slides_begin(Text *page, const char *title, const char *subtitle) {
    text_add(page, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n"
                   "<meta charset=\"utf-8\">\n"
                   "<meta name=\"viewport\" "
                   "content=\"width=device-width, initial-scale=1\">\n");
    put_element(page, "title", title);
    text_add(page,
             "<style>\n"
             "body { font: 20px/1.5 sans-serif; margin: 0 auto; "
             "max-width: 60rem; padding: 1rem; color: #000; "
             "background: #fff }\n"
             "section { min-height: 95vh; border-top: 2px solid #555 }\n"
             "img { width: 100%%; height: auto }\n"
             "figure { margin: 0 } figcaption { color: #444 }\n"
             "@media print { body { font-size: 13pt; max-width: none } "
             "section { break-before: page; border: 0; min-height: 0 } }\n"
             "</style>\n</head>\n<body>\n<main>\n");
    put_element(page, "h1", title);
    put_element(page, "p", subtitle);
}

void slides_add(Text *page, const Slide *slide) {
    text_add(page, "<section>\n");
    put_element(page, "h2", slide->title);
    if (!slide->svg) {
        put_element(page, "p", slide->words);
        text_add(page, "</section>\n");
        return;
    }
    text_add(page, "<figure>\n<img alt=\"");
    put_escaped(page, slide->alt);
    text_add(page, "\" src=\"data:image/svg+xml;base64,");
    put_base64(page, slide->svg, slide->svg_length);
    text_add(page, "\">\n");
    put_element(page, "figcaption", slide->caption);
    text_add(page, "</figure>\n");
    put_element(page, "p", slide->words);
    text_add(page, "</section>\n");
}

void slides_end(Text *page) {
    text_add(page, "</main>\n</body>\n</html>\n");
}
