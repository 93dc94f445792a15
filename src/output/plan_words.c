/* plan_words: see plan_words.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_words.h"

#include "cases/earlier.h"
#include "output/record_text.h"
#include "output/taper_text.h"
#include "output/team_text.h"

#include <math.h>
#include <stdio.h>

static void whole(Text *text, double now, double usual, const char *unit) {
    if (now != usual)
        text_add(text, "%.0f -> %.0f %s", usual, now, unit);
    else
        text_add(text, "%.0f %s", now, unit);
}

/* "Court  90 -> 45 min at 5". */
void plan_words_session(const PlanRow *row, Text *text) {
    if (row->event) {
        text_add(text, "*** %s ***", row->session);
        return;
    }
    text_add(text, "%s", row->session);
    if (row->cut >= 1 - 1e-9) {
        text_add(text, ": off");
        return;
    }
    if (isfinite(row->usual_minutes)) {
        text_add(text, ": ");
        whole(text, row->minutes, row->usual_minutes, "min");
    } else if (plan_was_cut(row)) {
        text_add(text, ": %.0f %% of the usual volume", 100 * (1 - row->cut));
    }
    if (isfinite(row->rpe))
        text_add(text, ", RPE %g", row->rpe);
    if (row->keep)
        text_add(text, " (stays)");
    else if (row->at_least)
        text_add(text, " (no shorter)");
}

/* "Back squat  5 -> 2 x 5 at 80 % of 1RM". */
void plan_words_exercise(const PlanRow *row, Text *text) {
    text_add(text, "%s: ", row->exercise);
    if (row->sets != row->usual_sets)
        text_add(text, "%.0f -> %.0f x %g", row->usual_sets, row->sets,
                 row->reps);
    else
        text_add(text, "%.0f x %g", row->sets, row->reps);
    if (isfinite(row->kg) && row->kg < row->usual_kg)
        text_add(text, " at %.4g kg (%.4g rounded down)", row->kg,
                 row->usual_kg);
    else if (isfinite(row->kg))
        text_add(text, " at %.4g kg", row->kg);
    else if (isfinite(row->percent))
        text_add(text, " at %g %% of 1RM", row->percent);
    if (row->keep)
        text_add(text, " (stays)");
}

/* Of the plan handed out its rows are all that is known. */
static void add_handed(const Plan *p, Text *text) {
    const Case *c = p->taper.c;
    Date first = plan_first_cut(p, 1);
    char day[DATE_TEXT];
    Text events = {0};
    record_text_events(c->context, c->athlete, &events);
    text_add(text, "as handed out on %s%s%s%s, ",
             date_write_short(day, p->taper.handed.issued),
             events.length ? " for " : "", text_of(&events),
             events.length ? " together" : "");
    if (first < c->event->start)
        text_add(text, "with less training from %s.",
                 date_write_short(day, first));
    else
        text_add(text, "no day of it cut.");
    text_free(&events);
}

void plan_words_lead(const Plan *p, Text *text) {
    const BestTaper *v = &p->taper;
    if (p->handed)
        add_handed(p, text);
    else if (isnan(v->together)) {
        taper_text_lead(v->c, &p->option, text);
    } else {
        taper_text_carried(v, text);
    }
}

/* Is there training on the day after the event before? */
static bool trains_at_once(const Plan *p) {
    for (size_t i = 0; i < p->sheet.count; i++)
        if (p->sheet.rows[i].date == p->from && p->sheet.rows[i].load > 0 &&
            !p->sheet.rows[i].event)
            return true;
    return false;
}

void plan_words_before(const Plan *p, Text *text) {
    char last[DATE_TEXT], next[DATE_TEXT];
    if (!p->before)
        return;
    date_write_short(last, p->from - 1);
    date_write_short(next, p->from);
    if (plan_waits(p))
        text_add(text,
                 "Until %s the plan for %s holds; this one begins on %s, the "
                 "day after it, which",
                 last, p->before->name, next);
    else
        text_add(text, "%s, the day after %s,", next, p->before->name);
    text_add(text, " is for recovery (common practice, no source): mobility "
                   "and an easy half hour at most.");
    if (trains_at_once(p))
        text_add(text, " What stays that day is not to be cut by your files.");
}

