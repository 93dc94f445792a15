/* traces: see traces.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/traces.h"

#include "base/mem.h"
#include "calibrate/lanes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { POINTS = 4 }; /* neighbours between which is interpolated */

static const double apart = .1, apart2 = .2, apart3 = .4; /* of nodes */

/* Nodes over ln tau, one more at either side than the span needs. */
typedef struct {
    double low, apart; /* ln tau of the first node */
    size_t count;
} Axis;

struct Traces {
    size_t wide; /* moments, and up to seven more */
    Axis tau, tau2, tau3;
    double *f; /* [tau][moment] */
    double *v; /* [tau2][tau3][moment] */
};

static Axis axis_of(Span span, double distance) {
    Axis axis = {span.low - distance, distance, 0};
    if (span.low <= span.high)
        axis.count = (size_t)floor((span.high - span.low) / distance) + POINTS;
    return axis;
}

static double tau_at(const Axis *axis, size_t node) {
    return exp(axis->low + axis->apart * (double)node);
}

double traces_mean_load(const Timeline *t) {
    double sum = 0, days = 1;
    for (size_t i = 0; i < t->steps; i++) {
        sum += t->load[i];
        days += i == 0 ? 0 : t->gap ? t->gap[i] : 1;
    }
    return t->steps > 0 ? sum / days : 0;
}

/* Moments by their step: the first of each step, and the next of each. */
typedef struct {
    size_t *first, *next;
} Agenda;

static const size_t no_moment = (size_t)-1;

static Agenda agenda_of(const TracesAsked *a) {
    Agenda g = {mem_new(a->timeline->steps + 1, sizeof *g.first),
                mem_new(a->count + 1, sizeof *g.next)};
    for (size_t i = 0; i < a->timeline->steps; i++)
        g.first[i] = no_moment;
    for (size_t i = 0; i < a->count; i++) {
        g.next[i] = g.first[a->moment[i].step];
        g.first[a->moment[i].step] = i;
    }
    return g;
}

/* States of one axis' nodes as the steps go by; nodes beyond the last are 0. */
typedef struct {
    const Axis *axis;
    size_t wide; /* nodes, and up to seven more */
    double *state, *decay;
    double gap; /* that of `decay` */
} States;

static size_t widened(size_t count) {
    return (count + LANES - 1) / LANES * LANES;
}

static States states_start(const Axis *axis, double before, double age) {
    size_t wide = widened(axis->count);
    States s = {axis, wide, mem_new(wide, sizeof *s.state),
                mem_new(wide, sizeof *s.decay), NAN};
    for (size_t k = 0; k < axis->count; k++)
        s.state[k] =
            -before * exp(-age / tau_at(axis, k)) / expm1(-1 / tau_at(axis, k));
    return s;
}

static void states_free(States *s) {
    free(s->state);
    free(s->decay);
}

/* The states decay, then a load is added. */
INSIDE void states_move(States *s, bool decay, double load) {
    for (size_t k = 0; k < s->wide; k += LANES) {
        Lane state, kept;
        lane_load(s->state + k, LANES, &state);
        lane_load(s->decay + k, LANES, &kept);
        state = (decay ? state * kept : state) + load;
        lane_store(&state, LANES, s->state + k);
    }
}

static void states_gap(States *s, double gap) {
    for (size_t k = 0; k < s->axis->count && gap != s->gap; k++)
        s->decay[k] = exp(-gap / tau_at(s->axis, k));
    s->gap = gap;
}

/* Where the states of a run go: node k of moment i to[k * stride + i]. */
typedef struct {
    const TracesAsked *asked;
    const Agenda *agenda;
    double *to;
    size_t stride;
    double share; /* of the states */
    double *seen; /* [moment][node], first */
} Sink;

static void sink_take(const Sink *sink, size_t step, ReadWhen when,
                      const States *s) {
    for (size_t i = sink->agenda->first[step]; i != no_moment;
         i = sink->agenda->next[i])
        if (sink->asked->moment[i].when == when)
            memcpy(sink->seen + i * s->wide, s->state,
                   s->wide * sizeof *s->state);
}

static void sink_empty(const Sink *sink, const States *s) {
    for (size_t k = 0; k < s->axis->count; k++)
        for (size_t i = 0; i < sink->asked->count; i++)
            sink->to[k * sink->stride + i] =
                sink->share * sink->seen[i * s->wide + k];
}

/* `memory` is what each load is multiplied by; NULL: nothing. */
WIDE static void run(Sink *sink, const double *memory, States *s) {
    const Timeline *t = sink->asked->timeline;
    sink->seen = mem_new(sink->asked->count * s->wide, sizeof *sink->seen);
    for (size_t i = 0; i < t->steps; i++) {
        double load = t->load[i] * (memory ? memory[i] : 1);
        bool seen = sink->agenda->first[i] != no_moment;
        if (i > 0)
            states_gap(s, t->gap ? t->gap[i] : 1);
        states_move(s, i > 0, seen ? 0 : load);
        if (!seen)
            continue;
        sink_take(sink, i, READ_BEFORE, s);
        states_move(s, false, load);
        sink_take(sink, i, READ_AFTER, s);
    }
    sink_empty(sink, s);
    free(sink->seen);
}

