/* squad: one answer for a squad, whoever asks for it and with which command.
 *
 * The season is invented: eight athletes, 20 weeks, tests that follow a
 * response with time constants of their own, reckoned here.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include "base/date.h"
#include "base/text.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PEOPLE = 8, LOGGED = 140, TESTED = 8, SPEC = 80 };

static const double week_load[7] = {480, 620, 420, 700, 280, 560, 0};

/* The load of a day: weeks and people differ. */
static double load_of(int person, int day) {
    double wave = 1 + .3 * sin(day / 9. + person) + .2 * sin(2.6 * day);
    return round(week_load[day % 7] * wave);
}

/* A reading before each day, but for level and scale: fast and slow ones. */
static void respond(int person, double reading[LOGGED]) {
    double tau1 = 30 + 4 * person, tau2 = person < 4 ? 5 + person : 12 + person;
    double fit = 400 / (exp(1 / tau1) - 1), tired = 400 / (exp(1 / tau2) - 1);
    for (int day = 0; day < LOGGED; day++) {
        reading[day] = fit - 1.8 * tired;
        fit = (fit + load_of(person, day)) * exp(-1 / tau1);
        tired = (tired + load_of(person, day)) * exp(-1 / tau2);
    }
}

static void write_logs(int from, int to) {
    Date first = date_of((Civil){2026, 1, 5});
    Text text = {0};
    char day[DATE_TEXT];
    text_add(&text, "date,athlete,session,load\n");
    for (int person = from; person < to; person++)
        for (int d = 0; d < LOGGED; d++)
            if (load_of(person, d) > 0)
                text_add(&text, "%s,wing-%02d,Court,%.0f\n",
                         date_write(day, first + d), person + 1,
                         load_of(person, d));
    test_file(0, "sessions.csv", text_of(&text));
    text_free(&text);
}

static void write_tests(int from, int to) {
    Date first = date_of((Civil){2026, 1, 5});
    double reading[LOGGED];
    Text text = {0};
    char day[DATE_TEXT];
    text_add(&text, "date,athlete,test,value\n");
    for (int person = from; person < to; person++) {
        respond(person, reading);
        for (int k = 0; k < TESTED; k++) {
            int d = 20 + 15 * k + person;
            text_add(&text, "%s,wing-%02d,Jump height (cm),%.2f\n",
                     date_write(day, first + d), person + 1,
                     40 + reading[d] / 1500 + .2 * sin(7. * d));
        }
    }
    test_file(1, "tests.csv", text_of(&text));
    text_free(&text);
}

static void write_squad(int from, int to, bool tested) {
    write_logs(from, to);
    if (tested)
        write_tests(from, to);
    test_file(2, "events.csv", "event,start\nRegional cup,2026-06-20\n");
    test_file(3, "week.csv",
              "weekday,session,load\nmon,Court,480\ntue,Court,620\n"
              "wed,Court,420\nthu,Court,700\nfri,Court,280\nsat,Court,560\n");
}

/* The specs recommended, by `compare`, one an athlete in order. */
static size_t recommended(const char *folder, const char *more,
                          char specs[PEOPLE][SPEC]) {
    char words[200], *out = NULL, *err = NULL, *line, *rest;
    size_t count = 0;
    snprintf(words, sizeof words,
             "compare @ --csv --quiet --option recommended%s", more);
    CU_ASSERT_EQUAL(run(words, folder, &out, &err), 0);
    line = strtok_r(out, "\n", &rest);
    while ((line = strtok_r(NULL, "\n", &rest)) && count < PEOPLE) {
        char *at = line;
        for (int comma = 0; comma < 10; comma++)
            at = strchr(at, ',') + 1;
        at += *at == '"';
        snprintf(specs[count++], SPEC, "%.*s", (int)strcspn(at, "\""), at);
        if (at[-1] != '"') /* gains stand behind it */
            specs[count - 1][strcspn(specs[count - 1], ",")] = '\0';
    }
    free(out);
    free(err);
    return count;
}

static size_t different(char specs[PEOPLE][SPEC], size_t count) {
    size_t found = 0;
    for (size_t i = 0; i < count; i++) {
        bool seen = false;
        for (size_t k = 0; k < i; k++)
            seen = seen || strcmp(specs[i], specs[k]) == 0;
        found += !seen;
    }
    return found;
}

