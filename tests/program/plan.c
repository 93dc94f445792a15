/* plan: what a person carries out, the first hour of README, handouts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Days without gym are without gym before a change as well: where the change is
 * none, neither readiness nor the plan differs. */
static void changed_within_limits(void) {
    const char *folder = test_folder();
    char *out, *err, was[20] = "", now[20] = "";
    double before = 0, after = 1;
    const char *row;
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    test_file(2, "week.csv",
              "weekday,session,kind,minutes,rpe\n"
              "mon,Court,skill,60,5\nwed,Court,skill,60,5\n"
              "thu,Gym,gym,60,6\nfri,Gym,gym,60,6\n");
    CU_ASSERT_EQUAL(run("taper @ --model classic --no-gym 3 --missed "
                        "2026-03-01 --quiet",
                        folder, &out, &err),
                    0);
    row = strstr(out, "\nwing-07  ");
    CU_ASSERT_FATAL(row != NULL);
    CU_ASSERT_EQUAL(sscanf(row, " wing-07 %19s %lf %lf %*s %*s %*s %19s", was,
                           &before, &after, now),
                    4);
    CU_ASSERT_STRING_EQUAL(was, now);
    CU_ASSERT_EQUAL(before, after);
    free(out);
    free(err);
    test_folder_done();
}

/* The README's first hour, from the spreadsheet to what is printed. */
static void first_hour(void) {
    static const char heads[] =
        "date=Datum,athlete=Spielerin,session=Einheit,minutes=Dauer (min),"
        "rpe=RPE,ignore=Notiz";
    static const char script[] =
        "import os, shutil, subprocess, sys\n"
        "program, heads, folder = sys.argv[1:4]\n"
        "club, out = folder + '/club', folder + '/printed'\n"
        "os.mkdir(club)\n"
        "shutil.copy('data/first-hour/training.csv', club +"
        " '/sessions.csv')\n"
        "with open(club + '/events.csv', 'w') as f:\n"
        "    f.write('event,start,days,sessions_per_day,load_per_day,"
        "start_time\\nSpring cup,2026-04-18,2,2,700,10:00 16:00\\n')\n"
        "for words in (['check', 'data/first-hour/training.csv'],\n"
        "              ['taper', club],\n"
        "              ['compare', club, '--option', '14d-50', '--option',"
        " '3d-100'],\n"
        "              ['plan', club, '--out', out],"
        " ['report', club, '--out', out]):\n"
        "    done = subprocess.run([program, *words, '--dates', 'dmy',"
        " '--map', heads], capture_output=True)\n"
        "    print(words[0], done.returncode)\n"
        "print(sorted(os.listdir(out)))\n";
    const char *program = getenv("PEAKWARD");
    const char *folder = test_folder();
    char *seen = test_python(
        script, (const char *[]){program ? program : "build/peakward", heads,
                                 folder, NULL});
    ASSERT_TEXT(seen, "check 0\ntaper 0\ncompare 0\nplan 0\nreport 0\n"
                      "['fl_gel-02-plan-event-week.txt', "
                      "'fl_gel-02-plan.ics', 'fl_gel-02-plan.txt', "
                      "'kreis-06-plan-event-week.txt', 'kreis-06-plan.ics', "
                      "'kreis-06-plan.txt', 'report.html']\n");
    free(seen);
    test_folder_done();
}

/* A plan is handed out and read back: its days are then those that simulate
 * takes, to the load; what taper says of it is what simulate says on the
 * event's day; without it all is as before; a second one needs --replace and
 * leaves the first beside it; one handed out on the way holds the days to come
 * alone, can be read again and reviewed beside the others' earlier ones. */
