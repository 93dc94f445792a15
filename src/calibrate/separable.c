/* separable: see separable.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/separable.h"

#include "base/mem.h"
#include "calibrate/cholesky.h"
#include "calibrate/lanes.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    double level, gain[SEPARABLE_GAINS], shape[SEPARABLE_SHAPES];
    double rss;
} Point;

enum { MANY = 32 }; /* points at once: 27 along three axes */

/* The problem with room for its columns at one point, and at many. */
typedef struct {
    const Separable *p;
    double *column[SEPARABLE_GAINS], *slope[SEPARABLE_SHAPES];
    double *left;  /* what a point leaves of each value */
    double *shape; /* at which column and slope are; NAN: no slopes */
    double *many[SEPARABLE_GAINS];
} Work;

static void work_start(Work *w, const Separable *p) {
    size_t n = SEPARABLE_GAINS * (1 + MANY) + SEPARABLE_SHAPES + 1;
    double *block = mem_new(n * p->rows + SEPARABLE_SHAPES, sizeof *block);
    *w = (Work){.p = p};
    for (int k = 0; k < SEPARABLE_GAINS; k++, block += p->rows)
        w->column[k] = block;
    for (int i = 0; i < SEPARABLE_SHAPES; i++, block += p->rows)
        w->slope[i] = block;
    w->left = block;
    block += p->rows;
    w->shape = block;
    *w->shape = NAN;
    block += SEPARABLE_SHAPES;
    for (int k = 0; k < SEPARABLE_GAINS; k++, block += MANY * p->rows)
        w->many[k] = block;
}

static void work_free(Work *w) {
    free(w->column[0]);
}

/* ---- bounds ---- */

static double upper(const Separable *p, int i, const double *shape) {
    if (p->under[i] == i)
        return p->most[i];
    return fmin(p->most[i], shape[p->under[i]] / p->ratio);
}

static bool inside(const Separable *p, const double *shape) {
    for (int i = 0; i < p->shapes; i++)
        if (shape[i] < p->least[i] * (1 - 1e-12) ||
            shape[i] > upper(p, i, shape) * (1 + 1e-12))
            return false;
    return true;
}

/* -1 at the lower bound, 1 at the upper one, else 0. */
static int bound_at(const Separable *p, const double *shape, int i) {
    if (shape[i] <= p->least[i] * (1 + 1e-9))
        return -1;
    return shape[i] >= upper(p, i, shape) * (1 - 1e-9);
}

/* Moves shapes by logarithms, as far as the bounds let them. */
static void move(const Separable *p, const double *by, double *shape) {
    for (int i = 0; i < p->shapes; i++)
        shape[i] = fmax(p->least[i], shape[i] * exp(by[i]));
    for (int i = 0; i < p->shapes; i++)
        shape[i] = fmin(shape[i], upper(p, i, shape));
}

/* ---- level and gains at given shapes ---- */

/* Weighted means, 0 without a level, and sums of products about them. */
typedef struct {
    double y, x[SEPARABLE_GAINS];
    double yy, xy[SEPARABLE_GAINS];
    double xx[SEPARABLE_GAINS][SEPARABLE_GAINS];
} Sums;

static void add_means(const Work *w, Sums *s) {
    const Separable *p = w->p;
    double weights = 0;
    for (size_t i = 0; i < p->rows; i++) {
        weights += p->weight[i];
        s->y += p->weight[i] * p->value[i];
        for (int k = 0; k < p->gains; k++)
            s->x[k] += p->weight[i] * w->column[k][i];
    }
    s->y /= weights;
    for (int k = 0; k < p->gains; k++)
        s->x[k] /= weights;
}

static Sums sums_of(const Work *w) {
    const Separable *p = w->p;
    Sums s = {0};
    if (p->level)
        add_means(w, &s);
    for (size_t i = 0; i < p->rows; i++) {
        double y = p->value[i] - s.y, x[SEPARABLE_GAINS];
        s.yy += p->weight[i] * y * y;
        for (int k = 0; k < p->gains; k++) {
            x[k] = w->column[k][i] - s.x[k];
            s.xy[k] += p->weight[i] * x[k] * y;
            for (int m = 0; m <= k; m++)
                s.xx[k][m] += p->weight[i] * x[k] * x[m];
        }
    }
    return s;
}

/* Solves for the gains of a set, the others 0, by Cholesky; false when they
 * cannot be told apart. */
static bool solve_set(const Sums *s, int gains, unsigned set, double *gain) {
    int which[SEPARABLE_GAINS], n = 0;
    double root[SEPARABLE_GAINS][SEPARABLE_GAINS], b[SEPARABLE_GAINS];
    for (int k = 0; k < gains; k++) {
        gain[k] = 0;
        if (set >> k & 1)
            which[n++] = k;
    }
    for (int k = 0; k < n; k++) {
        b[k] = s->xy[which[k]];
        for (int m = 0; m <= k; m++)
            root[k][m] = s->xx[which[k]][which[m]];
    }
    if (!cholesky_root(n, SEPARABLE_GAINS, root, 0, 1e-14))
        return false;
    cholesky_solve(n, SEPARABLE_GAINS, root, b);
    for (int k = 0; k < n; k++)
        gain[which[k]] = b[k];
    return true;
}

