/* spool: see spool.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/spool.h"

#include "base/mem.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

FILE *spool_open(Spool *s) {
    s->stream = open_memstream(&s->text, &s->bytes);
    if (!s->stream)
        mem_out();
    return s->stream;
}

void spool_file(Spool *s) {
    *s = (Spool){.stream = tmpfile()};
    if (!s->stream)
        spool_open(s);
}

void spool_move(Spool *from, Spool *to) {
    if (from->stream && fflush(from->stream) != 0)
        mem_out();
    errno = 0;
    if (from->text && to->error == 0 &&
        fwrite(from->text, 1, from->bytes, to->stream) != from->bytes)
        to->error = errno ? errno : EIO;
    spool_free(from);
}

static StatusCode refuse(Status *status, int error) {
    return status_fail(status, STATUS_SYSTEM,
                       "the answer cannot be kept in a temporary file: %s",
                       strerror(error ? error : EIO));
}

StatusCode spool_end(Spool *s, Status *status) {
    errno = 0;
    if (s->error == 0 && fflush(s->stream) == 0)
        return STATUS_OK;
    return refuse(status, s->error ? s->error : errno);
}

StatusCode spool_print(Spool *s, FILE *to, Status *status) {
    char block[1 << 16];
    size_t bytes;
    if (s->text) {
        fwrite(s->text, 1, s->bytes, to);
        return STATUS_OK;
    }
    rewind(s->stream);
    errno = 0;
    while ((bytes = fread(block, 1, sizeof block, s->stream)) > 0)
        fwrite(block, 1, bytes, to);
    return ferror(s->stream) ? refuse(status, errno) : STATUS_OK;
}

void spool_free(Spool *s) {
    if (s->stream)
        fclose(s->stream);
    free(s->text);
    *s = (Spool){0};
}
