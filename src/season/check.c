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

/* Athletes whose names differ in letter case only: of each the one before in
 * such a chain, or NAMES_NONE. */
static size_t *chain_alike(const Season *s) {
    size_t *before = mem_new(s->athlete_count, sizeof *before);
    size_t *last = mem_new(s->athlete_count, sizeof *last);
    Names folded = {0};
    Text name = {0};
    for (size_t i = 0; i < s->athlete_count; i++) {
        size_t known = folded.count, id;
        text_clear(&name);
        text_put_folded(&name, s->athletes[i].name);
        id = names_add(&folded, text_of(&name), name.length);
        before[i] = id < known ? last[id] : NAMES_NONE;
        last[id] = i;
    }
    text_free(&name);
    names_free(&folded);
    free(last);
    return before;
}

static void note_stranger(const Season *s, const Athlete *a, const char *like,
                          Notes *notes) {
    Text path = {0};
    Place place = {NULL, 0, "athlete"};
    char shown[TEXT_EXCERPT], other[TEXT_EXCERPT];
    text_add(&path, "%s/%s.csv", s->folder, a->listed ? "athletes" : "tests");
    place.file = text_of(&path);
    if (like)
        notes_add(notes, LEVEL_WARNING, place,
                  "%s has no sessions, but %s has; what stands here of %s "
                  "(minor, mass) is not used",
                  text_excerpt(shown, a->name), text_excerpt(other, like),
                  shown);
    else
        notes_add(notes, LEVEL_WARNING, place, "%s has no sessions",
                  text_excerpt(shown, a->name));
    text_free(&path);
}

static bool is_stranger(const Athlete *a) {
    /* of others it was said where they stand */
    return a->session_count == 0 && (a->listed || a->test_count > 0);
}

/* Another athlete of the same name but for letter case; NULL: none. */
static const char *alike(const Season *s, size_t athlete) {
    for (size_t k = 0; k < s->athlete_count; k++)
        if (k != athlete &&
            text_same(s->athletes[athlete].name, s->athletes[k].name))
            return s->athletes[k].name;
    return NULL;
}

void check_strangers(const Season *s, Notes *notes) {
    for (size_t i = 0; i < s->athlete_count; i++)
        if (is_stranger(&s->athletes[i]))
            note_stranger(s, &s->athletes[i], alike(s, i), notes);
}

enum { MANY = 8 }; /* sessions an athlete in a log worth the name */

/* One session, where others have many, is no training. */
static void check_single(const Season *s, const Athlete *a, Notes *notes) {
    Place place = {s->log_path, 0, "athlete"};
    char shown[TEXT_EXCERPT];
    if (a->session_count == 1 && s->session_count >= MANY * s->athlete_count)
        notes_add(notes, LEVEL_WARNING, place,
                  "%s has one session only; is it a row of totals?",
                  text_excerpt(shown, a->name));
}

static void check_names(const Season *s, Notes *notes) {
    size_t *before = chain_alike(s);
    Place place = {s->log_path, 0, "athlete"};
    for (size_t i = 0; i < s->athlete_count; i++) {
        char shown[TEXT_EXCERPT], other[TEXT_EXCERPT];
        check_single(s, &s->athletes[i], notes);
        for (size_t k = before[i]; k != NAMES_NONE; k = before[k])
            notes_add(notes, LEVEL_WARNING, place,
                      "%s and %s differ only in letter case; are they one "
                      "person?",
                      text_excerpt(shown, s->athletes[i].name),
                      text_excerpt(other, s->athletes[k].name));
    }
    free(before);
}

/* A test ten times the athlete's median of its kind, or a tenth: most likely
 * another unit. */
