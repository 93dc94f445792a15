/* request: see request.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/request.h"

#include "answers/squad_plans.h"
#include "base/crew.h"
#include "base/mem.h"
#include "options/columns.h"
#include "options/folder_files.h"
#include "present/grid.h"

#include <limits.h>
#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* One option: reads its value into the request; a failure is a usage error. */
typedef struct {
    const char *name;  /* without the dashes */
    const char *value; /* NULL: takes none */
    int commands;
    const char *help;
    StatusCode (*take)(Request *, const char *value, Status *);
    size_t flag; /* without a value: where in the request it is set */
} OptionRule;

/* How a row of the table ends. */
#define TAKES(function) function, 0
#define SETS(member) NULL, offsetof(Request, member)

static StatusCode refuse(Status *status, const char *option, const char *value,
                         const char *wanted) {
    char shown[TEXT_EXCERPT];
    return status_fail(status, STATUS_USAGE, "--%s: %s, expected %s", option,
                       text_excerpt(shown, value), wanted);
}

static void set_text(char **to, const char *value) {
    free(*to);
    *to = mem_copy(value);
}

static StatusCode take_athlete(Request *r, const char *value, Status *status) {
    (void)status;
    r->question.athletes =
        mem_grow(r->question.athletes, &r->question.athlete_room,
                 r->question.athlete_count + 1, sizeof *r->question.athletes);
    r->question.athletes[r->question.athlete_count++] = mem_copy(value);
    return STATUS_OK;
}

static StatusCode take_model(Request *r, const char *value, Status *status) {
    (void)status;
    set_text(&r->question.model, value);
    return STATUS_OK;
}

static StatusCode take_event(Request *r, const char *value, Status *status) {
    (void)status;
    set_text(&r->question.event, value);
    r->question.events =
        mem_grow(r->question.events, &r->question.event_room,
                 r->question.event_count + 1, sizeof *r->question.events);
    r->question.events[r->question.event_count++] = mem_copy(value);
    return STATUS_OK;
}

static StatusCode take_test(Request *r, const char *value, Status *status) {
    (void)status;
    set_text(&r->question.test, value);
    return STATUS_OK;
}

static StatusCode take_out(Request *r, const char *value, Status *status) {
    if (text_has_control(value) || strpbrk(value, "\t\n\r"))
        return refuse(status, "out", value,
                      "a folder without control characters in its name");
    if (!*value)
        return refuse(status, "out", value, "a folder");
    set_text(&r->out, value);
    return STATUS_OK;
}

static StatusCode take_today(Request *r, const char *value, Status *status) {
    char why[DATE_WHY];
    if (!date_read(value, DATES_ISO, &r->question.read.today, why))
        return refuse(status, "today", value,
                      "a date as YYYY-MM-DD, like 2026-03-09");
    return STATUS_OK;
}

/* Index of a word in a list that ends with NULL, or -1 with the failure. */
static int take_word(const char *option, const char *value,
                     const char *const *words, Status *status) {
    Text list = {0};
    for (int i = 0; words[i]; i++) {
        if (strcmp(value, words[i]) == 0) {
            text_free(&list);
            return i;
        }
        text_add(&list, "%s%s", i ? (words[i + 1] ? ", " : " or ") : "",
                 words[i]);
    }
    refuse(status, option, value, text_of(&list));
    text_free(&list);
    return -1;
}

static StatusCode take_aim(Request *r, const char *value, Status *status) {
    int word = take_word("aim", value, aim_names, status);
    if (word >= 0)
        r->question.aim = (Aim)word;
    return status->code;
}

static StatusCode take_pictures(Request *r, const char *value, Status *status) {
    int word = take_word("format", value, picture_format_names, status);
    if (word >= 0)
        r->format = (PictureFormat)word;
    return status->code;
}

static StatusCode take_format(Request *r, const char *value, Status *status) {
    r->workbook = strcmp(value, "xlsx") == 0;
    if (r->workbook || take_pictures(r, value, &(Status){0}) == STATUS_OK)
        return STATUS_OK;
    return refuse(status, "format", value, "svg, png, pdf, text or xlsx");
}

static StatusCode take_decimal(Request *r, const char *value, Status *status) {
    static const char *const words[] = {"point", "comma", NULL};
    int word = take_word("decimal", value, words, status);
    r->decimal_comma = word == 1;
    return status->code;
}

static StatusCode take_dates(Request *r, const char *value, Status *status) {
    static const char *const words[] = {"iso", "dmy", "mdy", NULL};
    int word = take_word("dates", value, words, status);
    if (word >= 0)
        r->question.read.read.dates = (DateOrder)word;
    return status->code;
}

static StatusCode take_load(Request *r, const char *value, Status *status) {
    int word = take_word("load", value, load_method_names, status);
    if (word >= 0)
        r->question.read.load = (LoadMethod)word;
    return status->code;
}

static StatusCode take_gaps(Request *r, const char *value, Status *status) {
    static const char *const words[] = {"rest", "typical", NULL};
    int word = take_word("gaps", value, words, status);
    if (word >= 0)
        r->question.read.gaps_typical = word == 1;
    return status->code;
}

static StatusCode take_before(Request *r, const char *value, Status *status) {
    static const char *const words[] = {"steady", "nothing", "fit", NULL};
    int word = take_word("before", value, words, status);
    if (word >= 0)
        r->question.before = (Before)word;
    return status->code;
}

static StatusCode take_when(Request *r, const char *value, Status *status) {
    static const char *const words[] = {"before", "after", NULL};
    int word = take_word("when", value, words, status);
    if (word >= 0)
        r->question.when = (ReadWhen)word;
    return status->code;
}

/* Without a name it is of the sessions. */
static void set_table(TableMap *map) {
    if (!map->table)
        map->table = mem_copy("sessions");
}

