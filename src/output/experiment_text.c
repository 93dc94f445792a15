/* experiment_text: see experiment_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/experiment_text.h"

#include <math.h>
#include <string.h>

void experiment_text_header(const Output *output) {
    output_header(
        output, "run,athlete,squad,model,assumed,taper,load,weeks,tests,noise,"
                "error_time,drift,adherence,outliers,log,overload,"
                "tau1,tau2,tau3,ratio,growth,option,true_gain,claimed_gain,"
                "claimed_low,claimed_high,attainable,harm,status,seed,version,"
                "redrawn,moved,squad_size,regret");
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
    (void)sum;
    design_at(rows->task->design, run->combination, at);
    option_write(&run->option, &spec);
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
    csv_number(&csv, run->claimed);
    csv_number(&csv, run->low);
    csv_number(&csv, run->high);
    csv_number(&csv, run->attainable);
    csv_number(&csv, isfinite(run->gain) ? run->gain < 0 : NAN);
    csv_text(&csv, run->status);
    csv_whole(&csv, (long)rows->task->seed);
    csv_text(&csv, rows->version);
    csv_whole(&csv, (long)run->redrawn);
    csv_number(&csv, run->moved);
    csv_text(&csv, at[FACTOR_SQUAD]->text);
    csv_number(&csv,
               run->attainable > 0 ? 1 - run->gain / run->attainable : NAN);
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

/* A value for people: of a file its name. */
static void put_value(Factor factor, const DesignValue *value, Text *text) {
    const char *name = value->text, *slash = strrchr(name, '/');
    size_t length;
    if (factor == FACTOR_TAPER && text_same(name, "none"))
        name = "no taper";
    if ((factor == FACTOR_MODEL || factor == FACTOR_ASSUMED) && slash)
        name = slash + 1;
    length = strlen(name);
    if (name == (slash ? slash + 1 : NULL) && length > 4 &&
        text_same(name + length - 4, ".csv"))
        length -= 4;
    text_add(text, "%.*s", (int)length, name);
}

/* The factors other than the taper of which there are several values: ", "
 * before each, its name if `named`, its value if `value` is there. */
static void put_conditions(const Design *design,
                           const DesignValue *const *value, bool named,
                           Text *text) {
    for (int f = 0; f < FACTORS; f++) {
        if (f == FACTOR_TAPER || design->count[f] < 2)
            continue;
        text_add(text, "%s%s%s", text->length ? ", " : "",
                 named ? design_factors[f] : "", named && value ? " " : "");
        if (value)
            put_value((Factor)f, value[f], text);
    }
}

void experiment_text_name(const Design *design, size_t at, Text *name) {
    const DesignValue *value[FACTORS];
    design_at(design, at, value);
    put_value(FACTOR_TAPER, value[FACTOR_TAPER], name);
    put_conditions(design, value, true, name);
}

/* Rows of a table are tapers, a table for each of the other conditions; or with
 * one taper they are the conditions. */
static bool by_conditions(const Design *design) {
    return design->count[FACTOR_TAPER] == 1 && design_combinations(design) > 1;
}

