/* report_file: see report_file.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/report_file.h"

#include "base/home.h"
#include "base/outfile.h"
#include "base/stream.h"

#include <stdlib.h>

static StatusCode write_file(Report *r, Status *status) {
    const char *folder = r->output->folder;
    Text path = {0};
    OutFile *file = NULL;
    StatusCode code = outfile_make_folder(folder, status);
    text_add(&path, "%s/report.html", folder);
    if (code == STATUS_OK)
        file = outfile_open(text_of(&path), status);
    if (!file)
        code = status->code;
    else if (report_page_write(r, outfile_stream(file), status) == STATUS_OK)
        code = outfile_commit(file, status);
    else {
        outfile_abandon(file);
        code = status->code;
    }
    if (code == STATUS_OK)
        print_shown_line(r->output->to, text_of(&path));
    text_free(&path);
    return code;
}

/* To standard output once it is whole. */
static StatusCode write_out(Report *r, Status *status) {
    Text text = {0};
    FILE *memory = stream_open(&text);
    StatusCode code = report_page_write(r, memory, status);
    fclose(memory);
    if (code == STATUS_OK)
        fwrite(text_of(&text), 1, text.length, r->output->to);
    text_free(&text);
    return code;
}

StatusCode report_file_write(Report *r, Status *status) {
    const char *folder = outfile_scratch(status);
    char *scripts;
    StatusCode code;
    if (!folder)
        return status->code;
    scripts = home_folder("plots");
    r->gallery = (Gallery){folder, scripts, PICTURE_NARROW, NULL};
    code = r->output->folder ? write_file(r, status) : write_out(r, status);
    outfile_scratch_done();
    free(scripts);
    return code;
}
