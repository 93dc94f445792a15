/* ceiling: no option beats it; beside SciPy's linear programming, and for
 * variable dose beside SciPy's climb from many starts.
 *
 * Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "hunt.h"
#include "reckoned.h"
#include "test.h"
#include "world.h"

#include "taper/option.h"
#include "taper/score.h"
#include "taper/search.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

/* No option beats the ceiling, whose cuts lie within the limits. Shares: 0 for
 * none, 1 for the ceiling. */
static void check_ceiling(const Hunt *h) {
    const Search *s = &h->search;
    double none = s->items[0].readiness, size = size_of(h->w);
    bool resting = h->limits.shapes >> SHAPE_REST & 1;
    double possible = s->ceiling - none;
    bool beaten = false;
    for (size_t i = s->none_outside; i < s->count; i++)
        beaten = beaten || !(s->items[i].readiness <= s->ceiling + 1e-9 * size);
    CU_ASSERT_FALSE(beaten);
    for (size_t u = 1; u <= h->w->outlook.window; u++) {
        double most = h->limits.max_cut / 100;
        if (resting && u <= (size_t)h->limits.rest_days)
            most = 1;
        if (u > h->length)
            most = 0;
        CU_ASSERT(s->ceiling_cut[u - 1] >= -1e-9);
        CU_ASSERT(s->ceiling_cut[u - 1] <= most + 1e-9);
    }
    CU_ASSERT(own_holds(h, s->ceiling_cut));
    CU_ASSERT(fabs(own_score(h->w, h->score.aim, s->ceiling_cut) -
                   s->ceiling) <= 1e-10 * size);
    if (s->best > 0 && possible > 0) {
        CU_ASSERT_EQUAL(search_share(s->items[0].gain, possible), 0);
        CU_ASSERT_EQUAL(search_share(possible, possible), 1);
    }
}

static void test_search_ceiling(void) {
    gsl_rng *rng = test_random(2304);
    for (int round = 0; round < 600; round++) {
        Hunt h;
        hunt_open(rng, &h);
        check_ceiling(&h);
        hunt_close(&h);
    }
    gsl_rng_free(rng);
}

static void test_search_share(void) {
    ASSERT_NEAR(search_share(2.385, 9.54), .25, 1e-15);
    ASSERT_NEAR(search_share(-2.385, 9.54), -.25, 1e-15);
    CU_ASSERT(isnan(search_share(0, 0)));
    CU_ASSERT(isnan(search_share(-1, 0)));
}

/* ---- the ceiling against SciPy ---- */

/* (Presolve stays off: HiGHS in Debian 12 calls some cases infeasible that a
 * cut of nothing solves.) Reads cases of numbers: days, event days, lowest?,
 * rows, blocks whose sessions count; base of each event day; its weight;
 * largest cut of each day; harm of each event day and day; coefficients of each
 * row and its room; cut beyond which a day's sessions are gone; those of each
 * day; how many may go of each block of seven. Prints the best aim of each. */