/* Fewer tapers than one's own each; one where one is asked for; the same
 * whoever is asked for. */
static void together(void) {
    char all[PEOPLE][SPEC], own[PEOPLE][SPEC], one[PEOPLE][SPEC];
    const char *folder = test_folder();
    char words[40];
    write_squad(0, PEOPLE, true);
    CU_ASSERT_EQUAL(recommended(folder, "", all), PEOPLE);
    CU_ASSERT_EQUAL(recommended(folder, " --individual", own), PEOPLE);
    CU_ASSERT(different(all, PEOPLE) >= 1 &&
              different(all, PEOPLE) <= different(own, PEOPLE));
    CU_ASSERT(different(own, PEOPLE) > 1);
    CU_ASSERT_EQUAL(recommended(folder, " --groups 1", one), PEOPLE);
    CU_ASSERT_EQUAL(different(one, PEOPLE), 1);
    for (int i = 0; i < PEOPLE; i += 3) {
        snprintf(words, sizeof words, " --athlete wing-%02d", i + 1);
        CU_ASSERT_EQUAL(recommended(folder, words, one), 1);
        ASSERT_TEXT(one[0], all[i]);
    }
    test_folder_done();
}

/* A model whose readiness is in a unit; the larger the gains, the more it
 * moves. */
static void write_model(int file, const char *unit, double gain, double ratio,
                        double tau2) {
    Text text = {0};
    text_add(&text,
             "parameter,value,unit\nkind,two-component,\np0,100,%s\nk1,%g,\n"
             "k2,%g,\ntau1,%g,\ntau2,%g,\n",
             unit, gain, ratio * gain, 5 * tau2, tau2);
    test_file(file, file == 5 ? "fast.csv" : "slow.csv", text_of(&text));
    text_free(&text);
}

/* One taper for two who answer fast and one who answers slowly. What one unit
 * is beside another decides nothing, and in one unit whoever gains most by far
 * has the taper of their own. */
static void units(void) {
    static const char *const step = " --shapes step --groups 1";
    char all[PEOPLE][SPEC], one[PEOPLE][SPEC];
    const char *folder = test_folder();
    write_squad(0, 3, false);
    test_file(4, "athletes.csv",
              "athlete,model\nwing-01,fast.csv\nwing-02,slow.csv\n"
              "wing-03,fast.csv\n");
    write_model(5, "cm", 1, 1.6, 8);
    write_model(6, "s", 1, 3, 12);
    CU_ASSERT_EQUAL(recommended(folder, step, all), 3);
    write_model(6, "ms", 1000, 3, 12);
    CU_ASSERT_EQUAL(recommended(folder, step, one), 3);
    ASSERT_TEXT(one[0], all[0]);
    write_model(6, "cm", 1000, 3, 12);
    CU_ASSERT_EQUAL(recommended(folder, step, all), 3);
    CU_ASSERT(strcmp(one[0], all[0]) != 0);
    CU_ASSERT_EQUAL(recommended(folder, " --shapes step --individual", one), 3);
    CU_ASSERT(strcmp(one[0], one[1]) != 0);
    for (int i = 0; i < 3; i++)
        ASSERT_TEXT(all[i], one[1]);
    test_folder_done();
}

/* What a squad's table is in: of the predicted test result where models have
 * its unit, else of what is possible. */
static void unit_told(void) {
    static const char *const model[] = {"@/fast.csv", "classic"};
    const char *folder = test_folder();
    write_squad(0, 2, false);
    write_model(5, "cm", .01, 1.6, 8);
    for (int i = 0; i < 2; i++) {
        char words[100], *out, *err;
        snprintf(words, sizeof words,
                 "compare @ --quiet --option 8d-50 --model %s", model[i]);
        CU_ASSERT_EQUAL(run(words, folder, &out, &err), 0);
        CU_ASSERT_EQUAL(strstr(out, "Gain over no taper, and in") != NULL,
                        i == 0);
        CU_ASSERT_EQUAL(strstr(out, "Share of the largest gain") != NULL,
                        i == 1);
        free(out);
        free(err);
    }
    test_folder_done();
}

