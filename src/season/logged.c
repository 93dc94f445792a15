/* logged: what counts as logged: from the first load to the last, or to today.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/days.h"
#include "season/files.h"

#include <math.h>
#include <stdlib.h>

/* With --fill a row that another method scores is training, too. */
static bool is_logged(const Session *session, bool fill) {
    return isfinite(session->load) || (fill && session->scored);
}

void logged_find_last(Season *s, bool fill) {
    s->first = s->last = DATE_NONE;
    for (size_t i = 0; i < s->session_count; i++) {
        const Session *session = &s->sessions[i];
        if (!is_logged(session, fill))
            continue;
        if (s->last == DATE_NONE || session->date > s->last)
            s->last = session->date;
        if (s->first == DATE_NONE || session->date < s->first)
            s->first = session->date;
    }
}

/* The last day that each athlete logged. */
static Date *find_ends(const Season *s, bool fill) {
    Date *end = mem_new(s->athlete_count, sizeof *end);
    for (size_t i = 0; i < s->athlete_count; i++)
        end[i] = DATE_NONE;
    for (size_t i = 0; i < s->session_count; i++)
        if (is_logged(&s->sessions[i], fill)) /* in order of time */
            end[s->sessions[i].athlete] = s->sessions[i].date;
    return end;
}

/* An athlete's rows without a load before their first one or after their last,
 * like those prepared ahead, are not part of the log. */
void logged_trim(Season *s, bool fill, Notes *notes) {
    size_t kept = 0, dropped = 0;
    size_t seen = NAMES_NONE; /* athlete whose first load has come */
    Date *end = find_ends(s, fill);
    Place place = {s->log_path, 0, NULL};
    for (size_t i = 0; i < s->session_count; i++) {
        Session *session = &s->sessions[i];
        if (is_logged(session, fill))
            seen = session->athlete;
        if (seen != session->athlete || session->date > end[seen])
            dropped++;
        else
            s->sessions[kept++] = *session;
    }
    free(end);
    s->session_count = kept;
    if (dropped)
        notes_add(notes, LEVEL_NOTICE, place,
                  "%zu row%s without a load before an athlete's first day with "
                  "one or after the last %s left out",
                  dropped, dropped == 1 ? "" : "s",
                  dropped == 1 ? "is" : "are");
}

static void refuse_stray(const Season *s, Date from, Date to, Notes *notes) {
    for (size_t i = 0; i < s->session_count; i++) {
        const Session *session = &s->sessions[i];
        Place place = {s->log_path, session->line, "date"};
        char day[DATE_TEXT];
        if (session->date < from || session->date > to)
            continue;
        notes_add(notes, LEVEL_ERROR, place,
                  "'%s' lies more than a year from all other rows, expected "
                  "the days of one log; is the year right?",
                  date_write(day, session->date));
    }
}

void logged_find_stray(const Season *s, Notes *notes) {
    DaysRange range[2 * DAYS_STRAY_ROWS];
    Days days;
    size_t count;
    days_start(&days);
    for (size_t i = 0; i < s->session_count; i++)
        days_add(&days, s->sessions[i].date);
    count = days_stray(&days, range);
    for (size_t i = 0; i < count; i++)
        refuse_stray(s, range[i].from, range[i].to, notes);
    days_free(&days);
}

/* Takes the rows after a day out; returns how many. */
static size_t drop_after(Season *s, Date day) {
    size_t kept = 0, all = s->session_count;
    for (size_t i = 0; i < all; i++)
        if (s->sessions[i].date <= day)
            s->sessions[kept++] = s->sessions[i];
    s->session_count = kept;
    return all - kept;
}

void logged_leave_out_future(Season *s, const SeasonOptions *o, Notes *notes) {
    size_t dropped;
    Place place = {s->log_path, 0, NULL};
    char day[DATE_TEXT];
    s->today = o->today == DATE_NONE ? s->last : o->today;
    if (s->last == DATE_NONE || s->today >= s->last)
        return;
    dropped = drop_after(s, s->today);
    notes_add(notes, s->session_count ? LEVEL_NOTICE : LEVEL_ERROR, place,
              "%zu session%s after --today %s %s left out%s", dropped,
              dropped == 1 ? "" : "s", date_write(day, s->today),
              dropped == 1 ? "is" : "are",
              s->session_count ? ""
                               : "; nothing remains, expected a later day");
    logged_find_last(s, o->fill);
}
