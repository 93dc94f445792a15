/* lesson: teaching figures with a short explanation, from a model alone. Every
 * number in the words is computed from the model in use.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/home.h"
#include "base/mem.h"
#include "base/outfile.h"
#include "commands/commands.h"
#include "lessons/classroom.h"
#include "lessons/curves.h"
#include "lessons/lecture.h"
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

/* ---- one lesson ---- */

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

/* The animation that goes with a lesson, if any; `path` is empty without. */
static StatusCode film(const LessonRule *rule, const Lesson *l,
                       const Gallery *gallery, Text *path, Status *status) {
    Gallery moving = *gallery;
    moving.format = PICTURE_GIF;
    return l->approach.days ? draw(rule, l, &moving, path, status) : STATUS_OK;
}

/* The lecture on its way, and what kept a film from being made: the page is
 * whole without. */
typedef struct {
    Page *page;
    Status film;
} Lecture;

static StatusCode add_slide(const LessonRule *rule, const Lesson *l,
                            const Text *picture, const Text *moving,
                            Lecture *to, Status *status) {
    char *still = mem_copy_part(text_of(picture), picture->length - 1);
    char *gif = moving->length
                    ? mem_copy_part(text_of(moving), moving->length - 1)
                    : NULL;
    StatusCode code = lecture_slide(to->page, rule, l, still, gif, status);
    free(still);
    free(gif);
    return code;
}

static StatusCode show_pictures(const LessonRule *rule, const Lesson *l,
                                const Call *call, Lecture *lecture,
                                Status *status) {
    Gallery gallery;
    Text path = {0}, moving = {0};
    char *scripts;
    StatusCode code = output_gallery(&call->output, &gallery, &scripts, status);
    if (code == STATUS_OK)
        code = draw(rule, l, &gallery, &path, status);
    if (code == STATUS_OK)
        film(rule, l, &gallery, &moving, lecture ? &lecture->film : status);
    fputc('\n', call->output.to);
    print_lines(call->output.to, text_of(&path));
    print_lines(call->output.to, text_of(&moving));
    if (status->code == STATUS_OK && lecture)
        add_slide(rule, l, &path, &moving, lecture, status);
    free(scripts);
    text_free(&path);
    text_free(&moving);
    return status->code;
}

/* `lecture`, if not NULL, gets the lesson's slide. */
static StatusCode give(const LessonRule *rule, const Model *model,
                       const Call *call, Lecture *lecture, Status *status) {
    Lesson *lesson = mem_new(1, sizeof *lesson);
    StatusCode code = lesson_make(rule, model, call->question, lesson, status);
    if (code == STATUS_OK) {
        lesson_print(lesson, call->output.to);
        if (call->output.folder)
            code = show_pictures(rule, lesson, call, lecture, status);
    }
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
                             Status *status) {
    Text path = {0};
    text_add(&path, "%s/%s.html", call->output.folder, name);
    *sheet = (Sheet){.file = outfile_open(text_of(&path), status)};
    text_free(&path);
    return status->code;
}

static StatusCode page_open(Sheet *sheet, const Call *call, const char *name,
                            const char *title, const char *words,
                            Status *status) {
    if (sheet_open(sheet, call, name, status) != STATUS_OK)
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
    Gallery gallery = {folder, scripts, PICTURE_NARROW, NULL};
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
        page_open(&ask, call, "worksheet",
                  "Worksheet: training, fatigue and the taper", words, status);
    if (code == STATUS_OK)
        code = page_open(&key, call, "answers", "Answer key", words, status);
    if (code == STATUS_OK)
        code = fill_sheets(model, call->request, &ask, &key, status);
    if (code == STATUS_OK) {
        page_end(&ask.page);
        page_end(&key.page);
    }
    code = sheet_close(&ask, call, "worksheet", code, status);
    return sheet_close(&key, call, "answers", code, status);
}

static StatusCode give_each(const Model *model, const Call *call,
                            Lecture *lecture, Status *status) {
    StatusCode code = STATUS_OK;
    for (const LessonRule *r = lesson_rules; r->name && code == STATUS_OK;
         r++) {
        if (r != lesson_rules)
            fprintf(call->output.to, "\n\n");
        code = give(r, model, call, lecture, status);
    }
    return code;
}