/* tests/program/order.py: rows shuffled, by which athletes are numbered
 * otherwise, change nobody's numbers and nobody's taper. */
static void any_order(void) {
    const char *folder = test_folder();
    const char *words[] = {"/usr/bin/python3", "tests/program/order.py",
                           test_program(), folder, NULL};
    char *out, *err;
    CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
    ASSERT_TEXT(out, "fit: 0 differ\n"
                     "compare --option recommended --option none: 0 differ\n"
                     "taper --groups 2: 0 differ\n"
                     "taper --groups 8: 0 differ\n");
    free(out);
    free(err);
    test_folder_done();
}

/* taper and plan say what compare says; in quick form of two athletes. */
static void every_command(void) {
    bool quick = getenv("PEAKWARD_QUICK") != NULL;
    char all[PEOPLE][SPEC], part[2 * SPEC], *out, *err, *again;
    const char *folder = test_folder();
    write_squad(0, PEOPLE, true);
    recommended(folder, "", all);
    CU_ASSERT_EQUAL(run(quick ? "taper @ --csv --quiet --athlete wing-01 "
                                "--athlete wing-05"
                              : "taper @ --csv --quiet",
                        folder, &out, &err),
                    0);
    for (int i = 0; i < PEOPLE; i += quick ? 4 : 1) {
        char *at = out;
        bool found = false;
        snprintf(part, sizeof part,
                 strchr(all[i], ',') ? "wing-%02d,Regional cup,\"%.70s\","
                                     : "wing-%02d,Regional cup,%.70s,",
                 i + 1, all[i]);
        for (; (at = strstr(at, part)); at++)
            found = found || strstr(at, ",recommended,") < strchr(at, '\n');
        CU_ASSERT(found);
    }
    free(out);
    free(err);
    for (int i = 0; i < PEOPLE; i += 4) {
        snprintf(part, sizeof part, "plan @ --csv --quiet --athlete wing-%02d",
                 i + 1);
        CU_ASSERT_EQUAL(run(part, folder, &out, &err), 0);
        free(err);
        snprintf(part, sizeof part,
                 "plan @ --csv --quiet --athlete wing-%02d --option %.70s",
                 i + 1, all[i]);
        CU_ASSERT_EQUAL(run(part, folder, &again, &err), 0);
        CU_ASSERT_STRING_EQUAL(out, again);
        free(out);
        free(again);
        free(err);
    }
    test_folder_done();
}

