/* draft: see draft.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/draft.h"

#include "base/mem.h"
#include "season/together.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- which days ---- */

static const double least_share = .6; /* of the median week */

static bool is_told(const Daily *d, size_t day) {
    return d->kind[day] != DAY_UNRECORDED && d->kind[day] != DAY_GAP &&
           d->kind[day] != DAY_ABSENT;
}

/* Load of the week that begins on a day; NAN when some day is not known. */
static double week_from(const Daily *d, size_t from) {
    double sum = 0;
    for (size_t i = from; i < from + 7; i++) {
        if (!is_told(d, i))
            return NAN;
        sum += d->load[i];
    }
    return sum;
}

static size_t first_monday(const Daily *d) {
    return (size_t)((7 - date_weekday(d->first)) % 7);
}

/* Median load of the full weeks with training; NAN: there is none. */
static double median_week(const Daily *d) {
    double *load = mem_new(d->days / 7 + 1, sizeof *load);
    size_t count = 0;
    double median;
    for (size_t i = first_monday(d); i + 7 <= d->days; i += 7) {
        double week = week_from(d, i);
        if (week > 0)
            load[count++] = week;
    }
    median = load_median(load, count);
    free(load);
    return median;
}

/* Marks the days of the last weeks that are like the others. */
static void take_weeks(const Daily *d, bool *used, Draft *draft) {
    double least = least_share * median_week(d), load[DRAFT_WEEKS];
    size_t weeks = 0, monday = first_monday(d);
    size_t all = d->days > monday ? (d->days - monday) / 7 : 0;
    for (size_t k = all; k-- > 0 && weeks < DRAFT_WEEKS;) {
        load[weeks] = week_from(d, monday + 7 * k);
        if (!(load[weeks] >= least))
            continue;
        memset(used + monday + 7 * k, true, 7);
        weeks++;
    }
    draft->days = 7 * weeks;
    draft->week_load = load_median(load, weeks);
}

/* Of a log without a full week: its last days. */
static void take_days(const Daily *d, bool *used, Draft *draft) {
    size_t most = 7 * DRAFT_WEEKS;
    double sum = 0;
    for (size_t i = d->days > most ? d->days - most : 0; i < d->days; i++) {
        used[i] = is_told(d, i);
        draft->days += used[i];
        sum += used[i] ? d->load[i] : 0;
    }
    draft->week_load = draft->days ? 7 * sum / (double)draft->days : 0;
}

/* ---- which sessions ---- */

/* A session that comes back on its weekday: the first of that name on the day,
 * or the second, ... */
typedef struct {
    DraftRow row;
    size_t nth;   /* of its name on the day */
    size_t place; /* of the latest one on its day */
    Date latest;
    size_t count;
    double minutes[DRAFT_WEEKS], rpe[DRAFT_WEEKS], load[DRAFT_WEEKS];
} Habit;

typedef struct {
    Habit *items;
    size_t count, room;
    size_t sessions; /* in all of them */
} Habits;

static Habit *find_habit(Habits *h, const Session *session, size_t nth) {
    int weekday = date_weekday(session->date);
    for (size_t i = 0; i < h->count; i++) {
        Habit *one = &h->items[i];
        if (one->row.weekday == weekday && one->row.name == session->name &&
            one->nth == nth)
            return one;
    }
    h->items = mem_grow(h->items, &h->room, h->count + 1, sizeof *h->items);
    h->items[h->count] =
        (Habit){.row = {.weekday = weekday, .name = session->name}, .nth = nth};
    return &h->items[h->count++];
}

/* A session at its place on the day. */
static void count_session(Habits *h, const Session *day, size_t place) {
    const Session *session = &day[place];
    size_t nth = 0;
    Habit *one;
    if (!(session->load > 0))
        return;
    for (size_t i = 0; i < place; i++)
        nth += day[i].name == session->name && day[i].load > 0;
    one = find_habit(h, session, nth);
    one->row.kind = session->kind;
    one->place = place;
    one->latest = session->date;
    one->minutes[one->count] = session->minutes > 0 ? session->minutes : NAN;
    one->rpe[one->count] = session->rpe > 0 ? session->rpe : NAN;
    one->load[one->count++] = session->load;
    h->sessions++;
}

static void count_sessions(Habits *h, const Athlete *a, const Daily *d,
                           const bool *used) {
    for (size_t i = 0, from = 0; i < a->session_count; i++) {
        if (a->sessions[i].date != a->sessions[from].date)
            from = i;
        if (used[a->sessions[i].date - d->first])
            count_session(h, &a->sessions[from], i - from);
    }
}

/* Those that come back most often first, then the later ones. */
static int by_count(const void *a, const void *b) {
    const Habit *x = a, *y = b;
    if (x->count != y->count)
        return x->count > y->count ? -1 : 1;
    if (x->latest != y->latest)
        return x->latest > y->latest ? -1 : 1;
    return (x->place > y->place) - (x->place < y->place);
}

static int by_day(const void *a, const void *b) {
    const Habit *x = a, *y = b;
    if (x->row.weekday != y->row.weekday)
        return x->row.weekday < y->row.weekday ? -1 : 1;
    if (x->place != y->place)
        return x->place < y->place ? -1 : 1;
    return (x->latest > y->latest) - (x->latest < y->latest);
}

