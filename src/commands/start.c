/* start: a season folder to fill in: every file with its header and example
 * rows to replace; into a season that is there, weeks to come as blocks.
 * Overwrites nothing.
 *
 * The rows are invented and fit together: eight weeks of a plain week up to
 * today, a test every other week, an event four weeks ahead, so that every
 * command answers at once and shows what a filled folder looks like.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/clock.h"
#include "base/outfile.h"
#include "commands/commands.h"
#include "commands/start_from.h"
#include "present/grid.h"

#include <string.h>
#include <sys/stat.h>

enum {
    WEEKS = 8,
    AHEAD = 28,       /* [d] from today to the event */
    AFTER_BLOCKS = 12 /* [d] from their end: the second Saturday */
};

/* What the examples hang on. */
typedef struct {
    Date today, event;
    BlockPlan blocks;
} Example;

static const char *const athletes[] = {"example-wing", "example-back"};

/* The usual week: Monday to Sunday; minutes 0 is a day off. */
static const struct {
    const char *weekday, *session, *kind;
    int minutes, rpe;
} week[] = {{"mon", "Gym", "gym", 60, 6},
            {"tue", "Court", "skill", 90, 5},
            {"thu", "Court", "skill", 90, 5},
            {"thu", "Intervals", "conditioning", 30, 8},
            {"fri", "Gym", "gym", 60, 6},
            {"sat", "Match", "match", 60, 8}};
static const int weekday_of[] = {0, 1, 3, 3, 4, 5};
enum { SESSIONS = sizeof week / sizeof *week };

/* The last day of the log: --today, else SOURCE_DATE_EPOCH, else now. */
static StatusCode find_today(const Request *r, Date *today, Status *status) {
    time_t now;
    struct tm here;
    StatusCode code = clock_now(&now, status);
    *today = r->question.read.today;
    if (code != STATUS_OK || *today != DATE_NONE)
        return code;
    if (!(clock_is_set() ? gmtime_r(&now, &here) : localtime_r(&now, &here)))
        return status_fail(status, STATUS_SYSTEM,
                           "the clock: no date can be told from it; "
                           "--today DATE sets one");
    *today =
        date_of((Civil){here.tm_year + 1900, here.tm_mon + 1, here.tm_mday});
    return STATUS_OK;
}

/* Is a name taken, be it by a link that leads nowhere? */
static bool is_there(const char *path) {
    struct stat found;
    return lstat(path, &found) == 0;
}

/* Every fourth week is lighter; two athletes differ a little. */
static void write_sessions(const void *from, FILE *to) {
    Date today = ((const Example *)from)->today;
    fputs("date,athlete,time,session,kind,minutes,rpe\n", to);
    for (Date date = today - 7 * WEEKS + 1; date <= today; date++)
        for (int a = 0; a < 2; a++)
            for (int i = 0; i < SESSIONS; i++) {
                int n = (today - date) / 7, light = n % 4 == 2;
                char day[DATE_TEXT];
                if (weekday_of[i] != date_weekday(date))
                    continue;
                fprintf(to, "%s,%s,,%s,%s,%d,%d\n", date_write(day, date),
                        athletes[a], week[i].session, week[i].kind,
                        week[i].minutes * (light ? 2 : 3) / 3 +
                            5 * ((n + i + a) % 3 - 1),
                        week[i].rpe - (a && i == 3));
            }
}

static void write_athletes(const void *from, FILE *to) {
    (void)from;
    fputs("athlete,mass_kg,mass_lb,sex,hr_rest,hr_max,minor,born,model\n", to);
    fprintf(to, "%s,66.5,,f,,,no,,\n%s,78,,f,,,no,,\n", athletes[0],
            athletes[1]);
}

static void write_tests(const void *from, FILE *to) {
    Date today = ((const Example *)from)->today;
    static const int before[2] = {41, 13};
    static const double values[2][2] = {{32.0, 32.3}, {34.6, 34.8}};
    fputs("date,athlete,test,value,error,better,when\n", to);
    for (int n = 0; n < 2; n++)
        for (int a = 0; a < 2; a++) {
            char day[DATE_TEXT];
            fprintf(to, "%s,%s,Jump height (cm),%.1f,1.0,higher,before\n",
                    date_write(day, today - before[n]), athletes[a],
                    values[a][n]);
        }
}

static void write_events(const void *from, FILE *to) {
    char day[DATE_TEXT];
    fputs("event,start,days,weight,athlete,sessions_per_day,load_per_day,"
          "start_time,session_minutes\n",
          to);
    fprintf(to, "Example tournament,%s,2,1,,2,700,09:30 15:00,60\n",
            date_write(day, ((const Example *)from)->event));
}

static void write_week(const void *from, FILE *to) {
    (void)from;
    fputs("weekday,session,athlete,kind,minutes,rpe,load,keep\n", to);
    for (int i = 0; i < SESSIONS; i++)
        fprintf(to, "%s,%s,,%s,%d,%d,,%s\n", week[i].weekday, week[i].session,
                week[i].kind, week[i].minutes, week[i].rpe,
                strcmp(week[i].session, "Match") == 0 ? "yes" : "");
    fputs("wed,Mobility,,mobility,20,2,,yes\n", to);
}

static void write_exercises(const void *from, FILE *to) {
    (void)from;
    fputs("session,exercise,sets,reps,kg,lb,percent_1rm,keep\n"
          "Gym,Squat,5,5,,,80,\nGym,Bench press,4,6,,,75,\n"
          "Gym,Row,3,10,22.5,,,\nGym,Groin squeeze,2,8,,,,yes\n",
          to);
}

static void write_blocks(const void *from, FILE *to) {
    blocks_file_write(&((const Example *)from)->blocks, to);
}