/* With no test in the squad: half volume for eight days, and it is said why. */
static void untested(void) {
    char all[PEOPLE][SPEC], own[PEOPLE][SPEC], *out, *err;
    const char *folder = test_folder();
    write_squad(0, 3, false);
    CU_ASSERT_EQUAL(recommended(folder, "", all), 3);
    CU_ASSERT_EQUAL(recommended(folder, " --individual", own), 3);
    for (int i = 0; i < 3; i++) {
        ASSERT_TEXT(all[i], all[0]);
        ASSERT_TEXT(own[i], all[0]);
    }
    CU_ASSERT_EQUAL(run("compare @ --csv --quiet --option 8d-50 --option "
                        "recommended --athlete wing-01",
                        folder, &out, &err),
                    0);
    ASSERT_HAS(out, all[0]);
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("taper @ --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "8 days with 50 % less volume");
    ASSERT_HAS(out, "Nothing here tells more than the published evidence");
    free(out);
    free(err);
    test_folder_done();
}

/* Daily answers of which training explains next to nothing, however many there
 * are: they do not choose a taper, and it is said why. */
static void hardly_moved(void) {
    char all[PEOPLE][SPEC], *out, *err;
    const char *folder = test_folder();
    Date first = date_of((Civil){2026, 1, 5});
    gsl_rng *rng = test_random(20610);
    double reading[LOGGED];
    Text text = {0};
    write_squad(0, 4, false);
    text_add(&text, "date,athlete,test,value\n");
    for (int person = 0; person < 4; person++) {
        respond(person, reading);
        for (int day = 20; day < LOGGED; day++) {
            char date[DATE_TEXT];
            text_add(&text, "%s,wing-%02d,Answer (1-10),%.0f\n",
                     date_write(date, first + day), person + 1,
                     6 + reading[day] / 6000 + gsl_ran_gaussian(rng, 1.2));
        }
    }
    test_file(1, "tests.csv", text_of(&text));
    text_free(&text);
    gsl_rng_free(rng);
    CU_ASSERT_EQUAL(recommended(folder, "", all), 4);
    for (int i = 0; i < 4; i++)
        ASSERT_TEXT(all[i], "8d-50");
    CU_ASSERT_EQUAL(run("taper @ --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "Nothing here tells more than the published evidence");
    ASSERT_HAS(out, "how much this one will, these tests");
    CU_ASSERT_PTR_NULL(strstr(out, " of 100"));
    CU_ASSERT_PTR_NULL(strstr(out, "raises readiness"));
    free(out);
    free(err);
    test_folder_done();
}

/* Where the team's sessions are cut alike, whose own taper gives way is told,
 * and for which. */
static void team_sessions(void) {
    char *out, *err;
    const char *folder = test_folder();
    write_squad(0, PEOPLE, true);
    test_file(3, "week.csv",
              "weekday,session,load,team\nmon,Court,480,yes\n"
              "tue,Court,620,yes\nwed,Gym,420,\nthu,Run,700,\n"
              "fri,Gym,280,\nsat,Run,560,\n");
    CU_ASSERT_EQUAL(run("taper @ --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "follow the common taper");
    CU_ASSERT_PTR_NULL(strstr(out, "(no taper)"));
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("taper @ --quiet --groups 4", folder, &out, &err), 0);
    ASSERT_HAS(out, "Sessions of the team (Court) follow the team's taper (");
    ASSERT_HAS(out, "that of a group is carried");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("taper @ --quiet --individual", folder, &out, &err), 0);
    ASSERT_HAS(out, "follow one taper for all (below); each athlete's own");
    free(out);
    free(err);
    test_folder_done();
}

/* What a script says of a squad all of whose sessions are the team's. */
static void check_team(const char *script, const char *wanted) {
    const char *folder = test_folder();
    char *told;
    write_squad(0, PEOPLE, true);
    test_file(3, "week.csv",
              "weekday,session,load,team\nmon,Court,480,yes\n"
              "tue,Court,620,yes\nwed,Gym,420,yes\nthu,Court,700,yes\n"
              "fri,Gym,280,yes\nsat,Court,560,yes\n");
    told = test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(told, wanted);
    free(told);
    test_folder_done();
}

/* The plan of everybody's own best taper says so too. All sessions being the
 * team's, without minutes to round, what is left is the gain of the common
 * taper as `compare` has it. */
static void team_plan(void) {
    static const char script[] =
        "import csv, io, re, subprocess, sys\n"
        "program, season = sys.argv[1:]\n"
        "def run(*words):\n"
        "    return subprocess.run([program, words[0], season, *words[1:],\n"
        "        '--quiet'], check=True, capture_output=True, "
        "text=True).stdout\n"
        "said = ' '.join(run('plan', '--option', 'best').split())\n"
        "days, cut = re.search(r'common taper: (\\d+) days (?:with (\\d+) % "
        "less|of full rest)', said).groups()\n"
        "common = f'{days}d-{cut or 100}'\n"
        "left = re.search(r'own taper: (.*?)\\)\\. ', said)[1] + ')'\n"
        "told = {a: float(g) for a, g in re.findall(r'(\\S+) \\((\\S+) %\\)', "
        "left)}\n"
        "rows = csv.DictReader(io.StringIO(run('compare', '--csv', "
        "'--option',\n"
        "    common)))\n"
        "want = {r['athlete']: 100 * float(r['gain']) / "
        "(float(r['readiness'])\n"
        "    - float(r['gain'])) for r in rows if r['option'] == common}\n"
        "own = {}\n"
        "for r in csv.DictReader(io.StringIO(run('taper', '--csv'))):\n"
        "    if r['option'] != 'ceiling':\n"
        "        own.setdefault(r['athlete'], []).append((float(r['gain']),"
        " r['option']))\n"
        "print(len(told) > 0, all(abs(want[a] - told[a]) <= .051 for a in "
        "told))\n"
        "print(set(told) == {a for a in own if max(own[a])[1] != common})\n";
    check_team(script, "True True\nTrue\n");
}

/* Each one's own taper is of their own sessions: who has none does what the
 * team does, with the same gain and range, whatever taper they would like. */
static void team_for_each(void) {
    static const char script[] =
        "import csv, io, re, subprocess, sys\n"
        "program, season = sys.argv[1:]\n"
        "def text(*more):\n"
        "    return subprocess.run([program, 'taper', season, '--quiet', "
        "*more],\n"
        "        check=True, capture_output=True, text=True).stdout\n"
        "def rows(*more):\n"
        "    said = text(*more)\n"
        "    return {r[0]: (r[1].split()[0], re.sub(' +', ' ', "
        "r[1].split('%', 1)[1]))\n"
        "        for r in re.findall(r'^(wing-\\d+) +(\\d.*)$', said, "
        "re.M)}\n"
        "team, own = rows(), rows('--individual')\n"
        "said = text('--individual')\n"
        "likes = {r['athlete']: r['option'] for r in csv.DictReader(\n"
        "    io.StringIO(text('--individual', '--csv')))\n"
        "    if r['tag'] == 'recommended'}\n"
        "print(\"All sessions are the team's\" in said, len(team),\n"
        "    len(set(likes.values())) > 1, own == team)\n"
        "for a in own:\n"
        "    said = text('--individual', '--athlete', a)\n"
        "    lead, sure = said.split('\\n\\n')[1:3]\n"
        "    helps, gain = re.match(r' ?(\\d+ of 100) (\\S+ %)', "
        "team[a][1]).groups()\n"
        "    bad = [w for w in (f'in {helps} likely', f'gain {gain}') if w not "
        "in sure]\n"
        "    if bad or ('sessions of the team' in lead) == (likes[a] == "
        "team[a][0]):\n"
        "        print(a, bad, lead)\n";
    check_team(script, "True 8 True True\n");
}

/* Of one without tests in a squad with some nobody knows the level: no answer
 * has a figure of theirs that could be taken for a result, in a line or at a
 * picture's axis. Figures have decimals here, counts and shares have none. */
static void level_unknown(void) {
    static const char script[] =
        "import glob, os, re, subprocess, sys\n"
        "program, season = sys.argv[1:]\n"
        "def run(*words):\n"
        "    return subprocess.run([program, words[0], season, *words[1:],\n"
        "        '--quiet'], check=True, capture_output=True, "
        "text=True).stdout\n"
        "def figures(said, who):\n"
        "    return [w for line in said.splitlines() if who in "
        "line[:len(who)]\n"
        "        for w in re.findall(r'\\d\\.\\d', line)]\n"
        "for words in (['--missed', '2026-06-01'], ['--groups', '2'],\n"
        "        ['--joint']):\n"
        "    said = run('taper', *words)\n"
        "    print(len(figures(said, 'wing-01')) > 0, figures(said, "
        "'wing-04'))\n"
        "for words in (['taper', '--joint'], ['taper', '--missed', "
        "'2026-06-01'],\n"
        "        ['taper'], ['plan', '--joint']):\n"
        "    said = [run(*words, '--athlete', a) for a in ('wing-01', "
        "'wing-04')]\n"
        "    print([len(figures(text, '')) > 0 for text in said])\n"
        "for words in (['simulate'], ['taper'], ['taper', '--joint'],\n"
        "        ['compare', '--option', '7d-50']):\n"
        "    for a in ('wing-01', 'wing-04'):\n"
        "        run(*words, '--athlete', a, '--out', f'{season}/drawn')\n"
        "        drawn = ''.join(open(f).read() for f in\n"
        "            glob.glob(f'{season}/drawn/*{a}*.svg'))\n"
        "        print('readiness: Jump' in drawn, \"readiness (model's own\" "
        "in "
        "drawn)\n"
        "        subprocess.run(['rm', '-r', f'{season}/drawn'])\n";
    const char *folder = test_folder();
    char *told;
    write_logs(0, 4);
    write_tests(0, 3);
    test_file(2, "events.csv",
              "event,start,days,sessions_per_day,load_per_day,start_time\n"
              "Regional cup,2026-06-20,2,2,500,10:00 16:00\n"
              "Finals,2026-07-04,1,1,500,10:00\n");
    test_file(3, "week.csv",
              "weekday,session,load\nmon,Court,480\ntue,Court,620\n"
              "wed,Court,420\nthu,Court,700\nfri,Court,280\nsat,Court,560\n");
    told = test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(told, "True []\nTrue []\nTrue []\n"
                      "[True, False]\n[True, False]\n[True, False]\n"
                      "[True, False]\n"
                      "True False\nFalse True\nTrue False\nFalse True\n"
                      "True False\nFalse True\nTrue False\nFalse True\n");
    free(told);
    test_folder_done();
}

/* Two squads in one file are decided apart: each as if it were alone. */
static void two_squads(void) {
    char both[PEOPLE][SPEC], alone[PEOPLE][SPEC];
    const char *folder = test_folder();
    Text text = {0};
    write_squad(0, PEOPLE, true);
    text_add(&text, "athlete,squad\n");
    for (int i = 0; i < PEOPLE; i++)
        text_add(&text, "wing-%02d,%s\n", i + 1, i < 4 ? "north" : "south");
    test_file(4, "athletes.csv", text_of(&text));
    text_free(&text);
    CU_ASSERT_EQUAL(recommended(folder, "", both), PEOPLE);
    test_folder_done();
    folder = test_folder();
    write_squad(0, 4, true);
    CU_ASSERT_EQUAL(recommended(folder, "", alone), 4);
    for (int i = 0; i < 4; i++)
        ASSERT_TEXT(both[i], alone[i]);
    test_folder_done();
}

/* Nobody's tests after today tell anything, whoever is asked for. */
static void later_tests(void) {
    static const char script[] =
        "import subprocess, sys\n"
        "program, season = sys.argv[1:]\n"
        "def say(*words):\n"
        "    return subprocess.run([program, *words, '--quiet', '--today',\n"
        "        '2026-04-20', '--csv'], check=True, capture_output=True,\n"
        "        text=True).stdout\n"
        "def all():\n"
        "    return say('taper', season), say('fit', season)\n"
        "before, path = all(), season + '/tests.csv'\n"
        "rows = open(path).read().split('\\n')\n"
        "moved = [','.join(r.split(',')[:3] + ['70'])\n"
        "    if r[:10] > '2026-04-20' and r[0] == '2' else r for r in rows]\n"
        "open(path, 'w').write('\\n'.join(moved))\n"
        "print(moved != rows, all() == before)\n";
    const char *folder = test_folder();
    char *told;
    write_squad(0, 4, true);
    told = test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(told, "True True\n");
    free(told);
    test_folder_done();
}

/* The team's sessions of each squad are cut by its own taper: its plan is the
 * one that it would have without the other in the file. */
static void two_plans(void) {
    static const char script[] =
        "import csv, io, os, subprocess, sys\n"
        "program, season = sys.argv[1:]\n"
        "def plan(folder):\n"
        "    out = subprocess.run([program, 'plan', folder, '--csv', "
        "'--quiet'],\n"
        "        check=True, capture_output=True, text=True).stdout\n"
        "    return [tuple(r[k] for k in ('athlete', 'date', 'session', "
        "'load'))\n"
        "        for r in csv.DictReader(io.StringIO(out))]\n"
        "both, own = plan(season), []\n"
        "for squad in (range(1, 5), range(5, 9)):\n"
        "    folder = f'{season}/of{squad[0]}'\n"
        "    os.mkdir(folder)\n"
        "    for file in os.listdir(season):\n"
        "        if not file.endswith('.csv'):\n"
        "            continue\n"
        "        lines = open(f'{season}/{file}').readlines()\n"
        "        open(f'{folder}/{file}', 'w').writelines(\n"
        "            l for l in lines if 'wing-' not in l or\n"
        "            any(f'wing-0{n}' in l for n in squad))\n"
        "    own += plan(folder)\n"
        "court = [{r[1:] for r in both if r[0] == f'wing-0{n}' and\n"
        "    r[2] == 'Court'} for n in (1, 5)]\n"
        "print(both == own, court[0] != court[1])\n";
    const char *folder = test_folder();
    Text text = {0};
    char *told, *out, *err;
    write_squad(0, PEOPLE, true);
    test_file(3, "week.csv",
              "weekday,session,load,team\nmon,Court,480,yes\n"
              "tue,Court,620,yes\nwed,Gym,420,\nthu,Court,700,yes\n"
              "fri,Gym,280,\nsat,Court,560,yes\n");
    text_add(&text, "athlete,squad\n");
    for (int i = 0; i < PEOPLE; i++)
        text_add(&text, "wing-%02d,%s\n", i + 1, i < 4 ? "north" : "south");
    test_file(4, "athletes.csv", text_of(&text));
    text_free(&text);
    told = test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(told, "True True\n");
    CU_ASSERT_EQUAL(run("plan @ --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "- Squad north: Sessions of the team (Court) are cut");
    ASSERT_HAS(out, "- Squad south: Sessions of the team (Court) are cut");
    free(told);
    free(out);
    free(err);
    test_folder_done();
}

/* One without tests among others who have some: their scale and their prior,
 * not the literature's alone. */
static void newcomer(void) {
    char *out, *err, *line;
    const char *folder = test_folder();
    write_squad(0, PEOPLE, true);
    write_tests(0, PEOPLE - 1);
    CU_ASSERT_EQUAL(
        run("taper @ --quiet --athlete wing-08", folder, &out, &err), 0);
    CU_ASSERT(strstr(out, "Nothing here tells more") == NULL);
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("compare @ --csv --quiet --option 10d-50 --athlete "
                        "wing-08 --athlete wing-07",
                        folder, &out, &err),
                    0);
    line = strstr(out, "wing-08,");
    CU_ASSERT_FATAL(line != NULL);
    CU_ASSERT(strstr(line, "wing-08,Regional cup,10d-50,") == line);
    free(out);
    free(err);
    test_folder_done();
}

/* Tests that training does not move: the published band, and it is said. */
static void no_effect(void) {
    static const double noise[] = {.9, -.4, .1, -1.1, .7, -.2, .3, -.6};
    Date first = date_of((Civil){2026, 1, 5});
    char all[PEOPLE][SPEC], day[DATE_TEXT], *out, *err;
    const char *folder = test_folder();
    Text text = {0};
    write_squad(0, PEOPLE, false);
    text_add(&text, "date,athlete,test,value\n");
    for (int person = 0; person < PEOPLE; person++)
        for (int k = 0; k < TESTED; k++)
            text_add(&text, "%s,wing-%02d,Jump height (cm),%.2f\n",
                     date_write(day, first + 20 + 15 * k + person), person + 1,
                     40 + noise[(3 * k + 5 * person) % 8]);
    test_file(1, "tests.csv", text_of(&text));
    text_free(&text);
    CU_ASSERT_EQUAL(recommended(folder, "", all), PEOPLE);
    CU_ASSERT_EQUAL(different(all, PEOPLE), 1);
    CU_ASSERT_EQUAL(run("taper @ --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "8 days with 50 % less volume");
    ASSERT_HAS(out, "Nothing here tells more than the published evidence");
    free(out);
    free(err);
    test_folder_done();
}

static const TestCase cases[] = {{"squad_together", together},
                                 {"squad_units", units},
                                 {"squad_unit_told", unit_told},
                                 {"squad_any_order", any_order},
                                 {"squad_every_command", every_command},
                                 {"squad_untested", untested},
                                 {"squad_hardly_moved", hardly_moved},
                                 {"squad_team", team_sessions},
                                 {"squad_team_plan", team_plan},
                                 {"squad_team_for_each", team_for_each},
                                 {"squad_level_unknown", level_unknown},
                                 {"squad_two", two_squads},
                                 {"squad_later_tests", later_tests},
                                 {"squad_two_plans", two_plans},
                                 {"squad_newcomer", newcomer},
                                 {"squad_no_effect", no_effect},
                                 {NULL, NULL}};

const TestSuite suite_program_squad = {"program", cases};