static StatusCode take_map(Request *r, const char *value, Status *status) {
    size_t before = r->maps.count;
    if (!table_maps_add(&r->maps, value))
        return refuse(status, "map", value,
                      "OURS=THEIRS, like date=Datum,load=Belastung");
    for (size_t i = before; i < r->maps.count; i++) {
        Text wanted = {0};
        set_table(&r->maps.items[i]);
        if (!columns_known(r->maps.items[i].ours))
            refuse(status, "map", r->maps.items[i].ours,
                   columns_expected(r->maps.items[i].ours, &wanted));
        text_free(&wanted);
    }
    return status->code;
}

static StatusCode take_page(Request *r, const char *value, Status *status) {
    (void)status;
    set_text(&r->page, value);
    return STATUS_OK;
}

static StatusCode take_answers(Request *r, const char *value, Status *status) {
    (void)status;
    set_text(&r->answers, value);
    return STATUS_OK;
}

static StatusCode take_from(Request *r, const char *value, Status *status) {
    (void)status;
    set_text(&r->from, value);
    return STATUS_OK;
}

static StatusCode take_encoding(Request *r, const char *value, Status *status) {
    static const char *const words[] = {"utf-8", "latin1", NULL};
    int word = take_word("encoding", value, words, status);
    r->maps.latin1 = word == 1;
    return status->code;
}

static StatusCode take_option(Request *r, const char *value, Status *status) {
    const char *equals = strrchr(value, '=');
    const char *spec = equals ? equals + 1 : value;
    bool asked = text_same(spec, "best") || text_same(spec, "recommended");
    char why[OPTION_WHY];
    Option option;
    NamedOption *named;
    if (!asked && !option_read(spec, &option, why))
        return refuse(status, "option", value, why);
    if (equals == value)
        return refuse(status, "option", value, "a name before the =");
    if (text_has_control(value))
        return refuse(status, "option", value,
                      "a name without control characters");
    r->question.options =
        mem_grow(r->question.options, &r->question.option_room,
                 r->question.option_count + 1, sizeof *r->question.options);
    named = &r->question.options[r->question.option_count++];
    named->name = equals ? mem_copy_part(value, (size_t)(equals - value))
                         : mem_copy(spec);
    named->spec = mem_copy(spec);
    return STATUS_OK;
}

static StatusCode take_whole(const char *option, const char *value, long low,
                             long high, long *to, Status *status) {
    char wanted[64];
    if (number_read_whole(value, low, high, to))
        return STATUS_OK;
    snprintf(wanted, sizeof wanted, "a whole number from %ld to %ld", low,
             high);
    return refuse(status, option, value, wanted);
}

static StatusCode take_percent(const char *option, const char *value,
                               double *to, Status *status) {
    const char *wanted;
    size_t length = strlen(value);
    bool sign = length > 1 && value[length - 1] == '%';
    char *digits = mem_copy_part(value, length - sign);
    double read = -1;
    bool good = number_read(digits, (NumberStyle){false}, &read, &wanted);
    free(digits);
    if (!good || read < 0 || read > 100 || (read > 0 && read < 1))
        return refuse(status, option, value,
                      "per cent from 0 to 100, like 50 for half");
    *to = read;
    return STATUS_OK;
}

static StatusCode take_max_length(Request *r, const char *value,
                                  Status *status) {
    long days = r->question.limits.max_length;
    take_whole("max-length", value, 1, 60, &days, status);
    r->question.limits.max_length = (int)days;
    return status->code;
}

static StatusCode take_max_cut(Request *r, const char *value, Status *status) {
    return take_percent("max-cut", value, &r->question.limits.max_cut, status);
}

static StatusCode take_min_week(Request *r, const char *value, Status *status) {
    return take_percent("min-week-load", value,
                        &r->question.limits.min_week_load, status);
}

static StatusCode take_floor(Request *r, const char *value, Status *status) {
    r->floor_given = true;
    return take_percent("floor", value, &r->question.floor, status);
}

static StatusCode take_rest_days(Request *r, const char *value,
                                 Status *status) {
    long days = r->question.limits.rest_days;
    take_whole("rest-days", value, 0, 14, &days, status);
    r->question.limits.rest_days = (int)days;
    return status->code;
}

static StatusCode take_plate(Request *r, const char *value, Status *status) {
    const char *wanted;
    if (!number_read(value, (NumberStyle){false}, &r->question.plate,
                     &wanted) ||
        r->question.plate < .1 || r->question.plate > 50)
        return refuse(status, "plate", value,
                      "kilograms from 0.1 to 50, like 2.5");
    return STATUS_OK;
}

static StatusCode take_build_up(Request *r, const char *value, Status *status) {
    take_percent("build-up", value, &r->question.limits.build_up, status);
    if (status->code == STATUS_OK &&
        r->question.limits.build_up > BUILD_UP_MOST)
        return refuse(status, "build-up", value,
                      "per cent from 0 to 30, like 20 for a fifth more");
    return status->code;
}

static StatusCode take_min_sessions(Request *r, const char *value,
                                    Status *status) {
    long sessions = 0;
    take_whole("min-sessions", value, 0, 50, &sessions, status);
    r->question.limits.min_sessions = (int)sessions;
    return status->code;
}

static StatusCode take_no_gym(Request *r, const char *value, Status *status) {
    long days = 0;
    take_whole("no-gym", value, 0, 60, &days, status);
    r->question.limits.no_gym = (int)days;
    return status->code;
}

static StatusCode take_day_rise(Request *r, const char *value, Status *status) {
    const char *wanted;
    double read = -1;
    if (!number_read(value, (NumberStyle){false}, &read, &wanted) || read < 0)
        return refuse(status, "max-day-rise", value,
                      "a load of 0 or more, in the unit of the log, like 300");
    r->question.limits.max_day_rise = read;
    return STATUS_OK;
}

