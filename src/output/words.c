/* words: see words.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/words.h"

#include "response/landmarks.h"

#include <math.h>
#include <stdio.h>

const char *words_figure(char buffer[FIGURE_TEXT], double value, double scale) {
    double size = fabs(scale != 0 ? scale : value);
    int digits = size >= 100 || size == 0 ? 0
                 : size >= 10             ? 1
                 : size >= .1             ? 2
                 : size >= .01            ? 3
                                          : 4;
    if (!isfinite(value))
        snprintf(buffer, FIGURE_TEXT, "-");
    else
        snprintf(buffer, FIGURE_TEXT, "%.*f", digits,
                 fabs(value) < .5 * pow(10, -digits) ? 0 : value);
    return buffer;
}

const char *words_level(char buffer[FIGURE_TEXT], const Case *c,
                        double readiness, double scale) {
    return words_figure(
        buffer, case_has_figures(c) ? case_shown(c, readiness) : NAN, scale);
}

static void add_ratio(const Model *m, Text *text) {
    const double *v = m->params.value;
    if (response_has(m->params.kind, PARAM_K2) && v[PARAM_K1] > 0)
        text_add(text, ", k2/k1 %.3g", v[PARAM_K2] / v[PARAM_K1]);
}

void words_model(const Model *m, Text *text) {
    const double *v = m->params.value;
    Landmarks marks = landmarks_of(&m->params);
    text_add(text, "%s, %s, fitness halves in %.0f d", m->name,
             response_kind_names[m->params.kind], marks.half_life_fitness);
    if (!response_has(m->params.kind, PARAM_TAU2))
        return;
    text_add(text, ", fatigue in %.0f d (tau %.3g and %.3g d",
             marks.half_life_fatigue, v[PARAM_TAU1], v[PARAM_TAU2]);
    add_ratio(m, text);
    text_add(text, ")");
}

void words_model_short(const Model *m, Text *text) {
    const double *v = m->params.value;
    text_add(text, "%s (tau %.3g", m->name, v[PARAM_TAU1]);
    if (response_has(m->params.kind, PARAM_TAU2))
        text_add(text, "/%.3g", v[PARAM_TAU2]);
    text_add(text, " d");
    add_ratio(m, text);
    text_add(text, ")");
}

void words_event(const Case *c, Text *text) {
    char day[DATE_TEXT];
    text_add(text, "%s, %s %d", c->event->name,
             date_write_short(day, c->event->start),
             date_civil(c->event->start).year);
    if (c->event->days > 1)
        text_add(text, " (%d days)", c->event->days);
    text_add(text, ", in %d days", c->event->start - c->context->season->today);
}

const char *words_percent(char buffer[FIGURE_TEXT], double share) {
    if (!isfinite(share))
        snprintf(buffer, FIGURE_TEXT, "-");
    else if (share < -.995)
        snprintf(buffer, FIGURE_TEXT, "< -99 %%");
    else
        snprintf(buffer, FIGURE_TEXT, "%.0f %%",
                 fabs(share) < .005 ? 0 : 100 * share);
    return buffer;
}

void words_readiness(const Case *c, Text *text) {
    const Model *model = case_model(c);
    if (case_level_known(c))
        text_add(text, "readiness: %s%s", model->unit,
                 model->lower ? "; lower is better" : "");
    else
        text_add(text, "readiness (model's own scale)");
}

void words_unit(const Case *c, Text *text) {
    if (case_level_known(c))
        text_add(text, "in the unit of %s", case_model(c)->unit);
    else
        text_add(text, "on the model's own scale");
}

/* ---- gains ---- */

/* Per cent that round to 0 have no sign of less. */
static double tidy(double percent) {
    return fabs(percent) < .05 ? 0 : percent;
}

const char *words_gain(char buffer[FIGURE_TEXT], const BestTaper *v,
                       double gain) {
    double percent = best_taper_percent(v, gain);
    if (isfinite(percent))
        snprintf(buffer, FIGURE_TEXT, "%+.1f %%", tidy(percent));
    else
        snprintf(buffer, FIGURE_TEXT, "-");
    return buffer;
}

void words_gain_range(const BestTaper *v, const Spread *s, Text *text) {
    double low = best_taper_percent(v, s->gain_low);
    double high = best_taper_percent(v, s->gain_high);
    if (isfinite(low))
        text_add(text, "%+.1f to %+.1f %%", tidy(low), tidy(high));
}

void words_gain_cell(Grid *grid, const BestTaper *v, const Spread *s) {
    Text text = {0};
    if (s)
        words_gain_range(v, s, &text);
    grid_cell(grid, "%s", text.length ? text_of(&text) : "-");
    text_free(&text);
}

void words_helps_cell(Grid *grid, double share) {
    if (isfinite(share))
        grid_cell(grid, "%.0f of 100", 100 * share);
    else
        grid_cell(grid, "-");
}

const char *words_followed(const BestTaper *v) {
    return best_taper_unknown(v) ? "no" : "yes";
}