static void handed_out(void) {
    static const char script[] =
        "import collections, csv, filecmp, io, shutil, subprocess, sys\n"
        "program, folder = sys.argv[1:3]\n"
        "season = folder + '/season'\n"
        "shutil.copytree('data/demo', season)\n"
        "def run(*words, code=0):\n"
        "    done = subprocess.run([program, *words, '--quiet'],"
        " capture_output=True, text=True)\n"
        "    assert done.returncode == code, done.stderr\n"
        "    return done.stdout + done.stderr * code\n"
        "def table(*words):\n"
        "    return list(csv.DictReader(io.StringIO(run(*words, '--csv'))))\n"
        "was = run('simulate', season, '--csv')\n"
        "run('plan', season, '--hand-out')\n"
        "plan = list(csv.DictReader(open(season + '/plan.csv')))\n"
        "loads = collections.Counter()\n"
        "for row in plan:\n"
        "    if not row['exercise']:\n"
        "        loads[row['athlete'], row['date']] += float(row['load'])\n"
        "days = table('simulate', season)\n"
        "far = sum(abs(float(r['load']) - loads[r['athlete'], r['date']]) > "
        "1e-6"
        " for r in days if r['phase'] != 'logged')\n"
        "print('days', far, len(plan) > 500)\n"
        "print('ignored', run('simulate', season, '--csv', '--ignore-plan')"
        " == was)\n"
        "ready = {r['athlete']: float(r['readiness']) for r in days"
        " if r['phase'] == 'event'}\n"
        "said = {r['athlete']: float(r['readiness'])"
        " for r in table('taper', season, '--max-length', '3')"
        " if r['option'] == 'handed out'}\n"
        "print('readiness', len(said), all(abs(ready[a] - said[a]) < 1e-7"
        " for a in said))\n"
        "shutil.copy(season + '/plan.csv', folder + '/first')\n"
        "words = 'plan', season, '--hand-out', '--option', '14d-50'\n"
        "print('refused', 'expected --replace' in run(*words, code=1),"
        " filecmp.cmp(season + '/plan.csv', folder + '/first', False))\n"
        "print('told', 'back-03: 10 days, the first Mon 13 Apr'"
        " in run(*words, '--replace'))\n"
        "print('kept', filecmp.cmp(season + '/plan-2026-03-29.csv',"
        " folder + '/first', False),"
        " filecmp.cmp(season + '/plan.csv', folder + '/first', False))\n"
        "words = 'plan', season, '--hand-out', '--replace', '--athlete',"
        " 'wing-07', '--option', '3d-100'\n"
        "before = [r for r in csv.reader(open(season + '/plan.csv'))"
        " if r[0] != 'wing-07']\n"
        "run(*words)\n"
        "after = [r for r in csv.reader(open(season + '/plan.csv'))"
        " if r[0] != 'wing-07']\n"
        "cut = lambda rows: sorted(r[:18] + r[19:] for r in rows)\n"
        "print('others', cut(before) == cut(after))\n"
        "run('plan', season, '--hand-out', '--replace', '--athlete',"
        " 'wing-07', '--today', '2026-04-01')\n"
        "rows = [r for r in csv.DictReader(open(season + '/plan.csv'))"
        " if r['athlete'] == 'wing-07']\n"
        "print('later', min(r['date'] for r in rows) > '2026-04-01',"
        " {r['issued'] for r in rows})\n"
        "print('reviewed', len({r['athlete'] for r in"
        " table('review', season, '--today', '2026-04-09')}))\n";
    const char *folder = test_folder();
    char *seen =
        test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(seen, "days 0 True\nignored True\nreadiness 8 True\n"
                      "refused True True\ntold True\nkept True False\n"
                      "others True\nlater True {'2026-04-01'}\n"
                      "reviewed 8\n");
    free(seen);
    test_folder_done();
}

/* Who trains on some days only carries out those rows of the plan handed out:
 * as if the others were not in it. */
static void plan_on_some_days(void) {
    static const char script[] =
        "import csv, datetime, io, shutil, subprocess, sys\n"
        "program, folder = sys.argv[1:3]\n"
        "season = folder + '/season'\n"
        "shutil.copytree('data/demo', season)\n"
        "def run(*words):\n"
        "    return subprocess.run([program, *words, '--quiet'],"
        " capture_output=True, text=True, check=True).stdout\n"
        "def handed(*words):\n"
        "    rows = csv.DictReader(io.StringIO(run('taper', season, '--csv',"
        " *words)))\n"
        "    return {r['athlete']: float(r['readiness']) for r in rows"
        " if r['option'] == 'handed out'}\n"
        "run('plan', season, '--hand-out', '--option', '14d-50')\n"
        "whole, said = handed(), handed('--only', 'mon,thu')\n"
        "rows = list(csv.reader(open(season + '/plan.csv')))\n"
        "some = [r for r in rows[1:] if datetime.date.fromisoformat(r[1])"
        ".weekday() in (0, 3) or r[1] >= '2026-04-25']\n"
        "csv.writer(open(season + '/plan.csv', 'w')).writerows("
        "rows[:1] + some)\n"
        "left = handed()\n"
        "print(len(said), len(some) < len(rows) - 1,"
        " all(abs(said[a] - left[a]) < 1e-9 for a in said),"
        " any(abs(said[a] - whole[a]) > .1 for a in said))\n";
    const char *folder = test_folder();
    char *seen =
        test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(seen, "8 True True True\n");
    free(seen);
    test_folder_done();
}