/* Memory of past load at each step, its load included. */
static void remember(const Timeline *t, double tau3, double *memory) {
    double m = -t->before * exp(-t->before_age / tau3) / expm1(-1 / tau3);
    double gap = 1, kept = exp(-1 / tau3);
    for (size_t i = 0; i < t->steps; i++) {
        if (i > 0 && t->gap && t->gap[i] != gap) {
            gap = t->gap[i];
            kept = exp(-gap / tau3);
        }
        if (i > 0)
            m *= kept;
        m += t->load[i];
        memory[i] = m;
    }
}

static void build_grown(Traces *t, const TracesAsked *a, const Agenda *agenda) {
    const Timeline *line = a->timeline;
    double mean = traces_mean_load(line);
    double *memory = mem_new(line->steps + 1, sizeof *memory);
    for (size_t b = 0; b < t->tau3.count && mean > 0; b++) {
        double tau3 = tau_at(&t->tau3, b), lost = -expm1(-1 / tau3);
        Sink sink = {
            a,           agenda, t->v + b * t->wide, t->tau3.count * t->wide,
            lost / mean, NULL};
        States s = states_start(&t->tau2, line->before * line->before / lost,
                                line->before_age);
        remember(line, tau3, memory);
        run(&sink, memory, &s);
        states_free(&s);
    }
    free(memory);
}

Traces *traces_build(const TracesAsked *a) {
    Traces *t = mem_new(1, sizeof *t);
    Agenda agenda = agenda_of(a);
    Sink sink;
    States s;
    t->wide = widened(a->count);
    t->tau = axis_of(a->tau, apart);
    t->tau2 = axis_of(a->tau2, apart2);
    t->tau3 = axis_of(a->tau3, apart3);
    t->f = mem_new(t->tau.count * t->wide, sizeof *t->f);
    t->v = mem_new(t->tau2.count * t->tau3.count * t->wide, sizeof *t->v);
    s = states_start(&t->tau, a->timeline->before, a->timeline->before_age);
    sink = (Sink){a, &agenda, t->f, t->wide, 1, NULL};
    run(&sink, NULL, &s);
    if (t->tau3.count > 0)
        build_grown(t, a, &agenda);
    states_free(&s);
    free(agenda.first);
    free(agenda.next);
    return t;
}

void traces_free(Traces *t) {
    if (!t)
        return;
    free(t->f);
    free(t->v);
    free(t);
}

size_t traces_room(const Traces *t) {
    return t->wide;
}

/* ---- reading ---- */

typedef struct {
    size_t from; /* first of the neighbours */
    double weight[POINTS];
} Blend;

static bool blend(const Axis *axis, double log_tau, Blend *b) {
    double x = (log_tau - axis->low) / axis->apart;
    if (!(x >= 1 && x <= (double)axis->count - 2))
        return false;
    b->from = (size_t)x - 1;
    if (b->from + POINTS > axis->count)
        b->from--;
    x -= (double)b->from;
    b->weight[0] = -(x - 1) * (x - 2) * (x - 3) / 6;
    b->weight[1] = x * (x - 2) * (x - 3) / 2;
    b->weight[2] = -x * (x - 1) * (x - 3) / 2;
    b->weight[3] = x * (x - 1) * (x - 2) / 6;
    return true;
}

/* Adds four rows. */
INSIDE void add_rows(const double *row, size_t stride, const double *weight,
                     Lane *sum) {
#pragma GCC unroll 4
    for (size_t k = 0; k < POINTS; k++) {
        Lane some;
        lane_load(row + k * stride, LANES, &some);
        *sum += weight[k] * some;
    }
}

WIDE static void read_rows(const Traces *t, const Blend *b, double *value) {
    for (size_t i = 0; i < t->wide; i += LANES) {
        Lane sum = {0};
        add_rows(t->f + b->from * t->wide + i, t->wide, b->weight, &sum);
        lane_store(&sum, LANES, value + i);
    }
}

WIDE static void read_grid(const Traces *t, const Blend *b2, const Blend *b3,
                           double *value) {
    size_t stride = t->tau3.count * t->wide;
    const double *from = t->v + b2->from * stride + b3->from * t->wide;
    for (size_t i = 0; i < t->wide; i += LANES) {
        Lane sum = {0};
        for (size_t k = 0; k < POINTS; k++) {
            Lane part = {0};
            add_rows(from + k * stride + i, t->wide, b3->weight, &part);
            sum += b2->weight[k] * part;
        }
        lane_store(&sum, LANES, value + i);
    }
}

bool traces_read(const Traces *t, double log_tau, double *value) {
    Blend b;
    if (!blend(&t->tau, log_tau, &b))
        return false;
    read_rows(t, &b, value);
    return true;
}

bool traces_read_grown(const Traces *t, double log_tau2, double log_tau3,
                       double *value) {
    Blend b2, b3;
    if (!blend(&t->tau2, log_tau2, &b2) || !blend(&t->tau3, log_tau3, &b3))
        return false;
    read_grid(t, &b2, &b3, value);
    return true;
}
