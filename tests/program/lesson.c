/* lesson: figures, worksheets, animation and files of the class, by the whole
 * program.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"
#include "response/model.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Runs a Python script of tests/ with one argument; what it printed is to be
 * freed. */
static char *python_file(const char *name, const char *argument) {
    const char *arguments[] = {argument, NULL};
    char *script = test_read(name, NULL), *out = NULL;
    CU_ASSERT_PTR_NOT_NULL_FATAL(script);
    out = test_python(script, arguments);
    free(script);
    return out;
}

/* All models; in quick form one of each of three kinds. To be freed. */
static char **some_models(void) {
    static const char *const some[] = {"literature", "busso-2003",
                                       "triathlete-swim", NULL};
    char **names = model_names("models");
    size_t kept = 0;
    CU_ASSERT_PTR_NOT_NULL_FATAL(names);
    for (size_t i = 0; names[i]; i++) {
        bool keep = !getenv("PEAKWARD_QUICK");
        for (size_t k = 0; some[k]; k++)
            keep = keep || strcmp(names[i], some[k]) == 0;
        if (keep)
            names[kept++] = names[i];
        else
            free(names[i]);
    }
    names[kept] = NULL;
    CU_ASSERT_FATAL(kept >= 3);
    return names;
}

/* Every answer of every sheet from its words alone, by plain sums over the
 * sessions (tests/worksheet.py), for each model at hand and a
 * graded one. */
static void solve_sheets(const char *model) {
    bool quick = getenv("PEAKWARD_QUICK") != NULL;
    int sheets = quick ? 2 : 30;
    const char *folder = test_folder();
    char number[16], said[64], path[400], *out;
    const char *words[] = {test_program(), "lesson", "all",  "--model",
                           model,          "--out",  folder, "--sheets",
                           number,         "--seed", "2385", NULL};
    if (strcmp(model, "graded") == 0) {
        snprintf(path, sizeof path, "%s",
                 test_file(0, "graded.csv",
                           "parameter,value,spread,unit,source\n"
                           "kind,graded,,,invented\np0,0,,,\nk1,1,,,\n"
                           "tau1,39,,d,\ntau2,12,,d,\ntau3,2.3,,d,\n"
                           "ratio,2.1,,,\ngrowth,0.5,,,\n"));
        words[4] = path;
    }
    snprintf(number, sizeof number, "%d", sheets);
    snprintf(said, sizeof said, "%d of %d with %d answers;", sheets, sheets,
             sheets);
    CU_ASSERT_EQUAL(test_run(words, NULL, NULL), 0);
    out = python_file("tests/worksheet.py", folder);
    ASSERT_HAS(out, said);
    if (!quick)
        ASSERT_HAS(out, "several verdicts");
    free(out);
    test_folder_done();
}

static void worksheets(void) {
    char **models = some_models();
    for (size_t i = 0; models[i]; i++)
        solve_sheets(models[i]);
    solve_sheets("graded");
    model_names_free(models);
}

/* A sheet is written unasked; the same seed gives the same, another another. */
static void sheets_by_seed(void) {
    const char *folder = test_folder();
    char *page[3];
    for (int i = 0; i < 3; i++) {
        char path[400];
        const char *words[] = {test_program(),    "lesson", "all",
                               "--out",           folder,   "--seed",
                               i < 2 ? "4" : "5", NULL};
        CU_ASSERT_EQUAL(test_run(words, NULL, NULL), 0);
        snprintf(path, sizeof path, "%s/worksheet.html", folder);
        page[i] = test_read(path, NULL);
        CU_ASSERT_PTR_NOT_NULL_FATAL(page[i]);
    }
    ASSERT_HAS(page[0], "Sheet 1, seed 4");
    CU_ASSERT_PTR_NULL(strstr(page[0], "Sheet 2,"));
    ASSERT_TEXT(page[0], page[1]);
    CU_ASSERT_STRING_NOT_EQUAL(page[0], page[2]);
    for (int i = 0; i < 3; i++)
        free(page[i]);
    test_folder_done();
}

/* Every figure of the tables of each model's lessons again by sums over all
 * sessions, and every number of an answer in its table (tests/lessons.py). */
