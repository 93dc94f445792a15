/* prescription: see prescription.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/prescription.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* The exercise with sets to spare that is most above its quota; of several the
 * last. */
static size_t most_over(size_t count, const double *usual, double cut,
                        const double *given) {
    size_t most = 0;
    double least = INFINITY;
    for (size_t i = 0; i < count; i++) {
        double left = usual[i] * (1 - cut) - given[i];
        if (given[i] > 1 && left < least + 1e-9) {
            least = left;
            most = i;
        }
    }
    return most;
}

void prescription_sets(size_t count, const double *usual, double cut,
                       double *given) {
    double total = 0, sum = 0;
    for (size_t i = 0; i < count; i++) {
        double quota = usual[i] * (1 - cut);
        given[i] = cut >= 1 ? 0 : fmax(1, floor(quota + 1e-9));
        total += quota;
        sum += given[i];
    }
    total = cut >= 1 ? 0 : fmax((double)count, floor(total + .5 + 1e-9));
    while (sum < total) {
        size_t most = 0;
        double largest = -INFINITY;
        for (size_t i = 0; i < count; i++) {
            double left = usual[i] * (1 - cut) - given[i];
            if (left > largest + 1e-9) {
                largest = left;
                most = i;
            }
        }
        given[most]++;
        sum++;
    }
    while (sum > total) {
        given[most_over(count, usual, cut, given)]--;
        sum--;
    }
}

/* One session while it is written down. */
typedef struct {
    const Season *season;
    Prescription *plan;
    const PlannedSession *planned;
    Date date;
    double cut; /* asked for */
} Sheet;

PlanRow *prescription_add(Prescription *plan, Date date, const char *session) {
    PlanRow *row;
    plan->rows =
        mem_grow(plan->rows, &plan->room, plan->count + 1, sizeof *plan->rows);
    row = &plan->rows[plan->count++];
    *row = (PlanRow){.date = date,
                     .session = session,
                     .kind = KIND_OTHER,
                     .sets = NAN,
                     .usual_sets = NAN,
                     .reps = NAN,
                     .kg = NAN,
                     .usual_kg = NAN,
                     .percent = NAN,
                     .minutes = NAN,
                     .usual_minutes = NAN,
                     .rpe = NAN,
                     .load = NAN,
                     .usual_load = NAN};
    return row;
}

static bool of_session(const Exercise *x, const char *session) {
    return text_same(x->session, session);
}

static size_t count_exercises(const Season *s, const char *session) {
    size_t count = 0;
    for (size_t i = 0; i < s->exercise_count; i++)
        count += of_session(&s->exercises[i], session);
    return count;
}

/* Whole sets before any cut: a block or a graded return changes those that may
 * be cut. */
static double planned_sets(const Sheet *sheet, const Exercise *x) {
    if (x->keep || sheet->planned->more == 0)
        return x->sets;
    return fmax(1, floor(x->sets * (1 + sheet->planned->more) + .5));
}

static void add_exercise(Sheet *sheet, const Exercise *x, double sets) {
    PlanRow *row =
        prescription_add(sheet->plan, sheet->date, sheet->planned->session);
    row->exercise = x->exercise;
    row->kind = sheet->planned->kind;
    row->keep = x->keep || sheet->planned->keep;
    row->sets = sets;
    row->usual_sets = planned_sets(sheet, x);
    row->reps = x->reps;
    row->kg = row->usual_kg = x->kg;
    row->percent = x->percent;
    row->rpe = sheet->planned->rpe;
    row->cut = 1 - sets / row->usual_sets;
}

/* Whole sets for the exercises that may be cut; the kept ones stay, unless
 * everything rests. */
static void share_sets(const Sheet *sheet, double *usual, double *given) {
    const Season *s = sheet->season;
    size_t cuttable = 0, next = 0;
    double *some = mem_new(s->exercise_count, sizeof *some);
    double *shared = mem_new(s->exercise_count, sizeof *shared);
    for (size_t i = 0; i < s->exercise_count; i++)
        if (of_session(&s->exercises[i], sheet->planned->session) &&
            !s->exercises[i].keep)
            some[cuttable++] = planned_sets(sheet, &s->exercises[i]);
    prescription_sets(cuttable, some, sheet->cut, shared);
    cuttable = 0;
    for (size_t i = 0; i < s->exercise_count; i++) {
        const Exercise *x = &s->exercises[i];
        if (!of_session(x, sheet->planned->session))
            continue;
        usual[next] = planned_sets(sheet, x);
        given[next++] = x->keep ? x->sets : shared[cuttable++];
    }
    free(some);
    free(shared);
}

/* The fewest minutes that are worth coming for. */
static double least_minutes(const PlannedSession *p) {
    double least =
        isfinite(p->least_minutes) ? p->least_minutes : PRESCRIPTION_LEAST;
    return fmin(least, p->minutes);
}

/* To whole 5 min, no fewer than the least unless nothing is left. */
static double round_minutes(const PlannedSession *p, double share) {
    double minutes = 5 * floor(p->minutes * share / 5 + .5);
    if (share == 1 || isnan(p->minutes))
        return p->minutes;
    if (share <= 0)
        return 0;
    if (share > 1)
        return fmax(p->minutes, minutes);
    return fmin(p->minutes, fmax(least_minutes(p), minutes));
}

static void set_session_row(Sheet *sheet, PlanRow *row, double share,
                            double minutes) {
    const PlannedSession *p = sheet->planned;
    row->kind = p->kind;
    row->keep = p->keep;
    row->team = p->team;
    row->rpe = p->rpe;
    row->usual_minutes = p->minutes;
    row->minutes = minutes;
    row->at_least = share > 0 && sheet->cut > 0 && minutes > 0 &&
                    minutes == least_minutes(p) &&
                    p->minutes * (1 - sheet->cut) < minutes - 2.5;
    row->usual_load = p->load;
    row->load = p->load * share;
    row->cut = 1 - share;
}

