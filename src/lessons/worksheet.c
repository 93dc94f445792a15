/* worksheet: see worksheet.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/worksheet.h"

#include "base/mem.h"
#include "calibrate/fit.h"
#include "lessons/curves.h"
#include "lessons/picture.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>

enum { DAYS = 5, CURVE = 60, NEAR = 6, TESTS = 9, FITTED = 6, SEASON = 85 };

/* One student's numbers, whole where hands must reckon with them. */
typedef struct {
    gsl_rng *rng;
    ResponseParams params;
    double usual;
    const Gallery *gallery;
    Page *ask, *key;
    Text words, answer;
    int number, marks; /* of the questions so far */
} Sheet;

enum { MARKS = 20 /* of a sheet */ };

static bool param_is_time(Param param) {
    return param == PARAM_TAU1 || param == PARAM_TAU2 ||
           param == PARAM_TAU_RISE || param == PARAM_TAU3;
}

static int whole(Sheet *s, int low, int high) {
    return low + (int)gsl_rng_uniform_int(s->rng, (unsigned)(high - low + 1));
}

static void draw_sheet(const ResponseParams *params, Sheet *s) {
    double *v = s->params.value;
    s->params = *params;
    v[PARAM_TAU1] =
        fmax(3, round(v[PARAM_TAU1] * (.8 + .4 * gsl_rng_uniform(s->rng))));
    if (response_has(params->kind, PARAM_TAU2))
        v[PARAM_TAU2] =
            fmin(v[PARAM_TAU1] - 1,
                 fmax(1, round(v[PARAM_TAU2] *
                               (.8 + .4 * gsl_rng_uniform(s->rng)))));
    s->usual = lesson_usual_load(&s->params);
}

/* Puts the question under its heading, its answer into the key. */
static void put_question(Sheet *s, const char *title, const char *level,
                         int marks) {
    Text heading = {0};
    text_add(&heading, "%d. %s (%s, %d marks)", ++s->number, title, level,
             marks);
    page_heading(s->ask, text_of(&heading));
    page_paragraph(s->ask, text_of(&s->words));
    page_item(s->key, text_of(&s->answer));
    text_free(&heading);
    text_clear(&s->words);
    text_clear(&s->answer);
    s->marks += marks;
}

/* Room to write, behind the question and what belongs to it. */
static void put_room(Sheet *s, int lines) {
    page_write(s->ask, lines);
}

/* A table with room to write beside it. */
static void put_beside(Sheet *s, Grid *grid, const char *caption, int lines) {
    page_beside(s->ask);
    page_table(s->ask, grid, caption);
    put_room(s, lines);
    page_beside_end(s->ask);
    grid_free(grid);
}

/* The value that a reader of the printed number has. */
static double as_printed(const char *format, double value, char shown[32]) {
    snprintf(shown, 32, format, value);
    return strtod(shown, NULL);
}

/* The numbers that rule the sheet. */
static void put_model(Sheet *s) {
    Text line = {0};
    text_add(&line, "Model of this sheet: %s",
             response_kind_names[s->params.kind]);
    for (int i = PARAM_K1; i < PARAMS; i++)
        if (response_has(s->params.kind, (Param)i))
            text_add(&line, ", %s %.9g%s", param_names[i], s->params.value[i],
                     param_is_time((Param)i) ? " d" : "");
    text_add(&line, "; usual load %.6g a day%s.", s->usual,
             s->params.kind == RESPONSE_GRADED
                 ? ", at which the gain of fatigue is ratio x k1"
                 : "");
    page_paragraph(s->ask, text_of(&line));
    text_free(&line);
}

/* ---- the questions ---- */

