/* desk: see desk.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/desk.h"

#include "base/crew.h"
#include "base/home.h"
#include "base/mem.h"
#include "base/outfile.h"
#include "commands/event_rules.h"
#include "commands/fence.h"
#include "commands/own.h"
#include "present/grid.h"
#include "present/progress.h"
#include "season/check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- athletes ---- */

static void list_athletes(const Season *s, Text *list) {
    char shown[TEXT_EXCERPT];
    for (size_t i = 0; i < s->athlete_count && i < 10; i++)
        text_add(list, "%s%s", i ? ", " : "",
                 text_excerpt(shown, s->athletes[i].name));
    if (s->athlete_count > 10)
        text_add(list, " and %zu more", s->athlete_count - 10);
}

static void choose(Desk *d, size_t athlete) {
    for (size_t i = 0; i < d->chosen_count; i++)
        if (d->chosen[i] == athlete)
            return;
    d->chosen[d->chosen_count++] = athlete;
}

static void choose_athletes(Desk *d) {
    const Question *q = d->question;
    d->chosen =
        mem_new(d->season->athlete_count + q->athlete_count, sizeof *d->chosen);
    for (size_t i = 0; i < d->season->athlete_count && !q->athlete_count; i++)
        d->chosen[d->chosen_count++] = i;
    for (size_t i = 0; i < q->athlete_count; i++) {
        size_t found = season_athlete(d->season, q->athletes[i]);
        Place place = {"--athlete", 0, NULL};
        char shown[TEXT_EXCERPT];
        Text list = {0};
        if (found != NAMES_NONE) {
            choose(d, found);
            continue;
        }
        list_athletes(d->season, &list);
        notes_add(d->notes, LEVEL_ERROR, place,
                  "%s is not in this season, expected one of %s",
                  text_excerpt(shown, q->athletes[i]), text_of(&list));
        text_free(&list);
    }
}

static void free_models(Desk *d) {
    for (size_t i = d->borrowed; i < d->model_count; i++) {
        free(d->models[i]->asked);
        model_free(&d->models[i]->model);
        draws_free(&d->models[i]->draws);
        free(d->models[i]);
    }
    free(d->models);
}

/* Their order is that of athletes.csv, then of the names: it does not hang on
 * the order of the log's rows. */
static void choose_part(Desk *d) {
    size_t part = d->question->part, parts = d->question->parts;
    size_t all = d->chosen_count;
    size_t from = (part - 1) * all / parts, to = part * all / parts;
    Place place = {"--part", 0, NULL};
    if (parts > all)
        notes_add(d->notes, LEVEL_ERROR, place,
                  "%zu parts of %zu athlete%s, expected at most as many parts "
                  "as athletes",
                  parts, all, all == 1 ? "" : "s");
    if (from > 0)
        memmove(d->chosen, d->chosen + from, (to - from) * sizeof *d->chosen);
    d->chosen_count = to - from;
}

void desk_close(Desk *d) {
    free_models(d);
    free(d->chosen);
    season_free(d->season);
    *d = (Desk){0};
}

/* About one athlete, or with `c` NULL about all alike. */
static void warn(Desk *d, const Case *c, const char *text) {
    Place place = {c ? c->name : NULL, 0, NULL};
    notes_add(d->notes, LEVEL_WARNING, place, "%s", text);
}

/* ---- models ---- */

static void load_model(Desk *d, DeskModel *entry) {
    Status status = {0};
    Place place = {0};
    char *folder = home_folder("models");
    bool found = model_find(entry->asked, folder, &entry->model, d->notes);
    free(folder);
    if (!found)
        return;
    entry->lower = entry->model.lower;
    if (entry->model.draws)
        draws_read(entry->model.draws, entry->model.params.kind, &entry->draws,
                   d->notes);
    else if (draws_from_spreads(&entry->model, DRAWS_DEFAULT, d->question->seed,
                                &entry->draws, &status) != STATUS_OK)
        notes_add(d->notes, LEVEL_ERROR, place, "%s", status.text);
}

static void add_model(Desk *d, DeskModel *entry) {
    d->models = mem_grow(d->models, &d->model_room, d->model_count + 1,
                         sizeof *d->models);
    d->models[d->model_count++] = entry;
}

static DeskModel *new_model(Desk *d, const char *asked) {
    DeskModel *entry = mem_new(1, sizeof *entry);
    entry->asked = mem_copy(asked);
    add_model(d, entry);
    return entry;
}

/* A model by name or file; each is read once. */
static size_t find_named(Desk *d, const char *asked) {
    for (size_t i = 0; i < d->model_count; i++)
        if (!d->models[i]->own && strcmp(d->models[i]->asked, asked) == 0)
            return i;
    load_model(d, new_model(d, asked));
    return d->model_count - 1;
}