static const char linprog_script[] =
    "import sys, numpy as np\n"
    "from scipy.optimize import milp, LinearConstraint, Bounds\n"
    "it = iter(open(sys.argv[1]).read().split())\n"
    "def take(*shape):\n"
    "    n = int(np.prod(shape))\n"
    "    return np.array([float(next(it)) for _ in range(n)]).reshape(shape)\n"
    "for _ in range(int(next(it))):\n"
    "    L, E, lowest, W, S = [int(next(it)) for _ in range(5)]\n"
    "    base, weight, most = take(E), take(E), take(L)\n"
    "    drop, row, room = take(E, L), take(W, L), take(W)\n"
    "    gone, sessions, spare = take(1)[0], take(L), take(S)\n"
    "    size = np.abs(drop).max() or 1\n"
    "    n = 2 * L + 1\n" /* cuts, lowest, rest */
    "    c, A, b = np.zeros(n), [], []\n"
    "    low, high = np.zeros(n), np.append(np.append(most, 0), np.ones(L))\n"
    "    c[:L] = 0 if lowest else weight @ drop / size\n"
    "    def add(days, lowest, rest, most):\n"
    "        A.append(np.concatenate([days, [lowest], rest]))\n"
    "        b.append(most)\n"
    "    for r, m in zip(row, room):\n"
    "        k = max(np.abs(r).max(), 1e-3)\n"
    "        add(r / k, 0, np.zeros(L), m / k)\n"
    "    if lowest:\n"
    "        c[L], low[L], high[L] = -1, -np.inf, np.inf\n"
    "        for e in range(E):\n"
    "            add(drop[e] / size, 1, np.zeros(L),\n"
    "                (base[e] - base[0]) / size)\n"
    "    for w in range(S):\n"
    "        block = (np.arange(L) // 7 == w)\n"
    "        add(np.zeros(L), 0, sessions * block, spare[w])\n"
    "        for u in np.nonzero(block & (most > gone) & (sessions > 0))[0]:\n"
    "            one = np.eye(L)[u]\n"
    "            add(one, 0, (gone - most[u]) * one, gone)\n"
    "    limits = [LinearConstraint(np.array(A), -np.inf, b)] if A else []\n"
    "    r = milp(c, constraints=limits, bounds=Bounds(low, high),\n"
    "             integrality=np.arange(n) > L if S else np.zeros(n),\n"
    "             options={'mip_rel_gap': 0, 'presolve': False})\n"
    "    assert r.status == 0, r.message\n"
    "    print('%.17g' % (base[0] - r.fun * size if lowest else\n"
    "                     weight @ base - r.fun * size))\n";

static void lp_days(const Hunt *h, Text *text) {
    const World *w = h->w;
    bool resting = h->limits.shapes >> SHAPE_REST & 1;
    for (int e = 0; e < w->event->days; e++)
        text_add(text, "%.17g ", own_readiness(w, no_cut, e));
    for (int e = 0; e < w->event->days; e++)
        text_add(text, "%.17g ",
                 h->score.aim == AIM_FIRST  ? e == 0
                 : h->score.aim == AIM_LAST ? e == w->event->days - 1
                                            : 1.0 / w->event->days);
    for (size_t u = 1; u <= h->length; u++)
        text_add(text, "%.17g ",
                 resting && u <= (size_t)h->limits.rest_days
                     ? 1
                     : h->limits.max_cut / 100);
}

static void lp_harm(const Hunt *h, Text *text) {
    const World *w = h->w;
    for (int e = 0; e < w->event->days; e++)
        for (size_t u = 1; u <= h->length; u++) {
            Date date = w->event->start - (Date)u;
            double age = own_time(w, w->event->start + e, w->event->minute) -
                         own_time(w, date, -1);
            text_add(text, "%.17g ",
                     own_planned(w, date).cuttable * own_influence(w, age));
        }
}

static double own_cuttable(const Hunt *h, size_t u) {
    return u <= h->length
               ? own_planned(h->w, h->w->event->start - (Date)u).cuttable
               : 0;
}

static void lp_row(const double *row, size_t days, double room, Text *rows,
                   Text *rooms) {
    for (size_t u = 1; u <= days; u++)
        text_add(rows, "%.17g ", row[u]);
    text_add(rooms, "%.17g ", room);
}

/* The least load of a block. */
static void lp_week_load(const Hunt *h, size_t from, Text *rows, Text *rooms) {
    double row[DAYS_MOST + 14] = {0}, room = 0;
    for (size_t u = from; u < from + 7; u++) {
        row[u] = own_cuttable(h, u);
        if (u <= own_window(h->w))
            room += own_any_load(h->w, h->w->event->start - (Date)u, no_cut);
    }
    lp_row(row, h->length, room * (1 - h->limits.min_week_load / 100), rows,
           rooms);
}