static void half_lives(Sheet *s) {
    Landmarks marks = landmarks_of(&s->params);
    const double *v = s->params.value;
    text_add(&s->words, "tau1 = %.0f d", v[PARAM_TAU1]);
    text_add(&s->answer, "Question 1: fitness halves in %.1f d",
             marks.half_life_fitness);
    if (isfinite(marks.half_life_fatigue)) {
        text_add(&s->words, ", tau2 = %.0f d", v[PARAM_TAU2]);
        text_add(&s->answer, ", fatigue in %.1f d", marks.half_life_fatigue);
    }
    text_add(&s->answer, ". Working: %.0f x 0.693", v[PARAM_TAU1]);
    if (isfinite(marks.half_life_fatigue))
        text_add(&s->answer, " and %.0f x 0.693", v[PARAM_TAU2]);
    text_add(&s->words, ". In how many days does each fade to a half (one "
                        "decimal)? Hint: tau x ln 2.");
    put_question(s, "Half-lives", "easy", 2);
    put_room(s, 1);
}

/* What the first exponential has left, per unit of its gain. */
static void fitness_by_hand(Sheet *s) {
    static const GridColumn columns[] = {{"day", true}, {"load", true}};
    ResponseParams one = {
        RESPONSE_ONE_COMPONENT,
        {0, 1, NAN, s->params.value[PARAM_TAU1], NAN, NAN, NAN, NAN}};
    double fitness[DAYS + 1], load[DAYS + 1] = {0};
    LessonRun run = {fitness, NULL, NULL};
    Grid grid;
    grid_start(&grid, columns, 2);
    for (int i = 0; i < DAYS; i++) {
        load[i] = 10 * whole(s, 0, 15);
        grid_cell(&grid, "%d", i + 1);
        grid_cell(&grid, "%.0f", load[i]);
    }
    text_add(&s->words,
             "Nothing was trained before day 1; the loads are in the table. "
             "With k1 = 1, tau1 as above and no build-up, what is fitness on "
             "day %d, before its session (to the nearest whole number)? Hint: "
             "each day (fitness + load) x e^(-1/tau1).",
             DAYS + 1);
    lesson_run(&one, load, DAYS + 1, 0, &run);
    text_add(&s->answer, "Question 2: %.0f. Working:", fitness[DAYS]);
    for (int i = 1; i <= DAYS; i++)
        text_add(&s->answer, "%s day %d (%.1f + %.0f) x %.4f = %.1f",
                 i > 1 ? ";" : "", i + 1, fitness[i - 1], load[i - 1],
                 exp(-1 / one.value[PARAM_TAU1]), fitness[i]);
    put_question(s, "Tomorrow's fitness", "easy", 2);
    put_beside(s, &grid, "Loads for question 2", 5);
}

static void ask_landmarks(Sheet *s) {
    Landmarks marks = landmarks_of(&s->params);
    const double *v = s->params.value;
    text_add(&s->words,
             "k1 = %.6g, k2 = %.6g: what are t_n and t_g (one decimal)? Hint: "
             "t_n = tau1 tau2/(tau1 - tau2) x ln(k2/k1); for t_g the logarithm "
             "is of tau1 k2/(tau2 k1).",
             v[PARAM_K1], v[PARAM_K2]);
    if (isfinite(marks.t_n))
        text_add(&s->answer, "Question 3: t_n %.1f d", marks.t_n);
    else
        text_add(&s->answer,
                 "Question 3: no t_n: fatigue never outweighs fitness");
    if (isfinite(marks.t_g))
        text_add(&s->answer, ", t_g %.1f d", marks.t_g);
    text_add(&s->answer,
             ". Working: %.0f x %.0f / (%.0f - %.0f) = %.4g, times ln %.4g and "
             "ln %.4g",
             v[PARAM_TAU1], v[PARAM_TAU2], v[PARAM_TAU1], v[PARAM_TAU2],
             v[PARAM_TAU1] * v[PARAM_TAU2] / (v[PARAM_TAU1] - v[PARAM_TAU2]),
             v[PARAM_K2] / v[PARAM_K1],
             v[PARAM_TAU1] * v[PARAM_K2] / (v[PARAM_TAU2] * v[PARAM_K1]));
    put_question(s, "Which days hurt, which help most", "middle", 2);
    put_room(s, 2);
}

