/* best_taper: see best_taper.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/best_taper.h"

#include "base/mem.h"
#include "cases/models.h"
#include "taper/common.h"
#include "taper/prescription.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Says whose search has failed. */
static void name_athlete(const Case *c, Status *status) {
    Status failed = *status;
    *status = (Status){0};
    status_fail(status, failed.code, "%s: %s", c->name, failed.text);
}

void best_taper_score(const Case *c, const Outlook *o, DrawScores *draws,
                      Score *score) {
    Aim aim = c->context->question->aim;
    draw_scores_build(o, case_draws(c), aim, case_anchor(c), draws);
    if (draws->count)
        draw_scores_mean(draws, score);
    else
        score_build(o, &case_model(c)->params, aim, score);
}

/* With readiness as the test shows it. */
static Spread shown(const BestTaper *v, Spread spread) {
    double low = case_shown(v->c, spread.readiness_low);
    double high = case_shown(v->c, spread.readiness_high);
    spread.readiness_low = fmin(low, high);
    spread.readiness_high = fmax(low, high);
    return spread;
}

Spread best_taper_spread(const BestTaper *v, const Option *option) {
    return shown(v, draw_scores_option(&v->draws, option, v->work));
}

Spread best_taper_spread_cuts(const BestTaper *v, const double *cut) {
    return shown(v, draw_scores_cuts(&v->draws, cut, v->work));
}

/* Recommends what was decided for the athlete with the others. */
static void recommend(Search *s, const Option *option) {
    for (size_t i = 0; i < s->count; i++) {
        if (!common_same(&s->items[i].option, option))
            continue;
        if (s->recommended > 0)
            s->items[s->recommended].tag =
                s->recommended == s->best ? TAG_BEST : TAG_EQUAL;
        s->recommended = i;
        s->items[i].tag = i > 0 ? TAG_RECOMMENDED : TAG_NONE;
        return;
    }
}

bool best_taper_same_unit(const BestTaper *a, const BestTaper *b) {
    return case_model(a->c)->scaled &&
           models_same_unit(case_model(a->c), case_model(b->c));
}

const Assigned *best_taper_assigned(const Case *c) {
    const Assigned *all = c->context->assigned;
    return all && c->event && all[c->athlete].event == c->event
               ? &all[c->athlete]
               : NULL;
}

bool best_taper_unknown(const BestTaper *v) {
    const Assigned *a = best_taper_assigned(v->c);
    return a && !a->known;
}

bool best_taper_silent(const BestTaper *v) {
    return best_taper_unknown(v) && best_taper_assigned(v->c)->tested;
}

Option best_taper_common(const Case *c, const Option *own) {
    const Context *d = c->context;
    const Athlete *athletes = d->season->athletes;
    size_t count = case_off(c) ? 0 : d->season->athlete_count;
    for (size_t i = 0; d->assigned && i < count; i++) {
        const Assigned *a = &d->assigned[i];
        if (a->teamed && a->event == c->event &&
            athletes[i].squad == athletes[c->athlete].squad)
            return a->team;
    }
    return *own;
}

Option best_taper_own(const BestTaper *v) {
    return v->trains_on ? (Option){0}
                        : v->search.items[v->search.recommended].option;
}

/* Of the recommended taper in whole sets and minutes. */
static double rounded_gain(const BestTaper *v) {
    const Search *s = &v->search;
    Option own = best_taper_own(v), common = best_taper_common(v->c, &own);
    Prescription sheet;
    double gain;
    prescription_build_team(&v->c->outlook, &v->c->usual, &own, &common,
                            &sheet);
    gain = score_cuts(&v->score, sheet.cut) - s->items[0].readiness;
    prescription_free(&sheet);
    return gain;
}

/* What may be cut of a day, the team's and other sessions [load]; added. */
static void add_day(const Case *c, const Outlook *o, size_t day, double *team,
                    double *others) {
    PlannedSession sessions[USUAL_MOST];
    size_t count = usual_day(&c->usual, o->first + (Date)day, sessions);
    for (size_t i = 0; i < count; i++) {
        double load = sessions[i].keep ? 0 : sessions[i].load;
        *team += sessions[i].team ? load : 0;
        *others += sessions[i].team ? 0 : load;
    }
}

bool best_taper_follows(const Case *c, const Outlook *o) {
    double team = 0, others = 0;
    for (size_t day = o->event_day - o->window; day < o->event_day; day++)
        add_day(c, o, day, &team, &others);
    return team > others;
}

/* Which sessions a taper may cut, and which of them are the team's. */
static void set_team(BestTaper *v) {
    const Case *c = v->c;
    const Outlook *o = &c->outlook;
    PlannedSession sessions[USUAL_MOST];
    size_t first = case_off(c) ? o->event_day : o->event_day - o->window;
    for (size_t day = first; day < o->event_day; day++) {
        Date date = o->first + (Date)day;
        size_t count = usual_day(&c->usual, date, sessions);
        for (size_t i = 0; i < count; i++)
            if (!sessions[i].keep && sessions[i].load > 0)
                team_names_add(&v->team, &sessions[i], date_weekday(date));
    }
    v->follows = best_taper_follows(c, o);
}

