/* status: see status.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/status.h"

#include "base/mem.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

StatusCode status_fail(Status *status, StatusCode code, const char *format,
                       ...) {
    va_list list;
    if (status->code != STATUS_OK)
        return status->code;
    status->code = code;
    va_start(list, format);
    vsnprintf(status->text, sizeof status->text, format, list);
    va_end(list);
    return code;
}

const char *level_name(Level level) {
    static const char *const names[] = {"notice", "warning", "error"};
    return names[level];
}

static bool same_text(const char *a, const char *b) {
    return a == b || (a && b && strcmp(a, b) == 0);
}

/* Was the same just said? Looks back a little way only. */
static bool said(const Notes *notes, Level level, Place place,
                 const char *text) {
    for (size_t back = 1; back <= 16 && back <= notes->count; back++) {
        const Note *note = &notes->items[notes->count - back];
        if (note->level == level && note->line == place.line &&
            same_text(note->file, place.file) &&
            same_text(note->column, place.column) &&
            same_text(note->text, text))
            return true;
    }
    return false;
}

/* Passes over digits and a quoted piece; returns the next plain character. */
static const char *plain(const char *s) {
    for (;;) {
        if (*s >= '0' && *s <= '9') {
            s++;
        } else if (*s == '\'' && strchr(s + 1, '\'')) {
            s = strchr(s + 1, '\'') + 1;
        } else {
            return s;
        }
    }
}

static bool alike(const Note *a, const Note *b) {
    const char *x = plain(a->text), *y = plain(b->text);
    bool places = a->line || b->line; /* else it may be of an athlete */
    if (a->level != b->level || (places && !same_text(a->file, b->file)) ||
        !same_text(a->column, b->column))
        return false;
    while (*x && *x == *y) {
        x = plain(x + 1);
        y = plain(y + 1);
    }
    return *x == *y;
}

/* Gives a new note its sort. */
static void sort_note(Notes *notes, Note *note) {
    NoteSort *sort;
    size_t i = 0;
    while (i < notes->sort_count &&
           !alike(&notes->items[notes->sorts[i].first], note))
        i++;
    if (i == notes->sort_count && i < NOTE_SORTS) {
        notes->sorts = mem_grow(notes->sorts, &notes->sort_room, i + 1,
                                sizeof *notes->sorts);
        notes->sorts[i] = (NoteSort){notes->count, 0};
        notes->sort_count++;
    } else if (i == notes->sort_count) {
        i--;
    }
    sort = &notes->sorts[i];
    note->sort = i;
    note->alike = sort->count++;
}

static void add(Notes *notes, Level level, StatusCode code, Place place,
                const char *format, va_list list) {
    char text[STATUS_TEXT];
    Note *note;
    notes->fresh = false;
    if (level == LEVEL_ERROR) {
        notes->errors++;
        if (code > notes->worst)
            notes->worst = code;
    }
    if (notes->count >= NOTES_KEPT) {
        notes->dropped++;
        return;
    }
    vsnprintf(text, sizeof text, format, list);
    if (said(notes, level, place, text))
        return;
    notes->items = mem_grow(notes->items, &notes->room, notes->count + 1,
                            sizeof *notes->items);
    note = &notes->items[notes->count];
    note->level = level;
    note->code = code;
    note->file = mem_copy(place.file);
    note->line = place.line;
    note->column = mem_copy(place.column);
    note->text = mem_copy(text);
    note->about[0] = note->about[1] = NULL;
    notes->fresh = true;
    sort_note(notes, note);
    notes->count++;
}

void notes_add(Notes *notes, Level level, Place place, const char *format,
               ...) {
    va_list list;
    va_start(list, format);
    add(notes, level, STATUS_DATA, place, format, list);
    va_end(list);
}

void notes_about(Notes *notes, const char *name, const char *other) {
    Note *note;
    if (!notes->fresh || !name)
        return;
    note = &notes->items[notes->count - 1];
    note->about[0] = mem_copy(name);
    note->about[1] = mem_copy(other);
    notes->fresh = false;
}

void notes_add_system(Notes *notes, Place place, const char *format, ...) {
    va_list list;
    va_start(list, format);
    add(notes, LEVEL_ERROR, STATUS_SYSTEM, place, format, list);
    va_end(list);
}

StatusCode notes_code(const Notes *notes) {
    return notes->worst;
}

void notes_move(Notes *from, Notes *to) {
    size_t unkept = from->errors; /* said again, or one too many to keep */
    for (size_t i = 0; i < from->count; i++) {
        const Note *note = &from->items[i];
        Place place = {note->file, note->line, note->column};
        unkept -= note->level == LEVEL_ERROR;
        if (note->code == STATUS_SYSTEM)
            notes_add_system(to, place, "%s", note->text);
        else
            notes_add(to, note->level, place, "%s", note->text);
        notes_about(to, note->about[0], note->about[1]);
    }
    to->errors += unkept;
    to->dropped += from->dropped;
    if (from->worst > to->worst)
        to->worst = from->worst;
    notes_free(from);
}

void notes_free(Notes *notes) {
    for (size_t i = 0; i < notes->count; i++) {
        free(notes->items[i].file);
        free(notes->items[i].column);
        free(notes->items[i].text);
        free(notes->items[i].about[0]);
        free(notes->items[i].about[1]);
    }
    free(notes->items);
    free(notes->sorts);
    *notes = (Notes){0};
}