static void landmark_days(Sheet *s) {
    if (s->params.kind == RESPONSE_TWO_COMPONENT) {
        ask_landmarks(s);
        return;
    }
    text_add(&s->words,
             "Why has the formula for t_n of the two-component model no place "
             "in a %s model?",
             response_kind_names[s->params.kind]);
    text_add(&s->answer, "Question 3: %s",
             s->params.kind == RESPONSE_ONE_COMPONENT
                 ? "There is no fatigue: training never lowers readiness."
             : s->params.kind == RESPONSE_DELAYED
                 ? "Fitness builds up first, so the influence has a third "
                   "exponential; its zero is found numerically."
                 : "How long a session tires depends on the training around "
                   "it.");
    put_question(s, "Days that hurt", "middle", 2);
    put_room(s, 2);
}

static StatusCode put_curve(Sheet *s, Status *status) {
    double x[CURVE], y[CURVE];
    Text path = {0};
    StatusCode code;
    LessonPicture p = {.title = "Influence of a day's load",
                       .subtitle = "for question 4",
                       .x_label = "days before the event (day 0)",
                       .y_label = "change of readiness per unit of load",
                       .curves = 1,
                       .points = CURVE,
                       .name = {"influence"},
                       .x = x,
                       .y = {y},
                       .t_n = NAN,
                       .t_g = NAN};
    for (int i = 0; i < CURVE; i++) {
        x[i] = i - CURVE;
        y[i] = lesson_influence(&s->params, s->usual, CURVE - i);
    }
    code = picture_lesson(&p, s->gallery, "worksheet-curve", &path, status);
    if (path.length > 0)
        path.data[path.length - 1] = '\0'; /* the line's end */
    if (code == STATUS_OK)
        code = page_figure(s->ask, text_of(&path),
                           "Curve of what a unit of load does to readiness at "
                           "the event, by the day it is trained",
                           "The curve for question 4", status);
    text_free(&path);
    return code;
}

static StatusCode read_curve(Sheet *s, Status *status) {
    int far = whole(s, 15, 45), near = whole(s, 1, 12);
    double load = 10 * whole(s, 10, 60);
    double there = lesson_influence(&s->params, s->usual, far);
    double close = lesson_influence(&s->params, s->usual, near);
    text_add(&s->words,
             "Read from the curve: by about how much does a load of %.0f, "
             "trained %d days before the event, change readiness at the event? "
             "Does a session %d days before it help or hurt?",
             load, far, near);
    text_add(
        &s->answer,
        "Question 4: %+.3g (%.3g per unit; a reading within a twentieth of the "
        "axis counts); %d days before: %s",
        load * there, there, near, close < 0 ? "hurts" : "helps");
    text_add(&s->answer,
             ". Working: %.0f x the curve's height at -%d; where "
             "the curve is below 0 a session lowers readiness",
             load, far);
    put_question(s, "Read a curve", "middle", 3);
    page_beside(s->ask);
    put_curve(s, status);
    put_room(s, 8);
    page_beside_end(s->ask);
    return status->code;
}

/* What a cut of the last `days` days brings, by the printed influences. */
static double table_gain(const double *influence, int days, double cut,
                         double load) {
    double gain = 0;
    for (int u = 1; u <= days; u++)
        gain -= load * cut / 100 * influence[u];
    return gain;
}

/* What two cuts change, by an estimate or exactly. */
static void say_tapers(double a, double b, Text *text) {
    text_add(text, "A %+.3g, B %+.3g: %s", a, b,
             a > b   ? "A is better"
             : b > a ? "B is better"
                     : "the same");
    if (a < 0 && b < 0)
        text_add(text, "; training on is better than either");
}

static double exact_gain(const Sheet *s, double load, int days, int cut) {
    Option step = {.count = 1, .part = {{days, cut, cut, 'x'}}};
    return lesson_gain(&s->params, load, &step);
}

/* A kind that is not linear has one usual load at which its influences hold,
 * and they hold for small cuts only: the key has the exact answer too. */
