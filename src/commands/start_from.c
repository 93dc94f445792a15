/* start_from: see start_from.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/start_from.h"

#include "base/mem.h"
#include "base/outfile.h"
#include "base/workbook.h"
#include "present/grid.h"
#include "season/check.h"
#include "season/draft.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

typedef struct {
    const Request *request;
    const Season *season;
    Draft *drafts; /* of each athlete */
    char *log;     /* as CSV */
    size_t length, room;
} From;

/* The whole log, before anything is written; false: it cannot be read. */
static bool read_log(FILE *file, From *from) {
    size_t got;
    do {
        from->log = mem_grow(from->log, &from->room, from->length + 65536, 1);
        got = fread(from->log + from->length, 1, 65536, file);
        from->length += got;
    } while (got > 0);
    return !ferror(file);
}

static void write_log(const void *from, FILE *to) {
    const From *f = from;
    fwrite(f->log, 1, f->length, to);
}

static void write_headings(const void *from, FILE *to) {
    const TableMaps *maps = &((const From *)from)->request->maps;
    Csv csv;
    csv_header(to, "file,ours,theirs");
    for (size_t i = 0; i < maps->count; i++) {
        csv_begin(&csv, to);
        csv_text(&csv, "sessions");
        csv_text(&csv, maps->items[i].ours);
        csv_text(&csv, maps->items[i].theirs);
        csv_end(&csv);
    }
}

static void write_settings(const void *from, FILE *to) {
    static const char *const orders[] = {"iso", "dmy", "mdy"};
    const Request *r = ((const From *)from)->request;
    fprintf(to, "option,value\ndates,%s\n",
            orders[r->question.read.read.dates]);
    if (r->maps.latin1)
        fputs("encoding,latin1\n", to);
}

static void write_events(const void *from, FILE *to) {
    (void)from;
    fputs("event,start,days,weight,athlete,sessions_per_day,load_per_day,"
          "start_time,session_minutes\n",
          to);
}

/* Minutes in steps of five, RPE in halves, three figures of a load: the medians
 * of a log's weeks are no finer. */
static void round_row(DraftRow *row) {
    double minutes = row->minutes, rpe = row->rpe;
    bool product = fabs(minutes * rpe - row->load) <= 1e-9 * row->load;
    if (minutes >= 10)
        row->minutes = 5 * floor(minutes / 5 + .5);
    row->rpe = floor(2 * rpe + .5) / 2;
    if (product) {
        row->load = row->minutes * row->rpe;
    } else if (row->load > 0) {
        double step = pow(10, floor(log10(row->load)) - 2);
        row->load = step * floor(row->load / step + .5);
    }
}

static void write_row(const Season *s, const Athlete *athlete,
                      const DraftRow *row, FILE *to) {
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, date_weekday_name(row->weekday));
    csv_text(&csv, s->session_names.items[row->name]);
    csv_text(&csv, s->athlete_count > 1 ? athlete->name : "");
    csv_text(&csv, session_kind_names[row->kind]);
    csv_number(&csv, row->minutes);
    csv_number(&csv, row->rpe);
    csv_number(&csv, row->load);
    csv_text(&csv, row->kind == KIND_MATCH ? "yes" : "");
    csv_end(&csv);
}

static void draft_weeks(From *from) {
    const Season *s = from->season;
    from->drafts = mem_new(s->athlete_count, sizeof *from->drafts);
    for (size_t i = 0; i < s->athlete_count; i++) {
        Draft *draft = &from->drafts[i];
        Daily daily;
        daily_build(s, i, false, &daily);
        draft_build(s, i, &daily, draft);
        draft_share(s, i, draft);
        for (size_t k = 0; k < draft->count; k++)
            round_row(&draft->rows[k]);
        daily_free(&daily);
    }
}

static void free_weeks(From *from) {
    for (size_t i = 0; from->drafts && i < from->season->athlete_count; i++)
        draft_free(&from->drafts[i]);
    free(from->drafts);
}

