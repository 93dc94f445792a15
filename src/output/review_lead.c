/* review_lead: see review_lead.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/review_lead.h"

#include "base/mem.h"
#include "output/words.h"

#include <math.h>
#include <stdlib.h>

#define LIKELY .75 /* chance that makes a change likely */

/* [%] of the load planned: what is far from it (our own bounds, no source) */
#define LITTLE 85.0
#define MUCH 115.0

enum { MOST_NAMED = 6 };

/* ---- how much was done ---- */

typedef struct {
    double percent; /* of the load planned; NAN: none was planned */
    const Review *of;
} Done;

typedef struct {
    Done *item; /* by how far they are from what was planned */
    size_t count, far;
    double least, median, most; /* [%] */
    Date until;                 /* DATE_NONE: nothing is logged yet */
} Shares;

static bool is_far(const Done *d) {
    if (isnan(d->percent))
        return d->of->total[1] > 0;
    return d->percent < LITTLE || d->percent > MUCH;
}

static int by_distance(const void *a, const void *b) {
    const Done *x = a, *y = b;
    double p = isnan(x->percent) ? HUGE_VAL : fabs(x->percent - 100);
    double q = isnan(y->percent) ? HUGE_VAL : fabs(y->percent - 100);
    if (p != q)
        return p > q ? -1 : 1;
    return (x->of > y->of) - (x->of < y->of);
}

static void shares_make(const Reviews *all, Shares *s) {
    double *known = mem_new(all->count, sizeof *known);
    size_t count = 0;
    *s = (Shares){.item = mem_new(all->count, sizeof *s->item),
                  .count = all->count,
                  .least = NAN,
                  .most = NAN,
                  .until = DATE_NONE};
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        s->item[i] = (Done){100 * review_share(r), r};
        s->far += is_far(&s->item[i]);
        s->least = fmin(s->least, s->item[i].percent);
        s->most = fmax(s->most, s->item[i].percent);
        if (isfinite(s->item[i].percent))
            known[count++] = s->item[i].percent;
        if (r->weeks > 0 && r->until > s->until)
            s->until = r->until;
    }
    s->median = load_median(known, count);
    qsort(s->item, s->count, sizeof *s->item, by_distance);
    free(known);
}

static void add_far(const Shares *s, Text *text) {
    size_t named = 0;
    text_add(text, "Far from it: ");
    for (size_t i = 0; i < s->count && named < MOST_NAMED; i++) {
        const Done *d = &s->item[i];
        if (!is_far(d))
            continue;
        text_add(text, "%s%s ", named++ ? ", " : "", d->of->name);
        if (isnan(d->percent))
            text_add(text, "%.0f where none was planned", d->of->total[1]);
        else
            text_add(text, "%.0f %%", d->percent);
    }
    if (s->far > named)
        text_add(text, " and %zu more", s->far - named);
    text_add(text, ". ");
}

static void add_done(const Reviews *all, const Shares *s, Text *text) {
    const char *of = all->item[0].planned ? "planned" : "usual";
    char first[DATE_TEXT], last[DATE_TEXT];
    if (isfinite(s->median)) {
        text_add(text, "From %s to %s ",
                 date_write_short(first, all->item[0].issued + 1),
                 date_write_short(last, s->until));
        if (s->count == 1)
            text_add(text, "%.0f %% of the %s load was done. ", s->median, of);
        else
            text_add(text,
                     "the athletes did %.0f %% of the %s load (median; %.0f "
                     "to %.0f %%). ",
                     s->median, of, s->least, s->most);
    }
    if (s->far > 0 && (s->count > 1 || isnan(s->median)))
        add_far(s, text);
}

/* ---- what came of it ---- */

/* What the squad's outcomes add up to. */
typedef struct {
    size_t measured, inside;
    size_t judged, likely, unlikely; /* better by more than is worthwhile */
    double error;                    /* mean, as higher is better */
    double noise;                    /* the test's typical error */
} Sum;

static bool counts(const Review *r) {
    return r->measured && review_foretold(r);
}

size_t review_lead_measured(const Reviews *all) {
    size_t measured = 0;
    for (size_t i = 0; i < all->count; i++)
        measured += counts(&all->item[i]);
    return measured;
}

static Sum sum_of(const Reviews *all) {
    Sum s = {.measured = review_lead_measured(all)};
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        if (!counts(r))
            continue;
        s.inside += review_inside(r);
        s.noise = r->noise.typical_error;
        s.judged += isfinite(r->chance_better) ? 1 : 0;
        s.likely += r->chance_better > LIKELY;
        s.unlikely += r->chance_better < 1 - LIKELY;
        s.error +=
            r->lower ? r->forecast - r->outcome : r->outcome - r->forecast;
    }
    s.error = s.measured && all->one_unit ? s.error / (double)s.measured : NAN;
    return s;
}

