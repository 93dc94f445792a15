/* check_names: athletes' names that look wrong; see check.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/alike.h"
#include "season/check.h"

#include <stdlib.h>

typedef void TellAlike(const Season *, const Athlete *, const Athlete *,
                       Notes *);

/* Tells of every two athletes whose names look alike. */
static void each_alike(const Season *s, TellAlike *tell, Notes *notes) {
    /* of each the one before of such a chain, or NAMES_NONE */
    size_t *before = mem_new(s->athlete_count, sizeof *before);
    size_t *last = mem_new(s->athlete_count, sizeof *last);
    Names folded = {0};
    Text name = {0};
    for (size_t i = 0; i < s->athlete_count; i++) {
        size_t known = folded.count, id;
        text_clear(&name);
        alike_key(&name, s->athletes[i].name);
        id = names_add(&folded, text_of(&name), name.length);
        before[i] = id < known ? last[id] : NAMES_NONE;
        last[id] = i;
        for (size_t k = before[i]; k != NAMES_NONE; k = before[k])
            tell(s, &s->athletes[i], &s->athletes[k], notes);
    }
    text_free(&name);
    names_free(&folded);
    free(last);
    free(before);
}

static void note_stranger(const Season *s, const Athlete *a, const char *like,
                          Notes *notes) {
    Text path = {0};
    Place place = {NULL, 0, "athlete"};
    char shown[TEXT_EXCERPT], other[TEXT_EXCERPT];
    season_file(s, a->listed ? "athletes" : "tests", &path);
    place.file = text_of(&path);
    if (like) {
        notes_add(notes, LEVEL_WARNING, place,
                  "%s has no sessions, but %s has; what stands here of %s "
                  "(minor, mass) is not used",
                  text_excerpt(shown, a->name), text_excerpt(other, like),
                  shown);
        notes_about(notes, a->name, like);
    } else {
        notes_add(notes, LEVEL_WARNING, place, "%s has no sessions",
                  text_excerpt(shown, a->name));
        notes_about(notes, a->name, NULL);
    }
    text_free(&path);
}

static bool is_stranger(const Athlete *a) {
    /* of others it was said where they stand */
    return a->session_count == 0 && (a->listed || a->test_count > 0);
}

/* Another athlete, of the log, whose name looks alike; NULL: none. */
static const char *twin(const Season *s, size_t athlete) {
    for (size_t k = 0; k < s->athlete_count; k++)
        if (k != athlete && s->athletes[k].session_count > 0 &&
            alike_names(s->athletes[athlete].name, s->athletes[k].name))
            return s->athletes[k].name;
    return NULL;
}

void check_strangers(const Season *s, Notes *notes) {
    for (size_t i = 0; i < s->athlete_count; i++)
        if (is_stranger(&s->athletes[i]))
            note_stranger(s, &s->athletes[i], twin(s, i), notes);
}

enum { MANY = 8 }; /* sessions an athlete in a log worth the name */

/* One session, where others have many, is no training. */
static void check_single(const Season *s, const Athlete *a, Notes *notes) {
    Place place = {s->log_path, 0, "athlete"};
    char shown[TEXT_EXCERPT];
    if (a->session_count == 1 && s->session_count >= MANY * s->athlete_count) {
        notes_add(notes, LEVEL_WARNING, place,
                  "%s has one session only; is it a row of totals?",
                  text_excerpt(shown, a->name));
    }
}

/* May one of two names that look alike be a slip of the pen in the log? */
static bool may_be_slip(const Athlete *a, const Athlete *b) {
    return a->session_count > 0 && b->session_count > 0 &&
           !(a->listed && b->listed);
}

static void tell_slip(const Season *s, const Athlete *a, const Athlete *b,
                      Notes *notes) {
    const Athlete *few = a->session_count < b->session_count ? a : b;
    const Athlete *many = few == a ? b : a;
    Place place = {s->log_path, 0, "athlete"};
    char shown[TEXT_EXCERPT], other[TEXT_EXCERPT];
    if (!may_be_slip(a, b))
        return;
    place.line = few->sessions[0].line;
    notes_add(
        notes, LEVEL_WARNING, place,
        "%s (%zu session%s) and %s (%zu) are two athletes here, and differ "
        "only in letter case, blanks, signs or invisible characters; expected "
        "one spelling of one person, or a row in athletes.csv for each of "
        "two",
        text_excerpt(shown, few->name), few->session_count,
        few->session_count == 1 ? "" : "s", text_excerpt(other, many->name),
        many->session_count);
    notes_about(notes, few->name, many->name);
}

void check_alike(const Season *s, Notes *notes) {
    each_alike(s, tell_slip, notes);
}

/* What check_alike() and check_strangers() leave to say. */
static void tell_alike(const Season *s, const Athlete *a, const Athlete *b,
                       Notes *notes) {
    Place place = {s->log_path, 0, "athlete"};
    char shown[TEXT_EXCERPT], other[TEXT_EXCERPT];
    if (may_be_slip(a, b) || is_stranger(a) != is_stranger(b))
        return;
    notes_add(notes, LEVEL_WARNING, place,
              "%s and %s differ only in letter case, blanks, signs or "
              "invisible characters; if they are one person, write one of "
              "them everywhere",
              text_excerpt(shown, a->name), text_excerpt(other, b->name));
}

void check_names(const Season *s, Notes *notes) {
    for (size_t i = 0; i < s->athlete_count; i++)
        check_single(s, &s->athletes[i], notes);
    each_alike(s, tell_alike, notes);
}
