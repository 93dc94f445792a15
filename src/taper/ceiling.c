/* ceiling: see ceiling.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/ceiling.h"

#include "base/mem.h"
#include "calibrate/lanes.h"

#include <glpk.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the programme ---- */

/* Columns 1 ... length: the cut of each day; column length + 1: the lowest
 * readiness, for AIM_LOWEST; then for some days whether they rest. GLPK's
 * tolerances are absolute, so everything is scaled to about 1. */
typedef struct {
    const Rules *rules;
    glp_prob *problem;
    int length;
    int *rest;  /* [length] column that says whether a day rests; 0: none */
    int *index; /* a row while it is written */
    double *value;
    int count;
    bool whole; /* some columns must be whole numbers */
} Programme;

static void row_term(Programme *p, int column, double value) {
    p->count++;
    p->index[p->count] = column;
    p->value[p->count] = value;
}

static void row_end(Programme *p, double highest) {
    int row = glp_add_rows(p->problem, 1);
    glp_set_row_bnds(p->problem, row, GLP_UP, 0, highest);
    glp_set_mat_row(p->problem, row, p->count, p->index, p->value);
    p->count = 0;
}

static void add_days(Programme *p) {
    glp_add_cols(p->problem, p->length + 1);
    for (int u = 1; u <= p->length; u++) {
        double most = p->rules->most[u - 1], least = p->rules->least[u - 1];
        glp_set_col_bnds(p->problem, u, most > least ? GLP_DB : GLP_FX, least,
                         most);
    }
    glp_set_col_bnds(p->problem, p->length + 1, GLP_FX, 0, 0);
}

static void add_rules(Programme *p) {
    for (size_t i = 0; i < p->rules->count; i++) {
        const Rule *rule = &p->rules->rules[i];
        for (int u = 1; u <= p->length; u++)
            if (rule->by[u - 1] != 0)
                row_term(p, u, rule->by[u - 1]);
        row_end(p, rule->most);
    }
}

/* Sessions of a block that full rest may take away. */
static int at_stake(const Rules *r, size_t week) {
    int sum = 0;
    for (size_t u = 7 * week + 1; u <= 7 * week + 7 && u <= r->length; u++)
        if (r->most[u - 1] > r->session_cut)
            sum += rules_sessions(r, u);
    return sum;
}

/* A day that is cut beyond what leaves its sessions must rest: cut <=
 * session_cut + (most - session_cut) x rest. */
static void add_rest_day(Programme *p, size_t u) {
    double most = p->rules->most[u - 1], least = p->rules->session_cut;
    int column = glp_add_cols(p->problem, 1);
    p->rest[u - 1] = column;
    p->whole = true;
    row_term(p, (int)u, 1);
    row_term(p, column, least - most);
    row_end(p, least);
}

static void add_sessions(Programme *p) {
    const Rules *r = p->rules;
    for (size_t w = 0; w < r->weeks && r->counted; w++) {
        if (at_stake(r, w) <= r->spare[w])
            continue;
        for (size_t u = 7 * w + 1; u <= 7 * w + 7 && u <= r->length; u++)
            if (r->most[u - 1] > r->session_cut && rules_sessions(r, u) > 0)
                add_rest_day(p, u);
        for (size_t u = 7 * w + 1; u <= 7 * w + 7 && u <= r->length; u++)
            if (p->rest[u - 1])
                row_term(p, p->rest[u - 1], rules_sessions(r, u));
        row_end(p, r->spare[w]);
    }
}

/* GLPK says what is wrong and aborts; without memory the program ends as it
 * does elsewhere. Anything else is a bug of ours, where abort() is right. */
static int on_glpk_words(void *unused, const char *words) {
    (void)unused;
    if (strstr(words, "memory")) /* out of it, or none left */
        mem_out();
    fputs(words, stderr);
    return 1; /* not on standard output */
}