/* What the tests say, on top of the literature. */
static void set_own(const OwnTests *own, const Season *s, const Model *prior,
                    const Posterior *posterior, DeskModel *entry) {
    const char *test = s->test_names.items[own->test];
    Text name = {0};
    text_add(&name, "own tests (%zu of %s) on the literature's prior",
             own->data.count, test);
    entry->own = true;
    entry->lower = own->lower;
    entry->tests = own->data.count;
    entry->model = (Model){.name = mem_copy(text_of(&name)),
                           .source = mem_copy(prior->source),
                           .unit = mem_copy(test),
                           .params = posterior->centre,
                           .lower = own->lower,
                           .scaled = true};
    for (int i = 0; i < PARAMS; i++)
        entry->model.spread[i] = NAN;
    text_free(&name);
}

/* What a posterior of own tests becomes; its draws are taken over. */
static size_t add_own(Desk *d, const Case *c, const OwnTests *own,
                      Posterior *posterior) {
    size_t prior = find_named(d, "literature");
    DeskModel *entry = new_model(d, c->name);
    set_own(own, d->season, &d->models[prior]->model, posterior, entry);
    entry->draws = posterior->draws;
    posterior->draws = (Draws){0};
    return d->model_count - 1;
}

static void warn_of_posterior(Desk *d, const Case *c) {
    warn(d, c,
         "the tests and the literature's prior disagree so much that "
         "no posterior could be drawn; the literature is used alone");
}

/* Draws from the posterior; false with a warning. */
static bool draw_own(Desk *d, const Case *c, const OwnTests *own,
                     Posterior *posterior) {
    const Model *model = &d->models[find_named(d, "literature")]->model;
    PosteriorPrior scale = posterior_prior(&own->data);
    Status status = {0};
    if (posterior_run(model, &own->data, &scale, DRAWS_DEFAULT,
                      d->question->seed, posterior, &status) == STATUS_OK &&
        posterior->ess >= POSTERIOR_LEAST)
        return true;
    warn_of_posterior(d, c);
    return false;
}

/* The model of an athlete's own tests; false when there are none. */
static bool find_own(Desk *d, const Case *c, size_t *found) {
    OwnTests own;
    Posterior posterior = {0};
    bool drawn = false;
    if (!own_tests(d->season, c->athlete, &c->outlook, d->question->test, &own))
        return false;
    check_tests(d->season, c->athlete, d->notes);
    if (own_flat(&own))
        warn(d, c,
             "the load hardly varies over the log, so the tests tell "
             "nothing of time constants; the literature is used alone");
    else
        drawn = draw_own(d, c, &own, &posterior);
    if (drawn)
        *found = add_own(d, c, &own, &posterior);
    posterior_free(&posterior);
    own_free(&own);
    return drawn;
}

static const char *model_asked(const Desk *d, size_t athlete) {
    return d->question->model ? d->question->model
                              : d->season->athletes[athlete].model;
}

void case_take_own(Desk *d, Case *c, const OwnTests *own,
                   const Posterior *posterior) {
    Posterior copy = *posterior;
    size_t bytes = copy.draws.count * sizeof *copy.draws.set;
    if (model_asked(d, c->athlete))
        return;
    check_tests(d->season, c->athlete, d->notes);
    if (copy.ess < POSTERIOR_LEAST) {
        warn_of_posterior(d, c);
        return;
    }
    copy.draws.set = mem_new(copy.draws.count, sizeof *copy.draws.set);
    memcpy(copy.draws.set, posterior->draws.set, bytes);
    c->model = add_own(d, c, own, &copy);
}

/* The athlete's model; each file is read once. */
static size_t find_model(Desk *d, const Case *c) {
    const char *asked = model_asked(d, c->athlete);
    size_t own;
    if (!asked && !d->own_later && find_own(d, c, &own))
        return own;
    return find_named(d, asked ? asked : "literature");
}

static StatusCode open_desk(const Question *question, size_t held, Notes *notes,
                            Desk *d) {
    SeasonOptions read = question->read;
    read.held = held;
    *d = (Desk){.question = question, .notes = notes};
    d->season = season_read(question->season, &read, notes);
    if (notes->errors == 0)
        choose_athletes(d);
    if (question->parts && notes->errors == 0)
        choose_part(d);
    for (size_t i = 0; i < question->view_count && notes->errors == 0; i++)
        if (!text_same(question->views[i], "own"))
            find_named(d, question->views[i]);
    return notes_code(notes);
}

StatusCode desk_open(const Question *question, Notes *notes, Desk *d) {
    return open_desk(question, 0, notes, d);
}

StatusCode desk_open_each(const Question *question, Notes *notes, Desk *d) {
    const char *asked = getenv("PEAKWARD_HELD");
    size_t held = asked ? strtoul(asked, NULL, 10) : 0;
    return open_desk(question, held ? held : 32 << 20, notes, d);
}

const Model *desk_prior(Desk *d, const Case *c) {
    const char *asked = model_asked(d, c->athlete);
    return &d->models[find_named(d, asked ? asked : "literature")]->model;
}

const Model *case_model(const Case *c) {
    return &c->desk->models[c->model]->model;
}

size_t case_view(const Case *c, size_t view) {
    const Desk *d = c->desk;
    const char *asked = d->question->views[view];
    for (size_t i = 0; i < d->model_count; i++)
        if (!d->models[i]->own && strcmp(d->models[i]->asked, asked) == 0)
            return i;
    return c->model;
}

const Draws *case_draws(const Case *c) {
    return &c->desk->models[c->model]->draws;
}