static void add_with_exercises(Sheet *sheet, size_t count) {
    const Season *s = sheet->season;
    double *usual = mem_new(count, sizeof *usual);
    double *given = mem_new(count, sizeof *given);
    double before = 0, after = 0;
    size_t next = 0;
    PlanRow *row =
        prescription_add(sheet->plan, sheet->date, sheet->planned->session);
    share_sets(sheet, usual, given);
    for (size_t i = 0; i < count; i++) {
        before += usual[i];
        after += given[i];
    }
    /* the sets say how long it takes */
    set_session_row(sheet, row, after / before,
                    round_minutes(sheet->planned, after / before));
    row->usual_sets = before;
    row->sets = after;
    for (size_t i = 0; i < s->exercise_count; i++)
        if (of_session(&s->exercises[i], sheet->planned->session)) {
            add_exercise(sheet, &s->exercises[i], given[next]);
            next++;
        }
    free(usual);
    free(given);
}

static void add_plain(Sheet *sheet) {
    const PlannedSession *p = sheet->planned;
    PlanRow *row = prescription_add(sheet->plan, sheet->date, p->session);
    double share = 1 - sheet->cut, minutes = NAN;
    if (isnan(p->minutes) && p->load <= 0) /* nothing to cut */
        share = 1;
    if (isfinite(p->minutes) && p->minutes > 0) {
        minutes = round_minutes(p, share);
        share = minutes / p->minutes;
    }
    set_session_row(sheet, row, share, minutes);
}

/* Full rest is rest: a kept exercise does not stay alone. */
static void add_session(Sheet *sheet) {
    size_t exercises = count_exercises(sheet->season, sheet->planned->session);
    if (sheet->planned->keep)
        sheet->cut = 0;
    if (exercises > 0 && sheet->cut < 1)
        add_with_exercises(sheet, exercises);
    else
        add_plain(sheet);
}

static void add_event_day(const Outlook *o, Prescription *plan, size_t day) {
    PlanRow *row = prescription_add(plan, o->first + (Date)day, o->event->name);
    row->event = o->event;
    row->kind = KIND_MATCH;
    row->load = row->usual_load = o->fixed[day];
}

/* Days of another event before this one keep its load. */
static bool add_other_event(const Outlook *o, const Usual *u,
                            Prescription *plan, size_t day) {
    Date date = o->first + (Date)day;
    for (size_t i = 0; i < u->season->event_count; i++) {
        const Event *event = &u->season->events[i];
        PlanRow *row;
        if (event == o->event || date < event->start ||
            date >= event->start + event->days ||
            !event_concerns(event, u->athlete))
            continue;
        row = prescription_add(plan, date, event->name);
        row->event = event;
        row->kind = KIND_MATCH;
        row->load = row->usual_load = o->fixed[day];
        return true;
    }
    return false;
}

/* A session that leaves the plan, taper or not, is told as off. */
static void add_off(Sheet *sheet) {
    PlanRow *row =
        prescription_add(sheet->plan, sheet->date, sheet->planned->session);
    sheet->cut = 1;
    set_session_row(sheet, row, 0, sheet->planned->minutes > 0 ? 0 : NAN);
}

/* `together` are the cuts of the team's sessions. */
static void add_day(const Outlook *o, const Usual *u, const double *cut,
                    const double *together, Prescription *plan, size_t day) {
    PlannedSession sessions[USUAL_MOST];
    Usual whole = *u; /* with what leaves the plan */
    size_t before = o->event_day - day, count;
    bool in_window = before <= o->window;
    double gone = 0;
    if (add_other_event(o, u, plan, day))
        return;
    whole.gym_free = whole.gym_again;
    count = usual_day(&whole, o->first + (Date)day, sessions);
    for (size_t i = 0; i < count; i++) {
        const double *cuts = sessions[i].team ? together : cut;
        Sheet sheet = {u->season, plan, &sessions[i], o->first + (Date)day,
                       in_window ? cuts[before - 1] : 0};
        size_t at = plan->count;
        if (usual_gym_free(u, sessions[i].kind, sheet.date)) {
            add_off(&sheet);
            continue;
        }
        add_session(&sheet);
        gone += plan->rows[at].usual_load - plan->rows[at].load;
    }
    if (in_window && o->cuttable[day] > 0)
        plan->cut[before - 1] = gone / o->cuttable[day];
}

void prescription_build(const Outlook *o, const Usual *u, const Option *option,
                        Prescription *plan) {
    prescription_build_team(o, u, option, option, plan);
}

void prescription_build_team(const Outlook *o, const Usual *u,
                             const Option *option, const Option *common,
                             Prescription *plan) {
    double *cut = mem_new(o->window, sizeof *cut);
    double *together = mem_new(o->window, sizeof *together);
    *plan = (Prescription){.cut = mem_new(o->window, sizeof *plan->cut)};
    option_cuts(option, o->window, cut);
    option_cuts(common, o->window, together);
    for (size_t day = o->log_days; day < o->event_day; day++)
        add_day(o, u, cut, together, plan, day);
    for (size_t e = 0; e < o->event_days; e++)
        add_event_day(o, plan, o->event_day + e);
    free(cut);
    free(together);
}

void prescription_free(Prescription *plan) {
    free(plan->rows);
    free(plan->cut);
    *plan = (Prescription){0};
}
