/* svg: see svg.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/svg.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool starts(const char *at, const char *with) {
    return strncmp(at, with, strlen(with)) == 0;
}

static bool ends(const Text *text, const char *with) {
    size_t length = strlen(with);
    return text->length >= length &&
           strcmp(text->data + text->length - length, with) == 0;
}

static void cut_to(Text *text, size_t length) {
    text->length = length;
    text->data[length] = '\0';
}

/* ---- within a tag ---- */

/* Bytes of what every group says, as SVG and the page have it anyhow. */
static size_t said_anyhow(const char *at) {
    static const char *const words[] = {" color=\"black\"",
                                        " stroke-linecap=\"butt\"",
                                        " stroke-linejoin=\"miter\"",
                                        " class=\"gridline\"",
                                        " font-family=\"DejaVu Sans\"",
                                        " stroke=\"currentColor\"",
                                        " stroke-width=\"1.00\"",
                                        " fill=\"none\""};
    for (size_t i = 0; i < sizeof words / sizeof *words && *at == ' '; i++)
        if (starts(at, words[i]))
            return strlen(words[i]);
    return 0;
}

/* A number with a decimal point, which is not below 0. Returns the bytes read;
 * 0: there is none. */
static size_t put_number(const char *at, Text *to) {
    size_t length = strspn(at, "0123456789.");
    double value;
    long hundredths;
    if (length < 2 || !memchr(at, '.', length))
        return 0;
    value = strtod(at, NULL);
    hundredths = value < 10 ? lround(100 * value) : 10 * lround(10 * value);
    text_add(to, "%ld", hundredths / 100);
    if (hundredths % 10)
        text_add(to, ".%02ld", hundredths % 100);
    else if (hundredths % 100)
        text_add(to, ".%ld", hundredths % 100 / 10);
    return length;
}

static size_t put_colour(const char *at, Text *to) {
    char *next = (char *)at + 3;
    if (!starts(at, "rgb("))
        return 0;
    text_add(to, "#");
    for (int i = 0; i < 3; i++) /* from behind the bracket, then a comma */
        text_add(to, "%02lx", strtoul(next + 1, &next, 10));
    return (size_t)(next - at) + 1;
}

/* Blanks as one, or as none where they part nothing; an L goes without saying
 * after the point before it. */
static size_t put_blanks(const char *at, Text *to) {
    size_t length = strspn(at, " \t\n");
    const char *next = at + length;
    if (length == 0)
        return 0;
    if (*next == 'L' && isdigit((unsigned char)next[1]))
        length++;
    if (!strchr("=/>'", *next) && !ends(to, "="))
        text_add(to, " ");
    return length;
}

static void put_attributes(const char *tag, size_t length, Text *to) {
    for (const char *at = tag; at < tag + length;) {
        size_t read = said_anyhow(at);
        if (!read)
            read = put_blanks(at, to);
        if (!read)
            read = put_number(at, to);
        if (!read)
            read = put_colour(at, to);
        if (!read)
            text_put(to, at, read = 1);
        at += read;
    }
}

/* ---- tags ---- */

#define NEAR .15 /* [px] shapes as near as that touch */

/* The place of the last such byte; 0: there is none. */
static size_t last_of(const Text *to, char byte) {
    size_t at = to->length;
    while (at > 0 && to->data[--at] != byte)
        ;
    return at;
}

/* A rectangle: its corners at the lower left and the upper right. */
typedef struct {
    double x1, y1, x2, y2;
} Box;

static bool is_box(const char *points, Box *box) {
    double x[4], y[4];
    int end = 0;
    if (sscanf(points, "%lf,%lf %lf,%lf %lf,%lf %lf,%lf%n", x, y, x + 1, y + 1,
               x + 2, y + 2, x + 3, y + 3, &end) != 8 ||
        points[end] != '\'')
        return false;
    *box = (Box){x[0], y[0], x[2], y[2]};
    return y[0] == y[1] && x[1] == x[2] && y[2] == y[3] && x[3] == x[0];
}

