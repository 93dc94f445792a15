/* handout: see handout.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/handout.h"

#include "base/outfile.h"
#include "output/plan_csv.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

typedef struct {
    const Context *context;
    const Plan *plan;
    size_t count;
} Source;

/* ---- what changes ---- */

static bool is_new(const Source *s, size_t athlete) {
    for (size_t i = 0; i < s->count; i++)
        if (s->plan[i].taper.c->athlete == athlete)
            return true;
    return false;
}

static double handed_load(const Season *s, size_t athlete, Date date) {
    double sum = 0;
    for (size_t i = 0; i < s->handed_count; i++)
        if (s->handed[i].athlete == athlete && s->handed[i].date == date &&
            isfinite(s->handed[i].load))
            sum += s->handed[i].load;
    return sum;
}

static double planned_load(const Plan *p, Date date) {
    double sum = 0;
    for (size_t i = 0; i < p->sheet.count; i++)
        if (p->sheet.rows[i].date == date && !p->sheet.rows[i].exercise)
            sum += p->sheet.rows[i].load;
    return sum;
}

/* Days of a plan whose load is another than in the one handed out. */
static void add_changes(const Season *s, const Plan *p, Text *text) {
    const Case *c = p->taper.c;
    size_t count = 0;
    char day[DATE_TEXT];
    Date first = DATE_NONE;
    for (Date date = s->today + 1; date < c->event->start; date++) {
        if (fabs(handed_load(s, c->athlete, date) - planned_load(p, date)) < .5)
            continue;
        if (count++ == 0)
            first = date;
    }
    if (count > 0)
        text_add(text, "%s: %zu day%s, the first %s\n", c->name, count,
                 count == 1 ? "" : "s", date_write_short(day, first));
}

static void say_changes(const Source *from, const Output *o) {
    Text text = {0};
    for (size_t i = 0; i < from->count; i++)
        add_changes(from->context->season, &from->plan[i], &text);
    if (text.length == 0)
        text_add(&text, "no day\n");
    fputs("Changes in the plan handed out:\n", o->to);
    print_lines(o->to, text_of(&text));
    text_free(&text);
}

/* ---- writing ---- */

static void fill(const void *with, FILE *to) {
    const Source *from = with;
    const Season *s = from->context->season;
    csv_header(to, PLAN_CSV_COLUMNS PLAN_CSV_ISSUED);
    for (size_t i = 0; i < s->handed_count; i++)
        if (!is_new(from, s->handed[i].athlete))
            plan_csv_kept(&s->handed[i], s, to);
    for (size_t i = 0; i < from->count; i++)
        plan_csv_issued(&from->plan[i], s->today, to);
}

/* plan.csv gets the day of its issue into its name, and a number where one of
 * that day is kept already. Both names are its own until the new plan is
 * written, where the file system has such links. */
static StatusCode keep_old(const Season *s, const char *path, Text *kept,
                           Status *status) {
    char day[DATE_TEXT];
    date_write(day, s->handed[0].issued);
    text_add(kept, "%s/plan-%s.csv", s->folder, day);
    for (int n = 2; access(text_of(kept), F_OK) == 0; n++) {
        text_free(kept);
        text_add(kept, "%s/plan-%s-%d.csv", s->folder, day, n);
    }
    if (link(path, text_of(kept)) != 0 && rename(path, text_of(kept)) != 0)
        return status_fail(status, STATUS_SYSTEM, "%s: %s", text_of(kept),
                           strerror(errno));
    return STATUS_OK;
}

/* Nothing was written: plan.csv is what it was. Of two links to one file
 * rename() leaves both. */
static void take_back(const char *path, const Text *kept) {
    if (rename(text_of(kept), path) == 0)
        remove(text_of(kept));
}

/* Days until an event on the way would be lost; of one that has begun there are
 * none. */
static StatusCode refuse_part(const Source *from, Status *status) {
    for (size_t i = 0; i < from->count; i++) {
        const Plan *p = &from->plan[i];
        char one[TEXT_EXCERPT], other[TEXT_EXCERPT];
        if (p->before && p->before->start > from->context->season->today)
            return status_fail(status, STATUS_USAGE,
                               "--hand-out: the plan for %s begins behind %s, "
                               "expected --joint for one plan of both, or "
                               "--event for the first",
                               text_excerpt(one, p->taper.c->event->name),
                               text_excerpt(other, p->before->name));
    }
    return STATUS_OK;
}

StatusCode handout_write(const Context *d, const Plan *plans, size_t count,
                         bool replace, const Output *o, Status *status) {
    const Season *s = d->season;
    Source from = {d, plans, count};
    Text path = {0}, kept = {0};
    StatusCode code = STATUS_OK;
    if (s->single)
        return status_fail(status, STATUS_USAGE,
                           "--hand-out: %s is a single file, expected a season "
                           "folder to keep the plan in",
                           s->path);
    code = refuse_part(&from, status);
    if (code != STATUS_OK)
        return code;
    text_add(&path, "%s/plan.csv", s->folder);
    if (s->handed_count > 0 && !o->csv)
        say_changes(&from, o);
    if (s->handed_count > 0 && !replace)
        code = status_fail(status, STATUS_DATA,
                           "%s: a plan was handed out already and stays; "
                           "expected --replace to put the new one in its place",
                           text_of(&path));
    else if (s->handed_count > 0)
        code = keep_old(s, text_of(&path), &kept, status);
    if (code == STATUS_OK) {
        code = outfile_write(text_of(&path), fill, &from, status);
        if (code != STATUS_OK && kept.length > 0)
            take_back(text_of(&path), &kept);
    }
    if (code == STATUS_OK && !o->csv)
        output_list(o, "Handed out", &path);
    text_free(&kept);
    text_free(&path);
    return code;
}
