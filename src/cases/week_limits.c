/* week_limits: see week_limits.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/week_limits.h"

/* A note about a limit, `place` its option. */
static void say(Context *d, const Case *c, Level level, LimitName limit,
                const char *what) {
    Text option = {0};
    Place place = {c->name, 0, NULL};
    limits_option(&d->question->limits, limit, &option);
    notes_add(d->notes, level, place, "%s: %s", text_of(&option), what);
    text_free(&option);
}

static void refuse(Context *d, const Case *c, LimitName limit,
                   const char *what) {
    say(d, c, LEVEL_ERROR, limit, what);
}

/* The first day that is not logged. */
static Date to_come(const Case *c) {
    return c->daily.first + (Date)c->daily.days;
}

/* Line of a kept gym session in week.csv, or of any with its name. */
static size_t line_of(const Case *c, const char *session) {
    const Season *s = c->usual.season;
    for (size_t i = 0; i < s->week_count; i++)
        if (s->week[i].session == session)
            return s->week[i].line;
    return 0;
}

static void refuse_kept(Context *d, const Case *c, Date date,
                        const char *session) {
    Text path = {0}, option = {0};
    Place place = {NULL, line_of(c, session), "keep"};
    char shown[TEXT_EXCERPT], day[DATE_TEXT];
    season_file(d->season, "week", &path);
    place.file = text_of(&path);
    limits_option(&d->question->limits, LIMIT_NO_GYM, &option);
    notes_add(d->notes, LEVEL_ERROR, place,
              "%s is marked to stay, but %s takes it off %s; expected one of "
              "the two",
              text_excerpt(shown, session), text_of(&option),
              date_write_short(day, date));
    text_free(&path);
    text_free(&option);
}

/* A gym session marked `keep` contradicts days without gym; once is enough. */
static void look_for_kept(Context *d, const Case *c) {
    PlannedSession sessions[USUAL_MOST];
    Date end = c->event->start;
    Date date = end - d->question->limits.no_gym;
    if (date < to_come(c))
        date = to_come(c);
    for (; date < end; date++) {
        size_t count = usual_day(&c->usual, date, sessions);
        for (size_t i = 0; i < count; i++)
            if (sessions[i].kind == KIND_GYM && sessions[i].keep) {
                refuse_kept(d, c, date, sessions[i].session);
                return;
            }
    }
}

/* Is there a gym session to come at all? */
static bool goes_to_gym(const Case *c) {
    PlannedSession sessions[USUAL_MOST];
    for (Date date = to_come(c); date < c->event->start; date++) {
        size_t count = usual_day(&c->usual, date, sessions);
        for (size_t i = 0; i < count; i++)
            if (sessions[i].kind == KIND_GYM)
                return true;
    }
    return false;
}

static void set_no_gym(Context *d, Case *c) {
    look_for_kept(d, c);
    if (!goes_to_gym(c))
        say(d, c, LEVEL_WARNING, LIMIT_NO_GYM,
            "no session to come is of the kind gym, so this leaves nothing "
            "out; expected gym in the column kind (week.csv or the log) of "
            "those that it is to leave out");
    c->usual.gym_again = c->event->start;
    c->usual.gym_free = c->event->start - d->question->limits.no_gym;
}

/* Kinds with sessions that may be cut on the days before the event. */
static unsigned kinds_to_cut(const Context *d, const Case *c) {
    PlannedSession sessions[USUAL_MOST];
    unsigned kinds = 0;
    Date date = c->event->start - d->question->limits.max_length;
    if (date < to_come(c))
        date = to_come(c);
    for (; date < c->event->start; date++) {
        size_t count = usual_day(&c->usual, date, sessions);
        for (size_t i = 0; i < count; i++)
            kinds |= sessions[i].keep ? 0 : 1u << sessions[i].kind;
    }
    return kinds;
}

static void set_kinds(Context *d, Case *c) {
    unsigned kinds = kinds_to_cut(d, c);
    unsigned wanted = d->question->limits.cut_kinds;
    Text what = {0};
    c->usual.cut_kinds = wanted;
    if (kinds & wanted)
        return;
    text_add(&what,
             "the days searched before the event have no such session that "
             "may be cut; expected one of");
    for (int kind = 0, shown = 0; kind < KINDS; kind++)
        if (kinds & 1u << kind)
            text_add(&what, "%s %s", shown++ ? "," : "",
                     session_kind_names[kind]);
    if (kinds == 0)
        text_add(&what, " a week with sessions that are not kept");
    refuse(d, c, LIMIT_CUT_KINDS, text_of(&what));
    text_free(&what);
}

void week_limits_apply(Context *d, Case *c) {
    const Limits *l = &d->question->limits;
    const char *why = "sessions to come have no kind, since neither week.csv "
                      "nor the log says one; expected the column kind in one "
                      "of them";
    LimitName limits[] = {LIMIT_NO_GYM, LIMIT_CUT_KINDS};
    for (size_t i = 0; i < 2; i++) {
        if (!limits_given(l, limits[i]) || !c->event)
            continue;
        if (!usual_has_kinds(&c->usual))
            refuse(d, c, limits[i], why);
        else if (limits[i] == LIMIT_NO_GYM)
            set_no_gym(d, c);
        else
            set_kinds(d, c);
    }
}
