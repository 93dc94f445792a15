/* squad_tapers: see squad_tapers.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/squad_tapers.h"

#include "answers/best_taper.h"
#include "base/mem.h"
#include "base/text.h"
#include "cases/each.h"
#include "cases/models.h"
#include "taper/common.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* One athlete's options: their numbers in the list of all, and their gains. */
typedef struct {
    size_t athlete, count;
    const Event *event;
    size_t *option;
    bool shared; /* the numbers are those of the row before */
    double *gain;
    double by;    /* what the gains were multiplied by for a common unit */
    bool asked;   /* for a model */
    bool follows; /* all that may be cut of their week is the team's */
    bool idle;    /* nothing that may be cut, or off at the event */
    size_t tests, most; /* of all kinds, and of one */
    double bayes;       /* ln of the Bayes factor against no effect */
    double explained; /* share of the tests' variance that training explains */
    const char *unit; /* of the gains; NULL: the model's own scale */
    bool decided;
} Row;

typedef struct {
    Context *context;
    Row *row;
    size_t rows;
    Option *option; /* of anybody */
    size_t options, room;
    Names specs;            /* of the options */
    const Assigned *before; /* what was decided without the changes; or NULL */
    CaseModel **kept;       /* models of own tests */
    size_t kept_bytes;
} Squads;

enum { KEPT_MOST = 256 << 20 /* [byte] */ };

typedef struct {
    EachAthlete one;
    Status status;
    BestTaper taper;
} Slot;

/* ---- searching ---- */

static void search_one(void *with, EachAthlete *one) {
    Slot *slot = (Slot *)one;
    (void)with;
    best_taper_build(&one->c, &slot->taper, &slot->status);
}

/* The number of an option: that in the row before, if it stands in the same
 * place there, as it nearly always does. */
