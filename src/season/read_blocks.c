/* read_blocks: reads blocks.csv, one row a run of weeks to come that differ
 * from the usual one: build, deload, overload.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <math.h>
#include <stdlib.h>

enum { B_START, B_WEEKS, B_BLOCK, B_VOLUME, B_RISE, B_ATHLETE };

const Column read_blocks_columns[] = {
    {"start", true}, {"weeks", true},    {"block", true}, {"volume", true},
    {"rise", false}, {"athlete", false}, {NULL, false}};

/* Bounds of what a row may say: a deload to a tenth, an overload to twice the
 * usual week; a week that is half as much again as the one before is none that
 * anybody trains. Our own. */
enum {
    WEEKS_MOST = 52,
    VOLUME_LEAST = 10, /* [%] */
    VOLUME_MOST = 200, /* [%] */
    RISE_MOST = 50     /* [%] a week */
};

/* The name must be known: a block of nobody would be lost without a word. */
static bool read_who(const Season *s, Reader *r, size_t *athlete) {
    const char *name;
    char shown[TEXT_EXCERPT];
    *athlete = NAMES_NONE;
    if (reader_blank(r, B_ATHLETE))
        return true;
    if (!reader_text(r, B_ATHLETE, &name))
        return false;
    *athlete = season_athlete(s, name);
    if (*athlete == NAMES_NONE)
        reader_error(r, B_ATHLETE,
                     "%s is not an athlete of this season, expected a name of "
                     "sessions.csv or athletes.csv, or blank for everyone",
                     text_excerpt(shown, name));
    return *athlete != NAMES_NONE;
}

static bool starts_on_monday(Reader *r, Date start) {
    char day[DATE_TEXT], monday[DATE_TEXT];
    int weekday = date_weekday(start);
    if (weekday == 0)
        return true;
    reader_error(r, B_START, "'%s' is a %s, expected a Monday, like %s",
                 date_write(day, start), date_weekday_name(weekday),
                 date_write(monday, start - weekday));
    return false;
}

/* Another block of the same athlete, or of everyone, on some of these days. */
static bool overlaps(const Season *s, const WeekBlock *b, Reader *r) {
    char from[DATE_TEXT], to[DATE_TEXT], shown[TEXT_EXCERPT];
    for (size_t i = 0; i < s->block_count; i++) {
        const WeekBlock *other = &s->blocks[i];
        if (other->athlete != b->athlete || other->start >= block_end(b) ||
            b->start >= block_end(other))
            continue;
        reader_error(r, B_START,
                     "shares weeks with the block %s of line %zu (%s to %s), "
                     "expected each week in one block",
                     text_excerpt(shown, other->name), other->line,
                     date_write(from, other->start),
                     date_write(to, block_end(other) - 1));
        return true;
    }
    return false;
}

/* A block ends before an event of the same people begins. */
static bool under_event(const Season *s, const WeekBlock *b, Reader *r) {
    char from[DATE_TEXT], end[DATE_TEXT], shown[TEXT_EXCERPT];
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        if ((e->athlete != NAMES_NONE && e->athlete != b->athlete) ||
            e->start >= block_end(b) || b->start >= e->start + e->days)
            continue;
        reader_error(r, B_WEEKS,
                     "the block ends on %s, within or after the days of the "
                     "event %s (from %s), expected weeks that end before it",
                     date_write(end, block_end(b) - 1),
                     text_excerpt(shown, e->name), date_write(from, e->start));
        return true;
    }
    return false;
}

static bool needed(Reader *r, int column, const char *expected) {
    if (reader_blank(r, column))
        reader_error(r, column, "blank, expected %s", expected);
    return !reader_blank(r, column);
}

/* All but the name, whose text does not last. */
static bool read_cells(Season *s, Reader *r, WeekBlock *b) {
    bool good = reader_date(r, B_START, &b->start);
    good = good && starts_on_monday(r, b->start);
    good = needed(r, B_WEEKS, "a whole number of weeks") && good;
    good = reader_whole(r, B_WEEKS, 1, WEEKS_MOST, &b->weeks) && good;
    good = needed(r, B_VOLUME, "per cent of the usual week, like 60") && good;
    good = reader_number(r, B_VOLUME, VOLUME_LEAST, VOLUME_MOST, &b->volume) &&
           good;
    good = reader_number(r, B_RISE, -RISE_MOST, RISE_MOST, &b->rise) && good;
    good = needed(r, B_BLOCK, "a name, like build or deload") && good;
    return read_who(s, r, &b->athlete) && good;
}

/* The last week's volume: a rise over many weeks runs away. */
static bool stays_in_bounds(const WeekBlock *b, Reader *r) {
    double last = 100 * block_factor(b, b->start + 7 * (b->weeks - 1));
    if (last >= VOLUME_LEAST && last <= VOLUME_MOST)
        return true;
    reader_error(r, B_RISE,
                 "'%g' leads to %.0f %% of the usual week in week %d, expected "
                 "weeks from %d to %d %%",
                 b->rise, last, b->weeks, VOLUME_LEAST, VOLUME_MOST);
    return false;
}

static void read_row(Season *s, Reader *r) {
    WeekBlock b = {.line = r->row.line};
    const char *name;
    if (!read_cells(s, r, &b) || !stays_in_bounds(&b, r) ||
        overlaps(s, &b, r) || under_event(s, &b, r) ||
        !reader_text(r, B_BLOCK, &name))
        return;
    b.name = mem_copy(name);
    s->blocks = mem_grow(s->blocks, &s->block_room, s->block_count + 1,
                         sizeof *s->blocks);
    s->blocks[s->block_count++] = b;
}

void read_blocks(Season *s, const char *path, const SeasonOptions *options,
                 Notes *notes) {
    rows_read(s, path, read_blocks_columns, options, notes, read_row);
}

Season *season_with_blocks(const Season *own, const char *path,
                           const SeasonOptions *options, Notes *notes) {
    Season *s = mem_new(1, sizeof *s);
    *s = *own;
    s->blocks = NULL;
    s->block_count = s->block_room = 0;
    read_blocks(s, path, options, notes);
    if (notes_code(notes) == STATUS_OK)
        return s;
    season_with_blocks_free(s);
    return NULL;
}

void season_with_blocks_free(Season *s) {
    for (size_t i = 0; s && i < s->block_count; i++)
        free(s->blocks[i].name);
    if (s)
        free(s->blocks);
    free(s);
}
