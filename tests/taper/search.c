/* search: beside every option enumerated anew, and what must hold whatever the
 * season: doubles, definitions, units, shifts, wider limits.
 *
 * Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "hand.h"
#include "hunt.h"
#include "reckoned.h"
#include "test.h"
#include "world.h"

#include "response/landmarks.h"
#include "taper/option.h"
#include "taper/score.h"
#include "taper/search.h"

#include <gsl/gsl_rng.h>
#include <math.h>

/* Every option anew, each simulated by a run of the kernel. */
typedef struct {
    const Hunt *h;
    double none, best; /* readiness without, best gain */
    size_t count;
    double cuts; /* sum of what cuts_of() tells of each */
} Brute;

/* Another number for other days or cuts, so that sums of it tell lists of
 * options apart. */
static double cuts_of(const Option *option) {
    double sum = 0;
    for (int i = 0; i < option->count; i++)
        sum += (2 * i + 3) * option->part[i].days *
               (option->part[i].from + 7 * option->part[i].to);
    return sum;
}

static bool brute_allows(const Brute *b, const Option *option) {
    double cut[DAYS_MOST];
    own_cuts(option, cut, b->h->w->outlook.window);
    return own_holds(b->h, cut);
}

static void brute_try(Brute *b, const Option *option) {
    double cut[DAYS_MOST], gain;
    if (!brute_allows(b, option))
        return;
    own_cuts(option, cut, b->h->w->outlook.window);
    gain = kernel_score(b->h->w, b->h->score.aim, cut) - b->none;
    b->best = fmax(b->best, gain);
    b->count++;
    b->cuts += cuts_of(option);
}

static Option brute_last(Option option, double cut) {
    OptionPart *last = &option.part[option.count - 1];
    last->to = cut;
    if (last->fall == 'x')
        last->from = cut;
    return option;
}

/* Last cuts from one to the next: where just one of the two is allowed, the
 * outermost allowed hundredth between them too. */
static void brute_between(Brute *b, Option option, double low, double high) {
    Option one = brute_last(option, low), other = brute_last(option, high);
    bool up = brute_allows(b, &one), down = brute_allows(b, &other);
    long first = lround(floor(100 * low + 1e-6)) + 1;
    long last = lround(ceil(100 * high - 1e-6)) - 1, found = -1;
    for (long at = first; at <= last && up != down; at++) {
        Option between = brute_last(option, (double)at / 100);
        if (brute_allows(b, &between) && (up || found < 0))
            found = at;
    }
    if (found >= 0) {
        double whole_cut =
            up ? floor((double)found / 100) : ceil((double)found / 100);
        Option between = brute_last(option, (double)found / 100);
        brute_try(b, &between);
        between = brute_last(option, whole_cut);
        if (lround(100 * whole_cut) != found && whole_cut > low + 1e-9 &&
            whole_cut < high - 1e-9)
            brute_try(b, &between);
    }
    brute_try(b, &other);
}

static void brute_one(Brute *b, int days, double from, char fall, double to) {
    Option option = {.count = 1, .part = {{days, from, to, fall}}};
    brute_try(b, &option);
}

static bool brute_wants(const Brute *b, Shape shape) {
    return b->h->limits.shapes >> shape & 1;
}

static void brute_falls(Brute *b, int days) {
    double most = b->h->limits.max_cut;
    for (int i = 1; 5 * (i - 1) < most; i++) {
        double low = 5 * (i - 1), cut = fmin(5 * i, most);
        Option step = {.count = 1, .part = {{days, 0, 0, 'x'}}};
        Option line = {.count = 1, .part = {{days, 0, 0, '-'}}};
        Option curve = {.count = 1, .part = {{days, 0, 0, '~'}}};
        if (brute_wants(b, SHAPE_STEP) && cut < 100)
            brute_between(b, step, low, cut);
        if (brute_wants(b, SHAPE_LINEAR) && days > 1)
            brute_between(b, line, low, cut);
        if (brute_wants(b, SHAPE_EXPONENTIAL) && days > 1 && cut < 100)
            brute_between(b, curve, low, cut);
    }
}