/* Residual sum of any gains: a square form, so that their own rounding hardly
 * matters. */
static double rss_of(const Sums *s, int gains, const double *gain) {
    double rss = s->yy;
    for (int k = 0; k < gains; k++) {
        double sum = s->xx[k][k] * gain[k] - 2 * s->xy[k];
        for (int m = 0; m < k; m++)
            sum += 2 * s->xx[k][m] * gain[m];
        rss += gain[k] * sum;
    }
    return rss;
}

static bool allowed(const Separable *p, const double *gain) {
    for (int k = 0; k < p->gains; k++)
        if (gain[k] < 0 && !p->any_sign[k])
            return false;
    return true;
}

static void set_level(const Separable *p, const Sums *s, Point *x) {
    x->level = p->level ? s->y : 0;
    for (int k = 0; k < p->gains; k++)
        x->level -= x->gain[k] * s->x[k];
}

/* The best of all active sets. */
static void solve_sums(const Separable *p, const Sums *s, Point *x) {
    double gain[SEPARABLE_GAINS];
    memset(x->gain, 0, sizeof x->gain);
    x->rss = s->yy;
    for (unsigned set = 1; set < 1u << p->gains; set++) {
        double rss;
        if (!solve_set(s, p->gains, set, gain) || !allowed(p, gain))
            continue;
        rss = rss_of(s, p->gains, gain);
        if (!isfinite(rss) || rss >= x->rss)
            continue;
        x->rss = rss;
        memcpy(x->gain, gain, (size_t)p->gains * sizeof *gain);
    }
    set_level(p, s, x);
}

/* Columns at some shapes, unless they are there. */
static void columns_for(const Work *w, const double *shape, bool slopes) {
    const Separable *p = w->p;
    bool there = true;
    for (int i = 0; i < p->shapes; i++)
        there = there && w->shape[i] == shape[i];
    if (there)
        return;
    p->columns(p->context, shape, w->column, slopes ? w->slope : NULL);
    for (int i = 0; i < p->shapes; i++)
        w->shape[i] = slopes ? shape[i] : NAN;
}

static void solve_at(const Work *w, bool slopes, Point *x) {
    Sums s;
    columns_for(w, x->shape, slopes);
    s = sums_of(w);
    solve_sums(w->p, &s, x);
}

/* Columns at up to MANY points. */
static void columns_at(const Work *w, const Point *x, size_t count) {
    double shape[MANY][SEPARABLE_SHAPES];
    for (size_t n = 0; n < count; n++)
        memcpy(shape[n], x[n].shape, sizeof shape[n]);
    if (w->p->many) {
        w->p->many(w->p->context, count, shape[0], w->many);
        return;
    }
    for (size_t n = 0; n < count; n++) {
        double *column[SEPARABLE_GAINS];
        for (int k = 0; k < SEPARABLE_GAINS; k++)
            column[k] = w->many[k] + n * w->p->rows;
        w->p->columns(w->p->context, shape[n], column, NULL);
    }
}

/* As if one of these points had been asked for alone. */
static Work work_at(const Work *w, size_t n) {
    Work one = *w;
    for (int k = 0; k < SEPARABLE_GAINS; k++)
        one.column[k] = w->many[k] + n * w->p->rows;
    return one;
}

static void solve_many(const Work *w, Point *x, size_t count) {
    columns_at(w, x, count);
    for (size_t n = 0; n < count; n++) {
        Work one = work_at(w, n);
        Sums s = sums_of(&one);
        solve_sums(w->p, &s, &x[n]);
    }
}

double separable_rss_at(const Separable *p, const double *shape) {
    Point x = {.rss = INFINITY};
    Work w;
    if (!inside(p, shape))
        return INFINITY;
    work_start(&w, p);
    memcpy(x.shape, shape, (size_t)p->shapes * sizeof *shape);
    solve_at(&w, false, &x);
    work_free(&w);
    return x.rss;
}

/* ---- the grid ---- */

enum { VALLEYS = 12, SIZE_MOST = 300 };

typedef struct {
    int size;     /* points along each axis */
    size_t count; /* of all points */
    double *rss;
    double step[SEPARABLE_SHAPES];  /* of the logarithm */
    double *axis[SEPARABLE_SHAPES]; /* shapes along each axis */
} Grid;

static void grid_point(const Separable *p, const Grid *g, size_t index,
                       double *shape) {
    for (int i = 0; i < p->shapes; i++) {
        shape[i] = g->axis[i][index % (size_t)g->size];
        index /= (size_t)g->size;
    }
}

/* A gain's column at all points of the grid of its own shapes, about its mean
 * and times the root of the weights, a row of all points for each row of the
 * problem: it does not change with other shapes. */
