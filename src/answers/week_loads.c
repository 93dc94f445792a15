/* week_loads: see week_loads.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/week_loads.h"

#include <math.h>

bool week_loads_at(const Daily *d, size_t index, WeekLoads *w) {
    Date first_monday;
    if (d->days == 0)
        return false;
    first_monday = d->first - date_weekday(d->first);
    *w = (WeekLoads){.monday = first_monday + 7 * (Date)index};
    if (w->monday >= d->first + (Date)d->days)
        return false;
    for (int i = 0; i < 7; i++) {
        Date date = w->monday + i;
        bool inside = date >= d->first && date < d->first + (Date)d->days;
        w->day[i] = inside ? d->load[date - d->first] : NAN;
        w->days += inside;
        w->load += inside ? w->day[i] : 0;
    }
    w->monotony = w->days == 7 ? load_monotony(w->day) : NAN;
    w->strain = w->days == 7 ? load_strain(w->day) : NAN;
    return true;
}