static void brute_two_steps(Brute *b, int days) {
    double levels[5], most = b->h->limits.max_cut;
    int count = 0;
    for (int cut = 25; cut < most; cut += 25)
        levels[count++] = cut;
    levels[count++] = most;
    for (int first = 0; first < count; first++)
        for (int second = first + 1; second < count; second++)
            for (int last = 1; last < days; last++) {
                Option option = {
                    .count = 2,
                    .part = {{days - last, levels[first], levels[first], 'x'},
                             {last, levels[first], levels[first], 'x'}}};
                brute_between(b, option, levels[second - 1], levels[second]);
            }
}

static void brute_all(Brute *b) {
    const Limits *limits = &b->h->limits;
    for (int days = 1; days <= (int)b->h->length; days++) {
        bool rest = brute_wants(b, SHAPE_REST) && days <= limits->rest_days;
        bool step = brute_wants(b, SHAPE_STEP) && limits->max_cut >= 100;
        brute_falls(b, days);
        if (brute_wants(b, SHAPE_TWO_STEP))
            brute_two_steps(b, days);
        if (rest || step)
            brute_one(b, days, 100, 'x', 100);
    }
}

static void test_search_brute_force(void) {
    gsl_rng *rng = test_random(2300);
    size_t helped = 0, outside = 0;
    for (int round = 0; round < 120; round++) {
        Hunt h;
        Brute b = {.h = &h};
        double cuts = 0;
        hunt_open(rng, &h);
        b.none = kernel_score(h.w, h.score.aim, no_cut);
        b.best = own_holds(&h, no_cut) ? 0 : -INFINITY;
        CU_ASSERT_EQUAL(h.search.none_outside, !own_holds(&h, no_cut));
        outside += h.search.none_outside;
        brute_all(&b);
        CU_ASSERT_EQUAL(h.search.count, b.count + 1);
        for (size_t i = 1; i < h.search.count; i++)
            cuts += cuts_of(&h.search.items[i].option);
        ASSERT_NEAR(cuts, b.cuts, 1e-11);
        CU_ASSERT(fabs(h.search.items[h.search.best].gain - b.best) <=
                  1e-10 * size_of(h.w));
        CU_ASSERT(fabs(search_best_gain(&h.w->outlook, &h.score, &h.limits) -
                       b.best) <= 1e-10 * size_of(h.w));
        CU_ASSERT_EQUAL(h.search.best > 0,
                        h.search.none_outside || b.best > 1e-6);
        helped += h.search.best > 0;
        hunt_close(&h);
    }
    CU_ASSERT(helped > 30 && helped < 120);
    CU_ASSERT(outside > 5);
    gsl_rng_free(rng);
}

/* Share of the planned load that an option keeps. */
static double own_kept(const Hunt *h, const Option *option, size_t days) {
    double cut[DAYS_MOST], kept = 0, planned = 0;
    own_cuts(option, cut, h->w->outlook.window);
    for (size_t u = 1; u <= days && u <= h->w->outlook.window; u++) {
        Date date = h->w->event->start - (Date)u;
        kept += own_load(h->w, date, cut);
        planned += own_load(h->w, date, no_cut);
    }
    return planned > 0 ? kept / planned : 1;
}

/* Every item is what it says, keeps the limits and stands once. */
static void check_item(const Hunt *h, const Found *f) {
    double cut[DAYS_MOST], size = size_of(h->w), wanted;
    Shape shape = option_shape(&f->option);
    own_cuts(&f->option, cut, h->w->outlook.window);
    wanted = own_score(h->w, h->score.aim, cut);
    CU_ASSERT(fabs(f->readiness - wanted) <= 1e-10 * size);
    CU_ASSERT(fabs(f->gain + own_score(h->w, h->score.aim, no_cut) - wanted) <=
              1e-10 * size);
    ASSERT_NEAR(f->kept, own_kept(h, &f->option, h->length), 1e-11);
    CU_ASSERT_EQUAL(own_holds(h, cut),
                    f->option.count > 0 || !h->search.none_outside);
    CU_ASSERT_EQUAL(search_allows(&h->w->outlook, &h->limits, &f->option),
                    own_holds(h, cut));
    CU_ASSERT(option_days(&f->option) <= (int)h->length);
    if (option_cut(&f->option) > h->limits.max_cut)
        CU_ASSERT(shape == SHAPE_REST && h->limits.shapes >> SHAPE_REST & 1 &&
                  option_days(&f->option) <= h->limits.rest_days);
    if (shape != SHAPE_REST && shape != SHAPE_NONE)
        CU_ASSERT(h->limits.shapes >> shape & 1);
}

