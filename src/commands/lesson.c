/* lesson: teaching figures with a short explanation, from a model alone. Every
 * number in the words is computed from the model in use.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/home.h"
#include "base/mem.h"
#include "base/outfile.h"
#include "commands/commands.h"
#include "lessons/curves.h"
#include "lessons/lessons.h"
#include "lessons/sliders.h"
#include "lessons/worksheet.h"
#include "output/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void print_list(FILE *to) {
    for (const LessonRule *r = lesson_rules; r->name; r++)
        fprintf(to, "  %-10s %s\n", r->name, r->title);
}

static const LessonRule *find_lesson(const char *name) {
    for (const LessonRule *r = lesson_rules; r->name; r++)
        if (strcmp(r->name, name) == 0)
            return r;
    return NULL;
}

/* ---- one lesson ---- */

static void print_lesson(const Lesson *l, FILE *to) {
    print_shown_line(to, l->picture.title);
    fputc('\n', to);
    print_wrapped(to, text_of(&l->words), 79, 0);
    if (l->table.count) {
        fputs("\n", to);
        grid_print(&l->table, to, 30);
        fputs("\n", to);
        print_wrapped(to, text_of(&l->caption), 79, 0);
    }
    fputs("\nModel: ", to);
    print_shown(to, l->picture.subtitle);
    fprintf(to, ".%s\n",
            l->model->scaled ? "" : " Readiness is in units of its own.");
}

/* A line ends `path`, as plot_draw() leaves it. */
static StatusCode draw(const LessonRule *rule, const Lesson *l,
                       const Gallery *gallery, Text *path, Status *status) {
    Text name = {0};
    StatusCode code;
    text_add(&name, "lesson-%s", rule->name);
    code = l->approach.days ? picture_approach(&l->approach, gallery,
                                               text_of(&name), path, status)
                            : picture_lesson(&l->picture, gallery,
                                             text_of(&name), path, status);
    text_free(&name);
    return code;
}

static void describe_curve(const double *y, size_t points, Text *alt) {
    double low = y[0], high = y[0], scale;
    char shown[4][FIGURE_TEXT];
    for (size_t i = 1; i < points; i++) {
        low = fmin(low, y[i]);
        high = fmax(high, y[i]);
    }
    scale = fmax(fabs(low), fabs(high));
    text_add(alt, " begins at %s, ends at %s, lies between %s and %s",
             words_figure(shown[0], y[0], scale),
             words_figure(shown[1], y[points - 1], scale),
             words_figure(shown[2], low, scale),
             words_figure(shown[3], high, scale));
}

static void describe_curves(const LessonPicture *p, Text *alt) {
    text_add(alt, "Line chart of %s by %s. ", p->y_label, p->x_label);
    for (size_t k = 0; k < p->curves; k++) {
        text_add(alt, "%s%s", k ? "; " : "", p->name[k]);
        describe_curve(p->y[k], p->points, alt);
    }
    text_add(alt, ".");
    if (p->points_marked)
        text_add(alt, " %zu points: %s.", p->points_marked, p->mark_name);
    if (isfinite(p->t_n))
        text_add(alt, " Marked: t_n at %.1f days.", fabs(p->t_n));
    if (isfinite(p->t_g))
        text_add(alt, " Marked: t_g at %.1f days.", fabs(p->t_g));
    if (p->shade)
        text_add(alt, " Below 0 it is hatched: training there hurts.");
}

static void describe(const Lesson *l, Text *alt) {
    if (l->approach.days)
        text_add(alt,
                 "Three charts of daily load as bars, %d and %d days before "
                 "the event and on its day, each under the influence curve "
                 "that ends at that day; bars that lower readiness on it are "
                 "hatched.",
                 l->approach.from, l->approach.from / 2);
    else
        describe_curves(&l->picture, alt);
}

static StatusCode add_slide(const LessonRule *rule, const Lesson *l,
                            const char *line, Page *page, Status *status) {
    Text alt = {0}, caption = {0}, id = {0};
    char *path = mem_copy_part(line, strcspn(line, "\n"));
    StatusCode code;
    describe(l, &alt);
    text_add(&caption, "%s. %sComputed from the model %s.", l->picture.title,
             l->approach.days
                 ? "Bars that lower readiness on the day looked at are "
                   "hatched; lesson-approach.gif moves through every day. "
                 : "",
             l->picture.subtitle);
    text_add(&id, "slide-%s", rule->name);
    page_section(page, text_of(&id), l->picture.title);
    code = page_figure(page, path, text_of(&alt), text_of(&caption), status);
    page_paragraph(page, text_of(&l->words));
    if (l->table.count)
        page_table(page, &l->table, text_of(&l->caption));
    page_section_end(page);
    text_free(&alt);
    text_free(&caption);
    text_free(&id);
    free(path);
    return code;
}

