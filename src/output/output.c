/* output: see output.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/output.h"

#include "base/home.h"
#include "base/outfile.h"
#include "base/progress.h"
#include "present/grid.h"

#include <stdlib.h>

void output_header(const Output *o, const char *names) {
    if (!o->no_header)
        csv_header(o->to, names);
}

void output_document(const Output *o, Document *doc) {
    document_print(doc, o->notes, o->to);
    document_free(doc);
}

void output_part(const Output *o, Document *doc) {
    output_document(o, doc);
    fputc('\n', o->to);
}

void output_list(const Output *o, const char *heading, const Text *paths) {
    fprintf(o->to, "\n%s:\n", heading);
    print_lines(o->to, text_of(paths));
}

StatusCode output_gallery(const Output *o, Gallery *gallery, char **scripts,
                          Status *status) {
    *scripts = home_folder("plots");
    *gallery = (Gallery){o->folder, *scripts, o->format, NULL};
    return outfile_make_folder(o->folder, status);
}

StatusCode output_draw(const Output *o, const Drawing *d, const char *heading,
                       Status *status) {
    Gallery gallery;
    char *scripts;
    Text paths = {0};
    Progress progress = progress_begin("athletes drawn", d->count, o->quiet);
    StatusCode code = output_gallery(o, &gallery, &scripts, status);
    for (size_t i = 0; i < d->count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = d->draw(d->answers, i, &gallery, &paths, status);
    }
    progress_end(&progress);
    if (code == STATUS_OK && !o->csv)
        output_list(o, heading, &paths);
    text_free(&paths);
    free(scripts);
    return code;
}

void output_page_name(const Case *c, Text *text) {
    size_t fits = utf8_fit(c->name, 60);
    text_put(text, c->name, fits);
    if (c->name[fits])
        text_add(text, "...");
}

void output_file_name(const Case *c, const char *what, Text *name) {
    const Season *season = c->context->season;
    Text own = {0}, other = {0};
    size_t same = 0;
    plot_file_name(&own, c->name);
    for (size_t i = 0; i < c->athlete; i++) {
        if (season->athletes[i].session_count == 0)
            continue; /* never has a file */
        text_clear(&other);
        plot_file_name(&other, season->athletes[i].name);
        same += text_same(text_of(&own), text_of(&other));
    }
    text_add(name, "%s", text_of(&own));
    if (same)
        text_add(name, "~%zu", same + 1); /* no name is made safe to this */
    text_add(name, "-%s", what);
    text_free(&own);
    text_free(&other);
}