static void test_search_items(void) {
    gsl_rng *rng = test_random(2301);
    for (int round = 0; round < 150; round++) {
        Hunt h;
        hunt_open(rng, &h);
        CU_ASSERT_EQUAL(h.search.items[0].option.count, 0);
        CU_ASSERT_EQUAL(h.search.items[0].gain, 0);
        CU_ASSERT_EQUAL(h.search.items[0].kept, 1);
        for (size_t i = 0; i < h.search.count;
             i += (size_t)test_whole(rng, 1, 40))
            check_item(&h, &h.search.items[i]);
        hunt_close(&h);
    }
    gsl_rng_free(rng);
}

/* Length, cut, rest and week of any option. */
static bool own_allows(const Hunt *h, const Option *option) {
    const Limits *limits = &h->limits;
    double cut[DAYS_MOST];
    bool rest = option_shape(option) == SHAPE_REST &&
                (limits->shapes >> SHAPE_REST & 1) &&
                option_days(option) <= limits->rest_days;
    own_cuts(option, cut, h->w->outlook.window);
    return option_days(option) <= limits->max_length &&
           (rest || option_cut(option) <= limits->max_cut) && own_holds(h, cut);
}

static void test_search_allows(void) {
    gsl_rng *rng = test_random(2309);
    size_t allowed = 0, asked = 0;
    for (int round = 0; round < 600; round++) {
        Hunt h = {.w = random_window(rng), .limits = random_limits(rng)};
        if (chance(rng, .2))
            random_rises(rng, &h.limits);
        h.length = h.w->outlook.window;
        if (h.length > (size_t)h.limits.max_length)
            h.length = (size_t)h.limits.max_length;
        for (int i = 0; i < 10; i++, asked++) {
            Option option = random_option(rng, 9);
            bool wanted = own_allows(&h, &option);
            CU_ASSERT_EQUAL(search_allows(&h.w->outlook, &h.limits, &option),
                            wanted);
            allowed += wanted;
        }
        world_close(h.w);
    }
    CU_ASSERT(allowed > asked / 10 && allowed < asked - asked / 10);
    gsl_rng_free(rng);
}

static void test_search_no_doubles(void) {
    gsl_rng *rng = test_random(2302);
    for (int round = 0; round < 12; round++) {
        Hunt h;
        hunt_open(rng, &h);
        for (size_t i = 0; i < h.search.count; i++)
            for (size_t k = 0; k < i; k++)
                if (same_option(&h.search.items[i].option,
                                &h.search.items[k].option))
                    CU_FAIL("the same option twice");
        hunt_close(&h);
    }
    gsl_rng_free(rng);
}

/* Is a gain within 5 % of the best, give or take a rounding error? */
static bool is_near(const Hunt *h, const Found *f, double leeway) {
    const Search *s = &h->search;
    double best = s->items[s->best].gain;
    return s->best > 0 && f->gain >= best - (.05 - leeway) * fabs(best);
}

/* `equal`: gain within 5 % of the best; `recommended`: keeps the most of
 * those. */
static void check_definitions(const Hunt *h) {
    const Search *s = &h->search;
    double best = s->items[s->best].gain, most = 0;
    size_t surely = 0, perhaps = 0;
    bool good = true;
    for (size_t i = 1; i < s->count; i++) {
        const Found *f = &s->items[i];
        bool sure = is_near(h, f, 1e-9), maybe = is_near(h, f, -1e-9);
        good = good && f->gain <= best + 1e-9 * size_of(h->w) &&
               (f->tag == TAG_BLANK ? !sure : maybe);
        surely += sure;
        perhaps += maybe;
        if (sure && f->kept > most)
            most = f->kept;
    }
    CU_ASSERT(good);
    CU_ASSERT(s->equal >= surely && s->equal <= perhaps);
    CU_ASSERT_EQUAL(s->recommended > 0, s->best > 0);
    if (s->best == 0)
        return;
    CU_ASSERT(is_near(h, &s->items[s->recommended], -1e-9));
    CU_ASSERT(s->items[s->recommended].kept >= most - 1e-9);
    CU_ASSERT_EQUAL(s->items[s->recommended].tag, TAG_RECOMMENDED);
    CU_ASSERT(s->best == s->recommended || s->items[s->best].tag == TAG_BEST);
}

