/* model: a model file, CSV `parameter,value,spread,unit,source`.
 *
 * The first row's parameter is `kind`. A row `draws` names a file beside it
 * with equally likely parameter sets, as `peakward fit` writes it; the unit
 * "lower is better" on that row says that the test was negated. Times are in
 * days. `spread` is the standard deviation of the natural logarithm, a prior;
 * blank for none. That of `growth` is half the width of a range about its
 * value, in which all values from 0 to 1 are as likely.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef RESPONSE_MODEL_H
#define RESPONSE_MODEL_H

#include "base/status.h"
#include "response/params.h"

typedef struct {
    char *name;   /* of a preset, or the path */
    char *source; /* of the whole set, with its status */
    ResponseParams params;
    double spread[PARAMS]; /* SD of ln(value); NAN: none */
    char *unit;            /* of readiness; "" when the file says none */
    char *draws;           /* path of a file of draws beside it; NULL: none */
    bool lower;  /* lower readings of its test are better, so that the model
                    is of their negatives */
    bool scaled; /* readiness is in the unit of a test, so that its
                    percentages mean something */
} Model;

/* Reads a model file. False after noting what is wrong; the model is freed
 * either way. */
bool model_read(const char *path, Model *model, Notes *notes);

/* A model by name (`literature` is models/literature.csv) or by file (a name
 * with a slash or the ending .csv). `folder` holds the models by name. */
bool model_find(const char *name, const char *folder, Model *model,
                Notes *notes);

void model_free(Model *model);

/* Does any parameter have a spread? */
bool model_uncertain(const Model *model);

/* Names of the models in a folder, sorted; ends with NULL. Freed with
 * model_names_free(). NULL when the folder cannot be read. */
char **model_names(const char *folder);
void model_names_free(char **names);

#endif
