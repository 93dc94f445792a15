#!/usr/bin/python3
"""Does a test notice when the source is wrong?

mutants.py BUILD [WORD]: changes one sign, bound or constant at a time in a copy
of a source file, links the tests and the program with it and runs the tests or
suites named beside the change, one after the other until one fails, as one must.
BUILD holds the objects of `make tests`; FLAGS and LIBS are the Makefile's.
Survivors are listed and make it fail; so does a change that compiles to the same
code, or whose place is not found exactly once (mutants.py --check looks for that
alone). WORD: only mutants of files with it. With --random=N: see mutants_random.py.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import shlex
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

KERNEL = "src/response/kernel.c"
SEARCH = "src/taper/search.c"
SCORE = "src/taper/score.c"
SETS = "src/taper/prescription.c"
LIMITS = "src/taper/limits.c"
RULES = "src/taper/rules.c"
DATE = "src/base/date.c"
TABLE = "src/base/table.c"
NUMBER = "src/base/number.c"
NAMES = "src/season/names.c"
SESSIONS = "src/season/read_sessions.c"
TEXT = "src/base/text.c"
GRID = "src/present/grid.c"
TRAIL, ROUNDS = "src/calibrate/trail.c", "src/calibrate/rounds.c"
COMMON = "src/taper/common.c"

# Quick tests first, then the suite.
TAPERS = ("taper.search_on_limit taper.search_rest_days taper.search_items "
          "taper.search_brute_force taper.search_definitions taper")
DATES, TABLES, NUMBERS = "base_date base", "base_table base", "base_number base"
SCORES = "taper.score_option taper.score_cuts taper.draw_scores taper"
PLANS = ("taper.sets_by_hand taper.plan_build_up taper.plan_demo "
         "taper.plan_random taper")
WIDTHS = "taper.limits_contradict taper.limits_lifted taper"
RISES = "taper.rises_by_hand taper.search_week_floor taper.search_items taper"
FAMILY = "calibrate_posterior calibrate"

# file, tests, what stands there, what is put in its place
MUTANTS = [
    (KERNEL, "response", "return -exp(-age / tau) / expm1(-1 / tau)",
     "return -exp(-age / tau) / expm1(-2 / tau)"),
    (KERNEL, "response", "return -exp(-age / tau) / expm1(-1 / tau)",
     "return -exp(age / tau) / expm1(-1 / tau)"),
    (KERNEL, "response", "state->memory = before * steady(v[PARAM_TAU3], age)",
     "state->memory = before * steady(v[PARAM_TAU3], 0)"),
    (KERNEL, "response",
     "before * before * steady(v[PARAM_TAU3], 0) * steady(v[PARAM_TAU2], age)",
     "before * steady(v[PARAM_TAU3], 0) * steady(v[PARAM_TAU2], age)"),
    (KERNEL, "response",
     "before * before * steady(v[PARAM_TAU3], 0) * steady(v[PARAM_TAU2], age)",
     "before * before * steady(v[PARAM_TAU3], 1) * steady(v[PARAM_TAU2], age)"),
    (KERNEL, "response", "state->part[k] *= decay->part[k]",
     "state->part[k] *= decay->part[0]"),
    (KERNEL, "response", "state->memory *= decay->memory",
     "state->memory *= decay->fatigue"),
    (KERNEL, "response", "state->part[k] += load", "state->part[k] -= load"),
    (KERNEL, "response",
     "    state->memory += load;\n    state->fatigue += state->memory * load;",
     "    state->fatigue += state->memory * load;\n    state->memory += load;"),
    (KERNEL, "response", "part[k >= c->fitness]", "part[k > c->fitness]"),
    (KERNEL, "response", "*fatigue = -part[1] + 0.0", "*fatigue = -part[1]"),
    (KERNEL, "response", "*fatigue = -part[1] + 0.0",
     "*fatigue = part[1] + 0.0"),
    (KERNEL, "response", "if (i + 1 < t->steps) {", "if (i + 2 < t->steps) {"),
    (KERNEL, "response", "t->gap ? t->gap[i + 1] : 1",
     "t->gap ? t->gap[i] : 1"),
    (KERNEL, "response", "if (gap != decay.gap)", "if (isnan(decay.gap))"),
    (KERNEL, "response", "lanes->rate[k][j] = -1 / c.item[k].tau",
     "lanes->rate[k][j] = 1 / c.item[k].tau"),
    (KERNEL, "response", "lanes->fatigue_rate[j] = -1 / p->value[PARAM_TAU2]",
     "lanes->fatigue_rate[j] = -1 / p->value[PARAM_TAU1]"),
    (KERNEL, "response", "when == READ_AFTER ? after : before",
     "when == READ_AFTER ? before : after"),
    (KERNEL, "response", "double add = when == READ_AFTER ? load : 0",
     "double add = when == READ_AFTER ? 0 : load"),
    (KERNEL, "response", "lanes->memory[j] * lanes->memory_decay[j] + load",
     "lanes->memory[j] * lanes->memory_decay[j]"),
    (KERNEL, "response", "sets - from < LANES ? sets - from : LANES",
     "sets - from <= LANES ? sets - from - 1 : LANES"),
    (KERNEL, "response", "if (i > 0 && gap != last_gap)",
     "if (gap != last_gap)"),
    (KERNEL, "response", "if (age <= 0)\n        return 0;",
     "if (age < 0)\n        return 0;"),
    (KERNEL, "response", "c->item[k].gain * exp(-age / c->item[k].tau)",
     "c->item[k].gain * exp(-(age + 1) / c->item[k].tau)"),
    (KERNEL, "response", "lanes->decay[k][j] = 1;", "lanes->decay[k][j] = 0;"),

    (SEARCH, TAPERS, "if (t->longest > t->length)",
     "if (t->longest < t->length)"),
    (SEARCH, TAPERS, "f->gain = i > 0 ? readiness[i] - none : 0",
     "f->gain = i > 0 ? readiness[i] + none : 0"),
    (SEARCH, TAPERS, "floor(100 * inside + 1e-6)", "ceil(100 * inside + 1e-6)"),
    (SEARCH, TAPERS, "while (labs(bad - good) > 1)",
     "while (labs(bad - good) > 2)"),
    (SEARCH, TAPERS, "long middle = (good + bad) / 2",
     "long middle = (good + 2 * bad) / 3"),
    (SEARCH, TAPERS, "good - rest : good + 100 - rest",
     "good - rest : good + 101 - rest"),
    (SEARCH, TAPERS, "if (good != l->good)", "if (good && !l->good)"),
    (SEARCH, TAPERS, "for (int cut = 5; cut < most; cut += 5)",
     "for (int cut = 10; cut < most; cut += 5)"),
    (SEARCH, TAPERS, "for (int cut = 5; cut < most; cut += 5)",
     "for (int cut = 5; cut < most - 5; cut += 5)"),
    (SEARCH, TAPERS, "!(part && most >= 100)", "!(part && most > 100)"),
    (SEARCH, TAPERS, "wants(t, SHAPE_LINEAR) && days > 1",
     "wants(t, SHAPE_LINEAR) && days > 2"),
    (SEARCH, TAPERS, "int second = (int)first + 25",
     "int second = (int)first"),
    (SEARCH, TAPERS, "for (int last = 1; last < days; last++)",
     "for (int last = 1; last < days - 1; last++)"),
    (SEARCH, TAPERS, "(size_t)days <= rest_limit(t->limits)",
     "(size_t)days < rest_limit(t->limits)"),
    (SEARCH, TAPERS, "t->limits->max_cut >= 100;\n    if (((size_t)days",
     "t->limits->max_cut > 100;\n    if (((size_t)days"),
    (SEARCH, TAPERS, "for (int days = 1; days <= (int)t->longest; days++)",
     "for (int days = 1; days < (int)t->longest; days++)"),
    (SEARCH, TAPERS, "OptionPart build = {days, -most, -most, 'x'}",
     "OptionPart build = {days, most, most, 'x'}"),
    (SEARCH, TAPERS, "taper > limits->max_length",
     "taper >= limits->max_length"),
    (SEARCH, TAPERS, "option_cut(option) > limits->max_cut",
     "option_cut(option) >= limits->max_cut"),
    (SEARCH, TAPERS, "fabs(a->gain - b->gain) > margin)\n"
     "        return a->gain > b->gain",
     "fabs(a->gain - b->gain) > margin)\n        return a->gain < b->gain"),
    (SEARCH, TAPERS, "static bool keeps_more(const Found *a, const Found *b) {\n"
     "    if (fabs(a->kept - b->kept) > 1e-9)\n"
     "        return a->kept > b->kept;",
     "static bool keeps_more(const Found *a, const Found *b) {\n"
     "    if (fabs(a->kept - b->kept) > 1e-9)\n"
     "        return a->kept < b->kept;"),
    (SEARCH, TAPERS, "best - (SEARCH_EQUAL + 1e-9) * fabs(best)",
     "best - (SEARCH_EQUAL + 1e-9) * best"),
    (SEARCH, TAPERS, "best - (SEARCH_EQUAL + 1e-9) * fabs(best)",
     "best - (2 * SEARCH_EQUAL + 1e-9) * fabs(best)"),
    (SEARCH, TAPERS, "s->items[i].gain > least || s->none_outside",
     "s->items[i].gain > least"),
    (SEARCH, TAPERS, "gone += cut[u - 1] * o->cuttable[o->event_day - u]",
     "gone += cut[u - 1] * o->cuttable[o->event_day - u + 1]"),
    (SEARCH, TAPERS, "planned > 0 ? 1 - gone / planned : 1",
     "planned > 0 ? 1 - gone / planned : 0"),
    (SEARCH, TAPERS, "    if (!search_allows(o, limits, &none))\n        h.best",
     "    if (search_allows(o, limits, &none))\n        h.best"),
    (SEARCH, TAPERS, "ceiling_gain > 0 ? gain / ceiling_gain : NAN",
     "ceiling_gain > 0 ? gain / ceiling_gain : 0"),

    (SCORE, SCORES, "return e + 1 == o->event_days",
     "return e + 2 == o->event_days"),
    (SCORE, SCORES, "return 1 / (double)o->event_days",
     "return 1 / (double)(o->event_days + 1)"),
    (SCORE, SCORES, "moment[u] = moment[u - 1] + (double)u * drop;",
     "moment[u] = moment[u - 1] + (double)(u - 1) * drop;"),
    (SCORE, SCORES, "size_t day = o->event_day - u;\n            s->drop",
     "size_t day = o->event_day - u + 1;\n            s->drop"),
    (SCORE, SCORES, "fmin(t->lowest, readiness)",
     "fmax(t->lowest, readiness)"),
    (SCORE, SCORES, "params->value[PARAM_P0] + fitness[step] - fatigue[step];",
     "params->value[PARAM_P0] + fitness[step] + fatigue[step];"),
    (SCORE, SCORES, "size_t far = near + (size_t)p->days - 1",
     "size_t far = near + (size_t)p->days"),
    (SCORE, SCORES, "return to * (sum[end] - sum[near - 1])",
     "return to * (sum[end] - sum[near])"),
    (SCORE, SCORES, "(to - from) / (double)(p->days - 1)",
     "(to - from) / (double)p->days"),
    (SCORE, SCORES, "1.0 / (p->days - 1)", "1.0 / p->days"),
    (SCORE, SCORES, "for (size_t u = near; u <= end; u++, kept /= ratio)",
     "for (size_t u = near; u < end; u++, kept /= ratio)"),
    (SCORE, SCORES, "if (near > s->window)", "if (near >= s->window)"),
    (SCORE, SCORES, "readiness -= part_drop(s, e,",
     "readiness += part_drop(s, e,"),
    (SCORE, SCORES, "shift[i] = anchor - today[i]",
     "shift[i] = anchor + today[i]"),
    (SCORE, SCORES, "for (size_t from = 0; from < n; from += AT_ONCE)",
     "for (size_t from = 0; from + AT_ONCE < n; from += AT_ONCE)"),
    (SCORE, SCORES, "better += gain[i] > 1e-12 * fabs(",
     "better += gain[i] >= -1e-12 * fabs("),
    (SCORE, SCORES, "draws_quantile(gain, s->count, .05)",
     "draws_quantile(gain, s->count, .1)"),
    (SCORE, SCORES, "one[i] < other[i] - margin ? 0\n"
     "                                              : .5",
     "one[i] < other[i] - margin ? 0\n"
     "                                              : 1"),
    (SCORE, SCORES, "moment[u] = moment[u - 1] + (double)u * drop",
     "moment[u] = moment[u - 1] + (double)u"),

    (SETS, PLANS, "while (sum < total)", "while (sum + 1 < total)"),
    (SETS, PLANS, "given[most]++", "given[0]++"),
    (SETS, PLANS, "cut >= 1 ? 0 : fmax(1, floor(quota",
     "cut >= 1 ? 0 : fmax(0, floor(quota"),
    (SETS, PLANS, "fmax((double)count, floor(total + .5 + 1e-9))",
     "fmax((double)count, floor(total + 1e-9))"),
    (SETS, PLANS, "if (left > largest + 1e-9)", "if (left > largest - 1e-9)"),
    (SETS, PLANS, "given[i] > 1 && left < least + 1e-9",
     "given[i] > 1 && left < least - 1e-9"),
    (SETS, PLANS, "given[i] > 1 && left", "given[i] > 0 && left"),
    (SETS, PLANS, "given[next++] = x->keep ? x->sets : shared[cuttable++]",
     "given[next++] = x->keep ? shared[cuttable++] : x->sets"),
    (SETS, PLANS, "5 * floor(p->minutes * share / 5 + .5)",
     "5 * floor(p->minutes * share / 5)"),
    (SETS, PLANS, "fmin(p->minutes, fmax(least_minutes(p), minutes))",
     "fmax(least_minutes(p), minutes)"),
    (SETS, PLANS, "fmin(p->minutes, fmax(least_minutes(p), minutes))",
     "fmin(p->minutes, minutes)"),
    (SETS, PLANS, "return fmax(p->minutes, minutes)",
     "return fmin(p->minutes, minutes)"),
    (SETS, PLANS, "(1 - sheet->cut) < minutes - 2.5", "(1 - sheet->cut) > minutes - 2.5"),
    (SETS, PLANS, "row->load = p->load * share", "row->load = p->load"),
    (SETS, PLANS, "row->cut = 1 - sets / row->usual_sets",
     "row->cut = sets / row->usual_sets"),
    (SETS, PLANS, "if (exercises > 0 && sheet->cut < 1)",
     "if (exercises > 0)"),
    (SETS, PLANS, "date >= event->start + event->days",
     "date > event->start + event->days"),
    (SETS, PLANS, "bool in_window = before <= o->window",
     "bool in_window = before < o->window"),
    (SETS, PLANS, "plan->cut[before - 1] = gone / o->cuttable[day]",
     "plan->cut[before - 1] = gone"),

    (LIMITS, WIDTHS, ".max_length = 28", ".max_length = 27"),
    (LIMITS, WIDTHS, ".rest_days = 3", ".rest_days = 4"),
    (LIMITS, WIDTHS, "l->min_week_load >= 100", "l->min_week_load > 100"),
    (LIMITS, WIDTHS, "l->max_length < 2 &&", "l->max_length < 3 &&"),
    (LIMITS, WIDTHS, "l->no_gym >= l->max_length",
     "l->no_gym > l->max_length"),
    (LIMITS, WIDTHS, "l->max_cut <= 0 && (!resting || l->rest_days == 0)",
     "l->max_cut <= 0 && (!resting && l->rest_days == 0)"),
    (LIMITS, WIDTHS, "bool resting = l->shapes & 1u << SHAPE_REST",
     "bool resting = !(l->shapes & 1u << SHAPE_REST)"),
    (LIMITS, WIDTHS, "l->max_length = 60", "l->max_length = 20"),
    (LIMITS, WIDTHS, "l->rest_days = 14", "l->rest_days = 0"),

    (RULES, RISES, "static const double leeway = 1e-9",
     "static const double leeway = 1e-2"),
    (RULES, RISES, "1 - r->limits->min_week_load / 100",
     "1 - r->limits->min_week_load / 101"),
    (RULES, RISES, "planned(r->outlook, u + 1) -\n"
     "                planned(r->outlook, u)",
     "planned(r->outlook, u) -\n"
     "                planned(r->outlook, u + 1)"),
    (RULES, RISES, "if (cut[u - 1] > r->session_cut + leeway)",
     "if (cut[u - 1] >= r->session_cut + .05)"),
    (RULES, RISES, "r->weeks = (r->length + 6) / 7", "r->weeks = r->length / 7"),
    (RULES, RISES, "if (u > (size_t)l->max_length)\n        return 0",
     "if (u >= (size_t)l->max_length)\n        return 0"),

    (DATE, DATES, "year % 100 != 0) || year % 400 == 0",
     "year % 100 != 0) || year % 400 != 0"),
    (DATE, DATES, "FIRST_YEAR = 1900", "FIRST_YEAR = 1901"),
    (DATE, DATES, "LAST_YEAR = 2199", "LAST_YEAR = 2198"),
    (DATE, DATES, "(c.month > 2 ? leap : 0)", "(c.month > 1 ? leap : 0)"),
    (DATE, DATES, "(c.month == 2 ? leap : 0)", "leap"),
    (DATE, DATES, "past / 4 - past / 100", "past / 4"),
    (DATE, DATES, "p->separator == '-' && p->digits[1] == 2",
     "p->digits[1] == 2"),
    (DATE, DATES, "*s++ != parts->separator", "*s++ == ' '"),
    (DATE, DATES, "    return *s == '\\0';\n}\n\n/* A spreadsheet's",
     "    return true;\n}\n\n/* A spreadsheet's"),
    (DATE, DATES, "*s <= '9' && parts", "*s <= ':' && parts"),
    (DATE, DATES, "doe / 36524", "doe / 36525"),
    (DATE, DATES, "doe / 146096", "doe / 146097"),
    (DATE, DATES, "mp + (mp < 10 ? 3 : -9)", "mp + (mp <= 10 ? 3 : -9)"),
    (DATE, DATES, "((date + 3) % 7 + 7) % 7", "(date + 3) % 7"),
    (DATE, DATES, "number < 61", "number < 1"),
    (DATE, DATES, "number > 109574", "number > 109573"),
    (DATE, DATES, "date_of((Civil){1899 + 1, 1, 1}) - 2 + number",
     "date_of((Civil){1899 + 1, 1, 1}) - 1 + number"),
    (DATE, DATES, "order == DATES_DMY && civil.month > 12 && civil.day <= 12",
     "order == DATES_DMY && civil.month > 12 && civil.day <= 11"),
    (DATE, DATES, "parts->digits[i] < 5", "parts->digits[i] < 4"),
    (DATE, DATES, "part[0] > 23", "part[0] > 24"),
    (DATE, DATES, "part[1] > 59", "part[1] > 60"),
    (DATE, DATES, "part[2] > 59", "part[2] > 60"),
    (TABLE, TABLES, "if (length > LONGEST_FIELD)", "if (false)"),
    (TABLE, TABLES, "if (length > LONGEST_FIELD)",
     "if (length >= LONGEST_FIELD)"),
    (TABLE, TABLES, "if (t->row_bytes > LONGEST_ROW)", "if (false)"),
    (TABLE, TABLES, "(cr && text + 1 < length && bytes[text + 1] == '\\n')",
     "(cr && text + 1 < length)"),
    (TABLE, TABLES, "cr && text + 1 == length && !t->drained",
     "cr && text + 2 == length && !t->drained"),
    (TABLE, TABLES, "if (memchr(bytes, '\\0', length))", "if (false)"),
    (TABLE, TABLES, "utf8_check(bytes, length) < length", "false"),
    (TABLE, TABLES, "if (!strchr(\" \\t\\r\\n\", bytes[i])",
     "if (!strchr(\" \\r\\n\", bytes[i])"),
    (TABLE, TABLES, "if (!t->in_row && only_blanks(t, bytes, length))",
     "if (only_blanks(t, bytes, length))"),
    (TABLE, TABLES, "        t->row_line = t->line;",
     "        t->row_line = t->line + 1;"),
    (NUMBER, NUMBERS, "figure->before + figure->after == 0",
     "figure->before + figure->after < 0"),
    (NUMBER, NUMBERS, "figure->after == 3 &&", "figure->after >= 2 &&"),
    (NUMBER, NUMBERS, "figure->before <= 3 &&", "figure->before <= 4 &&"),
    (NUMBER, NUMBERS, " && figure->first != '0'", ""),
    (NAMES, "season", "slot->length == length", "slot->length >= length"),
    (SESSIONS, "season", "i >= LOAD_C && ", "i > LOAD_C && "),
    (SESSIONS, "season", "        p->number[i] = NAN;\n        if", "        if"),
    (SESSIONS, "season", "p->next[LB_C + 1] = LB_C + 1", "p->next[LB_C + 1] = LB_C"),
    (SESSIONS, "season program", "[MINUTES_C] = {0, 1440}",
     "[MINUTES_C] = {0, 1441}"),

    (TEXT, "base", "*control = step == 0 || *s < 0x20 ||",
     "*control = step == 0 || *s < 0x10 ||"),
    (TEXT, "base", "(step == 2 && s[0] == 0xC2 && s[1] < 0xA0)",
     "(step == 2 && s[0] == 0xC2 && s[1] < 0x90)"),
    (TEXT, "base", "bool hidden = control || utf8_unseen(text + at)",
     "bool hidden = control"),
    (TEXT, "base", "if (blank_here && people)", "if (blank_here)"),
    (TEXT, "base", "else if (!people || !utf8_unseen(text))",
     "else if (!utf8_unseen(text))"),
    (TEXT, "base", "(s[0] == 0xEF && s[1] == 0xBF && s[2] >= 0xBE))",
     "(s[0] == 0xEF && s[1] == 0xBF && s[2] > 0xBE))"),
    (TEXT, "present", "const char *other = unseen ? \"\" : instead(*text)",
     "const char *other = instead(*text)"),
    (GRID, "present", "text_show(&safe, part)", "text_add(&safe, \"%s\", part)"),
    (GRID, "present", "text_show(&cell, whole)",
     "text_add(&cell, \"%s\", whole)"),
    (GRID, "present", "if (!is_ascii(text)) {", "if (is_ascii(text)) {"),
    (GRID, "present", "lines += length + (lines[length] == '\\n')",
     "lines += length + (lines[length] == '\\n') * 2"),
    (TRAIL, FAMILY, "share[1] = -ratio * (1 - growth)",
     "share[1] = -ratio * growth"),
    (TRAIL, FAMILY, "ratio * exp(own_ratio * place[i])",
     "ratio * exp(place[i])"),
    (TRAIL, FAMILY, "share[k] * share[j] * (k == j ? 1 : 2) * s->product[pair]",
     "share[k] * share[j] * s->product[pair]"),
    (TRAIL, FAMILY, "spread_of(m, PARAM_GROWTH) + 1e-9)",
     "spread_of(m, PARAM_GROWTH) - 1e-9)"),
    (ROUNDS, FAMILY, "(1 - together) * exp(mean_like - top)",
     "(1 - together) * exp(like - top)"),
    (ROUNDS, FAMILY, "t->mix[k] = t->a.squad->member[k];",
     "t->mix[k] *= t->a.squad->member[k];"),
    (ROUNDS, FAMILY, "log_one -= .5 * z[k] * z[k];", "log_one -= z[k] * z[k];"),
    (ROUNDS, FAMILY, "t->share[i] = of_prior * t->model_density[i] + t->normals[i]",
     "t->share[i] = t->model_density[i] + t->normals[i]"),
    (ROUNDS, FAMILY, "factor[r] += 5 / (4 + own->weight[r] * e * e) / LEARNED",
     "factor[r] += 1. / LEARNED"),
    (ROUNDS, FAMILY, "sum += prior * exp(trail_like(t, kind, k)[i] - top)",
     "sum += exp(trail_like(t, kind, k)[i] - top)"),
    ("src/calibrate/verdict.c", FAMILY, "kind_bayes[j] = plain[j] - t->none[j]",
     "kind_bayes[j] = plain[j] + t->none[j]"),
    ("src/calibrate/verdict.c", FAMILY, "for (size_t j = from + 1; j < to; j++)",
     "for (size_t j = from + 2; j < to; j++)"),
    ("src/calibrate/readings.c", FAMILY, "rest.b * x[tests + k] +",
     "rest.b * x[k] +"),
    ("src/calibrate/readings.c", FAMILY,
     "marginal_log(m, &gram, r->share[i], cell) + r->prior[i]",
     "marginal_log(m, &gram, r->share[i], cell) - r->prior[i]"),
    ("src/calibrate/posterior.c", FAMILY, "reading -= b * share[k] * t->part[k][last]",
     "reading += b * share[k] * t->part[k][last]"),
    ("src/calibrate/marginal.c", FAMILY,
     "all = 2 * power[f] - tail", "all = power[f] - tail"),
    ("src/calibrate/marginal.c", FAMILY, "m->grain = step * step / 12",
     "m->grain = 0 * step"),
    ("src/calibrate/pool.c", FAMILY, "said -= without->said[h * MEMBERS + m]",
     "said -= 0 * without->said[h * MEMBERS + m]"),
    ("src/calibrate/pool.c", FAMILY,
     "member[m] = (1 - shared_evenly) * member[m] + shared_evenly / MEMBERS",
     "member[m] = member[m] + 0 * shared_evenly / MEMBERS"),
    ("src/calibrate/points.c", FAMILY, "u[k] -= floor(u[k]);",
     "u[k] = fmod(u[k], .5);"),
    (COMMON, "taper", "double limit = COMMON_OWN * fmax(t->possible[i], 0)",
     "double limit = COMMON_LOST * fmax(t->possible[i], 0)"),
    (COMMON, "taper", "found = a->count - b->count;\n    if (found == 0)\n        found = all",
     "found = b->count - a->count;\n    if (found == 0)\n        found = all"),
    (COMMON, "taper", "slack = COMMON_EQUAL * fabs(best)",
     "slack = 2 * COMMON_EQUAL * fabs(best)"),
    (COMMON, "taper", "fabs(days - 8) + fabs(10 * cut - 5)",
     "fabs(days - 8) + fabs(10 * cut - 3)"),
    ("src/cases/athlete_tests.c", "program_cases", "return r > 1 - 1e-9;",
     "return r > -1;"),
    ("src/answers/plan.c", "program_cases", "if (begins < first && begins >=",
     "if (begins > first && begins >="),
    ("src/calibrate/forecast.c", "calibrate_forecast",
     "f->count + RENEWALS - 1", "f->count + RENEWALS + 1"),
    ("src/answers/joint_floor.c", "answers_joint_floor",
     "score_aim(&s->events[k].score, s->events[k].score.base)",
     "0 * score_aim(&s->events[k].score, s->events[k].score.base)"),
    ("src/present/fit_pictures.c", "program_pictures",
     "\"It\", p->residual, p->count, 1", "\"It\", p->residual, p->count, 2"),
    ("src/answers/changed.c", "program_squad_plans",
     "one[i] -= other[i]", "one[i] += other[i]"),
    ("src/answers/changed.c", "program_squad_plans",
     "change->gain = old.gain", "change->gain = 2 * old.gain"),
    ("src/base/workbook.c", "base_workbook", "if (!blank) {", "if (1) {"),
    ("src/calibrate/points.c", "calibrate_points",
     "for (unsigned k = 0; k < dimensions; k++)",
     "for (unsigned k = 1; k < dimensions; k++)"),
    ("src/calibrate/shape_prior.c", "calibrate_pool", "if (apart > 0)",
     "if (apart >= 0)"),
    ("src/season/reader.c", "season_read", "if (good)\n        note_unused",
     "if (1)\n        note_unused"),
    ("src/season/read_events.c", "season_read_events",
     "&event.weight) && good", "&event.weight) || good"),
    ("src/answers/review.c", "program.review",
     "for (size_t i = 0; i < a->session_count; i++)",
     "for (size_t i = 0; i <= a->session_count; i++)"),
    ("src/output/review_text.c", "program.review",
     "if (all->item[i].unit &&\n            text_same(", "if (1 || text_same("),
    ("src/output/review_lead.c", "program.review",
     "if (all->item[i].unit && until > last)", "if (1)"),
    ("src/output/taper_warnings.c", "program.events",
     '"B%s", text_of(&text) + 1', '"B%s", text_of(&text) - 1'),
    ("src/output/words.c", "program.models",
     "v[PARAM_TAU2]);\n    add_ratio(m, text);", "v[PARAM_TAU2]);"),
    ("src/output/fit_text.c", "program.fit", "if (moved < lines->count)",
     "if (0)"),
    ("src/output/joint_text.c", "program.joint",
     "cell_option(&grid, option, 1);", "cell_option(&grid, option, 0);"),
    ("src/output/compare_text.c", "program.poor_tests",
     "    add_unfollowed(k, count, doc);", "    (void)add_unfollowed;"),
    ("src/answers/review.c", "program.review",
     "r->until = then->event->start - 1;", "r->until = then->event->start - 2;"),
    ("src/taper/option.c", "taper_option taper",
     "if (found == 0)\n            found = order(p->to, q->to)",
     "if (found != 0)\n            found = order(p->to, q->to)"),
    ("src/lessons/evidence.c", "program_lesson",
     "l->table.cells[4], l->table.cells[14]",
     "l->table.cells[3], l->table.cells[14]"),
    ("src/commands/start.c", "program_start", "i < 3; i++) {\n        fprintf",
     "i <= 3; i++) {\n        fprintf"),
    ("src/commands/start_from.c", "program_start", "if (product) {", "if (1) {"),
    ("src/output/taper_text.c", "program.models",
     'days, days == 1 ? "" : "s");\n}\n\n/* Where the best',
     'days, days == 2 ? "" : "s");\n}\n\n/* Where the best'),
    ("src/output/joint_text.c", "program.joint",
     "    if (low <= high)\n        document_words(doc, WORDS_PLAIN,",
     "    if (1)\n        document_words(doc, WORDS_PLAIN,"),
]


ENVIRONMENT = {**os.environ, "PEAKWARD_QUICK": "1"}


def run(words, **more):
    return subprocess.run(words, stdout=subprocess.DEVNULL,
                          stderr=subprocess.DEVNULL, **more).returncode


def run_tests(words, program, timeout):
    """0, or what ended the tests; what they left running ends with them."""
    environment = {**ENVIRONMENT, "PEAKWARD": program}
    with subprocess.Popen(words, stdout=subprocess.DEVNULL,
                          stderr=subprocess.DEVNULL, env=environment,
                          start_new_session=True) as tests:
        try:
            return tests.wait(timeout)
        except subprocess.TimeoutExpired:
            os.killpg(tests.pid, signal.SIGKILL)
            return "never ends"


def compile_to(text, beside, out, folder):
    source = Path(folder) / Path(beside).name
    source.write_text(text)
    flags = [f for f in shlex.split(os.environ["FLAGS"])
             if f not in ("-MMD", "-MP")]
    return run([*shlex.split(os.environ.get("CC", "gcc")), *flags, "-w",
                f"-I{Path(beside).parent}", "-c", "-o", out, str(source)])


def code_of(path):
    """What an object holds, without its names for debugging."""
    subprocess.run(["objcopy", "--strip-debug", path, path + ".bare"],
                   check=True)
    return subprocess.run(["objdump", "-s", "-r", "-d", path + ".bare"],
                          check=True,
                          capture_output=True).stdout.split(b"\n", 3)[3]


def link(build, file, mutant, tests, program):
    """Tests and program with one object changed for the mutant's."""
    build = Path(build)
    taken = build / Path(file).relative_to("src").with_suffix(".o")
    ours = [build / p.relative_to("src").with_suffix(".o")
            for p in Path("src").glob("*/*.c")]
    ours = [str(p) for p in ours if p != taken]
    main_object = build / "main.o"
    if main_object == taken:
        main_object = mutant
    else:
        ours.append(mutant)
    suites = [p for p in Path("tests").rglob("*.c")
              if p.parts[1] not in ("fuzz", "bench", "faults")]
    suites = [str(build / p.with_suffix(".o")) for p in suites]
    libs = shlex.split(os.environ["LIBS"])
    return (run(["gcc", "-o", tests, *suites, *ours, "-lcunit",
                 *libs]) or
            run(["gcc", "-o", program, str(main_object), *ours, *libs]))