/* "10 days with 50 % less volume", of several events each. */
static void add_common(const Plan *p, Text *text) {
    if (p->peak_count == 0)
        option_words(&p->common, text);
    for (size_t k = 0; k < p->peak_count; k++) {
        text_add(text, "%sbefore %s ", k ? "; " : "", p->peaks[k].event->name);
        option_words(&p->peaks[k].common, text);
    }
}

static bool team_is_cut(const Plan *p) {
    bool cut = p->peak_count == 0 && p->common.count > 0;
    for (size_t k = 0; k < p->peak_count; k++)
        cut = cut || p->peaks[k].common.count > 0;
    return cut;
}

void plan_words_team(const Plan *p, size_t count, bool coach, Text *text) {
    TeamNames all = {0};
    Text taper = {0}, names = {0}, told = {0};
    if (p->handed)
        return;
    for (size_t i = 0; i < count; i++)
        if (team_text_same(p[i].taper.c, p->taper.c))
            team_names_join(&all, &p[i].taper.team);
    team_text_names(&all, false, &names);
    team_text_names(&all, true, &told);
    add_common(p, &taper);
    if (names.length && !team_is_cut(p))
        text_add(text,
                 "Sessions of the team (%s) are not cut for anybody: no taper "
                 "is common to the squad.",
                 text_of(&names));
    else if (names.length)
        text_add(text,
                 "Sessions of the team (%s) are cut alike for everybody, by "
                 "the common taper%s: %s.",
                 text_of(&names), p->peak_count ? "s" : "", text_of(&taper));
    if (told.length && coach)
        text_add(text,
                 " Most of the squad have %s at the same time: 'team' = no in "
                 "week.csv gives each athlete their own.",
                 text_of(&told));
    team_names_free(&all);
    text_free(&told);
    text_free(&names);
    text_free(&taper);
}

/* Loads of small size (kilometres, say) need a decimal. */
int plan_words_digits(const Plan *p) {
    double most = 0;
    for (size_t i = 0; i < p->sheet.count; i++)
        if (!p->sheet.rows[i].exercise)
            most = fmax(most, p->sheet.rows[i].usual_load);
    return most < 30;
}

static void add_total(double now, double usual, const char *unit, Text *text) {
    text_add(text, "; ");
    if (fabs(now - usual) > .005 * usual)
        text_add(text, "%.0f -> ", usual);
    text_add(text, "%.0f %s", now, unit);
}

void plan_words_total(const Plan *p, size_t from, size_t to, Text *text) {
    PlanTotals t = plan_totals(p, from, to);
    int digits = plan_words_digits(p);
    if (t.usual_load - t.load > .005 * t.usual_load)
        text_add(text, "usual %.*f", digits, t.usual_load);
    else
        text_add(text, "as usual");
    if (t.usual_minutes > 0)
        add_total(t.minutes, t.usual_minutes, "min", text);
    if (t.usual_sets > 0)
        add_total(t.sets, t.usual_sets, "sets", text);
    if (t.usual_moved > 0)
        add_total(t.moved, t.usual_moved, "kg", text);
}

const char *plan_words_note(const Plan *p, size_t from, size_t to) {
    PlanTotals t = plan_totals(p, from, to);
    return plan_not_cut(&t)
               ? "NOTE: fewer sets, but nearly as much weight moved"
               : NULL;
}

/* [readiness] */
static double carried_out(const Plan *p) {
    return p->handed ? p->taper.handed.readiness : p->rounded;
}

