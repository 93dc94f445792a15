/* team_text: see team_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/team_text.h"

#include "base/mem.h"
#include "output/words.h"

#include <math.h>
#include <stdlib.h>

static void add_days(unsigned days, Text *text) {
    const char *before = " on ";
    for (int day = 0; days; day++) {
        if (!(days & 1u << day))
            continue;
        days &= ~(1u << day);
        text_add(text, "%s%s", before, date_weekday_name(day));
        before = days & (days - 1) ? ", " : " and ";
    }
}

void team_text_names(const TeamNames *names, bool told, Text *text) {
    const char *before = "";
    for (size_t i = 0; i < names->count; i++) {
        const TeamName *name = &names->items[i];
        unsigned days = told ? name->told : name->team;
        if (!days)
            continue;
        text_add(text, "%s%s", before, name->session);
        if (name->alone || days != name->team)
            add_days(days, text);
        before = ", ";
    }
}

void team_text_left(const BestTaper *v, Text *who) {
    char gain[FIGURE_TEXT];
    if (isnan(v->together) || v->trains_on)
        return;
    text_add(who, "%s%s",
             who->length ? ", "
                         : "What that leaves of the gain of an own taper: ",
             v->c->name);
    if (isfinite(best_taper_percent(v, 0)))
        text_add(who, " (%s)", words_gain(gain, v, v->together));
    else if (v->possible > 0)
        text_add(who, " (%s of the largest possible)",
                 words_percent(gain, search_share(v->together, v->possible)));
}

void team_text_tapers(const BestTaper *v, Text *text) {
    Option own = best_taper_own(v), common = best_taper_common(v->c, &own);
    text_add(text, "taper ");
    if (isnan(v->together)) {
        option_write(&v->search.items[v->search.recommended].option, text);
        return;
    }
    option_write(&common, text);
    text_add(text, " in the team's sessions");
    if (!team_names_alone(&v->team))
        return;
    text_add(text, ", ");
    option_write(&own, text);
    text_add(text, " in their own");
}

/* Who trains mostly with the team, and what their own taper would be. */
static void add_follows(const BestTaper *v, Text *who) {
    const Assigned *a = best_taper_assigned(v->c);
    char gain[FIGURE_TEXT], now[FIGURE_TEXT];
    if (v->given || !a || !a->gives_way)
        return;
    text_add(who, "%s%s (", who->length ? ", " : "", v->c->name);
    option_write(&a->own, who);
    if (isfinite(best_taper_percent(v, 0)))
        text_add(who, ": %s for %s", words_gain(gain, v, a->own_gain),
                 words_gain(now, v, best_taper_gain(v)));
    text_add(who, ")");
}

/* How to give somebody their own. */
static const char *way_out(const BestTaper *v) {
    return team_names_told(&v->team)
               ? " 'team' = no in week.csv gives each athlete their own."
               : "";
}

static void add_followers(const BestTaper *const *v, size_t count,
                          Document *doc) {
    Text who = {0}, worse = {0}, bound = {0};
    for (size_t i = 0; i < count; i++) {
        Text *list = team_names_alone(&v[i]->team) ? &worse : &bound;
        add_follows(v[i], &who);
        if (v[i]->trains_on)
            text_add(list, "%s%s", list->length ? ", " : "", v[i]->c->name);
    }
    if (who.length)
        document_words(doc, WORDS_ITEM,
                       "Another taper would be better for %s, but they train "
                       "mostly with the team.%s",
                       text_of(&who), way_out(v[0]));
    if (worse.length)
        document_words(doc, WORDS_ITEM,
                       "%s: the team's taper takes more than it gives; they "
                       "train on beside the team's sessions.",
                       text_of(&worse));
    if (bound.length)
        document_words(doc, WORDS_ITEM,
                       "%s: the team's taper takes more than it gives, but all "
                       "their sessions are the team's.%s",
                       text_of(&bound), way_out(v[0]));
    text_free(&who);
    text_free(&worse);
    text_free(&bound);
}

bool team_text_same(const Case *a, const Case *b) {
    const Athlete *athletes = a->context->season->athletes;
    return athletes[a->athlete].squad == athletes[b->athlete].squad;
}

void team_text_squad(const Case *c, Text *text) {
    const Season *s = c->context->season;
    const char *name = s->squad_names.items[s->athletes[c->athlete].squad];
    if (s->squad_names.count > 1 && *name)
        text_add(text, "Squad %s: ", name);
    else if (s->squad_names.count > 1)
        text_add(text, "Who is in no squad: ");
}

/* Of the squad of the first. */
static void add_squad(const BestTaper *const *v, size_t count, bool groups,
                      Document *doc) {
    Text who = {0}, spec = {0}, squad = {0}, sessions = {0};
    TeamNames names = {0};
    const BestTaper *first = NULL;
    for (size_t i = 0; i < count; i++) {
        const Found *own = &v[i]->search.items[v[i]->search.recommended];
        Option common = best_taper_common(v[i]->c, &own->option);
        if (!team_text_same(v[i]->c, v[0]->c))
            continue;
        if (!first && !isnan(v[i]->together) && !v[i]->trains_on) {
            option_words(&common, &spec);
            first = v[i];
        }
        team_text_left(v[i], &who);
        team_names_join(&names, &v[i]->team);
    }
    team_text_squad(v[0]->c, &squad);
    team_text_names(&names, false, &sessions);
    if (first)
        document_words(doc, WORDS_ITEM,
                       "%sSessions of the team (%s) follow the %s (%s) for "
                       "everybody%s. %s.%s",
                       text_of(&squad), text_of(&sessions),
                       groups ? "team's taper" : "common taper", text_of(&spec),
                       groups ? ": that of a group is carried out in "
                                "other sessions alone, though the table takes "
                                "it for all"
                              : "",
                       text_of(&who), way_out(first));
    team_names_free(&names);
    text_free(&sessions);
    text_free(&squad);
    text_free(&who);
    text_free(&spec);
}

void team_text_groups(const BestTaper *const *v, size_t count, bool groups,
                      Document *doc) {
    add_followers(v, count, doc);
    for (size_t i = 0; i < count; i++) {
        size_t before = 0;
        while (before < i && !team_text_same(v[before]->c, v[i]->c))
            before++;
        if (before == i)
            add_squad(v + i, count - i, groups, doc);
    }
}

void team_text_taper(const BestTaper *v, size_t count, Document *doc) {
    const BestTaper **each = mem_new(count, sizeof *each);
    for (size_t i = 0; i < count; i++)
        each[i] = &v[i];
    team_text_groups(each, count, false, doc);
    free(each);
}

void team_text_notes(const TeamNames *names, Document *doc) {
    Text sessions = {0};
    team_text_names(names, true, &sessions);
    if (sessions.length)
        document_words(
            doc, WORDS_PLAIN,
            "Sessions of the team: more than half of the squad have %s on the "
            "same weekday, under the same name and in the last four weeks at "
            "the same clock time, so the common taper cuts them for all who "
            "have them then. The column team of week.csv says otherwise: yes "
            "for a session that everybody does together, no for one that can "
            "be cut for each.",
            text_of(&sessions));
    text_free(&sessions);
}
