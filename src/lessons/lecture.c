/* lecture: see lecture.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/lecture.h"

#include <errno.h>
#include <nettle/base64.h>
#include <string.h>

/* With script (body.live) one section fills the screen; its type is made
 * smaller, down to a floor, until all of it is seen (fit() below). */
static const char style[] =
    "[hidden]{display:none!important}\n"
    ".slide p{margin:.35em 0;max-width:none}.slide figure{margin:0}"
    ".slide figcaption{display:none}.slide img{max-width:100%}"
    ".speaker{border:1px solid var(--line);background:var(--tint);"
    "padding:.1rem .8rem}#slide-contents ol{columns:2;max-width:60rem}"
    "#slide-contents li{margin:.25em 0}\n"
    "#controls{background:var(--tint);max-width:none;padding:.25rem .6rem;"
    "display:flex;gap:.5rem;align-items:center;font-size:.9rem}"
    "#controls button{font:inherit;padding:.1rem .7rem}"
    "#place{margin-left:auto}\n"
    "@media screen{body.live{padding:0;overflow:hidden}"
    "body.live main{max-width:none}body.live header{display:none}"
    "body.live.first header{display:block;max-width:none;padding:.5rem 1rem 0}"
    "body.live section{display:none}"
    "body.live section.on{display:block;padding:.4rem 1rem;"
    "font-size:var(--size,20px);line-height:1.4;overflow:hidden;"
    "height:calc(100vh - 2.6rem)}"
    "body.live.first section.on{height:calc(100vh - 6rem)}"
    "body.live .slide.on{display:grid;grid-template-columns:56% 1fr;"
    "grid-template-rows:auto 1fr auto;gap:0 1.2em}"
    "body.live h2{grid-column:1/3;margin:0 0 .3em;font-size:1.4em}"
    "body.live .slide figure{padding:0;border:0}"
    "body.live .slide figure svg{min-width:0;max-height:var(--tall,56vh)}"
    "body.live .slide img{max-height:78vh}"
    "body.live .slide .box{margin:.2em 0;overflow:visible}"
    "body.live table{font-size:.86em;line-height:1.25}"
    "body.live th,body.live td{padding:.1em .5em}"
    "body.live h2:focus{outline:none}"
    "body.live .below{grid-column:1/3}body.live .slide table{width:100%}"
    "body.live [data-step='0'] .picture,body.live [data-step='0'] .answer,"
    "body.live [data-step='0'] .below,body.live [data-step='1'] .below,"
    "body.live [data-step='1'] .answer,body.live [data-step='1'] .key"
    "{visibility:hidden}"
    "body.live .speaker{display:none}body.live.notes .speaker{display:block;"
    "position:fixed;left:1rem;right:1rem;bottom:2.8rem;"
    "border-left:.4rem solid var(--link)}"
    "body.live #controls{position:fixed;bottom:0;left:0;right:0;"
    "height:2.4rem}}\n"
    "@media print{#controls,.film,#slide-contents,.speaker{display:none}"
    "header{display:none}"
    ".slide{display:grid;grid-template-columns:56% 1fr;gap:0 4mm;"
    "break-before:auto!important;break-inside:avoid;font-size:8.5pt;"
    "line-height:1.25;padding-bottom:3mm}"
    ".slide:nth-of-type(odd){break-after:page}.slide:last-of-type{"
    "break-after:auto}"
    ".slide h2{grid-column:1/3;margin:0 0 1mm}.slide figure{width:100%}"
    ".slide figure svg{max-height:62mm}.slide table{font-size:8pt;"
    "line-height:1.15}.slide caption{font-size:7.5pt}.below{"
    "grid-column:1/3}}\n";

