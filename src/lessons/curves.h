/* curves: what the theory says in class, as numbers from a model alone.
 *
 * Pure: a model's parameters in, numbers out. Training is a usual day's load
 * each day; the influence of a load is the change of readiness at the event
 * per unit of load, on top of that usual training.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_CURVES_H
#define LESSONS_CURVES_H

#include "response/landmarks.h"
#include "taper/option.h"

#include <stdbool.h>
#include <stddef.h>

/* A usual day's load [load/d]: 100 for the linear kinds, whose loads have any
 * scale; for variable-dose the best steady load k1 A1/(2 k3 B3 A2), A =
 * 1/(e^(1/tau) - 1), B3 = 1/(1 - e^(-1/tau3)), to two digits. */
double lesson_usual_load(const ResponseParams *params);

/* Influence of a load `age` days before a reading, the usual load trained each
 * day [readiness/load]. For variable-dose the derivative of readiness by that
 * day's load. `age` is a whole number of days for variable-dose. */
double lesson_influence(const ResponseParams *params, double usual, int age);

/* t_n and t_g; for variable-dose those of lesson_influence(), whole days. */
Landmarks lesson_marks(const ResponseParams *params, double usual);

/* Fitness, fatigue and readiness of `days` daily loads, read before each, with
 * `before` a day trained for ever before. Any array may be NULL. */
typedef struct {
    double *fitness, *fatigue, *readiness;
} LessonRun;

void lesson_run(const ResponseParams *params, const double *load, size_t days,
                double before, LessonRun *run);

/* Gain of readiness at the event by a taper from the usual load, steady for
 * ever before it, over no taper [readiness]. */
double lesson_gain(const ResponseParams *params, double usual,
                   const Option *option);

/* The same athlete under the other kind: a two-component model's variable-dose
 * twin with memory `tau3` [d], or a variable-dose model's two-component one
 * (its own tau3). In steady usual training a session adds the same fatigue in
 * both: k3 usual/(1 - e^(-1/tau3)) = k2. False for other kinds. */
bool lesson_twin(const ResponseParams *params, double usual, double tau3,
                 ResponseParams *twin);

#endif
