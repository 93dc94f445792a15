/* experiment_pictures: see experiment_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/experiment_pictures.h"

#include "output/experiment_text.h"

#include <math.h>

enum { SHOWN_MOST = 16 /* more cannot be read */ };

static size_t shown(const ExperimentOutcome *o) {
    size_t all = design_combinations(o->task->design);
    return all < SHOWN_MOST ? all : SHOWN_MOST;
}

static void put_words(const ExperimentOutcome *o, const char *title,
                      Plot *plot) {
    const Design *design = o->task->design;
    const char *unit = design->value[FACTOR_MODEL]->model.unit;
    size_t all = design_combinations(design);
    Text words = {0}, label = {0}, name = {0};
    bool tested = false;
    for (size_t i = 0; i < design->count[FACTOR_TESTS]; i++)
        tested = tested || design->value[FACTOR_TESTS][i].most > 0;
    text_add(&words, "%zu invented athletes each, known truth%s",
             o->task->athletes, tested ? "" : ", no tests");
    if (o->task->parts)
        text_add(&words, "; part %zu of %zu", o->task->part, o->task->parts);
    if (all > SHOWN_MOST)
        text_add(&words, "; the first %d of %zu combinations", SHOWN_MOST, all);
    text_add(&label, "readiness over no taper (%s)",
             design->count[FACTOR_MODEL] == 1 && *unit ? unit
                                                       : "the model's unit");
    plot_start(plot, title, text_of(&words));
    plot_string(plot, "gain_label", text_of(&label));
    plot_number(plot, "tapers_count", (double)shown(o));
    for (size_t i = 0; i < shown(o); i++) {
        text_clear(&name);
        experiment_text_name(design, i, &name);
        plot_nth_string(plot, "taper_name", i, text_of(&name));
    }
    text_free(&words);
    text_free(&label);
    text_free(&name);
}

static void put_range(double low, double high, Text *alt) {
    char shown[2][PLOT_FIGURE];
    if (isfinite(low) && isfinite(high))
        text_add(alt, " (%s to %s)", plot_figure(shown[0], low),
                 plot_figure(shown[1], high));
}

/* A taper's gain, as far as it is known. */
static void put_gain(const ExperimentSum *s, bool claimed, Text *alt) {
    double half = experiment_half_width(s);
    char shown[PLOT_FIGURE];
    text_add(alt, ": %s", plot_figure(shown, s->mean));
    if (!claimed)
        put_range(s->mean - half, s->mean + half, alt);
    if (claimed && isfinite(s->claimed)) {
        text_add(alt, ", claimed %s", plot_figure(shown, s->claimed));
        put_range(s->low, s->high, alt);
    }
    text_add(alt, ". ");
}

static void put_alt(const ExperimentOutcome *o, const char *seen, bool claimed,
                    Plot *plot) {
    text_add(&plot->alt, "%s ", seen);
    for (size_t i = 0; i < shown(o); i++)
        if (o->sums[i].runs) {
            experiment_text_name(o->task->design, i, &plot->alt);
            put_gain(&o->sums[i], claimed, &plot->alt);
        }
}

/* Zero where one athlete tells nothing about the others. */
static double or_zero(double value) {
    return isfinite(value) ? value : 0;
}

static double mean_of(const ExperimentSum *s) {
    return s->runs ? s->mean : NAN;
}

static StatusCode draw_true(const ExperimentOutcome *o, const Gallery *gallery,
                            Text *paths, Status *status) {
    Plot plot = {0};
    put_words(o, "What each taper gains", &plot);
    put_alt(o, "Mean true gain over no taper by taper, with its 95 % interval.",
            false, &plot);
    plot_block(&plot, "gains");
    for (size_t i = 0; i < shown(o); i++) {
        const ExperimentSum *s = &o->sums[i];
        plot_row(&plot,
                 (const double[]){mean_of(s), or_zero(experiment_half_width(s)),
                                  or_zero(experiment_sd(s))},
                 3);
    }
    plot_block_end(&plot);
    return plot_draw(&plot, gallery, "true-gain.gp", "true-gain", paths,
                     status);
}

static StatusCode draw_claimed(const ExperimentOutcome *o,
                               const Gallery *gallery, Text *paths,
                               Status *status) {
    Plot plot = {0};
    put_words(o, "What is claimed of each taper, and what is true", &plot);
    put_alt(o, "Claimed gain over no taper with its range beside the true one.",
            true, &plot);
    plot_block(&plot, "gains");
    for (size_t i = 0; i < shown(o); i++) {
        const ExperimentSum *s = &o->sums[i];
        plot_row(&plot,
                 (const double[]){mean_of(s), or_zero(experiment_half_width(s)),
                                  s->claimed, s->low, s->high},
                 5);
    }
    plot_block_end(&plot);
    return plot_draw(&plot, gallery, "claimed-gain.gp", "claimed-gain", paths,
                     status);
}

StatusCode experiment_pictures_draw(const void *outcome, size_t at,
                                    const Gallery *gallery, Text *paths,
                                    Status *status) {
    const ExperimentOutcome *o = (const ExperimentOutcome *)outcome + at;
    StatusCode code = draw_true(o, gallery, paths, status);
    return code == STATUS_OK ? draw_claimed(o, gallery, paths, status) : code;
}