class Mutant:
    """A change of one place, compiled and linked. `trouble` says why it
    cannot be tried. Tests and program stand beside the built ones, where models
    and pictures' scripts are found."""

    def __init__(self, build, folder, file, changed):
        self.tests = f"{build}/mutant{os.getpid()}"
        self.program = f"{self.tests}-program"
        mutant, plain = f"{folder}/mutant.o", f"{folder}/plain.o"
        self.trouble = ""
        compile_to(Path(file).read_text(), file, plain, folder)
        if compile_to(changed, file, mutant, folder):
            self.trouble = "does not compile"
        elif code_of(mutant) == code_of(plain):
            self.trouble = "compiles to the same code"
        elif link(build, file, mutant, self.tests, self.program):
            self.trouble = "does not link"

    def noticed(self, name, timeout):
        return run_tests([self.tests, name], self.program, timeout) != 0

    def done(self):
        for path in (self.tests, self.program):
            Path(path).unlink(missing_ok=True)


def fate(build, folder, file, suite, before, after, most):
    text = Path(file).read_text()
    if text.count(before) != 1:
        return f"found {text.count(before)} times"
    mutant = Mutant(build, folder, file, text.replace(before, after))
    try:
        if mutant.trouble:
            return mutant.trouble
        for name in suite.split():
            if mutant.noticed(name, most[name]):
                return f"killed by {name}"
        return "SURVIVED"
    finally:
        mutant.done()


