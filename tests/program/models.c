/* models: models by name and file.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

static void models(void) {
    static const Row rows[] = {
        {"models --csv", NULL, NULL, 0, NULL,
         "model,kind,p0,k1,k2,tau1,tau2,tau_rise,k3,tau3,half_life_fitness,"
         "half_life_fatigue,t_n,t_g,source,ratio,growth\n"},
        {"models --model nothing-like-it", NULL, NULL, 1,
         "--model: 'nothing-like-it', expected a model file or one of the "
         "names that 'peakward models' lists",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,three-component\n", 1,
         "own.csv:2: value: 'three-component', expected two-component or "
         "one-component or delayed or variable-dose",
         NULL},
        {"taper @ --model @/own.csv", NULL, "own.csv|parameter,value\np0,3\n",
         1,
         "own.csv:2: parameter: 'p0', expected the first row to say the kind",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\np0,3\nk1,1\n", 1,
         "own.csv: the parameter 'tau1' is missing, expected one row for it",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\nspeed,3\n", 1,
         "parameter: 'speed', expected kind, p0, k1, k2", NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\ntau2,3\n", 1,
         "parameter: 'tau2', expected only parameters of this kind of model",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,two-component\np0,1\nk1,1\nk2,2\n"
         "tau1,12.5\ntau2,15\n",
         1,
         "tau1 '12.5' is not above tau2 '15', expected fitness to fade more "
         "slowly than fatigue",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\nk1,-1\n", 1,
         "own.csv:3: value: '-1', expected a number from 0 to 1e+09", NULL},
        {"taper @ --model @/own.csv", NULL, "own.csv|name,value\np0,1\n", 1,
         "own.csv:1: parameter: this column is missing, expected a model file",
         NULL},
        {"taper @ --model @/own.csv", NULL, "own.csv|parameter,value\n", 1,
         "own.csv: has no rows, expected a first row 'kind'", NULL},
        {"taper @ --model @/none.csv", NULL, NULL, 3,
         "none.csv: cannot be opened: No such file or directory", NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static const TestCase cases[] = {{"models", models}, {NULL, NULL}};

const TestSuite suite_program_models = {"program", cases};
