/* search: every taper within the limits, the best, those as good, and the
 * ceiling that no sequence of daily loads within the limits can pass.
 *
 * Options tried: every length up to the longest; step, straight-line and
 * exponential falls with cuts in steps of 5 %; two steps with every division
 * of the days, cuts 25, 50, 75 % ... and the largest; full rest on the last
 * days. Where a limit lies between two of these (last) cuts, so that it allows
 * one and forbids the other, also the cut on the limit, to .01 %, so that a
 * wider limit does not look worse, and the whole per cent next to it. (Rises
 * can allow cuts between two steps and neither step; those cuts are not looked
 * for.) With a build-up allowed, also one to four weeks at 5, 10 ... % more
 * load before each of the tapers of one part.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_SEARCH_H
#define TAPER_SEARCH_H

#include "base/status.h"
#include "taper/limits.h"
#include "taper/score.h"

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
    double kept;      /* share of the load planned for the last `days` of the
                         search before the event */
    Tag tag;
} Found;

typedef struct {
    Found *items; /* items[0] is no taper */
    size_t count, room;
    double *cuts; /* cuts[i * days + u - 1]; NULL after search_run() */
    size_t cut_room;
    size_t days;        /* [d] days looked at: those of the longest taper, and
                           of a build-up where one is allowed */
    size_t best;        /* index; 0 when no taper helps */
    bool none_outside;  /* no taper breaks a limit (a rise of the usual week
                           itself): then the best may lose readiness */
    size_t recommended; /* keeps most training among those within 5 % of best */
    size_t equal;       /* number of options within 5 % of the best gain */
    double ceiling;     /* [readiness] */
    double *ceiling_cut; /* cut[u - 1] that reaches it */
} Search;

/* Two options whose gains differ by less than this share of the best gain
 * cannot be told apart. */
#define SEARCH_EQUAL 0.05

/* Tries everything. Fails when no option keeps within the limits, naming those
 * to blame, or when the ceiling's programme does. */
StatusCode search_run(const Outlook *outlook, const Score *score,
                      const Limits *limits, Search *search, Status *status);
void search_free(Search *search);

/* The two parts of it, for many scores of one outlook: the options within the
 * limits, and what a score says of them; no ceiling. To be freed. */
StatusCode search_list(const Outlook *outlook, const Limits *limits,
                       Search *search, Status *status);
void search_rate(Search *search, const Score *score);

/* Gain of the best option within the limits, without listing any [readiness].
 * 0 when no taper helps; -INFINITY when there is none at all. */
double search_best_gain(const Outlook *outlook, const Score *score,
                        const Limits *limits);

/* Best sequence of daily loads within the limits, see ceiling.h; `cut` (window
 * long) holds cuts within them on entry (say those of the best option). */
StatusCode search_ceiling(const Outlook *outlook, const Score *score,
                          const Limits *limits, double *cut, double *readiness,
                          Status *status);

/* Does an option keep within the limits? Shapes are not looked at. */
bool search_allows(const Outlook *outlook, const Limits *limits,
                   const Option *option);

/* The same, with the limit that it breaks first in words, "longer than
 * --max-length 28", appended. */
bool search_outside(const Outlook *outlook, const Limits *limits,
                    const Option *option, Text *why);

/* The same of cuts, cut[u - 1] for the day u before, as a plan in whole sets
 * and minutes carries them out: only loads are looked at. */
bool search_cuts_outside(const Outlook *outlook, const Limits *limits,
                         const double *cut, Text *why);

/* Share of planned load an option keeps over the last `days` before the
 * event. */
double search_kept(const Outlook *outlook, const Option *option, size_t days);
/* The same for cuts, cut[u - 1] for the day u before (window long). */
double search_kept_cuts(const Outlook *outlook, const double *cut, size_t days);

/* (option - no taper)/(ceiling - no taper); NAN when no gain is possible. */
double search_share(double gain, double ceiling_gain);

#endif
