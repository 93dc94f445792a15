/* near: distances against the definition, and what is near enough.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/near.h"

#include "test.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

/* The definition, branch by branch. */
static size_t by_definition(const char *a, const char *b) {
    size_t put, out, change;
    if (!*a || !*b)
        return strlen(a) + strlen(b);
    put = by_definition(a, b + 1) + 1;
    out = by_definition(a + 1, b) + 1;
    change = by_definition(a + 1, b + 1) + (*a != *b);
    put = put < out ? put : out;
    return put < change ? put : change;
}

static void distances(void) {
    gsl_rng *rng = test_random(11);
    CU_ASSERT_EQUAL(near_distance("kitten", "sitting"), 3); /* textbooks' */
    CU_ASSERT_EQUAL(near_distance("Saturday", "Sunday"), 3);
    for (int i = 0; i < 300; i++) {
        char word[2][8] = {{0}, {0}};
        for (int w = 0; w < 2; w++)
            for (int k = test_whole(rng, 0, 6); k > 0; k--)
                word[w][k - 1] = (char)test_whole(rng, 'a', 'd');
        CU_ASSERT_EQUAL(near_distance(word[0], word[1]),
                        by_definition(word[0], word[1]));
    }
    gsl_rng_free(rng);
}

static void shares(void) {
    char longer[200];
    ASSERT_NEAR(near_share("Minutes", "minutes"), 0, 0);
    ASSERT_NEAR(near_share("Date of session", "date"), 0, 0);
    ASSERT_NEAR(near_share("Percent 1RM", "percent_1rm"), 0, 0);
    ASSERT_NEAR(near_share("Datum", "date"), .4, 1e-15);
    CU_ASSERT_TRUE(isinf(near_share("name", "time")));
    CU_ASSERT_TRUE(isinf(near_share("", "date")));
    CU_ASSERT_TRUE(isinf(near_share("(%)", "date")));
    CU_ASSERT_TRUE(isinf(near_share("Spielerin", "athlete")));
    memset(longer, 'x', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    CU_ASSERT_TRUE(isinf(near_share(longer, "date")));
}

static const TestCase cases[] = {
    {"distances", distances}, {"shares", shares}, {NULL, NULL}};

const TestSuite suite_base_near = {"base", cases};