/* Every plan of a day is kept, and one that cannot be written leaves the one
 * before as it was, its only name plan.csv. */
static void plans_are_kept(void) {
    static const char script[] =
        "import os, resource, shutil, signal, subprocess, sys\n"
        "program, folder = sys.argv[1:3]\n"
        "season = folder + '/season'\n"
        "shutil.copytree('data/demo', season)\n"
        "def small():\n"
        "    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))\n"
        "def hand_out(option, **more):\n"
        "    return subprocess.run([program, 'plan', season, '--hand-out',"
        " '--replace', '--option', option, '--quiet'], capture_output=True,"
        " **more).returncode\n"
        "read = lambda name: open(season + '/' + name, 'rb').read()\n"
        "plans = []\n"
        "for option in '10d-50', '20d-50', '14d-25':\n"
        "    assert hand_out(option) == 0\n"
        "    plans.append(read('plan.csv'))\n"
        "print(read('plan-2026-03-29.csv') == plans[0],"
        " read('plan-2026-03-29-2.csv') == plans[1])\n"
        "names = sorted(os.listdir(season))\n"
        "print(hand_out('8d-50', preexec_fn=small),"
        " read('plan.csv') == plans[2], sorted(os.listdir(season)) == names)\n";
    const char *folder = test_folder();
    char *seen =
        test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(seen, "True True\n3 True True\n");
    free(seen);
    test_folder_done();
}

/* Without tests of their own nobody knows an athlete's level: no readiness is
 * told in the unit of the others' tests. */