static StatusCode take_week_rise(Request *r, const char *value,
                                 Status *status) {
    size_t length = strlen(value);
    bool sign = length > 1 && value[length - 1] == '%';
    char *digits = mem_copy_part(value, length - sign);
    const char *wanted;
    double read = -1;
    bool good = number_read(digits, (NumberStyle){false}, &read, &wanted);
    free(digits);
    if (!good || read < 0 || read > 1000 || (read > 0 && read < 1))
        return refuse(status, "max-week-rise", value,
                      "per cent from 0 to 1000, like 10 for a tenth more");
    r->question.limits.max_week_rise = read;
    return STATUS_OK;
}

static StatusCode take_cut_kinds(Request *r, const char *value,
                                 Status *status) {
    unsigned kinds = 0;
    while (status->code == STATUS_OK) {
        size_t length = strcspn(value, ",");
        char *word = mem_copy_part(value, length);
        int kind = take_word("cut-kinds", word, session_kind_names, status);
        free(word);
        if (kind >= 0)
            kinds |= 1u << kind;
        if (value[length] == '\0')
            break;
        value += length + 1;
    }
    r->question.limits.cut_kinds = kinds;
    return status->code;
}

static StatusCode take_shapes(Request *r, const char *value, Status *status) {
    static const char *const words[] = {
        "none", "step", "linear", "exponential", "two-step", "rest", NULL};
    unsigned shapes = 0;
    while (status->code == STATUS_OK) {
        size_t length = strcspn(value, ",");
        char *word = mem_copy_part(value, length);
        int shape = take_word("shapes", word, words + 1, status);
        free(word);
        if (shape >= 0)
            shapes |= 1u << (shape + 1);
        if (value[length] == '\0')
            break;
        value += length + 1;
    }
    r->question.limits.shapes = shapes;
    return status->code;
}

/* Models to search under, one after the other. */
static StatusCode take_models(Request *r, const char *value, Status *status) {
    const char *at = value;
    for (;;) {
        size_t length = strcspn(at, ",");
        if (length == 0)
            return refuse(status, "models", value,
                          "two or more models, like own,literature");
        r->question.views =
            mem_grow(r->question.views, &r->question.view_room,
                     r->question.view_count + 1, sizeof *r->question.views);
        r->question.views[r->question.view_count++] = mem_copy_part(at, length);
        if (at[length] == '\0')
            break;
        at += length + 1;
    }
    if (r->question.view_count < 2 || r->question.view_count > 5)
        return refuse(status, "models", value,
                      "two to five models, like own,literature");
    return STATUS_OK;
}

static StatusCode take_groups(Request *r, const char *value, Status *status) {
    long groups = 0;
    take_whole("groups", value, 1, SQUAD_PLANS_MOST, &groups, status);
    r->question.groups = (size_t)groups;
    return status->code;
}

static StatusCode take_pool(Request *r, const char *value, Status *status) {
    r->question.alone = text_same(value, "none");
    if (!r->question.alone && !text_same(value, "squad"))
        return refuse(status, "pool", value, "squad or none");
    return STATUS_OK;
}

/* Weeks that build and lighter ones, like 3:1. */
static StatusCode take_blocks(Request *r, const char *value, Status *status) {
    long build = 0, deload = 0;
    const char *colon = strchr(value, ':');
    char *first = mem_copy_part(value, colon ? (size_t)(colon - value) : 0);
    bool good = colon && number_read_whole(first, 1, 12, &build) &&
                number_read_whole(colon + 1, 1, 4, &deload);
    free(first);
    if (!good)
        return refuse(status, "blocks", value,
                      "weeks that build and lighter ones, like 3:1 (1 to 12, "
                      "1 to 4)");
    r->blocks.build = (int)build;
    r->blocks.deload = (int)deload;
    return STATUS_OK;
}

static StatusCode take_blocks_file(Request *r, const char *value,
                                   Status *status) {
    (void)status;
    set_text(&r->question.blocks, value);
    return STATUS_OK;
}

static StatusCode take_weeks(Request *r, const char *value, Status *status) {
    long weeks = 0;
    take_whole("weeks", value, 1, 48, &weeks, status);
    r->blocks.weeks = (int)weeks;
    return status->code;
}

static StatusCode take_rise(Request *r, const char *value, Status *status) {
    const char *wanted;
    if (!number_read(value, (NumberStyle){false}, &r->blocks.rise, &wanted) ||
        r->blocks.rise < 0 || r->blocks.rise > 20)
        return refuse(status, "rise", value,
                      "per cent a week from 0 to 20, like 5");
    return STATUS_OK;
}

/* In order of date; a day is said once. */
static StatusCode add_change(Request *r, const char *option, DayChange change,
                             Status *status) {
    size_t at = r->question.change_count;
    char day[DATE_TEXT];
    for (size_t i = 0; i < r->question.change_count; i++)
        if (r->question.changes[i].date == change.date)
            return status_fail(status, STATUS_USAGE,
                               "--%s: %s is given twice by --missed or "
                               "--did, expected each date once",
                               option, date_write(day, change.date));
    r->question.changes =
        mem_grow(r->question.changes, &r->question.change_room,
                 r->question.change_count + 1, sizeof *r->question.changes);
    for (; at > 0 && r->question.changes[at - 1].date > change.date; at--)
        r->question.changes[at] = r->question.changes[at - 1];
    r->question.changes[at] = change;
    r->question.change_count++;
    return STATUS_OK;
}

static StatusCode take_missed(Request *r, const char *value, Status *status) {
    DayChange change = {DATE_NONE, 0};
    char why[DATE_WHY];
    if (!date_read(value, DATES_ISO, &change.date, why))
        return refuse(status, "missed", value,
                      "a date as YYYY-MM-DD, like 2026-03-09");
    return add_change(r, "missed", change, status);
}

