/* option_table: see option_table.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/option_table.h"

#include "answers/squad_plans.h"
#include "base/mem.h"
#include "options/columns.h"

#include <limits.h>
#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/* ---- options whose value is more than one word or number ---- */

static StatusCode take_athlete(Request *r, const OptionRule *rule,
                               const char *value, Status *status) {
    (void)rule, (void)status;
    r->question.athletes =
        mem_grow(r->question.athletes, &r->question.athlete_room,
                 r->question.athlete_count + 1, sizeof *r->question.athletes);
    r->question.athletes[r->question.athlete_count++] = mem_copy(value);
    return STATUS_OK;
}

static StatusCode take_event(Request *r, const OptionRule *rule,
                             const char *value, Status *status) {
    (void)rule, (void)status;
    free(r->question.event);
    r->question.event = mem_copy(value);
    r->question.events =
        mem_grow(r->question.events, &r->question.event_room,
                 r->question.event_count + 1, sizeof *r->question.events);
    r->question.events[r->question.event_count++] = mem_copy(value);
    return STATUS_OK;
}

static StatusCode take_out(Request *r, const OptionRule *rule,
                           const char *value, Status *status) {
    if (text_has_control(value) || strpbrk(value, "\t\n\r"))
        return option_values_refuse(
            rule, value, "a folder without control characters in its name",
            status);
    if (!*value)
        return option_values_refuse(rule, value, "a folder", status);
    free(r->out);
    r->out = mem_copy(value);
    return STATUS_OK;
}

static StatusCode take_today(Request *r, const OptionRule *rule,
                             const char *value, Status *status) {
    char why[DATE_WHY];
    if (!date_read(value, DATES_ISO, &r->question.read.today, why))
        return option_values_refuse(
            rule, value, "a date as YYYY-MM-DD, like 2026-03-09", status);
    return STATUS_OK;
}

static StatusCode take_format(Request *r, const OptionRule *rule,
                              const char *value, Status *status) {
    r->workbook = strcmp(value, "xlsx") == 0;
    for (int i = 0; picture_format_names[i]; i++) {
        if (strcmp(value, picture_format_names[i]) == 0) {
            r->format = (PictureFormat)i;
            return STATUS_OK;
        }
    }
    return r->workbook
               ? STATUS_OK
               : option_values_refuse(rule, value,
                                      "svg, png, pdf, text or xlsx", status);
}

/* Without a name it is of the sessions. */
static void set_table(TableMap *map) {
    if (!map->table)
        map->table = mem_copy("sessions");
}

static StatusCode take_map(Request *r, const OptionRule *rule,
                           const char *value, Status *status) {
    size_t before = r->maps.count;
    if (!table_maps_add(&r->maps, value))
        return option_values_refuse(
            rule, value, "OURS=THEIRS, like date=Datum,load=Belastung", status);
    for (size_t i = before; i < r->maps.count; i++) {
        Text wanted = {0};
        set_table(&r->maps.items[i]);
        if (!columns_known(r->maps.items[i].ours))
            option_values_refuse(
                rule, r->maps.items[i].ours,
                columns_expected(r->maps.items[i].ours, &wanted), status);
        text_free(&wanted);
    }
    return status->code;
}

static StatusCode take_option(Request *r, const OptionRule *rule,
                              const char *value, Status *status) {
    const char *equals = strrchr(value, '=');
    const char *spec = equals ? equals + 1 : value;
    bool asked = text_same(spec, "best") || text_same(spec, "recommended");
    char why[OPTION_WHY];
    Option option;
    NamedOption *named;
    if (!asked && !option_read(spec, &option, why))
        return option_values_refuse(rule, value, why, status);
    if (equals == value)
        return option_values_refuse(rule, value, "a name before the =", status);
    if (text_has_control(value))
        return option_values_refuse(
            rule, value, "a name without control characters", status);
    r->question.options =
        mem_grow(r->question.options, &r->question.option_room,
                 r->question.option_count + 1, sizeof *r->question.options);
    named = &r->question.options[r->question.option_count++];
    named->name = equals ? mem_copy_part(value, (size_t)(equals - value))
                         : mem_copy(spec);
    named->spec = mem_copy(spec);
    return STATUS_OK;
}