typedef struct {
    size_t count, wide;  /* points, and up to seven more */
    double *column;      /* [rows * wide] */
    double *square, *xy; /* [wide] */
} Table;

static void table_start(const Separable *p, const Grid *g, int gain, Table *t) {
    t->count = 1;
    for (int i = 0; i < p->shapes; i++)
        if (p->belongs[i] == gain)
            t->count *= (size_t)g->size;
    t->wide = (t->count + LANES - 1) / LANES * LANES;
    t->column = mem_new(t->wide * (p->rows + 2), sizeof *t->column);
    t->square = t->column + t->wide * p->rows;
    t->xy = t->square + t->wide;
}

/* The shapes at a point of the table of each gain; tables of fewer points
 * repeat. */
static void table_point(const Separable *p, const Grid *g, size_t index,
                        double *shape) {
    size_t rest[SEPARABLE_GAINS];
    for (int k = 0; k < p->gains; k++)
        rest[k] = index;
    for (int i = 0; i < p->shapes; i++) {
        size_t *own = &rest[p->belongs[i]];
        shape[i] = g->axis[i][*own % (size_t)g->size];
        *own /= (size_t)g->size;
    }
}

static void table_take(const Work *w, const Sums *s, int gain, size_t index,
                       Table *t) {
    for (size_t i = 0; i < w->p->rows; i++)
        t->column[i * t->wide + index] =
            sqrt(w->p->weight[i]) * (w->column[gain][i] - s->x[gain]);
    t->square[index] = s->xx[gain][gain];
    t->xy[index] = s->xy[gain];
}

static Sums tables_fill(const Work *w, const Grid *g, Table *table) {
    const Separable *p = w->p;
    Sums s = {0};
    size_t most = 0;
    for (int k = 0; k < p->gains; k++) {
        table_start(p, g, k, &table[k]);
        most = table[k].count > most ? table[k].count : most;
    }
    for (size_t from = 0; from < most; from += MANY) {
        size_t count = most - from < MANY ? most - from : MANY;
        Point x[MANY] = {0};
        for (size_t n = 0; n < count; n++)
            table_point(p, g, from + n, x[n].shape);
        columns_at(w, x, count);
        for (size_t n = 0; n < count; n++) {
            Work one = work_at(w, n);
            s = sums_of(&one);
            for (int k = 0; k < p->gains; k++)
                if (from + n < table[k].count)
                    table_take(&one, &s, k, from + n, &table[k]);
        }
    }
    return s;
}

/* Sums of products at a point of the grid, from the tables. */
static void tables_read(const Separable *p, const size_t *at,
                        const Table *table, Sums *s) {
    for (int k = 0; k < p->gains; k++) {
        const Table *a = &table[k];
        s->xx[k][k] = a->square[at[k]];
        s->xy[k] = a->xy[at[k]];
        for (int m = 0; m < k; m++) {
            const Table *b = &table[m];
            s->xx[k][m] = 0;
            for (size_t i = 0; i < p->rows; i++)
                s->xx[k][m] += a->column[i * a->wide + at[k]] *
                               b->column[i * b->wide + at[m]];
        }
    }
}

/* Residual sums at eight points of the first table and one of the second: the
 * least of both gains, either and none, as solve_sums() has it. */
INSIDE void two_gains(const Separable *p, double all, const Table *table,
                      size_t first, size_t second, Lane *rss) {
    const Table *a = &table[0], *b = &table[1];
    const double *other = b->column + second;
    double bb = b->square[second], by = b->xy[second];
    const Lane none = {0};
    Lane aa, ay, ab = none, x, left, one, two, next;
    Bits good;
    lane_load(a->square + first, LANES, &aa);
    lane_load(a->xy + first, LANES, &ay);
    for (size_t i = 0; i < p->rows; i++) {
        lane_load(a->column + i * a->wide + first, LANES, &x);
        ab += x * other[i * b->wide];
    }
    *rss = none + (by > 0 && bb > 0 ? all - by * by / bb : all);
    next = all - ay * ay / aa;
    good = (ay > none) & (aa > none) & (next < *rss);
    lane_choose(&good, &next, rss);
    left = aa * bb - ab * ab;
    one = (ay * bb - ab * by) / left;
    two = (aa * by - ab * ay) / left;
    *rss = all + one * (aa * one - 2 * ay) +
           two * (bb * two - 2 * by + 2 * ab * one);
    good = (left > 1e-14 * bb * aa) & (one >= none) & (two >= none) &
           (*rss < next);
    lane_choose(&good, rss, &next);
}

/* Residual sums at all pairs of points of two tables. */
WIDE static void pairs_fill(const Separable *p, double all, const Table *table,
                            double *rss) {
    size_t wide = table[0].wide;
    for (size_t second = 0; second < table[1].count; second++)
        for (size_t first = 0; first < wide; first += LANES) {
            Lane some = {0};
            two_gains(p, all, table, first, second, &some);
            lane_store(&some, LANES, rss + second * wide + first);
        }
}

