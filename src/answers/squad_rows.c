/* squad_rows: see squad_rows.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/squad_rows.h"

#include "base/mem.h"
#include "base/text.h"
#include "taper/common.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- gathering ---- */

/* Room for the models of a league of 1,000. */
enum { KEPT_MOST = 96 << 20 /* [byte] */ };

static bool is_asked(const Case *c) {
    return c->context->question->model ||
           c->context->season->athletes[c->athlete].model;
}

SquadRow *squad_rows_add(SquadRows *s, const Case *c, const Event *event) {
    const CaseModel *own = c->context->models[c->model];
    SquadRow *row;
    s->row = mem_grow(s->row, &s->row_room, s->rows + 1, sizeof *s->row);
    row = &s->row[s->rows++];
    *row = (SquadRow){.athlete = c->athlete,
                      .place = c->athlete,
                      .event = event,
                      .by = 1,
                      .asked = is_asked(c),
                      .tests = own->tests,
                      .most = own->most,
                      .bayes = own->bayes,
                      .explained = own->explained,
                      .unit =
                          own->model.scaled ? mem_copy(own->model.unit) : NULL};
    return row;
}

void squad_rows_search(Context *d, EachJob each, const size_t *changed,
                       size_t count) {
    Context all = *d;
    each.need_event = true;
    each.doing = "athletes searched for the squad's answer";
    all.changed = changed;
    all.changed_count = count;
    all.chosen_count = all.season->athlete_count;
    all.chosen = mem_new(all.chosen_count, sizeof *all.chosen);
    for (size_t i = 0; i < all.chosen_count; i++)
        all.chosen[i] = i;
    each_aside(d, &all, &each);
    free(all.chosen);
}

void squad_rows_begin(SquadRows *s, Context *d) {
    *s = (SquadRows){.context = d};
    if (!d->kept)
        d->kept = mem_new(d->season->athlete_count, sizeof *d->kept);
    s->kept = d->kept;
}

void squad_rows_keep(SquadRows *s, EachAthlete *one) {
    const CaseModel *own = one->context.models[one->c.model];
    size_t bytes = own->draws.count * sizeof *own->draws.set;
    if (!own->own || s->kept_bytes + bytes > KEPT_MOST)
        return;
    s->kept_bytes += bytes;
    s->kept[one->c.athlete] = each_model(one);
}

/* The number of an option: that in the row before, if it stands in the same
 * place there, as it nearly always does. */
static size_t number_of(SquadRows *s, const Option *option, size_t guess) {
    Text spec = {0};
    size_t at;
    if (guess < s->options && common_same(&s->option[guess], option))
        return guess;
    option_write(option, &spec);
    at = names_add(&s->specs, text_of(&spec), spec.length);
    text_free(&spec);
    if (at == s->options) {
        s->option = mem_grow(s->option, &s->room, at + 1, sizeof *s->option);
        s->option[s->options++] = *option;
    }
    return at;
}

/* The last row before the last with the same event. */
static const SquadRow *row_before(const SquadRows *s) {
    const Event *event = s->row[s->rows - 1].event;
    for (size_t i = s->rows - 1; i-- > 0;)
        if (s->row[i].event == event)
            return s->row[i].count ? &s->row[i] : NULL;
    return NULL;
}

/* In a league nearly everybody's numbers are those of the row before, which are
 * then kept once. */
void squad_rows_options(SquadRows *s, const Search *search) {
    const SquadRow *before = row_before(s);
    SquadRow *row = &s->row[s->rows - 1];
    row->count = search->count;
    row->option = mem_new(row->count, sizeof *row->option);
    row->gain = mem_new(row->count, sizeof *row->gain);
    for (size_t i = 0; i < row->count; i++) {
        size_t guess = before && i < before->count ? before->option[i] : i;
        row->option[i] = number_of(s, &search->items[i].option, guess);
        row->gain[i] = search->items[i].gain;
    }
    row->shared = before && before->count == row->count &&
                  memcmp(before->option, row->option,
                         row->count * sizeof *row->option) == 0;
    if (row->shared) {
        free(row->option);
        row->option = before->option;
    }
}

