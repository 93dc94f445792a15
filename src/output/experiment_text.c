/* experiment_text: see experiment_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/experiment_text.h"

#include "answers/trial.h"

#include <math.h>

void experiment_text_header(const Output *output) {
    output_header(
        output, "run,athlete,squad,model,assumed,taper,load,weeks,adherence,"
                "tau1,tau2,tau3,ratio,growth,option,true_gain,claimed_gain,"
                "claimed_low,claimed_high,attainable,harm,status,seed,version,"
                "redrawn,moved,squad_size");
}

static double ratio_of(const ResponseParams *p) {
    return response_has(p->kind, PARAM_RATIO)
               ? p->value[PARAM_RATIO]
               : p->value[PARAM_K2] / p->value[PARAM_K1];
}

static void put_truth(Csv *csv, const ResponseParams *p) {
    csv_number(csv, p->value[PARAM_TAU1]);
    csv_number(csv, p->value[PARAM_TAU2]);
    csv_number(csv, p->value[PARAM_TAU3]);
    csv_number(csv, ratio_of(p));
    csv_number(csv, p->value[PARAM_GROWTH]);
}

void experiment_text_row(void *with, const ExperimentRun *run,
                         const ExperimentSum *sum) {
    const ExperimentRows *rows = with;
    const DesignValue *at[FACTORS];
    Text spec = {0};
    Csv csv;
    design_at(rows->task->design, run->combination, at);
    option_write(&at[FACTOR_TAPER]->option, &spec);
    csv_begin(&csv, rows->output->to);
    csv_whole(&csv, (long)run->run);
    csv_whole(&csv, (long)run->athlete);
    csv_whole(&csv, (long)run->squad);
    for (int f = 0; f < FACTORS; f++)
        if (f != FACTOR_SQUAD)
            csv_text(&csv, at[f]->text);
    put_truth(&csv, &run->truth);
    csv_text(&csv, text_of(&spec));
    csv_number(&csv, run->gain);
    csv_number(&csv, sum->claimed);
    csv_number(&csv, sum->low);
    csv_number(&csv, sum->high);
    csv_number(&csv, run->attainable);
    csv_number(&csv, isfinite(run->gain) ? run->gain < 0 : NAN);
    csv_text(&csv, run->status);
    csv_whole(&csv, (long)rows->task->seed);
    csv_text(&csv, rows->version);
    csv_whole(&csv, (long)run->redrawn);
    csv_number(&csv, run->moved);
    csv_text(&csv, at[FACTOR_SQUAD]->text);
    csv_end(&csv);
    text_free(&spec);
}

/* ---- for people ---- */

/* The place of the last digit that an interval of this half width lets mean
 * something: 2 digits of the half width itself. -1: tens, 1: tenths. */
static int places_of(double half) {
    return half > 0 && isfinite(half) ? 1 - (int)floor(log10(half)) : 0;
}

static void put_rounded(Text *text, double value, int places) {
    double step = pow(10, -places);
    if (isfinite(value))
        text_add(text, "%.*f", places > 0 ? places : 0,
                 places < 0 ? round(value / step) * step : value);
    else
        text_add(text, "unknown");
}

static void number_cell(Grid *grid, double value, int places) {
    Text text = {0};
    put_rounded(&text, value, places);
    grid_cell(grid, "%s", text_of(&text));
    text_free(&text);
}

static void share_cell(Grid *grid, double share) {
    if (isfinite(share))
        grid_cell(grid, "%.0f %%", 100 * share);
    else
        grid_cell(grid, "unknown");
}

void experiment_text_name(const Design *design, size_t at, Text *name) {
    const DesignValue *value[FACTORS];
    design_at(design, at, value);
    text_add(name, "%s", value[FACTOR_TAPER]->text);
    for (int f = 0; f < FACTORS; f++)
        if (f != FACTOR_TAPER && design->count[f] > 1)
            text_add(name, ", %s %s", design_factors[f], value[f]->text);
}

static void name_cell(Grid *grid, const Design *design, size_t at) {
    Text name = {0};
    experiment_text_name(design, at, &name);
    grid_cell(grid, "%s", text_of(&name));
    text_free(&name);
}

/* Athletes a group to tell the gains of two combinations apart. */
static double size_of(const ExperimentSum *a, const ExperimentSum *b) {
    double sd = sqrt((pow(experiment_sd(a), 2) + pow(experiment_sd(b), 2)) / 2);
    double effect = (a->mean - b->mean) / sd;
    return isfinite(effect) && effect != 0 ? trial_size(effect, .8) : NAN;
}

/* The combination of the largest mean gain among those that differ from `at`
 * in the taper alone. */
static size_t best_beside(const Design *design, const ExperimentSum *sums,
                          size_t at) {
    size_t tapers = design->count[FACTOR_TAPER], first = at / tapers * tapers;
    size_t best = first;
    for (size_t i = first; i < first + tapers; i++)
        if (sums[i].runs &&
            (!sums[best].runs || sums[i].mean > sums[best].mean))
            best = i;
    return best;
}

static void trial_cell(Grid *grid, const Design *design,
                       const ExperimentSum *sums, size_t at) {
    size_t best = best_beside(design, sums, at);
    double size = best == at ? NAN : size_of(&sums[at], &sums[best]);
    if (best == at && sums[at].runs)
        grid_cell(grid, "best");
    else if (isfinite(size))
        grid_cell(grid, "%.0f", size);
    else
        grid_cell(grid, sums[at].runs ? "no number" : "unknown");
}