/* `days` from `from` against so many before, times a factor, plus a load. */
static void lp_rise(const Hunt *h, const size_t span[2], const double by[2],
                    Text *rows, Text *rooms) {
    double row[DAYS_MOST + 14] = {0}, room = by[1];
    for (size_t u = span[0]; u < span[0] + span[1]; u++) {
        Date date = h->w->event->start - (Date)u;
        row[u] -= own_cuttable(h, u);
        row[u + span[1]] += by[0] * own_cuttable(h, u + span[1]);
        room += by[0] * own_any_load(h->w, date - (Date)span[1], no_cut) -
                own_any_load(h->w, date, no_cut);
    }
    lp_row(row, h->length, room, rows, rooms);
}

/* All rows, then their rooms; returns how many. */
static size_t lp_rows(const Hunt *h, Text *text) {
    Text rooms = {0};
    const double day[2] = {1, h->limits.max_day_rise};
    const double week[2] = {1 + h->limits.max_week_rise / 100, 0};
    size_t count = 0;
    for (size_t from = 1; from <= h->length; from += 7, count++)
        lp_week_load(h, from, text, &rooms);
    for (size_t u = 1; u <= h->length && isfinite(day[1]); u++, count++)
        lp_rise(h, (size_t[2]){u, 1}, day, text, &rooms);
    for (size_t u = 1; u <= h->length && isfinite(week[0]); u += 7, count++)
        lp_rise(h, (size_t[2]){u, 7}, week, text, &rooms);
    text_add(text, "%s", text_of(&rooms));
    text_free(&rooms);
    return count;
}

static void lp_sessions(const Hunt *h, Text *text) {
    text_add(text, "%.17g ", own_session_cut(h));
    for (size_t u = 1; u <= h->length; u++)
        text_add(text, "%d ",
                 own_sessions(h->w, h->w->event->start - (Date)u, true));
    for (size_t u = 1; u <= h->length && h->limits.min_sessions; u += 7)
        text_add(text, "%d ", own_spare(h, u));
}

static void lp_case(const Hunt *h, Text *text) {
    Text rows = {0};
    size_t count = lp_rows(h, &rows);
    text_add(text, "%zu %d %d %zu %zu ", h->length, h->w->event->days,
             h->score.aim == AIM_LOWEST, count,
             h->limits.min_sessions ? (h->length + 6) / 7 : 0);
    lp_days(h, text);
    lp_harm(h, text);
    text_add(text, "%s", text_of(&rows));
    lp_sessions(h, text);
    text_add(text, "\n");
    text_free(&rows);
}

enum { LP_CASES = 150 };

static void lp_hunt(gsl_rng *rng, int round, Hunt *h) {
    for (;;) {
        h->w = random_window(rng);
        h->limits = random_limits(rng);
        h->limits.max_length = test_whole(rng, 1, 40);
        h->limits.min_week_load = round % 3 ? test_whole(rng, 5, 99) : 0;
        h->limits.min_sessions = round % 4 > 1 ? test_whole(rng, 3, 9) : 0;
        if (round % 4 == 3)
            h->limits.shapes |= 1u << SHAPE_REST;
        if (round % 5 == 0)
            random_rises(rng, &h->limits);
        if (hunt_try(h, round % 2 ? AIM_LOWEST
                                  : (Aim)test_whole(rng, 0, AIMS - 1)))
            return;
        world_close(h->w);
    }
}

static void lp_compare(const char *out, const double *ceiling,
                       const double *size) {
    for (int i = 0; i < LP_CASES; i++) {
        char *end;
        double wanted = strtod(out, &end);
        CU_ASSERT_FATAL(end > out);
        test_evidence_reached(fabs(ceiling[i] - wanted) / size[i], 1e-9);
        CU_ASSERT(fabs(ceiling[i] - wanted) <= 1e-9 * size[i]);
        out = end;
    }
}

