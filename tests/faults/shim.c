/* shim: makes the n-th allocation or file operation of the program fail, or
 * sends it a signal there. For tests only: LD_PRELOAD=shim.so, and
 *
 *   FAULT_KIND     memory, write (files and standard output), read
 *   FAULT_AT       which one, from 1; absent: none, they are only counted
 *   FAULT_LASTING  set: all later ones fail as well
 *   FAULT_ERROR    errno they fail with
 *   FAULT_SIGNAL   send this signal before the operation instead
 *   FAULT_CLOCK    the clock runs so many times as fast
 *   FAULT_LOG      file that gets the places called from, one a line: the
 *                  number of the first call from there; last the count
 *
 * Streams for reading and writing, and standard output, become cookies, since
 * the C library's own calls of write() cannot be stood in for.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t size);

enum { PLACES = 1 << 15, DEPTH = 7, STREAMS = 64 };

static char kind;         /* first letter of FAULT_KIND; 0: not at work */
static long at;           /* FAULT_AT */
static atomic_long count; /* operations so far */
static _Thread_local bool at_rest /* while the shim itself works */
    __attribute__((tls_model("initial-exec")));
static bool lasting;
static int error, number;
static int log_file = -1;
static unsigned long places[PLACES]; /* hashes of those seen */

static long number_of(const char *name) {
    const char *text = getenv(name);
    return text ? strtol(text, NULL, 10) : 0;
}