static void grid_start(const Separable *p, Grid *g) {
    static const int sizes[] = {1, SIZE_MOST, 60, 36};
    g->size = sizes[p->shapes];
    g->count = 1;
    for (int i = 0; i < p->shapes; i++) {
        g->count *= (size_t)g->size;
        g->step[i] = log(p->most[i] / p->least[i]) / (g->size - 1);
        g->axis[i] = mem_new((size_t)g->size, sizeof *g->axis[i]);
        for (int k = 0; k < g->size; k++)
            g->axis[i][k] = p->least[i] * exp(k * g->step[i]);
    }
    g->rss = mem_new(g->count, sizeof *g->rss);
}

static void grid_free(const Separable *p, Grid *g) {
    for (int i = 0; i < p->shapes; i++)
        free(g->axis[i]);
    free(g->rss);
}

/* Where a point of the grid stands in the table of each gain. */
static void table_places(const Separable *p, const Grid *g, size_t index,
                         size_t *at) {
    size_t stride[SEPARABLE_GAINS];
    for (int k = 0; k < p->gains; k++) {
        stride[k] = 1;
        at[k] = 0;
    }
    for (int i = 0; i < p->shapes; i++) {
        int k = p->belongs[i];
        at[k] += index % (size_t)g->size * stride[k];
        stride[k] *= (size_t)g->size;
        index /= (size_t)g->size;
    }
}

static void grid_fill(const Work *w, Grid *g) {
    const Separable *p = w->p;
    Table table[SEPARABLE_GAINS] = {{0}};
    bool two = p->gains == 2 && !p->any_sign[0] && !p->any_sign[1];
    double *pairs = NULL;
    Sums s;
    grid_start(p, g);
    s = tables_fill(w, g, table);
    if (two) {
        pairs = mem_new(table[0].wide * table[1].count, sizeof *pairs);
        pairs_fill(p, s.yy, table, pairs);
    }
    for (size_t index = 0; index < g->count; index++) {
        size_t at[SEPARABLE_GAINS] = {0};
        Point x;
        grid_point(p, g, index, x.shape);
        g->rss[index] = INFINITY;
        if (!inside(p, x.shape))
            continue;
        table_places(p, g, index, at);
        if (two) {
            g->rss[index] = pairs[at[1] * table[0].wide + at[0]];
            continue;
        }
        tables_read(p, at, table, &s);
        solve_sums(p, &s, &x);
        g->rss[index] = x.rss;
    }
    for (int k = 0; k < p->gains; k++)
        free(table[k].column);
    free(pairs);
}

/* How many neighbours a point has along `shapes` axes, itself included. */
static int neighbours(int shapes) {
    int all = 1;
    for (int i = 0; i < shapes; i++)
        all *= 3;
    return all;
}

/* Is a neighbour along some axes from one on lower, or as low and before it?
 * `other` stands at it, `rest` is what its number has left for these axes. */
static bool lower_near(const Separable *p, const Grid *g, int axis,
                       size_t stride, size_t rest, size_t other, size_t index) {
    size_t size = (size_t)g->size, k = rest % size;
    if (axis == p->shapes)
        return g->rss[other] < g->rss[index] ||
               (g->rss[other] == g->rss[index] && other < index);
    rest /= size;
    for (int by = -1; by <= 1; by++)
        if ((by < 0 && k > 0) || by == 0 || (by > 0 && k + 1 < size))
            if (lower_near(p, g, axis + 1, stride * size, rest,
                           by < 0 ? other - stride
                                  : other + (size_t)by * stride,
                           index))
                return true;
    return false;
}

/* Is no neighbour, diagonal ones included, lower? Of a plain one point is. */
static bool is_valley(const Separable *p, const Grid *g, size_t index) {
    return isfinite(g->rss[index]) &&
           !lower_near(p, g, 0, 1, index, index, index);
}

/* The lowest valleys, best first. */
static size_t find_valleys(const Separable *p, const Grid *g, Point *valley) {
    size_t count = 0;
    for (size_t index = 0; index < g->count; index++) {
        Point point = {.rss = g->rss[index]};
        size_t k;
        if (!is_valley(p, g, index) ||
            (count == VALLEYS && point.rss >= valley[count - 1].rss))
            continue;
        grid_point(p, g, index, point.shape);
        if (count < VALLEYS)
            count++;
        for (k = count - 1; k > 0 && valley[k - 1].rss > point.rss; k--)
            valley[k] = valley[k - 1];
        valley[k] = point;
    }
    return count;
}

/* ---- down a valley ---- */

/* Does a shape stand at its bound below another? */
static bool tied(const Separable *p, const double *shape, int i) {
    return p->under[i] != i && bound_at(p, shape, i) == 1 &&
           upper(p, i, shape) < p->most[i];
}

/* Shapes at a bound below another go along with it. */
static void go_along(const Separable *p, const double *shape, double *by) {
    for (int i = 0; i < p->shapes; i++)
        if (tied(p, shape, i))
            by[i] += by[p->under[i]];
}