static StatusCode take_floor(Request *r, const OptionRule *rule,
                             const char *value, Status *status) {
    r->floor_given = true;
    return option_values_percent(r, rule, value, status);
}

/* Models to search under, one after the other. */
static StatusCode take_models(Request *r, const OptionRule *rule,
                              const char *value, Status *status) {
    const char *at = value;
    for (;;) {
        size_t length = strcspn(at, ",");
        if (length == 0)
            return option_values_refuse(
                rule, value, "two or more models, like own,literature", status);
        r->question.views =
            mem_grow(r->question.views, &r->question.view_room,
                     r->question.view_count + 1, sizeof *r->question.views);
        r->question.views[r->question.view_count++] = mem_copy_part(at, length);
        if (at[length] == '\0')
            break;
        at += length + 1;
    }
    if (r->question.view_count < 2 || r->question.view_count > 5)
        return option_values_refuse(
            rule, value, "two to five models, like own,literature", status);
    return STATUS_OK;
}

/* Weeks that build and lighter ones, like 3:1. */
static StatusCode take_blocks(Request *r, const OptionRule *rule,
                              const char *value, Status *status) {
    long build = 0, deload = 0;
    const char *colon = strchr(value, ':');
    char *first = mem_copy_part(value, colon ? (size_t)(colon - value) : 0);
    bool good = colon && number_read_whole(first, 1, 12, &build) &&
                number_read_whole(colon + 1, 1, 4, &deload);
    free(first);
    if (!good)
        return option_values_refuse(
            rule, value,
            "weeks that build and lighter ones, like 3:1 (1 to 12, "
            "1 to 4)",
            status);
    r->blocks.build = (int)build;
    r->blocks.deload = (int)deload;
    return STATUS_OK;
}

/* In order of date; a day is said once. */
static StatusCode add_change(Request *r, const OptionRule *rule,
                             DayChange change, Status *status) {
    size_t at = r->question.change_count;
    char day[DATE_TEXT];
    for (size_t i = 0; i < r->question.change_count; i++)
        if (r->question.changes[i].date == change.date)
            return status_fail(status, STATUS_USAGE,
                               "--%s: %s is given twice by --missed or "
                               "--did, expected each date once",
                               rule->name, date_write(day, change.date));
    r->question.changes =
        mem_grow(r->question.changes, &r->question.change_room,
                 r->question.change_count + 1, sizeof *r->question.changes);
    for (; at > 0 && r->question.changes[at - 1].date > change.date; at--)
        r->question.changes[at] = r->question.changes[at - 1];
    r->question.changes[at] = change;
    r->question.change_count++;
    return STATUS_OK;
}

static StatusCode take_missed(Request *r, const OptionRule *rule,
                              const char *value, Status *status) {
    DayChange change = {DATE_NONE, 0};
    char why[DATE_WHY];
    if (!date_read(value, DATES_ISO, &change.date, why))
        return option_values_refuse(
            rule, value, "a date as YYYY-MM-DD, like 2026-03-09", status);
    return add_change(r, rule, change, status);
}

static StatusCode take_did(Request *r, const OptionRule *rule,
                           const char *value, Status *status) {
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
        return option_values_refuse(
            rule, value,
            "DATE=LOAD, the day's load from 0 to 1000000 in the unit "
            "of the log, like 2026-03-09=450",
            status);
    return add_change(r, rule, change, status);
}

/* "tue,thu" into bits. */
static StatusCode take_weekdays(Request *r, const OptionRule *rule,
                                const char *value, Status *status) {
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
            return option_values_refuse(
                rule, value,
                "days of the week like tue,thu (mon, tue, wed, thu, "
                "fri, sat, sun)",
                status);
        r->question.weekdays |= 1u << day;
        if (at[length] == '\0')
            return STATUS_OK;
        at += length + 1;
    }
}

static StatusCode take_seed(Request *r, const OptionRule *rule,
                            const char *value, Status *status) {
    long seed;
    if (option_values_whole(rule, value, 0, LONG_MAX, &seed, status) ==
        STATUS_OK)
        r->question.seed = (unsigned long)seed;
    return status->code;
}