static void two_tapers(Sheet *s) {
    static const GridColumn columns[] = {{"days before\nthe event", true},
                                         {"influence per\nunit of load", true}};
    bool linear = response_linear(s->params.kind);
    double influence[NEAR + 1], load = 10 * whole(s, 5, 40);
    int cut_a = 10 * whole(s, 2, 5), cut_b = 10 * whole(s, 5, 9);
    int days_b = whole(s, 2, 4);
    char shown[32];
    Grid grid;
    load = linear ? load : s->usual;
    grid_start(&grid, columns, 2);
    for (int u = 1; u <= NEAR; u++) {
        influence[u] = as_printed(
            "%.3g", lesson_influence(&s->params, s->usual, u), shown);
        grid_cell(&grid, "%d", u);
        grid_cell(&grid, "%s", shown);
    }
    text_add(&s->words,
             "The usual load is %.6g a day. Taper A cuts %d %% of it on the "
             "last %d days, taper B %d %% on the last %d. What does each "
             "change at the event (three digits), and which is better? Hint: "
             "a cut takes away load x cut x influence of each day%s",
             load, cut_a, NEAR, cut_b, days_b,
             linear ? "."
                    : "; here that is an estimate, good for small cuts, since "
                      "fatigue also grows with the load around a session. In "
                      "which direction does it err for large ones?");
    text_add(&s->answer, "Question 5: %s", linear ? "" : "estimate ");
    say_tapers(table_gain(influence, NEAR, cut_a, load),
               table_gain(influence, days_b, cut_b, load), &s->answer);
    if (!linear) {
        text_add(&s->answer, "; exactly, by simulation, ");
        say_tapers(exact_gain(s, load, NEAR, cut_a),
                   exact_gain(s, load, days_b, cut_b), &s->answer);
        text_add(&s->answer, ". The estimate promises too much: the less is "
                             "trained, the less tiring is what is left, and "
                             "the less there is to gain by cutting it");
    }
    text_add(&s->answer,
             ". Working: A -%.6g x %.2f x the sum of the %d influences, B "
             "-%.6g x %.2f x the sum of the first %d",
             load, cut_a / 100., NEAR, load, cut_b / 100., days_b);
    put_question(s, "Compare two tapers", "hard", 3);
    put_beside(s, &grid, "Influences for question 5", 6);
}

/* ---- spot the overfit ---- */

typedef struct {
    double load[SEASON], value[TESTS], weight[TESTS];
    size_t step[TESTS];
    ReadWhen when[TESTS];
    double said[2][TESTS]; /* by the two-component and the one-component fit */
} Trial;

/* Tests of the sheet's model over an uneven season, about 100 with a range of
 * 10, and noise. */
static void draw_trial(Sheet *s, Trial *t) {
    double readiness[SEASON], noise = .5 + 2 * gsl_rng_uniform(s->rng);
    double low = INFINITY, high = -INFINITY, week = 1;
    LessonRun run = {NULL, NULL, readiness};
    for (int i = 0; i < SEASON; i++) {
        if (i % 7 == 0)
            week = .5 + gsl_rng_uniform(s->rng);
        t->load[i] = round(week * s->usual * (i % 7 == 6 ? 0 : 1) *
                           (.5 + gsl_rng_uniform(s->rng)));
    }
    lesson_run(&s->params, t->load, SEASON, s->usual, &run);
    for (int i = 0; i < TESTS; i++) {
        t->step[i] = (size_t)(12 + 9 * i);
        low = fmin(low, readiness[t->step[i]]);
        high = fmax(high, readiness[t->step[i]]);
    }
    for (int i = 0; i < TESTS; i++) {
        double share =
            high > low ? (readiness[t->step[i]] - low) / (high - low) : .5;
        t->value[i] =
            round(10 * (95 + 10 * share + gsl_ran_gaussian(s->rng, noise))) /
            10;
        t->weight[i] = 1;
        t->when[i] = READ_BEFORE;
    }
}

