/* load: one number for what a session asked of an athlete.
 *
 * Pure formulas. A value that cannot be computed is NAN.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_LOAD_H
#define SEASON_LOAD_H

#include <stdbool.h>
#include <stddef.h>

/* In the order in which a complete one is chosen. */
typedef enum {
    LOAD_GIVEN,       /* the file's own number */
    LOAD_SESSION_RPE, /* [min x CR-10 rating] Foster et al. 2001 */
    LOAD_TRIMP,       /* [min, weighted] Banister 1991 */
    LOAD_ZONES,       /* [min, weighted] Edwards 1993 */
    LOAD_VOLUME,      /* [kg] sets x repetitions x mass on the bar */
    LOAD_METHODS,
    LOAD_FIRST_COMPLETE = LOAD_METHODS
} LoadMethod;

/* "load", "session-rpe", "trimp", "zones", "volume"; ends with NULL. */
extern const char *const load_method_names[];
/* The unit in words, e.g. "session-RPE units (minutes x RPE)". */
const char *load_method_unit(LoadMethod method);

/* Session-RPE: minutes times the CR-10 rating of the whole session (Foster et
 * al. 2001, J Strength Cond Res 15:109-115). */
double load_session_rpe(double minutes, double rating);

typedef struct {
    double hr_rest, hr_max; /* [beat/min] */
    bool female;
} HeartProfile;

/* TRIMP = minutes x y, x = (mean - rest)/(max - rest), y = .64 e^(1.92x) for
 * men, .86 e^(1.67x) for women (Banister 1991; from memory). NAN when the mean
 * lies outside rest ... max. */
double load_trimp(double minutes, double hr_mean, HeartProfile profile);

/* Sum of zone number x minutes in it, zones 1 to 5 (Edwards 1993; weights from
 * memory). */
double load_zones(const double minutes[5]);

/* Volume load of one exercise [kg]. */
double load_volume(double sets, double reps, double kg);

/* Monotony = mean/SD of the seven days of a week, strain = the week's load x
 * monotony (Foster 1998, Med Sci Sports Exerc 30:1164-1168). The abstract does
 * not say which SD; here it is the sample's (n - 1). NAN when all days are
 * equal or one is not recorded. */
double load_monotony(const double day[7]);
double load_strain(const double day[7]);

/* Median; reorders `values`. NAN when there is none. */
double load_median(double *values, size_t count);

#endif
