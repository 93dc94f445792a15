/* virtual_squad: what the program itself says to virtual athletes: their logs
 * and tests become a season in memory, which is answered as `taper` answers one
 * read from files.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_VIRTUAL_SQUAD_H
#define ANSWERS_VIRTUAL_SQUAD_H

#include "answers/virtual.h"
#include "cases/case.h"

/* What all squads of a design share: a question, and the models read. */
typedef struct {
    Question question;
    Context context;
} VirtualAdviser;

/* Reads the assumed models; faults are among the notes. It must not move. */
void virtual_squad_open(const Design *design, unsigned long seed, Notes *notes,
                        VirtualAdviser *adviser);
void virtual_squad_close(VirtualAdviser *adviser);

/* One athlete of a squad; those without a truth have no days. */
typedef struct {
    VirtualWay way;
    VirtualTests tests;
} VirtualAthlete;

/* What is claimed of one taper for one athlete. */
typedef struct {
    Option option;
    double gain, low, high; /* [readiness] low, high: 90 % range, NAN: none */
    bool there;             /* else no advice could be computed */
} VirtualClaim;

/* Of `tapers` values of the factor taper for each of `count` athletes:
 * claim[athlete * tapers + taper]. The ways have logged days. */
void virtual_squad_claim(const VirtualAdviser *adviser,
                         const DesignValue *const at[FACTORS],
                         const DesignValue *taper, size_t tapers,
                         const VirtualAthlete *athlete, size_t count,
                         VirtualClaim *claim);

/* The season itself; to be freed. The event is in it. */
Season *virtual_squad_season(const DesignValue *const at[FACTORS],
                             const VirtualAthlete *athlete, size_t count);

#endif
