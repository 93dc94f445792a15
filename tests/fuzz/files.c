/* What coaches write beside the log: absences, blocks, the plan handed out,
 * headings and settings, an experiment's design, read and not computed with.
 * Input as for season.c, without words. What is read without an error keeps
 * what the headers promise; what is not read comes with a message that names a
 * line of its file.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/design.h"
#include "folder.h"
#include "options/command_line.h"
#include "season/season.h"

#include <math.h>

/* Of a file of the folder, however a note names it. */
static size_t lines_of(const char *name) {
    char path[128];
    FILE *file;
    size_t lines = 1;
    path_of(strrchr(name, '/') ? strrchr(name, '/') + 1 : name, path);
    file = fopen(path, "rb");
    HOLDS(file != NULL);
    for (int c; (c = getc(file)) != EOF;)
        lines += c == '\n' || c == '\r';
    fclose(file);
    return lines;
}

static void check_notes(const Notes *notes) {
    for (size_t i = 0; i < notes->count; i++) {
        const Note *note = &notes->items[i];
        HOLDS(note->text && note->text[0]);
        HOLDS(note->line == 0 ||
              (note->file && note->line <= lines_of(note->file)));
    }
    HOLDS((notes->errors > 0) == (notes_code(notes) != STATUS_OK));
}

static void check_absences(const Season *s) {
    for (size_t i = 0; i < s->absence_count; i++) {
        const Absence *a = &s->absences[i];
        double before = 0;
        HOLDS(a->athlete < s->athlete_count && a->from <= a->to);
        HOLDS(a->return_days >= 0 && a->reason >= ABSENCE_ILLNESS &&
              a->reason <= ABSENCE_OTHER);
        HOLDS(season_absence(s, a->athlete, a->from) != NULL);
        HOLDS(season_share(a, a->from) == 0 && season_share(a, a->to) == 0);
        for (int day = 1; day <= a->return_days + 1; day++) {
            double share = season_share(a, a->to + day);
            HOLDS(share >= before && share <= 1);
            before = share;
        }
        HOLDS(before == 1);
    }
}

static void check_blocks(const Season *s) {
    for (size_t i = 0; i < s->block_count; i++) {
        const WeekBlock *b = &s->blocks[i];
        HOLDS(date_weekday(b->start) == 0 && b->weeks >= 1 && b->name[0]);
        HOLDS(b->athlete == NAMES_NONE || b->athlete < s->athlete_count);
        HOLDS(fabs(block_factor(b, b->start) - b->volume / 100) < 1e-9);
        for (int week = 0; week < b->weeks; week++) {
            double factor = block_factor(b, b->start + 7 * week);
            HOLDS(isfinite(factor) && factor >= 0);
        }
        for (size_t a = 0; a < s->athlete_count; a++)
            HOLDS((b->athlete != NAMES_NONE && b->athlete != a) ||
                  season_block(s, a, b->start) != NULL);
    }
}

static bool not_negative(double number) {
    return isnan(number) || (isfinite(number) && number >= 0);
}

static void check_plan(const Season *s) {
    size_t found = 0;
    for (size_t i = 0; i < s->handed_count; i++) {
        const HandedRow *r = &s->handed[i], *next = r + 1;
        HOLDS(r->athlete < s->athlete_count && r->session);
        HOLDS(r->issued < r->date && r->kind >= 0 && r->kind <= KINDS);
        HOLDS(not_negative(r->sets) && not_negative(r->reps) &&
              not_negative(r->kg) && not_negative(r->percent) &&
              not_negative(r->minutes) && not_negative(r->rpe) &&
              not_negative(r->load));
        HOLDS(isnan(r->forecast)
                  ? !r->test
                  : r->test && r->low <= r->forecast && r->forecast <= r->high);
        HOLDS(i + 1 == s->handed_count || r->athlete < next->athlete ||
              (r->athlete == next->athlete && r->date <= next->date));
    }
    for (size_t a = 0; a < s->athlete_count; a++) {
        size_t count;
        const HandedRow *rows = season_handed(s, a, &count);
        HOLDS((rows != NULL) == (count > 0));
        found += count;
    }
    HOLDS(found == s->handed_count);
}

static void read_season(void) {
    char *words[] = {folder};
    Request request;
    Status status = {0};
    Notes notes = {0};
    Season *season;
    if (command_line_read(FOR_TAPER, 1, words, &request, &status) ==
        STATUS_OK) {
        season = season_read(folder, &request.question.read, &notes);
        check_notes(&notes);
        if (notes.errors == 0) {
            check_absences(season);
            check_blocks(season);
            check_plan(season);
        }
        season_free(season);
    } else
        HOLDS(strstr(status.text, ".csv:") || strchr(status.text, '-'));
    notes_free(&notes);
    request_free(&request);
}

static void read_design(void) {
    char path[128];
    Notes notes = {0};
    Design design;
    path_of("design.csv", path);
    if (access(path, R_OK) != 0)
        return;
    design_read(&design, path, &notes);
    check_notes(&notes);
    if (notes.errors == 0) {
        const DesignValue *at[FACTORS];
        size_t combinations = design_combinations(&design);
        HOLDS(combinations > 0);
        design_at(&design, combinations - 1, at);
        for (int f = 0; f < FACTORS; f++)
            HOLDS(at[f] == &design.value[f][design.count[f] - 1]);
        design_judge(&design, &notes);
        HOLDS(notes.errors == 0);
    }
    design_free(&design);
    notes_free(&notes);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *copy = malloc(size + 1);
    HOLDS(copy != NULL);
    memcpy(copy, data, size);
    copy[size] = '\0';
    clear_folder();
    write_files(next_mark(copy, copy + size), copy + size);
    read_season();
    read_design();
    free(copy);
    return 0;
}
