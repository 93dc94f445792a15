/* season: see season.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/season.h"

#include "base/mem.h"
#include "season/days.h"
#include "season/files.h"

#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

const char *const session_kind_names[] = {
    "gym", "skill", "conditioning", "match", "mobility", "other", NULL};

static const uint32_t NO_SQUAD = UINT32_MAX; /* until all files are read */

size_t season_add_athlete(Season *s, const char *name, size_t length) {
    size_t before = s->athlete_names.count;
    size_t who = names_add(&s->athlete_names, name, length);
    Athlete *a;
    if (who < before)
        return who;
    s->athletes = mem_grow(s->athletes, &s->athlete_room, s->athlete_count + 1,
                           sizeof *s->athletes);
    a = &s->athletes[s->athlete_count++];
    *a = (Athlete){.mass = NAN,
                   .hr_rest = NAN,
                   .hr_max = NAN,
                   .born = DATE_NONE,
                   .squad = NO_SQUAD};
    a->name = mem_copy_part(name, length);
    return who;
}

size_t season_athlete(const Season *s, const char *name) {
    size_t found = NAMES_NONE;
    for (size_t i = 0; i < s->athlete_count; i++)
        if (strcmp(s->athletes[i].name, name) == 0)
            return i;
    for (size_t i = 0; i < s->athlete_count; i++) {
        if (!text_same(s->athletes[i].name, name))
            continue;
        if (found != NAMES_NONE)
            return NAMES_NONE;
        found = i;
    }
    return found;
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
        if (a->squad != NO_SQUAD)
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

/* ---- order ---- */

static const Athlete *sorting; /* the athletes while their order is made */

static int by_name(const void *a, const void *b) {
    const Athlete *x = &sorting[*(const size_t *)a];
    const Athlete *y = &sorting[*(const size_t *)b];
    if (x->listed != y->listed)
        return x->listed ? -1 : 1;
    if (x->listed)
        return x < y ? -1 : x > y;
    return strcmp(x->name, y->name);
}

/* Athletes of athletes.csv first, in its order, then the others by name, so
 * that the order of the log's rows changes nothing. */
static void order_athletes(Season *s) {
    size_t *order = mem_new(s->athlete_count, sizeof *order);
    size_t *place = mem_new(s->athlete_count, sizeof *place);
    Athlete *sorted = mem_new(s->athlete_count, sizeof *sorted);
    for (size_t i = 0; i < s->athlete_count; i++)
        order[i] = i;
    sorting = s->athletes;
    qsort(order, s->athlete_count, sizeof *order, by_name);
    for (size_t i = 0; i < s->athlete_count; i++) {
        sorted[i] = s->athletes[order[i]];
        place[order[i]] = i;
    }
    if (s->athlete_count > 0)
        memcpy(s->athletes, sorted, s->athlete_count * sizeof *sorted);
    for (size_t i = 0; i < s->session_count; i++)
        s->sessions[i].athlete = (uint32_t)place[s->sessions[i].athlete];
    for (size_t i = 0; i < s->event_count; i++)
        if (s->events[i].athlete != NAMES_NONE)
            s->events[i].athlete = place[s->events[i].athlete];
    for (size_t i = 0; i < s->week_count; i++)
        if (s->week[i].athlete != NAMES_NONE)
            s->week[i].athlete = place[s->week[i].athlete];
    free(order);
    free(place);
    free(sorted);
}

static int by_time(const void *a, const void *b) {
    const Session *x = a, *y = b;
    if (x->athlete != y->athlete)
        return x->athlete < y->athlete ? -1 : 1;
    if (x->date != y->date)
        return x->date < y->date ? -1 : 1;
    if (x->minute != y->minute)
        return x->minute < y->minute ? -1 : 1;
    if (x->line != y->line)
        return x->line < y->line ? -1 : 1;
    return 0;
}

static bool in_order(const Session *sessions, size_t count) {
    for (size_t i = 1; i < count; i++)
        if (by_time(&sessions[i - 1], &sessions[i]) > 0)
            return false;
    return true;
}

static void sort_sessions(Session *sessions, size_t count) {
    if (!in_order(sessions, count))
        qsort(sessions, count, sizeof *sessions, by_time);
}

/* Puts the sessions athlete by athlete by counting them; each athlete's are
 * then in the order of the log, which mostly is that of time. */
static void order_sessions(Season *s) {
    size_t count = s->session_count, from = 0;
    size_t
        *end; /* of each athlete's part; while it is filled, its next place */
    Session *ordered;
    if (in_order(s->sessions, count))
        return;
    end = mem_new(s->athlete_count + 1, sizeof *end);
    ordered = mem_new(count, sizeof *ordered);
    for (size_t i = 0; i < count; i++)
        end[s->sessions[i].athlete + 1]++;
    for (size_t i = 0; i < s->athlete_count; i++)
        end[i + 1] += end[i];
    for (size_t i = 0; i < count; i++)
        ordered[end[s->sessions[i].athlete]++] = s->sessions[i];
    for (size_t i = 0; i < s->athlete_count; from = end[i++])
        sort_sessions(ordered + from, end[i] - from);
    free(s->sessions);
    free(end);
    s->sessions = ordered;
    s->session_room = count;
}

/* Gives each athlete her part of the sorted sessions. */
static void hand_out_sessions(Season *s) {
    size_t i = 0;
    while (i < s->session_count) {
        Athlete *a = &s->athletes[s->sessions[i].athlete];
        size_t from = i;
        while (i < s->session_count &&
               s->sessions[i].athlete == s->sessions[from].athlete)
            i++;
        a->sessions = &s->sessions[from];
        a->session_count = i - from;
    }
}

/* ---- what counts as logged ---- */

/* With --fill a row that another method scores is training, too. */
static bool is_logged(const Session *session, bool fill) {
    return isfinite(session->load) || (fill && session->scored);
}

static void find_last(Season *s, bool fill) {
    s->first = s->last = DATE_NONE;
    for (size_t i = 0; i < s->session_count; i++) {
        const Session *session = &s->sessions[i];
        if (!is_logged(session, fill))
            continue;
        if (s->last == DATE_NONE || session->date > s->last)
            s->last = session->date;
        if (s->first == DATE_NONE || session->date < s->first)
            s->first = session->date;
    }
}

/* Rows prepared ahead without a load, and an athlete's rows before her first
 * load, are not part of the log. */
static void trim(Season *s, bool fill, Notes *notes) {
    size_t kept = 0, dropped = 0;
    size_t seen = NAMES_NONE; /* athlete whose first load has come */
    Place place = {s->log_path, 0, NULL};
    for (size_t i = 0; i < s->session_count; i++) {
        Session *session = &s->sessions[i];
        if (is_logged(session, fill))
            seen = session->athlete;
        else if (seen != session->athlete || session->date > s->last) {
            dropped++;
            continue;
        }
        s->sessions[kept++] = *session;
    }
    s->session_count = kept;
    if (dropped)
        notes_add(notes, LEVEL_NOTICE, place,
                  "%zu row%s without a load before an athlete's first or "
                  "after the last logged day %s left out",
                  dropped, dropped == 1 ? "" : "s",
                  dropped == 1 ? "is" : "are");
}

static void refuse_stray(const Season *s, Date from, Date to, Notes *notes) {
    for (size_t i = 0; i < s->session_count; i++) {
        const Session *session = &s->sessions[i];
        Place place = {s->log_path, session->line, "date"};
        char day[DATE_TEXT];
        if (session->date < from || session->date > to)
            continue;
        notes_add(notes, LEVEL_ERROR, place,
                  "'%s' lies more than a year from all other rows, expected "
                  "the days of one log; is the year right?",
                  date_write(day, session->date));
    }
}

static void find_stray(const Season *s, Notes *notes) {
    DaysRange range[2 * DAYS_STRAY_ROWS];
    Days days;
    size_t count;
    days_start(&days);
    for (size_t i = 0; i < s->session_count; i++)
        days_add(&days, s->sessions[i].date);
    count = days_stray(&days, range);
    for (size_t i = 0; i < count; i++)
        refuse_stray(s, range[i].from, range[i].to, notes);
    days_free(&days);
}

/* Takes the rows after a day out; returns how many. */
static size_t drop_after(Season *s, Date day) {
    size_t kept = 0, all = s->session_count;
    for (size_t i = 0; i < all; i++)
        if (s->sessions[i].date <= day)
            s->sessions[kept++] = s->sessions[i];
    s->session_count = kept;
    return all - kept;
}

static void leave_out_future(Season *s, const SeasonOptions *o, Notes *notes) {
    size_t dropped;
    Place place = {s->log_path, 0, NULL};
    char day[DATE_TEXT];
    s->today = o->today == DATE_NONE ? s->last : o->today;
    if (s->last == DATE_NONE || s->today >= s->last)
        return;
    dropped = drop_after(s, s->today);
    notes_add(notes, s->session_count ? LEVEL_NOTICE : LEVEL_ERROR, place,
              "%zu session%s after --today %s %s left out%s", dropped,
              dropped == 1 ? "" : "s", date_write(day, s->today),
              dropped == 1 ? "is" : "are",
              s->session_count ? ""
                               : "; nothing remains, expected a later day");
    s->last = s->today;
}

/* ---- the folder ---- */

static bool exists(const char *path) {
    struct stat about;
    return lstat(path, &about) == 0 || errno != ENOENT;
}

typedef void (*FileReader)(Season *, const char *, const SeasonOptions *,
                           Notes *);

static void read_file(Season *s, const char *name, FileReader reader,
                      const SeasonOptions *o, Notes *notes) {
    Text path = {0};
    text_add(&path, "%s/%s", s->folder, name);
    if (exists(text_of(&path)))
        reader(s, text_of(&path), o, notes);
    text_free(&path);
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
    static const char *const known[] = {"athletes.csv", "sessions.csv",
                                        "tests.csv",    "events.csv",
                                        "week.csv",     "exercises.csv"};
    DIR *folder = opendir(s->folder);
    struct dirent *entry;
    Text list = {0};
    Place place = {s->folder, 0, NULL};
    char shown[TEXT_EXCERPT];
    while (folder && (entry = readdir(folder)) != NULL) {
        bool ours = !is_csv(entry->d_name) || is_model(s, entry->d_name);
        for (size_t i = 0; i < 6; i++)
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
                  "sessions.csv, tests.csv, events.csv, week.csv and "
                  "exercises.csv)",
                  text_of(&list));
    text_free(&list);
}

static void read_folder(Season *s, const SeasonOptions *o, Notes *notes) {
    Text path = {0};
    read_file(s, "athletes.csv", athletes_read, o, notes);
    text_add(&path, "%s/sessions.csv", s->folder);
    s->log_path = mem_copy(text_of(&path));
    text_free(&path);
    sessions_read(s, s->log_path, o, notes);
    read_file(s, "tests.csv", tests_read, o, notes);
    read_file(s, "events.csv", events_read, o, notes);
    read_file(s, "week.csv", week_read, o, notes);
    read_file(s, "exercises.csv", exercises_read, o, notes);
    note_other_files(s, notes);
}

static void read_all(Season *s, const SeasonOptions *o, Notes *notes) {
    struct stat about;
    Place place = {s->path, 0, NULL};
    if (stat(s->path, &about) != 0) {
        notes_add_system(notes, place,
                         "cannot be opened: %s; expected a season folder or a "
                         "CSV file",
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
    s->log_path = mem_copy(s->path);
    sessions_read(s, s->log_path, o, notes);
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

Season *season_read(const char *path, const SeasonOptions *o, Notes *notes) {
    Season *s = mem_new(1, sizeof *s);
    s->path = mem_copy(path);
    s->first = s->last = s->today = DATE_NONE;
    read_all(s, o, notes);
    if (s->log_path)
        note_unused_maps(o, notes);
    loads_choose(s, o, notes);
    find_last(s, o->fill);
    order_athletes(s);
    complete_squads(s, notes);
    order_sessions(s);
    if (s->last != DATE_NONE) {
        trim(s, o->fill, notes);
        find_stray(s, notes);
    }
    leave_out_future(s, o, notes);
    hand_out_sessions(s);
    if (o->fill)
        loads_fill(s, notes);
    return s;
}

static void free_rows(Season *s) {
    for (size_t i = 0; i < s->event_count; i++)
        free(s->events[i].name);
    for (size_t i = 0; i < s->week_count; i++)
        free(s->week[i].session);
    for (size_t i = 0; i < s->exercise_count; i++) {
        free(s->exercises[i].session);
        free(s->exercises[i].exercise);
    }
    free(s->events);
    free(s->week);
    free(s->exercises);
}

void season_free(Season *s) {
    if (!s)
        return;
    for (size_t i = 0; i < s->athlete_count; i++) {
        free(s->athletes[i].name);
        free(s->athletes[i].model);
        free(s->athletes[i].tests);
    }
    free_rows(s);
    free(s->athletes);
    free(s->sessions);
    for (int m = 0; m < LOAD_METHODS; m++)
        free(s->score[m]);
    names_free(&s->session_names);
    names_free(&s->test_names);
    names_free(&s->athlete_names);
    names_free(&s->squad_names);
    free(s->path);
    free(s->folder);
    free(s->log_path);
    free(s);
}

/* ---- questions ---- */

/* [kg] heavier, or lighter, than nearly all athletes. */
bool season_mass_doubtful(const Athlete *a) {
    return a->mass >= 130 || a->mass < (a->minor ? 30 : 40);
}

bool season_minor(const Athlete *a, Date on) {
    Civil birthday;
    if (a->minor || a->born == DATE_NONE)
        return a->minor;
    birthday = date_civil(a->born);
    birthday.year += 18;
    if (birthday.month == 2 && birthday.day == 29)
        birthday = (Civil){birthday.year, 3, 1};
    return on < date_of(birthday);
}

const Event *season_event(const Season *s, size_t athlete, const char *name) {
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *event = &s->events[i];
        if (!event_concerns(event, athlete))
            continue;
        if (name ? text_same(event->name, name) : event->start > s->today)
            return event;
    }
    return NULL;
}

void season_require_loads(const Season *s, size_t athlete, Notes *notes) {
    const Athlete *a = &s->athletes[athlete];
    for (size_t i = 0; i < a->session_count; i++) {
        Place place = {s->log_path, a->sessions[i].line, NULL};
        char date[DATE_TEXT], shown[TEXT_EXCERPT];
        if (isfinite(a->sessions[i].load))
            continue;
        notes_add(notes, LEVEL_ERROR, place,
                  "the load of %s on %s is not recorded, which is not the "
                  "same as 0; expected a number (or --fill for the athlete's "
                  "median for that kind of session, or --athlete for the "
                  "others)",
                  text_excerpt(shown, a->name),
                  date_write(date, a->sessions[i].date));
    }
}
