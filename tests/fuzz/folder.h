/* folder: a season's folder made of one input of several files ("== NAME", a
 * line break, its bytes), for targets that run in one process.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef FUZZ_FOLDER_H
#define FUZZ_FOLDER_H

#include "fuzz.h"

#include <unistd.h>

static char folder[64];
static const char *const files[] = {
    "sessions.csv",  "athletes.csv", "tests.csv",    "events.csv", "week.csv",
    "exercises.csv", "absences.csv", "blocks.csv",   "plan.csv",   "model.csv",
    "design.csv",    "headings.csv", "settings.csv", NULL};

static void path_of(const char *name, char path[128]) {
    snprintf(path, 128, "%s/%s", folder, name);
}

static void remove_folder(void) {
    rmdir(folder);
}

static void clear_folder(void) {
    char path[128];
    if (!folder[0]) {
        snprintf(folder, sizeof folder, "%s/peakward-fuzz-XXXXXX",
                 access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
        HOLDS(mkdtemp(folder) && atexit(remove_folder) == 0);
    }
    for (int i = 0; files[i]; i++) {
        path_of(files[i], path);
        unlink(path);
    }
}

static void write_file(const char *name, const char *from, size_t size) {
    char path[128];
    FILE *file;
    for (int i = 0; files[i]; i++)
        if (strcmp(files[i], name) == 0) {
            path_of(name, path);
            file = fopen(path, "wb");
            HOLDS(file != NULL);
            fwrite(from, 1, size, file);
            fclose(file);
        }
}

static void write_files(const char *at, const char *end) {
    while (at < end) {
        const char *name = at + 3, *line, *next;
        char word[32] = "";
        line = memchr(name, '\n', (size_t)(end - name));
        if (!line)
            return;
        if ((size_t)(line - name) < sizeof word)
            memcpy(word, name, (size_t)(line - name));
        next = next_mark(line + 1, end);
        write_file(word, line + 1, (size_t)(next - line - 1));
        at = next;
    }
}

#endif