static void test_ceiling_linprog(void) {
    test_evidence("SciPy, optimize.linprog (HiGHS)",
                  "the ceiling within limits, share of readiness");
    gsl_rng *rng = test_random(1947);
    double ceiling[LP_CASES], size[LP_CASES];
    Text text = {0};
    const char *words[] = {NULL, NULL};
    char *out;
    test_folder();
    text_add(&text, "%d\n", LP_CASES);
    for (int round = 0; round < LP_CASES; round++) {
        Hunt h;
        lp_hunt(rng, round, &h);
        lp_case(&h, &text);
        ceiling[round] = h.search.ceiling;
        size[round] = size_of(h.w);
        hunt_close(&h);
    }
    words[0] = test_file(0, "cases.txt", text_of(&text));
    out = test_python(linprog_script, words);
    lp_compare(out, ceiling, size);
    free(out);
    text_free(&text);
    test_folder_done();
    gsl_rng_free(rng);
}

/* Reads cases: days; largest cut of each; blocks; load and room of each block;
 * gradient and Hessian of readiness by the cuts. Prints the highest rise that
 * SciPy finds from several starts. */
static const char climb_script[] =
    "import sys, numpy as np\n"
    "from scipy.optimize import minimize\n"
    "it = iter(open(sys.argv[1]).read().split())\n"
    "def take(*shape):\n"
    "    n = int(np.prod(shape))\n"
    "    return np.array([float(next(it)) for _ in range(n)]).reshape(shape)\n"
    "rng = np.random.default_rng(1)\n"
    "for _ in range(int(next(it))):\n"
    "    L, W = int(next(it)), int(next(it))\n"
    "    most, block, room = take(L), take(W, L), take(W)\n"
    "    g, H = take(L), take(L, L)\n"
    "    size = np.abs(g).max() or 1\n"
    "    f = lambda c: -(g @ c + c @ H @ c / 2) / size\n"
    "    df = lambda c: -(g + H @ c) / size\n"
    "    keep = {'type': 'ineq', 'fun': lambda c: room - block @ c,\n"
    "            'jac': lambda c: -block}\n"
    "    best = -np.inf\n"
    "    for k in range(6):\n"
    "        r = minimize(f, most * rng.random(L) * (k > 0), jac=df,\n"
    "                     method='SLSQP', bounds=[(0, m) for m in most],\n"
    "                     constraints=[keep], options={'maxiter': 500,\n"
    "                                                  'ftol': 1e-14})\n"
    "        c = np.clip(r.x, 0, most)\n"
    "        if (room - block @ c >= -1e-9 * (1 + abs(room))).all():\n"
    "            best = max(best, -f(c) * size)\n"
    "    print('%.17g' % best)\n";

/* Readiness with some days cut whole; u = 0: none. */
static double cut_two(const Hunt *h, size_t u, double a, size_t v, double b) {
    double cut[DAYS_MOST] = {0};
    if (u > 0)
        cut[u - 1] += a;
    if (v > 0)
        cut[v - 1] += b;
    return own_score(h->w, h->score.aim, cut);
}

/* Readiness is quadratic in the cuts, so differences give it exactly. */
static void climb_quadratic(const Hunt *h, Text *text) {
    double none = cut_two(h, 0, 0, 0, 0), one[DAYS_MOST];
    for (size_t u = 1; u <= h->length; u++) {
        one[u] = cut_two(h, u, 1, 0, 0) - none;
        text_add(text, "%.17g ",
                 (one[u] - (cut_two(h, u, -1, 0, 0) - none)) / 2);
    }
    for (size_t u = 1; u <= h->length; u++)
        for (size_t v = 1; v <= h->length; v++)
            text_add(text, "%.17g ",
                     u == v ? one[u] + cut_two(h, u, -1, 0, 0) - none
                            : cut_two(h, u, 1, v, 1) - none - one[u] - one[v]);
}

/* `rest`: bits of the days that may be cut beyond what leaves their sessions,
 * where sessions count. */
static void climb_case(const Hunt *h, unsigned rest, Text *text) {
    bool resting = h->limits.shapes >> SHAPE_REST & 1;
    Text rows = {0};
    text_add(text, "%zu %zu ", h->length, lp_rows(h, &rows));
    for (size_t u = 1; u <= h->length; u++) {
        double most = resting && u <= (size_t)h->limits.rest_days
                          ? 1
                          : h->limits.max_cut / 100;
        if (h->limits.min_sessions && (u > 3 || !(rest >> (u - 1) & 1)))
            most = fmin(most, own_session_cut(h));
        text_add(text, "%.17g ", most);
    }
    text_add(text, "%s", text_of(&rows));
    text_free(&rows);
    climb_quadratic(h, text);
}

