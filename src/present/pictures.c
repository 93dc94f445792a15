/* pictures: see pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/pictures.h"

#include "base/mem.h"
#include "response/kernel.h"
#include "response/landmarks.h"

#include <math.h>
#include <stdlib.h>

/* Least and most of the values; NAN: none. */
static void season_range(Plot *plot, const char *what, const double *values,
                         const double *others, size_t count) {
    double least = NAN, most = NAN;
    Text name = {0};
    for (size_t i = 0; i < count; i++) { /* of a NAN and a number the number */
        least = fmin(least, others ? fmin(values[i], others[i]) : values[i]);
        most = fmax(most, others ? fmax(values[i], others[i]) : values[i]);
    }
    text_add(&name, "%s_least", what);
    plot_number(plot, text_of(&name), least);
    text_clear(&name);
    text_add(&name, "%s_most", what);
    plot_number(plot, text_of(&name), most);
    text_free(&name);
}

static bool any_number(const double *values, size_t from, size_t to,
                       bool nonzero) {
    for (size_t i = from; i < to; i++)
        if (!isnan(values[i]) && !(nonzero && values[i] == 0))
            return true;
    return false;
}

static void season_ranges(Plot *plot, const SeasonPicture *p) {
    size_t n = p->days, logged = p->log_days < n ? p->log_days : n;
    plot_number(plot, "first_day", plot_seconds(p->first));
    plot_number(plot, "last_day", plot_seconds(p->first + (Date)n - (n > 0)));
    plot_number(plot, "has_readiness", any_number(p->readiness, 0, n, false));
    plot_number(plot, "has_fitness", any_number(p->fitness, 0, n, false));
    plot_number(plot, "has_fatigue", any_number(p->fatigue, 0, n, true));
    plot_number(plot, "loads_logged", any_number(p->load, 0, logged, false));
    plot_number(plot, "loads_planned", any_number(p->load, logged, n, false));
    season_range(plot, "readiness", p->readiness, NULL, n);
    season_range(plot, "fitness", p->fitness, NULL, n);
    season_range(plot, "fatigue", p->fatigue, NULL, n);
    season_range(plot, "load", p->load, NULL, n);
    if (p->low)
        season_range(plot, "band", p->low, p->high, n);
    else
        season_range(plot, "band", NULL, NULL, 0);
}

static void season_days(Plot *plot, const SeasonPicture *p) {
    plot_block(plot, "days");
    for (size_t i = 0; i < p->days; i++) {
        const double row[] = {plot_seconds(p->first + (Date)i),
                              p->load[i],
                              p->fitness[i],
                              p->fatigue[i],
                              p->readiness[i],
                              p->low ? p->low[i] : NAN,
                              p->high ? p->high[i] : NAN,
                              i < p->log_days};
        plot_row(plot, row, 8);
    }
    plot_block_end(plot);
}

void picture_event_names(Plot *plot, const PictureEvent *event, size_t count) {
    for (size_t i = 0; i < count; i++)
        plot_nth_string(plot, "event_name", i, event[i].name);
    plot_number(plot, "events_count", (double)count);
}

static void season_marks(Plot *plot, const SeasonPicture *p) {
    if (p->tests > 0)
        plot_block(plot, "tests");
    for (size_t i = 0; i < p->tests; i++) {
        const double row[] = {plot_seconds(p->test_date[i]), p->test_value[i]};
        plot_row(plot, row, 2);
    }
    if (p->tests > 0)
        plot_block_end(plot);
    plot_block(plot, "events");
    for (size_t i = 0; i < p->events; i++) {
        const double row[] = {
            plot_seconds(p->event[i].start),
            plot_seconds(p->event[i].start + p->event[i].days - 1)};
        plot_row(plot, row, 2);
    }
    plot_block_end(plot);
    picture_event_names(plot, p->event, p->events);
    plot_block(plot, "weeks");
    for (size_t i = 0; i < p->weeks; i++) {
        Date from = p->week[i].monday;
        const double row[] = {plot_seconds(from), plot_seconds(from + 6),
                              plot_seconds(from + 7 * p->week[i].weeks - 1)};
        plot_row(plot, row, 3);
    }
    plot_block_end(plot);
    for (size_t i = 0; i < p->weeks; i++)
        plot_nth_string(plot, "week_name", i, p->week[i].name);
    plot_number(plot, "weeks_count", (double)p->weeks);
    plot_number(plot, "tests_count", (double)p->tests);
}