double case_shown(const Case *c, double readiness) {
    return c->desk->models[c->model]->lower ? -readiness : readiness;
}

double case_anchor(const Case *c) {
    const Model *model = case_model(c);
    return model->scaled ? NAN : score_today(&c->outlook, &model->params);
}

/* ---- events ---- */

static void list_events(const Season *s, Text *list) {
    char shown[TEXT_EXCERPT], day[DATE_TEXT];
    for (size_t i = 0; i < s->event_count && i < 8; i++)
        text_add(list, "%s%s (%s)", i ? ", " : "",
                 text_excerpt(shown, s->events[i].name),
                 date_write(day, s->events[i].start));
    if (s->event_count > 8)
        text_add(list, " and %zu more", s->event_count - 8);
}

static void refuse_event(Desk *d, const char *what, const char *wanted) {
    Text path = {0}, list = {0};
    Place place = {NULL, 0, "event"};
    text_add(&path, "%s/events.csv", d->season->folder);
    place.file = text_of(&path);
    list_events(d->season, &list);
    notes_add(d->notes, LEVEL_ERROR, place, "%s; expected %s%s%s", what, wanted,
              d->season->event_count ? "; events there are: " : "",
              text_of(&list));
    text_free(&path);
    text_free(&list);
}

/* An event that has begun or is a year away cannot be tapered for. */
static bool judge_event(Desk *d, const Event *event) {
    char what[STATUS_TEXT / 2], shown[TEXT_EXCERPT];
    char day[DATE_TEXT], today[DATE_TEXT];
    int away = event->start - d->season->today;
    text_excerpt(shown, event->name);
    date_write(day, event->start);
    date_write(today, d->season->today);
    if (away <= 0)
        snprintf(what, sizeof what, "%s starts on %s, not after today %s",
                 shown, day, today);
    else if (away > OUTLOOK_LONGEST)
        snprintf(what, sizeof what, "%s starts on %s, %d days after today %s",
                 shown, day, away, today);
    else
        return true;
    refuse_event(d, what,
                 away <= 0 ? "an event to come, or an earlier --today"
                           : "an event at most 366 days ahead");
    return false;
}

/* No athlete has the event asked for, or any to come. */
static void refuse_no_event(Desk *d) {
    char what[STATUS_TEXT / 2], shown[TEXT_EXCERPT], day[DATE_TEXT];
    if (d->question->event)
        snprintf(what, sizeof what, "--event %s is not an event of this season",
                 text_excerpt(shown, d->question->event));
    else
        snprintf(what, sizeof what, "no event after today, %s",
                 date_write(day, d->season->today));
    refuse_event(d, what,
                 d->question->event
                     ? "the name of an event"
                     : "a season folder (not a single file) whose events.csv "
                       "has an event to come");
}

/* ---- cases ---- */

static void warn_of_log(Desk *d, const Case *c) {
    char text[STATUS_TEXT / 2], day[DATE_TEXT];
    const Limits *limits = &d->question->limits;
    if (d->season->today > d->season->last) {
        snprintf(text, sizeof text,
                 "the log ends on %s, %d day%s before today: the usual week is "
                 "taken for them",
                 date_write(day, d->season->last),
                 d->season->today - d->season->last,
                 d->season->today - d->season->last == 1 ? "" : "s");
        warn(d, NULL, text);
    }
    if (c->daily.days < (size_t)limits->max_length) {
        snprintf(text, sizeof text,
                 "the log has %zu day%s, fewer than the longest taper "
                 "searched (%d days): fitness and fatigue rest mostly on what "
                 "is assumed before the log",
                 c->daily.days, c->daily.days == 1 ? "" : "s",
                 limits->max_length);
        warn(d, c, text);
    }
    for (size_t g = 0; g < c->daily.gap_count; g++) {
        const Gap *gap = &c->daily.gaps[g];
        char from[DATE_TEXT];
        if (gap->from + gap->days + 84 < c->daily.days)
            continue; /* long ago: `check` tells */
        snprintf(text, sizeof text, "no row for %zu days from %s, %s",
                 gap->days, date_write(from, c->daily.first + (Date)gap->from),
                 d->question->read.gaps_typical
                     ? "filled with weekday means (--gaps typical)"
                     : "taken as no training (--gaps typical fills it)");
        warn(d, c, text);
    }
}

static double recent_week(const Daily *d) {
    size_t from = d->days > 28 ? d->days - 28 : 0;
    double sum = 0;
    for (size_t i = from; i < d->days; i++)
        sum += d->load[i];
    return d->days ? 7 * sum / (double)(d->days - from) : 0;
}

static void warn_of_week(Desk *d, const Case *c) {
    double planned = usual_week_load(&c->usual);
    double recent = recent_week(&c->daily);
    char text[STATUS_TEXT / 2];
    if (!d->season->has_week || c->usual.weekdays || recent <= 0 ||
        fabs(planned / recent - 1) <= .25)
        return;
    snprintf(text, sizeof text,
             "week.csv asks for a load of %.0f a week, %.0f %% %s than the "
             "last four weeks' %.0f: that is a change of training, not a "
             "usual week%s",
             planned, 100 * fabs(planned / recent - 1),
             planned > recent ? "more" : "less", recent,
             planned > 2 * recent
                 ? "; with so little base a taper changes little"
                 : "");
    warn(d, c, text);
}