/* The points around one at a distance along all axes, itself in the middle. */
typedef struct {
    int all, middle, best;
    Point point[MANY];
    bool exact[MANY]; /* no bound came in its way */
} Around;

static void look_around(const Work *w, const double *step, const Point *x,
                        Around *a) {
    const Separable *p = w->p;
    a->all = neighbours(p->shapes);
    a->middle = a->best = a->all / 2;
    for (int n = 0; n < a->all; n++) {
        Point *next = &a->point[n];
        double by[SEPARABLE_SHAPES];
        int code = n;
        *next = *x;
        for (int i = 0; i < p->shapes; i++, code /= 3)
            by[i] = (code % 3 - 1) * step[i];
        go_along(p, x->shape, by);
        move(p, by, next->shape);
        a->exact[n] = true;
        for (int i = 0; i < p->shapes; i++)
            a->exact[n] =
                a->exact[n] && fabs(next->shape[i] - x->shape[i] * exp(by[i])) <
                                   1e-12 * x->shape[i];
    }
    solve_many(w, a->point, (size_t)a->all);
    a->point[a->middle] = *x;
    for (int n = 0; n < a->all; n++)
        if (a->point[n].rss < a->point[a->best].rss &&
            inside(p, a->point[n].shape))
            a->best = n;
}

static double rss_around(const Around *a, int offset, bool *exact) {
    *exact = *exact && a->exact[a->middle + offset];
    return a->point[a->middle + offset].rss;
}

/* The bottom of the quadratic through the points around, in steps from the
 * middle, along the axes on no bound; false where there is none. */
static bool bottom_of(const Separable *p, const Around *a, double *by) {
    static const int stride[SEPARABLE_SHAPES] = {1, 3, 9};
    const Point *x = &a->point[a->middle];
    double h[SEPARABLE_SHAPES][SEPARABLE_SHAPES], own[SEPARABLE_SHAPES];
    int axis[SEPARABLE_SHAPES], n = 0;
    bool exact = true;
    for (int i = 0; i < p->shapes; i++) {
        by[i] = 0;
        if (!bound_at(p, x->shape, i))
            axis[n++] = i;
    }
    for (int i = 0; i < n; i++) {
        int one = stride[axis[i]];
        double up = rss_around(a, one, &exact);
        double down = rss_around(a, -one, &exact);
        own[i] = (down - up) / 2;
        h[i][i] = up + down - 2 * x->rss;
        for (int k = 0; k < i; k++) {
            int two = stride[axis[k]];
            h[i][k] = (rss_around(a, one + two, &exact) +
                       rss_around(a, -one - two, &exact) -
                       rss_around(a, one - two, &exact) -
                       rss_around(a, two - one, &exact)) /
                      4;
        }
    }
    if (n == 0 || !exact || !cholesky_root(n, SEPARABLE_SHAPES, h, 0, 0))
        return false;
    cholesky_solve(n, SEPARABLE_SHAPES, h, own);
    for (int i = 0; i < n; i++)
        by[axis[i]] = own[i];
    return true;
}

/* Goes to the bottom of the quadratic if it is no more than a step or two away
 * and lower than all points around; the next look is closer then. */
static bool jump(const Work *w, double *step, const Around *a, Point *x) {
    double by[SEPARABLE_SHAPES], farthest = 0;
    Point next = *x;
    if (!bottom_of(w->p, a, by))
        return false;
    for (int i = 0; i < w->p->shapes; i++) {
        farthest = fmax(farthest, fabs(by[i]));
        by[i] *= step[i];
    }
    if (!(farthest <= 2))
        return false;
    go_along(w->p, x->shape, by);
    move(w->p, by, next.shape);
    if (!inside(w->p, next.shape))
        return false;
    solve_at(w, false, &next);
    if (!(next.rss < a->point[a->best].rss))
        return false;
    *x = next;
    for (int i = 0; i < w->p->shapes && farthest <= 1; i++)
        step[i] /= 8;
    return true;
}

/* Looks around at a distance; moves to where it is lower, or looks closer. */
static void go_down(const Work *w, const double *first, double last, Point *x) {
    double step[SEPARABLE_SHAPES];
    memcpy(step, first, sizeof step);
    for (int moves = 0; step[0] > last && moves < 2000;) {
        Around a;
        look_around(w, step, x, &a);
        if (jump(w, step, &a, x))
            moves++;
        else if (a.best != a.middle) {
            *x = a.point[a.best];
            moves++;
        } else
            for (int i = 0; i < w->p->shapes; i++)
                step[i] /= 2;
    }
}

/* ---- all parameters ---- */

/* Columns with slopes, and what a point leaves: its residual sum, term by
 * term. */
static void read_at(const Work *w, Point *x) {
    const Separable *p = w->p;
    columns_for(w, x->shape, true);
    x->rss = 0;
    for (size_t i = 0; i < p->rows; i++) {
        double left = p->value[i] - x->level;
        for (int k = 0; k < p->gains; k++)
            left -= x->gain[k] * w->column[k][i];
        w->left[i] = left;
        x->rss += p->weight[i] * left * left;
    }
}