static void test_search_definitions(void) {
    gsl_rng *rng = test_random(2303);
    for (int round = 0; round < 400; round++) {
        Hunt h;
        hunt_open(rng, &h);
        check_definitions(&h);
        CU_ASSERT_EQUAL(h.search.items[0].tag, TAG_NONE);
        hunt_close(&h);
    }
    ASSERT_NEAR(SEARCH_EQUAL, .05, 1e-15);
    gsl_rng_free(rng);
}

/* More of everything. */
static Limits widen(gsl_rng *rng, Limits limits) {
    limits.max_length += test_whole(rng, 0, 9);
    limits.shapes |= (unsigned)test_whole(rng, 0, 31) << SHAPE_STEP;
    limits.min_week_load *= gsl_rng_uniform(rng);
    limits.rest_days += test_whole(rng, 0, 3);
    limits.max_cut += chance(rng, .5) ? 0 : test_between(rng, 0, 100);
    limits.max_cut = fmin(100, limits.max_cut);
    limits.min_sessions /= test_whole(rng, 1, 2);
    return limits;
}

/* What a hundredth of a per cent of every day's cut can do. */
static double hundredth(const Hunt *h) {
    double sum = 0;
    for (size_t u = 0; u < h->score.window; u++)
        sum += fabs(h->score.drop[u]);
    return 1e-4 * sum + 1e-9 * size_of(h->w);
}

/* Wider limits never look worse, by more than the hundredth of a per cent to
 * which a cut on a limit is found. Between the steps of 5 % an exponential fall
 * or the lowest of several days may have a summit; those are left out. */
static void test_search_widening(void) {
    gsl_rng *rng = test_random(2305);
    size_t done = 0;
    for (int round = 0; round < 400; round++) {
        Hunt narrow, wide;
        Aim aim = round % 2 ? AIM_MEAN : round % 4 ? AIM_FIRST : AIM_LAST;
        narrow.w = wide.w = random_window(rng);
        narrow.limits = random_limits(rng);
        narrow.limits.shapes &= ~(1u << SHAPE_EXPONENTIAL);
        narrow.limits.shapes |= 1u << SHAPE_STEP;
        wide.limits = widen(rng, narrow.limits);
        if (!hunt_try(&narrow, aim)) {
            world_close(narrow.w);
            continue;
        }
        hunt_run(&wide, aim);
        CU_ASSERT(wide.search.items[wide.search.best].gain >=
                  narrow.search.items[narrow.search.best].gain -
                      hundredth(&wide));
        CU_ASSERT(wide.search.ceiling >=
                  narrow.search.ceiling - 1e-9 * size_of(wide.w));
        done++;
        hunt_free(&wide);
        hunt_close(&narrow);
    }
    CU_ASSERT(done > 300);
    gsl_rng_free(rng);
}

/* Wider rises: the ceiling never falls. */
static void test_search_widening_rises(void) {
    gsl_rng *rng = test_random(2311);
    for (int round = 0; round < 150; round++) {
        Hunt narrow, wide;
        hunt_open(rng, &narrow);
        wide = narrow;
        wide.limits.max_day_rise *= test_between(rng, 1, 2);
        wide.limits.max_week_rise *= test_between(rng, 1, 2);
        hunt_run(&wide, narrow.score.aim);
        CU_ASSERT(!narrow.score.linear ||
                  wide.search.ceiling >=
                      narrow.search.ceiling - 1e-9 * size_of(wide.w));
        hunt_free(&wide);
        hunt_close(&narrow);
    }
    gsl_rng_free(rng);
}

static void world_scale(World *w, double factor) {
    world_close(w);
    for (size_t i = 0; i < w->season.session_count; i++)
        w->sessions[i].load *= factor;
    for (size_t i = 0; i < w->season.week_count; i++)
        w->week[i].load *= factor;
    for (size_t i = 0; i < w->season.event_count; i++)
        w->events[i].load_per_day *= factor;
    w->before *= factor;
    world_open(w);
}

/* What was advised: the numbers of the options, which come in one order. */
static void check_same_advice(const Hunt *h, const Search *before) {
    const Search *s = &h->search;
    CU_ASSERT_EQUAL(s->count, before->count);
    CU_ASSERT_EQUAL(s->best, before->best);
    CU_ASSERT_EQUAL(s->recommended, before->recommended);
    CU_ASSERT_EQUAL(s->equal, before->equal);
}

