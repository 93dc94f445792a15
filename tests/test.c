/* test: see test.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <ftw.h>
#include <math.h>
#include <spawn.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

bool test_near(double value, double wanted, double tolerance) {
    double apart = fabs(value - wanted);
    if (!isfinite(value) || !isfinite(wanted))
        return false;
    return apart <= tolerance || apart <= tolerance * fabs(wanted);
}

/* ---- evidence ---- */

static struct {
    const char *source, *what;
    double tolerance, reached;
    bool compared;
} evidence;

void test_evidence(const char *source, const char *what) {
    test_evidence_done();
    evidence.source = source;
    evidence.what = what;
}

void test_evidence_reached(double apart, double tolerance) {
    evidence.tolerance = fmax(evidence.tolerance, tolerance);
    evidence.reached = fmax(evidence.reached, apart);
    evidence.compared = true;
}

void test_evidence_done(void) {
    const char *path = getenv("PEAKWARD_EVIDENCE");
    FILE *to;
    if (evidence.source && evidence.compared && path && *path) {
        to = fopen(path, "a");
        if (!to ||
            fprintf(to, "%s\t%s\t%.3g\t%.3g\n", evidence.source, evidence.what,
                    evidence.tolerance, evidence.reached) < 0 ||
            fclose(to) != 0) {
            perror("test: cannot write the evidence");
            exit(1);
        }
    }
    memset(&evidence, 0, sizeof evidence);
}

/* ---- assertions ---- */

static void fail(const char *message, const char *file, int line) {
    CU_assertImplementation(CU_FALSE, (unsigned)line, message, file, "",
                            CU_FALSE);
}

void test_assert_near(double value, double wanted, double tolerance,
                      const char *what, const char *file, int line) {
    char message[400];
    double apart = fabs(value - wanted);
    test_evidence_reached(
        wanted == 0 ? apart : fmin(apart, apart / fabs(wanted)), tolerance);
    if (test_near(value, wanted, tolerance)) {
        CU_assertImplementation(CU_TRUE, (unsigned)line, what, file, "",
                                CU_FALSE);
        return;
    }
    snprintf(message, sizeof message, "%.120s is %.12g, wanted %.12g +- %g",
             what, value, wanted, tolerance);
    fail(message, file, line);
}

void test_assert_text(const char *value, const char *wanted, const char *what,
                      const char *file, int line) {
    char message[1200];
    if (value && strcmp(value, wanted) == 0) {
        CU_assertImplementation(CU_TRUE, (unsigned)line, what, file, "",
                                CU_FALSE);
        return;
    }
    snprintf(message, sizeof message, "%.120s is <%.500s>, wanted <%.500s>",
             what, value ? value : "NULL", wanted);
    fail(message, file, line);
}

void test_assert_has(const char *text, const char *part, const char *file,
                     int line) {
    char message[1200];
    if (text && strstr(text, part)) {
        CU_assertImplementation(CU_TRUE, (unsigned)line, part, file, "",
                                CU_FALSE);
        return;
    }
    snprintf(message, sizeof message, "<%.200s> is not in <%.900s>", part,
             text ? text : "NULL");
    fail(message, file, line);
}