/* The free ones in a row: 0 the level, 1 + k a gain, 1 + gains + i a shape. */
typedef struct {
    int count;
    int which[SEPARABLE_ALL];
} Free;

static int shape_of(const Separable *p, int which) {
    return which - 1 - p->gains;
}

static double column_at(const Work *w, const Point *x, int which, size_t row) {
    int i = shape_of(w->p, which);
    if (which == 0)
        return 1;
    if (i < 0)
        return w->column[which - 1][row];
    return x->gain[w->p->belongs[i]] * w->slope[i][row];
}

/* Would the residual sum fall if a shape on a bound came away from it? */
static bool pulled_in(const Work *w, const Point *x, int i, int bound) {
    double pull = 0;
    for (size_t row = 0; row < w->p->rows; row++)
        pull += w->p->weight[row] * w->left[row] *
                column_at(w, x, 1 + w->p->gains + i, row);
    return bound * pull < 0;
}

/* A gain of 0 is not moved, and leaves its shapes undetermined. `leave`: may
 * shapes leave their bounds? */
static Free free_of(const Work *w, const Point *x, bool leave) {
    const Separable *p = w->p;
    Free f = {.count = 0};
    if (p->level)
        f.which[f.count++] = 0;
    for (int k = 0; k < p->gains; k++)
        if (x->gain[k] != 0)
            f.which[f.count++] = 1 + k;
    for (int i = 0; i < p->shapes; i++) {
        int bound = bound_at(p, x->shape, i);
        if (x->gain[p->belongs[i]] != 0 &&
            (!bound || (leave && pulled_in(w, x, i, bound))))
            f.which[f.count++] = 1 + p->gains + i;
    }
    return f;
}

/* One damped linear system, shapes damped alone. */
typedef struct {
    gsl_matrix *a;
    gsl_vector *b, *tau, *solution, *left;
} System;

static void system_start(size_t rows, size_t n, System *s) {
    s->a = gsl_matrix_calloc(rows + n, n);
    s->b = gsl_vector_calloc(rows + n);
    s->tau = gsl_vector_alloc(n);
    s->solution = gsl_vector_alloc(n);
    s->left = gsl_vector_alloc(rows + n);
    if (!s->a || !s->b || !s->tau || !s->solution || !s->left)
        mem_out();
}

static void system_free(System *s) {
    gsl_matrix_free(s->a);
    gsl_vector_free(s->b);
    gsl_vector_free(s->tau);
    gsl_vector_free(s->solution);
    gsl_vector_free(s->left);
}

static void system_fill(const Work *w, const Point *x, const Free *f,
                        double damping, System *s) {
    size_t rows = w->p->rows;
    for (size_t i = 0; i < rows; i++)
        gsl_vector_set(s->b, i, sqrt(w->p->weight[i]) * w->left[i]);
    for (size_t k = 0; k < (size_t)f->count; k++) {
        double size = 0;
        for (size_t i = 0; i < rows; i++) {
            double value =
                sqrt(w->p->weight[i]) * column_at(w, x, f->which[k], i);
            gsl_matrix_set(s->a, i, k, value);
            size += value * value;
        }
        if (f->which[k] > w->p->gains)
            gsl_matrix_set(s->a, rows + k, k, sqrt(damping * size) + 1e-300);
    }
}

/* Steps of all parameters; false when the matrix is of no use. */
static bool damped_step(const Work *w, const Point *x, const Free *f,
                        double damping, double step[SEPARABLE_ALL]) {
    System s;
    bool good;
    memset(step, 0, SEPARABLE_ALL * sizeof *step);
    system_start(w->p->rows, (size_t)f->count, &s);
    system_fill(w, x, f, damping, &s);
    good = gsl_linalg_QR_decomp(s.a, s.tau) == 0 &&
           gsl_linalg_QR_lssolve(s.a, s.tau, s.b, s.solution, s.left) == 0;
    for (int k = 0; k < f->count; k++) {
        step[f->which[k]] = gsl_vector_get(s.solution, (size_t)k);
        good = good && isfinite(step[f->which[k]]);
    }
    system_free(&s);
    return good;
}

/* Moves shapes and gains by a share of a step; false if that leaves the
 * bounds. */
static bool take(const Separable *p, const double *step, double share,
                 Point *x) {
    x->level += share * step[0];
    for (int k = 0; k < p->gains; k++)
        x->gain[k] += share * step[1 + k];
    for (int i = 0; i < p->shapes; i++)
        x->shape[i] *= exp(fmax(-1, fmin(1, share * step[1 + p->gains + i])));
    return allowed(p, x->gain) && inside(p, x->shape);
}