/* An event inside another's window ends it: the two cannot be planned for one
 * by one without a loss. */
static void warn_of_inside(Desk *d, const Event *own, const Event *other) {
    char text[STATUS_TEXT], a[TEXT_EXCERPT], b[TEXT_EXCERPT];
    const Event *first = other->start < own->start ? other : own;
    const Event *last = first == own ? other : own;
    int apart = last->start - (first->start + first->days);
    if (d->question->joint || first->start <= d->season->today || apart < 0 ||
        apart >= d->question->limits.max_length)
        return;
    text_excerpt(a, first->name);
    text_excerpt(b, last->name);
    if (last == own)
        snprintf(text, sizeof text,
                 "%s lies inside the %d days before %s, so only %d day%s can "
                 "be cut; taper --joint weighs both",
                 a, d->question->limits.max_length, b, apart,
                 apart == 1 ? "" : "s");
    else
        snprintf(text, sizeof text,
                 "%s follows %d day%s after %s, and this plan does not look "
                 "at it; taper --joint weighs both",
                 b, apart, apart == 1 ? "" : "s", a);
    warn(d, NULL, text);
}

/* Other events on the way: days shared with this one, and loads not given. */
static void warn_of_others(Desk *d, const Case *c) {
    const Event *own = c->event;
    for (size_t i = 0; i < d->season->event_count; i++) {
        const Event *other = &d->season->events[i];
        char text[STATUS_TEXT], a[TEXT_EXCERPT], b[TEXT_EXCERPT];
        if (other == own || !event_concerns(other, c->athlete))
            continue;
        text_excerpt(a, other->name);
        text_excerpt(b, own->name);
        if (other->start < own->start + own->days &&
            own->start < other->start + other->days) {
            snprintf(text, sizeof text,
                     "%s and %s share days; those count as days of %s", a, b,
                     b);
            warn(d, NULL, text);
        } else if (other->start > d->season->today &&
                   other->start < own->start &&
                   !isfinite(other->load_per_day) &&
                   other->sessions_per_day == 0) {
            snprintf(text, sizeof text,
                     "%s comes before %s but events.csv gives it no "
                     "load_per_day, so its load is taken as 0",
                     a, b);
            warn(d, NULL, text);
        }
        warn_of_inside(d, own, other);
    }
}

/* [d] trained in four weeks below which there is little to taper from: twice a
 * week. Common practice, no source. */
enum { BASE_DAYS = 8 };

/* [d] of the last 28 logged with training. */
static size_t recent_days(const Daily *d) {
    size_t from = d->days > 28 ? d->days - 28 : 0, days = 0;
    for (size_t i = from; i < d->days; i++)
        days += d->load[i] > 0;
    return days;
}

/* Without training there is no fatigue to shed. */
static void warn_of_base(Desk *d, const Case *c) {
    char text[STATUS_TEXT / 2];
    size_t days = recent_days(&c->daily);
    if (c->daily.days < 28 || days >= BASE_DAYS)
        return;
    snprintf(text, sizeof text,
             "trained on %zu of the last 28 days: with so little base there "
             "is little fatigue to shed, and a taper changes little; steady "
             "training matters more, and missed load is not caught up",
             days);
    warn(d, c, text);
}

static void warn_of_event(Desk *d, const Case *c) {
    char text[STATUS_TEXT / 2], shown[TEXT_EXCERPT];
    int away = c->event->start - d->season->today;
    text_excerpt(shown, c->event->name);
    if (away > 42) {
        snprintf(text, sizeof text,
                 "%s is %d days ahead: most of the way there is assumed, so "
                 "look again nearer to it",
                 shown, away);
        warn(d, NULL, text);
    }
    if (c->event->days > 1 && c->outlook.event_load <= 0) {
        snprintf(text, sizeof text,
                 "%s lasts %d days but events.csv gives no load_per_day, so "
                 "its own load is taken as 0 and its later days look fresher "
                 "than they will be",
                 shown, c->event->days);
        warn(d, NULL, text);
    }
    if (c->outlook.event_load_guessed) {
        snprintf(text, sizeof text,
                 "the load of %s is taken as %.0f a day (sessions_per_day x "
                 "the athlete's median match or session)",
                 shown, c->outlook.event_load);
        warn(d, c, text);
    }
}

/* What of a case deserves a warning. */
static void warn_of_all(Desk *d, const Case *c) {
    warn_of_log(d, c);
    if (!c->event)
        return;
    warn_of_week(d, c);
    warn_of_base(d, c);
    warn_of_event(d, c);
    warn_of_others(d, c);
    event_rules_warn(d->season, c->event, d->question->heat, d->notes);
}

/* ---- changed days ---- */

static void refuse_change(Desk *d, const Case *c, const DayChange *change,
                          const char *wanted) {
    char day[DATE_TEXT];
    Place place = {"--missed/--did", 0, NULL};
    notes_add(d->notes, LEVEL_ERROR, place, "%s is %s for %s, expected %s",
              date_write(day, change->date),
              c->event ? "no day of the log or of the way to the event"
                       : "no day of the log",
              c->name, wanted);
}