/* ---- deciding ---- */

static bool together(const SquadRows *s, const SquadRow *a, const SquadRow *b) {
    const Athlete *athletes = s->context->season->athletes;
    return a->event == b->event &&
           athletes[a->athlete].squad == athletes[b->athlete].squad;
}

static bool same_unit(const SquadRow *a, const SquadRow *b) {
    return a->unit && b->unit && text_same(a->unit, b->unit);
}

static double most_of(const SquadRow *row) {
    double most = 0;
    for (size_t i = 0; i < row->count; i++)
        most = fmax(most, row->gain[i]);
    return most;
}

/* A row's gains by the numbers of all options, in the common unit. */
static double *gains_of(const SquadRows *s, const SquadRow *row) {
    double *gain = mem_new(s->options, sizeof *gain);
    for (size_t k = 0; k < s->options; k++)
        gain[k] = NAN;
    for (size_t k = 0; k < row->count; k++)
        gain[row->option[k]] = row->by * row->gain[k];
    return gain;
}

/* Gains of the members, in one unit: where theirs differ, each in shares of
 * their own best. They take the place of the rows' own. */
static const double **table_of(const SquadRows *s, SquadRow *const *member,
                               size_t count) {
    const double **gain = mem_new(count, sizeof *gain);
    bool alike = true;
    for (size_t i = 1; i < count; i++)
        alike = alike && same_unit(member[0], member[i]);
    for (size_t i = 0; i < count; i++) {
        double most = most_of(member[i]), *now;
        member[i]->by = alike || most == 0 ? 1 : 1 / most;
        now = gains_of(s, member[i]);
        free(member[i]->gain);
        gain[i] = member[i]->gain = now;
    }
    return gain;
}

static CommonRule rule_of(const Question *q, bool known) {
    return !known          ? COMMON_UNKNOWN
           : q->individual ? COMMON_INDIVIDUAL
           : q->groups     ? COMMON_BOUNDED
                           : COMMON_FEWEST;
}

/* ---- whom the common answer is not for ---- */

/* The number of an option; that of all if there is none such. */
static size_t find_option(const SquadRows *s, const Option *option) {
    size_t k = 0;
    while (k < s->options && !common_same(&s->option[k], option))
        k++;
    return k;
}

static bool is_changed(const SquadRows *s, size_t athlete) {
    for (size_t i = 0; i < s->context->chosen_count; i++)
        if (s->context->chosen[i] == athlete)
            return true;
    return false;
}

/* What was planned before the days changed is carried on by members who decide
 * together, one alone or all of a team, where another taper adds less than one
 * may lose for few of them, and where not everybody's days have changed. */
static void carry_on(const SquadRows *s, SquadRow *const *member, size_t count,
                     bool team, size_t *option) {
    const Assigned *first = &s->before[member[0]->athlete];
    const Option *planned = team ? &first->team : &first->option;
    size_t k = find_option(s, planned);
    double more = 0, gained = 0;
    bool changed = true;
    for (size_t i = 0; i < count; i++) {
        const SquadRow *row = member[i];
        const Assigned *old = &s->before[row->athlete];
        if (old->event != row->event || k == s->options ||
            !common_same(team ? &old->team : &old->option, planned) ||
            isnan(row->gain[k]))
            return;
        more += row->gain[option[i]] - row->gain[k];
        gained += fmax(old->gain, 0) * row->by;
        changed = changed && is_changed(s, row->athlete);
    }
    for (size_t i = 0;
         i < count && (!changed || more <= COMMON_OWN * gained + 1e-9); i++)
        option[i] = k;
}

/* How many have each option; to be freed. */
static size_t *count_members(const SquadRows *s, const size_t *option,
                             size_t count) {
    size_t *members = mem_new(s->options, sizeof *members);
    for (size_t i = 0; i < count; i++)
        members[option[i]]++;
    return members;
}