static StatusCode take_did(Request *r, const char *value, Status *status) {
    const char *equals = strchr(value, '=');
    DayChange change = {DATE_NONE, NAN};
    char why[DATE_WHY];
    const char *wanted;
    char *date = mem_copy_part(value, equals ? (size_t)(equals - value) : 0);
    bool good =
        date_read(date, DATES_ISO, &change.date, why) &&
        number_read(equals + 1, (NumberStyle){false}, &change.load, &wanted) &&
        change.load >= 0 && change.load <= 1e6; /* as in week.csv */
    free(date);
    if (!good)
        return refuse(status, "did", value,
                      "DATE=LOAD, the day's load from 0 to 1000000 in the unit "
                      "of the log, like 2026-03-09=450");
    return add_change(r, "did", change, status);
}

/* "tue,thu" into bits. */
static StatusCode take_weekdays(Request *r, const char *value, Status *status) {
    const char *at = value;
    r->question.weekdays = 0;
    for (;;) {
        size_t length = strcspn(at, ",");
        char *word = mem_copy_part(at, length);
        int day = 0;
        while (day < 7 && !text_same(word, date_weekday_name(day)))
            day++;
        free(word);
        if (day == 7)
            return refuse(status, "only", value,
                          "days of the week like tue,thu (mon, tue, wed, thu, "
                          "fri, sat, sun)");
        r->question.weekdays |= 1u << day;
        if (at[length] == '\0')
            return STATUS_OK;
        at += length + 1;
    }
}

static StatusCode take_seed(Request *r, const char *value, Status *status) {
    long seed = 1;
    take_whole("seed", value, 0, LONG_MAX, &seed, status);
    r->question.seed = (unsigned long)seed;
    return status->code;
}

static StatusCode take_threads(Request *r, const char *value, Status *status) {
    long threads = 1;
    take_whole("threads", value, 1, 1024, &threads, status);
    r->question.threads = (int)threads;
    return status->code;
}

static StatusCode take_part(Request *r, const char *value, Status *status) {
    const char *slash = strchr(value, '/');
    char *first = mem_copy_part(value, slash ? (size_t)(slash - value) : 0);
    long part = 0, parts = 0;
    bool good = slash && number_read_whole(slash + 1, 1, 100000, &parts) &&
                number_read_whole(first, 1, parts, &part);
    free(first);
    if (!good)
        return refuse(status, "part", value,
                      "a part and the number of parts, like 1/8 ... 8/8");
    r->question.part = (size_t)part;
    r->question.parts = (size_t)parts;
    return STATUS_OK;
}

static StatusCode take_sheets(Request *r, const char *value, Status *status) {
    long sheets = 0;
    take_whole("sheets", value, 1, 200, &sheets, status);
    r->sheets = (int)sheets;
    return status->code;
}

static StatusCode take_athletes(Request *r, const char *value, Status *status) {
    long athletes = 1;
    take_whole("athletes", value, 1, 10000000, &athletes, status);
    r->virtual_athletes = (size_t)athletes;
    return status->code;
}

enum {
    FOR_EVENT = FOR_FIT | FOR_MODEL_USE,
    FOR_SEARCH = FOR_MODEL_USE,
    FOR_SQUAD = FOR_MODEL_USE,
    FOR_OPTION = FOR_SIMULATE | FOR_COMPARE | FOR_PLAN | FOR_REPORT,
    FOR_PICTURES = FOR_FIT | FOR_SIMULATE | FOR_TAPER | FOR_COMPARE |
                   FOR_MODELS | FOR_LESSON | FOR_EXPERIMENT | FOR_REVIEW,
    FOR_FILES = FOR_PICTURES | FOR_WORKBOOK
};

