/* draws: see draws.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/draws.h"

#include "base/mem.h"
#include "base/number.h"
#include "base/table.h"
#include "base/text.h"
#include "calibrate/points.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

static const double apart = 1.3; /* least tau1/tau2 of a draw */

static double between(double low, double high, double share) {
    return low + (high - low) * share;
}

static ResponseParams draw(const Model *model, const double *point) {
    ResponseParams p = model->params;
    int next = 0;
    for (int i = 0; i < PARAMS; i++) {
        double spread = model->spread[i];
        double share;
        if (!(spread > 0))
            continue;
        share = point[next++];
        if (i == PARAM_GROWTH)
            p.value[i] = between(fmax(0, p.value[i] - spread),
                                 fmin(1, p.value[i] + spread), share);
        else
            p.value[i] *= exp(spread * gsl_cdf_ugaussian_Pinv(share));
    }
    return p;
}

static bool stays_apart(const ResponseParams *p) {
    return !response_has(p->kind, PARAM_TAU2) ||
           p->value[PARAM_TAU1] > apart * p->value[PARAM_TAU2];
}

static unsigned count_spreads(const Model *model) {
    unsigned found = 0;
    for (int i = 0; i < PARAMS; i++)
        found += model->spread[i] > 0;
    return found;
}

StatusCode draws_from_spreads(const Model *model, size_t count,
                              unsigned long seed, Draws *draws,
                              Status *status) {
    unsigned dimensions = count_spreads(model);
    double point[PARAMS];
    gsl_rng *rng;
    Points points;
    size_t tried = 0;
    *draws = (Draws){0};
    if (dimensions == 0)
        return STATUS_OK;
    rng = points_rng(seed);
    points = points_new(dimensions, rng);
    gsl_rng_free(rng);
    draws->set = mem_new(count, sizeof *draws->set);
    while (draws->count < count && tried++ < 20 * count) {
        ResponseParams p;
        points_next(&points, point);
        p = draw(model, point);
        if (stays_apart(&p))
            draws->set[draws->count++] = p;
    }
    points_free(&points);
    if (draws->count == count)
        return STATUS_OK;
    draws_free(draws);
    return status_fail(status, STATUS_DATA,
                       "%s: its spreads leave almost no draw with tau1 above "
                       "%.1f tau2, expected time constants further apart",
                       model->name, apart);
}

/* What is wrong with a value, as what was expected; NULL: nothing. */
static const char *wrong_with(Param param, double value) {
    bool gain = param == PARAM_K1 || param == PARAM_K2 || param == PARAM_K3;
    if (param == PARAM_P0)
        return NULL;
    if (gain)
        return value < 0 ? "a gain of 0 or more" : NULL;
    if (param == PARAM_RATIO)
        return value < 0 ? "a ratio of 0 or more" : NULL;
    if (param == PARAM_GROWTH)
        return value < 0 || value > 1 ? "a share from 0 to 1" : NULL;
    return value <= 0 ? "a time constant above 0" : NULL;
}

/* One row; false after noting a cell that cannot be. */
static bool read_draw(Table *table, const TableRow *row, const int *column,
                      ResponseParams *p, Notes *notes) {
    for (int i = 0; i < PARAMS; i++) {
        const char *wanted = NULL;
        char shown[TEXT_EXCERPT];
        Place place = {table_name(table), row->line, param_names[i]};
        p->value[i] = NAN;
        if (!response_has(p->kind, (Param)i))
            continue;
        if (number_read(row->cells[column[i]], table_style(table), &p->value[i],
                        &wanted))
            wanted = wrong_with((Param)i, p->value[i]);
        if (!wanted)
            continue;
        notes_add(notes, LEVEL_ERROR, place, "%s, expected %s",
                  text_excerpt(shown, row->cells[column[i]]), wanted);
        return false;
    }
    return true;
}

bool draws_read(const char *path, ResponseKind kind, Draws *draws,
                Notes *notes) {
    Table *table = table_open(path, NULL, notes);
    size_t errors = notes->errors, room = 0;
    int column[PARAMS];
    TableRow row;
    *draws = (Draws){0};
    if (!table)
        return false;
    for (int i = 0; i < PARAMS; i++) {
        Place place = {path, 1, param_names[i]};
        column[i] = table_column(table, param_names[i]);
        if (column[i] < 0 && response_has(kind, (Param)i))
            notes_add(notes, LEVEL_ERROR, place,
                      "this column is missing, expected a file of draws as "
                      "'peakward fit --out' writes it");
    }
    while (notes->errors == errors && table_next(table, &row)) {
        draws->set =
            mem_grow(draws->set, &room, draws->count + 1, sizeof *draws->set);
        draws->set[draws->count].kind = kind;
        if (!read_draw(table, &row, column, &draws->set[draws->count], notes))
            continue;
        draws->count++;
    }
    if (notes->errors == errors && draws->count == 0) {
        Place place = {path, 0, NULL};
        notes_add(notes, LEVEL_ERROR, place,
                  "has no rows, expected draws as 'peakward fit --out' writes "
                  "them");
    }
    table_close(table);
    if (notes->errors > errors)
        draws_free(draws);
    return notes->errors == errors;
}

void draws_settle(Draws *draws, double mean_load) {
    for (size_t i = 0; i < draws->count; i++)
        response_settle(&draws->set[i], mean_load);
}

void draws_free(Draws *draws) {
    free(draws->set);
    *draws = (Draws){0};
}

/* Brings the values below the pivot, or with `equal` those not above it, to the
 * front; where they end. No branch hangs on a value. */
static size_t part(double *values, size_t count, double pivot, bool equal) {
    size_t end = 0;
    for (size_t i = 0; i < count; i++) {
        double value = values[i];
        values[i] = values[end];
        values[end] = value;
        end += equal ? !(value > pivot) : value < pivot;
    }
    return end;
}

/* Puts the k-th smallest at values[k], nothing larger before it and nothing
 * smaller behind (Hoare 1961, Commun ACM 4:321-322, FIND; from memory). */
static void select_kth(double *values, size_t count, size_t k) {
    while (count > 1) {
        double pivot = values[count / 2];
        size_t end = part(values, count, pivot, false);
        if (k >= end) {
            end += part(values + end, count - end, pivot, true);
            if (k < end) /* it is the pivot */
                return;
            values += end;
            count -= end;
            k -= end;
        } else {
            count = end;
        }
    }
}

double draws_quantile(double *values, size_t count, double p) {
    double place = p * (double)(count - 1), next;
    size_t k = (size_t)place;
    if (count == 0)
        return NAN;
    select_kth(values, count, k);
    if (k + 1 >= count)
        return values[k];
    next = values[k + 1];
    for (size_t i = k + 2; i < count; i++)
        next = values[i] < next ? values[i] : next;
    return values[k] + (place - (double)k) * (next - values[k]);
}