static double known_median(const double *values, size_t count) {
    double known[DRAFT_WEEKS];
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        if (isfinite(values[i]))
            known[found++] = values[i];
    return load_median(known, found);
}

static DraftRow row_of(const Habit *h, LoadMethod method) {
    DraftRow row = h->row;
    row.minutes = known_median(h->minutes, h->count);
    row.rpe = known_median(h->rpe, h->count);
    row.load = known_median(h->load, h->count);
    if (method == LOAD_SESSION_RPE &&
        isfinite(load_session_rpe(row.minutes, row.rpe)))
        row.load = load_session_rpe(row.minutes, row.rpe);
    return row;
}

/* ---- the week ---- */

static void keep_most_frequent(Habits *h, size_t days) {
    size_t most = (size_t)lround(7 * (double)h->sessions / (double)days);
    if (most == 0)
        most = 1;
    if (h->count > 1)
        qsort(h->items, h->count, sizeof *h->items, by_count);
    if (h->count > most)
        h->count = most;
    if (h->count > 1)
        qsort(h->items, h->count, sizeof *h->items, by_day);
}

void draft_build(const Season *s, size_t athlete, const Daily *d,
                 Draft *draft) {
    bool *used = mem_new(d->days, sizeof *used);
    Habits h = {0};
    *draft = (Draft){0};
    if (d->days > 0)
        take_weeks(d, used, draft);
    if (draft->days == 0)
        take_days(d, used, draft);
    if (draft->days > 0) {
        count_sessions(&h, &s->athletes[athlete], d, used);
        keep_most_frequent(&h, draft->days);
        draft->rows = mem_new(h.count, sizeof *draft->rows);
        draft->count = h.count;
        for (size_t i = 0; i < h.count; i++)
            draft->rows[i] = row_of(&h.items[i], s->method);
    }
    free(h.items);
    free(used);
}

void draft_share(const Season *s, size_t athlete, Draft *draft) {
    for (size_t i = 0; i < draft->count; i++) {
        DraftRow *row = &draft->rows[i];
        const char *name = s->session_names.items[row->name];
        const TeamSession *team =
            together_session(s, athlete, row->weekday, name);
        row->together = team != NULL;
        if (!team || row->kind == KIND_MATCH || isnan(team->minutes))
            continue;
        row->minutes = team->minutes;
        if (s->method == LOAD_SESSION_RPE &&
            isfinite(load_session_rpe(row->minutes, row->rpe)))
            row->load = load_session_rpe(row->minutes, row->rpe);
    }
}

void draft_free(Draft *draft) {
    free(draft->rows);
    *draft = (Draft){0};
}

/* ---- who lacks what others have ---- */

static bool has_row(const Season *s, const Draft *draft, const DraftRow *row) {
    const char *name = s->session_names.items[row->name];
    for (size_t i = 0; i < draft->count; i++)
        if (draft->rows[i].weekday == row->weekday &&
            text_same(s->session_names.items[draft->rows[i].name], name))
            return true;
    return false;
}

enum { LACKING_NAMED = 8 };

/* Of a row of one athlete: who else of their squad has a week without it. */
static void note_lacks(const Season *s, const Draft *drafts, size_t athlete,
                       const DraftRow *row, Place place, Notes *notes) {
    char shown[TEXT_EXCERPT];
    size_t having = 0, lacking = 0;
    Text who = {0};
    for (size_t i = 0; i < s->athlete_count; i++) {
        if (s->athletes[i].squad != s->athletes[athlete].squad ||
            drafts[i].count == 0)
            continue;
        if (has_row(s, &drafts[i], row))
            having++;
        else if (lacking++ < LACKING_NAMED)
            text_add(&who, "%s%s", who.length ? ", " : "",
                     text_excerpt(shown, s->athletes[i].name));
    }
    if (lacking > 0 && having > lacking)
        notes_add(notes, LEVEL_NOTICE, place,
                  "%s%s %s no %s on %s, the other %zu have; expected a row "
                  "for whom it holds",
                  text_of(&who), lacking > LACKING_NAMED ? ", ..." : "",
                  lacking == 1 ? "has" : "have",
                  text_excerpt(shown, s->session_names.items[row->name]),
                  date_weekday_name(row->weekday), having);
    text_free(&who);
}

/* Was it looked at for an earlier row, of the athlete or of another? */
static bool is_known(const Season *s, const Draft *drafts, size_t athlete,
                     size_t at) {
    const DraftRow *row = &drafts[athlete].rows[at];
    Draft before = {.rows = drafts[athlete].rows, .count = at};
    for (size_t i = 0; i < athlete; i++)
        if (s->athletes[i].squad == s->athletes[athlete].squad &&
            has_row(s, &drafts[i], row))
            return true;
    return has_row(s, &before, row);
}

void draft_note_lacks(const Season *s, const Draft *drafts, const char *path,
                      Notes *notes) {
    Place place = {path, 0, NULL};
    for (size_t i = 0; i < s->athlete_count; i++)
        for (size_t k = 0; k < drafts[i].count; k++)
            if (!is_known(s, drafts, i, k))
                note_lacks(s, drafts, i, &drafts[i].rows[k], place, notes);
}
