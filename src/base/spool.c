/* spool: see spool.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/spool.h"

#include "base/mem.h"
#include "base/stream.h"

#include <errno.h>
#include <string.h>

FILE *spool_open(Spool *s) {
    return s->stream = stream_open(&s->text);
}

void spool_file(Spool *s) {
    *s = (Spool){.stream = tmpfile(), .in_file = true};
    if (s->stream)
        return;
    s->in_file = false;
    spool_open(s);
}

void spool_move(Spool *from, Spool *to) {
    const Text *text = &from->text;
    if (from->stream)
        fflush(from->stream);
    errno = 0;
    if (text->length > 0 && to->error == 0 &&
        fwrite(text->data, 1, text->length, to->stream) != text->length)
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
    if (!s->in_file) {
        fwrite(text_of(&s->text), 1, s->text.length, to);
        return STATUS_OK;
    }
    rewind(s->stream);
    errno = 0;
    while ((bytes = fread(block, 1, sizeof block, s->stream)) > 0)
        fwrite(block, 1, bytes, to);
    return ferror(s->stream) ? refuse(status, errno) : STATUS_OK;
}

FILE *spool_read(Spool *s) {
    if ((s->in_file ? ftell(s->stream) : (long)s->text.length) <= 0)
        return NULL;
    if (!s->in_file) {
        fclose(s->stream);
        s->stream = fmemopen(s->text.data, s->text.length, "r");
    }
    if (!s->stream)
        mem_out();
    rewind(s->stream);
    return s->stream;
}

void spool_free(Spool *s) {
    if (s->stream)
        fclose(s->stream);
    text_free(&s->text);
    *s = (Spool){0};
}