static void no_level_without_tests(void) {
    const char *folder = test_folder();
    Text log = {0};
    text_add(&log, "date,athlete,session,minutes,rpe\n");
    for (int day = 1; day <= 28; day++)
        for (int who = 1; who <= 2; who++)
            text_add(&log, "2026-02-%02d,wing-0%d,Gym,%d,6\n", day, who,
                     20 + day % 7 * 10 * (1 + day / 14));
    test_file(0, "sessions.csv", text_of(&log));
    text_free(&log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-21\n");
    test_file(2, "tests.csv",
              "date,athlete,test,value\n2026-02-02,wing-01,Jump,33\n"
              "2026-02-09,wing-01,Jump,34\n2026-02-16,wing-01,Jump,33.5\n"
              "2026-02-23,wing-01,Jump,34.5\n");
    for (int who = 1; who <= 2; who++) {
        char arguments[80], *out, *err;
        snprintf(arguments, sizeof arguments,
                 "compare @ --athlete wing-0%d --option 8d-50 --quiet --notes",
                 who);
        CU_ASSERT_EQUAL(run(arguments, folder, &out, &err), 0);
        CU_ASSERT_EQUAL(strstr(out, "of the largest  training") != NULL,
                        who == 2);
        free(out);
        free(err);
        snprintf(arguments, sizeof arguments,
                 "simulate @ --athlete wing-0%d --quiet", who);
        CU_ASSERT_EQUAL(run(arguments, folder, &out, &err), 0);
        CU_ASSERT_EQUAL(strstr(out, "No test of their own tells the level") !=
                            NULL,
                        who == 2);
        free(out);
        free(err);
        snprintf(arguments, sizeof arguments,
                 "compare @ --athlete wing-0%d --notes --quiet", who);
        CU_ASSERT_EQUAL(run(arguments, folder, &out, &err), 0);
        CU_ASSERT_EQUAL(strstr(out, "read the shares, not") != NULL, who == 2);
        free(out);
        free(err);
    }
    test_folder_done();
}

/* A plan carried out to the letter shows no difference, the forecast is that of
 * the day of its issue, whatever absence was entered since, and what is said of
 * the test's noise is what Python's statistics and SciPy say (tests/review.py).
 */
static void reviewed(void) {
    const char *folder = test_folder();
    const char *words[] = {"/usr/bin/python3", "tests/review.py",
                           test_program(), folder, NULL};
    char *out, *err;
    double apart = NAN;
    int length = 0;
    CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
    CU_ASSERT_EQUAL(
        sscanf(out, "carried out True 8 apart %lf%n", &apart, &length), 1);
    ASSERT_TEXT(out + length,
                "\noutcomes True\nill True True True True\nknown True True\n"
                "next True True\n"
                "before True False\nas the option 8 True\nanew False\ndone\n");
    ASSERT_TEXT(err, "");
    test_evidence(
        "Python, statistics and SciPy's norm, after Hopkins 2000, 2004",
        "review: typical error, smallest worthwhile change, chance");
    ASSERT_NEAR(apart, 0, 1e-7);
    free(out);
    free(err);
    test_folder_done();
}

/* A script of ours that is given the program and an empty folder, and what it
 * prints. */
static void check_script(const char *script, const char *wanted) {
    const char *folder = test_folder();
    const char *words[] = {"/usr/bin/python3", script, test_program(), folder,
                           NULL};
    char *out, *err;
    CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
    ASSERT_TEXT(out, wanted);
    ASSERT_TEXT(err, "");
    free(out);
    free(err);
    test_folder_done();
}

/* Two ways through the weeks to come are what two seasons with these blocks are
 * (tests/blocks_compared.py). */
static void blocks_beside(void) {
    check_script("tests/blocks_compared.py",
                 "32 True\nTrue True\nTrue 8\nTrue True\nTrue\n");
}

/* Before a later event the taper of the one on the way is carried out, or the
 * plan handed out for it (tests/earlier_tapers.py). */
static void earlier_tapers(void) {
    check_script("tests/earlier_tapers.py", "tapers True True\nhanded True\n");
}

/* One plan for two events is that of each with the taper that taper --joint
 * tells (tests/plan_joint.py). */
static void joint_plan(void) {
    check_script("tests/plan_joint.py",
                 "once True False True\nfirst True\nsecond True\n"
                 "kept True\nread True\n");
}

/* A squad's plan for two events keeps sessions of the team together, and
 * forecasts what its sheet says (tests/plan_joint_squad.py). */
static void joint_squad_plan(void) {
    check_script("tests/plan_joint_squad.py",
                 "cut {'Court': True, 'Run': True, 'Solo': True} True\n"
                 "alike True True\ntold Regional cup True\n"
                 "review [True, True]\ntold Selection weekend True\n"
                 "review [True, False]\n");
}

/* A forecast is kept as it was on the day of issue (tests/plan_record.py). */
static void plan_record(void) {
    check_script("tests/plan_record.py",
                 "one True {'plan.csv'} True True False\n"
                 "both True {'plan.csv'} True True False\n"
                 "missed True {'plan.csv'} True True False\n"
                 "lowest True {'plan.csv'} True True False\n"
                 "test True {'plan.csv'} True True False\n"
                 "{'now'} True\nTrue True True True True True\ndone\n");
}

/* Handed out it stands as the plan of both (tests/joint_record.py). */
static void joint_record(void) {
    check_script(
        "tests/joint_record.py",
        "stands True True\nstands True True\n"
        "stands True True\nstands True True\n"
        "Regional cup True True\nSelection weekend True True\n"
        "lowest True True\nmissed True True True\n"
        "missed True True True\n"
        "page True\nat one True\nanew True\nat both True\nsingle True\n");
}

/* Random seasons in which nothing may change, bytes and all
 * (tests/weeks_to_come.py). */
static void weeks_to_come(void) {
    const char *folder = test_folder();
    const char *words[] = {"/usr/bin/python3",
                           "tests/weeks_to_come.py",
                           test_program(),
                           folder,
                           getenv("PEAKWARD_QUICK") ? "6" : "60",
                           NULL};
    char *out, *err;
    CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
    ASSERT_TEXT(out, "done\n");
    ASSERT_TEXT(err, "");
    free(out);
    free(err);
    test_folder_done();
}

/* The first date of a plan's table, and its rows of 1 to 9 March. */
static void plan_of(const char *folder, const char *arguments, char from[11],
                    size_t *sessions) {
    char *out, *err;
    CU_ASSERT_EQUAL(run(arguments, folder, &out, &err), 0);
    *sessions = 0;
    from[0] = '\0';
    for (char *at = strchr(out, '\n'); at && at[1]; at = strchr(at + 1, '\n')) {
        if (from[0] == '\0')
            sscanf(at, "\nwing-07,%10[0-9-]", from);
        *sessions += strncmp(at, "\nwing-07,2026-03-0", 18) == 0;
    }
    free(out);
    free(err);
}

/* The plan for a later event does not print the usual week on the days of the
 * taper before the one on the way: it begins with that event. The log
 * ends on Fri 13 February. */
static void event_on_the_way(void) {
    const char *folder = test_folder();
    char *out, *err, from[11];
    size_t rows;
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv",
              "event,start,days\nCup,2026-03-06,2\nFinal,2026-03-20,1\n");
    test_file(2, "week.csv",
              "weekday,session,kind,minutes,rpe\nmon,Court,skill,60,5\n"
              "wed,Court,skill,60,5\nsun,Gym,gym,60,6\n");
    plan_of(folder, "plan @ --model classic --event Cup --csv --quiet", from,
            &rows);
    ASSERT_TEXT(from, "2026-02-15"); /* the first session after the log */
    CU_ASSERT_EQUAL(rows, 5);        /* Sun 1, Mon, Wed, the event's two days */
    plan_of(folder, "plan @ --model classic --event Final --csv --quiet", from,
            &rows);
    ASSERT_TEXT(from, "2026-03-06");
    CU_ASSERT_EQUAL(rows, 3); /* its two days, Mon 9; Sun 8 is for recovery */
    CU_ASSERT_EQUAL(run("plan @ --model classic --event Final --option none "
                        "--quiet",
                        folder, &out, &err),
                    0);
    ASSERT_HAS(out, "Until Sat 7 Mar the plan for Cup holds; this one begins "
                    "on Sun 8 Mar");
    ASSERT_HAS(out, "the day\n  after it, which is for recovery");
    ASSERT_HAS(out, "as the plan for Cup says");
    CU_ASSERT_PTR_NULL(strstr(out, "\nMon 2 Mar"));
    CU_ASSERT_PTR_NULL(strstr(out, "\nThu 5 Mar"));
    free(out);
    free(err);
    CU_ASSERT_EQUAL(
        run("plan @ --model classic --event Cup --quiet", folder, &out, &err),
        0);
    CU_ASSERT_PTR_NULL(strstr(out, " holds; this one begins"));
    free(out);
    free(err);
    test_folder_done();
}