static size_t number_of(Squads *s, const Option *option, size_t guess) {
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

/* Options of a row and what they gain. In a league nearly everybody's numbers
 * are those of the row before, which are then kept once. */
static void take_options(Squads *s, const Search *search, Row *row) {
    const Row *before = s->rows ? &s->row[s->rows - 1] : NULL;
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

static bool is_asked(const Case *c) {
    return c->context->question->model ||
           c->context->season->athletes[c->athlete].model;
}

/* Finding a model of own tests takes most of the time, so it is found once;
 * of a league not everybody's finds room. */
static void keep_model(Squads *s, EachAthlete *one) {
    const CaseModel *own = one->context.models[one->c.model];
    size_t bytes = own->draws.count * sizeof *own->draws.set;
    if (!own->own || s->kept_bytes + bytes > KEPT_MOST)
        return;
    s->kept_bytes += bytes;
    s->kept[one->c.athlete] = each_model(one);
}

static bool take_row(void *with, EachAthlete *one) {
    Squads *s = with;
    Slot *slot = (Slot *)one;
    Row row = {.athlete = one->c.athlete};
    if (slot->status.code == STATUS_OK) {
        const Model *model = case_model(&one->c);
        row.event = one->c.event;
        row.by = 1;
        row.asked = is_asked(&one->c);
        row.follows = slot->taper.follows;
        row.idle = one->c.outlook.may_go <= 0 || case_off(&one->c);
        row.tests = one->context.models[one->c.model]->tests;
        row.most = one->context.models[one->c.model]->most;
        row.bayes = one->context.models[one->c.model]->bayes;
        row.explained = one->context.models[one->c.model]->explained;
        row.unit = model->scaled ? mem_copy(model->unit) : NULL;
        keep_model(s, one);
        take_options(s, &slot->taper.search, &row);
        s->row[s->rows++] = row;
    }
    best_taper_free(&slot->taper);
    return true;
}

/* Everybody, not only those asked for; what there is to say is said when they
 * are. Loads are otherwise than in the files for `changed`. */
static void search_all(Squads *s, const size_t *changed, size_t count) {
    Context all = *s->context;
    EachJob each = {.doing = "athletes searched for the squad's answer",
                    .need_event = true,
                    .slot = sizeof(Slot),
                    .work = search_one,
                    .take = take_row,
                    .with = s};
    all.changed = changed;
    all.changed_count = count;
    all.chosen_count = all.season->athlete_count;
    all.chosen = mem_new(all.chosen_count, sizeof *all.chosen);
    for (size_t i = 0; i < all.chosen_count; i++)
        all.chosen[i] = i;
    s->row = mem_new(all.chosen_count, sizeof *s->row);
    each_aside(s->context, &all, &each);
    free(all.chosen);
}

/* ---- deciding ---- */

static bool together(const Squads *s, const Row *a, const Row *b) {
    const Athlete *athletes = s->context->season->athletes;
    return a->event == b->event &&
           athletes[a->athlete].squad == athletes[b->athlete].squad;
}

static bool same_unit(const Row *a, const Row *b) {
    return a->unit && b->unit && text_same(a->unit, b->unit);
}

static double most_of(const Row *row) {
    double most = 0;
    for (size_t i = 0; i < row->count; i++)
        most = fmax(most, row->gain[i]);
    return most;
}

/* A row's gains by the numbers of all options, in the common unit. */
static double *gains_of(const Squads *s, const Row *row) {
    double *gain = mem_new(s->options, sizeof *gain);
    for (size_t k = 0; k < s->options; k++)
        gain[k] = NAN;
    for (size_t k = 0; k < row->count; k++)
        gain[row->option[k]] = row->by * row->gain[k];
    return gain;
}

/* Gains of the members, in one unit: where theirs differ, each in shares of
 * their own best. They take the place of the rows' own. */
static const double **table_of(const Squads *s, Row *const *member,
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
static size_t find_option(const Squads *s, const Option *option) {
    size_t k = 0;
    while (k < s->options && !common_same(&s->option[k], option))
        k++;
    return k;
}

static bool is_changed(const Squads *s, size_t athlete) {
    for (size_t i = 0; i < s->context->chosen_count; i++)
        if (s->context->chosen[i] == athlete)
            return true;
    return false;
}

/* What was planned before the days changed is carried on by members who decide
 * together, one alone or all of a team, where another taper adds less than what
 * cannot be told apart, and where not everybody's days have changed. */
static void carry_on(const Squads *s, Row *const *member, size_t count,
                     size_t *option) {
    const Assigned *first = &s->before[member[0]->athlete];
    size_t k = find_option(s, &first->option);
    double more = 0, gained = 0;
    bool changed = true;
    for (size_t i = 0; i < count; i++) {
        const Row *row = member[i];
        const Assigned *old = &s->before[row->athlete];
        if (old->event != row->event || k == s->options ||
            !common_same(&old->option, &first->option) || isnan(row->gain[k]))
            return;
        more += row->gain[option[i]] - row->gain[k];
        gained += fmax(old->gain, 0) * row->by;
        changed = changed && is_changed(s, row->athlete);
    }
    for (size_t i = 0;
         i < count && (!changed || more <= COMMON_EQUAL * gained + 1e-9); i++)
        option[i] = k;
}

/* How many have the same as athlete i. */
static size_t sharing(const size_t *option, size_t count, size_t i) {
    size_t with = 0;
    for (size_t k = 0; k < count; k++)
        with += option[k] == option[i];
    return with;
}

/* Which taper each has, from 0, that of most first. */
static void number_tapers(const size_t *option, size_t count, size_t *taper) {
    size_t numbered = 0;
    bool *done = mem_new(count, sizeof *done);
    for (size_t number = 0; numbered < count; number++) {
        size_t most = count;
        for (size_t i = 0; i < count; i++)
            if (!done[i] && (most == count || sharing(option, count, i) >
                                                  sharing(option, count, most)))
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
static void find_common(const Squads *s, const double *const *gain,
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

/* Members whose sessions are all the team's can have but one taper: the best
 * for them together. Those of the others are left as they are. */
static void give_way(const Squads *s, Row *const *member, size_t count,
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
static void adjust(const Squads *s, Row *const *member, size_t count,
                   size_t followers, size_t *option) {
    if (followers > 0)
        give_way(s, member, followers, option);
    if (followers > 0 && s->before)
        carry_on(s, member, followers, option);
    for (size_t i = followers; i < count && s->before; i++)
        carry_on(s, member + i, 1, option + i);
}

/* Puts those who follow the team in front; returns how many they are. */
static size_t followers_first(Row **member, size_t count) {
    size_t followers = 0;
    for (size_t i = 0; i < count; i++)
        if (member[i]->follows) {
            Row *row = member[i];
            for (size_t k = i; k > followers; k--)
                member[k] = member[k - 1];
            member[followers++] = row;
        }
    return followers;
}

static void assign(Squads *s, Row **member, size_t count, bool known,
                   bool tested, Assigned *into) {
    const Question *q = s->context->question;
    CommonRule rule = rule_of(q, known);
    size_t followers =
        rule == COMMON_FEWEST ? followers_first(member, count) : 0;
    const double **gain = table_of(s, member, count);
    size_t *option = mem_new(count, sizeof *option);
    size_t *own = mem_new(count, sizeof *own);
    size_t *taper = mem_new(count, sizeof *taper);
    find_common(s, gain, count, rule, q->groups, option);
    memcpy(own, option, count * sizeof *own);
    adjust(s, member, count, followers, option);
    number_tapers(option, count, taper);
    for (size_t i = 0; i < count; i++)
        into[member[i]->athlete] =
            (Assigned){.event = member[i]->event,
                       .option = s->option[option[i]],
                       .taper = taper[i],
                       .sharing = sharing(option, count, i),
                       .athletes = count,
                       .known = known,
                       .tested = tested,
                       .gain = gain[i][option[i]] / member[i]->by,
                       .gives_way = member[i]->follows && !s->before &&
                                    own[i] != option[i],
                       .own = s->option[own[i]],
                       .own_gain = gain[i][own[i]] / member[i]->by};
    free(gain);
    free(option);
    free(own);
    free(taper);
}

/* Whom no taper helps has none, which is no taper of the squad. */
static void leave_out(const Row *row, Assigned *into) {
    into[row->athlete] = (Assigned){
        .event = row->event, .sharing = 1, .athletes = 1, .known = true};
}

/* Do the tests of a squad show, all together, more than that training moves
 * them not at all, and move more than SQUAD_TAPERS_HARDLY in half of the
 * athletes, or was a model asked for? One test of an athlete shows nothing: it
 * is their level. `some`: there are tests. */
static bool is_known(const Squads *s, size_t first, bool *some) {
    double bayes = 0, *explained = mem_new(s->rows, sizeof *explained), half;
    bool asked = false;
    size_t told = 0;
    *some = false;
    for (size_t i = first; i < s->rows; i++) {
        const Row *row = &s->row[i];
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
    return asked ||
           (told && bayes > log(1. / 3) && half >= SQUAD_TAPERS_HARDLY);
}

/* Those who are decided with a row. */
static void decide_with(Squads *s, size_t first, Assigned *into) {
    Row **member = mem_new(s->rows, sizeof *member);
    size_t count = 0;
    bool tested, known = is_known(s, first, &tested);
    for (size_t i = first; i < s->rows; i++) {
        Row *row = &s->row[i];
        if (!together(s, &s->row[first], row))
            continue;
        row->decided = true;
        if (row->idle || (known && most_of(row) == 0))
            leave_out(row, into);
        else
            member[count++] = row;
    }
    if (count > 0)
        assign(s, member, count, known, tested, into);
    free(member);
}

static void free_rows(Squads *s) {
    for (size_t i = 0; i < s->rows; i++) {
        if (!s->row[i].shared)
            free(s->row[i].option);
        free(s->row[i].gain);
        free((char *)s->row[i].unit);
    }
    free(s->row);
    free(s->option);
    names_free(&s->specs);
}

static Assigned *decide(Context *d, const Assigned *before,
                        const size_t *changed, size_t count) {
    Assigned *into = mem_new(d->season->athlete_count, sizeof *into);
    Squads s = {.context = d, .before = before};
    if (!d->kept)
        d->kept = mem_new(d->season->athlete_count, sizeof *d->kept);
    s.kept = d->kept;
    search_all(&s, changed, count);
    for (size_t i = 0; i < s.rows; i++)
        if (!s.row[i].decided)
            decide_with(&s, i, into);
    free_rows(&s);
    return into;
}

void squad_tapers_decide(Context *d) {
    const Question *q = d->question;
    Assigned *before = NULL;
    if (q->change_count > 0 || q->weekdays) { /* models of other days */
        models_free_kept(d);
        before = decide(d, NULL, d->chosen, 0);
        models_free_kept(d);
    }
    d->assigned = decide(d, before, d->chosen, d->chosen_count);
    d->assigned_before = before;
}
