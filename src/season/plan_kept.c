/* plan_kept: see plan_kept.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/plan_kept.h"

#include "base/mem.h"
#include "season/files.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

/* [d] so far from where it stood in a plan an event of that name may be now;
 * beyond it is another year's. */
enum { MOVED_MOST = 28 };

/* The rows of one file, by athlete, then by date. */
typedef struct {
    char *file; /* its name in the folder; NULL: plan.csv */
    HandedRow *rows;
    size_t count, room;
} KeptPlan;

typedef struct {
    KeptPlan *items; /* in the order in which they were handed out; the last is
                        plan.csv */
    size_t count, room;
} KeptPlans;

/* ---- reading ---- */

static bool is_kept(const char *name) {
    size_t length = strlen(name);
    return strncmp(name, "plan-", 5) == 0 &&
           ((length > 9 && text_same(name + length - 4, ".csv")) ||
            (length > 10 && text_same(name + length - 5, ".xlsx")));
}

/* plan-DATE.csv, plan-DATE-2.csv, ..., plan-DATE-10.csv, plan.csv. */
static int by_issue(const void *a, const void *b) {
    const KeptPlan *x = a, *y = b;
    size_t m = strlen(x->file), n = strlen(y->file);
    Date one = x->rows[0].issued, other = y->rows[0].issued;
    if (one != other)
        return one < other ? -1 : 1;
    return m != n ? (m > n ? 1 : -1) : strcmp(x->file, y->file);
}

static void free_rows(KeptPlan *plan) {
    for (size_t i = 0; i < plan->count; i++)
        handed_row_free(&plan->rows[i]);
    free(plan->rows);
}

/* The season's rows for a while: read_plan() adds to them. */
static KeptPlan take_rows(Season *s) {
    KeptPlan plan = {NULL, s->handed, s->handed_count, s->handed_room};
    s->handed = NULL;
    s->handed_count = s->handed_room = 0;
    return plan;
}

static void read_one(Season *s, const char *name, const SeasonOptions *o,
                     KeptPlans *plans, Notes *notes) {
    Notes heard = {0};
    Text path = {0};
    KeptPlan plan;
    text_add(&path, "%s/%s", s->folder, name);
    read_plan(s, text_of(&path), o, &heard);
    plan = take_rows(s);
    for (size_t i = 0; i < heard.count && heard.errors > 0; i++)
        if (heard.items[i].level == LEVEL_ERROR) {
            Place place = {text_of(&path), heard.items[i].line,
                           heard.items[i].column};
            notes_add(notes, LEVEL_WARNING, place,
                      "%s; this older plan is left out", heard.items[i].text);
            break;
        }
    if (heard.errors > 0 || plan.count == 0) {
        free_rows(&plan);
    } else {
        plan.file = mem_copy(name);
        plans->items = mem_grow(plans->items, &plans->room, plans->count + 1,
                                sizeof *plans->items);
        plans->items[plans->count++] = plan;
    }
    notes_free(&heard);
    text_free(&path);
}

static KeptPlans read_all(Season *s, const SeasonOptions *o, Notes *notes) {
    KeptPlans plans = {0};
    KeptPlan own = take_rows(s);
    DIR *folder = opendir(s->folder);
    struct dirent *entry;
    while (folder && (entry = readdir(folder)) != NULL)
        if (is_kept(entry->d_name))
            read_one(s, entry->d_name, o, &plans, notes);
    if (folder)
        closedir(folder);
    if (plans.count > 0)
        qsort(plans.items, plans.count, sizeof *plans.items, by_issue);
    plans.items = mem_grow(plans.items, &plans.room, plans.count + 1,
                           sizeof *plans.items);
    plans.items[plans.count++] = own;
    return plans;
}

/* ---- one athlete ---- */

/* An athlete's rows of a plan. */
typedef struct {
    const HandedRow *row;
    size_t count;
} OwnRows;

