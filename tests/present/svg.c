/* svg: a packed picture shows what the whole one shows.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "present/plot.h"
#include "present/svg.h"

#include <stdlib.h>

#define HEAD "<svg viewBox=\"0 0 9.50 5\"><title>12.00</title>"
#define GROUP                                                                  \
    "<g fill=\"none\" color=\"black\" stroke=\"currentColor\" "                \
    "stroke-width=\"1.00\" stroke-linecap=\"butt\" "                           \
    "stroke-linejoin=\"miter\">\n"
#define POLYGON(colour, points)                                                \
    "\t\t<polygon fill = 'rgb(" colour ")' points = '" points " '/>\n"

/* Each rule of the header, on the forms gnuplot writes. */
static void rules(void) {
    static const struct {
        const char *whole, *packed;
    } rows[] = {
        {"<text>a  1.50 rgb(1,2,3)\n</text>",
         "<text>a  1.50 rgb(1,2,3)\n</text>"},
        {"<path stroke='rgb( 90,  0, 255)'  d='M10.00,9.996 L10.05,0.50 \n\tL"
         "-3.25,120.07  '/>",
         "<path stroke='#5a00ff' d='M10,10 10.1,0.5 L-3.25,120.1'/>"},
        {GROUP "</g>\n" GROUP "<path d='h2'/></g>", "<g><path d='h2'/></g>"},
        {"<g stroke=\"rgb(1, 2, 3)\" stroke-width=\"2.40\" >\n</g>x", "x"},
        {"<g><title>gnuplot_plot_1</title><title>mine</title></g>",
         "<g><title>mine</title></g>"},
        {"<circle id='gpDot' r='0.5'/><use id='gpPt1'/><use xlink:href="
         "'#gpPt1'/>",
         "<use id='gpPt1'/><use xlink:href='#gpPt1'/>"},
        /* one colour: one path; a box that goes on: one box */
        {POLYGON("1, 2, 3", "0.00,9.00 2.00,9.00 2.00,5.00 0.00,5.00")
             POLYGON("1, 2, 3", "0.00,5.10 2.00,5.10 2.00,1.00 0.00,1.00"),
         "<path fill='#010203' d='M0,9H2V1H0z'/>"},
        {POLYGON("1, 2, 3", "0.00,9.00 2.00,9.00 2.00,5.00 0.00,5.00")
             POLYGON("1, 2, 3", "2.00,9.00 4.00,9.00 4.00,5.00 2.00,5.00"),
         "<path fill='#010203' d='M0,9H4V5H0z'/>"},
        {POLYGON("1, 2, 3", "0.00,9.00 2.00,9.00 2.00,5.00 0.00,5.00")
             POLYGON("1, 2, 3", "2.50,9.00 4.00,9.00 4.00,5.00 2.50,5.00"),
         "<path fill='#010203' d='M0,9H2V5H0zM2.5,9H4V5H2.5z'/>"},
        {POLYGON("1, 2, 3", "0.00,9.00 2.00,9.00 2.00,5.00 0.00,5.00")
             POLYGON("1, 2, 4", "0.00,5.00 2.00,5.00 2.00,1.00 0.00,1.00"),
         "<path fill='#010203' d='M0,9H2V5H0z'/>"
         "<path fill='#010204' d='M0,5H2V1H0z'/>"},
        {POLYGON("1, 2, 3", "0.00,9.00 2.00,8.00 2.00,5.00"),
         "<path fill='#010203' d='M0,9 2,8 2,5z'/>"},
        {"<g id=\"gnuplot_canvas\">\n<rect x=\"0\" /></g>",
         "<g fill=\"none\"><rect x=\"0\"/></g>"},
        {"<path d='M1.00", "<path d='M1"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Text whole = {0}, packed = {0}, want = {0};
        text_add(&whole, "%s<desc></desc>\n%s", HEAD, rows[i].whole);
        text_add(&want, "%s<desc></desc>%s", HEAD, rows[i].packed);
        svg_pack(text_of(&whole), &packed);
        ASSERT_TEXT(text_of(&packed), text_of(&want));
        text_free(&whole);
        text_free(&packed);
        text_free(&want);
    }
}

/* README's pictures of the season and of the map, whole and packed: the same
 * letters at the same places, the same colours on the same areas, the same
 * curves, each to a pixel. */
static void same_drawing(void) {
    static const char script[] =
        "import re, sys, xml.etree.ElementTree as E\n"
        "ns = '{http://www.w3.org/2000/svg}'\n"
        "def hexed(c):\n"
        "    n = re.findall(r'\\d+', c) if c and c[:3] == 'rgb' else []\n"
        "    return '#%02x%02x%02x' % tuple(map(int, n)) if n else c\n"
        "def cells(points, into):\n" /* of 1 px, by their middles */
        "    xs = [x for x, y in points]; ys = [y for x, y in points]\n"
        "    for j in range(int(min(ys)), int(max(ys)) + 1):\n"
        "        y = j + .5\n"
        "        cut = sorted(a + (y - b) * (c - a) / (d - b) for (a, b), "
        "(c, d)\n"
        "            in zip(points, points[1:] + points[:1])\n"
        "            if (b > y) != (d > y))\n"
        "        for a, b in zip(cut[::2], cut[1::2]):\n"
        "            into.update((i, j) for i in range(int(a + .5), "
        "int(b + .5)))\n"
        "def corners(d):\n"
        "    out, now = [], []\n"
        "    for part in re.findall(r'M[^Mz]*', d):\n"
        "        now = []\n"
        "        for c, x, y in re.findall(r'([MHVL ])(-?[\\d.]+)"
        "(?:,(-?[\\d.]+))?', part):\n"
        "            if y: now.append((float(x), float(y)))\n"
        "            elif c == 'H': now.append((float(x), now[-1][1]))\n"
        "            elif c == 'V': now.append((now[-1][0], float(x)))\n"
        "        out.append(now)\n"
        "    return out\n"
        "def seen(path):\n"
        "    texts, areas, lines = [], {}, {}\n"
        "    root = E.parse(path).getroot()\n"
        "    for g in root.iter(ns + 'g'):\n"
        "        for t in g.findall(ns + 'text'):\n"
        "            at = re.findall(r'-?[\\d.]+', g.get('transform'))\n"
        "            texts.append((''.join(t.itertext()).strip(),\n"
        "                [round(float(v)) for v in at]))\n"
        "    for e in root.iter():\n"
        "        colour = hexed(e.get('fill')), float(e.get('fill-opacity') "
        "or 1)\n"
        "        if e.tag == ns + 'polygon':\n"
        "            p = [tuple(map(float, v.split(','))) for v in "
        "e.get('points').split()]\n"
        "            cells(p, areas.setdefault(colour, set()))\n"
        "        elif e.tag == ns + 'path' and e.get('fill'):\n"
        "            for p in corners(e.get('d')):\n"
        "                cells(p, areas.setdefault(colour, set()))\n"
        "        elif e.tag == ns + 'path' and e.get('stroke', '')[:1] in "
        "'#r':\n"
        "            lines.setdefault(hexed(e.get('stroke')), []).append(\n"
        "                [tuple(round(v) for v in q) for p in "
        "corners(e.get('d')) for q in p])\n"
        "    return texts, areas, lines\n"
        "a, b = seen(sys.argv[1]), seen(sys.argv[2])\n"
        "print(len(a[0]) > 20, len(a[0]) == len(b[0]) and all(s[0] == t[0]"
        " and\n"
        "    all(abs(u - v) <= 1 for u, v in zip(s[1], t[1])) for s, t in "
        "zip(a[0], b[0])))\n"
        "print(len(a[1]) > 3, a[1].keys() == b[1].keys())\n"
        "print(all(len(a[1][c] ^ b[1][c]) <= 20 + .05 * len(a[1][c]) "
        "for c in a[1]))\n"
        "near = lambda p, q: len(p) == len(q) and all(abs(u - v) <= 1\n"
        "    for s, t in zip(p, q) for u, v in zip(s, t))\n"
        "print(sum(map(len, a[2].values())) > 20, all(len(a[2][c]) == "
        "len(b[2][c]) and\n"
        "    all(map(near, a[2][c], b[2][c])) for c in a[2]))\n"
        "import os; print(os.path.getsize(sys.argv[2]) < .6 * "
        "os.path.getsize(sys.argv[1]))\n";
    static const char *const pictures[] = {"plots/example-season.svg",
                                           "plots/example-map.svg"};
    for (size_t i = 0; i < 2; i++) {
        char *whole = test_read(pictures[i], NULL), *out;
        const char *folder = test_folder();
        Text packed = {0};
        CU_ASSERT_PTR_NOT_NULL_FATAL(whole);
        svg_pack(whole, &packed);
        out = test_python(script, (const char *[]){pictures[i],
                                                   test_file(0, "packed.svg",
                                                             text_of(&packed)),
                                                   NULL});
        ASSERT_TEXT(out, "True True\nTrue True\nTrue\nTrue True\nTrue\n");
        (void)folder;
        free(out);
        free(whole);
        text_free(&packed);
        test_folder_done();
    }
}

static const TestCase cases[] = {
    {"rules", rules}, {"same_drawing", same_drawing}, {NULL, NULL}};

const TestSuite suite_present_svg = {"present", cases};
