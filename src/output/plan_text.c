/* plan_text: see plan_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_text.h"

#include "base/mem.h"
#include "output/footer.h"
#include "output/plan_days.h"
#include "output/plan_words.h"
#include "output/taper_text.h"
#include "output/taper_warnings.h"
#include "output/team_text.h"
#include "output/words.h"
#include "taper/common.h"

#include <math.h>
#include <stdlib.h>

/* ---- what to watch ---- */

/* Rounding may break a limit that the taper keeps. */
static void add_broken(const Plan *p, Document *doc) {
    const Case *c = p->taper.c;
    Text text = {0};
    if (!p->given &&
        search_cuts_outside(&c->outlook, &c->context->question->limits,
                            p->sheet.cut, &text))
        document_words(doc, WORDS_ITEM,
                       "As rounded, %s: mend it by hand where that matters.",
                       text_of(&text));
    text_free(&text);
}

static void add_legend(const Plan *p, size_t count, Document *doc) {
    Text text = {0};
    if (!usual_has_minutes(&p->taper.c->usual))
        document_words(
            doc, WORDS_ITEM,
            "Neither week.csv nor the log tells minutes, so only "
            "loads can be planned: write the usual week into week.csv and the "
            "exercises into exercises.csv.");
    document_words(doc, WORDS_ITEM,
                   "Kilograms, per cent of 1RM, repetitions and RPE stay as "
                   "usual: the volume is cut, not the intensity. Days not "
                   "listed are rest days. A session missed is missed: nothing "
                   "is added back.");
    if (count == 1)
        plan_words_marks(p, count, &text);
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&text);
}

static void add_outcome(const Plan *p, Document *doc) {
    Text text = {0};
    plan_words_outcome(p, &text);
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&text);
}

/* ---- notes ---- */

enum { COSTS_LISTED = 8 };

/* The session that costs most to miss of those not `taken`; the number of rows
 * if none is worth a mark. */
static size_t costliest(const Plan *p, const bool *taken) {
    size_t most = p->sheet.count;
    for (size_t i = 0; i < p->sheet.count; i++)
        if (!taken[i] && 100 * p->cost[i] >= PLAN_COST_SHOWN &&
            (most == p->sheet.count || p->cost[i] > p->cost[most]))
            most = i;
    return most;
}

static void add_costs(const Plan *p, Document *doc) {
    bool *taken = mem_new(p->sheet.count, sizeof *taken);
    Text text = {0};
    for (int n = 0; n < COSTS_LISTED; n++) {
        size_t at = costliest(p, taken);
        char day[DATE_TEXT], cost[FIGURE_TEXT];
        if (at == p->sheet.count)
            break;
        taken[at] = true;
        text_add(&text, "%s%s %s %s", n ? ", " : "",
                 date_write_short(day, p->sheet.rows[at].date),
                 p->sheet.rows[at].session, plan_words_cost(cost, p->cost[at]));
    }
    if (text.length)
        document_words(doc, WORDS_PLAIN,
                       "What missing a session costs of what a taper can gain, "
                       "the dearest first: %s.",
                       text_of(&text));
    text_free(&text);
    free(taken);
}

static void add_notes(const Plan *p, size_t count, Document *doc) {
    const Case *c = p->taper.c;
    TeamNames team = {0};
    for (size_t i = 0; i < count; i++)
        team_names_join(&team, &p[i].taper.team);
    document_open(doc, BLOCK_NOTES, NULL, "Assumptions, method, sources");
    if (count == 1)
        add_costs(p, doc);
    if (plan_lists(p))
        document_words(doc, WORDS_PLAIN,
                       "kg of a week: sets x repetitions x weight, where "
                       "kilograms are given.");
    team_text_notes(&team, doc);
    team_names_free(&team);
    footer_evidence(doc);
    if (!p->given)
        taper_warnings_searched(c, p->taper.longest, doc);
    footer_basis(c->context, c, doc);
    document_close(doc, BLOCK_NOTES);
}

/* ---- one athlete ---- */

/* Of one event: what its sessions are cut by. */
static void peak_words(const PlanPeak *peak, Text *text) {
    bool alike = common_same(&peak->option, &peak->common);
    if (peak->team)
        option_words(&peak->common, text);
    if (peak->team && peak->own && !alike)
        text_add(text, " for sessions of the team, of their own ");
    if (!peak->team || (peak->own && !alike))
        option_words(&peak->option, text);
}

static bool rests(const PlanPeak *peak) {
    return (peak->team && option_cut(&peak->common) == 100) ||
           ((peak->own || !peak->team) && option_cut(&peak->option) == 100);
}

/* "Before Regional cup, Sat 25 Apr, 1 day with 55 % less volume; ..." */
static void add_peaks(const Plan *p, Document *doc) {
    Text text = {0};
    char day[DATE_TEXT];
    bool rest = false;
    for (size_t k = 0; k < p->peak_count; k++) {
        const PlanPeak *peak = &p->peaks[k];
        rest = rest || rests(peak);
        text_add(&text, "%s %s, %s, ", k ? "; before" : "Before",
                 peak->event->name, date_write_short(day, peak->event->start));
        peak_words(peak, &text);
    }
    document_words(doc, WORDS_LEAD,
                   "%s. Intensity and number of sessions as usual%s.",
                   text_of(&text), rest ? " but for full rest" : "");
    text_free(&text);
}