static void season_words(Plot *plot, const SeasonPicture *p) {
    char from[DATE_TEXT], to[DATE_TEXT];
    text_add(&plot->alt,
             "Daily load as bars, and fitness, fatigue and readiness as lines "
             "by date, %s to %s. ",
             date_write(from, p->first),
             date_write(to, p->first + (Date)p->days - 1));
    plot_alt_line(plot, "Load", p->load, p->days, 1);
    plot_alt_line(plot, "Fitness", p->fitness, p->days, 1);
    plot_alt_line(plot, "Fatigue", p->fatigue, p->days, 1);
    plot_alt_line(plot, "Readiness", p->readiness, p->days, 1);
    if (p->tests)
        text_add(&plot->alt, "%zu tests as points. ", p->tests);
    for (size_t i = 0; i < p->events; i++)
        text_add(&plot->alt, "Marked: %s, %s. ", p->event[i].name,
                 date_write(from, p->event[i].start));
    for (size_t i = 0; i < p->weeks; i++)
        if (*p->week[i].name)
            text_add(&plot->alt, "From %s: %s, %d week%s. ",
                     date_write(from, p->week[i].monday), p->week[i].name,
                     p->week[i].weeks, p->week[i].weeks == 1 ? "" : "s");
    if (p->taper_from != DATE_NONE)
        text_add(&plot->alt, "Shaded: the taper%s, %s to %s. ",
                 p->handed ? " of the plan handed out" : "",
                 date_write(from, p->taper_from), date_write(to, p->taper_to));
}

StatusCode picture_season(const SeasonPicture *p, const Gallery *gallery,
                          const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_start(&plot, p->title, p->subtitle);
    plot_string(&plot, "load_label", p->load_label);
    plot_string(&plot, "readiness_label", p->readiness_label);
    plot_string(&plot, "test_label", p->test_label);
    plot_number(&plot, "taper_from", plot_seconds(p->taper_from));
    plot_number(&plot, "taper_to", plot_seconds(p->taper_to));
    plot_number(&plot, "handed", p->handed);
    plot_number(&plot, "today", plot_seconds(p->today));
    plot_number(&plot, "has_band", p->low != NULL);
    plot_number(&plot, "same_scale", p->same_scale);
    season_ranges(&plot, p);
    season_days(&plot, p);
    season_marks(&plot, p);
    season_words(&plot, p);
    return plot_draw(&plot, gallery, "season.gp", name, path, status);
}

/* ---- map ---- */

enum { CUT_STEP = 5 }; /* [%] height of a cell of the map */

typedef struct {
    size_t longest, cuts;
    double *share; /* [longest * cuts] of step tapers */
    double threshold;
} MapCells;

static MapCells map_cells(const MapPicture *p) {
    const Search *s = p->search;
    double none = s->items[0].readiness, possible = s->ceiling - none;
    MapCells m = {p->longest, (size_t)(p->limits->max_cut / CUT_STEP) + 1, NULL,
                  possible > 0
                      ? (1 - SEARCH_EQUAL) * s->items[s->best].gain / possible
                      : NAN};
    m.share = mem_new(m.longest * m.cuts, sizeof *m.share);
    for (size_t l = 0; l < m.longest; l++)
        for (size_t c = 0; c < m.cuts; c++) {
            double cut = (double)(c * CUT_STEP);
            Option step = {.count = 1, .part = {{(int)l + 1, cut, cut, 'x'}}};
            m.share[l * m.cuts + c] =
                possible > 0 ? (score_option(p->score, &step) - none) / possible
                             : 0;
        }
    return m;
}

static bool inside(const MapCells *m, long l, long c) {
    if (l < 0 || c < 1 || l >= (long)m->longest || c >= (long)m->cuts)
        return false;
    return m->share[(size_t)l * m->cuts + (size_t)c] >= m->threshold;
}

static void edge(Plot *plot, double x, double y, double dx, double dy) {
    const double row[] = {x, y, dx, dy};
    plot_row(plot, row, 4);
}

/* Edges between cells that are as good as the best and cells that are not. */
static void map_outline(Plot *plot, const MapCells *m) {
    plot_block(plot, "outline");
    for (long l = 0; l < (long)m->longest; l++)
        for (long c = 0; c < (long)m->cuts; c++) {
            double x = (double)l + .5, y = ((double)c - .5) * CUT_STEP;
            if (!inside(m, l, c))
                continue;
            if (!inside(m, l - 1, c))
                edge(plot, x, y, 0, CUT_STEP);
            if (!inside(m, l + 1, c))
                edge(plot, x + 1, y, 0, CUT_STEP);
            if (!inside(m, l, c - 1))
                edge(plot, x, y, 1, 0);
            if (!inside(m, l, c + 1))
                edge(plot, x, y + CUT_STEP, 1, 0);
        }
    plot_block_end(plot);
}

static void map_chances(Plot *plot, const MapPicture *p, const MapCells *m) {
    double *work = mem_new(p->draws->count, sizeof *work);
    plot_block(plot, "chance");
    for (size_t l = 0; l < m->longest && p->draws->count; l++) {
        for (size_t c = 1; c < m->cuts; c++) {
            double cut = (double)(c * CUT_STEP);
            Option step = {.count = 1, .part = {{(int)l + 1, cut, cut, 'x'}}};
            const double row[] = {(double)l + 1, cut,
                                  100 *
                                      draw_scores_helps(p->draws, &step, work)};
            plot_row(plot, row, 3);
        }
        plot_row(plot, NULL, 0);
    }
    plot_block_end(plot);
    free(work);
}

