/* terminal: nothing from outside is obeyed by a terminal; progress is for
 * people who watch.
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

/* Red, a line gone back over, U+009B and its byte alone, text turned round, a
 * line break, DEL: in a name, as it stands and as it is shown. */
#define ODD_NAME                                                               \
    "a\x1B[31mb\rc\xC2\x9B"                                                    \
    "1m\x9B"                                                                   \
    "d\xE2\x80\xAE"                                                            \
    "e\nf\x7F"
#define ODD_SHOWN "a\\x1B[31mb c\\xC2\\x9B1m\\x9Bde f\\x7F"

/* Whole characters, and of the control characters line breaks and tabs only;
 * in data a carriage return that a cell holds. */
static bool obeyed(const char *text, bool data) {
    bool found = utf8_check(text, strlen(text)) < strlen(text);
    for (const char *s = text; *s; s++) {
        unsigned char c = (unsigned char)*s;
        found = found || c == 0x7F ||
                (c < 0x20 && c != '\n' && c != '\t' && !(data && c == '\r')) ||
                (c == 0xC2 && (unsigned char)s[1] < 0xA0);
    }
    return found || (!data && strstr(text, "\xE2\x80\xAE"));
}

static void assert_harmless(const char *arguments, const char *folder,
                            int code) {
    char *out, *err, message[2200];
    int got = run(arguments, folder, &out, &err);
    bool data = strstr(arguments, "--csv") != NULL;
    snprintf(message, sizeof message, "%.100s: exit %d: <%.900s> <%.900s>",
             arguments, got, err, out);
    CU_assertImplementation(got == code && !obeyed(out, data) &&
                                !obeyed(err, false),
                            __LINE__, message, __FILE__, "", CU_FALSE);
    free(out);
    free(err);
}

/* Wherever the command line takes words. */
static void odd_words(void) {
    static const struct {
        int code;
        const char *arguments;
    } rows[] = {
        {0, "start @/" ODD_NAME " --today 2026-11-25"},
        {1, "start @/" ODD_NAME},
        {3, "start @/" ODD_NAME ".csv/" ODD_NAME},
        {0, "check @/" ODD_NAME},
        {0, "check @/" ODD_NAME "/sessions.csv"},
        {3, "check @/" ODD_NAME "/nope.csv"},
        {1, "check @/" ODD_NAME "/week.csv"},
        {1, "check @/" ODD_NAME "/week.csv --csv"},
        {0, "load @/" ODD_NAME},
        {0, "simulate @/" ODD_NAME},
        {0, "fit @/" ODD_NAME},
        {0, "taper @/" ODD_NAME},
        {0, "compare @/" ODD_NAME},
        {0, "plan @/" ODD_NAME},
        {0, "report @/" ODD_NAME},
        {1, "taper @/" ODD_NAME " --athlete " ODD_NAME},
        {1, "taper @/" ODD_NAME " --event " ODD_NAME},
        {1, "fit @/" ODD_NAME " --test " ODD_NAME},
        {2, "compare @/" ODD_NAME " --option " ODD_NAME "=14d-50"},
        {0, "compare @/" ODD_NAME " --option a\xE2\x80\xAE\r\n=14d-50"},
        {2, "compare @/" ODD_NAME " --option " ODD_NAME},
        {1, "check @/" ODD_NAME " --map session=" ODD_NAME},
        {2, "check @/" ODD_NAME " --map " ODD_NAME "=x"},
        {2, "check @/" ODD_NAME " --today " ODD_NAME},
        {2, "check @/" ODD_NAME " --load " ODD_NAME},
        {2, "check @/" ODD_NAME " --" ODD_NAME},
        {2, "check @/" ODD_NAME " -" ODD_NAME},
        {2, "check @/" ODD_NAME " " ODD_NAME},
        {2, "plan @/" ODD_NAME " --out @/" ODD_NAME},
        {2, "plan @/" ODD_NAME " --out @/\xC2\x9B"},
        {0, "plan @/" ODD_NAME " --out @/\x9Bout\xE2\x80\xAE"},
        {0, "fit @/" ODD_NAME " --out @/\x9Bout --format text"},
        {0, "report @/" ODD_NAME " --out @/\x9Bout"},
        {0, "lesson session --out @/\x9Bout"},
        {0, "taper @/" ODD_NAME " --models literature,@/" ODD_NAME ".csv"},
        {1, "models --model " ODD_NAME},
        {3, "models --model @/" ODD_NAME "/model.csv"},
        {1, "models --model @/" ODD_NAME "/week.csv"},
        {1, "taper @/" ODD_NAME " --model @/" ODD_NAME "/week.csv"},
        {2, "lesson " ODD_NAME},
        {2, "help " ODD_NAME},
        {2, ODD_NAME}};
    const char *folder = test_folder();
    char *out, *err, *model = test_read("models/literature.csv", NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(model);
    test_file(0, ODD_NAME ".csv", model);
    free(model);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_harmless(rows[i].arguments, folder, rows[i].code);
    CU_ASSERT_EQUAL(run("start @/" ODD_NAME "2", folder, &out, &err), 0);
    ASSERT_HAS(out, "/" ODD_SHOWN "2/sessions.csv\n");
    ASSERT_HAS(out, ", peakward taper ");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("check @/" ODD_NAME, folder, &out, &err), 0);
    ASSERT_HAS(out, "/" ODD_SHOWN ": 2 athletes");
    free(out);
    free(err);
    setenv("PEAKWARD_HOME", "/" ODD_NAME, 1);
    assert_harmless("models", folder, 3);
    assert_harmless("lesson session --model none", folder, 1);
    unsetenv("PEAKWARD_HOME");
    test_folder_done();
}

