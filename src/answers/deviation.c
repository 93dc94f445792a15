/* deviation: see deviation.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/deviation.h"

#include <math.h>

/* An option with its longest part longer or shorter, or its cuts moved; false
 * when there is no such option. */
static bool move_option(Option *o, int days, double points) {
    int longest = 0;
    for (int i = 1; i < o->count; i++)
        if (o->part[i].days > o->part[longest].days)
            longest = i;
    o->part[longest].days += days;
    for (int i = 0; i < o->count; i++) {
        OptionPart *p = &o->part[i];
        p->to = fmin(100, fmax(0, p->to + points));
        p->from = p->fall == 'x' ? p->to : p->from;
    }
    return o->part[longest].days > 0;
}

double deviation_change(const BestTaper *v, int days, double points) {
    const Found *items = v->search.items,
                *chosen = &items[v->search.recommended];
    Limits limits = case_limits(v->c);
    Option moved = chosen->option;
    if (!move_option(&moved, days, points) ||
        option_days(&moved) > (int)v->longest)
        return NAN;
    if ((days > 0 || points > 0) &&
        !search_allows(&v->c->outlook, &limits, &moved))
        return NAN; /* no more than is asked for */
    return (score_option(&v->score, &moved) - items[0].readiness) /
               chosen->gain -
           1;
}
