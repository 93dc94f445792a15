/* warnings: see warnings.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/warnings.h"

#include "cases/event_rules.h"
#include "season/plan_changed.h"

#include <math.h>
#include <stdio.h>

static void warn_of_log(Context *d, const Case *c) {
    char text[STATUS_TEXT / 2], day[DATE_TEXT];
    const Limits *limits = &d->question->limits;
    if (d->season->today > d->season->last) {
        snprintf(text, sizeof text,
                 "the log ends on %s, %d day%s before today: the usual week is "
                 "taken for them",
                 date_write(day, d->season->last),
                 d->season->today - d->season->last,
                 d->season->today - d->season->last == 1 ? "" : "s");
        case_warn(d, NULL, text);
    }
    if (c->daily.days < (size_t)limits->max_length) {
        snprintf(text, sizeof text,
                 "the log has %zu day%s, fewer than the longest taper "
                 "searched (%d days): fitness and fatigue rest mostly on what "
                 "is assumed before the log",
                 c->daily.days, c->daily.days == 1 ? "" : "s",
                 limits->max_length);
        case_warn(d, c, text);
    }
    for (size_t g = 0; g < c->daily.gap_count; g++) {
        const Gap *gap = &c->daily.gaps[g];
        char from[DATE_TEXT];
        if (gap->from + gap->days + 84 < c->daily.days)
            continue; /* long ago: `check` tells */
        snprintf(text, sizeof text, "no row for %zu days from %s, %s",
                 gap->days, date_write(from, c->daily.first + (Date)gap->from),
                 d->question->read.gaps_typical
                     ? "filled with weekday means (--gaps typical)"
                     : "taken as no training (--gaps typical fills it)");
        case_warn(d, c, text);
    }
}

/* Absences to come, on, or just over. */
static void warn_of_absence(Context *d, const Case *c, const Absence *a) {
    char text[STATUS_TEXT], from[DATE_TEXT], to[DATE_TEXT];
    Text back = {0};
    if (a->return_days > 0)
        text_add(&back,
                 "; then a graded return over %d day%s (half, three quarters, "
                 "the whole, no match)",
                 a->return_days, a->return_days == 1 ? "" : "s");
    snprintf(text, sizeof text, "off from %s to %s (%s)%s%s",
             date_write(from, a->from), date_write(to, a->to),
             absence_reasons[a->reason], text_of(&back),
             a->reason == ABSENCE_ILLNESS || a->reason == ABSENCE_INJURY
                 ? ", as a physician allows; readiness as computed knows "
                   "nothing of health"
                 : "");
    text_free(&back);
    case_warn(d, c, text);
}

static void warn_of_absences(Context *d, const Case *c) {
    const Season *s = d->season;
    for (size_t i = 0; i < s->absence_count; i++)
        if (case_absent(c, &s->absences[i]))
            warn_of_absence(d, c, &s->absences[i]);
}

enum { WEEKS_LOOKED_AT = 28 /* [d] of the log, for its usual week */ };

/* Do the log's last weeks hold a taper that was handed out? */
static bool tapered_lately(const Season *s, size_t athlete) {
    size_t count;
    const HandedRow *rows = season_handed(s, athlete, &count);
    for (size_t i = 0; i < count; i++)
        if (rows[i].date <= s->today &&
            rows[i].date > s->today - WEEKS_LOOKED_AT)
            return true;
    return false;
}

static void warn_of_week(Context *d, const Case *c) {
    double planned = usual_week_load(&c->usual);
    double recent = c->usual.draft.week_load;
    char text[STATUS_TEXT / 2];
    if (!c->usual.written || c->usual.weekdays || recent <= 0 ||
        fabs(planned / recent - 1) <= .25 ||
        tapered_lately(d->season, c->athlete))
        return;
    snprintf(
        text, sizeof text,
        "week.csv asks for a load of %.0f a week, %.0f %% %s than the %.0f "
        "of the log's last full weeks (deloads and missed ones apart): "
        "that is a change of training, not a usual week%s",
        planned, 100 * fabs(planned / recent - 1),
        planned > recent ? "more" : "less", recent,
        planned > 2 * recent ? "; with so little base a taper changes little"
                             : "");
    case_warn(d, c, text);
}

/* An event inside another's window ends it: the two cannot be planned for one
 * by one without a loss. */
static void warn_of_inside(Context *d, const Event *own, const Event *other) {
    char text[STATUS_TEXT], a[TEXT_EXCERPT], b[TEXT_EXCERPT];
    const Event *first = other->start < own->start ? other : own;
    const Event *last = first == own ? other : own;
    int apart = last->start - (first->start + first->days);
    if (d->question->joint || first->start <= d->season->today || apart < 0 ||
        apart >= d->question->limits.max_length)
        return;
    text_excerpt(a, first->name);
    text_excerpt(b, last->name);
    if (last == own)
        snprintf(text, sizeof text,
                 "%s lies inside the %d days before %s, so only %d day%s can "
                 "be cut; taper --joint weighs both",
                 a, d->question->limits.max_length, b, apart,
                 apart == 1 ? "" : "s");
    else
        snprintf(text, sizeof text,
                 "%s follows %d day%s after %s; taper --joint weighs both", b,
                 apart + 1, apart == 0 ? "" : "s", a);
    case_warn(d, NULL, text);
    notes_about(d->notes, first->name, last->name);
}