/* On the day after it only what may not be cut stays, and only then is that
 * said. */
static void stays_after_it(void) {
    static const char said[] = "What stays that day is not to be cut by your "
                               "files.";
    static const struct {
        const char *kinds;
        bool stays; /* the gym of Sunday 8 March */
    } rows[] = {{"gym,skill", false}, {"skill", true}};
    const char *folder = test_folder();
    char *out, *err, words[200];
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv",
              "event,start,days\nCup,2026-03-06,2\nFinal,2026-03-20,1\n");
    test_file(2, "week.csv",
              "weekday,session,kind,minutes,rpe\nmon,Court,skill,60,5\n"
              "sun,Gym,gym,60,6\n");
    for (size_t i = 0; i < 2; i++) {
        snprintf(words, sizeof words,
                 "plan @ --model classic --event Final --option none --quiet "
                 "--cut-kinds %s",
                 rows[i].kinds);
        CU_ASSERT_EQUAL(run(words, folder, &out, &err), 0);
        ASSERT_HAS(out, "this one begins on Sun 8 Mar");
        if (rows[i].stays)
            ASSERT_WORDS(out, said);
        else /* wherever lines end */
            CU_ASSERT(!strstr(out, "What stays") && !strstr(out, "stays that"));
        free(out);
        free(err);
    }
    test_folder_done();
}

/* What athletes carry home (tests/handouts.py). */
static void handouts(void) {
    const char *folder = test_folder();
    char *script = test_read("tests/handouts.py", NULL), *out;
    CU_ASSERT_PTR_NOT_NULL_FATAL(script);
    out = test_python(script, (const char *[]){test_program(), folder, NULL});
    ASSERT_TEXT(
        out, "cup [('2026-03-28T15:00:00', 60)]\n"
             "trial [('2026-04-10T09:30:00', 75), ('2026-04-10T15:30:00', 75), "
             "('2026-04-11T09:30:00', 75), ('2026-04-11T15:30:00', 75)]\n"
             "unique True\nnumbered True True\ndear True True\nassumed "
             "True\nstable True\n"
             "minors True False True\nstranger True\ninside True\n"
             "legend False\nbars True True True\nwhat if 2 True\n");
    free(script);
    free(out);
    test_folder_done();
}

/* What missing a session costs, by hand: under the classic set (Morton et al.
 * 1990, from memory) a load a days before the event adds load x (e^(-a/45) - 2
 * e^(-a/15)); the share is that of the ceiling's gain. Weights are rounded
 * down to what the bar allows (102.4 to 100, 6.5 to 5; 2 is under the first
 * step and stays), and a week whose sets fall more than its kilograms is
 * pointed out. */
