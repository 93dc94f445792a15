/* read: reads a season folder, or a single file as its log.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* ---- the folder ---- */

static bool exists(const char *path) {
    struct stat about;
    return lstat(path, &about) == 0 || errno != ENOENT;
}

typedef void (*FileReader)(Season *, const char *, const SeasonOptions *,
                           Notes *);

/* NAME.csv of the folder, or NAME.xlsx where there is only that; both are an
 * error. To be freed. */
static char *path_of(const Season *s, const char *name, Notes *notes) {
    Text csv = {0}, workbook = {0};
    Place place = {NULL, 0, NULL};
    bool both;
    char *path;
    text_add(&csv, "%s/%s.csv", s->folder, name);
    text_add(&workbook, "%s/%s.xlsx", s->folder, name);
    both = exists(text_of(&csv)) && exists(text_of(&workbook));
    place.file = text_of(&workbook);
    if (both)
        notes_add(notes, LEVEL_ERROR, place,
                  "stands beside %s.csv, expected one of the two", name);
    path = mem_copy(
        text_of(exists(text_of(&workbook)) && !both ? &workbook : &csv));
    text_free(&csv);
    text_free(&workbook);
    return path;
}

static void read_file(Season *s, const char *name, FileReader reader,
                      const SeasonOptions *o, Notes *notes) {
    char *path = path_of(s, name, notes);
    if (exists(path))
        reader(s, path, o, notes);
    free(path);
}

static bool is_csv(const char *name) {
    size_t length = strlen(name);
    return length > 4 && text_same(name + length - 4, ".csv");
}

/* A model file that athletes.csv names. */
static bool is_model(const Season *s, const char *name) {
    for (size_t i = 0; i < s->athlete_count; i++) {
        const char *model = s->athletes[i].model;
        const char *slash = model ? strrchr(model, '/') : NULL;
        if (slash && strcmp(slash + 1, name) == 0)
            return true;
    }
    return false;
}

/* CSV files that nobody reads: events.csv saved as event.csv, say. */
static void note_other_files(const Season *s, Notes *notes) {
    static const char *const known[] = {
        "athletes.csv",  "sessions.csv", "tests.csv", "events.csv", "week.csv",
        "exercises.csv", "absences.csv", "plan.csv",  "blocks.csv"};
    DIR *folder = opendir(s->folder);
    struct dirent *entry;
    Text list = {0};
    Place place = {s->folder, 0, NULL};
    char shown[TEXT_EXCERPT];
    while (folder && (entry = readdir(folder)) != NULL) {
        bool ours = !is_csv(entry->d_name) || is_model(s, entry->d_name) ||
                    strncmp(entry->d_name, "plan-", 5) == 0; /* kept ones */
        for (size_t i = 0; i < sizeof known / sizeof *known; i++)
            ours = ours || strcmp(entry->d_name, known[i]) == 0;
        if (!ours)
            text_add(&list, "%s%s", list.length ? ", " : "",
                     text_excerpt(shown, entry->d_name));
    }
    if (folder)
        closedir(folder);
    if (list.length)
        notes_add(notes, LEVEL_NOTICE, place,
                  "not read: %s (a season's files are athletes.csv, "
                  "sessions.csv, tests.csv, events.csv, week.csv, "
                  "exercises.csv, absences.csv, blocks.csv and plan.csv)",
                  text_of(&list));
    text_free(&list);
}

static void read_folder(Season *s, const SeasonOptions *o, Notes *notes) {
    read_file(s, "athletes", read_athletes, o, notes);
    s->log_path = path_of(s, "sessions", notes);
    read_sessions(s, s->log_path, o, notes);
    read_file(s, "tests", read_tests, o, notes);
    read_file(s, "events", read_events, o, notes);
    read_file(s, "week", read_week, o, notes);
    read_file(s, "exercises", read_exercises, o, notes);
    read_file(s, "absences", read_absences, o, notes);
    note_other_files(s, notes);
}

