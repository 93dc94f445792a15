/* worksheet: see worksheet.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/worksheet.h"

#include "base/mem.h"
#include "present/slides.h"
#include "response/landmarks.h"
#include "taper/lessons.h"

#include <gsl/gsl_rng.h>
#include <math.h>

enum { DAYS = 5 };

/* One student's numbers, whole where hands must reckon with them. */
typedef struct {
    ResponseParams params;
    double load[DAYS];
} Sheet;

static void draw_sheet(const ResponseParams *params, gsl_rng *rng, Sheet *s) {
    double *v = s->params.value;
    s->params = *params;
    v[PARAM_TAU1] =
        fmax(3, round(v[PARAM_TAU1] * (.8 + .4 * gsl_rng_uniform(rng))));
    if (response_has(params->kind, PARAM_TAU2))
        v[PARAM_TAU2] = fmin(
            v[PARAM_TAU1] - 1,
            fmax(1, round(v[PARAM_TAU2] * (.8 + .4 * gsl_rng_uniform(rng)))));
    for (int i = 0; i < DAYS; i++)
        s->load[i] = 10 * (double)gsl_rng_uniform_int(rng, 16);
}

static void half_lives(const Sheet *s, Text *ask, Text *key) {
    Landmarks marks = landmarks_of(&s->params);
    const double *v = s->params.value;
    text_add(ask, "1 (easy). tau1 = %.0f d", v[PARAM_TAU1]);
    text_add(key, "1. fitness halves in %.1f d", marks.half_life_fitness);
    if (isfinite(marks.half_life_fatigue)) {
        text_add(ask, ", tau2 = %.0f d", v[PARAM_TAU2]);
        text_add(key, ", fatigue in %.1f d", marks.half_life_fatigue);
    }
    text_add(ask, ". In how many days does each fade to a half (one decimal)? "
                  "Hint: tau x ln 2. ");
    text_add(key, ". ");
}

/* What the first exponential has left, per unit of its gain. */
static void fitness_table(const Sheet *s, Text *ask, Text *key) {
    ResponseParams one = {
        RESPONSE_ONE_COMPONENT,
        {0, 1, NAN, s->params.value[PARAM_TAU1], NAN, NAN, NAN, NAN}};
    double fitness[DAYS + 1], load[DAYS + 1] = {0};
    LessonRun run = {fitness, NULL, NULL};
    text_add(ask, "2 (middle). Nothing before day 1; loads of days 1 to 5:");
    for (int i = 0; i < DAYS; i++) {
        load[i] = s->load[i];
        text_add(ask, " %.0f", load[i]);
    }
    text_add(ask, ". With k1 = 1 and no build-up, what is fitness on day 6, "
                  "before its session (to the nearest whole number)? Hint: "
                  "each day (fitness + load) x e^(-1/tau1). ");
    lesson_run(&one, load, DAYS + 1, 0, &run);
    text_add(key, "2. %.0f. ", fitness[DAYS]);
}

static void landmark_days(const Sheet *s, Text *ask, Text *key) {
    Landmarks marks = landmarks_of(&s->params);
    const double *v = s->params.value;
    text_add(ask, "3 (hard). ");
    text_add(key, "3. ");
    if (s->params.kind == RESPONSE_TWO_COMPONENT) {
        text_add(ask,
                 "k1 = %.6g, k2 = %.6g: what are t_n and t_g (one decimal)? "
                 "Hint: t_n = tau1 tau2/(tau1 - tau2) x ln(k2/k1). ",
                 v[PARAM_K1], v[PARAM_K2]);
        if (isfinite(marks.t_n))
            text_add(key, "t_n %.1f d", marks.t_n);
        else
            text_add(key, "no t_n: fatigue never outweighs fitness");
        if (isfinite(marks.t_g))
            text_add(key, ", t_g %.1f d", marks.t_g);
        text_add(key, ". ");
        return;
    }
    text_add(ask,
             "Why has the formula for t_n of the two-component model no "
             "place in a %s model? ",
             response_kind_names[s->params.kind]);
    text_add(key, "%s",
             s->params.kind == RESPONSE_ONE_COMPONENT
                 ? "There is no fatigue: training never lowers readiness. "
             : s->params.kind == RESPONSE_DELAYED
                 ? "Fitness builds up first, so the influence has a third "
                   "exponential; its zero is found numerically. "
                 : "How long a session tires depends on the training around "
                   "it. ");
}

void worksheet_write(const ResponseParams *params, int sheets,
                     unsigned long seed, Text *questions, Text *answers) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    gsl_rng_set(rng, seed);
    for (int i = 0; i < sheets; i++) {
        Sheet sheet;
        Text ask = {0}, key = {0}, title = {0};
        draw_sheet(params, rng, &sheet);
        half_lives(&sheet, &ask, &key);
        fitness_table(&sheet, &ask, &key);
        landmark_days(&sheet, &ask, &key);
        text_add(&title, "Sheet %d, seed %lu", i + 1, seed);
        slides_add(questions,
                   &(Slide){.title = text_of(&title), .words = text_of(&ask)});
        slides_add(answers,
                   &(Slide){.title = text_of(&title), .words = text_of(&key)});
        text_free(&ask);
        text_free(&key);
        text_free(&title);
    }
    gsl_rng_free(rng);
}
