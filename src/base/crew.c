/* crew: see crew.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/crew.h"

#include "base/mem.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { AHEAD = 4 /* pieces under way for each thread */ };

/* What the threads share; everything below `lock` is behind it. */
typedef struct {
    const Crew *crew;
    size_t ring; /* slots: piece p has number p % ring */
    char *slots;
    pthread_mutex_t lock;
    pthread_cond_t moved; /* a piece was taken */
    bool *done;           /* of each slot */
    size_t next, taken;   /* pieces begun, and taken */
    bool taking, stopped;
} Shared;

static void *slot_of(const Shared *s, size_t piece) {
    return s->slots + piece % s->ring * s->crew->slot;
}

/* Takes all that can be taken in order, unless another thread is at it. */
static void take_done(Shared *s) {
    if (s->taking)
        return;
    s->taking = true;
    while (s->taken < s->next && s->done[s->taken % s->ring]) {
        size_t piece = s->taken;
        bool go_on;
        pthread_mutex_unlock(&s->lock);
        go_on = s->crew->take(s->crew->with, piece, slot_of(s, piece));
        pthread_mutex_lock(&s->lock);
        s->done[piece % s->ring] = false;
        s->stopped = s->stopped || !go_on;
        s->taken++;
        pthread_cond_broadcast(&s->moved);
    }
    s->taking = false;
}

/* Begins the next piece; false when there is none. */
static bool begin(Shared *s, size_t *piece) {
    while (!s->stopped && s->next < s->crew->pieces &&
           s->next - s->taken >= s->ring)
        pthread_cond_wait(&s->moved, &s->lock);
    if (s->stopped || s->next >= s->crew->pieces)
        return false;
    *piece = s->next++;
    return true;
}

static void *work(void *shared) {
    Shared *s = shared;
    size_t piece;
    pthread_mutex_lock(&s->lock);
    while (begin(s, &piece)) {
        void *slot = slot_of(s, piece);
        pthread_mutex_unlock(&s->lock);
        memset(slot, 0, s->crew->slot);
        s->crew->work(s->crew->with, piece, slot);
        pthread_mutex_lock(&s->lock);
        s->done[piece % s->ring] = true;
        take_done(s);
    }
    pthread_mutex_unlock(&s->lock);
    return NULL;
}

void crew_run(const Crew *crew) {
    int others = crew->threads < 1 ? 0 : crew->threads - 1, started = 0;
    Shared s = {.crew = crew, .ring = (size_t)(AHEAD * (others + 1))};
    pthread_t *thread = mem_new((size_t)others, sizeof *thread);
    if ((size_t)others >= crew->pieces)
        others = crew->pieces ? (int)crew->pieces - 1 : 0;
    s.slots = mem_new(s.ring, crew->slot);
    s.done = mem_new(s.ring, sizeof *s.done);
    pthread_mutex_init(&s.lock, NULL);
    pthread_cond_init(&s.moved, NULL);
    while (started < others &&
           pthread_create(&thread[started], NULL, work, &s) == 0)
        started++; /* fewer threads than asked for do as well */
    work(&s);
    while (started > 0)
        pthread_join(thread[--started], NULL);
    pthread_cond_destroy(&s.moved);
    pthread_mutex_destroy(&s.lock);
    free(thread);
    free(s.slots);
    free(s.done);
}

int crew_processors(void) {
    long found = sysconf(_SC_NPROCESSORS_ONLN);
    return found < 1 ? 1 : found > 1024 ? 1024 : (int)found;
}