/* May just these of the last three days rest? */
static bool climb_may_rest(const Hunt *h, unsigned rest) {
    int gone = 0;
    for (size_t u = 1; u <= 3; u++)
        if (u <= h->length && (rest >> (u - 1) & 1))
            gone += own_sessions(h->w, h->w->event->start - (Date)u, true);
    return !h->limits.min_sessions ? rest == 0 : gone <= own_spare(h, 1);
}

enum { CLIMBS = 24, CHOICES = 8 };

static void climb_limits(gsl_rng *rng, int round, Hunt *h) {
    h->limits = random_limits(rng);
    h->limits.max_length = test_whole(rng, 3, 16);
    h->limits.min_week_load = round % 2 ? test_whole(rng, 5, 90) : 0;
    h->limits.min_sessions = 0;
    if (round % 3 == 0)
        random_rises(rng, &h->limits);
    if (round % 4 > 1) {
        h->limits.min_sessions = test_whole(rng, 3, 8);
        h->limits.rest_days = 3;
        h->limits.shapes |= 1u << SHAPE_REST;
        h->limits.max_cut = fmin(80, h->limits.max_cut);
    }
}

static void climb_hunt(gsl_rng *rng, int round, Hunt *h) {
    for (;;) {
        h->w = random_window(rng);
        do
            h->w->params = random_kind(rng);
        while (h->w->params.kind != RESPONSE_VARIABLE_DOSE);
        climb_limits(rng, round, h);
        if (hunt_try(h, round % 3 ? AIM_MEAN : AIM_FIRST))
            return;
        world_close(h->w);
    }
}

/* SciPy finds nothing better than the ceiling (which may beat it where there
 * are several summits), whichever days rest; that the ceiling is no dream,
 * search_ceiling checks. */
static void test_ceiling_variable_dose(void) {
    test_evidence(
        "SciPy, optimize.minimize (SLSQP), many starts",
        "the ceiling of variable-dose models: how far SciPy gets above");
    gsl_rng *rng = test_random(2003);
    double rise[CLIMBS * CHOICES], size[CLIMBS * CHOICES];
    Text text = {0}, all = {0};
    const char *words[] = {NULL, NULL};
    char *out, *at, *end;
    int count = 0;
    test_folder();
    for (int round = 0; round < CLIMBS; round++) {
        Hunt h;
        climb_hunt(rng, round, &h);
        check_ceiling(&h);
        for (unsigned rest = 0; rest < CHOICES; rest++) {
            if (!climb_may_rest(&h, rest))
                continue;
            climb_case(&h, rest, &text);
            rise[count] = h.search.ceiling - h.search.items[0].readiness;
            size[count++] = size_of(h.w);
        }
        hunt_close(&h);
    }
    text_add(&all, "%d\n%s", count, text_of(&text));
    words[0] = test_file(0, "cases.txt", text_of(&all));
    at = out = test_python(climb_script, words);
    CU_ASSERT(count > 2 * CLIMBS);
    for (int i = 0; i < count; i++, at = end) {
        double found = strtod(at, &end);
        CU_ASSERT_FATAL(end > at);
        test_evidence_reached(fmax(0, found - rise[i]) / size[i], 1e-9);
        CU_ASSERT(rise[i] >= found - 1e-9 * size[i]);
    }
    free(out);
    text_free(&text);
    text_free(&all);
    test_folder_done();
    gsl_rng_free(rng);
}

static const TestCase cases[] = {
    {"search_ceiling", test_search_ceiling},
    {"search_share", test_search_share},
    {"ceiling_linprog", test_ceiling_linprog},
    {"ceiling_variable_dose", test_ceiling_variable_dose},
    {NULL, NULL}};

const TestSuite suite_taper_ceiling = {"taper", cases};