/* What files hold: cells may have line breaks and tabs, and nothing else that
 * is obeyed. */
static void odd_cells(void) {
    static const char *const wrong[] = {
        "date,athlete,load\n2026-01-05," ODD_NAME ",5\n",
        "date,athlete,load\n" ODD_NAME ",wing-07,5\n",
        "date,athlete,load,session\n2026-01-05,wing-07,5,\x1B[31m\n",
        "date,athlete,load,kind\n2026-01-05,wing-07,5,\xC2\x9B\n",
        "date,load,\"a\x1B[31m\xC2\x9B\"\n2026-01-05,5,1,2\n",
        "date,load,\"a\x1B[31m\xC2\x9B\"\n2026-01-05,-5,1\n",
        "date,load,\"a\x1B[31m\",\"a\x1B[31m\"\n2026-01-05,5,1,1\n"};
    static const char model[] =
        "parameter,value,spread,unit,source\nkind,two-component,,,\x1B[31m\n"
        "p0,500,,\xC2\x9B,\nk1,1,,,\nk2,2,,,\ntau1,45,,,\ntau2,15,,,\n";
    const char *folder = test_folder();
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        test_file(0, "sessions.csv", wrong[i]);
        assert_harmless("check @", folder, 1);
        assert_harmless("check @ --csv", folder, 1);
        assert_harmless("load @", folder, 1);
    }
    test_file(0, "model.csv", model);
    assert_harmless("models --model @/model.csv", folder, 0);
    assert_harmless("models --model @/model.csv --csv", folder, 0);
    assert_harmless("lesson session --model @/model.csv", folder, 0);
    test_folder_done();
}

/* Cells of more than one line, as a spreadsheet may hold. */
static void odd_lines(void) {
    static const char *const commands[] = {"check",
                                           "load",
                                           "simulate",
                                           "fit",
                                           "taper",
                                           "compare",
                                           "plan",
                                           "report",
                                           "plan --out @/out",
                                           "taper --joint",
                                           "taper --groups 2"};
    const char *folder = test_folder();
    Text log = {0};
    text_add(&log, "date,athlete,session,minutes,rpe\n");
    for (int day = 1; day <= 28; day++)
        for (int who = 0; who < 2; who++)
            text_add(&log,
                     "2026-02-%02d,\"w\ting\r\n%d\",\"Gym\r\n\tA\",%d,5\n", day,
                     who, 20 + day / 7 * 40);
    test_file(0, "sessions.csv", text_of(&log));
    test_file(1, "events.csv",
              "event,start,days\n\"Cup\r\n1\",2026-03-20,2\n"
              "\"Cup\r\n2\",2026-03-28,1\n");
    test_file(2, "week.csv",
              "weekday,session,kind,minutes,rpe,\"no\r\nte\"\n"
              "mon,\"Gym\r\n\tA\",gym,60,6,x\nthu,\"B\rC\",skill,60,6,x\n");
    test_file(3, "exercises.csv",
              "session,exercise,sets,reps,kg\n"
              "\"Gym\r\n\tA\",\"Bench\r\tpress\",5,5,50\n");
    test_file(4, "tests.csv",
              "date,athlete,test,value\n"
              "2026-02-03,\"w\ting\r\n0\",\"Jump\r\n(cm)\",33\n"
              "2026-02-17,\"w\ting\r\n0\",\"Jump\r\n(cm)\",34\n");
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        char arguments[80];
        size_t word = strcspn(commands[i], " ");
        snprintf(arguments, sizeof arguments, "%.*s @%s", (int)word,
                 commands[i], commands[i] + word);
        assert_harmless(arguments, folder, 0);
    }
    assert_harmless("plan @ --csv", folder, 0);
    text_free(&log);
    test_folder_done();
}

