/* load: formulas of load, by hand. Status of a figure: P read in the
 * publication, M from memory, C computed independently of this program.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "season/load.h"

#include <math.h>

/* Banister 1991 (M); figures C: 30 min at 130, rest 40, maximum 200. At the
 * maximum 32.5 x .64 e^1.92 and 32.5 x .86 e^1.67 (C, Python's decimal). */
static void trimp_formula(void) {
    HeartProfile man = {40, 200, false}, woman = {40, 200, true};
    ASSERT_NEAR(load_trimp(30, 130, man), 31.80253915, 5e-9);
    ASSERT_NEAR(load_trimp(30, 130, woman), 37.12851776, 5e-9);
    ASSERT_NEAR(load_trimp(32.5, 200, man), 141.875936161248, 1e-12);
    ASSERT_NEAR(load_trimp(32.5, 200, woman), 148.475089931214, 1e-12);
    ASSERT_NEAR(load_trimp(47, 40, man), 0, 0);
    CU_ASSERT_TRUE(isnan(load_trimp(30, 39.5, man)));
    CU_ASSERT_TRUE(isnan(load_trimp(30, 200.5, woman)));
    CU_ASSERT_TRUE(isnan(load_trimp(30, NAN, man)));
    CU_ASSERT_TRUE(isnan(load_trimp(NAN, 130, man)));
    CU_ASSERT_TRUE(isnan(load_trimp(30, 130, (HeartProfile){NAN, 200, false})));
    CU_ASSERT_TRUE(isnan(load_trimp(30, 130, (HeartProfile){130, 130, true})));
}

/* Edwards 1993, weights M, sum C. Foster et al. 2001: 120 min x 6 (P). */
static void simple_formulas(void) {
    const double zones[] = {10, 20, 15, 10, 5};
    const double blank[] = {10, 20, NAN, 10, 5};
    ASSERT_NEAR(load_zones(zones), 160, 0);
    CU_ASSERT_TRUE(isnan(load_zones(blank)));
    ASSERT_NEAR(load_session_rpe(120, 6), 720, 0);
    ASSERT_NEAR(load_session_rpe(47.5, 3.5), 166.25, 0);
    CU_ASSERT_TRUE(isnan(load_session_rpe(120, NAN)));
    ASSERT_NEAR(load_volume(3, 5, 82.5), 1237.5, 0);
    CU_ASSERT_TRUE(isnan(load_volume(3, 5, NAN)));
}

/* Foster 1998 (P; which SD is not said). Sample SD, C. */
static void monotony_and_strain(void) {
    const double week[7] = {300, 0, 450, 240, 0, 600, 360};
    const double equal[7] = {.1, .1, .1, .1, .1, .1, .1};
    const double rest[7] = {0};
    const double blank[7] = {300, 0, NAN, 240, 0, 600, 360};
    ASSERT_NEAR(load_monotony(week), 1.253170925, 5e-10);
    ASSERT_NEAR(load_strain(week), 2443.683305, 5e-7);
    CU_ASSERT_TRUE(isnan(load_monotony(equal)));
    CU_ASSERT_TRUE(isnan(load_strain(equal)));
    CU_ASSERT_TRUE(isnan(load_monotony(rest)));
    CU_ASSERT_TRUE(isnan(load_strain(rest)));
    CU_ASSERT_TRUE(isnan(load_monotony(blank)));
    CU_ASSERT_TRUE(isnan(load_strain(blank)));
}

static void median(void) {
    double odd[] = {7.3, 2.1, 5.9}, even[] = {4.4, 1.2, 9.6, 3.8}, one[] = {.7};
    ASSERT_NEAR(load_median(odd, 3), 5.9, 0);
    ASSERT_NEAR(load_median(even, 4), 4.1, 1e-15);
    ASSERT_NEAR(load_median(one, 1), .7, 0);
    CU_ASSERT_TRUE(isnan(load_median(odd, 0)));
}

static const TestCase cases[] = {{"trimp_formula", trimp_formula},
                                 {"simple_formulas", simple_formulas},
                                 {"monotony_and_strain", monotony_and_strain},
                                 {"median", median},
                                 {NULL, NULL}};

const TestSuite suite_season_load = {"season", cases};