/* Day by day what is cut of the loads that may be: of the team's sessions by
 * the common taper. */
static void mixed_cuts(const Case *c, const Option *own, const Option *common,
                       double *cut) {
    const Outlook *o = &c->outlook;
    double *together = mem_new(o->window, sizeof *together);
    option_cuts(own, o->window, cut);
    option_cuts(common, o->window, together);
    for (size_t u = 0; u < o->window; u++) {
        double team = 0, others = 0;
        add_day(c, o, o->event_day - u - 1, &team, &others);
        if (team > 0)
            cut[u] += (together[u] - cut[u]) * team / (team + others);
    }
    free(together);
}

enum { SPELL = 28 /* [d] */ };

static bool is_low(const Usual *u, const Outlook *o, const double *cut,
                   Date date) {
    size_t before = (size_t)(o->event->start - date);
    if (before <= o->window && cut[before - 1] > .5)
        return true;
    return date >= u->cut_from && date < u->cut_from + (Date)u->cut_days &&
           u->cut[date - u->cut_from] > .5;
}

/* Finds `low` and `low_from`. */
static void find_low(BestTaper *v, const double *cut) {
    const Outlook *o = &v->c->outlook;
    Date today = v->c->context->season->today;
    size_t low = 0;
    v->low = 0;
    for (Date date = today + 1; date < o->event->start; date++) {
        low += is_low(&v->c->usual, o, cut, date);
        if (date - SPELL > today)
            low -= is_low(&v->c->usual, o, cut, date - SPELL);
        if (low <= v->low)
            continue;
        v->low = low;
        v->low_from = date - SPELL >= today ? date - SPELL + 1 : today + 1;
    }
}

/* How the recommended option is carried out; does the common taper shape it? */
static bool carry_out(const BestTaper *v, double *cut) {
    Option own = best_taper_own(v), common = best_taper_common(v->c, &own);
    bool mixed =
        !v->alone && team_names_any(&v->team) && !common_same(&common, &own);
    if (mixed)
        mixed_cuts(v->c, &own, &common, cut);
    else
        option_cuts(&own, v->c->outlook.window, cut);
    return mixed;
}

void best_taper_cuts(const BestTaper *v, double *cut) {
    carry_out(v, cut);
}

/* Finds what is carried out of the recommended option, and what it gains. */
static void settle(BestTaper *v) {
    double *cut = mem_new(v->c->outlook.window, sizeof *cut);
    v->together = NAN;
    if (carry_out(v, cut))
        v->together = score_cuts(&v->score, cut) - v->search.items[0].readiness;
    v->spread = best_taper_spread_cuts(v, cut);
    v->kept = search_kept_cuts(&v->c->outlook, cut, v->longest);
    find_low(v, cut);
    free(cut);
}

double best_taper_gain(const BestTaper *v) {
    const Search *s = &v->search;
    return isnan(v->together) ? s->items[s->recommended].gain : v->together;
}

/* Is a gain too small to be shown? */
static bool unseen(const BestTaper *v, double gain) {
    double percent = best_taper_percent(v, gain);
    return isfinite(percent) ? percent < .05 : gain < .005 * v->possible;
}

bool best_taper_hardly_matters(const BestTaper *v, double gain) {
    return best_taper_percent(v, gain) < .495; /* false for NAN */
}

bool best_taper_replan(const BestTaper *v) {
    const Handed *h = &v->handed;
    double gain = h->weighed ? h->weighed->gain : h->gain;
    double renewed = h->weighed ? h->weighed->renewed : h->renewed;
    double adds = renewed - gain;
    double least = COMMON_OWN * fmax(renewed, 0) + 1e-9;
    bool harms = gain < 0 && !unseen(v, -gain);
    bool more = adds > least && !unseen(v, adds) &&
                (harms || !best_taper_hardly_matters(v, renewed)) &&
                !best_taper_unknown(v);
    return h->there && (h->outside || more);
}

bool best_taper_takes(const BestTaper *v) {
    const Handed *h = &v->handed;
    double gain = h->weighed ? h->weighed->gain : h->gain;
    return h->there && !best_taper_unknown(v) && !best_taper_replan(v) &&
           gain < 0 && !unseen(v, -gain);
}

bool best_taper_stands(const BestTaper *v) {
    return v->handed.there && !v->given && !best_taper_replan(v);
}

void best_taper_carried(const BestTaper *v, Case *c, double *cut) {
    const Option none = {.count = 0};
    if (best_taper_stands(v) && handed_case(v->c, c)) {
        option_cuts(&none, c->outlook.window, cut);
    } else {
        *c = *v->c;
        best_taper_cuts(v, cut);
    }
}

void best_taper_carried_free(const BestTaper *v, Case *c) {
    if (best_taper_stands(v))
        handed_case_free(c);
}