/* The days that may be said to be otherwise: from the first logged to the last
 * before the event. */
static bool judge_change(Desk *d, const Case *c, const DayChange *change) {
    Date last = c->event ? c->event->start - 1
                         : c->daily.first + (Date)c->daily.days - 1;
    char from[DATE_TEXT], to[DATE_TEXT], wanted[STATUS_TEXT / 2];
    snprintf(wanted, sizeof wanted, "a date from %s to %s",
             date_write(from, c->daily.first), date_write(to, last));
    if (change->date >= c->daily.first && change->date <= last)
        return true;
    refuse_change(d, c, change, wanted);
    return false;
}

/* A day of another event has that event's load. */
static bool judge_shared(Desk *d, const Case *c, const DayChange *change) {
    for (size_t i = 0; i < d->season->event_count; i++) {
        const Event *other = &d->season->events[i];
        char shown[TEXT_EXCERPT], day[DATE_TEXT];
        Place place = {"--missed/--did", 0, NULL};
        if (!event_concerns(other, c->athlete) ||
            change->date <= d->season->last || change->date < other->start ||
            change->date >= other->start + other->days)
            continue;
        notes_add(d->notes, LEVEL_ERROR, place,
                  "%s is a day of %s, expected its load_per_day in events.csv "
                  "to be changed instead",
                  date_write(day, change->date),
                  text_excerpt(shown, other->name));
        return false;
    }
    return true;
}

/* The day was free anyway. */
static void warn_of_free_day(Desk *d, const Case *c, const DayChange *change) {
    PlannedSession sessions[USUAL_MOST];
    char text[STATUS_TEXT / 2], day[DATE_TEXT];
    size_t at = (size_t)(change->date - c->daily.first);
    bool free_day = at < c->daily.days
                        ? !(c->daily.load[at] > 0)
                        : usual_day(&c->usual, change->date, sessions) == 0;
    if (change->load > 0 || !free_day)
        return;
    snprintf(text, sizeof text,
             "--missed %s changes nothing: no training was %s that day",
             date_write(day, change->date),
             at < c->daily.days ? "logged" : "planned");
    warn(d, c, text);
}

/* Logged days are replaced; the usual week knows of the days to come. */
static void apply_changes(Desk *d, Case *c) {
    const Question *q = d->question;
    for (size_t i = 0; i < q->change_count; i++) {
        const DayChange *change = &q->changes[i];
        size_t day = (size_t)(change->date - c->daily.first);
        if (!judge_change(d, c, change) || !judge_shared(d, c, change))
            continue;
        warn_of_free_day(d, c, change);
        if (day < c->daily.days)
            daily_replace(&c->daily, change->date, change->load);
    }
    c->usual.changes = q->changes;
    c->usual.change_count = q->change_count;
    c->usual.weekdays = q->weekdays;
}

/* --before fit: the training before the log that suits the tests best. */
static void fit_before(Desk *d, Case *c) {
    OwnTests own;
    if (!own_tests(d->season, c->athlete, &c->outlook, d->question->test,
                   &own)) {
        warn(d, c,
             "has no tests for --before fit; the mean of the first 28 "
             "days is used");
        return;
    }
    c->before = own_before(&own, c->before);
    own_free(&own);
    outlook_free(&c->outlook);
    outlook_build(&c->usual, &c->daily, c->event, c->before, &c->outlook);
}

/* The event asked for; of several the next one to come. */
static const Event *find_event(const Desk *d, size_t athlete) {
    const Question *q = d->question;
    const Event *found = NULL;
    if (!q->joint || q->event_count == 0)
        return season_event(d->season, athlete, q->event);
    for (size_t i = 0; i < q->event_count; i++) {
        const Event *event = season_event(d->season, athlete, q->events[i]);
        if (event &&
            (!found || found->start <= d->season->today ||
             (event->start < found->start && event->start > d->season->today)))
            found = event;
    }
    return found;
}

/* True when the case can be computed with. */
static bool case_build(Desk *d, size_t athlete, Case *c) {
    size_t errors = d->notes->errors;
    const Event *event = find_event(d, athlete);
    *c = (Case){.desk = d,
                .athlete = athlete,
                .name = d->season->athletes[athlete].name};
    daily_build(d->season, athlete, d->question->read.gaps_typical, &c->daily);
    season_require_loads(d->season, athlete, d->notes);
    usual_build(d->season, athlete, &c->daily, &c->usual, d->notes);
    if (event && judge_event(d, event))
        c->event = event;
    fence_usual(d, c);
    if (d->notes->errors > errors)
        return false;
    if (d->question->before != BEFORE_NOTHING)
        c->before = daily_first_mean(&c->daily);
    apply_changes(d, c);
    if (d->notes->errors > errors)
        return false;
    outlook_build(&c->usual, &c->daily, c->event, c->before, &c->outlook);
    if (d->question->before == BEFORE_FIT)
        fit_before(d, c);
    if (d->notes->errors > errors)
        return false;
    c->model = find_model(d, c);
    if (d->notes->errors > errors)
        return false;
    warn_of_all(d, c);
    return true;
}