static void programme_open(const Rules *r, Programme *p) {
    *p = (Programme){.rules = r, .length = (int)r->length};
    if (glp_init_env() == 2)
        mem_out();
    glp_term_hook(on_glpk_words, NULL);
    glp_term_out(GLP_OFF);
    p->problem = glp_create_prob();
    p->rest = mem_new(r->length, sizeof *p->rest);
    p->index = mem_new(2 * r->length + 2, sizeof *p->index);
    p->value = mem_new(2 * r->length + 2, sizeof *p->value);
    glp_set_obj_dir(p->problem, GLP_MAX);
    add_days(p);
    add_rules(p);
    add_sessions(p);
}

static void programme_close(Programme *p) {
    glp_delete_prob(p->problem);
    glp_free_env();
    free(p->rest);
    free(p->index);
    free(p->value);
}

/* Asks for the largest sum of gain x cut. */
static void programme_ask(Programme *p, const double *gain) {
    double scale = 0;
    for (int u = 1; u <= p->length; u++)
        scale = fmax(scale, fabs(gain[u - 1]));
    for (int u = 1; u <= p->length; u++)
        glp_set_obj_coef(p->problem, u, scale > 0 ? gain[u - 1] / scale : 0);
}

/* Days that rest under the cuts do, and no others; NULL: to be chosen. */
static void programme_fix(Programme *p, const double *cut) {
    for (int u = 1; u <= p->length; u++) {
        bool rests = cut && cut[u - 1] > p->rules->session_cut + 1e-7;
        if (!p->rest[u - 1])
            continue;
        if (!cut)
            glp_set_col_kind(p->problem, p->rest[u - 1], GLP_BV);
        else
            glp_set_col_bnds(p->problem, p->rest[u - 1], GLP_FX, rests, rests);
    }
}

/* Chooses the days of rest, then fixes them. */
static bool choose_rest(Programme *p) {
    double *cut = mem_new((size_t)p->length, sizeof *cut);
    glp_iocp settings;
    bool found;
    glp_init_iocp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    settings.presolve = GLP_ON;
    programme_fix(p, NULL);
    found = glp_intopt(p->problem, &settings) == 0 &&
            glp_mip_status(p->problem) == GLP_OPT;
    for (int u = 1; u <= p->length && found; u++)
        if (p->rest[u - 1])
            cut[u - 1] = glp_mip_col_val(p->problem, p->rest[u - 1]) > .5;
    if (found)
        programme_fix(p, cut);
    free(cut);
    return found;
}

/* The cuts of the optimum, days of rest as they are fixed. */
static bool programme_solve(Programme *p, double *cut) {
    glp_smcp settings;
    glp_init_smcp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    if (glp_simplex(p->problem, &settings) != 0 ||
        glp_get_status(p->problem) != GLP_OPT)
        return false;
    for (int u = 1; u <= p->length; u++)
        cut[u - 1] = glp_get_col_prim(p->problem, u);
    return true;
}

static bool programme_choose(Programme *p, double *cut) {
    return (!p->whole || choose_rest(p)) && programme_solve(p, cut);
}

/* ---- linear models ---- */

/* The lowest of several days: lowest + sum of cut x drop <= base, each day. */
static void ask_lowest(Programme *p, const Score *s) {
    double scale = 0;
    for (size_t i = 0; i < s->days * s->window; i++)
        scale = fmax(scale, fabs(s->drop[i]));
    if (scale <= 0)
        scale = 1;
    glp_set_col_bnds(p->problem, p->length + 1, GLP_FR, 0, 0);
    glp_set_obj_coef(p->problem, p->length + 1, 1);
    for (size_t e = 0; e < s->days; e++) {
        for (int u = 1; u <= p->length; u++)
            row_term(p, u, s->drop[e * s->window + (size_t)u - 1] / scale);
        row_term(p, p->length + 1, 1);
        row_end(p, (s->base[e] - s->base[0]) / scale);
    }
}

