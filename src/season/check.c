/* check: see check.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/check.h"

#include "base/mem.h"
#include "season/usual.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool same_score(const Session *a, const Session *b) {
    return a->load == b->load || (isnan(a->load) && isnan(b->load));
}

static bool same_row(const Session *a, const Session *b) {
    return a->minute == b->minute && a->name == b->name && a->kind == b->kind &&
           same_score(a, b);
}

static void check_twice(const Season *s, const Athlete *a, Notes *notes) {
    for (size_t i = 1; i < a->session_count && !s->wide; i++) {
        const Session *two = &a->sessions[i], *one = two;
        Place place = {s->log_path, two->line, NULL};
        char shown[TEXT_EXCERPT];
        while (one > a->sessions && one[-1].date == two->date &&
               (one == two || !same_row(one, two)))
            one--;
        if (one == two || !same_row(one, two))
            continue;
        notes_add(notes, LEVEL_WARNING, place,
                  "the same as line %u: athlete %s, day, session and load; "
                  "both count",
                  one->line, text_excerpt(shown, a->name));
    }
}

/* A load four times the median of its kind is more often a typing error than a
 * training session (common practice, no source). */
static void check_large(const Season *s, const Athlete *a, Notes *notes) {
    double median[KINDS];
    size_t seen[KINDS] = {0};
    for (size_t i = 0; i < a->session_count; i++)
        seen[a->sessions[i].kind]++;
    for (int kind = 0; kind < KINDS; kind++)
        median[kind] = usual_median(s, (size_t)(a - s->athletes), NULL, kind);
    for (size_t i = 0; i < a->session_count; i++) {
        const Session *session = &a->sessions[i];
        Place place = {s->log_path, session->line, NULL};
        char shown[TEXT_EXCERPT];
        if (seen[session->kind] < 8 || !(median[session->kind] > 0) ||
            !(session->load > 4 * median[session->kind]))
            continue;
        notes_add(notes, LEVEL_WARNING, place,
                  "a load of %g is over four times the median %g of %s for "
                  "such sessions; is it typed right?",
                  session->load, median[session->kind],
                  text_excerpt(shown, a->name));
    }
}

static void check_gaps(const Season *s, const Daily *d, const Athlete *a,
                       Notes *notes) {
    for (size_t i = 0; i < d->gap_count; i++) {
        Place place = {s->log_path, 0, "date"};
        char from[DATE_TEXT], to[DATE_TEXT], shown[TEXT_EXCERPT];
        Date first = d->first + (Date)d->gaps[i].from;
        notes_add(notes, LEVEL_WARNING, place,
                  "%s has no row for %zu days, %s to %s; rest, or not "
                  "written down? (--gaps typical fills gaps)",
                  text_excerpt(shown, a->name), d->gaps[i].days,
                  date_write(from, first),
                  date_write(to, first + (Date)d->gaps[i].days - 1));
    }
}

void check_mass(const Season *s, size_t athlete, Notes *notes) {
    const Athlete *a = &s->athletes[athlete];
    Text path = {0};
    Place place = {NULL, 0, "mass_kg"};
    char shown[TEXT_EXCERPT];
    if (!season_mass_doubtful(a))
        return;
    season_file(s, "athletes", &path);
    place.file = text_of(&path);
    notes_add(notes, LEVEL_WARNING, place,
              a->mass >= 130 ? "%s weighs %.0f kg; if that is in pounds, the "
                               "column is mass_lb"
                             : "%s weighs %.0f kg; was that in kilograms, in "
                               "the column mass_lb?",
              text_excerpt(shown, a->name), a->mass);
    notes_about(notes, a->name, NULL);
    text_free(&path);
}

static void check_birth(const Season *s, const Athlete *a, Notes *notes) {
    Text path = {0};
    Place place = {NULL, 0, "born"};
    char shown[TEXT_EXCERPT], day[DATE_TEXT];
    if (a->born == DATE_NONE || a->born <= s->today)
        return;
    season_file(s, "athletes", &path);
    place.file = text_of(&path);
    notes_add(notes, LEVEL_WARNING, place,
              "%s was born on %s, after today; is the year right?",
              text_excerpt(shown, a->name), date_write(day, a->born));
    notes_about(notes, a->name, NULL);
    text_free(&path);
}

static void check_events(const Season *s, Notes *notes) {
    Text path = {0};
    season_file(s, "events", &path);
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *a = &s->events[i];
        Place place = {text_of(&path), a->line, "start"};
        char day[DATE_TEXT], shown[TEXT_EXCERPT], other[TEXT_EXCERPT];
        if (s->today != DATE_NONE && a->start + a->days <= s->today) {
            notes_add(notes, LEVEL_NOTICE, place, "%s (%s) is over",
                      text_excerpt(shown, a->name), date_write(day, a->start));
        }
        for (size_t k = 0; k < i; k++) {
            const Event *b = &s->events[k];
            bool meet = a->athlete == NAMES_NONE || b->athlete == NAMES_NONE ||
                        a->athlete == b->athlete;
            if (meet && a->start < b->start + b->days) {
                notes_add(notes, LEVEL_WARNING, place,
                          "%s and %s share days, expected one event a day",
                          text_excerpt(shown, b->name),
                          text_excerpt(other, a->name));
            }
        }
    }
    text_free(&path);
}