/* Loads in another unit with gains to match; readiness in another unit and
 * from another level. */
static void check_scaling(gsl_rng *rng, double load, double unit) {
    Hunt h, other;
    hunt_open(rng, &h);
    other = h;
    world_scale(h.w, load);
    other.limits.max_day_rise *= load;
    h.w->params.value[PARAM_P0] *= unit;
    h.w->params.value[PARAM_K1] *= unit / load;
    h.w->params.value[PARAM_K2] *= unit / load;
    h.w->params.value[PARAM_K3] *= unit / load / load;
    hunt_run(&other, h.score.aim);
    check_same_advice(&other, &h.search);
    CU_ASSERT(fabs(other.search.ceiling - unit * h.search.ceiling) <=
              1e-9 * size_of(h.w));
    ASSERT_NEAR(other.search.items[other.search.best].gain,
                unit * h.search.items[h.search.best].gain, 1e-9);
    hunt_free(&other);
    hunt_close(&h);
}

static void test_search_scaling(void) {
    gsl_rng *rng = test_random(2306);
    for (int round = 0; round < 150; round++) {
        check_scaling(rng, 3.7, 1);
        check_scaling(rng, .0133, 1);
        check_scaling(rng, 1, 238.5);
        check_scaling(rng, 1, .00385);
        check_scaling(rng, .0271, .00385);
    }
    gsl_rng_free(rng);
}

static void world_shift(World *w, int days) {
    world_close(w);
    for (size_t i = 0; i < w->season.session_count; i++)
        w->sessions[i].date += days;
    for (size_t i = 0; i < w->season.week_count; i++)
        if (w->week[i].date != DATE_NONE)
            w->week[i].date += days;
    for (size_t i = 0; i < w->season.event_count; i++)
        w->events[i].start += days;
    w->season.first += days;
    w->season.last += days;
    w->season.today += days;
    world_open(w);
}

/* The same some weeks later, over a change of the year. */
static void test_search_shifting(void) {
    gsl_rng *rng = test_random(2310);
    for (int round = 0; round < 100; round++) {
        Hunt h, other;
        hunt_open(rng, &h);
        other = h;
        world_shift(h.w, 7 * test_whole(rng, 30, 60));
        hunt_run(&other, h.score.aim);
        check_same_advice(&other, &h.search);
        CU_ASSERT(fabs(other.search.ceiling - h.search.ceiling) <=
                  1e-10 * size_of(h.w));
        hunt_free(&other);
        hunt_close(&h);
    }
    gsl_rng_free(rng);
}

/* k2 <= k1: each load helps from the next day on, so nothing is to be cut. */
static void test_search_no_fatigue(void) {
    gsl_rng *rng = test_random(2307);
    size_t done = 0;
    for (int round = 0; round < 150; round++) {
        Hunt h;
        double *v;
        bool good;
        h.w = random_window(rng);
        h.limits = random_limits(rng);
        h.limits.min_sessions = 0;
        v = h.w->params.value;
        v[PARAM_K2] = v[PARAM_K1] * (round % 3 ? test_between(rng, 0, 1) : 1);
        if (!hunt_try(&h, (Aim)test_whole(rng, 0, AIMS - 1))) {
            world_close(h.w);
            continue;
        }
        done++;
        CU_ASSERT_EQUAL(h.search.best, 0);
        CU_ASSERT_EQUAL(h.search.recommended, 0);
        CU_ASSERT_EQUAL(h.search.equal, 0);
        CU_ASSERT(fabs(h.search.ceiling - h.search.items[0].readiness) <=
                  1e-9 * size_of(h.w));
        CU_ASSERT_EQUAL(search_best_gain(&h.w->outlook, &h.score, &h.limits),
                        0);
        good = true;
        for (size_t i = 1; i < h.search.count; i++)
            good = good && h.search.items[i].gain <= 1e-12 * size_of(h.w);
        CU_ASSERT(good);
        hunt_close(&h);
    }
    CU_ASSERT(done > 100);
    gsl_rng_free(rng);
}

/* Under steady loads the best is the largest cut on the last floor(t_n) days
 * (design; Fitz-Clarke et al. 1991, M). */