static bool by_programme(const Score *s, const Rules *r, double *cut) {
    Programme p;
    double *gain = mem_new(r->length, sizeof *gain);
    bool found;
    programme_open(r, &p);
    for (size_t i = 0; i < r->length; i++)
        gain[i] = -s->drop[i];
    if (s->aim == AIM_LOWEST)
        ask_lowest(&p, s);
    else
        programme_ask(&p, gain);
    found = programme_choose(&p, cut);
    programme_close(&p);
    free(gain);
    return found;
}

static void by_sign(const Score *s, const Rules *r, double *cut) {
    for (size_t i = 0; i < r->length; i++)
        cut[i] = s->drop[i] < 0 ? r->most[i] : s->drop[i] > 0 ? r->least[i] : 0;
}

/* ---- variable dose ---- */

/* The climb from one start. */
typedef struct {
    const Score *score;
    const Rules *rules;
    Programme programme;
    size_t length;
    bool smooth;    /* not the lowest of several days */
    double *tilt;   /* [length] gradient where nothing is cut */
    double *bend;   /* [length x row] second derivatives */
    size_t row;     /* length in whole lanes */
    double *cut;    /* [window] where it stands */
    double *trial;  /* [window] */
    double *slope;  /* [length] gradient at `cut` */
    double *way;    /* [length] a direction */
    double *turn;   /* [length] bend x way */
    double *vertex; /* [(length + 2) x length] mixed, with their shares */
    double *share;
    size_t vertices;
    double value; /* [readiness] at `cut` */
} Climb;

static double value_of(Climb *c, const double *cut) {
    return score_cuts(c->score, cut);
}

/* Readiness with one or two days cut by 1 or -1. */
static double value_two(Climb *c, size_t i, double a, size_t k, double b) {
    double value;
    memset(c->trial, 0, c->score->window * sizeof *c->trial);
    c->trial[i] += a;
    c->trial[k] += b;
    value = value_of(c, c->trial);
    return value;
}

/* Readiness is quadratic in the cuts, so differences are exact. */
static void set_quadratic(Climb *c) {
    size_t n = c->length;
    double none = value_two(c, 0, 0, 0, 0), *up = c->slope, *down = c->way;
    for (size_t i = 0; i < n; i++) {
        up[i] = value_two(c, i, 1, i, 0) - none;
        down[i] = value_two(c, i, -1, i, 0) - none;
        c->tilt[i] = (up[i] - down[i]) / 2;
    }
    for (size_t i = 0; i < n && c->smooth; i++)
        for (size_t k = 0; k <= i; k++) {
            double bend = i == k
                              ? up[i] + down[i]
                              : value_two(c, i, 1, k, 1) - none - up[i] - up[k];
            c->bend[i * c->row + k] = c->bend[k * c->row + i] = bend;
        }
}

/* Sums of eight days side by side, since the bend is symmetric. */
WIDE static void times_bend(const Climb *c, const double *by, double *to) {
    size_t n = c->length;
    for (size_t i = 0; i < n; i += LANES) {
        Lane sum = {0}, bend;
        for (size_t k = 0; k < n; k++) {
            lane_load(c->bend + k * c->row + i, LANES, &bend);
            sum += bend * by[k];
        }
        lane_store(&sum, n - i, to + i);
    }
}

/* The gradient; of the lowest of several days by small differences. */
static void set_slope(Climb *c) {
    const double step = 1e-4;
    if (c->smooth) {
        times_bend(c, c->cut, c->slope);
        for (size_t i = 0; i < c->length; i++)
            c->slope[i] += c->tilt[i];
        return;
    }
    memcpy(c->trial, c->cut, c->score->window * sizeof *c->trial);
    for (size_t i = 0; i < c->length; i++) {
        double up, down;
        c->trial[i] = c->cut[i] + step;
        up = value_of(c, c->trial);
        c->trial[i] = c->cut[i] - step;
        down = value_of(c, c->trial);
        c->trial[i] = c->cut[i];
        c->slope[i] = (up - down) / (2 * step);
    }
}