/* What each event gets, and the day after it. */
static void add_peaks_outcome(const Plan *p, Document *doc) {
    const Case *c = p->taper.c;
    double scale = best_taper_scale(&p->taper);
    bool level = case_has_figures(c);
    for (size_t k = 0; k < p->peak_count; k++) {
        const PlanPeak *peak = &p->peaks[k];
        bool told = isfinite(peak->readiness) && level;
        bool last = k + 1 == p->peak_count;
        char with[FIGURE_TEXT], low[FIGURE_TEXT], high[FIGURE_TEXT];
        Text text = {0};
        if (told)
            text_add(&text, "readiness %s",
                     words_figure(with, case_shown(c, peak->readiness), scale));
        if (told && isfinite(peak->low))
            text_add(&text, " (90 %% range %s to %s)",
                     words_figure(low, peak->low, scale),
                     words_figure(high, peak->high, scale));
        if (told)
            text_add(&text, ", without any taper %s%s",
                     words_figure(with, case_shown(c, peak->none), scale),
                     peak->readiness < peak->none
                         ? ": it takes more than it gives there"
                         : "");
        if (!last)
            text_add(&text,
                     "%sthe day after it is for recovery, mobility and an easy "
                     "half hour at most",
                     told ? "; " : "");
        if (text.length)
            document_words(doc, WORDS_ITEM, "%s: %s.", peak->event->name,
                           text_of(&text));
        text_free(&text);
    }
    if (isfinite(p->peaks[0].readiness) && level) {
        Text unit = {0};
        words_unit(c, &unit);
        document_words(doc, WORDS_ITEM,
                       "Readiness is told %s, of the plan as rounded to whole "
                       "sets and 5 minutes; taper --joint says what each event "
                       "gives up for the others.",
                       text_of(&unit));
        text_free(&unit);
    } else if (!isfinite(p->peaks[0].readiness)) {
        document_words(doc, WORDS_ITEM,
                       "These are published tapers, since nothing here tells "
                       "more; taper --joint says why.");
    }
}

/* Of a taper that was given, and begins before what can still be cut. */
static void add_shortened(const Plan *p, Document *doc) {
    size_t window = p->taper.c->outlook.window;
    if (p->given && (size_t)option_days(&p->option) > window)
        document_words(doc, WORDS_PLAIN,
                       "Only its last %zu days can be cut: before them lies "
                       "what is done, or another event.",
                       window);
}

static void add_lead(const Plan *p, Document *doc) {
    Text text = {0};
    if (p->peak_count) {
        add_peaks(p, doc);
        return;
    }
    plan_words_lead(p, &text);
    document_words(doc, WORDS_LEAD, "%s taper: %s",
                   p->given ? "Given" : "Recommended", text_of(&text));
    text_free(&text);
    add_shortened(p, doc);
}

static void add_title(const Plan *p, size_t count, Document *doc) {
    Text text = {0};
    for (size_t k = 0; k + 1 < p->peak_count; k++)
        text_add(&text, "%s%s", p->peaks[k].event->name,
                 k + 2 < p->peak_count ? ", " : " and ");
    words_event(p->taper.c, &text);
    document_title(doc, "%s%s%s.", count == 1 ? p->taper.c->name : "",
                   count == 1 ? ": plan for " : "Plan for ", text_of(&text));
    text_free(&text);
}

/* Behind an event on the way. */
static void add_before(const Plan *p, Document *doc) {
    Text text = {0};
    plan_words_before(p, &text);
    if (text.length)
        document_words(
            doc, WORDS_ITEM, "%s%s", text_of(&text),
            p->before->start > p->taper.c->context->season->today
                ? " plan --event prints that plan, taper --joint weighs both "
                  "events."
                : "");
    text_free(&text);
}

/* Of each squad, by its first plan. */
static void add_team(const Plan *p, size_t count, Document *doc) {
    for (size_t i = 0; i < count; i++) {
        Text text = {0}, squad = {0};
        size_t before = 0;
        while (before < i && !team_text_same(p[before].taper.c, p[i].taper.c))
            before++;
        if (before == i)
            plan_words_team(&p[i], count - i, true, &text);
        team_text_squad(p[i].taper.c, &squad);
        if (text.length)
            document_words(doc, WORDS_ITEM, "%s%s", text_of(&squad),
                           text_of(&text));
        text_free(&squad);
        text_free(&text);
    }
}

/* Does a taper of several give way to a common one? */
static bool gives_way(const Plan *p) {
    for (size_t k = 0; k < p->peak_count; k++)
        if (p->peaks[k].team &&
            !common_same(&p->peaks[k].option, &p->peaks[k].common))
            return true;
    return false;
}

