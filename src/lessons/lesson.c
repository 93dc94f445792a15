/* lesson: see lesson.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/lesson.h"

#include "output/words.h"

#include <math.h>
#include <stdlib.h>

bool lesson_tires(const Lesson *l) {
    return response_has(l->params->kind, PARAM_TAU2);
}

double *lesson_curve(Lesson *l, const char *name, double number) {
    LessonPicture *p = &l->picture;
    size_t k = p->curves++;
    if (isfinite(number))
        snprintf(l->name[k], sizeof l->name[k], "%s %.3g", name, number);
    else
        snprintf(l->name[k], sizeof l->name[k], "%s", name);
    p->name[k] = l->name[k];
    p->y[k] = l->y[k];
    return l->y[k];
}

void lesson_days(Lesson *l, int from, size_t points, const char *label) {
    l->picture.points = points;
    l->picture.x_label = label;
    for (size_t i = 0; i < points; i++)
        l->x[i] = from + (double)i;
}

void lesson_say(Lesson *l, const char *words, double value) {
    char shown[FIGURE_TEXT];
    text_add(&l->words, "%s %s", words, words_figure(shown, value, value));
}

void lesson_free(Lesson *l) {
    grid_free(&l->table);
    free(l->columns);
    text_free(&l->caption);
    text_free(&l->words);
    text_free(&l->title);
    text_free(&l->label);
    text_free(&l->subtitle);
    free(l->load);
    free(l->readiness);
    free(l->influence);
}