/* Largest step, each as a share of its parameter. */
static double largest(const Separable *p, const double *step, const Point *x) {
    double most = fabs(step[0]) / fmax(fabs(x->level), 1e-300);
    for (int k = 0; k < p->gains; k++)
        most = fmax(most, fabs(step[1 + k]) / fmax(fabs(x->gain[k]), 1e-300));
    for (int i = 0; i < p->shapes; i++)
        most = fmax(most, fabs(step[1 + p->gains + i]));
    return most;
}

/* The gains at new shapes solve normal equations, which lose digits where
 * columns are nearly alike; one step in the linear parameters alone mends
 * that. */
static void refine(const Work *w, Point *x) {
    Free f = {.count = 0}, all;
    double step[SEPARABLE_ALL];
    Point next = *x;
    read_at(w, x);
    all = free_of(w, x, false);
    for (int k = 0; k < all.count; k++)
        if (all.which[k] <= w->p->gains)
            f.which[f.count++] = all.which[k];
    if (f.count == 0 || !damped_step(w, x, &f, 0, step) ||
        !take(w->p, step, 1, &next))
        return;
    read_at(w, &next);
    if (next.rss < x->rss)
        *x = next;
    else
        read_at(w, x);
}

/* Where a damped step leads: as the linear system says or, if that is lower,
 * with the gains solved anew at the shapes it leads to. */
static bool try_step(const Work *w, const double *step, Point *x) {
    Point solved = *x, joint = *x;
    bool allowed_joint = take(w->p, step, 1, &joint);
    double by[SEPARABLE_SHAPES];
    for (int i = 0; i < w->p->shapes; i++)
        by[i] = fmax(-1, fmin(1, step[1 + w->p->gains + i]));
    move(w->p, by, solved.shape);
    if (!inside(w->p, solved.shape))
        return false;
    solve_at(w, true, &solved);
    refine(w, &solved);
    if (allowed_joint) {
        read_at(w, &joint);
        if (joint.rss < solved.rss)
            solved = joint;
    }
    *x = solved;
    return true;
}

/* Ends when a step moves no parameter by more than 1e-13 of itself, or when
 * nothing gets better. */
static void polish(const Work *w, Point *x) {
    double damping = 1e-4, step[SEPARABLE_ALL];
    refine(w, x);
    for (int round = 0; round < 300 && damping < 1e12; round++) {
        Point next = *x;
        Free f;
        double size;
        bool fits;
        read_at(w, x);
        f = free_of(w, x, true);
        if (f.count == 0)
            return;
        fits = damped_step(w, x, &f, damping, step);
        size = fits ? largest(w->p, step, x) : INFINITY;
        if (fits && try_step(w, step, &next) && next.rss < x->rss) {
            *x = next;
            damping = fmax(damping / 10, 1e-16);
            if (size < 1e-13)
                break;
            continue;
        }
        if (size < 1e-11)
            break;
        damping *= 10;
    }
}

/* Takes a Gauss-Newton step, or a part of it, if it does not lead away. */
static bool undamped(const Work *w, const double *step, Point *x) {
    double share = 1;
    for (int halving = 0; halving < 8; halving++, share /= 4) {
        Point next = *x;
        if (!take(w->p, step, share, &next))
            continue;
        read_at(w, &next);
        /* near the bottom residual sums no longer differ */
        if (next.rss <= x->rss * (1 + 1e-13) + 1e-300) {
            *x = next;
            return true;
        }
    }
    return false;
}

/* The last digits: plain Gauss-Newton steps as long as they do not lead away.
 */
static void finish(const Work *w, Point *x) {
    double step[SEPARABLE_ALL];
    for (int round = 0; round < 60; round++) {
        Free f;
        read_at(w, x);
        f = free_of(w, x, false);
        if (f.count == 0 || !damped_step(w, x, &f, 0, step) ||
            !undamped(w, step, x) || largest(w->p, step, x) < 1e-13)
            break;
    }
    read_at(w, x);
}

/* ---- what is known of the estimates ---- */

/* The Jacobian in natural units, columns scaled to length 1. */
static gsl_matrix *jacobian(const Work *w, const Point *x, const Free *f,
                            double *length) {
    gsl_matrix *a = gsl_matrix_alloc(w->p->rows, (size_t)f->count);
    if (!a)
        mem_out();
    for (int k = 0; k < f->count; k++) {
        int i = shape_of(w->p, f->which[k]);
        double scale = i < 0 ? 1 : 1 / x->shape[i], sum = 0;
        for (size_t row = 0; row < w->p->rows; row++) {
            double value = sqrt(w->p->weight[row]) * scale *
                           column_at(w, x, f->which[k], row);
            gsl_matrix_set(a, row, (size_t)k, value);
            sum += value * value;
        }
        length[k] = fmax(sqrt(sum), 1e-300);
        for (size_t row = 0; row < w->p->rows; row++)
            *gsl_matrix_ptr(a, row, (size_t)k) /= length[k];
    }
    return a;
}

