/* fit_start: see fit_start.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/fit_start.h"

#include "taper/search.h"

static bool search_of(const AthleteFit *f, const Outlook *outlook,
                      const ResponseParams *params, Option *option) {
    const Question *q = f->c->context->question;
    Status status = {0};
    Score score;
    Search search;
    bool found;
    score_build(outlook, params, q->aim, &score);
    found =
        search_run(outlook, &score, &q->limits, &search, &status) == STATUS_OK;
    if (found)
        *option = search.items[search.recommended].option;
    search_free(&search);
    score_free(&score);
    return found;
}

bool fit_start_recommended(const AthleteFit *f, double before, Option *option) {
    const Case *c = f->c;
    AthleteTests own = {.test = 0};
    Posterior posterior = {.sigma = NULL};
    TestGroup kind = {&own.data, f->kind.prior};
    PosteriorAsked asked = {
        .model = &f->prior, .kind = &kind, .kinds = 1, .seed = POSTERIOR_SEED};
    Outlook outlook;
    Status status = {0};
    bool found;
    outlook_build(&c->usual, &c->daily, c->event, before, &outlook);
    found = athlete_tests_read(c->context->season, c->athlete, &outlook,
                               c->context->question->test, &own) &&
            posterior_run(&asked, DRAWS_DEFAULT, &posterior, &status) ==
                STATUS_OK &&
            search_of(f, &outlook, &posterior.centre, option);
    posterior_free(&posterior);
    athlete_tests_free(&own);
    outlook_free(&outlook);
    return found;
}
