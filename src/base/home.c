/* home: see home.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/home.h"

#include "base/mem.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#ifndef SHARE_DIR
#define SHARE_DIR "/usr/local/share/peakward"
#endif

static bool is_folder(const char *path) {
    struct stat about;
    return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

/* Folder in which the running program lies, with no slash at its end. */
static bool own_folder(char path[4096]) {
    ssize_t length = readlink("/proc/self/exe", path, 4095);
    char *slash;
    if (length <= 0)
        return false;
    path[length] = '\0';
    slash = strrchr(path, '/');
    if (!slash)
        return false;
    *slash = '\0';
    return true;
}

static char *joined(const char *a, const char *b, const char *c) {
    Text text = {0};
    char *copy;
    text_add(&text, "%s%s%s", a, b, c);
    copy = mem_copy(text_of(&text));
    text_free(&text);
    return copy;
}

char *home_folder(const char *name) {
    static const char *const beside[] = {"/../", "/../../",
                                         "/../share/peakward/"};
    const char *home = getenv("PEAKWARD_HOME");
    char own[4096];
    if (home && *home)
        return joined(home, "/", name);
    for (size_t i = 0; own_folder(own) && i < 3; i++) {
        char *path = joined(own, beside[i], name);
        char *models = joined(own, beside[i], "models/literature.csv");
        struct stat about;
        bool ours = is_folder(path) && stat(models, &about) == 0;
        free(models);
        if (ours)
            return path;
        free(path);
    }
    return joined(SHARE_DIR, "/", name);
}

StatusCode home_read(const char *folder, const char *file, Text *to,
                     Status *status) {
    char *parent = home_folder(folder), *path = joined(parent, "/", file);
    char some[4096];
    StatusCode code = STATUS_OK;
    FILE *from = fopen(path, "r");
    size_t got;
    while (from && (got = fread(some, 1, sizeof some, from)) > 0)
        text_put(to, some, got);
    if (!from || ferror(from))
        code =
            status_fail(status, STATUS_SYSTEM, "%s: %s", path, strerror(errno));
    if (from)
        fclose(from);
    free(path);
    free(parent);
    return code;
}