/* The animation that goes with a lesson, if any. */
static StatusCode film(const LessonRule *rule, const Lesson *l,
                       const Call *call, const Gallery *gallery,
                       Status *status) {
    Gallery moving = *gallery;
    Text path = {0};
    StatusCode code = STATUS_OK;
    moving.format = PICTURE_GIF;
    if (l->approach.days)
        code = draw(rule, l, &moving, &path, status);
    print_lines(call->output.to, text_of(&path));
    text_free(&path);
    return code;
}

/* `page`, if not NULL, gets the lesson's slide. */
static StatusCode show(const LessonRule *rule, const Lesson *l,
                       const Call *call, Page *page, Status *status) {
    Gallery gallery;
    Text path = {0};
    char *scripts;
    StatusCode code;
    print_lesson(l, call->output.to);
    if (!call->output.folder)
        return STATUS_OK;
    code = output_gallery(&call->output, &gallery, &scripts, status);
    if (code == STATUS_OK)
        code = draw(rule, l, &gallery, &path, status);
    fputc('\n', call->output.to);
    print_lines(call->output.to, text_of(&path));
    if (code == STATUS_OK && page)
        code = add_slide(rule, l, text_of(&path), page, status);
    if (code == STATUS_OK && !page)
        code = film(rule, l, call, &gallery, status);
    free(scripts);
    text_free(&path);
    return code;
}

static StatusCode give(const LessonRule *rule, const Model *model,
                       const Call *call, Page *page, Status *status) {
    Lesson *lesson = mem_new(1, sizeof *lesson);
    StatusCode code = lesson_make(rule, model, call->question, lesson, status);
    if (code == STATUS_OK)
        code = show(rule, lesson, call, page, status);
    lesson_free(lesson);
    free(lesson);
    return code;
}

/* ---- all of them, as a page, and worksheets ---- */

/* A page on its way to DIR/NAME.html. */
typedef struct {
    OutFile *file;
    Page page;
} Sheet;

static StatusCode sheet_open(Sheet *sheet, const Call *call, const char *name,
                             const char *title, const char *words,
                             Status *status) {
    Text path = {0};
    text_add(&path, "%s/%s.html", call->output.folder, name);
    *sheet = (Sheet){.file = outfile_open(text_of(&path), status)};
    text_free(&path);
    if (!sheet->file)
        return status->code;
    page_begin(&sheet->page, outfile_stream(sheet->file), title, "");
    page_paragraph(&sheet->page, words);
    return STATUS_OK;
}

/* Gives the page its name, or removes it when `code` is a failure. */
static StatusCode sheet_close(Sheet *sheet, const Call *call, const char *name,
                              StatusCode code, Status *status) {
    if (code != STATUS_OK || !sheet->file) {
        outfile_abandon(sheet->file);
        return status->code;
    }
    page_end(&sheet->page);
    code = outfile_commit(sheet->file, status);
    if (code == STATUS_OK) {
        fputs(strcmp(name, "lecture") ? "" : "\n", call->output.to);
        print_shown(call->output.to, call->output.folder);
        fprintf(call->output.to, "/%s.html\n", name);
    }
    return code;
}

/* Curves to be read are drawn into a folder that is gone afterwards. */
static StatusCode fill_sheets(const Model *model, const Request *r, Sheet *ask,
                              Sheet *key, Status *status) {
    const char *folder = outfile_scratch(status);
    char *scripts = home_folder("plots");
    Gallery gallery = {folder, scripts, PICTURE_SVG};
    StatusCode code =
        folder ? worksheet_write(&model->params, r->sheets ? r->sheets : 1,
                                 r->question.seed, &gallery, &ask->page,
                                 &key->page, status)
               : status->code;
    outfile_scratch_done();
    free(scripts);
    return code;
}

static StatusCode write_sheets(const Model *model, const char *words,
                               const Call *call, Status *status) {
    Sheet ask = {0}, key = {0};
    StatusCode code =
        sheet_open(&ask, call, "worksheet",
                   "Worksheet: training, fatigue and the taper", words, status);
    if (code == STATUS_OK)
        code = sheet_open(&key, call, "answers", "Answer key", words, status);
    if (code == STATUS_OK)
        code = fill_sheets(model, call->request, &ask, &key, status);
    code = sheet_close(&ask, call, "worksheet", code, status);
    return sheet_close(&key, call, "answers", code, status);
}

static StatusCode give_each(const Model *model, const Call *call, Page *page,
                            Status *status) {
    StatusCode code = STATUS_OK;
    for (const LessonRule *r = lesson_rules; r->name && code == STATUS_OK;
         r++) {
        if (r != lesson_rules)
            fprintf(call->output.to, "\n\n");
        code = give(r, model, call, page, status);
    }
    return code;
}

/* The animations come last: a gnuplot that makes none leaves the pages whole.
 */
static StatusCode film_all(const Model *model, const Call *call,
                           Status *status) {
    const LessonRule *rule = find_lesson("approach");
    Lesson *lesson = mem_new(1, sizeof *lesson);
    Gallery gallery;
    char *scripts;
    StatusCode code = output_gallery(&call->output, &gallery, &scripts, status);
    if (code == STATUS_OK)
        code = lesson_make(rule, model, call->question, lesson, status);
    if (code == STATUS_OK)
        code = film(rule, lesson, call, &gallery, status);
    lesson_free(lesson);
    free(lesson);
    free(scripts);
    return code;
}