static void read_all(Season *s, const SeasonOptions *o, Notes *notes) {
    struct stat about;
    Place place = {s->path, 0, NULL};
    bool workbook = table_is_workbook(s->path);
    if (!workbook && stat(s->path, &about) != 0) {
        notes_add_system(notes, place,
                         "cannot be opened: %s; expected a season folder or a "
                         "CSV file",
                         strerror(errno));
        return;
    }
    if (!workbook && S_ISDIR(about.st_mode)) {
        s->folder = mem_copy(s->path);
        while (strlen(s->folder) > 1 && s->folder[strlen(s->folder) - 1] == '/')
            s->folder[strlen(s->folder) - 1] = '\0';
        read_folder(s, o, notes);
        return;
    }
    {
        const char *slash = strrchr(s->path, '/');
        s->folder = slash ? mem_copy_part(s->path, (size_t)(slash - s->path))
                          : mem_copy(".");
    }
    s->single = true;
    s->log_path = mem_copy(s->path);
    read_sessions(s, s->log_path, o, notes);
}

static void note_unused_maps(const SeasonOptions *o, Notes *notes) {
    for (size_t i = 0; o->read.maps && i < o->read.maps->count; i++) {
        const TableMap *map = &o->read.maps->items[i];
        char shown[TEXT_EXCERPT];
        Place place = {"--map", 0, map->ours};
        if (!map->used)
            notes_add(notes, LEVEL_ERROR, place,
                      "no file here has a column headed %s, expected the "
                      "heading as it stands in the file",
                      text_excerpt(shown, map->theirs));
    }
}

/* ---- squads ---- */

static void note_without_squad(const Season *s, size_t count, const Text *names,
                               Notes *notes) {
    Text path = {0};
    Place place = {NULL, 0, "squad"};
    text_add(&path, "%s/athletes.csv", s->folder);
    place.file = text_of(&path);
    notes_add(notes, LEVEL_WARNING, place,
              "no squad is given for %s%s where others have one; %s",
              text_of(names), count > 8 ? ", ..." : "",
              count == 1 ? "they are a squad of their own"
                         : "together they are a squad of their own");
    text_free(&path);
}

/* Those whom no row puts in a squad are one together. */
static void complete_squads(Season *s, Notes *notes) {
    bool others = s->squad_names.count > 0;
    size_t left = 0;
    Text names = {0};
    for (size_t i = 0; i < s->athlete_count; i++) {
        char shown[TEXT_EXCERPT];
        Athlete *a = &s->athletes[i];
        if (a->squad != SQUAD_NONE)
            continue;
        a->squad = (uint32_t)names_add(&s->squad_names, "", 0);
        if (left++ < 8)
            text_add(&names, "%s%s", left > 1 ? ", " : "",
                     text_excerpt(shown, a->name));
    }
    if (others && left > 0)
        note_without_squad(s, left, &names, notes);
    text_free(&names);
}

/* ---- the season ---- */

Season *season_read(const char *path, const SeasonOptions *o, Notes *notes) {
    Season *s = mem_new(1, sizeof *s);
    s->path = mem_copy(path);
    s->first = s->last = s->today = DATE_NONE;
    read_all(s, o, notes);
    if (s->log_path)
        note_unused_maps(o, notes);
    loads_choose(s, o, notes);
    logged_find_last(s, o->fill);
    order_athletes(s);
    complete_squads(s, notes);
    order_sessions(s);
    if (s->last != DATE_NONE) {
        logged_trim(s, o->fill, notes);
        logged_find_stray(s, notes);
    }
    logged_leave_out_future(s, o, notes);
    order_hand_out(s);
    if (o->fill)
        loads_fill(s, notes);
    week_rows_judge(s, notes);
    if (s->folder && !s->single) {
        read_file(s, "blocks", read_blocks, o, notes);
        read_file(s, "plan", read_plan, o, notes);
    }
    return s;
}