/* Is there such a session in week.csv, or in the log, from which the week of
 * those is drafted for whom no row is written? */
static bool in_week(const Season *s, const char *session) {
    for (size_t i = 0; i < s->session_names.count; i++)
        if (text_same(s->session_names.items[i], session))
            return true;
    for (size_t i = 0; i < s->week_count; i++)
        if (text_same(s->week[i].session, session))
            return true;
    return false;
}

static void check_exercises(const Season *s, Notes *notes) {
    Text path = {0};
    season_file(s, "exercises", &path);
    for (size_t i = 0; i < s->exercise_count; i++) {
        Place place = {text_of(&path), s->exercises[i].line, "session"};
        char shown[TEXT_EXCERPT];
        if (!in_week(s, s->exercises[i].session))
            notes_add(notes, LEVEL_WARNING, place,
                      "%s is a session of neither week.csv nor the log, so its "
                      "exercises are never planned",
                      text_excerpt(shown, s->exercises[i].session));
    }
    text_free(&path);
}

/* Over four hours is more often a slip than a session (common practice, no
 * source). */
static void check_minutes(const Season *s, const Athlete *a, Notes *notes) {
    for (size_t i = 0; i < a->session_count; i++) {
        const Session *session = &a->sessions[i];
        Place place = {s->log_path, session->line, "minutes"};
        char shown[TEXT_EXCERPT];
        if (session->minutes > 240) {
            notes_add(notes, LEVEL_WARNING, place,
                      "%g minutes in one session of %s; is it typed right?",
                      session->minutes, text_excerpt(shown, a->name));
        }
    }
}

/* Whose every RPE is an end of the scale. */
static void check_ratings(const Season *s, const Athlete *a, Notes *notes) {
    size_t rated = 0, ends = 0;
    Place place = {s->log_path, 0, "rpe"};
    char shown[TEXT_EXCERPT];
    for (size_t i = 0; i < a->session_count; i++) {
        double rpe = a->sessions[i].rpe;
        rated += isfinite(rpe) ? 1 : 0;
        ends += rpe <= 0 || rpe >= 10;
    }
    if (rated >= 10 && ends * 10 >= rated * 9) {
        notes_add(notes, LEVEL_WARNING, place,
                  "%s rates %zu of %zu sessions 0 or 10; talk over the scale "
                  "with them",
                  text_excerpt(shown, a->name), ends, rated);
    }
}

enum { WEEKS = 8 }; /* with training, before one can be unlike the others */

/* A week of twice the median load is a camp, or rows that stand twice (common
 * practice, no source). */
static void check_weeks(const Season *s, const Daily *d, const Athlete *a,
                        Notes *notes) {
    double *sums = mem_new(d->days / 7 + 1, sizeof *sums), *kept;
    size_t offset = d->days ? (size_t)((7 - date_weekday(d->first)) % 7) : 0;
    size_t weeks = d->days > offset ? (d->days - offset) / 7 : 0, count = 0;
    double median;
    kept = mem_new(weeks + 1, sizeof *kept);
    for (size_t w = 0; w < weeks; w++) {
        for (size_t k = 0; k < 7; k++)
            sums[w] += d->load[offset + 7 * w + k];
        if (sums[w] > 0)
            kept[count++] = sums[w];
    }
    median = load_median(kept, count);
    for (size_t w = 0; w < weeks && count >= WEEKS; w++) {
        Place place = {s->log_path, 0, "date"};
        char day[DATE_TEXT], shown[TEXT_EXCERPT];
        if (sums[w] > 2 * median) {
            notes_add(notes, LEVEL_WARNING, place,
                      "the week of %s has a load of %.0f for %s, over twice "
                      "their median week of %.0f; a camp, or rows written "
                      "twice?",
                      date_write(day, d->first + (Date)(offset + 7 * w)),
                      sums[w], text_excerpt(shown, a->name), median);
        }
    }
    free(sums);
    free(kept);
}

typedef void CheckSessions(const Season *, const Athlete *, Notes *);
typedef void CheckDays(const Season *, const Daily *, const Athlete *, Notes *);

static void check_days(const Season *s, CheckDays *check, Notes *notes) {
    for (size_t i = 0; i < s->athlete_count; i++) {
        Daily d;
        daily_build(s, i, false, &d);
        check(s, &d, &s->athletes[i], notes);
        daily_free(&d);
    }
}

void check_season(const Season *s, Notes *notes) {
    static CheckSessions *const sessions[] = {check_twice, check_minutes,
                                              check_large, check_ratings};
    check_strangers(s, notes);
    check_names(s, notes);
    check_events(s, notes);
    check_all_tests(s, notes);
    for (size_t k = 0; k < sizeof sessions / sizeof *sessions; k++)
        for (size_t i = 0; i < s->athlete_count; i++)
            sessions[k](s, &s->athletes[i], notes);
    check_days(s, check_weeks, notes);
    check_days(s, check_gaps, notes);
    check_exercises(s, notes);
    for (size_t i = 0; i < s->athlete_count; i++) {
        check_mass(s, i, notes);
        check_birth(s, &s->athletes[i], notes);
    }
}