/* Which taper each has, from 0, that of most first. */
static void number_tapers(const size_t *option, size_t count,
                          const size_t *members, size_t *taper) {
    size_t numbered = 0;
    bool *done = mem_new(count, sizeof *done);
    for (size_t number = 0; numbered < count; number++) {
        size_t most = count;
        for (size_t i = 0; i < count; i++)
            if (!done[i] &&
                (most == count || members[option[i]] > members[option[most]]))
                most = i;
        for (size_t i = 0; i < count; i++)
            if (!done[i] && option[i] == option[most]) {
                taper[i] = number;
                done[i] = true;
                numbered++;
            }
    }
    free(done);
}

/* The number of the option that each gets. */
static void find_common(const SquadRows *s, const double *const *gain,
                        size_t count, CommonRule rule, size_t most,
                        size_t *option) {
    CommonTask task = {.athletes = count,
                       .options = s->options,
                       .option = s->option,
                       .gain = gain,
                       .rule = rule,
                       .most = most};
    Common common;
    common_find(&task, &common);
    for (size_t i = 0; i < count; i++)
        option[i] = common.option[common.taper[i]];
    common_free(&common);
}

/* Gives members who train mostly with the team one taper, the best for them
 * together, if there is one that all may have. */
static void give_way(const SquadRows *s, SquadRow *const *member, size_t count,
                     size_t *option) {
    const double **gain = mem_new(count, sizeof *gain);
    size_t *one = mem_new(count, sizeof *one);
    bool alike = true, all = true;
    for (size_t i = 0; i < count; i++) {
        gain[i] = member[i]->gain;
        alike = alike && option[i] == option[0];
    }
    if (!alike)
        find_common(s, gain, count, COMMON_BOUNDED, 1, one);
    for (size_t i = 0; i < count && !alike; i++)
        all = all && isfinite(gain[i][one[i]]);
    if (!alike && all)
        memcpy(option, one, count * sizeof *option);
    free(one);
    free(gain);
}

/* Of members in an order by which those who follow the team come first. */
static void adjust(const SquadRows *s, SquadRow *const *member, size_t count,
                   size_t followers, size_t *option) {
    if (followers > 0)
        give_way(s, member, followers, option);
    if (followers > 0 && s->before)
        carry_on(s, member, followers, true, option);
    for (size_t i = followers; i < count && s->before; i++)
        carry_on(s, member + i, 1, false, option + i);
}

/* The taper by which the team's sessions are cut: the one of those who train
 * mostly with the team (in front), whatever each has for their own sessions; if
 * there is none, the taper of most. */
static size_t of_team(const SquadRows *s, SquadRow *const *member,
                      size_t followers, const size_t *option, size_t count) {
    size_t *one = mem_new(followers + 1, sizeof *one), team = option[0];
    size_t *members = count_members(s, option, count);
    bool alike = followers > 0;
    memcpy(one, option, followers * sizeof *one);
    give_way(s, member, followers, one);
    for (size_t i = 0; i < followers; i++)
        alike = alike && one[i] == one[0];
    for (size_t i = 0; i < count; i++)
        if (members[option[i]] > members[team])
            team = option[i];
    team = alike ? one[0] : team;
    free(members);
    free(one);
    return team;
}

/* Puts those who follow the team in front; returns how many they are. */
static size_t followers_first(SquadRow **member, size_t count) {
    size_t followers = 0;
    for (size_t i = 0; i < count; i++)
        if (member[i]->follows) {
            SquadRow *row = member[i];
            for (size_t k = i; k > followers; k--)
                member[k] = member[k - 1];
            member[followers++] = row;
        }
    return followers;
}

/* Is one who follows the team better off alone, by more than what cannot be
 * told apart? */
static bool loses(const SquadRow *row, size_t own, size_t option) {
    double most = row->gain[own];
    return row->follows &&
           most - row->gain[option] > COMMON_EQUAL * fmax(most, 0);
}