void case_free(Case *c) {
    daily_free(&c->daily);
    usual_free(&c->usual);
    outlook_free(&c->outlook);
}

static bool has_sessions(Desk *d, size_t athlete) {
    Place place = {d->season->log_path, 0, "athlete"};
    char shown[TEXT_EXCERPT];
    if (d->season->athletes[athlete].session_count > 0)
        return true;
    notes_add(d->notes,
              d->question->athlete_count ? LEVEL_ERROR : LEVEL_WARNING, place,
              "%s has no sessions%s",
              text_excerpt(shown, d->season->athletes[athlete].name),
              d->question->athlete_count ? ", expected an athlete with a log"
                                         : " and is left out");
    return false;
}

/* Is there an event where one is needed? */
static bool has_event(const Desk *d, size_t athlete, bool need) {
    return find_event(d, athlete) || (!need && !d->question->event);
}

/* Is there a day to taper in? One athlete without stops nobody else. */
static bool has_days(Desk *d, const Case *c, bool need) {
    Place place = {c->name, 0, NULL};
    char shown[TEXT_EXCERPT], day[DATE_TEXT];
    bool alone = d->chosen_count == 1;
    if (!need || c->outlook.window > 0 || d->question->joint)
        return true;
    notes_add(d->notes, alone ? LEVEL_ERROR : LEVEL_WARNING, place,
              "no day is left to taper in before %s on %s%s",
              text_excerpt(shown, c->event->name),
              date_write(day, c->event->start),
              alone ? "; expected an event at least two days after today and "
                      "not right behind another one"
                    : ", and this athlete is left out");
    return false;
}

static void leave_out(Desk *d, bool need) {
    for (size_t i = 0; i < d->chosen_count; i++) {
        const Athlete *a = &d->season->athletes[d->chosen[i]];
        Place place = {a->name, 0, NULL};
        if (a->session_count > 0 && !has_event(d, d->chosen[i], need))
            notes_add(d->notes, LEVEL_WARNING, place,
                      "has no such event to come and is left out");
    }
}

/* ---- athlete after athlete ---- */

/* What the threads of a stream share. */
typedef struct {
    Desk *desk;
    DeskModel **named; /* read before they begin */
    size_t named_count;
    const Stream *stream;
    Progress progress;
    size_t built, without_event;
    bool enough;
} Line;

/* Models are read before the threads begin, each file once. */
static void read_models(Desk *d, bool need) {
    for (size_t i = 0; i < d->chosen_count; i++) {
        size_t athlete = d->chosen[i];
        const char *asked = model_asked(d, athlete);
        if (d->season->athletes[athlete].session_count > 0 &&
            has_event(d, athlete, need))
            find_named(d, asked ? asked : "literature");
    }
}

static void seat_work(void *with, size_t piece, void *slot) {
    Line *line = with;
    Seat *seat = slot;
    Desk *d = &seat->desk;
    size_t athlete = line->desk->chosen[piece];
    bool need = line->stream->need_event;
    /* the rest of the common desk changes as results are taken */
    *d = (Desk){.question = line->desk->question,
                .notes = &seat->notes,
                .season = line->desk->season,
                .chosen = line->desk->chosen,
                .chosen_count = line->desk->chosen_count,
                .own_later = line->desk->own_later};
    for (size_t i = 0; i < line->named_count; i++)
        add_model(d, line->named[i]);
    d->borrowed = d->model_count;
    if (!has_sessions(d, athlete))
        return;
    seat->no_event = !has_event(d, athlete, need);
    if (seat->no_event || !season_fetch(d->season, athlete, d->notes))
        return;
    seat->built =
        case_build(d, athlete, &seat->c) && has_days(d, &seat->c, need);
    if (seat->built && line->stream->work)
        line->stream->work(line->stream->with, seat);
}

static bool seat_take(void *with, size_t piece, void *slot) {
    Line *line = with;
    Seat *seat = slot;
    progress_step(&line->progress, piece);
    /* how many were begun beyond the last hangs on the number of threads */
    if (!line->enough) {
        notes_move(&seat->notes, line->desk->notes);
        line->without_event += seat->no_event;
        line->built += seat->built;
    }
    if (seat->built && !line->stream->take(line->stream->with, seat))
        line->enough = true;
    notes_free(&seat->notes);
    free_models(&seat->desk);
    case_free(&seat->c);
    season_release(line->desk->season, line->desk->chosen[piece]);
    return !line->enough;
}

void desk_keep(Desk *d, Seat *seat, Case *c) {
    *c = seat->c;
    c->desk = d;
    if (c->model >= seat->desk.borrowed) {
        add_model(d, seat->desk.models[c->model]);
        seat->desk.models[c->model] =
            seat->desk.models[--seat->desk.model_count];
        c->model = d->model_count - 1;
    }
    seat->c = (Case){.desk = d};
}

