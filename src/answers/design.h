/* design: what an experiment on virtual athletes crosses: a CSV file
 * `factor,values`, the values separated by `;`.
 *
 * Factors: model (a name or file with spreads: the truth is drawn from them),
 * assumed (the model that claims a gain), taper (as taper/option.h, or
 * `recommended`), load (per week, the same each day, or seven numbers for the
 * days, the seventh the day before the event), weeks (1 to 104), adherence
 * (per cent of a taper's days done as told), squad (athletes a squad, 1 to
 * 1000; a squad's athletes share a centre). A factor left out has its default.
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
    FACTOR_ADHERENCE,
    FACTOR_SQUAD,
    FACTORS
} Factor;

/* "model", ...; ends with NULL. */
extern const char *const design_factors[];

/* One value of a factor; what it means is in the member of its factor. */
typedef struct {
    char *text;
    Model model;   /* of model and assumed */
    Option option; /* of taper */
    double day[7]; /* [load] of load */
    double number; /* of weeks, adherence, squad */
} DesignValue;

typedef struct {
    DesignValue *value[FACTORS];
    size_t count[FACTORS], room[FACTORS];
} Design;

/* Reads a design, NULL: all defaults. Faults are among the notes; the design is
 * freed either way. */
void design_read(Design *design, const char *path, Notes *notes);
/* Warns where a load is far from the scale of a variable-dose model, whose k3
 * hangs on the unit of load: fatigue's gain at the mean load is then under a
 * tenth or over twenty times that of fitness (limits of our own). */
void design_judge(const Design *design, Notes *notes);
void design_free(Design *design);

/* Combinations of all values; SIZE_MAX when there are more than can be
 * counted. The taper changes fastest. */
size_t design_combinations(const Design *design);
/* The values of one combination, from 0. */
void design_at(const Design *design, size_t combination,
               const DesignValue *at[FACTORS]);

#endif
