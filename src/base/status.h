/* status: how a function says that something went wrong, and notes about the
 * user's files.
 *
 * A Status is one outcome of one call. Its code is the program's exit code. A
 * Notes list gathers everything there is to say about the files that were read
 * (errors, warnings, notices), each with its place, so that one run shows every
 * problem instead of the first.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_STATUS_H
#define BASE_STATUS_H

#include <stdbool.h>
#include <stddef.h>

typedef enum {
    STATUS_OK = 0,     /* done */
    STATUS_DATA = 1,   /* the data or the computation allow no answer */
    STATUS_USAGE = 2,  /* wrong usage */
    STATUS_SYSTEM = 3, /* the system failed: files, gnuplot, memory */
} StatusCode;

enum { STATUS_TEXT = 1024 };

typedef struct {
    StatusCode code;
    char text[STATUS_TEXT]; /* one sentence or more, without a final newline */
} Status;

/* Records a failure and returns its code. Only the first failure is kept. */
StatusCode status_fail(Status *status, StatusCode code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

typedef enum { LEVEL_NOTICE, LEVEL_WARNING, LEVEL_ERROR } Level;

/* Plain word for a level: "notice", "warning", "error". */
const char *level_name(Level level);

typedef struct {
    Level level;
    StatusCode code; /* for an error: the exit code it calls for */
    char *file;      /* NULL: about no file */
    size_t line;     /* 0: about the whole file */
    char *column;    /* NULL: about no column */
    char *text;
    char *about[2]; /* names of whom or what it speaks; NULL: none */
    size_t sort;    /* index into Notes.sorts */
    size_t alike;   /* notes of its sort that came before it */
} Note;

/* Notes that say the same of different places: same level and column, same file
 * where they name a line of it, and texts that differ only in numbers and in
 * what stands in single quotes. */
typedef struct {
    size_t first; /* index of its first note */
    size_t count;
} NoteSort;

enum {
    NOTES_KEPT = 100000, /* further notes are counted, not kept */
    NOTE_SORTS = 512     /* sorts told apart; the last takes all others */
};

typedef struct {
    Note *items;
    size_t count, room;
    bool fresh;       /* the last call kept a note */
    size_t errors;    /* all of them, kept or not */
    StatusCode worst; /* of all errors, kept or not */
    size_t dropped;   /* notes counted but not kept */
    NoteSort *sorts;
    size_t sort_count, sort_room;
} Notes;

/* Where a note points to; any part may be absent. */
typedef struct {
    const char *file;
    size_t line;
    const char *column;
} Place;

/* Adds a note; one that was just said is not said again. */
void notes_add(Notes *notes, Level level, Place place, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Says of the note just added whom it speaks of: an athlete or an event, by
 * name, and perhaps another (or NULL). */
void notes_about(Notes *notes, const char *name, const char *other);

/* An error that calls for exit code 3: a file that cannot be read. */
void notes_add_system(Notes *notes, Place place, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Adds all notes of one list to another, in their order; the first is then
 * empty. */
void notes_move(Notes *from, Notes *to);

/* The gravest exit code among the errors, STATUS_OK if there is none. */
StatusCode notes_code(const Notes *notes);

void notes_free(Notes *notes);

#endif
