/* example_logs: see example_logs.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/example_logs.h"

#include "base/home.h"
#include "base/mem.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static void take_loads(LessonSeries *s) {
    Daily daily;
    daily_build(s->season, 0, false, &daily);
    s->days = daily.days;
    s->before = daily_first_mean(&daily);
    s->load = mem_new(s->days, sizeof *s->load);
    for (size_t i = 0; i < s->days; i++)
        s->load[i] = isfinite(daily.load[i]) ? daily.load[i] : 0;
    daily_free(&daily);
}

static void take_tests(LessonSeries *s) {
    const Athlete *a = &s->season->athletes[0];
    TestData *d = &s->data;
    Date first = s->season->first;
    d->timeline = (Timeline){s->days, NULL, s->load, s->before, 1};
    d->step = mem_new(a->test_count + 1, sizeof *d->step);
    d->when = mem_new(a->test_count + 1, sizeof *d->when);
    d->value = mem_new(a->test_count + 1, sizeof *d->value);
    d->weight = mem_new(a->test_count + 1, sizeof *d->weight);
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        if (test->date < first || test->date >= first + (Date)s->days)
            continue;
        d->step[d->count] = (size_t)(test->date - first);
        d->when[d->count] = test->after ? READ_AFTER : READ_BEFORE;
        d->value[d->count] = test->value;
        d->weight[d->count++] = 1;
        s->error = d->error = test->error;
    }
    s->unit = d->count ? s->season->test_names.items[0] : "";
}

/* The first error among the notes becomes the failure. */
static void pass_on(const Notes *notes, Status *status) {
    for (size_t i = 0; i < notes->count; i++) {
        const Note *n = &notes->items[i];
        char line[24] = "";
        if (n->level != LEVEL_ERROR)
            continue;
        if (n->line)
            snprintf(line, sizeof line, ":%zu", n->line);
        status_fail(status, n->code, "%s%s: %s%s%s", n->file ? n->file : "",
                    line, n->column ? n->column : "", n->column ? ": " : "",
                    n->text);
    }
}

StatusCode series_read(const char *name, const Question *question,
                       LessonSeries *s, Status *status) {
    char *folder = home_folder("data/lessons");
    Text path = {0};
    Notes notes = {0};
    *s = (LessonSeries){.error = NAN};
    text_add(&path, "%s/%s", folder, name);
    s->path = mem_copy(text_of(&path));
    s->season = season_read(s->path, &question->read, &notes);
    if (notes.errors > 0) {
        pass_on(&notes, status);
    } else {
        take_loads(s);
        take_tests(s);
    }
    notes_free(&notes);
    text_free(&path);
    free(folder);
    return status->code;
}

void series_free(LessonSeries *s) {
    free(s->load);
    free(s->data.step);
    free(s->data.when);
    free(s->data.value);
    free(s->data.weight);
    free(s->path);
    if (s->season)
        season_free(s->season);
    *s = (LessonSeries){0};
}
