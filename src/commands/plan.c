/* plan: what each athlete does each day until the event: the plan, the
 * event-week sheet, a calendar file.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/clock.h"
#include "base/mem.h"
#include "base/progress.h"
#include "commands/commands.h"
#include "output/event_sheet.h"
#include "output/handout.h"
#include "output/plan_csv.h"
#include "output/plan_files.h"
#include "output/plan_text.h"
#include "season/check.h"

#include <stdlib.h>

static void print_text(const Plan *p, size_t count, const Output *o) {
    Document doc = {0};
    plan_text(p, count, o->sessions, &doc);
    for (size_t i = 0; i < count && o->event_week; i++) {
        EventWeek sheet;
        event_week_build(p[i].taper.c, &sheet);
        event_sheet(&sheet, &doc);
    }
    output_document(o, &doc);
}

/* What is planned here is not what was handed out. */
static void note_handed(const Season *s, Notes *notes) {
    Place place = {s->folder, 0, NULL};
    char day[DATE_TEXT];
    notes_add(notes, LEVEL_NOTICE, place,
              "a plan was handed out on %s (plan.csv) and stands; this is what "
              "would be planned today",
              date_write(day, s->handed[0].issued));
}

static StatusCode answer(const Call *call, const Context *d, const Case *cases,
                         size_t count, Status *status) {
    Plan *p = mem_new(count, sizeof *p);
    time_t now; /* of the calendars: can it be told? */
    StatusCode code = call->output.folder ? clock_now(&now, status) : STATUS_OK;
    Progress progress = progress_begin("plans made", count, call->output.quiet);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = plan_make(&cases[i], &p[i], status);
    }
    progress_end(&progress);
    if (d->season->handed_count > 0 && !call->request->hand_out &&
        !call->question->ignore_plan)
        note_handed(d->season, call->notes);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        check_mass(d->season, cases[i].athlete, call->notes);
    if (code == STATUS_OK && call->output.csv)
        plan_csv(p, count, &call->output);
    if (code == STATUS_OK && !call->output.csv)
        print_text(p, count, &call->output);
    if (code == STATUS_OK && call->output.folder)
        code = plan_files_write(&call->output, p, count, status);
    if (code == STATUS_OK && call->request->hand_out)
        code = handout_write(d, p, count, call->request->replace, &call->output,
                             status);
    for (size_t i = 0; i < count; i++)
        plan_free(&p[i]);
    free(p);
    return code;
}

StatusCode command_plan(const Call *call, Status *status) {
    return command_on_squad(call, true, answer, status);
}