static void add_changed(const Sum *s, Text *text) {
    if (s->judged == 0)
        text_add(text, "Whether anybody changed by more than the test's own "
                       "noise cannot be told from so few tests. ");
    else if (s->measured == 1)
        text_add(text,
                 "That the change for the better is real and worthwhile is "
                 "%s. ",
                 s->likely     ? "likely (a chance of over 75 %)"
                 : s->unlikely ? "unlikely (a chance of under 25 %)"
                               : "open (a chance of 25 to 75 %)");
    else
        text_add(text,
                 "A change for the better that is real and worthwhile is "
                 "likely (a chance of over 75 %%) for %zu of %zu, unlikely "
                 "(under 25 %%) for %zu. ",
                 s->likely, s->judged, s->unlikely);
    text_add(text, "There was no control group, so whether the plan brought it "
                   "cannot be told.");
}

static void add_outside(const Reviews *all, Text *text) {
    size_t named = 0;
    for (size_t i = 0; i < all->count; i++) {
        const Review *r = &all->item[i];
        if (counts(r) && !review_inside(r) && named < MOST_NAMED)
            text_add(text, "%s%s", named++ ? ", " : " (not ", r->name);
    }
    text_add(text, "%s", named ? ")" : "");
}

static void add_outcome(const Reviews *all, const Sum *s, Text *text) {
    char error[FIGURE_TEXT];
    if (s->measured == 1)
        text_add(text, "The outcome lies %s the range that was forecast",
                 s->inside ? "inside" : "outside");
    else
        text_add(text,
                 "%zu of %zu outcomes lie inside the range that was forecast",
                 s->inside, s->measured);
    if (s->measured > 1 && s->measured - s->inside <= MOST_NAMED)
        add_outside(all, text);
    if (isfinite(s->error))
        text_add(text, ", %s%s than forecast by %s",
                 s->measured > 1 ? "on average " : "",
                 s->error >= 0 ? "better" : "worse",
                 words_figure(error, fabs(s->error),
                              isfinite(s->noise) ? s->noise : s->error));
    text_add(text, ". ");
    add_changed(s, text);
}

/* ---- what can be done now ---- */

/* The event has begun, and no test tells of it. */
static void add_untested(const Reviews *all, Text *text) {
    Date last = DATE_NONE;
    char day[DATE_TEXT];
    bool tested = false, other = false;
    for (size_t i = 0; i < all->count; i++) {
        Date until = all->item[i].last_test;
        tested = tested || all->item[i].measured;
        other = other || all->item[i].other;
        if (all->item[i].unit && until > last)
            last = until;
    }
    if (!all->over)
        text_add(text, "The event has begun: what was missed is not made up "
                       "any more. ");
    if (tested)
        text_add(text, "Tests were made, but no forecast stands beside them, "
                       "so what came of the plan cannot be told: a forecast "
                       "takes some tests before the plan.");
    else if (last == DATE_NONE)
        text_add(text, "No forecast is in the unit of a test, so what came of "
                       "the plan cannot be told: that takes some tests before "
                       "the plan and one at the event or soon after it.");
    else if (all->today <= last)
        text_add(text,
                 "No test%s was made at the event or after it yet; one until "
                 "%s tells what came of the plan.",
                 other ? " of this kind" : "", date_write_short(day, last));
    else
        text_add(text,
                 "No test%s was made at the event or in the two weeks after "
                 "it, so whether it worked cannot be told.",
                 other ? " of this kind" : "");
}

/* The event is still to come. */
static void add_advice(const Reviews *all, const Shares *s, Text *text) {
    const char *of = all->item[0].planned ? "planned" : "usual";
    if (s->until == DATE_NONE)
        text_add(text, "No day of it is logged yet.");
    else if (s->median > MUCH)
        text_add(text,
                 "That is more than %s: taper says what that changes, "
                 "and whether to plan anew.",
                 of);
    else if (s->median < LITTLE)
        text_add(text,
                 "That is less than %s. What was missed is not added "
                 "back; taper says whether to plan anew.",
                 of);
    else if (s->far > 0)
        text_add(text, "The others carry on; for who is far from it taper "
                       "says what that costs and whether to plan anew. What "
                       "was missed is not added back.");
    else
        text_add(text, "Carry on.");
}

void review_lead(const Reviews *all, Document *doc) {
    Text text = {0};
    Shares shares;
    Sum sum = sum_of(all);
    shares_make(all, &shares);
    add_done(all, &shares, &text);
    if (sum.measured > 0)
        add_outcome(all, &sum, &text);
    else if (all->begun) {
        if (shares.until == DATE_NONE)
            text_add(&text, "No day of it is logged. ");
        add_untested(all, &text);
    } else
        add_advice(all, &shares, &text);
    document_words(doc, WORDS_LEAD, "%s", text_of(&text));
    free(shares.item);
    text_free(&text);
}