static void test_search_steady(void) {
    gsl_rng *rng = test_random(2308);
    World w;
    Hunt h = {.w = &w};
    steady_world(&w, 238.5, 40);
    for (int round = 0; round < 300; round++) {
        double cut = test_whole(rng, 1, 20) * 5, t_n;
        const Option *best;
        w.params = random_params(rng);
        t_n = landmarks_of(&w.params).t_n;
        if (!(t_n > 1) || t_n > 28.9 || t_n - floor(t_n) < 1e-6)
            continue;
        h.limits = limits_default();
        h.limits.max_cut = cut;
        h.limits.rest_days = 0;
        hunt_run(&h, AIM_MEAN);
        best = &h.search.items[h.search.best].option;
        CU_ASSERT_EQUAL(option_days(best), (int)floor(t_n));
        CU_ASSERT_EQUAL(best->count, 1);
        CU_ASSERT_EQUAL(best->part[0].fall, 'x');
        CU_ASSERT_EQUAL(best->part[0].from, cut);
        ASSERT_NEAR(h.search.items[h.search.best].readiness, h.search.ceiling,
                    1e-9);
        hunt_free(&h);
    }
    world_close(&w);
    gsl_rng_free(rng);
}

/* The classic set: t_n 15.6 d, so 15 days at the largest cut; the gain is the
 * sum of 75 % of the load times the influence of the days 1 to 15. */
static void test_search_classic(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    Option best = {.count = 1, .part = {{15, 75, 75, 'x'}}};
    double gain = 0;
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    CU_ASSERT_EQUAL(h.limits.max_length, 28);
    CU_ASSERT_EQUAL(h.limits.max_cut, 75);
    CU_ASSERT_EQUAL(h.limits.rest_days, 3);
    CU_ASSERT_EQUAL(h.limits.min_week_load, 0);
    hunt_run(&h, AIM_MEAN);
    CU_ASSERT(same_option(&h.search.items[h.search.best].option, &best));
    for (int u = 1; u <= 15; u++)
        gain -= .75 * 238.5 * (exp(-u / 45.0) - 2 * exp(-u / 15.0));
    ASSERT_NEAR(h.search.items[h.search.best].gain, gain, 1e-11);
    /* the ceiling rests on the last three days besides */
    for (int u = 1; u <= 3; u++)
        gain -= .25 * 238.5 * (exp(-u / 45.0) - 2 * exp(-u / 15.0));
    ASSERT_NEAR(h.search.ceiling - h.search.items[0].readiness, gain, 1e-10);
    hunt_free(&h);
    world_close(&w);
}

/* A least load of the week of 60 % under steady loads: no week of a step may
 * lose more than 40 %, though a cut of 75 % is allowed. */
static void test_search_week_floor(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    size_t steps = 0;
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    h.limits.min_week_load = 60;
    hunt_run(&h, AIM_MEAN);
    for (size_t i = 1; i < h.search.count; i++) {
        const Option *option = &h.search.items[i].option;
        bool step = option_shape(option) == SHAPE_STEP;
        if (step && option_days(option) >= 7)
            CU_ASSERT(option_cut(option) <= 40);
        if (step && option_days(option) == 3) /* 3 x 75 % of 7 days is 32 % */
            steps += option_cut(option) == 75;
        if (step && option_days(option) == 4) /* 4 x 75 % is 43 % */
            CU_ASSERT(option_cut(option) <= 70);
    }
    CU_ASSERT_EQUAL(steps, 1);
    /* 2.8 days of load a week, on the days of the greatest harm, which lie
     * nearest the event: three rest days at most, 2.8 of them rested */
    ASSERT_NEAR(h.search.ceiling_cut[0], 1, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[1], 1, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[2], .8, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[3], 0, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[7], .75, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[10], .55, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[14], .75, 1e-9);
    ASSERT_NEAR(h.search.ceiling_cut[15], 0, 1e-9);
    hunt_free(&h);
    world_close(&w);
}

/* Rest days: so many at most, none when the shape is not wanted. */
/* A floor of 94.985 % leaves 5.015 % of steady weeks to cut: a week at 5 % and
 * one on the limit, 5.01 %, and no other. */