static void check_units(const Season *s, const Athlete *a, const char *path,
                        Notes *notes) {
    double *values = mem_new(a->test_count, sizeof *values);
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        Place place = {path, 0, "value"};
        char day[DATE_TEXT], shown[TEXT_EXCERPT], name[TEXT_EXCERPT];
        size_t count = 0;
        double median;
        for (size_t k = 0; k < a->test_count; k++)
            if (a->tests[k].test == test->test)
                values[count++] = fabs(a->tests[k].value);
        median = load_median(values, count);
        if (count < 3 || !(median > 0) ||
            (fabs(test->value) < 10 * median &&
             fabs(test->value) > median / 10))
            continue;
        notes_add(notes, LEVEL_WARNING, place,
                  "%s of %s on %s is %g where the median is %g; is it in "
                  "another unit?",
                  text_excerpt(name, s->test_names.items[test->test]),
                  text_excerpt(shown, a->name), date_write(day, test->date),
                  test->value, median);
    }
    free(values);
}

void check_tests(const Season *s, size_t athlete, Notes *notes) {
    const Athlete *a = &s->athletes[athlete];
    Text path = {0};
    text_add(&path, "%s/tests.csv", s->folder);
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        Place place = {text_of(&path), 0, "date"};
        char day[DATE_TEXT], shown[TEXT_EXCERPT];
        bool before = a->session_count && test->date < a->sessions[0].date;
        if (a->session_count && !before && test->date <= s->last)
            continue;
        notes_add(notes, LEVEL_WARNING, place,
                  "a test of %s on %s lies %s the log",
                  text_excerpt(shown, a->name), date_write(day, test->date),
                  before ? "before" : "after");
    }
    check_units(s, a, text_of(&path), notes);
    text_free(&path);
}

void check_mass(const Season *s, size_t athlete, Notes *notes) {
    const Athlete *a = &s->athletes[athlete];
    Text path = {0};
    Place place = {NULL, 0, "mass_kg"};
    char shown[TEXT_EXCERPT];
    if (!season_mass_doubtful(a))
        return;
    text_add(&path, "%s/athletes.csv", s->folder);
    place.file = text_of(&path);
    notes_add(notes, LEVEL_WARNING, place,
              a->mass >= 130 ? "%s weighs %.0f kg; if that is in pounds, the "
                               "column is mass_lb"
                             : "%s weighs %.0f kg; was that in kilograms, in "
                               "the column mass_lb?",
              text_excerpt(shown, a->name), a->mass);
    text_free(&path);
}

static void check_events(const Season *s, Notes *notes) {
    Text path = {0};
    text_add(&path, "%s/events.csv", s->folder);
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *a = &s->events[i];
        Place place = {text_of(&path), a->line, "start"};
        char day[DATE_TEXT], shown[TEXT_EXCERPT], other[TEXT_EXCERPT];
        if (s->today != DATE_NONE && a->start + a->days <= s->today)
            notes_add(notes, LEVEL_NOTICE, place, "%s (%s) is over",
                      text_excerpt(shown, a->name), date_write(day, a->start));
        for (size_t k = 0; k < i; k++) {
            const Event *b = &s->events[k];
            bool meet = a->athlete == NAMES_NONE || b->athlete == NAMES_NONE ||
                        a->athlete == b->athlete;
            if (meet && a->start < b->start + b->days)
                notes_add(notes, LEVEL_WARNING, place,
                          "%s and %s share days, expected one event a day",
                          text_excerpt(shown, b->name),
                          text_excerpt(other, a->name));
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
    text_add(&path, "%s/exercises.csv", s->folder);
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

void check_athlete(const Season *s, size_t athlete, Notes *notes) {
    const Athlete *a = &s->athletes[athlete];
    Daily d;
    check_twice(s, a, notes);
    check_large(s, a, notes);
    check_tests(s, athlete, notes);
    check_mass(s, athlete, notes);
    daily_build(s, athlete, false, &d);
    check_gaps(s, &d, a, notes);
    daily_free(&d);
}

void check_common(const Season *s, Notes *notes) {
    check_strangers(s, notes);
    check_names(s, notes);
    check_events(s, notes);
    check_exercises(s, notes);
}

void check_season(const Season *s, Notes *notes) {
    for (size_t i = 0; i < s->athlete_count; i++)
        check_athlete(s, i, notes);
    check_common(s, notes);
}
