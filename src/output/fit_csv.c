/* fit_csv: see fit_csv.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/fit_csv.h"

#include "present/grid.h"
#include "response/landmarks.h"

#include <math.h>

/* A row about a model named otherwise than the one fitted. */
static void csv_model_row(const AthleteFit *f, const char *model,
                          const char *quantity, double estimate,
                          const double at[3], const char *unit, FILE *to) {
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, f->c->name);
    csv_text(&csv, f->test);
    csv_text(&csv, model);
    csv_text(&csv, quantity);
    csv_number(&csv, estimate);
    csv_number(&csv, at ? at[LOW] : NAN);
    csv_number(&csv, at ? at[HIGH] : NAN);
    csv_text(&csv, unit);
    csv_end(&csv);
}

static void csv_row(const AthleteFit *f, const char *quantity, double estimate,
                    const double at[3], const char *unit, FILE *to) {
    csv_model_row(f, response_kind_names[f->prior.params.kind], quantity,
                  estimate, at, unit, to);
}

/* Condition of the best fit, and its correlations. */
static void csv_correlations(const AthleteFit *f, FILE *to) {
    if (!f->best.exists)
        return;
    csv_row(f, "condition", f->best.condition, NULL, "", to);
    for (int a = 0; a < PARAMS; a++)
        for (int b = a + 1; b < PARAMS; b++) {
            double r = fit_correlation(&f->best, (Param)a, (Param)b);
            Text name = {0};
            text_add(&name, "correlation %s %s", param_names[a],
                     param_names[b]);
            if (isfinite(r))
                csv_row(f, text_of(&name), r, NULL, "", to);
            text_free(&name);
        }
}

/* The smaller models beside the one fitted. */
static void csv_smaller(const AthleteFit *f, FILE *to) {
    const char *one = response_kind_names[RESPONSE_ONE_COMPONENT];
    if (f->prior.params.kind != RESPONSE_ONE_COMPONENT) {
        csv_model_row(f, one, "rss", f->one.rss, NULL, "unit of the test^2",
                      to);
        csv_model_row(f, one, "aicc", f->one.aicc, NULL, "", to);
    }
    csv_model_row(f, "constant", "rss", f->constant.rss, NULL,
                  "unit of the test^2", to);
    csv_model_row(f, "constant", "aicc", f->constant.aicc, NULL, "", to);
}

/* Against no effect of training, and what each member of the family weighs. */
static void csv_family(const AthleteFit *f, FILE *to) {
    const char *graded = response_kind_names[RESPONSE_GRADED];
    csv_model_row(f, graded, "ess", f->family.ess, NULL, "", to);
    csv_model_row(f, graded, "bayes_factor", exp(f->family.bayes), NULL, "",
                  to);
    csv_model_row(f, graded, "explained", f->family.explained, NULL, "", to);
    csv_model_row(f, graded, "narrowed", f->narrowed, NULL, "", to);
    for (size_t k = 0; k < f->family.members; k++) {
        char name[32];
        snprintf(name, sizeof name, "growth_%.0f", 100 * f->family.growth[k]);
        csv_model_row(f, graded, name, f->family.weight[k], NULL, "", to);
    }
}

static const char *unit_of(Param param) {
    static const char *const units[PARAMS] = {"unit of the test",
                                              "unit of the test/load",
                                              "unit of the test/load",
                                              "d",
                                              "d",
                                              "d",
                                              "unit of the test/load^2",
                                              "d"};
    return units[param];
}

void fit_csv_print(const AthleteFit *f, FILE *to) {
    double at[3], t_n, t_g;
    const Fit *best = &f->best;
    Landmarks marks = landmarks_of(&best->params);
    for (int i = 0; i < PARAMS; i++) {
        if (!response_has(f->prior.params.kind, (Param)i))
            continue;
        athlete_fit_param(f, (Param)i, at);
        csv_row(f, param_names[i], athlete_fit_estimate(f, (Param)i, at), at,
                unit_of((Param)i), to);
    }
    athlete_fit_sigma(f, at);
    csv_row(f, "sigma", best->exists ? best->sigma : at[MIDDLE], at,
            "unit of the test", to);
    csv_row(f, "rss", best->rss, NULL, "unit of the test^2", to);
    csv_row(f, "r2", best->exists ? best->r2 : NAN, NULL, "", to);
    csv_row(f, "aicc", best->aicc, NULL, "", to);
    csv_row(f, "tests", (double)f->own.data.count, NULL, "", to);
    athlete_fit_points(f, athlete_fit_t_n, PARAMS, at);
    t_n = best->exists ? marks.t_n : at[MIDDLE];
    csv_row(f, "t_n", t_n, at, "d", to);
    athlete_fit_points(f, athlete_fit_t_g, PARAMS, at);
    t_g = best->exists ? marks.t_g : at[MIDDLE];
    csv_row(f, "t_g", t_g, at, "d", to);
    csv_row(f, "skill", f->forecast.skill, NULL, "", to);
    csv_row(f, "ess", f->posterior.ess, NULL, "", to);
    csv_row(f, "bayes_factor", exp(f->posterior.bayes), NULL, "", to);
    if (f->graded)
        csv_family(f, to);
    else
        csv_row(f, "narrowed", f->narrowed, NULL, "", to);
    csv_row(f, "p_fatigue", f->p_fatigue, NULL, "", to);
    csv_row(f, "p_training", f->p_training, NULL, "", to);
    csv_correlations(f, to);
    csv_smaller(f, to);
}

void fit_csv_header(const Output *o) {
    if (o->csv)
        output_header(o, "athlete,test,model,quantity,estimate,low,high,unit");
}
