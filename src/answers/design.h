/* design: what an experiment on virtual athletes crosses: a CSV file
 * `factor,values`, the values separated by `;`.
 *
 * Factors:
 *   model       a name or file with spreads: the truth is drawn from them
 *   assumed     the model that claims a gain; `literature` is also what the
 *               tests are read by
 *   taper       as taper/option.h; `recommended` to the squad together, or
 *               `individual`, to each alone
 *   load        per week, the same each day, or seven numbers for the days, the
 *               seventh the day before the event
 *   weeks       1 to 104; all but the last four are logged
 *   tests       of each athlete, 0 to 400, or a range like 6-10
 *   noise       of a test [SD of what training moves], 0 to 20
 *   error_time  correlation time of that noise [d], 0 to 365
 *   drift       trend of the tests' level [SD of what training moves a season
 *               of 182 d], SD between athletes, 0 to 20
 *   adherence   per cent of a taper's days done as told
 *   squad       athletes a squad, 1 to 1000; a squad's athletes share a centre
 *   outliers    per cent of the tests whose noise is three times as large
 *   log         `steady`, each week the same, or `blocks` (virtual.h)
 *   overload    per cent more load in the last four logged weeks, 0 to 200
 *
 * A factor left out has its default.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_DESIGN_H
#define ANSWERS_DESIGN_H

#include "response/model.h"
#include "taper/option.h"

typedef enum {
    FACTOR_MODEL,
    FACTOR_ASSUMED,
    FACTOR_TAPER,
    FACTOR_LOAD,
    FACTOR_WEEKS,
    FACTOR_TESTS,
    FACTOR_NOISE,
    FACTOR_ERROR_TIME,
    FACTOR_DRIFT,
    FACTOR_ADHERENCE,
    FACTOR_OUTLIERS,
    FACTOR_LOG,
    FACTOR_OVERLOAD,
    FACTOR_SQUAD,
    FACTORS
} Factor;

/* "model", ...; ends with NULL. */
extern const char *const design_factors[];

/* Who decides a taper. */
typedef enum { ADVICE_NONE, ADVICE_SQUAD, ADVICE_ALONE } DesignAdvice;

/* One value of a factor; what it means is in the member of its factor. */
typedef struct {
    char *text;
    Model model;         /* of model and assumed */
    Option option;       /* of taper; where it is advised, without tests */
    DesignAdvice advice; /* of taper */
    double day[7];       /* [load] of load */
    double number; /* of all others; of tests the least, of log 1: blocks */
    double most;   /* of tests */
} DesignValue;

typedef struct {
    DesignValue *value[FACTORS];
    size_t count[FACTORS], room[FACTORS];
} Design;

/* Reads a design, NULL: all defaults. Faults are among the notes; the design is
 * freed either way. */
void design_read(Design *design, const char *path, Notes *notes);
/* Warns where every week is alike and tests are to tell of it, and where a load
 * is far from the scale of a variable-dose model, whose k3 hangs on the unit of
 * load: fatigue's gain at the mean load is then under a tenth or over twenty
 * times that of fitness (limits of our own). */
void design_judge(const Design *design, Notes *notes);
void design_free(Design *design);

/* Combinations of all values; SIZE_MAX when there are more than can be
 * counted. The taper changes fastest, so that those of the same conditions
 * otherwise stand together. */
size_t design_combinations(const Design *design);
/* Are the taper and the claims of a combination the program's own, from tests
 * or from a model that was asked for? Else the claim is the model's alone, and
 * what is advised is its option. */
bool design_advised(const DesignValue *const at[FACTORS]);
/* The values of one combination, from 0. */
void design_at(const Design *design, size_t combination,
               const DesignValue *at[FACTORS]);

#endif
