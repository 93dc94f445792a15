/* A whole season folder, a model file and a command line in one input, run as
 * the program would. Files follow lines "== NAME"; the lines before the first
 * are the words of the command, one a line. Output goes to nowhere; the exit
 * code is one of four, and a failure comes with a message.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/status.h"
#include "commands/commands.h"
#include "fuzz.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { WORDS = 12, COMMANDS = 7 };

static char folder[64];
static const char *const files[] = {
    "sessions.csv", "athletes.csv",  "tests.csv", "events.csv",
    "week.csv",     "exercises.csv", "model.csv", NULL};

static void path_of(const char *name, char path[128]) {
    snprintf(path, 128, "%s/%s", folder, name);
}

static void clear_folder(void) {
    char path[128];
    if (!folder[0]) {
        strcpy(folder, "/tmp/peakward-fuzz-XXXXXX");
        if (!mkdtemp(folder))
            abort();
    }
    for (int i = 0; files[i]; i++) {
        path_of(files[i], path);
        unlink(path);
    }
}

static void write_file(const char *name, const char *from, size_t size) {
    char path[128];
    FILE *file;
    for (int i = 0; files[i]; i++)
        if (strcmp(files[i], name) == 0) {
            path_of(name, path);
            file = fopen(path, "wb");
            if (!file)
                abort();
            fwrite(from, 1, size, file);
            fclose(file);
        }
}

static void write_files(const char *at, const char *end) {
    while (at < end) {
        const char *name = at + 3, *line, *next;
        char word[32] = "";
        line = memchr(name, '\n', (size_t)(end - name));
        if (!line)
            return;
        if ((size_t)(line - name) < sizeof word)
            memcpy(word, name, (size_t)(line - name));
        next = next_mark(line + 1, end);
        write_file(word, line + 1, (size_t)(next - line - 1));
        at = next;
    }
}

static void say_nothing(const Notes *notes) {
    (void)notes;
}

static const struct {
    const char *name;
    int bit;
    StatusCode (*run)(const Call *call, Status *status);
} commands[COMMANDS] = {{"check", FOR_CHECK, command_check},
                        {"load", FOR_LOAD, command_load},
                        {"simulate", FOR_SIMULATE, command_simulate},
                        {"taper", FOR_TAPER, command_taper},
                        {"compare", FOR_COMPARE, command_compare},
                        {"plan", FOR_PLAN, command_plan},
                        {"fit", FOR_FIT, command_fit}};

/* Words that would write files or look elsewhere are left out. */
static bool harmless(const char *word) {
    return strncmp(word, "--out", 5) != 0 && !strchr(word, '/');
}

static void run_words(int count, char **words) {
    static FILE *nowhere;
    int which = 3;
    Request request;
    Notes notes = {0};
    Status status = {0};
    Call call = {.request = &request,
                 .question = &request.question,
                 .notes = &notes,
                 .say = say_nothing};
    StatusCode code;
    if (!nowhere)
        nowhere = fopen("/dev/null", "w");
    for (int i = 0; i < COMMANDS && count > 0; i++)
        if (strcmp(words[0], commands[i].name) == 0)
            which = i;
    code = request_read(commands[which].bit, count - 1, words + 1, &request,
                        &status);
    if (code == STATUS_OK) {
        free(request.question.season);
        request.question.season = strdup(folder);
        call.output = request_output(&request, nowhere);
        if (!request.help)
            code = commands[which].run(&call, &status);
    }
    HOLDS((int)code >= 0 && (int)code <= 3);
    HOLDS(code == STATUS_OK || notes.errors > 0 || status.text[0] != '\0');
    notes_free(&notes);
    request_free(&request);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *copy = malloc(size + 1), *words[WORDS] = {NULL};
    const char *mark;
    if (!copy)
        return 0;
    gsl_set_error_handler_off();
    memcpy(copy, data, size);
    copy[size] = '\0';
    mark = next_mark(copy, copy + size);
    clear_folder();
    write_files(mark, copy + size);
    copy[mark - copy] = '\0';
    run_words(split_words(copy, harmless, WORDS, words), words);
    free(copy);
    return 0;
}