/* Does it go on where the one before it ends, to the right or upwards? */
static bool goes_on(const Box *before, const Box *box) {
    if (before->x1 == box->x1 && before->x2 == box->x2)
        return box->y1 <= before->y1 && box->y1 >= before->y2 - NEAR;
    return before->y1 == box->y1 && before->y2 == box->y2 &&
           box->x1 >= before->x1 && box->x1 <= before->x2 + NEAR;
}

/* The polygon as part of the path that ends the text; a box that goes on where
 * the last one ended as one with it. */
static void put_shape(const char *points, Text *to) {
    Box box, before;
    size_t last = last_of(to, 'M');
    if (!is_box(points, &box)) {
        text_add(to, "M%.*sz", (int)strcspn(points, "'"), points);
        return;
    }
    if (last > last_of(to, '<') &&
        sscanf(to->data + last, "M%lf,%lfH%lfV%lf", &before.x1, &before.y1,
               &before.x2, &before.y2) == 4 &&
        goes_on(&before, &box)) {
        cut_to(to, last);
        box.x1 = before.x1;
        box.y1 = before.y1;
    }
    text_add(to, "M%g,%gH%gV%gH%gz", box.x1, box.y1, box.x2, box.y2, box.x1);
}

/* A polygon, packed, as a path; as part of the path before it if that looks
 * the same. */
static void put_polygon(const char *polygon, Text *to) {
    const char *points = strstr(polygon, " points='");
    Text head = {0};
    size_t last = last_of(to, '<');
    text_add(&head, "<path%.*s d='", (int)(points - polygon - 8), polygon + 8);
    if (ends(to, "z'/>") && starts(to->data + last, text_of(&head)))
        cut_to(to, to->length - 3);
    else
        text_add(to, "%s", text_of(&head));
    put_shape(points + 9, to);
    text_add(to, "'/>");
    text_free(&head);
}

/* Is it one of gnuplot's symbols that nothing shows? */
static bool is_idle(const char *packed, const char *whole) {
    const char *id = strstr(packed, " id='gp");
    char name[32];
    if (!id)
        return false;
    snprintf(name, sizeof name, "#%.*s'", (int)strcspn(id + 5, "'"), id + 5);
    return !strstr(whole, name);
}

#define CANVAS "<g id=\"gnuplot_canvas\">"

static void put_tag(const char *tag, size_t length, const char *whole,
                    Text *to) {
    Text packed = {0};
    size_t last = last_of(to, '<');
    put_attributes(tag, length, &packed);
    if (starts(tag, "</g>") && starts(text_of(to) + last, "<g") &&
        ends(to, ">") && !ends(to, "/>"))
        cut_to(to, last);
    else if (starts(tag, "<polygon") && strstr(text_of(&packed), " points='"))
        put_polygon(text_of(&packed), to);
    else if (strcmp(text_of(&packed), CANVAS) == 0)
        text_add(to, "<g fill=\"none\">");
    else if (!is_idle(text_of(&packed), whole))
        text_add(to, "%s", text_of(&packed));
    text_free(&packed);
}

/* Bytes of gnuplot's name for a curve, which browsers would show. */
static size_t title_of_a_plot(const char *at) {
    const char *end = strstr(at, "</title>");
    return end && starts(at, "<title>gnuplot_plot") ? (size_t)(end + 8 - at)
                                                    : 0;
}

void svg_pack(const char *svg, Text *to) {
    const char *at = strstr(svg, "<desc>"); /* up to there as it is */
    at = at ? at : svg + strlen(svg);
    text_put(to, svg, (size_t)(at - svg));
    while (*at) {
        size_t between = strcspn(at, "<"), length;
        if (strspn(at, " \t\n") < between)
            text_put(to, at, between);
        at += between;
        length = title_of_a_plot(at);
        if (length == 0 && *at) {
            length = strcspn(at, ">");
            length += at[length] == '>';
            put_tag(at, length, svg, to);
        }
        at += length;
    }
}