static const OptionRule rules[] = {
    {"athlete", "ID", FOR_SEASON,
     "only this athlete (may be repeated; default everyone)",
     TAKES(take_athlete)},
    {"model", "NAME|FILE", FOR_MODEL_USE | FOR_MODELS | FOR_FIT | FOR_LESSON,
     "response model (default: the athlete's own in athletes.csv, else "
     "their tests on the literature's prior, else literature)",
     TAKES(take_model)},
    {"models", "NAME,NAME", FOR_TAPER,
     "search under each of these models and show whether the advice agrees; "
     "own: the athlete's usual one",
     TAKES(take_models)},
    {"test", "NAME", FOR_MODEL_USE | FOR_FIT,
     "the kind of test to fit (default: the one with most tests)",
     TAKES(take_test)},
    {"next-test", NULL, FOR_FIT,
     "name the days before a taper of two weeks on which a test would add most "
     "to the gain of the taper then chosen",
     SETS(question.next_test)},
    {"event", "NAME", FOR_EVENT,
     "default: the next one after today (--joint: may be repeated)",
     TAKES(take_event)},
    {"joint", NULL, FOR_TAPER | FOR_PLAN,
     "weigh all events to come against each other (events.csv, column weight): "
     "the taper before each, and what each gives up for the others",
     SETS(question.joint)},
    {"floor", "PERCENT", FOR_TAPER | FOR_PLAN,
     "with --joint: any 28 days keep this much of the training planned between "
     "events (default 50; 0: no floor)",
     TAKES(take_floor)},
    {"heat", NULL, FOR_TAPER | FOR_COMPARE | FOR_PLAN | FOR_REPORT,
     "the event is in hot weather: warn of days with several sessions",
     SETS(question.heat)},
    {"today", "DATE", FOR_SEASON | FOR_START,
     "the day from which plans start the day after (default: the last logged "
     "day)",
     TAKES(take_today)},
    {"aim", "first|mean|lowest|last", FOR_SEARCH,
     "which readiness over the event's days counts (default mean)",
     TAKES(take_aim)},
    {"option", "[NAME=]SPEC", FOR_OPTION,
     "a taper: none, best, recommended, 14d-50, 7d-50,7d-75, 3d-100, "
     "14d-0..75, "
     "14d-0~75 (compare: may be repeated)",
     TAKES(take_option)},
    {"max-length", "DAYS", FOR_SEARCH, "longest taper searched (default 28)",
     TAKES(take_max_length)},
    {"max-cut", "PERCENT", FOR_SEARCH,
     "largest cut of a day's volume, full rest apart (default 75)",
     TAKES(take_max_cut)},
    {"shapes", "LIST", FOR_SEARCH,
     "shapes searched (default step,linear,exponential,two-step,rest)",
     TAKES(take_shapes)},
    {"plate", "KG", FOR_PLAN | FOR_REPORT,
     "round kilograms down to steps of KG, the bar's smallest (2.5)",
     TAKES(take_plate)},
    {"min-week-load", "PERCENT", FOR_SEARCH,
     "each week of the taper, counted back from the event, keeps at least so "
     "much of its planned load (default 0)",
     TAKES(take_min_week)},
    {"rest-days", "N", FOR_SEARCH,
     "full rest is tried for at most the last N days (default 3)",
     TAKES(take_rest_days)},
    {"groups", "N", FOR_SQUAD,
     "at most N (1 to 8) different tapers for the squad; with taper: who gets "
     "which, and what each athlete loses against one of their own",
     TAKES(take_groups)},
    {"pool", "squad|none", FOR_SQUAD,
     "do the tests of a squad's athletes tell of each other? (default squad)",
     TAKES(take_pool)},
    {"individual", NULL, FOR_SQUAD,
     "recommend each athlete their own taper, not as few common ones as lose "
     "little",
     SETS(question.individual)},
    {"ignore-plan", NULL, FOR_SEARCH | FOR_SIMULATE | FOR_LOAD,
     "as if no plan had been handed out (plan.csv)",
     SETS(question.ignore_plan)},
    {"hand-out", NULL, FOR_PLAN,
     "store the plan in the season as plan.csv: from then on it is what is "
     "planned",
     SETS(hand_out)},
    {"replace", NULL, FOR_PLAN,
     "with --hand-out: in the place of the plan handed out before, which is "
     "kept with its date in its name",
     SETS(replace)},
    {"missed", "DATE", FOR_SEARCH,
     "the day's sessions were not or will not be done (may be repeated)",
     TAKES(take_missed)},
    {"did", "DATE=LOAD", FOR_SEARCH,
     "what was or will be done that day instead (may be repeated)",
     TAKES(take_did)},
    {"only", "DAYS", FOR_SEARCH,
     "trains on these days of the week only from now on, like tue,thu",
     TAKES(take_weekdays)},
    {"build-up", "PERCENT", FOR_SEARCH,
     "also search up to 28 days of up to so much more load before the taper "
     "(default 0; at most 30)",
     TAKES(take_build_up)},
    {"min-sessions", "N", FOR_SEARCH,
     "each week of the taper, counted back from the event, keeps at least N of "
     "its sessions; full rest takes away those that may be cut (default 0)",
     TAKES(take_min_sessions)},
    {"max-day-rise", "LOAD", FOR_SEARCH,
     "largest rise in load from one day to the next (default no limit)",
     TAKES(take_day_rise)},
    {"max-week-rise", "PERCENT", FOR_SEARCH,
     "largest rise in load from one week to the next, counted back from the "
     "event (default no limit)",
     TAKES(take_week_rise)},
    {"no-gym", "N", FOR_SEARCH,
     "no gym session on the last N days before the event, taper or not "
     "(default 0)",
     TAKES(take_no_gym)},
    {"cut-kinds", "LIST", FOR_SEARCH,
     "only sessions of these kinds are cut, like gym,conditioning; the others "
     "stay whole (default all)",
     TAKES(take_cut_kinds)},
    {"from", "FILE", FOR_START,
     "the season of this log, CSV or FILE.xlsx#Sheet: the log, its headings "
     "and settings stored, the usual week drafted, events to fill in",
     TAKES(take_from)},
    {"blocks", "FILE", FOR_COMPARE,
     "the weeks to come as FILE says (columns of blocks.csv) beside those of "
     "the season, under the same taper",
     TAKES(take_blocks_file)},
    {"blocks", "BUILD:DELOAD", FOR_START,
     "write blocks.csv: weeks that build and lighter ones in turn, like 3:1; "
     "into a season that is there nothing else",
     TAKES(take_blocks)},
    {"weeks", "N", FOR_START, "with --blocks: so many weeks (default 12)",
     TAKES(take_weeks)},
    {"rise", "PERCENT", FOR_START,
     "with --blocks: from one build week to the next (default 5)",
     TAKES(take_rise)},
    {"ahead", NULL, FOR_LOAD,
     "the weeks to come as planned: usual week, blocks.csv, absences, events, "
     "the plan handed out",
     SETS(question.ahead)},
    {"weekly", NULL, FOR_LOAD, "one row a week, with monotony and strain",
     SETS(question.weekly)},
    {"when", "before|after", FOR_SIMULATE,
     "read readiness before (default) or after each day's sessions",
     TAKES(take_when)},
    {"load", "METHOD", FOR_SEASON,
     "load, session-rpe, trimp, zones or volume (default: the first that is "
     "complete)",
     TAKES(take_load)},
    {"fill", NULL, FOR_SEASON,
     "sessions without a load get the athlete's median for their kind",
     SETS(question.read.fill)},
    {"leave-out", NULL, FOR_SEASON,
     "rows that cannot be read are left out, counted and listed",
     SETS(question.read.read.leave_out)},
    {"gaps", "rest|typical", FOR_SEASON,
     "gaps of 7 days or more: no training (default) or the athlete's weekday "
     "means",
     TAKES(take_gaps)},
    {"before", "steady|nothing|fit", FOR_MODEL_USE | FOR_FIT,
     "training before the log: the mean of its first 28 days (default), "
     "none, or what fits the tests best",
     TAKES(take_before)},
    {"dates", "iso|dmy|mdy", FOR_SEASON | FOR_START,
     "order of day, month and year in the files (default iso)",
     TAKES(take_dates)},
    {"map", "OURS=THEIRS,...", FOR_SEASON | FOR_START,
     "other people's headings of the sessions, like date=Datum,load=Belastung, "
     "or tests.value=Wert of another table; ignore=HEADING leaves a column out",
     TAKES(take_map)},
    {"encoding", "utf-8|latin1", FOR_SEASON | FOR_START,
     "of files that are not UTF-8 (default: such files are refused)",
     TAKES(take_encoding)},
    {"sheets", "N", FOR_LESSON,
     "with 'all --out': worksheets, one a student, and their answers "
     "(default 1)",
     TAKES(take_sheets)},
    {"athletes", "N", FOR_EXPERIMENT,
     "virtual athletes of each combination (default 1000)",
     TAKES(take_athletes)},
    {"list", NULL, FOR_LESSON, "the lessons, one a line", SETS(list)},
    {"answers", "FILE", FOR_LESSON,
     "a class's answers to the lesson's question (student, answer), set "
     "against the model's",
     TAKES(take_answers)},
    {"page", "FILE", FOR_LESSON,
     "write a page of HTML with sliders for the model and a taper, and five "
     "tasks; for a browser, on a phone too",
     TAKES(take_page)},
    {"csv", NULL, FOR_ALL & ~(FOR_REPORT | FOR_START),
     "tables as CSV on standard output; of a lesson its figure's data",
     SETS(csv)},
    {"decimal", "point|comma", FOR_ALL & ~(FOR_REPORT | FOR_START),
     "with --csv: comma writes 5,5 and ; between cells", TAKES(take_decimal)},
    {"no-header", NULL, FOR_ROWS, "with --csv: no header row", SETS(no_header)},
    {"part", "K/N", FOR_ROWS,
     "with --csv: part K of N of the athletes; the rows of part 1, 2, ... N "
     "concatenated are those of all",
     TAKES(take_part)},
    {"out", "DIR", FOR_FILES, "write pictures and files into this folder",
     TAKES(take_out)},
    {"format", "svg|png|pdf|text|xlsx", FOR_PICTURES &FOR_WORKBOOK,
     "of pictures (default svg); xlsx: in their place the tables as a workbook",
     TAKES(take_format)},
    {"format", "svg|png|pdf|text", FOR_PICTURES & ~FOR_WORKBOOK,
     "of pictures (default svg)", TAKES(take_pictures)},
    {"format", "xlsx", FOR_WORKBOOK & ~FOR_PICTURES,
     "with --out: a workbook with a sheet for the squad and one an athlete",
     TAKES(take_format)},
    {"seed", "N", FOR_ALL,
     "of random draws (default 1): of a model file's spreads, of worksheets; "
     "what tests say does not hang on it",
     TAKES(take_seed)},
    {"threads", "N", FOR_ALL,
     "athletes worked on at a time; changes no result (default: the "
     "processors)",
     TAKES(take_threads)},
    {"sessions", NULL, FOR_PLAN,
     "by day and session: who does what (for a squad always)", SETS(sessions)},
    {"event-week", NULL, FOR_PLAN,
     "also the event week: food, fluid, hours, warm-up", SETS(event_week)},
    {"notes", NULL, FOR_NOTES,
     "assumptions, method, sources and statistics as well", SETS(notes)},
    {"quiet", NULL, FOR_ALL, "no notices and warnings", SETS(question.quiet)},
    {"help", NULL, FOR_ALL, "this help", SETS(help)},
    {NULL, NULL, 0, NULL, TAKES(NULL)}};