static OwnRows rows_of(const KeptPlan *plan, size_t athlete) {
    OwnRows own;
    own.row = season_rows_of(plan->rows, plan->count, athlete, &own.count);
    return own;
}

static bool leads_to(OwnRows own, const Event *event) {
    for (size_t i = 0; i < own.count; i++)
        if (own.row[i].event && text_same(own.row[i].session, event->name) &&
            abs(own.row[i].date - event->start) <= MOVED_MOST)
            return true;
    return false;
}

static void add_row(Season *s, const HandedRow *from, const char *file) {
    HandedRow row = *from;
    row.session = mem_copy(from->session);
    row.exercise = mem_copy(from->exercise);
    row.version = mem_copy(from->version);
    row.test = mem_copy(from->test);
    row.file = NULL;
    if (file) {
        size_t name = names_add(&s->plan_names, file, strlen(file));
        row.file = s->plan_names.items[name];
    }
    s->handed = mem_grow(s->handed, &s->handed_room, s->handed_count + 1,
                         sizeof *s->handed);
    s->handed[s->handed_count++] = row;
}

/* Does a plan after `from` tell of a day, handed out before the event? */
static bool told_later(const KeptPlans *plans, size_t from, size_t athlete,
                       Date date, const Event *event) {
    for (size_t i = from + 1; i < plans->count; i++) {
        OwnRows own = rows_of(&plans->items[i], athlete);
        if (own.count > 0 && own.row[0].issued < event->start &&
            date > own.row[0].issued && date <= own.row[own.count - 1].date)
            return true;
    }
    return false;
}

/* From the plan that leads to the event, and those handed out on the way. */
static void merge(Season *s, const KeptPlans *plans, size_t from,
                  size_t athlete, const Event *event) {
    for (size_t i = from; i < plans->count; i++) {
        OwnRows own = rows_of(&plans->items[i], athlete);
        if (i > from && (own.count == 0 || own.row[0].issued >= event->start))
            continue;
        for (size_t k = 0; k < own.count; k++)
            if ((own.row[k].event && i == from) ||
                !told_later(plans, i, athlete, own.row[k].date, event))
                add_row(s, &own.row[k], plans->items[i].file);
    }
}

/* The latest that leads to the event; `count`: none does. */
static size_t latest(const KeptPlans *plans, size_t athlete,
                     const Event *event) {
    for (size_t i = plans->count; event && i-- > 0;)
        if (leads_to(rows_of(&plans->items[i], athlete), event))
            return i;
    return plans->count;
}

/* The plan of each athlete from which on rows are taken; false: all are
 * plan.csv's. */
static bool find_latest(const Season *s, const KeptPlans *plans,
                        const char *name, size_t *from) {
    bool any = false;
    for (size_t i = 0; i < s->athlete_count; i++) {
        from[i] = latest(plans, i, season_event(s, i, name));
        if (from[i] == plans->count) /* what is in force is all there is */
            from[i]--;
        any = any || from[i] + 1 < plans->count;
    }
    return any;
}

void plan_kept_take(Season *s, const char *name, const SeasonOptions *o,
                    Notes *notes) {
    KeptPlans plans;
    KeptPlan *own;
    size_t *from;
    if (s->single || s->handed_count == 0)
        return;
    from = mem_new(s->athlete_count, sizeof *from);
    plans = read_all(s, o, notes);
    own = &plans.items[plans.count - 1];
    if (find_latest(s, &plans, name, from)) {
        for (size_t i = 0; i < s->athlete_count; i++)
            merge(s, &plans, from[i], i, season_event(s, i, name));
        read_plan_sort(s);
    } else {
        s->handed = own->rows;
        s->handed_count = own->count;
        s->handed_room = own->room;
        *own = (KeptPlan){0};
    }
    for (size_t i = 0; i < plans.count; i++) {
        free_rows(&plans.items[i]);
        free(plans.items[i].file);
    }
    free(plans.items);
    free(from);
}