static double product(size_t n, const double *a, const double *b) {
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

/* ---- mixing vertices ---- */

/* Moves some share of vertex `from` to vertex `to`, as far as readiness rises;
 * `slope` follows. */
static void exchange(Climb *c, size_t to, size_t from) {
    size_t n = c->length;
    double rise, curve, step = c->share[from];
    for (size_t i = 0; i < n; i++)
        c->way[i] = c->vertex[to * n + i] - c->vertex[from * n + i];
    times_bend(c, c->way, c->turn);
    rise = product(n, c->slope, c->way);
    curve = product(n, c->turn, c->way);
    if (curve < 0)
        step = fmin(step, -rise / curve);
    c->share[from] -= step;
    c->share[to] += step;
    for (size_t i = 0; i < n; i++) {
        c->cut[i] += step * c->way[i];
        c->slope[i] += step * c->turn[i];
    }
}

/* The best mix of the vertices: shares go from the worst to the best. */
static void mix(Climb *c, double enough) {
    for (int round = 0; round < 2000; round++) {
        size_t best = 0, worst = 0;
        double high = -INFINITY, low = INFINITY;
        for (size_t k = 0; k < c->vertices; k++) {
            double rise =
                product(c->length, c->slope, c->vertex + k * c->length);
            if (rise > high) {
                high = rise;
                best = k;
            }
            if (rise < low && c->share[k] > 0) {
                low = rise;
                worst = k;
            }
        }
        if (best == worst || high - low <= enough)
            return;
        exchange(c, best, worst);
    }
}

static void drop_idle(Climb *c) {
    size_t n = c->length, kept = 0;
    for (size_t k = 0; k < c->vertices; k++) {
        if (c->share[k] <= 1e-14)
            continue;
        memmove(c->vertex + kept * n, c->vertex + k * n, n * sizeof(double));
        c->share[kept++] = c->share[k];
    }
    c->vertices = kept;
}

/* The standpoint itself as the one vertex. */
static void start_mix(Climb *c) {
    memcpy(c->vertex, c->cut, c->length * sizeof(double));
    c->share[0] = 1;
    c->vertices = 1;
}

static double gradient_size(const Climb *c) {
    double size = 0;
    for (size_t i = 0; i < c->length; i++)
        size = fmax(size, fabs(c->tilt[i]));
    return size;
}

static void climb_by_mixing(Climb *c) {
    size_t n = c->length;
    double enough = 1e-13 * gradient_size(c);
    start_mix(c);
    for (int round = 0; round < 200; round++) {
        double *next, gap;
        set_slope(c);
        drop_idle(c);
        if (c->vertices > n + 1)
            start_mix(c);
        next = c->vertex + c->vertices * n;
        programme_ask(&c->programme, c->slope);
        if (!programme_solve(&c->programme, next))
            return;
        gap = product(n, c->slope, next) - product(n, c->slope, c->cut);
        if (gap <= 10 * enough)
            return;
        c->share[c->vertices++] = 0;
        mix(c, fmax(enough, 1e-3 * gap));
    }
}

/* ---- lines ---- */

/* How far `way` goes both ways within the limits and with the same days of
 * rest. */
static void span(const Climb *c, double *low, double *high) {
    const Rules *r = c->rules;
    *low = -INFINITY;
    *high = INFINITY;
    for (size_t i = 0; i < c->length; i++) {
        bool held = c->programme.rest[i] && c->cut[i] <= r->session_cut + 1e-7;
        double most = held ? r->session_cut : r->most[i], up, down;
        if (c->way[i] == 0)
            continue;
        up = (most - c->cut[i]) / c->way[i];
        down = (r->least[i] - c->cut[i]) / c->way[i];
        *high = fmin(*high, fmax(up, down));
        *low = fmax(*low, fmin(up, down));
    }
    for (size_t i = 0; i < r->count; i++) {
        const Rule *rule = &r->rules[i];
        double rate = product(c->length, rule->by, c->way);
        double room =
            fmax(0, rule->most - product(c->length, rule->by, c->cut));
        if (rate > 1e-12)
            *high = fmin(*high, room / rate);
        if (rate < -1e-12)
            *low = fmax(*low, room / rate);
    }
}

static double value_along(Climb *c, double step) {
    for (size_t i = 0; i < c->length; i++)
        c->trial[i] = c->cut[i] + step * c->way[i];
    for (size_t i = c->length; i < c->score->window; i++)
        c->trial[i] = 0;
    return value_of(c, c->trial);
}

/* Highest point of a parabola through three values at low, middle, high. */
static double top_of(double low, double high, const double value[3]) {
    double half = (high - low) / 2;
    double bend = value[0] - 2 * value[1] + value[2];
    double rise = (value[2] - value[0]) / 2;
    if (bend >= 0)
        return value[2] > value[0] ? high : low;
    return fmin(high, fmax(low, low + half - half * rise / bend));
}

/* Along a line the lowest of several parabolas is still concave: golden
 * section. */
static double golden(Climb *c, double low, double high) {
    const double part = .6180339887498949;
    for (int i = 0; i < 45; i++) {
        double x = high - part * (high - low), y = low + part * (high - low);
        if (value_along(c, x) < value_along(c, y))
            low = x;
        else
            high = y;
    }
    return (low + high) / 2;
}

/* The highest point along `way`. */
static void climb_line(Climb *c) {
    double low, high, step, value[3];
    span(c, &low, &high);
    if (!(high - low > 1e-12) || isinf(high - low))
        return;
    for (int i = 0; i < 3; i++)
        value[i] = value_along(c, low + i * (high - low) / 2);
    step = c->smooth ? top_of(low, high, value) : golden(c, low, high);
    value[0] = value_along(c, step);
    if (value[0] <= c->value)
        return;
    memcpy(c->cut, c->trial, c->score->window * sizeof *c->cut);
    c->value = value[0];
}

static void set_way(Climb *c, size_t i, double a, size_t k, double b) {
    memset(c->way, 0, c->length * sizeof *c->way);
    c->way[i] += a;
    c->way[k] += b;
}

/* One day alone, then with each other: load goes from one to the other, where
 * a rule ties them. */
static void climb_by_days(Climb *c) {
    const Outlook *o = c->rules->outlook;
    for (size_t i = 0; i < c->length; i++) {
        double load = o->cuttable[o->event_day - i - 1];
        if (load <= 0)
            continue;
        set_way(c, i, 1, i, 0);
        climb_line(c);
        for (size_t k = i + 1; k < c->length && c->rules->count; k++) {
            double other = o->cuttable[o->event_day - k - 1];
            if (other <= 0)
                continue;
            set_way(c, i, 1, k, -load / other);
            climb_line(c);
        }
    }
}

/* Towards the vertex that the gradient shows. */
static void climb_by_slope(Climb *c) {
    set_slope(c);
    programme_ask(&c->programme, c->slope);
    if (!programme_solve(&c->programme, c->way))
        return;
    for (size_t i = 0; i < c->length; i++)
        c->way[i] -= c->cut[i];
    climb_line(c);
}

/* Up from where it stands, the days of rest as they are. */
static void climb(Climb *c) {
    programme_fix(&c->programme, c->cut);
    c->value = value_of(c, c->cut);
    for (int sweep = 0; sweep < 300; sweep++) {
        double before = c->value;
        if (c->smooth && sweep % 10 == 0) {
            climb_by_mixing(c);
            c->value = value_of(c, c->cut);
        } else if (!c->smooth) {
            climb_by_slope(c);
        }
        climb_by_days(c);
        if (c->value - before <= 1e-13 * fabs(c->value))
            return;
    }
}

/* What a start asks the programme for. */
static bool set_start(Climb *c, int start) {
    double *gain = mem_new(c->length, sizeof *gain);
    const Outlook *o = c->rules->outlook;
    bool found;
    for (size_t i = 0; i < c->length; i++) {
        double load = o->cuttable[o->event_day - i - 1];
        gain[i] = start == 1   ? c->tilt[i]
                  : start == 2 ? -load
                  : start == 3 ? load
                               : c->slope[i];
    }
    memset(c->cut, 0, c->score->window * sizeof *c->cut);
    programme_ask(&c->programme, gain);
    found = programme_choose(&c->programme, c->cut);
    free(gain);
    return found;
}

static void climb_open(const Score *s, const Rules *r, Climb *c) {
    size_t n = r->length;
    *c = (Climb){.score = s, .rules = r, .length = n};
    c->smooth = s->aim != AIM_LOWEST || s->days < 2;
    programme_open(r, &c->programme);
    c->tilt = mem_new(n, sizeof *c->tilt);
    c->row = (n + LANES - 1) / LANES * LANES;
    c->bend = mem_new(n * c->row, sizeof *c->bend);
    c->cut = mem_new(s->window, sizeof *c->cut);
    c->trial = mem_new(s->window, sizeof *c->trial);
    c->slope = mem_new(n, sizeof *c->slope);
    c->way = mem_new(n, sizeof *c->way);
    c->turn = mem_new(n, sizeof *c->turn);
    c->vertex = mem_new((n + 3) * n, sizeof *c->vertex);
    c->share = mem_new(n + 3, sizeof *c->share);
    set_quadratic(c);
}

static void climb_close(Climb *c) {
    programme_close(&c->programme);
    free(c->tilt);
    free(c->bend);
    free(c->cut);
    free(c->trial);
    free(c->slope);
    free(c->way);
    free(c->turn);
    free(c->vertex);
    free(c->share);
}

enum { STARTS = 4, AGAIN = 6 };

/* Starts: the cuts given, the vertex of the gradient without cuts, the least
 * and the most that may be cut; then, where days of rest are to be chosen, the
 * vertex of the gradient at the best so far. */
static void by_climbing(const Score *s, const Rules *r, double *cut) {
    Climb c;
    double highest = -INFINITY;
    size_t size = s->window * sizeof *cut;
    climb_open(s, r, &c);
    for (int start = 0; start < STARTS + AGAIN; start++) {
        bool better;
        if (start >= STARTS) {
            memcpy(c.cut, cut, size);
            set_slope(&c);
        }
        if (start == 0)
            memcpy(c.cut, cut, size);
        else if (!set_start(&c, start))
            continue;
        climb(&c);
        better = c.value > highest;
        if (better) {
            highest = c.value;
            memcpy(cut, c.cut, size);
        }
        if (start >= STARTS - 1 &&
            (!c.programme.whole || (start >= STARTS && !better)))
            break;
    }
    climb_close(&c);
}

/* ---- either ---- */

/* May cuts be set day by day? */
static bool untied(const Score *s, const Rules *r) {
    for (size_t w = 0; w < r->weeks && r->counted; w++)
        if (at_stake(r, w) > r->spare[w])
            return false;
    return r->count == 0 && (s->aim != AIM_LOWEST || s->days < 2);
}

StatusCode ceiling_find(const Score *s, const Rules *r, double *cut,
                        double *readiness, Status *status) {
    bool found = true;
    for (size_t i = r->length; i < s->window; i++)
        cut[i] = 0;
    if (r->length == 0)
        ;
    else if (!s->linear)
        by_climbing(s, r, cut);
    else if (untied(s, r))
        by_sign(s, r, cut);
    else
        found = by_programme(s, r, cut);
    *readiness = score_cuts(s, cut);
    if (!found)
        return status_fail(status, STATUS_DATA,
                           "the ceiling within these limits could not be "
                           "found (linear programme without an optimum)");
    return STATUS_OK;
}