StatusCode best_taper_build(const Case *c, BestTaper *v, Status *status) {
    Limits limits = case_limits(c);
    StatusCode code;
    *v = (BestTaper){.c = c};
    v->longest = c->outlook.window < (size_t)limits.max_length
                     ? c->outlook.window
                     : (size_t)limits.max_length;
    best_taper_score(c, &c->outlook, &v->draws, &v->score);
    code = search_run(&c->outlook, &v->score, &limits, &v->search, status);
    if (code != STATUS_OK)
        name_athlete(c, status);
    else if (best_taper_assigned(c)) {
        recommend(&v->search, &best_taper_assigned(c)->option);
        v->trains_on = best_taper_assigned(c)->trains_on;
    }
    v->possible = v->search.ceiling - v->search.items[0].readiness;
    v->work = mem_new(2 * v->draws.count, sizeof *v->work);
    handed_find(c, &v->draws, &v->score, &v->handed);
    set_team(v);
    if (code == STATUS_OK && v->handed.there)
        v->handed.renewed = rounded_gain(v);
    if (code == STATUS_OK)
        settle(v);
    return code;
}

void best_taper_take(BestTaper *v, const Option *option, bool alone) {
    Search *s = &v->search;
    double readiness = score_option(&v->score, option);
    s->items = mem_grow(s->items, &s->room, s->count + 1, sizeof *s->items);
    s->items[s->count] =
        (Found){.option = *option,
                .readiness = readiness,
                .gain = readiness - s->items[0].readiness,
                .kept = search_kept(&v->c->outlook, option, v->longest),
                .tag = TAG_RECOMMENDED};
    s->recommended = s->count++;
    s->equal = 1;
    v->given = true;
    v->alone = alone;
    v->trains_on = false;
    settle(v);
}

void best_taper_move(BestTaper *from, const Case *c, BestTaper *to) {
    *to = *from;
    to->c = c;
    to->score.outlook = &c->outlook;
    to->draws.outlook = &c->outlook;
    *from = (BestTaper){0};
}

static void slim_search(Search *s, size_t also) {
    size_t kept = 0, best = 0, recommended = 0;
    Found *items = mem_new(s->count, sizeof *items);
    for (size_t i = 0; i < s->count; i++) {
        if (i && i != s->best && i != s->recommended && i != also)
            continue;
        best = i == s->best ? kept : best;
        recommended = i == s->recommended ? kept : recommended;
        items[kept++] = s->items[i];
    }
    free(s->items);
    s->items = mem_fit(items, kept, sizeof *items);
    s->count = s->room = kept;
    s->best = best;
    s->recommended = recommended;
}

void best_taper_slim(BestTaper *v, size_t also) {
    draw_scores_free(&v->draws);
    free(v->work);
    v->work = NULL;
    free(v->score.work);
    v->score.work = NULL;
    slim_search(&v->search, also);
}

void best_taper_free(BestTaper *v) {
    score_free(&v->score);
    search_free(&v->search);
    draw_scores_free(&v->draws);
    free(v->work);
    team_names_free(&v->team);
    *v = (BestTaper){0};
}

size_t best_taper_cut_days(const BestTaper *v) {
    const Score *s = &v->score;
    size_t last = 0;
    if (!s->linear) /* what a session does hangs on what else is cut */
        return 0;
    for (size_t u = 1; u <= s->window; u++) {
        double drop = score_drop(s, u);
        if (drop > 0)
            return last ? u - 1 : 0;
        if (drop < 0)
            last = u;
    }
    return last;
}

double best_taper_beats(const BestTaper *v, const Option *a, const Option *b) {
    double *one = v->work, *other = v->work + v->draws.count;
    draw_scores_gains(&v->draws, a, one);
    draw_scores_gains(&v->draws, b, other);
    return draw_scores_beat(one, other, v->draws.count);
}

Option best_taper_option(const Search *s, const char *spec) {
    Option option = {.count = 0};
    char why[OPTION_WHY];
    if (text_same(spec, "best"))
        return s->items[s->best].option;
    if (text_same(spec, "recommended"))
        return s->items[s->recommended].option;
    option_read(spec, &option, why);
    return option;
}

double best_taper_percent(const BestTaper *v, double gain) {
    double level = v->search.items[0].readiness;
    if (!case_level_known(v->c) || level == 0)
        return NAN;
    return 100 * gain / fabs(level);
}

double best_taper_scale(const BestTaper *v) {
    return fmax(v->possible, .01 * fabs(v->search.items[0].readiness));
}

size_t best_taper_where(const Search *s, bool (*fits)(const Option *)) {
    size_t best = 0;
    for (size_t i = 1; i < s->count; i++)
        if (fits(&s->items[i].option) &&
            (best == 0 || s->items[i].gain > s->items[best].gain))
            best = i;
    return best;
}

bool best_taper_published(const Option *o) {
    return option_shape(o) == SHAPE_STEP && option_more(o) == 0 &&
           option_days(o) >= 8 && option_days(o) <= 14 && option_cut(o) >= 41 &&
           option_cut(o) <= 60;
}