/* Runs the squad's page with standard error on a pipe, and on a terminal (a
 * pty); it is held again and again, longer than the two seconds after which
 * something is shown, on the terminal until it has been (what is shown:
 * tests/base/progress.c). */
static const char watch_progress[] =
    "import os, pty, signal, subprocess, sys, time\n"
    "program, out = sys.argv[1:3]\n"
    "def start(stderr):\n"
    "    return subprocess.Popen([program, 'report', 'data/demo', '--out', "
    "out,"
    " '--threads', '1'], stdout=subprocess.DEVNULL, stderr=stderr)\n"
    "def hold(child):\n"
    "    time.sleep(.1)\n"
    "    child.send_signal(signal.SIGSTOP)\n"
    "    time.sleep(2.1)\n"
    "    child.send_signal(signal.SIGCONT)\n"
    "piped = start(subprocess.PIPE)\n"
    "for again in range(3):\n"
    "    hold(piped)\n"
    "said = piped.stderr.read()\n"
    "ours, theirs = pty.openpty()\n"
    "child = start(theirs)\n"
    "os.close(theirs)\n"
    "os.set_blocking(ours, False)\n"
    "seen, ended = b'', False\n"
    "while not ended:\n"
    "    ended = child.poll() is not None\n"
    "    try:\n"
    "        seen += os.read(ours, 4096)\n"
    "    except OSError:\n"
    "        pass\n"
    "    if not ended and b' of 8 ' not in seen:\n"
    "        hold(child)\n"
    "    else:\n"
    "        time.sleep(.05)\n"
    "print(child.wait(), piped.wait())\n"
    "print(b' of 8 ' in seen, b'\\r\\x1b[K' in seen)\n"
    "print(b'\\r' in said or b' of 8 ' in said)\n";

static void progress(void) {
    const char *folder = test_folder();
    const char *program = getenv("PEAKWARD");
    char *seen = test_python(
        watch_progress,
        (const char *[]){program ? program : "build/peakward", folder, NULL});
    ASSERT_TEXT(seen, "0 0\nTrue True\nFalse\n");
    free(seen);
    test_folder_done();
}

/* `| head`: a reader that has gone ends the program as SIGPIPE does, without a
 * word, whatever it would have printed. */
static void reader_gone(void) {
    static const char script[] =
        "import os, subprocess, sys\n"
        "for words in (['taper', 'data/demo', '--csv', '--quiet', '--shapes',"
        " 'step'],\n"
        "              ['simulate', 'data/demo', '--csv', '--quiet'],\n"
        "              ['help', 'files'], ['lesson', 'all']):\n"
        "    read, write = os.pipe()\n"
        "    os.close(read)\n"
        "    done = subprocess.run([sys.argv[1], *words], stdout=write,"
        " stderr=subprocess.PIPE)\n"
        "    print(done.returncode, done.stderr)\n";
    char *seen = test_python(script, (const char *[]){test_program(), NULL});
    ASSERT_TEXT(seen, "-13 b''\n-13 b''\n-13 b''\n-13 b''\n");
    free(seen);
}

static const TestCase cases[] = {
    {"odd_words", odd_words},     {"odd_cells", odd_cells},
    {"odd_lines", odd_lines},     {"progress", progress},
    {"reader_gone", reader_gone}, {NULL, NULL}};

const TestSuite suite_program_terminal = {"program", cases};