StatusCode desk_stream(Desk *d, const Stream *stream) {
    Place place = {d->season->log_path, 0, NULL};
    Line line = {.desk = d, .stream = stream};
    Crew crew = {.pieces = d->chosen_count,
                 .threads = d->question->threads,
                 .slot = stream->slot,
                 .work = seat_work,
                 .take = seat_take,
                 .with = &line};
    check_strangers(d->season, d->notes);
    read_models(d, stream->need_event);
    if (d->notes->errors > 0) /* a model that is none: nothing to compute */
        return notes_code(d->notes);
    line.named_count = d->model_count;
    line.named = mem_new(d->model_count, sizeof *line.named);
    for (size_t i = 0; i < d->model_count; i++)
        line.named[i] = d->models[i];
    line.progress =
        progress_begin(stream->doing, d->chosen_count, d->question->quiet);
    crew_run(&crew);
    progress_end(&line.progress);
    free(line.named);
    if (line.built > 0 && line.without_event)
        leave_out(d, stream->need_event);
    else if (d->notes->errors == 0 && line.without_event)
        refuse_no_event(d);
    else if (line.built == 0 && d->notes->errors == 0)
        notes_add(d->notes, LEVEL_ERROR, place,
                  "no athlete has what it takes (sessions, and days before "
                  "an event), expected one who has");
    return notes_code(d->notes);
}

typedef struct {
    Desk *desk;
    Case *cases;
    size_t count;
} Kept;

static bool keep_case(void *with, Seat *seat) {
    Kept *kept = with;
    desk_keep(kept->desk, seat, &kept->cases[kept->count++]);
    return true;
}

StatusCode desk_cases(Desk *d, bool need_event, Case **cases, size_t *count) {
    Kept kept = {d, mem_new(d->chosen_count, sizeof **cases), 0};
    Stream stream = {.doing = "athletes read",
                     .need_event = need_event,
                     .slot = sizeof(Seat),
                     .take = keep_case,
                     .with = &kept};
    StatusCode code = desk_stream(d, &stream);
    *cases = kept.cases;
    *count = kept.count;
    return code;
}

void case_slim(Case *c) {
    Outlook known = c->outlook;
    DeskModel *model = c->desk->models[c->model];
    if (model->own)
        draws_free(&model->draws);
    case_free(c);
    c->outlook.window = known.window;
    c->outlook.event = known.event;
    c->outlook.log_days = known.log_days;
    c->outlook.days = known.days;
    c->outlook.event_day = known.event_day;
    c->outlook.event_days = known.event_days;
}

void desk_free_cases(Case *cases, size_t count) {
    for (size_t i = 0; i < count; i++)
        case_free(&cases[i]);
    free(cases);
}

/* ---- words ---- */

const char *figure(char buffer[FIGURE_TEXT], double value, double scale) {
    double size = fabs(scale);
    int digits = size >= 100   ? 0
                 : size >= 10  ? 1
                 : size >= .1  ? 2
                 : size >= .01 ? 3
                               : 4;
    if (!isfinite(value))
        snprintf(buffer, FIGURE_TEXT, "-");
    else
        snprintf(buffer, FIGURE_TEXT, "%.*f", digits,
                 fabs(value) < .5 * pow(10, -digits) ? 0 : value);
    return buffer;
}

static void add_ratio(const Model *m, Text *text) {
    const double *v = m->params.value;
    if (response_has(m->params.kind, PARAM_K2) && v[PARAM_K1] > 0)
        text_add(text, ", k2/k1 %.3g", v[PARAM_K2] / v[PARAM_K1]);
}

void model_words(const Model *m, Text *text) {
    const double *v = m->params.value;
    Landmarks marks = landmarks_of(&m->params);
    text_add(text, "%s, %s, fitness halves in %.0f d", m->name,
             response_kind_names[m->params.kind], marks.half_life_fitness);
    if (!response_has(m->params.kind, PARAM_TAU2))
        return;
    text_add(text, ", fatigue in %.0f d (tau %.3g and %.3g d",
             marks.half_life_fatigue, v[PARAM_TAU1], v[PARAM_TAU2]);
    add_ratio(m, text);
    text_add(text, ")");
}

void model_short(const Model *m, Text *text) {
    const double *v = m->params.value;
    text_add(text, "%s (tau %.3g", m->name, v[PARAM_TAU1]);
    if (response_has(m->params.kind, PARAM_TAU2))
        text_add(text, "/%.3g", v[PARAM_TAU2]);
    text_add(text, " d");
    add_ratio(m, text);
    text_add(text, ")");
}

enum { BEFORE_WORDS = 400 };

static void print_line(FILE *to, Text *text) {
    print_wrapped(to, text_of(text), 79, 2);
    text_clear(text);
}

static const char *before_words(const Case *c, char words[BEFORE_WORDS]) {
    if (c->desk->question->before == BEFORE_NOTHING)
        return "no training (--before nothing)";
    if (c->desk->question->before == BEFORE_STEADY)
        return "steady training at the mean of the first 28 days (default)";
    snprintf(words, BEFORE_WORDS,
             "steady training of %.3g a day, which fits %s's tests best (the "
             "first 28 days: %.3g)",
             c->before, c->name, daily_first_mean(&c->daily));
    return words;
}