static StatusCode write_lecture(const Model *model, const char *words,
                                const Call *call, Status *film,
                                Status *status) {
    Sheet sheet = {0};
    Lecture lecture = {.page = &sheet.page};
    StatusCode code = sheet_open(&sheet, call, "lecture", status);
    if (code == STATUS_OK) {
        lecture_begin(&sheet.page, outfile_stream(sheet.file), words);
        code = give_each(model, call, &lecture, status);
        lecture_end(&sheet.page);
    }
    *film = lecture.film;
    return sheet_close(&sheet, call, "lecture", code, status);
}

static StatusCode give_all(const Model *model, const Call *call,
                           Status *status) {
    Text words = {0};
    Status film = {0};
    const Request *r = call->request;
    StatusCode code;
    if (!r->out || r->format != PICTURE_SVG)
        return give_each(model, call, NULL, status);
    text_add(&words, "Model: ");
    words_model_short(model, &words);
    text_add(&words, ". Every number is computed from it.");
    code = outfile_make_folder(r->out, status);
    if (code == STATUS_OK)
        code = write_lecture(model, text_of(&words), call, &film, status);
    if (code == STATUS_OK)
        code = write_sheets(model, text_of(&words), call, status);
    if (code == STATUS_OK && film.code != STATUS_OK)
        code = status_fail(status, film.code, "%s", film.text);
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

/* ---- a class's answers ---- */

static StatusCode draw_class(const Classroom *class, const Lesson *l,
                             const Call *call, Status *status) {
    Gallery gallery;
    Text name = {0}, path = {0};
    char *scripts;
    StatusCode code = output_gallery(&call->output, &gallery, &scripts, status);
    text_add(&name, "lesson-%s-class", call->request->lesson);
    if (code == STATUS_OK)
        code = classroom_picture(class, l, &gallery, text_of(&name), &path,
                                 status);
    fputc('\n', call->output.to);
    print_lines(call->output.to, text_of(&path));
    free(scripts);
    text_free(&name);
    text_free(&path);
    return code;
}

static StatusCode give_class(const Classroom *class, const Model *model,
                             const Call *call, Status *status) {
    const Request *r = call->request;
    Lesson *l = mem_new(1, sizeof *l);
    StatusCode code =
        lesson_make(lesson_find(r->lesson), model, call->question, l, status);
    if (code == STATUS_OK)
        code = classroom_judge(l, r->lesson, status);
    if (code == STATUS_OK && r->csv)
        classroom_csv(class, l, call->output.to);
    else if (code == STATUS_OK)
        classroom_print(class, l, call->output.to);
    if (code == STATUS_OK && r->out)
        code = draw_class(class, l, call, status);
    lesson_free(l);
    free(l);
    return code;
}

/* ---- the command ---- */

static StatusCode judge(const Request *r, Status *status) {
    char shown[TEXT_EXCERPT];
    if (r->page)
        return r->lesson || r->out || r->sheets || r->csv || r->answers ||
                       r->question.model
                   ? status_fail(status, STATUS_USAGE,
                                 "--page: stands alone; give no lesson, --csv, "
                                 "--out, --sheets, --answers or --model")
                   : STATUS_OK;
    if (!r->lesson)
        return status_fail(status, STATUS_USAGE,
                           "lesson: no name given, expected one that 'peakward "
                           "lesson --list' lists, or all");
    if (strcmp(r->lesson, "all") != 0 && !lesson_find(r->lesson))
        return status_fail(status, STATUS_USAGE,
                           "lesson: %s, expected a name that 'peakward lesson "
                           "--list' lists, or all",
                           text_excerpt(shown, r->lesson));
    if (r->answers && strcmp(r->lesson, "all") == 0)
        return status_fail(status, STATUS_USAGE,
                           "--answers: they are to the question of one lesson, "
                           "expected its name instead of all");
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

static StatusCode answer(const Model *model, const Classroom *class,
                         const Call *call, Status *status) {
    const Request *r = call->request;
    if (r->answers)
        return give_class(class, model, call, status);
    if (r->csv)
        return tabulate_named(model, call, status);
    if (strcmp(r->lesson, "all") == 0)
        return give_all(model, call, status);
    return give(lesson_find(r->lesson), model, call, NULL, status);
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
    Classroom class = {.blank = 0};
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
    if (r->answers)
        classroom_read(r->answers, &class, call->notes);
    code = notes_code(call->notes);
    call->say(call->notes);
    if (code == STATUS_OK) {
        response_settle(&model.params, lesson_usual_load(&model.params));
        code = answer(&model, &class, call, status);
    }
    classroom_free(&class);
    model_free(&model);
    return code;
}