/* Fits the first tests, and says what that makes of all. */
static void fit_trial(ResponseKind kind, double before, Trial *t,
                      double *said) {
    TestData data = {.timeline = {SEASON, NULL, t->load, before, 1},
                     .count = FITTED,
                     .step = t->step,
                     .when = t->when,
                     .value = t->value,
                     .weight = t->weight,
                     .error = NAN};
    double readiness[SEASON];
    LessonRun run = {NULL, NULL, readiness};
    char shown[32];
    Fit fit;
    fit_best(kind, &data, &fit);
    lesson_run(&fit.params, t->load, SEASON, before, &run);
    for (int i = 0; i < TESTS; i++)
        said[i] = as_printed("%.1f", readiness[t->step[i]], shown);
}

/* Root mean square error over some tests, to the decimal that is shown. */
static double error_of(const Trial *t, int model, int from, int to) {
    double sum = 0;
    char shown[32];
    for (int i = from; i < to; i++)
        sum += pow(t->said[model][i] - t->value[i], 2);
    return as_printed("%.1f", sqrt(sum / (to - from)), shown);
}

static void put_trial(Sheet *s, const Trial *t) {
    static const GridColumn columns[] = {{"test", true},     {"day", true},
                                         {"measured", true}, {"model A", true},
                                         {"model B", true},  {"used", false}};
    Grid grid;
    grid_start(&grid, columns, 6);
    for (int i = 0; i < TESTS; i++) {
        grid_cell(&grid, "%d", i + 1);
        grid_cell(&grid, "%zu", t->step[i]);
        grid_cell(&grid, "%.1f", t->value[i]);
        grid_cell(&grid, "%.1f", t->said[0][i]);
        grid_cell(&grid, "%.1f", t->said[1][i]);
        grid_cell(&grid, "%s", i < FITTED ? "fitted" : "kept back");
    }
    put_beside(s, &grid, "Tests and models for question 6", 8);
}

static void spot_overfit(Sheet *s) {
    Trial t;
    double fit[2], kept[2];
    draw_trial(s, &t);
    fit_trial(RESPONSE_TWO_COMPONENT, s->usual, &t, t.said[0]);
    fit_trial(RESPONSE_ONE_COMPONENT, s->usual, &t, t.said[1]);
    for (int model = 0; model < 2; model++) {
        fit[model] = error_of(&t, model, 0, FITTED);
        kept[model] = error_of(&t, model, FITTED, TESTS);
    }
    text_add(&s->words,
             "Model A (two components, 5 parameters) and model B (one "
             "component, 3) were fitted to the first %d tests; the last %d "
             "were kept back. What is each one's root mean square error on the "
             "tests it was fitted to, and on those kept back (one decimal)? "
             "A has B inside it, so it can always fit as well: are its two "
             "extra parameters worth it, or did they fit noise?",
             FITTED, TESTS - FITTED);
    text_add(
        &s->answer,
        "Question 6: A %.1f fitted, %.1f kept back; B %.1f fitted, %.1f kept "
        "back: %s",
        fit[0], kept[0], fit[1], kept[1],
        kept[0] > kept[1]   ? "A overfits, for it predicts worse than the "
                              "simpler model"
        : kept[0] < kept[1] ? "A is worth it here, for it predicts better"
                            : "these tests cannot tell");
    if (kept[0] > fit[0] && kept[1] > fit[1])
        text_add(&s->answer, ". Both err more on what they have not seen, as "
                             "every fitted model does on average");
    text_add(&s->answer,
             ". Working: square each difference to the measured value, take "
             "the mean of the %d (or %d), then its root",
             FITTED, TESTS - FITTED);
    put_question(s, "Two models, and tests kept back", "hard", 4);
    put_trial(s, &t);
}

/* ---- what an answer means ---- */