static void write_week(const void *from, FILE *to) {
    const Season *s = ((const From *)from)->season;
    const Draft *drafts = ((const From *)from)->drafts;
    csv_header(to, "weekday,session,athlete,kind,minutes,rpe,load,keep");
    for (size_t i = 0; i < s->athlete_count; i++)
        for (size_t k = 0; k < drafts[i].count; k++)
            write_row(s, &s->athletes[i], &drafts[i].rows[k], to);
}

static const struct {
    const char *name;
    void (*write)(const void *from, FILE *to);
} files[] = {{"sessions.csv", write_log},
             {"headings.csv", write_headings},
             {"settings.csv", write_settings},
             {"week.csv", write_week},
             {"events.csv", write_events}};
enum { FILES = sizeof files / sizeof *files };

static StatusCode refuse_there(const char *folder, Status *status) {
    for (int i = 0; i < FILES; i++) {
        Text path = {0};
        struct stat about;
        text_add(&path, "%s/%s", folder, files[i].name);
        if (lstat(text_of(&path), &about) == 0)
            status_fail(status, STATUS_DATA,
                        "%s: is there already, expected a new folder",
                        text_of(&path));
        text_free(&path);
    }
    return status->code;
}

static StatusCode write_all(const Call *call, const From *from,
                            Status *status) {
    const char *folder = call->question->season;
    StatusCode code = outfile_make_folder(folder, status);
    for (int i = 0; i < FILES && code == STATUS_OK; i++) {
        Text path = {0};
        text_add(&path, "%s/%s", folder, files[i].name);
        if (files[i].write != write_headings || from->request->maps.count)
            code = outfile_write(text_of(&path), files[i].write, from, status);
        if (code == STATUS_OK &&
            (files[i].write != write_headings || from->request->maps.count))
            print_shown_line(call->output.to, text_of(&path));
        text_free(&path);
    }
    return code;
}

/* What looks wrong in the log and in the week drafted from it. */
static void warn(const Call *call, const From *from) {
    Text path = {0};
    text_add(&path, "%s/week.csv", call->question->season);
    check_alike(from->season, call->notes);
    draft_note_lacks(from->season, from->drafts, text_of(&path), call->notes);
    text_free(&path);
}

static FILE *open_log(const char *path, Notes *notes) {
    char *file = workbook_path(path);
    FILE *log = workbook_is(path)
                    ? workbook_open(file, workbook_sheet(path), notes)
                    : fopen(file, "rb");
    free(file);
    return log;
}

static void print_next(const Call *call) {
    fputs(
        "\nThe usual week in week.csv is drafted from the log: read it, and "
        "write yes under\nkeep where a session cannot be shorter, as a match. "
        "Put your event into\nevents.csv. Then: peakward check ",
        call->output.to);
    print_shown_line(call->output.to, call->question->season);
}

StatusCode start_from(const Call *call, Status *status) {
    const Request *r = call->request;
    size_t errors = call->notes->errors;
    Season *s;
    FILE *log = NULL;
    From from = {.request = r};
    StatusCode code = refuse_there(r->question.season, status);
    if (code != STATUS_OK)
        return code;
    s = season_read(r->from, &r->question.read, call->notes);
    from.season = s;
    if (call->notes->errors == errors)
        log = open_log(r->from, call->notes);
    if (call->notes->errors > errors)
        code = notes_code(call->notes);
    else if (!s->single)
        code = status_fail(status, STATUS_DATA,
                           "%s: is a folder, expected a log: one file, CSV or "
                           "FILE.xlsx#Sheet",
                           r->from);
    else if (!log || !read_log(log, &from))
        code = status_fail(status, STATUS_SYSTEM, "%s: cannot be read: %s",
                           r->from, strerror(errno));
    else {
        draft_weeks(&from);
        code = write_all(call, &from, status);
        warn(call, &from);
    }
    if (log)
        fclose(log);
    free_weeks(&from);
    free(from.log);
    season_free(s);
    call->say(call->notes);
    if (code == STATUS_OK && !r->question.quiet)
        print_next(call);
    return code;
}
