/* example_logs: the small invented logs of data/lessons, for lessons that need
 * one.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_EXAMPLE_LOGS_H
#define LESSONS_EXAMPLE_LOGS_H

#include "calibrate/basis.h"
#include "cases/question.h"

typedef struct {
    char *path;
    Season *season;
    size_t days;
    double *load;     /* [load] of each day */
    double before;    /* [load/d] steady training before the first day */
    TestData data;    /* its tests; empty arrays when it has none */
    double error;     /* [test] typical error of one test */
    const char *unit; /* what is tested, with its unit; of the season */
} LessonSeries;

/* Reads data/lessons/NAME, a season folder with one athlete whose days are all
 * recorded and whose tests are of one kind. To be freed in any case. */
StatusCode series_read(const char *name, const Question *question,
                       LessonSeries *series, Status *status);
void series_free(LessonSeries *series);

#endif