static const OptionRule *find_rule(int command, const char *name,
                                   size_t length) {
    for (const OptionRule *rule = rules; rule->name; rule++)
        if ((rule->commands & command) && strlen(rule->name) == length &&
            strncmp(rule->name, name, length) == 0)
            return rule;
    return NULL;
}

/* Reads one option at words[*at], which may take the next word too. */
static StatusCode read_option(int command, int count, char *const *words,
                              int *at, Request *request, Status *status) {
    const char *word = words[*at] + 2;
    size_t length = strcspn(word, "=");
    const OptionRule *rule = find_rule(command, word, length);
    const char *value = word[length] == '=' ? word + length + 1 : NULL;
    char shown[TEXT_EXCERPT];
    if (!rule && length == strlen("plans") && strncmp(word, "plans", 5) == 0)
        return status_fail(status, STATUS_USAGE,
                           "--plans is named --groups now, expected "
                           "--groups N");
    if (!rule)
        return status_fail(status, STATUS_USAGE,
                           "%s is not an option of this command; 'peakward "
                           "help COMMAND' lists them",
                           text_excerpt(shown, words[*at]));
    if (!rule->value && value)
        return status_fail(status, STATUS_USAGE, "--%s takes no value",
                           rule->name);
    if (rule->value && !value) {
        bool option = *at + 1 < count && strncmp(words[*at + 1], "--", 2) == 0;
        if (*at + 1 >= count || option)
            return status_fail(status, STATUS_USAGE,
                               "--%s needs a value: --%s %s", rule->name,
                               rule->name, rule->value);
        value = words[++*at];
    }
    if (!rule->value) {
        *(bool *)((char *)request + rule->flag) = true;
        return STATUS_OK;
    }
    return rule->take(request, value, status);
}

/* Several events are for --joint, which sums over them. */
static void judge_events(const Request *r, Status *status) {
    char shown[TEXT_EXCERPT];
    if (!r->question.joint && r->question.event_count > 1)
        status_fail(status, STATUS_USAGE,
                    "--event: %s is one too many; expected one event, or "
                    "taper --joint, which weighs several",
                    text_excerpt(shown, r->question.events[1]));
    else if (r->question.joint && r->question.event_count == 1)
        status_fail(status, STATUS_USAGE,
                    "--event: %s alone, expected two events or more for "
                    "--joint, or no --event for all that are to come",
                    text_excerpt(shown, r->question.events[0]));
    else if (r->question.joint && r->question.aim == AIM_LOWEST)
        status_fail(status, STATUS_USAGE,
                    "--aim: 'lowest' is no sum of days, which --joint needs to "
                    "weigh events; expected first, mean or last");
    else if (r->question.joint && r->question.groups)
        status_fail(status, STATUS_USAGE,
                    "--groups: cannot go with --joint, expected one of them");
    else if (r->question.joint && r->question.option_count)
        status_fail(status, STATUS_USAGE,
                    "--option: cannot go with --joint, which looks for the "
                    "taper before each event, expected one of them");
    else if (r->question.joint && r->question.view_count)
        status_fail(status, STATUS_USAGE,
                    "--models: cannot go with --joint, expected --model for "
                    "one model at a time");
    else if (!r->question.joint && r->floor_given)
        status_fail(status, STATUS_USAGE,
                    "--floor: expected --joint with it, whose tapers it holds "
                    "back");
}