/* (J'J)^-1 from the singular values of J. */
static void set_covariance(const gsl_matrix *v, const gsl_vector *s,
                           const Free *f, const double *length,
                           SeparableFit *fit) {
    for (size_t i = 0; i < v->size1; i++)
        for (size_t k = 0; k < v->size1; k++) {
            double sum = 0;
            for (size_t m = 0; m < v->size1; m++)
                sum += gsl_matrix_get(v, i, m) * gsl_matrix_get(v, k, m) /
                       pow(gsl_vector_get(s, m), 2);
            fit->covariance[f->which[i]][f->which[k]] =
                sum / (length[i] * length[k]);
        }
}

static void set_errors(const Work *w, const Point *x, SeparableFit *fit) {
    Free f = free_of(w, x, false);
    double length[SEPARABLE_ALL];
    size_t n = (size_t)f.count;
    gsl_matrix *a, *v;
    gsl_vector *s, *work;
    if (n == 0 || w->p->rows < n)
        return;
    a = jacobian(w, x, &f, length);
    v = gsl_matrix_alloc(n, n);
    s = gsl_vector_alloc(n);
    work = gsl_vector_alloc(n);
    if (!v || !s || !work)
        mem_out();
    fit->condition = INFINITY;
    if (gsl_linalg_SV_decomp(a, v, s, work) == 0)
        fit->condition = gsl_vector_get(s, 0) / gsl_vector_get(s, n - 1);
    if (fit->condition < 1e12)
        set_covariance(v, s, &f, length, fit);
    gsl_matrix_free(a);
    gsl_matrix_free(v);
    gsl_vector_free(s);
    gsl_vector_free(work);
}

/* ---- the fit ---- */

static void set_fit(const Separable *p, const Point *x, SeparableFit *fit) {
    *fit = (SeparableFit){.level = x->level, .rss = x->rss, .condition = NAN};
    memcpy(fit->gain, x->gain, sizeof fit->gain);
    memcpy(fit->shape, x->shape, sizeof fit->shape);
    for (int i = 0; i < SEPARABLE_ALL; i++)
        for (int k = 0; k < SEPARABLE_ALL; k++)
            fit->covariance[i][k] = NAN;
    for (int k = 0; k < p->gains; k++)
        fit->on_bound[1 + k] = !p->any_sign[k] && x->gain[k] <= 0;
    for (int i = 0; i < p->shapes; i++)
        fit->on_bound[1 + p->gains + i] = bound_at(p, x->shape, i) != 0;
}

static void descend(const Work *w, const double *step, Point *x) {
    go_down(w, step, 1e-4, x);
    for (int i = 0; i < w->p->shapes; i++)
        if (tied(w->p, x->shape, i)) { /* nothing else goes along there */
            double close[SEPARABLE_SHAPES];
            for (int k = 0; k < w->p->shapes; k++)
                close[k] = 1e-4;
            go_down(w, close, 1e-7, x);
            break;
        }
    solve_at(w, true, x);
    polish(w, x);
}

/* Goes down a valley a little; is it deep enough then to be of any use? */
static bool promising(const Work *w, const Grid *g, const Point *best,
                      Point *x) {
    double from = x->rss;
    go_down(w, g->step, g->step[0] / 10, x);
    return x->rss - 10 * (from - x->rss) < best->rss;
}

/* Two shapes that nearly agree can change places: a second valley lies beyond
 * their diagonal, nearer than the grid tells apart. */
static void exchange(const Work *w, const Grid *g, Point *best) {
    const Point from = *best;
    for (int i = 0; i < w->p->shapes; i++)
        for (int k = i + 1; k < w->p->shapes; k++) {
            double apart = fabs(log(from.shape[i] / from.shape[k]));
            double step[SEPARABLE_SHAPES];
            Point x = from;
            x.shape[i] = from.shape[k];
            x.shape[k] = from.shape[i];
            if (apart > 2 * g->step[k] || !inside(w->p, x.shape))
                continue;
            for (int m = 0; m < w->p->shapes; m++)
                step[m] = fmax(apart / 2, 1e-3);
            solve_at(w, false, &x);
            descend(w, step, &x);
            if (x.rss < best->rss)
                *best = x;
        }
}

static Point search(const Work *w) {
    Point valley[VALLEYS], best = {.rss = INFINITY};
    Grid grid;
    size_t count;
    grid_fill(w, &grid);
    count = find_valleys(w->p, &grid, valley);
    for (size_t i = 0; i < count; i++) {
        if (i > 0 && !promising(w, &grid, &best, &valley[i]))
            continue;
        descend(w, grid.step, &valley[i]);
        exchange(w, &grid, &valley[i]);
        if (valley[i].rss < best.rss)
            best = valley[i];
    }
    grid_free(w->p, &grid);
    return best;
}

void separable_run(const Separable *p, bool errors, SeparableFit *fit) {
    Work w;
    Point best;
    work_start(&w, p);
    best = search(&w);
    finish(&w, &best);
    set_fit(p, &best, fit);
    if (errors)
        set_errors(&w, &best, fit);
    work_free(&w);
}
