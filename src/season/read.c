/* read: reads a season folder, or a single file as its log.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "base/near.h"
#include "base/workbook.h"
#include "season/files.h"
#include "season/together.h"

#include <dirent.h>
#include <errno.h>
#include <math.h>
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

static bool has_form(const Season *s, const char *table, const char *form) {
    Text path = {0};
    bool there;
    text_add(&path, "%s/%s%s", s->folder, table, form);
    there = exists(text_of(&path));
    text_free(&path);
    return there;
}

void season_file(const Season *s, const char *table, Text *path) {
    text_add(path, "%s/%s%s", s->folder, table,
             has_form(s, table, ".xlsx") ? ".xlsx" : ".csv");
}

static void read_file(Season *s, const char *table, FileReader reader,
                      const SeasonOptions *o, Notes *notes) {
    bool both = has_form(s, table, ".csv") && has_form(s, table, ".xlsx");
    Place place = {NULL, 0, NULL};
    Text path = {0};
    season_file(s, table, &path);
    place.file = text_of(&path);
    if (both)
        notes_add(notes, LEVEL_ERROR, place,
                  "stands beside %s.csv, expected one of the two", table);
    if (exists(place.file) || strcmp(table, "sessions") == 0)
        reader(s, place.file, o, notes);
    text_free(&path);
}

static bool is_table(const char *name) {
    const char *dot = strrchr(name, '.');
    return dot && dot > name && name[0] != '~' &&
           (text_same(dot, ".csv") || text_same(dot, ".xlsx"));
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

static bool is_known(const char *name) {
    static const char *const tables[] = {
        "athletes", "sessions", "tests",  "events",   "week",    "exercises",
        "absences", "plan",     "blocks", "headings", "settings"};
    size_t length = strcspn(name, ".");
    for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
        if (strlen(tables[i]) == length &&
            strncmp(name, tables[i], length) == 0 &&
            (strcmp(name + length, ".csv") == 0 ||
             strcmp(name + length, ".xlsx") == 0))
            return true;
    return false;
}

/* Tables that nobody reads: events.csv saved as event.csv, say. */
static void note_other_files(const Season *s, Notes *notes) {
    DIR *folder = opendir(s->folder);
    struct dirent *entry;
    Text list = {0};
    Place place = {s->folder, 0, NULL};
    char shown[TEXT_EXCERPT];
    while (folder && (entry = readdir(folder)) != NULL) {
        const char *name = entry->d_name;
        bool ours = !is_table(name) || is_model(s, name) || is_known(name) ||
                    strncmp(name, "plan-", 5) == 0; /* kept ones */
        if (!ours)
            text_add(&list, "%s%s", list.length ? ", " : "",
                     text_excerpt(shown, entry->d_name));
    }
    if (folder)
        closedir(folder);
    if (list.length)
        notes_add(notes, LEVEL_NOTICE, place,
                  "not read as a table: %s (a season's are athletes.csv, "
                  "sessions.csv, tests.csv, events.csv, week.csv, "
                  "exercises.csv, absences.csv, blocks.csv, plan.csv, "
                  "headings.csv and settings.csv; a model file is read where "
                  "--model or athletes.csv names it)",
                  text_of(&list));
    text_free(&list);
}

static const Column *const column_lists[] = {
    read_absences_columns, read_athletes_columns,  read_blocks_columns,
    read_events_columns,   read_exercises_columns, read_plan_columns,
    read_sessions_columns, read_tests_columns,     read_week_columns};

const char *season_nearest_column(const char *name) {
    const char *nearest = NULL;
    double share = INFINITY;
    for (size_t i = 0; i < sizeof column_lists / sizeof *column_lists; i++)
        for (const Column *c = column_lists[i]; c->name; c++)
            if (near_share(name, c->name) < share) {
                share = near_share(name, c->name);
                nearest = c->name;
            }
    return nearest;
}

bool season_has_column(const char *name) {
    for (size_t i = 0; i < sizeof column_lists / sizeof *column_lists; i++)
        for (const Column *c = column_lists[i]; c->name; c++)
            if (strcmp(c->name, name) == 0)
                return true;
    return false;
}

static void read_folder(Season *s, const SeasonOptions *o, Notes *notes) {
    Text path = {0};
    read_file(s, "athletes", read_athletes, o, notes);
    season_file(s, "sessions", &path);
    s->log_path = mem_copy(text_of(&path));
    text_free(&path);
    read_file(s, "sessions", read_sessions, o, notes);
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
    char *path = workbook_path(s->path);
    bool there = stat(path, &about) == 0;
    free(path);
    if (!there) {
        notes_add_system(notes, place,
                         "cannot be opened: %s; expected a season folder, a "
                         "CSV file or an .xlsx file",
                         strerror(errno));
        return;
    }
    if (S_ISDIR(about.st_mode)) {
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
    for (size_t i = 0; o->read.maps && i < o->read.maps->count; i++) {
        TableMap *map = &o->read.maps->items[i]; /* the one file there is */
        if (map->table && text_same(map->table, "sessions")) {
            free(map->table);
            map->table = NULL;
        }
    }
    s->log_path = mem_copy(s->path);
    read_sessions(s, s->log_path, o, notes);
}

static void note_unused_maps(const Season *s, const SeasonOptions *o,
                             Notes *notes) {
    Text headings = {0};
    text_add(&headings, "%s/headings.csv", s->folder ? s->folder : ".");
    for (size_t i = 0; o->read.maps && i < o->read.maps->count; i++) {
        const TableMap *map = &o->read.maps->items[i];
        char shown[TEXT_EXCERPT];
        Place place = {map->line ? text_of(&headings) : "--map", map->line,
                       map->ours};
        if (!map->used)
            notes_add(notes, map->line ? LEVEL_WARNING : LEVEL_ERROR, place,
                      "no %s%sfile here has a column headed %s, expected the "
                      "heading as it stands in the file",
                      map->table ? map->table : "", map->table ? " " : "",
                      text_excerpt(shown, map->theirs));
    }
    text_free(&headings);
}

/* ---- squads ---- */

static void note_without_squad(const Season *s, size_t count, const Text *names,
                               Notes *notes) {
    Text path = {0};
    Place place = {NULL, 0, "squad"};
    season_file(s, "athletes", &path);
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
        note_unused_maps(s, o, notes);
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
    if (s->last != DATE_NONE)
        together_find(s);
    if (s->folder && !s->single) {
        read_file(s, "blocks", read_blocks, o, notes);
        read_file(s, "plan", read_plan, o, notes);
    }
    return s;
}
