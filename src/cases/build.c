/* build: see build.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/build.h"

#include "cases/changed_days.h"
#include "cases/earlier.h"
#include "cases/events.h"
#include "cases/models.h"
#include "cases/warnings.h"
#include "cases/week_limits.h"

/* --before fit: the training before the log that suits the tests best. */
static void fit_before(Context *d, Case *c) {
    AthleteTests own;
    if (!athlete_tests_read(d->season, c->athlete, &c->outlook,
                            d->question->test, &own)) {
        case_warn(d, c,
                  "has no tests for --before fit; the mean of the first 28 "
                  "days is used");
        return;
    }
    c->before = athlete_tests_before(&own, c->before);
    athlete_tests_free(&own);
    outlook_free(&c->outlook);
    outlook_build(&c->usual, &c->daily, c->event, c->before, &c->outlook);
}

bool build_case(Context *d, size_t athlete, Case *c) {
    size_t errors = d->notes->errors;
    const Event *event = events_find(d, athlete);
    *c = (Case){.context = d,
                .athlete = athlete,
                .name = d->season->athletes[athlete].name};
    daily_build(d->season, athlete, d->question->read.gaps_typical, &c->daily);
    season_require_loads(d->season, athlete, d->notes);
    usual_build(d->season, athlete, &c->daily, &c->usual, d->notes);
    c->usual.handed = d->question->carried && !d->question->ignore_plan;
    c->usual.as_issued = d->question->as_issued;
    if (event && events_judge(d, event))
        c->event = event;
    earlier_apply(d, c);
    week_limits_apply(d, c);
    if (d->notes->errors > errors)
        return false;
    if (d->question->before != BEFORE_NOTHING)
        c->before = daily_first_mean(&c->daily);
    changed_days_apply(d, c);
    if (d->notes->errors > errors)
        return false;
    outlook_build(&c->usual, &c->daily, c->event, c->before, &c->outlook);
    if (d->question->before == BEFORE_FIT)
        fit_before(d, c);
    if (d->notes->errors > errors)
        return false;
    c->model = models_of(d, c);
    if (d->notes->errors > errors)
        return false;
    warnings_add(d, c);
    return true;
}