static const char cost_by_hand[] =
    "import csv, io, math, subprocess, sys\n"
    "from datetime import date\n"
    "program, folder = sys.argv[1:3]\n"
    "def run(*words):\n"
    "    text = subprocess.run([program, *words, '--quiet', '--csv'],"
    " capture_output=True, text=True, check=True).stdout\n"
    "    return list(csv.DictReader(io.StringIO(text)))\n"
    "taper = run('taper', folder, '--model', 'classic')\n"
    "possible = [float(r['gain']) for r in taper if r['tag'] =="
    " 'ceiling'][0]\n"
    "plan = run('plan', folder, '--model', 'classic', '--option', '7d-50',"
    " '--plate', '2.5')\n"
    "shown = 0\n"
    "for r in plan:\n"
    "    age = (date(2026, 3, 7) - date.fromisoformat(r['date'])).days\n"
    "    if r['exercise'] or r['keep'] or age < 1:\n"
    "        continue\n"
    "    worth = float(r['load']) * (math.exp(-age / 45) - 2 * math.exp(-age"
    " / 15))\n"
    "    cost = float(r['cost_if_missed'] or 0)\n"
    "    assert abs(cost - max(0, worth) / possible) < 1e-9, r\n"
    "    shown += cost > 0\n"
    "print(shown == 2)  # Monday and Tuesday, 19 and 18 days before\n"
    "print(sorted({float(r['kg']) for r in plan if r['kg']}))\n";

static void plan(void) {
    const char *program = getenv("PEAKWARD");
    const char *folder = test_folder();
    char *seen, *out, *err;
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    test_file(2, "week.csv",
              "weekday,session,kind,minutes,rpe\n"
              "mon,Gym,gym,60,6\ntue,Court,skill,60,5\n"
              "fri,Gym,gym,60,6\n");
    test_file(3, "exercises.csv",
              "session,exercise,sets,reps,kg,keep\nGym,Squat,5,5,102.4,yes\n"
              "Gym,Curl,6,10,6.5,\nGym,Raise,1,10,2,yes\n");
    seen = test_python(
        cost_by_hand,
        (const char *[]){program ? program : "build/peakward", folder, NULL});
    ASSERT_TEXT(seen, "True\n[2.0, 5.0, 100.0]\n");
    free(seen);
    CU_ASSERT_EQUAL(run("plan @ --option 7d-75 --quiet", folder, &out, &err),
                    0);
    ASSERT_HAS(out, "Curl: 6 -> ");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("plan @ --plate 5 --quiet", folder, &out, &err), 0);
    ASSERT_WORDS(out, "10 at 5 kg (6.5 rounded down)");
    ASSERT_WORDS(out, "10 at 2 kg (stays)");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("plan @ --option 7d-75 --quiet", folder, &out, &err),
                    0);
    ASSERT_HAS(out, "NOTE: fewer sets, but nearly as much weight moved");
    free(out);
    free(err);
    test_folder_done();
}

/* Every command line of README.md and the manual pages (tests/examples.py). */
static void examples(void) {
    const char *const words[] = {"/bin/sh", "-c",
                                 "set -e; folder=$(mktemp -d)\n"
                                 "trap 'rm -rf \"$folder\"' EXIT\n"
                                 "src/packaging/manual.sh \"$0\" \"$folder\"\n"
                                 "/usr/bin/python3 tests/examples.py \"$0\" "
                                 "README.md \"$folder\"/man/*",
                                 test_program(), NULL};
    char *out, *err;
    CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
    ASSERT_HAS(out, " commands ran");
    ASSERT_TEXT(err, "");
    free(out);
    free(err);
}

static const TestCase cases[] = {
    {"first_hour", first_hour},
    {"handed_out", handed_out},
    {"plan_on_some_days", plan_on_some_days},
    {"plans_are_kept", plans_are_kept},
    {"no_level_without_tests", no_level_without_tests},
    {"reviewed", reviewed},
    {"blocks_beside", blocks_beside},
    {"joint_plan", joint_plan},
    {"joint_squad_plan", joint_squad_plan},
    {"plan_record", plan_record},
    {"joint_record", joint_record},
    {"weeks_to_come", weeks_to_come},
    {"earlier_tapers", earlier_tapers},
    {"changed_within_limits", changed_within_limits},
    {"plan", plan},
    {"event_on_the_way", event_on_the_way},
    {"stays_after_it", stays_after_it},
    {"handouts", handouts},
    {"examples", examples},
    {NULL, NULL}};

const TestSuite suite_program_plan = {"program", cases};
