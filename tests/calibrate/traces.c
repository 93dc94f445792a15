/* traces: beside the kernel.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "test.h"

#include "calibrate/traces.h"

#include <gsl/gsl_rng.h>
#include <math.h>

/* By the kernel, to a few parts in ten million of what is summed. */
static void check_traces(const Athlete *a, const Traces *t, gsl_rng *rng,
                         ResponseKind kind) {
    double z[TESTS_MOST], all[STEPS_MOST], spread, size = 0;
    ResponseParams p = random_truth(kind, rng);
    p.value[PARAM_P0] = 0;
    p.value[PARAM_K1] = 1.3;
    p.value[PARAM_TAU1] = .2 * pow(5000, gsl_rng_uniform(rng));
    if (response_has(kind, PARAM_TAU2))
        p.value[PARAM_TAU2] = .2 * pow(5000, gsl_rng_uniform(rng));
    if (response_has(kind, PARAM_TAU_RISE))
        p.value[PARAM_TAU_RISE] = .2 * pow(5000, gsl_rng_uniform(rng));
    CU_ASSERT_TRUE(traces_read(t, &p, z, &spread));
    for (size_t i = 0; i < a->data.timeline.steps; i++)
        size += a->data.timeline.load[i] / 10;
    for (size_t i = 0; i < a->data.count; i++) {
        readiness_along(&p, &a->data.timeline, a->when[i], all);
        CU_ASSERT(fabs(z[i] - all[a->step[i]]) < 5e-7 * size);
    }
    CU_ASSERT(fabs(spread - sd_over_log(&p, &a->data.timeline)) < 5e-7 * size);
}

static void test_traces(void) {
    static Athlete a;
    static double gap[STEPS_MOST];
    gsl_rng *rng = test_random(20905);
    ResponseParams p = {RESPONSE_TWO_COMPONENT,
                        {0, 1, 1.9, 42, .199, NAN, NAN, NAN}};
    double z[TESTS_MOST] = {2.385}, spread = 2.385;
    for (int timed = 0; timed < 2; timed++) {
        Traces *t;
        random_athlete(RESPONSE_TWO_COMPONENT, rng, 6, .5, &a);
        for (size_t i = 0; i < STEPS_MOST; i++)
            gap[i] = gsl_rng_uniform(rng) < .5 ? 1 : gsl_rng_uniform(rng);
        if (timed)
            a.data.timeline.gap = gap;
        t = traces_build(&a.data);
        for (int i = 0; i < 300; i++)
            check_traces(&a, t, rng, (ResponseKind)(i % 3));
        CU_ASSERT_FALSE(traces_read(t, &p, z, &spread));
        p.value[PARAM_TAU2] = 1001;
        CU_ASSERT_FALSE(traces_read(t, &p, z, &spread));
        p = random_truth(RESPONSE_VARIABLE_DOSE, rng);
        CU_ASSERT_FALSE(traces_read(t, &p, z, &spread));
        CU_ASSERT(z[0] == 2.385 && spread == 2.385);
        traces_free(t);
        a.data.timeline.gap = NULL;
    }
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"traces", test_traces}, {NULL, NULL}};

const TestSuite suite_calibrate_traces = {"calibrate", cases};