static StatusCode take_part(Request *r, const OptionRule *rule,
                            const char *value, Status *status) {
    const char *slash = strchr(value, '/');
    char *first = mem_copy_part(value, slash ? (size_t)(slash - value) : 0);
    long part = 0, parts = 0;
    bool good = slash && number_read_whole(slash + 1, 1, 100000, &parts) &&
                number_read_whole(first, 1, parts, &part);
    free(first);
    if (!good)
        return option_values_refuse(
            rule, value, "a part and the number of parts, like 1/8 ... 8/8",
            status);
    r->question.part = (size_t)part;
    r->question.parts = (size_t)parts;
    return STATUS_OK;
}

/* ---- the table ---- */

enum {
    FOR_EVENT = FOR_FIT | FOR_MODEL_USE,
    FOR_SEARCH = FOR_MODEL_USE,
    FOR_SQUAD = FOR_MODEL_USE,
    FOR_OPTION = FOR_SIMULATE | FOR_COMPARE | FOR_PLAN | FOR_REPORT,
    FOR_FILES = FOR_PICTURES | FOR_WORKBOOK
};

/* Words of options that no other file names. */
static const char *const date_orders[] = {"iso", "dmy", "mdy", NULL};
static const char *const befores[] = {"steady", "nothing", "fit", NULL};
static const char *const whens[] = {"before", "after", NULL};
static const char *const decimals[] = {"point", "comma", NULL};
static const char *const gaps[] = {"rest", "typical", NULL};
static const char *const encodings[] = {"utf-8", "latin1", NULL};
static const char *const pools[] = {"squad", "none", NULL};
static const char *const shapes[] = {
    "none", "step", "linear", "exponential", "two-step", "rest", NULL};

/* How a row of the table ends: the member of the request, and what it may
 * hold. */
#define FLAG(m) .member = offsetof(Request, m)
#define TEXT(m) .take = option_values_text, FLAG(m)
#define WORD(m, list) .take = option_values_word, FLAG(m), .words = list
#define SECOND(m, list) .take = option_values_second, FLAG(m), .words = list
#define LIST(m, first, list)                                                   \
    .take = option_values_list, FLAG(m), .low = first, .words = list
#define WHOLE(m, least, most)                                                  \
    .take = option_values_int, FLAG(m), .low = least, .high = most
#define COUNT(m, most)                                                         \
    .take = option_values_count, FLAG(m), .low = 1, .high = most
#define NUMBER(m, least, most, text)                                           \
    .take = option_values_number, FLAG(m), .low = least, .high = most,         \
    .wanted = text
#define PERCENT(m, most, text)                                                 \
    .take = option_values_percent, FLAG(m), .high = most, .wanted = text

#define A_HUNDRED "per cent from 0 to 100, like 50 for half"

