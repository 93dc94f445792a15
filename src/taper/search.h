/* search: every taper within the limits, the best, those as good, and the
 * ceiling that no sequence of daily loads within the limits can pass.
 *
 * Options tried: every length up to the longest; step, straight-line and
 * exponential falls with cuts in steps of 5 %; two steps with every division
 * of the days, cuts 25, 50, 75 % ... and the largest; full rest on the last
 * days.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_SEARCH_H
#define TAPER_SEARCH_H

#include "base/status.h"
#include "taper/score.h"

typedef struct {
    int max_length;       /* [d] */
    double max_cut;       /* [%] of a day's volume, rest apart */
    unsigned shapes;      /* bit 1 << Shape */
    double min_week_load; /* [%] each block of seven days before the event
                             keeps at least so much of its planned load; 0:
                             no limit */
    int rest_days;        /* [d] full rest at most on the last so many days */
} Limits;

/* 28 d, 75 %, all shapes, no week limit, 3 d. */
Limits limits_default(void);

typedef enum {
    TAG_BLANK,
    TAG_BEST,
    TAG_RECOMMENDED,
    TAG_EQUAL,
    TAG_CEILING,
    TAG_NONE
} Tag;

/* "", "best", "recommended", "equal", "ceiling", "none". */
extern const char *const tag_names[];

typedef struct {
    Option option;
    double readiness; /* that counts */
    double gain;      /* over no taper [readiness] */
    double kept;      /* share of the load planned for the last max_length days
                         before the event */
    Tag tag;
} Found;

typedef struct {
    Found *items; /* items[0] is no taper */
    size_t count, room;
    size_t best;        /* index; 0 when no taper helps */
    size_t recommended; /* keeps most training among those within 5 % of best */
    size_t equal;       /* number of options within 5 % of the best gain */
    double ceiling;     /* [readiness] */
    double *ceiling_cut; /* cut[u - 1] that reaches it */
} Search;

/* Two options whose gains differ by less than this share of the best gain
 * cannot be told apart. */
#define SEARCH_EQUAL 0.05

/* Tries everything. Fails when the ceiling's linear programme does. */
StatusCode search_run(const Outlook *outlook, const Score *score,
                      const Limits *limits, Search *search, Status *status);
void search_free(Search *search);

/* Gain of the best option within the limits, without listing any [readiness].
 * 0 when no taper helps. */
double search_best_gain(const Outlook *outlook, const Score *score,
                        const Limits *limits);

/* Best sequence of daily loads within the limits; cuts into `cut` (window
 * long). For linear models by sign, or by a linear programme (GLPK) where a
 * week's limit or the lowest day of several ties the days together. For a
 * variable-dose model, whose readiness is quadratic in the loads, by exact
 * ascent along one day's cut or the exchange between two days of a week, from
 * several starts, one of them the cuts that `cut` holds on entry (within the
 * limits, say none or those of the best option): never worse than that. */
StatusCode search_ceiling(const Outlook *outlook, const Score *score,
                          const Limits *limits, double *cut, double *readiness,
                          Status *status);

/* Does an option keep within the limits (length, cut, rest, each week's least
 * load)? Shapes are not looked at. */
bool search_allows(const Outlook *outlook, const Limits *limits,
                   const Option *option);

/* Share of planned load an option keeps over the last `days` before the
 * event. */
double search_kept(const Outlook *outlook, const Option *option, size_t days);
/* The same for cuts, cut[u - 1] for the day u before (window long). */
double search_kept_cuts(const Outlook *outlook, const double *cut, size_t days);

/* (option - no taper)/(ceiling - no taper); NAN when no gain is possible. */
double search_share(double gain, double ceiling_gain);

#endif