/* A gain with its range, as the program says it of a taper. */
static void ask_range(Sheet *s) {
    double gain = .1 * whole(s, 8, 30), sd = gain * .01 * whole(s, 55, 200);
    double reach = gsl_cdf_ugaussian_Pinv(.95) * sd;
    char shown[32];
    double low = as_printed("%.1f", gain - reach, shown) + 0.; /* no -0.0 */
    int helps = (int)round(100 * gsl_cdf_ugaussian_P(gain / sd));
    text_add(&s->words,
             "Of a taper the program says: expected gain %.1f %%, 90 %% range "
             "%.1f to %.1f %%, helps in %d of 100 likely models. The coach "
             "tells the athlete: 'You will gain %.1f %%.' In how many of 100 "
             "likely models does it not help? Does the range leave room for a "
             "loss? Write one sentence that the coach could say instead.",
             gain, low, gain + reach, helps, gain);
    text_add(&s->answer,
             "Question 7: it does not help in %d of 100; the range %s. The "
             "sentence names the range or the %d of 100, promises nothing, and "
             "may say that all of this holds if the models do. One mark for "
             "both numbers, one for the sentence",
             100 - helps,
             low <= 0 ? "leaves room for a loss" : "lies above 0, so hardly",
             helps);
    put_question(s, "What would you tell the athlete?", "interpret", 2);
    put_room(s, 3);
}

/* Regression to the mean. The mean of a standard normal's lowest quarter is
 * -1.271. */
static void ask_retest(Sheet *s) {
    double sd = .5 * whole(s, 6, 12), error = .1 * whole(s, 10, 25);
    double chance = 1.271 * error * error / sd;
    double gain =
        .1 * round(10 * chance * (.5 + 1.5 * gsl_rng_uniform(s->rng)));
    char shown[32];
    chance = as_printed("%.2f", chance, shown);
    text_add(&s->words,
             "A squad jumps; the SD of this first test is %.1f cm, its typical "
             "error %.1f cm. The lowest quarter gets a taper and jumps %.1f cm "
             "higher afterwards. By how much would they have improved without "
             "any effect (two decimals)? Hint: 1.271 x error x error / SD. "
             "Does that explain the change, and which comparison is missing?",
             sd, error, gain);
    text_add(&s->answer,
             "Question 8: %s cm by chance alone: %s. Missing: a group "
             "of the same lowest quarter without the taper, chosen by lot. One "
             "mark for the number, one for the group",
             shown,
             gain <= chance ? "it explains all of the change"
                            : "it explains a part of the change");
    put_question(s, "Did the taper work?", "interpret", 2);
    put_room(s, 3);
}

/* ---- all sheets ---- */

static StatusCode put_sheet(const ResponseParams *params, int number,
                            unsigned long seed, Sheet *s, Status *status) {
    Text title = {0}, id = {0};
    StatusCode code;
    draw_sheet(params, s);
    s->number = s->marks = 0;
    text_add(&title, "Sheet %d, seed %lu", number, seed);
    text_add(&id, "sheet-%d", number);
    page_section(s->ask, text_of(&id), text_of(&title));
    page_paragraph(s->ask, "Name: ______________________________   Marks: "
                           "______ of 20");
    put_model(s);
    page_heading(s->key, text_of(&title));
    page_list(s->key);
    half_lives(s);
    fitness_by_hand(s);
    landmark_days(s);
    code = read_curve(s, status);
    page_side(s->ask); /* the back of the sheet of paper */
    two_tapers(s);
    spot_overfit(s);
    ask_range(s);
    ask_retest(s);
    page_side_end(s->ask);
    page_list_end(s->key);
    page_section_end(s->ask);
    assert(s->marks == MARKS);
    text_free(&title);
    text_free(&id);
    return code;
}

StatusCode worksheet_write(const ResponseParams *params, int sheets,
                           unsigned long seed, const Gallery *gallery,
                           Page *questions, Page *answers, Status *status) {
    Sheet s = {.rng = gsl_rng_alloc(gsl_rng_taus2),
               .gallery = gallery,
               .ask = questions,
               .key = answers};
    StatusCode code = STATUS_OK;
    if (!s.rng)
        mem_out();
    gsl_rng_set(s.rng, seed);
    page_section(answers, "answers", "Answers");
    for (int i = 0; i < sheets && code == STATUS_OK; i++)
        code = put_sheet(params, i + 1, seed, &s, status);
    page_section_end(answers);
    gsl_rng_free(s.rng);
    text_free(&s.words);
    text_free(&s.answer);
    return code;
}