static const OptionRule table[] = {
    {"athlete", "ID", FOR_SEASON,
     "only this athlete (may be repeated; default everyone)",
     .take = take_athlete},
    {"model", "NAME|FILE", FOR_MODEL_USE | FOR_MODELS | FOR_FIT | FOR_LESSON,
     "response model (default: the athlete's own in athletes.csv, else "
     "their tests on the literature's prior, else literature)",
     TEXT(question.model)},
    {"models", "NAME,NAME", FOR_TAPER,
     "search under each of these models and show whether the advice agrees; "
     "own: the athlete's usual one",
     .take = take_models},
    {"test", "NAME", FOR_MODEL_USE | FOR_FIT,
     "the kind of test whose readiness counts, in its unit (default: the one "
     "with most tests); the other kinds tell of the same athlete",
     TEXT(question.test)},
    {"only-test", "NAME", FOR_MODEL_USE | FOR_FIT,
     "the same, with the other kinds left out", TEXT(question.only_test)},
    {"next-test", NULL, FOR_FIT,
     "name the days before a taper of two weeks on which a test would add most "
     "to the gain of the taper then chosen",
     FLAG(question.next_test)},
    {"event", "NAME", FOR_EVENT &(FOR_TAPER | FOR_PLAN),
     "default: the next one after today (--joint: may be repeated)",
     .take = take_event},
    {"event", "NAME", FOR_EVENT &FOR_REVIEW,
     "default: the one of the plan handed out (plan.csv); without a plan the "
     "next one after today, else the last one. Where plan.csv is for another "
     "event, the plan kept for this one (plan-DATE.csv) is looked at",
     .take = take_event},
    {"event", "NAME", FOR_EVENT &FOR_REPORT,
     "default: the next one after today, else the last one",
     .take = take_event},
    {"event", "NAME",
     FOR_EVENT & ~(FOR_TAPER | FOR_PLAN | FOR_REVIEW | FOR_REPORT),
     "default: the next one after today", .take = take_event},
    {"joint", NULL, FOR_TAPER | FOR_PLAN,
     "weigh all events to come against each other (events.csv, column weight): "
     "the taper before each, and what each gives up for the others",
     FLAG(question.joint)},
    {"floor", "PERCENT", FOR_TAPER | FOR_PLAN,
     "with --joint: any 28 days keep this much of the training planned between "
     "events (default 50; 0: no floor)",
     .take = take_floor, FLAG(question.floor), .high = 100,
     .wanted = A_HUNDRED},
    {"heat", NULL, FOR_TAPER | FOR_COMPARE | FOR_PLAN | FOR_REPORT,
     "the event is in hot weather: warn of days with several sessions",
     FLAG(question.heat)},
    {"today", "DATE", FOR_SEASON,
     "the day from which plans start the day after (default: the last logged "
     "day)",
     .take = take_today},
    {"today", "DATE", FOR_START,
     "the last day of the example log (default: this day)", .take = take_today},
    {"aim", "first|mean|lowest|last", FOR_SEARCH,
     "which readiness over the event's days counts (default mean)",
     WORD(question.aim, aim_names)},
    {"option", "[NAME=]SPEC", FOR_OPTION,
     "a taper: none, best, recommended, 14d-50, 7d-50,7d-75, 3d-100, "
     "14d-0..75, "
     "14d-0~75 (compare: may be repeated)",
     .take = take_option},
    {"max-length", "DAYS", FOR_SEARCH, "longest taper searched (default 28)",
     WHOLE(question.limits.max_length, 1, 60)},
    {"max-cut", "PERCENT", FOR_SEARCH,
     "largest cut of a day's volume, full rest apart (default 75)",
     PERCENT(question.limits.max_cut, 100, A_HUNDRED)},
    {"shapes", "LIST", FOR_SEARCH,
     "shapes searched (default step,linear,exponential,two-step,rest)",
     LIST(question.limits.shapes, 1, shapes)},
    {"plate", "KG", FOR_PLAN | FOR_REPORT,
     "round kilograms down to steps of KG, the bar's smallest (2.5)",
     NUMBER(question.plate, .1, 50, "kilograms from 0.1 to 50, like 2.5")},
    {"min-week-load", "PERCENT", FOR_SEARCH,
     "each week of the taper, counted back from the event, keeps at least so "
     "much of its planned load (default 0)",
     PERCENT(question.limits.min_week_load, 100, A_HUNDRED)},
    {"rest-days", "N", FOR_SEARCH,
     "full rest is tried for at most the last N days (default 3)",
     WHOLE(question.limits.rest_days, 0, 14)},
    {"groups", "N", FOR_SQUAD,
     "at most N (1 to 8) different tapers for the squad; with taper: who gets "
     "which, and what each athlete loses against one of their own",
     COUNT(question.groups, SQUAD_PLANS_MOST)},
    {"pool", "squad|none", FOR_SQUAD,
     "do the tests of a squad's athletes tell of each other? (default squad)",
     SECOND(question.alone, pools)},
    {"individual", NULL, FOR_SQUAD,
     "recommend each athlete their own taper, not as few common ones as lose "
     "little",
     FLAG(question.individual)},
    {"ignore-plan", NULL, FOR_SEARCH | FOR_SIMULATE | FOR_LOAD,
     "as if no plan had been handed out (plan.csv)",
     FLAG(question.ignore_plan)},
    {"hand-out", NULL, FOR_PLAN,
     "store the plan in the season as plan.csv: from then on it is what is "
     "planned",
     FLAG(hand_out)},
    {"replace", NULL, FOR_PLAN,
     "with --hand-out: in the place of the plan handed out before, which is "
     "kept with its date in its name",
     FLAG(replace)},
    {"missed", "DATE", FOR_SEARCH,
     "the day's sessions were not or will not be done (may be repeated)",
     .take = take_missed},
    {"did", "DATE=LOAD", FOR_SEARCH,
     "what was or will be done that day instead (may be repeated)",
     .take = take_did},
    {"only", "DAYS", FOR_SEARCH,
     "trains on these days of the week only from now on, like tue,thu",
     .take = take_weekdays},
    {"build-up", "PERCENT", FOR_SEARCH,
     "also search up to 28 days of up to so much more load before the taper "
     "(default 0; at most 30)",
     PERCENT(question.limits.build_up, BUILD_UP_MOST,
             "per cent from 0 to 30, like 20 for a fifth more")},
    {"min-sessions", "N", FOR_SEARCH,
     "each week of the taper, counted back from the event, keeps at least N of "
     "its sessions; full rest takes away those that may be cut (default 0)",
     WHOLE(question.limits.min_sessions, 0, 50)},
    {"max-day-rise", "LOAD", FOR_SEARCH,
     "largest rise in load from one day to the next (default no limit)",
     NUMBER(question.limits.max_day_rise, 0, INFINITY,
            "a load of 0 or more, in the unit of the log, like 300")},
    {"max-week-rise", "PERCENT", FOR_SEARCH,
     "largest rise in load from one week to the next, counted back from the "
     "event (default no limit)",
     PERCENT(question.limits.max_week_rise, 1000,
             "per cent from 0 to 1000, like 10 for a tenth more")},
    {"no-gym", "N", FOR_SEARCH,
     "no gym session on the last N days before the event, taper or not "
     "(default 0)",
     WHOLE(question.limits.no_gym, 0, 60)},
    {"cut-kinds", "LIST", FOR_SEARCH,
     "only sessions of these kinds are cut, like gym,conditioning; the others "
     "stay whole (default all)",
     LIST(question.limits.cut_kinds, 0, session_kind_names)},
    {"from", "FILE", FOR_START,
     "the season of this log, CSV or FILE.xlsx#Sheet: the log, its headings "
     "and settings stored, the usual week drafted, events to fill in",
     TEXT(from)},
    {"blocks", "FILE", FOR_COMPARE,
     "the weeks to come as FILE says (columns of blocks.csv) beside those of "
     "the season, under the same taper",
     TEXT(question.blocks)},
    {"blocks", "BUILD:DELOAD", FOR_START,
     "write blocks.csv: weeks that build and lighter ones in turn, like 3:1; "
     "into a season that is there nothing else",
     .take = take_blocks},
    {"weeks", "N", FOR_START, "with --blocks: so many weeks (default 12)",
     WHOLE(blocks.weeks, 1, 48)},
    {"rise", "PERCENT", FOR_START,
     "with --blocks: from one build week to the next (default 5)",
     NUMBER(blocks.rise, 0, 20, "per cent a week from 0 to 20, like 5")},
    {"ahead", NULL, FOR_LOAD,
     "the weeks to come as planned: usual week, blocks.csv, absences, events, "
     "the plan handed out",
     FLAG(question.ahead)},
    {"weekly", NULL, FOR_LOAD, "one row a week, with monotony and strain",
     FLAG(question.weekly)},
    {"when", "before|after", FOR_SIMULATE,
     "read readiness before (default) or after each day's sessions",
     WORD(question.when, whens)},
    {"load", "METHOD", FOR_SEASON,
     "load, session-rpe, trimp, zones or volume (default: the first that is "
     "complete)",
     WORD(question.read.load, load_method_names)},
    {"fill", NULL, FOR_SEASON,
     "sessions without a load get the athlete's median for their kind",
     FLAG(question.read.fill)},
    {"leave-out", NULL, FOR_SEASON,
     "rows that cannot be read are left out, counted and listed",
     FLAG(question.read.read.leave_out)},
    {"gaps", "rest|typical", FOR_SEASON,
     "gaps of 7 days or more: no training (default) or the athlete's weekday "
     "means",
     SECOND(question.read.gaps_typical, gaps)},
    {"before", "steady|nothing|fit", FOR_MODEL_USE | FOR_FIT,
     "training before the log: the mean of its first 28 days (default), "
     "none, or what fits the tests best",
     WORD(question.before, befores)},
    {"dates", "iso|dmy|mdy", FOR_SEASON | FOR_START,
     "order of day, month and year in the files (default iso)",
     WORD(question.read.read.dates, date_orders)},
    {"map", "OURS=THEIRS,...", FOR_SEASON | FOR_START,
     "other people's headings of the sessions, like date=Datum,load=Belastung, "
     "or tests.value=Wert of another table; ignore=HEADING leaves a column out",
     .take = take_map},
    {"encoding", "utf-8|latin1", FOR_SEASON | FOR_START,
     "of files that are not UTF-8 (default: such files are refused)",
     SECOND(maps.latin1, encodings)},
    {"sheets", "N", FOR_LESSON,
     "with 'all --out': worksheets, one a student, and their answers "
     "(default 1)",
     WHOLE(sheets, 1, 200)},
    {"athletes", "N", FOR_EXPERIMENT,
     "virtual athletes of each combination (default 1000)",
     COUNT(virtual_athletes, 10000000)},
    {"list", NULL, FOR_LESSON, "the lessons, one a line", FLAG(list)},
    {"answers", "FILE", FOR_LESSON,
     "a class's answers to the lesson's question (student, answer), set "
     "against the model's",
     TEXT(answers)},
    {"page", "FILE", FOR_LESSON,
     "write a page of HTML with sliders for the model and a taper, and five "
     "tasks; for a browser, on a phone too",
     TEXT(page)},
    {"csv", NULL, FOR_ALL & ~(FOR_REPORT | FOR_START),
     "tables as CSV on standard output; of a lesson its figure's data",
     FLAG(csv)},
    {"decimal", "point|comma", FOR_ALL & ~(FOR_REPORT | FOR_START),
     "with --csv: comma writes 5,5 and ; between cells",
     SECOND(decimal_comma, decimals)},
    {"no-header", NULL, FOR_ROWS, "with --csv: no header row", FLAG(no_header)},
    {"part", "K/N", FOR_ROWS,
     "with --csv: part K of N of the athletes; the rows of part 1, 2, ... N "
     "concatenated are those of all",
     .take = take_part},
    {"out", "DIR", FOR_FILES, "write pictures and files into this folder",
     .take = take_out},
    {"format", "svg|png|pdf|text|xlsx", FOR_PICTURES &FOR_WORKBOOK,
     "of pictures (default svg); xlsx: in their place the tables as a workbook",
     .take = take_format},
    {"format", "svg|png|pdf|text", FOR_PICTURES & ~FOR_WORKBOOK,
     "of pictures (default svg)", WORD(format, picture_format_names)},
    {"format", "xlsx", FOR_WORKBOOK & ~FOR_PICTURES,
     "with --out: a workbook with a sheet for the squad and one an athlete",
     .take = take_format},
    {"seed", "N", FOR_ALL,
     "of random draws (default 1): of a model file's spreads, of worksheets; "
     "what tests say does not hang on it",
     .take = take_seed},
    {"threads", "N", FOR_ALL,
     "athletes worked on at a time; changes no result (default: the "
     "processors)",
     WHOLE(question.threads, 1, 1024)},
    {"sessions", NULL, FOR_PLAN,
     "by day and session: who does what (for a squad always)", FLAG(sessions)},
    {"event-week", NULL, FOR_PLAN,
     "also the event week: food, fluid, hours, warm-up", FLAG(event_week)},
    {"notes", NULL, FOR_NOTES,
     "assumptions, method, sources and statistics as well", FLAG(notes)},
    {"quiet", NULL, FOR_ALL, "no notices and warnings", FLAG(question.quiet)},
    {"help", NULL, FOR_ALL, "this help", FLAG(help)},
    {.name = NULL}};

const OptionRule *option_table(void) {
    return table;
}

const OptionRule *option_table_find(int commands, const char *name,
                                    size_t length) {
    for (const OptionRule *rule = table; rule->name; rule++)
        if ((rule->commands & commands) && strlen(rule->name) == length &&
            strncmp(rule->name, name, length) == 0)
            return rule;
    return NULL;
}

bool option_table_repeats(const char *name) {
    static const char *const names[] = {"athlete", "event", "option", "missed",
                                        "did",     "map",   NULL};
    for (int i = 0; names[i]; i++)
        if (text_same(names[i], name))
            return true;
    return false;
}
