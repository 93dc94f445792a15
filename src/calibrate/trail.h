/* trail: the shapes that are tried for an athlete's tests, and how likely the
 * tests are under each. A shape is ln of the time constants and of the ratio of
 * the gains; the response it makes at a test is a sum of parts read from tables
 * (traces.h), and everything that is not shape is integrated out (marginal.h).
 * For posterior.h's own files: rounds.h tries the shapes and weighs them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_TRAIL_H
#define CALIBRATE_TRAIL_H

#include "calibrate/asked.h"
#include "calibrate/traces.h"

#include <gsl/gsl_rng.h>

/* ln of what makes a shape; the first three are pooled. */
enum { TAU1, TAU2, RATIO, RISE, TAU3, SHAPES };

_Static_assert((int)RATIO + 1 == (int)SHAPE_POOLED, "the pooled come first");

enum {
    TRAIL_ROUND = 768, /* shapes of a round that counts */
    TRAIL_ROUNDS = 14, /* at most */
    TRAIL_MOST = TRAIL_ROUNDS * TRAIL_ROUND,
    TRAIL_NORMALS = 16, /* of a round at most */
    TRAIL_DICE = 6      /* numbers that make the rest of a draw */
};

#define TRAIL_REACH 5.5 /* SDs of a shape from the model's values at most */

/* Shapes were drawn from the model's prior and from normals, so often to find
 * those that are allowed. */
typedef struct {
    double of_prior, of_normal;
    size_t normals;
    double mean[TRAIL_NORMALS][SHAPES];
    double root[SHAPES][SHAPES]; /* covariance of each = root root^T */
    double constant;
} Round;

struct Trail {
    PosteriorAsked a;
    size_t members;
    double growth[MEMBERS];
    double mean_load; /* [load/d] */
    /* shapes */
    int varied, which[SHAPES];
    double centre[SHAPES], spread[SHAPES]; /* 0: fixed */
    double constant[SHAPES];               /* ln, of the normals */
    ShapePrior alone;
    const ShapePrior *prior; /* that, or a squad's */
    /* responses */
    Traces *traces;
    Moment *moment;
    size_t *from, tests, days; /* where a kind's tests are among the moments */
    double *part[PARTS];       /* of the shape read last, at each moment */
    Marginal **marginal, **plain; /* plain: errors taken as normal */
    double *none; /* [kind] ln likelihood of the plain where nothing moves */
    /* rounds */
    Round round[TRAIL_ROUNDS];
    size_t rounds, count;
    double *theta[SHAPES];
    double *like;    /* [(kind * members + member) * TRAIL_MOST + shape] ln */
    double *density; /* [member * TRAIL_MOST + shape] ln of the prior */
    double *model_density, *normals;        /* [shape] of the rounds' parts */
    double *share;                          /* [shape] density of all rounds */
    double *weight;                         /* [member * TRAIL_MOST + shape] */
    double *total;                          /* [shape] sum of its weights */
    double evidence[MEMBERS], mix[MEMBERS]; /* as of the posterior */
    double explained, ess;                  /* the same */
    double *sample[SHAPE_POOLED], *sample_ratio; /* once asked for */
    gsl_rng *rng;
};

/* No shapes yet. All that is asked must outlive it. */
Trail *trail_new(const PosteriorAsked *asked);

/* ---- a shape ---- */

/* Covariances of the parts over the log. */
typedef struct {
    double mean[PARTS], product[PAIRS];
} PartSpread;

void trail_shape(const Trail *trail, size_t at, double shape[SHAPES]);
/* Ratio of the gains; 0 where a model has no fatigue. */
double trail_ratio(const Trail *trail, const double shape[SHAPES]);
/* Mean memory of the daily load [load]. */
double trail_memory(const Trail *trail, double tau3);
/* The shape's parts into trail->part, and how they vary over the log. False:
 * outside the tables, which no allowed shape is. */
bool trail_read(Trail *trail, const double shape[SHAPES], PartSpread *spread);
/* Shares of the parts in a response over its SD over the log; returns the SD.
 */
double trail_share(const PartSpread *spread, double ratio, double growth,
                   double share[PARTS]);

/* ln likelihoods of one kind and member, of every shape. */
double *trail_like(const Trail *trail, size_t kind, size_t member);
/* ln likelihoods of a shape, of one kind and member `next` behind that of the
 * one before. */
void trail_likes(Trail *trail, Marginal *const *marginal, size_t at,
                 double *like, size_t next);

/* ---- picked shapes ---- */

/* One shape that was picked, with what its members' cells say. */
typedef struct {
    size_t at; /* (size_t)-1: none yet */
    double shape[SHAPES];
    PartSpread spread;
    Gram gram;
    bool known[MEMBERS];
    double share[MEMBERS][PARTS], sd[MEMBERS], cell[MEMBERS][CELLS];
} Picked;

void trail_pick(Trail *trail, const Marginal *marginal, size_t at, size_t kind,
                Picked *picked);
void trail_pick_member(const Trail *trail, const Marginal *marginal,
                       size_t member, Picked *picked);
/* Member of a shape, at a share `u` of its weight. */
size_t trail_member(const Trail *trail, size_t at, double u);
/* The response of the shape read last at one kind's tests, less that at the
 * first. */
void trail_response(const Trail *trail, size_t kind, size_t tests,
                    const double share[PARTS], double *x);

/* Walks through the shapes by their weights (systematic resampling): draw
 * number i is the shape at which their sum passes (i + offset)/n. */
typedef struct {
    double offset, sum;
    size_t at;
    const size_t *order; /* NULL: as they were tried */
} Walk;

size_t trail_walk(const double *weight, size_t count, double wanted,
                  Walk *walk);
/* The shapes from those with little fatigue to those with much that stays: a
 * walk in this order takes every so-manieth by what decides which taper is
 * good, so that draws are spread evenly over that. To be freed. */
size_t *trail_by_fatigue(const Trail *trail);
/* Shares of the shapes, half by their weights under the members, which all
 * count alike, half evenly. To be freed. */
double *trail_half_evenly(const Trail *trail);

#endif
