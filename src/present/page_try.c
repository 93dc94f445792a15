/* page_try: see page_try.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/page_try.h"

#include "present/page.h"

static const char script[] =
    "\n'use strict';\n"
    "for (const box of document.querySelectorAll('.try')) {\n"
    "  const t = JSON.parse(box.dataset.values);\n"
    "  const part = name => box.querySelector('.' + name);\n"
    "  const days = part('days'), cut = part('cut'), shape = part('shape');\n"
    "  for (const [i, s] of t.shapes.entries())\n"
    "    shape.add(new Option(s.name, i));\n"
    "  days.max = t.shapes[0].days.length;\n"
    "  cut.max = t.shapes[0].days[0].length - 1;\n"
    "  [days.value, cut.value, shape.value] = t.start;\n"
    "  const all = [0, t.mark];\n"
    "  for (const s of t.shapes) for (const row of s.days) for (const c of "
    "row)\n"
    "    if (c) all.push(c[1] ?? c[0], c[2] ?? c[0]);\n"
    "  const low = Math.min(...all), high = Math.max(...all);\n"
    "  const x = v => 300 * (v - low) / (high - low || 1);\n"
    "  const sign = v => (v < 0 ? '\\u2212' : '+') + "
    "Math.abs(v).toFixed(1);\n"
    "  const place = (name, from, to) => {\n"
    "    part(name).setAttribute('x', x(from));\n"
    "    part(name).setAttribute('width', Math.max(2, x(to) - x(from)));\n"
    "  };\n"
    "  const show = () => {\n"
    "    const percent = t.first + t.step * cut.value;\n"
    "    const s = t.shapes[shape.value];\n"
    "    const c = s.days[days.value - 1][cut.value];\n"
    "    const long = days.value + (days.value == 1 ? ' day' : ' days');\n"
    "    part('days-now').textContent = long;\n"
    "    part('cut-now').textContent = percent + ' %';\n"
    "    days.setAttribute('aria-valuetext', long);\n"
    "    cut.setAttribute('aria-valuetext', percent + ' %');\n"
    "    for (const name of ['range', 'gain'])\n"
    "      part(name).setAttribute('visibility', c ? 'visible' : 'hidden');\n"
    "    if (!c) {\n"
    "      part('says').textContent = s.more;\n"
    "      return;\n"
    "    }\n"
    "    part('says').textContent = 'Expected gain ' + sign(c[0]) + ' % of ' "
    "+\n"
    "      t.unit + (c[1] === null ? '' : ' (90 % range ' + sign(c[1]) +\n"
    "      ' to ' + sign(c[2]) + ' %), helps in ' + c[3] +\n"
    "      ' of 100 likely models') + '. ' + t.given + ': ' + sign(t.mark) +\n"
    "      ' %.' + (c[4] ? ' Outside the limits set for this page.' : '');\n"
    "    place('range', c[1] ?? c[0], c[2] ?? c[0]);\n"
    "    place('gain', c[0], c[0]);\n"
    "  };\n"
    "  place('zero', 0, 0);\n"
    "  place('mark', t.mark, t.mark);\n"
    "  for (const input of [days, cut, shape])\n"
    "    input.addEventListener('input', show);\n"
    "  box.hidden = false;\n"
    "  show();\n"
    "}\n";

void page_try_policy(Text *policy) {
    page_hash(script, sizeof script - 1, policy);
}

void page_try_script(FILE *to) {
    fprintf(to, "<script>%s</script>\n", script);
}

static void slider(FILE *to, int number, const char *name, const char *label,
                   int least) {
    fprintf(to,
            "<p><label for=\"try-%d-%s\">%s</label> <output "
            "class=\"%s-now\" for=\"try-%d-%s\">-</output><br><input "
            "type=\"range\" id=\"try-%d-%s\" class=\"%s\" min=\"%d\" "
            "max=\"28\"></p>\n",
            number, name, label, name, number, name, number, name, name, least);
}

/* A bar of the range, the gain in it, no gain, and the page's taper. */
static void bar(FILE *to) {
    fputs(
        "<svg viewBox=\"-4 0 308 30\" aria-hidden=\"true\">"
        "<rect class=\"range\" y=\"8\" height=\"14\" fill=\"#4a9a70\"/>"
        "<rect class=\"zero\" y=\"0\" height=\"30\" fill=\"#767676\"/>"
        "<rect class=\"mark\" y=\"2\" height=\"26\" fill=\"#b35900\"/>"
        "<rect class=\"gain\" y=\"4\" height=\"22\" fill=\"#063d21\"/></svg>\n"
        "<p class=\"small\">Light bar: 90 % range. Dark line: expected gain. "
        "Orange line: this page's taper. Grey line: no gain.</p>\n",
        to);
}

void page_try(FILE *to, int number, const char *name, const char *values) {
    fprintf(to, "<div class=\"try\" role=\"group\" hidden aria-label=\"");
    page_escape(to, name);
    fputs("\" data-values=\"", to);
    page_escape(to, values);
    fputs("\">\n", to);
    slider(to, number, "days", "Length:", 1);
    slider(to, number, "cut", "Volume cut:", 0);
    fprintf(to,
            "<p><label for=\"try-%d-shape\">Shape:</label> <select "
            "id=\"try-%d-shape\" class=\"shape\"></select></p>\n",
            number, number);
    fputs("<p class=\"says\" aria-live=\"polite\"></p>\n", to);
    bar(to);
    fputs("</div>\n", to);
}
