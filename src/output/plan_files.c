/* plan_files: see plan_files.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_files.h"

#include "base/outfile.h"
#include "output/event_sheet.h"
#include "output/plan_text.h"
#include "output/plan_words.h"
#include "present/calendar.h"

#include <ctype.h>

typedef struct {
    const Plan *plan;
    const char *who; /* the athlete, for identifiers */
} Sheet;

/* The notes are of the squad's answer, not of the sheet. */
static void print_sheet(Document *doc, FILE *to) {
    document_print(doc, false, to);
    document_free(doc);
}

static void fill_plan(const void *from, FILE *to) {
    const Sheet *s = from;
    Document doc = {0};
    plan_text_sheet(s->plan, &doc);
    print_sheet(&doc, to);
}

static void fill_event_week(const void *from, FILE *to) {
    const Sheet *s = from;
    Document doc = {0};
    event_sheet(s->plan, &doc);
    print_sheet(&doc, to);
}

/* One entry a session of an event's day. */
static void calendar_event(const Sheet *s, const PlanRow *row, FILE *to) {
    int minute[EVENT_SESSIONS];
    int count = event_minutes(row->event, minute);
    for (int i = 0; i < count; i++) {
        Text id = {0}, text = {0};
        char day[DATE_TEXT];
        CalendarEntry entry = {.date = row->date,
                               .minute = minute[i],
                               .minutes = event_session_minutes(row->event),
                               .days = 1,
                               .title = row->session};
        if (i > 0 && event_minutes_taken(row->event))
            text_add(&text, "%s", event_sheet_taken);
        text_add(&id, "%s-%d-%s@peakward", date_write(day, row->date), i + 1,
                 s->who);
        entry.id = text_of(&id);
        entry.text = text_of(&text);
        calendar_entry(to, &entry);
        text_free(&id);
        text_free(&text);
    }
}

/* One entry a session: its words, its exercises below. */
static void calendar_session(const Sheet *s, size_t at, FILE *to) {
    const Plan *p = s->plan;
    const PlanRow *row = &p->sheet.rows[at];
    Text title = {0}, text = {0}, id = {0};
    char day[DATE_TEXT], share[FIGURE_TEXT];
    int of_day = 1; /* the n-th session of its day */
    CalendarEntry entry = {.date = row->date, .minute = -1, .days = 1};
    plan_words_session(row, &title);
    for (size_t i = at + 1; i < p->sheet.count && p->sheet.rows[i].exercise;
         i++) {
        plan_words_exercise(&p->sheet.rows[i], &text);
        text_add(&text, "\n");
    }
    if (100 * p->cost[at] >= PLAN_COST_SHOWN)
        text_add(&text, "Do not miss it: that costs %s of the gain.\n",
                 plan_words_cost(share, p->cost[at]));
    for (size_t i = at; i-- > 0 && p->sheet.rows[i].date == row->date;)
        of_day += !p->sheet.rows[i].exercise;
    text_add(&id, "%s-%d-%s@peakward", date_write(day, row->date), of_day,
             s->who);
    entry.title = text_of(&title);
    entry.text = text_of(&text);
    entry.id = text_of(&id);
    calendar_entry(to, &entry);
    text_free(&title);
    text_free(&text);
    text_free(&id);
}

/* Hours of the week of an event that are known. */
static void calendar_steps(const Sheet *s, const Event *event, FILE *to) {
    EventWeek sheet;
    event_week_build(s->plan->taper.c, event, &sheet);
    for (size_t i = 0; i < sheet.step_count; i++) {
        const EventStep *step = &sheet.steps[i];
        char day[DATE_TEXT];
        Text id = {0};
        CalendarEntry entry = {.date = event->start + step->day,
                               .minute = step->minute,
                               .minutes = 15,
                               .title = step->what};
        if (!step->clock || step->minute < 0 || step->start)
            continue;
        text_add(&id, "%s-event-%zu-%s@peakward", date_write(day, event->start),
                 i, s->who);
        entry.id = text_of(&id);
        calendar_entry(to, &entry);
        text_free(&id);
    }
}

/* Of one who is off then the event is no entry. */
static void fill_calendar(const void *from, FILE *to) {
    const Sheet *s = from;
    const Plan *p = s->plan;
    bool off = case_off(p->taper.c);
    Text name = {0};
    text_add(&name, "%s: %s", p->taper.c->name, p->taper.c->event->name);
    calendar_begin(to, text_of(&name));
    for (size_t i = 0; i < p->sheet.count; i++)
        if (!p->sheet.rows[i].event && !p->sheet.rows[i].exercise)
            calendar_session(s, i, to);
        else if (p->sheet.rows[i].event && !off)
            calendar_event(s, &p->sheet.rows[i], to);
    for (size_t k = 0; k < plan_events(p) && !off; k++)
        calendar_steps(s, plan_event(p, k), to);
    calendar_end(to);
    text_free(&name);
}

/* The athlete's name for identifiers: bytes that are no letter, digit or - of
 * ASCII as %XX (RFC 3986, 2.1), so that two names never give one. */
static void put_identifier(Text *who, const char *name) {
    for (; *name; name++) {
        unsigned char c = (unsigned char)*name;
        if (c < 0x80 && (isalnum(c) || c == '-'))
            text_put(who, name, 1);
        else
            text_add(who, "%%%02X", c);
    }
}

StatusCode plan_files_write(const Output *o, const Plan *p, size_t count,
                            Status *status) {
    static const struct {
        const char *ending;
        void (*fill)(const void *, FILE *);
    } kinds[] = {{".txt", fill_plan},
                 {"-event-week.txt", fill_event_week},
                 {".ics", fill_calendar}};
    const char *folder = o->folder;
    Text paths = {0};
    StatusCode code = outfile_make_folder(folder, status);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        Text name = {0}, who = {0};
        Sheet sheet = {&p[i], NULL};
        output_file_name(p[i].taper.c, "plan", &name);
        put_identifier(&who, p[i].taper.c->name);
        if (p[i].taper.c->context->question->event_count >
            0) { /* one of several plans */
            text_add(&name, "-");
            plot_file_name(&name, p[i].taper.c->event->name);
        }
        sheet.who = text_of(&who);
        for (int k = 0; k < 3 && code == STATUS_OK; k++) {
            Text path = {0};
            text_add(&path, "%s/%s%s", folder, text_of(&name), kinds[k].ending);
            code = outfile_write(text_of(&path), kinds[k].fill, &sheet, status);
            text_add(&paths, "%s\n", text_of(&path));
            text_free(&path);
        }
        text_free(&name);
        text_free(&who);
    }
    if (code == STATUS_OK && !o->csv)
        output_list(o, "Files", &paths);
    text_free(&paths);
    return code;
}
