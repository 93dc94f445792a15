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
    if (from->text)
        fwrite(from->text, 1, from->bytes, to->stream);
    spool_free(from);
}

static StatusCode copy(Spool *s, FILE *to, Status *status) {
    char block[1 << 16];
    size_t bytes;
    errno = 0;
    if (fflush(s->stream) != 0 || ferror(s->stream))
        return status_fail(status, STATUS_SYSTEM,
                           "the answer cannot be kept in a temporary file: %s",
                           strerror(errno ? errno : EIO));
    rewind(s->stream);
    while ((bytes = fread(block, 1, sizeof block, s->stream)) > 0)
        fwrite(block, 1, bytes, to);
    return STATUS_OK;
}

StatusCode spool_print(Spool *s, FILE *to, Status *status) {
    if (!s->text)
        return copy(s, to, status);
    if (fflush(s->stream) != 0)
        mem_out();
    fwrite(s->text, 1, s->bytes, to);
    return STATUS_OK;
}

void spool_free(Spool *s) {
    if (s->stream)
        fclose(s->stream);
    free(s->text);
    *s = (Spool){0};
}