enum { PEAKS_TOLD = 3 /* events whose gains a line holds */ };

/* What is left before each of several events. */
static void left_of_peaks(const Plan *p, Text *who) {
    if (!gives_way(p))
        return;
    text_add(who, "%s%s",
             who->length ? ", "
                         : "Tapers of their own give way to the common ones "
                           "in sessions of the team; what that leaves of the "
                           "gains: ",
             p->taper.c->name);
    if (!case_level_known(p->taper.c) || p->peak_count > PEAKS_TOLD)
        return;
    for (size_t k = 0; k < p->peak_count; k++) {
        const PlanPeak *peak = &p->peaks[k];
        double gain = peak->readiness - peak->none;
        if (isfinite(gain) && peak->none != 0)
            text_add(who, "%s%s %+.1f %%", k ? ", " : " (", peak->event->name,
                     100 * gain / fabs(peak->none));
    }
    if (isfinite(p->peaks[0].none))
        text_add(who, ")");
}

/* Whose own taper gives way in sessions of the team. */
static void add_left(const Plan *p, size_t count, Document *doc) {
    Text who = {0};
    for (size_t k = 0; k < count; k++)
        if (p[k].peak_count)
            left_of_peaks(&p[k], &who);
        else
            team_text_left(&p[k].taper, &who);
    if (who.length)
        document_words(doc, WORDS_ITEM, "%s.", text_of(&who));
    text_free(&who);
}

static void add_one(const Plan *p, Document *doc) {
    add_lead(p, doc);
    add_before(p, doc);
    add_team(p, 1, doc);
    add_left(p, 1, doc);
    plan_days(p, (PlanView){.load = true}, doc);
    if (p->peak_count)
        add_peaks_outcome(p, doc);
    else
        add_outcome(p, doc);
    add_broken(p, doc);
}

/* ---- a squad ---- */

/* Is everybody on the way to the same event or events? */
static bool same_events(const Plan *p, size_t count) {
    for (size_t i = 1; i < count; i++) {
        if (plan_events(&p[i]) != plan_events(p))
            return false;
        for (size_t k = 0; k < plan_events(p); k++)
            if (plan_event(&p[i], k) != plan_event(p, k))
                return false;
    }
    return true;
}

void plan_text_lead(const Plan *p, size_t count, Document *doc) {
    const Plan *behind = p; /* one behind an event on the way, if any is */
    Date first = plan_first_cut(p, count);
    Text text = {0};
    char day[DATE_TEXT];
    while (behind + 1 < p + count && !behind->before)
        behind++;
    if (plan_waits(behind) && behind->from < first)
        text_add(&text, " From %s until", date_write_short(day, behind->from));
    else if (!plan_waits(behind))
        text_add(&text, " Until");
    if (text.length) {
        text_add(&text, " %s everything is ", date_write_short(day, first - 1));
        plan_words_usual(p, count, first, &text);
        text_add(&text, ".");
    }
    document_words(doc, WORDS_LEAD, "Who does what, by day and session.%s",
                   text_of(&text));
    add_before(behind, doc);
    add_team(p, count, doc);
    text_free(&text);
}

/* Plans of the same event together, those of each event on their own. */
static void add_squad(const Plan *p, size_t count, Document *doc) {
    if (same_events(p, count)) {
        plan_text_lead(p, count, doc);
        add_left(p, count, doc);
        plan_days_squad(p, count, (PlanView){0}, doc);
    } else {
        for (size_t k = 0; k < count; k++) {
            Text text = {0};
            text_add(&text, "%s: ", p[k].taper.c->name);
            words_event(p[k].taper.c, &text);
            document_words(doc, WORDS_HEADING, "%s", text_of(&text));
            if (p[k].peak_count)
                add_lead(&p[k], doc);
            plan_days(&p[k], (PlanView){.load = true}, doc);
            text_free(&text);
        }
    }
    document_words(doc, WORDS_ITEM,
                   "One athlete's plan with sets: --athlete ID; a file for "
                   "everybody: --out DIR.");
}

/* ---- the answer ---- */

static void add_warnings(const Plan *p, size_t count, Document *doc) {
    const BestTaper **each = mem_new(count, sizeof *each);
    for (size_t i = 0; i < count; i++)
        each[i] = &p[i].taper;
    taper_warnings(each, count, doc);
    free(each);
}

void plan_text(const Plan *p, size_t count, bool sessions, Document *doc) {
    add_title(p, count, doc);
    if (count == 1 && !sessions)
        add_one(p, doc);
    else
        add_squad(p, count, doc);
    add_legend(p, count, doc);
    add_warnings(p, count, doc);
    footer_caution(p->taper.c->context, doc);
    add_notes(p, count, doc);
}

void plan_text_sheet(const Plan *p, Document *doc) {
    add_title(p, 1, doc);
    add_one(p, doc);
    add_legend(p, 1, doc);
    add_warnings(p, 1, doc);
    footer_notes(p->taper.c, doc);
    footer_caution_one(p->taper.c, doc);
}
