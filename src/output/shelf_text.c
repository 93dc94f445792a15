/* shelf_text: see shelf_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/shelf_text.h"

#include "output/words.h"
#include "present/grid.h"
#include "present/pictures.h"
#include "response/landmarks.h"

#include <math.h>
#include <stdlib.h>

void shelf_text_csv(const Shelf *shelf, FILE *to) {
    csv_header(to, "model,kind,p0,k1,k2,tau1,tau2,tau_rise,k3,tau3,"
                   "half_life_fitness,half_life_fatigue,t_n,t_g,source,ratio,"
                   "growth");
    for (size_t i = 0; i < shelf->count; i++) {
        const Model *m = &shelf->models[i];
        Landmarks marks = landmarks_of(&m->params);
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, m->name);
        csv_text(&csv, response_kind_names[m->params.kind]);
        for (int p = 0; p <= PARAM_TAU3; p++)
            csv_number(&csv, m->params.value[p]);
        csv_number(&csv, marks.half_life_fitness);
        csv_number(&csv, marks.half_life_fatigue);
        csv_number(&csv, marks.t_n);
        csv_number(&csv, marks.t_g);
        csv_text(&csv, m->source);
        csv_number(&csv, m->params.value[PARAM_RATIO]);
        csv_number(&csv, m->params.value[PARAM_GROWTH]);
        csv_end(&csv);
    }
}

static void day_cell(Grid *grid, double days) {
    if (isfinite(days))
        grid_cell(grid, "%.1f", days);
    else
        grid_cell(grid, "none");
}

void shelf_text(const Shelf *shelf, Document *doc) {
    static const GridColumn columns[] = {{"model", false},
                                         {"kind", false},
                                         {"tau1\nd", true},
                                         {"tau2\nd", true},
                                         {"k2/k1", true},
                                         {"fitness\nhalf, d", true},
                                         {"fatigue\nhalf, d", true},
                                         {"t_n\nd", true},
                                         {"t_g\nd", true}};
    Grid grid;
    grid_start(&grid, columns, 9);
    for (size_t i = 0; i < shelf->count; i++) {
        const Model *m = &shelf->models[i];
        const double *v = m->params.value;
        Landmarks marks = landmarks_of(&m->params);
        grid_cell(&grid, "%s", m->name);
        grid_cell(&grid, "%s", response_kind_names[m->params.kind]);
        day_cell(&grid, v[PARAM_TAU1]);
        day_cell(&grid, v[PARAM_TAU2]);
        if (isfinite(v[PARAM_K2]) && v[PARAM_K1] > 0)
            grid_cell(&grid, "%.3g", v[PARAM_K2] / v[PARAM_K1]);
        else if (isfinite(v[PARAM_RATIO]))
            grid_cell(&grid, "%.3g", v[PARAM_RATIO]);
        else
            grid_cell(&grid, "none");
        day_cell(&grid, marks.half_life_fitness);
        day_cell(&grid, marks.half_life_fatigue);
        day_cell(&grid, marks.t_n);
        day_cell(&grid, marks.t_g);
    }
    document_table(doc, &grid,
                   "t_n: training within so many days of the event lowers "
                   "readiness at it. t_g: training so many days before raises "
                   "it most. 'half': days in which it halves. 'none': this "
                   "model has no such day. The default is literature.");
    for (size_t i = 0; i < shelf->count; i++)
        document_words(doc, WORDS_ITEM, "%s: %s", shelf->models[i].name,
                       shelf->models[i].source);
}

StatusCode shelf_text_draw(const Shelf *shelf, const Output *o,
                           Status *status) {
    Gallery gallery;
    char *scripts;
    Text paths = {0};
    StatusCode code = output_gallery(o, &gallery, &scripts, status);
    for (size_t i = 0; i < shelf->count && code == STATUS_OK; i++) {
        const Model *m = &shelf->models[i];
        Text name = {0}, title = {0}, words = {0};
        plot_file_name(&name, m->name);
        text_add(&name, "-influence");
        text_add(&title, "What a session does to readiness at the event: %s",
                 m->name);
        words_model(m, &words);
        if (m->params.kind == RESPONSE_GRADED)
            text_add(&words, "; in training at the usual load");
        if (m->params.kind == RESPONSE_VARIABLE_DOSE)
            text_add(&words, "; without fatigue, which grows with recent load");
        code = picture_influence(&m->params, text_of(&title), text_of(&words),
                                 &gallery, text_of(&name), &paths, status);
        text_free(&name);
        text_free(&title);
        text_free(&words);
    }
    if (!o->csv) {
        fputc('\n', o->to);
        print_lines(o->to, text_of(&paths));
    }
    text_free(&paths);
    free(scripts);
    return code;
}