/* A copy, to be freed. */
static char *one_line(const char *text) {
    char *copy = malloc(strlen(text) + 1), *to = copy;
    for (; *text; text++)
        if (*text != ' ' && *text != '\n')
            *to++ = *text;
        else if (to == copy || to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
    return copy;
}

void test_assert_words(const char *text, const char *part, const char *file,
                       int line) {
    char *words = one_line(text), *wanted = one_line(part);
    test_assert_has(words, wanted, file, line);
    free(words);
    free(wanted);
}

/* ---- files ---- */

static char folder[300];

const char *test_folder(void) {
    const char *base = getenv("TMPDIR");
    snprintf(folder, sizeof folder, "%.200s/peakward-test-XXXXXX",
             base && *base ? base : "/tmp");
    if (!mkdtemp(folder)) {
        perror("test: cannot make a folder");
        exit(1);
    }
    return folder;
}

static int remove_one(const char *path, const struct stat *about, int type,
                      struct FTW *walk) {
    (void)about;
    (void)type;
    (void)walk;
    return remove(path);
}

void test_folder_done(void) {
    if (folder[0])
        nftw(folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
    folder[0] = '\0';
}

const char *test_file_bytes(int slot, const char *name, const char *content,
                            size_t length) {
    static char paths[10][600];
    FILE *file;
    snprintf(paths[slot], sizeof paths[slot], "%s/%.250s", folder, name);
    file = fopen(paths[slot], "wb");
    if (!file || fwrite(content, 1, length, file) != length ||
        fclose(file) != 0) {
        perror("test: cannot write a file");
        exit(1);
    }
    return paths[slot];
}

const char *test_file(int slot, const char *name, const char *content) {
    return test_file_bytes(slot, name, content, strlen(content));
}

static char *read_all(FILE *file, size_t *length) {
    Text text = {0};
    char block[65536];
    size_t got;
    while ((got = fread(block, 1, sizeof block, file)) > 0)
        text_put(&text, block, got);
    if (!text.data)
        text_put(&text, "", 0);
    if (length)
        *length = text.length;
    return text.data;
}

char *test_read(const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    char *content;
    if (!file)
        return NULL;
    content = read_all(file, length);
    fclose(file);
    return content;
}

/* ---- programs ---- */

const char *test_program(void) {
    const char *program = getenv("PEAKWARD");
    return program && *program ? program : "build/peakward";
}

static char *take_output(FILE *file) {
    char *content;
    rewind(file);
    content = read_all(file, NULL);
    fclose(file);
    return content;
}

int test_run(const char *const *words, char **out, char **err) {
    posix_spawn_file_actions_t actions;
    FILE *files[2] = {tmpfile(), tmpfile()};
    pid_t child;
    int outcome = 0, error;
    if (!files[0] || !files[1]) {
        perror("test: cannot make a temporary file");
        exit(1);
    }
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_adddup2(&actions, fileno(files[0]), 1);
    posix_spawn_file_actions_adddup2(&actions, fileno(files[1]), 2);
    error = posix_spawnp(&child, words[0], &actions, NULL,
                         (char *const *)(uintptr_t)words, environ);
    posix_spawn_file_actions_destroy(&actions);
    while (error == 0 && waitpid(child, &outcome, 0) < 0 && errno == EINTR)
        ;
    for (int i = 0; i < 2; i++) {
        char *content = take_output(files[i]);
        char **to = i ? err : out;
        if (to)
            *to = content;
        else
            free(content);
    }
    if (error != 0)
        return 127;
    return WIFEXITED(outcome) ? WEXITSTATUS(outcome) : 1000 + WTERMSIG(outcome);
}

/* Splits at blanks and puts the place in the place of each @; `~` inside a
 * word is a blank. */
static size_t split(const char *arguments, const char *place, char **words) {
    size_t count = 0;
    words[count++] = strdup(test_program());
    while (*arguments) {
        size_t length = strcspn(arguments, " ");
        Text word = {0};
        for (size_t i = 0; i < length; i++)
            if (arguments[i] == '@')
                text_add(&word, "%s", place);
            else
                text_put(&word, arguments[i] == '~' ? " " : arguments + i, 1);
        words[count++] = strdup(text_of(&word));
        text_free(&word);
        arguments += length + (arguments[length] == ' ');
    }
    words[count] = NULL;
    return count;
}

int test_command(const char *arguments, const char *place, char **out,
                 char **err) {
    char *words[40];
    size_t count = split(arguments, place, words);
    int code = test_run((const char *const *)words, out, err);
    for (size_t i = 0; i < count; i++)
        free(words[i]);
    return code;
}

char *test_python(const char *script, const char *const *arguments) {
    const char *words[24] = {"/usr/bin/python3", "-c", script};
    char *out = NULL, *err = NULL;
    size_t count = 3;
    for (; arguments && *arguments && count < 23; arguments++)
        words[count++] = *arguments;
    /* small problems: threads would only wait for each other */
    setenv("OPENBLAS_NUM_THREADS", "1", 1);
    if (test_run(words, &out, &err) != 0) {
        fprintf(stderr, "python3: %s\n", err ? err : "");
        CU_FAIL("python3 with SciPy must run (package python3-scipy)");
    }
    free(err);
    return out;
}

const Note *test_note(const Notes *notes, const char *part) {
    for (size_t i = 0; i < notes->count; i++)
        if (strstr(notes->items[i].text, part))
            return &notes->items[i];
    return NULL;
}

gsl_rng *test_random(unsigned long seed) {
    const char *given = getenv("PEAKWARD_SEED");
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    if (given && *given)
        seed = strtoul(given, NULL, 10);
    printf("(seed %lu) ", seed);
    gsl_rng_set(rng, seed);
    return rng;
}

double test_between(gsl_rng *rng, double low, double high) {
    return low + (high - low) * gsl_rng_uniform(rng);
}

int test_whole(gsl_rng *rng, int low, int high) {
    return low + (int)gsl_rng_uniform_int(rng, (unsigned long)(high - low + 1));
}