static void figures(void) {
    char **names = some_models();
    char *script = test_read("tests/lessons.py", NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(script);
    for (size_t i = 0; names[i]; i++) {
        char said[80],
            *out = test_python(
                script, (const char *[]){test_program(), names[i], NULL});
        snprintf(said, sizeof said, "%s: figures and numbers agree", names[i]);
        ASSERT_HAS(out, said);
        free(out);
    }
    free(script);
    model_names_free(names);
}

/* Each curve of the bundle again from the table and the data, by sums: that it
 * meets the tests, what it makes of the taper, and that the gains part. */
static void bundle(void) {
    static const char *const script =
        "import csv, datetime, math, subprocess, sys\n"
        "D = 'data/lessons/five-tests/'\n"
        "day = lambda s: datetime.date.fromisoformat(s).toordinal()\n"
        "rows = list(csv.DictReader(open(D + 'sessions.csv')))\n"
        "first = min(day(r['date']) for r in rows)\n"
        "load = [0.0] * (max(day(r['date']) for r in rows) - first + 1)\n"
        "for r in rows:\n"
        "    load[day(r['date']) - first] += float(r['minutes']) * "
        "float(r['rpe'])\n"
        "before, mean = sum(load[:28]) / 28, sum(load) / len(load)\n"
        "tests = [(day(r['date']) - first, float(r['value']), "
        "float(r['error']))\n"
        "         for r in csv.DictReader(open(D + 'tests.csv'))]\n"
        "def reading(p, loads, n):\n"
        "    out = p['p0']\n"
        "    for sign, k, t in ((1, 'k1', 'tau1'), (-1, 'k2', 'tau2')):\n"
        "        q = math.exp(-1 / p[t])\n"
        "        out += sign * p[k] * (before * q ** (n + 1) / (1 - q) + sum(\n"
        "            w * q ** (n - i) for i, w in enumerate(loads[:n])))\n"
        "    return out\n"
        "text = subprocess.run([sys.argv[1], 'lesson', 'bundle', '--model',\n"
        "    'classic'], capture_output=True, text=True, check=True).stdout\n"
        "gains = []\n"
        "for line in text.split('curve  ')[1].split('\\n\\n')[0].split('\\n')"
        "[1:]:\n"
        "    c = line.split()\n"
        "    p = dict(zip(('p0', 'k1', 'k2', 'tau1', 'tau2'), "
        "map(float, c[1:6])))\n"
        "    miss = math.sqrt(sum((reading(p, load, n) - v) ** 2\n"
        "                         for n, v, e in tests) / len(tests))\n"
        "    n = len(load) + 14\n"
        "    gain = (reading(p, load + [mean / 2] * 14, n)\n"
        "            - reading(p, load + [mean] * 14, n))\n"
        "    t_n = (p['tau1'] * p['tau2'] / (p['tau1'] - p['tau2'])\n"
        "           * math.log(p['k2'] / p['k1']))\n"
        "    assert abs(miss - float(c[7])) < .012, (miss, line)\n"
        "    assert miss <= tests[0][2] + .005, (miss, line)\n"
        "    assert abs(gain - float(c[8])) < .012, (gain, line)\n"
        "    assert abs(t_n - float(c[6])) < .06, (t_n, line)\n"
        "    gains.append(gain)\n"
        "print(len(gains), gains == sorted(gains), gains[-1] - gains[0] > 2)\n";
    const char *arguments[] = {test_program(), NULL};
    char *out = test_python(script, arguments);
    ASSERT_TEXT(out, "6 True True\n");
    free(out);
}

/* A whole animation under 1 MB: 36 pictures from 35 days before to the day of
 * the event, by the blocks of GIF89a (CompuServe 1990). */
static void animation(void) {
    static const char *const script =
        "import sys\n"
        "b = open(sys.argv[1], 'rb').read()\n"
        "assert b[:6] == b'GIF89a'\n"
        "def blocks(i):\n"
        "    while b[i]: i += b[i] + 1\n"
        "    return i + 1\n"
        "def table(flags): return 3 << (flags & 7) + 1 if flags & 128 else 0\n"
        "i, frames = 13 + table(b[10]), 0\n"
        "while b[i] != 0x3B:\n"
        "    if b[i] == 0x21: i = blocks(i + 2)\n"
        "    else:\n"
        "        assert b[i] == 0x2C\n"
        "        i, frames = blocks(i + 11 + table(b[i + 9])), frames + 1\n"
        "print(frames, i == len(b) - 1, len(b) < 1e6)\n";
    const char *folder = test_folder();
    const char *words[] = {test_program(), "lesson", "approach",
                           "--out",        folder,   NULL};
    char path[400], *out;
    const char *arguments[] = {path, NULL};
    snprintf(path, sizeof path, "%s/lesson-approach.gif", folder);
    CU_ASSERT_EQUAL(test_run(words, NULL, NULL), 0);
    out = test_python(script, arguments);
    ASSERT_TEXT(out, "36 True True\n");
    free(out);
    test_folder_done();
}

/* A gnuplot built without GIF: told in words, the lecture is there all the
 * same. */
static void no_animation(void) {
    const char *folder = test_folder();
    const char *words[] = {test_program(), "lesson", "all",
                           "--out",        folder,   NULL};
    char *path = strdup(getenv("PATH")), *err, name[400], *page;
    Text with = {0};
    snprintf(name, sizeof name, "%s/bin", folder);
    mkdir(name, 0777);
    chmod(test_file(0, "bin/gnuplot",
                    "#!/bin/sh\nsed 's/^set terminal gif/set terminal none/' | "
                    "/usr/bin/gnuplot -d\n"),
          0755);
    text_add(&with, "%s/bin:%s", folder, path);
    setenv("PATH", text_of(&with), 1);
    CU_ASSERT_EQUAL(test_run(words, NULL, &err), 3);
    setenv("PATH", path, 1);
    ASSERT_HAS(err, "this gnuplot makes no animations (it has no terminal "
                    "gif); the one of Debian package gnuplot-nox does");
    snprintf(name, sizeof name, "%s/lecture.html", folder);
    page = test_read(name, NULL);
    ASSERT_HAS(page, "</html>");
    snprintf(name, sizeof name, "%s/lesson-approach.gif", folder);
    CU_ASSERT_NOT_EQUAL(access(name, F_OK), 0);
    free(page);
    free(err);
    free(path);
    text_free(&with);
    test_folder_done();
}

/* Files that lessons read, wrong or not there: told with their place. */
static void wrong_files(void) {
    static const struct {
        const char *lesson, *sessions, *tests, *said;
        int code;
    } rows[] = {
        {"bundle", NULL, NULL,
         "lessons/five-tests: cannot be opened: No such file", 3},
        {"approach", "date,minutes,rpe\n2026-01-01,60,x\n", NULL,
         "sessions.csv:2: rpe: 'x', expected a number", 1},
        {"approach", "date,minutes,rpe\n2026-01-01,60,5\n", NULL,
         "five-tests: 1 days, expected 63 or more", 1},
        {"bundle", "date,minutes,rpe\n2026-01-01,60,5\n",
         "date,test,value,error\n2026-01-01,jump,30,1\n2026-02-01,jump,31,1\n",
         "five-tests/tests.csv: 1 tests in the log, expected 3 to 12", 1},
        {"optimiser", NULL, NULL,
         "models/busso-2003.csv, from which tau3 is taken, cannot be read", 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *folder = test_folder();
        const char *words[] = {test_program(), "lesson",  rows[i].lesson,
                               "--model",      "x/y.csv", NULL};
        char name[400], *err;
        static const char *const parts[] = {"data", "data/lessons",
                                            "data/lessons/five-tests"};
        for (int k = 0; k < 3 && rows[i].sessions; k++) {
            snprintf(name, sizeof name, "%s/%s", folder, parts[k]);
            mkdir(name, 0777);
        }
        if (rows[i].sessions)
            test_file(0, "data/lessons/five-tests/sessions.csv",
                      rows[i].sessions);
        if (rows[i].tests)
            test_file(1, "data/lessons/five-tests/tests.csv", rows[i].tests);
        words[4] = "models/classic.csv";
        setenv("PEAKWARD_HOME", folder, 1);
        CU_ASSERT_EQUAL(test_run(words, NULL, &err), rows[i].code);
        unsetenv("PEAKWARD_HOME");
        ASSERT_HAS(err, rows[i].said);
        free(err);
        test_folder_done();
    }
}

/* The page with sliders: whole, under 200 kB, nothing from outside, the
 * policy's hashes those of its script and style, and presets as the model files
 * have them (tests/sliders.py; its arithmetic: tests/page.sh). */
static void sliders(void) {
    const char *folder = test_folder();
    char path[400], *script = test_read("tests/sliders.py", NULL), *out;
    const char *words[] = {test_program(), "lesson", "--page", path, NULL};
    const char *arguments[] = {"file", path, NULL};
    CU_ASSERT_PTR_NOT_NULL_FATAL(script);
    snprintf(path, sizeof path, "%s/sliders.html", folder);
    CU_ASSERT_EQUAL(test_run(words, NULL, NULL), 0);
    out = test_python(script, arguments);
    ASSERT_TEXT(out, "good\n");
    free(out);
    free(script);
    test_folder_done();
}

/* What hangs on no model says so. */
static void no_model(void) {
    static const char *const lesson[] = {"steady", "retest", "evidence"};
    for (int i = 0; i < 3; i++) {
        char *out, *err;
        const char *words[] = {test_program(), "lesson", lesson[i], NULL};
        CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
        CU_ASSERT_EQUAL(strstr(out, "\nModel: ") != NULL, i == 0);
        CU_ASSERT_EQUAL(strstr(out, "\nNo model: ") != NULL, i > 0);
        free(out);
        free(err);
    }
}

static const TestCase cases[] = {
    {"worksheets", worksheets},   {"sheets_by_seed", sheets_by_seed},
    {"figures", figures},         {"bundle", bundle},
    {"animation", animation},     {"no_animation", no_animation},
    {"wrong_files", wrong_files}, {"sliders", sliders},
    {"no_model", no_model},       {NULL, NULL}};

const TestSuite suite_program_lesson = {"program", cases};
