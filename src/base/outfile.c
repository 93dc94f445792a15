/* outfile: see outfile.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/outfile.h"

#include "base/mem.h"
#include "base/signals.h"
#include "base/text.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct OutFile {
    char *path, *temporary;
    FILE *stream;
    bool scratch;  /* lies in the scratch folder: gone in the end */
    OutFile *next; /* the others that are open */
};

static OutFile *open_files;
static char *scratch; /* the folder; NULL: none */

StatusCode outfile_make_folder(const char *path, Status *status) {
    char *part = mem_copy(path);
    struct stat about;
    StatusCode code = STATUS_OK;
    for (char *s = part + 1; code == STATUS_OK && *part; s++) {
        char kept = *s;
        if (kept != '/' && kept != '\0')
            continue;
        *s = '\0';
        if (mkdir(part, 0777) != 0 && errno != EEXIST)
            code = status_fail(status, STATUS_SYSTEM,
                               "%s: cannot make this folder: %s", part,
                               strerror(errno));
        *s = kept;
        if (kept == '\0')
            break;
    }
    if (code == STATUS_OK &&
        (stat(path, &about) != 0 || !S_ISDIR(about.st_mode)))
        code = status_fail(status, STATUS_SYSTEM,
                           "%s: is not a folder, expected a folder to write "
                           "into",
                           path);
    free(part);
    return code;
}

static void open_up(int descriptor) {
    mode_t mask = umask(0);
    umask(mask);
    (void)!fchmod(descriptor, 0666 & ~mask);
}

static void release(OutFile *file) {
    OutFile **link = &open_files;
    sigset_t before;
    signals_hold(&before);
    while (*link && *link != file)
        link = &(*link)->next;
    if (*link)
        *link = file->next;
    signals_let(&before);
    free(file->path);
    free(file->temporary);
    free(file);
}

/* Makes the temporary file and lists it. */
static int make(OutFile *file) {
    sigset_t before;
    int descriptor;
    signals_hold(&before);
    descriptor = mkstemp(file->temporary);
    if (descriptor >= 0) {
        file->next = open_files;
        open_files = file;
    }
    signals_let(&before);
    return descriptor;
}

OutFile *outfile_open(const char *path, Status *status) {
    const char *slash = strrchr(path, '/');
    size_t folder = slash ? (size_t)(slash - path) + 1 : 0;
    OutFile *file = mem_new(1, sizeof *file);
    Text name = {0};
    int descriptor;
    text_add(&name, "%.*s.peakward-XXXXXX", (int)folder, path);
    file->temporary = mem_copy(text_of(&name));
    file->path = mem_copy(path);
    file->scratch = scratch && folder == strlen(scratch) + 1 &&
                    strncmp(path, scratch, folder - 1) == 0;
    text_free(&name);
    descriptor = make(file);
    if (descriptor >= 0)
        file->stream = fdopen(descriptor, "wb");
    if (!file->stream) {
        status_fail(status, STATUS_SYSTEM, "%s: cannot be written: %s", path,
                    strerror(errno));
        if (descriptor >= 0) {
            close(descriptor);
            unlink(file->temporary);
        }
        release(file);
        return NULL;
    }
    open_up(descriptor);
    return file;
}

FILE *outfile_stream(OutFile *file) {
    return file->stream;
}

const char *outfile_hand_over(OutFile *file) {
    if (file->stream)
        fclose(file->stream);
    file->stream = NULL;
    return file->temporary;
}

static bool close_well(OutFile *file) {
    bool good = true;
    if (!file->stream)
        return true;
    good = fflush(file->stream) == 0 && !ferror(file->stream) &&
           fsync(fileno(file->stream)) == 0;
    if (fclose(file->stream) != 0)
        good = false;
    file->stream = NULL;
    return good;
}

StatusCode outfile_commit(OutFile *file, Status *status) {
    StatusCode code = STATUS_OK;
    errno = 0;
    if (!close_well(file) || rename(file->temporary, file->path) != 0) {
        code = status_fail(status, STATUS_SYSTEM, "%s: cannot be written: %s",
                           file->path, strerror(errno ? errno : EIO));
        unlink(file->temporary);
    }
    if (code != STATUS_OK || !file->scratch)
        release(file);
    return code;
}

StatusCode outfile_write(const char *path,
                         void (*fill)(const void *from, FILE *to),
                         const void *from, Status *status) {
    OutFile *file = outfile_open(path, status);
    if (!file)
        return status->code;
    fill(from, outfile_stream(file));
    return outfile_commit(file, status);
}

void outfile_abandon(OutFile *file) {
    if (!file)
        return;
    if (file->stream)
        fclose(file->stream);
    unlink(file->temporary);
    release(file);
}

void outfile_abandon_all(void) {
    for (OutFile *file = open_files; file; file = file->next) {
        unlink(file->temporary);
        if (file->scratch)
            unlink(file->path);
    }
    if (scratch)
        rmdir(scratch);
}

/* ---- scratch ---- */

const char *outfile_scratch(Status *status) {
    const char *base = getenv("TMPDIR");
    Text folder = {0};
    sigset_t before;
    bool made;
    text_add(&folder, "%s/peakward-XXXXXX", base && *base ? base : "/tmp");
    signals_hold(&before);
    made = mkdtemp(folder.data) != NULL;
    if (made)
        scratch = folder.data;
    signals_let(&before);
    if (made)
        return scratch;
    status_fail(status, STATUS_SYSTEM,
                "%s: no folder for pictures can be made: %s", folder.data,
                strerror(errno));
    text_free(&folder);
    return NULL;
}

static OutFile *first_in_scratch(void) {
    OutFile *file = open_files;
    while (file && !file->scratch)
        file = file->next;
    return file;
}

void outfile_scratch_done(void) {
    OutFile *file;
    char *folder = scratch;
    while ((file = first_in_scratch()) != NULL) {
        unlink(file->path);
        outfile_abandon(file);
    }
    if (folder)
        rmdir(folder);
    scratch = NULL;
    free(folder);
}
