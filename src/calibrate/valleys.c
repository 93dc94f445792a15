/* valleys: see valleys.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/valleys.h"

#include "base/mem.h"
#include "calibrate/lanes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SIZE_MOST = 300 };

/* The residual sums at all points of a grid. */
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

static void table_take(const Reduced *w, const ReducedSums *s, int gain,
                       size_t index, Table *t) {
    for (size_t i = 0; i < w->p->rows; i++)
        t->column[i * t->wide + index] =
            sqrt(w->p->weight[i]) * (w->column[gain][i] - s->x[gain]);
    t->square[index] = s->xx[gain][gain];
    t->xy[index] = s->xy[gain];
}

static ReducedSums tables_fill(const Reduced *w, const Grid *g, Table *table) {
    const Separable *p = w->p;
    ReducedSums s = {0};
    size_t most = 0;
    for (int k = 0; k < p->gains; k++) {
        table_start(p, g, k, &table[k]);
        most = table[k].count > most ? table[k].count : most;
    }
    for (size_t from = 0; from < most; from += REDUCED_MANY) {
        size_t count = most - from < REDUCED_MANY ? most - from : REDUCED_MANY;
        ReducedPoint x[REDUCED_MANY] = {0};
        for (size_t n = 0; n < count; n++)
            table_point(p, g, from + n, x[n].shape);
        reduced_columns_many(w, x, count);
        for (size_t n = 0; n < count; n++) {
            Reduced one = reduced_one(w, n);
            s = reduced_sums(&one);
            for (int k = 0; k < p->gains; k++)
                if (from + n < table[k].count)
                    table_take(&one, &s, k, from + n, &table[k]);
        }
    }
    return s;
}

/* ReducedSums of products at a point of the grid, from the tables. */
static void tables_read(const Separable *p, const size_t *at,
                        const Table *table, ReducedSums *s) {
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
 * least of both gains, either and none, as reduced_solve_sums() has it. */
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

static void grid_fill(const Reduced *w, Grid *g) {
    const Separable *p = w->p;
    Table table[SEPARABLE_GAINS] = {{0}};
    bool two = p->gains == 2 && !p->any_sign[0] && !p->any_sign[1];
    double *pairs = NULL;
    ReducedSums s;
    grid_start(p, g);
    s = tables_fill(w, g, table);
    if (two) {
        pairs = mem_new(table[0].wide * table[1].count, sizeof *pairs);
        pairs_fill(p, s.yy, table, pairs);
    }
    for (size_t index = 0; index < g->count; index++) {
        size_t at[SEPARABLE_GAINS] = {0};
        ReducedPoint x;
        grid_point(p, g, index, x.shape);
        g->rss[index] = INFINITY;
        if (!reduced_inside(p, x.shape))
            continue;
        table_places(p, g, index, at);
        if (two) {
            g->rss[index] = pairs[at[1] * table[0].wide + at[0]];
            continue;
        }
        tables_read(p, at, table, &s);
        reduced_solve_sums(p, &s, &x);
        g->rss[index] = x.rss;
    }
    for (int k = 0; k < p->gains; k++)
        free(table[k].column);
    free(pairs);
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

static size_t find_valleys(const Separable *p, const Grid *g,
                           ReducedPoint *valley) {
    size_t count = 0;
    for (size_t index = 0; index < g->count; index++) {
        ReducedPoint point = {.rss = g->rss[index]};
        size_t k;
        if (!is_valley(p, g, index) ||
            (count == VALLEYS_MOST && point.rss >= valley[count - 1].rss))
            continue;
        grid_point(p, g, index, point.shape);
        if (count < VALLEYS_MOST)
            count++;
        for (k = count - 1; k > 0 && valley[k - 1].rss > point.rss; k--)
            valley[k] = valley[k - 1];
        valley[k] = point;
    }
    return count;
}

size_t valleys_find(const Reduced *w, double *step, ReducedPoint *valley) {
    Grid grid;
    size_t count;
    grid_fill(w, &grid);
    count = find_valleys(w->p, &grid, valley);
    memcpy(step, grid.step, sizeof grid.step);
    grid_free(w->p, &grid);
    return count;
}