def found_once():
    """Says which places have moved; how many there are."""
    moved = 0
    for file, _, before, _ in MUTANTS:
        path = Path(file)
        times = path.read_text().count(before) if path.exists() else 0
        if times != 1:
            moved += 1
            print(f"tests/mutants.py: found {times} times in {file}: {before}")
    print(f"mutants: {len(MUTANTS) - moved} of {len(MUTANTS)} places found once")
    return moved


def main():
    if sys.argv[1] == "--check":
        return 1 if found_once() else 0
    build, word = sys.argv[1], (sys.argv + [""])[2]
    if word.startswith("--"):
        import mutants_random
        return mutants_random.main()
    program = f"{build}/peakward"
    most = {}  # s for a suite: what never ends is noticed, what is slow is not
    wanted = [m for m in MUTANTS if word in m[0]]
    left = []
    for name in sorted({name for m in wanted for name in m[1].split()}):
        began = time.time()
        if run_tests([f"{build}/run_tests", name], program, None) != 0:
            sys.exit(f"mutants: {name} fails without any mutant")
        most[name] = 30 + 10 * (time.time() - began)
    with tempfile.TemporaryDirectory() as folder:
        for file, suite, before, after in wanted:
            end = fate(build, folder, file, suite, before, after, most)
            change = re.sub(r"\s+", " ", f"{before}  ->  {after}")
            print(f"{end}: {file}: {change}", flush=True)
            if not end.startswith("killed"):
                left.append(end)
    print(f"mutants: {len(wanted) - len(left)} of {len(wanted)} killed")
    return 1 if left else 0


if __name__ == "__main__":
    sys.exit(main())