static const struct {
    const char *name;
    void (*write)(const void *example, FILE *to);
} files[] = {
    {"sessions.csv", write_sessions}, {"athletes.csv", write_athletes},
    {"tests.csv", write_tests},       {"events.csv", write_events},
    {"week.csv", write_week},         {"exercises.csv", write_exercises},
    {"blocks.csv", write_blocks}};
enum {
    FILES = sizeof files / sizeof *files,
    BLOCKS = FILES - 1 /* written where asked for */
};

static void say_next(const char *folder, bool adds, FILE *to) {
    static const char *const commands[] = {"check", "taper", "plan"};
    if (adds) {
        fputs("\nThe blocks are yours to edit; matches and rows with keep stay "
              "as they are.\nThen: peakward load --ahead ",
              to);
        print_shown_line(to, folder);
        return;
    }
    fputs("\nThe rows are examples: put your own in their place, keep the "
          "headers, and\ndelete the columns and files you do not need (only "
          "sessions.csv is needed).\nThen: ",
          to);
    for (int i = 0; i < 3; i++) {
        fprintf(to, "%speakward %s ", i ? ", " : "", commands[i]);
        print_shown(to, folder);
    }
    fputc('\n', to);
}

/* Writes one unless it is there; counts it. */
static StatusCode write_file(const Call *call, int file, const Example *example,
                             size_t *written, Status *status) {
    Text path = {0};
    Place place = {NULL, 0, NULL};
    StatusCode code = STATUS_OK;
    text_add(&path, "%s/%s", call->request->question.season, files[file].name);
    place.file = text_of(&path);
    if (is_there(place.file)) {
        notes_add(call->notes, LEVEL_WARNING, place,
                  "is there already and stays as it is");
    } else {
        code = outfile_write(place.file, files[file].write, example, status);
        *written += code == STATUS_OK;
        if (code == STATUS_OK)
            print_shown_line(call->output.to, place.file);
    }
    text_free(&path);
    return code;
}

/* Is there a season in the folder, not one to be made? */
static bool has_season(const char *folder) {
    Text path = {0};
    bool there;
    text_add(&path, "%s/sessions.csv", folder);
    there = is_there(text_of(&path));
    text_free(&path);
    return there;
}

/* The first event after the blocks have begun; NULL: none. */
static const Event *event_after(const Season *s, Date monday) {
    for (size_t i = 0; i < s->event_count; i++)
        if (s->events[i].start + s->events[i].days > monday)
            return &s->events[i];
    return NULL;
}

/* Blocks begin on the first Monday to come and end before the event's week. */
static StatusCode fit_blocks(const Call *call, const Season *s, BlockPlan *plan,
                             Status *status) {
    const Event *event;
    char name[TEXT_EXCERPT];
    int asked = plan->weeks, room;
    plan->monday = blocks_file_monday(s->today);
    event = event_after(s, plan->monday);
    if (!event)
        return STATUS_OK;
    room = event->start > plan->monday ? (event->start - plan->monday) / 7 : 0;
    text_excerpt(name, event->name);
    if (room == 0)
        return status_fail(status, STATUS_DATA,
                           "--blocks: no whole week lies between today and the "
                           "event %s, expected an event farther off",
                           name);
    if (room < asked) {
        Place place = {"--weeks", 0, NULL};
        plan->weeks = room;
        notes_add(call->notes, LEVEL_WARNING, place,
                  "%d of %d weeks are written, since they end before the week "
                  "of the event %s",
                  room, asked, name);
    }
    return STATUS_OK;
}

/* Weeks to come for a season that is there; nothing else is written. */
static StatusCode add_blocks(const Call *call, size_t *written,
                             Status *status) {
    const Question *q = &call->request->question;
    Example example = {.blocks = call->request->blocks};
    size_t errors = call->notes->errors;
    Season *s = season_read(q->season, &q->read, call->notes);
    StatusCode code = STATUS_OK;
    if (call->notes->errors > errors)
        code = STATUS_DATA;
    else if (s->today != DATE_NONE)
        code = fit_blocks(call, s, &example.blocks, status);
    else
        code = status_fail(status, STATUS_DATA,
                           "%s: no session is logged, expected one at least",
                           q->season);
    season_free(s);
    if (code == STATUS_OK)
        code = write_file(call, BLOCKS, &example, written, status);
    return code;
}

static StatusCode write_season(const Call *call, size_t *written,
                               Status *status) {
    const Request *r = call->request;
    Example example = {.blocks = r->blocks};
    BlockPlan *plan = &example.blocks;
    StatusCode code = find_today(r, &example.today, status);
    if (code == STATUS_OK)
        code = outfile_make_folder(r->question.season, status);
    plan->monday = blocks_file_monday(example.today);
    example.event = plan->build ? plan->monday + 7 * plan->weeks + AFTER_BLOCKS
                                : example.today + AHEAD;
    for (int i = 0; i < FILES && code == STATUS_OK; i++)
        if (i != BLOCKS || plan->build)
            code = write_file(call, i, &example, written, status);
    return code;
}

StatusCode command_start(const Call *call, Status *status) {
    const Request *r = call->request;
    size_t written = 0;
    bool adds = r->blocks.build > 0 && has_season(r->question.season);
    StatusCode code;
    if (r->from)
        return start_from(call, status);
    code = adds ? add_blocks(call, &written, status)
                : write_season(call, &written, status);
    call->say(call->notes);
    if (code == STATUS_OK && written == 0)
        return status_fail(status, STATUS_DATA,
                           "%s: nothing written, since every file is there; "
                           "expected a new folder",
                           r->question.season);
    if (code == STATUS_OK && !r->question.quiet)
        say_next(r->question.season, adds, call->output.to);
    return code;
}
