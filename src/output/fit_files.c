/* fit_files: see fit_files.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/fit_files.h"

#include "base/outfile.h"
#include "present/grid.h"

static void write_row(FILE *to, const char *parameter, const char *value,
                      const char *unit, const char *source) {
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, parameter);
    csv_text(&csv, value);
    csv_text(&csv, ""); /* no spread: the draws tell it */
    csv_text(&csv, unit);
    csv_text(&csv, source);
    csv_end(&csv);
}

/* What `--model` should know: of a graded model its whole family. */
static const Posterior *posterior_of(const AthleteFit *f) {
    return f->graded ? &f->family : &f->posterior;
}

static ResponseKind kind_of(const AthleteFit *f) {
    return f->graded ? RESPONSE_GRADED : f->prior.params.kind;
}

static void write_parameter(FILE *to, const AthleteFit *f, Param param) {
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, param_names[param]);
    csv_number(&csv, posterior_of(f)->centre.value[param]);
    csv_text(&csv, "");
    csv_text(&csv, param == PARAM_P0 ? f->test : "");
    csv_text(&csv, "median of the shape, level and scale given it");
    csv_end(&csv);
}

/* What a file is made of. */
typedef struct {
    const AthleteFit *f;
    const char *name; /* of the file, without its ending */
} Source;

static void write_model(const void *from, FILE *to) {
    const Source *source = from;
    const AthleteFit *f = source->f;
    Text text = {0};
    csv_header(to, "parameter,value,spread,unit,source");
    text_add(&text, "peakward fit: %zu tests of %s of %s, prior %s",
             f->own.data.count, f->test, f->c->name, f->prior.name);
    write_row(to, "kind", response_kind_names[kind_of(f)], "", text_of(&text));
    for (int i = 0; i < PARAMS; i++)
        if (response_has(kind_of(f), (Param)i))
            write_parameter(to, f, (Param)i);
    text_clear(&text);
    text_add(&text, "%s-draws.csv", source->name);
    write_row(to, "draws", text_of(&text),
              f->own.lower ? "lower is better" : "", "");
    text_free(&text);
}

static void write_draws(const void *from, FILE *to) {
    const Posterior *p = posterior_of(((const Source *)from)->f);
    Text heading = {0};
    for (int k = 0; k < PARAMS; k++)
        text_add(&heading, "%s,", param_names[k]);
    text_add(&heading, "sigma");
    csv_header(to, text_of(&heading));
    text_free(&heading);
    for (size_t i = 0; i < p->draws.count; i++) {
        Csv csv;
        csv_begin(&csv, to);
        for (int k = 0; k < PARAMS; k++)
            csv_number(&csv, p->draws.set[i].value[k]);
        csv_number(&csv, p->sigma[i]);
        csv_end(&csv);
    }
}

StatusCode fit_files_write(const Output *o, const AthleteFit *f, size_t count,
                           Status *status) {
    static const struct {
        const char *ending;
        void (*fill)(const void *, FILE *);
    } kinds[] = {{"-draws.csv", write_draws}, {".csv", write_model}};
    Text paths = {0};
    StatusCode code = outfile_make_folder(o->folder, status);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        Text name = {0};
        Source source = {&f[i], NULL};
        output_file_name(f[i].c, "model", &name);
        source.name = text_of(&name);
        for (int k = 0; k < 2 && code == STATUS_OK; k++) {
            Text path = {0};
            text_add(&path, "%s/%s%s", o->folder, source.name, kinds[k].ending);
            code =
                outfile_write(text_of(&path), kinds[k].fill, &source, status);
            text_add(&paths, "%s\n", text_of(&path));
            text_free(&path);
        }
        text_free(&name);
    }
    if (code == STATUS_OK && !o->csv)
        output_list(o, "Files (for --model)", &paths);
    text_free(&paths);
    return code;
}