static void test_search_on_limit(void) {
    World w;
    Hunt h = {.w = &w, .limits = limits_default()};
    size_t five = 0, limit = 0, weeks = 0;
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    h.limits.min_week_load = 94.985;
    h.limits.shapes = 1u << SHAPE_STEP;
    hunt_run(&h, AIM_MEAN);
    for (size_t i = 1; i < h.search.count; i++) {
        const Option *option = &h.search.items[i].option;
        if (option_days(option) != 7)
            continue;
        weeks++;
        five += option_cut(option) == 5;
        limit += option_cut(option) == 5.01;
    }
    CU_ASSERT_EQUAL(weeks, 2);
    CU_ASSERT_EQUAL(five, 1);
    CU_ASSERT_EQUAL(limit, 1);
    hunt_free(&h);
    world_close(&w);
}

static void test_search_rest_days(void) {
    World w;
    steady_world(&w, 238.5, 40);
    w.params = (ResponseParams){RESPONSE_TWO_COMPONENT,
                                {500, 1, 2, 45, 15, NAN, NAN, NAN}};
    for (int days = 0; days <= 9; days++)
        for (int wanted = 0; wanted < 2; wanted++) {
            Hunt h = {.w = &w, .limits = limits_default()};
            int longest = 0;
            h.limits.rest_days = days;
            h.limits.shapes =
                1u << SHAPE_STEP | (wanted ? 1u << SHAPE_REST : 0);
            hunt_run(&h, AIM_MEAN);
            for (size_t i = 1; i < h.search.count; i++)
                if (option_shape(&h.search.items[i].option) == SHAPE_REST)
                    longest++;
            CU_ASSERT_EQUAL(longest, wanted ? days : 0);
            for (int u = 1; u <= 15; u++)
                ASSERT_NEAR(h.search.ceiling_cut[u - 1],
                            wanted && u <= days ? 1 : .75, 1e-12);
            hunt_free(&h);
        }
    world_close(&w);
}

/* By hand, with kept mobility on Mondays. */
static void test_search_kept(void) {
    Hand h;
    const char *folder = test_folder();
    Option option;
    char why[OPTION_WHY];
    test_file(0, "sessions.csv", plain_log);
    test_file(0, "week.csv", plain_week);
    test_file(0, "events.csv",
              "event,start,days,load_per_day\nCup,2026-03-21,2,640\n");
    hand_open(&h, folder, NULL, DATE_NONE);
    CU_ASSERT(option_read("5d-50,4d-75", &option, why)); /* 12 to 20 March */
    /* 12 days: Mondays 9 and 16, Wednesdays 11 and 18, Saturday 14; cut are
     * Saturday 252.5, Monday 155 of the gym, Wednesday 315 */
    ASSERT_NEAR(search_kept(&h.outlook, &option, 28),
                1 - 722.5 / (2 * 335 + 2 * 420 + 505), 1e-14);
    ASSERT_NEAR(search_kept(&h.outlook, &option, 12),
                1 - 722.5 / (2 * 335 + 2 * 420 + 505), 1e-14);
    ASSERT_NEAR(search_kept(&h.outlook, &option, 3), .25, 1e-14);
    ASSERT_NEAR(search_kept(&h.outlook, &option, 5), 1 - 470.0 / 755, 1e-14);
    CU_ASSERT_EQUAL(search_kept(&h.outlook, &option, 2), 1); /* no load */
    CU_ASSERT_EQUAL(search_kept(&h.outlook, &option, 0), 1);
    hand_close(&h);
    test_folder_done();
}

static const TestCase cases[] = {
    {"search_brute_force", test_search_brute_force},
    {"search_items", test_search_items},
    {"search_allows", test_search_allows},
    {"search_no_doubles", test_search_no_doubles},
    {"search_definitions", test_search_definitions},
    {"search_widening", test_search_widening},
    {"search_widening_rises", test_search_widening_rises},
    {"search_scaling", test_search_scaling},
    {"search_shifting", test_search_shifting},
    {"search_no_fatigue", test_search_no_fatigue},
    {"search_steady", test_search_steady},
    {"search_classic", test_search_classic},
    {"search_week_floor", test_search_week_floor},
    {"search_on_limit", test_search_on_limit},
    {"search_rest_days", test_search_rest_days},
    {"search_kept", test_search_kept},
    {NULL, NULL}};

const TestSuite suite_taper_search = {"taper", cases};
