/* draw_files: draws written are read back, and what is wrong with a file of
 * them.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "base/text.h"
#include "calibrate/posterior.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

static char *draws_text(const Posterior *p) {
    Text text = {0};
    text_add(&text, "k1,tau2,p0,tau1,k2\n"); /* columns go by name */
    for (size_t i = 0; i < p->draws.count; i++) {
        const double *v = p->draws.set[i].value;
        text_add(&text, "%.17g,%.17g,%.17g,%.17g,%.17g\n", v[PARAM_K1],
                 v[PARAM_TAU2], v[PARAM_P0], v[PARAM_TAU1], v[PARAM_K2]);
    }
    return text.data;
}

static void test_draws_round_trip(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20801);
    Posterior p;
    Draws draws;
    Notes notes = {0};
    size_t wrong = 0;
    char *text;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 6, .66, &a);
    run_posterior(&a, &sbc_prior, 700, 7, &p);
    text = draws_text(&p);
    test_folder();
    CU_ASSERT(draws_read(test_file(0, "draws.csv", text),
                         RESPONSE_TWO_COMPONENT, &draws, &notes));
    CU_ASSERT_EQUAL(draws.count, 700);
    for (size_t i = 0; i < draws.count; i++) {
        for (int k = PARAM_P0; k <= PARAM_TAU2; k++)
            wrong += draws.set[i].value[k] != p.draws.set[i].value[k];
        wrong += draws.set[i].kind != RESPONSE_TWO_COMPONENT;
        wrong += isnan(draws.set[i].value[PARAM_K3]) ? 0 : 1;
    }
    CU_ASSERT_EQUAL(wrong, 0);
    CU_ASSERT_EQUAL(notes.count, 0);
    test_folder_done();
    free(text);
    draws_free(&draws);
    notes_free(&notes);
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* A file that must be refused, with one note about it. */
static void check_refused(const char *content, const char *column, size_t line,
                          const char *part) {
    Notes notes = {0};
    Draws draws;
    const Note *note;
    test_folder();
    CU_ASSERT_FALSE(draws_read(test_file(0, "draws.csv", content),
                               RESPONSE_TWO_COMPONENT, &draws, &notes));
    CU_ASSERT(notes.errors >= 1);
    CU_ASSERT_EQUAL(draws.count, 0);
    note = test_note(&notes, part);
    CU_ASSERT_PTR_NOT_NULL(note);
    if (note) {
        ASSERT_HAS(note->file, "draws.csv");
        CU_ASSERT_EQUAL(note->line, line);
        ASSERT_TEXT(note->column, column);
    }
    test_folder_done();
    notes_free(&notes);
    draws_free(&draws);
}

static void test_draws_messages(void) {
    Notes notes = {0};
    Draws draws;
    check_refused("p0,k1,k2,tau1\n1.5,.2,.3,40\n", "tau2", 1,
                  "this column is missing, expected a file of draws as "
                  "'peakward fit --out' writes it");
    check_refused("p0,k1,k2,tau1,tau2\n1.5,.2,.3,40,11\n1.5,.2,many,40,11\n",
                  "k2", 3, "'many', expected a number");
    check_refused("p0,k1,k2,tau1,tau2\n1.5,.2,.3,,11\n", "tau1", 2,
                  "'', expected a number");
    check_refused("p0,k1,k2,tau1,tau2\n1.5,nan,.3,40,11\n", "k1", 2,
                  "'nan', expected a number");
    CU_ASSERT_FALSE(draws_read("no-such-folder/draws.csv",
                               RESPONSE_TWO_COMPONENT, &draws, &notes));
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    CU_ASSERT_EQUAL(draws.count, 0);
    notes_free(&notes);
}

static void check_empty(const char *content) {
    Notes notes = {0};
    Draws draws;
    test_folder();
    CU_ASSERT_FALSE(draws_read(test_file(0, "draws.csv", content),
                               RESPONSE_TWO_COMPONENT, &draws, &notes));
    CU_ASSERT(notes.errors >= 1);
    test_folder_done();
    notes_free(&notes);
    draws_free(&draws);
}

/* No time constant is 0 or less, as in model files; and a file without a row
 * must not pass for a model without uncertainty. */
static void test_draws_impossible(void) {
    check_refused("p0,k1,k2,tau1,tau2\n1.5,.2,.3,40,11\n1.5,.2,.3,-40,11\n",
                  "tau1", 3, "-40");
    check_refused("p0,k1,k2,tau1,tau2\n1.5,.2,.3,40,0\n", "tau2", 2, "0");
    check_empty("p0,k1,k2,tau1,tau2\n");
}

static const TestCase cases[] = {{"draws_round_trip", test_draws_round_trip},
                                 {"draws_messages", test_draws_messages},
                                 {"draws_impossible", test_draws_impossible},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_draw_files = {"calibrate", cases};