static void map_block(Plot *plot, const MapCells *m) {
    plot_block(plot, "map");
    for (size_t l = 0; l < m->longest; l++) {
        for (size_t c = 0; c < m->cuts; c++) {
            const double row[] = {(double)l + 1, (double)(c * CUT_STEP),
                                  m->share[l * m->cuts + c]};
            plot_row(plot, row, 3);
        }
        plot_row(plot, NULL, 0);
    }
    plot_block_end(plot);
}

static void map_point(Plot *plot, const char *word, const Option *option) {
    Text variable = {0}, label = {0};
    text_add(&variable, "%s_length", word);
    /* only a step taper has a place on the map */
    plot_number(plot, text_of(&variable),
                option_shape(option) == SHAPE_STEP ? (double)option_days(option)
                                                   : NAN);
    text_clear(&variable);
    text_add(&variable, "%s_cut", word);
    plot_number(plot, text_of(&variable), option_cut(option));
    text_clear(&variable);
    text_add(&variable, "%s_label", word);
    text_add(&label, "%s: ", word);
    option_write(option, &label);
    text_add(&label, " (%s)", shape_names[option_shape(option)]);
    plot_string(plot, text_of(&variable), text_of(&label));
    text_add(&plot->alt, "%s. ", text_of(&label));
    text_free(&variable);
    text_free(&label);
}

StatusCode picture_map(const MapPicture *p, const Gallery *gallery,
                       const char *name, Text *path, Status *status) {
    Plot plot = {0};
    MapCells m = map_cells(p);
    const Search *s = p->search;
    plot_start(&plot, p->title, p->subtitle);
    plot_number(&plot, "longest", (double)m.longest);
    plot_number(&plot, "most_cut", (double)((m.cuts - 1) * CUT_STEP));
    plot_number(&plot, "has_best", s->best > 0);
    text_add(&plot.alt,
             "Map of tapers with the same cut on each day, by length (1 to %zu "
             "days) and volume cut (0 to %g %%): share of the largest gain "
             "possible, with a frame of what published tapers did best. ",
             m.longest, (double)((m.cuts - 1) * CUT_STEP));
    map_point(&plot, "best", &s->items[s->best].option);
    map_point(&plot, "recommended", &s->items[s->recommended].option);
    /* volume cut 41-60 %, 8-14 days: Bosquet et al. 2007, Med Sci Sports Exerc
     * 39:1358-1365 */
    plot_number(&plot, "band_from_days", 8);
    plot_number(&plot, "band_to_days", 14);
    plot_number(&plot, "band_from_cut", 41);
    plot_number(&plot, "band_to_cut", 60);
    map_block(&plot, &m);
    map_outline(&plot, &m);
    map_chances(&plot, p, &m);
    free(m.share);
    return plot_draw(&plot, gallery, "map.gp", name, path, status);
}

/* ---- influence ---- */

/* A graded model in training at the mean load: fatigue's gain is ratio x k1. */
static ResponseParams at_mean_load(const ResponseParams *params) {
    ResponseParams even = *params;
    if (params->kind != RESPONSE_GRADED)
        return even;
    even.kind = RESPONSE_TWO_COMPONENT;
    even.value[PARAM_K2] = params->value[PARAM_RATIO] * params->value[PARAM_K1];
    return even;
}

static void influence_words(Plot *plot, const Landmarks *marks) {
    text_add(&plot->alt,
             "Change of readiness at the event per unit of load as a line, by "
             "how many days before it the load lies. ");
    if (isfinite(marks->t_n))
        text_add(&plot->alt, "Below 0 for the last %.1f days (t_n). ",
                 marks->t_n);
    if (isfinite(marks->t_g))
        text_add(&plot->alt, "Largest at %.1f days (t_g). ", marks->t_g);
}

StatusCode picture_influence(const ResponseParams *params, const char *title,
                             const char *subtitle, const Gallery *gallery,
                             const char *name, Text *path, Status *status) {
    Plot plot = {0};
    ResponseParams even = at_mean_load(params);
    Landmarks marks = landmarks_of(params);
    double longest = isfinite(marks.t_g) ? fmax(60, ceil(1.6 * marks.t_g)) : 60;
    plot_start(&plot, title, subtitle);
    plot_string(&plot, "influence_label",
                "change of readiness at the event per unit of load");
    plot_number(&plot, "t_n", marks.t_n);
    plot_number(&plot, "t_g", marks.t_g);
    plot_number(&plot, "longest", longest);
    plot_block(&plot, "influence");
    for (int i = 1; i <= 4 * (int)longest; i++) {
        const double row[] = {i / 4.0, kernel_influence(&even, i / 4.0)};
        plot_row(&plot, row, 2);
    }
    plot_block_end(&plot);
    influence_words(&plot, &marks);
    return plot_draw(&plot, gallery, "influence.gp", name, path, status);
}
