/* taper_warnings: see taper_warnings.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/taper_warnings.h"

#include "present/grid.h"
#include "response/landmarks.h"

#include <math.h>

static void say(FILE *to, const Text *text) {
    if (text->length)
        print_wrapped(to, text_of(text), 79, 2);
}

static void say_no_gain(const BestTaper *v, FILE *to) {
    Landmarks marks = landmarks_of(&case_model(v->c)->params);
    Text text = {0};
    if (v->search.best > 0)
        return;
    text_add(&text,
             "%s: no taper raises readiness at the event in this model. ",
             v->c->name);
    if (!isfinite(marks.t_n))
        text_add(&text,
                 "Its fatigue gain is not above its fitness gain (or it has "
                 "no fatigue), so each session helps from the day after and "
                 "rest only loses fitness. That is an ordinary outcome of "
                 "such models, not advice to train through: decide by the "
                 "published evidence.");
    else if (marks.t_n < 1)
        text_add(&text,
                 "In it a session tires for less than a day, so there is "
                 "nothing to taper for.");
    else if (v->score.linear && v->draws.count && best_taper_cut_days(v) == 0)
        text_add(&text,
                 "Over all likely models together a session gives more by "
                 "then than it takes, though in some of them rest would "
                 "help: the data cannot tell. Decide by the published "
                 "evidence.");
    else
        text_add(&text, "There may be nothing to cut in the days left.");
    say(to, &text);
    text_free(&text);
}

static void say_percent(const BestTaper *v, FILE *to) {
    double percent =
        best_taper_percent(v, v->search.items[v->search.best].gain);
    Text text = {0};
    if (isfinite(percent) && percent > 6)
        text_add(&text,
                 "%s: the model promises +%.1f %%. That is beyond published "
                 "experience (0.5-6 %%): do not expect it.",
                 v->c->name, percent);
    else if (isfinite(percent) && percent > 0 && percent < .495 &&
             v->c->outlook.window >= 5)
        text_add(&text,
                 "%s: the model promises no more than +%.2g %%, less than "
                 "published tapers brought (0.5-6 %%): a taper hardly matters "
                 "here.",
                 v->c->name, percent);
    say(to, &text);
    text_free(&text);
}

static void say_time(const BestTaper *v, FILE *to) {
    size_t cut_days = best_taper_cut_days(v);
    Text text = {0};
    if (v->c->outlook.window < 5)
        text_add(&text,
                 "%s: only %zu day%s can be cut, too few for a taper to "
                 "change much; keep calm and rest well.",
                 v->c->name, v->c->outlook.window,
                 v->c->outlook.window == 1 ? "" : "s");
    else if (v->c->outlook.window == cut_days)
        text_add(&text,
                 "%s: %zu days are left, and in all of them this model would "
                 "cut; it would have begun earlier.",
                 v->c->name, v->c->outlook.window);
    say(to, &text);
    text_free(&text);
}

void taper_warnings_print(const BestTaper *v, FILE *to) {
    say_no_gain(v, to);
    say_percent(v, to);
    say_time(v, to);
}

static bool limits_usual(const Limits *limits) {
    for (LimitName name = 0; name < LIMIT_NAMES; name++)
        if (limits_given(limits, name))
            return false;
    return true;
}

/* The caution that a build-up deserves. */
static void print_build_up(const Case *c, FILE *to) {
    const Limits *l = &c->context->question->limits;
    if (l->build_up <= 0)
        return;
    print_wrapped(
        to,
        "Build-up: more load than usual is searched because it was asked for. "
        "It is for healthy, full-grown athletes who are used to such loads; "
        "never for minors, after illness or injury, or in heat. Stop it at "
        "pain, poor sleep or lasting fatigue, and ask a physician. Its worth "
        "rests on a simulation (28 days at +20 %: Thomas, Busso 2005, Med Sci "
        "Sports Exerc 37:1615-1621).",
        79, 2);
    if (response_linear(case_model(c)->params.kind))
        print_wrapped(to,
                      "This model is linear: to it more load weeks before "
                      "always looks better, so it cannot judge a build-up. "
                      "--model busso-2003, whose fatigue grows with the dose, "
                      "can.",
                      79, 2);
}

void taper_warnings_limits(const Case *c, size_t longest, FILE *to) {
    const Limits *l = &c->context->question->limits;
    Text text = {0};
    text_add(&text, "Searched%s:",
             limits_usual(l) ? " within the default limits" : "");
    for (int shape = SHAPE_STEP; shape <= SHAPE_REST; shape++)
        if (l->shapes & 1u << shape)
            text_add(&text, " %s,", shape_names[shape]);
    text_add(&text, " up to %zu days, cuts up to %.4g %%", longest, l->max_cut);
    if (l->shapes & 1u << SHAPE_REST)
        text_add(&text, ", full rest on at most the last %d days",
                 l->rest_days);
    for (LimitName name = LIMIT_SESSIONS; name <= LIMIT_CUT_KINDS; name++)
        if (limits_given(l, name)) {
            text_add(&text, "; ");
            limits_words(l, name, &text);
        }
    text_add(&text, ".");
    print_wrapped(to, text_of(&text), 79, 2);
    text_free(&text);
    print_build_up(c, to);
}