static void put_row(Grid *grid, const ExperimentTask *task,
                    const ExperimentSum *sums, size_t i) {
    const ExperimentSum *s = &sums[i];
    double half = s->runs ? experiment_half_width(s) : NAN;
    int places = places_of(half);
    name_cell(grid, task->design, i);
    number_cell(grid, s->runs ? s->mean : NAN, places);
    number_cell(grid, half, places);
    number_cell(grid, s->claimed, places);
    number_cell(grid, s->runs ? experiment_in_sds(s, s->mean) : NAN,
                places_of(experiment_in_sds(s, half)));
    share_cell(grid, s->runs ? experiment_regret(s) : NAN);
    share_cell(grid, s->runs ? (double)s->harmed / (double)s->runs : NAN);
    trial_cell(grid, task->design, sums, i);
}

static void put_counts(const ExperimentTask *task, const ExperimentSum *sums,
                       Document *doc) {
    size_t failed = 0, redrawn = 0;
    for (size_t i = 0; i < design_combinations(task->design); i++) {
        failed += sums[i].failed;
        redrawn += sums[i].redrawn;
    }
    if (failed)
        document_words(doc, WORDS_PLAIN,
                       "%zu runs failed; --csv has the reason of each in the "
                       "column status.",
                       failed);
    if (redrawn)
        document_words(doc, WORDS_PLAIN,
                       "%zu draws were made again, since tau1 was not above "
                       "1.3 tau2.",
                       redrawn);
}

static void put_notes(Document *doc) {
    document_words(
        doc, WORDS_CAUTION,
        "Invented athletes: the table says what follows if the model holds, "
        "not what a real squad will do. No tests are simulated, so what is "
        "claimed is the assumed model's alone; a real trial needs more "
        "athletes "
        "than shown, for its tests have errors too.");
    document_open(doc, BLOCK_NOTES, "", "");
    document_words(
        doc, WORDS_PLAIN,
        "Gains are over no taper, in the model's unit of readiness; +-: half "
        "the 95 %% interval of the mean, which sets the digits shown. In SDs: "
        "mean gain/mean SD of readiness in the mornings of the last 28 days "
        "without a taper, so that the unit of load does not matter; unknown "
        "where every day has the same load. Gain lost: 1 - mean gain/mean of "
        "the "
        "most attainable among 1-28 days at 25, 50 or 75 %% less, 1-3 days of "
        "rest and the taper itself. Harmed: worse than no taper. Trial: "
        "athletes a group, two groups, two-sided t test at 5 %%, power 80 %%, "
        "against the best taper of the same conditions; 'no number': over a "
        "million, or no difference. Each athlete meets every taper. "
        "Squads above one share a centre: +- counts squads, the trial athletes "
        "as if drawn singly. "
        "'recommended': for a squad without tests the program advises the "
        "gentle "
        "end of the published band, 8d-50, to everybody; that is what is "
        "tried here, and no athlete has tests in this experiment.");
    document_close(doc, BLOCK_NOTES);
}

static void put_sure(const ExperimentTask *task, const ExperimentSum *best,
                     Document *doc) {
    double half = experiment_half_width(best);
    Text low = {0}, high = {0};
    put_rounded(&low, best->mean - half, places_of(half));
    put_rounded(&high, best->mean + half, places_of(half));
    if (best->runs > 1 && isfinite(half))
        document_words(doc, WORDS_PLAIN,
                       "Its mean gain lies between %s and %s (95 %% "
                       "interval); %.0f in 100 athletes are worse off than "
                       "with no taper. %zu virtual athletes a combination.",
                       text_of(&low), text_of(&high),
                       100 * (double)best->harmed / (double)best->runs,
                       task->athletes);
    else
        document_words(
            doc, WORDS_PLAIN,
            "Too few athletes or squads to say how sure: ask for more "
            "--athletes.");
    text_free(&low);
    text_free(&high);
}

void experiment_text(const ExperimentTask *task, const ExperimentSum *sums,
                     Document *doc) {
    static const GridColumn columns[] = {{"taper", false},
                                         {"true\ngain", true},
                                         {"+-", true},
                                         {"claimed\ngain", true},
                                         {"true gain\nin SDs", true},
                                         {"gain\nlost", true},
                                         {"harmed", true},
                                         {"trial: athletes\na group", true}};
    const DesignValue *at[FACTORS];
    size_t best = best_beside(task->design, sums, 0);
    Grid grid;
    design_at(task->design, best, at);
    document_words(doc, WORDS_LEAD,
                   sums[best].runs ? "%s gains most on average%s."
                                   : "%s: no run could be made%s.",
                   at[FACTOR_TAPER]->text,
                   design_combinations(task->design) >
                           task->design->count[FACTOR_TAPER]
                       ? " in the first of the conditions"
                       : "");
    put_sure(task, &sums[best], doc);
    grid_start(&grid, columns, 8);
    for (size_t i = 0; i < design_combinations(task->design); i++)
        put_row(&grid, task, sums, i);
    document_table(doc, &grid, "");
    put_counts(task, sums, doc);
    put_notes(doc);
}