/* Limits that contradict each other whatever the season. */
static StatusCode check_limits(const Request *r, Status *status) {
    Text why = {0};
    if (status->code == STATUS_OK &&
        limits_contradict(&r->question.limits, &why))
        status_fail(status, STATUS_USAGE, "%s", text_of(&why));
    text_free(&why);
    return status->code;
}

/* A word that is no option: what the command is about. */
static void take_operand(int command, const char *word, Request *r,
                         Status *status) {
    char shown[TEXT_EXCERPT];
    if (!r->question.season && (command & (FOR_SEASON | FOR_START)))
        r->question.season = mem_copy(word);
    else if (!r->design && (command & FOR_EXPERIMENT))
        r->design = mem_copy(word);
    else if (!r->lesson && (command & FOR_LESSON))
        r->lesson = mem_copy(word);
    else
        status_fail(status, STATUS_USAGE,
                    "%s is one word too many; expected %s",
                    text_excerpt(shown, word),
                    command & FOR_SEASON       ? "one season folder or file"
                    : command & FOR_LESSON     ? "one lesson"
                    : command & FOR_START      ? "one folder"
                    : command & FOR_EXPERIMENT ? "one design"
                                               : "options only");
}

static void take_words(int command, int count, char *const *words, Request *r,
                       Status *status) {
    bool options = true;
    char shown[TEXT_EXCERPT];
    for (int i = 0; i < count && status->code == STATUS_OK; i++) {
        if (options && strcmp(words[i], "--") == 0)
            options = false;
        else if (options && strncmp(words[i], "--", 2) == 0)
            read_option(command, count, words, &i, r, status);
        else if (options && words[i][0] == '-' && words[i][1] != '\0')
            status_fail(status, STATUS_USAGE,
                        "%s is not an option; options have two dashes",
                        text_excerpt(shown, words[i]));
        else
            take_operand(command, words[i], r, status);
    }
}

/* ---- headings.csv and settings.csv of the season's folder ---- */

/* Was it given on the command line? */
static bool given(int count, char *const *words, const char *name) {
    size_t length = strlen(name);
    for (int i = 0; i < count && strcmp(words[i], "--") != 0; i++)
        if (strncmp(words[i], "--", 2) == 0 &&
            strncmp(words[i] + 2, name, length) == 0 &&
            (words[i][2 + length] == '\0' || words[i][2 + length] == '='))
            return true;
    return false;
}

/* A setting that was not given. */
typedef struct {
    int command, count;
    char *const *words;
    Request *request;
} Settings;

static void take_setting(void *with, const Setting *s, Status *status) {
    const Settings *settings = with;
    Request *r = settings->request;
    const char *name = s->option, *value = s->value;
    const OptionRule *rule = find_rule(settings->command, name, strlen(name));
    char shown[TEXT_EXCERPT];
    Status own = {0};
    if (given(settings->count, settings->words, name))
        return;
    if (!find_rule(FOR_ALL, name, strlen(name)) || text_same(name, "help") ||
        text_same(name, "hand-out") || text_same(name, "replace"))
        status_fail(status, STATUS_DATA,
                    "%s:%zu: option: %s, expected an option that can hold for "
                    "a folder, like dates, aim or load, without its dashes",
                    s->path, s->line, text_excerpt(shown, name));
    else if (rule && !rule->value && !text_same(value, "yes") &&
             !text_same(value, "no"))
        status_fail(status, STATUS_DATA,
                    "%s:%zu: value: %s, expected yes or no", s->path, s->line,
                    text_excerpt(shown, value));
    else if (rule && !rule->value && text_same(value, "yes"))
        *(bool *)((char *)r + rule->flag) = true;
    else if (rule && rule->value && rule->take(r, value, &own) != STATUS_OK)
        status_fail(status, STATUS_DATA, "%s:%zu: value: %s", s->path, s->line,
                    own.text);
}

static void read_folder_files(int command, int count, char *const *words,
                              Request *r, Status *status) {
    Settings settings = {command, count, words, r};
    if (!r->question.season)
        r->question.season = mem_copy(".");
    if (r->help || !(command & FOR_SEASON) || status->code != STATUS_OK)
        return;
    folder_files_headings(r->question.season, &r->maps, status);
    folder_files_settings(r->question.season, take_setting, &settings, status);
}

/* The form of the answer. What a folder's settings say of it holds where it
 * can; what the command line says must fit. */
static void judge_form(int command, int count, char *const *words, Request *r,
                       Status *status) {
    bool format = given(count, words, "format");
    if (format && !r->workbook && !(command & FOR_PICTURES))
        refuse(status, "format", picture_format_names[r->format],
               "xlsx, the only one of this command");
    else if (format && r->workbook && !r->out)
        status_fail(status, STATUS_USAGE,
                    "--format: xlsx is a file, expected --out DIR with it");
    else if (format && r->workbook && r->csv)
        status_fail(status, STATUS_USAGE,
                    "--csv: cannot go with --format xlsx, expected one of "
                    "them");
    else if (command == FOR_LOAD && given(count, words, "out") && !r->workbook)
        status_fail(status, STATUS_USAGE,
                    "--out: load writes a workbook only, expected --format "
                    "xlsx with it");
    else if (given(count, words, "decimal") && !r->csv)
        status_fail(status, STATUS_USAGE,
                    "--decimal: expected --csv with it, whose numbers it "
                    "writes");
    if (!r->out || r->csv)
        r->workbook = false;
}