/* In the test's unit where there is one. */
static void add_readiness(const Plan *p, Text *text) {
    const BestTaper *v = &p->taper;
    Spread spread =
        p->handed ? v->handed.spread : best_taper_spread_cuts(v, p->sheet.cut);
    double scale = best_taper_scale(v);
    char now[FIGURE_TEXT], other[FIGURE_TEXT];
    text_add(text, " Readiness at the event, %s: %s", case_model(v->c)->unit,
             words_figure(now, case_shown(v->c, carried_out(p)), scale));
    if (isfinite(spread.readiness_low))
        text_add(text, " (90 %% range %s to %s)",
                 words_figure(now, spread.readiness_low, scale),
                 words_figure(other, spread.readiness_high, scale));
    text_add(text, ", without a taper %s.",
             words_figure(now, case_shown(v->c, v->search.items[0].readiness),
                          scale));
}

void plan_words_outcome(const Plan *p, Text *text) {
    const BestTaper *v = &p->taper;
    double none = v->search.items[0].readiness;
    double share = search_share(carried_out(p) - none, v->possible), before;
    char number[FIGURE_TEXT];
    const char *plan = p->handed ? "The plan handed out" : "This plan";
    if (best_taper_silent(v))
        text_add(text, "How much this plan brings, these tests cannot tell: "
                       "training explains little of how they vary.");
    if (!isfinite(share) || best_taper_silent(v))
        return;
    before = search_share(p->ideal - none, v->possible);
    if (share < 0)
        text_add(text, "%s takes more than it gives", plan);
    else
        text_add(text, "%s brings %s of the largest gain possible", plan,
                 words_percent(number, share));
    if (share >= 0 && !p->handed && usual_has_minutes(&v->c->usual))
        text_add(text, "; before rounding to whole sets and 5 minutes %s",
                 words_percent(number, before));
    text_add(text, ".");
    if (case_level_known(v->c))
        add_readiness(p, text);
}

const char *plan_words_cost(char buffer[FIGURE_TEXT], double cost) {
    if (cost > .995)
        snprintf(buffer, FIGURE_TEXT, "all of it");
    else
        snprintf(buffer, FIGURE_TEXT, "%.0f %%", 100 * cost);
    return buffer;
}

void plan_words_marks(const Plan *p, size_t count, Text *text) {
    double most = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t row = 0; row < p[i].sheet.count; row++)
            if (p[i].sheet.rows[row].date >= plan_first_cut(&p[i], 1))
                most = fmax(most, p[i].cost[row]); /* the others go untold */
    if (100 * most < PLAN_COST_SHOWN)
        return;
    text_add(text, "'! 8 %%': missing it costs 8 %% of what a taper can gain "
                   "('all of it': as much or more), so look after that one. ");
}

/* ---- before the first cut ---- */

static bool recovers(const Plan *p, size_t count, Date date) {
    for (size_t k = 0; k < count; k++)
        if (date >= p[k].from && earlier_recovers(p[k].taper.c, date))
            return true;
    return false;
}

void plan_words_usual(const Plan *p, size_t count, Date first, Text *words) {
    bool blocks = false;
    Date off = DATE_NONE;
    const char *link = ", but for";
    char day[DATE_TEXT];
    for (size_t k = 0; k < count; k++) {
        const Case *c = p[k].taper.c;
        const Season *s = c->context->season;
        for (Date at = p[k].from; at < first; at++) {
            blocks = blocks || season_block(s, c->athlete, at);
            const Absence *a = season_absence(s, c->athlete, at);
            if (a && (off == DATE_NONE || a->to + a->return_days > off))
                off = a->to + a->return_days;
        }
    }
    text_add(words, "%s",
             blocks ? "as blocks.csv says (load --ahead)" : "as usual");
    for (Date at = p[0].taper.c->context->season->today + 1; at < first; at++)
        if (recovers(p, count, at)) {
            text_add(words, "%s recovery on %s", link,
                     date_write_short(day, at));
            link = " and";
        }
    if (off != DATE_NONE)
        text_add(words, "%s days off and the return until %s", link,
                 date_write_short(day, off));
}