/* The real function of a name, past this one. */
#define NEXT(name)                                                             \
    static __typeof__(&name) next;                                             \
    if (!next)                                                                 \
    *(void **)&next = dlsym(RTLD_NEXT, #name)

/* ---- counting ---- */

static void log_number(long n) {
    char line[32];
    if (write(log_file, line, (size_t)snprintf(line, sizeof line, "%ld\n", n)) <
        0)
        _exit(99);
}

/* Logs the place that the n-th is called from, if it was not seen before. */
static void log_place(long n) {
    static atomic_flag busy = ATOMIC_FLAG_INIT;
    void *from[DEPTH];
    unsigned long hash = 5381, slot;
    int depth = backtrace(from, DEPTH);
    for (int i = 0; i < depth; i++)
        hash = hash * 1099511628211UL ^ (unsigned long)from[i];
    while (atomic_flag_test_and_set(&busy))
        ;
    slot = hash % PLACES;
    while (places[slot] && places[slot] != hash)
        slot = (slot + 1) % PLACES;
    if (!places[slot])
        log_number(n);
    places[slot] = hash;
    atomic_flag_clear(&busy);
}

/* Does this operation fail? */
static bool fails(char of) {
    bool now;
    long n;
    if (kind != of || at_rest)
        return false;
    at_rest = true;
    n = atomic_fetch_add(&count, 1) + 1;
    if (log_file >= 0)
        log_place(n);
    now = at > 0 && (n == at || (lasting && n > at));
    at_rest = false;
    if (now && number) {
        raise(number);
        return false;
    }
    if (now)
        errno = error;
    return now;
}

/* ---- memory ---- */

void *malloc(size_t size) {
    return fails('m') ? NULL : __libc_malloc(size);
}

void *calloc(size_t many, size_t size) {
    return fails('m') ? NULL : __libc_calloc(many, size);
}

void *realloc(void *block, size_t size) {
    return fails('m') ? NULL : __libc_realloc(block, size);
}

/* ---- streams ---- */

static struct {
    FILE *stream;
    int file;
} streams[STREAMS];

static ssize_t take(void *cookie, char *bytes, size_t size) {
    return fails('r') ? -1 : read((int)(long)cookie, bytes, size);
}

static ssize_t put(void *cookie, const char *bytes, size_t size) {
    ssize_t done = fails('w') ? -1 : write((int)(long)cookie, bytes, size);
    return done < 0 ? 0 : done; /* as cookies say that they failed */
}

static int seek(void *cookie, off64_t *to, int from) {
    *to = lseek64((int)(long)cookie, *to, from);
    return *to < 0 ? -1 : 0;
}

static int shut(void *cookie) {
    int failed = fails('w') ? -1 : 0;
    for (int i = 0; i < STREAMS; i++)
        if (streams[i].stream && streams[i].file == (int)(long)cookie)
            streams[i].stream = NULL;
    return close((int)(long)cookie) != 0 ? -1 : failed;
}

static FILE *stream_of(int file, const char *mode) {
    static const cookie_io_functions_t all = {take, put, seek, shut};
    FILE *stream = fopencookie((void *)(long)file, mode, all);
    for (int i = 0; i < STREAMS && stream; i++)
        if (!streams[i].stream) {
            streams[i].stream = stream;
            streams[i].file = file;
            break;
        }
    return stream;
}

FILE *fdopen(int file, const char *mode) {
    NEXT(fdopen);
    if (kind != 'w')
        return next(file, mode);
    return fails('w') ? NULL : stream_of(file, mode);
}

FILE *fopen(const char *path, const char *mode) {
    NEXT(fopen);
    int file;
    if (kind != 'r' || mode[0] != 'r')
        return next(path, mode);
    if (fails('r'))
        return NULL;
    file = open(path, O_RDONLY | O_CLOEXEC);
    return file < 0 ? NULL : stream_of(file, mode);
}

int fileno(FILE *stream) {
    NEXT(fileno);
    for (int i = 0; i < STREAMS; i++)
        if (streams[i].stream == stream)
            return streams[i].file;
    return next(stream);
}

/* ---- files ---- */

#define STAND_IN(of, type, failed, name, words, values)                        \
    type name words {                                                          \
        NEXT(name);                                                            \
        return fails(of) ? failed : next values;                               \
    }

STAND_IN('w', int, -1, mkstemp, (char *name), (name))
STAND_IN('w', char *, NULL, mkdtemp, (char *name), (name))
STAND_IN('w', int, -1, mkdir, (const char *path, mode_t mode), (path, mode))
STAND_IN('w', int, -1, fsync, (int file), (file))
STAND_IN('w', int, -1, rename, (const char *from, const char *to), (from, to))
STAND_IN('w', FILE *, NULL, tmpfile, (void), ())
STAND_IN('w', int, -1, pipe, (int ends[2]), (ends))
STAND_IN('w', int, error, posix_spawnp,
         (pid_t * child, const char *file,
          const posix_spawn_file_actions_t *actions,
          const posix_spawnattr_t *attributes, char *const words[],
          char *const variables[]),
         (child, file, actions, attributes, words, variables))
STAND_IN('r', DIR *, NULL, opendir, (const char *path), (path))

/* ---- the clock ---- */

static long haste; /* 0: the clock is as it is */

int clock_gettime(clockid_t clock, struct timespec *now) {
    static struct timespec first;
    NEXT(clock_gettime);
    int failed = next(clock, now);
    double passed;
    if (failed || !haste || clock != CLOCK_MONOTONIC)
        return failed;
    if (!first.tv_sec)
        first = *now;
    passed = (double)(now->tv_sec - first.tv_sec) +
             1e-9 * (double)(now->tv_nsec - first.tv_nsec);
    now->tv_sec = first.tv_sec + (time_t)(passed * (double)haste);
    return 0;
}

/* ---- begin and end ---- */

__attribute__((constructor)) static void begin(void) {
    const char *path = getenv("FAULT_LOG"), *what = getenv("FAULT_KIND");
    void *from[2];
    if (strcmp(program_invocation_short_name, "peakward") != 0)
        return;
    haste = number_of("FAULT_CLOCK");
    if (!what)
        return;
    backtrace(from, 2); /* loads what it needs */
    at = number_of("FAULT_AT");
    error = (int)number_of("FAULT_ERROR");
    number = (int)number_of("FAULT_SIGNAL");
    lasting = getenv("FAULT_LASTING") != NULL;
    if (path)
        log_file = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    if (*what == 'w')
        stdout = stream_of(1, "w");
    kind = *what;
}

__attribute__((destructor)) static void end(void) {
    kind = '\0';
    if (log_file >= 0)
        log_number(count);
}