static void assign(SquadRows *s, SquadRow **member, size_t count, bool known,
                   bool tested, Assigned *into) {
    const Question *q = s->context->question;
    CommonRule rule = rule_of(q, known);
    size_t followers = followers_first(member, count), team;
    const double **gain = table_of(s, member, count);
    size_t *option = mem_new(count, sizeof *option);
    size_t *own = mem_new(count, sizeof *own);
    size_t *taper = mem_new(count, sizeof *taper), *members;
    find_common(s, gain, count, rule, q->groups, option);
    memcpy(own, option, count * sizeof *own);
    adjust(s, member, count, rule == COMMON_FEWEST ? followers : 0, option);
    team = of_team(s, member, followers, option, count);
    members = count_members(s, option, count);
    number_tapers(option, count, members, taper);
    for (size_t i = 0; i < count; i++)
        into[member[i]->place] = (Assigned){
            .event = member[i]->event,
            .option = s->option[option[i]],
            .team = s->option[team],
            .teamed = true,
            .taper = taper[i],
            .sharing = members[option[i]],
            .athletes = count,
            .known = known,
            .tested = tested,
            .gain = gain[i][option[i]] / member[i]->by,
            .trains_on = rule == COMMON_FEWEST && i < followers &&
                         !member[i]->eased && gain[i][option[i]] < 0,
            .gives_way = !s->before && loses(member[i], own[i], option[i]),
            .own = s->option[own[i]],
            .own_gain = gain[i][own[i]] / member[i]->by};
    free(gain);
    free(option);
    free(own);
    free(taper);
    free(members);
}

/* Whom no taper helps has none, which is no taper of the squad. */
static void leave_out(const SquadRow *row, Assigned *into) {
    into[row->place] = (Assigned){
        .event = row->event, .sharing = 1, .athletes = 1, .known = true};
}

/* Do the tests of a squad show, all together, more than that training moves
 * them not at all, and move more than SQUAD_ROWS_HARDLY in half of the
 * athletes, or was a model asked for? One test of an athlete shows nothing: it
 * is their level. `some`: there are tests. */
bool squad_rows_known(const SquadRows *s, size_t first, bool *some) {
    double bayes = 0, *explained = mem_new(s->rows, sizeof *explained), half;
    bool asked = false;
    size_t told = 0;
    *some = false;
    for (size_t i = first; i < s->rows; i++) {
        const SquadRow *row = &s->row[i];
        if (!together(s, &s->row[first], row))
            continue;
        asked = asked || row->asked;
        *some = *some || row->tests > 0;
        if (row->most < 2)
            continue;
        bayes += row->bayes;
        explained[told++] = row->explained;
    }
    half = told ? draws_quantile(explained, told, .5) : 0;
    free(explained);
    return asked || (told && bayes > log(1. / 3) && half >= SQUAD_ROWS_HARDLY);
}

static bool is_known(const SquadRows *s, size_t first, bool *tested) {
    size_t squad = s->context->season->athletes[s->row[first].athlete].squad;
    if (!s->known)
        return squad_rows_known(s, first, tested);
    *tested = s->tested[squad];
    return s->known[squad];
}

/* Those who are decided with a row. */
static void decide_with(SquadRows *s, size_t first, Assigned *into) {
    SquadRow **member = mem_new(s->rows, sizeof *member);
    size_t count = 0;
    bool tested, known = is_known(s, first, &tested);
    for (size_t i = first; i < s->rows; i++) {
        SquadRow *row = &s->row[i];
        if (!together(s, &s->row[first], row))
            continue;
        row->decided = true;
        if (row->idle || (known && most_of(row) == 0 && !row->follows))
            leave_out(row, into);
        else
            member[count++] = row;
    }
    if (count > 0)
        assign(s, member, count, known, tested, into);
    free(member);
}

void squad_rows_decide(SquadRows *s, Assigned *into) {
    for (size_t i = 0; i < s->rows; i++)
        if (!s->row[i].decided)
            decide_with(s, i, into);
}

void squad_rows_free(SquadRows *s) {
    for (size_t i = 0; i < s->rows; i++) {
        if (!s->row[i].shared)
            free(s->row[i].option);
        free(s->row[i].gain);
        free(s->row[i].unit);
    }
    free(s->row);
    free(s->option);
    names_free(&s->specs);
}