static void print_changes(const Question *q, FILE *to) {
    Text text = {0};
    char day[DATE_TEXT];
    for (size_t i = 0; i < q->change_count; i++)
        text_add(&text, "%s%s %g",
                 i ? ", "
                   : "Loads as given, not as in the "
                     "files: ",
                 date_write(day, q->changes[i].date), q->changes[i].load);
    if (q->change_count)
        text_add(&text, ". ");
    if (q->weekdays)
        text_add(&text, "Training to come on");
    for (int d = 0; d < 7; d++)
        if (q->weekdays & 1u << d)
            text_add(&text, " %s", date_weekday_name(d));
    if (q->weekdays)
        text_add(&text, " only (--only).");
    if (text.length)
        print_line(to, &text);
    text_free(&text);
}

void desk_print_basis(const Desk *d, const Case *c, FILE *to) {
    const Question *q = d->question;
    const Season *s = d->season;
    char before[BEFORE_WORDS];
    Text text = {0};
    char day[DATE_TEXT];
    text_add(&text, "Model%s%s%s: ",
             !q->model && !s->athletes[c->athlete].model ? " (default)" : "",
             d->chosen_count > 1 && d->model_count > 1 ? ", here of " : "",
             d->chosen_count > 1 && d->model_count > 1 ? c->name : "");
    model_words(case_model(c), &text);
    text_add(&text,
             ". Readiness = level + fitness - fatigue, read before the "
             "day's sessions%s.",
             c->daily.timed ? " (clock times used)" : "");
    print_line(to, &text);
    text_add(&text,
             "Load: %s%s. Today: %s (%s). Before the log: %s. Usual "
             "week: %s.",
             load_method_unit(s->method),
             s->method_given ? " (--load)" : " (found in the log)",
             date_write(day, s->today),
             q->read.today == DATE_NONE ? "the last logged day" : "as given",
             before_words(c, before),
             s->has_week ? "week.csv"
                         : "weekday means of the last 28 logged days, since "
                           "there is no week.csv");
    print_line(to, &text);
    print_changes(q, to);
    text_free(&text);
}

void desk_print_evidence(FILE *to) {
    print_wrapped(
        to,
        "Beside the model: published tapers worked best with 41-60 % less "
        "volume for 8-14 days, intensity and frequency kept (Bosquet et al. "
        "2007, Med Sci Sports Exerc 39:1358-1365), and brought about 3 %, "
        "usually 0.5-6 % (Mujika, Padilla 2003, Med Sci Sports Exerc "
        "35:1182-1187). Such models are not proven for planning ahead (Scarf "
        "et al. 2019, arXiv 1902.02061): weigh this against what you know of "
        "the athlete.",
        79, 2);
}

/* The cautions that concern everybody, behind those of some minors. */
static void print_cautions(Text *minors, bool several, FILE *to) {
    Text whole = {0};
    text_add(&whole, "Caution: ");
    if (minors->length)
        text_add(&whole,
                 "%s %s a minor: growing athletes' pain or lasting fatigue is "
                 "a reason to stop. ",
                 text_of(minors), several ? "are each" : "is");
    text_add(&whole,
             "No training with fever or illness; return from illness or injury "
             "is a physician's decision, and never add missed load back inside "
             "a taper. The rules of your club and federation come first.");
    print_wrapped(to, text_of(&whole), 79, 2);
    text_free(&whole);
    text_free(minors);
}

static void add_minor(const Desk *d, size_t athlete, Text *minors) {
    const Athlete *a = &d->season->athletes[athlete];
    char shown[TEXT_EXCERPT];
    if (season_minor(a, d->season->today))
        text_add(minors, "%s%s", minors->length ? ", " : "",
                 text_excerpt(shown, a->name));
}

void desk_print_cautions(const Desk *d, FILE *to) {
    Text minors = {0};
    size_t before, count = 0;
    for (size_t i = 0; i < d->chosen_count; i++) {
        before = minors.length;
        add_minor(d, d->chosen[i], &minors);
        count += minors.length > before;
    }
    print_cautions(&minors, count > 1, to);
}

void case_print_cautions(const Case *c, FILE *to) {
    Text minors = {0};
    add_minor(c->desk, c->athlete, &minors);
    print_cautions(&minors, false, to);
}

bool note_is_about(const Note *n, const Case *c) {
    char athlete[TEXT_EXCERPT], event[TEXT_EXCERPT];
    if (n->file && strcmp(n->file, c->name) == 0)
        return true;
    text_excerpt(athlete, c->name);
    if (strstr(n->text, athlete))
        return true;
    return c->event && strstr(n->text, text_excerpt(event, c->event->name));
}

void desk_print_notes(const Case *c, FILE *to) {
    const Notes *notes = c->desk->notes;
    for (size_t i = 0; i < notes->count; i++) {
        const Note *n = &notes->items[i];
        if (n->level != LEVEL_WARNING || !note_is_about(n, c))
            continue;
        print_wrapped(to, n->text, 79, 2);
    }
}

bool model_same_unit(const Model *a, const Model *b) {
    return a->scaled == b->scaled && a->lower == b->lower &&
           (!a->scaled || text_same(a->unit, b->unit));
}