static StatusCode give_all(const Model *model, const Call *call,
                           Status *status) {
    StatusCode code = STATUS_OK;
    Sheet lecture = {0};
    Text words = {0};
    const Request *r = call->request;
    if (!r->out || r->format != PICTURE_SVG)
        return give_each(model, call, NULL, status);
    text_add(&words, "Model: ");
    words_model_short(model, &words);
    text_add(&words, ". Every number is computed from it.");
    code = outfile_make_folder(r->out, status);
    if (code == STATUS_OK)
        code = sheet_open(&lecture, call, "lecture",
                          "Training, fatigue and the taper", text_of(&words),
                          status);
    if (code == STATUS_OK)
        code = give_each(model, call, &lecture.page, status);
    code = sheet_close(&lecture, call, "lecture", code, status);
    if (code == STATUS_OK)
        code = write_sheets(model, text_of(&words), call, status);
    if (code == STATUS_OK)
        code = film_all(model, call, status);
    text_free(&words);
    return code;
}

/* ---- the figures' data ---- */

static StatusCode tabulate(const LessonRule *rule, const Model *model,
                           const Call *call, Status *status) {
    FILE *to = call->output.to;
    Lesson *l = mem_new(1, sizeof *l);
    StatusCode code = lesson_make(rule, model, call->question, l, status);
    if (code == STATUS_OK && l->approach.days)
        picture_approach_csv(&l->approach, rule->name, to);
    else if (code == STATUS_OK)
        picture_lesson_csv(&l->picture, rule->name, to);
    lesson_free(l);
    free(l);
    return code;
}

static StatusCode tabulate_named(const Model *model, const Call *call,
                                 Status *status) {
    const char *name = call->request->lesson;
    StatusCode code = STATUS_OK;
    picture_csv_header(call->output.to);
    for (const LessonRule *r = lesson_rules; r->name && code == STATUS_OK; r++)
        if (strcmp(name, "all") == 0 || strcmp(name, r->name) == 0)
            code = tabulate(r, model, call, status);
    return code;
}

/* ---- the command ---- */

static StatusCode judge(const Request *r, Status *status) {
    char shown[TEXT_EXCERPT];
    if (r->page)
        return r->lesson || r->out || r->sheets || r->csv || r->question.model
                   ? status_fail(status, STATUS_USAGE,
                                 "--page: stands alone; give no lesson, --csv, "
                                 "--out, --sheets or --model")
                   : STATUS_OK;
    if (!r->lesson)
        return status_fail(status, STATUS_USAGE,
                           "lesson: no name given, expected one that 'peakward "
                           "lesson --list' lists, or all");
    if (strcmp(r->lesson, "all") != 0 && !find_lesson(r->lesson))
        return status_fail(status, STATUS_USAGE,
                           "lesson: %s, expected a name that 'peakward lesson "
                           "--list' lists, or all",
                           text_excerpt(shown, r->lesson));
    if (r->csv && r->out)
        return status_fail(status, STATUS_USAGE,
                           "--csv: the figure's data go to standard output; "
                           "expected no --out with it");
    if (r->sheets > 0 &&
        (strcmp(r->lesson, "all") != 0 || !r->out || r->format != PICTURE_SVG))
        return status_fail(status, STATUS_USAGE,
                           "--sheets: worksheets go with 'lesson all --out "
                           "DIR', pictures as svg");
    return STATUS_OK;
}

static StatusCode answer(const Model *model, const Call *call, Status *status) {
    const Request *r = call->request;
    if (r->csv)
        return tabulate_named(model, call, status);
    if (strcmp(r->lesson, "all") == 0)
        return give_all(model, call, status);
    return give(find_lesson(r->lesson), model, call, NULL, status);
}

static StatusCode write_page(const Call *call, Status *status) {
    const char *path = call->request->page;
    StatusCode code = sliders_write(path, call->notes, status);
    call->say(call->notes);
    if (code == STATUS_OK)
        print_shown_line(call->output.to, path);
    return code;
}

StatusCode command_lesson(const Call *call, Status *status) {
    const Request *r = call->request;
    Model model = {0};
    StatusCode code;
    char *folder;
    if (r->list) {
        print_list(call->output.to);
        return STATUS_OK;
    }
    if (judge(r, status) != STATUS_OK)
        return status->code;
    if (r->page)
        return write_page(call, status);
    folder = home_folder("models");
    model_find(r->question.model ? r->question.model : "literature", folder,
               &model, call->notes);
    free(folder);
    code = notes_code(call->notes);
    call->say(call->notes);
    if (code == STATUS_OK) {
        response_settle(&model.params, lesson_usual_load(&model.params));
        code = answer(&model, call, status);
    }
    model_free(&model);
    return code;
}