static void name_cell(Grid *grid, const Design *design, size_t at) {
    const DesignValue *value[FACTORS];
    Text name = {0};
    design_at(design, at, value);
    if (by_conditions(design))
        put_conditions(design, value, false, &name);
    else
        put_value(FACTOR_TAPER, value[FACTOR_TAPER], &name);
    grid_cell(grid, "%s", text_of(&name));
    text_free(&name);
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
    double size = best == at ? NAN : experiment_group(&sums[at], &sums[best]);
    if (best == at && sums[at].runs)
        grid_cell(grid, "best");
    else if (size >= 1000) /* no more than two digits mean something */
        number_cell(grid, size, 1 - (int)floor(log10(size)));
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
    share_cell(grid, experiment_coverage(s));
    number_cell(grid, s->runs ? experiment_in_sds(s, s->mean) : NAN,
                places_of(experiment_in_sds(s, half)));
    share_cell(grid, s->runs ? experiment_regret(s) : NAN);
    share_cell(grid, s->runs ? (double)s->harmed / (double)s->runs : NAN);
    if (!by_conditions(task->design)) /* a trial tells tapers apart */
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

static bool has_tests(const Design *design) {
    bool any = false;
    for (size_t i = 0; i < design->count[FACTOR_TESTS]; i++)
        any = any || design->value[FACTOR_TESTS][i].most > 0;
    return any;
}

static void note_claims(const Design *design, Document *doc) {
    if (has_tests(design))
        document_words(
            doc, WORDS_PLAIN,
            "With tests, what is claimed and advised is what this program says "
            "to the squad from its logs and tests, as the command taper does: "
            "'recommended' to the squad together, 'individual' to each alone. "
            "A test reads true readiness before the day's session, with noise "
            "in SDs of what training moves in the log; outliers have three "
            "times the noise; drift is a trend of the level over 182 days, its "
            "SD between athletes. The last four weeks are planned, not "
            "logged.");
    document_words(
        doc, WORDS_PLAIN,
        "Without tests, what is claimed is the assumed model's alone, of "
        "training as the load says. 'recommended' is then the gentle end of "
        "the published band, 8d-50, for everybody, as for a squad without "
        "tests; where a model is assumed that is not the literature's, what "
        "it finds best for the squad.");
}

static void put_notes(const Design *design, Document *doc) {
    document_words(doc, WORDS_CAUTION,
                   "Invented athletes: the table says what follows if the "
                   "model holds, not what a real squad will do. %sA real trial "
                   "needs more athletes than shown, for its tests have errors "
                   "too.",
                   has_tests(design)
                       ? ""
                       : "No tests are simulated, so what is "
                         "claimed is the assumed model's alone. ");
    document_open(doc, BLOCK_NOTES, "", "");
    document_words(
        doc, WORDS_PLAIN,
        "Gains are over no taper, in the model's unit of readiness; +-: half "
        "the 95 %% interval of the mean, which sets the digits shown. True in "
        "range: share of the 90 %% ranges claimed that hold the athlete's true "
        "gain, about 90 %% if they are honest; no taper left out. In SDs: "
        "mean gain/mean SD of readiness in the mornings of the log, where it "
        "varies, else of the last 28 days without a taper, so that the unit of "
        "load does not matter; unknown where every day has the same load. "
        "Gain lost: 1 - mean gain/mean of the most attainable among 1-28 days "
        "at 15, 30, 45, 60 or 75 %% less, straight falls to as much, 1-3 days "
        "of rest and the taper itself. "
        "Harmed: worse than no taper. Trial: athletes a group, two groups, "
        "two-sided t test at 5 %%, power 80 %%, against the best taper of the "
        "same conditions; 'no number': over a million, or no difference. Each "
        "athlete meets every taper. Squads above one share a centre: +- counts "
        "squads, the trial athletes as if drawn singly.");
    note_claims(design, doc);
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

/* Rows `from` to `to`. */
static void put_table(const ExperimentTask *task, const ExperimentSum *sums,
                      size_t from, size_t to, Document *doc) {
    Text title = {0};
    Grid grid;
    if (by_conditions(task->design))
        put_conditions(task->design, NULL, true, &title);
    else
        text_add(&title, "taper");
    {
        const GridColumn columns[] = {{text_of(&title), false},
                                      {"true\ngain", true},
                                      {"+-", true},
                                      {"claimed\ngain", true},
                                      {"true in\nrange", true},
                                      {"true gain\nin SDs", true},
                                      {"gain\nlost", true},
                                      {"harmed", true},
                                      {"trial:\nathletes", true}};
        grid_start(&grid, columns, by_conditions(task->design) ? 8 : 9);
        for (size_t i = from; i < to; i++)
            put_row(&grid, task, sums, i);
        document_table(doc, &grid, "");
    }
    text_free(&title);
}

static void put_tables(const ExperimentTask *task, const ExperimentSum *sums,
                       Document *doc) {
    const Design *design = task->design;
    size_t all = design_combinations(design);
    size_t tapers = design->count[FACTOR_TAPER];
    if (by_conditions(design) || tapers == all) {
        put_table(task, sums, 0, all, doc);
        return;
    }
    for (size_t i = 0; i < all; i += tapers) {
        const DesignValue *value[FACTORS];
        Text words = {0};
        design_at(design, i, value);
        put_conditions(design, value, true, &words);
        document_words(doc, WORDS_PLAIN, "%s:", text_of(&words));
        put_table(task, sums, i, i + tapers, doc);
        text_free(&words);
    }
}

static void put_best(const ExperimentTask *task, const ExperimentSum *sums,
                     size_t best, Document *doc) {
    const DesignValue *value[FACTORS];
    Text name = {0}, where = {0};
    design_at(task->design, best, value);
    put_value(FACTOR_TAPER, value[FACTOR_TAPER], &name);
    put_conditions(task->design, value, true, &where);
    document_words(doc, WORDS_LEAD, "%s%s%s%s%s.", where.length ? "With " : "",
                   text_of(&where), where.length ? ": " : "", text_of(&name),
                   sums[best].runs ? " gains most on average"
                                   : ": no run could be made");
    text_free(&name);
    text_free(&where);
}

/* Of one taper: where it gains most and least, in SDs. */
static void put_range(const ExperimentTask *task, const ExperimentSum *sums,
                      Document *doc) {
    const Design *design = task->design;
    size_t end[2] = {0, 0};
    double gain[2] = {NAN, NAN};
    Text where[2] = {{0}, {0}};
    for (size_t i = 0; i < design_combinations(design); i++) {
        double sds =
            sums[i].runs ? experiment_in_sds(&sums[i], sums[i].mean) : NAN;
        for (int k = 0; k < 2; k++)
            if (isfinite(sds) && !(k ? sds >= gain[1] : sds <= gain[0])) {
                gain[k] = sds;
                end[k] = i;
            }
    }
    for (int k = 0; k < 2; k++) {
        const DesignValue *value[FACTORS];
        design_at(design, end[k], value);
        put_conditions(design, value, true, &where[k]);
    }
    if (isfinite(gain[0]))
        document_words(doc, WORDS_LEAD,
                       "%s gains most with %s (%.2g SDs of what training "
                       "moves), least with %s (%.2g).",
                       design->value[FACTOR_TAPER]->text, text_of(&where[0]),
                       gain[0], text_of(&where[1]), gain[1]);
    for (int k = 0; k < 2; k++)
        text_free(&where[k]);
}

void experiment_text(const ExperimentTask *task, const ExperimentSum *sums,
                     Document *doc) {
    size_t best = best_beside(task->design, sums, 0);
    if (by_conditions(task->design)) {
        put_range(task, sums, doc);
        document_words(doc, WORDS_PLAIN,
                       "%zu virtual athletes a condition; +- is half the 95 %% "
                       "interval of a mean.",
                       task->athletes);
    } else {
        put_best(task, sums, best, doc);
        put_sure(task, &sums[best], doc);
    }
    put_tables(task, sums, doc);
    put_counts(task, sums, doc);
    put_notes(task->design, doc);
}
