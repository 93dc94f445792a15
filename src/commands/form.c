/* form: see form.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/form.h"

#include "base/outfile.h"
#include "base/spool.h"
#include "present/cells.h"
#include "present/grid.h"
#include "present/sheets.h"

#include <string.h>

/* Another question with other columns has a file of its own; and that of a
 * plan, made to be read, is none that a season's folder takes for the plan
 * handed out. */
static void add_path(const Call *call, const char *name, Text *path) {
    const Question *q = call->question;
    text_add(path, "%s/%s%s%s%s%s%s.xlsx", call->request->out, name,
             strcmp(name, "plan") == 0 ? "-sheets" : "",
             q->joint ? "-joint" : "", q->groups ? "-groups" : "",
             q->view_count ? "-models" : "", q->blocks ? "-blocks" : "");
}

/* The workbook's path is printed where its text would be. */
static StatusCode write_workbook(const Call *call, const SheetSource *source,
                                 const char *name, FILE *to, Status *status) {
    Text path = {0};
    add_path(call, name, &path);
    if (outfile_make_folder(call->request->out, status) == STATUS_OK &&
        sheets_write(source, text_of(&path), status) == STATUS_OK)
        print_shown_line(to, text_of(&path));
    text_free(&path);
    return status->code;
}

/* What a command printed before it failed is given, but makes no workbook. */
static StatusCode give(const Call *call, StatusCode code, SheetSource *source,
                       const char *name, FILE *to, Status *status) {
    const Request *r = call->request;
    StatusCode given = STATUS_OK;
    if (!source->rows)
        return code;
    if (!r->workbook)
        given = cells_print_comma(source->rows, !r->no_header, to, status);
    else if (code == STATUS_OK)
        given = write_workbook(call, source, name, to, status);
    return given == STATUS_OK ? code : given;
}

StatusCode form_run(StatusCode (*command)(const Call *, Status *), Call *call,
                    const char *name, Status *status) {
    const Request *r = call->request;
    FILE *to = call->output.to;
    Spool rows, squad;
    SheetSource source = {0};
    StatusCode code;
    if (!r->workbook && !(r->csv && r->decimal_comma))
        return command(call, status);
    spool_file(&rows);
    spool_file(&squad);
    call->output.to = rows.stream;
    call->output.no_header = false;
    if (r->workbook) {
        call->output.csv = true;
        call->output.folder = NULL;
        call->output.squad = squad.stream;
    }
    code = command(call, status);
    if (spool_end(&rows, status) == STATUS_OK &&
        spool_end(&squad, status) == STATUS_OK) {
        source = (SheetSource){spool_read(&rows), spool_read(&squad)};
        code = give(call, code, &source, name, to, status);
    }
    spool_free(&rows);
    spool_free(&squad);
    return status->code == STATUS_OK ? code : status->code;
}
