/* curves: see curves.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/curves.h"

#include "base/mem.h"
#include "response/kernel.h"

#include <math.h>
#include <stdlib.h>

enum { LINEAR_LOAD = 100, FARTHEST = 400 /* [d] looked back */ };

double lesson_usual_load(const ResponseParams *p) {
    const double *v = p->value;
    double best, unit;
    if (p->kind != RESPONSE_VARIABLE_DOSE) /* any: in units of it */
        return LINEAR_LOAD;
    best = v[PARAM_K1] / expm1(1 / v[PARAM_TAU1]) * expm1(1 / v[PARAM_TAU2]) *
           -expm1(-1 / v[PARAM_TAU3]) / (2 * v[PARAM_K3]);
    if (!isfinite(best) || best <= 0)
        return LINEAR_LOAD;
    unit = pow(10, floor(log10(best)) - 1);
    return unit * round(best / unit);
}

/* Of fatigue k3 sum w(i) M(i) e^(-(n-i)/tau2), M(i) the loads so far weighted
 * by e^(-age/tau3): a load counts by its own day's memory and by the memory of
 * it on each day after. */
static double marginal(const double *v, double usual, int age) {
    double memory = usual / -expm1(-1 / v[PARAM_TAU3]);
    double sum = memory * exp(-age / v[PARAM_TAU2]);
    for (int j = 0; j < age; j++)
        sum += usual * exp(-j / v[PARAM_TAU3] - (age - j) / v[PARAM_TAU2]);
    return v[PARAM_K3] * sum;
}

double lesson_influence(const ResponseParams *p, double usual, int age) {
    if (response_linear(p->kind))
        return kernel_influence(p, age);
    return age > 0 ? kernel_influence(p, age) - marginal(p->value, usual, age)
                   : 0;
}

Landmarks lesson_marks(const ResponseParams *p, double usual) {
    Landmarks marks = landmarks_of(p);
    double best = 0;
    if (response_linear(p->kind))
        return marks;
    for (int age = 1; age < FARTHEST; age++) {
        double here = lesson_influence(p, usual, age);
        if (here < 0)
            marks.t_n = age;
        if (here > best) {
            best = here;
            marks.t_g = age;
        }
    }
    return marks;
}

void lesson_run(const ResponseParams *p, const double *load, size_t days,
                double before, LessonRun *run) {
    Timeline t = {days, NULL, load, before, 1};
    double *fitness = mem_new(days, sizeof *fitness);
    double *fatigue = mem_new(days, sizeof *fatigue);
    kernel_run(p, &t, READ_BEFORE, fitness, fatigue);
    for (size_t i = 0; i < days; i++) {
        if (run->fitness)
            run->fitness[i] = fitness[i];
        if (run->fatigue)
            run->fatigue[i] = fatigue[i];
        if (run->readiness)
            run->readiness[i] = p->value[PARAM_P0] + fitness[i] - fatigue[i];
    }
    free(fitness);
    free(fatigue);
}

double lesson_gain(const ResponseParams *p, double usual,
                   const Option *option) {
    double load[OPTION_LONGEST + 1], cut[OPTION_LONGEST];
    double with[OPTION_LONGEST + 1], without[OPTION_LONGEST + 1];
    LessonRun run = {NULL, NULL, with};
    option_cuts(option, OPTION_LONGEST, cut);
    for (int i = 0; i <= OPTION_LONGEST; i++)
        load[i] =
            i < OPTION_LONGEST ? usual * (1 - cut[OPTION_LONGEST - 1 - i]) : 0;
    lesson_run(p, load, OPTION_LONGEST + 1, usual, &run);
    for (int i = 0; i < OPTION_LONGEST; i++)
        load[i] = usual;
    run.readiness = without;
    lesson_run(p, load, OPTION_LONGEST + 1, usual, &run);
    return with[OPTION_LONGEST] - without[OPTION_LONGEST];
}

bool lesson_twin(const ResponseParams *p, double usual, double tau3,
                 ResponseParams *twin) {
    double *v = twin->value;
    *twin = *p;
    if (p->kind == RESPONSE_TWO_COMPONENT) {
        twin->kind = RESPONSE_VARIABLE_DOSE;
        v[PARAM_TAU3] = tau3;
        v[PARAM_K3] = v[PARAM_K2] * -expm1(-1 / tau3) / usual;
        v[PARAM_K2] = NAN;
        return true;
    }
    if (response_linear(p->kind))
        return false;
    twin->kind = RESPONSE_TWO_COMPONENT;
    v[PARAM_K2] = (p->kind == RESPONSE_GRADED ? v[PARAM_K2] : 0) +
                  v[PARAM_K3] * usual / -expm1(-1 / v[PARAM_TAU3]);
    for (int i = 0; i < PARAMS; i++)
        if (!response_has(twin->kind, (Param)i))
            v[i] = NAN;
    return true;
}
