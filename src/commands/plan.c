/* plan: what each athlete does each day until the event: the plan, the
 * event-week sheet, a calendar file.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/joint_events.h"
#include "answers/plan_joint.h"
#include "base/clock.h"
#include "base/mem.h"
#include "base/progress.h"
#include "commands/commands.h"
#include "output/event_sheet.h"
#include "output/handout.h"
#include "output/plan_csv.h"
#include "output/plan_files.h"
#include "output/plan_text.h"
#include "output/record_text.h"
#include "season/check.h"

#include <stdlib.h>

static void print_text(const Plan *p, size_t count, const Output *o) {
    Document doc = {0};
    plan_text(p, count, o->sessions, &doc);
    for (size_t i = 0; i < count && o->event_week; i++)
        event_sheet(&p[i], &doc);
    output_document(o, &doc);
}

/* What is planned here is not what was handed out. */
static void note_handed(const Context *d, Notes *notes) {
    const Season *s = d->season;
    Place place = {s->folder, 0, NULL};
    char day[DATE_TEXT];
    Text events = {0};
    for (size_t i = 0; i < d->chosen_count && !events.length; i++)
        record_text_events(d, d->chosen[i], &events);
    if (events.length && !d->question->joint)
        notes_add(notes, LEVEL_NOTICE, place,
                  "a plan was handed out on %s (plan.csv) for %s together and "
                  "stands; this is what would be planned today for one event "
                  "alone (--joint: for all)",
                  date_write(day, s->handed[0].issued), text_of(&events));
    else
        notes_add(notes, LEVEL_NOTICE, place,
                  "a plan was handed out on %s (plan.csv) and stands; this is "
                  "what would be planned today",
                  date_write(day, s->handed[0].issued));
    text_free(&events);
}

/* Shows the plans, and stores them where that is asked for. */
static StatusCode present(const Call *call, const Context *d, const Plan *p,
                          size_t count, Status *status) {
    StatusCode code = STATUS_OK;
    if (d->season->handed_count > 0 && !call->request->hand_out &&
        !call->question->ignore_plan)
        note_handed(d, call->notes);
    for (size_t i = 0; i < count; i++)
        check_mass(d->season, p[i].taper.c->athlete, call->notes);
    if (call->output.csv)
        plan_csv(p, count, &call->output);
    else
        print_text(p, count, &call->output);
    if (call->output.folder)
        code = plan_files_write(&call->output, p, count, status);
    if (code == STATUS_OK && call->request->hand_out)
        code = handout_write(d, p, count, call->request->replace, &call->output,
                             status);
    return code;
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
    if (code == STATUS_OK)
        code = present(call, d, p, count, status);
    for (size_t i = 0; i < count; i++)
        plan_free(&p[i]);
    free(p);
    return code;
}

/* Of all events to come at once. */
static StatusCode answer_joint(const Call *call, const Context *d,
                               const Case *cases, size_t count,
                               Status *status) {
    JointPeaks *peaks = mem_new(count, sizeof *peaks);
    PlanJoint *joint = mem_new(count, sizeof *joint);
    Plan *p = mem_new(count, sizeof *p);
    time_t now;
    StatusCode code = call->output.folder ? clock_now(&now, status) : STATUS_OK;
    if (code == STATUS_OK)
        code = joint_events_judge_names(d, status);
    if (code == STATUS_OK)
        code = joint_peaks_build(cases, count, peaks, status);
    if (code == STATUS_OK)
        code = joint_peaks_judge_all(d, peaks, count, status);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        code = plan_joint_make(&cases[i], &peaks[i], &joint[i], status);
        p[i] = joint[i].plan;
    }
    if (code == STATUS_OK)
        code = present(call, d, p, count, status);
    for (size_t i = 0; i < count; i++) {
        plan_joint_free(&joint[i]);
        joint_peaks_free(&peaks[i]);
    }
    free(p);
    free(joint);
    free(peaks);
    return code;
}

StatusCode command_plan(const Call *call, Status *status) {
    if (call->question->joint)
        return command_on_cases(call, true, answer_joint, status);
    return command_on_squad(call, true, answer, status);
}