static const char script[] =
    "\n'use strict';\n"
    "const slides = [...document.querySelectorAll('main > section')];\n"
    "const byId = id => document.getElementById(id);\n"
    "let at = 0;\n"
    "const step = () => Number(slides[at].dataset.step ?? 2);\n"
    "function fit() {\n"
    "  const s = slides[at], most = Math.min(22, innerWidth / 52);\n"
    "  const over = () => s.scrollHeight > s.clientHeight + 1 ||\n"
    "    s.scrollWidth > s.clientWidth + 1 || [...s.children].some(c =>\n"
    "    getComputedStyle(c).position !== 'fixed' &&\n"
    "    c.scrollWidth > c.clientWidth + 1);\n"
    "  for (const [tall, least] of [[56, 16], [46, 16], [56, 15],\n"
    "      [38, 15], [32, 10]])\n"
    "    for (let size = most; size >= least; size -= .5) {\n"
    "      s.style.setProperty('--size', size + 'px');\n"
    "      s.style.setProperty('--tall', tall + 'vh');\n"
    "      if (!over()) return;\n"
    "    }\n"
    "}\n"
    "function show(focus) {\n"
    "  slides.forEach((s, i) => s.classList.toggle('on', i === at));\n"
    "  document.body.classList.toggle('first', at === 0);\n"
    "  byId('place').textContent = at ? at + ' of ' + (slides.length - 1) +\n"
    "    ': ' + ['question', 'picture', 'answer'][step()] : 'Contents';\n"
    "  byId('back').disabled = at === 0;\n"
    "  byId('on').disabled = at === slides.length - 1 && step() === 2;\n"
    "  fit();\n"
    "  if (focus) slides[at].querySelector('h2').focus();\n"
    "}\n"
    "function go(to, shown) {\n"
    "  at = Math.max(0, Math.min(slides.length - 1, to));\n"
    "  if (at) slides[at].dataset.step = shown;\n"
    "  history.replaceState(null, '', '#' + slides[at].id);\n"
    "  show(true);\n"
    "}\n"
    "function on() {\n"
    "  if (step() < 2) { slides[at].dataset.step = step() + 1; show(); }\n"
    "  else if (at < slides.length - 1) go(at + 1, 0);\n"
    "}\n"
    "function back() {\n"
    "  if (at && step() > 0) { slides[at].dataset.step = step() - 1; show(); "
    "}\n"
    "  else if (at) go(at - 1, 2);\n"
    "}\n"
    "function film(box) {\n"
    "  const img = box.querySelector('img'), runs = img.hidden;\n"
    "  img.hidden = !runs;\n"
    "  box.parentNode.querySelector('figure').hidden = runs;\n"
    "  box.querySelector('button').textContent = runs ? 'Stop the film' :\n"
    "    'Play the film';\n"
    "  if (runs) { const src = img.src; img.src = ''; img.src = src; }\n"
    "  fit();\n"
    "}\n"
    "function find() {\n"
    "  const i = slides.findIndex(s => '#' + s.id === location.hash);\n"
    "  if (i >= 0) go(i, 0);\n"
    "}\n"
    "const notes = () => document.body.classList.toggle('notes');\n"
    "const keys = {ArrowRight: on, PageDown: on, ' ': on, ArrowLeft: back,\n"
    "  PageUp: back, Home: () => go(0, 0), c: () => go(0, 0), n: notes,\n"
    "  End: () => go(slides.length - 1, 2), a: () => go(at, 2)};\n"
    "addEventListener('keydown', e => {\n"
    "  if (e.ctrlKey || e.metaKey || e.altKey || !keys[e.key] ||\n"
    "      (e.key === ' ' && e.target.closest('button,a'))) return;\n"
    "  e.preventDefault();\n"
    "  keys[e.key]();\n"
    "});\n"
    "for (const [id, does] of [['back', back], ['on', on], ['notes', notes],\n"
    "    ['contents', () => go(0, 0)]])\n"
    "  byId(id).addEventListener('click', does);\n"
    "for (const box of document.querySelectorAll('.film')) {\n"
    "  box.hidden = false;\n"
    "  box.querySelector('button').addEventListener('click', () => "
    "film(box));\n"
    "}\n"
    "slides.forEach((s, i) => {\n"
    "  if (i) s.dataset.step = 0;\n"
    "  s.querySelector('h2').tabIndex = -1;\n"
    "});\n"
    "document.body.classList.add('live');\n"
    "byId('controls').hidden = false;\n"
    "addEventListener('resize', fit);\n"
    "addEventListener('hashchange', find);\n"
    "show();\n"
    "find();\n";

/* ---- the page ---- */

void lecture_begin(Page *page, FILE *to, const char *words) {
    Text policy = {0};
    page_hash(script, sizeof script - 1, &policy);
    text_add(&policy, "; img-src data:");
    page_begin_styled(page, to, "Training, fatigue and the taper",
                      text_of(&policy), style);
    text_free(&policy);
    page_section(page, "slide-contents", "Contents");
    page_paragraph(page, words);
    fputs("<ol>\n", to);
    for (const LessonRule *r = lesson_rules; r->name; r++)
        fprintf(to, "<li><a href=\"#slide-%s\">%s</a></li>\n", r->name,
                r->title);
    fputs("</ol>\n", to);
    page_small(page, "Keys: space, right arrow or page down: on (question, "
                     "picture, answer, next lesson); left arrow or page up: "
                     "back; a: all of a lesson; n: notes for the speaker; c or "
                     "Home: contents.");
    page_section_end(page);
}