/* Other events on the way: days shared with this one, and loads not given. */
static void warn_of_others(Context *d, const Case *c) {
    const Event *own = c->event;
    for (size_t i = 0; i < d->season->event_count; i++) {
        const Event *other = &d->season->events[i];
        char text[STATUS_TEXT], a[TEXT_EXCERPT], b[TEXT_EXCERPT];
        if (other == own || !event_concerns(other, c->athlete))
            continue;
        text_excerpt(a, other->name);
        text_excerpt(b, own->name);
        if (other->start < own->start + own->days &&
            own->start < other->start + other->days) {
            snprintf(text, sizeof text,
                     "%s and %s share days; those count as days of %s", a, b,
                     b);
            case_warn(d, NULL, text);
            notes_about(d->notes, other->name, own->name);
        } else if (other->start > d->season->today &&
                   other->start < own->start &&
                   !isfinite(other->load_per_day) &&
                   other->sessions_per_day == 0) {
            snprintf(text, sizeof text,
                     "%s comes before %s but events.csv gives it no "
                     "load_per_day, so its load is taken as 0",
                     a, b);
            case_warn(d, NULL, text);
            notes_about(d->notes, other->name, own->name);
        }
        warn_of_inside(d, own, other);
    }
}

/* [d] trained in four weeks below which there is little to taper from: twice a
 * week. Common practice, no source. */
enum { BASE_DAYS = 8 };

/* [d] of the last 28 logged with training. */
static size_t recent_days(const Daily *d) {
    size_t from = d->days > 28 ? d->days - 28 : 0, days = 0;
    for (size_t i = from; i < d->days; i++)
        days += d->load[i] > 0;
    return days;
}

static bool ever_trained(const Daily *d) {
    for (size_t i = 0; i < d->days; i++)
        if (d->load[i] > 0)
            return true;
    return false;
}

void warnings_of_base(const Daily *d, const char *athlete, Notes *notes) {
    size_t days = recent_days(d);
    bool none = !ever_trained(d);
    if (!none && (d->days < 28 || days >= BASE_DAYS))
        return;
    if (none)
        notes_add(notes, LEVEL_WARNING, (Place){athlete, 0, NULL},
                  "no training to learn from: no load in the log is above 0");
    else
        notes_add(
            notes, LEVEL_WARNING, (Place){athlete, 0, NULL},
            "trained on %zu of the last 28 days: with so little base there "
            "is little fatigue to shed, and a taper changes little; steady "
            "training matters more, and missed load is not caught up",
            days);
    notes_about(notes, athlete, NULL);
}

static void warn_of_event(Context *d, const Case *c) {
    char text[STATUS_TEXT / 2], shown[TEXT_EXCERPT];
    int away = c->event->start - d->season->today;
    text_excerpt(shown, c->event->name);
    if (away > 42) {
        snprintf(text, sizeof text,
                 "%s is %d days ahead: most of the way there is assumed, so "
                 "look again nearer to it",
                 shown, away);
        case_warn(d, NULL, text);
        notes_about(d->notes, c->event->name, NULL);
    }
    if (c->event->days > 1 && c->outlook.event_load <= 0) {
        snprintf(text, sizeof text,
                 "%s lasts %d days but events.csv gives no load_per_day, so "
                 "its own load is taken as 0 and its later days look readier "
                 "than they will be",
                 shown, c->event->days);
        case_warn(d, NULL, text);
        notes_about(d->notes, c->event->name, NULL);
    }
    if (c->outlook.event_load_guessed) {
        snprintf(text, sizeof text,
                 "the load of %s is taken as %.0f a day (sessions_per_day x "
                 "the athlete's median match or session)",
                 shown, c->outlook.event_load);
        case_warn(d, c, text);
    }
}

/* What the plan handed out was made from may be otherwise since. */
static void warn_of_plan(Context *d, const Case *c) {
    const Question *q = d->question;
    if (q->ignore_plan || q->as_issued)
        return;
    if (!plan_changed_event(d->season, c->athlete, q->older_plans, d->notes) &&
        c->event)
        plan_changed_unknown(d->season, c->athlete, c->event, d->notes);
    plan_changed_week(&c->usual, d->notes);
}

void warnings_add(Context *d, const Case *c) {
    warn_of_log(d, c);
    warn_of_absences(d, c);
    warn_of_plan(d, c);
    if (!c->event)
        return;
    warn_of_week(d, c);
    warnings_of_base(&c->daily, c->name, d->notes);
    warn_of_event(d, c);
    warn_of_others(d, c);
    event_rules_warn(d->season, c->event, d->question->heat, d->notes);
}