/* What is not said of --blocks, to which both others belong. */
enum { BLOCKS_WEEKS = 12, BLOCKS_RISE = 5, BLOCKS_HIGHEST = 150 /* [%] */ };

static void complete_blocks(Request *r, Status *status) {
    BlockPlan *plan = &r->blocks;
    if (!plan->build && (plan->weeks || plan->rise >= 0))
        status_fail(status, STATUS_USAGE,
                    "--%s: expected --blocks with it, like --blocks 3:1",
                    plan->weeks ? "weeks" : "rise");
    if (!plan->weeks)
        plan->weeks = BLOCKS_WEEKS;
    if (plan->rise < 0)
        plan->rise = BLOCKS_RISE;
    if (plan->build && blocks_file_highest(plan) > BLOCKS_HIGHEST)
        status_fail(status, STATUS_USAGE,
                    "--rise: %g %% a week over %d weeks leads to %.0f %% of "
                    "the usual week, expected a rise or weeks that stay within "
                    "%d %%",
                    plan->rise, plan->weeks, blocks_file_highest(plan),
                    BLOCKS_HIGHEST);
}

/* Options that cannot go together; the first trouble stays. */
static void judge_together(int command, const Request *r, Status *status) {
    char shown[TEXT_EXCERPT];
    if (!r->question.season && command == FOR_START && !r->help)
        status_fail(status, STATUS_USAGE,
                    "start: no folder given, expected the name of a new one");
    if (r->question.option_count > 1 && command != FOR_COMPARE)
        status_fail(status, STATUS_USAGE,
                    "--option: %s is one too many; this command takes one, "
                    "compare takes several",
                    text_excerpt(shown, r->question.options[1].spec));
    if (r->question.blocks && r->out)
        status_fail(status, STATUS_USAGE,
                    "--out: cannot go with compare --blocks, which draws "
                    "nothing, expected one of them");
    if (r->question.groups && r->question.view_count)
        status_fail(status, STATUS_USAGE,
                    "--groups: cannot go with --models, expected one of them");
    if (r->question.groups && r->question.individual)
        status_fail(status, STATUS_USAGE,
                    "--individual: cannot go with --groups, expected one of "
                    "them");
    if (!r->csv && (r->question.parts || r->no_header))
        status_fail(status, STATUS_USAGE,
                    "--%s: expected --csv with it, whose rows can be put "
                    "together",
                    r->question.parts ? "part" : "no-header");
    if (r->question.parts && r->question.groups)
        status_fail(status, STATUS_USAGE,
                    "--part: cannot go with --groups, which weighs all "
                    "athletes, expected one of them");
    judge_events(r, status);
}

StatusCode request_read(int command, int count, char *const *words, Request *r,
                        Status *status) {
    *r = (Request){.virtual_athletes = 1000,
                   .question = {.aim = AIM_MEAN,
                                .floor = 50,
                                .seed = 1,
                                .threads = crew_processors(),
                                .limits = limits_default()}};
    r->blocks.rise = -1; /* not given */
    r->question.read.load = LOAD_FIRST_COMPLETE;
    r->question.read.today = DATE_NONE;
    take_words(command, count, words, r, status);
    if (command != FOR_START)
        read_folder_files(command, count, words, r, status);
    judge_together(command, r, status);
    judge_form(command, count, words, r, status);
    complete_blocks(r, status);
    r->question.carried =
        command == FOR_REVIEW ||
        (command == FOR_SIMULATE && r->question.option_count == 0);
    if (!r->question.season)
        r->question.season = mem_copy(".");
    r->question.read.read.maps = &r->maps;
    if (!r->help)
        check_limits(r, status);
    return status->code;
}

void request_free(Request *r) {
    for (size_t i = 0; i < r->question.athlete_count; i++)
        free(r->question.athletes[i]);
    for (size_t i = 0; i < r->question.option_count; i++) {
        free(r->question.options[i].name);
        free(r->question.options[i].spec);
    }
    for (size_t i = 0; i < r->question.view_count; i++)
        free(r->question.views[i]);
    free(r->question.athletes);
    for (size_t i = 0; i < r->question.event_count; i++)
        free(r->question.events[i]);
    free(r->question.events);
    free(r->question.views);
    free(r->question.options);
    free(r->question.changes);
    free(r->question.season);
    free(r->question.model);
    free(r->question.blocks);
    free(r->lesson);
    free(r->design);
    free(r->question.event);
    free(r->out);
    free(r->from);
    free(r->page);
    free(r->answers);
    free(r->question.test);
    table_maps_free(&r->maps);
}

Output request_output(const Request *r, FILE *to) {
    return (Output){.to = to,
                    .csv = r->csv,
                    .no_header = r->no_header,
                    .notes = r->notes,
                    .sessions = r->sessions,
                    .event_week = r->event_week,
                    .quiet = r->question.quiet,
                    .folder = r->out,
                    .format = r->format};
}

void request_options(int commands, void (*take)(const RequestOption *, void *),
                     void *into) {
    for (const OptionRule *rule = rules; rule->name; rule++) {
        RequestOption option = {rule->name, rule->value, rule->help};
        if (rule->commands & commands)
            take(&option, into);
    }
}

void request_help(int command, FILE *to) {
    for (const OptionRule *rule = rules; rule->name; rule++) {
        char word[64];
        if (!(rule->commands & command))
            continue;
        snprintf(word, sizeof word, "  --%s%s%s", rule->name,
                 rule->value ? " " : "", rule->value ? rule->value : "");
        fprintf(to, "%s\n      ", word);
        print_wrapped(to, rule->help, 72, 6);
    }
}