static void paragraph(Page *page, const char *head, const char *words) {
    fprintf(page->to, "<p><strong>%s</strong> ", head);
    page_escape(page->to, words);
    fputs("</p>\n", page->to);
}

enum { BLOCK = 3 * 1024 /* a multiple of 3: base64 goes on without a seam */ };

/* The file `path` as an image of the page, behind a button. */
static StatusCode put_film(Page *page, const char *path, Status *status) {
    uint8_t block[BLOCK];
    char coded[BASE64_ENCODE_RAW_LENGTH(BLOCK)];
    FILE *file = fopen(path, "rb");
    size_t got;
    if (!file)
        return status_fail(status, STATUS_SYSTEM, "%s: cannot be opened: %s",
                           path, strerror(errno));
    fputs("<div class=\"film\" hidden><button type=\"button\">Play the "
          "film</button>\n<img hidden alt=\"The picture as a film: the curve "
          "slides over the loads, a day at a time, to the day of the event.\" "
          "src=\"data:image/gif;base64,",
          page->to);
    while ((got = fread(block, 1, BLOCK, file)) > 0) {
        base64_encode_raw(coded, got, block);
        fwrite(coded, 1, BASE64_ENCODE_RAW_LENGTH(got), page->to);
    }
    fputs("\"></div>\n", page->to);
    if (ferror(file))
        status_fail(status, STATUS_SYSTEM, "%s: cannot be read: %s", path,
                    strerror(errno));
    fclose(file);
    return status->code;
}

/* Where a table stands: under the picture, or behind the answer where it is
 * tall, or below both where it is wide. */
enum { NARROW = 5 /* columns */, SHORT = 6 /* rows */ };

static void put_table(Page *page, const Lesson *l, const char *place) {
    if (!l->table.count)
        return;
    fprintf(page->to, "<div class=\"%s\">\n", place);
    page_table(page, &l->table, text_of(&l->caption));
    fputs("</div>\n", page->to);
}

StatusCode lecture_slide(Page *page, const LessonRule *rule, const Lesson *l,
                         const char *picture, const char *film,
                         Status *status) {
    bool narrow = l->table.count <= NARROW;
    bool tall = l->table.cell_count > SHORT * (size_t)l->table.count;
    fprintf(page->to, "<section id=\"slide-%s\" class=\"slide\">\n<h2>",
            rule->name);
    page_escape(page->to, l->picture.title);
    fputs("</h2>\n<div class=\"picture\">\n", page->to);
    page_figure(page, picture, NULL, l->picture.title, status);
    if (film && status->code == STATUS_OK)
        put_film(page, film, status);
    if (narrow && !tall)
        put_table(page, l, "key");
    fputs("</div>\n<div>\n", page->to);
    paragraph(page, "Aim.", l->frame.aim);
    paragraph(page, "Often believed.", l->frame.belief);
    paragraph(page, "Question.", l->frame.question);
    fputs("<div class=\"answer\">\n", page->to);
    paragraph(page, "Answer.", text_of(&l->words));
    paragraph(page, "Limit.", l->frame.limit);
    if (narrow && tall)
        put_table(page, l, "key");
    fputs("</div>\n</div>\n", page->to);
    if (!narrow)
        put_table(page, l, "below");
    fputs("<div class=\"speaker\">\n", page->to);
    paragraph(page, "For the speaker.", l->frame.speaker);
    fputs("</div>\n</section>\n", page->to);
    return status->code;
}

void lecture_end(Page *page) {
    fprintf(page->to,
            "</main>\n<nav id=\"controls\" aria-label=\"Lessons\" hidden>"
            "<button type=\"button\" id=\"back\">Back</button>"
            "<button type=\"button\" id=\"on\">On</button>"
            "<button type=\"button\" id=\"contents\">Contents</button>"
            "<button type=\"button\" id=\"notes\">Notes</button>"
            "<span id=\"place\" aria-live=\"polite\"></span></nav>\n"
            "<script>%s</script>\n</body>\n</html>\n",
            script);
}
